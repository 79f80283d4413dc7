//! Float: how the boat lies in the water, in one line, in rows, and by load case.

use super::{Panel, PanelKind, PanelRow, Sources, mark};
use crate::plan::Side;
use crate::study::Study;
use crate::study::float::flooding::Inlet;
use crate::study::float::{Afloat, NoFloat};
use crate::study::rig::HoleRef;
use crate::tui::app::Thing;
use crate::tui::words::afloat;
use crate::units::{Measure, Tape};

/// A figure of the line that sums it up.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// `draft aft`, `trim`.
    pub label: &'static str,
    /// `102 mm`, `0.4 deg by the stern`.
    pub value: String,
    /// The same before the last change, if it differs.
    pub was: Option<String>,
}

/// A load case as a line of the table.
#[derive(Clone, Debug, PartialEq)]
pub struct CaseLine {
    /// Its name.
    pub name: &'static str,
    /// Its figures, in the order of [`CASE_HEADS`].
    pub cells: Vec<Cell>,
}

/// A figure of a load case.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// `102`, `0.4 stern`.
    pub text: String,
    /// Whether it differs from the case as planned.
    pub differs: bool,
    /// Whether the last change altered it.
    pub changed: bool,
}

/// What the figures of a load case are called.
pub const CASE_HEADS: [&str; 7] = ["kg", "aft", "fore", "trim", "list", "gunwale", "GM"];

pub(super) fn panel(from: Sources<'_>) -> Panel {
    let now = headline(from.study);
    let was = from.before.map(headline).filter(|was| *was != now);
    let mut rows = figures(from);
    rows.extend(water(from));
    rows.extend(cases(from).iter().map(|case| PanelRow { label: case.name.into(), ..PanelRow::default() }));
    Panel { kind: PanelKind::Float, headline: now, was, gauge: None, worst: None, verdict: verdict(from), rows }
}

/// The trim: the one figure that moving gear about is judged by first.
fn headline(study: &Study) -> String {
    match study.float.rest() {
        None => "does not float".into(),
        Some(rest) => match afloat::trim(rest.trim_deg).as_str() {
            "none" => "no trim".into(),
            words => words.into(),
        },
    }
}

/// The rest of the line in compact room; why there is none where it does not float.
fn verdict(from: Sources<'_>) -> String {
    match summary(from.study, None, from.tape) {
        Err(why) => why,
        Ok(parts) => {
            let of = |label: &str| parts.iter().find(|part| part.label == label).map_or("", |part| part.value.as_str());
            let fore = of("fore").trim_end_matches(from.tape.unit()).trim_end();
            format!("draft {} aft, {fore} fore, freeboard {}", of("draft aft"), of("freeboard"))
        }
    }
}

/// The line: drafts, trim, list, least freeboard, stiffness; or why there are none.
pub fn summary(study: &Study, before: Option<&Study>, tape: Measure) -> Result<Vec<Part>, String> {
    let now = values(study, tape)?;
    let then = before.map(|before| values(before, tape));
    let part = |(index, (label, value)): (usize, (&'static str, String))| {
        let was = match &then {
            Some(Ok(then)) => then.get(index).map(|(_, was)| was.clone()),
            Some(Err(_)) => Some("not afloat".into()),
            None => None,
        };
        Part { label, was: was.filter(|was| *was != value), value }
    };
    Ok(now.into_iter().enumerate().map(part).collect())
}

fn values(study: &Study, tape: Measure) -> Result<Vec<(&'static str, String)>, String> {
    let cases = study.float.cases.as_ref().map_err(ToString::to_string)?;
    let planned = cases.first().ok_or("no load case is afloat")?;
    let rest = planned.rest.map_err(|why| why.to_string())?;
    let freeboard = planned.least_freeboard().map_or(String::new(), |least| freeboard(least.height_mm, tape, true));
    Ok(vec![
        ("draft aft", tape.bare(rest.draft_aft_mm)),
        ("fore", tape.length(rest.draft_fore_mm)),
        ("trim", afloat::trim(rest.trim_deg)),
        ("list", afloat::list(rest.heel_deg)),
        ("freeboard", freeboard),
        ("GM", afloat::stiffness(planned.gm_mm().unwrap_or(rest.gm_mm), tape)),
    ])
}

fn freeboard(mm: f64, tape: Measure, unit: bool) -> String {
    let height = if unit { tape.length(mm) } else { tape.bare(mm) };
    height + if mm < 0.0 { " under" } else { "" }
}

/// What the line does not say: stiffness by posture, leaning out, where water comes in, what a load does.
fn figures(from: Sources<'_>) -> Vec<PanelRow> {
    let (float, tape) = (&from.study.float, from.tape);
    let Some(planned) = float.planned() else { return Vec::new() };
    let Ok(rest) = planned.rest else { return Vec::new() };
    let row = |label: &str, value: String| PanelRow { label: label.into(), value, ..PanelRow::default() };
    let mut rows = Vec::new();
    for stiffness in &float.stiffness {
        let label = format!("GM {}", stiffness.posture.word());
        rows.push(row(&label, afloat::stiffness(stiffness.gm_mm, tape)));
    }
    if let Some(leaning) = &float.leaning {
        let heel = match leaning.heel_deg() {
            // The side it was leant to, even where it rights itself past upright.
            Some(heel) => afloat::list(heel * if leaning.side == Side::Port { -1.0 } else { 1.0 }),
            None => "turns over".into(),
        };
        rows.push(row("leaning out", heel));
    }
    rows.push(match &planned.flooding {
        None => row("water comes in", "beyond 60 deg".into()),
        Some(first) => PanelRow {
            thing: match first.inlet {
                Inlet::Gunwale => None,
                Inlet::Hatch(id) => Some(Thing::Feature(id)),
                Inlet::Hole(id) => Some(Thing::Hole(HoleRef::Own(id))),
            },
            ..row("floods at", format!("{:.0} deg, {}", first.heel_deg.abs(), afloat::inlet(from.plan, first.inlet)))
        },
    });
    if let Some(least) = planned.least_freeboard() {
        let side = if least.at.y < 0.0 { "stbd" } else { "port" };
        rows.push(row("lowest gunwale", format!("{}, {side}", tape.length(least.at.x))));
    }
    let (step, per) = match tape.0 {
        Tape::Metric => ("1 cm", 1.0),
        Tape::Inches => ("1 in", 2.54),
    };
    rows.push(row(&format!("sinks {step} by"), format!("{:.1} kg", rest.kg_per_cm * per)));
    rows.push(row(&format!("trims {step} by"), format!("{:.1} kg m", rest.moment_to_trim_1cm_kgm * per)));
    rows.push(row("mean draft", tape.length(rest.draft_mean_mm)));
    if planned.free_surface_mm > 0.0 {
        rows.push(row("water in tanks takes", format!("{} of GM", tape.length(planned.free_surface_mm))));
    }
    rows
}

/// Floors and scuppers against the water.
fn water(from: Sources<'_>) -> Vec<PanelRow> {
    let levels = &from.study.float.levels;
    let row = |label: String, height: f64, thing| PanelRow {
        mark: mark(from, PanelKind::Float, thing),
        label,
        value: afloat::over_water(height, from.tape),
        thing: Some(thing),
        ..PanelRow::default()
    };
    let floors = levels.floors.iter().filter_map(|floor| {
        let zone = from.plan.zone(floor.zone)?;
        let standing = if floor.standing_l >= 0.05 { format!(", {:.1} l", floor.standing_l) } else { String::new() };
        Some(row(format!("{}{standing}", zone.name), floor.height_mm, Thing::Zone(floor.zone)))
    });
    // Of many drains the lowest tells enough, and those that let water in.
    let lowest = levels.scuppers.iter().min_by(|a, b| a.height_mm.total_cmp(&b.height_mm)).map(|s| s.feature);
    let telling = levels.scuppers.iter().filter(|s| s.height_mm < 0.0 || Some(s.feature) == lowest);
    let scuppers = telling.filter_map(|scupper| {
        let feature = from.plan.feature(scupper.feature)?;
        Some(row(feature.name.to_string(), scupper.height_mm, Thing::Feature(scupper.feature)))
    });
    floors.chain(scuppers).collect()
}

/// The load cases side by side, *as planned* first.
pub fn cases(from: Sources<'_>) -> Vec<CaseLine> {
    let Ok(cases) = &from.study.float.cases else { return Vec::new() };
    let planned = cases.first().map(|planned| case_cells(planned, from.tape)).unwrap_or_default();
    let line = |case: &Afloat| {
        let before = from.before.and_then(|before| before.float.case(case.name));
        let before = before.map(|before| case_cells(before, from.tape));
        let texts = case_cells(case, from.tape);
        let cell = |(index, text): (usize, String)| Cell {
            differs: planned.get(index) != Some(&text),
            changed: from.before.is_some() && before.as_ref().and_then(|before| before.get(index)) != Some(&text),
            text,
        };
        CaseLine { name: case.name, cells: texts.into_iter().enumerate().map(cell).collect() }
    };
    cases.iter().map(line).collect()
}

fn case_cells(case: &Afloat, tape: Measure) -> Vec<String> {
    let mass = format!("{:.0}", case.load.mass_kg);
    let rest = match case.rest {
        Ok(rest) => rest,
        Err(NoFloat::TooHeavy { .. }) => return vec![mass, "too heavy to float".into()],
        Err(NoFloat::TurnsOver) => return vec![mass, "turns over".into()],
        Err(NoFloat::Nonsense) => return vec![mass, "its figures cannot be".into()],
    };
    let turned = |deg: f64, positive: &str, negative: &str| match deg {
        deg if deg.abs() < afloat::TELLING_DEG => "none".to_string(),
        deg if deg > 0.0 => format!("{deg:.1} {positive}"),
        deg => format!("{:.1} {negative}", -deg),
    };
    vec![
        mass,
        tape.bare(rest.draft_aft_mm),
        tape.bare(rest.draft_fore_mm),
        turned(rest.trim_deg, "bow", "stern"),
        turned(rest.heel_deg, "stbd", "port"),
        case.least_freeboard().map_or(String::new(), |least| freeboard(least.height_mm, tape, false)),
        match case.gm_mm().unwrap_or(rest.gm_mm) {
            gm if gm < 0.0 => "none".into(),
            gm => tape.bare(gm),
        },
    ]
}
