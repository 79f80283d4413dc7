//! The list of readings: switched, struck and added to, each an edit that can be undone.

use super::gear::edit;
use super::seat_test;
use crate::edit::Edit;
use crate::plan::{Gear, Name, Plan, Reading, Taken, Weighed};
use crate::sheets::outcome;
use crate::study::metered::is_meterable;
use crate::tui::app::App;
use crate::tui::layer::{Asked, Choice, Chooser, Field, FieldKind, Form, Layer, Order, Purpose, Value};
use crate::units::{Current, Mass};

const VERBS: &str = "space on or off, a adds, D strikes, esc closes";
const SWITCHED: &[&str] = &["off", "on"];
const WEIGHED: &[&str] = &["bare hull", "rigged boat"];

pub(super) fn list(app: &mut App) {
    if let Some(list) = chooser(app) {
        app.layers.push(Layer::Chooser(list));
    }
}

/// Lists the readings anew, near the row that was chosen, after one of them changed.
pub(super) fn refresh(app: &mut App) {
    let Some(at) = app.layers.iter().position(is_list) else { return };
    let Some(mut list) = chooser(app) else { return };
    if let Layer::Chooser(old) = &app.layers[at] {
        list.choose_row(old.row);
    }
    app.layers[at] = Layer::Chooser(list);
}

fn is_list(layer: &Layer) -> bool {
    matches!(layer, Layer::Chooser(list) if list.purpose == Purpose::Readings)
}

fn chooser(app: &App) -> Option<Chooser> {
    let session = &app.editor()?.session;
    let (plan, study, tape) = (session.plan(), session.study(), app.look.tape);
    let line = |(index, reading): (usize, &Reading)| {
        let date = reading.date.as_ref().map_or("undated", |date| date.as_str());
        let label = format!("{date:10}  {}", reading.words(plan, tape));
        Choice::new(label, outcome(plan, study, index, tape), Value::Reading(index))
    };
    let mut choices: Vec<Choice> = plan.readings.iter().enumerate().map(line).collect();
    choices.push(Choice::new("add a marked waterline", "", Value::Form(Asked::Waterline)));
    choices.push(Choice::new("add a meter reading", "", Value::Form(Asked::Meter)));
    choices.push(Choice::new("add a scale under the hull", "", Value::Form(Asked::Scale)));
    choices.push(Choice::new("add a seat test", "", Value::Form(Asked::SeatTest)));
    Some(Chooser { verbs: Some(VERBS), ..Chooser::new("readings", Purpose::Readings, choices) })
}

/// Does what was chosen in the list; the list stays open.
pub(super) fn chosen(app: &mut App, purpose: Purpose, value: &Value) {
    let Some(editor) = app.editor() else { return };
    if !editor.may_write() {
        app.refuse("this plan can only be looked at");
        return;
    }
    let plan = editor.session.plan();
    match (purpose, value) {
        (_, Value::Form(Asked::SeatTest)) if purpose != Purpose::StrikeReading => seat_test::ask(app, None),
        (_, Value::Form(asked)) if purpose != Purpose::StrikeReading => ask(app, *asked, None),
        (Purpose::Readings, Value::Reading(index)) => {
            let off = plan.readings.get(*index).is_some_and(|reading| !reading.off);
            edit(app, Edit::SwitchReading { index: *index, off });
        }
        (Purpose::StrikeReading, Value::Reading(index)) => {
            edit(app, Edit::StrikeReading { index: *index });
        }
        (Purpose::AddReading, Value::Reading(index)) => {
            let like = plan.readings.get(*index).cloned();
            let asked = match like.as_ref().map(|reading| &reading.taken) {
                Some(Taken::SeatTest { gear, .. }) => {
                    seat_test::ask(app, Some(*gear));
                    return;
                }
                Some(Taken::Meter { .. }) => Asked::Meter,
                Some(Taken::Scale { .. }) => Asked::Scale,
                _ => Asked::Waterline,
            };
            ask(app, asked, like);
        }
        _ => {}
    }
    refresh(app);
}

/// Opens the form of a reading; date, load and what was weighed are those of the one it is like.
fn ask(app: &mut App, asked: Asked, like: Option<Reading>) {
    if asked == Asked::Meter {
        ask_meter(app, like);
        return;
    }
    let tape = app.look.tape.0;
    let (date, taken) = like.map_or((None, None), |reading| (reading.date, Some(reading.taken)));
    let mut fields = vec![Field::new("from the stern", FieldKind::Length, "")];
    let form = if asked == Asked::Scale {
        let of = if let Some(Taken::Scale { of, .. }) = taken { of } else { Weighed::BareHull };
        fields.push(Field::new("the scale shows", FieldKind::Number("kg"), ""));
        fields.push(Field::new("weighed", FieldKind::OneOf(WEIGHED), of.word()));
        ("a scale under the hull", "Two or more bear the boat together, touching nothing else. Nobody aboard.")
    } else {
        let load = match taken {
            Some(Taken::Waterline { load, .. }) => format!("{}", load.to_kg()),
            _ => String::new(),
        };
        fields.push(Field::new("over the baseline", FieldKind::Length, ""));
        fields.push(Field::new("load beyond bare hull", FieldKind::Number("kg"), load));
        ("a marked waterline", "Still water, the mean of both sides. One date and load: one time in the water.")
    };
    fields.push(Field::new("date", FieldKind::Text, date.map(|date| date.to_string()).unwrap_or_default()));
    app.layers.push(Layer::Form(Form::new(form.0, asked, tape, fields).with_help(form.1)));
}

/// Opens the form of a meter: every load is on or off; on are those of the reading it is like, else what is selected.
fn ask_meter(app: &mut App, like: Option<Reading>) {
    let Some(editor) = app.editor() else { return };
    let date = like.as_ref().and_then(|reading| reading.date.as_ref()).map(ToString::to_string);
    let on = match like.map(|reading| reading.taken) {
        Some(Taken::Meter { loads, .. }) => loads,
        _ => editor.gear().into_iter().collect(),
    };
    let load = |gear: &Gear| {
        let word = if on.contains(&gear.id) { "on" } else { "off" };
        Field::new(gear.label.to_string(), FieldKind::OneOf(SWITCHED), word)
    };
    let mut fields = vec![
        Field::new("the meter shows", FieldKind::Number("A"), ""),
        Field::new("date", FieldKind::Text, date.unwrap_or_default()),
    ];
    fields.extend(meterable(editor.session.plan()).map(load));
    let help = "In series, in the loads' own lead, never across the battery. Say which loads were on.";
    app.layers.push(Layer::Form(Form::new("a meter reading", Asked::Meter, app.look.tape.0, fields).with_help(help)));
}

/// What a meter can be put to, in the order of the form.
fn meterable(plan: &Plan) -> impl Iterator<Item = &Gear> {
    plan.gear.iter().filter(|gear| is_meterable(gear))
}

fn meter(plan: &Plan, order: &Order) -> Taken {
    let on = |(at, _): &(usize, &Gear)| order.text(2 + at) == SWITCHED[1];
    let loads = meterable(plan).enumerate().filter(on).map(|(_, gear)| gear.id).collect();
    Taken::Meter { loads, current: Current::amps(order.number(0)) }
}

/// The reading as filled in.
pub(super) fn added(plan: &Plan, order: &Order) -> Result<Edit, String> {
    let taken = if order.asked == Asked::Meter {
        meter(plan, order)
    } else if order.asked == Asked::Scale {
        let of = if order.text(2) == WEIGHED[1] { Weighed::Rigged } else { Weighed::BareHull };
        Taken::Scale { x: order.length(0), mass: Mass::kg(order.number(1)), of, planned: None }
    } else {
        Taken::Waterline { x: order.length(0), height: order.length(1), load: Mass::kg(order.number(2)) }
    };
    let date = match order.text(if order.asked == Asked::Meter { 1 } else { 3 }) {
        "" => None,
        text => Some(Name::new(text).map_err(|why| why.to_string())?),
    };
    Ok(Edit::AddReading { reading: Reading { date, taken, off: false } })
}
