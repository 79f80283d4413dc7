//! What moves a boat level, in words and as one JSON document of `gunnel level`.

use serde::Serialize;

use super::number::Number;
use super::place::station;
use crate::plan::{Level, Placement, Plan};
use crate::shown::Shown;
use crate::study::Study;
use crate::study::float::moves::{Move, Moves, Off, Proposal};
use crate::study::float::{Attitude, heel_way, trim_way};
use crate::units::Measure;

/// Trim and list in words: `0.2 deg by the stern, 0.1 deg to port`. What is out of range is not called level.
pub fn lies(at: Attitude, off: Off) -> String {
    // Only what would round to nothing is rounded up.
    let hidden = |off: bool, deg: f64| off && tenths(deg, false) == "0.0";
    let (trim, list) = (hidden(off.trim, at.trim_deg), hidden(off.list, at.heel_deg));
    format!("{}, {}", trim_words(at.trim_deg, trim), list_words(at.heel_deg, list))
}

/// `0.2 deg by the stern`, `0.4 deg bow down`, `level fore and aft`. A trim that is out of range is never rounded
/// back into it.
fn trim_words(trim_deg: f64, off: bool) -> String {
    match tenths(trim_deg, off).as_str() {
        "0.0" => "level fore and aft".into(),
        deg => format!("{deg} deg {}", trim_way(trim_deg)),
    }
}

/// `0.1 deg to port`, `no list`.
fn list_words(heel_deg: f64, off: bool) -> String {
    match tenths(heel_deg, off).as_str() {
        "0.0" => "no list".into(),
        deg => format!("{deg} deg {}", heel_way(heel_deg)),
    }
}

/// Degrees to a tenth without a sign; those that are out of range rounded up.
fn tenths(deg: f64, off: bool) -> String {
    let tenths = 10.0 * deg.abs();
    format!("{:.1}", if off { tenths.ceil() } else { tenths.round() } / 10.0)
}

/// A proposal in words: what is moved, and how the boat lies after it or what is left.
pub fn proposal_words(plan: &Plan, proposal: &Proposal, tape: Measure) -> (String, String) {
    let moves: Vec<String> = proposal.moves.iter().map(|one| move_words(plan, one, tape)).collect();
    let Off { trim, list } = proposal.left;
    let left: Vec<String> =
        [trim.then(|| trim_words(proposal.trim_deg, true)), list.then(|| list_words(proposal.heel_deg, true))]
            .into_iter()
            .flatten()
            .collect();
    let at = Attitude { heel_deg: proposal.heel_deg, trim_deg: proposal.trim_deg };
    let after = if left.is_empty() { lies(at, proposal.left) } else { format!("leaves {}", left.join(", ")) };
    let moves = moves.join("; ");
    (if left.is_empty() { moves } else { format!("nearest: {moves}") }, after)
}

/// `battery 310 mm aft`, `the seat 50 mm forward`, `crate across to starboard`.
fn move_words(plan: &Plan, one: &Move, tape: Measure) -> String {
    let name = |gear| plan.gear(gear).map_or_else(|| gear.to_string(), |gear| gear.label.to_string());
    match one {
        Move::Gear { gear, from, to } => {
            let (from, to) = (from.spot(), to.spot());
            format!("{} {}", name(*gear), tape.shift(to.x - from.x, to.y - from.y))
        }
        Move::Across { gear, to, .. } => {
            let side = if to.y.to_mm() > 0.0 { "port" } else { "starboard" };
            format!("{} across to {side}", name(*gear))
        }
        Move::Seat { from, to } => format!("the seat {}", tape.along(to.back.to_mm() - from.back.to_mm())),
    }
}

/// What there is to say where there is nothing to propose.
pub fn verdict(plan: &Plan, study: &Study, moves: &Moves) -> String {
    let Some(now) = moves.now else {
        return format!("{} as planned {}", Shown(plan.name.as_str()), no_rest(study));
    };
    match (moves.off.any(), moves.movable) {
        (false, _) => {
            format!("{} is level: {}; nothing has to be moved", Shown(plan.name.as_str()), lies(now, moves.off))
        }
        (true, 0) => "nothing heavy may be moved: it is pinned, fixed, or where it does its work".into(),
        (true, 1) => "the one thing that may be moved does not make it better".into(),
        (true, count) => format!("of {count} things that may be moved none makes it better, alone or with another"),
    }
}

/// Why the boat finds no rest.
fn no_rest(study: &Study) -> String {
    match (&study.float.cases, study.float.planned().map(|planned| &planned.rest)) {
        (Err(error), _) => format!("has no body that can float: {error}"),
        (_, Some(Err(error))) => error.to_string(),
        _ => "finds no rest".into(),
    }
}

/// The proposals for reading, each with the places its things go to.
pub fn level_text(plan: &Plan, study: &Study, moves: &Moves, tape: Measure) -> String {
    let mut text = match moves.now.filter(|_| moves.off.any()) {
        Some(now) => format!("{}: {}\n", Shown(plan.name.as_str()), lies(now, moves.off)),
        None => String::new(),
    };
    if moves.proposals.is_empty() {
        text.push_str(&format!("{}\n", verdict(plan, study, moves)));
    }
    for proposal in &moves.proposals {
        let (words, after) = proposal_words(plan, proposal, tape);
        text.push_str(&format!("\n{}: {after}\n", Shown(&words)));
        for one in &proposal.moves {
            text.push_str(&format!("  {}\n", Shown(&goes_to(plan, one, tape))));
        }
    }
    text
}

/// `battery to 1500 mm from stern, 25 mm to port, tank well`.
fn goes_to(plan: &Plan, one: &Move, tape: Measure) -> String {
    match one {
        Move::Gear { gear, to, .. } | Move::Across { gear, to, .. } => {
            let name = plan.gear(*gear).map_or_else(|| gear.to_string(), |gear| gear.label.to_string());
            let level = if to.level == Level::Deck { String::new() } else { format!(", {}", to.level.word()) };
            format!("{name} to {}{level}", station(plan, to.spot(), tape))
        }
        Move::Seat { to, .. } => format!("seat back to {} from stern", tape.length(to.back.to_mm())),
    }
}

/// The proposals as one JSON document, schema `gunnel.level/1`.
pub fn level_json(plan: &Plan, moves: &Moves) -> String {
    let sheet = LevelSheet {
        schema: "gunnel.level/1",
        plan: plan.name.as_str(),
        ok: moves.can_be_level(),
        now: moves.now.map(LiesSheet::of),
        off: moves.off.into(),
        movable: moves.movable,
        proposals: moves.proposals.iter().map(|proposal| ProposalSheet::of(plan, proposal)).collect(),
    };
    super::json(&sheet)
}

#[derive(Serialize)]
struct LevelSheet<'a> {
    schema: &'static str,
    plan: &'a str,
    /// In range, or brought there by one of the proposals.
    ok: bool,
    now: Option<LiesSheet>,
    off: OffSheet,
    movable: usize,
    proposals: Vec<ProposalSheet>,
}

/// Positive to starboard, positive bow down.
#[derive(Serialize)]
struct LiesSheet {
    heel_deg: Number,
    trim_deg: Number,
}

/// What is out of range.
#[derive(Serialize)]
struct OffSheet {
    trim: bool,
    list: bool,
}

#[derive(Serialize)]
struct ProposalSheet {
    moves: Vec<MoveSheet>,
    moved_kgm: Number,
    after: LiesSheet,
    off: OffSheet,
    says: String,
}

/// Where something goes. What moves the seat has no gear and no place across the boat.
#[derive(Serialize)]
struct MoveSheet {
    how: &'static str,
    gear: Option<String>,
    gear_name: Option<String>,
    from: PlaceSheet,
    to: PlaceSheet,
}

#[derive(Serialize)]
struct PlaceSheet {
    x_mm: Number,
    y_mm: Option<Number>,
}

impl LiesSheet {
    fn of(at: Attitude) -> Self {
        Self { heel_deg: at.heel_deg.into(), trim_deg: at.trim_deg.into() }
    }
}

impl From<Off> for OffSheet {
    fn from(off: Off) -> Self {
        Self { trim: off.trim, list: off.list }
    }
}

impl ProposalSheet {
    fn of(plan: &Plan, proposal: &Proposal) -> Self {
        let (words, after) = proposal_words(plan, proposal, Measure::default());
        Self {
            moves: proposal.moves.iter().map(|one| MoveSheet::of(plan, one)).collect(),
            moved_kgm: proposal.moved_kgm.into(),
            after: LiesSheet { heel_deg: proposal.heel_deg.into(), trim_deg: proposal.trim_deg.into() },
            off: proposal.left.into(),
            says: format!("{words}: {after}"),
        }
    }
}

impl MoveSheet {
    fn of(plan: &Plan, one: &Move) -> Self {
        let name = one.gear().and_then(|id| plan.gear(id)).map(|gear| gear.label.to_string());
        let place = |at: &Placement| PlaceSheet { x_mm: at.x.to_mm().into(), y_mm: Some(at.y.to_mm().into()) };
        let (how, from, to) = match one {
            Move::Gear { from, to, .. } => ("move", place(from), place(to)),
            Move::Across { from, to, .. } => ("mirror", place(from), place(to)),
            Move::Seat { from, to } => {
                let back = |mm: f64| PlaceSheet { x_mm: mm.into(), y_mm: None };
                ("seat", back(from.back.to_mm()), back(to.back.to_mm()))
            }
        };
        Self { how, gear: one.gear().map(|id| id.to_string()), gear_name: name, from, to }
    }
}
