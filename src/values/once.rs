//! What a rule gives a name: worked out once for each binding, in as many places of the rule as the name stands.
//!
//! The name is gone when a rule runs: its value stands in its places, behind `for` among others, where it would be worked
//! out for each of many. What it reads is read in each place all the same.

use super::Outcome;
use crate::design::NodeId;
use crate::syntax::tree::Expr;
use crate::text::Span;
use std::sync::Arc;

/// The values that a rule gives names, by where they are written, with what they have come to on one binding.
#[derive(Debug, Clone, Default)]
pub struct Once {
    written: Arc<[Span]>,
    known: Vec<Option<Known>>,
}

#[derive(Debug, Clone)]
struct Known {
    /// The scenario in which it came to that.
    scenario: u64,
    outcome: Outcome,
    reads: Arc<[NodeId]>,
}

impl Once {
    /// With nothing worked out yet.
    #[must_use]
    pub fn of(written: &Arc<[Span]>) -> Once {
        Once { written: Arc::clone(written), known: vec![None; written.len()] }
    }

    /// The number of an expression among them.
    pub(super) fn number_of(&self, expr: &Expr) -> Option<usize> {
        self.written.iter().position(|written| *written == expr.span)
    }

    /// What it has come to in this scenario, and what was read for that.
    pub(super) fn known(&self, number: usize, scenario: u64) -> Option<(&Outcome, &[NodeId])> {
        let known = self.known.get(number)?.as_ref().filter(|known| known.scenario == scenario)?;
        Some((&known.outcome, &known.reads))
    }

    pub(super) fn keep(&mut self, number: usize, scenario: u64, outcome: Outcome, reads: Vec<NodeId>) {
        if let Some(known) = self.known.get_mut(number) {
            *known = Some(Known { scenario, outcome, reads: reads.into() });
        }
    }
}
