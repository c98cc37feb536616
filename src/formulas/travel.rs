//! Stopping, energy, and magnets that a sensor sees.

use super::body::{may, needs};
use crate::calc::{sensing, stopping};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::Value;
use crate::values::{Body, Function, Takes};

const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const SPEED: Takes = Takes::Quantity(Dim::SPEED);
const MASS: Takes = Takes::Quantity(Dim::MASS);
const FORCE: Takes = Takes::Quantity(Dim::FORCE);
const TIME: Takes = Takes::Quantity(Dim::TIME);
const NUMBER: Takes = Takes::Quantity(Dim::NUMBER);

fn length(si: f64) -> Value {
    Value::quantity(si, Dim::LENGTH)
}

fn magnet(a: &Arguments) -> sensing::Cylinder {
    sensing::Cylinder { remanence: a.si(0), diameter: a.si(1), length: a.si(2) }
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "stopping_distance",
        doc: "distance from the signal to standstill: v t + v^2 / 2a",
        parameters: &[
            needs("speed", SPEED, "speed at the signal"),
            needs("reaction", TIME, "time before anything slows the roof: sensor, controller, contactor"),
            needs("deceleration", Takes::Quantity(Dim::ACCELERATION), "how fast it slows"),
        ],
        gives: "length",
        source: "kinematics",
        remembered: false,
        body: Body::Formula(|a| stopping::stopping_distance(a.si(0), a.si(1), a.si(2)).map(length)),
    },
    Function {
        name: "coasting_deceleration",
        doc: "how fast a freely rolling roof slows: g (resistance + slope)",
        parameters: &[
            needs("resistance", NUMBER, "rolling resistance as a part of the weight"),
            needs("slope", NUMBER, "rise over run in the direction of travel; negative downhill"),
        ],
        gives: "acceleration",
        source: "statics on an incline",
        remembered: false,
        body: Body::Formula(|a| stopping::coasting_deceleration(a.si(0), a.si(1)).map(|value| Value::quantity(value, Dim::ACCELERATION))),
    },
    Function {
        name: "deceleration",
        doc: "how fast a force slows the roof and the turning parts that push on",
        parameters: &[
            needs("force", FORCE, "resistance and brake together"),
            needs("mass", MASS, "mass of the roof"),
            may("equivalent_mass", MASS, "turning parts as a mass at the rack; see equivalent_mass"),
        ],
        gives: "acceleration",
        source: "Newton's second law",
        remembered: false,
        body: Body::Formula(|a| {
            stopping::deceleration(a.si(0), a.si(1), a.optional(2).unwrap_or(0.0)).map(|value| Value::quantity(value, Dim::ACCELERATION))
        }),
    },
    Function {
        name: "equivalent_mass",
        doc: "a motor's inertia as a mass at the rack: J (i/r)^2",
        parameters: &[
            needs("inertia", Takes::Quantity(Dim::INERTIA), "of the rotor"),
            needs("ratio", NUMBER, "motor turns to pinion turns"),
            needs("radius", LENGTH, "of the pinion's pitch circle"),
        ],
        gives: "mass",
        source: "conservation of energy",
        remembered: false,
        body: Body::Formula(|a| stopping::equivalent_mass(a.si(0), a.si(1), a.si(2)).map(|value| Value::quantity(value, Dim::MASS))),
    },
    Function {
        name: "kinetic_energy",
        doc: "energy of motion: m v^2 / 2",
        parameters: &[needs("mass", MASS, "what moves"), needs("speed", SPEED, "how fast")],
        gives: "energy",
        source: "mechanics",
        remembered: false,
        body: Body::Formula(|a| stopping::kinetic_energy(a.si(0), a.si(1)).map(|value| Value::quantity(value, Dim::MOMENT))),
    },
    Function {
        name: "magnet_switching_distance",
        doc: "distance from a cylinder magnet's face at which the field on its axis has fallen to a switch's operate or release point",
        parameters: &[
            needs("remanence", Takes::Quantity(Dim::FLUX_DENSITY), "Br of the magnet"),
            needs("diameter", LENGTH, "of the magnet"),
            needs("length", LENGTH, "of the magnet along its axis"),
            needs("field", Takes::Quantity(Dim::FLUX_DENSITY), "operate or release point of the switch"),
        ],
        gives: "length",
        source: "definition of a uniformly magnetised cylinder: Derby and Olbert, Am. J. Phys. 78 (2010) 229, on its axis",
        remembered: false,
        body: Body::Formula(|a| sensing::switching_distance(magnet(a), a.si(3)).map(length)),
    },
    Function {
        name: "magnet_field",
        doc: "field of a cylinder magnet on its axis, at a distance from its face; steel near by changes it",
        parameters: &[
            needs("remanence", Takes::Quantity(Dim::FLUX_DENSITY), "Br of the magnet"),
            needs("diameter", LENGTH, "of the magnet"),
            needs("length", LENGTH, "of the magnet along its axis"),
            needs("distance", LENGTH, "from its face"),
        ],
        gives: "flux_density",
        source: "definition of a uniformly magnetised cylinder: Derby and Olbert, Am. J. Phys. 78 (2010) 229, on its axis",
        remembered: false,
        body: Body::Formula(|a| sensing::axial_field(magnet(a), a.si(3)).map(|field| Value::quantity(field, Dim::FLUX_DENSITY))),
    },
    Function {
        name: "magnet_seen_ahead",
        doc: "how far before it is opposite a magnet that passes face to face is seen by a switch of that operate point; 0 if its field is too weak at the gap",
        parameters: &[
            needs("remanence", Takes::Quantity(Dim::FLUX_DENSITY), "Br of the magnet"),
            needs("diameter", LENGTH, "of the magnet"),
            needs("length", LENGTH, "of the magnet along its axis"),
            needs("gap", LENGTH, "at which it passes"),
            needs("field", Takes::Quantity(Dim::FLUX_DENSITY), "operate or release point of the switch"),
        ],
        gives: "length",
        source: "field beside the axis of a uniformly magnetised cylinder: Derby and Olbert, Am. J. Phys. 78 (2010) 229",
        remembered: false,
        body: Body::Formula(|a| {
            let (magnet, gap, field) = (magnet(a), a.si(3), a.si(4));
            if sensing::axial_field(magnet, gap)? < field {
                return Ok(length(0.0));
            }
            sensing::passing_distance(magnet, gap, field).map(length)
        }),
    },
    Function {
        name: "assured_distance",
        doc: "within it every specimen of a proximity switch operates: 0.81 of the rated distance",
        parameters: &[
            needs("rated", LENGTH, "rated operating distance Sn of the data sheet"),
            may("reduction", NUMBER, "reduction factor of the target; 1 for mild steel or the maker's magnet"),
        ],
        gives: "length",
        source: "IEC 60947-5-2:2007 (0.9 Sn for the specimen, 0.9 of that for temperature and voltage)",
        remembered: false,
        body: Body::Formula(|a| sensing::operating_range(a.si(0), a.optional(1).unwrap_or(1.0)).map(|range| length(range.assured))),
    },
    Function {
        name: "seen_ahead",
        doc: "how far before it is opposite a passing magnet is seen: the half chord of the operating distance at the gap; 0 if the gap is larger",
        parameters: &[needs("operating_distance", LENGTH, "of the sensor"), needs("gap", LENGTH, "at which the magnet passes")],
        gives: "length",
        source: "geometry",
        remembered: false,
        body: Body::Formula(|a| {
            let (reach, gap) = (a.si(0), a.si(1));
            Ok(length((reach * reach - gap * gap).max(0.0).sqrt()))
        }),
    },
];
