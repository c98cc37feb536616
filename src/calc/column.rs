//! Posts and studs: how much they carry before they bow out, and with bending at the same time.
//!
//! In: section, length, adjusted strengths, forces. Out: stability factors, strengths, ratios (more than 1 is too much).
//! It must not know what the post carries. `nds` follows the NDS 2018, `en1995` EN 1995-1-1, `steel` both steel codes.

pub mod en1995;
pub mod nds;
pub mod steel;

/// Buckling length of a post that stands on its foot like a flagpole, in heights. Source: elastic theory (Euler's second case
/// turned over: fixed and free); the NDS and AISC 360 recommend more, see [`nds::buckling_length_factor`].
pub const FLAGPOLE: f64 = 2.0;

/// How much is used of a column that buckles before it reaches any strength: no ratio can be given, this stands for far too much.
pub const BUCKLES: f64 = 99.0;
