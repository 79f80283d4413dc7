//! Power budget: the charge of the day against what the batteries have to give.

use super::{Panel, PanelKind, PanelRow, Sources, label, mark};
use crate::tui::app::Thing;
use crate::units::{Charge, Current, amount};

pub(super) fn panel(from: Sources<'_>) -> Panel {
    let power = &from.study.power;
    let headline = amount(power.total, 1);
    let was = from.before.map(|before| amount(before.power.total, 1)).filter(|was| *was != headline);
    let usable: Charge = power.batteries.iter().map(|b| b.usable).sum();
    let gauge = (usable.to_amp_hours() > 0.0).then(|| {
        let share = power.total.to_amp_hours() / usable.to_amp_hours();
        (share, format!("of {} usable", amount(usable, 1)))
    });
    let mut rows = Vec::new();
    for battery in &power.batteries {
        let thing = Thing::Gear(battery.gear);
        let lasts = battery.lasts.map_or_else(|| "no load".to_string(), |h| format!("lasts {:.1} h", h.to_hours()));
        rows.push(PanelRow {
            mark: mark(from, PanelKind::Power, thing),
            label: label(from.plan, battery.gear),
            value: format!("{:.1}", battery.usable.to_amp_hours()),
            unit: "Ah",
            note: lasts,
            thing: Some(thing),
            quiet: false,
        });
    }
    let mut loads: Vec<_> = power.loads.iter().collect();
    loads.sort_by(|a, b| b.charge.to_amp_hours().total_cmp(&a.charge.to_amp_hours()));
    for load in loads {
        let thing = Thing::Gear(load.gear);
        rows.push(PanelRow {
            mark: mark(from, PanelKind::Power, thing),
            label: label(from.plan, load.gear),
            value: format!("{:.1}", load.charge.to_amp_hours()),
            unit: "Ah",
            note: current(load.typical),
            thing: Some(thing),
            quiet: false,
        });
    }
    for phase in &power.phases {
        let Some(planned) = from.plan.outing.phases.get(phase.phase) else { continue };
        rows.push(PanelRow {
            label: format!("{}, {:.1} h", planned.name, planned.hours.to_hours()),
            value: format!("{:.1}", phase.charge.to_amp_hours()),
            unit: "Ah",
            note: current(phase.mean),
            quiet: true,
            ..PanelRow::default()
        });
    }
    rows.extend(from.study.meter_next.first().map(|worth| PanelRow {
        label: format!("meter next: {}", label(from.plan, worth.gear)),
        value: format!("{:.1}", worth.charge.to_amp_hours()),
        unit: "Ah",
        note: format!("+- {}", amount(worth.charge_spread, 1)),
        thing: Some(Thing::Gear(worth.gear)),
        quiet: true,
        ..PanelRow::default()
    }));
    rows.push(PanelRow {
        label: "all on at once".into(),
        value: format!("{:.1}", power.typical.to_amps()),
        unit: "A",
        note: format!("peak {}", current(power.peak)),
        quiet: true,
        ..PanelRow::default()
    });
    Panel { kind: PanelKind::Power, headline, was, gauge, worst: None, verdict: energy(from), rows }
}

fn energy(from: Sources<'_>) -> String {
    format!("{} over {:.0} h", amount(from.study.power.energy, 0), from.plan.outing.hours().to_hours())
}

fn current(current: Current) -> String {
    amount(current, if current.to_amps() < 10.0 { 2 } else { 1 })
}
