//! Steel members, welds and bolts against printed examples of AISC 360 and EN 1993.

use proptest::prelude::*;
use wallplate::calc::column::steel::Curve;
use wallplate::calc::inch_pound::{INCH, POUND, PSI};
use wallplate::calc::steel::{bolt, member, tipping, tube, walls, weld};

const KSI: f64 = 1000.0 * PSI;
const KIP: f64 = 1000.0 * POUND;

fn close(value: f64, expected: f64, tolerance: f64) {
    assert!((value - expected).abs() <= tolerance, "{value} is not {expected} ± {tolerance}");
}

/// AISC, *Design Examples* V14, J.1: a 3/16 in fillet of E70, along its length: 5.57 kip/in nominal.
#[test]
fn aisc_example_j_1_fillet_weld() {
    let inch = weld::aisc_fillet(3.0 / 16.0 * INCH, INCH, 70.0 * KSI, 0.0).unwrap();
    close(inch * weld::OMEGA_WELD / KIP, 5.57, 0.5e-2);
}

/// AISC 360-16 eq. J2-5 (a weld across the load is half as strong again), §J2.2b (short and long welds), Table J2.4.
#[test]
fn clauses_of_fillet_welds() {
    let along = weld::aisc_fillet(0.006, 0.1, 70.0 * KSI, 0.0).unwrap();
    let across = weld::aisc_fillet(0.006, 0.1, 70.0 * KSI, std::f64::consts::FRAC_PI_2).unwrap();
    close(across / along, 1.5, 1e-12);
    assert!(weld::aisc_fillet(0.006, 0.023, 70.0 * KSI, 0.0).is_err());
    let long = weld::aisc_fillet(0.006, 1.2, 70.0 * KSI, 0.0).unwrap();
    close(long / (along * 12.0), 1.2 - 0.002 * 200.0, 1e-12);
    let longest = weld::aisc_fillet(0.006, 3.0, 70.0 * KSI, 0.0).unwrap();
    close(longest / along, 180.0 * 0.006 / 0.1, 1e-9);
    for (thinner, leg) in [(0.25, 2.0), (0.375, 3.0), (0.5, 3.0), (0.75, 4.0), (1.0, 5.0)] {
        close(weld::aisc_smallest_leg(thinner * INCH) / INCH * 16.0, leg, 1e-9);
    }
    // §J4.2 for A36, ¼ in, 1 in: 0.6·36/1.5 = 14.4 against 0.6·58/2 = 17.4 ksi.
    close(weld::aisc_base_metal(0.25 * INCH, INCH, 36.0 * KSI, 58.0 * KSI) / KIP, 3.6, 1e-9);
}

/// EN 1993-1-8 §4.5.3.3: S235 (fu 360): fvw,d = 207.8; S275 (430): 233.7 (fu 430) ; S355 (510): 261.7 N/mm², from memory of
/// the usual tables (fu/(√3·βw·1.25)).
#[test]
fn eurocode_fillet_welds() {
    for (fy, fu, fvwd) in [(235.0, 360.0, 207.8), (275.0, 430.0, 233.7), (355.0, 510.0, 261.7)] {
        let beta = weld::en_correlation_factor(fy * 1e6);
        close(weld::en_fillet(0.004, 0.1, fu * 1e6, beta).unwrap() / (0.004 * 0.1) / 1e6, fvwd, 0.06);
    }
    assert!(weld::en_fillet(0.002, 0.1, 360e6, 0.8).is_err());
    assert!(weld::en_fillet(0.004, 0.02, 360e6, 0.8).is_err());
}

/// AISC *Manual* Table 7-1 and 7-2 (from memory): ¾ in A325-N, ASD: 11.9 kip shear, 19.9 kip tension.
#[test]
fn aisc_bolts() {
    let a325 = bolt::NominalStress { tension: 90.0 * KSI, shear: 54.0 * KSI };
    let d = 0.75 * INCH;
    close(bolt::aisc_shear(d, a325) / KIP, 11.9, 0.06);
    close(bolt::aisc_tension(d, a325) / KIP, 19.9, 0.06);
    // Table J3.2: a threaded part of A36 (Fu 58 ksi).
    let rod = bolt::threaded_part(58.0 * KSI, true);
    close(rod.tension / KSI, 43.5, 1e-9);
    close(rod.shear / KSI, 26.1, 1e-9);
}

/// A course example of AISC (A325 in double shear, Fnv 48 ksi of the edition of 1999): 31.8 kip at φ 0.75.
#[test]
fn aisc_bolt_in_double_shear() {
    let old = bolt::NominalStress { tension: 90.0 * KSI, shear: 48.0 * KSI };
    close(2.0 * bolt::aisc_shear(0.75 * INCH, old) * bolt::OMEGA_BOLT * 0.75 / KIP, 31.8, 0.05);
}

/// EN 1993-1-8:2005 Table 3.4, by hand (M20 8.8): double shear 2·0.6·800·245/1.25 = 188.16 kN.
#[test]
fn eurocode_bolt_example() {
    let class = bolt::PropertyClass::C8_8;
    close(2.0 * bolt::en_shear(class, 245.0e-6) / 1e3, 188.16, 1e-6);
}

/// EN 1993-1-8:2005 Table 3.4, by hand: M20 10.9, 0.9·1000·245/1.25 N; stress area of M20 (pitch 2.5 mm) π/4·(20 − 0.9382·2.5)².
#[test]
fn eurocode_bolt_tension() {
    close(bolt::en_tension(bolt::PropertyClass::C10_9, 245.0e-6), 0.9 * 1000.0 * 245.0 / 1.25, 1e-6);
    close(bolt::stress_area(0.020, 0.0025) * 1e6, 244.794, 0.5e-2);
    // ISO 898-1 Table: M8 36.6, M10 58.0, M12 84.3, M16 157 mm².
    for (d, p, area) in [(8.0, 1.25, 36.6), (10.0, 1.5, 58.0), (12.0, 1.75, 84.3), (16.0, 2.0, 157.0)] {
        close(bolt::stress_area(d / 1e3, p / 1e3) * 1e6, area, 0.004 * area);
    }
}

/// The angle of AISC, *Design Examples*, F.11A: L4×4×¼ A36, 6 ft, Cb 1.14, toe compressed, worked by hand with the constants of
/// the 2016 specification (those of 2010 gave 110 kip-in there): Mcr = 0.58·29000·4⁴·0.25·1.14/72²·(√(1 + 0.88·1.2656) − 1) =
/// 107 kip-in, My = 0.80·36·1.03 = 29.7 kip-in, Mn = (1.92 − 1.17·√(29.7/107.4))·29.7 = 38.8 kip-in.
#[test]
fn aisc_angle() {
    let yields = 0.8 * 36.0 * KSI * 1.03 * INCH.powi(3);
    close(yields / (KIP * INCH), 29.7, 0.05);
    // Nothing beyond first yield is used here.
}

/// AISC *Manual* Table 3-2 style check of F2 for an I: W18×50, Fy 50 (properties from the Manual, from memory: Sx 88.9,
/// Iy 40.1, J 1.24, Cw 3040, ho 17.4, ry 1.65 in): Lp 5.83 ft, Lr 16.9 ft; the formulas are continuous at both.
#[test]
fn aisc_open_section() {
    let w18 = tipping::OpenSection {
        modulus: 88.9 * INCH.powi(3),
        weak_inertia: 40.1 * INCH.powi(4),
        torsion: 1.24 * INCH.powi(4),
        warping: 3040.0 * INCH.powi(6),
        between_flanges: 17.4 * INCH,
        weak_radius: 1.65 * INCH,
        channel: false,
    };
    let moment = |feet: f64| {
        tipping::aisc_open_section_moment(&w18, 50.0 * KSI, 29_000.0 * KSI, feet * 12.0 * INCH, 1.0).unwrap() * member::OMEGA_BENDING
            / (50.0 * KSI * w18.modulus)
    };
    close(moment(5.8), 1.0, 1e-12);
    // At Lr the moment is 0.7·Fy·Sx from either side.
    close(moment(16.85), 0.7, 5e-3);
    close(moment(17.0), 0.7, 8e-3);
    assert!(moment(24.0) < 0.5 && moment(30.0) < moment(24.0));
    // A gradient of moments helps, up to first yield.
    let gradient = tipping::aisc_open_section_moment(&w18, 50.0 * KSI, 29_000.0 * KSI, 10.0 * 12.0 * INCH, 2.3).unwrap();
    close(gradient * member::OMEGA_BENDING / (50.0 * KSI * w18.modulus), 1.0, 1e-12);
}

/// Elastic theory: without warping Mcr = π/L·√(EIz·GIt). EN 1993-1-1 §6.3.2.2: a stocky beam keeps its moment.
#[test]
fn eurocode_open_section() {
    let bar = tipping::OpenSection {
        modulus: 1.0e-5,
        weak_inertia: 2.0e-7,
        torsion: 1.0e-7,
        warping: 0.0,
        between_flanges: 0.1,
        weak_radius: 0.01,
        channel: false,
    };
    let critical = tipping::critical_moment(&bar, 210e9, 81e9, 3.0, 1.0).unwrap();
    close(critical, std::f64::consts::PI / 3.0 * (210e9 * 2.0e-7 * 81e9 * 1.0e-7_f64).sqrt(), 1e-6);
    close(tipping::en_moment(1.0e-4, 235e6, 1.0e9, Curve::D).unwrap(), 23_500.0, 1e-6);
    assert!(tipping::en_moment(1.0e-4, 235e6, 2.35e4, Curve::D).unwrap() < 0.5 * 23_500.0);
}

/// SCI, *Steel Building Design: Worked Examples for Students*, Example 9: CHS 219.1 × 10 S355 (65.7 cm²): 2332 kN.
/// AISC, *Design Examples*, G.5: round tube, Vn = 0.6·Fy·A/2 with A 17.2 in², Fy 42: 217 kip.
#[test]
fn members_at_first_yield() {
    close(member::en_tension(355e6, 470e6, 65.7e-4, 65.7e-4) / 1e3, 0.9 * 65.7e-4 * 470e6 / 1.25 / 1e3, 1e-9);
    close(member::en_tension(355e6, 510e6, 65.7e-4, 1.0) / 1e3, 2332.0, 0.5);
    close(member::aisc_shear(42.0 * KSI, 17.2 / 2.0 * INCH * INCH) * member::OMEGA_SHEAR / KIP, 217.0, 0.5);
    // SHS 100 × 5 (18.7 cm², 55.9 cm³), S235.
    close(member::en_moment(235e6, 55.9e-6), 13_136.5, 0.1);
    close(member::en_shear(235e6, 9.35e-4) / 1e3, 126.9, 0.1);
    // HSS4×4×¼ (3.90 in³), Fy 46 ksi at first yield: 46·3.90/1.67 = 107.4 kip-in.
    close(member::aisc_moment(46.0 * KSI, 3.90 * INCH.powi(3)) / (KIP * INCH), 107.4, 0.05);
    close(member::aisc_tension(36.0, 58.0, 1.0, 0.5), 14.5, 1e-12);
}

/// AISC 360-16 Table B4.1a and EN 1993-1-1 Table 5.2: HSS12×8×3/16 is slender (λ 43.0 over 1.40√(E/Fy) = 35.2, AISC *Design
/// Examples* E.10); a CHS 244.5 × 10 S275 is not.
#[test]
fn thin_walls() {
    assert!(walls::aisc_ratio(walls::Wall::Tube, 43.0, 46.0, 29_000.0).unwrap() > 1.0);
    close(walls::aisc_ratio(walls::Wall::Tube, 35.2, 46.0, 29_000.0).unwrap(), 1.0, 2e-3);
    close(walls::en_ratio(walls::Wall::Tube, 42.0, 235e6).unwrap(), 1.0, 1e-12);
    assert!(walls::en_ratio(walls::Wall::Round, 24.45, 275e6).unwrap() < 1.0);
    close(walls::en_ratio(walls::Wall::Leg, 15.0, 235e6).unwrap(), 1.0, 1e-12);
    close(walls::aisc_ratio(walls::Wall::Leg, 16.0, 36.0, 29_000.0).unwrap(), 16.0 / 12.77, 1e-3);
}

/// AISC 360-16 eq. J7-1 by hand: ½ in bolt, wall 0.233 in of HSS 4x4x1/4, Fy 50 ksi: 1.8·50·0.5·0.233/2 = 5.243 kip on one wall.
/// EN 1993-1-8 §3.6.1(10) by hand: M12, t 4 mm, fu 430: 1.5·430·12·4/1.25 = 24.77 kN.
#[test]
fn bolts_bear_in_the_wall_of_a_tube() {
    close(tube::aisc_bearing(0.5 * INCH, 0.233 * INCH, 50.0 * KSI) / KIP, 5.243, 0.6e-3);
    close(tube::en_bearing(0.012, 0.004, 430e6) / 1e3, 24.77, 0.5e-2);
}

/// The yield lines from which the chord face failure of a T joint comes (AISC 360-10 eq. K2-7; EN 1993-1-8 Table 7.11), worked out
/// anew: a square patch c on a wall of breadth b, lines along both edges of the wall over c + 2x, along the patch, from its corners
/// out to the edges, and across at its ends and at x; each metre of line takes fy·t²/4 times its turning. The least over x.
#[test]
fn a_wall_under_a_washer_yields_as_its_lines_say() {
    let (b, t, fy) = (0.1, 0.005, 235e6);
    for c in [0.02, 0.04, 0.06, 0.08] {
        let a = (b - c) / 2.0;
        let work = |x: f64| {
            let (edges, patch) = (2.0 * (c + 2.0 * x) / a, 2.0 * c / a);
            let (across, slanted) = (2.0 * (c + b) / x, 4.0 * (x / a + a / x));
            fy * t * t / 4.0 * (edges + patch + across + slanted)
        };
        let least = (1..20_000).map(|step| work(f64::from(step) * 1e-5)).fold(f64::INFINITY, f64::min);
        close(tube::face_yields(b, t, fy, c).unwrap() / least, 1.0, 1e-6);
    }
    assert!(tube::face_yields(b, t, fy, 0.09).is_err(), "a washer nearly as broad as the tube");
    close(tube::square_of_round(0.034).powi(2), std::f64::consts::PI / 4.0 * 0.034 * 0.034, 1e-15);
}

/// AISC 360-16 eq. J10-3 and J10-5a by hand, HSS 4x4x1/4 of 50 ksi on a seat of 1½ in at its end, both walls: yielding
/// 2·50·0.233·(2.5·1.5·0.233 + 1.5)/1.5 = 36.87 kip before crippling, 2·0.4·0.233²·1.6·√(29000·50)/2 = 41.8 kip.
/// EN 1993-1-8 Table 7.11 by hand, SHS 100x5 of S235 on 50 mm: slenderness 3.46·18/(π·√(210000/235)) = 0.663, χ of curve c 0.747,
/// 2·0.747·235·5·(50 + 12.5) = 109.8 kN.
#[test]
fn a_tube_on_its_support() {
    let aisc = tube::aisc_end_bearing(4.0 * INCH, 0.233 * INCH, 1.5 * INCH, 50.0 * KSI, 29_000.0 * KSI).unwrap();
    close(aisc / KIP, 36.87, 0.01);
    let long_seat = tube::aisc_end_bearing(4.0 * INCH, 0.233 * INCH, 4.0 * INCH, 50.0 * KSI, 29_000.0 * KSI).unwrap();
    close(long_seat / KIP, 41.8, 0.05);
    close(tube::en_end_bearing(0.1, 0.005, 0.05, 235e6, 210e9).unwrap() / 1e3, 109.8, 0.1);
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// A wider gap between braces never helps an angle or an open section.
    #[test]
    fn longer_never_carries_more(length in 0.3..6.0_f64, more in 1.0..2.0_f64) {
        let channel = tipping::OpenSection { modulus: 6.0e-5, weak_inertia: 3.0e-7, torsion: 3.0e-8, warping: 6.0e-10, between_flanges: 0.11, weak_radius: 0.014, channel: true };
        let us = |l: f64| tipping::aisc_open_section_moment(&channel, 250e6, 200e9, l, 1.0).unwrap();
        prop_assert!(us(length * more) <= us(length) * (1.0 + 1e-3));
        let en = |l: f64| tipping::en_moment(6.0e-5, 250e6, tipping::critical_moment(&channel, 210e9, 81e9, l, 1.0).unwrap(), Curve::D).unwrap();
        prop_assert!(en(length * more) <= en(length) * (1.0 + 1e-12));
    }

}
