//! What the person asked for on the command line, as far as the screen is concerned.

use std::path::PathBuf;

use super::glyphs::GlyphChoice;
use super::theme::{ColourChoice, Ground};
use crate::units::Tape;

/// How the screen starts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Options {
    /// The plan to open; without one the start screen.
    pub plan: Option<PathBuf>,
    /// Colours.
    pub colour: ColourChoice,
    /// Symbols.
    pub glyphs: GlyphChoice,
    /// Dark or light background.
    pub ground: Ground,
    /// Millimetres or inches.
    pub tape: Tape,
}
