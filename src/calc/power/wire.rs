//! What a wire costs in volts and what it may carry.
//!
//! In: resistance per length in Ω/m, length one way in m, current in A, temperatures in °C, table ampacities in A.
//! Out: volts lost, amperes allowed. It must not know which wire it is.
//!
//! Temperatures are in °C here and nowhere else in `calc`, because both standards define their formulas in it.

use std::f64::consts::PI;

use crate::calc::FormulaError;
use crate::calc::check::{finite, not_negative, positive, within};

/// A temperature (K) on the Celsius scale, in which both standards reckon. Source: SI brochure (9th ed. 2019) §2.3.1.
#[must_use]
pub fn celsius(kelvin: f64) -> f64 {
    kelvin - 273.15
}

/// How the current comes back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Circuit {
    /// Direct current or single phase: out on one conductor, back on another of the same size.
    TwoWire,
    /// Three balanced phases: the drop between phases is √3 of one conductor's.
    ThreePhase,
}

/// Metal of the conductor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Metal {
    /// Copper, plain or coated.
    Copper,
    /// Aluminium.
    Aluminium,
}

/// Volts lost in a run: `2 I R' L` for two wires, `√3 I R' L` for three phases; `current` in A,
/// `resistance_per_length` in Ω/m at the conductor's working temperature, `length` one way in m.
/// Reactance is left out, which is right for direct current and for wire up to about 50 mm².
///
/// # Errors
/// When an argument is negative.
///
/// Source: Ohm's law. Some marine tables count the length both ways: halve it first.
pub fn voltage_drop(circuit: Circuit, current: f64, resistance_per_length: f64, length: f64) -> Result<f64, FormulaError> {
    not_negative("the current", current)?;
    not_negative("the resistance of the wire", resistance_per_length)?;
    not_negative("the length of the run", length)?;
    let there_and_back = match circuit {
        Circuit::TwoWire => 2.0,
        Circuit::ThreePhase => 3.0_f64.sqrt(),
    };
    Ok(there_and_back * current * resistance_per_length * length)
}

/// Resistance of a wire from its table at 75 °C, brought to `celsius`: `R₇₅ (1 + α (T − 75))` with α = 0.003 23
/// for copper, 0.003 30 for aluminium. Any unit of resistance per length, given back in the same.
///
/// # Errors
/// When the resistance is negative or the temperature is below absolute zero.
///
/// Source: NEC chapter 9, Table 8, note 2.
pub fn resistance_from_75_celsius(metal: Metal, resistance_at_75: f64, celsius: f64) -> Result<f64, FormulaError> {
    let alpha = match metal {
        Metal::Copper => 0.003_23,
        Metal::Aluminium => 0.003_30,
    };
    corrected(resistance_at_75, alpha, celsius - 75.0, celsius)
}

/// Resistance of a wire from its table at 20 °C, brought to `celsius`: `R₂₀ (1 + α (T − 20))` with α = 0.003 93
/// for copper, 0.004 03 for aluminium. The table of rounded factors in the same standard (annex A) was made
/// with 0.004 and differs by up to 0.4 %.
///
/// # Errors
/// When the resistance is negative or the temperature is below absolute zero.
///
/// Source: IEC 60228:2004, annex B.
pub fn resistance_from_20_celsius(metal: Metal, resistance_at_20: f64, celsius: f64) -> Result<f64, FormulaError> {
    let alpha = match metal {
        Metal::Copper => 0.003_93,
        Metal::Aluminium => 0.004_03,
    };
    corrected(resistance_at_20, alpha, celsius - 20.0, celsius)
}

/// Resistance of a wire from its table at `table` °C, brought to `celsius`: by one of the two above.
///
/// # Errors
/// As those, or when the table is for neither 20 °C nor 75 °C.
///
/// Source: NEC chapter 9, Table 8, note 2; IEC 60228:2004, annex B.
pub fn resistance_from_table(metal: Metal, resistance: f64, table: f64, celsius: f64) -> Result<f64, FormulaError> {
    // A table is for a whole number of degrees.
    let is = |usual: f64| (table - usual).abs() < 0.5;
    if is(75.0) {
        resistance_from_75_celsius(metal, resistance, celsius)
    } else if is(20.0) {
        resistance_from_20_celsius(metal, resistance, celsius)
    } else {
        Err(FormulaError::domain("the temperature of the table", "20 degC (IEC 60228) or 75 degC (NEC chapter 9, Table 8)"))
    }
}

fn corrected(resistance: f64, alpha: f64, difference: f64, celsius: f64) -> Result<f64, FormulaError> {
    not_negative("the resistance of the wire", resistance)?;
    within("the temperature of the wire", celsius, -100.0, 300.0, "from -100 to 300 °C")?;
    Ok(resistance * (1.0 + alpha * difference))
}

/// Diameter (m) of a solid wire of American gauge `gauge` (0000 is −3): `0.127 mm · 92^((36 − n)/39)`.
///
/// # Errors
/// When the gauge is not a number from −3 to 40.
///
/// Source: ASTM B258.
pub fn awg_diameter(gauge: f64) -> Result<f64, FormulaError> {
    within("the wire gauge", gauge, -3.0, 40.0, "from -3 (which is 0000) to 40")?;
    Ok(0.127e-3 * 92.0_f64.powf((36.0 - gauge) / 39.0))
}

/// Area of metal (m²) of a wire of American gauge `gauge`.
///
/// # Errors
/// As for [`awg_diameter`].
///
/// Source: ASTM B258.
pub fn awg_area(gauge: f64) -> Result<f64, FormulaError> {
    Ok(PI / 4.0 * awg_diameter(gauge)?.powi(2))
}

/// Resistance per length (Ω/m) by the electrician's constant K (Ω·cmil/ft; 12.9 for copper at 75 °C) over
/// the area of the conductor (m²).
///
/// # Errors
/// When an argument is not positive.
///
/// Source: Ohm's law, in the form `2 K I L/CM`.
pub fn resistance_from_k(k: f64, area: f64) -> Result<f64, FormulaError> {
    const CIRCULAR_MIL: f64 = PI / 4.0 * 25.4e-6 * 25.4e-6;
    const FOOT: f64 = 0.3048;
    positive("the constant K", k)?;
    positive("the area of the wire", area)?;
    Ok(k / (area / CIRCULAR_MIL) / FOOT)
}

/// Factor on an ampacity given for the ambient temperature `table_ambient`, when it is `ambient` instead and
/// the insulation stands `rating` (all °C): `√((Tc − Ta')/(Tc − Ta))`. The code's own table is this rounded to
/// two places for the top of each band of 5 °C, and stops at 10 °C: so the factor does here.
///
/// # Errors
/// When the ambient is not below the rating of the insulation: the wire may carry nothing there.
///
/// Source: NEC 310.15(B), equation and Table 310.15(B)(1)(1).
pub fn ambient_factor(rating: f64, table_ambient: f64, ambient: f64) -> Result<f64, FormulaError> {
    const COLDEST_BAND: f64 = 10.0;
    finite("the temperature rating of the insulation", rating)?;
    if table_ambient >= rating {
        return Err(FormulaError::domain("the ambient temperature of the table", "below the rating of the insulation"));
    }
    if ambient.is_nan() || ambient >= rating {
        return Err(FormulaError::domain("the ambient temperature", "below the rating of the insulation"));
    }
    Ok(((rating - ambient.max(COLDEST_BAND)) / (rating - table_ambient)).sqrt())
}

/// Current (A) that a wire may carry: the table's ampacity times every factor (ambient, bundling), but never
/// more than the lowest of the `limits` (A: the terminals' column, the small-conductor rule).
///
/// # Errors
/// When the ampacity, a factor or a limit is negative.
///
/// Source: the order of NEC 110.14(C), 240.4(D), 310.15: correct first, then cap.
pub fn ampacity(table: f64, factors: &[f64], limits: &[f64]) -> Result<f64, FormulaError> {
    not_negative("the ampacity of the table", table)?;
    let mut amperes = table;
    for factor in factors {
        amperes *= not_negative("a factor on the ampacity", *factor)?;
    }
    for limit in limits {
        amperes = amperes.min(not_negative("a limit on the ampacity", *limit)?);
    }
    Ok(amperes)
}
