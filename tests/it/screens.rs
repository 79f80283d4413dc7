//! Whole screens as reviewed snapshots: what is said, where it stands, and in which style.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::tui::glyphs::Glyphs;
use gunnel::tui::theme::{Depth, Ground, Theme};

use crate::boats::demo;
use crate::keys_conflicts::both_changed;
use crate::keys_level::by_the_stern;
use crate::keys_lights::lit;
use crate::keys_seat::far;
use crate::stage::Stage;

/// The sizes at which the three arrangements are complete.
const SIZES: [(u16, u16); 3] = [(80, 24), (120, 40), (200, 60)];

fn bare_hull() -> Stage {
    Stage::on(demo("bare-hull.ron"))
}

fn seat_test() -> Stage {
    Stage::on(demo("seat-test.ron"))
}

/// The screen that a script leads to, at each of the sizes.
fn check(name: &str, stage: fn() -> Stage, script: &str) {
    for (columns, rows) in SIZES {
        let mut stage = stage().sized(columns, rows);
        stage.play(script);
        insta::assert_snapshot!(format!("{name}_{columns}x{rows}"), stage.picture());
    }
}

/// The same at one size.
fn check_size(name: &str, (columns, rows): (u16, u16), script: &str) {
    let mut stage = seat_test().sized(columns, rows);
    stage.play(script);
    insta::assert_snapshot!(format!("{name}_{columns}x{rows}"), stage.picture());
}

/// The same at the least complete size in another look.
fn check_look(name: &str, depth: Depth, glyphs: Glyphs, script: &str) {
    let mut stage = seat_test().looking(depth, glyphs).sized(80, 24);
    stage.play(script);
    insta::assert_snapshot!(format!("{name}_80x24"), stage.picture());
}

#[test]
fn start() {
    let with_recent = || {
        let mut stage = Stage::start();
        stage.app.recent = vec!["/home/me/boats/creek.ron".into(), "/home/me/boats/bay.ron".into()];
        stage
    };
    check("start", with_recent, "down*3");
}

#[test]
fn a_bare_hull() {
    check("bare_hull", bare_hull, "");
}

#[test]
fn gear_in_hand() {
    // A display on its track, and one where there is none.
    check("hand_fits", bare_hull, "/ \"gear track, port\" enter a \"display 9\" enter");
    check("hand_refused", bare_hull, "/ \"day hatch\" enter a \"display 9\" enter");
}

#[test]
fn a_rigged_boat() {
    check("rigged", seat_test, "");
}

#[test]
fn a_finding_gone_to() {
    check("finding", seat_test, "n");
}

#[test]
fn overlays() {
    check("overlay_inside", seat_test, "i");
    check("overlay_reach", seat_test, "r");
    check("overlay_envelopes", seat_test, "e");
    check("overlay_holes", seat_test, "o");
    check("overlay_water", seat_test, "~");
    check("overlay_cables", seat_test, "K");
}

#[test]
fn lists_with_the_keys() {
    check("panel_power", seat_test, "1 down*2");
    check("panel_holes", seat_test, "2 down");
    check("findings", seat_test, "5 down");
    check("panel_float", seat_test, "6 down");
    check("panel_wiring", seat_test, "7 down*2");
    check("cable_walked", seat_test, "/ \"display\" enter J right*2");
    check("panel_wiring_carried", seat_test, "7 down*5 space up*2");
    check_size("panel_float_cases", (80, 24), "6 pagedown*3");
}

#[test]
fn side_views() {
    check("side_view", seat_test, "v");
    check_size("section", (80, 24), "v v");
}

#[test]
fn what_an_edit_does_to_the_float() {
    check("float_changed", seat_test, "/ \"battery\" enter space shift-left shift-down enter");
    check("float_in_hand", seat_test, "/ \"battery\" enter space shift-left*4 shift-down");
}

#[test]
fn layers() {
    check("inspector", seat_test, "/ \"display\" enter enter");
    check("palette", seat_test, "? \"seat\"");
    check("form_fault", seat_test, "/ \"display\" enter = ctrl-u \"12 1/\"");
    check("explain", seat_test, "n x");
    check("question", seat_test, "} q");
}

/// Partly measured: a length, a station with a repeat reading, one reading that looks like a slip.
const MEASURED: &str = "B \"3.62 m\" enter enter \"512\" enter up \"518\" enter \"360\" enter \"8 1/4 in\" enter";

#[test]
fn measuring_a_hull() {
    check("interview", bare_hull, &format!("{MEASURED} pagedown down \"480\" enter up \"84\" enter"));
    check("interview_well", bare_hull, &format!("{MEASURED} end up*3"));
    check("interview_start", Stage::start, "down*9 enter \"11 ft\" enter enter");
}

#[test]
fn readings() {
    let script = "Q a \"700\" tab \"118\" tab \"96\" tab \"2026-03-02\" enter a \"2700\" tab \"121\" enter";
    check("readings", bare_hull, script);
    check("readings_form", bare_hull, "Q down*2 enter \"600\"");
}

#[test]
fn what_moves_it_level() {
    check("level", || Stage::on(by_the_stern()), "V down");
}

/// The editor of the day at a phase of which something is typed, and at the day itself.
const PLANNED: &str = "O tab down \"3\" enter down*2";

#[test]
fn planning_the_day() {
    check("outing", seat_test, PLANNED);
    check("outing_day", seat_test, "O shift-tab down*2 \"25:00\" enter");
}

#[test]
fn the_work_under_the_boat() {
    check("build", seat_test, "9 down*5 space down");
}

#[test]
fn lights_around_the_boat() {
    check("lights", || Stage::on(lit()), "G");
    check_size("lights_rule", (80, 24), "G c");
    let mut light = Stage::on(lit()).sized(80, 24);
    light.app.look.theme = Theme::new(Ground::Light, Depth::True);
    light.play("G down");
    insta::assert_snapshot!("lights_light_80x24", light.picture());
}

#[test]
fn a_plan_to_look_at() {
    check("read_only", || Stage::looking_at(demo("ready-for-review.ron")), "D");
}

#[test]
fn without_colours() {
    check_look("mono", Depth::Mono, Glyphs::Block, "n");
    check_look("mono_hand", Depth::Mono, Glyphs::Block, "/ \"day hatch\" enter a \"display 9\" enter");
    check_look("interview_mono", Depth::Mono, Glyphs::Block, &format!("{MEASURED} pagedown*9"));
    check_look("mono_reach", Depth::Mono, Glyphs::Block, "r");
    check_look("mono_section", Depth::Mono, Glyphs::Block, "v v");
    check_look("mono_float", Depth::Mono, Glyphs::Block, "6");
    check_look("mono_power", Depth::Mono, Glyphs::Block, "1");
    check_look("mono_lights", Depth::Mono, Glyphs::Block, "G");
    check_look("mono_water", Depth::Mono, Glyphs::Block, "~");
}

#[test]
fn seen_from_the_seat() {
    check("seat_view", seat_test, "8");
    check("seat_view_far", || Stage::on(far()), "8");
    check_size("seat_view_standing", (120, 40), "8 s");
    check_look("seat_view_ascii", Depth::Mono, Glyphs::Ascii, "8");
    check_look("seat_view_mono", Depth::Mono, Glyphs::Block, "8");
}

#[test]
fn with_sixteen_colours() {
    check_look("sixteen", Depth::Sixteen, Glyphs::Block, "n");
}

#[test]
fn with_ascii_alone() {
    check_look("ascii", Depth::Mono, Glyphs::Ascii, "n");
    check_look("interview_ascii", Depth::Mono, Glyphs::Ascii, &format!("{MEASURED} up*2"));
    check_look("ascii_list", Depth::Sixteen, Glyphs::Ascii, "? \"seat\"");
    check_look("ascii_profile", Depth::Mono, Glyphs::Ascii, "v");
    check_look("ascii_section", Depth::Mono, Glyphs::Ascii, "v v");
    check_look("ascii_power", Depth::Mono, Glyphs::Ascii, "1");
    check_look("ascii_outing", Depth::Sixteen, Glyphs::Ascii, PLANNED);
    check_look("ascii_lights", Depth::Mono, Glyphs::Ascii, "G");
    check_look("ascii_float", Depth::Sixteen, Glyphs::Ascii, "6");
    check_look("ascii_wiring", Depth::Mono, Glyphs::Ascii, "7 down*2");
}

/// Nothing but ASCII is drawn, whatever is opened; names are the person's own.
#[test]
fn ascii_means_ascii() {
    for script in [
        "",
        "n",
        "i",
        "r",
        "e",
        "o",
        "~",
        "v",
        "v v",
        "G",
        "?",
        "n x",
        "1",
        "5",
        "6",
        "7",
        "K",
        "/ \"display\" enter J right*2",
        "7 down*2 enter",
        "7 down*3 space up",
        "8",
        "} q",
        "s",
        "/ \"display\" enter space",
        "/ \"battery\" enter space shift-left*4 shift-down enter",
        MEASURED,
        PLANNED,
    ] {
        for (columns, rows) in SIZES {
            let mut stage = seat_test().looking(Depth::True, Glyphs::Ascii).sized(columns, rows);
            stage.play(script);
            for line in stage.lines() {
                assert!(line.is_ascii(), "{script}: {line}");
            }
        }
    }
}

#[test]
fn too_small_a_screen_says_what_it_needs() {
    let stage = seat_test().sized(40, 10);
    assert_eq!(stage.lines()[..2], ["needs 60 x 16", "has 40 x 10"]);
    assert!(stage.lines()[2..].iter().all(String::is_empty));
}

#[test]
fn what_two_changed_at_once() {
    check("conflicts", both_changed, "down");
}
