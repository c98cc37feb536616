//! Distances that bolts and lag screws want for their full value, by the NDS.
//!
//! In: the direction of the load. Out: distances in diameters, softwood. It must not know the load.
//! Source: NDS 2018 §12.5.1, Tables 12.5.1A, B, C.

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
