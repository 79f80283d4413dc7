//! Applying an edit: a new plan, or why not.

mod gear;
mod holes;
mod tape;

use std::fmt;

use self::gear::{accepts, placed, within_reason};
use super::{Edit, cables, drilled, readings, revisions, wiring, work};
use crate::checks::LIMITS;
use crate::plan::{Fate, Gear, GearId, Placement, Plan, Seat, Via, validate::MOST_ITEMS};
use crate::shown::Shown;
use crate::units::Angle;

/// Why an edit was refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal(pub String);

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", Shown(&self.0))
    }
}

impl std::error::Error for Refusal {}

pub(super) fn refuse<T>(why: impl Into<String>) -> Result<T, Refusal> {
    Err(Refusal(why.into()))
}

/// Applies an edit to a plan.
///
/// # Errors
/// A [`Refusal`] in words a person can act on; the input is never changed.
pub fn apply(plan: &Plan, edit: &Edit) -> Result<Plan, Refusal> {
    let mut after = plan.clone();
    change(&mut after, edit)?;
    drilled::leave_holes(plan, &mut after)?;
    if !matches!(edit, Edit::Put { .. }) {
        work::let_go(plan, &mut after);
    }
    Ok(after)
}

fn change(plan: &mut Plan, edit: &Edit) -> Result<(), Refusal> {
    match edit {
        Edit::Add { spec, mount, place } => gear::add(plan, spec, *mount, *place),
        Edit::Place { gear, at, mount } => {
            within_reason(at)?;
            let gear = gear_in(plan, *gear)?;
            accepts(&gear.spec, *mount)?;
            gear.mount = *mount;
            gear.place = Some(*at);
            Ok(())
        }
        Edit::Move { gear, x, y } => {
            let place = placed(plan, *gear)?;
            let moved = Placement { x: *x, y: *y, ..*place };
            within_reason(&moved)?;
            *place = moved;
            Ok(())
        }
        Edit::Turn { gear, to } => {
            let turned = to.to_deg();
            if !turned.is_finite() {
                return refuse("a turn must be a number of degrees");
            }
            placed(plan, *gear)?.turn = Angle::deg(turned.rem_euclid(360.0));
            Ok(())
        }
        Edit::Mirror { gear } => gear::mirror(plan, *gear),
        Edit::SetMount { gear, how } => {
            let gear = gear_in(plan, *gear)?;
            accepts(&gear.spec, *how)?;
            if gear.mount == *how {
                return refuse(format!("{} is held by {} already", gear.label, how.word()));
            }
            gear.mount = *how;
            Ok(())
        }
        Edit::SetLevel { gear, level } => {
            let place = placed(plan, *gear)?;
            if place.level == *level {
                return refuse(format!("it is {} already", level.word()));
            }
            place.level = *level;
            Ok(())
        }
        Edit::Raise { gear, by } => {
            let place = placed(plan, *gear)?;
            let raised = Placement { raise: *by, ..*place };
            within_reason(&raised)?;
            *place = raised;
            Ok(())
        }
        Edit::Swap { gear, spec } => gear::swap(plan, *gear, spec),
        Edit::Duplicate { gear } => {
            let copy = gear_in(plan, *gear)?.clone();
            room_for_more(plan.gear.len())?;
            plan.gear.push(Gear { id: plan.next_gear_id(), place: None, state: Default::default(), ..copy });
            Ok(())
        }
        Edit::PutAshore { gear } => {
            placed(plan, *gear)?;
            gear_in(plan, *gear)?.place = None;
            holes::release(plan, *gear);
            Ok(())
        }
        Edit::Strike { gear } => gear::strike(plan, *gear),
        Edit::Rename { gear, label } => {
            gear_in(plan, *gear)?.label = label.clone();
            Ok(())
        }
        Edit::SetSeal { gear, seal } => {
            gear_in(plan, *gear)?.seal = *seal;
            Ok(())
        }
        Edit::SetState { gear, state } => drilled::set_state(plan, *gear, *state),
        Edit::Pin { gear, pinned } => {
            gear_in(plan, *gear)?.pinned = *pinned;
            Ok(())
        }
        Edit::SetFigure { figure, value, origin } => {
            value.fits(*figure).map_err(Refusal)?;
            tape::spares(plan, *figure)?;
            if figure.set(plan, *value, *origin) {
                Ok(())
            } else {
                refuse(format!("this plan has no such figure: {}", figure.label()))
            }
        }
        Edit::SetTape { tape } => tape::set(plan, tape),
        Edit::AddHole { hole } => holes::add(plan, hole),
        Edit::MoveHole { hole, x, y } => {
            let hole = holes::planned(plan, *hole, "moved")?;
            (hole.x, hole.y) = (*x, *y);
            Ok(())
        }
        Edit::DrillHole { hole } => drilled::drill(plan, *hole),
        Edit::StrikeHole { hole } => {
            holes::planned(plan, *hole, "struck")?;
            plan.penetrations.retain(|p| p.id != *hole);
            cables::lead_past(plan, Via::Hole(*hole));
            Ok(())
        }
        Edit::PlugHole { hole, with } => {
            holes::existing(plan, *hole)?.fate = Fate::Plugged(*with);
            Ok(())
        }
        Edit::ReuseHole { hole, gear } => holes::reuse(plan, *hole, *gear),
        Edit::ReopenHole { hole } => {
            holes::existing(plan, *hole)?.fate = Fate::Open;
            Ok(())
        }
        Edit::SetSeat { seat } => set_seat(plan, seat),
        Edit::SetAngler { angler } => {
            plan.angler = (**angler).clone();
            sound(plan)
        }
        Edit::SetOuting { outing } => {
            plan.outing = (**outing).clone();
            sound(plan)
        }
        Edit::SetCraft { craft } => {
            if plan.outing.craft == *craft {
                return refuse("that is chosen already");
            }
            plan.outing.craft = *craft;
            Ok(())
        }
        Edit::SetCircuit { circuit } => wiring::set_circuit(plan, circuit),
        Edit::PutOnCircuit { load, circuit } => wiring::put_on_circuit(plan, *load, *circuit),
        Edit::StrikeCircuit { circuit } => wiring::strike_circuit(plan, *circuit),
        Edit::SetMain { main } => wiring::set_main(plan, main),
        Edit::StrikeMain { battery } => wiring::strike_main(plan, *battery),
        Edit::AddCable { cable } => cables::add(plan, cable),
        Edit::SetCable { cable, via, length } => cables::set(plan, *cable, via, *length),
        Edit::StrikeCable { cable } => cables::strike(plan, *cable),
        Edit::SetWork { work } => work::set(plan, work),
        Edit::Tick { tick } => work::tick(plan, tick),
        Edit::Untick { on, act } => work::untick(plan, *act, *on),
        Edit::SetLimit { limit } => {
            if !LIMITS.iter().any(|known| known.name == limit.limit) {
                return refuse(format!("no check has a limit \"{}\"", limit.limit));
            }
            if !limit.value.is_finite() {
                return refuse("a limit must be a finite number");
            }
            plan.limits.retain(|set| set.limit != limit.limit);
            plan.limits.push(limit.clone());
            Ok(())
        }
        Edit::ClearLimit { limit } => {
            let before = plan.limits.len();
            plan.limits.retain(|set| set.limit != *limit);
            if plan.limits.len() == before { refuse("that limit is at its default already") } else { Ok(()) }
        }
        Edit::AddReading { reading } => readings::add(plan, reading),
        Edit::SwitchReading { index, off } => readings::switch(plan, *index, *off),
        Edit::StrikeReading { index } => readings::strike(plan, *index),
        Edit::RenamePlan { name } => {
            plan.name = name.clone();
            Ok(())
        }
        Edit::SetNotes { notes } => {
            plan.notes = notes.clone();
            Ok(())
        }
        Edit::Put { parts, revisions, .. } => revisions::put(plan, parts, revisions.as_deref()),
        Edit::NameRevision { name, date } => revisions::name(plan, name, date.as_ref()),
        Edit::StrikeRevision { index } => revisions::strike(plan, *index),
        Edit::All { edits, .. } => all(plan, edits),
    }
}

/// One after the other; the first refusal refuses them all, because the caller drops the changed plan.
fn all(plan: &mut Plan, edits: &[Edit]) -> Result<(), Refusal> {
    if edits.is_empty() || edits.len() > MOST_ITEMS {
        return refuse(format!("one step holds from one to {MOST_ITEMS} edits"));
    }
    if edits.iter().any(|edit| matches!(edit, Edit::All { .. })) {
        return refuse("a step made of edits cannot hold another one");
    }
    edits.iter().try_for_each(|edit| change(plan, edit))
}

fn set_seat(plan: &mut Plan, seat: &Seat) -> Result<(), Refusal> {
    let rails = &plan.hull.seat;
    let (aft, fore) = (rails.back_aft.to_mm(), rails.back_fore.to_mm());
    let back = seat.back.to_mm();
    if !(aft - 0.5..=fore + 0.5).contains(&back) {
        return refuse(format!("the rails take the seat back from {aft:.0} to {fore:.0} mm from the stern"));
    }
    if seat.height == crate::plan::SeatHeight::High && rails.high.is_none() {
        return refuse("this seat has no high setting");
    }
    plan.angler.seat = seat.clone();
    sound(plan)
}

pub(super) fn gear_in(plan: &mut Plan, id: GearId) -> Result<&mut Gear, Refusal> {
    plan.gear_mut(id).ok_or_else(|| Refusal(format!("there is no {id} in this plan")))
}

pub(super) fn room_for_more(count: usize) -> Result<(), Refusal> {
    if count < MOST_ITEMS { Ok(()) } else { refuse(format!("a plan holds at most {MOST_ITEMS} of these")) }
}

/// For edits that bring in whole parts: the same door the file goes through.
pub(super) fn sound(plan: &Plan) -> Result<(), Refusal> {
    plan.validate().map_err(|faults| Refusal(faults.first().map(ToString::to_string).unwrap_or_default()))
}
