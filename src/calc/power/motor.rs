//! What a motor draws at the moment when it starts or is held fast.
//!
//! In: voltages in V, resistances in Ω, shaft power in W, the code letter on the nameplate. Out: amperes, volts.
//! It must not know the drive's force: that is mechanics.

use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive};

/// One mechanical horsepower, W.
const HORSEPOWER: f64 = 745.699_871_582_270_2;

/// Stall current (A) of a direct-current motor: supply voltage over the resistance of winding, wire and
/// source together (Ω). A motor that starts draws the same for a moment.
///
/// # Errors
/// When the voltage is negative or the resistance is not positive.
///
/// Source: Ohm's law; a rotor that stands still makes no counter-voltage.
pub fn stall_current(voltage: f64, resistance: f64) -> Result<f64, FormulaError> {
    not_negative("the supply voltage", voltage)?;
    positive("the resistance of motor and wire", resistance)?;
    Ok(voltage / resistance)
}

/// Voltage (V) left at a motor while it stalls behind a wire: the supply divided between `motor` and `wire`
/// resistance (Ω).
///
/// # Errors
/// When the voltage or the wire's resistance is negative or the motor's is not positive.
///
/// Source: voltage divider.
pub fn voltage_at_stall(supply: f64, motor: f64, wire: f64) -> Result<f64, FormulaError> {
    not_negative("the supply voltage", supply)?;
    positive("the resistance of the motor", motor)?;
    not_negative("the resistance of the wire", wire)?;
    Ok(supply * motor / (motor + wire))
}

/// How many phases feed the motor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Phases {
    /// One phase.
    One,
    /// Three phases.
    Three,
}

/// Band of kilovolt-amperes per horsepower that a locked-rotor code letter stands for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LockedRotorBand {
    /// Lower end, kVA/hp.
    pub low: f64,
    /// Upper end, kVA/hp; `None` for V, which is open upward.
    pub high: Option<f64>,
}

/// Band (kVA per horsepower) of the code letter on the nameplate.
///
/// # Errors
/// When it is not one of the letters A to V that are in use (I, O, Q are not).
///
/// Source: NEC Table 430.7(B), which is that of NEMA MG 1.
#[expect(clippy::approx_constant, reason = "the upper end of band A is 3.14, not a rounded pi")]
pub fn locked_rotor_band(letter: char) -> Result<LockedRotorBand, FormulaError> {
    let (low, high) = match letter.to_ascii_uppercase() {
        'A' => (0.0, 3.14),
        'B' => (3.15, 3.54),
        'C' => (3.55, 3.99),
        'D' => (4.0, 4.49),
        'E' => (4.5, 4.99),
        'F' => (5.0, 5.59),
        'G' => (5.6, 6.29),
        'H' => (6.3, 7.09),
        'J' => (7.1, 7.99),
        'K' => (8.0, 8.99),
        'L' => (9.0, 9.99),
        'M' => (10.0, 11.19),
        'N' => (11.2, 12.49),
        'P' => (12.5, 13.99),
        'R' => (14.0, 15.99),
        'S' => (16.0, 17.99),
        'T' => (18.0, 19.99),
        'U' => (20.0, 22.39),
        'V' => return Ok(LockedRotorBand { low: 22.4, high: None }),
        _ => {
            return Err(FormulaError::domain("the locked-rotor code letter", "a letter from A to V other than I, O and Q"));
        }
    };
    Ok(LockedRotorBand { low, high: Some(high) })
}

/// How the full-load currents of the code's tables are sorted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Feed {
    /// Direct current.
    Direct,
    /// Alternating, one phase.
    OnePhase,
    /// Alternating, three phases.
    ThreePhase,
}

/// A table of full-load currents: the motors' voltages (V) with the range of systems that each stands for; rows of
/// horsepower with the current (A) at each voltage, `NAN` where the code prints none.
struct FullLoad {
    voltages: &'static [(f64, f64)],
    rows: &'static [(f64, &'static [f64])],
}

const NO: f64 = f64::NAN;

/// NEC (2020) Table 430.247: 90, 120, 180, 240 V; a system's voltage up to the next is taken with the lower one, which draws more.
const DIRECT: FullLoad = FullLoad {
    voltages: &[(85.0, 110.0), (110.0, 150.0), (170.0, 215.0), (215.0, 260.0)],
    rows: &[
        (0.25, &[4.0, 3.1, 2.0, 1.6]),
        (1.0 / 3.0, &[5.2, 4.1, 2.6, 2.0]),
        (0.5, &[6.8, 5.4, 3.4, 2.7]),
        (0.75, &[9.6, 7.6, 4.8, 3.8]),
        (1.0, &[12.2, 9.5, 6.1, 4.7]),
        (1.5, &[NO, 13.2, 8.3, 6.6]),
        (2.0, &[NO, 17.0, 10.8, 8.5]),
    ],
};

/// NEC (2020) Table 430.248: 115, 200, 208, 230 V, for systems of 110 to 120 and 220 to 240 V.
const ONE_PHASE: FullLoad = FullLoad {
    voltages: &[(110.0, 127.0), (195.0, 204.0), (204.0, 216.0), (216.0, 250.0)],
    rows: &[
        (1.0 / 6.0, &[4.4, 2.5, 2.4, 2.2]),
        (0.25, &[5.8, 3.3, 3.2, 2.9]),
        (1.0 / 3.0, &[7.2, 4.1, 4.0, 3.6]),
        (0.5, &[9.8, 5.6, 5.4, 4.9]),
        (0.75, &[13.8, 7.9, 7.6, 6.9]),
        (1.0, &[16.0, 9.2, 8.8, 8.0]),
        (1.5, &[20.0, 11.5, 11.0, 10.0]),
        (2.0, &[24.0, 13.8, 13.2, 12.0]),
        (3.0, &[34.0, 19.6, 18.7, 17.0]),
        (5.0, &[56.0, 32.2, 30.8, 28.0]),
    ],
};

/// NEC (2020) Table 430.250, induction motors: 115, 200, 208, 230, 460 V.
const THREE_PHASE: FullLoad = FullLoad {
    voltages: &[(110.0, 127.0), (195.0, 204.0), (204.0, 216.0), (216.0, 250.0), (430.0, 500.0)],
    rows: &[
        (0.5, &[4.4, 2.5, 2.4, 2.2, 1.1]),
        (0.75, &[6.4, 3.7, 3.5, 3.2, 1.6]),
        (1.0, &[8.4, 4.8, 4.6, 4.2, 2.1]),
        (1.5, &[12.0, 6.9, 6.6, 6.0, 3.0]),
        (2.0, &[13.6, 7.8, 7.5, 6.8, 3.4]),
        (3.0, &[NO, 11.0, 10.6, 9.6, 4.8]),
        (5.0, &[NO, 17.5, 16.7, 15.2, 7.6]),
    ],
};

/// Full-load current (A) by which the code has a motor's wire chosen, for a shaft power (W) and the voltage (V) of the system;
/// a power between two rows takes the larger. `None` where the table has no such line: a low-voltage motor, one below its least power.
///
/// Source: NEC (2020) 430.6(A)(1), Tables 430.247, 430.248, 430.250.
#[must_use]
pub fn full_load_current(feed: Feed, shaft_power: f64, voltage: f64) -> Option<f64> {
    let table = match feed {
        Feed::Direct => &DIRECT,
        Feed::OnePhase => &ONE_PHASE,
        Feed::ThreePhase => &THREE_PHASE,
    };
    let column = table.voltages.iter().position(|(from, to)| voltage >= *from && voltage < *to)?;
    let horsepower = shaft_power / HORSEPOWER;
    // A third of a horsepower is 249 W on a nameplate of 250 W.
    let (_, row) = table.rows.iter().find(|(size, _)| horsepower <= size * 1.01)?;
    row.get(column).copied().filter(|current| current.is_finite())
}

/// Locked-rotor current (A) of an alternating-current motor: `hp · (kVA/hp) · 1000/V`, over √3 for three
/// phases. `shaft_power` in W, `kva_per_hp` from [`locked_rotor_band`] (its upper end for the worst), `voltage`
/// in V between the lines.
///
/// # Errors
/// When an argument is negative or the voltage is not positive.
///
/// Source: NEC 430.7(B); NEMA MG 1.
pub fn locked_rotor_current(shaft_power: f64, kva_per_hp: f64, voltage: f64, phases: Phases) -> Result<f64, FormulaError> {
    not_negative("the power of the motor", shaft_power)?;
    not_negative("the kilovolt-amperes per horsepower", kva_per_hp)?;
    positive("the voltage of the motor", voltage)?;
    let volt_amperes = shaft_power / HORSEPOWER * kva_per_hp * 1000.0;
    let line = match phases {
        Phases::One => voltage,
        Phases::Three => voltage * 3.0_f64.sqrt(),
    };
    Ok(volt_amperes / line)
}
