//! The work by keys: tonight's tasks in their order under the boat, ticked off with day and reading, the states after.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::plan::{Act, BuildState, Day, Fate, GearId, Key, Note, On, Tick};
use gunnel::review::SignOff;
use gunnel::study::work::Work;
use gunnel::tui::app::Thing;
use gunnel::tui::layer::{BuildView, Layer, LineOf};
use gunnel::units::Price;

use crate::boats::demo;
use crate::stage::Stage;

fn stage() -> Stage {
    Stage::on(demo("seat-test.ron")).sized(120, 40)
}

fn view(stage: &Stage) -> &BuildView {
    match stage.app.layers.last() {
        Some(Layer::Build(view)) => view,
        other => panic!("not the list of the work but {other:?}"),
    }
}

/// Goes to the line of a task.
fn choose(stage: &mut Stage, act: Act, on: On) {
    stage.play("home");
    while view(stage).chosen().task() != Some((act, on)) {
        let row = view(stage).row;
        stage.play("down");
        assert!(view(stage).row > row, "{act:?} {on:?} is not listed");
    }
}

fn tick(stage: &Stage, act: Act, on: On) -> Option<Tick> {
    stage.plan().work.tick(act, on).cloned()
}

fn state(stage: &Stage, gear: GearId) -> BuildState {
    stage.plan().gear(gear).unwrap().state
}

fn day(text: &str) -> Day {
    Day::from_text(text).unwrap()
}

#[test]
fn tonight_is_listed_as_on_the_sheet_under_its_date() {
    let mut stage = stage();
    stage.play("9");
    assert!(stage.shows("tonight, Sat 2031-06-07"), "{}", stage.lines().join("\n"));
    let session = &stage.editor().session;
    let work = Work::from(session.plan(), session.study(), Some(day("2031-06-07").date()), None);
    let told: Vec<(Act, On)> = view(&stage)
        .lines
        .iter()
        .filter_map(|line| match line.of {
            LineOf::Task { act, on, tonight: true } => Some((act, on)),
            _ => None,
        })
        .collect();
    let dealt: Vec<(Act, On)> =
        work.calendar.evenings[0].tasks.iter().map(|task| (work.tasks[*task].act, work.tasks[*task].on)).collect();
    assert_eq!(told, dealt);
}

#[test]
fn the_boat_stays_in_sight_and_the_cursor_goes_with_the_row() {
    let mut stage = stage();
    let crate_id = stage.gear("crate").id;
    stage.play("9");
    choose(&mut stage, Act::DryFit, On::Gear(crate_id));
    let place = stage.gear("crate").place.unwrap();
    assert_eq!(stage.editor().chosen, Some(Thing::Gear(crate_id)));
    assert_eq!(stage.editor().cursor, place.spot());
    // The deck above is drawn as it is without the list, but for the cursor and the cells that are lit.
    let cell = stage.cell(place.x.to_mm(), place.y.to_mm());
    let style = stage.buffer()[cell].style();
    assert!(style.add_modifier.contains(ratatui::style::Modifier::REVERSED), "{style:?}");
    stage.play("enter");
    assert!(stage.app.layers.is_empty(), "it was gone to");
}

#[test]
fn a_dry_fit_is_ticked_off_today_and_undone_in_one_step() {
    let mut stage = stage();
    let on = On::Gear(stage.gear("crate").id);
    let before = stage.plan().clone();
    stage.play("9");
    choose(&mut stage, Act::DryFit, on);
    stage.play("space");
    assert_eq!(tick(&stage, Act::DryFit, on).unwrap().date, day("2031-06-07"));
    assert_eq!(stage.gear("crate").state, BuildState::DryFitted);
    assert_eq!(view(&stage).chosen().task(), Some((Act::DryFit, on)), "it stays in question");
    assert!(stage.shows("[x] dry fit  crate"), "{}", stage.lines().join("\n"));
    stage.play("u");
    assert_eq!(stage.plan(), &before);
    stage.play("ctrl-r space");
    assert_eq!(stage.plan(), &before, "redone, and its tick taken back");
}

#[test]
fn a_gate_is_ticked_with_its_day_and_a_reading() {
    let mut stage = stage();
    stage.play("9");
    choose(&mut stage, Act::LeakTest, On::Boat);
    stage.play("r ctrl-u \"2031-02-30\" enter");
    assert!(stage.shows("type a day as 2031-05-30"), "{}", stage.lines().join("\n"));
    stage.play("ctrl-u \"2031-06-05\" tab \"dry after an hour\" enter");
    let tick = tick(&stage, Act::LeakTest, On::Boat).unwrap();
    assert_eq!((tick.date, tick.reading.as_str()), (day("2031-06-05"), "dry after an hour"));
    // Ticked by space alone it is told at once that it is early.
    stage.play("space space");
    assert!(stage.said().contains("; before it comes: "), "{}", stage.said());
    // What comes before it is not done, so the gate stands again, and a check says so.
    assert!(stage.findings().iter().any(|f| f.check == "order-broken" && f.says.contains("leak test")));
}

/// What was connected before it was bedded is connected once it is bedded.
#[test]
fn connecting_before_bedding_is_kept() {
    let mut stage = stage();
    let work = Work::of(stage.plan(), stage.editor().session.study(), None);
    let both = |gear: GearId| {
        let has = |act| work.tasks.iter().any(|task| task.act == act && task.on == On::Gear(gear) && !task.done);
        has(Act::Connect) && has(Act::Bed)
    };
    let gear = stage.plan().gear.iter().map(|gear| gear.id).find(|id| both(*id)).unwrap();
    let was = state(&stage, gear);
    stage.play("9");
    choose(&mut stage, Act::Connect, On::Gear(gear));
    stage.play("space");
    assert_eq!(state(&stage, gear), was, "no state says it alone");
    assert!(tick(&stage, Act::Connect, On::Gear(gear)).is_some());
    choose(&mut stage, Act::Bed, On::Gear(gear));
    stage.play("space");
    assert_eq!(state(&stage, gear), BuildState::Installed);
    stage.play("space");
    assert_eq!(state(&stage, gear), BuildState::Drilled, "unbedded, and still connected");
    assert!(tick(&stage, Act::Connect, On::Gear(gear)).is_some());
}

#[test]
fn a_drilled_part_that_is_moved_leaves_its_holes_with_their_history() {
    let mut stage = stage();
    let work = Work::of(stage.plan(), stage.editor().session.study(), None);
    let task = work.tasks.iter().find(|task| task.act == Act::Drill && matches!(task.on, On::Gear(_)) && !task.done);
    let On::Gear(gear) = task.unwrap().on else { panic!("a hole") };
    let holes = stage.editor().session.study().holes.of_gear(gear).count();
    let before = stage.plan().penetrations.len();
    stage.play("9");
    choose(&mut stage, Act::Drill, On::Gear(gear));
    stage.play("space space");
    assert!(stage.refused().contains("its holes are in the hull"), "{}", stage.refused());
    stage.play("enter space shift-right space");
    let left: Vec<_> = stage.plan().penetrations[before..].to_vec();
    assert!(!left.is_empty() && left.len() <= holes, "{left:?}");
    for hole in &left {
        let history = hole.left.as_ref().unwrap();
        assert_eq!((hole.fate, history.by, history.drilled), (Fate::Open, gear, Some(day("2031-06-07"))));
    }
    assert_eq!(state(&stage, gear), BuildState::Planned);
    assert_eq!(tick(&stage, Act::Drill, On::Gear(gear)), None, "it is to be drilled anew");
}

/// A signature that stands is offered as the partner's yes, and the yes does not void it.
#[test]
fn a_standing_signature_serves_as_the_yes() {
    let mut stage = stage();
    let signed = SignOff {
        by: Key::new("partner").unwrap(),
        at_s: 0,
        text: Note::default(),
        plan: Box::new(stage.plan().clone()),
    };
    stage.app.editor_mut().unwrap().voice.talk.sign_offs.push(signed);
    stage.play("9");
    choose(&mut stage, Act::PartnersYes, On::Boat);
    assert!(stage.shows("signed by partner │"), "{}", stage.lines().join("\n"));
    stage.play("space");
    assert_eq!(tick(&stage, Act::PartnersYes, On::Boat).unwrap().reading.as_str(), "signed by partner");
    assert_eq!(stage.editor().voice.signed(stage.plan()), "signed by partner");
}

#[test]
fn a_price_is_set_in_the_inspector() {
    let mut stage = stage();
    stage.play("/ \"crate\" enter enter \"price\" enter \"12.345\" enter");
    assert!(stage.shows("at most two decimals"), "{}", stage.lines().join("\n"));
    stage.play("ctrl-u \"12.5\" enter");
    assert_eq!(stage.gear("crate").spec.price, Some(Price::new(12.5).unwrap()));
    assert!(stage.shows("12.50"), "{}", stage.lines().join("\n"));
}

#[test]
fn an_old_hole_that_is_ticked_as_closed_is_closed() {
    let mut stage = stage();
    let before = stage.plan().clone();
    let hole = before.penetrations.iter().find(|hole| hole.fate == Fate::Open).unwrap().id;
    let fate = |stage: &Stage| stage.plan().penetration(hole).unwrap().fate;
    stage.play("9");
    choose(&mut stage, Act::Patch, On::Hole(hole));
    stage.play("space");
    assert!(matches!(fate(&stage), Fate::Plugged(_)), "{:?}", fate(&stage));
    assert_eq!(view(&stage).chosen().task(), Some((Act::Patch, On::Hole(hole))), "a task that is done");
    stage.play("space");
    assert_eq!(stage.plan(), &before);
}

#[test]
fn times_are_said_in_one_step() {
    let mut stage = stage();
    let before = stage.plan().clone();
    stage.play("9 s ctrl-u \"2031-06-10\" tab ctrl-u \"90\" tab \"tue sat\" tab \"2031-06-14\" tab \"12\" enter");
    let work = &stage.plan().work;
    assert_eq!((work.begins, work.launch), (Some(day("2031-06-10")), Some(day("2031-06-14"))));
    assert!(
        stage.shows("start 2031-06-10, evenings of 90 min, Tue Sat, garage 12 C, wanted 2031-06-14"),
        "{}",
        stage.lines().join("\n")
    );
    assert!(stage.shows("days late"), "{}", stage.lines().join("\n"));
    assert!(stage.shows("first evening, Tue 2031-06-10"), "{}", stage.lines().join("\n"));
    stage.play("u");
    assert_eq!(stage.plan(), &before);
    stage.play("s tab ctrl-u \"14\" enter");
    assert!(stage.shows("from 15 to 1440 minutes"), "{}", stage.lines().join("\n"));
}

#[test]
fn where_a_plan_can_only_be_looked_at_tasks_are_gone_to_alone() {
    let mut stage = Stage::looking_at(demo("seat-test.ron")).sized(120, 40);
    let before = stage.plan().clone();
    stage.play("9 space r s u");
    assert!(stage.refused().contains("can only be looked at"), "{}", stage.refused());
    assert_eq!(stage.app.layers.len(), 1);
    assert_eq!(stage.plan(), &before);
}

#[test]
fn at_80x24_the_list_has_the_screen() {
    let mut stage = stage().sized(80, 24);
    stage.play("9");
    let lines = stage.lines();
    assert!(lines[0].contains("tasks done") && lines[23].contains("s start, launch"), "{}", lines.join("\n"));
    // A click chooses the line it is on.
    let row = view(&stage).row;
    stage.play("click:10:6");
    assert_ne!(view(&stage).row, row);
}
