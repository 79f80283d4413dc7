//! What two people say about the plan: the list of threads, the page of one, and what is said here.

use super::{Effect, checklist, compared, cursor, suggest, wiring};
use crate::geometry::Spot;
use crate::plan::{Anchor, Note};
use crate::review::entries::signed;
use crate::review::whereabouts::pin;
use crate::review::{Deed, Suggested, Thread, ThreadRef, Verdict, taken_over, whereabouts};
use crate::sheets::{day, suggestion_lines, thread_title};
use crate::shown::Shown;
use crate::study::cables::CableRef;
use crate::study::rig::HoleRef;
use crate::tui::app::{App, Editor, FINDINGS_ROW, Focus, Thing};
use crate::tui::layer::{
    Asked, Choice, Chooser, Field, FieldKind, Form, Layer, Order, Page, Purpose, Speech, Value, Verb,
};
use crate::tui::voice::About;

/// Lists all threads, those that wait first.
pub(super) fn list(app: &mut App) {
    match threads(app) {
        Some(list) => app.layers.push(Layer::Chooser(list)),
        None => app.say("nothing was said yet; ; says something about what is under the cursor"),
    }
}

fn threads(app: &App) -> Option<Chooser> {
    let editor = app.editor()?;
    let mut threads: Vec<&Thread> = editor.voice.talk.threads.iter().collect();
    threads.sort_by_key(|thread| !thread.is_unresolved());
    let mut choices: Vec<Choice> = threads.into_iter().map(|thread| line(app, editor, thread)).collect();
    choices.extend(editor.voice.troubles.iter().map(|why| Choice::new(Shown(why).to_string(), "", Value::Nothing)));
    (!choices.is_empty()).then(|| Chooser::new("what was said", Purpose::Talk, choices))
}

fn line(app: &App, editor: &Editor, thread: &Thread) -> Choice {
    let title = thread_title(editor.session.plan(), thread, app.look.tape);
    let first = thread.said.first().map_or("", |said| said.text.as_str());
    let detail = format!("{}, {title}", crate::sheets::state_word(thread.state));
    Choice::new(Shown(first).to_string(), Shown(&detail).to_string(), Value::Speech(Speech::Open(thread.id.clone())))
}

/// Goes to the next thread that waits.
pub(super) fn next(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let waiting: Vec<&Thread> = editor.voice.talk.threads.iter().filter(|thread| thread.is_unresolved()).collect();
    let last = editor.voice.at.as_ref().and_then(|id| waiting.iter().position(|thread| thread.id == *id));
    let at = last.map_or(0, |at| at + 1);
    match waiting.get(at).or(waiting.first()).map(|thread| thread.id.clone()) {
        Some(id) => show(app, &id),
        None => app.say("no thread waits"),
    }
}

/// Does what was chosen in the list or on a page.
pub(super) fn chosen(app: &mut App, speech: Speech) -> Vec<Effect> {
    match speech {
        Speech::Open(id) => show(app, &id),
        Speech::Answer(id) => ask(app, "answer", About::Thread(id)),
        Speech::Lay(id) => compared::suggested(app, &id),
        Speech::Decline(id) => ask(app, "why not", About::Declined(id)),
        Speech::Settle(id) => return settle(app, id),
        Speech::Accept(id) => return accept(app, id),
        Speech::Stop(at) => checklist::show(app, at),
        Speech::Judge(at, Verdict::Doubt) => ask(app, "what is in doubt", About::Doubt(at)),
        Speech::Judge(at, verdict) => return say(app, checklist::judged(at, verdict, Note::default())),
        Speech::SignOff => {
            let plan = app.editor().map(|editor| signed(editor.reviewed()));
            if let Some(plan) = plan {
                ask(app, "sign the plan off", About::Signed(plan));
            }
        }
        Speech::Withdraw => return say(app, Some(Deed::Withdraw)),
    }
    Vec::new()
}

/// Goes to what a thread is about and opens its page.
fn show(app: &mut App, id: &ThreadRef) {
    let Some(editor) = app.editor_mut() else { return };
    editor.voice.at = Some(id.clone());
    let spot = thread(editor, id).and_then(|thread| whereabouts(editor.session.plan(), &thread.pin).spot());
    if let Some(spot) = spot {
        cursor::go(app, spot);
    }
    if let Some(page) = page(app, id) {
        app.layers.push(Layer::Page(page));
    }
}

fn thread<'a>(editor: &'a Editor, id: &ThreadRef) -> Option<&'a Thread> {
    editor.voice.talk.threads.iter().find(|thread| thread.id == *id)
}

/// The page of a thread: what was said, what is suggested and would come of it, and its keys.
fn page(app: &App, id: &ThreadRef) -> Option<Page> {
    let editor = app.editor()?;
    let thread = thread(editor, id)?;
    let session = &editor.session;
    let now = editor.side();
    let mut lines: Vec<String> =
        thread.said.iter().map(|said| format!("{}, {}: {}", said.by, day(said.at_s), said.text)).collect();
    lines.extend(thread.suggestion.iter().flat_map(|it| suggestion_lines(now, it, app.look.tape)));
    let lines = lines.iter().map(|line| Shown(line).to_string()).collect();
    let title = Shown(&thread_title(session.plan(), thread, app.look.tape)).to_string();
    let waits = thread.suggestion.as_ref().is_some_and(|it| it.became == Suggested::Waiting);
    let settle = if thread.is_unresolved() { "resolve" } else { "open again" };
    let mut verbs =
        vec![Verb::new("a", "answer", Speech::Answer(id.clone())), Verb::new("r", settle, Speech::Settle(id.clone()))];
    if waits {
        verbs.push(Verb::new("g", "on the deck", Speech::Lay(id.clone())));
    }
    if waits && !editor.voice.reviews() && editor.may_write() {
        verbs.push(Verb::new("enter", "take it over", Speech::Accept(id.clone())));
        verbs.push(Verb::new("x", "decline", Speech::Decline(id.clone())));
    }
    Some(Page { title, lines, scroll: 0, verbs, about: Some(Speech::Open(id.clone())) })
}

/// Opens a form for words.
pub(super) fn ask(app: &mut App, title: &str, about: About) {
    let tape = app.look.tape.0;
    let Some(editor) = app.editor_mut() else { return };
    editor.voice.about = Some(about);
    let form = Form::new(title, Asked::Words, tape, vec![Field::new("words", FieldKind::Text, "")]);
    app.layers.push(Layer::Form(form));
}

/// Asks for a comment on what is under the cursor, or on the finding whose row is chosen.
pub(super) fn comment(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    if editor.file.path.is_none() {
        app.refuse("save the plan first: what is said about it lies beside it");
        return;
    }
    let Some(pin) = pin(editor.session.plan(), &anchor(app, editor)) else { return };
    let title = format!("say something about {}", Shown(pin.called.as_str()));
    ask(app, &title, About::Thing(pin));
}

fn anchor(app: &App, editor: &Editor) -> Anchor {
    if let Some(id) = wiring::cable(app) {
        return Anchor::Cable(id);
    }
    let finding = editor.session.findings().get(editor.rows[FINDINGS_ROW]);
    match (editor.focus, finding, editor.thing()) {
        (Focus::Findings, Some(finding), _) => Anchor::Check(finding.check.into()),
        (_, _, Some(Thing::Gear(id) | Thing::Hole(HoleRef::Gear(id, _)))) => Anchor::Gear(id),
        (_, _, Some(Thing::Hole(HoleRef::Own(id)))) => Anchor::Hole(id),
        (_, _, Some(Thing::Cable(CableRef::Planned(id)))) => Anchor::Cable(id),
        _ => Anchor::Spot(Spot::new(editor.cursor.x.round(), editor.cursor.y.round())),
    }
}

/// Turns the words of a form into what is done with them. A refusal keeps the form open.
pub(super) fn filled(app: &mut App, order: &Order) -> (Vec<Effect>, Option<String>) {
    let Some(editor) = app.editor() else { return (Vec::new(), None) };
    let Some(about) = editor.voice.about.clone() else { return (Vec::new(), None) };
    let typed = order.text(0);
    if typed.is_empty() && !matches!(about, About::Signed(_)) {
        return (Vec::new(), Some("there is nothing in it".into()));
    }
    let text = match Note::new(typed) {
        Ok(text) => text,
        Err(fault) => return (Vec::new(), Some(fault.to_string())),
    };
    let does = match about {
        About::Thing(on) => Some(Deed::Comment { on, text }),
        About::Thread(thread) => Some(Deed::Answer { thread, text }),
        About::Declined(thread) => Some(Deed::Decline { thread, reason: text }),
        About::Doubt(at) => checklist::judged(at, Verdict::Doubt, text),
        About::Suggested => suggest::deed(app, text),
        About::Signed(plan) if *signed(editor.reviewed()) != *plan => {
            return (Vec::new(), Some("the plan was changed while you wrote; look at it again".into()));
        }
        About::Signed(plan) => Some(Deed::SignOff { plan, text }),
    };
    (say(app, does), None)
}

fn settle(app: &App, thread: ThreadRef) -> Vec<Effect> {
    let waits = app.editor().and_then(|editor| self::thread(editor, &thread)).is_some_and(Thread::is_unresolved);
    say(app, Some(if waits { Deed::Resolve { thread } } else { Deed::Reopen { thread } }))
}

/// Takes a suggestion over as one step, with credit, and says so in its thread.
fn accept(app: &mut App, thread: ThreadRef) -> Vec<Effect> {
    let Some(editor) = app.editor() else { return Vec::new() };
    let Some(suggestion) = self::thread(editor, &thread).and_then(|it| it.suggestion.as_ref()) else {
        return Vec::new();
    };
    match taken_over(editor.session.plan(), suggestion, &thread.by) {
        Ok(edit) => {
            let done = super::gear::edit(app, edit);
            say(app, done.then_some(Deed::Accept { thread }))
        }
        Err(why) => {
            app.refuse(why);
            Vec::new()
        }
    }
}

fn say(app: &App, does: Option<Deed>) -> Vec<Effect> {
    match (app.editor(), does) {
        (Some(editor), Some(does)) if editor.file.path.is_some() => vec![Effect::Say(Box::new(does))],
        _ => Vec::new(),
    }
}

/// Takes in what was read of the folder, and shows anew what is open of it. After `done` was said here, the page it
/// was said on opens again, a checklist at its next stop.
pub fn heard(app: &mut App, done: Option<&Deed>) {
    for at in 0..app.layers.len() {
        if let Some(Layer::Chooser(old)) = app.layers.get(at).filter(|layer| is_list(layer)) {
            let (input, row) = (old.input.clone(), old.row);
            if let Some(mut list) = threads(app) {
                list.input = input;
                list.filter();
                list.choose_row(row);
                app.layers[at] = Layer::Chooser(list);
            }
        }
        let Some(Layer::Page(Page { about: Some(about), scroll, .. })) = app.layers.get(at) else { continue };
        let (about, scroll) = (about.clone(), *scroll);
        if let Some(page) = page_of(app, &about) {
            app.layers[at] = Layer::Page(Page { scroll, ..page });
        }
    }
    let Some(editor) = app.editor_mut() else { return };
    let asked = editor.voice.about.take();
    if matches!(done, Some(Deed::Suggest { .. })) {
        editor.end_draft();
    }
    let next = match done {
        Some(Deed::Answer { thread, .. } | Deed::Resolve { thread } | Deed::Reopen { thread })
        | Some(Deed::Accept { thread } | Deed::Decline { thread, .. }) => Some(Speech::Open(thread.clone())),
        Some(Deed::Stop { stop, .. }) => checklist::position(stop.as_str()).map(|at| Speech::Stop(at + 1)),
        Some(_) => asked.as_ref().and_then(About::page),
        None => {
            editor.voice.about = asked;
            None
        }
    };
    match next {
        Some(Speech::Stop(at)) => checklist::show(app, at),
        Some(about) => {
            if let Some(page) = page_of(app, &about) {
                app.layers.push(Layer::Page(page));
            }
        }
        None => {}
    }
    // Nobody pressed a key: what is kept beside the session is brought up to date here.
    super::bring_up_to_date(app);
}

fn is_list(layer: &Layer) -> bool {
    matches!(layer, Layer::Chooser(list) if list.purpose == Purpose::Talk)
}

fn page_of(app: &App, about: &Speech) -> Option<Page> {
    match about {
        Speech::Open(id) => page(app, id),
        Speech::Stop(at) => checklist::page(app, *at),
        _ => None,
    }
}
