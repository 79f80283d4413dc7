//! The checklist, walked stop by stop: the question, the numbers and findings that answer it, and what is said of it.

use crate::compare::{Comparison, Side};
use crate::plan::{Key, Note};
use crate::review::checklist::Shows;
use crate::review::{Deed, STOPS, Stop, Verdict};
use crate::sheets::{number_value, sign_off_lines};
use crate::shown::Shown;
use crate::tui::app::{App, Editor, Focus};
use crate::tui::layer::{Layer, Page, Speech, Verb};
use crate::tui::panels::PanelKind;

/// Opens the stop at this place; the one behind the last is the sign-off.
pub(super) fn show(app: &mut App, at: usize) {
    let at = at.min(STOPS.len());
    if let Some(editor) = app.editor_mut() {
        editor.focus = STOPS.get(at).and_then(|stop| panel(stop.shows)).map_or(Focus::Deck, Focus::Panel);
    }
    if let Some(page) = page(app, at) {
        app.layers.push(Layer::Page(page));
    }
}

/// Opens the first stop that whoever sits here has not looked at.
pub(super) fn walk(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let Some(author) = editor.voice.author() else { return };
    if editor.file.path.is_none() {
        app.refuse("save the plan first: what is said about it lies beside it");
        return;
    }
    let seen =
        |stop: &Stop| Key::new(stop.key).is_ok_and(|key| editor.voice.talk.stops.contains_key(&(author.clone(), key)));
    let first = STOPS.iter().position(|stop| !seen(stop)).unwrap_or(STOPS.len());
    show(app, first);
}

/// The place of a stop.
pub(super) fn position(key: &str) -> Option<usize> {
    STOPS.iter().position(|stop| stop.key == key)
}

/// What was said of the stop at this place.
pub(super) fn judged(at: usize, verdict: Verdict, text: Note) -> Option<Deed> {
    let stop = Key::new(STOPS.get(at)?.key).ok()?;
    Some(Deed::Stop { stop, verdict, text })
}

fn panel(shows: Shows) -> Option<PanelKind> {
    match shows {
        Shows::Power | Shows::Wiring => Some(PanelKind::Power),
        Shows::Holes => Some(PanelKind::Penetrations),
        Shows::Reach => Some(PanelKind::Reach),
        Shows::Clearances => Some(PanelKind::Clearances),
        Shows::Float => Some(PanelKind::Float),
        Shows::Words => None,
    }
}

/// The page of a stop.
pub(super) fn page(app: &App, at: usize) -> Option<Page> {
    let editor = app.editor()?;
    let Some(stop) = STOPS.get(at) else { return Some(last(app, editor)) };
    let mut lines = vec![stop.asks.to_string(), String::new()];
    let now = Side { plan: editor.session.plan(), study: editor.session.study(), findings: editor.session.findings() };
    for number in Comparison::of(now, now).numbers.iter().filter(|number| stop.numbers.contains(&number.key)) {
        lines.push(format!("{}: {}", number.label, number_value(number, number.now, app.look.tape)));
    }
    let findings = stop.findings(now.findings);
    lines.extend(findings.iter().map(|finding| format!("{}: {}", finding.severity.word(), finding.says)));
    if findings.is_empty() && !stop.checks.is_empty() {
        lines.push("no finding stands against it".into());
    }
    for ((by, key), (verdict, text)) in &editor.voice.talk.stops {
        if key.as_str() == stop.key {
            let text = if text.is_empty() { String::new() } else { format!(", {text}") };
            lines.push(format!("{by}: {}{text}", verdict.word()));
        }
    }
    let mut verbs = vec![
        Verb::new("g", "good", Speech::Judge(at, Verdict::Good)),
        Verb::new("d", "doubt", Speech::Judge(at, Verdict::Doubt)),
        Verb::new("n", "does not apply", Speech::Judge(at, Verdict::Apart)),
        Verb::new("right", "next", Speech::Stop(at + 1)),
    ];
    verbs.extend(at.checked_sub(1).map(|before| Verb::new("left", "back", Speech::Stop(before))));
    let title = format!("{} of {}, {}", at + 1, STOPS.len(), stop.group);
    Some(shown(title, &lines, verbs, at))
}

/// The end of the walk: the sign-off.
fn last(app: &App, editor: &Editor) -> Page {
    let talk = &editor.voice.talk;
    let mut lines = vec!["A sign-off holds for the plan as it is now. Any change voids it.".to_string()];
    for sign_off in &talk.sign_offs {
        let (line, why) = sign_off_lines(editor.session.plan(), sign_off, app.look.tape);
        lines.push(line);
        lines.extend(why);
    }
    let mut verbs = vec![Verb::new("s", "sign off", Speech::SignOff)];
    if talk.sign_offs.iter().any(|sign_off| Some(&sign_off.by) == editor.voice.author().as_ref()) {
        verbs.push(Verb::new("w", "withdraw", Speech::Withdraw));
    }
    verbs.push(Verb::new("left", "back", Speech::Stop(STOPS.len() - 1)));
    shown("sign-off".into(), &lines, verbs, STOPS.len())
}

fn shown(title: String, lines: &[String], verbs: Vec<Verb>, at: usize) -> Page {
    let lines = lines.iter().map(|line| Shown(line).to_string()).collect();
    Page { title, lines, scroll: 0, verbs, about: Some(Speech::Stop(at)) }
}
