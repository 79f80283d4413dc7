//! The wiring sheet: a line for each wire from the battery to its load, and what to write on both of its ends.
//!
//! A main is called `M` and the number of its battery, a circuit's wire `W` and the circuit's number, a signal cable
//! `C` and the cable's: they stay when other wires come and go. The end that is fed is `A`, the others `B`, `C` and on.

use super::number::plain;
use super::paper::{Section, Sheet};
use super::study::label;
use crate::plan::{CableId, Chemistry, Circuit, GearId, Plan, Signal};
use crate::study::Study;
use crate::study::cables::ends::is_supply;
use crate::study::cables::{CableRef, CableRun};
use crate::study::wire::fuse::{OPEN_MM, SHEATHED_MM};
use crate::study::wire::gauge::area_mm2;
use crate::study::wiring::run::Run;
use crate::study::wiring::{CircuitWire, MainWire};
use crate::units::Measure;

const COLUMNS: &[&str] = &[
    "wire",
    "circuit",
    "from",
    "to",
    "channel",
    "fuse A",
    "AWG",
    "mm2",
    "one way mm",
    "typical A",
    "peak A",
    "drop V at peak",
    "drop % at peak",
    "permitted A",
    "label at from",
    "label at to",
    "signal",
];

/// The wiring of a plan: every main, every circuit in use, every cable of signals.
pub fn wiring_sheet(plan: &Plan, study: &Study, tape: Measure) -> Sheet {
    let wires = wires(plan, study);
    Sheet {
        title: format!("Wiring of {}", plan.name),
        cautions: cautions(study),
        drawing: drawing(plan, study, &wires, tape),
        columns: COLUMNS,
        sections: Section::whole(wires.iter().map(|wire| wire.row(plan)).collect()),
    }
}

/// One wire on the sheet.
struct Wire<'a> {
    name: String,
    circuit: &'a str,
    from: GearId,
    to: Vec<GearId>,
    channel: Option<u8>,
    /// The battery that feeds it; `None` for a cable of signals.
    battery: Option<GearId>,
    run: Option<&'a Run>,
    length_mm: Option<f64>,
    signal: &'static str,
}

impl Wire<'_> {
    fn row(&self, plan: &Plan) -> Vec<String> {
        let figure = |of: fn(&Run) -> Option<f64>, digits: usize| {
            self.run.and_then(of).map_or(String::new(), |value| format!("{value:.digits$}"))
        };
        vec![
            self.name.clone(),
            self.circuit.to_string(),
            label(plan, self.from).to_string(),
            self.loads(plan),
            self.channel.map_or(String::new(), |channel| channel.to_string()),
            self.run.and_then(|run| run.fuse_a).map_or(String::new(), plain),
            self.run.and_then(|run| run.gauge_awg).map_or(String::new(), |awg| awg.to_string()),
            figure(|run| run.gauge_awg.map(area_mm2), 2),
            self.length_mm.map_or(String::new(), |mm| format!("{mm:.0}")),
            figure(|run| Some(run.amps.typical), 2),
            figure(|run| Some(run.amps.peak), 2),
            figure(|run| run.total().map(|total| total.peak), 2),
            figure(|run| run.total().map(|total| run.percent(total.peak)), 1),
            self.run.and_then(|run| run.permitted_a).map_or(String::new(), plain),
            end(&self.name, 0),
            (1..=self.to.len().max(1)).map(|number| end(&self.name, number)).collect::<Vec<_>>().join(", "),
            self.signal.to_string(),
        ]
    }

    fn loads(&self, plan: &Plan) -> String {
        self.to.iter().map(|gear| label(plan, *gear)).collect::<Vec<_>>().join(", ")
    }

    /// What to write on both ends of its cable between two pieces of gear, if it runs from one to the other.
    fn ends(&self, from: GearId, to: GearId) -> Option<[String; 2]> {
        let fed = |from: GearId, to: GearId| self.to.iter().position(|gear| *gear == to).filter(|_| self.from == from);
        let labels = |number: usize| [end(&self.name, 0), end(&self.name, number + 1)];
        let back = |number: usize| [end(&self.name, number + 1), end(&self.name, 0)];
        fed(from, to).map(labels).or_else(|| fed(to, from).map(back))
    }

    /// `--[fuse 3 A]-- W1: 20 AWG, 3100 mm, loses 0.29 V (2.3 %) --> display`.
    fn line(&self, plan: &Plan, tape: Measure) -> String {
        let run = self.run;
        let fuse = run.and_then(|run| run.fuse_a).map_or("no fuse".into(), |amps| format!("fuse {} A", plain(amps)));
        let gauge = run.and_then(|run| run.gauge_awg).map_or("size not stated".into(), |awg| format!("{awg} AWG"));
        let mut parts = vec![gauge, self.length_mm.map_or("length not known".into(), |mm| tape.length(mm))];
        parts.extend(run.and_then(|run| {
            let total = run.total()?;
            Some(format!("loses {:.2} V ({:.1} %)", total.peak, run.percent(total.peak)))
        }));
        let to = if self.to.is_empty() { "nothing aboard".to_string() } else { self.loads(plan) };
        format!("--[{fuse}]-- {}: {} --> {to}", self.name, parts.join(", "))
    }
}

/// The cables that the sheet has wires for, each with what to write on its two ends.
pub(super) fn cable_ends<'a>(plan: &'a Plan, study: &'a Study) -> Vec<(&'a CableRun, [String; 2])> {
    let wires = wires(plan, study);
    let ends = |run: &CableRun| match run.id {
        CableRef::Planned(id) if !is_supply(run.signal) => {
            wires.iter().find(|wire| wire.name == signal_cable(id))?.ends(run.from, run.to)
        }
        _ => wires.iter().filter(|wire| wire.battery.is_some()).find_map(|wire| wire.ends(run.from, run.to)),
    };
    study.cables.runs.iter().filter_map(|run| Some((run, ends(run)?))).collect()
}

fn signal_cable(id: CableId) -> String {
    format!("C{}", id.0)
}

/// `W3-A`; past the alphabet `W3-27`.
fn end(wire: &str, number: usize) -> String {
    match u8::try_from(number) {
        Ok(number @ 0..=25) => format!("{wire}-{}", char::from(b'A' + number)),
        _ => format!("{wire}-{}", number + 1),
    }
}

fn wires<'a>(plan: &'a Plan, study: &'a Study) -> Vec<Wire<'a>> {
    let mains = study.wiring.mains.iter().map(of_main);
    let in_use = study.wiring.circuits.iter().filter(|wire| wire.in_use);
    let circuits = in_use.filter_map(|wire| Some(of_circuit(plan, study, plan.wiring.circuit(wire.circuit)?, wire)));
    let cables = plan.wiring.cables.iter().filter(|cable| matches!(cable.signal, Signal::Sonar | Signal::Data));
    let cables = cables.map(|cable| Wire {
        name: signal_cable(cable.id),
        circuit: "",
        from: cable.from,
        to: vec![cable.to],
        channel: None,
        battery: None,
        run: None,
        length_mm: cable.length.map(|length| length.to_mm()),
        signal: signal_word(cable.signal),
    });
    mains.chain(circuits).chain(cables).collect()
}

fn of_main(main: &MainWire) -> Wire<'_> {
    Wire {
        name: format!("M{}", main.battery.0),
        circuit: "main",
        from: main.battery,
        to: main.units.clone(),
        channel: None,
        battery: Some(main.battery),
        run: Some(&main.run),
        length_mm: main.run.one_way.map(|way| way.mm),
        signal: signal_word(Signal::Power),
    }
}

fn of_circuit<'a>(plan: &'a Plan, study: &Study, circuit: &'a Circuit, wire: &'a CircuitWire) -> Wire<'a> {
    // What hangs behind a converter hangs on a lead of its own.
    let behind = |gear: GearId| study.power.load(gear).is_some_and(|load| load.converter.is_some());
    let aboard = |gear: GearId| plan.gear(gear).is_some_and(|gear| gear.is_placed());
    let unit = circuit.channel.filter(|(unit, _)| aboard(*unit));
    Wire {
        name: format!("W{}", circuit.id.0),
        circuit: circuit.name.as_str(),
        from: unit.map_or(circuit.battery, |(unit, _)| unit),
        to: circuit.loads.iter().copied().filter(|load| aboard(*load) && !behind(*load)).collect(),
        channel: unit.map(|(_, channel)| channel),
        battery: Some(circuit.battery),
        run: Some(&wire.run),
        length_mm: wire.run.one_way.map(|way| way.mm),
        signal: signal_word(if wire.motors_only { Signal::MotorPower } else { Signal::Power }),
    }
}

fn signal_word(signal: Signal) -> &'static str {
    match signal {
        Signal::Power => "power",
        Signal::MotorPower => "motor power",
        Signal::Sonar => "sonar",
        Signal::Data => "data",
    }
}

/// Each battery, its main, then its circuits one below the other; last what is on no circuit.
fn drawing(plan: &Plan, study: &Study, wires: &[Wire<'_>], tape: Measure) -> Vec<String> {
    let mut lines = Vec::new();
    for battery in &study.power.batteries {
        lines.push(format!("{} ({} V)", label(plan, battery.gear), plain(battery.volts.to_volts())));
        let fed = wires.iter().filter(|wire| wire.battery == Some(battery.gear));
        let (mains, circuits): (Vec<&Wire<'_>>, Vec<&Wire<'_>>) =
            fed.partition(|wire| wire.circuit == "main" && wire.name.starts_with('M'));
        lines.extend(mains.iter().map(|main| format!("  main {}", main.line(plan, tape))));
        lines.extend(circuits.iter().map(|wire| match wire.channel {
            Some(channel) => format!("    {}, channel {channel} {}", label(plan, wire.from), wire.line(plan, tape)),
            None => format!("    {}", wire.line(plan, tape)),
        }));
    }
    let free: Vec<&str> = study.wiring.free.iter().map(|gear| label(plan, *gear)).collect();
    lines.extend((!free.is_empty()).then(|| format!("on no circuit: {}", free.join(", "))));
    if lines.is_empty() { vec!["no battery is aboard".into()] } else { lines }
}

fn cautions(study: &Study) -> Vec<String> {
    let mut cautions = vec![
        "Disconnect the battery before work on the wiring and cover its terminals: a short circuit can start a fire \
         and melt the hull. When unsure ask a competent electrician."
            .to_string(),
        format!(
            "Put each fuse within reach of the battery: {OPEN_MM:.0} mm of wire from its terminal, {SHEATHED_MM:.0} mm \
             in a sheath (33 CFR 183.455(b), as practice)."
        ),
    ];
    if study.power.batteries.iter().any(|battery| battery.chemistry == Chemistry::LithiumIronPhosphate) {
        cautions.push(
            "Lithium battery: the charger made for it, above freezing, never after it was under water; do not open it."
                .to_string(),
        );
    }
    cautions.push(
        "An estimate from the plan's figures. The makers' sheets and local rules go before this sheet.".to_string(),
    );
    cautions
}
