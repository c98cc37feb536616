//! What stands on a value: all that has to be looked at again where the value is another one.
//!
//! The same however the value is moved, so that it is found once for all ends of all worst cases.

use crate::design::NodeId;
use crate::values::reads::{Reads, Version};
use rustc_hash::FxHashMap;

/// The values that stand on one, and that one itself: by the page of 64 values, one bit each.
#[derive(Debug)]
pub(super) struct Reach {
    pages: FxHashMap<u32, u64>,
    as_of: Version,
}

impl Reach {
    /// What stands on `node`, as far as the graph tells.
    pub(super) fn of(node: NodeId, graph: &Reads) -> Reach {
        let mut reach = Reach { pages: FxHashMap::default(), as_of: graph.version() };
        reach.spread(node, graph);
        reach
    }

    pub(super) fn has(&self, node: NodeId) -> bool {
        let (page, bit) = place(node);
        self.pages.get(&page).is_some_and(|bits| bits & bit != 0)
    }

    /// Takes in what has been worked out since.
    pub(super) fn bring_up_to_date(&mut self, graph: &Reads) {
        if self.as_of == graph.version() {
            return;
        }
        // What reads one of those is found on the way.
        for reader in graph.readers_since(self.as_of, |read| self.has(read)) {
            self.spread(reader, graph);
        }
        self.as_of = graph.version();
    }

    /// About how many values it takes the room of.
    pub(super) fn room(&self) -> usize {
        self.pages.len()
    }

    fn spread(&mut self, node: NodeId, graph: &Reads) {
        graph.spread([node], &mut |node| {
            let (page, bit) = place(node);
            let bits = self.pages.entry(page).or_default();
            let is_new = *bits & bit == 0;
            *bits |= bit;
            is_new
        });
    }
}

fn place(node: NodeId) -> (u32, u64) {
    (node.0 / u64::BITS, 1 << (node.0 % u64::BITS))
}
