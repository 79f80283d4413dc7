//! From a rigged plan to what lies in the garage: drill sheet, templates, parts list, evenings of work with a launch date.
//!
//! That a hole whose back no hand reaches gets a blind fastener and says why is in `sheet_drill`, that gear which moves
//! after it was drilled leaves holes with their fate to choose in `edit_drilled`.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::collections::BTreeMap;

use gunnel::checks::Subject;
use gunnel::plan::{BuildState, Plan};
use gunnel::sheets::{DrawingForm, Mark, Paper, Sheet, SheetForm, drill_sheet, parts_sheet, templates, work_sheet};
use gunnel::study::Study;
use gunnel::study::holes::{Hole, HoleState};
use gunnel::study::rig::HoleRef;
use gunnel::study::work::dates;
use gunnel::units::Measure;

use crate::boats;

/// The rigged boats that come with the program, and one that has something of everything.
fn rigged() -> Vec<Plan> {
    vec![boats::demo("seat-test.ron"), boats::demo("ready-for-review.ron"), boats::rich()]
}

/// The rows of a sheet as a spreadsheet reads them, by column.
fn rows(sheet: &Sheet) -> Vec<BTreeMap<String, String>> {
    let csv = sheet.written(SheetForm::Csv);
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    reader.deserialize().map(Result::unwrap).collect()
}

/// By name: the sheet has each hole of the plan once, and none that is not one.
#[test]
fn every_hole_of_the_plan_is_on_the_drill_sheet_once() {
    let mut count = 0;
    for plan in rigged() {
        let study = Study::of(&plan);
        let rows = rows(&drill_sheet(&plan, &study, Measure::default()));
        let mut listed: Vec<&str> = rows.iter().map(|row| row["hole"].as_str()).collect();
        let mut wanted: Vec<String> =
            study.holes.holes.iter().map(|hole| Subject::Hole(hole.id).named(&plan)).collect();
        listed.sort_unstable();
        wanted.sort_unstable();
        assert_eq!(listed, wanted);
        count += wanted.len();
    }
    assert!(count > 20, "{count}");
}

/// Each new hole of gear is a circle of a template, as far from its neighbours as on the boat.
#[test]
fn every_pattern_of_holes_is_on_the_templates() {
    for plan in rigged() {
        let study = Study::of(&plan);
        let drawing = templates(&plan, &study, Paper::A4);
        let marks: Vec<&Mark> =
            drawing.pages.iter().flat_map(|page| &page.groups).flat_map(|group| &group.marks).collect();
        let circles: Vec<(f64, f64)> = marks
            .iter()
            .filter_map(|mark| if let Mark::Circle { middle, .. } = mark { Some(*middle) } else { None })
            .collect();
        let new = study.holes.holes.iter().filter(|hole| hole.state == HoleState::New);
        let of_gear: Vec<&Hole> = new.filter(|hole| matches!(hole.id, HoleRef::Gear(..))).collect();
        assert_eq!(circles.len(), of_gear.len());
        for gear in plan.gear.iter().filter(|gear| of_gear.iter().any(|hole| hole.owner == Some(gear.id))) {
            let title = format!("{}, ", gear.label);
            let titled = |mark: &&&Mark| matches!(mark, Mark::Words { words, .. } if words.starts_with(&title));
            assert_eq!(marks.iter().filter(titled).count(), 1, "{}", gear.label);
        }
        // True size: every distance between two holes of one piece of gear is a distance between two circles.
        for (n, one) in of_gear.iter().enumerate() {
            for other in of_gear[n + 1..].iter().filter(|other| other.owner == one.owner) {
                let wanted = one.at.spot().distance(other.at.spot());
                let apart = |a: &(f64, f64), b: &(f64, f64)| (a.0 - b.0).hypot(a.1 - b.1);
                let found = circles.iter().any(|a| circles.iter().any(|b| (apart(a, b) - wanted).abs() < 1e-6));
                assert!(found, "{:?} and {:?} are {wanted} mm apart", one.id, other.id);
            }
        }
        assert!(drawing.written(DrawingForm::Pdf).starts_with(b"%PDF-"));
    }
}

/// What is not aboard yet is on the parts list.
#[test]
fn what_is_planned_is_on_the_parts_list() {
    for plan in rigged() {
        let parts = parts_sheet(&plan, &Study::of(&plan)).written(SheetForm::Text);
        let planned = plan.gear.iter().filter(|gear| gear.is_placed() && gear.state == BuildState::Planned);
        for gear in planned {
            assert!(parts.contains(gear.label.as_str()), "{} is not on\n{parts}", gear.label);
        }
    }
}

/// The rigged boat after the seat test is five evenings of work of two hours; it is launched after the last of them.
#[test]
fn a_rigged_plan_becomes_five_evenings_and_a_launch_date() {
    let plan = boats::demo("seat-test.ron");
    let work = work_sheet(&plan, &Study::of(&plan), dates::day("2031-05-30"), None).written(SheetForm::Text);
    let evening = |number: usize| {
        let heading = format!("Evening {number}, ");
        work.lines().find_map(|line| dates::day(line.strip_prefix(&heading)?.split(':').next()?))
    };
    let days: Vec<_> = (1..=5).map(|number| evening(number).unwrap()).collect();
    assert_eq!(days[0], dates::day("2031-05-30").unwrap());
    assert!(days.windows(2).all(|pair| pair[0] < pair[1]) && evening(6).is_none(), "{days:?}");
    let launch = work.split("earliest launch ").nth(1).unwrap().split('.').next().unwrap();
    assert!(dates::day(launch).unwrap() > days[4], "{launch}");
}
