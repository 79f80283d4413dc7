//! What something costs, in the person's own currency, kept to the hundredth.

use std::fmt;

use serde::{Deserialize, Serialize};

/// A price: a plain number with at most two decimals, `129.90`. No currency: it is the person's own.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct Price {
    hundredths: u64,
}

/// Why a number is no price.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PriceFault;

impl fmt::Display for PriceFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "from 0 to {:.0}, at most two decimals", Price::MOST)
    }
}

impl Price {
    /// The greatest price of one part. Common practice, no source: no part of a small boat costs as much.
    pub const MOST: f64 = 1.0e6;

    /// A price as written.
    ///
    /// # Errors
    /// What is not finite, below zero, above [`Self::MOST`], or has more than two decimals.
    pub fn new(amount: f64) -> Result<Self, PriceFault> {
        if !(0.0..=Self::MOST).contains(&amount) {
            return Err(PriceFault);
        }
        let hundredths = (amount * 100.0).round();
        // The nearest double to a number with two decimals is that number of hundredths over a hundred.
        if hundredths / 100.0 == amount { Ok(Self { hundredths: hundredths as u64 }) } else { Err(PriceFault) }
    }

    /// The amount.
    pub fn amount(self) -> f64 {
        self.hundredths as f64 / 100.0
    }
}

impl std::iter::Sum for Price {
    fn sum<I: Iterator<Item = Self>>(prices: I) -> Self {
        Self { hundredths: prices.fold(0, |sum, price| sum.saturating_add(price.hundredths)) }
    }
}

impl fmt::Display for Price {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}.{:02}", self.hundredths / 100, self.hundredths % 100)
    }
}

impl TryFrom<f64> for Price {
    type Error = PriceFault;
    fn try_from(amount: f64) -> Result<Self, PriceFault> {
        Self::new(amount)
    }
}

impl From<Price> for f64 {
    fn from(price: Price) -> Self {
        price.amount()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sums of doubles would say 0.30000000000000004; every hundredth up to a thousand is kept as it is written.
    #[test]
    fn hundredths_are_kept_and_summed_exactly() {
        let price = |amount| Price::new(amount).expect("a price");
        assert_eq!([0.1, 0.2].map(price).into_iter().sum::<Price>(), price(0.3));
        assert_eq!(price(129.9).to_string(), "129.90");
        for hundredths in 0..100_000_u32 {
            let text = format!("{}.{:02}", hundredths / 100, hundredths % 100);
            let read = text.parse().map(Price::new).expect("a number").expect("a price");
            assert_eq!((read.to_string(), read.amount().to_string().parse()), (text, Ok(read.amount())));
        }
    }

    #[test]
    fn what_is_no_price_is_refused() {
        for amount in [f64::NAN, f64::INFINITY, -0.01, 1.0e6 + 0.01, 1.0e300, 1.005, 0.001] {
            assert_eq!(Price::new(amount), Err(PriceFault), "{amount}");
        }
        assert!(Price::new(1.0e6).is_ok() && Price::new(-0.0).is_ok());
    }
}
