//! The seat test: what is asked below the boat, what the plan says of it, and what the answers changed so far.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Modifier;

use super::interview::key_line;
use super::{layers, text};
use crate::plan::Plan;
use crate::sheets::refit_words;
use crate::study::Study;
use crate::study::reach::Band;
use crate::study::sight::Look;
use crate::tui::app::App;
use crate::tui::glyphs::Glyphs;
use crate::tui::layer::{Ask, SEAT_TEST_KEYS, SeatRound};
use crate::tui::theme::Role;
use crate::units::Measure;

/// Rows of the box: it stands at the bottom, so that the boat stays in sight.
const ROWS: u16 = 14;
/// Its columns at most.
const COLUMNS: u16 = 92;

/// Draws the round.
pub(super) fn draw(app: &App, round: &SeatRound, whole: Rect, buffer: &mut Buffer) {
    let Some(editor) = app.editor() else { return };
    let (plan, study, tape) = (editor.session.plan(), editor.session.study(), app.look.tape);
    let (width, height) = (whole.width.min(COLUMNS), whole.height.min(ROWS));
    let area = Rect { x: whole.x + (whole.width - width) / 2, y: whole.bottom() - height, width, height };
    let inner = layers::frame(app, "seat test: sit and note", area, buffer);
    let theme = &app.look.theme;
    let mut lines = text::rows(inner);
    let mut put = |words: &str, role: Role, bold: bool, buffer: &mut Buffer| {
        let Some(line) = lines.next() else { return };
        let style = theme.style(role);
        let style = if bold { style.add_modifier(Modifier::BOLD) } else { style };
        text::put(buffer, line, &text::fit(words, line.width, app.look.glyphs == Glyphs::Ascii), style);
    };
    match round.ask() {
        Some(ask) => {
            let count = format!("{} of {}", round.at + 1, round.asks.len());
            put(&format!("{}: {}  ({count})", label(plan, ask.gear), question(ask)), Role::Text, true, buffer);
            put(&says(plan, study, ask, tape), Role::Dim, false, buffer);
            put(&noted(plan, study, ask, tape), Role::Dim, false, buffer);
        }
        None => {
            put("the end: what changed", Role::Text, true, buffer);
            put("up goes back to a question, u undoes an answer once this is closed", Role::Dim, false, buffer);
            put("", Role::Dim, false, buffer);
        }
    }
    match &round.refused {
        Some(why) => put(why, Role::Caution, false, buffer),
        None => put("", Role::Dim, false, buffer),
    }
    put(&fitted(study, tape), Role::Accent, false, buffer);
    for words in changed(plan, study, usize::from(height.saturating_sub(8))) {
        put(&words, Role::Text, false, buffer);
    }
    key_line(
        &app.look,
        SEAT_TEST_KEYS,
        Rect { y: inner.bottom().saturating_sub(1), height: 1.min(inner.height), ..inner },
        buffer,
    );
}

fn label(plan: &Plan, gear: crate::plan::GearId) -> String {
    plan.gear(gear).map_or_else(|| gear.to_string(), |gear| gear.label.to_string())
}

fn question(ask: Ask) -> &'static str {
    if ask.sight { "can it be read?" } else { "is it touched?" }
}

/// What the plan makes of it as it stands.
fn says(plan: &Plan, study: &Study, ask: Ask, tape: Measure) -> String {
    if ask.sight {
        let at = study.rig.item(ask.gear).and_then(|item| item.control);
        let away = at.map(|at| Look::from(study.reach.body.eye, at).distance_mm);
        return away.map_or(String::new(), |away| format!("by the plan {} from the eye", tape.length(away)));
    }
    let Some(item) = study.reach.item(ask.gear) else { return String::new() };
    let touch = &item.touch;
    let grip = if plan.gear(ask.gear).is_some_and(|gear| gear.spec.handling.as_ref().is_some_and(|h| h.gripped)) {
        "gripped"
    } else {
        "with a fingertip"
    };
    let takes = match touch.band {
        Band::InHand => format!("{} to spare", tape.length(-touch.short_mm)),
        Band::AtStretch => format!("lean {:.0} deg, twist {:.0}", touch.lean_deg, touch.twist_deg),
        Band::OutOfReach => format!("{} too far", tape.length(touch.beyond_mm)),
    };
    format!("by the plan {}, {} hand, {grip}, {takes}", touch.band.word(), touch.hand.word())
}

/// What was noted of it last.
fn noted(plan: &Plan, study: &Study, ask: Ask, tape: Measure) -> String {
    let tried = study.seat_test.of_gear(ask.gear);
    let reading = tried.and_then(|tried| plan.readings.get(tried.index));
    let words = reading.map(|reading| reading.words(plan, tape));
    words.map_or_else(|| "not noted yet".into(), |words| format!("noted: {words}"))
}

/// The body so far and how well the answers agree.
fn fitted(study: &Study, tape: Measure) -> String {
    let test = &study.seat_test;
    if test.tried.is_empty() {
        return "the body is that of the stature".into();
    }
    let missed = tape.length(test.residual_mm());
    format!("{}; {} noted, missed by {missed}", refit_words(&test.refit, tape), test.tried.len())
}

/// Gear whose band the answers changed, as many lines as there is room for.
fn changed(plan: &Plan, study: &Study, room: usize) -> Vec<String> {
    let line = |change: &crate::study::seat_test::Change| {
        format!("{}: {}, before {}", label(plan, change.gear), change.after.word(), change.before.word())
    };
    let mut lines: Vec<String> = study.seat_test.changes().map(line).collect();
    if lines.is_empty() {
        lines.push("no gear changes its band".into());
    }
    if lines.len() > room {
        let more = lines.len() + 1 - room.max(1);
        lines.truncate(room.saturating_sub(1));
        lines.push(format!("and {more} more"));
    }
    lines
}
