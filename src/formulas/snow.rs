//! Snow on the roof by ASCE 7-16 and EN 1991-1-3.
//!
//! In: the ground's snow, how the roof stands to the wind and how warm it is. Out: the load on its plan with each
//! factor on the way. It must not know how the roof carries it.

use super::body::needs;
use crate::calc::FormulaError;
use crate::calc::snow::{asce7, en1991};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::Value;
use crate::values::{Body, Function, Takes};

const PRESSURE: Takes = Takes::Quantity(Dim::PRESSURE);
const ANGLE: Takes = Takes::Quantity(Dim::ANGLE);
const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const NUMBER: Takes = Takes::Quantity(Dim::NUMBER);
const TERRAINS: &[&str] = &["sheltered_land", "open_land", "waterside", "windswept_mountain"];
const STANDS: &[&str] = &["exposed", "partly_exposed", "sheltered"];
const WARMTHS: &[&str] = &["heated", "just_above_freezing", "unheated", "kept_freezing"];

fn pressure(si: f64) -> Value {
    Value::quantity(si, Dim::PRESSURE)
}

fn asce7_snow(a: &Arguments) -> Result<Value, FormulaError> {
    let ground = a.si(0);
    let terrain = match a.word(1) {
        "sheltered_land" => asce7::Terrain::B,
        "waterside" => asce7::Terrain::D,
        "windswept_mountain" => asce7::Terrain::AboveTreeLine,
        _ => asce7::Terrain::C,
    };
    let stands = match a.word(2) {
        "exposed" => asce7::Exposure::Fully,
        "sheltered" => asce7::Exposure::Sheltered,
        _ => asce7::Exposure::Partially,
    };
    let warmth = match a.word(3) {
        "heated" => asce7::Warmth::Heated,
        "just_above_freezing" => asce7::Warmth::JustAboveFreezing,
        "kept_freezing" => asce7::Warmth::Freezer,
        _ => asce7::Warmth::Unheated,
    };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a number that is no category is refused")]
    let category = a.si(4).round().clamp(0.0, 9.0) as u8;
    let (slope, slippery, run) = (a.si(5), a.flag(6), a.si(7));
    let (exposure, importance) = (asce7::exposure_factor(terrain, stands)?, asce7::importance_factor(category)?);
    let flat = asce7::flat_roof(ground, exposure, warmth.factor(), importance);
    let slope_factor = asce7::slope_factor(slope, warmth.factor(), slippery)?;
    let balanced = asce7::sloped_roof(flat, slope_factor) + asce7::rain_on_snow(ground, slope, run);
    let least = if asce7::is_low_slope(slope) { asce7::low_slope_minimum(ground, importance) } else { 0.0 };
    let one_side = if a.flag(8) {
        let heaped = asce7::unbalanced_gable(ground, importance, asce7::sloped_roof(flat, slope_factor), slope, run);
        heaped.map_or(0.0, |heaped| heaped.leeward)
    } else {
        0.0
    };
    Ok(Value::record(vec![
        ("load", pressure(balanced.max(least).max(one_side))),
        ("exposure_factor", Value::number(exposure)),
        ("thermal_factor", Value::number(warmth.factor())),
        ("importance", Value::number(importance)),
        ("flat", pressure(flat)),
        ("slope_factor", Value::number(slope_factor)),
        ("balanced", pressure(balanced)),
        ("least", pressure(least)),
        ("one_side", pressure(one_side)),
    ]))
}

fn eurocode_snow(a: &Arguments) -> Result<Value, FormulaError> {
    let topography = match a.word(1) {
        "exposed" => en1991::Topography::Windswept,
        "sheltered" => en1991::Topography::Sheltered,
        _ => en1991::Topography::Normal,
    };
    let shape = en1991::shape_mu1(a.si(2), !a.flag(3))?;
    let load = en1991::roof(shape, topography.exposure(), a.si(4), a.si(0));
    Ok(Value::record(vec![
        ("load", pressure(load)),
        ("shape_coefficient", Value::number(shape)),
        ("exposure_factor", Value::number(topography.exposure())),
        ("thermal_factor", Value::number(a.si(4))),
    ]))
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "asce7_snow",
        doc: "snow on the plan of a roof: 0.7 Ce Ct Is pg, times Cs for the slope, with rain on snow; no less than the minimum of a low slope, nor than one side of a gable heaped by the wind",
        parameters: &[
            needs("ground", PRESSURE, "ground snow load pg"),
            needs("land", Takes::Word(TERRAINS), "terrain roughness"),
            needs("stands", Takes::Word(STANDS), "how the roof stands to the wind"),
            needs("warmth", Takes::Word(WARMTHS), "of the building in winter"),
            needs("risk_category", NUMBER, "1 to 4"),
            needs("slope", ANGLE, "of the roof"),
            needs("slippery", Takes::Flag, "whether snow can slide off, over a smooth surface and past the eaves"),
            needs("run", LENGTH, "plan distance from eave to ridge"),
            needs("gable", Takes::Flag, "whether it has a ridge behind which the wind can heap the snow"),
        ],
        gives: "table: load, and the factors",
        source: "ASCE 7-16 §7.3, 7.4, 7.6.1, 7.10",
        remembered: true,
        body: Body::Formula(asce7_snow),
    },
    Function {
        name: "eurocode_snow",
        doc: "snow on the plan of a roof: mu1 Ce Ct sk",
        parameters: &[
            needs("ground", PRESSURE, "characteristic snow load on the ground sk"),
            needs("stands", Takes::Word(STANDS), "topography: windswept, normal, sheltered"),
            needs("slope", ANGLE, "of the roof"),
            needs("slippery", Takes::Flag, "whether snow can slide off: no parapet or guard in its way"),
            needs("thermal_factor", NUMBER, "Ct; 1 unless heat from below melts it"),
        ],
        gives: "table: load, and the factors",
        source: "EN 1991-1-3:2003 §5.2, 5.3",
        remembered: true,
        body: Body::Formula(eurocode_snow),
    },
];
