//! What the person waits for: the study, an edit, a frame, opening and saving. `cargo bench`, then see DEVELOPERS.md.
//!
//! The plans are made from the catalogue by arithmetic, so that every run measures the same work.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the bench")]
#![allow(clippy::print_stdout, reason = "a bench says what it measured")]

mod cables;
mod day;
mod float;
mod paper;

use std::collections::BTreeMap;
use std::hint::black_box;
use std::path::Path;
use std::sync::{Arc, Mutex};

use divan::Bencher;
use gunnel::catalogue::{Catalogue, hulls, new_plan};
use gunnel::checks::{self, Case, Limits};
use gunnel::edit::{Edit, apply};
use gunnel::plan::{
    Fate, GearId, Kind, Level, Mount, Name, Penetration, Placement, Plan, Purpose, Reading, Seal, Spec, Taken,
};
use gunnel::scenarios::SCENARIOS;
use gunnel::session::Session;
use gunnel::storage::load::{self, Format};
use gunnel::storage::write;
use gunnel::study::Study;
use gunnel::study::clearance::{Clearance, Surroundings};
use gunnel::study::holes::Holes;
use gunnel::study::lights::Lights;
use gunnel::study::power::Power;
use gunnel::study::reach::Reach;
use gunnel::study::rig::{Rig, RigItem};
use gunnel::study::seat_test::SeatTest;
use gunnel::study::shape::Shape;
use gunnel::study::sight::Sight;
use gunnel::study::transducer::Transducers;
use gunnel::study::weights::Weights;
use gunnel::tui::app::{App, Editor, FileState, Look, Screen};
use gunnel::tui::areas::Areas;
use gunnel::tui::draw::draw;
use gunnel::tui::glyphs::Glyphs;
use gunnel::tui::theme::{Depth, Ground, Theme};
use gunnel::units::{Angle, Figure, Length, Mass, Measure};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

fn main() {
    for (gear, holes) in SIZES {
        let plan = rigged(gear, holes);
        let study = Study::of(&plan);
        let (found, overlaps) = (checks::run(&plan, &study).len(), study.clearance.overlaps.len());
        println!("{gear} pieces of gear, {} holes: {found} findings, {overlaps} overlaps", study.holes.holes.len());
    }
    divan::main();
}

/// How many pieces of gear, and the least number of holes.
const SIZES: [(u32, usize); 2] = [(60, 80), (600, 800)];

#[divan::bench(args = SIZES)]
fn study_and_checks(bencher: Bencher, (gear, holes): (u32, usize)) {
    let plan = rigged(gear, holes);
    bencher.bench_local(|| {
        let study = Study::of(black_box(&plan));
        let findings = checks::run(&plan, &study);
        (study, findings)
    });
}

/// Each report of the study alone.
#[divan::bench(
    args = ["rig", "weights", "power", "holes", "reach", "sight", "transducer", "clearance", "lights"],
    consts = [60, 600],
)]
fn one_report<const GEAR: u32>(bencher: Bencher, name: &str) {
    let plan = rigged(GEAR, GEAR as usize * 4 / 3);
    let study = Study::of(&plan);
    bencher.bench_local(|| {
        let (plan, rig) = (black_box(&plan), &study.rig);
        match name {
            "rig" => drop(black_box(Rig::of(plan))),
            "weights" => drop(black_box(Weights::of(plan, rig))),
            "power" => drop(black_box(Power::of(plan))),
            "holes" => drop(black_box(Holes::of(plan, rig, &study.float.levels))),
            "reach" => drop(black_box(Reach::of(plan, rig, &study.seat_test))),
            "lights" => drop(black_box(Lights::of(plan, rig, &study.reach.body, &study.float))),
            "sight" => drop(black_box(Sight::of(plan, rig, &study.reach.body))),
            "transducer" => {
                let water = &study.float.levels.rest;
                drop(black_box(Transducers::of(plan, study.shape.form(), rig, water)));
            }
            _ => drop(black_box(Clearance::of(plan, rig, &study.reach.body))),
        }
    });
}

/// The form without readings, and with waterlines of three loads marked at two stations each.
#[divan::bench(args = [0, 2, 6])]
fn shape_after_readings(bencher: Bencher, marks: usize) {
    let mut plan = rigged(60, 80);
    let mark = |index: usize| {
        let (load, x) = (40.0 + 40.0 * (index / 2) as f64, 600.0 + 2000.0 * (index % 2) as f64);
        let height = 70.0 + 0.35 * load + 5.0 * (index % 3) as f64;
        Taken::Waterline { x: Length::mm(x), height: Length::mm(height), load: Mass::kg(load) }
    };
    plan.readings = (0..marks).map(|index| Reading { date: None, taken: mark(index), off: false }).collect();
    assert_eq!(Shape::of(&plan).readings.len(), marks);
    bencher.bench_local(|| Shape::of(black_box(&plan)));
}

#[divan::bench(args = SIZES)]
fn study_alone(bencher: Bencher, (gear, holes): (u32, usize)) {
    let plan = rigged(gear, holes);
    bencher.bench_local(|| Study::of(black_box(&plan)));
}

/// The body refit by a seat test of everything that is touched: all of it with a lean.
#[divan::bench]
fn seat_test_of_all(bencher: Bencher) {
    let mut plan = rigged(60, 80);
    let taken = |gear| Taken::seat_test(gear, true, true);
    let tried: Vec<GearId> = Study::of(&plan).reach.items.iter().map(|item| item.gear).collect();
    plan.readings.extend(tried.into_iter().map(|gear| Reading { date: None, taken: taken(gear), off: false }));
    let rig = Rig::of(&plan);
    println!("{} seat tests", plan.readings.len());
    bencher.bench_local(|| SeatTest::of(black_box(&plan), &rig));
}

/// Each check alone: which of them to look at first.
#[divan::bench(args = checks::CHECKS.iter().map(|check| check.id), consts = [60, 600])]
fn one_check<const GEAR: u32>(bencher: Bencher, id: &str) {
    let plan = rigged(GEAR, GEAR as usize * 4 / 3);
    let study = Study::of(&plan);
    let limits = Limits::for_plan(&plan);
    let check = checks::by_id(id).unwrap();
    bencher.with_inputs(Vec::new).bench_local_values(|mut found| {
        (check.run)(&Case { plan: black_box(&plan), study: &study, limits: &limits }, &mut found);
        found
    });
}

/// A heap: everything aboard at the bow, out of reach and in one place.
#[divan::bench]
fn checks_of_a_heap_of_200(bencher: Bencher) {
    let plan = heap(200);
    let study = Study::of(&plan);
    bencher.bench_local(|| checks::run(black_box(&plan), &study));
}

#[divan::bench(args = SIZES)]
fn edit_with_its_study(bencher: Bencher, (gear, holes): (u32, usize)) {
    let plan = rigged(gear, holes);
    let id = plan.gear[0].id;
    let session = Session::new(plan, Measure::default());
    bencher.with_inputs(|| session.clone()).bench_local_values(|mut session| {
        session.edit(Edit::Move { gear: id, x: Length::mm(1400.0), y: Length::mm(250.0) }).unwrap();
        session
    });
}

/// What moves it level, asked for by a key: on a demo plan whose hull weighs more to port, where a move does, and on a
/// deck so full that all is tried and none does.
#[divan::bench(args = ["demo", "full deck"])]
fn what_moves_it_level(bencher: Bencher, which: &str) {
    let plan = if which == "demo" {
        let demo = SCENARIOS.iter().find(|demo| demo.file == "ready-for-review.ron").unwrap();
        let mut plan = load::plan(demo.text, Path::new(demo.file), Format::Ron).unwrap();
        Arc::make_mut(&mut plan.hull).centre_mm.y += 80.0;
        plan
    } else {
        full_deck()
    };
    let session = Session::new(plan, Measure::default());
    let moves = session.level();
    println!("{which}: {:?}, {} may be moved, {} proposals", moves.off, moves.movable, moves.proposals.len());
    assert!(moves.off.any());
    bencher.bench_local(|| black_box(&session).level());
}

/// Sixty pieces of gear of a kilogram each, on a hull that carries them, with twelve at one corner.
fn full_deck() -> Plan {
    let mut plan = rigged(60, 80);
    plan.hull = new_plan("standup-12").unwrap().hull;
    for gear in &mut plan.gear {
        Arc::make_mut(&mut gear.spec).mass = Figure::measured(Mass::kg(1.0));
        // Its water alone would turn the boat over.
        gear.place = gear.place.filter(|_| gear.spec.kind != Kind::Livewell);
    }
    let corner = &mut plan.gear[0];
    Arc::make_mut(&mut corner.spec).mass = Figure::measured(Mass::kg(12.0));
    (corner.pinned, corner.place) = (true, Some(Placement::at(200.0, 100.0)));
    plan
}

#[divan::bench]
fn frame_120x40(bencher: Bencher) {
    let app = app(rigged(60, 80), (120, 40));
    let mut buffer = Buffer::empty(Rect::new(0, 0, 120, 40));
    bencher.bench_local(|| {
        buffer.reset();
        draw(black_box(&app), &mut buffer);
    });
}

#[divan::bench(args = SIZES)]
fn save_as_text(bencher: Bencher, (gear, holes): (u32, usize)) {
    let plan = rigged(gear, holes);
    bencher.bench_local(|| write::plan(black_box(&plan), Format::Ron).unwrap());
}

#[divan::bench(args = SIZES)]
fn load_from_text(bencher: Bencher, (gear, holes): (u32, usize)) {
    let text = write::plan(&rigged(gear, holes), Format::Ron).unwrap();
    bencher.bench_local(|| load::plan(black_box(&text), Path::new("bench.ron"), Format::Ron).unwrap());
}

/// A boat with so much gear spread over its deck, and cable holes until there are so many holes in all.
fn rigged(gear: u32, holes: usize) -> Plan {
    static MADE: Mutex<BTreeMap<u32, Plan>> = Mutex::new(BTreeMap::new());
    MADE.lock().unwrap().entry(gear).or_insert_with(|| rig_out(gear, holes)).clone()
}

fn rig_out(gear: u32, holes: usize) -> Plan {
    // One in three would be drilled for, the others are held without a hole.
    let mut plan = with_gear(gear, |mounts, n| {
        let free = mounts.iter().find(|how| !matches!(how, Mount::Bolts | Mount::Rivets | Mount::Flush));
        if n % 6 == 0 { mounts[0] } else { *free.unwrap_or(&mounts[0]) }
    });
    let missing = holes.saturating_sub(Study::of(&plan).holes.holes.len());
    for n in 0..missing {
        let (x, y) = spread(n as u32 + 7);
        let hole = Penetration {
            id: plan.next_hole_id(),
            name: Name::new(format!("cable hole {n}")).unwrap(),
            x: Length::mm(x),
            y: Length::mm(y),
            bore: Length::mm(12.0),
            purpose: Purpose::Cable,
            fate: Fate::New,
            seal: Seal::default(),
            left: None,
        };
        plan.penetrations.push(hole);
    }
    assert_eq!(plan.validate(), Ok(()));
    plan
}

/// Gear in one heap at the bow.
fn heap(gear: u32) -> Plan {
    let mut plan = with_gear(gear, |mounts, _| mounts[0]);
    for (n, gear) in plan.gear.iter_mut().enumerate() {
        let place = gear.place.as_mut().unwrap();
        (place.x, place.y) = (Length::mm(2900.0 + (n % 20) as f64), Length::mm((n % 7) as f64 * 10.0));
        place.level = Level::Deck;
    }
    plan
}

fn with_gear(count: u32, held: impl Fn(&[Mount], u32) -> Mount) -> Plan {
    let mut plan = new_plan(hulls()[1].key().as_str()).unwrap();
    let entries: Vec<&Spec> = Catalogue::shipped().entries().iter().collect();
    // Six hundred parts find room on such a boat only if most of them are small.
    let small: Vec<&Spec> = entries.iter().copied().filter(|spec| width_mm(spec) <= 120.0).collect();
    for n in 0..count {
        let among = if n < 60 { &entries } else { &small };
        let spec = among[(n as usize * 17) % among.len()];
        let mounts: Vec<Mount> = spec.mounts.iter().map(|mounting| mounting.how).collect();
        let add = |place| Edit::Add { spec: Box::new(spec.clone()), mount: Some(held(&mounts, n)), place: Some(place) };
        // As a person would: the first place that is free, after a few tries any.
        let rig = Rig::of(&plan);
        let mut tried = (0..TRIES).map(|attempt| {
            let (x, y) = spread(n * TRIES + attempt);
            let place = Placement { turn: Angle::deg(f64::from(attempt % 4) * 90.0), ..Placement::at(x, y) };
            let next = apply(&plan, &add(place)).unwrap();
            let gear = next.gear.last().unwrap();
            let item = RigItem::of(&next, gear, next.gear.len() - 1).unwrap();
            let free = Surroundings::of(&next, &rig, &[]).overlaps(&item).next().is_none();
            (free, next)
        });
        let first = tried.next().unwrap().1;
        plan = tried.find(|(free, _)| *free).map_or(first, |(_, next)| next);
    }
    plan
}

/// The wider side of a part, seen from above.
fn width_mm(spec: &Spec) -> f64 {
    let wider = |(x, y, _): (f64, f64, f64)| x.max(y);
    spec.bodies.iter().map(|body| wider(body.shape.size())).fold(0.0, f64::max)
}

/// Places tried for each piece of gear.
const TRIES: u32 = 12;

/// Spots that fill the deck evenly: fractions of two irrational numbers.
fn spread(n: u32) -> (f64, f64) {
    let part = |step: f64| (f64::from(n + 1) * step).fract();
    ((200.0 + part(0.754_877_666) * 2600.0).round(), (part(0.569_840_291) * 600.0 - 300.0).round())
}

/// The screen with this plan open.
fn app(plan: Plan, size: (u16, u16)) -> App {
    let session = Session::new(plan, Measure::default());
    let mut app = App {
        screen: Screen::Editor(Box::new(Editor::new(session, FileState::default()))),
        layers: Vec::new(),
        look: Look { theme: Theme::new(Ground::Dark, Depth::True), glyphs: Glyphs::Block, tape: Measure::default() },
        toast: None,
        size,
        today: None,
        catalogue: Catalogue::shipped().clone().into(),
        hulls: hulls().to_vec(),
        demos: gunnel::scenarios::SCENARIOS,
        recent: Vec::new(),
        lost: Vec::new(),
    };
    let (deck, look) = (Areas::of(&app).deck, app.look.clone());
    app.editor_mut().unwrap().refresh(deck, &look);
    app
}
