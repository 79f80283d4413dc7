//! What the checks of sight share: one finding for a screen, from the seat or else for standing, and where it would
//! pass.

use super::{Case, Finding, Severity, Subject};
use crate::geometry::Spot;
use crate::plan::Posture;
use crate::study::sight::{Fault, Seen, View};

/// What a check says about one view.
pub(super) struct Verdict {
    pub(super) value: f64,
    pub(super) limit: f64,
    pub(super) margin: f64,
    pub(super) unit: &'static str,
    pub(super) source: &'static str,
    /// What follows the label and the posture.
    pub(super) says: String,
    /// What to do where it is; where it would pass is added.
    pub(super) remedy: String,
}

/// Adds the worst view of each screen that has a fault: sitting a caution, standing only a note.
pub(super) fn judge(
    case: &Case<'_>,
    check: &'static str,
    faults: &[Fault],
    found: &mut Vec<Finding>,
    verdict: impl Fn(&Seen, &View) -> Option<Verdict>,
) {
    for seen in &case.study.sight.items {
        let faulty = |view: &&View| view.faults.iter().any(|fault| faults.contains(fault));
        let of = |seated: bool| {
            let views = seen.views.iter().filter(move |view| view.is_seated() == seated).filter(faulty);
            let verdicts = views.filter_map(|view| Some((view, verdict(seen, view)?)));
            verdicts.min_by(|a, b| a.1.margin.total_cmp(&b.1.margin))
        };
        let worst = of(true).map(|worst| (Severity::Caution, worst));
        let Some((severity, (view, verdict))) = worst.or_else(|| of(false).map(|worst| (Severity::Note, worst))) else {
            continue;
        };
        let subject = Subject::Gear(seen.gear);
        let label = subject.named(case.plan);
        let elsewhere = if severity == Severity::Note { None } else { elsewhere(case, seen) };
        found.push(Finding {
            check,
            severity,
            subject,
            at: Some(seen.at),
            value: verdict.value,
            limit: verdict.limit,
            margin: verdict.margin,
            unit: verdict.unit,
            says: format!("{}{label} {}", posture(case, view), verdict.says),
            remedy: format!("{}{}", verdict.remedy, elsewhere.unwrap_or_default()),
            source: verdict.source,
        });
    }
}

/// `standing, `: the posture where it is not the one the seat is set for.
fn posture(case: &Case<'_>, view: &View) -> &'static str {
    let set = case.study.sight.eyes.first().map(|eye| eye.posture);
    match view.posture {
        posture if Some(posture) == set => "",
        Posture::Standing => "standing, ",
        Posture::SeatedHigh => "sitting high, ",
        Posture::SeatedLow | Posture::Leaning => "sitting low, ",
    }
}

/// The shift along the boat after which nothing speaks against the view, and the stretch it ends in.
fn elsewhere(case: &Case<'_>, seen: &Seen) -> Option<String> {
    let x = case.place(seen.gear)?.x;
    let shift = seen.nearest_shift(x)?;
    let band = seen.bands.iter().find(|band| (band.from_mm..=band.to_mm).contains(&(x + shift)))?;
    let way = super::way::way(Spot::new(shift, 0.0));
    let (from, to) = (band.from_mm, band.to_mm);
    let stretch = if from == to { format!("{from:.0} mm") } else { format!("{from:.0} to {to:.0} mm") };
    Some(format!("; {way} it is seen well ({stretch} from stern)"))
}
