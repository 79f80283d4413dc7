//! Lights that shine into the eyes of the person who sits aboard.

use super::sector::{Sector, bearing};
use super::{centre, chosen, lit};
use crate::geometry::Point;
use crate::plan::{Colour, GearId, Light, LightArc, Plan};
use crate::study::body::Seated;
use crate::study::rig::{Rig, RigItem};
use crate::study::sight::Look;

/// The field of view, degrees to either side, up and down. From memory: a third of a turn each way is seen at all,
/// brow and cheeks end it above and below; a light at its rim still blinds.
pub const SIDE_DEG: f64 = 90.0;
/// See [`SIDE_DEG`].
pub const UP_DEG: f64 = 50.0;
/// See [`SIDE_DEG`].
pub const DOWN_DEG: f64 = 70.0;

/// A light in the field of view.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glare {
    /// Which gear.
    pub gear: GearId,
    /// Its light centre, mm in the boat frame.
    pub at: Point,
    /// How the eye sees it.
    pub look: Look,
}

/// Every light that shines at the eyes, seated as the seat is set. Amber ones are dim, a shade or a hand keeps
/// others away.
pub(super) fn of(plan: &Plan, rig: &Rig, body: &Seated) -> Vec<Glare> {
    let limit = |name: &str, default: f64| chosen(plan, name, default);
    let (side, up, down) = (limit("glare.side", SIDE_DEG), limit("glare.up", UP_DEG), limit("glare.down", DOWN_DEG));
    let in_view = |look: &Look| look.turn_deg.abs() <= side && look.down_deg <= down && -look.down_deg <= up;
    let found = lit(plan, rig).filter(|(item, light)| shines_at(item, light, body.eye));
    let seen = found.map(|(item, light)| {
        let at = centre(item, light);
        Glare { gear: item.gear, at, look: Look::from(body.eye, at) }
    });
    seen.filter(|glare| in_view(&glare.look)).collect()
}

fn shines_at(item: &RigItem, light: &Light, eye: Point) -> bool {
    let in_hand = light.own_cells && light.arc == LightArc::Deck;
    if light.shaded || in_hand {
        return false;
    }
    let at = bearing(centre(item, light).spot(), eye.spot());
    light.lanterns().filter(|lantern| lantern.colour != Colour::Amber).any(|lantern| match lantern.arc {
        LightArc::Sector(from, to) => Sector::between(from, to).turned(item.turn).contains(at),
        LightArc::AllRound | LightArc::Deck => true,
    })
}
