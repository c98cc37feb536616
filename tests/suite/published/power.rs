//! Wire, motors and batteries against codes and printed examples.

use approx::assert_relative_eq;
use wallplate::calc::power::battery::{Battery, Draw, lasts, stroke_charge, strokes};
use wallplate::calc::power::motor::{Phases, locked_rotor_band, locked_rotor_current, stall_current, voltage_at_stall};
use wallplate::calc::power::wire::{
    Circuit, Metal, ambient_factor, ampacity, awg_area, awg_diameter, resistance_from_20_celsius, resistance_from_75_celsius,
    resistance_from_k, voltage_drop,
};

const FOOT: f64 = 0.3048;
const CIRCULAR_MIL: f64 = std::f64::consts::PI / 4.0 * 25.4e-6 * 25.4e-6;
const HOUR: f64 = 3600.0;
const HORSEPOWER: f64 = 745.699_871_582_270_2;

/// Ω per 1000 ft to Ω/m.
fn per_kilofoot(ohms: f64) -> f64 {
    ohms / (1000.0 * FOOT)
}

#[test]
fn circular_mils_of_american_gauges() {
    // NEC chapter 9 Table 8: squares of diameters rounded to 0.1 mil, themselves rounded to 10 circular mils.
    for (gauge, mils) in [(14.0, 4110.0), (12.0, 6530.0), (10.0, 10_380.0), (8.0, 16_510.0), (6.0, 26_240.0)] {
        let tenths = (awg_diameter(gauge).unwrap() / 25.4e-6 * 10.0).round() / 10.0;
        assert!((tenths * tenths - mils).abs() <= 5.0, "{gauge}");
        assert_relative_eq!(awg_area(gauge).unwrap() / CIRCULAR_MIL, mils, max_relative = 1e-3);
    }
    // ASTM B258: 36 is 0.005 in, 0000 is 0.46 in, exactly.
    assert_relative_eq!(awg_diameter(36.0).unwrap(), 0.005 * 0.0254, max_relative = 1e-12);
    assert_relative_eq!(awg_diameter(-3.0).unwrap(), 0.46 * 0.0254, max_relative = 1e-12);
    assert!(awg_diameter(-4.0).is_err());
}

#[test]
fn drops_by_the_constant_k() {
    // Printed: 120 V, 20 A, 100 ft: 12 AWG 7.9 V, 8 AWG 3.1 V with K = 12.9.
    for (mils, volts, share) in [(6530.0, 7.9, 0.066), (16_510.0, 3.1, 0.026)] {
        let r = resistance_from_k(12.9, mils * CIRCULAR_MIL).unwrap();
        let drop = voltage_drop(Circuit::TwoWire, 20.0, r, 100.0 * FOOT).unwrap();
        assert!((drop - volts).abs() < 0.05, "{drop}");
        assert!((drop / 120.0 - share).abs() < 0.0005);
    }
}

#[test]
#[expect(clippy::approx_constant, reason = "14 AWG stranded is 3.14 ohms per 1000 ft in the table")]
fn drops_by_the_table_of_the_national_code() {
    // NEC chapter 9 Table 8 (Ω/kft at 75 °C): V, A, ft, Ω/kft → volts, per cent; 2 I R L.
    let cases = [
        (120.0, 20.0, 100.0, 1.93, 7.72, 6.433),
        (120.0, 20.0, 100.0, 1.98, 7.92, 6.6),
        (24.0, 10.0, 30.0, 1.98, 1.188, 4.95),
        (24.0, 10.0, 30.0, 1.93, 1.158, 4.825),
        (12.0, 8.0, 25.0, 1.24, 0.496, 4.133),
        (120.0, 16.0, 100.0, 1.24, 3.968, 3.307),
        (120.0, 8.0, 120.0, 3.14, 6.029, 5.024),
        (120.0, 8.0, 120.0, 3.07, 5.894, 4.912),
        (120.0, 12.0, 80.0, 1.98, 3.802, 3.168),
        (120.0, 12.0, 80.0, 1.93, 3.706, 3.088),
    ];
    for (supply, current, feet, ohms, volts, per_cent) in cases {
        let drop = voltage_drop(Circuit::TwoWire, current, per_kilofoot(ohms), feet * FOOT).unwrap();
        assert_relative_eq!(drop, volts, max_relative = 2e-4);
        assert_relative_eq!(drop / supply * 100.0, per_cent, max_relative = 2e-4);
    }
}

#[test]
fn drops_by_the_international_table() {
    // IEC 60228 (Ω/km at 20 °C): V, A, m, Ω/km → volts, per cent.
    let cases = [
        (24.0, 10.0, 10.0, 7.41, 1.482, 6.175),
        (24.0, 10.0, 10.0, 7.98, 1.596, 6.65),
        (230.0, 10.0, 25.0, 7.41, 3.705, 1.611),
        (12.0, 20.0, 4.0, 3.08, 0.4928, 4.107),
        (230.0, 6.0, 40.0, 12.1, 5.808, 2.525),
    ];
    for (supply, current, metres, ohms, volts, per_cent) in cases {
        let drop = voltage_drop(Circuit::TwoWire, current, ohms / 1000.0, metres).unwrap();
        assert_relative_eq!(drop, volts, max_relative = 2e-4);
        assert_relative_eq!(drop / supply * 100.0, per_cent, max_relative = 2e-4);
    }
    let hot = resistance_from_20_celsius(Metal::Copper, 7.41e-3, 70.0).unwrap();
    assert_relative_eq!(voltage_drop(Circuit::TwoWire, 10.0, hot, 10.0).unwrap(), 1.773, max_relative = 5e-4);
    let three = voltage_drop(Circuit::ThreePhase, 10.0, 7.41e-3, 25.0).unwrap();
    assert_relative_eq!(three, 3.705 * 3.0_f64.sqrt() / 2.0, max_relative = 1e-12);
    assert!(voltage_drop(Circuit::TwoWire, -1.0, 7.41e-3, 25.0).is_err());
}

#[test]
fn resistance_and_temperature() {
    // IEC 60228 annex B: copper k = 254.5/(234.5 + t) = 1/(1 + 0.003 93 (t − 20)), aluminium 248/(228 + t): the two forms
    // printed side by side agree to 2 in 10 000.
    for celsius in [5.0, 20.0, 40.0, 75.0, 90.0] {
        let copper = resistance_from_20_celsius(Metal::Copper, 1.0, celsius).unwrap();
        assert_relative_eq!(copper, (234.5 + celsius) / 254.5, max_relative = 2e-4);
        let aluminium = resistance_from_20_celsius(Metal::Aluminium, 1.0, celsius).unwrap();
        assert_relative_eq!(aluminium, (228.0 + celsius) / 248.0, max_relative = 4e-4);
    }
    assert_relative_eq!(resistance_from_20_celsius(Metal::Copper, 1.0, 75.0).unwrap(), 1.2161, max_relative = 1e-4);
    // Annex A's rounded table at 75 °C is 0.820: made with 0.004, so off by 0.3 %.
    let ours = 1.0 / resistance_from_20_celsius(Metal::Copper, 1.0, 75.0).unwrap();
    assert!((ours / 0.820 - 1.0).abs() < 4e-3);
    // NEC Table 8 note 2: nothing changes at 75 °C; 0.003 23 and 0.003 30 a degree.
    assert_relative_eq!(resistance_from_75_celsius(Metal::Copper, 1.98, 75.0).unwrap(), 1.98);
    assert_relative_eq!(resistance_from_75_celsius(Metal::Copper, 1.0, 25.0).unwrap(), 0.8385, max_relative = 1e-9);
    assert_relative_eq!(resistance_from_75_celsius(Metal::Aluminium, 1.0, 90.0).unwrap(), 1.0495, max_relative = 1e-9);
}

#[test]
fn the_codes_own_table_of_ambient_factors() {
    // NEC Table 310.15(B)(1) (IRC E3705.2), top of each band, columns 60, 75, 90 °C. One cell each side of nothing.
    let table = [
        (10.0, [1.29, 1.20, 1.15]),
        (15.0, [1.22, 1.15, 1.12]),
        (20.0, [1.15, 1.11, 1.08]),
        (25.0, [1.08, 1.05, 1.04]),
        (30.0, [1.00, 1.00, 1.00]),
        (35.0, [0.91, 0.94, 0.96]),
        (40.0, [0.82, 0.88, 0.91]),
        (45.0, [0.71, 0.82, 0.87]),
        (50.0, [0.58, 0.75, 0.82]),
        (55.0, [0.41, 0.67, 0.76]),
    ];
    for (ambient, row) in table {
        for (rating, factor) in [60.0, 75.0, 90.0].into_iter().zip(row) {
            let ours = ambient_factor(rating, 30.0, ambient).unwrap();
            assert!((ours - factor).abs() < 0.0051, "{rating} {ambient}: {ours} {factor}");
        }
    }
    // Colder than the table's first band gains nothing more; hotter than the insulation stands is refused.
    assert_relative_eq!(ambient_factor(75.0, 30.0, -20.0).unwrap(), ambient_factor(75.0, 30.0, 10.0).unwrap());
    assert!(ambient_factor(60.0, 30.0, 60.0).is_err());
}

#[test]
fn ampacity_is_corrected_first_and_capped_then() {
    // NEC: 12 AWG, 75 °C column 25 A, ambient 40 °C x 0.88: 22 A, then 240.4(D) holds it at 20 A.
    assert_relative_eq!(ampacity(25.0, &[0.88], &[]).unwrap(), 22.0, max_relative = 1e-12);
    assert_relative_eq!(ampacity(25.0, &[0.88], &[20.0]).unwrap(), 20.0, max_relative = 1e-12);
    assert_relative_eq!(ampacity(30.0, &[0.82, 0.8], &[25.0, 20.0]).unwrap(), 19.68, max_relative = 1e-12);
    assert!(ampacity(25.0, &[-1.0], &[]).is_err());
}

#[test]
fn locked_rotor_currents() {
    // Printed: 20 hp, 460 V three phases, code G (most 6.29): 125.8 kVA, 158 A.
    let current = |hp: f64, letter, volts, phases| {
        let most = locked_rotor_band(letter).unwrap().high.unwrap();
        locked_rotor_current(hp * HORSEPOWER, most, volts, phases).unwrap()
    };
    assert_relative_eq!(current(20.0, 'G', 460.0, Phases::Three), 158.0, max_relative = 2e-3);
    assert_relative_eq!(current(0.5, 'K', 230.0, Phases::One), 19.54, max_relative = 5e-4);
    assert_relative_eq!(current(0.75, 'j', 120.0, Phases::One), 49.94, max_relative = 5e-4);
}

#[test]
fn code_letters_leave_no_gap() {
    // NEC Table 430.7(B): each band begins 0.01 after the last one ended.
    let letters = "ABCDEFGHJKLMNPRSTUV";
    for pair in letters.as_bytes().windows(2) {
        let end = locked_rotor_band(pair[0].into()).unwrap().high.unwrap();
        let begin = locked_rotor_band(pair[1].into()).unwrap().low;
        assert!((begin - end - 0.01).abs() < 1e-9);
    }
    assert_eq!(locked_rotor_band('V').unwrap().high, None);
    assert!(locked_rotor_band('I').is_err());
    assert!(locked_rotor_band('Q').is_err());
}

#[test]
fn direct_current_stall() {
    // 24 V over 0.35 Ω: 68.6 A.
    assert_relative_eq!(stall_current(24.0, 0.35).unwrap(), 68.6, max_relative = 1e-3);
    assert_relative_eq!(voltage_at_stall(24.0, 0.35, 0.05).unwrap(), 21.0, max_relative = 1e-12);
    assert!(stall_current(24.0, 0.0).is_err());
}

#[test]
fn peukert_with_the_rated_time() {
    // 100 A·h at 20 h, k = 1.2: 5, 10, 20 A last 20.00, 8.706, 3.789 h; 35 A·h, k = 1.25, 12 A: 1.802 h (21.63 A·h).
    let battery = Battery { charge: 100.0 * HOUR, rated_time: 20.0 * HOUR, exponent: 1.2 };
    for (current, hours) in [(5.0, 20.0), (10.0, 8.706), (20.0, 3.789)] {
        assert_relative_eq!(lasts(battery, current).unwrap() / HOUR, hours, max_relative = 3e-4);
    }
    let small = Battery { charge: 35.0 * HOUR, rated_time: 20.0 * HOUR, exponent: 1.25 };
    assert_relative_eq!(lasts(small, 12.0).unwrap() / HOUR, 1.802, max_relative = 3e-4);
    assert_relative_eq!(lasts(small, 12.0).unwrap() / HOUR * 12.0, 21.63, max_relative = 3e-4);
    assert!(lasts(Battery { exponent: 0.9, ..small }, 12.0).is_err());
}

#[test]
fn strokes_in_a_battery() {
    // 9 A for 45 s and 40 A for 0.3 s: 0.1158 A·h, 2.78 W·h at 24 V.
    let stroke = [Draw { current: 9.0, time: 45.0 }, Draw { current: 40.0, time: 0.3 }];
    let charge = stroke_charge(&stroke).unwrap() / HOUR;
    assert_relative_eq!(charge, 0.1158, max_relative = 5e-4);
    assert_relative_eq!(charge * 24.0, 2.78, max_relative = 1e-3);
    // An ideal battery of 10 A·h, half of it usable: 5/0.115 83 strokes.
    let ideal = Battery { charge: 10.0 * HOUR, rated_time: 20.0 * HOUR, exponent: 1.0 };
    assert_relative_eq!(strokes(ideal, 0.5, &stroke).unwrap(), 5.0 / charge, max_relative = 1e-12);
    // One of lead gives fewer: one part, 9 A, lasts H (C/(I H))^k.
    let lead = Battery { exponent: 1.2, ..ideal };
    let run = [Draw { current: 9.0, time: 45.0 }];
    assert_relative_eq!(strokes(lead, 1.0, &run).unwrap(), lasts(lead, 9.0).unwrap() / 45.0, max_relative = 1e-12);
    assert!(strokes(lead, 0.5, &stroke).unwrap() < strokes(ideal, 0.5, &stroke).unwrap());
    // Below the rated current the plain charge counts and no gain.
    let trickle = [Draw { current: 0.1, time: 360.0 }];
    assert_relative_eq!(strokes(lead, 1.0, &trickle).unwrap(), 1000.0, max_relative = 1e-12);
    assert!(strokes(lead, 0.5, &[]).is_err());
    assert!(strokes(lead, 1.5, &run).is_err());
}
