//! Gear in hand: taken, carried by the cursor, set down or let go.

use std::sync::Arc;

use super::cursor;
use crate::edit::Edit;
use crate::geometry::Spot;
use crate::plan::{FeatureKind, Gear, GearId, Kind, Level, Mount, Placement, Plan, Spec};
use crate::study::Study;
use crate::study::fit::{Fit, fit};
use crate::study::rig::Support;
use crate::tui::app::{App, Editor, Focus, Hand, Held, Preview, Thing};
use crate::units::{Angle, Length};

/// Takes a catalogue entry in hand at the cursor.
pub(super) fn take_new(app: &mut App, spec: Arc<Spec>) {
    let Some(editor) = app.editor_mut() else { return };
    let Some(mount) = spec.mounts.first().map(|m| m.how) else { return };
    let level = usual_level(spec.kind, mount);
    let place = Placement { level, ..Placement::at(editor.cursor.x, editor.cursor.y) };
    hold(editor, Hand { held: Held::New(spec), mount, place, preview: None, dragging: None });
}

/// Takes gear of the plan in hand: from where it is, or from ashore.
pub(super) fn take_gear(app: &mut App, id: GearId) {
    let at = app.editor().and_then(|editor| editor.spot_of(Thing::Gear(id)));
    if let Some(at) = at {
        cursor::go(app, at);
    }
    let Some(editor) = app.editor_mut() else { return };
    let Some(gear) = editor.session.plan().gear(id) else { return };
    let usual =
        Placement { level: usual_level(gear.spec.kind, gear.mount), ..Placement::at(editor.cursor.x, editor.cursor.y) };
    let (mount, place) = (gear.mount, gear.place.unwrap_or(usual));
    hold(editor, Hand { held: Held::Gear(id), mount, place, preview: None, dragging: None });
}

fn hold(editor: &mut Editor, hand: Hand) {
    editor.focus = Focus::Deck;
    editor.chosen = None;
    editor.hand = Some(hand);
    refresh_preview(editor);
}

/// Where such gear usually goes. Common practice, no source.
fn usual_level(kind: Kind, mount: Mount) -> Level {
    match (kind, mount) {
        (Kind::Battery | Kind::BlackBox | Kind::Converter | Kind::Protection, _) => Level::Inside,
        (Kind::Transducer, Mount::Scupper | Mount::Bolts) => Level::Under,
        _ => Level::Deck,
    }
}

pub(super) fn pick_up(app: &mut App) {
    if let Some(id) = app.editor().and_then(Editor::gear) {
        take_gear(app, id);
    }
}

pub(super) fn let_go(app: &mut App) {
    if let Some(editor) = app.editor_mut() {
        editor.hand = None;
    }
    app.say("let go");
}

/// Sets down what is in hand; what nothing holds there is set down all the same, and found.
pub(super) fn set_down(app: &mut App) {
    let Some(editor) = app.editor_mut() else { return };
    let Some(hand) = editor.hand.take() else { return };
    let held = settled(editor, &hand);
    let edit = edit_of(editor.session.plan(), &hand, held);
    let Some(edit) = edit else { return };
    match editor.session.edit(edit) {
        Ok(label) => {
            let id = placed_id(editor.session.plan(), &hand.held);
            let why = id.and_then(|id| not_held(editor.session.plan(), editor.session.study(), id));
            match why {
                Some(why) => app.refuse(format!("{label}, but nothing holds it: {why}")),
                None => app.say(label),
            }
        }
        Err(why) => {
            editor.hand = Some(hand);
            app.refuse(why.to_string());
        }
    }
}

/// Looks at what setting down here would change. Called when cursor or hand changed.
pub fn refresh_preview(editor: &mut Editor) {
    let Some(mut hand) = editor.hand.take() else { return };
    hand.place.x = Length::mm(editor.cursor.x);
    hand.place.y = Length::mm(editor.cursor.y);
    let place = settled(editor, &hand);
    hand.preview = edit_of(editor.session.plan(), &hand, place).map(|edit| match editor.session.preview(&edit) {
        Err(why) => Preview { refused: Some(why.to_string()), ..Preview::default() },
        Ok((plan, study, findings)) => {
            let id = placed_id(&plan, &hand.held);
            let refused = id.and_then(|id| not_held(&plan, &study, id));
            let worst = findings.into_iter().find(|f| id.is_some() && f.subject.gear() == id);
            let ghost = id.and_then(|id| Some((plan.gear(id)?.clone(), study.rig.item(id)?.clone())));
            let rest = study.float.rest().copied();
            Preview { refused, worst, changes: changes(editor.session.study(), &study), rest, ghost }
        }
    });
    editor.hand = Some(hand);
}

/// Why nothing holds placed gear, and which other mount would.
fn not_held(plan: &Plan, study: &Study, id: GearId) -> Option<String> {
    match &study.rig.item(id)?.fit {
        Fit::Not(why) => Some(format!("{why}{}", other_mount(plan, id))),
        Fit::Held(_) => None,
    }
}

/// Another mount of the gear that would hold it where it is, in words; empty if there is none.
fn other_mount(plan: &Plan, id: GearId) -> String {
    let held = plan.gear(id).and_then(|gear| {
        let place = gear.place?;
        gear.spec.mounts.iter().map(|mounting| mounting.how).find(|how| {
            let trial = Gear { mount: *how, ..gear.clone() };
            *how != gear.mount && fit(plan, &trial, &place).is_held()
        })
    });
    held.map_or(String::new(), |how| format!("; {} would hold it: m", how.word()))
}

/// Moves the cursor to the nearest crossing of the grid at which the chosen mount is held.
pub(super) fn to_nearest_hold(app: &mut App) {
    let pitch = app.look.tape.grid_pitch().to_mm();
    let Some(editor) = app.editor() else { return };
    let Some(gear) = editor.hand.as_ref().and_then(|hand| trial(editor.session.plan(), hand)) else { return };
    let Some(place) = gear.place else { return };
    let (plan, from) = (editor.session.plan(), editor.cursor);
    let (low, high) = plan.hull.form.deck_outline().bounds();
    let steps = |from: f64, to: f64| ((from / pitch).floor() as i64)..=((to / pitch).ceil() as i64);
    let nearest = steps(low.x, high.x)
        .flat_map(|column| steps(low.y, high.y).map(move |row| Spot::new(column as f64 * pitch, row as f64 * pitch)))
        .filter(|spot| {
            let at = Placement { x: Length::mm(spot.x), y: Length::mm(spot.y), ..place };
            fit(plan, &gear, &at).is_held()
        })
        .min_by(|a, b| a.distance(from).total_cmp(&b.distance(from)));
    match nearest {
        Some(spot) => cursor::go(app, spot),
        None => app.refuse("no place on this boat holds it that way: m tries another mount"),
    }
}

/// The edit that setting down makes; `None` when it would change nothing.
fn edit_of(plan: &Plan, hand: &Hand, place: Placement) -> Option<Edit> {
    match &hand.held {
        Held::New(spec) => {
            Some(Edit::Add { spec: Box::new((**spec).clone()), mount: Some(hand.mount), place: Some(place) })
        }
        Held::Gear(id) => {
            let gear = plan.gear(*id)?;
            match gear.place {
                Some(now) if now == place && gear.mount == hand.mount => None,
                Some(now) if gear.mount == hand.mount && Placement { x: place.x, y: place.y, ..now } == place => {
                    Some(Edit::Move { gear: *id, x: place.x, y: place.y })
                }
                _ => Some(Edit::Place { gear: *id, at: place, mount: hand.mount }),
            }
        }
    }
}

/// The placement with what a foot or a post does by itself: it centres on its track or scupper.
fn settled(editor: &Editor, hand: &Hand) -> Placement {
    let plan = editor.session.plan();
    let mut place = hand.place;
    let Some(trial) = trial(plan, hand) else { return place };
    let Fit::Held(Support::Feature(id)) = fit(plan, &trial, &place) else { return place };
    let Some(feature) = plan.feature(id) else { return place };
    match feature.kind {
        FeatureKind::Track { .. } => place.y = Length::mm(feature.at_mm.y),
        FeatureKind::Scupper { .. } | FeatureKind::TransducerRecess { .. } => {
            place.x = Length::mm(feature.at_mm.x);
            place.y = Length::mm(feature.at_mm.y);
        }
        _ => {}
    }
    place
}

/// What is in hand as gear at its place; `None` when the plan has it no more.
fn trial(plan: &Plan, hand: &Hand) -> Option<Gear> {
    let (id, spec) = match &hand.held {
        Held::New(spec) => (plan.next_gear_id(), Arc::clone(spec)),
        Held::Gear(id) => (*id, Arc::clone(&plan.gear(*id)?.spec)),
    };
    Some(Gear {
        id,
        label: spec.name.clone(),
        spec,
        mount: hand.mount,
        place: Some(hand.place),
        seal: Default::default(),
        state: Default::default(),
        pinned: false,
    })
}

/// The id of what was in hand, once it is on the plan.
fn placed_id(plan: &Plan, held: &Held) -> Option<GearId> {
    match held {
        Held::Gear(id) => Some(*id),
        Held::New(_) => plan.gear.last().map(|gear| gear.id),
    }
}

/// The change each panel would see, in words; panels that see none say nothing.
fn changes(now: &Study, then: &Study) -> Vec<String> {
    let mut words = Vec::new();
    let signed = |value: f64, unit: &str| format!("{value:+.1} {unit}");
    let current = then.power.typical.to_amps() - now.power.typical.to_amps();
    if current.abs() >= 0.05 {
        words.push(signed(current, "A"));
    }
    let charge = then.power.total.to_amp_hours() - now.power.total.to_amp_hours();
    if charge.abs() >= 0.05 {
        words.push(signed(charge, "Ah"));
    }
    let left = then.holes.counts.open as i64 - now.holes.counts.open as i64;
    if left > 0 {
        words.push(format!("leaves {left} hole{}", if left == 1 { "" } else { "s" }));
    }
    let holes = then.holes.counts.new_total() as i64 - now.holes.counts.new_total() as i64;
    if holes != 0 {
        words.push(format!("{holes:+} hole{}", if holes.abs() == 1 { "" } else { "s" }));
    }
    let conflicts = |study: &Study| (study.clearance.overlaps.len() + study.clearance.intrusions.len()) as i64;
    let more = conflicts(then) - conflicts(now);
    if more != 0 {
        words.push(format!("{more:+} conflict{}", if more.abs() == 1 { "" } else { "s" }));
    }
    words
}

/// Turns, mounts or levels what is in hand; false when nothing is.
pub(super) fn change(app: &mut App, with: impl FnOnce(&mut Hand, &Spec)) -> bool {
    let Some(editor) = app.editor_mut() else { return false };
    let plan = editor.session.shared_plan();
    let Some(hand) = &mut editor.hand else { return false };
    let spec = match &hand.held {
        Held::New(spec) => Some(Arc::clone(spec)),
        Held::Gear(id) => plan.gear(*id).map(|gear| Arc::clone(&gear.spec)),
    };
    if let Some(spec) = spec {
        with(hand, &spec);
    }
    refresh_preview(editor);
    true
}

/// A turn added to another, 0 to 360.
pub(super) fn turned_by(turn: Angle, deg: f64) -> Angle {
    Angle::deg((turn.to_deg() + deg).rem_euclid(360.0))
}
