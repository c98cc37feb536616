//! What acts on a roof that is held down, combined, and where it is held.

/// A vertical force on the roof with its moments about the plan centre.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Resultant {
    /// Upward force, N.
    pub force: f64,
    /// Sum of upward force times x (along the travel), N·m.
    pub moment_along: f64,
    /// Sum of upward force times y (across the travel), N·m.
    pub moment_across: f64,
}

impl Resultant {
    /// An upward force (N) at a place (m).
    #[must_use]
    pub fn at(force: f64, x: f64, y: f64) -> Self {
        Self { force, moment_along: force * x, moment_across: force * y }
    }

    pub(super) fn numbers(self) -> [f64; 3] {
        [self.force, self.moment_along, self.moment_across]
    }

    /// This many times the same.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        Self { force: self.force * factor, moment_along: self.moment_along * factor, moment_across: self.moment_across * factor }
    }

    /// Both together.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            force: self.force + other.force,
            moment_along: self.moment_along + other.moment_along,
            moment_across: self.moment_across + other.moment_across,
        }
    }

    /// The couple of a horizontal force (`x` along, `y` across, N) that acts `height` m above the
    /// level at which the clamps and wheels hold it: it lifts the side it comes from.
    #[must_use]
    pub fn overturning(x: f64, y: f64, height: f64) -> Self {
        Self { force: 0.0, moment_along: -x * height, moment_across: -y * height }
    }
}

/// The sets of factors by which uplift is weighed against dead load.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Combination {
    /// Allowable stress: 0.6 W - 0.6 D. ASCE 7-16 §2.4.1, combination 7.
    Asd,
    /// Strength: 1.0 W - 0.9 D. ASCE 7-16 §2.3.1, combination 5.
    Lrfd,
    /// Static equilibrium: 1.5 W - 0.9 G. EN 1990 Table A1.2(A).
    Equilibrium,
    /// Strength of members and anchors: 1.5 W - 1.0 G. EN 1990 Table A1.2(B).
    Strength,
    /// A wind that somebody measures, at the level of working loads: 1.0 W - 0.6 D. The 0.6 on the wind of ASCE 7-16
    /// §2.4.1 turns the strength-level speed of its map into a service level, where a reading of an anemometer already is.
    Measured,
}

impl Combination {
    /// Factor on the wind.
    #[must_use]
    pub const fn wind_factor(self) -> f64 {
        match self {
            Self::Asd => 0.6,
            Self::Lrfd | Self::Measured => 1.0,
            Self::Equilibrium | Self::Strength => 1.5,
        }
    }

    /// Factor on a weight that helps to hold down.
    #[must_use]
    pub const fn dead_factor(self) -> f64 {
        match self {
            Self::Asd | Self::Measured => 0.6,
            Self::Lrfd | Self::Equilibrium => 0.9,
            Self::Strength => 1.0,
        }
    }

    /// What a force of this combination is divided by before it is compared with a working load:
    /// 1 for allowable stress; for the others the factor on the wind over the one that the same
    /// code's working loads go with (1.5 for EN 1990, 1.0 / 0.6 for ASCE 7).
    #[must_use]
    pub const fn working_load_divisor(self) -> f64 {
        match self {
            Self::Asd | Self::Measured => 1.0,
            Self::Lrfd => 1.0 / 0.6,
            Self::Equilibrium | Self::Strength => 1.5,
        }
    }

    /// Net upward load on the hold-downs: factored wind less factored weight. `wind` is the upward
    /// resultant of the wind, `dead` the weight (N, downwards positive) as a resultant.
    #[must_use]
    pub fn net(self, wind: Resultant, dead: Resultant) -> Resultant {
        wind.times(self.wind_factor()).and(dead.times(-self.dead_factor()))
    }
}

/// A place where the roof is held or stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Support {
    /// Along the travel from the plan centre, m.
    pub x: f64,
    /// Across the travel from the plan centre, m.
    pub y: f64,
    /// Stiffness, N/m; only ratios between supports matter.
    pub stiffness: f64,
}

impl Support {
    /// A support as stiff as all others.
    #[must_use]
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y, stiffness: 1.0 }
    }
}
