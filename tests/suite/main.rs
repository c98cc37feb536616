//! All integration tests in one binary, since linking is what costs.
//!
//! `published` holds formulas against published values; the rest runs the program and the session on
//! real `.plate` files.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test that cannot go on should say so and stop")]
#![allow(clippy::print_stdout, reason = "figures for whoever runs a test by name")]

/// As the program has it: a design is many small values, made and dropped.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

mod advice;
mod architecture;
mod cli;
mod control;
mod edges;
mod editor;
mod editor_support;
mod editor_words;
mod examples;
mod free_names;
mod hanging;
mod holding;
mod hostile;
mod language;
mod library;
mod likeness;
mod loads;
mod machine;
mod motion;
mod moving;
mod not_begun;
mod one_slip;
mod parts;
mod published;
mod pushed;
mod reading;
mod reference;
mod rolling;
mod roofing;
mod safe_side;
mod second;
mod signatures;
mod silence;
mod sky;
mod sources;
mod space;
mod stack;
mod states;
mod structure;
mod sweep;
mod tidy;
mod trade_words;
mod tubes;
