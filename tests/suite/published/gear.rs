//! Rack and pinion against gear libraries, textbook problems and independent arithmetic.

use approx::assert_relative_eq;
use serde::Deserialize;
use wallplate::calc::gear::*;

const MM: f64 = 1e-3;
/// Values recomputed from the named formula to the digits shown.
const ARITHMETIC: f64 = 1e-4;

fn pinion(module_mm: f64, teeth: f64, degrees: f64) -> Pinion {
    Pinion::new(module_mm * MM, teeth, degrees.to_radians()).unwrap()
}

#[derive(Deserialize)]
struct File {
    contact: Vec<ContactRow>,
    play: Vec<PlayRow>,
    undercut: Vec<UndercutRow>,
    form: Vec<FormRow>,
}

#[derive(Deserialize)]
struct ContactRow {
    teeth: f64,
    angle: f64,
    gap: f64,
    ratio: f64,
}

#[derive(Deserialize)]
struct PlayRow {
    module: f64,
    teeth: f64,
    angle: f64,
    gap: f64,
    normal: f64,
}

#[derive(Deserialize)]
struct UndercutRow {
    teeth: f64,
    angle: f64,
    lost: f64,
}

#[derive(Deserialize)]
struct FormRow {
    teeth: f64,
    y: f64,
}

fn library() -> File {
    serde_json::from_str(include_str!("data/gear_mesh.json")).unwrap()
}

/// python-gearbox 0.1.2a0, wheels of 10 000 and 20 000 teeth continued to a rack, see
/// `gear_reference.py`. What is left of the wheel's curvature is below 1e-5.
#[test]
fn contact_ratio_agrees_with_a_gear_library() {
    for row in library().contact {
        let got = contact(&pinion(4.0, row.teeth, row.angle), row.gap * 4.0 * MM).unwrap();
        assert_relative_eq!(got.ratio, row.ratio, max_relative = 2e-5);
        assert!(!got.cut_short, "{} teeth at {}°", row.teeth, row.angle);
        assert_relative_eq!(got.ratio, got.ratio_undercut, max_relative = 1e-12);
    }
}

/// py_gearworks 0.0.24, wheels of 20 000 and 40 000 teeth continued to a rack.
#[test]
fn backlash_agrees_with_a_gear_library() {
    for row in library().play {
        assert!(row.module > 0.0 && row.teeth > 0.0);
        let gap = row.gap * MM;
        let along = backlash(gap, row.angle.to_radians()).unwrap();
        assert_relative_eq!(along * row.angle.to_radians().cos(), row.normal * MM, max_relative = 1e-6);
    }
}

/// Every point of the involute rolled against a straight-sided cutter, see `gear_reference.py`.
#[test]
fn undercut_agrees_with_rolling_the_cutter() {
    for row in library().undercut {
        let pinion = pinion(1000.0, row.teeth, row.angle);
        let got = contact(&pinion, 0.0).unwrap();
        let lost = (got.ratio - got.ratio_undercut) * pinion.base_pitch();
        assert!((lost - row.lost).abs() < 5e-4, "{} teeth at {}°: {lost}", row.teeth, row.angle);
        assert_eq!(got.cut_short, row.lost > 0.0);
    }
}

/// The two tables of Lewis' form factor in print differ by up to 1.1 % (gearpy 1.3.1 carries the other).
#[test]
fn form_factors_agree_with_the_other_table() {
    for row in library().form {
        let got = form_factor(&pinion(4.0, row.teeth, 20.0)).unwrap();
        assert_relative_eq!(got, row.y, max_relative = 0.0125);
    }
}

/// *Shigley's Mechanical Engineering Design* (9th ed. 2011), Table 14-2: every row, and between two rows the straight line.
#[test]
fn form_factors_are_the_tables() {
    let y = |teeth: f64| form_factor(&pinion(4.0, teeth, 20.0)).unwrap();
    for (teeth, printed) in [
        (12.0, 0.245),
        (13.0, 0.261),
        (14.0, 0.277),
        (15.0, 0.290),
        (16.0, 0.296),
        (17.0, 0.303),
        (18.0, 0.309),
        (19.0, 0.314),
        (20.0, 0.322),
        (21.0, 0.328),
        (22.0, 0.331),
        (24.0, 0.337),
        (26.0, 0.346),
        (28.0, 0.353),
        (30.0, 0.359),
        (34.0, 0.371),
        (38.0, 0.384),
        (43.0, 0.397),
        (50.0, 0.409),
        (60.0, 0.422),
        (75.0, 0.435),
        (100.0, 0.447),
        (150.0, 0.460),
        (300.0, 0.472),
        (400.0, 0.480),
    ] {
        assert_relative_eq!(y(teeth), printed, max_relative = 1e-12);
    }
    assert_relative_eq!(y(23.0), 0.334, max_relative = 1e-12);
    // halfway to the rack's in 1/z, and the rack itself
    assert_relative_eq!(y(800.0), 0.4825, max_relative = 1e-12);
    assert_relative_eq!(y(1e9), 0.485, max_relative = 1e-6);
    assert_relative_eq!(rack_form_factor(), 0.485, max_relative = 1e-12);
    assert!(form_factor(&pinion(4.0, 11.0, 20.0)).is_err());
    assert!(form_factor(&pinion(4.0, 20.0, 14.5)).is_err());
}

/// Standard proportions (ISO 53) and recomputed contact ratios.
#[test]
fn pinion_dimensions() {
    for (teeth, diameter, ratio) in [(18.0, 72.0, 1.7553), (20.0, 80.0, 1.7688), (16.0, 64.0, 1.6762)] {
        let p = pinion(4.0, teeth, 20.0);
        assert_relative_eq!(p.pitch_diameter(), diameter * MM, max_relative = 1e-12);
        assert_relative_eq!(contact(&p, 0.0).unwrap().ratio, ratio, max_relative = ARITHMETIC);
    }
    let p = pinion(4.0, 18.0, 20.0);
    assert_relative_eq!(p.pitch(), 12.5664 * MM, max_relative = 1e-5);
    assert_relative_eq!(p.base_diameter() / 2.0, 33.8289 * MM, max_relative = 1e-5);
    assert_relative_eq!(p.tip_diameter(), 80.0 * MM, max_relative = 1e-12);
    assert_relative_eq!(p.root_diameter(), 62.0 * MM, max_relative = 1e-12);
    assert_relative_eq!(module_of_diametral_pitch(8.0).unwrap(), 3.175 * MM, max_relative = 1e-12);
    assert_relative_eq!(module_of_pitch(p.pitch()).unwrap(), 4.0 * MM, max_relative = 1e-12);
}

/// Recomputed: the contact that a radial gap costs.
#[test]
fn a_gap_costs_contact() {
    let p = pinion(4.0, 20.0, 20.0);
    for (gap, ratio) in [(1.0, 1.5212), (2.0, 1.2736)] {
        assert_relative_eq!(contact(&p, gap * MM).unwrap().ratio, ratio, max_relative = ARITHMETIC);
    }
    let gap = largest_gap(&p, 1.2).unwrap();
    assert_relative_eq!(contact(&p, gap).unwrap().ratio, 1.2, max_relative = 1e-12);
    assert!(largest_gap(&p, 2.0).is_err());
    assert!(contact(&p, -0.1 * MM).is_err());
}

/// Recomputed: backlash 2 ΔC tan α and 2 ΔC sin α, and what a radial millimetre is worth.
#[test]
fn backlash_of_a_gap() {
    let twenty = 20_f64.to_radians();
    assert_relative_eq!(backlash(0.5 * MM, twenty).unwrap(), 0.36397 * MM, max_relative = ARITHMETIC);
    assert_relative_eq!(backlash(2.0 * MM, twenty).unwrap(), 1.45588 * MM, max_relative = ARITHMETIC);
    for (degrees, each) in [(14.5_f64, 0.51724), (20.0, 0.72794), (25.0, 0.93262)] {
        assert_relative_eq!(backlash(1.0, degrees.to_radians()).unwrap(), each, max_relative = ARITHMETIC);
    }
}

/// A university gear lecture's problem: 20 teeth, pitch circle 125 mm, addenda 6.25 mm; least pressure angle
/// 18.435°, path of contact 34.80 mm, arc 36.68 mm, 1.868 (say 2) teeth in contact.
#[test]
fn lecture_problem_of_a_rack_without_interference() {
    let p = Pinion::new(6.25 * MM, 20.0, 0.1_f64.sqrt().asin()).unwrap();
    assert_relative_eq!(p.pressure_angle().to_degrees(), 18.435, max_relative = ARITHMETIC);
    let got = contact(&p, 0.0).unwrap();
    assert_relative_eq!(got.approach + got.recess, 34.80 * MM, max_relative = 2e-4);
    assert_relative_eq!(got.arc, 36.68 * MM, max_relative = 2e-4);
    assert_relative_eq!(got.ratio, 1.868, max_relative = 3e-4);
    assert_relative_eq!(got.ratio_undercut, got.ratio, max_relative = 1e-9);
}

/// Recomputed: F tan α.
#[test]
fn forces_between_the_teeth() {
    let twenty = 20_f64.to_radians();
    for (pull, apart) in [(500.0, 181.99), (1200.0, 436.76), (800.0, 291.18)] {
        assert_relative_eq!(separating_force(pull, twenty).unwrap(), apart, max_relative = ARITHMETIC);
    }
}

/// Lewis' equation F/(b m Y), recomputed: 3200 N, 30 mm wide, module 4, Y = 0.32: 83.3 MPa; and with Y of 16 teeth and of a
/// rack.
#[test]
fn lewis_stress() {
    let pull = |width: f64, y, stress: f64| force_allowed(stress * 1e6, width * MM, 4.0 * MM, y, 1.0).unwrap();
    assert_relative_eq!(pull(30.0, 0.32, 83.3), 3200.0, max_relative = 5e-4);
    assert_relative_eq!(pull(20.0, form_factor(&pinion(4.0, 16.0, 20.0)).unwrap(), 42.23), 1000.0, max_relative = ARITHMETIC);
    assert_relative_eq!(pull(20.0, rack_form_factor(), 25.77), 1000.0, max_relative = 2e-4);
}

/// *Shigley's Mechanical Engineering Design* (9th ed. 2011), Example 14-1: P = 8/in, 16 teeth, 1.5 in wide, 1200 rpm, 10 ksi, milled teeth. V = 628 ft/min,
/// K_v = 1.52, 365 lbf and 6.95 hp as the book rounds; unrounded 364.3 lbf and 6.94 hp.
#[test]
fn shigley_14_1() {
    let (lbf, psi, hp, foot_per_minute) = (4.448_222, 6894.757, 745.6999, 0.3048 / 60.0);
    let p = Pinion::new(module_of_diametral_pitch(8.0).unwrap(), 16.0, 20_f64.to_radians()).unwrap();
    let y = form_factor(&p).unwrap();
    let speed = 1200.0 / 60.0 * std::f64::consts::PI * p.pitch_diameter();
    assert_relative_eq!(speed / foot_per_minute, 628.3, max_relative = ARITHMETIC);
    let velocity = velocity_factor(speed, Making::Cut).unwrap();
    assert_relative_eq!(velocity, 1.5236, max_relative = ARITHMETIC);
    let pull = force_allowed(10_000.0 * psi, 1.5 * 0.0254, p.module(), y, velocity).unwrap();
    assert_relative_eq!(pull / lbf, 364.3, max_relative = 2e-4);
    assert_relative_eq!(pull * speed / hp, 6.94, max_relative = 1e-3);
    assert_relative_eq!(velocity_factor(600.0 * foot_per_minute, Making::Cast).unwrap(), 2.0, max_relative = 1e-12);
}

/// Plain geometry, worked by hand: a rack of 5 m on the roof, the pinion 4.8 m along it when shut, the roof
/// going from −10 mm to 4.6 m.
#[test]
fn what_is_left_of_the_rack() {
    let on_roof = left_over((0.1, 5.1), 4.9, (-0.01, 4.6), Mounting::OnRoof).unwrap();
    assert_relative_eq!(on_roof.shut, 0.19, max_relative = 1e-12);
    assert_relative_eq!(on_roof.open, 0.2, max_relative = 1e-12);
    let on_wall = left_over((0.1, 5.1), 0.3, (-0.01, 4.6), Mounting::OnBuilding).unwrap();
    assert_relative_eq!(on_wall.shut, 0.19, max_relative = 1e-12);
    assert_relative_eq!(on_wall.open, 0.2, max_relative = 1e-12);
}

/// Worked by hand: sections of 80 teeth of module 4 (1005.3 mm) for 5 m, which takes 398 teeth.
#[test]
fn sections_of_a_rack() {
    let pitch = pinion(4.0, 18.0, 20.0).pitch();
    let s = sections(5.0, 80.0 * pitch, pitch).unwrap();
    assert_eq!(s.count, 5);
    assert_eq!(s.joints.len(), 4);
    assert_relative_eq!(s.joints[3], 320.0 * pitch, max_relative = 1e-12);
    assert_relative_eq!(s.last, 78.0 * pitch, max_relative = 1e-12);
    assert_relative_eq!(s.cut_off, 2.0 * pitch, max_relative = 1e-9);
    assert_relative_eq!(s.length, 398.0 * pitch, max_relative = 1e-12);
    assert!(s.space.abs() < 1e-9);
    // sections of a metre are 79.58 pitches: the pitch goes on if 5.31 mm are left open at each joint
    // (79 whole teeth in each): three of them reach 239 teeth, the next tooth takes a fourth
    let s = sections(3.0, 1.0, pitch).unwrap();
    assert_eq!(s.count, 3);
    assert_relative_eq!(s.space, 80.0 * pitch - 1.0, max_relative = 1e-9);
    assert_relative_eq!(s.length, 239.0 * pitch, max_relative = 1e-9);
    let s = sections(3.01, 1.0, pitch).unwrap();
    assert_eq!(s.count, 4);
    assert_relative_eq!(s.length, 241.0 * pitch, max_relative = 1e-9);
    let s = sections(1e-5, 1.0, pitch).unwrap();
    assert_eq!(s.count, 1);
    assert_relative_eq!(s.last, pitch, max_relative = 1e-12);
    let around = around_joints(&[1.0, 2.0], &[1.95, 0.9, 1.25]).unwrap();
    assert_relative_eq!(around[0].0, 0.1, max_relative = 1e-9);
    assert_relative_eq!(around[0].1, 0.25, max_relative = 1e-9);
    assert_relative_eq!(around[1].0, 0.05, max_relative = 1e-9);
    assert!(around[1].1.is_infinite());
}

#[test]
fn nonsense_is_refused() {
    for bad in
        [Pinion::new(0.004, 17.5, 0.35), Pinion::new(0.004, f64::NAN, 0.35), Pinion::new(0.0, 18.0, 0.35), Pinion::new(0.004, 18.0, 20.0)]
    {
        assert!(bad.is_err());
    }
    assert!(sections(f64::INFINITY, 1.0, 0.01).is_err());
    assert!(sections(1.0, 0.001, 0.01).is_err());
    assert!(left_over((1.0, 0.0), 0.5, (0.0, 1.0), Mounting::OnRoof).is_err());
}
