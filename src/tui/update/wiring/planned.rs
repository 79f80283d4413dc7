//! Planning a cable: from which gear, to which, what runs in it, how long it was measured; and striking it.

use super::edit;
use crate::catalogue::kind_word;
use crate::checks::Subject;
use crate::edit::Edit;
use crate::plan::{Cable, CableId, Gear, GearId, Kind, Plan, Signal};
use crate::study::cables::CableRef;
use crate::tui::app::App;
use crate::tui::layer::{Asked, Choice, Chooser, Field, FieldKind, Form, Layer, Order, Purpose, Value};
use crate::tui::update::cursor;
use crate::tui::words::cables::signal;

const SIGNALS: [Signal; 4] = [Signal::Power, Signal::MotorPower, Signal::Sonar, Signal::Data];

const WORDS: &[&str] = &[signal(SIGNALS[0]), signal(SIGNALS[1]), signal(SIGNALS[2]), signal(SIGNALS[3])];

const HELP: &str = "Its way is found through the openings of the boat. Left empty, its length is that of the way with \
                    slack.";

/// Lists the gear aboard from which a cable can come.
pub(in crate::tui::update) fn ask_from(app: &mut App) {
    let Some(plan) = app.editor().map(|editor| editor.session.plan()) else { return };
    let choices = ends(plan, None);
    if choices.len() < 2 {
        return app.refuse("a cable needs two pieces of gear aboard");
    }
    app.layers.push(Layer::Chooser(Chooser::new("plan a cable from", Purpose::CableFrom, choices)));
}

/// Lists the gear to which a cable from this one can lead.
pub(in crate::tui::update) fn ask_to(app: &mut App, from: GearId) {
    let Some(plan) = app.editor().map(|editor| editor.session.plan()) else { return };
    let title = format!("plan a cable from {} to", Subject::Gear(from).named(plan));
    let choices = ends(plan, Some(from));
    app.layers.push(Layer::Chooser(Chooser::new(title, Purpose::CableTo(from), choices)));
}

/// Gear aboard, but for one.
fn ends(plan: &Plan, but: Option<GearId>) -> Vec<Choice> {
    let aboard = plan.gear.iter().filter(|gear| gear.is_placed() && Some(gear.id) != but);
    let choice = |gear: &Gear| Choice::new(gear.label.as_str(), kind_word(gear.spec.kind), Value::Gear(gear.id));
    aboard.map(choice).collect()
}

/// Asks what runs in a cable between two pieces of gear, and how long it was measured.
pub(in crate::tui::update) fn ask_what(app: &mut App, from: GearId, to: GearId) {
    let tape = app.look.tape.0;
    let Some(plan) = app.editor().map(|editor| editor.session.plan()) else { return };
    let title = format!("cable from {} to {}", Subject::Gear(from).named(plan), Subject::Gear(to).named(plan));
    let fields = vec![
        Field::new("what runs in it", FieldKind::OneOf(WORDS), signal(likely(plan, from, to))),
        Field::new("length, measured", FieldKind::Length, "").optional(),
    ];
    app.layers.push(Layer::Form(Form::new(title, Asked::Cable(from, to), tape, fields).with_help(HELP)));
}

/// What most likely runs between two pieces of gear.
fn likely(plan: &Plan, from: GearId, to: GearId) -> Signal {
    let is = |kind: Kind| [from, to].iter().any(|id| plan.gear(*id).is_some_and(|gear| gear.spec.kind == kind));
    if is(Kind::Motor) {
        Signal::MotorPower
    } else if is(Kind::Transducer) {
        Signal::Sonar
    } else {
        Signal::Power
    }
}

/// The cable as filled in.
pub(in crate::tui::update) fn edit_of(from: GearId, to: GearId, order: &Order) -> Edit {
    let chosen = SIGNALS.into_iter().find(|one| signal(*one) == order.text(0));
    let signal = chosen.unwrap_or(Signal::Power);
    let cable = Cable { id: CableId(0), from, to, signal, via: Vec::new(), length: order.length_if_any(1) };
    Edit::AddCable { cable }
}

/// Strikes a planned cable; one that a circuit implies goes with the circuit.
pub(super) fn strike(app: &mut App, cable: CableRef) {
    match cable {
        CableRef::Planned(cable) => {
            edit(app, Edit::StrikeCable { cable });
            cursor::row(app, 0);
        }
        CableRef::Implied(..) => app.refuse("this cable follows from its circuit: strike or hang that"),
    }
}
