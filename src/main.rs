//! The program: hands the command line to the library and its answer to the system. A panic exits with 101.

use std::process::ExitCode;

use gunnel::cli::{self, Failure};
use gunnel::tui::options::Options;

fn main() -> ExitCode {
    ExitCode::from(cli::main(open_screen))
}

/// The one place where the screen is entered.
fn open_screen(_options: Options) -> Result<(), Failure> {
    Err(Failure::new(
        cli::exit::USAGE,
        "this build has no screen",
        Some("gunnel check and gunnel show work without one"),
    ))
}
