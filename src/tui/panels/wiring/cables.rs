//! The cables below the diagram: each as a line with what it needs, those of the plan before those that circuits imply.

use super::Item;
use super::cells;
use super::tree::{Node, node};
use crate::study::cables::CableRun;
use crate::tui::panels::Sources;
use crate::tui::words::cables;

/// The heading with its cables; without a cable only below other lines, so that one can be added there.
pub(super) fn root(from: Sources<'_>, below_others: bool) -> Option<Node> {
    let runs = &from.study.cables.runs;
    let below: Vec<Node> = runs.iter().map(|run| cable(from, run)).collect();
    (below_others || !below.is_empty()).then(|| node(from, Item::Cables, "cables", below))
}

fn cable(from: Sources<'_>, run: &CableRun) -> Node {
    let mut node = node(from, Item::Cable(run.id), &cables::ends(from.plan, run), Vec::new());
    node.line.about = match (&run.way, run.id.is_planned()) {
        (Err(_), _) => "no way through".into(),
        (Ok(_), true) => cables::signal(run.signal).into(),
        (Ok(_), false) => format!("{}, not planned", cables::signal(run.signal)),
    };
    node.line.idle = run.way.is_err();
    let before = from.before.map(|before| before.cables.run(run.id).and_then(|run| run.needed_mm));
    node.line.cells = cells::of_length(run.needed_mm, run.measured_mm.is_some(), before, from.tape);
    node
}
