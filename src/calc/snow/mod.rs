//! Snow on the roof: ASCE 7-16 chapter 7 and EN 1991-1-3.
//!
//! In: ground snow load, roof shape and exposure. Out: snow load on the plan area of the roof, Pa.
//! It must not know where the site is: the ground snow load is given.

pub mod asce7;
pub mod en1991;
