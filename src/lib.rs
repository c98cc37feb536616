//! Wallplate: a language for writing a roll-off-roof observatory down once, and a checker that works
//! out the engineering and says, against the lines of the text, what holds and what does not.
//!
//! The modules in reading order are the journey of a line of text:
//! text → syntax → design → values → rules → output.

pub mod calc;
pub mod cards;
pub mod cli;
pub mod design;
pub mod drawing;
pub mod editor;
pub mod output;
pub mod papers;
pub mod problem;
pub mod rolling;
pub mod rules;
pub mod sequence;
pub mod session;
pub mod syntax;
pub mod takeoff;
pub mod text;
pub mod tidy;
pub mod trade;
pub mod units;
pub mod values;
