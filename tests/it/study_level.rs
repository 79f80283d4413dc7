//! What moves a boat level: by hand on a box, then what holds for any plan.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::sync::Arc;

use gunnel::catalogue::{Catalogue, hulls, plan_on};
use gunnel::checks::{self, Finding, Severity};
use gunnel::edit::{Edit, apply};
use gunnel::geometry::Point;
use gunnel::plan::{
    BuildState, Feature, FeatureId, FeatureKind, GearId, Kind, Level, Mount, Note, Placement, Plan, Side, Thread,
};
use gunnel::session::Session;
use gunnel::study::Study;
use gunnel::study::float::moves::{Move, Moves, Off, Proposal};
use gunnel::units::{Angle, Figure, Length, Mass, Measure};
use proptest::prelude::*;

use crate::test_power::{add, mount, name, plan};

fn level(plan: &Plan) -> Moves {
    assert_eq!(plan.validate(), Ok(()));
    Session::new(plan.clone(), Measure::default()).level()
}

/// A strapped box of this mass at a place of the deck.
fn aboard(plan: &mut Plan, label: &str, kg: f64, x: f64, y: f64) -> GearId {
    let id = add(plan, label, Kind::Storage, Figure::measured(Mass::kg(kg)), None);
    mount(plan, id, Mount::Strap);
    plan.gear_mut(id).unwrap().place = Some(Placement::at(x, y));
    id
}

fn pinned(plan: &mut Plan, label: &str, kg: f64, x: f64, y: f64) -> GearId {
    let id = aboard(plan, label, kg, x, y);
    plan.gear_mut(id).unwrap().pinned = true;
    id
}

/// The box boat with a seat that cannot be moved.
fn fixed_seat() -> Plan {
    let mut plan = plan();
    let hull = Arc::make_mut(&mut plan.hull);
    (hull.seat.back_aft, hull.seat.back_fore) = (Length::mm(1500.0), Length::mm(1500.0));
    plan
}

fn to(one: &Move) -> (GearId, f64, f64) {
    match one {
        Move::Gear { gear, to, .. } | Move::Across { gear, to, .. } => (*gear, to.x.to_mm(), to.y.to_mm()),
        Move::Seat { .. } => panic!("the seat moves"),
    }
}

/// The moves made by the edits of a session.
fn made(plan: &Plan, proposal: &Proposal) -> Session {
    let mut session = Session::new(plan.clone(), Measure::default());
    session.move_level(proposal).unwrap();
    session
}

/// Box of 3600 x 800 mm in fresh water of 999.10 kg/m3 at 15 deg: hull 25 kg in the middle, angler 80 kg at 1684.4
/// (as in `study_weights`), a battery of 12 kg at x = 100. Displaced 117 kg: T = 117 / 0.99910 / 2.88 = 40.66 mm,
/// BM_L = L^2 / 12 T = 26 561 mm, KB = 20 mm, KG = (25 x 150 + 80 x 501.4 + 12 x 350) / 117 = 411 mm,
/// GM_L = 26 170 mm. By the stern 0.5 deg hold 117 x 26 170 x tan 0.5 = 26.72 kg m aft of the middle; aboard are
/// 80 x 0.1156 + 12 x 1.7 = 29.65. The battery has to go forward by (29.65 - 26.72) / 12 = 244 mm: on the grid
/// of 50 mm from 100 to 350, which leaves 26.65 kg m, atan(26.65 / 117 / 26.17) = 0.4986 deg.
#[test]
fn the_one_move_that_is_needed_is_the_one_worked_out_by_hand() {
    let mut plan = fixed_seat();
    let battery = aboard(&mut plan, "battery", 12.0, 100.0, 0.0);
    let moves = level(&plan);
    let now = moves.now.unwrap();
    let expected = -(29.65_f64 / 117.0 / 26.17).atan().to_degrees();
    assert!((now.trim_deg - expected).abs() < 0.002, "{} is not {expected}", now.trim_deg);
    assert_eq!((moves.off, moves.movable), (Off { trim: true, list: false }, 1));
    let [proposal] = &moves.proposals[..] else { panic!("{:?}", moves.proposals) };
    assert_eq!(proposal.moves.len(), 1);
    assert_eq!(to(&proposal.moves[0]), (battery, 350.0, 0.0));
    assert!((proposal.trim_deg + 0.4986).abs() < 0.002, "{}", proposal.trim_deg);
    assert!((proposal.moved_kgm - 12.0 * 0.25).abs() < 1e-9 && !proposal.left.any());
    let mut session = Session::new(plan.clone(), Measure::default());
    assert_eq!(session.move_level(proposal).unwrap(), "move it level: battery 250 mm forward");
    assert!((session.study().float.rest().unwrap().trim_deg - proposal.trim_deg).abs() < 1e-9);
    session.undo().unwrap();
    assert_eq!(*session.plan(), plan);
}

/// The same boat on rails of 25 mm: 29.65 - 26.72 = 2.93 kg m are 36.6 mm of 80 kg, two notches.
#[test]
fn the_seat_goes_by_whole_notches_when_trim_alone_is_off() {
    let mut plan = plan();
    let battery = aboard(&mut plan, "battery", 12.0, 100.0, 0.0);
    plan.gear_mut(battery).unwrap().pinned = true;
    let moves = level(&plan);
    let [proposal] = &moves.proposals[..] else { panic!("{:?}", moves.proposals) };
    let [Move::Seat { from, to }] = &proposal.moves[..] else { panic!("{:?}", proposal.moves) };
    assert_eq!((from.back, to.back), (Length::mm(1500.0), Length::mm(1550.0)));
    assert_eq!(made(&plan, proposal).plan().angler.seat, *to);
    // With a list it is the battery that has to go.
    let battery = plan.gear_mut(battery).unwrap();
    battery.place = Some(Placement::at(100.0, 300.0));
    assert_eq!(level(&plan).movable, 0);
}

/// 135 kg: T = 46.92 mm, BM_L = 23 018, KG about 414, GM_L = 22 627: 0.5 deg hold 26.66 kg m. Aboard are
/// 80 x 0.1156 + 20 x 1.5 + 2 x 5 x 1.65 = 55.75, so 29.1 are missing. One box that starts at 150 and ends before
/// 3550 shifts 17 kg m at most: two are needed.
#[test]
fn two_things_move_where_one_is_not_enough() {
    let mut plan = fixed_seat();
    pinned(&mut plan, "motor", 20.0, 300.0, 0.0);
    let boxes = [aboard(&mut plan, "port box", 5.0, 150.0, 200.0), aboard(&mut plan, "other box", 5.0, 150.0, -200.0)];
    let moves = level(&plan);
    let proposal = &moves.proposals[0];
    let moved: Vec<GearId> = proposal.moves.iter().map(|one| to(one).0).collect();
    assert_eq!(moved, boxes);
    assert!(!proposal.left.any() && proposal.moved_kgm >= 29.0 && proposal.moved_kgm < 30.0, "{proposal:?}");
    let session = made(&plan, proposal);
    assert!((session.study().float.rest().unwrap().trim_deg - proposal.trim_deg).abs() < 1e-9);
    assert_eq!(session.history().position(), 1, "one step");
}

/// The same with one of the two pinned: what can be done is listed as the nearest, and not as a way to level.
#[test]
fn where_nothing_does_the_nearest_is_said_to_be_that() {
    let mut plan = fixed_seat();
    pinned(&mut plan, "motor", 20.0, 300.0, 0.0);
    let free = aboard(&mut plan, "port box", 5.0, 150.0, 0.0);
    let before = level(&plan);
    let [proposal] = &before.proposals[..] else { panic!("{:?}", before.proposals) };
    assert_eq!((proposal.left, before.can_be_level()), (Off { trim: true, list: false }, false));
    let (gear, x, y) = to(&proposal.moves[0]);
    // As far as its base of 100 mm goes.
    assert_eq!((gear, x, y), (free, 3550.0, 0.0));
    assert!(proposal.trim_deg > before.now.unwrap().trim_deg && proposal.trim_deg < -0.5);
}

/// 30 kg stand 350 mm to port. A box of 9 kg inside the hull, 100 mm across in a trough of 800, can go 350 mm to
/// starboard and no further: 3.15 kg m against 10.5.
#[test]
fn the_nearest_is_as_far_out_as_there_is_room() {
    let mut plan = fixed_seat();
    pinned(&mut plan, "weight", 30.0, 1900.0, 350.0);
    let ballast = aboard(&mut plan, "ballast", 9.0, 2400.0, 0.0);
    plan.gear_mut(ballast).unwrap().place.as_mut().unwrap().level = Level::Inside;
    let moves = level(&plan);
    let [proposal] = &moves.proposals[..] else { panic!("{moves:?}") };
    let (gear, _, y) = to(&proposal.moves[0]);
    assert_eq!((gear, y), (ballast, -350.0));
    assert!(proposal.left.list && proposal.heel_deg > moves.now.unwrap().heel_deg + 1.0);
}

#[test]
fn nothing_is_proposed_where_nothing_may_be_moved() {
    let mut plan = fixed_seat();
    let ways: [fn(&mut gunnel::plan::Gear); 4] = [
        |gear| gear.pinned = true,
        |gear| gear.state = BuildState::Drilled,
        |gear| (gear.state, gear.mount) = (BuildState::Installed, Mount::Bolts),
        |gear| Arc::make_mut(&mut gear.spec).mass = Figure::measured(Mass::kg(0.9)),
    ];
    // Off without it as well.
    let motor = add(&mut plan, "motor", Kind::Motor, Figure::measured(Mass::kg(30.0)), None);
    plan.gear_mut(motor).unwrap().place = Some(Placement::at(100.0, 0.0));
    for way in ways {
        let mut plan = plan.clone();
        let id = aboard(&mut plan, "battery", 12.0, 300.0, 0.0);
        way(plan.gear_mut(id).unwrap());
        let moves = level(&plan);
        assert!(moves.off.trim, "{moves:?}");
        assert_eq!((moves.movable, moves.proposals.len(), moves.can_be_level()), (0, 0, false));
    }
    let mut loose = plan.clone();
    let id = aboard(&mut loose, "battery", 12.0, 300.0, 0.0);
    loose.gear_mut(id).unwrap().state = BuildState::Installed;
    assert_eq!(level(&loose).movable, 1, "what is strapped comes off again");
}

#[test]
fn a_level_boat_is_said_to_be_level() {
    // The angler alone is 80 x 0.1156 = 9.2 kg m aft: 0.2 deg by the stern.
    let moves = level(&plan());
    assert_eq!((moves.off, moves.proposals.len(), moves.can_be_level()), (Off::default(), 0, true));
    let mut heavy = plan();
    for n in 0..8 {
        aboard(&mut heavy, "anvil", 150.0, 300.0 + 350.0 * f64::from(n), 0.0);
    }
    let moves = level(&heavy);
    assert_eq!((moves.now, moves.can_be_level()), (None, false), "it sinks");
}

/// 10 kg at 350 mm and 10 at 400 to port are 7.5 kg m; the box heels 0.5 deg under 125 kg x about 0.87 m x tan 0.5 =
/// 0.95 kg m. On the two inserts aboard the second, which holds its mass out by 100 mm, shifts 6 kg m when it is set
/// over as it is and 8 when it is set over the other way round: only that brings the list away.
#[test]
fn what_is_one_sided_goes_across_the_other_way_round() {
    let mut plan = fixed_seat();
    let hull = Arc::make_mut(&mut plan.hull);
    for (id, y) in [(1, 300.0), (2, -300.0)] {
        hull.features.push(Feature {
            id: FeatureId(id),
            name: name("insert"),
            at_mm: Point::new(2400.0, y, 300.0),
            kind: FeatureKind::Inserts {
                thread: Thread::M6,
                offsets_mm: vec![gunnel::geometry::Spot::new(0.0, 0.0)],
                depth: Length::mm(12.0),
            },
            notes: Note::default(),
        });
    }
    pinned(&mut plan, "tool box", 10.0, 700.0, 350.0);
    let arm = aboard(&mut plan, "locker", 10.0, 2400.0, 300.0);
    let gear = plan.gear_mut(arm).unwrap();
    let spec = Arc::make_mut(&mut gear.spec);
    spec.bodies[0].middle_mm.y = 100.0;
    spec.mounts[0].how = Mount::Inserts;
    gear.mount = Mount::Inserts;
    let moves = level(&plan);
    assert!(moves.off.list, "{moves:?}");
    let proposal = &moves.proposals[0];
    assert!(matches!(proposal.moves[..], [Move::Across { gear, .. }] if gear == arm), "{proposal:?}");
    assert!(!proposal.left.any());
    let by_hand = apply(&plan, &Edit::Mirror { gear: arm }).unwrap();
    assert_eq!(*made(&plan, proposal).plan(), by_hand);
}

/// A track to starboard whose slot lets a foot of 100 mm go from 1950 to 3050. 132 kg: T = 45.87 mm, BM_L = 23 543,
/// GM_L = 23 162 mm, 0.5 deg hold 26.68 kg m. Aboard are 18 x 1.5 + 80 x 0.1156 - 9 x 0.2 = 34.45, so that 9 kg have
/// to go 863 mm forward from 2000; in steps of 25 mm from the middle at 2500 that is 2875.
#[test]
fn what_slides_in_a_track_stays_in_a_track() {
    let mut plan = fixed_seat();
    let hull = Arc::make_mut(&mut plan.hull);
    hull.features.push(Feature {
        id: FeatureId(1),
        name: name("track, starboard"),
        at_mm: Point::new(2500.0, -300.0, 300.0),
        kind: FeatureKind::Track { length: Length::mm(1300.0), free: Length::mm(1200.0) },
        notes: Note::default(),
    });
    pinned(&mut plan, "motor", 18.0, 300.0, 120.0);
    let box_ = aboard(&mut plan, "box", 9.0, 2000.0, -300.0);
    mount(&mut plan, box_, Mount::Track);
    let moves = level(&plan);
    assert_eq!(moves.off, Off { trim: true, list: false });
    let [proposal] = &moves.proposals[..] else { panic!("{:?}", moves.proposals) };
    assert_eq!(to(&proposal.moves[0]), (box_, 2875.0, -300.0));
    assert!(!proposal.left.any());
}

#[test]
fn what_carries_something_stays_where_it_is() {
    let mut plan = fixed_seat();
    let under = aboard(&mut plan, "cool box", 20.0, 150.0, 0.0);
    Arc::make_mut(&mut plan.gear_mut(under).unwrap().spec).lid = Some(Length::mm(100.0));
    assert_eq!(level(&plan).movable, 1);
    let inside = aboard(&mut plan, "lead", 4.0, 150.0, 0.0);
    let spec = Arc::make_mut(&mut plan.gear_mut(inside).unwrap().spec);
    spec.bodies[0].shape = gunnel::plan::Shape::Box(80.0, 60.0, 60.0);
    let moves = level(&plan);
    assert_eq!(moves.movable, 1, "the lead can be taken out, the box with the lead in it stays");
    assert!(moves.proposals.iter().flat_map(|p| &p.moves).all(|one| to(one).0 == inside), "{moves:?}");
}

/// The mirror image: everything on the other side, the person's sides too.
fn mirrored(plan: &Plan) -> Plan {
    let mut other = plan.clone();
    for gear in &mut other.gear {
        if let Some(mirrored) = gear.mirrored() {
            *gear = mirrored;
        }
    }
    for side in [&mut other.angler.hand, &mut other.angler.landing, &mut other.angler.reentry] {
        *side = side.other();
    }
    other
}

#[test]
fn a_mirrored_plan_gets_mirrored_proposals() {
    // A motor off the middle, so heavy that one move does, that two are needed, that nothing does.
    for (kg, y, moved, level_at_all) in [(14.0, 230.0, 1, true), (30.0, 100.0, 2, true), (45.0, 230.0, 2, false)] {
        let mut plan = fixed_seat();
        plan.angler.landing = Side::Starboard;
        pinned(&mut plan, "motor", kg, 300.0, y);
        aboard(&mut plan, "crate", 7.0, 600.0, 110.0);
        aboard(&mut plan, "battery", 9.0, 1050.0, -235.0);
        aboard(&mut plan, "anchor", 3.0, 2900.0, 60.0);
        let (port, starboard) = (level(&plan), level(&mirrored(&plan)));
        assert!(port.off.list && port.off.trim && port.can_be_level() == level_at_all, "{port:?}");
        assert_eq!((port.proposals[0].moves.len(), port.proposals.len()), (moved, starboard.proposals.len()));
        for (one, other) in port.proposals.iter().zip(&starboard.proposals) {
            let flipped: Vec<_> = other.moves.iter().map(to).map(|(gear, x, y)| (gear, x, -y)).collect();
            assert_eq!(one.moves.iter().map(to).collect::<Vec<_>>(), flipped);
            assert!((one.trim_deg - other.trim_deg).abs() < 1e-3 && (one.heel_deg + other.heel_deg).abs() < 1e-3);
        }
        assert_eq!(level(&plan), port, "the same every time");
    }
}

fn stops(findings: &[Finding]) -> Vec<(&'static str, checks::Subject)> {
    findings.iter().filter(|f| f.severity == Severity::Stop).map(|f| (f.check, f.subject)).collect()
}

/// Gear of the catalogue set down anywhere on one of the hulls.
fn plans() -> impl Strategy<Value = Plan> {
    let entries = Catalogue::shipped().entries();
    let thing = (0..entries.len(), 0.0..1.0_f64, -1.0..1.0_f64, 0..4_i32, any::<bool>());
    (0..hulls().len(), prop::collection::vec(thing, 3..14)).prop_map(move |(class, things)| {
        let mut plan = plan_on(&hulls()[class].hull);
        let (length, half) = (plan.hull.length.value.to_mm(), plan.hull.beam.value.to_mm() / 2.0);
        for (entry, along, across, turn, inside) in things {
            let at = Placement {
                turn: Angle::deg(f64::from(turn) * 90.0),
                level: if inside { Level::Inside } else { Level::Deck },
                ..Placement::at((along * length).round(), (across * half).round())
            };
            let spec = Box::new(entries[entry].clone());
            plan = apply(&plan, &Edit::Add { spec, mount: None, place: Some(at) }).unwrap();
        }
        plan
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn a_proposal_keeps_its_word_and_brings_no_stop(plan in plans()) {
        let before = stops(Session::new(plan.clone(), Measure::default()).findings());
        let moves = level(&plan);
        prop_assert!(moves.proposals.len() <= 5 && (moves.off.any() || moves.proposals.is_empty()));
        for proposal in &moves.proposals {
            let session = made(&plan, proposal);
            let rest = session.study().float.rest().unwrap();
            prop_assert!((rest.trim_deg - proposal.trim_deg).abs() < 1e-6, "{} {}", rest.trim_deg, proposal.trim_deg);
            prop_assert!((rest.heel_deg - proposal.heel_deg).abs() < 1e-6, "{} {}", rest.heel_deg, proposal.heel_deg);
            let in_range = (-0.5 - 1e-6..=1e-6).contains(&rest.trim_deg) && rest.heel_deg.abs() <= 0.5 + 1e-6;
            prop_assert_eq!(in_range, !proposal.left.any());
            for stop in stops(session.findings()) {
                prop_assert!(before.contains(&stop), "{stop:?} after {:?}", proposal.moves);
            }
        }
        let costs: Vec<_> = moves.proposals.iter().map(|p| (p.moves.len(), p.moved_kgm)).collect();
        prop_assert!(costs.is_sorted(), "{costs:?}");
    }

    #[test]
    fn nonsense_gets_an_answer(x in prop::num::f64::ANY, y in -1.0e7..1.0e7_f64, kg in 0.0..1.0e9_f64) {
        let mut plan = plan();
        aboard(&mut plan, "battery", kg, x, y);
        let study = Study::of(&plan);
        let moves = Moves::find(&plan, &study, &|_, _, _| true);
        prop_assert!(moves.proposals.iter().all(|p| p.trim_deg.is_finite() && p.heel_deg.is_finite()));
    }
}
