//! The penetrations for other programs.

use serde::Serialize;

use crate::plan::{Back, Carries, GearId, ZoneId};
use crate::sheets::number::{At, Number};
use crate::study::holes::{Access, Avoid, Hole, Holes};

#[derive(Serialize)]
pub(super) struct HolesSheet {
    /// Over which waterline the heights are: `computed`, or `stated` where the boat finds no rest.
    waterline: &'static str,
    counts: CountsSheet,
    holes: Vec<HoleSheet>,
}

#[derive(Serialize)]
struct CountsSheet {
    new: usize,
    new_fasteners: usize,
    new_passages: usize,
    new_cutouts: usize,
    drilled: usize,
    reused: usize,
    plugged: usize,
    open: usize,
    below_water: usize,
    avoidable: usize,
}

#[derive(Serialize)]
struct HoleSheet {
    /// Stable: `hole 3`, `hole 2 of gear 7`.
    hole: String,
    owner: Option<GearId>,
    state: &'static str,
    carries: &'static str,
    back: &'static str,
    at: At,
    zone: Option<ZoneId>,
    bore_mm: Number,
    wall_mm: Number,
    above_water_mm: Number,
    above_water_heeled_mm: Number,
    edge_mm: Option<Number>,
    inside_mm: Number,
    behind_mm: Number,
    /// Stable: `feature 2`, `gear 7`.
    hand_through: Option<String>,
    hand_way_mm: Option<Number>,
    seal: &'static str,
    /// What would save drilling it.
    instead: Option<String>,
}

impl HolesSheet {
    pub(super) fn of(holes: &Holes, stated: bool) -> Self {
        let counts = &holes.counts;
        Self {
            waterline: if stated { "stated" } else { "computed" },
            counts: CountsSheet {
                new: counts.new_total(),
                new_fasteners: counts.new_fasteners,
                new_passages: counts.new_passages,
                new_cutouts: counts.new_cutouts,
                drilled: counts.drilled,
                reused: counts.reused,
                plugged: counts.plugged,
                open: counts.open,
                below_water: counts.below_water,
                avoidable: counts.avoidable,
            },
            holes: holes.holes.iter().map(HoleSheet::of).collect(),
        }
    }
}

impl HoleSheet {
    fn of(hole: &Hole) -> Self {
        Self {
            hole: hole.id.to_string(),
            owner: hole.owner,
            state: hole.state.word(),
            carries: match hole.carries {
                Carries::Fastener => "fastener",
                Carries::Cable => "cable",
                Carries::Body => "body",
            },
            back: match hole.back {
                Back::Blind => "blind",
                Back::Nut => "nut",
            },
            at: hole.at.into(),
            zone: hole.zone,
            bore_mm: hole.bore_mm.into(),
            wall_mm: hole.wall_mm.into(),
            above_water_mm: hole.above_water_mm.into(),
            above_water_heeled_mm: hole.above_water_heeled_mm.into(),
            edge_mm: hole.edge_mm.map(Number::from),
            inside_mm: hole.inside_mm.into(),
            behind_mm: hole.behind_mm.into(),
            hand_through: hole.access.map(|(access, _)| match access {
                Access::Feature(id) => id.to_string(),
                Access::Gear(id) => id.to_string(),
            }),
            hand_way_mm: hole.access.map(|(_, way)| way.into()),
            seal: hole.seal.word(),
            instead: hole.avoid.map(|avoid| match avoid {
                Avoid::Mount(mount, _) => mount.word().to_string(),
                Avoid::Hole(id, _) => id.to_string(),
                Avoid::WirePort(id, _) => id.to_string(),
            }),
        }
    }
}
