//! A continuous beam over its real supports: what each support carries, and how the beam bends.
//!
//! In: positions, bending stiffness, supports (stiff or springs), loads that stand still and wheels
//! that roll. Out: reactions, shear, moment, deflection, and for rolling wheels the envelopes of each
//! with the wheel position that governs. Slender beams only (Euler-Bernoulli: no shear deflection).
//! It must not know what the beam is made of, or whether a result is too much.
//!
//! Signs everywhere: `x` runs to the right, loads and deflections count down, reactions count up,
//! moments count positive when the beam sags, shear is the slope of the moment.

pub mod bearings;
mod envelope;
mod forces;
mod influence;
mod mechanism;
mod model;
mod polynomial;
mod response;
mod sag;
mod stiffness;
mod train;
mod under_wheels;

pub use envelope::{Envelope, envelope};
pub use model::{Beam, Stretch, Support};
pub use response::{Load, Peak, Response, respond};
pub use train::{Governing, SupportRange, Train, Wheel};
pub use under_wheels::UnderWheels;
