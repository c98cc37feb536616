//! A number as its writer put it: the text that stands in the file, and what it is worth.
//!
//! In: `4.720`, `3-1/2`, `5/8`, `1.2e-5`. Out: its worth, and its [`Form`]: how finely it is written, so that another
//! number can be put in its place in the same hand. What its unit means is asked later.

use serde::{Deserialize, Serialize};
use smol_str::SmolStr;

/// A written number. The text is what is kept, also in the trees that the program carries; the worth follows from it.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(from = "SmolStr", into = "SmolStr")]
pub struct Number {
    text: SmolStr,
    worth: f64,
}

/// How finely a number is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// With so many decimals: `4.720`.
    Decimals(usize),
    /// In whole numbers and so many parts of one: `3-1/2`.
    Parts(u32),
    /// With so many decimals before a power of ten: `1.2e-5`.
    Power(usize, i32),
}

/// Finer than this nobody reads a tape.
const FINEST_PARTS: u32 = 64;

impl Number {
    /// Reads what the grammar lets through as a number, perhaps with a sign before it.
    #[must_use]
    pub fn read(text: &str) -> Number {
        Number { text: SmolStr::new(text), worth: worth(text) }
    }

    /// As it is written.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// What it is worth.
    #[must_use]
    pub fn worth(&self) -> f64 {
        self.worth
    }

    /// How finely it is written.
    #[must_use]
    pub fn form(&self) -> Form {
        if let Some((_, below)) = self.text.split_once('/') {
            return below.parse().ok().filter(|parts| *parts > 0).map_or(Form::Decimals(0), Form::Parts);
        }
        let (mantissa, power) = match self.text.split_once(['e', 'E']) {
            Some((mantissa, power)) => (mantissa, power.parse().ok()),
            None => (self.text.as_str(), None),
        };
        let decimals = mantissa.split_once('.').map_or(0, |(_, decimals)| decimals.len());
        power.map_or(Form::Decimals(decimals), |power| Form::Power(decimals, power))
    }
}

impl Form {
    /// Finer by so many steps: decimals, or halves of the parts.
    #[must_use]
    pub fn finer(self, steps: usize) -> Form {
        match self {
            Form::Decimals(decimals) => Form::Decimals(decimals + steps),
            Form::Parts(parts) => {
                let halved = u32::try_from(steps).ok().and_then(|steps| parts.checked_shl(steps)).unwrap_or(FINEST_PARTS);
                Form::Parts(halved.min(FINEST_PARTS).max(parts))
            }
            Form::Power(decimals, power) => Form::Power(decimals + steps, power),
        }
    }

    /// The number of this form that is nearest to `x`, or where `round` says so the next one above or below it.
    #[must_use]
    pub fn write(self, x: f64, round: Option<fn(f64) -> f64>) -> Number {
        let to_step = |x: f64, steps: f64| round.map_or(x, |round| round(x * steps) / steps);
        Number::read(&match self {
            Form::Decimals(decimals) => format!("{:.decimals$}", to_step(x, ten_to(decimals))),
            Form::Parts(parts) => {
                let steps = round.unwrap_or(f64::round)(x * f64::from(parts));
                let sign = if steps < 0.0 { "-" } else { "" };
                format!("{sign}{}", whole_and_parts(steps.abs(), f64::from(parts)))
            }
            Form::Power(decimals, power) => {
                let mantissa = x / 10_f64.powi(power);
                format!("{:.decimals$}e{power}", to_step(mantissa, ten_to(decimals)))
            }
        })
    }
}

impl PartialEq for Number {
    fn eq(&self, other: &Number) -> bool {
        self.text == other.text
    }
}

impl From<SmolStr> for Number {
    fn from(text: SmolStr) -> Number {
        Number { worth: worth(&text), text }
    }
}

impl From<Number> for SmolStr {
    fn from(number: Number) -> SmolStr {
        number.text
    }
}

impl std::fmt::Display for Number {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.text)
    }
}

fn worth(text: &str) -> f64 {
    if let Ok(number) = text.parse() {
        return number;
    }
    if let Some(size) = text.strip_prefix('-') {
        return -worth(size);
    }
    let quotient = |text: &str| {
        let (above, below) = text.split_once('/')?;
        Some(above.parse::<f64>().ok()? / below.parse::<f64>().ok()?)
    };
    let mixed = |text: &str| {
        let (whole, part) = text.split_once('-')?;
        Some(whole.parse::<f64>().ok()? + quotient(part)?)
    };
    quotient(text).or_else(|| mixed(text)).unwrap_or(f64::NAN)
}

fn ten_to(decimals: usize) -> f64 {
    10_f64.powi(i32::try_from(decimals).unwrap_or(0))
}

/// `2-1/2`, `2` or `1/2`, in lowest terms.
fn whole_and_parts(steps: f64, parts: f64) -> String {
    let whole = (steps / parts).floor();
    let (mut above, mut below) = (steps - whole * parts, parts);
    let (mut a, mut b) = (above, below);
    while a > 0.0 {
        (a, b) = (b % a, a);
    }
    (above, below) = (above / b, below / b);
    match (whole > 0.0, above > 0.0) {
        (true, true) => format!("{whole}-{above}/{below}"),
        (false, true) => format!("{above}/{below}"),
        _ => format!("{whole}"),
    }
}
