//! What an edit is called in the history: "move display 310 mm aft".

use super::{Edit, apply, cables, outing, wiring, work};
use crate::plan::{BuildState, GearId, HoleId, Plan};
use crate::units::Measure;

impl Edit {
    /// Names the edit as it changes `before`. Lengths follow the tape.
    pub fn label(&self, before: &Plan, tape: Measure) -> String {
        let words = self.words(before, tape);
        match self.holes_left(before) {
            0 => words,
            1 => format!("{words}, leaving a hole"),
            left => format!("{words}, leaving {left} holes"),
        }
    }

    /// How many holes of drilled gear the edit leaves in the hull.
    pub fn holes_left(&self, before: &Plan) -> usize {
        if !before.gear.iter().any(|gear| gear.state >= BuildState::Drilled) {
            return 0;
        }
        let existing = |plan: &Plan| plan.penetrations.len();
        match (self, apply(before, self)) {
            (Self::AddHole { .. } | Self::StrikeHole { .. } | Self::Put { .. } | Self::All { .. }, _) | (_, Err(_)) => {
                0
            }
            (_, Ok(after)) => existing(&after).saturating_sub(existing(before)),
        }
    }

    fn words(&self, before: &Plan, tape: Measure) -> String {
        let gear = |id: GearId| before.gear(id).map_or_else(|| id.to_string(), |g| g.label.to_string());
        let hole = |id: HoleId| before.penetration(id).map_or_else(|| id.to_string(), |h| h.name.to_string());
        let reading = |index: usize| {
            before.readings.get(index).map_or_else(|| "a reading".into(), |reading| reading.words(before, tape))
        };
        match self {
            Self::Add { spec, place: Some(_), .. } => format!("place {}", spec.name),
            Self::Add { spec, place: None, .. } => format!("bring {}", spec.name),
            Self::Place { gear: id, .. } => format!("place {}", gear(*id)),
            Self::Move { gear: id, x, y } => {
                let from = before.gear(*id).and_then(|g| g.place.as_ref()).map(crate::plan::Placement::spot);
                let shift = from.map_or(String::new(), |from| tape.shift(x.to_mm() - from.x, y.to_mm() - from.y));
                format!("move {} {shift}", gear(*id)).trim_end().to_string()
            }
            Self::Turn { gear: id, to } => format!("turn {} to {:.0} deg", gear(*id), to.to_deg()),
            Self::Mirror { gear: id } => format!("mirror {}", gear(*id)),
            Self::SetMount { gear: id, how } => format!("hold {} by {}", gear(*id), how.word()),
            Self::SetLevel { gear: id, level } => format!("mount {} {}", gear(*id), level.word()),
            Self::Raise { gear: id, by } => format!("raise {} to {}", gear(*id), tape.length(by.to_mm())),
            Self::Swap { gear: id, spec } => format!("swap {} for {}", gear(*id), spec.name),
            Self::Duplicate { gear: id } => format!("duplicate {}", gear(*id)),
            Self::PutAshore { gear: id } => format!("put {} ashore", gear(*id)),
            Self::Strike { gear: id } => format!("strike {}", gear(*id)),
            Self::Rename { gear: id, label } => format!("rename {} to {label}", gear(*id)),
            Self::SetSeal { gear: id, seal } => format!("seal {} with {}", gear(*id), seal.word()),
            Self::SetState { gear: id, state } => format!("note {} as {}", gear(*id), state.word()),
            Self::DrillHole { hole: id } => format!("note {} as drilled", hole(*id)),
            Self::Pin { gear: id, pinned: true } => format!("pin {}", gear(*id)),
            Self::Pin { gear: id, pinned: false } => format!("unpin {}", gear(*id)),
            Self::SetFigure { figure, .. } => format!("set {}", figure.label()),
            Self::SetTape { .. } => "measure the hull".into(),
            Self::AddHole { hole } => format!("add {}", hole.name),
            Self::MoveHole { hole: id, .. } => format!("move {}", hole(*id)),
            Self::StrikeHole { hole: id } => format!("strike {}", hole(*id)),
            Self::PlugHole { hole: id, with } => format!("plug {} with {}", hole(*id), with.word()),
            Self::ReuseHole { hole: id, gear: by } => format!("reuse {} for {}", hole(*id), gear(*by)),
            Self::ReopenHole { hole: id } => format!("leave {} open", hole(*id)),
            Self::SetSeat { seat } => {
                let shift = seat.back.to_mm() - before.angler.seat.back.to_mm();
                if shift.abs() < 0.5 { "set the seat".into() } else { format!("move the seat {}", tape.along(shift)) }
            }
            Self::SetAngler { .. } => "describe the person".into(),
            Self::SetOuting { outing: day } => outing::words(&before.outing, day),
            Self::SetCraft { craft: Some(craft) } => format!("show lights {}", craft.word()),
            Self::SetCraft { craft: None } => "choose no rule of lights".into(),
            Self::SetCircuit { circuit } => wiring::circuit_words(before, circuit),
            Self::PutOnCircuit { load, circuit } => wiring::load_words(before, *load, *circuit),
            Self::StrikeCircuit { circuit } => format!("strike circuit {}", wiring::circuit_name(before, *circuit)),
            Self::SetMain { main } => wiring::main_words(before, main),
            Self::StrikeMain { battery } => format!("strike the main of {}", gear(*battery)),
            Self::AddCable { cable } => format!("plan {}", cables::words(before, cable)),
            Self::SetCable { cable, via, length } => cables::set_words(before, *cable, via, *length, tape),
            Self::StrikeCable { cable } => format!("strike {}", cables::named(before, *cable)),
            Self::SetWork { .. } => "say when there is time for the work".into(),
            Self::Tick { tick } => work::tick_words(before, tick),
            Self::Untick { on, act } => work::untick_words(before, *act, *on),
            Self::SetLimit { limit } => format!("set limit {}", crate::shown::Shown(&limit.limit)),
            Self::ClearLimit { limit } => format!("clear limit {}", crate::shown::Shown(limit)),
            Self::AddReading { reading } => format!("add {}", reading.words(before, tape)),
            Self::SwitchReading { index, off: true } => format!("switch off {}", reading(*index)),
            Self::SwitchReading { index, off: false } => format!("use {}", reading(*index)),
            Self::StrikeReading { index } => format!("strike {}", reading(*index)),
            Self::RenamePlan { name } => format!("rename the plan to {name}"),
            Self::SetNotes { .. } => "write notes".into(),
            Self::Put { purpose, .. } => purpose.to_string(),
            Self::NameRevision { name, .. } => format!("keep as {name}"),
            Self::StrikeRevision { index } => {
                let name = before.revisions.get(*index).map(|revision| revision.name.to_string());
                format!("forget {}", name.unwrap_or_else(|| "a revision".into()))
            }
            Self::All { purpose, edits } => {
                let parts = edits.iter().map(|edit| edit.label(before, tape));
                // "move it level: move battery 310 mm aft" says it twice.
                let parts: Vec<String> =
                    parts.map(|part| part.strip_prefix("move ").map(String::from).unwrap_or(part)).collect();
                format!("{purpose}: {}", parts.join("; "))
            }
        }
    }
}
