//! `hole-spacing`: a new hole too close to a hole of something else.

use super::hole_words::{Verdict, Voice, is_new, owner_name};
use super::{Case, Check, Finding, Severity, Subject};
use crate::study::fastening::{Apart, minimum_spacing};
use crate::study::holes::{Hole, strangers};

/// The check.
pub const CHECK: Check = Check { id: "hole-spacing", title: "two holes too close to each other", doc: DOC, run };

const DOC: &str = "\
What it checks
The distance from middle to middle between each new hole and the holes of everything else, old and closed
ones included. The holes of one base are the maker's pattern and are not held against each other.

Why it matters
The strip between two holes flexes and cracks, and washers and gaskets get in each other's way. An old
hole, plugged or welded, stays a weak place.

Limit and source
3 diameters of the larger (`hole-spacing.diameters`; AC 43.13-1B, sheet metal), at least 25 mm
(`hole-spacing.least`); between wide openings a strip of 50 mm (`hole-spacing.cutout`) or half the larger
diameter is enough: common practice, no source. Caution; stop when the holes run into each other.

What to do
Move one of them, use the old hole itself, or cover both with one larger plate.
";

const SOURCE: &str = "AC 43.13-1B, rivet pitch 3 D; floor and ceiling for plastic common practice";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let rule = Apart {
        diameters: case.limits.get("hole-spacing.diameters"),
        least_mm: case.limits.get("hole-spacing.least"),
        cutout_mm: case.limits.get("hole-spacing.cutout"),
    };
    let holes = &case.study.holes.holes;
    let voice = Voice { check: CHECK.id, source: SOURCE };
    // One finding for two owners: the worst pair of their holes.
    let mut worst: Vec<(&Hole, &Hole, Verdict)> = Vec::new();
    // Most are far apart by their place along the boat alone; kept close together, that is quick to see.
    let along: Vec<f64> = holes.iter().map(|hole| hole.at.x).collect();
    let widest = holes.iter().map(|hole| hole.bore_mm).fold(0.0, f64::max);
    let most = minimum_spacing(widest, widest, rule);
    for (i, first) in holes.iter().enumerate() {
        for (second, x) in holes[i + 1..].iter().zip(&along[i + 1..]) {
            if (x - along[i]).abs() >= most {
                continue;
            }
            if !(is_new(first) || is_new(second)) || !strangers(first, second) {
                continue;
            }
            let Some(verdict) = judge(first, second, rule) else { continue };
            let (mover, other) = if is_new(second) { (second, first) } else { (first, second) };
            let known = worst.iter_mut().find(|(a, b, _)| same_owner(a, mover) && same_owner(b, other));
            match known {
                Some(kept) if verdict.outweighs(&kept.2) => *kept = (mover, other, verdict),
                Some(_) => {}
                None => worst.push((mover, other, verdict)),
            }
        }
    }
    for (mover, other, mut verdict) in worst {
        let other_state = if is_new(other) { "a hole" } else { "an old hole" };
        let (mine, its) = (owner_name(case.plan, mover), owner_name(case.plan, other));
        verdict.says = format!("{mine}: {:.0} mm from {other_state} of {its}; {}", verdict.value, verdict.says);
        findings.push(verdict.finding(voice, Subject::Hole(mover.id), mover.at));
    }
}

fn judge(first: &Hole, second: &Hole, rule: Apart) -> Option<Verdict> {
    let needed = minimum_spacing(first.bore_mm, second.bore_mm, rule);
    if (first.at.x - second.at.x).abs() >= needed {
        return None;
    }
    let away = first.at.distance(second.at);
    if away >= needed {
        return None;
    }
    Some(if away < first.radius() + second.radius() {
        let remedy = "use the one hole for both, or move one of them".into();
        Verdict::at_least(Severity::Stop, away, needed, "they run into each other".into(), remedy)
    } else {
        let remedy = format!("move one of them by {:.0} mm, or cover both with one plate", needed - away);
        Verdict::at_least(Severity::Caution, away, needed, format!("{needed:.0} mm are needed"), remedy)
    })
}

fn same_owner(a: &Hole, b: &Hole) -> bool {
    a.id == b.id || (a.owner.is_some() && a.owner == b.owner)
}

#[cfg(test)]
mod tests {
    use super::super::test_holes::*;
    use super::*;
    use crate::plan::{Fate, Plug};

    fn pair(apart: f64, bore: f64, fate: Fate) -> crate::plan::Plan {
        let mut plan = with_hole(1500.0, 0.0, bore, Fate::New);
        add_hole(&mut plan, 1500.0 + apart, 0.0, bore, fate);
        plan
    }

    #[test]
    fn small_holes_need_25_mm_and_larger_ones_three_diameters() {
        fires(&pair(25.0, 5.0, Fate::New), CHECK, &[]);
        fires(&pair(24.0, 5.0, Fate::New), CHECK, &[Severity::Caution]);
        fires(&pair(36.0, 12.0, Fate::New), CHECK, &[]);
        fires(&pair(35.0, 12.0, Fate::New), CHECK, &[Severity::Caution]);
        fires(&pair(4.0, 5.0, Fate::New), CHECK, &[Severity::Stop]);
    }

    #[test]
    fn an_old_hole_counts_even_plugged_but_two_old_ones_do_not() {
        fires(&pair(20.0, 5.0, Fate::Plugged(Plug::PlasticWeld)), CHECK, &[Severity::Caution]);
        let mut plan = pair(20.0, 5.0, Fate::Open);
        plan.penetrations[0].fate = Fate::Open;
        fires(&plan, CHECK, &[]);
    }

    #[test]
    fn a_makers_pattern_is_not_held_against_itself_but_against_others() {
        // The plate's own holes are 20 mm apart.
        let mut plan = with_gear(plate(1500.0, 0.0));
        fires(&plan, CHECK, &[]);
        add_gear(&mut plan, plate(1500.0, 15.0));
        let found = fires(&plan, CHECK, &[Severity::Caution]);
        assert_eq!(found[0].value, 15.0);
    }
}
