//! ASCE 7-16 Figures 27.3-4, 27.3-5 and 27.3-7: net pressure coefficients of roofs without walls.
//!
//! In: pitch (rad), how far the space below is blocked. Out: CN, top and underside together,
//! towards the top positive, to be multiplied by `q_h` and the gust-effect factor (eq. 27.3-2).
//! It must not know where a half or a strip lies. A roll-off roof standing on its outrigger tracks
//! is such a roof; the walls that it left behind are not.

use crate::calc::wind::table::{degrees, interpolate};

/// How freely the wind runs under the roof.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Flow {
    /// At most half of the space below is blocked.
    Clear,
    /// More than half of it is.
    Obstructed,
}

impl Flow {
    /// The flow for a blocked share of the space below, 0 to 1 (note 2 of the figures).
    #[must_use]
    pub fn from_blockage(blockage: f64) -> Self {
        if blockage > 0.5 { Self::Obstructed } else { Self::Clear }
    }
}

/// The two load cases of the figures, each of which the roof has to stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LoadCase {
    /// Case A.
    A,
    /// Case B.
    B,
}

impl LoadCase {
    /// Both.
    pub const BOTH: [Self; 2] = [Self::A, Self::B];
}

/// Which edge of a mono-pitch roof the wind meets first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FirstEdge {
    /// The high one (γ = 0 in Figure 27.3-4): the underside faces the wind, the roof is lifted.
    High,
    /// The low one (γ = 180): the top faces the wind.
    Low,
}

/// CN of the windward and of the leeward half of a roof.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Halves {
    /// CNW.
    pub windward: f64,
    /// CNL.
    pub leeward: f64,
}

/// Steepest pitch of the figures, degrees.
pub const STEEPEST_DEGREES: f64 = 45.0;

/// Pitch from which a pitched roof has values of its own, degrees (note 3).
const FIRST_PITCH: f64 = 7.5;

type Row = [f64; 6];

/// CN of a mono-pitch roof with the wind along its fall, Figure 27.3-4. Below 7.5 degrees the
/// values of a flat roof hold.
#[must_use]
pub fn monoslope(pitch: f64, first: FirstEdge, case: LoadCase, flow: Flow) -> Halves {
    use {
        FirstEdge::{High, Low},
        Flow::{Clear, Obstructed},
        LoadCase::{A, B},
    };
    if degrees(pitch) < FIRST_PITCH {
        let (windward, leeward) = match (case, flow) {
            (A, Clear) => (1.2, 0.3),
            (A, Obstructed) => (-0.5, -1.2),
            (B, Clear) => (-1.1, -0.1),
            (B, Obstructed) => (-1.1, -0.6),
        };
        return Halves { windward, leeward };
    }
    let (windward, leeward): (Row, Row) = match (first, case, flow) {
        (High, A, Clear) => ([-0.6, -0.9, -1.5, -1.8, -1.8, -1.6], [-1.0, -1.3, -1.6, -1.8, -1.8, -1.8]),
        (High, A, Obstructed) => ([-1.0, -1.1, -1.5, -1.5, -1.5, -1.3], [-1.5, -1.5, -1.7, -1.8, -1.8, -1.8]),
        (High, B, Clear) => ([-1.4, -1.9, -2.4, -2.5, -2.4, -2.3], [0.0, 0.0, -0.3, -0.5, -0.6, -0.7]),
        (High, B, Obstructed) => ([-1.7, -2.1, -2.3, -2.3, -2.2, -1.9], [-0.8, -0.6, -0.9, -1.1, -1.1, -1.2]),
        (Low, A, Clear) => ([0.9, 1.3, 1.7, 2.1, 2.1, 2.2], [1.5, 1.6, 1.8, 2.1, 2.2, 2.5]),
        (Low, A, Obstructed) => ([-0.2, 0.4, 0.5, 0.6, 0.7, 0.8], [-1.2, -1.1, -1.0, -1.0, -0.9, -0.9]),
        (Low, B, Clear) => ([1.6, 1.8, 2.2, 2.6, 2.7, 2.6], [0.3, 0.6, 0.7, 1.0, 1.1, 1.4]),
        (Low, B, Obstructed) => ([0.8, 1.2, 1.3, 1.6, 1.9, 2.1], [-0.3, -0.3, 0.0, 0.1, 0.3, 0.4]),
    };
    halves(windward, leeward, pitch)
}

/// CN of a gable roof with the wind across its ridge, Figure 27.3-5. Below 7.5 degrees the values
/// of a flat roof hold (note 3).
#[must_use]
pub fn pitched(pitch: f64, case: LoadCase, flow: Flow) -> Halves {
    use {
        Flow::{Clear, Obstructed},
        LoadCase::{A, B},
    };
    if degrees(pitch) < FIRST_PITCH {
        return monoslope(pitch, FirstEdge::High, case, flow);
    }
    let (windward, leeward): (Row, Row) = match (case, flow) {
        (A, Clear) => ([1.1, 1.1, 1.1, 1.3, 1.3, 1.1], [-0.3, -0.4, 0.1, 0.3, 0.6, 0.9]),
        (A, Obstructed) => ([-1.6, -1.2, -1.2, -0.7, -0.6, -0.5], [-1.0, -1.0, -1.2, -0.7, -0.6, -0.5]),
        (B, Clear) => ([0.2, 0.1, -0.1, -0.1, -0.2, -0.3], [-1.2, -1.1, -0.8, -0.9, -0.6, -0.5]),
        (B, Obstructed) => ([-0.9, -0.6, -0.8, -0.2, -0.3, -0.3], [-1.7, -1.6, -1.7, -1.1, -0.9, -0.7]),
    };
    halves(windward, leeward, pitch)
}

/// CN of any free roof with the wind along its ridge or across its fall, Figure 27.3-7: from the
/// windward edge to h, from h to 2h, and beyond.
#[must_use]
pub fn along(case: LoadCase, flow: Flow) -> [f64; 3] {
    match (case, flow) {
        (LoadCase::A, Flow::Clear) => [-0.8, -0.6, -0.3],
        (LoadCase::A, Flow::Obstructed) => [-1.2, -0.9, -0.6],
        (LoadCase::B, Flow::Clear) => [0.8, 0.5, 0.3],
        (LoadCase::B, Flow::Obstructed) => [0.5, 0.5, 0.3],
    }
}

/// Net coefficient on a windward and on a leeward fascia or parapet. ASCE 7-16 §27.3.4, which
/// §27.3.2 applies to the fascia of a free roof as an inverted parapet, with `q_h`.
pub const FASCIA: [f64; 2] = [1.5, -1.0];

fn halves(windward: Row, leeward: Row, pitch: f64) -> Halves {
    let at = degrees(pitch);
    let read = |row: Row| interpolate([7.5, 15.0, 22.5, 30.0, 37.5, 45.0], row, at);
    Halves { windward: read(windward), leeward: read(leeward) }
}
