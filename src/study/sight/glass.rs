//! The glass of a screen: where it faces, the points on it, the size of its letters, what it mirrors.
//!
//! Unturned and upright it faces aft, to the seat; its mount's turn turns it and it tilts back about its middle.

use crate::geometry::{Point, Spot, turned};

/// How far a screen tilts back from upright where its spec does not say, degrees: a bail or a ball. Common
/// practice, no source.
pub const TILTS_DEG: f64 = 30.0;

/// Width and height of the glass as shares of its diagonal: 16 to 9, assumption.
const SIXTEEN_TO_NINE: (f64, f64) = (16.0 / 18.357_559_750_685_82, 9.0 / 18.357_559_750_685_82);

/// Heights of the smallest letters that fill the height of the glass, where the spec does not say. Assumption:
/// measure them on the screen with its own settings.
const LETTERS_HIGH: f64 = 25.0;

/// Points of the net across the glass and up it, the corners and the middle among them.
pub(super) const NET: (usize, usize) = (9, 5);

/// The glass of a screen, boat frame, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glass {
    /// Its middle.
    pub middle: Point,
    /// Straight out of it, of length 1.
    pub out: Point,
    /// How far it is tilted back from upright, degrees.
    pub tilt_deg: f64,
    across: Point,
    up: Point,
    half_width: f64,
    half_height: f64,
}

/// The direction from which light in the middle of the glass comes to the eye.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mirrored {
    /// Over level, degrees; negative: from below, the person or the boat.
    pub up_deg: f64,
    /// From straight ahead, degrees, positive to port.
    pub bearing_deg: f64,
}

impl Glass {
    /// A glass of a diagonal, turned with its mount and tilted back as far as suits the eye and `tilts_deg` lets it.
    pub(super) fn facing(middle: Point, turn_deg: f64, diagonal: f64, tilts_deg: f64, eye: Point) -> Self {
        let ahead = turned(Spot::new(-1.0, 0.0), turn_deg);
        let to_eye = eye - middle;
        let before = to_eye.x * ahead.x + to_eye.y * ahead.y;
        let wanted = if before > 0.0 { to_eye.z.atan2(before).to_degrees() } else { 0.0 };
        let tilt_deg = wanted.clamp(0.0, tilts_deg.max(0.0));
        let (sin, cos) = tilt_deg.to_radians().sin_cos();
        Self {
            middle,
            out: Point::new(cos * ahead.x, cos * ahead.y, sin),
            tilt_deg,
            across: turned(Spot::new(0.0, 1.0), turn_deg).at(0.0),
            up: Point::new(-sin * ahead.x, -sin * ahead.y, cos),
            half_width: diagonal * SIXTEEN_TO_NINE.0 / 2.0,
            half_height: diagonal * SIXTEEN_TO_NINE.1 / 2.0,
        }
    }

    /// Its four corners: going round.
    pub fn corners(&self) -> [Point; 4] {
        [(1.0, 1.0), (1.0, -1.0), (-1.0, -1.0), (-1.0, 1.0)].map(|(across, up)| self.point(across, up))
    }

    /// The net of points on it.
    pub(super) fn points(&self) -> Vec<Point> {
        let share = |index: usize, count: usize| 2.0 * index as f64 / (count - 1) as f64 - 1.0;
        let columns = (0..NET.0).map(|column| share(column, NET.0));
        columns.flat_map(|x| (0..NET.1).map(move |row| self.point(x, share(row, NET.1)))).collect()
    }

    fn point(&self, across: f64, up: f64) -> Point {
        let (across, up) = (across * self.half_width, up * self.half_height);
        let along = |axis: fn(Point) -> f64| across * axis(self.across) + up * axis(self.up);
        self.middle + Point::new(along(|p| p.x), along(|p| p.y), along(|p| p.z))
    }

    /// Height of its letters where the spec does not say, mm.
    pub(super) fn text_mm(&self) -> f64 {
        2.0 * self.half_height / LETTERS_HIGH
    }

    /// Angle between the line from the eye to its middle and the straight way out of it, degrees.
    pub(super) fn off_normal_deg(&self, eye: Point) -> f64 {
        let to_eye = eye - self.middle;
        let share = dot(to_eye, self.out) / to_eye.length().max(1.0);
        share.clamp(-1.0, 1.0).acos().to_degrees()
    }

    /// What its middle mirrors to the eye; `None` from behind. A line `d` comes back as `d - 2 (d · n) n`.
    pub(super) fn mirrored(&self, eye: Point) -> Option<Mirrored> {
        let line = self.middle - eye;
        let into = dot(line, self.out);
        let back = Point::new(
            line.x - 2.0 * into * self.out.x,
            line.y - 2.0 * into * self.out.y,
            line.z - 2.0 * into * self.out.z,
        );
        (into < 0.0).then(|| Mirrored {
            up_deg: back.z.atan2(back.x.hypot(back.y)).to_degrees(),
            bearing_deg: back.y.atan2(back.x).to_degrees(),
        })
    }
}

fn dot(a: Point, b: Point) -> f64 {
    a.x * b.x + a.y * b.y + a.z * b.z
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use super::*;

    const EYE: Point = Point::new(0.0, 0.0, 900.0);

    fn glass(x: f64, z: f64, turn: f64, tilts: f64) -> Glass {
        Glass::facing(Point::new(x, 0.0, z), turn, 9.0 * 25.4, tilts, EYE)
    }

    #[test]
    fn it_tilts_to_the_eye_as_far_as_it_goes() {
        // 700 ahead and 700 below: the eye is 45 degrees over level.
        let free = glass(700.0, 200.0, 0.0, 60.0);
        assert!((free.tilt_deg - 45.0).abs() < 1e-9 && free.off_normal_deg(EYE) < 1e-4);
        let held = glass(700.0, 200.0, 0.0, 30.0);
        assert!((held.tilt_deg - 30.0).abs() < 1e-9 && (held.off_normal_deg(EYE) - 15.0).abs() < 1e-9);
        assert!((glass(700.0, 200.0, 0.0, 0.0).off_normal_deg(EYE) - 45.0).abs() < 1e-9);
        // Over the eye it stays upright.
        assert_eq!(glass(700.0, 1000.0, 0.0, 30.0).tilt_deg, 0.0);
    }

    #[test]
    fn turned_away_it_shows_its_side_and_its_back() {
        assert!((glass(700.0, 900.0, 60.0, 30.0).off_normal_deg(EYE) - 60.0).abs() < 1e-9);
        let back = glass(700.0, 900.0, 180.0, 30.0);
        assert!((back.off_normal_deg(EYE) - 180.0).abs() < 1e-9 && back.mirrored(EYE).is_none());
    }

    #[test]
    fn nine_inches_are_199_by_112() {
        // By hand: 228.6 mm at 16 to 9.
        let corners = glass(700.0, 900.0, 0.0, 0.0).corners();
        assert!((corners[0].distance(corners[3]) - 199.24).abs() < 0.01);
        assert!((corners[0].distance(corners[1]) - 112.07).abs() < 0.01);
        assert_eq!(glass(700.0, 900.0, 0.0, 0.0).points().len(), 45);
    }

    #[test]
    fn an_upright_glass_below_the_eye_mirrors_the_boat_and_a_tilted_one_the_sky() {
        // Upright at 45 degrees down: comes from 45 degrees below, astern.
        let upright = glass(700.0, 200.0, 0.0, 0.0).mirrored(EYE).unwrap();
        assert!((upright.up_deg + 45.0).abs() < 1e-9 && (upright.bearing_deg.abs() - 180.0).abs() < 1e-9);
        // Facing the eye it mirrors the eye; tilted back 15 degrees short of that, 30 degrees lower.
        assert!((glass(700.0, 200.0, 0.0, 60.0).mirrored(EYE).unwrap().up_deg - 45.0).abs() < 1e-9);
        assert!((glass(700.0, 200.0, 0.0, 30.0).mirrored(EYE).unwrap().up_deg - 15.0).abs() < 1e-9);
    }
}
