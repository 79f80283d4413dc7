//! Program, account and terminal: what the screen would be drawn with, and why so.

use std::io::IsTerminal;

use super::entry::Owners;
use super::line::Line;
use crate::plan::FORMAT;
use crate::storage::paths::Env;
use crate::terminal::frames::frames_a_second;
use crate::tui::areas::LEAST;
use crate::tui::glyphs::Glyphs;
use crate::tui::run::{Options, Reasons, reasons};
use crate::tui::theme::{Decider, Depth};

/// What is known of program, account and terminal.
#[derive(Clone, Debug)]
pub struct Machine {
    /// Whether the program was built for those who work on it.
    pub debug_build: bool,
    /// The account's name.
    pub account: String,
    /// Whether the account is the one that no permission holds back.
    pub root: bool,
    /// Input and output.
    pub streams: Streams,
    /// `TERM`.
    pub term: Option<String>,
    /// Whether the screen is at the other end of an ssh connection.
    pub over_ssh: bool,
    /// Colours and symbols as they are chosen.
    pub reasons: Reasons,
    /// The variables that decided colours, symbols and letters, as they are set.
    pub said: [Option<String>; 3],
}

/// What input and output are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Streams {
    /// Whether input is a terminal.
    pub input: bool,
    /// Whether output is a terminal.
    pub output: bool,
    /// Columns and rows, where output is a terminal that says.
    pub size: Option<(u16, u16)>,
}

impl Streams {
    /// Those of this process.
    pub fn of_process() -> Self {
        let output = std::io::stdout();
        let size = rustix::termios::tcgetwinsize(&output).ok().map(|size| (size.ws_col, size.ws_row));
        Self { input: std::io::stdin().is_terminal(), output: output.is_terminal(), size }
    }
}

impl Machine {
    /// What this process can find out.
    pub fn gather(env: &Env, owners: &Owners) -> Self {
        let id = rustix::process::getuid();
        Self { root: id.is_root(), account: owners.user(id.as_raw()), ..Self::of(env, Streams::of_process()) }
    }

    /// What follows from the environment and these streams, for an account without a name.
    pub fn of(env: &Env, streams: Streams) -> Self {
        let reasons = reasons(&Options::default(), env);
        let said = |by: Decider| match by {
            Decider::Flag => None,
            Decider::Variable(name) => env.text(name),
        };
        Self {
            debug_build: cfg!(debug_assertions),
            account: String::new(),
            root: false,
            streams,
            term: env.text("TERM"),
            over_ssh: env.over_ssh(),
            reasons,
            said: [said(reasons.colours.1), said(reasons.glyphs.1), env.text(reasons.letters.0)],
        }
    }

    /// One line for each thing looked at.
    pub fn lines(&self) -> Vec<Line> {
        let mut lines = vec![self.version(), self.whose(), self.terminal()];
        lines.extend(self.size());
        lines.push(self.kind());
        lines.extend(self.multiplexer());
        lines.extend([self.frames(), self.letters(), self.symbols(), self.colours()]);
        lines
    }

    fn version(&self) -> Line {
        let version = format!("gunnel {}, plans of format {FORMAT}", env!("CARGO_PKG_VERSION"));
        if self.debug_build {
            return Line::note("version", format!("{version}, a debug build"), "it is slow; build with --release");
        }
        Line::good("version", version)
    }

    fn whose(&self) -> Line {
        if self.root {
            let found = format!("this is {}: permissions hold it back from nothing", self.account);
            return Line::caution("account", found, "run it as the account that will use the plan");
        }
        Line::good("account", format!("this is {}", self.account))
    }

    fn terminal(&self) -> Line {
        let none = match (self.streams.input, self.streams.output) {
            (true, true) => return Line::good("terminal", "input and output are a terminal"),
            (false, false) => "input and output are no terminal",
            (false, true) => "input is no terminal",
            (true, false) => "output is no terminal",
        };
        Line::note("terminal", none, "the screen needs both; over ssh, ask for one with ssh -t")
    }

    fn size(&self) -> Option<Line> {
        let (columns, rows) = self.streams.size?;
        let (wide, high) = LEAST;
        let found = format!("{columns} x {rows} cells");
        Some(match (columns, rows) {
            (0, _) | (_, 0) => Line::note("size", "the terminal does not say how large it is", ""),
            _ if columns < wide || rows < high => {
                let found = format!("{found}: the screen needs {wide} x {high}");
                Line::stop("size", found, "make the window larger or the letters smaller")
            }
            _ => Line::good("size", found),
        })
    }

    fn kind(&self) -> Line {
        match self.term.as_deref() {
            None => Line::caution("term", "TERM is not set", "set it to what your terminal is"),
            Some("dumb") => {
                Line::caution("term", "TERM is dumb: nothing can be placed", "set it to what your terminal is")
            }
            Some(term) => Line::good("term", format!("TERM is {term}")),
        }
    }

    /// The two names of terminfo that begin so are terminals within a terminal.
    fn multiplexer(&self) -> Option<Line> {
        let term = self.term.as_deref()?;
        let within = ["screen", "tmux"].iter().any(|name| term.starts_with(name));
        within.then(|| {
            let found = "a terminal within a terminal: what it can show, not what is around it, counts";
            Line::note("multiplexer", found, "whoever shares it shares your account; a partner is better off with ssh")
        })
    }

    fn frames(&self) -> Line {
        let place = if self.over_ssh { "over ssh" } else { "not over ssh" };
        let frames = frames_a_second(self.over_ssh);
        Line::good("ssh", format!("{place}: drawn at most {frames} times a second; --max-fps sets another number"))
    }

    fn letters(&self) -> Line {
        let (name, utf8) = self.reasons.letters;
        let why = because(Decider::Variable(name), self.said[2].as_deref());
        if utf8 {
            return Line::good("locale", format!("letters are UTF-8: {why}"));
        }
        let remedy = format!("set {name} to a locale of UTF-8, C.UTF-8 for one");
        Line::note("locale", format!("letters are not said to be UTF-8: {why}"), &remedy)
    }

    fn symbols(&self) -> Line {
        let (glyphs, by) = self.reasons.glyphs;
        let why = because(by, self.said[1].as_deref());
        match glyphs {
            Glyphs::Block => Line::good("symbols", format!("symbols are lines, half blocks and quadrants: {why}")),
            Glyphs::Ascii => {
                Line::note("symbols", format!("symbols are ASCII only: {why}"), "--glyphs block draws the others")
            }
        }
    }

    fn colours(&self) -> Line {
        let (depth, by) = self.reasons.colours;
        let why = because(by, self.said[0].as_deref());
        match depth {
            Depth::Mono => Line::note("colours", format!("no colours: {why}"), "--color always draws some"),
            Depth::Sixteen => Line::good("colours", format!("16 colours: {why}")),
            Depth::TwoFiftySix => Line::good("colours", format!("256 colours: {why}")),
            Depth::True => Line::good("colours", format!("all colours: {why}")),
        }
    }
}

/// What decided, in words.
fn because(by: Decider, said: Option<&str>) -> String {
    match (by, said) {
        (Decider::Flag, _) => "so it was asked for".into(),
        (Decider::Variable(name), Some(value)) => format!("{name} is {value}"),
        (Decider::Variable(name), None) => format!("{name} is not set"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOOD: [(&str, &str); 2] = [("TERM", "xterm-256color"), ("LANG", "en_GB.UTF-8")];
    const STREAMS: Streams = Streams { input: true, output: true, size: Some((120, 40)) };

    fn said(variables: &[(&str, &str)], streams: Streams, id: &str) -> (&'static str, String) {
        let env = Env::of(GOOD.iter().chain(variables).copied());
        let lines = Machine::of(&env, streams).lines();
        let line = lines.into_iter().find(|line| line.id == id);
        line.map_or(("", String::new()), |line| (line.word(), line.found))
    }

    #[test]
    fn what_the_environment_says_is_told_with_the_variable_that_decided() {
        fn check(variables: &[(&str, &str)], id: &str, word: &str, found: &str) {
            assert_eq!(said(variables, STREAMS, id), (word, found.to_string()), "{variables:?}");
        }
        check(&[], "colours", "good", "256 colours: TERM is xterm-256color");
        check(&[("COLORTERM", "truecolor")], "colours", "good", "all colours: COLORTERM is truecolor");
        check(&[("COLORTERM", "truecolor"), ("NO_COLOR", "1")], "colours", "note", "no colours: NO_COLOR is 1");
        check(&[("CLICOLOR", "0")], "colours", "note", "no colours: CLICOLOR is 0");
        check(&[("TERM", "dumb")], "colours", "note", "no colours: TERM is dumb");
        check(&[("TERM", "dumb")], "term", "caution", "TERM is dumb: nothing can be placed");
        check(&[("TERM", "")], "term", "caution", "TERM is not set");
        check(&[], "symbols", "good", "symbols are lines, half blocks and quadrants: LANG is en_GB.UTF-8");
        check(&[("LC_ALL", "C")], "symbols", "note", "symbols are ASCII only: LC_ALL is C");
        check(&[("LC_ALL", "C")], "locale", "note", "letters are not said to be UTF-8: LC_ALL is C");
        check(&[("LANG", "")], "locale", "note", "letters are not said to be UTF-8: LANG is not set");
        check(&[("TERM", "linux")], "symbols", "note", "symbols are ASCII only: TERM is linux");
        check(&[], "multiplexer", "", "");
        let found = "a terminal within a terminal: what it can show, not what is around it, counts";
        check(&[("TERM", "screen-256color")], "multiplexer", "note", found);
        let found = "over ssh: drawn at most 5 times a second; --max-fps sets another number";
        check(&[("SSH_CONNECTION", "a 1 b 2")], "ssh", "good", found);
        check(&[], "ssh", "good", "not over ssh: drawn at most 60 times a second; --max-fps sets another number");
    }

    #[test]
    fn a_terminal_is_needed_and_has_a_least_size() {
        fn check(streams: Streams, id: &str, word: &str) {
            assert_eq!(said(&[], streams, id).0, word, "{streams:?}");
        }
        let sized = |columns, rows| Streams { size: Some((columns, rows)), ..STREAMS };
        check(STREAMS, "terminal", "good");
        check(Streams { output: false, size: None, ..STREAMS }, "terminal", "note");
        check(Streams { output: false, size: None, ..STREAMS }, "size", "");
        check(sized(60, 16), "size", "good");
        check(sized(59, 16), "size", "stop");
        check(sized(60, 15), "size", "stop");
        check(sized(0, 0), "size", "note");
    }

    #[test]
    fn root_is_told_that_it_learns_nothing_of_permissions() {
        let machine = Machine::of(&Env::default(), STREAMS);
        let word = |root| Machine { root, ..machine.clone() }.whose().word();
        assert_eq!((word(true), word(false)), ("caution", "good"));
    }
}
