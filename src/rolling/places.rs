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
pub(super) fn places(from: f64, to: f64, marks: impl IntoIterator<Item = f64>, system: System) -> Vec<f64> {
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn round_places_and_named_ones_each_once() {
        let all = places(-0.04, 4.325, [0.05, 4.2, 4.251_32, 9.0], System::Metric);
        assert_eq!(all.first(), Some(&-0.04));
        assert_eq!(all.last(), Some(&4.325));
        assert!(all.contains(&4.251_32) && all.contains(&4.2) && !all.contains(&9.0));
        assert!(all.windows(2).all(|pair| pair[1] - pair[0] >= SAME), "{all:?}");
        assert!(all.iter().any(|at| (at - 2.15).abs() < 1e-12), "{all:?}");
        assert!(all.len() <= 110, "{}", all.len());
    }

    #[test]
    fn a_us_design_is_read_off_a_us_tape() {
        let all = places(0.0, 12.0 * 0.3048, [], System::Us);
        assert!(all.iter().any(|at| (at - 10.0 * INCH).abs() < 1e-12), "{all:?}");
        assert!(all.len() <= 110);
    }
}
