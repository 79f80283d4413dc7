//! Others who have the plan open: what they tell changes the screen here, what is done here is told to them.

use super::{Effect, cursor};
use crate::plan::{Key, Plan};
use crate::review::company::{Stand, Word};
use crate::sheets::station;
use crate::tui::action::ACTIONS;
use crate::tui::app::{App, Editor, Overlay};
use crate::tui::company::{Link, Pointed};
use crate::tui::layer::{Choice, Chooser, Layer, Purpose, Value};
use crate::tui::view::{View, Zoom};

/// A guest came in.
pub fn joined(app: &mut App, who: Key) {
    let Some(editor) = app.editor_mut() else { return };
    editor.company.link = Link::Host;
    app.say(format!("{who} looks on"));
    if let Some(editor) = app.editor_mut() {
        editor.company.people.insert(who, None);
    }
}

/// Takes a word of the others. How the plan is comes by [`shown`].
pub fn told(app: &mut App, word: Word) {
    match word {
        Word::Here { who, stand } => here(app, who, stand),
        Word::Left { who } => left(app, &who),
        Word::Point { who, spot } => {
            let tape = app.look.tape;
            let Some(editor) = app.editor_mut() else { return };
            let company = &mut editor.company;
            company.pointed += 1;
            company.points.retain(|point| point.by != who);
            company.points.push(Pointed { by: who.clone(), spot, nth: company.pointed });
            let at = station(editor.session.plan(), spot, tape);
            app.say(format!("{who} points at {at}"));
        }
        Word::Lead { who } => asked_to_follow(app, who),
        Word::Hello { .. } | Word::Plan { .. } | Word::Bye => {}
    }
    super::bring_up_to_date(app);
}

/// A mark has been there long enough.
pub fn faded(app: &mut App, nth: u64) {
    if let Some(editor) = app.editor_mut() {
        editor.company.points.retain(|point| point.nth != nth);
    }
}

/// The plan as its owner has it now.
pub fn shown(app: &mut App, plan: Plan, unsaved: Option<usize>) {
    let Some(editor) = app.editor_mut() else { return };
    editor.company.link = Link::Guest { unsaved };
    if let Ok(owner) = Key::new("owner") {
        editor.company.people.entry(owner).or_default();
    }
    editor.replace(plan);
    super::bring_up_to_date(app);
}

/// The owner is gone without a word.
pub fn gone(app: &mut App, since: String) {
    let Some(editor) = app.editor_mut() else { return };
    editor.company = crate::tui::company::Company { link: Link::Gone { since }, ..Default::default() };
    app.refuse("the owner is gone: the plan stays as it was, saved or not");
    super::bring_up_to_date(app);
}

/// The owner closed the plan: from now on it is what is saved.
pub fn closed(app: &mut App) {
    let Some(editor) = app.editor_mut() else { return };
    editor.company = Default::default();
    if !app.toast.as_ref().is_some_and(|toast| toast.refused) {
        app.say("the owner closed the plan; shown is what is saved");
    }
    super::bring_up_to_date(app);
}

/// Where this screen is, for the others.
pub fn stand(editor: &Editor) -> Stand {
    let close = match editor.view.zoom {
        Zoom::Whole => None,
        Zoom::Scale(mm) => Some((editor.view.middle, mm)),
    };
    // What a plan is compared with is everybody's own.
    let shared = editor.overlay.filter(|overlay| *overlay != Overlay::Compared);
    let row = shared.and_then(|_| ACTIONS.iter().find(|row| Overlay::of(row.action) == shared));
    let overlay = row.and_then(|row| Key::new(row.id).ok());
    Stand { spot: editor.cursor, close, overlay }
}

/// Points at the cursor.
pub(super) fn point(app: &mut App) -> Vec<Effect> {
    let Some((who, spot)) = app.editor().and_then(|editor| Some((editor.voice.author()?, editor.cursor))) else {
        return Vec::new();
    };
    let word = Word::Point { who, spot };
    told(app, word.clone());
    app.say("you point there");
    vec![Effect::Tell(Box::new(word))]
}

/// Asks the others to follow.
pub(super) fn lead(app: &mut App) -> Vec<Effect> {
    let Some(who) = app.editor().and_then(|editor| editor.voice.author()) else { return Vec::new() };
    app.say("the others are asked to follow you");
    vec![Effect::Tell(Box::new(Word::Lead { who }))]
}

/// Follows who asked for it, or the only other one; where there are more, asks whom.
pub(super) fn follow(app: &mut App) {
    let Some(editor) = app.editor_mut() else { return };
    let company = &editor.company;
    let only = company.people.keys().next().filter(|_| company.people.len() == 1);
    match company.leads.as_ref().or(only).cloned() {
        Some(who) => start(app, who),
        None => list(app),
    }
}

/// Lists who is here and where.
pub(super) fn list(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let plan = editor.session.plan();
    let line = |(name, stand): (&Key, &Option<Stand>)| {
        let at = match stand {
            Some(stand) => {
                let under = editor.thing_at(stand.spot).and_then(|thing| thing.subject());
                let on = under.map(|subject| format!("on {}, ", subject.named(plan))).unwrap_or_default();
                format!("{on}{}", station(plan, stand.spot, app.look.tape))
            }
            None => "did not move yet".into(),
        };
        Choice::new(format!("follow {name}"), at, Value::Follow(name.clone()))
    };
    let choices: Vec<Choice> = editor.company.people.iter().map(line).collect();
    app.layers.push(Layer::Chooser(Chooser::new("who is here", Purpose::Company, choices)));
}

/// Follows somebody from now on.
pub(super) fn start(app: &mut App, who: Key) {
    let Some(editor) = app.editor_mut() else { return };
    editor.company.leads = None;
    editor.company.follows = Some(who.clone());
    app.say(format!("following {who}; any key leaves"));
    keep_up(app);
}

/// Any key of one's own leaves.
pub(super) fn leave(app: &mut App) {
    if let Some(who) = app.editor_mut().and_then(|editor| editor.company.follows.take()) {
        app.say(format!("not following {who} any more"));
    }
}

fn here(app: &mut App, who: Key, stand: Stand) {
    let Some(editor) = app.editor_mut() else { return };
    let follows = editor.company.follows.as_ref() == Some(&who);
    editor.company.people.insert(who, Some(stand));
    if follows {
        keep_up(app);
    }
}

fn left(app: &mut App, who: &Key) {
    let Some(editor) = app.editor_mut() else { return };
    let company = &mut editor.company;
    company.people.remove(who);
    company.points.retain(|point| point.by != *who);
    for gone in [&mut company.follows, &mut company.leads] {
        if gone.as_ref() == Some(who) {
            *gone = None;
        }
    }
    app.say(format!("{who} left"));
}

/// A partner whose hands are free goes along at once; the owner, and whoever types, is asked.
fn asked_to_follow(app: &mut App, who: Key) {
    let free = app.layers.is_empty();
    let Some(editor) = app.editor_mut() else { return };
    if editor.voice.reviews() && free && editor.hand.is_none() {
        start(app, who);
        return;
    }
    editor.company.leads = Some(who.clone());
    app.say(format!("{who} asks you to follow: & goes along"));
}

/// Shows what the one who is followed looks at.
fn keep_up(app: &mut App) {
    let Some(editor) = app.editor_mut() else { return };
    let followed = editor.company.follows.as_ref().and_then(|who| editor.company.people.get(who));
    let Some(stand) = followed.cloned().flatten() else { return };
    editor.view = match stand.close {
        Some((middle, mm)) => View { zoom: Zoom::Scale(mm), middle },
        None => View::default(),
    };
    let row = stand.overlay.as_ref().and_then(|id| ACTIONS.iter().find(|row| row.id == id.as_str()));
    let laid = row.and_then(|row| Overlay::of(row.action));
    editor.overlay = laid.filter(|overlay| *overlay != Overlay::Compared);
    cursor::go(app, stand.spot);
}
