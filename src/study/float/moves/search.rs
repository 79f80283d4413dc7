//! The search: one move, else two, else what comes nearest. Cheap tests first, a whole study for the last few.

use std::cmp::Ordering;

use super::answer::Answer;
use super::movers::{Mover, Place, apart, is_free};
use super::{MOST_PROPOSALS, Move, Proposal, Sound};
use crate::geometry::{Point, Spot};
use crate::plan::Plan;
use crate::study::Study;
use crate::study::float::Attitude;

/// Trials whether a place is free, in one search.
pub(super) const MOST_TRIES: usize = 1500;

/// Of these, those of one thing.
const MOST_TRIES_EACH: usize = 200;

/// Whole studies in one search.
pub(super) const MOST_STUDIES: usize = 20;

/// Of these, those of one thing or pair that come to nothing.
const MOST_STUDIES_EACH: usize = 3;

/// Pairs are made of so many of the heaviest things.
const MOST_PAIRED: usize = 10;

/// A move that makes it better by less than this is not worth making, degrees.
const WORTH_DEG: f64 = 0.05;

/// A thing and one of its places, by their numbers.
type Pick = (usize, usize);

pub(super) struct Search<'a> {
    plan: &'a Plan,
    study: &'a Study,
    sound: &'a Sound<'a>,
    answer: Answer,
    movers: Vec<Mover>,
    /// Tries left, of all and of each thing.
    tries: usize,
    tries_each: Vec<usize>,
    studies: usize,
}

impl<'a> Search<'a> {
    pub(super) fn new(
        plan: &'a Plan,
        study: &'a Study,
        sound: &'a Sound<'a>,
        answer: Answer,
        movers: Vec<Mover>,
    ) -> Self {
        let tries_each = vec![MOST_TRIES_EACH; movers.len()];
        Self { plan, study, sound, answer, movers, tries: MOST_TRIES, tries_each, studies: MOST_STUDIES }
    }

    /// Everything worth proposing.
    pub(super) fn proposals(&mut self, now: Attitude) -> Vec<Proposal> {
        let mut found = self.singles();
        if found.is_empty() {
            found = self.pairs();
        }
        if found.is_empty() {
            found.extend(self.nearest(now));
        }
        found.sort_by(|a, b| a.moves.len().cmp(&b.moves.len()).then(a.moved_kgm.total_cmp(&b.moved_kgm)));
        found
    }

    /// Single moves that do, one a thing, the least first.
    fn singles(&mut self) -> Vec<Proposal> {
        let window = self.answer.window();
        let mut near: Vec<Pick> = self.picks().filter(|pick| within(window, self.shift(&[*pick]))).collect();
        near.sort_by(|a, b| self.place(*a).cost.total_cmp(&self.place(*b).cost).then_with(|| self.tie(*a, *b)));
        let mut failed = vec![0; self.movers.len()];
        let mut found = Vec::new();
        for pick in near {
            let done = found.len() == MOST_PROPOSALS || self.studies == 0;
            if done {
                break;
            }
            if failed[pick.0] >= MOST_STUDIES_EACH || !self.is_free(pick) || !self.rests_in_range(&[pick]) {
                continue;
            }
            match self.studied(&[pick]).filter(|proposal| !proposal.left.any()) {
                Some(proposal) => {
                    found.push(proposal);
                    failed[pick.0] = MOST_STUDIES_EACH;
                }
                None => failed[pick.0] += 1,
            }
        }
        found
    }

    /// Two moves that do, one set a pair of things, the least first.
    fn pairs(&mut self) -> Vec<Proposal> {
        let count = self.movers.len().min(MOST_PAIRED);
        let mut near: Vec<(f64, [Pick; 2])> = Vec::new();
        for first in 0..count {
            for second in first + 1..count {
                near.extend(self.least_pair(first, second));
            }
        }
        near.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut found = Vec::new();
        for (_, picks) in near {
            if found.len() == MOST_PROPOSALS {
                break;
            }
            if self.rests_in_range(&picks) {
                found.extend(self.studied(&picks).filter(|proposal| !proposal.left.any()));
            }
        }
        found
    }

    /// The least that two things have to be moved together.
    fn least_pair(&mut self, first: usize, second: usize) -> Option<(f64, [Pick; 2])> {
        let mut best: Option<(f64, [Pick; 2])> = None;
        for at in 0..self.movers[first].places.len() {
            let place = &self.movers[first].places[at];
            // Places are sorted by cost: all that follow cost more.
            if best.is_some_and(|(cost, _)| cost <= place.cost) {
                break;
            }
            if place.coarse && place.free != Some(false) {
                best = self.partner((first, at), second, best.map(|(cost, _)| cost)).or(best);
            }
        }
        best
    }

    /// The cheapest place of a second thing that goes with a place of the first, if both together cost less.
    fn partner(&mut self, pick: Pick, second: usize, less_than: Option<f64>) -> Option<(f64, [Pick; 2])> {
        let (window, shift, spent) = (self.answer.window(), self.shift(&[pick]), self.place(pick).cost);
        for at in 0..self.movers[second].places.len() {
            let (other, place) = ((second, at), &self.movers[second].places[at]);
            let (cost, barred) = (spent + place.cost, !place.coarse || place.free == Some(false));
            if less_than.is_some_and(|most| most <= cost) {
                return None;
            }
            if barred || !within(window, shift + self.shift(&[other])) {
                continue;
            }
            if !self.is_free(pick) {
                return None;
            }
            if self.is_free(other) && apart(self.plan, &self.place(pick).to, &self.place(other).to) {
                return Some((cost, [pick, other]));
            }
        }
        None
    }

    /// What comes nearest: the best single move, and a second one where that makes it better still.
    fn nearest(&mut self, now: Attitude) -> Option<Proposal> {
        let mut best: Option<(Proposal, Vec<Pick>)> = None;
        for _ in 0..2 {
            let (picks, from) = match &best {
                Some((proposal, picks)) => (picks.clone(), proposal.attitude()),
                None => (Vec::new(), now),
            };
            match self.better(&picks, self.answer.range.excess(from)) {
                Some(found) => best = Some(found),
                None => break,
            }
        }
        best.map(|(proposal, _)| proposal)
    }

    /// The move that, after others, leaves the least out of range.
    fn better(&mut self, after: &[Pick], excess: f64) -> Option<(Proposal, Vec<Pick>)> {
        let with = |pick: Pick| after.iter().copied().chain([pick]).collect::<Vec<Pick>>();
        let range = self.answer.range;
        let mut near: Vec<(f64, Pick)> = self
            .picks()
            .filter(|pick| after.iter().all(|done| done.0 != pick.0))
            .map(|pick| (range.excess(self.answer.predict(self.shift(&with(pick)))), pick))
            .filter(|(left, _)| *left < excess - WORTH_DEG)
            .collect();
        near.sort_by(|a, b| {
            let by_cost = || self.place(a.1).cost.total_cmp(&self.place(b.1).cost);
            a.0.total_cmp(&b.0).then_with(by_cost).then_with(|| self.tie(a.1, b.1))
        });
        let mut failed = vec![0; self.movers.len()];
        for (_, pick) in near {
            if failed[pick.0] >= MOST_STUDIES_EACH || !self.is_free(pick) {
                continue;
            }
            let picks = with(pick);
            match self.studied(&picks).filter(|found| range.excess(found.attitude()) < excess - WORTH_DEG) {
                Some(proposal) => return Some((proposal, picks)),
                None => failed[pick.0] += 1,
            }
        }
        None
    }

    fn picks(&self) -> impl Iterator<Item = Pick> + '_ {
        let of_one = |(mover, of): (usize, &Mover)| (0..of.places.len()).map(move |place| (mover, place));
        self.movers.iter().enumerate().flat_map(of_one)
    }

    fn place(&self, (mover, place): Pick) -> &Place {
        &self.movers[mover].places[place]
    }

    /// What some moves shift the centre of the whole mass by, mm.
    fn shift(&self, picks: &[Pick]) -> Spot {
        let one = |pick: &Pick| {
            let share = self.movers[pick.0].kg / self.answer.mass_kg;
            let by = self.place(*pick).by;
            Spot::new(by.x * share, by.y * share)
        };
        picks.iter().map(one).fold(Spot::default(), |sum, by| sum + by)
    }

    /// Of two that cost the same the one that comes nearer the middle of the range, which is the same on a
    /// mirrored boat; else the plan's order.
    fn tie(&self, a: Pick, b: Pick) -> Ordering {
        let miss = |pick: Pick| (self.answer.miss(self.shift(&[pick])) * 1.0e6).round();
        miss(a).total_cmp(&miss(b)).then(a.cmp(&b))
    }

    fn is_free(&mut self, (mover, place): Pick) -> bool {
        let at = &mut self.movers[mover].places[place];
        if let Some(free) = at.free {
            return free;
        }
        if self.tries == 0 || self.tries_each[mover] == 0 {
            return false;
        }
        self.tries -= 1;
        self.tries_each[mover] -= 1;
        let free = is_free(self.plan, self.study, &at.to);
        at.free = Some(free);
        free
    }

    /// Whether the body under the shifted mass comes to rest in range.
    fn rests_in_range(&self, picks: &[Pick]) -> bool {
        let one = |pick: &Pick| {
            let (share, by) =
                (self.movers[pick.0].kg / self.answer.mass_kg, self.place(*pick).rises(self.plan, self.study));
            Point::new(by.x * share, by.y * share, by.z * share)
        };
        let rest = self.answer.rest(picks.iter().map(one).fold(Point::default(), |sum, by| sum + by));
        rest.is_some_and(|rest| !self.answer.range.off(rest).any())
    }

    /// Makes the moves on a copy of the plan and studies it.
    fn studied(&mut self, picks: &[Pick]) -> Option<Proposal> {
        self.studies = self.studies.checked_sub(1)?;
        let moves: Vec<Move> = picks.iter().map(|pick| self.place(*pick).to.clone()).collect();
        let mut plan = self.plan.clone();
        moves.iter().for_each(|one| one.make(&mut plan));
        let study = Study::of(&plan);
        let rest = study.float.rest()?;
        let at = Attitude { heel_deg: rest.heel_deg, trim_deg: rest.trim_deg };
        (self.sound)(&plan, &study, &moves).then(|| Proposal {
            moved_kgm: picks.iter().map(|pick| self.place(*pick).cost).sum(),
            moves,
            trim_deg: at.trim_deg,
            heel_deg: at.heel_deg,
            left: self.answer.range.off(at),
        })
    }
}

impl Proposal {
    fn attitude(&self) -> Attitude {
        Attitude { heel_deg: self.heel_deg, trim_deg: self.trim_deg }
    }
}

fn within((low, high): (Spot, Spot), shift: Spot) -> bool {
    (low.x..=high.x).contains(&shift.x) && (low.y..=high.y).contains(&shift.y)
}
