//! The journal of an open plan as entries: begun with the first edit, never in the way of editing.

use std::collections::VecDeque;
use std::io;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use serde::{Deserialize, Serialize};

use super::super::holder::Holder;
use super::super::journal::{self, Header, Journal};
use super::super::load::Format;
use super::recall::Past;
use crate::session::Record;

/// A journal larger than this is begun anew at the next save, bytes.
const LARGE: u64 = journal::LARGEST_BYTES / 2;

/// One entry of a journal.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) enum Entry {
    /// The plan as the file had it when the journal was begun: always the first entry, and only there.
    Base {
        /// How it is written.
        format: Format,
        /// The file's text.
        text: String,
    },
    /// Something the person did.
    Step(Record),
    /// The plan as it was then is on disk.
    Saved {
        /// CRC-32 of the file.
        crc: u32,
    },
}

impl Entry {
    /// What it is to a session.
    pub(super) fn record(&self) -> Option<Record> {
        match self {
            Self::Base { .. } => None,
            Self::Step(record) => Some(record.clone()),
            Self::Saved { .. } => Some(Record::Saved),
        }
    }
}

/// What a journal starts from.
#[derive(Clone, Debug)]
pub(super) struct Base {
    pub(super) format: Format,
    pub(super) text: String,
    /// CRC-32 of the file; `None` for a plan without one.
    pub(super) crc: Option<u32>,
}

/// The journal of an open plan.
#[derive(Debug)]
pub(super) struct Logbook {
    /// Where it is or will be; `None` where there is no place for it.
    path: Option<PathBuf>,
    /// The plan's path, for people.
    plan: String,
    me: Holder,
    journal: Option<Journal>,
    base: Base,
    /// Everything since the base.
    entries: Vec<Entry>,
    /// The last so many entries are not written yet.
    waiting: usize,
    unsynced: bool,
    trouble: Option<String>,
}

impl Logbook {
    /// A journal that begins when there is something to note.
    pub(super) fn new(path: Option<PathBuf>, plan: String, me: Holder, base: Base) -> Self {
        let trouble =
            path.is_none().then(|| "no place for a journal: what is not saved is lost in a crash".to_string());
        Self { path, plan, me, journal: None, base, entries: Vec::new(), waiting: 0, unsynced: false, trouble }
    }

    /// Goes on with a journal that was read.
    pub(super) fn resume(path: &Path, plan: String, me: Holder, past: Past) -> Self {
        let mut logbook = Self::new(Some(path.to_path_buf()), plan, me, past.base);
        logbook.entries = past.entries;
        match Journal::resume(path, &past.contents) {
            Ok(journal) => logbook.journal = Some(journal),
            // With what was understood of it, and the whole of it kept aside.
            Err(_) => drop(logbook.set_aside(logbook.entries.clone())),
        }
        logbook
    }

    pub(super) fn trouble(&self) -> Option<&str> {
        self.trouble.as_deref()
    }

    pub(super) fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// The entries up to and with the last save.
    pub(super) fn entries_up_to_saved(&self) -> Vec<Entry> {
        let saved = self.entries.iter().rposition(|entry| matches!(entry, Entry::Saved { .. }));
        self.entries[..saved.map_or(0, |at| at + 1)].to_vec()
    }

    pub(super) fn note(&mut self, records: Vec<Record>) {
        let before = self.entries.len();
        self.entries.extend(records.into_iter().map(Entry::Step));
        self.waiting += self.entries.len() - before;
        self.write();
    }

    /// Notes that `now` is on disk. A journal too large or in trouble starts again from it.
    pub(super) fn saved(&mut self, now: Base) {
        let large = self.journal.as_ref().is_some_and(|journal| journal.length() > LARGE);
        let Some(crc) = now.crc.filter(|_| !self.entries.is_empty() && !large && self.waiting == 0) else {
            return self.start_from(now);
        };
        self.entries.push(Entry::Saved { crc });
        self.waiting += 1;
        self.write();
    }

    /// Starts again from another version of the file; what was there is set aside.
    pub(super) fn start_from(&mut self, base: Base) {
        self.set_aside(Vec::new());
        self.base = base;
    }

    /// Starts again from the same version; what was there is set aside.
    pub(super) fn begin_anew(&mut self) {
        self.set_aside(Vec::new());
    }

    /// Takes the journal out of the way, and goes on with these entries in a new one.
    pub(super) fn set_aside(&mut self, entries: Vec<Entry>) -> Option<PathBuf> {
        self.journal = None;
        let found = self.path.as_deref().filter(|path| path.exists());
        let aside = found.and_then(|path| journal::set_aside(path, SystemTime::now()).ok());
        self.waiting = entries.len();
        self.entries = entries;
        self.write();
        aside
    }

    /// Goes on in another place, for a plan that was saved under another name: the entries go along, and the old
    /// place keeps what belongs to its file.
    pub(super) fn move_to(&mut self, path: Option<PathBuf>, plan: String) {
        let all = std::mem::take(&mut self.entries);
        self.entries.clone_from(&all);
        if self.base.crc.is_some() && self.path != path {
            let saved = self.entries_up_to_saved();
            self.waiting = saved.len();
            self.entries = saved;
            self.rewrite_or_remove();
        } else if let Some(journal) = self.journal.take() {
            let _ = journal.remove();
        }
        self.journal = None;
        self.trouble = None;
        (self.path, self.plan) = (path, plan);
        if let Some(path) = self.path.as_deref().filter(|path| path.exists()) {
            let _ = journal::set_aside(path, SystemTime::now());
        }
        self.waiting = all.len();
        self.entries = all;
        self.write();
    }

    fn rewrite_or_remove(&mut self) {
        let Some(mut journal) = self.journal.take() else { return };
        if self.entries.is_empty() {
            let _ = journal.remove();
        } else {
            let header = self.header();
            let payloads: Vec<Vec<u8>> = std::iter::once(self.base_entry())
                .chain(self.entries.iter().cloned())
                .filter_map(|entry| serde_json::to_vec(&entry).ok())
                .collect();
            let _ = journal.rewrite(&header, payloads.iter().map(Vec::as_slice));
        }
    }

    pub(super) fn sync(&mut self) {
        self.write();
        if !self.unsynced {
            return;
        }
        match self.journal.as_ref().map(Journal::sync) {
            Some(Err(error)) => self.trouble = Some(format!("the journal may not outlast a power failure ({error})")),
            _ => self.unsynced = false,
        }
    }

    /// Writes what waits. Failing keeps it waiting.
    fn write(&mut self) {
        if self.path.is_none() || self.waiting == 0 {
            return;
        }
        let mut waiting: VecDeque<Entry> = self.entries[self.entries.len() - self.waiting..].to_vec().into();
        while let Some(entry) = waiting.pop_front() {
            if let Err(error) = self.append(&entry) {
                self.trouble = Some(match error.kind() {
                    io::ErrorKind::FileTooLarge => "the journal is full; save, and it begins anew".to_string(),
                    io::ErrorKind::StorageFull => {
                        "no space for the journal: what is not saved is lost in a crash".into()
                    }
                    _ => format!("the journal cannot be written ({error}): what is not saved is lost in a crash"),
                });
                return;
            }
            self.waiting -= 1;
            self.unsynced = true;
        }
        self.trouble = None;
    }

    fn append(&mut self, entry: &Entry) -> io::Result<()> {
        let payload = serde_json::to_vec(entry)?;
        if self.journal.is_none() {
            self.journal = Some(self.begin()?);
        }
        self.journal.as_mut().map_or(Ok(()), |journal| journal.append(&payload))
    }

    fn begin(&self) -> io::Result<Journal> {
        let path = self.path.as_deref().ok_or(io::ErrorKind::NotFound)?;
        if path.exists() {
            journal::set_aside(path, SystemTime::now())?;
        }
        let mut journal = Journal::create(path, &self.header())?;
        journal.append(&serde_json::to_vec(&self.base_entry())?)?;
        Ok(journal)
    }

    fn header(&self) -> Header {
        Header { plan: self.plan.clone(), plan_crc: self.base.crc, holder: self.me.clone() }
    }

    fn base_entry(&self) -> Entry {
        Entry::Base { format: self.base.format, text: self.base.text.clone() }
    }
}
