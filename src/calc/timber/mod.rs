//! Timber beams: the American and the European way.
//!
//! In: design values of the wood (from a catalogue), the section, how the wood is used. Out: adjusted strengths, stresses,
//! and what a section can take. `nds` follows the NDS 2018, `en1995` follows EN 1995-1-1 with its amendments A1 and A2.
//! It must not know a species or a grade; the codes' own adjustment tables stand here beside the formulas.

pub mod en1995;
pub mod en1995_check;
pub mod nds;
pub mod nds_check;
pub mod nds_size;
pub mod nds_stability;
pub mod section;
