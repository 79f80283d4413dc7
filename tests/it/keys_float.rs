//! How the boat floats, on the screen: side views, the Float panel, the water laid over, gear in hand.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::plan::{FeatureKind, Plan};
use gunnel::tui::app::{Focus, SideView, Thing};
use gunnel::tui::areas::Areas;
use gunnel::tui::panels::PanelKind;

use crate::boats::{demo, rich};
use crate::stage::Stage;

fn stage(columns: u16, rows: u16) -> Stage {
    Stage::on(demo("seat-test.ron")).sized(columns, rows)
}

/// The line of the screen that starts with these words.
fn line(stage: &Stage, words: &str) -> String {
    let lines = stage.lines();
    let found = lines.iter().find(|line| line.trim_start().starts_with(words));
    found.unwrap_or_else(|| panic!("no {words} in\n{}", lines.join("\n"))).clone()
}

#[test]
fn v_turns_between_profile_and_section() {
    let mut stage = stage(120, 40);
    assert!(!stage.shows("seen from aft"));
    stage.play("v");
    assert!(stage.shows("section at 1950 mm") && stage.shows("seen from aft"));
    stage.play("right");
    assert!(stage.shows("section at 1975 mm"));
    stage.play("v");
    assert!(!stage.shows("seen from aft"));
}

#[test]
fn in_little_room_side_views_take_the_place_of_meters_and_findings() {
    let mut stage = stage(80, 24);
    assert!(stage.shows("6 Float") && stage.shows("Findings"));
    stage.play("v");
    assert_eq!(stage.editor().side, SideView::Profile);
    assert!(!stage.shows("6 Float") && !stage.shows("Findings") && Areas::of(&stage.app).profile.height >= 8);
    stage.play("v");
    assert!(stage.shows("seen from aft"));
    // A list that is opened is not hidden by the picture.
    stage.play("5");
    assert!(stage.shows("Findings"));
    stage.play("esc v");
    assert!(stage.shows("6 Float") && stage.shows("Findings"));
}

#[test]
fn the_section_tells_the_heights_of_the_study() {
    let mut stage = stage(120, 40);
    stage.go(1500.0, 0.0).play("v");
    let (plan, levels) = (stage.plan(), &stage.editor().session.study().float.levels);
    let (half, rim) = plan.hull.form.gunwale(1500.0).unwrap();
    let height = |y: f64| levels.height(gunnel::geometry::Point::new(1500.0, y, rim));
    let starboard = format!("gunwale, starboard {:.0} mm over water", height(-half));
    assert!(stage.shows(&starboard), "{starboard}\n{}", stage.lines().join("\n"));
    assert!(stage.lines().iter().any(|line| {
        line.contains("gunwale, port") && line.contains(&format!("{:.0} mm over water", height(half)))
    }));
}

#[test]
fn six_opens_the_float_and_tab_comes_by() {
    let mut stage = stage(120, 40);
    assert!(!stage.shows("load case") && stage.shows("Power budget"));
    stage.play("6");
    assert_eq!(stage.editor().focus, Focus::Panel(PanelKind::Float));
    assert!(stage.shows("load case") && !stage.shows("Power budget") && stage.shows("Findings"));
    stage.play("6");
    assert_eq!(stage.editor().focus, Focus::Deck);
    stage.play("4 tab");
    assert_eq!(stage.editor().focus, Focus::Panel(PanelKind::Float));
}

#[test]
fn the_panel_says_what_the_study_says() {
    let mut stage = stage(120, 40);
    stage.play("6");
    let study = stage.editor().session.study();
    for case in study.float.cases.as_ref().unwrap() {
        // The table stands at the right of its lines.
        let lines = stage.lines();
        let name = format!("  {} ", case.name);
        let told = lines.iter().find_map(|line| line.split_once(&name).map(|(_, rest)| rest.to_string())).unwrap();
        let words: Vec<&str> = told.split_whitespace().collect();
        assert_eq!(words[0], format!("{:.0}", case.load.mass_kg), "{}", case.name);
        if let Ok(rest) = case.rest {
            assert_eq!(words[1], format!("{:.0}", rest.draft_aft_mm), "{}", case.name);
            assert_eq!(words[2], format!("{:.0}", rest.draft_fore_mm), "{}", case.name);
        }
    }
    let rest = study.float.rest().unwrap();
    let float = line(&stage, "Float");
    assert!(
        float.contains(&format!("draft aft {:.0}  fore {:.0} mm", rest.draft_aft_mm, rest.draft_fore_mm)),
        "{float}"
    );
    assert!(stage.shows(&format!("{:.1} kg", rest.kg_per_cm)));
}

#[test]
fn every_row_can_be_reached_where_there_is_little_room() {
    let mut stage = stage(80, 24);
    stage.play("6");
    assert!(stage.shows("GM seated low") && stage.shows("righting lever") && !stage.shows("load case"));
    stage.play("pagedown*4");
    let last = line(&stage, "standing");
    assert!(last.contains("147"), "{last}");
    stage.play("home pageup*4");
    assert!(stage.shows("GM seated low"));
}

#[test]
fn a_row_about_a_floor_or_a_drain_lights_it_up() {
    let mut stage = stage(80, 24);
    stage.play("6");
    let mut seen = Vec::new();
    for _ in 0..30 {
        stage.play("down");
        seen.extend(stage.editor().chosen);
    }
    let scupper = |thing: &Thing| match thing {
        Thing::Feature(id) => matches!(stage.plan().feature(*id).unwrap().kind, FeatureKind::Scupper { .. }),
        _ => false,
    };
    assert!(seen.iter().any(scupper), "{seen:?}");
    assert!(seen.iter().any(|thing| matches!(thing, Thing::Zone(_))), "{seen:?}");
}

#[test]
fn a_click_in_the_open_panel_chooses_the_row_under_it() {
    for (columns, rows, before) in [(120, 40, "6"), (80, 24, "6 pagedown*2"), (200, 60, "")] {
        let mut stage = stage(columns, rows);
        stage.play(before);
        let lines = stage.lines();
        let (y, text) = lines.iter().enumerate().find(|(_, line)| line.contains("battery out")).unwrap();
        let column = text.chars().count() - text[text.find("battery out").unwrap()..].chars().count();
        stage.play(&format!("click:{column}:{y}"));
        let from = gunnel::tui::panels::Sources {
            plan: stage.plan(),
            study: stage.editor().session.study(),
            findings: stage.findings(),
            before: None,
            tape: stage.app.look.tape,
        };
        let panel = gunnel::tui::panels::Panel::of(PanelKind::Float, from);
        assert_eq!(stage.editor().focus, Focus::Panel(PanelKind::Float), "{columns}x{rows}");
        let row = stage.editor().rows[PanelKind::Float.index()];
        assert_eq!(panel.rows[row].label, "battery out", "{columns}x{rows}");
    }
}

#[test]
fn what_an_edit_changed_is_told_until_the_next() {
    let mut stage = stage(120, 40);
    stage.play("/ \"battery\" enter");
    let before = *stage.editor().session.study().float.rest().unwrap();
    stage.play("space shift-left*3 enter");
    let after = *stage.editor().session.study().float.rest().unwrap();
    let float = line(&stage, "Float");
    let aft = format!("draft aft {:.0} → {:.0}", before.draft_aft_mm, after.draft_aft_mm);
    assert!(float.contains(&aft), "{aft}: {float}");
    stage.play("M");
    assert!(!line(&stage, "Float").contains(&aft));
}

#[test]
fn gear_in_hand_tells_trim_and_list_as_it_moves() {
    let mut stage = stage(120, 40);
    stage.play("/ \"battery\" enter space shift-left*4 shift-down");
    let now = *stage.editor().session.study().float.rest().unwrap();
    let then = stage.editor().hand.as_ref().unwrap().preview.as_ref().unwrap().rest.unwrap();
    assert!((then.trim_deg - now.trim_deg).abs() > 0.1 && (then.heel_deg - now.heel_deg).abs() > 0.1);
    let words = line(&stage, "1");
    assert!(words.contains(&format!("trim {:.1} → {:.1} deg by the stern", -now.trim_deg, -then.trim_deg)), "{words}");
    assert!(words.contains(&format!("list {:.1} → {:.1} deg to starboard", now.heel_deg, then.heel_deg)), "{words}");
    // Where little room is left, the greater change is told, and whole.
    stage.play("size:80x24");
    let words = line(&stage, "1");
    assert!(words.ends_with("to starboard") && !words.contains("trim"), "{words}");
}

/// The boat with its footwell floor so low that water stands on it.
fn low_floor() -> Plan {
    let mut plan = demo("seat-test.ron");
    let hull = &mut plan.hull;
    let mut lowered = (**hull).clone();
    for zone in lowered.zones.iter_mut().filter(|zone| zone.name.as_str() == "footwell floor") {
        zone.height.value = gunnel::units::Length::mm(80.0);
    }
    for feature in &mut lowered.features {
        if matches!(feature.kind, FeatureKind::Scupper { .. }) && feature.name.as_str().contains("footwell") {
            feature.at_mm.z = 80.0;
        }
    }
    *hull = lowered.into();
    plan
}

#[test]
fn a_scupper_that_lets_water_in_is_marked_and_told() {
    let mut stage = Stage::on(low_floor()).sized(120, 40);
    let scuppers = &stage.editor().session.study().float.levels.scuppers;
    let wet: Vec<_> = scuppers.iter().filter(|scupper| scupper.height_mm < 0.0).copied().collect();
    assert!(!wet.is_empty());
    for scupper in &wet {
        let cell = stage.cell(scupper.at.x, scupper.at.y);
        assert_eq!(stage.buffer()[cell].symbol(), "◍");
    }
    let told = format!("{:.0} mm under water", wet[0].height_mm.abs());
    stage.play("size:80x24 6 pagedown pagedown");
    assert!(stage.shows(&told), "{told}\n{}", stage.lines().join("\n"));
    let name = stage.plan().feature(wet[0].feature).unwrap().name.to_string();
    // The first that matches is the finding about its floor.
    stage.play(&format!("esc / \"{name}\" down enter enter"));
    let seen = stage.lines().join("\n");
    assert!(stage.shows("upper end at rest") && stage.shows(&told) && stage.shows("heeled 15 deg"), "{told}\n{seen}");
}

#[test]
fn the_water_laid_over_tells_how_high_holes_are() {
    let mut stage = Stage::on(rich()).sized(120, 40);
    stage.play("~");
    assert!(stage.shows("heights over the water at rest"));
    let holes = &stage.editor().session.study().holes.holes;
    let own = holes.iter().find(|hole| matches!(hole.id, gunnel::study::rig::HoleRef::Own(_))).unwrap();
    assert!(stage.shows(&format!("{:.0}", own.above_water_mm)));
    stage.play("~");
    assert!(!stage.shows("heights over the water at rest"));
}

#[test]
fn inches_are_for_the_float_too() {
    let mut stage = stage(120, 40);
    stage.play("' 6");
    let rest = stage.editor().session.study().float.rest().unwrap();
    let fore = gunnel::units::fraction_of_inch(rest.draft_fore_mm);
    assert!(line(&stage, "Float").contains(&format!("fore {fore} in")));
    assert!(stage.shows("sinks 1 in by") && stage.shows(&format!("{:.1} kg", rest.kg_per_cm * 2.54)));
}
