//! The work as a list of evenings: each task leads to where it is done, is ticked off with its day and a reading, and
//! the states follow.

use super::{act, cursor, gear};
use crate::edit::Edit;
use crate::plan::{Act, Day, LimitOverride, Name, Note, On, Plan, Tick, Weekday, WorkLog};
use crate::study::cables::CableRef;
use crate::study::fastening::plug_for;
use crate::study::holes::HoleState;
use crate::study::rig::HoleRef;
use crate::study::work::dates;
use crate::tui::action::Action;
use crate::tui::app::{App, Editor, Thing};
use crate::tui::layer::{Asked, BuildAsk, BuildView, Field, FieldKind, Form, Layer, Order, trimmed};
use crate::tui::words::work;
use crate::units::Temperature;

/// Evenings are no shorter and no longer than this, min.
const EVENING_MIN: std::ops::RangeInclusive<f64> = 15.0..=1440.0;

/// Opens the list at the first task of tonight.
pub(super) fn list(app: &mut App) {
    let today = app.today;
    let Some(editor) = app.editor() else { return };
    let view = BuildView::new(work::lines(editor, today));
    app.layers.push(Layer::Build(view));
    look(app);
}

/// Makes the list anew after the plan changed.
pub(super) fn refresh(app: &mut App) {
    let today = app.today;
    let Some(lines) = app.editor().map(|editor| work::lines(editor, today)) else { return };
    if let Some(Layer::Build(view)) = app.layers.iter_mut().find(|layer| matches!(layer, Layer::Build(_))) {
        view.follow(lines);
    }
}

/// Does what was asked of the chosen line; the list stays open unless its task is gone to.
pub(super) fn asked(app: &mut App, ask: BuildAsk) {
    let Some(Layer::Build(view)) = app.layers.last() else { return };
    let task = view.chosen().task();
    let writes = !matches!(ask, BuildAsk::Look | BuildAsk::Go);
    if writes && !app.editor().is_some_and(Editor::may_write) {
        app.refuse("this plan can only be looked at");
        return;
    }
    match (ask, task) {
        (BuildAsk::Look, _) => look(app),
        (BuildAsk::Go, Some((_, on))) => go(app, on),
        (BuildAsk::Tick, Some((act, on))) => tick(app, act, on),
        (BuildAsk::Note, Some((act, on))) => ask_note(app, act, on),
        (BuildAsk::Times, _) => ask_times(app),
        (BuildAsk::TakeBack { forward }, _) => take_back(app, forward),
        (_, None) => {}
    }
}

/// Moves the cursor to where the chosen task is done.
fn look(app: &mut App) {
    let Some(Layer::Build(view)) = app.layers.last() else { return };
    if let Some(thing) = view.chosen().task().and_then(|(_, on)| thing_of(on)) {
        cursor::show(app, thing);
    }
}

fn go(app: &mut App, on: On) {
    match thing_of(on) {
        Some(thing) => {
            app.layers.pop();
            cursor::show(app, thing);
        }
        None => app.say("it is about the boat as a whole"),
    }
}

/// Where a task is done.
pub(crate) fn thing_of(on: On) -> Option<Thing> {
    match on {
        On::Gear(id) | On::Main(id) => Some(Thing::Gear(id)),
        On::Hole(id) => Some(Thing::Hole(HoleRef::Own(id))),
        On::Circuit(id) => Some(Thing::Circuit(id)),
        On::Cable(id) => Some(Thing::Cable(CableRef::Planned(id))),
        On::Boat => None,
    }
}

/// Ticks a task off today, or takes its tick back.
fn tick(app: &mut App, act: Act, on: On) {
    let Some(editor) = app.editor() else { return };
    let plan = editor.session.plan();
    if plan.work.tick(act, on).is_some() {
        gear::edit(app, Edit::Untick { on, act });
        refresh(app);
        return;
    }
    let standing = work::work(editor, app.today);
    if standing.tasks.iter().any(|task| task.done && (task.act, task.on) == (act, on)) {
        app.refuse("it is done by what the plan notes already; r adds the day and a reading");
        return;
    }
    let Some(date) = app.today.or_else(|| dates::last_known(plan).map(Day::from)) else {
        app.refuse("what day it is is not known: r asks for it");
        return;
    };
    let tick = Tick { on, act, date, reading: said_by(editor, act) };
    note(app, tick);
}

/// A partner's yes says who signed.
fn said_by(editor: &Editor, act: Act) -> Note {
    let plan = editor.session.plan();
    let standing = editor.voice.talk.sign_offs.iter().find(|sign_off| sign_off.void_by(plan).is_empty());
    let words = standing.filter(|_| act == Act::PartnersYes).map(|sign_off| format!("signed by {}", sign_off.by));
    words.and_then(|words| Note::new(words).ok()).unwrap_or_default()
}

/// Ticks a task off and tells what should have come before.
fn note(app: &mut App, tick: Tick) {
    let missing = app.editor().and_then(|editor| missing(editor, app.today, &tick));
    let Some(edit) = app.editor().map(|editor| with_plug(editor, tick)) else { return };
    if !gear::edit(app, edit) {
        return;
    }
    refresh(app);
    if let (Some(missing), Some(toast)) = (missing, &app.toast) {
        let text = format!("{}; before it comes: {missing}", toast.text);
        app.say(text);
    }
}

/// The edit of a tick. An old hole is closed with what suits its size and place; another plug is chosen at the hole.
fn with_plug(editor: &Editor, tick: Tick) -> Edit {
    let (On::Hole(id), Act::Patch) = (tick.on, tick.act) else { return Edit::Tick { tick } };
    let holes = &editor.session.study().holes.holes;
    let open = holes.iter().find(|hole| hole.id == HoleRef::Own(id) && hole.state == HoleState::Open);
    let (Some(hole), Ok(purpose)) = (open, Name::new(tick.act.word())) else { return Edit::Tick { tick } };
    let with = plug_for(hole.bore_mm, hole.above_water_mm < 0.0);
    Edit::All { purpose, edits: vec![Edit::Tick { tick }, Edit::PlugHole { hole: id, with }] }
}

fn missing(editor: &Editor, today: Option<Day>, tick: &Tick) -> Option<String> {
    let work = work::work(editor, today);
    let number = work.tasks.iter().position(|task| (task.act, task.on) == (tick.act, tick.on))?;
    let first = &work.tasks[work.missing(number).next()?];
    Some(format!("{} ({})", first.act.word(), first.on.named(editor.session.plan())))
}

fn take_back(app: &mut App, forward: bool) {
    match super::barred(app, if forward { Action::Redo } else { Action::Undo }) {
        Some(why) => app.refuse(why),
        None => act::undo(app, forward),
    }
    refresh(app);
}

/// Asks for the day and the reading of a task.
fn ask_note(app: &mut App, act: Act, on: On) {
    let Some(editor) = app.editor() else { return };
    let plan = editor.session.plan();
    let tick = plan.work.tick(act, on);
    let day = tick.map(|tick| tick.date).or(app.today).or_else(|| dates::last_known(plan).map(Day::from));
    let reading = tick.map_or_else(|| said_by(editor, act), |tick| tick.reading.clone());
    let fields = vec![
        Field::new("day", FieldKind::Day, day.map(|day| day.to_string()).unwrap_or_default()),
        Field::new("reading", FieldKind::Text, reading.as_str().replace(['\n', '\t'], " ")),
    ];
    let title = format!("{} ({})", act.word(), on.named(plan));
    let form = Form::new(title, Asked::Tick(act, on), app.look.tape.0, fields);
    app.layers
        .push(Layer::Form(form.with_help("What was read or seen, in your own words: 12.6 V, dry after an hour.")));
}

/// The tick of a filled form.
pub(super) fn ticked(act: Act, on: On, order: &Order) -> Result<Edit, String> {
    let date = Day::from_text(order.text(0)).map_err(|why| why.to_string())?;
    let reading = Note::new(order.text(1)).map_err(|why| why.to_string())?;
    Ok(Edit::Tick { tick: Tick { on, act, date, reading } })
}

/// Asks when there is time for the work.
fn ask_times(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let log = &editor.session.plan().work;
    let day = |day: Option<Day>| day.map(|day| day.to_string()).unwrap_or_default();
    let evening = work::work(editor, app.today).rhythm.evening_min;
    let week = log.evenings.iter().map(|day| day.word()).collect::<Vec<_>>().join(" ");
    let garage = log.garage.map(|garage| trimmed(garage.to_celsius())).unwrap_or_default();
    let fields = vec![
        Field::new("first evening", FieldKind::Day, day(log.begins)).optional(),
        Field::new("an evening has", FieldKind::Number("min"), trimmed(evening)),
        Field::new("days of the week", FieldKind::Text, week),
        Field::new("wanted on the water", FieldKind::Day, day(log.launch)).optional(),
        Field::new("air where it cures", FieldKind::Number("C"), garage).optional(),
    ];
    let form = Form::new("time for the work", Asked::WorkTimes, app.look.tape.0, fields)
        .with_help("Days as 2031-05-30. Days of the week as tue sat; none is any. Air left out is that of the outing.");
    app.layers.push(Layer::Form(form));
}

/// The times of a filled form, as one step.
pub(super) fn timed(plan: &Plan, order: &Order) -> Result<Edit, String> {
    let day = |at: usize| match order.text(at) {
        "" => Ok(None),
        text => Day::from_text(text).map(Some).map_err(|why| why.to_string()),
    };
    let work = WorkLog {
        begins: day(0)?,
        evenings: Weekday::list_from_text(order.text(2))?,
        launch: day(3)?,
        garage: order.number_if_any(4).map(Temperature::celsius),
        ticks: Vec::new(),
    };
    let evening = order.number(1);
    if !EVENING_MIN.contains(&evening) {
        return Err("an evening has from 15 to 1440 minutes".into());
    }
    let set = Edit::SetWork { work: Box::new(work) };
    let limit = "cure-late.evening";
    if crate::checks::Limits::for_plan(plan).get(limit) == evening {
        return Ok(set);
    }
    let name = |text: &str| Name::new(text).map_err(|why| why.to_string());
    let limit = LimitOverride { limit: limit.into(), value: evening, reason: name("the time there is of an evening")? };
    Ok(Edit::All { purpose: name("time for the work")?, edits: vec![set, Edit::SetLimit { limit }] })
}
