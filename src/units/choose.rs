//! Which unit suits a quantity of a size: for a value nobody gave a unit, and for a hint.
//!
//! In come a dimension, a value in SI base units and the system of the reader; out comes a unit.
//! Metric choices follow the recommendations of the Eurocodes (EN 1992 to EN 1999, clause 1.6:
//! kN, kN/m, kN/m2, kNm, N/mm2), US ones the habit of ASCE 7 and the NDS (psf, plf, psi, ft-lbf).
//! This file must not know how the number itself is written.

use serde::{Deserialize, Serialize};

use super::dim::Dim;
use super::table::all_units;
use super::unit::Unit;

/// The system of units in which a reader thinks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub enum System {
    /// Metres, kilograms, newtons.
    #[default]
    Metric,
    /// Feet, pounds, pounds-force.
    Us,
}

/// The unit in which [`super::show`] writes `si`: the given one if it is of the dimension, else one
/// of the system by size. `None` for a plain number, which needs none.
#[must_use]
pub fn display_unit(si: f64, dim: Dim, unit: Option<&Unit>, system: System) -> Option<Unit> {
    if let Some(unit) = unit.filter(|unit| unit.dim == dim) {
        return Some(unit.clone());
    }
    if dim.is_number() {
        return None;
    }
    // A nought has no size; it is shown in the unit that suits one SI unit.
    let size = if si.abs() < 1e-12 { 1.0 } else { si.abs() };
    let by_size = CHOICES.iter().find(|choice| choice.dim == dim).and_then(|choice| {
        let steps = match system {
            System::Metric => choice.metric,
            System::Us => choice.us,
        };
        let step = steps.iter().rev().find(|(_, from)| size >= *from).or(steps.first());
        step.and_then(|(text, _)| Unit::parse(text).ok())
    });
    by_size.or_else(|| Unit::parse(&dim.base_units()).ok())
}

/// The one unit for several numbers of a dimension (SI base units) that are read beside one another: the one in which
/// their writer thinks of them, or where the least of them reads as a nought with many figures in that, or the
/// greatest has too many before its point, one that suits the least; if that is too small for the greatest, one that suits
/// that. `None` for plain numbers.
#[must_use]
pub fn common_unit(numbers: &[f64], dim: Dim, written: Option<&Unit>, system: System) -> Option<Unit> {
    // A nought reads well in every unit.
    let sizes = || numbers.iter().map(|si| si.abs()).filter(|size| *size >= 1e-12);
    let (least, greatest) = (sizes().fold(f64::INFINITY, f64::min), sizes().fold(0.0, f64::max));
    let least = if least.is_finite() { least } else { 0.0 };
    let written = written.filter(|unit| unit.dim == dim);
    let reads = |unit: &&Unit| least == 0.0 || (unit.from_si(least) >= least_read(unit) && unit.from_si(greatest) < MOST_READ);
    if let Some(unit) = written.filter(reads) {
        return Some(unit.clone());
    }
    let system = written.and_then(system_of).unwrap_or(system);
    let of_least = display_unit(least, dim, None, system)?;
    let fits = of_least.is_feet_inches() || of_least.from_si(greatest) < MOST_READ;
    if fits { Some(of_least) } else { display_unit(greatest, dim, None, system) }
}

/// Whether a number in a sentence is said in the unit of the numbers that the sentence is about: not where it would be read
/// with its noughts or its figures counted, as a place along the building beside a sag.
#[must_use]
pub fn is_said_in(unit: &Unit, si: f64) -> bool {
    const MOST_OF_A_LENGTH: f64 = 1000.0;
    let most = match unit.dim {
        // A tape says a foot and more in feet.
        Dim::LENGTH if unit.text == "in" => 12.0,
        Dim::LENGTH => MOST_OF_A_LENGTH,
        _ => MOST_READ,
    };
    let least = if unit.text == "ft" { 1.0 } else { LEAST_READ };
    si.abs() < 1e-12 || unit.is_feet_inches() || (least..most).contains(&unit.from_si(si).abs())
}

/// Less than this of a unit is read with its noughts counted; among the numbers that a sentence is about, less than
/// [`LEAST_COMPARED`] of it.
const LEAST_READ: f64 = 0.01;
const LEAST_COMPARED: f64 = 0.1;
/// From here on a number has too many figures before its point.
const MOST_READ: f64 = 10_000.0;

/// What a number comes to at least that is compared in this unit: under a foot a tape reads inches.
fn least_read(unit: &Unit) -> f64 {
    if unit.text == "ft" { 1.0 } else { LEAST_COMPARED }
}

/// The handful of units that a person would write for a dimension, most used first, metric and US.
#[must_use]
pub fn units_for(dim: Dim) -> Vec<&'static str> {
    CHOICES
        .iter()
        .find(|choice| choice.dim == dim)
        .map_or_else(|| all_units().iter().filter(|def| def.dim == dim).map(|def| def.symbol).collect(), |choice| choice.usual.to_vec())
}

/// The system that a unit belongs to; `None` for one that both use, like a second or a degree.
#[must_use]
pub fn system_of(unit: &Unit) -> Option<System> {
    fn parts(text: &str) -> impl Iterator<Item = &str> {
        text.split(|c: char| !c.is_alphabetic()).filter(|part| !part.is_empty())
    }
    let among = |steps: fn(&Choice) -> &'static [(&'static str, f64)]| {
        parts(&unit.text).any(|part| CHOICES.iter().flat_map(steps).any(|(known, _)| parts(known).any(|known| known == part)))
    };
    match (among(|choice| choice.metric), among(|choice| choice.us)) {
        (true, false) => Some(System::Metric),
        (false, true) => Some(System::Us),
        _ => None,
    }
}

struct Choice {
    dim: Dim,
    usual: &'static [&'static str],
    /// Units with the SI value from which they are used, ascending.
    metric: &'static [(&'static str, f64)],
    us: &'static [(&'static str, f64)],
}

const fn choice(
    dim: Dim,
    usual: &'static [&'static str],
    metric: &'static [(&'static str, f64)],
    us: &'static [(&'static str, f64)],
) -> Choice {
    Choice { dim, usual, metric, us }
}

static CHOICES: &[Choice] = &[
    choice(Dim::NUMBER, &["%"], &[], &[]),
    choice(Dim::LENGTH, &["m", "mm", "ft", "in"], &[("um", 0.0), ("mm", 1e-5), ("m", 1.0), ("km", 1e4)], &[("ft in", 0.0), ("mi", 3000.0)]),
    choice(Dim::AREA, &["m2", "mm2", "ft2", "in2"], &[("mm2", 0.0), ("m2", 0.01)], &[("in2", 0.0), ("ft2", 0.09)]),
    choice(Dim::VOLUME, &["m3", "L", "ft3", "yd3"], &[("mm3", 0.0), ("cm3", 1e-7), ("m3", 0.01)], &[("in3", 0.0), ("ft3", 0.028)]),
    choice(Dim::WARPING, &["cm6", "mm6", "in6"], &[("mm6", 0.0), ("cm6", 1e-12)], &[("in6", 0.0)]),
    choice(Dim::SECOND_MOMENT, &["cm4", "mm4", "in4"], &[("mm4", 0.0), ("cm4", 1e-8)], &[("in4", 0.0)]),
    choice(Dim::MASS, &["kg", "lb", "t", "g"], &[("g", 0.0), ("kg", 0.1), ("t", 1e4)], &[("oz", 0.0), ("lb", 0.4)]),
    choice(
        Dim::TIME,
        &["s", "min", "h", "day"],
        &[("ms", 0.0), ("s", 0.1), ("min", 300.0), ("h", 7200.0), ("day", 172_800.0)],
        &[("ms", 0.0), ("s", 0.1), ("min", 300.0), ("h", 7200.0), ("day", 172_800.0)],
    ),
    choice(
        Dim::ANGLE,
        &["deg", "arcmin", "arcsec", "rad"],
        &[("arcsec", 0.0), ("arcmin", 2.9e-4), ("deg", 1.7e-3)],
        &[("arcsec", 0.0), ("arcmin", 2.9e-4), ("deg", 1.7e-3)],
    ),
    choice(Dim::TEMPERATURE, &["degC", "degF"], &[("degC", 0.0)], &[("degF", 0.0)]),
    choice(Dim::TEMPERATURE_DIFFERENCE, &["K"], &[("K", 0.0)], &[("K", 0.0)]),
    choice(Dim::EXPANSION, &["1/K", "1/degF"], &[("1/K", 0.0)], &[("1/degF", 0.0)]),
    choice(Dim::FREQUENCY, &["Hz", "1/s"], &[("Hz", 0.0), ("kHz", 1e4)], &[("Hz", 0.0), ("kHz", 1e4)]),
    choice(
        Dim::SPEED,
        &["m/s", "mph", "km/h", "ft/s"],
        &[("mm/s", 0.0), ("m/s", 0.1)],
        // Whatever goes faster than a person walks on such a site is a wind.
        &[("in/s", 0.0), ("ft/s", 0.3), ("mph", 4.0)],
    ),
    choice(Dim::ACCELERATION, &["m/s2", "ft/s2", "g0"], &[("m/s2", 0.0)], &[("ft/s2", 0.0)]),
    choice(Dim::ANGULAR_SPEED, &["rpm", "deg/s", "rad/s"], &[("deg/s", 0.0), ("rpm", 0.1)], &[("deg/s", 0.0), ("rpm", 0.1)]),
    choice(Dim::FLOW, &["m3/h", "L/s", "cfm"], &[("m3/h", 0.0)], &[("cfm", 0.0)]),
    choice(Dim::FORCE, &["kN", "N", "lbf", "kip"], &[("N", 0.0), ("kN", 1e3), ("MN", 1e6)], &[("lbf", 0.0), ("kip", 44_000.0)]),
    choice(
        Dim::MOMENT,
        &["Nm", "kNm", "ft-lbf", "in-lbf", "J", "kWh"],
        &[("Nm", 0.0), ("kNm", 1e3)],
        &[("in-lbf", 0.0), ("ft-lbf", 1.3), ("kip-ft", 13_000.0)],
    ),
    choice(
        Dim::PRESSURE,
        &["kN/m2", "N/mm2", "psf", "psi"],
        &[("Pa", 0.0), ("kN/m2", 1e3), ("N/mm2", 1e6)],
        &[("psf", 0.0), ("psi", 480_000.0), ("ksi", 1.3e8)],
    ),
    choice(
        Dim::LINE_LOAD,
        &["kN/m", "N/m", "plf", "lbf/in"],
        &[("N/m", 0.0), ("kN/m", 1e3), ("MN/m", 1e6)],
        &[("plf", 0.0), ("klf", 145_000.0)],
    ),
    choice(Dim::WEIGHT_DENSITY, &["kN/m3", "lbf/ft3"], &[("kN/m3", 0.0)], &[("lbf/ft3", 0.0)]),
    choice(Dim::FLEXURAL_RIGIDITY, &["kN*m2", "N*mm2", "lbf*in2"], &[("N*m2", 0.0), ("kN*m2", 1e3)], &[("lbf*in2", 0.0)]),
    choice(Dim::ROTATIONAL_STIFFNESS, &["kNm/rad", "Nm/deg", "ft-lbf/rad"], &[("Nm/rad", 0.0), ("kNm/rad", 1e3)], &[("ft-lbf/rad", 0.0)]),
    choice(Dim::DENSITY, &["kg/m3", "pcf"], &[("kg/m3", 0.0)], &[("pcf", 0.0)]),
    choice(Dim::AREA_DENSITY, &["kg/m2", "lb/ft2"], &[("kg/m2", 0.0)], &[("lb/ft2", 0.0)]),
    choice(Dim::LINE_DENSITY, &["kg/m", "lb/ft"], &[("kg/m", 0.0)], &[("lb/ft", 0.0)]),
    choice(Dim::INERTIA, &["kg*m2", "lb*ft2"], &[("kg*m2", 0.0)], &[("lb*ft2", 0.0)]),
    choice(Dim::POWER, &["W", "kW", "hp"], &[("mW", 0.0), ("W", 0.1), ("kW", 1e3)], &[("mW", 0.0), ("W", 0.1), ("kW", 1e3)]),
    choice(Dim::CURRENT, &["A", "mA"], &[("mA", 0.0), ("A", 0.5)], &[("mA", 0.0), ("A", 0.5)]),
    choice(Dim::CHARGE, &["Ah", "mAh"], &[("mAh", 0.0), ("Ah", 3600.0)], &[("mAh", 0.0), ("Ah", 3600.0)]),
    choice(Dim::VOLTAGE, &["V", "mV", "kV"], &[("mV", 0.0), ("V", 0.5), ("kV", 1e3)], &[("mV", 0.0), ("V", 0.5), ("kV", 1e3)]),
    choice(
        Dim::RESISTANCE,
        &["ohm", "mohm", "kohm"],
        &[("mohm", 0.0), ("ohm", 0.5), ("kohm", 1e3), ("Mohm", 1e6)],
        &[("mohm", 0.0), ("ohm", 0.5), ("kohm", 1e3), ("Mohm", 1e6)],
    ),
    choice(Dim::RESISTANCE_PER_LENGTH, &["ohm/km", "mohm/m", "ohm/kft"], &[("ohm/km", 0.0)], &[("ohm/kft", 0.0)]),
    choice(Dim::FLUX_DENSITY, &["mT", "gauss", "T"], &[("mT", 0.0), ("T", 0.5)], &[("gauss", 0.0)]),
    choice(Dim::MONEY, &["EUR", "USD", "GBP"], &[("money", 0.0)], &[("money", 0.0)]),
];
