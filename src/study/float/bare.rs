//! A bare body under one mass: drafts, righting levers and the heel that brings its gunwale under.

use std::fmt;

use super::equilibrium::{Equilibrium, Load, NoFloat, equilibrium};
use super::righting::{RightingArm, gz_curve, heel_under};
use super::{Freeboard, freeboard, wells};
use crate::geometry::{Body, BodyError, Form, Point};
use crate::plan::Hull;

/// How a bare body floats.
#[derive(Clone, Debug, PartialEq)]
pub struct Bare {
    /// What it carries, its own mass included.
    pub load: Load,
    /// Where it rests.
    pub rest: Equilibrium,
    /// Heights of the gunwale over the water at rest, both sides at every section.
    pub freeboard: Vec<Freeboard>,
    /// Righting levers to starboard; empty where it finds no trim upright.
    pub gz: Vec<RightingArm>,
    /// Heel to starboard at which the gunwale goes under, degrees; `None` beyond 60.
    pub downflood_deg: Option<f64>,
}

/// Why a bare body does not float.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoBare {
    /// It is no body.
    Body(BodyError),
    /// It is one, and does not carry this.
    Float(NoFloat),
}

impl Bare {
    /// Floats a hull, its wells open to the water through their scuppers.
    pub fn of_hull(hull: &Hull, load: &Load) -> Result<Self, NoBare> {
        let body = wells::body(&hull.form, &wells::of(hull, &hull.form)).map_err(NoBare::Body)?;
        Self::of_body(&hull.form, &body, load)
    }

    /// Floats a form, decked across its gunwale, without wells.
    pub fn of_form(form: &Form, load: &Load) -> Result<Self, NoBare> {
        let body = Body::of(form).map_err(NoBare::Body)?;
        Self::of_body(form, &body, load)
    }

    fn of_body(form: &Form, body: &Body, load: &Load) -> Result<Self, NoBare> {
        let rest = equilibrium(body, load).map_err(NoBare::Float)?;
        let freeboard = freeboard(form, &rest);
        let gz = gz_curve(body, load).unwrap_or_default();
        let gunwale: Vec<Point> = freeboard.iter().map(|spot| spot.at).collect();
        let downflood_deg = heel_under(body, load, &gz, &gunwale);
        Ok(Self { load: *load, rest, freeboard, gz, downflood_deg })
    }

    /// The lowest spot of the gunwale.
    pub fn least_freeboard(&self) -> Option<Freeboard> {
        Freeboard::least(&self.freeboard)
    }
}

impl fmt::Display for NoBare {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Body(error) => write!(f, "{error}"),
            Self::Float(error) => write!(f, "{error}"),
        }
    }
}

impl std::error::Error for NoBare {}
