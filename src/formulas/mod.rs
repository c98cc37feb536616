//! The formulas that expressions can call: the bodies of what `trade/formulas` declares.
//!
//! In: arguments of the declared sorts, already worked out. Out: a value, or why the formula has none for these numbers. One
//! file a subject, under the name of its declarations; the build writes of each declaration the struct of its arguments, and
//! its body is an `impl` of [`Formula`], or of [`Survey`] where it looks at the design. How it computes stands in `calc`.

mod arithmetic;
mod beams;
mod bodies_and_clearances;
mod body;
mod circuits;
mod concrete;
mod drawings;
mod drive;
mod estimates;
mod exploring;
mod fasteners;
mod footings;
mod give;
mod governing;
mod hold_down;
mod hold_down_rolling;
mod likeness;
mod lines_that_are_written;
mod lists;
mod loads_on_their_way;
mod motion;
mod nails_rows_and_distances;
mod order_of_work;
mod paths_of_loads;
mod piers;
mod posts;
mod power;
mod proportion;
mod rack_and_pinion;
mod seals;
mod seasons;
mod sideways;
mod sky;
mod snow;
mod steel;
mod structure;
mod supposing;
mod tables;
mod take;
mod timber;
mod timber_member;
mod travel;
mod wheels_and_tracks;
mod wind;

pub use body::{Declared, Formula, Survey};
pub use tables::{table, word};
pub use take::{Components, Table};

use crate::values::{Function, Functions};
use std::sync::LazyLock;

/// All formulas, by subject in reading order.
const SUBJECTS: &[(&str, &[Function])] = &[
    ("arithmetic", arithmetic::FUNCTIONS),
    ("likeness", likeness::FUNCTIONS),
    ("lists", lists::FUNCTIONS),
    ("paths of loads", paths_of_loads::FUNCTIONS),
    ("lines that are written", lines_that_are_written::FUNCTIONS),
    ("proportion", proportion::FUNCTIONS),
    ("lines that could be otherwise", supposing::FUNCTIONS),
    ("wind", wind::FUNCTIONS),
    ("hold-down", hold_down::FUNCTIONS),
    ("hold-down of the rolling roof", hold_down_rolling::FUNCTIONS),
    ("snow", snow::FUNCTIONS),
    ("loads on their way", loads_on_their_way::FUNCTIONS),
    ("structure", structure::FUNCTIONS),
    ("beams", beams::FUNCTIONS),
    ("timber", timber::FUNCTIONS),
    ("steel", steel::FUNCTIONS),
    ("posts", posts::FUNCTIONS),
    ("the way sideways", sideways::FUNCTIONS),
    ("fasteners", fasteners::FUNCTIONS),
    ("nails, rows and distances", nails_rows_and_distances::FUNCTIONS),
    ("footings", footings::FUNCTIONS),
    ("travel", travel::FUNCTIONS),
    ("wheels and tracks", wheels_and_tracks::FUNCTIONS),
    ("motion", motion::FUNCTIONS),
    ("drive", drive::FUNCTIONS),
    ("estimates", estimates::FUNCTIONS),
    ("exploring", exploring::FUNCTIONS),
    ("circuits", circuits::FUNCTIONS),
    ("rack and pinion", rack_and_pinion::FUNCTIONS),
    ("seasons", seasons::FUNCTIONS),
    ("piers", piers::FUNCTIONS),
    ("concrete", concrete::FUNCTIONS),
    ("bodies and clearances", bodies_and_clearances::FUNCTIONS),
    ("sky", sky::FUNCTIONS),
    ("power", power::FUNCTIONS),
    ("seals", seals::FUNCTIONS),
    ("drawings", drawings::FUNCTIONS),
    ("order of work", order_of_work::FUNCTIONS),
];

static ALL: LazyLock<Functions> = LazyLock::new(|| Functions::new(SUBJECTS));

/// All formulas.
#[must_use]
pub fn all() -> &'static Functions {
    &ALL
}
