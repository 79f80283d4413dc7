//! The hull from a tape measure: what was measured on the driveway, as typed, and what a class guessed for the rest.
//!
//! All stations count forward from the aft end. Heights are over the baseline: the lowest line of the hull as it
//! stands on level ground. A tape says what was measured; [`Tape::filled`] adds guesses, [`Tape::lines`] is the
//! same in plain millimetres once nothing is missing, and [`super::HullForm`] holds the sections lofted from it.

mod carry;
mod doubts;
mod fill;
mod gauge;
mod measurement;

use serde::{Deserialize, Serialize};

pub use doubts::{DOUBT_LIMITS, Doubt, DoubtLimits};
pub use gauge::{Gauge, MEASURED_SPREAD_MM};
pub use measurement::Measurement;

use super::{FeatureId, ZoneId};
use crate::geometry::{LineBottom, LineStation, Lines};
use crate::units::{Length, Origin};

/// What the tape said, and what was guessed for the rest.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tape {
    /// Overall length.
    #[serde(default, skip_serializing_if = "Gauge::is_empty")]
    pub length: Gauge,
    /// Where the hull was measured across, from aft to forward: three to nine, five to seven are usual.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub stations: Vec<Station>,
    /// How round the chine is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rounding: Option<Rounding>,
    /// What the bottom looks like from below.
    #[serde(default, skip_serializing_if = "Bottom::is_flat")]
    pub bottom: Bottom,
    /// Depths of the wells.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub wells: Vec<WellDepth>,
    /// Where features were found.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub features: Vec<FeaturePlace>,
}

/// One place along the hull where it was measured across.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Station {
    /// Forward of the aft end.
    pub x: Length,
    /// Greatest width.
    #[serde(default, skip_serializing_if = "Gauge::is_empty")]
    pub width: Gauge,
    /// Height of the greatest width; of its lowest point where the side stands upright.
    #[serde(default, skip_serializing_if = "Gauge::is_empty")]
    pub width_height: Gauge,
    /// Width of the flat bottom; zero for a vee.
    #[serde(default, skip_serializing_if = "Gauge::is_empty")]
    pub bottom_width: Gauge,
    /// Height of the gunwale.
    #[serde(default, skip_serializing_if = "Gauge::is_empty")]
    pub gunwale: Gauge,
    /// Rise of the keel: how far the lowest line of this station stands over the baseline.
    #[serde(default, skip_serializing_if = "Gauge::is_empty")]
    pub keel: Gauge,
}

/// How round the chine is: 0 is a side straight from the edge of the flat bottom to the greatest width, 1 a quarter
/// of an ellipse between the two, 2 a square corner.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rounding {
    /// 0 straight, 1 round, 2 square.
    pub value: f64,
    /// Whether it was compared with the boat or guessed.
    #[serde(default)]
    pub origin: Origin,
}

/// What the bottom looks like from below.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Bottom {
    /// Flat from chine to chine.
    #[default]
    Flat,
    /// One channel along the middle.
    Tunnel {
        /// Width of the channel.
        #[serde(default, skip_serializing_if = "Gauge::is_empty")]
        width: Gauge,
        /// Its height over the lowest line.
        #[serde(default, skip_serializing_if = "Gauge::is_empty")]
        height: Gauge,
    },
    /// Two pontoons with open water between them.
    Pontoons {
        /// Width of the flat bottom of one pontoon.
        #[serde(default, skip_serializing_if = "Gauge::is_empty")]
        width: Gauge,
        /// Height of the skin between them over the lowest line.
        #[serde(default, skip_serializing_if = "Gauge::is_empty")]
        height: Gauge,
    },
}

/// How deep a well is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WellDepth {
    /// The zone that is its floor.
    pub zone: ZoneId,
    /// From a straight edge laid across the gunwales at the middle of the zone down to its floor.
    pub depth: Gauge,
}

/// Where a feature was found.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FeaturePlace {
    /// Which feature.
    pub feature: FeatureId,
    /// Its middle, forward of the aft end.
    #[serde(default, skip_serializing_if = "Gauge::is_empty")]
    pub x: Gauge,
    /// Its middle, to port of the centreline; negative to starboard.
    #[serde(default, skip_serializing_if = "Gauge::is_empty")]
    pub y: Gauge,
}

impl Bottom {
    /// Whether it has neither tunnel nor pontoons.
    pub fn is_flat(&self) -> bool {
        *self == Self::Flat
    }
}

impl Station {
    /// A station at which nothing was measured yet.
    pub fn at(x: Length) -> Self {
        let none = Gauge::default;
        Self { x, width: none(), width_height: none(), bottom_width: none(), gunwale: none(), keel: none() }
    }
}

impl Tape {
    /// The same in millimetres; `None` when something is missing that the form needs.
    pub fn lines(&self) -> Option<Lines> {
        let station = |s: &Station| {
            Some(LineStation {
                x: s.x.to_mm(),
                width: s.width.mm()?,
                width_height: s.width_height.mm()?,
                bottom_width: s.bottom_width.mm()?,
                gunwale: s.gunwale.mm()?,
                keel: s.keel.mm()?,
            })
        };
        Some(Lines {
            length: self.length.mm()?,
            stations: self.stations.iter().map(station).collect::<Option<_>>()?,
            rounding: self.rounding?.value,
            bottom: match &self.bottom {
                Bottom::Flat => LineBottom::Flat,
                Bottom::Tunnel { width, height } => LineBottom::Tunnel { width: width.mm()?, height: height.mm()? },
                Bottom::Pontoons { width, height } => LineBottom::Pontoons { width: width.mm()?, height: height.mm()? },
            },
        })
    }

    /// The same without its guesses: only what was measured. Fill it anew to scale the guesses to new readings.
    #[must_use]
    pub fn without_guesses(&self) -> Self {
        let mut bare = self.clone();
        for what in self.measurements() {
            if let Some(gauge) = bare.gauge_mut(what) {
                gauge.guess = None;
            }
        }
        bare.rounding = self.rounding.filter(|rounding| rounding.origin != Origin::Guess);
        bare
    }
}
