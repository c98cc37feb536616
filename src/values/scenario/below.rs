//! On which numbers that may be off each value stands: what a turn of one of them touches is seen from the value itself.

use crate::design::NodeId;
use crate::values::reads::Reads;
use rustc_hash::{FxHashMap, FxHashSet};
use std::sync::Arc;

/// The number of the set of none.
const NONE: u32 = 0;
/// No number yet.
const NOT_YET: u32 = u32::MAX;

/// For each value the number of a set; values mostly share them.
#[derive(Debug)]
pub(super) struct Below {
    of: Vec<u32>,
    sets: Vec<Arc<[NodeId]>>,
    numbers: FxHashMap<Arc<[NodeId]>, u32>,
    unions: FxHashMap<(u32, u32), u32>,
    /// How many of the values that were found to read more have been looked at.
    as_of: usize,
    room: usize,
}

impl Default for Below {
    fn default() -> Self {
        let none: Arc<[NodeId]> = Arc::new([]);
        Self {
            of: Vec::new(),
            sets: vec![Arc::clone(&none)],
            numbers: FxHashMap::from_iter([(none, NONE)]),
            unions: FxHashMap::default(),
            as_of: 0,
            room: 0,
        }
    }
}

/// A value whose reads are being gone through.
struct Open {
    node: NodeId,
    next: usize,
    set: u32,
}

impl Below {
    /// The number of the set of a value, as it is written or at any end that was tried.
    pub(super) fn of(&mut self, node: NodeId, graph: &Reads, is_off: &dyn Fn(NodeId) -> bool) -> u32 {
        self.forget_what_reads_more(graph);
        if let Some(known) = self.known(node) {
            return known;
        }
        let mut open = vec![self.opened(node, is_off)];
        let mut is_open = FxHashSet::from_iter([node]);
        while let Some(top) = open.last_mut() {
            let Some(read) = graph.read_anywhere(top.node, top.next) else {
                let (node, set) = (top.node, top.set);
                open.pop();
                self.note(node, set);
                if let Some(top) = open.last_mut() {
                    top.set = self.union(top.set, set);
                }
                continue;
            };
            top.next += 1;
            if let Some(set) = self.known(read) {
                top.set = self.union(top.set, set);
            } else if is_open.insert(read) {
                let opened = self.opened(read, is_off);
                open.push(opened);
            } else {
                return self.of_a_circle(node, graph, is_off);
            }
        }
        self.known(node).unwrap_or(NONE)
    }

    /// The numbers in a set, in order.
    pub(super) fn set(&self, number: u32) -> &[NodeId] {
        self.sets.get(number as usize).map(AsRef::as_ref).unwrap_or_default()
    }

    /// As [`Below::set`], shared.
    pub(super) fn shared(&self, number: u32) -> Arc<[NodeId]> {
        self.sets.get(number as usize).cloned().unwrap_or_default()
    }

    /// About how many values it takes the room of.
    pub(super) fn room(&self) -> usize {
        self.room
    }

    fn known(&self, node: NodeId) -> Option<u32> {
        self.of.get(node.0 as usize).copied().filter(|set| *set != NOT_YET)
    }

    fn note(&mut self, node: NodeId, set: u32) {
        let at = node.0 as usize;
        if at >= self.of.len() {
            self.of.resize(at + 1, NOT_YET);
        }
        if let Some(place) = self.of.get_mut(at) {
            *place = set;
        }
    }

    fn forget(&mut self, node: NodeId) {
        if let Some(place) = self.of.get_mut(node.0 as usize) {
            *place = NOT_YET;
        }
    }

    fn opened(&mut self, node: NodeId, is_off: &dyn Fn(NodeId) -> bool) -> Open {
        let set = if is_off(node) { self.number(Arc::new([node])) } else { NONE };
        Open { node, next: 0, set }
    }

    /// Where values read one another in a circle, each that is asked for is looked at by itself.
    fn of_a_circle(&mut self, node: NodeId, graph: &Reads, is_off: &dyn Fn(NodeId) -> bool) -> u32 {
        let mut found: Vec<NodeId> = graph.reached([node].into_iter()).into_iter().filter(|node| is_off(*node)).collect();
        found.sort_unstable();
        let set = self.number(found.into());
        self.note(node, set);
        set
    }

    /// What was found to read more, and all that stands on it, may stand on more numbers.
    fn forget_what_reads_more(&mut self, graph: &Reads) {
        let more = graph.found_to_read_more(self.as_of);
        if more.is_empty() {
            return;
        }
        self.as_of += more.len();
        let mut seen = FxHashSet::default();
        graph.spread(more.iter().copied(), &mut |node| seen.insert(node));
        seen.into_iter().for_each(|node| self.forget(node));
    }

    fn number(&mut self, set: Arc<[NodeId]>) -> u32 {
        let next = u32::try_from(self.sets.len()).unwrap_or(NONE);
        let number = *self.numbers.entry(Arc::clone(&set)).or_insert(next);
        if number == next {
            self.room += set.len();
            self.sets.push(set);
        }
        number
    }

    fn union(&mut self, one: u32, other: u32) -> u32 {
        if one == other || other == NONE {
            return one;
        }
        if one == NONE {
            return other;
        }
        let pair = (one.min(other), one.max(other));
        if let Some(known) = self.unions.get(&pair) {
            return *known;
        }
        let mut both: Vec<NodeId> = self.set(one).iter().chain(self.set(other)).copied().collect();
        both.sort_unstable();
        both.dedup();
        let number = self.number(both.into());
        self.unions.insert(pair, number);
        number
    }
}
