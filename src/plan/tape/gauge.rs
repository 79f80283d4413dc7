//! One thing measured: the readings as typed, and the guess they replace.

use std::fmt;

use serde::de::value::{MapAccessDeserializer, SeqAccessDeserializer};
use serde::de::{MapAccess, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::units::{Figure, Length, Quantity};

/// One standard deviation of a single tape reading, mm.
///
/// Source: common practice, no source: a tape on a moulded hull reads to half a centimetre.
pub const MEASURED_SPREAD_MM: f64 = 5.0;

/// The readings of one measurement, and what was guessed before.
///
/// File form: `[In(33.25), Mm(846)]`, with a guess `(taken: [In(33.25)], guess: Mm(840))`.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Gauge {
    /// What the tape said, each time it was laid on.
    pub taken: Vec<Length>,
    /// What a class or a person guessed.
    pub guess: Option<Length>,
}

impl Gauge {
    /// One reading.
    pub fn measured(reading: Length) -> Self {
        Self { taken: vec![reading], guess: None }
    }

    /// A guess.
    pub fn guessed(guess: Length) -> Self {
        Self { taken: Vec::new(), guess: Some(guess) }
    }

    /// Whether nothing is known.
    pub fn is_empty(&self) -> bool {
        self.taken.is_empty() && self.guess.is_none()
    }

    /// Whether it was measured.
    pub fn is_measured(&self) -> bool {
        !self.taken.is_empty()
    }

    /// The figure to use: the mean of the readings, else the guess; `None` when nothing is known.
    ///
    /// The spread of two or more readings is their sample standard deviation, of one [`MEASURED_SPREAD_MM`].
    pub fn figure(&self) -> Option<Figure<Length>> {
        let Some(mean) = self.mean() else { return self.guess.map(Figure::guess) };
        Some(Figure { spread: Some(Length::mm(self.deviation(mean))), was: self.guess, ..Figure::measured(mean) })
    }

    /// The figure's value, mm.
    pub fn mm(&self) -> Option<f64> {
        self.figure().map(|figure| figure.value.to_mm())
    }

    /// How far the readings lie apart, mm.
    pub fn apart_mm(&self) -> f64 {
        let (low, high) = self
            .taken
            .iter()
            .map(|reading| reading.to_mm())
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), mm| (low.min(mm), high.max(mm)));
        if self.taken.is_empty() { 0.0 } else { high - low }
    }

    /// The mean of the readings, in their unit if they share one.
    fn mean(&self) -> Option<Length> {
        let first = *self.taken.first()?;
        let count = self.taken.len() as f64;
        let one_unit = self.taken.iter().all(|reading| reading.unit_tag() == first.unit_tag());
        if one_unit && first.written() != 0.0 {
            let written = self.taken.iter().map(|reading| reading.written()).sum::<f64>() / count;
            return Some(first.scaled(written / first.written()));
        }
        Some(Length::mm(self.taken.iter().map(|reading| reading.to_mm()).sum::<f64>() / count))
    }

    /// Sample standard deviation about the mean, mm.
    fn deviation(&self, mean: Length) -> f64 {
        if self.taken.len() < 2 {
            return MEASURED_SPREAD_MM;
        }
        let squares: f64 = self.taken.iter().map(|reading| (reading.to_mm() - mean.to_mm()).powi(2)).sum();
        (squares / (self.taken.len() - 1) as f64).sqrt()
    }
}

/// The long file form.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Gauge")]
struct Fields {
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    taken: Vec<Length>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    guess: Option<Length>,
}

impl Serialize for Gauge {
    fn serialize<S: Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
        match self.guess {
            None => self.taken.serialize(out),
            guess => Fields { taken: self.taken.clone(), guess }.serialize(out),
        }
    }
}

impl<'de> Deserialize<'de> for Gauge {
    fn deserialize<D: Deserializer<'de>>(input: D) -> Result<Self, D::Error> {
        struct Read;
        impl<'de> Visitor<'de> for Read {
            type Value = Gauge;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "readings like [Mm(840)], or (taken: [Mm(840)], guess: Mm(850))")
            }
            fn visit_seq<A: SeqAccess<'de>>(self, readings: A) -> Result<Gauge, A::Error> {
                let taken = Vec::deserialize(SeqAccessDeserializer::new(readings))?;
                Ok(Gauge { taken, guess: None })
            }
            fn visit_map<A: MapAccess<'de>>(self, fields: A) -> Result<Gauge, A::Error> {
                let Fields { taken, guess } = Fields::deserialize(MapAccessDeserializer::new(fields))?;
                Ok(Gauge { taken, guess })
            }
        }
        input.deserialize_any(Read)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use super::*;
    use crate::units::Origin;

    fn figure(taken: &[Length], guess: Option<Length>) -> Figure<Length> {
        Gauge { taken: taken.to_vec(), guess }.figure().unwrap()
    }

    #[test]
    fn readings_are_averaged_and_their_spread_kept() {
        // By hand: mean (840 + 846 + 852) / 3 = 846; deviations -6, 0, 6; (36 + 0 + 36) / 2 = 36; root 6.
        let three = figure(&[840.0, 846.0, 852.0].map(Length::mm), Some(Length::mm(900.0)));
        assert_eq!((three.value, three.origin), (Length::mm(846.0), Origin::Measured));
        assert_eq!((three.spread, three.was), (Some(Length::mm(6.0)), Some(Length::mm(900.0))));
    }

    #[test]
    fn one_reading_stays_as_typed_and_is_good_to_half_a_centimetre() {
        let one = figure(&[Length::inches(33.25)], None);
        assert_eq!((one.value, one.spread, one.was), (Length::inches(33.25), Some(Length::mm(5.0)), None));
    }

    #[test]
    fn readings_of_one_unit_keep_it_and_mixed_ones_are_in_millimetres() {
        assert_eq!(figure(&[33.0, 34.0].map(Length::inches), None).value, Length::inches(33.5));
        assert_eq!(figure(&[Length::inches(10.0), Length::mm(256.0)], None).value, Length::mm(255.0));
    }

    #[test]
    fn without_readings_the_guess_counts_and_without_either_nothing() {
        assert_eq!(figure(&[], Some(Length::mm(840.0))), Figure::guess(Length::mm(840.0)));
        assert_eq!(Gauge::default().figure(), None);
    }

    #[test]
    fn the_file_says_no_more_than_is_known() {
        for text in ["[In(33.25),Mm(846)]", "(guess:Mm(840))", "(taken:[Mm(838)],guess:Mm(840))", "[]"] {
            let options = ron::Options::default().with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME);
            let gauge: Gauge = options.from_str(text).unwrap();
            assert_eq!(options.to_string(&gauge).unwrap(), text);
            let json = serde_json::to_string(&gauge).unwrap();
            assert_eq!(serde_json::from_str::<Gauge>(&json).unwrap(), gauge, "{json}");
        }
        assert_eq!(serde_json::to_string(&Gauge::measured(Length::mm(846.0))).unwrap(), r#"[{"Mm":846}]"#);
    }
}
