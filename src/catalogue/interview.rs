//! A hull measured on the driveway, as a file for those who do without the screen.

use serde::{Deserialize, Serialize};

use super::plan_on;
use crate::plan::{Fault, Hull, Key, Name, Plan, Tape};

/// What was measured on a boat, and the class that guesses the rest.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Interview {
    /// What the boat and its plan are called.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<Name>,
    /// The hull class that is nearest to it.
    pub class: Key,
    /// What was measured.
    pub tape: Tape,
}

impl Interview {
    /// A new plan on the boat, nothing aboard.
    ///
    /// # Errors
    /// What is wrong with the tape, by measurement.
    pub fn plan(&self, class: &Hull) -> Result<Plan, Vec<Fault>> {
        let mut hull = class.taped(self.tape.clone());
        if let Some(name) = &self.name {
            hull.name = name.clone();
        }
        let mut plan = plan_on(&hull);
        if let Some(name) = &self.name {
            plan.name = name.clone();
        }
        // What the plan calls its form is the tape of the interview.
        let renamed = |fault: Fault| match fault.field.strip_prefix("hull form") {
            Some(rest) => Fault { field: format!("tape{rest}"), ..fault },
            None => fault,
        };
        plan.validate().map_err(|faults| faults.into_iter().map(renamed).collect::<Vec<_>>())?;
        Ok(plan)
    }
}
