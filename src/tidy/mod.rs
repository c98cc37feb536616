//! The one standard layout of a text.
//!
//! In: a text without mistakes in its syntax. Out: the same lines and comments, laid out as
//! everybody lays them out, so that a difference of two versions shows what was changed and nothing
//! else. It knows the syntax and not what anything means. What it gives out it has read again.
//!
//! The layout: two blanks of indent; the values of a block in one column; one statement on a line,
//! its `{` at the end of its first line; at most one empty line in a row. A block that its writer
//! put on one line stays there if it fits in [`WIDTH`]. A line that is longer is broken after commas and
//! operators, and a break that its writer made at such a place stays.

mod columns;
mod outline;
mod rows;
mod write;

pub use outline::outline;

use crate::problem::Problem;
use crate::syntax::{parse, tokens, tree::Tree};
use crate::text::FileId;

/// The number of characters that a line should not exceed: what a printed page and half a screen hold.
pub const WIDTH: usize = 100;

/// Why a text cannot be laid out.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum TidyError {
    /// Part of it cannot be read; the problems count in the text as it was given.
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
/// [`TidyError::Unreadable`] where the text has mistakes in its syntax, [`TidyError::WouldChange`]
/// where the outcome, read again, does not say the same.
pub fn tidy(text: &str) -> Result<String, TidyError> {
    let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
    let (tree, problems) = parse(text, FileId::default());
    if !problems.is_empty() {
        return Err(TidyError::Unreadable(problems));
    }
    let rows = rows::rows(text, &tokens(text), &tree.comments);
    let laid_out = write::write(&rows);
    let (again, problems) = parse(&laid_out, FileId::default());
    let same = problems.is_empty() && outline(&tree) == outline(&again) && comments(text, &tree).eq(comments(&laid_out, &again));
    if same { Ok(laid_out) } else { Err(TidyError::WouldChange) }
}

fn comments<'t>(text: &'t str, tree: &'t Tree) -> impl Iterator<Item = &'t str> {
    tree.comments.iter().map(|comment| slice(text, comment.span).trim_end())
}

fn slice(text: &str, span: crate::text::Span) -> &str {
    text.get(span.start as usize..span.end as usize).unwrap_or_default()
}
