//! How far a beam sinks under each of its wheels, place after place of the roof, from one factorised stiffness.
//!
//! In: a beam and its own weight, once; then the wheels and where they stand. Out: the sinking under each.
//! It must not know why somebody asks.

use nalgebra::DVector;

use super::influence::{fixed_bar, shape};
use super::model::Beam;
use super::response::{Load, Response, respond};
use super::stiffness::Solved;
use super::train::Wheel;
use crate::calc::FormulaError;

/// A beam that is asked about many places of its wheels.
pub struct UnderWheels {
    solved: Solved,
    resting: Response,
    start: f64,
    end: f64,
}

impl UnderWheels {
    /// Solves a beam with its own weight (N/m).
    ///
    /// # Errors
    /// Where the beam is not held or a number is out of range.
    pub fn new(beam: &Beam, self_weight: f64) -> Result<Self, FormulaError> {
        let resting = respond(beam, &[Load::self_weight(beam, self_weight)])?;
        Ok(Self { solved: Solved::new(beam)?, resting, start: beam.start, end: beam.end })
    }

    /// How far (m, down) the beam sinks under each wheel while the train stands at a position (m); `None` for a wheel beyond
    /// the beam. In the order of the wheels.
    ///
    /// Source: direct stiffness method; the part of an element's deflection that its ends do not show is that of a fixed bar.
    #[must_use]
    pub fn at(&self, wheels: &[Wheel], position: f64) -> Vec<Option<f64>> {
        let mesh = &self.solved.mesh;
        let on_beam = |wheel: &Wheel| {
            let at = position + wheel.offset;
            (at >= self.start && at <= self.end).then_some(at)
        };
        // Each wheel's element, and its place along it.
        let place = |at: f64| {
            let index = mesh.element_at(at);
            mesh.elements.get(index).map(|element| (index, element, (at - element.left).clamp(0.0, element.length)))
        };
        let mut loads = DVector::zeros(self.solved.count);
        for wheel in wheels {
            let Some((index, element, along)) = on_beam(wheel).and_then(place) else { continue };
            let ends = self.solved.freedoms.get(index).copied().unwrap_or_default();
            for (freedom, share) in ends.iter().zip(shape(element, along)) {
                if let Some(load) = freedom.and_then(|i| loads.get_mut(i)) {
                    *load += wheel.load * share;
                }
            }
        }
        let movements = self.solved.solve(&loads);
        let sinking = |at: f64| {
            let (index, element, along) = place(at)?;
            let ends = self.solved.end_movements(index, &movements);
            let by_ends: f64 = shape(element, along).iter().zip(ends).map(|(share, end)| share * end).sum();
            let (left, right) = fixed_bar(element, along);
            let between = wheels.iter().filter_map(|wheel| Some((place(on_beam(wheel)?)?, wheel.load)));
            let own: f64 = between
                .filter(|((other, ..), _)| *other == index)
                .map(|((.., from), load)| load * if from <= along { left.at(from) } else { right.at(from) })
                .sum();
            Some(self.resting.deflection(at) + by_ends + own)
        };
        wheels.iter().map(|wheel| on_beam(wheel).and_then(sinking)).collect()
    }
}
