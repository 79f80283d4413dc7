//! `gunnel review`: a partner looks at a plan on the screen, and leaves with what was said.

use super::arguments::Review;
use super::{Failure, Surroundings, notes, screen};
use crate::plan::Key;
use crate::shown::Shown;
use crate::storage::paths::Env;
use crate::tui::run::Options;

pub(super) fn review(
    asked: &Review,
    options: Options,
    around: &mut Surroundings<'_>,
    open_screen: impl FnOnce(&Options, &Env) -> anyhow::Result<()>,
) -> Result<u8, Failure> {
    let reviewer = reviewer(&asked.name)?;
    let options = Options { reviewer: Some(reviewer), ..options };
    screen(&options, around, open_screen)?;
    notes::notes(&asked.plan, false, false, around)
}

/// Who speaks under this name: anybody but the owner.
pub(super) fn reviewer(name: &str) -> Result<Key, Failure> {
    let reviewer = Key::new(name).map_err(|fault| {
        Failure::usage(&format!("--as \"{}\": {fault}", Shown(name)), "small letters, digits, dashes: --as partner")
    })?;
    if reviewer.as_str() == "owner" {
        return Err(Failure::usage("--as owner: so speaks whoever opens the plan to change it", "take another name"));
    }
    Ok(reviewer)
}
