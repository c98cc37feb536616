//! Footings: what presses on the soil, what holds them down, and posts in the ground.
//!
//! In: sizes, forces, soil values. Out: pressures, weights, ratios, depths. It must not know a site's soil or frost depth.
//! `bearing` is pressure under a footing, `uplift` weight against wind, `embedded` posts held sideways by the soil.

pub mod bearing;
pub mod embedded;
pub mod uplift;
