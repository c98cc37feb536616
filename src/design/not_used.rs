//! Names of catalogues that the design does not use.
//!
//! In: a name that stands for nothing. Out: the problem that says which catalogue has it, with the line to write: of one
//! catalogue once, however many of its names stand in the text.

use super::{Design, KindId};
use crate::problem::Problem;
use crate::syntax::tree::Tree;
use crate::text::Span;
use std::sync::Arc;

/// What is asked of catalogues that a design may not use.
#[derive(Debug, Clone, Copy)]
pub struct Catalogues {
    /// In which of them a name stands.
    pub with: fn(&str) -> Option<&'static str>,
    /// Which of them have entries of a kind.
    pub of_kind: fn(&str) -> Vec<&'static str>,
}

/// Where a line `use …` goes: before the first statement of the person's own text.
pub(super) fn begin_of(files: &[Arc<Tree>]) -> Span {
    let first = files.iter().flat_map(|tree| &tree.items).map(|item| item.span()).find(|span| !span.file.is_built_in());
    first.map(|span| Span { end: span.start, ..span }).unwrap_or_default()
}

impl Design {
    /// What is said of a name that a catalogue has which the design does not use.
    pub(super) fn not_used(&self, name: &str, span: Span) -> Option<Problem> {
        let catalogue = self.catalogues.and_then(|catalogues| (catalogues.with)(name))?;
        let line = format!("use {catalogue}");
        let problem = Problem::error(format!("the catalogue `{catalogue}` is not used, and a name of it stands here"), span, {
            format!("`{name}` is in `{catalogue}`")
        });
        Some(problem.once().help(format!("write `{line}`")).mend(format!("write `{line}`"), self.begin, format!("{line}\n")))
    }

    /// Where entries of these kinds can be looked up, as the end of a sentence; empty where no catalogue has any.
    pub(super) fn looked_up(&self, kinds: &[KindId]) -> String {
        let Some(catalogues) = self.catalogues else { return String::new() };
        let mut all: Vec<&str> = kinds.iter().flat_map(|kind| (catalogues.of_kind)(&self.kind(*kind).name)).collect();
        all.dedup();
        let pages: Vec<String> = all.iter().map(|name| format!("`wallplate rules {name}`")).collect();
        if pages.is_empty() { String::new() } else { format!(", or of a catalogue that it uses: {}", pages.join(", ")) }
    }
}
