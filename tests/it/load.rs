//! Reading and writing plans: what each sort of broken file is told, and that what is saved is what is read.

use std::path::Path;
use std::sync::Arc;

use gunnel::geometry::Form;
use gunnel::plan::{Name, Note, Placement, Plan, Revision};
use gunnel::shown::is_unsafe;
use gunnel::storage::load::{self, Format};
use gunnel::storage::write;
use gunnel::units::{Angle, Current, Figure, Length, Mass};
use proptest::prelude::*;

/// A small plan with something in every part of it, as a person writes it.
pub const GOOD: &str = include_str!("corpus/good.ron");

pub fn good() -> Plan {
    load::plan(GOOD, Path::new("good.ron"), Format::Ron).expect("the sound plan of the corpus")
}

fn good_json() -> String {
    write::plan(&good(), Format::Json).expect("the sound plan as JSON")
}

/// Everything a person is told about a text, which must be no plan.
fn told(text: &str, format: Format) -> String {
    let error = load::plan(text, Path::new("boat"), format).expect_err("a broken plan");
    let says = format!("{error}\nhint: {}", error.hint().unwrap_or("none"));
    assert!(!says.chars().any(|c| is_unsafe(c) && c != '\n'), "unsafe to show: {says:?}");
    assert!(says.lines().all(|line| line.chars().count() < 400), "a line too long to read");
    says
}

/// One change that breaks the sound plan: a title, what stands in the file, what is put in its place.
type Change<'a> = (&'a str, &'a str, &'a str);

const CHANGES: &[Change<'_>] = &[
    ("unknown field", "label: \"display\"", "lable: \"display\""),
    ("unknown field, nothing near", "label: \"display\"", "colour: \"red\""),
    ("unknown field of a figure", "origin: Measured, was: In(32)", "orign: Measured"),
    ("unknown unit", "beam: (value: Mm(810)", "beam: (value: Furlong(4)"),
    ("unit of another quantity", "mass: (value: Kg(1.6)", "mass: (value: Mm(1.6)"),
    ("number without unit", "beam: (value: Mm(810)", "beam: (value: 810"),
    ("unknown mount", "mount: Strap", "mount: Glue"),
    ("misspelt mount", "mount: Strap", "mount: strap"),
    ("mount the gear does not take", "mount: Track, place", "mount: Clamp, place"),
    ("missing field", "hand: Starboard, ", ""),
    ("field twice", "hand: Starboard,", "hand: Starboard, hand: Port,"),
    ("no format", "format: 2,", ""),
    ("newer format", "format: 2,", "format: 3, moon: Full,"),
    ("format of no program", "format: 2,", "format: 0,"),
    ("gear id twice", "id: 2, label: \"battery\"", "id: 1, label: \"battery\""),
    ("zone id twice", "id: 2, name: \"foredeck\"", "id: 1, name: \"foredeck\""),
    ("circuit names gear that is not there", "loads: [1])])", "loads: [1, 9])])"),
    ("not a number", "x_mm: 1500", "x_mm: NaN"),
    ("infinite", "Kg(1.6)", "Kg(inf)"),
    ("beyond all numbers", "Mm(1700)", "Mm(1e999)"),
    ("out of range", "Kg(1.6)", "Kg(1600)"),
    ("two things out of range", "Kg(6.3), origin: Catalogue), \n", ""),
    ("negative id", "id: 2, label", "id: -2, label"),
    ("empty name", "name: \"pond boat\"", "name: \"  \""),
    ("order to the terminal in a name", "name: \"pond boat\"", "name: \"pond\\u{1b}]0;x\\u{7}boat\""),
    ("raw order to the terminal in a name", "name: \"pond boat\"", "name: \"pond\u{1b}[2Jboat\""),
    ("direction override in a label", "label: \"battery\"", "label: \"yrettab\u{202e}\""),
    ("direction override in a field", "pinned: true", "pin\u{202e}ned: true"),
    ("key with capitals", "key: \"display-9\"", "key: \"Display 9\""),
    ("tag too long", "tag: \"D9\"", "tag: \"DISPLAY\""),
    ("comma missing", "name: \"tank well\",", "name: \"tank well\""),
    (
        "bracket missing",
        "bodies: [(middle_mm: (0, 0, 110), shape: Box(60, 260, 170))],",
        "bodies: [(middle_mm: (0, 0, 110), shape: Box(60, 260, 170)),",
    ),
    ("two numbers for a point", "centre_mm: (1450, 0, 185.5)", "centre_mm: (1450, 0)"),
    ("text for a number", "x_mm: 1500", "x_mm: \"1500\""),
    ("string never closed", "label: \"display\",", "label: \"display,"),
    ("comment never closed", "wiring:", "/* wiring:"),
    ("something after the end", "thin plastic there\")],\n)", "thin plastic there\")],\n)\n(format: 1)"),
    ("two conflicting versions", "    angler: (", "<<<<<<< mine\n    angler: ("),
    ("sections out of order", "x_mm: 3050", "x_mm: 1000"),
    ("limit that is no number", "value: 25, reason", "value: -inf, reason"),
];

#[test]
fn every_broken_plan_is_told_where_and_what() {
    let mut all = String::new();
    for (title, from, to) in CHANGES.iter().filter(|(title, ..)| *title != "two things out of range") {
        assert_eq!(GOOD.matches(from).count(), 1, "\"{from}\" must stand once in the sound plan");
        all.push_str(&format!("# {title}\n{}\n\n", told(&GOOD.replace(from, to), Format::Ron)));
    }
    let two = GOOD.replace("Kg(1.6)", "Kg(1600)").replace("Kg(6.3)", "Kg(-6.3)");
    all.push_str(&format!("# two things out of range\n{}\n\n", told(&two, Format::Ron)));
    insta::assert_snapshot!("broken_plans", all);
}

#[test]
fn every_broken_json_plan_is_told_where_and_what() {
    let changes: &[Change<'_>] = &[
        ("unknown field", "\"label\": \"display\"", "\"lable\": \"display\""),
        ("field twice", "\"hand\": \"Starboard\",", "\"hand\": \"Starboard\", \"hand\": \"Port\","),
        ("unit twice", "\"Mm\": 810", "\"Mm\": 810, \"In\": 32"),
        ("unknown unit", "\"Mm\": 810", "\"Furlong\": 4"),
        ("number without unit", "\"value\": {\n        \"Mm\": 810\n      }", "\"value\": 810"),
        ("missing field", "\"hand\": \"Starboard\",", ""),
        ("newer format", "\"format\": 2,", "\"format\": 3, \"moon\": true,"),
        ("not a number", "\"x_mm\": 1500.0", "\"x_mm\": NaN"),
        ("beyond all numbers", "\"x_mm\": 1500.0", "\"x_mm\": 1e999"),
        ("null for a number", "\"x_mm\": 1500.0", "\"x_mm\": null"),
        ("empty name", "\"name\": \"pond boat\"", "\"name\": \"\""),
        ("escaped order to the terminal", "\"name\": \"pond boat\"", "\"name\": \"pond\\u001b[2J\""),
        ("comma missing", "\"format\": 2,", "\"format\": 2"),
    ];
    let good = good_json();
    let mut all = String::new();
    for (title, from, to) in changes {
        assert_eq!(good.matches(from).count(), 1, "\"{from}\" must stand once in the sound plan");
        all.push_str(&format!("# {title}\n{}\n\n", told(&good.replace(from, to), Format::Json)));
    }
    let narrow: serde_json::Value =
        serde_json::from_str(&good.replace("\"label\": \"battery\"", "\"lable\": \"battery\"")).expect("JSON");
    all.push_str(&format!("# unknown field in a file of one line\n{}\n\n", told(&narrow.to_string(), Format::Json)));
    insta::assert_snapshot!("broken_json_plans", all);
}

#[test]
fn floods_and_nothing_are_told_so_at_once() {
    let deep = |open: &str| format!("(format: 1, name: {}", open.repeat(200_000));
    let revisions = "(format: 1, revisions: [(plan: ".repeat(1000);
    let huge = format!("(format: 1, gear: [{}])", "1,".repeat(2_100_000));
    let corners = GOOD.replace("(150, -220),", &"(150, -220),".repeat(100_000));
    let wide_name = GOOD.replace("pond boat", &"x".repeat(1_000_000));
    let wide_word = GOOD.replace("pinned", &"p".repeat(1_000_000));
    let texts = [
        ("nothing", String::new()),
        ("blanks", " \n\n ".into()),
        ("a comment only", "// a boat\n".into()),
        ("another file", "[package]\nname = \"boat\"\n".into()),
        ("prose", "Dear all, the boat is ready.".into()),
        ("round brackets", deep("(")),
        ("square brackets", deep("[")),
        ("plans within plans", revisions),
        ("two million entries", huge),
        ("an outline of a hundred thousand corners", corners),
        ("a name of a million letters", wide_name),
        ("a field of a million letters", wide_word),
    ];
    let all: Vec<String> =
        texts.iter().map(|(title, text)| format!("# {title}\n{}\n\n", told(text, Format::Ron))).collect();
    let all = all.concat();
    insta::assert_snapshot!("floods", all);
}

#[test]
fn a_plan_cut_short_anywhere_is_refused_with_its_open_bracket() {
    for (format, text) in
        [(Format::Ron, GOOD.trim_end().to_string()), (Format::Json, good_json().trim_end().to_string())]
    {
        let ends = (1..text.len()).step_by(7).filter(|end| text.is_char_boundary(*end));
        for end in ends {
            let says = told(&text[..end], format);
            assert!(says.starts_with("boat:"), "cut at {end}: {says}");
        }
        let middle = text[..text.len() / 2].rfind(',').expect("a comma");
        let says = told(&text[..=middle], format);
        assert!(says.contains("never closed"), "{says}");
    }
}

#[test]
fn byte_order_marks_and_line_ends_of_other_systems_are_taken() {
    let marked = format!("\u{feff}{}", GOOD.replace('\n', "\r\n"));
    let read = load::plan(&marked, Path::new("boat.ron"), Format::Ron).expect("a sound plan");
    assert_eq!(read, good());
    let explicit = GOOD.replace("was: In(32)", "was: Some(In(32))");
    assert_eq!(load::plan(&explicit, Path::new("boat.ron"), Format::Ron), Ok(good()));
}

#[test]
fn formats_are_known_by_name_or_by_their_first_letter() {
    for (name, format) in
        [("a.ron", Format::Ron), ("a.JSON", Format::Json), ("a", Format::Ron), ("a.json.bak", Format::Ron)]
    {
        assert_eq!(Format::of_path(Path::new(name)), format, "{name}");
    }
    assert_eq!(Format::of_text(&good_json()), Format::Json);
    assert_eq!(Format::of_text(GOOD), Format::Ron);
}

#[test]
fn a_saved_plan_reads_well() {
    insta::assert_snapshot!("saved_plan", write::plan(&good(), Format::Ron).expect("a plan"));
}

#[test]
fn a_plan_that_could_not_be_opened_again_is_not_written() {
    let mut plan = good();
    plan.limits[0].value = f64::NAN;
    assert!(write::plan(&plan, Format::Ron).is_err());
    assert!(write::plan(&plan, Format::Json).is_err());
    let mut plan = good();
    plan.gear[1].id = plan.gear[0].id;
    assert!(matches!(write::plan(&plan, Format::Ron), Err(write::WriteError::Refused(_))));
}

prop_compose! {
    fn any_name()(text in "[^\\p{C}\\p{Z}\\u{FE00}-\\u{FE0F}\\u{2028}-\\u{202E}\\u{2060}-\\u{206F}\\u{E0000}-\\u{E0FFF}]{1,20}|[a-z\"\\\\/*(){}\\[\\],:# ]{0,20}x") -> Name {
        Name::new(text).unwrap_or_else(|_| Name::new("boat").expect("a name"))
    }
}

prop_compose! {
    fn any_length(range: std::ops::Range<f64>)(mm in range, unit in 0..5_u8) -> Length {
        match unit {
            0 => Length::mm(mm),
            1 => Length::mm(mm.round()),
            2 => Length::inches(mm / 25.4),
            3 => Length::feet(mm / 304.8),
            _ => Length::m(mm / 1000.0),
        }
    }
}

prop_compose! {
    /// The sound plan with its names, figures, places and notes drawn anew.
    fn any_plan()(
        names in prop::collection::vec(any_name(), 4),
        note in "[ -~\n\t\u{e4}\u{20ac}]{0,60}",
        places in prop::collection::vec(prop::option::of((any_length(0.0..3000.0), any_length(-400.0..400.0), -360.0..360.0_f64)), 2),
        (beam, was, x, current, kilograms) in (any_length(500.0..1200.0), any_length(500.0..1200.0), 1.0..3000.0_f64, 0.1..100.0_f64, 0.0..100.0_f64),
        revised: bool,
    ) -> Plan {
        let mut plan = good();
        let old = plan.clone();
        plan.name = names[0].clone();
        plan.notes = Note::new(note).unwrap_or_default();
        let hull = Arc::make_mut(&mut plan.hull);
        hull.name = names[1].clone();
        hull.beam = Figure::catalogue(was).measured_over(beam);
        let mut form = Form::clone(&hull.form);
        form.sections[1].x_mm = x;
        hull.form = form.into();
        for ((gear, place), name) in plan.gear.iter_mut().zip(&places).zip(&names[2..]) {
            gear.label = name.clone();
            gear.place = place.map(|(x, y, turn)| Placement { x, y, turn: Angle::deg(turn), ..Placement::at(0.0, 0.0) });
            Arc::make_mut(&mut gear.spec).mass = Figure::guess(Mass::pounds(kilograms));
        }
        plan.wiring.circuits[0].fuse = Some(Current::milliamps(current * 1000.0));
        if revised {
            plan.revisions.push(Revision { name: names[3].clone(), date: None, plan: Box::new(old) });
        }
        plan
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn what_is_saved_is_what_is_read(plan in any_plan()) {
        for format in [Format::Ron, Format::Json] {
            let text = write::plan(&plan, format).map_err(|error| TestCaseError::fail(error.to_string()))?;
            let again = load::plan(&text, Path::new("boat"), format).map_err(|error| TestCaseError::fail(error.to_string()))?;
            prop_assert_eq!(&again, &plan);
            // Saved again, not a byte differs.
            prop_assert_eq!(write::plan(&again, format), Ok(text));
        }
    }

    #[test]
    fn no_text_makes_the_reader_panic_or_speak_unsafely(
        from in 0..GOOD.len(), length in 0..200_usize, put in "[(){}\\[\\]\",:/*'r#a-z0-9.\n\u{1b}\u{202e}\u{e4}-]{0,12}", json: bool,
    ) {
        let text = if json { good_json() } else { GOOD.to_string() };
        let floor = |at: usize| (0..=at.min(text.len())).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0);
        let (from, to) = (floor(from), floor(from + length));
        let broken = format!("{}{put}{}", &text[..from], &text[to..]);
        let format = if json { Format::Json } else { Format::Ron };
        if let Err(error) = load::plan(&broken, Path::new("boat"), format) {
            let says = format!("{error}{}", error.hint().unwrap_or_default());
            prop_assert!(!says.chars().any(|c| is_unsafe(c) && c != '\n'), "{says:?}");
        }
    }
}
