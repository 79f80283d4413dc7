//! One page with a picture to a round scale: the picture, its dimensions, a bar, the bow, and what the tags are.

use super::picture::Picture;
use super::tags::{list, list_height, tags};
use crate::geometry::Spot;
use crate::plan::{GearId, Plan};
use crate::sheets::drawing::{Frame, Group, Mark, Page, Pen};
use crate::sheets::number::plain;

/// White round the page, mm: what printers leave out.
const MARGIN: f64 = 10.0;
/// Height of the title, mm.
const HEAD: f64 = 12.0;
/// Height of the strip with the bar and the caution, mm.
const FOOT: f64 = 14.0;
/// Room for dimensions left and below the picture, for the bow's arrow and the water's name to its right, mm.
const LEFT: f64 = 24.0;
const BELOW: f64 = 14.0;
const RIGHT: f64 = 24.0;
const ABOVE: f64 = 4.0;
/// Letters, mm.
const LETTERS: f64 = 2.8;
/// A hole is drawn at least this large, radius in mm: smaller ones would be dots.
const LEAST_HOLE: f64 = 0.3;
/// How many millimetres of the boat one on paper can be.
const SCALES: [f64; 13] = [10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0, 150.0, 200.0, 300.0, 500.0];

pub(super) fn page(plan: &Plan, picture: &Picture, width: f64, height: f64) -> Page {
    let inner = Frame { x: MARGIN, y: MARGIN, width: width - 2.0 * MARGIN, height: height - 2.0 * MARGIN };
    let tall = list_height(picture.tags.len());
    let area = Frame { y: inner.y + HEAD, height: inner.height - HEAD - FOOT - tall, ..inner };
    let below = Frame { y: area.y + area.height, height: tall, ..inner };
    let view = View::of(picture, area);
    let mut gear: Vec<GearId> = picture.tags.iter().map(|(_, id)| *id).collect();
    gear.sort_unstable();
    let mut groups = vec![Group { frame: Some(area), marks: view.marks(picture) }];
    groups.extend(list(plan, &gear, below));
    let foot = inner.y + inner.height - FOOT;
    groups.push(Group { frame: None, marks: title(plan, picture, view.scale) });
    groups.push(Group { frame: None, marks: strip(picture, view.scale, foot) });
    Page { groups: groups.into_iter().map(finite).collect() }
}

/// From the boat onto the paper.
struct View {
    scale: f64,
    /// The place on paper of the boat's `from`.
    corner: (f64, f64),
    from: Spot,
}

impl View {
    /// The largest round scale at which all fits, in the middle of the area.
    fn of(picture: &Picture, area: Frame) -> Self {
        let (from, to) = picture.whole;
        let room = (area.width - LEFT - RIGHT, area.height - ABOVE - BELOW);
        let fits = |scale: &f64| (to.x - from.x) / scale <= room.0 && (to.y - from.y) / scale <= room.1;
        let scale = SCALES.into_iter().find(fits).unwrap_or(SCALES[SCALES.len() - 1]);
        let spare = (room.0 - (to.x - from.x) / scale, room.1 - (to.y - from.y) / scale);
        let corner = (area.x + LEFT + spare.0 / 2.0, area.y + area.height - BELOW - spare.1 / 2.0);
        Self { scale, corner, from }
    }

    fn onto(&self, spot: Spot) -> (f64, f64) {
        let off = spot - self.from;
        (self.corner.0 + off.x / self.scale, self.corner.1 - off.y / self.scale)
    }

    fn marks(&self, picture: &Picture) -> Vec<Mark> {
        let line =
            |(from, to, pen): &(Spot, Spot, Pen)| Mark::Line { from: self.onto(*from), to: self.onto(*to), pen: *pen };
        let mut marks: Vec<Mark> = picture.lines.iter().map(line).collect();
        marks.extend(picture.rounds.iter().map(|(middle, radius)| Mark::Circle {
            middle: self.onto(*middle),
            radius: radius / self.scale,
            pen: Pen::Fine,
        }));
        for (middle, radius) in &picture.holes {
            marks.extend(hole(self.onto(*middle), radius.map(|radius| radius / self.scale)));
        }
        let wanted: Vec<_> = picture.tags.iter().map(|(at, gear)| (self.onto(*at), *gear)).collect();
        marks.extend(tags(&wanted));
        let beside = |(x, y): (f64, f64)| (x + 1.0, y + 1.0);
        marks.extend(picture.words.iter().map(|(at, words)| Mark::Words {
            at: beside(self.onto(*at)),
            size: LETTERS,
            words: (*words).into(),
        }));
        marks.extend(self.dimensions(picture));
        marks.extend(self.bow(picture));
        marks
    }

    /// Length below the picture, beam or height to the left of it.
    fn dimensions(&self, picture: &Picture) -> Vec<Mark> {
        let (low, high) = picture.hull;
        let ((left, bottom), (right, top)) = (self.onto(low), self.onto(high));
        let (edge_x, edge_y) = (self.corner.0 - 6.0, self.corner.1 + 7.0);
        let mut marks = dimension((left, edge_y), (right, edge_y));
        marks.extend(dimension((edge_x, bottom), (edge_x, top)));
        let words = |at, mm: f64| Mark::Words { at, size: LETTERS, words: format!("{} mm", plain(mm.round())) };
        marks.push(words((f64::midpoint(left, right) - 6.0, edge_y + LETTERS + 1.0), high.x - low.x));
        marks.push(words((edge_x - 16.0, f64::midpoint(bottom, top) + 1.0), high.y - low.y));
        marks
    }

    /// An arrow ahead of the bow.
    fn bow(&self, picture: &Picture) -> [Mark; 4] {
        let (x, y) = self.onto(picture.hull.1);
        let (tail, tip) = (x + 3.0, x + 12.0);
        let line = |from, to| Mark::Line { from, to, pen: Pen::Fine };
        [
            line((tail, y), (tip, y)),
            line((tip, y), (tip - 2.2, y - 1.2)),
            line((tip, y), (tip - 2.2, y + 1.2)),
            Mark::Words { at: (tip + 1.0, y + 1.0), size: LETTERS, words: "bow".into() },
        ]
    }
}

/// A hole with its cross; one seen edge on is a cross alone.
fn hole((x, y): (f64, f64), radius: Option<f64>) -> Vec<Mark> {
    let radius = radius.map(|radius| radius.max(LEAST_HOLE));
    let arm = radius.unwrap_or(0.0) + 0.8;
    let line = |from, to| Mark::Line { from, to, pen: Pen::Faint };
    let cross = [line((x - arm, y), (x + arm, y)), line((x, y - arm), (x, y + arm))];
    let circle = radius.map(|radius| Mark::Circle { middle: (x, y), radius, pen: Pen::Fine });
    circle.into_iter().chain(cross).collect()
}

/// A stroke with a slanted tick at both ends.
fn dimension(from: (f64, f64), to: (f64, f64)) -> Vec<Mark> {
    let line = |from, to| Mark::Line { from, to, pen: Pen::Fine };
    let tick = |(x, y): (f64, f64)| line((x - 1.0, y + 1.0), (x + 1.0, y - 1.0));
    vec![line(from, to), tick(from), tick(to)]
}

fn title(plan: &Plan, picture: &Picture, scale: f64) -> Vec<Mark> {
    let words = |y: f64, size: f64, words: String| Mark::Words { at: (MARGIN, MARGIN + y), size, words };
    let (scale, legend) = (plain(scale), picture.legend);
    vec![
        words(4.0, 4.0, format!("{}, {}, scale 1:{scale}", plan.name, picture.title.to_lowercase())),
        words(8.5, LETTERS, format!("{legend} Cross: a hole. Numbers: gear, listed below. Print at 100 percent.")),
    ]
}

/// The foot of the page: a bar of half a metre of the boat, and what to mind.
fn strip(picture: &Picture, scale: f64, top: f64) -> Vec<Mark> {
    let (y, step) = (top + 5.0, 100.0 / scale);
    let line = |from, to| Mark::Line { from, to, pen: Pen::Fine };
    let mut marks = vec![line((MARGIN, y), (MARGIN + 5.0 * step, y))];
    marks.extend((0..=5).map(|n| MARGIN + f64::from(n) * step).map(|x| line((x, y - 1.5), (x, y))));
    let words = |x: f64, y: f64, words: &str| Mark::Words { at: (x, y), size: LETTERS, words: words.into() };
    marks.push(words(MARGIN + 5.0 * step + 2.0, y + 0.5, "500 mm"));
    let from = if picture.tags.is_empty() { "No gear is placed. " } else { "" };
    marks.push(words(
        MARGIN,
        top + 12.0,
        &format!(
            "{from}Not to drill from: use the templates and the drill sheet. Ask the hull's maker before you drill."
        ),
    ));
    marks
}

/// Without the marks that a nonsense plan puts nowhere.
fn finite(mut group: Group) -> Group {
    let known = |(x, y): &(f64, f64)| x.is_finite() && y.is_finite();
    group.marks.retain(|mark| match mark {
        Mark::Line { from, to, .. } => known(from) && known(to),
        Mark::Circle { middle, radius, .. } => known(middle) && radius.is_finite(),
        Mark::Words { at, .. } => known(at),
    });
    group
}
