//! Where a boat is worth cutting: at the hip of who sits, through heavy gear, through holes still to be drilled.

use super::meets;
use crate::plan::{Electric, GearId, Plan};
use crate::study::Study;
use crate::study::holes::{Hole, HoleState};

/// So many places are named at most. Common practice, no source: what is looked through in one go.
pub const MOST_PLACES: usize = 4;

/// Gear from this mass on counts as heavy beside batteries, kg. Common practice, no source.
const HEAVY_KG: f64 = 4.0;

/// Places nearer to each other than this are one, mm. Common practice, no source.
const APART_MM: f64 = 60.0;

/// A place to cut the boat, and what is cut there.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// Its station, mm forward of the aft end.
    pub x_mm: f64,
    /// `seat`, `battery`, `holes of camera boom`, `widest place`; nothing where a person chose it.
    pub what: String,
}

/// The places that matter most, from aft to bow; none on a hull without length.
pub fn places(plan: &Plan, study: &Study) -> Vec<Place> {
    let form = study.shape.form();
    let mut heavy = heavy(plan, study).into_iter();
    let mut holes = hole_groups(plan, study).into_iter();
    // The first of each sort, then the rest of them.
    let first = [seat(plan, study), heavy.next(), holes.next().or_else(|| widest(study))];
    let all = first.into_iter().flatten().chain(heavy).chain(holes);
    let mut chosen: Vec<Place> = Vec::new();
    for place in all.filter(|place| form.gunwale(place.x_mm).is_some()) {
        let apart = chosen.iter().all(|other| (other.x_mm - place.x_mm).abs() >= APART_MM);
        if apart && chosen.len() < MOST_PLACES {
            chosen.push(place);
        }
    }
    chosen.sort_by(|a, b| a.x_mm.total_cmp(&b.x_mm));
    chosen
}

/// The hip of who sits.
fn seat(plan: &Plan, study: &Study) -> Option<Place> {
    let body = &study.reach.body;
    let rails = &plan.hull.seat;
    (body.grip > 0.0 && rails.width.to_mm() > 0.0).then(|| Place { x_mm: body.hip.x, what: "seat".into() })
}

/// Batteries and other heavy gear, the heaviest first.
fn heavy(plan: &Plan, study: &Study) -> Vec<Place> {
    let masses = study.rig.items.iter().filter_map(|item| {
        let gear = plan.gear(item.gear)?;
        let kg = gear.spec.mass.value.to_kg();
        let battery = matches!(gear.spec.electric, Some(Electric::Battery { .. }));
        let place = Place { x_mm: item.centre().x, what: gear.label.to_string() };
        (battery || kg >= HEAVY_KG).then_some((kg, place))
    });
    let mut found: Vec<(f64, Place)> = masses.collect();
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    found.into_iter().map(|(_, place)| place).collect()
}

/// The holes that each piece of gear still wants, at the station that shows most of them; the most holes first.
fn hole_groups(plan: &Plan, study: &Study) -> Vec<Place> {
    let new: Vec<&Hole> = study.holes.holes.iter().filter(|hole| hole.state == HoleState::New).collect();
    let mut owners: Vec<GearId> = new.iter().filter_map(|hole| hole.owner).collect();
    owners.dedup();
    let group = |owner: GearId| {
        let own: Vec<&&Hole> = new.iter().filter(|hole| hole.owner == Some(owner)).collect();
        let shown = |x: f64| own.iter().filter(|hole| meets(x, hole.at, hole.bore_mm)).count();
        // Of stations that show as many the first: `max_by_key` would take the last.
        let x_mm = own.iter().rev().map(|hole| hole.at.x).max_by_key(|x| shown(*x))?;
        Some((own.len(), Place { x_mm, what: format!("holes of {}", plan.gear(owner)?.label) }))
    };
    let mut found: Vec<(usize, Place)> = owners.into_iter().filter_map(group).collect();
    found.sort_by_key(|(count, _)| std::cmp::Reverse(*count));
    found.into_iter().map(|(_, place)| place).collect()
}

/// The station with the widest deck.
fn widest(study: &Study) -> Option<Place> {
    let sections = &study.shape.form().sections;
    let at = sections.iter().max_by(|a, b| a.gunwale().0.total_cmp(&b.gunwale().0))?;
    Some(Place { x_mm: at.x_mm, what: "widest place".into() })
}
