//! What is typed into a row, turned or left out: the day as it then is, or why it cannot be.

use super::OutingEditor;
use super::acts::Acted;
use super::rows::{DayField, OutingRow, PhaseField};
use crate::plan::{Clock, Duty, GearId, Name, Outing, Phase, Posture, Water};
use crate::units::{Duration, Mass, Temperature, number_from_text};

/// By how much the arrows change a load's share.
const SHARE_STEP: f64 = 0.1;

impl OutingEditor {
    /// The day with a text taken into a row.
    pub(super) fn taken(&self, row: OutingRow, text: &str) -> Result<Outing, String> {
        let mut outing = self.outing.clone();
        match (row, self.phase()) {
            (OutingRow::Day(field), _) => take_day(&mut outing, field, text)?,
            (OutingRow::Phase(field), Some(index)) => {
                let phase = outing.phases.get_mut(index).ok_or("the phase is gone")?;
                take_phase(phase, field, text)?;
            }
            (OutingRow::Phase(_), None) => {}
        }
        Ok(outing)
    }

    /// The day with the row in question turned to its next or previous value.
    pub(super) fn turned(&self, by: isize) -> Result<Acted, String> {
        let mut outing = self.outing.clone();
        match (self.row(), self.phase()) {
            (OutingRow::Day(DayField::Water), _) => {
                outing.water = if outing.water == Water::Fresh { Water::Salt } else { Water::Fresh };
            }
            (OutingRow::Phase(field), Some(index)) => {
                let phase = outing.phases.get_mut(index).ok_or("the phase is gone")?;
                self.turn_phase(phase, index, field, by)?;
            }
            _ => return Err("type it; up and down go to the other rows".into()),
        }
        Ok((outing, self.page))
    }

    fn turn_phase(&self, phase: &mut Phase, index: usize, field: PhaseField, by: isize) -> Result<(), String> {
        match field {
            PhaseField::Dark => phase.dark = !phase.dark,
            PhaseField::Charging => phase.charging = !phase.charging,
            PhaseField::Posture => {
                let at = Posture::ALL.iter().position(|posture| *posture == phase.posture).unwrap_or(0);
                phase.posture = Posture::ALL[stepped(at, by, Posture::ALL.len())];
            }
            PhaseField::Motor => phase.motor = self.setting_after(phase.motor.as_ref(), by)?,
            PhaseField::Load(gear) => {
                let load = self.aboard.loads.iter().find(|load| load.gear == gear).ok_or("it is ashore")?;
                let tenths = ((self.share(load, index, phase) + by as f64 * SHARE_STEP) / SHARE_STEP).round();
                set_duty(phase, gear, Some((tenths * SHARE_STEP).clamp(0.0, 1.0)));
            }
            PhaseField::Name | PhaseField::Hours | PhaseField::Air => {
                return Err("type it; up and down go to the other rows".into());
            }
        }
        Ok(())
    }

    /// The setting after one: off, then those of the motors aboard.
    fn setting_after(&self, now: Option<&Name>, by: isize) -> Result<Option<Name>, String> {
        let settings = &self.aboard.settings;
        if settings.is_empty() && now.is_none() {
            return Err("no motor is aboard: place one first".into());
        }
        let at = now.and_then(|now| settings.iter().position(|name| name == now)).map_or(0, |at| at + 1);
        Ok(stepped(at, by, settings.len() + 1).checked_sub(1).and_then(|at| settings.get(at)).cloned())
    }

    /// The day without what the row in question says.
    pub(super) fn left_out(&self) -> Result<Acted, String> {
        let mut outing = self.outing.clone();
        let phase = self.phase().and_then(|index| outing.phases.get_mut(index));
        match (self.row(), phase) {
            (OutingRow::Day(DayField::Date), _) => outing.date = None,
            (OutingRow::Day(DayField::Starts), _) => outing.starts = None,
            (OutingRow::Day(DayField::Sunrise), _) => outing.sunrise = None,
            (OutingRow::Day(DayField::Sunset), _) => outing.sunset = None,
            (OutingRow::Day(DayField::Bilge), _) => outing.bilge = None,
            (OutingRow::Phase(PhaseField::Air), Some(phase)) => phase.air = None,
            (OutingRow::Phase(PhaseField::Motor), Some(phase)) => phase.motor = None,
            (OutingRow::Phase(PhaseField::Load(gear)), Some(phase)) => set_duty(phase, gear, None),
            _ => return Err("this cannot be left out".into()),
        }
        if outing == self.outing {
            return Err("there is nothing to leave out".into());
        }
        Ok((outing, self.page))
    }
}

fn take_day(outing: &mut Outing, field: DayField, text: &str) -> Result<(), String> {
    match field {
        DayField::Name => outing.name = name(text)?,
        DayField::Date => outing.date = Some(name(text)?),
        DayField::Starts => outing.starts = Some(clock(text)?),
        DayField::Sunrise => outing.sunrise = Some(clock(text)?),
        DayField::Sunset => outing.sunset = Some(clock(text)?),
        DayField::Air => outing.air = celsius(text)?,
        DayField::WaterTemperature => outing.water_temperature = celsius(text)?,
        DayField::Bilge => outing.bilge = Some(Mass::kg(number(text, "kg")?)).filter(|mass| mass.to_kg() != 0.0),
        DayField::Water => {}
    }
    Ok(())
}

fn take_phase(phase: &mut Phase, field: PhaseField, text: &str) -> Result<(), String> {
    match field {
        PhaseField::Name => phase.name = name(text)?,
        PhaseField::Hours => phase.hours = hours(text)?,
        PhaseField::Air => phase.air = Some(celsius(text)?),
        PhaseField::Load(gear) => {
            let percent = number(text, "%")?;
            if !(0.0..=100.0).contains(&percent) {
                return Err(format!("a load runs from 0 to 100 percent of the time, not {text}"));
            }
            set_duty(phase, gear, Some(percent / 100.0));
        }
        PhaseField::Dark | PhaseField::Posture | PhaseField::Motor | PhaseField::Charging => {}
    }
    Ok(())
}

/// What a phase says of a load; none for what it usually does.
fn set_duty(phase: &mut Phase, gear: GearId, share: Option<f64>) {
    match (phase.duties.iter_mut().find(|duty| duty.gear == gear), share) {
        (Some(duty), Some(share)) => duty.share = share,
        (None, Some(share)) => phase.duties.push(Duty { gear, share }),
        (_, None) => phase.duties.retain(|duty| duty.gear != gear),
    }
}

/// Hours as typed: `1.5`, `1.5 h`, `1:30`.
fn hours(text: &str) -> Result<Duration, String> {
    let hours = match text.split_once(':') {
        Some((whole, minutes)) => number(whole, "h")? + number(minutes, "h")? / 60.0,
        None => number(text, "h")?,
    };
    if hours <= 0.0 {
        return Err("a phase needs some time: strike it (ctrl-d) where it has none".into());
    }
    Ok(Duration::hours(hours))
}

fn number(text: &str, unit: &str) -> Result<f64, String> {
    let bare = text.trim_end_matches(unit).trim();
    number_from_text(bare).map_err(|why| why.to_string())
}

fn celsius(text: &str) -> Result<Temperature, String> {
    Ok(Temperature::celsius(number(text, "C")?))
}

fn clock(text: &str) -> Result<Clock, String> {
    Clock::from_text(text).map_err(|why| why.to_string())
}

fn name(text: &str) -> Result<Name, String> {
    Name::new(text).map_err(|why| why.to_string())
}

fn stepped(at: usize, by: isize, count: usize) -> usize {
    (at as isize + by).rem_euclid(count.max(1) as isize) as usize
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, read: Result<f64, &str>) {
        let got = hours(text).map(Duration::to_hours);
        match (got, read) {
            (Ok(hours), Ok(expected)) => assert!((hours - expected).abs() < 1e-9, "{text}: {hours}"),
            (Err(why), Err(words)) => assert!(why.contains(words), "{text}: {why}"),
            other => panic!("{text}: {other:?}"),
        }
    }

    #[test]
    fn hours_are_read_as_they_are_typed() {
        check("1.5", Ok(1.5));
        check("1,5 h", Ok(1.5));
        check("1:30", Ok(1.5));
        check("0:15", Ok(0.25));
        check("0", Err("needs some time"));
        check("-1", Err("needs some time"));
        check("noon", Err("not a number"));
    }
}
