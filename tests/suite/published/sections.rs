//! Sections of the catalogue against printed tables and the formulas of their standards.

use approx::assert_relative_eq;
use std::f64::consts::PI;
use wallplate::calc::inch_pound::INCH;
use wallplate::calc::timber::nds_size::{Table, flat_use_factor, size_factors, volume_factor};
use wallplate::calc::timber::section::Rectangle;
use wallplate::design::Choice;
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;
use wallplate::values::Value;

/// Area (cm²) and second moment (cm⁴) of a hollow section of depth `h`, breadth `b`, wall `t`, mm, with outer and inner corner
/// radii in walls: EN 10210-2:2006 Annex B, 1.5 and 1.0; EN 10219-2:2006 Annex B, 2.0 and 1.0 up to 6 mm.
fn tube(h: f64, b: f64, t: f64, outer: f64) -> (f64, f64) {
    let (ro, ri) = (outer * t, t);
    let area = 2.0 * t * (b + h - 2.0 * t) - (4.0 - PI) * (ro * ro - ri * ri);
    let corner = |r: f64| ((1.0 - PI / 4.0) * r * r, (1.0 / 3.0 - PI / 16.0 - 1.0 / (3.0 * (12.0 - 3.0 * PI))) * r.powi(4));
    let lever = |half: f64, r: f64| half - (10.0 - 3.0 * PI) / (12.0 - 3.0 * PI) * r;
    let ((ao, io), (ai, ii)) = (corner(ro), corner(ri));
    let (lo, li) = (lever(h / 2.0, ro), lever(h / 2.0 - t, ri));
    let inner = (b - 2.0 * t) * (h - 2.0 * t).powi(3) / 12.0;
    let inertia = b * h.powi(3) / 12.0 - inner - 4.0 * (io + ao * lo * lo) + 4.0 * (ii + ai * li * li);
    (area / 100.0, inertia / 1e4)
}

/// The formula gives what EN 10210-2:2006 prints of hot-finished squares; EN 10219-2:2006 of 60 by 3, 80 by 4 and 100 by 5 mm
/// (6.61, 11.7, 18.4 cm² and 35.1, 111, 271 cm⁴, from memory).
#[test]
fn tubes_by_the_formula_of_their_standard() {
    for (size, t, area, inertia) in
        [(100.0, 5.0, 18.7, 279.0), (100.0, 4.0, 15.2, 232.0), (80.0, 4.0, 12.0, 114.0), (50.0, 3.0, 5.54, 20.2)]
    {
        let (a, i) = tube(size, size, t, 1.5);
        assert_relative_eq!(a, area, max_relative = 3e-3);
        assert_relative_eq!(i, inertia, max_relative = 5e-3);
    }
    for (size, t, area, inertia) in [(60.0, 3.0, 6.61, 35.1), (80.0, 4.0, 11.7, 111.0), (100.0, 5.0, 18.4, 271.0)] {
        let (a, i) = tube(size, size, t, 2.0);
        assert_relative_eq!(a, area, max_relative = 5e-3);
        assert_relative_eq!(i, inertia, max_relative = 5e-3);
    }
}

fn number(session: &mut Session, expression: &str) -> f64 {
    let (_, outcome) = session.value(expression).unwrap();
    outcome.as_ref().ok().and_then(Value::si).unwrap_or_else(|| panic!("{expression}: {outcome:?}"))
}

#[test]
fn cold_formed_tubes_of_the_catalogue() {
    let mut session = Session::read(vec![Source::new("a.plate", "use steel\n")], &NoShelf, &Choice::default());
    let squares = [(60, 3), (60, 5), (70, 3), (70, 4), (70, 5), (80, 3), (80, 5), (80, 6), (90, 4), (90, 5), (100, 6)];
    let oblongs = [(60, 40, 3), (80, 40, 4), (80, 60, 5), (100, 50, 3), (100, 60, 6)];
    let names = squares.map(|(h, t)| (format!("shs_{h}_{t}"), h, h, t));
    for (name, h, b, t) in names.into_iter().chain(oblongs.map(|(h, b, t)| (format!("rhs_{h}_{b}_{t}"), h, b, t))) {
        let (h, b, t) = (f64::from(h), f64::from(b), f64::from(t));
        let ((area, inertia), (_, weak)) = (tube(h, b, t, 2.0), tube(b, h, t, 2.0));
        let mut is =
            |line: &str, wanted: f64| assert_relative_eq!(number(&mut session, &format!("{name}.{line}")), wanted, max_relative = 6e-3);
        is("area", area * 1e-4);
        is("inertia", inertia * 1e-8);
        is("modulus", 2.0 * inertia / h * 1e-5);
        is("weak_modulus", 2.0 * weak / b * 1e-5);
        is("weak_radius", (weak / area).sqrt() * 1e-2);
    }
}

/// AISC Shapes Database v15.0 as a public library holds it: A, S, I, r of the weak axis, in inches; I = r² A, S = 2 I / d.
#[test]
fn american_tubes_of_the_catalogue() {
    let mut session = Session::read(vec![Source::new("a.plate", "use steel\n")], &NoShelf, &Choice::default());
    for (name, depth, area, modulus, inertia) in [
        ("hss_3x3x1_8", 3.0, 1.30, 1.19, 1.78),
        ("hss_3x3x3_16", 3.0, 1.89, 1.64, 2.46),
        ("hss_3x3x1_4", 3.0, 2.44, 2.01, 3.02),
        ("hss_3x2x3_16", 3.0, 1.54, 1.18, 1.77),
        ("hss_4x2x3_16", 4.0, 1.89, 1.83, 3.66),
        ("hss_4x3x1_4", 4.0, 2.91, 3.07, 6.15),
    ] {
        let mut is =
            |line: &str, wanted: f64| assert_relative_eq!(number(&mut session, &format!("{name}.{line}")), wanted, max_relative = 1e-9);
        is("area", area * INCH.powi(2));
        is("modulus", modulus * INCH.powi(3));
        is("inertia", inertia * INCH.powi(4));
        assert_relative_eq!(modulus, 2.0 * inertia / depth, max_relative = 6e-3);
    }
}

/// `i = d / sqrt(12)`, so that `I = A i^2`: 28.87 mm of 100 mm, by hand.
#[test]
fn the_radius_of_gyration_is_that_of_its_inertia() {
    let section = Rectangle::new(0.04, 0.1).unwrap();
    assert_relative_eq!(section.radius(), 0.028_867_5, max_relative = 1e-6);
    assert_relative_eq!(section.area() * section.radius().powi(2), section.inertia(), max_relative = 1e-12);
}

/// CV of NDS 2018 eq. 5.3-1 by hand: 5.125 by 12 in has 1.0 for 21 ft and (21/30)^0.1 = 0.965 for the 30 ft taken here; 18 in deep
/// (21/30 x 12/18)^0.1 = 0.927.
#[test]
fn laminated_timber_by_its_volume() {
    let of = |breadth: f64, depth: f64| Rectangle::new(breadth * INCH, depth * INCH).unwrap();
    assert_relative_eq!(volume_factor(of(5.125, 12.0)), 0.965, max_relative = 1e-3);
    assert_relative_eq!(volume_factor(of(5.125, 18.0)), 0.927, max_relative = 1e-3);
    assert_relative_eq!(volume_factor(of(3.125, 6.0)), 1.0);
    assert_relative_eq!(size_factors(Table::T5A, of(5.125, 18.0)).bending, 0.927, max_relative = 1e-3);
    assert_relative_eq!(flat_use_factor(Table::T5A, of(9.0, 3.125)), 0.4);
    let text = "use timber\nuse soil\nobservatory o \"O\" { rolls_open north; design_code asce7 }\n\
                rafter r { grade glulam_24f_v8; stock glulam_3_1_8x9; span 10 ft; spacing 4 ft }\n";
    let mut session = Session::read(vec![Source::new("a.plate", text)], &NoShelf, &Choice::default());
    assert_relative_eq!(number(&mut session, "glulam_24f_v8.bending"), 2400.0 * 6894.757, max_relative = 1e-6);
}
