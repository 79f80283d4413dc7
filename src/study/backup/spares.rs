//! The spares to carry: fuses by rating, cells, bulbs, shear pins.

use super::{fuse_words, is_navigation_light};
use crate::plan::{Control, Gear, GearId, Kind, Plan};
use crate::study::chosen;
use crate::study::wiring::Wiring;
use crate::units::{Current, Quantity};

/// How many spares of a sort are carried, where as many are fitted. Common practice, no source.
pub const EACH: f64 = 2.0;

/// Spares of one sort.
#[derive(Clone, Debug, PartialEq)]
pub struct Spare {
    /// What it is.
    pub sort: Sort,
    /// How many are fitted.
    pub fitted: usize,
    /// How many to carry.
    pub count: usize,
    /// The gear it is for; none for fuses.
    pub gear: Vec<GearId>,
}

/// What a spare is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sort {
    /// A fuse of this rating.
    Fuse(Current),
    /// The cells of one light, radio or remote: a set for each.
    Cells,
    /// A bulb of a navigation light, or the lamp where it cannot be opened.
    Bulb,
    /// The pin that gives way when a propeller strikes.
    ShearPin,
}

impl Spare {
    /// `2 fuses of 3 A`, `1 shear pin`.
    pub fn words(&self) -> String {
        let (one, many, size) = match self.sort {
            Sort::Fuse(rating) => ("fuse", "fuses", format!(" of {}", fuse_words(rating))),
            Sort::Cells => ("set of cells", "sets of cells", String::new()),
            Sort::Bulb => ("bulb", "bulbs", String::new()),
            Sort::ShearPin => ("shear pin", "shear pins", String::new()),
        };
        format!("{} {}{size}", self.count, if self.count == 1 { one } else { many })
    }
}

/// What to carry for what is placed and wired: as many of a sort as are fitted, up to a limit; cells for all that runs
/// on them, as no two need be alike.
pub(super) fn spares(plan: &Plan, wiring: &Wiring) -> Vec<Spare> {
    let each = chosen(plan, "spares.each", EACH).max(1.0);
    let few = |fitted: usize| (1..=fitted).rev().find(|count| *count as f64 <= each).unwrap_or(0);
    let of = |sort: Sort, is: fn(&Gear) -> bool| {
        let gear: Vec<GearId> =
            plan.gear.iter().filter(|gear| gear.is_placed() && is(gear)).map(|gear| gear.id).collect();
        let count = if sort == Sort::Cells { gear.len() } else { few(gear.len()) };
        Spare { sort, fitted: gear.len(), count, gear }
    };
    let fuses = fuses(plan, wiring).into_iter().map(|(rating, fitted)| Spare {
        sort: Sort::Fuse(rating),
        fitted,
        count: few(fitted),
        gear: Vec::new(),
    });
    let others = [of(Sort::Cells, has_cells), of(Sort::Bulb, is_navigation_light), of(Sort::ShearPin, is_motor)];
    fuses.chain(others).filter(|spare| spare.count > 0).collect()
}

/// The ratings of the fuses in use, small ones first, and how many there are of each.
fn fuses(plan: &Plan, wiring: &Wiring) -> Vec<(Current, usize)> {
    let in_use = wiring.circuits.iter().filter(|wire| wire.in_use);
    let circuits = in_use.filter_map(|wire| plan.wiring.circuit(wire.circuit)?.fuse);
    let mains = wiring.mains.iter().filter_map(|main| plan.wiring.main_of(main.battery));
    let mains = mains.filter(|main| !main.breaker).filter_map(|main| main.fuse);
    let mut ratings: Vec<Current> = circuits.chain(mains).collect();
    ratings.sort_by(|a, b| a.base().total_cmp(&b.base()));
    ratings.chunk_by(|a, b| a.base() == b.base()).filter_map(|same| Some((*same.first()?, same.len()))).collect()
}

fn has_cells(gear: &Gear) -> bool {
    let handheld = gear.spec.kind == Kind::Radio && gear.spec.electric.is_none();
    let light = gear.spec.light.is_some_and(|light| light.own_cells);
    handheld || light || gear.spec.control == Some(Control::Remote)
}

fn is_motor(gear: &Gear) -> bool {
    gear.spec.kind == Kind::Motor
}
