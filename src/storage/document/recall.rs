//! What a journal that was found means for the file beside it: undo history, unsaved edits, or another file's past.

use std::path::Path;

use super::super::journal;
use super::super::load;
use super::logbook::{Base, Entry};
use super::{Holder, Recoverable};
use crate::edit::Edit;
use crate::plan::Plan;
use crate::session::{Record, Session};
use crate::units::Measure;

/// What stood in a journal.
#[derive(Debug)]
pub(super) struct Past {
    pub(super) contents: journal::Contents,
    pub(super) by: Holder,
    pub(super) base: Base,
    pub(super) entries: Vec<Entry>,
    /// What could not be read, for a warning.
    pub(super) damage: Option<String>,
}

/// Reads a journal, or says why it is of no use.
pub(super) fn read(path: &Path) -> Result<Past, String> {
    let mut contents = journal::read(path).map_err(|error| error.to_string())?;
    let header = contents.header.clone().ok_or("it is damaged from the start")?;
    let mut damage = contents.damage.map(|damage| format!("the last edits in the journal were lost: {}", damage.what));
    let mut entries = Vec::new();
    let mut good_bytes = None;
    for record in &contents.records {
        match serde_json::from_slice::<Entry>(record) {
            Ok(entry) => entries.push(entry),
            Err(_) => {
                // Written by another version of the program: what follows may depend on it.
                damage = Some("the journal holds edits that this gunnel does not know; they were left out".into());
                good_bytes = Some(());
                break;
            }
        }
    }
    if good_bytes.is_some() {
        // Nothing may be added behind a record that was not understood.
        contents.header = None;
    }
    let mut entries = entries.into_iter();
    let Some(Entry::Base { format, text }) = entries.next() else {
        return Err("it does not say from which plan it starts".into());
    };
    let base = Base { format, text, crc: header.plan_crc };
    Ok(Past { contents, by: header.holder, base, entries: entries.collect(), damage })
}

impl Past {
    /// A session of the plan the journal starts from.
    pub(super) fn first_session(&self, tape: Measure) -> Result<Session, String> {
        let plan = load::plan(&self.base.text, Path::new("journal"), self.base.format)
            .map_err(|_| "the plan it starts from cannot be read any more".to_string())?;
        Ok(Session::new(plan, tape))
    }

    /// All that was done.
    pub(super) fn records(&self) -> Vec<Record> {
        self.entries.iter().filter_map(Entry::record).collect()
    }
}

/// What the journal means for the file.
pub(super) enum Recalled {
    /// Nothing is unsaved: the session has its history back. `noted` unless the journal missed the last save.
    Clean { session: Box<Session>, noted: bool },
    /// The session is as it was saved last; there is more in the journal.
    Unsaved { session: Box<Session>, found: Found, recoverable: Recoverable },
    /// The file is not the one the journal belongs to, and there were edits never saved.
    Foreign { found: Found, recoverable: Recoverable },
    /// The same, with nothing unsaved.
    Stale,
}

/// Unsaved edits about which the person has not decided.
#[derive(Debug)]
pub(super) enum Found {
    /// To be replayed on the session as it is.
    Unsaved { before: Vec<Entry>, after: Vec<Record> },
    /// To be made again, one by one, on a plan that somebody else changed.
    Foreign { net: Net },
}

/// Holds the journal against the plan in the file.
pub(super) fn recall(past: &Past, on_disk: &Plan, crc: Option<u32>, tape: Measure) -> Result<Recalled, String> {
    let saved_at = past.entries.iter().rposition(|entry| matches!(entry, Entry::Saved { .. })).map_or(0, |at| at + 1);
    let (before, after) = past.entries.split_at(saved_at);
    let believed = match before.last() {
        Some(Entry::Saved { crc }) => Some(*crc),
        _ => past.base.crc,
    };
    let records = |entries: &[Entry]| entries.iter().filter_map(Entry::record).collect::<Vec<_>>();
    let mut session = past.first_session(tape)?;
    session.replay(&records(before));
    let mut ahead = session.clone();
    ahead.replay(&records(after));

    if believed == crc && session.plan() == on_disk {
        if !ahead.history().is_dirty() {
            return Ok(Recalled::Clean { session: Box::new(ahead), noted: true });
        }
        let net = Net::of(&past.entries);
        let (edits, lost) = net.onto(&mut session.clone());
        let found = Found::Unsaved { before: before.to_vec(), after: records(after) };
        let recoverable = Recoverable { edits, lost, by: past.by.clone(), changed_underneath: false };
        return Ok(Recalled::Unsaved { session: Box::new(session), found, recoverable });
    }
    if ahead.plan() == on_disk {
        // Killed after the save and before it was noted.
        ahead.replay(&[Record::Saved]);
        return Ok(Recalled::Clean { session: Box::new(ahead), noted: false });
    }
    let net = Net::of(&past.entries);
    if net.count() == 0 {
        return Ok(Recalled::Stale);
    }
    let (edits, lost) = net.onto(&mut Session::new(on_disk.clone(), tape));
    let recoverable = Recoverable { edits, lost, by: past.by.clone(), changed_underneath: true };
    Ok(Recalled::Foreign { found: Found::Foreign { net }, recoverable })
}

/// What was done since the last save, without what was undone again.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Net {
    /// This many saved edits were undone.
    undone: usize,
    /// These were made after that.
    edits: Vec<Edit>,
}

impl Net {
    /// Follows the line of history through undo and redo.
    pub(super) fn of(entries: &[Entry]) -> Self {
        let (mut line, mut at, mut saved_at, mut shared) = (Vec::new(), 0, 0, 0);
        for entry in entries {
            match entry {
                Entry::Step(Record::Edit(edit)) => {
                    shared = shared.min(at);
                    line.truncate(at);
                    line.push(edit);
                    at += 1;
                }
                Entry::Step(Record::Undo) => at = at.saturating_sub(1),
                Entry::Step(Record::Redo) => at = (at + 1).min(line.len()),
                Entry::Saved { .. } | Entry::Step(Record::Saved) => (saved_at, shared) = (at, at),
                Entry::Base { .. } => {}
            }
        }
        let shared = shared.min(at);
        Self { undone: saved_at - shared, edits: line[shared..at].iter().map(|edit| Edit::clone(edit)).collect() }
    }

    /// How many steps it is.
    pub(super) fn count(&self) -> usize {
        self.undone + self.edits.len()
    }

    /// Does the same in a session: the labels of what was done, and why the rest was not.
    pub(super) fn onto(&self, session: &mut Session) -> (Vec<String>, Vec<String>) {
        let (mut done, mut failed) = (Vec::new(), Vec::new());
        for _ in 0..self.undone {
            match session.undo() {
                Some(label) => done.push(format!("undo: {label}")),
                None => failed.push("undoing an edit that was saved".to_string()),
            }
        }
        for edit in &self.edits {
            match session.edit(edit.clone()) {
                Ok(label) => done.push(label),
                Err(why) => failed.push(format!("{}: {why}", edit.label(session.plan(), Measure::default()))),
            }
        }
        (done, failed)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use super::*;
    use crate::plan::Name;

    fn edit(name: &str) -> Edit {
        Edit::RenamePlan { name: Name::new(name).unwrap() }
    }

    /// One letter an entry: a small letter edits, U undoes, R redoes, S saves.
    fn check(steps: &str, undone: usize, edits: &str) {
        let entries: Vec<Entry> = steps
            .chars()
            .map(|step| match step {
                'U' => Entry::Step(Record::Undo),
                'R' => Entry::Step(Record::Redo),
                'S' => Entry::Saved { crc: 0 },
                name => Entry::Step(Record::Edit(Box::new(edit(&name.to_string())))),
            })
            .collect();
        let expected = Net { undone, edits: edits.chars().map(|name| edit(&name.to_string())).collect() };
        assert_eq!(Net::of(&entries), expected, "{steps}");
    }

    #[test]
    fn what_was_undone_again_is_dropped() {
        check("", 0, "");
        check("abS", 0, "");
        check("abScd", 0, "cd");
        check("abScUd", 0, "d");
        check("abScUR", 0, "c");
        check("abScUU", 1, "");
        check("abScUUR", 0, "");
        check("abSUcU", 1, "");
        check("abSUc", 1, "c");
        check("abSUUcd", 2, "cd");
        check("abUSR", 0, "b");
        check("abUSc", 0, "c");
        check("UUa", 0, "a");
        check("aRRb", 0, "ab");
    }
}
