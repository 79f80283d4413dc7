//! Points, outlines and solids in the boat frame.
//!
//! ```text
//!                 port (+y)
//!        ______________________________
//!  aft  /                              \  bow
//!  end |   x = 0 at the aft end         >   x forward
//!       \______________________________/
//!                 starboard (-y)
//!
//!        z up, zero at the keel baseline (lowest hull line)
//! ```
//!
//! Origin: aft end of the hull, on the centreline, at the keel baseline; x forward, y to port,
//! z up (right-handed). Heel is positive to starboard, trim positive bow down. All coordinates in
//! this module are millimetres, all angles degrees; a turn is counter-clockwise seen from above.

mod body;
mod lines;
mod outline;
mod point;
mod polygon;
mod ray;
mod section;
mod solid;
mod strips;
mod waterline;

pub use body::{Body, BodyError, Cut, Cutter, Recess, WaterPlane};
pub use lines::{LineBottom, LineStation, Lines};
pub use outline::Outline;
pub use point::{Point, Spot, turned};
pub use polygon::Polygon;
pub use section::{Form, Section};
pub use solid::{Contact, Solid};
pub use strips::{Strip, strips};
