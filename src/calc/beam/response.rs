//! How the beam answers loads that stand still: reactions, shear, moment, slope and deflection at any place.
//!
//! In: the beam and its loads. Out: one polynomial for each quantity on each length between two nodes, from which
//! values and exact extremes follow without sampling.
//! It must not know about rolling wheels.

use nalgebra::DVector;

use super::model::{Beam, Element, Mesh};
use super::polynomial::Polynomial;
use super::stiffness::{Solved, element_stiffness};
use crate::calc::FormulaError;

/// A load that stands still. Down and clockwise count positive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Load {
    /// A force (N) at a place (m).
    Point {
        /// Place, m.
        at: f64,
        /// Force, N, down.
        force: f64,
    },
    /// A turning couple (N·m) at a place (m).
    Couple {
        /// Place, m.
        at: f64,
        /// Moment, N·m, clockwise.
        moment: f64,
    },
    /// A load along a length that changes evenly from one end to the other.
    Spread {
        /// Left end, m.
        from: f64,
        /// Right end, m.
        to: f64,
        /// Load at the left end, N/m, down.
        first: f64,
        /// Load at the right end, N/m, down.
        last: f64,
    },
}

impl Load {
    /// The beam's own weight (N/m) over its whole length.
    #[must_use]
    pub fn self_weight(beam: &Beam, weight: f64) -> Self {
        Self::Spread { from: beam.start, to: beam.end, first: weight, last: weight }
    }

    fn ends(&self) -> [f64; 2] {
        match *self {
            Self::Point { at, .. } | Self::Couple { at, .. } => [at, at],
            Self::Spread { from, to, .. } => [from, to],
        }
    }
}

/// An extreme value and where along the beam it stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Peak {
    /// The value, in the unit of its quantity.
    pub value: f64,
    /// Place, m.
    pub at: f64,
}

/// A length of beam with its polynomials, counted from its left end.
#[derive(Debug, Clone)]
pub(super) struct Curve {
    pub left: f64,
    pub length: f64,
    pub shear: Polynomial<6>,
    pub moment: Polynomial<6>,
    pub slope: Polynomial<6>,
    pub deflection: Polynomial<6>,
}

/// A beam's answer to loads that stand still.
#[derive(Debug, Clone)]
pub struct Response {
    /// Reaction of each support (N, up), in the order of the beam's supports.
    pub reactions: Vec<f64>,
    pub(super) curves: Vec<Curve>,
}

/// Solves the beam under loads that stand still.
///
/// # Errors
/// Where the beam is not held ([`FormulaError::Unstable`] names the loose part), where a number is out of range,
/// or where a load does not stand on the beam.
///
/// Source: direct stiffness method, Euler-Bernoulli beam.
pub fn respond(beam: &Beam, loads: &[Load]) -> Result<Response, FormulaError> {
    let places: Vec<f64> = loads.iter().flat_map(Load::ends).collect();
    let beyond = |at: f64| (at < beam.start && !beam.same_point(at, beam.start)) || (at > beam.end && !beam.same_point(at, beam.end));
    if places.iter().any(|&at| beyond(at) || !at.is_finite()) {
        return Err(FormulaError::domain("each load", "on the beam"));
    }
    let solved = Solved::new(beam)?;
    let shares: Vec<Vec<Share>> = (0..solved.mesh.elements.len())
        .map(|element| loads.iter().filter_map(|load| share(&solved.mesh, element, load)).collect())
        .collect();
    let held: Vec<[f64; 4]> = solved.mesh.elements.iter().zip(&shares).map(|(element, shares)| equivalent(element, shares)).collect();

    let mut right_side = DVector::zeros(solved.count);
    for (ends, held) in solved.freedoms.iter().zip(&held) {
        for (freedom, value) in ends.iter().zip(held) {
            if let Some(place) = freedom.and_then(|i| right_side.get_mut(i)) {
                *place += value;
            }
        }
    }
    let movements = solved.solve(&right_side);

    let mut curves = Vec::with_capacity(solved.mesh.elements.len() + loads.len());
    // What each node passes down to its support: what the elements beside it press on it.
    let mut pressed = vec![0.0; solved.mesh.nodes.len()];
    for (i, ((element, shares), held)) in solved.mesh.elements.iter().zip(&shares).zip(&held).enumerate() {
        let ends = solved.end_movements(i, &movements);
        let mut forces = [0.0; 4];
        for ((force, row), held) in forces.iter_mut().zip(element_stiffness(element)).zip(held) {
            *force = row.iter().zip(ends).map(|(k, u)| k * u).sum::<f64>() - held;
        }
        for (press, force) in pressed.iter_mut().skip(i).zip([forces[0], forces[2]]) {
            *press -= force;
        }
        draw(element, shares, ends, forces, &mut curves);
    }
    let mut reactions = vec![0.0; beam.supports.len()];
    for (node, press) in solved.mesh.nodes.iter().zip(&pressed) {
        if let Some(reaction) = node.support.and_then(|i| reactions.get_mut(i)) {
            *reaction = *press;
        }
    }
    Ok(Response { reactions, curves })
}

/// The part of a load that stands on one element, counted from the element's left end.
enum Share {
    Force {
        at: f64,
        force: f64,
    },
    Couple {
        at: f64,
        moment: f64,
    },
    /// Between two places: the load at the element's left end, were it to reach there, and its rise for each metre.
    Spread {
        from: f64,
        to: f64,
        first: f64,
        rise: f64,
    },
}

/// A load between two elements goes to the right one, at the right end of the beam to the last.
fn share(mesh: &Mesh, element: usize, load: &Load) -> Option<Share> {
    let here = mesh.elements.get(element)?;
    let within = |at: f64| (0.0..=here.length).contains(&at).then_some(at);
    let on_this = |at: f64| (mesh.element_at(at) == element).then(|| (at - here.left).clamp(0.0, here.length)).and_then(within);
    match *load {
        Load::Point { at, force } => Some(Share::Force { at: on_this(at)?, force }),
        Load::Couple { at, moment } => Some(Share::Couple { at: on_this(at)?, moment }),
        Load::Spread { from, to, first, last } => {
            let (p, q) = ((from - here.left).max(0.0), (to - here.left).min(here.length));
            let rise = (last - first) / (to - from);
            (q > p).then_some(Share::Spread { from: p, to: q, first: first + rise * (here.left - from), rise })
        }
    }
}

/// The nodal loads that press an element as its loads do: each load times the movement of its place for a unit movement
/// of each end (the cubic shape functions of the beam element).
fn equivalent(element: &Element, shares: &[Share]) -> [f64; 4] {
    let l = element.length;
    let shapes: [Polynomial<6>; 4] = [
        Polynomial([1.0, 0.0, -3.0 / (l * l), 2.0 / (l * l * l), 0.0, 0.0]),
        Polynomial([0.0, 1.0, -2.0 / l, 1.0 / (l * l), 0.0, 0.0]),
        Polynomial([0.0, 0.0, 3.0 / (l * l), -2.0 / (l * l * l), 0.0, 0.0]),
        Polynomial([0.0, 0.0, -1.0 / l, 1.0 / (l * l), 0.0, 0.0]),
    ];
    let mut held = [0.0; 4];
    for (held, shape) in held.iter_mut().zip(&shapes) {
        let work = |share: &Share| match *share {
            Share::Force { at, force } => force * shape.at(at),
            Share::Couple { at, moment } => moment * shape.slope().at(at),
            Share::Spread { from, to, first, rise } => {
                let along: Polynomial<6> = shape.times(&Polynomial([first, rise]));
                let sum = along.integral(0.0);
                sum.at(to) - sum.at(from)
            }
        };
        *held = shares.iter().map(work).sum();
    }
    held
}

/// Cuts an element at its loads and draws each length from the left, where movements and forces are known.
fn draw(element: &Element, shares: &[Share], ends: [f64; 4], forces: [f64; 4], curves: &mut Vec<Curve>) {
    let mut cuts: Vec<f64> = vec![0.0, element.length];
    for share in shares {
        match *share {
            Share::Force { at, .. } | Share::Couple { at, .. } => cuts.push(at),
            Share::Spread { from, to, .. } => cuts.extend([from, to]),
        }
    }
    cuts.sort_by(f64::total_cmp);
    cuts.dedup();
    let (mut shear, mut moment, mut slope, mut deflection) = (-forces[0], forces[1], ends[1], ends[0]);
    for pair in cuts.windows(2) {
        let [from, to] = pair else { continue };
        let (mut first, mut rise) = (0.0, 0.0);
        for share in shares {
            match *share {
                Share::Force { at, force } if at == *from => shear -= force,
                Share::Couple { at, moment: couple } if at == *from => moment += couple,
                Share::Spread { from: p, to: q, first: value, rise: more } if p <= *from && *to <= q => {
                    first += value + more * from;
                    rise += more;
                }
                _ => {}
            }
        }
        let shears = Polynomial([shear, -first, -rise / 2.0, 0.0, 0.0, 0.0]);
        let moments = shears.integral(moment);
        let slopes = moments.scaled(-1.0 / element.bending_stiffness).integral(slope);
        let deflections = slopes.integral(deflection);
        let length = to - from;
        curves.push(Curve { left: element.left + from, length, shear: shears, moment: moments, slope: slopes, deflection: deflections });
        (shear, moment) = (shears.at(length), moments.at(length));
        (slope, deflection) = (slopes.at(length), deflections.at(length));
    }
}

impl Response {
    fn at(&self, x: f64, quantity: impl Fn(&Curve) -> Polynomial<6>) -> f64 {
        let index = self.curves.partition_point(|c| c.left <= x).saturating_sub(1);
        self.curves.get(index).map_or(0.0, |c| quantity(c).at(x - c.left))
    }

    /// Bending moment at `x` (m), N·m, sagging positive; just right of a couple.
    #[must_use]
    pub fn moment(&self, x: f64) -> f64 {
        self.at(x, |c| c.moment)
    }

    /// Shear at `x` (m), N, the slope of the moment; just right of a support or a point load.
    #[must_use]
    pub fn shear(&self, x: f64) -> f64 {
        self.at(x, |c| c.shear)
    }

    /// Deflection at `x` (m), m, down positive.
    #[must_use]
    pub fn deflection(&self, x: f64) -> f64 {
        self.at(x, |c| c.deflection)
    }

    /// Slope at `x` (m), rad, down to the right positive.
    #[must_use]
    pub fn slope(&self, x: f64) -> f64 {
        self.at(x, |c| c.slope)
    }

    /// The largest sagging moment (N·m); zero where the beam only hogs.
    #[must_use]
    pub fn sagging(&self) -> Peak {
        self.peak(|c| c.moment, 1.0)
    }

    /// The largest hogging moment (N·m, negative); zero where the beam only sags.
    #[must_use]
    pub fn hogging(&self) -> Peak {
        self.peak(|c| c.moment, -1.0)
    }

    /// The largest positive shear, N.
    #[must_use]
    pub fn shear_largest(&self) -> Peak {
        self.peak(|c| c.shear, 1.0)
    }

    /// The largest negative shear, N.
    #[must_use]
    pub fn shear_smallest(&self) -> Peak {
        self.peak(|c| c.shear, -1.0)
    }

    /// The deepest deflection, m.
    #[must_use]
    pub fn deepest(&self) -> Peak {
        self.peak(|c| c.deflection, 1.0)
    }

    /// The highest rise, m (negative).
    #[must_use]
    pub fn highest(&self) -> Peak {
        self.peak(|c| c.deflection, -1.0)
    }

    /// The extreme in the direction of `sign`, from the ends and the level places of each curve.
    fn peak(&self, quantity: impl Fn(&Curve) -> Polynomial<6>, sign: f64) -> Peak {
        let mut best = Peak { value: 0.0, at: self.curves.first().map_or(0.0, |c| c.left) };
        for curve in &self.curves {
            let polynomial = quantity(curve);
            let level = polynomial.level_places(curve.length);
            for t in level.iter().chain([0.0, curve.length]) {
                let value = polynomial.at(t);
                if value * sign > best.value * sign {
                    best = Peak { value, at: curve.left + t };
                }
            }
        }
        best
    }
}
