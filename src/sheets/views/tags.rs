//! The numbers of the gear on the picture, none on another, and the list that says what they are.

use crate::plan::{GearId, Plan};
use crate::sheets::drawing::{Frame, Group, Mark, Pen};

/// Letters of a tag and of the list, mm.
const LETTERS: f64 = 2.2;

/// From one line of the list to the next, mm.
const ROW: f64 = 3.3;

/// The list stands in so many columns.
const COLUMNS: usize = 4;

/// The list has at most so many rows: the picture needs the rest of the page.
const MOST_ROWS: usize = 22;

/// Room that one tag takes, mm.
const ROOM: (f64, f64) = (4.6, 2.6);

/// How many rings round its gear a tag looks for room on.
const RINGS: i32 = 6;

/// The tags at their gear, each moved aside by a stroke where another has its place.
pub(super) fn tags(wanted: &[((f64, f64), GearId)]) -> Vec<Mark> {
    let mut taken: Vec<(f64, f64)> = Vec::new();
    let mut marks = Vec::new();
    for (at, gear) in wanted {
        let free = |(x, y): &(f64, f64)| taken.iter().all(|(a, b)| (x - a).abs() >= ROOM.0 || (y - b).abs() >= ROOM.1);
        let place = places(*at).find(free).unwrap_or(*at);
        if place != *at {
            marks.push(Mark::Line { from: *at, to: place, pen: Pen::Faint });
        }
        let words = gear.0.to_string();
        let half = words.len() as f64 * LETTERS * 0.28;
        marks.push(Mark::Words { at: (place.0 - half, place.1 + LETTERS * 0.36), size: LETTERS, words });
        taken.push(place);
    }
    marks
}

/// Where a tag may stand: at its gear, then on ever wider rings round it.
fn places((x, y): (f64, f64)) -> impl Iterator<Item = (f64, f64)> {
    let ring = |n: i32| {
        let all = (-n..=n).flat_map(move |up| (-n..=n).map(move |along| (along, up)));
        all.filter(move |(along, up)| along.abs().max(up.abs()) == n)
    };
    (0..=RINGS).flat_map(ring).map(move |(along, up)| (x + f64::from(along) * ROOM.0, y + f64::from(up) * ROOM.1))
}

/// How tall the list is, mm.
pub(super) fn list_height(tags: usize) -> f64 {
    rows(tags) as f64 * ROW
}

/// The list, column by column within a frame.
pub(super) fn list(plan: &Plan, gear: &[GearId], area: Frame) -> Vec<Group> {
    let rows = rows(gear.len());
    let shown = gear.len().min(rows * COLUMNS);
    let mut lines: Vec<String> = gear.iter().take(shown).map(|id| line(plan, *id)).collect();
    if let (true, Some(last)) = (shown < gear.len(), lines.last_mut()) {
        *last = format!("and {} more", gear.len() - shown + 1);
    }
    let width = area.width / COLUMNS as f64;
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
