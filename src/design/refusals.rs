//! What is said where something of the wrong sort stands: the same words whether it shows from the declarations alone or
//! when a value is worked out.
//!
//! In: what stands there, as [`Sort::describe`](super::Sort::describe) or a value says it. Out: the problem.

use super::call::GATHERERS;
use crate::problem::{Problem, nearest};
use crate::syntax::examples::GONE_THROUGH;
use crate::syntax::tree::{Expr, Word};
use crate::text::Span;

/// Where yes or no is due.
#[must_use]
pub fn no_condition(what: String, span: Span) -> Problem {
    Problem::error(format!("this should be yes or no, and is {what}"), span, what).help("compare it with something, like `x > 0 m`")
}

/// Where a component stands for what it says, and it says nothing.
#[must_use]
pub fn no_signal(name: &str, kind: &str, span: Span) -> Problem {
    Problem::error(format!("`{name}`, {}, gives no signal", crate::problem::with_article(kind)), span, "this component")
        .help("what gives a signal has a line `signal`: `wallplate rules kinds` lists the kinds")
}

/// Where a number is due: an end of a range, a part of a size, a tolerance.
#[must_use]
pub fn no_number(what: String, span: Span) -> Problem {
    Problem::error(format!("a number is due here, and this is {what}"), span, what)
}

/// The ends of a range, or the parts of a size, that do not measure the same; each with its place.
#[must_use]
pub fn unlike_ends((one, at): (String, Span), (other, beside): (String, Span)) -> Problem {
    let problem = Problem::error(format!("one part of this is {one}, another is {other}"), beside, other);
    problem.also(at, one).help("what is joined by `to` or `by` measures the same")
}

/// A word that may stand here, and is covered by the name that the same block gives a value.
#[must_use]
pub fn covered_word(word: &str, line: &str, span: Span, given: Span) -> Problem {
    let problem = Problem::error(format!("`{word}` stands for the value of a `let` here, not for the word of `{line}`"), span, "here");
    problem.also(given, "its `let`").help("give the `let` another name")
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
    if known.is_empty() {
        return problem;
    }
    let all = format!("it has {}", known.join(", "));
    problem.nearest_or(&word.text, word.span, known, all)
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

/// A bare word that nothing has for its name.
#[must_use]
pub fn stands_for_nothing(name: &str, span: Span) -> Problem {
    Problem::error(format!("`{name}` stands for nothing here"), span, "this name")
}

/// A rule's demand of another sort than its capacity; each with its place.
#[must_use]
pub fn unlike_demand((demand, at): (String, Span), (capacity, beside): (String, Span)) -> Problem {
    let message = format!("the demand is {demand} and the capacity is {capacity}");
    Problem::error(message, at, demand).also(beside, capacity).help("both are numbers of one sort")
}

/// A word in front of brackets that is neither a function nor gathers; `known` are the functions.
#[must_use]
pub fn no_function<'k>(name: &Word, known: impl IntoIterator<Item = &'k str>) -> Problem {
    let problem = Problem::error(format!("there is no function `{}`", name.text), name.span, "this function");
    if GATHERERS.iter().any(|(word, _)| *word == name.text) {
        return problem.help(format!("`{}` gathers: `{}(c.x {GONE_THROUGH})`", name.text, name.text));
    }
    problem.nearest_or(&name.text, name.span, known, "`wallplate rules functions` lists them")
}

/// Before `for`, a word that gathers nothing.
#[must_use]
pub fn no_gatherer(name: &Word) -> Problem {
    let known: Vec<&str> = GATHERERS.iter().map(|(word, _)| *word).collect();
    let all = format!("these do: {}", known.join(", "));
    Problem::error(format!("`{}` does not gather values", name.text), name.span, "this word").nearest_or(&name.text, name.span, known, all)
}

/// What a word gathers is of another sort.
#[must_use]
pub fn not_gathered(name: &Word, gathers: &str, what: String, span: Span) -> Problem {
    Problem::error(format!("`{}` gathers {gathers}, and this is {what}", name.text), span, what)
}

/// The name of a kind is due, and there is none of that name; `known` are the kinds.
#[must_use]
pub fn no_kind<'k>(name: &str, span: Span, known: impl IntoIterator<Item = &'k str>) -> Problem {
    Problem::error(format!("there is no kind `{name}`"), span, "this kind").nearest(name, span, known)
}

/// The name of a kind is due.
#[must_use]
pub fn no_kinds_name(span: Span) -> Problem {
    Problem::error("this is not the name of a kind", span, "here")
}

/// What a link carries is due.
#[must_use]
pub fn nothing_carried(span: Span) -> Problem {
    Problem::error("this is not something that a link carries", span, "here")
}

/// An argument of another sort than is due; `doc` is what the parameter means.
#[must_use]
pub fn no_such_argument(parameter: &str, doc: &str, due: &str, what: String, expr: &Expr) -> Problem {
    Problem::error(format!("`{parameter}` is {due}, and this is {what}"), expr.span, what).help(doc)
}

/// Another word than those that are due.
#[must_use]
pub fn no_such_word(line: &str, words: &[impl AsRef<str>], word: &str, span: Span) -> Problem {
    let all: Vec<&str> = words.iter().map(AsRef::as_ref).collect();
    let problem = Problem::error(format!("`{line}` cannot be `{word}`"), span, "this word").help(one_of(&all));
    match nearest(word, all) {
        Some(near) => problem.mend(format!("write `{near}`"), span, near),
        None => problem,
    }
}

/// Something else where one of some words is due.
#[must_use]
pub fn no_word(line: &str, words: &[impl AsRef<str>], what: String, is_text: bool, span: Span) -> Problem {
    let quoted = if is_text { ", without quotes" } else { "" };
    let all: Vec<&str> = words.iter().map(AsRef::as_ref).collect();
    Problem::error(format!("`{line}` cannot be {what}"), span, what).help(format!("{}{quoted}", one_of(&all)))
}

fn one_of(words: &[&str]) -> String {
    format!("it is one of {}", words.join(", "))
}
