//! The command line: one verb, one answer, one exit code.
//!
//! What was asked for goes to standard output, everything else to standard error. A reader that goes away early
//! (`| head`) ends the program quietly. The screen itself is opened through a function handed in by the caller.

mod answer;
mod arguments;
mod diff;
pub mod doctor;
mod draw;
mod failure;
mod float;
mod notes;
mod review;
mod sheet;
mod verbs;

use std::ffi::{OsStr, OsString};
use std::io::{IsTerminal, Read, Write};
use std::path::Path;

use clap::{CommandFactory, Parser};

use arguments::{Arguments, Verb};
pub use failure::Failure;

use crate::nearest::nearest;
use crate::shown::Shown;
use crate::storage::paths::{Env, Folders};
use crate::tui::run::Options;

/// Exit codes, as `--help` documents them.
pub mod exit {
    /// Done, and no stop stands.
    pub const CLEAN: u8 = 0;
    /// Done, and the answer is no: a stop stands, it does not float, no move brings it level, two plans differ.
    pub const STOP: u8 = 1;
    /// Asked wrongly.
    pub const USAGE: u8 = 2;
    /// What was read is no plan, no hull, no body.
    pub const UNREADABLE: u8 = 3;
    /// Reading or writing failed.
    pub const INPUT_OUTPUT: u8 = 4;
    /// Somebody else is at it; try again later.
    pub const BUSY: u8 = 5;
}

/// What the program is given by whoever starts it.
pub struct Surroundings<'a> {
    /// The variables.
    pub env: Env,
    /// Standard input.
    pub input: &'a mut dyn Read,
    /// Standard output.
    pub output: &'a mut dyn Write,
    /// Standard error.
    pub errors: &'a mut dyn Write,
    /// Whether input and output are a terminal.
    pub terminal: bool,
}

/// Runs the program as the system started it. `open_screen` shows the screen and returns when the person leaves it.
pub fn main(open_screen: impl FnOnce(&Options, &Env) -> anyhow::Result<()>) -> u8 {
    // Not locked: the screen's other threads write to them too.
    let (mut input, mut output, mut errors) = (std::io::stdin(), std::io::stdout(), std::io::stderr());
    let terminal = input.is_terminal() && output.is_terminal();
    let mut around =
        Surroundings { env: Env::of_process(), input: &mut input, output: &mut output, errors: &mut errors, terminal };
    run(std::env::args_os(), &mut around, open_screen)
}

/// Runs the program with these arguments; the exit code.
pub fn run(
    arguments: impl IntoIterator<Item = OsString>,
    around: &mut Surroundings<'_>,
    open_screen: impl FnOnce(&Options, &Env) -> anyhow::Result<()>,
) -> u8 {
    let arguments: Vec<_> = arguments.into_iter().collect();
    if let Some(failure) = arguments.get(1).and_then(|first| mistyped(first)) {
        return told(&failure, false, around);
    }
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(refusal) => return refused(&refusal, around),
    };
    let json = arguments.wants_json();
    let done = match &arguments.verb {
        Some(Verb::Review(asked)) => review::review(asked, arguments.options(), around, open_screen),
        Some(verb) => answer(verb, around),
        None => screen(&arguments.options(), around, open_screen),
    };
    match done {
        Ok(code) => code,
        Err(failure) if failure.is_quiet() => exit::CLEAN,
        Err(failure) => told(&failure, json, around),
    }
}

/// Tells of a failure; its exit code, which says so even where nobody is left to tell.
fn told(failure: &Failure, json: bool, around: &mut Surroundings<'_>) -> u8 {
    let _ =
        if json { write!(around.output, "{}", failure.json()) } else { write!(around.errors, "{}", failure.text()) };
    failure.code()
}

/// A first word that is neither a command nor a file and nearly a command.
fn mistyped(first: &OsStr) -> Option<Failure> {
    let word = first.to_str().filter(|word| !word.starts_with('-') && !Path::new(word).exists())?;
    let command = Arguments::command();
    let commands: Vec<&str> = command.get_subcommands().map(clap::Command::get_name).collect();
    let meant = nearest(word, commands.iter().copied()).filter(|meant| *meant != word)?;
    let what = format!("no command is called \"{}\", and no file", Shown(word));
    Some(Failure::usage(&what, &format!("did you mean {meant}?")))
}

/// Help and version are asked for; everything else here was asked for wrongly.
fn refused(refusal: &clap::Error, around: &mut Surroundings<'_>) -> u8 {
    let text = refusal.render();
    if refusal.use_stderr() {
        let _ = write!(around.errors, "{text}");
        exit::USAGE
    } else {
        let _ = write!(around.output, "{text}");
        exit::CLEAN
    }
}

fn answer(verb: &Verb, around: &mut Surroundings<'_>) -> Result<u8, Failure> {
    let folders = Folders::of(&around.env);
    match verb {
        Verb::New(new) => verbs::new(new, &folders, around),
        Verb::Check(check) => verbs::check(check, around),
        Verb::Show(show) => verbs::show(show, around),
        Verb::Float(float) => float::float(float, &folders, around),
        Verb::Level(level) => verbs::level(level, around),
        Verb::Diff(diff) => diff::diff(diff, around),
        Verb::Notes(notes) => notes::notes(&notes.plan, notes.json, notes.markdown, around),
        Verb::Sheet(arguments) => sheet::sheet(arguments, &folders, around),
        Verb::Draw(arguments) => draw::draw(arguments, &folders, around),
        Verb::Doctor(doctor) => doctor::doctor(doctor, &folders, around),
        // The screen is opened by whoever called.
        Verb::Review(_) => Ok(exit::USAGE),
        Verb::Explain { check } => verbs::explain(check.as_deref(), around),
        Verb::Catalogue(catalogue) => verbs::catalogue(catalogue, &folders, around),
        Verb::Completions { shell } => {
            let mut text = Vec::new();
            clap_complete::generate(*shell, &mut Arguments::command(), "gunnel", &mut text);
            answer::put(around, &text)
        }
        Verb::Man => {
            let mut page = Vec::new();
            clap_mangen::Man::new(Arguments::command()).render(&mut page).map_err(Failure::output)?;
            answer::put(around, &page)
        }
    }
}

fn screen(
    options: &Options,
    around: &mut Surroundings<'_>,
    open_screen: impl FnOnce(&Options, &Env) -> anyhow::Result<()>,
) -> Result<u8, Failure> {
    if around.terminal {
        return match open_screen(options, &around.env) {
            Ok(()) => Ok(exit::CLEAN),
            Err(error) => Err(Failure::screen(&error)),
        };
    }
    if let Some(plan) = &options.plan {
        let plan = crate::storage::paths::shown(plan);
        return Err(Failure::usage(
            "the screen needs a terminal, and input or output is none",
            &format!("gunnel check {plan} and gunnel show {plan} work without one"),
        ));
    }
    let help = Arguments::command().render_help();
    let _ = write!(around.errors, "{help}");
    Ok(exit::USAGE)
}
