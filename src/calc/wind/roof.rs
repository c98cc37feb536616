//! The roof as the wind meets it: a rectangle on plan, flat, mono-pitch or gable.
//!
//! In: plan dimensions, pitch, eaves height, overhangs. Out: heights, and for each wind direction
//! the roof's extent, how it faces the wind and its vertical faces.
//! It must not know a pressure or a coefficient.
//!
//! Plan positions are taken from the centre of the plan: `x` along the travel, growing the way the
//! roof opens, `y` across, growing to the left when looking that way.

use super::table::degrees;
use crate::calc::{FormulaError, check};

/// A way along the plan: where the wind blows to, or where a mono-pitch roof rises to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Heading {
    /// The way the roof opens, +x.
    Opening,
    /// The way it closes, -x.
    Closing,
    /// To the left when looking the way it opens, +y.
    Left,
    /// To the right, -y.
    Right,
}

impl Heading {
    /// All four.
    pub const ALL: [Self; 4] = [Self::Opening, Self::Closing, Self::Left, Self::Right];

    /// The axis that it runs along.
    #[must_use]
    pub const fn axis(self) -> Axis {
        match self {
            Self::Opening | Self::Closing => Axis::Along,
            Self::Left | Self::Right => Axis::Across,
        }
    }

    /// The opposite way.
    #[must_use]
    pub const fn opposite(self) -> Self {
        match self {
            Self::Opening => Self::Closing,
            Self::Closing => Self::Opening,
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    /// Unit vector (x, y).
    #[must_use]
    pub const fn unit(self) -> (f64, f64) {
        match self {
            Self::Opening => (1.0, 0.0),
            Self::Closing => (-1.0, 0.0),
            Self::Left => (0.0, 1.0),
            Self::Right => (0.0, -1.0),
        }
    }

    /// In a builder's words, of a wind that blows this way.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Opening => "wind the way the roof opens",
            Self::Closing => "wind the way the roof closes",
            Self::Left => "wind across, to the left",
            Self::Right => "wind across, to the right",
        }
    }
}

/// Along the travel or across it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Axis {
    /// Along the travel.
    Along,
    /// Across the travel.
    Across,
}

/// The shape of the roof.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape {
    /// Flat; `parapet` m high all round, 0 for sharp eaves.
    Flat {
        /// Height of the parapet, m.
        parapet: f64,
    },
    /// One slope.
    MonoPitch {
        /// Pitch, rad.
        pitch: f64,
        /// The way it rises.
        rises: Heading,
    },
    /// Two equal slopes.
    Gable {
        /// Pitch of both, rad.
        pitch: f64,
        /// The way the ridge runs.
        ridge: Axis,
    },
}

/// How far the roof stands out over the walls on each side, m on plan.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Overhangs {
    /// At the end to which it opens.
    pub opening: f64,
    /// At the end to which it closes.
    pub closing: f64,
    /// On the left.
    pub left: f64,
    /// On the right.
    pub right: f64,
}

impl Overhangs {
    /// The overhang at the side that lies this way from the centre, m.
    #[must_use]
    pub const fn at(self, side: Heading) -> f64 {
        match side {
            Heading::Opening => self.opening,
            Heading::Closing => self.closing,
            Heading::Left => self.left,
            Heading::Right => self.right,
        }
    }
}

/// A rectangular roof.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Roof {
    /// Its shape.
    pub shape: Shape,
    /// Extent along the travel, overhangs included, m.
    pub length: f64,
    /// Extent across the travel, overhangs included, m.
    pub width: f64,
    /// How much of that stands out over the walls.
    pub overhangs: Overhangs,
    /// Height of the lower edge of the slope (or of the flat roof) above ground, m.
    pub eaves_height: f64,
    /// Depth of the vertical band below that edge that moves with the roof all round (fascia, knee
    /// wall), m.
    pub fascia: f64,
}

/// How the roof faces a wind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Facing {
    /// Flat.
    Level,
    /// Mono-pitch, low eaves to the wind.
    LowEavesFirst,
    /// Mono-pitch, high eaves to the wind.
    HighEavesFirst,
    /// Mono-pitch, wind across the fall.
    AcrossFall {
        /// Whether the high eaves are on the left of one who walks with the wind.
        high_on_left: bool,
    },
    /// Gable, wind across the ridge.
    AcrossRidge,
    /// Gable, wind along the ridge.
    AlongRidge,
}

/// A vertical face of the roof that looks into the wind or away from it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Face {
    /// Whether it looks into the wind.
    pub windward: bool,
    /// Whether it is a parapet, with the wind on both of its faces.
    pub parapet: bool,
    /// Area, m².
    pub area: f64,
    /// Height of its centroid above the eaves (fascia: below it, negative), m.
    pub level: f64,
}

impl Roof {
    /// The roof again, if its dimensions make one.
    ///
    /// # Errors
    /// If a dimension is missing, negative, or the overhangs leave no room inside, or the pitch is
    /// not between 0 and 60 degrees.
    pub fn checked(self) -> Result<Self, FormulaError> {
        check::positive("length of the roof", self.length)?;
        check::positive("width of the roof", self.width)?;
        check::positive("height of the eaves", self.eaves_height)?;
        check::not_negative("depth of the fascia", self.fascia)?;
        for side in Heading::ALL {
            check::not_negative("overhang", self.overhangs.at(side))?;
        }
        check::not_negative("height of the parapet", self.parapet())?;
        check::within("pitch of the roof", degrees(self.pitch()), 0.0, 60.0, "between 0 and 60 degrees")?;
        let (inside_length, inside_width) = self.inside();
        if inside_length <= 0.0 || inside_width <= 0.0 {
            return Err(FormulaError::domain("overhangs", "less than the roof itself"));
        }
        Ok(self)
    }

    /// Pitch, rad.
    #[must_use]
    pub const fn pitch(&self) -> f64 {
        match self.shape {
            Shape::Flat { .. } => 0.0,
            Shape::MonoPitch { pitch, .. } | Shape::Gable { pitch, .. } => pitch,
        }
    }

    /// Height from the eaves to the highest line of the slope, m.
    #[must_use]
    pub fn rise(&self) -> f64 {
        match self.shape {
            Shape::Flat { .. } => 0.0,
            Shape::MonoPitch { pitch, rises } => pitch.tan() * self.extent(rises.axis()),
            Shape::Gable { pitch, ridge: Axis::Along } => pitch.tan() * self.width / 2.0,
            Shape::Gable { pitch, ridge: Axis::Across } => pitch.tan() * self.length / 2.0,
        }
    }

    /// Height of the parapet, m.
    #[must_use]
    pub const fn parapet(&self) -> f64 {
        match self.shape {
            Shape::Flat { parapet } => parapet,
            Shape::MonoPitch { .. } | Shape::Gable { .. } => 0.0,
        }
    }

    /// Height h of the roof's highest line above ground, without a parapet, m. EN 1991-1-4
    /// Figures 7.6 to 7.8.
    #[must_use]
    pub fn ridge_height(&self) -> f64 {
        self.eaves_height + self.rise()
    }

    /// Reference height ze of the roof by EN 1991-1-4 7.2.3 to 7.2.5: its highest line, parapet
    /// included, m.
    #[must_use]
    pub fn reference_height_eurocode(&self) -> f64 {
        self.ridge_height() + self.parapet()
    }

    /// Mean roof height above ground, m. ASCE 7-16 §26.2; the reference height of free roofs.
    #[must_use]
    pub fn mean_height(&self) -> f64 {
        self.eaves_height + self.rise() / 2.0
    }

    /// The reference height of a closed building by ASCE 7-16 §26.3: mean roof height, but eaves
    /// height for pitches up to 10 degrees, m.
    #[must_use]
    pub fn reference_height_asce7(&self) -> f64 {
        if degrees(self.pitch()) <= 10.0 { self.eaves_height } else { self.mean_height() }
    }

    /// Plan area, overhangs included, m².
    #[must_use]
    pub fn plan_area(&self) -> f64 {
        self.length * self.width
    }

    /// Extent along an axis, m.
    #[must_use]
    pub const fn extent(&self, axis: Axis) -> f64 {
        match axis {
            Axis::Along => self.length,
            Axis::Across => self.width,
        }
    }

    /// Plan dimensions of the building below, (along, across), m.
    #[must_use]
    pub fn inside(&self) -> (f64, f64) {
        let over = self.overhangs;
        (self.length - over.opening - over.closing, self.width - over.left - over.right)
    }

    /// Depth along the wind and breadth across it, m, of the roof.
    #[must_use]
    pub const fn depth_and_breadth(&self, wind: Heading) -> (f64, f64) {
        match wind.axis() {
            Axis::Along => (self.length, self.width),
            Axis::Across => (self.width, self.length),
        }
    }

    /// How it faces the wind.
    #[must_use]
    pub fn facing(&self, wind: Heading) -> Facing {
        match self.shape {
            Shape::Flat { .. } => Facing::Level,
            Shape::MonoPitch { rises, .. } if rises == wind => Facing::LowEavesFirst,
            Shape::MonoPitch { rises, .. } if rises == wind.opposite() => Facing::HighEavesFirst,
            Shape::MonoPitch { rises, .. } => {
                let ((along, aside), (x, y)) = (wind.unit(), rises.unit());
                Facing::AcrossFall { high_on_left: along * y - aside * x > 0.0 }
            }
            Shape::Gable { ridge, .. } if ridge == wind.axis() => Facing::AlongRidge,
            Shape::Gable { .. } => Facing::AcrossRidge,
        }
    }

    /// Vertical faces that look into the wind or away from it: fascia, gable ends, the tall side
    /// of a mono-pitch roof, parapet.
    #[must_use]
    pub fn faces(&self, wind: Heading) -> Vec<Face> {
        let (_, breadth) = self.depth_and_breadth(wind);
        let rise = self.rise();
        let pair = |area: f64, level: f64| [true, false].map(|windward| Face { windward, parapet: false, area, level });
        let mut faces = Vec::from(pair(breadth * self.fascia, -self.fascia / 2.0));
        let parapets = pair(breadth * self.parapet(), self.parapet() / 2.0);
        faces.extend(parapets.map(|face| Face { parapet: true, ..face }));
        match self.facing(wind) {
            Facing::Level | Facing::AcrossRidge => {}
            Facing::LowEavesFirst | Facing::HighEavesFirst => faces.push(Face {
                windward: self.facing(wind) == Facing::HighEavesFirst,
                parapet: false,
                area: breadth * rise,
                level: rise / 2.0,
            }),
            Facing::AcrossFall { .. } | Facing::AlongRidge => {
                faces.extend(pair(breadth * rise / 2.0, rise / 3.0));
            }
        }
        faces.retain(|face| face.area > 0.0);
        faces
    }
}
