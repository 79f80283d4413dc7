//! From where a tape finds a hole: edges and marks of the hull that a tape can be laid against.
//!
//! A place needs two distances that cross at a good angle. Two that are both struck from a point cross twice, so at
//! least one of a pair runs square to the boat's length or along it. The centreline is no datum: nobody finds it.

use crate::geometry::{Point, Spot};
use crate::plan::{Feature, FeatureId, FeatureKind, Hinge, Opening, Plan, Side};

/// A tape is laid level: a mark this much higher or lower than the hole is left out, mm. Common practice, no source.
const LEVEL_WITHIN_MM: f64 = 60.0;

/// How far past its end an edge is still sighted along with a straightedge, mm. Common practice, no source.
const BESIDE_MM: f64 = 100.0;

/// Nearer than this the hook of a tape is in the way, mm. Common practice, no source.
const LEAST_MM: f64 = 20.0;

/// Least sine of the angle at which two distances cross: 45 degrees. Common practice, no source.
const CROSSING: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// One distance to a hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Datum {
    /// What it is taken from.
    pub from: Mark,
    /// Which way the tape lies.
    pub way: Way,
    /// Where on the mark it begins.
    pub origin: Spot,
    /// What the tape shows, mm.
    pub mm: f64,
}

/// What a distance is taken from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// The aft end of the deck.
    Stern,
    /// The edge of the deck.
    Gunwale(Side),
    /// The edge of a hatch's opening: its side, or `None` for the rim of a round one.
    Hatch(FeatureId, Option<Hinge>),
    /// A mould seam.
    Seam(FeatureId),
    /// The middle of a scupper.
    Scupper(FeatureId),
    /// One of a set of threaded inserts, counted from 0 in the hull's order.
    Insert(FeatureId, usize),
}

/// Which way the tape lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Along the boat.
    Along,
    /// Square across it.
    Across,
    /// Down from the edge, on an upright wall.
    Down,
    /// Straight from the mark to the hole.
    Straight,
}

/// The two nearest marks from which distances to a hole cross at a good angle; `None` off the hull.
pub(super) fn pair(plan: &Plan, at: Point, upright: bool) -> Option<[Datum; 2]> {
    let datums = from_everything(plan, at)?;
    if upright {
        return on_a_wall(plan, at, &datums);
    }
    let mut best: Option<(f64, [Datum; 2])> = None;
    for (i, one) in datums.iter().enumerate() {
        for other in &datums[i + 1..] {
            let length = one.mm + other.mm;
            if one.crosses(other, at.spot()) && best.as_ref().is_none_or(|(least, _)| length < *least) {
                best = Some((length, [*one, *other]));
            }
        }
    }
    best.map(|(_, pair)| pair)
}

/// On an upright wall: along the boat from the nearest mark, and down from the edge above.
fn on_a_wall(plan: &Plan, at: Point, datums: &[Datum]) -> Option<[Datum; 2]> {
    let along = datums.iter().filter(|datum| datum.way == Way::Along).min_by(|a, b| a.mm.total_cmp(&b.mm))?;
    let (half, rim) = plan.hull.form.gunwale(at.x)?;
    let (side, y) = beside(at.y, half);
    let down = Datum { from: Mark::Gunwale(side), way: Way::Down, origin: Spot::new(at.x, y), mm: rim - at.z };
    Some([*along, down])
}

/// Every distance that can be taken to a spot; the stern edge and the gunwale are always among them.
fn from_everything(plan: &Plan, at: Point) -> Option<Vec<Datum>> {
    let form = &plan.hull.form;
    let (half, _) = form.gunwale(at.x)?;
    if at.y.abs() > half {
        return None;
    }
    let stern = form.sections.first()?.x_mm;
    let (side, y) = beside(at.y, half);
    let across = Spot::new(at.x, y);
    let mut datums = vec![
        Datum { from: Mark::Stern, way: Way::Along, origin: Spot::new(stern, at.y), mm: at.x - stern },
        Datum { from: Mark::Gunwale(side), way: Way::Across, origin: across, mm: half - at.y.abs() },
    ];
    let near = plan.hull.features.iter().filter(|feature| (feature.at_mm.z - at.z).abs() <= LEVEL_WITHIN_MM);
    for feature in near {
        from_feature(feature, at.spot(), &mut datums);
    }
    Some(datums)
}

/// The side a spot is on, and where the edge of that side is.
fn beside(y: f64, half: f64) -> (Side, f64) {
    if y >= 0.0 { (Side::Port, half) } else { (Side::Starboard, -half) }
}

fn from_feature(feature: &Feature, spot: Spot, datums: &mut Vec<Datum>) {
    let (id, middle) = (feature.id, feature.at_mm.spot());
    let mut add = |datum: Datum| {
        if datum.mm >= LEAST_MM {
            datums.push(datum);
        }
    };
    match &feature.kind {
        FeatureKind::Hatch { opening: Opening::Round(bore), .. } => {
            add(straight(Mark::Hatch(id, None), middle, bore.to_mm() / 2.0, spot));
        }
        FeatureKind::Hatch { opening, .. } => from_edges(id, middle, *opening, spot).into_iter().for_each(add),
        FeatureKind::Scupper { .. } => add(straight(Mark::Scupper(id), middle, 0.0, spot)),
        FeatureKind::Inserts { offsets_mm, .. } => {
            let inserts = offsets_mm.iter().enumerate();
            inserts.for_each(|(n, offset)| {
                let at = Spot::new(middle.x + offset.x, middle.y + offset.y);
                add(straight(Mark::Insert(id, n), at, 0.0, spot));
            });
        }
        FeatureKind::Seam { length } if (spot.x - middle.x).abs() <= length.to_mm() / 2.0 => {
            let origin = Spot::new(spot.x, middle.y);
            add(Datum { from: Mark::Seam(id), way: Way::Across, origin, mm: (spot.y - middle.y).abs() });
        }
        _ => {}
    }
}

/// Straight from a round mark: from its rim, or its middle for radius 0.
fn straight(from: Mark, middle: Spot, radius: f64, spot: Spot) -> Datum {
    let away = spot.distance(middle);
    let share = if away > 0.0 { radius / away } else { 0.0 };
    let origin = Spot::new(middle.x + (spot.x - middle.x) * share, middle.y + (spot.y - middle.y) * share);
    Datum { from, way: Way::Straight, origin, mm: away - radius }
}

/// The edges of a hatch that face a spot and that it lies abreast of.
fn from_edges(id: FeatureId, middle: Spot, opening: Opening, spot: Spot) -> Vec<Datum> {
    let (length, width) = opening.size();
    let off = spot - middle;
    let mut found = Vec::new();
    if off.y.abs() <= width / 2.0 + BESIDE_MM {
        let (side, sign) = if off.x >= 0.0 { (Hinge::Fore, 1.0) } else { (Hinge::Aft, -1.0) };
        let origin = Spot::new(middle.x + sign * length / 2.0, spot.y);
        let mm = off.x.abs() - length / 2.0;
        found.push(Datum { from: Mark::Hatch(id, Some(side)), way: Way::Along, origin, mm });
    }
    if off.x.abs() <= length / 2.0 + BESIDE_MM {
        let (side, sign) = if off.y >= 0.0 { (Hinge::Port, 1.0) } else { (Hinge::Starboard, -1.0) };
        let origin = Spot::new(spot.x, middle.y + sign * width / 2.0);
        let mm = off.y.abs() - width / 2.0;
        found.push(Datum { from: Mark::Hatch(id, Some(side)), way: Way::Across, origin, mm });
    }
    found
}

impl Datum {
    /// Whether this distance and another fix a spot: not both struck from points, and crossing at a good angle.
    fn crosses(&self, other: &Self, spot: Spot) -> bool {
        let both_arcs = self.way == Way::Straight && other.way == Way::Straight;
        let (a, b) = (self.direction(spot), other.direction(spot));
        !both_arcs && (a.x * b.y - a.y * b.x).abs() >= CROSSING
    }

    /// The way the distance grows, of length 1.
    fn direction(&self, spot: Spot) -> Spot {
        match self.way {
            Way::Along => Spot::new(1.0, 0.0),
            Way::Across | Way::Down => Spot::new(0.0, 1.0),
            Way::Straight => {
                let (away, long) = (spot - self.origin, spot.distance(self.origin));
                if long > 0.0 { Spot::new(away.x / long, away.y / long) } else { Spot::default() }
            }
        }
    }
}
