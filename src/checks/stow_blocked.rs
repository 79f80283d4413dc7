//! `stow-blocked`: gear in the way of what is turned, tilted, lifted out or wheeled.

use super::blocked::blocked;
use super::{Case, Check, Finding};
use crate::study::clearance::Motion;

/// The check.
pub const CHECK: Check = Check { id: "stow-blocked", title: "something cannot be turned or stowed", doc: DOC, run };

const DOC: &str = "\
What it checks
Gear where a motor turns to steer, with its handle; where its shaft tilts out of the water and its head
comes down, handle folded; where a pedal drive or pod is lifted out of its well; in or under the scuppers that
the posts of a cart need, if the plan has a cart; and gear lower than the lowest line of the hull, motors and
sonar heads apart.

Why it matters
A motor that cannot tilt hits the beach first. A drive that cannot be lifted leaves its well full of weed
or rock. What hangs below the hull is torn off by the trailer.

Limit and source
60 deg of turn to each side (`stow-blocked.turn`); 500 mm of lift with 50 mm round the well
(`stow-blocked.lift`); 10 mm round a cart's post, in the pair of scuppers nearest to 0.40 of the length
(`stow-blocked.post`). Motor and drive are a stop, cart and transport a caution. Common practice, no
source.

What to do
Move it out of the sweep, or have it come off in one move before the motor or the drive is raised. Tilt,
turn and lift once by hand on land with everything aboard.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    let mut of = |motion: Motion, what: &str, else_do: &str| {
        let says = |label: &str, depth: f64| format!("{label} stands {depth:.0} mm in {what}");
        blocked(case, found, CHECK.id, motion, |_, label, depth| says(label, depth), else_do);
    };
    of(Motion::MotorTurn, "the motor's way when it turns", "steer over a smaller angle");
    of(Motion::MotorStow, "the motor's way when it tilts", "take it off before the motor is raised");
    of(Motion::DriveLift, "the way of the drive out of its well", "take it off before the drive is lifted");
    of(Motion::CartPosts, "the scuppers that the cart's posts need", "use another pair of scuppers or a strapped cart");
    of(Motion::Underside, "the way of trailer and beach, under the hull", "take it off for transport");
}
