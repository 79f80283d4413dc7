//! Water that lies loose in a tank or the bilge: its surface stays level while the boat heels and trims, so its mass
//! runs to the low side.
//!
//! For each attitude the surface is found anew by volume. The liquid then lies as low as it can, so the slopes of its
//! potential energy are those of a mass frozen where it lies, and its curvatures are less by the second moments of
//! its surface about the surface's own middle: the free surface effect of any textbook, exact at every angle.

use super::fill::{EXACT, fill};
use crate::geometry::{Body, Cutter, Point, WaterPlane};

/// Some liquid and the room in which it may run.
#[derive(Clone, Debug, PartialEq)]
pub struct Liquid {
    /// The room.
    pub body: Body,
    /// How much there is, kg. What is more than the room holds presses the rest together.
    pub kg: f64,
    /// Where it lies in the level boat, mm in the boat frame: there the load's centre of mass counts it.
    pub centre: Point,
    /// Volume, mm³.
    volume: f64,
}

impl Liquid {
    /// So many kilograms of a density in a room; `None` for no mass or no density.
    pub fn new(body: Body, kg: f64, kg_per_m3: f64) -> Option<Self> {
        let volume = (kg / kg_per_m3 * 1.0e9).min(body.volume());
        let sound = kg > 0.0 && kg.is_finite() && kg_per_m3 > 0.0 && volume > body.volume() * LEAST;
        let level = WaterPlane::new(0.0, 0.0, 0.0);
        sound.then(|| {
            let cut = fill(&mut Cutter::new(&body), &level, Point::default(), volume, None, EXACT).cut;
            let [x, y, z] = cut.moment.map(|moment| moment / cut.volume);
            Self { body, kg, centre: Point::new(x, y, z), volume }
        })
    }
}

/// Less than this share of its room is a damp floor.
const LEAST: f64 = 1.0e-6;

/// What liquids do to a boat at one attitude, in volumes of the water it floats in.
#[derive(Clone, Copy, Default)]
pub(super) struct Slack {
    /// First moment of the liquids about where the load counts them, mm⁴.
    pub(super) moment: [f64; 3],
    /// Second moments of their surfaces, each about its own middle, mm⁴: forward by forward, forward by port,
    /// port by port.
    pub(super) second: [f64; 3],
    /// Potential energy, mm⁴.
    pub(super) energy: f64,
}

/// Filled to more than this share of its room, a liquid has no surface left to tilt.
const FULL: f64 = 1.0 - 1.0e-6;

/// A liquid while the boat is turned this way and that.
#[derive(Clone)]
pub(super) struct Tank<'a> {
    liquid: &'a Liquid,
    cutter: Cutter<'a>,
    /// Height of its surface over its centre when it was last looked at, mm.
    above: Option<f64>,
}

impl<'a> Tank<'a> {
    pub(super) fn of(liquid: &'a Liquid) -> Self {
        Self { liquid, cutter: Cutter::new(&liquid.body), above: None }
    }

    /// Lets the liquid find its level and adds what it does. `water` is the density around the boat, kg per m³.
    pub(super) fn add_to(&mut self, slack: &mut Slack, lie: &WaterPlane, water: f64) {
        let Liquid { kg, centre, volume, .. } = *self.liquid;
        let found = fill(&mut self.cutter, lie, centre, volume, self.above, EXACT);
        self.above = Some(found.above);
        let share = kg / (volume * water * 1.0e-9);
        let cut = &found.cut;
        let up = lie.up;
        let height = up[0] * cut.moment[0] + up[1] * cut.moment[1] + up[2] * cut.moment[2];
        slack.energy += share * (height + (volume - cut.volume) * found.above);
        for (sum, moment) in slack.moment.iter_mut().zip(cut.moment) {
            *sum += share * moment;
        }
        if cut.area > 0.0 && volume < FULL * self.liquid.body.volume() {
            let [u, v] = cut.first;
            let own = [u * u, u * v, v * v].map(|square| square / cut.area);
            for ((sum, second), own) in slack.second.iter_mut().zip(cut.second).zip(own) {
                *sum += share * (second - own);
            }
        }
    }
}
