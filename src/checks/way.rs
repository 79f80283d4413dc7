//! A shift on deck in words: no signs, no axes.

use crate::geometry::Spot;

/// `60 mm aft`, `20 mm to port`, `60 mm aft and 20 mm to port`; rounded up, so that following it is enough.
pub(super) fn way(by: Spot) -> String {
    let part = |value: f64, plus: &str, minus: &str| {
        let whole = (value.abs() - 1e-6).ceil();
        (whole >= 1.0).then(|| format!("{whole:.0} mm {}", if value > 0.0 { plus } else { minus }))
    };
    match (part(by.x, "forward", "aft"), part(by.y, "to port", "to starboard")) {
        (Some(along), Some(across)) => format!("{along} and {across}"),
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => "a touch".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn says_directions_in_words() {
        assert_eq!(way(Spot::new(-59.2, 0.0)), "60 mm aft");
        assert_eq!(way(Spot::new(0.0, 20.0)), "20 mm to port");
        assert_eq!(way(Spot::new(12.0, -3.0)), "12 mm forward and 3 mm to starboard");
        assert_eq!(way(Spot::default()), "a touch");
    }
}
