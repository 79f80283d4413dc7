//! What goes along in reserve, by one rule for the parts list and the launch checklist.

use crate::plan::Plan;
use crate::study::Study;

/// Fuses of each rating that go along. Common practice, no source.
pub(super) const SPARE_FUSES: usize = 2;

/// Fasteners in reserve: a tenth, and no fewer than two of a size. Common practice, no source.
pub(super) fn spare_fasteners(count: usize) -> usize {
    count.div_ceil(10).max(2)
}

/// The fuses of a plan by rating, A, each with how many are fitted; breakers are not among them.
pub(super) fn fuses(plan: &Plan, study: &Study) -> Vec<(f64, usize)> {
    let mains = study.wiring.mains.iter().filter(|main| {
        let breaker = plan.wiring.main_of(main.battery).is_some_and(|main| main.breaker);
        !breaker
    });
    let mains = mains.filter_map(|main| main.run.fuse_a.or(main.run.standard_fuse_a));
    let circuits = study.wiring.circuits.iter().filter(|circuit| circuit.in_use);
    let circuits = circuits.filter_map(|circuit| circuit.run.fuse_a.or(circuit.run.standard_fuse_a));
    let mut ratings: Vec<f64> = mains.chain(circuits).collect();
    ratings.sort_by(f64::total_cmp);
    let mut fuses: Vec<(f64, usize)> = Vec::new();
    for rating in ratings {
        match fuses.last_mut() {
            Some((last, count)) if *last == rating => *count += 1,
            _ => fuses.push((rating, 1)),
        }
    }
    fuses
}
