//! A second evaluator, slow and obvious, written from the reference alone: what it works out is held against the program on
//! designs that nobody wrote.
//!
//! It takes the syntax tree of a text and nothing else of the program: values by plain recursion, units by factors in SI,
//! worst cases by every combination of ends, hold-down by every set of supports that work, beams by differences along a fine
//! mesh, motion by small steps of time. A few hundred designs each run with all other tests;
//! `WALLPLATE_SECOND=100000 cargo test --test suite second -- --nocapture` takes as many as one likes.

mod asked;
mod beams;
mod chance;
mod designs;
mod edited;
mod ends;
mod found;
mod helps;
mod holding;
mod only;
mod reader;
mod rolling;
mod verdicts;
mod worst;

/// How many designs to make up: as many as are asked for, or `usually`.
fn how_many(usually: u64) -> u64 {
    std::env::var("WALLPLATE_SECOND").ok().and_then(|number| number.parse().ok()).map_or(usually, |many: u64| many.max(usually))
}

/// Whether two ways to a number agree, `scale` being the size of what it was made of.
fn near(one: f64, other: f64, scale: f64) -> bool {
    (one - other).abs() <= 1e-9 * scale.max(one.abs()).max(other.abs()).max(1e-9)
}
