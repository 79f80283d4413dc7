//! The tape interview: along the boat measurement by measurement, with the hull it makes so far.
//!
//! What the tape said is kept apart from what is guessed for the rest: after each reading the guesses are made anew,
//! so that they follow what was measured near them.

mod keys;
mod rows;
mod take;
mod trial;

use std::sync::Arc;

use tui_input::Input;

pub use keys::KEYS;
pub use rows::{Row, heading, label, parts};
pub use trial::{COMPARED_AT_MM, Trial};

use crate::catalogue;
use crate::plan::{
    Doubt, Feature, FeatureKind, FeaturePlace, Gauge, Hull, Measurement, Name, Plan, Tape, WellDepth, Zone, ZoneId,
};
use crate::units::{Origin, Tape as Units};

/// A floor at least so far under the gunwale is the floor of a well, mm. Common practice, no source.
const WELL_MM: f64 = 60.0;

/// A zone whose middle is so near that of a hatch is its lid, mm.
const LID_MM: f64 = 30.0;

/// Measuring a hull.
#[derive(Clone, Debug)]
pub struct Interview {
    /// What becomes of it.
    pub aim: Aim,
    /// The unit of bare numbers.
    pub units: Units,
    /// What is being typed.
    pub input: Input,
    /// What the interview answers to the last key.
    pub said: Option<Said>,
    /// Which of the two pictures is shown where there is room for one.
    pub picture: Picture,
    /// The plan whose hull is measured.
    plan: Arc<Plan>,
    /// What was measured; everything else is empty.
    tape: Tape,
    /// The same when the interview began.
    start: Tape,
    /// Tapes and rows to go back to.
    past: Vec<(Tape, Row)>,
    row: usize,
    rows: Vec<Row>,
    unfolded: bool,
    /// A doubtful text: typed again it is taken.
    warned: Option<String>,
    trial: Trial,
}

/// What becomes of a measured hull.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aim {
    /// It replaces the form of the plan's hull.
    Plan,
    /// A new plan starts on it.
    New,
}

/// An answer to a key.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    /// The words.
    pub text: String,
    /// Whether something was not taken.
    pub refused: bool,
}

/// Which picture of the whole hull.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Picture {
    /// The stations one behind the other.
    Sections,
    /// The boat from above.
    FromAbove,
}

impl Interview {
    /// Starts on a plan's hull: with its tape, or with nothing measured.
    pub fn new(plan: Arc<Plan>, aim: Aim, units: Units) -> Self {
        let tape = begun(&plan.hull);
        let trial = Trial::of(&plan, &tape);
        let rows = rows::rows(&trial.tape, false);
        Self {
            aim,
            units,
            input: Input::default(),
            said: None,
            picture: Picture::Sections,
            plan,
            start: tape.clone(),
            tape,
            past: Vec::new(),
            row: 0,
            rows,
            unfolded: false,
            warned: None,
            trial,
        }
    }

    /// What the hull would be with what is measured so far.
    pub fn trial(&self) -> &Trial {
        &self.trial
    }

    /// The hull as it was before, which makes the guesses.
    pub fn hull(&self) -> &Hull {
        &self.plan.hull
    }

    /// What the boat is called.
    pub fn name(&self) -> &Name {
        &self.plan.name
    }

    /// All rows.
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }

    /// The index of the row in question.
    pub fn at(&self) -> usize {
        self.row
    }

    /// The row in question.
    pub fn row(&self) -> Row {
        self.rows.get(self.row).copied().unwrap_or(Row::Done)
    }

    /// Whether the features are listed.
    pub fn unfolded(&self) -> bool {
        self.unfolded
    }

    /// Whether the places of the stations are guessed still.
    pub fn places_guessed(&self) -> bool {
        self.tape.stations.is_empty()
    }

    /// Whether anything differs from the beginning.
    pub fn changed(&self) -> bool {
        self.tape != self.start
    }

    /// How many of the measurements of the form are taken, and how many there are.
    pub fn progress(&self) -> (usize, usize) {
        let form = |what: &Measurement| !matches!(what, Measurement::FeatureX(_) | Measurement::FeatureY(_));
        let all: Vec<Measurement> = self.trial.tape.measurements().into_iter().filter(form).collect();
        (all.iter().filter(|what| self.is_measured(**what)).count(), all.len())
    }

    /// How many of a station's five are measured.
    pub fn measured_at(&self, station: usize) -> usize {
        Measurement::of_station(station).into_iter().filter(|what| self.is_measured(*what)).count()
    }

    /// How many features are placed, and how many there are.
    pub fn placed(&self) -> (usize, usize) {
        let placed = self.tape.features.iter().filter(|place| place.x.is_measured() || place.y.is_measured());
        (placed.count(), self.tape.features.len())
    }

    /// What looks wrong: about the row in question first.
    pub fn doubts(&self) -> Vec<&Doubt> {
        let here = self.row().measurement();
        let mut doubts: Vec<&Doubt> = self.trial.doubts.iter().collect();
        doubts.sort_by_key(|doubt| Some(doubt.about) != here);
        doubts
    }

    /// A doubt in words, with the place by its name.
    pub fn doubt_words(&self, doubt: &Doubt) -> String {
        let (name, place) = parts(Row::Gauge(doubt.about), &self.trial.tape, self.hull());
        format!("{}: {}", if place.is_empty() { name } else { place }, trial::says(&self.trial.tape, doubt))
    }

    /// The tape to keep: complete, without wells and features that nobody measured.
    pub fn result(&self) -> Tape {
        let mut tape = self.trial.tape.clone();
        tape.wells.retain(|well| well.depth.is_measured());
        tape.features.retain(|place| place.x.is_measured() || place.y.is_measured());
        tape
    }

    /// A new plan on the measured hull.
    ///
    /// # Errors
    /// Why there can be none.
    pub fn new_plan(&self) -> Result<Plan, String> {
        let interview = catalogue::Interview {
            name: Some(self.plan.name.clone()),
            class: self.plan.hull.class.clone(),
            tape: self.result(),
        };
        let plan = interview.plan(&self.plan.hull);
        plan.map_err(|faults| faults.first().map_or_else(|| "this is no hull yet".into(), ToString::to_string))
    }

    fn is_measured(&self, what: Measurement) -> bool {
        self.trial.tape.gauge(what).is_some_and(Gauge::is_measured)
    }
}

/// A hull's tape without its guesses, with a place for every well and feature.
fn begun(hull: &Hull) -> Tape {
    let mut tape = hull.form.tape().cloned().unwrap_or_default();
    for what in tape.measurements() {
        // What a reading replaced stays beside it.
        if let Some(gauge) = tape.gauge_mut(what).filter(|gauge| !gauge.is_measured()) {
            gauge.guess = None;
        }
    }
    tape.rounding = tape.rounding.filter(|rounding| rounding.origin != Origin::Guess);
    for zone in wells(hull) {
        if !tape.wells.iter().any(|well| well.zone == zone) {
            tape.wells.push(WellDepth { zone, depth: Gauge::default() });
        }
    }
    // What is inside or a line along the hull has no middle that a tape finds.
    let visible = |kind: &FeatureKind| !matches!(kind, FeatureKind::Foam { .. } | FeatureKind::Seam { .. });
    for feature in hull.features.iter().filter(|feature| visible(&feature.kind)) {
        if !tape.features.iter().any(|place| place.feature == feature.id) {
            tape.features.push(FeaturePlace { feature: feature.id, x: Gauge::default(), y: Gauge::default() });
        }
    }
    tape
}

/// Whether a zone is the lid of a hatch: they have one middle.
fn is_lid(zone: &Zone, hull: &Hull) -> bool {
    let middle = zone.outline_mm.middle();
    let on = |feature: &Feature| feature.at_mm.spot().distance(middle) < LID_MM;
    hull.features.iter().any(|feature| matches!(feature.kind, FeatureKind::Hatch { .. }) && on(feature))
}

/// The floors that lie under the gunwale, aft to bow.
fn wells(hull: &Hull) -> Vec<ZoneId> {
    let mut wells: Vec<(f64, ZoneId)> = Vec::new();
    for zone in hull.zones.iter().filter(|zone| zone.edge && !zone.upright && !is_lid(zone, hull)) {
        let x = zone.outline_mm.middle().x;
        let under = hull.form.gunwale(x).map_or(0.0, |(_, rim)| rim - zone.height.value.to_mm());
        if under >= WELL_MM {
            wells.push((x, zone.id));
        }
    }
    wells.sort_by(|a, b| a.0.total_cmp(&b.0));
    wells.into_iter().map(|(_, id)| id).collect()
}
