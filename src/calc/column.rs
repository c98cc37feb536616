//! Posts and studs: how much they carry before they bow out, and with bending at the same time.
//!
//! In: section, length, adjusted strengths, forces. Out: stability factors, strengths, ratios (more than 1 is too much).
//! It must not know what the post carries. `nds` follows the NDS 2018, `en1995` EN 1995-1-1, `steel` both steel codes.

pub mod en1995;
pub mod nds;
pub mod steel;
