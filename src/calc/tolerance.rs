//! Dimensions in a row, each with its tolerance: what comes of them together.
//!
//! In: the parts of a stack and how much each counts. Out: the worst case, the root of the sum of
//! squares, and which part eats most. It must not know what is measured.
//!
//! Source: the two usual ways of mechanical tolerance stacks. The root of the sum of squares is a
//! three-sigma figure only if each tolerance is; offer both, rely on the worst case.

use crate::calc::{FormulaError, check};

/// A dimension of the stack.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Part {
    /// Its value.
    pub nominal: f64,
    /// How much smaller it may be, zero or more.
    pub minus: f64,
    /// How much larger it may be, zero or more.
    pub plus: f64,
    /// How much the result grows when it grows: 1, −1, or a slope.
    pub counts: f64,
}

impl Part {
    /// A part with the same `tolerance` both ways that `counts` so much.
    #[must_use]
    pub fn even(nominal: f64, tolerance: f64, counts: f64) -> Self {
        Self { nominal, minus: tolerance, plus: tolerance, counts }
    }

    /// Least and largest contribution to the result.
    fn reach(&self) -> (f64, f64) {
        let (a, b) = (-self.minus * self.counts, self.plus * self.counts);
        (a.min(b), a.max(b))
    }
}

/// What comes of a stack.
#[derive(Debug, Clone, PartialEq)]
pub struct Stack {
    /// Without tolerances.
    pub nominal: f64,
    /// Least and largest value in the worst case.
    pub worst: (f64, f64),
    /// Least and largest value by the root of the sum of squares, around the middle of one-sided
    /// tolerances.
    pub likely: (f64, f64),
    /// Each part's share of the width of the worst case, in the order given; they add up to 1.
    pub shares: Vec<f64>,
}

impl Stack {}

/// Adds the parts up.
///
/// # Errors
/// If a tolerance is negative or a number not finite.
pub fn stack(parts: &[Part]) -> Result<Stack, FormulaError> {
    let mut nominal = 0.0;
    let (mut low, mut high) = (0.0, 0.0);
    let mut squares = 0.0;
    let mut widths = Vec::with_capacity(parts.len());
    for part in parts {
        check::not_negative("a tolerance", part.minus)?;
        check::not_negative("a tolerance", part.plus)?;
        let counts = check::finite("how much a dimension counts", part.counts)?;
        nominal += check::finite("a dimension", part.nominal)? * counts;
        let (least, most) = part.reach();
        low += least;
        high += most;
        squares += ((most - least) / 2.0).powi(2);
        widths.push(most - least);
    }
    let middle = nominal + f64::midpoint(low, high);
    let all: f64 = widths.iter().sum();
    let share = |width: &f64| if all > 0.0 { width / all } else { 0.0 };
    Ok(Stack {
        nominal,
        worst: (nominal + low, nominal + high),
        likely: (middle - squares.sqrt(), middle + squares.sqrt()),
        shares: widths.iter().map(share).collect(),
    })
}
