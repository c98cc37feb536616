//! Whether the supports hold the beam at all, and if not, what is loose and how it moves.
//!
//! In: the beam. Out: nothing, or an error that names the loose part. Each length between two hinges is taken as
//! rigid: it has two freedoms, to fall and to turn; each support and each hinge takes away one.
//! It must not know stiffness: a factorisation of the stiffness matrix can miss a mechanism by rounding.

use nalgebra::{DMatrix, DVector, SymmetricEigen};

use super::model::Beam;
use crate::calc::FormulaError;

/// An eigenvalue below this, for freedoms of the size one, means that nothing resists the motion.
const LOOSE: f64 = 1e-12;

struct Part {
    from: f64,
    to: f64,
    supports: Vec<f64>,
}

/// Fails with the name of the loose part when the supports leave one.
pub(super) fn hold(beam: &Beam) -> Result<(), FormulaError> {
    let parts = parts(beam);
    let freedoms = 2 * parts.len();
    // Row by row: the movement that a support or a hinge forbids, in units of the beam's length.
    let mut forbidden: Vec<DVector<f64>> = Vec::new();
    let arm = |part: &Part, at: f64| (at - part.from) / beam.length();
    for (i, part) in parts.iter().enumerate() {
        for &at in &part.supports {
            let mut row = DVector::zeros(freedoms);
            row[2 * i] = 1.0;
            row[2 * i + 1] = arm(part, at);
            forbidden.push(row);
        }
    }
    for (i, pair) in parts.windows(2).enumerate() {
        if let [left, _] = pair {
            let mut row = DVector::zeros(freedoms);
            row[2 * i] = 1.0;
            row[2 * i + 1] = arm(left, left.to);
            row[2 * i + 2] = -1.0;
            forbidden.push(row);
        }
    }
    let resistance = forbidden.iter().fold(DMatrix::zeros(freedoms, freedoms), |sum, row| sum + row * row.transpose());
    let modes = SymmetricEigen::new(resistance);
    let (weakest, value) = modes.eigenvalues.argmin();
    if value > LOOSE {
        return Ok(());
    }
    let motion = modes.eigenvectors.column(weakest);
    let loose: Vec<String> = parts
        .iter()
        .enumerate()
        .filter(|(i, _)| motion[2 * i].abs() + motion[2 * i + 1].abs() > 1e-6)
        .map(|(_, part)| describe(part, parts.len() == 1))
        .collect();
    Err(FormulaError::Unstable { what: loose.join(" and ") })
}

fn describe(part: &Part, whole: bool) -> String {
    let name = if whole { "the beam".to_owned() } else { format!("the length of beam from {:.3} m to {:.3} m", part.from, part.to) };
    match part.supports.as_slice() {
        [] if whole => format!("{name} falls: it has no support"),
        [] => format!("{name} falls: it hangs on its hinges alone"),
        [at] => format!("{name} rotates about its only support at {at:.3} m"),
        _ => format!("{name} is carried along"),
    }
}

fn parts(beam: &Beam) -> Vec<Part> {
    let mut cuts: Vec<f64> =
        beam.hinges.iter().copied().filter(|&at| !beam.same_point(at, beam.start) && !beam.same_point(at, beam.end)).collect();
    cuts.push(beam.end);
    cuts.sort_by(f64::total_cmp);
    cuts.dedup_by(|next, kept| beam.same_point(*next, *kept));
    let mut from = beam.start;
    let mut taken: Vec<f64> = Vec::new();
    let mut parts = Vec::with_capacity(cuts.len());
    for to in cuts {
        let mut supports = Vec::new();
        for support in &beam.supports {
            // A support at a hinge holds one of the two lengths; the hinge passes it on to the other.
            let here = support.at <= to || beam.same_point(support.at, to);
            if here && !taken.contains(&support.at) {
                taken.push(support.at);
                supports.push(support.at);
            }
        }
        parts.push(Part { from, to, supports });
        from = to;
    }
    parts
}
