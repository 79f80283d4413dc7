//! Edits of readings: what was measured is added, switched off or struck; the plan's own figures stay as they are.

use super::apply::{Refusal, refuse, sound};
use crate::plan::validate::MOST_READINGS;
use crate::plan::{Electric, GearId, Plan, Reading, Taken, Weighed};
use crate::study::metered::is_meterable;
use crate::study::rig::Rig;
use crate::study::weights::Weights;

pub(super) fn add(plan: &mut Plan, reading: &Reading) -> Result<(), Refusal> {
    if plan.readings.len() >= MOST_READINGS {
        return refuse(format!("a plan holds at most {MOST_READINGS} readings; strike old ones"));
    }
    if let Some(date) = reading.date.as_ref().filter(|date| !is_date(date.as_str())) {
        return refuse(format!("\"{date}\" is no date: write year, month and day like 2031-05-30"));
    }
    let mut reading = reading.clone();
    match &mut reading.taken {
        Taken::Waterline { x, height, .. } => on_the_hull(plan, x.to_mm(), height.to_mm())?,
        Taken::Scale { of: Weighed::Rigged, planned, .. } => {
            *planned = planned.or_else(|| Some(Weights::of(plan, &Rig::of(plan)).rig()));
        }
        Taken::Scale { .. } => {}
        Taken::Meter { loads, current } => meter(plan, loads, current.to_amps())?,
        Taken::SeatTest { gear, seat, at_mm, .. } => {
            let Some(tried) = plan.gear(*gear) else { return refuse(format!("there is no {gear} in this plan")) };
            *at_mm = at_mm.or_else(|| Rig::of(plan).item(*gear)?.control);
            if at_mm.is_none() {
                let why = if tried.is_placed() { "is neither touched nor seen under way" } else { "is ashore" };
                return refuse(format!("{} {why}: a seat test tries what is used from the seat", tried.label));
            }
            seat.get_or_insert_with(|| plan.angler.seat.clone());
        }
    }
    plan.readings.push(reading);
    sound(plan)
}

pub(super) fn switch(plan: &mut Plan, index: usize, off: bool) -> Result<(), Refusal> {
    let reading = existing(plan, index)?;
    if reading.off == off {
        return refuse(if off { "this reading is off already" } else { "this reading is used already" });
    }
    reading.off = off;
    Ok(())
}

pub(super) fn strike(plan: &mut Plan, index: usize) -> Result<(), Refusal> {
    existing(plan, index)?;
    plan.readings.remove(index);
    Ok(())
}

fn existing(plan: &mut Plan, index: usize) -> Result<&mut Reading, Refusal> {
    plan.readings.get_mut(index).ok_or_else(|| Refusal(format!("there is no reading {} in this plan", index + 1)))
}

/// The greatest current a reading may show, A: over it the range was wrong. Common practice, no source.
const MOST_METERED_A: f64 = 100.0;

/// The loads of a meter are known, each once, of one voltage: what it shows is shared out at their own.
fn meter(plan: &Plan, loads: &[GearId], amps: f64) -> Result<(), Refusal> {
    if !(0.0..=MOST_METERED_A).contains(&amps) {
        return refuse(format!("a meter in a load's lead shows 0 to {MOST_METERED_A:.0} A: read it again"));
    }
    if loads.is_empty() {
        return refuse("say which loads were on");
    }
    let mut volts = None;
    for (at, id) in loads.iter().enumerate() {
        let Some(gear) = plan.gear(*id) else { return refuse(format!("there is no {id} in this plan")) };
        let wants = match &gear.spec.electric {
            Some(Electric::Load { volts, .. }) if is_meterable(gear) => volts.to_volts(),
            _ => return refuse(format!("{} is no load of the boat's batteries: leave it off", gear.label)),
        };
        if loads[..at].contains(id) {
            return refuse(format!("{} is named twice", gear.label));
        }
        if *volts.get_or_insert(wants) != wants {
            return refuse(format!("{} wants another voltage than the others: meter it alone", gear.label));
        }
    }
    Ok(())
}

/// Readings of a meter that named this gear are kept but no longer used: it is another unit now, or gone.
pub(super) fn unit_changed(plan: &mut Plan, gear: GearId) {
    for reading in &mut plan.readings {
        let named = matches!(&reading.taken, Taken::Meter { loads, .. } if loads.contains(&gear));
        reading.off |= named;
    }
}

/// A waterline is marked on the hull's side: a station off the hull or a height that no side has is a slip.
fn on_the_hull(plan: &Plan, x: f64, height: f64) -> Result<(), Refusal> {
    let form = &plan.hull.form;
    let (Some(keel), Some((_, gunwale))) = (form.keel(x), form.gunwale(x)) else {
        return refuse("there is no hull at that station");
    };
    if (keel - TAPE_MAY_MISS_MM..=gunwale).contains(&height) {
        return Ok(());
    }
    refuse(format!("the hull's side is {keel:.0} to {gunwale:.0} mm over the baseline there: measure the mark again"))
}

/// A keel may lie this much lower than the tape found it before a mark under it is called a slip, mm. Common practice,
/// no source.
const TAPE_MAY_MISS_MM: f64 = 50.0;

/// Whether it reads like 2031-05-30, so that later dates come later.
fn is_date(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let number = |part: &str, digits: usize| {
        let whole = part.len() == digits && part.bytes().all(|byte| byte.is_ascii_digit());
        whole.then(|| part.parse::<u32>().ok()).flatten()
    };
    let [year, month, day] = parts[..] else { return false };
    let within = |value: Option<u32>, most| value.is_some_and(|value| (1..=most).contains(&value));
    number(year, 4).is_some() && within(number(month, 2), 12) && within(number(day, 2), 31)
}

#[cfg(test)]
mod tests {
    use super::is_date;

    #[test]
    fn a_date_is_year_month_and_day() {
        assert!(is_date("2031-05-30"));
        for text in ["", "2031-5-30", "31-05-30", "2031-13-01", "2031-05-00", "2031-05-32", "2031/05/30", "+031-05-30"]
        {
            assert!(!is_date(text), "{text}");
        }
    }
}
