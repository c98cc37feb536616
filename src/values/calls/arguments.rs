//! The arguments of a call, each of the type that its parameter takes. The build writes what takes them into the struct of a
//! formula; nothing else reads them by their place.

use crate::design::{Carries, KindId};
use crate::values::value::Value;

/// One argument as its parameter takes it.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Given {
    Value(Value),
    Kinds(Vec<KindId>),
    Carrying(Carries),
}

/// The arguments of a call, in the order of the parameters.
#[derive(Debug, Clone, PartialEq)]
pub struct Arguments(pub(super) Vec<Option<Given>>);

impl Arguments {
    /// The argument as it is, if it was given.
    #[must_use]
    pub fn value(&self, at: usize) -> Option<&Value> {
        match self.0.get(at)? {
            Some(Given::Value(value)) => Some(value),
            _ => None,
        }
    }

    /// Kinds.
    #[must_use]
    pub fn kinds(&self, at: usize) -> &[KindId] {
        match self.0.get(at) {
            Some(Some(Given::Kinds(kinds))) => kinds,
            _ => &[],
        }
    }

    /// What a link carries.
    #[must_use]
    pub fn carrying(&self, at: usize) -> Carries {
        match self.0.get(at) {
            Some(Some(Given::Carrying(carries))) => *carries,
            _ => Carries::NONE,
        }
    }
}
