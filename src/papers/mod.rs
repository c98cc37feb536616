//! What a design is on paper, as plain data: the roof at every place of its travel, sheets, what to buy, the order of
//! work, the cards on the wall.
//!
//! In: a checked design and the papers (pictures, purchases, tasks, reminders …) that the trade library and the design
//! write. Out: data that any output can write down. Each room stands on the rows and on no other room; none knows a
//! file, a clock or a format.

pub mod row;
pub mod unknown;

pub mod accounts;
pub mod cards;
pub mod drawing;
pub mod rolling;
pub mod sequence;
pub mod takeoff;
