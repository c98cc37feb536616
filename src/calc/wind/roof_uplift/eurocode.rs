//! The roof by EN 1991-1-4: closed (7.2) and as a canopy (7.3).
//!
//! In: a roof, a peak velocity pressure, inside coefficients or a blockage. Out: all cases.
//! It must not know where the velocity pressure comes from. The structural factor cs·cd is 1, as
//! 6.2(1) has it for buildings below 15 m.

use super::RoofWind;
use super::asce7::inside_words;
use super::plan::{Loaded, Push, RoofZone, View};
use crate::calc::wind::eurocode::closed_roof::{self as table, Cpe, EdgeZones};
use crate::calc::wind::eurocode::{Surface, canopy as canopy_table, friction_force};
use crate::calc::wind::roof::{Facing, Heading, Roof, Shape};
use crate::calc::{FormulaError, check};

/// A closed roof: all four winds, all combinations of the tables' values, each of the inside
/// coefficients `internal` (cpi). EN 1991-1-4 7.2.3 to 7.2.5, Figures 7.6 to 7.8; 7.2.1(3) for the
/// underside of the windward overhang, which takes the pressure of the wall below.
///
/// `pressure` is qp, Pa, at [`Roof::reference_height_eurocode`]; `loaded_area`, m², chooses between cpe,10 and
/// cpe,1 (10 or more for the roof as a whole). Drag counts the roof's vertical faces, not the walls
/// it stands on; the lack of correlation of 7.2.2(3) is not made use of.
///
/// # Errors
/// If the roof's dimensions make no roof, the pressure is negative, the loaded area not above zero
/// or an inside coefficient not a number.
pub fn closed(roof: &Roof, pressure: f64, internal: &[f64], loaded_area: f64) -> Result<RoofWind, FormulaError> {
    let roof = roof.checked()?;
    check::not_negative("velocity pressure", pressure)?;
    check::positive("loaded area", loaded_area)?;
    for &coefficient in internal {
        check::finite("inside pressure coefficient", coefficient)?;
    }
    let mut cases = Vec::new();
    for wind in Heading::ALL {
        let view = View::new(&roof, wind);
        let slender = roof.ridge_height() / view.building().0;
        let [windward, leeward] = [table::windward_wall(slender), table::leeward_wall(slender)].map(|wall| wall.for_area(loaded_area));
        let pushes: Vec<Push> = roof
            .faces(wind)
            .iter()
            .map(|face| {
                let coefficient = match (face.parapet, face.windward) {
                    (true, _) => canopy_table::VERTICAL_FACE,
                    (false, true) => windward,
                    (false, false) => -leeward,
                };
                Push { force: pressure * coefficient * face.area, level: face.level }
            })
            .collect();
        for (words, zones) in combinations(&view) {
            let above: Vec<Loaded> = zones
                .iter()
                .map(|(zone, cpe)| {
                    let coefficient = cpe.for_area(loaded_area);
                    zone.loaded(coefficient, pressure * coefficient)
                })
                .collect();
            for &coefficient in internal {
                let mut below = vec![view.inside().loaded(coefficient, -pressure * coefficient)];
                below.extend(view.windward_soffit().map(|soffit| soffit.loaded(windward, -pressure * windward)));
                let words = format!("{words}, {}", inside_words(coefficient));
                cases.push(view.case(&words, &above, &below, &pushes));
            }
        }
    }
    Ok(RoofWind { cases, notes: Vec::new() })
}

type Zones = Vec<(RoofZone, Cpe)>;

/// The combinations of coefficients that the tables ask for under this wind.
fn combinations(view: &View) -> Vec<(&'static str, Zones)> {
    let pitch = view.roof.pitch();
    if table::is_flat(pitch) {
        let [least, greatest] =
            table::flat(view.roof.parapet() / view.roof.ridge_height()).map(|zones| edge_zones(view, &zones, false, view.depth));
        return vec![("zone I in suction", least), ("zone I under pressure", greatest)];
    }
    match view.facing {
        Facing::Level | Facing::LowEavesFirst => {
            let [suction, pressed] = table::windward_slope(pitch).map(|zones| windward_zones(view, &zones, view.depth));
            vec![("slope in suction", suction), ("slope under pressure", pressed)]
        }
        Facing::HighEavesFirst => {
            let zones = table::high_eaves_first(pitch);
            vec![("slope in suction", windward_zones(view, &zones, view.depth))]
        }
        Facing::AcrossFall { high_on_left } => {
            vec![("roof in suction", edge_zones(view, &table::across_fall(pitch), high_on_left, view.depth))]
        }
        Facing::AlongRidge => {
            vec![("roof in suction", edge_zones(view, &table::along_ridge(pitch), false, view.depth))]
        }
        Facing::AcrossRidge => {
            let ridge = view.depth / 2.0;
            let [suction, pressed] = table::windward_slope(pitch).map(|zones| windward_zones(view, &zones, ridge));
            let [least, greatest] = table::leeward_slope(pitch).map(|zones| lee_zones(view, zones));
            let join = |windward: &Zones, lee: &Zones| [windward.as_slice(), lee].concat();
            vec![
                ("windward slope in suction, leeward least", join(&suction, &least)),
                ("windward slope in suction, leeward greatest", join(&suction, &greatest)),
                ("windward slope under pressure, leeward least", join(&pressed, &least)),
                ("windward slope under pressure, leeward greatest", join(&pressed, &greatest)),
            ]
        }
    }
}

/// e = min(b, 2h).
fn edge_length(view: &View) -> f64 {
    view.breadth.min(2.0 * view.roof.ridge_height())
}

/// F, G and H, H filling what is left up to `end`.
fn windward_zones(view: &View, zones: &EdgeZones, end: f64) -> Zones {
    let whole = EdgeZones { rest: zones.middle, ..*zones };
    let mut named = edge_zones(view, &whole, false, end);
    for (zone, _) in &mut named {
        if zone.name == "I" {
            zone.name = "H";
        }
    }
    named
}

/// F, G, H and I from the windward edge to `end`: corners e/4 by e/10, H to e/2.
fn edge_zones(view: &View, zones: &EdgeZones, high_on_left: bool, end: f64) -> Zones {
    let e = edge_length(view);
    let (strip, corner) = (e / 10.0, e / 4.0);
    let half = view.breadth / 2.0;
    let (left, right) = if high_on_left { (zones.corner, zones.low_corner) } else { (zones.low_corner, zones.corner) };
    let across = |name, from, to| RoofZone::strip(name, from, to, view.breadth);
    let edge = across("F", 0.0, strip);
    [
        (RoofZone { right: half - corner, ..edge }, left),
        (RoofZone { left: corner - half, ..edge }, right),
        (RoofZone { name: "G", right: corner - half, left: half - corner, ..edge }, zones.edge),
        (across("H", strip, e / 2.0), zones.middle),
        (across("I", e / 2.0, f64::INFINITY), zones.rest),
    ]
    .into_iter()
    .filter_map(|(zone, cpe)| Some((zone.within(end)?, cpe)))
    .collect()
}

/// J along the ridge, I behind it.
fn lee_zones(view: &View, zones: table::LeewardSlope) -> Zones {
    let ridge = view.depth / 2.0;
    let end = ridge + edge_length(view) / 10.0;
    [(RoofZone::strip("J", ridge, end, view.breadth), zones.ridge), (RoofZone::strip("I", end, f64::INFINITY, view.breadth), zones.rest)]
        .into_iter()
        .filter_map(|(zone, cpe)| Some((zone.within(view.depth)?, cpe)))
        .collect()
}

/// A roof without walls below it, such as one that stands open on its outrigger tracks: all four
/// winds, greatest and least overall force. EN 1991-1-4 7.3.
///
/// `pressure` is qp, Pa, at [`Roof::reference_height_eurocode`]; `blockage` is φ, 0 to 1; `surface` gives the
/// friction along both faces (7.5). The force on a flat or mono-pitch canopy acts a quarter of its
/// depth behind the windward edge (recommendation of Figure 7.16); a gable canopy carries it in the
/// middle of each slope, on both or on one alone (7.3(6), Figure 7.17).
///
/// # Errors
/// If the roof's dimensions make no roof, its pitch is above 30 degrees, the pressure is negative
/// or the blockage not between 0 and 1.
pub fn canopy(roof: &Roof, pressure: f64, blockage: f64, surface: Surface) -> Result<RoofWind, FormulaError> {
    let roof = roof.checked()?;
    check::not_negative("velocity pressure", pressure)?;
    let gable = matches!(roof.shape, Shape::Gable { .. });
    let force = if gable { canopy_table::duopitch(roof.pitch(), blockage)? } else { canopy_table::monopitch(roof.pitch(), blockage)? };
    let friction = friction_force(pressure, surface, 2.0 * roof.plan_area() / roof.pitch().cos())?;
    let mut cases = Vec::new();
    for wind in Heading::ALL {
        let view = View::new(&roof, wind);
        let mut pushes: Vec<Push> = roof
            .faces(wind)
            .iter()
            .map(|face| Push { force: pressure * canopy_table::VERTICAL_FACE * face.area, level: face.level })
            .collect();
        pushes.push(Push { force: friction, level: roof.rise() / 2.0 });
        for (direction, value) in [("least force", force.up), ("greatest force", force.down)] {
            let patterns = if gable {
                both_slopes_or_one(&view, value, pressure)
            } else {
                vec![("whole canopy", front_heavy(&view, value, pressure))]
            };
            for (words, above) in patterns {
                cases.push(view.case(&format!("{direction}, {words}"), &above, &[], &pushes));
            }
        }
    }
    Ok(RoofWind { cases, notes: Vec::new() })
}

/// A force of `value` times the whole plan, a quarter of the depth behind the windward edge: the
/// windward half carries all of it.
fn front_heavy(view: &View, value: f64, pressure: f64) -> Vec<Loaded> {
    let middle = view.depth / 2.0;
    vec![
        RoofZone::strip("windward half, force at d/4", 0.0, middle, view.breadth).loaded(2.0 * value, 2.0 * value * pressure),
        RoofZone::strip("leeward half", middle, view.depth, view.breadth).loaded(0.0, 0.0),
    ]
}

fn both_slopes_or_one(view: &View, value: f64, pressure: f64) -> Vec<(&'static str, Vec<Loaded>)> {
    let (first, second) = if view.facing == Facing::AcrossRidge {
        let middle = view.depth / 2.0;
        (RoofZone::strip("windward slope", 0.0, middle, view.breadth), RoofZone::strip("leeward slope", middle, view.depth, view.breadth))
    } else {
        let whole = RoofZone::strip("left slope", 0.0, view.depth, view.breadth);
        (RoofZone { right: 0.0, ..whole }, RoofZone { name: "right slope", left: 0.0, ..whole })
    };
    let slopes = |one: f64, other: f64| vec![first.loaded(one, one * pressure), second.loaded(other, other * pressure)];
    let names = if view.facing == Facing::AcrossRidge {
        ["windward slope alone", "leeward slope alone"]
    } else {
        ["left slope alone", "right slope alone"]
    };
    let [one, other] = names;
    vec![("both slopes", slopes(value, value)), (one, slopes(value, 0.0)), (other, slopes(0.0, value))]
}
