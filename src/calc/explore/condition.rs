//! What may be so or not so, of the states of parts.

use smol_str::SmolStr;
use std::sync::Arc;

/// A condition on the states of parts, by their names. It is handed on more often than it is made: its pieces are shared.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Condition {
    /// So in every state, or in none.
    Always(bool),
    /// A part is in one of these states.
    Is {
        /// The part's name.
        part: SmolStr,
        /// Names of states.
        states: Arc<[SmolStr]>,
    },
    /// It is not so.
    Not(Arc<Condition>),
    /// All of them are so.
    All(Arc<[Condition]>),
    /// One of them is so at least.
    Any(Arc<[Condition]>),
}

impl Condition {
    /// A part is in that state.
    #[must_use]
    pub fn is(part: &str, state: &str) -> Condition {
        Condition::Is { part: SmolStr::new(part), states: Arc::new([SmolStr::new(state)]) }
    }

    /// All of them: what is always so is left out.
    #[must_use]
    pub fn all(of: impl IntoIterator<Item = Condition>) -> Condition {
        let mut left = Vec::new();
        for condition in of {
            match condition {
                Condition::Always(true) => {}
                Condition::Always(false) => return Condition::Always(false),
                Condition::All(inner) => left.extend(inner.iter().cloned()),
                other => left.push(other),
            }
        }
        match left.len() {
            0 => Condition::Always(true),
            1 => left.swap_remove(0),
            _ => Condition::All(left.into()),
        }
    }

    /// One of them at least: what is never so is left out.
    #[must_use]
    pub fn any(of: impl IntoIterator<Item = Condition>) -> Condition {
        let mut left = Vec::new();
        for condition in of {
            match condition {
                Condition::Always(false) => {}
                Condition::Always(true) => return Condition::Always(true),
                Condition::Any(inner) => left.extend(inner.iter().cloned()),
                other => left.push(other),
            }
        }
        match left.len() {
            0 => Condition::Always(false),
            1 => left.swap_remove(0),
            _ => Condition::Any(left.into()),
        }
    }

    /// The opposite.
    #[must_use]
    pub fn negated(self) -> Condition {
        match self {
            Condition::Always(so) => Condition::Always(!so),
            Condition::Not(inner) => (*inner).clone(),
            other => Condition::Not(Arc::new(other)),
        }
    }

    /// Each part that it reads, with the states that it asks for.
    pub fn reads<'c>(&'c self, told: &mut dyn FnMut(&'c SmolStr, &'c [SmolStr])) {
        match self {
            Condition::Always(_) => {}
            Condition::Is { part, states } => told(part, states),
            Condition::Not(inner) => inner.reads(told),
            Condition::All(inner) | Condition::Any(inner) => inner.iter().for_each(|one| one.reads(told)),
        }
    }

    /// Each part that it waits for: that it asks to be in a state, under no `not` or under two.
    pub fn waits_for<'c>(&'c self, told: &mut dyn FnMut(&'c SmolStr)) {
        self.with_signs(true, told);
    }

    fn with_signs<'c>(&'c self, so: bool, told: &mut dyn FnMut(&'c SmolStr)) {
        match self {
            Condition::Is { part, .. } if so => told(part),
            Condition::Always(_) | Condition::Is { .. } => {}
            Condition::Not(inner) => inner.with_signs(!so, told),
            Condition::All(inner) | Condition::Any(inner) => inner.iter().for_each(|one| one.with_signs(so, told)),
        }
    }
}
