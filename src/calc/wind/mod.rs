//! Wind: velocity pressure, and what the wind does to a rectangular roof, by two standards.
//!
//! In: wind speeds, heights, plan dimensions, pitches (SI, radians). Out: pressures, coefficients,
//! and for a whole roof the uplift, where it acts and the drag, zone by zone.
//! It must not know a component or a clamp: sharing the uplift out is [`super::holddown`]'s work.
//!
//! Both standards call a pressure towards a surface positive. A roof's uplift is positive upwards.
//! All of it is for planning: the local code and an engineer have the last word.

pub mod asce7;
pub mod cladding;
pub mod eurocode;
pub mod roof;
pub mod roof_uplift;
mod table;
