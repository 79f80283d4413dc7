//! Cables on the screen: laid over the boat, listed, walked step by step.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::checks::{Severity, Subject};
use gunnel::plan::{CableId, Chemistry, Kind, Signal};
use gunnel::study::cables::{CableRef, Passed};
use gunnel::tui::app::{Overlay, Thing};
use gunnel::tui::panels::Sources;
use gunnel::tui::panels::wiring::{Item, lines};
use gunnel::units::Length;

use crate::boats::{bare, demo};
use crate::keys_wiring::{line, stage, walk};
use crate::stage::Stage;
use crate::{test_cables, test_power};

/// A planned cable of the demo, by way of the cable entry in the bow.
const SONAR_CABLE: CableRef = CableRef::Planned(CableId(3));

#[test]
fn a_cable_is_walked_step_by_step() {
    let mut stage = stage();
    walk(&mut stage, Item::Cable(SONAR_CABLE)).play("J");
    let run = stage.editor().session.study().cables.run(SONAR_CABLE).unwrap().clone();
    let way = run.way.unwrap();
    let told = way.words(stage.plan());
    for (index, step) in way.steps.iter().enumerate() {
        assert!(stage.shows(&format!("step {} of {}", index + 1, way.steps.len())));
        assert!(stage.shows(&told[index]), "{}\n{}", told[index], stage.lines().join("\n"));
        assert!(stage.editor().cursor.distance(step.at.spot()) < 1e-6, "step {index}");
        if let Passed::End(gear) = step.passes {
            assert_eq!(stage.editor().chosen, Some(Thing::Gear(gear)));
        }
        if index > 0 {
            let leg = format!("{:.0} mm on, {}", step.leg_mm, step.runs.word());
            assert!(stage.shows(&leg), "{leg}\n{}", stage.lines().join("\n"));
        }
        stage.play("right");
    }
    assert!(stage.shows("the end"));
    stage.play("backspace");
    assert!(stage.shows(&format!("step {} of", way.steps.len() - 1)));
    stage.play("home");
    assert!(stage.shows("step 1 of"));
    stage.play("left esc");
    assert!(stage.app.layers.is_empty() && stage.editor().walked.is_none());
    assert_eq!(*stage.plan(), demo("seat-test.ron"));
}

#[test]
fn enter_walks_a_cable_to_its_end_and_leaves() {
    let mut stage = stage();
    walk(&mut stage, Item::Cable(SONAR_CABLE)).play("enter");
    let steps = stage.editor().session.study().cables.run(SONAR_CABLE).unwrap().way.as_ref().unwrap().steps.len();
    stage.play(&format!("enter*{}", steps - 1));
    assert!(stage.shows("the end"));
    stage.play("enter");
    assert!(stage.app.layers.is_empty());
}

#[test]
fn cables_are_laid_over_the_boat() {
    let mut stage = Stage::on(demo("seat-test.ron")).sized(120, 40);
    let before = stage.picture().runs;
    stage.play("K");
    assert_eq!(stage.editor().overlay, Some(Overlay::Cables));
    assert!(stage.shows("cables, dashed where hidden"));
    let runs = stage.picture().runs;
    assert_ne!(runs, before);
    stage.play("K");
    assert_eq!(stage.picture().runs, before);
}

#[test]
fn every_cable_has_its_line_and_its_length() {
    let mut stage = stage();
    let runs = stage.editor().session.study().cables.runs.clone();
    assert!(!runs.is_empty());
    for run in runs {
        walk(&mut stage, Item::Cable(run.id));
        assert_eq!(stage.editor().cable(), Some(run.id));
        let (from, to) = (stage.plan().gear(run.from).unwrap(), stage.plan().gear(run.to).unwrap());
        let told = line(&stage, &format!("{} to {}", from.label, to.label));
        if let Some(needed) = run.needed_mm {
            assert!(told.contains(&format!("{needed:.0} mm")), "{needed}: {told}");
        }
    }
}

#[test]
fn gear_without_a_cable_has_none_to_walk() {
    let mut stage = Stage::on(bare());
    stage.play("J");
    assert_eq!(stage.refused(), "put the row on a cable in Wiring, or the cursor on gear that has one");
}

#[test]
fn a_cable_is_planned_from_gear_to_gear() {
    let mut stage = stage();
    let before = stage.plan().clone();
    walk(&mut stage, Item::Cables).play("a");
    assert!(stage.shows("plan a cable from"));
    stage.play("\"bilge pump\" enter");
    assert!(stage.shows("plan a cable from bilge pump to"));
    stage.play("\"display\" enter");
    assert!(stage.shows("cable from bilge pump to display"));
    // From power past motor and sonar to data; its length as measured.
    stage.play("right*3 down \"1850\" enter");
    assert!(stage.app.layers.is_empty(), "{}", stage.lines().join("\n"));
    let cable = stage.plan().wiring.cables.last().unwrap().clone();
    assert_eq!((cable.from, cable.to), (stage.gear("bilge pump").id, stage.gear("display").id));
    assert_eq!((cable.signal, cable.length), (Signal::Data, Some(Length::mm(1850.0))));
    assert_eq!(stage.editor().cable(), Some(CableRef::Planned(cable.id)));
    assert!(line(&stage, "bilge pump to display").contains("1850 mm"));
    stage.play("u");
    assert_eq!(*stage.plan(), before);
}

#[test]
fn a_cable_without_a_measured_length_takes_that_of_its_way() {
    let mut stage = stage();
    walk(&mut stage, Item::Cable(SONAR_CABLE)).play("a \"bilge pump\" enter \"display\" enter enter");
    let cable = stage.plan().wiring.cables.last().unwrap();
    assert_eq!((cable.signal, cable.length), (Signal::Power, None));
    // The same once more is refused in the form, which stays open.
    let planned = stage.plan().clone();
    stage.play("a \"bilge pump\" enter \"display\" enter enter");
    assert_eq!((stage.plan(), stage.app.layers.len()), (&planned, 1));
    assert!(stage.shows("such a cable between bilge pump and display is planned"), "{}", stage.lines().join("\n"));
}

#[test]
fn a_planned_cable_is_struck_and_one_that_is_implied_is_not() {
    let mut stage = stage();
    let before = stage.plan().clone();
    walk(&mut stage, Item::Cable(SONAR_CABLE)).play("d");
    assert!(stage.plan().wiring.cables.iter().all(|cable| CableRef::Planned(cable.id) != SONAR_CABLE));
    stage.play("u");
    assert_eq!(*stage.plan(), before);
    let runs = &stage.editor().session.study().cables.runs;
    let implied = runs.iter().find(|run| !run.id.is_planned()).unwrap().id;
    walk(&mut stage, Item::Cable(implied)).play("d");
    assert_eq!(stage.refused(), "this cable follows from its circuit: strike or hang that");
    assert_eq!(*stage.plan(), before);
}

#[test]
fn the_first_cable_is_planned_from_the_heading() {
    let mut plan = test_power::plan();
    let battery = test_power::battery(Chemistry::LithiumIronPhosphate, 12.8, 30.0, None);
    test_power::add_electric(&mut plan, "battery", Kind::Battery, battery);
    let mut alone = Stage::on(plan.clone()).sized(120, 40);
    alone.play("7");
    walk(&mut alone, Item::Cables).play("a");
    assert_eq!(alone.refused(), "a cable needs two pieces of gear aboard");
    test_cables::on_deck(&mut plan, "motor", Kind::Motor, (500.0, 0.0));
    let mut stage = Stage::on(plan).sized(120, 40);
    stage.play("7");
    walk(&mut stage, Item::Cables).play("a \"battery\" enter \"motor\" enter enter");
    let cable = &stage.plan().wiring.cables[0];
    assert_eq!((cable.id, cable.to, cable.signal), (CableId(1), stage.gear("motor").id, Signal::MotorPower));
}

/// The sonar cable of the demo has a plug that does not pass, which stops it: its line bears the mark.
#[test]
fn a_cable_bears_the_mark_of_its_finding() {
    let stage = stage();
    let session = &stage.editor().session;
    let from = Sources {
        plan: session.plan(),
        study: session.study(),
        findings: session.findings(),
        before: None,
        tape: stage.app.look.tape,
    };
    let all = lines(from);
    let sonar = all.iter().find(|line| line.item == Item::Cable(SONAR_CABLE)).unwrap();
    assert_eq!(sonar.mark, Some(Severity::Stop));
    assert_eq!(session.findings()[sonar.finding.unwrap()].subject, Subject::Cable(CableId(3)));
    let implied = all.iter().filter(|line| matches!(line.item, Item::Cable(CableRef::Implied(..))));
    assert!(implied.into_iter().all(|line| line.mark.is_none()));
}
