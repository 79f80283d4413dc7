//! A hull measured on the driveway: from the interview's file to a plan whose hull displaces what such a boat does.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::path::Path;
use std::sync::Arc;

use gunnel::catalogue::{Interview, hull, hulls};
use gunnel::cli::{self, Surroundings};
use gunnel::edit::{Edit, apply};
use gunnel::geometry::{Body, Cutter, Form, Point, WaterPlane};
use gunnel::plan::{Gauge, Hull, Plan, Tape};
use gunnel::session::{Record, Session};
use gunnel::storage::load::{self, Format};
use gunnel::storage::paths::Env;
use gunnel::storage::write;
use gunnel::units::{Length, Measure, Origin};

use crate::boats;

/// The interview that comes with the program: an invented boat of 3.4 m, fifteen measurements.
pub const EXAMPLE: &str = include_str!("../../assets/tapes/creek-boat.ron");

pub fn interview() -> Interview {
    load::interview(EXAMPLE, Path::new("creek-boat.ron"), Format::Ron).unwrap()
}

pub fn creek_boat() -> Plan {
    interview().plan(&hull("angler-11").unwrap().hull).unwrap()
}

/// What `gunnel new --tape - -o -` answers: exit code, answer, warnings.
fn new_tape(interview: &str) -> (u8, String, String) {
    let (mut output, mut errors) = (Vec::new(), Vec::new());
    let mut around = Surroundings {
        env: Env::default(),
        input: &mut interview.as_bytes(),
        output: &mut output,
        errors: &mut errors,
        terminal: false,
    };
    let code = cli::run(["gunnel", "new", "--tape", "-", "-o", "-"].map(Into::into), &mut around, |_, _| Ok(()));
    (code, String::from_utf8(output).unwrap(), String::from_utf8(errors).unwrap())
}

/// Fresh water displaced at a draft, kg.
fn displaced_kg(form: &Form, draft: f64) -> f64 {
    let body = Body::of(form).unwrap();
    Cutter::new(&body).cut(&WaterPlane::new(0.0, 0.0, draft), Point::default()).volume / 1e6
}

#[test]
fn an_interview_becomes_a_plan_with_the_measured_figures() {
    let (code, text, errors) = new_tape(EXAMPLE);
    assert_eq!((code, errors.as_str()), (0, ""));
    let plan = load::plan(&text, Path::new("answer"), Format::Ron).unwrap();
    assert_eq!(plan, creek_boat());
    assert_eq!((plan.name.as_str(), plan.hull.name.as_str()), ("creek boat", "creek boat"));
    let hull = &plan.hull;
    assert_eq!((hull.length.value, hull.length.origin), (Length::m(3.4), Origin::Measured));
    // By hand: 34 in is 863.6 mm, with 867 the mean is 865.3 and the sample deviation 3.4 / root 2 = 2.4.
    assert_eq!((hull.beam.value, hull.beam.spread), (Length::mm(865.3), Some(Length::mm(2.4))));
    assert_eq!(hull.form.gunwale(1700.0), Some((432.65, 356.0)));
    assert_eq!(hull.form.length(), 3400.0);
    let tape = hull.form.tape().unwrap();
    let measured = tape.measurements().into_iter().filter(|what| tape.gauge(*what).unwrap().is_measured()).count();
    // Length, five widths, a bottom, three gunwales, three keels, two wells.
    assert_eq!((measured, tape.measurements().len()), (15, 28));
    assert_eq!(tape.rounding.unwrap().origin, Origin::Guess);
    assert!(!text.contains("points_mm"), "lofted sections are not saved");
}

/// An 11 ft class and a boat 1.5 % longer and 3 % wider than it.
#[test]
fn it_displaces_what_its_class_does_and_what_its_size_adds() {
    let (boat, class) = (creek_boat(), &hull("angler-11").unwrap().hull);
    for draft in [80.0, 120.0, 160.0] {
        let ratio = displaced_kg(&boat.hull.form, draft) / displaced_kg(&class.form, draft);
        assert!((0.97..1.2).contains(&ratio), "{ratio} at {draft} mm");
    }
    let load_kg = displaced_kg(&boat.hull.form, 120.0);
    assert!((150.0..200.0).contains(&load_kg), "{load_kg}");
}

/// Each class measured with the tape at seven stations has the stiff waterplane of its sections within a twentieth. The
/// flat bottom where the class has a little vee makes it displace up to a tenth more.
#[test]
fn a_class_that_is_taped_floats_like_the_class() {
    for class in hulls().iter().map(|class| &class.hull) {
        let taped = class.taped(Tape::default());
        let draft = class.waterline.value.to_mm();
        let ratio = displaced_kg(&taped.form, draft) / displaced_kg(&class.form, draft);
        assert!((1.0..1.1).contains(&ratio), "{}: {ratio}", class.class);
        let across = |form: &Form| {
            let body = Body::of(form).unwrap();
            Cutter::new(&body).cut(&WaterPlane::new(0.0, 0.0, draft), Point::default()).second[2]
        };
        let stiff = across(&taped.form) / across(&class.form);
        assert!((stiff - 1.0).abs() < 0.05, "{}: {stiff}", class.class);
    }
}

#[test]
fn what_looks_wrong_is_told_beside_the_plan_and_is_a_finding_of_it() {
    let odd = EXAMPLE.replace("In(34), Mm(867)", "In(34), Mm(895)").replace("keel: [Mm(0)]", "keel: [Mm(400)]");
    let (code, text, errors) = new_tape(&odd);
    assert_eq!(code, 0);
    let told: Vec<&str> = errors.lines().collect();
    assert_eq!(told.len(), 2, "{errors}");
    let keel = "warning: station 3, 1700 mm from the stern: the rise of the keel is 400 mm, more than the height of \
                the gunwale, 356 mm. Measure both heights again from the same level ground.";
    assert_eq!(told[0], keel);
    assert!(told[1].contains("the readings of the greatest width lie 31 mm apart. "), "{errors}");
    let plan = load::plan(&text, Path::new("answer"), Format::Ron).unwrap();
    let session = Session::new(plan, Measure::default());
    let found: Vec<_> = session.findings().iter().filter(|finding| finding.check == "tape-doubt").collect();
    assert!(found.iter().all(|f| told.iter().any(|line| line.contains(&f.says))) && found.len() == 2, "{found:?}");
}

#[test]
fn an_interview_that_makes_no_boat_is_refused_with_what_looks_wrong() {
    let (code, text, errors) = new_tape(&EXAMPLE.replace("length: [M(3.40)]", "length: [Mm(134)]"));
    assert_eq!((code, text.as_str()), (3, ""));
    assert!(errors.contains("no such boat has 134 mm for the overall length; 134 in would be 3404 mm"), "{errors}");
    assert!(errors.contains("error: standard input: tape, stations: none of them is on the hull"), "{errors}");
    let (code, _, errors) = new_tape(&EXAMPLE.replace("angler-11", "angler-12"));
    assert_eq!(code, 3);
    assert!(errors.contains("no hull class is called \"angler-12\"\nhint: did you mean angler-1"), "{errors}");
    let (code, _, errors) = new_tape(&EXAMPLE.replace("zone: 13", "zone: 99"));
    assert_eq!(code, 3);
    assert!(errors.contains("standard input: tape, well of zone 99, depth: the hull has no zone 99"), "{errors}");
}

#[test]
fn a_tape_on_a_rigged_boat_is_one_step_that_the_journal_keeps() {
    let rigged = boats::rich();
    let mut session = Session::new(rigged.clone(), Measure::default());
    let tape = Tape { length: Gauge::measured(Length::feet(12.5)), ..Tape::default() };
    session.edit(Edit::SetTape { tape: Box::new(tape) }).unwrap();
    let measured = session.shared_plan();
    assert_eq!(measured.hull.length.value, Length::feet(12.5));
    assert_eq!(measured.gear, rigged.gear, "gear stays where it is");
    assert_eq!(session.undo().as_deref(), Some("measure the hull"));
    assert_eq!(*session.plan(), rigged);
    session.redo();
    assert_eq!(session.shared_plan(), measured);
    let records = session.take_records();
    let text = serde_json::to_string(&records).unwrap();
    let again: Vec<Record> = serde_json::from_str(&text).unwrap();
    let Some(Record::Edit(edit)) = again.first() else { panic!("{again:?}") };
    assert_eq!(apply(&rigged, edit), Ok(Arc::unwrap_or_clone(measured)));
}

#[test]
fn a_taped_plan_is_saved_and_read_as_it_is() {
    let plan = creek_boat();
    for format in [Format::Ron, Format::Json] {
        let text = write::plan(&plan, format).unwrap();
        let again = load::plan(&text, Path::new("boat"), format).unwrap();
        assert_eq!(again, plan);
        assert_eq!(write::plan(&again, format), Ok(text));
    }
    let remeasured: &Hull = &plan.hull.taped(plan.hull.form.tape().unwrap().without_guesses());
    assert_eq!(remeasured.beam, plan.hull.beam);
}
