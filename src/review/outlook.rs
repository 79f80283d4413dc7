//! What a suggestion would do to the plan of today.

use super::talk::{Suggested, Suggestion};
use crate::checks;
use crate::compare::{Comparison, Number, Side, Verdict};
use crate::edit::{Edit, apply};
use crate::plan::Plan;
use crate::study::Study;
use crate::units::Measure;

/// What a suggestion would do.
#[derive(Clone, Debug, Default)]
pub struct Outlook {
    /// What each edit is called.
    pub labels: Vec<String>,
    /// Why it cannot be done any more, if it cannot.
    pub refused: Option<String>,
    /// The plan as it would be; `None` where it cannot be done or was decided already.
    pub plan: Option<Plan>,
    /// The numbers of panels that would be others.
    pub numbers: Vec<Number>,
    /// The findings that would turn.
    pub verdicts: Vec<Verdict>,
}

impl Outlook {
    /// Tries a suggestion on a plan. One that was decided already is only named.
    pub fn of(now: Side<'_>, suggestion: &Suggestion, tape: Measure) -> Self {
        let mut outlook = Self::default();
        let waits = suggestion.became == Suggested::Waiting;
        let mut plan = now.plan.clone();
        for edit in &suggestion.edits {
            outlook.labels.push(edit.label(&plan, tape));
            match apply(&plan, edit) {
                Ok(after) => plan = after,
                Err(why) if waits => {
                    outlook.refused = Some(why.to_string());
                    return outlook;
                }
                Err(_) => {}
            }
        }
        if waits {
            let study = Study::of(&plan);
            let findings = checks::run(&plan, &study);
            let after = Side { plan: &plan, study: &study, findings: &findings };
            let comparison = Comparison::of(now, after);
            outlook.numbers = comparison.numbers.into_iter().filter(|number| !number.is_same()).collect();
            outlook.verdicts = comparison.verdicts;
            outlook.plan = Some(plan);
        }
        outlook
    }
}

/// The one edit that takes a suggestion over, with credit; as many steps as were suggested, undone as one.
pub fn taken_over(suggestion: &Suggestion, by: &crate::plan::Key) -> Option<Edit> {
    let purpose = crate::plan::Name::new(format!("as {by} suggested")).ok()?;
    let edits = suggestion.edits.iter().flat_map(|edit| match edit {
        // Steps are not made of steps.
        Edit::All { edits, .. } => edits.clone(),
        edit => vec![edit.clone()],
    });
    Some(Edit::All { purpose, edits: edits.collect() })
}
