//! Cells to bytes, as few as they take: over a slow link every byte of a cursor step is waited for.
//!
//! The drawing library's own way says all of a style whenever a part of it changes, sets everything back piece by piece
//! after each frame, and moves by whole addresses. All else is left to it.

use std::fmt::{self, Write as _};
use std::io::{self, Write};

use crossterm::cursor::{MoveRight, MoveTo};
use crossterm::style::{Colored, Print};
use crossterm::{Command, queue};
use ratatui::backend::{Backend, ClearType, CrosstermBackend, IntoCrossterm, WindowSize};
use ratatui::buffer::Cell;
use ratatui::layout::{Position, Size};
use ratatui::style::{Color, Modifier};

/// The drawing library's backend, with cells drawn sparingly.
#[derive(Debug)]
pub(super) struct Sparing<W: Write> {
    inner: CrosstermBackend<W>,
    hidden: bool,
}

impl<W: Write> Sparing<W> {
    pub(super) fn new(writer: W) -> Self {
        Self { inner: CrosstermBackend::new(writer), hidden: false }
    }
}

impl<W: Write> Backend for Sparing<W> {
    type Error = io::Error;

    /// A frame starts and ends with the terminal's default style.
    fn draw<'a, I>(&mut self, content: I) -> io::Result<()>
    where
        I: Iterator<Item = (u16, u16, &'a Cell)>,
    {
        let mut pen = Pen::default();
        let mut behind: Option<Position> = None;
        for (x, y, cell) in content {
            match behind {
                Some(at) if at.y == y && at.x == x => {}
                // The terminal stands behind what was written last.
                Some(at) if at.y == y && at.x < x => queue!(self.inner, MoveRight(x - at.x))?,
                _ => queue!(self.inner, MoveTo(x, y))?,
            }
            let next = Pen { fore: cell.fg, back: cell.bg, modifier: cell.modifier };
            if next != pen {
                queue!(self.inner, Change { from: pen, to: next })?;
                pen = next;
            }
            queue!(self.inner, Print(cell.symbol()))?;
            // Behind a wide symbol it stands where nobody asks: the next cell of the row is addressed.
            behind = (cell.symbol().len() == 1 || is_narrow(cell.symbol())).then(|| Position { x: x + 1, y });
        }
        if pen == Pen::default() { Ok(()) } else { write!(self.inner, "\x1b[m") }
    }

    fn hide_cursor(&mut self) -> io::Result<()> {
        if std::mem::replace(&mut self.hidden, true) { Ok(()) } else { self.inner.hide_cursor() }
    }

    fn show_cursor(&mut self) -> io::Result<()> {
        self.hidden = false;
        self.inner.show_cursor()
    }

    fn get_cursor_position(&mut self) -> io::Result<Position> {
        self.inner.get_cursor_position()
    }

    fn set_cursor_position<P: Into<Position>>(&mut self, position: P) -> io::Result<()> {
        self.inner.set_cursor_position(position)
    }

    fn clear(&mut self) -> io::Result<()> {
        // Something else has written to the terminal: its cursor may be there again.
        self.hidden = false;
        self.inner.clear()
    }

    fn clear_region(&mut self, clear_type: ClearType) -> io::Result<()> {
        self.hidden = false;
        self.inner.clear_region(clear_type)
    }

    fn size(&self) -> io::Result<Size> {
        self.inner.size()
    }

    fn window_size(&mut self) -> io::Result<WindowSize> {
        self.inner.window_size()
    }

    fn flush(&mut self) -> io::Result<()> {
        Backend::flush(&mut self.inner)
    }
}

fn is_narrow(symbol: &str) -> bool {
    unicode_width::UnicodeWidthStr::width(symbol) == 1
}

/// What the terminal writes with.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Pen {
    fore: Color,
    back: Color,
    modifier: Modifier,
}

/// One order for all that is different. Source of the numbers: ECMA-48, 8.3.117 (select graphic rendition).
struct Change {
    from: Pen,
    to: Pen,
}

impl Command for Change {
    fn write_ansi(&self, f: &mut impl fmt::Write) -> fmt::Result {
        let (from, to) = (self.from, self.to);
        let mut codes = String::new();
        let mut add = |code: fmt::Arguments<'_>| -> fmt::Result {
            let start = codes.len();
            codes.write_fmt(code)?;
            // Without colours there is nothing to say of one.
            if codes.len() > start {
                codes.push(';');
            }
            Ok(())
        };
        let gone = from.modifier - to.modifier;
        let mut new = to.modifier - from.modifier;
        // Bold and faint have one end in common: what of them stays is begun anew.
        const WEIGHT: Modifier = Modifier::BOLD.union(Modifier::DIM);
        if gone.intersects(WEIGHT) {
            add(format_args!("22"))?;
            new |= to.modifier & WEIGHT;
        }
        for (modifier, _, off) in MODIFIERS.iter().filter(|(modifier, _, _)| !WEIGHT.contains(*modifier)) {
            if gone.contains(*modifier) {
                add(format_args!("{off}"))?;
            }
        }
        for (modifier, on, _) in MODIFIERS {
            if new.contains(*modifier) {
                add(format_args!("{on}"))?;
            }
        }
        if from.fore != to.fore {
            add(format_args!("{}", Colored::ForegroundColor(to.fore.into_crossterm())))?;
        }
        if from.back != to.back {
            add(format_args!("{}", Colored::BackgroundColor(to.back.into_crossterm())))?;
        }
        match codes.strip_suffix(';') {
            Some(codes) => write!(f, "\x1b[{codes}m"),
            None => Ok(()),
        }
    }
}

/// The modifiers of cells, and the codes that begin and end them.
const MODIFIERS: &[(Modifier, u8, u8)] = &[
    (Modifier::BOLD, 1, 22),
    (Modifier::DIM, 2, 22),
    (Modifier::ITALIC, 3, 23),
    (Modifier::UNDERLINED, 4, 24),
    (Modifier::SLOW_BLINK, 5, 25),
    (Modifier::RAPID_BLINK, 6, 25),
    (Modifier::REVERSED, 7, 27),
    (Modifier::HIDDEN, 8, 28),
    (Modifier::CROSSED_OUT, 9, 29),
];

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use proptest::prelude::*;
    use ratatui::buffer::Buffer;
    use ratatui::layout::Rect;
    use ratatui::style::Style;

    use super::*;

    const AREA: Rect = Rect { x: 0, y: 0, width: 12, height: 4 };

    /// The bytes that turn one picture into another.
    fn bytes(from: &Buffer, to: &Buffer) -> Vec<u8> {
        let mut written = Vec::new();
        Sparing::new(&mut written).draw(from.diff(to).into_iter()).unwrap();
        written
    }

    /// What a terminal shows: symbol and look of each cell.
    fn shown(parser: &vt100::Parser) -> Vec<(String, vt100::Color, vt100::Color, bool, bool, bool)> {
        let cells = (0..AREA.height).flat_map(|y| (0..AREA.width).map(move |x| (y, x)));
        let look = |(y, x)| {
            let cell = parser.screen().cell(y, x).unwrap();
            let symbol = if cell.contents().is_empty() { " ".into() } else { cell.contents().to_string() };
            (symbol, cell.fgcolor(), cell.bgcolor(), cell.bold(), cell.underline(), cell.inverse())
        };
        cells.map(look).collect()
    }

    fn color() -> impl Strategy<Value = Color> {
        prop_oneof![
            Just(Color::Reset),
            (0_u8..8).prop_map(Color::Indexed),
            (0_u8..3, 0_u8..3).prop_map(|(r, g)| Color::Rgb(r, g, 9)),
        ]
    }

    fn picture() -> impl Strategy<Value = Buffer> {
        let modifier = prop::sample::select(vec![
            Modifier::empty(),
            Modifier::BOLD,
            Modifier::DIM,
            Modifier::BOLD | Modifier::DIM,
            Modifier::REVERSED,
            Modifier::UNDERLINED | Modifier::BOLD,
        ]);
        let cell = (prop::sample::select(vec!["a", " ", "▀", "界"]), color(), color(), modifier);
        prop::collection::vec(cell, AREA.area() as usize).prop_map(|cells| {
            let mut buffer = Buffer::empty(AREA);
            for (at, (symbol, fore, back, modifier)) in cells.into_iter().enumerate() {
                let (x, y) = ((at % 12) as u16, (at / 12) as u16);
                // A wide symbol takes the cell behind it along; in the last column there is none.
                let symbol = if symbol == "界" && (x % 2 == 1 || x == 11) { "b" } else { symbol };
                if x > 0 && buffer[(x - 1, y)].symbol() == "界" {
                    continue;
                }
                let style = Style::default().fg(fore).bg(back).add_modifier(modifier);
                buffer.set_stringn(x, y, symbol, 2, style);
            }
            buffer
        })
    }

    proptest! {
        #[test]
        fn the_terminal_shows_what_the_library_s_own_way_would_show(pictures in prop::collection::vec(picture(), 1..5)) {
            let new = || vt100::Parser::new(AREA.height.try_into().unwrap(), AREA.width.try_into().unwrap(), 0);
            let (mut ours, mut theirs) = (new(), new());
            let mut before = Buffer::empty(AREA);
            for picture in pictures {
                ours.process(&bytes(&before, &picture));
                let mut written = Vec::new();
                CrosstermBackend::new(&mut written).draw(before.diff(&picture).into_iter()).unwrap();
                theirs.process(&written);
                prop_assert_eq!(shown(&ours), shown(&theirs));
                before = picture;
            }
        }
    }

    #[test]
    fn only_what_is_different_is_said() {
        let before = Buffer::empty(AREA);
        let mut after = before.clone();
        let look = Style::default().fg(Color::Indexed(5)).add_modifier(Modifier::BOLD);
        after.set_string(1, 0, "ab", look);
        after.set_string(5, 0, "c", look.bg(Color::Indexed(3)));
        let text = String::from_utf8(bytes(&before, &after)).unwrap();
        assert_eq!(text, "\u{1b}[1;2H\u{1b}[1;38;5;5mab\u{1b}[2C\u{1b}[48;5;3mc\u{1b}[m");
    }
}
