//! Snow loads against printed examples of ASCE 7 and EN 1991-1-3.

use approx::assert_relative_eq;
use proptest::prelude::*;
use wallplate::calc::inch_pound::{FOOT, PCF, PSF};
use wallplate::calc::snow::{asce7, en1991};

fn close(value: f64, expected: f64, tolerance: f64) {
    assert!((value - expected).abs() <= tolerance, "{value} is not {expected} ± {tolerance}");
}

/// ASCE 7-16 eq. 7.3-1, by hand: pg 30 psf, exposure B, partially exposed, heated, category II: 0.7·1.0·1.0·1.0·30 = 21.0 psf.
#[test]
fn flat_roof_of_the_warehouse() {
    let ce = asce7::exposure_factor(asce7::Terrain::B, asce7::Exposure::Partially).unwrap();
    let is = asce7::importance_factor(2).unwrap();
    close(asce7::flat_roof(30.0 * PSF, ce, asce7::Warmth::Heated.factor(), is) / PSF, 21.0, 1e-9);
}

/// ASCE 7-16 Tables 7.3-1, 7.3-2 and 1.5-2.
#[test]
fn tables_of_factors() {
    use asce7::{Exposure, Terrain, Warmth};
    let table = [(Terrain::B, [0.9, 1.0, 1.2]), (Terrain::C, [0.9, 1.0, 1.1]), (Terrain::D, [0.8, 0.9, 1.0])];
    for (terrain, row) in table {
        for (exposure, expected) in [Exposure::Fully, Exposure::Partially, Exposure::Sheltered].into_iter().zip(row) {
            close(asce7::exposure_factor(terrain, exposure).unwrap(), expected, 1e-12);
        }
    }
    close(asce7::exposure_factor(Terrain::AboveTreeLine, Exposure::Fully).unwrap(), 0.7, 1e-12);
    assert!(asce7::exposure_factor(Terrain::AboveTreeLine, Exposure::Sheltered).is_err());
    let warmth = [Warmth::Heated, Warmth::JustAboveFreezing, Warmth::Unheated, Warmth::Freezer].map(Warmth::factor);
    assert_eq!(warmth, [1.0, 1.1, 1.2, 1.3]);
    assert_eq!([1, 2, 3, 4].map(|c| asce7::importance_factor(c).unwrap()), [0.8, 1.0, 1.1, 1.2]);
    assert!(asce7::importance_factor(5).is_err());
}

/// ASCE 7-16 Fig. 7.4-1: slippery, Ct 1.0: (70 − θ)/65, at 4:12 0.7933; half way to 70° gives 0.5.
#[test]
fn slope_factors() {
    let cs = |degrees: f64, ct, slippery| asce7::slope_factor(degrees.to_radians(), ct, slippery).unwrap();
    close(asce7::slope_factor((4.0_f64 / 12.0).atan(), 1.0, true).unwrap(), 0.7933, 0.5e-4);
    for (degrees, ct) in [(37.5, 1.0), (40.0, 1.1), (42.5, 1.2)] {
        close(cs(degrees, ct, true), 0.5, 1e-9);
    }
    for (start, ct) in [(30.0, 1.0), (37.5, 1.1), (45.0, 1.2)] {
        close(cs(start, ct, false), 1.0, 1e-9);
        close(cs(0.5 * (start + 70.0), ct, false), 0.5, 1e-9);
        close(cs(70.0, ct, false), 0.0, 1e-9);
    }
    close(cs(80.0, 1.0, false), 0.0, 1e-12);
    assert!(asce7::slope_factor(-0.1, 1.0, true).is_err());
}

/// ASCE 7-16 Fig. 7.6-1, by hand: 300 ft of fetch, pg 20 psf: 0.43·∛300·⁴√30 − 1.5 = 5.237 ft high, four times that wide.
#[test]
fn drift_on_a_lower_roof() {
    let height = asce7::drift_height(300.0 * FOOT, 20.0 * PSF, 1.0);
    close(height / FOOT, 5.237, 0.5e-3);
    let drift = asce7::drift_on_lower_roof(300.0 * FOOT, 50.0 * FOOT, 20.0 * FOOT, 14.0 * PSF, 20.0 * PSF, 1.0).unwrap();
    close(drift.width / FOOT, 20.947, 0.5e-3);
    // γ = 0.13·20 + 14 = 16.6 pcf (eq. 7.7-1).
    close(drift.load / PSF, 5.237 * 16.6, 0.02);
    // A low step cuts the drift off at the upper roof and stretches it: w = 4·hd²/hc ≤ 8·hc (§7.7.1).
    let cut = asce7::drift_on_lower_roof(300.0 * FOOT, 50.0 * FOOT, 4.0 * FOOT, 14.0 * PSF, 20.0 * PSF, 1.0).unwrap();
    close(cut.height / FOOT, 4.0, 1e-9);
    close(cut.width / FOOT, 4.0 * 5.237 * 5.237 / 4.0, 0.02);
}

/// ASCE 7-16 §7.3.4, eq. 7.7-1, §7.10, §7.6.1 as they stand.
#[test]
fn clauses_of_chapter_seven() {
    close(asce7::low_slope_minimum(15.0 * PSF, 1.1) / PSF, 16.5, 1e-9);
    close(asce7::low_slope_minimum(30.0 * PSF, 1.1) / PSF, 22.0, 1e-9);
    assert!(asce7::is_low_slope(14.9_f64.to_radians()) && !asce7::is_low_slope(15.1_f64.to_radians()));
    close(asce7::density(20.0 * PSF) / PCF, 16.6, 1e-9);
    close(asce7::density(300.0 * PSF) / PCF, 30.0, 1e-9);
    close(asce7::rain_on_snow(20.0 * PSF, 0.25_f64.to_radians(), 50.0 * FOOT) / PSF, 5.0, 1e-9);
    close(asce7::rain_on_snow(20.0 * PSF, 1.5_f64.to_radians(), 50.0 * FOOT), 0.0, 1e-12);
    close(asce7::rain_on_snow(25.0 * PSF, 0.25_f64.to_radians(), 50.0 * FOOT), 0.0, 1e-12);
    let narrow = asce7::unbalanced_gable(30.0 * PSF, 1.0, 25.0 * PSF, 18.4_f64.to_radians(), 12.0 * FOOT).unwrap();
    close(narrow.leeward / PSF, 30.0, 1e-9);
    close(narrow.windward, 0.0, 1e-12);
    assert!(asce7::unbalanced_gable(30.0 * PSF, 1.0, 25.0 * PSF, 35.0_f64.to_radians(), 12.0 * FOOT).is_none());
    let wide = asce7::unbalanced_gable(30.0 * PSF, 1.0, 25.0 * PSF, (0.25_f64).atan(), 40.0 * FOOT).unwrap();
    close(wide.windward / PSF, 7.5, 1e-9);
    // hd for 40 ft and 30 psf: 0.43·∛40·⁴√40 − 1.5 = 2.1984 ft; γ 17.9 pcf; S = 4.
    close(wide.ridge / PSF, 2.1984 * 17.9 / 2.0, 0.01);
    close(wide.ridge_width / FOOT, 8.0 / 3.0 * 2.1984 * 2.0, 0.01);
}

/// *Steel Buildings in Europe – Single-Storey Steel Buildings, Part 3: Actions*, Appendix A: sk 0.65 kN/m², 8.5°:
/// 0.52 and 0.26 kN/m²; exceptional 1.30 → 1.04 and 0.52; drift onto the lower roof 8.3 → 9.2 → 4, 2.60 kN/m², 6.0 m.
#[test]
fn steel_buildings_in_europe() {
    let mu = en1991::shape_mu1(8.5_f64.to_radians(), false).unwrap();
    let s = en1991::roof(mu, en1991::Topography::Normal.exposure(), 1.0, 650.0);
    close(s, 520.0, 1e-9);
    close(en1991::duopitch_cases(s, s)[1].0, 260.0, 1e-9);
    let exceptional = en1991::exceptional_ground(650.0, 2.0);
    close(exceptional, 1300.0, 1e-9);
    close(en1991::roof(mu, 1.0, 1.0, exceptional), 1040.0, 1e-9);
    let drift = en1991::drift_against_taller(10.0, 40.0, 3.0, 650.0, 0.0).unwrap();
    close(drift.blown, 4.0, 1e-12);
    close(drift.length, 6.0, 1e-12);
    close(en1991::roof(drift.at_wall, 1.0, 1.0, 650.0), 2600.0, 1e-9);
    // Without the cap of 4: 50/6 = 8.3 against γh/sk = 9.2.
    let uncapped = en1991::drift_against_taller(4.0, 8.0, 3.0, 650.0, 0.0).unwrap();
    close(uncapped.blown, 2.0, 1e-12);
}

/// EN 1991-1-3 Table 5.1, 5.2, E.1 as they stand.
#[test]
fn tables_of_en_1991() {
    use en1991::Topography::{Normal, Sheltered, Windswept};
    assert_eq!([Windswept, Normal, Sheltered].map(en1991::Topography::exposure), [0.8, 1.0, 1.2]);
    for (degrees, mu1) in [(0.0, 0.8), (30.0, 0.8), (45.0, 0.4), (60.0, 0.0), (75.0, 0.0)] {
        close(en1991::shape_mu1(f64::to_radians(degrees), false).unwrap(), mu1, 1e-9);
    }
    close(en1991::shape_mu1(50.0_f64.to_radians(), true).unwrap(), 0.8, 1e-12);
    for (degrees, mu2) in [(0.0, 0.8), (15.0, 1.2), (30.0, 1.6), (45.0, 1.6)] {
        close(en1991::shape_mu2(f64::to_radians(degrees)).unwrap(), mu2, 1e-9);
    }
    let (mu, length) = en1991::drift_behind_parapet(0.6, 12.0, 650.0).unwrap();
    close(length, 3.0, 1e-12);
    close(mu, 2.0 * 0.6 / 0.65, 1e-9);
    assert_eq!(en1991::density(en1991::SnowAge::Settled), 2000.0);
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn steeper_never_holds_more(one in 0.0..89.0_f64, other in 0.0..89.0_f64, ct in 1.0..1.3_f64, slippery: bool) {
        let (flat, steep) = (one.min(other).to_radians(), one.max(other).to_radians());
        prop_assert!(asce7::slope_factor(steep, ct, slippery).unwrap() <= asce7::slope_factor(flat, ct, slippery).unwrap());
        prop_assert!(en1991::shape_mu1(steep, false).unwrap() <= en1991::shape_mu1(flat, false).unwrap());
    }

    #[test]
    fn more_ground_snow_never_gives_less(ground in 100.0..5000.0_f64, more in 1.0..2.0_f64, fetch in 3.0..80.0_f64) {
        prop_assert!(asce7::drift_height(fetch, ground * more, 1.0) >= asce7::drift_height(fetch, ground, 1.0));
        prop_assert!(asce7::density(ground * more) >= asce7::density(ground));
        assert_relative_eq!(asce7::flat_roof(ground * more, 0.9, 1.2, 1.0), more * asce7::flat_roof(ground, 0.9, 1.2, 1.0), max_relative = 1e-12);
    }
}
