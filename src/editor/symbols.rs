//! What a file and a folder are made of: the outline, and names to jump to.

use super::desk::{Desk, item_span};
use crate::syntax::tree::{Item, Word};
use crate::text::{FileId, Sources, Span};

/// What sort of thing stands in an outline.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sort {
    /// A component.
    Component,
    /// An array of components.
    Array,
    /// A named value.
    Named,
    /// A pattern.
    Pattern,
    /// A variant, measurements, an acceptance.
    Block,
    /// A kind.
    Kind,
    /// A property of a kind.
    Property,
    /// A rule.
    Rule,
    /// What a `use` takes in.
    Taken,
}

/// An entry of an outline.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// Its name.
    pub name: String,
    /// What it is, in a few words.
    pub detail: String,
    /// What sort of thing.
    pub sort: Sort,
    /// All of it.
    pub span: Span,
    /// Its name's place.
    pub name_span: Span,
    /// What it is made of.
    pub children: Vec<Entry>,
}

impl Entry {
    /// With the places of the file in place of those of its statement.
    pub fn settle(&mut self, sources: &Sources) {
        self.span = sources.settle(self.span);
        self.name_span = sources.settle(self.name_span);
        self.children.iter_mut().for_each(|child| child.settle(sources));
    }
}

/// The outline of a file, in the order of the text.
#[must_use]
pub fn outline(desk: &Desk, file: FileId) -> Vec<Entry> {
    desk.items(file).filter_map(entry).collect()
}

/// The entries of a whole design whose name holds all letters of `asked` in their order.
#[must_use]
pub fn named_like(desk: &Desk, asked: &str) -> Vec<Entry> {
    let fits = |name: &str| {
        let mut letters = name.chars().flat_map(char::to_lowercase);
        asked.chars().flat_map(char::to_lowercase).all(|wanted| letters.any(|letter| letter == wanted))
    };
    desk.all_items().filter_map(entry).filter(|entry| entry.sort != Sort::Taken && fits(&entry.name)).collect()
}

fn entry(item: &Item) -> Option<Entry> {
    let span = item_span(item);
    let of = |name: &Word, sort: Sort, detail: String| Entry {
        name: name.text.to_string(),
        detail,
        sort,
        span,
        name_span: name.span,
        children: Vec::new(),
    };
    Some(match item {
        Item::Use(line) => of(&line.target, Sort::Taken, "use".to_owned()),
        Item::Let(line) => of(&line.name, Sort::Named, "let".to_owned()),
        Item::Component(block) | Item::Pattern(block) => {
            let mut detail = block.kind.text.to_string();
            if let Some(title) = &block.title {
                detail.push_str(&format!(", {}", title.text));
            }
            let sort = match item {
                Item::Pattern(_) => Sort::Pattern,
                _ if block.elements.is_some() => Sort::Array,
                _ => Sort::Component,
            };
            let mut entry = of(block.name.as_ref().unwrap_or(&block.kind), sort, detail);
            if let Some((first, last, _)) = block.elements {
                entry.name.push_str(&format!("[{first}..{last}]"));
            }
            entry
        }
        Item::Variant(variant) => of(&variant.name, Sort::Block, "variant".to_owned()),
        Item::Measured(measured) => Entry {
            name: measured.date.to_string(),
            detail: "measured".to_owned(),
            sort: Sort::Block,
            span,
            name_span: measured.date_span,
            children: Vec::new(),
        },
        Item::Accept(accept) => of(&accept.rule, Sort::Block, "accept".to_owned()),
        Item::Kind(kind) | Item::Formula(kind) | Item::Table(kind) => {
            let mut entry = of(&kind.name, Sort::Kind, "kind".to_owned());
            entry.children = kind
                .properties
                .iter()
                .map(|property| Entry {
                    name: property.name.text.to_string(),
                    detail: property.doc.as_ref().map(|doc| doc.text.to_string()).unwrap_or_default(),
                    sort: Sort::Property,
                    span: property.span,
                    name_span: property.name.span,
                    children: Vec::new(),
                })
                .collect();
            entry
        }
        Item::Words(words) => of(&words.block.name, Sort::Block, words.sort.text.to_string()),
        Item::Rule(rule) => {
            let mut entry = of(&rule.name, Sort::Rule, rule.title.as_ref().map(|title| title.text.to_string()).unwrap_or_default());
            rule.also.iter().for_each(|name| entry.name.push_str(&format!(", {}", name.text)));
            entry
        }
        Item::Paper(paper) => {
            let title = paper.block.title.as_ref().map(|title| format!(", {}", title.text)).unwrap_or_default();
            of(&paper.block.name, Sort::Block, format!("{}{title}", paper.sort.text))
        }
        Item::Broken(..) => return None,
    })
}
