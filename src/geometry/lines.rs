//! A hull's form from a handful of measurements: sections lofted through the figures of a few stations.
//!
//! ```text
//!   gunwale  |___________________________|  half the greatest width
//!            |                           |
//!            |                           |  <- height of the greatest width
//!            |                         ./
//!            |                      ._/     <- rounding: 0 straight, 1 a quarter of an ellipse, 2 square
//!      keel  |____________________./
//!            0                    half the flat bottom
//! ```
//!
//! Each figure runs fair along the boat from station to station and never overshoots (see [`fair`]); beyond the
//! first and last station it follows the shape that such hulls have at their ends (see [`ends`]).

mod ends;
mod fair;

use super::{Form, Section};
use fair::Fair;

/// The lines of a hull, millimetres. Any finite numbers will do: what contradicts is bent until it does not.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Lines {
    /// Overall length.
    pub length: f64,
    /// Stations in any order; those off the hull are left out.
    pub stations: Vec<LineStation>,
    /// 0 for a straight side from the flat bottom to the greatest width, 1 for a quarter of an ellipse, 2 for a square
    /// corner.
    pub rounding: f64,
    /// What the bottom looks like from below.
    pub bottom: LineBottom,
}

/// The figures of one station, millimetres; heights over the baseline.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct LineStation {
    /// Forward of the aft end.
    pub x: f64,
    /// Greatest width.
    pub width: f64,
    /// Height of the greatest width; above it the side stands upright.
    pub width_height: f64,
    /// Width of the flat bottom.
    pub bottom_width: f64,
    /// Height of the gunwale.
    pub gunwale: f64,
    /// Height of the lowest line.
    pub keel: f64,
}

/// What the bottom looks like from below, millimetres.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub enum LineBottom {
    /// Flat from chine to chine.
    #[default]
    Flat,
    /// One channel along the middle. Where the bottom is narrow it narrows with it.
    Tunnel {
        /// Its width.
        width: f64,
        /// Its height over the lowest line.
        height: f64,
    },
    /// Two pontoons. Where the bottom is narrow they run together.
    Pontoons {
        /// Width of the flat bottom of one.
        width: f64,
        /// Height of the skin between them over the lowest line.
        height: f64,
    },
}

/// A hull is drawn with about this many sections.
const SECTIONS: f64 = 12.0;
/// Points of the rounded chine between its two ends.
const ARC_POINTS: u8 = 5;
/// A station so near an end, as a share of the length, stands for the end.
const AT_END: f64 = 0.003;
/// A section that helps to close an end is so far from the last station, as a share of the length.
const APART: f64 = 0.012;
/// No boat is larger, mm: larger numbers are cut off.
const LARGEST_MM: f64 = 50_000.0;
/// The tunnel's width is at most this share of the flat bottom.
const TUNNEL_SHARE: f64 = 0.8;

impl Lines {
    /// The form: sections at every station, at the ends, and between them wherever they lie far apart. Without a
    /// length or a station on the hull there are none.
    pub fn form(&self) -> Form {
        let knots = self.knots();
        let (Some(first), Some(last)) = (knots.first(), knots.last()) else { return Form::default() };
        let gap = (last.x - first.x) / SECTIONS;
        let curves = Curves::through(&knots);
        let mut sections: Vec<Section> = Vec::new();
        for pair in knots.windows(2) {
            // A gap a quarter longer than wanted is left as it is.
            let parts = ((pair[1].x - pair[0].x) / gap - 0.25).ceil().max(1.0) as u32;
            let between = |part: u32| pair[0].x + (pair[1].x - pair[0].x) * f64::from(part) / f64::from(parts);
            sections.push(self.section(&pair[0]));
            sections.extend((1..parts).map(|part| self.section(&curves.at(between(part)))));
        }
        sections.push(self.section(last));
        Form { sections }
    }

    /// The figures at any place along the hull; `None` when there is no hull.
    pub fn at(&self, x: f64) -> Option<LineStation> {
        let knots = self.knots();
        (!knots.is_empty()).then(|| Curves::through(&knots).at(x).in_order())
    }

    /// Stations in order, made sound, with what closes the ends before and after them.
    fn knots(&self) -> Vec<LineStation> {
        let length = sound(self.length, 0.0);
        let mut stations: Vec<LineStation> = self.stations.iter().map(LineStation::made_sound).collect();
        stations.retain(|station| (0.0..=length).contains(&station.x));
        stations.sort_by(|a, b| a.x.total_cmp(&b.x));
        stations.dedup_by(|b, a| b.x - a.x < length * 1e-6);
        let (Some(first), Some(last)) = (stations.first(), stations.last()) else { return Vec::new() };
        if length < 1.0 {
            return Vec::new();
        }
        let closing = |beyond: &dyn Fn(f64) -> f64| -> Vec<f64> {
            let far = |share: &f64| {
                let least = if *share == 0.0 || *share == 1.0 { AT_END } else { APART };
                beyond(share * length) > least * length
            };
            ends::stations().filter(far).map(|share| share * length).collect()
        };
        let (aft, fore) = (closing(&|x| first.x - x), closing(&|x| x - last.x));
        let mut knots: Vec<LineStation> = aft.iter().map(|x| ends::beyond(first, *x, length)).collect();
        if aft.is_empty() && first.x > 0.0 {
            knots.push(LineStation { x: 0.0, ..*first });
        }
        knots.extend(&stations);
        knots.extend(fore.iter().map(|x| ends::beyond(last, *x, length)));
        if fore.is_empty() && last.x < length {
            knots.push(LineStation { x: length, ..*last });
        }
        knots
    }

    /// One section, keel to gunwale.
    fn section(&self, station: &LineStation) -> Section {
        let s = station.in_order();
        let (flat, half) = (s.bottom_width / 2.0, s.width / 2.0);
        let mut points_mm = Vec::with_capacity(10);
        match self.channel(flat, s.width_height - s.keel) {
            Some((half_channel, height)) => points_mm.extend([
                (0.0, s.keel + height),
                (half_channel, s.keel + height),
                (half_channel, s.keel),
                (flat, s.keel),
            ]),
            None => points_mm.extend([(0.0, s.keel), (flat, s.keel)]),
        }
        let round = sound(self.rounding, 0.0).min(1.0);
        let square = (sound(self.rounding, 0.0) - 1.0).clamp(0.0, 1.0);
        for step in 1..=ARC_POINTS {
            let (sin, cos) = (90.0 * f64::from(step) / f64::from(ARC_POINTS + 1)).to_radians().sin_cos();
            let straight = f64::midpoint(sin, 1.0 - cos);
            // Out along the bottom for one half of the way, up along the side for the other.
            let along = 2.0 * f64::from(step) / f64::from(ARC_POINTS + 1);
            let share = |arc: f64, corner: f64| {
                let rounded = straight + round * (arc - straight);
                rounded + square * (corner - rounded)
            };
            let (out, up) = (share(sin, along.min(1.0)), share(1.0 - cos, (along - 1.0).max(0.0)));
            points_mm.push((flat + (half - flat) * out, s.keel + (s.width_height - s.keel) * up));
        }
        points_mm.extend([(half, s.width_height), (half, s.gunwale)]);
        Section { x_mm: s.x, points_mm }
    }

    /// Half width and height of the channel between the halves of the bottom, where there is a channel; `room` is
    /// the height below the greatest width.
    fn channel(&self, flat: f64, room: f64) -> Option<(f64, f64)> {
        let (half, height, fade) = match self.bottom {
            LineBottom::Flat => return None,
            LineBottom::Tunnel { width, height } => {
                let half = sound(width, 0.0) / 2.0;
                let least = (flat * TUNNEL_SHARE).min(half);
                (least, height, if half > 0.0 { least / half } else { 0.0 })
            }
            LineBottom::Pontoons { width, height } => {
                let pontoon = sound(width, 0.0);
                let between = (flat - pontoon).max(0.0);
                (between, height, (between / (0.25 * pontoon).max(1.0)).min(1.0))
            }
        };
        Some((half, (sound(height, 0.0) * fade).min(room)))
    }
}

/// Each figure as a curve along the hull.
struct Curves {
    width: Fair,
    width_height: Fair,
    bottom_width: Fair,
    gunwale: Fair,
    keel: Fair,
}

impl Curves {
    fn through(knots: &[LineStation]) -> Self {
        let along = |figure: fn(&LineStation) -> f64| Fair::new(knots.iter().map(|knot| (knot.x, figure(knot))));
        Self {
            width: along(|s| s.width),
            width_height: along(|s| s.width_height),
            bottom_width: along(|s| s.bottom_width),
            gunwale: along(|s| s.gunwale),
            keel: along(|s| s.keel),
        }
    }

    fn at(&self, x: f64) -> LineStation {
        LineStation {
            x,
            width: self.width.at(x),
            width_height: self.width_height.at(x),
            bottom_width: self.bottom_width.at(x),
            gunwale: self.gunwale.at(x),
            keel: self.keel.at(x),
        }
    }
}

impl LineStation {
    /// With numbers that a boat may have.
    fn made_sound(&self) -> Self {
        Self {
            x: if self.x.is_nan() { -1.0 } else { self.x },
            width: sound(self.width, 0.0),
            width_height: sound(self.width_height, 0.0),
            bottom_width: sound(self.bottom_width, 0.0),
            gunwale: sound(self.gunwale, 0.0),
            keel: sound(self.keel, 0.0),
        }
        .in_order()
    }

    /// The bottom no wider than the hull, the keel under the greatest width, that under the gunwale.
    fn in_order(self) -> Self {
        let width_height = self.width_height.min(self.gunwale);
        Self {
            bottom_width: self.bottom_width.min(self.width),
            width_height,
            keel: self.keel.min(width_height),
            ..self
        }
    }
}

/// A number between `least` and the largest; `least` for one that is none.
fn sound(value: f64, least: f64) -> f64 {
    if value.is_nan() { least } else { value.clamp(least, LARGEST_MM) }
}

#[cfg(test)]
mod tests;
