//! What is said where something of the wrong sort stands: the same words whether it shows from the declarations alone or
//! when a value is worked out.
//!
//! In: what stands there, as [`Sort::describe`](super::Sort::describe) or a value says it. Out: the problem.

use crate::problem::{Problem, nearest};
use crate::syntax::examples::GONE_THROUGH;
use crate::syntax::tree::Word;
use crate::text::Span;

/// Where yes or no is due.
#[must_use]
pub fn no_condition(what: String, span: Span) -> Problem {
    Problem::error(format!("this should be yes or no, and is {what}"), span, what).help("compare it with something, like `x > 0 m`")
}

/// Where a number is due: an end of a range, a part of a size, a tolerance.
#[must_use]
pub fn no_number(what: String, span: Span) -> Problem {
    Problem::error(format!("a number is due here, and this is {what}"), span, what)
}

/// Behind a `-` that turns a number around.
#[must_use]
pub fn no_negative(what: String, span: Span) -> Problem {
    Problem::error(format!("`-` works on numbers, and this is {what}"), span, what)
}

/// A part that a table, a component, a range or a size has not; `known` are those that it has.
#[must_use]
pub fn no_part<'k>(what: &str, word: &Word, known: impl IntoIterator<Item = &'k str>) -> Problem {
    let known: Vec<&str> = known.into_iter().collect();
    let problem = Problem::error(format!("{what} has no `{}`", word.text), word.span, "this part");
    match nearest(&word.text, known.iter().copied()) {
        Some(_) => problem.nearest(&word.text, word.span, known),
        None if known.is_empty() => problem,
        None => problem.help(format!("it has {}", known.join(", "))),
    }
}

/// In the brackets behind a list.
#[must_use]
pub fn no_element_number(what: &str, span: Span) -> Problem {
    Problem::error(format!("an element's number is a whole number, and this is {what}"), span, "this number")
}

/// Before such brackets.
#[must_use]
pub fn no_elements(what: String, span: Span) -> Problem {
    Problem::error(format!("only a list has numbered elements, and this is {what}"), span, what)
}

/// Behind `in` of something that is gone through.
#[must_use]
pub fn not_gone_through(what: String, span: Span) -> Problem {
    Problem::error(format!("`in` goes through a kind or a list, and this is {what}"), span, what)
        .help(format!("write a kind, like `{GONE_THROUGH}`, or a list"))
}

/// Several values of which one is asked for: the largest, the sum.
#[must_use]
pub fn not_of_one_sort(function: &str, one: &str, other: &str, span: Span) -> Problem {
    let message = format!("`{function}` has no answer: every value needs to be of one sort; these are {one} and {other}");
    Problem::error(message, span, "worked out here")
}
