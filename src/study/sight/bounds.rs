//! How far, how slantwise and how small a screen may be, and what speaks against a view.

use super::View;
use crate::plan::Plan;
use crate::study::chosen;

/// Furthest that a screen of 7 inches is read from, mm. Common practice, no source.
pub const SEVEN_MM: f64 = 700.0;
/// The same of 9 and 10 inches, mm. Common practice, no source.
pub const TEN_MM: f64 = 850.0;
/// The same of 12 inches, mm. Common practice, no source.
pub const TWELVE_MM: f64 = 1000.0;
/// Angle off the straight way out of the glass, degrees. Common practice, no source; NUREG-0700 bears 45.
pub const GLASS_DEG: f64 = 35.0;
/// Turn of the head, degrees. MIL-STD-1472 and ISO 11226, both from memory.
pub const TURN_DEG: f64 = 60.0;
/// Least height of a character, minutes of arc. NUREG-0700.
pub const TEXT_ARCMIN: f64 = 16.0;
/// Share of the glass that may be hidden, percent. Common practice, no source.
pub const HIDDEN_PERCENT: f64 = 0.0;

/// The limits of sight in force for a plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    seven_mm: f64,
    ten_mm: f64,
    twelve_mm: f64,
    /// Angle off the straight way out of the glass, degrees.
    pub glass_deg: f64,
    /// Turn of the head, degrees.
    pub turn_deg: f64,
    /// Least height of a character, minutes of arc.
    pub text_arcmin: f64,
    /// Share of the glass that may be hidden, percent.
    pub hidden_percent: f64,
}

/// What speaks against a view.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fault {
    /// Further than its size is read from.
    Far,
    /// The head turns too far.
    Turned,
    /// The glass is seen too much from the side.
    Slanted,
    /// Something stands in the way.
    Blocked,
    /// Its letters are too small.
    Small,
}

impl Fault {
    /// The words on the screen and in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::Far => "too far",
            Self::Turned => "head turned too far",
            Self::Slanted => "glass seen slantwise",
            Self::Blocked => "hidden",
            Self::Small => "letters too small",
        }
    }
}

impl Bounds {
    /// The limits of a plan.
    pub(super) fn of(plan: &Plan) -> Self {
        Self {
            seven_mm: chosen(plan, "sight-far.seven", SEVEN_MM),
            ten_mm: chosen(plan, "sight-far.ten", TEN_MM),
            twelve_mm: chosen(plan, "sight-far.twelve", TWELVE_MM),
            glass_deg: chosen(plan, "sight-angle.glass", GLASS_DEG),
            turn_deg: chosen(plan, "sight-angle.turn", TURN_DEG),
            text_arcmin: chosen(plan, "text-small.least", TEXT_ARCMIN),
            hidden_percent: chosen(plan, "sight-blocked.share", HIDDEN_PERCENT),
        }
    }

    /// The furthest a screen of this diagonal is read from, mm: straight between the three sizes, smaller and larger
    /// ones as the nearest of them.
    pub fn furthest_mm(&self, inches: f64) -> f64 {
        let between = |from: f64, to: f64, share: f64| from + (to - from) * share.clamp(0.0, 1.0);
        if inches < 10.0 {
            between(self.seven_mm, self.ten_mm, (inches - 7.0) / 2.0)
        } else {
            between(self.ten_mm, self.twelve_mm, (inches - 10.0) / 2.0)
        }
    }

    /// What speaks against a view of a screen of this diagonal, or of gear without one.
    pub(super) fn faults(&self, view: &View, inches: Option<f64>) -> Vec<Fault> {
        let beyond = |value: Option<f64>, limit: f64| value.is_some_and(|value| value > limit);
        let judged = [
            (Fault::Far, inches.is_some_and(|inches| view.look.distance_mm > self.furthest_mm(inches))),
            (Fault::Turned, view.look.turn_deg.abs() > self.turn_deg),
            (Fault::Slanted, beyond(view.glass_deg, self.glass_deg)),
            (Fault::Blocked, view.hidden_percent > self.hidden_percent),
            (Fault::Small, view.text_arcmin.is_some_and(|text| text < self.text_arcmin)),
        ];
        judged.into_iter().filter(|(_, is)| *is).map(|(fault, _)| fault).collect()
    }
}
