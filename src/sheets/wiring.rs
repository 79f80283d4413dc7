//! The wires on a page to read.

use super::number::{plain, with_unit};
use super::study::label;
use crate::plan::Plan;
use crate::study::Study;
use crate::study::wiring::run::Run;
use crate::units::{Current, Measure, Voltage, amount};

/// One line for each main, each circuit in use, and what is left free.
pub(super) fn wiring_lines(plan: &Plan, study: &Study, tape: Measure) -> Vec<String> {
    let wiring = &study.wiring;
    let mains =
        wiring.mains.iter().map(|main| format!("main of {}: {}", label(plan, main.battery), line(&main.run, tape)));
    let circuits = wiring.circuits.iter().filter(|wire| wire.in_use).map(|wire| {
        let name = plan.wiring.circuit(wire.circuit).map_or("", |circuit| circuit.name.as_str());
        format!("{name}: {}", line(&wire.run, tape))
    });
    let free: Vec<&str> = wiring.free.iter().map(|gear| label(plan, *gear)).collect();
    let free = (!free.is_empty()).then(|| format!("on no circuit: {}", free.join(", ")));
    let lines: Vec<String> = mains.chain(circuits).chain(free).collect();
    if lines.is_empty() { vec!["nothing aboard is wired".into()] } else { lines }
}

/// `16 AWG, 2950 mm one way (straight way), 1.8 A at most, loses 0.14 V or 1.1 percent of 3, carries 25 A, fuse 5 A
/// where 2.3 to 25 A fit`.
fn line(run: &Run, tape: Measure) -> String {
    let mut parts = vec![run.gauge_awg.map_or("wire size not stated".to_string(), |awg| format!("{awg} AWG"))];
    if let Some(way) = run.one_way {
        parts.push(format!("{} one way ({})", tape.length(way.mm), way.by.word()));
    }
    parts.push(format!("{} at most", amount(Current::amps(run.amps.peak), 1)));
    if let Some(total) = run.total() {
        let volts = |volts: f64| amount(Voltage::volts(volts), 2);
        let main = run.before.map_or(String::new(), |before| format!(", {} in the main", volts(before.peak)));
        let percent = plain(run.percent(total.peak));
        parts.push(format!("loses {} or {percent} percent of {}{main}", volts(total.peak), plain(run.allowed_percent)));
    }
    parts.extend(run.permitted_a.map(|amps| format!("carries {}", with_unit(amps, "A"))));
    let fuse = run.fuse_a.map_or("no fuse".to_string(), |amps| format!("fuse {}", with_unit(amps, "A")));
    let least = plain(run.least_fuse_a);
    parts.push(match run.greatest_fuse_a {
        Some(greatest) => format!("{fuse} where {least} to {} fit", with_unit(greatest, "A")),
        None => format!("{fuse} where {least} A or more fit"),
    });
    parts.join(", ")
}
