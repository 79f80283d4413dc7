//! The launch checklist: what is looked at before the boat goes in, what goes along, and what in reserve.

use super::number::{plain, with_unit};
use super::paper::{Section, Sheet, TO_DO};
use super::spares::{SPARE_FUSES, fuses};
use crate::checks::{self, Severity, Subject};
use crate::plan::{Chemistry, Electric, FeatureKind, Gear, Kind, Plan};
use crate::study::Study;
use crate::study::holes::HoleState;

const COLUMNS: &[&str] = &["done", "look at", "why"];

/// The launch checklist of a plan.
pub fn checklist_sheet(plan: &Plan, study: &Study) -> Sheet {
    let section = |heading: &str, rows: Vec<(String, String)>| Section {
        heading: heading.into(),
        rows: rows.into_iter().map(|(what, why)| vec![TO_DO.into(), what, why]).collect(),
    };
    Sheet {
        title: format!("Before {} is launched", plan.name),
        cautions: vec![
            "An estimate from your figures: only a float test with your gear decides. Rated load, local rules and the \
             hull's maker go before this list."
                .into(),
            "Life jacket on and closed. If water is in the hull, go ashore.".into(),
        ],
        drawing: Vec::new(),
        columns: COLUMNS,
        sections: vec![
            section("Hull", hull(plan, study)),
            section("Electrics", electrics(plan, study)),
            section("You", person(plan)),
            section("Aboard", aboard(plan)),
            section("In reserve", reserve(plan, study)),
        ],
    }
}

fn row(what: impl Into<String>, why: impl Into<String>) -> (String, String) {
    (what.into(), why.into())
}

fn hull(plan: &Plan, study: &Study) -> Vec<(String, String)> {
    let mut rows = Vec::new();
    let stops = checks::run(plan, study).iter().filter(|finding| finding.severity == Severity::Stop).count();
    if stops > 0 {
        rows.push(row(format!("{stops} stops of the plan settled"), "gunnel check names them"));
    }
    for feature in &plan.hull.features {
        match feature.kind {
            FeatureKind::DrainPlug { .. } => {
                rows.push(row(format!("{} in and tight", feature.name), "it empties and fills"));
            }
            FeatureKind::Hatch { .. } => {
                rows.push(row(format!("{} closed, seal clean", feature.name), ""));
            }
            _ => {}
        }
    }
    let open = study.holes.holes.iter().filter(|hole| hole.state == HoleState::Open);
    rows.extend(
        open.map(|hole| row(format!("{} closed", Subject::Hole(hole.id).named(plan)), "it is open in the plan")),
    );
    let (load, rating) = (study.weights.load.to_kg(), plan.hull.rating.value.to_kg());
    rows.push(row("nothing more aboard than planned", format!("load {} of {}", plain(load), with_unit(rating, "kg"))));
    rows.push(row("leak test passed", "after all seals have cured"));
    rows.push(row("float test passed: trim, list, water over the scuppers", "with everything aboard, near the shore"));
    rows.push(row("fasteners snug after the first warm day", "polyethylene creeps"));
    rows
}

fn electrics(plan: &Plan, study: &Study) -> Vec<(String, String)> {
    let placed = || plan.gear.iter().filter(|gear| gear.is_placed());
    let mut rows = Vec::new();
    for gear in placed() {
        match &gear.spec.electric {
            Some(Electric::Battery { chemistry, .. }) => {
                let lithium = *chemistry == Chemistry::LithiumIronPhosphate;
                let why = if lithium { "lithium: its own charger, above freezing" } else { "lead: vented, upright" };
                rows.push(row(format!("{} charged, strapped, terminals covered", gear.label), why));
            }
            Some(Electric::Motor { .. }) => {
                rows.push(row(format!("{}: kill cord, stops both ways, propeller free", gear.label), "swimmers"));
                rows.push(row("registration and insurance", "a motor may make it a registered boat"));
            }
            _ => {}
        }
    }
    if !study.power.loads.is_empty() {
        rows.push(row("every device on, one after the other, then all at once", "volts at the furthest"));
    }
    let dark = (0..plan.outing.phases.len()).any(|phase| plan.outing.is_dark(phase));
    for light in placed().filter(|gear| gear.spec.kind == Kind::Light) {
        rows.push(row(
            format!("{} shines and is not hidden", light.label),
            if dark { "part of the day is dark" } else { "" },
        ));
    }
    rows
}

fn person(plan: &Plan) -> Vec<(String, String)> {
    let cold = format!("water of {} C", plain(plan.outing.water_temperature.to_celsius()));
    vec![
        row("life jacket worn and closed", "most drown close to the shore, without one"),
        row("dressed for the water", cold),
        row("phone or radio in the jacket; somebody knows where and until when", ""),
        row("forecast read; turn back early", "wind and cold are local knowledge"),
        row(
            format!("re-entry tried over the {} side, rods off", plan.angler.reentry.word()),
            "in shallow warm water, with a helper",
        ),
    ]
}

fn aboard(plan: &Plan) -> Vec<(String, String)> {
    let counts = |gear: &&Gear| {
        let held = matches!(gear.spec.kind, Kind::Safety | Kind::Paddle | Kind::Anchor | Kind::Pump | Kind::Landing);
        gear.is_placed() && held
    };
    let mut rows: Vec<(String, String)> =
        plan.gear.iter().filter(counts).map(|gear| row(format!("{} stowed and tied", gear.label), "")).collect();
    for (kind, what, why) in [
        (Kind::Paddle, "a paddle, whatever drives the boat", "none is in the plan"),
        (Kind::Pump, "a pump or sponge within reach", "none is in the plan"),
    ] {
        if !plan.gear.iter().any(|gear| gear.is_placed() && gear.spec.kind == kind) {
            rows.push(row(what, why));
        }
    }
    rows.push(row("knife, whistle, water", ""));
    rows
}

fn reserve(plan: &Plan, study: &Study) -> Vec<(String, String)> {
    let fuses = fuses(plan, study);
    let mut rows: Vec<(String, String)> = fuses
        .iter()
        .map(|(rating, _)| row(format!("{SPARE_FUSES} fuses of {}", with_unit(*rating, "A")), ""))
        .collect();
    rows.push(row("rubber plugs, a strip of butyl tape", "for a hole that leaks"));
    rows.push(row("lock nuts and bolts of the sizes fitted, cable ties, multi-tool", ""));
    if plan.gear.iter().any(|gear| gear.is_placed() && gear.spec.kind == Kind::Motor) {
        rows.push(row("shear pin and propeller nut of the motor", ""));
    }
    rows
}
