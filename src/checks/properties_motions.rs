//! Properties of reach and clearance over random rigs: a mirror changes nothing, the ghost agrees.

#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use proptest::prelude::*;

use super::test_body::{GUNWALE, feature, handled, place, plan, put};
use super::test_envelopes::{put_motor, stand};
use crate::geometry::Spot;
use crate::plan::*;
use crate::study::Study;
use crate::study::clearance::{Clearance, Snag, Surroundings};
use crate::units::{Angle, Length};

/// The whole plan seen in a mirror: gear, features, zones, sides.
fn mirrored(plan: &Plan) -> Plan {
    let mut plan = plan.clone();
    let hull = std::sync::Arc::make_mut(&mut plan.hull);
    for zone in &mut hull.zones {
        zone.outline_mm = zone.outline_mm.mirrored();
    }
    for feature in &mut hull.features {
        feature.at_mm = feature.at_mm.mirrored();
        if let FeatureKind::Hatch { hinge, .. } = &mut feature.kind {
            *hinge = match *hinge {
                Hinge::Port => Hinge::Starboard,
                Hinge::Starboard => Hinge::Port,
                other => other,
            };
        }
    }
    for gear in &mut plan.gear {
        if let Some(place) = &mut gear.place {
            place.y = Length::mm(-place.y.to_mm());
            place.turn = Angle::deg(-place.turn.to_deg());
        }
        if let Some(handling) = &mut std::sync::Arc::make_mut(&mut gear.spec).handling {
            handling.control_mm = handling.control_mm.mirrored();
        }
    }
    let angler = &mut plan.angler;
    (angler.hand, angler.landing, angler.reentry) =
        (angler.hand.other(), angler.landing.other(), angler.reentry.other());
    plan
}

/// What runs into what, without the order of lists that holds port before starboard.
fn signature(clearance: &Clearance, mirror: bool) -> Vec<String> {
    let side = |side: Option<Side>| if mirror { side.map(Side::other) } else { side };
    let flip = |by: Spot| if mirror { by.mirrored() } else { by };
    let plain = |value: f64| (value * 1e3).round() / 1e3 + 0.0;
    let spot = |by: Spot| (plain(flip(by).x), plain(flip(by).y));
    let mut lines: Vec<String> = clearance
        .intrusions
        .iter()
        .map(|i| {
            let e = &clearance.envelopes[i.envelope];
            let way = i.way_out.map(spot);
            format!(
                "{:?} {:?} {:?} {} {way:?} {:?}",
                e.motion,
                side(e.side),
                i.gear,
                plain(i.depth_mm),
                spot(i.at.spot())
            )
        })
        .chain(
            clearance
                .overlaps
                .iter()
                .map(|o| format!("{:?} {:?} {} {:?}", o.gear, o.other, plain(o.depth_mm), spot(o.at.spot()))),
        )
        .chain(
            clearance
                .against_hull
                .iter()
                .map(|c| format!("{:?} {:?} {} {:?}", c.gear, c.part, plain(c.depth_mm), c.way_out.map(spot))),
        )
        .chain(clearance.snags.iter().map(|s| told(s, spot(s.at.spot()))))
        .collect();
    lines.sort();
    lines
}

fn told(snag: &Snag, at: (f64, f64)) -> String {
    format!("{:?} catches {at:?}", snag.gear)
}

/// Gear as it is drawn at random: forward, off the centreline, to port, turn, height.
type Drawn = (f64, f64, bool, f64, f64);

/// A plan with these things in it and its mirror image have the same reports, mirrored.
fn a_mirror_changes_nothing(things: &[Drawn]) {
    let mut plan = plan();
    let opening = Opening::Rect(Length::mm(260.0), Length::mm(200.0));
    let kind = FeatureKind::Hatch { opening, rim: Length::mm(20.0), hinge: Hinge::Port, reach: Length::mm(1.0) };
    feature(&mut plan, kind, (3000.0, 20.0, GUNWALE));
    put_motor(&mut plan, (120.0, 37.0));
    stand(&mut plan);
    for (x, y, to_port, turn, height) in things.iter().copied() {
        let y = if to_port { y } else { -y };
        let id = put(&mut plan, Kind::Other, (150.0, 70.0, height), (x, y));
        place(&mut plan, id).turn = Angle::deg(turn);
        handled(&mut plan, id, Often::Often, (0.0, 30.0, height));
    }
    let (here, there) = (Study::of(&plan), Study::of(&mirrored(&plan)));
    assert_eq!(signature(&here.clearance, true), signature(&there.clearance, false));
    for (a, b) in here.reach.items.iter().zip(&there.reach.items) {
        let near = |a: f64, b: f64| (a - b).abs() < 1e-6;
        assert_eq!((a.touch.band, a.touch.hand.other()), (b.touch.band, b.touch.hand));
        assert!(near(a.touch.lean_deg, b.touch.lean_deg) && near(a.touch.twist_deg, b.touch.twist_deg));
    }
}

/// Found at random: a tall thing, unturned, at the stern beside the motor.
#[test]
fn a_tall_thing_beside_the_motor_is_mirrored() {
    a_mirror_changes_nothing(&[(103.657_045_786_592_99, 170.948_211_544_329_27, false, 0.0, 293.732_185_496_701_05)]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn a_mirrored_plan_mirrors_every_report(
        things in prop::collection::vec((100_f64..3500.0, 1_f64..440.0, any::<bool>(), 0_f64..360.0, 20_f64..400.0), 1..6),
    ) {
        a_mirror_changes_nothing(&things);
    }

    #[test]
    fn gear_that_goes_its_way_out_is_out(
        (x, y) in (60_f64..3540.0, -390_f64..390.0), turn in 0_f64..360.0, height in 20_f64..1500.0,
    ) {
        let mut plan = plan();
        // One level deck: on a step down the gear would go deeper or come free.
        std::sync::Arc::make_mut(&mut plan.hull).zones.truncate(1);
        put_motor(&mut plan, (120.0, 37.0));
        stand(&mut plan);
        let id = put(&mut plan, Kind::Other, (150.0, 70.0, height), (x, y));
        place(&mut plan, id).turn = Angle::deg(turn);
        for found in Study::of(&plan).clearance.intrusions.into_iter().filter(|i| i.gear == id) {
            let Some(by) = found.way_out else { continue };
            let mut moved = plan.clone();
            let to = place(&mut moved, id);
            (to.x, to.y) = (Length::mm(x + by.x), Length::mm(y + by.y));
            let after = Study::of(&moved).clearance;
            let still = after.intrusions.iter().find(|i| i.gear == id && i.envelope == found.envelope);
            prop_assert!(still.is_none(), "{:?} by {by:?}: {still:?}", after.envelopes[found.envelope].motion);
        }
    }

    #[test]
    fn the_ghost_finds_what_the_study_finds(x in 100_f64..3500.0, y in -390_f64..390.0, height in 20_f64..400.0) {
        let mut plan = plan();
        put(&mut plan, Kind::Other, (300.0, 300.0, 200.0), (800.0, 0.0));
        let id = put(&mut plan, Kind::Other, (150.0, 70.0, height), (x, y));
        let study = Study::of(&plan);
        let item = study.rig.item(id).unwrap();
        let around = Surroundings::of(&plan, &study.rig, &study.clearance.envelopes);
        let overlaps: Vec<_> = around.overlaps(item).collect();
        let intrusions: Vec<_> = around.intrusions(item).collect();
        prop_assert_eq!(overlaps.len(), study.clearance.overlaps.len());
        prop_assert_eq!(intrusions, study.clearance.intrusions.iter().filter(|i| i.gear == id).cloned().collect::<Vec<_>>());
    }
}
