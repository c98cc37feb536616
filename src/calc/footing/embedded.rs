//! Posts and piers in the ground that the soil holds upright.
//!
//! In: lateral force, its height, width of the post or pier, lateral bearing of the soil. Out: the depth needed.
//! It must not know what pushes. Source: IBC 2018 §1807.3.

use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive};
use crate::calc::inch_pound::FOOT;

/// A post pushed sideways.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Push {
    /// Lateral force P, N.
    pub force: f64,
    /// Its height over the ground h, m.
    pub height: f64,
    /// Diameter of a round post or footing, diagonal of a square one b, m.
    pub width: f64,
}

/// Depth (m) for a given lateral bearing S1 (Pa) at a third of it: `d = 0.5·A·(1 + √(1 + 4.36·h/A))`, `A = 2.34·P/(S1·b)`.
/// Nothing holds the post at the ground. Source: IBC 2018 §1807.3.2.1, eq. 18-1.
///
/// # Errors
/// Where a number is not more than zero.
pub fn unconstrained(push: &Push, bearing: f64) -> Result<f64, FormulaError> {
    let a = 2.34 * not_negative("the lateral force", push.force)?
        / (positive("the soil's lateral bearing", bearing)? * positive("the post's width", push.width)?);
    if a == 0.0 {
        return Ok(0.0);
    }
    Ok(0.5 * a * (1.0 + (1.0 + 4.36 * not_negative("the height of the force", push.height)? / a).sqrt()))
}

/// Depth (m) where a slab or pavement holds the post at the ground: `d = √(4.25·P·h/(S3·b))`, S3 (Pa) the lateral bearing at
/// the full depth. Source: IBC 2018 §1807.3.2.2, eq. 18-2.
///
/// # Errors
/// Where a number is not more than zero.
pub fn constrained(push: &Push, bearing: f64) -> Result<f64, FormulaError> {
    let moment = not_negative("the lateral force", push.force)? * not_negative("the height of the force", push.height)?;
    Ok((4.25 * moment / (positive("the soil's lateral bearing", bearing)? * positive("the post's width", push.width)?)).sqrt())
}

/// The code counts the growth of lateral bearing with depth down to 12 ft only. Source: IBC 2018 §1807.3.2.1 (d ≤ 12 ft).
const DEEPEST: f64 = 12.0 * FOOT;

/// Factor on the lateral bearing of isolated posts that half an inch of movement at the ground does not harm: 2.
/// Source: IBC 2018 §1806.3.4.
pub const ISOLATED_POST: f64 = 2.0;

/// The depth (m) that satisfies eq. 18-1 with S1 from the soil's lateral bearing for each metre of depth (Pa/m), times
/// [`ISOLATED_POST`] where that applies. S1 grows with the depth that is looked for.
///
/// # Errors
/// Where a number is not more than zero, or 12 ft are not enough.
pub fn depth_needed(push: &Push, lateral_per_depth: f64) -> Result<f64, FormulaError> {
    let short_of = |d: f64| -> Result<f64, FormulaError> { Ok(unconstrained(push, lateral_per_depth * d / 3.0)? - d) };
    if push.force == 0.0 {
        return Ok(0.0);
    }
    if short_of(DEEPEST)? > 0.0 {
        return Err(FormulaError::domain("the post's depth by this formula", "at most 12 ft: a wider footing is needed"));
    }
    // The deeper, the less is needed: halve the interval until it does not matter.
    let (mut shallow, mut deep) = (1e-3, DEEPEST);
    while deep - shallow > 1e-9 {
        let middle = 0.5 * (shallow + deep);
        if short_of(middle)? > 0.0 { shallow = middle } else { deep = middle }
    }
    Ok(deep)
}
