//! Where fasteners stand in the wood, and nails: distances, splitting, what one nail holds.
//!
//! In: diameters, lengths, the wood, the direction of the load. Out: distances, forces at the level of working loads in the
//! wind. It must not know what is fastened.

use super::body::{may, needs};
use super::fasteners::{DAMPNESS, DENSITY, GRAIN, GRAVITY, LENGTH, THROUGH, WHOLE, WOOD, force, kmod, worked};
use super::structure::CODES;
use crate::calc::FormulaError;
use crate::calc::fastener::adjustment::{self, Action, Moisture};
use crate::calc::fastener::{en_axial, en_layout, group, nds_layout, withdrawal};
use crate::calc::timber::nds;
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::Value;
use crate::values::{Body, Function, Takes};

/// Nails are thinner than this, m.
const THIN: f64 = 0.006;
/// The code's own least distance of a bolt to a loaded end, m. Source: EN 1995-1-1 Table 8.4.
const LOADED_END: f64 = 0.080;

fn fastener_distances(a: &Arguments) -> Result<Value, FormulaError> {
    let (d, angle) = (a.si(0), a.si(1));
    let length = |diameters: f64| Value::quantity(diameters * d, Dim::LENGTH);
    if a.word(2) == "asce7" {
        let least = nds_layout::distances(angle);
        return Ok(Value::record(vec![("spacing", length(least.spacing)), ("end", length(least.end)), ("edge", length(least.edge))]));
    }
    let nail = d <= THIN;
    let least = if nail { en_layout::nail_distances(d, angle) } else { en_layout::bolt_distances(angle) };
    let end = if nail { least.loaded_end * d } else { (least.loaded_end * d).max(LOADED_END) };
    Ok(Value::record(vec![
        ("spacing", length(least.along)),
        ("end", Value::quantity(end, Dim::LENGTH)),
        ("edge", length(least.loaded_edge)),
    ]))
}

fn nds_geometry_factor(a: &Arguments) -> Result<Value, FormulaError> {
    let place = nds_layout::FastenerPosition { diameter: a.si(0), end: a.optional(2), edge: a.optional(3), spacing: a.optional(4) };
    let (factor, why) = match nds_layout::geometry_factor(&place, a.si(1)) {
        Ok(factor) => (factor, String::new()),
        Err(FormulaError::Domain { what, needs }) => (0.0, format!("{what} has to be {needs}")),
        Err(error) => return Err(error),
    };
    Ok(Value::record(vec![("factor", Value::number(factor)), ("why", Value::Text(why.into()))]))
}

fn nds_group_factor(a: &Arguments) -> Result<Value, FormulaError> {
    let stiffness = group::Stiffness { main: a.si(3) * a.si(4), side: a.si(5) * a.si(6) };
    let pair = if a.word(7) == "wood" { group::Pair::WoodWood } else { group::Pair::WoodSteel };
    // Part of a fastener more in the row than there can be: the safe side.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a row is a small whole number of fasteners")]
    let count = a.si(0).ceil().clamp(1.0, 1000.0) as u32;
    group::group_action_factor(count, a.si(1), a.si(2), stiffness, pair).map(Value::number)
}

fn splitting_push(a: &Arguments) -> Result<Value, FormulaError> {
    Ok(force(worked(en_layout::splitting(a.si(0), a.si(1), a.si(2))?, a.word(3))))
}

fn nothing(why: &'static str) -> Value {
    Value::record(vec![("holds", force(0.0)), ("why", Value::Text(why.into()))])
}

fn nds_nail_pulled(a: &Arguments) -> Result<Value, FormulaError> {
    let (gravity, d, length, through, wood) = (a.si(0), a.si(1), a.si(2), a.si(3), a.si(4));
    let depth = (length - through).min(wood);
    if a.word(5) == "end" {
        return Ok(nothing("nails along the grain do not count"));
    }
    if depth <= 0.0 {
        return Ok(nothing("it does not reach the wood"));
    }
    let per_length = withdrawal::nail(gravity, d)?;
    let duration = nds::load_duration_factor(nds::Duration::TenMinutes);
    // Seasoned wood that gets wet again, or the other way round, lets go of a smooth nail.
    let moisture = Moisture { made_wet: false, used_wet: a.word(6) == "outdoors" };
    let toe_nailed = a.flag(7);
    // A slanting nail does not let go as the wood dries. Source: NDS 2018 §12.5.4.1.
    let wet = if toe_nailed { 1.0 } else { adjustment::wet_service_factor(Action::NailWithdrawal, moisture, d, true) };
    let slant = if toe_nailed { adjustment::toe_nail_factor(Action::NailWithdrawal) } else { 1.0 };
    Ok(Value::record(vec![
        ("depth", Value::quantity(depth, Dim::LENGTH)),
        ("per_length", Value::quantity(per_length, Dim::LINE_LOAD)),
        ("duration", Value::number(duration)),
        ("wet", Value::number(wet)),
        ("slant", Value::number(slant)),
        ("why", Value::Text(smol_str::SmolStr::default())),
        ("holds", force(per_length * depth * duration * wet * slant)),
    ]))
}

fn en_nail_pulled(a: &Arguments) -> Result<Value, FormulaError> {
    let (density, d, head, length, through, wood) = (a.si(0), a.si(1), a.si(2), a.si(3), a.si(4), a.si(5));
    let depth = (length - through).min(wood);
    if a.word(6) == "end" {
        return Ok(nothing("smooth nails along the grain do not count"));
    }
    if depth < 8.0 * d {
        return Ok(nothing("it reaches less than 8 diameters into the wood"));
    }
    let parameter = en_axial::smooth_nail_parameter(density, d, depth)?;
    let nail = en_axial::Nail { diameter: d, head, point_depth: depth, head_side: through };
    let characteristic = en_axial::smooth_nail(&nail, parameter, en_axial::nail_head_parameter(density));
    Ok(Value::record(vec![
        ("depth", Value::quantity(depth, Dim::LENGTH)),
        ("characteristic", force(characteristic)),
        ("kmod", Value::number(kmod(a.word(7)))),
        ("why", Value::Text(smol_str::SmolStr::default())),
        ("holds", force(worked(characteristic, a.word(7)))),
    ]))
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "fastener_distances",
        doc: "least distances of screws, bolts and nails for their full value: in a row along the grain, to a loaded end, to a loaded edge",
        parameters: &[
            needs("diameter", LENGTH, "nominal; up to 6 mm it counts as a nail in EN 1995"),
            needs("angle", Takes::Quantity(Dim::ANGLE), "between the push and the grain"),
            needs("code", Takes::Word(CODES), "whose"),
        ],
        gives: "table: spacing, end, edge",
        source: "NDS 2018 Tables 12.5.1A to C; EN 1995-1-1:2004 Tables 8.2, 8.4",
        remembered: true,
        body: Body::Formula(fastener_distances),
    },
    Function {
        name: "nds_geometry_factor",
        doc: "what is left of the push that screws and bolts take where they stand nearer to end, edge or one another than their full value wants; nothing where its code allows none",
        parameters: &[
            needs("diameter", LENGTH, "nominal"),
            needs("angle", Takes::Quantity(Dim::ANGLE), "between the push and the grain"),
            may("end", LENGTH, "to the end of the wood; far enough if it is not given"),
            may("edge", LENGTH, "to the edge that is pushed towards; far enough if it is not given"),
            may("spacing", LENGTH, "from one to the next along the grain; far enough if it is not given"),
        ],
        gives: "table: factor, why",
        source: "NDS 2018 §12.5.1, Tables 12.5.1A to C",
        remembered: true,
        body: Body::Formula(nds_geometry_factor),
    },
    Function {
        name: "nds_group_factor",
        doc: "what each of several screws or bolts behind one another takes of a push along their row: the outer ones take more",
        parameters: &[
            needs("count", Takes::Quantity(Dim::NUMBER), "in the row"),
            needs("spacing", LENGTH, "from one to the next"),
            needs("diameter", LENGTH, "nominal"),
            needs("elasticity", Takes::Quantity(Dim::PRESSURE), "of the wood that holds them"),
            needs("area", Takes::Quantity(Dim::AREA), "of its cross-section"),
            needs("side_elasticity", Takes::Quantity(Dim::PRESSURE), "of what they cross"),
            needs("side_area", Takes::Quantity(Dim::AREA), "of its cross-section"),
            needs("side", Takes::Word(&["wood", "steel"]), "what they cross"),
        ],
        gives: "number",
        source: "NDS 2018 eq. 11.3-1",
        remembered: false,
        body: Body::Formula(nds_group_factor),
    },
    Function {
        name: "splitting_push",
        doc: "push across the grain at which wood splits along a joint, in the wind, at the level of working loads",
        parameters: &[
            needs("breadth", LENGTH, "of the wood along the fasteners"),
            needs("depth", LENGTH, "of the wood from edge to edge"),
            needs("from_edge", LENGTH, "from the edge that is pushed towards to the farthest fastener"),
            DAMPNESS,
        ],
        gives: "force",
        source: "EN 1995-1-1:2004 eq. 8.4, Table 3.1, Table 2.3; divided by 1.5",
        remembered: false,
        body: Body::Formula(splitting_push),
    },
    Function {
        name: "nds_nail_pulled",
        doc: "pull that one smooth nail holds in the wind: 1380 G^2.5 D on its depth in the wood; nothing in end grain",
        parameters: &[
            GRAVITY,
            needs("diameter", LENGTH, "of its shank"),
            WHOLE,
            THROUGH,
            WOOD,
            GRAIN,
            DAMPNESS,
            may("toe_nailed", Takes::Flag, "driven at a slant: 0.67 of it"),
        ],
        gives: "table: depth, per_length, duration, wet, slant, holds, why",
        source: "NDS 2018 §12.2.3, 12.5.4, Tables 2.3.2, 11.3.3",
        remembered: true,
        body: Body::Formula(nds_nail_pulled),
    },
    Function {
        name: "en_nail_pulled",
        doc: "pull that one smooth nail holds in the wind, at the level of working loads: its point, or its head; nothing in end grain and nothing that lasts",
        parameters: &[
            needs("density", DENSITY, "characteristic density of the wood"),
            needs("diameter", LENGTH, "of its shank"),
            needs("head", LENGTH, "diameter of its head"),
            WHOLE,
            THROUGH,
            WOOD,
            GRAIN,
            DAMPNESS,
        ],
        gives: "table: depth, characteristic, kmod, holds, why",
        source: "EN 1995-1-1:2004 §8.3.2, Table 3.1, Table 2.3; divided by 1.5",
        remembered: true,
        body: Body::Formula(en_nail_pulled),
    },
];
