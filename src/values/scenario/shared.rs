//! What values have come to in scenarios, for all others in which the same turns touch them.
//!
//! Ten toleranced numbers have a thousand corners; a value that stands on two of them is worked out for four.

use super::below::Below;
use crate::design::NodeId;
use crate::values::Outcome;
use rustc_hash::FxHashMap;

/// So many values are kept, about 60 bytes each: then they are gathered anew.
const MOST_KEPT: usize = 400_000;

/// A turn, to find it by.
pub(super) type Mark = (NodeId, usize, u64);

/// What a value has come to.
#[derive(Debug, Clone)]
pub(super) enum Come {
    /// All that it stands on is what it is in the design.
    Same,
    /// That, and whether it is so in the design all the same.
    To(Outcome, bool),
}

/// Whether a value stands on what is another one in a scenario.
#[derive(Debug, Clone, Copy)]
pub(super) enum Touched {
    No,
    /// By what no other scenario has.
    Here,
    /// By that set of turns, and by no other.
    By(u32),
}

/// How the scenario that asked last touches all that stands on a set of numbers, for each such set.
#[derive(Debug, Default)]
pub(super) struct TouchedBy(Vec<(u64, Touched)>);

impl TouchedBy {
    /// What is known of that set, if that scenario was it.
    pub(super) fn of(&self, set: u32, scenario: u64) -> Option<Touched> {
        self.0.get(set as usize).filter(|(asked, _)| *asked == scenario).map(|(_, touched)| *touched)
    }

    pub(super) fn note(&mut self, set: u32, scenario: u64, touched: Touched) {
        let at = set as usize;
        if at >= self.0.len() {
            // The first scenario has the number 1.
            self.0.resize(at + 1, (0, Touched::No));
        }
        if let Some(place) = self.0.get_mut(at) {
            *place = (scenario, touched);
        }
    }
}

/// What is kept from one scenario to the next.
#[derive(Debug, Default)]
pub(in crate::values) struct Kept {
    pub(super) below: Below,
    pub(super) touched: TouchedBy,
    /// The number of each set of turns.
    sets: FxHashMap<Box<[Mark]>, u32>,
    outcomes: FxHashMap<(NodeId, u32), Come>,
}

impl Kept {
    /// Forgets all where it is too much; never inside a scenario.
    pub(super) fn make_room(&mut self) {
        if self.outcomes.len() + self.below.room() > MOST_KEPT {
            *self = Kept::default();
        }
    }

    /// The number of a set of turns.
    pub(super) fn set(&mut self, turns: Box<[Mark]>) -> u32 {
        let next = u32::try_from(self.sets.len()).unwrap_or(u32::MAX);
        *self.sets.entry(turns).or_insert(next)
    }

    pub(super) fn known(&self, node: NodeId, set: u32) -> Option<Come> {
        self.outcomes.get(&(node, set)).cloned()
    }

    pub(super) fn keep(&mut self, node: NodeId, set: u32, come: Come) {
        self.outcomes.insert((node, set), come);
    }
}
