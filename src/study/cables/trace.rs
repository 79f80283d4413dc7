//! One cable: its way, what its plug does not pass, how long it has to be.

use super::ends::{Tail, Wanted, is_supply, tail};
use super::gate::{self, End, Gate};
use super::search::{Asked, Due, Search};
use super::{CableRun, NoWay, Passed, Stuck, Way, pinch};
use crate::geometry::Point;
use crate::plan::{Plan, Via};
use crate::study::rig::Rig;
use crate::study::wiring::length::{ENDS_MM, SLACK_SHARE};

/// Finds the way of a cable and what follows from it.
pub(super) fn run(plan: &Plan, rig: &Rig, search: &Search<'_>, cable: &Wanted<'_>) -> CableRun {
    let tail = tail(plan, cable.from, cable.to, cable.signal);
    let plug_mm = tail.map_or(0.0, |tail| tail.plug_mm);
    let asked = ends(rig, search, cable);
    let way = asked.and_then(|(from, to)| forced(search, &from, &to, cable.via, plug_mm));
    let stuck = way.as_ref().map_or_else(|_| Vec::new(), |way| stuck(search, way, plug_mm));
    let round = asked.ok().filter(|_| !stuck.is_empty());
    let round = round.and_then(|(from, to)| wider(search, &from, &to, cable.via, plug_mm));
    let own_hole = asked.ok().zip(tail).and_then(|((from, to), tail)| too_small_itself(&from, &to, &tail));
    let needed_mm = cable.measured_mm.or_else(|| way.as_ref().ok().map(|way| SLACK_SHARE * way.length_mm + ENDS_MM));
    let surplus_mm = tail.zip(needed_mm).map(|(tail, needed)| tail.length_mm - needed);
    // A tail that is no longer than an end of a cable is joined at the gear itself.
    let tail_reaches = tail.is_some_and(|tail| tail.length_mm > ENDS_MM / 2.0);
    let short = surplus_mm.is_some_and(|surplus| surplus < 0.0) && is_supply(cable.signal) && tail_reaches;
    CableRun {
        id: cable.id,
        from: cable.from,
        to: cable.to,
        signal: cable.signal,
        pinches: way.as_ref().map_or_else(|_| Vec::new(), |way| pinch::all(plan, rig, search, cable, way, tail)),
        joint: way.as_ref().ok().zip(tail.filter(|_| short)).map(|(way, tail)| joint(way, &tail)),
        way,
        tail,
        measured_mm: cable.measured_mm,
        needed_mm,
        surplus_mm,
        stuck: stuck.into_iter().chain(own_hole).collect(),
        round,
        beside: None,
    }
}

fn ends(rig: &Rig, search: &Search<'_>, cable: &Wanted<'_>) -> Result<(End, End), NoWay> {
    if cable.from == cable.to {
        return Err(NoWay::SameEnd(cable.from));
    }
    Ok((gate::end(rig, search.rooms, cable.from)?, gate::end(rig, search.rooms, cable.to)?))
}

/// The shortest way through the openings it must pass: through openings without a lid before those with one, through
/// those that its plug passes before any.
fn forced(search: &Search<'_>, from: &End, to: &End, via: &[Via], plug_mm: f64) -> Result<Way, NoWay> {
    if let Some(missing) = via.iter().find(|via| search.gate(**via).is_none()) {
        return Err(NoWay::NoOpening(*missing));
    }
    let due: Vec<Due> = via.iter().map(|via| Due::Opening(*via)).collect();
    let ask = |due: &[Due], allowed: &dyn Fn(&Gate) -> bool| search.way(&Asked { from, to, due, allowed });
    let passes = |gate: &Gate| gate.bore_mm >= plug_mm;
    ask(&due, &|gate| passes(gate) && !gate.lid)
        .or_else(|| ask(&due, &passes))
        .or_else(|| ask(&due, &|_| true))
        .ok_or_else(|| if due.is_empty() || ask(&[], &|_| true).is_none() { NoWay::Closed } else { NoWay::Order })
}

/// The shortest way on which the plug passes everything: a wider opening between the same rooms stands in for each
/// that it must pass and does not.
fn wider(search: &Search<'_>, from: &End, to: &End, via: &[Via], plug_mm: f64) -> Option<Way> {
    let instead = |via: &Via| match search.gate(*via) {
        Some(gate) if gate.bore_mm < plug_mm => Due::Wider(gate.mouths.map(|mouth| mouth.0), plug_mm),
        _ => Due::Opening(*via),
    };
    let due: Vec<Due> = via.iter().map(instead).collect();
    let ask = |lids: bool| {
        let allowed = |gate: &Gate| gate.bore_mm >= plug_mm && (lids || !gate.lid);
        search.way(&Asked { from, to, due: &due, allowed: &allowed })
    };
    ask(false).or_else(|| ask(true))
}

fn stuck(search: &Search<'_>, way: &Way, plug_mm: f64) -> Vec<Stuck> {
    let small = |(via, step): (Via, &super::Step)| {
        let bore_mm = search.gate(via)?.bore_mm;
        (bore_mm < plug_mm).then_some(Stuck { opening: via, at: step.at, bore_mm, plug_mm })
    };
    way.passages().filter_map(small).collect()
}

/// The hole under the gear itself, where the plug of its own cable does not pass it.
fn too_small_itself(from: &End, to: &End, tail: &Tail) -> Option<Stuck> {
    let own = [from, to].into_iter().find(|end| end.gear == tail.gear)?;
    let bore_mm = own.bore_mm.filter(|bore| *bore < tail.plug_mm)?;
    Some(Stuck { opening: Via::Gear(own.gear), at: own.foot, bore_mm, plug_mm: tail.plug_mm })
}

/// Where a supplied cable that is too short ends on the way: its half of the ends and its slack taken off.
fn joint(way: &Way, tail: &Tail) -> Point {
    let reach = ((tail.length_mm - ENDS_MM / 2.0) / SLACK_SHARE).max(0.0);
    let from_start = way.steps.first().is_some_and(|step| step.passes == Passed::End(tail.gear));
    way.at(if from_start { reach } else { way.length_mm - reach })
}

impl Way {
    /// The point this far from its start, mm.
    pub fn at(&self, mm: f64) -> Point {
        let mut left = mm;
        for pair in self.steps.windows(2) {
            let (from, to) = (pair[0].at, pair[1]);
            if left <= to.leg_mm && to.leg_mm > 0.0 {
                let share = (left / to.leg_mm).max(0.0);
                let way = to.at - from;
                return Point::new(from.x + way.x * share, from.y + way.y * share, from.z + way.z * share);
            }
            left -= to.leg_mm;
        }
        self.steps.last().map_or_else(Point::default, |step| step.at)
    }
}
