//! Connectors with a data sheet: straps, brackets, post bases, anchors, clamps.
//!
//! In: the maker's allowable loads, and what they already contain. Out: what may be used here.
//! It must not know a product. The numbers are the maker's; this only keeps them from being raised twice.

use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive};

/// Allowable loads (N) of a connector from its data sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rated {
    /// Pulled up.
    pub uplift: f64,
    /// Pushed along its first direction.
    pub lateral_first: f64,
    /// Pushed along its second direction.
    pub lateral_second: f64,
    /// Load duration factor that the data sheet's values already contain (1.6 for most wind ratings, 1.0 if none).
    pub duration: f64,
    /// Whether the maker allows the values to follow the load duration at all (steel and concrete govern: no).
    pub adjustable: bool,
}

impl Rated {
    /// The same connector under a load of another duration (CD), and with further factors as CM and Ct together.
    ///
    /// A value is lowered for longer loads, and raised for shorter ones only where the maker allows it.
    /// Common practice; the maker's data sheet decides.
    ///
    /// # Errors
    /// Where a factor is not more than zero.
    pub fn adjusted(&self, duration: f64, others: f64) -> Result<Self, FormulaError> {
        let change = positive("the load duration factor", duration)? / positive("the data sheet's load duration factor", self.duration)?;
        let change = if self.adjustable { change } else { change.min(1.0) };
        let factor = change * positive("the other factors", others)?;
        Ok(Self {
            uplift: self.uplift * factor,
            lateral_first: self.lateral_first * factor,
            lateral_second: self.lateral_second * factor,
            duration,
            adjustable: self.adjustable,
        })
    }

    /// Ratio of a connector loaded in several directions at once (N): the parts are added.
    /// Common practice of makers' data sheets, on the safe side of their other forms.
    ///
    /// # Errors
    /// Where a load acts in a direction that has no rating.
    pub fn ratio(&self, uplift: f64, lateral_first: f64, lateral_second: f64) -> Result<f64, FormulaError> {
        let part = |load: f64, allowed: f64, what: &str| -> Result<f64, FormulaError> {
            match not_negative(what, load.abs())? {
                0.0 => Ok(0.0),
                load => Ok(load / positive(&format!("the connector's rating for {what}"), allowed)?),
            }
        };
        Ok(part(uplift, self.uplift, "uplift")?
            + part(lateral_first, self.lateral_first, "a push along")?
            + part(lateral_second, self.lateral_second, "a push across")?)
    }
}
