//! A design on the desk: read, checked, and ready to be asked about a place.

use crate::design::{ComponentId, Design, NodeId};
use crate::problem::Problem;
use crate::rules::{Finding, Options};
use crate::session::{Draft, Session, Shelf};
use crate::syntax::tree::{Comment, Component, Item, Let, Line};
use crate::syntax::{self, Token};
use crate::text::{FileId, Source, Sources, Span};
use crate::trade;
use crate::values::Halt;
use rustc_hash::FxHashMap;
use std::cell::RefCell;
use std::rc::Rc;

/// A design with what was found in it.
#[derive(Default)]
pub struct Desk {
    draft: Draft,
    /// What is wrong with the text.
    pub problems: Vec<Problem>,
    /// Those of them that are known before anything is worked out.
    pub problems_of_text: Vec<Problem>,
    /// The tokens of fragments that somebody has asked for.
    tokens: RefCell<FxHashMap<FileId, Rc<[Token]>>>,
}

/// A place as the places of a statement count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spot {
    /// The fragment of the text.
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
        self.take(files, shelf, halt);
        self.work_out(options);
    }

    /// Reads a design: what is wrong with its words is among its problems then.
    pub fn take(&mut self, files: Vec<Source>, shelf: &dyn Shelf, halt: &Halt) {
        self.draft.take(files, shelf, halt);
        self.problems_of_text = self.draft.session().problems_of_text();
        let sources = &self.draft.session().sources;
        self.tokens.get_mut().retain(|fragment, _| sources.fragment(*fragment).is_some());
    }

    /// Works out what it says and checks it.
    pub fn work_out(&mut self, options: &Options) {
        self.draft.work_out(options);
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

    /// A file of the design or of the library.
    #[must_use]
    pub fn source(&self, file: FileId) -> Option<&Source> {
        let in_library = || trade::part(file).map(|part| part.as_source().as_ref());
        self.sources().get(file).or_else(in_library)
    }

    /// The top-level statements of a file in order. Their places count from the beginning of each; in the library from
    /// that of the file.
    pub fn items(&self, file: FileId) -> impl Iterator<Item = &Item> {
        let in_library = trade::part(file).into_iter().flat_map(|part| &part.as_tree().items);
        self.draft.statements(file).flat_map(|(_, tree)| &tree.items).chain(in_library)
    }

    /// The whole stretch of a top-level statement in its file: the place of a broken one is only that of the mistake.
    #[must_use]
    pub fn whole(&self, item: &Item) -> Span {
        let span = item_span(item);
        self.sources().fragment(span.file).map_or(span, |fragment| Span { file: fragment.file, start: fragment.start, end: fragment.end })
    }

    /// The tokens of a top-level statement.
    pub fn tokens(&self, item: &Item) -> Rc<[Token]> {
        let span = item_span(item);
        let read = || -> Rc<[Token]> {
            let whole = self.whole(item);
            let text = self.source(whole.file).and_then(|source| source.text.get(whole.start as usize..whole.end as usize));
            let text = text.unwrap_or_default();
            // The places of a fragment count from its own beginning.
            let from = if span.file.is_fragment() { 0 } else { whole.start };
            let place = |token: Token| Span { file: span.file, start: from + token.span.start, end: from + token.span.end };
            syntax::tokens(text).into_iter().map(|token| Token { span: place(token), ..token }).collect()
        };
        if !span.file.is_fragment() {
            return read();
        }
        Rc::clone(self.tokens.borrow_mut().entry(span.file).or_insert_with(read))
    }

    /// The top-level statements of all files.
    pub fn all_items(&self) -> impl Iterator<Item = &Item> {
        self.session().trees.iter().flat_map(|(_, tree)| &tree.items)
    }

    /// The comments of a file.
    #[must_use]
    pub fn comments(&self, file: FileId) -> &[Comment] {
        trade::part(file).map_or_else(|| self.draft.comments(file), |part| &part.as_tree().comments)
    }

    /// The top-level statement at a place, with that place as its own places count.
    #[must_use]
    pub fn item(&self, file: FileId, offset: u32) -> Option<(&Item, Spot)> {
        if file.is_built_in() {
            return self.items(file).find(|item| touches(item_span(item), offset)).map(|item| (item, Spot { file, offset }));
        }
        let (fragment, offset) = self.sources().fragment_at(file, offset)?;
        let (_, tree) = self.session().trees.iter().find(|(id, _)| *id == fragment)?;
        Some((tree.items.first()?, Spot { file: fragment, offset }))
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
