//! Quantities of the building trade: dimensions, units, and how a number is read out to a builder.
//!
//! In comes the text of a unit (`kN/m2`, `ft-lbf`, `degC`) or a value in SI base units; out go a
//! [`Unit`] with its factor, a [`Dim`], or a text such as `41.2 mm` or `6 ft 2-1/2 in`.
//! This module must not know the language, the kinds of component or the rules.
//!
//! - [`dim`]: dimensions and their names
//! - [`table`]: every unit with its factor and the published source of that factor
//! - [`unit`]: reading a unit, converting to and from SI
//! - [`quantity`]: weight taken as force, comparing two values
//! - [`choose`]: which unit suits a value of a size
//! - [`show`]: a value as text

pub mod choose;
pub mod dim;
pub mod quantity;
pub mod show;
pub mod table;
pub mod unit;

pub use choose::{System, common_unit, display_unit, is_said_in, system_of, units_for};
pub use dim::Dim;
pub use quantity::{STANDARD_GRAVITY, as_mass, as_weight, same};
pub use show::{METRE_PER_INCH, figures, percent, show, show_apart, show_exact};
pub use table::{UnitDef, all_units};
pub use unit::{Unit, UnknownUnit};
