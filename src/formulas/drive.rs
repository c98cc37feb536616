//! The drive: torque and power at the pinion, what a person's arms have to do, what a stop feels.

use super::body::{may, needs};
use crate::calc::FormulaError;
use crate::calc::impact::{self, Elastic};
use crate::calc::{drive, stopping};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::Value;
use crate::values::{Body, Function, Takes};

const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const FORCE: Takes = Takes::Quantity(Dim::FORCE);
const NUMBER: Takes = Takes::Quantity(Dim::NUMBER);
const SPEED: Takes = Takes::Quantity(Dim::SPEED);
const MASS: Takes = Takes::Quantity(Dim::MASS);

/// What one of several stops takes: the first of the shares.
fn stop_share(a: &Arguments) -> Result<Value, FormulaError> {
    let (rates, lags) = (a.list(3), a.list(4));
    if rates.len() != lags.len() {
        return Err(FormulaError::domain("the other stops", "given with one stiffness and one lag each"));
    }
    let own = Elastic { rate: a.si(0), touched_at: 0.0 };
    let others = rates.into_iter().zip(lags).map(|(rate, touched_at)| Elastic { rate, touched_at });
    let stops: Vec<Elastic> = std::iter::once(own).chain(others).collect();
    let shared = impact::shared_impact(&stops, a.si(1), a.si(2))?;
    let own = |all: &[f64]| all.first().copied().unwrap_or(0.0);
    let all: f64 = shared.energies.iter().sum();
    Ok(Value::record(vec![
        ("energy", Value::quantity(own(&shared.energies), Dim::ENERGY)),
        ("of", Value::quantity(all, Dim::ENERGY)),
        ("force", Value::quantity(own(&shared.forces), Dim::FORCE)),
        ("pressed_in", Value::quantity(own(&shared.strokes), Dim::LENGTH)),
    ]))
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "pinion_torque",
        doc: "torque on the pinion's shaft: F d / (2 eta)",
        parameters: &[
            needs("pull", FORCE, "at the rack"),
            needs("diameter", LENGTH, "pitch diameter of the pinion"),
            needs("efficiency", NUMBER, "of the mesh, or of all from there to the motor"),
        ],
        gives: "torque",
        source: "mechanics: torque and power through a gear",
        remembered: false,
        body: Body::Formula(|a| drive::pinion_torque(a.si(0), a.si(1), a.si(2)).map(|torque| Value::quantity(torque, Dim::MOMENT))),
    },
    Function {
        name: "drive_power",
        doc: "power that the motor gives: F v / eta",
        parameters: &[
            needs("pull", FORCE, "at the rack"),
            needs("speed", SPEED, "of the roof"),
            needs("efficiency", NUMBER, "of the gear"),
        ],
        gives: "power",
        source: "mechanics: torque and power through a gear",
        remembered: false,
        body: Body::Formula(|a| drive::power(a.si(0), a.si(1), a.si(2)).map(|power| Value::quantity(power, Dim::POWER))),
    },
    Function {
        name: "pinion_turns",
        doc: "turns of the pinion for a speed of the rack",
        parameters: &[needs("speed", SPEED, "of the rack"), needs("diameter", LENGTH, "pitch diameter of the pinion")],
        gives: "frequency",
        source: "kinematics: n = v / (pi d)",
        remembered: false,
        body: Body::Formula(|a| drive::turns(a.si(0), a.si(1)).map(|turns| Value::quantity(turns, Dim::FREQUENCY))),
    },
    Function {
        name: "stall_force",
        doc: "pull at the rack of a stalled motor: torque times efficiency times ratio over the pinion's radius",
        parameters: &[
            needs("torque", Takes::Quantity(Dim::MOMENT), "of the stalled motor"),
            needs("efficiency", NUMBER, "of the gear"),
            needs("ratio", NUMBER, "motor turns to pinion turns"),
            needs("radius", LENGTH, "of the pinion's pitch circle"),
        ],
        gives: "force",
        source: "statics",
        remembered: false,
        body: Body::Formula(|a| stopping::stall_force(a.si(0), a.si(1), a.si(2), a.si(3)).map(|force| Value::quantity(force, Dim::FORCE))),
    },
    Function {
        name: "hand_force",
        doc: "what a person needs to get the roof moving, the drive let go",
        parameters: &[
            needs("resistance", FORCE, "of rolling"),
            needs("breakaway", NUMBER, "resistance at rest over resistance in motion"),
            needs("against", FORCE, "what grade and wind push against"),
            may("drag", FORCE, "of what stays engaged"),
        ],
        gives: "force",
        source: "statics",
        remembered: false,
        body: Body::Formula(|a| {
            let drag = a.optional(3).unwrap_or(0.0);
            drive::hand_force(a.si(0), a.si(1), a.si(2), drag).map(|force| Value::quantity(force, Dim::FORCE))
        }),
    },
    Function {
        name: "stop_share",
        doc: "what one elastic stop takes of the roof's energy and of the push behind it, others beside it being touched sooner or later",
        parameters: &[
            needs("stiffness", Takes::Quantity(Dim::LINE_LOAD), "of this stop"),
            needs("energy", Takes::Quantity(Dim::ENERGY), "that the roof brings: m v^2 / 2"),
            needs("push", FORCE, "that goes on behind it: the drive, the wind"),
            needs("others", Takes::List(Dim::LINE_LOAD), "stiffness of the stops beside it; none if it is alone"),
            needs("lags", Takes::List(Dim::LENGTH), "how much farther the roof rolls until it touches each of them; negative if sooner"),
        ],
        gives: "table: energy (of this stop), of (all of them), force, pressed_in",
        source: "conservation of energy: the sum of k x^2 / 2 is m v^2 / 2 + F x",
        remembered: true,
        body: Body::Formula(stop_share),
    },
    Function {
        name: "skew",
        doc: "how far askew the play of its guiding wheels lets a roof stand: rise over run",
        parameters: &[
            needs("play", LENGTH, "of the guiding wheels, to either side"),
            needs("base", LENGTH, "between the first and the last of them"),
        ],
        gives: "number",
        source: "geometry: 2 play / base",
        remembered: false,
        body: Body::Formula(|a| impact::skew(a.si(0), a.si(1)).map(Value::number)),
    },
    Function {
        name: "spring_buffer",
        doc: "how far a spring gives way that catches the roof with the drive still pushing, and its largest force",
        parameters: &[
            needs("mass", MASS, "of the roof and what turns with it"),
            needs("speed", SPEED, "at which it is caught"),
            needs("stiffness", Takes::Quantity(Dim::LINE_LOAD), "of the spring"),
            needs("push", FORCE, "of the drive"),
        ],
        gives: "table: stroke, force",
        source: "conservation of energy",
        remembered: true,
        body: Body::Formula(|a| {
            stopping::spring_buffer(a.si(0), a.si(1), a.si(2), a.si(3)).map(|buffer| {
                Value::record(vec![
                    ("stroke", Value::quantity(buffer.stroke, Dim::LENGTH)),
                    ("force", Value::quantity(buffer.force, Dim::FORCE)),
                ])
            })
        }),
    },
];
