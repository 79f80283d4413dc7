//! The shortest way from one end of a cable to the other, through the openings it must pass.
//!
//! A graph of the openings: a node for each side of each that a cable can come out on, and for how many of the openings
//! it must pass it has passed. A* searches it; legs are measured when the search asks for them.

use std::cell::RefCell;
use std::collections::BTreeMap;

use petgraph::algo::astar;
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::EdgeRef;

use super::gate::{End, Gate, up_the_side};
use super::room::{Room, Rooms};
use super::{Passed, Runs, Step, Way};
use crate::geometry::Point;
use crate::plan::{Plan, Via};

/// What a way must pass next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Due {
    /// This opening.
    Opening(Via),
    /// Any opening between the same rooms that is at least so wide, mm.
    Wider([Room; 2], f64),
}

/// A question: from where to where, through what.
pub(super) struct Asked<'a> {
    pub from: &'a End,
    pub to: &'a End,
    pub due: &'a [Due],
    /// Whether an opening that it need not pass may be used.
    pub allowed: &'a dyn Fn(&Gate) -> bool,
}

/// The gates of a plan, and the legs between them as far as they were measured.
pub(super) struct Search<'a> {
    plan: &'a Plan,
    pub rooms: &'a Rooms<'a>,
    pub gates: Vec<Gate>,
    known: RefCell<BTreeMap<(usize, usize, Room), f64>>,
}

/// A place where a way stands: behind a gate, in a room.
#[derive(Clone, Copy, Debug)]
struct Stand {
    /// The gate just passed, by its index; `None` at the ends.
    gate: Option<usize>,
    room: Room,
    at: Point,
    /// How many of the openings it must pass are behind it.
    passed: usize,
}

impl Due {
    fn is_met_by(self, gate: &Gate) -> bool {
        match self {
            Self::Opening(via) => gate.opening() == Some(via),
            Self::Wider(rooms, least_mm) => gate.mouths.map(|mouth| mouth.0) == rooms && gate.bore_mm >= least_mm,
        }
    }
}

impl<'a> Search<'a> {
    pub fn new(plan: &'a Plan, rooms: &'a Rooms<'a>, gates: Vec<Gate>) -> Self {
        Self { plan, rooms, gates, known: RefCell::default() }
    }

    /// The gate that this opening is.
    pub fn gate(&self, via: Via) -> Option<&Gate> {
        self.gates.iter().find(|gate| gate.opening() == Some(via))
    }

    /// The shortest way, or `None`.
    pub fn way(&self, asked: &Asked<'_>) -> Option<Way> {
        let Asked { from, to, due, .. } = asked;
        let gates = self.usable(asked);
        let mut graph: DiGraph<Stand, ()> = DiGraph::new();
        let start = graph.add_node(Stand { gate: None, room: from.room, at: from.foot, passed: 0 });
        for passed in 0..=due.len() {
            for (index, gate) in &gates {
                for (room, at) in gate.mouths {
                    graph.add_node(Stand { gate: Some(*index), room, at, passed });
                }
            }
        }
        let goal = graph.add_node(Stand { gate: None, room: to.room, at: to.foot, passed: due.len() });
        let nodes: Vec<NodeIndex> = graph.node_indices().collect();
        for a in &nodes[..nodes.len() - 1] {
            for b in &nodes[1..] {
                if Self::follows(graph[*a], graph[*b], due, &gates) {
                    graph.add_edge(*a, *b, ());
                }
            }
        }
        let cost = |edge: petgraph::graph::EdgeReference<'_, ()>| {
            self.cost(graph[edge.source()], graph[edge.target()], &gates).unwrap_or(f64::INFINITY)
        };
        let left = |node: NodeIndex| graph[node].at.distance(to.foot);
        let (length, found) = astar(&graph, start, |node| node == goal, cost, left)?;
        let stands: Vec<Stand> = found.into_iter().map(|node| graph[node]).collect();
        length.is_finite().then(|| self.steps(asked, &stands, &gates)).flatten()
    }

    /// The gates a way may use, with their indices: under the hull a cable goes only when one of its ends is there.
    fn usable(&self, asked: &Asked<'_>) -> Vec<(usize, Gate)> {
        let under = asked.from.room == Room::Under || asked.to.room == Room::Under;
        let sides = [asked.from, asked.to].into_iter().flat_map(|end| up_the_side(self.plan, end));
        let all = self.gates.iter().copied().chain(sides).enumerate();
        let usable = |(_, gate): &(usize, Gate)| {
            let forced = asked.due.iter().any(|due| due.is_met_by(gate));
            forced || ((asked.allowed)(gate) && (under || !gate.is_under()))
        };
        all.filter(usable).collect()
    }

    /// Whether a way can go from one place straight to another.
    fn follows(a: Stand, b: Stand, due: &[Due], gates: &[(usize, Gate)]) -> bool {
        let Some(next) = b.gate else { return a.room == b.room && a.passed == b.passed };
        let Some(gate) = gate_in(gates, next) else { return false };
        let met = due.get(a.passed).is_some_and(|due| due.is_met_by(gate));
        a.gate != b.gate && entry(gate, b.room).0 == a.room && b.passed == a.passed + usize::from(met)
    }

    /// Length of the leg from one place to the next, with the way through the gate there.
    fn cost(&self, a: Stand, b: Stand, gates: &[(usize, Gate)]) -> Option<f64> {
        let Some(next) = b.gate else { return self.measured(a, b.at, None) };
        let gate = gate_in(gates, next)?;
        Some(self.measured(a, entry(gate, b.room).1, Some(next))? + gate.through_mm())
    }

    /// Length of a leg; between two gates of the plan it is measured once.
    fn measured(&self, a: Stand, to: Point, next: Option<usize>) -> Option<f64> {
        let measure = || self.rooms.leg(a.room, a.at, to).map(|leg| leg.length_mm);
        let (Some(one), Some(two)) = (a.gate, next) else { return measure() };
        if one.max(two) >= self.gates.len() {
            return measure();
        }
        let key = (one.min(two), one.max(two), a.room);
        let known = self.known.borrow().get(&key).copied();
        let length = known.unwrap_or_else(|| measure().unwrap_or(f64::INFINITY));
        self.known.borrow_mut().insert(key, length);
        length.is_finite().then_some(length)
    }

    /// Writes a way down step by step.
    fn steps(&self, asked: &Asked<'_>, stands: &[Stand], gates: &[(usize, Gate)]) -> Option<Way> {
        let (from, to) = (asked.from, asked.to);
        let mut way = Way::default();
        way.push(from.at, Passed::End(from.gear), 0.0, Runs::Deck);
        if from.at != from.foot {
            way.push(from.foot, Passed::Deck, from.at.distance(from.foot), Runs::Deck);
        }
        for pair in stands.windows(2) {
            let (here, there) = (pair[0], pair[1]);
            let Some(gate) = there.gate.and_then(|next| gate_in(gates, next)) else {
                self.walk(&mut way, here.room, here.at, to.foot, None)?;
                continue;
            };
            let mouth = entry(gate, there.room).1;
            if gate.what != Passed::Edge {
                self.walk(&mut way, here.room, here.at, mouth, Some(gate.what))?;
            } else if here.room == Room::Deck {
                self.walk(&mut way, here.room, here.at, mouth, None)?;
            }
            if gate.through_mm() > 0.0 {
                let runs = if gate.what == Passed::Edge { Runs::Side } else { Runs::Tube };
                way.push(there.at, gate.what, gate.through_mm(), runs);
            }
        }
        // The last leg ends at the foot of the gear; it is the gear's own step where the two are one.
        if to.at == to.foot {
            let last = way.steps.last_mut()?;
            (last.at, last.passes) = (to.at, Passed::End(to.gear));
        } else {
            way.push(to.at, Passed::End(to.gear), to.at.distance(to.foot), Runs::Deck);
        }
        if let [first, second, ..] = way.steps.as_mut_slice() {
            first.runs = second.runs;
        }
        Some(way)
    }

    /// One leg with its bends, up to what it leads to; the deck where nothing is named.
    fn walk(&self, way: &mut Way, room: Room, from: Point, to: Point, what: Option<Passed>) -> Option<()> {
        let leg = self.rooms.leg(room, from, to)?;
        let (mut before, mut behind) = (from, 0.0);
        for bend in &leg.bends {
            way.push(bend.at, bend.what, bend.after_mm - behind, self.rooms.runs(room, before, bend.at));
            (before, behind) = (bend.at, bend.after_mm);
        }
        way.push(to, what.unwrap_or(Passed::Deck), leg.length_mm - behind, self.rooms.runs(room, before, to));
        Some(())
    }
}

impl Way {
    fn push(&mut self, at: Point, passes: Passed, leg_mm: f64, runs: Runs) {
        self.length_mm += leg_mm;
        self.steps.push(Step { at, passes, leg_mm, runs });
    }
}

fn gate_in(gates: &[(usize, Gate)], index: usize) -> Option<&Gate> {
    gates.iter().find(|(known, _)| *known == index).map(|(_, gate)| gate)
}

/// The mouth by which a cable enters that comes out in this room.
fn entry(gate: &Gate, out: Room) -> (Room, Point) {
    if gate.mouths[0].0 == out { gate.mouths[1] } else { gate.mouths[0] }
}
