//! Applying an edit: a new plan, or why not.

mod tape;

use std::fmt;
use std::sync::Arc;

use super::{Edit, cables, drilled, readings, revisions, wiring};
use crate::checks::LIMITS;
use crate::plan::{
    Fate, Gear, GearId, HoleId, Level, Mount, Name, Penetration, Placement, Plan, Seat, Spec, Via, validate::MOST_ITEMS,
};
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
    Ok(after)
}

fn change(plan: &mut Plan, edit: &Edit) -> Result<(), Refusal> {
    match edit {
        Edit::Add { spec, mount, place } => add(plan, spec, *mount, *place),
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
        Edit::Mirror { gear } => mirror(plan, *gear),
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
        Edit::Swap { gear, spec } => swap(plan, *gear, spec),
        Edit::Duplicate { gear } => {
            let copy = gear_in(plan, *gear)?.clone();
            room_for_more(plan.gear.len())?;
            plan.gear.push(Gear { id: plan.next_gear_id(), place: None, state: Default::default(), ..copy });
            Ok(())
        }
        Edit::PutAshore { gear } => {
            placed(plan, *gear)?;
            gear_in(plan, *gear)?.place = None;
            release_holes(plan, *gear);
            Ok(())
        }
        Edit::Strike { gear } => strike(plan, *gear),
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
        Edit::AddHole { hole } => add_hole(plan, hole),
        Edit::MoveHole { hole, x, y } => {
            let hole = planned_hole(plan, *hole, "moved")?;
            (hole.x, hole.y) = (*x, *y);
            Ok(())
        }
        Edit::DrillHole { hole } => drilled::drill(plan, *hole),
        Edit::StrikeHole { hole } => {
            planned_hole(plan, *hole, "struck")?;
            plan.penetrations.retain(|p| p.id != *hole);
            cables::lead_past(plan, Via::Hole(*hole));
            Ok(())
        }
        Edit::PlugHole { hole, with } => {
            existing_hole(plan, *hole)?.fate = Fate::Plugged(*with);
            Ok(())
        }
        Edit::ReuseHole { hole, gear } => reuse(plan, *hole, *gear),
        Edit::ReopenHole { hole } => {
            existing_hole(plan, *hole)?.fate = Fate::Open;
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

fn add(plan: &mut Plan, spec: &Spec, mount: Option<Mount>, place: Option<Placement>) -> Result<(), Refusal> {
    room_for_more(plan.gear.len())?;
    spec.validate().map_err(|faults| Refusal(faults.first().map(ToString::to_string).unwrap_or_default()))?;
    let Some(preferred) = spec.mounts.first() else { return refuse("this entry has no mount") };
    let mount = mount.unwrap_or(preferred.how);
    accepts(spec, mount)?;
    if let Some(place) = &place {
        within_reason(place)?;
    }
    let gear = Gear {
        id: plan.next_gear_id(),
        label: free_label(plan, &spec.name),
        spec: Arc::new(spec.clone()),
        mount,
        place,
        seal: Default::default(),
        state: Default::default(),
        pinned: false,
    };
    plan.gear.push(gear);
    Ok(())
}

/// The spec's name, numbered when the plan has gear of that label already.
fn free_label(plan: &Plan, name: &Name) -> Name {
    let taken = |label: &str| plan.gear.iter().any(|g| g.label.as_str() == label);
    if !taken(name.as_str()) {
        return name.clone();
    }
    (2..=MOST_ITEMS + 1)
        .map(|n| format!("{name} {n}"))
        .find(|label| !taken(label))
        .and_then(|label| Name::new(label).ok())
        .unwrap_or_else(|| name.clone())
}

fn mirror(plan: &mut Plan, id: GearId) -> Result<(), Refusal> {
    placed(plan, id)?;
    let gear = gear_in(plan, id)?;
    match gear.mirrored() {
        Some(mirrored) => {
            *gear = mirrored;
            Ok(())
        }
        None => refuse("it sits on the centreline: nothing to mirror"),
    }
}

fn swap(plan: &mut Plan, id: GearId, spec: &Spec) -> Result<(), Refusal> {
    spec.validate().map_err(|faults| Refusal(faults.first().map(ToString::to_string).unwrap_or_default()))?;
    let label = {
        let gear = gear_in(plan, id)?;
        // A label the person chose stays; one that only repeated the old spec follows the new one.
        let followed = gear.label.as_str().starts_with(gear.spec.name.as_str());
        (!followed).then(|| gear.label.clone())
    };
    let label = match label {
        Some(label) => label,
        None => free_label(plan, &spec.name),
    };
    let gear = gear_in(plan, id)?;
    let Some(preferred) = spec.mounts.first() else { return refuse("this entry has no mount") };
    gear.mount = if spec.mounting(gear.mount).is_some() { gear.mount } else { preferred.how };
    gear.label = label;
    gear.spec = Arc::new(spec.clone());
    readings::unit_changed(plan, id);
    Ok(())
}

fn strike(plan: &mut Plan, id: GearId) -> Result<(), Refusal> {
    let gear = gear_in(plan, id)?;
    if gear.state >= crate::plan::BuildState::Drilled && gear.is_placed() {
        return refuse(format!(
            "{} is drilled: its holes are in the hull; put it ashore first, and they stay behind",
            gear.label
        ));
    }
    if let Some(circuit) =
        plan.wiring.circuits.iter().find(|c| c.battery == id || c.channel.is_some_and(|(unit, _)| unit == id))
    {
        return refuse(format!("circuit \"{}\" hangs on it; change the circuit first", circuit.name));
    }
    plan.gear.retain(|g| g.id != id);
    release_holes(plan, id);
    readings::unit_changed(plan, id);
    for circuit in &mut plan.wiring.circuits {
        circuit.loads.retain(|load| *load != id);
    }
    plan.wiring.mains.retain(|main| main.battery != id);
    plan.wiring.cables.retain(|cable| cable.from != id && cable.to != id);
    cables::lead_past(plan, Via::Gear(id));
    for phase in &mut plan.outing.phases {
        phase.duties.retain(|duty| duty.gear != id);
    }
    Ok(())
}

/// Holes that served this gear are open again.
fn release_holes(plan: &mut Plan, id: GearId) {
    for hole in &mut plan.penetrations {
        if hole.fate == Fate::Reused(id) {
            hole.fate = Fate::Open;
        }
    }
}

fn add_hole(plan: &mut Plan, hole: &Penetration) -> Result<(), Refusal> {
    room_for_more(plan.penetrations.len())?;
    if plan.hull.form.bottom(hole.spot()).is_none() {
        return refuse("there is no hull at that place");
    }
    let hole = Penetration { id: plan.next_hole_id(), ..hole.clone() };
    plan.penetrations.push(hole);
    sound(plan)
}

fn reuse(plan: &mut Plan, id: HoleId, gear: GearId) -> Result<(), Refusal> {
    let label = gear_in(plan, gear)?.label.clone();
    placed(plan, gear)?;
    let hole = existing_hole(plan, id)?;
    if let Fate::Plugged(_) = hole.fate {
        return refuse(format!("{} is closed for good", hole.name));
    }
    let (spot, bore) = (hole.spot(), hole.bore.to_mm());
    let rig = crate::study::rig::Rig::of(plan);
    let near = rig
        .item(gear)
        .into_iter()
        .flat_map(|item| item.holes.iter())
        .map(|h| (h.at.spot().distance(spot), h.bore_mm))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    match near {
        None => return refuse(format!("{label} needs no hole as it is mounted now")),
        Some((off, _)) if off > REUSE_WITHIN_MM => {
            return refuse(format!("the nearest hole of {label} is {off:.0} mm away: move the gear onto it first"));
        }
        Some((_, needed)) if bore > needed + 1.0 => {
            return refuse(format!(
                "it is {bore:.0} mm wide and {label} needs {needed:.0} mm: plug it, or cover it with a larger fitting"
            ));
        }
        Some(_) => {}
    }
    existing_hole(plan, id)?.fate = Fate::Reused(gear);
    Ok(())
}

/// How far an old hole may be from the middle of the new one to serve it, mm. Common practice, no
/// source: a hole can be dressed by a few millimetres, not walked.
pub(super) const REUSE_WITHIN_MM: f64 = 5.0;

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

fn placed(plan: &mut Plan, id: GearId) -> Result<&mut Placement, Refusal> {
    let gear = gear_in(plan, id)?;
    let label = gear.label.clone();
    gear.place.as_mut().ok_or_else(|| Refusal(format!("{label} is ashore: place it first")))
}

fn planned_hole<'a>(plan: &'a mut Plan, id: HoleId, done: &str) -> Result<&'a mut Penetration, Refusal> {
    let hole = hole_in(plan, id)?;
    if hole.fate == Fate::New {
        Ok(hole)
    } else {
        refuse(format!("{} exists in the hull: it cannot be {done}, only plugged or reused", hole.name))
    }
}

fn existing_hole(plan: &mut Plan, id: HoleId) -> Result<&mut Penetration, Refusal> {
    let hole = hole_in(plan, id)?;
    if hole.fate == Fate::New {
        refuse(format!("{} is not drilled yet: strike it instead", hole.name))
    } else {
        Ok(hole)
    }
}

fn hole_in(plan: &mut Plan, id: HoleId) -> Result<&mut Penetration, Refusal> {
    plan.penetrations.iter_mut().find(|p| p.id == id).ok_or_else(|| Refusal(format!("there is no {id} in this plan")))
}

fn accepts(spec: &Spec, how: Mount) -> Result<(), Refusal> {
    if spec.mounting(how).is_some() {
        return Ok(());
    }
    let known: Vec<&str> = spec.mounts.iter().map(|m| m.how.word()).collect();
    refuse(format!("{} does not take {}; it takes {}", spec.name, how.word(), known.join(", ")))
}

/// Gear may hang over the hull (an oar, an arm), but not leave the driveway.
fn within_reason(place: &Placement) -> Result<(), Refusal> {
    let (spot, raise) = (place.spot(), place.raise.to_mm());
    let near = spot.is_finite() && (-2000.0..=9000.0).contains(&spot.x) && spot.y.abs() <= 3000.0;
    if !near {
        return refuse("that is nowhere near the boat");
    }
    if !(-1000.0..=3000.0).contains(&raise) {
        return refuse("that is too high or too low to be mounted");
    }
    if place.level == Level::Under && raise > 500.0 {
        return refuse("that is too far under the hull");
    }
    Ok(())
}

pub(super) fn room_for_more(count: usize) -> Result<(), Refusal> {
    if count < MOST_ITEMS { Ok(()) } else { refuse(format!("a plan holds at most {MOST_ITEMS} of these")) }
}

/// For edits that bring in whole parts: the same door the file goes through.
pub(super) fn sound(plan: &Plan) -> Result<(), Refusal> {
    plan.validate().map_err(|faults| Refusal(faults.first().map(ToString::to_string).unwrap_or_default()))
}
