//! Stops at one end of the travel, one of which the roof touches first.
//!
//! In: the springs, how much later each is touched, the energy that the roof brings, the push of the
//! drive. Out: how far they give way and what each takes. It must not know one stop alone (that is
//! `stopping`).
//!
//! The roof is taken as stiff: it presses all of them by the same way, less what it touches them later.
//! A stop that hardly gives way must still be given a rate: that of its bracket, or of what it pushes.

use crate::calc::{FormulaError, check};

/// One elastic stop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Elastic {
    /// Its rate, N/m.
    pub rate: f64,
    /// Way of the roof at which it is touched, m, from any place that is the same for all.
    pub touched_at: f64,
}

/// What stops take, in the order in which they were given.
#[derive(Debug, Clone, PartialEq)]
pub struct Shared {
    /// How far each is pressed in, m.
    pub strokes: Vec<f64>,
    /// Largest force of each, N.
    pub forces: Vec<f64>,
    /// Energy that each takes, J.
    pub energies: Vec<f64>,
}

/// What each stop takes when the roof brings `energy` (J: ½ m v²) and the drive goes on pushing with `push` (N).
///
/// Energy: Σ ½ kᵢ (x − gᵢ)² = E + F x over the stops that are touched, x counted from the first touch.
///
/// # Errors
/// If there is no stop, energy or push is negative, or a rate not above zero.
pub fn shared_impact(stops: &[Elastic], energy: f64, push: f64) -> Result<Shared, FormulaError> {
    let energy = check::not_negative("energy of the roof", energy)?;
    let push = check::not_negative("push of the drive", push)?;
    taken(stops, |sums| {
        // ½ K x² − (F + Σ k g) x − (E − Σ ½ k g²) = 0
        let force = push + sums.force;
        let left = energy - sums.energy;
        (force + (force * force + 2.0 * sums.rate * left).max(0.0).sqrt()) / sums.rate
    })
}

/// Slope (rise over run) by which a roof can stand askew between wheels that guide it on one track: `play` (m) to
/// either side at both ends of their `base` (m).
///
/// # Errors
/// If the play is negative or the base not above zero.
pub fn skew(play: f64, base: f64) -> Result<f64, FormulaError> {
    let play = check::not_negative("play of the guiding wheels", play)?;
    Ok(2.0 * play / check::positive("distance between the guiding wheels", base)?)
}

/// Sums over the stops that are touched.
#[derive(Debug, Clone, Copy, Default)]
struct Sums {
    /// Σ k
    rate: f64,
    /// Σ k g
    force: f64,
    /// Σ ½ k g²
    energy: f64,
}

/// The way by a formula of the sums, with as many stops touched as that way reaches.
fn taken(stops: &[Elastic], way: impl Fn(Sums) -> f64) -> Result<Shared, FormulaError> {
    for stop in stops {
        check::positive("rate of a stop", stop.rate)?;
        check::finite("place of a stop", stop.touched_at)?;
    }
    let mut order: Vec<Elastic> = stops.to_vec();
    order.sort_by(|a, b| a.touched_at.total_cmp(&b.touched_at));
    let Some(first) = order.first().map(|stop| stop.touched_at) else {
        return Err(FormulaError::domain("the stops", "one at least"));
    };
    let mut sums = Sums::default();
    let mut x = 0.0;
    for (at, stop) in order.iter().enumerate() {
        let gap = stop.touched_at - first;
        sums.rate += stop.rate;
        sums.force += stop.rate * gap;
        sums.energy += 0.5 * stop.rate * gap * gap;
        x = way(sums);
        if order.get(at + 1).is_none_or(|next| x <= next.touched_at - first) {
            break;
        }
    }
    let strokes: Vec<f64> = stops.iter().map(|stop| (x - (stop.touched_at - first)).max(0.0)).collect();
    let each = |of: fn(f64, f64) -> f64| stops.iter().zip(&strokes).map(|(stop, stroke)| of(stop.rate, *stroke)).collect();
    Ok(Shared { forces: each(|rate, stroke| rate * stroke), energies: each(|rate, stroke| 0.5 * rate * stroke * stroke), strokes })
}
