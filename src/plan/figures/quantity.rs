//! A quantity of any kind, and whether it may stand for a figure.

use serde::{Deserialize, Serialize};

use super::FigureRef;
use crate::units::{Charge, Current, Length, Mass, Price, Quantity, Resistance, Voltage};

/// A quantity of any kind, as it travels through a form or an edit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum AnyQuantity {
    /// A length.
    Length(Length),
    /// A mass.
    Mass(Mass),
    /// A current.
    Current(Current),
    /// A charge.
    Charge(Charge),
    /// A voltage.
    Voltage(Voltage),
    /// A resistance.
    Resistance(Resistance),
    /// A share, percent.
    Percent(f64),
    /// A price.
    Price(Price),
}

impl AnyQuantity {
    /// The value in its base unit.
    pub fn base(self) -> f64 {
        match self {
            Self::Length(q) => q.base(),
            Self::Mass(q) => q.base(),
            Self::Current(q) => q.base(),
            Self::Charge(q) => q.base(),
            Self::Voltage(q) => q.base(),
            Self::Resistance(q) => q.base(),
            Self::Percent(share) => share,
            Self::Price(price) => price.amount(),
        }
    }

    /// The same kind of quantity with another value in the base unit.
    #[must_use]
    pub fn with_base(self, value: f64) -> Self {
        match self {
            Self::Length(_) => Self::Length(Length::from_base(value)),
            Self::Mass(_) => Self::Mass(Mass::from_base(value)),
            Self::Current(_) => Self::Current(Current::from_base(value)),
            Self::Charge(_) => Self::Charge(Charge::from_base(value)),
            Self::Voltage(_) => Self::Voltage(Voltage::from_base(value)),
            Self::Resistance(_) => Self::Resistance(Resistance::from_base(value)),
            Self::Percent(_) => Self::Percent(value),
            // What is no price stays the one it was.
            Self::Price(price) => Self::Price(Price::new(value).unwrap_or(price)),
        }
    }

    /// Symbol of the base unit.
    pub fn unit(self) -> &'static str {
        match self {
            Self::Length(_) => Length::BASE,
            Self::Mass(_) => Mass::BASE,
            Self::Current(_) => Current::BASE,
            Self::Charge(_) => Charge::BASE,
            Self::Voltage(_) => Voltage::BASE,
            Self::Resistance(_) => Resistance::BASE,
            Self::Percent(_) => "percent",
            Self::Price(_) => "in your currency",
        }
    }

    fn same_kind(self, other: Self) -> bool {
        std::mem::discriminant(&self) == std::mem::discriminant(&other)
    }
    /// Whether a value may stand for the figure: right kind, finite, in range.
    pub fn fits(self, figure: FigureRef) -> Result<(), String> {
        if !self.same_kind(figure.kind()) {
            return Err(format!("{} is not given in {}", figure.label(), self.unit()));
        }
        let (least, most) = figure.range();
        let value = self.base();
        if !value.is_finite() || value < least || value > most {
            return Err(format!("{} must be between {least} and {most} {}", figure.label(), self.unit()));
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_of_another_kind_or_out_of_range_does_not_fit() {
        assert!(AnyQuantity::Mass(Mass::kg(45.0)).fits(FigureRef::HullMass).is_ok());
        assert!(AnyQuantity::Length(Length::mm(45.0)).fits(FigureRef::HullMass).is_err());
        assert!(AnyQuantity::Mass(Mass::kg(4000.0)).fits(FigureRef::HullMass).is_err());
        assert!(AnyQuantity::Mass(Mass::kg(f64::NAN)).fits(FigureRef::HullMass).is_err());
    }
}
