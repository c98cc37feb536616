//! The one standard layout of a text.
//!
//! In: a text without mistakes in its syntax. Out: the same lines and comments, laid out as
//! everybody lays them out, so that a difference of two versions shows what was changed and nothing
//! else. It knows the syntax and not what anything means. What it gives out it has read again.
//!
//! The layout: two blanks of indent; the values of a block in one column; one statement on a line,
//! its `{` at the end of its first line; at most one empty line in a row. A block that its writer
//! put on one line stays there if it fits in [`WIDTH`]. A line that is longer is broken after commas and
//! operators, one of a kind before a text, `default` or `assumed`, and a break that its writer made at such a place stays.

mod columns;
mod outline;
mod rows;
mod write;

pub use outline::outline;
pub use rows::WIDTH;

use crate::problem::Problem;
use crate::syntax::{LONGEST_LINE, parse, statements, tokens, tree::Tree};
use crate::text::{FileId, LARGEST_FILE, Span};
use rows::slice;

/// Why a text cannot be laid out.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum TidyError {
    /// Part of it cannot be read, or could not be once it is laid out; the problems count in the text as it was given.
    #[error("the text has {} that must be mended first", if .0.len() == 1 { "a mistake" } else { "mistakes" })]
    Unreadable(Vec<Problem>),
    /// The layout would have changed what the text says. Nothing a person can write should do this.
    #[error("the standard layout would change what this text says: a fault of the program, and the text is left as it is")]
    WouldChange,
}

/// Lays a text out.
///
/// `text` is a whole file; a byte order mark at its start is dropped. Gives the text in the standard
/// layout, with `\n` at the end of each line.
///
/// # Errors
/// [`TidyError::Unreadable`] where the text has mistakes in its syntax or is too long once it is laid out,
/// [`TidyError::WouldChange`] where the outcome, read again, does not say the same.
pub fn tidy(text: &str) -> Result<String, TidyError> {
    let mark = text.len() - text.strip_prefix('\u{FEFF}').unwrap_or(text).len();
    let behind_mark = |mut problem: Problem| {
        let spans = problem.places.iter_mut().map(|place| &mut place.span).chain(problem.mends.iter_mut().map(|mend| &mut mend.span));
        let on = u32::try_from(mark).unwrap_or(0);
        spans.for_each(|span| (span.start, span.end) = (span.start + on, span.end + on));
        problem
    };
    let text = text.get(mark..).unwrap_or_default();
    let (tree, problems) = parse(text, FileId::default());
    if !problems.is_empty() {
        return Err(TidyError::Unreadable(problems.into_iter().map(behind_mark).collect()));
    }
    let rows = rows::rows(text, &tokens(text), &tree.comments);
    let laid_out = write::write(&rows);
    if let Some(problem) = too_long(text, &laid_out) {
        return Err(TidyError::Unreadable(vec![behind_mark(problem)]));
    }
    let (again, problems) = parse(&laid_out, FileId::default());
    let same = problems.is_empty() && outline(&tree) == outline(&again) && comments(text, &tree).eq(comments(&laid_out, &again));
    if same { Ok(laid_out) } else { Err(TidyError::WouldChange) }
}

/// What is wrong with a text that is read as it is, and would not be with the blanks of the layout.
fn too_long(text: &str, laid_out: &str) -> Option<Problem> {
    let whole = |range: std::ops::Range<usize>| Span::within(text, FileId::default(), range.start, range.end);
    if laid_out.len() > LARGEST_FILE {
        let message = format!("laid out, this text would have more than the {LARGEST_FILE} bytes that are read");
        return Some(
            Problem::error(message, whole(0..0), "this text").help("split it into several files, joined with `use \"part.plate\"`"),
        );
    }
    let (masked, pieces, _) = statements(laid_out);
    let is_long = |range: &std::ops::Range<usize>| {
        let statement = masked.get(range.clone()).unwrap_or_default();
        statement.split(['\n', '\r']).any(|line| line.len() > LONGEST_LINE)
    };
    let at = pieces.iter().position(is_long)?;
    let (_, before, _) = statements(text);
    let message = format!("laid out, a line of this statement is longer than {LONGEST_LINE} characters");
    Some(Problem::error(message, whole(before.get(at)?.clone()), "this statement").help("give parts of it a name with `let`"))
}

fn comments<'t>(text: &'t str, tree: &'t Tree) -> impl Iterator<Item = &'t str> {
    tree.comments.iter().map(|comment| slice(text, comment.span).trim_end())
}
