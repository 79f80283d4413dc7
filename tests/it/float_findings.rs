//! What the checks of floating say of the shipped hulls, bare and with things aboard: properties that no number of
//! any one boat decides.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::sync::Arc;

use gunnel::catalogue::{Catalogue, hulls, new_plan};
use gunnel::checks::{self, Finding};
use gunnel::plan::{BuildState, Gear, Mount, Name, Placement, Plan, Seal};
use gunnel::study::Study;
use gunnel::units::{Figure, Length, Mass};
use proptest::prelude::*;
use proptest::sample::select;

/// Mass in kg, and where: shares of the length and of the half-breadth there.
type Thing = (f64, f64, f64);

fn things() -> impl Strategy<Value = Vec<Thing>> {
    prop::collection::vec((0.5_f64..9.0, 0.1_f64..0.9, -0.7_f64..0.7), 1..5)
}

fn class() -> impl Strategy<Value = &'static str> {
    select(hulls().iter().map(|class| class.key().as_str()).collect::<Vec<_>>())
}

fn laden(class: &str, things: &[Thing]) -> Plan {
    let mut plan = new_plan(class).unwrap();
    let length = plan.hull.form.length();
    for &(kg, along, across) in things {
        let x = along * length;
        let half = plan.hull.form.gunwale(x).unwrap().0;
        add(&mut plan, kg, x, across * half);
    }
    plan
}

fn add(plan: &mut Plan, kg: f64, x: f64, y: f64) {
    let id = plan.next_gear_id();
    let mut spec = Catalogue::shipped().get("crate").unwrap().clone();
    spec.mass = Figure::measured(Mass::kg(kg));
    plan.gear.push(Gear {
        id,
        label: Name::new(format!("thing {}", id.0)).unwrap(),
        spec: Arc::new(spec),
        mount: Mount::Strap,
        place: Some(Placement::at(x, y)),
        seal: Seal::default(),
        state: BuildState::Planned,
        pinned: false,
    });
}

fn mirrored(plan: &Plan) -> Plan {
    let mut other = plan.clone();
    for place in other.gear.iter_mut().filter_map(|gear| gear.place.as_mut()) {
        place.y = Length::mm(-place.y.to_mm());
    }
    other
}

fn found(plan: &Plan, check: &str) -> Option<Finding> {
    checks::run(plan, &Study::of(plan)).into_iter().find(|finding| finding.check == check)
}

fn least_freeboard(plan: &Plan) -> Option<(f64, f64, f64)> {
    let low = Study::of(plan).float.planned()?.least_freeboard()?;
    Some((low.height_mm, low.at.x, low.at.y))
}

/// Does what the first half of `Move thing 2 310 mm aft, or the seat 50 mm aft.` says; false where it names no
/// thing aboard.
fn follow(plan: &mut Plan, remedy: &str) -> bool {
    let (before, after) = remedy.strip_prefix("Move ").unwrap().split_once(" mm ").unwrap();
    let way = after.split([',', '.']).next().unwrap();
    let (what, mm) = before.rsplit_once(' ').unwrap();
    let (x, y) = match way {
        "forward" => (1.0, 0.0),
        "aft" => (-1.0, 0.0),
        "to port" => (0.0, 1.0),
        "to starboard" => (0.0, -1.0),
        other => panic!("{other}"),
    };
    let mm: f64 = mm.parse().unwrap();
    if what == "the seat" {
        plan.angler.seat.back = Length::mm(plan.angler.seat.back.to_mm() + x * mm);
        return true;
    }
    let Some(gear) = plan.gear.iter_mut().find(|gear| gear.label.as_str() == what) else { return false };
    let place = gear.place.as_mut().unwrap();
    (place.x, place.y) = (Length::mm(place.x.to_mm() + x * mm), Length::mm(place.y.to_mm() + y * mm));
    true
}

fn stiff(plan: &Plan) -> bool {
    Study::of(plan).float.planned().and_then(|planned| planned.gm_mm()).is_some_and(|gm| gm > 30.0)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn more_weight_where_it_is_lowest_never_raises_the_gunwale(class in class(), things in things(), kg in 0.1_f64..20.0) {
        let mut plan = laden(class, &things);
        let Some((before, x, y)) = least_freeboard(&plan) else { return Ok(()) };
        add(&mut plan, kg, x, y * 0.9);
        let after = least_freeboard(&plan).map_or(f64::NEG_INFINITY, |low| low.0);
        prop_assert!(after <= before, "{before} mm, then {after} mm");
    }

    #[test]
    fn the_mirrored_boat_lists_as_heavily_to_the_other_side(class in class(), things in things()) {
        let plan = laden(class, &things);
        let (one, other) = (found(&plan, "list-off"), found(&mirrored(&plan), "list-off"));
        prop_assert_eq!(one.is_some(), other.is_some());
        if let (Some(one), Some(other)) = (one, other) {
            prop_assert_eq!(one.severity, other.severity);
            prop_assert!((one.value - other.value).abs() < 1e-4, "{} and {}", one.value, other.value);
            let swapped = one.says.replace("to port", "to PORT").replace("to starboard", "to port").replace("to PORT", "to starboard");
            prop_assert_eq!(swapped, other.says);
        }
    }

    #[test]
    fn what_the_remedy_says_cures_trim_and_list(class in class(), things in things()) {
        for check in ["trim-off", "list-off"] {
            let mut plan = laden(class, &things);
            let Some(finding) = found(&plan, check) else { continue };
            if !finding.remedy.starts_with("Move ") || !follow(&mut plan, &finding.remedy) || !stiff(&plan) {
                continue;
            }
            let left = found(&plan, check);
            prop_assert!(left.is_none(), "{} {}, and then {:?}", finding.says, finding.remedy, left.map(|f| f.says));
        }
    }
}

#[test]
fn the_bare_classes_lie_level_and_float() {
    for class in hulls() {
        let plan = new_plan(class.key().as_str()).unwrap();
        let trim = Study::of(&plan).float.rest().unwrap().trim_deg;
        assert!((-0.5..=0.2).contains(&trim), "{}: {trim} deg, positive bow down", class.key());
        for check in ["floats-not", "freeboard-low", "floor-wet", "trim-off", "list-off", "downflood"] {
            assert_eq!(found(&plan, check), None, "{}", class.key());
        }
    }
}
