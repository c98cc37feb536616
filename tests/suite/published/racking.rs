//! Walls pushed along themselves: values of SDPWS Table 4.3A from public reprints, and EN 1995-1-1 §9.2.4.2 by hand.

use approx::assert_relative_eq;
use wallplate::calc::racking::{Nail, Panel, en_method_a, perforated_factor, sdpws_nominal, sdpws_wall};

const FOOT: f64 = 0.3048;
const INCH: f64 = 0.0254;
const POUND: f64 = 4.448_221_615_260_5;
const PLF: f64 = POUND / FOOT;

/// AWC SDPWS-2015 Table 4.3A, wind column, as the public `ShearWallCalculator` reprints it.
#[test]
fn nominal_unit_shears_of_the_table() {
    let rows = [
        (Panel::Structural15, Nail::Eight, [785.0, 1205.0, 1540.0, 2045.0]),
        (Panel::Structural15, Nail::Ten, [950.0, 1430.0, 1860.0, 2435.0]),
        (Panel::Plain12, Nail::Eight, [615.0, 895.0, 1150.0, 1485.0]),
        (Panel::Plain14, Nail::Eight, [670.0, 980.0, 1260.0, 1640.0]),
        (Panel::Plain15, Nail::Eight, [730.0, 1065.0, 1370.0, 1790.0]),
        (Panel::Plain15, Nail::Ten, [870.0, 1290.0, 1680.0, 2155.0]),
    ];
    for (panel, nail, values) in rows {
        for (spacing, value) in [6.0, 4.0, 3.0, 2.0].into_iter().zip(values) {
            assert_relative_eq!(sdpws_nominal(panel, nail, spacing * INCH, 0.5).unwrap() / PLF, value, max_relative = 1e-9);
        }
    }
    // Nails 5 in apart count as 6; note 3 for spruce-pine-fir: 1 - (0.5 - 0.42).
    assert_relative_eq!(sdpws_nominal(Panel::Plain14, Nail::Eight, 5.0 * INCH, 0.42).unwrap() / PLF, 670.0 * 0.92, max_relative = 1e-9);
    assert!(sdpws_nominal(Panel::Plain14, Nail::Eight, 8.0 * INCH, 0.5).is_err());
    assert!(sdpws_nominal(Panel::Plain12, Nail::Ten, 6.0 * INCH, 0.5).is_err());
}

/// By hand on the table: 7/16, 8d at 6 in, wind, 8 by 4 ft: 335 plf, 1340 lb. A 10 by 4 ft piece: h/b 2.5, 0.9375 (printed in a
/// design example on §4.3.5.5.1) and 2 b/h = 0.8. Perforated, h 8, L 12, full 8, openings 12 ft2: r 0.84211, Co 0.960 (eq. 4.3-5).
#[test]
fn walls_by_allowable_stress() {
    let nominal = 670.0 * PLF;
    assert_relative_eq!(sdpws_wall(nominal, 8.0 * FOOT, 4.0 * FOOT, &[4.0 * FOOT], 0.0).unwrap() / POUND, 1340.0, max_relative = 1e-9);
    let narrow = sdpws_wall(nominal, 10.0 * FOOT, 4.0 * FOOT, &[4.0 * FOOT], 0.0).unwrap() / POUND;
    assert_relative_eq!(narrow, 335.0 * 4.0 * 0.8, max_relative = 1e-9);
    assert_relative_eq!(perforated_factor(8.0, 12.0, 8.0, 12.0), 0.960, max_relative = 1e-3);
    // A piece more slender than 3.5 does not count.
    assert_relative_eq!(sdpws_wall(nominal, 8.0 * FOOT, 2.0 * FOOT, &[2.0 * FOOT], 0.0).unwrap(), 0.0);
}

/// EN 1995-1-1:2004 eq. 9.20 to 9.22 by hand: 500 N, 2.4 m, 100 mm: 6.00 kN for 1.2 m, 3.375 kN for 0.9 m (c 0.75); 397 N,
/// 1.25 m, 2.5 m, 75 mm: 6.6167 kN. A sheet narrower than a quarter of the height does not count.
#[test]
fn sheets_by_method_a() {
    for (fastener, spacing, height, width, expected) in
        [(500.0, 0.1, 2.4, 1.2, 6000.0), (500.0, 0.1, 2.4, 0.9, 3375.0), (397.0, 0.075, 2.5, 1.25, 6616.7), (500.0, 0.1, 2.4, 0.59, 0.0)]
    {
        let found = en_method_a(fastener, spacing, height, &[width]).unwrap();
        assert_relative_eq!(found, expected, max_relative = 1e-4, epsilon = 1e-9);
    }
}
