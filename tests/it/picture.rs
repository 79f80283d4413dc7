//! A screen as text to be reviewed: its lines, and beside each the runs of styles it is made of.
//!
//! A run is a count and a style: the letter of the role whose colour the symbols have, `/` and the letter of the
//! ground's role unless the ground is the terminal's own, then `!` bold, `_` underlined, `%` reversed, `'` dim.
//! `.` is the terminal's own colour and `~` a blend of two roles. Sixteen colours are named by letters of their own.

use std::collections::BTreeMap;
use std::fmt;

use gunnel::tui::theme::{Depth, Role, Theme};
use ratatui::buffer::{Buffer, Cell};
use ratatui::style::{Color, Modifier};
use unicode_width::UnicodeWidthStr;

/// A screen as text and styles.
pub struct Picture {
    /// The symbols of each row, no blanks at the end.
    pub lines: Vec<String>,
    /// The runs of each row.
    pub runs: Vec<String>,
    legend: BTreeMap<char, &'static str>,
}

impl Picture {
    /// Reads a buffer that was drawn with a theme.
    pub fn of(buffer: &Buffer, theme: &Theme) -> Self {
        let letters = Letters::of(theme);
        let mut legend = BTreeMap::new();
        let mut picture = Self { lines: Vec::new(), runs: Vec::new(), legend: BTreeMap::new() };
        for y in buffer.area.rows().map(|row| row.y) {
            let row: Vec<&Cell> = (0..buffer.area.width).map(|x| &buffer[(buffer.area.x + x, y)]).collect();
            picture.lines.push(line(&row));
            picture.runs.push(runs(&row, &letters, &mut legend));
        }
        picture.legend = legend;
        picture
    }
}

impl fmt::Display for Picture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for line in &self.lines {
            writeln!(f, "|{line}")?;
        }
        writeln!(f)?;
        for (row, runs) in self.runs.iter().enumerate() {
            writeln!(f, "{row:>2}  {runs}")?;
        }
        writeln!(f)?;
        for (letter, words) in &self.legend {
            writeln!(f, "{letter} {words}")?;
        }
        Ok(())
    }
}

/// The symbols of a row. What stands behind a wide symbol is not shown by a terminal.
fn line(row: &[&Cell]) -> String {
    let (mut text, mut hidden) = (String::new(), 0);
    for cell in row {
        if hidden > 0 {
            hidden -= 1;
            continue;
        }
        text.push_str(cell.symbol());
        hidden = cell.symbol().width().saturating_sub(1);
    }
    text.trim_end().to_string()
}

fn runs(row: &[&Cell], letters: &Letters, legend: &mut BTreeMap<char, &'static str>) -> String {
    let mut runs: Vec<(usize, String)> = Vec::new();
    for cell in row {
        let style = style(cell, letters, legend);
        match runs.last_mut() {
            Some((count, last)) if *last == style => *count += 1,
            _ => runs.push((1, style)),
        }
    }
    // A blank between words of one style parts nothing, and those at the end are of no interest.
    let mut joined: Vec<(usize, String)> = Vec::new();
    for (count, style) in runs {
        match joined.as_mut_slice() {
            [.., (before, same), (1, blank)] if *blank == "." && *same == style => {
                *before += 1 + count;
                joined.pop();
            }
            _ => joined.push((count, style)),
        }
    }
    joined.pop_if(|(_, style)| style == ".");
    let words: Vec<String> = joined.into_iter().map(|(count, style)| format!("{count}{style}")).collect();
    words.join(" ")
}

fn style(cell: &Cell, letters: &Letters, legend: &mut BTreeMap<char, &'static str>) -> String {
    let modified = cell.modifier;
    // Blanks show their ground only.
    let seen = cell.symbol() != " " || modified.intersects(Modifier::REVERSED | Modifier::UNDERLINED);
    let mut words = String::new();
    let mut name = |colour| {
        let (letter, meaning) = letters.of_colour(colour);
        if letter != '.' {
            legend.insert(letter, meaning);
        }
        letter
    };
    words.push(if seen { name(cell.fg) } else { '.' });
    if cell.bg != Color::Reset {
        words.push('/');
        words.push(name(cell.bg));
    }
    for (modifier, mark) in
        [(Modifier::BOLD, '!'), (Modifier::UNDERLINED, '_'), (Modifier::REVERSED, '%'), (Modifier::DIM, '\'')]
    {
        if seen && modified.contains(modifier) {
            words.push(mark);
        }
    }
    words
}

/// What a colour is called.
struct Letters {
    theme: Theme,
}

impl Letters {
    fn of(theme: &Theme) -> Self {
        Self { theme: *theme }
    }

    fn of_colour(&self, colour: Color) -> (char, &'static str) {
        if colour == Color::Reset {
            return ('.', "the terminal's own");
        }
        if self.theme.depth() == Depth::Sixteen {
            let named = NAMED.iter().find(|(_, _, named)| *named == colour);
            return named.map_or(('?', "none of the sixteen"), |(letter, words, _)| (*letter, *words));
        }
        let role = ROLES.iter().find(|(_, _, role)| self.theme.colour(*role) == colour);
        role.map_or(('~', "a blend"), |(letter, words, _)| (*letter, *words))
    }
}

const NAMED: &[(char, &str, Color)] = &[
    ('k', "black", Color::Black),
    ('r', "red", Color::Red),
    ('g', "green", Color::Green),
    ('y', "yellow", Color::Yellow),
    ('b', "blue", Color::Blue),
    ('m', "magenta", Color::Magenta),
    ('c', "cyan", Color::Cyan),
    ('w', "light grey", Color::Gray),
    ('d', "dark grey", Color::DarkGray),
    ('R', "light red", Color::LightRed),
    ('G', "light green", Color::LightGreen),
    ('Y', "light yellow", Color::LightYellow),
    ('B', "light blue", Color::LightBlue),
    ('M', "light magenta", Color::LightMagenta),
    ('C', "light cyan", Color::LightCyan),
    ('W', "white", Color::White),
];

/// Text first: where two roles have one colour, the words are what is meant.
const ROLES: &[(char, &str, Role)] = &[
    ('t', "text", Role::Text),
    ('d', "dim", Role::Dim),
    ('A', "accent", Role::Accent),
    ('F', "frame", Role::Frame),
    ('S', "stop", Role::Stop),
    ('C', "caution", Role::Caution),
    ('N', "note", Role::Note),
    ('*', "selected or changed", Role::Selected),
    ('m', "measured or a hole reused", Role::Measured),
    ('q', "guess", Role::Guess),
    ('+', "cursor", Role::Cursor),
    ('h', "hull", Role::Hull),
    ('R', "raised deck", Role::Raised),
    ('D', "deck", Role::Deck),
    ('L', "shallow well", Role::Shallow),
    ('P', "deep well", Role::Deep),
    ('W', "wet deck", Role::Wet),
    ('H', "in hand", Role::InHand),
    ('T', "at stretch", Role::AtStretch),
    ('U', "out of reach", Role::OutOfReach),
    ('s', "seam", Role::Seam),
    ('l', "lid", Role::Lid),
    ('r', "rim", Role::Rim),
    ('f', "fitting", Role::Fitting),
    ('o', "foam", Role::Foam),
    ('e', "seat", Role::Seat),
    ('p', "person", Role::Person),
    ('w', "waterline", Role::Waterline),
    ('v', "envelope", Role::Envelope),
    ('x', "screen", Role::Screen),
    ('b', "power", Role::Power),
    ('k', "tackle", Role::Tackle),
    ('c', "stow", Role::Stow),
    ('z', "drive", Role::Drive),
    ('y', "fixing", Role::Fixing),
    ('g', "gear's rim", Role::GearRim),
    ('j', "face", Role::Face),
    ('u', "wire", Role::Wire),
    ('G', "ghost", Role::Ghost),
    ('X', "ghost that does not fit", Role::GhostStop),
    ('Z', "hole plugged", Role::HolePlugged),
    ('O', "hole", Role::Hole),
];
