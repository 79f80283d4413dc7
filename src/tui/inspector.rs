//! The inspector: every figure of a thing with its origin, as rows.

use super::action::Action;
use super::app::{Editor, Thing};
use super::words::{afloat, cables};
use crate::checks::Subject;
use crate::plan::{AnyQuantity, CircuitId, Drilling, Electric, FeatureId, FeatureKind, FigureRef, GearId, Plan, Zone};
use crate::sheets::{hole_fate, hole_history};
use crate::study::cables::CableRef;
use crate::study::fit::Fit;
use crate::study::holes::HEEL_DEG;
use crate::study::metered::Metered;
use crate::study::rig::HoleRef;
use crate::units::{Current, Measure};

/// One row of the inspector.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct InspectRow {
    /// What it is.
    pub label: String,
    /// Its value with unit.
    pub value: String,
    /// Where the value comes from, with what it replaced.
    pub origin: String,
    /// The figure behind it, if it can be changed.
    pub figure: Option<FigureRef>,
    /// The action that changes it, if it is no figure.
    pub action: Option<Action>,
}

/// What the inspector calls a thing.
pub fn title(editor: &Editor, thing: Thing) -> String {
    let plan = editor.session.plan();
    match thing {
        Thing::Gear(id) => plan.gear(id).map_or_else(|| id.to_string(), |g| format!("{} ({id})", g.label)),
        Thing::Hole(HoleRef::Own(id)) => plan.penetration(id).map_or_else(|| id.to_string(), |p| p.name.to_string()),
        Thing::Hole(id @ HoleRef::Gear(gear, _)) => {
            plan.gear(gear).map_or_else(|| id.to_string(), |g| format!("{id}: {}", g.label))
        }
        Thing::Feature(id) => plan.feature(id).map_or_else(|| id.to_string(), |f| f.name.to_string()),
        Thing::Zone(id) => plan.zone(id).map_or_else(|| id.to_string(), |z| z.name.to_string()),
        Thing::Circuit(id) => Subject::Circuit(id).named(plan),
        Thing::Cable(id) => {
            editor.session.study().cables.run(id).map_or("a cable".into(), |run| cables::title(plan, run))
        }
        Thing::Hull => plan.hull.name.to_string(),
        Thing::Person => "the person".into(),
    }
}

/// The rows of a thing.
pub fn rows(editor: &Editor, thing: Thing, tape: Measure) -> Vec<InspectRow> {
    let plan = editor.session.plan();
    match thing {
        Thing::Gear(id) => gear(editor, id, tape),
        Thing::Hole(id) => hole(editor, id, tape),
        Thing::Feature(id) => feature(editor, id, tape),
        Thing::Zone(id) => {
            let mut rows = figures(plan, FigureRef::of_zone(id), tape);
            if let Some(zone) = plan.zone(id) {
                rows.extend(floor(editor, zone, tape));
                rows.push(match &zone.drilling {
                    Drilling::Allowed => fact("drilling", "allowed"),
                    Drilling::Forbidden(why) => fact("drilling", format!("no: {why}")),
                });
                rows.push(match zone.curve {
                    crate::plan::Curve::Flat => fact("surface", "flat"),
                    crate::plan::Curve::Radius(radius) => {
                        fact("surface", format!("crowned, radius {}", tape.length(radius.to_mm())))
                    }
                });
            }
            rows
        }
        Thing::Circuit(id) => circuit(editor, id, tape),
        Thing::Cable(id) => cable(editor, id, tape),
        Thing::Hull => figures(plan, FigureRef::of_hull(plan), tape),
        Thing::Person => figures(plan, FigureRef::of_angler(), tape),
    }
}

fn gear(editor: &Editor, id: GearId, tape: Measure) -> Vec<InspectRow> {
    let (plan, study) = (editor.session.plan(), editor.session.study());
    let Some(gear) = plan.gear(id) else { return Vec::new() };
    let mut rows = vec![
        by("label", gear.label.to_string(), Action::Rename),
        by("what", gear.spec.name.to_string(), Action::Swap),
        by("held by", gear.mount.word(), Action::NextMount),
    ];
    if let Some(place) = &gear.place {
        rows.push(by("from the stern", tape.length(place.x.to_mm()), Action::MoveTo));
        rows.push(by("across", tape.across(place.y.to_mm()), Action::MoveTo));
        rows.push(by("turned", format!("{:.0} deg to port", place.turn.to_deg()), Action::MoveTo));
        rows.push(by("raised", tape.length(place.raise.to_mm()), Action::Raise));
        rows.push(by("mounted", place.level.word(), Action::NextLevel));
    } else {
        rows.push(fact("where", "ashore"));
    }
    if let Some(item) = study.rig.item(id)
        && let Fit::Not(why) = &item.fit
    {
        rows.push(fact("not held", why.clone()));
    }
    rows.push(by("seal", gear.seal.word(), Action::Seal));
    rows.push(by("work", gear.state.word(), Action::Work));
    rows.extend(figures(plan, FigureRef::of_gear(plan, id), tape));
    show_metered(&mut rows, &study.power.metered, id, tape);
    match &gear.spec.electric {
        Some(Electric::Converter { volts, power, efficiency, .. }) => {
            rows.push(fact(
                "output",
                format!("{:.0} V, {:.0} W, {:.0} % kept", volts.to_volts(), power.to_watts(), efficiency * 100.0),
            ));
        }
        Some(Electric::Switch { channels, each, total, .. }) => {
            rows.push(fact(
                "outputs",
                format!("{channels} of {:.0} A, {:.0} A together", each.to_amps(), total.to_amps()),
            ));
        }
        _ => {}
    }
    for cable in &gear.spec.cables {
        let value =
            format!("{} long, plug {} wide", tape.length(cable.length.to_mm()), tape.length(cable.plug.to_mm()));
        rows.push(fact(format!("cable, {}", cable.name), value));
    }
    if let Some(circuit) = plan.wiring.circuit_of(id) {
        rows.push(by("circuit", circuit.name.to_string(), Action::Circuit));
    }
    if !gear.spec.notes.is_empty() {
        rows.push(fact("note", gear.spec.notes.to_string().replace('\n', " ")));
    }
    rows
}

/// A metered current stands in the row of the figure it replaces, which is kept beside it.
fn show_metered(rows: &mut [InspectRow], metered: &Metered, id: GearId, tape: Measure) {
    let Some(load) = metered.loads.get(&id) else { return };
    let row = rows.iter_mut().find(|row| row.figure == Some(FigureRef::GearTypical(id)));
    if let Some(row) = row {
        let shared = if load.shared_over > 1 { " (shared)" } else { "" };
        row.origin = format!("metered{shared}, {} {}", row.value, row.origin);
        row.value = words(AnyQuantity::Current(load.typical.value), tape);
    }
}

fn hole(editor: &Editor, id: HoleRef, tape: Measure) -> Vec<InspectRow> {
    let Some(hole) = editor.session.study().holes.holes.iter().find(|hole| hole.id == id) else { return Vec::new() };
    let mut rows = vec![
        fact("diameter", tape.length(hole.bore_mm)),
        fact("state", format!("{:?}", hole.state).to_lowercase()),
        fact("height at rest", afloat::over_water(hole.above_water_mm, tape)),
        fact(heeled(), afloat::over_water(hole.above_water_heeled_mm, tape)),
        fact("wall", tape.length(hole.wall_mm)),
        fact("clear depth inside", tape.length(hole.inside_mm)),
        fact("seal", hole.seal.word()),
    ];
    if matches!(id, HoleRef::Own(_)) {
        let (plan, study) = (editor.session.plan(), editor.session.study());
        rows.push(fact("fate", hole_fate(plan, study, hole)));
        rows.extend(hole_history(plan, id).map(|history| fact("history", history)));
    }
    if let Some(edge) = hole.edge_mm {
        rows.push(fact("to the nearest edge", tape.length(edge)));
    }
    match hole.access {
        Some((_, way)) => rows.push(fact("way to its back", tape.length(way))),
        None => rows.push(fact("way to its back", "no opening wide enough for a hand")),
    }
    rows
}

/// A cable's way, step by step.
fn cable(editor: &Editor, id: CableRef, tape: Measure) -> Vec<InspectRow> {
    let (plan, study) = (editor.session.plan(), editor.session.study());
    let Some(run) = study.cables.run(id) else { return Vec::new() };
    let steps = (0..).map_while(|step| cables::told(plan, study, run, step, tape));
    let mut rows = vec![fact("in all", cables::summary(run, tape))];
    rows.extend(
        steps.zip(1..).map(|(told, number)| fact(format!("step {number}"), format!("{}; {}", told.what, told.facts))),
    );
    rows
}

/// What a circuit's wire loses and carries, and which fuses fit it.
fn circuit(editor: &Editor, id: CircuitId, tape: Measure) -> Vec<InspectRow> {
    let Some(wire) = editor.session.study().wiring.circuit(id) else { return Vec::new() };
    let run = &wire.run;
    let amps = |amps: f64| crate::units::amount(Current::amps(amps), 1);
    let mut rows = vec![
        fact("current", amps(run.amps.typical)),
        fact("at most", amps(run.amps.peak)),
        fact("wire", run.gauge_awg.map_or("not stated".into(), |awg| format!("{awg} AWG"))),
    ];
    rows.extend(
        run.one_way.map(|way| InspectRow { origin: way.by.word().into(), ..fact("one way", tape.length(way.mm)) }),
    );
    rows.extend(run.lost.map(|lost| {
        let allowed = format!("{:.0} % is allowed", run.allowed_percent);
        InspectRow {
            origin: allowed,
            ..fact("loses at most", format!("{:.2} V, {:.1} %", lost.peak_v, lost.peak_percent))
        }
    }));
    rows.extend(run.permitted_a.map(|permitted| fact("may carry", amps(permitted))));
    rows.push(fact("fuse", run.fuse_a.map_or("none".into(), amps)));
    rows.push(fact(
        "fuses that fit",
        match run.greatest_fuse_a {
            Some(greatest) if greatest < run.least_fuse_a => "none on this wire".into(),
            Some(greatest) => format!("{} to {}", amps(run.least_fuse_a), amps(greatest)),
            None => format!("{} or more", amps(run.least_fuse_a)),
        },
    ));
    rows.extend(run.smallest_awg.map(|awg| fact("thinnest that does", format!("{awg} AWG"))));
    rows
}

/// A floor against the water: by its lowest corner.
fn floor(editor: &Editor, zone: &Zone, tape: Measure) -> Vec<InspectRow> {
    let levels = &editor.session.study().float.levels;
    let Some(floor) = levels.floors.iter().find(|floor| floor.zone == zone.id) else { return Vec::new() };
    let corners = zone.outline_mm.corners.iter().map(|corner| corner.at(zone.height.value.to_mm()));
    let lowest = corners.map(|corner| levels.height_heeled(corner)).fold(f64::INFINITY, f64::min);
    let mut rows = vec![
        fact("floor at rest", afloat::over_water(floor.height_mm, tape)),
        fact(heeled(), afloat::over_water(lowest, tape)),
    ];
    if floor.standing_l >= 0.05 {
        rows.push(fact("standing water", format!("{:.1} l", floor.standing_l)));
    }
    rows
}

/// What a height at the heel is called.
fn heeled() -> String {
    format!("heeled {HEEL_DEG:.0} deg")
}

/// What a feature is, then its lengths by their own names.
fn feature(editor: &Editor, id: FeatureId, tape: Measure) -> Vec<InspectRow> {
    let (plan, levels) = (editor.session.plan(), &editor.session.study().float.levels);
    let Some(feature) = plan.feature(id) else { return Vec::new() };
    let mut rows = match &feature.kind {
        FeatureKind::Inserts { thread, offsets_mm, .. } => {
            vec![fact("inserts", format!("{} of {}", offsets_mm.len(), thread.word()))]
        }
        FeatureKind::Handle { thread, bolts_mm } => {
            vec![fact("bolts", format!("{} of {}", bolts_mm.len(), thread.word()))]
        }
        FeatureKind::Scupper { .. } => vec![
            fact("upper end at rest", afloat::over_water(levels.height(feature.at_mm), tape)),
            fact(heeled(), afloat::over_water(levels.height_heeled(feature.at_mm), tape)),
        ],
        _ => Vec::new(),
    };
    for ((name, length), figure) in feature.kind.lengths().into_iter().zip(FigureRef::of_feature(plan, id)) {
        rows.push(InspectRow { figure: Some(figure), ..fact(name, tape.length(length.to_mm())) });
    }
    if !feature.notes.is_empty() {
        rows.push(fact("note", feature.notes.to_string().replace('\n', " ")));
    }
    rows
}

fn figures(plan: &Plan, refs: Vec<FigureRef>, tape: Measure) -> Vec<InspectRow> {
    refs.into_iter()
        .map(|figure| match figure.get(plan) {
            Some(soft) => InspectRow {
                label: name(figure),
                value: words(soft.value, tape),
                origin: match soft.was {
                    _ if matches!(figure, FigureRef::GearPrice(_)) => String::new(),
                    Some(was) => format!("{}, was {}", soft.origin.word(), words(was, tape)),
                    None => soft.origin.word().into(),
                },
                figure: Some(figure),
                action: None,
            },
            None if matches!(figure, FigureRef::GearPrice(_)) => {
                InspectRow { figure: Some(figure), ..fact(figure.label(), otherwise(figure)) }
            }
            None => InspectRow {
                figure: Some(figure),
                origin: "not measured".into(),
                ..fact(figure.label(), otherwise(figure))
            },
        })
        .collect()
}

/// What counts in place of a figure that was not measured.
fn otherwise(figure: FigureRef) -> &'static str {
    match figure {
        FigureRef::GearResistance(_) => "usual for its sort and size",
        FigureRef::GearHealth(_) => "as new",
        FigureRef::GearPrice(_) => "not said",
        _ => "by ratio",
    }
}

/// A figure's name; bodies are counted, since gear can have several.
fn name(figure: FigureRef) -> String {
    match figure {
        FigureRef::GearBody(_, body, _) => format!("body {}, {}", body + 1, figure.label()),
        _ => figure.label().into(),
    }
}

fn words(quantity: AnyQuantity, tape: Measure) -> String {
    match quantity {
        AnyQuantity::Length(length) => tape.length(length.to_mm()),
        AnyQuantity::Mass(mass) => crate::units::amount(mass, 1),
        AnyQuantity::Current(current) => crate::units::amount(current, 2),
        AnyQuantity::Charge(charge) => crate::units::amount(charge, 0),
        AnyQuantity::Voltage(voltage) => crate::units::amount(voltage, 1),
        AnyQuantity::Resistance(resistance) => crate::units::amount(resistance, 3),
        AnyQuantity::Percent(share) => format!("{share:.0} percent"),
        AnyQuantity::Price(price) => price.to_string(),
    }
}

/// A fact that an action changes.
fn by(label: &str, value: impl Into<String>, action: Action) -> InspectRow {
    InspectRow { action: Some(action), ..fact(label, value) }
}

fn fact(label: impl Into<String>, value: impl Into<String>) -> InspectRow {
    InspectRow { label: label.into(), value: value.into(), ..InspectRow::default() }
}
