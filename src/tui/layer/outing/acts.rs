//! What is done to the day as a whole: phases added, doubled, struck and moved; a line taken on the way.

use tui_input::Input;

use super::OutingEditor;
use crate::plan::{Name, Outing, Phase};
use crate::tui::layer::{Reply, trimmed};
use crate::units::Duration;

/// How long a phase is that was only just added, hours.
const NEW_HOURS: f64 = 1.0;

/// The day after an act, and the page that is open then.
pub(super) type Acted = (Outing, usize);

impl OutingEditor {
    /// Takes the line, then goes somewhere. A line that cannot be taken stays.
    pub(super) fn then(&mut self, go: impl FnOnce(&mut Self)) -> Reply {
        let Some(taken) = self.line() else { return Reply::Stay };
        go(self);
        planned(taken)
    }

    /// Takes the line, then acts. Line and act are a step each.
    pub(super) fn act(&mut self, act: impl FnOnce(&Self) -> Result<Acted, String>) -> Reply {
        let Some(mut taken) = self.line() else { return Reply::Stay };
        match act(self).and_then(|(outing, page)| Ok((self.fits_a_day(outing)?, page))) {
            Ok((outing, page)) => {
                self.outing = outing.clone();
                self.open_page(page);
                taken.push(outing);
            }
            Err(why) => self.tell(why, true),
        }
        planned(taken)
    }

    /// The day with the line taken, if it changes anything; none where it cannot be.
    fn line(&mut self) -> Option<Vec<Outing>> {
        let text = self.input.value().trim().to_string();
        if text.is_empty() {
            return Some(Vec::new());
        }
        match self.taken(self.row(), &text).and_then(|outing| self.fits_a_day(outing)) {
            Ok(outing) => {
                self.input = Input::default();
                let changed = outing != self.outing;
                self.outing = outing.clone();
                Some(if changed { vec![outing] } else { Vec::new() })
            }
            Err(why) => {
                self.tell(why, true);
                None
            }
        }
    }

    /// The day, if it did not become longer than a day is.
    fn fits_a_day(&self, outing: Outing) -> Result<Outing, String> {
        let (hours, before) = (outing.hours().to_hours(), self.outing.hours().to_hours());
        if hours > self.aboard.most_hours + 1e-9 && hours > before {
            let (together, most) = (trimmed(hours), trimmed(self.aboard.most_hours));
            return Err(format!(
                "that makes {together} h together, and a day has {most}: a second day needs its own charge"
            ));
        }
        Ok(outing)
    }

    /// A new phase behind the one in question, lived as that one is.
    pub(super) fn added(&self) -> Result<Acted, String> {
        // Of one number more than there are phases one at least is free.
        let numbers = 1..=self.outing.phases.len() + 1;
        let number = numbers.into_iter().find(|number| !self.has_phase(&format!("phase {number}"))).unwrap_or(1);
        let like = self.phase().or((!self.outing.phases.is_empty()).then_some(0));
        let like = like.and_then(|phase| self.outing.phases.get(phase));
        let phase = Phase {
            name: Name::new(format!("phase {number}")).map_err(|why| why.to_string())?,
            hours: Duration::hours(NEW_HOURS),
            dark: false,
            air: None,
            charging: false,
            posture: like.map(|phase| phase.posture).unwrap_or_default(),
            motor: None,
            duties: Vec::new(),
        };
        Ok(self.with_phase(phase))
    }

    /// One more phase like the one in question, behind it.
    pub(super) fn doubled(&self) -> Result<Acted, String> {
        let phase = self.here()?.clone();
        Ok(self.with_phase(phase))
    }

    pub(super) fn struck(&self) -> Result<Acted, String> {
        let (at, mut outing) = (self.place()?, self.outing.clone());
        if outing.phases.len() == 1 {
            return Err("a day needs at least one phase".into());
        }
        outing.phases.remove(at);
        Ok((outing, self.page.min(self.outing.phases.len() - 1)))
    }

    pub(super) fn earlier(&self) -> Result<Acted, String> {
        let at = self.place()?;
        let before = at.checked_sub(1).ok_or("it is the first phase already")?;
        Ok(self.swapped(before, at, before))
    }

    pub(super) fn later(&self) -> Result<Acted, String> {
        let at = self.place()?;
        if at + 1 >= self.outing.phases.len() {
            return Err("it is the last phase already".into());
        }
        Ok(self.swapped(at, at + 1, at + 1))
    }

    fn swapped(&self, a: usize, b: usize, to: usize) -> Acted {
        let mut outing = self.outing.clone();
        outing.phases.swap(a, b);
        (outing, to + 1)
    }

    fn with_phase(&self, phase: Phase) -> Acted {
        let mut outing = self.outing.clone();
        outing.phases.insert(self.page, phase);
        (outing, self.page + 1)
    }

    fn has_phase(&self, name: &str) -> bool {
        self.outing.phases.iter().any(|phase| phase.name.as_str() == name)
    }

    /// The place of the phase in question.
    fn place(&self) -> Result<usize, String> {
        self.phase().ok_or_else(|| "go to a phase first (tab)".into())
    }

    pub(super) fn here(&self) -> Result<&Phase, String> {
        self.outing.phases.get(self.place()?).ok_or_else(|| "the phase is gone".into())
    }
}

fn planned(days: Vec<Outing>) -> Reply {
    if days.is_empty() { Reply::Stay } else { Reply::Planned(days) }
}
