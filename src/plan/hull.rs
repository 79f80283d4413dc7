//! The bare boat: form, zones, features, seat rails, rating.

use serde::{Deserialize, Serialize};

use super::{FeatureId, HullForm, Key, Name, Note, ZoneId};
use crate::geometry::{Point, Polygon, Spot};
use crate::units::{Figure, Length, Mass};

/// The bare boat.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hull {
    /// The hull class it was started from.
    pub class: Key,
    /// What the person calls it.
    pub name: Name,
    /// Overall length.
    pub length: Figure<Length>,
    /// Greatest width.
    pub beam: Figure<Length>,
    /// Sections from keel to gunwale, as given or lofted from a tape.
    pub form: HullForm,
    /// Mass of the bare hull with its seat.
    pub mass: Figure<Mass>,
    /// Centre of that mass, mm.
    pub centre_mm: Point,
    /// The maker's greatest load: person, gear, motor and battery together.
    pub rating: Figure<Mass>,
    /// Height of the loaded waterline over the keel baseline, as stated or marked.
    pub waterline: Figure<Length>,
    /// The seat's rails.
    pub seat: SeatRails,
    /// The crank or stirrups, if the boat is pedalled.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pedals: Option<Pedals>,
    /// Named areas of the deck; where two overlap, the later one is on top.
    pub zones: Vec<Zone>,
    /// What the hull has already.
    pub features: Vec<Feature>,
}

/// Where the seat can be set.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SeatRails {
    /// Aftmost place of the seat back.
    pub back_aft: Length,
    /// Foremost place of the seat back.
    pub back_fore: Length,
    /// Distance between two settings of the rail.
    pub step: Length,
    /// Height of the seat's surface over the baseline in the low setting.
    pub low: Figure<Length>,
    /// The same in the high setting, if the seat has one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub high: Option<Figure<Length>>,
    /// Width of the seat.
    pub width: Length,
    /// Length of the seat's surface, back to front edge.
    pub depth: Length,
    /// Height of the seat back over the seat's surface.
    pub back_height: Length,
}

/// The crank of a pedal drive.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pedals {
    /// Middle of the crank, mm.
    pub crank_mm: Point,
    /// Radius of the pedals' circle.
    pub radius: Length,
    /// Half the width the feet take.
    pub half_width: Length,
}

/// A named area of the deck.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Zone {
    /// Stable number.
    pub id: ZoneId,
    /// `gunwale, port`, `tank well`.
    pub name: Name,
    /// Its outline from above, mm.
    pub outline_mm: Polygon,
    /// Height of its surface over the baseline.
    pub height: Figure<Length>,
    /// How flat it is.
    #[serde(default)]
    pub curve: Curve,
    /// Thickness of the skin.
    pub wall: Figure<Length>,
    /// Clear depth behind the skin.
    pub inside: Figure<Length>,
    /// Whether it may be drilled.
    #[serde(default)]
    pub drilling: Drilling,
    /// Whether the edge of the outline is a real edge or radius that holes must keep away from.
    /// Zones that only divide a continuous surface say no.
    #[serde(default = "yes")]
    pub edge: bool,
    /// Whether the surface stands upright (a side wall): holes there meet water sooner.
    #[serde(default)]
    pub upright: bool,
}

fn yes() -> bool {
    true
}

/// How flat a zone is.
#[derive(Clone, Copy, Debug, PartialEq, Default, Serialize, Deserialize)]
pub enum Curve {
    /// Flat enough for any base.
    #[default]
    Flat,
    /// Crowned with this radius.
    Radius(Length),
}

/// Whether a zone may be drilled.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
pub enum Drilling {
    /// It may.
    #[default]
    Allowed,
    /// It may not, and this is why.
    Forbidden(Name),
}

/// Something the hull has already.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Feature {
    /// Stable number.
    pub id: FeatureId,
    /// `track, port`, `scupper, tank well aft port`.
    pub name: Name,
    /// Its middle, mm.
    pub at_mm: Point,
    /// What it is.
    pub kind: FeatureKind,
    /// Anything to know about it.
    #[serde(default, skip_serializing_if = "Note::is_empty")]
    pub notes: Note,
}

/// What a feature is, with the figures that matter for rigging.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum FeatureKind {
    /// A slotted rail along x.
    Track {
        /// Length over all.
        length: Length,
        /// Length of slot that takes a foot.
        free: Length,
    },
    /// Threaded inserts, each at an offset from the feature's middle.
    Inserts {
        /// Their thread.
        thread: Thread,
        /// Offsets from the feature's middle, mm.
        offsets_mm: Vec<Spot>,
        /// Depth of thread.
        depth: Length,
    },
    /// A drain tube through the hull; also a structural tie.
    Scupper {
        /// Bore at the deck.
        top: Length,
        /// Bore at the bottom.
        bottom: Length,
        /// Thickness of the tube's wall.
        wall: Length,
    },
    /// A lidded opening to the inside.
    Hatch {
        /// Clear opening.
        opening: Opening,
        /// Width of the sealing rim around it.
        rim: Length,
        /// Which edge the lid turns about.
        hinge: Hinge,
        /// How far a hand reaches inside from the rim.
        reach: Length,
    },
    /// A moulded entry for cables.
    WirePort {
        /// Its bore.
        bore: Length,
    },
    /// A handle with the bolts that hold it.
    Handle {
        /// Thread of the bolts.
        thread: Thread,
        /// Offsets of the bolts from the feature's middle, mm.
        bolts_mm: Vec<Spot>,
    },
    /// A block of flotation foam inside.
    Foam {
        /// Along x.
        length: Length,
        /// Across.
        width: Length,
        /// Up, from the feature's middle downward and upward by half.
        height: Length,
    },
    /// One rail of the seat track.
    SeatRail {
        /// Its length along x.
        length: Length,
        /// Its width.
        width: Length,
    },
    /// The well a pedal drive stands in.
    DriveWell {
        /// Along x.
        length: Length,
        /// Across.
        width: Length,
    },
    /// The stopper that empties the inside.
    DrainPlug {
        /// Its bore.
        bore: Length,
    },
    /// A recess under or in the hull made for a transducer.
    TransducerRecess {
        /// Along x.
        length: Length,
        /// Across.
        width: Length,
        /// Depth of the recess.
        depth: Length,
    },
    /// A moulded tube for a rod.
    RodTube {
        /// Its bore.
        bore: Length,
    },
    /// A line where the mould halves met, along x.
    Seam {
        /// Its length.
        length: Length,
    },
}

/// A clear opening.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum Opening {
    /// Round, by its bore.
    Round(Length),
    /// Rectangular or oval: along x and across.
    Rect(Length, Length),
}

/// Which edge a lid turns about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Hinge {
    /// A twist or lift-off lid.
    #[serde(rename = "LiftOff", alias = "None")]
    None,
    /// The aft edge.
    Aft,
    /// The forward edge.
    Fore,
    /// The port edge.
    Port,
    /// The starboard edge.
    Starboard,
}

/// A machine thread as met on boats.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Thread {
    /// Metric 4 mm.
    M4,
    /// Metric 5 mm.
    M5,
    /// Metric 6 mm.
    M6,
    /// Metric 8 mm.
    M8,
    /// Number 10 (24 or 32 to the inch).
    No10,
    /// A quarter inch, 20 to the inch.
    Quarter20,
}

impl Thread {
    /// As written on a parts list.
    pub fn word(self) -> &'static str {
        match self {
            Self::M4 => "M4",
            Self::M5 => "M5",
            Self::M6 => "M6",
            Self::M8 => "M8",
            Self::No10 => "#10",
            Self::Quarter20 => "1/4-20",
        }
    }
}

/// A round opening that something must pass: its bore and where it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bore {
    /// Where.
    pub at: Point,
    /// How wide, mm.
    pub bore_mm: f64,
}

impl Opening {
    /// Clear length along x and width across, mm.
    pub fn size(self) -> (f64, f64) {
        match self {
            Self::Round(bore) => (bore.to_mm(), bore.to_mm()),
            Self::Rect(length, width) => (length.to_mm(), width.to_mm()),
        }
    }
}

impl Hull {
    /// The zone under a spot: where outlines overlap, the last one listed is on top.
    pub fn zone_at(&self, spot: Spot) -> Option<&Zone> {
        self.zones.iter().rev().find(|zone| zone.outline_mm.contains(spot))
    }

    /// Height of the deck surface at a spot, mm; the gunwale's where no zone lies.
    pub fn surface(&self, spot: Spot) -> Option<f64> {
        match self.zone_at(spot) {
            Some(zone) => Some(zone.height.value.to_mm()),
            None => self.form.gunwale(spot.x).filter(|(half, _)| spot.y.abs() <= *half).map(|(_, z)| z),
        }
    }
}
