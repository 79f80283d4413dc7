//! The lists that layers show, and what choosing from them does.

use std::sync::Arc;

use super::{Effect, company, conflicts, cursor, gear, hand, interview, level, perform, revisions, talk, wiring};
use crate::catalogue::kind_word;
use crate::edit::Edit;
use crate::plan::{BuildState, Seal};
use crate::study::rig::HoleRef;
use crate::tui::action::ACTIONS;
use crate::tui::app::{App, Carried, Editor, Thing};
use crate::tui::inspector;
use crate::tui::layer::{Choice, Chooser, Form, Layer, Purpose, Value};

pub(super) fn open_list(app: &mut App, title: &str, purpose: Purpose, choices: Vec<Choice>) {
    app.layers.push(Layer::Chooser(Chooser::new(title, purpose, choices)));
}

/// All actions: found by name, id or key, run with enter.
pub(super) fn actions(app: &mut App) {
    let choices = ACTIONS
        .iter()
        .filter(|row| !matches!(row.id, "row-up" | "row-down" | "accept" | "back"))
        .map(|row| {
            Choice::new(row.title, row.keys.join(" "), Value::Action(row.action))
                .also(row.id)
                .barred(super::barred(app, row.action))
        })
        .collect();
    open_list(app, "all actions", Purpose::Run, choices);
}

/// The catalogue, gear that is ashore first.
pub(super) fn take(app: &mut App) {
    let mut choices = ashore(app);
    choices.extend(entries(app));
    open_list(app, "take gear", Purpose::Take, choices);
}

pub(super) fn take_ashore(app: &mut App) {
    let choices = ashore(app);
    if choices.is_empty() {
        app.refuse("nothing is ashore; a takes gear from the catalogue");
        return;
    }
    open_list(app, "take gear that is ashore", Purpose::Take, choices);
}

pub(super) fn swap(app: &mut App) {
    let Some(id) = app.editor().and_then(Editor::gear) else { return };
    let choices = entries(app);
    open_list(app, "swap for", Purpose::Swap(id), choices);
}

fn ashore(app: &App) -> Vec<Choice> {
    let Some(editor) = app.editor() else { return Vec::new() };
    let ashore = editor.session.plan().gear.iter().filter(|gear| !gear.is_placed());
    ashore.map(|gear| Choice::new(gear.label.as_str(), "ashore", Value::Gear(gear.id))).collect()
}

fn entries(app: &App) -> Vec<Choice> {
    app.catalogue
        .entries()
        .iter()
        .map(|spec| {
            let mounts: Vec<&str> = spec.mounts.iter().map(|m| m.how.word()).collect();
            let detail = format!("{:.1} kg  {}", spec.mass.value.to_kg(), mounts.join(", "));
            Choice::new(spec.name.as_str(), detail, Value::Spec(Arc::new(spec.clone()))).also(format!(
                "{} {}",
                kind_word(spec.kind),
                spec.key
            ))
        })
        .collect()
}

/// Gear, features, zones, holes and findings.
pub(super) fn jump(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let plan = editor.session.plan();
    let mut choices: Vec<Choice> = Vec::new();
    for item in &plan.gear {
        let detail = if item.is_placed() { "gear" } else { "ashore" };
        let barred = (!item.is_placed()).then(|| "it is ashore".to_string());
        choices.push(Choice::new(item.label.as_str(), detail, Value::Thing(Thing::Gear(item.id))).barred(barred));
    }
    for (index, finding) in editor.session.findings().iter().enumerate() {
        choices.push(
            Choice::new(finding.says.clone(), finding.severity.word(), Value::Finding(index)).also(finding.check),
        );
    }
    for feature in &plan.hull.features {
        choices.push(Choice::new(feature.name.as_str(), "feature", Value::Thing(Thing::Feature(feature.id))));
    }
    for hole in &plan.penetrations {
        let id = crate::study::rig::HoleRef::Own(hole.id);
        choices.push(Choice::new(hole.name.as_str(), "hole", Value::Thing(Thing::Hole(id))));
    }
    for zone in &plan.hull.zones {
        choices.push(Choice::new(zone.name.as_str(), "zone", Value::Thing(Thing::Zone(zone.id))));
    }
    choices.push(Choice::new("the person", "seat", Value::Thing(Thing::Person)));
    open_list(app, "jump to", Purpose::Go, choices);
}

/// Every figure of the thing under the cursor, each to be changed.
pub(super) fn inspect(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let thing = editor.thing().unwrap_or(Thing::Hull);
    inspect_thing(app, thing);
}

/// Lists a thing's figures anew, the same row chosen, after one of them changed.
pub(super) fn refresh_inspector(app: &mut App) {
    let Some(at) = app.layers.iter().position(is_inspector) else { return };
    let Layer::Chooser(old) = app.layers.remove(at) else { return };
    let thing = old.about.or_else(|| app.editor().and_then(Editor::thing)).unwrap_or(Thing::Hull);
    if let Some(mut list) = inspector_list(app, thing) {
        list.input = old.input;
        list.filter();
        list.choose_row(old.row);
        app.layers.insert(at, Layer::Chooser(list));
    }
}

fn is_inspector(layer: &Layer) -> bool {
    matches!(layer, Layer::Chooser(list) if list.purpose == Purpose::Inspect)
}

fn inspect_thing(app: &mut App, thing: Thing) {
    app.layers.retain(|layer| !is_inspector(layer));
    if let Some(list) = inspector_list(app, thing) {
        app.layers.push(Layer::Chooser(list));
    }
}

fn inspector_list(app: &App, thing: Thing) -> Option<Chooser> {
    let editor = app.editor()?;
    let tape = app.look.tape;
    let title = inspector::title(editor, thing);
    let mut choices: Vec<Choice> = inspector::rows(editor, thing, tape)
        .into_iter()
        .map(|row| {
            let value = match (row.figure, row.action) {
                (Some(figure), _) => Value::Figure(figure),
                (None, Some(action)) => Value::Action(action),
                (None, None) => Value::Nothing,
            };
            Choice::new(row.label, format!("{}  {}", row.value, row.origin).trim_end().to_string(), value)
        })
        .collect();
    for (label, other) in [("the hull", Thing::Hull), ("the person", Thing::Person)] {
        if thing != other {
            choices.push(Choice::new(format!("inspect {label}"), "", Value::Thing(other)));
        }
    }
    Some(Chooser { about: Some(thing), ..Chooser::new(title, Purpose::Inspect, choices) })
}

pub(super) fn seal(app: &mut App) {
    let Some(id) = app.editor().and_then(Editor::gear) else { return };
    let choices = Seal::ALL.map(|seal| Choice::new(seal.word(), "", Value::Seal(seal))).to_vec();
    open_list(app, "seal its holes with", Purpose::Seal(id), choices);
}

/// Gear goes through its states; a hole is drilled or it is not.
pub(super) fn work(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    if let Some(Thing::Hole(HoleRef::Own(hole))) = editor.thing() {
        gear::edit(app, Edit::DrillHole { hole });
        return;
    }
    let Some(gear) = editor.gear().and_then(|id| editor.session.plan().gear(id)) else { return };
    let (id, now) = (gear.id, gear.state);
    let choice = |state: BuildState| {
        let note = if state == now { "as it is" } else { "" };
        Choice::new(state.word(), note, Value::Work(state))
    };
    open_list(app, "the work on it is", Purpose::Work(id), BuildState::ALL.map(choice).to_vec());
}

pub(super) fn history(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let history = editor.session.history();
    let choices = history
        .steps()
        .iter()
        .enumerate()
        .rev()
        .map(|(at, step)| {
            let label = if step.label.is_empty() { "as opened" } else { &step.label };
            let detail = match at.cmp(&history.position()) {
                std::cmp::Ordering::Equal => "now",
                std::cmp::Ordering::Less => "",
                std::cmp::Ordering::Greater => "undone",
            };
            Choice::new(label, detail, Value::Step(at))
        })
        .collect();
    open_list(app, "go back or forward to", Purpose::History, choices);
}

/// Demos, recent plans, hull classes.
pub(super) fn open(app: &mut App) {
    let choices = start_choices(app);
    open_list(app, "open", Purpose::Open, choices);
}

/// The rows of the start screen.
pub(crate) fn start_choices(app: &App) -> Vec<Choice> {
    let mut choices: Vec<Choice> = app
        .demos
        .iter()
        .enumerate()
        .map(|(index, demo)| Choice::new(demo.title, demo.about, Value::Demo(index)).also("demo"))
        .collect();
    for (index, journal) in app.lost.iter().enumerate() {
        let label = format!("a plan never saved ({})", index + 1);
        choices.push(Choice::new(label, "its last session ended early", Value::Lost(journal.clone())).also("lost"));
    }
    for path in &app.recent {
        let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned();
        let folder = path.parent().map(|p| p.to_string_lossy().into_owned()).unwrap_or_default();
        let (name, folder) = (crate::shown::Shown(&name).to_string(), crate::shown::Shown(&folder).to_string());
        choices.push(Choice::new(name, folder, Value::File(path.clone())).also("recent"));
    }
    for class in &app.hulls {
        let hull = &class.hull;
        let size = format!(
            "{:.2} x {:.2} m, {:.0} kg, rated {:.0} kg",
            hull.length.value.to_m(),
            hull.beam.value.to_m(),
            hull.mass.value.to_kg(),
            hull.rating.value.to_kg()
        );
        choices.push(Choice::new(hull.name.as_str(), size, Value::Hull(hull.class.to_string())).also("new plan"));
    }
    let about = "with a tape, when yours is none of these";
    choices.push(Choice::new("measure a hull", about, Value::Measure).also("new plan tape"));
    choices
}

/// Opens a row of the start screen.
pub(super) fn start_row(app: &mut App, row: usize) -> Vec<Effect> {
    match start_choices(app).into_iter().nth(row) {
        Some(choice) => chosen(app, Purpose::Open, choice.value),
        None => Vec::new(),
    }
}

/// Does what was chosen.
pub(super) fn chosen(app: &mut App, purpose: Purpose, value: Value) -> Vec<Effect> {
    match (purpose, value) {
        (Purpose::Run, Value::Action(action)) => return perform(app, action),
        (Purpose::Company, Value::Follow(who)) => company::start(app, who),
        (Purpose::Revisions, value) => revisions::chosen(app, &value),
        (Purpose::Conflicts, value) => conflicts::chosen(app, &value),
        (Purpose::Talk, Value::Speech(speech)) => return talk::chosen(app, speech),
        (Purpose::Take, Value::Spec(spec)) => hand::take_new(app, spec),
        (Purpose::Take, Value::Gear(id)) => hand::take_gear(app, id),
        (Purpose::Swap(id), Value::Spec(spec)) => {
            gear::edit(app, Edit::Swap { gear: id, spec: Box::new((*spec).clone()) });
        }
        (Purpose::Go, Value::Thing(thing)) => cursor::show(app, thing),
        (Purpose::Go, Value::Finding(index)) => cursor::show_finding(app, index),
        (Purpose::Seal(id), Value::Seal(seal)) => {
            gear::edit(app, Edit::SetSeal { gear: id, seal });
        }
        (Purpose::Work(id), Value::Work(state)) => {
            gear::edit(app, Edit::SetState { gear: id, state });
        }
        (Purpose::Plug(id), Value::Plug(with)) => {
            gear::edit(app, Edit::PlugHole { hole: id, with });
        }
        (Purpose::Reuse(id), Value::Gear(by)) => {
            gear::edit(app, Edit::ReuseHole { hole: id, gear: by });
        }
        (Purpose::Circuit(id), Value::Wire(item)) => wiring::hang(app, Carried::Load(id), item),
        (Purpose::CableFrom, Value::Gear(from)) => wiring::planned::ask_to(app, from),
        (Purpose::CableTo(from), Value::Gear(to)) => wiring::planned::ask_what(app, from, to),
        (Purpose::Craft, Value::Craft(craft)) => {
            gear::edit(app, Edit::SetCraft { craft });
        }
        (Purpose::Level, Value::Level(proposal)) => level::make(app, &proposal),
        (Purpose::History, Value::Step(at)) => go_to_step(app, at),
        (Purpose::Open | Purpose::NewPlan, value) => return leave_for(app, value),
        (Purpose::MeasureLike, Value::Class(class)) => interview::ask_name(app, class),
        (Purpose::Inspect, Value::Figure(figure)) => {
            let Some(editor) = app.editor() else { return Vec::new() };
            if !editor.may_write() {
                app.refuse("this plan can only be looked at");
                return Vec::new();
            }
            let now = figure.get(editor.session.plan()).map(|soft| soft.value);
            let form = Form::figure(figure, now, app.look.tape.0);
            app.layers.push(Layer::Form(form));
        }
        (Purpose::Inspect, Value::Action(action)) => {
            let effects = perform(app, action);
            refresh_inspector(app);
            return effects;
        }
        (Purpose::Inspect, Value::Thing(thing)) => inspect_thing(app, thing),
        _ => {}
    }
    Vec::new()
}

/// Opens another plan unless this one has unsaved edits.
fn leave_for(app: &mut App, value: Value) -> Vec<Effect> {
    let unsaved = app.editor().is_some_and(|e| e.session.history().is_dirty() && e.may_write());
    if unsaved {
        app.refuse("save this plan first (ctrl-s), or undo its edits");
        return Vec::new();
    }
    match value {
        Value::Demo(index) => vec![Effect::OpenDemo(index)],
        Value::File(path) => vec![Effect::Open(path)],
        Value::Lost(journal) => vec![Effect::OpenLost(journal)],
        Value::Hull(key) => vec![Effect::NewPlan(key)],
        Value::Measure => {
            interview::ask_class(app);
            Vec::new()
        }
        _ => Vec::new(),
    }
}

fn go_to_step(app: &mut App, at: usize) {
    let Some(editor) = app.editor_mut() else { return };
    if !editor.may_write() {
        return;
    }
    while editor.session.history().position() > at && editor.session.undo().is_some() {}
    while editor.session.history().position() < at && editor.session.redo().is_some() {}
    editor.hand = None;
    editor.chosen = None;
}
