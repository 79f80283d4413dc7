//! What can be asked for. The help, the completions and the man page come from here.

mod paper;
mod talk;

use std::path::PathBuf;

use clap::{ArgGroup, Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;

pub(super) use self::paper::{DrawArguments, DrawView, SheetArguments, SheetName};
pub(super) use self::talk::{Doctor, Notes, Review};

use crate::storage::load::Format;
use crate::tui::glyphs::GlyphChoice;
use crate::tui::run::Options;
use crate::tui::theme::{ColourChoice, Depth};

/// Examples before everything else; `{options}` and the rest are clap's own.
const TEMPLATE: &str = "\
{about-with-newline}
Examples:
  gunnel new --hull angler-10 -o boat.ron && gunnel boat.ron
  gunnel new --tape tape.ron -o boat.ron
  gunnel check boat.ron

{usage-heading} {usage}

{all-args}{after-help}";

const AFTER: &str = "\
Exit codes:
  0  done; for check and doctor: no stop stands; for float: it floats; for diff: no difference
  1  a stop stands; for float: it sinks or turns over; for level: no move brings it
     into range; for diff: the plans differ
  2  asked wrongly
  3  what was read is no plan or hull, or one of a newer format
  4  reading or writing failed
  5  somebody else is editing or has changed the plan; try again later

A plan is RON or JSON by the ending of its name; - is standard input.
Everything stays on this machine: nothing is sent anywhere.";

const AFTER_LONG: &str = "\
Exit codes:
  0    done; for check and doctor: no stop stands; for float: it floats; for diff: no difference
  1    a stop stands; for float: it sinks or turns over; for level: no move brings it
       into range; for diff: the plans differ
  2    asked wrongly
  3    what was read is no plan or hull, or one of a newer format
  4    reading or writing failed
  5    somebody else is editing or has changed the plan; try again later
  101  the program failed; the plan on disk is whole

Environment:
  NO_COLOR, CLICOLOR, CLICOLOR_FORCE, COLORTERM, TERM   how many colours are drawn; --color wins
  LC_ALL, LC_CTYPE, LANG   whether more than ASCII is drawn; --glyphs wins
  XDG_DATA_HOME    own gear in gunnel/catalogue/*.ron, own hulls in gunnel/hulls/*.ron
  XDG_STATE_HOME   journals and backups in gunnel/

A plan is RON or JSON by the ending of its name; - is standard input.
Everything stays on this machine: nothing is sent anywhere.

The program advises. The hull's maker, local law and a float test with the real load decide.";

/// What `float` reads besides plans and hulls, and how it counts.
const AFTER_FLOAT: &str = "\
The hull is taken as closed: decked across its gunwale, without wells. Directions: mm forward of the
hull's zero at the stern, mm to port (starboard is negative), mm up from the keel baseline.

An offsets file has sections from aft to bow, each with points of one side from keel to gunwale:
  {\"sections\": [{\"x_mm\": 0, \"points_mm\": [[0, 0], [425, 0], [425, 300]]}, ...]}

In JSON, heel and righting levers are positive to starboard, trim is positive bow down;
downflood_deg is the heel at which the gunwale goes under, null beyond 60.

Exit codes: 1 it sinks or turns over, 2 a mass, place or water that cannot be, 3 no hull or no body.";

/// Plan the rig of a small fishing boat before a hole is drilled.
#[derive(Debug, Parser)]
#[command(
    name = "gunnel",
    version,
    help_template = TEMPLATE,
    after_help = AFTER,
    after_long_help = AFTER_LONG,
    args_conflicts_with_subcommands = true,
    disable_help_subcommand = true,
    infer_subcommands = false,
    max_term_width = 100
)]
pub(super) struct Arguments {
    /// The plan to open on the screen; without one, choose on the start screen
    pub(super) plan: Option<PathBuf>,

    #[command(flatten)]
    screen: Screen,

    #[command(subcommand)]
    pub(super) verb: Option<Verb>,
}

/// How the screen looks.
#[derive(Args, Debug)]
#[command(next_help_heading = "Screen")]
struct Screen {
    /// How many colours are drawn
    #[arg(long, value_enum, value_name = "WHEN", default_value_t, hide_short_help = true)]
    color: Color,

    /// Which symbols are drawn
    #[arg(long, value_enum, value_name = "SET", default_value_t, hide_short_help = true)]
    glyphs: GlyphSet,

    /// The terminal's background
    #[arg(long, value_enum, value_name = "GROUND", default_value_t, hide_short_help = true)]
    background: Background,

    /// Open the plan to look at only
    #[arg(long, hide_short_help = true)]
    read_only: bool,

    /// Draw at most so many times a second
    #[arg(long, value_name = "TIMES", value_parser = clap::value_parser!(u32).range(1..=1000), hide_short_help = true)]
    max_fps: Option<u32>,

    /// How lengths are shown
    #[arg(long, value_enum, value_name = "TAPE", default_value_t, hide_short_help = true)]
    tape: TapeChoice,
}

#[derive(Debug, Subcommand)]
pub(super) enum Verb {
    /// Start a plan on a hull class, or on a hull you measured
    New(New),
    /// Check a plan: what stands against it, and why
    Check(Check),
    /// Show a whole plan and what follows from it
    Show(Show),
    /// Float a bare hull under one mass: drafts, trim, list, stiffness, righting levers
    Float(Float),

    /// Find what moves a boat level: the fewest moves that bring trim and list into range
    Level(Level),
    /// Compare two plans, or two states of one: what was done, what it changed
    Diff(Diff),
    /// What was said about a plan: comments, suggestions, checklist, sign-off
    Notes(Notes),
    /// Look at a plan on the screen and say what you think of it: nothing is changed
    Review(Review),
    /// Look over terminal, folders and a review set-up: what is wrong, and what to do
    Doctor(Doctor),
    /// Print a sheet for the bench, or write it to a file
    Sheet(SheetArguments),
    /// Draw the boat to scale, or templates of hole patterns at their true size, to print
    Draw(DrawArguments),
    /// Explain a check: what it looks at, its limits and their sources
    Explain {
        /// The check; without one, all of them are listed
        check: Option<String>,
    },
    /// List gear to choose from, or the entries that match all words
    Catalogue(CatalogueArguments),
    /// Print the completions of a shell
    Completions {
        /// The shell
        shell: Shell,
    },
    /// Print the manual page
    Man,
}

#[derive(Args, Debug)]
#[command(group = ArgGroup::new("hull or tape").required(true).args(["hull", "tape"]))]
pub(super) struct New {
    /// The hull class: compact-9, angler-10, angler-11, standup-12, sea-13, pedal-13, or one of your own
    #[arg(long, value_name = "CLASS")]
    pub(super) hull: Option<String>,

    /// What a tape said of your hull, and which class guesses the rest; - is standard input
    #[arg(long, value_name = "FILE")]
    pub(super) tape: Option<PathBuf>,

    /// The file to write; - is standard output
    #[arg(short, long, value_name = "FILE")]
    pub(super) output: PathBuf,

    /// What to call the plan
    #[arg(long, value_name = "NAME")]
    pub(super) name: Option<String>,

    /// Replace a file that is there already; a backup is kept
    #[arg(long)]
    pub(super) force: bool,

    /// How to write it; otherwise the file's ending says
    #[arg(long, value_enum)]
    pub(super) format: Option<FormatChoice>,
}

/// Which plan to read.
#[derive(Args, Debug)]
pub(super) struct Input {
    /// The plan; - is standard input
    pub(super) plan: PathBuf,

    /// How it is written; otherwise the file's ending says
    #[arg(long, value_enum)]
    pub(super) format: Option<FormatChoice>,
}

#[derive(Args, Debug)]
pub(super) struct Check {
    #[command(flatten)]
    pub(super) input: Input,

    /// Print one JSON document: findings and study
    #[arg(long, conflicts_with = "plain")]
    pub(super) json: bool,

    /// Print one finding a line, fields cut by tabs
    #[arg(long)]
    pub(super) plain: bool,
}

#[derive(Args, Debug)]
pub(super) struct Show {
    #[command(flatten)]
    pub(super) input: Input,

    /// Print one JSON document: plan, findings and study
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Args, Debug)]
#[command(after_help = AFTER_FLOAT)]
pub(super) struct Float {
    /// A plan, a hull file, an offsets file or the name of a hull class; - is standard input
    pub(super) hull: PathBuf,

    /// Everything that floats, kg: the hull's own mass included
    #[arg(long, value_name = "KG", allow_hyphen_values = true)]
    pub(super) mass: String,

    /// The centre of that mass, mm: forward, to port, up
    #[arg(long, value_name = "X,Y,Z", allow_hyphen_values = true)]
    pub(super) at: String,

    /// Density of the water: 1000 fresh, 1025 the sea
    #[arg(long, value_name = "KG_PER_M3", default_value = "1000", allow_hyphen_values = true)]
    pub(super) water: String,

    /// Print one JSON document
    #[arg(long)]
    pub(super) json: bool,

    /// How the file is written; otherwise its ending says
    #[arg(long, value_enum)]
    pub(super) format: Option<FormatChoice>,
}

#[derive(Args, Debug)]
pub(super) struct Level {
    #[command(flatten)]
    pub(super) input: Input,

    /// Print one JSON document
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Args, Debug)]
#[command(
    override_usage = "gunnel diff <A> <B> [OPTIONS]\n       gunnel diff <A> --from <NAME> [--to <NAME>] [OPTIONS]",
    after_help = "Exit codes: 0 they say the same, 1 they differ."
)]
#[command(group = ArgGroup::new("two states").required(true).multiple(true).args(["b", "from", "to"]))]
pub(super) struct Diff {
    /// The earlier plan; - is standard input
    pub(super) a: PathBuf,

    /// The later plan; without one, two states of the first are compared
    pub(super) b: Option<PathBuf>,

    /// Take this named revision of the first plan
    #[arg(long, value_name = "NAME")]
    pub(super) from: Option<String>,

    /// Take this named revision of the later plan
    #[arg(long, value_name = "NAME")]
    pub(super) to: Option<String>,

    /// Print one JSON document
    #[arg(long)]
    pub(super) json: bool,

    /// How the files are written; otherwise their endings say
    #[arg(long, value_enum)]
    pub(super) format: Option<FormatChoice>,
}

#[derive(Args, Debug)]
pub(super) struct CatalogueArguments {
    /// Words to look for, letters may be left out: disp 9
    pub(super) words: Vec<String>,

    /// Print one JSON document
    #[arg(long)]
    pub(super) json: bool,
}

/// RON or JSON.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum FormatChoice {
    /// For people
    Ron,
    /// For programs
    Json,
}

impl From<FormatChoice> for Format {
    fn from(choice: FormatChoice) -> Self {
        match choice {
            FormatChoice::Ron => Self::Ron,
            FormatChoice::Json => Self::Json,
        }
    }
}

#[derive(Clone, Copy, Debug, Default, ValueEnum)]
enum Color {
    /// As the environment says
    #[default]
    Auto,
    /// Some, whatever the environment says
    Always,
    /// None
    Never,
    /// The sixteen named ones
    #[value(name = "16")]
    Sixteen,
    /// The cube of 256
    #[value(name = "256")]
    TwoFiftySix,
    /// All of them
    True,
}

#[derive(Clone, Copy, Debug, Default, ValueEnum)]
enum GlyphSet {
    /// As the environment says
    #[default]
    Auto,
    /// ASCII only
    Ascii,
    /// Lines, half blocks and quadrants
    Block,
}

#[derive(Clone, Copy, Debug, Default, ValueEnum)]
enum Background {
    /// Light on dark
    #[default]
    Dark,
    /// Dark on light
    Light,
}

#[derive(Clone, Copy, Debug, Default, ValueEnum)]
enum TapeChoice {
    /// Whole millimetres
    #[default]
    Metric,
    /// Inches and sixteenths
    Inches,
}

impl Arguments {
    /// Whether the answer is read by a program.
    pub(super) fn wants_json(&self) -> bool {
        match &self.verb {
            Some(Verb::Check(check)) => check.json,
            Some(Verb::Show(show)) => show.json,
            Some(Verb::Float(float)) => float.json,
            Some(Verb::Level(level)) => level.json,
            Some(Verb::Diff(diff)) => diff.json,
            Some(Verb::Notes(notes)) => notes.json,
            Some(Verb::Doctor(doctor)) => doctor.json,
            Some(Verb::Catalogue(catalogue)) => catalogue.json,
            _ => false,
        }
    }

    /// What was asked of the screen.
    pub(super) fn options(&self) -> Options {
        let (plan, screen) = match &self.verb {
            Some(Verb::Review(review)) => (Some(review.plan.clone()), &review.screen),
            _ => (self.plan.clone(), &self.screen),
        };
        Options {
            plan,
            // Named by who asks for a review.
            reviewer: None,
            colour: match screen.color {
                Color::Auto => ColourChoice::Auto,
                Color::Always => ColourChoice::Always,
                Color::Never => ColourChoice::Never,
                Color::Sixteen => ColourChoice::Exactly(Depth::Sixteen),
                Color::TwoFiftySix => ColourChoice::Exactly(Depth::TwoFiftySix),
                Color::True => ColourChoice::Exactly(Depth::True),
            },
            glyphs: match screen.glyphs {
                GlyphSet::Auto => GlyphChoice::Auto,
                GlyphSet::Ascii => GlyphChoice::Ascii,
                GlyphSet::Block => GlyphChoice::Block,
            },
            light: matches!(screen.background, Background::Light),
            inches: matches!(screen.tape, TapeChoice::Inches),
            max_fps: screen.max_fps,
            read_only: screen.read_only,
        }
    }
}
