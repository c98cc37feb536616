//! What the wind does to a whole roof: uplift, where it acts, and drag, for every wind direction.
//!
//! In: a [`Roof`] and a velocity pressure at its reference height. Out: one [`RoofCase`] for each
//! wind direction and each combination of coefficients that the standard asks for, each with the
//! zones it was summed from.
//! It must not know the roof's weight, its clamps or the load factors: see
//! [`crate::calc::holddown`].
//!
//! Pressures act square to the slope; their vertical part is pressure times plan area. The inside
//! pressure acts on the plan within the walls and pushes a closed roof nowhere sideways. Suction
//! under the side and lee overhangs, which would help to hold the roof down, is neglected.

mod asce7;
mod eurocode;
mod plan;

use super::roof::Heading;
use crate::calc::holddown::Resultant;

pub use asce7::{closed as asce7_closed, free as asce7_free};
pub use eurocode::{canopy as eurocode_canopy, closed as eurocode_closed};

/// One zone of one face of the roof under one wind.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneLine {
    /// The standard's name of the zone.
    pub name: &'static str,
    /// Plan area, m².
    pub area: f64,
    /// Centroid along the travel from the centre of the plan, m.
    pub x: f64,
    /// Centroid across the travel from the centre of the plan, m.
    pub y: f64,
    /// The standard's pressure coefficient of this face, towards the face positive.
    pub coefficient: f64,
    /// Pressure downwards on the roof, Pa: of an upper face the pressure on it, of an underside the
    /// pressure under it turned round.
    pub pressure: f64,
}

impl ZoneLine {
    /// Its share of the uplift, N.
    #[must_use]
    pub fn uplift(&self) -> f64 {
        -self.pressure * self.area
    }
}

/// The roof under one wind with one combination of coefficients.
#[derive(Debug, Clone, PartialEq)]
pub struct RoofCase {
    /// Where the wind blows to.
    pub direction: Heading,
    /// Wind and coefficients in words.
    pub description: String,
    /// Net upward force, N; negative if the wind presses the roof down.
    pub uplift: f64,
    /// Sum of upward force times its x, N·m.
    pub moment_along: f64,
    /// Sum of upward force times its y, N·m.
    pub moment_across: f64,
    /// Horizontal force in the direction of the wind, N.
    pub horizontal: f64,
    /// Sum of horizontal force times its height above the eaves, N·m.
    pub horizontal_moment: f64,
    /// The zones of the upper face; their areas add up to the plan.
    pub zones: Vec<ZoneLine>,
    /// Inside pressure and the undersides of overhangs.
    pub underside: Vec<ZoneLine>,
}

impl RoofCase {
    /// What the wind asks of clamps and wheels that hold the roof `below_eaves` m below its eaves: the
    /// uplift, and the couple of the horizontal force, which lifts the windward side.
    #[must_use]
    pub fn load(&self, below_eaves: f64) -> Resultant {
        let uplift = Resultant { force: self.uplift, moment_along: self.moment_along, moment_across: self.moment_across };
        let (x, y) = self.direction.unit();
        let moment = self.horizontal_moment + self.horizontal * below_eaves;
        uplift.and(Resultant::overturning(x, y, moment))
    }

    /// Where the uplift acts, (x, y) in m from the centre of the plan; none if there is no net
    /// force, only a couple.
    #[must_use]
    pub fn position(&self) -> Option<(f64, f64)> {
        (self.uplift.abs() > f64::EPSILON).then(|| (self.moment_along / self.uplift, self.moment_across / self.uplift))
    }
}

/// The roof under every wind.
#[derive(Debug, Clone, PartialEq)]
pub struct RoofWind {
    /// All cases.
    pub cases: Vec<RoofCase>,
    /// Where the standard's figures were stretched, in words.
    pub notes: Vec<String>,
}

impl RoofWind {
    /// The case with the greatest uplift. The worst clamp may have another: it takes the envelope
    /// over all cases.
    #[must_use]
    pub fn governing(&self) -> Option<&RoofCase> {
        self.cases.iter().max_by(|a, b| a.uplift.total_cmp(&b.uplift))
    }
}
