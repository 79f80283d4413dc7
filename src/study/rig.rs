//! The placed gear, resolved from the plan's words into points and solids of the boat frame.

use super::fit::{Fit, fit};
use crate::geometry::{Outline, Point, Solid, Spot, turned};
use crate::plan::{
    Back, Carries, Feature, FeatureId, FeatureKind, Gear, GearId, HoleId, Level, Plan, Shape, ZoneId, find_by_id,
};

/// All placed gear in the boat frame, in the plan's order.
#[derive(Clone, Debug, Default)]
pub struct Rig {
    /// One entry a piece of placed gear.
    pub items: Vec<RigItem>,
}

/// One piece of placed gear in the boat frame. Millimetres.
#[derive(Clone, Debug)]
pub struct RigItem {
    /// Which gear.
    pub gear: GearId,
    /// Its index in the plan's list.
    pub index: usize,
    /// Middle of the mount's face.
    pub at: Point,
    /// Degrees counter-clockwise.
    pub turn: f64,
    /// Which surface it is mounted on.
    pub level: Level,
    /// The zone under it, for gear on deck.
    pub zone: Option<ZoneId>,
    /// The space it takes.
    pub solids: Vec<Solid>,
    /// Its base on the surface.
    pub base: Outline,
    /// The point that is touched or looked at.
    pub control: Option<Point>,
    /// The holes its mount costs where nothing existing serves.
    pub holes: Vec<RigHole>,
    /// What holds it, or why nothing does.
    pub fit: Fit,
}

/// One hole of a mount in the boat frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RigHole {
    /// Its middle on the surface.
    pub at: Point,
    /// Diameter, mm.
    pub bore_mm: f64,
    /// What goes through.
    pub carries: Carries,
    /// What it needs behind the skin.
    pub back: Back,
}

/// Names a hole: of its own, or the n-th of a piece of gear (counted from 0).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum HoleRef {
    /// A penetration that no gear owns.
    Own(HoleId),
    /// A hole of a piece of gear's mount.
    Gear(GearId, u8),
}

impl std::fmt::Display for HoleRef {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Own(id) => write!(f, "{id}"),
            Self::Gear(id, n) => write!(f, "hole {} of {id}", n + 1),
        }
    }
}

impl Rig {
    /// Resolves all placed gear.
    pub fn of(plan: &Plan) -> Self {
        let items = plan.gear.iter().enumerate().filter_map(|(index, gear)| RigItem::of(plan, gear, index)).collect();
        Self { items }
    }

    /// The item of this gear, if it is placed.
    pub fn item(&self, gear: GearId) -> Option<&RigItem> {
        self.items.get(find_by_id(&self.items, gear, |item| item.gear)?)
    }

    /// The item whose body or base covers a spot, the highest one first.
    pub fn at(&self, spot: Spot) -> Option<&RigItem> {
        self.items.iter().filter(|item| item.covers(spot)).max_by(|a, b| {
            (a.level == Level::Deck, a.top())
                .partial_cmp(&(b.level == Level::Deck, b.top()))
                .unwrap_or(std::cmp::Ordering::Equal)
        })
    }
}

impl RigItem {
    /// Resolves one piece of gear; `None` while it is ashore.
    pub fn of(plan: &Plan, gear: &Gear, index: usize) -> Option<Self> {
        let place = gear.place.as_ref()?;
        let (spot, turn) = (place.spot(), place.turn.to_deg());
        let hull = &plan.hull;
        let wall = |spot| hull.zone_at(spot).map_or(6.0, |zone| zone.wall.value.to_mm());
        let mounting = gear.spec.mounting(gear.mount);
        let (length, width) = mounting.map_or((20.0, 20.0), |m| m.base_mm);
        let base = Outline::Rect { middle: spot, half_length: length / 2.0, half_width: width / 2.0, turn };
        let ground = match place.level {
            Level::Deck => hull.surface(spot),
            Level::Inside => hull.form.bottom(spot).map(|z| z + wall(spot)),
            Level::Under => hull.form.bottom(spot).map(|z| z + recess(plan, &base)),
        };
        let at = spot.at(ground.unwrap_or(0.0) + place.raise.to_mm());
        // Under the hull the gear frame hangs: away from the surface is down.
        let up = if place.level == Level::Under { -1.0 } else { 1.0 };
        let into_boat = |p: Point| {
            let flat = turned(p.spot(), turn);
            Point::new(at.x + flat.x, at.y + flat.y, at.z + up * p.z)
        };
        let solids = gear.spec.bodies.iter().map(|body| solid(into_boat(body.middle_mm), body.shape, turn)).collect();
        let holes = mounting
            .map(|m| m.holes.as_slice())
            .unwrap_or_default()
            .iter()
            .map(|hole| {
                let flat = turned(hole.at_mm, turn);
                let hole_spot = Spot::new(spot.x + flat.x, spot.y + flat.y);
                let z = match place.level {
                    Level::Deck => hull.surface(hole_spot).unwrap_or(at.z),
                    _ => at.z,
                };
                RigHole { at: hole_spot.at(z), bore_mm: hole.bore.to_mm(), carries: hole.carries, back: hole.back }
            })
            .collect();
        Some(Self {
            gear: gear.id,
            index,
            at,
            turn,
            level: place.level,
            zone: if place.level == Level::Deck { hull.zone_at(spot).map(|zone| zone.id) } else { None },
            solids,
            base,
            control: gear.spec.handling.as_ref().map(|handling| into_boat(handling.control_mm)),
            holes,
            fit: fit(plan, gear, place),
        })
    }

    /// Whether a spot lies under its base or one of its bodies.
    pub fn covers(&self, spot: Spot) -> bool {
        self.base.contains(spot) || self.solids.iter().any(|s| s.outline.contains(spot))
    }

    /// Height of its highest point, mm.
    pub fn top(&self) -> f64 {
        self.solids.iter().map(|s| s.high).fold(self.at.z, f64::max)
    }

    /// Height of its lowest point, mm.
    pub fn bottom(&self) -> f64 {
        self.solids.iter().map(|s| s.low).fold(self.at.z, f64::min)
    }

    /// Where its mass acts: the middle of its bodies weighted by volume.
    pub fn centre(&self) -> Point {
        let volume = |s: &Solid| {
            let (low, high) = s.outline.bounds();
            (high.x - low.x) * (high.y - low.y) * s.height()
        };
        let total: f64 = self.solids.iter().map(volume).sum();
        if total <= 0.0 {
            return self.at;
        }
        self.solids.iter().fold(Point::default(), |sum, s| {
            let (share, m) = (volume(s) / total, s.middle());
            Point::new(sum.x + m.x * share, sum.y + m.y * share, sum.z + m.z * share)
        })
    }
}

/// What holds a piece of gear.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Support {
    /// The skin of the hull, through holes or straps.
    Skin,
    /// A feature of the hull.
    Feature(FeatureId),
    /// Another piece of gear (a track that was added).
    Gear(GearId),
}

/// How far the hull's bottom is set in over a base: the depth of the recess that takes it in whole.
fn recess(plan: &Plan, base: &Outline) -> f64 {
    let (low, high) = base.bounds();
    let takes_in = |feature: &Feature| match feature.kind {
        FeatureKind::TransducerRecess { length, width, depth } => {
            let (middle, half) = (feature.at_mm.spot(), Spot::new(length.to_mm() / 2.0, width.to_mm() / 2.0));
            let (from, to) = (middle - half, middle + half);
            let inside = low.x >= from.x && low.y >= from.y && high.x <= to.x && high.y <= to.y;
            inside.then(|| depth.to_mm())
        }
        _ => None,
    };
    plan.hull.features.iter().find_map(takes_in).unwrap_or(0.0)
}

fn solid(middle: Point, shape: Shape, turn: f64) -> Solid {
    let (x, y, z) = shape.size();
    let outline = match shape {
        Shape::Post(diameter, _) => Outline::Circle { middle: middle.spot(), radius: diameter / 2.0 },
        Shape::Box(..) | Shape::Bar(..) => {
            Outline::Rect { middle: middle.spot(), half_length: x / 2.0, half_width: y / 2.0, turn }
        }
    };
    Solid { outline, low: middle.z - z / 2.0, high: middle.z + z / 2.0 }
}
