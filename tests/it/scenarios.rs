//! The demo plans: sound, saved as they are read, and with the findings their stories tell; and a layout
//! of the bare hull, edit by edit, with what each edit changes in the four reports.

use std::collections::BTreeSet;
use std::path::Path;

use gunnel::catalogue::{self, Catalogue};
use gunnel::checks::{self, Finding, Severity};
use gunnel::edit::Edit;
use gunnel::plan::{GearId, Level, Mount, Placement, Plan};
use gunnel::scenarios::SCENARIOS;
use gunnel::session::Session;
use gunnel::storage::load::{self, Format};
use gunnel::storage::write;
use gunnel::study::Study;
use gunnel::units::{Length, Measure, Tape};
use insta::assert_snapshot;

fn scenario(file: &str) -> Plan {
    let scenario = SCENARIOS.iter().find(|scenario| scenario.file == file).expect("a demo plan of this name");
    load::plan(scenario.text, Path::new(file), Format::Ron).unwrap_or_else(|error| panic!("{error}"))
}

/// One line a finding: how heavy, which check, about what.
fn verdicts(plan: &Plan) -> String {
    let line = |f: &Finding| format!("{} {} {}", f.severity.word(), f.check, f.subject.named(plan));
    checks::run(plan, &Study::of(plan)).iter().map(line).collect::<Vec<_>>().join("\n")
}

#[test]
fn every_demo_plan_is_sound_and_comes_back_as_it_was() {
    for scenario in SCENARIOS {
        let plan = self::scenario(scenario.file);
        assert_eq!(plan.validate(), Ok(()), "{}", scenario.file);
        for format in [Format::Ron, Format::Json] {
            let text = write::plan(&plan, format).expect("a plan that can be written");
            assert_eq!(load::plan(&text, Path::new(scenario.file), format), Ok(plan.clone()), "{}", scenario.file);
        }
    }
}

#[test]
fn no_two_things_of_a_demo_plan_have_one_label() {
    for scenario in SCENARIOS {
        let plan = self::scenario(scenario.file);
        let labels: BTreeSet<&str> = plan.gear.iter().map(|gear| gear.label.as_str()).collect();
        assert_eq!(labels.len(), plan.gear.len(), "{}", scenario.file);
        assert!(plan.gear.len() >= 10, "{}: nothing to show", scenario.file);
    }
}

#[test]
fn what_a_demo_plan_has_can_be_had() {
    for scenario in SCENARIOS {
        let plan = self::scenario(scenario.file);
        assert!(catalogue::hull(plan.hull.class.as_str()).is_some(), "{}", plan.hull.class);
        for gear in &plan.gear {
            assert!(Catalogue::shipped().get(gear.spec.key.as_str()).is_some(), "{}", gear.spec.key);
        }
    }
}

#[test]
fn the_bare_hull_wants_help_to_lift_it_and_no_leaning_out() {
    let plan = scenario("bare-hull.ron");
    assert!(plan.gear.iter().all(|gear| !gear.is_placed()));
    assert_snapshot!(verdicts(&plan), @"
    caution light-spare the plan
    caution lift-alone the plan
    caution righting-short the plan
    note light-missing the plan
    ");
}

#[test]
fn the_seat_test_moved_things() {
    let plan = scenario("seat-test.ron");
    let before = &plan.revisions[0].plan;
    assert_eq!((before.angler.seat.back - plan.angler.seat.back).to_mm(), 50.0);
    assert_snapshot!(verdicts(before), @"
    caution cast-blocked camera boom
    caution cast-blocked camera boom
    caution cast-blocked camera
    caution righting-short the plan
    caution cable-pinched cable from transducer to display
    caution hole-open old cable hole, starboard
    caution light-spare the plan
    caution order-broken extra track, port
    caution battery-short battery
    caution bilge-wire converter
    caution reach-over crate
    caution single-control pole light
    caution single-control bilge pump
    caution list-off the plan
    caution lean-heels switch unit
    caution cable-pinched cable from switch unit to display
    caution stiffness-low the plan
    caution drop-over sonar
    caution hole-edge rod holder, hole 1
    caution reach-over rod holder
    note light-hidden pole light
    note snag rod holder
    note light-missing the plan
    note cable-short cable from switch unit to converter
    note hole-avoidable rod holder, hole 1
    note spares the plan
    note reach-over switch unit
    note reach-over camera
    note reach-over camera boom
    ");
    assert_snapshot!(verdicts(&plan), @"
    stop battery-short battery
    stop stroke-blocked camera boom
    stop hole-edge USB socket, hole 1
    stop plug-stuck cable from transducer to display
    caution cast-blocked camera boom
    caution cast-blocked camera boom
    caution cast-blocked camera
    caution righting-short the plan
    caution hole-open old cable hole, starboard
    caution light-spare the plan
    caution bilge-wire converter
    caution reach-over crate
    caution single-control pole light
    caution single-control bilge pump
    caution stiffness-low the plan
    caution drop-over sonar
    caution list-off the plan
    caution reach-over switch unit
    caution reach-over rod holder
    note light-hidden pole light
    note snag rod holder
    note light-missing the plan
    note cable-short cable from switch unit to converter
    note spares the plan
    note reach-over camera
    note reach-over camera boom
    ");
}

#[test]
fn the_plan_for_review_has_no_stop() {
    let plan = scenario("ready-for-review.ron");
    assert_snapshot!(verdicts(&plan), @"
    caution cast-blocked camera boom
    caution cast-blocked camera boom
    caution cast-blocked camera
    caution bilge-wire main fuse
    caution cable-pinched cable from transducer to display
    caution bilge-wire converter
    caution reach-over crate
    caution reach-over anchor, chain and line
    caution righting-short the plan
    caution battery-short battery
    caution reach-over rod holder
    note snag USB socket, port
    note light-hidden pole light
    note light-missing the plan
    note cable-short cable from converter to camera
    note spares the plan
    note reach-over camera
    note reach-over camera boom
    note reach-over switch unit
    note reach-over USB socket, port
    note reach-over 12 V socket, starboard
    note scale-fit the plan
    ");
    assert_eq!(plan.threads.len(), 2);
    let findings = checks::run(&plan, &Study::of(&plan));
    let battery = findings.iter().find(|finding| finding.check == "battery-short").expect("a battery that is short");
    let reason = "the way home is against the wind";
    assert!(battery.limit == 40.0 && battery.says.contains(reason), "{}", battery.says);
}

/// The finding of `battery-short`, if there is one.
fn short(session: &Session) -> Option<&Finding> {
    session.findings().iter().find(|finding| finding.check == "battery-short")
}

#[test]
fn a_cold_dawn_runs_an_old_battery_flat_and_a_larger_one_does() {
    let mut session = Session::new(scenario("seat-test.ron"), Measure(Tape::Metric));
    let battery = session.plan().gear.iter().find(|gear| gear.label.as_str() == "battery").expect("a battery").id;
    let flat = session.study().day.battery(battery).and_then(|day| day.empty).expect("a day that is too long");
    let outing = &session.plan().outing;
    assert!((flat.to_hours() - (14.0 + 20.0 / 60.0 - 4.5)).abs() < 0.1, "{}", outing.moment(flat));
    let finding = short(&session).expect("a battery that is short");
    assert_eq!(finding.severity, Severity::Stop);
    assert!(finding.says.contains(&format!("battery runs flat {}", outing.moment(flat))), "{}", finding.says);
    assert!(
        finding.remedy.contains("Without display it lasts") && finding.remedy.contains("37 Ah"),
        "{}",
        finding.remedy
    );

    let trim = |session: &Session| {
        session.study().float.planned().and_then(|case| case.rest.as_ref().ok()).expect("a boat afloat").trim_deg
    };
    let before = trim(&session);
    let larger = Catalogue::shipped().get("battery-lfp-50").expect("a larger battery").clone();
    session.edit(Edit::Swap { gear: battery, spec: Box::new(larger) }).expect("a swap");
    assert_eq!(short(&session), None);
    // 2.4 kg more in the bow.
    assert!(trim(&session) > before + 0.05, "{} {before}", trim(&session));

    session.undo();
    assert!(short(&session).is_some());
    let display = session.plan().gear.iter().find(|gear| gear.label.as_str() == "display").expect("a display").id;
    session.edit(Edit::PutAshore { gear: display }).expect("a display ashore");
    assert_eq!(short(&session), None);
}

/// A layout of the bare hull that is tried out, one edit at a time.
struct Layout {
    session: Session,
    /// Each edit, and which of the four reports it changed.
    steps: Vec<String>,
}

impl Layout {
    fn new() -> Self {
        Self { session: Session::new(scenario("bare-hull.ron"), Measure(Tape::Metric)), steps: Vec::new() }
    }

    fn gear(&self, label: &str) -> GearId {
        let plan = self.session.plan();
        plan.gear.iter().find(|gear| gear.label.as_str() == label).unwrap_or_else(|| panic!("no {label}")).id
    }

    /// The four reports as text, in the order of the panels.
    fn reports(&self) -> [String; 4] {
        let study = self.session.study();
        [
            format!("{:?}", study.power),
            format!("{:?}", study.holes),
            format!("{:?}", study.reach),
            format!("{:?}", study.clearance),
        ]
    }

    fn edit(&mut self, edit: Edit) {
        let before = self.reports();
        let label = self.session.edit(edit).unwrap_or_else(|why| panic!("refused: {why}"));
        let names = ["power", "holes", "reach", "clearance"];
        let changed = names.iter().zip(before.iter().zip(self.reports())).filter(|(_, (old, new))| **old != *new);
        let changed: Vec<&str> = changed.map(|(name, _)| *name).collect();
        self.steps.push(format!("{label}: {}", if changed.is_empty() { "none".into() } else { changed.join(", ") }));
    }

    fn put(&mut self, label: &str, mount: Mount, at: Placement) {
        self.edit(Edit::Place { gear: self.gear(label), at, mount });
    }

    fn shift(&mut self, label: &str, x: f64, y: f64) {
        self.edit(Edit::Move { gear: self.gear(label), x: Length::mm(x), y: Length::mm(y) });
    }

    /// What the checks say about a piece of gear and its holes.
    fn about(&self, label: &str) -> Vec<&Finding> {
        let gear = self.gear(label);
        self.session.findings().iter().filter(|finding| finding.subject.gear() == Some(gear)).collect()
    }

    /// That a check stops this gear, and says where it is, by how much and what to do.
    fn stopped(&self, label: &str, check: &str) {
        let found = self.about(label);
        let finding = found.iter().find(|f| f.check == check).unwrap_or_else(|| panic!("{check} is silent: {found:?}"));
        assert_eq!(finding.severity, Severity::Stop, "{finding:?}");
        assert!(finding.margin < 0.0 && finding.at.is_some(), "{finding:?}");
        assert!(finding.says.contains(label) && finding.remedy.starts_with("move it"), "{finding:?}");
    }
}

fn spot(x: f64, y: f64) -> Placement {
    Placement::at(x, y)
}

fn inside(x: f64, y: f64) -> Placement {
    Placement { level: Level::Inside, ..spot(x, y) }
}

/// What the display is called once it is swapped for one on an arm.
const ON_AN_ARM: &str = "9-inch display on an arm, port mount";

/// Lays the bare hull out, three mistakes and their cures among it.
fn lay_out(boat: &mut Layout) {
    // On the foredeck it finds a skin to hold it, and nobody can touch it.
    boat.put("9-inch display", Mount::Bolts, spot(2800.0, 260.0));
    boat.stopped("9-inch display", "reach-over");
    let on_an_arm = Catalogue::shipped().get("display-9-arm-port").expect("a display on an arm").clone();
    let display = boat.gear("9-inch display");
    boat.edit(Edit::Swap { gear: display, spec: Box::new(on_an_arm) });
    boat.put(ON_AN_ARM, Mount::Track, spot(2245.0, 385.0));

    let under = Placement { level: Level::Under, ..spot(1320.0, 0.0) };
    boat.put("down and side looking bar", Mount::Scupper, under);
    boat.put("30 Ah battery", Mount::Strap, inside(2310.0, 0.0));
    boat.put("switch unit", Mount::Strap, spot(2350.0, 370.0));
    boat.put("pole light", Mount::Inserts, spot(130.0, 0.0));

    // Through the rim that seals the day hatch.
    boat.put("power port, port", Mount::Flush, spot(1210.0, 90.0));
    boat.stopped("power port, port", "hole-forbidden");
    boat.shift("power port, port", 2650.0, 335.0);
    boat.put("power port, starboard", Mount::Flush, spot(2400.0, -370.0));

    boat.put("camera boom", Mount::Bolts, spot(1300.0, -345.0));
    let on_the_boom = Placement { raise: Length::mm(1130.0), ..spot(1300.0, -345.0) };
    boat.put("camera", Mount::Clamp, on_the_boom);
    boat.put("converter, 12 V to 5 V", Mount::Strap, inside(2310.0, 110.0));

    // Over the day hatch, behind the seat.
    boat.put("crate", Mount::Strap, spot(1210.0, 0.0));
    boat.stopped("crate", "lid-blocked");
    boat.shift("crate", 830.0, 0.0);
}

#[test]
fn each_panel_answers_when_its_gear_is_set_down() {
    let mut boat = Layout::new();
    lay_out(&mut boat);
    assert_snapshot!(boat.steps.join("\n"), @"
    place 9-inch display: power, holes, reach, clearance
    swap 9-inch display for 9-inch display on an arm, port mount: holes, reach, clearance
    place 9-inch display on an arm, port mount: reach, clearance
    place down and side looking bar: none
    place 30 Ah battery: power
    place switch unit: power, reach
    place pole light: power, reach
    place power port, port: holes, reach, clearance
    move power port, port 1440 mm forward, 245 mm to port: holes, reach, clearance
    place power port, starboard: holes, reach, clearance
    place camera boom: holes, reach, clearance
    place camera: power, holes, reach, clearance
    place converter, 12 V to 5 V: power, holes, reach
    place crate: holes, reach, clearance
    move crate 380 mm aft: holes, reach, clearance
    ");
    for label in [ON_AN_ARM, "power port, port", "crate"] {
        assert!(boat.about(label).iter().all(|finding| finding.severity < Severity::Stop), "{label}");
    }
    assert_snapshot!(verdicts(boat.session.plan()), @"
    caution cast-blocked camera boom
    caution cast-blocked camera boom
    caution cast-blocked camera
    caution light-spare the plan
    caution bilge-wire converter, 12 V to 5 V
    caution reach-over crate
    caution lift-alone the plan
    caution single-control pole light
    caution righting-short the plan
    caution reach-over power port, port
    note snag power port, starboard
    note light-hidden pole light
    note light-missing the plan
    note list-off the plan
    note spares the plan
    note reach-over camera
    note reach-over camera boom
    note reach-over power port, starboard
    note reach-over switch unit
    ");
    let power = &boat.session.study().power;
    let battery = power.batteries.first().expect("a battery aboard");
    assert!((20.0..30.0).contains(&battery.reserve_percent), "{battery:?}");
}

#[test]
fn undo_all_is_the_first_plan_and_redo_all_the_last() {
    let mut boat = Layout::new();
    let (first, first_reports) = (boat.session.shared_plan(), boat.reports());
    lay_out(&mut boat);
    let (last, last_reports) = (boat.session.shared_plan(), boat.reports());
    let undone = std::iter::from_fn(|| boat.session.undo()).count();
    assert_eq!((boat.session.shared_plan(), boat.reports()), (first.clone(), first_reports));
    assert_ne!(first, last);
    let redone = std::iter::from_fn(|| boat.session.redo()).count();
    assert_eq!((boat.session.shared_plan(), boat.reports()), (last, last_reports));
    assert_eq!((undone, redone), (boat.steps.len(), boat.steps.len()));
}
