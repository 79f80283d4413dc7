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
pub static SCENARIOS: &[Scenario] = &[];
