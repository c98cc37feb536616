//! Two stops at one end, one of which the roof touches first.
//!
//! In: mass, speed, push of the drive, the two springs, how much later the second is touched. Out:
//! how far they give way and what each takes. It must not know one stop alone (that is `stopping`).
//!
//! The roof is taken as held square by its track: it presses both by the same way, less the gap. A
//! stop that hardly gives way must still be given a rate: that of its bracket, or of what it pushes.

use crate::calc::{FormulaError, check};

/// Two elastic stops.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// Rate of the one that is touched first, N/m.
    pub first: f64,
    /// Rate of the other, N/m.
    pub second: f64,
    /// Way of the roof from touching the first to touching the other, m.
    pub gap: f64,
}

/// What two stops take.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shared {
    /// How far the roof pushes the first one in, m.
    pub stroke: f64,
    /// Largest force of each, N.
    pub forces: [f64; 2],
    /// Energy that each takes, J.
    pub energies: [f64; 2],
}

impl Shared {
    /// Share of the energy that the first one takes, 0 to 1; a half would be fair.
    #[must_use]
    pub fn first_share(&self) -> f64 {
        let [first, second] = self.energies;
        if first + second > 0.0 { first / (first + second) } else { 0.0 }
    }
}

/// What each of two stops takes when the roof, `mass` (kg) at `speed` (m/s), runs into them with the
/// drive still pushing (`push`, N).
///
/// Energy: ½ k₁ x² + ½ k₂ (x − g)² = ½ m v² + F x, the second term only beyond the gap.
///
/// # Errors
/// If mass, speed, push or gap is negative or a rate not above zero.
pub fn shared_impact(pair: Pair, mass: f64, speed: f64, push: f64) -> Result<Shared, FormulaError> {
    let energy = 0.5 * check::not_negative("moving mass", mass)? * speed * speed;
    check::not_negative("speed", speed)?;
    let push = check::not_negative("push of the drive", push)?;
    pair.taken(|rate, offset| {
        // ½ k x² − F x − (E − ½ k₂ g²) = 0 with F and k as the springs in touch make them
        let force = push + pair.second * offset;
        let left = energy - 0.5 * pair.second * offset * offset;
        (force + (force * force + 2.0 * rate * left).max(0.0).sqrt()) / rate
    })
}

/// What each of two stops takes of a steady `push` (N): a stalled drive, or the wind on a parked roof.
///
/// # Errors
/// If push or gap is negative or a rate not above zero.
pub fn shared_push(pair: Pair, push: f64) -> Result<Shared, FormulaError> {
    let push = check::not_negative("push", push)?;
    pair.taken(|rate, offset| (push + pair.second * offset) / rate)
}

/// Angle (rad) by which the roof stands askew if it rests on both stops, `gauge` (m) apart, of which
/// one is `gap` (m) further away.
///
/// # Errors
/// If the gap is negative or the gauge not above zero.
pub fn skew(gap: f64, gauge: f64) -> Result<f64, FormulaError> {
    let gap = check::not_negative("difference between the stops", gap)?;
    Ok(gap.atan2(check::positive("distance between the stops", gauge)?))
}

impl Pair {
    /// The stroke by a formula of the rate and, once the second stop is touched, the gap.
    fn taken(self, stroke: impl Fn(f64, f64) -> f64) -> Result<Shared, FormulaError> {
        check::positive("rate of the first stop", self.first)?;
        check::positive("rate of the second stop", self.second)?;
        check::not_negative("difference between the stops", self.gap)?;
        let alone = stroke(self.first, 0.0);
        let x = if alone <= self.gap { alone } else { stroke(self.first + self.second, self.gap) };
        let ways = [x, (x - self.gap).max(0.0)];
        let [a, b] = ways;
        Ok(Shared { stroke: x, forces: [self.first * a, self.second * b], energies: [0.5 * self.first * a * a, 0.5 * self.second * b * b] })
    }
}
