//! Every word of a design that names something, with what it names: for going there, renaming, colours.

use super::desk::{Desk, Spot, item_span, touches};
use crate::design::{Design, Entry, KindId, Meaning, Meant, Stands};
use crate::syntax::tree::{Changes, Component, Expr, Item, Line, Node, PropertyType, Word};
use crate::text::{FileId, Span};
use smol_str::SmolStr;

/// What a word names.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Symbol {
    /// A component, an array or a named value.
    Entry(SmolStr),
    /// A pattern.
    Pattern(SmolStr),
    /// A variant.
    Variant(SmolStr),
    /// A kind of component.
    Kind(SmolStr),
    /// A property of a kind.
    Property(SmolStr, SmolStr),
    /// A word that a property may be.
    Choice(SmolStr),
    /// A name that is bound where it stands.
    Local(SmolStr),
    /// A function.
    Function(SmolStr),
    /// A rule.
    Rule(SmolStr),
    /// A catalogue.
    Catalogue(SmolStr),
    /// Another file.
    File(SmolStr),
    /// A unit.
    Unit(SmolStr),
}

impl Symbol {
    /// The word itself.
    #[must_use]
    pub fn name(&self) -> &SmolStr {
        match self {
            Symbol::Entry(name)
            | Symbol::Pattern(name)
            | Symbol::Variant(name)
            | Symbol::Kind(name)
            | Symbol::Property(_, name)
            | Symbol::Choice(name)
            | Symbol::Local(name)
            | Symbol::Function(name)
            | Symbol::Rule(name)
            | Symbol::Catalogue(name)
            | Symbol::File(name)
            | Symbol::Unit(name) => name,
        }
    }
}

/// A word that names something.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Use {
    /// Where it stands.
    pub span: Span,
    /// What it names.
    pub symbol: Symbol,
    /// It is here that the thing gets its name.
    pub defines: bool,
}

impl Desk {
    /// The word at an offset that names something.
    #[must_use]
    pub fn use_at(&self, file: FileId, offset: u32) -> Option<Use> {
        let (item, Spot { offset, .. }) = self.item(file, offset)?;
        // Of two that touch the offset the one that begins there, and of several the shortest.
        let mut found: Vec<Use> = uses_of(self.design(), item).into_iter().filter(|one| touches(one.span, offset)).collect();
        found.sort_by_key(|one| (one.span.end == offset, one.span.end - one.span.start));
        found.into_iter().next()
    }

    /// All words of the person's own files that name something.
    #[must_use]
    pub fn all_uses(&self) -> Vec<Use> {
        self.all_items().flat_map(|item| uses_of(self.design(), item)).collect()
    }

    /// All words of a file that name something.
    #[must_use]
    pub fn uses_in(&self, file: FileId) -> Vec<Use> {
        self.items(file).flat_map(|item| uses_of(self.design(), item)).collect()
    }

    /// Where a symbol gets its name; nothing for what the language itself knows.
    #[must_use]
    pub fn definition(&self, symbol: &Symbol) -> Option<Span> {
        let design = self.design();
        match symbol {
            Symbol::Entry(name) => match design.entry(name)? {
                Entry::Component(id) | Entry::Array(id, ..) => Some(design.component(id).name_span),
                Entry::Named(at) => design.named.get(at).map(|named| named.name_span),
            },
            Symbol::Kind(name) => design.kind_named(name).map(|kind| design.kind(kind).name_span),
            Symbol::Property(kind, name) => {
                let kind = design.kind(design.kind_named(kind)?);
                kind.properties.get(kind.property(name)?).map(|property| property.span)
            }
            Symbol::Rule(name) => design.rule(name).map(|rule| rule.name_span),
            Symbol::Pattern(_) | Symbol::Variant(_) => {
                self.all_uses().into_iter().find(|one| one.defines && one.symbol == *symbol).map(|one| one.span)
            }
            Symbol::File(_) | Symbol::Catalogue(_) | Symbol::Choice(_) | Symbol::Local(_) | Symbol::Function(_) | Symbol::Unit(_) => None,
        }
    }

    /// All places of a symbol in the person's own files; of a name that is bound where it stands, those of its block.
    #[must_use]
    pub fn references(&self, symbol: &Symbol, from: &Use) -> Vec<Use> {
        let all = match symbol {
            Symbol::Local(_) => {
                let holds = |item: &&Item| item_span(item).file == from.span.file && touches(item_span(item), from.span.start);
                let own = self.all_items().chain(self.items(from.span.file).filter(|_| from.span.file.is_built_in())).find(holds);
                own.map(|item| uses_of(self.design(), item)).unwrap_or_default()
            }
            _ => self.all_uses(),
        };
        all.into_iter().filter(|one| one.symbol == *symbol).collect()
    }
}

/// The words of a top-level statement that name something, in the order of the text.
#[must_use]
pub fn uses_of(design: &Design, item: &Item) -> Vec<Use> {
    let mut gather = Gather { design, found: Vec::new() };
    gather.item(item);
    let mut found = gather.found;
    found.retain(|one| one.span.file == item_span(item).file);
    found.sort_by_key(|one| (one.span.start, one.span.end));
    found.dedup_by_key(|one| one.span);
    found
}

struct Gather<'d> {
    design: &'d Design,
    found: Vec<Use>,
}

impl Gather<'_> {
    fn put(&mut self, word: &Word, symbol: Symbol, defines: bool) {
        self.found.push(Use { span: word.span, symbol, defines });
    }

    fn item(&mut self, item: &Item) {
        match item {
            Item::Use(line) => {
                let symbol = if line.is_file { Symbol::File } else { Symbol::Catalogue };
                self.put(&line.target, symbol(line.target.text.clone()), false);
            }
            Item::Let(line) => {
                self.put(&line.name, Symbol::Entry(line.name.text.clone()), true);
                self.expr(&line.value, Stands::Alone);
            }
            Item::Component(block) => self.block(block, false),
            Item::Pattern(block) => self.block(block, true),
            Item::Variant(variant) => {
                self.put(&variant.name, Symbol::Variant(variant.name.text.clone()), true);
                self.changes(&variant.changes);
            }
            Item::Measured(measured) => self.changes(&measured.changes),
            Item::Accept(accept) => {
                self.put(&accept.rule, Symbol::Rule(accept.rule.text.clone()), false);
                for line in accept.lines.iter().filter(|line| line.name.text == "on") {
                    line.value.walk(&mut |expr| {
                        if let Node::Name(name) = &expr.node {
                            self.found.push(Use { span: expr.span, symbol: Symbol::Entry(name.clone()), defines: false });
                        }
                    });
                }
            }
            Item::Kind(kind) => self.kind(kind),
            Item::Rule(rule) => {
                for name in std::iter::once(&rule.name).chain(&rule.also) {
                    self.put(name, Symbol::Rule(name.text.clone()), true);
                }
                let meanings = self.design.meanings_of_rule(rule);
                self.take(meanings);
                rule.lets.iter().for_each(|line| self.units(&line.value));
                rule.lines.iter().for_each(|line| self.units(&line.value));
            }
            Item::Paper(paper) => {
                let meanings = self.design.meanings_of_rule(&paper.block);
                self.take(meanings);
                paper.block.lets.iter().for_each(|line| self.units(&line.value));
                paper.block.lines.iter().for_each(|line| self.units(&line.value));
            }
            Item::Formula(_) | Item::Table(_) | Item::Words(_) | Item::Broken(..) => {}
        }
    }

    fn block(&mut self, block: &Component, pattern: bool) {
        self.put(&block.kind, Symbol::Kind(block.kind.text.clone()), false);
        if let Some(name) = &block.name {
            let symbol = if pattern { Symbol::Pattern } else { Symbol::Entry };
            self.put(name, symbol(name.text.clone()), true);
        }
        if let Some(like) = &block.like {
            self.put(like, Symbol::Pattern(like.text.clone()), false);
        }
        if let Some(kind) = self.design.kind_named(&block.kind.text) {
            self.lines(kind, &block.lines, pattern || block.elements.is_some());
        }
    }

    fn lines(&mut self, kind: KindId, lines: &[Line], in_array: bool) {
        for line in lines {
            if let Some(property) = self.design.kind(kind).property(&line.name.text) {
                let symbol = Symbol::Property(self.design.kind(kind).name.clone(), line.name.text.clone());
                self.put(&line.name, symbol, false);
                self.expr(&line.value, Stands::Line(kind, property, in_array));
            }
        }
    }

    fn changes(&mut self, changes: &Changes) {
        for change in &changes.components {
            self.put(&change.name, Symbol::Entry(change.name.text.clone()), false);
            if let Some(Entry::Component(id) | Entry::Array(id, ..)) = self.design.entry(&change.name.text) {
                let in_array = self.design.component(id).element.is_some();
                self.lines(self.design.component(id).kind, &change.lines, in_array);
            }
        }
        for line in &changes.lets {
            self.put(&line.name, Symbol::Entry(line.name.text.clone()), false);
            self.expr(&line.value, Stands::Alone);
        }
    }

    fn kind(&mut self, kind: &crate::syntax::tree::Kind) {
        self.put(&kind.name, Symbol::Kind(kind.name.text.clone()), true);
        let Some(id) = self.design.kind_named(&kind.name.text) else { return };
        for line in &kind.lets {
            self.found.push(Use { span: line.name.span, symbol: Symbol::Local(line.name.text.clone()), defines: false });
            self.expr(&line.value, Stands::Step(id));
        }
        for property in &kind.properties {
            self.put(&property.name, Symbol::Property(kind.name.text.clone(), property.name.text.clone()), true);
            match &property.ty {
                PropertyType::Link { kinds, .. } => kinds.iter().for_each(|word| self.put(word, Symbol::Kind(word.text.clone()), false)),
                PropertyType::OneOf(words) => words.iter().for_each(|word| self.put(word, Symbol::Choice(word.text.clone()), false)),
                _ => {}
            }
            let Some(at) = self.design.kind(id).property(&property.name.text) else { continue };
            let usual = property.usual.iter().map(|usual| &usual.range);
            for expr in property.default.iter().chain(property.bounds.iter().map(|(_, limit)| limit)).chain(usual) {
                self.expr(expr, Stands::Declared(id, at));
            }
        }
    }

    fn expr(&mut self, expr: &Expr, stands: Stands) {
        let meanings = self.design.meanings(expr, stands);
        self.take(meanings);
        self.units(expr);
    }

    fn take(&mut self, meanings: Vec<Meant>) {
        for Meant { span, word, meaning } in meanings {
            let symbol = match meaning {
                Meaning::Entry(_) | Meaning::Unreadable => Symbol::Entry(word),
                Meaning::Kind(kind) => Symbol::Kind(self.design.kind(kind).name.clone()),
                Meaning::Property(kind, at) => {
                    let kind = self.design.kind(kind);
                    let Some(property) = kind.properties.get(at) else { continue };
                    Symbol::Property(kind.name.clone(), property.name.clone())
                }
                Meaning::Choice => Symbol::Choice(word),
                Meaning::Bound(_) | Meaning::Today | Meaning::This | Meaning::Index | Meaning::Constant(_) => Symbol::Local(word),
                Meaning::Function => Symbol::Function(word),
            };
            self.found.push(Use { span, symbol, defines: false });
        }
    }

    fn units(&mut self, expr: &Expr) {
        expr.walk(&mut |inner| match &inner.node {
            Node::Quantity(parts) => {
                for unit in parts.iter().filter_map(|part| part.unit.as_ref()) {
                    self.found.push(Use { span: unit.span, symbol: Symbol::Unit(unit.text.clone()), defines: false });
                }
            }
            Node::In(_, unit) => self.found.push(Use { span: unit.span, symbol: Symbol::Unit(unit.text.clone()), defines: false }),
            _ => {}
        });
    }
}
