//! Sections on paper, from outside: measured in the file they are the form divided by the scale, and what is asked for
//! wrongly leaves no file.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::fs;
use std::sync::Arc;

use gunnel::geometry::{Form, Section};
use gunnel::plan::Plan;
use gunnel::sheets::{Drawing, DrawingForm, MOST_SECTIONS, Mark, Paper, Pen, section_view};
use gunnel::storage::load::Format;
use gunnel::storage::write;
use gunnel::study::Study;
use gunnel::study::section::{MOST_PLACES, Place, places};
use gunnel::units::{Measure, Tape};

use crate::boats;
use crate::draw_templates::{attributes, operands};
use crate::home::{Home, code, errors, transcript};

fn cut(plan: &Plan, at: &[f64], tape: Tape) -> Drawing {
    let chosen: Vec<Place> = at.iter().map(|x_mm| Place { x_mm: *x_mm, what: String::new() }).collect();
    section_view(plan, &Study::of(plan), &chosen, Paper::A4, Measure(tape))
}

fn all_words(drawing: &Drawing) -> Vec<&str> {
    let marks = drawing.pages.iter().flat_map(|page| &page.groups).flat_map(|group| &group.marks);
    marks.filter_map(|mark| if let Mark::Words { words, .. } = mark { Some(words.as_str()) } else { None }).collect()
}

fn scale(drawing: &Drawing) -> f64 {
    let title = all_words(drawing).into_iter().find_map(|words| words.split("scale 1:").nth(1)).unwrap();
    title.parse().unwrap()
}

/// A trough 3 m long, 400 mm wide at the keel and 800 at the gunwale 300 mm over it, without gear.
fn trough() -> Plan {
    let mut plan = boats::bare();
    let points_mm = vec![(0.0, 0.0), (200.0, 0.0), (400.0, 300.0)];
    let at = |x_mm| Section { x_mm, points_mm: points_mm.clone() };
    let hull = Arc::make_mut(&mut plan.hull);
    hull.form = Form { sections: vec![at(0.0), at(3000.0)] }.into();
    hull.zones.clear();
    hull.features.clear();
    plan
}

/// By hand on a trough: 400 mm half wide, 300 deep; on paper each by the scale, to a tenth of a millimetre of paper.
#[test]
fn a_section_measured_on_paper_is_the_form_by_the_scale() {
    let drawing = cut(&trough(), &[1250.0], Tape::Metric);
    let scale = scale(&drawing);
    assert_eq!(scale, 5.0);
    let skin: Vec<((f64, f64), (f64, f64))> = drawing.pages[0].groups[0]
        .marks
        .iter()
        .filter_map(|mark| match mark {
            Mark::Line { from, to, pen: Pen::Bold } => Some((*from, *to)),
            _ => None,
        })
        .collect();
    let middle = f64::midpoint(skin[0].0.0, skin.last().unwrap().1.0);
    let (rim, keel) = (skin[0].0.1, skin[1].0.1);
    for (at, half) in [(skin[0].0.0, 400.0), (skin[0].1.0, 200.0)] {
        assert!(((middle - at) - half / scale).abs() < 0.1, "{skin:?}");
    }
    assert!(((keel - rim) - 300.0 / scale).abs() < 0.1, "{skin:?}");
    let said = all_words(&drawing);
    assert_eq!(said.iter().filter(|words| **words == "400 mm").count(), 2, "both half widths: {said:?}");
    assert!(said.contains(&"300 mm") && said.contains(&"A"), "{said:?}");
    assert!(said.iter().any(|words| words.contains("Looking forward: port is left")));
    assert!(said.iter().any(|words| words.contains("Ask the hull's maker before you drill")));
}

/// The same in both kinds of file, read back: 400 mm at 1:5 are 80 mm of paper, 80 x 72 / 25.4 = 226.77 pt.
#[test]
fn both_kinds_of_file_have_its_measures() {
    let drawing = cut(&trough(), &[1250.0], Tape::Metric);
    let svg = String::from_utf8(drawing.written(DrawingForm::Svg)).unwrap();
    let bold = attributes(&svg, "line", "stroke-width").iter().position(|wide| *wide == 0.6).unwrap();
    let (x, from) = (attributes(&svg, "line", "x1")[bold], attributes(&svg, "line", "x2"));
    // The chain line on the middle of the boat is the first stroke of its kind.
    let chain = svg.match_indices("<line ").position(|(at, _)| svg[at..].split('>').next().unwrap().contains("6 1.2"));
    assert!((from[chain.unwrap()] - x - 80.0).abs() < 0.1);
    let pdf = String::from_utf8_lossy(&drawing.written(DrawingForm::Pdf)).into_owned();
    let starts = operands(&pdf, "m");
    let ends = operands(&pdf, "l");
    let level: Vec<f64> =
        starts.iter().zip(&ends).filter(|(a, b)| a[1] == b[1]).map(|(a, b)| (b[0] - a[0]).abs()).collect();
    assert_eq!(level.iter().filter(|long| (*long - 226.77).abs() < 0.1).count(), 2, "the half widths: {level:?}");
}

/// On a class, at a station of its own and between two: the half width is the form's.
#[test]
fn half_widths_are_the_forms() {
    let plan = boats::rich();
    let study = Study::of(&plan);
    let form = study.shape.form();
    let own = form.sections[form.sections.len() / 2].x_mm;
    for x in [own, own + 77.0] {
        let drawing = cut(&plan, &[x], Tape::Metric);
        let bold = drawing.pages[0].groups[0].marks.iter().filter_map(|mark| match mark {
            Mark::Line { from, to, pen: Pen::Bold } => Some([from.0, to.0]),
            _ => None,
        });
        let (low, high) = bold.flatten().fold((f64::MAX, f64::MIN), |(low, high), x| (low.min(x), high.max(x)));
        let (half, _) = form.gunwale(x).unwrap();
        assert!(((high - low) / 2.0 - half / scale(&drawing)).abs() < 0.1, "{x}");
    }
}

/// Port is left: gear to port lies left of the middle, and is named with its height and side.
#[test]
fn gear_and_holes_are_where_they_are_and_listed() {
    let plan = boats::rich();
    let study = Study::of(&plan);
    let (mut gear, mut holes) = (0, 0);
    for item in &study.rig.items {
        let drawing = cut(&plan, &[item.at.x], Tape::Metric);
        let listed = format!("{}  {}", item.gear.0, plan.gear(item.gear).unwrap().label);
        assert!(all_words(&drawing).iter().any(|words| words.starts_with(&listed)), "{listed}");
        gear += 1;
    }
    for hole in study.holes.holes.iter().filter(|hole| hole.at.y.abs() > 60.0) {
        let drawing = cut(&plan, &[hole.at.x], Tape::Metric);
        let marks = &drawing.pages[0].groups[0].marks;
        let (half, scale) = (study.shape.form().gunwale(hole.at.x).unwrap().0, scale(&drawing));
        let Mark::Line { from, .. } = marks[0] else { panic!("the skin comes first") };
        // The skin begins at the port gunwale.
        let wanted = from.0 + (half - hole.at.y) / scale;
        let crossed = |mark: &Mark| match mark {
            Mark::Line { from, to, pen: Pen::Faint } => from.0 == to.0 && (from.0 - wanted).abs() < 0.01,
            _ => false,
        };
        assert!(marks.iter().any(crossed), "{:?} is not at {wanted}", hole.id);
        holes += 1;
    }
    assert!(gear >= 10 && holes >= 4, "{gear} pieces of gear, {holes} holes");
}

#[test]
fn without_a_wish_the_places_that_matter_are_cut() {
    for plan in [boats::rich(), boats::demo("seat-test.ron"), boats::demo("ready-for-review.ron")] {
        let study = Study::of(&plan);
        let found = places(&plan, &study);
        assert!((1..=MOST_PLACES).contains(&found.len()));
        assert!(found.windows(2).all(|pair| pair[0].x_mm < pair[1].x_mm));
        let seat = found.iter().find(|place| place.what == "seat").unwrap();
        assert_eq!(seat.x_mm, study.reach.body.hip.x);
        let battery = plan.gear.iter().find(|gear| gear.label.as_str().contains("attery")).unwrap();
        let close = |place: &Place| (place.x_mm - study.rig.item(battery.id).unwrap().centre().x).abs() < 60.0;
        assert!(found.iter().any(close), "{found:?}");
    }
    let bare = boats::bare();
    let found = places(&bare, &Study::of(&bare));
    assert!(found.iter().any(|place| place.what == "widest place"), "{found:?}");
}

#[test]
fn the_help_says_what_can_be_drawn() {
    insta::assert_snapshot!("help_draw", transcript(&Home::new(), &["draw", "-h"]));
}

#[test]
fn sections_go_to_files_in_the_tape_of_choice() {
    let home = Home::new();
    home.file("rig.ron", &write::plan(&boats::rich(), Format::Ron).unwrap());
    let asked = ["draw", "rig.ron", "--view", "section", "--format", "svg", "--at", "125 cm", "--at", "4 ft 1 1/4 in"];
    let out = home.run(&[&asked[..], &["--tape", "inches", "-o", "s.svg"]].concat());
    assert_eq!((code(&out), errors(&out)), (0, ""));
    let svg = fs::read_to_string(home.path("s.svg")).unwrap();
    // By hand: 125 cm are 49 3/16 in, the other is 49 1/4 in.
    assert!(svg.contains("section A-A, 49 3/16 in from stern") && svg.contains("section B-B, 49 1/4 in from stern"));
    let again = home.run(&[&asked[..], &["-o", "s.svg"]].concat());
    assert_eq!(code(&again), 4, "{}", errors(&again));
    assert_eq!(fs::read_to_string(home.path("s.svg")).unwrap(), svg);
    let forced = home.run(&[&asked[..], &["-o", "s.svg", "--force"]].concat());
    assert_eq!(code(&forced), 0, "{}", errors(&forced));
    assert!(fs::read_to_string(home.path("s.svg")).unwrap().contains("1250 mm from stern"));
}

/// What is asked for wrongly is refused with its reason, and no file is begun.
#[test]
fn what_cannot_be_cut_is_refused() {
    let home = Home::new();
    home.file("rig.ron", &write::plan(&boats::rich(), Format::Ron).unwrap());
    let many: Vec<&str> = ["--at", "1000"].into_iter().cycle().take(200).collect();
    let refused = |view: &str, at: &[&str], why: &str| {
        let out = home.run(&[&["draw", "rig.ron", "--view", view, "-o", "s.pdf"][..], at].concat());
        assert_eq!(code(&out), 2, "{at:?}: {}", errors(&out));
        assert!(errors(&out).contains(why), "{at:?}: {}", errors(&out));
        assert!(!home.path("s.pdf").exists());
    };
    refused("section", &["--at", "9 m"], "there is no hull");
    refused("section", &["--at", "-1"], "the hull runs from 0 to");
    refused("section", &["--at", "NaN"], "\"NaN\"");
    refused("section", &["--at", "3 fathoms"], "is not a unit of length");
    refused("section", &["--at", ""], "type a number");
    refused("section", &many, &format!("100 sections are too many: the key beside them has room for {MOST_SECTIONS}"));
    refused("plan", &["--at", "1000"], "--at is for sections");
    let nowhere = home.run(&["draw", "rig.ron", "--view", "section", "-o", "no/such/s.pdf"]);
    assert_eq!(code(&nowhere), 4);
}

/// The strings that a document shows, read as ISO 32000 says (7.3.4.2): balanced parentheses belong to a string, a
/// backslash makes the next letter one.
fn shown(pdf: &str) -> Vec<String> {
    let mut found = Vec::new();
    for line in pdf.lines().filter_map(|line| line.strip_suffix(" Tj")?.strip_prefix('(')) {
        let (mut text, mut depth, mut letters) = (String::new(), 1, line.chars());
        while let Some(letter) = letters.next() {
            assert!(depth > 0, "the string ends before its line: {line}");
            match letter {
                '\\' => {
                    text.extend(letters.next());
                    continue;
                }
                '(' => depth += 1,
                ')' => depth -= 1,
                _ => {}
            }
            text.extend((depth > 0).then_some(letter));
        }
        assert_eq!(depth, 0, "the string does not end: {line}");
        found.push(text);
    }
    found
}

/// Names stay names in both kinds of file; what a document has no letters for is said.
#[test]
fn names_of_every_sort_are_drawn() {
    let home = Home::new();
    let mut plan = boats::rich();
    for gear in &mut plan.gear {
        gear.label = boats::name("<script>&(\\) Tj");
    }
    home.file("rig.ron", &write::plan(&plan, Format::Ron).unwrap());
    home.file("far.ron", &write::plan(&boats::many_scripts(), Format::Ron).unwrap());
    for view in ["plan", "profile", "section", "templates"] {
        let out = home.run(&["draw", "rig.ron", "--view", view, "--format", "svg", "-o", &format!("{view}.svg")]);
        assert_eq!((code(&out), errors(&out)), (0, ""));
        let svg = fs::read_to_string(home.path(&format!("{view}.svg"))).unwrap();
        assert!(svg.contains("&lt;script&gt;&amp;(\\) Tj") && !svg.contains("<script>"), "{view}");
        let out = home.run(&["draw", "rig.ron", "--view", view, "-o", &format!("{view}.pdf")]);
        assert_eq!((code(&out), errors(&out)), (0, ""));
        let pdf = String::from_utf8_lossy(&fs::read(home.path(&format!("{view}.pdf"))).unwrap()).into_owned();
        assert!(shown(&pdf).iter().any(|words| words.contains("<script>&(\\) Tj")), "{view}");
        let far = home.run(&["draw", "far.ron", "--view", view, "-o", &format!("far-{view}.pdf")]);
        assert_eq!(code(&far), 0, "{}", errors(&far));
        assert!(errors(&far).contains("shows ? instead; --format svg keeps them"), "{view}: {}", errors(&far));
        let kept = home.run(&["draw", "far.ron", "--view", view, "--format", "svg", "-o", &format!("far-{view}.svg")]);
        assert_eq!((code(&kept), errors(&kept)), (0, ""));
    }
}

#[test]
fn a_hull_that_is_none_makes_a_page_that_says_so() {
    let mut plan = boats::rich();
    Arc::make_mut(&mut plan.hull).form = Form::default().into();
    let study = Study::of(&plan);
    assert_eq!(places(&plan, &study), []);
    let drawing = section_view(&plan, &study, &[], Paper::A4, Measure::default());
    assert_eq!(drawing.pages.len(), 1);
    assert!(all_words(&drawing).iter().any(|words| words.contains("the hull has no length")));
}
