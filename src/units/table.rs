//! Every unit that may be written, with its factor to SI and the published source of that factor.
//!
//! One entry per symbol; products, quotients and powers (`kN/m2`) are made of these in `unit.rs`.
//! A factor is kept as a fraction of whole numbers where the definition is one, so that 12 in is
//! 1 ft to the last bit. This file must not know how a unit is chosen, read or shown.
//!
//! "SP 811" is NIST Special Publication 811, Guide for the Use of the International System of
//! Units, 2008 edition; B.8 is its appendix of factors listed alphabetically.

use std::collections::HashMap;
use std::f64::consts::PI;
use std::sync::LazyLock;

use super::dim::Dim;

/// A unit of the table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UnitDef {
    /// As the standard text form writes it.
    pub symbol: &'static str,
    /// Other spellings that are read as the same unit.
    pub aliases: &'static [&'static str],
    /// Of what dimension.
    pub dim: Dim,
    /// SI value of one of it.
    pub factor: f64,
    /// What is added to `x * factor` to give kelvin; zero but for degC and degF.
    pub offset: f64,
    /// In words: `pound-force`.
    pub name: &'static str,
    /// Where the factor is published.
    pub source: &'static str,
    /// The factor as numerator and denominator.
    pub(super) ratio: [f64; 2],
}

/// The whole table, in the order in which a reference page would list it.
#[must_use]
pub fn all_units() -> &'static [UnitDef] {
    UNITS
}

/// The unit of this symbol or alias, exactly as written.
pub(super) fn find(written: &str) -> Option<&'static UnitDef> {
    static INDEX: LazyLock<HashMap<&'static str, &'static UnitDef>> =
        LazyLock::new(|| UNITS.iter().flat_map(|def| spellings(def).map(move |spelling| (spelling, def))).collect());
    INDEX.get(written).copied()
}

/// The symbol and the aliases of a unit.
pub(super) fn spellings(def: &UnitDef) -> impl Iterator<Item = &'static str> + use<> {
    std::iter::once(def.symbol).chain(def.aliases.iter().copied())
}

const fn unit(
    symbol: &'static str,
    aliases: &'static [&'static str],
    dim: Dim,
    ratio: [f64; 2],
    name: &'static str,
    source: &'static str,
) -> UnitDef {
    UnitDef { symbol, aliases, dim, factor: ratio[0] / ratio[1], offset: 0.0, name, source, ratio }
}

const fn degree(def: UnitDef, offset: f64) -> UnitDef {
    UnitDef { offset, ..def }
}

const BASE: &str = "SP 811 table 1 (SI base units)";
const DERIVED: &str = "SP 811 table 3 (SI derived units with special names)";
const PREFIXED: &str = "SP 811 table 5 (SI prefixes)";
const ACCEPTED: &str = "SP 811 table 6 (units accepted for use with the SI)";
const CURRENCY: &str = "ISO 4217; counted in the design's own currency, never converted";

// Exact definitions from which the customary units follow, as fractions.
const FOOT: [f64; 2] = [3048.0, 1e4];
const INCH: [f64; 2] = [254.0, 1e4];
const POUND: [f64; 2] = [45_359_237.0, 1e8];
const POUND_FORCE: [f64; 2] = [44_482_216_152_605.0, 1e13];

const fn times(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0] * b[0], a[1] * b[1]]
}
const fn over(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0] * b[1], a[1] * b[0]]
}
const fn by(a: [f64; 2], n: f64) -> [f64; 2] {
    [a[0] * n, a[1]]
}

// One line to a unit: the table is read down its columns.
#[rustfmt::skip]
static UNITS: &[UnitDef] = &[
    // Length
    unit("m", &["metre", "metres", "meter", "meters"], Dim::LENGTH, [1.0, 1.0], "metre", BASE),
    unit("mm", &["millimetre", "millimetres", "millimeter", "millimeters"], Dim::LENGTH, [1.0, 1e3], "millimetre", PREFIXED),
    unit("cm", &["centimetre", "centimetres", "centimeter", "centimeters"], Dim::LENGTH, [1.0, 1e2], "centimetre", PREFIXED),
    unit("km", &["kilometre", "kilometres", "kilometer", "kilometers"], Dim::LENGTH, [1e3, 1.0], "kilometre", PREFIXED),
    unit("um", &["\u{b5}m", "\u{3bc}m", "micron", "microns"], Dim::LENGTH, [1.0, 1e6], "micrometre", PREFIXED),
    unit("ft", &["foot", "feet"], Dim::LENGTH, FOOT, "foot", "SP 811 B.8: foot (ft)"),
    unit("in", &["inch", "inches"], Dim::LENGTH, INCH, "inch", "SP 811 B.8: inch (in)"),
    unit("yd", &["yard", "yards"], Dim::LENGTH, by(FOOT, 3.0), "yard", "SP 811 B.8: yard (yd)"),
    unit("mi", &["mile", "miles"], Dim::LENGTH, by(FOOT, 5280.0), "mile", "SP 811 B.8: mile (mi)"),
    unit("mil", &["mils", "thou"], Dim::LENGTH, over(INCH, [1e3, 1.0]), "mil (0.001 in)", "SP 811 B.8: mil (0.001 in)"),
    unit("kft", &[], Dim::LENGTH, by(FOOT, 1e3), "thousand feet", "SP 811 B.8: foot (ft), times 1000"),
    // Area and volume
    unit("sqft", &["sq_ft"], Dim::AREA, times(FOOT, FOOT), "square foot", "SP 811 B.8: square foot (ft2)"),
    unit("sqin", &["sq_in"], Dim::AREA, times(INCH, INCH), "square inch", "SP 811 B.8: square inch (in2)"),
    unit("L", &["l", "litre", "litres", "liter", "liters"], Dim::VOLUME, [1.0, 1e3], "litre", ACCEPTED),
    unit("mL", &["ml"], Dim::VOLUME, [1.0, 1e6], "millilitre", PREFIXED),
    unit("cuft", &["cu_ft"], Dim::VOLUME, times(FOOT, times(FOOT, FOOT)), "cubic foot", "SP 811 B.8: cubic foot (ft3)"),
    unit("cuyd", &["cu_yd"], Dim::VOLUME, by(times(FOOT, times(FOOT, FOOT)), 27.0), "cubic yard", "SP 811 B.8: cubic yard (yd3)"),
    unit("gal", &["gallon", "gallons"], Dim::VOLUME, by(times(INCH, times(INCH, INCH)), 231.0), "gallon (US)", "SP 811 B.8: gallon (U.S.) (gal)"),
    unit("board_foot", &["board_feet", "bdft"], Dim::VOLUME, by(times(INCH, times(INCH, INCH)), 144.0), "board foot", "NIST PS 20 (American Softwood Lumber Standard): 1 ft by 1 ft by 1 in"),
    unit("cfm", &[], Dim::FLOW, over(times(FOOT, times(FOOT, FOOT)), [60.0, 1.0]), "cubic foot per minute", "SP 811 B.8: cubic foot per minute (ft3/min)"),
    // Mass
    unit("kg", &["kilogram", "kilograms"], Dim::MASS, [1.0, 1.0], "kilogram", BASE),
    unit("g", &["gram", "grams"], Dim::MASS, [1.0, 1e3], "gram", PREFIXED),
    unit("t", &["tonne", "tonnes"], Dim::MASS, [1e3, 1.0], "tonne (metric ton)", ACCEPTED),
    unit("lb", &["lbs", "lbm", "pound", "pounds"], Dim::MASS, POUND, "pound", "SP 811 B.8: pound (avoirdupois) (lb)"),
    unit("oz", &["ounce", "ounces"], Dim::MASS, over(POUND, [16.0, 1.0]), "ounce", "SP 811 B.8: ounce (avoirdupois) (oz)"),
    unit("ton", &["tons", "short_ton", "short_tons"], Dim::MASS, by(POUND, 2000.0), "short ton (2000 lb)", "SP 811 B.8: ton, short (2000 lb)"),
    unit("slug", &["slugs"], Dim::MASS, over(POUND_FORCE, FOOT), "slug", "SP 811 B.8: slug (slug)"),
    // Time and rates
    unit("s", &["sec", "second", "seconds"], Dim::TIME, [1.0, 1.0], "second", BASE),
    unit("ms", &[], Dim::TIME, [1.0, 1e3], "millisecond", PREFIXED),
    unit("min", &["minute", "minutes"], Dim::TIME, [60.0, 1.0], "minute", ACCEPTED),
    unit("h", &["hr", "hrs", "hour", "hours"], Dim::TIME, [3600.0, 1.0], "hour", ACCEPTED),
    unit("day", &["days", "d"], Dim::TIME, [86_400.0, 1.0], "day", ACCEPTED),
    unit("week", &["weeks"], Dim::TIME, [604_800.0, 1.0], "week", "SP 811 table 6: day (d), times 7"),
    unit("year", &["years", "yr"], Dim::TIME, [31_536_000.0, 1.0], "year (365 days)", "SP 811 B.8: year (365 days)"),
    unit("Hz", &["hertz"], Dim::FREQUENCY, [1.0, 1.0], "hertz", DERIVED),
    unit("kHz", &[], Dim::FREQUENCY, [1e3, 1.0], "kilohertz", PREFIXED),
    unit("rpm", &[], Dim::ANGULAR_SPEED, [PI, 30.0], "revolution per minute", "SP 811 B.8: revolution per minute (rpm)"),
    unit("mph", &[], Dim::SPEED, over(by(FOOT, 5280.0), [3600.0, 1.0]), "mile per hour", "SP 811 B.8: mile per hour (mi/h)"),
    unit("knot", &["knots", "kt", "kts"], Dim::SPEED, [1852.0, 3600.0], "knot", "SP 811 B.8: knot (nautical mile per hour)"),
    unit("g0", &["gn"], Dim::ACCELERATION, [980_665.0, 1e5], "standard gravity", "SP 811 B.8: acceleration of free fall, standard (gn)"),
    // Angle and plain ratio
    unit("deg", &["°", "º", "degree", "degrees"], Dim::ANGLE, [PI, 180.0], "degree", "SP 811 table 6 and B.8: degree (angle)"),
    unit("arcmin", &[], Dim::ANGLE, [PI, 10_800.0], "minute of arc", "SP 811 table 6 and B.8: minute (angle)"),
    unit("arcsec", &[], Dim::ANGLE, [PI, 648_000.0], "second of arc", "SP 811 table 6 and B.8: second (angle)"),
    unit("rad", &["radian", "radians"], Dim::ANGLE, [1.0, 1.0], "radian", DERIVED),
    unit("mrad", &[], Dim::ANGLE, [1.0, 1e3], "milliradian", PREFIXED),
    unit("rev", &["turn", "turns", "revolution", "revolutions"], Dim::ANGLE, [2.0 * PI, 1.0], "revolution", "SP 811 B.8: revolution (r)"),
    unit("gon", &[], Dim::ANGLE, [PI, 200.0], "gon (grade)", "SP 811 B.8: gon (also called grade) (gon)"),
    unit("%", &["percent"], Dim::NUMBER, [1.0, 1e2], "per cent", "SP 811 section 7.10.2: % for the number 0.01"),
    // Force
    unit("N", &["newton", "newtons"], Dim::FORCE, [1.0, 1.0], "newton", DERIVED),
    unit("kN", &[], Dim::FORCE, [1e3, 1.0], "kilonewton", PREFIXED),
    unit("MN", &[], Dim::FORCE, [1e6, 1.0], "meganewton", PREFIXED),
    unit("lbf", &[], Dim::FORCE, POUND_FORCE, "pound-force", "SP 811 B.8: pound-force (lbf)"),
    unit("kip", &["kips"], Dim::FORCE, by(POUND_FORCE, 1e3), "kip (1000 lbf)", "SP 811 B.8: kip (1 kip = 1000 lbf)"),
    unit("ozf", &[], Dim::FORCE, over(POUND_FORCE, [16.0, 1.0]), "ounce-force", "SP 811 B.8: ounce (avoirdupois)-force (ozf)"),
    unit("kgf", &["kp"], Dim::FORCE, [980_665.0, 1e5], "kilogram-force", "SP 811 B.8: kilogram-force (kgf)"),
    // Moment and energy
    unit("Nm", &["N-m"], Dim::MOMENT, [1.0, 1.0], "newton metre", "SP 811 table 4: newton meter"),
    unit("kNm", &["kN-m"], Dim::MOMENT, [1e3, 1.0], "kilonewton metre", PREFIXED),
    unit("Nmm", &["N-mm"], Dim::MOMENT, [1.0, 1e3], "newton millimetre", PREFIXED),
    unit("ft-lbf", &["lbf-ft", "ft-lb", "ft-lbs", "lb-ft"], Dim::MOMENT, times(POUND_FORCE, FOOT), "foot pound-force", "SP 811 B.8: foot pound-force (ft lbf)"),
    unit("in-lbf", &["lbf-in", "in-lb", "in-lbs", "lb-in"], Dim::MOMENT, times(POUND_FORCE, INCH), "inch pound-force", "SP 811 B.8: pound-force inch (lbf in)"),
    unit("kip-ft", &["ft-kip", "ft-kips"], Dim::MOMENT, by(times(POUND_FORCE, FOOT), 1e3), "kip foot", "SP 811 B.8: pound-force foot (lbf ft), times 1000"),
    unit("kip-in", &["in-kip", "in-kips"], Dim::MOMENT, by(times(POUND_FORCE, INCH), 1e3), "kip inch", "SP 811 B.8: pound-force inch (lbf in), times 1000"),
    unit("J", &["joule", "joules"], Dim::ENERGY, [1.0, 1.0], "joule", DERIVED),
    unit("kJ", &[], Dim::ENERGY, [1e3, 1.0], "kilojoule", PREFIXED),
    unit("MJ", &[], Dim::ENERGY, [1e6, 1.0], "megajoule", PREFIXED),
    unit("Wh", &[], Dim::ENERGY, [3600.0, 1.0], "watt hour", "SP 811 B.8: watt hour (W h)"),
    unit("kWh", &[], Dim::ENERGY, [3.6e6, 1.0], "kilowatt hour", "SP 811 B.8: kilowatt hour (kW h)"),
    unit("Btu", &["BTU"], Dim::ENERGY, [105_505_585_262.0, 1e8], "British thermal unit (IT)", "SP 811 B.8: British thermal unit-IT (Btu-IT)"),
    // Pressure and line load
    unit("Pa", &["pascal", "pascals"], Dim::PRESSURE, [1.0, 1.0], "pascal", DERIVED),
    unit("hPa", &["mbar"], Dim::PRESSURE, [1e2, 1.0], "hectopascal (millibar)", "SP 811 B.8: millibar (mbar)"),
    unit("kPa", &[], Dim::PRESSURE, [1e3, 1.0], "kilopascal", PREFIXED),
    unit("MPa", &[], Dim::PRESSURE, [1e6, 1.0], "megapascal", PREFIXED),
    unit("GPa", &[], Dim::PRESSURE, [1e9, 1.0], "gigapascal", PREFIXED),
    unit("bar", &[], Dim::PRESSURE, [1e5, 1.0], "bar", "SP 811 B.8: bar (bar)"),
    unit("psf", &[], Dim::PRESSURE, over(POUND_FORCE, times(FOOT, FOOT)), "pound-force per square foot", "SP 811 B.8: pound-force per square foot (lbf/ft2)"),
    unit("ksf", &[], Dim::PRESSURE, by(over(POUND_FORCE, times(FOOT, FOOT)), 1e3), "kip per square foot", "SP 811 B.8: pound-force per square foot (lbf/ft2), times 1000"),
    unit("psi", &[], Dim::PRESSURE, over(POUND_FORCE, times(INCH, INCH)), "pound-force per square inch", "SP 811 B.8: psi (pound-force per square inch)"),
    unit("ksi", &[], Dim::PRESSURE, by(over(POUND_FORCE, times(INCH, INCH)), 1e3), "kip per square inch", "SP 811 B.8: kip per square inch (ksi)"),
    unit("plf", &[], Dim::LINE_LOAD, over(POUND_FORCE, FOOT), "pound-force per foot", "SP 811 B.8: pound-force per foot (lbf/ft)"),
    unit("klf", &[], Dim::LINE_LOAD, by(over(POUND_FORCE, FOOT), 1e3), "kip per foot", "SP 811 B.8: pound-force per foot (lbf/ft), times 1000"),
    unit("pcf", &[], Dim::DENSITY, over(POUND, times(FOOT, times(FOOT, FOOT))), "pound per cubic foot", "SP 811 B.8: pound per cubic foot (lb/ft3)"),
    // Temperature
    unit("K", &["kelvin"], Dim::TEMPERATURE_DIFFERENCE, [1.0, 1.0], "kelvin (a difference)", BASE),
    degree(unit("degC", &["°C", "℃", "celsius"], Dim::TEMPERATURE, [1.0, 1.0], "degree Celsius", "SP 811 B.8: degree Celsius (temperature)"), 273.15),
    degree(unit("degF", &["°F", "℉", "fahrenheit"], Dim::TEMPERATURE, [5.0, 9.0], "degree Fahrenheit", "SP 811 B.8: degree Fahrenheit (temperature)"), 459.67 * 5.0 / 9.0),
    // Electricity
    unit("A", &["amp", "amps", "ampere", "amperes"], Dim::CURRENT, [1.0, 1.0], "ampere", BASE),
    unit("mA", &[], Dim::CURRENT, [1.0, 1e3], "milliampere", PREFIXED),
    unit("Ah", &[], Dim::CHARGE, [3600.0, 1.0], "ampere hour", "SP 811 B.8: ampere hour (A h)"),
    unit("mAh", &[], Dim::CHARGE, [3600.0, 1e3], "milliampere hour", "SP 811 B.8: ampere hour (A h), over 1000"),
    unit("V", &["volt", "volts"], Dim::VOLTAGE, [1.0, 1.0], "volt", DERIVED),
    unit("mV", &[], Dim::VOLTAGE, [1.0, 1e3], "millivolt", PREFIXED),
    unit("kV", &[], Dim::VOLTAGE, [1e3, 1.0], "kilovolt", PREFIXED),
    unit("W", &["watt", "watts"], Dim::POWER, [1.0, 1.0], "watt", DERIVED),
    unit("mW", &[], Dim::POWER, [1.0, 1e3], "milliwatt", PREFIXED),
    unit("kW", &[], Dim::POWER, [1e3, 1.0], "kilowatt", PREFIXED),
    unit("VA", &[], Dim::POWER, [1.0, 1.0], "volt ampere", DERIVED),
    unit("kVA", &[], Dim::POWER, [1e3, 1.0], "kilovolt ampere", PREFIXED),
    unit("hp", &["horsepower"], Dim::POWER, by(times(POUND_FORCE, FOOT), 550.0), "horsepower (550 ft-lbf/s)", "SP 811 B.8: horsepower (550 ft lbf/s)"),
    unit("ohm", &["Ω", "\u{2126}", "ohms"], Dim::RESISTANCE, [1.0, 1.0], "ohm", DERIVED),
    unit("mohm", &["mΩ", "m\u{2126}"], Dim::RESISTANCE, [1.0, 1e3], "milliohm", PREFIXED),
    unit("kohm", &["kΩ", "k\u{2126}"], Dim::RESISTANCE, [1e3, 1.0], "kilohm", PREFIXED),
    unit("Mohm", &["MΩ", "M\u{2126}"], Dim::RESISTANCE, [1e6, 1.0], "megohm", PREFIXED),
    unit("T", &["tesla"], Dim::FLUX_DENSITY, [1.0, 1.0], "tesla", DERIVED),
    unit("mT", &[], Dim::FLUX_DENSITY, [1.0, 1e3], "millitesla", PREFIXED),
    unit("gauss", &["Gs"], Dim::FLUX_DENSITY, [1.0, 1e4], "gauss", "SP 811 B.8: gauss (Gs, G)"),
    // Money
    unit("money", &[], Dim::MONEY, [1.0, 1.0], "the design's own currency", CURRENCY),
    unit("EUR", &["€"], Dim::MONEY, [1.0, 1.0], "euro", CURRENCY),
    unit("USD", &["US$"], Dim::MONEY, [1.0, 1.0], "US dollar", CURRENCY),
    unit("GBP", &["£"], Dim::MONEY, [1.0, 1.0], "pound sterling", CURRENCY),
    unit("CAD", &[], Dim::MONEY, [1.0, 1.0], "Canadian dollar", CURRENCY),
    unit("AUD", &[], Dim::MONEY, [1.0, 1.0], "Australian dollar", CURRENCY),
    unit("NZD", &[], Dim::MONEY, [1.0, 1.0], "New Zealand dollar", CURRENCY),
    unit("CHF", &[], Dim::MONEY, [1.0, 1.0], "Swiss franc", CURRENCY),
    unit("SEK", &[], Dim::MONEY, [1.0, 1.0], "Swedish krona", CURRENCY),
    unit("NOK", &[], Dim::MONEY, [1.0, 1.0], "Norwegian krone", CURRENCY),
    unit("DKK", &[], Dim::MONEY, [1.0, 1.0], "Danish krone", CURRENCY),
    unit("PLN", &[], Dim::MONEY, [1.0, 1.0], "Polish zloty", CURRENCY),
    unit("CZK", &[], Dim::MONEY, [1.0, 1.0], "Czech koruna", CURRENCY),
    unit("JPY", &[], Dim::MONEY, [1.0, 1.0], "Japanese yen", CURRENCY),
];
