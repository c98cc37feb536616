//! Whether bodies touch while one of them rolls: the roof over parked telescopes, telescopes among walls.
//!
//! In: convex bodies in building coordinates (m), a direction of travel. Out: gaps, the travel at which they are
//! least, the stretch of travel on which bodies collide. It must not know which body is a roof.
//!
//! Reading order: [`solid`] (shapes with flat faces) → [`prism`] (walls and roofs as such) → [`body`] (a shape with a rounding) → [`sweep`].

pub mod body;
pub mod prism;
pub mod solid;
pub mod sweep;
