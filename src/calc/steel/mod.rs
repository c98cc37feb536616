//! Steel beams and the joints of steel to steel: AISC 360-16 (allowable strength) and EN 1993.
//!
//! In: section properties (catalogue), steel, forces. Out: elastic strengths of members, welds and bolts.
//! It must not know a shape's name. Elastic throughout: nothing here counts on a plastic hinge.

pub mod bolt;
pub mod member;
pub mod tipping;
pub mod tube;
pub mod walls;
pub mod weld;
