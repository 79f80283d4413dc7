//! Rods, motors, drives, carts, standing and snags: each check fired at its limit and left quiet just inside it.
//! Positions are worked out by hand on the box of `test_body.rs`, 2 mm count as touching.

#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use super::test_body::{GUNWALE, feature, findings, place, plan, put, spec};
use super::{Finding, Severity};
use crate::geometry::{Point, Spot};
use crate::plan::*;
use crate::units::Length;

/// Puts the bodies of a stern motor with a handle, head at 125 to 235 over its mount, shaft 110 aft of it.
pub(super) fn put_motor(plan: &mut Plan, at: (f64, f64)) -> GearId {
    let id = put(plan, Kind::Motor, (120.0, 110.0, 40.0), at);
    let body = |x: f64, z: f64, shape| Body { middle_mm: Point::new(x, 0.0, z), shape };
    spec(plan, id).bodies.extend([
        body(-60.0, 180.0, Shape::Box(260.0, 110.0, 110.0)),
        body(-110.0, -250.0, Shape::Post(28.0, 750.0)),
        body(-110.0, -625.0, Shape::Bar(95.0, 380.0)),
        body(190.0, 190.0, Shape::Bar(35.0, 330.0)),
    ]);
    id
}

/// Makes someone stand for the whole day.
pub(super) fn stand(plan: &mut Plan) {
    plan.outing.phases = Outing::default().phases;
    plan.outing.phases[0].posture = Posture::Standing;
}

/// What a check says to one box of gear in a plan.
fn says(base: &Plan, check: &str, kind: Kind, size: (f64, f64, f64), at: (f64, f64)) -> Vec<Finding> {
    let mut plan = base.clone();
    put(&mut plan, kind, size, at);
    findings(&plan, check)
}

/// The check is quiet for one place of a box and speaks for the other.
fn pair(base: &Plan, check: &str, quiet: ((f64, f64), f64), speaks: ((f64, f64), f64), severity: Severity) -> Finding {
    let ((at, high), (near, higher)) = (quiet, speaks);
    assert_eq!(says(base, check, Kind::Other, (60.0, 60.0, high), at), vec![], "{at:?}, {high} high");
    let found = says(base, check, Kind::Other, (60.0, 60.0, higher), near);
    assert_eq!(found.iter().map(|f| f.severity).collect::<Vec<_>>(), [severity], "{near:?}, {higher} high: {found:?}");
    found[0].clone()
}

#[test]
fn a_cast_passes_what_is_low_or_in_the_middle() {
    let caution = Severity::Caution;
    // The shoulder is 828 up: seat 240, hip 90, trunk 0.288 x 1756 leaning 10 deg. The gunwale is 340.
    pair(&plan(), "cast-blocked", ((1000.0, -300.0), 489.0), ((1000.0, -300.0), 495.0), caution);
    // The edge of a box of 60 passes 250 from the centreline.
    let found = pair(&plan(), "cast-blocked", ((1000.0, -221.0), 1500.0), ((1000.0, -225.0), 1500.0), caution);
    assert!(found.says.contains("in the cast to starboard"), "{}", found.says);
    assert!(found.remedy.starts_with("move it 5 mm to port"), "{}", found.remedy);
    assert_eq!(says(&plan(), "cast-blocked", Kind::Other, (60.0, 60.0, 1500.0), (1000.0, 300.0)), vec![], "other hand");
}

#[test]
fn a_hook_is_set_with_the_elbows() {
    let caution = Severity::Caution;
    // The hanging elbow is 828 less 0.186 x 1756: 501 up, 161 over the gunwale.
    pair(&plan(), "cast-blocked", ((1400.0, 350.0), 162.0), ((1400.0, 350.0), 167.0), caution);
    // 350 behind the seat back at 1500, and half the box.
    let found = pair(&plan(), "cast-blocked", ((1119.0, 350.0), 300.0), ((1125.0, 350.0), 300.0), caution);
    assert!(found.says.contains("elbow to port"), "{}", found.says);
    assert!(found.remedy.starts_with("move it 5 mm aft"), "{}", found.remedy);
}

#[test]
fn a_motor_turns_with_its_handle() {
    let mut plan = plan();
    put_motor(&mut plan, (120.0, 0.0));
    // The shaft stands at 10, the end of the handle 465 ahead of it; it is 172.5 over the deck.
    pair(&plan, "stow-blocked", ((504.0, 0.0), 200.0), ((500.0, 0.0), 200.0), Severity::Stop);
    let found = pair(&plan, "stow-blocked", ((470.0, 0.0), 173.0), ((470.0, 0.0), 178.0), Severity::Stop);
    assert!(found.says.contains("when it turns"), "{}", found.says);
    // Turned by 60 deg its middle line comes to 403 aside and 233 ahead; a box 100 further round is free.
    let turned = says(&plan, "stow-blocked", Kind::Other, (20.0, 20.0, 200.0), (240.0, 380.0));
    assert_eq!(turned.len(), 1, "{turned:?}");
    assert_eq!(says(&plan, "stow-blocked", Kind::Other, (20.0, 20.0, 200.0), (140.0, 380.0)), vec![], "past the turn");
}

#[test]
fn a_motor_tilts_over_its_mount() {
    let mut plan = plan();
    put_motor(&mut plan, (120.0, 0.0));
    // The head's furthest corner is 190 aft of the mount and 235 over it: 302 ahead of it when tilted.
    let found = pair(&plan, "stow-blocked", ((453.0, 0.0), 100.0), ((447.0, 0.0), 100.0), Severity::Stop);
    assert!(found.says.contains("when it tilts"), "{}", found.says);
    // 55 of half head and 20 of room to the side.
    pair(&plan, "stow-blocked", ((300.0, 104.0), 100.0), ((300.0, 100.0), 100.0), Severity::Stop);
}

#[test]
fn a_drive_is_lifted_out_of_its_well() {
    let mut plan = plan();
    let (length, width) = (Length::mm(300.0), Length::mm(200.0));
    feature(&mut plan, FeatureKind::DriveWell { length, width }, (2200.0, 0.0, 150.0));
    assert_eq!(says(&plan, "stow-blocked", Kind::Other, (60.0, 60.0, 100.0), (2200.0, 0.0)), vec![], "nothing drives");
    let crank_mm = Point::new(2200.0, 0.0, 400.0);
    let pedals = Pedals { crank_mm, radius: Length::mm(150.0), half_width: Length::mm(180.0) };
    std::sync::Arc::make_mut(&mut plan.hull).pedals = Some(pedals);
    // Half the well, 50 of room, half the box.
    let found = pair(&plan, "stow-blocked", ((2429.0, 0.0), 100.0), ((2425.0, 0.0), 100.0), Severity::Stop);
    assert!(found.remedy.starts_with("move it 5 mm forward"), "{}", found.remedy);
    // A motor in the well is lifted as well, and does not tilt.
    std::sync::Arc::make_mut(&mut plan.hull).pedals = None;
    put_motor(&mut plan, (2200.0, 0.0));
    let found = pair(&plan, "stow-blocked", ((2429.0, 0.0), 100.0), ((2425.0, 0.0), 100.0), Severity::Stop);
    assert!(found.says.contains("out of its well"), "{}", found.says);
}

#[test]
fn a_cart_needs_two_scuppers() {
    let mut plan = plan();
    let scupper = || FeatureKind::Scupper { top: Length::mm(38.0), bottom: Length::mm(32.0), wall: Length::mm(5.0) };
    // 0.40 of 3600 is 1440: the pair at 1400 serves, not the one at 2000.
    for (x, y) in [(1400.0, 150.0), (1400.0, -150.0), (2000.0, 150.0), (2000.0, -150.0)] {
        feature(&mut plan, scupper(), (x, y, 150.0));
    }
    let over = |plan: &Plan, y: f64, x: f64| {
        let mut plan = plan.clone();
        let id = put(&mut plan, Kind::Transducer, (60.0, 60.0, 40.0), (x, y));
        place(&mut plan, id).level = Level::Under;
        findings(&plan, "stow-blocked").len()
    };
    assert_eq!(over(&plan, 150.0, 1400.0), 0, "no cart");
    let cart = put(&mut plan, Kind::Cart, (420.0, 280.0, 280.0), (600.0, 0.0));
    plan.gear_mut(cart).unwrap().place = None;
    // Half the bore and 10 of room: 29, and half the box.
    assert_eq!((over(&plan, 208.0, 1400.0), over(&plan, 205.0, 1400.0), over(&plan, 150.0, 2000.0)), (0, 1, 0));
    let crates = says(&plan, "stow-blocked", Kind::Storage, (300.0, 300.0, 200.0), (1400.0, 150.0));
    assert_eq!(crates, vec![], "stands over them");
}

#[test]
fn nothing_hangs_below_the_hull_on_the_trailer() {
    let under = |kind: Kind, high: f64| {
        let mut plan = plan();
        let id = put(&mut plan, kind, (60.0, 60.0, high), (600.0, 0.0));
        place(&mut plan, id).level = Level::Under;
        findings(&plan, "stow-blocked").iter().map(|f| (f.severity, f.value)).collect::<Vec<_>>()
    };
    assert_eq!(under(Kind::Other, 1.0), []);
    assert_eq!(under(Kind::Other, 5.0), [(Severity::Caution, 5.0)]);
    assert_eq!(under(Kind::Transducer, 5.0), [], "has a check of its own");
}

#[test]
fn who_stands_needs_floor_and_a_step() {
    let mut plan = plan();
    assert_eq!(says(&plan, "stand-blocked", Kind::Other, (60.0, 60.0, 60.0), (2100.0, 0.0)), vec![], "fished sitting");
    stand(&mut plan);
    // Floor 150; the seat's front edge 1960, the toes 400 ahead of it, the step 300 more.
    pair(&plan, "stand-blocked", ((2100.0, 0.0), 11.0), ((2100.0, 0.0), 15.0), Severity::Stop);
    pair(&plan, "stand-blocked", ((2500.0, 0.0), 11.0), ((2500.0, 0.0), 15.0), Severity::Caution);
    pair(&plan, "stand-blocked", ((2689.0, 0.0), 60.0), ((2685.0, 0.0), 60.0), Severity::Caution);
}

#[test]
fn snags_are_counted_near_the_landing_side() {
    let points = |kind: Kind, y: f64| {
        let found = says(&plan(), "snag", kind, (60.0, 60.0, 100.0), (1850.0, y));
        found.iter().map(|f| (f.severity, f.value)).collect::<Vec<_>>()
    };
    // The gunwale is 400 to port; the near edge of the box at 200 to starboard is 600 away.
    assert_eq!(points(Kind::RodHolder, -229.0), [(Severity::Note, 1.0)]);
    assert_eq!(points(Kind::RodHolder, -232.0), []);
    assert_eq!(points(Kind::Cooler, 200.0), [], "smooth");
    let mut plan = plan();
    let id = put(&mut plan, Kind::Other, (60.0, 60.0, 100.0), (1850.0, 300.0));
    let bolt = |y: f64| HoleSpec {
        at_mm: Spot::new(0.0, y),
        bore: Length::mm(5.0),
        carries: Carries::Fastener,
        back: Back::Blind,
    };
    spec(&mut plan, id).mounts[0].holes = vec![bolt(20.0), bolt(35.0), bolt(-35.0)];
    assert_eq!(findings(&plan, "snag")[0].value, 2.0, "one head is under the body");
}

#[test]
fn by_how_much_and_which_way_out() {
    let mut plan = plan();
    // In the stroke: the holder's outer edge is 400, the stroke begins 300 from the centreline.
    put(&mut plan, Kind::RodHolder, (60.0, 60.0, 250.0), (1900.0, -370.0));
    // Under a lid: it begins at 2850, the crate ends at 2910.
    let opening = Opening::Rect(Length::mm(260.0), Length::mm(200.0));
    let kind = FeatureKind::Hatch { opening, rim: Length::mm(20.0), hinge: Hinge::Fore, reach: Length::mm(400.0) };
    feature(&mut plan, kind, (3000.0, 0.0, GUNWALE));
    put(&mut plan, Kind::Storage, (300.0, 300.0, 250.0), (2760.0, 0.0));
    // On the landing side: 40 high where 20 may stand; its outer edge is 400, the side begins at 300.
    put(&mut plan, Kind::Anchor, (60.0, 20.0, 40.0), (1850.0, 390.0));
    let told = |check: &str| {
        let found = findings(&plan, check);
        assert_eq!(found.len(), 1, "{found:?}");
        format!("{}: {}", found[0].says, found[0].remedy.split(',').next().unwrap())
    };
    assert_eq!(
        [told("stroke-blocked"), told("lid-blocked"), told("landing-blocked")],
        [
            "thing 1 stands 100 mm in the paddle's stroke to starboard: move it 100 mm to port",
            "thing 2 keeps the lid of feature 1 from opening, by 60 mm: move it 60 mm aft",
            "thing 3 stands 20 mm in the landing side, port: move it 100 mm to starboard",
        ]
    );
}
