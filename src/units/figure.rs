//! A figure: a quantity that knows where it comes from and how far it may be off.

use serde::{Deserialize, Serialize};

use super::Quantity;

/// Where a figure comes from. The order is the order of trust.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, Default)]
pub enum Origin {
    /// Somebody's estimate.
    #[default]
    Guess,
    /// The shipped or own catalogue, a maker's sheet, a hull class.
    Catalogue,
    /// Taken from the thing itself: tape, scale, meter, seat test.
    Measured,
}

impl Origin {
    /// The word on the screen.
    pub fn word(self) -> &'static str {
        match self {
            Self::Guess => "guess",
            Self::Catalogue => "catalogue",
            Self::Measured => "measured",
        }
    }

    /// Relative standard deviation assumed when a figure states no spread of its own.
    ///
    /// Source: common practice, no source (catalogue masses leave out brackets and cables, 10 %;
    /// a guess is good to a quarter; a tape or scale to 1 %).
    pub fn usual_spread(self) -> f64 {
        match self {
            Self::Guess => 0.25,
            Self::Catalogue => 0.10,
            Self::Measured => 0.01,
        }
    }
}

/// A quantity with its origin, its spread, and the value it replaced.
///
/// A measurement replaces a catalogue value without losing it: [`Figure::measured_over`] keeps the
/// old value in `was`, and [`Figure::forget`] brings it back.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[serde(bound(serialize = "Q: Serialize", deserialize = "Q: Deserialize<'de>"))]
pub struct Figure<Q> {
    /// The value in use.
    pub value: Q,
    /// Where it comes from.
    #[serde(default)]
    pub origin: Origin,
    /// One standard deviation, when known better than [`Origin::usual_spread`].
    #[serde(default = "none", skip_serializing_if = "Option::is_none")]
    pub spread: Option<Q>,
    /// The guess or catalogue value that a measurement replaced.
    #[serde(default = "none", skip_serializing_if = "Option::is_none")]
    pub was: Option<Q>,
}

fn none<Q>() -> Option<Q> {
    None
}

impl<Q: Quantity> Figure<Q> {
    /// An estimate.
    pub fn guess(value: Q) -> Self {
        Self { value, origin: Origin::Guess, spread: None, was: None }
    }

    /// A figure from a catalogue or a maker's sheet.
    pub fn catalogue(value: Q) -> Self {
        Self { value, origin: Origin::Catalogue, spread: None, was: None }
    }

    /// A figure taken from the thing itself.
    pub fn measured(value: Q) -> Self {
        Self { value, origin: Origin::Measured, spread: None, was: None }
    }

    /// The same figure after a measurement; the value it replaces is kept in `was`.
    #[must_use]
    pub fn measured_over(self, value: Q) -> Self {
        let was = if self.origin == Origin::Measured { self.was } else { Some(self.value) };
        Self { value, origin: Origin::Measured, spread: None, was }
    }

    /// The figure without its measurement: the value before it, if one is known.
    #[must_use]
    pub fn forget(self) -> Self {
        match self.was {
            Some(value) => Self { value, origin: Origin::Catalogue, spread: None, was: None },
            None => self,
        }
    }

    /// One standard deviation in the base unit: stated, or the usual one for the origin.
    pub fn spread_base(&self) -> f64 {
        self.spread.map_or_else(|| self.value.base().abs() * self.origin.usual_spread(), |spread| spread.base().abs())
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use super::*;
    use crate::units::{Current, Mass};

    #[test]
    fn a_measurement_keeps_what_it_replaced() {
        let catalogue = Figure::catalogue(Current::amps(1.4));
        let once = catalogue.measured_over(Current::amps(1.14));
        let twice = once.measured_over(Current::amps(1.2));
        assert_eq!(twice.was, Some(Current::amps(1.4)));
        assert_eq!(twice.forget(), catalogue);
    }

    #[test]
    fn spread_is_stated_or_usual() {
        assert!((Figure::guess(Mass::kg(4.0)).spread_base() - 1.0).abs() < 1e-12);
        let stated = Figure { spread: Some(Mass::kg(0.05)), ..Figure::measured(Mass::kg(4.0)) };
        assert_eq!(stated.spread_base(), 0.05);
    }

    #[test]
    fn file_form_is_short_when_little_is_known() {
        let figure = Figure::catalogue(Mass::kg(1.5));
        let text = ron::to_string(&figure).unwrap();
        assert_eq!(text, "(value:Kg(1.5),origin:Catalogue)");
        assert_eq!(ron::from_str::<Figure<Mass>>(&text).unwrap(), figure);
    }
}
