//! A way in words, step by step.

use super::{Passed, Runs, Step, Way};
use crate::plan::{Plan, Via};

impl Way {
    /// One line a step: `from switch unit`, `down through wire port, forward port`, `under seat pan`, `to display`.
    pub fn words(&self, plan: &Plan) -> Vec<String> {
        let last = self.steps.len().saturating_sub(1);
        let next = |index: usize| self.steps.get(index + 1);
        self.steps.iter().enumerate().map(|(index, step)| words(plan, step, next(index), index == last)).collect()
    }
}

fn words(plan: &Plan, step: &Step, next: Option<&Step>, last: bool) -> String {
    match step.passes {
        Passed::End(gear) => format!("{} {}", if last { "to" } else { "from" }, named(plan, Via::Gear(gear))),
        Passed::Opening(via) => through(plan, via, step, next),
        Passed::Round(id) => format!("round {}", named(plan, Via::Feature(id))),
        Passed::RoundLid(gear) => format!("round {}", named(plan, Via::Gear(gear))),
        Passed::Zone(id) => {
            let name = plan.zone(id).map_or_else(|| id.to_string(), |zone| zone.name.to_string());
            match step.runs {
                Runs::Inside => format!("under {name}"),
                _ => format!("along {name}"),
            }
        }
        Passed::Edge => "up the side, over the deck edge".into(),
        Passed::Deck if step.runs == Runs::Inside => "under the deck".into(),
        Passed::Deck => "on deck".into(),
    }
}

fn through(plan: &Plan, via: Via, step: &Step, next: Option<&Step>) -> String {
    let name = named(plan, via);
    let on = next.map_or(step.runs, |next| next.runs);
    match (step.runs, on) {
        (_, Runs::Tube) => format!("to {name}"),
        (Runs::Tube, Runs::Under) => format!("down through {name}"),
        (Runs::Tube, _) => format!("up through {name}"),
        (_, Runs::Inside) => format!("down through {name}"),
        (Runs::Inside, _) => format!("up through {name}"),
        _ => format!("past {name}"),
    }
}

/// What a person calls a feature, hole or piece of gear.
pub fn named(plan: &Plan, via: Via) -> String {
    match via {
        Via::Feature(id) => plan.feature(id).map_or_else(|| id.to_string(), |feature| feature.name.to_string()),
        Via::Hole(id) => plan.penetration(id).map_or_else(|| id.to_string(), |hole| hole.name.to_string()),
        Via::Gear(id) => plan.gear(id).map_or_else(|| id.to_string(), |gear| gear.label.to_string()),
    }
}
