//! What must hold for holes in any plan, whatever is in it.

use proptest::prelude::*;

use super::test_holes::*;
use super::{CHECKS, LIMITS, Severity};
use crate::geometry::{Point, Spot};
use crate::plan::*;
use crate::study::Study;
use crate::study::holes::{Hole, Holes};
use crate::units::{Angle, Length};

/// One thing to put in a plan: what, where, how wide, and a throw of the dice for the rest.
type Thing = (u8, f64, f64, f64, u8);

fn things() -> impl Strategy<Value = Vec<Thing>> {
    prop::collection::vec((0_u8..9, 1.3_f64..2990.7, -398.3_f64..398.7, 3.1_f64..60.0, 0_u8..6), 0..14)
}

/// A plan with these things in it.
fn plan_of(things: &[Thing]) -> Plan {
    let mut plan = bare();
    add_zone(&mut plan, (1203.7, 51.3), (1903.1, 300.9), |zone| zone.curve = Curve::Radius(Length::mm(400.0)));
    for &thing in things {
        add(&mut plan, thing);
    }
    plan
}

fn add(plan: &mut Plan, (what, x, y, bore, dice): Thing) {
    let mm = Length::mm;
    let at = Point::new(x, y, DECK);
    match what {
        0 => {
            add_hole(plan, x, y, bore, [Fate::New, Fate::Open, Fate::Plugged(Plug::RubberPlug)][usize::from(dice % 3)]);
        }
        1 => add_hole(plan, x, y, bore, plan.gear.first().map_or(Fate::Open, |gear| Fate::Reused(gear.id))),
        2 => add_feature(plan, at, FeatureKind::Scupper { top: mm(bore), bottom: mm(30.0), wall: mm(5.0) }),
        3 => {
            let foam = FeatureKind::Foam { length: mm(10.0 * bore), width: mm(3.0 * bore), height: mm(120.0) };
            add_feature(plan, Point::new(x, y, 150.0), foam);
        }
        4 => {
            let opening = Opening::Rect(mm(5.0 * bore), mm(4.0 * bore));
            add_feature(plan, at, FeatureKind::Hatch { opening, rim: mm(20.0), hinge: Hinge::Aft, reach: mm(500.0) });
        }
        5 => add_feature(plan, at, FeatureKind::Track { length: mm(400.0), free: mm(380.0) }),
        _ => {
            let mut gear = match dice {
                0 | 1 => plate_or_track(x, y),
                2 | 3 => bolted(x, y),
                _ => socket(x, y, bore),
            };
            if let Some(place) = &mut gear.place {
                place.turn = Angle::deg(f64::from(dice) * 25.0 + bore);
            }
            gear.state = if what == 7 { BuildState::Drilled } else { BuildState::Planned };
            add_gear(plan, gear);
        }
    }
}

fn mirrored(plan: &Plan) -> Plan {
    let mut other = plan.clone();
    let hull = std::sync::Arc::make_mut(&mut other.hull);
    for zone in &mut hull.zones {
        zone.outline_mm = zone.outline_mm.mirrored();
    }
    for feature in &mut hull.features {
        feature.at_mm = feature.at_mm.mirrored();
    }
    for gear in &mut other.gear {
        for mounting in &mut std::sync::Arc::make_mut(&mut gear.spec).mounts {
            mounting.holes.iter_mut().for_each(|hole| hole.at_mm = hole.at_mm.mirrored());
        }
        if let Some(place) = &mut gear.place {
            (place.y, place.turn) = (Length::mm(-place.y.to_mm()), Angle::deg(-place.turn.to_deg()));
        }
    }
    for hole in &mut other.penetrations {
        hole.y = Length::mm(-hole.y.to_mm());
    }
    other
}

fn same_but_mirrored(a: &Hole, b: &Hole) -> bool {
    let close = |a: f64, b: f64| (a - b).abs() < 1e-6;
    let distance = |hole: &Hole| hole.neighbour.map_or(0.0, |(_, away)| away);
    let way = |hole: &Hole| hole.access.map_or(0.0, |(_, way)| way);
    a.id == b.id
        && a.state == b.state
        && a.zone == b.zone
        && a.at.mirrored().distance(b.at) < 1e-6
        && close(a.edge_mm.unwrap_or(0.0), b.edge_mm.unwrap_or(0.0))
        && close(a.inside_mm, b.inside_mm)
        && close(a.above_water_heeled_mm, b.above_water_heeled_mm)
        && close(distance(a), distance(b))
        && close(way(a), way(b))
}

fn stops(plan: &Plan) -> usize {
    let found = super::run(plan, &Study::of(plan));
    found.iter().filter(|f| f.severity == Severity::Stop && is_ours(f.check)).count()
}

fn is_ours(id: &str) -> bool {
    id.starts_with("hole-") || id == "seal-wrong" || id == "thermal"
}

/// The checks from `floats-not` to the last of sonar heads stand together in the list.
fn is_of_floating(id: &str) -> bool {
    let place = |id: &str| CHECKS.iter().position(|check| check.id == id);
    place(id) >= place("floats-not") && place(id) <= place("transducer-low")
}

fn holes(plan: &Plan) -> Holes {
    Study::of(plan).holes
}

proptest! {
    #[test]
    fn the_mirrored_boat_has_the_mirrored_holes(things in things()) {
        let plan = plan_of(&things);
        let (one, other) = (holes(&plan), holes(&mirrored(&plan)));
        prop_assert_eq!(one.counts, other.counts);
        prop_assert_eq!(one.holes.len(), other.holes.len());
        for (a, b) in one.holes.iter().zip(&other.holes) {
            prop_assert!(same_but_mirrored(a, b), "{a:#?}\n{b:#?}");
        }
    }

    #[test]
    fn plugging_a_hole_never_adds_a_stop(things in things(), x in 1_f64..2999.0, y in -399_f64..399.0, deep: bool) {
        let mut plan = plan_of(&things);
        if deep {
            set_deck(&mut plan, -20.0);
        }
        add_hole(&mut plan, x, y, 8.0, Fate::Open);
        let before = stops(&plan);
        if let Some(hole) = plan.penetrations.last_mut() {
            hole.fate = Fate::Plugged(Plug::BoltAndGasket);
        }
        prop_assert!(stops(&plan) <= before);
    }

    #[test]
    fn more_gear_never_means_fewer_new_holes(things in things(), more in (6_u8..9, 1_f64..2999.0, -399_f64..399.0, 5_f64..60.0, 0_u8..6)) {
        let mut plan = plan_of(&things);
        let before = holes(&plan).counts;
        add(&mut plan, more);
        let after = holes(&plan).counts;
        prop_assert!(after.new_total() >= before.new_total());
        prop_assert!(after.new_total() + after.drilled > before.new_total() + before.drilled);
    }

    #[test]
    fn every_hole_is_counted_once(things in things()) {
        let found = holes(&plan_of(&things));
        let counts = found.counts;
        prop_assert_eq!(counts.new_total() + counts.drilled + counts.reused + counts.plugged + counts.open, found.holes.len());
        prop_assert!(counts.avoidable <= counts.new_total());
    }
}

#[test]
fn a_reused_hole_is_not_counted_twice() {
    let mut plan = with_gear(plate(1500.0, 0.0));
    assert_eq!(holes(&plan).counts.new_fasteners, 2);
    add_hole(&mut plan, 1503.0, 0.0, 5.0, Fate::Reused(GearId(1)));
    let counts = holes(&plan).counts;
    assert_eq!((counts.new_fasteners, counts.reused, counts.open), (1, 1, 0));
}

#[test]
fn a_part_in_a_track_costs_nothing() {
    let mut plan = with_gear(plate_or_track(1500.0, 0.0));
    add_feature(
        &mut plan,
        Spot::new(1500.0, 0.0).at(DECK),
        FeatureKind::Track { length: Length::mm(400.0), free: Length::mm(380.0) },
    );
    assert_eq!((holes(&plan).counts.new_total(), holes(&plan).counts.avoidable), (2, 2));
    plan.gear[0].mount = Mount::Track;
    assert_eq!(holes(&plan).holes, []);
}

#[test]
fn the_texts_name_their_limits_with_the_numbers_of_the_table() {
    for check in CHECKS.iter().filter(|check| is_ours(check.id) || is_of_floating(check.id)) {
        let text = check.doc.replace('\n', " ");
        let of_check = |name: &str| name.rsplit_once('.').is_some_and(|(id, _)| id == check.id);
        for limit in LIMITS.iter().filter(|limit| of_check(limit.name)) {
            assert!(text.contains(&format!("`{}`", limit.name)), "{} is not named", limit.name);
            assert!(text.contains(&format!(" {} ", limit.value)), "the text of {} has other numbers", limit.name);
        }
    }
}
