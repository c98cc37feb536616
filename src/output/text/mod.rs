//! What people read.
//!
//! In: a checked design, a value with its steps, a page of the reference. Out: text for a terminal or
//! a pipe of any width. The first thing to mend comes first and gets the most room; what holds is a
//! number in the last lines.

mod answer;
mod check;
mod depth;
mod finding;
mod folders;
mod how;
mod look;
mod next;
mod reference;
mod search;
pub mod snippet;
mod variants;
mod waits;

pub use answer::{Wanted, check};
pub use check::{MOST_SHOWN, problems};
pub use folders::folders;
pub use how::{formula, in_one_line, judged, value};
pub use look::{Look, Tone};
pub use reference::reference;
pub use variants::side_by_side;
