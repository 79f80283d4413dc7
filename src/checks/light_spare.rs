//! `light-spare`: no white light aboard that works when the battery does not.

use super::light_words::LAW;
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};

/// The check.
pub const CHECK: Check = Check { id: "light-spare", title: "no independent white light aboard", doc: DOC, run };

const DOC: &str = "\
What it checks
Whether a white light with cells of its own is placed on the boat, besides the lights that the chosen rule asks
for; a torch counts. It is silent when no phase is dark and no craft state is chosen.

Why it matters
One fuse, one plug or one flat battery puts out everything that hangs on it, and it does so at night.

Limit and source
One such light. Common practice, no source; under oars a white torch is what COLREG Rule 25(d)(ii) asks for. The
law where you are decides.

What to do
A head torch on the person or a hand torch within reach, with fresh cells.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    let lights = &case.study.lights;
    if !lights.matter() || lights.spare.is_some() {
        return;
    }
    found.push(Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject: Subject::Plan,
        at: None,
        value: 0.0,
        limit: 1.0,
        margin: -1.0,
        unit: "count",
        says: "no white light with cells of its own is placed on the boat: one fuse puts out all there is".into(),
        remedy: format!("take a head torch or a hand torch and place it within reach. {LAW}"),
        source: COMMON_PRACTICE,
    });
}
