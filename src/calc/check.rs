//! Is this number one that a formula can use?
//!
//! In: a number and what the builder calls it. Out: the number again, or a [`FormulaError`] that
//! says what would do. It must not know any formula, and it never repairs a number.

use super::FormulaError;

/// `value` if it is a finite number.
pub(super) fn finite(what: &str, value: f64) -> Result<f64, FormulaError> {
    if value.is_finite() { Ok(value) } else { Err(FormulaError::domain(what, "a number")) }
}

/// `value` if it is a finite number above zero.
pub(super) fn positive(what: &str, value: f64) -> Result<f64, FormulaError> {
    if value.is_finite() && value > 0.0 { Ok(value) } else { Err(FormulaError::domain(what, "more than zero")) }
}

/// `value` if it is a finite number, zero or more.
pub(super) fn not_negative(what: &str, value: f64) -> Result<f64, FormulaError> {
    if value.is_finite() && value >= 0.0 { Ok(value) } else { Err(FormulaError::domain(what, "zero or more")) }
}

/// `value` if it lies between `low` and `high`, both allowed; `needs` says so in the builder's
/// units.
pub(super) fn within(what: &str, value: f64, low: f64, high: f64, needs: &str) -> Result<f64, FormulaError> {
    if value >= low && value <= high { Ok(value) } else { Err(FormulaError::domain(what, needs)) }
}
