//! A design on the desk: read, checked, and ready to be asked about a place.

use crate::design::{Choice, ComponentId, Design, NodeId};
use crate::problem::Problem;
use crate::rules::{Finding, Options};
use crate::session::{Session, Shelf};
use crate::syntax::tree::{Component, Item, Let, Line, Tree};
use crate::text::{FileId, Source, Span};
use crate::values::Halt;

/// A design with what was found in it.
pub struct Desk {
    /// The design.
    pub session: Session,
    /// What the rules found.
    pub findings: Vec<Finding>,
    /// What is wrong with the text.
    pub problems: Vec<Problem>,
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
    /// Reads and checks a design.
    ///
    /// `halt` ends the work where nobody waits for it any more: call it below [`crate::values::unless_halted`].
    #[must_use]
    pub fn read(files: Vec<Source>, shelf: &dyn Shelf, options: &Options, halt: &Halt) -> Desk {
        let session = Session::read_heeding(files, shelf, &Choice::default(), halt);
        let findings = session.check(options);
        // After the rules: working them out can find mistakes in the text too.
        let problems = session.problems();
        Desk { session, findings, problems }
    }

    /// The design.
    #[must_use]
    pub fn design(&self) -> &Design {
        self.session.design()
    }

    /// The file that is shown under a name.
    #[must_use]
    pub fn file(&self, name: &str) -> Option<FileId> {
        self.session.sources.own().find(|(_, source)| source.name == name).map(|(id, _)| id)
    }

    /// The tree of a file of the person's own.
    #[must_use]
    pub fn tree(&self, file: FileId) -> Option<&Tree> {
        self.session.trees.iter().find(|(id, _)| *id == file).map(|(_, tree)| tree.as_ref())
    }

    /// The top-level statement at an offset.
    #[must_use]
    pub fn item(&self, file: FileId, offset: u32) -> Option<&Item> {
        self.tree(file)?.items.iter().find(|item| touches(item_span(item), offset))
    }

    /// The line at an offset.
    #[must_use]
    pub fn line(&self, file: FileId, offset: u32) -> Option<Written<'_>> {
        match self.item(file, offset)? {
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
        self.findings.iter().filter(move |finding| finding.places.iter().any(|place| within(&place.span)))
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
    match item {
        Item::Use(one) => one.span,
        Item::Let(one) => one.span,
        Item::Component(one) | Item::Pattern(one) => one.span,
        Item::Variant(one) => one.span,
        Item::Measured(one) => one.span,
        Item::Accept(one) => one.span,
        Item::Kind(one) => one.span,
        Item::Rule(one) => one.span,
        Item::Paper(one) => one.block.span,
        Item::Broken(span) => *span,
    }
}
