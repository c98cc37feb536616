//! How long a star stays above the horizon that is really there.
//!
//! In: a [`Horizon`], declination and latitude in rad, the air. Out: the hour angles between which the star is seen.
//! It must not know night or day: the answer is for the whole daily turn.

use std::f64::consts::{PI, TAU};

use super::horizon::Horizon;
use super::refraction::Air;
use super::sector::{SAME, Star};
use crate::calc::FormulaError;
use crate::calc::check::within;

/// When a star is seen.
#[derive(Debug, Clone, PartialEq)]
pub struct Visibility {
    /// From hour angle to hour angle, rad, west positive, each beginning between −π and π; one that runs through the
    /// lower culmination ends beyond π.
    pub arcs: Vec<(f64, f64)>,
}

impl Visibility {
    /// The arcs together as an angle of the sky's turning, rad.
    #[must_use]
    pub fn angle(&self) -> f64 {
        self.arcs.iter().map(|(from, to)| to - from).sum()
    }
}

/// When a star of `declination` is above the `horizon` of a place at `latitude` (rad), lifted by the `air` or seen
/// without any.
///
/// Every place where the star's daily circle meets an edge is found by itself, so that an obstacle narrower than any
/// step counts in full.
///
/// # Errors
/// When the declination or latitude is beyond a pole.
///
/// Source: spherical trigonometry as in [`super::place`] and [`super::arc`].
pub fn when_visible(horizon: &Horizon, declination: f64, latitude: f64, air: Option<Air>) -> Result<Visibility, FormulaError> {
    let quarter = PI / 2.0;
    within("the declination", declination, -quarter, quarter, "from -90 to 90 deg")?;
    within("the latitude", latitude, -quarter, quarter, "from -90 to 90 deg")?;
    let star = Star { declination, latitude, air };
    let mut hidden: Vec<(f64, f64)> = horizon.sectors.iter().flat_map(|(sector, _)| sector.hides(&star)).collect();
    hidden.sort_by(|a, b| a.0.total_cmp(&b.0));

    let mut arcs: Vec<(f64, f64)> = Vec::new();
    let mut free_from = -PI;
    for (from, to) in hidden {
        if from > free_from + SAME {
            arcs.push((free_from, from));
        }
        free_from = free_from.max(to);
    }
    if free_from < PI - SAME {
        arcs.push((free_from, PI));
    }
    join_through_lower_culmination(&mut arcs);
    Ok(Visibility { arcs })
}

/// An arc that ends at π and one that begins at −π are one.
fn join_through_lower_culmination(arcs: &mut Vec<(f64, f64)>) {
    if arcs.len() < 2 {
        return;
    }
    let begins = arcs.first().is_some_and(|arc| arc.0 <= -PI);
    if let (true, Some(last)) = (begins, arcs.pop_if(|arc| arc.1 >= PI)) {
        let first = arcs.remove(0);
        arcs.push((last.0, first.1 + TAU));
    }
}
