//! What was done to each part between two plans, as data: words are made of it where the tape is known.

use crate::geometry::Spot;
use crate::plan::parts::{Part, PartKey};
use crate::plan::{
    AnyQuantity, BuildState, Circuit, Day, Fate, FigureRef, Gear, GearId, Level, Mount, Name, Penetration, Plan, Seal,
};
use crate::units::Current;

/// What was done to a part.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Which part.
    pub key: PartKey,
    /// What it is called now, or was called when it is gone.
    pub name: String,
    /// What was done.
    pub how: How,
}

/// What was done to a part.
#[derive(Clone, Debug, PartialEq)]
pub enum How {
    /// It is new.
    Added,
    /// It is gone.
    Gone,
    /// It is not the same any more; for gear the details say in what.
    Altered(Vec<Detail>),
}

/// In what a piece of gear is not the same any more.
#[derive(Clone, Debug, PartialEq)]
#[allow(missing_docs, reason = "from and to say what they are")]
pub enum Detail {
    /// It stands elsewhere; raise is how much higher it stands over its surface, mm.
    Moved { from: Spot, to: Spot, raise_mm: f64 },
    /// It is turned otherwise, degrees counter-clockwise from above.
    Turned { from_deg: f64, to_deg: f64 },
    /// It sits on another surface.
    Level { from: Level, to: Level },
    /// It came aboard.
    Aboard,
    /// It went ashore.
    Ashore,
    /// It is held another way.
    Remounted { from: Mount, to: Mount },
    /// It is another thing.
    Exchanged { from: Name, to: Name },
    /// A figure of it is another.
    Figure { figure: FigureRef, from: AnyQuantity, to: AnyQuantity },
    /// Something else of what it is: bodies, uses, currents by setting.
    Respecified,
    /// It is called otherwise.
    Renamed { from: Name },
    /// It is sealed otherwise.
    Sealed { from: Seal, to: Seal },
    /// Work on it went on, or was taken back.
    State { from: BuildState, to: BuildState },
    /// It may be moved by a search, or may not any more.
    Pinned(bool),
    /// A task is noted as done on another day.
    Done { from: Day, to: Day },
    /// Something else became of a hole.
    Fate { from: Fate, to: Fate },
    /// The seat back stands elsewhere, mm forward of the aft end.
    Sits { from_mm: f64, to_mm: f64 },
    /// A circuit has another fuse.
    Fused { from: Option<Current>, to: Option<Current> },
    /// A circuit's wire is of another size, American wire gauge.
    Wired { from: Option<u8>, to: Option<u8> },
    /// A circuit feeds this now, or does not any more.
    Feeds { load: String, now: bool },
    /// The plan is called this now.
    Called(Name),
}

/// What was done to each part between two plans, in the order of their keys.
pub fn changes(then: &Plan, now: &Plan) -> Vec<Change> {
    let mut changes: Vec<Change> = then.differences(now).iter().map(|part| change(then, now, part)).collect();
    changes.sort_by(|a, b| a.key.cmp(&b.key));
    changes
}

pub(super) fn change(then: &Plan, now: &Plan, part: &Part) -> Change {
    let key = part.key();
    let is_in = |plan: &Plan| name_of(plan, &key).is_some();
    let how = match (is_in(then), is_in(now)) {
        (false, _) => How::Added,
        (true, false) => How::Gone,
        (true, true) => How::Altered(details(then, now, &key)),
    };
    let name = name_of(now, &key).or_else(|| name_of(then, &key)).unwrap_or_default();
    Change { key, name, how }
}

/// What a part is called in a plan that has it.
pub fn name_of(plan: &Plan, key: &PartKey) -> Option<String> {
    let wiring = &plan.wiring;
    let gear = |id| plan.gear(id).map(|gear| gear.label.to_string());
    Some(match key {
        PartKey::Gear(id) => gear(*id)?,
        PartKey::Hole(id) => plan.penetration(*id)?.name.to_string(),
        PartKey::Main(battery) => {
            let main = wiring.main_of(*battery)?;
            format!("main {} of {}", main.word(), gear(*battery).unwrap_or_else(|| battery.to_string()))
        }
        PartKey::Circuit(id) => format!("circuit {}", wiring.circuit(*id)?.name),
        PartKey::Cable(id) => {
            let cable = wiring.cables.iter().find(|cable| cable.id == *id)?;
            let end = |id| gear(id).unwrap_or_else(|| id.to_string());
            format!("cable from {} to {}", end(cable.from), end(cable.to))
        }
        PartKey::Limit(name) => {
            let set = plan.limits.iter().any(|limit| limit.limit == *name);
            set.then(|| format!("limit {name}"))?
        }
        PartKey::Seat => "seat".into(),
        PartKey::Angler => "person".into(),
        PartKey::Hull => "hull".into(),
        PartKey::Outing => "day".into(),
        PartKey::Readings => "readings".into(),
        PartKey::Work => "time for the work".into(),
        PartKey::Tick(on, act) => {
            plan.work.tick(*act, *on)?;
            format!("tick of {} ({})", act.word(), on.named(plan))
        }
        PartKey::Name => "name of the plan".into(),
        PartKey::Notes => "notes".into(),
    })
}

fn details(then: &Plan, now: &Plan, key: &PartKey) -> Vec<Detail> {
    match key {
        PartKey::Hole(id) => {
            let holes = then.penetration(*id).zip(now.penetration(*id));
            return holes.map_or(Vec::new(), |(from, to)| hole_details(from, to));
        }
        PartKey::Seat => {
            let (from_mm, to_mm) = (then.angler.seat.back.to_mm(), now.angler.seat.back.to_mm());
            return (from_mm != to_mm).then_some(Detail::Sits { from_mm, to_mm }).into_iter().collect();
        }
        PartKey::Circuit(id) => {
            let circuits = then.wiring.circuit(*id).zip(now.wiring.circuit(*id));
            return circuits.map_or(Vec::new(), |(from, to)| circuit_details((then, from), (now, to)));
        }
        PartKey::Name => return vec![Detail::Called(now.name.clone())],
        _ => {}
    }
    if let PartKey::Tick(on, act) = key {
        let dates = then.work.tick(*act, *on).zip(now.work.tick(*act, *on)).map(|(from, to)| (from.date, to.date));
        let moved = dates.filter(|(from, to)| from != to);
        return moved.map(|(from, to)| Detail::Done { from, to }).into_iter().collect();
    }
    let figures = match key {
        PartKey::Gear(id) => FigureRef::of_gear(now, *id),
        PartKey::Angler => FigureRef::of_angler(),
        PartKey::Hull => FigureRef::of_hull(now),
        _ => return Vec::new(),
    };
    let gear = match key {
        PartKey::Gear(id) => then.gear(*id).zip(now.gear(*id)),
        _ => None,
    };
    let exchanged = gear.is_some_and(|(from, to)| from.spec.name != to.spec.name);
    let mut details = gear.map_or(Vec::new(), |(from, to)| gear_details(from, to));
    if !exchanged {
        details.extend(figures.into_iter().filter_map(|figure| figure_detail(then, now, figure)));
    }
    let respecified = gear.is_some_and(|(from, to)| from.spec != to.spec) && !exchanged;
    if respecified && !details.iter().any(|detail| matches!(detail, Detail::Figure { .. })) {
        details.push(Detail::Respecified);
    }
    details
}

fn gear_details(from: &Gear, to: &Gear) -> Vec<Detail> {
    let mut details = Vec::new();
    match (from.place, to.place) {
        (None, Some(_)) => details.push(Detail::Aboard),
        (Some(_), None) => details.push(Detail::Ashore),
        (Some(was), Some(is)) => {
            let raise_mm = is.raise.to_mm() - was.raise.to_mm();
            if was.spot() != is.spot() || raise_mm != 0.0 {
                details.push(Detail::Moved { from: was.spot(), to: is.spot(), raise_mm });
            }
            let (from_deg, to_deg) = (was.turn.to_deg(), is.turn.to_deg());
            if from_deg != to_deg {
                details.push(Detail::Turned { from_deg, to_deg });
            }
            if was.level != is.level {
                details.push(Detail::Level { from: was.level, to: is.level });
            }
        }
        (None, None) => {}
    }
    if from.mount != to.mount {
        details.push(Detail::Remounted { from: from.mount, to: to.mount });
    }
    if from.spec.name != to.spec.name {
        details.push(Detail::Exchanged { from: from.spec.name.clone(), to: to.spec.name.clone() });
    }
    if from.label != to.label {
        details.push(Detail::Renamed { from: from.label.clone() });
    }
    if from.seal != to.seal {
        details.push(Detail::Sealed { from: from.seal, to: to.seal });
    }
    if from.state != to.state {
        details.push(Detail::State { from: from.state, to: to.state });
    }
    if from.pinned != to.pinned {
        details.push(Detail::Pinned(to.pinned));
    }
    details
}

fn hole_details(from: &Penetration, to: &Penetration) -> Vec<Detail> {
    let mut details = Vec::new();
    if from.spot() != to.spot() {
        details.push(Detail::Moved { from: from.spot(), to: to.spot(), raise_mm: 0.0 });
    }
    if from.fate != to.fate {
        details.push(Detail::Fate { from: from.fate, to: to.fate });
    }
    if from.name != to.name {
        details.push(Detail::Renamed { from: from.name.clone() });
    }
    if from.seal != to.seal {
        details.push(Detail::Sealed { from: from.seal, to: to.seal });
    }
    details
}

fn circuit_details((then, from): (&Plan, &Circuit), (now, to): (&Plan, &Circuit)) -> Vec<Detail> {
    let mut details = Vec::new();
    if from.name != to.name {
        details.push(Detail::Renamed { from: from.name.clone() });
    }
    if from.fuse != to.fuse {
        details.push(Detail::Fused { from: from.fuse, to: to.fuse });
    }
    if from.gauge_awg != to.gauge_awg {
        details.push(Detail::Wired { from: from.gauge_awg, to: to.gauge_awg });
    }
    let feeds = |plan: &Plan, load: &GearId, now| {
        let load = plan.gear(*load).map_or_else(|| load.to_string(), |gear| gear.label.to_string());
        Detail::Feeds { load, now }
    };
    details.extend(to.loads.iter().filter(|load| !from.loads.contains(load)).map(|load| feeds(now, load, true)));
    details.extend(from.loads.iter().filter(|load| !to.loads.contains(load)).map(|load| feeds(then, load, false)));
    details
}

fn figure_detail(then: &Plan, now: &Plan, figure: FigureRef) -> Option<Detail> {
    let (from, to) = (figure.get(then)?.value, figure.get(now)?.value);
    (from.base() != to.base()).then_some(Detail::Figure { figure, from, to })
}
