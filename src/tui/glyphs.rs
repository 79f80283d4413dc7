//! Every symbol the screen draws, each with a twin for terminals that know only ASCII.
//!
//! All are one cell wide. Half blocks and quadrants are the finest drawing used: many terminal
//! fonts lack anything finer.

use super::theme::{Decider, Environment};

/// What the person asked for with `--glyphs`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum GlyphChoice {
    /// Decide from the environment.
    #[default]
    Auto,
    /// ASCII only.
    Ascii,
    /// Box drawing, half blocks and quadrants.
    Block,
}

/// Which set of symbols is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Glyphs {
    /// Box drawing, half blocks and quadrants.
    Block,
    /// ASCII only.
    Ascii,
}

/// A symbol by its meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Glyph {
    /// A finding that stands in the way.
    Stop,
    /// A finding to think about.
    Caution,
    /// A finding worth knowing.
    Note,
    /// A thread that waits.
    Thread,
    /// A thread about what is gone.
    ThreadGone,
    /// What somebody points at.
    Pointed,
    /// Where gear stood.
    Then,
    /// A hole that another state of the plan has.
    HoleGone,
    /// A hole still to be drilled.
    HoleNew,
    /// An existing hole that serves.
    HoleReused,
    /// A hole closed for good.
    HolePlugged,
    /// An existing hole, open and unused.
    HoleOpen,
    /// A drain tube.
    Scupper,
    /// A drain tube that lets water in.
    ScupperWet,
    /// A threaded insert.
    Insert,
    /// A moulded entry for cables.
    WirePort,
    /// The stopper of the inside.
    DrainPlug,
    /// A tube for a rod, a rod holder.
    Ring,
    /// A light.
    Lamp,
    /// The cursor's middle.
    Cursor,
    /// A mark on the ruler above or below.
    RulerDown,
    /// The same below, pointing up.
    RulerUp,
    /// A mark on the ruler at the left.
    RulerRight,
    /// The same at the right, pointing left.
    RulerLeft,
    /// Goes on beyond the edge, upward.
    Beyond,
    /// A handle's grip.
    Grip,
    /// A line of a dimension, across.
    DimensionAcross,
    /// The same, upright.
    DimensionUp,
    /// A plumb line.
    Plumb,
    /// Dark hours.
    Shade,
    /// A straight edge.
    Edge,
    /// A wire branches off, and the one it comes from goes on.
    Fork,
    /// The last branch of a wire.
    LastFork,
}

impl Glyphs {
    /// Decides the set, and says what decided: the person's choice, else ASCII when the terminal is the plain console
    /// or a dumb one, or the locale is not UTF-8.
    pub fn choose(choice: GlyphChoice, environment: &Environment<'_>) -> (Self, Decider) {
        let plain = matches!(environment.term, Some("linux" | "dumb") | None);
        let (locale, utf8) = environment.utf8();
        match choice {
            GlyphChoice::Ascii => (Self::Ascii, Decider::Flag),
            GlyphChoice::Block => (Self::Block, Decider::Flag),
            GlyphChoice::Auto if plain => (Self::Ascii, Decider::Variable("TERM")),
            GlyphChoice::Auto if utf8 => (Self::Block, Decider::Variable(locale)),
            GlyphChoice::Auto => (Self::Ascii, Decider::Variable(locale)),
        }
    }

    /// The symbol for a meaning.
    pub fn of(self, glyph: Glyph) -> &'static str {
        let (block, ascii) = twins(glyph);
        match self {
            Self::Block => block,
            Self::Ascii => ascii,
        }
    }

    /// The symbol of a cell of which these quarters are lit: upper left, upper right, lower left,
    /// lower right. ASCII picks the stroke that runs the same way.
    pub fn quarters(self, lit: [bool; 4]) -> &'static str {
        let index = lit.iter().enumerate().fold(0, |sum, (i, on)| if *on { sum | 1 << i } else { sum });
        match self {
            Self::Block => QUADRANTS[index],
            Self::Ascii => STROKES[index],
        }
    }
}

/// By bits: 1 upper left, 2 upper right, 4 lower left, 8 lower right.
const QUADRANTS: [&str; 16] = [" ", "▘", "▝", "▀", "▖", "▌", "▞", "▛", "▗", "▚", "▐", "▜", "▄", "▙", "▟", "█"];

const STROKES: [&str; 16] = [" ", "`", "'", "-", ",", "|", "/", "/", ".", "\\", "|", "\\", "_", "\\", "/", "#"];

fn twins(glyph: Glyph) -> (&'static str, &'static str) {
    match glyph {
        Glyph::Stop => ("!", "!"),
        Glyph::Caution => ("?", "?"),
        Glyph::Note => ("i", "i"),
        Glyph::Thread => ("§", "$"),
        Glyph::ThreadGone => ("†", "+"),
        Glyph::Pointed => ("◆", "#"),
        Glyph::Then => ("◇", "<"),
        Glyph::HoleGone => ("∅", "/"),
        Glyph::HoleNew => ("●", "@"),
        Glyph::HoleReused => ("○", "o"),
        Glyph::HolePlugged => ("⊗", "x"),
        Glyph::HoleOpen => ("×", "X"),
        Glyph::Scupper => ("◌", "o"),
        Glyph::ScupperWet => ("◍", "w"),
        Glyph::Insert => ("∘", "."),
        Glyph::WirePort => ("◎", "0"),
        Glyph::DrainPlug => ("◦", "o"),
        Glyph::Ring => ("◯", "O"),
        Glyph::Lamp => ("✦", "*"),
        Glyph::Cursor => ("┼", "+"),
        Glyph::RulerDown => ("▾", "v"),
        Glyph::RulerUp => ("▴", "^"),
        Glyph::RulerRight => ("▸", ">"),
        Glyph::RulerLeft => ("◂", "<"),
        Glyph::Beyond => ("↑", "^"),
        Glyph::Grip => ("═", "="),
        Glyph::DimensionAcross => ("─", "-"),
        Glyph::DimensionUp => ("│", "|"),
        Glyph::Plumb => ("┊", ":"),
        Glyph::Shade => ("▒", "#"),
        Glyph::Edge => ("━", "="),
        Glyph::Fork => ("├", "+"),
        Glyph::LastFork => ("└", "`"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use unicode_width::UnicodeWidthStr;

    fn check(environment: Environment<'_>, glyphs: Glyphs, by: &'static str) {
        let chosen = Glyphs::choose(GlyphChoice::Auto, &environment);
        assert_eq!(chosen, (glyphs, Decider::Variable(by)), "{environment:?}");
    }

    #[test]
    fn ascii_where_more_cannot_be_trusted() {
        let good = Environment { term: Some("xterm-256color"), lang: Some("en_GB.UTF-8"), ..Default::default() };
        check(good, Glyphs::Block, "LANG");
        check(Environment { lang: Some("C"), ..good }, Glyphs::Ascii, "LANG");
        check(Environment { lang: None, ..good }, Glyphs::Ascii, "LANG");
        check(Environment { lc_ctype: Some("C"), ..good }, Glyphs::Ascii, "LC_CTYPE");
        check(Environment { lc_all: Some("C.utf8"), lc_ctype: Some("C"), ..good }, Glyphs::Block, "LC_ALL");
        check(Environment { term: Some("linux"), ..good }, Glyphs::Ascii, "TERM");
        check(Environment { term: Some("dumb"), ..good }, Glyphs::Ascii, "TERM");
        assert_eq!(Glyphs::choose(GlyphChoice::Ascii, &good), (Glyphs::Ascii, Decider::Flag));
        assert_eq!(Glyphs::choose(GlyphChoice::Block, &Environment::default()), (Glyphs::Block, Decider::Flag));
    }

    #[test]
    fn every_symbol_is_one_cell_wide_and_has_an_ascii_twin() {
        for index in 0..=Glyph::LastFork as u8 {
            let glyph = ALL[usize::from(index)];
            assert_eq!(glyph as u8, index);
            assert_eq!(Glyphs::Block.of(glyph).width(), 1, "{glyph:?}");
            assert!(Glyphs::Ascii.of(glyph).is_ascii() && Glyphs::Ascii.of(glyph).len() == 1, "{glyph:?}");
        }
        assert!(QUADRANTS.iter().all(|q| q.width() == 1));
        assert!(STROKES.iter().all(|s| s.is_ascii() && s.len() == 1));
    }

    const ALL: [Glyph; 33] = [
        Glyph::Stop,
        Glyph::Caution,
        Glyph::Note,
        Glyph::Thread,
        Glyph::ThreadGone,
        Glyph::Pointed,
        Glyph::Then,
        Glyph::HoleGone,
        Glyph::HoleNew,
        Glyph::HoleReused,
        Glyph::HolePlugged,
        Glyph::HoleOpen,
        Glyph::Scupper,
        Glyph::ScupperWet,
        Glyph::Insert,
        Glyph::WirePort,
        Glyph::DrainPlug,
        Glyph::Ring,
        Glyph::Lamp,
        Glyph::Cursor,
        Glyph::RulerDown,
        Glyph::RulerUp,
        Glyph::RulerRight,
        Glyph::RulerLeft,
        Glyph::Beyond,
        Glyph::Grip,
        Glyph::DimensionAcross,
        Glyph::DimensionUp,
        Glyph::Plumb,
        Glyph::Shade,
        Glyph::Edge,
        Glyph::Fork,
        Glyph::LastFork,
    ];
}
