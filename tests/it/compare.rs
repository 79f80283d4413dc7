//! Two plans side by side: what differs is all that differs, and putting it in gives the other plan; a merge loses
//! nothing.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::checks::{self, Finding, Severity};
use gunnel::compare::merge::{apart, merge};
use gunnel::compare::{Comparison, Detail, How, Side, Turn};
use gunnel::edit::{Edit, apply};
use gunnel::geometry::Spot;
use gunnel::plan::parts::PartKey;
use gunnel::plan::renumber::NewNumbers;
use gunnel::plan::{
    Cable, CableId, Circuit, CircuitId, Duty, Fate, GearId, HoleId, Main, Mount, Plan, Plug, Reading, Seal, Seat,
    Signal, Taken, Via,
};
use gunnel::sheets::change_words;
use gunnel::study::Study;
use gunnel::units::{Angle, Current, Duration, Length, Measure};
use proptest::prelude::*;

use crate::boats::{name, rich};

const DISPLAY: GearId = GearId(2);
const CRATE: GearId = GearId(4);
const LIGHT: GearId = GearId(5);

fn mm(value: f64) -> Length {
    Length::mm(value)
}

fn edited(plan: &Plan, edits: &[Edit]) -> Plan {
    edits.iter().fold(plan.clone(), |plan, edit| apply(&plan, edit).unwrap())
}

/// A plan with what follows from it.
struct Studied {
    plan: Plan,
    study: Study,
    findings: Vec<Finding>,
}

impl Studied {
    fn of(plan: Plan) -> Self {
        let study = Study::of(&plan);
        let findings = checks::run(&plan, &study);
        Self { plan, study, findings }
    }

    fn side(&self) -> Side<'_> {
        Side { plan: &self.plan, study: &self.study, findings: &self.findings }
    }
}

fn compared(then: &Plan, now: &Plan) -> Comparison {
    Comparison::of(Studied::of(then.clone()).side(), Studied::of(now.clone()).side())
}

#[test]
fn each_thing_done_to_gear_is_told_by_itself() {
    let then = rich();
    let now = edited(
        &then,
        &[
            Edit::Move { gear: CRATE, x: mm(600.0), y: mm(40.0) },
            Edit::Turn { gear: CRATE, to: Angle::deg(90.0) },
            Edit::Rename { gear: LIGHT, label: name("stern light") },
            Edit::SetSeal { gear: LIGHT, seal: Seal::ButylTape },
            Edit::PutAshore { gear: DISPLAY },
            Edit::PlugHole { hole: HoleId(2), with: Plug::RubberPlug },
        ],
    );
    let told = compared(&then, &now);
    let of = |key: PartKey| told.changes.iter().find(|change| change.key == key).unwrap();
    let (from, to) = (Spot::new(650.0, 0.0), Spot::new(600.0, 40.0));
    assert_eq!(
        of(PartKey::Gear(CRATE)).how,
        How::Altered(vec![Detail::Moved { from, to, raise_mm: 0.0 }, Detail::Turned { from_deg: 0.0, to_deg: 90.0 }])
    );
    let was = then.gear(LIGHT).unwrap();
    assert_eq!(
        of(PartKey::Gear(LIGHT)).how,
        How::Altered(vec![
            Detail::Renamed { from: was.label.clone() },
            Detail::Sealed { from: was.seal, to: Seal::ButylTape }
        ])
    );
    assert_eq!(of(PartKey::Gear(DISPLAY)).how, How::Altered(vec![Detail::Ashore]));
    assert_eq!(
        of(PartKey::Hole(HoleId(2))).how,
        How::Altered(vec![Detail::Fate { from: Fate::Open, to: Fate::Plugged(Plug::RubberPlug) }])
    );
    assert_eq!(told.changes.len(), 4);
}

#[test]
fn each_thing_done_to_circuit_seat_and_name_is_told_by_itself() {
    let then = rich();
    let was = then.wiring.circuits[0].clone();
    let circuit = Circuit { fuse: None, gauge_awg: Some(14), loads: vec![LIGHT], ..was.clone() };
    let seat = Seat { back: mm(then.angler.seat.back.to_mm() + 25.0), ..then.angler.seat.clone() };
    let now = edited(
        &then,
        &[Edit::SetCircuit { circuit }, Edit::SetSeat { seat }, Edit::RenamePlan { name: name("still water") }],
    );
    let told: Vec<String> =
        compared(&then, &now).changes.iter().map(|change| change_words(change, Measure::default())).collect();
    let (light, display) = (&then.gear(LIGHT).unwrap().label, &then.gear(DISPLAY).unwrap().label);
    let circuit = format!("fuse none, was 5 A; wire 14 AWG, was 16 AWG; feeds {light}; feeds {display} no more");
    assert_eq!(told, [circuit, "moved 25 mm forward".into(), "now still water".into()]);
}

#[test]
fn what_came_and_what_went_have_their_names() {
    let then = rich();
    let now = edited(&then, &[Edit::Strike { gear: CRATE }]);
    let there = |told: &Comparison| (told.changes[0].name.clone(), told.changes[0].how.clone());
    assert_eq!(there(&compared(&then, &now)), ("crate with trays and rod tubes".into(), How::Gone));
    assert_eq!(there(&compared(&now, &then)), ("crate with trays and rod tubes".into(), How::Added));
}

#[test]
fn the_panels_numbers_follow() {
    let then = rich();
    let bolted = then.gear(GearId(3)).unwrap();
    assert_eq!(bolted.mount, Mount::Bolts);
    let now = edited(&then, &[Edit::PutAshore { gear: GearId(3) }]);
    let told = compared(&then, &now);
    let number = |key: &str| told.numbers.iter().find(|number| number.key == key).unwrap();
    // By hand: its four bolts and its mass go with it.
    let holes = number("new_fasteners");
    assert_eq!(holes.then.unwrap() - holes.now.unwrap(), 4.0);
    let mass = number("mass_kg");
    let kg = bolted.spec.mass.value.to_kg();
    assert!((mass.then.unwrap() - mass.now.unwrap() - kg).abs() < 1e-9);
    assert!(number("usable_ah").is_same());
}

#[test]
fn findings_are_cleared_and_come_and_weigh_otherwise() {
    let then = rich();
    let now = edited(&then, &[Edit::PutAshore { gear: GearId(3) }]);
    let (then, now) = (Studied::of(then), Studied::of(now));
    let of_gear_3 = |finding: &&Finding| finding.subject.gear() == Some(GearId(3));
    let stood: Vec<&Finding> = then.findings.iter().filter(of_gear_3).collect();
    assert!(!stood.is_empty() && !now.findings.iter().any(|finding| of_gear_3(&finding)));
    let told = Comparison::of(then.side(), now.side());
    let cleared = told.verdicts.iter().filter(|one| one.turn == Turn::Cleared);
    assert_eq!(cleared.filter(|one| of_gear_3(&&one.finding)).count(), stood.len());
    // The other way round each of them is new.
    let back = Comparison::of(now.side(), then.side());
    let new = back.verdicts.iter().filter(|one| one.turn == Turn::New);
    assert_eq!(new.filter(|one| of_gear_3(&&one.finding)).count(), stood.len());

    let heavier = Finding { severity: Severity::Stop, ..stood_as(&then, Severity::Caution) };
    let swapped: Vec<Finding> = then
        .findings
        .iter()
        .map(|finding| if is_same(finding, &heavier) { heavier.clone() } else { finding.clone() })
        .collect();
    let worse = Side { findings: &swapped, ..then.side() };
    let turns =
        |then, now| -> Vec<_> { Comparison::of(then, now).verdicts.iter().map(|one| (one.turn, one.was)).collect() };
    assert_eq!(turns(then.side(), worse), vec![(Turn::Worse, Some(Severity::Caution))]);
    assert_eq!(turns(worse, then.side()), vec![(Turn::Eased, Some(Severity::Stop))]);
}

/// A finding of this weight, alone with its check and subject.
fn stood_as(studied: &Studied, severity: Severity) -> Finding {
    let alone = |finding: &&Finding| studied.findings.iter().filter(|other| is_same(other, finding)).count() == 1;
    studied.findings.iter().filter(alone).find(|finding| finding.severity == severity).unwrap().clone()
}

fn is_same(a: &Finding, b: &Finding) -> bool {
    a.check == b.check && a.subject == b.subject
}

#[test]
fn two_who_changed_different_fields_of_one_thing_agree() {
    let base = rich();
    let mine = edited(&base, &[Edit::Move { gear: CRATE, x: mm(600.0), y: mm(0.0) }]);
    let theirs = edited(&base, &[Edit::Rename { gear: CRATE, label: name("tackle crate") }]);
    let merged = merge(&base, &mine, &theirs);
    assert!(merged.conflicts.is_empty());
    let gear = merged.plan.gear(CRATE).unwrap();
    assert_eq!((gear.place.unwrap().x, gear.label.as_str()), (mm(600.0), "tackle crate"));
}

#[test]
fn two_who_changed_one_field_conflict_and_mine_stays() {
    let base = rich();
    let moved = |x| edited(&base, &[Edit::Move { gear: CRATE, x: mm(x), y: mm(0.0) }]);
    let merged = merge(&base, &moved(600.0), &moved(700.0));
    assert_eq!(merged.conflicts.len(), 1);
    assert_eq!(merged.conflicts[0].part.key(), PartKey::Gear(CRATE));
    assert_eq!(merged.plan, moved(600.0));
    assert!(merge(&base, &moved(600.0), &moved(600.0)).conflicts.is_empty(), "both did the same");
}

#[test]
fn new_numbers_are_given_wherever_a_part_is_named() {
    let mut plan = rich();
    plan.penetrations[1].fate = Fate::Reused(LIGHT);
    plan.wiring.mains.push(Main::new(GearId(1)));
    plan.wiring.circuits[0].channel = Some((GearId(9), 2));
    let via = vec![Via::Hole(HoleId(1)), Via::Gear(GearId(7))];
    plan.wiring.cables.push(Cable {
        id: CableId(1),
        from: GearId(1),
        to: LIGHT,
        signal: Signal::Power,
        via,
        length: None,
    });
    plan.outing.phases[0].duties.push(Duty { gear: LIGHT, share: 0.5 });
    let taken = Taken::Meter { loads: vec![DISPLAY, LIGHT], current: Current::amps(1.0) };
    plan.readings.push(Reading { date: None, taken, off: false });
    let up = |id: u32| id + 100;
    let numbers = NewNumbers {
        gear: plan.gear.iter().map(|gear| (gear.id, GearId(up(gear.id.0)))).collect(),
        holes: plan.penetrations.iter().map(|hole| (hole.id, HoleId(up(hole.id.0)))).collect(),
        circuits: [(CircuitId(1), CircuitId(101))].into(),
        cables: [(CableId(1), CableId(101))].into(),
    };
    let mut renumbered = plan.clone();
    numbers.give(&mut renumbered);
    assert_eq!(renumbered.validate(), Ok(()));
    let count = |plan: &Plan, what: &str, new: bool| {
        let text = format!("{plan:?}");
        let numbers = text.match_indices(what).map(|(at, _)| text[at + what.len()..].split(')').next().unwrap());
        numbers.filter(|number| (number.parse::<u32>().unwrap() > 100) == new).count()
    };
    for what in ["GearId(", "HoleId(", "CircuitId(", "CableId("] {
        assert!(count(&plan, what, false) > 0, "{what}");
        assert_eq!((count(&renumbered, what, false), count(&renumbered, what, true)), (0, count(&plan, what, false)));
    }
}

/// Something a person does to the rigged boat; refused ones are left out.
fn deed() -> impl Strategy<Value = Edit> {
    let gear = || (1_u32..13).prop_map(GearId);
    let hole = || (1_u32..4).prop_map(HoleId);
    prop_oneof![
        (gear(), 200.0..3400.0, -350.0..350.0).prop_map(|(gear, x, y)| Edit::Move { gear, x: mm(x), y: mm(y) }),
        (gear(), 0_u8..8).prop_map(|(gear, eighth)| Edit::Turn { gear, to: Angle::deg(f64::from(eighth) * 45.0) }),
        gear().prop_map(|gear| Edit::PutAshore { gear }),
        gear().prop_map(|gear| Edit::Strike { gear }),
        gear().prop_map(|gear| Edit::Duplicate { gear }),
        (gear(), "[a-z]{1,8}").prop_map(|(gear, label)| Edit::Rename { gear, label: name(&label) }),
        gear().prop_map(|gear| Edit::Pin { gear, pinned: true }),
        hole().prop_map(|hole| Edit::PlugHole { hole, with: Plug::RubberPlug }),
        hole().prop_map(|hole| Edit::StrikeHole { hole }),
        (1_u32..4, gear(), gear(), 1_u8..30).prop_map(|(id, battery, load, amps)| Edit::SetCircuit {
            circuit: Circuit {
                fuse: Some(Current::amps(f64::from(amps))),
                ..Circuit::new(CircuitId(id), name("a circuit"), battery, vec![load])
            }
        }),
        (1.0..9.0).prop_map(|hours| {
            let mut outing = rich().outing;
            outing.phases[0].hours = Duration::hours(hours);
            Edit::SetOuting { outing: Box::new(outing) }
        }),
        (0.0..100.0).prop_map(|aft| {
            let mut seat = rich().angler.seat;
            seat.back = mm(seat.back.to_mm() - aft);
            Edit::SetSeat { seat }
        }),
        "[a-z]{1,8}".prop_map(|text| Edit::RenamePlan { name: name(&text) }),
    ]
}

/// What a few deeds make of the rigged boat.
pub fn grown() -> impl Strategy<Value = Plan> {
    proptest::collection::vec(deed(), 0..8)
        .prop_map(|deeds| deeds.iter().fold(rich(), |plan, deed| apply(&plan, deed).unwrap_or(plan)))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn putting_in_what_differs_gives_the_other_plan(a in grown(), b in grown()) {
        prop_assert!(a.differences(&a).is_empty());
        let mut became = a.clone();
        for part in a.differences(&b) {
            became.put(&part);
        }
        prop_assert_eq!(became.differences(&b), vec![]);
        prop_assert_eq!(b.validate(), Ok(()));
        prop_assert_eq!(became.validate(), Ok(()));
    }

    #[test]
    fn a_merge_loses_nothing(mine in grown(), theirs in grown()) {
        let base = rich();
        let merged = merge(&base, &mine, &theirs);
        prop_assert_eq!(apart(&base, &mine, &base), mine.clone());
        prop_assert!(merge(&base, &mine, &base).plan == mine);
        prop_assert!(merge(&base, &base, &theirs).plan.differences(&theirs).is_empty());
        let settled = |key: &PartKey| {
            merged.taken.iter().any(|part| part.key() == *key)
                || merged.conflicts.iter().any(|conflict| conflict.part.key() == *key)
        };
        let mine = apart(&base, &mine, &theirs);
        let mine_too = base.differences(&mine);
        for part in base.differences(&theirs) {
            prop_assert!(settled(&part.key()) || mine_too.contains(&part), "{:?} is lost", part.key());
        }
        for part in mine_too {
            let taken = merged.taken.iter().any(|other| other.key() == part.key());
            let kept = !mine.differences(&merged.plan).iter().any(|other| other.key() == part.key());
            prop_assert!(kept || taken, "{:?} of mine is lost", part.key());
        }
    }
}
