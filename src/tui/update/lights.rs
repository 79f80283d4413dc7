//! The view of the lights: opening it, choosing the rule, going to a light.

use super::{cursor, lists};
use crate::plan::Craft;
use crate::study::lights::rules::rule;
use crate::tui::app::{App, Thing};
use crate::tui::layer::{Choice, Layer, LightView, Purpose, Value};

/// Opens the view, at the light under the cursor if it is one.
pub(super) fn open(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let lanterns = &editor.session.study().lights.lanterns;
    let here = editor.gear().and_then(|gear| lanterns.iter().position(|shown| shown.gear == gear));
    app.layers.push(Layer::Lights(LightView::new(here.unwrap_or(0), lanterns.len())));
}

/// Lists what the boat can count as, the present choice marked.
pub(super) fn choose_craft(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    if !editor.may_write() {
        app.refuse("this plan can only be looked at");
        return;
    }
    let now = editor.session.plan().outing.craft;
    let mark =
        |craft: Option<Craft>, words: &str| if craft == now { format!("{words} (chosen)") } else { words.to_string() };
    let of = |craft: Craft| Choice::new(mark(Some(craft), craft.word()), rule(craft), Value::Craft(Some(craft)));
    let mut choices: Vec<Choice> = Craft::ALL.into_iter().map(of).collect();
    choices.push(Choice::new(mark(None, "no rule chosen"), "", Value::Craft(None)));
    lists::open_list(app, "what the boat counts as; the law where you are decides", Purpose::Craft, choices);
}

/// Closes the view and goes to a light.
pub(super) fn go_to(app: &mut App, row: usize) {
    app.layers.pop();
    let gear = app.editor().and_then(|editor| editor.session.study().lights.lanterns.get(row)).map(|shown| shown.gear);
    if let Some(gear) = gear {
        cursor::show(app, Thing::Gear(gear));
    }
}
