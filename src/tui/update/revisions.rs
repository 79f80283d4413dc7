//! States of the plan kept by name: compared with it, brought back in part or whole, forgotten.

use super::{compared, gear};
use crate::checks;
use crate::compare::{Comparison, Side};
use crate::edit::Edit;
use crate::plan::parts::Part;
use crate::plan::{Name, Plan};
use crate::sheets::{self, Names};
use crate::study::Study;
use crate::tui::app::{App, Editor};
use crate::tui::layer::{Asked, Choice, Chooser, Field, FieldKind, Form, Layer, Page, Purpose, Value};

/// Lists what was kept.
pub(super) fn list(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let plan = editor.session.plan();
    let line = |(index, revision): (usize, &crate::plan::Revision)| {
        let date = revision.date.as_ref().map_or("", |date| date.as_str());
        let parts = revision.plan.differences(plan).len();
        let told = if parts == 0 { "as it is now".into() } else { format!("{parts} things changed since  {date}") };
        Choice::new(revision.name.as_str(), told, Value::Revision(index))
    };
    let mut choices: Vec<Choice> = plan.revisions.iter().enumerate().map(line).collect();
    choices.push(Choice::new("keep the plan as it is now", "", Value::Form(Asked::KeepRevision)));
    app.layers.push(Layer::Chooser(Chooser::new("kept states", Purpose::Revisions, choices)));
}

/// Does what was chosen in the lists.
pub(super) fn chosen(app: &mut App, value: &Value) {
    match value {
        Value::Revision(index) => one(app, *index),
        Value::Compare(index) => compare(app, *index),
        Value::Lay(index) => compared::kept(app, *index),
        // Not to be brought back, kept or forgotten where the plan can only be looked at.
        Value::BringBack(..) | Value::Forget(_) | Value::Form(_) if !app.editor().is_some_and(Editor::may_write) => {
            app.refuse("this plan can only be looked at");
        }
        Value::BringBack(index, part) => bring_back(app, *index, *part),
        Value::Forget(index) => {
            gear::edit(app, Edit::StrikeRevision { index: *index });
        }
        Value::Form(asked) => {
            let field = Field::new("name", FieldKind::Name, "");
            let form = Form::new("keep the plan as it is now", *asked, app.look.tape.0, vec![field]);
            app.layers.push(Layer::Form(form));
        }
        _ => {}
    }
}

/// One state: what was done since, each thing to be brought back by itself.
fn one(app: &mut App, index: usize) {
    let tape = app.look.tape;
    let Some(editor) = app.editor() else { return };
    let plan = editor.session.plan();
    let Some(revision) = plan.revisions.get(index) else { return };
    let changes = crate::compare::changes(&revision.plan, plan);
    let back = plan.differences(&revision.plan);
    let mut choices = vec![
        Choice::new("compare it with the plan now", "numbers and findings too", Value::Compare(index)),
        Choice::new("bring all of it back", "one step", Value::BringBack(index, None)),
        Choice::new("forget it", "", Value::Forget(index)),
        Choice::new("show it on the deck", "then and now", Value::Lay(index)),
    ];
    for change in &changes {
        let part = back.iter().position(|part| part.key() == change.key);
        let words = sheets::change_words(change, tape);
        choices.push(Choice::new(
            format!("bring back {}", change.name),
            format!("since then: {words}"),
            Value::BringBack(index, part),
        ));
    }
    app.layers.push(Layer::Chooser(Chooser::new(revision.name.as_str(), Purpose::Revisions, choices)));
}

fn compare(app: &mut App, index: usize) {
    let tape = app.look.tape;
    let Some(editor) = app.editor() else { return };
    let Some(revision) = editor.session.plan().revisions.get(index) else { return };
    let then: &Plan = &revision.plan;
    let study = Study::of(then);
    let findings = checks::run(then, &study);
    let session = &editor.session;
    let comparison = Comparison::of(
        Side { plan: then, study: &study, findings: &findings },
        Side { plan: session.plan(), study: session.study(), findings: session.findings() },
    );
    let name = format!("\"{}\"", revision.name);
    let text = sheets::compare_text(Names { then: &name, now: "the plan now" }, &comparison, tape);
    // A page joins lines into paragraphs: each line of this one stands alone.
    let page = Page::new(format!("since {name}"), &text.replace('\n', "\n\n").replace("\n\n\n\n", "\n\n"));
    app.layers.push(Layer::Page(page));
}

fn bring_back(app: &mut App, index: usize, part: Option<usize>) {
    let Some(editor) = app.editor() else { return };
    let plan = editor.session.plan();
    let Some(revision) = plan.revisions.get(index) else { return };
    let parts = plan.differences(&revision.plan);
    let what = match part.and_then(|part| parts.get(part)) {
        Some(part) => crate::compare::name_of(&revision.plan, &part.key())
            .or_else(|| crate::compare::name_of(plan, &part.key()))
            .unwrap_or_default(),
        None => "all".into(),
    };
    let purpose = format!("bring back {what} as in {}", revision.name);
    let parts = match part {
        Some(part) => parts.into_iter().skip(part).take(1).collect(),
        None => parts,
    };
    put(app, &purpose, parts);
}

/// Puts parts of another state of the plan in, as one step; whether it was done.
pub(super) fn put(app: &mut App, purpose: &str, parts: Vec<Part>) -> bool {
    match Name::new(purpose.chars().take(80).collect::<String>()) {
        Ok(purpose) => gear::edit(app, Edit::Put { purpose, parts, revisions: None }),
        Err(why) => {
            app.refuse(why.to_string());
            false
        }
    }
}
