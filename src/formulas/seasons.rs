//! How timber moves with the seasons, and metal with the temperature.

use super::body::needs;
use crate::calc::{FormulaError, moisture};
use crate::units::Dim;
use crate::values::Arguments;
use crate::values::Value;
use crate::values::{Body, Function, Takes};

const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const NUMBER: Takes = Takes::Quantity(Dim::NUMBER);
const TEMPERATURE: Takes = Takes::Quantity(Dim::TEMPERATURE);

/// Moisture contents between which the coefficients of Table 13-5 hold.
const LINEAR: std::ops::RangeInclusive<f64> = 0.06..=0.14;

fn movement(a: &Arguments) -> Result<Value, FormulaError> {
    let (dimension, coefficient, shrinkage, saturation, before, after) = (a.si(0), a.si(1), a.si(2), a.si(3), a.si(4), a.si(5));
    let change = if LINEAR.contains(&before) && LINEAR.contains(&after) {
        moisture::movement(dimension, coefficient, before, after)?
    } else {
        // Above saturation nothing moves any more.
        moisture::movement_by_shrinkage(dimension, shrinkage, saturation, before.min(saturation), after.min(saturation))?
    };
    Ok(Value::quantity(change, Dim::LENGTH))
}

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "timber_movement",
        doc: "by how much timber swells (or shrinks, negative) across its grain: D C (MF - MI) from 6 to 14 % of moisture, by its whole shrinkage beyond",
        parameters: &[
            needs("dimension", LENGTH, "across the grain, the way that counts"),
            needs("coefficient", NUMBER, "change for each 1 % of moisture, radial or tangential"),
            needs("shrinkage", NUMBER, "from green to oven-dry, the same way"),
            needs("saturation", NUMBER, "moisture content at which shrinking begins"),
            needs("before", NUMBER, "moisture content at first"),
            needs("after", NUMBER, "moisture content later"),
        ],
        gives: "length",
        source: "Wood Handbook FPL-GTR-190 (2010) eq. 13-2, 13-3",
        remembered: false,
        body: Body::Formula(movement),
    },
    Function {
        name: "shrinkage_coefficient",
        doc: "change of dimension for each 1 % of moisture, from the shrinkage between green and oven-dry",
        parameters: &[
            needs("shrinkage", NUMBER, "from green to oven-dry"),
            needs("saturation", NUMBER, "moisture content at which shrinking begins"),
        ],
        gives: "number",
        source: "Wood Handbook FPL-GTR-190 (2010) eq. 13-3 at 10 % of moisture",
        remembered: false,
        body: Body::Formula(|a| moisture::coefficient_from_shrinkage(a.si(0), a.si(1)).map(Value::number)),
    },
    Function {
        name: "wood_moisture",
        doc: "moisture content that wood tends to in air",
        parameters: &[needs("temperature", TEMPERATURE, "of the air"), needs("humidity", NUMBER, "relative, of the air")],
        gives: "number",
        source: "Wood Handbook FPL-GTR-190 (2010) eq. 4-5",
        remembered: false,
        body: Body::Formula(|a| moisture::equilibrium(a.si(0), a.si(1)).map(Value::number)),
    },
    Function {
        name: "thermal_movement",
        doc: "by how much something grows when it becomes warmer: length times coefficient times difference",
        parameters: &[
            needs("length", LENGTH, "of the part"),
            needs("coefficient", Takes::Quantity(Dim::EXPANSION), "of thermal expansion"),
            needs("before", TEMPERATURE, "at first"),
            needs("after", TEMPERATURE, "later"),
        ],
        gives: "length",
        source: "definition of the coefficient",
        remembered: false,
        body: Body::Formula(|a| {
            moisture::thermal_expansion(a.si(0), a.si(1), a.si(3) - a.si(2)).map(|change| Value::quantity(change, Dim::LENGTH))
        }),
    },
];
