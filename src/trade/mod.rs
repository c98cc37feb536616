//! What the tool knows about observatories, in the language itself, embedded in the program.
//!
//! `words/` is what lines may be written with, `kinds/` the vocabulary, `rules/` the checks, `catalogue/` design values that
//! a design takes in with `use`, `formulas/` what formulas take and give, `papers/` what drawings, lists and cards say of each
//! component and `forms/` what they may say, `says/` sentences for people. The build (`build.rs`) finds the files, reads
//! them and embeds text and tree; this file only hands them out.

use crate::syntax::tree::{Component, Item, Tree};
use crate::text::{FileId, Source};
use std::sync::{Arc, OnceLock};

/// One file of the library.
pub struct Part {
    /// Its name: what a catalogue is taken in by.
    pub name: &'static str,
    /// Its place among the library's files.
    pub place: u16,
    /// The name it is shown under: its path in the library.
    pub path: &'static str,
    /// Its text.
    pub text: &'static str,
    prepared: &'static [u8],
    tree: OnceLock<Arc<Tree>>,
    source: OnceLock<Arc<Source>>,
}

include!(concat!(env!("OUT_DIR"), "/library.rs"));

/// The vocabulary and the checks.
#[must_use]
pub fn library() -> &'static [Part] {
    &LIBRARY
}

/// What goes onto paper: read only when something is put there.
#[must_use]
pub fn papers() -> &'static [Part] {
    &PAPERS
}

/// What the formulas take and give: read when an expression calls one.
#[must_use]
pub fn formulas() -> &'static [Part] {
    &FORMULAS
}

/// The forms of paper and the sheets: read when something is put there.
#[must_use]
pub fn forms() -> &'static [Part] {
    &FORMS
}

/// Sentences for people that speak of the trade, from `says/`.
pub mod says {
    include!(concat!(env!("OUT_DIR"), "/says.rs"));
}

/// A catalogue by name.
#[must_use]
pub fn catalogue(name: &str) -> Option<&'static Part> {
    CATALOGUES.iter().find(|part| part.name == name)
}

/// The catalogues.
#[must_use]
pub fn catalogues() -> &'static [Part] {
    &CATALOGUES
}

/// The entries of a catalogue, and the patterns.
pub fn entries_of(part: &Part) -> impl Iterator<Item = &Component> {
    part.as_tree().items.iter().filter_map(|item| match item {
        Item::Component(entry) | Item::Pattern(entry) => Some(entry),
        _ => None,
    })
}

/// The catalogue in which a name stands.
#[must_use]
pub fn catalogue_with(name: &str) -> Option<&'static str> {
    let has = |part: &&Part| entries_of(part).any(|entry| entry.name.as_ref().is_some_and(|word| word.text == name));
    CATALOGUES.iter().find(has).map(|part| part.name)
}

/// The catalogues that have entries of a kind.
#[must_use]
pub fn catalogues_of(kind: &str) -> Vec<&'static str> {
    let is_of_kind = |item: &Item| matches!(item, Item::Component(entry) if entry.kind.text == kind);
    CATALOGUES.iter().filter(|part| part.as_tree().items.iter().any(is_of_kind)).map(|part| part.name).collect()
}

/// The names of the catalogues.
pub fn catalogue_names() -> impl Iterator<Item = &'static str> {
    CATALOGUES.iter().map(|part| part.name)
}

/// All files of the library.
pub fn parts() -> impl Iterator<Item = &'static Part> {
    LIBRARY.iter().chain(&CATALOGUES).chain(&PAPERS).chain(&FORMULAS).chain(&FORMS)
}

/// The file of the library that has this number.
#[must_use]
pub fn part(file: FileId) -> Option<&'static Part> {
    parts().find(|part| FileId::built_in(part.place) == file)
}

impl Part {
    const fn new(place: u16, name: &'static str, path: &'static str, text: &'static str, prepared: &'static [u8]) -> Self {
        Self { name, place, path, text, prepared, tree: OnceLock::new(), source: OnceLock::new() }
    }

    /// The text with the name it is shown under.
    pub fn source(&self) -> Arc<Source> {
        Arc::clone(self.as_source())
    }

    /// As [`Part::source`], lent.
    pub fn as_source(&self) -> &Arc<Source> {
        self.source.get_or_init(|| Arc::new(Source::new(self.path, self.text)))
    }

    /// The file as a tree, its spans in [`FileId::built_in`] of its place; taken out of the program at the first call.
    pub fn tree(&self) -> Arc<Tree> {
        Arc::clone(self.as_tree())
    }

    /// As [`Part::tree`], lent.
    pub fn as_tree(&self) -> &Arc<Tree> {
        self.tree.get_or_init(|| {
            let prepared = postcard::from_bytes(self.prepared);
            // The build wrote it with the same types; should that ever fail, the text is there to be read.
            let tree = prepared.unwrap_or_else(|_| crate::syntax::parse(self.text, FileId::built_in(self.place)).0);
            Arc::new(tree)
        })
    }
}
