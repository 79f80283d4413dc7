//! Two plans side by side, in words.

mod json;

pub use json::compare_json;

use super::float::{list_words, trim_words};
use super::number::{plain, with_unit};
use crate::compare::{Change, Comparison, Detail, How, Number, Turn, Verdict};
use crate::plan::{AnyQuantity, Fate};
use crate::shown::Shown;
use crate::units::{Current, Measure, Quantity};

/// What the two plans that are compared are called.
#[derive(Clone, Copy, Debug)]
pub struct Names<'a> {
    /// The earlier one.
    pub then: &'a str,
    /// The later one.
    pub now: &'a str,
}

/// A comparison to read: what was done, which numbers of which panel that changed, which findings turned.
pub fn compare_text(names: Names<'_>, comparison: &Comparison, tape: Measure) -> String {
    let title = format!("from {} to {}", Shown(names.then), Shown(names.now));
    if comparison.is_empty() {
        return format!("{title}: no difference\n");
    }
    let done = comparison.changes.iter().map(|change| format!("{}: {}", change.name, change_words(change, tape)));
    let numbers = comparison.numbers.iter().filter(|number| !number.is_same());
    let numbers = numbers.map(|number| number_line(number, tape));
    let verdicts = comparison.verdicts.iter().map(verdict_words);
    let mut text = format!("{title}\n");
    section(&mut text, "what was done", done);
    section(&mut text, "what that changed", numbers);
    section(&mut text, "findings", verdicts);
    text
}

fn section(text: &mut String, title: &str, lines: impl Iterator<Item = String>) {
    let lines: Vec<String> = lines.map(|line| format!("  {}\n", Shown(&line))).collect();
    if !lines.is_empty() {
        text.push_str(&format!("\n{title}\n{}", lines.concat()));
    }
}

/// What was done to a part: `added`, `moved 310 mm aft; turned from 0 to 45 deg`.
pub fn change_words(change: &Change, tape: Measure) -> String {
    match &change.how {
        How::Added => "added".into(),
        How::Gone => "gone".into(),
        How::Altered(details) if details.is_empty() => "changed".into(),
        How::Altered(details) => details.iter().map(|detail| detail_words(detail, tape)).collect::<Vec<_>>().join("; "),
    }
}

fn detail_words(detail: &Detail, tape: Measure) -> String {
    match detail {
        Detail::Moved { from, to, raise_mm } => {
            let shift = tape.shift(to.x - from.x, to.y - from.y);
            let way = if *raise_mm > 0.0 { "up" } else { "down" };
            let raise = (raise_mm.abs() >= 0.5).then(|| format!("{} {way}", tape.length(raise_mm.abs())));
            let parts: Vec<String> = (!shift.is_empty()).then_some(shift).into_iter().chain(raise).collect();
            if parts.is_empty() { "moved by less than 1 mm".into() } else { format!("moved {}", parts.join(", ")) }
        }
        Detail::Turned { from_deg, to_deg } => format!("turned from {} to {} deg", plain(*from_deg), plain(*to_deg)),
        Detail::Level { from, to } => format!("now {}, was {}", to.word(), from.word()),
        Detail::Aboard => "came aboard".into(),
        Detail::Ashore => "went ashore".into(),
        Detail::Remounted { from, to } => format!("held by {}, was {}", to.word(), from.word()),
        Detail::Exchanged { from, to } => format!("now a {to}, was a {from}"),
        Detail::Figure { figure, from, to } => {
            format!("{} {}, was {}", figure.label(), quantity_words(*to, tape), quantity_words(*from, tape))
        }
        Detail::Respecified => "specified otherwise".into(),
        Detail::Renamed { from } => format!("was called {from}"),
        Detail::Sealed { from, to } => format!("sealed with {}, was {}", to.word(), from.word()),
        Detail::State { from, to } => format!("now {}, was {}", to.word(), from.word()),
        Detail::Done { from, to } => format!("done on {to}, was {from}"),
        Detail::Fate { from, to } => format!("{}, was {}", fate_words(*to), fate_words(*from)),
        Detail::Sits { from_mm, to_mm } => format!("moved {}", tape.along(to_mm - from_mm)),
        Detail::Fused { from, to } => {
            let fuse = |fuse: &Option<Current>| fuse.map_or("none".into(), |fuse| with_unit(fuse.base(), "A"));
            format!("fuse {}, was {}", fuse(to), fuse(from))
        }
        Detail::Wired { from, to } => {
            let gauge = |gauge: &Option<u8>| gauge.map_or("open".into(), |awg| format!("{awg} AWG"));
            format!("wire {}, was {}", gauge(to), gauge(from))
        }
        Detail::Feeds { load, now: true } => format!("feeds {load}"),
        Detail::Feeds { load, now: false } => format!("feeds {load} no more"),
        Detail::Called(name) => format!("now {name}"),
        Detail::Pinned(true) => "pinned".into(),
        Detail::Pinned(false) => "not pinned any more".into(),
    }
}

fn fate_words(fate: Fate) -> String {
    match fate {
        Fate::New => "to be drilled".into(),
        Fate::Open => "open".into(),
        Fate::Reused(gear) => format!("used by {gear}"),
        Fate::Plugged(plug) => format!("closed by {}", plug.word()),
    }
}

fn quantity_words(quantity: AnyQuantity, tape: Measure) -> String {
    match quantity {
        AnyQuantity::Length(length) => tape.length(length.to_mm()),
        other => format!("{} {}", plain(other.base()), other.unit()),
    }
}

/// `Power budget, charge over the day: 38.1 Ah, was 41.6 Ah`.
pub fn number_line(number: &Number, tape: Measure) -> String {
    format!("{}, {}: {}", number.panel, number.label, number_words(number, tape))
}

/// `38.1 Ah, was 41.6 Ah`; trim and list say which way.
pub fn number_words(number: &Number, tape: Measure) -> String {
    let words = |value| number_value(number, value, tape);
    format!("{}, was {}", words(number.now), words(number.then))
}

/// A value of this number in words: `38.1 Ah`, `0.4 deg bow down`, `none`.
pub fn number_value(number: &Number, value: Option<f64>, tape: Measure) -> String {
    match value {
        None => "none".into(),
        Some(value) => match number.key {
            "trim_deg" => trim_words(value),
            "heel_deg" => list_words(value),
            _ if number.unit == "mm" => signed_length(value, tape),
            _ if number.unit.is_empty() => plain(value),
            _ => with_unit(value, number.unit),
        },
    }
}

/// A freeboard or GM below zero is said to be so.
fn signed_length(mm: f64, tape: Measure) -> String {
    let below = if mm < -0.5 { " below zero" } else { "" };
    format!("{}{below}", tape.length(mm))
}

/// `new stop, reach-over, switch unit: it cannot be touched from the seat`; `cleared caution, ...`.
pub fn verdict_words(verdict: &Verdict) -> String {
    let finding = &verdict.finding;
    let weight = match (verdict.turn, verdict.was) {
        (Turn::Worse | Turn::Eased, Some(was)) => {
            format!("{}: {}, was {}", verdict.turn.word(), finding.severity.word(), was.word())
        }
        _ => format!("{} {}", verdict.turn.word(), finding.severity.word()),
    };
    format!("{weight}, {}, {}: {}", finding.check, verdict.subject, finding.says)
}
