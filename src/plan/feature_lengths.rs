//! The lengths that describe a feature, each with its name: one list for the door, the inspector and
//! the edit that changes one.

use super::{FeatureKind, Opening};
use crate::units::Length;

impl FeatureKind {
    /// Its lengths with their names, in a fixed order.
    pub fn lengths(&self) -> Vec<(&'static str, Length)> {
        let mut copy = self.clone();
        named(&mut copy).into_iter().map(|(name, length)| (name, *length)).collect()
    }
}

/// The length at a place in [`FeatureKind::lengths`].
pub(super) fn length(kind: &FeatureKind, number: u8) -> Option<&Length> {
    use FeatureKind::*;
    let all: Vec<&Length> = match kind {
        Track { length, free } => vec![length, free],
        Inserts { depth, .. } => vec![depth],
        Scupper { top, bottom, wall } => vec![top, bottom, wall],
        Hatch { opening: Opening::Round(bore), rim, reach, .. } => vec![bore, rim, reach],
        Hatch { opening: Opening::Rect(along, across), rim, reach, .. } => vec![along, across, rim, reach],
        WirePort { bore } | DrainPlug { bore } | RodTube { bore } => vec![bore],
        Handle { .. } => vec![],
        Foam { length, width, height } => vec![length, width, height],
        SeatRail { length, width } | DriveWell { length, width } => vec![length, width],
        TransducerRecess { length, width, depth } => vec![length, width, depth],
        Seam { length } => vec![length],
    };
    all.into_iter().nth(usize::from(number))
}

/// The same, to change.
pub(super) fn length_mut(kind: &mut FeatureKind, number: u8) -> Option<&mut Length> {
    named(kind).into_iter().nth(usize::from(number)).map(|(_, length)| length)
}

fn named(kind: &mut FeatureKind) -> Vec<(&'static str, &mut Length)> {
    use FeatureKind::*;
    match kind {
        Track { length, free } => vec![("length", length), ("free slot", free)],
        Inserts { depth, .. } => vec![("depth of thread", depth)],
        Scupper { top, bottom, wall } => {
            vec![("bore at the deck", top), ("bore at the bottom", bottom), ("tube wall", wall)]
        }
        Hatch { opening: Opening::Round(bore), rim, reach, .. } => {
            vec![("clear opening", bore), ("sealing rim", rim), ("reach inside", reach)]
        }
        Hatch { opening: Opening::Rect(along, across), rim, reach, .. } => vec![
            ("clear opening along", along),
            ("clear opening across", across),
            ("sealing rim", rim),
            ("reach inside", reach),
        ],
        WirePort { bore } | DrainPlug { bore } | RodTube { bore } => vec![("bore", bore)],
        Handle { .. } => vec![],
        Foam { length, width, height } => vec![("along", length), ("across", width), ("up", height)],
        SeatRail { length, width } | DriveWell { length, width } => vec![("along", length), ("across", width)],
        TransducerRecess { length, width, depth } => vec![("along", length), ("across", width), ("depth", depth)],
        Seam { length } => vec![("length", length)],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reading_and_changing_agree_on_every_place() {
        let mm = Length::mm;
        for mut kind in [
            FeatureKind::Track { length: mm(600.0), free: mm(560.0) },
            FeatureKind::Scupper { top: mm(38.0), bottom: mm(32.0), wall: mm(5.0) },
            FeatureKind::Foam { length: mm(500.0), width: mm(200.0), height: mm(100.0) },
        ] {
            let listed = kind.lengths();
            for (number, (_, value)) in listed.iter().enumerate() {
                assert_eq!(length(&kind, number as u8), Some(value));
                assert_eq!(length_mut(&mut kind, number as u8).map(|l| *l), Some(*value));
            }
            assert_eq!(length(&kind, listed.len() as u8), None);
        }
    }
}
