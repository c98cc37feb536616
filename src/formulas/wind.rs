//! Wind on the roof by ASCE 7-16 and EN 1991-1-4.

use super::body::Formula;
use super::tables::{table, word};
use crate::calc::FormulaError;
use crate::calc::wind::roof::{Axis, Heading, Overhangs, Roof, Shape};
use crate::calc::wind::roof_uplift::{self, RoofCase, RoofWind, ZoneLine};
use crate::calc::wind::{asce7, cladding, eurocode};

include!(concat!(env!("OUT_DIR"), "/formulas_wind.rs"));

impl From<word::Exposure> for asce7::Exposure {
    fn from(exposure: word::Exposure) -> Self {
        match exposure {
            word::Exposure::ExposureB => Self::B,
            word::Exposure::ExposureC => Self::C,
            word::Exposure::ExposureD => Self::D,
        }
    }
}

impl From<word::Terrain> for eurocode::Terrain {
    fn from(terrain: word::Terrain) -> Self {
        match terrain {
            word::Terrain::Sea => Self::Sea,
            word::Terrain::Lake => Self::Lake,
            word::Terrain::OpenCountry => Self::Country,
            word::Terrain::Suburb => Self::Suburb,
            word::Terrain::Town => Self::Town,
        }
    }
}

impl From<word::Enclosure> for asce7::Enclosure {
    fn from(enclosure: word::Enclosure) -> Self {
        match enclosure {
            word::Enclosure::Enclosed => Self::Enclosed,
            word::Enclosure::PartiallyOpen => Self::PartiallyOpen,
            word::Enclosure::PartiallyEnclosed => Self::PartiallyEnclosed,
        }
    }
}

impl From<word::Surface> for eurocode::Surface {
    fn from(surface: word::Surface) -> Self {
        match surface {
            word::Surface::Smooth => Self::Smooth,
            word::Surface::Rough => Self::Rough,
            word::Surface::Ribbed => Self::VeryRough,
        }
    }
}

impl From<word::Rises> for Heading {
    fn from(rises: word::Rises) -> Self {
        match rises {
            word::Rises::Opening => Self::Opening,
            word::Rises::Closing => Self::Closing,
            word::Rises::Left => Self::Left,
            word::Rises::Right => Self::Right,
        }
    }
}

impl From<Heading> for word::WindCaseDirection {
    fn from(heading: Heading) -> Self {
        match heading {
            Heading::Opening => Self::Opening,
            Heading::Closing => Self::Closing,
            Heading::Left => Self::Left,
            Heading::Right => Self::Right,
        }
    }
}

impl Formula for ExposureCoefficient {
    fn answer(self) -> Result<f64, FormulaError> {
        asce7::exposure_coefficient(self.exposure.into(), self.height)
    }
}

impl Formula for GroundElevationFactor {
    fn answer(self) -> Result<f64, FormulaError> {
        asce7::ground_elevation_factor(self.elevation)
    }
}

impl Formula for Asce7VelocityPressure {
    fn answer(self) -> Result<f64, FormulaError> {
        let kz = asce7::exposure_coefficient(self.exposure.into(), self.height)?;
        let ke = asce7::ground_elevation_factor(self.elevation.unwrap_or(asce7::SEA_LEVEL))?;
        let kzt = self.topographic_factor.unwrap_or(asce7::FLAT_GROUND);
        asce7::velocity_pressure(self.speed, kz, kzt, self.directionality_factor.unwrap_or(asce7::DIRECTIONALITY), ke)
    }
}

/// The same with each factor on the way, so that it can be worked out again on paper.
impl Formula for Asce7Wind {
    fn answer(self) -> Result<table::Asce7Wind, FormulaError> {
        let (speed, height, kzt, kd) = (self.speed, self.height, self.topographic_factor, asce7::DIRECTIONALITY);
        let kz = asce7::exposure_coefficient(self.exposure.into(), height)?;
        let ke = asce7::ground_elevation_factor(self.elevation)?;
        let pressure = asce7::velocity_pressure(speed, kz, kzt, kd, ke)?;
        Ok(table::Asce7Wind { speed, height, kz, kzt, kd, ke, pressure })
    }
}

impl Formula for EurocodeWind {
    fn answer(self) -> Result<table::EurocodeWind, FormulaError> {
        let (speed, terrain, height, orography, air) =
            (self.speed, self.terrain.into(), self.height, self.orography, eurocode::AIR_DENSITY);
        Ok(table::EurocodeWind {
            speed,
            height,
            roughness: eurocode::roughness_factor(terrain, height)?,
            orography,
            mean_speed: eurocode::mean_speed(speed, terrain, height, orography)?,
            turbulence: eurocode::turbulence_intensity(terrain, height, orography)?,
            air,
            pressure: eurocode::peak_velocity_pressure(speed, terrain, height, orography, air)?,
        })
    }
}

impl Formula for EurocodeRoughnessFactor {
    fn answer(self) -> Result<f64, FormulaError> {
        eurocode::roughness_factor(self.terrain.into(), self.height)
    }
}

impl Formula for EurocodeMeanSpeed {
    fn answer(self) -> Result<f64, FormulaError> {
        eurocode::mean_speed(self.speed, self.terrain.into(), self.height, self.orography.unwrap_or(eurocode::FLAT_GROUND))
    }
}

impl Formula for EurocodeTurbulence {
    fn answer(self) -> Result<f64, FormulaError> {
        eurocode::turbulence_intensity(self.terrain.into(), self.height, self.orography.unwrap_or(eurocode::FLAT_GROUND))
    }
}

impl Formula for EurocodePeakPressure {
    fn answer(self) -> Result<f64, FormulaError> {
        let orography = self.orography.unwrap_or(eurocode::FLAT_GROUND);
        let air = self.air_density.unwrap_or(eurocode::AIR_DENSITY);
        eurocode::peak_velocity_pressure(self.speed, self.terrain.into(), self.height, orography, air)
    }
}

impl table::RoofForm {
    /// The roof that it describes.
    ///
    /// # Errors
    /// Where its sizes do not make a roof.
    pub(super) fn roof(&self) -> Result<Roof, FormulaError> {
        let shape = match self.shape {
            word::Shape::Flat => Shape::Flat { parapet: self.parapet },
            word::Shape::MonoPitch => Shape::MonoPitch { pitch: self.pitch, rises: self.rises.into() },
            word::Shape::Gable => {
                let ridge = if self.ridge == word::Ridge::Across { Axis::Across } else { Axis::Along };
                Shape::Gable { pitch: self.pitch, ridge }
            }
        };
        let overhangs = Overhangs {
            opening: self.overhang_opening,
            closing: self.overhang_closing,
            left: self.overhang_left,
            right: self.overhang_right,
        };
        let (length, width, eaves_height, fascia) = (self.length, self.width, self.eaves_height, self.fascia);
        Roof { shape, length, width, overhangs, eaves_height, fascia }.checked()
    }
}

/// What is not written is not there: no overhang, no parapet, no fascia.
impl Formula for RoofForm {
    fn answer(self) -> Result<table::RoofForm, FormulaError> {
        Ok(table::RoofForm {
            shape: self.shape,
            pitch: self.pitch.unwrap_or_default(),
            ridge: self.ridge.unwrap_or(word::Ridge::Along),
            rises: self.rises.unwrap_or(word::Rises::Opening),
            length: self.length,
            width: self.width,
            eaves_height: self.eaves_height,
            overhang_opening: self.overhang_opening.unwrap_or_default(),
            overhang_closing: self.overhang_closing.unwrap_or_default(),
            overhang_left: self.overhang_left.unwrap_or_default(),
            overhang_right: self.overhang_right.unwrap_or_default(),
            parapet: self.parapet.unwrap_or_default(),
            fascia: self.fascia.unwrap_or_default(),
        })
    }
}

impl Formula for RoofReferenceHeight {
    fn answer(self) -> Result<f64, FormulaError> {
        let roof = self.form.roof()?;
        Ok(match self.code {
            word::RoofReferenceHeightCode::Asce7 => roof.reference_height_asce7(),
            word::RoofReferenceHeightCode::Eurocode => roof.reference_height_eurocode(),
            word::RoofReferenceHeightCode::Mean => roof.mean_height(),
        })
    }
}

fn zone(line: &ZoneLine) -> table::WindZone {
    table::WindZone {
        zone: line.name.into(),
        area: line.area,
        along: line.x,
        across: line.y,
        coefficient: line.coefficient,
        pressure: line.pressure,
        uplift: line.uplift(),
    }
}

fn case(case: &RoofCase) -> table::WindCase {
    table::WindCase {
        direction: case.direction.into(),
        case: case.description.as_str().into(),
        uplift: case.uplift,
        moment_along: case.moment_along,
        moment_across: case.moment_across,
        drag: case.horizontal,
        drag_moment: case.horizontal_moment,
        zones: case.zones.iter().chain(&case.underside).map(zone).collect(),
    }
}

fn all_cases(wind: &RoofWind) -> Result<table::RoofWind, FormulaError> {
    let governing = wind.governing().ok_or_else(|| FormulaError::domain("the roof", "hit by some wind"))?;
    let drag =
        |axis: Axis| wind.cases.iter().filter(|case| case.direction.axis() == axis).map(|case| case.horizontal.abs()).fold(0.0, f64::max);
    // Where the wind presses hardest from above, the push or suction from inside with it.
    let inside = |case: &RoofCase| case.underside.iter().find(|line| line.name == "inside").map_or(0.0, |line| line.pressure);
    let pressed = wind.cases.iter().flat_map(|case| case.zones.iter().map(move |line| line.pressure + inside(case))).fold(0.0, f64::max);
    Ok(table::RoofWind {
        uplift: governing.uplift,
        case: governing.description.as_str().into(),
        pressed,
        drag_along: drag(Axis::Along),
        drag_across: drag(Axis::Across),
        notes: wind.notes.iter().map(|note| note.as_str().into()).collect(),
        cases: wind.cases.iter().map(case).collect(),
    })
}

impl Formula for Asce7ClosedRoof {
    fn answer(self) -> Result<table::RoofWind, FormulaError> {
        all_cases(&roof_uplift::asce7_closed(&self.form.roof()?, self.pressure, self.enclosure.into())?)
    }
}

impl Formula for Asce7FreeRoof {
    fn answer(self) -> Result<table::RoofWind, FormulaError> {
        all_cases(&roof_uplift::asce7_free(&self.form.roof()?, self.pressure, self.blockage)?)
    }
}

impl Formula for EurocodeClosedRoof {
    fn answer(self) -> Result<table::RoofWind, FormulaError> {
        all_cases(&roof_uplift::eurocode_closed(&self.form.roof()?, self.pressure, &self.internal, eurocode::LOADED_AREA)?)
    }
}

impl Formula for EurocodeFreeRoof {
    fn answer(self) -> Result<table::RoofWind, FormulaError> {
        all_cases(&roof_uplift::eurocode_canopy(&self.form.roof()?, self.pressure, self.blockage, self.surface.into())?)
    }
}

impl From<cladding::Suction> for table::Cladding {
    fn from(suction: cladding::Suction) -> Self {
        Self {
            field: suction.field,
            edge: suction.edge,
            overhang: suction.overhang,
            edge_width: suction.edge_width,
            field_coefficient: suction.field_coefficient,
            edge_coefficient: suction.edge_coefficient,
            zone: suction.zone.into(),
            figure: suction.figure.into(),
        }
    }
}

impl Formula for Asce7Cladding {
    fn answer(self) -> Result<table::Cladding, FormulaError> {
        Ok(cladding::asce7(&self.form.roof()?, self.pressure, self.enclosure.into(), self.area)?.into())
    }
}

impl Formula for EurocodeCladding {
    fn answer(self) -> Result<table::Cladding, FormulaError> {
        Ok(cladding::eurocode(&self.form.roof()?, self.pressure, &self.internal, self.area)?.into())
    }
}

impl Formula for EurocodeProbabilityFactor {
    fn answer(self) -> Result<f64, FormulaError> {
        let (shape, exponent) =
            (self.shape.unwrap_or(eurocode::PROBABILITY_SHAPE), self.exponent.unwrap_or(eurocode::PROBABILITY_EXPONENT));
        eurocode::probability_factor(1.0 / self.years, shape, exponent)
    }
}

impl Formula for DominantOpening {
    fn answer(self) -> Result<f64, FormulaError> {
        eurocode::internal::of_dominant_face(self.face_coefficient, self.dominance)
    }
}
