//! Suction on small parts of a roof: a sheet, a screw, a rafter. ASCE 7-16 chapter 30, EN 1991-1-4 7.2.
//!
//! In: a [`Roof`], the velocity pressure at its reference height, the area that loads the part. Out: what pulls it off, in the
//! strips along the edges, between them, and where the roof stands out beyond the walls.
//! It must not know what holds the part down, or any load factor.

use super::asce7::Enclosure;
use super::eurocode::closed_roof::{self as en, Cpe, EdgeZones};
use super::roof::{Heading, Roof, Shape};
use super::table::{degrees, interpolate};
use crate::calc::{FormulaError, check};

/// What pulls a small part off the roof, square to the slope, before load factors.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Suction {
    /// Between the strips along the edges, Pa.
    pub field: f64,
    /// In the worst zone of the strips along edges, ridge and corners, Pa.
    pub edge: f64,
    /// The same where the wind presses up from below as well: at an overhang, Pa.
    pub overhang: f64,
    /// Width of those strips, m.
    pub edge_width: f64,
    /// GCp; cpe of the field.
    pub field_coefficient: f64,
    /// GCp; cpe of the worst zone.
    pub edge_coefficient: f64,
    /// Name of that zone.
    pub zone: &'static str,
    /// Where it stands in the standard.
    pub figure: &'static str,
}

const SQUARE_FOOT: f64 = 0.092_903_04;
const FOOT: f64 = 0.3048;

/// Least pressure of a component either way, Pa: 16 psf. ASCE 7-16 §30.2.2.
const LEAST: f64 = 16.0 * 47.880_26;

/// A line of a figure of chapter 30: level up to its first area (ft²) and from its last on, straight in log10 A between.
type Line = [(f64, f64); 2];

/// GCp on a line of a figure for an effective wind area, m².
#[must_use]
pub fn on_line(line: Line, area: f64) -> f64 {
    let [(first, from), (last, to)] = line;
    interpolate([first.log10(), last.log10()], [from, to], (area / SQUARE_FOOT).log10())
}

/// GCp of walls towards the surface: Figure 30.3-1, zones 4 and 5. Presses on the underside of an overhang.
pub const WALL_PUSHED: Line = [(10.0, 1.0), (500.0, 0.7)];

/// A figure of chapter 30: its name, the line of its field, and each line of its strips and corners with its zone.
#[derive(Debug, Clone, Copy)]
pub struct Figure {
    /// Its number.
    pub name: &'static str,
    /// GCp of zone 1.
    pub field: Line,
    /// GCp of the other zones.
    pub edges: &'static [(&'static str, Line)],
}

const LOW: Figure = Figure {
    name: "ASCE 7-16 Figure 30.3-2A",
    field: [(10.0, -1.7), (500.0, -1.0)],
    edges: &[("2", [(10.0, -2.3), (500.0, -1.4)]), ("3", [(10.0, -3.2), (500.0, -1.4)])],
};
const GABLE_TO_20: Figure = Figure {
    name: "ASCE 7-16 Figure 30.3-2B",
    field: [(20.0, -2.0), (100.0, -0.5)],
    edges: &[("2n, 2r, 3e", [(10.0, -3.0), (250.0, -1.0)]), ("3r", [(10.0, -3.6), (100.0, -1.8)])],
};
const GABLE_TO_27: Figure = Figure {
    name: "ASCE 7-16 Figure 30.3-2C",
    field: [(20.0, -1.5), (300.0, -0.8)],
    edges: &[("2n, 2r, 3e", [(10.0, -2.5), (150.0, -1.2)]), ("3r", [(4.0, -3.6), (50.0, -1.8)])],
};
const GABLE_TO_45: Figure = Figure {
    name: "ASCE 7-16 Figure 30.3-2D",
    field: [(10.0, -1.8), (100.0, -0.8)],
    edges: &[("2n, 3r", [(10.0, -2.0), (200.0, -1.0)]), ("3e", [(2.0, -3.2), (300.0, -1.0)])],
};
const MONO_TO_10: Figure = Figure {
    name: "ASCE 7-16 Figure 30.3-5A",
    field: [(10.0, -1.1), (100.0, -1.1)],
    edges: &[("2'", [(10.0, -1.6), (100.0, -1.5)]), ("3", [(10.0, -1.8), (100.0, -1.2)]), ("3'", [(10.0, -2.6), (100.0, -1.6)])],
};
const MONO_TO_30: Figure = Figure {
    name: "ASCE 7-16 Figure 30.3-5B",
    field: [(10.0, -1.3), (100.0, -1.1)],
    edges: &[("2", [(10.0, -1.6), (100.0, -1.2)]), ("3", [(10.0, -2.9), (100.0, -2.0)])],
};

/// The figure of chapter 30 for a roof's shape. Between the pitches of two figures each holds up to its own last pitch.
///
/// # Errors
/// Where no figure goes so steep: a gable above 45, one slope above 30 degrees.
///
/// Source: ASCE 7-16 Figures 30.3-2A to 2D as a public program has them; zone 2 of 2A and Figures 30.3-5A, 5B from memory.
pub fn figure(roof: &Roof) -> Result<Figure, FormulaError> {
    let pitch = degrees(roof.pitch());
    match roof.shape {
        Shape::Flat { .. } => Ok(LOW),
        Shape::Gable { .. } if pitch <= 7.0 => Ok(LOW),
        Shape::Gable { .. } if pitch <= 20.0 => Ok(GABLE_TO_20),
        Shape::Gable { .. } if pitch <= 27.0 => Ok(GABLE_TO_27),
        Shape::Gable { .. } if pitch <= 45.0 => Ok(GABLE_TO_45),
        Shape::MonoPitch { .. } if pitch <= 3.0 => Ok(LOW),
        Shape::MonoPitch { .. } if pitch <= 10.0 => Ok(MONO_TO_10),
        Shape::MonoPitch { .. } if pitch <= 30.0 => Ok(MONO_TO_30),
        Shape::Gable { .. } => {
            Err(FormulaError::domain("the pitch of a gable, for the wind on small parts of it", "45 degrees at the most"))
        }
        Shape::MonoPitch { .. } => {
            Err(FormulaError::domain("the pitch of one slope, for the wind on small parts of it", "30 degrees at the most"))
        }
    }
}

/// The width a of the strips, m, of a building of `least_width` (m) and mean roof height `height` (m): the lesser of a tenth of
/// the least width and 0.4 h, no less than 0.04 of the least width nor 3 ft. ASCE 7-16 Figure 30.3-1, notation.
#[must_use]
pub fn strip_width(least_width: f64, height: f64) -> f64 {
    (0.1 * least_width).min(0.4 * height).max(0.04 * least_width).max(3.0 * FOOT)
}

/// Suction by ASCE 7-16 §30.3.2: p = qh [GCp - (±GCpi)], of an `area` (m²), no less than 16 psf.
///
/// At an overhang the underside is pressed like the wall below it, as ASCE 7-22 §30.7 has it; the net curves of Figures
/// 30.3-2A to 2D come to within 0.5 of that.
///
/// # Errors
/// Where no figure goes so steep, or the area is not above zero.
pub fn asce7(roof: &Roof, pressure: f64, enclosure: Enclosure, area: f64) -> Result<Suction, FormulaError> {
    check::positive("the area that loads the part", area)?;
    let figure = figure(roof)?;
    let field = on_line(figure.field, area);
    let lines = figure.edges.iter().map(|(zone, line)| (*zone, on_line(*line, area)));
    let (zone, edge) = lines.fold(("1", field), |worst, each| if each.1 < worst.1 { each } else { worst });
    let inside = enclosure.internal_coefficient();
    let (length, width) = roof.inside();
    let height = roof.reference_height_asce7();
    let strip = strip_width(length.min(width), height);
    Ok(Suction {
        field: (pressure * (inside - field)).max(LEAST),
        edge: (pressure * (inside - edge)).max(LEAST),
        overhang: (pressure * (on_line(WALL_PUSHED, area) - edge)).max(LEAST),
        // On a flat roof the strips are 0.6 h wide, on one slope up to 2 a.
        edge_width: match figure.name {
            name if name == LOW.name => 0.6 * height,
            name if name == MONO_TO_10.name || name == MONO_TO_30.name => 2.0 * strip,
            _ => strip,
        },
        field_coefficient: field,
        edge_coefficient: edge,
        zone,
        figure: figure.name,
    })
}

/// Suction by EN 1991-1-4 7.2: qp (cpe - cpi), cpe for the loaded `area` (m²) between cpe,1 and cpe,10, the worst direction.
///
/// `internal` are the internal coefficients to be taken. At an overhang the underside is pressed like the wall below it, zone D
/// (7.2.1(3)).
///
/// # Errors
/// Where the area is not above zero.
pub fn eurocode(roof: &Roof, pressure: f64, internal: &[f64], area: f64) -> Result<Suction, FormulaError> {
    check::positive("the area that loads the part", area)?;
    let pitch = roof.pitch();
    let mut edges: Vec<(&'static str, Cpe)> = Vec::new();
    let mut fields: Vec<Cpe> = Vec::new();
    let mut strips = |zones: EdgeZones| {
        edges.extend([("F", zones.corner), ("F", zones.low_corner), ("G", zones.edge)]);
        fields.extend([zones.middle, zones.rest]);
    };
    let figure = match roof.shape {
        _ if en::is_flat(pitch) => {
            en::flat(roof.parapet() / roof.ridge_height()).into_iter().for_each(strips);
            "EN 1991-1-4:2005 Table 7.2"
        }
        Shape::Gable { .. } => {
            en::windward_slope(pitch).into_iter().for_each(&mut strips);
            strips(en::along_ridge(pitch));
            let [lee, _] = en::leeward_slope(pitch);
            edges.push(("J", lee.ridge));
            fields.push(lee.rest);
            "EN 1991-1-4:2005 Table 7.4"
        }
        Shape::Flat { .. } | Shape::MonoPitch { .. } => {
            en::windward_slope(pitch).into_iter().for_each(&mut strips);
            strips(en::high_eaves_first(pitch));
            strips(en::across_fall(pitch));
            "EN 1991-1-4:2005 Table 7.3"
        }
    };
    let field = fields.iter().map(|cpe| cpe.for_area(area)).fold(0.0, f64::min);
    let of_edges = edges.iter().map(|(zone, cpe)| (*zone, cpe.for_area(area)));
    let (zone, edge) = of_edges.fold(("H, I", field), |worst, each| if each.1 < worst.1 { each } else { worst });
    let inside = internal.iter().copied().fold(0.0, f64::max);
    let height = roof.reference_height_eurocode();
    let below = |wind: Heading| {
        let (depth, breadth) = roof.depth_and_breadth(wind);
        (en::windward_wall(height / depth).for_area(area), breadth.min(2.0 * height) / 10.0)
    };
    let each = Heading::ALL.map(below);
    let wall = each.iter().map(|(wall, _)| *wall).fold(0.0, f64::max);
    Ok(Suction {
        field: pressure * (inside - field),
        edge: pressure * (inside - edge),
        overhang: pressure * (wall - edge),
        edge_width: each.iter().map(|(_, width)| *width).fold(0.0, f64::max),
        field_coefficient: field,
        edge_coefficient: edge,
        zone,
        figure,
    })
}
