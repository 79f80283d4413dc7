//! Every hole through the skin, and what speaks for or against it.
//!
//! Four steps, one file each: [`collect`] lists them and says which exist already, [`measure`]
//! looks around each, [`access`] finds the way for a hand to its back, [`avoid`] asks which need
//! not be drilled. [`hand`] judges the way for a hand where a nut is wanted.

mod access;
mod avoid;
mod collect;
pub mod hand;
mod measure;

use super::fastening::drills;
use super::float::levels::Levels;
use super::rig::{HoleRef, Rig};
use crate::geometry::Point;
use crate::plan::{Back, Carries, FeatureId, GearId, HoleId, Level, Mount, Plan, Plug, Seal, ZoneId};

pub use access::{HAND_MM, middle_of};
pub use avoid::AVOID_WITHIN_MM;
pub use measure::strangers;

/// A hole up to this bore is a passage, a wider one a cut-out, mm. Common practice, no source.
pub const CUTOUT_FROM_MM: f64 = 60.0;

/// Heel at which the height over the water is told besides the height at rest, degrees. Common
/// practice, no source: a small boat leans that far when its angler reaches or turns.
pub const HEEL_DEG: f64 = 15.0;

/// Every hole through the skin.
#[derive(Clone, Debug, Default)]
pub struct Holes {
    /// The holes: of gear in the plan's order, then those no gear owns.
    pub holes: Vec<Hole>,
    /// How many of each sort.
    pub counts: HoleCounts,
}

/// One hole. Millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// Which hole.
    pub id: HoleRef,
    /// The gear it belongs to or serves.
    pub owner: Option<GearId>,
    /// Where.
    pub at: Point,
    /// The surface it goes through.
    pub level: Level,
    /// Diameter.
    pub bore_mm: f64,
    /// What goes through.
    pub carries: Carries,
    /// What it needs behind the skin.
    pub back: Back,
    /// Whether it exists and what becomes of it.
    pub state: HoleState,
    /// The existing hole that serves here, if one does.
    pub reuses: Option<HoleId>,
    /// The zone it is in.
    pub zone: Option<ZoneId>,
    /// Whether that zone stands upright.
    pub upright: bool,
    /// Thickness of the skin there.
    pub wall_mm: f64,
    /// Height of its lowest point over the water, the boat as planned at rest; over the hull's stated
    /// waterline where it finds no rest.
    pub above_water_mm: f64,
    /// The same when the boat heels [`HEEL_DEG`] to the hole's side.
    pub above_water_heeled_mm: f64,
    /// Distance from the hole's middle to the nearest edge that counts as one; negative off the deck.
    pub edge_mm: Option<f64>,
    /// The nearest hole of another owner, and the distance from middle to middle.
    pub neighbour: Option<(HoleRef, f64)>,
    /// Clear depth behind the skin.
    pub inside_mm: f64,
    /// What shortens that depth.
    pub beneath: Option<Beneath>,
    /// Depth the part needs behind the skin.
    pub behind_mm: f64,
    /// The nearest opening wide enough for a hand and the way from its rim to the hole's back.
    pub access: Option<(Access, f64)>,
    /// The foam block that lies in that way.
    pub access_past: Option<FeatureId>,
    /// What seals it.
    pub seal: Seal,
    /// What would save drilling it.
    pub avoid: Option<Avoid>,
}

/// What lies behind a hole, nearer than the zone's clear depth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beneath {
    /// A foam block or a tube of the hull.
    Feature(FeatureId),
    /// Gear stowed inside.
    Gear(GearId),
}

/// An opening through which a hand reaches the inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Access {
    /// A hatch of the hull.
    Feature(FeatureId),
    /// An inspection port that is gear.
    Gear(GearId),
}

/// What would save drilling a hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Avoid {
    /// Another mount of the same gear, this far from where it is now (0: right there), mm.
    Mount(Mount, f64),
    /// An open hole this far away, mm.
    Hole(HoleId, f64),
    /// A moulded cable entry this far away, mm.
    WirePort(FeatureId, f64),
}

/// Whether a hole exists and what becomes of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoleState {
    /// Still to be drilled.
    New,
    /// Drilled already, for the gear that owns it.
    Drilled,
    /// An existing hole that serves.
    Reused,
    /// An existing hole, closed.
    Plugged(Plug),
    /// An existing hole, open and unused.
    Open,
}

impl HoleState {
    /// The word on the screen.
    pub fn word(self) -> &'static str {
        match self {
            Self::New => "new",
            Self::Drilled => "drilled",
            Self::Reused => "reused",
            Self::Plugged(_) => "plugged",
            Self::Open => "open",
        }
    }

    /// Whether something goes through it, now or later.
    pub fn in_use(self) -> bool {
        matches!(self, Self::New | Self::Drilled | Self::Reused)
    }
}

/// How many holes of each sort.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct HoleCounts {
    /// New, for fasteners.
    pub new_fasteners: usize,
    /// New, up to 60 mm, through which cables or parts pass.
    pub new_passages: usize,
    /// New, over 60 mm.
    pub new_cutouts: usize,
    /// Below the loaded waterline, new or open.
    pub below_water: usize,
    /// Drilled already for the gear that owns them.
    pub drilled: usize,
    /// Existing and used again.
    pub reused: usize,
    /// Existing and closed.
    pub plugged: usize,
    /// Existing and open.
    pub open: usize,
    /// New ones that another mount of the same gear, or an existing opening close by, would save.
    pub avoidable: usize,
}

impl HoleCounts {
    /// All new holes.
    pub fn new_total(&self) -> usize {
        self.new_fasteners + self.new_passages + self.new_cutouts
    }

    fn of(holes: &[Hole]) -> Self {
        let mut counts = Self::default();
        for hole in holes {
            let sort = match (hole.state, hole.carries) {
                (HoleState::New, Carries::Fastener) => &mut counts.new_fasteners,
                (HoleState::New, _) if hole.bore_mm > CUTOUT_FROM_MM => &mut counts.new_cutouts,
                (HoleState::New, _) => &mut counts.new_passages,
                (HoleState::Drilled, _) => &mut counts.drilled,
                (HoleState::Reused, _) => &mut counts.reused,
                (HoleState::Plugged(_), _) => &mut counts.plugged,
                (HoleState::Open, _) => &mut counts.open,
            };
            *sort += 1;
            counts.avoidable += usize::from(hole.avoid.is_some());
            let takes_water = matches!(hole.state, HoleState::New | HoleState::Open);
            counts.below_water += usize::from(takes_water && hole.above_water_mm < 0.0);
        }
        counts
    }
}

impl Holes {
    /// Lists and measures every hole, its height over this water.
    pub fn of(plan: &Plan, rig: &Rig, levels: &Levels) -> Self {
        let deck = plan.hull.form.deck_outline();
        let around = |found| measure::around(plan, rig, levels, &deck, found);
        let mut holes: Vec<Hole> = collect::all(plan, rig).into_iter().map(around).collect();
        measure::neighbours(&mut holes);
        access::find(plan, rig, &mut holes);
        avoid::find(plan, &mut holes);
        let counts = HoleCounts::of(&holes);
        Self { holes, counts }
    }

    /// The hole of this name.
    pub fn hole(&self, id: HoleRef) -> Option<&Hole> {
        self.holes.iter().find(|hole| hole.id == id)
    }

    /// The holes of a piece of gear, its reused ones included.
    pub fn of_gear(&self, gear: GearId) -> impl Iterator<Item = &Hole> {
        self.holes.iter().filter(move |hole| hole.owner == Some(gear))
    }
}

impl Hole {
    /// Half its diameter, mm.
    pub fn radius(&self) -> f64 {
        self.bore_mm / 2.0
    }

    /// What goes in it, in words.
    pub fn fastening(&self) -> String {
        drills::fastening_words(self.carries, self.back, self.bore_mm)
    }

    /// How to drill it, in words.
    pub fn drill(&self) -> String {
        drills::drill_words(self.bore_mm)
    }
}
