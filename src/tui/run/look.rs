//! How things are shown: flags first, then what the environment says.

use super::Options;
use crate::storage::paths::Env;
use crate::tui::app::Look;
use crate::tui::glyphs::Glyphs;
use crate::tui::theme::{Decider, Depth, Environment, Ground, Theme};
use crate::units::{Measure, Tape};

/// Colours and symbols as they are chosen, and why.
#[derive(Clone, Copy, Debug)]
pub struct Reasons {
    /// How many colours, and what decided it.
    pub colours: (Depth, Decider),
    /// Which symbols, and what decided it.
    pub glyphs: (Glyphs, Decider),
    /// The variable that says which letters there are, and whether they are those of UTF-8.
    pub letters: (&'static str, bool),
}

/// Decides colours and symbols.
pub fn reasons(options: &Options, env: &Env) -> Reasons {
    let texts = ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE", "COLORTERM", "TERM", "LC_ALL", "LC_CTYPE", "LANG"]
        .map(|name| env.text(name));
    let [no_color, clicolor, clicolor_force, colorterm, term, lc_all, lc_ctype, lang] =
        texts.each_ref().map(Option::as_deref);
    let environment = Environment { no_color, clicolor, clicolor_force, colorterm, term, lc_all, lc_ctype, lang };
    Reasons {
        colours: Depth::choose(options.colour, &environment),
        glyphs: Glyphs::choose(options.glyphs, &environment),
        letters: environment.utf8(),
    }
}

/// Decides colours, symbols and tape.
pub(super) fn chosen(options: &Options, env: &Env) -> Look {
    let reasons = reasons(options, env);
    let ground = if options.light { Ground::Light } else { Ground::Dark };
    Look {
        theme: Theme::new(ground, reasons.colours.0),
        glyphs: reasons.glyphs.0,
        tape: Measure(if options.inches { Tape::Inches } else { Tape::Metric }),
    }
}
