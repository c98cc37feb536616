//! What a formula is in Rust: the struct of its arguments, which the build writes, with a body.

use crate::calc::FormulaError;
use crate::units::Dim;
use crate::values::{Evaluator, Refusal};

/// What the declaration of a formula says; the build writes it of the struct of its arguments.
pub trait Declared {
    /// What it gives.
    type Gives;
}

/// The body of a formula that answers from its arguments alone.
pub trait Formula: Declared {
    /// What it gives for these arguments.
    ///
    /// # Errors
    /// Why it has no answer for them.
    fn answer(self) -> Result<Self::Gives, FormulaError>;
}

/// The body of a formula that looks at the design.
pub trait Survey: Declared {
    /// What it gives for these arguments in this design.
    ///
    /// # Errors
    /// Why it has no answer for them, or what the design does not say.
    fn answer(self, evaluator: &Evaluator) -> Result<Self::Gives, Refusal>;
}

/// The dimension of a declaration's word.
pub(super) const fn dimension(word: &str) -> Dim {
    Dim::of_word(word)
}
