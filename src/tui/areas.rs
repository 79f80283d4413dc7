//! Where everything stands: one pure function of size and state, used for drawing and for clicks.
//!
//! ```text
//! 80x24, compact       120x40, open              200x60, wide
//! title                title                     title
//! deck                 deck                      deck              | inspector
//! words                profile or section        profile           |
//! 5 meter lines        words                     words             |
//! findings             Float in one line         4 panels          | gear
//! keys                 4 panels side by side     Float             |
//!                      findings                  findings          |
//!                      keys                      keys
//! ```
//!
//! A panel opened in compact room lies over meters and findings; so do profile and section, which have no
//! place of their own there. In open room Float takes the place of the other four while it is open, Power that of
//! the profile as well; in wide room it takes that of all panels. Wiring has no place of its own at all: opened, it
//! lies over everything below the words, and where there is room for all panels the findings stay.

mod interview;
mod outing;

pub use interview::InterviewAreas;
pub use outing::OutingAreas;

use ratatui::layout::{Constraint, Layout, Rect};

use super::app::{App, Focus, SideView};
use super::draw::panels::first_shown;
use super::draw::text;
use super::layer::{Form, Question};
use super::panels::PanelKind;

/// Least size at which the program is drawn at all.
pub const LEAST: (u16, u16) = (60, 16);

/// How much fits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Room {
    /// Not enough for anything but a message.
    None,
    /// Panels as one-line meters.
    Compact,
    /// Four panels open, Float in one line.
    Open,
    /// All panels, inspector and gear list together.
    Wide,
}

/// Where everything stands. Areas that are not shown are empty.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Areas {
    /// All of it.
    pub whole: Rect,
    /// The title line.
    pub title: Rect,
    /// The boat from above.
    pub deck: Rect,
    /// The boat from the side, or cut across.
    pub profile: Rect,
    /// The cursor in words.
    pub words: Rect,
    /// The panels, or their meter lines; Float's is one line where it is not open.
    pub panels: [Rect; 5],
    /// A panel opened over others: any in compact room, Wiring everywhere.
    pub opened: Rect,
    /// The findings.
    pub findings: Rect,
    /// The inspector.
    pub inspector: Rect,
    /// The gear list.
    pub gear: Rect,
    /// The keys that matter now.
    pub footer: Rect,
}

impl Room {
    /// The room a size offers.
    pub fn of(size: (u16, u16)) -> Self {
        match size {
            (w, h) if w < LEAST.0 || h < LEAST.1 => Self::None,
            (w, h) if w >= 170 && h >= 48 => Self::Wide,
            (w, h) if w >= 110 && h >= 34 => Self::Open,
            _ => Self::Compact,
        }
    }
}

impl Areas {
    /// The areas of the present screen.
    pub fn of(app: &App) -> Self {
        let (focus, side) = app.editor().map_or_else(Default::default, |editor| (editor.focus, editor.side));
        Self::at(app.size, focus, side)
    }

    /// The areas at a size.
    pub fn at(size: (u16, u16), focus: Focus, side: SideView) -> Self {
        let whole = Rect::new(0, 0, size.0, size.1);
        match Room::of(size) {
            Room::None => Self { whole, ..Self::default() },
            Room::Compact => Self::compact(whole, focus, side),
            Room::Open => Self::open(whole, focus),
            Room::Wide => Self::wide(whole, focus),
        }
    }

    fn compact(whole: Rect, focus: Focus, side: SideView) -> Self {
        // What the deck does not get, the findings do: at least three rows of them.
        let words_rows = if whole.height >= 22 { 2 } else { 1 };
        let deck_rows = (whole.height.saturating_sub(12 + words_rows)).min(14).max(whole.height / 3);
        let [title, deck, words, below, footer] = Layout::vertical([
            Constraint::Length(1),
            Constraint::Length(deck_rows),
            Constraint::Length(words_rows),
            Constraint::Min(4),
            Constraint::Length(1),
        ])
        .areas(whole);
        let base = Self { whole, title, deck, words, footer, ..Self::default() };
        if matches!(focus, Focus::Panel(_)) {
            return Self { opened: inset(below), ..base };
        }
        if side != SideView::Usual && focus == Focus::Deck {
            return Self { profile: below, ..base };
        }
        let [meters, findings] = Layout::vertical([Constraint::Length(5), Constraint::Min(0)]).areas(below);
        let panels = Layout::vertical([Constraint::Length(1); 5]).areas(inset(meters));
        Self { panels, findings: inset(findings), ..base }
    }

    fn open(whole: Rect, focus: Focus) -> Self {
        let spare = whole.height - 34;
        let powered = focus == Focus::Panel(PanelKind::Power);
        let side_rows = if spare >= 2 { 6 } else { 4 };
        let [title, deck, profile, words, float, panels, findings, footer] = Layout::vertical([
            Constraint::Length(1),
            Constraint::Length(14 + spare.min(1) + spare.saturating_sub(6) / 2),
            Constraint::Length(if powered { 0 } else { side_rows }),
            Constraint::Length(2),
            Constraint::Length(if powered { side_rows + 1 } else { 1 }),
            Constraint::Length(if spare >= 10 { 10 } else { 9 }),
            Constraint::Min(4),
            Constraint::Length(1),
        ])
        .areas(whole);
        if focus == Focus::Panel(PanelKind::Wiring) {
            let opened = inset(float.union(panels).union(findings));
            return Self { whole, title, deck, profile, words, opened, footer, ..Self::default() };
        }
        let panels = match focus {
            Focus::Panel(PanelKind::Float) => with_float([Rect::default(); 4], inset(float.union(panels))),
            Focus::Panel(PanelKind::Power) => power_alone(inset(float.union(panels))),
            _ => with_float(side_by_side(inset(panels)), inset(float)),
        };
        let findings = inset(findings);
        Self { whole, title, deck, profile, words, panels, findings, footer, ..Self::default() }
    }

    fn wide(whole: Rect, focus: Focus) -> Self {
        let side = (whole.width / 4).clamp(44, 60);
        let [left, right] =
            Layout::horizontal([Constraint::Min(100), Constraint::Length(side)]).spacing(2).areas(whole);
        let rest = Self::wide_left(left, focus);
        let below_title = Rect { y: whole.y + 2, height: whole.height - 3, width: right.width - 1, ..right };
        let [inspector, gear] =
            Layout::vertical([Constraint::Fill(3), Constraint::Fill(2)]).spacing(1).areas(below_title);
        let title = Rect { width: whole.width, ..rest.title };
        let footer = Rect { width: whole.width, ..rest.footer };
        Self { whole, title, inspector, gear, footer, ..rest }
    }

    /// All panels at once: Float as wide as the other four together.
    fn wide_left(whole: Rect, focus: Focus) -> Self {
        let spare = whole.height - 48;
        let [title, deck, profile, words, panels, float, findings, footer] = Layout::vertical([
            Constraint::Length(1),
            Constraint::Length(16 + spare / 2),
            Constraint::Length(if spare >= 10 { 7 } else { 6 }),
            Constraint::Length(2),
            Constraint::Length(8 + (spare / 4).min(2)),
            Constraint::Length(9 + u16::from(spare >= 8)),
            Constraint::Min(5),
            Constraint::Length(1),
        ])
        .areas(whole);
        let findings = inset(findings);
        if focus == Focus::Panel(PanelKind::Wiring) {
            let opened = inset(panels.union(float));
            return Self { whole, title, deck, profile, words, opened, findings, footer, ..Self::default() };
        }
        let panels = match focus {
            Focus::Panel(PanelKind::Power) => power_alone(inset(panels.union(float))),
            _ => with_float(side_by_side(inset(panels)), inset(float)),
        };
        Self { whole, title, deck, profile, words, panels, findings, footer, ..Self::default() }
    }
}

fn with_float([a, b, c, d]: [Rect; 4], float: Rect) -> [Rect; 5] {
    [a, b, c, d, float]
}

fn power_alone(area: Rect) -> [Rect; 5] {
    let [b, c, d, e] = [Rect::default(); 4];
    [area, b, c, d, e]
}

/// One column of air at both sides.
fn inset(area: Rect) -> Rect {
    Rect { x: area.x + 1, width: area.width.saturating_sub(2), ..area }
}

fn side_by_side(area: Rect) -> [Rect; 4] {
    Layout::horizontal([Constraint::Fill(1); 4]).spacing(3).areas(area)
}

/// Where a list in front of everything stands: as high as it needs to be, in the middle.
pub fn list_area(whole: Rect, rows: usize) -> Rect {
    let width = (whole.width * 3 / 4).clamp(40.min(whole.width), 90.min(whole.width));
    let wanted = u16::try_from(rows).unwrap_or(u16::MAX).saturating_add(4);
    let most = (whole.height * 2 / 3).max(whole.height.saturating_sub(8).min(20));
    let height = wanted.min(most).max(5.min(whole.height));
    centred(whole, width, height)
}

/// Where a form or a question stands: its frame, its text, and the lines a person chooses from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct BoxAreas {
    /// With the frame.
    pub outer: Rect,
    /// Help, or what is asked.
    pub text: Rect,
    /// Fields, or answers: one a line.
    pub lines: Rect,
    /// The last line.
    pub last: Rect,
}

impl BoxAreas {
    /// A form's, with the index of the first field shown.
    pub fn of_form(form: &Form, whole: Rect) -> (Self, usize) {
        let width = 64.min(whole.width);
        let help =
            if form.help.is_empty() { 0 } else { text::wrap(&form.help, width.saturating_sub(4)).len() as u16 + 1 };
        let areas = Self::at(whole, width, help, form.fields.len());
        // A day of many phases can be longer than the screen: the field being filled stays in sight.
        (areas, first_shown(form.at, usize::from(areas.lines.height).max(1), form.fields.len()))
    }

    /// A question's.
    pub fn of_question(question: &Question, whole: Rect) -> Self {
        let width = 66.min(whole.width);
        let wrapped: usize = question.text.iter().map(|line| text::wrap(line, width.saturating_sub(4)).len()).sum();
        Self::at(whole, width, wrapped as u16 + 1, question.answers.len())
    }

    fn at(whole: Rect, width: u16, text_rows: u16, lines: usize) -> Self {
        let above = text_rows.max(1);
        let lines = u16::try_from(lines).unwrap_or(u16::MAX);
        let outer = centred(whole, width, lines.saturating_add(above + 4));
        let inner = Rect {
            x: outer.x + 2.min(outer.width),
            y: outer.y + 1.min(outer.height),
            width: outer.width.saturating_sub(4),
            height: outer.height.saturating_sub(2),
        };
        let [text, lines, _, last] = Layout::vertical([
            Constraint::Length(above),
            Constraint::Max(lines),
            Constraint::Length(1),
            Constraint::Length(1),
        ])
        .areas(inner);
        Self { outer, text, lines, last }
    }
}

/// A rectangle in the middle of another.
pub fn centred(whole: Rect, width: u16, height: u16) -> Rect {
    let (width, height) = (width.min(whole.width), height.min(whole.height));
    Rect::new(whole.x + (whole.width - width) / 2, whole.y + (whole.height - height) / 3, width, height)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_three_sizes_have_their_rooms() {
        assert_eq!(Room::of((80, 24)), Room::Compact);
        assert_eq!(Room::of((120, 40)), Room::Open);
        assert_eq!(Room::of((200, 60)), Room::Wide);
        assert_eq!(Room::of((59, 40)), Room::None);
    }

    proptest! {
        #[test]
        fn areas_stay_on_the_screen_and_do_not_overlap(w in 0_u16..260, h in 0_u16..120, focus in 0_usize..4, side in 0_usize..3) {
            let panel = [PanelKind::Float, PanelKind::Power, PanelKind::Wiring].map(Focus::Panel);
            let focus = [Focus::Deck, Focus::Findings, panel[0], panel[1], panel[2]][focus];
            let side = [SideView::Usual, SideView::Profile, SideView::Section][side];
            let areas = Areas::at((w, h), focus, side);
            let mut shown: Vec<Rect> = vec![areas.title, areas.deck, areas.profile, areas.words, areas.findings, areas.inspector, areas.gear, areas.footer, areas.opened];
            shown.extend(areas.panels);
            shown.retain(|r| !r.is_empty());
            for (i, a) in shown.iter().enumerate() {
                prop_assert_eq!(a.intersection(areas.whole), *a);
                for b in &shown[i + 1..] {
                    prop_assert!(a.intersection(*b).is_empty(), "{a:?} over {b:?}");
                }
            }
        }
    }
}
