//! What bathroom scales under the hull say: mass and balance by moments.
//!
//! Scales at the stations `x_i` that bear the boat together and show `m_i` give its mass `M = sum m_i` and the station
//! of its centre `sum m_i x_i / M`. Valid for any number of scales and a boat that touches nothing else. Source:
//! balance of forces and moments, any textbook of statics. They say nothing of the centre's height or side.

use crate::plan::{Aboard, Plan, Reading, Taken, Weighed};
use crate::units::{Length, Mass, Quantity};

/// What the latest weighings say.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Scales {
    /// The bare hull.
    pub bare: Option<Weighing>,
    /// The hull with everything placed.
    pub rigged: Option<Weighing>,
}

/// Scales of one date that bore the boat together.
#[derive(Clone, Debug, PartialEq)]
pub struct Weighing {
    /// The readings used, by their place in the plan.
    pub readings: Vec<usize>,
    /// Mass and station found.
    pub found: Aboard,
    /// Gear and batteries the plan had aboard when the boat was weighed, if that was noted.
    pub planned: Option<Aboard>,
}

impl Scales {
    /// The latest weighing of the bare hull and of the rigged boat, each with two stations or more.
    pub fn of(plan: &Plan) -> Self {
        if plan.readings.is_empty() {
            return Self::default();
        }
        Self { bare: latest(plan, Weighed::BareHull), rigged: latest(plan, Weighed::Rigged) }
    }

    /// Both, as far as there are any.
    pub fn all(&self) -> impl Iterator<Item = (Weighed, &Weighing)> {
        let bare = self.bare.iter().map(|weighing| (Weighed::BareHull, weighing));
        bare.chain(self.rigged.iter().map(|weighing| (Weighed::Rigged, weighing)))
    }
}

/// The weighing of the latest date that has two stations; readings without a date count as the oldest.
fn latest(plan: &Plan, of: Weighed) -> Option<Weighing> {
    let used = |reading: &Reading| !reading.off && matches!(reading.taken, Taken::Scale { of: what, .. } if what == of);
    let mut dates: Vec<_> = plan.readings.iter().filter(|reading| used(reading)).map(|r| &r.date).collect();
    dates.sort_unstable();
    dates.dedup();
    dates.into_iter().rev().find_map(|date| {
        let of_date = plan.readings.iter().enumerate().filter(|(_, reading)| used(reading) && reading.date == *date);
        weighing(of_date)
    })
}

fn weighing<'a>(readings: impl Iterator<Item = (usize, &'a Reading)>) -> Option<Weighing> {
    let (mut used, mut stations, mut noted) = (Vec::new(), Vec::<Station>::new(), None);
    for (index, reading) in readings {
        let Taken::Scale { x, mass, planned, .. } = reading.taken else { continue };
        let x_mm = x.to_mm();
        match stations.iter_mut().find(|station| (station.x_mm - x_mm).abs() < SAME_STATION_MM) {
            Some(station) => station.again(mass),
            None => stations.push(Station { x_mm, kg: mass.to_kg(), times: 1.0 }),
        }
        noted = planned.or(noted);
        used.push(index);
    }
    let kg: f64 = stations.iter().map(|station| station.kg).sum();
    let moment: f64 = stations.iter().map(|station| station.kg * station.x_mm).sum();
    (stations.len() >= 2 && kg > 0.0).then(|| Weighing {
        readings: used,
        found: Aboard { mass: Mass::kg(kg), x: Length::from_base(moment / kg) },
        planned: noted,
    })
}

/// Two readings nearer than this are of one station, weighed twice, mm.
const SAME_STATION_MM: f64 = 1.0;

/// One scale; read again it counts with its mean.
struct Station {
    x_mm: f64,
    kg: f64,
    times: f64,
}

impl Station {
    fn again(&mut self, mass: Mass) {
        self.times += 1.0;
        self.kg += (mass.to_kg() - self.kg) / self.times;
    }
}
