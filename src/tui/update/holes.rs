//! What is done to holes that no gear owns: plug, reuse, reopen, strike.

use super::gear::edit;
use crate::edit::Edit;
use crate::plan::{HoleId, Plug};
use crate::study::rig::HoleRef;
use crate::tui::app::{App, Editor, Thing};
use crate::tui::layer::{Choice, Chooser, Layer, Purpose, Value};

fn here(app: &App) -> Option<HoleId> {
    match app.editor().and_then(Editor::thing) {
        Some(Thing::Hole(HoleRef::Own(id))) => Some(id),
        _ => None,
    }
}

pub(super) fn plug(app: &mut App) {
    let Some(id) = here(app) else { return };
    let plugs = [Plug::BoltAndGasket, Plug::RubberPlug, Plug::BlankingPlate, Plug::PlasticWeld];
    let choices = plugs.map(|plug| Choice::new(plug.word(), "", Value::Plug(plug))).to_vec();
    app.layers.push(Layer::Chooser(Chooser::new("plug the hole with", Purpose::Plug(id), choices)));
}

/// Offers the gear whose holes are nearest first.
pub(super) fn reuse(app: &mut App) {
    let Some(id) = here(app) else { return };
    let Some(editor) = app.editor() else { return };
    let plan = editor.session.plan();
    let Some(spot) = plan.penetration(id).map(crate::plan::Penetration::spot) else { return };
    let mut near: Vec<(f64, crate::plan::GearId)> = editor
        .session
        .study()
        .rig
        .items
        .iter()
        .filter_map(|item| {
            let off = item.holes.iter().map(|hole| hole.at.spot().distance(spot)).min_by(f64::total_cmp)?;
            Some((off, item.gear))
        })
        .collect();
    near.sort_by(|a, b| a.0.total_cmp(&b.0));
    let tape = app.look.tape;
    let choices: Vec<Choice> = near
        .into_iter()
        .filter_map(|(off, gear)| {
            let label = plan.gear(gear)?.label.to_string();
            Some(Choice::new(label, format!("its nearest hole is {} away", tape.length(off)), Value::Gear(gear)))
        })
        .collect();
    if choices.is_empty() {
        app.refuse("no placed gear needs a hole");
        return;
    }
    app.layers.push(Layer::Chooser(Chooser::new("reuse the hole for", Purpose::Reuse(id), choices)));
}

pub(super) fn reopen(app: &mut App) {
    if let Some(id) = here(app) {
        edit(app, Edit::ReopenHole { hole: id });
    }
}

pub(super) fn strike(app: &mut App) {
    if let Some(id) = here(app) {
        edit(app, Edit::StrikeHole { hole: id });
    }
}
