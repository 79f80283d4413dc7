//! Walking cables: step by step along the way of the one in question.

use super::chosen;
use crate::geometry::Point;
use crate::plan::{GearId, Via};
use crate::study::cables::{CableRef, CableRun, Passed, Step};
use crate::study::rig::HoleRef;
use crate::tui::app::{App, Editor, Focus, Overlay, Thing};
use crate::tui::layer::{Layer, Walk};
use crate::tui::panels::PanelKind;
use crate::tui::panels::wiring::Item;
use crate::tui::update::cursor;

/// Starts the walk along the cable of the chosen line, else along one of the gear in question.
pub(in crate::tui::update) fn walk(app: &mut App) {
    let Some(cable) = in_question(app) else {
        return app.refuse("put the row on a cable in Wiring, or the cursor on gear that has one");
    };
    let Some(editor) = app.editor_mut() else { return };
    let Some(run) = editor.session.study().cables.run(cable) else { return };
    let last = match &run.way {
        Ok(way) => way.steps.len().saturating_sub(1),
        Err(_) => return app.refuse("this cable has no way through: there is nothing to walk"),
    };
    editor.overlay = Some(Overlay::Cables);
    editor.walked = Some(cable);
    app.layers.push(Layer::Walk(Walk { cable, step: 0, last }));
    step(app);
}

fn in_question(app: &App) -> Option<CableRef> {
    let editor = app.editor()?;
    if editor.focus == Focus::Panel(PanelKind::Wiring) {
        match chosen(app)?.item {
            Item::Cable(cable) => return Some(cable),
            Item::Load(..) | Item::Battery(_) | Item::Unit { .. } => {}
            _ => return None,
        }
    }
    cable_of(editor, editor.gear()?)
}

/// A cable that ends at this gear, or else one that starts there; one with a way first.
fn cable_of(editor: &Editor, gear: GearId) -> Option<CableRef> {
    let runs = &editor.session.study().cables.runs;
    let ends = |run: &&CableRun| run.from == gear || run.to == gear;
    runs.iter().filter(ends).min_by_key(|run| (run.way.is_err(), run.to != gear)).map(|run| run.id)
}

/// Moves the cursor to the step that is walked to, and lights what is passed there.
pub(in crate::tui::update) fn step(app: &mut App) {
    let Some(Layer::Walk(walk)) = app.layers.last() else { return };
    let Some(editor) = app.editor() else { return };
    let way = editor.session.study().cables.run(walk.cable).and_then(|run| run.way.as_ref().ok());
    let Some(&Step { at, passes, .. }) = way.and_then(|way| way.steps.get(walk.step)) else { return };
    cursor::go(app, Point::spot(at));
    if let Some(editor) = app.editor_mut() {
        editor.chosen = passed(passes);
    }
}

fn passed(passes: Passed) -> Option<Thing> {
    match passes {
        Passed::End(gear) | Passed::RoundLid(gear) | Passed::Opening(Via::Gear(gear)) => Some(Thing::Gear(gear)),
        Passed::Opening(Via::Feature(feature)) | Passed::Round(feature) => Some(Thing::Feature(feature)),
        Passed::Opening(Via::Hole(hole)) => Some(Thing::Hole(HoleRef::Own(hole))),
        Passed::Zone(zone) => Some(Thing::Zone(zone)),
        Passed::Edge | Passed::Deck => None,
    }
}
