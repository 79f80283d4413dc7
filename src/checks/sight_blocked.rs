//! `sight-blocked`: something stands between the eye and a screen.

use super::sight_words::{Verdict, judge};
use super::words::{label, list};
use super::{COMMON_PRACTICE, Case, Check, Finding};
use crate::study::sight::{Fault, Hider};

/// The check.
pub const CHECK: Check = Check { id: "sight-blocked", title: "something stands before a screen", doc: DOC, run };

const DOC: &str = "\
What it checks
Straight lines from the eye to a net of 45 points on the glass of each screen that must be seen, corners
and middle among them; to one point where gear has no screen. Each line is tried exactly against the boxes
and upright cylinders of all gear outside the hull and against the person's own knees; a cylinder that
lies counts as the box around it. The deck, rods in holders that are not in the plan, and hands are not
tried.

Why it matters
What is hidden is read by leaning round it, or found out too late.

Limit and source
Caution sitting, note standing, when more than 0 percent is hidden (`sight-blocked.share`). Common
practice, no source.

What to do
Move whichever of the two is easier, or raise the screen on a higher base.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    judge(case, CHECK.id, &[Fault::Blocked], found, |seen, view| {
        let (value, limit) = (view.hidden_percent, case.study.sight.bounds.hidden_percent);
        let name = |by: Hider| match by {
            Hider::Gear(gear) => label(case.plan, gear),
            Hider::Knees => "the knees".into(),
        };
        let names: Vec<String> = view.hidden.iter().map(|hidden| name(hidden.by)).collect();
        let first = view.hidden.first()?.by;
        let how_much = if seen.glass.is_none() {
            "is hidden".into()
        } else if value > 99.0 {
            "is hidden wholly".into()
        } else {
            format!("is hidden by {value:.0} percent")
        };
        let remedy = match first {
            Hider::Gear(_) => format!("move {} out of the line of sight, or raise the screen", name(first)),
            Hider::Knees => "raise the screen over the knees, or bring it toward the middle".into(),
        };
        Some(Verdict {
            value,
            limit,
            margin: limit - value,
            unit: "percent",
            source: COMMON_PRACTICE,
            says: format!("{how_much} behind {}", list(&names)),
            remedy,
        })
    });
}
