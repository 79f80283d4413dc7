//! What a class says about the figures that were not measured.

use super::{Bottom, Gauge, Rounding, Station, Tape};
use crate::geometry::{Form, LineBottom, LineStation, Lines, Section};
use crate::plan::Hull;
use crate::units::{Length, Origin};

/// Where a hull is measured across when nobody chose otherwise, as shares of its length.
const USUAL_STATIONS: [f64; 7] = [0.05, 0.2, 0.35, 0.5, 0.65, 0.8, 0.95];
/// A bottom within so much of its lowest line counts as flat, mm: what a straight edge and the eye tell.
///
/// Source: common practice, no source.
const FLAT_MM: f64 = 12.0;
/// A side within this share of the greatest width stands upright.
const UPRIGHT: f64 = 0.995;
/// A tunnel, and each of two pontoons, takes this share of the bottom. Source: common practice, no source.
const BOTTOM_SHARE: f64 = 1.0 / 3.0;
/// Height of a tunnel and of the skin between pontoons, mm. Source: common practice, no source.
const TUNNEL_MM: f64 = 40.0;

impl Tape {
    /// The tape with every missing figure guessed from a class's form, scaled to what was measured near it.
    ///
    /// Readings and guesses that are there already stay. Without a station the class is sampled at the usual ones.
    /// A class without sections guesses nothing.
    #[must_use]
    pub fn filled(&self, class: &Hull) -> Self {
        let mut tape = self.clone();
        let parent = Parent::of(class);
        if parent.length <= 0.0 {
            return tape;
        }
        guess(&mut tape.length, parent.length);
        // A length that is none is refused elsewhere; places are not spoiled by it.
        let length = tape.length.mm().filter(|mm| mm.is_finite() && *mm > 0.0).unwrap_or(parent.length);
        if tape.stations.is_empty() {
            let place = |share: f64| Station::at(Length::mm((length * share / 10.0).round() * 10.0));
            tape.stations = USUAL_STATIONS.map(place).to_vec();
        }
        tape.rounding.get_or_insert_with(|| Rounding { value: parent.rounding(), origin: Origin::Guess });
        let scales = Scales::of(&tape, &parent, length);
        for station in &mut tape.stations {
            scales.fill(station, &parent.at(station.x.to_mm() / length));
        }
        fill_bottom(&mut tape);
        fill_places(&mut tape, class, length);
        tape
    }
}

/// Sets the guess of a gauge that has nothing.
fn guess(gauge: &mut Gauge, mm: f64) {
    if gauge.is_empty() && mm.is_finite() {
        gauge.guess = Some(Length::mm(mm.round()));
    }
}

/// A hull asked for its figures by share of its length.
struct Parent<'a> {
    hull: &'a Hull,
    length: f64,
    sections: Vec<LineStation>,
}

impl<'a> Parent<'a> {
    fn of(hull: &'a Hull) -> Self {
        Self { hull, length: hull.form.length(), sections: hull.form.sections.iter().map(figures).collect() }
    }

    fn at(&self, share: f64) -> LineStation {
        let Some(aft) = self.hull.form.sections.first() else { return LineStation::default() };
        let x = aft.x_mm + self.length * share.clamp(0.0, 1.0);
        if let Some(station) = self.hull.form.tape().and_then(Tape::lines).and_then(|lines| lines.at(x)) {
            return station;
        }
        let after = self.sections.partition_point(|s| s.x <= x).clamp(1, self.sections.len() - 1);
        let (a, b) = (&self.sections[after - 1], &self.sections[after]);
        let t = ((x - a.x) / (b.x - a.x)).clamp(0.0, 1.0);
        let mix = |figure: fn(&LineStation) -> f64| figure(a) + (figure(b) - figure(a)) * t;
        LineStation {
            x,
            width: mix(|s| s.width),
            width_height: mix(|s| s.width_height),
            bottom_width: mix(|s| s.bottom_width),
            gunwale: mix(|s| s.gunwale),
            keel: mix(|s| s.keel),
        }
    }

    /// The factor with which the waterplane at the hull's stated waterline has the second moment it has: how stiff a
    /// hull is hangs on that more than on anything.
    fn rounding(&self) -> f64 {
        if let Some(rounding) = self.hull.form.tape().and_then(|tape| tape.rounding) {
            return rounding.value;
        }
        let z = self.hull.waterline.value.to_mm();
        let cubes = |form: &Form| -> f64 {
            let half = |x: f64| form.half_breadth(x, z).unwrap_or(0.0).powi(3);
            self.sections.windows(2).map(|p| (p[1].x - p[0].x) * f64::midpoint(half(p[0].x), half(p[1].x))).sum()
        };
        let real = cubes(&self.hull.form);
        let lines = |rounding| Lines {
            length: self.length,
            stations: self.sections.clone(),
            rounding,
            bottom: LineBottom::Flat,
        };
        // A squarer chine is wider at any height.
        let (mut low, mut high) = (0.0, SQUARE);
        for _ in 0..ROUNDING_HALVINGS {
            let middle = f64::midpoint(low, high);
            (low, high) = if cubes(&lines(middle).form()) < real { (middle, high) } else { (low, middle) };
        }
        (f64::midpoint(low, high) * 100.0).round() / 100.0
    }
}

/// The squarest chine.
const SQUARE: f64 = 2.0;
/// Enough for the hundredth that is kept.
const ROUNDING_HALVINGS: usize = 9;

/// What a tape would find at a section.
fn figures(section: &Section) -> LineStation {
    let half = section.points_mm.iter().map(|p| p.0).fold(0.0, f64::max);
    let keel = section.keel();
    let flat = crossing(section, |p| p.1 - (keel + FLAT_MM)).map_or(half, |p| p.0);
    let upright = crossing(section, |p| p.0 - half * UPRIGHT).map_or(keel, |p| p.1);
    LineStation {
        x: section.x_mm,
        width: 2.0 * half,
        width_height: upright,
        bottom_width: 2.0 * flat.min(half),
        gunwale: section.gunwale().1,
        keel,
    }
}

/// The first point going up the section at which a measure has come to zero.
fn crossing(section: &Section, measure: impl Fn((f64, f64)) -> f64) -> Option<(f64, f64)> {
    section.points_mm.windows(2).find_map(|pair| {
        let (below, above) = (measure(pair[0]), measure(pair[1]));
        (below < 0.0 && above >= 0.0).then(|| {
            let t = below / (below - above);
            (pair[0].0 + (pair[1].0 - pair[0].0) * t, pair[0].1 + (pair[1].1 - pair[0].1) * t)
        })
    })
}

/// By how much the boat differs from its class, along its length: `(x, measured over class)`.
struct Scales {
    width: Vec<(f64, f64)>,
    bottom: Vec<(f64, f64)>,
    gunwale: Vec<(f64, f64)>,
    keel: Vec<(f64, f64)>,
}

impl Scales {
    fn of(tape: &Tape, parent: &Parent<'_>, length: f64) -> Self {
        let along = |gauge: fn(&Station) -> &Gauge, figure: fn(&LineStation) -> f64| {
            let ratio = |station: &Station| {
                let (x, class) = (station.x.to_mm(), figure(&parent.at(station.x.to_mm() / length)));
                let measured = gauge(station).mm().filter(|_| gauge(station).is_measured())?;
                // A keel that lies on the ground in the class says nothing about another's rise.
                (class >= 5.0).then(|| (x, (measured / class).clamp(0.2, 5.0)))
            };
            tape.stations.iter().filter_map(ratio).collect::<Vec<_>>()
        };
        let width = along(|s| &s.width, |s| s.width);
        let bottom = along(|s| &s.bottom_width, |s| s.bottom_width);
        Self {
            bottom: if bottom.is_empty() { width.clone() } else { bottom },
            width,
            gunwale: along(|s| &s.gunwale, |s| s.gunwale),
            keel: along(|s| &s.keel, |s| s.keel),
        }
    }

    /// Guesses what a station lacks: widths first, heights from the gunwale down.
    fn fill(&self, station: &mut Station, class: &LineStation) {
        let x = station.x.to_mm();
        guess(&mut station.width, class.width * between(&self.width, x));
        let width = station.width.mm().unwrap_or_default();
        guess(&mut station.bottom_width, (class.bottom_width * between(&self.bottom, x)).min(width));
        guess(&mut station.gunwale, class.gunwale * between(&self.gunwale, x));
        let gunwale = station.gunwale.mm().unwrap_or_default();
        let keel = (class.keel * between(&self.keel, x)).min(station.width_height.mm().unwrap_or(gunwale));
        guess(&mut station.keel, keel);
        let height = gunwale * class.width_height / class.gunwale;
        guess(&mut station.width_height, height.max(station.keel.mm().unwrap_or_default()).min(gunwale));
    }
}

/// Straight between neighbours, level beyond the first and last; 1 when nothing was measured.
fn between(points: &[(f64, f64)], x: f64) -> f64 {
    let after = points.partition_point(|point| point.0 <= x);
    match (after.checked_sub(1).and_then(|before| points.get(before)), points.get(after)) {
        (Some((x0, a)), Some((x1, b))) => a + (b - a) * (x - x0) / (x1 - x0),
        (Some((_, only)), None) | (None, Some((_, only))) => *only,
        (None, None) => 1.0,
    }
}

fn fill_bottom(tape: &mut Tape) {
    let widest = tape.stations.iter().filter_map(|station| station.bottom_width.mm()).fold(0.0, f64::max);
    if let Bottom::Tunnel { width, height } | Bottom::Pontoons { width, height } = &mut tape.bottom {
        guess(width, widest * BOTTOM_SHARE);
        guess(height, TUNNEL_MM);
    }
}

/// Wells as deep under the gunwale as the class has them, features where it has them.
fn fill_places(tape: &mut Tape, class: &Hull, length: f64) {
    let lines = tape.lines();
    let stretch = length / class.form.length();
    for well in &mut tape.wells {
        let Some(zone) = class.zones.iter().find(|zone| zone.id == well.zone) else { continue };
        let x = zone.outline_mm.middle().x;
        let (Some((_, old)), Some(new)) = (class.form.gunwale(x), lines.as_ref().and_then(|l| l.at(x * stretch)))
        else {
            continue;
        };
        guess(&mut well.depth, (old - zone.height.value.to_mm()) * new.gunwale / old);
    }
    for place in &mut tape.features {
        let Some(feature) = class.features.iter().find(|feature| feature.id == place.feature) else { continue };
        let at = feature.at_mm;
        guess(&mut place.x, at.x * stretch);
        let x = place.x.mm().unwrap_or(at.x * stretch);
        let (Some((half, _)), Some(new)) = (class.form.gunwale(at.x), lines.as_ref().and_then(|l| l.at(x))) else {
            continue;
        };
        guess(&mut place.y, if half > 0.0 { at.y * new.width / 2.0 / half } else { at.y });
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use super::*;
    use crate::geometry::{Body, Cutter, Point, WaterPlane};
    use crate::plan::{HullForm, WellDepth, ZoneId};

    fn class() -> Hull {
        crate::catalogue::hull("angler-11").unwrap().hull.clone()
    }

    fn measured(mm: f64) -> Gauge {
        Gauge::measured(Length::mm(mm))
    }

    #[test]
    fn nothing_measured_is_the_class_again() {
        let class = class();
        let tape = Tape::default().filled(&class);
        assert_eq!((tape.length.mm(), tape.stations.len()), (Some(3350.0), 7));
        assert!(tape.measurements().iter().all(|what| tape.gauge(*what).unwrap().guess.is_some()));
        let lofted = Body::of(&HullForm::taped(tape)).unwrap();
        let given = Body::of(&class.form).unwrap();
        let share = |draft: f64| {
            let below = |body: &Body| Cutter::new(body).cut(&WaterPlane::new(0.0, 0.0, draft), Point::default()).volume;
            below(&lofted) / below(&given)
        };
        // How near a tape can come: the loft has a flat bottom where the class has a little vee.
        assert!((share(120.0) - 1.0).abs() < 0.08, "{}", share(120.0));
        assert!((lofted.volume() / given.volume() - 1.0).abs() < 0.03);
        // Stiffness hangs on the waterplane: its second moment across is met within two hundredths.
        let stiff = |body: &Body| Cutter::new(body).cut(&WaterPlane::new(0.0, 0.0, 116.0), Point::default()).second[2];
        assert!((stiff(&lofted) / stiff(&given) - 1.0).abs() < 0.02, "{}", stiff(&lofted) / stiff(&given));
    }

    #[test]
    fn guesses_follow_what_was_measured_near_them() {
        let mut tape = Tape { length: measured(3685.0), ..Tape::default() };
        tape.stations = [368.5, 1842.5, 3316.5].map(|x| Station::at(Length::mm(x))).to_vec();
        // By hand: the class has 420 mm half-breadth amidships near 0.49 of its length; 10 % more is measured.
        tape.stations[1].width = measured(924.0);
        let filled = tape.filled(&class());
        let bare = Tape { length: measured(3685.0), stations: vec![], ..Tape::default() };
        let plain = |n: usize| {
            let mut other = bare.clone();
            other.stations = tape.stations.iter().map(|station| Station::at(station.x)).collect();
            other.filled(&class()).stations[n].width.mm().unwrap()
        };
        for end in [0, 2] {
            let ratio = filled.stations[end].width.mm().unwrap() / plain(end);
            assert!((ratio - 1.1).abs() < 0.01, "{ratio}");
        }
        assert_eq!(filled.stations[1].width, tape.stations[1].width);
    }

    #[test]
    fn what_is_there_already_stays_and_filling_twice_changes_nothing() {
        let mut tape = Tape { rounding: Some(Rounding { value: 0.3, origin: Origin::Measured }), ..Tape::default() };
        tape.stations = [300.0, 1700.0, 3000.0].map(|x| Station::at(Length::mm(x))).to_vec();
        tape.stations[2].keel = Gauge::guessed(Length::mm(77.0));
        tape.wells.push(WellDepth { zone: ZoneId(13), depth: Gauge::default() });
        tape.bottom = Bottom::Tunnel { width: measured(120.0), height: Gauge::default() };
        let filled = tape.filled(&class());
        assert_eq!(filled.rounding, tape.rounding);
        assert_eq!(filled.stations[2].keel.guess, Some(Length::mm(77.0)));
        assert_eq!(filled.filled(&class()), filled);
        assert_eq!(filled.without_guesses().filled(&class()).stations[0], filled.stations[0]);
        assert!(filled.lines().is_some() && filled.wells[0].depth.mm().is_some());
    }
}
