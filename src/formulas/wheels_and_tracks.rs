//! Wheels on tracks: resistance, the wedge of a vee, what a guided wheel feels.

use super::body::{may, needs};
use crate::calc::{gauge, rolling, vee};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::Value;
use crate::values::{Body, Function, Takes};

const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const FORCE: Takes = Takes::Quantity(Dim::FORCE);
const NUMBER: Takes = Takes::Quantity(Dim::NUMBER);
const ANGLE: Takes = Takes::Quantity(Dim::ANGLE);

fn wheel(a: &Arguments) -> rolling::Wheel {
    rolling::Wheel {
        tread_diameter: a.si(0),
        bearing_diameter: a.si(1),
        lever_arm: a.si(2),
        bearing_friction: a.si(3),
        flange: a.si(4),
        wedge: a.optional(5).unwrap_or(1.0),
    }
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "wheel_resistance",
        doc: "rolling resistance of a wheel as a part of its load: (2 f + mu d) / D times the wedge, plus the share of rim and flange",
        parameters: &[
            needs("diameter", LENGTH, "of the tread"),
            needs("axle_diameter", LENGTH, "of axle or bearing"),
            needs("lever_arm", LENGTH, "of rolling friction: a length, half a millimetre for steel on steel"),
            needs("bearing_friction", NUMBER, "coefficient of the bearing"),
            needs("rim_friction", NUMBER, "share of the load for rims, flanges, guide rollers"),
            may("wedge", NUMBER, "sum of the flank forces over the load; see wedge_factor"),
        ],
        gives: "number",
        source: "statics: moments about the axle, F = m g ((2 f + mu d) / D + c)",
        remembered: false,
        body: Body::Formula(|a| rolling::resistance_ratio(&wheel(a)).map(Value::number)),
    },
    Function {
        name: "wedge_factor",
        doc: "sum of the forces on both flanks of a vee over the load: 1 / sin(half the angle)",
        parameters: &[needs("angle", ANGLE, "between the flanks")],
        gives: "number",
        source: "statics of a body in a trough",
        remembered: false,
        body: Body::Formula(|a| vee::wedge_factor(a.si(0)).map(Value::number)),
    },
    Function {
        name: "flank_force",
        doc: "force on the harder pressed flank of a vee wheel: P / (2 sin(half angle)) + H / (2 cos(half angle))",
        parameters: &[
            needs("load", FORCE, "on the wheel"),
            needs("sideways", FORCE, "what pushes it to the side"),
            needs("angle", ANGLE, "between the flanks"),
        ],
        gives: "force",
        source: "statics of a body in a trough",
        remembered: false,
        body: Body::Formula(|a| vee::flank_forces(a.si(0), a.si(1), a.si(2)).map(|[first, _]| Value::quantity(first, Dim::FORCE))),
    },
    Function {
        name: "vee_climbing_force",
        doc: "sideways force at which a rolling vee wheel climbs its flank",
        parameters: &[
            needs("load", FORCE, "on the wheel"),
            needs("friction", NUMBER, "between wheel and flank"),
            needs("angle", ANGLE, "between the flanks"),
        ],
        gives: "force",
        source: "Nadal 1908",
        remembered: false,
        body: Body::Formula(|a| vee::climbing_force(a.si(0), a.si(1), a.si(2)).map(|f| Value::quantity(f, Dim::FORCE))),
    },
    Function {
        name: "gauge_tolerance",
        doc: "how far the distance of two crane rails may be off when they are laid, way of a lifetime below 10 000 km",
        parameters: &[needs("gauge", LENGTH, "distance of the tracks")],
        gives: "length",
        source: "ISO 12488-1:2012, construction tolerances, class 3",
        remembered: false,
        body: Body::Formula(|a| gauge::span_tolerance(a.si(0), gauge::Class::Three).map(|t| Value::quantity(t, Dim::LENGTH))),
    },
];
