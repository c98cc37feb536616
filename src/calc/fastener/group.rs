//! Fasteners in a row do not share evenly: the group action factor of the NDS.
//!
//! In: number, spacing, diameter, stiffness of the members. Out: Cg. It must not know the load.
//! Source: NDS 2018 §11.3.6.

use crate::calc::FormulaError;
use crate::calc::check::positive;
use crate::calc::inch_pound::{INCH, POUND};

/// What the main and the side member are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pair {
    /// Wood to wood: slip modulus 180,000·D^1.5 lb/in.
    WoodWood,
    /// Wood to steel: 270,000·D^1.5 lb/in.
    WoodSteel,
}

/// Axial stiffness EA (N) of the main member and of all side members together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stiffness {
    /// EmAm.
    pub main: f64,
    /// EsAs.
    pub side: f64,
}

/// Group action factor Cg of a row of dowel-type fasteners along the load:
/// `m(1 − m^2n)/(n[(1 + REA·m^n)(1 + m) − 1 + m^2n]) · (1 + REA)/(1 − m)`, `m = u − √(u² − 1)`,
/// `u = 1 + γ·s/2·(1/EmAm + 1/EsAs)`, REA the lesser of the two members' ratio. 1 for one fastener or D < ¼ in.
/// Spacing and diameter in m. Source: NDS 2018 eq. 11.3-1.
///
/// # Errors
/// Where a number is not more than zero, or the diameter exceeds 1 in.
pub fn group_action_factor(count: u32, spacing: f64, diameter: f64, stiffness: Stiffness, pair: Pair) -> Result<f64, FormulaError> {
    let d = positive("the diameter", diameter)?;
    if count <= 1 || !super::dowel_bearing::is_large(d) {
        return Ok(1.0);
    }
    if d > INCH + 1e-9 {
        return Err(FormulaError::domain("the diameter", "at most 1 inch"));
    }
    let (main, side) = (positive("the main member's EA", stiffness.main)?, positive("the side members' EA", stiffness.side)?);
    let slip = match pair {
        Pair::WoodWood => 180_000.0,
        Pair::WoodSteel => 270_000.0,
    };
    let gamma = slip * (d / INCH).powf(1.5) * POUND / INCH;
    let u = 1.0 + gamma * positive("the spacing", spacing)? / 2.0 * (1.0 / main + 1.0 / side);
    let m = u - (u * u - 1.0).sqrt();
    let ratio = (main / side).min(side / main);
    let n = f64::from(count);
    let (once, twice) = (m.powf(n), m.powf(2.0 * n));
    let bracket = n * ((1.0 + ratio * once) * (1.0 + m) - 1.0 + twice);
    Ok(m * (1.0 - twice) / bracket * (1.0 + ratio) / (1.0 - m))
}
