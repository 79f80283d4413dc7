//! Putting text into cells: clipped to its area, measured by what the terminal shows.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// Columns a text takes.
pub fn width(text: &str) -> u16 {
    u16::try_from(text.width()).unwrap_or(u16::MAX)
}

/// A text cut to so many columns, with an ellipsis where something was cut.
pub fn fit(text: &str, columns: u16, ascii: bool) -> String {
    if width(text) <= columns {
        return text.to_string();
    }
    let mark = if ascii { "~" } else { "…" };
    let room = usize::from(columns.saturating_sub(1));
    let mut cut = String::new();
    let mut used = 0;
    for grapheme in text.graphemes(true) {
        used += grapheme.width();
        if used > room {
            break;
        }
        cut.push_str(grapheme);
    }
    if columns > 0 {
        cut.push_str(mark);
    }
    cut
}

/// The part of a typed text that shows the text cursor, and the cursor's column in it. `cursor` counts
/// characters; the last column is kept free for a cursor at the end.
pub fn typed(text: &str, cursor: usize, columns: u16) -> (String, u16) {
    let before: String = text.chars().take(cursor).collect();
    let room = columns.saturating_sub(1);
    let mut skipped = 0;
    let mut hidden = 0;
    for grapheme in before.graphemes(true) {
        if width(&before) - hidden <= room {
            break;
        }
        hidden += width(grapheme);
        skipped += grapheme.len();
    }
    let shown: String = text[skipped..]
        .graphemes(true)
        .scan(0, |used, grapheme| {
            *used += width(grapheme);
            (*used <= columns).then_some(grapheme)
        })
        .collect();
    (shown, width(&before) - hidden)
}

/// Puts a text at the left of an area's first row. Returns the columns it took.
pub fn put(buffer: &mut Buffer, area: Rect, text: &str, style: Style) -> u16 {
    let area = area.intersection(buffer.area);
    if area.is_empty() {
        return 0;
    }
    let (end, _) = buffer.set_stringn(area.x, area.y, text, usize::from(area.width), style);
    end - area.x
}

/// Puts a text at the right of an area's first row.
pub fn put_right(buffer: &mut Buffer, area: Rect, text: &str, style: Style) {
    let taken = width(text).min(area.width);
    put(buffer, Rect { x: area.right() - taken, width: taken, ..area }, text, style);
}

/// Puts pieces of text one after the other.
pub fn put_all<'a>(buffer: &mut Buffer, mut area: Rect, pieces: impl IntoIterator<Item = (&'a str, Style)>) -> u16 {
    let start = area.x;
    for (text, style) in pieces {
        let taken = put(buffer, area, text, style);
        area.x += taken;
        area.width -= taken;
    }
    area.x - start
}

/// The rows of an area, each one line high.
pub fn rows(area: Rect) -> impl Iterator<Item = Rect> {
    (area.y..area.bottom()).map(move |y| Rect { y, height: 1, ..area })
}

/// Breaks a text into lines of at most so many columns, between words where possible.
pub fn wrap(text: &str, columns: u16) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        let line = lines.last_mut().map_or(0, |line| width(line));
        let joined = line + u16::from(line > 0) + width(word);
        if joined > columns && line > 0 {
            lines.push(String::new());
        }
        if let Some(line) = lines.last_mut() {
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(&fit(word, columns.max(1), true));
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cut_text_says_so() {
        assert_eq!(fit("9-inch display", 8, false), "9-inch …");
        assert_eq!(fit("crate", 8, false), "crate");
        assert_eq!(fit("crate", 0, false), "");
    }

    #[test]
    fn typed_text_scrolls_with_its_cursor() {
        assert_eq!(typed("short", 5, 10), ("short".into(), 5));
        assert_eq!(typed("a longer text", 13, 6), (" text".into(), 5));
        assert_eq!(typed("a longer text", 0, 6), ("a long".into(), 0));
        assert_eq!(typed("", 0, 0), (String::new(), 0));
    }

    #[test]
    fn wrapping_keeps_words_whole() {
        assert_eq!(wrap("move it 60 mm aft or turn it", 12), ["move it 60", "mm aft or", "turn it"]);
    }
}
