//! Every single slip that a design can have, each as one change of its text: of a line, its numbers and its links here, of
//! whole blocks in `blocks.rs`, what a slip does to the figures of a number in `figures.rs`.

use super::figures::{other_unit, swapped};
use std::collections::BTreeSet;
use std::ops::Range;
use wallplate::design::{Choice, ComponentId, Design, Entry, KindId, Type};
use wallplate::session::{NoShelf, Session};
use wallplate::syntax::tree::{Binary, Component, Expr, Item, Line, Node, Part, Unary};
use wallplate::text::{Source, Span};

/// What sort of slip it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sort {
    LeftOut,
    TimesTen,
    ByTen,
    Swapped,
    Unit,
    Copied,
    Sign,
    Link,
    BlockOut,
    Doubled,
    Moved,
    Mirrored,
}

impl Sort {
    pub const ALL: [Sort; 12] = [
        Sort::LeftOut,
        Sort::TimesTen,
        Sort::ByTen,
        Sort::Swapped,
        Sort::Unit,
        Sort::Copied,
        Sort::Sign,
        Sort::Link,
        Sort::BlockOut,
        Sort::Doubled,
        Sort::Moved,
        Sort::Mirrored,
    ];

    pub fn words(self) -> &'static str {
        match self {
            Sort::LeftOut => "left out",
            Sort::TimesTen => "ten times",
            Sort::ByTen => "a tenth",
            Sort::Swapped => "digits swapped",
            Sort::Unit => "another unit",
            Sort::Copied => "copied",
            Sort::Sign => "sign turned",
            Sort::Link => "link turned",
            Sort::BlockOut => "block left out",
            Sort::Doubled => "block doubled",
            Sort::Moved => "moved",
            Sort::Mirrored => "mirrored",
        }
    }
}

/// One slip.
#[derive(Debug, Clone)]
pub struct Slip {
    pub sort: Sort,
    /// Kind and property: `clamp.sideways`.
    pub about: String,
    /// Which one, without the number of its line, so that it can be told again: `side_clamp: 2.5 kN -> 25 kN`.
    pub told: String,
    pub range: Range<usize>,
    pub new: String,
    /// Where it can be seen: the variant or the measured state in which it stands.
    pub choice: Choice,
}

impl Slip {
    pub fn made_in(&self, text: &str) -> String {
        format!("{}{}{}", &text[..self.range.start], self.new, &text[self.range.end..])
    }
}

/// All slips of a design, in the order of its text.
pub fn slips(name: &str, text: &str) -> Vec<Slip> {
    let session = Session::read(vec![Source::new(name, text)], &NoShelf, &Choice::default());
    let maker = Maker { text, design: session.design(), found: Vec::new() };
    maker.all(session.trees.iter().flat_map(|(_, tree)| &tree.items))
}

pub(super) struct Maker<'t> {
    pub(super) text: &'t str,
    pub(super) design: &'t Design,
    pub(super) found: Vec<Slip>,
}

/// Where a value stands.
pub(super) struct Place<'t> {
    pub(super) about: String,
    pub(super) told: String,
    pub(super) value: &'t Expr,
    pub(super) choice: Choice,
}

pub(super) fn range(span: Span) -> Range<usize> {
    span.start as usize..span.end as usize
}

/// A number as one writes it.
fn plain(number: f64) -> String {
    let text = format!("{number:.9}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

impl<'t> Maker<'t> {
    fn all(mut self, items: impl Iterator<Item = &'t Item>) -> Vec<Slip> {
        let items: Vec<&'t Item> = items.collect();
        self.blocks(&items);
        for item in items {
            match item {
                Item::Use(one) => self.left_out(one.span, "use".to_owned(), one.target.text.to_string(), &Choice::default()),
                Item::Let(one) => {
                    let (about, told) = ("let".to_owned(), one.name.text.to_string());
                    self.left_out(one.span, about.clone(), told.clone(), &Choice::default());
                    self.numbers(&Place { about, told, value: &one.value, choice: Choice::default() });
                }
                Item::Component(one) | Item::Pattern(one) => self.component(one),
                Item::Accept(one) => {
                    for line in &one.lines {
                        self.line("accept", &one.rule.text, None, line, &Choice::default());
                    }
                }
                Item::Variant(one) => {
                    let choice = Choice { variant: Some(one.name.text.clone()), ..Choice::default() };
                    one.changes.components.iter().for_each(|change| self.change("variant", &change.name.text, &change.lines, &choice));
                }
                Item::Measured(one) => {
                    let choice = Choice { as_built: true, ..Choice::default() };
                    one.changes.components.iter().for_each(|change| self.change("measured", &change.name.text, &change.lines, &choice));
                }
                _ => {}
            }
        }
        self.found
    }

    fn component(&mut self, one: &'t Component) {
        let kind = one.kind.text.as_str();
        let name = one.name.as_ref().map_or(kind, |name| name.text.as_str());
        if !self.text[range(one.span)].contains('\n') {
            self.left_out(one.span, kind.to_owned(), name.to_owned(), &Choice::default());
        }
        for line in &one.lines {
            self.line(kind, name, self.design.kind_named(kind), line, &Choice::default());
        }
    }

    fn change(&mut self, built: &str, name: &'t str, lines: &'t [Line], choice: &Choice) {
        let Some(Entry::Component(id) | Entry::Array(id, ..)) = self.design.entry(name) else { return };
        let kind = self.design.component(id).kind;
        let told = format!("{built} {}", self.design.kind(kind).name);
        for line in lines {
            self.line(&told, name, Some(kind), line, choice);
        }
    }

    fn line(&mut self, kind: &str, name: &str, id: Option<KindId>, line: &'t Line, choice: &Choice) {
        let (about, told) = (format!("{kind}.{}", line.name.text), name.to_owned());
        self.left_out(line.span, about.clone(), told.clone(), choice);
        let place = Place { about, told, value: &line.value, choice: choice.clone() };
        self.numbers(&place);
        let property = id.and_then(|id| Some(&self.design.kind(id).properties[self.design.kind(id).property(&line.name.text)?]));
        if let Some(Type::Link { kinds, .. }) = property.map(|property| &property.ty) {
            self.links(&place, kinds);
        }
    }

    /// A statement taken out, with the `;` that parts it from the next one.
    fn left_out(&mut self, span: Span, about: String, told: String, choice: &Choice) {
        let mut range = range(span);
        let written: Vec<&str> = self.text[range.clone()].split('#').next().unwrap_or_default().split_whitespace().collect();
        let (before, after) = (self.text[..range.start].trim_end(), self.text[range.end..].trim_start_matches(' '));
        if after.starts_with(';') {
            range.end = self.text.len() - after.len() + 1;
        } else if before.ends_with(';') {
            range.start = before.len() - 1;
        }
        let told = format!("{told}: {}", written.join(" "));
        self.found.push(Slip { sort: Sort::LeftOut, about, told, range, new: String::new(), choice: choice.clone() });
    }

    pub(super) fn push(&mut self, sort: Sort, place: &Place<'_>, range: Range<usize>, new: String) {
        // What the value reads before and after, on one line; of a long list the item with its number.
        let whole = self::range(place.value.span);
        let item = match &place.value.node {
            Node::List(items) if items.len() > 4 => {
                (1..).zip(items).map(|(at, item)| (format!("[{at}]"), self::range(item.span))).find(|(_, item)| item.end >= range.end)
            }
            _ => None,
        };
        let (at, whole) = item.unwrap_or((String::new(), whole));
        let told = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        let after = format!("{}{new}{}", &self.text[whole.start..range.start], &self.text[range.end..whole.end]);
        let told = format!("{}{at}: {} -> {}", place.told, told(&self.text[whole.clone()]), told(&after));
        self.found.push(Slip { sort, about: place.about.clone(), told, range, new, choice: place.choice.clone() });
    }

    fn numbers(&mut self, place: &Place<'t>) {
        // A tolerance is another thing than the number that it belongs to.
        let tolerance =
            Place { about: format!("± {}", place.about), told: place.told.clone(), value: place.value, choice: place.choice.clone() };
        let mut tolerances: Vec<Span> = Vec::new();
        place.value.walk(&mut |expr| match &expr.node {
            Node::Tolerance { down, up, .. } => tolerances.extend(down.iter().chain([up]).map(|part| part.span)),
            Node::Quantity(parts) => {
                let place = if tolerances.contains(&expr.span) { &tolerance } else { place };
                parts.iter().for_each(|part| self.magnitude(place, part));
            }
            _ => {}
        });
        self.signs(place, place.value, true);
    }

    fn magnitude(&mut self, place: &Place<'_>, part: &Part) {
        let number = part.number.text();
        let start = part.span.start as usize;
        if part.number.worth() == 0.0 || !self.text[start..].starts_with(number) {
            return;
        }
        for (sort, factor) in [(Sort::TimesTen, 10.0), (Sort::ByTen, 0.1)] {
            self.push(sort, place, start..start + number.len(), plain(part.number.worth() * factor));
        }
        if let Some(new) = swapped(number) {
            self.push(Sort::Swapped, place, start..start + number.len(), new);
        }
        if let Some((unit, other)) = part.unit.as_ref().and_then(|unit| Some((unit, other_unit(&unit.text)?))) {
            self.push(Sort::Unit, place, range(unit.span), other.to_owned());
        }
    }

    /// Turns the signs in an expression; `free` where one may be set before it.
    fn signs(&mut self, place: &Place<'_>, expr: &Expr, free: bool) {
        let start = expr.span.start as usize;
        match &expr.node {
            Node::Binary(Binary::Add | Binary::Subtract, operator, a, b) => {
                let at = range(*operator);
                let turned = if self.text[at.clone()].contains('-') { "+" } else { "-" };
                self.push(Sort::Sign, place, at, turned.to_owned());
                self.signs(place, a, free);
                self.signs(place, b, false);
            }
            Node::Unary(Unary::Negate, of) => {
                self.push(Sort::Sign, place, start..of.span.start as usize, String::new());
                self.signs(place, of, false);
            }
            Node::Quantity(parts) if free && parts.iter().any(|part| part.number.worth() != 0.0) => {
                self.push(Sort::Sign, place, start..start, "-".to_owned());
            }
            // Both ends of a tolerance are told by its own sign.
            Node::Tolerance { value, .. } => self.signs(place, value, free),
            _ => expr.children(&mut |child| self.signs(place, child, true)),
        }
    }

    /// Each link of a line led to something else: of what the design has of each kind that the line may lead to, the next one.
    fn links(&mut self, place: &Place<'t>, kinds: &[KindId]) {
        let mut named: Vec<&Expr> = Vec::new();
        let mut elements: Vec<(&Expr, &Expr)> = Vec::new();
        place.value.walk(&mut |expr| match &expr.node {
            Node::Name(_) => named.push(expr),
            Node::Index(of, index) => elements.push((of, index)),
            _ => {}
        });
        let there: BTreeSet<&str> = named.iter().map(|expr| &self.text[range(expr.span)]).collect();
        for expr in named {
            let name = &self.text[range(expr.span)];
            let Some(entry) = self.design.entry(name) else { continue };
            let indexed = elements.iter().any(|(of, _)| of.span == expr.span);
            for other in self.others(entry, kinds, indexed).into_iter().filter(|other| !there.contains(other.as_str())) {
                self.push(Sort::Link, place, range(expr.span), other);
            }
        }
        for (_, index) in elements {
            if !matches!(index.node, Node::Quantity(_)) {
                self.push(Sort::Link, place, range(index.span), "1".to_owned());
            }
        }
    }

    /// Of each of these kinds the first component behind this one, counted round, that the design itself has.
    fn others(&self, entry: Entry, kinds: &[KindId], indexed: bool) -> Vec<String> {
        let (Entry::Component(own) | Entry::Array(own, ..)) = entry else { return Vec::new() };
        // An entry of a catalogue is a size that one chooses.
        if self.design.component(own).span.file.is_built_in() {
            return Vec::new();
        }
        let next = |kind: &KindId| {
            let mut of_kind: Vec<(ComponentId, &str)> = self
                .design
                .entries()
                .filter_map(|(name, entry)| match entry {
                    Entry::Component(id) if !indexed => Some((id, name.as_str())),
                    Entry::Array(id, ..) => Some((id, name.as_str())),
                    _ => None,
                })
                .filter(|(id, _)| *id != own && self.design.component(*id).kind == *kind)
                .filter(|(id, _)| !self.design.component(*id).span.file.is_built_in())
                .collect();
            of_kind.sort_unstable();
            of_kind.iter().find(|(id, _)| *id > own).or(of_kind.first()).map(|(_, name)| (*name).to_owned())
        };
        kinds.iter().filter_map(next).collect()
    }
}
