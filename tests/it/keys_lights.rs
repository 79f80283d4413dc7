//! The view of the lights on the screen: the rose, choosing the rule as an edit, going to a light.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::edit::{Edit, apply};
use gunnel::geometry::Point;
use gunnel::plan::{Colour, Craft, Kind, Lantern, Light, LightArc, Placement, Plan, Posture};
use gunnel::study::Study;
use gunnel::units::{Figure, Length, Mass};

use crate::stage::Stage;
use crate::test_power::{add, phase, plan};

/// A boat that is dark for two hours, a white light on a pole 600 mm behind the head, at the height of the eyes.
pub fn pole_behind_the_head() -> Plan {
    let mut plan = plan();
    plan.outing.phases = vec![phase("run out", 2.0, true), phase("day", 6.0, false)];
    let crown = Study::of(&plan).reach.body.head_top;
    let id = add(&mut plan, "pole light", Kind::Light, Figure::measured(Mass::kg(0.7)), None);
    let gear = plan.gear_mut(id).unwrap();
    gear.place = Some(Placement::at(crown.x - 600.0, 0.0));
    let over_deck = crown.z - 120.0 - 300.0;
    let light = Light::plain(Colour::White, LightArc::AllRound, Point::new(0.0, 0.0, over_deck));
    std::sync::Arc::make_mut(&mut gear.spec).light = Some(light);
    plan
}

/// The same with a combined lantern at the bow, under power.
pub fn lit() -> Plan {
    let mut plan = pole_behind_the_head();
    let id = add(&mut plan, "bow light", Kind::Light, Figure::measured(Mass::kg(0.1)), None);
    let gear = plan.gear_mut(id).unwrap();
    gear.place = Some(Placement::at(3400.0, 0.0));
    let red = Light::plain(Colour::Red, LightArc::Sector(247.5, 360.0), Point::new(0.0, 0.0, 120.0));
    let green = Lantern { colour: Colour::Green, arc: LightArc::Sector(0.0, 112.5) };
    let light = Light { second: Some(green), range_nm: Some(1.0), cut_off_deg: Some(2.0), ..red };
    std::sync::Arc::make_mut(&mut gear.spec).light = Some(light);
    plan.outing.craft = Some(Craft::PowerShort);
    plan
}

#[test]
fn a_pole_behind_a_seated_head_fails_raised_passes_and_standing_fails_again() {
    let mut stage = Stage::on(pole_behind_the_head()).sized(120, 40);
    let hidden = |stage: &Stage| {
        let found = stage.findings().iter().find(|finding| finding.check == "light-hidden").cloned();
        found.map(|finding| (finding.value, finding.says))
    };
    // A head 180 wide at 600 hides 2 asin(90 / 600) = 17.25 degrees.
    let (deg, says) = hidden(&stage).unwrap();
    assert!((deg - 17.25).abs() < 0.05 && says.contains("dead ahead, by the seated angler"), "{deg} {says}");
    stage.play("G");
    assert!(stage.shows("hidden from 351 to 9 deg, dead ahead"), "{}", stage.lines().join("\n"));
    let raise = Study::of(stage.plan()).lights.lanterns[0].way.unwrap().raise_mm.unwrap();
    stage.play(&format!("enter ^ ctrl-u \"{raise}\" enter"));
    assert_eq!(stage.gear("pole light").place.unwrap().raise, Length::mm(raise));
    assert_eq!(hidden(&stage), None);
    let mut outing = stage.plan().outing.clone();
    outing.phases[0].posture = Posture::Standing;
    let standing = apply(stage.plan(), &Edit::SetOuting { outing: Box::new(outing) }).unwrap();
    let (deg, says) = hidden(&Stage::on(standing)).unwrap();
    assert!(deg > 17.0 && says.contains("by the standing angler"), "{deg} {says}");
}

#[test]
fn the_rule_is_chosen_in_the_view_and_undone_like_any_edit() {
    let mut stage = Stage::on(pole_behind_the_head()).sized(120, 40);
    stage.play("G");
    assert!(stage.shows("no rule chosen"));
    stage.play("c \"under 12\" enter");
    assert_eq!(stage.plan().outing.craft, Some(Craft::PowerShort));
    assert_eq!(stage.said(), "show lights under power, under 12 m");
    assert!(stage.shows("under power, under 12 m; Rule 23(d)(i)"), "{}", stage.lines().join("\n"));
    assert!(stage.shows("red side light to port: missing"));
    stage.play("esc u");
    assert_eq!(*stage.plan(), pole_behind_the_head());
    stage.play("G c \"no rule\" enter");
    assert_eq!(stage.refused(), "that is chosen already");
}

#[test]
fn who_only_looks_sees_the_view_and_chooses_nothing() {
    let mut stage = Stage::looking_at(pole_behind_the_head());
    stage.play("G c");
    assert_eq!(stage.refused(), "this plan can only be looked at");
    stage.play("down*9 up enter");
    assert_eq!(stage.editor().gear(), Some(stage.gear("pole light").id));
    assert!(stage.app.layers.is_empty());
}

#[test]
fn without_a_light_and_by_day_the_view_says_so() {
    let mut stage = Stage::on(plan());
    stage.play("G");
    assert!(stage.shows("no light is placed on deck") && stage.shows("nothing is asked for"));
    stage.play("enter");
    assert!(stage.app.layers.is_empty());
}
