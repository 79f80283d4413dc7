//! One seat test, told to the end: it teaches the body, the program says where each thing would pass, and moving both
//! there clears reach, sight and holes together.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::catalogue::Catalogue;
use gunnel::checks::{self, Severity};
use gunnel::edit::{Edit, apply};
use gunnel::plan::{GearId, Mount, Mounting, Placement, Plan, Reading, Spec, Taken};
use gunnel::study::Study;
use gunnel::study::reach::Band;
use gunnel::study::reach::along::span;
use gunnel::units::Length;

use crate::boats::demo;

fn edited(plan: &Plan, edits: &[Edit]) -> Plan {
    edits.iter().fold(plan.clone(), |plan, edit| apply(&plan, edit).unwrap())
}

fn entry(key: &str) -> Spec {
    Catalogue::shipped().get(key).unwrap().clone()
}

/// A switch panel that two bolts hold, in inserts as well as in the skin; its keys are told by touch.
fn switch() -> Spec {
    let mut spec = entry("switch-panel-4");
    let on_inserts = entry("display-9").mounting(Mount::Inserts).unwrap().clone();
    spec.mounts.push(Mounting { how: Mount::Inserts, ..on_inserts });
    spec.handling.as_mut().unwrap().seen = false;
    spec
}

/// The demo hull with a switch panel beside the tank well and a screen on the rim of the foredeck's hatch.
fn first_layout() -> (Plan, GearId, GearId) {
    let mut plan = demo("seat-test.ron");
    plan.readings.clear();
    plan.gear.retain(|gear| ["battery", "extra track, port"].contains(&gear.label.as_str()));
    plan.wiring = Default::default();
    plan.outing.phases.iter_mut().for_each(|phase| phase.duties.clear());
    let put = |spec: Spec, x, y| Edit::Add {
        spec: Box::new(spec),
        mount: Some(Mount::Bolts),
        place: Some(Placement::at(x, y)),
    };
    let plan = edited(&plan, &[put(switch(), 960.0, -330.0), put(entry("display-9"), 2640.0, 0.0)]);
    let [.., switch, screen] = plan.gear.as_slice() else { panic!("two were added") };
    let (switch, screen) = (switch.id, screen.id);
    (plan, switch, screen)
}

/// What stands against a piece of gear, stops and cautions, but for what it hangs on electrically.
fn against(plan: &Plan, gear: GearId) -> Vec<&'static str> {
    let study = Study::of(plan);
    let findings = checks::run(plan, &study);
    let about = findings.iter().filter(|finding| finding.subject.gear() == Some(gear));
    let mut checks: Vec<_> = about
        .filter(|finding| finding.severity > Severity::Note && finding.check != "channel-free")
        .map(|f| f.check)
        .collect();
    checks.sort_unstable();
    checks.dedup();
    checks
}

fn noted(gear: GearId, touched: bool, leaning: bool, eye_mm: Option<f64>) -> Edit {
    let distance = eye_mm.map(Length::mm);
    Edit::AddReading {
        reading: Reading {
            date: None,
            taken: Taken::SeatTest {
                gear,
                touched,
                leaning,
                seen: Some(false),
                distance,
                knees: None,
                strokes: None,
                seat: None,
                at_mm: None,
            },
            off: false,
        },
    }
}

#[test]
fn two_readings_teach_the_body_and_the_rig_is_judged_anew() {
    let (plan, switch, screen) = first_layout();
    // Before anybody sat in it.
    assert!(against(&plan, switch).contains(&"reach-over"));
    for check in ["reach-over", "sight-far", "hole-forbidden"] {
        assert!(against(&plan, screen).contains(&check), "{check}: {:?}", against(&plan, screen));
    }
    let unfitted = Study::of(&plan).reach.body;
    let beyond = |plan: &Plan, gear| {
        let study = Study::of(plan);
        study.reach.items.iter().find(|item| item.gear == gear).unwrap().touch.beyond_mm
    };
    assert!(beyond(&plan, screen) > 20.0, "by the tables it is out of reach even with a lean");

    // Sitting in it: the screen is just touched with a lean, and the tape says how far the eye is from it.
    let eye = unfitted.eye.distance(Study::of(&plan).sight.items.iter().find(|seen| seen.gear == screen).unwrap().at);
    let tested = edited(&plan, &[noted(switch, false, true, None), noted(screen, true, true, Some(eye - 30.0))]);
    let taught = Study::of(&tested).seat_test;
    assert!(taught.refit.arm_mm > 0.0 || taught.refit.lean_deg > 0.0, "{:?}", taught.refit);
    assert!(taught.refit.eye_aft_mm < 0.0 || taught.refit.eye_up_mm < 0.0, "{:?}", taught.refit);
    assert!(beyond(&tested, screen) < 5.0, "the body now does what was seen");
    let changed = taught.bands.iter().find(|change| change.gear == screen).unwrap();
    assert_eq!((changed.before, changed.after), (Band::OutOfReach, Band::AtStretch));
    // It is still too far to be read, and the switch is still behind the shoulders.
    assert!(against(&tested, screen).contains(&"sight-far"));
    assert!(against(&tested, switch).contains(&"reach-over"));

    // Where each would pass, on the fittings that are there.
    let study = Study::of(&tested);
    let bands = |gear: GearId| {
        let item = study.reach.items.iter().find(|item| item.gear == gear).unwrap();
        span(&tested, &study.reach.body, item.control, item.gripped, Band::InHand).unwrap()
    };
    let inserts = 1520.0;
    assert!((bands(switch).aft..=bands(switch).fore).contains(&inserts), "{:?}", bands(switch));

    // Moved there: the switch into the inserts beside the seat, the screen on an arm into the track that is there.
    let place = |gear, x, y, mount| Edit::Place { gear, at: Placement::at(x, y), mount };
    let on_arm = demo("seat-test.ron").gear.iter().find(|gear| gear.label.as_str() == "display").unwrap().spec.clone();
    let moved = edited(
        &tested,
        &[
            place(switch, inserts, 355.0, Mount::Inserts),
            Edit::Swap { gear: screen, spec: Box::new((*on_arm).clone()) },
            place(screen, 2140.0, 340.0, Mount::Track),
        ],
    );
    let none: Vec<&str> = Vec::new();
    assert_eq!(against(&moved, switch), none);
    assert_eq!(against(&moved, screen), none);
    let holes = |plan: &Plan| Study::of(plan).holes.counts.new_total();
    assert_eq!((holes(&tested) - holes(&moved), holes(&moved)), (8, 0), "four bolts each");
}
