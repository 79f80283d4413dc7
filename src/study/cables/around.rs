//! The shortest way round obstacles, seen from above.
//!
//! Obstacles stand from bottom to deck, so the shortest way in space is the shortest way in this view, at an even slope.
//! Only what stands in the way is looked at: the shortest way round some obstacles that meets none of the others is the
//! shortest way round them all.

use petgraph::algo::astar;
use petgraph::graph::{NodeIndex, UnGraph};

use super::Passed;
use super::obstacle::Obstacle;
use crate::geometry::Spot;

/// A bend of a way seen from above, and what it goes round there; `None` at its ends.
pub(super) type Bend = (Spot, Option<Passed>);

/// The shortest way from one spot to another, both among the bends; `None` when the obstacles leave no way. `usable`
/// tells whether a cable can lie at a spot. An obstacle in which one of the ends lies is none.
pub(super) fn around(from: Spot, to: Spot, obstacles: &[Obstacle], usable: impl Fn(Spot) -> bool) -> Option<Vec<Bend>> {
    let ends = [(from, None), (to, None)];
    let standing: Vec<&Obstacle> = obstacles.iter().filter(|one| !one.holds(from) && !one.holds(to)).collect();
    let mut near: Vec<&Obstacle> = Vec::new();
    let mut way: Vec<Bend> = ends.to_vec();
    loop {
        let before = near.len();
        for (a, b) in way.iter().zip(&way[1..]) {
            for one in standing.iter().filter(|one| one.stops(a.0, b.0)) {
                if !near.iter().any(|known| std::ptr::eq(*known, *one)) {
                    near.push(one);
                }
            }
        }
        if near.len() == before {
            return Some(way);
        }
        way = shortest(&ends, &near, &standing, &usable)?;
    }
}

/// The shortest way round a few obstacles.
fn shortest(
    ends: &[Bend; 2],
    near: &[&Obstacle],
    standing: &[&Obstacle],
    usable: &impl Fn(Spot) -> bool,
) -> Option<Vec<Bend>> {
    let mut graph: UnGraph<Bend, f64> = UnGraph::default();
    let [start, goal] = ends.map(|end| graph.add_node(end));
    for one in near {
        for spot in one.bends.iter().filter(|spot| usable(**spot) && !standing.iter().any(|other| other.holds(**spot)))
        {
            graph.add_node((*spot, Some(one.what)));
        }
    }
    let nodes: Vec<NodeIndex> = graph.node_indices().collect();
    for (i, a) in nodes.iter().enumerate() {
        for b in &nodes[i + 1..] {
            let (here, there) = (graph[*a].0, graph[*b].0);
            if !near.iter().any(|one| one.stops(here, there)) {
                graph.add_edge(*a, *b, here.distance(there));
            }
        }
    }
    let left = |node: NodeIndex| graph[node].0.distance(graph[goal].0);
    let (_, way) = astar(&graph, start, |node| node == goal, |edge| *edge.weight(), left)?;
    Some(way.into_iter().map(|node| graph[node]).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_cables::{block, hull};
    use crate::study::cables::obstacle;

    fn length(way: &[Bend]) -> f64 {
        way.iter().zip(&way[1..]).map(|(a, b)| a.0.distance(b.0)).sum()
    }

    #[test]
    fn a_way_goes_round_a_block_on_its_nearer_side() {
        let mut plan = hull();
        block(&mut plan, (1000.0, 20.0), (200.0, 200.0));
        let standing = obstacle::inside(&plan);
        let way = around(Spot::new(500.0, 0.0), Spot::new(1500.0, 0.0), &standing, |_| true).expect("a way");
        // Round the starboard corners at y = 20 - 100 - 10 = -90, x = 1000 -+ 110.
        let corners: Vec<Spot> = way.iter().map(|bend| bend.0).collect();
        assert_eq!(corners[1..3], [Spot::new(890.0, -90.0), Spot::new(1110.0, -90.0)]);
        let leg = 390.0_f64.hypot(90.0);
        assert!((length(&way) - (2.0 * leg + 220.0)).abs() < 1e-9);
    }

    #[test]
    fn a_block_met_only_by_the_way_round_another_counts() {
        let mut plan = hull();
        block(&mut plan, (1000.0, 20.0), (200.0, 200.0));
        block(&mut plan, (1000.0, -150.0), (100.0, 130.0));
        let standing = obstacle::inside(&plan);
        let way = around(Spot::new(500.0, 0.0), Spot::new(1500.0, 0.0), &standing, |_| true).expect("a way");
        // Between the two there are 5 mm: the way goes to port, at y = 20 + 110 = 130.
        assert!(way.iter().all(|bend| bend.0.y >= 0.0), "{way:?}");
        assert!((length(&way) - (2.0 * 390.0_f64.hypot(130.0) + 220.0)).abs() < 1e-9);
    }

    #[test]
    fn a_wall_from_side_to_side_leaves_no_way() {
        let mut plan = hull();
        block(&mut plan, (1000.0, 0.0), (200.0, 800.0));
        let standing = obstacle::inside(&plan);
        let in_hull = |spot: Spot| plan.hull.form.bottom(spot).is_some();
        assert_eq!(around(Spot::new(500.0, 0.0), Spot::new(1500.0, 0.0), &standing, in_hull), None);
    }
}
