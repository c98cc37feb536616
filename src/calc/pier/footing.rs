//! The ground as springs: a rigid footing lying on an elastic half space.
//!
//! In: plan sizes in m, shear modulus in Pa, Poisson's ratio. Out: stiffnesses in N/m and N·m/rad.
//! It must not know the pier on top, nor bearing strength.
//!
//! Which formula: a round footing has the closed solution of the rigid disk. For a rectangle four are in
//! use (an equivalent disk, Gazetas 1991, Pais and Kausel 1988, a bed of springs). Pais and Kausel is taken
//! because it alone gives a square footing the same stiffness about both its axes and grows steadily into
//! a long one; Gazetas jumps by 3 % at the square, and a disk is only meant for nearly square footings.
//! The three differ by up to 11 % on a square, far less than the soil is known. A footing in the ground is
//! stiffer than on it; that help is left out. The shear modulus is that of very small strains,
//! which is five to ten times the one that belongs to settlement under load.

use crate::calc::FormulaError;
use crate::calc::check::{positive, within};

/// The ground below.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Soil {
    /// Shear modulus at small strain, Pa.
    pub shear_modulus: f64,
    /// Poisson's ratio, 0 to 0.5.
    pub poisson: f64,
}

/// The footing's plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Plan {
    /// A disk of this radius, m.
    Round {
        /// Radius, m.
        radius: f64,
    },
    /// A rectangle.
    Rectangle {
        /// Side in the direction of the movement (the plane in which it rocks), m.
        along: f64,
        /// Side across that, m.
        across: f64,
    },
}

/// What the ground offers against the footing's movements.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GroundStiffness {
    /// Against sinking, N/m.
    pub vertical: f64,
    /// Against sliding sideways, N/m.
    pub sway: f64,
    /// Against tilting, N·m/rad.
    pub rocking: f64,
}

/// Static stiffnesses of a rigid footing lying on an elastic half space.
///
/// Round, radius r: vertical `4 G r/(1 − ν)`, sway `8 G r/(2 − ν)`, rocking `8 G r³/(3 (1 − ν))`.
/// Rectangle of half sides l ≥ b: vertical `G b/(1 − ν) (3.1 (l/b)^0.75 + 1.6)`,
/// sway along l `G b/(2 − ν) (6.8 (l/b)^0.65 + 2.4)` and along b `… + 0.8 l/b + 1.6)`,
/// rocking in the plane of l `G b³/(1 − ν) (3.73 (l/b)^2.4 + 0.27)` and of b `G b³/(1 − ν) (3.2 l/b + 0.8)`.
///
/// # Errors
/// When a size or the shear modulus is not positive, or Poisson's ratio is outside 0 to 0.5.
///
/// Source: round: rigid disk on a half space (UFC 3-220-01N Table 12-1 lists them; sway as in Veletsos and
/// Wei 1971). Rectangle: Pais and Kausel 1988, surface footing.
pub fn on_half_space(plan: Plan, soil: Soil) -> Result<GroundStiffness, FormulaError> {
    let g = positive("the shear modulus of the soil", soil.shear_modulus)?;
    let nu = within("Poisson's ratio of the soil", soil.poisson, 0.0, 0.5, "from 0 to 0.5")?;
    match plan {
        Plan::Round { radius } => {
            let r = positive("the radius of the footing", radius)?;
            Ok(GroundStiffness {
                vertical: 4.0 * g * r / (1.0 - nu),
                sway: 8.0 * g * r / (2.0 - nu),
                rocking: 8.0 * g * r.powi(3) / (3.0 * (1.0 - nu)),
            })
        }
        Plan::Rectangle { along, across } => {
            positive("the side of the footing", along)?;
            positive("the side of the footing", across)?;
            let l = along.max(across) / 2.0;
            let b = along.min(across) / 2.0;
            let ratio = l / b;
            let vertical = g * b / (1.0 - nu) * (3.1 * ratio.powf(0.75) + 1.6);
            let (sway, rocking) = if along >= across {
                (6.8 * ratio.powf(0.65) + 2.4, 3.73 * ratio.powf(2.4) + 0.27)
            } else {
                (6.8 * ratio.powf(0.65) + 0.8 * ratio + 1.6, 3.2 * ratio + 0.8)
            };
            Ok(GroundStiffness { vertical, sway: g * b / (2.0 - nu) * sway, rocking: g * b.powi(3) / (1.0 - nu) * rocking })
        }
    }
}

/// Stiffness of a disk of `radius` (m) against twisting about the plumb line, N·m/rad: `16 G r³/3`.
///
/// # Errors
/// When the radius or the shear modulus is not positive.
///
/// Source: rigid disk on a half space (Reissner and Sagoci 1944).
pub fn disk_twisting(radius: f64, shear_modulus: f64) -> Result<f64, FormulaError> {
    positive("the radius of the footing", radius)?;
    positive("the shear modulus of the soil", shear_modulus)?;
    Ok(16.0 * shear_modulus * radius.powi(3) / 3.0)
}
