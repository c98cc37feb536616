//! The pier as a cantilever: how far its top moves and turns, and how fast it swings.
//!
//! In: one or more [`Stretch`]es from the foot upward (a concrete column with a steel pipe on it is two),
//! the force and where it acts, the [`Head`] carried on top. Out: deflections, slopes, a frequency.
//! It must not know the footing: the foot is held fast here, the ground comes in `swing`.
//!
//! Shear deformation is left out: for a stub shorter than about three diameters the pier is softer than this.

use std::f64::consts::TAU;

use crate::calc::FormulaError;
use crate::calc::check::{not_negative, positive};

/// A length of column with one section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// Length, m.
    pub length: f64,
    /// Flexural rigidity E·I, N·m². For a filled pipe the sum over its materials.
    pub rigidity: f64,
    /// Mass per length, kg/m.
    pub mass_per_length: f64,
}

/// What stands on the column and moves with its top as one rigid body: mount, telescope, counterweights.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Head {
    /// Mass, kg.
    pub mass: f64,
    /// Height of its centre of mass above the top of the column, m.
    pub height: f64,
    /// Moment of inertia about its own centre of mass and the axis of tilt, kg·m²; nothing if not known.
    pub own_inertia: f64,
}

/// How a column answers a sideways force.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bend {
    /// Sideways movement of the top of the column, m.
    pub deflection: f64,
    /// Tilt of the top of the column, rad: this is what the telescope sees.
    pub slope: f64,
    /// Sideways movement of the point where the force acts, m.
    pub deflection_at_force: f64,
}

/// A column that is proved to have length, stiffness and no negative mass.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    stretches: Vec<Stretch>,
}

impl Column {
    /// A column of stretches from the foot upward.
    ///
    /// # Errors
    /// When there is no stretch, a length or rigidity is not positive, or a mass is negative.
    pub fn new(stretches: Vec<Stretch>) -> Result<Self, FormulaError> {
        if stretches.is_empty() {
            return Err(FormulaError::domain("the pier", "at least one stretch of column"));
        }
        for stretch in &stretches {
            positive("the length of the pier", stretch.length)?;
            positive("the flexural rigidity of the pier", stretch.rigidity)?;
            not_negative("the mass per length of the pier", stretch.mass_per_length)?;
        }
        Ok(Self { stretches })
    }

    /// A column of one section: length (m), flexural rigidity E·I (N·m²), mass per length (kg/m).
    ///
    /// # Errors
    /// As for [`Column::new`].
    pub fn uniform(length: f64, rigidity: f64, mass_per_length: f64) -> Result<Self, FormulaError> {
        Self::new(vec![Stretch { length, rigidity, mass_per_length }])
    }

    /// Height of the column, m.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.stretches.iter().map(|s| s.length).sum()
    }

    /// Mass of the column, kg.
    #[must_use]
    pub fn mass(&self) -> f64 {
        self.stretches.iter().map(|s| s.length * s.mass_per_length).sum()
    }

    /// Movement and tilt under a sideways `force` (N) acting `height` (m) above the top of the column.
    ///
    /// For one section and a force at the top this is the handbook pair `F L³/(3 E I)` and
    /// `F L²/(2 E I)`; a force above the top adds its moment `M L²/(2 E I)` and `M L/(E I)`.
    /// Several sections are integrated one upon the other, which is exact.
    ///
    /// # Errors
    /// When the height is negative.
    ///
    /// Source: slope and deflection of a cantilever, any table of beams.
    pub fn bend(&self, force: f64, height: f64) -> Result<Bend, FormulaError> {
        not_negative("the height of the force above the pier", height)?;
        let shape = self.shape(height);
        Ok(Bend {
            deflection: force * shape.deflection,
            slope: force * shape.slope,
            deflection_at_force: force * (shape.deflection + shape.slope * height),
        })
    }

    /// Lowest natural frequency (Hz) of the column with its `head`, the foot held fast, by Rayleigh's method
    /// with the shape that a force at the centre of the head gives.
    ///
    /// For one section and a head at its top this is `1/2π √(k / (M + 33/140 m))` with `k = 3 E I/L³`.
    /// Rayleigh's method errs upward: 1.5 % for a bare column, less than 0.2 % once the head weighs half as
    /// much as the column.
    ///
    /// # Errors
    /// When a mass, height or inertia is negative, or nothing has mass.
    ///
    /// Source: Rayleigh; the 33/140 in any vibration handbook (some notes print 0.2235, which is wrong).
    pub fn natural_frequency(&self, head: &Head) -> Result<f64, FormulaError> {
        not_negative("the mass on the pier", head.mass)?;
        not_negative("the height of the mass above the pier", head.height)?;
        not_negative("the moment of inertia on the pier", head.own_inertia)?;
        let shape = self.shape(head.height);
        let at_head = shape.deflection + shape.slope * head.height;
        let swinging = head.mass * at_head.powi(2) + head.own_inertia * shape.slope.powi(2) + shape.mass_times_shape_squared;
        positive("the mass of the pier and what it carries", swinging)?;
        Ok((at_head / swinging).sqrt() / TAU)
    }

    /// The same from below: a frequency (Hz) that the true one never lies under, by Dunkerley's rule with every mass alone on
    /// the column, `1/ω² = M f(H) + J φ + ∫ m(x) f(x) dx`; `f(x)` is what 1 N at x moves that place by, `φ` what 1 N·m turns the
    /// head by. At most 1.5 % below for a bare uniform column; more where the head's own inertia is large.
    ///
    /// # Errors
    /// As for [`Self::natural_frequency`].
    ///
    /// Source: Dunkerley's rule, any vibration handbook.
    pub fn lowest_frequency(&self, head: &Head) -> Result<f64, FormulaError> {
        not_negative("the mass on the pier", head.mass)?;
        not_negative("the height of the mass above the pier", head.height)?;
        not_negative("the moment of inertia on the pier", head.own_inertia)?;
        let turns: f64 = self.stretches.iter().map(|s| s.length / s.rigidity).sum();
        let mut sum = head.mass * self.moved_at(self.length() + head.height) + head.own_inertia * turns;
        let mut foot = 0.0;
        for stretch in &self.stretches {
            let own: f64 = GAUSS_4.iter().map(|(at, weight)| weight * self.moved_at(foot + at * stretch.length)).sum();
            sum += stretch.mass_per_length * stretch.length * own;
            foot += stretch.length;
        }
        positive("the mass of the pier and what it carries", sum)?;
        Ok(sum.sqrt().recip() / TAU)
    }

    /// How far (m) a force of 1 N moves the place at the height `at` (m) where it acts; above the column it is a rigid head.
    fn moved_at(&self, at: f64) -> f64 {
        let mut foot = 0.0;
        let mut moved = 0.0;
        for stretch in &self.stretches {
            let top = (foot + stretch.length).min(at);
            if top > foot {
                moved += ((at - foot).powi(3) - (at - top).powi(3)) / (3.0 * stretch.rigidity);
            }
            foot += stretch.length;
        }
        moved
    }

    /// The bent shape under a force of 1 N acting `height` above the top.
    fn shape(&self, height: f64) -> UnitShape {
        let mut arm = self.length() + height;
        let mut so_far = UnitShape::default();
        for stretch in &self.stretches {
            let Stretch { length, rigidity, mass_per_length } = *stretch;
            // The moment falls off as (arm − u) along the stretch; slope and deflection are its integrals.
            let slope = |u: f64| so_far.slope + (arm * u - u * u / 2.0) / rigidity;
            let deflection = |u: f64| so_far.deflection + so_far.slope * u + (arm * u * u / 2.0 - u.powi(3) / 6.0) / rigidity;
            let squared: f64 = GAUSS_4.iter().map(|(at, weight)| weight * length * deflection(at * length).powi(2)).sum();
            so_far = UnitShape {
                deflection: deflection(length),
                slope: slope(length),
                mass_times_shape_squared: so_far.mass_times_shape_squared + mass_per_length * squared,
            };
            arm -= length;
        }
        so_far
    }
}

#[derive(Debug, Clone, Copy, Default)]
struct UnitShape {
    deflection: f64,
    slope: f64,
    mass_times_shape_squared: f64,
}

/// Four-point Gauss quadrature on 0…1 as (place, weight): exact to the seventh power, and the square of a
/// cubic shape is of the sixth.
const GAUSS_4: [(f64, f64); 4] = [
    (0.069_431_844_202_973_71, 0.173_927_422_568_726_93),
    (0.330_009_478_207_571_87, 0.326_072_577_431_273_07),
    (0.669_990_521_792_428_1, 0.326_072_577_431_273_07),
    (0.930_568_155_797_026_3, 0.173_927_422_568_726_93),
];
