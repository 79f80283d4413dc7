//! More current on a switched channel than it carries.

use std::collections::BTreeMap;

use super::finding::COMMON_PRACTICE;
use super::words::{label, list};
use super::{Case, Check, Finding, Severity, Subject};
use crate::plan::{Circuit, Electric, GearId};
use crate::study::power::{Draws, LoadUse};
use crate::units::{Current, amount};

/// More current on a switched channel than it carries.
pub const CHECK: Check =
    Check { id: "channel-over", title: "a switched channel carries more than it may", doc: DOC, run };

const DOC: &str = "\
What it checks
For each channel of a placed switch unit the greatest current of its circuits together (converter losses
included), for the unit the greatest current of all its channels, whether a motor hangs on a channel, whether
the channel exists, and whether two circuits name the same one.

Why it matters
A channel over its limit gets hot, drops out or burns. A motor's start is many times its running current:
switch units are not made for it.

Limit and source
Stop over the switch unit maker's limits for one channel and for the unit; stop for any motor. Caution for a
channel named twice: common practice, no source.

What to do
Spread the loads over more channels, or put the large one on a breaker of its own. Keep the wire's size and
its fuse matched to what it carries; when unsure ask a competent electrician.
";

const SOURCE: &str = "the switch unit maker's stated limits";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let mut units: BTreeMap<GearId, BTreeMap<u8, Vec<&Circuit>>> = BTreeMap::new();
    for circuit in &case.plan.wiring.circuits {
        if let Some((unit, channel)) = circuit.channel {
            units.entry(unit).or_default().entry(channel).or_default().push(circuit);
        }
    }
    for (unit, by_channel) in &units {
        let Some(gear) = case.plan.gear(*unit).filter(|gear| gear.is_placed()) else { continue };
        let Some(Electric::Switch { channels, each, total, .. }) = &gear.spec.electric else { continue };
        let mut all = 0.0;
        for (channel, circuits) in by_channel {
            let peak: f64 = circuits.iter().map(|circuit| peak_of(case, circuit)).sum();
            all += peak;
            let on = Channel { case, unit: *unit, channel: *channel, circuits, peak };
            if *channel == 0 || channel > channels {
                findings.push(on.missing(*channels));
            } else if let Some(motor) = on.motor() {
                findings.push(on.turns(motor));
            } else if peak > each.to_amps() {
                findings.push(on.over(*each));
            } else if circuits.len() > 1 {
                findings.push(on.twice());
            }
        }
        if all > total.to_amps() {
            findings.push(unit_over(case, *unit, all, *total));
        }
    }
}

fn peak_of(case: &Case<'_>, circuit: &Circuit) -> f64 {
    case.study.power.circuits.iter().find(|entry| entry.circuit == circuit.id).map_or(0.0, |entry| entry.peak.to_amps())
}

/// One channel with what hangs on it.
struct Channel<'a> {
    case: &'a Case<'a>,
    unit: GearId,
    channel: u8,
    circuits: &'a [&'a Circuit],
    peak: f64,
}

impl Channel<'_> {
    fn motor(&self) -> Option<GearId> {
        let on_it = |load: &LoadUse| self.circuits.iter().any(|circuit| load.circuit == Some(circuit.id));
        let loads = &self.case.study.power.loads;
        loads.iter().find(|load| load.draws == Draws::Motor && on_it(load)).map(|load| load.gear)
    }

    fn over(&self, each: Current) -> Finding {
        self.finding(
            (self.peak, each.to_amps(), "A"),
            format!(
                "Channel {} of {} carries {} for {} and is made for {}.",
                self.channel,
                label(self.case.plan, self.unit),
                amount(Current::amps(self.peak), 1),
                list(&self.names()),
                amount(each, 1)
            ),
            "Move a load to a free channel, or give the largest a fused wire and a switch of its own.",
        )
    }

    fn twice(&self) -> Finding {
        let says = format!(
            "Channel {} of {} is named by {}: it switches them together.",
            self.channel,
            label(self.case.plan, self.unit),
            list(&self.names())
        );
        let remedy = "Give each a channel of its own, or put their loads on one circuit.";
        let numbers = (self.circuits.len() as f64, 1.0, "count");
        Finding { severity: Severity::Caution, source: COMMON_PRACTICE, ..self.finding(numbers, says, remedy) }
    }

    fn names(&self) -> Vec<String> {
        self.circuits.iter().map(|circuit| circuit.name.to_string()).collect()
    }

    fn turns(&self, motor: GearId) -> Finding {
        self.finding(
            (self.peak, 0.0, "A"),
            format!(
                "{} hangs on channel {} of {}, which is not made to start a motor.",
                label(self.case.plan, motor),
                self.channel,
                label(self.case.plan, self.unit)
            ),
            "Wire the motor to its battery through a breaker of its own; when unsure ask a competent electrician.",
        )
    }

    fn missing(&self, channels: u8) -> Finding {
        self.finding(
            (f64::from(self.channel), f64::from(channels), "count"),
            format!("{} has {channels} channels and none numbered {}.", label(self.case.plan, self.unit), self.channel),
            "Choose a channel that exists, counted from 1.",
        )
    }

    fn finding(&self, (value, limit, unit): (f64, f64, &'static str), says: String, remedy: &str) -> Finding {
        Finding {
            check: CHECK.id,
            severity: Severity::Stop,
            subject: self.circuits.first().map_or(Subject::Gear(self.unit), |circuit| Subject::Circuit(circuit.id)),
            at: self.case.place(self.unit),
            value,
            limit,
            margin: limit - value,
            unit,
            says,
            remedy: remedy.into(),
            source: SOURCE,
        }
    }
}

fn unit_over(case: &Case<'_>, unit: GearId, all: f64, total: Current) -> Finding {
    let limit = total.to_amps();
    Finding {
        check: CHECK.id,
        severity: Severity::Stop,
        subject: Subject::Gear(unit),
        at: case.place(unit),
        value: all,
        limit,
        margin: limit - all,
        unit: "A",
        says: format!(
            "All channels of {} together carry {} and it is made for {}.",
            label(case.plan, unit),
            amount(Current::amps(all), 1),
            amount(total, 1)
        ),
        remedy: "Take the largest load off the unit and give it a fused wire and a switch of its own.".into(),
        source: SOURCE,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_power::{add_electric, battery, circuit, findings, load, motor, plan, switch};
    use crate::plan::{Chemistry, Kind, Plan};

    /// A unit of four channels, 10 A each and 15 A together.
    fn rigged(circuits: &[(u8, Electric)]) -> Plan {
        let mut plan = plan();
        let source = battery(Chemistry::LithiumIronPhosphate, 12.8, 50.0, None);
        let source = add_electric(&mut plan, "battery", Kind::Battery, source);
        let unit = add_electric(&mut plan, "switch unit", Kind::SwitchUnit, switch(4, 10.0, 15.0));
        for (channel, electric) in circuits {
            let load = add_electric(&mut plan, "load", Kind::Pump, electric.clone());
            circuit(&mut plan, "pumps", source, &[load]).channel = Some((unit, *channel));
        }
        plan
    }

    fn check(circuits: &[(u8, Electric)], expected: &[(f64, f64)]) {
        let found = findings(&rigged(circuits), "channel-over");
        let numbers: Vec<(f64, f64)> = found.iter().map(|f| (f.value, f.limit)).collect();
        assert_eq!(numbers, expected, "{found:?}");
    }

    #[test]
    fn speaks_past_the_limit_of_a_channel() {
        check(&[(1, load(12.0, 1.0, 10.0))], &[]);
        check(&[(1, load(12.0, 1.0, 10.5))], &[(10.5, 10.0)]);
        check(&[(1, load(12.0, 1.0, 5.5)), (1, load(12.0, 1.0, 5.0))], &[(10.5, 10.0)]);
    }

    #[test]
    fn speaks_past_the_limit_of_the_unit() {
        check(&[(1, load(12.0, 1.0, 10.0)), (2, load(12.0, 1.0, 5.0))], &[]);
        check(&[(1, load(12.0, 1.0, 10.0)), (2, load(12.0, 1.0, 5.5))], &[(15.5, 15.0)]);
    }

    #[test]
    fn speaks_of_motors_and_of_channels_that_do_not_exist() {
        check(&[(1, motor(&[("1", 4.0)]))], &[(4.0, 0.0)]);
        check(&[(4, load(12.0, 1.0, 1.0))], &[]);
        check(&[(5, load(12.0, 1.0, 1.0))], &[(5.0, 4.0)]);
    }

    #[test]
    fn speaks_of_a_channel_named_twice() {
        check(&[(1, load(12.0, 1.0, 1.0)), (1, load(12.0, 1.0, 1.0))], &[(2.0, 1.0)]);
        check(&[(1, load(12.0, 1.0, 1.0)), (2, load(12.0, 1.0, 1.0))], &[]);
    }
}
