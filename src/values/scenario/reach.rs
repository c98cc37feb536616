//! What stands on some values: all that has to be looked at again where those are others.

use crate::design::NodeId;
use crate::values::reads::Reads;
use rustc_hash::FxHashSet;

/// Values, and all that stands on them.
#[derive(Debug)]
pub(super) struct Reach {
    nodes: FxHashSet<NodeId>,
    /// How many of the values that were worked out have been looked at.
    as_of: usize,
}

impl Reach {
    /// What stands on these, as far as the graph tells.
    pub(super) fn of(nodes: impl Iterator<Item = NodeId>, graph: &Reads) -> Reach {
        let mut reach = Reach { nodes: FxHashSet::default(), as_of: graph.worked_out_since(0).len() };
        graph.spread(nodes, &mut |node| reach.nodes.insert(node));
        reach
    }

    /// Whether a value is among them, perhaps one that was worked out since.
    pub(super) fn has(&mut self, node: NodeId, graph: &Reads) -> bool {
        let new = graph.worked_out_since(self.as_of);
        self.as_of += new.len();
        for reader in new {
            if graph.reads(*reader).iter().any(|read| self.nodes.contains(read)) {
                graph.spread([*reader], &mut |node| self.nodes.insert(node));
            }
        }
        self.nodes.contains(&node)
    }
}
