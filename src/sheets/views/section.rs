//! The boat cut across, to scale, a page for each place: hull, water, gear, holes, and where along the boat it is cut.
//!
//! One looks forward: port is left. All pages of a drawing have one scale.

use super::key::key;
use super::scale::{FOOT, HEAD, LETTERS, MARGIN, View, dimension, finite, hole, line, strip, width, words};
use super::slice::Slice;
use super::tags::{ROW, Tags, columns};
use crate::geometry::Spot;
use crate::plan::Plan;
use crate::sheets::drawing::{Drawing, Frame, Group, Mark, Page, Paper, Pen};
use crate::sheets::number::plain;
use crate::sheets::place::along;
use crate::study::Study;
use crate::study::section::{HOLE_NEAR_MM, Place};
use crate::units::Measure;

/// So many sections are drawn at most: the key shows no more of them side by side.
pub const MOST_SECTIONS: usize = 12;

/// Gear this far ahead of the cut or behind it is drawn as dashes, mm. Common practice, no source.
pub(super) const NEAR_MM: f64 = 100.0;

/// Room for dimensions beside and below the picture, mm.
const LEFT: f64 = 42.0;
const RIGHT: f64 = 30.0;
const BELOW: f64 = 16.0;
/// Height of the band with the list and the key, mm, and width of the key.
const BAND: f64 = 36.0;
const KEY: f64 = 96.0;
/// From one stroke of the hatching to the next, mm.
const HATCH: f64 = 2.5;
/// The least scale: a section larger on paper shows no more.
const LEAST_SCALE: f64 = 2.0;

/// The boat cut across at some places, from aft to bow; without any a page that says so.
pub fn section_view(plan: &Plan, study: &Study, places: &[Place], paper: Paper, tape: Measure) -> Drawing {
    let slices: Vec<Slice> = places.iter().filter_map(|place| Slice::of(plan, study, place)).collect();
    let (height, width) = paper.size_mm();
    let inner = Frame { x: MARGIN, y: MARGIN, width: width - 2.0 * MARGIN, height: height - 2.0 * MARGIN };
    let sheet = Sheet { plan, study, slices: &slices, inner, tape };
    let mut pages: Vec<Page> = (0..slices.len()).map(|index| sheet.page(index)).collect();
    if pages.is_empty() {
        let none = words((MARGIN, MARGIN + 4.0), 4.0, format!("{}, no section: the hull has no length", plan.name));
        let foot = strip(LEAST_SCALE, inner.y + inner.height - FOOT, tape, "");
        pages.push(Page { groups: vec![Group { frame: None, marks: [vec![none], foot].concat() }] });
    }
    Drawing { title: format!("Sections of {}", plan.name), paper, landscape: true, pages }
}

/// What all pages have in common.
struct Sheet<'a> {
    plan: &'a Plan,
    study: &'a Study,
    slices: &'a [Slice],
    inner: Frame,
    tape: Measure,
}

impl Sheet<'_> {
    fn page(&self, index: usize) -> Page {
        let (inner, slice) = (self.inner, &self.slices[index]);
        let area = Frame { y: inner.y + HEAD, height: inner.height - HEAD - BAND - FOOT, ..inner };
        let room = Frame { x: area.x + LEFT, width: area.width - LEFT - RIGHT, height: area.height - BELOW, ..area };
        let view = View::of(self.whole(), room, LEAST_SCALE);
        let band = area.y + area.height + 2.0;
        let list = Frame { y: band, width: inner.width - KEY, height: BAND - 2.0, ..inner };
        let at = Frame { x: inner.x + inner.width - KEY, y: band, width: KEY, height: BAND - 2.0 };
        let mut groups = vec![Group { frame: Some(area), marks: self.marks(&view, slice, area) }];
        groups.extend(columns(&slice.list(self.plan, self.tape), 2, ((BAND - 2.0) / ROW) as usize, list));
        groups.push(Group { frame: Some(at), marks: key(self.study.shape.form(), &self.cuts(), index, at) });
        groups.push(Group { frame: None, marks: self.title(index, view.scale) });
        groups.push(Group { frame: None, marks: strip(view.scale, inner.y + inner.height - FOOT, self.tape, "") });
        Page { groups: groups.into_iter().map(finite).collect() }
    }

    /// Least and greatest coordinates of all sections.
    fn whole(&self) -> (Spot, Spot) {
        let wider = |(low, high): (Spot, Spot), slice: &Slice| {
            let (from, to) = slice.whole;
            (Spot::new(low.x.min(from.x), low.y.min(from.y)), Spot::new(high.x.max(to.x), high.y.max(to.y)))
        };
        self.slices.iter().fold((Spot::default(), Spot::default()), wider)
    }

    fn cuts(&self) -> Vec<(f64, String)> {
        self.slices.iter().enumerate().map(|(index, slice)| (slice.x_mm, letter(index))).collect()
    }

    fn title(&self, index: usize, scale: f64) -> Vec<Mark> {
        let (slice, letter) = (&self.slices[index], letter(index));
        let what = if slice.what.is_empty() { String::new() } else { format!(", {}", slice.what) };
        let at = along(slice.x_mm, self.tape);
        let name = &self.plan.name;
        let head = format!("{name}, section {letter}-{letter}, {at}{what}, scale 1:{}", plain(scale));
        let (near, by) = (self.tape.length(NEAR_MM), self.tape.length(HOLE_NEAR_MM));
        let legend = format!(
            "Looking forward: port is left. Hatched: cut. Dashed: within {near} of the cut, and the water. Cross: a \
             hole within {by}. Heights are over the keel here. Print at 100 percent."
        );
        vec![words((MARGIN, MARGIN + 4.0), 4.0, head), words((MARGIN, MARGIN + 8.5), LETTERS, legend)]
    }

    fn marks(&self, view: &View, slice: &Slice, area: Frame) -> Vec<Mark> {
        let mut marks: Vec<Mark> = view.strokes(&slice.lines).collect();
        for body in &slice.cut {
            marks.extend(hatching(view.onto(body.0), view.onto(body.1)));
        }
        let at: Vec<(f64, f64)> = slice.holes.iter().map(|hole| view.onto(hole.at)).collect();
        marks.extend(at.iter().flat_map(|at| hole(*at, None)));
        let mut tags = Tags::off(at.iter().copied(), area);
        slice.gear.iter().for_each(|gear| tags.put(view.onto(gear.tag), &gear.gear.0.to_string()));
        slice.holes.iter().zip(&at).for_each(|(hole, at)| tags.put(*at, &hole.tag));
        marks.extend(tags.marks());
        let beside = |(x, y): (f64, f64)| (x + 1.0, y - 0.8);
        marks.extend(slice.words.iter().map(|(at, says)| words(beside(view.onto(*at)), 2.2, *says)));
        marks.extend(self.dimensions(view, slice));
        marks
    }

    /// Half widths below; heights over the keel at both sides: floor and gunwale left, water right.
    fn dimensions(&self, view: &View, slice: &Slice) -> Vec<Mark> {
        let (half, rim) = slice.hull.gunwale;
        let keel = slice.hull.keel;
        let below = view.onto(Spot::new(0.0, keel)).1 + 8.0;
        let mut marks = Vec::new();
        for side in [-1.0, 1.0] {
            let (edge, middle) = (view.onto(Spot::new(side * half, rim)), view.onto(Spot::new(0.0, keel)));
            marks.push(line((edge.0, edge.1 + 1.0), (edge.0, below + 1.0), Pen::Faint));
            marks.extend(dimension((middle.0, below), (edge.0, below)));
            let says = self.tape.length(half);
            let at = f64::midpoint(middle.0, edge.0) - width(&says, LETTERS) / 2.0;
            marks.push(words((at, below + LETTERS + 1.0), LETTERS, says));
        }
        let side = |x: f64| view.onto(Spot::new(x, keel)).0;
        let (left, right) = (side(slice.whole.0.x), side(slice.whole.1.x));
        marks.extend(self.height(view, (-half, rim), keel, "gunwale", left - 24.0));
        if let Some(floor) = slice.floor.filter(|floor| (rim - floor).abs() >= 1.0) {
            marks.extend(self.height(view, (0.0, floor), keel, "deck", left - 6.0));
        }
        if let Some(water) = slice.water.filter(|water| *water > keel) {
            marks.extend(self.height(view, (half, water), keel, "water", right + 24.0));
        }
        marks
    }

    /// A height over the keel, at the left of a stroke, with thin lines from where it is taken.
    fn height(&self, view: &View, (from, z): (f64, f64), keel: f64, what: &str, x: f64) -> Vec<Mark> {
        let (high, low) = (view.onto(Spot::new(from, z)), view.onto(Spot::new(0.0, keel)));
        let mut marks = vec![line(high, (x, high.1), Pen::Faint), line(low, (x, low.1), Pen::Faint)];
        marks.extend(dimension((x, low.1), (x, high.1)));
        let middle = f64::midpoint(low.1, high.1);
        for (says, y) in [(what.to_string(), middle - 0.6), (self.tape.length(z - keel), middle + LETTERS + 0.2)] {
            marks.push(words((x - width(&says, LETTERS) - 1.5, y), LETTERS, says));
        }
        marks
    }
}

/// `A`, `B`, and on: there are fewer sections than letters.
fn letter(index: usize) -> String {
    char::from(b'A' + u8::try_from(index % 26).unwrap_or(0)).to_string()
}

/// Slanted strokes over an upright rectangle, by two opposite corners on paper.
fn hatching(one: (f64, f64), other: (f64, f64)) -> Vec<Mark> {
    let (left, right) = (one.0.min(other.0), one.0.max(other.0));
    let (top, low) = (one.1.min(other.1), one.1.max(other.1));
    let count = ((right - left + low - top) / HATCH).floor();
    if !count.is_finite() {
        return Vec::new();
    }
    // Each stroke begins on the left or the lower edge and runs up at 45 degrees.
    let stroke = |n: i32| {
        let off = f64::from(n) * HATCH;
        let from = (left + (off - (low - top)).max(0.0), top + off.min(low - top));
        let to = (left + off.min(right - left), top + (off - (right - left)).max(0.0));
        line(from, to, Pen::Faint)
    };
    (1..=(count.min(2000.0) as i32)).map(stroke).collect()
}
