//! The key of sections: a small plan of the hull with a line where each section is cut.

use super::scale::{line, width, words};
use super::tags::LETTERS;
use crate::geometry::{Form, Spot};
use crate::sheets::drawing::{Frame, Mark, Pen};

/// Room for letters over and under the plan, and for the word at the bow, mm.
const LETTER_ROOM: f64 = 5.0;
const BOW_ROOM: f64 = 9.0;

/// The plan within a frame, bow right, port up; cuts are given from aft to bow, and the one at hand is drawn bold.
pub(super) fn key(form: &Form, cuts: &[(f64, String)], at_hand: usize, area: Frame) -> Vec<Mark> {
    let outline = form.deck_outline();
    let (low, high) = outline.bounds();
    let (long, wide) = ((high.x - low.x).max(1.0), (high.y - low.y).max(1.0));
    let room = (area.width - BOW_ROOM, area.height - 2.0 * LETTER_ROOM);
    let scale = (long / room.0).max(wide / room.1);
    let middle = area.y + area.height / 2.0;
    let onto = |spot: Spot| (area.x + (spot.x - low.x) / scale, middle - spot.y / scale);
    let mut marks: Vec<Mark> = outline.edges().map(|(from, to)| line(onto(from), onto(to), Pen::Fine)).collect();
    marks.push(words((onto(high).0 + 1.0, middle + LETTERS * 0.36), LETTERS, "bow"));
    let reach = wide / 2.0 + 1.5 * scale;
    for (index, (x, letter)) in cuts.iter().enumerate() {
        let (top, low) = (onto(Spot::new(*x, reach)), onto(Spot::new(*x, -reach)));
        marks.push(line(top, low, if index == at_hand { Pen::Bold } else { Pen::Chain }));
        // Letters of cuts side by side stand on two lines.
        let half = width(letter, LETTERS) / 2.0;
        let up = if index % 2 == 0 { 0.6 } else { 0.6 + LETTERS };
        marks.push(words((top.0 - half, top.1 - up), LETTERS, letter.as_str()));
        marks.push(words((low.0 - half, low.1 + LETTERS + up - 0.6), LETTERS, letter.as_str()));
    }
    marks
}
