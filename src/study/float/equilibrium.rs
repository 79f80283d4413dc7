//! Where a body comes to rest under a mass: sinkage, heel and trim, and what follows from them.

use std::fmt;

use super::liquid::Liquid;
use super::settle::{Free, Rest, Search, Start};
use crate::geometry::{Body, Point, WaterPlane};

/// What a body carries, and the water it lies in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// Everything, the body's own mass and liquids too, kg.
    pub mass_kg: f64,
    /// Where it acts, liquids as they lie in the level boat, mm in the boat frame.
    pub centre: Point,
    /// Density of the water, kg per m³.
    pub water_kg_per_m3: f64,
}

/// A body with what lies loose in it.
#[derive(Clone, Copy, Debug)]
pub struct Vessel<'a> {
    /// The body.
    pub body: &'a Body,
    /// Liquids that run as it heels and trims.
    pub liquids: &'a [Liquid],
}

/// An attitude to start the search from.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Attitude {
    /// Positive to starboard, degrees.
    pub heel_deg: f64,
    /// Positive bow down, degrees.
    pub trim_deg: f64,
}

/// Which way a trim in degrees goes, in words; zero has none of its own.
pub fn trim_way(trim_deg: f64) -> &'static str {
    if trim_deg > 0.0 { "bow down" } else { "by the stern" }
}

/// Which way a heel in degrees goes, in words; zero has none of its own.
pub fn heel_way(heel_deg: f64) -> &'static str {
    if heel_deg > 0.0 { "to starboard" } else { "to port" }
}

/// The boat at rest.
///
/// Metacentric figures are those of the attitude found, about its own level axes, liquids taken as frozen where they
/// lie there; what running takes off the transverse one stands beside it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Equilibrium {
    /// The water's surface in the boat frame.
    pub plane: WaterPlane,
    /// Height of the water over the baseline on the centreline amidships, mm.
    pub sinkage_mm: f64,
    /// Positive to starboard, degrees.
    pub heel_deg: f64,
    /// Positive bow down, degrees.
    pub trim_deg: f64,
    /// Mass of the water put aside, kg.
    pub displacement_kg: f64,
    /// Centre of mass with liquids where they lie, mm in the boat frame.
    pub centre: Point,
    /// Centre of buoyancy, mm in the boat frame.
    pub buoyancy: Point,
    /// Area of the waterplane, m².
    pub waterplane_m2: f64,
    /// Centre of the waterplane, mm in the boat frame.
    pub flotation: Point,
    /// Height of the centre of buoyancy over the baseline, mm.
    pub kb_mm: f64,
    /// Centre of buoyancy to transverse metacentre, mm.
    pub bm_mm: f64,
    /// Centre of mass to transverse metacentre, mm, liquids frozen; less what they take off and below zero, the boat
    /// does not stay like this.
    pub gm_mm: f64,
    /// What the free surfaces of liquids take off `gm_mm`, mm: the sum of `i rho / m`.
    pub free_surface_mm: f64,
    /// Centre of mass to longitudinal metacentre, mm.
    pub gm_long_mm: f64,
    /// Mass that sinks it one centimetre, kg.
    pub kg_per_cm: f64,
    /// Moment that changes the trim, end to end, by one centimetre, kg m.
    pub moment_to_trim_1cm_kgm: f64,
    /// Height of the water over the baseline on the centreline at the fore end, mm.
    pub draft_fore_mm: f64,
    /// The same at the aft end, mm.
    pub draft_aft_mm: f64,
    /// The mean of both, mm.
    pub draft_mean_mm: f64,
}

/// Why there is no answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoFloat {
    /// The body put wholly under water carries no more than this, kg.
    TooHeavy {
        /// The most it carries.
        most_kg: f64,
    },
    /// It finds no rest within 87 degrees of heel and 80 of trim.
    TurnsOver,
    /// A mass, centre, density or angle that cannot be.
    Nonsense,
}

/// Where a body comes to rest when it is let go upright and level.
///
/// A boat that balances exactly upright without being stable is found upright, with `gm_mm` below zero.
pub fn equilibrium(body: &Body, load: &Load) -> Result<Equilibrium, NoFloat> {
    Vessel::from(body).rest(load)
}

/// The same let go at another attitude, see [`Vessel::rest_from`].
pub fn equilibrium_from(body: &Body, load: &Load, start: Attitude) -> Result<Equilibrium, NoFloat> {
    Vessel::from(body).rest_from(load, start)
}

impl<'a> From<&'a Body> for Vessel<'a> {
    fn from(body: &'a Body) -> Self {
        Self { body, liquids: &[] }
    }
}

impl<'a> Vessel<'a> {
    /// Where it comes to rest when it is let go upright and level.
    pub fn rest(self, load: &Load) -> Result<Equilibrium, NoFloat> {
        self.rest_from(load, Attitude::default())
    }

    /// The same let go at another attitude, of less than 87 degrees of heel and 80 of trim. Where it would turn
    /// over from there, it is set upright and let go again.
    pub fn rest_from(self, load: &Load, start: Attitude) -> Result<Equilibrium, NoFloat> {
        let mut search = self.search(load)?;
        let mut begin = |at: Attitude| {
            let start = Start { heel: at.heel_deg.to_radians(), trim: at.trim_deg.to_radians(), above: None };
            search.settle(start, Free::HeelAndTrim)
        };
        let rest = match begin(start) {
            Err(NoFloat::TurnsOver) if start != Attitude::default() => begin(Attitude::default()),
            other => other,
        }?;
        Ok(Equilibrium::at(self.body, load, &rest))
    }

    pub(super) fn search(self, load: &Load) -> Result<Search<'a>, NoFloat> {
        Search::new(self.body, self.liquids, load)
    }
}

impl Equilibrium {
    /// Height of a point over the water, mm; negative under it.
    pub fn height(&self, at: Point) -> f64 {
        self.plane.height(at)
    }

    fn at(body: &Body, load: &Load, rest: &Rest) -> Self {
        let (cut, plane, centre) = (&rest.cut, rest.plane, load.centre);
        let volume = cut.volume;
        let from_load = |[x, y, z]: [f64; 3]| centre + Point::new(x / volume, y / volume, z / volume);
        let arm = rest.moment().map(|moment| moment / volume);
        let buoyancy = from_load(cut.moment);
        // B under G counts against stability: both metacentric radii start from B.
        let rise = plane.up[0] * arm[0] + plane.up[1] * arm[1] + plane.up[2] * arm[2];
        let [u, v] = cut.first.map(|first| first / cut.area);
        let bm = (cut.second[2] - cut.area * v * v) / volume;
        let bm_long = (cut.second[0] - cut.area * u * u) / volume;
        let above = plane.level - (plane.up[0] * centre.x + plane.up[1] * centre.y + plane.up[2] * centre.z);
        let along = |i: usize| u * plane.fore[i] + v * plane.port[i] + above * plane.up[i];
        let displacement_kg = volume * load.water_kg_per_m3 * M3_PER_MM3;
        let gm_long_mm = bm_long + rise;
        let (aft, fore) = body.ends();
        let (draft_aft_mm, draft_fore_mm) = (plane.draft(aft), plane.draft(fore));
        Self {
            plane,
            sinkage_mm: plane.draft(f64::midpoint(aft, fore)),
            heel_deg: rest.heel.to_degrees(),
            trim_deg: rest.trim.to_degrees(),
            displacement_kg,
            centre: from_load(rest.slack.moment),
            buoyancy,
            waterplane_m2: cut.area * 1.0e-6,
            flotation: Point::new(centre.x + along(0), centre.y + along(1), centre.z + along(2)),
            kb_mm: buoyancy.z,
            bm_mm: bm,
            gm_mm: bm + rise,
            free_surface_mm: rest.slack.second[2] / volume,
            gm_long_mm,
            kg_per_cm: cut.area * 10.0 * load.water_kg_per_m3 * M3_PER_MM3,
            moment_to_trim_1cm_kgm: displacement_kg * gm_long_mm / (100.0 * body.length()),
            draft_fore_mm,
            draft_aft_mm,
            draft_mean_mm: f64::midpoint(draft_aft_mm, draft_fore_mm),
        }
    }
}

impl fmt::Display for NoFloat {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooHeavy { most_kg } => {
                write!(f, "does not float: it carries {most_kg:.1} kg at most; take mass off")
            }
            Self::TurnsOver => write!(f, "turns over: it finds no rest upright; bring the mass lower or inboard"),
            Self::Nonsense => write!(f, "mass and water density must be over zero and every figure a number"),
        }
    }
}

impl std::error::Error for NoFloat {}

/// Cubic metres in a cubic millimetre.
pub(super) const M3_PER_MM3: f64 = 1.0e-9;
