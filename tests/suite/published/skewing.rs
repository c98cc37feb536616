//! Forces of a crane that runs askew, EN 1991-3 2.7.4.

use approx::assert_relative_eq;
use wallplate::calc::skewing::{angle, factor, push, share};

/// f at 0.001, 0.005, 0.015 and at the 0.0015 of a public program's example (0.093813), by the formula of 2.7.4(2).
#[test]
fn how_much_rubs_across() {
    for (angle, f) in [(0.001, 0.066_360), (0.0015, 0.093_813), (0.005, 0.214_049), (0.015, 0.292_945)] {
        assert_relative_eq!(factor(angle), f, max_relative = 1e-5);
    }
    assert!(factor(1.0) <= 0.3);
}

/// Two pairs of wheels 4 m apart, the guide at the first: h = 4 m and lambda 0.5; a load of 181.12 kN at 0.0015 then gives
/// 8.4957 kN (inputs of a public example: bridge 89.28, crab 11.84, hoist 80 kN; formula of EN 1991-3:2006 2.7.4).
#[test]
fn two_pairs_of_wheels() {
    assert_relative_eq!(share(&[0.0, 4.0]).unwrap(), 0.5);
    assert_relative_eq!(factor(0.0015) * 0.5 * 181.12, 8.4957, max_relative = 1e-4);
    // Three pairs, by hand: sum 6, squares 20, h = 10/3: 1 - 6 / 10.
    assert_relative_eq!(share(&[0.0, 2.0, 4.0]).unwrap(), 0.4, max_relative = 1e-12);
    // Table 2.7 from memory: 0.75 x 10 mm and 4 mm of wear over 4 m, and 0.001.
    let alpha = angle(0.010, 0.004, 4.0).unwrap();
    assert_relative_eq!(alpha, 0.003_875, max_relative = 1e-12);
    assert_relative_eq!(push(0.010, 0.004, &[1.0, 3.0, 5.0], 10e3).unwrap(), factor(alpha) * 0.4 * 10e3, max_relative = 1e-12);
    assert!(push(0.01, 0.0, &[1.0], 1.0).is_err());
    assert!(share(&[0.0]).is_err());
}
