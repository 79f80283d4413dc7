//! What was said about a plan: to read, as Markdown, and as the one JSON document of `gunnel notes`.

mod json;

pub use json::notes_json;

use super::compare::{change_words, number_line, verdict_words};
use super::place::station;
use crate::checks::Finding;
use crate::compare::Side;
use crate::plan::{Key, Plan, ThreadState};
use crate::review::{
    Outlook, STOPS, SignOff, Stop, Suggested, Suggestion, Talk, Thread, Verdict, Whereabouts, whereabouts,
};
use crate::shown::Shown;
use crate::units::Measure;

/// How a page of notes is marked up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Markup {
    /// Plain text.
    Text,
    /// Markdown: headings and lists; what people wrote is escaped.
    Markdown,
}

/// Everything that was said, the threads that wait first.
pub fn notes_page(now: Side<'_>, talk: &Talk, markup: Markup, tape: Measure) -> String {
    let page = Page { markup };
    let plan = now.plan;
    let mut text = page.title(&format!("what was said about {}", plan.name));
    for state in [ThreadState::Open, ThreadState::Answered, ThreadState::Resolved] {
        let threads: Vec<&Thread> = talk.threads.iter().filter(|thread| thread.state == state).collect();
        if threads.is_empty() {
            continue;
        }
        text.push_str(&page.heading(&format!("{} {}", threads.len(), state_word(state))));
        for thread in threads {
            text.push_str(&page.item(&thread_title(plan, thread, tape)));
            let said = thread.said.iter().map(|said| format!("{}, {}: {}", said.by, day(said.at_s), said.text));
            let suggested = thread.suggestion.iter().flat_map(|it| suggestion_lines(now, it, tape));
            text.extend(said.chain(suggested).map(|line| page.below(&line)));
        }
    }
    let stops = stop_lines(talk, now.findings);
    if !stops.is_empty() {
        text.push_str(&page.heading("checklist"));
        text.extend(stops.iter().map(|line| page.item(line)));
    }
    if !talk.sign_offs.is_empty() {
        text.push_str(&page.heading("sign-off"));
        for sign_off in &talk.sign_offs {
            let (line, why) = sign_off_lines(plan, sign_off, tape);
            text.push_str(&page.item(&line));
            text.extend(why.iter().map(|line| page.below(line)));
        }
    }
    if talk.threads.is_empty() && stops.is_empty() && talk.sign_offs.is_empty() {
        text.push_str("\nnothing was said yet\n");
    }
    text
}

struct Page {
    markup: Markup,
}

impl Page {
    fn title(&self, text: &str) -> String {
        match self.markup {
            Markup::Text => format!("{}\n", Shown(text)),
            Markup::Markdown => format!("# {}\n", escaped(text)),
        }
    }

    fn heading(&self, text: &str) -> String {
        match self.markup {
            Markup::Text => format!("\n{}\n", Shown(text)),
            Markup::Markdown => format!("\n## {}\n\n", escaped(text)),
        }
    }

    fn item(&self, text: &str) -> String {
        match self.markup {
            Markup::Text => format!("  {}\n", Shown(text)),
            Markup::Markdown => format!("- {}\n", escaped(text)),
        }
    }

    fn below(&self, text: &str) -> String {
        match self.markup {
            Markup::Text => format!("    {}\n", Shown(text)),
            Markup::Markdown => format!("  - {}\n", escaped(text)),
        }
    }
}

/// Text in Markdown that cannot become markup, a link or HTML.
fn escaped(text: &str) -> String {
    let shown = Shown(text).to_string();
    let mut escaped = String::with_capacity(shown.len());
    for letter in shown.chars() {
        if letter.is_ascii_punctuation() && !matches!(letter, ',' | '.' | ':' | ';' | '-' | '?' | '\'' | '%' | '/') {
            escaped.push('\\');
        }
        escaped.push(letter);
    }
    escaped
}

/// `open`, `answered`, `resolved`.
pub fn state_word(state: ThreadState) -> &'static str {
    match state {
        ThreadState::Open => "open",
        ThreadState::Answered => "answered",
        ThreadState::Resolved => "resolved",
    }
}

/// The day of a moment, UTC: `2031-05-30`; of what a plan brought along, `before`.
pub fn day(at_s: u64) -> String {
    let moment = i64::try_from(at_s).ok().and_then(|at| time::OffsetDateTime::from_unix_timestamp(at).ok());
    match moment {
        Some(moment) if at_s > 0 => moment.date().to_string(),
        _ => "before".into(),
    }
}

/// `partner 3, on switch unit, 1220 mm from stern, 310 mm to port, gunwale`.
pub fn thread_title(plan: &Plan, thread: &Thread, tape: Measure) -> String {
    let about = format!("{}, on {}", thread.id, thread.pin.called);
    match whereabouts(plan, &thread.pin) {
        Whereabouts::Nowhere => about,
        Whereabouts::At(spot) => format!("{about}, {}", station(plan, spot, tape)),
        Whereabouts::Gone(Some(spot)) => format!("{about}, which is gone; it was {}", station(plan, spot, tape)),
        Whereabouts::Gone(None) => format!("{about}, which is gone"),
    }
}

/// What is suggested, and what came of it or what it would change.
pub fn suggestion_lines(now: Side<'_>, suggestion: &Suggestion, tape: Measure) -> Vec<String> {
    let became = match &suggestion.became {
        Suggested::Waiting => "suggested".into(),
        Suggested::Accepted(by) => format!("taken over by {by}"),
        Suggested::Declined(by, reason) => format!("declined by {by}, {reason}"),
    };
    let outlook = Outlook::of(now, suggestion, tape);
    let edits = outlook.labels.iter().map(|label| format!("{became}: {label}"));
    let refused = outlook.refused.iter().map(|why| format!("cannot be done any more: {why}"));
    let turned = outlook.verdicts.iter().map(|verdict| format!("would be {}", verdict_words(verdict)));
    let numbers = outlook.numbers.iter().map(|number| format!("would be {}", number_line(number, tape)));
    edits.chain(refused).chain(numbers).chain(turned).collect()
}

/// The stops that somebody looked at, in the order of the walk: `trim, partner: in doubt, bow down? (a caution stands)`.
fn stop_lines(talk: &Talk, findings: &[Finding]) -> Vec<String> {
    let mut looked_at: Vec<_> = talk.stops.iter().collect();
    let place = |key: &Key| STOPS.iter().position(|stop| stop.key == key.as_str());
    looked_at.sort_by_key(|((_, stop), _)| place(stop));
    looked_at
        .into_iter()
        .map(|((by, stop), (verdict, text))| stop_line(findings, by, stop, *verdict, text.as_str()))
        .collect()
}

fn stop_line(findings: &[Finding], by: &Key, stop: &Key, verdict: Verdict, text: &str) -> String {
    let worst = Stop::named(stop.as_str()).and_then(|stop| stop.worst(findings));
    let stands = worst.map_or(String::new(), |worst| format!(" (a {} stands)", worst.word()));
    let text = if text.is_empty() { String::new() } else { format!(", {text}") };
    format!("{stop}, {by}: {}{text}{stands}", verdict.word())
}

/// Whether a sign-off stands, and what voids it.
pub fn sign_off_lines(plan: &Plan, sign_off: &SignOff, tape: Measure) -> (String, Vec<String>) {
    let said = if sign_off.text.is_empty() { String::new() } else { format!(": {}", sign_off.text) };
    let changes = crate::compare::changes(&sign_off.plan, plan);
    let stands = if changes.is_empty() { "stands" } else { "void" };
    let why = changes.iter().map(|change| format!("since then {}: {}", change.name, change_words(change, tape)));
    (format!("{}, {}, {stands}{said}", sign_off.by, day(sign_off.at_s)), why.collect())
}
