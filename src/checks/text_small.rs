//! `text-small`: letters on a screen that are seen too small.

use super::limits::TEXT;
use super::sight_words::{Verdict, judge};
use super::{Case, Check, Finding};
use crate::study::sight::Fault;

/// The check.
pub const CHECK: Check = Check { id: "text-small", title: "letters too small to read", doc: DOC, run };

const DOC: &str = "\
What it checks
The angle under which the smallest letters of each screen that must be seen stand in the eye, minutes of
arc: 21600 h / (2 pi D) with h their height and D the distance from the eye. Their height is the gear's
own figure, else a 25th of the height of the glass, taken as 16 to 9 (an assumption: measure a letter of
the page you use).

Why it matters
Letters that are only just read at the kitchen table are not read in sun, spray and motion.

Limit and source
Caution sitting, note standing, under 16 minutes of arc (`text-small.least`). NUREG-0700: at least 16,
better 20 to 22; plan on 22 or more for sun and motion (common practice, no source).

What to do
Set larger letters, bring the screen nearer, or choose a larger one.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    judge(case, CHECK.id, &[Fault::Small], found, |_, view| {
        let (value, limit) = (view.text_arcmin?, case.study.sight.bounds.text_arcmin);
        let nearer = view.look.distance_mm * (1.0 - value / limit.max(1e-9));
        Some(Verdict {
            value,
            limit,
            margin: value - limit,
            unit: "arcmin",
            source: TEXT,
            says: format!("shows letters {value:.1} minutes of arc high; {limit:.0} is the least that is read"),
            remedy: format!(
                "set letters {:.1} times as high, or bring it {:.0} mm nearer",
                limit / value,
                nearer.ceil()
            ),
        })
    });
}
