//! The smallest plans that weights and power can be tried on: a box of a hull, bolted boxes of gear.
//!
//! Unit tests and the test program share it, so it speaks of the library by its outside name.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
#![allow(dead_code, missing_docs, reason = "each test program uses a part of it")]

use std::sync::Arc;

use gunnel::checks::{self, Finding};
use gunnel::geometry::{Form, Point, Section};
use gunnel::plan::*;
use gunnel::study::Study;
use gunnel::units::*;

pub fn name(text: &str) -> Name {
    Name::new(text).unwrap()
}

/// A trough 3600 long, 800 wide, 300 high, 25 kg in its middle, rated for 400 kg; an angler of 80 kg;
/// one phase of ten hours of daylight at 25 C; nothing aboard.
pub fn plan() -> Plan {
    let section = |x_mm| Section { x_mm, points_mm: vec![(0.0, 0.0), (400.0, 0.0), (400.0, 300.0)] };
    let mm = Length::mm;
    let hull = Hull {
        class: Key::new("box").unwrap(),
        name: name("box"),
        length: Figure::measured(mm(3600.0)),
        beam: Figure::measured(mm(800.0)),
        form: Form { sections: vec![section(0.0), section(3600.0)] }.into(),
        mass: Figure::measured(Mass::kg(25.0)),
        centre_mm: Point::new(1800.0, 0.0, 150.0),
        rating: Figure::catalogue(Mass::kg(400.0)),
        waterline: Figure::guess(mm(100.0)),
        seat: SeatRails {
            back_aft: mm(1200.0),
            back_fore: mm(1800.0),
            step: mm(25.0),
            low: Figure::measured(mm(200.0)),
            high: Some(Figure::measured(mm(320.0))),
            width: mm(450.0),
            depth: mm(400.0),
            back_height: mm(500.0),
        },
        pedals: None,
        zones: Vec::new(),
        features: Vec::new(),
    };
    let seat = Seat { back: mm(1500.0), height: SeatHeight::Low, recline: Angle::deg(10.0) };
    let angler = Angler {
        mass: Figure::measured(Mass::kg(80.0)),
        stature: Figure::measured(mm(1756.0)),
        measured: MeasuredBody::default(),
        hand: Side::Starboard,
        landing: Side::Port,
        reentry: Side::Port,
        seat,
    };
    let outing =
        Outing { air: Temperature::celsius(25.0), phases: vec![phase("day", 10.0, false)], ..Outing::default() };
    Plan {
        format: FORMAT,
        name: name("bench"),
        notes: Note::default(),
        hull: Arc::new(hull),
        angler,
        gear: Vec::new(),
        wiring: Wiring::default(),
        outing,
        penetrations: Vec::new(),
        work: Default::default(),
        readings: Vec::new(),
        revisions: Vec::new(),
        threads: Vec::new(),
        limits: Vec::new(),
    }
}

pub fn phase(called: &str, hours: f64, dark: bool) -> Phase {
    Phase {
        name: name(called),
        hours: Duration::hours(hours),
        dark,
        air: None,
        charging: false,
        posture: Posture::SeatedLow,
        motor: None,
        duties: Vec::new(),
    }
}

/// Adds a box of 200 x 100 x 100 mm, bolted to the deck amidships.
pub fn add(plan: &mut Plan, label: &str, kind: Kind, mass: Figure<Mass>, electric: Option<Electric>) -> GearId {
    let id = plan.next_gear_id();
    let mounts = [Mount::Bolts, Mount::Strap, Mount::Clamp, Mount::Track].map(|how| Mounting {
        how,
        base_mm: (100.0, 100.0),
        holes: Vec::new(),
        behind: None,
        thread: None,
    });
    let spec = Spec {
        key: Key::new("box").unwrap(),
        name: name(label),
        kind,
        tag: Tag::new("BX").unwrap(),
        bodies: vec![Body { middle_mm: Point::new(0.0, 0.0, 50.0), shape: Shape::Box(200.0, 100.0, 100.0) }],
        mass,
        electric,
        control: None,
        mounts: mounts.into(),
        cables: Vec::new(),
        handling: None,
        light: None,
        beam: None,
        keep_away: Vec::new(),
        magnetic: None,
        price: None,
        track: None,
        metal_span: None,
        lid: None,
        access: None,
        notes: Note::default(),
    };
    plan.gear.push(Gear {
        id,
        label: name(label),
        spec: Arc::new(spec),
        mount: Mount::Bolts,
        place: Some(Placement::at(1800.0, 0.0)),
        seal: Seal::Gasket,
        state: BuildState::Planned,
        pinned: false,
    });
    id
}

/// The same for electric gear of half a kilogram.
pub fn add_electric(plan: &mut Plan, label: &str, kind: Kind, electric: Electric) -> GearId {
    add(plan, label, kind, Figure::measured(Mass::kg(0.5)), Some(electric))
}

/// What gear draws or delivers, to change.
pub fn electric(plan: &mut Plan, gear: GearId) -> &mut Electric {
    Arc::make_mut(&mut plan.gear_mut(gear).unwrap().spec).electric.as_mut().unwrap()
}

pub fn place(plan: &mut Plan, gear: GearId, x_mm: f64) {
    plan.gear_mut(gear).unwrap().place = Some(Placement::at(x_mm, 0.0));
}

pub fn mount(plan: &mut Plan, gear: GearId, how: Mount) {
    plan.gear_mut(gear).unwrap().mount = how;
}

/// A load that runs all the time, no standby.
pub fn load(volts: f64, typical: f64, peak: f64) -> Electric {
    Electric::Load {
        volts: Voltage::volts(volts),
        typical: Figure::measured(Current::amps(typical)),
        peak: Figure::measured(Current::amps(peak)),
        standby: Figure::measured(Current::amps(0.0)),
        stops_below: None,
        runs: Runs { day: 1.0, dark: 1.0 },
    }
}

pub fn battery(chemistry: Chemistry, volts: f64, amp_hours: f64, limit: Option<f64>) -> Electric {
    Electric::Battery {
        chemistry,
        volts: Voltage::volts(volts),
        capacity: Figure::catalogue(Charge::amp_hours(amp_hours)),
        limit: limit.map(Current::amps),
        resistance: None,
        health_percent: None,
        peukert: None,
        hour_rate: None,
        cut_out: None,
        charge_above: None,
    }
}

pub fn converter(volts: f64, watts: f64, efficiency: f64) -> Electric {
    Electric::Converter {
        volts: Voltage::volts(volts),
        power: Power::watts(watts),
        efficiency,
        idle: Figure::measured(Current::amps(0.0)),
    }
}

pub fn switch(channels: u8, each: f64, total: f64) -> Electric {
    Electric::Switch {
        channels,
        each: Current::amps(each),
        total: Current::amps(total),
        idle: Figure::measured(Current::amps(0.0)),
    }
}

pub fn motor(settings: &[(&str, f64)]) -> Electric {
    let setting = |(called, amps): &(&str, f64)| Setting {
        name: name(called),
        current: Figure::catalogue(Current::amps(*amps)),
        speed_kmh: None,
    };
    Electric::Motor { volts: Voltage::volts(12.0), settings: settings.iter().map(setting).collect() }
}

/// Adds a circuit of 16 AWG with a fuse of 10 A at the battery and no switch.
pub fn circuit<'a>(plan: &'a mut Plan, called: &str, battery: GearId, loads: &[GearId]) -> &'a mut Circuit {
    let id = plan.wiring.next_circuit_id();
    plan.wiring.circuits.push(Circuit {
        fuse: Some(Current::amps(10.0)),
        gauge_awg: Some(16),
        fuse_at: Some(Length::mm(100.0)),
        ..Circuit::new(id, name(called), battery, loads.to_vec())
    });
    plan.wiring.circuits.last_mut().unwrap()
}

/// Adds a main fuse of 30 A at the battery, its wire 10 AWG.
pub fn main_fuse(plan: &mut Plan, battery: GearId) -> &mut Main {
    plan.wiring.mains.push(Main {
        fuse: Some(Current::amps(30.0)),
        gauge_awg: Some(10),
        fuse_at: Some(Length::mm(100.0)),
        ..Main::new(battery)
    });
    plan.wiring.mains.last_mut().unwrap()
}

/// A lithium battery of 12.8 V, and a load of 12 V on a circuit: it draws the same all the time.
pub fn one_load(kind: Kind, amps: f64) -> Plan {
    let mut plan = plan();
    let lithium = battery(Chemistry::LithiumIronPhosphate, 12.8, 100.0, None);
    let source = add_electric(&mut plan, "battery", Kind::Battery, lithium);
    let gear = add_electric(&mut plan, "load", kind, load(12.0, amps, amps));
    circuit(&mut plan, "load", source, &[gear]);
    plan
}

/// What one check finds; the plan must have passed the door.
pub fn findings(plan: &Plan, check: &str) -> Vec<Finding> {
    assert_eq!(plan.validate(), Ok(()));
    let mut found = checks::run(plan, &Study::of(plan));
    found.retain(|finding| finding.check == check);
    found
}
