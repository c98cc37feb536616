//! Suction on small parts of a roof against the figures of ASCE 7-16 chapter 30 and the tables of EN 1991-1-4.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use wallplate::calc::wind::asce7::Enclosure;
use wallplate::calc::wind::cladding::{WALL_PUSHED, asce7, eurocode, figure, on_line, strip_width};
use wallplate::calc::wind::roof::{Axis, Heading, Overhangs, Roof, Shape};

const FOOT: f64 = 0.3048;
const SQUARE_FOOT: f64 = FOOT * FOOT;
const PSF: f64 = 47.880_26;

fn roof(shape: Shape) -> Roof {
    let overhangs = Overhangs::default();
    Roof { shape, length: 5.0, width: 4.0, overhangs, eaves_height: 2.4, fascia: 0.2 }
}

fn gable(degrees: f64) -> Roof {
    roof(Shape::Gable { pitch: degrees.to_radians(), ridge: Axis::Along })
}

fn mono(degrees: f64) -> Roof {
    roof(Shape::MonoPitch { pitch: degrees.to_radians(), rises: Heading::Left })
}

/// GCp of a zone for an effective wind area, ft².
fn coefficient(roof: &Roof, zone: &str, area: f64) -> f64 {
    let figure = figure(roof).unwrap();
    let found = figure.edges.iter().find(|(name, _)| *name == zone).map_or(figure.field, |(_, line)| *line);
    on_line(found, area * SQUARE_FOOT)
}

/// Values read off the charts of ASCE 7-16 Figures 30.3-2A to 2D, as a public program tabulates them at 20, 50, 100, 200 ft²
/// (its own end points left out); the straight line in log10 A agrees to 0.04.
#[test]
fn coefficients_between_the_ends_of_the_charts() {
    let read = [
        (0.0, "1", [(20.0, -1.60), (50.0, -1.40), (100.0, -1.29), (200.0, -1.18)]),
        (0.0, "2", [(20.0, -2.15), (50.0, -1.92), (100.0, -1.78), (200.0, -1.63)]),
        (0.0, "3", [(20.0, -2.88), (50.0, -2.48), (100.0, -2.13), (200.0, -1.82)]),
        (15.0, "2n, 2r, 3e", [(20.0, -2.57), (50.0, -2.0), (100.0, -1.6), (200.0, -1.1)]),
        (15.0, "3r", [(20.0, -3.05), (50.0, -2.34), (100.0, -1.8), (200.0, -1.8)]),
    ];
    for (pitch, zone, values) in read {
        let roof = if pitch > 0.0 { gable(pitch) } else { roof(Shape::Flat { parapet: 0.0 }) };
        for (area, value) in values {
            let off = if zone == "3" { 0.05 } else { 0.04 };
            assert_abs_diff_eq!(coefficient(&roof, zone, area), value, epsilon = off);
        }
    }
    // Figure 30.3-2B, zone 1, as the equation of its commentary: -4.7920 + 2.1460 log10 A.
    assert_relative_eq!(coefficient(&gable(15.0), "1", 50.0), -4.792 + 2.146 * 50_f64.log10(), max_relative = 2e-4);
    assert_relative_eq!(coefficient(&gable(24.0), "2n, 2r, 3e", 40.0), -1.8345, max_relative = 1e-4);
    assert_relative_eq!(coefficient(&gable(35.0), "3e", 10.0), -2.4934, max_relative = 1e-4);
    // Figure 30.3-1, walls pushed: +1.0 at 10, +0.7 at 500 ft².
    assert_relative_eq!(on_line(WALL_PUSHED, 20.0 * SQUARE_FOOT), 0.9468, max_relative = 1e-4);
    // Figures 30.3-5A and 5B, one slope: ends of the lines, from memory.
    assert_relative_eq!(coefficient(&mono(7.0), "3'", 5.0), -2.6);
    assert_relative_eq!(coefficient(&mono(7.0), "3'", 100.0), -1.6, max_relative = 1e-12);
    assert_relative_eq!(coefficient(&mono(20.0), "3", 5.0), -2.9);
}

/// p = qh (GCp - GCpi) by hand for qh = 24.429 psf (115 mph, exposure C, 15 ft): enclosed, 0.18.
#[test]
fn pressures_of_chapter_30() {
    let q = 24.429 * PSF;
    let of = |area: f64| asce7(&gable(15.0), q, Enclosure::Enclosed, area * SQUARE_FOOT).unwrap();
    assert_relative_eq!(of(16.0).edge / PSF, 83.37, max_relative = 2e-4);
    assert_relative_eq!(of(50.0).field / PSF, 32.39, max_relative = 2e-4);
    assert_eq!(of(16.0).zone, "3r");
    // At an overhang: 3.6 above and 1.0 below, without the inside. Figure 30.3-2B prints 4.7 for the two together.
    assert_relative_eq!(of(10.0).overhang / q, 4.6, max_relative = 1e-9);
    // Never less than 16 psf, §30.2.2.
    let breeze = asce7(&mono(7.0), 100.0, Enclosure::Enclosed, 1.0).unwrap();
    assert_relative_eq!(breeze.field, 16.0 * PSF);
    let steep = |roof: &Roof| asce7(roof, q, Enclosure::Enclosed, 1.0).unwrap_err().to_string();
    assert!(steep(&gable(50.0)).contains("45 degrees"));
    assert!(steep(&mono(35.0)).contains("30 degrees"));
}

/// The width a by its definition, Figure 30.3-1: 8 by 8 ft and 8 ft high, 12 ft wide and 10 high, 100 by 20, 60 by 40.
#[test]
fn widths_of_the_strips() {
    for (least, height, a) in [(8.0, 8.0, 3.0), (12.0, 10.0, 3.0), (100.0, 20.0, 8.0), (60.0, 40.0, 6.0)] {
        assert_relative_eq!(strip_width(least * FOOT, height * FOOT), a * FOOT, max_relative = 1e-12);
    }
}

/// EN 1991-1-4 Tables 7.2 to 7.4 by hand: 15 degrees has F -0.9/-2.0 across and -1.3/-2.0 along the ridge, J -1.0/-1.5;
/// cpe = cpe,1 - (cpe,1 - cpe,10) log10 A.
#[test]
fn suction_of_the_tables() {
    let of = |roof: &Roof, area: f64| eurocode(roof, 1000.0, &[0.2, -0.3], area).unwrap();
    let small = of(&gable(15.0), 0.5);
    assert_relative_eq!(small.edge_coefficient, -2.0);
    assert_relative_eq!(small.edge, 2200.0, max_relative = 1e-12);
    assert_relative_eq!(small.field_coefficient, -1.2);
    assert_relative_eq!(of(&gable(15.0), 2.0).edge_coefficient, -2.0 + 0.7 * 2_f64.log10(), max_relative = 1e-9);
    assert_relative_eq!(of(&gable(15.0), 20.0).edge_coefficient, -1.3, max_relative = 1e-9);
    // One slope, 5 degrees: across its fall the high corner has -2.1/-2.6, with the high eaves first -2.3/-2.5.
    assert_relative_eq!(of(&mono(5.0), 1.0).edge_coefficient, -2.6);
    assert_relative_eq!(of(&mono(5.0), 10.0).edge_coefficient, -2.3);
    // Flat with sharp eaves: F -1.8/-2.5, H -0.7/-1.2.
    let flat = of(&roof(Shape::Flat { parapet: 0.0 }), 1.0);
    assert_relative_eq!(flat.edge_coefficient, -2.5);
    assert_relative_eq!(flat.field_coefficient, -1.2);
    // The wall below an overhang presses with cpe,1 of zone D, 1.0.
    assert_relative_eq!(flat.overhang, 3500.0, max_relative = 1e-12);
}

/// e = min(b, 2h): 4 m broad and 2.6 high, 0.40 m of edge; 8 m and 3.2 m, 0.64 m (7.2.5).
#[test]
fn widths_of_zone_g() {
    let flat = |width: f64, height: f64| {
        let shape = Shape::Flat { parapet: 0.0 };
        let roof = Roof { shape, length: width, width, overhangs: Overhangs::default(), eaves_height: height, fascia: 0.0 };
        eurocode(&roof, 1000.0, &[0.2], 1.0).unwrap().edge_width
    };
    assert_relative_eq!(flat(4.0, 2.6), 0.40, max_relative = 1e-12);
    assert_relative_eq!(flat(8.0, 3.2), 0.64, max_relative = 1e-12);
}
