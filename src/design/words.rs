//! The words that lines are written with: what links carry, and the states that a rule may be about.
//!
//! In: the `carried` and `state` blocks of the vocabulary. What carrying obliges to is asked of each kind that has such a
//! link, the library's and a person's own: it is read by name off whoever stands at the end of the link.

use super::{Design, Kind, Property, Sort};
use crate::problem::Problem;
use crate::syntax::tree::{self, Node, PropertyType, Word};
use crate::text::Span;
use crate::units::Dim;
use smol_str::SmolStr;
use std::sync::Arc;

/// What links carry, as a set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Carries(u32);

impl Carries {
    /// Nothing.
    pub const NONE: Carries = Carries(0);
    /// How many words there can be.
    const MOST: usize = 32;

    /// Both sets together.
    #[must_use]
    pub fn with(self, other: Carries) -> Carries {
        Carries(self.0 | other.0)
    }

    /// Whether everything of `other` is in this.
    #[must_use]
    pub fn holds(self, other: Carries) -> bool {
        self.0 & other.0 == other.0
    }

    /// Whether it is empty.
    #[must_use]
    pub fn is_none(self) -> bool {
        self.0 == 0
    }

    fn one(at: usize) -> Carries {
        Carries(1 << at)
    }
}

/// A word for what a link may carry.
#[derive(Debug, Clone)]
pub struct Carried {
    /// The word.
    pub name: SmolStr,
    /// What it is.
    pub doc: SmolStr,
    /// Where the word is declared.
    pub name_span: Span,
    /// What a kind has to have that has such a link.
    pub asks: Vec<Asked>,
}

/// A property that a kind has to have.
#[derive(Debug, Clone)]
pub struct Asked {
    /// Its name.
    pub name: SmolStr,
    /// Its sort.
    pub sort: Sort,
    /// Its type as it is written, for messages.
    pub written: String,
    /// What it means.
    pub doc: SmolStr,
}

/// A state that a rule may be about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct State {
    /// The word.
    pub name: SmolStr,
    /// What it is.
    pub doc: SmolStr,
    /// The kind whose state it is.
    pub of: SmolStr,
    /// Where the word is declared.
    pub span: Span,
    /// What is looked at in it, action by action.
    pub cells: Arc<[Cell]>,
}

/// An action in a state: the rules that look at it, or why none does.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cell {
    /// The action, as its line names it.
    pub action: SmolStr,
    /// The rules.
    pub rules: Vec<SmolStr>,
    /// Why none does; empty where rules are named.
    pub why_not: String,
    /// Its line.
    pub span: Span,
}

/// A word that a small drawing explains.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drawn {
    /// The word: the name of lines of several kinds.
    pub name: SmolStr,
    /// What it means.
    pub doc: SmolStr,
    /// The drawing, row by row, in plain letters.
    pub looks: Vec<SmolStr>,
}

/// The rows of a drawing.
fn rows(node: &Node) -> Vec<SmolStr> {
    match node {
        Node::List(items) => items.iter().flat_map(|item| rows(&item.node)).collect(),
        Node::Text(text) => vec![text.trim_end().into()],
        _ => Vec::new(),
    }
}

impl Cell {
    fn of(line: &tree::Line) -> Cell {
        let mut cell = Cell { action: line.name.text.clone(), rules: Vec::new(), why_not: String::new(), span: line.span };
        cell.read(&line.value.node);
        cell
    }

    fn read(&mut self, node: &Node) {
        match node {
            Node::List(items) => items.iter().for_each(|item| self.read(&item.node)),
            Node::Text(text) => self.why_not = text.to_string(),
            other => self.rules.extend(dotted(other)),
        }
    }
}

/// `area.rule` as it is written.
fn dotted(node: &Node) -> Option<SmolStr> {
    match node {
        Node::Name(name) => Some(name.clone()),
        Node::Field(area, name) => dotted(&area.node).map(|area| format!("{area}.{}", name.text).into()),
        _ => None,
    }
}

impl Design {
    /// What a link carries of which this is the word.
    #[must_use]
    pub fn carries(&self, word: &str) -> Option<Carries> {
        self.carried.iter().position(|known| known.name == word).map(Carries::one)
    }

    /// The words of a set.
    pub fn carried_words(&self, set: Carries) -> impl Iterator<Item = &str> {
        self.carried.iter().enumerate().filter(move |(at, _)| set.holds(Carries::one(*at))).map(|(_, carried)| carried.name.as_str())
    }

    /// That a link carries nothing of this name, with what it could carry.
    #[must_use]
    pub fn not_carried(&self, word: &str, span: Span) -> Problem {
        let known = || self.carried.iter().map(|carried| carried.name.as_str());
        Problem::error(format!("a link cannot carry `{word}`"), span, "here")
            .help(format!("links carry {}", known().collect::<Vec<_>>().join(", ")))
            .nearest(word, span, known())
    }

    /// Takes in `carried` and `state` blocks; the others are for paper.
    pub(super) fn add_words(&mut self, words: &tree::Words) {
        let block = &words.block;
        let doc = block.title.as_ref().map(|title| title.text.clone()).unwrap_or_default();
        match words.sort.text.as_str() {
            "carried" => {
                if self.carried.len() == Carries::MOST {
                    let problem = Problem::error(format!("links carry {} things at most", Carries::MOST), block.name.span, "one more");
                    return self.problems.push(problem.help("take one out"));
                }
                let asks = block.properties.iter().filter_map(|property| self.asked(property)).collect();
                self.carried.push(Carried { name: block.name.text.clone(), doc, name_span: block.name.span, asks });
            }
            "drawn" => {
                let looks = block.facts.iter().filter(|line| line.name.text == "looks").flat_map(|line| rows(&line.value.node)).collect();
                self.drawn.push(Drawn { name: block.name.text.clone(), doc, looks });
            }
            "state" => {
                let of = block.facts.iter().find(|line| line.name.text == "of").and_then(|line| match &line.value.node {
                    Node::Name(kind) => Some(kind.clone()),
                    _ => None,
                });
                match of {
                    Some(of) => {
                        let cells = block.facts.iter().filter(|line| line.name.text != "of").map(Cell::of).collect();
                        self.states.push(State { name: block.name.text.clone(), doc, of, span: block.name.span, cells });
                    }
                    None => {
                        let problem = Problem::error("a state is one of a kind of component", block.name.span, "this state");
                        self.problems.push(problem.help("add a line `of KIND`"));
                    }
                }
            }
            _ => {}
        }
    }

    fn asked(&mut self, property: &tree::Property) -> Option<Asked> {
        let plain = |word: &Word| match word.text.as_str() {
            "components" => Some(Sort::Component(Vec::new()).several()),
            "text" => Some(Sort::Text),
            "yes_no" => Some(Sort::Flag),
            name => Dim::named(name).map(|dim| Sort::Quantity(Some(dim))),
        };
        let (sort, written) = match &property.ty {
            PropertyType::Plain(word) if word.text == "components" => (plain(word), "links to …".to_owned()),
            PropertyType::Plain(word) => (plain(word), word.text.to_string()),
            PropertyType::ListOf(word) => (plain(word).map(Sort::several), format!("list of {}", word.text)),
            _ => (None, String::new()),
        };
        let Some(sort) = sort else {
            let problem = Problem::error("this cannot be asked of a kind", property.span, "this line");
            self.problems.push(problem.help("write `components`, `text`, `yes_no`, a quantity like `force`, or a list of one of these"));
            return None;
        };
        let doc = property.doc.as_ref().map(|doc| doc.text.clone()).unwrap_or_default();
        Some(Asked { name: property.name.text.clone(), sort, written, doc })
    }

    /// Asks the kinds from this number on for what their links oblige them to, once all kinds are known.
    pub(super) fn check_carried(&mut self, first: usize) {
        let mut problems = Vec::new();
        for kind in self.kinds.iter().skip(first) {
            for (at, carried) in self.carried.iter().enumerate().filter(|(_, carried)| !carried.asks.is_empty()) {
                let link = kind.properties.iter().find(|property| property.carries.holds(Carries::one(at)));
                let Some(link) = link else { continue };
                problems.extend(carried.asks.iter().filter_map(|asked| self.unanswered(kind, link, carried, asked)));
            }
        }
        if first == 0 {
            let lost = self.states.iter().filter(|state| self.kind_named(&state.of).is_none());
            problems.extend(lost.map(|state| Problem::error(format!("there is no kind `{}`", state.of), state.span, "a state of it")));
        }
        self.problems.extend(problems);
    }

    fn unanswered(&self, kind: &Kind, link: &Property, carried: &Carried, asked: &Asked) -> Option<Problem> {
        let form = format!("write `{}  {}  default …`: {}", asked.name, asked.written, asked.doc);
        let Some(property) = kind.property(&asked.name).and_then(|at| kind.properties.get(at)) else {
            let message = format!("what carries {} has `{}`, and `{}` has not", carried.name, asked.name, kind.name);
            return Some(Problem::error(message, link.span, format!("it carries {} here", carried.name)).help(form));
        };
        let given = Sort::declared(&property.ty);
        let fits = match (&asked.sort, &given) {
            (Sort::List(due), Sort::List(given)) => due.common(given).is_some_and(|common| common != Sort::Unknown) && !differ(due, given),
            (due, given) => due.common(given).is_some() && !differ(due, given),
        };
        (!fits).then(|| {
            let what = given.describe(self);
            let message = format!("what carries {} has `{}` as {}, and this is {what}", carried.name, asked.name, asked.written);
            Problem::error(message, property.span, what.clone()).also(link.span, format!("it carries {} here", carried.name)).help(form)
        })
    }

    /// The state of that name, or that there is none.
    ///
    /// # Errors
    /// What is wrong with the word.
    pub(super) fn state(&self, word: &str, span: Span) -> Result<State, Problem> {
        let found = self.states.iter().find(|state| state.name == word).cloned();
        found.ok_or_else(|| {
            let known = || self.states.iter().map(|state| state.name.as_str());
            Problem::error(format!("there is no state `{word}`"), span, "this word")
                .help(format!("write {}", known().collect::<Vec<_>>().join(", ")))
                .nearest(word, span, known())
        })
    }
}

fn differ(a: &Sort, b: &Sort) -> bool {
    matches!((a, b), (Sort::Quantity(Some(a)), Sort::Quantity(Some(b))) if a != b)
}
