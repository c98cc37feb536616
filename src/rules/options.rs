//! What is checked, and on which day.

use crate::syntax::tree::Date;
use smol_str::SmolStr;

/// What is checked, and on which day.
#[derive(Debug, Clone, Default)]
pub struct Options {
    /// Only rules of this area, or only this rule.
    pub only: Option<SmolStr>,
    /// The day that acceptances and dated rules are judged on; without it no date has passed.
    pub today: Option<Date>,
}
