//! The value graph: every property of every component worked out once, on demand, with its origin.
//!
//! In: a [`Design`](crate::design::Design). Out: values, or exactly what is missing for them. Each
//! value knows the values that it was worked out from, so that "how", worst cases and what-ifs are
//! views of one graph. It knows no rule and prints nothing.

mod aggregate;
mod arithmetic;
mod calls;
mod due;
mod evaluator;
mod expression;
mod figure;
mod fit;
mod function;
mod halt;
mod how;
mod lack;
mod links;
mod once;
mod places;
mod reads;
mod renewal;
mod renumbered;
mod scenario;
mod show;
mod spoken;
mod temperature;
mod tolerance;
mod value;

pub use calls::Arguments;
pub use evaluator::{Evaluator, Scope};
pub use figure::Figure;
pub use function::{Body, Function, Functions, Parameter, Refusal, Takes};
pub use halt::{Halt, unless_halted};
pub use how::Step;
pub use lack::{Lack, MOST_MISSING, Missing, MissingLine};
pub use links::{Link, Links, Trail, Way};
pub use once::Once;
pub(crate) use reads::Question;
pub use renumbered::Renumbered;
pub use scenario::{MovedBy, Turn};
pub use show::Measure;
pub use spoken::in_words;
pub use value::{Quantity, Record, Shape, Tolerance, Value};

/// A value, or what stands in its way.
pub type Outcome = Result<Value, Lack>;
