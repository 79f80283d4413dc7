//! The stops of a walk through a plan: what a partner looks at, in order, with the numbers and findings that answer.
//!
//! Source: common practice, no source. What a program cannot know (who says "stop" on the day) is asked all the same.

use crate::checks::{Finding, Severity};

/// Which view of the plan shows what a stop asks about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shows {
    /// The power budget over the day.
    Power,
    /// The wires.
    Wiring,
    /// The holes.
    Holes,
    /// What is reached from the seat.
    Reach,
    /// What is in the way of what.
    Clearances,
    /// How it floats.
    Float,
    /// The person and what they said.
    Words,
}

/// One stop.
#[derive(Clone, Copy, Debug)]
pub struct Stop {
    /// Stable name.
    pub key: &'static str,
    /// What it belongs to.
    pub group: &'static str,
    /// The question.
    pub asks: &'static str,
    /// Where the answer is seen.
    pub shows: Shows,
    /// The numbers of the panels that belong to it, by their names in JSON.
    pub numbers: &'static [&'static str],
    /// The checks that answer it.
    pub checks: &'static [&'static str],
}

const fn stop(
    key: &'static str,
    group: &'static str,
    asks: &'static str,
    shows: Shows,
    numbers: &'static [&'static str],
    checks: &'static [&'static str],
) -> Stop {
    Stop { key, group, asks, shows, numbers, checks }
}

const FACTS: &str = "Facts";
const LOAD: &str = "Load and trim";
const HOLES: &str = "Holes";
const CABLES: &str = "Cables and power";
const BODY: &str = "Body";
const SAFETY: &str = "Safety and law";
const TRANSPORT: &str = "Transport";
const WORK: &str = "Work";

/// All stops in their order.
#[rustfmt::skip]
pub static STOPS: &[Stop] = &[
    stop("figures", FACTS, "Has every thing a mass, a size, a place and a current, and is it said where each figure comes from?", Shows::Words, &[], &["mass-unknown"]),
    stop("heaviest", FACTS, "Were the five heaviest things weighed?", Shows::Float, &["mass_kg"], &["mass-unknown", "scale-fit"]),
    stop("worst-day", FACTS, "Is the worst day's load in it: water, ice, catch, wet clothes?", Shows::Float, &["mass_kg"], &["load-rating"]),
    stop("taped", FACTS, "Was the hull measured, not copied from a leaflet?", Shows::Float, &[], &["tape-doubt", "waterline-fit"]),
    stop("rating", LOAD, "Is the load at or under three quarters of what the hull is rated for?", Shows::Float, &["mass_kg"], &["load-rating"]),
    stop("trim", LOAD, "Does it lie level or up to half a degree by the stern?", Shows::Float, &["trim_deg", "draft_aft_mm", "draft_fore_mm"], &["trim-off"]),
    stop("list", LOAD, "Is the list under a degree?", Shows::Float, &["heel_deg"], &["list-off"]),
    stop("stiff", LOAD, "Is it stiff enough seated, and standing where that is planned?", Shows::Float, &["gm_mm"], &["stiffness-low", "righting-short"]),
    stop("cases", LOAD, "Were the other loads looked at: battery out, livewell full, a fish on one side, motor up?", Shows::Float, &[], &["floats-not", "downflood"]),
    stop("scuppers", LOAD, "Does the floor stand above the water at the scuppers?", Shows::Float, &["freeboard_mm"], &["floor-wet", "freeboard-low"]),
    stop("hole-list", HOLES, "Has every hole its place, size, purpose, height over the water, way to its back, fastener and seal?", Shows::Holes, &["new_holes", "new_fasteners", "new_passages", "new_cutouts"], &["hole-blind", "hole-depth", "seal-wrong"]),
    stop("hole-water", HOLES, "Is none below the loaded waterline, and none in a lid's seal, an insert, a tube or foam?", Shows::Holes, &["below_water"], &["hole-below-water", "hole-splash", "hole-forbidden", "hole-open"]),
    stop("hole-edges", HOLES, "Do they keep their distance from edges and from each other?", Shows::Holes, &[], &["hole-edge", "hole-spacing", "hole-flat"]),
    stop("bolts", HOLES, "Is every bolt long enough, and does none end against a cable?", Shows::Holes, &[], &["hole-depth", "cable-pinched"]),
    stop("fewer", HOLES, "Was each new hole tried without: track, insert, an old hole?", Shows::Holes, &["new_holes", "reused"], &["hole-avoidable"]),
    stop("plugs", CABLES, "Does each plug pass every hole on its way?", Shows::Wiring, &[], &["plug-stuck", "cable-no-way"]),
    stop("lengths", CABLES, "Is each cable long enough for its way, with slack at both ends?", Shows::Wiring, &[], &["cable-short"]),
    stop("noise", CABLES, "Do sonar cables keep away from motor leads?", Shows::Wiring, &[], &["noise-near", "compass-near"]),
    stop("drips", CABLES, "Are there drip loops and strain relief, and no plug in the bilge?", Shows::Wiring, &[], &["bilge-wire", "cable-pinched"]),
    stop("fuses", CABLES, "Is there a fuse near the battery, and does each fit its wire?", Shows::Wiring, &[], &["fuse-far", "fuse-wrong", "wire-thin", "channel-free"]),
    stop("volts", CABLES, "Does each device keep its voltage with everything on?", Shows::Power, &[], &["voltage-sag", "drop-over"]),
    stop("switch", CABLES, "Is the switch unit within its limits, channel by channel and together?", Shows::Wiring, &[], &["channel-over", "converter-over"]),
    stop("lasts", CABLES, "Does the charge last the cold, dark day with an old battery?", Shows::Power, &["charge_ah", "usable_ah", "reserve_percent"], &["battery-short", "cold-charge", "battery-current", "motor-shares-battery"]),
    stop("battery", CABLES, "Is the battery strapped, are its terminals covered, does it come out for charging?", Shows::Clearances, &[], &["battery-stuck"]),
    stop("stroke", BODY, "Are stroke, pedals and knees free?", Shows::Clearances, &["in_the_way"], &["stroke-blocked", "pedal-blocked"]),
    stop("screens", BODY, "Is each screen reached and read from the seat?", Shows::Reach, &["in_hand", "at_stretch", "out_of_reach"], &["reach-over", "sight-far", "sight-angle", "sight-blocked", "text-small"]),
    stop("cast", BODY, "Are the cast and the landing side free?", Shows::Clearances, &[], &["cast-blocked", "landing-blocked", "snag"]),
    stop("standing", BODY, "Is there room to stand up and to step?", Shows::Clearances, &[], &["stand-blocked", "stiffness-low"]),
    stop("lids", BODY, "Do the lids open with the crate aboard?", Shows::Clearances, &[], &["lid-blocked", "recline-blocked"]),
    stop("re-entry", BODY, "Is the side for climbing back in free, with something to hold and a stirrup?", Shows::Clearances, &[], &["reentry-blocked"]),
    stop("lights", SAFETY, "Do the lights show as the law where it floats asks, and is there a spare?", Shows::Clearances, &[], &["light-missing", "light-hidden", "light-low", "light-arc", "glare", "light-spare"]),
    stop("rescue", SAFETY, "Is the life jacket worn, with whistle, knife and a means to call, and does somebody know the plan?", Shows::Words, &[], &["single-control", "spares"]),
    stop("papers", SAFETY, "Is it registered where a motor asks for that, and within the tournament's rules?", Shows::Words, &[], &[]),
    stop("cold", SAFETY, "Is the clothing for the water, not for the air?", Shows::Words, &[], &[]),
    stop("propeller", SAFETY, "Can the motor be stopped from the water, and does no tether reach the propeller?", Shows::Words, &[], &["single-control"]),
    stop("anchor", SAFETY, "Does the anchor pull at an end, and can it be let go at once?", Shows::Words, &[], &[]),
    stop("carry", TRANSPORT, "Can it be lifted by those who are there, with nothing sticking out and the cart's tubes free?", Shows::Words, &["mass_kg"], &["lift-alone"]),
    stop("order", WORK, "Is it dry-fitted before drilling, tested before sealing, cured before water, floated with its load before the day?", Shows::Holes, &[], &["order-broken", "cure-late"]),
    stop("undo", WORK, "Is it known what undoing each step costs?", Shows::Holes, &["new_holes"], &[]),
    stop("who", WORK, "Who says stop on the day: weather, cold, nobody to help?", Shows::Words, &[], &[]),
];

impl Stop {
    /// The stop of this name.
    pub fn named(key: &str) -> Option<&'static Self> {
        STOPS.iter().find(|stop| stop.key == key)
    }

    /// The findings that answer it, in their order.
    pub fn findings<'a>(&self, findings: &'a [Finding]) -> Vec<&'a Finding> {
        findings.iter().filter(|finding| self.checks.contains(&finding.check)).collect()
    }

    /// The heaviest of them.
    pub fn worst(&self, findings: &[Finding]) -> Option<Severity> {
        self.findings(findings).into_iter().map(|finding| finding.severity).max()
    }
}
