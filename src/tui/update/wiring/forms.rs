//! The forms of circuits and mains: opened with what is so now, read back into an edit.

use crate::edit::Edit;
use crate::plan::{Circuit, CircuitId, Electric, GearId, Main, Name, Plan, Wire};
use crate::study::wiring::run::Run;
use crate::tui::app::App;
use crate::tui::layer::{Asked, Field, FieldKind, Form, Layer, Order, length_as_typed};
use crate::units::{Current, Measure, Quantity, Tape, Temperature};

const NO_YES: &[&str] = &["no", "yes"];
const PROTECTIONS: &[&str] = &["fuse", "breaker"];

const HELP: &str = "The fuse protects the wire and sits at the battery. A shorted battery can start a fire. What is left \
                    empty is not known.";

/// Opens the form of a circuit. A new one is offered the size and fuse that would do.
pub(in crate::tui::update) fn ask_circuit(app: &mut App, id: CircuitId, new: bool) {
    let tape = app.look.tape.0;
    let Some(editor) = app.editor() else { return };
    let (plan, wiring) = (editor.session.plan(), &editor.session.study().wiring);
    let (Some(circuit), Some(run)) = (plan.wiring.circuit(id), wiring.circuit(id).map(|wire| &wire.run)) else {
        return;
    };
    let offered = if new { offer(circuit.wire(), run) } else { circuit.wire() };
    let channel = circuit.channel.map_or(String::new(), |(_, channel)| channel.to_string());
    let mut fields = vec![Field::new("name", FieldKind::Name, circuit.name.as_str())];
    fields.extend(wire_fields("fuse", &offered, run, tape));
    fields.push(Field::new("channel", FieldKind::Number(""), channel).optional());
    let title = format!("circuit {}", circuit.name);
    app.layers.push(Layer::Form(Form::new(title, Asked::Circuit(id), tape, fields).with_help(HELP)));
}

/// Opens the form of a battery's main; where it has none, filling it in adds one.
pub(in crate::tui::update) fn ask_main(app: &mut App, battery: GearId) {
    let tape = app.look.tape.0;
    let Some(editor) = app.editor() else { return };
    let (plan, wiring) = (editor.session.plan(), &editor.session.study().wiring);
    let Some(gear) = plan.gear(battery) else { return };
    let run = wiring.main(battery).map(|main| &main.run);
    let stated = plan.wiring.main_of(battery);
    let wire = match (stated, run) {
        (Some(main), _) => main.wire(),
        (None, Some(run)) => offer(Main::new(battery).wire(), run),
        (None, None) => Main::new(battery).wire(),
    };
    let word = stated.map_or(PROTECTIONS[0], Main::word);
    let mut fields = vec![Field::new("what it is", FieldKind::OneOf(PROTECTIONS), word)];
    let rating = "rating";
    match run {
        Some(run) => fields.extend(wire_fields(rating, &wire, run, tape)),
        None => fields.extend(plain_fields(rating, &wire, tape)),
    }
    let title = format!("main of {}", gear.label);
    app.layers.push(Layer::Form(Form::new(title, Asked::Main(battery), tape, fields).with_help(HELP)));
}

/// A wire with the size and fuse that would do where none is stated.
fn offer(wire: Wire, run: &Run) -> Wire {
    Wire {
        gauge_awg: wire.gauge_awg.or(run.smallest_awg),
        fuse: wire.fuse.or(run.standard_fuse_a.map(Current::amps)),
        ..wire
    }
}

/// The fields of a wire; labels say what would do.
fn wire_fields(fuse: &str, wire: &Wire, run: &Run, tape: Tape) -> [Field; 6] {
    let mut fields = plain_fields(fuse, wire, tape);
    if let Some(amps) = run.standard_fuse_a {
        fields[0].label = format!("{fuse}, {amps} A does");
    }
    if let Some(awg) = run.smallest_awg {
        fields[1].label = format!("wire size, {awg} does");
    }
    if let Some(way) = run.one_way.filter(|_| wire.length.is_none()) {
        fields[5].label = format!("one way, {} by the {}", Measure(tape).length(way.mm), way.by.word());
    }
    fields
}

fn plain_fields(fuse: &str, wire: &Wire, tape: Tape) -> [Field; 6] {
    let number = |value: Option<f64>| value.map_or(String::new(), |value| value.to_string());
    let length = |value: Option<_>| value.map_or(String::new(), |value| length_as_typed(value, tape));
    [
        Field::new(fuse, FieldKind::Number("A"), number(wire.fuse.map(Quantity::base))).optional(),
        Field::new("wire size", FieldKind::Number("AWG"), number(wire.gauge_awg.map(f64::from))).optional(),
        Field::new("insulation stands", FieldKind::Number("C"), number(wire.insulation.map(|t| t.to_celsius())))
            .optional(),
        Field::new("in a sheath", FieldKind::OneOf(NO_YES), NO_YES[usize::from(wire.sheathed)]),
        Field::new("wire up to the fuse", FieldKind::Length, length(wire.fuse_at)).optional(),
        Field::new("one way, measured", FieldKind::Length, length(wire.length)).optional(),
    ]
}

/// The fields of a wire as filled in, from the second field on.
fn wire_of(order: &Order) -> Result<Wire, String> {
    let gauge_awg = order.number_if_any(2).map(|awg| whole(awg, "a wire size")).transpose()?;
    Ok(Wire {
        fuse: order.number_if_any(1).map(Current::amps),
        gauge_awg,
        insulation: order.number_if_any(3).map(Temperature::celsius),
        sheathed: order.text(4) == NO_YES[1],
        fuse_at: order.length_if_any(5),
        length: order.length_if_any(6),
    })
}

/// A small whole number, or what is wrong with it.
fn whole(number: f64, what: &str) -> Result<u8, String> {
    let fits = number.fract() == 0.0 && (0.0..=99.0).contains(&number);
    if fits { Ok(number as u8) } else { Err(format!("{what} is a whole number")) }
}

/// The circuit as filled in.
pub(in crate::tui::update) fn circuit_edit(plan: &Plan, id: CircuitId, order: &Order) -> Result<Edit, String> {
    let circuit = plan.wiring.circuit(id).ok_or("the circuit is gone")?;
    let Wire { fuse, gauge_awg, insulation, fuse_at, sheathed, length } = wire_of(order)?;
    let channel = match order.number_if_any(7) {
        Some(number) => Some(channel(plan, circuit, whole(number, "a channel")?)?),
        None => None,
    };
    let name = Name::new(order.text(0)).map_err(|why| why.to_string())?;
    let circuit = Circuit { name, fuse, gauge_awg, insulation, fuse_at, sheathed, length, channel, ..circuit.clone() };
    Ok(Edit::SetCircuit { circuit })
}

/// A channel of the unit that the circuit is on, else of the only one aboard.
fn channel(plan: &Plan, circuit: &Circuit, number: u8) -> Result<(GearId, u8), String> {
    let units = plan.gear.iter().filter(|gear| matches!(gear.spec.electric, Some(Electric::Switch { .. })));
    let units: Vec<GearId> = units.map(|gear| gear.id).collect();
    let unit = match (circuit.channel, units.as_slice()) {
        (Some((unit, _)), _) => unit,
        (None, [unit]) => *unit,
        (None, []) => return Err("there is no switch unit: take one from the catalogue".into()),
        (None, _) => return Err("which switch unit? pick the circuit up and set it down on a free channel".into()),
    };
    match plan.gear(unit).and_then(|gear| gear.spec.electric.as_ref()) {
        Some(Electric::Switch { channels, .. }) if !(1..=*channels).contains(&number) => {
            Err(format!("its channels are 1 to {channels}"))
        }
        _ => Ok((unit, number)),
    }
}

/// The main as filled in.
pub(in crate::tui::update) fn main_edit(battery: GearId, order: &Order) -> Result<Edit, String> {
    let Wire { fuse, gauge_awg, insulation, fuse_at, sheathed, length } = wire_of(order)?;
    let breaker = order.text(0) == PROTECTIONS[1];
    Ok(Edit::SetMain { main: Main { battery, fuse, breaker, gauge_awg, insulation, fuse_at, sheathed, length } })
}
