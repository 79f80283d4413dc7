//! Templates from outside: read back from both kinds of file, what is 80 mm apart on the boat is 80 mm apart on paper.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::fs;

use gunnel::catalogue::Catalogue;
use gunnel::edit::{Edit, apply};
use gunnel::plan::{Level, Mount, Placement, Plan};
use gunnel::sheets::{Drawing, DrawingForm, Mark, Paper, templates};
use gunnel::storage::load::Format;
use gunnel::storage::write;
use gunnel::study::Study;
use gunnel::units::Angle;

use crate::boats;
use crate::home::{Home, code, errors};

/// A bare boat with a riveted track of 200 mm on its port gunwale: three holes of 5 mm, 80 mm from each other.
pub(super) fn tracked(turn_deg: f64) -> Plan {
    let spec = Catalogue::shipped().get("track-200").unwrap().clone();
    let place = Placement { turn: Angle::deg(turn_deg), ..Placement::at(1400.0, 400.0) };
    let edit = Edit::Add { spec: spec.into(), mount: Some(Mount::Rivets), place: Some(place) };
    apply(&boats::bare(), &edit).unwrap()
}

fn drawn(plan: &Plan, paper: Paper) -> Drawing {
    templates(plan, &Study::of(plan), paper)
}

/// The values of an attribute in every element of this name, in order.
pub(super) fn attributes(svg: &str, element: &str, attribute: &str) -> Vec<f64> {
    let open = format!("<{element} ");
    let elements = svg.split(&open).skip(1).map(|rest| rest.split('>').next().unwrap());
    let key = format!(" {attribute}=\"");
    elements
        .map(|text| {
            let text = format!(" {text}");
            let from = text.find(&key).unwrap() + key.len();
            text[from..].split('"').next().unwrap().parse().unwrap()
        })
        .collect()
}

#[test]
fn a_picture_is_measured_in_millimetres() {
    let svg = String::from_utf8(drawn(&tracked(0.0), Paper::A4).written(DrawingForm::Svg)).unwrap();
    assert!(svg.contains("width=\"210mm\"") && svg.contains("height=\"297mm\""), "{svg}");
    assert!(svg.contains("viewBox=\"0 0 210 297\""), "{svg}");
    let (x, y) = (attributes(&svg, "circle", "cx"), attributes(&svg, "circle", "cy"));
    assert_eq!(x.len(), 3);
    // Along the boat is up the paper; the holes come in the order of the walk, from the stern.
    assert!((x[0] - x[1]).abs() < 1e-6 && (x[0] - x[2]).abs() < 1e-6);
    assert!((y[0] - y[1] - 80.0).abs() < 1e-6 && (y[1] - y[2] - 80.0).abs() < 1e-6, "{y:?}");
    // Blind: no hand reaches there, so what is drilled is what the rivet or the nut wants.
    assert!(attributes(&svg, "circle", "r").iter().all(|r| *r == attributes(&svg, "circle", "r")[0]));
}

/// The numbers before each operator of this name in the content of a document.
pub(super) fn operands(pdf: &str, operator: &str) -> Vec<Vec<f64>> {
    let lines = pdf.lines().filter_map(|line| line.strip_suffix(operator)?.strip_suffix(' '));
    lines.filter_map(|line| line.split(' ').map(|number| number.parse().ok()).collect()).collect()
}

/// By hand: 80 mm are 80 x 72 / 25.4 = 226.77 pt, a page of A4 595.28 by 841.89 pt, 100 mm 283.46 pt, 4 in 288 pt.
#[test]
fn a_document_is_measured_in_points() {
    let file = drawn(&tracked(0.0), Paper::A4).written(DrawingForm::Pdf);
    let pdf = String::from_utf8_lossy(&file).into_owned();
    assert!(pdf.starts_with("%PDF-") && pdf.trim_end().ends_with("%%EOF"));
    let page = pdf.split("/MediaBox [").nth(1).unwrap().split(']').next().unwrap();
    let page: Vec<f64> = page.split(' ').map(|number| number.parse().unwrap()).collect();
    assert!((page[2] - 595.28).abs() < 0.01 && (page[3] - 841.89).abs() < 0.01, "{page:?}");
    // A circle ends where it began, with the last of its four curves.
    let curves = operands(&pdf, "c");
    let ends: Vec<&Vec<f64>> = curves.iter().skip(3).step_by(4).collect();
    assert_eq!(ends.len(), 3);
    for pair in ends.windows(2) {
        assert!((pair[0][4] - pair[1][4]).abs() < 0.001, "{ends:?}");
        assert!((pair[1][5] - pair[0][5] - 226.77).abs() < 0.01, "{ends:?}");
    }
    let (from, to) = (operands(&pdf, "m"), operands(&pdf, "l"));
    let lengths: Vec<f64> = to
        .iter()
        .filter_map(|to| {
            let from = from.iter().find(|from| from[1] == to[1] && from[0] < to[0] && from[0] < 29.0)?;
            Some(to[0] - from[0])
        })
        .collect();
    for bar in [283.46, 288.0] {
        assert!(lengths.iter().any(|long| (long - bar).abs() < 0.01), "{bar} is not among {lengths:?}");
    }
}

/// Turned on the boat is turned on the paper: by 90 degrees the holes lie across.
#[test]
fn a_template_is_turned_as_the_part_is() {
    let mut plan = tracked(90.0);
    // Short enough that it fits across the paper.
    std::sync::Arc::make_mut(&mut plan.gear[0].spec).mounts.iter_mut().for_each(|mount| mount.base_mm.0 = 180.0);
    let svg = String::from_utf8(drawn(&plan, Paper::Letter).written(DrawingForm::Svg)).unwrap();
    assert!(svg.contains("width=\"215.9mm\"") && svg.contains("height=\"279.4mm\""));
    let (mut x, y) = (attributes(&svg, "circle", "cx"), attributes(&svg, "circle", "cy"));
    x.sort_by(f64::total_cmp);
    assert!((x[1] - x[0] - 80.0).abs() < 1e-6 && (x[2] - x[1] - 80.0).abs() < 1e-6, "{x:?}");
    assert!(y.iter().all(|other| (other - y[0]).abs() < 1e-6));
}

/// Port is left on the deck's templates, and right on those that are held to the bottom from below.
#[test]
fn from_below_the_sides_change_places() {
    let first = |level: Level| {
        let mut plan = tracked(0.0);
        plan.gear[0].place.as_mut().unwrap().level = level;
        for mounting in &mut std::sync::Arc::make_mut(&mut plan.gear[0].spec).mounts {
            mounting.holes[0].at_mm.y = 10.0;
        }
        let svg = String::from_utf8(drawn(&plan, Paper::A4).written(DrawingForm::Svg)).unwrap();
        let x = attributes(&svg, "circle", "cx");
        (x[0] - x[1], svg.contains("seen from below"))
    };
    let ((deck, deck_says), (under, under_says)) = (first(Level::Deck), first(Level::Under));
    assert!((deck + 10.0).abs() < 1e-6 && (under - 10.0).abs() < 1e-6, "{deck} {under}");
    assert!(!deck_says && under_says);
}

/// A part that is longer than the paper lies over several pages; each hole is whole on one of them at least, and those
/// in the strip that two pages have in common are on both.
#[test]
fn what_is_larger_than_the_paper_is_laid_over_several() {
    let mut plan = tracked(0.0);
    let spec = std::sync::Arc::make_mut(&mut plan.gear[0].spec);
    for mounting in &mut spec.mounts {
        mounting.base_mm.0 = 600.0;
        mounting.holes[0].at_mm.x = -280.0;
        mounting.holes[2].at_mm.x = 280.0;
    }
    let drawing = drawn(&plan, Paper::A4);
    assert_eq!(drawing.pages.len(), 3);
    let mut whole = std::collections::BTreeSet::new();
    for page in &drawing.pages {
        let group = page.groups.iter().find(|group| group.frame.is_some()).unwrap();
        let frame = group.frame.unwrap();
        let circles = group.marks.iter().filter_map(|mark| match mark {
            Mark::Circle { middle, radius, .. } => Some((*middle, *radius)),
            _ => None,
        });
        let inside = |((x, y), r): &((f64, f64), f64)| {
            *x - r >= frame.x && x + r <= frame.x + frame.width && *y - r >= frame.y && y + r <= frame.y + frame.height
        };
        whole.extend(circles.enumerate().filter(|(_, circle)| inside(circle)).map(|(n, _)| n));
    }
    assert_eq!(whole.len(), 3, "every hole is whole on some page");
}

/// The whole rig: every hole of gear still to be drilled is drawn, within its page and off its neighbours.
#[test]
fn every_hole_is_drawn_and_no_template_lies_on_another() {
    let plan = boats::rich();
    let study = Study::of(&plan);
    let walk = gunnel::study::drilling::Walk::of(&plan, &study);
    let wanted = walk.stops.iter().filter(|stop| stop.hole.owner.is_some()).count();
    for paper in [Paper::A4, Paper::Letter] {
        let drawing = templates(&plan, &study, paper);
        let (width, height) = paper.size_mm();
        let mut circles = 0;
        for page in &drawing.pages {
            let frames: Vec<_> = page.groups.iter().filter_map(|group| group.frame).collect();
            for (n, one) in frames.iter().enumerate() {
                assert!(one.x >= 0.0 && one.x + one.width <= width && one.y + one.height <= height);
                let apart = |other: &&gunnel::sheets::Frame| {
                    one.x + one.width <= other.x + 1e-9
                        || other.x + other.width <= one.x + 1e-9
                        || one.y + one.height <= other.y + 1e-9
                        || other.y + other.height <= one.y + 1e-9
                };
                assert!(frames[n + 1..].iter().all(|other| apart(&other)));
            }
            let marks = page.groups.iter().flat_map(|group| &group.marks);
            circles += marks.filter(|mark| matches!(mark, Mark::Circle { .. })).count();
        }
        assert_eq!(circles, wanted);
    }
}

#[test]
fn a_drawing_goes_to_a_file_and_never_over_the_plan() {
    let home = Home::new();
    let mut plan = tracked(0.0);
    plan.gear[0].label = boats::name("<b>&\"track\" ) Tj (");
    home.file("rig.ron", &write::plan(&plan, Format::Ron).unwrap());
    let asked = ["draw", "rig.ron", "--view", "templates", "--format", "svg", "-o", "t.svg"];
    let first = home.run(&asked);
    assert_eq!(code(&first), 0, "{}", errors(&first));
    let svg = fs::read_to_string(home.path("t.svg")).unwrap();
    assert!(svg.contains("&lt;b&gt;&amp;\"track\"") && !svg.contains("<b>"), "{svg}");
    assert_eq!(code(&home.run(&asked)), 4);
    let pdf = home.run(&["draw", "rig.ron", "--view", "templates", "-o", "t.pdf"]);
    assert_eq!(code(&pdf), 0, "{}", errors(&pdf));
    let pdf = String::from_utf8_lossy(&fs::read(home.path("t.pdf")).unwrap()).into_owned();
    assert_eq!(pdf.matches(" Tj").count(), pdf.matches("BT").count() + 1, "the name shows an operator and is none");
    for wrong in [
        &["draw", "rig.ron", "--view", "templates", "-o", "rig.ron", "--force"][..],
        &["draw", "rig.ron", "--view", "portrait", "-o", "x.pdf"],
        &["draw", "rig.ron", "--view", "templates"],
    ] {
        assert_eq!(code(&home.run(wrong)), 2, "{wrong:?}");
    }
    assert_eq!(code(&home.run(&["draw", "rig.ron", "--view", "templates", "-o", "no/such/t.pdf"])), 4);
}
