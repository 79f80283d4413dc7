//! Figures set by reference: what follows from them, what is refused.

use gunnel::edit::{Edit, apply};
use gunnel::plan::{AnyQuantity, Chemistry, FigureRef, GearId, Kind, Plan};
use gunnel::study::Study;
use gunnel::units::{Measure, Origin, Quantity, Resistance, Tape};

use crate::test_power::{add_electric, battery, load, plan};

const SOURCE: GearId = GearId(1);

/// Battery 1 of 100 Ah, as new, resistance unknown; a display of 5 A.
fn rigged() -> Plan {
    let mut plan = plan();
    add_electric(&mut plan, "battery", Kind::Battery, battery(Chemistry::GlassMatLead, 12.0, 100.0, None));
    add_electric(&mut plan, "display", Kind::Display, load(12.0, 1.0, 5.0));
    plan
}

fn set(figure: FigureRef, value: AnyQuantity) -> Edit {
    Edit::SetFigure { figure, value, origin: Origin::Measured }
}

fn with(plan: &Plan, figure: FigureRef, value: AnyQuantity) -> Plan {
    let after = apply(plan, &set(figure, value)).unwrap_or_else(|why| panic!("{why}"));
    assert_eq!(after.validate(), Ok(()));
    assert_eq!(figure.get(&after).map(|soft| soft.value), Some(value));
    after
}

/// Ohm's law: 100 milliohms more take 5 A x 0.1 ohm = 0.5 V at 25 C, where resistance is as stated.
#[test]
fn a_batterys_resistance_is_what_it_sags_by() {
    let resistance = FigureRef::GearResistance(SOURCE);
    let ohms = |ohms| AnyQuantity::Resistance(Resistance::ohms(ohms));
    let volts = |plan: &Plan| Study::of(plan).day.battery(SOURCE).and_then(|day| day.sag).map(|(v, _)| v.to_volts());
    assert_eq!(resistance.get(&rigged()), None);
    let fresh = with(&rigged(), resistance, ohms(0.02));
    let tired = with(&fresh, resistance, ohms(0.12));
    let drop = volts(&fresh).zip(volts(&tired)).map(|(fresh, tired)| fresh - tired);
    assert!(drop.is_some_and(|drop| (drop - 0.5).abs() < 1e-6), "{drop:?}");
    // The label says what it does.
    assert_eq!(set(resistance, ohms(0.12)).label(&fresh, Measure(Tape::Metric)), "set resistance inside");
}

/// Four fifths of the label are left, and four fifths of what may be used.
#[test]
fn a_batterys_age_takes_its_share() {
    let health = FigureRef::GearHealth(SOURCE);
    let usable = |plan: &Plan| Study::of(plan).power.batteries[0].usable.base();
    assert_eq!(health.get(&rigged()), None);
    let aged = with(&rigged(), health, AnyQuantity::Percent(80.0));
    assert!((usable(&aged) - 0.8 * usable(&rigged())).abs() < 1e-9);
}

#[test]
fn what_no_battery_has_is_refused() {
    let display = GearId(2);
    let ohms = |ohms| AnyQuantity::Resistance(Resistance::ohms(ohms));
    for (edit, why) in [
        (set(FigureRef::GearResistance(SOURCE), ohms(2.1)), "resistance inside must be between 0 and 2 ohm"),
        (
            set(FigureRef::GearHealth(SOURCE), AnyQuantity::Percent(9.0)),
            "left by age must be between 10 and 100 percent",
        ),
        (set(FigureRef::GearHealth(SOURCE), ohms(1.0)), "left by age is not given in ohm"),
        (set(FigureRef::GearHealth(display), AnyQuantity::Percent(90.0)), "this plan has no such figure: left by age"),
    ] {
        assert_eq!(apply(&rigged(), &edit).map(|_| ()).map_err(|refusal| refusal.to_string()), Err(why.to_string()));
    }
}
