//! What a suggestion would do to the plan of today.

use super::entries::NextNumbers;
use super::talk::{Suggested, Suggestion};
use crate::checks;
use crate::compare::{Comparison, Number, Side, Verdict};
use crate::edit::{Edit, apply};
use crate::plan::{Key, Name, Plan};
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
        if waits && let Err(why) = names_the_same(now.plan, suggestion) {
            outlook.refused = Some(why);
            return outlook;
        }
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

/// The one edit that takes a suggestion over, with credit; as many steps as were suggested, undone as one. The reason why
/// it cannot be taken over.
pub fn taken_over(plan: &Plan, suggestion: &Suggestion, by: &Key) -> Result<Edit, String> {
    names_the_same(plan, suggestion)?;
    let purpose = Name::new(format!("as {by} suggested")).map_err(|why| why.to_string())?;
    let edits = suggestion.edits.iter().flat_map(|edit| match edit {
        // Steps are not made of steps.
        Edit::All { edits, .. } => edits.clone(),
        edit => vec![edit.clone()],
    });
    Ok(Edit::All { purpose, edits: edits.collect() })
}

/// Whether the edits mean the same things in this plan as where they were tried. What one of them adds gets the next
/// number, by which those after it name it: once the plan gave that number to something else, they would change that.
fn names_the_same(plan: &Plan, suggestion: &Suggestion) -> Result<(), String> {
    let adds = |edit: &Edit| {
        matches!(
            edit,
            Edit::Add { .. }
                | Edit::Duplicate { .. }
                | Edit::AddHole { .. }
                | Edit::SetCircuit { .. }
                | Edit::AddCable { .. }
                | Edit::Put { .. }
                | Edit::All { .. }
                // Drilled gear that moves leaves holes.
                | Edit::PlugHole { .. }
                | Edit::ReuseHole { .. }
                | Edit::ReopenHole { .. }
        )
    };
    let same = suggestion.next.is_none_or(|next| next == NextNumbers::of(plan));
    // One alone names nothing that it adds.
    let alone = matches!(suggestion.edits[..], [Edit::Add { .. } | Edit::Duplicate { .. } | Edit::AddHole { .. }]);
    if same || alone || !suggestion.edits.iter().any(adds) {
        return Ok(());
    }
    Err("it adds something, and so did you since it was tried: ask for it once more".into())
}
