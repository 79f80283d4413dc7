//! From the boat onto the paper: a round scale at which all fits, and the strokes that every view has.

use crate::geometry::Spot;
use crate::sheets::drawing::{Frame, Group, Mark, Pen};
use crate::units::{Measure, Tape};

/// Letters, mm.
pub(super) const LETTERS: f64 = 2.8;
/// White round the page, mm: what printers leave out.
pub(super) const MARGIN: f64 = 10.0;
/// Height of the title, mm.
pub(super) const HEAD: f64 = 12.0;
/// Height of the strip with the bar and the caution, mm.
pub(super) const FOOT: f64 = 14.0;
/// A hole is drawn at least this large, radius in mm: smaller ones would be dots.
const LEAST_HOLE: f64 = 0.3;
/// How many millimetres of the boat one on paper can be. Source: ISO 5455 and, between its steps, common practice.
const SCALES: [f64; 16] =
    [2.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 75.0, 100.0, 150.0, 200.0, 300.0, 500.0];

/// From the boat onto the paper.
pub(super) struct View {
    pub(super) scale: f64,
    /// The place on paper of the boat's `from`.
    pub(super) corner: (f64, f64),
    from: Spot,
}

impl View {
    /// The largest round scale from `least` on at which all between two corners fits, in the middle of the room.
    pub(super) fn of((from, to): (Spot, Spot), room: Frame, least: f64) -> Self {
        let fits = |scale: f64| (to.x - from.x) / scale <= room.width && (to.y - from.y) / scale <= room.height;
        let found = SCALES.into_iter().filter(|scale| *scale >= least).find(|scale| fits(*scale));
        let scale = found.unwrap_or(SCALES[SCALES.len() - 1]);
        let spare = (room.width - (to.x - from.x) / scale, room.height - (to.y - from.y) / scale);
        let corner = (room.x + spare.0 / 2.0, room.y + room.height - spare.1 / 2.0);
        Self { scale, corner, from }
    }

    pub(super) fn onto(&self, spot: Spot) -> (f64, f64) {
        let off = spot - self.from;
        (self.corner.0 + off.x / self.scale, self.corner.1 - off.y / self.scale)
    }

    /// Straight strokes of the boat.
    pub(super) fn strokes<'a>(&'a self, lines: &'a [(Spot, Spot, Pen)]) -> impl Iterator<Item = Mark> + 'a {
        lines.iter().map(|(from, to, pen)| line(self.onto(*from), self.onto(*to), *pen))
    }
}

pub(super) fn line(from: (f64, f64), to: (f64, f64), pen: Pen) -> Mark {
    Mark::Line { from, to, pen }
}

/// Words, from the left end of their base line.
pub(super) fn words(at: (f64, f64), size: f64, words: impl Into<String>) -> Mark {
    Mark::Words { at, size, words: words.into() }
}

/// How wide words become, mm. Source: the widths of the document's font, from memory and rounded.
pub(super) fn width(words: &str, size: f64) -> f64 {
    let wide = |c: char| match c {
        'i' | 'j' | 'l' | '\'' => 0.22,
        ' ' | 'f' | 't' | '.' | ',' | ':' | '/' | '(' | ')' => 0.28,
        'r' | '-' => 0.33,
        'c' | 'k' | 's' | 'v' | 'x' | 'y' | 'z' => 0.5,
        'm' | 'M' => 0.83,
        'w' => 0.72,
        'W' => 0.94,
        'A'..='Z' => 0.7,
        _ => 0.56,
    };
    words.chars().map(wide).sum::<f64>() * size
}

/// A hole with its cross; one seen edge on is a cross alone.
pub(super) fn hole((x, y): (f64, f64), radius: Option<f64>) -> Vec<Mark> {
    let radius = radius.map(|radius| radius.max(LEAST_HOLE));
    let arm = radius.unwrap_or(0.0) + 0.8;
    let cross = [line((x - arm, y), (x + arm, y), Pen::Faint), line((x, y - arm), (x, y + arm), Pen::Faint)];
    let circle = radius.map(|radius| Mark::Circle { middle: (x, y), radius, pen: Pen::Fine });
    circle.into_iter().chain(cross).collect()
}

/// A stroke with a slanted tick at both ends.
pub(super) fn dimension(from: (f64, f64), to: (f64, f64)) -> Vec<Mark> {
    let tick = |(x, y): (f64, f64)| line((x - 1.0, y + 1.0), (x + 1.0, y - 1.0), Pen::Fine);
    vec![line(from, to, Pen::Fine), tick(from), tick(to)]
}

/// The foot of a page: a bar of half a metre or 20 in of the boat, and what to mind.
pub(super) fn strip(scale: f64, top: f64, tape: Measure, first: &str) -> Vec<Mark> {
    let step_mm = match tape.0 {
        Tape::Metric => 100.0,
        Tape::Inches => 4.0 * 25.4,
    };
    let (y, step) = (top + 5.0, step_mm / scale);
    let mut marks = vec![line((MARGIN, y), (MARGIN + 5.0 * step, y), Pen::Fine)];
    marks.extend((0..=5).map(|n| MARGIN + f64::from(n) * step).map(|x| line((x, y - 1.5), (x, y), Pen::Fine)));
    marks.push(words((MARGIN + 5.0 * step + 2.0, y + 0.5), LETTERS, tape.length(5.0 * step_mm)));
    let caution = "Not to drill from: use the templates and the drill sheet. Ask the hull's maker before you drill.";
    marks.push(words((MARGIN, top + 12.0), LETTERS, format!("{first}{caution}")));
    marks
}

/// Without the marks that a nonsense plan puts nowhere.
pub(super) fn finite(mut group: Group) -> Group {
    let known = |(x, y): &(f64, f64)| x.is_finite() && y.is_finite();
    group.marks.retain(|mark| match mark {
        Mark::Line { from, to, .. } => known(from) && known(to),
        Mark::Circle { middle, radius, .. } => known(middle) && radius.is_finite(),
        Mark::Blank(frame) => known(&(frame.x, frame.y)),
        Mark::Words { at, .. } => known(at),
    });
    group
}
