//! The checks of lights at their limits: just fires, just does not.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use super::test_body::{findings, place, plan, put, spec};
use super::{Finding, Severity, Subject};
use crate::geometry::{Point, Spot};
use crate::plan::*;
use crate::study::body::Seated;
use crate::units::{Angle, Current, Duration, Figure, Intensity, Length, Voltage};

/// Height of the deck of the test hull, mm.
const DECK: f64 = super::test_body::GUNWALE;

/// A dark phase in a posture.
fn dark(posture: Posture) -> Phase {
    Phase {
        name: Name::new("dark").unwrap(),
        hours: Duration::hours(2.0),
        dark: true,
        air: None,
        charging: false,
        posture,
        motor: None,
        duties: Vec::new(),
    }
}

/// A boat whose day is dark, the person seated in it.
fn night() -> Plan {
    let mut plan = plan();
    plan.outing.phases = vec![dark(Posture::SeatedLow)];
    plan
}

/// A light with its centre this high over the baseline, its body no more than a foot.
fn lamp(plan: &mut Plan, colour: Colour, arc: LightArc, at: Point) -> GearId {
    let id = put(plan, Kind::Light, (20.0, 20.0, 10.0), (at.x, at.y));
    spec(plan, id).light = Some(Light::plain(colour, arc, Point::new(0.0, 0.0, at.z - DECK)));
    id
}

fn light(plan: &mut Plan, id: GearId) -> &mut Light {
    spec(plan, id).light.as_mut().unwrap()
}

fn pole(plan: &mut Plan, at: Point) -> GearId {
    lamp(plan, Colour::White, LightArc::AllRound, at)
}

fn sides(plan: &mut Plan, x: f64, z: f64) -> [GearId; 2] {
    [
        lamp(plan, Colour::Red, LightArc::Sector(247.5, 360.0), Point::new(x, 300.0, z)),
        lamp(plan, Colour::Green, LightArc::Sector(0.0, 112.5), Point::new(x, -300.0, z)),
    ]
}

/// Top of the seated head.
fn crown(plan: &Plan) -> Point {
    Seated::of(plan).head_top
}

fn weights(found: &[Finding]) -> Vec<Severity> {
    found.iter().map(|finding| finding.severity).collect()
}

#[test]
fn by_day_and_without_a_choice_nothing_is_said() {
    let mut plan = plan();
    plan.outing.phases = vec![Phase { dark: false, ..dark(Posture::SeatedLow) }];
    let low = crown(&plan) - Point::new(600.0, 0.0, 120.0);
    pole(&mut plan, low);
    let all = ["light-missing", "light-hidden", "light-low", "light-arc", "glare", "light-spare"];
    for check in all {
        assert_eq!(findings(&plan, check), [], "{check}");
    }
    plan.outing.craft = Some(Craft::Anchored);
    assert_eq!(findings(&plan, "light-hidden").len(), 1, "a choice makes them matter");
}

#[test]
fn a_head_hides_seventeen_degrees_and_a_higher_pole_none() {
    let mut plan = night();
    let beside = crown(&plan) - Point::new(600.0, 0.0, 120.0);
    let id = pole(&mut plan, beside);
    let found = findings(&plan, "light-hidden");
    assert_eq!(weights(&found), [Severity::Stop]);
    // A head of 180 at 600: twice the arc sine of 90 / 600.
    assert!((found[0].value - 17.254).abs() < 1e-3, "{}", found[0].value);
    let says = &found[0].says;
    assert!(says.contains("from 351 to 9 deg, dead ahead, by the seated angler: 17.3 deg"), "{says}");
    // 220 higher it is 100 over the crown, and the lower cone is over it: 100 > 690 tan 5.
    assert!(found[0].remedy.starts_with("raise it 220 mm"), "{}", found[0].remedy);
    place(&mut plan, id).raise = Length::mm(220.0);
    assert_eq!(findings(&plan, "light-hidden"), []);
    assert_eq!(findings(&plan, "light-low"), []);
    // Who stands up in the dark hides it again, in no other way to be mended than by a longer pole.
    plan.outing.phases.push(dark(Posture::Standing));
    let found = findings(&plan, "light-hidden");
    assert!(
        found[0].says.contains("by the standing angler") && found[0].says.ends_with("(seated, it passes)"),
        "{found:?}"
    );
    let low = findings(&plan, "light-low");
    assert!(low[0].says.contains("under the head of the standing angler"), "{low:?}");
}

#[test]
fn six_degrees_are_borne_and_no_more() {
    let mut plan = night();
    let id = pole(&mut plan, Point::new(200.0, 0.0, 1800.0));
    // From the lamp a plank across: 2 atan(26.2 / 500) is 5.999 degrees, 2 atan(26.3 / 500) 6.022.
    let plank = put(&mut plan, Kind::Storage, (2.0, 52.4, 1600.0), (701.0, 0.0));
    let found = findings(&plan, "light-hidden");
    assert_eq!(weights(&found), [Severity::Note], "{found:?}");
    assert!(found[0].says.contains("by thing 2"), "{}", found[0].says);
    spec(&mut plan, plank).bodies[0].shape = Shape::Box(2.0, 52.6, 1600.0);
    assert_eq!(weights(&findings(&plan, "light-hidden")), [Severity::Stop]);
    // Its own gear hides nothing, nor what is inside the hull.
    plan.gear.retain(|gear| gear.id == id);
    assert_eq!(findings(&plan, "light-hidden"), []);
}

#[test]
fn an_all_round_light_stands_a_hand_over_the_head() {
    let mut plan = night();
    let over = crown(&plan).z + 99.0;
    let id = pole(&mut plan, Point::new(100.0, 0.0, over));
    let found = findings(&plan, "light-low");
    assert_eq!(weights(&found), [Severity::Caution]);
    assert!(found[0].says.contains("99 mm over the head of the seated angler, 100 over it is asked for"), "{found:?}");
    assert!(found[0].remedy.starts_with("raise it 1 mm"), "{found:?}");
    place(&mut plan, id).raise = Length::mm(1.0);
    assert_eq!(findings(&plan, "light-low"), []);
    place(&mut plan, id).raise = Length::mm(-200.0);
    assert!(findings(&plan, "light-low")[0].says.contains("101 mm under the head"));
    plan.outing.phases[0].posture = Posture::Standing;
    assert!(findings(&plan, "light-low")[0].says.contains("standing angler"));
}

#[test]
fn a_metre_over_the_side_lights() {
    let mut plan = night();
    plan.outing.craft = Some(Craft::PowerShort);
    sides(&mut plan, 2900.0, 400.0);
    let id = pole(&mut plan, Point::new(100.0, 0.0, 1399.0));
    let over_sides = |plan: &Plan| {
        let mut found = findings(plan, "light-low");
        found.retain(|finding| finding.says.contains("side lights"));
        found
    };
    let found = over_sides(&plan);
    assert!(found[0].says.ends_with("is 999 mm over the side lights, 1000 are asked for"), "{found:?}");
    plan.outing.craft = Some(Craft::PowerSlow);
    assert!(over_sides(&plan)[0].says.contains("a good target"));
    plan.outing.craft = Some(Craft::OarsLit);
    assert_eq!(over_sides(&plan), [], "under oars no all-round light is shown with them");
    plan.outing.craft = Some(Craft::PowerShort);
    place(&mut plan, id).raise = Length::mm(1.0);
    assert_eq!(over_sides(&plan), []);
    place(&mut plan, id).raise = Length::mm(-1000.0);
    assert!(over_sides(&plan)[0].says.contains("1 mm under the side lights"));
}

#[test]
fn side_lights_look_ahead_and_fade_across_the_bow() {
    let mut plan = night();
    let [red, green] = sides(&mut plan, 2900.0, 400.0);
    for id in [red, green] {
        light(&mut plan, id).cut_off_deg = Some(3.0);
    }
    assert_eq!(findings(&plan, "light-arc"), []);
    light(&mut plan, red).cut_off_deg = Some(3.1);
    let found = findings(&plan, "light-arc");
    assert_eq!((weights(&found), found[0].subject), (vec![Severity::Stop], Subject::Gear(red)));
    assert!(found[0].says.contains("3.1 deg across the bow"), "{found:?}");
    // Turned ten degrees to port the green one leaves out its last ten and shows across the bow.
    light(&mut plan, red).cut_off_deg = None;
    place(&mut plan, green).turn = Angle::deg(10.0);
    let found = findings(&plan, "light-arc");
    assert!(found[0].says.contains("from 102.5 to 112.5 deg, on the starboard beam: 10.0 deg"), "{found:?}");
    assert!(found[1].says.contains("13.0 deg across the bow"), "{found:?}");
    // Turned the other way it leaves out what is ahead.
    place(&mut plan, green).turn = Angle::deg(350.0);
    assert!(findings(&plan, "light-arc")[0].says.contains("from 0 to 10 deg, dead ahead"));
}

#[test]
fn what_the_rule_asks_for_is_there_or_named() {
    let mut plan = night();
    assert_eq!(weights(&findings(&plan, "light-missing")), [Severity::Note], "nothing chosen");
    plan.outing.craft = Some(Craft::PowerShort);
    assert_eq!(weights(&findings(&plan, "light-missing")), [Severity::Stop; 3]);
    let [red, _] = sides(&mut plan, 2900.0, 400.0);
    pole(&mut plan, Point::new(100.0, 0.0, 1800.0));
    assert_eq!(findings(&plan, "light-missing"), []);
    // 0.8575 cd is a mile by Annex I 8.
    light(&mut plan, red).intensity = Some(Figure::catalogue(Intensity::candelas(0.858)));
    assert_eq!(findings(&plan, "light-missing"), []);
    light(&mut plan, red).intensity = Some(Figure::catalogue(Intensity::candelas(0.857)));
    let found = findings(&plan, "light-missing");
    assert!(found[0].says.ends_with("must be seen 1") && found[0].subject == Subject::Gear(red), "{found:?}");
    // Side lights that are only asked for where practicable are a note.
    plan.outing.craft = Some(Craft::PowerSlow);
    assert_eq!(weights(&findings(&plan, "light-missing")), [Severity::Note]);
    plan.outing.craft = Some(Craft::Anchored);
    assert_eq!(findings(&plan, "light-missing"), []);
    plan.outing.craft = Some(Craft::PowerFull);
    assert_eq!(findings(&plan, "light-missing").len(), 3, "masthead, stern, and the short red");
}

#[test]
fn seven_knots_and_seven_metres() {
    let mut plan = night();
    plan.outing.craft = Some(Craft::PowerSlow);
    pole(&mut plan, Point::new(100.0, 0.0, 1800.0));
    sides(&mut plan, 2900.0, 400.0);
    let motor = put(&mut plan, Kind::Motor, (100.0, 100.0, 100.0), (50.0, 0.0));
    let mut at = |knots: f64| {
        let setting = Setting {
            name: Name::new("full").unwrap(),
            current: Figure::catalogue(Current::amps(30.0)),
            speed_kmh: Some(knots * 1.852),
        };
        spec(&mut plan, motor).electric =
            Some(Electric::Motor { volts: Voltage::volts(12.0), settings: vec![setting] });
        findings(&plan, "light-missing")
    };
    assert_eq!(at(6.999), []);
    let found = at(7.1);
    assert!(found[0].says.contains("drives this one at 7.1"), "{found:?}");
    let mut long = night();
    long.outing.craft = Some(Craft::PowerSlow);
    std::sync::Arc::make_mut(&mut long.hull).length.value = Length::m(7.0);
    assert!(findings(&long, "light-missing").iter().any(|finding| finding.says.contains("7.00 m long")));
    std::sync::Arc::make_mut(&mut long.hull).length.value = Length::m(6.99);
    assert!(findings(&long, "light-missing").iter().all(|finding| !finding.says.contains("m long")));
}

#[test]
fn a_lamp_before_the_eyes_glares_and_one_behind_does_not() {
    let mut plan = night();
    let eye = Seated::of(&plan).eye;
    let id = pole(&mut plan, Point::new(eye.x + 1.0, 500.0, eye.z));
    assert_eq!(findings(&plan, "glare").len(), 1, "just ahead of abeam");
    place(&mut plan, id).x = Length::mm(eye.x - 1.0);
    assert_eq!(findings(&plan, "glare"), []);
    *place(&mut plan, id) = Placement::at(eye.x + 1200.0, 0.0);
    // 1200 ahead: 49.9 degrees up is 1425.1, 50.1 is 1435.2.
    place(&mut plan, id).raise = Length::mm(1425.0);
    assert_eq!(findings(&plan, "glare").len(), 1);
    place(&mut plan, id).raise = Length::mm(1436.0);
    assert_eq!(findings(&plan, "glare"), []);
    place(&mut plan, id).raise = Length::mm(0.0);
    assert_eq!(findings(&plan, "glare").len(), 1);
    light(&mut plan, id).shaded = true;
    assert_eq!(findings(&plan, "glare"), []);
    // A side light ahead shines forward, a dim amber strip saves night sight.
    *light(&mut plan, id) =
        Light { shaded: false, arc: LightArc::Sector(247.5, 0.0), colour: Colour::Red, ..*light(&mut plan, id) };
    assert_eq!(findings(&plan, "glare"), []);
    *light(&mut plan, id) = Light { arc: LightArc::Deck, colour: Colour::Amber, ..*light(&mut plan, id) };
    assert_eq!(findings(&plan, "glare"), []);
    light(&mut plan, id).colour = Colour::White;
    assert_eq!(findings(&plan, "glare").len(), 1);
}

#[test]
fn a_torch_is_the_spare() {
    let mut plan = night();
    plan.outing.craft = Some(Craft::Anchored);
    let id = pole(&mut plan, Point::new(100.0, 0.0, 1800.0));
    assert_eq!(findings(&plan, "light-spare").len(), 1);
    light(&mut plan, id).own_cells = true;
    assert_eq!(findings(&plan, "light-spare").len(), 1, "it is the one that is asked for");
    let torch = lamp(&mut plan, Colour::White, LightArc::Deck, Point::new(2000.0, 100.0, DECK + 20.0));
    light(&mut plan, torch).own_cells = true;
    assert_eq!(findings(&plan, "light-spare"), []);
    plan.gear_mut(torch).unwrap().place = None;
    assert_eq!(findings(&plan, "light-spare").len(), 1, "ashore it is no spare");
    plan.outing.craft = Some(Craft::OarsTorch);
    assert_eq!(findings(&plan, "light-spare"), [], "under oars the pole with its own cells is ready to be shown");
}

#[test]
fn a_combined_lantern_is_two_side_lights() {
    let mut plan = night();
    plan.outing.craft = Some(Craft::OarsLit);
    let id = lamp(&mut plan, Colour::Red, LightArc::Sector(247.5, 360.0), Point::new(3300.0, 0.0, 400.0));
    light(&mut plan, id).second = Some(Lantern { colour: Colour::Green, arc: LightArc::Sector(0.0, 112.5) });
    let found = findings(&plan, "light-missing");
    assert!(found.len() == 1 && found[0].says.contains("white stern light"), "{found:?}");
    // A box on its starboard side hides the green one alone.
    put(&mut plan, Kind::Storage, (100.0, 40.0, 300.0), (3300.0, -100.0));
    let found = findings(&plan, "light-hidden");
    assert!(found.len() == 1 && found[0].says.contains("(green side light to starboard)"), "{found:?}");
}

#[test]
fn a_light_inside_another_body_and_people_of_no_size_are_said_or_survived() {
    let mut plan = night();
    pole(&mut plan, Point::new(700.0, 0.0, 500.0));
    put(&mut plan, Kind::Storage, (300.0, 300.0, 400.0), (700.0, 0.0));
    let found = findings(&plan, "light-hidden");
    assert!((found[0].value - 360.0).abs() < 1e-6 && found[0].says.contains("all round"), "{found:?}");
    for stature in [1.0, 9000.0, f64::NAN] {
        let mut odd = plan.clone();
        odd.angler.stature.value = Length::mm(stature);
        let study = crate::study::Study::of(&odd);
        assert!(study.lights.lanterns.iter().all(|shown| {
            shown
                .hidden
                .iter()
                .all(|(_, parts)| parts.iter().all(|part| part.from_deg.is_finite() && part.sweep_deg.is_finite()))
        }));
    }
    let far = Spot::new(9000.0, 3000.0);
    plan.gear[0].place = Some(Placement::at(far.x, far.y));
    assert!(crate::study::Study::of(&plan).lights.lanterns[0].way.is_some());
}
