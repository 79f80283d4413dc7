//! The forms: opening them with what is so now, and turning what was filled in into an edit.

use std::path::PathBuf;

use super::{Effect, readings, talk};
use crate::edit::Edit;
use crate::plan::{
    CircuitId, Duty, Fate, GearId, HoleId, Name, Outing, Penetration, Phase, Placement, Purpose, Seal, Seat,
    SeatHeight, Side, Water,
};
use crate::tui::app::{App, Editor};
use crate::tui::layer::{Asked, Field, FieldKind, Form, Layer, Order, PhaseLine, length_as_typed};
use crate::units::{Angle, Current, Length, Measure, Quantity, Tape};

const SIDES: &[&str] = &["port", "starboard"];
const HEIGHTS: &[&str] = &["low", "high"];
const WATERS: &[&str] = &["fresh", "salt"];

/// Phases a form offers beyond those the plan has.
const SPARE_PHASES: usize = 2;

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

pub(super) fn ask_outing(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let outing = &editor.session.plan().outing;
    let mut fields = vec![
        Field::new("name", FieldKind::Name, outing.name.as_str()),
        Field::new("coldest air", FieldKind::Number("C"), format!("{:.0}", outing.air.to_celsius())),
        Field::new("water", FieldKind::Number("C"), format!("{:.0}", outing.water_temperature.to_celsius())),
        Field::new("water is", FieldKind::OneOf(WATERS), if outing.water == Water::Salt { "salt" } else { "fresh" }),
    ];
    for phase in &outing.phases {
        let dark = if phase.dark { ", dark" } else { "" };
        fields.push(Field::new("phase", FieldKind::Phase, format!("{}, {}{dark}", phase.name, phase.hours.to_hours())));
    }
    fields.extend((0..SPARE_PHASES).map(|_| Field::new("phase", FieldKind::Phase, "")));
    let form = Form::new("plan the day", Asked::Outing, tape(app), fields)
        .with_help("A phase: name, hours, dark. An empty one is struck.");
    open(app, form);
}

pub(super) fn ask_circuit(app: &mut App, id: CircuitId) {
    let Some(editor) = app.editor() else { return };
    let Some(circuit) = editor.session.plan().wiring.circuits.iter().find(|c| c.id == id) else { return };
    let fields = vec![
        Field::new("name", FieldKind::Name, circuit.name.as_str()),
        Field::new(
            "fuse",
            FieldKind::Number("A"),
            circuit.fuse.map_or("5".into(), |fuse| format!("{}", fuse.to_amps())),
        ),
    ];
    let form = Form::new("circuit", Asked::Circuit(id), tape(app), fields)
        .with_help("The fuse protects the wire and sits at the battery. A shorted battery can start a fire.");
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
    if let Asked::MoveTo(id) = order.asked {
        super::cursor::show(app, crate::tui::app::Thing::Gear(id));
    }
    if let Some(said) = said {
        app.say(said);
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
        Asked::Outing => vec![Edit::SetOuting { outing: Box::new(outing(&plan.outing, order)?) }],
        Asked::Circuit(id) => {
            let circuit = plan.wiring.circuits.iter().find(|c| c.id == id).ok_or("the circuit is gone")?;
            let fuse = Some(Current::amps(order.number(1)));
            vec![Edit::SetCircuit { circuit: crate::plan::Circuit { name: name(0)?, fuse, ..circuit.clone() } }]
        }
        Asked::Waterline | Asked::Scale => vec![readings::added(order)?],
        Asked::SaveAs | Asked::OpenPath | Asked::Words | Asked::Measure(_) => Vec::new(),
    })
}

/// The day as filled in. A phase that keeps its name keeps what else was said about it.
fn outing(now: &Outing, order: &Order) -> Result<Outing, String> {
    let mut phases = Vec::new();
    for text in order.texts.iter().skip(4).filter(|text| !text.is_empty()) {
        let line = PhaseLine::read(text)?;
        let old = now.phases.iter().find(|phase| phase.name == line.name);
        phases.push(Phase {
            name: line.name,
            hours: line.hours,
            dark: line.dark,
            air: old.and_then(|phase| phase.air),
            charging: old.is_some_and(|phase| phase.charging),
            posture: old.map(|phase| phase.posture).unwrap_or_default(),
            motor: old.and_then(|phase| phase.motor.clone()),
            duties: old.map(|phase| phase.duties.clone()).unwrap_or_else(Vec::<Duty>::new),
        });
    }
    if phases.is_empty() {
        return Err("a day needs at least one phase".into());
    }
    Ok(Outing {
        name: Name::new(order.text(0)).map_err(|why| why.to_string())?,
        date: now.date.clone(),
        starts: now.starts,
        sunrise: now.sunrise,
        sunset: now.sunset,
        air: order.temperature(1),
        water_temperature: order.temperature(2),
        water: if order.text(3) == "salt" { Water::Salt } else { Water::Fresh },
        bilge: now.bilge,
        phases,
    })
}
