//! A step-down converter asked for too much, or missing.

use super::words::{SHORT_CIRCUIT, label};
use super::{Case, Check, Finding, Severity, Subject};
use crate::plan::{Electric, GearId};
use crate::study::power::{ConverterUse, LoadUse, USUAL_EFFICIENCY};
use crate::units::{Current, Power, Quantity, Voltage, amount};

/// A step-down converter asked for too much, or missing.
pub const CHECK: Check = Check { id: "converter-over", title: "a converter is overloaded or missing", doc: DOC, run };

const DOC: &str = "\
What it checks
The output of each placed converter with all its loads at their peak, against its rating; the current it then takes,
losses and its own draw included, against its channel of the switch unit; and loads that want a lower voltage than the
battery's while no placed converter gives it.

Why it matters
An overloaded converter drops its output or overheats: phones stop charging, cameras stop. A 5 V device on
12 V is destroyed and can burn.

Limit and source
Stop over the converter maker's rating and over the switch unit maker's limit of the channel. Caution for a missing converter; the books then count 87 %
efficiency (a seller's worked page: 12 V 0.95 A in, 5 V 2 A out; usual 85 to 95 %).

What to do
Charge fewer things at once, take a larger converter, or place one of the right output.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let power = &case.study.power;
    findings.extend(power.converters.iter().filter_map(|converter| over(case, converter)));
    findings.extend(power.converters.iter().filter_map(|converter| over_channel(case, converter.gear)));
    findings.extend(power.loads.iter().filter(|load| load.lacks_converter).filter_map(|load| missing(case, load)));
}

fn over(case: &Case<'_>, converter: &ConverterUse) -> Option<Finding> {
    let (value, limit) = (converter.peak.to_watts(), converter.rating.to_watts());
    (value > limit).then(|| Finding {
        check: CHECK.id,
        severity: Severity::Stop,
        subject: Subject::Gear(converter.gear),
        at: case.place(converter.gear),
        value,
        limit,
        margin: limit - value,
        unit: "W",
        says: format!(
            "{} is asked for {} and gives {}.",
            label(case.plan, converter.gear),
            amount(converter.peak, 1),
            amount(converter.rating, 1)
        ),
        remedy: "Charge fewer things at once, or take a larger converter.".into(),
        source: "the converter maker's stated rating",
    })
}

fn over_channel(case: &Case<'_>, converter: GearId) -> Option<Finding> {
    let (unit, channel) = case.plan.wiring.circuit_of(converter)?.channel?;
    let switch = case.plan.gear(unit).filter(|unit| unit.is_placed())?;
    let Some(Electric::Switch { each, .. }) = &switch.spec.electric else { return None };
    let through = |load: &&LoadUse| load.converter == Some(converter) || load.gear == converter;
    let input: Current = case.study.power.loads.iter().filter(through).map(|load| load.peak).sum();
    let (value, limit) = (input.to_amps(), each.to_amps());
    (value > limit).then(|| Finding {
        check: CHECK.id,
        severity: Severity::Stop,
        subject: Subject::Gear(converter),
        at: case.place(converter),
        value,
        limit,
        margin: limit - value,
        unit: "A",
        says: format!(
            "{} takes {} through channel {channel} of {}, which is made for {}.",
            label(case.plan, converter),
            amount(input, 1),
            switch.label,
            amount(*each, 1)
        ),
        remedy: format!("Charge fewer things at once, or give it a fused wire of its own. {SHORT_CIRCUIT}"),
        source: "the switch unit maker's stated limit",
    })
}

fn missing(case: &Case<'_>, load: &LoadUse) -> Option<Finding> {
    let gear = case.plan.gear(load.gear)?;
    let Some(Electric::Load { volts, .. }) = &gear.spec.electric else { return None };
    let peak = case.study.power.metered.drawn(gear)?.peak;
    let asked: Power = peak.value * *volts;
    Some(Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject: Subject::Gear(load.gear),
        at: case.place(load.gear),
        value: asked.base(),
        limit: 0.0,
        margin: -asked.base(),
        unit: "W",
        says: format!(
            "{} wants {} and no converter aboard gives it; counted at {:.0} % efficiency.",
            gear.label,
            amount(Voltage::from_base(volts.base()), 0),
            USUAL_EFFICIENCY * 100.0
        ),
        remedy: format!(
            "Place a converter of that output for {} or more; straight on the battery the device is destroyed. \
             {SHORT_CIRCUIT}",
            amount(asked, 0)
        ),
        source: "common practice, no source; efficiency from a seller's worked page",
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_power::{add_electric, battery, circuit, converter, findings, load, plan, switch};
    use crate::plan::{Chemistry, Kind};

    /// A phone at 5 V with this peak, and a converter of 15 W with this output, if any.
    fn check(peak: f64, output: Option<f64>, severity: Option<Severity>) {
        let mut plan = plan();
        let source = battery(Chemistry::LithiumIronPhosphate, 12.8, 50.0, None);
        add_electric(&mut plan, "battery", Kind::Battery, source);
        if let Some(volts) = output {
            add_electric(&mut plan, "converter", Kind::Converter, converter(volts, 15.0, 0.9));
        }
        add_electric(&mut plan, "phone", Kind::Phone, load(5.0, 1.0, peak));
        let found = findings(&plan, "converter-over");
        assert_eq!(found.first().map(|f| f.severity), severity, "{peak} A from {output:?} V: {found:?}");
    }

    #[test]
    fn speaks_past_the_rating_and_when_none_serves() {
        check(3.0, Some(5.0), None);
        check(3.1, Some(5.0), Some(Severity::Stop));
        check(3.0, Some(5.25), None);
        check(3.0, Some(9.0), Some(Severity::Caution));
        check(3.0, None, Some(Severity::Caution));
    }

    /// 60 W at 5 V, 90 percent, from 12.8 V: 12 A out are 5.208 A in.
    #[test]
    fn speaks_past_the_limit_of_its_channel() {
        for (each, speaks) in [(5.3, false), (5.2, true)] {
            let mut plan = plan();
            let source = battery(Chemistry::LithiumIronPhosphate, 12.8, 50.0, None);
            let source = add_electric(&mut plan, "battery", Kind::Battery, source);
            let unit = add_electric(&mut plan, "switch unit", Kind::SwitchUnit, switch(4, each, 20.0));
            let five = add_electric(&mut plan, "converter", Kind::Converter, converter(5.0, 60.0, 0.9));
            add_electric(&mut plan, "phone", Kind::Phone, load(5.0, 1.0, 12.0));
            circuit(&mut plan, "five volts", source, &[five]).channel = Some((unit, 1));
            let found = findings(&plan, "converter-over");
            assert_eq!(found.len(), usize::from(speaks), "{each} A: {found:?}");
        }
    }
}
