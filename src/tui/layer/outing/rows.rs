//! The rows of the editor of the day: what each is called, and what it says now.

use super::{Load, OutingEditor};
use crate::plan::{GearId, Phase, Water};
use crate::tui::layer::trimmed;
use crate::units::{Quantity, Temperature};

/// A row of the editor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutingRow {
    /// Of the day as a whole.
    Day(DayField),
    /// Of the phase in question.
    Phase(PhaseField),
}

/// What is said of the day as a whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs, reason = "each is called what the outing calls it")]
pub enum DayField {
    Name,
    Date,
    Starts,
    Sunrise,
    Sunset,
    Air,
    WaterTemperature,
    Water,
    Bilge,
}

/// What is said of a phase.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs, reason = "each is called what the phase calls it")]
pub enum PhaseField {
    Name,
    Hours,
    Dark,
    Air,
    Posture,
    Motor,
    Charging,
    /// How much of it a load runs.
    Load(GearId),
}

/// What a row says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// What it is called.
    pub label: String,
    /// Its value.
    pub value: String,
    /// Where that comes from, if not from the row itself.
    pub note: String,
}

const DAY: [DayField; 9] = [
    DayField::Name,
    DayField::Date,
    DayField::Starts,
    DayField::Sunrise,
    DayField::Sunset,
    DayField::Air,
    DayField::WaterTemperature,
    DayField::Water,
    DayField::Bilge,
];

const PHASE: [PhaseField; 7] = [
    PhaseField::Name,
    PhaseField::Hours,
    PhaseField::Dark,
    PhaseField::Air,
    PhaseField::Posture,
    PhaseField::Motor,
    PhaseField::Charging,
];

impl OutingRow {
    /// Whether something is typed into it.
    pub fn takes_text(self) -> bool {
        !matches!(
            self,
            Self::Day(DayField::Water)
                | Self::Phase(PhaseField::Dark | PhaseField::Posture | PhaseField::Motor | PhaseField::Charging)
        )
    }

    /// Whether it is a load's share.
    pub fn is_load(self) -> bool {
        matches!(self, Self::Phase(PhaseField::Load(_)))
    }

    /// The unit of a bare number typed into it.
    pub fn unit(self) -> &'static str {
        match self {
            Self::Day(DayField::Air | DayField::WaterTemperature) | Self::Phase(PhaseField::Air) => "C",
            Self::Day(DayField::Bilge) => "kg",
            Self::Phase(PhaseField::Hours) => "h",
            Self::Phase(PhaseField::Load(_)) => "%",
            _ => "",
        }
    }

    /// What its line takes, in words.
    pub fn help(self) -> &'static str {
        match self {
            Self::Day(DayField::Name) | Self::Phase(PhaseField::Name) => "type a name",
            Self::Day(DayField::Date) => "type a date as year-month-day; backspace leaves it out",
            Self::Day(DayField::Starts | DayField::Sunrise | DayField::Sunset) => {
                "type a time as 4:30 or 430; backspace leaves it out"
            }
            Self::Day(DayField::Air) => "type the air at the coldest hour; a phase may have its own",
            Self::Day(DayField::WaterTemperature) => "type the temperature of the water",
            Self::Day(DayField::Water) => "space: fresh or salt",
            Self::Day(DayField::Bilge) => "type what water lies loose in the hull; backspace leaves it out",
            Self::Phase(PhaseField::Hours) => "type hours as 1.5 or 1:30",
            Self::Phase(PhaseField::Dark) => "space: dark, or as the sun has it",
            Self::Phase(PhaseField::Air) => "type the air in this phase; backspace: as the day",
            Self::Phase(PhaseField::Posture) => "space: how the person sits or stands",
            Self::Phase(PhaseField::Motor) => "space: the settings of the motor aboard",
            Self::Phase(PhaseField::Charging) => "space: whether a battery is charged; what it gives is not counted",
            Self::Phase(PhaseField::Load(_)) => "type how much of the time it runs, percent; backspace: as usual",
        }
    }
}

impl OutingEditor {
    /// The rows of the phase in question, or of the day.
    pub fn rows(&self) -> Vec<OutingRow> {
        if self.phase().is_none() {
            return DAY.map(OutingRow::Day).to_vec();
        }
        let loads = self.aboard.loads.iter().map(|load| PhaseField::Load(load.gear));
        PHASE.into_iter().chain(loads).map(OutingRow::Phase).collect()
    }

    /// What a row says now.
    pub fn told(&self, row: OutingRow) -> Told {
        match (row, self.phase().and_then(|index| Some((index, self.outing.phases.get(index)?)))) {
            (OutingRow::Day(field), _) => self.told_of_day(field),
            (OutingRow::Phase(field), Some((index, phase))) => self.told_of_phase(field, index, phase),
            (OutingRow::Phase(_), None) => told("", "", ""),
        }
    }

    fn told_of_day(&self, field: DayField) -> Told {
        let day = &self.outing;
        let or_not = |value: Option<String>| value.unwrap_or_else(|| "not said".into());
        match field {
            DayField::Name => told("name", day.name.as_str(), ""),
            DayField::Date => told("date", &or_not(day.date.as_ref().map(ToString::to_string)), ""),
            DayField::Starts => told("starts", &or_not(day.starts.map(|clock| clock.to_string())), ""),
            DayField::Sunrise => told("sunrise", &or_not(day.sunrise.map(|clock| clock.to_string())), ""),
            DayField::Sunset => told("sunset", &or_not(day.sunset.map(|clock| clock.to_string())), ""),
            DayField::Air => told("air", &celsius(day.air), "at the coldest hour"),
            DayField::WaterTemperature => told("water", &celsius(day.water_temperature), ""),
            DayField::Water => told("fresh or salt", if day.water == Water::Salt { "salt" } else { "fresh" }, ""),
            DayField::Bilge => {
                let bilge = day.bilge.map(|mass| format!("{} kg", trimmed(mass.to_kg())));
                told("bilge water", &bilge.unwrap_or_else(|| "none".into()), "")
            }
        }
    }

    fn told_of_phase(&self, field: PhaseField, index: usize, phase: &Phase) -> Told {
        let yes = |is: bool| if is { "yes" } else { "no" };
        match field {
            PhaseField::Name => told("name", phase.name.as_str(), ""),
            PhaseField::Hours => told("hours", &format!("{} h", trimmed(phase.hours.base())), ""),
            PhaseField::Dark => {
                let dark = self.outing.is_dark(index);
                told("dark", yes(dark), if dark && !phase.dark { "the sun is down" } else { "" })
            }
            PhaseField::Air => {
                let note = if phase.air.is_some() { "" } else { "as the day" };
                told("air", &celsius(self.outing.air_in(index)), note)
            }
            PhaseField::Posture => told("posture", phase.posture.word(), ""),
            PhaseField::Motor => match &phase.motor {
                None if self.aboard.settings.is_empty() => told("motor", "off", "none aboard"),
                None => told("motor", "off", ""),
                Some(name) if self.aboard.settings.contains(name) => told("motor", name.as_str(), ""),
                Some(name) => told("motor", name.as_str(), "no motor aboard has it"),
            },
            PhaseField::Charging => told("charging", yes(phase.charging), ""),
            PhaseField::Load(id) => {
                let load = self.aboard.loads.iter().find(|load| load.gear == id);
                load.map_or_else(|| told("", "", ""), |load| self.told_of_load(load, index, phase))
            }
        }
    }

    fn told_of_load(&self, load: &Load, index: usize, phase: &Phase) -> Told {
        let said = phase.duties.iter().any(|duty| duty.gear == load.gear);
        let share = self.share(load, index, phase);
        told(load.label.as_str(), &format!("{} %", trimmed(100.0 * share)), if said { "" } else { "as usual" })
    }

    /// How much of a phase a load runs, 0 to 1.
    pub(super) fn share(&self, load: &Load, index: usize, phase: &Phase) -> f64 {
        crate::study::power::share(phase, self.outing.is_dark(index), load.gear, Some(load.runs))
    }
}

fn told(label: &str, value: &str, note: &str) -> Told {
    Told { label: label.into(), value: value.into(), note: note.into() }
}

fn celsius(temperature: Temperature) -> String {
    format!("{} C", trimmed(temperature.to_celsius()))
}
