//! Where a pinned thing is on the boat of today: it follows what it is pinned to, and stays as a mark when that is gone.

use super::entries::Pin;
use crate::geometry::Spot;
use crate::plan::parts::PartKey;
use crate::plan::{Anchor, Name, Plan};

/// Where a pinned thing is.
#[derive(Clone, Debug, PartialEq)]
pub enum Whereabouts {
    /// It is about no place: the plan as a whole, a check, gear that is ashore.
    Nowhere,
    /// It is here, mm.
    At(Spot),
    /// What it was pinned to is gone; it was here, if anywhere, mm.
    Gone(Option<Spot>),
}

impl Whereabouts {
    /// The spot to mark, if any.
    pub fn spot(&self) -> Option<Spot> {
        match self {
            Self::At(spot) => Some(*spot),
            Self::Gone(spot) => *spot,
            Self::Nowhere => None,
        }
    }
}

/// Where what a thread is pinned to is now.
pub fn whereabouts(plan: &Plan, pin: &Pin) -> Whereabouts {
    match spot(plan, &pin.anchor) {
        Some(Some(spot)) => Whereabouts::At(spot),
        Some(None) => Whereabouts::Nowhere,
        None => Whereabouts::Gone(pin.spot),
    }
}

/// A pin to something of the plan; `None` when the plan has no such thing.
pub fn pin(plan: &Plan, anchor: &Anchor) -> Option<Pin> {
    let spot = spot(plan, anchor)?;
    let named = |key: PartKey| crate::compare::name_of(plan, &key);
    let called = match anchor {
        Anchor::Plan => "the plan".into(),
        Anchor::Gear(id) => named(PartKey::Gear(*id))?,
        Anchor::Hole(id) => named(PartKey::Hole(*id))?,
        Anchor::Cable(id) => named(PartKey::Cable(*id))?,
        Anchor::Check(check) => check.clone(),
        Anchor::Spot(_) => "a spot".into(),
    };
    // Two labels joined may be longer than a name.
    let called: String = called.chars().take(80).collect();
    Some(Pin { anchor: anchor.clone(), called: Name::new(called).ok()?, spot })
}

/// The spot of something of the plan, `None` inside when it has none; `None` outside when it is not there.
#[allow(clippy::option_option, reason = "gone and without a place are two answers")]
fn spot(plan: &Plan, anchor: &Anchor) -> Option<Option<Spot>> {
    match anchor {
        Anchor::Plan | Anchor::Check(_) => Some(None),
        Anchor::Gear(id) => plan.gear(*id).map(|gear| gear.place.map(|place| place.spot())),
        Anchor::Hole(id) => plan.penetration(*id).map(|hole| Some(hole.spot())),
        Anchor::Cable(id) => {
            let cable = plan.wiring.cables.iter().find(|cable| cable.id == *id)?;
            Some(plan.gear(cable.from).and_then(|gear| gear.place).map(|place| place.spot()))
        }
        Anchor::Spot(spot) => Some(Some(*spot)),
    }
}
