//! Reading a unit as it is written, and converting values by it.
//!
//! In comes `kN/m2`, `ft-lbf`, `mm⁴`, `1/K`; out comes a [`Unit`] with its dimension and factor, or
//! the part that is no unit and the nearest one that is.
//! A slash divides by what stands next to it; a product after a slash (`W/m2*K`) is refused because
//! it is read both ways (SP 811 section 6.1.6). This file must not know how values are shown.

use serde::{Deserialize, Serialize};
use smol_str::SmolStr;

use super::dim::Dim;
use super::table::{UnitDef, all_units, find, spellings};

/// A unit as written, possibly compound, with the factor that takes a value to SI base units.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Unit {
    /// As it was written.
    pub text: SmolStr,
    /// Of what dimension.
    pub dim: Dim,
    /// SI value of one of it. [`Unit::to_si`] rounds better than a product with this.
    pub factor: f64,
    /// K = x * factor + offset; zero but for a lone degC or degF.
    pub offset: f64,
    ratio: Ratio,
}

/// Numerator and denominator of a factor.
type Ratio = [f64; 2];

/// A part of a unit that no unit is written as.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("`{atom}` is not a unit")]
pub struct UnknownUnit {
    /// The part as written.
    pub atom: String,
    /// What was probably meant, in place of `atom`.
    pub nearest: Option<String>,
}

/// The text of [`Unit::feet_inches`].
const FEET_INCHES: &str = "ft in";
const PRODUCT: [char; 4] = ['*', '·', '⋅', '×'];
/// Longer texts are cut in messages and get no suggestion.
const LONGEST: usize = 24;

impl Unit {
    /// Reads a unit: symbols and aliases of the table, with powers (`mm2`, `mm^2`, `mm²`), products
    /// (`kN*m`, `kN·m`) and quotients (`kN/m2`, `1/K`).
    ///
    /// # Errors
    /// The first part that is not a unit, or the whole text where its exponents are beyond sense.
    pub fn parse(text: &str) -> Result<Unit, UnknownUnit> {
        if let Some(def) = find(text) {
            return Ok(Unit { text: text.into(), dim: def.dim, factor: def.factor, offset: def.offset, ratio: def.ratio });
        }
        if text == FEET_INCHES {
            return Ok(Unit::feet_inches());
        }
        compound(text)
    }

    /// What a length written as feet and inches (`6 ft 2-1/2 in`) carries as its unit. It counts in
    /// feet, and a value in it is shown as the tape reads.
    #[must_use]
    pub fn feet_inches() -> Unit {
        let ratio = [3048.0, 1e4];
        Unit { text: SmolStr::new_static(FEET_INCHES), dim: Dim::LENGTH, factor: ratio[0] / ratio[1], offset: 0.0, ratio }
    }

    /// Is this the unit of a length written as feet and inches?
    #[must_use]
    pub fn is_feet_inches(&self) -> bool {
        self.text == FEET_INCHES
    }

    /// The unit that counts differences on this scale: for degC a kelvin, for degF its 5/9 of one,
    /// for any other unit itself. A tolerance on a temperature is such a difference.
    #[must_use]
    pub fn difference(&self) -> Unit {
        Unit { offset: 0.0, dim: self.dim.difference(), ..self.clone() }
    }

    /// The value in SI base units of `x` of this unit.
    #[must_use]
    pub fn to_si(&self, x: f64) -> f64 {
        convert(x, self.ratio, self.factor) + self.offset
    }

    /// How many of this unit a value in SI base units is.
    #[must_use]
    pub fn from_si(&self, si: f64) -> f64 {
        let [above, below] = self.ratio;
        convert(si - self.offset, [below, above], 1.0 / self.factor)
    }

    /// The currency in which this unit counts (`EUR` for `EUR/m`), where it counts money. Currencies
    /// are never converted, so two of them in one design do not add up.
    #[must_use]
    pub fn currency(&self) -> Option<&'static str> {
        let is_sign = |c: char| PRODUCT.contains(&c) || c == '/';
        self.text.split(is_sign).filter_map(find).find(|def| def.dim == Dim::MONEY).map(|def| def.symbol)
    }
}

/// Multiplying first by a whole numerator and then dividing rounds once for values that a tape or a
/// data sheet gives; the plain factor is left for the ends of the scale.
fn convert(x: f64, [above, below]: [f64; 2], factor: f64) -> f64 {
    let product = x * above;
    if product.is_normal() { product / below } else { x * factor }
}

fn compound(text: &str) -> Result<Unit, UnknownUnit> {
    let beyond = || UnknownUnit { atom: shortened(text), nearest: None };
    let mut dim = Dim::NUMBER;
    let mut ratio = [1.0, 1.0];
    let mut rest = text;
    let mut dividing = false;
    if let Some(after) = rest.strip_prefix("1/").or_else(|| rest.strip_prefix('/')) {
        (rest, dividing) = (after, true);
    }
    loop {
        let end = rest.find(|c| c == '/' || PRODUCT.contains(&c)).unwrap_or(rest.len());
        let (written, tail) = rest.split_at(end);
        let (def, exponent) = term(written)?;
        let exponent = if dividing { -exponent } else { exponent };
        // Within a compound degC counts differences: `W/m2/degC`.
        dim = def.dim.difference().power(exponent).and_then(|d| dim.checked_times(d)).ok_or_else(beyond)?;
        let [above, below] = def.ratio.map(|part| part.powi(exponent.abs()));
        let [above, below] = if exponent < 0 { [below, above] } else { [above, below] };
        ratio = [ratio[0] * above, ratio[1] * below];

        let mut signs = tail.chars();
        match signs.next() {
            None => break,
            Some('/') => dividing = true,
            Some(_) if dividing => {
                return Err(UnknownUnit { atom: shortened(text), nearest: divided_twice(text) });
            }
            Some(_) => {}
        }
        rest = signs.as_str();
    }
    let factor = ratio[0] / ratio[1];
    if !(1e-60..1e60).contains(&factor) {
        return Err(beyond());
    }
    Ok(Unit { text: text.into(), dim, factor, offset: 0.0, ratio })
}

/// `W/m2*K` written so that it can be read one way only.
fn divided_twice(text: &str) -> Option<String> {
    let (above, below) = text.split_once('/')?;
    let fixed = format!("{above}/{}", below.replace(PRODUCT, "/"));
    (fixed.len() <= LONGEST && compound(&fixed).is_ok()).then_some(fixed)
}

/// One symbol with its power: `mm2`, `s^-1`, `m³`.
fn term(written: &str) -> Result<(&'static UnitDef, i32), UnknownUnit> {
    if let Some(def) = find(written) {
        return Ok((def, 1));
    }
    let (symbol, exponent) = split_power(written);
    if symbol.is_empty() {
        return Err(UnknownUnit { atom: shortened(written), nearest: nearest(written) });
    }
    match (find(symbol), exponent) {
        (Some(def), Some(exponent)) => Ok((def, exponent)),
        (Some(_), None) => Err(UnknownUnit { atom: shortened(written), nearest: None }),
        (None, _) => Err(UnknownUnit { atom: shortened(symbol), nearest: nearest(symbol) }),
    }
}

/// Parts a symbol from its power; the power is `None` where it is zero or beyond any dimension.
fn split_power(written: &str) -> (&str, Option<i32>) {
    let raised = |c: char| "⁰¹²³⁴⁵⁶⁷⁸⁹⁻".contains(c);
    let plain = |c: char| c.is_ascii_digit();
    let (symbol, digits): (&str, String) = if let Some((symbol, digits)) = written.split_once('^') {
        (symbol, digits.replace('−', "-"))
    } else if written.ends_with(raised) {
        let (symbol, digits) = written.split_at(written.trim_end_matches(raised).len());
        let digits = digits.chars().map(|c| match c {
            '⁻' => '-',
            '¹' => '1',
            '²' => '2',
            '³' => '3',
            // The others stand in one row, a fixed distance from the digits.
            c => char::from_u32(u32::from(c) - u32::from('⁰') + u32::from('0')).unwrap_or('?'),
        });
        (symbol, digits.collect())
    } else if written.ends_with(plain) {
        let (symbol, digits) = written.split_at(written.trim_end_matches(plain).len());
        (symbol, digits.to_owned())
    } else {
        return (written, Some(1));
    };
    let exponent = digits.parse().ok().filter(|n: &i32| *n != 0 && (-128..=128).contains(n));
    (symbol, exponent)
}

fn shortened(text: &str) -> String {
    if text.chars().count() <= LONGEST {
        return text.to_owned();
    }
    text.chars().take(LONGEST).chain(['…']).collect()
}

/// Slips of the hand that no likeness of spelling would find.
const SLIPS: &[(&str, &str)] = &[
    ("'", "ft"),
    ("′", "ft"),
    ("\"", "in"),
    ("″", "in"),
    ("ft.", "ft"),
    ("in.", "in"),
    ("#", "lb"),
    ("kgs", "kg"),
    ("kilos", "kg"),
    ("mps", "m/s"),
    ("kmph", "km/h"),
    ("C", "degC"),
    ("F", "degF"),
    ("kph", "km/h"),
    ("kmh", "km/h"),
    ("fpm", "ft/min"),
    ("fps", "ft/s"),
    ("sf", "ft2"),
    ("cf", "ft3"),
    ("cy", "yd3"),
    ("sqm", "m2"),
    ("cbm", "m3"),
    ("cc", "cm3"),
    ("pli", "lbf/in"),
    ("$", "USD"),
];

/// The unit that `symbol` was probably meant to be: a known slip, the same letters in another case,
/// or the same but for a letter or two.
fn nearest(symbol: &str) -> Option<String> {
    if symbol.is_empty() || symbol.len() > LONGEST {
        return None;
    }
    if let Some((_, meant)) = SLIPS.iter().find(|(slip, _)| *slip == symbol) {
        return Some((*meant).to_owned());
    }
    let all = || all_units().iter().flat_map(|def| spellings(def).map(move |s| (s, def.symbol)));
    let lower = symbol.to_lowercase();
    if let Some((_, meant)) = all().find(|(spelling, _)| spelling.to_lowercase() == lower) {
        return Some(meant.to_owned());
    }
    // One slip in a short symbol already makes another unit: only words are worth a second.
    let allowed = match lower.chars().count() {
        0..=1 => return None,
        2..=4 => 1,
        _ => 2,
    };
    all()
        .map(|(spelling, meant)| (strsim::osa_distance(&lower, &spelling.to_lowercase()), spelling.len(), meant))
        .filter(|(distance, ..)| *distance <= allowed)
        .min_by_key(|(distance, length, _)| (*distance, length.abs_diff(symbol.len())))
        .map(|(.., meant)| meant.to_owned())
}
