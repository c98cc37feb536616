//! The functions that expressions can call: each formula of `calc` with its parameters and source.
//!
//! In: values of the right types, already worked out. Out: a value, or why the formula has none for
//! these numbers. One file per subject holds a table of [`Function`]s; [`ALL`] lists the tables. To
//! bind a formula is to say its parameters' dimensions here; how it computes stands in `calc`.

mod arguments;
mod beams;
mod bodies;
mod call;
mod concrete;
#[cfg(debug_assertions)]
mod declared;
mod drive;
mod fastener;
mod footing;
mod gear;
mod graph;
mod holddown;
mod layout;
mod lists;
mod loads;
mod mathematics;
mod moisture;
mod motion;
mod moving_hold;
mod papers;
mod pier;
mod posts;
mod power;
mod remembered;
mod rolling;
mod shapes;
mod sky;
mod snow;
mod steel;
mod structure;
mod supposing;
mod timber;
mod travel;
mod weather;
mod wind;
mod written;

pub use arguments::Arguments;
pub use bodies::{Form, Thing, things};
pub use call::signature;
pub(super) use remembered::Remembered;

use super::evaluator::Evaluator;
use super::lack::Lack;
use super::value::Value;
use crate::calc::FormulaError;
use crate::units::Dim;
use rustc_hash::FxHashMap;
use std::sync::LazyLock;

/// A function of the language.
#[derive(Debug)]
pub struct Function {
    /// Its name.
    pub name: &'static str,
    /// What it gives, in a sentence.
    pub doc: &'static str,
    /// What it needs, in order.
    pub parameters: &'static [Parameter],
    /// What comes out: a dimension's name, or the fields of a table.
    pub gives: &'static str,
    /// On whose word, with clause or table.
    pub source: &'static str,
    /// How it is worked out.
    pub body: Body,
}

/// How a function is worked out.
#[derive(Debug, Clone, Copy)]
pub enum Body {
    /// From its arguments alone.
    Formula(fn(&Arguments) -> Result<Value, FormulaError>),
    /// With a look at the design.
    Design(fn(&Evaluator, &Arguments) -> Result<Value, Refusal>),
}

/// Why a function that looks at the design has no answer.
#[derive(Debug, Clone, PartialEq)]
pub enum Refusal {
    /// The numbers do not allow one.
    Formula(FormulaError),
    /// The design does not say enough.
    Lack(Lack),
}

impl From<FormulaError> for Refusal {
    fn from(error: FormulaError) -> Self {
        Self::Formula(error)
    }
}

/// One parameter of a function.
#[derive(Debug)]
pub struct Parameter {
    /// Its name, as it may stand in front of the argument.
    pub name: &'static str,
    /// What may be given.
    pub takes: Takes,
    /// What it means.
    pub doc: &'static str,
    /// May be left out.
    pub optional: bool,
}

/// What a parameter takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Takes {
    /// A quantity of this dimension; a mass where a force is due is taken as its weight.
    Quantity(Dim),
    /// Any quantity.
    AnyQuantity,
    /// One of these words.
    Word(&'static [&'static str]),
    /// Yes or no.
    Flag,
    /// A text.
    Text,
    /// A day.
    Date,
    /// Quantities of this dimension, one or several.
    List(Dim),
    /// One component.
    Component,
    /// Components, one or several.
    Components,
    /// Names of kinds.
    Kinds,
    /// What a link carries: `gravity`, `uplift`, …
    Carrying,
    /// A table that another function gave.
    Record,
    /// Anything.
    Anything,
    /// All arguments from here on, quantities or lists of them.
    Quantities,
}

/// A parameter that has to be given.
pub(crate) const fn needs(name: &'static str, takes: Takes, doc: &'static str) -> Parameter {
    Parameter { name, takes, doc, optional: false }
}

/// A parameter that may be left out.
pub(crate) const fn may(name: &'static str, takes: Takes, doc: &'static str) -> Parameter {
    Parameter { name, takes, doc, optional: true }
}

/// All tables of functions, by subject.
pub const ALL: &[(&str, &[Function])] = &[
    ("arithmetic", mathematics::FUNCTIONS),
    ("lists", lists::FUNCTIONS),
    ("paths of loads", graph::FUNCTIONS),
    ("lines that are written", written::FUNCTIONS),
    ("lines that could be otherwise", supposing::FUNCTIONS),
    ("wind", wind::FUNCTIONS),
    ("hold-down", holddown::FUNCTIONS),
    ("hold-down of the rolling roof", moving_hold::FUNCTIONS),
    ("snow", snow::FUNCTIONS),
    ("loads on their way", loads::FUNCTIONS),
    ("structure", structure::FUNCTIONS),
    ("beams", beams::FUNCTIONS),
    ("timber", timber::FUNCTIONS),
    ("steel", steel::FUNCTIONS),
    ("posts", posts::FUNCTIONS),
    ("fasteners", fastener::FUNCTIONS),
    ("nails, rows and distances", layout::FUNCTIONS),
    ("footings", footing::FUNCTIONS),
    ("travel", travel::FUNCTIONS),
    ("wheels and tracks", rolling::FUNCTIONS),
    ("motion", motion::FUNCTIONS),
    ("drive", drive::FUNCTIONS),
    ("rack and pinion", gear::FUNCTIONS),
    ("seasons", moisture::FUNCTIONS),
    ("piers", pier::FUNCTIONS),
    ("concrete", concrete::FUNCTIONS),
    ("bodies and clearances", bodies::FUNCTIONS),
    ("sky", sky::FUNCTIONS),
    ("power", power::FUNCTIONS),
    ("seals", weather::FUNCTIONS),
    ("drawings", shapes::FUNCTIONS),
    ("order of work", papers::FUNCTIONS),
];

static BY_NAME: LazyLock<FxHashMap<&'static str, &'static Function>> =
    LazyLock::new(|| ALL.iter().flat_map(|(_, table)| table.iter()).map(|function| (function.name, function)).collect());

/// The function of that name.
#[must_use]
pub fn find(name: &str) -> Option<&'static Function> {
    BY_NAME.get(name).copied()
}

/// All names, for suggestions.
pub fn names() -> impl Iterator<Item = &'static str> {
    BY_NAME.keys().copied().chain(["given", "as_written"])
}
