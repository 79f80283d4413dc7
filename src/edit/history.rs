//! Undo and redo: labelled whole plans, so that undo cannot drift.
//!
//! Limits: a new edit after an undo drops what could have been redone (there is one line of
//! history, not a tree). Hull and specs are shared between the states, so a step costs about as
//! much memory as the placements do.

use std::sync::Arc;

use crate::plan::Plan;

/// One state of the plan and what led to it.
#[derive(Clone, Debug)]
pub struct Step {
    /// The edit that led here; empty for the first state.
    pub label: String,
    /// The plan after it.
    pub plan: Arc<Plan>,
}

/// All states from the first to the last, and which one is in use.
#[derive(Clone, Debug)]
pub struct History {
    steps: Vec<Step>,
    at: usize,
    saved: Option<usize>,
}

impl History {
    /// A history that starts with this plan, saved.
    pub fn new(plan: Arc<Plan>) -> Self {
        Self { steps: vec![Step { label: String::new(), plan }], at: 0, saved: Some(0) }
    }

    /// The plan in use.
    pub fn plan(&self) -> &Arc<Plan> {
        &self.steps[self.at].plan
    }

    /// Adds a state after the one in use; what could have been redone is gone.
    pub fn push(&mut self, label: String, plan: Arc<Plan>) {
        self.steps.truncate(self.at + 1);
        if self.saved.is_some_and(|saved| saved > self.at) {
            self.saved = None;
        }
        self.steps.push(Step { label, plan });
        self.at += 1;
    }

    /// Goes one state back; the label of what was undone.
    pub fn undo(&mut self) -> Option<&str> {
        if self.at == 0 {
            return None;
        }
        self.at -= 1;
        Some(&self.steps[self.at + 1].label)
    }

    /// Goes one state forward again; the label of what was redone.
    pub fn redo(&mut self) -> Option<&str> {
        if self.at + 1 >= self.steps.len() {
            return None;
        }
        self.at += 1;
        Some(&self.steps[self.at].label)
    }

    /// Marks the state in use as the one on disk.
    pub fn mark_saved(&mut self) {
        self.saved = Some(self.at);
    }

    /// Marks that no state is known to be the one on disk (a recovered or foreign start).
    pub fn mark_unsaved(&mut self) {
        self.saved = None;
    }

    /// Whether the state in use differs from the one on disk.
    pub fn is_dirty(&self) -> bool {
        self.saved != Some(self.at)
    }

    /// Number of edits since the state on disk, forward or back; `None` when that state is gone.
    pub fn unsaved_edits(&self) -> Option<usize> {
        self.saved.map(|saved| self.at.abs_diff(saved))
    }

    /// All states, the first one first.
    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// Index of the state in use.
    pub fn position(&self) -> usize {
        self.at
    }

    /// What undo would undo.
    pub fn next_undo(&self) -> Option<&str> {
        (self.at > 0).then(|| self.steps[self.at].label.as_str())
    }

    /// What redo would redo.
    pub fn next_redo(&self) -> Option<&str> {
        self.steps.get(self.at + 1).map(|step| step.label.as_str())
    }
}
