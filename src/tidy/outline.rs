//! What a syntax tree says, without where it stands: equal for two texts that differ in layout only.

use crate::syntax::tree::{
    Binder, Changes, Component, Expr, Item, Kind, Let, Line, Node, Property, PropertyType, Rule, TemplatePart, Tree, Word,
};
use std::fmt::Write;

/// A text that is the same for two trees if, and only if, they differ in nothing but places and comments.
#[must_use]
pub fn outline(tree: &Tree) -> String {
    let mut outline = Outline(String::new());
    for item in &tree.items {
        outline.item(item);
    }
    outline.0
}

struct Outline(String);

impl Outline {
    fn put(&mut self, what: impl std::fmt::Debug) {
        // Writing into a string cannot fail.
        let _ = write!(self.0, "{what:?} ");
    }

    fn word(&mut self, word: &Word) {
        self.put(&word.text);
    }

    fn words(&mut self, words: &[Word]) {
        self.put(words.len());
        words.iter().for_each(|word| self.word(word));
    }

    fn maybe(&mut self, word: Option<&Word>) {
        self.put(word.map(|word| &word.text));
    }

    fn item(&mut self, item: &Item) {
        match item {
            Item::Use(line) => {
                self.put(("use", line.is_file));
                self.word(&line.target);
            }
            Item::Let(line) => self.let_line(line),
            Item::Component(component) => self.component("component", component),
            Item::Pattern(component) => self.component("pattern", component),
            Item::Variant(variant) => {
                self.put("variant");
                self.word(&variant.name);
                self.maybe(variant.title.as_ref());
                self.changes(&variant.changes);
            }
            Item::Measured(measured) => {
                self.put(("measured", measured.date));
                self.maybe(measured.title.as_ref());
                self.changes(&measured.changes);
            }
            Item::Accept(accept) => {
                self.put("accept");
                self.word(&accept.rule);
                self.lines(&accept.lines);
            }
            Item::Kind(kind) => self.declared("kind", kind),
            Item::Formula(formula) => self.declared("formula", formula),
            Item::Table(table) => self.declared("table", table),
            Item::Words(words) => self.declared(&words.sort.text, &words.block),
            Item::Rule(rule) => {
                self.put("rule");
                self.rule(rule);
            }
            Item::Paper(paper) => {
                self.word(&paper.sort);
                self.rule(&paper.block);
            }
            Item::Broken(..) => self.put("broken"),
        }
        self.0.push('\n');
    }

    fn component(&mut self, what: &str, component: &Component) {
        self.put(what);
        self.word(&component.kind);
        self.maybe(component.name.as_ref());
        self.put(component.elements.map(|(first, last, _)| (first, last)));
        self.maybe(component.title.as_ref());
        self.maybe(component.like.as_ref());
        self.lines(&component.lines);
    }

    fn declared(&mut self, what: &str, kind: &Kind) {
        self.put(what);
        self.word(&kind.name);
        self.maybe(kind.title.as_ref());
        self.lines(&kind.facts);
        self.put(kind.lets.len());
        kind.lets.iter().for_each(|line| self.let_line(line));
        self.put(kind.properties.len());
        kind.properties.iter().for_each(|property| self.property(property));
    }

    fn rule(&mut self, rule: &Rule) {
        self.word(&rule.name);
        rule.also.iter().for_each(|name| self.word(name));
        self.maybe(rule.title.as_ref());
        if let Some(repeated) = &rule.repeated {
            self.put("for");
            self.word(&repeated.name);
            repeated.words.iter().for_each(|word| self.word(word));
        }
        self.put(rule.each.len());
        rule.each.iter().for_each(|binder| self.binder(binder));
        self.put(rule.lets.len());
        rule.lets.iter().for_each(|line| self.let_line(line));
        self.lines(&rule.lines);
    }

    fn lines(&mut self, lines: &[Line]) {
        self.put(lines.len());
        for line in lines {
            self.word(&line.name);
            self.expr(&line.value);
            self.put(line.guessed.is_some());
        }
    }

    fn let_line(&mut self, line: &Let) {
        self.put("let");
        self.word(&line.name);
        self.expr(&line.value);
        self.put(line.guessed.is_some());
    }

    fn changes(&mut self, changes: &Changes) {
        self.put((changes.components.len(), changes.lets.len()));
        for change in &changes.components {
            self.word(&change.name);
            self.put(change.element);
            self.lines(&change.lines);
        }
        changes.lets.iter().for_each(|line| self.let_line(line));
    }

    fn property(&mut self, property: &Property) {
        self.word(&property.name);
        match &property.ty {
            PropertyType::Plain(word) => self.typed("plain", std::slice::from_ref(word)),
            PropertyType::Link { many: false, kinds } => self.typed("link", kinds),
            PropertyType::Link { many: true, kinds } => self.typed("links", kinds),
            PropertyType::OneOf(words) => self.typed("one of", words),
            PropertyType::ListOf(word) => self.typed("list", std::slice::from_ref(word)),
            PropertyType::RangeOf(word) => self.typed("range", std::slice::from_ref(word)),
            PropertyType::SizeOf(word) => self.typed("size", std::slice::from_ref(word)),
            PropertyType::As(word) => self.typed("as", std::slice::from_ref(word)),
            PropertyType::ItemOf(word) => self.typed("item", std::slice::from_ref(word)),
            PropertyType::RootOf(word) => self.typed("root", std::slice::from_ref(word)),
        }
        self.put((property.required, property.default.is_some()));
        if let Some(default) = &property.default {
            self.expr(default);
        }
        self.maybe(property.assumed.as_ref());
        self.words(&property.carrying);
        self.put(property.bounds.len());
        for (word, limit) in &property.bounds {
            self.word(word);
            self.expr(limit);
        }
        self.put(property.usual.len());
        for usual in &property.usual {
            self.expr(&usual.range);
            self.word(&usual.because);
        }
        self.maybe(property.doc.as_ref());
        self.maybe(property.found.as_ref());
        self.maybe(property.source.as_ref());
        self.put(property.when.is_some());
        if let Some(condition) = &property.when {
            self.expr(condition);
        }
    }

    fn typed(&mut self, what: &str, words: &[Word]) {
        self.put(what);
        self.words(words);
    }

    fn binder(&mut self, binder: &Binder) {
        self.word(&binder.name);
        self.expr(&binder.source);
        self.put(binder.condition.is_some());
        if let Some(condition) = &binder.condition {
            self.expr(condition);
        }
    }

    /// Each part outermost first, with how many parts follow it: that is enough to tell two expressions apart.
    fn expr(&mut self, expr: &Expr) {
        let mut parts = Vec::new();
        expr.walk(&mut |part| parts.push(part));
        for part in parts {
            self.part(part);
        }
    }

    fn part(&mut self, expr: &Expr) {
        match &expr.node {
            Node::Quantity(parts) => {
                self.put(("quantity", parts.len()));
                for part in parts {
                    self.put(part.number.text());
                    self.maybe(part.unit.as_ref());
                }
            }
            Node::Date(date) => self.put(date),
            Node::Text(text) => self.put(("text", text)),
            Node::Template(pieces) => {
                self.put(("template", pieces.len()));
                for piece in pieces {
                    match piece {
                        TemplatePart::Text(text) => self.put(Some(text)),
                        TemplatePart::Value(_) => self.put(None::<()>),
                    }
                }
            }
            Node::Flag(flag) => self.put(flag),
            Node::Name(name) => self.put(("name", name)),
            Node::Field(_, word) => self.put(("field", &word.text)),
            Node::Index(..) => self.put("index"),
            Node::Call(name, arguments) => {
                self.put(("call", &name.text, arguments.len()));
                arguments.iter().for_each(|argument| self.maybe(argument.name.as_ref()));
            }
            Node::Aggregate { name, binders, .. } => {
                self.put(("aggregate", &name.text, binders.len()));
                for binder in binders {
                    self.put((&binder.name.text, binder.condition.is_some()));
                }
            }
            Node::Unary(operator, _) => self.put(operator),
            Node::Binary(operator, ..) => self.put(operator),
            Node::If(..) => self.put("if"),
            Node::Range(..) => self.put("range"),
            Node::Size(parts) => self.put(("size", parts.len())),
            Node::List(parts) => self.put(("list", parts.len())),
            Node::Tolerance { down, .. } => self.put(("tolerance", down.is_some())),
            Node::In(_, unit) => self.put(("in", &unit.text)),
        }
    }
}
