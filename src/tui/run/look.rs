//! How things are shown: flags first, then what the environment says.

use super::Options;
use crate::storage::paths::Env;
use crate::tui::app::Look;
use crate::tui::glyphs::Glyphs;
use crate::tui::theme::{Depth, Environment, Ground, Theme};
use crate::units::{Measure, Tape};

/// Decides colours, symbols and tape.
pub(super) fn chosen(options: &Options, env: &Env) -> Look {
    let texts = ["NO_COLOR", "CLICOLOR", "CLICOLOR_FORCE", "COLORTERM", "TERM", "LC_ALL", "LC_CTYPE", "LANG"]
        .map(|name| env.text(name));
    let [no_color, clicolor, clicolor_force, colorterm, term, all, ctype, lang] = &texts;
    let locale = all.as_deref().or(ctype.as_deref()).or(lang.as_deref());
    let environment = Environment {
        no_color: no_color.as_deref(),
        clicolor: clicolor.as_deref(),
        clicolor_force: clicolor_force.as_deref(),
        colorterm: colorterm.as_deref(),
        term: term.as_deref(),
        locale,
    };
    let ground = if options.light { Ground::Light } else { Ground::Dark };
    Look {
        theme: Theme::new(ground, Depth::choose(options.colour, &environment)),
        glyphs: Glyphs::choose(options.glyphs, &environment),
        tape: Measure(if options.inches { Tape::Inches } else { Tape::Metric }),
    }
}
