//! Tapes in files: what each sort of broken one is told, and that floods of readings are refused at once.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::path::Path;

use gunnel::plan::FORMAT;
use gunnel::shown::is_unsafe;
use gunnel::storage::load::{self, Format, LoadError};
use gunnel::storage::write;

use crate::load::good;
use crate::tape::{EXAMPLE, creek_boat};

/// What a person is told of a text that is refused.
fn told<T>(result: Result<T, LoadError>) -> String {
    let Err(error) = result else { panic!("a broken tape was taken") };
    let says = format!("{error}\nhint: {}", error.hint().unwrap_or("none"));
    assert!(!says.chars().any(|c| is_unsafe(c) && c != '\n'), "unsafe to show: {says:?}");
    says
}

/// One change that breaks the example: a title, what stands in the file, what is put in its place.
type Change<'a> = (&'a str, &'a str, &'a str);

#[test]
fn every_broken_interview_is_told_where_and_what() {
    let changes: &[Change<'_>] = &[
        ("unknown figure of a station", "gunwale: [Mm(362)]", "gunwal: [Mm(362)]"),
        ("unknown field of a tape", "wells:", "welds:"),
        ("unknown part of a reading", "length: [M(3.40)]", "length: (taken: [M(3.40)], gess: M(3.5))"),
        ("a reading that is no list", "length: [M(3.40)]", "length: M(3.40)"),
        ("readings without unit", "length: [M(3.40)]", "length: [3.40]"),
        ("an unknown unit", "length: [M(3.40)]", "length: [Cubit(7)]"),
        ("a word for a reading", "length: [M(3.40)]", "length: \"long\""),
        ("not a number", "length: [M(3.40)]", "length: [M(NaN)]"),
        ("no length", "length: [M(3.40)]", "length: [M(0)]"),
        ("too long for any tape", "length: [M(3.40)]", "length: [M(340)]"),
        ("stations backwards", "x: Mm(1000)", "x: Mm(250)"),
        ("a station without place", "(x: Mm(1000), width", "(width"),
        ("a station twice", "x: Mm(1000)", "x: Mm(300)"),
        ("an unknown bottom", "wells:", "bottom: Vee(width: [Mm(3)]), wells:"),
        ("an unknown part of a bottom", "wells:", "bottom: Tunnel(breadth: [Mm(3)]), wells:"),
        ("rounding beyond square", "wells:", "rounding: (value: 2.5), wells:"),
        ("a well without zone", "(zone: 13, depth", "(depth"),
        ("no class", "class: \"angler-11\",", ""),
        ("a list of sections", "tape: (", "tape: [(x_mm: 0, points_mm: [])], old: ("),
    ];
    let mut all = String::new();
    for (title, from, to) in changes {
        assert_eq!(EXAMPLE.matches(from).count(), 1, "\"{from}\" must stand once in the example");
        let broken = load::interview(&EXAMPLE.replace(from, to), Path::new("boat"), Format::Ron);
        all.push_str(&format!("# {title}\n{}\n\n", told(broken)));
    }
    insta::assert_snapshot!("broken_interviews", all);
}

#[test]
fn a_broken_tape_in_a_plan_is_told_where_and_what() {
    let ron: &[Change<'_>] = &[
        ("unknown figure of a station", "bottom_width: [Mm(560)]", "botom_width: [Mm(560)]"),
        ("a figure that is missing", "gunwale: (guess: Mm(378)),", ""),
        ("a figure that is empty", "gunwale: (guess: Mm(378))", "gunwale: []"),
        ("no rounding", "rounding: (value: 1.26, origin: Guess),", ""),
        ("a well of no zone", "zone: 13, depth", "zone: 99, depth"),
        ("a well twice", "zone: 13, depth", "zone: 15, depth"),
        ("a station beyond its neighbour", "x: Mm(1000)", "x: Mm(1701)"),
        ("a number for the form", "form: (", "form: 7, tape: ("),
        ("a word for the form", "form: (", "form: Round, tape: ("),
    ];
    let json: &[Change<'_>] = &[
        ("unknown figure of a station", "\"bottom_width\": [", "\"botom_width\": ["),
        ("an unknown unit", "\"M\": 3.4\n        }\n      ],", "\"Cubit\": 7\n        }\n      ],"),
        (
            "a reading that is no list",
            "\"length\": [\n        {\n          \"M\": 3.4\n        }\n      ]",
            "\"length\": {\n        \"M\": 3.4\n      }",
        ),
        ("a number for the form", "\"form\": {", "\"form\": 7, \"tape\": {"),
    ];
    let plan = creek_boat();
    let mut all = String::new();
    for (format, changes) in [(Format::Ron, ron), (Format::Json, json)] {
        let good = write::plan(&plan, format).unwrap();
        for (title, from, to) in changes {
            assert!(good.contains(from), "\"{from}\" must stand in {good:.3000}");
            let broken = load::plan(&good.replacen(from, to, 1), Path::new("boat"), format);
            all.push_str(&format!("# {title}, {format:?}\n{}\n\n", told(broken)));
        }
    }
    insta::assert_snapshot!("broken_tapes", all);
}

#[test]
fn floods_of_measuring_are_refused_at_once() {
    let many = |piece: &str, count: usize| piece.repeat(count);
    let plan = write::plan(&creek_boat(), Format::Ron).unwrap();
    let floods = [
        ("readings", plan.replacen("[M(3.4)]", &format!("[{}]", many("M(3.4),", 200_000)), 1)),
        (
            "stations",
            plan.replacen("stations: [", &format!("stations: [{}", many("(x: Mm(1), width: [Mm(1)]),", 50_000)), 1),
        ),
        ("wells", plan.replacen("wells: [", &format!("wells: [{}", many("(zone: 13, depth: [Mm(9)]),", 50_000)), 1)),
        ("brackets", plan.replacen("[M(3.4)]", &many("[", 100_000), 1)),
        ("sections and a tape", plan.replacen("form: (", &format!("form: [{}], tape: (", many("(),", 1000)), 1)),
    ];
    let mut all = String::new();
    for (title, text) in floods {
        all.push_str(&format!("# {title}\n{}\n\n", told(load::plan(&text, Path::new("boat"), Format::Ron))));
    }
    insta::assert_snapshot!("tape_floods", all);
}

/// The corpus has a plan as the first format wrote it. It reads as it stands and is saved in the present one.
#[test]
fn a_plan_of_the_first_format_is_read_and_saved_as_the_present_one() {
    let text = include_str!("corpus/format-1.ron");
    assert!(text.starts_with("(\n    format: 1,\n"), "{text:.40}");
    let plan = load::plan(text, Path::new("format-1.ron"), Format::Ron).unwrap();
    assert_eq!((plan.format, plan.hull.form.tape()), (FORMAT, None));
    assert_eq!(plan.hull.form.sections.len(), 3);
    assert_eq!(plan.hull, good().hull);
    let saved = write::plan(&plan, Format::Ron).unwrap();
    assert!(saved.contains("\n    format: 2,\n"), "{saved:.200}");
    assert_eq!(load::plan(&saved, Path::new("saved.ron"), Format::Ron), Ok(plan));
    for (number, says) in [("0", "there is no format 0"), ("3", "written by a newer gunnel: format 3")] {
        let other = text.replacen("format: 1", &format!("format: {number}"), 1);
        assert!(told(load::plan(&other, Path::new("boat"), Format::Ron)).contains(says));
    }
}
