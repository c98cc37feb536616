//! Bodies of the building as tables, and whether they come close: what rolls over what, what stands beside what.
//!
//! In: stations, offsets and levels of walls, roofs and telescopes. Out: one table for each body, which the functions
//! of this file and of `sky` take; gaps, and the travel at which they are least. It must not know which of the bodies
//! may touch which.

use super::body::Formula;
use super::tables::{table, word};
use super::take;
use crate::calc::FormulaError;
use crate::calc::clearance::body;
use crate::calc::clearance::prism::{PlacedRoof, Prism, point};
use crate::calc::clearance::solid::Point;
use crate::calc::clearance::sweep::{Track, least_gap, lowering_needed, stretch_within};
use crate::calc::wind::roof::Axis;
use crate::values::Value;
use smol_str::SmolStr;

include!(concat!(env!("OUT_DIR"), "/formulas_bodies_and_clearances.rs"));

/// Bodies with flat faces have no depth of overlap, only none or some: what touches within this is an overlap, m.
const TOUCH: f64 = 1e-6;
/// Flat sides of a tube: so many that its corners stand out by 0.5 % of its radius.
const TUBE_SIDES: u32 = 32;

/// A body or a stretch of horizon that a table describes.
#[derive(Debug, Clone, PartialEq)]
pub struct Thing {
    /// What messages call it.
    pub name: SmolStr,
    /// What it is in space.
    pub form: Form,
}

/// Its form; points are to the right, along the travel, up.
#[derive(Debug, Clone, PartialEq)]
pub enum Form {
    /// An outline drawn straight.
    Prism(Prism),
    /// All within a radius, m.
    Ball {
        /// Its middle.
        centre: Point,
        /// m.
        radius: f64,
    },
    /// A round tube, m.
    Tube {
        /// One end of its axis.
        from: Point,
        /// The other.
        to: Point,
        /// m.
        diameter: f64,
    },
    /// A thin edge.
    Edge {
        /// One end.
        from: Point,
        /// The other.
        to: Point,
    },
    /// A stretch of horizon, rad.
    Stretch {
        /// Azimuth at which it begins.
        from: f64,
        /// Azimuth at which it ends, clockwise.
        to: f64,
        /// Of its top.
        altitude: f64,
    },
}

fn wrong() -> FormulaError {
    FormulaError::domain("each body", "a table of `box`, `ball`, `tube`, `top_edge`, `sky_stretch`, `roof_outside` or `roof_slopes`")
}

/// All bodies of an argument: one table, or lists of them in lists.
///
/// # Errors
/// Where something is not the table of a body.
pub fn things(value: &Value) -> Result<Vec<Thing>, FormulaError> {
    fn gather(value: &Value, found: &mut Vec<Thing>) -> Result<(), FormulaError> {
        match value {
            Value::List(items) => items.iter().try_for_each(|item| gather(item, found))?,
            one => found.push(thing(one)?),
        }
        Ok(())
    }
    let mut found = Vec::new();
    gather(value, &mut found)?;
    Ok(found)
}

fn thing(value: &Value) -> Result<Thing, FormulaError> {
    let (name, form) = if let Some(prism) = take::table::<table::Prism>(value) {
        (prism.name.clone(), Form::Prism(prism.into()))
    } else if let Some(ball) = take::table::<table::Ball>(value) {
        (ball.name, Form::Ball { centre: placed_at(&ball.centre)?, radius: ball.radius })
    } else if let Some(tube) = take::table::<table::Tube>(value) {
        (tube.name, Form::Tube { from: placed_at(&tube.from)?, to: placed_at(&tube.to)?, diameter: tube.diameter })
    } else if let Some(edge) = take::table::<table::TopEdge>(value) {
        (edge.name, Form::Edge { from: placed_at(&edge.from)?, to: placed_at(&edge.to)? })
    } else if let Some(stretch) = take::table::<table::SkyStretch>(value) {
        (stretch.name, Form::Stretch { from: stretch.from, to: stretch.to, altitude: stretch.altitude })
    } else {
        return Err(wrong());
    };
    Ok(Thing { name, form })
}

/// A point of its station, offset and level.
fn placed_at(place: &[f64]) -> Result<Point, FormulaError> {
    match place {
        &[station, offset, level] => Ok(point(station, offset, level)),
        _ => Err(wrong()),
    }
}

impl From<word::Drawn> for Axis {
    fn from(drawn: word::Drawn) -> Self {
        match drawn {
            word::Drawn::Along => Self::Along,
            word::Drawn::Across => Self::Across,
        }
    }
}

impl From<Axis> for word::Drawn {
    fn from(axis: Axis) -> Self {
        match axis {
            Axis::Along => Self::Along,
            Axis::Across => Self::Across,
        }
    }
}

impl From<table::Prism> for Prism {
    fn from(prism: table::Prism) -> Self {
        let outline = prism.outline.into_iter().zip(prism.levels).map(|(u, level)| [u, level]).collect();
        Self { drawn: prism.drawn.into(), outline, from: prism.from, to: prism.to }
    }
}

impl table::Prism {
    fn named(name: SmolStr, prism: Prism) -> Self {
        let (outline, levels) = prism.outline.into_iter().map(|[u, level]| (u, level)).unzip();
        let (shape, drawn) = (word::PrismShape::Prism, prism.drawn.into());
        Self { name, shape, drawn, outline, levels, from: prism.from, to: prism.to }
    }
}

/// A body with its name, for gaps.
struct Named {
    name: SmolStr,
    body: body::Body,
}

fn bodies(value: &Value) -> Result<Vec<Named>, FormulaError> {
    let solid = |thing: Thing| {
        let body = match thing.form {
            Form::Prism(prism) => body::Body::solid(&prism.solid()?)?,
            Form::Ball { centre, radius } => body::Body::sphere(centre, radius)?,
            Form::Tube { from, to, diameter } => body::Body::tube(from, to, diameter, TUBE_SIDES)?,
            Form::Edge { from, to } => body::Body::new(&[from, to], 0.0)?,
            Form::Stretch { .. } => return Err(FormulaError::domain(format!("`{}`", thing.name), "a body, not a stretch of sky")),
        };
        Ok(Named { name: thing.name, body })
    };
    things(value)?.into_iter().map(solid).collect()
}

impl Formula for Box {
    fn answer(self) -> Result<table::Prism, FormulaError> {
        let (stations, offsets) = ([self.station_from, self.station_to], [self.offset_from, self.offset_to]);
        Ok(table::Prism::named(self.name, Prism::cuboid(stations, offsets, [self.level_from, self.level_to])))
    }
}

impl Formula for TopEdge {
    fn answer(self) -> Result<table::TopEdge, FormulaError> {
        Ok(table::TopEdge {
            name: self.name,
            shape: word::TopEdgeShape::Edge,
            from: vec![self.station_from, self.offset_from, self.level],
            to: vec![self.station_to, self.offset_to, self.level],
        })
    }
}

impl Formula for Ball {
    fn answer(self) -> Result<table::Ball, FormulaError> {
        let centre = vec![self.station, self.offset, self.level];
        Ok(table::Ball { name: self.name, shape: word::BallShape::Ball, centre, radius: self.radius })
    }
}

/// The tube's axis on the compass, turned into the building's own measures.
impl Formula for Tube {
    fn answer(self) -> Result<table::Tube, FormulaError> {
        let (altitude, to_the_right) = (self.altitude, self.azimuth - self.facing);
        let (along, right, up) = (altitude.cos() * to_the_right.cos(), altitude.cos() * to_the_right.sin(), altitude.sin());
        let at = |way: f64| vec![self.station + way * along, self.offset - way * right, self.level + way * up];
        let (from, to) = (at(-self.back), at(self.front));
        Ok(table::Tube { name: self.name, shape: word::TubeShape::Tube, from, to, diameter: self.diameter })
    }
}

/// The roof of that form whose closed-end edge, right-hand edge and eaves are there.
fn placed(form: &table::RoofForm, start: f64, right: f64, eaves: f64) -> Result<PlacedRoof, FormulaError> {
    let roof = form.roof()?;
    Ok(PlacedRoof { shape: roof.shape, stations: [start, start + roof.length], offsets: [right, right + roof.width], eaves })
}

/// Shut without a travel.
impl Formula for RoofOutside {
    fn answer(self) -> Result<table::Prism, FormulaError> {
        let start = self.start + self.travel.unwrap_or_default();
        let outside = placed(&self.form, start, self.right_edge, self.eaves_level)?.outside(self.bottom);
        Ok(table::Prism::named(self.name, outside))
    }
}

impl Formula for RoofSlopes {
    fn answer(self) -> Result<Vec<table::Prism>, FormulaError> {
        let slopes = placed(&self.form, self.start, self.right_edge, self.eaves_level)?.slopes(self.depth);
        Ok(slopes.into_iter().map(|slope| table::Prism::named(self.name.clone(), slope)).collect())
    }
}

/// Without a wanted gap any will do.
impl Formula for Sweep {
    fn answer(self) -> Result<table::Sweep, FormulaError> {
        let (parts, standing) = (bodies(&self.moving)?, bodies(&self.standing)?);
        let track = Track::new(point(1.0, 0.0, 0.0), self.from, self.until)?;
        let wanted = self.wanted.unwrap_or_default();
        let pairs = || parts.iter().flat_map(|part| standing.iter().map(move |still| (part, still)));
        let lowering = |(part, still): (&Named, &Named), wanted: f64| lowering_needed(&part.body, &still.body, &track, wanted);
        // Of those that meet, the pair that has most to give way; else the closest.
        let deepest = pairs().map(|pair| (lowering(pair, TOUCH), pair)).max_by(|a, b| a.0.total_cmp(&b.0));
        let (gap, (part, still), closer_than) = match deepest {
            Some((too_tall, pair)) if too_tall > 0.0 => (-too_tall, pair, TOUCH),
            Some(_) => {
                let nearest = pairs().map(|pair| (least_gap(&pair.0.body, &pair.1.body, &track), pair)).min_by(|a, b| a.0.total_cmp(&b.0));
                let (gap, pair) = nearest.ok_or_else(wrong)?;
                (gap, pair, if gap < wanted { wanted } else { gap + TOUCH })
            }
            None => return Err(FormulaError::domain("the bodies", "at least one that rolls and one that stands")),
        };
        let lowering = pairs().map(|pair| lowering(pair, wanted)).fold(0.0, f64::max);
        let (travel, until) = stretch_within(&part.body, &still.body, &track, closer_than).unwrap_or((self.from, self.from));
        Ok(table::Sweep { gap, lowering, part: part.name.clone(), body: still.name.clone(), travel, until })
    }
}

impl Formula for GapBetween {
    fn answer(self) -> Result<table::GapBetween, FormulaError> {
        let (these, those) = (bodies(&self.these)?, bodies(&self.those)?);
        let pairs = these.iter().flat_map(|a| those.iter().map(move |b| (a.body.gap(&b.body), a, b)));
        let (gap, this, that) =
            pairs.min_by(|a, b| a.0.total_cmp(&b.0)).ok_or_else(|| FormulaError::domain("the bodies", "at least one on each side"))?;
        Ok(table::GapBetween { gap, this: this.name.clone(), that: that.name.clone() })
    }
}
