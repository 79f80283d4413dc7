//! Measuring a hull on the screen: from nothing to a floating boat by keys, and what a slip of the hand does.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::plan::{Bottom, FeatureId, Measurement, Plan, ZoneId};
use gunnel::study::float::{Float, water_density};
use gunnel::tui::layer::{Interview, Layer, Picture, Row};
use gunnel::tui::update::Effect;
use gunnel::units::{Length, Origin};

use crate::boats::bare;
use crate::stage::Stage;

/// The interview in front.
fn interview(stage: &Stage) -> &Interview {
    match stage.app.layers.last() {
        Some(Layer::Interview(interview)) => interview,
        other => panic!("no interview in front but {other:?}"),
    }
}

/// The interview about the hull of a bare boat.
fn measuring() -> Stage {
    let mut stage = Stage::on(bare());
    stage.play("B");
    stage
}

/// The interview on the start screen about a boat like the 11 ft class.
fn measuring_new() -> Stage {
    let mut stage = Stage::start();
    let rows = stage.app.demos.len() + stage.app.hulls.len();
    stage.play(&format!("down*{rows} enter \"11 ft\" enter ctrl-u \"creek boat\" enter"));
    stage
}

/// Goes to a row by keys.
fn go(stage: &mut Stage, row: Row) {
    stage.play("home");
    let at = interview(stage).rows().iter().position(|other| *other == row).unwrap();
    stage.play(&format!("down*{at}"));
    assert_eq!(interview(stage).row(), row);
}

fn mm(stage: &Stage, what: Measurement) -> f64 {
    interview(stage).trial().tape.gauge(what).unwrap().mm().unwrap()
}

fn started(stage: &Stage) -> &Plan {
    match stage.effects.as_slice() {
        [Effect::StartPlan(plan)] => plan,
        other => panic!("{other:?}"),
    }
}

/// A punt of 3200 x 800 x 300 mm with upright sides and ends: all of it can be checked by hand.
#[test]
fn an_invented_boat_is_measured_from_empty_to_floating() {
    let mut stage = measuring_new();
    assert!(stage.shows("0 of 39 measured; rest from 11 ft angler"), "{}", stage.lines().join("\n"));
    stage.play("\"3200\" enter");
    for station in 0..7 {
        let place = match station {
            0 => "\"0\" enter",
            6 => "\"3.2 m\" enter",
            _ => "enter",
        };
        stage.play(place).play("\"800\" enter \"15 cm\" enter \"800\" enter \"300\" enter \"0\" enter");
    }
    assert_eq!(interview(&stage).row(), Row::Rounding);
    assert!(stage.shows("36 of 39 measured"), "{}", stage.lines().join("\n"));
    // By hand: 3.2 m x 0.8 m x 0.12 m = 0.3072 m³, of water between 998 and 1000 kg per m³: 307 kg.
    assert!(stage.shows("at 120 mm it carries 307 kg"), "{}", stage.lines().join("\n"));
    assert!(stage.shows("nothing speaks against these figures"));
    stage.play("end enter");

    let plan = started(&stage).clone();
    assert_eq!(plan.validate(), Ok(()));
    assert_eq!((plan.name.as_str(), plan.hull.name.as_str()), ("creek boat", "creek boat"));
    assert_eq!((plan.hull.length.value, plan.hull.length.origin), (Length::mm(3200.0), Origin::Measured));
    assert_eq!((plan.hull.beam.value.to_mm(), plan.hull.beam.origin), (800.0, Origin::Measured));
    for section in &plan.hull.form.sections {
        assert_eq!(section.points_mm.first(), Some(&(0.0, 0.0)), "at {}", section.x_mm);
        assert_eq!(section.gunwale(), (400.0, 300.0), "at {}", section.x_mm);
        let upright = section.points_mm.iter().skip(1).all(|(y, _)| *y == 400.0);
        assert!(upright, "at {}: {:?}", section.x_mm, section.points_mm);
    }

    // By hand: a box that stays in the water with all of its bottom is amidships m / (rho L B) deep.
    let stage = Stage::on(plan);
    let study = stage.editor().session.study();
    let float = Float::of(stage.plan(), study.shape.form(), &study.rig, &study.weights);
    let afloat = float.case("as planned").unwrap();
    let outing = &stage.plan().outing;
    let density = water_density(outing.water, outing.water_temperature);
    let deep = afloat.load.mass_kg / (density * 3.2 * 0.8) * 1000.0;
    let rest = afloat.rest.unwrap();
    assert!((rest.draft_mean_mm - deep).abs() < 0.1, "{} {deep}", rest.draft_mean_mm);
    assert!(rest.heel_deg.abs() < 0.01 && rest.draft_aft_mm > 0.0 && rest.draft_fore_mm > 0.0, "{rest:?}");
}

#[test]
fn a_hull_can_be_used_before_it_is_measured_at_all() {
    for class in 0..gunnel::catalogue::hulls().len() {
        let mut stage = Stage::start();
        let rows = stage.app.demos.len() + stage.app.hulls.len();
        stage.play(&format!("down*{rows} enter down*{class} enter enter ctrl-s"));
        assert_eq!(started(&stage).validate(), Ok(()), "class {class}");
    }
}

#[test]
fn a_measured_hull_is_one_step_to_undo() {
    let mut stage = measuring();
    let before = stage.plan().clone();
    stage.play("\"3500\" enter").play("enter \"20 1/4 in\" enter ctrl-s");
    assert!(stage.app.layers.is_empty(), "{}", stage.lines().join("\n"));
    assert_eq!(stage.editor().session.history().steps().len(), 2);
    let tape = stage.plan().hull.form.tape().unwrap();
    assert_eq!(tape.length.taken, [Length::mm(3500.0)]);
    assert_eq!(tape.stations[0].width.taken, [Length::inches(20.25)], "units stay as typed");
    assert_eq!(stage.plan().hull.form.length(), 3500.0);
    assert!(tape.wells.is_empty() && tape.features.is_empty(), "what nobody measured is not kept");
    stage.play("u");
    assert_eq!(*stage.plan(), before);
    stage.play("U B");
    // The next interview starts from that tape.
    assert_eq!(mm(&stage, Measurement::Length), 3500.0);
    assert_eq!(interview(&stage).progress().0, 2);
}

#[test]
fn nothing_new_is_no_edit() {
    let mut stage = measuring();
    stage.play("enter*5 ctrl-s");
    assert!(stage.app.layers.is_empty());
    assert_eq!(stage.editor().session.history().steps().len(), 1);
    assert!(stage.said().contains("nothing new was measured"));
}

#[test]
fn bad_input_stays_in_the_line_with_a_reason() {
    for (typed, reason) in [
        ("abc", "type a number"),
        ("12x4", "\"x\" is not a unit of length"),
        ("12 1/", "a number is missing"),
        ("1e9", "is not a unit of length"),
        ("999999999", "999999999"),
        ("30 m", "30000"),
        ("-5", "a tape shows no minus"),
        ("84", "84 cm would be 840 mm"),
    ] {
        let mut stage = measuring();
        let row = Row::Gauge(Measurement::Width(3));
        go(&mut stage, row);
        let before = interview(&stage).trial().tape.clone();
        stage.play(&format!("\"{typed}\" enter"));
        let now = interview(&stage);
        assert_eq!((now.input.value(), now.row()), (typed, row));
        assert_eq!(now.trial().tape, before);
        let said = &now.said.as_ref().unwrap().text;
        assert!(said.contains(reason), "{typed}: {said}");
        let shown = stage.lines().join(" ");
        let first_words: String = said.split_whitespace().take(4).collect::<Vec<_>>().join(" ");
        assert!(shown.contains(&first_words), "{said}\n{}", stage.lines().join("\n"));
        // Neither going away nor using the hull loses it.
        stage.play("down ctrl-s");
        assert_eq!(interview(&stage).row(), row);
        stage.play("esc");
        assert_eq!(interview(&stage).input.value(), "");
        stage.play("esc");
        assert!(stage.app.layers.is_empty(), "an empty line and nothing taken: no question");
    }
}

#[test]
fn a_doubtful_reading_is_taken_when_insisted_on() {
    let mut stage = measuring();
    go(&mut stage, Row::Gauge(Measurement::Width(3)));
    stage.play("\"84\" enter enter");
    assert_eq!(mm(&stage, Measurement::Width(3)), 84.0);
    assert_eq!(interview(&stage).row(), Row::Gauge(Measurement::WidthHeight(3)));
    stage.play("up");
    assert!(stage.shows("station 4: no such boat has 84 mm for the greatest width"), "{}", stage.lines().join("\n"));
}

#[test]
fn repeat_readings_are_averaged_and_struck_one_by_one() {
    let mut stage = measuring();
    let what = Measurement::Width(2);
    go(&mut stage, Row::Gauge(what));
    let guess = mm(&stage, what);
    stage.play("\"840\" enter up \"846\" enter up");
    // By hand: mean 843, sample deviation of two that are 6 apart is 6 / root 2 = 4.24.
    assert_eq!(mm(&stage, what), 843.0);
    assert!(stage.shows("843 mm 2x ±4"), "{}", stage.lines().join("\n"));
    assert!(stage.shows("1 of 38 measured"));
    stage.play("backspace");
    assert_eq!(mm(&stage, what), 840.0);
    stage.play("backspace");
    assert_eq!(mm(&stage, what), guess);
    assert!(stage.shows("0 of 38 measured"));
    stage.play("backspace");
    assert_eq!(mm(&stage, what), guess, "a guess is not struck");
}

#[test]
fn stations_follow_the_length_until_one_is_chosen() {
    let mut stage = measuring();
    let places = |stage: &Stage| -> Vec<f64> {
        interview(stage).trial().tape.stations.iter().map(|station| station.x.to_mm()).collect()
    };
    let before = places(&stage);
    stage.play("\"4 m\" enter");
    let longer = places(&stage);
    assert!(longer.iter().zip(&before).all(|(new, old)| new > old), "{longer:?} {before:?}");
    stage.play("pagedown*2 ctrl-n");
    let added = places(&stage);
    assert_eq!(added.len(), 8);
    assert_eq!(interview(&stage).row(), Row::Place(3), "after the station it was added at");
    assert!((added[3] - f64::midpoint(added[2], added[4])).abs() <= 0.5, "{added:?}");
    stage.play("\"1 in\" enter");
    assert!(interview(&stage).said.as_ref().unwrap().text.starts_with("station 4 lies between"));
    stage.play("esc ctrl-d");
    assert_eq!(places(&stage), longer);
    stage.play("ctrl-z");
    assert_eq!(places(&stage), added);
    stage.play("ctrl-z*9");
    assert_eq!(places(&stage), before);
    assert!(!interview(&stage).changed());
}

#[test]
fn a_hull_keeps_stations_enough() {
    let mut stage = measuring();
    stage.play("pagedown ctrl-n*9");
    assert_eq!(interview(&stage).trial().tape.stations.len(), 9, "as many as a tape has");
    assert!(interview(&stage).said.as_ref().unwrap().refused);
    stage.play("ctrl-d*20");
    assert_eq!(interview(&stage).trial().tape.stations.len(), 2);
    assert!(interview(&stage).said.as_ref().unwrap().refused);
    stage.play("ctrl-s");
    assert_eq!(stage.plan().validate(), Ok(()));
}

#[test]
fn the_chine_and_the_kind_of_bottom_are_chosen_by_arrows() {
    let mut stage = measuring();
    go(&mut stage, Row::Rounding);
    let volume = |stage: &Stage| gunnel::geometry::Body::of(&interview(stage).trial().hull.form).unwrap().volume();
    stage.play("left*20");
    assert_eq!(interview(&stage).trial().tape.rounding.map(|r| (r.value, r.origin)), Some((0.0, Origin::Measured)));
    let hard = volume(&stage);
    stage.play("right*3");
    assert_eq!(interview(&stage).trial().tape.rounding.unwrap().value, 0.3);
    assert!(volume(&stage) > hard, "a rounder chine holds more");
    stage.play("\"3\" enter");
    assert_eq!(interview(&stage).input.value(), "3");
    stage.play("esc backspace");
    assert_eq!(interview(&stage).trial().tape.rounding.unwrap().origin, Origin::Guess);
    go(&mut stage, Row::Kind);
    let flat = volume(&stage);
    stage.play("right");
    assert!(matches!(interview(&stage).trial().tape.bottom, Bottom::Tunnel { .. }));
    stage.play("down \"120\" enter \"60\" enter");
    assert_eq!(mm(&stage, Measurement::BottomHeight), 60.0);
    assert!(volume(&stage) < flat, "a tunnel holds water");
    go(&mut stage, Row::Kind);
    stage.play("right");
    assert!(stage.shows("pontoons"));
    stage.play("right ctrl-s");
    assert!(stage.app.layers.is_empty());
}

#[test]
fn wells_and_fittings_go_where_they_were_measured() {
    let mut stage = measuring();
    let (hull, tape) = (stage.plan().hull.clone(), interview(&stage).trial().tape.clone());
    let well = tape.wells.iter().position(|well| well.zone == ZoneId(13)).unwrap();
    go(&mut stage, Row::Gauge(Measurement::Well(well)));
    stage.play("\"150\" enter");
    go(&mut stage, Row::Features);
    stage.play("right");
    // The inserts to starboard: the side stays, no sign is typed.
    let place = tape.features.iter().position(|place| place.feature == FeatureId(6)).unwrap();
    go(&mut stage, Row::Gauge(Measurement::FeatureX(place)));
    assert!(stage.shows("to starboard"), "{}", stage.lines().join("\n"));
    stage.play("\"1600\" enter \"340\" enter ctrl-s");
    assert!(stage.app.layers.is_empty(), "{}", stage.lines().join("\n"));
    let feature = stage.plan().feature(FeatureId(6)).unwrap();
    assert_eq!((feature.at_mm.x, feature.at_mm.y), (1600.0, -340.0));
    let zone = stage.plan().zone(ZoneId(13)).unwrap();
    let rim = hull.form.gunwale(zone.outline_mm.middle().x).unwrap().1;
    assert!((zone.height.value.to_mm() - (rim - 150.0)).abs() < 12.0, "{:?} {rim}", zone.height);
    assert_eq!(zone.height.origin, Origin::Measured);
}

#[test]
fn leaving_asks_only_when_readings_would_be_lost() {
    let mut stage = measuring();
    stage.play("down*3 tab esc");
    assert!(stage.app.layers.is_empty());
    let before = stage.plan().clone();
    stage.play("B \"3500\" enter esc");
    assert!(matches!(stage.app.layers.last(), Some(Layer::Question(_))));
    stage.play("c");
    assert_eq!(mm(&stage, Measurement::Length), 3500.0);
    stage.play("esc enter");
    assert!(matches!(stage.app.layers.last(), Some(Layer::Question(_))), "keys typed ahead answer nothing");
    stage.play("l");
    assert!(stage.app.layers.is_empty());
    assert_eq!(*stage.plan(), before);
    stage.play("B \"3500\" enter esc u");
    assert_eq!(stage.plan().hull.form.length(), 3500.0);
}

#[test]
fn the_mouse_chooses_rows_and_the_tab_key_the_picture() {
    let mut stage = measuring();
    let lines = stage.lines();
    let y = lines.iter().position(|line| line.trim_start().starts_with("flat bottom")).unwrap();
    stage.play(&format!("click:5:{y}"));
    assert_eq!(interview(&stage).row(), Row::Gauge(Measurement::BottomWidth(0)));
    stage.play("wheel-down:5:10");
    assert_eq!(interview(&stage).row(), Row::Gauge(Measurement::Gunwale(0)));
    assert!(stage.shows("sections, aft left"));
    stage.play("tab");
    assert_eq!(interview(&stage).picture, Picture::FromAbove);
    assert!(stage.shows("from above") && !stage.shows("sections, aft left"));
    stage.play("paste:\"33 1/4 in\" enter");
    assert_eq!(interview(&stage).trial().tape.stations[0].gunwale.taken, [Length::inches(33.25)]);
}

/// Every row at many sizes, with kinds of bottom that have rows of their own.
#[test]
fn every_row_is_drawn_at_every_size() {
    for kind in ["", "right", "left"] {
        let mut stage = measuring();
        go(&mut stage, Row::Features);
        stage.play("right");
        go(&mut stage, Row::Kind);
        stage.play(kind);
        // Two stations and two fittings are like all others.
        let rows = interview(&stage).rows().to_vec();
        let here = |row: Row| row.station().is_none_or(|number| number == 0 || number == 6);
        let few: Vec<usize> = (0..rows.len().min(64)).filter(|at| here(rows[*at])).collect();
        for size in ["size:0x0", "size:1x1", "size:60x16", "size:63x20", "size:119x33", "size:240x90"] {
            stage.play(size);
            for at in &few {
                let Some(Layer::Interview(interview)) = stage.app.layers.last_mut() else { panic!("left at {at}") };
                interview.go(*at);
                stage.buffer();
            }
        }
    }
}

/// What cannot be a hull is told, not drawn: every station at zero.
#[test]
fn nonsense_figures_are_no_trouble() {
    let mut stage = measuring();
    for number in 0..7 {
        for what in Measurement::of_station(number) {
            go(&mut stage, Row::Gauge(what));
            stage.play("\"0\" enter enter");
        }
    }
    stage.play("home");
    for _ in 0..interview(&stage).rows().len() {
        stage.buffer();
        stage.play("down");
    }
    stage.play("ctrl-s");
    assert!(interview(&stage).said.as_ref().unwrap().refused, "such a hull is not used");
}

#[test]
fn a_plan_to_look_at_is_not_measured() {
    let mut stage = Stage::looking_at(bare());
    stage.play("B");
    assert!(stage.app.layers.is_empty());
    assert!(stage.refused().contains("can only be looked at"));
}
