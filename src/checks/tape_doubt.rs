//! `tape-doubt`: what was measured of the hull contradicts itself or looks like a slip.

use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::geometry::Point;
use crate::plan::tape::{Doubt, DoubtLimits, Measurement, Tape};

/// The check.
pub const CHECK: Check = Check { id: "tape-doubt", title: "a measurement of the hull looks wrong", doc: DOC, run };

const DOC: &str = "\
What it checks
A hull that was measured with a tape: that a gunwale stands over floor, keel and greatest width, that the
bottom is no wider than the hull, that the beam does not narrow twice, that the keel touches the baseline
somewhere, that wells and features are in the hull, that repeat readings agree, and that no reading looks as
if it were typed in another unit.

Why it matters
Everything that floats, trims and lists follows from these figures. One height taken from the wrong ground
moves the waterline of the whole boat.

Limit and source
Caution where figures contradict each other. Note where they are only unusual: repeat readings more than
15 mm apart, a beam that falls and rises by more than 10 mm, a keel more than 10 mm over the baseline.
Common practice, no source.

What to do
Lay the tape on again at the place that is named, and strike the reading that is wrong. When the boat really
is so, say why in the notes and set the limit for this plan.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    let Some(tape) = case.plan.hull.form.tape() else { return };
    let limits = DoubtLimits {
        repeat_mm: case.limits.get("tape-doubt.repeat"),
        dip_mm: case.limits.get("tape-doubt.dip"),
        ground_mm: case.limits.get("tape-doubt.ground"),
    };
    found.extend(tape.doubts_beyond(&limits).into_iter().map(|doubt| finding(case, tape, doubt)));
}

fn finding(case: &Case<'_>, tape: &Tape, doubt: Doubt) -> Finding {
    Finding {
        check: CHECK.id,
        severity: if doubt.contradiction { Severity::Caution } else { Severity::Note },
        subject: subject(tape, doubt.about),
        at: place(case, tape, doubt.about),
        value: doubt.value_mm,
        limit: doubt.limit_mm,
        margin: -(doubt.value_mm - doubt.limit_mm).abs(),
        unit: "mm",
        says: doubt.says,
        remedy: doubt.remedy,
        source: COMMON_PRACTICE,
    }
}

fn subject(tape: &Tape, about: Measurement) -> Subject {
    match about {
        Measurement::Well(n) => tape.wells.get(n).map(|well| Subject::Zone(well.zone)),
        Measurement::FeatureX(n) | Measurement::FeatureY(n) => {
            tape.features.get(n).map(|place| Subject::Feature(place.feature))
        }
        _ => None,
    }
    .unwrap_or(Subject::Plan)
}

/// The middle of the station, well or feature concerned.
fn place(case: &Case<'_>, tape: &Tape, about: Measurement) -> Option<Point> {
    if let Some(station) = about.station().and_then(|number| tape.stations.get(number)) {
        let x = station.x.to_mm();
        return Some(Point::new(x, 0.0, case.plan.hull.form.gunwale(x)?.1));
    }
    match subject(tape, about) {
        Subject::Zone(id) => case.plan.zone(id).map(|zone| zone.outline_mm.middle().at(zone.height.value.to_mm())),
        Subject::Feature(id) => case.plan.feature(id).map(|feature| feature.at_mm),
        _ => None,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use super::*;
    use crate::catalogue::{hull, plan_on};
    use crate::checks::test_power::findings;
    use crate::plan::{Gauge, LimitOverride, Name, Plan, Station, WellDepth, ZoneId};
    use crate::units::Length;

    fn taken(mm: &[f64]) -> Gauge {
        Gauge { taken: mm.iter().map(|mm| Length::mm(*mm)).collect(), guess: None }
    }

    /// A class measured amidships as this says.
    fn boat(change: impl Fn(&mut Station)) -> Plan {
        let class = &hull("angler-11").unwrap().hull;
        let mut tape = Tape::default().filled(class);
        change(&mut tape.stations[3]);
        plan_on(&class.taped(tape))
    }

    #[test]
    fn is_silent_on_sections_and_on_a_tape_without_doubt() {
        assert_eq!(findings(&plan_on(&hull("angler-11").unwrap().hull), CHECK.id), []);
        assert_eq!(findings(&boat(|station| station.width = taken(&[850.0, 865.0])), CHECK.id), []);
    }

    #[test]
    fn notes_what_is_unusual_and_follows_the_limit_set_for_the_plan() {
        let mut plan = boat(|station| station.width = taken(&[850.0, 866.0]));
        let found = findings(&plan, CHECK.id);
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!((found[0].severity, found[0].value, found[0].limit), (Severity::Note, 16.0, 15.0));
        assert_eq!(found[0].at.map(|at| at.x), Some(1680.0));
        let limit = LimitOverride {
            limit: "tape-doubt.repeat".into(),
            value: 20.0,
            reason: Name::new("a soft gunwale").unwrap(),
        };
        plan.limits.push(limit);
        assert_eq!(findings(&plan, CHECK.id), []);
    }

    #[test]
    fn cautions_of_a_contradiction() {
        let plan = boat(|station| station.bottom_width = taken(&[900.0]));
        let found = findings(&plan, CHECK.id);
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!((found[0].severity, found[0].subject), (Severity::Caution, Subject::Plan));
        // By hand: the class is 838 wide there, 62 less than the bottom.
        assert_eq!(found[0].margin, -62.0);
    }

    #[test]
    fn names_the_zone_of_a_well() {
        let class = &hull("angler-11").unwrap().hull;
        let wells = vec![WellDepth { zone: ZoneId(13), depth: taken(&[345.0]) }];
        let mut tape = Tape { wells, ..Tape::default() }.filled(class);
        tape.stations[3].gunwale = taken(&[330.0]);
        tape.stations[3].width_height = taken(&[300.0]);
        let found = findings(&plan_on(&class.taped(tape)), CHECK.id);
        assert_eq!(found.iter().map(|f| f.subject).collect::<Vec<_>>(), [Subject::Zone(ZoneId(13))], "{found:?}");
        assert!(found[0].at.is_some());
    }
}
