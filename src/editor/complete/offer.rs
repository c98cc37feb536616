//! What is offered to somebody who writes.

/// What sort of thing may be written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Sort {
    /// A word of the language.
    Keyword,
    /// A kind of component.
    Kind,
    /// A property.
    Property,
    /// A component of the design.
    Component,
    /// A named value.
    Named,
    /// A pattern.
    Pattern,
    /// A word that the property may be.
    Choice,
    /// A unit.
    Unit,
    /// A function.
    Function,
    /// A catalogue.
    Catalogue,
    /// A file.
    File,
    /// A rule.
    Rule,
}

/// Something that may be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offer {
    /// The word.
    pub label: String,
    /// What it is.
    pub sort: Sort,
    /// What may stand behind it, or where it comes from, in a few words.
    pub detail: String,
    /// What it means.
    pub doc: String,
    /// What is put into the text.
    pub text: String,
    /// Shown before others where it is low.
    pub rank: u8,
}
