//! Quantities as text: the one place that decides rounding, width and unit.

use super::{Length, Quantity};

/// Which tape the person reads: the one setting for lengths on screen and on paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
pub enum Tape {
    /// Whole millimetres.
    #[default]
    Metric,
    /// Inches with fractions to a sixteenth.
    Inches,
}

/// Formats lengths for one tape.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Measure(pub Tape);

impl Measure {
    /// A length with its unit: `310 mm`, `12 3/16 in`. Never a sign: callers add a direction word.
    pub fn length(self, mm: f64) -> String {
        match self.0 {
            Tape::Metric => format!("{:.0} mm", mm.abs()),
            Tape::Inches => format!("{} in", fraction_of_inch(mm.abs())),
        }
    }

    /// The same without the unit, for columns that name it in their head.
    pub fn bare(self, mm: f64) -> String {
        match self.0 {
            Tape::Metric => format!("{:.0}", mm.abs()),
            Tape::Inches => fraction_of_inch(mm.abs()),
        }
    }

    /// The unit's symbol.
    pub fn unit(self) -> &'static str {
        match self.0 {
            Tape::Metric => "mm",
            Tape::Inches => "in",
        }
    }

    /// One step of the deck grid: 25 mm or 1 in.
    pub fn grid_pitch(self) -> Length {
        match self.0 {
            Tape::Metric => Length::mm(25.0),
            Tape::Inches => Length::inches(1.0),
        }
    }

    /// A place across the boat in words: `310 mm to port`, `on the centreline`.
    pub fn across(self, y_mm: f64) -> String {
        if y_mm.abs() < 0.5 {
            return "on the centreline".into();
        }
        let side = if y_mm > 0.0 { "port" } else { "starboard" };
        format!("{} to {side}", self.length(y_mm))
    }

    /// A shift over the deck in words: `310 mm aft, 25 mm to port`; empty for none.
    pub fn shift(self, dx_mm: f64, dy_mm: f64) -> String {
        let along = (dx_mm.abs() >= 0.5).then(|| self.along(dx_mm));
        let across = (dy_mm.abs() >= 0.5).then(|| self.across(dy_mm));
        along.into_iter().chain(across).collect::<Vec<_>>().join(", ")
    }

    /// A shift along the boat in words: `310 mm aft`, `25 mm forward`.
    pub fn along(self, dx_mm: f64) -> String {
        let way = if dx_mm >= 0.0 { "forward" } else { "aft" };
        format!("{} {way}", self.length(dx_mm))
    }
}

/// Inches as a tape shows them, rounded to a sixteenth: `12 3/16`, `5/8`, `7`.
pub fn fraction_of_inch(mm: f64) -> String {
    let sixteenths = (mm / 25.4 * 16.0).round() as i64;
    let (whole, mut top) = (sixteenths / 16, sixteenths % 16);
    if top == 0 {
        return whole.to_string();
    }
    let mut bottom = 16;
    while top % 2 == 0 {
        top /= 2;
        bottom /= 2;
    }
    if whole == 0 { format!("{top}/{bottom}") } else { format!("{whole} {top}/{bottom}") }
}

/// A quantity in its base unit with a fixed number of decimals: `38.1 Ah`. Never `-0.0`.
pub fn amount<Q: Quantity>(quantity: Q, decimals: u8) -> String {
    let value = quantity.base();
    let tiny = 0.5 / 10_f64.powi(i32::from(decimals));
    let value = if value.abs() < tiny { 0.0 } else { value };
    format!("{value:.*} {}", usize::from(decimals), Q::BASE)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Charge;

    #[test]
    fn inches_read_like_a_tape() {
        for (mm, text) in [(311.15, "12 1/4"), (15.875, "5/8"), (177.8, "7"), (0.0, "0"), (25.3, "1")] {
            assert_eq!(fraction_of_inch(mm), text);
        }
    }

    #[test]
    fn directions_are_words() {
        let metric = Measure(Tape::Metric);
        assert_eq!(metric.across(310.0), "310 mm to port");
        assert_eq!(metric.across(-310.0), "310 mm to starboard");
        assert_eq!(metric.across(0.2), "on the centreline");
        assert_eq!(metric.along(-310.0), "310 mm aft");
        assert_eq!(Measure(Tape::Inches).across(-311.15), "12 1/4 in to starboard");
    }

    #[test]
    fn nothing_is_shown_as_minus_zero() {
        assert_eq!(amount(Charge::amp_hours(-0.01), 1), "0.0 Ah");
        assert_eq!(amount(Charge::amp_hours(38.06), 1), "38.1 Ah");
    }
}
