//! The plan beside another state of it, to be laid over the deck: what was where.

use std::sync::Arc;

use crate::checks::{self, Finding};
use crate::compare::{Change, Comparison, Detail, Holes, How, Side, Turn};
use crate::geometry::Spot;
use crate::plan::parts::PartKey;
use crate::plan::{GearId, Plan};
use crate::sheets;
use crate::study::Study;
use crate::units::Measure;

/// Another state of the plan, with what follows from it, and what is different now.
#[derive(Clone, Debug)]
pub struct Compared {
    /// What the other state is called, with the word before it: `since before the seat test`.
    pub name: String,
    /// The other state.
    pub plan: Arc<Plan>,
    /// What follows from it.
    pub study: Study,
    findings: Vec<Finding>,
    /// What is different.
    pub changes: Vec<Change>,
    /// Holes that came and went.
    pub holes: Holes,
    /// What is different of parts, by counts.
    pub words: String,
    /// What that did to holes and findings, by counts; may be empty.
    pub came_of_it: String,
    revision: Option<u64>,
}

/// How gear differs from the other state.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Difference {
    /// Only the other state has it aboard.
    There,
    /// Only the plan now has it aboard.
    Here,
    /// It stands elsewhere.
    Moved,
    /// It is not the same in something else.
    Altered,
}

impl Compared {
    /// Another state, not yet compared; see [`Compared::with`].
    pub fn new(name: String, plan: Arc<Plan>) -> Self {
        let study = Study::of(&plan);
        let findings = checks::run(&plan, &study);
        Self {
            name,
            plan,
            study,
            findings,
            changes: Vec::new(),
            holes: Default::default(),
            words: String::new(),
            came_of_it: String::new(),
            revision: None,
        }
    }

    /// Compares it with the plan in use, if that changed since it was last.
    pub fn with(&mut self, now: Side<'_>, revision: u64) {
        if self.revision == Some(revision) {
            return;
        }
        self.revision = Some(revision);
        let then = Side { plan: &self.plan, study: &self.study, findings: &self.findings };
        let comparison = Comparison::of(then, now);
        self.words = format!("{}: {}", self.name, counts(&comparison));
        self.came_of_it = came_of(&comparison);
        (self.changes, self.holes) = (comparison.changes, comparison.holes);
    }

    /// How each piece of gear differs that does.
    pub fn gear(&self) -> impl Iterator<Item = (GearId, Difference)> {
        self.changes.iter().filter_map(|change| match change.key {
            PartKey::Gear(id) => Some((id, difference(&change.how))),
            _ => None,
        })
    }

    /// What happened to gear that stands at a spot now or stood there, in words.
    pub fn told(&self, now: Option<GearId>, spot: Spot, tape: Measure) -> Option<String> {
        let there = || self.study.rig.at(spot).map(|item| item.gear);
        let of = |id: GearId| self.changes.iter().find(|change| change.key == PartKey::Gear(id));
        let change = now.and_then(of).or_else(|| there().and_then(of))?;
        Some(format!("{}: {}", change.name, sheets::change_words(change, tape)))
    }
}

fn difference(how: &How) -> Difference {
    let has = |wanted: fn(&Detail) -> bool| matches!(how, How::Altered(details) if details.iter().any(wanted));
    match how {
        How::Added => Difference::Here,
        How::Gone => Difference::There,
        How::Altered(_) if has(|detail| matches!(detail, Detail::Aboard)) => Difference::Here,
        How::Altered(_) if has(|detail| matches!(detail, Detail::Ashore)) => Difference::There,
        How::Altered(_) if has(|detail| matches!(detail, Detail::Moved { .. })) => Difference::Moved,
        How::Altered(_) => Difference::Altered,
    }
}

/// `2 moved, 1 new, 6 other things`; one or two other things are named.
fn counts(comparison: &Comparison) -> String {
    let is_gear = |change: &&Change| matches!(change.key, PartKey::Gear(_));
    let (gear, other): (Vec<&Change>, Vec<&Change>) = comparison.changes.iter().partition(is_gear);
    let gear: Vec<Difference> = gear.into_iter().map(|change| difference(&change.how)).collect();
    let count = |wanted: Difference| gear.iter().filter(|kind| **kind == wanted).count();
    let told = listed([
        (count(Difference::Moved), "moved"),
        (count(Difference::Here), "new"),
        (count(Difference::There), "gone"),
        (count(Difference::Altered), "altered"),
    ]);
    let other = match other[..] {
        [] => String::new(),
        [one] => one.name.clone(),
        [one, two] => format!("{}, {}", one.name, two.name),
        ref more => format!("{} other things", more.len()),
    };
    let told: Vec<String> = [told, other].into_iter().filter(|words| !words.is_empty()).collect();
    if told.is_empty() { "nothing changed".into() } else { told.join(", ") }
}

/// `holes 4 less, 3 more; findings 5 cleared, 3 new`.
fn came_of(comparison: &Comparison) -> String {
    let holes = &comparison.holes;
    let turned = |turn: Turn| comparison.verdicts.iter().filter(|verdict| verdict.turn == turn).count();
    let turns = [Turn::Cleared, Turn::New, Turn::Worse, Turn::Eased].map(|turn| (turned(turn), turn.word()));
    let parts =
        [("holes", listed([(holes.gone.len(), "less"), (holes.new.len(), "more")])), ("findings", listed(turns))];
    let told = parts.into_iter().filter(|(_, counts)| !counts.is_empty());
    told.map(|(what, counts)| format!("{what} {counts}")).collect::<Vec<_>>().join("; ")
}

fn listed<const N: usize>(counts: [(usize, &str); N]) -> String {
    let counts = counts.into_iter().filter(|(n, _)| *n > 0);
    counts.map(|(n, word)| format!("{n} {word}")).collect::<Vec<_>>().join(", ")
}
