//! The log of the work: when there is time for it, and tasks ticked off with the states that follow from them.

use super::apply::{Refusal, gear_in, refuse, sound};
use super::drilled;
use crate::plan::{Act, BuildState, Fate, GearId, Note, On, Plan, Tick, WorkLog, validate::MOST_TICKS};

/// Says anew when there is time for the work; what was ticked stays.
pub(super) fn set(plan: &mut Plan, work: &WorkLog) -> Result<(), Refusal> {
    let work = WorkLog { ticks: std::mem::take(&mut plan.work.ticks), ..work.clone() };
    plan.work = work;
    sound(plan)
}

/// Notes a task as done; one that was ticked already has its day and reading changed.
pub(super) fn tick(plan: &mut Plan, tick: &Tick) -> Result<(), Refusal> {
    if !tick.on.is_in(plan) {
        return refuse("what it was done to is not in this plan");
    }
    if plan.work.tick(tick.act, tick.on) == Some(tick) {
        return refuse(format!("{} is ticked so already", tick.act.word()));
    }
    let ticks = &mut plan.work.ticks;
    match ticks.iter().position(|other| other.task() == tick.task()) {
        Some(at) => ticks[at] = tick.clone(),
        None if ticks.len() >= MOST_TICKS => return refuse(format!("a plan keeps at most {MOST_TICKS} ticks")),
        None => {
            let at = ticks.partition_point(|other| other.task() < tick.task());
            ticks.insert(at, tick.clone());
        }
    }
    follow(plan, tick.act, tick.on)
}

/// The states follow what was ticked. They stand in one row: what was connected before it was bedded counts when it
/// is bedded.
fn follow(plan: &mut Plan, act: Act, on: On) -> Result<(), Refusal> {
    if let On::Hole(id) = on {
        let is_new = plan.penetration(id).is_some_and(|hole| hole.fate == Fate::New);
        return if act == Act::Drill && is_new { drilled::drill(plan, id) } else { Ok(()) };
    }
    let On::Gear(id) = on else { return Ok(()) };
    let state = reached(plan, id, act);
    let gear = gear_in(plan, id)?;
    if state > gear.state { drilled::note(plan, id, state) } else { Ok(()) }
}

/// The state of a piece of gear after an act, with what was ticked ahead of it.
fn reached(plan: &Plan, id: GearId, act: Act) -> BuildState {
    let now = plan.gear(id).map(|gear| gear.state).unwrap_or_default();
    let own = act.reaches().filter(|state| *state <= BuildState::Bedded);
    let mut state = own.map_or(now, |state| state.max(now));
    for (next, ahead) in [(BuildState::Bedded, Act::Connect), (BuildState::Installed, Act::TryIt)] {
        let ticked = plan.work.tick(ahead, On::Gear(id)).is_some();
        state = ahead.reaches().filter(|_| state == next && ticked).unwrap_or(state);
    }
    state
}

/// Takes a tick back, and the state that followed from it.
pub(super) fn untick(plan: &mut Plan, act: Act, on: On) -> Result<(), Refusal> {
    let Some(at) = plan.work.ticks.iter().position(|tick| tick.task() == (on, act)) else {
        return refuse(format!("{} was not ticked", act.word()));
    };
    if let On::Hole(id) = on
        && act == Act::Drill
        && plan.penetration(id).is_some_and(|hole| hole.fate != Fate::New)
    {
        return refuse("it is drilled: the hole is in the hull. Undo (u) if that was a slip");
    }
    plan.work.ticks.remove(at);
    if let (Act::Patch, On::Hole(id)) = (act, on)
        && let Some(hole) = plan.penetrations.iter_mut().find(|hole| hole.id == id)
        && matches!(hole.fate, Fate::Plugged(_))
    {
        hole.fate = Fate::Open;
    }
    let On::Gear(id) = on else { return Ok(()) };
    let (Some(gear), Some(reached)) = (plan.gear(id), act.reaches()) else { return Ok(()) };
    if gear.state < reached {
        return Ok(());
    }
    let before = match act {
        Act::DryFit if gear.state == BuildState::DryFitted => BuildState::Planned,
        Act::Drill => BuildState::DryFitted,
        Act::Bed => BuildState::Drilled,
        Act::Fasten => BuildState::DryFitted,
        Act::Connect => BuildState::Bedded,
        Act::TryIt => BuildState::Installed,
        _ => return Ok(()),
    };
    drilled::note(plan, id, before)
}

/// What was set back is not done any more: the ticks that said so go.
pub(super) fn set_back(plan: &mut Plan, id: GearId, from: BuildState, to: BuildState) {
    let undone =
        |tick: &Tick| tick.on == On::Gear(id) && tick.act.reaches().is_some_and(|state| state > to && state <= from);
    plan.work.ticks.retain(|tick| !undone(tick));
}

/// Ticks do not outlive what they are of, nor the place it was done at: gear that was moved is to be worked on anew.
/// Ticks that a file brought along without their task are nobody's business here.
pub(super) fn let_go(before: &Plan, after: &mut Plan) {
    if after.work.ticks.is_empty() {
        return;
    }
    let mut ticks = std::mem::take(&mut after.work.ticks);
    ticks.retain(|tick| {
        let kept = !tick.on.is_in(before) || (tick.on.is_in(after) && !is_elsewhere(before, after, tick.on));
        kept || before.work.tick(tick.act, tick.on) != Some(tick)
    });
    after.work.ticks = ticks;
}

fn is_elsewhere(before: &Plan, after: &Plan, on: On) -> bool {
    let On::Gear(id) = on else { return false };
    let gear = before.gear(id).zip(after.gear(id));
    gear.is_some_and(|(was, is)| was.place != is.place || was.mount != is.mount || was.spec.mounts != is.spec.mounts)
}

/// `tick drill to size (USB socket) on 2031-05-30: 12.6 V`.
pub(super) fn tick_words(before: &Plan, tick: &Tick) -> String {
    let reading =
        if tick.reading == Note::default() { String::new() } else { format!(": {}", one_line(&tick.reading)) };
    format!("tick {} ({}) on {}{reading}", tick.act.word(), tick.on.named(before), tick.date)
}

/// `take back the tick of drill to size (USB socket)`.
pub(super) fn untick_words(before: &Plan, act: Act, on: On) -> String {
    format!("take back the tick of {} ({})", act.word(), on.named(before))
}

fn one_line(note: &Note) -> String {
    note.as_str().replace(['\n', '\t'], " ")
}
