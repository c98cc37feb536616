//! Shapes of a drawing as tables: what is seen of a part when it is looked at from above, from the side, along the travel.
//!
//! In: two of the three measures of the building, each one value, a range or a list. Out: a table that the drawings
//! read. It must not know on which sheet a shape goes, nor how lines are drawn.

use super::body::Formula;
use super::tables::{table, word};
use super::take;
use crate::calc::FormulaError;
use crate::calc::sky::place::daily_way;
use crate::units::Dim;
use crate::values::{Quantity, Value};

include!(concat!(env!("OUT_DIR"), "/formulas_drawings.rs"));

/// More than this on one circle is a slip.
const MOST_OF_A_RING: f64 = 360.0;
/// More values than this are a slip.
const MOST_STEPS: f64 = 10_000.0;
/// Steps of the way of a star in a day, so that it looks round on paper: every ten minutes.
const STEPS_OF_A_DAY: u32 = 144;

/// The values of one measure: one, both ends of a range, or those of a list.
fn along(value: &Value) -> Result<Vec<f64>, FormulaError> {
    let wrong = || FormulaError::domain("each measure", "a length, a range of lengths or a list of lengths");
    let length = |value: &Value| match value {
        Value::Zero => Ok(0.0),
        Value::Quantity(quantity) if quantity.dim == Dim::LENGTH => Ok(quantity.si),
        _ => Err(wrong()),
    };
    match value {
        Value::Range(ends) if ends.iter().all(|end| end.dim == Dim::LENGTH) => Ok(ends.iter().map(|end| end.si).collect()),
        Value::List(items) => items.iter().map(length).collect(),
        value => Ok(vec![length(value)?]),
    }
}

impl table::Figure {
    /// A shape of those of the three measures that are given.
    fn of(shape: word::FigureShape, station: Option<&Value>, offset: Option<&Value>, level: Option<&Value>) -> Result<Self, FormulaError> {
        let along = |measure: Option<&Value>| measure.map(along).transpose();
        Ok(Self { shape, station: along(station)?, offset: along(offset)?, level: along(level)?, diameter: None })
    }

    fn measures(&self) -> impl Iterator<Item = &Vec<f64>> {
        [&self.station, &self.offset, &self.level].into_iter().flatten()
    }

    /// The same if it lies in a plane.
    fn flat(self) -> Result<Self, FormulaError> {
        if self.measures().count() == 2 { Ok(self) } else { Err(FormulaError::domain("the measures", "two of station, offset and level")) }
    }

    /// The same if it has one place.
    fn single(self) -> Result<Self, FormulaError> {
        if self.measures().all(|values| values.len() == 1) { Ok(self) } else { Err(FormulaError::domain("each measure", "one length")) }
    }
}

impl Formula for Rectangle {
    fn answer(self) -> Result<table::Figure, FormulaError> {
        let (station, offset, level) = (self.station.as_ref(), self.offset.as_ref(), self.level.as_ref());
        let figure = table::Figure::of(word::FigureShape::Rectangle, station, offset, level)?.flat()?;
        if figure.measures().any(|values| values.len() != 2) {
            return Err(FormulaError::domain("each measure", "a range: from one side to the other"));
        }
        Ok(figure)
    }
}

impl Formula for Line {
    fn answer(self) -> Result<table::Figure, FormulaError> {
        let (station, offset, level) = (self.station.as_ref(), self.offset.as_ref(), self.level.as_ref());
        let mut figure = table::Figure::of(word::FigureShape::Line, station, offset, level)?.flat()?;
        let points = figure.measures().map(Vec::len).max().unwrap_or(0);
        for values in [&mut figure.station, &mut figure.offset, &mut figure.level].into_iter().flatten() {
            if let [only] = values.as_slice() {
                *values = vec![*only; points];
            }
            if values.len() != points || points < 2 {
                return Err(FormulaError::domain("the measures", "as many of one as of the other, two at least"));
            }
        }
        Ok(figure)
    }
}

impl Formula for Circle {
    fn answer(self) -> Result<table::Figure, FormulaError> {
        let (station, offset, level) = (self.station.as_ref(), self.offset.as_ref(), self.level.as_ref());
        let figure = table::Figure::of(word::FigureShape::Circle, station, offset, level)?.flat()?;
        if self.diameter <= 0.0 {
            return Err(FormulaError::domain("the diameter", "above zero"));
        }
        Ok(table::Figure { diameter: Some(self.diameter), ..figure.single()? })
    }
}

impl Formula for Mark {
    fn answer(self) -> Result<table::Figure, FormulaError> {
        let (station, offset, level) = (self.station.as_ref(), self.offset.as_ref(), self.level.as_ref());
        table::Figure::of(word::FigureShape::Mark, station, offset, level)?.flat()?.single()
    }
}

impl Formula for At {
    fn answer(self) -> Result<table::Figure, FormulaError> {
        let (station, offset, level) = (self.station.as_ref(), self.offset.as_ref(), self.level.as_ref());
        let figure = table::Figure::of(word::FigureShape::At, station, offset, level)?;
        if figure.measures().count() != 1 {
            return Err(FormulaError::domain("the measure", "one of station, offset and level"));
        }
        Ok(figure)
    }
}

impl Formula for NorthArrow {
    fn answer(self) -> Result<table::NorthArrow, FormulaError> {
        Ok(table::NorthArrow { shape: word::NorthArrowShape::NorthArrow, azimuth: self.opening })
    }
}

/// Places on a circle about the datum, from `first` on, counted from the way the roof opens to the left.
impl Formula for Ring {
    fn answer(self) -> Result<Vec<table::Figure>, FormulaError> {
        let (count, radius, diameter) = (self.count, self.circle / 2.0, self.diameter);
        if !(1.0..=MOST_OF_A_RING).contains(&count) || count.fract() != 0.0 {
            return Err(FormulaError::domain("the count", format!("a whole number from 1 to {MOST_OF_A_RING}")));
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded just before")]
        let places = (0..count as u32).map(|at| self.first + f64::from(at) / count * std::f64::consts::TAU);
        let shape = if diameter.is_some() { word::FigureShape::Circle } else { word::FigureShape::Mark };
        let one = |turn: f64| {
            let (station, offset) = (Some(vec![radius * turn.cos()]), Some(vec![radius * turn.sin()]));
            table::Figure { shape, station, offset, level: None, diameter }
        };
        Ok(places.map(one).collect())
    }
}

impl Formula for Curve {
    fn answer(self) -> Result<table::Plot, FormulaError> {
        let (across, up) = (take::values(&self.across).unwrap_or_default(), take::values(&self.up).unwrap_or_default());
        if across.len() != up.len() || across.len() < 2 {
            return Err(FormulaError::domain("the lists", "as long as each other, two at least"));
        }
        Ok(table::Plot { shape: word::PlotShape::Curve, across, up: Some(up) })
    }
}

impl Formula for Upright {
    fn answer(self) -> Result<table::Plot, FormulaError> {
        Ok(table::Plot { shape: word::PlotShape::Upright, across: vec![Value::Quantity(self.across)], up: None })
    }
}

impl Formula for Area {
    fn answer(self) -> Result<table::Plot, FormulaError> {
        let (across, up) = (take::values(&self.across).unwrap_or_default(), take::values(&self.up).unwrap_or_default());
        if across.len() != 2 || up.len() != 2 {
            return Err(FormulaError::domain("each side", "a list of two: from and to"));
        }
        Ok(table::Plot { shape: word::PlotShape::Area, across, up: Some(up) })
    }
}

/// Values at even steps.
impl Formula for Evenly {
    fn answer(self) -> Result<Vec<Quantity>, FormulaError> {
        let (first, last, count) = (self.first, self.last, self.count);
        if first.dim != last.dim {
            return Err(FormulaError::domain("the ends", "of one dimension"));
        }
        if !(2.0..=MOST_STEPS).contains(&count) || count.fract() != 0.0 {
            return Err(FormulaError::domain("the count", format!("a whole number from 2 to {MOST_STEPS}")));
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded just before")]
        let parts = (0..count as u32).map(|at| f64::from(at) / (count - 1.0));
        Ok(parts.map(|part| Quantity::new(first.si + part * (last.si - first.si), first.dim)).collect())
    }
}

impl Formula for StarTrack {
    fn answer(self) -> Result<table::StarTrack, FormulaError> {
        let places = daily_way(self.declination, self.latitude, STEPS_OF_A_DAY);
        let (across, up): (Vec<f64>, Vec<f64>) = places.into_iter().map(|place| (place.azimuth, place.altitude)).unzip();
        if across.len() < 2 {
            return Err(FormulaError::domain("the star", "one that rises at this latitude"));
        }
        Ok(table::StarTrack { shape: word::StarTrackShape::Curve, across, up })
    }
}

/// In the unit in which its middle is written.
impl Formula for Around {
    fn answer(self) -> Result<[Quantity; 2], FormulaError> {
        let end = |way: f64| Quantity { si: self.middle.si + way, ..self.middle.clone() };
        Ok([end(-self.size / 2.0), end(self.size / 2.0)])
    }
}
