//! What the person sees of every screen that must be seen: how far, where, how slantwise, how small, hidden by what.
//!
//! Eyes as the seat is set, and as the day's phases claim. Character height in minutes of arc by NUREG-0700:
//! `h = 2 pi D MA / 21600` with `h` the height of a character, `D` the distance in the same unit and `MA` minutes of
//! arc; the tilt of the glass does not come into it. What hides a screen is found by straight lines from the eye to
//! a net of points on the glass, each line exact against boxes and upright cylinders; a lying cylinder counts as
//! the box around it. The deck is not tried.

mod bounds;
mod eyes;
mod glass;
mod hiders;
mod places;

pub use self::bounds::*;
pub use self::eyes::{BRIM_UP_DEG, Eye, eye};
pub use self::glass::{Glass, Mirrored, TILTS_DEG};
pub use self::hiders::{Hidden, Hider, knees};
pub use self::places::{Band, Way, ways};

use self::hiders::Hiders;
use super::body::Seated;
use super::rig::{Rig, RigItem};
use crate::geometry::Point;
use crate::plan::{GearId, Handling, Plan, Posture};

/// A line of sight from the eye to a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// Length of the line, mm.
    pub distance_mm: f64,
    /// Angle below level, degrees; negative looks up.
    pub down_deg: f64,
    /// Angle from straight ahead, degrees, positive to port.
    pub turn_deg: f64,
}

impl Look {
    /// From the eye to a point of the boat frame.
    pub fn from(eye: Point, at: Point) -> Self {
        let arrow = at - eye;
        Self {
            distance_mm: arrow.length(),
            down_deg: (-arrow.z).atan2(arrow.x.hypot(arrow.y)).to_degrees(),
            turn_deg: arrow.y.atan2(arrow.x).to_degrees(),
        }
    }
}

/// What is seen from the seat.
#[derive(Clone, Debug, PartialEq)]
pub struct Sight {
    /// Where the eyes are: as the seat is set, then as the day claims otherwise.
    pub eyes: Vec<Eye>,
    /// The limits in force.
    pub bounds: Bounds,
    /// Every placed piece of gear that must be seen.
    pub items: Vec<Seen>,
}

/// One piece of gear that must be seen.
#[derive(Clone, Debug, PartialEq)]
pub struct Seen {
    /// The gear.
    pub gear: GearId,
    /// The point that is looked at, boat frame, mm.
    pub at: Point,
    /// Its glass, if it is a screen.
    pub glass: Option<Glass>,
    /// How it is seen from each of the eyes, in their order.
    pub views: Vec<View>,
    /// Where along the boat it would pass, at its distance from the centreline and by its mount. Looked for where
    /// it fails from the seat.
    pub bands: Vec<Band>,
}

/// How something is seen from one eye.
#[derive(Clone, Debug, PartialEq)]
pub struct View {
    /// How the person sits or stands.
    pub posture: Posture,
    /// The line of sight to its middle.
    pub look: Look,
    /// Angle between that line and the straight way out of the glass, degrees; over 90 its back is seen.
    pub glass_deg: Option<f64>,
    /// Height of a character, minutes of arc.
    pub text_arcmin: Option<f64>,
    /// What hides how much of it, most first.
    pub hidden: Vec<Hidden>,
    /// How much of it all of them hide together, percent.
    pub hidden_percent: f64,
    /// Whether it stands behind the brim of a hat with the head held level.
    pub behind_brim: bool,
    /// What the middle of the glass mirrors.
    pub mirrored: Option<Mirrored>,
    /// What speaks against it.
    pub faults: Vec<Fault>,
}

impl Sight {
    /// Looks at all that must be seen.
    pub fn of(plan: &Plan, rig: &Rig, body: &Seated) -> Self {
        let (eyes, bounds) = (eyes::eyes(plan, body), Bounds::of(plan));
        let mut hiders = None;
        let items = rig.items.iter().filter_map(|item| {
            let gear = plan.gear.get(item.index)?;
            let handling = gear.spec.handling.as_ref().filter(|handling| handling.seen)?;
            let hiders = hiders.get_or_insert_with(|| Hiders::of(rig, body));
            let target = Target::of(handling, item, eyes[0].at)?;
            let views: Vec<View> = eyes.iter().map(|eye| target.view(*eye, &bounds, hiders)).collect();
            let fails = views.iter().any(|view| view.is_seated() && !view.faults.is_empty());
            let search = places::Search { plan, gear, item, handling, eyes: &eyes, bounds: &bounds, hiders };
            let bands = if fails { search.bands() } else { Vec::new() };
            Some(Seen { gear: item.gear, at: target.at, glass: target.glass, views, bands })
        });
        let items = items.collect();
        Self { eyes, bounds, items }
    }

    /// How a piece of gear that must be seen is seen from another eye.
    pub fn view_from(&self, plan: &Plan, rig: &Rig, body: &Seated, eye: Eye, gear: GearId) -> Option<View> {
        let item = rig.item(gear)?;
        let handling = plan.gear.get(item.index)?.spec.handling.as_ref().filter(|handling| handling.seen)?;
        let target = Target::of(handling, item, self.eyes.first()?.at)?;
        Some(target.view(eye, &self.bounds, &Hiders::of(rig, body)))
    }

    /// How a piece of gear is seen, if it must be.
    pub fn item(&self, gear: GearId) -> Option<&Seen> {
        self.items.iter().find(|seen| seen.gear == gear)
    }
}

impl Seen {
    /// How it is seen as the seat is set.
    pub fn from_seat(&self) -> Option<&View> {
        self.views.first()
    }

    /// The shift along the boat that is the shortest way to where it would pass, mm forward.
    pub fn nearest_shift(&self, from_x: f64) -> Option<f64> {
        let to = |band: &Band| from_x.clamp(band.from_mm, band.to_mm) - from_x;
        self.bands.iter().map(to).min_by(|a, b| a.abs().total_cmp(&b.abs()))
    }
}

impl View {
    /// Whether the person sits.
    pub fn is_seated(&self) -> bool {
        self.posture != Posture::Standing
    }
}

/// What is looked at.
struct Target {
    gear: GearId,
    at: Point,
    glass: Option<Glass>,
    /// Height of a character, mm.
    text_mm: Option<f64>,
    inches: Option<f64>,
}

impl Target {
    /// The glass is tilted, as far as it goes, so that it suits one eye.
    fn of(handling: &Handling, item: &RigItem, eye: Point) -> Option<Self> {
        item.control.map(|at| Self::at(handling, item, at, eye))
    }

    /// The same with what is looked at elsewhere.
    fn at(handling: &Handling, item: &RigItem, at: Point, eye: Point) -> Self {
        let glass = handling.screen.map(|screen| {
            let tilts = handling.tilts.map_or(TILTS_DEG, |tilts| tilts.to_deg());
            Glass::facing(at, item.turn, screen.to_mm(), tilts, eye)
        });
        let text_mm = handling.text.map(|text| text.value.to_mm()).or(glass.map(|glass| glass.text_mm()));
        Self { gear: item.gear, at, glass, text_mm, inches: handling.screen.map(|screen| screen.to_inches()) }
    }

    fn view(&self, eye: Eye, bounds: &Bounds, hiders: &Hiders) -> View {
        let points = self.glass.map_or_else(|| vec![self.at], |glass| glass.points());
        let (hidden, hidden_percent) = hiders.hide(eye, &points, self.gear);
        let view = View { hidden, hidden_percent, ..self.bare_view(eye) };
        View { faults: bounds.faults(&view, self.inches), ..view }
    }

    /// All but what stands in the way.
    fn bare_view(&self, eye: Eye) -> View {
        let look = Look::from(eye.at, self.at);
        View {
            posture: eye.posture,
            look,
            glass_deg: self.glass.map(|glass| glass.off_normal_deg(eye.at)),
            text_arcmin: self.text_mm.map(|height| arc_minutes(height, look.distance_mm)),
            hidden: Vec::new(),
            hidden_percent: 0.0,
            behind_brim: -look.down_deg > BRIM_UP_DEG,
            mirrored: self.glass.and_then(|glass| glass.mirrored(eye.at)),
            faults: Vec::new(),
        }
    }
}

/// Minutes of arc under which a height is seen at a distance, both mm: `MA = 21600 h / (2 pi D)`. Valid for small
/// angles. Source: NUREG-0700, which writes 6.283.
pub fn arc_minutes(height_mm: f64, distance_mm: f64) -> f64 {
    height_mm * 21_600.0 / (std::f64::consts::TAU * distance_mm.max(1.0))
}
