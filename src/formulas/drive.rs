//! The drive: torque and power at the pinion, what a person's arms have to do, what a stop feels.

use super::body::Formula;
use super::tables::table;
use crate::calc::FormulaError;
use crate::calc::impact::{self, Elastic};
use crate::calc::{drive, stopping};

include!(concat!(env!("OUT_DIR"), "/formulas_drive.rs"));

impl Formula for PinionTorque {
    fn answer(self) -> Result<f64, FormulaError> {
        drive::pinion_torque(self.pull, self.diameter, self.efficiency)
    }
}

impl Formula for DrivePower {
    fn answer(self) -> Result<f64, FormulaError> {
        drive::power(self.pull, self.speed, self.efficiency)
    }
}

impl Formula for PinionTurns {
    fn answer(self) -> Result<f64, FormulaError> {
        drive::turns(self.speed, self.diameter)
    }
}

impl Formula for StallForce {
    fn answer(self) -> Result<f64, FormulaError> {
        stopping::stall_force(self.torque, self.efficiency, self.ratio, self.radius)
    }
}

/// Without a drag nothing stays engaged.
impl Formula for HandForce {
    fn answer(self) -> Result<f64, FormulaError> {
        drive::hand_force(self.resistance, self.breakaway, self.against, self.drag.unwrap_or_default())
    }
}

/// What one of several stops takes: the first of the shares.
impl Formula for StopShare {
    fn answer(self) -> Result<table::StopShare, FormulaError> {
        if self.others.len() != self.lags.len() {
            return Err(FormulaError::domain("the other stops", "given with one stiffness and one lag each"));
        }
        let own = Elastic { rate: self.stiffness, touched_at: 0.0 };
        let others = self.others.into_iter().zip(self.lags).map(|(rate, touched_at)| Elastic { rate, touched_at });
        let stops: Vec<Elastic> = std::iter::once(own).chain(others).collect();
        let shared = impact::shared_impact(&stops, self.energy, self.push)?;
        let own = |all: &[f64]| all.first().copied().unwrap_or_default();
        Ok(table::StopShare {
            energy: own(&shared.energies),
            of: shared.energies.iter().sum(),
            force: own(&shared.forces),
            pressed_in: own(&shared.strokes),
        })
    }
}

impl Formula for Skew {
    fn answer(self) -> Result<f64, FormulaError> {
        impact::skew(self.play, self.base)
    }
}

impl Formula for SpringBuffer {
    fn answer(self) -> Result<table::SpringBuffer, FormulaError> {
        let buffer = stopping::spring_buffer(self.mass, self.speed, self.stiffness, self.push)?;
        Ok(table::SpringBuffer { stroke: buffer.stroke, force: buffer.force })
    }
}
