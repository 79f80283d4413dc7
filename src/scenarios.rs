//! The demo plans: invented boats that are demo, test and tutorial at once, compiled in.

/// One demo plan.
#[derive(Debug)]
pub struct Scenario {
    /// Its name in the list.
    pub title: &'static str,
    /// One line about it.
    pub about: &'static str,
    /// The name of its file in `scenarios/`.
    pub file: &'static str,
    /// The plan's text.
    pub text: &'static str,
}

/// All demo plans, the simplest first.
pub static SCENARIOS: &[Scenario] = &[
    Scenario {
        title: "Bare hull",
        about: "a 12 ft stand-up hull, its gear still ashore, and a day that starts in the dark",
        file: "bare-hull.ron",
        text: include_str!("../scenarios/bare-hull.ron"),
    },
    Scenario {
        title: "After the seat test",
        about: "a rigged 11 ft boat whose seat went two notches aft: what no longer fits?",
        file: "seat-test.ron",
        text: include_str!("../scenarios/seat-test.ron"),
    },
    Scenario {
        title: "Ready for review",
        about: "a complete 12 ft plan before its first hole, with two questions of a partner",
        file: "ready-for-review.ron",
        text: include_str!("../scenarios/ready-for-review.ron"),
    },
];
