//! How much the air lifts a star near the horizon.
//!
//! In: altitudes in rad, pressure in Pa, temperature in K. Out: the lift in rad.
//! It must not be taken for exact: near the horizon the real air differs from day to day by more than these
//! formulas from each other.

use std::f64::consts::PI;

use crate::calc::FormulaError;
use crate::calc::check::within;

/// Pressure of the air for which both formulas were fitted, Pa: 1010 hPa (Meeus, Astronomical Algorithms, ch. 16).
pub const STANDARD_PRESSURE: f64 = 101_000.0;
/// Its temperature, K: 10 °C (Meeus, Astronomical Algorithms, ch. 16).
pub const STANDARD_TEMPERATURE: f64 = 283.15;

/// The air at the telescope.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Pressure at the place itself (not reduced to sea level), Pa.
    pressure: f64,
    /// Temperature, K.
    temperature: f64,
}

impl Air {
    /// The air for which both formulas were fitted: 1010 hPa and 10 °C.
    pub const STANDARD: Self = Self { pressure: STANDARD_PRESSURE, temperature: STANDARD_TEMPERATURE };

    /// Air of a pressure at the place itself (not reduced to sea level, Pa) and a temperature (K).
    ///
    /// # Errors
    /// When pressure or temperature are not such that people observe in.
    pub fn new(pressure: f64, temperature: f64) -> Result<Self, FormulaError> {
        within("the air pressure", pressure, 30_000.0, 110_000.0, "that of the place itself, from 300 to 1100 hPa")?;
        within("the air temperature", temperature, 173.0, 343.0, "from -100 to 70 °C")?;
        Ok(Self { pressure, temperature })
    }

    /// Factor on the standard lift: `P/1010 · 283/(273 + T)`, P in hPa and T in °C.
    fn factor(self) -> f64 {
        self.pressure / STANDARD_PRESSURE * 283.0 / (273.0 + self.temperature - 273.15)
    }
}

/// Lowest altitude for which the formulas are used, degrees. Below, the lift is held: they were not made for it and
/// run into a pole at −4.4° and −5.1°.
const LOWEST_DEGREES: f64 = -1.0;

/// Lift (rad) of a star seen at the altitude `apparent` (rad): `1/tan(h + 7.31/(h + 4.4))` minutes of arc, h in
/// degrees.
///
/// Source: Bennett 1982, as in Meeus, Astronomical Algorithms, 16.3 (without his correction at the zenith).
#[must_use]
pub fn bennett(apparent: f64, air: Air) -> f64 {
    lift(apparent, 1.0, 7.31, 4.4, air)
}

/// Lift (rad) of a star whose altitude without air is `airless` (rad): `1.02/tan(h + 10.3/(h + 5.11))` minutes of
/// arc, h in degrees.
///
/// Source: Sæmundsson 1986, as in Meeus, Astronomical Algorithms, 16.4 (without his correction at the zenith).
#[must_use]
pub fn saemundsson(airless: f64, air: Air) -> f64 {
    lift(airless, 1.02, 10.3, 5.11, air)
}

fn lift(altitude: f64, scale: f64, top: f64, bottom: f64, air: Air) -> f64 {
    let h = altitude.to_degrees().max(LOWEST_DEGREES);
    let minutes = scale / (h + top / (h + bottom)).to_radians().tan();
    minutes * PI / (180.0 * 60.0) * air.factor()
}

/// Altitude (rad) at which a star is seen whose altitude without air is `airless` (rad); no air, no lift.
#[must_use]
pub fn seen(airless: f64, air: Option<Air>) -> f64 {
    airless + air.map_or(0.0, |air| saemundsson(airless, air))
}
