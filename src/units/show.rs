//! A value as a builder reads it: `41.2 mm`, `2.31 kN`, `6 ft 2-1/2 in`.
//!
//! In come a value in SI base units, its dimension and perhaps the unit its writer used; out comes
//! text. [`show`] is for people, [`show_exact`] gives the value back when it is read again, and
//! [`show_apart`] is for a value beside its limit. This file must not know where a value came from.

use super::choose::{System, display_unit, system_of};
use super::dim::Dim;
use super::quantity::same;
use super::unit::Unit;

/// Significant figures that a builder has use for.
const FIGURES: usize = 4;
/// Figures beyond which two values are the same to anybody.
const MOST_FIGURES: usize = 12;
/// Stands before a tape reading that is not on a mark.
const ABOUT: &str = "about ";
/// By definition (the international yard and pound agreement of 1959).
pub const METRE_PER_INCH: f64 = 0.0254;

/// The value `si` (SI base units) in the given unit, or in a sensible one of the system, to four
/// significant figures, and a length to the millimetre or the sixteenth of an inch. A plain number has no unit. Feet and inches read as the tape does, with
/// `about` where the value is not on a mark; under a foot, off the marks, they read `3.622 in`.
#[must_use]
pub fn show(si: f64, dim: Dim, unit: Option<&Unit>, system: System) -> String {
    reading(si, dim, display_unit(si, dim, unit, system).as_ref(), FIGURES)
}

/// Two values of one dimension in one unit, with as many figures as it takes to tell them apart:
/// for a value beside the limit that it just breaks. Values that are the [`same`] read the same. Where a value is
/// small beside the unit it was given in, both are in one that suits it: `2 mm` and `3 mm`, not `0.002 m` and `0.003 m`.
#[must_use]
pub fn show_apart(a: f64, b: f64, dim: Dim, unit: Option<&Unit>, system: System) -> (String, String) {
    let smaller = unit.and_then(|unit| suiting_both(a, b, dim, unit, system));
    let unit = smaller.as_ref().or(unit);
    let plain = (show(a, dim, unit, system), show(b, dim, unit, system));
    if same(a, b) || !confusable(&plain.0, &plain.1) {
        return plain;
    }
    let unit = display_unit(a.abs().max(b.abs()), dim, unit, system);
    (FIGURES..=MOST_FIGURES)
        .map(|n| (reading(a, dim, unit.as_ref(), n), reading(b, dim, unit.as_ref(), n)))
        .find(|(a, b)| !confusable(a, b))
        .unwrap_or(plain)
}

/// A unit in place of one that is too large for two values: less than a hundredth of it is read with its noughts counted.
fn suiting_both(a: f64, b: f64, dim: Dim, unit: &Unit, system: System) -> Option<Unit> {
    const TOO_SMALL: f64 = 0.01;
    const TOO_LARGE: f64 = 10_000.0;
    let (small, large) = (a.abs().min(b.abs()), a.abs().max(b.abs()));
    // A nought reads well in every unit.
    let small = if small == 0.0 { large } else { small };
    if unit.dim != dim || unit.offset != 0.0 || unit.is_feet_inches() || !(small > 0.0 && unit.from_si(small) < TOO_SMALL) {
        return None;
    }
    let of_size = display_unit(small, dim, None, system_of(unit).unwrap_or(system))?;
    let of_size = if of_size.is_feet_inches() { Unit::parse("in").ok()? } else { of_size };
    let suits = of_size.factor < unit.factor && of_size.from_si(large) < TOO_LARGE && of_size.from_si(small) >= TOO_SMALL;
    suits.then_some(of_size)
}

fn confusable(a: &str, b: &str) -> bool {
    a.trim_start_matches(ABOUT) == b.trim_start_matches(ABOUT)
}

/// The value in the unit [`show`] would use, with all its figures: read again it is equal within
/// 1e-12 of itself.
#[must_use]
pub fn show_exact(si: f64, dim: Dim, unit: Option<&Unit>, system: System) -> String {
    if let Some(words) = not_a_number(si) {
        return words.to_owned();
    }
    let Some(mut unit) = display_unit(si, dim, unit, system) else {
        return shortest(si);
    };
    if unit.is_feet_inches() {
        let inches = si.abs() / METRE_PER_INCH;
        if let Some(tape) = on_a_mark(inches, inches * 1e-14) {
            return signed(si, tape);
        }
        if let Ok(inch) = Unit::parse("in") {
            unit = inch;
        }
    }
    let count = unit.from_si(si);
    if dim.is_point() || same(unit.to_si(count), si) {
        with_unit(shortest(count), &unit.text)
    } else {
        // The ends of the scale do not fit every unit.
        with_unit(shortest(si), &dim.base_units())
    }
}

fn with_unit(number: String, unit: &str) -> String {
    if unit.is_empty() { number } else { format!("{number} {unit}") }
}

fn reading(si: f64, dim: Dim, unit: Option<&Unit>, n: usize) -> String {
    if let Some(words) = not_a_number(si) {
        return words.to_owned();
    }
    let Some(unit) = unit else {
        return figures(si, n);
    };
    if unit.is_feet_inches() {
        return signed(si, tape(si.abs(), n));
    }
    if unit.text == "in"
        && let Some(marks) = inches_on_a_mark(si.abs() / METRE_PER_INCH)
    {
        return signed(si, marks);
    }
    let count = unit.from_si(si);
    let n = n.max(figures_of_a_tape(count, dim, unit));
    if dim == Dim::MONEY {
        with_unit(sum_of_money(count), &unit.text)
    } else if count.is_finite() {
        with_unit(figures(count, n), &unit.text)
    } else {
        with_unit(figures(si, n), &dim.base_units())
    }
}

/// The figures that it takes to say a length as well as a tape does: to the millimetre, or the sixteenth of an inch.
fn figures_of_a_tape(count: f64, dim: Dim, unit: &Unit) -> usize {
    let decimals = match unit.text.as_str() {
        _ if dim != Dim::LENGTH => return 0,
        "m" | "ft" => 3,
        "cm" => 1,
        "in" => 2,
        "mm" => 0,
        _ => return 0,
    };
    let whole = format!("{:.0}", count.abs());
    if whole == "0" || !count.is_finite() { 0 } else { (whole.len() + decimals).min(MOST_FIGURES) }
}

fn not_a_number(x: f64) -> Option<&'static str> {
    match x {
        x if x.is_nan() => Some("no value"),
        f64::INFINITY => Some("beyond any limit"),
        f64::NEG_INFINITY => Some("below any limit"),
        _ => None,
    }
}

/// Puts the sign before the number of a length that was read without it.
fn signed(si: f64, size: String) -> String {
    if si >= 0.0 || !size.contains(|c| ('1'..='9').contains(&c)) {
        return size;
    }
    match size.strip_prefix(ABOUT) {
        Some(reading) => format!("{ABOUT}-{reading}"),
        None => format!("-{size}"),
    }
}

/// A share in whole per cent: `0.5` as `50 %`, and never `100 %` for what is over.
#[must_use]
pub fn percent(ratio: f64) -> String {
    let share = ratio * 100.0;
    if share > 100.0 && share < 100.5 { format!("{} %", figures(share, 5)) } else { format!("{share:.0} %") }
}

/// A number to `n` significant figures, without trailing noughts: `41.2`, `0.0305`, `12350`, `1.2e-5`.
/// What is nought but for the rounding of binary arithmetic reads `0`.
#[must_use]
pub fn figures(x: f64, n: usize) -> String {
    if let Some(words) = not_a_number(x) {
        return words.to_owned();
    }
    if x.abs() < 1e-12 {
        return "0".to_owned();
    }
    let n = n.max(1);
    let rounded = format!("{x:.*e}", n - 1);
    let (mantissa, exponent) = rounded.split_once('e').unwrap_or((&rounded, "0"));
    let places = exponent.parse::<i32>().unwrap_or(0);
    if !(-4..7).contains(&places) {
        return format!("{}e{places}", trimmed(mantissa));
    }
    let size = places.unsigned_abs() as usize;
    let decimals = if places < 0 { n - 1 + size } else { n.saturating_sub(1 + size) };
    trimmed(&format!("{:.decimals$}", rounded.parse().unwrap_or(x))).to_owned()
}

fn trimmed(number: &str) -> &str {
    if number.contains('.') { number.trim_end_matches('0').trim_end_matches('.') } else { number }
}

/// The shortest text that gives exactly this number when it is read.
fn shortest(x: f64) -> String {
    if x == 0.0 {
        "0".to_owned()
    } else if (1e-5..1e15).contains(&x.abs()) {
        format!("{x}")
    } else {
        format!("{x:e}")
    }
}

fn sum_of_money(x: f64) -> String {
    let sum = if x.abs() < 999.995 { format!("{x:.2}") } else { format!("{x:.0}") };
    if sum == "-0.00" { "0.00".to_owned() } else { sum }
}

/// A length (m, not negative) as the tape reads, or with more than four figures in decimal inches.
fn tape(si: f64, n: usize) -> String {
    let inches = si / METRE_PER_INCH;
    if inches >= 1e7 {
        return format!("{} ft", figures(inches / 12.0, n));
    }
    if n > FIGURES {
        let scale = 10_f64.powi(i32::try_from(n - FIGURES).unwrap_or(0) + 2);
        let inches = (inches * scale).round();
        let feet = (inches / (12.0 * scale)).floor();
        let rest = (inches - 12.0 * scale * feet) / scale;
        return in_feet(feet, (rest != 0.0).then(|| figures(rest, MOST_FIGURES)));
    }
    on_a_mark(inches, (inches * 1e-3).min(1e-4)).unwrap_or_else(|| {
        if inches < 12.0 {
            format!("{} in", figures(inches, n))
        } else {
            format!("{ABOUT}{}", feet_and_inches((inches * 16.0).round() / 16.0))
        }
    })
}

/// The reading of a length that lies within `near` inches of a sixteenth, or else of a 32nd or 64th.
fn on_a_mark(inches: f64, near: f64) -> Option<String> {
    [16.0, 32.0, 64.0]
        .map(|parts| (inches * parts).round() / parts)
        .into_iter()
        .find(|mark| inches < 1e7 && (inches - mark).abs() <= near)
        .map(feet_and_inches)
}

/// The reading in inches and a fraction of a length that lies on a mark of the tape.
fn inches_on_a_mark(inches: f64) -> Option<String> {
    let mark = (inches * 64.0).round() / 64.0;
    let near = (inches * 1e-9).max(1e-12);
    (mark > 0.0 && inches < 1e4 && (inches - mark).abs() <= near)
        .then(|| whole_and_fraction(mark).map(|reading| format!("{reading} in")))?
}

/// Whole feet, inches and a fraction in lowest terms, for inches that are a whole number of 64ths.
fn feet_and_inches(inches: f64) -> String {
    let feet = (inches / 12.0).floor();
    in_feet(feet, whole_and_fraction(inches - 12.0 * feet))
}

/// `2-1/2`, `2` or `1/2`, for inches that are a whole number of 64ths; nothing for nought.
fn whole_and_fraction(inches: f64) -> Option<String> {
    let whole = inches.floor();
    let (mut above, mut below) = ((inches - whole) * 64.0, 64.0);
    while above > 0.0 && above % 2.0 == 0.0 {
        (above, below) = (above / 2.0, below / 2.0);
    }
    match (whole > 0.0, above > 0.0) {
        (true, true) => Some(format!("{whole}-{above}/{below}")),
        (true, false) => Some(whole.to_string()),
        (false, true) => Some(format!("{above}/{below}")),
        (false, false) => None,
    }
}

/// Whole feet and what is left in inches, if anything is.
fn in_feet(feet: f64, rest: Option<String>) -> String {
    match rest {
        Some(rest) if feet > 0.0 => format!("{feet} ft {rest} in"),
        Some(rest) => format!("{rest} in"),
        None if feet > 0.0 => format!("{feet} ft"),
        None => "0 in".to_owned(),
    }
}
