//! Properties of rectangular and round sections.
//!
//! In: actual dimensions, m. Out: areas and moments of the section. It must not know what it is made of.

use crate::calc::FormulaError;
use crate::calc::check::positive;

/// A rectangular section bent about its horizontal axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rectangle {
    /// Breadth, across the load, m.
    pub breadth: f64,
    /// Depth, along the load, m.
    pub depth: f64,
}

impl Rectangle {
    /// A section of actual dimensions (m).
    ///
    /// # Errors
    /// Where one is not more than zero.
    pub fn new(breadth: f64, depth: f64) -> Result<Self, FormulaError> {
        Ok(Self { breadth: positive("the section's breadth", breadth)?, depth: positive("the section's depth", depth)? })
    }

    /// The same section with its broader side across the load.
    #[must_use]
    pub fn laid_flat(self) -> Self {
        Self { breadth: self.breadth.max(self.depth), depth: self.breadth.min(self.depth) }
    }

    /// The same piece laid on its other side.
    #[must_use]
    pub fn turned(self) -> Self {
        Self { breadth: self.depth, depth: self.breadth }
    }

    /// Area, m².
    #[must_use]
    pub fn area(self) -> f64 {
        self.breadth * self.depth
    }

    /// Section modulus bd²/6, m³.
    #[must_use]
    pub fn modulus(self) -> f64 {
        self.breadth * self.depth * self.depth / 6.0
    }

    /// Second moment of area bd³/12, m⁴.
    #[must_use]
    pub fn inertia(self) -> f64 {
        self.breadth * self.depth.powi(3) / 12.0
    }

    /// Radius of gyration d/√12, m.
    #[must_use]
    pub fn radius(self) -> f64 {
        self.depth / 12.0_f64.sqrt()
    }
}
