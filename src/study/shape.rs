//! The hull's form after the readings: what marked waterlines say of a form that was taken with a tape.
//!
//! The tape's figures stay as they are; the form that floats is the tape's, bent by two figures, the fullness of the
//! bottom and the height of the keel, so that it floats as marked.

use std::sync::Arc;

use crate::geometry::Form;
use crate::plan::{Hull, Plan};

/// The hull's form as it floats.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// The hull as the tape found it.
    hull: Arc<Hull>,
    /// The form bent to the readings; none when nothing was read.
    bent: Option<Form>,
    /// Factor of the half-breadths at the keel, fading out to the greatest width; 1 as the tape found it.
    pub fullness: f64,
    /// How much the keel lies higher than the tape found it, mm; fades out likewise.
    pub keel_mm: f64,
    /// The marked waterlines that count.
    pub readings: Vec<Fitted>,
    /// Marked waterlines that are not off and yet cannot count, by their place in the plan: the tape's hull does
    /// not float with that load.
    pub unused: Vec<usize>,
    /// Whether a figure would go on beyond what is believed.
    pub at_bound: bool,
}

/// A marked waterline beside what the hull does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fitted {
    /// Its place among the plan's readings.
    pub index: usize,
    /// Height over the baseline as marked, mm.
    pub measured_mm: f64,
    /// Height at which the tape's hull floats there, mm.
    pub before_mm: f64,
    /// Height at which the bent hull floats there, mm.
    pub after_mm: f64,
}

impl Shape {
    /// Fits the form to the plan's marked waterlines. Without any the form is the plan's own, not a copy.
    pub fn of(plan: &Plan) -> Self {
        Self {
            hull: Arc::clone(&plan.hull),
            bent: None,
            fullness: 1.0,
            keel_mm: 0.0,
            readings: Vec::new(),
            unused: Vec::new(),
            at_bound: false,
        }
    }

    /// The form that floats.
    pub fn form(&self) -> &Form {
        self.bent.as_ref().unwrap_or(&self.hull.form)
    }
}

impl Fitted {
    /// How much deeper the mark is than the bent hull floats, mm.
    pub fn residual_mm(&self) -> f64 {
        self.measured_mm - self.after_mm
    }
}
