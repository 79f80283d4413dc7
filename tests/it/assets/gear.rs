//! Catalogue entries: consistent in themselves and within the ranges met in practice.
//!
//! Ranges: common practice, no published source.

use std::collections::BTreeSet;

use gunnel::catalogue::{Catalogue, kind_word};
use gunnel::plan::{Carries, Chemistry, Electric, Kind, LightArc, Mount, Shape, Spec};
use gunnel::units::Quantity;

use super::entries;

#[test]
fn every_entry_passes_the_door_and_survives_the_file() {
    assert!(entries().len() >= 70, "only {} entries", entries().len());
    for spec in entries() {
        assert_eq!(spec.validate(), Ok(()));
        let text = ron::to_string(spec).unwrap();
        assert_eq!(&ron::from_str::<Spec>(&text).unwrap(), spec, "{}", spec.key);
    }
}

#[test]
fn every_kind_of_gear_that_a_rig_needs_is_there() {
    let kinds: BTreeSet<Kind> = entries().iter().map(|spec| spec.kind).collect();
    assert!(kinds.len() >= 31, "missing kinds; there are {kinds:?}");
    let words: BTreeSet<_> = kinds.iter().map(|kind| kind_word(*kind)).collect();
    assert_eq!(words.len(), kinds.len(), "two kinds share a word");
}

#[test]
fn holes_lie_on_their_base_and_threads_are_named() {
    for spec in entries() {
        for mounting in &spec.mounts {
            let (length, width) = mounting.base_mm;
            let what = format!("{}, {}", spec.key, mounting.how.word());
            for hole in &mounting.holes {
                let radius = hole.bore.to_mm() / 2.0;
                let inside = hole.at_mm.x.abs() + radius <= length / 2.0 && hole.at_mm.y.abs() + radius <= width / 2.0;
                assert!(inside, "{what}: hole at {:?} is off the base", hole.at_mm);
            }
            let threaded = matches!(mounting.how, Mount::Inserts | Mount::Existing);
            assert_eq!(mounting.thread.is_some(), threaded, "{what}: thread");
            let drilled = matches!(mounting.how, Mount::Bolts | Mount::Rivets | Mount::Flush);
            assert_eq!(!mounting.holes.is_empty(), drilled, "{what}: holes");
            assert_eq!(mounting.behind.is_some(), drilled, "{what}: depth behind");
        }
    }
}

#[test]
fn a_flush_part_has_one_opening_for_itself_or_its_cable() {
    for spec in entries() {
        let Some(flush) = spec.mounting(Mount::Flush) else { continue };
        let openings = flush.holes.iter().filter(|hole| hole.carries != Carries::Fastener);
        assert_eq!(openings.count(), 1, "{}", spec.key);
    }
}

#[test]
fn tracks_have_their_holes_where_practice_puts_them() {
    for (length, holes) in [(100, 2), (200, 3), (300, 4), (400, 5), (600, 7)] {
        let key = format!("track-{length}");
        let track = Catalogue::shipped().get(&key).unwrap();
        for how in [Mount::Rivets, Mount::Bolts] {
            let mut xs: Vec<f64> = track.mounting(how).unwrap().holes.iter().map(|hole| hole.at_mm.x).collect();
            xs.sort_by(f64::total_cmp);
            assert_eq!(xs.len(), holes, "{key}");
            let from_end = f64::from(length) / 2.0 - xs[holes - 1];
            assert!((15.0..=25.0).contains(&from_end), "{key}: last hole {from_end} mm from the end");
            assert!(xs.windows(2).all(|pair| (50.0..=100.0).contains(&(pair[1] - pair[0]))), "{key}: {xs:?}");
            let span = track.metal_span.map(|span| span.to_mm());
            assert_eq!(span, (length >= 300).then_some(xs[holes - 1] - xs[0]), "{key}");
        }
    }
}

/// Least and greatest mass in kg by capacity: glass-mat lead, then lithium iron phosphate.
const BATTERY_MASSES: [(f64, [f64; 2], [f64; 2]); 11] = [
    (7.0, [2.1, 2.6], [0.8, 1.1]),
    (10.0, [2.6, 3.4], [1.1, 1.4]),
    (12.0, [3.6, 4.1], [1.3, 1.7]),
    (18.0, [5.2, 6.0], [2.2, 2.6]),
    (20.0, [5.8, 6.6], [2.4, 2.9]),
    (22.0, [5.8, 6.6], [2.4, 2.9]),
    (30.0, [8.0, 9.0], [3.2, 4.0]),
    (35.0, [10.0, 11.5], [4.2, 5.2]),
    (50.0, [15.0, 17.0], [5.0, 6.8]),
    (75.0, [22.0, 25.0], [8.0, 10.0]),
    (100.0, [28.0, 31.0], [10.0, 13.5]),
];

#[test]
fn batteries_weigh_what_their_sort_weighs() {
    let mut seen = 0;
    for spec in entries() {
        let Some(Electric::Battery { chemistry, capacity, limit, .. }) = &spec.electric else { continue };
        let ah = capacity.value.to_amp_hours();
        let near = BATTERY_MASSES.iter().min_by(|a, b| (a.0 - ah).abs().total_cmp(&(b.0 - ah).abs())).unwrap();
        assert!((near.0 - ah).abs() <= 5.0, "{}: no figures near {ah} Ah", spec.key);
        let [least, most] = match chemistry {
            Chemistry::GlassMatLead => near.1,
            Chemistry::LithiumIronPhosphate => near.2,
            Chemistry::FloodedLead => continue, // no range is known: its entry says so
        };
        let kg = spec.mass.value.to_kg();
        assert!((least..=most).contains(&kg), "{}: {kg} kg is outside {least} to {most}", spec.key);
        assert_eq!(limit.is_some(), *chemistry == Chemistry::LithiumIronPhosphate, "{}", spec.key);
        seen += 1;
    }
    assert!(seen >= 15);
}

#[test]
fn what_can_hurt_carries_a_caution_that_defers() {
    let defers =
        |spec: &Spec| ["maker", "local rules", "instructor"].iter().any(|who| spec.notes.as_str().contains(who));
    for spec in entries() {
        let hurts = match spec.kind {
            Kind::Battery | Kind::Motor | Kind::Anchor | Kind::InspectionPort | Kind::Gland => true,
            Kind::Light => spec.light.is_some_and(|light| !matches!(light.arc, LightArc::Deck)),
            _ => false,
        };
        assert!(!hurts || defers(spec), "{}: {}", spec.key, spec.notes);
    }
}

#[test]
fn currents_are_in_order() {
    for spec in entries() {
        match &spec.electric {
            Some(Electric::Load { typical, peak, standby, .. }) => {
                let [rest, usual, most] = [standby, typical, peak].map(|figure| figure.value.to_amps());
                assert!(rest <= usual && usual <= most, "{}: {rest} {usual} {most} A", spec.key);
            }
            Some(Electric::Motor { settings, .. }) => {
                let holding = |name: &str| name.starts_with("hold");
                let amps: Vec<f64> = settings
                    .iter()
                    .filter(|setting| !holding(setting.name.as_str()))
                    .map(|setting| setting.current.value.to_amps())
                    .collect();
                assert!(amps.len() >= 3 && amps.is_sorted(), "{}: {amps:?}", spec.key);
            }
            _ => {}
        }
    }
}

#[test]
fn loads_at_five_volts_have_a_converter_to_draw_from() {
    let at_five =
        |spec: &&Spec| matches!(&spec.electric, Some(Electric::Load { volts, .. }) if volts.to_volts() == 5.0);
    let makes_five =
        |spec: &&Spec| matches!(&spec.electric, Some(Electric::Converter { volts, .. }) if volts.to_volts() == 5.0);
    assert!(entries().iter().any(|spec| spec.kind == Kind::Camera && at_five(&spec)));
    let least = entries().iter().filter(at_five).filter_map(peak_watts).fold(0.0, f64::max);
    for spec in entries().iter().filter(makes_five) {
        let Some(Electric::Converter { power, .. }) = &spec.electric else { continue };
        assert!(power.to_watts() >= least, "{} cannot feed a load of {least} W", spec.key);
    }
    assert!(entries().iter().filter(makes_five).count() >= 2);
}

fn peak_watts(spec: &Spec) -> Option<f64> {
    match &spec.electric {
        Some(Electric::Load { volts, peak, .. }) => Some(peak.value.to_amps() * volts.to_volts()),
        _ => None,
    }
}

#[test]
fn controls_and_lights_lie_on_or_near_their_gear() {
    for spec in entries() {
        let points = spec.handling.iter().map(|handling| handling.control_mm);
        for point in points.chain(spec.light.iter().map(|light| light.centre_mm)) {
            let near = spec.bodies.iter().any(|body| {
                let ((x, y, z), off) = (body.shape.size(), point - body.middle_mm);
                off.x.abs() <= x / 2.0 + 40.0 && off.y.abs() <= y / 2.0 + 40.0 && off.z.abs() <= z / 2.0 + 40.0
            });
            assert!(near, "{}: {point:?} is away from its bodies", spec.key);
        }
    }
}

#[test]
fn bodies_of_displays_grow_with_their_screens() {
    let mut last = 0.0;
    for spec in entries().iter().filter(|spec| spec.kind == Kind::Display) {
        let screen = spec.handling.as_ref().and_then(|handling| handling.screen).unwrap().base();
        assert!(screen >= last && spec.size().1 > screen, "{}", spec.key);
        assert!(spec.bodies.iter().all(|body| matches!(body.shape, Shape::Box(..))));
        last = screen;
    }
    assert!(last > 300.0);
}
