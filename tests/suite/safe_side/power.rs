//! Wires, motors, batteries.

use super::{EU, US, number, refused, verdicts};
use approx::assert_relative_eq;
use wallplate::rules::Verdict;

/// NEC (2020) 110.14(C)(1)(a) and the 60 °C column of Table 310.16: 15, 20, 30 (with 240.4(D)), 40 and 55 A from 14 to 6 AWG.
#[test]
fn building_wire_is_limited_by_its_terminals() {
    for (wire, amperes) in [("awg_14", 15.0), ("awg_12", 20.0), ("awg_10", 30.0), ("awg_8", 40.0), ("awg_6", 55.0)] {
        let design = format!("{US}use wire\nsupply s {{ voltage 120 V }}\ncable c {{ from s; wire {wire}; length 5 m; current 1 A }}\n");
        assert_relative_eq!(number(&design, "c.carries"), amperes);
    }
    // A wire of one's own, rated 90 degC, without a word of its terminals: 3 AWG has 110 A in the 90 and 85 A in the 60 degC column.
    let own = "wire own { area 26.7 mm2; resistance 0.245 ohm/kft; resistance_at 75 degC; rating 90 degC; ampacity 110 A; table_ambient 30 degC }\nsupply s { voltage 120 V }\ncable c { from s; wire own; length 5 m; current 1 A }\n";
    let carries = number(&format!("{US}{own}"), "c.carries");
    assert!(carries <= 85.0 && carries > 70.0, "{carries}");
    assert_relative_eq!(number(&format!("{EU}{own}"), "c.carries"), 110.0);
}

fn motor(code: &str, motor: &str) -> String {
    format!(
        "{code}use wire\nsupply s {{ voltage 120 V; peak_current 200 A }}\ncable c {{ from s; wire awg_14; length 5 m }}\n\
         roof r {{ mass 400 kg }}\ndrive d {{ moves r; speed 0.1 m/s; reaction_time 0.1 s }}\n\
         motor m {{ moves d; fed_by c; sort alternating_current; {motor} }}\n"
    )
}

/// NEC (2020) 430.6(A)(1), Table 430.248: 1/2 hp at 115 V is 9.8 A, 3/4 hp 13.8 A; 430.22: the wire is good for 125 % of it.
#[test]
fn a_motor_circuit_takes_the_tables_current_and_a_quarter() {
    let half = motor(US, "current 6 A; power 0.5 hp");
    assert_relative_eq!(number(&half, "c.motor_current"), 1.25 * 9.8, max_relative = 1e-9);
    assert_relative_eq!(number(&half, "c.current"), 6.0);
    assert_eq!(verdicts(&half, "power.wire_ampacity")[0].0, Verdict::Pass);
    // 1.25 x 13.8 = 17.25 A on a wire for 15 A, although 9 A flow.
    let more = verdicts(&motor(US, "current 9 A; power 0.75 hp"), "power.wire_ampacity");
    assert_eq!(more[0].0, Verdict::Fail, "{more:?}");
    // 0.6 hp has no row: the next larger, 3/4 hp. A nameplate that says more counts.
    assert_relative_eq!(number(&motor(US, "current 9 A; power 0.6 hp"), "m.table_current"), 13.8);
    assert_relative_eq!(number(&motor(US, "current 15 A; power 0.75 hp"), "m.table_current"), 15.0);
    // The Eurocode's builder wires by IEC 60364, which asks no quarter.
    assert_relative_eq!(number(&motor(EU, "current 9 A; power 0.75 hp"), "c.motor_current"), 9.0);
    for (sort, volts, horsepower, circuit, printed) in [
        ("direct_current", 90, "0.25 hp", "two_wire", 4.0),
        ("direct_current", 180, "1 hp", "two_wire", 6.1),
        ("alternating_current", 230, "1 hp", "two_wire", 8.0),
        ("alternating_current", 230, "1 hp", "three_phase", 4.2),
        ("alternating_current", 460, "2 hp", "three_phase", 3.4),
        // No table for 24 V: the nameplate's.
        ("direct_current", 24, "0.25 hp", "two_wire", 1.0),
    ] {
        let call = format!("nec_motor_current(sort {sort}, power {horsepower}, voltage {volts} V, circuit {circuit}, nameplate 1 A)");
        assert_relative_eq!(number(US, &call), printed);
    }
}

/// NEC Table 430.7(B): U ends at 22.39 kVA per horsepower, V is 22.4 and up.
#[test]
fn the_code_letter_v_has_no_upper_end() {
    let call = |letter: &str| format!("locked_rotor_current(power 1 hp, code_letter \"{letter}\", voltage 120 V, circuit two_wire)");
    assert_relative_eq!(number(US, &call("U")), 22_390.0 / 120.0, max_relative = 1e-9);
    assert!(refused(US, &call("V")).contains("no upper end"));
    let of_v = motor(US, "current 9 A; power 0.75 hp; code_letter \"V\"");
    assert_eq!(verdicts(&of_v, "power.start_current")[0].0, Verdict::Undetermined);
    let said = motor(US, "current 9 A; power 0.75 hp; code_letter \"V\"; locked_rotor 250 A");
    assert_eq!(verdicts(&said, "power.start_current")[0].0, Verdict::Fail);
}

/// 20 Ah at 0.2 A last 100 h and no longer, whatever Peukert's exponent promises.
#[test]
fn a_battery_does_not_outlast_its_charge() {
    let lasts =
        |current: &str| number(US, &format!("battery_lasts(charge 20 Ah, rated_time 20 h, exponent 1.3, current {current})")) / 3600.0;
    assert_relative_eq!(lasts("0.2 A"), 100.0, max_relative = 1e-9);
    assert_relative_eq!(lasts("1 A"), 20.0, max_relative = 1e-9);
    assert!(lasts("10 A") < 2.0);
}
