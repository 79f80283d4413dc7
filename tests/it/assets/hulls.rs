//! Hull classes: a boat whose parts lie where they belong, with the figures of its class.
//!
//! Ranges: common practice, no published source.

use gunnel::catalogue::{HullClass, hulls};
use gunnel::geometry::Spot;
use gunnel::plan::{Feature, FeatureKind, Hull, Zone};

#[test]
fn every_hull_survives_the_file() {
    for class in hulls() {
        let text = ron::to_string(class).unwrap();
        assert_eq!(&ron::from_str::<HullClass>(&text).unwrap(), class, "{}", class.key());
    }
}

/// Ranges of a class: length and beam mm, mass with seat kg, rating kg, depth mm, floor mm,
/// floor over water mm, gunwale over water mm, draught mm.
struct Range(&'static str, [[f64; 2]; 9]);

const CLASSES: [Range; 6] = [
    Range(
        "compact-9",
        [
            [2750.0, 3000.0],
            [710.0, 790.0],
            [20.0, 28.0],
            [110.0, 140.0],
            [280.0, 330.0],
            [120.0, 170.0],
            [0.0, 50.0],
            [150.0, 200.0],
            [90.0, 120.0],
        ],
    ),
    Range(
        "angler-10",
        [
            [3050.0, 3320.0],
            [760.0, 860.0],
            [27.0, 36.0],
            [140.0, 185.0],
            [300.0, 360.0],
            [130.0, 190.0],
            [20.0, 70.0],
            [170.0, 230.0],
            [90.0, 130.0],
        ],
    ),
    Range(
        "angler-11",
        [
            [3350.0, 3600.0],
            [810.0, 890.0],
            [31.0, 42.0],
            [160.0, 205.0],
            [320.0, 380.0],
            [150.0, 200.0],
            [30.0, 80.0],
            [190.0, 250.0],
            [90.0, 130.0],
        ],
    ),
    Range(
        "standup-12",
        [
            [3650.0, 3950.0],
            [860.0, 940.0],
            [40.0, 54.0],
            [190.0, 250.0],
            [340.0, 400.0],
            [160.0, 220.0],
            [50.0, 100.0],
            [200.0, 270.0],
            [90.0, 130.0],
        ],
    ),
    Range(
        "sea-13",
        [
            [3700.0, 4300.0],
            [710.0, 810.0],
            [30.0, 40.0],
            [150.0, 215.0],
            [300.0, 360.0],
            [120.0, 170.0],
            [20.0, 60.0],
            [170.0, 230.0],
            [100.0, 140.0],
        ],
    ),
    Range(
        "pedal-13",
        [
            [3650.0, 4200.0],
            [840.0, 940.0],
            [48.0, 75.0],
            [200.0, 270.0],
            [350.0, 420.0],
            [150.0, 220.0],
            [40.0, 90.0],
            [200.0, 270.0],
            [100.0, 140.0],
        ],
    ),
];

#[test]
fn hulls_have_the_figures_of_their_class() {
    for Range(key, ranges) in CLASSES {
        let hull = &gunnel::catalogue::hull(key).unwrap().hull;
        let (_, gunwale) = hull.form.gunwale(hull.length.value.to_mm() * 0.48).unwrap();
        let (floor, water) = (zone(hull, "footwell floor").height.value.to_mm(), hull.waterline.value.to_mm());
        let values = [
            hull.length.value.to_mm(),
            hull.beam.value.to_mm(),
            hull.mass.value.to_kg(),
            hull.rating.value.to_kg(),
            gunwale,
            floor,
            floor - water,
            gunwale - water,
            water,
        ];
        for (number, (value, [least, most])) in values.iter().zip(ranges).enumerate() {
            assert!((least..=most).contains(value), "{key}, figure {number}: {value} outside {least} to {most}");
        }
        assert!((hull.form.length() - hull.length.value.to_mm()).abs() <= 1.0, "{key}: length of the form");
        assert!((2.0 * hull.form.half_beam() - hull.beam.value.to_mm()).abs() <= 10.0, "{key}: beam of the form");
        let back = hull.seat.back_aft.to_mm()..=hull.seat.back_fore.to_mm();
        let length = hull.length.value.to_mm();
        assert!(*back.start() >= 0.36 * length && *back.end() <= 0.47 * length, "{key}: seat back at {back:?}");
    }
}

/// Fresh water displaced at the stated waterline against hull and a usual load: within an eighth.
#[test]
fn hulls_float_about_where_they_say() {
    for (key, load_kg) in [
        ("compact-9", 100.0),
        ("angler-10", 118.0),
        ("angler-11", 135.0),
        ("standup-12", 160.0),
        ("sea-13", 125.0),
        ("pedal-13", 170.0),
    ] {
        let hull = &gunnel::catalogue::hull(key).unwrap().hull;
        let (displaced, wanted) = (displaced_kg(hull), hull.mass.value.to_kg() + load_kg);
        assert!((displaced / wanted - 1.0).abs() < 0.125, "{key}: {displaced:.0} kg displaced, {wanted:.0} kg afloat");
    }
}

/// Sum over slices 10 mm long and 2 mm high, fresh water at 1 kg a litre.
fn displaced_kg(hull: &Hull) -> f64 {
    let (length, water) = (hull.form.length(), hull.waterline.value.to_mm());
    let along = (0..(length / 10.0) as usize).map(|i| i as f64 * 10.0 + 5.0);
    let slices = |x: f64| (0..(water / 2.0) as usize).map(move |i| (x, f64::from(i as u32) * 2.0 + 1.0));
    let breadth = |(x, z): (f64, f64)| 2.0 * hull.form.half_breadth(x, z).unwrap_or(0.0);
    along.flat_map(slices).map(breadth).sum::<f64>() * 10.0 * 2.0 / 1e6
}

#[test]
fn zones_lie_within_the_deck_and_cover_it() {
    for class in hulls() {
        let (hull, outline) = (&class.hull, class.hull.form.deck_outline());
        for zone in &hull.zones {
            for corner in &zone.outline_mm.corners {
                assert!(
                    outline.depth_of(*corner) >= -2.0,
                    "{}: {} leaves the deck at {corner:?}",
                    class.key(),
                    zone.name
                );
            }
            assert!((4.0..=8.0).contains(&zone.wall.value.to_mm()), "{}: wall of {}", class.key(), zone.name);
        }
        let (low, high) = outline.bounds();
        for x in (low.x as i32..high.x as i32).step_by(25) {
            for y in (low.y as i32..high.y as i32).step_by(25) {
                let spot = Spot::new(f64::from(x), f64::from(y));
                let bare = outline.depth_of(spot) > 3.0 && hull.zone_at(spot).is_none();
                assert!(!bare, "{}: no zone at {spot:?}", class.key());
            }
        }
    }
}

#[test]
fn features_lie_on_the_hull() {
    for class in hulls() {
        let outline = class.hull.form.deck_outline();
        for feature in &class.hull.features {
            for spot in spots_of(feature) {
                let (what, (_, rim)) =
                    (format!("{}, {}", class.key(), feature.name), class.hull.form.gunwale(spot.x).unwrap());
                assert!(outline.depth_of(spot) >= 0.0, "{what}: {spot:?} is off the deck");
                let bottom = class.hull.form.bottom(spot).unwrap();
                assert!((bottom..=rim + 50.0).contains(&feature.at_mm.z), "{what}: height {}", feature.at_mm.z);
            }
        }
    }
}

/// The spots that a feature reaches: its ends along x, its bolts, or its middle.
fn spots_of(feature: &Feature) -> Vec<Spot> {
    let at = feature.at_mm.spot();
    let ends = |length: f64| vec![at - Spot::new(length / 2.0, 0.0), at + Spot::new(length / 2.0, 0.0)];
    match &feature.kind {
        FeatureKind::Track { length, .. } | FeatureKind::SeatRail { length, .. } | FeatureKind::Seam { length } => {
            ends(length.to_mm())
        }
        FeatureKind::Foam { length, .. } | FeatureKind::DriveWell { length, .. } => ends(length.to_mm()),
        FeatureKind::Inserts { offsets_mm: points, .. } | FeatureKind::Handle { bolts_mm: points, .. } => {
            points.iter().map(|point| at + *point).collect()
        }
        FeatureKind::Hatch { opening, rim, .. } => ends(opening.size().0 + 2.0 * rim.to_mm()),
        _ => vec![at],
    }
}

#[test]
fn scuppers_drain_wells_and_rails_stand_in_the_cockpit() {
    for class in hulls() {
        let scuppers: Vec<_> = class.hull.features.iter().filter(|f| is_scupper(f)).collect();
        assert!((6..=8).contains(&scuppers.len()), "{}", class.key());
        for scupper in scuppers {
            let zone = class.hull.zone_at(scupper.at_mm.spot()).unwrap();
            let floor = ["tank well floor", "footwell floor"].contains(&zone.name.as_str());
            let room = zone.outline_mm.depth_of(scupper.at_mm.spot());
            assert!(floor && room > 25.0, "{}: {} in {}", class.key(), scupper.name, zone.name);
            assert_eq!(scupper.at_mm.z, zone.height.value.to_mm(), "{}: {}", class.key(), scupper.name);
        }
        let rails = class.hull.features.iter().filter(|f| matches!(f.kind, FeatureKind::SeatRail { .. }));
        for spot in rails.flat_map(spots_of) {
            assert_eq!(class.hull.zone_at(spot).unwrap().name.as_str(), "seat pan", "{}", class.key());
        }
    }
}

fn is_scupper(feature: &Feature) -> bool {
    matches!(feature.kind, FeatureKind::Scupper { .. })
}

#[test]
fn tracks_lie_on_their_gunwale() {
    for class in hulls() {
        let tracks: Vec<_> =
            class.hull.features.iter().filter(|f| matches!(f.kind, FeatureKind::Track { .. })).collect();
        assert_eq!(tracks.len(), 2, "{}", class.key());
        for spot in tracks.into_iter().flat_map(spots_of) {
            let zone = class.hull.zone_at(spot).unwrap();
            assert!(zone.name.as_str().starts_with("gunwale"), "{}: track over {}", class.key(), zone.name);
        }
    }
}

/// What lies off the centreline has its like on the other side. The aft wire port has none.
#[test]
fn port_and_starboard_match() {
    for class in hulls() {
        let (hull, key) = (&class.hull, class.key());
        for feature in hull.features.iter().filter(|f| f.at_mm.y != 0.0 && f.name.as_str() != "wire port, aft deck") {
            let like = |other: &&Feature| other.at_mm == feature.at_mm.mirrored() && other.kind == feature.kind;
            assert_eq!(hull.features.iter().filter(like).count(), 1, "{key}: {} has no like", feature.name);
        }
        for zone in &hull.zones {
            let like = |other: &&Zone| {
                let mirrored = zone.outline_mm.mirrored();
                other.height == zone.height && mirrored.corners.iter().all(|c| other.outline_mm.corners.contains(c))
            };
            assert_eq!(hull.zones.iter().filter(like).count(), 1, "{key}: {} has no like", zone.name);
        }
    }
}

#[test]
fn each_hull_has_what_a_rig_is_planned_around() {
    for class in hulls() {
        let count = |wanted: fn(&FeatureKind) -> bool| class.hull.features.iter().filter(|f| wanted(&f.kind)).count();
        assert_eq!(count(|k| matches!(k, FeatureKind::Handle { .. })), 4, "{}: handles", class.key());
        assert!(count(|k| matches!(k, FeatureKind::Hatch { .. })) >= 2, "{}: hatches", class.key());
        assert!(count(|k| matches!(k, FeatureKind::Inserts { .. })) >= 4, "{}: inserts", class.key());
        assert!(count(|k| matches!(k, FeatureKind::WirePort { .. })) >= 2, "{}: wire ports", class.key());
        assert!(count(|k| matches!(k, FeatureKind::Foam { .. })) >= 2, "{}: foam", class.key());
        assert_eq!(count(|k| matches!(k, FeatureKind::RodTube { .. })), 2, "{}: rod tubes", class.key());
        assert_eq!(count(|k| matches!(k, FeatureKind::DrainPlug { .. })), 1, "{}: drain plug", class.key());
        let pedalled = class.key().as_str() == "pedal-13";
        assert_eq!(count(|k| matches!(k, FeatureKind::DriveWell { .. })), usize::from(pedalled), "{}", class.key());
        assert_eq!(class.hull.pedals.is_some(), pedalled, "{}", class.key());
    }
}

fn zone<'a>(hull: &'a Hull, name: &str) -> &'a Zone {
    hull.zones.iter().find(|zone| zone.name.as_str() == name).unwrap()
}
