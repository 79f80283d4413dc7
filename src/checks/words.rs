//! Words that several findings share: labels in a row, the caution about batteries.

use crate::plan::{GearId, Plan};

/// Stands in every remedy that sends a person to work on the wiring.
pub const SHORT_CIRCUIT: &str = "A shorted battery can start a fire: disconnect it before work; when unsure ask a \
                                 competent electrician.";

/// What the person calls this gear.
pub fn label(plan: &Plan, gear: GearId) -> String {
    plan.gear(gear).map_or_else(|| gear.to_string(), |gear| gear.label.to_string())
}

/// Names in a row, at most three: `Display`, `Display and Pump`, `Display, Pump, Radio and 2 more`.
pub fn list(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [a] => a.clone(),
        [a, b] => format!("{a} and {b}"),
        [a, b, c] => format!("{a}, {b} and {c}"),
        [a, b, c, rest @ ..] => format!("{a}, {b}, {c} and {} more", rest.len()),
    }
}

#[cfg(test)]
mod tests {
    use super::list;

    fn check(names: &[&str], text: &str) {
        assert_eq!(list(&names.iter().map(ToString::to_string).collect::<Vec<_>>()), text);
    }

    #[test]
    fn names_stand_in_a_row() {
        check(&[], "");
        check(&["A"], "A");
        check(&["A", "B"], "A and B");
        check(&["A", "B", "C"], "A, B and C");
        check(&["A", "B", "C", "D", "E"], "A, B, C and 2 more");
    }
}
