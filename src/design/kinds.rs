//! The vocabulary: what kinds there are and what may be written in each.

use super::lets::Lets;
use super::{Carries, Design, KindId};
use crate::problem::Problem;
use crate::syntax::tree::{self, Expr, Node, PropertyType, Word};
use crate::syntax::{self, examples};
use crate::text::Span;
use crate::units::Dim;
use rustc_hash::FxHashMap;
use smol_str::SmolStr;
use std::sync::Arc;

/// A kind of component.
#[derive(Debug, Clone)]
pub struct Kind {
    /// Its name.
    pub name: SmolStr,
    /// Where the name stands.
    pub name_span: Span,
    /// What it is.
    pub doc: SmolStr,
    /// A design has one of it; its name stands for that one.
    pub one_only: bool,
    /// The soil carries it: loads that arrive here have found the ground.
    pub ground: bool,
    /// The title of the only one of it is that of the whole design.
    pub titles_design: bool,
    /// An entry of a catalogue: bought or specified, not placed.
    pub catalogue_entry: bool,
    /// What a whole building has, as far as this kind is concerned.
    pub belongings: Vec<Belonging>,
    /// What can hurt.
    pub caution: Option<SmolStr>,
    /// Where the vocabulary comes from.
    pub source: Option<SmolStr>,
    /// Anything more that a reader should know.
    pub note: Option<SmolStr>,
    /// Its properties in the order in which they are declared.
    pub properties: Vec<Property>,
    /// The names of its steps, which stand for something in its own expressions alone.
    pub steps: Vec<SmolStr>,
    by_name: FxHashMap<SmolStr, usize>,
}

/// The property that a component stands for where yes or no is due.
const SIGNAL: &str = "signal";

impl Kind {
    /// The number of a property.
    #[must_use]
    pub fn property(&self, name: &str) -> Option<usize> {
        self.by_name.get(name).copied()
    }

    /// Whether a property always follows from other lines.
    #[must_use]
    pub fn follows(&self, at: usize) -> bool {
        self.properties.get(at).is_some_and(|property| property.follows)
    }

    /// The number of the property that says what a component of this kind signals, where its name stands for that.
    #[must_use]
    pub fn signal(&self) -> Option<usize> {
        let at = self.property(SIGNAL)?;
        self.properties.get(at).filter(|property| property.ty == Type::Condition).map(|_| at)
    }
}

/// What belongs to a whole building: without it the checks of it have nothing to look at.
#[derive(Debug, Clone)]
pub struct Belonging {
    /// The area of the rules that have nothing to look at.
    pub area: SmolStr,
    /// What is lacking, in a builder's words.
    pub lacks: SmolStr,
    /// What each component of the kind has to have; without it a building has at least one component of the kind.
    pub each_has: Option<Arc<Expr>>,
}

/// One property of a kind.
#[derive(Debug, Clone)]
pub struct Property {
    /// Its name.
    pub name: SmolStr,
    /// Its line in the kind's declaration.
    pub span: Span,
    /// What may stand there.
    pub ty: Type,
    /// Must be written.
    pub required: bool,
    /// Worked out where it is not written.
    pub default: Option<Arc<Expr>>,
    /// It always follows from other lines: a design does not write it.
    pub follows: bool,
    /// The default is a habit of the trade and not a derivation: why it may be assumed.
    pub assumed: Option<SmolStr>,
    /// What a link carries.
    pub carries: Carries,
    /// Only whole numbers make sense: things that are counted.
    pub whole: bool,
    /// Limits of a sensible number.
    pub limits: Vec<Limit>,
    /// Where its like usually lies: by itself, and beside other lines.
    pub usual: Vec<Usual>,
    /// What it means.
    pub doc: SmolStr,
    /// How one comes to its number: off which sheet, with which scales.
    pub found: Option<SmolStr>,
    /// Where its number or its meaning comes from.
    pub source: Option<SmolStr>,
}

/// Where the numbers of a property usually lie: what is written outside is out of proportion.
#[derive(Debug, Clone)]
pub struct Usual {
    /// From the least to the greatest: two plain numbers, or what other lines make of them.
    pub range: Arc<Expr>,
    /// On whose word.
    pub because: SmolStr,
}

/// A limit of a sensible number.
#[derive(Debug, Clone)]
pub struct Limit {
    /// Which side.
    pub word: LimitWord,
    /// The limit.
    pub value: Arc<Expr>,
}

/// Which side of a limit is allowed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LimitWord {
    /// The limit or more.
    AtLeast,
    /// The limit or less.
    AtMost,
    /// More than the limit.
    Above,
    /// Less than the limit.
    Below,
}

impl LimitWord {
    /// As it is written and read out.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::AtLeast => "at least",
            Self::AtMost => "at most",
            Self::Above => "more than",
            Self::Below => "less than",
        }
    }
}

/// What may stand in a property.
#[derive(Debug, Clone, PartialEq)]
pub enum Type {
    /// A quantity of this dimension.
    Quantity(Dim),
    /// A text in quotes.
    Text,
    /// A day.
    Date,
    /// What fills room.
    Solid,
    /// `yes` or `no`, as it is at each moment: of what changes while the building is used.
    Condition,
    /// `yes` or `no`.
    Flag,
    /// One of these words.
    Word(Vec<SmolStr>),
    /// Links to components of these kinds.
    Link {
        /// Several may stand there.
        many: bool,
        /// Kinds that it may lead to.
        kinds: Vec<KindId>,
    },
    /// Several of one type.
    List(Box<Type>),
    /// From one to another.
    Range(Dim),
    /// One by another (by a third).
    Size(Dim),
    /// What a formula gives: a table of values.
    Table,
}

impl Type {
    /// Of what dimension the numbers are that stand there; none where no number does.
    #[must_use]
    pub fn dim(&self) -> Option<Dim> {
        match self {
            Type::Quantity(dim) | Type::Range(dim) | Type::Size(dim) => Some(*dim),
            Type::List(of) => of.dim(),
            _ => None,
        }
    }
}

/// The type of a number of things that are counted.
pub const WHOLE: &str = "whole_number";

/// Words that every component answers to by itself.
pub const BUILT_IN_PROPERTIES: [&str; 5] = ["name", "in_words", "title", "kind", "index"];

impl Design {
    pub(super) fn add_kind(&mut self, kind: &tree::Kind) {
        let name = kind.name.text.clone();
        if let Some(first) = self.kind_named(&name) {
            let span = self.kind(first).name_span;
            self.problems.push(
                Problem::error(format!("there is already a kind `{name}`"), kind.name.span, "the second")
                    .also(span, "the first")
                    .help("give it another name"),
            );
            return;
        }
        if syntax::STATEMENTS.contains(&name.as_str()) {
            self.problems.push(
                Problem::error(format!("`{name}` begins a statement of its own and cannot be a kind"), kind.name.span, "this name")
                    .help(format!("give it another name, like `one_{name}`")),
            );
        }
        let id = KindId(u32::try_from(self.kinds.len()).unwrap_or(u32::MAX));
        self.kind_names.insert(name.clone(), id);
        let mut declared = Kind {
            name,
            name_span: kind.name.span,
            doc: kind.title.as_ref().map(|title| title.text.clone()).unwrap_or_default(),
            one_only: false,
            ground: false,
            titles_design: false,
            catalogue_entry: false,
            belongings: Vec::new(),
            caution: None,
            source: None,
            note: None,
            properties: Vec::new(),
            steps: kind.lets.iter().map(|line| line.name.text.clone()).collect(),
            by_name: FxHashMap::default(),
        };
        self.steps.add(kind, &mut self.problems);
        let lets = Lets::of(&[], &kind.lets, &mut self.problems);
        for fact in &kind.facts {
            let word = fact.name.text.as_str();
            match (word, &fact.value.node) {
                ("one_only", Node::Flag(flag)) => declared.one_only = *flag,
                ("ground", Node::Flag(flag)) => declared.ground = *flag,
                ("titles_design", Node::Flag(flag)) => declared.titles_design = *flag,
                ("catalogue_entry", Node::Flag(flag)) => declared.catalogue_entry = *flag,
                ("caution", Node::Text(text)) => declared.caution = Some(text.clone()),
                ("source", Node::Text(text)) => declared.source = Some(text.clone()),
                ("note", Node::Text(text)) => declared.note = Some(text.clone()),
                ("every_building" | "needs", _) => match whole(word, &fact.value) {
                    Some(mut whole) => {
                        whole.each_has = whole.each_has.map(|condition| lets.put(&condition, &mut self.problems));
                        declared.belongings.push(whole);
                    }
                    None => {
                        let form = if word == "needs" { examples::NEEDS } else { examples::EVERY_BUILDING };
                        let problem =
                            Problem::error(format!("`{word}` is an area and what a whole building has"), fact.value.span, "this value");
                        self.problems.push(problem.help(format!("write `{form}`")));
                    }
                },
                ("one_only" | "ground" | "titles_design" | "catalogue_entry", _) => self.problems.push(
                    Problem::error(format!("`{word}` is `yes` or `no`"), fact.value.span, "this value").help(format!("write `{word} yes`")),
                ),
                _ => self.problems.push(
                    Problem::error(format!("`{word}` is a text in quotes"), fact.value.span, "this value")
                        .help(format!("write `{word} \"…\"`")),
                ),
            }
        }
        declared.properties.reserve(kind.properties.len());
        for property in &kind.properties {
            self.add_property(&mut declared, property, &lets);
        }
        self.kinds.push(Arc::new(declared));
        self.by_kind.push(Vec::new());
    }

    fn add_property(&mut self, kind: &mut Kind, property: &tree::Property, lets: &Lets) {
        let name = &property.name;
        if BUILT_IN_PROPERTIES.contains(&name.text.as_str()) {
            self.problems.push(
                Problem::error(format!("every component has its `{}` by itself", name.text), name.span, "this property")
                    .help("give the property another name"),
            );
            return;
        }
        if let Some(first) = kind.property(&name.text).and_then(|at| kind.properties.get(at)) {
            self.problems.push(
                Problem::error(format!("`{}` is declared twice", name.text), name.span, "the second")
                    .also(first.span, "the first")
                    .help("take one of them out"),
            );
            return;
        }
        let Some(ty) = self.resolve_type(&property.ty) else { return };
        let carries = self.resolve_carries(&property.carrying, &ty);
        let limits: Vec<Limit> = property
            .bounds
            .iter()
            .map(|(word, value)| Limit {
                word: match word.text.as_str() {
                    "at_least" => LimitWord::AtLeast,
                    "at_most" => LimitWord::AtMost,
                    "above" => LimitWord::Above,
                    _ => LimitWord::Below,
                },
                value: lets.put(value, &mut self.problems),
            })
            .collect();
        let usual = property.usual.iter().filter_map(|usual| self.resolve_usual(usual, &ty, lets)).collect();
        if let Type::Word(words) = &ty {
            self.words.extend(words.iter().cloned());
        }
        let bounded = !limits.is_empty() || !property.usual.is_empty();
        let follows =
            property.assumed.is_none() && !bounded && property.default.as_ref().is_some_and(|default| always_follows(&ty, default));
        kind.by_name.insert(name.text.clone(), kind.properties.len());
        kind.properties.push(Property {
            name: name.text.clone(),
            span: property.span,
            ty,
            required: property.required,
            default: property.default.as_ref().map(|default| lets.put(default, &mut self.problems)),
            follows,
            assumed: property.assumed.as_ref().map(|text| text.text.clone()),
            carries,
            whole: matches!(&property.ty, PropertyType::Plain(word) if word.text == WHOLE),
            limits,
            usual,
            doc: property.doc.as_ref().map(|text| text.text.clone()).unwrap_or_default(),
            found: property.found.as_ref().map(|text| text.text.clone()),
            source: property.source.as_ref().map(|text| text.text.clone()),
        });
    }

    /// Only of numbers there are usual ones.
    fn resolve_usual(&mut self, usual: &tree::Usual, ty: &Type, lets: &Lets) -> Option<Usual> {
        let range = &usual.range;
        if ty.dim().is_none() {
            self.problems.push(Problem::error("only a number is usually between two others", range.span, "here").help("take it out"));
            return None;
        }
        if !matches!(&range.node, Node::Range(..)) {
            let problem = Problem::error("what is usual is from one number to another", range.span, "this value");
            self.problems.push(problem.help(format!("write `{}`", examples::USUALLY)));
            return None;
        }
        Some(Usual { range: lets.put(range, &mut self.problems), because: usual.because.text.clone() })
    }

    fn resolve_type(&mut self, ty: &PropertyType) -> Option<Type> {
        Some(match ty {
            PropertyType::Plain(word) => self.plain_type(word)?,
            PropertyType::OneOf(words) => Type::Word(words.iter().map(|word| word.text.clone()).collect()),
            PropertyType::ListOf(word) => Type::List(Box::new(self.plain_type(word)?)),
            PropertyType::RangeOf(word) => Type::Range(self.dimension(word)?),
            PropertyType::SizeOf(word) => Type::Size(self.dimension(word)?),
            PropertyType::As(word) | PropertyType::ItemOf(word) | PropertyType::RootOf(word) => {
                let problem = Problem::error("only what a formula gives follows an argument", word.span, "here");
                self.problems.push(
                    problem.help("a type is a quantity like `length` or `force`, or `text`, `date`, `yes_no`, `one of …`, `link to …`"),
                );
                return None;
            }
            // The kinds that a link leads to may be declared further on: they are looked up at the end.
            PropertyType::Link { many, kinds } => {
                self.pending_links.push((self.kinds.len(), kinds.clone()));
                Type::Link { many: *many, kinds: Vec::new() }
            }
        })
    }

    fn plain_type(&mut self, word: &Word) -> Option<Type> {
        Some(match word.text.as_str() {
            "text" => Type::Text,
            "date" => Type::Date,
            "yes_no" => Type::Flag,
            "table" => Type::Table,
            "solid" => Type::Solid,
            "condition" => Type::Condition,
            WHOLE => Type::Quantity(Dim::NUMBER),
            _ => Type::Quantity(self.dimension(word)?),
        })
    }

    fn dimension(&mut self, word: &Word) -> Option<Dim> {
        let dim = Dim::named(&word.text);
        if dim.is_none() {
            let known = Dim::names().chain(["text", "date", "yes_no", "condition", "solid", "table", WHOLE]);
            self.problems.push(
                Problem::error(format!("`{}` is not a type", word.text), word.span, "here")
                    .help("a type is a quantity like `length` or `force`, or `text`, `date`, `yes_no`, `one of …`, `link to …`")
                    .nearest(&word.text, word.span, known),
            );
        }
        dim
    }

    fn resolve_carries(&mut self, words: &[Word], ty: &Type) -> Carries {
        let mut carries = Carries::NONE;
        for word in words {
            match self.carries(&word.text) {
                Some(one) => carries = carries.with(one),
                None => self.problems.push(self.not_carried(&word.text, word.span)),
            }
            if !matches!(ty, Type::Link { .. }) {
                self.problems.push(
                    Problem::error("only a link carries something", word.span, "here").help("write `link to …` in front, or take it out"),
                );
            }
        }
        carries
    }

    /// Looks up the kinds that links lead to, once all kinds are known; those before `first` have theirs.
    pub(super) fn check_kinds(&mut self, first: usize) {
        let mut pending = std::mem::take(&mut self.pending_links).into_iter();
        for kind in first..self.kinds.len() {
            let count = self.kinds.get(kind).map_or(0, |kind| kind.properties.len());
            for property in 0..count {
                let is_link = |property: &Property| matches!(property.ty, Type::Link { .. });
                if !self.kinds.get(kind).and_then(|kind| kind.properties.get(property)).is_some_and(is_link) {
                    continue;
                }
                let Some((_, words)) = pending.next() else { return };
                let mut found = Vec::with_capacity(words.len());
                for word in &words {
                    match self.kind_named(&word.text) {
                        Some(id) => found.push(id),
                        None => {
                            let known: Vec<SmolStr> = self.kinds.iter().map(|kind| kind.name.clone()).collect();
                            self.problems.push(Problem::error(format!("there is no kind `{}`", word.text), word.span, "here").nearest(
                                &word.text,
                                word.span,
                                known.iter().map(SmolStr::as_str),
                            ));
                        }
                    }
                }
                if let Some(Property { ty: Type::Link { kinds, .. }, .. }) =
                    self.kinds.get_mut(kind).and_then(|kind| Arc::make_mut(kind).properties.get_mut(property))
                {
                    *kinds = found;
                }
            }
        }
        self.check_carried(first);
    }
}

/// `holddown, "a clamp …"`, for `needs` with its condition.
fn whole(word: &str, value: &Expr) -> Option<Belonging> {
    let Node::List(items) = &value.node else { return None };
    let (area, lacks, each_has) = match (items.as_slice(), word) {
        ([area, lacks], "every_building") => (area, lacks, None),
        ([area, lacks, condition], "needs") => (area, lacks, Some(Arc::new(condition.clone()))),
        _ => return None,
    };
    match (&area.node, &lacks.node) {
        (Node::Name(area), Node::Text(lacks)) => Some(Belonging { area: area.clone(), lacks: lacks.clone(), each_has }),
        _ => None,
    }
}

/// Whether what a default says is a result, and not what is usual and may be written otherwise: a plain number, word or list, a
/// choice, another line's link, or a default that asks for the line where it cannot tell.
fn always_follows(ty: &Type, default: &Expr) -> bool {
    let plain = match &default.node {
        Node::Quantity(_) | Node::Date(_) | Node::Text(_) | Node::Flag(_) => true,
        Node::Unary(_, of) => matches!(of.node, Node::Quantity(_)),
        Node::List(items) => items.is_empty(),
        _ => false,
    };
    let path = matches!(default.node, Node::Field(..) | Node::Name(_));
    !(plain || matches!(ty, Type::Word(_)) || (path && matches!(ty, Type::Link { .. })) || asks_for_a_line(default))
}

fn asks_for_a_line(default: &Expr) -> bool {
    let mut asks = false;
    default.walk(&mut |part| asks |= matches!(&part.node, Node::Call(name, _) if name.text == "unwritten"));
    asks
}
