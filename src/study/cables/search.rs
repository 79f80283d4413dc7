//! The shortest way from one end of a cable to the other, through the openings it must pass.
//!
//! A graph of the openings: a node for each side of each that a cable can come out on, and for how many of the openings
//! it must pass it has passed. A* searches it with every leg as the crow flies; then the legs of the way it found are
//! measured, and it searches again, until it finds a way whose legs are all measured. No leg is shorter than the crow's,
//! so that way is the shortest, and most legs are never measured.

use std::cell::RefCell;
use std::collections::BTreeMap;

use petgraph::algo::astar;
use petgraph::graph::{DiGraph, EdgeIndex, NodeIndex};

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
    known: RefCell<BTreeMap<Key, f64>>,
}

/// A room and two places in it.
type Key = (Room, [u64; 3], [u64; 3]);

/// A place where a way stands: behind a gate, in a room.
#[derive(Clone, Copy, Debug)]
struct Stand {
    /// The gate just passed, by its index among the usable ones; `None` at the ends.
    gate: Option<usize>,
    room: Room,
    at: Point,
    /// How many of the openings it must pass are behind it.
    passed: usize,
}

/// From one place to the next: a leg, and the way through the gate it leads to.
#[derive(Clone, Copy, Debug)]
struct Hop {
    /// Its length; until the leg is measured no more than that, mm.
    mm: f64,
    measured: bool,
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
        let gates = self.usable(asked);
        let (mut net, [start, goal]) = net(asked, &gates);
        loop {
            let left = |node: NodeIndex| net[node].at.distance(asked.to.foot);
            let (length, found) = astar(&net, start, |node| node == goal, |edge| edge.weight().mm, left)?;
            if !length.is_finite() {
                return None;
            }
            let edges = found.windows(2).filter_map(|pair| net.find_edge(pair[0], pair[1]));
            let unmeasured: Vec<EdgeIndex> = edges.filter(|edge| !net[*edge].measured).collect();
            if unmeasured.is_empty() {
                let stands: Vec<Stand> = found.into_iter().map(|node| net[node]).collect();
                return self.steps(asked, &stands, &gates);
            }
            for edge in unmeasured {
                let (a, b) = net.edge_endpoints(edge)?;
                net[edge] = Hop { mm: self.length(net[a], net[b], &gates), measured: true };
            }
        }
    }

    /// The gates a way may use: under the hull a cable goes only when one of its ends is there.
    fn usable(&self, asked: &Asked<'_>) -> Vec<Gate> {
        let under = asked.from.room == Room::Under || asked.to.room == Room::Under;
        let sides = [asked.from, asked.to].into_iter().flat_map(|end| up_the_side(self.plan, end));
        let usable = |gate: &Gate| {
            let forced = asked.due.iter().any(|due| due.is_met_by(gate));
            forced || ((asked.allowed)(gate) && (under || !gate.is_under()))
        };
        self.gates.iter().copied().chain(sides).filter(usable).collect()
    }

    /// Length from one place to the next with the way through the gate there, mm; infinite when no leg leads there.
    fn length(&self, a: Stand, b: Stand, gates: &[Gate]) -> f64 {
        let gate = b.gate.and_then(|next| gates.get(next));
        let to = gate.map_or(b.at, |gate| entry(gate, b.room).1);
        let measure = || self.rooms.leg(a.room, a.at, to).map_or(f64::INFINITY, |leg| leg.length_mm);
        let leg = *self.known.borrow_mut().entry(key(a.room, a.at, to)).or_insert_with(measure);
        leg + gate.map_or(0.0, Gate::through_mm)
    }

    /// Writes a way down step by step.
    fn steps(&self, asked: &Asked<'_>, stands: &[Stand], gates: &[Gate]) -> Option<Way> {
        let (from, to) = (asked.from, asked.to);
        let mut way = Way::default();
        way.push(from.at, Passed::End(from.gear), 0.0, Runs::Deck);
        if from.at != from.foot {
            way.push(from.foot, Passed::Deck, from.at.distance(from.foot), Runs::Deck);
        }
        for pair in stands.windows(2) {
            let (here, there) = (pair[0], pair[1]);
            let Some(gate) = there.gate.and_then(|next| gates.get(next)) else {
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

/// The places of a way, and an edge from each to every one that a leg could lead to.
fn net(asked: &Asked<'_>, gates: &[Gate]) -> (DiGraph<Stand, Hop>, [NodeIndex; 2]) {
    let Asked { from, to, due, .. } = asked;
    let mut net = DiGraph::new();
    let start = net.add_node(Stand { gate: None, room: from.room, at: from.foot, passed: 0 });
    for passed in 0..=due.len() {
        for (index, gate) in gates.iter().enumerate() {
            for (room, at) in gate.mouths {
                net.add_node(Stand { gate: Some(index), room, at, passed });
            }
        }
    }
    let behind = |passed: usize, gate: usize, side: usize| NodeIndex::new(1 + 2 * (passed * gates.len() + gate) + side);
    let goal = NodeIndex::new(net.node_count());
    for node in net.node_indices() {
        let here: Stand = net[node];
        for (index, gate) in gates.iter().enumerate().filter(|(index, _)| here.gate != Some(*index)) {
            let met = due.get(here.passed).is_some_and(|due| due.is_met_by(gate));
            let next = here.passed + usize::from(met);
            for side in [0, 1] {
                let (room, mouth) = gate.mouths[1 - side];
                if room == here.room {
                    let mm = here.at.distance(mouth) + gate.through_mm();
                    net.add_edge(node, behind(next, index, side), Hop { mm, measured: false });
                }
            }
        }
    }
    let ends: Vec<NodeIndex> =
        net.node_indices().filter(|node| net[*node].room == to.room && net[*node].passed == due.len()).collect();
    net.add_node(Stand { gate: None, room: to.room, at: to.foot, passed: due.len() });
    for node in ends {
        net.add_edge(node, goal, Hop { mm: net[node].at.distance(to.foot), measured: false });
    }
    (net, [start, goal])
}

/// A leg as the table of measured ones knows it.
fn key(room: Room, from: Point, to: Point) -> Key {
    let bits = |point: Point| [point.x, point.y, point.z].map(f64::to_bits);
    let (one, two) = (bits(from), bits(to));
    (room, one.min(two), one.max(two))
}

/// The mouth by which a cable enters that comes out in this room.
fn entry(gate: &Gate, out: Room) -> (Room, Point) {
    if gate.mouths[0].0 == out { gate.mouths[1] } else { gate.mouths[0] }
}
