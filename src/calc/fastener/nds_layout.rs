//! Distances that bolts and lag screws want for their full value, by the NDS.
//!
//! In: the direction of the load. Out: distances in diameters, softwood. It must not know the load.
//! Source: NDS 2018 §12.5.1, Tables 12.5.1A, B, C.

use super::dowel_bearing::is_large;
use crate::calc::FormulaError;
use crate::calc::check::positive;

/// Distances for full value (CΔ = 1), in diameters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Distances {
    /// From one to the next in a row along the grain.
    pub spacing: f64,
    /// To the end of the wood that the load pulls towards.
    pub end: f64,
    /// To the edge that the load goes towards.
    pub edge: f64,
}

/// Distances of a fastener of ¼ in and more for a load at an angle (rad) to the grain: 4D in a row; 7D to a softwood end for
/// any part of the load along the grain, 4D straight across; 4D to a loaded edge for any part across, 1.5D along.
/// Between both directions the larger of both, on the safe side. Source: NDS 2018 Tables 12.5.1A, B, C.
#[must_use]
pub fn distances(angle: f64) -> Distances {
    let (across, along) = (angle.sin().abs() > 1e-9, angle.cos().abs() > 1e-9);
    Distances { spacing: 4.0, end: if along { 7.0 } else { 4.0 }, edge: if across { 4.0 } else { 1.5 } }
}

/// Where a fastener stands, m; what is not known counts as far enough.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FastenerPosition {
    /// Diameter.
    pub diameter: f64,
    /// To the end of the wood that the load pulls towards.
    pub end: Option<f64>,
    /// To the edge that the load goes towards.
    pub edge: Option<f64>,
    /// To the next one in a row along the grain.
    pub spacing: Option<f64>,
}

/// Geometry factor CΔ of a fastener of ¼ in and more for a load at an angle (rad) to the grain, softwood: the least of end
/// distance and spacing, each over what full value needs. Smaller fasteners: 1. Source: NDS 2018 §12.5.1, Tables 12.5.1A, B, C.
///
/// # Errors
/// Below the least distances: half the end distance, spacing 3D, the whole edge distance.
pub fn geometry_factor(place: &FastenerPosition, angle: f64) -> Result<f64, FormulaError> {
    let d = positive("the diameter", place.diameter)?;
    if !is_large(d) {
        return Ok(1.0);
    }
    let full = distances(angle);
    let mut factor = 1.0_f64;
    for (what, distance, least, wanted) in [
        ("the fastener's end distance", place.end, 0.5 * full.end, full.end),
        ("the fastener's distance to the edge", place.edge, full.edge, full.edge),
        ("the fasteners' spacing in a row", place.spacing, 3.0, full.spacing),
    ] {
        let Some(distance) = distance else { continue };
        if distance < least * d - 1e-9 {
            return Err(FormulaError::domain(what, format!("at least {least} diameters")));
        }
        factor = factor.min(distance / (wanted * d));
    }
    Ok(factor)
}
