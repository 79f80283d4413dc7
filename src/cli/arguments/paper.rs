//! What is asked of sheets for the bench and of drawings to print.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use time::Date;

use super::TapeChoice;
use crate::sheets::{DrawingForm, Paper, SheetForm};
use crate::study::work::dates;
use crate::units::{Measure, Tape};

#[derive(Args, Debug)]
pub(in crate::cli) struct SheetArguments {
    /// Which sheet
    #[arg(value_enum, value_name = "SHEET")]
    pub(in crate::cli) sheet: SheetName,

    /// The plan; - is standard input
    pub(in crate::cli) plan: PathBuf,

    /// How the sheet is written
    #[arg(long, value_enum, default_value_t)]
    pub(in crate::cli) format: SheetFormat,

    /// The day of the first evening of work, year-month-day; without one evenings are numbered
    #[arg(long, value_name = "DATE", value_parser = date)]
    pub(in crate::cli) start: Option<Date>,

    /// Length of an evening of work in minutes, otherwise the plan's limit
    #[arg(long, value_name = "MINUTES", value_parser = clap::value_parser!(u16).range(15..=1440))]
    pub(in crate::cli) evening: Option<u16>,

    /// The file to write; without one, or with -, it goes to standard output
    #[arg(short, long, value_name = "FILE")]
    pub(in crate::cli) output: Option<PathBuf>,

    /// Replace a file that is there already; a backup is kept
    #[arg(long)]
    pub(in crate::cli) force: bool,
}

fn date(text: &str) -> Result<Date, String> {
    dates::day(text).ok_or_else(|| "a day is written year-month-day: 2031-05-30".to_string())
}

/// The sheets there are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum SheetName {
    /// Every wire from the battery to its load, and the labels of both ends
    Wiring,
    /// Every hole still to be drilled, from two edges, in the order of a walk round the boat
    Drill,
    /// What has to be on the bench: gear, fasteners, wire, fuses, seal, drills, tools
    Parts,
    /// The order of work by evenings, with gates, cures and the earliest launch
    Work,
    /// What is looked at before launch, and what goes along in reserve
    Checklist,
}

/// How a sheet is written.
#[derive(Clone, Copy, Debug, Default, ValueEnum)]
pub(in crate::cli) enum SheetFormat {
    /// To read
    #[default]
    Text,
    /// To keep and to print
    Markdown,
    /// For a spreadsheet: the table alone
    Csv,
    /// For programs
    Json,
}

impl From<SheetFormat> for SheetForm {
    fn from(choice: SheetFormat) -> Self {
        match choice {
            SheetFormat::Text => Self::Text,
            SheetFormat::Markdown => Self::Markdown,
            SheetFormat::Csv => Self::Csv,
            SheetFormat::Json => Self::Json,
        }
    }
}

#[derive(Args, Debug)]
pub(in crate::cli) struct DrawArguments {
    /// The plan; - is standard input
    pub(in crate::cli) plan: PathBuf,

    /// What is drawn
    #[arg(long, value_enum)]
    pub(in crate::cli) view: DrawView,

    /// A section this far forward of the stern: 1250mm, 49 1/4 in, 4 ft 1 in; again for another, 12 at most; without
    /// one up to four where seat, heavy gear and holes are
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(in crate::cli) at: Vec<String>,

    /// How lengths are written and read
    #[arg(long, value_enum, value_name = "TAPE", default_value_t)]
    tape: TapeChoice,

    /// What kind of file
    #[arg(long, value_enum, default_value_t)]
    pub(in crate::cli) format: DrawFormat,

    /// What it is printed on
    #[arg(long, value_enum, default_value_t)]
    pub(in crate::cli) paper: PaperChoice,

    /// The file to write
    #[arg(short, long, value_name = "FILE")]
    pub(in crate::cli) output: PathBuf,

    /// Replace a file that is there already; a backup is kept
    #[arg(long)]
    pub(in crate::cli) force: bool,
}

impl DrawArguments {
    /// The tape that was chosen.
    pub(in crate::cli) fn measure(&self) -> Measure {
        match self.tape {
            TapeChoice::Metric => Measure(Tape::Metric),
            TapeChoice::Inches => Measure(Tape::Inches),
        }
    }
}

/// What can be drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum DrawView {
    /// The boat from above to scale, with gear, holes and cables
    Plan,
    /// The boat from its starboard side to scale, with gear and the water
    Profile,
    /// The boat cut across to scale, a page for each section, with gear, holes and the water
    Section,
    /// Hole patterns and bases at their true size, to tape on the deck
    Templates,
}

/// What kind of file a drawing becomes.
#[derive(Clone, Copy, Debug, Default, ValueEnum)]
pub(in crate::cli) enum DrawFormat {
    /// A document to print
    #[default]
    Pdf,
    /// One picture, the pages below each other
    Svg,
}

impl From<DrawFormat> for DrawingForm {
    fn from(choice: DrawFormat) -> Self {
        match choice {
            DrawFormat::Pdf => Self::Pdf,
            DrawFormat::Svg => Self::Svg,
        }
    }
}

/// What a drawing is printed on.
#[derive(Clone, Copy, Debug, Default, ValueEnum)]
pub(in crate::cli) enum PaperChoice {
    /// 210 by 297 mm
    #[default]
    A4,
    /// 8.5 by 11 in
    Letter,
}

impl From<PaperChoice> for Paper {
    fn from(choice: PaperChoice) -> Self {
        match choice {
            PaperChoice::A4 => Self::A4,
            PaperChoice::Letter => Self::Letter,
        }
    }
}
