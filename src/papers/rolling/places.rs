//! At which places of the travel it is looked at: round ones on a tape, and every one that has a name.

use crate::units::{METRE_PER_INCH as INCH, System};

/// As many places as a slider can be set to with a finger.
const MOST: f64 = 100.0;
/// Places nearer to each other than this are one, m.
const SAME: f64 = 1e-4;
/// What marks on a tape are apart, m.
const METRIC: [f64; 9] = [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5];
const US: [f64; 7] = [0.25 * INCH, 0.5 * INCH, INCH, 2.0 * INCH, 4.0 * INCH, 6.0 * INCH, 12.0 * INCH];

/// The places from `from` to `to` (m) in rising order: both ends, every one of `marks` between them, and round ones.
pub fn places(from: f64, to: f64, marks: impl IntoIterator<Item = f64>, system: System) -> Vec<f64> {
    let steps: &[f64] = match system {
        System::Metric => &METRIC,
        System::Us => &US,
    };
    let fits = |step: &&f64| (to - from) / **step <= MOST;
    let step = steps.iter().find(fits).copied().unwrap_or((to - from) / MOST);
    let mut named: Vec<f64> = marks.into_iter().filter(|mark| *mark > from && *mark < to).chain([from, to]).collect();
    named.sort_by(f64::total_cmp);
    named.dedup_by(|b, a| *b - *a < SAME);
    let mut all = named.clone();
    let mut round = (from / step).ceil();
    while round * step < to {
        let at = round * step;
        if named.iter().all(|mark| (mark - at).abs() >= SAME) {
            all.push(at);
        }
        round += 1.0;
    }
    all.sort_by(f64::total_cmp);
    all
}
