//! What a design is made of: kinds, components, named values and rules, all names resolved.
//!
//! In: the syntax trees of the design's files and of the trade library. Out: a [`Design`] in which
//! every property line is matched with its kind, patterns and arrays are written out, and variants
//! and measurements take the place of what they replace. No number is worked out here.

mod call;
mod changes;
mod components;
mod constants;
mod covered;
mod elsewhere;
mod forms;
mod formulas;
mod free_names;
mod guesses;
mod kinds;
mod lets;
mod meaning;
mod meant;
mod names;
mod near;
mod not_used;
mod papers;
pub mod refusals;
mod repeated;
mod rules;
mod sort;
mod steps;
mod typing;
mod weights;
mod words;

pub use call::{ABOUT_A_LINE, Called, GATHERERS, Placed, placed, signature};
pub use components::{Component, Origin, Written};
pub use constants::{CONSTANTS, Constant, constant};
pub use forms::{COMMON_LINES, Form, FormLine, Forms, LineTakes, SheetForm, SheetSort, ViewForm};
pub use formulas::{Formula, Formulas, Gives, Parameter, Table, Takes};
pub use free_names::FreeNames;
pub use kinds::{Belonging, Kind, Limit, LimitWord, Property, Type, Usual, WHOLE};
pub use lets::RuleLet;
pub use meaning::{Around, Meaning, Meant, Stands, Writer, is_due};
pub use not_used::Catalogues;
pub use papers::{Paper, PaperSort};
pub use rules::{Acceptance, RULE_LINES, Rule};
pub use sort::Sort;
pub use steps::Steps;
pub use words::{Asked, Carried, Carries, Drawn, State};

use crate::problem::Problem;
use crate::syntax::tree::{Date, Expr, Item, Let, Tree};
use crate::text::Span;
use rustc_hash::{FxHashMap, FxHashSet};
use smol_str::SmolStr;
use std::sync::Arc;

/// The most components that arrays may be written out to: a mistyped range should not fill the memory.
pub const MOST_COMPONENTS: usize = 100_000;

/// The number of a kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct KindId(pub u32);

/// The number of a component.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ComponentId(pub u32);

/// The number of a value: a named value, or one property of one component.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct NodeId(pub u32);

/// What a [`NodeId`] stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum NodeKind {
    /// A named value, by its number.
    Named(usize),
    /// A property (its number in the kind) of a component.
    Property(ComponentId, usize),
}

/// What a name of the design stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Entry {
    /// One component.
    Component(ComponentId),
    /// Several alike: the first of them, the number of the first element, how many.
    Array(ComponentId, u32, u32),
    /// A named value.
    Named(usize),
}

/// A value that the design gives a name.
#[derive(Debug, Clone)]
pub struct Named {
    /// Its name.
    pub name: SmolStr,
    /// Where the name stands.
    pub name_span: Span,
    /// The whole line.
    pub span: Span,
    /// What it stands for.
    pub value: Arc<Expr>,
    /// It says of itself that nobody knows the number yet.
    pub guessed: bool,
}

/// Which of its own alternatives a design is read with.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Choice {
    /// The variant by name.
    pub variant: Option<SmolStr>,
    /// Measured values take the place of planned ones.
    pub as_built: bool,
}

/// A design with its vocabulary, ready to be worked out.
#[derive(Debug, Default, Clone)]
pub struct Design {
    /// What links may carry.
    pub carried: Vec<Carried>,
    /// The words that a small drawing explains.
    pub drawn: Vec<Drawn>,
    /// The states that a rule may be about.
    pub states: Vec<State>,
    /// All kinds.
    pub kinds: Vec<Arc<Kind>>,
    /// All components, catalogue entries included.
    pub components: Vec<Component>,
    /// All named values.
    pub named: Vec<Named>,
    /// All rules.
    pub rules: Vec<Arc<Rule>>,
    /// What goes onto paper, in the order in which it was read.
    pub papers: Vec<Paper>,
    /// Lines of variants and measurements, chosen or not, each with the component and the property that it is for.
    pub alternatives: Vec<(ComponentId, usize, Written)>,
    /// Values of variants and measurements that stand in for a named one.
    pub named_alternatives: Vec<(usize, Let)>,
    /// Findings taken on.
    pub acceptances: Vec<Acceptance>,
    /// The variants that the design has: name and title.
    pub variants: Vec<(SmolStr, Option<SmolStr>)>,
    /// The days on which something was measured.
    pub measured: Vec<Date>,
    /// What is wrong with names and kinds.
    pub problems: Vec<Problem>,
    /// Where things of different sorts meet; told beside what shows when a value is worked out, which says it closer.
    pub mistyped: Vec<Problem>,
    /// What formulas take and give: read when the first expression asks for it.
    pub formulas: Option<fn() -> &'static Formulas>,
    /// The forms of paper and the sheets: read when something is put there, or a paper of the design is looked at.
    pub forms: Option<fn() -> &'static Forms>,
    /// In which catalogue a name stands.
    pub catalogues: Option<Catalogues>,
    /// Where the person's own text begins.
    begin: Span,
    /// Where kinds name a step of their own.
    pub steps: Steps,
    kind_names: FxHashMap<SmolStr, KindId>,
    rule_numbers: FxHashMap<SmolStr, usize>,
    entries: FxHashMap<SmolStr, Entry>,
    /// Names of components that could not be read: what is wrong with them is told where they stand, not at each mention.
    unreadable: FxHashSet<SmolStr>,
    by_kind: Vec<Vec<ComponentId>>,
    words: FxHashSet<SmolStr>,
    /// Kinds that links lead to, by the order of their declaration, until all kinds are known.
    pending_links: Vec<(usize, Vec<crate::syntax::tree::Word>)>,
    /// How many kinds and rules come from the trade library; they stand first.
    library: (usize, usize),
    /// The words that the trade library's rules use freely.
    free_names: Arc<FreeNames>,
    /// Where the kinds stand that the design declares itself.
    own_kinds: Vec<Span>,
    /// What all names stand for, as one number: while it is the same an expression keeps its meaning.
    names: u64,
    /// The expressions (by their address) in which every name stands for something.
    clean: FxHashSet<usize>,
    /// Where a name was met that stands for nothing, or something else that is wrong with names.
    unnamed: FxHashSet<Span>,
    /// The expressions (by their address) in which nothing of one sort stands where another is due, and what the named
    /// values were when that was asked.
    well_typed: FxHashSet<usize>,
    sorts_of_named: Vec<Sort>,
}

impl Design {
    /// The vocabulary alone: the kinds and rules of the trade library; `formulas` says what its formulas take and give.
    ///
    /// The library is the same at every start: that its names mean something is asked by its test, of
    /// [`Design::wrong_in_vocabulary`], and not here.
    #[must_use]
    pub fn vocabulary(library: &[Arc<Tree>], formulas: Option<fn() -> &'static Formulas>) -> Design {
        let mut design = Design { formulas, ..Design::default() };
        let items = || library.iter().flat_map(|tree| &tree.items);
        for item in items() {
            if let Item::Words(words) = item {
                design.add_words(words);
            }
        }
        for item in items() {
            if let Item::Kind(kind) = item {
                design.add_kind(kind);
            }
        }
        for item in items() {
            if let Item::Kind(kind) = item {
                design.find_covered_in_kind(kind);
            }
        }
        design.check_kinds(0);
        for item in items() {
            if let Item::Rule(rule) = item {
                design.add_rule(rule);
            }
        }
        design.library = (design.kinds.len(), design.rules.len());
        design.free_names = Arc::new(FreeNames::of(&design.rules));
        design
    }

    /// Puts a design together with this vocabulary.
    ///
    /// `files` are the trees of the design and of the catalogues that it uses, `choice` which of its alternatives. Never
    /// fails: what is wrong is in [`Design::problems`].
    ///
    /// `before` is the design before an edit: what its unchanged expressions mean is not asked again.
    #[must_use]
    pub fn with(vocabulary: &Design, files: &[Arc<Tree>], choice: &Choice, before: Option<&Design>) -> Design {
        let mut design = vocabulary.clone();
        design.begin = not_used::begin_of(files);
        let items = || files.iter().flat_map(|tree| &tree.items);
        for item in items() {
            if let Item::Kind(kind) = item {
                design.own_kinds.push(kind.span);
                design.add_kind(kind);
            }
        }
        for item in items() {
            if let Item::Kind(kind) = item {
                design.find_covered_in_kind(kind);
            }
        }
        design.check_kinds(vocabulary.kinds.len());
        design.add_components(files, choice);
        for item in items() {
            match item {
                Item::Rule(rule) => design.add_rule(rule),
                Item::Paper(paper) => design.add_paper(paper),
                Item::Accept(accept) => design.add_acceptance(accept),
                Item::Words(words) => design.problems.push(
                    Problem::error(
                        format!("{} block cannot stand in a design", crate::problem::quoted_with_article(&words.sort.text)),
                        words.block.name.span,
                        "this one",
                    )
                    .help("it would have to stand in the program; kinds, rules and what goes onto paper can be your own"),
                ),
                Item::Formula(block) | Item::Table(block) => design.problems.push(
                    Problem::error("a design cannot declare a formula or the shape of its table", block.name.span, "this one").help(
                        "its body would have to stand in the program; `let`, a kind's `default …` or a `rule` holds arithmetic of your own",
                    ),
                ),
                _ => {}
            }
        }
        design.check_guesses(files);
        design.check_acceptances();
        design.check_papers();
        design.check_names(before);
        design.check_sorts(before);
        design.problems.sort_by_key(Problem::span);
        design.problems.dedup();
        design
    }

    /// Whether both declare the same kinds; for designs whose pieces keep their numbers while they stay as they are.
    #[must_use]
    pub fn same_vocabulary(&self, other: &Design) -> bool {
        self.own_kinds == other.own_kinds && self.kinds.len() == other.kinds.len()
    }

    /// Whether every name stands for the same in both.
    #[must_use]
    pub fn same_names(&self, other: &Design) -> bool {
        self.names == other.names && self.entries.len() == other.entries.len()
    }

    /// The words that the trade library's rules use freely: what one of them stands for hangs on the names of the design.
    #[must_use]
    pub fn free_names(&self) -> &FreeNames {
        &self.free_names
    }

    /// The kind of that number.
    ///
    /// # Panics
    /// Never for an id that this design gave out.
    #[must_use]
    pub fn kind(&self, id: KindId) -> &Kind {
        &self.kinds[id.0 as usize]
    }

    /// The component of that number.
    ///
    /// # Panics
    /// Never for an id that this design gave out.
    #[must_use]
    pub fn component(&self, id: ComponentId) -> &Component {
        &self.components[id.0 as usize]
    }

    /// The kind of a component.
    #[must_use]
    pub fn kind_of(&self, id: ComponentId) -> &Kind {
        self.kind(self.component(id).kind)
    }

    /// The kind of that name.
    #[must_use]
    pub fn kind_named(&self, name: &str) -> Option<KindId> {
        self.kind_names.get(name).copied()
    }

    /// What a name stands for.
    #[must_use]
    pub fn entry(&self, name: &str) -> Option<Entry> {
        self.entries.get(name).copied()
    }

    /// Whether a name stands for something that could not be read, which has been told.
    #[must_use]
    pub fn is_unreadable(&self, name: &str) -> bool {
        self.unreadable.contains(name)
    }

    /// The names of what could not be read.
    #[must_use]
    pub(crate) fn unreadable(&self) -> &FxHashSet<SmolStr> {
        &self.unreadable
    }

    /// All names of the design.
    pub fn entries(&self) -> impl Iterator<Item = (&SmolStr, Entry)> {
        self.entries.iter().map(|(name, entry)| (name, *entry))
    }

    /// Whether it has been said of the name at this place that something is wrong with it.
    #[must_use]
    pub fn is_told(&self, span: Span) -> bool {
        self.unnamed.contains(&span)
    }

    /// All names of the design, those of components with their kind.
    pub(super) fn names_with_kinds(&self) -> impl Iterator<Item = (SmolStr, Option<KindId>)> {
        self.entries().map(|(name, entry)| match entry {
            Entry::Component(id) | Entry::Array(id, ..) => (name.clone(), Some(self.component(id).kind)),
            Entry::Named(_) => (name.clone(), None),
        })
    }

    /// All components of a kind, in the order of the text.
    #[must_use]
    pub fn of_kind(&self, kind: KindId) -> &[ComponentId] {
        self.by_kind.get(kind.0 as usize).map_or(&[], Vec::as_slice)
    }

    /// The component whose title is that of the design.
    #[must_use]
    pub fn titling(&self) -> Option<ComponentId> {
        (0_u32..).zip(&self.kinds).filter(|(_, kind)| kind.titles_design).find_map(|(at, _)| self.only_one(KindId(at)))
    }

    /// The only component of a kind, if there is exactly one.
    #[must_use]
    pub fn only_one(&self, kind: KindId) -> Option<ComponentId> {
        match self.of_kind(kind) {
            [one] => Some(*one),
            _ => None,
        }
    }

    /// Whether some kind has this word among its choices.
    #[must_use]
    pub fn is_choice_word(&self, word: &str) -> bool {
        self.words.contains(word)
    }

    /// Whether some property may be either of these words.
    #[must_use]
    pub fn are_of_one_choice(&self, a: &str, b: &str) -> bool {
        let has = |words: &[SmolStr], word: &str| words.iter().any(|one| one == word);
        let both = |property: &Property| matches!(&property.ty, Type::Word(words) if has(words, a) && has(words, b));
        self.kinds.iter().flat_map(|kind| &kind.properties).any(both)
    }

    /// The value node of a property of a component.
    #[must_use]
    pub fn node(&self, component: ComponentId, property: usize) -> NodeId {
        let first = self.component(component).first_node;
        NodeId(first + u32::try_from(property).unwrap_or(0))
    }

    /// What a value node stands for.
    #[must_use]
    pub fn node_kind(&self, node: NodeId) -> NodeKind {
        let named = self.named.len();
        if (node.0 as usize) < named {
            return NodeKind::Named(node.0 as usize);
        }
        let at = self.components.partition_point(|component| component.first_node <= node.0).saturating_sub(1);
        let first = self.components.get(at).map_or(0, |component| component.first_node);
        NodeKind::Property(ComponentId(u32::try_from(at).unwrap_or(0)), (node.0 - first) as usize)
    }

    /// How many value nodes there are.
    #[must_use]
    pub fn node_count(&self) -> usize {
        self.components.last().map_or(self.named.len(), |last| last.first_node as usize + self.kind(last.kind).properties.len())
    }

    /// `north_wall.height`, `eave`: a value node as a person writes it.
    #[must_use]
    pub fn node_name(&self, node: NodeId) -> String {
        match self.node_kind(node) {
            NodeKind::Named(at) => self.named.get(at).map(|named| named.name.to_string()).unwrap_or_default(),
            NodeKind::Property(component, property) => {
                let name = self.kind_of(component).properties.get(property).map_or("", |property| property.name.as_str());
                format!("{}.{name}", self.component(component).name)
            }
        }
    }

    /// Where a value node is written; for one that is worked out or missing, the component's header.
    #[must_use]
    pub fn node_span(&self, node: NodeId) -> Span {
        match self.node_kind(node) {
            NodeKind::Named(at) => self.named.get(at).map(|named| named.span).unwrap_or_default(),
            NodeKind::Property(id, property) => {
                let component = self.component(id);
                component.written(property).map_or(component.header, |written| written.span)
            }
        }
    }

    fn define(&mut self, name: &SmolStr, span: Span, entry: Entry) -> bool {
        if let Some(first) = self.entries.get(name) {
            let first_span = match *first {
                Entry::Component(id) | Entry::Array(id, ..) => self.component(id).name_span,
                Entry::Named(at) => self.named.get(at).map(|named| named.name_span).unwrap_or_default(),
            };
            self.problems.push(
                Problem::error(format!("`{name}` is already taken"), span, "the second")
                    .also(first_span, "the first")
                    .help("give one of them another name: all components and named values of a design share their names"),
            );
            return false;
        }
        self.entries.insert(name.clone(), entry);
        true
    }

    fn add_named(&mut self, line: &Let) {
        let at = self.named.len();
        if self.define(&line.name.text, line.name.span, Entry::Named(at)) {
            self.named.push(Named {
                name: line.name.text.clone(),
                name_span: line.name.span,
                span: line.span,
                value: Arc::clone(&line.value),
                guessed: line.guessed.is_some(),
            });
        }
    }
}
