//! Parts of a building as prisms in its own measures: station, offset, level.
//!
//! In: sizes of walls and roofs in m, a roof's shape. Out: [`Prism`]s, and each as a [`Solid`] in the axes of this
//! folder: x to the right when looking the way the roof opens, y along the travel, z up.
//! It must not know which part may touch which.

use super::solid::{Point, Solid};
use crate::calc::FormulaError;
use crate::calc::check::positive;
use crate::calc::wind::roof::{Axis, Heading, Shape};

/// A point of the building, given by its three measures (m), in the axes x, y, z.
#[must_use]
pub fn point(station: f64, offset: f64, level: f64) -> Point {
    [-offset, station, level]
}

/// A convex outline drawn straight along the travel or across it.
#[derive(Debug, Clone, PartialEq)]
pub struct Prism {
    /// The way that it is drawn.
    pub drawn: Axis,
    /// The outline in order: (offset, level) of what is drawn along, (station, level) of what is drawn across, m.
    pub outline: Vec<[f64; 2]>,
    /// Where it begins: a station of what is drawn along, an offset of what is drawn across, m.
    pub from: f64,
    /// Where it ends, m.
    pub to: f64,
}

impl Prism {
    /// A box.
    #[must_use]
    pub fn cuboid(stations: [f64; 2], offsets: [f64; 2], levels: [f64; 2]) -> Self {
        let outline = vec![[offsets[0], levels[0]], [offsets[1], levels[0]], [offsets[1], levels[1]], [offsets[0], levels[1]]];
        Self { drawn: Axis::Along, outline, from: stations[0], to: stations[1] }
    }

    /// As a body with flat faces.
    ///
    /// # Errors
    /// When the outline has fewer than three points.
    pub fn solid(&self) -> Result<Solid, FormulaError> {
        let solid = Solid::prism(&self.outline, self.from, self.to)?;
        Ok(match self.drawn {
            Axis::Along => solid.mapped(|[offset, station, level]| point(station, offset, level)),
            Axis::Across => solid.mapped(|[station, offset, level]| point(station, offset, level)),
        })
    }
}

/// More than these in a row are a slip.
const MOST_IN_A_ROW: f64 = 1000.0;

/// Places from `first` to `last` (m), evenly and no farther apart than `spacing` (m).
///
/// # Errors
/// When there would be too many.
fn spread(first: f64, last: f64, spacing: f64) -> Result<Vec<f64>, FormulaError> {
    positive("the spacing", spacing)?;
    let spaces = ((last - first) / spacing - 1e-9).ceil().max(1.0);
    if spaces > MOST_IN_A_ROW {
        return Err(FormulaError::domain("the spacing", "wide enough that there are no more than a thousand"));
    }
    let mut places = Vec::new();
    let mut number = 0.0;
    while number <= spaces {
        places.push(first + (last - first) * number / spaces);
        number += 1.0;
    }
    Ok(places)
}

/// A roof in its place on the building.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlacedRoof {
    /// Its shape.
    pub shape: Shape,
    /// Stations of its two ends, m.
    pub stations: [f64; 2],
    /// Offsets of its two edges, m.
    pub offsets: [f64; 2],
    /// Level of the lower edge of the slope, m.
    pub eaves: f64,
}

impl PlacedRoof {
    /// The line of its upper surface from edge to edge, and the way that this line is drawn.
    fn upper_line(&self) -> (Axis, Vec<[f64; 2]>) {
        let across = |heights: [f64; 2]| (Axis::Along, vec![[self.offsets[0], heights[0]], [self.offsets[1], heights[1]]]);
        let along = |heights: [f64; 2]| (Axis::Across, vec![[self.stations[0], heights[0]], [self.stations[1], heights[1]]]);
        let (length, width) = (self.stations[1] - self.stations[0], self.offsets[1] - self.offsets[0]);
        let low = self.eaves;
        match self.shape {
            Shape::Flat { parapet } => across([low + parapet; 2]),
            Shape::MonoPitch { pitch, rises } => match rises {
                Heading::Left => across([low, low + width * pitch.tan()]),
                Heading::Right => across([low + width * pitch.tan(), low]),
                Heading::Opening => along([low, low + length * pitch.tan()]),
                Heading::Closing => along([low + length * pitch.tan(), low]),
            },
            Shape::Gable { pitch, ridge } => {
                let ([near, far], (drawn, mut line)) = match ridge {
                    Axis::Along => (self.offsets, across([low; 2])),
                    Axis::Across => (self.stations, along([low; 2])),
                };
                line.insert(1, [f64::midpoint(near, far), low + (far - near) / 2.0 * pitch.tan()]);
                (drawn, line)
            }
        }
    }

    fn drawn(&self, drawn: Axis, outline: Vec<[f64; 2]>) -> Prism {
        let [from, to] = match drawn {
            Axis::Along => self.stations,
            Axis::Across => self.offsets,
        };
        Prism { drawn, outline, from, to }
    }

    /// All of it as one body: from its outer surface down to the level `bottom` (m), ends closed.
    #[must_use]
    pub fn outside(&self, bottom: f64) -> Prism {
        let (drawn, mut outline) = self.upper_line();
        if let (Some([first, _]), Some([last, _])) = (outline.first().copied(), outline.last().copied()) {
            outline.extend([[last, bottom], [first, bottom]]);
        }
        self.drawn(drawn, outline)
    }

    /// Its rafters under the covering, plumb cut: on each slope one at both ends and between them no farther apart than
    /// `spacing`, `breadth` wide and `depth` deep square to the slope, their undersides `slope_depth` plumb under the outer
    /// surface, `ridge` between two that meet (all m).
    ///
    /// # Errors
    /// When there would be too many, or a size is none.
    pub fn rafters(&self, slope_depth: f64, spacing: f64, breadth: f64, depth: f64, ridge: f64) -> Result<Vec<Prism>, FormulaError> {
        let surface = match self.shape {
            Shape::Flat { .. } => Self { shape: Shape::Flat { parapet: 0.0 }, ..*self },
            _ => *self,
        };
        let (drawn, line) = surface.upper_line();
        let Prism { from, to, .. } = self.drawn(drawn, Vec::new());
        let places = spread(from, to - breadth, spacing)?;
        let last = line.len().saturating_sub(2);
        let mut rafters = Vec::new();
        for (at, (a, b)) in line.iter().zip(line.iter().skip(1)).enumerate() {
            let slope = (b[1] - a[1]) / (b[0] - a[0]);
            let plumb = depth * (1.0 + slope * slope).sqrt();
            let level = |u: f64| a[1] + slope * (u - a[0]) - slope_depth;
            let (near, far) = (if at > 0 { a[0] + ridge / 2.0 } else { a[0] }, if at < last { b[0] - ridge / 2.0 } else { b[0] });
            let outline = vec![[near, level(near)], [far, level(far)], [far, level(far) + plumb], [near, level(near) + plumb]];
            rafters.extend(places.iter().map(|from| Prism { drawn, outline: outline.clone(), from: *from, to: from + breadth }));
        }
        Ok(rafters)
    }

    /// What it is made of: its slopes of this `depth` (m, plumb), and boards of this `thick`ness (m) at its edges down to the
    /// level `bottom` (m) and at both ends under the slopes down to the levels `ends` (m, the closed end first).
    ///
    /// Boards that would end above their beginning are left out.
    #[must_use]
    pub fn shell(&self, depth: f64, thick: f64, bottom: f64, ends: [f64; 2]) -> Vec<Prism> {
        let slopes = self.slopes(depth);
        let outside = self.outside(bottom);
        let upper: Vec<[f64; 2]> = outside.outline.iter().copied().take(outside.outline.len().saturating_sub(2)).collect();
        // Under the slopes, so that nothing is in two pieces.
        let under = |at: f64| {
            let on = |(a, b): (&[f64; 2], &[f64; 2])| {
                (at >= a[0] - 1e-9 && at <= b[0] + 1e-9).then(|| a[1] + (b[1] - a[1]) * (at - a[0]) / (b[0] - a[0]))
            };
            upper.iter().zip(upper.iter().skip(1)).find_map(on).map_or(bottom, |level| level - depth)
        };
        let board = |from: f64, to: f64, bottom: f64, inner: &[[f64; 2]]| {
            let mut top = vec![[from, under(from)]];
            top.extend(inner.iter().filter(|at| at[0] > from && at[0] < to).map(|at| [at[0], at[1] - depth]));
            top.push([to, under(to)]);
            let is_tall = top.iter().any(|at| at[1] > bottom + 1e-6);
            top.iter_mut().for_each(|at| at[1] = at[1].max(bottom));
            top.extend([[to, bottom], [from, bottom]]);
            is_tall.then_some(top)
        };
        let Prism { drawn, from, to, .. } = outside;
        let (Some([first, _]), Some([last, _])) = (upper.first().copied(), upper.last().copied()) else { return slopes };
        // Ends of what is drawn along its ridge are flat; the others are the edges of its slopes.
        let (gables, edges) = match drawn {
            Axis::Along => (ends, [bottom, bottom]),
            Axis::Across => ([bottom, bottom], ends),
        };
        let mut pieces = slopes;
        for (outline, [near, far]) in [
            (board(first, last, gables[0], &upper), [from, from + thick]),
            (board(first, last, gables[1], &upper), [to - thick, to]),
            (board(first, first + thick, edges[0], &[]), [from + thick, to - thick]),
            (board(last - thick, last, edges[1], &[]), [from + thick, to - thick]),
        ] {
            pieces.extend(outline.map(|outline| Prism { drawn, outline, from: near, to: far }));
        }
        pieces
    }

    /// Its slopes as slabs of this `depth` (m, measured plumb), ends open. A flat roof's slab lies under its surface, not
    /// under the top of its parapet.
    #[must_use]
    pub fn slopes(&self, depth: f64) -> Vec<Prism> {
        let surface = match self.shape {
            Shape::Flat { .. } => Self { shape: Shape::Flat { parapet: 0.0 }, ..*self },
            _ => *self,
        };
        let (drawn, line) = surface.upper_line();
        line.iter()
            .zip(line.iter().skip(1))
            .map(|(a, b)| self.drawn(drawn, vec![[a[0], a[1] - depth], [b[0], b[1] - depth], *b, *a]))
            .collect()
    }
}
