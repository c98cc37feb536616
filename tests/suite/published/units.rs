//! Units against NIST Special Publication 811 (2008 edition), against the units library `pint`
//! (`data/units_pint.json`, made by `units_reference.py`), and against themselves by properties.

use std::collections::{BTreeMap, BTreeSet};

use proptest::prelude::*;
use wallplate::units::{
    Dim, STANDARD_GRAVITY, System, Unit, all_units, as_mass, as_weight, display_unit, figures, same, show, show_apart, show_exact,
    units_for,
};

fn unit(text: &str) -> Unit {
    Unit::parse(text).unwrap_or_else(|error| panic!("{text}: {error}"))
}

fn relative(a: f64, b: f64) -> f64 {
    if a == b { 0.0 } else { (a - b).abs() / a.abs().max(b.abs()) }
}

// ---------------------------------------------------------------- NIST SP 811

/// Appendix B.8 as printed: what is converted from, the factor, and whether that is exact (bold).
const NIST_B8: &[(&str, &str, &str, bool)] = &[
    ("g0", "acceleration of free fall, standard (gn)", "9.806 65 E+00", true),
    ("Ah", "ampere hour (A h)", "3.6 E+03", true),
    ("bar", "bar (bar)", "1.0 E+05", true),
    ("Btu", "British thermal unit-IT (Btu-IT)", "1.055 056 E+03", false),
    ("Btu/h", "British thermal unit-IT per hour (Btu-IT/h)", "2.930 711 E-01", false),
    ("ft2*degF*h/Btu", "degree Fahrenheit hour square foot per British thermal unit-IT", "1.761 102 E-01", false),
    ("ft3", "cubic foot (ft3)", "2.831 685 E-02", false),
    ("cuft", "cubic foot (ft3)", "2.831 685 E-02", false),
    ("cfm", "cubic foot per minute (ft3/min)", "4.719 474 E-04", false),
    ("in3", "cubic inch (in3)", "1.638 706 E-05", false),
    ("yd3", "cubic yard (yd3)", "7.645 549 E-01", false),
    ("cuyd", "cubic yard (yd3)", "7.645 549 E-01", false),
    ("day", "day (d)", "8.64 E+04", true),
    ("deg", "degree (angle)", "1.745 329 E-02", false),
    ("1/degC", "degree Celsius (temperature interval)", "1.0 E+00", true),
    ("degF", "degree Fahrenheit (temperature interval)", "5.555 556 E-01", false),
    ("ft", "foot (ft)", "3.048 E-01", true),
    ("ft/min", "foot per minute (ft/min)", "5.08 E-03", true),
    ("ft/s", "foot per second (ft/s)", "3.048 E-01", true),
    ("ft/s2", "foot per second squared (ft/s2)", "3.048 E-01", true),
    ("ft-lbf", "foot pound-force (ft lbf)", "1.355 818 E+00", false),
    ("ft-lbf/s", "foot pound-force per second (ft lbf/s)", "1.355 818 E+00", false),
    ("ft4", "foot to the fourth power (ft4)", "8.630 975 E-03", false),
    ("gal", "gallon (U.S.) (gal)", "3.785 412 E-03", false),
    ("gal/min", "gallon (U.S.) per minute (gpm) (gal/min)", "6.309 020 E-05", false),
    ("gauss", "gauss (Gs, G)", "1.0 E-04", true),
    ("gon", "gon (also called grade) (gon)", "1.570 796 E-02", false),
    ("g/cm3", "gram per cubic centimeter (g/cm3)", "1.0 E+03", true),
    ("hp", "horsepower (550 ft lbf/s)", "7.456 999 E+02", false),
    ("h", "hour (h)", "3.6 E+03", true),
    ("in", "inch (in)", "2.54 E-02", true),
    ("in/s", "inch per second (in/s)", "2.54 E-02", true),
    ("in4", "inch to the fourth power (in4)", "4.162 314 E-07", false),
    ("kgf", "kilogram-force (kgf)", "9.806 65 E+00", true),
    ("kgf*m", "kilogram-force meter (kgf m)", "9.806 65 E+00", true),
    ("kgf/cm2", "kilogram-force per square centimeter (kgf/cm2)", "9.806 65 E+04", true),
    ("kgf/m2", "kilogram-force per square meter (kgf/m2)", "9.806 65 E+00", true),
    ("km/h", "kilometer per hour (km/h)", "2.777 778 E-01", false),
    ("kp", "kilopond (kilogram-force) (kp)", "9.806 65 E+00", true),
    ("kWh", "kilowatt hour (kW h)", "3.6 E+06", true),
    ("kip", "kip (1 kip = 1000 lbf)", "4.448 222 E+03", false),
    ("ksi", "kip per square inch (ksi) (kip/in2)", "6.894 757 E+06", false),
    ("kip/in2", "kip per square inch (ksi) (kip/in2)", "6.894 757 E+06", false),
    ("knot", "knot (nautical mile per hour)", "5.144 444 E-01", false),
    ("L", "liter (L)", "1.0 E-03", true),
    ("micron", "micron", "1.0 E-06", true),
    ("mil", "mil (0.001 in)", "2.54 E-05", true),
    ("mi", "mile (mi)", "1.609 344 E+03", true),
    ("mph", "mile per hour (mi/h)", "4.4704 E-01", true),
    ("mbar", "millibar (mbar)", "1.0 E+02", true),
    ("arcmin", "minute (angle)", "2.908 882 E-04", false),
    ("min", "minute (min)", "6.0 E+01", true),
    ("oz", "ounce (avoirdupois) (oz)", "2.834 952 E-02", false),
    ("ozf", "ounce (avoirdupois)-force (ozf)", "2.780 139 E-01", false),
    ("ozf*in", "ounce (avoirdupois)-force inch (ozf in)", "7.061 552 E-03", false),
    ("oz/ft2", "ounce (avoirdupois) per square foot (oz/ft2)", "3.051 517 E-01", false),
    ("lb", "pound (avoirdupois) (lb)", "4.535 924 E-01", false),
    ("lb*ft2", "pound foot squared (lb ft2)", "4.214 011 E-02", false),
    ("lbf", "pound-force (lbf)", "4.448 222 E+00", false),
    ("lbf*ft", "pound-force foot (lbf ft)", "1.355 818 E+00", false),
    ("in-lbf", "pound-force inch (lbf in)", "1.129 848 E-01", false),
    ("lbf*in", "pound-force inch (lbf in)", "1.129 848 E-01", false),
    ("plf", "pound-force per foot (lbf/ft)", "1.459 390 E+01", false),
    ("lbf/in", "pound-force per inch (lbf/in)", "1.751 268 E+02", false),
    ("psf", "pound-force per square foot (lbf/ft2)", "4.788 026 E+01", false),
    ("lbf/in2", "pound-force per square inch (psi) (lbf/in2)", "6.894 757 E+03", false),
    ("lb*in2", "pound inch squared (lb in2)", "2.926 397 E-04", false),
    ("pcf", "pound per cubic foot (lb/ft3)", "1.601 846 E+01", false),
    ("lb/in3", "pound per cubic inch (lb/in3)", "2.767 990 E+04", false),
    ("lb/yd3", "pound per cubic yard (lb/yd3)", "5.932 764 E-01", false),
    ("lb/ft", "pound per foot (lb/ft)", "1.488 164 E+00", false),
    ("lb/in", "pound per inch (lb/in)", "1.785 797 E+01", false),
    ("lb/ft2", "pound per square foot (lb/ft2)", "4.882 428 E+00", false),
    ("psi", "psi (pound-force per square inch) (lbf/in2)", "6.894 757 E+03", false),
    ("rev", "revolution (r)", "6.283 185 E+00", false),
    ("rpm", "rpm (revolution per minute) (r/min)", "1.047 198 E-01", false),
    ("arcsec", "second (angle)", "4.848 137 E-06", false),
    ("slug", "slug (slug)", "1.459 390 E+01", false),
    ("ft2", "square foot (ft2)", "9.290 304 E-02", true),
    ("sqft", "square foot (ft2)", "9.290 304 E-02", true),
    ("in2", "square inch (in2)", "6.4516 E-04", true),
    ("sqin", "square inch (in2)", "6.4516 E-04", true),
    ("yd2", "square yard (yd2)", "8.361 274 E-01", false),
    ("ton", "ton, short (2000 lb)", "9.071 847 E+02", false),
    ("ton/yd3", "ton, short, per cubic yard", "1.186 553 E+03", false),
    ("t", "tonne (called metric ton in U.S.) (t)", "1.0 E+03", true),
    ("Wh", "watt hour (W h)", "3.6 E+03", true),
    ("yd", "yard (yd)", "9.144 E-01", true),
    ("year", "year (365 days)", "3.1536 E+07", true),
];

/// Entries of B.8 for a thousand or another whole number of what the entry converts.
const NIST_B8_TIMES: &[(&str, &str, f64, f64)] = &[
    ("kft", "foot (ft), exact", 3.048e-1, 1000.0),
    ("ksf", "pound-force per square foot (lbf/ft2)", 4.788_026e1, 1000.0),
    ("klf", "pound-force per foot (lbf/ft)", 1.459_390e1, 1000.0),
    ("kip-ft", "pound-force foot (lbf ft)", 1.355_818, 1000.0),
    ("kip-in", "pound-force inch (lbf in)", 1.129_848e-1, 1000.0),
    ("week", "day (d)", 8.64e4, 7.0),
    ("mAh", "ampere hour (A h)", 3.6e3, 1e-3),
];

/// Prefixed units: SP 811 table 5, the power of ten before the unit of tables 1, 3 and 6.
const NIST_PREFIXED: &[(&str, &str, i32)] = &[
    ("mm", "m", -3),
    ("cm", "m", -2),
    ("km", "m", 3),
    ("um", "m", -6),
    ("mL", "L", -3),
    ("ms", "s", -3),
    ("kHz", "Hz", 3),
    ("mrad", "rad", -3),
    ("kN", "N", 3),
    ("MN", "N", 6),
    ("kNm", "Nm", 3),
    ("Nmm", "Nm", -3),
    ("kJ", "J", 3),
    ("MJ", "J", 6),
    ("hPa", "Pa", 2),
    ("kPa", "Pa", 3),
    ("MPa", "Pa", 6),
    ("GPa", "Pa", 9),
    ("mA", "A", -3),
    ("mV", "V", -3),
    ("kV", "V", 3),
    ("mW", "W", -3),
    ("kW", "W", 3),
    ("kVA", "VA", 3),
    ("mohm", "ohm", -3),
    ("kohm", "ohm", 3),
    ("Mohm", "ohm", 6),
    ("mT", "T", -3),
    ("kg", "g", 3),
];

/// Coherent SI units, factor one: SP 811 tables 1, 3 and 4.
const NIST_COHERENT: &[(&str, Dim)] = &[
    ("m", Dim::LENGTH),
    ("kg", Dim::MASS),
    ("s", Dim::TIME),
    ("A", Dim::CURRENT),
    ("K", Dim::TEMPERATURE_DIFFERENCE),
    ("degC", Dim::TEMPERATURE),
    ("rad", Dim::ANGLE),
    ("Hz", Dim::FREQUENCY),
    ("N", Dim::FORCE),
    ("Pa", Dim::PRESSURE),
    ("J", Dim::ENERGY),
    ("Nm", Dim::MOMENT),
    ("W", Dim::POWER),
    ("VA", Dim::POWER),
    ("V", Dim::VOLTAGE),
    ("ohm", Dim::RESISTANCE),
    ("T", Dim::FLUX_DENSITY),
];

#[test]
fn factors_are_those_of_nist_sp_811_appendix_b8() {
    for (text, entry, printed, exact) in NIST_B8 {
        let plain = printed.replace(' ', "");
        let published: f64 = plain.parse().expect(entry);
        let (mantissa, exponent) = plain.split_once('E').expect(entry);
        let decimals = mantissa.split_once('.').map_or(0, |(_, after)| after.len());
        // Half of the last digit printed is the source's own rounding.
        let last = 10_f64.powi(exponent.parse::<i32>().expect(entry) - i32::try_from(decimals).expect(entry));
        let tolerance = if *exact { 1e-15 * published } else { 0.500_000_1 * last };
        let factor = unit(text).factor;
        assert!((factor - published).abs() <= tolerance, "{text}: {factor} but {printed} for {entry}");
    }
}

#[test]
fn multiples_of_nist_entries() {
    for (text, entry, published, times) in NIST_B8_TIMES {
        // Seven figures are printed.
        assert!(relative(unit(text).factor, published * times) < 5e-7, "{text}: {times} times {entry}");
    }
}

#[test]
fn si_prefixes_and_coherent_units_of_nist_sp_811() {
    for (text, of, power) in NIST_PREFIXED {
        let (prefixed, plain) = (unit(text), unit(of));
        assert!(relative(prefixed.factor, plain.factor * 10_f64.powi(*power)) < 1e-15, "{text}");
        assert_eq!(prefixed.dim, plain.dim, "{text}");
    }
    for (text, dim) in NIST_COHERENT {
        assert_eq!((unit(text).factor, unit(text).dim), (1.0, *dim), "{text}");
    }
}

/// Sections other than the tables: per cent (7.10.2) and the board foot, by NIST PS 20 (American
/// Softwood Lumber Standard) the volume of 1 ft by 1 ft by 1 in, one twelfth of a cubic foot.
#[test]
fn units_with_another_source() {
    assert_eq!(unit("%").factor, 0.01);
    assert!(relative(unit("board_foot").factor, 0.3048 * 0.3048 * 0.0254) < 1e-15);
}

#[test]
fn every_unit_of_the_table_is_checked_against_nist() {
    let checked: BTreeSet<&str> = NIST_B8
        .iter()
        .map(|row| row.0)
        .chain(NIST_B8_TIMES.iter().map(|row| row.0))
        .chain(NIST_PREFIXED.iter().flat_map(|row| [row.0, row.1]))
        .chain(NIST_COHERENT.iter().map(|row| row.0))
        .chain(["%", "board_foot"])
        .collect();
    for def in all_units().iter().filter(|def| def.dim != Dim::MONEY) {
        let written = std::iter::once(def.symbol).chain(def.aliases.iter().copied());
        assert!(written.into_iter().any(|text| checked.contains(text)), "{} has no check", def.symbol);
        assert!(!def.source.is_empty());
    }
}

/// SP 811 B.8, "degree Celsius (temperature)" T/K = t/degC + 273.15 and "degree Fahrenheit
/// (temperature)" T/K = (t/degF + 459.67)/1.8; the fixed points of water follow from t/degC.
#[test]
fn temperatures_are_shifted() {
    for (text, t, kelvin) in [
        ("degC", 0.0, 273.15),
        ("degC", -40.0, 233.15),
        ("degC", 100.0, 373.15),
        ("degF", 32.0, 273.15),
        ("degF", -40.0, 233.15),
        ("degF", 212.0, 373.15),
        ("degF", -459.67, 0.0),
        ("°F", 0.0, 459.67 / 1.8),
    ] {
        let unit = unit(text);
        assert!((unit.to_si(t) - kelvin).abs() < 1e-12 * 400.0, "{t} {text}");
        assert!((unit.from_si(kelvin) - t).abs() < 1e-12 * 900.0, "{t} {text}");
        assert!((t * unit.factor + unit.offset - kelvin).abs() < 1e-12 * 400.0, "{t} {text}");
    }
    // A difference is not shifted, nor is a degree inside another unit.
    assert_eq!(unit("degC").difference().to_si(5.0), 5.0);
    assert_eq!(unit("degF").difference().to_si(9.0), 5.0);
    assert_eq!(unit("1/degF").to_si(1.0), 1.8);
    assert_eq!(unit("W/m2/degC").offset, 0.0);
}

#[test]
fn standard_gravity_is_nists() {
    assert_eq!(STANDARD_GRAVITY, 9.80665);
    assert_eq!(unit("lbf").factor, unit("lb").to_si(STANDARD_GRAVITY));
    assert_eq!(unit("kgf").factor, STANDARD_GRAVITY);
}

// ---------------------------------------------------------------- pint

#[derive(serde::Deserialize)]
struct Reference {
    symbols: Vec<Row>,
    aliases: Vec<Row>,
    compounds: Vec<Row>,
}

/// Text, factor, offset, exponents of length, mass, time, current, temperature.
#[derive(serde::Deserialize)]
struct Row(String, f64, f64, [i8; 5]);

fn reference() -> Reference {
    serde_json::from_str(include_str!("data/units_pint.json")).expect("the reference is JSON")
}

#[test]
fn factors_and_dimensions_are_those_of_pint() {
    let reference = reference();
    let rows = || reference.symbols.iter().chain(&reference.aliases).chain(&reference.compounds);
    assert!(rows().count() > 600);
    for Row(text, factor, offset, [length, mass, time, current, temperature]) in rows() {
        let unit = unit(text);
        // pint multiplies doubles too: a product of four powers carries a few roundings. It reaches
        // gauss by way of the measured magnetic constant, known to 1.5e-10 (CODATA 2018).
        let tolerance = if unit.dim == Dim::FLUX_DENSITY { 1.5e-10 } else { 1e-13 };
        assert!(relative(unit.factor, *factor) < tolerance, "{text}: {} but {factor}", unit.factor);
        assert!((unit.offset - offset).abs() < 1e-10, "{text}: {} but {offset}", unit.offset);
        // pint keeps a scale with a zero of its own apart by its offset, not by its dimension.
        let point = i8::from(*offset != 0.0);
        let dim = Dim([*length, *mass, *time, *current, *temperature, 0, 0, point]);
        assert_eq!(unit.dim.without_angle(), dim, "{text}");
    }
}

#[test]
fn every_symbol_and_alias_is_checked_against_pint() {
    let reference = reference();
    let checked: BTreeSet<&str> = reference.symbols.iter().chain(&reference.aliases).map(|row| row.0.as_str()).collect();
    for def in all_units().iter().filter(|def| def.dim != Dim::MONEY) {
        for text in std::iter::once(&def.symbol).chain(def.aliases) {
            assert!(checked.contains(text), "{text} is not in units_pint.json");
        }
    }
}

// ---------------------------------------------------------------- reading

#[test]
fn no_two_units_share_a_spelling() {
    let mut owners = BTreeMap::new();
    for def in all_units() {
        for text in std::iter::once(&def.symbol).chain(def.aliases) {
            assert_eq!(owners.insert(*text, def.symbol), None, "{text}");
            assert_eq!(unit(text).dim, def.dim, "{text}");
        }
    }
}

#[test]
fn the_tape_and_the_data_sheet_convert_to_the_last_bit() {
    assert_eq!(unit("in").to_si(12.0), unit("ft").to_si(1.0));
    assert_eq!(unit("in").to_si(74.5), unit("ft").to_si(6.0) + unit("in").to_si(2.5));
    assert_eq!(unit("mm").to_si(41.2), 0.0412);
    assert_eq!(unit("kN/m2").to_si(1.5), 1500.0);
    assert_eq!(unit("N/mm2").to_si(24.0), 24e6);
    assert_eq!(unit("deg").to_si(180.0), std::f64::consts::PI);
    assert_eq!(unit("yd").to_si(1.0), unit("ft").to_si(3.0));
    assert_eq!(unit("mi").to_si(1.0), unit("ft").to_si(5280.0));
    assert_eq!(unit("lb").to_si(1.0), unit("oz").to_si(16.0));
    // Ten times 0.1 in is not 1 in to the last bit in binary, but it is the same length.
    let tenth = unit("in").to_si(0.1);
    let sum: f64 = std::iter::repeat_n(tenth, 10).sum();
    assert!(same(sum, unit("in").to_si(1.0)) && same(10.0 * tenth, unit("in").to_si(1.0)));
    assert!(!same(1.0, 1.0 + 1e-9) && same(f64::INFINITY, f64::INFINITY) && !same(f64::NAN, f64::NAN));
}

#[test]
fn what_is_no_unit_is_named_with_the_nearest() {
    for (text, atom, nearest) in [
        ("kn", "kn", Some("kN")),
        ("KN/m2", "KN", Some("kN")),
        ("MM", "MM", Some("mm")),
        ("mpa", "mpa", Some("MPa")),
        ("Kg", "Kg", Some("kg")),
        ("LB", "LB", Some("lb")),
        ("ft/S2", "S", Some("s")),
        ("inchs", "inchs", Some("in")),
        ("metters", "metters", Some("m")),
        ("lbff", "lbff", Some("lbf")),
        ("C", "C", Some("degC")),
        ("kph", "kph", Some("km/h")),
        ("'", "'", Some("ft")),
        ("\"", "\"", Some("in")),
        ("W/m2*K", "W/m2*K", Some("W/m2/K")),
        ("AWG", "AWG", None),
        ("m0", "m0", None),
        ("m^x", "m^x", None),
        ("q", "q", None),
        ("", "", None),
        ("1", "1", None),
        ("²", "²", None),
    ] {
        let error = Unit::parse(text).expect_err(text);
        assert_eq!((error.atom.as_str(), error.nearest.as_deref()), (atom, nearest), "{text}");
    }
    assert_eq!(Unit::parse("kn").unwrap_err().to_string(), "`kn` is not a unit");
    for text in ["m/", "m//s", "/", "1/", "*m", "m*", "m/s/", "ft in/s", "m^2^2", "m2000", "km90/m90"] {
        assert!(Unit::parse(text).is_err(), "{text}");
    }
    assert!(Unit::parse(&"m".repeat(100_000)).unwrap_err().atom.len() < 100);
}

#[test]
fn a_mass_may_stand_for_its_weight_and_a_weight_for_its_mass() {
    for (wanted, given) in [("N", "kg"), ("Pa", "lb/ft2"), ("N/m", "kg/m"), ("kN/m3", "pcf"), ("Nm", "kg*m")] {
        assert!(as_weight(unit(wanted).dim, unit(given).dim), "{given} for {wanted}");
        assert!(as_mass(unit(given).dim, unit(wanted).dim), "{wanted} for {given}");
    }
    for (wanted, given) in [("N", "lbf"), ("Pa", "psf"), ("N", "m"), ("kg", "kg"), ("m/s2", "%"), ("N", "kg2/kg")] {
        let expected = given == "kg2/kg";
        assert_eq!(as_weight(unit(wanted).dim, unit(given).dim), expected, "{given} for {wanted}");
    }
    assert!(!as_weight(Dim::ACCELERATION, Dim::NUMBER));
}

#[test]
fn currencies_are_told_apart() {
    assert_eq!(unit("EUR/m").currency(), Some("EUR"));
    assert_eq!(unit("£").currency(), Some("GBP"));
    assert_eq!(unit("m").currency(), None);
    assert_eq!(show(12.5, Dim::MONEY, Some(&unit("EUR")), System::Metric), "12.50 EUR");
    assert_eq!(show(12_345.6, Dim::MONEY, Some(&unit("USD")), System::Us), "12346 USD");
    assert_eq!(show(-0.001, Dim::MONEY, None, System::Us), "0.00 money");
}

// ---------------------------------------------------------------- dimensions

#[test]
fn dimensions_are_those_of_the_si() {
    // SP 811 table 3, "expression in terms of SI base units": m, kg, s, A, K.
    for (dim, exponents) in [
        (Dim::FREQUENCY, [0, 0, -1, 0, 0]),
        (Dim::FORCE, [1, 1, -2, 0, 0]),
        (Dim::PRESSURE, [-1, 1, -2, 0, 0]),
        (Dim::ENERGY, [2, 1, -2, 0, 0]),
        (Dim::POWER, [2, 1, -3, 0, 0]),
        (Dim::CHARGE, [0, 0, 1, 1, 0]),
        (Dim::VOLTAGE, [2, 1, -3, -1, 0]),
        (Dim::RESISTANCE, [2, 1, -3, -2, 0]),
        (Dim::FLUX_DENSITY, [0, 1, -2, -1, 0]),
    ] {
        let [length, mass, time, current, temperature] = exponents;
        assert_eq!(dim, Dim([length, mass, time, current, temperature, 0, 0, 0]), "{}", dim.describe());
    }
    assert_eq!(Dim::SECTION_MODULUS, Dim::VOLUME);
    assert_eq!(Dim::default(), Dim::NUMBER);
}

#[test]
fn dimensions_have_words() {
    assert_eq!(Dim::LENGTH.describe(), "a length");
    assert_eq!(Dim::AREA.describe(), "an area");
    assert_eq!(Dim::NUMBER.describe(), "a plain number");
    assert_eq!(Dim::FORCE.times(Dim::SPEED).describe(), "a power");
    assert_eq!(Dim::MASS.times(Dim::AREA).over(Dim::TIME).describe(), "a quantity in kg*m2/s");
    assert_eq!(Dim::NUMBER.over(Dim::AREA).describe(), "a quantity in 1/m2");
    for word in Dim::names() {
        assert!(Dim::named(word).is_some());
    }
    assert_eq!(Dim::named("line_load"), Some(Dim::LINE_LOAD));
    assert_eq!(Dim::named("colour"), None);
}

#[test]
fn powers_and_roots_that_do_not_fit_are_none() {
    assert_eq!(Dim::LENGTH.power(2), Some(Dim::AREA));
    assert_eq!(Dim::AREA.root(2), Some(Dim::LENGTH));
    assert_eq!(Dim::LENGTH.root(2), None);
    assert_eq!(Dim::LENGTH.root(0), None);
    assert_eq!(Dim::LENGTH.power(200), None);
    assert_eq!(Dim::LENGTH.power(i32::MIN), None);
    assert_eq!(Dim([100, 0, 0, 0, 0, 0, 0, 0]).checked_times(Dim([100, 0, 0, 0, 0, 0, 0, 0])), None);
}

#[test]
fn the_units_offered_for_a_dimension_are_of_it() {
    for word in Dim::names() {
        let dim = Dim::named(word).expect(word);
        assert!(!units_for(dim).is_empty(), "{word}");
        for text in units_for(dim) {
            assert_eq!(unit(text).dim, dim, "{text} for {word}");
        }
        for size in [0.0, 1e-9, 1e-6, 1e-3, 1.0, 1e3, 1e6, 1e9] {
            for system in [System::Metric, System::Us] {
                let chosen = display_unit(size, dim, None, system);
                assert_eq!(chosen.map_or(Dim::NUMBER, |unit| unit.dim), dim, "{word}");
            }
        }
    }
    assert_eq!(units_for(Dim::LENGTH), ["m", "mm", "ft", "in"]);
}

// ---------------------------------------------------------------- showing

#[test]
fn values_read_as_a_builder_reads_them() {
    use System::{Metric, Us};
    for (si, dim, written, system, expected) in [
        (0.0412, Dim::LENGTH, Some("mm"), Metric, "41.2 mm"),
        (0.0412, Dim::LENGTH, None, Metric, "41.2 mm"),
        (2310.0, Dim::FORCE, None, Metric, "2.31 kN"),
        (5515.795, Dim::FORCE, None, Us, "1240 lbf"),
        (4.72, Dim::LENGTH, None, Metric, "4.72 m"),
        // As well as a tape says it: to the millimetre, or the sixteenth of an inch.
        (12.268, Dim::LENGTH, Some("m"), Metric, "12.268 m"),
        (12.2684, Dim::LENGTH, None, Metric, "12.268 m"),
        (12.2684, Dim::LENGTH, Some("mm"), Metric, "12268 mm"),
        (12.2684, Dim::LENGTH, Some("cm"), Metric, "1226.8 cm"),
        (3.2591, Dim::LENGTH, Some("in"), Us, "128.31 in"),
        (12.2684, Dim::LENGTH, Some("ft"), Us, "40.251 ft"),
        (12.2684, Dim::AREA, None, Metric, "12.27 m2"),
        (0.0, Dim::LENGTH, None, Metric, "0 m"),
        (-0.0, Dim::FORCE, None, Metric, "0 N"),
        (5.5e-17, Dim::LENGTH, Some("m"), Metric, "0 m"),
        (1.373_4, Dim::NUMBER, None, Metric, "1.373"),
        (0.1, Dim::NUMBER, Some("%"), Metric, "10 %"),
        (0.349_065_850_398_866, Dim::ANGLE, None, Metric, "20 deg"),
        (1.2e-5, Dim::EXPANSION, None, Metric, "1.2e-5 1/K"),
        (1500.0, Dim::PRESSURE, None, Metric, "1.5 kN/m2"),
        (24e6, Dim::PRESSURE, None, Metric, "24 N/mm2"),
        (720.0, Dim::PRESSURE, None, Us, "15.04 psf"),
        (26.0, Dim::SPEED, None, Us, "58.16 mph"),
        (1250.0, Dim::MOMENT, None, Metric, "1.25 kNm"),
        (290.0, Dim::TEMPERATURE, None, Metric, "16.85 degC"),
        (310.0, Dim::MASS, Some("m"), Metric, "310 kg"),
        (12_345.0, Dim::FORCE, Some("N"), Metric, "12340 N"),
        (f64::NAN, Dim::LENGTH, None, Metric, "no value"),
        (f64::INFINITY, Dim::NUMBER, None, Metric, "beyond any limit"),
    ] {
        let written = written.map(unit);
        assert_eq!(show(si, dim, written.as_ref(), system), expected, "{si}");
    }
    assert_eq!(figures(0.000_123_456, 4), "0.0001235");
    assert_eq!(figures(99_999.0, 4), "100000");
    assert_eq!(figures(9.999_96e6, 4), "1e7");
    assert_eq!(figures(-0.5, 1), "-0.5");
    assert_eq!(figures(0.5, 0), "0.5");
}

#[test]
fn feet_and_inches_read_as_the_tape_does() {
    let inch = |inches: f64| inches * 0.0254;
    for (inches, expected) in [
        (74.5, "6 ft 2-1/2 in"),
        (3.5, "3-1/2 in"),
        (0.625, "5/8 in"),
        (72.0, "6 ft"),
        (73.0, "6 ft 1 in"),
        (72.0625, "6 ft 1/16 in"),
        (5.0 / 32.0, "5/32 in"),
        (12.0 + 1.0 / 64.0, "1 ft 1/64 in"),
        (0.0, "0 in"),
        (-74.5, "-6 ft 2-1/2 in"),
        (74.53, "about 6 ft 2-1/2 in"),
        (-74.53, "about -6 ft 2-1/2 in"),
        (1.622, "1.622 in"),
        (0.01, "0.01 in"),
        (71.999_999_999, "6 ft"),
        (71.99, "about 6 ft"),
    ] {
        let shown = show(inch(inches), Dim::LENGTH, Some(&Unit::feet_inches()), System::Us);
        assert_eq!(shown, expected, "{inches}");
        assert_eq!(shown, show(inch(inches), Dim::LENGTH, None, System::Us), "{inches}");
    }
    assert_eq!(Unit::parse("ft in"), Ok(Unit::feet_inches()));
}

#[test]
fn a_value_beside_its_limit_never_reads_like_it() {
    let (metric, us) = (System::Metric, System::Us);
    let pair = |a, b, dim, system| {
        let (a, b) = show_apart(a, b, dim, None, system);
        format!("{a} | {b}")
    };
    assert_eq!(pair(0.030_001, 0.03, Dim::LENGTH, metric), "30.001 mm | 30 mm");
    let written = |a, b, unit: &str, system| {
        let unit = Unit::parse(unit).unwrap();
        let (a, b) = show_apart(a, b, unit.dim, Some(&unit), system);
        format!("{a} | {b}")
    };
    assert_eq!(written(0.002, 0.003, "m", metric), "2 mm | 3 mm", "small beside the metre they were written in");
    assert_eq!(written(0.002, 0.0, "m", metric), "2 mm | 0 mm");
    assert_eq!(written(0.002, 0.5, "m", metric), "2 mm | 500 mm");
    assert_eq!(written(0.02, 0.03, "m", metric), "0.02 m | 0.03 m", "as they were written");
    assert_eq!(written(0.002, 2500.0, "m", metric), "0.002 m | 2500 m");
    assert_eq!(written(4.0, 9.0, "kN", metric), "4 N | 9 N");
    assert_eq!(written(0.001 * 0.3048, 0.002 * 0.3048, "ft", us), "0.012 in | 0.024 in");
    assert_eq!(pair(0.0412, 0.03, Dim::LENGTH, metric), "41.2 mm | 30 mm");
    assert_eq!(pair(1.00001, 1.0, Dim::NUMBER, metric), "1.00001 | 1");
    assert_eq!(pair(0.1 + 0.2, 0.3, Dim::LENGTH, metric), "300 mm | 300 mm");
    assert_eq!(pair(15.6 * 0.0254, 15.625 * 0.0254, Dim::LENGTH, us), "1 ft 3.6 in | 1 ft 3.625 in");
    assert_eq!(pair(11.999_99 * 0.0254, 12.0 * 0.0254, Dim::LENGTH, us), "11.99999 in | 1 ft");
}

// ---------------------------------------------------------------- properties

/// Reads what `show_exact` writes, in the simplest way there is.
fn read(text: &str) -> f64 {
    // The sign of a tape reading belongs to the whole of it.
    let whole = |rest: &&str| rest.contains('/') || rest.contains(" ft ");
    if let Some(rest) = text.strip_prefix('-').filter(whole) {
        return -read(rest);
    }
    let words: Vec<&str> = text.split(' ').collect();
    let number = |text: &str| text.parse::<f64>().unwrap_or_else(|_| panic!("{text} is no number"));
    let mixed = |text: &str| match text.split_once('/') {
        None => number(text),
        Some((above, below)) => {
            let (whole, above) = above.split_once('-').unwrap_or(("0", above));
            number(whole) + number(above) / number(below)
        }
    };
    match words.as_slice() {
        [value] => number(value),
        [value, text] => unit(text).to_si(if *text == "in" { mixed(value) } else { number(value) }),
        [feet, "ft", inches, "in"] => unit("ft").to_si(number(feet)) + unit("in").to_si(mixed(inches)),
        _ => panic!("{text} reads as nothing"),
    }
}

fn any_unit() -> impl Strategy<Value = Option<Unit>> {
    let mut texts: Vec<String> = all_units().iter().map(|def| def.symbol.to_owned()).collect();
    texts.extend(reference().compounds.into_iter().map(|row| row.0));
    texts.push("ft in".to_owned());
    prop_oneof![4 => proptest::sample::select(texts).prop_map(|text| Some(unit(&text))), 1 => Just(None)]
}

fn any_dim() -> impl Strategy<Value = Dim> {
    prop_oneof![
        proptest::sample::select(Dim::names().filter_map(Dim::named).collect::<Vec<_>>()),
        proptest::array::uniform7(-4_i8..=4).prop_map(|[a, b, c, d, e, f, g]| Dim([a, b, c, d, e, f, g, 0])),
    ]
}

fn any_system() -> impl Strategy<Value = System> {
    prop_oneof![Just(System::Metric), Just(System::Us)]
}

fn any_size() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => (-1.0_f64..1.0, -12_i32..12).prop_map(|(x, power)| x * 10_f64.powi(power)),
        1 => (0_u32..200_000).prop_map(|n| f64::from(n) / 64.0 * 0.0254),
        1 => proptest::num::f64::NORMAL | proptest::num::f64::ZERO,
    ]
}

fn agrees(read: f64, si: f64) -> bool {
    (read - si).abs() <= 1e-12 * si.abs()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, max_global_rejects: 1_000_000, ..ProptestConfig::default() })]

    #[test]
    fn what_show_exact_prints_reads_back(si in any_size(), unit in any_unit(), dim in any_dim(), system in any_system()) {
        let dim = unit.as_ref().map_or(dim, |unit| unit.dim);
        let text = show_exact(si, dim, unit.as_ref(), system);
        // The temperature scales start far from nought, so that a tiny temperature loses its figures there.
        let room = if dim == Dim::TEMPERATURE { 1e-9 } else { 0.0 };
        prop_assert!(agrees(read(&text), si) || (read(&text) - si).abs() <= room, "{si} shown as {text}");
        prop_assert!(!text.starts_with("-0 ") && text != "-0");
    }

    #[test]
    fn show_never_reads_like_a_machine(si in proptest::num::f64::ANY, unit in any_unit(), dim in any_dim(), system in any_system()) {
        for text in [
            show(si, dim, unit.as_ref(), system),
            show_exact(si, dim, unit.as_ref(), system),
            show_apart(si, si * 1.000_000_1, dim, unit.as_ref(), system).0,
        ] {
            prop_assert!(!text.contains("NaN") && !text.contains("inf") && !text.is_empty(), "{text}");
            prop_assert!(!text.contains("-0 ") && text != "-0", "{text}");
        }
    }

    #[test]
    fn four_figures_are_shown_truly(si in 1e-3_f64..1e6, unit in any_unit(), system in any_system()) {
        let Some(unit) = unit else { return Ok(()) };
        prop_assume!(!unit.is_feet_inches() && unit.dim != Dim::MONEY && unit.offset == 0.0);
        prop_assume!(unit.from_si(si).abs() > 1e-12 && unit.from_si(si).is_finite());
        let shown = read(&show(si, unit.dim, Some(&unit), system));
        prop_assert!(relative(shown, si) < 5.1e-4, "{si} shown as {shown}");
    }

    #[test]
    fn a_tape_reading_is_within_a_thirty_second(inches in 0.0_f64..5000.0) {
        let text = show(inches * 0.0254, Dim::LENGTH, None, System::Us);
        let plain = text.trim_start_matches("about ");
        let error = (read(plain) / 0.0254 - inches).abs();
        let allowed = if text.starts_with("about") { 1.0 / 32.0 } else { 1e-4_f64.max(inches * 5e-4).min(6e-3) };
        prop_assert!(error <= allowed + 1e-9, "{inches} in shown as {text}");
    }

    #[test]
    fn values_apart_read_apart(a in 1e-6_f64..1e9, step in 1e-6_f64..1.0, dim in any_dim(), system in any_system()) {
        prop_assume!(dim != Dim::MONEY && dim != Dim::TEMPERATURE);
        let b = a * (1.0 + step);
        let (a_text, b_text) = show_apart(a, b, dim, None, system);
        prop_assert_ne!(a_text.trim_start_matches("about "), b_text.trim_start_matches("about "));
    }

    #[test]
    fn to_si_and_back(x in any_size(), unit in any_unit()) {
        let Some(unit) = unit else { return Ok(()) };
        prop_assume!(x.abs() < 1e200 && (x == 0.0 || x.abs() > 1e-200));
        let back = unit.from_si(unit.to_si(x));
        let scale = x.abs() + (unit.offset / unit.factor).abs();
        prop_assert!((back - x).abs() <= 1e-14 * scale, "{x} {} came back as {back}", unit.text);
        // The factor of the contract says the same.
        prop_assert!((unit.to_si(x) - (x * unit.factor + unit.offset)).abs() <= 1e-14 * scale * unit.factor);
    }

    #[test]
    fn any_text_is_read_or_refused(text in "\\PC*") {
        let _ = Unit::parse(&text);
    }

    #[test]
    fn text_like_a_unit_is_read_or_refused(text in "[kmMN/*^²³⁻¹·0-9a-z%° -]{0,12}") {
        if let Ok(unit) = Unit::parse(&text) {
            prop_assert!(unit.factor.is_finite() && unit.factor > 0.0);
            prop_assert_eq!(unit.text.as_str(), text.as_str());
        }
    }

    #[test]
    fn a_unit_survives_serde(unit in any_unit()) {
        let text = serde_json::to_string(&unit).expect("a unit is serializable");
        let back: Option<Unit> = serde_json::from_str(&text).expect("and comes back");
        let (Some(unit), Some(back)) = (unit, back) else { return Ok(()) };
        prop_assert_eq!((&unit.text, unit.dim), (&back.text, back.dim));
        prop_assert!(same(unit.factor, back.factor));
    }

    #[test]
    fn products_and_quotients_undo_each_other(a in any_dim(), b in any_dim(), n in 1_i32..6) {
        prop_assume!(a != Dim::TEMPERATURE && b != Dim::TEMPERATURE);
        prop_assert_eq!(a.times(b).over(b), a);
        prop_assert_eq!(a.checked_times(b), Some(a.times(b)));
        prop_assert_eq!(a.checked_over(b), Some(a.over(b)));
        prop_assert_eq!(a.power(n).and_then(|raised| raised.root(n)), Some(a));
    }
}

/// One slip or two in a word are read as it; three make another word.
#[test]
fn three_letters_off_are_no_slip() {
    for (text, nearest) in [("kilogrem", Some("kg")), ("kilogrxm", Some("kg")), ("kylogrxm", Some("kg")), ("kylogrxn", None)] {
        let found = Unit::parse(text).unwrap_err().nearest;
        assert_eq!(found.as_deref(), nearest, "{text}");
    }
}
