//! Text from a file or a person on its way to a screen, a log or an error message.
//!
//! Everything that was not written in this program is shown through [`Shown`]: control characters,
//! direction overrides and invisible characters become visible marks, so that a name can neither
//! drive the terminal nor pretend to be another name.

use std::fmt;

/// Displays text with every unsafe character replaced by a visible mark such as `⟨U+202E⟩`.
#[derive(Clone, Copy, Debug)]
pub struct Shown<'a>(pub &'a str);

impl fmt::Display for Shown<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut combining = 0;
        for c in self.0.chars() {
            combining = if is_combining(c) { combining + 1 } else { 0 };
            match c {
                '\n' | '\t' => f.write_str(" ")?,
                c if is_unsafe(c) => write!(f, "⟨U+{:04X}⟩", c as u32)?,
                // A pile of accents on one letter would paint over the lines around it.
                _ if combining > 8 => {}
                c => write!(f, "{c}")?,
            }
        }
        Ok(())
    }
}

/// The first character of a text that may not stand in a name, with its position in characters.
pub fn first_unsafe(text: &str) -> Option<(usize, char)> {
    text.chars().enumerate().find(|(_, c)| is_unsafe(*c))
}

/// Control characters (C0, DEL, C1), direction marks and overrides, and invisible characters.
///
/// Source: Unicode Standard Annex 9 (bidirectional formatting characters) and Unicode Technical
/// Report 36 (security considerations), from memory.
pub fn is_unsafe(c: char) -> bool {
    c.is_control()
        || matches!(c,
            '\u{061C}' | '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2060}'..='\u{206F}'
            | '\u{FEFF}' | '\u{FE00}'..='\u{FE0F}' | '\u{FFF9}'..='\u{FFFB}' | '\u{E0000}'..='\u{E0FFF}')
}

fn is_combining(c: char) -> bool {
    matches!(c, '\u{0300}'..='\u{036F}' | '\u{1AB0}'..='\u{1AFF}' | '\u{1DC0}'..='\u{1DFF}' | '\u{20D0}'..='\u{20FF}' | '\u{FE20}'..='\u{FE2F}')
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_title_change_and_a_direction_override_become_visible() {
        assert_eq!(Shown("a\u{1b}]0;x\u{7}b").to_string(), "a⟨U+001B⟩]0;x⟨U+0007⟩b");
        assert_eq!(Shown("gnal\u{202e}lort").to_string(), "gnal⟨U+202E⟩lort");
        assert_eq!(Shown("9-inch display").to_string(), "9-inch display");
    }

    proptest! {
        #[test]
        fn nothing_unsafe_ever_comes_out(text in "\\PC*|.*") {
            let shown = Shown(&text).to_string();
            prop_assert!(!shown.chars().any(is_unsafe), "{shown:?}");
        }
    }
}
