//! What a telescope sees: where the stars pass, and what stands in the way.
//!
//! In: angles in rad (azimuth from north over east, hour angle westward, latitude and declination north), positions
//! in m. Out: altitudes, azimuths, hours. It must not know a date or a catalogue of stars.
//!
//! Reading order: [`place`] (where a star stands) → [`arc`] (how long it is up) → [`refraction`] →
//! [`sector`] (one edge of an obstacle) → [`outline`] (obstacles) → [`horizon`] → [`visible`] (hours above it).

pub mod arc;
pub mod horizon;
pub mod outline;
pub mod place;
pub mod refraction;
mod sector;
pub mod visible;
