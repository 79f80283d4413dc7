//! Marked waterlines put together into floating conditions.

use crate::plan::{Name, Plan, Taken};

/// The waterlines of one date and one load: the boat lay in the water once, and these were marked.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Condition {
    date: Option<Name>,
    /// Load beyond the bare hull, kg.
    pub(super) load_kg: f64,
    /// Where they were marked.
    pub(super) marks: Vec<Mark>,
}

/// One marked waterline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Mark {
    /// Its place among the plan's readings.
    pub(super) index: usize,
    /// Station, mm.
    pub(super) x_mm: f64,
    /// Height over the baseline, mm.
    pub(super) height_mm: f64,
}

/// The conditions of a plan, without what is off.
pub(super) fn conditions(plan: &Plan) -> Vec<Condition> {
    let mut found: Vec<Condition> = Vec::new();
    for (index, reading) in plan.readings.iter().enumerate().filter(|(_, reading)| !reading.off) {
        let Taken::Waterline { x, height, load } = reading.taken else { continue };
        let mark = Mark { index, x_mm: x.to_mm(), height_mm: height.to_mm() };
        let load_kg = load.to_kg();
        let same = |c: &&mut Condition| c.date == reading.date && (c.load_kg - load_kg).abs() < SAME_LOAD_KG;
        match found.iter_mut().find(same) {
            Some(condition) => condition.marks.push(mark),
            None => found.push(Condition { date: reading.date.clone(), load_kg, marks: vec![mark] }),
        }
    }
    found
}

/// Loads nearer than this are one load written in two units, kg.
const SAME_LOAD_KG: f64 = 0.01;

impl Condition {
    /// Slope of the marked water over the baseline, mm per mm and positive bow down, by least squares; `None` when the
    /// stations lie nearer together than `apart_mm`.
    pub(super) fn slope(&self, apart_mm: f64) -> Option<f64> {
        let count = self.marks.len() as f64;
        let (low, high) = self
            .marks
            .iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), mark| (low.min(mark.x_mm), high.max(mark.x_mm)));
        if high - low < apart_mm.max(1.0) {
            return None;
        }
        let mean = |of: fn(&Mark) -> f64| self.marks.iter().map(of).sum::<f64>() / count;
        let (x, height) = (mean(|mark| mark.x_mm), mean(|mark| mark.height_mm));
        let across: f64 = self.marks.iter().map(|mark| (mark.x_mm - x) * (mark.height_mm - height)).sum();
        let along: f64 = self.marks.iter().map(|mark| (mark.x_mm - x).powi(2)).sum();
        Some(across / along)
    }

    /// Mean height of the marked water at the aft end when it slopes so, mm.
    pub(super) fn height_aft(&self, slope: f64) -> f64 {
        self.marks.iter().map(|mark| mark.height_mm - slope * mark.x_mm).sum::<f64>() / self.marks.len() as f64
    }
}
