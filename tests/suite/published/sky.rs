//! The sky against ERFA and astropy, printed examples, and horizons cut without our code.
//!
//! Data made without our code: `sky_reference.py` beside this file.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use approx::{assert_abs_diff_eq, assert_relative_eq};
use proptest::prelude::*;
use serde::Deserialize;
use wallplate::calc::sky::arc::{DailyArc, SIDEREAL_DAY, above, clock_time, sidereal_hours};
use wallplate::calc::sky::horizon::Horizon;
use wallplate::calc::sky::outline::Obstacle;
use wallplate::calc::sky::place::{Horizontal, full_turn, horizontal, hour_angle_and_declination, pole};
use wallplate::calc::sky::refraction::{Air, bennett, saemundsson, seen};
use wallplate::calc::sky::visible::when_visible;
use wallplate::calc::space::solid::{Point, Solid, turned};

#[derive(Deserialize)]
struct Data<T> {
    cases: Vec<T>,
}

fn data<T: for<'a> Deserialize<'a>>(text: &str) -> Vec<T> {
    serde_json::from_str::<Data<T>>(text).expect("the committed data parse").cases
}

/// Degrees apart round the circle.
fn apart(a: f64, b: f64) -> f64 {
    ((a - b + 180.0).rem_euclid(360.0) - 180.0).abs()
}

const HOUR: f64 = PI / 12.0;
const ARCMINUTE: f64 = PI / 10_800.0;

#[test]
fn azimuth_and_altitude_agree_with_erfa() {
    let cases = data::<[f64; 5]>(include_str!("data/sky_altaz.json"));
    assert!(cases.len() >= 500);
    for [latitude, hour_angle, declination, azimuth, altitude] in cases {
        let ours = horizontal(hour_angle, declination, latitude);
        assert_abs_diff_eq!(ours.altitude, altitude, epsilon = 2e-12);
        let turn = apart(ours.azimuth.to_degrees(), azimuth.to_degrees()).to_radians();
        assert!(turn * altitude.cos() < 2e-12, "{turn}");
        assert!((0.0..TAU).contains(&ours.azimuth));
        // And back.
        let (ha, dec) = hour_angle_and_declination(ours, latitude);
        assert_abs_diff_eq!(dec, declination, epsilon = 1e-11);
        assert!(apart(ha.to_degrees(), hour_angle.to_degrees()).to_radians() * dec.cos() < 1e-11);
    }
}

#[test]
fn stars_of_the_reference() {
    // Latitude, hour angle (h), declination → azimuth, altitude (deg), pyerfa 2.0.1.5 hd2ae.
    let cases = [
        (40.0, 0.0, 20.0, 180.0, 70.0),
        (40.0, 2.0, 20.0, 240.9388, 57.4851),
        (40.0, -3.0, 0.0, 122.7324, 32.7978),
        (40.0, 6.0, 45.0, 307.4537, 27.0340),
        (52.0, -5.0, 60.0, 48.2407, 49.6505),
        (33.0, 0.0, -30.0, 180.0, 27.0),
        (33.0, 4.0, -20.0, 236.2998, 11.9916),
        (60.0, 1.0, -20.0, 194.2581, 9.0699),
        (-34.0, 3.0, -60.0, 214.1987, 51.0217),
        (-34.0, -2.0, 10.0, 38.4171, 37.5864),
        (0.0, 3.0, 0.0, 270.0, 45.0),
        (40.0, 12.0, 60.0, 0.0, 10.0),
        (48.0, -6.0, 0.0, 90.0, 0.0),
        (45.0, -4.0, 35.0, 80.7160, 44.0427),
        (-25.0, 5.0, -15.0, 262.1332, 19.6308),
        (40.0, 0.0, 60.0, 0.0, 70.0),
        (35.0, 1.0, 75.0, 354.0966, 49.3603),
    ];
    for (latitude, hours, declination, azimuth, altitude) in cases {
        let latitude = f64::to_radians(latitude);
        let ours = horizontal(hours * HOUR, f64::to_radians(declination), latitude);
        assert_abs_diff_eq!(ours.altitude.to_degrees(), altitude, epsilon = 6e-5);
        assert!(apart(ours.azimuth.to_degrees(), azimuth) < 6e-5);
    }
}

#[test]
fn stars_in_print() {
    // Meeus, Astronomical Algorithms, example 13.b (Venus 1987 April 10): azimuth 68.034 from south, altitude 15.125.
    let ours = horizontal(64.352_133_f64.to_radians(), -6.719_892_f64.to_radians(), 38.921_389_f64.to_radians());
    assert_abs_diff_eq!(ours.altitude.to_degrees(), 15.125, epsilon = 6e-4);
    assert_abs_diff_eq!(ours.azimuth.to_degrees(), 180.0 + 68.034, epsilon = 6e-4);
    // A navigator's worked sight: lat 42°32.4' N, lon 18°08.5' E, GHA 350°02.2', dec 20°20.2' → 199°45.2', 66°45.3'.
    let degrees = |d: f64, m: f64| (d + m / 60.0).to_radians();
    let hour_angle = degrees(350.0, 2.2) + degrees(18.0, 8.5);
    let ours = horizontal(hour_angle, degrees(20.0, 20.2), degrees(42.0, 32.4));
    assert_abs_diff_eq!(ours.azimuth, degrees(199.0, 45.2), epsilon = 0.06 * ARCMINUTE);
    assert_abs_diff_eq!(ours.altitude, degrees(66.0, 45.3), epsilon = 0.06 * ARCMINUTE);
    // Duffett-Smith: H 5h51m44s, dec 23°13'10", lat 52°: azimuth 283°16'16", altitude 19°20'04" (from memory).
    let ours = horizontal(
        (5.0 + 51.0 / 60.0 + 44.0 / 3600.0) * HOUR,
        (23.0 + 13.0 / 60.0 + 10.0 / 3600.0_f64).to_radians(),
        52.0_f64.to_radians(),
    );
    assert_abs_diff_eq!(ours.azimuth, degrees(283.0, 16.0 + 16.0 / 60.0), epsilon = 0.02 * ARCMINUTE);
    assert_abs_diff_eq!(ours.altitude, degrees(19.0, 20.0 + 4.0 / 60.0), epsilon = 0.02 * ARCMINUTE);
}

#[test]
fn the_pole_and_the_meridian() {
    for latitude in [-89.0_f64, -34.0, 0.0, 12.5, 60.0] {
        let pole = pole(latitude.to_radians());
        assert_abs_diff_eq!(pole.altitude.to_degrees(), latitude.abs(), epsilon = 1e-12);
        assert_eq!(pole.azimuth, if latitude < 0.0 { PI } else { 0.0 });
        // A star at that pole stands there at every hour.
        let declination = FRAC_PI_2.copysign(latitude);
        for hours in [0.0, 5.0, 17.0] {
            let star = horizontal(hours * HOUR, declination, latitude.to_radians());
            assert_abs_diff_eq!(star.altitude, pole.altitude, epsilon = 1e-12);
        }
    }
}

#[test]
fn hours_above_an_altitude() {
    // Altitude, declination, latitude → half arc, whole arc in sidereal hours, in hours of the clock.
    let cases = [
        (0.0, 0.0, 40.0, 6.0, 12.0, 11.9672),
        (20.0, 0.0, 40.0, 4.2321, 8.4643, 8.4412),
        (30.0, 20.0, 40.0, 4.4731, 8.9462, 8.9217),
        (20.0, -20.0, 40.0, 2.5794, 5.1587, 5.1446),
        (15.0, 60.0, 40.0, 9.4030, 18.8059, 18.7546),
        (10.0, -29.0, 33.0, 3.5577, 7.1154, 7.0960),
        (15.0, -60.0, -34.0, 8.1966, 16.3933, 16.3485),
        (35.0, 10.0, 45.0, 3.3105, 6.6211, 6.6030),
        (10.0, -26.4, 40.0, 3.1976, 6.3951, 6.3776),
        (25.0, 55.0, 48.0, 7.9340, 15.8681, 15.8247),
    ];
    for (altitude, declination, latitude, half, whole, clock) in cases {
        let arc = above(f64::to_radians(altitude), f64::to_radians(declination), f64::to_radians(latitude)).unwrap();
        let DailyArc::Half(hour_angle) = arc else { panic!("{arc:?}") };
        assert_abs_diff_eq!(sidereal_hours(hour_angle), half, epsilon = 6e-5);
        assert_abs_diff_eq!(sidereal_hours(arc.angle()), whole, epsilon = 6e-5);
        assert_abs_diff_eq!(clock_time(arc.angle()) / 3600.0, clock, epsilon = 6e-5);
    }
    let degrees = f64::to_radians;
    assert_eq!(above(degrees(30.0), degrees(-25.0), degrees(40.0)).unwrap(), DailyArc::Never);
    assert_eq!(above(degrees(15.0), degrees(70.0), degrees(40.0)).unwrap(), DailyArc::Always);
    // At the earth's pole a star keeps its altitude.
    assert_eq!(above(degrees(30.0), degrees(40.0), FRAC_PI_2).unwrap(), DailyArc::Always);
    assert_eq!(above(degrees(50.0), degrees(40.0), FRAC_PI_2).unwrap(), DailyArc::Never);
    assert!(above(0.0, 2.0, 0.5).is_err());
    // The sidereal day: 23h 56m 4.0905s.
    assert_abs_diff_eq!(SIDEREAL_DAY, 86_164.090_5, epsilon = 5e-5);
}

#[test]
fn hours_above_agree_with_roots_of_erfa() {
    for [altitude, declination, latitude, half] in data::<[f64; 4]>(include_str!("data/sky_hours.json")) {
        let ours = above(altitude, declination, latitude).unwrap().angle() / 2.0;
        assert_abs_diff_eq!(ours, half, epsilon = 1e-8);
        // The same from the real horizon's machinery, where the whole round has this altitude.
        let level = Horizon::new([0.0; 3], altitude, &[]).unwrap();
        let visible = when_visible(&level, declination, latitude, None).unwrap();
        assert_abs_diff_eq!(visible.angle() / 2.0, half, epsilon = 1e-8);
    }
}

#[test]
fn refraction_of_the_table() {
    // Degrees → minutes of arc by Bennett (apparent) and Sæmundsson (airless), 10 °C, 1010 hPa.
    let table = [
        (0.0, 34.478, 28.982),
        (0.5, 28.754, 25.004),
        (1.0, 24.329, 21.744),
        (2.0, 18.216, 16.926),
        (5.0, 9.883, 9.674),
        (10.0, 5.392, 5.408),
        (20.0, 2.703, 2.741),
        (45.0, 0.995, 1.013),
    ];
    for (altitude, apparent, airless) in table {
        let altitude = f64::to_radians(altitude);
        assert_abs_diff_eq!(bennett(altitude, Air::STANDARD) / ARCMINUTE, apparent, epsilon = 6e-4);
        assert_abs_diff_eq!(saemundsson(altitude, Air::STANDARD) / ARCMINUTE, airless, epsilon = 6e-4);
    }
}

#[test]
fn refraction_in_print() {
    // Meeus example 16.a: the sun's lower limb seen at 0.5° is lifted by 28.754'; upper limb's airless 33.246' by 24.618'.
    assert_abs_diff_eq!(bennett(0.5_f64.to_radians(), Air::STANDARD) / ARCMINUTE, 28.754, epsilon = 6e-4);
    let lift = saemundsson(33.246 * ARCMINUTE, Air::STANDARD);
    assert_abs_diff_eq!(lift / ARCMINUTE, 24.618, epsilon = 1.1e-3);
    // At the zenith Bennett's form is off by −0.08" (Meeus, ch. 16), Sæmundsson's by −0.0019279' (the correction that
    // published code adds to it).
    assert_abs_diff_eq!(bennett(FRAC_PI_2, Air::STANDARD) / ARCMINUTE * 60.0, -0.08, epsilon = 6e-3);
    assert_abs_diff_eq!(saemundsson(FRAC_PI_2, Air::STANDARD) / ARCMINUTE, -0.001_927_9, epsilon = 1e-6);
    // 10°, 850 hPa, 0 °C: 4.7036'; skyfield 1.55 gives 4.7004'.
    let thin = Air::new(85_000.0, 273.15).unwrap();
    assert!(Air::new(-1.0, 273.15).is_err() && Air::new(1_013_000.0, 273.15).is_err() && Air::new(85_000.0, 0.0).is_err());
    assert_abs_diff_eq!(bennett(10.0_f64.to_radians(), thin) / ARCMINUTE, 4.7036, epsilon = 6e-5);
    // The two are each other's inverse to 0.1' (Meeus).
    for degrees in 0..90 {
        let apparent = seen(f64::from(degrees).to_radians(), Some(Air::STANDARD));
        let back = apparent - bennett(apparent, Air::STANDARD);
        assert!((back.to_degrees() - f64::from(degrees)).abs() * 60.0 < 0.11, "{degrees}");
    }
    assert_eq!(seen(0.3, None), 0.3);
}

/// A wall that runs west to east, `distance` north of the eye and `height` above it, long enough to look endless.
fn long_wall(height: f64, distance: f64) -> Horizon {
    let wall = Obstacle::Wall { from: [-1e4, distance, height], to: [1e4, distance, height] };
    Horizon::new([0.0; 3], 0.0, &[wall]).unwrap()
}

#[test]
fn masks_of_straight_walls() {
    // Height over the eye, distance, azimuth off square → degrees: atan(h cos b/D).
    let cases = [
        (0.9, 2.0, 0.0, 24.228),
        (0.9, 2.0, 30.0, 21.291),
        (0.9, 2.0, 45.0, 17.651),
        (0.9, 2.0, 60.0, 12.680),
        (1.2, 1.8, 0.0, 33.690),
        (1.5, 1.5, 0.0, 45.000),
    ];
    for (height, distance, offset, mask) in cases {
        for side in [-1.0, 1.0] {
            let ours = long_wall(height, distance).at(f64::to_radians(side * offset));
            assert_abs_diff_eq!(ours.altitude.to_degrees(), mask, epsilon = 6e-4);
            assert_eq!(ours.obstacle, Some(0));
        }
    }
    // A mask of 24.228° due south at latitude 40 lets the declination −25.772 just culminate on it.
}

#[derive(Deserialize)]
struct SiteCase {
    eye: Point,
    open: f64,
    obstacles: Vec<ObstacleCase>,
    skyline: Vec<[f64; 2]>,
    stars: Vec<(f64, f64, bool, f64)>,
}

#[derive(Deserialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
enum ObstacleCase {
    Wall { points: [Point; 2] },
    Prism { profile: Vec<[f64; 2]>, start: f64, end: f64, turn: f64 },
    Sphere { centre: Point, radius: f64 },
    Site { from: f64, to: f64, altitude: f64 },
}

impl From<ObstacleCase> for Obstacle {
    fn from(case: ObstacleCase) -> Self {
        match case {
            ObstacleCase::Wall { points: [from, to] } => Self::Wall { from, to },
            ObstacleCase::Prism { profile, start, end, turn } => Self::Solid(Solid::prism(&profile, start, end).unwrap().turned(turn)),
            ObstacleCase::Sphere { centre, radius } => Self::Sphere { centre, radius },
            ObstacleCase::Site { from, to, altitude } => Self::Site { from, to, altitude },
        }
    }
}

#[test]
fn whole_sites_agree_with_cut_bodies_and_stepped_stars() {
    for case in data::<SiteCase>(include_str!("data/sky_horizon.json")) {
        let obstacles: Vec<Obstacle> = case.obstacles.into_iter().map(Obstacle::from).collect();
        let horizon = Horizon::new(case.eye, case.open, &obstacles).unwrap();
        for [azimuth, altitude] in case.skyline {
            assert_abs_diff_eq!(horizon.at(azimuth).altitude, altitude, epsilon = 1e-9);
        }
        for (declination, latitude, refraction, angle) in case.stars {
            let air = refraction.then_some(Air::STANDARD);
            let ours = when_visible(&horizon, declination, latitude, air).unwrap();
            assert_abs_diff_eq!(ours.angle(), angle, epsilon = 1e-7);
        }
    }
}

#[test]
fn a_view_is_judged_at_its_edges_and_its_peak() {
    let site = |from: f64, to: f64, altitude: f64| Obstacle::Site {
        from: from.to_radians(),
        to: to.to_radians(),
        altitude: altitude.to_radians(),
    };
    let obstacles = [site(350.0, 370.0, 12.0), site(100.0, 120.0, 35.0), site(150.0, 150.01, 28.0)];
    let horizon = Horizon::new([0.0; 3], 0.0, &obstacles).unwrap();
    let worst = |from: f64, to: f64| {
        let skyline = horizon.worst_between(from.to_radians(), to.to_radians());
        (skyline.azimuth.to_degrees(), skyline.altitude.to_degrees(), skyline.obstacle)
    };
    // A tree of a hundredth of a degree is found; a house that ends where the view begins is not in it.
    let (azimuth, altitude, obstacle) = worst(120.0, 240.0);
    assert!((150.0..=150.01).contains(&azimuth));
    assert_abs_diff_eq!(altitude, 28.0, epsilon = 1e-9);
    assert_eq!(obstacle, Some(2));
    assert_eq!(worst(119.9, 240.0).2, Some(1));
    // Round through north, whichever way the azimuths are written.
    assert_eq!(worst(340.0, 20.0).2, Some(0));
    assert_eq!(worst(5.0, 20.0).2, Some(0));
    assert_eq!(worst(-20.0, 355.0 - 360.0).2, Some(0));
    assert_eq!(worst(0.0, 360.0).2, Some(1));
    assert_eq!(worst(11.0, 90.0), (worst(11.0, 90.0).0, 0.0, None));
    // One azimuth alone.
    assert_eq!(worst(110.0, 110.0).2, Some(1));
    // The peak of a wall in the middle of a view.
    let wall = long_wall(0.9, 2.0);
    let peak = wall.worst_between(-1.0, 0.7);
    assert_abs_diff_eq!(peak.altitude, (0.45_f64).atan(), epsilon = 1e-9);
    assert!(apart(peak.azimuth.to_degrees(), 0.0) < 1e-6);
    // And its end, when the view does not hold the peak.
    let flank = wall.worst_between(0.5, 1.0);
    assert_abs_diff_eq!(flank.altitude, (0.45 * 0.5_f64.cos()).atan(), epsilon = 1e-9);
}

#[test]
fn a_roof_over_the_eye_hides_everything_and_one_below_hides_nothing() {
    let roof = Solid::gabled([-2.0, -2.0, 2.2], [2.0, 2.0, 2.4], 3.0);
    let under = Horizon::new([0.5, 0.5, 1.5], 0.0, &[Obstacle::Solid(roof.clone())]).unwrap();
    for azimuth in [0.0, 1.0, 4.0] {
        assert_abs_diff_eq!(under.at(azimuth).altitude, FRAC_PI_2, epsilon = 1e-12);
    }
    assert!(when_visible(&under, 0.5, 0.7, None).unwrap().arcs.is_empty());
    let over = Horizon::new([0.5, 0.5, 3.5], 0.0, &[Obstacle::Solid(roof)]).unwrap();
    assert!(over.all_round(360).iter().all(|a| *a == 0.0));
    // A wall exactly end-on takes no sky away, one that runs over the eye takes all.
    let radial = Obstacle::Wall { from: [0.0, 1.0, 1.0], to: [0.0, 3.0, 1.0] };
    let horizon = Horizon::new([0.0; 3], 0.0, &[radial]).unwrap();
    assert_eq!(horizon.worst_between(6.0, 0.3).altitude, 0.0);
    assert_abs_diff_eq!(horizon.at(0.0).altitude, PI / 4.0, epsilon = 1e-12);
    let wire = Obstacle::Wall { from: [-1.0, -2.0, 1.0], to: [1.0, 2.0, 1.0] };
    assert_eq!(Horizon::new([0.0; 3], 0.0, &[wire]).unwrap().at(2.0).altitude, FRAC_PI_2);
    // The eye inside another telescope's swing is a mistake.
    let swing = Obstacle::Sphere { centre: [0.1, 0.0, 0.0], radius: 0.5 };
    assert!(Horizon::new([0.0; 3], 0.0, &[swing]).is_err());
    // A coordinate that is no number must not make an obstacle vanish.
    let lost = Obstacle::Wall { from: [f64::NAN, 1.0, 1.0], to: [1.0, 1.0, 1.0] };
    assert!(Horizon::new([0.0; 3], 0.0, &[lost]).is_err());
}

#[test]
fn hours_count_an_obstacle_narrower_than_any_step() {
    // A mast of 0.02° at due south up to the zenith hides a star on the equator while it crosses that azimuth. On the
    // equator of the sky at latitude φ the azimuth turns by dH/sin φ at the meridian (spherical trigonometry).
    let half = 0.01_f64.to_radians();
    let mast = Obstacle::Site { from: PI - half, to: PI + half, altitude: FRAC_PI_2 };
    let horizon = Horizon::new([0.0; 3], 0.0, &[mast]).unwrap();
    let latitude = 40.0_f64.to_radians();
    let seen = when_visible(&horizon, 0.0, latitude, None).unwrap();
    assert_eq!(seen.arcs.len(), 2);
    assert_abs_diff_eq!(PI - seen.angle(), 2.0 * half * latitude.sin(), epsilon = 1e-10);
}

#[test]
fn air_lifts_a_star_over_the_horizon() {
    // The day of a star on the equator grows by the lift at the horizon over the speed cos φ (28.98' airless).
    let open = Horizon::new([0.0; 3], 0.0, &[]).unwrap();
    let latitude = 30.0_f64.to_radians();
    let plain = when_visible(&open, 0.0, latitude, None).unwrap().angle();
    let lifted = when_visible(&open, 0.0, latitude, Some(Air::STANDARD)).unwrap().angle();
    assert_relative_eq!(plain, PI, max_relative = 1e-9);
    let rises_below = (lifted - plain) / 2.0 * latitude.cos();
    // At the airless altitude −a the lift is a itself: from Sæmundsson, a lies between 33' and 36'.
    assert!((33.0..36.0).contains(&(rises_below / ARCMINUTE)), "{}", rises_below / ARCMINUTE);
    assert_abs_diff_eq!(seen(-rises_below, Some(Air::STANDARD)), 0.0, epsilon = 1e-6);
}

#[test]
fn a_star_that_dips_a_little_is_held_up_by_the_air_for_part_of_it() {
    // Lower culmination 40' below the open horizon: without air it sets when its altitude is nothing, with air when it is the
    // airless altitude that is lifted to nothing, by the closed form for one altitude (Meeus, ch. 15).
    let latitude = 50.0_f64.to_radians();
    let declination = (40.0 - 40.0 / 60.0_f64).to_radians();
    let (mut low, mut high) = (-0.6_f64.to_radians(), 0.0);
    for _ in 0..80 {
        let middle = f64::midpoint(low, high);
        if seen(middle, Some(Air::STANDARD)) < 0.0 { low = middle } else { high = middle }
    }
    let open = Horizon::new([0.0; 3], 0.0, &[]).unwrap();
    for (air, sets_at) in [(None, 0.0), (Some(Air::STANDARD), low)] {
        let ours = when_visible(&open, declination, latitude, air).unwrap();
        assert_eq!(ours.arcs.len(), 1);
        assert_abs_diff_eq!(ours.angle(), above(sets_at, declination, latitude).unwrap().angle(), epsilon = 1e-7);
        assert!(ours.angle() < TAU - 0.01);
    }
}

/// A slanting edge 5' over the path of a setting star, and along it: without air the star stays behind, the air lifts it out
/// for a while in the middle of nowhere. Against stepping through the day.
#[test]
fn a_star_that_only_the_air_lifts_over_a_slanting_edge_is_found() {
    let (latitude, declination) = (40.0_f64.to_radians(), -20.0_f64.to_radians());
    let at = |hour_angle: f64| {
        let Horizontal { azimuth, altitude } = horizontal(hour_angle, declination, latitude);
        [azimuth.sin() * altitude.cos(), azimuth.cos() * altitude.cos(), altitude.sin()]
    };
    // The star 3° high in the west, the way it goes, and the direction square to both on the pole's side.
    let DailyArc::Half(hour_angle) = above(3.0_f64.to_radians(), declination, latitude).unwrap() else { panic!() };
    let star = at(hour_angle);
    let pole = [0.0, latitude.cos(), latitude.sin()];
    let mix = |a: f64, x: Point, b: f64, y: Point| [0, 1, 2].map(|i| a * x[i] + b * y[i]);
    let unit = |v: Point| v.map(|c| c / v.iter().map(|c| c * c).sum::<f64>().sqrt());
    let up = unit(mix(1.0, pole, -declination.sin(), star));
    let along = unit(mix(1.0, at(hour_angle + 1e-6), -1.0, star));
    let raised = (5.0 * ARCMINUTE).sin_cos();
    let middle = mix(raised.1, star, raised.0, up);
    let end = |angle: f64| mix(1e3 * angle.cos(), middle, 1e3 * angle.sin(), along);
    let wall = Obstacle::Wall { from: end(-0.14), to: end(0.5) };
    let horizon = Horizon::new([0.0; 3], 0.0, &[wall]).unwrap();

    let steps = 40_000_u32;
    for (air, arcs) in [(None, 1), (Some(Air::STANDARD), 2)] {
        let ours = when_visible(&horizon, declination, latitude, air).unwrap();
        assert_eq!(ours.arcs.len(), arcs);
        let seen_steps = (0..steps)
            .filter(|step| {
                let hour_angle = TAU * f64::from(*step) / f64::from(steps);
                let Horizontal { azimuth, altitude } = horizontal(hour_angle, declination, latitude);
                seen(altitude, air) > horizon.at(azimuth).altitude
            })
            .count();
        let step = TAU / f64::from(steps);
        let slow = f64::from(u32::try_from(seen_steps).unwrap()) * step;
        // Each end of an arc is worth one step.
        assert_abs_diff_eq!(ours.angle(), slow, epsilon = 4.0 * step);
    }
}

#[test]
fn an_obstacle_counts_up_to_its_very_ends() {
    // The same azimuth reached by two ways of reckoning differs in the last place.
    let step = 0.1_f64.to_radians();
    for tenth in 1..3000_u32 {
        let (from, to) = (f64::from(tenth) * step, f64::from(tenth + 7) * step);
        let tree = Obstacle::Site { from, to, altitude: 0.3 };
        let horizon = Horizon::new([0.0; 3], 0.0, &[tree]).unwrap();
        let all_round = if tenth % 7 == 0 { horizon.all_round(3600) } else { vec![] };
        for end in [tenth, tenth + 7] {
            assert_eq!(horizon.at((f64::from(end) / 10.0).to_radians()).obstacle, Some(0), "{tenth}");
            if let Some(altitude) = all_round.get(end as usize) {
                assert_abs_diff_eq!(*altitude, 0.3, epsilon = 1e-12);
            }
        }
    }
    assert_eq!(full_turn(-1e-17), 0.0);
    assert_eq!(full_turn(TAU), 0.0);
}

#[test]
fn spheres_overhead_and_underfoot() {
    let ball = |centre: Point, radius| Horizon::new([0.0; 3], -1.5, &[Obstacle::Sphere { centre, radius }]).unwrap();
    // Overhead it hides the zenith, and with it all that lies below.
    assert_eq!(ball([0.1, 0.0, 3.0], 0.5).at(2.0).altitude, FRAC_PI_2);
    // Straight below, half as wide as it is deep: a circle 30° round the nadir.
    for azimuth in [0.0, 2.0, 5.0] {
        assert_abs_diff_eq!(ball([0.0, 0.0, -2.0], 1.0).at(azimuth).altitude, -PI / 3.0, epsilon = 1e-9);
    }
    // A little to the east: the circle reaches as much further in the east as it lacks in the west.
    let (radius, lean) = ((1.0 / 2.0_f64.hypot(0.3)).asin(), (0.3_f64 / 2.0).atan());
    let aside = ball([0.3, 0.0, -2.0], 1.0);
    assert_abs_diff_eq!(aside.at(FRAC_PI_2).altitude, -FRAC_PI_2 + radius + lean, epsilon = 1e-9);
    assert_abs_diff_eq!(aside.at(-FRAC_PI_2).altitude, -FRAC_PI_2 + radius - lean, epsilon = 1e-9);
}

/// Obstacles of every kind about an eye at the origin.
fn obstacles() -> impl Strategy<Value = Vec<Obstacle>> {
    let point = || (-6.0..6.0_f64, -6.0..6.0_f64, -0.5..3.0_f64).prop_map(|(x, y, z)| [x, y, z]);
    let wall = (point(), point()).prop_map(|(from, to)| Obstacle::Wall { from, to });
    let roof = (point(), 0.3..3.0_f64, 0.3..3.0_f64, 0.1..1.0_f64, 0.0..TAU).prop_map(|(low, width, length, height, turn)| {
        let high = [low[0] + width, low[1] + length, low[2] + height];
        Obstacle::Solid(Solid::gabled(low, high, high[2] + 0.6).turned(turn))
    });
    let swing = (0.0..TAU, 1.0..5.0_f64, -1.0..2.0_f64, 0.1..0.9_f64)
        .prop_map(|(az, d, z, radius)| Obstacle::Sphere { centre: [d * az.sin(), d * az.cos(), z], radius });
    let site =
        (-PI..TAU, 0.01..3.0_f64, 0.0..1.2_f64).prop_map(|(from, width, altitude)| Obstacle::Site { from, to: from + width, altitude });
    prop::collection::vec(prop_oneof![wall, roof, swing, site], 0..6)
}

/// The same obstacles in a mirror that swaps east and west (`[-1, 1]`) or north and south (`[1, -1]`).
fn mirrored(obstacles: &[Obstacle], [east, north]: [f64; 2]) -> Vec<Obstacle> {
    let flip = |p: Point| [east * p[0], north * p[1], p[2]];
    // Azimuth a goes to −a, or to π − a.
    let over = if north < 0.0 { PI } else { 0.0 };
    obstacles
        .iter()
        .map(|obstacle| match obstacle {
            Obstacle::Wall { from, to } => Obstacle::Wall { from: flip(*from), to: flip(*to) },
            Obstacle::Solid(solid) => Obstacle::Solid(solid.mapped(flip)),
            Obstacle::Sphere { centre, radius } => Obstacle::Sphere { centre: flip(*centre), radius: *radius },
            Obstacle::Site { from, to, altitude } => Obstacle::Site { from: over - to, to: over - from, altitude: *altitude },
        })
        .collect()
}

fn horizon(obstacles: &[Obstacle]) -> Horizon {
    Horizon::new([0.0; 3], 0.0, obstacles).unwrap()
}

proptest! {
    #[test]
    fn east_and_west_in_a_mirror(
        obstacles in obstacles(), azimuth in 0.0..TAU, latitude in -1.5..1.5_f64, declination in -1.5..1.5_f64,
    ) {
        let (here, there) = (horizon(&obstacles), horizon(&mirrored(&obstacles, [-1.0, 1.0])));
        prop_assert!((here.at(azimuth).altitude - there.at(-azimuth).altitude).abs() < 1e-9);
        let hours = |h| when_visible(h, declination, latitude, None).unwrap().angle();
        prop_assert!((hours(&here) - hours(&there)).abs() < 1e-6);
    }

    #[test]
    fn north_and_south_in_a_mirror(
        obstacles in obstacles(), azimuth in 0.0..TAU, latitude in -1.5..1.5_f64, declination in -1.5..1.5_f64,
        with_air in any::<bool>(),
    ) {
        let (here, there) = (horizon(&obstacles), horizon(&mirrored(&obstacles, [1.0, -1.0])));
        prop_assert!((here.at(azimuth).altitude - there.at(PI - azimuth).altitude).abs() < 1e-9);
        let air = with_air.then_some(Air::STANDARD);
        let north = when_visible(&here, declination, latitude, air).unwrap().angle();
        let south = when_visible(&there, -declination, -latitude, air).unwrap().angle();
        prop_assert!((north - south).abs() < 1e-6, "{north} {south}");
    }

    #[test]
    fn one_obstacle_more_never_shows_more_sky(
        obstacles in obstacles(), azimuth in 0.0..TAU, latitude in -1.5..1.5_f64, declination in -1.5..1.5_f64,
    ) {
        let with = horizon(&obstacles);
        let without = horizon(&obstacles[..obstacles.len().saturating_sub(1)]);
        prop_assert!(with.at(azimuth).altitude >= without.at(azimuth).altitude);
        let hours = |h| when_visible(h, declination, latitude, None).unwrap().angle();
        prop_assert!(hours(&with) <= hours(&without) + 1e-9);
        for (a, b) in with.all_round(720).iter().zip(without.all_round(720)) {
            prop_assert!(*a >= b);
        }
    }

    #[test]
    fn sampling_all_round_is_asking_at_each_azimuth(obstacles in obstacles(), steps in 1_u32..800) {
        let horizon = horizon(&obstacles);
        for (i, altitude) in (0..).zip(horizon.all_round(steps)) {
            let azimuth = TAU * f64::from(i) / f64::from(steps);
            prop_assert!((altitude - horizon.at(azimuth).altitude).abs() < 1e-9);
        }
    }

    #[test]
    fn nothing_in_a_view_is_higher_than_its_worst(
        obstacles in obstacles(), from in 0.0..TAU, width in 0.01..TAU, shares in prop::collection::vec(0.001..0.999_f64, 20),
    ) {
        let horizon = horizon(&obstacles);
        let worst = horizon.worst_between(from, from + width);
        for share in shares {
            prop_assert!(horizon.at(from + share * width).altitude <= worst.altitude + 1e-9);
        }
        // And it is really there, at its own azimuth or a hair beside it.
        let near = [-1e-7, 0.0, 1e-7].map(|d| horizon.at(worst.azimuth + d).altitude);
        prop_assert!(near.iter().any(|a| (a - worst.altitude).abs() < 1e-4));
    }

    #[test]
    fn a_star_is_seen_just_when_it_is_above_the_skyline(
        obstacles in obstacles(), latitude in -1.5..1.5_f64, declination in -1.5..1.5_f64,
        hour_angles in prop::collection::vec(-PI..PI, 40), with_air in any::<bool>(),
    ) {
        let horizon = horizon(&obstacles);
        let air = with_air.then_some(Air::STANDARD);
        let visible = when_visible(&horizon, declination, latitude, air).unwrap();
        for h in hour_angles {
            let Horizontal { azimuth, altitude } = horizontal(h, declination, latitude);
            let margin = seen(altitude, air) - horizon.at(azimuth).altitude;
            let edge = visible.arcs.iter().flat_map(|a| [a.0, a.1]).any(|e| {
                apart(e.to_degrees(), h.to_degrees()) < 1e-4
            });
            if margin.abs() > 1e-7 && !edge {
                let up = visible.arcs.iter().any(|(a, b)| (*a..*b).contains(&h) || (*a..*b).contains(&(h + TAU)));
                prop_assert_eq!(up, margin > 0.0);
            }
        }
    }

    #[test]
    fn a_building_turned_turns_its_horizon(obstacles in obstacles(), azimuth in 0.0..TAU, turn in 0.0..TAU) {
        let spin = |p: Point| turned(p, turn);
        let there: Vec<Obstacle> = obstacles.iter().map(|obstacle| match obstacle {
            Obstacle::Wall { from, to } => Obstacle::Wall { from: spin(*from), to: spin(*to) },
            Obstacle::Solid(solid) => Obstacle::Solid(solid.turned(turn)),
            Obstacle::Sphere { centre, radius } => Obstacle::Sphere { centre: spin(*centre), radius: *radius },
            Obstacle::Site { from, to, altitude } => {
                Obstacle::Site { from: from + turn, to: to + turn, altitude: *altitude }
            }
        }).collect();
        let (a, b) = (horizon(&obstacles).at(azimuth).altitude, horizon(&there).at(azimuth + turn).altitude);
        prop_assert!((a - b).abs() < 1e-8);
    }
}

/// By its height there and not at its corners a face that rises 1 in 1 lies over the eye or under it: over it no sky is left, under
/// it that on the side to which it falls.
#[test]
fn a_slope_is_over_the_eye_by_its_height_there() {
    for turn in [0.0, 0.25, 0.5, 0.75].map(|turn| turn * std::f64::consts::TAU) {
        for (height, is_over) in [(0.3, true), (-0.3, false)] {
            let profile = [[-2.0, height - 2.0], [2.0, height + 2.0], [2.0, height + 2.1], [-2.0, height - 1.9]];
            let board = Solid::prism(&profile, -3.0, 3.0).unwrap().turned(turn);
            let sky = Horizon::new([0.0; 3], 0.0, &[Obstacle::Solid(board)]).unwrap().all_round(36);
            let hidden = sky.iter().filter(|altitude| **altitude > 1.5).count();
            let open = sky.iter().filter(|altitude| **altitude < 0.01).count();
            assert_eq!((hidden == 36, open > 9), (is_over, !is_over), "{turn} {height}: {sky:?}");
        }
    }
}
