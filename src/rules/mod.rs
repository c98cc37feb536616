//! The rules engine: each rule on each of its bindings gives one finding.
//!
//! In: the rules of a design and its values. Out: [`Finding`]s, plain data for every reader. Nothing
//! is dropped: a binding that cannot be decided is a finding that names what is missing. It knows no
//! rule by name and prints nothing.

mod acceptance;
mod engine;
mod finding;
mod margin;
pub mod matrix;
mod memory;
mod mend;
mod not_begun;
mod options;
mod undecided;
mod why;
mod working;
mod worst;

pub use engine::check;
pub use finding::{Accepted, Assumed, Finding, Guess, Influence, Verdict};
pub use memory::{Memory, check_again};
pub use not_begun::{NotBegun, not_begun};
pub use options::{Only, Options};
pub use working::{Side, working};
pub use worst::range;
