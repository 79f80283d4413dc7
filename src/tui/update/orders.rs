//! The forms: opening them with what is so now, and turning what was filled in into an edit.

use std::path::PathBuf;

use super::{Effect, build, readings, seat_test, talk, wiring};
use crate::edit::Edit;
use crate::plan::{Fate, GearId, HoleId, Name, Penetration, Placement, Purpose, Seal, Seat, SeatHeight, Side};
use crate::tui::app::{App, Editor};
use crate::tui::layer::{Asked, Field, FieldKind, Form, Layer, Order, length_as_typed};
use crate::units::{Angle, Length, Measure, Quantity, Tape};

const SIDES: &[&str] = &["port", "starboard"];
const HEIGHTS: &[&str] = &["low", "high"];

fn open(app: &mut App, form: Form) {
    app.layers.push(Layer::Form(form));
}

fn tape(app: &App) -> Tape {
    app.look.tape.0
}

fn side_word(y: f64) -> &'static str {
    if y < 0.0 { SIDES[1] } else { SIDES[0] }
}

fn side_of(text: &str) -> Side {
    if text == SIDES[1] { Side::Starboard } else { Side::Port }
}

/// A typed distance to a side as y: positive to port.
fn across(distance: Length, side: &str) -> Length {
    distance.scaled(side_of(side).sign())
}

pub(super) fn ask_rename(app: &mut App) {
    let Some(id) = app.editor().and_then(Editor::gear) else { return };
    let label = app.editor().and_then(|e| e.session.plan().gear(id)).map(|g| g.label.to_string()).unwrap_or_default();
    let form = Form::new("rename", Asked::Rename(id), tape(app), vec![Field::new("label", FieldKind::Name, label)]);
    open(app, form);
}

pub(super) fn ask_plan_name(app: &mut App) {
    let name = app.editor().map(|e| e.session.plan().name.to_string()).unwrap_or_default();
    let form = Form::new("name the plan", Asked::PlanName, tape(app), vec![Field::new("name", FieldKind::Name, name)]);
    open(app, form);
}

/// The gear in question and where it is placed.
fn placement(app: &App) -> Option<(GearId, Placement)> {
    let editor = app.editor()?;
    let id = editor.gear()?;
    Some((id, editor.session.plan().gear(id)?.place?))
}

pub(super) fn ask_move_to(app: &mut App) {
    let Some((id, place)) = placement(app) else { return };
    let tape = tape(app);
    let y = if place.y.to_mm() < 0.0 { place.y.scaled(-1.0) } else { place.y };
    let fields = vec![
        Field::new("from the stern", FieldKind::Length, length_as_typed(place.x, tape)),
        Field::new("off the centreline", FieldKind::Length, length_as_typed(y, tape)),
        Field::new("side", FieldKind::OneOf(SIDES), side_word(place.y.to_mm())),
        Field::new("turn to port", FieldKind::Number("deg"), format!("{:.0}", place.turn.to_deg())),
    ];
    open(app, Form::new("move to", Asked::MoveTo(id), tape, fields));
}

pub(super) fn ask_raise(app: &mut App) {
    let Some((id, place)) = placement(app) else { return };
    let tape = tape(app);
    let fields = vec![Field::new("over its surface", FieldKind::Length, length_as_typed(place.raise, tape))];
    open(app, Form::new("raise", Asked::Raise(id), tape, fields));
}

pub(super) fn ask_hole(app: &mut App) {
    let fields = vec![
        Field::new("what for", FieldKind::Name, "cable entry"),
        Field::new("diameter", FieldKind::Length, if tape(app) == Tape::Metric { "22" } else { "7/8" }),
    ];
    let form = Form::new("add a hole at the cursor", Asked::AddHole, tape(app), fields)
        .with_help("A hole cannot be undone in the hull. Look behind it first; nothing below the waterline.");
    open(app, form);
}

pub(super) fn ask_seat(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let (seat, rails, tape) = (&editor.session.plan().angler.seat, &editor.session.plan().hull.seat, tape(app));
    let measure = Measure(tape);
    let help = format!(
        "The rails take the seat back from {} to {} from the stern.",
        measure.length(rails.back_aft.to_mm()),
        measure.length(rails.back_fore.to_mm())
    );
    let fields = vec![
        Field::new("back, from the stern", FieldKind::Length, length_as_typed(seat.back, tape)),
        Field::new("height", FieldKind::OneOf(HEIGHTS), seat.height.word()),
        Field::new("recline", FieldKind::Number("deg"), format!("{:.0}", seat.recline.to_deg())),
    ];
    open(app, Form::new("set the seat", Asked::Seat, tape, fields).with_help(help));
}

pub(super) fn ask_person(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let angler = &editor.session.plan().angler;
    let fields = vec![
        Field::new("mass as dressed", FieldKind::Number("kg"), format!("{:.0}", angler.mass.value.to_kg())),
        Field::new("stature", FieldKind::Length, length_as_typed(angler.stature.value, tape(app))),
        Field::new("working hand", FieldKind::OneOf(SIDES), angler.hand.word()),
        Field::new("landing side", FieldKind::OneOf(SIDES), angler.landing.word()),
        Field::new("re-entry side", FieldKind::OneOf(SIDES), angler.reentry.word()),
    ];
    let form = Form::new("describe the person", Asked::Person, tape(app), fields)
        .with_help("Lengths of the body are set in the inspector of the person (enter on the seat).");
    open(app, form);
}

pub(super) fn ask_save_as(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let now = match &editor.file.path {
        Some(path) => path.to_string_lossy().into_owned(),
        None => {
            let slug: String = editor
                .session
                .plan()
                .name
                .as_str()
                .to_lowercase()
                .chars()
                .map(|c| if c.is_ascii_alphanumeric() { c } else { '-' })
                .collect();
            format!("{}.ron", slug.trim_matches('-'))
        }
    };
    let form = Form::new("save as", Asked::SaveAs, tape(app), vec![Field::new("file", FieldKind::Text, now)]);
    open(app, form);
}

/// Turns a filled form into an edit or an effect. A refusal keeps the form open.
pub(super) fn fill(app: &mut App, order: &Order) -> (Vec<Effect>, Option<String>) {
    if order.asked == Asked::SaveAs {
        let path = PathBuf::from(order.text(0));
        return match order.text(0) {
            "" => (Vec::new(), Some("type a file name".into())),
            _ => (vec![Effect::SaveAs(path, false)], None),
        };
    }
    if let Asked::Measure(class) = order.asked {
        return (Vec::new(), super::interview::measure_new(app, class, order).err());
    }
    if order.asked == Asked::Words {
        return talk::filled(app, order);
    }
    let Some(editor) = app.editor_mut() else { return (Vec::new(), None) };
    let edits = match edits_of(editor, order) {
        Ok(edits) => edits,
        Err(why) => return (Vec::new(), Some(why)),
    };
    let mut said = None;
    for edit in edits {
        match editor.session.edit(edit) {
            Ok(label) => said = Some(label),
            Err(why) => return (Vec::new(), Some(why.to_string())),
        }
    }
    if let Some(said) = said {
        app.say(said);
    }
    match order.asked {
        Asked::MoveTo(id) => super::cursor::show(app, crate::tui::app::Thing::Gear(id)),
        Asked::Circuit(_) | Asked::Main(_) | Asked::Cable(..) => wiring::filled(app, order.asked),
        _ => {}
    }
    (Vec::new(), None)
}

fn edits_of(editor: &Editor, order: &Order) -> Result<Vec<Edit>, String> {
    let plan = editor.session.plan();
    let name = |at: usize| Name::new(order.text(at)).map_err(|why| why.to_string());
    Ok(match order.asked {
        Asked::Figure(figure) => {
            vec![Edit::SetFigure { figure, value: order.quantity(figure), origin: order.origin() }]
        }
        Asked::Rename(gear) => vec![Edit::Rename { gear, label: name(0)? }],
        Asked::PlanName => vec![Edit::RenamePlan { name: name(0)? }],
        Asked::MoveTo(gear) => {
            let place = plan.gear(gear).and_then(|g| g.place).ok_or("it is ashore")?;
            let mount = plan.gear(gear).map(|g| g.mount).ok_or("it is gone")?;
            let at = Placement {
                x: order.length(0),
                y: across(order.length(1), order.text(2)),
                turn: Angle::deg(order.number(3).rem_euclid(360.0)),
                ..place
            };
            if at.turn == place.turn {
                vec![Edit::Move { gear, x: at.x, y: at.y }]
            } else {
                vec![Edit::Place { gear, at, mount }]
            }
        }
        Asked::Raise(gear) => vec![Edit::Raise { gear, by: order.length(0) }],
        Asked::AddHole => {
            let hole = Penetration {
                id: HoleId(0),
                name: name(0)?,
                x: Length::mm(editor.cursor.x),
                y: Length::mm(editor.cursor.y),
                bore: order.length(1),
                purpose: Purpose::Cable,
                fate: Fate::New,
                seal: Seal::default(),
                left: None,
            };
            vec![Edit::AddHole { hole }]
        }
        Asked::Seat => {
            let height = if order.text(1) == "high" { SeatHeight::High } else { SeatHeight::Low };
            vec![Edit::SetSeat { seat: Seat { back: order.length(0), height, recline: Angle::deg(order.number(2)) } }]
        }
        Asked::Person => {
            let mut angler = plan.angler.clone();
            let (mass, stature) = (order.number(0), order.length(1));
            // A figure typed anew was measured; one left as it was keeps its origin.
            if (mass - angler.mass.value.to_kg()).abs() > 0.5 {
                angler.mass = angler.mass.measured_over(crate::units::Mass::kg(mass));
            }
            if (stature.to_mm() - angler.stature.value.to_mm()).abs() > 0.5 {
                angler.stature = angler.stature.measured_over(stature);
            }
            angler.hand = side_of(order.text(2));
            angler.landing = side_of(order.text(3));
            angler.reentry = side_of(order.text(4));
            vec![Edit::SetAngler { angler: Box::new(angler) }]
        }
        Asked::Circuit(id) => vec![wiring::forms::circuit_edit(plan, id, order)?],
        Asked::Main(battery) => vec![wiring::forms::main_edit(battery, order)?],
        Asked::Cable(from, to) => vec![wiring::planned::edit_of(from, to, order)],
        Asked::Waterline | Asked::Scale | Asked::Meter => vec![readings::added(plan, order)?],
        Asked::Tick(act, on) => vec![build::ticked(act, on, order)?],
        Asked::WorkTimes => vec![build::timed(plan, order)?],
        Asked::KeepRevision => vec![Edit::NameRevision { name: name(0)?, date: None }],
        Asked::SeatTest => vec![seat_test::filled(plan, order)?],
        Asked::SaveAs | Asked::OpenPath | Asked::Words | Asked::Measure(_) => Vec::new(),
    })
}
