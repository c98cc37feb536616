//! A function that expressions can call: what it takes and gives, and how it is worked out.
//!
//! The functions themselves are handed in ([`Functions`]): what they work out is not known here.

use super::calls::Arguments;
use super::evaluator::Evaluator;
use super::lack::Lack;
use super::value::Value;
use crate::calc::FormulaError;
use crate::design::{ABOUT_A_LINE, Called, signature};
use crate::units::Dim;
use rustc_hash::FxHashMap;

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
    /// What it answered is kept: asked again, it need not be worked out again.
    pub remembered: bool,
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

/// The functions that expressions can call.
#[derive(Debug)]
pub struct Functions {
    subjects: &'static [(&'static str, &'static [Function])],
    by_name: FxHashMap<&'static str, &'static Function>,
}

impl Functions {
    /// Those of these subjects.
    #[must_use]
    pub fn new(subjects: &'static [(&'static str, &'static [Function])]) -> Self {
        let by_name = subjects.iter().flat_map(|(_, functions)| functions.iter()).map(|function| (function.name, function)).collect();
        Self { subjects, by_name }
    }

    /// By subject, in reading order.
    #[must_use]
    pub fn subjects(&self) -> &'static [(&'static str, &'static [Function])] {
        self.subjects
    }

    /// The function of that name.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<&'static Function> {
        self.by_name.get(name).copied()
    }

    /// All names, for suggestions; with those of the questions that are asked about a line and not of a value.
    pub fn names(&self) -> impl Iterator<Item = &'static str> {
        self.by_name.keys().copied().chain(ABOUT_A_LINE)
    }
}

impl Function {
    /// `velocity_pressure(speed, height)`
    #[must_use]
    pub fn signature(&self) -> String {
        signature(self.name, self.parameters)
    }
}

impl Called for Parameter {
    fn name(&self) -> &str {
        self.name
    }

    fn doc(&self) -> &str {
        self.doc
    }

    fn is_required(&self) -> bool {
        !self.optional
    }

    fn takes_the_rest(&self) -> bool {
        self.takes == Takes::Quantities
    }
}
