//! Taking what was typed: readings, places, roundness; stations added and struck; steps taken back.

use tui_input::Input;

use super::rows::{self, Row};
use super::{Interview, Said, Trial, trial};
use crate::plan::{Bottom, Gauge, Measurement, Rounding, Station, Tape};
use crate::units::{Length, Origin, Quantity, length_from_text, number_from_text};

/// One step of the chine's roundness.
const ROUNDING_STEP: f64 = 0.1;

impl Interview {
    /// Takes what is in the line, if anything is; `insist` takes what was doubted once. False when it is not taken: it
    /// stays in the line.
    pub(super) fn commit(&mut self, insist: bool) -> bool {
        let text = self.input.value().trim().to_string();
        if text.is_empty() {
            return true;
        }
        let result = self.read(&text).and_then(|tape| self.try_on(tape, Some((&text, insist))));
        match result {
            Ok(()) => self.input = Input::default(),
            Err(why) => self.refuse(why),
        }
        self.input.value().is_empty()
    }

    /// The tape with what was typed.
    fn read(&self, text: &str) -> Result<Tape, String> {
        let length = || length_from_text(text, self.units).map_err(|why| why.to_string());
        let mut tape = self.with_stations();
        match self.row() {
            Row::Gauge(what) => {
                let length = length()?;
                let side = match what {
                    Measurement::FeatureY(place) => rows::side(place, &tape, self.hull()),
                    _ => 1.0,
                };
                add_reading(&mut tape, what, not_negative(length)?.scaled(side), self.guess(what));
            }
            Row::Place(number) => {
                let x = not_negative(length()?)?;
                self.between_neighbours(number, x.to_mm())?;
                if let Some(station) = tape.stations.get_mut(number) {
                    station.x = x;
                }
            }
            Row::Rounding => {
                let value = number_from_text(text).map_err(|why| why.to_string())?;
                if !(0.0..=2.0).contains(&value) {
                    return Err("0 is a straight side, 1 is round, 2 is square: type a number from 0 to 2".into());
                }
                tape.rounding = Some(Rounding { value, origin: Origin::Measured });
            }
            _ => return Err("nothing is typed here".into()),
        }
        Ok(tape)
    }

    /// Uses a tape from now on, unless the door would not take it. What was typed and contradicts other figures is
    /// doubted once.
    fn try_on(&mut self, tape: Tape, typed: Option<(&str, bool)>) -> Result<(), String> {
        let trial = Trial::of(&self.plan, &tape);
        if let Err(faults) = trial.tape.validate()
            && let Some(fault) = faults.first()
        {
            return Err(fault.to_string());
        }
        let here = self.row().measurement();
        let fresh = trial
            .doubts
            .iter()
            .find(|doubt| doubt.contradiction && Some(doubt.about) == here && !self.trial.doubts.contains(doubt));
        if let (Some(doubt), Some((typed, insist))) = (fresh, typed)
            && !(insist && self.warned.as_deref() == Some(typed))
        {
            let says = format!("{} Enter again takes it all the same.", trial::says(&trial.tape, doubt));
            self.warned = Some(typed.to_string());
            return Err(says);
        }
        let row = self.row();
        self.past.push((std::mem::replace(&mut self.tape, tape), row));
        self.show(trial, row);
        Ok(())
    }

    /// A change that is not typed: taken, or refused with its reason.
    fn change(&mut self, tape: Tape) -> bool {
        match self.try_on(tape, None) {
            Ok(()) => true,
            Err(why) => {
                self.refuse(why);
                false
            }
        }
    }

    fn show(&mut self, trial: Trial, row: Row) {
        self.trial = trial;
        self.warned = None;
        self.list_rows(row);
    }

    /// Lists the rows anew and goes to one of them, or stays where that one was.
    pub(super) fn list_rows(&mut self, row: Row) {
        self.rows = rows::rows(&self.trial.tape, self.unfolded);
        let same = self.rows.iter().position(|other| *other == row);
        self.row = same.unwrap_or(self.row).min(self.rows.len().saturating_sub(1));
    }

    /// Strikes the last reading of the row.
    pub(super) fn strike_reading(&mut self) {
        let mut tape = self.tape.clone();
        match self.row() {
            Row::Gauge(what) => {
                let Some(gauge) = tape.gauge_mut(what).filter(|gauge| gauge.is_measured()) else { return };
                gauge.taken.pop();
                if !gauge.is_measured() {
                    *gauge = Gauge::default();
                }
            }
            Row::Rounding => tape.rounding = None,
            _ => return,
        }
        if tape != self.tape && self.change(tape) {
            self.note("struck; type it again, or leave it to the guess");
        }
    }

    /// Changes what is chosen, not typed: roundness, kind of bottom, the list of features.
    pub(super) fn turn(&mut self, by: i8) {
        let mut tape = self.tape.clone();
        match self.row() {
            Row::Rounding => {
                let now = self.trial.tape.rounding.map_or(0.0, |rounding| rounding.value);
                let value = ((now + ROUNDING_STEP * f64::from(by)) * 10.0).round() / 10.0;
                tape.rounding = Some(Rounding { value: value.clamp(0.0, 2.0), origin: Origin::Measured });
            }
            Row::Kind => {
                let none = Gauge::default;
                let tunnel = Bottom::Tunnel { width: none(), height: none() };
                let pontoons = Bottom::Pontoons { width: none(), height: none() };
                tape.bottom = match (&tape.bottom, by > 0) {
                    (Bottom::Flat, true) | (Bottom::Pontoons { .. }, false) => tunnel,
                    (Bottom::Tunnel { .. }, true) | (Bottom::Flat, false) => pontoons,
                    (Bottom::Pontoons { .. }, true) | (Bottom::Tunnel { .. }, false) => Bottom::Flat,
                };
            }
            Row::Features => {
                self.unfolded = by > 0;
                return self.list_rows(Row::Features);
            }
            _ => return,
        }
        self.change(tape);
    }

    /// Adds a station half way to the next one and goes there.
    pub(super) fn add_station(&mut self) {
        let mut tape = self.with_stations();
        let here = self.row().station();
        let aft = here.and_then(|number| tape.stations.get(number)).map_or(0.0, |station| station.x.to_mm());
        let number = here.map_or(0, |number| number + 1);
        let length = self.trial.tape.length.mm().unwrap_or(aft);
        let fore = tape.stations.get(number).map_or(length, |station| station.x.to_mm());
        let x = f64::midpoint(aft, fore).round();
        if x <= aft || x >= fore {
            return self.refuse("there is no room for another station here");
        }
        tape.stations.insert(number, Station::at(Length::mm(x)));
        if self.change(tape) {
            self.list_rows(Row::Place(number));
            self.note("a new station; type its place, then what is measured there");
        }
    }

    /// Strikes the station of the row, with its readings.
    pub(super) fn strike_station(&mut self) {
        let Some(number) = self.row().station() else {
            return self.refuse("go to a station first");
        };
        let mut tape = self.with_stations();
        if number < tape.stations.len() {
            tape.stations.remove(number);
        }
        if self.change(tape) {
            self.list_rows(Row::Place(number.min(self.trial.tape.stations.len().saturating_sub(1))));
            self.note("the station is struck; ctrl-z brings it back");
        }
    }

    /// Takes the last change back.
    pub(super) fn take_back(&mut self) {
        let Some((tape, row)) = self.past.pop() else {
            return self.refuse("nothing is left to take back");
        };
        self.tape = tape;
        self.input = Input::default();
        self.show(Trial::of(&self.plan, &self.tape), row);
    }

    /// The tape with its stations where they are guessed to be, if none was chosen yet. Until then they follow the
    /// length.
    fn with_stations(&self) -> Tape {
        let mut tape = self.tape.clone();
        if tape.stations.is_empty() && self.row() != Row::Gauge(Measurement::Length) {
            tape.stations = self.trial.tape.stations.iter().map(|station| Station::at(station.x)).collect();
        }
        tape
    }

    fn between_neighbours(&self, number: usize, x: f64) -> Result<(), String> {
        let stations = &self.trial.tape.stations;
        let at = |number: usize| stations.get(number).map(|station| station.x.to_mm());
        let aft = number.checked_sub(1).and_then(at);
        let fore = at(number + 1).or(self.trial.tape.length.mm()).unwrap_or(f64::INFINITY);
        let sound = aft.is_none_or(|aft| x > aft) && (x < fore || (at(number + 1).is_none() && x <= fore));
        let words = crate::units::Measure(self.units);
        let (from, to) = (words.length(aft.unwrap_or(0.0)), words.length(fore));
        if sound { Ok(()) } else { Err(format!("station {} lies between {from} and {to} from the stern", number + 1)) }
    }

    /// What the first reading of a measurement replaces.
    fn guess(&self, what: Measurement) -> Option<Length> {
        self.trial.tape.gauge(what).and_then(|gauge| gauge.guess)
    }

    /// Says why something is not taken.
    pub fn refuse(&mut self, text: impl Into<String>) {
        self.said = Some(Said { text: text.into(), refused: true });
    }

    pub(super) fn note(&mut self, text: impl Into<String>) {
        self.said = Some(Said { text: text.into(), refused: false });
    }
}

fn add_reading(tape: &mut Tape, what: Measurement, reading: Length, guess: Option<Length>) {
    let Some(gauge) = tape.gauge_mut(what) else { return };
    if !gauge.is_measured() {
        gauge.guess = guess;
    }
    gauge.taken.push(reading);
}

fn not_negative(length: Length) -> Result<Length, String> {
    if length.to_mm() < 0.0 { Err("a tape shows no minus".into()) } else { Ok(length) }
}
