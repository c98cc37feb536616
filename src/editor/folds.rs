//! What may be folded away: blocks, runs of comments, runs of `use`.

use super::desk::{Desk, item_span};
use crate::syntax::tree::Item;
use crate::text::{FileId, Span};

/// What a fold holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fold {
    /// A block.
    Block,
    /// Comments.
    Comment,
    /// `use` lines.
    Uses,
}

/// The folds of a file: first and last line, both from 0.
#[must_use]
pub fn folds(desk: &Desk, file: FileId) -> Vec<(u32, u32, Fold)> {
    let Some(source) = desk.source(file) else { return Vec::new() };
    let line = |offset: u32| u32::try_from(source.lines().line_of(offset)).unwrap_or(u32::MAX);
    let lines = |span: Span| {
        let span = desk.sources().settle(span);
        (line(span.start), line(span.end.saturating_sub(1)))
    };
    let block = |span: Span| {
        let (first, last) = lines(span);
        (first, last, Fold::Block)
    };
    let mut found = Vec::new();
    for item in desk.items(file) {
        found.push(block(item_span(item)));
        if let Item::Variant(crate::syntax::tree::Variant { changes, .. }) | Item::Measured(crate::syntax::tree::Measured { changes, .. }) =
            item
        {
            found.extend(changes.components.iter().map(|change| block(change.span)));
        }
    }
    let comments = desk.comments(file).iter().filter(|comment| comment.own_line).map(|comment| line(comment.span.start));
    found.extend(runs(comments).map(|(first, last)| (first, last, Fold::Comment)));
    let uses = desk.items(file).filter(|item| matches!(item, Item::Use(_))).map(|item| lines(item_span(item)).0);
    found.extend(runs(uses).map(|(first, last)| (first, last, Fold::Uses)));
    found.retain(|(first, last, _)| first < last);
    found.sort_unstable_by_key(|(first, last, _)| (*first, *last));
    found
}

/// Lines that follow one another without a gap.
fn runs(lines: impl Iterator<Item = u32>) -> impl Iterator<Item = (u32, u32)> {
    let mut runs: Vec<(u32, u32)> = Vec::new();
    for line in lines {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == line || *last == line => *last = line,
            _ => runs.push((line, line)),
        }
    }
    runs.into_iter()
}
