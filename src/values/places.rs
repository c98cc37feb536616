//! Where a component stands in a list.

use super::evaluator::Evaluator;
use super::value::Value;
use crate::design::ComponentId;
use rustc_hash::FxHashMap;
use std::sync::Arc;

/// So many lists are remembered: all elements of one ask in a row.
const MOST_LISTS: usize = 8;

impl Evaluator {
    /// The place at which a component stands in a list, from 0.
    pub(crate) fn place_in(&self, items: &Arc<[Value]>, wanted: ComponentId) -> Option<usize> {
        let known = self.places.borrow().iter().find(|(of, _)| Arc::ptr_eq(of, items)).map(|(_, places)| Arc::clone(places));
        let places = known.unwrap_or_else(|| {
            let mut places = FxHashMap::default();
            for (at, item) in items.iter().enumerate() {
                if let Value::Component(id) = item {
                    places.entry(*id).or_insert(at);
                }
            }
            let places = Arc::new(places);
            let mut all = self.places.borrow_mut();
            all.truncate(MOST_LISTS - 1);
            all.insert(0, (Arc::clone(items), Arc::clone(&places)));
            places
        });
        places.get(&wanted).copied()
    }
}
