//! The tape interview: opening it on the plan's hull or on a new one, and what comes of it.

use std::sync::Arc;

use super::{Effect, gear};
use crate::catalogue;
use crate::edit::Edit;
use crate::plan::{Name, Plan};
use crate::tui::app::App;
use crate::tui::layer::{
    Aim, Answer, Asked, Choice, Chooser, Field, FieldKind, Form, Interview, Layer, Order, Purpose, Question, Value,
};

/// Measures the hull of the plan.
pub(super) fn measure(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    open(app, editor.session.shared_plan(), Aim::Plan);
}

/// Asks which class a new hull is like.
pub(super) fn ask_class(app: &mut App) {
    let choices = app.hulls.iter().enumerate();
    let choices =
        choices.map(|(index, class)| Choice::new(class.hull.name.as_str(), class.about.as_str(), Value::Class(index)));
    let title = "measure a hull: which of these is it most like?";
    app.layers.push(Layer::Chooser(Chooser::new(title, Purpose::MeasureLike, choices.collect())));
}

/// Asks what the new hull is called.
pub(super) fn ask_name(app: &mut App, class: usize) {
    let fields = vec![Field::new("name", FieldKind::Name, "my boat")];
    let form = Form::new("measure a hull: what is it called?", Asked::Measure(class), app.look.tape.0, fields)
        .with_help("What is not measured is guessed from the class, so you can stop whenever you like.");
    app.layers.push(Layer::Form(form));
}

/// Measures a new hull that is like a class.
pub(super) fn measure_new(app: &mut App, class: usize, order: &Order) -> Result<(), String> {
    let class = app.hulls.get(class).ok_or("the class is gone")?;
    let name = Name::new(order.text(0)).map_err(|why| why.to_string())?;
    let plan = Plan { name, ..catalogue::plan_on(&class.hull) };
    open(app, Arc::new(plan), Aim::New);
    Ok(())
}

fn open(app: &mut App, plan: Arc<Plan>, aim: Aim) {
    app.layers.push(Layer::Interview(Box::new(Interview::new(plan, aim, app.look.tape.0))));
}

/// Uses the hull of the interview in front. A refusal keeps it open.
pub(super) fn finish(app: &mut App) -> Vec<Effect> {
    let Some(Layer::Interview(interview)) = app.layers.pop() else { return Vec::new() };
    let (taken, all) = interview.progress();
    match interview.aim {
        Aim::Plan if !interview.changed() => app.say("nothing new was measured: the hull is as it was"),
        Aim::Plan => {
            if gear::edit(app, Edit::SetTape { tape: Box::new(interview.result()) }) {
                app.say(format!("the hull as measured: {taken} of {all}, the rest guessed; u brings the old one back"));
            } else {
                back(app, interview);
            }
        }
        Aim::New => match interview.new_plan() {
            Ok(plan) => return vec![Effect::StartPlan(Box::new(plan))],
            Err(why) => {
                app.refuse(why);
                back(app, interview);
            }
        },
    }
    Vec::new()
}

/// Puts the interview back in front, with what was said against it.
fn back(app: &mut App, mut interview: Box<Interview>) {
    if let Some(toast) = app.toast.take() {
        interview.refuse(toast.text);
    }
    app.layers.push(Layer::Interview(interview));
}

/// Asks what becomes of a tape that is not used yet.
pub(super) fn ask_leave(app: &mut App) {
    let Some(Layer::Interview(interview)) = app.layers.last() else { return };
    let use_it = match interview.aim {
        Aim::Plan => "use the hull as measured so far; u takes it back",
        Aim::New => "start a plan on the hull as measured so far",
    };
    let question = Question {
        title: "this tape is not in use yet".into(),
        text: vec!["What is not measured is guessed. A hull in use can be measured further at any time.".into()],
        answers: vec![
            ('u', use_it, Answer::UseTape),
            ('l', "leave the new readings out", Answer::LeaveTape),
            ('c', "go on measuring", Answer::Nothing),
        ],
    };
    app.layers.push(Layer::Question(question));
}
