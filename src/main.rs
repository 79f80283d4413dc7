//! The program.
fn main() {
    let options = gunnel::tui::run::Options { plan: std::env::args().nth(1).map(Into::into), ..Default::default() };
    if let Err(e) = gunnel::tui::run::run(&options, &gunnel::storage::paths::Env::of_process()) {
        eprintln!("{e:#}");
        std::process::exit(4);
    }
}
