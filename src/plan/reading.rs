//! What was measured on the real boat, dated, and able to be switched off.

use serde::{Deserialize, Serialize};

use super::{GearId, Name, Plan, Seat};
use crate::geometry::Point;
use crate::units::{Current, Length, Mass, Measure, amount};

/// One measurement.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// Date as typed, year-month-day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<Name>,
    /// What was taken.
    pub taken: Taken,
    /// Kept, but not used.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub off: bool,
}

/// What stood on the scales.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Weighed {
    /// The bare hull with its seat.
    #[default]
    BareHull,
    /// The hull with everything placed: no angler, no water in the livewell.
    Rigged,
}

/// A mass and where it acts along the boat; at the aft end for no mass.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Aboard {
    /// The mass.
    pub mass: Mass,
    /// Its centre, forward of the aft end.
    pub x: Length,
}

/// What was taken.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Taken {
    /// A meter in series: the current of these loads together.
    Meter {
        /// The loads that were on.
        loads: Vec<GearId>,
        /// What the meter showed.
        current: Current,
    },
    /// A scale under a station of the hull. All scales of a date bear the boat together.
    Scale {
        /// Station, forward of the aft end.
        x: Length,
        /// What the scale showed.
        mass: Mass,
        /// What stood on the scales.
        #[serde(default, skip_serializing_if = "Weighed::is_bare")]
        of: Weighed,
        /// Gear and batteries that the plan had aboard when the rigged boat was weighed. Noted when the reading is
        /// added, so that what is moved or changed later counts; without it the rig of today is the one weighed.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        planned: Option<Aboard>,
    },
    /// A marked waterline.
    Waterline {
        /// Station, forward of the aft end.
        x: Length,
        /// Height over the baseline.
        height: Length,
        /// Load aboard beyond the bare hull.
        load: Mass,
    },
    /// What was noted sitting in the boat.
    SeatTest {
        /// The gear concerned.
        gear: GearId,
        /// Whether it was touched.
        touched: bool,
        /// Whether that took a lean; of what was not touched, whether a lean was tried.
        leaning: bool,
        /// Whether it could be read.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        seen: Option<bool>,
        /// From the eye to the point that is touched or looked at, by tape, sitting as one does.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        distance: Option<Length>,
        /// Whether the knees were clear of it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        knees: Option<bool>,
        /// Whether the paddle's strokes were clear of it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        strokes: Option<bool>,
        /// How the seat was set. Noted when the reading is added; without it the seat as it is now.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        seat: Option<Seat>,
        /// Where the point that is touched was, mm, boat frame. Noted when the reading is added, so that moving the gear
        /// does not change what was found; without it where it is now.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        at_mm: Option<Point>,
    },
}

impl Taken {
    /// A seat test of gear that says whether it was touched and how, and nothing else.
    pub fn seat_test(gear: GearId, touched: bool, leaning: bool) -> Self {
        Self::SeatTest {
            gear,
            touched,
            leaning,
            seen: None,
            distance: None,
            knees: None,
            strokes: None,
            seat: None,
            at_mm: None,
        }
    }
}

impl Reading {
    /// What was read, with its figures: `waterline 112 mm at 900 mm with 96.0 kg`. Stations are from the stern.
    pub fn words(&self, plan: &Plan, tape: Measure) -> String {
        let label = |id: GearId| plan.gear(id).map_or_else(|| id.to_string(), |gear| gear.label.to_string());
        match &self.taken {
            Taken::Meter { loads, current } => {
                let first = loads.first().map_or_else(|| "nothing".into(), |id| label(*id));
                let more = match loads.len() {
                    0 | 1 => String::new(),
                    count => format!(" and {} more", count - 1),
                };
                format!("meter {}, {first}{more}", amount(*current, 2))
            }
            Taken::Scale { x, mass, of, .. } => {
                format!("scale {} at {}, {}", amount(*mass, 1), station(*x, tape), of.word())
            }
            Taken::Waterline { x, height, load } => {
                let height = height.to_mm();
                let below = if height < -0.5 { " below the baseline" } else { "" };
                format!("waterline {}{below} at {} with {}", tape.length(height), station(*x, tape), amount(*load, 1))
            }
            Taken::SeatTest { gear, touched, leaning, seen, distance, knees, strokes, .. } => {
                let touched = match (touched, leaning) {
                    (true, false) => "touched",
                    (true, true) => "touched with a lean",
                    (false, true) => "not touched",
                    (false, false) => "not touched without a lean",
                };
                let not = |noted: &Option<bool>, yes: &'static str, no: &'static str| {
                    noted.map(|noted| if noted { yes } else { no }.to_string())
                };
                let more = [
                    not(seen, "seen", "not seen"),
                    distance.map(|distance| format!("{} from the eye", tape.length(distance.to_mm()))),
                    not(knees, "knees clear", "knees not clear"),
                    not(strokes, "strokes clear", "strokes not clear"),
                ];
                let noted: Vec<String> = std::iter::once(touched.into()).chain(more.into_iter().flatten()).collect();
                format!("seat test of {}: {}", label(*gear), noted.join(", "))
            }
        }
    }
}

fn station(x: Length, tape: Measure) -> String {
    let behind = if x.to_mm() < -0.5 { " behind the stern" } else { "" };
    format!("{}{behind}", tape.length(x.to_mm()))
}

impl Weighed {
    /// As said on screen and on paper.
    pub fn word(self) -> &'static str {
        match self {
            Self::BareHull => "bare hull",
            Self::Rigged => "rigged boat",
        }
    }

    fn is_bare(&self) -> bool {
        *self == Self::BareHull
    }
}
