//! Everything that a thing of finitely many states can come to, from its beginning, step by step.
//!
//! In: a [`Machine`]: parts with their states, events that somebody or something may bring about at any time, and what
//! follows from each before anything else happens. Out: for each [`Promise`] whether it is kept, and if not the shortest
//! story that breaks it. It must not know what a part is.
//!
//! Breadth first, so that no story is shorter than the one told; in a fixed order, so that it is the same every time. Parts
//! that never change and parts that no promise reads are left out first (`reduce`), the rest is packed into one number
//! (`packed`). A story is played again on the whole machine, with the clocks of its events (`story`), before it is told.
//!
//! Source: Clarke, Grumberg and Peled, *Model Checking* (1999): explicit reachability, cone of influence. Clocks: Merlin and
//! Farber 1976 (time Petri nets); Dechter, Meiri and Pearl 1991 (simple temporal problem).

mod at_most_one;
mod bits;
mod clocks;
mod condition;
mod layout;
mod machine;
mod packed;
mod promises;
mod reduce;
mod search;
mod story;
mod transitions;

pub use at_most_one::{after_one, at_most_one};
pub use condition::Condition;
pub use machine::{Asks, Case, Event, Follow, Machine, Part, Promise, Turn};
pub use promises::{Course, Explored, Limits, Verdict, explore};
pub use story::{Changed, Step, Story};
pub use transitions::{Transition, transitions};
