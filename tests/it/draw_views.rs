//! The boat to scale from outside: what the file shows, measured on paper, is the boat divided by the stated scale.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::fs;

use gunnel::geometry::Form;
use gunnel::plan::Plan;
use gunnel::sheets::{DrawingForm, Mark, Paper, Pen, plan_view, profile_view};
use gunnel::storage::load::Format;
use gunnel::storage::write;
use gunnel::study::Study;
use gunnel::units::{Length, Measure, Tape};

use crate::boats;
use crate::draw_templates::{attributes, operands, tracked};
use crate::home::{Home, code, errors};

fn from_above(plan: &Plan, paper: Paper) -> String {
    String::from_utf8(plan_view(plan, &Study::of(plan), paper, Measure::default()).written(DrawingForm::Svg)).unwrap()
}

fn from_the_side(plan: &Plan, paper: Paper) -> String {
    String::from_utf8(profile_view(plan, &Study::of(plan), paper, Measure::default()).written(DrawingForm::Svg))
        .unwrap()
}

/// The scale that the title states: 15 for `scale 1:15`.
fn scale(svg: &str) -> f64 {
    let after = svg.split("scale 1:").nth(1).unwrap();
    after.split(|c: char| !c.is_ascii_digit()).next().unwrap().parse().unwrap()
}

/// Width and height of what is drawn with the hull's pen.
fn hull_on_paper(svg: &str) -> (f64, f64) {
    let bold: Vec<bool> = attributes(svg, "line", "stroke-width").iter().map(|wide| *wide == 0.6).collect();
    let span = |ends: [&str; 2]| {
        let all = ends.map(|end| attributes(svg, "line", end));
        let hull = all.iter().flat_map(|one| one.iter().zip(&bold)).filter(|(_, bold)| **bold).map(|(at, _)| *at);
        let (low, high) = hull.fold((f64::MAX, f64::MIN), |(low, high), at| (low.min(at), high.max(at)));
        high - low
    };
    (span(["x1", "x2"]), span(["y1", "y2"]))
}

/// The track's three holes are 80 mm from each other on the boat; a hole of 5 mm is drawn at the least size, 0.3 mm.
#[test]
fn holes_are_as_far_apart_as_the_scale_says() {
    let plan = tracked(0.0);
    let svg = from_above(&plan, Paper::A4);
    assert!(svg.contains("width=\"297mm\"") && svg.contains("height=\"210mm\""), "the paper lies on its long side");
    let scale = scale(&svg);
    let (x, y, r) =
        (attributes(&svg, "circle", "cx"), attributes(&svg, "circle", "cy"), attributes(&svg, "circle", "r"));
    let mut holes: Vec<(f64, f64)> =
        (0..r.len()).filter(|n| (r[*n] - 0.3).abs() < 1e-9).map(|n| (x[n], y[n])).collect();
    holes.sort_by(|a, b| a.0.total_cmp(&b.0));
    assert_eq!(holes.len(), 3, "{r:?}");
    for pair in holes.windows(2) {
        assert!((pair[1].0 - pair[0].0 - 80.0 / scale).abs() < 1e-6, "{holes:?} at 1:{scale}");
        assert!((pair[1].1 - pair[0].1).abs() < 1e-6);
    }
}

/// Two holes 800 mm apart on the boat at 1:10 are 80 mm apart on paper: 80 x 72 / 25.4 = 226.77 pt.
#[test]
fn stations_800_mm_apart_are_80_mm_apart_at_one_to_ten() {
    let mut plan = tracked(0.0);
    let hull = std::sync::Arc::make_mut(&mut plan.hull);
    let mut form: Form = (*hull.form).clone();
    // A short boat fits the paper at 1:10.
    form.sections.retain(|section| section.x_mm < 2300.0);
    hull.form = form.into();
    for mounting in &mut std::sync::Arc::make_mut(&mut plan.gear[0].spec).mounts {
        (mounting.holes[0].at_mm.x, mounting.holes[2].at_mm.x) = (-400.0, 400.0);
    }
    let drawing = plan_view(&plan, &Study::of(&plan), Paper::A4, Measure::default());
    let svg = String::from_utf8(drawing.written(DrawingForm::Svg)).unwrap();
    assert_eq!(scale(&svg), 10.0);
    let pdf = String::from_utf8_lossy(&drawing.written(DrawingForm::Pdf)).into_owned();
    // Circles of 0.3 mm begin at their right: the least and the greatest of them are the outer holes.
    let curves = operands(&pdf, "c");
    let small = curves.chunks(4).filter(|circle| (circle[3][4] - circle[1][4]).abs() < 2.0);
    let x: Vec<f64> = small.map(|circle| circle[3][4]).collect();
    let (low, high) = x.iter().fold((f64::MAX, f64::MIN), |(low, high), x| (low.min(*x), high.max(*x)));
    assert!((high - low - 226.77).abs() < 0.01, "{x:?}");
}

/// No tag stands on another, nor a label of a cable on a tag; both ends of a cable are named as on the wiring sheet.
#[test]
fn tags_and_labels_keep_off_each_other() {
    for plan in [boats::rich(), boats::demo("seat-test.ron"), boats::demo("ready-for-review.ron")] {
        let drawing = plan_view(&plan, &Study::of(&plan), Paper::A4, Measure::default());
        let marks: Vec<&Mark> = drawing.pages[0].groups.iter().flat_map(|group| &group.marks).collect();
        let blanks: Vec<_> =
            marks.iter().filter_map(|m| if let Mark::Blank(frame) = m { Some(frame) } else { None }).collect();
        assert!(blanks.len() >= plan.gear.iter().filter(|gear| gear.is_placed()).count());
        for (n, one) in blanks.iter().enumerate() {
            let apart = |other: &&&gunnel::sheets::Frame| {
                (one.x + one.width <= other.x + 1e-9 || other.x + other.width <= one.x + 1e-9)
                    || (one.y + one.height <= other.y + 1e-9 || other.y + other.height <= one.y + 1e-9)
            };
            assert!(blanks[n + 1..].iter().all(|other| apart(&other)), "{one:?} lies on another");
        }
    }
    let plan = boats::demo("seat-test.ron");
    let svg = from_above(&plan, Paper::A4);
    // As on the wiring sheet: the main, a wire of two loads, a cable of signals.
    for label in ["M4-A", "M4-B", "W1-A", "W1-B", "W5-A", "W5-B", "W5-C", "C3-A", "C3-B"] {
        assert_eq!(svg.matches(&format!(">\n{label}\n<")).count(), 1, "{label}");
    }
    assert!(svg.contains("small ones not to scale"));
}

/// A camera of 50 mm is 2.5 mm on paper at 1:20: its number stands beside it and leaves it to be seen.
#[test]
fn a_tag_hides_no_small_gear() {
    let plan = boats::demo("ready-for-review.ron");
    let study = Study::of(&plan);
    let camera = plan.gear.iter().find(|gear| gear.label.as_str() == "camera").unwrap();
    let drawing = profile_view(&plan, &study, Paper::A4, Measure::default());
    let marks = &drawing.pages[0].groups[0].marks;
    let at = marks.iter().position(|m| matches!(m, Mark::Words { words, .. } if *words == camera.id.0.to_string()));
    let Mark::Blank(blank) = &marks[at.unwrap() - 1] else { panic!("a number stands on white") };
    let inside =
        |(x, y): &(f64, f64)| *x > blank.x && *x < blank.x + blank.width && *y > blank.y && *y < blank.y + blank.height;
    let level = marks.iter().filter_map(|m| match m {
        Mark::Line { from, to, pen: Pen::Fine } if from.1 == to.1 && from != to => Some((*from, *to)),
        _ => None,
    });
    let covered = level.filter(|(from, to)| inside(&(f64::midpoint(from.0, to.0), from.1))).count();
    assert_eq!(covered, 0, "a level stroke of it is hidden");
}

/// Dimensions follow the tape: by hand 3350 mm are 131 7/8 in, 840 mm 33 1/16 in.
#[test]
fn dimensions_are_in_the_tape_of_choice() {
    let plan = boats::demo("seat-test.ron");
    let drawing = plan_view(&plan, &Study::of(&plan), Paper::Letter, Measure(Tape::Inches));
    let svg = String::from_utf8(drawing.written(DrawingForm::Svg)).unwrap();
    assert!(svg.contains(">\n131 7/8 in\n<") && svg.contains(">\n33 1/16 in\n<"), "{svg}");
}

/// The bare boat's sections say how long and wide it is.
#[test]
fn the_hull_is_as_long_as_its_length_over_the_scale() {
    let plan = boats::rich();
    let sections = &plan.hull.form.sections;
    let length = sections.last().unwrap().x_mm - sections[0].x_mm;
    let beam = 2.0 * sections.iter().map(|section| section.points_mm.last().unwrap().0).fold(0.0, f64::max);
    for paper in [Paper::A4, Paper::Letter] {
        let svg = from_above(&plan, paper);
        let (long, wide) = hull_on_paper(&svg);
        assert!((long - length / scale(&svg)).abs() < 1e-6, "{long}");
        assert!((wide - beam / scale(&svg)).abs() < 1e-6, "{wide}");
        assert!(svg.contains(&format!("{length:.0} mm")) && svg.contains(&format!("{beam:.0} mm")));
        let svg = from_the_side(&plan, paper);
        assert!((hull_on_paper(&svg).0 - length / scale(&svg)).abs() < 1e-6);
    }
}

/// Every placed piece of gear has its number on the picture and its name in the list, and all of it is on the page.
#[test]
fn every_piece_of_gear_is_tagged_and_listed() {
    let plan = boats::rich();
    let study = Study::of(&plan);
    let tape = Measure::default();
    for drawing in [plan_view(&plan, &study, Paper::A4, tape), profile_view(&plan, &study, Paper::A4, tape)] {
        let (width, height) = drawing.size_mm();
        let marks: Vec<&Mark> = drawing.pages[0].groups.iter().flat_map(|group| &group.marks).collect();
        let words = |wanted: &str| marks.iter().any(|m| matches!(m, Mark::Words { words, .. } if words == wanted));
        assert!(!study.rig.items.is_empty());
        for item in &study.rig.items {
            let gear = plan.gear(item.gear).unwrap();
            assert!(words(&gear.id.0.to_string()), "no tag of {}", gear.label);
            assert!(words(&format!("{}  {}", gear.id.0, gear.label)), "{} is not listed", gear.label);
        }
        for mark in marks {
            if let Mark::Words { at: (x, y), .. } = mark {
                assert!(*x > 0.0 && *x < width && *y > 0.0 && *y < height, "{mark:?}");
            }
        }
    }
}

/// The water is drawn where the boat floats: its height over the keel line at the hull's aft end, by the scale.
#[test]
fn a_profile_shows_the_water_and_a_plan_the_cables() {
    let plan = boats::rich();
    let study = Study::of(&plan);
    assert!(!study.float.levels.stated, "the boat floats");
    assert!(from_the_side(&plan, Paper::A4).contains(">\nwater\n<"));
    let legs: usize = study.cables.runs.iter().filter_map(|run| run.way.as_ref().ok()).map(|w| w.steps.len() - 1).sum();
    // Gear inside is dashed as well: without its wires the boat has as many dashes less as there are legs.
    let dashed = |plan: &Plan| from_above(plan, Paper::A4).matches("stroke-dasharray").count();
    let mut bare = plan.clone();
    bare.wiring = Default::default();
    assert!(legs > 0 && dashed(&plan) >= dashed(&bare) + legs, "{} and {} of {legs}", dashed(&plan), dashed(&bare));
}

/// A hull that is nothing still makes a page with its caution.
#[test]
fn nonsense_makes_a_page() {
    let mut plan = tracked(0.0);
    std::sync::Arc::make_mut(&mut plan.hull).form = Form::default().into();
    plan.gear[0].place.as_mut().unwrap().x = Length::mm(f64::NAN);
    for svg in [from_above(&plan, Paper::A4), from_the_side(&plan, Paper::Letter)] {
        assert!(svg.contains("Not to drill from") && !svg.contains("NaN") && !svg.contains("inf"), "{svg}");
    }
}

#[test]
fn views_go_to_files_and_names_are_escaped() {
    let home = Home::new();
    let mut plan = tracked(0.0);
    plan.gear[0].label = boats::name("<b>&\"track\" ) Tj (");
    home.file("rig.ron", &write::plan(&plan, Format::Ron).unwrap());
    for view in ["plan", "profile"] {
        let out = home.run(&["draw", "rig.ron", "--view", view, "--format", "svg", "-o", &format!("{view}.svg")]);
        assert_eq!(code(&out), 0, "{}", errors(&out));
        let svg = fs::read_to_string(home.path(&format!("{view}.svg"))).unwrap();
        assert!(svg.contains("&lt;b&gt;&amp;\"track\"") && !svg.contains("<b>"), "{svg}");
        let out = home.run(&["draw", "rig.ron", "--view", view, "--paper", "letter", "-o", &format!("{view}.pdf")]);
        assert_eq!(code(&out), 0, "{}", errors(&out));
        let pdf = String::from_utf8_lossy(&fs::read(home.path(&format!("{view}.pdf"))).unwrap()).into_owned();
        // Letter on its long side: 11 by 8.5 in are 792 by 612 pt.
        assert!(pdf.contains("/MediaBox [0 0 792 612]"), "{pdf}");
        assert_eq!(pdf.matches(" Tj").count(), pdf.matches("BT").count() + 1, "the name shows an operator and is none");
    }
}
