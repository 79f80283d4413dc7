//! `gunnel float` from outside: what it answers, what it refuses, and that other programs find the same.

use std::fs;

use gunnel::catalogue::hulls;
use gunnel::scenarios::SCENARIOS;
use serde_json::{Value, json};

use crate::float_mesh::{DEGREES, MILLIMETRES, expected};
use crate::home::{Home, code, errors, json, out, shape_of, transcript, units_are_named};

/// A box 3.6 x 0.85 x 0.30 m.
fn block() -> String {
    let section = |x_mm: f64| json!({"x_mm": x_mm, "points_mm": [[0.0, 0.0], [425.0, 0.0], [425.0, 300.0]]});
    json!({"sections": [section(0.0), section(3600.0)]}).to_string()
}

fn home() -> Home {
    let home = Home::new();
    home.file("box.json", &block());
    home
}

#[test]
fn a_hull_afloat_reads_as_a_page() {
    let home = home();
    insta::assert_snapshot!("float_help", transcript(&home, &["float", "-h"]));
    insta::assert_snapshot!(
        "float_box",
        transcript(&home, &["float", "box.json", "--mass", "180", "--at", "1800,0,350"])
    );
    let listed = ["float", "angler-10", "--mass", "130", "--at", "1300,-15,330", "--water", "1025"];
    insta::assert_snapshot!("float_class", transcript(&home, &listed));
    let top_heavy = ["float", "box.json", "--mass", "600", "--at", "1800,0,600"];
    insta::assert_snapshot!("float_unstable", transcript(&home, &top_heavy));
}

/// The box by hand: draft `m / (rho L B)`, KB half of it, BM `B² / 12 d`, 3.6 x 0.85 m² of water, the deck's edge under
/// at `atan 0.9`; the moment to trim is `m GM_L / 100 L` with GM_L 18.0394 m. Heeled levers by the section cut exactly.
#[test]
fn the_document_has_the_figures_of_a_box() {
    let home = home();
    let output = home.run(&["float", "box.json", "--mass", "180", "--at", "1800,0,350", "--json"]);
    assert_eq!((code(&output), errors(&output)), (0, ""));
    let document = json(&output);
    for (key, figure) in [
        ("mass_kg", 180.0),
        ("water_kg_per_m3", 1000.0),
        ("displacement_kg", 180.0),
        ("draft_fore_mm", 58.824),
        ("draft_aft_mm", 58.824),
        ("draft_mean_mm", 58.824),
        ("heel_deg", 0.0),
        ("trim_deg", 0.0),
        ("lcb_mm", 1800.0),
        ("kb_mm", 29.412),
        ("bm_mm", 1023.542),
        ("gm_mm", 702.953),
        ("waterplane_m2", 3.06),
        ("kg_per_cm", 30.6),
        ("moment_to_trim_1cm_kgm", 9.020),
        ("freeboard_min_mm", 241.176),
        ("downflood_deg", 41.987),
    ] {
        let found = document[key].as_f64().expect(key);
        assert!((found - figure).abs() < 1.0e-3, "{key}: {found} is not {figure}");
    }
    let heels: Vec<_> = levers(&document).iter().map(|(heel, _)| *heel).collect();
    assert_eq!(heels, (0..=12).map(|step| 5.0 * f64::from(step)).collect::<Vec<_>>());
    for (heel, gz) in [(5.0, 61.61), (10.0, 118.24), (15.0, 137.36), (20.0, 137.23), (30.0, 112.97)] {
        let lever = lever_at(&document, heel);
        assert!((lever - gz).abs() < 0.01, "{heel} deg: {lever}");
    }
    units_are_named("", &document);
    let mut shape = Vec::new();
    shape_of("", &document, &mut shape);
    insta::assert_snapshot!("float_json_keys", shape.join("\n"));
}

fn levers(document: &Value) -> Vec<(f64, f64)> {
    let figure = |lever: &Value, key: &str| lever[key].as_f64().expect("a figure");
    let all = document["gz"].as_array().expect("levers");
    all.iter().map(|lever| (figure(lever, "heel_deg"), figure(lever, "gz_mm"))).collect()
}

fn lever_at(document: &Value, heel: f64) -> f64 {
    levers(document).into_iter().find(|(at, _)| *at == heel).expect("a lever at this heel").1
}

/// Expected values: `float_mesh/generate.py`, by trimesh and scipy.
#[test]
fn offsets_float_as_general_libraries_say() {
    let home = Home::new();
    let near = |what: &str, found: &Value, meshed: f64, tolerance: f64| {
        let found = found.as_f64().expect(what);
        assert!((found - meshed).abs() <= tolerance, "{what}: {found} is not {meshed}");
    };
    let bodies = expected().bodies;
    for name in ["wigley", "round-bottomed", "pontoon"] {
        let meshed = bodies.iter().find(|body| body.name == name).expect("the body");
        home.file("offsets.json", &json!({"sections": meshed.sections}).to_string());
        for case in &meshed.cases {
            let [x, y, z] = case.centre_mm;
            let (mass, at) = (case.mass_kg.to_string(), format!("{x},{y},{z}"));
            let output = home.run(&["float", "offsets.json", "--mass", &mass, "--at", &at, "--json"]);
            assert_eq!(code(&output), 0, "{}", out(&output));
            let found = json(&output);
            let what = |key: &str| format!("{name} with {mass} kg at {at}, {key}");
            near(&what("displacement"), &found["displacement_kg"], case.mass_kg, 1.0e-3);
            near(&what("heel"), &found["heel_deg"], case.rest.heel_deg, DEGREES);
            near(&what("trim"), &found["trim_deg"], case.rest.trim_deg, DEGREES);
            near(&what("aft"), &found["draft_aft_mm"], case.rest.draft_aft_mm, MILLIMETRES);
            near(&what("fore"), &found["draft_fore_mm"], case.rest.draft_fore_mm, MILLIMETRES);
            near(&what("lcb"), &found["lcb_mm"], case.rest.buoyancy_mm[0], MILLIMETRES);
            near(&what("kb"), &found["kb_mm"], case.rest.buoyancy_mm[2], MILLIMETRES);
            let heels = case.held.iter().filter(|held| (held.heel_deg % 5.0).min(5.0 - held.heel_deg % 5.0) < 1.0e-9);
            let compared = heels.map(|held| {
                let lever = lever_at(&found, held.heel_deg.round());
                near(&what(&format!("lever at {} deg", held.heel_deg)), &json!(lever), held.gz_mm, MILLIMETRES);
            });
            assert_eq!(compared.count(), 4, "levers at 10, 25, 40 and 60 deg");
        }
    }
}

#[test]
fn every_kind_of_file_is_a_hull() {
    let home = home();
    let (mass, at) = (["--mass", "120"], ["--at", "1500,0,250"]);
    let float = |hull: &str| json(&home.run(&[&["float", hull], &mass[..], &at[..], &["--json"]].concat()));
    let text = fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/assets/hulls/sea-13.ron")).expect("a class");
    home.file("class.ron", &text);
    let class = hulls().iter().find(|class| class.key().as_str() == "sea-13").expect("the class");
    home.file("hull.ron", &ron::to_string(&class.hull).expect("RON"));
    home.file("hull.json", &serde_json::to_string(&class.hull).expect("JSON"));
    home.file("offsets.json", &json!({"sections": class.hull.form}).to_string());
    home.file(".local/share/gunnel/hulls/mine.ron", &text.replacen("\"sea-13\"", "\"my-own\"", 1));
    home.run(&["new", "--hull", "sea-13", "-o", "plan.ron"]);
    home.run(&["new", "--hull", "sea-13", "-o", "plan.json"]);
    let named = float("sea-13");
    assert_eq!(named["hull"], "13 ft paddle, open water");
    for hull in ["class.ron", "hull.ron", "hull.json", "plan.ron", "plan.json", "my-own"] {
        assert_eq!(float(hull), named, "{hull}");
    }
    let mut offsets = float("offsets.json");
    assert_eq!(offsets["hull"].take(), "offsets.json");
    // Heeled so far that a well takes water, the hull has less to right it than its offsets, which know of no wells.
    let levers = |from: &Value| -> Vec<f64> {
        from["gz"].as_array().expect("levers").iter().map(|arm| arm["gz_mm"].as_f64().expect("mm")).collect()
    };
    let (decked, welled) = (levers(&offsets), levers(&named));
    assert_eq!(decked[..4], welled[..4]);
    assert!(decked[4..].iter().zip(&welled[4..]).all(|(decked, welled)| welled < decked));
    let piped = [&["float", "-"], &mass[..], &at[..], &["--json"]].concat();
    let mut piped = json(&home.run_with_input(&piped, json!({"sections": class.hull.form}).to_string().as_bytes()));
    assert_eq!(piped["hull"].take(), "standard input");
    assert_eq!(piped, offsets);
}

#[test]
fn what_does_not_float_is_told() {
    let home = home();
    let section = r#"{"x_mm":0,"points_mm":[[0,0],[425,0],[425,300]]}"#;
    let folded = "[0,0],[425,300],[425,0],[0,300]";
    let many = vec!["[1,2]"; 2001].join(",");
    for (name, text) in [
        ("one.json", format!(r#"{{"sections":[{section}]}}"#)),
        ("none.json", r#"{"sections":[]}"#.into()),
        ("length.json", format!(r#"{{"sections":[{section},{section}]}}"#)),
        (
            "folded.json",
            format!(r#"{{"sections":[{{"x_mm":0,"points_mm":[{folded}]}},{{"x_mm":9,"points_mm":[{folded}]}}]}}"#),
        ),
        (
            "inside-out.json",
            r#"{"sections":[{"x_mm":0,"points_mm":[[425,300],[425,0],[0,0]]},{"x_mm":9,"points_mm":[[425,300],[425,0],[0,0]]}]}"#
                .into(),
        ),
        ("far.json", format!(r#"{{"sections":[{section},{{"x_mm":1e8,"points_mm":[[0,0],[425,0]]}}]}}"#)),
        ("nan.json", r#"{"sections":[{"x_mm":NaN,"points_mm":[[0,0]]}]}"#.into()),
        ("field.json", r#"{"sections":[{"xmm":0,"points_mm":[[0,0]]}]}"#.into()),
        ("outer.json", r#"{"section":[]}"#.into()),
        ("more.json", format!(r#"{{"sections":[{section}],"name":"box"}}"#)),
        ("three.json", r#"{"sections":[{"x_mm":0,"points_mm":[[0,0,0]]}]}"#.into()),
        ("long.json", format!(r#"{{"sections":[{{"x_mm":0,"points_mm":[{many}]}}]}}"#)),
        ("empty.json", String::new()),
        ("short.json", r#"{"sections":[{"x_mm":0,"#.into()),
    ] {
        home.file(name, &text);
        let output = home.run(&["float", name, "--mass", "180", "--at", "1800,0,350"]);
        assert_eq!((code(&output), out(&output)), (3, ""), "{name}: {}", errors(&output));
    }
    let asked: &[&[&str]] = &[
        &["one.json", "--mass", "180", "--at", "1800,0,350"],
        &["length.json", "--mass", "180", "--at", "1800,0,350"],
        &["folded.json", "--mass", "180", "--at", "1800,0,350"],
        &["inside-out.json", "--mass", "180", "--at", "1800,0,350"],
        &["far.json", "--mass", "180", "--at", "1800,0,350"],
        &["field.json", "--mass", "180", "--at", "1800,0,350"],
        &["outer.json", "--mass", "180", "--at", "1800,0,350"],
        &["more.json", "--mass", "180", "--at", "1800,0,350"],
        &["three.json", "--mass", "180", "--at", "1800,0,350"],
        &["long.json", "--mass", "180", "--at", "1800,0,350"],
        &["box.json", "--mass", "919", "--at", "1800,0,350"],
        &["box.json", "--mass", "919", "--at", "1800,0,350", "--json"],
        &["box.json", "--mass", "180", "--at", "1800,5,3500"],
        &["box.json", "--mass", "180", "--at", "9000,0,350"],
        &["box.json", "--mass", "180", "--at", "1800,900000,350"],
        &["box.json", "--mass", "0", "--at", "1800,0,350"],
        &["box.json", "--mass", "-5", "--at", "1800,0,350"],
        &["box.json", "--mass", "NaN", "--at", "1800,0,350"],
        &["box.json", "--mass", "1e-9", "--at", "1800,0,350"],
        &["box.json", "--mass", "180", "--at", "1800,0"],
        &["box.json", "--mass", "180", "--at", "1800,,350"],
        &["box.json", "--mass", "180", "--at", "-inf,0,350"],
        &["box.json", "--mass", "180", "--at", "1800,0,350", "--water", "1.025"],
        &["box.json", "--mass", "180"],
        &["angler-12", "--mass", "180", "--at", "1800,0,350"],
        &[".", "--mass", "180", "--at", "1800,0,350"],
    ];
    let told = |arguments: &&[&str]| transcript(&home, &[&["float"], *arguments].concat());
    insta::assert_snapshot!("float_mistakes", asked.iter().map(told).collect::<Vec<_>>().join("\n"));
}

/// The exit codes that the help names, and that nothing but JSON's own error goes to standard output.
#[test]
fn the_exit_code_says_whose_fault_it_is() {
    let home = home();
    for (mass, at, expected) in [
        ("917", "1800,0,100", 0),
        ("918.1", "1800,0,100", 1),
        ("180", "1800,5,3500", 1),
        ("180", "-9000,0,350", 1),
        ("0", "1800,0,350", 2),
        ("inf", "1800,0,350", 2),
        ("180", "1e9,0,350", 2),
    ] {
        let plain = home.run(&["float", "box.json", "--mass", mass, "--at", at]);
        assert_eq!(code(&plain), expected, "{mass} kg at {at}: {}", errors(&plain));
        assert_eq!(out(&plain).is_empty(), expected > 0);
        let document = json(&home.run(&["float", "box.json", "--mass", mass, "--at", at, "--json"]));
        let schema = if expected > 0 { "gunnel.error/1" } else { "gunnel.float/1" };
        assert_eq!(document["schema"], schema);
        assert_eq!(document["exit_code"], if expected > 0 { json!(expected) } else { Value::Null });
    }
}

/// The keys promised for each load case, and that a plan's study and the bare hull cannot disagree: `gm_mm` of a plan
/// has lost what its livewells take, its water comes in by hatches too.
#[test]
fn the_load_cases_of_a_plan_float_as_its_bare_hull() {
    let home = Home::new();
    for scenario in SCENARIOS {
        home.file("plan.ron", scenario.text);
        let study = json(&home.run(&["check", "plan.ron", "--json"]))["study"].take();
        let water = study["float"]["water_kg_per_m3"].to_string();
        let cases = study["float"]["cases"].as_array().expect("load cases");
        if scenario.file == SCENARIOS[0].file {
            let mut shape = Vec::new();
            shape_of("", &study["float"], &mut shape);
            insta::assert_snapshot!("float_case_keys", shape.join("\n"));
        }
        assert_eq!(cases.len(), study["weights"]["cases"].as_array().expect("masses").len() - 1, "all but transport");
        for case in cases {
            let masses = study["weights"]["cases"].as_array().expect("masses");
            let mass = masses.iter().find(|mass| mass["name"] == case["name"]).expect("its mass");
            let at = ["x_mm", "y_mm", "z_mm"].map(|key| mass["centre"][key].to_string()).join(",");
            let kg = mass["mass_kg"].to_string();
            let asked = ["float", "plan.ron", "--mass", &kg, "--at", &at, "--water", &water, "--json"];
            let bare = json(&home.run(&asked));
            let what =
                |key: &str| format!("{}, {}, {key}: {} and {}", scenario.file, case["name"], case[key], bare[key]);
            if !case["trouble"].is_null() {
                assert_eq!((&bare["exit_code"], &case["heel_deg"]), (&json!(1), &Value::Null), "{}", what("trouble"));
                continue;
            }
            for key in [
                "displacement_kg",
                "draft_fore_mm",
                "draft_aft_mm",
                "draft_mean_mm",
                "heel_deg",
                "trim_deg",
                "lcb_mm",
                "kb_mm",
                "bm_mm",
                "gm_mm",
                "waterplane_m2",
                "kg_per_cm",
                "moment_to_trim_1cm_kgm",
                "freeboard_min_mm",
            ] {
                let loss = if key == "gm_mm" { case["free_surface_mm"].as_f64().expect("a loss") } else { 0.0 };
                let apart = case[key].as_f64().expect(key) + loss - bare[key].as_f64().expect(key);
                assert!(apart.abs() < 0.02, "{}", what(key));
            }
            let pairs = levers(case).into_iter().zip(levers(&bare));
            assert!(pairs.into_iter().all(|((_, a), (_, b))| (a - b).abs() < 0.02), "{}", what("gz"));
            assert!(case["downflood_deg"].is_null() || case["downflood_deg"].is_f64(), "{}", what("downflood_deg"));
        }
    }
}
