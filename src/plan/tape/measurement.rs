//! Names for what a tape measures, so that a form, a doubt and the door speak of the same thing.

use super::{Bottom, Gauge, Tape};

/// One thing to measure. Stations, wells and features go by their place in the tape's lists.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measurement {
    /// Overall length.
    Length,
    /// Greatest width of a station.
    Width(usize),
    /// Height of a station's greatest width.
    WidthHeight(usize),
    /// Width of a station's flat bottom.
    BottomWidth(usize),
    /// Height of a station's gunwale.
    Gunwale(usize),
    /// Rise of the keel at a station.
    Keel(usize),
    /// Width of the tunnel, or of one pontoon.
    BottomPart,
    /// Height of the tunnel, or of the skin between the pontoons.
    BottomHeight,
    /// Depth of a well.
    Well(usize),
    /// A feature's place along the boat.
    FeatureX(usize),
    /// A feature's place across it.
    FeatureY(usize),
}

impl Measurement {
    /// The five of a station, in the order they are taken.
    pub fn of_station(number: usize) -> [Self; 5] {
        [
            Self::Width(number),
            Self::WidthHeight(number),
            Self::BottomWidth(number),
            Self::Gunwale(number),
            Self::Keel(number),
        ]
    }

    /// What is measured: `greatest width`. The place is not said, see [`Tape::named`].
    pub fn label(self) -> &'static str {
        match self {
            Self::Length => "overall length",
            Self::Width(_) => "greatest width",
            Self::WidthHeight(_) => "height of the greatest width",
            Self::BottomWidth(_) => "width of the flat bottom",
            Self::Gunwale(_) => "height of the gunwale",
            Self::Keel(_) => "rise of the keel",
            Self::BottomPart => "width of the tunnel or pontoon",
            Self::BottomHeight => "height of the tunnel",
            Self::Well(_) => "depth of the well",
            Self::FeatureX(_) => "place along the boat",
            Self::FeatureY(_) => "place across the boat",
        }
    }

    /// The field of the file.
    fn field(self) -> &'static str {
        match self {
            Self::Length => "length",
            Self::Width(_) | Self::BottomPart => "width",
            Self::WidthHeight(_) => "width_height",
            Self::BottomWidth(_) => "bottom_width",
            Self::Gunwale(_) => "gunwale",
            Self::Keel(_) => "keel",
            Self::BottomHeight => "height",
            Self::Well(_) => "depth",
            Self::FeatureX(_) => "x",
            Self::FeatureY(_) => "y",
        }
    }

    /// The station it belongs to.
    pub fn station(self) -> Option<usize> {
        match self {
            Self::Width(n) | Self::WidthHeight(n) | Self::BottomWidth(n) | Self::Gunwale(n) | Self::Keel(n) => Some(n),
            _ => None,
        }
    }
}

impl Tape {
    /// Everything this tape measures, in the order it is taken.
    pub fn measurements(&self) -> Vec<Measurement> {
        let mut all = vec![Measurement::Length];
        all.extend((0..self.stations.len()).flat_map(Measurement::of_station));
        if !self.bottom.is_flat() {
            all.extend([Measurement::BottomPart, Measurement::BottomHeight]);
        }
        all.extend((0..self.wells.len()).map(Measurement::Well));
        all.extend((0..self.features.len()).flat_map(|n| [Measurement::FeatureX(n), Measurement::FeatureY(n)]));
        all
    }

    /// The readings and the guess of a measurement; `None` when the tape has no such part.
    pub fn gauge(&self, what: Measurement) -> Option<&Gauge> {
        use Measurement::*;
        match what {
            Length => Some(&self.length),
            Width(n) => self.stations.get(n).map(|s| &s.width),
            WidthHeight(n) => self.stations.get(n).map(|s| &s.width_height),
            BottomWidth(n) => self.stations.get(n).map(|s| &s.bottom_width),
            Gunwale(n) => self.stations.get(n).map(|s| &s.gunwale),
            Keel(n) => self.stations.get(n).map(|s| &s.keel),
            BottomPart | BottomHeight => match &self.bottom {
                Bottom::Flat => None,
                Bottom::Tunnel { width, height } | Bottom::Pontoons { width, height } => {
                    Some(if what == BottomPart { width } else { height })
                }
            },
            Well(n) => self.wells.get(n).map(|w| &w.depth),
            FeatureX(n) => self.features.get(n).map(|f| &f.x),
            FeatureY(n) => self.features.get(n).map(|f| &f.y),
        }
    }

    /// The same, to change.
    pub fn gauge_mut(&mut self, what: Measurement) -> Option<&mut Gauge> {
        use Measurement::*;
        match what {
            Length => Some(&mut self.length),
            Width(n) => self.stations.get_mut(n).map(|s| &mut s.width),
            WidthHeight(n) => self.stations.get_mut(n).map(|s| &mut s.width_height),
            BottomWidth(n) => self.stations.get_mut(n).map(|s| &mut s.bottom_width),
            Gunwale(n) => self.stations.get_mut(n).map(|s| &mut s.gunwale),
            Keel(n) => self.stations.get_mut(n).map(|s| &mut s.keel),
            BottomPart | BottomHeight => match &mut self.bottom {
                Bottom::Flat => None,
                Bottom::Tunnel { width, height } | Bottom::Pontoons { width, height } => {
                    Some(if what == BottomPart { width } else { height })
                }
            },
            Well(n) => self.wells.get_mut(n).map(|w| &mut w.depth),
            FeatureX(n) => self.features.get_mut(n).map(|f| &mut f.x),
            FeatureY(n) => self.features.get_mut(n).map(|f| &mut f.y),
        }
    }

    /// A measurement with its place, as in the file: `station 2, width`, `well of zone 13, depth`.
    pub fn named(&self, what: Measurement) -> String {
        use Measurement::*;
        let owner = match what {
            Length => return "length".into(),
            BottomPart | BottomHeight => "bottom".into(),
            Well(n) => self.wells.get(n).map_or_else(|| "well".into(), |w| format!("well of {}", w.zone)),
            FeatureX(n) | FeatureY(n) => {
                self.features.get(n).map_or_else(|| "feature".into(), |f| format!("place of {}", f.feature))
            }
            Width(n) | WidthHeight(n) | BottomWidth(n) | Gunwale(n) | Keel(n) => format!("station {}", n + 1),
        };
        format!("{owner}, {}", what.field())
    }
}
