//! The search: one move, else two, else what comes nearest. Cheap tests first, a whole study for the last few.

use std::cmp::Ordering;

use super::answer::Answer;
use super::movers::{Mover, Place, apart, is_free};
use super::{MOST_PROPOSALS, Move, Proposal, Sound};
use crate::geometry::{Point, Spot};
use crate::plan::Plan;
use crate::study::Study;
use crate::study::clearance::Surroundings;
use crate::study::float::Attitude;

/// Trials whether a place is free, for each of the three kinds of answer: one move, two, the nearest.
const MOST_TRIES: usize = 1200;

/// The places of this many things can be tried to the end of their share; the others get what is left.
const SHARES: usize = 6;

/// Whole studies in one search.
const MOST_STUDIES: usize = 16;

/// Of these, those of one thing or pair that come to nothing.
const MOST_STUDIES_EACH: usize = 3;

/// Pairs are made of so many of the heaviest things.
const MOST_PAIRED: usize = 10;

/// A move that makes it better by less than this is not worth making, degrees.
const WORTH_DEG: f64 = 0.05;

/// A thing and one of its places, by their numbers.
type Pick = (usize, usize);

/// The places of a thing at which pairs are tried, the cheapest first.
struct Row {
    mover: usize,
    /// The least and the greatest shift it can bring about.
    reach: (Spot, Spot),
    stands: Vec<Stand>,
}

/// A place by its number, with what decides about it.
struct Stand {
    at: usize,
    shift: Spot,
    cost: f64,
}

/// What is asked: whose moves, and what is known of them.
pub(super) struct Asked<'a> {
    pub(super) plan: &'a Plan,
    pub(super) around: &'a Surroundings<'a>,
    pub(super) study: &'a Study,
    pub(super) sound: &'a Sound<'a>,
}

pub(super) struct Search<'a> {
    plan: &'a Plan,
    around: &'a Surroundings<'a>,
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
    pub(super) fn new(asked: &Asked<'a>, answer: Answer, movers: Vec<Mover>) -> Self {
        let tries_each = vec![0; movers.len()];
        let Asked { plan, around, study, sound } = *asked;
        Self { plan, around, study, sound, answer, movers, tries: 0, tries_each, studies: MOST_STUDIES }
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
        self.refill(SHARES);
        let window = self.answer.window();
        let mut near: Vec<Pick> = self.picks().filter(|pick| within(window, self.shift(&[*pick]))).collect();
        near.sort_by(|a, b| self.place(*a).cost.total_cmp(&self.place(*b).cost).then_with(|| self.tie(*a, *b)));
        let mut failed = vec![0; self.movers.len()];
        let mut found = Vec::new();
        for pick in near {
            if found.len() == MOST_PROPOSALS || self.studies == 0 {
                break;
            }
            if failed[pick.0] >= MOST_STUDIES_EACH || !self.is_free(pick) || !self.rests_in_range(&[pick]) {
                continue;
            }
            match self.studied(&[pick]).filter(|proposal| !proposal.left.any()) {
                Some(proposal) => {
                    found.push(proposal);
                    // Its other places cost more.
                    failed[pick.0] = MOST_STUDIES_EACH;
                }
                None => failed[pick.0] += 1,
            }
        }
        found
    }

    /// Two moves that do, one set a pair of things, the least first.
    fn pairs(&mut self) -> Vec<Proposal> {
        self.refill(SHARES);
        let count = self.movers.len().min(MOST_PAIRED);
        let rows: Vec<Row> = (0..count).map(|mover| self.row(mover)).collect();
        let mut near: Vec<(f64, [Pick; 2])> = Vec::new();
        for first in 0..count {
            for second in first + 1..count {
                near.extend(self.least_pair(&rows[first], &rows[second]));
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

    /// The fewer places of a thing at which pairs are tried.
    fn row(&self, mover: usize) -> Row {
        let places = self.movers[mover].places.iter().enumerate().filter(|(_, place)| place.coarse);
        let at = |(at, place): (usize, &Place)| Stand { at, shift: self.shift(&[(mover, at)]), cost: place.cost };
        let stands: Vec<Stand> = places.map(at).collect();
        let bound = |pick: fn(f64, f64) -> f64, start: f64| {
            stands
                .iter()
                .fold(Spot::new(start, start), |b, stand| Spot::new(pick(b.x, stand.shift.x), pick(b.y, stand.shift.y)))
        };
        Row { mover, reach: (bound(f64::min, f64::INFINITY), bound(f64::max, f64::NEG_INFINITY)), stands }
    }

    /// The least that two things have to be moved together.
    fn least_pair(&mut self, first: &Row, second: &Row) -> Option<(f64, [Pick; 2])> {
        let mut best: Option<(f64, [Pick; 2])> = None;
        for stand in &first.stands {
            // They are sorted by cost: all that follow cost more.
            if best.is_some_and(|(cost, _)| cost <= stand.cost) {
                break;
            }
            best = self.partner((first.mover, stand), second, best.map(|(cost, _)| cost)).or(best);
        }
        best
    }

    /// The cheapest place of a second thing that goes with a place of the first, if both together cost less.
    fn partner(&mut self, one: (usize, &Stand), second: &Row, less_than: Option<f64>) -> Option<(f64, [Pick; 2])> {
        let (pick, most) = ((one.0, one.1.at), less_than.unwrap_or(f64::INFINITY));
        let (low, high) = self.answer.window();
        let wanted = (low - one.1.shift, high - one.1.shift);
        if !meet(wanted, second.reach) || self.place(pick).free == Some(false) {
            return None;
        }
        for stand in &second.stands {
            let cost = one.1.cost + stand.cost;
            if cost >= most {
                return None;
            }
            let other = (second.mover, stand.at);
            if !within(wanted, stand.shift) || self.place(other).free == Some(false) {
                continue;
            }
            if !self.is_free(pick) {
                return None;
            }
            if self.is_free(other) && self.apart(pick, other) {
                return Some((cost, [pick, other]));
            }
        }
        None
    }

    /// What comes nearest: the best single move, and a second one where that makes it better still.
    fn nearest(&mut self, now: Attitude) -> Option<Proposal> {
        // The best places are far out, and most of those are not free: every thing gets its share of trials.
        self.refill(self.movers.len());
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

    /// The move that, after others, leaves the least out of range: of the fewer places of all things, then of the
    /// places around the best one.
    fn better(&mut self, after: &[Pick], excess: f64) -> Option<(Proposal, Vec<Pick>)> {
        let free = |pick: &Pick| after.iter().all(|done| done.0 != pick.0);
        let fewer = self.picks().filter(|pick| self.place(*pick).coarse && free(pick)).collect();
        let found = self.first_better(after, fewer, excess - WORTH_DEG)?;
        let (mover, at) = *found.1.last()?;
        let middle = &self.place((mover, at)).to;
        let around = (0..self.movers[mover].places.len())
            .map(|place| (mover, place))
            .filter(|pick| middle.is_near(&self.place(*pick).to))
            .collect();
        let finer = self.first_better(after, around, self.answer.range.excess(found.0.attitude()));
        Some(finer.unwrap_or(found))
    }

    /// The one of some places that, after other moves, leaves the least out of range, and less than this.
    fn first_better(&mut self, after: &[Pick], picks: Vec<Pick>, excess: f64) -> Option<(Proposal, Vec<Pick>)> {
        let with = |pick: Pick| after.iter().copied().chain([pick]).collect::<Vec<Pick>>();
        let range = self.answer.range;
        let left = |pick: Pick| (range.excess(self.answer.predict(self.shift(&with(pick)))), pick);
        let mut near: Vec<(f64, Pick)> = picks.into_iter().map(left).filter(|(left, _)| *left < excess).collect();
        near.sort_by(|a, b| {
            let by_cost = || self.place(a.1).cost.total_cmp(&self.place(b.1).cost);
            a.0.total_cmp(&b.0).then_with(by_cost).then_with(|| self.tie(a.1, b.1))
        });
        let mut failed = vec![0; self.movers.len()];
        for (_, pick) in near {
            if failed[pick.0] >= MOST_STUDIES_EACH || !self.is_free(pick) {
                continue;
            }
            if !after.iter().all(|done| self.apart(*done, pick)) {
                continue;
            }
            let picks = with(pick);
            match self.studied(&picks).filter(|found| range.excess(found.attitude()) < excess) {
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
        let one = |pick: &Pick| self.movers[pick.0].shift(self.place(*pick), self.answer.mass_kg);
        picks.iter().map(one).fold(Spot::default(), |sum, by| sum + by)
    }

    fn apart(&self, one: Pick, other: Pick) -> bool {
        apart(self.plan, self.study, &self.place(one).to, &self.place(other).to)
    }

    /// Of two that cost the same the one that comes nearer the middle of the range, which is the same on a
    /// mirrored boat; else the plan's order.
    fn tie(&self, a: Pick, b: Pick) -> Ordering {
        let miss = |pick: Pick| (self.answer.miss(self.shift(&[pick])) * 1.0e6).round();
        miss(a).total_cmp(&miss(b)).then(a.cmp(&b))
    }

    /// Allows trials anew; one thing takes no more than its share of them.
    fn refill(&mut self, shares: usize) {
        self.tries = MOST_TRIES;
        self.tries_each.fill(MOST_TRIES / shares.min(self.movers.len()).max(1));
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
        let free = is_free(self.plan, self.around, self.study, &at.to);
        at.free = Some(free);
        free
    }

    /// Whether the body under the shifted mass comes to rest in range.
    fn rests_in_range(&self, picks: &[Pick]) -> bool {
        let one =
            |pick: &Pick| self.movers[pick.0].shift_up(self.place(*pick), self.answer.mass_kg, self.plan, self.study);
        let rest = self.answer.rest(picks.iter().map(one).fold(Point::default(), |sum, by| sum + by));
        rest.is_some_and(|rest| !self.answer.range.off(rest).any())
    }

    /// Makes the moves on a copy of the plan and studies it.
    fn studied(&mut self, picks: &[Pick]) -> Option<Proposal> {
        self.studies = self.studies.checked_sub(1)?;
        let moves: Vec<Move> = picks.iter().map(|pick| self.place(*pick).to.clone()).collect();
        let mut plan = self.plan.clone();
        for one in &moves {
            one.make(&mut plan);
        }
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

fn meet(a: (Spot, Spot), b: (Spot, Spot)) -> bool {
    a.0.x <= b.1.x && b.0.x <= a.1.x && a.0.y <= b.1.y && b.0.y <= a.1.y
}

fn within((low, high): (Spot, Spot), shift: Spot) -> bool {
    (low.x..=high.x).contains(&shift.x) && (low.y..=high.y).contains(&shift.y)
}
