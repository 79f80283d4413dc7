//! What speaks against a tape: figures that contradict each other, and such that look like a slip.

mod slip;

use super::{Bottom, Measurement, Station, Tape};
use crate::units::Measure;

/// From where on a tape is doubted, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DoubtLimits {
    /// Repeat readings may lie so far apart.
    pub repeat_mm: f64,
    /// A width may fall and rise again by so much before it counts as narrowing twice.
    pub dip_mm: f64,
    /// The lowest keel may stand so far over the baseline.
    pub ground_mm: f64,
}

impl Default for DoubtLimits {
    /// Common practice, no source: one and a half to three spreads of a reading.
    fn default() -> Self {
        DOUBT_LIMITS
    }
}

/// The defaults, as the checks' table names them.
pub const DOUBT_LIMITS: DoubtLimits = DoubtLimits { repeat_mm: 15.0, dip_mm: 10.0, ground_mm: 10.0 };

/// One thing that looks wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Doubt {
    /// The measurement to look at again.
    pub about: Measurement,
    /// Whether the figures contradict each other; otherwise they are only unusual.
    pub contradiction: bool,
    /// What was found, mm.
    pub value_mm: f64,
    /// What it is held against, mm.
    pub limit_mm: f64,
    /// One sentence: what is wrong, with its place.
    pub says: String,
    /// One sentence: what to do.
    pub remedy: String,
}

impl Tape {
    /// What looks wrong, contradictions first, then in the order of measuring. Missing figures are no doubt.
    pub fn doubts(&self) -> Vec<Doubt> {
        self.doubts_beyond(&DOUBT_LIMITS)
    }

    /// The same with other limits.
    pub fn doubts_beyond(&self, limits: &DoubtLimits) -> Vec<Doubt> {
        let mut all = Doubts { tape: self, found: Vec::new() };
        slip::look(&mut all);
        all.places();
        for (number, station) in self.stations.iter().enumerate() {
            all.station(number, station);
        }
        all.narrows_twice(limits.dip_mm);
        all.off_ground(limits.ground_mm);
        all.bottom();
        all.wells();
        all.features();
        all.repeats(limits.repeat_mm);
        // A figure that cannot be is not also called unusual.
        let wrong: Vec<Measurement> = all.found.iter().filter(|d| d.contradiction).map(|d| d.about).collect();
        all.found.retain(|doubt| doubt.contradiction || !wrong.contains(&doubt.about));
        all.found.sort_by_key(|doubt| (!doubt.contradiction, doubt.about));
        all.found
    }

    /// Where a measurement is taken, in words: `station 2, 800 mm from the stern`.
    pub fn place_words(&self, what: Measurement) -> String {
        match what.station().and_then(|number| Some((number, self.stations.get(number)?))) {
            Some((number, station)) => {
                format!("station {}, {} from the stern", number + 1, mm(station.x.to_mm()))
            }
            None => match what {
                Measurement::Well(n) if n < self.wells.len() => format!("the well of {}", self.wells[n].zone),
                Measurement::FeatureX(n) | Measurement::FeatureY(n) if n < self.features.len() => {
                    self.features[n].feature.to_string()
                }
                _ => "the hull".into(),
            },
        }
    }
}

/// A length as the tape shows it, with its sign where it has one.
fn mm(value: f64) -> String {
    let sign = if value <= -0.5 { "minus " } else { "" };
    format!("{sign}{}", Measure::default().length(value))
}

struct Doubts<'a> {
    tape: &'a Tape,
    found: Vec<Doubt>,
}

impl Doubts<'_> {
    fn add(
        &mut self,
        about: Measurement,
        contradiction: bool,
        (value_mm, limit_mm): (f64, f64),
        says: &str,
        do_: &str,
    ) {
        let says = format!("{}: {says}.", self.tape.place_words(about));
        let remedy = format!("{do_}.");
        self.found.push(Doubt { about, contradiction, value_mm, limit_mm, says, remedy });
    }

    /// `less` should not exceed `more`.
    fn exceeds(&mut self, (about, less): (Measurement, Option<f64>), (what, more): (&str, Option<f64>), do_: &str) {
        let (Some(less), Some(more)) = (less, more) else { return };
        if less > more {
            let says = format!("the {} is {}, more than the {what}, {}", about.label(), mm(less), mm(more));
            self.add(about, true, (less, more), &says, do_);
        }
    }

    /// Stations in order and on the hull.
    fn places(&mut self) {
        let xs: Vec<f64> = self.tape.stations.iter().map(|station| station.x.to_mm()).collect();
        for (number, pair) in xs.windows(2).enumerate() {
            if pair[1] <= pair[0] {
                let says = format!("it is not forward of station {}, which is at {}", number + 1, mm(pair[0]));
                let do_ = "Measure every station from the same point, the aft end, and list them from aft to bow";
                self.add(Measurement::Width(number + 1), true, (pair[1], pair[0]), &says, do_);
            }
        }
        // A length that is a slip would put every station off the hull.
        let slipped = self.found.iter().any(|doubt| doubt.about == Measurement::Length);
        let Some(length) = self.tape.length.mm().filter(|_| !slipped) else { return };
        for (number, x) in xs.iter().enumerate().filter(|(_, x)| !(0.0..=length).contains(*x)) {
            let says = format!("there is no hull: it is {} long", mm(length));
            let do_ = "Measure the place of the station from the aft end, or measure the length again";
            self.add(Measurement::Width(number), true, (*x, length), &says, do_);
        }
    }

    /// The figures of one station against each other.
    fn station(&mut self, number: usize, station: &Station) {
        use Measurement::*;
        let (rim, height) = (station.gunwale.mm(), station.width_height.mm());
        let level = "Measure both heights again from the same level ground";
        self.exceeds((WidthHeight(number), height), ("height of the gunwale", rim), level);
        self.exceeds((Keel(number), station.keel.mm()), ("height of the gunwale", rim), level);
        if station.keel.mm() <= rim {
            self.exceeds((Keel(number), station.keel.mm()), ("height of the greatest width", height), level);
        }
        let across = "Measure both widths again; the flat bottom ends where a straight edge leaves the hull";
        self.exceeds((BottomWidth(number), station.bottom_width.mm()), ("greatest width", station.width.mm()), across);
        for what in Measurement::of_station(number) {
            let Some(value) = self.tape.gauge(what).and_then(super::Gauge::mm).filter(|value| *value < 0.0) else {
                continue;
            };
            let says = format!("the {} is {}", what.label(), mm(value));
            self.add(what, true, (value, 0.0), &says, "Measure again; the baseline is the lowest line of the hull");
        }
    }

    /// A beam that falls and rises again along the hull: the deepest such place.
    fn narrows_twice(&mut self, dip_mm: f64) {
        let mut widths: Vec<(usize, f64, f64)> = Vec::new();
        for (number, station) in self.tape.stations.iter().enumerate() {
            widths.extend(station.width.mm().map(|width| (number, station.x.to_mm(), width)));
        }
        widths.sort_by(|a, b| a.1.total_cmp(&b.1));
        let most = |side: &[(usize, f64, f64)]| side.iter().map(|width| width.2).fold(0.0, f64::max);
        let dip = |place: usize| (most(&widths[..place]), most(&widths[place + 1..]), widths[place]);
        let dips = (0..widths.len()).map(dip);
        let Some((aft, fore, (number, _, here))) =
            dips.max_by(|a, b| (a.0.min(a.1) - a.2.2).total_cmp(&(b.0.min(b.1) - b.2.2)))
        else {
            return;
        };
        let limit = aft.min(fore) - dip_mm;
        if here < limit {
            let says = format!(
                "the hull is {} wide here and wider both aft, {}, and forward, {}: it narrows twice",
                mm(here),
                mm(aft),
                mm(fore)
            );
            let do_ = "Measure this width again, and the stations on both sides of it";
            self.add(Measurement::Width(number), false, (here, limit), &says, do_);
        }
    }

    /// A keel that touches the ground nowhere.
    fn off_ground(&mut self, ground_mm: f64) {
        let keels = self.tape.stations.iter().enumerate().filter_map(|(n, s)| Some((n, s.keel.mm()?)));
        let Some((number, lowest)) = keels.min_by(|a, b| a.1.total_cmp(&b.1)) else { return };
        if lowest > ground_mm {
            let says = format!("the keel is lowest here and still {} over the baseline", mm(lowest));
            let do_ = "Take every height from the ground the hull stands on, or add a station where it touches";
            self.add(Measurement::Keel(number), false, (lowest, ground_mm), &says, do_);
        }
    }

    /// Tunnel or pontoons against the bottom they are in.
    fn bottom(&mut self) {
        use Measurement::{BottomHeight, BottomPart};
        let most =
            |figure: fn(&Station) -> Option<f64>| self.tape.stations.iter().filter_map(figure).max_by(f64::total_cmp);
        let widest = most(|station| station.bottom_width.mm());
        let highest = most(|station| station.gunwale.mm());
        let (what, width, height) = match &self.tape.bottom {
            Bottom::Flat => return,
            Bottom::Tunnel { width, height } => ("greatest width of the bottom", width.mm(), height.mm()),
            Bottom::Pontoons { width, height } => {
                ("half of the greatest width of the bottom", width.mm().map(|width| 2.0 * width), height.mm())
            }
        };
        let halved = if matches!(self.tape.bottom, Bottom::Pontoons { .. }) { 0.5 } else { 1.0 };
        let half = |value: Option<f64>| value.map(|value| value * halved);
        let do_ = "Measure it again under the hull, at its widest place";
        self.exceeds((BottomPart, half(width)), (what, half(widest)), do_);
        self.exceeds((BottomHeight, height), ("height of the gunwale", highest), do_);
    }

    /// Floors between the baseline and the gunwale.
    fn wells(&mut self) {
        let rims = self.tape.stations.iter().filter_map(|station| station.gunwale.mm());
        let lowest = rims.min_by(f64::total_cmp);
        for number in 0..self.tape.wells.len() {
            let about = Measurement::Well(number);
            let Some(depth) = self.tape.wells[number].depth.mm() else { continue };
            let do_ = "Lay a straight edge across the gunwales and measure from it down to the floor";
            self.exceeds((about, Some(depth)), ("height of the gunwale", lowest), do_);
            if depth <= 0.0 {
                let says = format!("the gunwale is {} under the floor", mm(-depth));
                self.add(about, true, (depth, 0.0), &says, do_);
            }
        }
    }

    /// Features on the hull.
    fn features(&mut self) {
        let widths = self.tape.stations.iter().filter_map(|station| station.width.mm());
        let half = widths.max_by(f64::total_cmp).map(|width| width / 2.0);
        for number in 0..self.tape.features.len() {
            let (x, y) = (Measurement::FeatureX(number), Measurement::FeatureY(number));
            let value = |what| self.tape.gauge(what).and_then(super::Gauge::mm);
            let (along, across) = (value(x), value(y));
            let from_aft = "Measure it from the aft end";
            self.exceeds((x, along), ("length of the hull", self.tape.length.mm()), from_aft);
            if let Some(aft) = along.filter(|x| *x < 0.0) {
                self.add(x, true, (aft, 0.0), &format!("it lies {} aft of the hull", mm(-aft)), from_aft);
            }
            self.exceeds(
                (y, across.map(f64::abs)),
                ("half of the greatest width", half),
                "Measure it from the centreline, to port or to starboard",
            );
        }
    }

    /// Repeat readings that do not agree.
    fn repeats(&mut self, limit: f64) {
        for what in self.tape.measurements() {
            let Some(apart) = self.tape.gauge(what).map(super::Gauge::apart_mm).filter(|apart| *apart > limit) else {
                continue;
            };
            let says = format!("the readings of the {} lie {} apart", what.label(), mm(apart));
            let do_ = "Measure once more and strike the reading that is wrong";
            self.add(what, false, (apart, limit), &says, do_);
        }
    }
}

#[cfg(test)]
mod tests;
