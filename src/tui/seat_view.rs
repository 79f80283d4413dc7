//! The boat from behind the eyes: across are bearings, upward elevations, both in degrees and to one scale.
//!
//! Port is at the left. Straight edges far from the middle bend, as they do in the eye's own field. Things are
//! painted from far to near, each by the outline of its corners; what lies behind the shoulders is left out.

use ratatui::layout::Rect;

use super::canvas::Canvas;
use super::cells::Brush;
use super::deck::solid;
use super::glyphs::Glyph;
use super::scene::family;
use super::theme::Role;
use super::view::Window;
use crate::geometry::{Point, Polygon, Solid, Spot, turned};
use crate::plan::{GearId, Level, Plan, Posture};
use crate::study::Study;
use crate::study::sight::{BRIM_UP_DEG, Eye, Look, Seen, knees};

/// Lowest and highest elevation that is always in the picture, degrees over level: sitting, and standing over the
/// boat.
const SITTING_DEG: (f64, f64) = (-62.0, 30.0);
const STANDING_DEG: (f64, f64) = (-88.0, 4.0);
/// Bearings that are always in the picture, degrees to either side.
const ASIDE_DEG: f64 = 72.0;
/// What is further to the side than this is behind the shoulders, degrees.
const BEHIND_DEG: f64 = 130.0;
/// Pieces into which an edge is cut, so that it bends as it should.
const PIECES: u32 = 8;

/// What is drawn.
#[derive(Clone, Copy)]
pub struct SeatPicture<'a> {
    /// What the person decided.
    pub plan: &'a Plan,
    /// What follows from it.
    pub study: &'a Study,
    /// From where.
    pub eye: Eye,
    /// The screen in question.
    pub chosen: Option<GearId>,
    /// Role and sign of what speaks against a screen, if something does.
    pub verdict: &'a dyn Fn(&Seen) -> Option<(Role, &'static str)>,
}

/// A shape of the picture and how far it is.
struct Shape {
    far: f64,
    polygon: Polygon,
    fill: Role,
    rim: Role,
}

impl SeatPicture<'_> {
    /// Degrees of a cell that show what always must be in the picture.
    pub fn window(area: Rect, posture: Posture) -> Window {
        let (columns, rows) = (f64::from(area.width.max(1)), f64::from(area.height.max(1)));
        let (low, high) = if posture == Posture::Standing { STANDING_DEG } else { SITTING_DEG };
        let row = ((high - low) / rows).max(4.0 * ASIDE_DEG / columns);
        let middle = Spot::new(0.0, high - rows * row / 2.0);
        Window { area, middle, mm_per_column: row / 2.0, mm_per_row: row }
    }

    /// Paints everything.
    pub fn paint(&self, canvas: &mut Canvas, brush: &Brush<'_>) {
        self.hull(canvas);
        horizon(canvas);
        let mut shapes: Vec<Shape> = self.gear().chain(self.legs()).chain(self.glasses()).collect();
        shapes.sort_by(|a, b| b.far.total_cmp(&a.far));
        for shape in shapes {
            let mask = canvas.polygon(&shape.polygon);
            solid(canvas, &mask, shape.fill, shape.rim);
        }
        brim(canvas);
        self.marks(canvas, brush);
    }

    /// Where a point stands in the picture.
    fn seen(&self, at: Point) -> Spot {
        let look = Look::from(self.eye.at, at);
        Spot::new(-look.turn_deg, -look.down_deg)
    }

    /// The deck between the gunwales ahead, and the edges of its zones.
    fn hull(&self, canvas: &mut Canvas) {
        let sections = &self.study.shape.form().sections;
        let from = self.eye.at.x + 30.0;
        let first = self.study.shape.form().gunwale(from).map(|(half, z)| (from, half, z));
        let ahead = sections.iter().filter(|section| section.x_mm > from);
        let edge: Vec<(f64, f64, f64)> = first
            .into_iter()
            .chain(ahead.map(|section| {
                let (half, z) = section.gunwale();
                (section.x_mm, half, z)
            }))
            .collect();
        let port = edge.iter().map(|(x, half, z)| Point::new(*x, *half, *z));
        let starboard = edge.iter().rev().map(|(x, half, z)| Point::new(*x, -half, *z));
        let corners: Vec<Point> = port.chain(starboard).collect();
        // The last edge runs across under the eye and bends far down.
        let mask = canvas.polygon(&Polygon::new(self.bent(&corners)));
        canvas.fill(&mask, Role::Deck);
        for zone in &self.plan.hull.zones {
            let z = zone.height.value.to_mm();
            let corners: Vec<Point> = zone.outline_mm.corners.iter().map(|corner| corner.at(z)).collect();
            let line = self.bent(&corners);
            for pair in line.windows(2).filter(|pair| pair.iter().all(|spot| is_ahead(*spot))) {
                canvas.line(pair[0], pair[1], Role::Seam);
            }
        }
        canvas.rim(&mask, Role::Hull);
    }

    /// The closed way round some points, its straight edges cut so fine that they bend as they do in the picture.
    fn bent(&self, corners: &[Point]) -> Vec<Spot> {
        let edges = corners.iter().zip(corners.iter().cycle().skip(1));
        let cut = |(a, b): (&Point, &Point)| {
            let (a, way) = (*a, *b - *a);
            let at = move |share: f64| a + Point::new(way.x * share, way.y * share, way.z * share);
            (0..PIECES).map(move |piece| self.seen(at(f64::from(piece) / f64::from(PIECES))))
        };
        edges.flat_map(cut).collect()
    }

    fn gear(&self) -> impl Iterator<Item = Shape> + '_ {
        let outside = self.study.rig.items.iter().filter(|item| item.level == Level::Deck);
        outside.flat_map(move |item| {
            let fill = self.plan.gear.get(item.index).map_or(Role::Fixing, |gear| family(gear.spec.kind));
            let alone = self.study.sight.item(item.gear).is_some_and(|seen| seen.glass.is_none());
            let rim = if alone && self.chosen == Some(item.gear) { Role::Selected } else { Role::GearRim };
            item.solids.iter().filter_map(move |body| self.shape(body, fill, rim))
        })
    }

    fn legs(&self) -> impl Iterator<Item = Shape> + '_ {
        let sits = self.eye.posture != Posture::Standing;
        let knees = knees(&self.study.reach.body).filter(move |_| sits);
        knees.filter_map(|knee| self.shape(&knee, Role::Person, Role::Rim))
    }

    /// The glasses, a hair nearer than the cases they lie on.
    fn glasses(&self) -> impl Iterator<Item = Shape> + '_ {
        self.study.sight.items.iter().filter_map(|seen| {
            let glass = seen.glass?;
            let before = Look::from(self.eye.at, glass.middle).distance_mm - 60.0;
            let towards = self.eye.at - glass.middle;
            let shows = towards.x * glass.out.x + towards.y * glass.out.y + towards.z * glass.out.z > 0.0;
            let polygon = Polygon::new(self.bent(&glass.corners()));
            let rim = match (self.verdict)(seen) {
                Some((role, _)) => role,
                None if self.chosen == Some(seen.gear) => Role::Selected,
                None => Role::Face,
            };
            let ahead = polygon.corners.iter().all(|spot| is_ahead(*spot));
            (shows && ahead).then_some(Shape { far: before, polygon, fill: Role::Face, rim })
        })
    }

    /// The outline of a body as it is seen; `None` behind the shoulders and where the eye is in it.
    fn shape(&self, body: &Solid, fill: Role, rim: Role) -> Option<Shape> {
        let sides = body.outline.polygon().corners;
        let ring = |z: f64| {
            let corners: Vec<Point> = sides.iter().map(|corner| corner.at(z)).collect();
            self.bent(&corners)
        };
        let spots: Vec<Spot> = ring(body.low).into_iter().chain(ring(body.high)).collect();
        if !spots.iter().all(|spot| is_ahead(*spot)) || body.distance_to(self.eye.at) < 1.0 {
            return None;
        }
        let far = body.distance_to(self.eye.at);
        Some(Shape { far, polygon: Polygon::new(around(spots)), fill, rim })
    }

    /// Lights, names of screens with what speaks against them, and words for the two lines.
    fn marks(&self, canvas: &mut Canvas, brush: &Brush<'_>) {
        for item in &self.study.rig.items {
            let Some(gear) = self.plan.gear.get(item.index) else { continue };
            let Some(light) = gear.spec.light.filter(|_| item.level == Level::Deck) else { continue };
            let flat = turned(light.centre_mm.spot(), item.turn);
            let at = self.seen(item.at + flat.at(light.centre_mm.z));
            if is_ahead(at) {
                canvas.mark(at, brush.glyphs.of(Glyph::Lamp), Role::Text, true);
            }
        }
        for seen in &self.study.sight.items {
            let Some(gear) = self.plan.gear(seen.gear) else { continue };
            let at = self.seen(seen.at);
            if !is_ahead(at) {
                continue;
            }
            let tag = gear.spec.tag.as_str();
            let verdict = (self.verdict)(seen);
            let words = verdict.map_or_else(|| tag.to_string(), |(_, sign)| format!("{sign}{tag}"));
            let role = verdict.map_or(Role::Text, |(role, _)| role);
            let (column, row) = canvas.window().place(at);
            let start = (column - words.len() as f64 / 2.0).round() as i64;
            canvas.text(start, row.floor() as i64, &words, role, true);
        }
        for (elevation, words) in [(0.0, "horizon"), (BRIM_UP_DEG, "brim of a hat")] {
            let row = canvas.window().place(Spot::new(0.0, elevation)).1.floor() as i64;
            let start = i64::from(canvas.area().width) - words.len() as i64;
            canvas.text(start, row, words, Role::Dim, false);
        }
    }
}

/// The level of the eye where nothing is before it.
fn horizon(canvas: &mut Canvas) {
    // From the middle of one pixel to that of another: on their edges rounding would break the line.
    let row = canvas.pixel(Spot::default()).1.floor() as i64;
    let ends = [0, canvas.columns() as i64 - 1].map(|column| canvas.spot(column, row));
    canvas.line(ends[0], ends[1], Role::Waterline);
}

/// The edge of a hat's brim as dashes.
fn brim(canvas: &mut Canvas) {
    for column in (0..canvas.columns()).step_by(6) {
        let x = canvas.x_of(column);
        canvas.line(Spot::new(x, BRIM_UP_DEG), Spot::new(x, BRIM_UP_DEG), Role::Seam);
    }
}

/// Whether a spot is not behind the shoulders.
fn is_ahead(spot: Spot) -> bool {
    spot.x.abs() < BEHIND_DEG
}

/// The convex outline around some spots: Andrew's monotone chain.
fn around(mut spots: Vec<Spot>) -> Vec<Spot> {
    spots.retain(|spot| spot.is_finite());
    spots.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let half = |spots: &mut dyn Iterator<Item = Spot>| {
        let mut chain: Vec<Spot> = Vec::new();
        for spot in spots {
            while let [.., a, b] = chain.as_slice() {
                let (one, other) = (*b - *a, spot - *b);
                if one.x * other.y - one.y * other.x > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(spot);
        }
        chain.pop();
        chain
    };
    let mut outline = half(&mut spots.iter().copied());
    outline.extend(half(&mut spots.iter().rev().copied()));
    outline
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_outline_around_spots_leaves_out_what_is_inside() {
        let spots = [(0.0, 0.0), (2.0, 0.0), (1.0, 0.5), (2.0, 2.0), (0.0, 2.0), (1.0, 0.0)];
        let outline = around(spots.map(Spot::from).to_vec());
        assert_eq!(outline, [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)].map(Spot::from));
    }

    #[test]
    fn every_size_shows_what_must_be_in_it_to_one_scale() {
        for (posture, (low, high)) in [(Posture::SeatedLow, SITTING_DEG), (Posture::Standing, STANDING_DEG)] {
            for (columns, rows) in [(70, 12), (110, 26), (190, 40), (1, 1)] {
                let window = SeatPicture::window(Rect::new(0, 0, columns, rows), posture);
                assert_eq!(window.mm_per_row, 2.0 * window.mm_per_column);
                for (x, y) in [(-ASIDE_DEG, low), (ASIDE_DEG, high)] {
                    let (column, row) = window.place(Spot::new(x, y));
                    assert!((-1e-9..=f64::from(columns) + 1e-9).contains(&column), "{columns}: {column}");
                    assert!((-1e-9..=f64::from(rows) + 1e-9).contains(&row), "{rows}: {row}");
                }
            }
        }
    }
}
