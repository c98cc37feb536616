//! Pull on the anchor bolts under a pier's base plate.
//!
//! In: overturning moment, weight, number of bolts and bolt circle. Out: the force on the worst bolt.
//! It must not know the bolt's strength nor the concrete round it.

use crate::calc::FormulaError;
use crate::calc::check::positive;

/// Two bolts do not hold a pier in every direction. Source: statics.
pub const FEWEST_BOLTS: f64 = 3.0;
/// More bolts than any circle has: what is written as more is a mistake. Common practice, no source.
pub const MOST_BOLTS: f64 = 1000.0;

/// Pull (N) on the worst of `bolts` equally spaced bolts on a circle of `circle_diameter` (m), under an
/// overturning `moment` (N·m) from any direction and a `weight` (N) that holds the pier down:
/// `4 M/(n D) − W/n`. Less than nothing means that every bolt stays pressed.
///
/// It is exact for a plate standing on levelling nuts, where the bolts carry pull and push alike, and on
/// the safe side of a plate that beds on grout. The lifting side's combination belongs to the caller:
/// take only as much of the weight as it allows.
///
/// # Errors
/// When there are fewer than three bolts (two do not hold in every direction) or the circle is not positive.
///
/// Source: elastic bolt group; the same form in ASCE, Design of Anchor Bolts in Petrochemical Facilities.
pub fn bolt_pull(moment: f64, weight: f64, bolts: u32, circle_diameter: f64) -> Result<f64, FormulaError> {
    positive("the diameter of the bolt circle", circle_diameter)?;
    let n = f64::from(bolts);
    if n < FEWEST_BOLTS {
        return Err(FormulaError::domain("the number of anchor bolts", "at least three"));
    }
    Ok(4.0 * moment.abs() / (n * circle_diameter) - weight / n)
}
