//! The one table of limits: name, default, unit, source. Data, overridable per plan with a reason.

use crate::plan::Plan;
use crate::plan::tape::DOUBT_LIMITS;
use crate::study::float::leaning::IN_HAND_KG;
use crate::study::float::moves;
use crate::study::holes::{HAND_MM, hand};
use crate::study::wire::fuse;
use crate::study::wiring::run;
use crate::study::{
    backup, cables, chemistry, clearance, day, envelopes, lights, obstacles, reach, seat_test, shape, sight, work,
};

/// One limit of a check.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// `check-id.what`.
    pub name: &'static str,
    /// Its default, in `unit`.
    pub value: f64,
    /// Unit.
    pub unit: &'static str,
    /// Where the default comes from.
    pub source: &'static str,
}

const CP: &str = "common practice, no source";
/// Source of the heels at which water comes in.
pub(super) const DOWNFLOODING: &str = "common practice, no source; concept of ISO 12217";
/// Source of the angle on the glass.
pub(super) const SLANT: &str = "common practice, no source; NUREG-0700 bears 45 degrees";
/// Source of the turn of the head.
pub(super) const TURN: &str = "MIL-STD-1472 and ISO 11226, both from memory";
/// Source of the least height of a character.
pub(super) const TEXT: &str = "NUREG-0700: at least 16 minutes of arc, better 20 to 22";

const fn limit(name: &'static str, value: f64, unit: &'static str, source: &'static str) -> Limit {
    Limit { name, value, unit, source }
}

/// All limits, grouped as the checks are.
pub static LIMITS: &[Limit] = &[
    // The hull
    limit("tape-doubt.repeat", DOUBT_LIMITS.repeat_mm, "mm", CP),
    limit("tape-doubt.dip", DOUBT_LIMITS.dip_mm, "mm", CP),
    limit("tape-doubt.ground", DOUBT_LIMITS.ground_mm, "mm", CP),
    // Weights
    limit("load-rating.note", 65.0, "percent", CP),
    limit("load-rating.caution", 80.0, "percent", CP),
    limit("load-rating.stop", 100.0, "percent", CP),
    limit("mass-unknown.least", 1.0, "kg", CP),
    limit("lift-alone.caution", 30.0, "kg", CP),
    limit("scale-fit.mass", 10.0, "percent", CP),
    limit("scale-fit.centre", 100.0, "mm", CP),
    // Float
    limit("waterline-fit.caution", 10.0, "mm", CP),
    limit("waterline-fit.fullness", shape::FULLNESS_PERCENT, "percent", CP),
    limit("waterline-fit.keel", shape::KEEL_MM, "mm", CP),
    limit("waterline-fit.mark", shape::MARK_MM, "mm", CP),
    limit("waterline-fit.apart", shape::APART_MM, "mm", CP),
    limit("floats-not.gunwale", 0.0, "mm", CP),
    limit("freeboard-low.caution", 120.0, "mm", CP),
    limit("freeboard-low.stop", 60.0, "mm", CP),
    limit("floor-wet.caution", 20.0, "mm", CP),
    limit("trim-off.right", moves::TRIM_OK_DEG, "deg", CP),
    limit("trim-off.stern", 1.0, "deg", CP),
    limit("trim-off.bow", 0.2, "deg", CP),
    limit("trim-off.stop", 2.0, "deg", CP),
    limit("list-off.note", moves::LIST_OK_DEG, "deg", CP),
    limit("list-off.caution", 1.0, "deg", CP),
    limit("list-off.stop", 3.0, "deg", CP),
    limit("stiffness-low.seated", 100.0, "mm", CP),
    limit("stiffness-low.stop", 0.0, "mm", CP),
    limit("righting-short.share", 50.0, "percent", CP),
    limit("righting-short.in-hand", IN_HAND_KG, "kg", CP),
    limit("downflood.caution", 30.0, "deg", DOWNFLOODING),
    limit("downflood.stop", 20.0, "deg", DOWNFLOODING),
    limit("transducer-dry.over", 0.0, "mm", CP),
    limit("transducer-low.over", 0.0, "mm", CP),
    limit("transducer-blocked.share", 0.0, "percent", CP),
    limit("transducer-blocked.wash", 500.0, "mm", CP),
    limit("transducer-blocked.fins", 300.0, "mm", CP),
    // Power
    limit("battery-short.caution", day::RESERVE_PERCENT, "percent", CP),
    limit("battery-short.stop", 0.0, "percent", CP),
    limit("day-odd.hours", 24.0, "h", CP),
    limit("voltage-sag.caution", 11.5, "V", CP),
    limit(
        "cold-charge.stop",
        chemistry::volts::CHARGE_ABOVE_C,
        "C",
        "a battery maker's note on lithium iron phosphate; some makers say 5 C",
    ),
    limit("meter-fit.more", 2.0, "times", CP),
    limit("meter-fit.less", 0.5, "times", CP),
    // Wiring
    limit("drop-over.strict", run::DROP_STRICT_PERCENT, "percent", "ISO 10133 class of 3 percent, as practice"),
    limit("drop-over.other", run::DROP_PERCENT, "percent", "ISO 10133 clause 4.7, from memory, as practice"),
    limit("wire-thin.free", 1.0, "A", "33 CFR 183.425(g): circuits under 1 A, as practice"),
    limit("fuse-wrong.over", run::FUSE_OVER_PERCENT, "percent", "33 CFR 183.425 Table 5; 183.455(c) bears 150"),
    limit("fuse-wrong.under", fuse::OVER_STEADY_PERCENT, "percent", "a maker's guide: 125 percent of full load"),
    limit("fuse-far.caution", fuse::OPEN_MM, "mm", "33 CFR 183.455(b): 7 in, as practice"),
    limit("fuse-far.stop", fuse::SHEATHED_MM, "mm", "33 CFR 183.455(b): 40 in, as practice"),
    limit("cable-short.spare", 0.0, "mm", CP),
    limit("plug-stuck.fill", 60.0, "percent", CP),
    limit("cable-pinched.bolts", cables::BOLT_ENDS_MM, "mm", CP),
    limit("noise-near.note", 300.0, "mm", CP),
    limit("noise-near.caution", 1000.0, "mm", CP),
    limit("compass-near.least", 900.0, "mm", CP),
    limit("bilge-wire.least", 40.0, "mm", CP),
    // Control and back-up
    limit("spares.each", backup::spares::EACH, "count", CP),
    // Penetrations
    limit("hole-below-water.stop", 0.0, "mm", CP),
    limit("hole-splash.caution", 60.0, "mm", CP),
    limit("hole-splash.note", 100.0, "mm", CP),
    limit("hole-splash.upright", 120.0, "mm", CP),
    limit(
        "hole-edge.diameters",
        2.0,
        "diameters",
        "AC 43.13-1B, rivet edge distance 2 D (for metal; here with a floor for plastic)",
    ),
    limit("hole-edge.least", 20.0, "mm", CP),
    limit("hole-edge.cutout", 40.0, "mm", CP),
    limit(
        "hole-spacing.diameters",
        3.0,
        "diameters",
        "AC 43.13-1B, rivet pitch 3 D (for metal; here with a floor for plastic)",
    ),
    limit("hole-spacing.least", 25.0, "mm", CP),
    limit("hole-spacing.cutout", 50.0, "mm", CP),
    limit("hole-forbidden.rim", 25.0, "mm", CP),
    limit("hole-forbidden.tube", 20.0, "mm", CP),
    limit("hole-forbidden.insert", 25.0, "mm", CP),
    limit("hole-forbidden.seam", 20.0, "mm", CP),
    limit("hole-forbidden.behind", 25.0, "mm", CP),
    limit("hole-blind.nearest", hand::NEAREST_MM, "mm", CP),
    limit("hole-blind.furthest", hand::FURTHEST_MM, "mm", CP),
    limit("hole-blind.hand", HAND_MM, "mm", CP),
    limit("hole-flat.caution", 1.5, "mm", CP),
    limit("hole-flat.stop", 3.0, "mm", CP),
    limit("hole-avoidable.within", 80.0, "mm", CP),
    limit("thermal.note", 1.0, "mm", CP),
    limit("thermal.kelvin", 30.0, "K", CP),
    // The body
    limit("reach-over.lean", reach::LEAN_LIMIT_DEG, "deg", CP),
    limit("reach-over.twist", reach::TWIST_LIMIT_DEG, "deg", CP),
    limit("lean-heels.caution", reach::HEEL_LIMIT_DEG, "deg", CP),
    limit("seat-test-odd.touch", seat_test::ODD_MM, "mm", CP),
    limit("seat-test-odd.eye", seat_test::ODD_EYE_MM, "mm", CP),
    limit("sight-far.seven", sight::SEVEN_MM, "mm", CP),
    limit("sight-far.ten", sight::TEN_MM, "mm", CP),
    limit("sight-far.twelve", sight::TWELVE_MM, "mm", CP),
    limit("sight-angle.glass", sight::GLASS_DEG, "deg", SLANT),
    limit("sight-angle.turn", sight::TURN_DEG, "deg", TURN),
    limit("sight-blocked.share", sight::HIDDEN_PERCENT, "percent", CP),
    limit("text-small.least", sight::TEXT_ARCMIN, "arcmin", TEXT),
    limit("overlap.tolerance", clearance::TOLERANCE_MM, "mm", CP),
    limit("overlap.pads", obstacles::PADS_MM, "mm", CP),
    limit("zone-wrong.overhang", 5.0, "mm", CP),
    limit("stroke-blocked.hardware", envelopes::STROKE_HARDWARE_MM, "mm", CP),
    limit("stroke-blocked.inside", envelopes::STROKE_INSIDE_MM, "mm", CP),
    limit("pedal-blocked.knee", envelopes::KNEE_ROOM_MM, "mm", CP),
    limit("landing-blocked.length", envelopes::LANDING_LENGTH_MM, "mm", CP),
    limit("landing-blocked.height", envelopes::LANDING_HEIGHT_MM, "mm", CP),
    limit("reentry-blocked.length", envelopes::REENTRY_LENGTH_MM, "mm", CP),
    limit("reentry-blocked.height", envelopes::REENTRY_HEIGHT_MM, "mm", CP),
    limit("lid-blocked.column", envelopes::lids::LID_COLUMN_MM, "mm", CP),
    limit("cast-blocked.overhead", envelopes::rods::OVERHEAD_MM, "mm", CP),
    limit("cast-blocked.side", envelopes::rods::SIDE_MM, "mm", CP),
    limit("cast-blocked.centre", envelopes::rods::CENTRE_MM, "mm", CP),
    limit("cast-blocked.behind", envelopes::rods::ELBOW_BEHIND_MM, "mm", CP),
    limit("cast-blocked.aside", envelopes::rods::ELBOW_ASIDE_MM, "mm", CP),
    limit("stow-blocked.turn", envelopes::stow::TURN_DEG, "deg", CP),
    limit("stow-blocked.lift", envelopes::stow::LIFT_MM, "mm", CP),
    limit("stow-blocked.post", envelopes::stow::POST_ROOM_MM, "mm", CP),
    limit("stand-blocked.length", envelopes::standing::FEET_LONG_MM, "mm", CP),
    limit("stand-blocked.width", envelopes::standing::FEET_WIDE_MM, "mm", CP),
    limit("stand-blocked.flat", envelopes::standing::FLAT_MM, "mm", CP),
    limit("snag.within", envelopes::snags::WITHIN_MM, "mm", CP),
    limit("battery-stuck.slack", 10.0, "mm", CP),
    // Lights
    limit("light-missing.length", lights::rules::SLOW.0, "m", "COLREG Rule 23(d)(ii)"),
    limit("light-missing.speed", lights::rules::SLOW.1, "knots", "COLREG Rule 23(d)(ii)"),
    limit("light-hidden.note", 0.0, "deg", "COLREG Rule 21: an unbroken light"),
    limit("light-hidden.stop", lights::HIDDEN_DEG, "deg", "COLREG Annex I 9(b)(i)"),
    limit("light-low.head", lights::OVER_HEAD_MM, "mm", CP),
    limit("light-low.sides", 1000.0, "mm", "COLREG Annex I 2(d)"),
    limit("light-arc.missing", 0.0, "deg", "COLREG Rule 21"),
    limit("light-arc.ahead", 3.0, "deg", "COLREG Annex I 9(a)(i)"),
    limit("glare.side", lights::glare::SIDE_DEG, "deg", "from memory"),
    limit("glare.up", lights::glare::UP_DEG, "deg", "from memory"),
    limit("glare.down", lights::glare::DOWN_DEG, "deg", "from memory"),
    // Work
    limit("cure-late.late", 0.0, "days", CP),
    limit("cure-late.evening", work::EVENING_MIN, "min", CP),
    limit("launch-late.late", 0.0, "days", CP),
];

/// The limits in force for a plan.
#[derive(Clone, Debug)]
pub struct Limits {
    set: Vec<(String, f64)>,
}

impl Limits {
    /// Defaults, with what the plan sets otherwise.
    pub fn for_plan(plan: &Plan) -> Self {
        Self { set: plan.limits.iter().map(|l| (l.limit.clone(), l.value)).collect() }
    }

    /// The value of a limit.
    ///
    /// # Panics
    /// In debug builds when the table has no such limit: a typing mistake in a check, found by the
    /// first test that runs it. Release builds answer zero.
    pub fn get(&self, name: &str) -> f64 {
        if let Some((_, value)) = self.set.iter().find(|(set, _)| set == name) {
            return *value;
        }
        let row = LIMITS.iter().find(|limit| limit.name == name);
        debug_assert!(row.is_some(), "no limit \"{name}\" in the table");
        row.map_or(0.0, |limit| limit.value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_unique_and_say_their_check() {
        for (i, limit) in LIMITS.iter().enumerate() {
            assert!(limit.name.contains('.'), "{}", limit.name);
            assert!(LIMITS[..i].iter().all(|other| other.name != limit.name), "{} twice", limit.name);
        }
    }
}
