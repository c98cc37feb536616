//! What a telescope sees: the pole, the horizon that is really there, the hours above it.
//!
//! In: an eye and the bodies around it as tables, angles. Out: altitudes, azimuths, times. Azimuths count from north over
//! east, hour angles and offsets as `calc::sky` has them. It must not know which body is a house and which a roof.

use super::body::Formula;
use super::tables::{table, word};
use crate::calc::FormulaError;
use crate::calc::sky::arc::{above, clock_time};
use crate::calc::sky::horizon::{self, FINEST_STEPS, STEPS};
use crate::calc::sky::outline::Obstacle;
use crate::calc::sky::place::{self, Horizontal, from_pole_to_pole};
use crate::calc::sky::refraction::{Air, STANDARD_PRESSURE, STANDARD_TEMPERATURE, bennett, saemundsson};
use crate::calc::sky::visible::when_visible;
use crate::calc::space::piece::{Form, Piece};
use crate::calc::space::prism::point;
use crate::calc::space::solid::{Point, Solid, turned};
use smol_str::SmolStr;
use std::f64::consts::{FRAC_PI_2, TAU};
use std::sync::Arc;

include!(concat!(env!("OUT_DIR"), "/formulas_sky.rs"));

impl Formula for Compass {
    fn answer(self) -> Result<f64, FormulaError> {
        Ok(place::point_of_compass(match self.point {
            word::Point::North => 0,
            word::Point::NorthEast => 1,
            word::Point::East => 2,
            word::Point::SouthEast => 3,
            word::Point::South => 4,
            word::Point::SouthWest => 5,
            word::Point::West => 6,
            word::Point::NorthWest => 7,
        }))
    }
}

impl Formula for Eye {
    fn answer(self) -> Result<table::Eye, FormulaError> {
        Ok(table::Eye { station: self.station, offset: self.offset, level: self.level, facing: self.facing })
    }
}

impl Formula for SkyStretch {
    fn answer(self) -> Result<Arc<[Piece]>, FormulaError> {
        let form = Form::Stretch { from: self.from, to: self.until, altitude: self.altitude };
        Ok(Arc::new([Piece::new(self.name, form)?]))
    }
}

/// The horizon of an eye among bodies, with the names of the bodies.
struct Around {
    horizon: horizon::Horizon,
    names: Vec<SmolStr>,
}

impl Around {
    /// What is open where nothing is said of it is open down to the level.
    fn of(eye: &table::Eye, around: &[Piece], open: Option<f64>) -> Result<Self, FormulaError> {
        let facing = eye.facing;
        let eye = turned(point(eye.station, eye.offset, eye.level), facing);
        let (mut names, mut obstacles) = (Vec::new(), Vec::new());
        for piece in around {
            obstacles.push(obstacle(piece, eye, facing)?);
            names.push(piece.name.clone());
        }
        Ok(Self { horizon: horizon::Horizon::new(eye, open.unwrap_or_default(), &obstacles)?, names })
    }

    fn told(&self, skyline: horizon::Skyline) -> table::Skyline {
        let name = skyline.obstacle.and_then(|at| self.names.get(at));
        let behind = name.cloned().unwrap_or_else(|| SmolStr::new_static("the open horizon"));
        table::Skyline { altitude: skyline.altitude, azimuth: skyline.azimuth, behind }
    }
}

fn obstacle(piece: &Piece, eye: Point, facing: f64) -> Result<Obstacle, FormulaError> {
    let turned = |at: Point| turned(at, facing);
    Ok(match &piece.form {
        Form::Prism(prism) => Obstacle::Solid(prism.solid()?.mapped(turned)),
        Form::Block(solid) => Obstacle::Solid(solid.mapped(turned)),
        Form::Edge { from, to } => Obstacle::Wall { from: turned(*from), to: turned(*to) },
        Form::Stretch { from, to, altitude } => Obstacle::Site { from: *from, to: *to, altitude: *altitude },
        Form::Ball { centre, radius } => {
            let centre = turned(*centre);
            let distance = centre.iter().zip(eye).map(|(c, e)| (c - e).powi(2)).sum::<f64>().sqrt();
            // Where one telescope swings round the other's axes, nothing is sure to be seen.
            let is_around = distance <= *radius;
            if is_around {
                Obstacle::Site { from: 0.0, to: TAU, altitude: FRAC_PI_2 }
            } else {
                Obstacle::Sphere { centre, radius: *radius }
            }
        }
        // A column stands as it stands.
        Form::Tube { from, to, diameter } if from.iter().zip(to).take(2).all(|(a, b)| (a - b).abs() < 1e-9) => {
            Obstacle::Solid(Solid::column(*from, *to, *diameter)?.mapped(turned))
        }
        Form::Tube { .. } => {
            return Err(FormulaError::domain(format!("`{}`", piece.name), "a body that hides the same sky in every pose: a `ball`"));
        }
    })
}

impl Formula for Horizon {
    fn answer(self) -> Result<Vec<f64>, FormulaError> {
        let steps = self.steps.unwrap_or(STEPS);
        if !(1.0..=FINEST_STEPS).contains(&steps) {
            return Err(FormulaError::domain("the steps", format!("from 1 to {FINEST_STEPS}")));
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded just before")]
        let steps = steps.round() as u32;
        Ok(Around::of(&self.eye, &self.around, self.open)?.horizon.all_round(steps))
    }
}

impl Formula for LowestAltitude {
    fn answer(self) -> Result<table::Skyline, FormulaError> {
        let around = Around::of(&self.eye, &self.around, self.open)?;
        Ok(around.told(around.horizon.at(self.azimuth)))
    }
}

impl Formula for HighestBetween {
    fn answer(self) -> Result<table::Skyline, FormulaError> {
        let around = Around::of(&self.eye, &self.around, self.open)?;
        Ok(around.told(around.horizon.worst_between(self.from, self.until)))
    }
}

/// The air of a pressure and a temperature; those for which the formulas were made where they are not given.
fn air(pressure: Option<f64>, temperature: Option<f64>) -> Result<Air, FormulaError> {
    Air::new(pressure.unwrap_or(STANDARD_PRESSURE), temperature.unwrap_or(STANDARD_TEMPERATURE))
}

fn latitude(angle: f64) -> Result<f64, FormulaError> {
    from_pole_to_pole("the latitude", angle)
}

fn declination(angle: f64) -> Result<f64, FormulaError> {
    from_pole_to_pole("the declination", angle)
}

/// Without a formula the air lifts nothing.
impl Formula for TimeVisible {
    fn answer(self) -> Result<table::TimeVisible, FormulaError> {
        let around = Around::of(&self.eye, &self.around, self.open)?;
        let air = match self.refraction.unwrap_or(word::Refraction::None) {
            word::Refraction::Saemundsson => Some(air(self.pressure, self.temperature)?),
            word::Refraction::None => None,
        };
        let seen = when_visible(&around.horizon, declination(self.declination)?, latitude(self.latitude)?, air)?;
        let arcs = seen.arcs.iter().map(|(from, to)| table::VisibleArc { from: *from, to: *to }).collect();
        Ok(table::TimeVisible { total: clock_time(seen.angle()), arcs })
    }
}

impl Formula for TimeAbove {
    fn answer(self) -> Result<f64, FormulaError> {
        above(self.altitude, declination(self.declination)?, latitude(self.latitude)?).map(|arc| clock_time(arc.angle()))
    }
}

impl From<Horizontal> for table::Star {
    fn from(place: Horizontal) -> Self {
        Self { altitude: place.altitude, azimuth: place.azimuth }
    }
}

impl Formula for Star {
    fn answer(self) -> Result<table::Star, FormulaError> {
        Ok(place::horizontal(self.hour_angle, declination(self.declination)?, latitude(self.latitude)?).into())
    }
}

impl Formula for CelestialPole {
    fn answer(self) -> Result<table::Star, FormulaError> {
        Ok(place::pole(latitude(self.latitude)?).into())
    }
}

impl Formula for Refraction {
    fn answer(self) -> Result<f64, FormulaError> {
        let air = air(self.pressure, self.temperature)?;
        Ok(match self.formula {
            word::Formula::Bennett => bennett(self.altitude, air),
            word::Formula::Saemundsson => saemundsson(self.altitude, air),
        })
    }
}
