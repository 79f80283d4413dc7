//! Cables in words: which, what to do at a step of the way, what it takes in all.

use crate::checks::Subject;
use crate::plan::{Plan, Signal, Via};
use crate::study::Study;
use crate::study::cables::{CableRun, Passed};
use crate::units::Measure;

/// A step in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// `down through wire port, bow`.
    pub what: String,
    /// `240 mm on, inside the hull; bore 22 mm, plug 15 mm passes`.
    pub facts: String,
    /// Whether the plug does not pass here.
    pub stuck: bool,
}

/// `sonar cable, transducer to display`.
pub fn title(plan: &Plan, run: &CableRun) -> String {
    format!("{} cable, {}", signal(run.signal), ends(plan, run))
}

/// `transducer to display`.
pub fn ends(plan: &Plan, run: &CableRun) -> String {
    format!("{} to {}", Subject::Gear(run.from).named(plan), Subject::Gear(run.to).named(plan))
}

/// What runs in a cable.
pub const fn signal(signal: Signal) -> &'static str {
    match signal {
        Signal::Power => "power",
        Signal::MotorPower => "motor",
        Signal::Sonar => "sonar",
        Signal::Data => "data",
    }
}

/// A step of a cable's way; `None` past its end or without a way.
pub fn told(plan: &Plan, study: &Study, run: &CableRun, step: usize, tape: Measure) -> Option<Told> {
    let way = run.way.as_ref().ok()?;
    let what = way.words(plan).into_iter().nth(step)?;
    let at = way.steps.get(step)?;
    let mut facts = match step {
        0 => format!("it starts {}", at.runs.word()),
        _ => format!("{} on, {}", tape.length(at.leg_mm), at.runs.word()),
    };
    let mut stuck = false;
    if let Passed::Opening(via) = at.passes {
        let (words, tight) = opening(study, run, via, tape);
        facts.push_str(&words);
        stuck = tight;
    }
    Some(Told { what, facts, stuck })
}

/// The bore of an opening against the plug, and whether it is stuck.
fn opening(study: &Study, run: &CableRun, via: Via, tape: Measure) -> (String, bool) {
    let stuck = run.stuck.iter().any(|stuck| stuck.opening == via);
    let Some(bundle) = study.cables.bundles.iter().find(|bundle| bundle.opening == via) else {
        return (String::new(), stuck);
    };
    let bore = format!("; bore {}", tape.length(bundle.bore_mm));
    let plug = run.tail.map_or(String::new(), |tail| {
        let passes = if stuck { "does not pass" } else { "passes" };
        format!(", plug {} {passes}", tape.length(tail.plug_mm))
    });
    let others = match bundle.cables.len() {
        0 | 1 => String::new(),
        many => format!(", {many} cables together"),
    };
    (format!("{bore}{plug}{others}"), stuck)
}

/// What the whole cable takes: its way, what it needs with slack, what is left or lacking of what was supplied.
pub fn summary(run: &CableRun, tape: Measure) -> String {
    let Ok(way) = &run.way else { return "no way through".into() };
    let mut words = format!("the way is {}", tape.length(way.length_mm));
    if let Some(needed) = run.needed_mm {
        words.push_str(&format!(", with slack and both ends {}", tape.length(needed)));
    }
    if let Some(surplus) = run.surplus_mm {
        let left = if surplus < 0.0 { "lacking" } else { "to coil" };
        words.push_str(&format!("; {} {left} of what is supplied", tape.length(surplus.abs())));
    }
    words
}
