//! A network of tasks: an order in which nothing is undone, what runs in a circle, and the longest way through.
//!
//! Longest way by the critical path method: the earliest finish of a task is its own time after the latest finish of
//! what comes before it. Source: textbooks of project planning, from memory.

use petgraph::algo::tarjan_scc;
use petgraph::graph::DiGraph;

/// Tasks by their number: how long each takes, and which come before it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Network {
    /// How long a task and the wait after it take, in any one unit.
    pub spans: Vec<f64>,
    /// The tasks that come before each.
    pub before: Vec<Vec<usize>>,
}

/// What a network comes to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Paths {
    /// The tasks in an order that never undoes work; those in circles, and after one, are left out.
    pub order: Vec<usize>,
    /// Tasks that wait for each other, by circle.
    pub circles: Vec<Vec<usize>>,
    /// Earliest finish of each task.
    pub finish: Vec<f64>,
    /// What is left from the start of each task to the end, by its longest way.
    pub tail: Vec<f64>,
    /// The longest way, from its first task to its last.
    pub critical: Vec<usize>,
}

impl Network {
    /// Orders the tasks and finds the longest way through them. Tasks of the same rank keep their own order.
    pub fn paths(&self) -> Paths {
        let count = self.spans.len();
        let order = self.order();
        let (mut finish, mut tail) = (vec![0.0; count], self.spans.clone());
        for task in &order {
            let ready = self.known(*task).map(|before| finish[before]).fold(0.0, f64::max);
            finish[*task] = ready + self.spans[*task];
        }
        for task in order.iter().rev() {
            for before in self.known(*task) {
                tail[before] = tail[before].max(self.spans[before] + tail[*task]);
            }
        }
        let critical = self.critical(&order, &finish);
        Paths { circles: self.circles(), order, finish, tail, critical }
    }

    /// What comes before a task, as far as the network knows it.
    fn known(&self, task: usize) -> impl Iterator<Item = usize> + '_ {
        let count = self.spans.len();
        self.before.get(task).into_iter().flatten().copied().filter(move |before| *before < count)
    }

    /// Takes, again and again, the first tasks of the list that wait for nothing any more.
    fn order(&self) -> Vec<usize> {
        let count = self.spans.len();
        let mut after = vec![Vec::new(); count];
        let mut waits = vec![0_usize; count];
        for (task, waits) in waits.iter_mut().enumerate() {
            for before in self.known(task) {
                after[before].push(task);
                *waits += 1;
            }
        }
        let mut free: std::collections::BTreeSet<usize> = (0..count).filter(|task| waits[*task] == 0).collect();
        let mut order = Vec::with_capacity(count);
        while let Some(task) = free.pop_first() {
            order.push(task);
            for next in &after[task] {
                waits[*next] -= 1;
                if waits[*next] == 0 {
                    free.insert(*next);
                }
            }
        }
        order
    }

    fn circles(&self) -> Vec<Vec<usize>> {
        let edges = (0..self.spans.len()).flat_map(|task| self.known(task).map(move |before| (before, task)));
        let mut graph = DiGraph::<(), (), usize>::default();
        for _ in &self.spans {
            graph.add_node(());
        }
        for (before, task) in edges {
            graph.add_edge(before.into(), task.into(), ());
        }
        let waits_for_itself = |task: usize| self.known(task).any(|before| before == task);
        let rings = tarjan_scc(&graph).into_iter().map(|ring| {
            let mut tasks: Vec<usize> = ring.into_iter().map(|node| node.index()).collect();
            tasks.sort_unstable();
            tasks
        });
        rings.filter(|ring| ring.len() > 1 || ring.iter().any(|task| waits_for_itself(*task))).collect()
    }

    /// Back from the task that finishes last, each time by the one it had to wait for.
    fn critical(&self, order: &[usize], finish: &[f64]) -> Vec<usize> {
        let latest = |tasks: &mut dyn Iterator<Item = usize>| {
            tasks.fold(None, |latest: Option<usize>, task| match latest {
                Some(other) if finish[other] >= finish[task] => latest,
                _ => Some(task),
            })
        };
        let mut path = Vec::new();
        let mut at = latest(&mut order.iter().copied());
        while let Some(task) = at {
            path.push(task);
            at = latest(&mut self.known(task));
        }
        path.reverse();
        path
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn network(tasks: &[(f64, &[usize])]) -> Network {
        Network {
            spans: tasks.iter().map(|(span, _)| *span).collect(),
            before: tasks.iter().map(|(_, before)| before.to_vec()).collect(),
        }
    }

    /// An example as textbooks of project planning have it (from memory), worked out by hand: A 3; B 4 and C 2 after
    /// A; D 5 after B; E 1 and F 2 after C; G 4 after D and E; H 3 after F and G. A, B, D, G, H take 19.
    #[test]
    fn a_textbook_network() {
        let (a, b, c, d, e, f, g, h) = (0, 1, 2, 3, 4, 5, 6, 7);
        let network = network(&[
            (3.0, &[]),
            (4.0, &[a]),
            (2.0, &[a]),
            (5.0, &[b]),
            (1.0, &[c]),
            (2.0, &[c]),
            (4.0, &[d, e]),
            (3.0, &[f, g]),
        ]);
        let paths = network.paths();
        assert_eq!(paths.critical, [a, b, d, g, h]);
        assert_eq!(paths.finish, [3.0, 7.0, 5.0, 12.0, 6.0, 7.0, 16.0, 19.0]);
        assert_eq!(paths.tail, [19.0, 16.0, 10.0, 12.0, 8.0, 5.0, 7.0, 3.0]);
        assert!(paths.circles.is_empty());
        assert_eq!(paths.order.len(), 8);
    }

    #[test]
    fn what_waits_for_itself_is_named_and_the_rest_is_ordered() {
        let paths = network(&[(1.0, &[]), (1.0, &[2]), (1.0, &[1]), (1.0, &[2]), (1.0, &[4]), (1.0, &[0])]).paths();
        assert_eq!(paths.order, [0, 5]);
        let mut circles = paths.circles;
        circles.sort();
        assert_eq!(circles, [vec![1, 2], vec![4]]);
    }

    #[test]
    fn nothing_comes_to_nothing() {
        assert_eq!(Network::default().paths(), Paths::default());
    }
}
