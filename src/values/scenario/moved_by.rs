//! Which of some values a turn may move, for one turn after the other.

use super::super::evaluator::Evaluator;
use super::Turn;
use crate::design::NodeId;
use rustc_hash::FxHashMap;
use std::sync::Arc;

/// Some values by the numbers on which they stand; few sets of numbers are shared by many values.
#[derive(Debug)]
pub struct MovedBy<'n> {
    nodes: &'n [NodeId],
    /// The places of the values that stand on the same numbers.
    places: Vec<(Arc<[NodeId]>, Vec<usize>)>,
    /// How many values had been found to read more when that was seen.
    as_of: Option<usize>,
}

impl<'n> MovedBy<'n> {
    /// Of these values nothing has been seen yet.
    #[must_use]
    pub fn of(nodes: &'n [NodeId]) -> MovedBy<'n> {
        MovedBy { nodes, places: Vec::new(), as_of: None }
    }

    /// The places of those that stand on the number of a turn, as the design is written or at any end that was tried.
    pub fn turn(&mut self, turn: &Turn, evaluator: &Evaluator) -> Vec<usize> {
        self.look(evaluator);
        let stand = self.places.iter().filter(|(numbers, _)| numbers.binary_search(&turn.node).is_ok());
        let mut found: Vec<usize> = stand.flat_map(|(_, places)| places).copied().collect();
        found.sort_unstable();
        found
    }

    /// Sees on what each stands, where that is not known or may be more by now.
    fn look(&mut self, evaluator: &Evaluator) {
        let (mut kept, graph) = (evaluator.kept.borrow_mut(), evaluator.graph.borrow());
        let now = Some(graph.found_to_read_more(0).len());
        if self.as_of == now {
            return;
        }
        let mut by_set: FxHashMap<u32, usize> = FxHashMap::default();
        self.places.clear();
        for (at, node) in self.nodes.iter().enumerate() {
            let set = kept.below.of(*node, &graph, &|node| evaluator.may_be_off(node));
            let row = *by_set.entry(set).or_insert(self.places.len());
            match self.places.get_mut(row) {
                Some((_, places)) => places.push(at),
                None => self.places.push((kept.below.shared(set), vec![at])),
            }
        }
        self.as_of = now;
    }
}
