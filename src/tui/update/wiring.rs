//! The circuits editor: loads and circuits are hung elsewhere, wires cured, circuits and mains added and struck. Every
//! change is an edit that can be undone.

pub(super) mod cables;
pub(super) mod forms;
mod hang;
pub(super) mod planned;

use super::{cursor, gear};
use crate::checks::{Finding, Severity};
use crate::edit::Edit;
use crate::plan::{CableId, Circuit, Main, Plan};
use crate::study::cables::CableRef;
use crate::tui::app::{App, Carried, Editor, Focus};
use crate::tui::layer::{Asked, Choice, Chooser, Layer, Purpose, Value};
use crate::tui::panels::PanelKind;
use crate::tui::panels::wiring::{Item, Line, cure as cure_of, lines, named};
use crate::units::Current;

pub(super) use hang::hang;

/// The line of the diagram that is chosen.
fn chosen(app: &App) -> Option<Line> {
    let editor = app.editor()?;
    let mut all = lines(super::sources(editor, app.look.tape));
    let row = editor.rows[PanelKind::Wiring.index()].min(all.len().checked_sub(1)?);
    Some(all.swap_remove(row))
}

/// The cable of the plan on the chosen line, while the diagram has the keys.
pub(super) fn cable(app: &App) -> Option<CableId> {
    app.editor().filter(|editor| editor.focus == Focus::Panel(PanelKind::Wiring))?;
    match chosen(app)?.item {
        Item::Cable(CableRef::Planned(id)) => Some(id),
        _ => None,
    }
}

/// Keeps the chosen row on what it was on, wherever an edit moved it.
fn stay_on(app: &mut App, found: impl Fn(Item) -> bool) {
    let tape = app.look.tape;
    let Some(editor) = app.editor_mut() else { return };
    let row = lines(super::sources(editor, tape)).iter().position(|line| found(line.item));
    if let Some(row) = row {
        editor.rows[PanelKind::Wiring.index()] = row;
    }
    cursor::row(app, 0);
}

/// Makes an edit of the wires; what it brought that stands against it is said with it.
fn edit(app: &mut App, edit: Edit) -> bool {
    let done = gear::edit(app, edit);
    if done {
        say_what_came(app);
    }
    done
}

/// After a form of a circuit, a main or a cable: the row goes where its wire went.
pub(super) fn filled(app: &mut App, asked: Asked) {
    say_what_came(app);
    let added = app.editor().and_then(|editor| editor.session.plan().wiring.cables.last()).map(|cable| cable.id);
    if app.editor().is_some_and(|editor| editor.focus == Focus::Panel(PanelKind::Wiring)) {
        stay_on(app, |item| match asked {
            Asked::Circuit(id) => item == Item::Circuit(id),
            Asked::Main(battery) => item == Item::Battery(battery),
            Asked::Cable(..) => added.is_some_and(|id| item == Item::Cable(CableRef::Planned(id))),
            _ => false,
        });
    }
}

fn say_what_came(app: &mut App) {
    let brought = app.editor().and_then(|editor| brought(editor).map(|finding| finding.says.clone()));
    if let (Some(says), Some(toast)) = (brought, &mut app.toast) {
        toast.text = format!("{}. Now: {says}", toast.text);
    }
}

/// The heaviest finding that the last edit brought, from a caution on.
fn brought(editor: &Editor) -> Option<&Finding> {
    let (_, before) = editor.session.previous()?;
    let known = |now: &&Finding| before.iter().any(|was| was.check == now.check && was.subject == now.subject);
    let findings = editor.session.findings().iter();
    findings.filter(|finding| finding.severity >= Severity::Caution).find(|finding| !known(finding))
}

/// Picks up what the chosen line stands for, or hangs what was picked up on it.
pub(super) fn carry(app: &mut App) {
    let Some(line) = chosen(app) else { return };
    let Some(editor) = app.editor_mut() else { return };
    if let Some(carried) = editor.carried {
        return hang(app, carried, line.item);
    }
    editor.carried = match line.item {
        Item::Load(gear, _) => Some(Carried::Load(gear)),
        Item::Circuit(id) => Some(Carried::Circuit(id)),
        _ => return app.refuse("only a load or a circuit is picked up here"),
    };
}

/// Enter: hangs what was picked up, else opens what can be changed here.
pub(super) fn accept(app: &mut App) {
    let Some(line) = chosen(app) else { return };
    if let Some(carried) = app.editor().and_then(|editor| editor.carried) {
        return hang(app, carried, line.item);
    }
    if app.editor().is_some_and(|editor| !editor.may_write()) {
        return app.refuse("this plan can only be looked at");
    }
    match line.item {
        Item::Battery(battery) => forms::ask_main(app, battery),
        Item::Circuit(id) => forms::ask_circuit(app, id, false),
        Item::Load(..) => choose(app),
        Item::Unit { .. } | Item::Spare { .. } => add_circuit(app),
        Item::Cable(_) => cables::walk(app),
        Item::Free | Item::Lost | Item::Cables => {}
    }
}

/// Lists what the gear in question can be hung on.
pub(super) fn choose(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let Some(id) = editor.gear() else { return };
    let plan = editor.session.plan();
    let all = lines(super::sources(editor, app.look.tape));
    let mut choices: Vec<Choice> = all.iter().filter_map(|line| target(plan, line)).collect();
    if choices.is_empty() {
        return app.refuse("a circuit needs a battery: take one from the catalogue first");
    }
    if plan.wiring.circuit_of(id).is_some() {
        choices.push(Choice::new("on no circuit", "", Value::Wire(Item::Free)));
    }
    let title = format!("hang {} on", named(plan, Item::Load(id, None)));
    app.layers.push(Layer::Chooser(Chooser::new(title, Purpose::Circuit(id), choices)));
}

/// A line as something to hang a load on, in words.
fn target(plan: &Plan, line: &Line) -> Option<Choice> {
    let name = named(plan, line.item);
    let (label, detail) = match line.item {
        Item::Circuit(id) => {
            let fuse = plan.wiring.circuit(id)?.fuse;
            (name, fuse.map_or("no fuse".into(), |fuse| format!("fuse {} A", fuse.to_amps())))
        }
        Item::Spare { .. } => (format!("a new circuit on {name}"), String::new()),
        Item::Battery(_) => (format!("a new circuit straight on {name}"), line.about.clone()),
        _ => return None,
    };
    Some(Choice::new(label, detail, Value::Wire(line.item)))
}

/// Takes the size and fuse that would do.
pub(super) fn cure(app: &mut App) {
    let Some(line) = chosen(app) else { return };
    let Some(editor) = app.editor() else { return };
    let plan = editor.session.plan();
    let Some(cure) = cure_of(&editor.session.study().wiring, editor.session.findings(), line.item) else {
        return app.refuse("no wire size or fuse is wrong here");
    };
    let fuse = cure.fuse_a.map(Current::amps);
    let edit_of = match line.item {
        Item::Circuit(id) => plan.wiring.circuit(id).map(|circuit| Edit::SetCircuit {
            circuit: Circuit {
                gauge_awg: cure.gauge_awg.or(circuit.gauge_awg),
                fuse: fuse.or(circuit.fuse),
                ..circuit.clone()
            },
        }),
        Item::Battery(battery) => {
            let main = plan.wiring.main_of(battery).cloned().unwrap_or_else(|| Main::new(battery));
            let (gauge_awg, fuse) = (cure.gauge_awg.or(main.gauge_awg), fuse.or(main.fuse));
            Some(Edit::SetMain { main: Main { fuse, gauge_awg, ..main } })
        }
        _ => None,
    };
    if let Some(change) = edit_of {
        edit(app, change);
    }
}

/// Adds a circuit where the chosen line is, with the load it stands for, and asks for its wire; among the cables one of
/// them.
pub(super) fn add_circuit(app: &mut App) {
    let Some(line) = chosen(app) else { return };
    let Some(editor) = app.editor() else { return };
    let plan = editor.session.plan();
    let on = match line.item {
        Item::Cables | Item::Cable(_) => return planned::ask_from(app),
        Item::Circuit(id) | Item::Load(_, Some(id)) => plan.wiring.circuit(id).map(|circuit| match circuit.channel {
            Some((unit, _)) => Item::Unit { battery: circuit.battery, unit },
            None => Item::Battery(circuit.battery),
        }),
        Item::Load(_, None) | Item::Free | Item::Lost => hang::first_battery(plan).map(Item::Battery),
        item => Some(item),
    };
    let load = if let Item::Load(gear, None) = line.item { Some(gear) } else { None };
    match on {
        Some(on) => hang::new_circuit(app, load, on),
        None => app.refuse("a circuit needs a battery: take one from the catalogue first"),
    }
}

/// Takes a load off its circuit, or strikes a circuit, a main or a cable.
pub(super) fn strike(app: &mut App) {
    let Some(line) = chosen(app) else { return };
    match line.item {
        Item::Load(gear, _) => hang(app, Carried::Load(gear), Item::Free),
        Item::Circuit(id) => {
            edit(app, Edit::StrikeCircuit { circuit: id });
            cursor::row(app, 0);
        }
        Item::Battery(battery) => {
            edit(app, Edit::StrikeMain { battery });
        }
        Item::Cable(cable) => planned::strike(app, cable),
        _ => app.refuse("put the row on a load, a circuit, a battery or a cable first"),
    }
}
