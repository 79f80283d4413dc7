//! `gunnel doctor`: terminal, folders and a review set-up, looked over without changing anything.
//!
//! What can be known is gathered into plain [`Facts`] at once; what is said of them follows from the facts alone.

mod comments;
mod entry;
mod folders;
mod line;
mod machine;
mod partner;
mod plan;
mod sample;
mod shell;

#[cfg(test)]
mod test_facts;

use std::path::Path;

pub use self::comments::Comments;
pub use self::entry::{Entry, Found, Kind, May, Owners};
pub use self::folders::Folders;
pub use self::line::{Line, json, text};
pub use self::machine::{Machine, Streams};
pub use self::plan::{PlanFacts, Reading};
use super::answer::put;
use super::arguments::Doctor;
use super::review::reviewer;
use super::{Failure, Surroundings, exit};
use crate::plan::Key;
use crate::storage::paths::{self, Env};

/// Everything the doctor knows.
#[derive(Debug)]
pub struct Facts {
    /// Program, account and terminal.
    pub machine: Machine,
    /// The program's own folders.
    pub folders: Folders,
    /// The plan that was asked about.
    pub plan: Option<PlanFacts>,
    /// Under which name this account is to review it.
    pub partner: Option<Key>,
}

impl Facts {
    fn gather(plan: Option<&Path>, partner: Option<Key>, own: &paths::Folders, env: &Env) -> Self {
        let owners = Owners::read();
        Self {
            machine: Machine::gather(env, &owners),
            folders: Folders::gather(own, &owners),
            plan: plan.map(|path| PlanFacts::gather(path, partner.as_ref(), own.state_place(), &owners)),
            partner,
        }
    }

    /// What is said of all this, one line for each thing.
    pub fn lines(&self) -> Vec<Line> {
        let mut lines = self.machine.lines();
        lines.extend(self.folders.lines(self.partner.is_some()));
        if let Some(plan) = &self.plan {
            lines.extend(plan.lines(self.partner.as_ref()));
            lines.extend(partner::impostor(plan));
            match &self.partner {
                Some(name) => lines.extend(partner::partner(name, plan)),
                None => lines.extend(partner::owner(plan)),
            }
        }
        lines
    }

    fn exit_code(&self, lines: &[Line]) -> u8 {
        match &self.plan {
            Some(plan) if plan.is_unreadable() => exit::INPUT_OUTPUT,
            _ if line::any_stop(lines) => exit::STOP,
            _ => exit::CLEAN,
        }
    }
}

pub(super) fn doctor(asked: &Doctor, own: &paths::Folders, around: &mut Surroundings<'_>) -> Result<u8, Failure> {
    let partner = asked.name.as_deref().map(reviewer).transpose()?;
    if asked.plan.as_deref() == Some(Path::new("-")) {
        return Err(Failure::usage("standard input has no folder, lock or owner", "name the plan's file"));
    }
    let facts = Facts::gather(asked.plan.as_deref(), partner, own, &around.env);
    let lines = facts.lines();
    let code = facts.exit_code(&lines);
    if asked.json {
        put(around, json(&lines, code).as_bytes())?;
        return Ok(code);
    }
    let mut answer = text(&lines);
    if asked.sample || facts.machine.streams.output {
        let reasons = facts.machine.reasons;
        answer = format!("{}\n{answer}", sample::sample(reasons.glyphs.0, reasons.colours.0));
    }
    put(around, answer.as_bytes())?;
    Ok(code)
}

#[cfg(test)]
mod tests {
    use super::test_facts::review;
    use super::*;

    #[test]
    fn ids_of_things_that_are_there_once_are_used_once() {
        let lines = review().lines();
        for line in lines.iter().filter(|line| line.id != "comments.author") {
            let same = lines.iter().filter(|other| other.id == line.id);
            assert_eq!(same.count(), 1, "{}", line.id);
        }
        assert!(lines.iter().all(|line| line.severity.is_none()), "{}", text(&lines));
    }

    #[test]
    fn the_exit_code_says_whether_a_stop_stands_and_whether_anything_was_read() {
        let mut facts = review();
        let code = |facts: &Facts| facts.exit_code(&facts.lines());
        assert_eq!(code(&facts), exit::CLEAN);
        facts.machine.streams.size = Some((20, 5));
        assert_eq!(code(&facts), exit::STOP);
        if let Some(plan) = &mut facts.plan {
            plan.reading = Reading::Unreadable("/x: not there".into());
        }
        assert_eq!(code(&facts), exit::INPUT_OUTPUT);
    }
}
