//! What stands in the way of a value.

use crate::design::{KindId, NodeId};
use std::sync::Arc;

/// Why there is no value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Lack {
    /// Lines that nobody has written yet, each once, in order.
    Missing(Arc<[Missing]>),
    /// A line that it stands on is wrong; that has been said where it stands.
    Faulty,
}

/// Something that the design does not say.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Missing {
    /// This property has no line.
    Line(NodeId),
    /// There is no component of this kind.
    Component(KindId),
    /// Nobody said which day it is.
    Today,
}

impl Lack {
    /// One thing is missing.
    #[must_use]
    pub fn missing(what: Missing) -> Lack {
        Lack::Missing(Arc::new([what]))
    }

    /// Both lacks together: all missing lines of both; a fault is only told where nothing is missing.
    #[must_use]
    pub fn with(self, other: Lack) -> Lack {
        match (self, other) {
            (Lack::Missing(a), Lack::Missing(b)) if Arc::ptr_eq(&a, &b) => Lack::Missing(a),
            (Lack::Missing(a), Lack::Missing(b)) => {
                let mut all: Vec<Missing> = a.iter().chain(b.iter()).copied().collect();
                all.sort_unstable();
                all.dedup();
                Lack::Missing(all.into())
            }
            (Lack::Missing(a), Lack::Faulty) | (Lack::Faulty, Lack::Missing(a)) => Lack::Missing(a),
            (Lack::Faulty, Lack::Faulty) => Lack::Faulty,
        }
    }

    /// What is missing.
    #[must_use]
    pub fn lines(&self) -> &[Missing] {
        match self {
            Lack::Missing(lines) => lines,
            Lack::Faulty => &[],
        }
    }
}
