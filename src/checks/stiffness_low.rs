//! `stiffness-low`: too little that rights the boat in a posture the plan counts on.

use super::finding::COMMON_PRACTICE;
use super::float_words::FLOAT_TEST;
use super::words::list;
use super::{Case, Check, Finding, Severity, Subject};
use crate::plan::{Posture, SeatHeight};

/// The check.
pub const CHECK: Check = Check { id: "stiffness-low", title: "tender in a posture the plan counts on", doc: DOC, run };

const DOC: &str = "\
What it checks
The metacentric height as planned, less what the loose water in livewells and bilge takes, in each
posture that the plan claims: seated as the seat is set, and seated high or standing where a phase of
the outing says so.

Why it matters
It is what rights the boat at small heels. With little of it every reach and every cast tips the boat;
under zero the boat falls over by itself and only balance keeps it up.

Limit and source
Seated: caution under 100 mm (`stiffness-low.seated`). Any posture, standing too: stop under 0 mm
(`stiffness-low.stop`). Common practice, no source.

What to do
Sit low, put the heaviest things lower, keep livewells full to the brim or empty, do not claim to stand.
A number over the limit is no promise that you can stand: people move. Try it where you can stand in the
water, life jacket on.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    for stiffness in &case.study.float.stiffness {
        let (posture, gm) = (stiffness.posture, stiffness.gm_mm);
        let Some(when) = claimed(case, posture) else { continue };
        let stop = case.limits.get("stiffness-low.stop");
        let seated = case.limits.get("stiffness-low.seated");
        let (limit, severity) = match posture {
            _ if gm < stop => (stop, Severity::Stop),
            Posture::SeatedLow | Posture::SeatedHigh if gm < seated => (seated, Severity::Caution),
            _ => continue,
        };
        findings.push(Finding {
            check: CHECK.id,
            severity,
            subject: Subject::Plan,
            at: Some(case.study.weights.centre()),
            value: gm,
            limit,
            margin: gm - limit,
            unit: "mm",
            says: says(posture, gm, &when),
            remedy: format!("{} {FLOAT_TEST}", remedy(case, posture, limit - gm)),
            source: COMMON_PRACTICE,
        });
    }
}

/// Where the plan counts on a posture, in words; `None` where it does not.
fn claimed(case: &Case<'_>, posture: Posture) -> Option<String> {
    let phases = case.plan.outing.phases.iter().filter(|phase| phase.posture == posture);
    let names: Vec<String> = phases.map(|phase| format!("\"{}\"", phase.name)).collect();
    let seat = &case.plan.angler.seat;
    let high = seat.height == SeatHeight::High && case.plan.hull.seat.high.is_some();
    let as_set = posture == if high { Posture::SeatedHigh } else { Posture::SeatedLow };
    match (as_set, names.is_empty()) {
        (true, _) => Some("as the seat is set".into()),
        (false, false) => Some(format!("in {}", list(&names))),
        (false, true) => None,
    }
}

fn words(posture: Posture) -> &'static str {
    match posture {
        Posture::SeatedLow => "Seated low",
        Posture::SeatedHigh => "Seated high",
        Posture::Leaning => "Leaning",
        Posture::Standing => "Standing",
    }
}

fn says(posture: Posture, gm: f64, when: &str) -> String {
    let posture = words(posture);
    if gm < 0.0 {
        format!(
            "{posture}, {when}, the boat does not stay up by itself: the centre of all weight is {:.0} mm over the \
             metacentre.",
            -gm
        )
    } else {
        format!("{posture}, {when}, little rights the boat: a metacentric height of {gm:.0} mm.")
    }
}

/// What brings the centre of all weight down by so much, mm.
fn remedy(case: &Case<'_>, posture: Posture, short: f64) -> String {
    let all = case.study.float.planned().map_or(0.0, |planned| planned.load.mass_kg);
    let lower = lowered(case, short * all)
        .unwrap_or_else(|| format!("bring the centre of all weight down by {:.0} mm", short.ceil()));
    let lower_seat = match posture {
        Posture::Standing => "Sit for that",
        Posture::SeatedHigh => "Sit low for that",
        _ => "Sit lower",
    };
    format!("{lower_seat}, or {lower}.")
}

/// The heaviest gear that has as much room under it, and how much lower it has to be; the moment in kg mm.
fn lowered(case: &Case<'_>, moment: f64) -> Option<String> {
    let pieces = case.study.rig.items.iter().filter_map(|item| {
        let gear = case.plan.gear.get(item.index)?;
        let room = item.bottom() - case.plan.hull.form.bottom(item.at.spot())?;
        let kg = gear.spec.mass.value.to_kg();
        (kg > 0.0 && moment / kg <= room).then_some((kg, gear))
    });
    let (kg, gear) = pieces.max_by(|a, b| a.0.total_cmp(&b.0))?;
    Some(format!("put {} {:.0} mm lower", gear.label, (moment / kg).ceil()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_float::{ANGLER_KG, KG, METACENTRE, ballast, boat, claim, findings, middle, one, sit};
    use crate::checks::test_power::add;
    use crate::plan::{Kind, Plan};
    use crate::study::posture;
    use crate::units::{Figure, Mass};

    /// The box with this metacentric height, seated low as the seat is set: by hand, metacentre less centre.
    fn stiff(gm: f64) -> Plan {
        boat(300.0, middle(METACENTRE - gm))
    }

    #[test]
    fn seated_a_hundred_millimetres_are_asked() {
        assert!(findings(&stiff(100.01), CHECK.id).is_empty());
        let found = one(&stiff(99.99), CHECK.id, Severity::Caution);
        assert!(found.says.starts_with("Seated low, as the seat is set, little rights"), "{}", found.says);
        one(&stiff(0.01), CHECK.id, Severity::Caution);
    }

    /// By hand: the angler's share of the mass times how much higher it is in this posture.
    fn costs(plan: &Plan, posture: Posture) -> f64 {
        ANGLER_KG / KG * (posture::centre(plan, posture).z - posture::seated_centre(plan).z)
    }

    #[test]
    fn what_a_phase_claims_counts_and_nothing_else() {
        let loss = costs(&stiff(200.0), Posture::Standing);
        let mut plan = stiff(loss - 0.01);
        assert!(findings(&plan, CHECK.id).is_empty());
        claim(&mut plan, Posture::Standing);
        let found = one(&plan, CHECK.id, Severity::Stop);
        assert!(found.says.starts_with("Standing, in \"day\", the boat does not stay up"), "{}", found.says);
        assert!(found.remedy.starts_with("Sit for that"), "{}", found.remedy);
        let mut plan = stiff(loss + 0.01);
        claim(&mut plan, Posture::Standing);
        assert!(findings(&plan, CHECK.id).is_empty());
    }

    #[test]
    fn seated_high_counts_when_it_is_claimed_or_set() {
        let loss = costs(&stiff(200.0), Posture::SeatedHigh);
        let mut plan = stiff(100.0 + loss - 0.01);
        claim(&mut plan, Posture::SeatedHigh);
        let found = one(&plan, CHECK.id, Severity::Caution);
        assert!(found.says.starts_with("Seated high, in \"day\", little rights"), "{}", found.says);
        let mut plan = stiff(100.0 + loss + 0.01);
        claim(&mut plan, Posture::SeatedHigh);
        assert!(findings(&plan, CHECK.id).is_empty());
        sit(&mut plan, SeatHeight::High);
        ballast(&mut plan, KG, middle(METACENTRE - 99.99));
        let found = one(&plan, CHECK.id, Severity::Caution);
        assert!(found.says.starts_with("Seated high, as the seat is set"), "{}", found.says);
    }

    #[test]
    fn the_heaviest_gear_with_room_under_it_goes_lower() {
        let mut plan = stiff(100.0);
        add(&mut plan, "crate", Kind::Storage, Figure::measured(Mass::kg(10.0)), None);
        ballast(&mut plan, KG, middle(METACENTRE - 95.0));
        // By hand: 5 mm x 230.2 kg / 10 kg = 115.1 mm, and the crate stands 300 mm over the bottom.
        let found = one(&plan, CHECK.id, Severity::Caution);
        assert!(found.remedy.starts_with("Sit lower, or put crate 116 mm lower."), "{}", found.remedy);
    }
}
