//! Quantities: a number that never travels without its unit.
//!
//! Each quantity remembers the unit it was written in, so that `In(12.25)` in a plan file is saved
//! back as `In(12.25)` and not as 311.15 mm. Arithmetic goes through one base unit a quantity
//! (millimetre, kilogram, ampere, ...), and only products that mean something exist.

mod figure;
mod price;
mod quantity;
mod text;
mod typed;

pub use figure::{Figure, Origin};
pub use price::{Price, PriceFault};
pub use quantity::{
    Angle, Area, Charge, Current, Duration, Energy, Intensity, Length, Mass, Moment, Power, Quantity, Resistance,
    Temperature, Voltage,
};
pub use text::{Measure, Tape, amount, fraction_of_inch};
pub use typed::{TypedError, length_from_text, number_from_text};
