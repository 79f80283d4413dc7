//! The session: plan, history and cached study. The only place where the three meet.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::checks::{self, Finding};
use crate::edit::{Edit, History, Refusal, apply};
use crate::plan::{GearId, Name, Plan};
use crate::study::Study;
use crate::study::float::moves::{Move, Moves, Proposal};
use crate::units::Measure;

/// A step of a session as the journal keeps it: replaying them over the same plan gives the same
/// history.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Record {
    /// An edit was applied.
    Edit(Box<Edit>),
    /// The last edit was undone.
    Undo,
    /// An undone edit was redone.
    Redo,
    /// The plan in use was saved.
    Saved,
}

/// What was so before the last change.
#[derive(Clone, Debug)]
struct Before {
    plan: Arc<Plan>,
    study: Arc<Study>,
    findings: Arc<Vec<Finding>>,
}

/// One plan being worked on: its history, its study, its findings.
#[derive(Clone, Debug)]
pub struct Session {
    history: History,
    study: Arc<Study>,
    findings: Arc<Vec<Finding>>,
    /// What the screen compares with.
    previous: Option<Before>,
    tape: Measure,
    revision: u64,
    journal: Vec<Record>,
    /// The edit that led to each state but the first.
    edits: Vec<Edit>,
}

impl Session {
    /// Starts with a plan as it is on disk.
    pub fn new(plan: Plan, tape: Measure) -> Self {
        let plan = Arc::new(plan);
        let (study, findings) = studied(&plan);
        Self {
            history: History::new(plan),
            study,
            findings,
            previous: None,
            tape,
            revision: 0,
            journal: Vec::new(),
            edits: Vec::new(),
        }
    }

    /// The plan in use.
    pub fn plan(&self) -> &Plan {
        self.history.plan()
    }

    /// The plan in use, shared.
    pub fn shared_plan(&self) -> Arc<Plan> {
        Arc::clone(self.history.plan())
    }

    /// What follows from it.
    pub fn study(&self) -> &Study {
        &self.study
    }

    /// The verdicts, heaviest first.
    pub fn findings(&self) -> &[Finding] {
        &self.findings
    }

    /// Study and findings before the last change, if there was one.
    pub fn previous(&self) -> Option<(&Study, &[Finding])> {
        self.previous.as_ref().map(|before| (&*before.study, before.findings.as_slice()))
    }

    /// Gear that the last change added or altered.
    pub fn changed_gear(&self) -> Vec<GearId> {
        let Some(before) = &self.previous else { return Vec::new() };
        let altered = self.plan().gear.iter().filter(|gear| before.plan.gear(gear.id) != Some(gear));
        altered.map(|gear| gear.id).collect()
    }

    /// Undo, redo and what is unsaved.
    pub fn history(&self) -> &History {
        &self.history
    }

    /// The edits that led from the first state to the one in use.
    pub fn edits(&self) -> &[Edit] {
        &self.edits[..self.history.position()]
    }

    /// Which tape labels and words use.
    pub fn tape(&self) -> Measure {
        self.tape
    }

    /// Counts changes; equal numbers mean equal plans.
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// Sets which tape labels and words use.
    pub fn set_tape(&mut self, tape: Measure) {
        self.tape = tape;
    }

    /// Applies an edit. Returns its label.
    ///
    /// # Errors
    /// The refusal of [`apply`]; nothing changes.
    pub fn edit(&mut self, edit: Edit) -> Result<String, Refusal> {
        let before = self.shared_plan();
        let after = apply(&before, &edit)?;
        let label = edit.label(&before, self.tape);
        self.push(label.clone(), after, edit.clone());
        self.journal.push(Record::Edit(Box::new(edit)));
        self.restudy(before);
        Ok(label)
    }

    /// Looks for what moves the boat level. Takes a while, and is no part of the study for that.
    pub fn level(&self) -> Moves {
        Moves::find(self.plan(), &self.study, &checks::no_worse(&self.findings))
    }

    /// Makes the moves of a proposal as one step. Returns its label.
    ///
    /// # Errors
    /// The refusal of [`apply`]; nothing changes.
    pub fn move_level(&mut self, proposal: &Proposal) -> Result<String, Refusal> {
        let purpose = Name::new("move it level").map_err(|why| Refusal(why.to_string()))?;
        self.edit(Edit::All { purpose, edits: proposal.moves.iter().map(edit_of).collect() })
    }

    /// Undoes one edit; its label.
    pub fn undo(&mut self) -> Option<String> {
        let before = self.shared_plan();
        let label = self.history.undo()?.to_string();
        self.journal.push(Record::Undo);
        self.restudy(before);
        Some(label)
    }

    /// Redoes one edit; its label.
    pub fn redo(&mut self) -> Option<String> {
        let before = self.shared_plan();
        let label = self.history.redo()?.to_string();
        self.journal.push(Record::Redo);
        self.restudy(before);
        Some(label)
    }

    /// Notes that the plan in use is now on disk.
    pub fn mark_saved(&mut self) {
        self.history.mark_saved();
        self.journal.push(Record::Saved);
    }

    /// Replaces everything by a plan read anew from disk.
    pub fn reload(&mut self, plan: Plan) {
        let revision = self.revision;
        *self = Self { revision, ..Self::new(plan, self.tape) };
        self.revision += 1;
    }

    /// Goes on with a plan that somebody else changed. What it says against the one before is told like an edit's;
    /// the history before is gone.
    pub fn follow(&mut self, plan: Plan) {
        let before = self.shared_plan();
        self.history = History::new(Arc::new(plan));
        self.edits.clear();
        self.restudy(before);
    }

    /// Makes its changes count on from another session's.
    pub fn later_than(&mut self, revision: u64) {
        self.revision = self.revision.max(revision) + 1;
    }

    /// Replays records over the first plan. Records that no longer apply are left out and their
    /// reasons returned.
    pub fn replay(&mut self, records: &[Record]) -> Vec<String> {
        let mut failed = Vec::new();
        for record in records {
            match record {
                Record::Edit(edit) => match apply(self.plan(), edit) {
                    Ok(after) => {
                        let label = edit.label(self.plan(), self.tape);
                        self.push(label, after, Edit::clone(edit));
                    }
                    Err(why) => failed.push(format!("{}: {why}", edit.label(self.plan(), self.tape))),
                },
                Record::Undo => {
                    self.history.undo();
                }
                Record::Redo => {
                    self.history.redo();
                }
                Record::Saved => self.history.mark_saved(),
            }
        }
        self.restudy(self.shared_plan());
        self.previous = None;
        failed
    }

    /// Steps taken since the last call, for the journal.
    pub fn take_records(&mut self) -> Vec<Record> {
        std::mem::take(&mut self.journal)
    }

    /// What the plan would be after an edit, without making it: for ghosts and previews.
    ///
    /// # Errors
    /// The refusal of [`apply`].
    pub fn preview(&self, edit: &Edit) -> Result<(Plan, Study, Vec<Finding>), Refusal> {
        let plan = apply(self.plan(), edit)?;
        let study = Study::of(&plan);
        let findings = checks::run(&plan, &study);
        Ok((plan, study, findings))
    }

    fn push(&mut self, label: String, plan: Plan, edit: Edit) {
        self.edits.truncate(self.history.position());
        self.edits.push(edit);
        self.history.push(label, Arc::new(plan));
    }

    /// Studies the plan in use and keeps what was so before.
    fn restudy(&mut self, plan: Arc<Plan>) {
        let (study, findings) = studied(self.history.plan());
        self.previous = Some(Before {
            plan,
            study: std::mem::replace(&mut self.study, study),
            findings: std::mem::replace(&mut self.findings, findings),
        });
        self.revision += 1;
    }
}

fn edit_of(one: &Move) -> Edit {
    match one {
        Move::Gear { gear, to, .. } => Edit::Move { gear: *gear, x: to.x, y: to.y },
        Move::Across { gear, .. } => Edit::Mirror { gear: *gear },
        Move::Seat { to, .. } => Edit::SetSeat { seat: to.clone() },
    }
}

fn studied(plan: &Plan) -> (Arc<Study>, Arc<Vec<Finding>>) {
    let study = Study::of(plan);
    let findings = checks::run(plan, &study);
    (Arc::new(study), Arc::new(findings))
}
