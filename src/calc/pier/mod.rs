//! How still a telescope pier stands: its section, its bending, the ground under its footing.
//!
//! In: sizes, stiffnesses and masses in SI units. Out: stiffnesses, frequencies, tilts, bolt pulls.
//! It must not know what a good pier is: the limits are rules.
//!
//! Reading order: [`section`] → [`column`] → [`footing`] and [`subgrade`] → [`swing`] → [`pointing`];
//! [`anchor`] stands by itself.

pub mod anchor;
pub mod column;
pub mod footing;
pub mod pointing;
pub mod section;
pub mod subgrade;
pub mod swing;
