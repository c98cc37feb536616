//! Bodies in space, and whether they meet: parts that touch, that share room, that roll past each other.
//!
//! In: convex bodies in building coordinates (m), a direction of travel. Out: gaps, the way from one to another, the
//! travel at which they are least, the stretch of travel on which bodies collide. It must not know what a body is part of.
//!
//! Reading order: [`solid`] (shapes with flat faces) → [`prism`] (walls and roofs as such) → [`body`] (a convex body with a
//! rounding) → [`piece`] (bodies with their names and forms) → [`meet`] (two of them, or many) → [`sweep`].

pub mod body;
pub mod meet;
pub mod piece;
pub mod prism;
pub mod solid;
pub mod sweep;
