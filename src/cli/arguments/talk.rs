//! What is asked of two people's talk about a plan: looking at it together, what was said, whether all is set up for it.

use std::path::PathBuf;

use clap::Args;

use super::Screen;

#[derive(Args, Debug)]
pub(in crate::cli) struct Notes {
    /// The plan; what was said lies in a folder beside it
    pub(in crate::cli) plan: PathBuf,

    /// Print one JSON document
    #[arg(long, conflicts_with = "markdown")]
    pub(in crate::cli) json: bool,

    /// Print Markdown
    #[arg(long)]
    pub(in crate::cli) markdown: bool,
}

#[derive(Args, Debug)]
pub(in crate::cli) struct Review {
    /// The plan; what you say is written into a folder beside it
    pub(in crate::cli) plan: PathBuf,

    /// Your name: letters, digits and dashes
    #[arg(long = "as", value_name = "NAME")]
    pub(in crate::cli) name: String,

    #[command(flatten)]
    pub(super) screen: Screen,
}

#[derive(Args, Debug)]
#[command(after_help = "Exit codes: 0 no stop stands, 1 one does, 2 asked wrongly, 4 the plan cannot be read.")]
pub(in crate::cli) struct Doctor {
    /// A plan to look over as well: its file, its lock, what was said about it
    pub(in crate::cli) plan: Option<PathBuf>,

    /// Whether this account can review the plan under this name; run it as the partner's account
    #[arg(long = "as", value_name = "NAME", requires = "plan")]
    pub(in crate::cli) name: Option<String>,

    /// Print one JSON document
    #[arg(long, conflicts_with = "sample")]
    pub(in crate::cli) json: bool,

    /// Show the symbols and colours even where the output is no terminal
    #[arg(long)]
    pub(in crate::cli) sample: bool,
}
