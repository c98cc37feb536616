//! Foam rods against definitions and the usual rule of sizes (common practice, no source).

use approx::assert_relative_eq;
use wallplate::calc::seal::{Foam, backer_rod_diameter, compression, oversize, sealant_depth};

const INCH: f64 = 0.0254;

#[test]
fn oversize_is_not_compression() {
    // 20 mm gap, 25 mm rod: 25 % oversize is 20 % compression; 12 and 16 mm: 33.3 % and 25 % (definitions).
    assert_relative_eq!(oversize(0.025, 0.020).unwrap(), 0.25, max_relative = 1e-12);
    assert_relative_eq!(compression(0.025, 0.020).unwrap(), 0.20, max_relative = 1e-12);
    assert_relative_eq!(oversize(0.016, 0.012).unwrap(), 1.0 / 3.0, max_relative = 1e-12);
    assert_relative_eq!(compression(0.016, 0.012).unwrap(), 0.25, max_relative = 1e-12);
    // A brush of 20 mm in a gap of 25 mm does not reach.
    assert!(compression(0.020, 0.025).unwrap() < 0.0);
    assert!(compression(0.0, 0.025).is_err());
}

#[test]
fn rods_of_the_sizing_rule() {
    // Closed cells in 1/2 in: 5/8 in; in 1 in: 25 to 30 % more; open cells 25 % more.
    let (least, most) = backer_rod_diameter(Foam::Closed, 0.5 * INCH).unwrap();
    assert_relative_eq!(least, 0.625 * INCH, max_relative = 1e-12);
    assert_relative_eq!(most, 0.625 * INCH, max_relative = 1e-12);
    let (least, most) = backer_rod_diameter(Foam::Closed, INCH).unwrap();
    assert_relative_eq!(least, 1.25 * INCH, max_relative = 1e-12);
    assert_relative_eq!(most, 1.30 * INCH, max_relative = 1e-12);
    assert_relative_eq!(backer_rod_diameter(Foam::Open, 0.5 * INCH).unwrap().0, 0.625 * INCH, max_relative = 1e-12);
    // From 3/4 in on the share counts.
    assert_relative_eq!(backer_rod_diameter(Foam::Closed, 0.75 * INCH).unwrap().0, 0.9375 * INCH, max_relative = 1e-9);
    assert_relative_eq!(sealant_depth(0.012).unwrap(), 0.006, max_relative = 1e-12);
}
