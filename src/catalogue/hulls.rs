//! The hull classes, and the plan that a person starts from one of them.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::shipped;
use crate::plan::{Angler, FORMAT, Hull, Key, MeasuredBody, Name, Note, Outing, Plan, Seat, SeatHeight, Side, Wiring};
use crate::units::{Angle, Figure, Length, Mass, Quantity};

/// A class of hulls: a bare boat of usual figures, complete enough to rig.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HullClass {
    /// One line for a list, beside the name: size, seat, waters.
    pub about: Name,
    /// The boat.
    pub hull: Hull,
}

impl HullClass {
    /// Its key: `angler-10`.
    pub fn key(&self) -> &Key {
        &self.hull.class
    }
}

/// The hull classes, small to large.
pub fn hulls() -> &'static [HullClass] {
    shipped::hulls()
}

/// The hull class with this key.
pub fn hull(key: &str) -> Option<&'static HullClass> {
    hulls().iter().find(|class| class.key().as_str() == key)
}

/// A new plan on a hull of this class, nothing aboard; `None` for an unknown class.
///
/// The person is 85 kg as dressed and 1.75 m tall, right-handed, a quarter of the way up the seat's rails, where
/// the bare classes lie level, low setting: guesses to be replaced (common practice, no source).
pub fn new_plan(hull_key: &str) -> Option<Plan> {
    Some(plan_on(&hull(hull_key)?.hull))
}

/// A new plan on this hull, nothing aboard, with the same guessed person.
pub fn plan_on(hull: &Hull) -> Plan {
    let rails = &hull.seat;
    let settings = ((rails.back_fore - rails.back_aft).to_mm() / rails.step.to_mm()).floor();
    let back = rails.back_aft + rails.step.scaled((settings / 4.0).round());
    let angler = Angler {
        mass: Figure::guess(Mass::kg(85.0)),
        stature: Figure::guess(Length::mm(1750.0)),
        measured: MeasuredBody::default(),
        hand: Side::Starboard,
        landing: Side::Starboard,
        reentry: Side::Port,
        seat: Seat { back, height: SeatHeight::Low, recline: Angle::deg(10.0) },
    };
    Plan {
        format: FORMAT,
        name: starting_name(),
        notes: Note::default(),
        hull: Arc::new(hull.clone()),
        angler,
        gear: Vec::new(),
        wiring: Wiring::default(),
        outing: Outing::default(),
        penetrations: Vec::new(),
        work: Default::default(),
        readings: Vec::new(),
        revisions: Vec::new(),
        threads: Vec::new(),
        limits: Vec::new(),
    }
}

#[allow(clippy::expect_used, reason = "a constant of this file; a test builds it")]
fn starting_name() -> Name {
    Name::new("new plan").expect("a constant name")
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use super::*;

    #[test]
    fn a_new_plan_on_each_class_passes_the_door() {
        for class in hulls() {
            let plan = new_plan(class.key().as_str()).unwrap();
            assert_eq!(plan.validate(), Ok(()), "{}", class.key());
            assert_eq!(*plan.hull, class.hull);
        }
    }

    #[test]
    fn the_seat_starts_on_a_setting_a_quarter_up_its_rails() {
        for class in hulls() {
            let (rails, seat) = (&class.hull.seat, new_plan(class.key().as_str()).unwrap().angler.seat);
            let quarter = rails.back_aft.to_mm() + (rails.back_fore - rails.back_aft).to_mm() / 4.0;
            assert!((seat.back.to_mm() - quarter).abs() <= rails.step.to_mm(), "{}", class.key());
            assert_eq!((seat.back - rails.back_aft).to_mm() % rails.step.to_mm(), 0.0, "{}", class.key());
        }
    }

    #[test]
    fn an_unknown_class_is_none() {
        assert_eq!(new_plan("raft"), None);
    }
}
