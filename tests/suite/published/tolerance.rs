//! Tolerance stacks against published examples.

use approx::assert_relative_eq;
use wallplate::calc::tolerance::{Part, stack};

fn half_widths(tolerances: &[f64]) -> (f64, f64) {
    let parts: Vec<Part> = tolerances.iter().map(|t| Part::even(0.0, *t, 1.0)).collect();
    let s = stack(&parts).unwrap();
    ((s.worst.1 - s.worst.0) / 2.0, (s.likely.1 - s.likely.0) / 2.0)
}

/// Published pages on worst-case and root-sum-square stacks; the last two recomputed.
#[test]
fn published_stacks() {
    for (tolerances, worst, likely) in [
        (vec![0.005, 0.003, 0.002, 0.005], 0.015, 0.00794),
        (vec![0.1; 10], 1.0, 0.316),
        (vec![0.20, 0.10, 0.15], 0.45, 0.269),
        (vec![1.5, 1.0, 2.0, 0.5], 5.0, 2.739),
        (vec![2.0, 1.0, 0.8, 0.5, 0.3], 4.6, 2.4454),
    ] {
        let (a, b) = half_widths(&tolerances);
        assert_relative_eq!(a, worst, max_relative = 1e-9);
        assert_relative_eq!(b, likely, max_relative = 1e-3); // printed with three digits
    }
}

/// A published gap: 40.00 ± 0.10 less 25.00 ± 0.05, 2.00 ± 0.03 and 10.00 ± 0.05: 3.00, ± 0.23 worst case; ± 0.1261 by root
/// sum of squares (recomputed).
#[test]
fn published_gap() {
    let parts = [Part::even(40.0, 0.10, 1.0), Part::even(25.0, 0.05, -1.0), Part::even(2.0, 0.03, -1.0), Part::even(10.0, 0.05, -1.0)];
    let s = stack(&parts).unwrap();
    assert_relative_eq!(s.nominal, 3.0, max_relative = 1e-12);
    assert_relative_eq!(s.worst.0, 2.77, max_relative = 1e-12);
    assert_relative_eq!(s.worst.1, 3.23, max_relative = 1e-12);
    assert_relative_eq!((s.likely.1 - s.likely.0) / 2.0, 0.1261, max_relative = 1e-4);
    assert_relative_eq!(s.shares[0], 0.10 / 0.23, max_relative = 1e-9);
    assert_relative_eq!(s.shares.iter().sum::<f64>(), 1.0, max_relative = 1e-12);
}

/// By hand: one-sided tolerances move the middle; a part that counts twice counts twice, one that is taken away
/// swaps its sides.
#[test]
fn one_sided_and_weighted() {
    let s =
        stack(&[Part { nominal: 10.0, minus: 0.0, plus: 0.4, counts: 1.0 }, Part { nominal: 3.0, minus: 0.1, plus: 0.0, counts: -2.0 }])
            .unwrap();
    assert_relative_eq!(s.nominal, 4.0, max_relative = 1e-12);
    assert_relative_eq!(s.worst.0, 4.0, max_relative = 1e-12);
    assert_relative_eq!(s.worst.1, 4.6, max_relative = 1e-12);
    let half = (0.2_f64.powi(2) + 0.1_f64.powi(2)).sqrt();
    assert_relative_eq!(s.likely.0, 4.3 - half, max_relative = 1e-12);
    assert_relative_eq!(s.likely.1, 4.3 + half, max_relative = 1e-12);
    assert!(stack(&[Part::even(1.0, -0.1, 1.0)]).is_err());
}
