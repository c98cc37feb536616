//! All integration tests in one binary, since linking is what costs.
//!
//! `published` holds formulas against published values; the rest runs the program and the session on
//! real `.plate` files.

mod cli;
mod architecture;
mod published;
