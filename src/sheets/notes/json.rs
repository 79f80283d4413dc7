//! What was said about a plan as one JSON document, schema `gunnel.notes/1`.

use serde::Serialize;

use super::{day, sign_off_lines, state_word, suggestion_lines, thread_title};
use crate::compare::Side;
use crate::review::{STOPS, Suggested, Talk, Thread, Whereabouts, whereabouts};
use crate::sheets::number::Number;
use crate::units::Measure;

/// Everything that was said, schema `gunnel.notes/1`.
pub fn notes_json(now: Side<'_>, talk: &Talk) -> String {
    let count = |state| talk.threads.iter().filter(|thread| state_word(thread.state) == state).count();
    crate::sheets::json(&NotesSheet {
        schema: "gunnel.notes/1",
        plan: now.plan.name.as_str(),
        open: count("open"),
        answered: count("answered"),
        resolved: count("resolved"),
        threads: talk.threads.iter().map(|thread| ThreadSheet::of(now, thread)).collect(),
        stops: stops(now, talk),
        sign_offs: talk.sign_offs.iter().map(|sign_off| SignOffSheet::of(now, sign_off)).collect(),
    })
}

#[derive(Serialize)]
struct NotesSheet<'a> {
    schema: &'static str,
    plan: &'a str,
    open: usize,
    answered: usize,
    resolved: usize,
    threads: Vec<ThreadSheet<'a>>,
    stops: Vec<StopSheet<'a>>,
    sign_offs: Vec<SignOffSheet<'a>>,
}

#[derive(Serialize)]
struct ThreadSheet<'a> {
    thread: String,
    state: &'static str,
    on: &'a str,
    gone: bool,
    x_mm: Option<Number>,
    y_mm: Option<Number>,
    title: String,
    said: Vec<SaidSheet<'a>>,
    suggestion: Option<SuggestionSheet>,
}

#[derive(Serialize)]
struct SaidSheet<'a> {
    by: &'a str,
    /// Seconds since 1970, UTC; 0 for what the plan brought along.
    at_s: u64,
    day: String,
    text: &'a str,
}

#[derive(Serialize)]
struct SuggestionSheet {
    /// `waiting`, `accepted`, `declined`.
    became: &'static str,
    by: Option<String>,
    says: Vec<String>,
}

#[derive(Serialize)]
struct StopSheet<'a> {
    stop: &'static str,
    by: &'a str,
    verdict: &'static str,
    text: &'a str,
    worst_finding: Option<&'static str>,
}

#[derive(Serialize)]
struct SignOffSheet<'a> {
    by: &'a str,
    at_s: u64,
    stands: bool,
    text: &'a str,
    void_by: Vec<String>,
}

impl<'a> ThreadSheet<'a> {
    fn of(now: Side<'_>, thread: &'a Thread) -> Self {
        let plan = now.plan;
        let place = whereabouts(plan, &thread.pin);
        let said = |said: &'a crate::review::Said| SaidSheet {
            by: said.by.as_str(),
            at_s: said.at_s,
            day: day(said.at_s),
            text: said.text.as_str(),
        };
        let suggestion = thread.suggestion.as_ref().map(|suggestion| {
            let (became, by) = match &suggestion.became {
                Suggested::Waiting => ("waiting", None),
                Suggested::Accepted(by) => ("accepted", Some(by.to_string())),
                Suggested::Declined(by, _) => ("declined", Some(by.to_string())),
            };
            SuggestionSheet { became, by, says: suggestion_lines(now, suggestion, Measure::default()) }
        });
        Self {
            thread: thread.id.to_string(),
            state: state_word(thread.state),
            on: thread.pin.called.as_str(),
            gone: matches!(place, Whereabouts::Gone(_)),
            x_mm: place.spot().map(|spot| spot.x.into()),
            y_mm: place.spot().map(|spot| spot.y.into()),
            title: thread_title(plan, thread, Measure::default()),
            said: thread.said.iter().map(said).collect(),
            suggestion,
        }
    }
}

fn stops<'a>(now: Side<'_>, talk: &'a Talk) -> Vec<StopSheet<'a>> {
    let of = |stop: &'static crate::review::Stop| {
        let worst = stop.worst(now.findings).map(|worst| worst.word());
        let here = talk.stops.iter().filter(move |((_, key), _)| key.as_str() == stop.key);
        here.map(move |((by, _), (verdict, text))| StopSheet {
            stop: stop.key,
            by: by.as_str(),
            verdict: verdict.word(),
            text: text.as_str(),
            worst_finding: worst,
        })
    };
    STOPS.iter().flat_map(of).collect()
}

impl<'a> SignOffSheet<'a> {
    fn of(now: Side<'_>, sign_off: &'a crate::review::SignOff) -> Self {
        let (_, void_by) = sign_off_lines(now.plan, sign_off, Measure::default());
        Self {
            by: sign_off.by.as_str(),
            at_s: sign_off.at_s,
            stands: void_by.is_empty(),
            text: sign_off.text.as_str(),
            void_by,
        }
    }
}
