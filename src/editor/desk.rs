//! A design on the desk: read, checked, and ready to be asked about a place.

use crate::design::{ComponentId, Design, NodeId};
use crate::problem::Problem;
use crate::rules::{Finding, Options};
use crate::session::{Draft, Session, Shelf};
use crate::syntax::tree::{Comment, Component, Item, Let, Line};
use crate::text::{FileId, Source, Sources, Span};
use crate::values::Halt;
use std::rc::Rc;

/// A design with what was found in it.
#[derive(Default)]
pub struct Desk {
    draft: Draft,
    /// What is wrong with the text.
    pub problems: Vec<Problem>,
}

/// A place as the places of a statement count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spot {
    /// The piece of the text.
    pub file: FileId,
    /// The offset in it.
    pub offset: u32,
}

/// A line of a design with what it belongs to.
#[derive(Debug, Clone, Copy)]
pub enum Written<'t> {
    /// A named value.
    Let(&'t Let),
    /// A line of a component or a pattern.
    Line(&'t Component, &'t Line),
    /// A line of a variant or of measurements, for the component of that name.
    Change(&'t str, &'t Line),
}

impl Desk {
    /// Reads and checks a design, or reads it again after an edit.
    ///
    /// `halt` ends the work where nobody waits for it any more: call it below [`crate::values::unless_halted`].
    pub fn read(&mut self, files: Vec<Source>, shelf: &dyn Shelf, options: &Options, halt: &Halt) {
        self.draft.read(files, shelf, options, halt);
        // After the rules: working them out can find mistakes in the text too.
        self.problems = self.draft.session().problems();
    }

    /// The session that it is read in.
    #[must_use]
    pub fn session(&self) -> &Session {
        self.draft.session()
    }

    /// Its files.
    #[must_use]
    pub fn sources(&self) -> &Sources {
        &self.draft.session().sources
    }

    /// The design.
    #[must_use]
    pub fn design(&self) -> &Design {
        self.draft.session().design()
    }

    /// What the rules found.
    #[must_use]
    pub fn findings(&self) -> &[Rc<Finding>] {
        self.draft.findings()
    }

    /// The file that is shown under a name.
    #[must_use]
    pub fn file(&self, name: &str) -> Option<FileId> {
        self.sources().own().find(|(_, source)| source.name == name).map(|(id, _)| id)
    }

    /// The top-level statements of a file in order. Their places count from the beginning of each.
    pub fn items(&self, file: FileId) -> impl Iterator<Item = &Item> {
        self.draft.statements(file).flat_map(|(_, tree)| &tree.items)
    }

    /// The top-level statements of all files.
    pub fn all_items(&self) -> impl Iterator<Item = &Item> {
        self.session().trees.iter().flat_map(|(_, tree)| &tree.items)
    }

    /// The comments of a file.
    #[must_use]
    pub fn comments(&self, file: FileId) -> &[Comment] {
        self.draft.comments(file)
    }

    /// The top-level statement at a place, with that place as its own places count.
    #[must_use]
    pub fn item(&self, file: FileId, offset: u32) -> Option<(&Item, Spot)> {
        let (piece, offset) = self.sources().piece_at(file, offset)?;
        let (_, tree) = self.session().trees.iter().find(|(id, _)| *id == piece)?;
        Some((tree.items.first()?, Spot { file: piece, offset }))
    }

    /// The line at an offset.
    #[must_use]
    pub fn line(&self, file: FileId, offset: u32) -> Option<Written<'_>> {
        let (item, Spot { offset, .. }) = self.item(file, offset)?;
        match item {
            Item::Let(line) => Some(Written::Let(line)),
            Item::Component(block) | Item::Pattern(block) => {
                block.lines.iter().find(|line| touches(line.span, offset)).map(|line| Written::Line(block, line))
            }
            Item::Variant(crate::syntax::tree::Variant { changes, .. }) | Item::Measured(crate::syntax::tree::Measured { changes, .. }) => {
                let change = changes.components.iter().find(|change| touches(change.span, offset))?;
                let line = change.lines.iter().find(|line| touches(line.span, offset))?;
                Some(Written::Change(&change.name.text, line))
            }
            _ => None,
        }
    }

    /// The values that a line of the text is for, with the component of each: several for a pattern or an array.
    #[must_use]
    pub fn nodes(&self, written: Written<'_>) -> Vec<(NodeId, Option<ComponentId>)> {
        let design = self.design();
        match written {
            Written::Let(line) => match design.entry(&line.name.text) {
                Some(crate::design::Entry::Named(at)) => u32::try_from(at).map(|at| (NodeId(at), None)).into_iter().collect(),
                _ => Vec::new(),
            },
            Written::Line(block, line) => {
                let Some(kind) = design.kind_named(&block.kind.text) else { return Vec::new() };
                let Some(property) = design.kind(kind).property(&line.name.text) else { return Vec::new() };
                let follows = |id: &&ComponentId| design.component(**id).written(property).is_some_and(|written| written.span == line.span);
                design.of_kind(kind).iter().filter(follows).map(|id| (design.node(*id, property), Some(*id))).collect()
            }
            Written::Change(name, line) => {
                let ids: Vec<ComponentId> = match design.entry(name) {
                    Some(crate::design::Entry::Component(id)) => vec![id],
                    Some(crate::design::Entry::Array(id, _, count)) => (id.0..id.0 + count).map(ComponentId).collect(),
                    _ => Vec::new(),
                };
                let node = |id: ComponentId| Some((design.node(id, design.kind_of(id).property(&line.name.text)?), Some(id)));
                ids.into_iter().filter_map(node).collect()
            }
        }
    }

    /// The findings that point to a stretch of the text.
    pub fn findings_at(&self, span: Span) -> impl Iterator<Item = &Finding> {
        let within = move |place: &Span| place.file == span.file && span.start <= place.start && place.end <= span.end;
        self.findings().iter().map(Rc::as_ref).filter(move |finding| finding.places.iter().any(|place| within(&place.span)))
    }
}

/// Whether a stretch holds an offset or ends there.
#[must_use]
pub fn touches(span: Span, offset: u32) -> bool {
    span.start <= offset && offset <= span.end
}

/// Where a top-level statement stands.
#[must_use]
pub fn item_span(item: &Item) -> Span {
    item.span()
}
