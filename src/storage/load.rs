//! Text to plan, or what is wrong with the text, where, and what to do about it.
//!
//! A text is first looked over as a whole (see [`scan`]): a file of a newer format, brackets without end and numbers
//! that are none are refused before anything is built. Then it is read, with unknown fields refused, and the plan
//! goes through the door of [`Plan::validate`]. What a file says is shown through [`Shown`] only.

mod boat;
mod place;
mod scan;
mod words;

use std::fmt;
use std::path::{Path, PathBuf};

use ron::extensions::Extensions;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

pub use boat::{Boat, boat};
pub use place::Place;
use scan::{Kind, Refusal, Survey, Token, Tokens, survey};
use words::{Beside, Words};

use super::paths;
use crate::catalogue::Interview;
use crate::plan::{FORMAT, Fault, OLDEST_ALIKE, Plan};
use crate::shown::Shown;

/// How a plan is written down.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Format {
    /// Rusty object notation, for people.
    Ron,
    /// JSON, for programs.
    Json,
}

impl Format {
    /// The format a file's ending names; RON for any other ending than `.json`.
    pub fn of_path(path: &Path) -> Self {
        let json = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("json"));
        if json { Self::Json } else { Self::Ron }
    }

    /// The format a text without a name seems to be in: JSON plans begin with `{` and RON plans cannot.
    pub fn of_text(text: &str) -> Self {
        if text.trim_start_matches('\u{feff}').trim_start().starts_with('{') { Self::Json } else { Self::Ron }
    }
}

/// Reads a plan. `file` names the text in errors.
pub fn plan(text: &str, file: &Path, format: Format) -> Result<Plan, LoadError> {
    let text = text.trim_start_matches('\u{feff}');
    let survey = look_over(text, file, format)?;
    let mut plan: Plan = value(text, file, format, &survey)?;
    if let Err(unknown) = bring_up(&mut plan) {
        let place = survey.format.map(|(_, token)| place_of(text, token));
        let what = format!("there is no format {unknown}; this gunnel writes format {FORMAT}");
        let hint = Some(format!("write format: {FORMAT}"));
        return Err(LoadError::one(file, Complaint { place, field: None, what, hint }));
    }
    plan.validate().map_err(|faults| LoadError::faulty(file, faults, text, &survey))?;
    Ok(plan)
}

/// The number of the format a text says it is in, if it does.
pub fn format_number(text: &str, format: Format) -> Option<u64> {
    survey(text, format).format.map(|(number, _)| number)
}

/// Reads what a tape said of a hull, sound as far as it goes.
pub fn interview(text: &str, file: &Path, format: Format) -> Result<Interview, LoadError> {
    let text = text.trim_start_matches('\u{feff}');
    let survey = look_over(text, file, format)?;
    let interview: Interview = value(text, file, format, &survey)?;
    interview.tape.validate().map_err(|faults| LoadError::faulty(file, faults, text, &survey))?;
    Ok(interview)
}

/// Makes a plan of an older format, and the states it keeps, one of the format that is written. From
/// [`OLDEST_ALIKE`] on each format only added to the one before, so that the same types read it and only the number
/// changes; one that takes something away or gives it another meaning needs its own frozen types. Says which number
/// no program wrote.
fn bring_up(plan: &mut Plan) -> Result<(), u32> {
    if !(OLDEST_ALIKE..=FORMAT).contains(&plan.format) {
        return Err(plan.format);
    }
    plan.format = FORMAT;
    plan.revisions.iter_mut().try_for_each(|revision| bring_up(&mut revision.plan))
}

/// Reads any other part of the file format: a catalogue entry, a hull class. Its own door is the caller's business.
pub(super) fn part<T: DeserializeOwned>(text: &str, file: &Path) -> Result<T, LoadError> {
    let survey = look_over(text, file, Format::Ron)?;
    value(text, file, Format::Ron, &survey)
}

/// Whether a text begins with a list.
pub(super) fn is_list(text: &str) -> bool {
    let attribute = |token: &Token| matches!(token.of(text), "#" | "!");
    let mut tokens = Tokens::new(text, Format::Ron).peekable();
    while tokens.next_if(attribute).is_some() {
        // What an attribute enables, up to its closing bracket.
        if tokens.peek().is_some_and(|token| token.kind == Kind::Open) {
            tokens.by_ref().find(|token| token.of(text) == "]");
        }
    }
    tokens.next().is_some_and(|token| token.of(text) == "[")
}

/// The first look; what it refuses is not read at all.
fn look_over(text: &str, file: &Path, format: Format) -> Result<Survey, LoadError> {
    let survey = survey(text, format);
    let refuse = |token: Token, what: String, hint: &str| {
        let complaint = Complaint { place: Some(place_of(text, token)), field: None, what, hint: Some(hint.into()) };
        Err(LoadError::one(file, complaint))
    };
    if let Some((number, token)) = survey.format.filter(|(number, _)| *number > u64::from(FORMAT)) {
        let what = format!("written by a newer gunnel: format {number}, this one reads up to {FORMAT}");
        return refuse(token, what, "update gunnel; the file was not touched");
    }
    match survey.refusal {
        Some((Refusal::TooDeep, token)) => {
            refuse(token, "brackets stand too deep within one another".into(), "no plan needs that; is this one?")
        }
        Some((Refusal::TooMuch, token)) => {
            refuse(token, "there is more here than any plan holds".into(), "is this a plan?")
        }
        Some((Refusal::NotFinite, token)) => {
            let what = format!("{} is not a number a boat can have", Shown(short(token.of(text))));
            refuse(token, what, "write a finite number")
        }
        None => Ok(survey),
    }
}

/// Reads one value and nothing after it.
fn value<T: DeserializeOwned>(text: &str, file: &Path, format: Format, survey: &Survey) -> Result<T, LoadError> {
    let found = match format {
        Format::Ron => ron_value(text),
        Format::Json => json_value(text),
    };
    found.map_err(|trouble| LoadError::one(file, trouble.complaint(text, format, survey)))
}

fn ron_value<T: DeserializeOwned>(text: &str) -> Result<T, Trouble> {
    let options = ron_options();
    let place = |error: &ron::error::SpannedError| {
        let offset = |position: ron::error::Position| Place::offset(text, position.line, position.col);
        offset(error.span.start)..offset(error.span.end)
    };
    let mut reader = ron::Deserializer::from_str_with_options(text, &options).map_err(|error| Trouble {
        at: place(&error),
        field: None,
        words: Words::of_ron(&error.code),
    })?;
    let value = serde_path_to_error::deserialize(&mut reader).map_err(|error| {
        let field = field_words(error.path());
        let spanned = reader.span_error(error.into_inner());
        Trouble { at: place(&spanned), field, words: Words::of_ron(&spanned.code) }
    })?;
    reader.end().map_err(|error| {
        let spanned = reader.span_error(error);
        Trouble { at: place(&spanned), field: None, words: Words::of_ron(&spanned.code) }
    })?;
    Ok(value)
}

/// RON with optional fields written plainly; `Some(...)` is understood too.
pub(super) fn ron_options() -> ron::Options {
    ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME)
}

fn json_value<T: DeserializeOwned>(text: &str) -> Result<T, Trouble> {
    let mut reader = serde_json::Deserializer::from_str(text);
    let trouble = |error: &serde_json::Error, field: Option<String>| {
        // The column is that of the byte just read, counted in bytes.
        let line_start = Place::offset(text, error.line(), 1);
        let at = (line_start + error.column().saturating_sub(1)).min(text.len());
        let words = Words::of_json(error, field.is_some());
        Trouble { at: at..at + 1, field, words }
    };
    let value = serde_path_to_error::deserialize(&mut reader)
        .map_err(|error| trouble(error.inner(), field_words(error.path())))?;
    reader.end().map_err(|error| trouble(&error, None))?;
    Ok(value)
}

/// A path of fields as a person counts: `gear, entry 3, spec, mass`.
fn field_words(path: &serde_path_to_error::Path) -> Option<String> {
    use serde_path_to_error::Segment;
    let words: Vec<String> = path
        .iter()
        .filter_map(|segment| match segment {
            Segment::Seq { index } => Some(format!("entry {}", index + 1)),
            Segment::Map { key } => Some(key.clone()),
            Segment::Enum { variant } => Some(variant.clone()),
            Segment::Unknown => None,
        })
        .collect();
    (!words.is_empty()).then(|| words.join(", "))
}

/// An error of a reader: roughly where, in which field, and in our words.
struct Trouble {
    at: std::ops::Range<usize>,
    field: Option<String>,
    words: Words,
}

impl Trouble {
    fn complaint(self, text: &str, format: Format, survey: &Survey) -> Complaint {
        let Some(first) = Tokens::new(text, format).next() else { return empty(text) };
        let nothing_follows = text.as_bytes()[self.at.end.min(text.len())..].trim_ascii().is_empty();
        if let (true, false, Some(opened)) = (nothing_follows, self.words.explains_itself, survey.unclosed) {
            return too_short(text, opened);
        }
        let token = self.token(text, format);
        if token == Some(first) && self.field.is_none() {
            return no_plan(text, first, format);
        }
        let beside = match token {
            Some(token) if is_value_of_a_unit(text, format, token) => Beside::Unit,
            Some(token) if is_in_a_unit(text, format, token) => Beside::Quantity,
            _ => Beside::Other,
        };
        let piece = token.filter(|token| token.end > self.at.start).map_or("", |token| token.of(text));
        let field = self.field_around();
        let words = self.words.at(piece, beside);
        let (start, end) = token.map_or((self.at.start, self.at.end), |token| (token.start, token.end));
        Complaint { place: Some(Place::of(text, start, end)), field, what: words.what, hint: words.hint }
    }

    /// The field the trouble is in: without a last name that is itself what is not known.
    fn field_around(&self) -> Option<String> {
        let field = self.field.clone()?;
        let Some(found) = self.words.found.as_deref() else { return Some(field) };
        match field.strip_suffix(found) {
            Some("") => None,
            Some(around) => Some(around.strip_suffix(", ").unwrap_or(&field).to_string()),
            None => Some(field),
        }
    }

    /// The piece of text to point at: the name that was not known if it stands near, else what the reader was at.
    fn token(&self, text: &str, format: Format) -> Option<Token> {
        if self.words.ahead {
            return Tokens::new(text, format).find(|token| token.start >= self.at.start);
        }
        let upto = self.at.end.max(self.at.start + 1);
        let until: Vec<Token> = Tokens::new(text, format).take_while(|token| token.start < upto).collect();
        let named = self
            .words
            .found
            .as_deref()
            .and_then(|found| until.iter().rev().take(6).find(|token| token.of(text).trim_matches('"') == found));
        let at = || {
            let telling = |token: &&Token| matches!(token.kind, Kind::Word | Kind::Text);
            until.iter().rev().take(3).find(telling).or(until.last())
        };
        named.or_else(at).copied()
    }
}

/// Whether a JSON value belongs to a key like `"Mm"`, which is the name of a unit.
fn is_value_of_a_unit(text: &str, format: Format, value: Token) -> bool {
    let mut before = Tokens::new(text, format).take_while(|token| token.start < value.start).collect::<Vec<_>>();
    let colon = before.pop().is_some_and(|token| token.kind == Kind::Colon);
    let unit = |key: Token| key.of(text).trim_start_matches('"').starts_with(char::is_uppercase);
    format == Format::Json && colon && before.pop().is_some_and(unit)
}

/// Whether a RON value stands in the bracket of a unit: `Mm(840)`.
fn is_in_a_unit(text: &str, format: Format, value: Token) -> bool {
    let mut before = Tokens::new(text, format).take_while(|token| token.start < value.start).collect::<Vec<_>>();
    let opened = before.pop().is_some_and(|token| token.of(text) == "(");
    let unit = |name: Token| name.kind == Kind::Word && name.of(text).starts_with(char::is_uppercase);
    format == Format::Ron && opened && before.pop().is_some_and(unit)
}

fn empty(text: &str) -> Complaint {
    let hint = "look for a backup, or start anew with gunnel new";
    Complaint {
        place: Some(Place::of(text, 0, 0)),
        field: None,
        what: "the file is empty".into(),
        hint: Some(hint.into()),
    }
}

fn too_short(text: &str, opened: usize) -> Complaint {
    Complaint {
        place: Some(Place::of(text, opened, opened + 1)),
        field: None,
        what: "the file ends too early: this bracket is never closed".into(),
        hint: Some("look for a backup, or close the bracket by hand".into()),
    }
}

fn no_plan(text: &str, first: Token, format: Format) -> Complaint {
    let (name, other) = match format {
        Format::Ron => ("RON", "a plan in RON begins with ( and one in JSON with {"),
        Format::Json => ("JSON", "a plan in JSON begins with { and one in RON with ("),
    };
    Complaint {
        place: Some(place_of(text, first)),
        field: None,
        what: format!("this is no plan in {name}"),
        hint: Some(format!("{other}; --format says which it is")),
    }
}

fn place_of(text: &str, token: Token) -> Place {
    Place::of(text, token.start, token.end)
}

/// Enough of a word to know it by.
fn short(word: &str) -> &str {
    word.char_indices().nth(40).map_or(word, |(at, _)| &word[..at])
}

/// Why a text is no plan. The file it came from was not touched.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadError {
    /// The file, as it was asked for.
    pub file: PathBuf,
    /// What is wrong, at least one thing.
    pub complaints: Vec<Complaint>,
}

/// One thing that is wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Complaint {
    /// Where, if that can be told.
    pub place: Option<Place>,
    /// In which field: `gear, entry 3, spec`.
    pub field: Option<String>,
    /// What, in words that are safe to show.
    pub what: String,
    /// What to do about it.
    pub hint: Option<String>,
}

impl LoadError {
    fn one(file: &Path, complaint: Complaint) -> Self {
        Self { file: file.to_path_buf(), complaints: vec![complaint] }
    }

    fn faulty(file: &Path, faults: Vec<Fault>, text: &str, survey: &Survey) -> Self {
        let complaints = faults.into_iter().map(|fault| Complaint::of_fault(fault, text, survey)).collect();
        Self { file: file.to_path_buf(), complaints }
    }

    /// What to do about the first thing that is wrong.
    pub fn hint(&self) -> Option<&str> {
        self.complaints.iter().find_map(|complaint| complaint.hint.as_deref())
    }
}

impl Complaint {
    fn of_fault(fault: Fault, text: &str, survey: &Survey) -> Self {
        let place = survey.part(&fault.field).map(|token| place_of(text, token));
        Self { place, field: Some(Shown(&fault.field).to_string()), what: Shown(&fault.what).to_string(), hint: None }
    }

    /// `12:9: ` or nothing.
    fn spot(&self) -> String {
        self.place.as_ref().map_or(String::new(), |place| format!("{}:{}:", place.line, place.column))
    }
}

impl fmt::Display for LoadError {
    /// `file:line:column: what is wrong`, the line, and a mark under the place.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let file = paths::shown(&self.file);
        for (number, complaint) in self.complaints.iter().enumerate() {
            if number > 0 {
                writeln!(f)?;
            }
            write!(f, "{file}:{} {complaint}", complaint.spot())?;
            if let Some(place) = &complaint.place {
                write!(f, "\n{place}")?;
            }
        }
        Ok(())
    }
}

impl fmt::Display for Complaint {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.field {
            Some(field) => write!(f, "{}: {}", Shown(field), self.what),
            None => write!(f, "{}", self.what),
        }
    }
}

impl std::error::Error for LoadError {}
