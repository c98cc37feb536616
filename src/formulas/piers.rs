//! How still a telescope pier stands: sections, bending, the ground under its footing, tilt of the telescope.
//!
//! In: sizes, stiffnesses and masses. Out: stiffnesses, frequencies, angles, forces. A column of several sections is
//! given as lists from the foot upward.

use super::body::{may, needs};
use crate::calc::FormulaError;
use crate::calc::footing::bearing;
use crate::calc::pier::column::{Column, Head, Stretch};
use crate::calc::pier::footing::{Plan, Soil, disk_twisting, on_half_space};
use crate::calc::pier::section::{Section, pipe, rectangle, round, square_tube};
use crate::calc::pier::{anchor, pointing, subgrade, swing};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::Value;
use crate::values::{Body, Function, Parameter, Takes};
use smol_str::SmolStr;

const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const NUMBER: Takes = Takes::Quantity(Dim::NUMBER);
const FORCE: Takes = Takes::Quantity(Dim::FORCE);
const MOMENT: Takes = Takes::Quantity(Dim::MOMENT);
const MASS: Takes = Takes::Quantity(Dim::MASS);
const PRESSURE: Takes = Takes::Quantity(Dim::PRESSURE);
const STIFFNESS: Takes = Takes::Quantity(Dim::LINE_LOAD);
const ROCKING: Takes = Takes::Quantity(Dim::ROTATIONAL_STIFFNESS);
/// Force on an area by the way that it gives: N/m³.
const SUBGRADE: Dim = Dim::WEIGHT_DENSITY;

fn length(si: f64) -> Value {
    Value::quantity(si, Dim::LENGTH)
}

fn angle(si: f64) -> Value {
    Value::quantity(si, Dim::ANGLE)
}

fn section(section: Result<Section, FormulaError>) -> Result<Value, FormulaError> {
    let Section { area, second_moment } = section?;
    Ok(Value::record(vec![
        ("area", Value::quantity(area, Dim::AREA)),
        ("second_moment", Value::quantity(second_moment, Dim::SECOND_MOMENT)),
    ]))
}

/// A column from three lists: lengths, flexural rigidities, masses per length (which may be left out where only its
/// bending is asked).
fn column(a: &Arguments, at: usize, has_mass: bool) -> Result<Column, FormulaError> {
    let (lengths, rigidities) = (a.list(at), a.list(at + 1));
    let masses = if has_mass { a.list(at + 2) } else { vec![0.0; lengths.len()] };
    if lengths.len() != rigidities.len() || lengths.len() != masses.len() {
        return Err(FormulaError::domain("each section of the column", "given with its length, rigidity and mass"));
    }
    let stretches = lengths.iter().zip(&rigidities).zip(&masses);
    Column::new(
        stretches.map(|((length, rigidity), mass)| Stretch { length: *length, rigidity: *rigidity, mass_per_length: *mass }).collect(),
    )
}

fn column_bend(a: &Arguments) -> Result<Value, FormulaError> {
    let bend = column(a, 0, false)?.bend(a.si(2), a.optional(3).unwrap_or(0.0))?;
    Ok(Value::record(vec![
        ("deflection", length(bend.deflection)),
        ("slope", angle(bend.slope)),
        ("deflection_at_force", length(bend.deflection_at_force)),
    ]))
}

fn column_frequency(a: &Arguments) -> Result<Value, FormulaError> {
    let head = Head { mass: a.si(3), height: a.optional(4).unwrap_or(0.0), own_inertia: a.optional(5).unwrap_or(0.0) };
    column(a, 0, true)?.lowest_frequency(&head).map(|frequency| Value::quantity(frequency, Dim::FREQUENCY))
}

fn ground_stiffness(a: &Arguments) -> Result<Value, FormulaError> {
    let (along, across) = (a.si(0), a.si(1));
    let plan = if a.flag(4) { Plan::Round { radius: along / 2.0 } } else { Plan::Rectangle { along, across } };
    let stiffness = on_half_space(plan, Soil { shear_modulus: a.si(2), poisson: a.si(3) })?;
    Ok(Value::record(vec![
        ("vertical", Value::quantity(stiffness.vertical, Dim::LINE_LOAD)),
        ("sway", Value::quantity(stiffness.sway, Dim::LINE_LOAD)),
        ("rocking", Value::quantity(stiffness.rocking, Dim::ROTATIONAL_STIFFNESS)),
    ]))
}

fn subgrade_rocking(a: &Arguments) -> Result<Value, FormulaError> {
    let stiffness =
        if a.flag(3) { subgrade::rocking_round(a.si(0), a.si(1) / 2.0) } else { subgrade::rocking_rectangle(a.si(0), a.si(1), a.si(2)) };
    stiffness.map(|stiffness| Value::quantity(stiffness, Dim::ROTATIONAL_STIFFNESS))
}

fn subgrade_modulus(a: &Arguments) -> Result<Value, FormulaError> {
    let modulus =
        if a.word(2) == "clay" { subgrade::modulus_on_clay(a.si(0), a.si(1)) } else { subgrade::modulus_on_sand(a.si(0), a.si(1)) };
    modulus.map(|modulus| Value::quantity(modulus, SUBGRADE))
}

fn rocking_inertia(a: &Arguments) -> Result<Value, FormulaError> {
    let (masses, heights, own) = (a.list(0), a.list(1), a.list(2));
    if masses.len() != heights.len() || (a.has(2) && own.len() != masses.len()) {
        return Err(FormulaError::domain("each mass", "given with its height"));
    }
    let own = own.into_iter().chain(std::iter::repeat(0.0));
    let parts: Vec<swing::RockingMass> = masses
        .iter()
        .zip(&heights)
        .zip(own)
        .map(|((mass, height), own)| swing::RockingMass { mass: *mass, height: *height, own_inertia: own })
        .collect();
    swing::rocking_inertia(&parts).map(|inertia| Value::quantity(inertia, Dim::INERTIA))
}

fn pier_tilt(a: &Arguments) -> Result<Value, FormulaError> {
    let tilt = pointing::tilt(&column(a, 0, false)?, a.si(2), a.si(3), a.si(4), a.si(5))?;
    Ok(Value::record(vec![("bending", angle(tilt.bending)), ("rocking", angle(tilt.rocking)), ("total", angle(tilt.total()))]))
}

fn bolt_pull(a: &Arguments) -> Result<Value, FormulaError> {
    let bolts = a.si(2);
    if !(3.0..=1000.0).contains(&bolts) || bolts.fract() != 0.0 {
        return Err(FormulaError::domain("the number of anchor bolts", "a whole number, at least three"));
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded just before")]
    let bolts = bolts as u32;
    anchor::bolt_pull(a.si(0), a.si(1), bolts, a.si(3)).map(|pull| Value::quantity(pull, Dim::FORCE))
}

fn footing_pressure(a: &Arguments) -> Result<Value, FormulaError> {
    let (along, across) = (a.si(0), a.si(1));
    let plan = if a.flag(4) { bearing::Plan::Round { diameter: along } } else { bearing::Plan::Rectangle { along, across } };
    match bearing::pressure(plan, a.si(2), a.si(3)) {
        Ok(pressure) => Ok(Value::record(vec![
            ("stable", Value::Flag(true)),
            ("why", Value::Text(SmolStr::default())),
            ("largest", Value::quantity(pressure.largest, Dim::PRESSURE)),
            ("smallest", Value::quantity(pressure.smallest, Dim::PRESSURE)),
            ("contact", length(pressure.contact)),
        ])),
        // A footing that turns over is an answer; what it presses with has none.
        Err(FormulaError::Unstable { what }) => Ok(Value::record(vec![("stable", Value::Flag(false)), ("why", Value::Text(what.into()))])),
        Err(error) => Err(error),
    }
}

macro_rules! from {
    ($name:literal, $doc:literal, [$($parameter:expr),* $(,)?], $gives:literal, $source:expr, $body:expr) => {
        Function { name: $name, doc: $doc, parameters: &[$($parameter),*], gives: $gives, source: $source, remembered: false, body: Body::Formula($body) }
    };
}

const LENGTHS: Parameter = needs("lengths", Takes::List(Dim::LENGTH), "of each section, from the foot upward");
const RIGIDITIES: Parameter = needs("rigidities", Takes::List(Dim::FLEXURAL_RIGIDITY), "E I of each section");
const ROUND: Parameter = may("round", Takes::Flag, "whether the footing is round; `along` is then its diameter");
const ALONG: Parameter = needs("along", LENGTH, "side in the direction of the movement");
const ACROSS: Parameter = needs("across", LENGTH, "side across that");
const MECHANICS: &str = "mechanics of materials";
const CANTILEVER: &str = "mechanics of materials: slope and deflection of a cantilever";
const HALF_SPACE: &str = "rigid footing on an elastic half space: round as in UFC 3-220-01N (2005) Table 12-1 and Veletsos and Wei 1971, rectangle Pais and Kausel 1988";
const WINKLER: &str = "Winkler's bed of springs; Terzaghi 1955";
const RIGID: &str = "dynamics of a rigid body on springs; Dunkerley's rule";

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    from!(
        "pipe_section",
        "area and second moment of a round pipe, nominal wall",
        [needs("diameter", LENGTH, "outside"), needs("wall", LENGTH, "thickness")],
        "table: area, second_moment",
        MECHANICS,
        |a| section(pipe(a.si(0), a.si(1)))
    ),
    from!(
        "round_section",
        "area and second moment of a solid round column",
        [needs("diameter", LENGTH, "of it")],
        "table: area, second_moment",
        MECHANICS,
        |a| section(round(a.si(0)))
    ),
    from!(
        "rectangle_section",
        "area and second moment of a solid rectangular column",
        [needs("depth", LENGTH, "in the plane of bending"), needs("width", LENGTH, "across it")],
        "table: area, second_moment",
        MECHANICS,
        |a| section(rectangle(a.si(0), a.si(1)))
    ),
    from!(
        "square_tube_section",
        "area and second moment of a square tube, corners taken as sharp",
        [needs("side", LENGTH, "outside"), needs("wall", LENGTH, "thickness")],
        "table: area, second_moment",
        MECHANICS,
        |a| section(square_tube(a.si(0), a.si(1)))
    ),
    from!(
        "column_bend",
        "how far the top of a column moves and turns under a sideways force",
        [
            LENGTHS,
            RIGIDITIES,
            needs("force", FORCE, "sideways"),
            may("height", LENGTH, "height at which it acts above the top; at the top if not given")
        ],
        "table: deflection, slope, deflection_at_force",
        CANTILEVER,
        column_bend
    ),
    from!(
        "column_frequency",
        "lowest natural frequency of a column with a head, its foot held fast, from below: 1/w^2 = M f(H) + J phi + integral of m(x) f(x), f what 1 N moves its own place by",
        [
            LENGTHS,
            RIGIDITIES,
            needs("masses", Takes::List(Dim::LINE_DENSITY), "mass per length of each section"),
            needs("head", MASS, "mass on top"),
            may("height", LENGTH, "height of its centre above the top; at the top if not given"),
            may("own_inertia", Takes::Quantity(Dim::INERTIA), "of the head about its own centre; nothing if not given"),
        ],
        "frequency",
        "Dunkerley's rule on the flexibility of a cantilever: the true frequency lies at or above it",
        column_frequency
    ),
    from!(
        "ground_stiffness",
        "what the ground offers against a footing that sinks, sways or rocks",
        [
            ALONG,
            ACROSS,
            needs("shear_modulus", PRESSURE, "of the soil at very small strain"),
            needs("poisson", NUMBER, "Poisson's ratio of the soil, 0 to 0.5"),
            ROUND
        ],
        "table: vertical, sway, rocking",
        HALF_SPACE,
        ground_stiffness
    ),
    from!(
        "ground_twisting",
        "what the ground offers against a round footing that twists about the plumb line: 16 G r^3/3",
        [needs("diameter", LENGTH, "of the footing"), needs("shear_modulus", PRESSURE, "of the soil at very small strain")],
        "rotational_stiffness",
        "rigid disk on a half space (Reissner and Sagoci 1944)",
        |a| disk_twisting(a.si(0) / 2.0, a.si(1)).map(|stiffness| Value::quantity(stiffness, Dim::ROTATIONAL_STIFFNESS))
    ),
    from!(
        "subgrade_rocking",
        "rocking stiffness of a footing on a bed of springs: several times softer than the half space",
        [needs("modulus", Takes::Quantity(SUBGRADE), "of subgrade reaction, under this footing"), ALONG, ACROSS, ROUND],
        "rotational_stiffness",
        WINKLER,
        subgrade_rocking
    ),
    from!(
        "subgrade_modulus",
        "modulus of subgrade reaction under a square footing from that of a 0.3 m plate",
        [
            needs("plate_modulus", Takes::Quantity(SUBGRADE), "measured on the plate"),
            needs("width", LENGTH, "of the footing"),
            needs("ground", Takes::Word(&["sand", "clay"]), "what it stands on")
        ],
        "weight_density",
        WINKLER,
        subgrade_modulus
    ),
    from!(
        "rocking_inertia",
        "moment of inertia about the underside of the footing: sum of m h^2 + J",
        [
            needs("masses", Takes::List(Dim::MASS), "that rock"),
            needs("heights", Takes::List(Dim::LENGTH), "of each above the underside of the footing"),
            may("own", Takes::List(Dim::INERTIA), "of each about its own centre; nothing if not given")
        ],
        "inertia",
        RIGID,
        rocking_inertia
    ),
    from!(
        "rocking_frequency",
        "frequency of a stiff pier that rocks on the ground: sqrt(K/J)/2 pi",
        [
            needs("stiffness", ROCKING, "rocking stiffness"),
            needs("inertia", Takes::Quantity(Dim::INERTIA), "about the underside of the footing")
        ],
        "frequency",
        RIGID,
        |a| swing::rocking_frequency(a.si(0), a.si(1)).map(|frequency| Value::quantity(frequency, Dim::FREQUENCY))
    ),
    from!(
        "swaying_frequency",
        "frequency of pier and footing that sway on the ground as one: sqrt(K/m)/2 pi",
        [needs("stiffness", STIFFNESS, "against swaying"), needs("mass", MASS, "of all that moves")],
        "frequency",
        RIGID,
        |a| swing::swaying_frequency(a.si(0), a.si(1)).map(|frequency| Value::quantity(frequency, Dim::FREQUENCY))
    ),
    from!(
        "frequency_together",
        "lowest frequency of what bends, rocks and sways at once: 1/f^2 = sum of 1/f^2; it never errs upward",
        [needs("frequencies", Takes::Quantities, "each alone")],
        "frequency",
        RIGID,
        |a| swing::together(&a.list(0)).map(|frequency| Value::quantity(frequency, Dim::FREQUENCY))
    ),
    from!(
        "pier_tilt",
        "tilt of the telescope under a sideways force: the column's bending and the footing's rocking",
        [
            LENGTHS,
            RIGIDITIES,
            needs("force", FORCE, "sideways"),
            needs("height", LENGTH, "height at which it acts above the top of the column"),
            needs("foot", LENGTH, "height of the column's foot above the underside of the footing"),
            needs("rocking", ROCKING, "rocking stiffness of the ground"),
        ],
        "table: bending, rocking, total",
        CANTILEVER,
        pier_tilt
    ),
    from!(
        "gust_force",
        "wind force on a body: q A Cd",
        [
            needs("pressure", PRESSURE, "velocity pressure of the gust"),
            needs("area", Takes::Quantity(Dim::AREA), "that faces it"),
            needs("drag", NUMBER, "drag coefficient")
        ],
        "force",
        "definition of the drag coefficient",
        |a| pointing::gust_force(a.si(0), a.si(1), a.si(2)).map(|force| Value::quantity(force, Dim::FORCE))
    ),
    from!(
        "pixel_scale",
        "angle of sky on one pixel: pixel over focal length",
        [needs("pixel", LENGTH, "size of a pixel"), needs("focal_length", LENGTH, "of the telescope")],
        "angle",
        "definition of the plate scale",
        |a| pointing::pixel_scale(a.si(0), a.si(1)).map(angle)
    ),
    from!(
        "bolt_pull",
        "pull on the worst of some bolts on a circle: 4 M/(n D) - W/n; less than nothing if all stay pressed",
        [
            needs("moment", MOMENT, "overturning"),
            needs("weight", FORCE, "that surely holds it down"),
            needs("bolts", NUMBER, "how many, three or more"),
            needs("circle", LENGTH, "diameter of the bolt circle")
        ],
        "force",
        "elastic bolt group (ASCE, Design of Anchor Bolts in Petrochemical Facilities)",
        bolt_pull
    ),
    from!(
        "footing_pressure",
        "pressure under a footing, its largest N/A (1 + 6 e/B) within the middle third, 2 N/(3 L (B/2 - e)) beyond it",
        [
            ALONG,
            ACROSS,
            needs("force", FORCE, "downward, the footing's weight included"),
            needs("moment", MOMENT, "about its middle, at its underside"),
            ROUND
        ],
        "table: stable, why; largest, smallest, contact (length that still presses) where it is stable",
        "statics",
        footing_pressure
    ),
];
