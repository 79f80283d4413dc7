//! The study: everything that follows from a plan. Computed, never stored, never edited.
//!
//! Each report is a pure function of the plan (and of the rig, the placed gear resolved into the
//! boat frame). None of them can fail: a nonsense plan gives nonsense numbers and the checks say
//! so. Screen, headless commands and sheets all show the same [`Study`], so they cannot disagree.

pub mod backup;
pub mod body;
pub mod cables;
pub mod chemistry;
pub mod clearance;
pub mod day;
pub mod drilling;
pub mod envelopes;
pub mod fastening;
pub mod fit;
pub mod float;
pub mod holes;
pub mod lights;
pub mod meter_next;
pub mod metered;
pub mod obstacles;
pub mod posture;
pub mod power;
pub mod reach;
pub mod rig;
pub mod scales;
pub mod seat_test;
pub mod section;
mod shadow;
pub mod shape;
pub mod sight;
pub mod space;
pub mod transducer;
pub mod weights;
pub mod wire;
pub mod wiring;
pub mod work;

use crate::plan::Plan;

/// Everything that follows from a plan.
#[derive(Clone, Debug)]
pub struct Study {
    /// The placed gear in the boat frame.
    pub rig: rig::Rig,
    /// The hull's form after the readings.
    pub shape: shape::Shape,
    /// Masses and their centre.
    pub weights: weights::Weights,
    /// Where the boat sits in the water.
    pub float: float::Float,
    /// What the day takes out of the batteries.
    pub power: power::Power,
    /// The way of every cable.
    pub cables: cables::Cables,
    /// Which loads are worth metering next, the first first.
    pub meter_next: Vec<meter_next::Worth>,
    /// What the wires lose and carry, and what their fuses must be.
    pub wiring: wiring::Wiring,
    /// What is lost when one part fails, and the spares.
    pub backup: backup::Backup,
    /// The day as the batteries live it.
    pub day: day::Day,
    /// Every hole and what speaks for or against it.
    pub holes: holes::Holes,
    /// What was noted sitting in the boat, and the body that follows.
    pub seat_test: seat_test::SeatTest,
    /// What can be touched from the seat, and at what cost.
    pub reach: reach::Reach,
    /// What is seen from the seat.
    pub sight: sight::Sight,
    /// What is in the way of the sonar heads.
    pub transducers: transducer::Transducers,
    /// What runs into what.
    pub clearance: clearance::Clearance,
    /// What others see of the lights, and what the chosen rule asks for.
    pub lights: lights::Lights,
}

impl Study {
    /// Studies a plan.
    pub fn of(plan: &Plan) -> Self {
        let rig = rig::Rig::of(plan);
        let seat_test = seat_test::SeatTest::of(plan, &rig);
        let shape = shape::Shape::of(plan);
        let weights = weights::Weights::of(plan, &rig);
        let float = float::Float::of(plan, shape.form(), &rig, &weights);
        let reach = reach::Reach::of(plan, &rig, &seat_test).afloat(plan, &float);
        let power = power::Power::of(plan);
        let cables = cables::Cables::of(plan, &rig, &power);
        let wiring = wiring::Wiring::of(plan, &rig, &power, &cables);
        let day = day::Day::of(plan, &power);
        Self {
            sight: sight::Sight::of(plan, &rig, &reach.body),
            transducers: transducer::Transducers::of(plan, shape.form(), &rig, &float.levels.rest),
            seat_test,
            shape,
            meter_next: meter_next::worth(plan, &power, &day, &wiring),
            backup: backup::Backup::of(plan, &power, &wiring),
            wiring,
            cables,
            day,
            power,
            holes: holes::Holes::of(plan, &rig, &float.levels),
            weights,
            lights: lights::Lights::of(plan, &rig, &reach.body, &float),
            float,
            clearance: clearance::Clearance::of(plan, &rig, &reach.body),
            reach,
            rig,
        }
    }
}

/// A limit that a report works with: as the plan sets it, or its default. The checks' table names the
/// same default, so the two cannot differ.
pub(crate) fn chosen(plan: &Plan, limit: &str, default: f64) -> f64 {
    plan.limits.iter().find(|set| set.limit == limit).map_or(default, |set| set.value)
}
