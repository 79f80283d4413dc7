//! Plan to text: RON that a person can read and edit, or JSON; read back and compared before anybody may save it.

mod layout;

use std::fmt;
use std::path::Path;

use super::load::{self, Format, LoadError};
use crate::plan::Plan;

/// How every RON plan begins.
const HEAD: &str = "#![enable(implicit_some)]\n\
    // A gunnel plan. Edit it by hand as you like; comments are not kept by the next save, notes are.\n";

/// The plan as text that, read back, is the same plan.
pub fn plan(plan: &Plan, format: Format) -> Result<String, WriteError> {
    let text = match format {
        Format::Ron => {
            let flat =
                load::ron_options().to_string(plan).map_err(|error| WriteError::Unwritable(error.to_string()))?;
            format!("{HEAD}{}", layout::laid_out(&flat))
        }
        Format::Json => {
            let text = serde_json::to_string_pretty(plan).map_err(|error| WriteError::Unwritable(error.to_string()))?;
            text + "\n"
        }
    };
    let back = load::plan(&text, Path::new("the text to be saved"), format).map_err(WriteError::Refused)?;
    if back == *plan { Ok(text) } else { Err(WriteError::Differs) }
}

/// Why a plan was not written. Nothing on disk was touched.
#[derive(Clone, Debug, PartialEq)]
pub enum WriteError {
    /// The format cannot hold it.
    Unwritable(String),
    /// What was written would be refused when read.
    Refused(LoadError),
    /// What was written reads back as another plan.
    Differs,
}

impl fmt::Display for WriteError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unwritable(why) => {
                write!(f, "the plan cannot be written down ({why}); undo the last edit and save again")
            }
            Self::Refused(error) => write!(f, "the plan could not be opened again: {error}"),
            Self::Differs => write!(f, "the plan would come back changed; undo the last edit and save again"),
        }
    }
}

impl std::error::Error for WriteError {}
