//! From text to a syntax tree that covers the whole file, broken lines and comments included.
//!
//! In: one source text. Out: a [`tree::Tree`] and a list of problems; parsing cannot fail. It knows
//! places in text and nothing of kinds, units or values. It is the only room that names pest.

mod build;
pub mod examples;
mod explain;
mod expressions;
mod grammar;
pub mod number;
mod parts;
mod piece_of_text;
mod reading;
mod same;
mod slips;
mod slips_of_numbers;
mod tokens;
pub mod tree;

/// The words that begin a statement: no kind can have one of them as its name.
pub const STATEMENTS: [&str; 25] = [
    "use",
    "let",
    "pattern",
    "variant",
    "measured",
    "accept",
    "kind",
    "formula",
    "table",
    "carried",
    "paper",
    "state",
    "sheet",
    "sheet_view",
    "drawn",
    "rule",
    "picture",
    "purchase",
    "task",
    "reminder",
    "roll",
    "zone",
    "reading",
    "review",
    "account",
];

pub use reading::{DEEPEST_NESTING, LONGEST_LINE};
pub use tokens::{Joint, Token, tokens};

/// The version of the language: it counts up when a text that was read before is read no more, or means something else.
pub const LANGUAGE: u32 = 2;

use crate::problem::Problem;
use crate::text::{FileId, Span};
use pest::Parser;
use reading::Fault;

/// Lines longer than this are parsed on a stack of their own: recursion follows the text.
const LINE_FOR_SMALL_STACK: usize = 1_000;
/// Enough for [`LONGEST_LINE`] of the deepest nesting that a line of that length can hold.
const LARGE_STACK: usize = 256 * 1024 * 1024;

/// Does what follows an expression down, on a stack of its own where that may be deep.
pub fn following<T>(expr: &tree::Expr, work: impl FnOnce() -> T) -> T {
    let long = (expr.span.end - expr.span.start) as usize > LINE_FOR_SMALL_STACK;
    if long { stacker::grow(LARGE_STACK, work) } else { work() }
}

/// Reads a whole file.
///
/// `text` is the file's text, `file` its number. Never fails: what cannot be read becomes
/// [`tree::Item::Broken`] or is left out of its block, and a [`Problem`] says what was expected.
#[must_use]
pub fn parse(text: &str, file: FileId) -> (tree::Tree, Vec<Problem>) {
    let reading = reading::read(text, file);
    let mut builder = build::Builder {
        file,
        text,
        masked: &reading.masked,
        base: 0,
        end: 0,
        escapes: Vec::new(),
        problems: reading.faults.iter().map(|one| fault(one, text)).collect(),
        no_tolerance: None,
    };
    let items = reading.statements.iter().map(|stretch| item(&mut builder, stretch.range.clone(), stretch)).collect();
    let mut problems = builder.problems;
    problems.sort_by_key(|problem| problem.span());
    (tree::Tree { items, comments: reading.comments }, problems)
}

fn item(builder: &mut build::Builder<'_>, range: std::ops::Range<usize>, stretch: &reading::StatementStretch) -> tree::Item {
    if !stretch.within_bounds {
        let at = |offset: usize| u32::try_from(offset).unwrap_or(u32::MAX);
        tree::Item::Broken(Span { file: builder.file, start: at(range.start), end: at(range.end) }, None)
    } else if stretch.longest_line > LINE_FOR_SMALL_STACK {
        stacker::grow(LARGE_STACK, || builder.statement(range, stretch.unclosed))
    } else {
        builder.statement(range, stretch.unclosed)
    }
}

/// A file cut into its top-level statements, none of them read yet.
#[derive(Debug)]
pub struct Cut {
    masked: String,
    stretches: Vec<reading::StatementStretch>,
    /// The comments.
    pub comments: Vec<tree::Comment>,
    /// What is wrong with braces and lengths of lines.
    pub problems: Vec<Problem>,
}

/// A statement as the grammar will see it: two that are equal read the same.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Statement<'c> {
    /// As it is written.
    pub text: &'c str,
    masked: &'c str,
    longest_line: usize,
    within_bounds: bool,
    unclosed: usize,
    /// A `{` stands behind it: what a message about a broken header says depends on that.
    before_brace: bool,
}

/// What a statement was read from, to know it again.
#[derive(Debug)]
pub struct Kept {
    text: Box<str>,
    masked: Box<str>,
    rest: (usize, bool, usize, bool),
}

impl Statement<'_> {
    fn rest(&self) -> (usize, bool, usize, bool) {
        (self.longest_line, self.within_bounds, self.unclosed, self.before_brace)
    }

    /// To know it again.
    #[must_use]
    pub fn kept(&self) -> Kept {
        Kept { text: self.text.into(), masked: self.masked.into(), rest: self.rest() }
    }

    /// Whether it reads as one that was read before.
    #[must_use]
    pub fn is(&self, kept: &Kept) -> bool {
        *self.text == *kept.text && *self.masked == *kept.masked && self.rest() == kept.rest
    }
}

/// Cuts a file into its top-level statements, as [`parse`] does.
#[must_use]
pub fn cut(text: &str, file: FileId) -> Cut {
    let reading = reading::read(text, file);
    Cut {
        problems: reading.faults.iter().map(|one| fault(one, text)).collect(),
        masked: reading.masked,
        stretches: reading.statements,
        comments: reading.comments,
    }
}

impl Cut {
    /// The statements in order, each with its first byte in `text`, the text that was cut.
    pub fn statements<'c>(&'c self, text: &'c str) -> impl Iterator<Item = (usize, Statement<'c>)> {
        self.stretches.iter().map(move |stretch| {
            let part = |whole: &'c str| whole.get(stretch.range.clone()).unwrap_or_default();
            let behind = self.masked.get(stretch.range.end..).unwrap_or_default();
            let statement = Statement {
                text: part(text),
                masked: part(&self.masked),
                longest_line: stretch.longest_line,
                within_bounds: stretch.within_bounds,
                unclosed: stretch.unclosed,
                before_brace: behind.trim_start().starts_with('{'),
            };
            (stretch.range.start, statement)
        })
    }
}

/// Reads one statement of a [`Cut`], with places that count from its own beginning, in `file`.
#[must_use]
pub fn parse_statement(statement: &Statement<'_>, file: FileId) -> (tree::Item, Vec<Problem>) {
    let with_brace;
    let masked = if statement.before_brace {
        with_brace = format!("{}{{", statement.masked);
        &with_brace
    } else {
        statement.masked
    };
    let mut builder = build::Builder {
        file,
        text: statement.text,
        masked,
        base: 0,
        end: 0,
        escapes: Vec::new(),
        problems: Vec::new(),
        no_tolerance: None,
    };
    let stretch = reading::StatementStretch {
        range: 0..statement.masked.len(),
        within_bounds: statement.within_bounds,
        longest_line: statement.longest_line,
        unclosed: statement.unclosed,
    };
    let item = item(&mut builder, stretch.range.clone(), &stretch);
    (item, builder.problems)
}

/// Cuts a text into its top-level statements, as [`parse`] reads them, also where it is broken.
///
/// Gives the text with comments and joined newlines blanked (same offsets), the stretch of each statement,
/// and the comments.
#[must_use]
pub fn statements(text: &str) -> (String, Vec<std::ops::Range<usize>>, Vec<tree::Comment>) {
    let reading = reading::read(text, FileId::default());
    (reading.masked, reading.statements.into_iter().map(|stretch| stretch.range).collect(), reading.comments)
}

/// Whether a word may be the name of something.
#[must_use]
pub fn is_name(word: &str) -> bool {
    grammar::Grammar::parse(grammar::Rule::name, word).is_ok_and(|pairs| pairs.as_str() == word)
}

/// Reads one expression with an optional unit to show it in: `roof.net_uplift in lbf`.
///
/// # Errors
/// What was expected, at its place in `text`.
pub fn parse_expression(text: &str, file: FileId) -> Result<tree::Expr, Vec<Problem>> {
    let reading = reading::read(text, file);
    if !reading.faults.is_empty() {
        return Err(reading.faults.iter().map(|one| fault(one, text)).collect());
    }
    let expression = reading.masked.trim_end();
    if expression.len() > LONGEST_LINE {
        return Err(vec![fault(&Fault::TooLong(Span { file, start: 0, end: 0 }), text)]);
    }
    let mut builder = build::Builder {
        file,
        text,
        masked: &reading.masked,
        base: 0,
        end: text.len(),
        escapes: Vec::new(),
        problems: Vec::new(),
        no_tolerance: None,
    };
    let read = || match grammar::Grammar::parse(grammar::Rule::shown, expression) {
        Ok(pairs) => builder.shown(pairs).ok_or_else(Vec::new),
        Err(_) => Err(vec![explain::broken(grammar::Rule::shown, expression, text.trim_end(), file, 0, false)]),
    };
    let expr = stacker::grow(LARGE_STACK, read)?;
    if builder.problems.is_empty() { Ok(expr) } else { Err(builder.problems) }
}

fn fault(fault: &Fault, text: &str) -> Problem {
    match *fault {
        Fault::NeverClosed(span) => {
            Problem::error("this block is never closed", span, "opened here").help("write `}` on a line of its own after its last line")
        }
        Fault::ClosesNothing(span) => {
            Problem::error("this `}` closes nothing", span, "no block is open here").help("take it out").mend("take out `}`", span, "")
        }
        Fault::TooDeep(span) => Problem::error(format!("brackets nest more than {DEEPEST_NESTING} deep"), span, "too deep from here on")
            .help("give the inner part a name with `let`"),
        Fault::TooLong(span) => {
            Problem::error(format!("this line is longer than {LONGEST_LINE} characters"), span.widened(text), "this line")
                .help("break it into several lines, or give parts of it a name with `let`")
        }
    }
}
