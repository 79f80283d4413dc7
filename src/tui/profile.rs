//! The boat from starboard, bow to the right, under the deck and at the same scale along x.
//!
//! Heights may be squeezed to two thirds of true scale so that a seated person and the tops of most gear
//! stay in view; what reaches higher is cut and says so. Spots here are x and z.

use std::collections::BTreeSet;

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::widgets::Widget;

use super::canvas::Canvas;
use super::cells::Brush;
use super::deck::{cables, envelopes, holes, solid};
use super::glyphs::Glyph;
use super::scene::{Scene, family};
use super::theme::Role;
use super::view::Window;
use crate::checks::Severity;
use crate::geometry::{Point, Polygon, Solid, Spot};
use crate::plan::Level;

/// How much heights may be squeezed against true scale.
const SQUEEZE: f64 = 1.5;

/// Depth shown under the keel for gear that hangs there, mm at most.
const BELOW_MM: f64 = 70.0;

/// The boat from the side, as a widget. It fills its own area, whatever area it is given.
#[derive(Clone, Copy, Debug)]
pub struct Profile<'a> {
    /// What is drawn.
    pub scene: &'a Scene<'a>,
    /// The deck's window, for the scale along x.
    pub deck: Window,
    /// The cells, four to eight rows.
    pub area: Rect,
    /// With which colours and symbols.
    pub brush: Brush<'a>,
}

impl Profile<'_> {
    /// Draws into the area, clipped to the buffer.
    pub fn draw(&self, buffer: &mut Buffer) {
        if self.area.is_empty() {
            return;
        }
        let mut canvas = Canvas::new(self.window());
        self.hull(&mut canvas);
        self.floors(&mut canvas);
        self.waterline(&mut canvas);
        self.seat(&mut canvas);
        if self.scene.overlays.envelopes {
            envelopes(&mut canvas, self.scene, |canvas, _, solid| Some(canvas.polygon(&silhouette(solid))));
        }
        self.gear(&mut canvas);
        self.scuppers(&mut canvas);
        if self.scene.overlays.holes {
            canvas.mute(|role| matches!(role, Role::Waterline));
        }
        if self.scene.overlays.cables {
            canvas.mute(|role| matches!(role, Role::Waterline | Role::Selected));
            cables(&mut canvas, self.scene, from_the_side);
        }
        holes(&mut canvas, self.scene, self.brush.glyphs, from_the_side);
        self.marks(&mut canvas);
        canvas.render(&self.brush, buffer);
    }

    /// Where x and z fall in cells.
    pub fn window(&self) -> Window {
        let scene = self.scene;
        let middle_of = |area: Rect| f64::from(area.x) + f64::from(area.width) / 2.0;
        let x = self.deck.middle.x + (middle_of(self.area) - middle_of(self.deck.area)) * self.deck.mm_per_column;
        let items = || scene.study.rig.items.iter();
        let low = items().map(|i| i.bottom()).fold(-20.0, f64::min).max(-BELOW_MM);
        let rim = scene.form().sections.iter().map(|s| s.gunwale().1).fold(200.0, f64::max);
        let high = items().map(|i| i.top()).fold(rim, f64::max).max(scene.study.reach.body.head_top.z) + 20.0;
        let rows = f64::from(self.area.height.max(1));
        let own = self.deck.mm_per_row.max(1.0);
        // Never so close that the hull itself does not fit.
        let mm_per_row = ((high - low) / rows).min(own * SQUEEZE).max(own).max((rim + 40.0 - low) / rows);
        // The baseline falls between two rows of pixels: a flat keel is one crisp line.
        let half = mm_per_row / 2.0;
        let low = (low / half).floor() * half;
        let middle = Spot::new(x, low + rows / 2.0 * mm_per_row);
        Window { area: self.area, middle, mm_per_column: self.deck.mm_per_column, mm_per_row }
    }

    /// Water, the hull below and above it, its lines, the deck's surface on the centreline.
    fn hull(&self, canvas: &mut Canvas) {
        let (hull, form) = (&self.scene.plan.hull, self.scene.form());
        let water = &self.scene.study.float.levels.rest;
        let thin = canvas.window().mm_per_row / 2.0;
        for column in 0..canvas.columns() {
            let x = canvas.x_of(column);
            let level = water.draft(x);
            let (Some(keel), Some((_, rim))) = (form.keel(x), form.gunwale(x)) else {
                continue;
            };
            let surface = hull.surface(Spot::new(x, 0.0)).unwrap_or(rim).min(rim);
            canvas.upright(column, surface, rim, Role::Raised);
            canvas.upright(column, keel, surface, Role::Shallow);
            if keel < level {
                canvas.upright(column, keel, level.min(rim), Role::Wet);
            }
            if surface < rim - thin {
                canvas.upright(column, surface - thin, surface, Role::Rim);
            }
            canvas.upright(column, rim - thin, rim, Role::Hull);
            canvas.upright(column, keel, keel + thin, Role::Hull);
        }
        for end in [form.sections.first(), form.sections.last()].into_iter().flatten() {
            let (keel, rim) = (end.keel(), end.gunwale().1);
            let inward = if end.x_mm > form.length() / 2.0 { -1.0 } else { 1.0 };
            let wide = canvas.window().mm_per_column * 0.9 * inward;
            let (low, high) = (end.x_mm.min(end.x_mm + wide), end.x_mm.max(end.x_mm + wide));
            let mask = canvas.polygon(&Polygon::rect(Spot::new(low, keel), Spot::new(high, rim)));
            canvas.fill(&mask, Role::Hull);
        }
    }

    /// Floors that drain to the water, and the water that stands on them.
    fn floors(&self, canvas: &mut Canvas) {
        let (hull, levels) = (&self.scene.plan.hull, &self.scene.study.float.levels);
        let thin = canvas.window().mm_per_row / 2.0;
        for zone in levels.floors.iter().filter_map(|floor| hull.zones.iter().find(|zone| zone.id == floor.zone)) {
            let (low, high) = zone.outline_mm.bounds();
            let floor = zone.height.value.to_mm();
            for column in 0..canvas.columns() {
                let x = canvas.x_of(column);
                if (low.x..=high.x).contains(&x) {
                    let water = levels.rest.draft(x);
                    canvas.upright(column, floor, floor.max(water), Role::Wet);
                    canvas.upright(column, floor - thin, floor, Role::Rim);
                }
            }
        }
    }

    /// The water's surface, along the hull too: it is what the picture is looked at for.
    fn waterline(&self, canvas: &mut Canvas) {
        let (form, water) = (self.scene.form(), &self.scene.study.float.levels.rest);
        let thin = canvas.window().mm_per_row / 2.0;
        for column in 0..canvas.columns() {
            let x = canvas.x_of(column);
            let level = water.draft(x);
            let hidden = form.keel(x).is_some_and(|keel| level <= keel + thin);
            if !hidden {
                canvas.upright(column, level - thin / 2.0, level + thin / 2.0, Role::Waterline);
            }
        }
    }

    /// The drains of the floors, by whether they let water in.
    fn scuppers(&self, canvas: &mut Canvas) {
        for scupper in &self.scene.study.float.levels.scuppers {
            let (glyph, role) = self.scene.scupper_look(scupper.feature);
            canvas.mark(from_the_side(scupper.at), self.brush.glyphs.of(glyph), role, false);
        }
    }

    fn seat(&self, canvas: &mut Canvas) {
        let (hull, angler) = (&self.scene.plan.hull, &self.scene.plan.angler);
        let body = &self.scene.study.reach.body;
        let back = angler.seat.back.to_mm();
        let high = matches!(angler.seat.height, crate::plan::SeatHeight::High);
        let surface = hull.seat.high.filter(|_| high).unwrap_or(hull.seat.low).value.to_mm();
        let lean = angler.seat.recline.to_deg().to_radians();
        let tall = hull.seat.back_height.to_mm();
        let foot = Spot::new(back, surface);
        let top = Spot::new(back - tall * lean.sin(), surface + tall * lean.cos());
        let thick = canvas.window().mm_per_column.max(30.0);
        let pan = canvas.polygon(&Polygon::rect(
            Spot::new(back, surface - 30.0),
            Spot::new(back + hull.seat.depth.to_mm(), surface),
        ));
        if body.grip > 0.0 {
            let at = from_the_side;
            let shoulder = at(body.shoulders[0]);
            for (a, b, wide) in [
                (at(body.hip), shoulder, 200.0),
                (at(body.hip), at(body.knee), 130.0),
                (at(body.knee), at(body.foot), 95.0),
            ] {
                let mask = canvas.polygon(&limb(a, b, wide));
                canvas.fill(&mask, Role::Person);
            }
            let crown = at(body.head_top);
            let head =
                canvas.shape(Spot::new(crown.x - 95.0, crown.y - 230.0), Spot::new(crown.x + 95.0, crown.y), |s| {
                    ((s.x - crown.x) / 95.0).powi(2) + ((s.y - crown.y + 115.0) / 115.0).powi(2) <= 1.0
                });
            canvas.fill(&head, Role::Rim);
        }
        canvas.fill(&pan, Role::Rim);
        let rest = canvas.polygon(&limb(foot, top, thick));
        canvas.fill(&rest, Role::Rim);
    }

    /// Silhouettes, the port side first: it is further away.
    fn gear(&self, canvas: &mut Canvas) {
        let mut placed: Vec<_> = self.scene.placed().collect();
        placed.sort_by(|(_, a), (_, b)| b.at.y.total_cmp(&a.at.y));
        for (gear, item) in placed {
            let (rim, fill) = (self.scene.rim(gear.id), family(gear.spec.kind));
            for body in &item.solids {
                let mask = canvas.polygon(&silhouette(body));
                match item.level {
                    Level::Deck => solid(canvas, &mask, fill, rim),
                    Level::Inside => canvas.rim(&mask, rim),
                    Level::Under => {
                        canvas.hatch(&mask, fill, 3);
                        canvas.dashes(&mask, if rim == Role::GearRim { fill } else { rim });
                    }
                }
            }
            self.beyond(canvas, item.at.x, item.top(), rim);
        }
        if let Some(ghost) = self.scene.ghost {
            for solid in &ghost.item.solids {
                let mask = canvas.polygon(&silhouette(solid));
                canvas.veil(&mask, ghost.role(), 2);
                canvas.rim(&mask, ghost.role());
            }
        }
    }

    /// Says that something goes on above the picture.
    fn beyond(&self, canvas: &mut Canvas, x: f64, top: f64, role: Role) {
        let window = *canvas.window();
        let highest = window.spot_at(0.0, 0.0).y;
        if top > highest + window.mm_per_row / 2.0 {
            canvas.mark(
                Spot::new(x, highest - window.mm_per_row / 2.0),
                self.brush.glyphs.of(Glyph::Beyond),
                role,
                false,
            );
        }
    }

    /// Stops where they are, and the station of the cursor.
    fn marks(&self, canvas: &mut Canvas) {
        let mut marked = BTreeSet::new();
        for finding in self.scene.findings.iter().filter(|f| f.severity == Severity::Stop) {
            let Some(at) = finding.at else { continue };
            if finding.subject.gear().is_none_or(|gear| marked.insert(gear)) {
                canvas.mark(from_the_side(at), self.brush.glyphs.of(Glyph::Stop), Role::Stop, true);
            }
        }
        let Some(cell) = self.scene.cursor.and_then(|c| self.deck.cell_of(c)) else { return };
        let column = i64::from(cell.x) - i64::from(self.area.x);
        // One mark, not a line: every cell of a line would be sent again with each step of the cursor.
        let row = i64::from(self.area.height) - 1;
        canvas.text(column, row, self.brush.glyphs.of(Glyph::RulerUp), Role::Cursor, false);
    }
}

impl Widget for Profile<'_> {
    fn render(self, _area: Rect, buffer: &mut Buffer) {
        self.draw(buffer);
    }
}

/// Where a point of the boat is in this picture.
fn from_the_side(point: Point) -> Spot {
    Spot::new(point.x, point.z)
}

fn silhouette(solid: &Solid) -> Polygon {
    let (low, high) = solid.outline.bounds();
    Polygon::rect(Spot::new(low.x, solid.low), Spot::new(high.x, solid.high))
}

/// A straight strip from one place to another.
fn limb(a: Spot, b: Spot, wide: f64) -> Polygon {
    let length = a.distance(b).max(1.0);
    let across = Spot::new(-(b.y - a.y) / length * wide / 2.0, (b.x - a.x) / length * wide / 2.0);
    Polygon::new(vec![a + across, b + across, b - across, a - across])
}
