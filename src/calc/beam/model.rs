//! The beam as the caller describes it, and the same beam cut into elements of one stiffness.
//!
//! In: ends, supports, stiffness along the length, hinges. Out: a checked list of nodes and elements.
//! It must not know how the elements are solved.

use crate::calc::FormulaError;

/// Points closer together than this part of the beam's length are one point.
const SAME_POINT: f64 = 1e-9;

/// A straight beam.
#[derive(Debug, Clone, PartialEq)]
pub struct Beam {
    /// Left end, m.
    pub start: f64,
    /// Right end, m.
    pub end: f64,
    /// Bending stiffness from left to right; the last stretch reaches the right end.
    pub stretches: Vec<Stretch>,
    /// Supports in any order.
    pub supports: Vec<Support>,
    /// Positions (m) where two lengths meet in a splice that carries shear but no moment.
    pub hinges: Vec<f64>,
}

/// A length of the beam that has one bending stiffness.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// Right end of the stretch, m.
    pub until: f64,
    /// Bending stiffness EI, N·m².
    pub bending_stiffness: f64,
}

/// A support that holds the beam up and down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Support {
    /// Position, m.
    pub at: f64,
    /// Vertical spring stiffness, N/m; `None` does not give way at all.
    pub spring: Option<f64>,
}

impl Support {
    /// A support at `at` (m) that does not give way.
    #[must_use]
    pub fn stiff(at: f64) -> Self {
        Self { at, spring: None }
    }
}

impl Beam {
    /// A beam from `start` to `end` (m) of one bending stiffness (N·m²) on stiff supports (m).
    #[must_use]
    pub fn uniform(start: f64, end: f64, bending_stiffness: f64, supports: &[f64]) -> Self {
        Self {
            start,
            end,
            stretches: vec![Stretch { until: end, bending_stiffness }],
            supports: supports.iter().map(|&at| Support::stiff(at)).collect(),
            hinges: Vec::new(),
        }
    }

    pub(super) fn length(&self) -> f64 {
        self.end - self.start
    }

    /// Whether two positions are the same point of this beam.
    pub(super) fn same_point(&self, one: f64, other: f64) -> bool {
        (one - other).abs() <= SAME_POINT * self.length()
    }

    fn check(&self) -> Result<(), FormulaError> {
        let positive = |value: f64| value.is_finite() && value > 0.0;
        if !positive(self.length()) {
            return Err(FormulaError::domain("the beam's length", "more than zero"));
        }
        if self.stretches.iter().any(|s| !positive(s.bending_stiffness)) || self.stretches.is_empty() {
            return Err(FormulaError::domain("the beam's bending stiffness", "more than zero"));
        }
        if self.stretches.iter().any(|s| !s.until.is_finite()) {
            return Err(FormulaError::domain("the end of each stretch of the beam", "a number"));
        }
        if self.stretches.windows(2).any(|pair| matches!(pair, [left, right] if left.until >= right.until)) {
            return Err(FormulaError::domain("the stretches of the beam", "in order from left to right"));
        }
        if self.stretches.last().is_some_and(|last| last.until < self.end && !self.same_point(last.until, self.end)) {
            return Err(FormulaError::domain("the last stretch of the beam", "as long as the beam"));
        }
        if self.supports.iter().any(|s| s.spring.is_some_and(|k| !positive(k))) {
            return Err(FormulaError::domain("a support's spring stiffness", "more than zero"));
        }
        let on_beam = |at: f64| (at >= self.start && at <= self.end) || self.same_point(at, self.start) || self.same_point(at, self.end);
        if !self.supports.iter().all(|s| on_beam(s.at)) {
            return Err(FormulaError::domain("each support", "under the beam, not beside it"));
        }
        if !self.hinges.iter().all(|&at| on_beam(at)) {
            return Err(FormulaError::domain("each hinge", "on the beam"));
        }
        Ok(())
    }
}

/// A point where something changes along the beam.
#[derive(Debug, Clone, Copy)]
pub(super) struct Node {
    pub at: f64,
    /// Index into the beam's supports.
    pub support: Option<usize>,
    pub hinged: bool,
}

/// The length between two neighbouring nodes: one stiffness, no support inside.
#[derive(Debug, Clone, Copy)]
pub(super) struct Element {
    pub left: f64,
    pub length: f64,
    pub bending_stiffness: f64,
}

/// A checked beam in elements; element `i` lies between nodes `i` and `i + 1`.
#[derive(Debug, Clone)]
pub(super) struct Mesh {
    pub nodes: Vec<Node>,
    pub elements: Vec<Element>,
}

impl Mesh {
    /// Cuts the beam at its supports, hinges and changes of stiffness.
    pub(super) fn new(beam: &Beam) -> Result<Self, FormulaError> {
        beam.check()?;
        let inside = |at: f64| at > beam.start && at < beam.end;
        let mut points: Vec<f64> = vec![beam.start, beam.end];
        points.extend(beam.supports.iter().map(|s| s.at.clamp(beam.start, beam.end)));
        points.extend(beam.hinges.iter().copied());
        points.extend(beam.stretches.iter().map(|s| s.until).filter(|&at| inside(at)));
        points.sort_by(f64::total_cmp);
        points.dedup_by(|next, kept| beam.same_point(*next, *kept));

        let mut nodes = Vec::with_capacity(points.len());
        for at in points {
            let mut here = (0..).zip(&beam.supports).filter(|(_, s)| beam.same_point(s.at, at)).map(|(i, _)| i);
            let support = here.next();
            if here.next().is_some() {
                return Err(FormulaError::domain(format!("the supports at {at:.3} m"), "one support"));
            }
            let hinged = inside(at)
                && !beam.same_point(at, beam.start)
                && !beam.same_point(at, beam.end)
                && beam.hinges.iter().any(|&hinge| beam.same_point(hinge, at));
            nodes.push(Node { at, support, hinged });
        }
        let elements = nodes
            .windows(2)
            .filter_map(|pair| match pair {
                [left, right] => {
                    let middle = 0.5 * (left.at + right.at);
                    let stretch = beam.stretches.iter().find(|s| s.until >= middle)?;
                    let bending_stiffness = stretch.bending_stiffness;
                    Some(Element { left: left.at, length: right.at - left.at, bending_stiffness })
                }
                _ => None,
            })
            .collect();
        Ok(Self { nodes, elements })
    }

    /// The element that holds `at`; beyond the ends, the nearest.
    pub(super) fn element_at(&self, at: f64) -> usize {
        self.elements.partition_point(|p| p.left <= at).saturating_sub(1)
    }
}
