//! What a person types for a figure: `310`, `310 mm`, `12 1/4 in`, `1 ft 3 in`, `12'`, `1,4`.

use std::fmt;

use super::{Length, Tape};

/// Why a typed figure was not understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TypedError {
    /// Nothing typed yet.
    Empty,
    /// This part is not a number.
    NotANumber(String),
    /// This word is not a unit of the quantity.
    UnknownUnit(String),
    /// A fraction with a zero below the line.
    ZeroBelow,
}

impl fmt::Display for TypedError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(f, "type a number"),
            Self::NotANumber(part) if part.is_empty() => write!(f, "a number is missing"),
            Self::NotANumber(part) => write!(f, "\"{part}\" is not a number"),
            Self::UnknownUnit(unit) => write!(f, "\"{unit}\" is not a unit of length: use mm, cm, m, in or ft"),
            Self::ZeroBelow => write!(f, "a fraction cannot have zero below the line"),
        }
    }
}

/// Reads a length as typed. A bare number is taken in the unit of `tape`.
///
/// Accepts decimals with point or comma, fractions (`12 1/4`), the units mm, cm, m, in, `"`, ft,
/// `'`, and feet with inches (`1 ft 3 1/2 in`, `1'3"`). What was typed in inches stays in inches.
pub fn length_from_text(text: &str, tape: Tape) -> Result<Length, TypedError> {
    let spaced: String = text
        .trim()
        .to_lowercase()
        .chars()
        .flat_map(|c| match c {
            '"' | '″' => vec![' ', 'i', 'n', ' '],
            '\'' | '′' => vec![' ', 'f', 't', ' '],
            c => vec![c],
        })
        .collect();
    let mut parts = split_units(&spaced);
    if parts.is_empty() {
        return Err(TypedError::Empty);
    }
    let default = match tape {
        Tape::Metric => "mm",
        Tape::Inches => "in",
    };
    if parts.len() == 1 {
        let (number, unit) = parts.remove(0);
        return one_length(&number, if unit.is_empty() { default } else { &unit });
    }
    // Feet and inches together are kept as inches: one number, one unit in the file.
    let mut inches = 0.0;
    for (number, unit) in parts {
        let unit = if unit.is_empty() { "in" } else { &unit };
        inches += one_length(&number, unit)?.to_inches();
    }
    Ok(Length::inches(inches))
}

/// Reads a plain number as typed, decimals with point or comma, fractions allowed.
pub fn number_from_text(text: &str) -> Result<f64, TypedError> {
    let mut sum = 0.0;
    let mut seen = false;
    for part in text.split_whitespace() {
        sum += match part.split_once('/') {
            Some((top, bottom)) => {
                let bottom = plain(bottom)?;
                if bottom == 0.0 {
                    return Err(TypedError::ZeroBelow);
                }
                plain(top)? / bottom
            }
            None => plain(part)?,
        };
        seen = true;
    }
    if seen { Ok(sum) } else { Err(TypedError::Empty) }
}

fn plain(part: &str) -> Result<f64, TypedError> {
    let not_a_number = || TypedError::NotANumber(part.to_string());
    let looks_right = !part.is_empty() && part.chars().all(|c| c.is_ascii_digit() || ".,-+".contains(c));
    if !looks_right {
        return Err(not_a_number());
    }
    part.replace(',', ".").parse().map_err(|_| not_a_number())
}

fn one_length(number: &str, unit: &str) -> Result<Length, TypedError> {
    let value = number_from_text(number)?;
    match unit {
        "mm" => Ok(Length::mm(value)),
        "cm" => Ok(Length::cm(value)),
        "m" => Ok(Length::m(value)),
        "in" | "inch" | "inches" => Ok(Length::inches(value)),
        "ft" | "foot" | "feet" => Ok(Length::feet(value)),
        other => Err(TypedError::UnknownUnit(other.to_string())),
    }
}

/// Cuts `1 ft 3 1/2 in` into (`1`, `ft`), (`3 1/2`, `in`).
fn split_units(text: &str) -> Vec<(String, String)> {
    let mut parts: Vec<(String, String)> = Vec::new();
    let (mut number, mut unit) = (String::new(), String::new());
    for c in text.chars() {
        if c.is_alphabetic() {
            unit.push(c);
            continue;
        }
        if !unit.is_empty() {
            parts.push((number.trim().to_string(), std::mem::take(&mut unit)));
            number.clear();
        }
        number.push(c);
    }
    if !number.trim().is_empty() || !unit.is_empty() {
        parts.push((number.trim().to_string(), unit));
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, mm: f64) {
        let read = length_from_text(text, Tape::Metric);
        assert!(matches!(read, Ok(length) if (length.to_mm() - mm).abs() < 1e-9), "{text}: {read:?}");
    }

    #[test]
    fn reads_what_people_type() {
        check("310", 310.0);
        check("310mm", 310.0);
        check("31 cm", 310.0);
        check("12 1/4 in", 311.15);
        check("12.25\"", 311.15);
        check("1'3\"", 381.0);
        check("1 ft 3 1/2 in", 393.7);
        check("12 ft", 3657.6);
        check("1,5 m", 1500.0);
    }

    #[test]
    fn a_bare_number_follows_the_tape() {
        assert_eq!(length_from_text("12 1/4", Tape::Inches), Ok(Length::inches(12.25)));
    }

    #[test]
    fn says_what_is_wrong() {
        assert_eq!(length_from_text("  ", Tape::Metric), Err(TypedError::Empty));
        assert_eq!(length_from_text("12 1/0 in", Tape::Metric), Err(TypedError::ZeroBelow));
        assert_eq!(length_from_text("4 fathoms", Tape::Metric), Err(TypedError::UnknownUnit("fathoms".into())));
        assert!(length_from_text("1x2", Tape::Metric).is_err());
        assert!(number_from_text("inf").is_err());
        assert!(number_from_text("1e5").is_err());
    }
}
