//! The door for what a tape said: alone, as a person hands it in, and complete, as the form of a plan's hull.

use super::{Door, Fault};
use crate::plan::tape::Tape;
use crate::plan::{Hull, Measurement};

/// Fewest and most stations of a tape.
pub const STATIONS: (usize, usize) = (2, 9);
/// Most wells and most features of a tape.
const MOST_PLACES: usize = 200;
/// Most readings of one measurement.
const MOST_READINGS: usize = 20;
/// No reading is longer, mm.
const FARTHEST_MM: f64 = 20_000.0;

impl Tape {
    /// Checks a tape that need not be complete; the first few faults, or none.
    pub fn validate(&self) -> Result<(), Vec<Fault>> {
        let mut door = Door::default();
        door.tape(self, "tape");
        if door.faults.is_empty() { Ok(()) } else { Err(door.faults) }
    }
}

impl Door {
    /// The hull's form: its sections, or the tape they were lofted from.
    pub(super) fn hull_form(&mut self, hull: &Hull) {
        let before = self.faults.len();
        if let Some(tape) = hull.form.tape() {
            self.tape(tape, "hull form");
            self.complete(tape);
            self.within(tape);
            if tape.wells.len().max(tape.features.len()) <= MOST_PLACES {
                self.on_hull(tape, hull);
            }
        }
        if self.faults.len() == before {
            self.form(&hull.form);
        }
    }

    /// Readings are numbers, stations run forward. `owner` begins the field's name.
    fn tape(&mut self, tape: &Tape, owner: &str) {
        let (fewest, most) = STATIONS;
        let count = tape.stations.len();
        self.check(
            count == 0 || (fewest..=most).contains(&count),
            &format!("{owner}, stations"),
            &format!("{count} stations; a tape has {fewest} to {most}"),
        );
        for (count, field) in [(tape.wells.len(), "wells"), (tape.features.len(), "features")] {
            self.check(count <= MOST_PLACES, &format!("{owner}, {field}"), &format!("at most {MOST_PLACES} entries"));
        }
        for (number, station) in tape.stations.iter().enumerate() {
            self.range(station.x.to_mm(), 0.0, FARTHEST_MM, &format!("{owner}, station {}, x", number + 1), "mm");
        }
        for (number, pair) in tape.stations.windows(2).enumerate() {
            self.check(
                pair[1].x.to_mm() > pair[0].x.to_mm(),
                &format!("{owner}, station {}, x", number + 2),
                "stations must run from aft to forward, each further than the one before",
            );
        }
        if let Some(rounding) = tape.rounding {
            let good = (0.0..=2.0).contains(&rounding.value);
            let says = format!("{} is outside 0, a straight side, to 2, a square corner", rounding.value);
            self.check(good, &format!("{owner}, rounding"), &says);
        }
        for what in tape.measurements() {
            self.gauge(tape, what, owner);
        }
    }

    fn gauge(&mut self, tape: &Tape, what: Measurement, owner: &str) {
        let Some(gauge) = tape.gauge(what) else { return };
        let field = || format!("{owner}, {}", tape.named(what));
        if gauge.taken.len() > MOST_READINGS {
            let what = format!("{} readings; at most {MOST_READINGS} are kept", gauge.taken.len());
            return self.check(false, &field(), &what);
        }
        for reading in gauge.taken.iter().chain(&gauge.guess) {
            self.range(reading.to_mm(), -FARTHEST_MM, FARTHEST_MM, &field(), "mm");
        }
        if what == Measurement::Length && gauge.mm().is_some_and(|mm| mm <= 0.0) {
            self.check(false, &field(), "a hull has a length; measure it from end to end");
        }
    }

    /// Nothing that the form needs is missing.
    fn complete(&mut self, tape: &Tape) {
        self.check(!tape.stations.is_empty(), "hull form, stations", "a form needs stations; add two at the least");
        self.check(tape.rounding.is_some(), "hull form, rounding", "it is missing; give a value from 0 to 2");
        for what in tape.measurements() {
            if tape.gauge(what).is_some_and(super::super::Gauge::is_empty) {
                let says = format!("the {} is missing; measure it, or give a guess", what.label());
                self.check(false, &format!("hull form, {}", tape.named(what)), &says);
            }
        }
    }

    /// Some of the stations are where there is hull.
    fn within(&mut self, tape: &Tape) {
        let length = tape.length.mm().unwrap_or_default();
        let on = tape.stations.iter().any(|station| (0.0..=length).contains(&station.x.to_mm()));
        let says = "none of them is on the hull; measure its length and their places from the aft end";
        self.check(on || tape.stations.is_empty(), "hull form, stations", says);
    }

    /// Wells and features are those of the hull, each once.
    fn on_hull(&mut self, tape: &Tape, hull: &Hull) {
        for (number, well) in tape.wells.iter().enumerate() {
            let field = format!("hull form, {}", tape.named(Measurement::Well(number)));
            let twice = tape.wells[..number].iter().any(|other| other.zone == well.zone);
            self.check(!twice, &field, "this well is listed twice; keep all its readings in one");
            let known = hull.zones.iter().any(|zone| zone.id == well.zone);
            self.check(known, &field, &format!("the hull has no {}", well.zone));
        }
        for (number, place) in tape.features.iter().enumerate() {
            let field = format!("hull form, {}", tape.named(Measurement::FeatureX(number)));
            let twice = tape.features[..number].iter().any(|other| other.feature == place.feature);
            self.check(!twice, &field, "this feature is listed twice; keep all its readings in one");
            let known = hull.features.iter().any(|feature| feature.id == place.feature);
            self.check(known, &field, &format!("the hull has no {}", place.feature));
        }
    }
}
