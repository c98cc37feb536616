//! The program itself, run as a person runs it: files in a folder, arguments, what comes out and with which status.
//!
//! The designs here bring their own kinds and rules, so that what the trade library says does not matter.

mod check;
pub mod desk;
mod draw;
mod files;
mod first_hour;
mod folders;
mod json;
mod new;
mod paper;
mod reach;
mod report;
mod rules;
mod sarif;
mod sheets;
mod tidy;
mod value;
#[cfg(unix)]
mod writing;
