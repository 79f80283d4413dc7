//! Where in a text something is wrong: line, column, and the line itself with a mark under it.

use std::fmt;

use unicode_width::UnicodeWidthStr;

use crate::shown::Shown;

/// The widest part of a line that is quoted, in characters.
const WIDEST: usize = 100;

/// A place in a text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// Counted from 1.
    pub line: usize,
    /// In characters, counted from 1.
    pub column: usize,
    /// The line, or the part of a long one that matters; safe to show.
    pub quote: String,
    /// Where in `quote` the mark begins and how wide it is, in cells.
    mark: (usize, usize),
}

impl Place {
    /// The place of the bytes `start..end`, which is clipped to one line of the text.
    pub(super) fn of(text: &str, start: usize, end: usize) -> Self {
        let start = floor(text, start);
        let line_start = text[..start].rfind('\n').map_or(0, |at| at + 1);
        let line_end = text[start..].find('\n').map_or(text.len(), |at| start + at);
        let line = text[line_start..line_end].trim_end_matches('\r');
        let from = (start - line_start).min(line.len());
        let to = (floor(text, end).saturating_sub(line_start)).clamp(from, line.len());
        let column = line[..from].chars().count() + 1;

        // Of a long line (JSON is often one) only the surroundings are shown.
        let first = column.saturating_sub(WIDEST / 2 + 1);
        let window = |part: &str, skip: usize| part.chars().skip(skip).collect::<String>();
        let before = window(&line[..from], first);
        let marked: String = line[from..to].chars().take(WIDEST / 2).collect();
        let after: String = line[to..].chars().take(WIDEST / 2 - marked.chars().count().min(WIDEST / 2)).collect();
        let lead = if first > 0 { "…" } else { "" };
        let tail = if after.len() < line.len() - to { "…" } else { "" };
        let before = format!("{lead}{}", Shown(&before));
        let marked = Shown(&marked).to_string();
        let mark = (before.width(), marked.width().max(1));
        let quote = format!("{before}{marked}{}{tail}", Shown(&after)).trim_end().to_string();
        Self { line: text[..line_start].matches('\n').count() + 1, column, quote, mark }
    }

    /// The byte at which a line and column (counted from 1) stand; the end for one beyond it.
    pub(super) fn offset(text: &str, line: usize, column: usize) -> usize {
        let line_start = match line.saturating_sub(2) {
            _ if line <= 1 => 0,
            breaks => text.match_indices('\n').nth(breaks).map_or(text.len(), |(at, _)| at + 1),
        };
        let rest = &text[line_start..];
        rest.char_indices().nth(column.saturating_sub(1)).map_or(text.len(), |(at, _)| line_start + at)
    }
}

impl fmt::Display for Place {
    /// Two lines: the quote behind its number, and the mark.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let number = self.line.to_string();
        let (indent, width) = self.mark;
        writeln!(f, "{}", format!("  {number} | {}", self.quote).trim_end())?;
        write!(f, "  {0:1$} | {0:indent$}{2}", "", number.len(), "^".repeat(width))
    }
}

/// The nearest start of a character at or before a byte.
fn floor(text: &str, at: usize) -> usize {
    let at = at.min(text.len());
    (0..=at).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, word: &str, expected: &str) {
        let at = text.find(word).unwrap_or_default();
        assert_eq!(Place::of(text, at, at + word.len()).to_string(), expected);
    }

    #[test]
    fn the_mark_stands_under_the_word() {
        check("(\n  lable: 1,\n)", "lable", "  2 |   lable: 1,\n    |   ^^^^^");
        check("(\r\n\tlable: 1,\r\n)", "lable", "  2 |  lable: 1,\n    |  ^^^^^");
        check("(name: \"日本\", x)", "x", "  1 | (name: \"日本\", x)\n    |                ^");
        check("(a\u{202e}b: 1)", "1", "  1 | (a⟨U+202E⟩b: 1)\n    |              ^");
        check("", "", "  1 |\n    | ^");
    }

    #[test]
    fn a_long_line_is_cut_on_both_sides() {
        let text = format!("{}HERE{}", "a".repeat(5000), "b".repeat(5000));
        let place = Place::of(&text, 5000, 5004);
        assert_eq!((place.line, place.column), (1, 5001));
        assert!(place.quote.chars().count() <= WIDEST + 2, "{}", place.quote);
        let lines = place.to_string();
        let (quote, mark) = lines.split_once('\n').unwrap_or_default();
        assert_eq!(quote.chars().position(|c| c == 'H'), mark.chars().position(|c| c == '^'));
    }

    #[test]
    fn offsets_and_places_agree() {
        let text = "one\ntwö x\n\nend";
        for (at, _) in text.char_indices() {
            let place = Place::of(text, at, at);
            assert_eq!(Place::offset(text, place.line, place.column), at, "{place:?}");
        }
        assert_eq!(Place::offset(text, 99, 1), text.len());
    }
}
