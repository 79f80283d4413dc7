//! The spaces that motions need: from the hull, the seat, the person and the lids, as solids.
//!
//! Distances along x count from the front of the seat back, heights over the gunwale, unless said
//! otherwise. Source of all of them: common practice, no source (what builders, magazines and clubs
//! advise for small boats); those a plan may set otherwise stand in the checks' table.

pub mod lids;
pub mod rods;
mod sector;
pub mod snags;
pub mod standing;
pub mod stow;

use super::body::{CLOTHING_MM, KNEE_FLESH_MM, Seated};
use super::chosen;
use super::rig::Rig;
use crate::geometry::{Outline, Point, Solid, Spot};
use crate::plan::{FeatureId, GearId, Plan, Side};

/// Hardware on the gunwale may stand this high where the shaft crosses it, mm.
pub const STROKE_HARDWARE_MM: f64 = 50.0;

/// The same at the ends of the stroke, mm more.
const STROKE_ENDS_MORE_MM: f64 = 30.0;

/// The stroke starts this far inside the gunwale, mm.
pub const STROKE_INSIDE_MM: f64 = 100.0;

/// Stations where the stroke is cut into pieces, mm ahead of the seat back: catch at the toes, exit at
/// the hip; the first and last piece are its ends.
const STROKE_STATIONS_MM: [f64; 7] = [-150.0, 0.0, 200.0, 400.0, 600.0, 700.0, 850.0];

/// The blade works this far outside the gunwale, mm.
const STROKE_OUTSIDE_MM: f64 = 600.0;

/// The hands move up to this height over the gunwale, mm.
const STROKE_HANDS_MM: f64 = 450.0;

/// Room round the pedals' circle for shoes and for lifting the drive out, mm.
const PEDAL_ROOM_MM: f64 = 50.0;

/// Free room over and before the knees, mm.
pub const KNEE_ROOM_MM: f64 = 75.0;

/// Half the width of splayed knees, mm.
const KNEES_HALF_WIDTH_MM: f64 = 300.0;

/// Length of gunwale beside the thigh kept free to bring a fish aboard, mm.
pub const LANDING_LENGTH_MM: f64 = 800.0;

/// What may stand on it, mm.
pub const LANDING_HEIGHT_MM: f64 = 20.0;

/// Length of gunwale at the seat kept free to climb back, mm.
pub const REENTRY_LENGTH_MM: f64 = 1000.0;

/// What may stand on it, mm.
pub const REENTRY_HEIGHT_MM: f64 = 30.0;

/// A swimmer and a fish need this much air over the gunwale, mm.
const BODY_HIGH_MM: f64 = 500.0;

/// Thickness of a seat back with its cushion and the life jacket behind, mm.
const RECLINE_ROOM_MM: f64 = 50.0;

/// Layers of the seat back: each is at most 1/12 of the lean too thick.
const RECLINE_LAYERS: u32 = 12;

/// A space that must stay free for a motion.
#[derive(Clone, Debug, PartialEq)]
pub struct Envelope {
    /// Which motion.
    pub motion: Motion,
    /// On which side, if it has one.
    pub side: Option<Side>,
    /// The hatch whose lid moves, for lids of the hull.
    pub lid: Option<FeatureId>,
    /// The gear that moves itself: the crate or cooler of the lid, the motor that turns or is stowed.
    pub owner: Option<GearId>,
    /// Its solids, boat frame, mm.
    pub solids: Vec<Solid>,
    /// Hard: gear in it stops the motion. Soft: it only hinders.
    pub hard: bool,
}

/// A motion that needs space.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Motion {
    /// The paddle's stroke.
    Stroke,
    /// Feet on the pedals, knees above them.
    Pedals,
    /// A hatch lid.
    Lid,
    /// Bringing a fish aboard.
    Landing,
    /// Climbing back from the water.
    Reentry,
    /// The seat back.
    Recline,
    /// Rod and line going back for a cast.
    Cast,
    /// Elbows going back and out to set the hook.
    HookSet,
    /// A motor that tilts out of the water.
    MotorStow,
    /// A motor that turns to steer.
    MotorTurn,
    /// A pedal drive or pod lifted out of its well.
    DriveLift,
    /// What a trailer, a cart or the beach touches.
    Underside,
    /// The posts of a cart in their scuppers.
    CartPosts,
    /// Standing up.
    Stand,
    /// The step that keeps a standing person upright.
    Step,
}

impl Motion {
    /// The word on the screen.
    pub fn word(self) -> &'static str {
        match self {
            Self::Stroke => "stroke",
            Self::Pedals => "pedals",
            Self::Lid => "lid",
            Self::Landing => "landing",
            Self::Reentry => "re-entry",
            Self::Recline => "recline",
            Self::Cast => "cast",
            Self::HookSet => "hook-set",
            Self::MotorStow => "motor stow",
            Self::MotorTurn => "motor turn",
            Self::DriveLift => "drive lift",
            Self::Underside => "transport",
            Self::CartPosts => "cart posts",
            Self::Stand => "standing",
            Self::Step => "step",
        }
    }
}

/// All spaces of a plan, in the order of the motions' names for people: paddling, pedalling, lids, fish, swimmer, seat,
/// rods, what is stowed, standing.
pub fn envelopes(plan: &Plan, rig: &Rig, body: &Seated) -> Vec<Envelope> {
    let mut all = vec![stroke(plan, Side::Port), stroke(plan, Side::Starboard), pedals(plan, body)];
    all.extend(lids::of(plan, rig));
    all.extend([landing(plan, body), reentry(plan, body), recline(plan)]);
    all.extend(rods::of(plan, body));
    all.extend(stow::of(plan, rig));
    all.extend(standing::of(plan, body));
    all.retain(|envelope| !envelope.solids.is_empty());
    all
}

fn envelope(motion: Motion, hard: bool, solids: Vec<Solid>) -> Envelope {
    Envelope { motion, side: None, lid: None, owner: None, solids, hard }
}

/// The shaft and the hands, from the catch at the toes to the exit at the hip, beside the boat.
fn stroke(plan: &Plan, side: Side) -> Envelope {
    let hardware = chosen(plan, "stroke-blocked.hardware", STROKE_HARDWARE_MM);
    let inside = chosen(plan, "stroke-blocked.inside", STROKE_INSIDE_MM);
    let back = plan.angler.seat.back.to_mm();
    let last = STROKE_STATIONS_MM.len() - 2;
    let pieces = STROKE_STATIONS_MM.windows(2).enumerate().filter_map(|(i, ends)| {
        let free = if i == 0 || i == last { hardware + STROKE_ENDS_MORE_MM } else { hardware };
        let edge = Gunwale::between(plan, back + ends[0], back + ends[1])?;
        Some(beside(side, &edge, (edge.half - inside, edge.half + STROKE_OUTSIDE_MM), (free, STROKE_HANDS_MM)))
    });
    Envelope { side: Some(side), ..envelope(Motion::Stroke, true, pieces.collect()) }
}

/// With pedals: their circle and the knees over it, hard. Without: the knees as they rest, soft.
fn pedals(plan: &Plan, body: &Seated) -> Envelope {
    let room = chosen(plan, "pedal-blocked.knee", KNEE_ROOM_MM);
    let around_knees = |knees: &[Point]| {
        let span = |of: fn(&Point) -> f64| {
            let values = knees.iter().map(of);
            (values.clone().fold(f64::INFINITY, f64::min), values.fold(f64::NEG_INFINITY, f64::max))
        };
        let ((aft, fore), (low, high)) = (span(|k| k.x), span(|k| k.z));
        let flesh = KNEE_FLESH_MM + CLOTHING_MM;
        block(
            (aft - flesh, fore + flesh + room),
            (-KNEES_HALF_WIDTH_MM, KNEES_HALF_WIDTH_MM),
            (low - flesh, high + flesh + room),
        )
    };
    let Some(pedals) = &plan.hull.pedals else {
        return envelope(Motion::Pedals, false, vec![around_knees(&[body.knee])]);
    };
    let (crank, reach) = (pedals.crank_mm, pedals.radius.to_mm() + PEDAL_ROOM_MM);
    let wide = pedals.half_width.to_mm();
    let circle =
        block((crank.x - reach, crank.x + reach), (crank.y - wide, crank.y + wide), (crank.z - reach, crank.z + reach));
    let radius = pedals.radius.to_mm();
    let knees = [(radius, 0.0), (-radius, 0.0), (0.0, radius), (0.0, -radius)]
        .map(|(ahead, up)| body.knee_with(Point::new(crank.x + ahead, crank.y, crank.z + up)));
    envelope(Motion::Pedals, true, vec![circle, around_knees(&knees)])
}

/// The gunwale beside the thigh, inside and outside, on the landing side.
fn landing(plan: &Plan, body: &Seated) -> Envelope {
    let height = chosen(plan, "landing-blocked.height", LANDING_HEIGHT_MM);
    let side = plan.angler.landing;
    let solids = along_gunwale(plan, side, landing_stretch(plan, body), height, |_| 100.0);
    Envelope { side: Some(side), ..envelope(Motion::Landing, false, solids) }
}

/// The stretch of gunwale where fish come aboard, mm from the aft end.
fn landing_stretch(plan: &Plan, body: &Seated) -> Range {
    let length = chosen(plan, "landing-blocked.length", LANDING_LENGTH_MM);
    let thigh = f64::midpoint(body.hip.x, body.knee.x);
    (thigh - length / 2.0, thigh + length / 2.0)
}

/// The way of a swimmer, chest first over the gunwale to the seat, on the re-entry side.
fn reentry(plan: &Plan, body: &Seated) -> Envelope {
    let length = chosen(plan, "reentry-blocked.length", REENTRY_LENGTH_MM);
    let height = chosen(plan, "reentry-blocked.height", REENTRY_HEIGHT_MM);
    let side = plan.angler.reentry;
    let seat = plan.hull.seat.width.to_mm() / 2.0;
    let ends = (body.hip.x - length / 2.0, body.hip.x + length / 2.0);
    let solids = along_gunwale(plan, side, ends, height, |half| (half - seat).max(100.0));
    Envelope { side: Some(side), ..envelope(Motion::Reentry, true, solids) }
}

/// The seat back as it leans, in layers that hold it.
fn recline(plan: &Plan) -> Envelope {
    let (rails, setting) = (&plan.hull.seat, &plan.angler.seat);
    let seat = match (setting.height, &rails.high) {
        (crate::plan::SeatHeight::High, Some(high)) => high.value.to_mm(),
        _ => rails.low.value.to_mm(),
    };
    let (back, half, tall) = (setting.back.to_mm(), rails.width.to_mm() / 2.0, rails.back_height.to_mm());
    let lean = setting.recline.to_deg().to_radians().tan();
    let layer = |i: u32| {
        let height = |i: u32| tall * f64::from(i) / f64::from(RECLINE_LAYERS);
        let (foot, top) = (height(i), height(i + 1));
        block((back - top * lean - RECLINE_ROOM_MM, back), (-half, half), (seat + foot, seat + top))
    };
    envelope(Motion::Recline, true, (0..RECLINE_LAYERS).map(layer).collect())
}

type Range = (f64, f64);

/// The gunwale over a stretch of x: its least half-breadth and greatest height, mm.
struct Gunwale {
    x: Range,
    half: f64,
    z: f64,
}

impl Gunwale {
    /// `None` where the stretch is not beside the hull.
    fn between(plan: &Plan, aft: f64, fore: f64) -> Option<Self> {
        let form = &plan.hull.form;
        let (first, last) = (form.sections.first()?.x_mm, form.sections.last()?.x_mm);
        let (aft, fore) = (aft.max(first), fore.min(last));
        if aft >= fore {
            return None;
        }
        let ((half_a, z_a), (half_b, z_b)) = (form.gunwale(aft)?, form.gunwale(fore)?);
        Some(Self { x: (aft, fore), half: half_a.min(half_b), z: z_a.max(z_b) })
    }
}

/// The space over the gunwale in four pieces, from `inside(half-breadth)` in to 150 mm out.
fn along_gunwale(plan: &Plan, side: Side, ends: Range, free: f64, inside: impl Fn(f64) -> f64) -> Vec<Solid> {
    let at = |i: i32| ends.0 + (ends.1 - ends.0) * f64::from(i) / 4.0;
    (0..4)
        .filter_map(|i| {
            let edge = Gunwale::between(plan, at(i), at(i + 1))?;
            Some(beside(side, &edge, (edge.half - inside(edge.half), edge.half + 150.0), (free, BODY_HIGH_MM)))
        })
        .collect()
}

/// A block over the gunwale: distances from the centreline, heights over the gunwale.
fn beside(side: Side, edge: &Gunwale, out: Range, up: Range) -> Solid {
    let y = match side {
        Side::Port => out,
        Side::Starboard => (-out.1, -out.0),
    };
    block(edge.x, y, (edge.z + up.0, edge.z + up.1))
}

/// An upright block between two stations, two distances to port and two heights, mm.
pub(super) fn block(x: Range, y: Range, z: Range) -> Solid {
    let outline = Outline::Rect {
        middle: Spot::new(f64::midpoint(x.0, x.1), f64::midpoint(y.0, y.1)),
        half_length: (x.1 - x.0) / 2.0,
        half_width: (y.1 - y.0) / 2.0,
        turn: 0.0,
    };
    Solid { outline, low: z.0, high: z.1 }
}
