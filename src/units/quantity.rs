//! The quantity types and the products between them.

use std::fmt;

use serde::de::{self, EnumAccess, VariantAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// What every quantity can do: give its value in the base unit and be made from it.
///
/// Code that works for any quantity (spreads, forms, range checks) is written against this trait.
pub trait Quantity: Copy + PartialEq + fmt::Debug {
    /// Symbol of the base unit as shown to a person: `mm`, `kg`, `A`.
    const BASE: &'static str;
    /// The value in the base unit.
    fn base(self) -> f64;
    /// A quantity written in the base unit.
    fn from_base(value: f64) -> Self;
    /// The same quantity scaled, still written in its own unit.
    #[must_use]
    fn scaled(self, factor: f64) -> Self;
    /// Whether the written number is finite.
    fn is_finite(self) -> bool {
        self.base().is_finite()
    }
}

/// Declares one quantity: its base unit and the units it may be written in.
///
/// File form: an enum variant named after the unit, `Mm(310)` in RON and `{"Mm":310}` in JSON.
macro_rules! quantity {
    (
        $(#[$doc:meta])*
        $name:ident, $unit:ident, $base:literal, [
            $( $tag:ident $ctor:ident $reader:ident $factor:expr ; $offset:expr ),+ $(,)?
        ]
    ) => {
        $(#[$doc])*
        #[derive(Clone, Copy, PartialEq)]
        pub struct $name { written: f64, unit: $unit }

        #[derive(Clone, Copy, PartialEq, Eq, Debug)]
        enum $unit { $($tag),+ }

        impl $name {
            $(
                #[doc = concat!("A quantity written in ", stringify!($tag), ".")]
                pub const fn $ctor(value: f64) -> Self {
                    Self { written: value, unit: $unit::$tag }
                }

                #[doc = concat!("Its value in ", stringify!($tag), ".")]
                pub fn $reader(self) -> f64 {
                    if self.unit == $unit::$tag { return self.written; }
                    (self.base() - $offset) / $factor
                }
            )+

            /// The unit it was written in, as in the file: `Mm`, `In`.
            pub fn unit_tag(self) -> &'static str {
                match self.unit { $($unit::$tag => stringify!($tag)),+ }
            }

            /// The number as written, in the unit of [`Self::unit_tag`].
            pub const fn written(self) -> f64 { self.written }
        }

        impl Quantity for $name {
            const BASE: &'static str = $base;
            fn base(self) -> f64 {
                match self.unit { $($unit::$tag => self.written * $factor + $offset),+ }
            }
            #[allow(unreachable_code, unused_assignments, reason = "the first unit listed is the base unit")]
            fn from_base(value: f64) -> Self {
                $( return Self { written: value, unit: $unit::$tag }; )+
            }
            fn scaled(self, factor: f64) -> Self {
                Self { written: self.written * factor, unit: self.unit }
            }
        }

        impl fmt::Debug for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "{}({})", self.unit_tag(), self.written)
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
                let (index, tag) = (self.unit as u32, self.unit_tag());
                // A whole number is written as the tape says it: Mm(310), not Mm(310.0).
                if self.written.fract() == 0.0 && self.written.abs() < 1e15 {
                    out.serialize_newtype_variant(stringify!($name), index, tag, &(self.written as i64))
                } else {
                    out.serialize_newtype_variant(stringify!($name), index, tag, &self.written)
                }
            }
        }

        impl<'de> Deserialize<'de> for $name {
            fn deserialize<D: Deserializer<'de>>(input: D) -> Result<Self, D::Error> {
                const TAGS: &[&str] = &[$(stringify!($tag)),+];
                #[derive(Deserialize)]
                enum Tag { $($tag),+ }
                struct Read;
                impl<'de> Visitor<'de> for Read {
                    type Value = $name;
                    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                        write!(f, "a {} with its unit, one of {}", stringify!($name), TAGS.join(", "))
                    }
                    fn visit_enum<A: EnumAccess<'de>>(self, data: A) -> Result<$name, A::Error> {
                        let (tag, variant) = data.variant::<Tag>()?;
                        let written: f64 = variant.newtype_variant()?;
                        if !written.is_finite() {
                            return Err(de::Error::custom(concat!(stringify!($name), " must be a finite number")));
                        }
                        Ok($name { written, unit: match tag { $(Tag::$tag => $unit::$tag),+ } })
                    }
                }
                input.deserialize_enum(stringify!($name), TAGS, Read)
            }
        }
    };
}

quantity! {
    /// A length. Base unit millimetre.
    Length, LengthUnit, "mm", [
        Mm mm to_mm 1.0; 0.0, Cm cm to_cm 10.0; 0.0, M m to_m 1000.0; 0.0,
        In inches to_inches 25.4; 0.0, Ft feet to_feet 304.8; 0.0,
    ]
}
quantity! {
    /// The intensity of a light in a direction. Base unit candela.
    Intensity, IntensityUnit, "cd", [ Cd candelas to_candelas 1.0; 0.0 ]
}
quantity! {
    /// A mass. Base unit kilogram.
    Mass, MassUnit, "kg", [ Kg kg to_kg 1.0; 0.0, G grams to_grams 0.001; 0.0, Lb pounds to_pounds 0.453_592_37; 0.0, Oz ounces to_ounces 0.028_349_523_125; 0.0 ]
}
quantity! {
    /// An electric current. Base unit ampere.
    Current, CurrentUnit, "A", [ A amps to_amps 1.0; 0.0, MA milliamps to_milliamps 0.001; 0.0 ]
}
quantity! {
    /// An electric charge, as batteries are sold. Base unit ampere-hour.
    Charge, ChargeUnit, "Ah", [ Ah amp_hours to_amp_hours 1.0; 0.0 ]
}
quantity! {
    /// A voltage. Base unit volt.
    Voltage, VoltageUnit, "V", [ V volts to_volts 1.0; 0.0 ]
}
quantity! {
    /// An electric resistance. Base unit ohm.
    Resistance, ResistanceUnit, "ohm", [ Ohm ohms to_ohms 1.0; 0.0, MilliOhm milliohms to_milliohms 0.001; 0.0 ]
}
quantity! {
    /// A power. Base unit watt.
    Power, PowerUnit, "W", [ W watts to_watts 1.0; 0.0 ]
}
quantity! {
    /// An energy. Base unit watt-hour.
    Energy, EnergyUnit, "Wh", [ Wh watt_hours to_watt_hours 1.0; 0.0 ]
}
quantity! {
    /// A stretch of time. Base unit hour.
    Duration, DurationUnit, "h", [ H hours to_hours 1.0; 0.0, Min minutes to_minutes 1.0 / 60.0; 0.0 ]
}
quantity! {
    /// A temperature. Base unit degree Celsius.
    Temperature, TemperatureUnit, "C", [ C celsius to_celsius 1.0; 0.0, F fahrenheit to_fahrenheit 5.0 / 9.0; -160.0 / 9.0 ]
}
quantity! {
    /// An angle. Base unit degree.
    Angle, AngleUnit, "deg", [ Deg deg to_deg 1.0; 0.0 ]
}
quantity! {
    /// An area. Base unit square millimetre.
    Area, AreaUnit, "mm2", [ Mm2 mm2 to_mm2 1.0; 0.0, M2 m2 to_m2 1_000_000.0; 0.0 ]
}
quantity! {
    /// A moment of mass about a point. Base unit kilogram-metre.
    Moment, MomentUnit, "kg m", [ KgM kg_m to_kg_m 1.0; 0.0 ]
}

/// Adds sums and differences, written in the base unit.
macro_rules! sums {
    ($($name:ident),+) => { $(
        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self { Self::from_base(self.base() + other.base()) }
        }
        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self { Self::from_base(self.base() - other.base()) }
        }
        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(items: I) -> Self { items.fold(Self::from_base(0.0), |a, b| a + b) }
        }
        impl Default for $name { fn default() -> Self { Self::from_base(0.0) } }
    )+ };
}
sums!(Length, Mass, Current, Charge, Power, Energy, Duration, Moment, Area);

/// Adds one product and nothing else.
macro_rules! product {
    ($left:ident * $right:ident = $result:ident, $factor:expr) => {
        impl std::ops::Mul<$right> for $left {
            type Output = $result;
            fn mul(self, other: $right) -> $result {
                $result::from_base(self.base() * other.base() * $factor)
            }
        }
    };
}
product!(Current * Duration = Charge, 1.0);
product!(Charge * Voltage = Energy, 1.0);
product!(Current * Voltage = Power, 1.0);
product!(Current * Resistance = Voltage, 1.0);
product!(Power * Duration = Energy, 1.0);
product!(Mass * Length = Moment, 0.001);
product!(Length * Length = Area, 1.0);

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_was_written_is_what_is_saved_back() {
        for text in ["Mm(310)", "In(12.25)", "Ft(12)", "M(3.66)"] {
            let read: Length = ron::from_str(text).unwrap();
            assert_eq!(ron::to_string(&read).unwrap(), text);
        }
        assert_eq!(serde_json::to_string(&Length::inches(12.25)).unwrap(), r#"{"In":12.25}"#);
        assert_eq!(serde_json::from_str::<Length>(r#"{"In":12.25}"#).unwrap(), Length::inches(12.25));
    }

    #[test]
    fn conversions_are_the_defined_ones() {
        // International inch and avoirdupois pound (1959 agreement): exact by definition.
        assert_eq!(Length::inches(12.25).to_mm(), 311.15);
        assert_eq!(Mass::pounds(1.0).to_kg(), 0.453_592_37);
        assert!((Temperature::fahrenheit(43.0).to_celsius() - 6.111).abs() < 1e-3);
        assert_eq!(Temperature::celsius(100.0).to_fahrenheit().round(), 212.0);
    }

    #[test]
    fn a_number_without_a_unit_or_not_finite_is_refused() {
        for text in ["310", "Furlong(2)", "Mm(NaN)", "Mm(inf)", "Mm(1e999)"] {
            assert!(ron::from_str::<Length>(text).is_err(), "{text} was accepted");
        }
    }

    #[test]
    fn products_that_mean_something() {
        assert_eq!(Current::amps(1.14) * Duration::hours(1.0), Charge::amp_hours(1.14));
        assert_eq!(Charge::amp_hours(50.0) * Voltage::volts(12.8), Energy::watt_hours(640.0));
        assert_eq!((Current::amps(40.0) * Resistance::milliohms(20.0)).to_volts(), 0.8);
        assert_eq!(Mass::kg(12.0) * Length::m(1.1), Moment::kg_m(13.200_000_000_000_001));
    }

    proptest! {
        #[test]
        fn any_finite_length_survives_the_file(value in -1e6_f64..1e6, inches: bool) {
            let length = if inches { Length::inches(value) } else { Length::mm(value) };
            let text = ron::to_string(&length).unwrap();
            prop_assert_eq!(ron::from_str::<Length>(&text).unwrap(), length);
        }
    }
}
