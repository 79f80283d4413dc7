//! Where everything of the tape interview stands.
//!
//! ```text
//! 80x24                              120x40, 200x60
//! title                              title
//! list | what is asked, how          list | what is asked, how
//!      | drawing of it                    | drawing of it, larger
//!      | one of the two pictures          | sections | from above
//! how it floats                      how it floats
//! doubts                             doubts
//! what the line does                 what the line does
//! keys                               keys
//! ```

use ratatui::layout::{Constraint, Layout, Rect};

/// Where everything of the interview stands. Areas that are not shown are empty.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct InterviewAreas {
    /// The title line.
    pub title: Rect,
    /// The rows.
    pub list: Rect,
    /// What is asked, and how it is taken.
    pub asked: Rect,
    /// The drawing of it.
    pub drawing: Rect,
    /// The first picture of the whole hull; its first line is a heading.
    pub first: Rect,
    /// The second one, where there is room for both.
    pub second: Rect,
    /// How it floats.
    pub floats: Rect,
    /// What looks wrong.
    pub doubts: Rect,
    /// What the line does, or why it is not taken.
    pub said: Rect,
    /// The keys.
    pub keys: Rect,
}

/// Two pictures stand side by side from this width.
const BOTH_COLUMNS: u16 = 64;

impl InterviewAreas {
    /// The areas on a screen.
    pub fn at(whole: Rect) -> Self {
        let doubts_rows = if whole.height >= 34 { 4 } else { 2 };
        let air = u16::from(whole.height >= 22);
        let [title, _, body, _, floats, doubts, said, keys] = Layout::vertical([
            Constraint::Length(1),
            Constraint::Length(air),
            Constraint::Min(4),
            Constraint::Length(u16::from(whole.height >= 30)),
            Constraint::Length(1),
            Constraint::Length(doubts_rows),
            Constraint::Length(1),
            Constraint::Length(1),
        ])
        .areas(whole);
        // Label, value and origin; on a narrow screen the origin gives way.
        let list_columns = (whole.width / 3 + 11).clamp(31, 46).min(whole.width);
        let [list, right] =
            Layout::horizontal([Constraint::Length(list_columns), Constraint::Min(0)]).spacing(2).areas(inset(body));
        // As high as the sections need to fill their width, and less than the drawing of what is asked.
        let wide = if right.width >= BOTH_COLUMNS { right.width / 2 } else { right.width };
        let pictures_rows = if right.height < 14 { 0 } else { (wide / 4 + 2).min(right.height * 2 / 5) };
        let [asked, drawing, pictures] =
            Layout::vertical([Constraint::Length(3), Constraint::Min(0), Constraint::Length(pictures_rows)])
                .areas(right);
        let (first, second) = if pictures.width >= BOTH_COLUMNS {
            let [first, second] = Layout::horizontal([Constraint::Fill(1); 2]).spacing(3).areas(pictures);
            (first, second)
        } else {
            (pictures, Rect::default())
        };
        Self {
            title: inset(title),
            list,
            asked,
            drawing,
            first,
            second,
            floats: inset(floats),
            doubts: inset(doubts),
            said: inset(said),
            keys: inset(keys),
        }
    }
}

/// One column of air at both sides.
fn inset(area: Rect) -> Rect {
    Rect { x: area.x + 1.min(area.width), width: area.width.saturating_sub(2), ..area }
}
