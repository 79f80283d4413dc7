//! The editor of the day: the phases in order, what each of them asks for, and the day's own figures.
//!
//! It holds a copy of the plan's outing. Each act answers with the outing as it would be; the program makes it an edit
//! and gives back what the plan then says, so that one act is one step of undo.

mod acts;
mod keys;
mod rows;
mod take;

use tui_input::Input;

use super::Said;
use crate::checks::Limits;
use crate::plan::{Electric, Gear, GearId, Name, Outing, Plan, Runs};

pub use keys::KEYS as OUTING_KEYS;
pub use rows::{DayField, OutingRow, PhaseField, Told};

/// Planning the day.
#[derive(Clone, Debug)]
pub struct OutingEditor {
    /// What is being typed.
    pub input: Input,
    /// What the editor answers to the last key.
    pub said: Option<Said>,
    outing: Outing,
    aboard: Aboard,
    /// The day's own rows, or those of a phase counted from one.
    page: usize,
    row: usize,
}

/// What the plan has that a phase can speak of.
#[derive(Clone, Debug, Default)]
struct Aboard {
    /// The settings of its motors.
    settings: Vec<Name>,
    /// Its loads.
    loads: Vec<Load>,
    /// Most hours of a day.
    most_hours: f64,
}

/// A load aboard.
#[derive(Clone, Debug)]
struct Load {
    gear: GearId,
    label: Name,
    runs: Runs,
}

impl Aboard {
    fn of(plan: &Plan) -> Self {
        let mut aboard = Self { most_hours: Limits::for_plan(plan).get("day-odd.hours"), ..Self::default() };
        for gear in plan.gear.iter().filter(|gear| gear.is_placed()) {
            match &gear.spec.electric {
                Some(Electric::Motor { settings, .. }) => {
                    aboard.settings.extend(settings.iter().map(|setting| setting.name.clone()));
                }
                Some(Electric::Load { runs, .. }) => aboard.loads.push(Load::of(gear, *runs)),
                _ => {}
            }
        }
        let mut seen = std::collections::BTreeSet::new();
        aboard.settings.retain(|name| seen.insert(name.as_str().to_string()));
        aboard
    }
}

impl Load {
    fn of(gear: &Gear, runs: Runs) -> Self {
        Self { gear: gear.id, label: gear.label.clone(), runs }
    }
}

impl OutingEditor {
    /// Opens a plan's day at its first phase.
    pub fn new(plan: &Plan) -> Self {
        let page = usize::from(!plan.outing.phases.is_empty());
        Self {
            input: Input::default(),
            said: None,
            outing: plan.outing.clone(),
            aboard: Aboard::of(plan),
            page,
            row: 0,
        }
    }

    /// Takes over what the plan says now.
    pub fn follow(&mut self, plan: &Plan) {
        self.outing = plan.outing.clone();
        self.aboard = Aboard::of(plan);
        self.open_page(self.page);
    }

    /// Says something.
    pub fn tell(&mut self, text: impl Into<String>, refused: bool) {
        self.said = Some(Said { text: text.into(), refused });
    }

    /// The day as far as it is planned.
    pub fn outing(&self) -> &Outing {
        &self.outing
    }

    /// The phase whose rows are shown; none where they are the day's own.
    pub fn phase(&self) -> Option<usize> {
        self.page.checked_sub(1)
    }

    /// The index of the row in question.
    pub fn at(&self) -> usize {
        self.row
    }

    /// The row in question.
    pub fn row(&self) -> OutingRow {
        self.rows().get(self.row).copied().unwrap_or(OutingRow::Day(DayField::Name))
    }

    /// Shows the rows of a phase, or of the day, near the one in question.
    fn open_page(&mut self, page: usize) {
        self.page = page.min(self.outing.phases.len());
        self.row = self.row.min(self.rows().len().saturating_sub(1));
    }
}
