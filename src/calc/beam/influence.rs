//! Influence lines: what a unit load does as it rolls along the beam.
//!
//! In: a solved beam. Out: for the moment at each node and for the deflection at any place, one cubic for each element
//! that the load may stand on. That the lines are cubics between nodes is the Müller-Breslau principle: an influence
//! line is a deflected shape of the unloaded beam.
//! It must not know how many wheels there are.

use nalgebra::DMatrix;

use super::model::Element;
use super::polynomial::Polynomial;
use super::stiffness::{Freedoms, Solved, element_stiffness};

/// A cubic in the load's place, counted from the left end of the element that it stands on.
pub(super) type Cubic = Polynomial<4>;

/// Influence lines of one beam.
pub(super) struct Influence {
    pub solved: Solved,
    flexibility: DMatrix<f64>,
    /// `moments[j][p]`: the moment at node `j` for a unit load on element `p`.
    pub moments: Vec<Vec<Cubic>>,
}

impl Influence {
    pub(super) fn new(solved: Solved) -> Self {
        let flexibility = solved.flexibility();
        let mut lines = Self { solved, flexibility, moments: Vec::new() };
        lines.moments = (0..lines.solved.mesh.nodes.len()).map(|node| lines.moment_line(node)).collect();
        lines
    }

    /// The moment at a node, taken at the left end of the element to its right. Ends and hinges carry none.
    fn moment_line(&self, node: usize) -> Vec<Cubic> {
        let mesh = &self.solved.mesh;
        let free = node == 0 || mesh.nodes.get(node).is_none_or(|n| n.hinged);
        let (Some(element), false) = (mesh.elements.get(node), free) else {
            return vec![Cubic::ZERO; mesh.elements.len()];
        };
        let stiffness = element_stiffness(element);
        let mut line = self.line(node, stiffness[1]);
        if let Some(own) = line.get_mut(node) {
            // The moment that holds the left end of a fixed bar: −ξ·(l−ξ)²/l², hogging.
            let l = element.length;
            *own = own.plus(&Polynomial([0.0, -1.0, 2.0 / l, -1.0 / (l * l)]));
        }
        line
    }

    /// The deflection at `x`, which stands on element `on`: one cubic for each element, and two for element `on`,
    /// for a load left of `x` and for one right of it.
    pub(super) fn deflection_line(&self, on: usize, x: f64) -> (Vec<Cubic>, Cubic) {
        let Some(element) = self.solved.mesh.elements.get(on) else {
            return (Vec::new(), Cubic::ZERO);
        };
        let t = x - element.left;
        let mut line = self.line(on, shape(element, t));
        let mut right_of_x = Cubic::ZERO;
        if let Some(own) = line.get_mut(on) {
            let (left, right) = fixed_bar(element, t);
            right_of_x = own.plus(&right);
            *own = own.plus(&left);
        }
        (line, right_of_x)
    }

    /// A sum of the end movements of element `on`, each with its weight, for a unit load on each element.
    fn line(&self, on: usize, weights: [f64; 4]) -> Vec<Cubic> {
        let freedoms = &self.solved.freedoms;
        let own = freedoms.get(on).copied().unwrap_or_default();
        let moved_by = |j: usize| own.iter().zip(weights).map(|(i, w)| i.map_or(0.0, |i| w * self.flexibility[(i, j)])).sum();
        let moved: Vec<f64> = (0..self.flexibility.ncols()).map(moved_by).collect();
        let value = |end: Option<usize>| end.and_then(|j| moved.get(j).copied()).unwrap_or(0.0);
        self.solved.mesh.elements.iter().zip(freedoms).map(|(element, ends)| hermite(element, *ends, value)).collect()
    }
}

/// The cubic that takes the given values and slopes at the ends of an element.
fn hermite(element: &Element, ends: Freedoms, value: impl Fn(Option<usize>) -> f64) -> Cubic {
    let l = element.length;
    let [y0, s0, y1, s1] = ends;
    let (y0, s0, y1, s1) = (value(y0), value(s0), value(y1), value(s1));
    let rise = (y1 - y0) / l;
    Polynomial([y0, s0, (3.0 * rise - 2.0 * s0 - s1) / l, (s0 + s1 - 2.0 * rise) / (l * l)])
}

/// The deflection at `t` along an element for unit movements of its ends.
pub(super) fn shape(element: &Element, t: f64) -> [f64; 4] {
    let l = element.length;
    let r = t / l;
    [1.0 - r * r * (3.0 - 2.0 * r), t * (1.0 - r) * (1.0 - r), r * r * (3.0 - 2.0 * r), t * r * (r - 1.0)]
}

/// The deflection at `t` of a bar fixed at both ends, for a unit load at ξ: the cubic in ξ for a load left of `t`,
/// and for a load right of it.
/// Source: fixed-fixed bar with a point load, AISC Manual Table 3-23 case 17; the two are each other's mirror.
pub(super) fn fixed_bar(element: &Element, t: f64) -> (Cubic, Cubic) {
    let l = element.length;
    let scale = 1.0 / (6.0 * element.bending_stiffness * l * l * l);
    let back = l - t;
    // ξ ≤ t: ξ²·back²·(3·l·t − (l + 2t)·ξ)
    let left = Polynomial([0.0, 0.0, 3.0 * l * t, -(l + 2.0 * t)]).scaled(scale * back * back);
    // ξ ≥ t: (l−ξ)²·t²·((3l − 2t)·ξ − l·t)
    let square: Cubic = Polynomial([l * l, -2.0 * l, 1.0, 0.0]);
    let right = square.times(&Polynomial([-l * t, 3.0 * l - 2.0 * t])).scaled(scale * t * t);
    (left, right)
}
