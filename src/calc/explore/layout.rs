//! Where each part stands in a packed state: so many bits for its states, one part behind the other.

use super::machine::Part;
use crate::calc::FormulaError;
use rustc_hash::FxHashMap;
use smol_str::SmolStr;

/// A state of all parts.
pub(super) type State = u64;

/// Where a part stands in a state.
#[derive(Debug, Clone, Copy)]
pub(super) struct Field {
    pub(super) shift: u32,
    pub(super) bits: u32,
}

/// Where each part stands, and the states that it has.
#[derive(Debug, Clone, Default)]
pub(super) struct Layout {
    names: FxHashMap<SmolStr, usize>,
    fields: Vec<Field>,
    states: Vec<Vec<SmolStr>>,
}

impl Layout {
    /// Puts a part behind the others.
    pub(super) fn add(&mut self, part: &Part) -> Result<Field, FormulaError> {
        let shift = self.fields.last().map_or(0, |last| last.shift + last.bits);
        let bits = usize::BITS - part.states.len().saturating_sub(1).leading_zeros();
        if self.names.insert(part.name.clone(), self.fields.len()).is_some() {
            return Err(FormulaError::domain(format!("the name `{}`", part.name), "that of one part only"));
        }
        if shift + bits > State::BITS {
            return Err(FormulaError::domain("what changes and is asked about", format!("told in {} bits", State::BITS)));
        }
        let field = Field { shift, bits };
        self.fields.push(field);
        self.states.push(part.states.clone());
        Ok(field)
    }

    pub(super) fn part(&self, name: &str) -> Result<usize, FormulaError> {
        self.names.get(name).copied().ok_or_else(|| FormulaError::domain(format!("`{name}`"), "a part of what is explored"))
    }

    pub(super) fn state(&self, part: usize, state: &str) -> Result<State, FormulaError> {
        let states = self.states.get(part);
        let found = states.and_then(|states| states.iter().position(|one| one == state));
        found.map(|at| at as State).ok_or_else(|| {
            let known = states.map(|states| states.join(", ")).unwrap_or_default();
            FormulaError::domain(format!("the state `{state}`"), format!("one of {known}"))
        })
    }

    /// How many states a part has.
    pub(super) fn count(&self, part: usize) -> usize {
        self.states.get(part).map_or(0, Vec::len)
    }

    pub(super) fn field(&self, part: usize) -> Field {
        self.fields.get(part).copied().unwrap_or(Field { shift: 0, bits: 0 })
    }

    pub(super) fn field_of(&self, name: &str) -> Result<Field, FormulaError> {
        Ok(self.field(self.part(name)?))
    }
}

impl Field {
    pub(super) fn mask(self) -> State {
        self.of((1 << self.bits) - 1)
    }

    /// What is left of it without its lowest bits.
    pub(super) fn above(self, low: u32) -> Field {
        Field { shift: self.shift + low, bits: self.bits - low }
    }

    pub(super) fn of(self, at: State) -> State {
        at.checked_shl(self.shift).unwrap_or(0)
    }
}
