//! What the tool knows about observatories, in the language itself, embedded in the program.
//!
//! `kinds/` is the vocabulary, `rules/` the checks, `catalogue/` design values that a design takes
//! in with `use`. This file only lists them; everything to read stands in the `.plate` files.

use crate::syntax::{self, tree::Tree};
use crate::text::{FileId, Source};
use std::sync::{Arc, OnceLock};

/// One file of the library.
pub struct Part {
    /// Its name: what a catalogue is taken in by.
    pub name: &'static str,
    path: &'static str,
    text: &'static str,
    read: OnceLock<(FileId, Arc<Tree>)>,
    source: OnceLock<Arc<Source>>,
}

macro_rules! part {
    ($folder:literal, $name:literal) => {
        Part {
            name: $name,
            path: concat!("trade/", $folder, "/", $name, ".plate"),
            text: include_str!(concat!($folder, "/", $name, ".plate")),
            read: OnceLock::new(),
            source: OnceLock::new(),
        }
    };
}

static LIBRARY: [Part; 9] = [
    part!("kinds", "site"),
    part!("kinds", "structure"),
    part!("kinds", "roof"),
    part!("kinds", "holding"),
    part!("kinds", "travel"),
    part!("kinds", "pier"),
    part!("rules", "holddown"),
    part!("rules", "travel"),
    part!("rules", "piers"),
];

static CATALOGUES: [Part; 1] = [part!("catalogue", "timber")];

/// The vocabulary and the checks.
#[must_use]
pub fn library() -> &'static [Part] {
    &LIBRARY
}

/// A catalogue by name.
#[must_use]
pub fn catalogue(name: &str) -> Option<&'static Part> {
    CATALOGUES.iter().find(|part| part.name == name)
}

/// The names of the catalogues.
pub fn catalogue_names() -> impl Iterator<Item = &'static str> {
    CATALOGUES.iter().map(|part| part.name)
}

impl Part {
    /// The text with the name it is shown under.
    pub fn source(&self) -> Arc<Source> {
        Arc::clone(self.source.get_or_init(|| Arc::new(Source::new(self.path, self.text))))
    }

    /// The file as a tree; read at the first call.
    ///
    /// The library is the same in every session of one program run, and so are its files' numbers
    /// unless catalogues are taken in in another order: then it is read again.
    pub fn tree(&self, file: FileId) -> Arc<Tree> {
        let read = || {
            let (tree, problems) = syntax::parse(self.text, file);
            debug_assert!(problems.is_empty(), "{}: {problems:?}", self.path);
            Arc::new(tree)
        };
        let (known, tree) = self.read.get_or_init(|| (file, read()));
        if *known == file { Arc::clone(tree) } else { read() }
    }
}
