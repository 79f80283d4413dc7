//! The program: hands the command line to the library and its answer to the system. A panic exits with 101.

use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(gunnel::cli::main(gunnel::tui::run::run))
}
