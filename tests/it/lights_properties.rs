//! What must be so of lights whatever is aboard: shadows within the circle, a mirrored boat the mirror image, and a
//! light over everything hidden by nothing.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::geometry::Point;
use gunnel::plan::{Body, Colour, GearId, Kind, Light, LightArc, Placement, Plan, Shape};
use gunnel::study::Study;
use gunnel::study::lights::sector::{Sector, sum};
use gunnel::study::lights::{Blocker, Shown};
use gunnel::units::{Angle, Figure, Length, Mass};
use proptest::prelude::*;

use crate::test_power::{add, phase, plan};

/// Spot, size, turn, and whether it is a post.
type Thing = ((f64, f64), (f64, f64, f64), f64, bool);

fn things() -> impl Strategy<Value = Vec<Thing>> {
    let spot = (100.0..3500.0_f64, -380.0..380.0_f64);
    let size = (20.0..500.0_f64, 20.0..500.0_f64, 20.0..1500.0_f64);
    proptest::collection::vec((spot, size, 0.0..360.0_f64, any::<bool>()), 0..8)
}

/// A dark boat with an all-round light and things around it.
fn boat(light: (f64, f64, f64), things: &[Thing]) -> Plan {
    let mut plan = plan();
    plan.outing.phases = vec![phase("night", 2.0, true)];
    let id = put(&mut plan, Kind::Light, (light.0, light.1), (20.0, 20.0, 10.0), 0.0, false);
    let spec = std::sync::Arc::make_mut(&mut plan.gear_mut(id).unwrap().spec);
    spec.light = Some(Light::plain(Colour::White, LightArc::AllRound, Point::new(0.0, 0.0, light.2)));
    for (spot, size, turn, post) in things {
        put(&mut plan, Kind::Storage, *spot, *size, *turn, *post);
    }
    plan
}

fn put(plan: &mut Plan, kind: Kind, at: (f64, f64), size: (f64, f64, f64), turn: f64, post: bool) -> GearId {
    // Nearly nothing heavy: the boat lies upright whichever side the things are on.
    let id = add(plan, "thing", kind, Figure::measured(Mass::kg(0.0)), None);
    let gear = plan.gear_mut(id).unwrap();
    gear.place = Some(Placement { turn: Angle::deg(turn), ..Placement::at(at.0, at.1) });
    let shape = if post { Shape::Post(size.0, size.2) } else { Shape::Box(size.0, size.1, size.2) };
    let middle_mm = Point::new(0.0, 0.0, size.2 / 2.0);
    std::sync::Arc::make_mut(&mut gear.spec).bodies = vec![Body { middle_mm, shape }];
    id
}

fn mirrored(plan: &Plan) -> Plan {
    let mut other = plan.clone();
    for gear in &mut other.gear {
        *gear = gear.mirrored().unwrap_or_else(|| gear.clone());
    }
    other
}

fn shown(plan: &Plan) -> Shown {
    Study::of(plan).lights.lanterns[0].clone()
}

/// Same sectors within rounding, in whatever order.
fn same(a: &[Sector], b: &[Sector]) -> bool {
    let alike = |a: &Sector, b: &Sector| {
        let off = (a.middle_deg() - b.middle_deg() + 180.0).rem_euclid(360.0) - 180.0;
        (off.abs() < 1e-4 || a.sweep_deg > 359.99) && (a.sweep_deg - b.sweep_deg).abs() < 1e-4
    };
    a.len() == b.len() && a.iter().all(|a| b.iter().any(|b| alike(a, b)))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn shadows_together_stay_in_the_circle(
        light in (0.0..3600.0_f64, -400.0..400.0_f64, 10.0..1800.0_f64), things in things(),
    ) {
        let shown = shown(&boat(light, &things));
        for (stance, parts) in &shown.hidden {
            let counted = shown.shadows.iter().filter(|shadow| shadow.by.counts_in(*stance));
            let widths: Vec<f64> = counted.map(|shadow| shadow.sector.sweep_deg).collect();
            let (together, widest) = (sum(parts), widths.iter().copied().fold(0.0, f64::max));
            prop_assert!(together <= 360.0 + 1e-6 && together <= widths.iter().sum::<f64>() + 1e-4);
            prop_assert!(together >= widest - 1e-4);
        }
    }

    #[test]
    fn a_mirrored_boat_has_the_mirror_image_of_every_shadow(
        light in (0.0..3600.0_f64, -400.0..400.0_f64, 10.0..1800.0_f64), things in things(),
    ) {
        let plan = boat(light, &things);
        let (one, other) = (shown(&plan), shown(&mirrored(&plan)));
        prop_assert!((one.at.y + other.at.y).abs() < 1e-9);
        for ((stance, parts), (again, mirror)) in one.hidden.iter().zip(&other.hidden) {
            prop_assert_eq!(stance, again);
            let parts: Vec<Sector> = parts.iter().map(Sector::mirrored).collect();
            prop_assert!(same(&parts, mirror), "{parts:?} {mirror:?}");
        }
    }

    #[test]
    fn over_everything_nothing_hides_it(light in (0.0..3600.0_f64, -400.0..400.0_f64), things in things()) {
        // Highest body 300 + 1500, farthest 3600 + 400: 4 m of a cone of 5 degrees and some trim are under 700.
        let mut plan = boat((light.0, light.1, 10.0), &things);
        plan.gear[0].place.as_mut().unwrap().raise = Length::mm(2600.0);
        let shown = shown(&plan);
        prop_assert!(shown.shadows.is_empty(), "{:?}", shown.shadows);
        prop_assert!(shown.way.is_none());
    }

    #[test]
    fn the_way_that_is_proposed_passes(
        light in (100.0..3500.0_f64, -380.0..380.0_f64, 300.0..1000.0_f64), things in things(),
    ) {
        let plan = boat(light, &things);
        let Some(way) = shown(&plan).way else { return Ok(()) };
        if let Some(raise) = way.raise_mm {
            let mut raised = plan.clone();
            raised.gear[0].place.as_mut().unwrap().raise = Length::mm(raise);
            prop_assert!(shown(&raised).way.is_none(), "raised {raise}");
        }
        if let Some(by) = way.shift {
            let mut moved = plan.clone();
            moved.gear[0].place = Some(Placement::at(light.0 + by.x, light.1 + by.y));
            prop_assert!(shown(&moved).way.is_none(), "moved {by:?}");
        }
        prop_assert!(shown(&plan).shadows.iter().any(|shadow| !matches!(shadow.by, Blocker::Gear(GearId(1)))) || light.2 < 1300.0);
    }
}
