//! Numbers that have a name in the language itself.

use std::f64::consts::PI;

/// A plain number and its name; whatever a design or a kind calls by that name comes first.
#[derive(Debug)]
pub struct Constant {
    /// Its name.
    pub name: &'static str,
    /// What it is worth.
    pub value: f64,
    /// What it is.
    pub doc: &'static str,
}

/// All of them.
pub static CONSTANTS: [Constant; 1] = [Constant { name: "pi", value: PI, doc: "the way round a circle over its diameter" }];

/// A constant is the same one where it has the same name.
impl PartialEq for Constant {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

impl Eq for Constant {}

/// The constant of that name.
#[must_use]
pub fn constant(name: &str) -> Option<&'static Constant> {
    CONSTANTS.iter().find(|constant| constant.name == name)
}
