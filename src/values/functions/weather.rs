//! What closes gaps: how much a rod or brush is squeezed.
//!
//! In: sizes of gap and seal. Out: compressions as shares of one, diameters. Which compression is good is a rule.

use super::{Body, Function, Parameter, Takes, needs};
use crate::calc::seal::{Foam, backer_rod_diameter, compression, oversize, sealant_depth};
use crate::units::Dim;
use crate::values::value::Value;

const LENGTH: Takes = Takes::Quantity(Dim::LENGTH);
const FREE: Parameter = needs("free", LENGTH, "size of the seal before it is squeezed");
const GAP: Parameter = needs("gap", LENGTH, "that it closes");

/// The table of this subject.
pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "seal_compression",
        doc: "share of its own size by which a seal is squeezed in a gap: (free - gap)/free; less than nothing if it does not reach",
        parameters: &[FREE, GAP],
        gives: "number",
        source: "definition",
        body: Body::Formula(|a| compression(a.si(0), a.si(1)).map(Value::number)),
    },
    Function {
        name: "seal_oversize",
        doc: "share of the gap by which a seal is wider than it: (free - gap)/gap; 25 % oversize is 20 % compression",
        parameters: &[FREE, GAP],
        gives: "number",
        source: "definition",
        body: Body::Formula(|a| oversize(a.si(0), a.si(1)).map(Value::number)),
    },
    Function {
        name: "backer_rod_diameter",
        doc: "least diameter of the foam rod for a gap: closed cells 1/8 in more, from 3/4 in on 25 % more; open cells 25 % more",
        parameters: &[needs("foam", Takes::Word(&["closed_cells", "open_cells"]), "of the rod"), GAP],
        gives: "length",
        source: "common practice, no source: how foam rods are sized",
        body: Body::Formula(|a| {
            let foam = if a.word(0) == "open_cells" { Foam::Open } else { Foam::Closed };
            backer_rod_diameter(foam, a.si(1)).map(|(least, _)| Value::quantity(least, Dim::LENGTH))
        }),
    },
    Function {
        name: "sealant_depth",
        doc: "depth of sealant over a foam rod: half the width of the joint",
        parameters: &[GAP],
        gives: "length",
        source: "common practice, no source: how foam rods are sized",
        body: Body::Formula(|a| sealant_depth(a.si(0)).map(|depth| Value::quantity(depth, Dim::LENGTH))),
    },
];
