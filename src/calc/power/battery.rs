//! How long a battery lasts and how often it moves the roof after the mains have failed.
//!
//! In: charge in A·s, currents in A, times in s. Out: seconds, strokes.
//! It must not know the roof: a stroke is a list of currents and how long each flows.

use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive, within};

/// A battery as its label gives it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Battery {
    /// Rated charge, A·s (1 A·h is 3600 A·s).
    pub charge: f64,
    /// Time of discharge for which the charge is rated, s (lead batteries: most often 20 h).
    pub rated_time: f64,
    /// Peukert's exponent: 1 for an ideal one, 1.1 to 1.3 for lead, near 1 for lithium.
    pub exponent: f64,
}

/// One part of a stroke: starting, running.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Draw {
    /// Current, A.
    pub current: f64,
    /// How long it flows, s.
    pub time: f64,
}

/// Time (s) until a full battery is empty at a steady `current` (A): `t = H (C/(I H))^k`, and never longer than its charge
/// lasts, `C/I`: what the exponent promises below the rated current is not relied upon.
///
/// The shorter form `C/I^k` that is often printed takes the rated charge for one measured at 1 A and is wrong
/// for a battery rated over 20 hours.
///
/// # Errors
/// When an argument is not positive or the exponent is not between 1 and 2.
///
/// Source: Peukert 1897, in the form with the rated time.
pub fn lasts(battery: Battery, current: f64) -> Result<f64, FormulaError> {
    let Battery { charge, rated_time, exponent } = battery;
    positive("the charge of the battery", charge)?;
    positive("the time for which the battery is rated", rated_time)?;
    within("Peukert's exponent", exponent, 1.0, 2.0, "from 1 to 2")?;
    positive("the current from the battery", current)?;
    Ok((rated_time * (charge / (current * rated_time)).powf(exponent)).min(charge / current))
}

/// Charge (A·s) that one stroke takes: `Σ I t`.
///
/// # Errors
/// When a current or time is negative.
pub fn stroke_charge(stroke: &[Draw]) -> Result<f64, FormulaError> {
    stroke.iter().try_fold(0.0, |sum, draw| {
        not_negative("the current of a stroke", draw.current)?;
        not_negative("the time of a stroke", draw.time)?;
        Ok(sum + draw.current * draw.time)
    })
}

/// How many strokes a battery has in it (not rounded: whole strokes are what counts), when only the part
/// `usable` (0 to 1: depth of discharge, age, cold) of it may be drawn.
///
/// Each part of the stroke uses up its time over the time that the battery would last at that current.
///
/// # Errors
/// When an argument is outside its range or the stroke takes nothing.
///
/// Source: Peukert 1897 for each current; adding up shares of use is common practice, no source.
pub fn strokes(battery: Battery, usable: f64, stroke: &[Draw]) -> Result<f64, FormulaError> {
    within("the usable part of the battery", usable, 0.0, 1.0, "from 0 to 1")?;
    positive("the charge of one stroke", stroke_charge(stroke)?)?;
    let mut share = 0.0;
    for draw in stroke.iter().filter(|draw| draw.current > 0.0) {
        share += draw.time / lasts(battery, draw.current)?;
    }
    Ok(usable / share)
}
