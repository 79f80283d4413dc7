//! Why there is no answer: what, where, what to do, and with which exit code.

use std::io;
use std::path::Path;

use serde::Serialize;

use super::exit;
use crate::shown::Shown;
use crate::storage::atomic::SaveError;
use crate::storage::document::OpenError;
use crate::storage::load::LoadError;
use crate::storage::lock::LockError;
use crate::storage::paths;
use crate::storage::source::{ReadError, Trouble};

/// Why a command did not do what was asked.
#[derive(Debug)]
pub struct Failure {
    code: u8,
    what: String,
    hint: Option<String>,
    /// File, line, column and field of each thing that is wrong with a plan.
    details: Vec<Detail>,
    quiet: bool,
}

#[derive(Debug, Serialize)]
struct Detail {
    file: String,
    line: Option<usize>,
    column: Option<usize>,
    field: Option<String>,
    what: String,
}

impl Failure {
    /// A failure with its exit code, and what to do about it.
    pub fn new(code: u8, what: &str, hint: Option<&str>) -> Self {
        Self { code, what: what.to_string(), hint: hint.map(str::to_string), details: Vec::new(), quiet: false }
    }

    pub(super) fn usage(what: &str, hint: &str) -> Self {
        Self::new(exit::USAGE, what, Some(hint))
    }

    /// The answer could not be written. Nobody reading it any more is not a failure.
    pub(super) fn output(error: io::Error) -> Self {
        let quiet = error.kind() == io::ErrorKind::BrokenPipe;
        Self { quiet, ..Self::new(exit::INPUT_OUTPUT, &format!("the answer cannot be written: {error}"), None) }
    }

    pub(super) fn reading(error: &ReadError) -> Self {
        let damaged = matches!(error.trouble, Trouble::Nul { .. } | Trouble::NotText { .. } | Trouble::TooLarge { .. });
        let code = if damaged { exit::UNREADABLE } else { exit::INPUT_OUTPUT };
        let hint = error
            .is_missing()
            .then(|| format!("gunnel new --hull angler-10 -o {} starts a new plan there", paths::shown(&error.path)));
        Self::new(code, &error.to_string(), hint.as_deref())
    }

    pub(super) fn loading(error: &LoadError) -> Self {
        let detail = |complaint: &crate::storage::load::Complaint| Detail {
            file: paths::shown(&error.file),
            line: complaint.place.as_ref().map(|place| place.line),
            column: complaint.place.as_ref().map(|place| place.column),
            field: complaint.field.as_deref().map(|field| Shown(field).to_string()),
            what: complaint.what.clone(),
        };
        let details = error.complaints.iter().map(detail).collect();
        Self { details, ..Self::new(exit::UNREADABLE, &error.to_string(), error.hint()) }
    }

    pub(super) fn locking(file: &Path, error: &LockError) -> Self {
        let what = match error {
            LockError::Held { by: Some(by) } => format!("{by} is editing this plan"),
            LockError::Held { by: None } => "somebody is editing this plan".to_string(),
            other => other.to_string(),
        };
        let code = if matches!(error, LockError::Held { .. }) { exit::BUSY } else { exit::INPUT_OUTPUT };
        Self::new(code, &format!("{}: {what}", paths::shown(file)), Some("try again later, or choose another name"))
    }

    pub(super) fn saving(file: &Path, error: &SaveError) -> Self {
        let code = if matches!(error, SaveError::Changed | SaveError::Gone) { exit::BUSY } else { exit::INPUT_OUTPUT };
        let hint = matches!(error, SaveError::Exists).then_some("--force replaces it and keeps a backup");
        Self::new(code, &format!("{}: {error}", paths::shown(file)), hint)
    }

    /// The screen ended with an error: most often there is no plan to show.
    pub(super) fn screen(error: &anyhow::Error) -> Self {
        match error.downcast_ref::<OpenError>() {
            Some(OpenError::Read(error)) => Self::reading(error),
            Some(opening @ OpenError::Load { error, .. }) => Self { hint: opening.hint(), ..Self::loading(error) },
            Some(OpenError::Locked(error)) => Self::new(exit::BUSY, &error.to_string(), None),
            _ => Self::new(exit::INPUT_OUTPUT, &format!("{error:#}"), None),
        }
    }

    /// The exit code.
    pub fn code(&self) -> u8 {
        self.code
    }

    pub(super) fn is_quiet(&self) -> bool {
        self.quiet
    }

    /// `error: ...`, `hint: ...`.
    pub(super) fn text(&self) -> String {
        let hint = self.hint.as_ref().map_or(String::new(), |hint| format!("hint: {hint}\n"));
        format!("error: {}\n{hint}", self.what)
    }

    /// The same as one JSON document, schema `gunnel.error/1`.
    pub(super) fn json(&self) -> String {
        #[derive(Serialize)]
        struct Sheet<'a> {
            schema: &'static str,
            ok: bool,
            exit_code: u8,
            error: &'a str,
            hint: Option<&'a str>,
            details: &'a [Detail],
        }
        let sheet = Sheet {
            schema: "gunnel.error/1",
            ok: false,
            exit_code: self.code,
            // The quote of the line and its mark are for people.
            error: self.what.lines().next().unwrap_or_default(),
            hint: self.hint.as_deref(),
            details: &self.details,
        };
        serde_json::to_string_pretty(&sheet).unwrap_or_else(|_| "null".into()) + "\n"
    }
}
