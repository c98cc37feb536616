//! The engineering: pure functions of numbers in SI base units, one file or folder per subject.
//!
//! In: plain numbers (m, kg, s, N, Pa, N·m, rad, K) and small structs of them. Out: the same.
//! It must not know the language, a component, a line of text or a missing value: the value graph
//! asks only when every number is there.
//!
//! Editions, where a docstring names a standard without its year: EN 1990:2002, EN 1991-1-1:2002, EN 1991-1-3:2003,
//! EN 1991-1-4:2005, EN 1992-1-1:2004, EN 1993-1-1:2005, EN 1993-1-8:2005, EN 1995-1-1:2004, EN 1997-1:2004, NDS 2018, IBC 2018,
//! NEC 2020, IEC 60228:2004, IEC 60947-5-2:2007, IEC 60364-5-52:2009, ISO 53:1998, ISO 54:1996, ISO 898-1:2013, ISO 12488-1:2012,
//! Meeus, *Astronomical Algorithms*, 2nd ed. 1998, and *Shigley's Mechanical Engineering Design*, 9th ed. 2011.

pub mod beam;
mod check;
pub mod column;
pub mod concrete;
pub mod cutting;
pub mod drive;
pub mod estimates;
pub mod explore;
pub mod fastener;
pub mod footing;
pub mod frame;
pub mod gauge;
pub mod gear;
pub mod holddown;
pub mod impact;
pub mod inch_pound;
pub mod ladder;
pub mod loads;
pub mod moisture;
pub mod motion;
pub mod network;
pub mod pier;
pub mod power;
pub mod racking;
pub mod rolling;
pub mod seal;
pub mod sensing;
pub mod sight;
pub mod skewing;
pub mod sky;
pub mod snow;
pub mod space;
pub mod steel;
pub mod stopping;
pub mod timber;
pub mod tolerance;
pub mod vee;
pub mod visits;
pub mod wind;

/// Why a formula has no answer for the numbers it was given.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FormulaError {
    /// A number lies outside what the source covers.
    #[error("{what} needs to be {needs}")]
    Domain {
        /// The argument, in the builder's words.
        what: String,
        /// What would do, in the builder's words.
        needs: String,
    },
    /// The supports or parts given cannot hold the load in any position.
    #[error("{what}")]
    Unstable {
        /// What is loose and which way it can move.
        what: String,
    },
}

impl FormulaError {
    /// A [`FormulaError::Domain`] from two phrases: `what` needs to be `needs`.
    #[must_use]
    pub fn domain(what: impl Into<String>, needs: impl Into<String>) -> Self {
        Self::Domain { what: what.into(), needs: needs.into() }
    }
}
