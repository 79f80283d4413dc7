//! What rods and elbows sweep: the cast behind and beside the casting shoulder, and the pull that sets the hook.
//!
//! Sources of all lengths: common practice, no source.

use super::super::body::Seated;
use super::super::chosen;
use super::sector::quarter;
use super::{Envelope, Motion, block, envelope};
use crate::geometry::Solid;
use crate::plan::{Plan, Side};

/// Rod and lure behind the shoulder in an overhead cast, mm: 2.3 m of rod, 0.4 m of line.
pub const OVERHEAD_MM: f64 = 2700.0;

/// Rod and lure in a cast from the side, mm.
pub const SIDE_MM: f64 = 2500.0;

/// A side cast goes over the water between these heights, mm.
const SIDE_HIGH_MM: (f64, f64) = (900.0, 1300.0);

/// What stands this near the centreline is passed by, mm.
pub const CENTRE_MM: f64 = 250.0;

/// An overhead cast wanders this far outboard of the shoulder, mm. Assumption.
const OUTBOARD_MM: f64 = 300.0;

/// Elbows go this far behind the seat back when the hook is set, mm.
pub const ELBOW_BEHIND_MM: f64 = 350.0;

/// Elbows go this far to each side, mm.
pub const ELBOW_ASIDE_MM: f64 = 500.0;

/// The cast on the side of the casting hand, and the elbows on both sides. All soft: they hinder, they stop nothing.
pub(super) fn of(plan: &Plan, body: &Seated) -> [Envelope; 3] {
    [cast(plan, body), hook_set(plan, body, Side::Port), hook_set(plan, body, Side::Starboard)]
}

/// Two quarter circles about the casting shoulder: upright, from straight aft to straight up, and level, from straight
/// aft to abeam.
fn cast(plan: &Plan, body: &Seated) -> Envelope {
    let side = plan.angler.hand;
    let centre = chosen(plan, "cast-blocked.centre", CENTRE_MM);
    let shoulder = body.shoulders[usize::from(side == Side::Starboard)];
    let out = shoulder.y.abs();
    let water = plan.hull.waterline.value.to_mm();
    let overhead = quarter(chosen(plan, "cast-blocked.overhead", OVERHEAD_MM)).map(|layer| {
        let outer = (out + OUTBOARD_MM).max(centre);
        let (x, z) = ((shoulder.x - layer.reach, shoulder.x), (shoulder.z + layer.foot, shoulder.z + layer.top));
        on(side, x, (centre, outer), z)
    });
    let beside =
        quarter(chosen(plan, "cast-blocked.side", SIDE_MM)).filter(|layer| out + layer.reach > centre).map(|layer| {
            let x = (shoulder.x - layer.top, shoulder.x - layer.foot);
            on(side, x, (centre, out + layer.reach), (water + SIDE_HIGH_MM.0, water + SIDE_HIGH_MM.1))
        });
    Envelope { side: Some(side), ..envelope(Motion::Cast, false, overhead.chain(beside).collect()) }
}

/// From the hanging elbow up to the top of the head, behind the seat back and beside it as far as the hip.
fn hook_set(plan: &Plan, body: &Seated, side: Side) -> Envelope {
    let back = plan.angler.seat.back.to_mm();
    let behind = chosen(plan, "cast-blocked.behind", ELBOW_BEHIND_MM);
    let aside = chosen(plan, "cast-blocked.aside", ELBOW_ASIDE_MM);
    let elbow = body.shoulders[0].z - body.lengths.upper_arm;
    let room = on(side, (back - behind, body.hip.x), (0.0, aside), (elbow, body.head_top.z));
    Envelope { side: Some(side), ..envelope(Motion::HookSet, false, vec![room]) }
}

/// A block on one side of the boat, by distances from the centreline.
fn on(side: Side, x: super::Range, out: super::Range, z: super::Range) -> Solid {
    match side {
        Side::Port => block(x, out, z),
        Side::Starboard => block(x, (-out.1, -out.0), z),
    }
}
