//! The hull's form: cross-sections from keel to gunwale, straight between points and sections.

use serde::{Deserialize, Serialize};

use super::{Polygon, Spot};

/// One cross-section of the port half, from the keel to the gunwale.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Section {
    /// Millimetres forward of the aft end.
    pub x_mm: f64,
    /// Points `(y, z)` from the keel outward and up to the gunwale, millimetres.
    pub points_mm: Vec<(f64, f64)>,
}

/// The form of a hull: sections in order from aft to forward.
///
/// Between two sections and between two points everything is straight. Outside the first and last
/// section there is no hull.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Form {
    /// The sections, x increasing.
    pub sections: Vec<Section>,
}

impl Section {
    /// Half-breadth and height of the gunwale, mm. Zero for an empty section.
    pub fn gunwale(&self) -> (f64, f64) {
        self.points_mm.last().copied().unwrap_or_default()
    }

    /// Height of the lowest point, mm: the keel, or what stands for it beside a tunnel. Zero for an empty section.
    pub fn keel(&self) -> f64 {
        self.points_mm.iter().map(|p| p.1).min_by(f64::total_cmp).unwrap_or_default()
    }

    /// Height of the hull's outside at a distance from the centreline, mm; `None` beyond the beam.
    fn bottom(&self, y: f64) -> Option<f64> {
        let y = y.abs();
        self.points_mm.windows(2).find_map(|pair| {
            let ((y0, z0), (y1, z1)) = (pair[0], pair[1]);
            let inside = y >= y0.min(y1) && y <= y0.max(y1);
            inside.then(|| if y1 == y0 { z0.min(z1) } else { z0 + (z1 - z0) * (y - y0) / (y1 - y0) })
        })
    }

    /// Greatest half-breadth at a height, mm; `None` below the keel.
    fn half_breadth(&self, z: f64) -> Option<f64> {
        let crossing = |pair: &[(f64, f64)]| {
            let ((y0, z0), (y1, z1)) = (pair[0], pair[1]);
            let inside = z >= z0.min(z1) && z <= z0.max(z1);
            inside.then(|| if z1 == z0 { y0.max(y1) } else { y0 + (y1 - y0) * (z - z0) / (z1 - z0) })
        };
        self.points_mm.windows(2).filter_map(crossing).max_by(f64::total_cmp)
    }

    /// Half-breadth that lies inside from a height all the way up to the gunwale, mm; zero for a height under the
    /// bottom or a tunnel's roof.
    pub fn room_over(&self, z: f64) -> f64 {
        let lowest = (0..self.points_mm.len()).min_by(|a, b| self.points_mm[*a].1.total_cmp(&self.points_mm[*b].1));
        let (bottom, side) = self.points_mm.split_at(lowest.unwrap_or(0));
        if bottom.iter().any(|point| point.1 > z) {
            return 0.0;
        }
        let over = side.iter().filter(|point| point.1 > z).map(|point| point.0);
        over.fold(self.half_breadth(z).unwrap_or(0.0), f64::min)
    }
}

impl Form {
    /// Length from the first to the last section, mm.
    pub fn length(&self) -> f64 {
        match (self.sections.first(), self.sections.last()) {
            (Some(first), Some(last)) => last.x_mm - first.x_mm,
            _ => 0.0,
        }
    }

    /// Greatest half-breadth of the deck edge, mm.
    pub fn half_beam(&self) -> f64 {
        self.sections.iter().map(|s| s.gunwale().0).fold(0.0, f64::max)
    }

    /// Half-breadth and height of the gunwale at a station, mm.
    pub fn gunwale(&self, x: f64) -> Option<(f64, f64)> {
        let (aft, fore, t) = self.around(x)?;
        let ((y0, z0), (y1, z1)) = (aft.gunwale(), fore.gunwale());
        Some((y0 + (y1 - y0) * t, z0 + (z1 - z0) * t))
    }

    /// Height of the keel line at a station, mm.
    pub fn keel(&self, x: f64) -> Option<f64> {
        let (aft, fore, t) = self.around(x)?;
        Some(aft.keel() + (fore.keel() - aft.keel()) * t)
    }

    /// Height of the hull's outside under a spot, mm; `None` off the hull.
    pub fn bottom(&self, spot: Spot) -> Option<f64> {
        let (aft, fore, t) = self.around(spot.x)?;
        let (edge, rim) = self.gunwale(spot.x)?;
        if spot.y.abs() > edge {
            return None;
        }
        // Ends narrower than the spot count at their gunwale: the skin rises to the rim there.
        let z0 = aft.bottom(spot.y).unwrap_or(aft.gunwale().1);
        let z1 = fore.bottom(spot.y).unwrap_or(fore.gunwale().1);
        Some((z0 + (z1 - z0) * t).min(rim))
    }

    /// Half-breadth at a station and height, mm; `None` where there is no hull.
    pub fn half_breadth(&self, x: f64, z: f64) -> Option<f64> {
        let (aft, fore, t) = self.around(x)?;
        match (aft.half_breadth(z), fore.half_breadth(z)) {
            (Some(a), Some(b)) => Some(a + (b - a) * t),
            (Some(a), None) => Some(a * (1.0 - t)),
            (None, Some(b)) => Some(b * t),
            (None, None) => None,
        }
    }

    /// The outside of the port half at a station, `(y, z)` from the middle outward to the gunwale, mm; empty where there
    /// is no hull. Points of two sections that have as many are joined one by one, as the body that floats is.
    pub fn skin(&self, x: f64) -> Vec<(f64, f64)> {
        let (Some((aft, fore, t)), Some((edge, rim))) = (self.around(x), self.gunwale(x)) else { return Vec::new() };
        if aft.points_mm.len() == fore.points_mm.len() {
            let between = |((y0, z0), (y1, z1)): (&(f64, f64), &(f64, f64))| (y0 + (y1 - y0) * t, z0 + (z1 - z0) * t);
            return aft.points_mm.iter().zip(&fore.points_mm).map(between).collect();
        }
        let mut bends: Vec<f64> = aft.points_mm.iter().chain(&fore.points_mm).map(|point| point.0).collect();
        bends.retain(|y| *y < edge);
        bends.sort_by(f64::total_cmp);
        bends.dedup();
        let heights = bends.into_iter().filter_map(|y| Some((y, self.bottom(Spot::new(x, y))?)));
        heights.chain([(edge, rim)]).collect()
    }

    /// The deck's edge from above: port side from aft to bow, back along starboard.
    pub fn deck_outline(&self) -> Polygon {
        let port = self.sections.iter().map(|s| Spot::new(s.x_mm, s.gunwale().0));
        let starboard = self.sections.iter().rev().map(|s| Spot::new(s.x_mm, -s.gunwale().0));
        Polygon::new(port.chain(starboard).collect())
    }

    /// The sections on both sides of a station and how far between them it lies, 0 to 1.
    fn around(&self, x: f64) -> Option<(&Section, &Section, f64)> {
        self.sections.windows(2).find_map(|pair| {
            let (aft, fore) = (&pair[0], &pair[1]);
            let gap = fore.x_mm - aft.x_mm;
            (x >= aft.x_mm && x <= fore.x_mm && gap > 0.0).then(|| (aft, fore, (x - aft.x_mm) / gap))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A trough: flat bottom 400 wide at the keel, sides rising to 800 wide at 300 mm.
    fn trough() -> Form {
        let points_mm = vec![(0.0, 0.0), (200.0, 0.0), (400.0, 300.0)];
        let at = |x_mm| Section { x_mm, points_mm: points_mm.clone() };
        Form { sections: vec![at(0.0), at(3000.0)] }
    }

    #[test]
    fn heights_and_breadths_follow_the_section() {
        let form = trough();
        assert_eq!(form.bottom(Spot::new(1500.0, 100.0)), Some(0.0));
        assert_eq!(form.bottom(Spot::new(1500.0, -300.0)), Some(150.0));
        assert_eq!(form.bottom(Spot::new(1500.0, 401.0)), None);
        assert_eq!(form.half_breadth(1500.0, 150.0), Some(300.0));
        assert_eq!(form.gunwale(1500.0), Some((400.0, 300.0)));
        assert_eq!((form.length(), form.half_beam()), (3000.0, 400.0));
    }

    #[test]
    fn room_over_a_height_ends_at_the_narrowest_place_above() {
        let check = |points: &[(f64, f64)], z: f64, room: f64| {
            assert_eq!(Section { x_mm: 0.0, points_mm: points.to_vec() }.room_over(z), room);
        };
        let flared = [(0.0, 0.0), (200.0, 0.0), (400.0, 300.0)];
        check(&flared, 0.0, 200.0);
        check(&flared, 150.0, 300.0);
        check(&flared, -1.0, 0.0);
        check(&flared, 301.0, 0.0);
        let tumbled = [(0.0, 0.0), (400.0, 100.0), (300.0, 300.0)];
        check(&tumbled, 50.0, 200.0);
        check(&tumbled, 90.0, 300.0);
        let tunnel = [(0.0, 60.0), (100.0, 60.0), (150.0, 0.0), (400.0, 300.0)];
        check(&tunnel, 59.0, 0.0);
        check(&tunnel, 60.0, 200.0);
        check(&[], 0.0, 0.0);
    }

    #[test]
    fn the_skin_runs_straight_from_section_to_section() {
        let mut form = trough();
        form.sections[1].points_mm = vec![(0.0, 100.0), (100.0, 100.0), (200.0, 400.0)];
        assert_eq!(form.skin(1500.0), [(0.0, 50.0), (150.0, 50.0), (300.0, 350.0)]);
        // With another count of points each bend of either section is one.
        form.sections[1].points_mm = vec![(0.0, 0.0), (400.0, 300.0)];
        assert_eq!(form.skin(1500.0), [(0.0, 0.0), (200.0, 75.0), (400.0, 300.0)]);
        assert!(form.skin(-1.0).is_empty() && Form::default().skin(0.0).is_empty());
    }

    #[test]
    fn there_is_no_hull_beyond_its_ends() {
        assert_eq!(trough().gunwale(-1.0), None);
        assert_eq!(trough().gunwale(3001.0), None);
        assert_eq!(Form::default().gunwale(0.0), None);
    }

    #[test]
    fn the_deck_outline_is_symmetric() {
        let outline = trough().deck_outline();
        assert_eq!(outline.area(), 3000.0 * 800.0);
        assert!(outline.contains(Spot::new(10.0, -390.0)));
    }
}
