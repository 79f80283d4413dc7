//! What each verb does.

use std::path::Path;
use std::time::{SystemTime, UNIX_EPOCH};

use super::answer::{put, warn};
use super::arguments::{CatalogueArguments, Check, FormatChoice, Level, New, Show};
use super::{Failure, Surroundings, exit};
use crate::catalogue::plan_on;
use crate::checks::{self, CHECKS, Severity};
use crate::nearest::nearest;
use crate::plan::{Hull, Name, Plan};
use crate::sheets;
use crate::shown::Shown;
use crate::storage::atomic::Saver;
use crate::storage::holder::Holder;
use crate::storage::library::Library;
use crate::storage::load::{self, Format};
use crate::storage::lock::{Lock, LockError};
use crate::storage::paths::{self, Folders};
use crate::storage::source::{self, Generation, ReadError};
use crate::storage::write;
use crate::study::Study;
use crate::study::float::moves::Moves;
use crate::units::Measure;

pub(super) fn check(arguments: &Check, around: &mut Surroundings<'_>) -> Result<u8, Failure> {
    let plan = read(&arguments.input.plan, arguments.input.format, around)?;
    let study = Study::of(&plan);
    let findings = checks::run(&plan, &study);
    let answer = match (arguments.json, arguments.plain) {
        (true, _) => sheets::check_json(&plan, &study, &findings),
        (_, true) => sheets::check_plain(&plan, &findings),
        _ => sheets::check_text(&plan, &study, &findings, Measure::default()),
    };
    put(around, answer.as_bytes())?;
    let stop = findings.iter().any(|finding| finding.severity == Severity::Stop);
    Ok(if stop { exit::STOP } else { exit::CLEAN })
}

pub(super) fn show(arguments: &Show, around: &mut Surroundings<'_>) -> Result<u8, Failure> {
    let plan = read(&arguments.input.plan, arguments.input.format, around)?;
    let study = Study::of(&plan);
    let answer = if arguments.json {
        sheets::show_json(&plan, &study, &checks::run(&plan, &study))
    } else {
        sheets::show_text(&plan, &study, Measure::default())
    };
    put(around, answer.as_bytes())
}

pub(super) fn level(arguments: &Level, around: &mut Surroundings<'_>) -> Result<u8, Failure> {
    let plan = read(&arguments.input.plan, arguments.input.format, around)?;
    let study = Study::of(&plan);
    let findings = checks::run(&plan, &study);
    let moves = Moves::find(&plan, &study, &checks::no_worse(&findings));
    let answer = if arguments.json {
        sheets::level_json(&plan, &moves)
    } else {
        sheets::level_text(&plan, &study, &moves, Measure::default())
    };
    put(around, answer.as_bytes())?;
    Ok(if moves.can_be_level() { exit::CLEAN } else { exit::STOP })
}

pub(super) fn explain(id: Option<&str>, around: &mut Surroundings<'_>) -> Result<u8, Failure> {
    let Some(id) = id else { return put(around, sheets::checks_text().as_bytes()) };
    if let Some(check) = checks::by_id(id) {
        return put(around, sheets::explain_text(check).as_bytes());
    }
    let ids = || CHECKS.iter().map(|check| check.id);
    let meant = nearest(id, ids()).map_or(String::new(), |meant| format!("did you mean {meant}? "));
    let all: Vec<&str> = ids().collect();
    Err(Failure::usage(
        &format!("no check is called \"{}\"", Shown(id)),
        &format!("{meant}there are {}", all.join(", ")),
    ))
}

pub(super) fn catalogue(
    arguments: &CatalogueArguments,
    folders: &Folders,
    around: &mut Surroundings<'_>,
) -> Result<u8, Failure> {
    let catalogue = library(folders, around).catalogue();
    let found = catalogue.search(&arguments.words.join(" "));
    if found.is_empty() && !arguments.json {
        warn(around, "nothing in the catalogue matches all of these words");
    }
    let answer = if arguments.json { sheets::catalogue_json(&found) } else { sheets::catalogue_text(&found) };
    put(around, answer.as_bytes())
}

pub(super) fn new(arguments: &New, folders: &Folders, around: &mut Surroundings<'_>) -> Result<u8, Failure> {
    let library = library(folders, around);
    let mut plan = match &arguments.tape {
        Some(tape) => measured(tape, &library, around)?,
        None => plan_on(class(&library, arguments.hull.as_deref().unwrap_or_default(), exit::USAGE)?),
    };
    if let Some(name) = &arguments.name {
        plan.name = Name::new(name.as_str())
            .map_err(|fault| Failure::usage(&format!("--name \"{}\": {fault}", Shown(name)), "choose another name"))?;
    }
    let file = arguments.output.as_path();
    let format = arguments.format.map_or_else(|| Format::of_path(file), Format::from);
    let text = write::plan(&plan, format).map_err(|error| Failure::new(exit::UNREADABLE, &error.to_string(), None))?;
    if file == Path::new("-") {
        return put(around, text.as_bytes());
    }
    save(file, text.as_bytes(), arguments.force, folders, around)
}

/// Which hull classes there are, the one that was most likely meant first.
pub(super) fn hull_classes(library: &Library, asked: &str) -> String {
    let keys: Vec<&str> = library.all_hulls().iter().map(|class| class.key().as_str()).collect();
    let meant = nearest(asked, keys.iter().copied());
    let meant = meant.map_or(String::new(), |meant| format!("did you mean {meant}? "));
    format!("{meant}there are {}", keys.join(", "))
}

/// A plan on the hull of a tape; what looks wrong with it is told on the way.
fn measured(tape: &Path, library: &Library, around: &mut Surroundings<'_>) -> Result<Plan, Failure> {
    let (text, file, format) = text_of(tape, None, around).map_err(|error| Failure::reading(&error))?;
    let interview = load::interview(&text, file, format).map_err(|error| Failure::loading(&error))?;
    let class = class(library, interview.class.as_str(), exit::UNREADABLE)?;
    for doubt in interview.tape.filled(class).doubts() {
        warn(around, &format!("{} {}", doubt.says, doubt.remedy));
    }
    interview.plan(class).map_err(|faults| {
        let faults: Vec<String> = faults.iter().map(|fault| format!("{}: {fault}", paths::shown(file))).collect();
        Failure::new(exit::UNREADABLE, &faults.join("\n"), Some("measure again, or leave it to the class"))
    })
}

/// The hull class of this name; `code` is the exit code when there is none.
fn class<'a>(library: &'a Library, key: &str, code: u8) -> Result<&'a Hull, Failure> {
    if let Some(class) = library.hull(key) {
        return Ok(&class.hull);
    }
    let hint = hull_classes(library, key);
    Err(Failure::new(code, &format!("no hull class is called \"{}\"", Shown(key)), Some(&hint)))
}

/// Writes a file as the screen does: never over one that is there unless asked, never while somebody edits it.
pub(super) fn save(
    file: &Path,
    content: &[u8],
    replace: bool,
    folders: &Folders,
    around: &mut Surroundings<'_>,
) -> Result<u8, Failure> {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default().as_secs();
    let lock = Lock::take(file, folders.state().as_deref(), &Holder::this_process(&around.env, since));
    if let Err(error @ LockError::Held { .. }) = &lock {
        return Err(Failure::locking(file, error));
    }
    let expected = match Generation::at(file) {
        Ok(found) if replace => Some(found),
        Err(error) if !error.is_missing() => return Err(Failure::reading(&error)),
        // A file that is there and may not be replaced is refused by the save itself.
        _ => None,
    };
    let saved = Saver::new(folders.state())
        .save(file, content, expected.as_ref())
        .map_err(|error| Failure::saving(file, &error))?;
    for warning in saved.warnings {
        warn(around, &warning.to_string());
    }
    Ok(exit::CLEAN)
}

/// Reads the plan that was named, or standard input.
pub(super) fn read(
    plan: &Path,
    explicit: Option<FormatChoice>,
    around: &mut Surroundings<'_>,
) -> Result<Plan, Failure> {
    let (text, file, format) = text_of(plan, explicit, around).map_err(|error| Failure::reading(&error))?;
    load::plan(&text, file, format).map_err(|error| Failure::loading(&error))
}

/// The text of a file or of standard input, what to call it in errors, and how it is written.
pub(super) fn text_of<'a>(
    path: &'a Path,
    explicit: Option<FormatChoice>,
    around: &mut Surroundings<'_>,
) -> Result<(String, &'a Path, Format), ReadError> {
    let explicit = explicit.map(Format::from);
    if path == Path::new("-") {
        let name = Path::new("standard input");
        let text = source::read_stream(name, &mut *around.input)?;
        let format = explicit.unwrap_or_else(|| Format::of_text(&text));
        return Ok((text, name, format));
    }
    Ok((source::read(path)?.text, path, explicit.unwrap_or_else(|| Format::of_path(path))))
}

/// The person's own entries; files that cannot be used are named on the way.
pub(super) fn library(folders: &Folders, around: &mut Surroundings<'_>) -> Library {
    let library = Library::read(folders.data());
    for trouble in &library.troubles {
        warn(around, trouble);
    }
    library
}
