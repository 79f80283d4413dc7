//! Finding one's way by keys: jumps, findings, panels, pages, the history, saving and leaving.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::geometry::Spot;
use gunnel::plan::{FeatureId, Mount};
use gunnel::tui::app::{Focus, Thing};
use gunnel::tui::layer::Layer;
use gunnel::tui::panels::PanelKind;
use gunnel::tui::update::Effect;

use crate::boats::{bare, demo, rich};
use crate::keys::{TRACK, with_display};
use crate::stage::Stage;

#[test]
fn typing_jumps_to_a_feature() {
    let mut stage = Stage::on(bare());
    stage.play("/ \"bow hatch\" enter");
    assert_eq!(stage.editor().thing(), Some(Thing::Feature(FeatureId(18))));
    assert_eq!(stage.editor().cursor, Spot::new(3020.0, 0.0));
    assert!(stage.shows("bow hatch"));
}

#[test]
fn findings_are_walked_and_lit() {
    let mut stage = Stage::on(rich());
    let count = stage.findings().len();
    assert!(count > 3, "{count}");
    for at in 0..count {
        stage.play("n");
        let finding = &stage.findings()[at];
        assert_eq!(stage.editor().finding, Some(at));
        if let Some(place) = finding.at {
            assert!(stage.editor().cursor.distance(place.spot()) < 1e-6, "{finding:?}");
        }
        if let Some(id) = finding.subject.gear() {
            assert_eq!(stage.editor().thing(), Some(Thing::Gear(id)));
        }
    }
    stage.play("n");
    assert_eq!(stage.editor().finding, Some(0), "it goes round");
    stage.play("N");
    assert_eq!(stage.editor().finding, Some(count - 1));
}

#[test]
fn a_row_of_a_panel_lights_its_place() {
    let mut stage = Stage::on(rich()).sized(120, 40);
    for key in ["1", "2", "3", "4"] {
        stage.play("esc").play(key);
        let Focus::Panel(kind) = stage.editor().focus else { panic!("{key} opens no panel") };
        let mut lit = Vec::new();
        for _ in 0..30 {
            stage.play("down");
            if let Some(thing) = stage.editor().chosen {
                let spot = stage.editor().spot_of(thing).unwrap();
                assert_eq!(stage.editor().cursor, spot, "{thing:?}");
                if !lit.contains(&thing) {
                    lit.push(thing);
                }
            }
        }
        assert!(lit.len() >= 2, "{} lights {lit:?}", kind.title());
    }
}

#[test]
fn what_is_under_the_cursor_lights_its_row() {
    let mut stage = Stage::on(rich()).sized(120, 40);
    let row = |stage: &Stage| {
        let picture = stage.picture();
        let at = picture.lines.iter().rposition(|line| line.contains("9-inch display")).unwrap();
        picture.runs[at].clone()
    };
    stage.go(100.0, 0.0);
    let dark = row(&stage);
    stage.go(TRACK.0, TRACK.1);
    assert_ne!(row(&stage), dark);
}

/// A camera stands on the boom that the second finding is about: the keys act on the boom, so it is named.
#[test]
fn the_words_name_what_the_keys_act_on() {
    let mut stage = Stage::on(demo("seat-test.ron")).sized(120, 40);
    stage.play("n n");
    let boom = stage.gear("camera boom").id;
    assert_eq!(stage.editor().gear(), Some(boom));
    assert!(stage.shows("camera boom, "), "{}", stage.lines().join("\n"));
}

#[test]
fn explaining_shows_the_check_of_what_is_under_the_cursor() {
    let mut stage = Stage::on(rich()).sized(120, 40);
    stage.play("n x");
    let check = stage.findings()[0].check;
    assert!(matches!(stage.app.layers.last(), Some(Layer::Page(page)) if page.title == check));
    stage.play("esc");
    assert!(stage.app.layers.is_empty());
}

#[test]
fn the_end_of_a_long_page_can_be_read_at_the_least_size() {
    let mut stage = Stage::on(rich()).sized(60, 16);
    stage.play("n x end");
    let Some(Layer::Page(page)) = stage.app.layers.last() else { panic!("no page") };
    let last = page.lines.iter().rfind(|line| !line.is_empty()).unwrap().split_whitespace().last().unwrap().to_string();
    assert!(stage.shows(&last), "{last}\n{}", stage.lines().join("\n"));
}

#[test]
fn the_history_goes_back_to_a_step_by_name() {
    let mut stage = with_display();
    stage.play("m R ctrl-u \"sounder\" enter H \"as opened\" enter");
    assert!(stage.plan().gear.is_empty());
    stage.play("H \"rename\" enter");
    assert_eq!(stage.gear("sounder").mount, Mount::Bolts);
}

#[test]
fn saving_asks_for_a_name_only_where_there_is_none() {
    let mut stage = Stage::on(bare());
    stage.play("ctrl-s");
    assert_eq!(stage.effects, [Effect::Save]);
    let mut stage = Stage::with_file(bare(), Default::default());
    stage.play("ctrl-s enter");
    assert_eq!(stage.effects, [Effect::SaveAs("quiet-water.ron".into(), false)]);
}

#[test]
fn leaving_asks_only_when_something_would_be_lost() {
    let mut stage = Stage::on(bare());
    stage.play("q");
    assert_eq!(stage.effects, [Effect::Quit]);
    let mut stage = with_display();
    stage.play("q c");
    assert!(stage.effects.is_empty() && stage.app.layers.is_empty());
    stage.play("q enter q q");
    assert!(stage.effects.is_empty(), "keys typed ahead answer nothing");
    stage.play("s");
    assert_eq!(stage.effects, [Effect::SaveAndQuit]);
    let mut stage = with_display();
    stage.play("u q");
    assert_eq!(stage.effects, [Effect::Quit], "all is undone");
}

#[test]
fn the_start_screen_opens_what_its_row_says() {
    let mut stage = Stage::start();
    let demos = stage.app.demos.len();
    stage.play("end down*99 up*99");
    stage.play(&format!("down*{demos}")).play("enter");
    assert_eq!(stage.effects, [Effect::NewPlan("compact-9".into())]);
}

#[test]
fn a_panel_stays_chosen_by_number_and_by_going_round() {
    let mut stage = Stage::on(rich());
    stage.play("tab");
    assert_eq!(stage.editor().focus, Focus::Findings);
    stage.play("tab*2");
    assert_eq!(stage.editor().focus, Focus::Panel(PanelKind::Penetrations));
    stage.play("shift-tab*3");
    assert_eq!(stage.editor().focus, Focus::Deck);
    stage.play("4 4");
    assert_eq!(stage.editor().focus, Focus::Deck, "the same number again closes it");
}
