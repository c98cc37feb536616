//! Where a component stands in a list.

use super::evaluator::Evaluator;
use super::value::Value;
use crate::design::ComponentId;
use rustc_hash::FxHashMap;
use std::sync::Arc;

impl Evaluator {
    /// The place at which a component stands in a list, from 0.
    ///
    /// The index is kept by the list's address: all elements of one list ask in a row.
    pub(crate) fn place_in(&self, items: &Arc<[Value]>, wanted: ComponentId) -> Option<usize> {
        let address = items.as_ptr() as usize;
        let known = self.places.borrow().get(&address).map(Arc::clone);
        let places = known.unwrap_or_else(|| {
            let mut places = FxHashMap::default();
            for (at, item) in items.iter().enumerate() {
                if let Value::Component(id) = item {
                    places.entry(*id).or_insert(at);
                }
            }
            let places = Arc::new(places);
            if self.scenario.borrow().is_none() {
                self.places.borrow_mut().insert(address, Arc::clone(&places));
            }
            places
        });
        places.get(&wanted).copied()
    }
}
