//! Rack and pinion: geometry, mesh, strength of the teeth, the rack's length and sections.
//!
//! In: module or pitch, teeth, pressure angle, forces, distances. Out: dimensions, contact ratio,
//! backlash, forces, stresses, numbers of teeth. It must not know what the rack is screwed to or how
//! the timber behind it moves: a radial gap is a number here.

mod geometry;
mod mesh;
mod rack;
mod strength;

pub use geometry::{Pinion, module_of_diametral_pitch, module_of_pitch, rack_pitch};
pub use mesh::{Contact, backlash, contact, largest_gap, separating_force};
pub use rack::{LeftOver, Mounting, Sections, around_joints, left_over, sections};
pub use strength::{Making, force_allowed, form_factor, rack_form_factor, velocity_factor};
