//! The roof by ASCE 7-16 chapter 27: closed (Figure 27.3-1) and free (Figures 27.3-4, -5, -7).
//!
//! In: a roof, a velocity pressure, an enclosure or a blockage. Out: all cases.
//! It must not know where the velocity pressure comes from, nor the least design wind loads of
//! §27.1.5, which concern the whole building's horizontal load.

use super::plan::{Loaded, Push, RoofZone, View};
use super::{RoofCase, RoofWind};
use crate::calc::wind::asce7::closed_roof as figure;
use crate::calc::wind::asce7::free_roof::{self as free_figure, FirstEdge, Flow, LoadCase};
use crate::calc::wind::asce7::{Enclosure, GUST_EFFECT};
use crate::calc::wind::roof::{Facing, Heading, Roof};
use crate::calc::wind::table::degrees;
use crate::calc::{FormulaError, check};

/// A closed roof (shut, or partially enclosed while one side gapes): all four winds, both values
/// of Cp, inside pressure both ways. ASCE 7-16 §27.3.1, Figure 27.3-1; §27.3.3 for the windward
/// overhang, whose underside takes Cp = 0.8.
///
/// `pressure` is `q_h`, Pa, at [`Roof::reference_height_asce7`].
///
/// The drag of a case is the greater of that with and without the roof's own slopes (note 7). Drag
/// counts the roof's vertical faces, not the walls it stands on.
///
/// # Errors
/// If the roof's dimensions make no roof, or the pressure is negative.
pub fn closed(roof: &Roof, pressure: f64, enclosure: Enclosure) -> Result<RoofWind, FormulaError> {
    let roof = roof.checked()?;
    check::not_negative("velocity pressure", pressure)?;
    let inside = match enclosure.internal_coefficient() {
        0.0 => vec![0.0],
        coefficient => vec![coefficient, -coefficient],
    };
    let mut cases = Vec::new();
    for wind in Heading::ALL {
        let view = View::new(&roof, wind);
        for (words, above) in closed_combinations(&view, pressure) {
            for &internal in &inside {
                cases.push(closed_case(&view, pressure, words, &above, internal));
            }
        }
    }
    Ok(RoofWind { cases, notes: Vec::new() })
}

fn closed_case(view: &View, pressure: f64, words: &str, above: &[Loaded], internal: f64) -> RoofCase {
    let mut below = vec![view.inside().loaded(internal, -pressure * internal)];
    below
        .extend(view.windward_soffit().map(|soffit| soffit.loaded(figure::WINDWARD_WALL, -pressure * GUST_EFFECT * figure::WINDWARD_WALL)));
    let (length, breadth) = view.building();
    let pushes: Vec<Push> = view
        .roof
        .faces(view.wind)
        .iter()
        .map(|face| {
            let coefficient = match (face.parapet, face.windward) {
                (true, windward) => parapet_coefficient(windward),
                (false, true) => GUST_EFFECT * figure::WINDWARD_WALL,
                (false, false) => -GUST_EFFECT * figure::leeward_wall(length / breadth),
            };
            Push { force: pressure * coefficient * face.area, level: face.level }
        })
        .collect();
    let mut case = view.case(&format!("{words}, {}", inside_words(internal)), above, &below, &pushes);
    let faces_alone: f64 = pushes.iter().map(|push| push.force).sum();
    if faces_alone > case.horizontal {
        case.horizontal = faces_alone;
        case.horizontal_moment = pushes.iter().map(|push| push.force * push.level).sum();
    }
    case
}

/// Net coefficient of a parapet or free fascia in the direction of the wind.
fn parapet_coefficient(windward: bool) -> f64 {
    let [front, back] = free_figure::FASCIA;
    if windward { front } else { -back }
}

pub(super) fn inside_words(internal: f64) -> &'static str {
    if internal > 0.0 {
        "pressure inside"
    } else if internal < 0.0 {
        "suction inside"
    } else {
        "no pressure inside"
    }
}

/// Upper faces for each combination of coefficients that Figure 27.3-1 asks for.
fn closed_combinations(view: &View, pressure: f64) -> Vec<(&'static str, Vec<Loaded>)> {
    let pitch = view.roof.pitch();
    let height = view.roof.reference_height_asce7();
    let slender = height / view.building().0;
    let load = |zone: RoofZone, coefficient: f64| zone.loaded(coefficient, pressure * GUST_EFFECT * coefficient);
    let whole = RoofZone::strip("windward slope", 0.0, view.depth, view.breadth);
    let [first, second] = ["greatest suction", "alternative coefficients"];
    match view.facing {
        Facing::LowEavesFirst if !figure::is_low_slope(pitch) => {
            let values = figure::windward_slope(pitch, slender, whole.area());
            let [suction, other] = values.map(|value| vec![load(whole, value)]);
            vec![(first, suction), (second, other)]
        }
        Facing::HighEavesFirst if !figure::is_low_slope(pitch) => {
            let leeward = RoofZone { name: "leeward slope", ..whole };
            vec![(first, vec![load(leeward, figure::leeward_slope(pitch, slender))])]
        }
        Facing::AcrossRidge if !figure::is_low_slope(pitch) => {
            let ridge = view.depth / 2.0;
            let windward = RoofZone { to: ridge, ..whole };
            let leeward = RoofZone { name: "leeward slope", from: ridge, ..whole };
            let lee = load(leeward, figure::leeward_slope(pitch, slender));
            let values = figure::windward_slope(pitch, slender, windward.area());
            let [suction, other] = values.map(|value| vec![load(windward, value), lee]);
            vec![(first, suction), (second, other)]
        }
        _ => {
            let edge = (0.5 * height).min(view.depth) * view.breadth;
            let strips: Vec<(RoofZone, f64)> = figure::strips(slender, edge)
                .iter()
                .filter_map(|strip| {
                    let (from, to) = (strip.from * height, strip.to * height);
                    let zone = RoofZone::strip(strip.name, from, to, view.breadth);
                    Some((zone.within(view.depth)?, strip.coefficient))
                })
                .collect();
            let suction = strips.iter().map(|&(zone, value)| load(zone, value)).collect();
            let least = strips.iter().map(|&(zone, _)| load(zone, figure::ALONG_ALTERNATIVE));
            vec![(first, suction), (second, least.collect())]
        }
    }
}

/// A roof without walls below it, such as one that stands open on its outrigger tracks: all four
/// winds, load cases A and B. ASCE 7-16 §27.3.2, Figures 27.3-4, 27.3-5 and 27.3-7.
///
/// `pressure` is `q_h`, Pa, at [`Roof::mean_height`]; `blockage` is the share of the space below that
/// is blocked, 0 to 1. Vertical faces count as inverted parapets (§27.3.2, here at every pitch).
///
/// # Errors
/// If the roof's dimensions make no roof, its pitch is above 45 degrees, the pressure is negative
/// or the blockage not between 0 and 1.
pub fn free(roof: &Roof, pressure: f64, blockage: f64) -> Result<RoofWind, FormulaError> {
    let roof = roof.checked()?;
    check::not_negative("velocity pressure", pressure)?;
    check::within("blockage under the roof", blockage, 0.0, 1.0, "between 0 and 1")?;
    check::within("pitch of a free roof", degrees(roof.pitch()), 0.0, free_figure::STEEPEST_DEGREES, "at most 45 degrees")?;
    let flow = Flow::from_blockage(blockage);
    let mut cases = Vec::new();
    for wind in Heading::ALL {
        let view = View::new(&roof, wind);
        for case in LoadCase::BOTH {
            let above = free_zones(&view, case, flow, pressure);
            let pushes: Vec<Push> = roof
                .faces(wind)
                .iter()
                .map(|face| Push { force: pressure * parapet_coefficient(face.windward) * face.area, level: face.level })
                .collect();
            let words = match case {
                LoadCase::A => "free roof, load case A",
                LoadCase::B => "free roof, load case B",
            };
            cases.push(view.case(words, &above, &[], &pushes));
        }
    }
    Ok(RoofWind { cases, notes: free_notes(&roof) })
}

fn free_zones(view: &View, case: LoadCase, flow: Flow, pressure: f64) -> Vec<Loaded> {
    let pitch = view.roof.pitch();
    let load = |zone: RoofZone, coefficient: f64| zone.loaded(coefficient, pressure * GUST_EFFECT * coefficient);
    let by_half = |halves: free_figure::Halves| {
        let middle = view.depth / 2.0;
        vec![
            load(RoofZone::strip("windward half", 0.0, middle, view.breadth), halves.windward),
            load(RoofZone::strip("leeward half", middle, view.depth, view.breadth), halves.leeward),
        ]
    };
    match view.facing {
        Facing::Level | Facing::HighEavesFirst => by_half(free_figure::monoslope(pitch, FirstEdge::High, case, flow)),
        Facing::LowEavesFirst => by_half(free_figure::monoslope(pitch, FirstEdge::Low, case, flow)),
        Facing::AcrossRidge => by_half(free_figure::pitched(pitch, case, flow)),
        Facing::AcrossFall { .. } | Facing::AlongRidge => {
            let h = view.roof.mean_height();
            let [near, next, far] = free_figure::along(case, flow);
            [("to h", 0.0, h, near), ("h to 2h", h, 2.0 * h, next), ("beyond 2h", 2.0 * h, f64::INFINITY, far)]
                .into_iter()
                .filter_map(|(name, from, to, value)| {
                    let zone = RoofZone::strip(name, from, to, view.breadth).within(view.depth)?;
                    Some(load(zone, value))
                })
                .collect()
        }
    }
}

fn free_notes(roof: &Roof) -> Vec<String> {
    let h = roof.mean_height();
    let outside = [roof.length, roof.width].iter().any(|side| {
        let slender = h / side;
        !(0.25..=1.0).contains(&slender)
    });
    if outside {
        vec![
            "Height to length lies outside 0.25 to 1.0, for which Figures 27.3-4 to 27.3-7 are \
             given; their values were used all the same."
                .to_owned(),
        ]
    } else {
        Vec::new()
    }
}
