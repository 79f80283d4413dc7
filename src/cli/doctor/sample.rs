//! The symbols and colours themselves, so that a person sees whether they come out right.

use ratatui::prelude::IntoCrossterm;

use crate::tui::glyphs::{Glyph, Glyphs};
use crate::tui::theme::{Depth, Ground, Role, Theme};

/// Words that are shown in the colour of their role.
const ROLES: [(Role, &str); 9] = [
    (Role::Note, "note"),
    (Role::Caution, "caution"),
    (Role::Stop, "stop"),
    (Role::Accent, "keys"),
    (Role::Guess, "guess"),
    (Role::Measured, "measured"),
    (Role::Screen, "electronics"),
    (Role::Power, "power"),
    (Role::Waterline, "waterline"),
];

const GLYPHS: [Glyph; 16] = [
    Glyph::Stop,
    Glyph::Caution,
    Glyph::Note,
    Glyph::Thread,
    Glyph::HoleNew,
    Glyph::HoleReused,
    Glyph::HolePlugged,
    Glyph::HoleOpen,
    Glyph::Scupper,
    Glyph::WirePort,
    Glyph::Lamp,
    Glyph::Cursor,
    Glyph::RulerRight,
    Glyph::DimensionAcross,
    Glyph::DimensionUp,
    Glyph::Shade,
];

/// Two lines: symbols, and words in their colours. What does not come out as a symbol a cell, or in colours that cannot
/// be told apart, is better left out by `--glyphs ascii` or `--color never`.
pub fn sample(glyphs: Glyphs, depth: Depth) -> String {
    let theme = Theme::new(Ground::Dark, depth);
    let quarters = [0b0011, 0b0101, 0b0110, 0b1110, 0b1111_u8]
        .map(|lit| glyphs.quarters([0, 1, 2, 3].map(|bit| lit >> bit & 1 == 1)));
    let symbols: Vec<&str> = GLYPHS.iter().map(|glyph| glyphs.of(*glyph)).chain(quarters).collect();
    let painted = |(role, word): &(Role, &str)| theme.style(*role).into_crossterm().apply(word).to_string();
    let words: Vec<String> = match depth {
        Depth::Mono => vec!["none".into()],
        _ => ROLES.iter().map(painted).collect(),
    };
    format!("symbols  {}\ncolours  {}\n", symbols.join(" "), words.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn without_colours_and_with_ascii_it_is_plain_text() {
        let plain = sample(Glyphs::Ascii, Depth::Mono);
        assert!(plain.lines().all(|line| line.is_ascii() && !line.contains('\u{1b}')), "{plain:?}");
        assert!(sample(Glyphs::Block, Depth::Mono).contains("● ○ ⊗ ×"));
    }
}
