//! What a piece of gear is: its bodies, mass, currents, mounts, cables, uses. Catalogue data.

mod control;
mod electric;
mod light;

use serde::{Deserialize, Serialize};

pub use control::Control;
pub use electric::{Chemistry, Electric, Runs, Setting};
pub use light::{Colour, Lantern, Light, LightArc};

use super::{Key, Name, Note, Tag};
use crate::geometry::{Point, Spot};
use crate::units::{Angle, Figure, Length, Mass, Price};

/// One catalogue entry, and the copy of it that a plan carries.
///
/// Gear frame: origin in the middle of the mount's face, x forward, y to port, z up and away from
/// the surface it is mounted on, before any turn. Millimetres.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Spec {
    /// Key in the catalogue.
    pub key: Key,
    /// Generic name: `9-inch display`.
    pub name: Name,
    /// What sort of thing it is.
    pub kind: Kind,
    /// Letters drawn on its shape on deck.
    pub tag: Tag,
    /// The space it takes.
    pub bodies: Vec<Body>,
    /// Mass with bracket and cables.
    pub mass: Figure<Mass>,
    /// What it draws or delivers.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub electric: Option<Electric>,
    /// How it is switched; `None` when it is not known, and then nothing is said of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub control: Option<Control>,
    /// Ways to hold it, the preferred one first.
    pub mounts: Vec<Mounting>,
    /// Cables that come with it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cables: Vec<CableTail>,
    /// Whether it is touched, seen, gripped.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub handling: Option<Handling>,
    /// The light it shows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub light: Option<Light>,
    /// The full angle of the cone of sound it sends, at half power, if it is a sonar head.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub beam: Option<Figure<Angle>>,
    /// What it must stay away from.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub keep_away: Vec<KeepAway>,
    /// Length of slot it offers to other gear, if it is a track.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub track: Option<Length>,
    /// A long metal part fixed at both ends: its length between the outermost holes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub metal_span: Option<Length>,
    /// Height a lid needs above it to open, if it has one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lid: Option<Length>,
    /// Clear way through it for a hand or a part, if it is an opening (inspection port, hatch).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub access: Option<Length>,
    /// Whether it has a compass or disturbs one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub magnetic: Option<Magnetic>,
    /// What one costs, in the person's own currency.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<Price>,
    /// Anything to know about it; cautions included.
    #[serde(default, skip_serializing_if = "Note::is_empty")]
    pub notes: Note,
}

/// What sort of thing gear is; decides its drawing and which checks look at it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Kind {
    /// A screen.
    Display,
    /// A sonar head.
    Transducer,
    /// A remote processor.
    BlackBox,
    /// A heading or position sensor.
    Sensor,
    /// A radio.
    Radio,
    /// A telephone in its holder.
    Phone,
    /// A camera.
    Camera,
    /// A pole that carries a camera or a light.
    Boom,
    /// A step-down converter.
    Converter,
    /// A module that switches several circuits.
    SwitchUnit,
    /// Fuse block, breaker, bus bar.
    Protection,
    /// A battery.
    Battery,
    /// A motor.
    Motor,
    /// A navigation or deck light.
    Light,
    /// A pump; one that draws nothing is worked by hand.
    Pump,
    /// A tank of live water.
    Livewell,
    /// Anchor, stake-out pole, trolley.
    Anchor,
    /// A rod holder.
    RodHolder,
    /// A rod with its reel.
    Rod,
    /// A crate, tray or box of tackle.
    Storage,
    /// A cooler.
    Cooler,
    /// A landing net, a measuring board.
    Landing,
    /// A paddle.
    Paddle,
    /// A cart.
    Cart,
    /// A slotted rail.
    Track,
    /// A ball or other base for an arm.
    Base,
    /// A fitting through which cables pass.
    Gland,
    /// A socket in the skin.
    PowerPort,
    /// A lidded hand opening.
    InspectionPort,
    /// Pad eye, cleat, strap.
    Hardware,
    /// Flag, torch, first aid, throw line.
    Safety,
    /// Anything else.
    Other,
}

/// A body and where it sits in the gear frame.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Body {
    /// Middle of the body, mm, gear frame.
    pub middle_mm: Point,
    /// Its shape.
    pub shape: Shape,
}

/// The shape of a body; millimetres.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum Shape {
    /// Along x, along y, along z.
    Box(f64, f64, f64),
    /// An upright cylinder: diameter, height.
    Post(f64, f64),
    /// A cylinder lying along x: diameter, length.
    Bar(f64, f64),
}

impl Shape {
    /// Extent along x, y and z before any turn, mm.
    pub fn size(self) -> (f64, f64, f64) {
        match self {
            Self::Box(x, y, z) => (x, y, z),
            Self::Post(diameter, height) => (diameter, diameter, height),
            Self::Bar(diameter, length) => (length, diameter, diameter),
        }
    }
}

/// How gear is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Mount {
    /// A foot in a track's slot.
    Track,
    /// Screws into factory inserts.
    Inserts,
    /// Through bolts with nuts and backing.
    Bolts,
    /// Blind rivets.
    Rivets,
    /// Straps to something.
    Strap,
    /// A clamp.
    Clamp,
    /// Through a scupper.
    Scupper,
    /// Set into a hole of its own.
    Flush,
    /// The bolts of a handle or other part, made longer.
    Existing,
}

impl Mount {
    /// The word on the screen.
    pub fn word(self) -> &'static str {
        match self {
            Self::Track => "track",
            Self::Inserts => "inserts",
            Self::Bolts => "bolts",
            Self::Rivets => "rivets",
            Self::Strap => "strap",
            Self::Clamp => "clamp",
            Self::Scupper => "scupper",
            Self::Flush => "flush hole",
            Self::Existing => "existing bolts",
        }
    }
}

/// One way to hold a piece of gear.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mounting {
    /// How.
    pub how: Mount,
    /// Base on the surface: along x and across, mm.
    pub base_mm: (f64, f64),
    /// Holes this costs when nothing existing serves.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub holes: Vec<HoleSpec>,
    /// Depth it needs behind the skin.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub behind: Option<Length>,
    /// Thread it takes, for inserts and existing bolts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thread: Option<super::Thread>,
}

/// One hole of a mount's pattern.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HoleSpec {
    /// Its middle in the gear frame, mm.
    pub at_mm: Spot,
    /// Diameter to drill.
    pub bore: Length,
    /// What goes through.
    pub carries: Carries,
    /// What it needs behind the skin.
    #[serde(default)]
    pub back: Back,
}

/// What goes through a hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Carries {
    /// A bolt, screw or rivet.
    Fastener,
    /// One or more cables.
    Cable,
    /// The body of the part itself.
    Body,
}

/// What a hole needs behind the skin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Back {
    /// Nothing: rivet, screw, expanding nut.
    #[default]
    Blind,
    /// A nut, washer or backing plate: a hand must get there.
    Nut,
}

/// A cable that comes with a piece of gear.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CableTail {
    /// `power`, `transducer`.
    pub name: Name,
    /// What runs in it.
    pub signal: Signal,
    /// Largest diameter of its plug, collar included.
    pub plug: Length,
    /// Diameter of the cable.
    pub cable: Length,
    /// Length supplied.
    pub length: Length,
}

/// What runs in a cable.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Signal {
    /// Supply of a device.
    Power,
    /// Supply of a motor.
    MotorPower,
    /// Sonar.
    Sonar,
    /// Network, video, antenna.
    Data,
}

/// Whether gear is touched, seen or gripped, and where.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Handling {
    /// How often it is touched under way.
    pub touched: Often,
    /// Whether it must be seen from the seat.
    #[serde(default)]
    pub seen: bool,
    /// Whether it is gripped (a fingertip is not enough).
    #[serde(default)]
    pub gripped: bool,
    /// The point that is touched or looked at, mm, gear frame.
    pub control_mm: Point,
    /// Diagonal of the screen, if it is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub screen: Option<Length>,
    /// Height of the smallest letters that must be read on it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub text: Option<Figure<Length>>,
    /// How far the screen tilts back from upright on its bail or ball.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tilts: Option<Angle>,
}

/// How often something is touched under way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Often {
    /// Not under way.
    Never,
    /// A few times a day.
    Seldom,
    /// Every few minutes.
    Often,
}

/// What gear has to do with compasses.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Magnetic {
    /// It has a compass.
    Compass,
    /// It has magnets, a speaker or much iron. Motors and radios count so by their kind.
    Magnets,
}

/// A kind of gear to stay away from.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeepAway {
    /// From what.
    pub from: Kind,
    /// By how much, middle to middle.
    pub distance: Length,
}

impl Spec {
    /// The mounting of this sort, if the gear accepts it.
    pub fn mounting(&self, how: Mount) -> Option<&Mounting> {
        self.mounts.iter().find(|m| m.how == how)
    }

    /// The same thing built the other way round: every place in the gear frame on the other side. What
    /// is symmetric stays as it is.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let mut other = self.clone();
        other.bodies.iter_mut().for_each(|body| body.middle_mm = body.middle_mm.mirrored());
        let holes = other.mounts.iter_mut().flat_map(|mount| mount.holes.iter_mut());
        holes.for_each(|hole| hole.at_mm = hole.at_mm.mirrored());
        if let Some(handling) = &mut other.handling {
            handling.control_mm = handling.control_mm.mirrored();
        }
        if let Some(light) = &mut other.light {
            light.centre_mm = light.centre_mm.mirrored();
        }
        other
    }

    /// Greatest extent along x, y and z over all bodies, mm.
    pub fn size(&self) -> (f64, f64, f64) {
        let mut low = (f64::INFINITY, f64::INFINITY, f64::INFINITY);
        let mut high = (f64::NEG_INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY);
        for body in &self.bodies {
            let ((x, y, z), m) = (body.shape.size(), body.middle_mm);
            low = (low.0.min(m.x - x / 2.0), low.1.min(m.y - y / 2.0), low.2.min(m.z - z / 2.0));
            high = (high.0.max(m.x + x / 2.0), high.1.max(m.y + y / 2.0), high.2.max(m.z + z / 2.0));
        }
        if self.bodies.is_empty() { (0.0, 0.0, 0.0) } else { (high.0 - low.0, high.1 - low.1, high.2 - low.2) }
    }
}

/// The extent of a shape along an axis (0 x, 1 y, 2 z), to change.
pub(super) fn extent_mut(shape: &mut Shape, axis: u8) -> &mut f64 {
    match (shape, axis) {
        (Shape::Box(x, _, _), 0) => x,
        (Shape::Box(_, y, _), 1) => y,
        (Shape::Box(_, _, z), _) => z,
        (Shape::Post(diameter, _), 0 | 1) => diameter,
        (Shape::Post(_, height), _) => height,
        (Shape::Bar(_, length), 0) => length,
        (Shape::Bar(diameter, _), _) => diameter,
    }
}

/// The extent of a shape along an axis (0 x, 1 y, 2 z).
pub(super) fn extent(shape: &Shape, axis: u8) -> &f64 {
    match (shape, axis) {
        (Shape::Box(x, _, _), 0) => x,
        (Shape::Box(_, y, _), 1) => y,
        (Shape::Box(_, _, z), _) => z,
        (Shape::Post(diameter, _), 0 | 1) => diameter,
        (Shape::Post(_, height), _) => height,
        (Shape::Bar(_, length), 0) => length,
        (Shape::Bar(diameter, _), _) => diameter,
    }
}
