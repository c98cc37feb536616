//! The direct stiffness method: elements of beam joined at nodes, each node free to sink and to turn.
//!
//! In: a mesh. Out: the factorised stiffness, which answers nodal loads with nodal movements.
//! It must not know where the loads come from.
//!
//! An element's stiffness grows with the third power of 1/length, so an element of a millimetre beside elements of metres leaves
//! about seven of the sixteen digits of a double: still far more than the loads are known to.
//!
//! Source: the beam element of matrix structural analysis, two freedoms at each end; for example
//! Przemieniecki, *Theory of Matrix Structural Analysis*, 1968, ch. 5 (shear deflection left out).

use nalgebra::{Cholesky, DMatrix, DVector, Dyn};

use super::mechanism;
use super::model::{Beam, Element, Mesh};
use crate::calc::FormulaError;

/// The freedoms of an element: sinking and turning at its left end, then at its right end.
/// `None` where a stiff support holds the end.
pub(super) type Freedoms = [Option<usize>; 4];

/// A mesh with its factorised stiffness.
pub(super) struct Solved {
    pub mesh: Mesh,
    pub freedoms: Vec<Freedoms>,
    pub count: usize,
    factor: Cholesky<f64, Dyn>,
}

impl Solved {
    /// Assembles and factorises the stiffness. Loads cut no elements: a short element would cost precision.
    pub(super) fn new(beam: &Beam) -> Result<Self, FormulaError> {
        let mesh = Mesh::new(beam)?;
        mechanism::hold(beam)?;
        let (freedoms, count) = number(beam, &mesh);
        let mut stiffness = DMatrix::zeros(count, count);
        for (element, ends) in mesh.elements.iter().zip(&freedoms) {
            let rows = element_stiffness(element);
            for (row, end) in rows.iter().zip(ends) {
                for (value, other) in row.iter().zip(ends) {
                    if let (Some(i), Some(j)) = (end, other) {
                        stiffness[(*i, *j)] += value;
                    }
                }
            }
        }
        for (node, sink) in mesh.nodes.iter().zip(sinking(&freedoms)) {
            let spring = node.support.and_then(|i| beam.supports.get(i)).and_then(|s| s.spring);
            if let (Some(k), Some(i)) = (spring, sink) {
                stiffness[(i, i)] += k;
            }
        }
        let factor = Cholesky::new(stiffness).ok_or_else(|| FormulaError::Unstable {
            what: "the beam's stiffness varies too much along its length to be solved".to_owned(),
        })?;
        Ok(Self { mesh, freedoms, count, factor })
    }

    /// The movement of each freedom under a load on each freedom.
    pub(super) fn solve(&self, loads: &DVector<f64>) -> DVector<f64> {
        self.factor.solve(loads)
    }

    /// How far each freedom moves under a unit load on each other: the inverse of the stiffness.
    pub(super) fn flexibility(&self) -> DMatrix<f64> {
        self.factor.inverse()
    }

    /// The movements at the ends of an element, zero where a support holds it.
    pub(super) fn end_movements(&self, element: usize, movements: &DVector<f64>) -> [f64; 4] {
        let ends = self.freedoms.get(element).copied().unwrap_or_default();
        ends.map(|end| end.and_then(|i| movements.get(i).copied()).unwrap_or(0.0))
    }
}

/// Forces on the ends of an element for unit movements of its ends (down, clockwise).
pub(super) fn element_stiffness(element: &Element) -> [[f64; 4]; 4] {
    let l = element.length;
    let k = element.bending_stiffness / l;
    let (turn, half, shear, force) = (4.0 * k, 2.0 * k, 6.0 * k / l, 12.0 * k / (l * l));
    [[force, shear, -force, shear], [shear, turn, -shear, half], [-force, -shear, force, -shear], [shear, half, -shear, turn]]
}

/// Gives each freedom a number: one sinking for each node that no stiff support holds, one turning, two at a hinge.
fn number(beam: &Beam, mesh: &Mesh) -> (Vec<Freedoms>, usize) {
    let mut count = 0;
    let mut next = || {
        count += 1;
        count - 1
    };
    let mut ends: Vec<[Option<usize>; 3]> = Vec::with_capacity(mesh.nodes.len());
    for node in &mesh.nodes {
        let stiff = node.support.and_then(|i| beam.supports.get(i)).is_some_and(|s| s.spring.is_none());
        let sink = (!stiff).then(&mut next);
        let turn = next();
        let turn_right = if node.hinged { next() } else { turn };
        ends.push([sink, Some(turn), Some(turn_right)]);
    }
    let freedoms = ends
        .windows(2)
        .filter_map(|pair| match pair {
            [left, right] => Some([left[0], left[2], right[0], right[1]]),
            _ => None,
        })
        .collect();
    (freedoms, count)
}

/// The sinking freedom of each node in turn.
fn sinking(freedoms: &[Freedoms]) -> impl Iterator<Item = Option<usize>> + '_ {
    freedoms.iter().map(|f| f[0]).chain(freedoms.last().map(|f| f[2]))
}
