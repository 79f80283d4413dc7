//! The work as a list of evenings: each task leads to where it is done, and what a part's state can keep is ticked off.

use super::{cursor, gear};
use crate::edit::Edit;
use crate::plan::BuildState;
use crate::sheets::task_on;
use crate::study::rig::HoleRef;
use crate::study::work::{Act, On, Work};
use crate::tui::app::{App, Editor, Thing};
use crate::tui::layer::{Choice, Chooser, Layer, Purpose, Value};

/// Lists what is left to do, evening by evening, tonight's first.
pub(super) fn list(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let plan = editor.session.plan();
    let work = Work::of(plan, editor.session.study(), None);
    let mut choices = Vec::new();
    for (n, evening) in work.calendar.evenings.iter().enumerate() {
        let heading =
            if n == 0 { "tonight".to_string() } else { format!("evening {}, day {}", n + 1, evening.day + 1) };
        let told = format!("{:.0} of {:.0} minutes", evening.minutes, work.evening_min);
        choices.push(Choice::new(heading, told, Value::Nothing));
        for task in evening.tasks.iter().filter_map(|task| work.tasks.get(*task)) {
            let gate = if task.act.is_gate() { "GATE: " } else { "" };
            let label = format!("  {gate}{}  {}", task.act.word(), task_on(plan, task.on, task.holes));
            let detail = format!("{:.0} min  {}", task.minutes, task.act.tools().join(", "));
            choices.push(Choice::new(label, detail, Value::Task(task.act, task.on)));
        }
    }
    if choices.is_empty() {
        app.say("nothing is left to do");
        return;
    }
    let done = work.tasks.iter().filter(|task| task.done).count();
    let title = format!("work, {done} of {} tasks done", work.tasks.len());
    app.layers.push(Layer::Chooser(Chooser::new(title, Purpose::Build, choices)));
}

/// Goes to where a task is done, and offers to tick it off where the plan can keep that.
pub(super) fn chosen(app: &mut App, value: &Value) {
    match value {
        Value::Task(act, on) => open(app, *act, *on),
        Value::Done(on, state) => done(app, *on, *state),
        _ => {}
    }
}

fn open(app: &mut App, act: Act, on: On) {
    if let Some(thing) = thing_of(on) {
        cursor::show(app, thing);
    }
    let Some(editor) = app.editor().filter(|editor| editor.may_write()) else { return };
    let Some(state) = reached(editor, act, on) else {
        app.say(format!("{}: the plan keeps no note of this step alone", act.word()));
        return;
    };
    let name = task_on(editor.session.plan(), on, 0);
    let choices = vec![
        Choice::new(format!("done: note {name} as {}", state.word()), "", Value::Done(on, state)),
        Choice::new("not yet", "", Value::Nothing),
    ];
    app.layers.push(Layer::Chooser(Chooser::new(act.word(), Purpose::Build, choices)));
}

fn thing_of(on: On) -> Option<Thing> {
    match on {
        On::Gear(id) | On::Main(id) => Some(Thing::Gear(id)),
        On::Hole(id) => Some(Thing::Hole(HoleRef::Own(id))),
        On::Boat | On::Circuit(_) | On::Cable(_) => None,
    }
}

/// The state a part has after a task. A step that comes before an earlier state in the row of states (connecting
/// before bedding) has none of its own: noting it would say that the other was done.
fn reached(editor: &Editor, act: Act, on: On) -> Option<BuildState> {
    let now = match on {
        On::Gear(id) => editor.session.plan().gear(id)?.state,
        On::Hole(_) if act == Act::Drill => return Some(BuildState::Drilled),
        _ => return None,
    };
    match act {
        Act::DryFit => Some(BuildState::DryFitted),
        Act::Deburr => Some(BuildState::Drilled),
        Act::Bed | Act::Fasten => Some(BuildState::Bedded),
        Act::Connect if now >= BuildState::Bedded => Some(BuildState::Installed),
        Act::TryIt if now >= BuildState::Installed => Some(BuildState::Tested),
        _ => None,
    }
}

/// Ticks it off, and shows what is left.
fn done(app: &mut App, on: On, state: BuildState) {
    let edit = match on {
        On::Gear(id) => Edit::SetState { gear: id, state },
        On::Hole(id) => Edit::DrillHole { hole: id },
        _ => return,
    };
    if gear::edit(app, edit) {
        list(app);
    }
}
