//! Wind on the roof by ASCE 7-16 and EN 1991-1-4.

use super::arguments::Arguments;
use super::{Body, Function, Parameter, Takes, may, needs};
use crate::calc::FormulaError;
use crate::calc::wind::roof::{Axis, Heading, Overhangs, Roof, Shape};
use crate::calc::wind::roof_uplift::{self, RoofCase, RoofWind, ZoneLine};
use crate::calc::wind::{asce7, eurocode};
use crate::units::Dim;
use crate::values::value::Value;
use smol_str::SmolStr;

const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const NUMBER: Takes = Takes::Quantity(Dim::NUMBER);
const PRESSURE: Takes = Takes::Quantity(Dim::PRESSURE);
const SPEED: Takes = Takes::Quantity(Dim::SPEED);

const EXPOSURES: &[&str] = &["exposure_b", "exposure_c", "exposure_d"];
const TERRAINS: &[&str] = &["sea", "lake", "open_country", "suburb", "town"];
const HEADINGS: &[&str] = &["opening", "closing", "left", "right"];

const ROOF_GIVES: &str = "table: uplift, drag_along, drag_across, case, cases (direction, case, uplift, station and offset of its resultant from the centre, drag, drag_moment, zones)";

fn exposure(word: &str) -> asce7::Exposure {
    match word {
        "exposure_b" => asce7::Exposure::B,
        "exposure_d" => asce7::Exposure::D,
        _ => asce7::Exposure::C,
    }
}

fn terrain(word: &str) -> eurocode::Terrain {
    match word {
        "sea" => eurocode::Terrain::Sea,
        "lake" => eurocode::Terrain::Lake,
        "suburb" => eurocode::Terrain::Suburb,
        "town" => eurocode::Terrain::Town,
        _ => eurocode::Terrain::Country,
    }
}

fn heading(word: &str) -> Heading {
    match word {
        "closing" => Heading::Closing,
        "left" => Heading::Left,
        "right" => Heading::Right,
        _ => Heading::Opening,
    }
}

fn heading_word(heading: Heading) -> Value {
    Value::Word(SmolStr::new_static(match heading {
        Heading::Opening => "opening",
        Heading::Closing => "closing",
        Heading::Left => "left",
        Heading::Right => "right",
    }))
}

fn exposure_coefficient(a: &Arguments) -> Result<Value, FormulaError> {
    asce7::exposure_coefficient(exposure(a.word(0)), a.si(1)).map(Value::number)
}

fn ground_elevation_factor(a: &Arguments) -> Result<Value, FormulaError> {
    asce7::ground_elevation_factor(a.si(0)).map(Value::number)
}

fn asce7_velocity_pressure(a: &Arguments) -> Result<Value, FormulaError> {
    let kz = asce7::exposure_coefficient(exposure(a.word(1)), a.si(2))?;
    let ke = asce7::ground_elevation_factor(a.optional(3).unwrap_or(0.0))?;
    let kzt = a.optional(4).unwrap_or(1.0);
    let kd = a.optional(5).unwrap_or(asce7::DIRECTIONALITY);
    asce7::velocity_pressure(a.si(0), kz, kzt, kd, ke).map(|q| Value::quantity(q, Dim::PRESSURE))
}

fn eurocode_roughness(a: &Arguments) -> Result<Value, FormulaError> {
    eurocode::roughness_factor(terrain(a.word(0)), a.si(1)).map(Value::number)
}

fn eurocode_mean_speed(a: &Arguments) -> Result<Value, FormulaError> {
    let speed = eurocode::mean_speed(a.si(0), terrain(a.word(1)), a.si(2), a.optional(3).unwrap_or(1.0))?;
    Ok(Value::quantity(speed, Dim::SPEED))
}

fn eurocode_turbulence(a: &Arguments) -> Result<Value, FormulaError> {
    eurocode::turbulence_intensity(terrain(a.word(0)), a.si(1), a.optional(2).unwrap_or(1.0)).map(Value::number)
}

fn eurocode_peak_pressure(a: &Arguments) -> Result<Value, FormulaError> {
    let orography = a.optional(3).unwrap_or(1.0);
    let density = a.optional(4).unwrap_or(eurocode::AIR_DENSITY);
    let pressure = eurocode::peak_velocity_pressure(a.si(0), terrain(a.word(1)), a.si(2), orography, density)?;
    Ok(Value::quantity(pressure, Dim::PRESSURE))
}

/// The same with each factor on the way, so that it can be worked out again on paper.
fn asce7_wind(a: &Arguments) -> Result<Value, FormulaError> {
    let (speed, kz) = (a.si(0), asce7::exposure_coefficient(exposure(a.word(1)), a.si(2))?);
    let (ke, kzt, kd) = (asce7::ground_elevation_factor(a.si(3))?, a.si(4), asce7::DIRECTIONALITY);
    Ok(Value::record(vec![
        ("speed", Value::quantity(speed, Dim::SPEED)),
        ("height", Value::quantity(a.si(2), Dim::LENGTH)),
        ("kz", Value::number(kz)),
        ("kzt", Value::number(kzt)),
        ("kd", Value::number(kd)),
        ("ke", Value::number(ke)),
        ("pressure", Value::quantity(asce7::velocity_pressure(speed, kz, kzt, kd, ke)?, Dim::PRESSURE)),
    ]))
}

fn eurocode_wind(a: &Arguments) -> Result<Value, FormulaError> {
    let (speed, terrain, height, orography) = (a.si(0), terrain(a.word(1)), a.si(2), a.si(3));
    let mean = eurocode::mean_speed(speed, terrain, height, orography)?;
    let pressure = eurocode::peak_velocity_pressure(speed, terrain, height, orography, eurocode::AIR_DENSITY)?;
    Ok(Value::record(vec![
        ("speed", Value::quantity(speed, Dim::SPEED)),
        ("height", Value::quantity(height, Dim::LENGTH)),
        ("roughness", Value::number(eurocode::roughness_factor(terrain, height)?)),
        ("orography", Value::number(orography)),
        ("mean_speed", Value::quantity(mean, Dim::SPEED)),
        ("turbulence", Value::number(eurocode::turbulence_intensity(terrain, height, orography)?)),
        ("air", Value::quantity(eurocode::AIR_DENSITY, Dim::DENSITY)),
        ("pressure", Value::quantity(pressure, Dim::PRESSURE)),
    ]))
}

/// The roof that a `roof_form` table describes.
pub(super) fn roof(a: &Arguments, at: usize) -> Result<Roof, FormulaError> {
    let wrong = || FormulaError::domain("the form", "the table of `roof_form`");
    let form = a.record(at).ok_or_else(wrong)?;
    let number = |name: &str| form.get(name).and_then(Value::si).ok_or_else(wrong);
    let word = |name: &str| match form.get(name) {
        Some(Value::Word(word)) => Ok(word.as_str()),
        _ => Err(wrong()),
    };
    let pitch = number("pitch")?;
    let shape = match word("shape")? {
        "gable" => Shape::Gable { pitch, ridge: if word("ridge")? == "across" { Axis::Across } else { Axis::Along } },
        "mono_pitch" => Shape::MonoPitch { pitch, rises: heading(word("rises")?) },
        _ => Shape::Flat { parapet: number("parapet")? },
    };
    let overhangs = Overhangs {
        opening: number("overhang_opening")?,
        closing: number("overhang_closing")?,
        left: number("overhang_left")?,
        right: number("overhang_right")?,
    };
    let (length, width, eaves_height, fascia) = (number("length")?, number("width")?, number("eaves_height")?, number("fascia")?);
    Roof { shape, length, width, overhangs, eaves_height, fascia }.checked()
}

fn roof_form(a: &Arguments) -> Result<Value, FormulaError> {
    let length = |at: usize| Value::quantity(a.optional(at).unwrap_or(0.0), Dim::LENGTH);
    let way = |at: usize, usual: &'static str| Value::Word(SmolStr::new(if a.word(at).is_empty() { usual } else { a.word(at) }));
    Ok(Value::record(vec![
        ("shape", way(0, "flat")),
        ("pitch", Value::quantity(a.optional(1).unwrap_or(0.0), Dim::ANGLE)),
        ("ridge", way(2, "along")),
        ("rises", way(3, "opening")),
        ("length", length(4)),
        ("width", length(5)),
        ("eaves_height", length(6)),
        ("overhang_opening", length(7)),
        ("overhang_closing", length(8)),
        ("overhang_left", length(9)),
        ("overhang_right", length(10)),
        ("parapet", length(11)),
        ("fascia", length(12)),
    ]))
}

const FORM: Parameter = needs("form", Takes::Record, "the roof's form; see roof_form");

fn zone(line: &ZoneLine) -> Value {
    Value::record(vec![
        ("zone", Value::Text(SmolStr::new(line.name))),
        ("area", Value::quantity(line.area, Dim::AREA)),
        ("along", Value::quantity(line.x, Dim::LENGTH)),
        ("across", Value::quantity(line.y, Dim::LENGTH)),
        ("coefficient", Value::number(line.coefficient)),
        ("pressure", Value::quantity(line.pressure, Dim::PRESSURE)),
        ("uplift", Value::quantity(line.uplift(), Dim::FORCE)),
    ])
}

fn case(case: &RoofCase) -> Value {
    Value::record(vec![
        ("direction", heading_word(case.direction)),
        ("case", Value::Text(SmolStr::new(&case.description))),
        ("uplift", Value::quantity(case.uplift, Dim::FORCE)),
        ("moment_along", Value::quantity(case.moment_along, Dim::MOMENT)),
        ("moment_across", Value::quantity(case.moment_across, Dim::MOMENT)),
        ("drag", Value::quantity(case.horizontal, Dim::FORCE)),
        ("drag_moment", Value::quantity(case.horizontal_moment, Dim::MOMENT)),
        ("zones", Value::List(case.zones.iter().chain(&case.underside).map(zone).collect())),
    ])
}

fn all_cases(wind: &RoofWind) -> Result<Value, FormulaError> {
    let governing = wind.governing().ok_or_else(|| FormulaError::domain("the roof", "hit by some wind"))?;
    let drag =
        |axis: Axis| wind.cases.iter().filter(|case| case.direction.axis() == axis).map(|case| case.horizontal.abs()).fold(0.0, f64::max);
    // Where the wind presses hardest from above, the push or suction from inside with it.
    let inside = |case: &RoofCase| case.underside.iter().find(|line| line.name == "inside").map_or(0.0, |line| line.pressure);
    let pressed = wind.cases.iter().flat_map(|case| case.zones.iter().map(move |line| line.pressure + inside(case))).fold(0.0, f64::max);
    Ok(Value::record(vec![
        ("uplift", Value::quantity(governing.uplift, Dim::FORCE)),
        ("case", Value::Text(SmolStr::new(&governing.description))),
        ("pressed", Value::quantity(pressed, Dim::PRESSURE)),
        ("drag_along", Value::quantity(drag(Axis::Along), Dim::FORCE)),
        ("drag_across", Value::quantity(drag(Axis::Across), Dim::FORCE)),
        ("notes", Value::List(wind.notes.iter().map(|note| Value::Text(SmolStr::new(note))).collect())),
        ("cases", Value::List(wind.cases.iter().map(case).collect())),
    ]))
}

fn asce7_closed_roof(a: &Arguments) -> Result<Value, FormulaError> {
    let enclosure = match a.word(2) {
        "partially_enclosed" => asce7::Enclosure::PartiallyEnclosed,
        "partially_open" => asce7::Enclosure::PartiallyOpen,
        _ => asce7::Enclosure::Enclosed,
    };
    all_cases(&roof_uplift::asce7_closed(&roof(a, 0)?, a.si(1), enclosure)?)
}

fn asce7_free_roof(a: &Arguments) -> Result<Value, FormulaError> {
    all_cases(&roof_uplift::asce7_free(&roof(a, 0)?, a.si(1), a.si(2))?)
}

fn eurocode_closed_roof(a: &Arguments) -> Result<Value, FormulaError> {
    all_cases(&roof_uplift::eurocode_closed(&roof(a, 0)?, a.si(1), &a.list(2), 10.0)?)
}

fn eurocode_free_roof(a: &Arguments) -> Result<Value, FormulaError> {
    let surface = match a.word(3) {
        "smooth" => eurocode::Surface::Smooth,
        "ribbed" => eurocode::Surface::VeryRough,
        _ => eurocode::Surface::Rough,
    };
    all_cases(&roof_uplift::eurocode_canopy(&roof(a, 0)?, a.si(1), a.si(2), surface)?)
}

fn mean_roof_height(a: &Arguments) -> Result<Value, FormulaError> {
    let roof = roof(a, 0)?;
    let height = match a.word(1) {
        "asce7" => roof.reference_height_asce7(),
        "eurocode" => roof.reference_height_eurocode(),
        _ => roof.mean_height(),
    };
    Ok(Value::quantity(height, Dim::LENGTH))
}

fn dominant_opening(a: &Arguments) -> Result<Value, FormulaError> {
    eurocode::internal::of_dominant_face(a.si(0), a.si(1)).map(Value::number)
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "exposure_coefficient",
        doc: "velocity pressure exposure coefficient Kz: 2.01 (z/zg)^(2/alpha), no lower than at 15 ft",
        parameters: &[needs("exposure", Takes::Word(EXPOSURES), "exposure category"), needs("height", LENGTH, "above the ground")],
        gives: "number",
        source: "ASCE 7-16 Table 26.10-1 note 1, Table 26.11-1",
        body: Body::Formula(exposure_coefficient),
    },
    Function {
        name: "ground_elevation_factor",
        doc: "Ke: thinner air at a high site presses less",
        parameters: &[needs("elevation", LENGTH, "ground above sea level")],
        gives: "number",
        source: "ASCE 7-16 §26.9, Table 26.9-1 note 2",
        body: Body::Formula(ground_elevation_factor),
    },
    Function {
        name: "asce7_velocity_pressure",
        doc: "velocity pressure q = 0.613 Kz Kzt Kd Ke V^2 (Pa, m/s)",
        parameters: &[
            needs("speed", SPEED, "basic wind speed, 3-second gust"),
            needs("exposure", Takes::Word(EXPOSURES), "exposure category"),
            needs("height", LENGTH, "above the ground"),
            may("elevation", LENGTH, "ground above sea level; sea level if not given"),
            may("topographic_factor", NUMBER, "Kzt, §26.8; 1 on flat ground"),
            may("directionality_factor", NUMBER, "Kd, Table 26.6-1; 0.85 for buildings"),
        ],
        gives: "pressure",
        source: "ASCE 7-16 §26.10.2, eq. 26.10-1",
        body: Body::Formula(asce7_velocity_pressure),
    },
    Function {
        name: "asce7_wind",
        doc: "velocity pressure with its factors: 0.613 kz kzt kd ke speed^2 (Pa, m/s)",
        parameters: &[
            needs("speed", SPEED, "basic wind speed, 3-second gust"),
            needs("exposure", Takes::Word(EXPOSURES), "exposure category"),
            needs("height", LENGTH, "above the ground"),
            needs("elevation", LENGTH, "ground above sea level"),
            needs("topographic_factor", NUMBER, "Kzt, §26.8; 1 on flat ground"),
        ],
        gives: "table: speed, height, kz, kzt, kd, ke, pressure",
        source: "ASCE 7-16 §26.10.2, eq. 26.10-1; Tables 26.10-1, 26.6-1, 26.9-1",
        body: Body::Formula(asce7_wind),
    },
    Function {
        name: "eurocode_wind",
        doc: "peak velocity pressure with its steps: mean_speed = roughness x orography x speed; pressure = (1 + 7 turbulence) air / 2 mean_speed^2",
        parameters: &[
            needs("speed", SPEED, "basic wind speed vb, 10-minute mean"),
            needs("terrain", Takes::Word(TERRAINS), "terrain category 0, I, II, III, IV"),
            needs("height", LENGTH, "above the ground"),
            needs("orography", NUMBER, "co; 1 on flat ground"),
        ],
        gives: "table: speed, height, roughness, orography, mean_speed, turbulence, air, pressure",
        source: "EN 1991-1-4:2005 4.3.1 to 4.5, eq. 4.3, 4.4, 4.7, 4.8",
        body: Body::Formula(eurocode_wind),
    },
    Function {
        name: "eurocode_roughness_factor",
        doc: "roughness factor cr = kr ln(z/z0), no lower than at zmin",
        parameters: &[
            needs("terrain", Takes::Word(TERRAINS), "terrain category 0, I, II, III, IV"),
            needs("height", LENGTH, "above the ground"),
        ],
        gives: "number",
        source: "EN 1991-1-4:2005 4.3.2, Table 4.1",
        body: Body::Formula(eurocode_roughness),
    },
    Function {
        name: "eurocode_mean_speed",
        doc: "mean wind speed vm = cr co vb",
        parameters: &[
            needs("speed", SPEED, "basic wind speed vb, 10-minute mean"),
            needs("terrain", Takes::Word(TERRAINS), "terrain category 0, I, II, III, IV"),
            needs("height", LENGTH, "above the ground"),
            may("orography", NUMBER, "co, 4.3.3; 1 on flat ground"),
        ],
        gives: "speed",
        source: "EN 1991-1-4:2005 4.3.1, eq. 4.3",
        body: Body::Formula(eurocode_mean_speed),
    },
    Function {
        name: "eurocode_turbulence",
        doc: "turbulence intensity Iv = 1 / (co ln(z/z0))",
        parameters: &[
            needs("terrain", Takes::Word(TERRAINS), "terrain category 0, I, II, III, IV"),
            needs("height", LENGTH, "above the ground"),
            may("orography", NUMBER, "co; 1 on flat ground"),
        ],
        gives: "number",
        source: "EN 1991-1-4:2005 4.4, eq. 4.7",
        body: Body::Formula(eurocode_turbulence),
    },
    Function {
        name: "eurocode_peak_pressure",
        doc: "peak velocity pressure qp = (1 + 7 Iv) rho/2 vm^2",
        parameters: &[
            needs("speed", SPEED, "basic wind speed vb, 10-minute mean"),
            needs("terrain", Takes::Word(TERRAINS), "terrain category 0, I, II, III, IV"),
            needs("height", LENGTH, "above the ground"),
            may("orography", NUMBER, "co; 1 on flat ground"),
            may("air_density", Takes::Quantity(Dim::DENSITY), "1.25 kg/m3 recommended"),
        ],
        gives: "pressure",
        source: "EN 1991-1-4:2005 4.5, eq. 4.8",
        body: Body::Formula(eurocode_peak_pressure),
    },
    Function {
        name: "roof_form",
        doc: "a roof's shape and size in one table, for the wind and snow functions",
        parameters: &[
            needs("shape", Takes::Word(&["flat", "mono_pitch", "gable"]), "the roof's shape"),
            may("pitch", Takes::Quantity(Dim::ANGLE), "the slope's pitch; not needed of a flat roof"),
            may("ridge", Takes::Word(&["along", "across"]), "which way a gable's ridge runs, seen along the travel"),
            may("rises", Takes::Word(HEADINGS), "the way a mono-pitch roof rises"),
            needs("length", LENGTH, "plan length along the travel, overhangs included"),
            needs("width", LENGTH, "plan width across the travel, overhangs included"),
            needs("eaves_height", LENGTH, "height of the lower edge above the ground"),
            may("overhang_opening", LENGTH, "overhang at the end to which it opens"),
            may("overhang_closing", LENGTH, "overhang at the end to which it closes"),
            may("overhang_left", LENGTH, "overhang on the left"),
            may("overhang_right", LENGTH, "overhang on the right"),
            may("parapet", LENGTH, "parapet of a flat roof"),
            may("fascia", LENGTH, "depth of the vertical band below the eaves that moves with the roof"),
        ],
        gives: "table: shape, pitch, ridge, rises, length, width, eaves_height, overhangs, parapet, fascia",
        source: "geometry",
        body: Body::Formula(roof_form),
    },
    Function {
        name: "roof_reference_height",
        doc: "the height at which the code takes the wind on the roof",
        parameters: &[FORM, needs("code", Takes::Word(&["asce7", "eurocode", "mean"]), "whose rule")],
        gives: "length",
        source: "ASCE 7-16 §26.2 (mean roof height; eaves up to 10 deg); EN 1991-1-4:2005 7.2.3 to 7.2.5 (ze)",
        body: Body::Formula(mean_roof_height),
    },
    Function {
        name: "asce7_closed_roof",
        doc: "wind on the closed roof: all directions, both internal pressures, zones integrated over the plan",
        parameters: &[
            FORM,
            needs("pressure", PRESSURE, "velocity pressure at mean roof height"),
            needs("enclosure", Takes::Word(&["enclosed", "partially_open", "partially_enclosed"]), "§26.12"),
        ],
        gives: ROOF_GIVES,
        source: "ASCE 7-16 §27.3.1, Figure 27.3-1, Table 26.13-1",
        body: Body::Formula(asce7_closed_roof),
    },
    Function {
        name: "asce7_free_roof",
        doc: "wind on a roof without walls below it",
        parameters: &[
            FORM,
            needs("pressure", PRESSURE, "velocity pressure at mean roof height"),
            needs("blockage", NUMBER, "share of the space below that is blocked, 0 to 1"),
        ],
        gives: ROOF_GIVES,
        source: "ASCE 7-16 §27.3.2, Figures 27.3-4, 27.3-5, 27.3-7",
        body: Body::Formula(asce7_free_roof),
    },
    Function {
        name: "eurocode_closed_roof",
        doc: "wind on the closed roof: all directions, zones F to J, internal pressures, integrated over the plan",
        parameters: &[
            FORM,
            needs("pressure", PRESSURE, "peak velocity pressure at ze"),
            needs("internal", Takes::List(Dim::NUMBER), "internal coefficients cpi to be taken, like 0.2 and -0.3"),
        ],
        gives: ROOF_GIVES,
        source: "EN 1991-1-4:2005 7.2.3 to 7.2.5, 7.2.9",
        body: Body::Formula(eurocode_closed_roof),
    },
    Function {
        name: "eurocode_free_roof",
        doc: "wind on a canopy: a roof without walls below it",
        parameters: &[
            FORM,
            needs("pressure", PRESSURE, "peak velocity pressure at ze"),
            needs("blockage", NUMBER, "share of the space below that is blocked, 0 to 1"),
            needs("surface", Takes::Word(&["smooth", "rough", "ribbed"]), "how rough it is, Table 7.10"),
        ],
        gives: ROOF_GIVES,
        source: "EN 1991-1-4:2005 7.3, Tables 7.6 to 7.8; 7.5",
        body: Body::Formula(eurocode_free_roof),
    },
    Function {
        name: "dominant_opening",
        doc: "internal coefficient cpi where one face is open: 0.75 to 0.90 of its cpe",
        parameters: &[
            needs("face_coefficient", NUMBER, "cpe at the open face"),
            needs("dominance", NUMBER, "its openings over all others, 2 or more"),
        ],
        gives: "number",
        source: "EN 1991-1-4:2005 7.2.9(5)",
        body: Body::Formula(dominant_opening),
    },
];
