//! The diagram of the wires with its keys: hanging, curing, adding, striking, forms; and a figure of it by hand.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::plan::{Circuit, CircuitId, GearId, Main};
use gunnel::tui::app::{Carried, Focus, Thing};
use gunnel::tui::layer::Layer;
use gunnel::tui::panels::wiring::{Item, lines};
use gunnel::tui::panels::{PanelKind, Sources};

use crate::boats::{bare, demo, name, rich};
use crate::stage::Stage;

/// The boat after its seat test: a battery, a switch unit of six channels with five circuits.
pub fn stage() -> Stage {
    let mut stage = Stage::on(demo("seat-test.ron")).sized(120, 40);
    stage.play("7");
    stage
}

const SONAR: CircuitId = CircuitId(1);
const LIGHT: CircuitId = CircuitId(2);
const BATTERY: GearId = GearId(4);
const UNIT: GearId = GearId(5);

fn items(stage: &Stage) -> Vec<Item> {
    let session = &stage.editor().session;
    let from = Sources {
        plan: session.plan(),
        study: session.study(),
        findings: session.findings(),
        before: None,
        tape: stage.app.look.tape,
    };
    lines(from).into_iter().map(|line| line.item).collect()
}

/// Walks to a line as a person would.
pub fn walk(stage: &mut Stage, item: Item) -> &mut Stage {
    let to = items(stage).iter().position(|other| *other == item).unwrap_or_else(|| panic!("no {item:?}"));
    stage.play("pageup*9");
    for _ in 0..to {
        stage.play("down");
    }
    stage
}

fn load(stage: &Stage, label: &str) -> Item {
    let gear = stage.gear(label).id;
    Item::Load(gear, stage.plan().wiring.circuit_of(gear).map(|circuit| circuit.id))
}

fn spare(stage: &Stage) -> Item {
    items(stage).into_iter().find(|item| matches!(item, Item::Spare { .. })).unwrap()
}

fn circuit(stage: &Stage, id: CircuitId) -> &Circuit {
    stage.plan().wiring.circuit(id).unwrap_or_else(|| panic!("no {id}"))
}

fn found(stage: &Stage, check: &str) -> usize {
    stage.findings().iter().filter(|finding| finding.check == check).count()
}

/// The line of the screen that says this.
pub fn line(stage: &Stage, words: &str) -> String {
    let lines = stage.lines();
    lines
        .iter()
        .find(|line| line.contains(words))
        .unwrap_or_else(|| panic!("no {words} in\n{}", lines.join("\n")))
        .clone()
}

#[test]
fn seven_opens_the_diagram_and_tab_comes_by() {
    let mut stage = stage();
    assert_eq!(stage.editor().focus, Focus::Panel(PanelKind::Wiring));
    assert!(stage.shows("one way") && stage.shows("└─switch unit"));
    stage.play("7");
    assert_eq!(stage.editor().focus, Focus::Deck);
    stage.play("6 tab");
    assert_eq!(stage.editor().focus, Focus::Panel(PanelKind::Wiring));
    stage.play("tab");
    assert_eq!(stage.editor().focus, Focus::Deck);
}

#[test]
fn every_circuit_load_and_free_channel_has_its_line() {
    let stage = stage();
    let items = items(&stage);
    for circuit in &stage.plan().wiring.circuits {
        assert!(items.contains(&Item::Circuit(circuit.id)), "{}", circuit.name);
        for load in &circuit.loads {
            assert!(items.contains(&Item::Load(*load, Some(circuit.id))), "{load}");
        }
    }
    assert_eq!(items[..2], [Item::Battery(BATTERY), Item::Unit { battery: BATTERY, unit: UNIT }]);
    assert_eq!(spare(&stage), Item::Spare { battery: BATTERY, unit: UNIT, channel: 6 });
}

#[test]
fn what_is_on_no_circuit_stands_at_the_end() {
    let mut stage = Stage::on(rich()).sized(120, 40);
    stage.play("7");
    let items = items(&stage);
    let heading = items.iter().position(|item| *item == Item::Free).unwrap();
    let free = &stage.editor().session.study().wiring.free;
    let expected: Vec<Item> = free.iter().map(|gear| Item::Load(*gear, None)).collect();
    assert!(!expected.is_empty());
    assert_eq!(items[heading + 1..=heading + expected.len()], expected);
}

/// The sonar's wire: 3100 mm one way of 20 AWG, 1.8 A at most, 12.8 V. By hand: d = 0.127 x 92^(16/39) = 0.8118 mm,
/// 0.5176 mm2; copper at 30 C (2 C air and 20 K over it would be cooler than is counted) 0.017241 x (1 + 0.00393 x 10)
/// = 0.017919 ohm mm2/m; there and back 6.2 m is 0.2146 ohm, laid up 2 percent more (0.2189): 0.394 V. The main before it: 900 mm of 12 AWG,
/// 3.309 mm2, 5.13 A with everything at its most: 0.00994 ohm, 0.051 V. Together 0.445 V, 3.48 percent.
#[test]
fn the_drop_on_the_screen_is_the_drop_by_hand() {
    let mut stage = stage();
    let sonar = line(&stage, "1 sonar");
    for words in [" 1.8 ", " 3 A ", " 20 ", " 3100 mm ", " 3.5 %"] {
        assert!(sonar.contains(words), "{words}: {sonar}");
    }
    walk(&mut stage, Item::Circuit(SONAR));
    assert!(stage.shows("loses 0.45 V"), "{}", stage.lines().join("\n"));
}

#[test]
fn a_circuit_lights_up_with_its_loads() {
    let mut stage = stage();
    let before = stage.picture().runs;
    walk(&mut stage, Item::Circuit(SONAR));
    assert_eq!(stage.editor().chosen, Some(Thing::Circuit(SONAR)));
    let display = stage.gear("display").id;
    let middle = stage.editor().spot_of(Thing::Gear(display)).unwrap();
    assert_eq!(stage.editor().cursor, middle);
    assert!(stage.shows("circuit sonar"));
    assert_ne!(stage.picture().runs, before);
}

#[test]
fn a_load_is_carried_to_another_circuit_and_undone() {
    let mut stage = stage();
    let pump = load(&stage, "bilge pump");
    walk(&mut stage, pump).play("space");
    assert!(matches!(stage.editor().carried, Some(Carried::Load(_))));
    walk(&mut stage, Item::Circuit(LIGHT));
    assert!(stage.shows("in hand: bilge pump; enter hangs it on pole light"));
    stage.play("space");
    assert_eq!(stage.editor().carried, None);
    assert!(stage.said().starts_with("put bilge pump on circuit pole light"), "{}", stage.said());
    assert!(circuit(&stage, LIGHT).loads.contains(&stage.gear("bilge pump").id));
    // The row stays on what was carried.
    let row = stage.editor().rows[PanelKind::Wiring.index()];
    assert_eq!(items(&stage)[row], load(&stage, "bilge pump"));
    stage.play("u");
    assert_eq!(*stage.plan(), demo("seat-test.ron"));
}

#[test]
fn esc_lets_go_before_it_leaves() {
    let mut stage = stage();
    let pump = load(&stage, "bilge pump");
    walk(&mut stage, pump).play("space down esc");
    assert_eq!((stage.editor().carried, stage.editor().focus), (None, Focus::Panel(PanelKind::Wiring)));
    stage.play("esc");
    assert_eq!(stage.editor().focus, Focus::Deck);
    assert_eq!(*stage.plan(), demo("seat-test.ron"));
}

#[test]
fn a_load_on_a_free_channel_gets_a_circuit_with_what_would_do() {
    let mut stage = stage();
    let strip = load(&stage, "deck strip");
    walk(&mut stage, strip).play("space");
    let channel = spare(&stage);
    walk(&mut stage, channel).play("enter");
    assert!(matches!(stage.app.layers.last(), Some(Layer::Form(_))));
    stage.play("enter");
    let id = stage.plan().wiring.circuit_of(stage.gear("deck strip").id).unwrap().id;
    let made = circuit(&stage, id);
    assert_eq!((made.channel, made.battery), (Some((UNIT, 6)), BATTERY));
    let run = &stage.editor().session.study().wiring.circuit(id).unwrap().run;
    assert_eq!((made.gauge_awg, made.fuse.map(|fuse| fuse.to_amps())), (run.smallest_awg, run.standard_fuse_a));
    assert!(made.gauge_awg.is_some() && made.fuse.is_some());
    stage.play("u u");
    assert_eq!(*stage.plan(), demo("seat-test.ron"));
}

#[test]
fn one_key_cures_a_wire_and_its_finding_goes() {
    let mut stage = stage();
    assert_eq!(found(&stage, "drop-over"), 1);
    walk(&mut stage, Item::Circuit(SONAR));
    assert!(stage.shows(". takes 18 AWG."), "{}", stage.lines().join("\n"));
    stage.play(".");
    assert_eq!((found(&stage, "drop-over"), circuit(&stage, SONAR).gauge_awg), (0, Some(18)));
    assert_eq!(stage.said(), "wire circuit sonar in 18 AWG");
    stage.play(".");
    assert_eq!(stage.refused(), "no wire size or fuse is wrong here");
    stage.play("u");
    assert_eq!(*stage.plan(), demo("seat-test.ron"));
}

#[test]
fn size_and_fuse_are_cured_in_one_step() {
    let mut plan = demo("seat-test.ron");
    plan.wiring.circuits[0].fuse = None;
    let mut stage = Stage::on(plan).sized(120, 40);
    stage.play("7");
    walk(&mut stage, Item::Circuit(SONAR)).play(".");
    // 1.14 A metered, 1.8 A at most: 125 percent of the first is less than the second, the next size is 2 A.
    let cured = circuit(&stage, SONAR);
    assert_eq!((cured.gauge_awg, cured.fuse.map(|fuse| fuse.to_amps())), (Some(18), Some(2.0)));
    assert_eq!(stage.said(), "fuse circuit sonar at 2 A, wire circuit sonar in 18 AWG");
    assert_eq!(stage.editor().session.history().steps().len(), 2);
}

#[test]
fn a_motor_on_a_channel_is_hung_there_and_told_to_be_a_stop() {
    let mut stage = Stage::on(demo("seat-test.ron")).sized(120, 40);
    stage.go(300.0, 0.0).play("a \"motor-stern-30\" enter enter");
    let motor = stage.plan().gear.last().unwrap().id;
    stage.play("7");
    walk(&mut stage, Item::Load(motor, None)).play("space");
    walk(&mut stage, Item::Circuit(LIGHT)).play("enter");
    assert!(circuit(&stage, LIGHT).loads.contains(&motor));
    assert!(stage.said().contains("not made to start a motor"), "{}", stage.said());
}

#[test]
fn a_circuit_is_carried_to_a_channel_or_to_the_battery() {
    let mut stage = stage();
    walk(&mut stage, Item::Circuit(SONAR)).play("space");
    walk(&mut stage, Item::Circuit(LIGHT)).play("space");
    assert_eq!(stage.refused(), "pole light has a line of its own: choose a free channel or a battery");
    let channel = spare(&stage);
    walk(&mut stage, channel).play("space");
    assert_eq!(circuit(&stage, SONAR).channel, Some((UNIT, 6)));
    stage.play("space");
    walk(&mut stage, Item::Battery(BATTERY)).play("space");
    assert_eq!(circuit(&stage, SONAR).channel, None);
}

#[test]
fn what_cannot_be_is_refused_and_changes_nothing() {
    let mut stage = stage();
    walk(&mut stage, Item::Battery(BATTERY)).play("space");
    assert_eq!(stage.refused(), "only a load or a circuit is picked up here");
    let channel = spare(&stage);
    walk(&mut stage, channel).play("d");
    assert_eq!(stage.refused(), "put the row on a load, a circuit, a battery or a cable first");
    let pump = load(&stage, "bilge pump");
    walk(&mut stage, pump).play("space space");
    assert_eq!(stage.refused(), "bilge pump is on circuit \"bilge pump\" already");
    stage.play("esc");
    // With its last channel taken a unit takes no more.
    let full = Item::Unit { battery: BATTERY, unit: UNIT };
    walk(&mut stage, full).play("a enter");
    walk(&mut stage, full).play("a");
    assert!(stage.refused().starts_with("every channel of switch unit has its circuit"), "{}", stage.refused());
    stage.play("u u");
    assert_eq!(stage.plan().wiring.circuits.len(), 5);
}

#[test]
fn a_form_sets_all_that_is_known_of_a_circuit() {
    let mut stage = stage();
    walk(&mut stage, Item::Circuit(LIGHT)).play("enter");
    stage.play(
        "ctrl-u \"stern light\" tab ctrl-u \"3\" tab ctrl-u \"14\" tab ctrl-u \"90\" tab space tab ctrl-u \"4 in\"",
    );
    stage.play("tab ctrl-u \"2.5 m\" tab ctrl-u \"6\" enter");
    let set = circuit(&stage, LIGHT);
    assert_eq!((set.name.as_str(), set.gauge_awg, set.sheathed), ("stern light", Some(14), false));
    assert_eq!((set.fuse.unwrap().to_amps(), set.insulation.unwrap().to_celsius()), (3.0, 90.0));
    assert_eq!((set.fuse_at.unwrap().to_mm(), set.length.unwrap().to_mm()), (101.6, 2500.0));
    assert_eq!(set.channel, Some((UNIT, 6)));
    // What is left empty is not known; a channel left empty is none.
    stage.play("enter tab ctrl-u tab ctrl-u tab ctrl-u tab tab ctrl-u tab ctrl-u tab ctrl-u enter");
    let set = circuit(&stage, LIGHT);
    assert_eq!((set.fuse, set.gauge_awg, set.insulation, set.fuse_at, set.length), (None, None, None, None, None));
    assert_eq!(set.channel, None);
}

#[test]
fn a_form_says_what_is_wrong_and_stays() {
    for (typed, why) in [
        ("tab*2 ctrl-u \"15\" enter", "15 AWG is not one of"),
        ("tab*2 ctrl-u \"14.5\" enter", "a wire size is a whole number"),
        ("tab*7 ctrl-u \"7\" enter", "its channels are 1 to 6"),
        ("tab ctrl-u \"-3\" enter", "outside 0.1 to 200 A"),
    ] {
        let mut stage = stage();
        walk(&mut stage, Item::Circuit(LIGHT)).play("enter").play(typed);
        let Some(Layer::Form(form)) = stage.app.layers.last() else { panic!("{typed} closed the form") };
        assert!(form.refused.as_ref().is_some_and(|told| told.contains(why)), "{typed}: {:?}", form.refused);
        assert_eq!(*stage.plan(), demo("seat-test.ron"));
    }
}

#[test]
fn a_channel_named_twice_is_told() {
    let mut stage = stage();
    walk(&mut stage, Item::Circuit(LIGHT)).play("enter tab*7 ctrl-u \"1\" enter");
    assert_eq!(circuit(&stage, LIGHT).channel, Some((UNIT, 1)));
    assert_eq!(found(&stage, "channel-over"), 1);
    assert!(items(&stage).contains(&Item::Circuit(LIGHT)));
}

#[test]
fn a_main_is_struck_and_put_back_as_a_breaker() {
    let mut stage = stage();
    walk(&mut stage, Item::Battery(BATTERY)).play("d");
    assert_eq!(stage.plan().wiring.mains, []);
    assert!(line(&stage, "battery  12.8 V").contains("none"));
    stage.play("enter space tab ctrl-u \"15\" tab ctrl-u \"12\" enter");
    let main = &stage.plan().wiring.mains[0];
    assert_eq!((main.breaker, main.fuse.unwrap().to_amps(), main.gauge_awg), (true, 15.0, Some(12)));
    assert!(line(&stage, "battery  12.8 V").contains("breaker"));
    stage.play("u u");
    assert_eq!(stage.plan().wiring.mains, demo("seat-test.ron").wiring.mains);
}

#[test]
fn circuits_and_loads_are_taken_off() {
    let mut stage = stage();
    let pump = load(&stage, "bilge pump");
    walk(&mut stage, pump).play("d");
    assert!(stage.plan().wiring.circuit_of(stage.gear("bilge pump").id).is_none());
    walk(&mut stage, Item::Circuit(SONAR)).play("d");
    assert!(stage.plan().wiring.circuit(SONAR).is_none());
    assert!(items(&stage).contains(&Item::Free));
    stage.play("u u");
    assert_eq!(*stage.plan(), demo("seat-test.ron"));
}

#[test]
fn the_list_of_gear_hangs_it_the_same_way() {
    let mut stage = stage();
    stage.play("esc / \"bilge pump\" enter C \"channel 6\" enter enter");
    let pump = stage.gear("bilge pump").id;
    assert_eq!(stage.plan().wiring.circuit_of(pump).unwrap().channel, Some((UNIT, 6)));
    stage.play("/ \"bilge pump\" enter C \"no circuit\" enter");
    assert!(stage.plan().wiring.circuit_of(pump).is_none());
}

#[test]
fn wiring_that_leads_nowhere_loses_no_line() {
    let mut plan = demo("seat-test.ron");
    let display = plan.gear.iter().find(|gear| gear.label.as_str() == "display").unwrap().id;
    // A circuit fed by what is no battery, and one on a channel of the same.
    plan.wiring.circuits.push(Circuit::new(CircuitId(90), name("ring"), display, vec![display]));
    plan.wiring
        .circuits
        .push(Circuit { channel: Some((display, 200)), ..Circuit::new(CircuitId(91), name("odd"), BATTERY, vec![]) });
    plan.wiring.mains.push(Main::new(display));
    plan.validate().unwrap();
    let mut stage = Stage::on(plan).sized(120, 40);
    stage.play("7");
    let items = items(&stage);
    assert!(items.contains(&Item::Lost) && items.contains(&Item::Circuit(CircuitId(90))), "{items:?}");
    assert!(items.contains(&Item::Circuit(CircuitId(91))));
    for size in ["size:80x24", "size:200x60", "size:60x16"] {
        stage.play(size).play("pagedown*5");
        stage.buffer();
    }
}

#[test]
fn a_boat_without_a_battery_says_so() {
    let mut stage = Stage::on(bare()).sized(120, 40);
    stage.play("7");
    assert!(stage.shows("no battery is aboard"));
    stage.play("a space . d enter");
    assert_eq!(*stage.plan(), bare());
}

#[test]
fn a_click_chooses_the_line_under_it() {
    for (columns, rows) in [(80, 24), (120, 40), (200, 60)] {
        let mut stage = stage().sized(columns, rows);
        let y = stage.lines().iter().position(|line| line.contains("3 deck strip")).unwrap();
        stage.play(&format!("click:12:{y}"));
        let row = stage.editor().rows[PanelKind::Wiring.index()];
        assert_eq!(items(&stage)[row], Item::Circuit(CircuitId(3)), "{columns}x{rows}");
    }
}
