//! The seat test: its round, each answer one step that can be undone, and the form for more than a key says.

use super::{cursor, gear::edit};
use crate::edit::Edit;
use crate::plan::{GearId, Name, Often, Plan, Reading, Taken};
use crate::tui::app::{App, Thing};
use crate::tui::layer::{Ask, Asked, Field, FieldKind, Form, Layer, Noted, Order, SeatRound};
use crate::units::length_from_text;

/// Opens the round: from the bow aft, what is touched before what is seen.
pub(super) fn open(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    if editor.hand.is_some() {
        app.refuse("set it down first");
        return;
    }
    let plan = editor.session.plan();
    let mut items: Vec<_> = editor.session.study().rig.items.iter().collect();
    items.sort_by(|a, b| b.at.x.total_cmp(&a.at.x).then(b.at.y.total_cmp(&a.at.y)));
    let asks = items.into_iter().flat_map(|item| asked(plan, item.gear)).collect::<Vec<Ask>>();
    if asks.is_empty() {
        app.refuse("nothing aboard is touched or seen under way");
        return;
    }
    app.layers.push(Layer::SeatTest(SeatRound::new(asks)));
    turned(app);
}

/// What is asked about a piece of gear.
fn asked(plan: &Plan, gear: GearId) -> impl Iterator<Item = Ask> + use<> {
    let handling = plan.gear(gear).and_then(|gear| gear.spec.handling.as_ref());
    let touch = handling.filter(|handling| handling.touched != Often::Never).map(|_| false);
    let sight = handling.filter(|handling| handling.seen).map(|_| true);
    touch.into_iter().chain(sight).map(move |sight| Ask { gear, sight })
}

/// Lights up the gear that is asked about.
pub(super) fn turned(app: &mut App) {
    if let Some(ask) = round(app).and_then(|round| round.ask()) {
        cursor::show(app, Thing::Gear(ask.gear));
    }
}

fn round(app: &mut App) -> Option<&mut SeatRound> {
    match app.layers.last_mut() {
        Some(Layer::SeatTest(round)) => Some(round),
        _ => None,
    }
}

/// Takes an answer as one edit and goes on to the next question.
pub(super) fn noted(app: &mut App, noted: Noted) {
    let Some(ask) = round(app).and_then(|round| round.ask()) else { return };
    let step = step(app, ask, noted);
    let refused = match step {
        Ok(step) => {
            let done = edit(app, step);
            if done { None } else { app.toast.take().map(|toast| toast.text) }
        }
        Err(why) => Some(why),
    };
    if let Some(round) = round(app) {
        round.at += usize::from(refused.is_none());
        round.refused = refused;
    }
    turned(app);
}

/// Adds to what was noted of this gear where it is now, or notes it first.
fn step(app: &App, ask: Ask, noted: Noted) -> Result<Edit, String> {
    let session = &app.editor().ok_or("no plan is open")?.session;
    let (plan, study) = (session.plan(), session.study());
    let control = study.rig.item(ask.gear).and_then(|item| item.control);
    let earlier = study
        .seat_test
        .of_gear(ask.gear)
        .filter(|tried| control.is_some_and(|control| tried.at.distance(control) < SAME_PLACE_MM));
    let earlier = earlier.and_then(|tried| Some((tried.index, plan.readings.get(tried.index)?)));
    let asked_to_touch = asked(plan, ask.gear).any(|ask| !ask.sight);
    let mut reading = match (earlier, noted) {
        (Some((_, reading)), _) => reading.clone(),
        (None, Noted::Seen | Noted::NotSeen) if asked_to_touch => return Err("say first whether it is touched".into()),
        (None, _) => Reading { date: None, taken: blank(ask.gear), off: false },
    };
    let Taken::SeatTest { touched, leaning, seen, .. } = &mut reading.taken else {
        return Err("this reading is no seat test".into());
    };
    match noted {
        Noted::Touched => (*touched, *leaning) = (true, false),
        Noted::WithLean => (*touched, *leaning) = (true, true),
        Noted::NotTouched => (*touched, *leaning) = (false, true),
        Noted::Seen => *seen = Some(true),
        Noted::NotSeen => *seen = Some(false),
    }
    let add = Edit::AddReading { reading };
    let Some((index, _)) = earlier else { return Ok(add) };
    let purpose = Name::new("seat test").map_err(|why| why.to_string())?;
    Ok(Edit::All { purpose, edits: vec![Edit::StrikeReading { index }, add] })
}

/// Controls nearer to each other are in one place, mm.
const SAME_PLACE_MM: f64 = 1.0;

fn blank(gear: GearId) -> Taken {
    Taken::seat_test(gear, false, false)
}

const TOUCHED: &[&str] = &["touched", "with a lean", "not touched", "not without a lean"];
const SEEN: &[&str] = &["not asked", "seen", "not seen"];
const CLEAR: &[&str] = &["not asked", "clear", "not clear"];

/// The form for one seat test, about the gear of a reading it is like, or under the cursor.
pub(super) fn ask(app: &mut App, like: Option<GearId>) {
    let Some(editor) = app.editor() else { return };
    let gear = like.or(editor.gear()).and_then(|id| editor.session.plan().gear(id));
    let label = gear.map(|gear| gear.label.to_string()).unwrap_or_default();
    let fields = vec![
        Field::new("gear", FieldKind::Name, label),
        Field::new("is", FieldKind::OneOf(TOUCHED), TOUCHED[0]),
        Field::new("and", FieldKind::OneOf(SEEN), SEEN[0]),
        Field::new("from the eye", FieldKind::Text, ""),
        Field::new("knees", FieldKind::OneOf(CLEAR), CLEAR[0]),
        Field::new("strokes", FieldKind::OneOf(CLEAR), CLEAR[0]),
        Field::new("date", FieldKind::Text, ""),
    ];
    let help = "Sit in the boat as under way, life jacket on. The distance from the eye may stay empty.";
    let form = Form::new("a seat test", Asked::SeatTest, app.look.tape.0, fields).with_help(help);
    app.layers.push(Layer::Form(form));
}

/// The reading as filled in.
pub(super) fn filled(plan: &Plan, order: &Order) -> Result<Edit, String> {
    let named = |wanted: &str| plan.gear.iter().find(|gear| gear.label.as_str().eq_ignore_ascii_case(wanted));
    let gear = named(order.text(0)).ok_or_else(|| format!("no gear of this plan is called \"{}\"", order.text(0)))?;
    let yes = |at: usize, words: &[&str]| match order.text(at) {
        text if text == words[1] => Some(true),
        text if text == words[2] => Some(false),
        _ => None,
    };
    let how = TOUCHED.iter().position(|word| *word == order.text(1)).unwrap_or(0);
    let distance = match order.text(3) {
        "" => None,
        text => Some(length_from_text(text, order.tape).map_err(|why| why.to_string())?),
    };
    let date = match order.text(6) {
        "" => None,
        text => Some(Name::new(text).map_err(|why| why.to_string())?),
    };
    let taken = Taken::SeatTest {
        gear: gear.id,
        touched: how < 2,
        leaning: matches!(how, 1 | 2),
        seen: yes(2, SEEN),
        distance,
        knees: yes(4, CLEAR),
        strokes: yes(5, CLEAR),
        seat: None,
        at_mm: None,
    };
    Ok(Edit::AddReading { reading: Reading { date, taken, off: false } })
}
