//! Electricity for the roof: wire, motor and battery.
//!
//! In: resistances per length, currents, voltages, charges in SI units (Ω/m, A, V, A·s).
//! Out: the same. It must not hold tables of wire (they stand in the catalogue) nor limits (they are rules).
//! Planning numbers only: whoever connects it is a licensed electrician under the local code.

pub mod battery;
pub mod motor;
pub mod wire;
