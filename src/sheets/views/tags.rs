//! Small words on a picture, none on another nor on a hole, and the list that says what numbers are.

use super::scale::width;
use crate::plan::{GearId, Plan};
use crate::sheets::drawing::{Frame, Group, Mark, Pen};

/// Letters of a tag and of the list, mm.
pub(super) const LETTERS: f64 = 2.2;

/// From one line of the list to the next, mm.
pub(super) const ROW: f64 = 3.3;

/// The list stands in so many columns.
const COLUMNS: usize = 4;

/// The list has at most so many rows: the picture needs the rest of the page.
const MOST_ROWS: usize = 22;

/// How many rings round its place a tag looks for room on.
const RINGS: i32 = 7;

/// Half the side of the square that is kept free of tags round the middle of a hole, mm.
const ROUND_HOLE: f64 = 1.2;

/// A tag would hide a body that is smaller than this either way, mm.
const HIDDEN_UNDER: f64 = 4.0;

/// Puts tags down one after the other, each where nothing else stands.
pub(super) struct Tags {
    /// No tag leaves it.
    area: Frame,
    taken: Vec<Frame>,
    leaders: Vec<Mark>,
    words: Vec<Mark>,
}

impl Tags {
    /// Tags within an area that keep off these holes.
    pub(super) fn off(holes: impl Iterator<Item = (f64, f64)>, area: Frame) -> Self {
        let taken = holes.map(|at| around(at, (2.0 * ROUND_HOLE, 2.0 * ROUND_HOLE))).collect();
        Self { area, taken, leaders: Vec::new(), words: Vec::new() }
    }

    /// Keeps tags off a body that one would hide; by two opposite corners.
    pub(super) fn spare(&mut self, one: (f64, f64), other: (f64, f64)) {
        let frame = Frame {
            x: one.0.min(other.0),
            y: one.1.min(other.1),
            width: (one.0 - other.0).abs(),
            height: (one.1 - other.1).abs(),
        };
        if frame.width < HIDDEN_UNDER && frame.height < HIDDEN_UNDER {
            self.taken.push(frame);
        }
    }

    /// A tag at its place; where that is taken it stands aside and a stroke leads to it.
    pub(super) fn put(&mut self, at: (f64, f64), says: &str) {
        let size = (width(says, LETTERS) + 0.8, LETTERS + 0.6);
        let free = |frame: &Frame| within(frame, &self.area) && self.taken.iter().all(|other| apart(frame, other));
        let frame = places(at, size).find(free).unwrap_or_else(|| around(at, size));
        let middle = (frame.x + size.0 / 2.0, frame.y + size.1 / 2.0);
        if middle != at {
            self.leaders.push(Mark::Line { from: at, to: middle, pen: Pen::Faint });
        }
        self.words.push(Mark::Blank(frame));
        let words = Mark::Words {
            at: (frame.x + 0.4, frame.y + size.1 / 2.0 + LETTERS * 0.36),
            size: LETTERS,
            words: says.into(),
        };
        self.words.push(words);
        self.taken.push(frame);
    }

    /// The strokes, then the words over them.
    pub(super) fn marks(self) -> impl Iterator<Item = Mark> {
        self.leaders.into_iter().chain(self.words)
    }
}

fn around((x, y): (f64, f64), (width, height): (f64, f64)) -> Frame {
    Frame { x: x - width / 2.0, y: y - height / 2.0, width, height }
}

fn apart(one: &Frame, other: &Frame) -> bool {
    one.x + one.width <= other.x
        || other.x + other.width <= one.x
        || one.y + one.height <= other.y
        || other.y + other.height <= one.y
}

fn within(one: &Frame, area: &Frame) -> bool {
    let (right, low) = (area.x + area.width, area.y + area.height);
    one.x >= area.x && one.y >= area.y && one.x + one.width <= right && one.y + one.height <= low
}

/// Where a tag may stand: at its place, then on ever wider rings round it.
fn places((x, y): (f64, f64), size: (f64, f64)) -> impl Iterator<Item = Frame> {
    let ring = |n: i32| {
        let all = (-n..=n).flat_map(move |up| (-n..=n).map(move |along| (along, up)));
        all.filter(move |(along, up)| along.abs().max(up.abs()) == n)
    };
    (0..=RINGS)
        .flat_map(ring)
        .map(move |(along, up)| around((x + f64::from(along) * size.0.min(5.0), y + f64::from(up) * size.1), size))
}

/// How tall the list is, mm.
pub(super) fn list_height(tags: usize) -> f64 {
    rows(tags) as f64 * ROW
}

/// The list, column by column within a frame.
pub(super) fn list(plan: &Plan, gear: &[GearId], area: Frame) -> Vec<Group> {
    let lines: Vec<String> = gear.iter().map(|id| line(plan, *id)).collect();
    columns(&lines, COLUMNS, rows(gear.len()), area)
}

/// Lines in so many columns of so many rows; what finds no room is counted.
pub(super) fn columns(lines: &[String], columns: usize, rows: usize, area: Frame) -> Vec<Group> {
    let shown = lines.len().min(rows * columns);
    let left_out = lines.len() - shown;
    let mut lines: Vec<String> = lines.iter().take(shown).cloned().collect();
    if let (true, Some(last)) = (left_out > 0, lines.last_mut()) {
        *last = format!("and {} more", left_out + 1);
    }
    let width = area.width / columns as f64;
    let column = |(n, lines): (usize, &[String])| {
        let frame = Frame { x: area.x + n as f64 * width, width: width - 2.0, ..area };
        let words = |(row, words): (usize, &String)| Mark::Words {
            at: (frame.x, frame.y + row as f64 * ROW + LETTERS),
            size: LETTERS,
            words: words.clone(),
        };
        Group { frame: Some(frame), marks: lines.iter().enumerate().map(words).collect() }
    };
    lines.chunks(rows.max(1)).enumerate().map(column).collect()
}

fn rows(tags: usize) -> usize {
    tags.div_ceil(COLUMNS).min(MOST_ROWS)
}

fn line(plan: &Plan, id: GearId) -> String {
    plan.gear(id).map_or_else(|| id.to_string(), |gear| format!("{}  {}", id.0, gear.label))
}
