//! Soil values that the code allows where nobody has tested the soil.
//!
//! In: the class of soil. Out: pressures and friction. It must not know the site: soft, organic or filled ground needs a test.
//! Source: IBC 2018 Table 1806.2 (in EN countries the National Annex or local practice has its own).

use crate::calc::inch_pound::{FOOT, PSF};

/// Class of soil.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Soil {
    /// Crystalline bedrock.
    Bedrock,
    /// Sedimentary and foliated rock.
    SoftRock,
    /// Sandy gravel and gravel (GW, GP).
    Gravel,
    /// Sand, silty or clayey sand, silty or clayey gravel (SW, SP, SM, SC, GM, GC).
    Sand,
    /// Clay, sandy or silty clay, clayey silt, silt (CL, ML, MH, CH).
    Clay,
}

/// Presumptive values.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Presumptive {
    /// Bearing pressure, Pa.
    pub bearing: f64,
    /// Lateral bearing pressure for each metre of depth, Pa/m.
    pub lateral_per_depth: f64,
    /// Friction coefficient against sliding, where there is one.
    pub friction: Option<f64>,
    /// Cohesion against sliding, Pa, where there is one.
    pub cohesion: Option<f64>,
}

/// Presumptive values of a class of soil. Source: IBC 2018 Table 1806.2.
#[must_use]
pub fn values(soil: Soil) -> Presumptive {
    let (bearing, lateral, friction, cohesion) = match soil {
        Soil::Bedrock => (12_000.0, 1_200.0, Some(0.70), None),
        Soil::SoftRock => (4_000.0, 400.0, Some(0.35), None),
        Soil::Gravel => (3_000.0, 200.0, Some(0.35), None),
        Soil::Sand => (2_000.0, 150.0, Some(0.25), None),
        Soil::Clay => (1_500.0, 100.0, None, Some(130.0 * PSF)),
    };
    Presumptive { bearing: bearing * PSF, lateral_per_depth: lateral * PSF / FOOT, friction, cohesion }
}

/// Factor on the lateral bearing of isolated posts that half an inch of movement at the ground does not harm: 2.
/// Source: IBC 2018 §1806.3.4.
pub const ISOLATED_POST: f64 = 2.0;
