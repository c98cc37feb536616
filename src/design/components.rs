//! Components with their lines: patterns filled in, arrays written out, alternatives put in place.

use super::kinds::BUILT_IN_PROPERTIES;
use super::near::{Names, offered};
use super::{Choice, ComponentId, Design, Entry, KindId, MOST_COMPONENTS};
use crate::problem::{Problem, nearest, with_article};
use crate::syntax::tree::{self, Date, Expr, Item, Line, Tree};
use crate::text::Span;
use rustc_hash::FxHashMap;
use smol_str::{SmolStr, format_smolstr};
use std::cell::RefCell;
use std::sync::Arc;

/// One thing that will be built, bought or poured, or an entry of a catalogue.
#[derive(Debug, Clone)]
pub struct Component {
    /// Its name; an element of an array is `gantry[2]`.
    pub name: SmolStr,
    /// Its kind.
    pub kind: KindId,
    /// What people call it.
    pub title: Option<SmolStr>,
    /// The number of the element, in an array.
    pub element: Option<u32>,
    /// Where its name stands.
    pub name_span: Span,
    /// Its header: kind and name.
    pub header: Span,
    /// The whole block.
    pub span: Span,
    pub(super) first_node: u32,
    lines: Vec<(u16, Written)>,
}

impl Component {
    /// The line written for a property (by its number in the kind), if there is one.
    #[must_use]
    pub fn written(&self, property: usize) -> Option<&Written> {
        self.lines.iter().find(|(at, _)| usize::from(*at) == property).map(|(_, written)| written)
    }

    /// Whether all lines are the very same in another reading of the text.
    #[must_use]
    pub fn is_untouched_in(&self, other: &Component) -> bool {
        let same = |((a, one), (b, two)): (&(u16, Written), &(u16, Written))| {
            a == b && Arc::ptr_eq(&one.value, &two.value) && one.origin == two.origin && one.guessed == two.guessed
        };
        self.lines.len() == other.lines.len() && self.lines.iter().zip(&other.lines).all(same)
    }

    /// All written lines: the property's number and the line.
    pub fn lines(&self) -> impl Iterator<Item = (usize, &Written)> {
        self.lines.iter().map(|(at, written)| (usize::from(*at), written))
    }

    /// Puts a line in the place of the one that was planned, which it remembers.
    pub(super) fn replace(&mut self, property: u16, mut line: Written) {
        match self.lines.iter_mut().find(|(at, _)| *at == property) {
            Some((_, planned)) => {
                line.instead_of = Some(Arc::new(planned.clone()));
                *planned = line;
            }
            None => self.lines.push((property, line)),
        }
    }
}

/// A line as it counts for one component.
#[derive(Debug, Clone)]
pub struct Written {
    /// The value.
    pub value: Arc<Expr>,
    /// The whole line.
    pub span: Span,
    /// Who wrote it.
    pub origin: Origin,
    /// What it replaces.
    pub instead_of: Option<Arc<Written>>,
    /// It says of itself that nobody knows the number yet.
    pub guessed: bool,
}

impl Written {
    /// A line as somebody wrote it, in the place of none.
    pub(super) fn of(line: &Line, origin: &Origin) -> Self {
        Self { value: Arc::clone(&line.value), span: line.span, origin: origin.clone(), instead_of: None, guessed: line.guessed.is_some() }
    }
}

/// Where a line of a component stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Origin {
    /// In its own block.
    Own,
    /// In the pattern that it follows.
    Pattern(SmolStr),
    /// In the variant chosen.
    Variant(SmolStr),
    /// Measured on that day.
    Measured(Date),
}

/// The patterns by name.
#[derive(Default)]
struct Patterns<'t> {
    blocks: FxHashMap<&'t str, &'t tree::Component>,
    /// Their names, once one was asked for that there is not.
    near: RefCell<Option<Names>>,
}

impl Patterns<'_> {
    fn nearest(&self, word: &str) -> Option<String> {
        let names = || Names::of(self.blocks.keys().map(|name| (SmolStr::new(name), None)));
        self.near.borrow_mut().get_or_insert_with(names).nearest(word, |_| true, []).map(str::to_owned)
    }
}

/// The most patterns that may follow one another: nobody reads more.
const MOST_PATTERNS: usize = 50;

/// The most lines of a block that are looked at before a property is offered.
const MOST_OTHERS: usize = 100;

impl Design {
    pub(super) fn add_components(&mut self, files: &[Arc<Tree>], choice: &Choice) {
        let items = || files.iter().flat_map(|tree| &tree.items);
        let mut patterns = Patterns::default();
        for item in items() {
            match item {
                Item::Pattern(pattern) => {
                    let Some(name) = &pattern.name else { continue };
                    if let Some(first) = patterns.blocks.insert(&name.text, pattern) {
                        self.problems.push(
                            Problem::error(format!("there are two patterns `{}`", name.text), name.span, "the second")
                                .also(first.name.as_ref().map(|name| name.span).unwrap_or_default(), "the first")
                                .help("give one of them another name"),
                        );
                    }
                }
                Item::Variant(variant) => {
                    self.variants.push((variant.name.text.clone(), variant.title.as_ref().map(|title| title.text.clone())));
                }
                Item::Measured(measured) => self.measured.push(measured.date),
                Item::Broken(_, name) => self.unreadable.extend(name.clone()),
                _ => {}
            }
        }
        for pattern in patterns.blocks.values() {
            self.check_pattern(pattern, &patterns);
        }
        let in_order = items().filter_map(|item| match item {
            Item::Pattern(pattern) => pattern.name.as_ref().map(|name| (name.text.as_str(), pattern)),
            _ => None,
        });
        let in_order: Vec<&str> = in_order
            .filter(|(name, own)| patterns.blocks.get(name).is_some_and(|used| std::ptr::eq(*used, *own)))
            .map(|(name, _)| name)
            .collect();
        self.check_rows_of_patterns(&in_order, &patterns);
        for item in items() {
            match item {
                Item::Let(line) => self.add_named(line),
                Item::Component(component) => self.add_component(component, &patterns),
                _ => {}
            }
        }
        self.number_nodes();
        self.replace(files, choice);
    }

    /// Numbers the value nodes: named values first, then each component's properties in a row.
    fn number_nodes(&mut self) {
        let mut next = u32::try_from(self.named.len()).unwrap_or(u32::MAX);
        for at in 0..self.components.len() {
            let count = self.components.get(at).map_or(0, |component| self.kind(component.kind).properties.len());
            if let Some(component) = self.components.get_mut(at) {
                component.first_node = next;
            }
            next = next.saturating_add(u32::try_from(count).unwrap_or(0));
        }
    }

    fn find_kind(&mut self, block: &tree::Component) -> Option<KindId> {
        let word = &block.kind;
        let found = self.kind_named(&word.text);
        if found.is_none() {
            let known: Vec<SmolStr> = self.kinds.iter().map(|kind| kind.name.clone()).collect();
            let known =
                || known.iter().map(SmolStr::as_str).chain(["pattern", "variant", "measured", "accept", "kind", "rule", "use", "let"]);
            let mut problem = Problem::error(format!("there is no kind of component called `{}`", word.text), word.span, "this kind");
            let turned = block.name.as_ref().filter(|name| self.kind_named(&name.text).is_some());
            problem = match (turned, nearest(&word.text, known())) {
                (Some(kind), _) => {
                    let turned = format!("{} {}", kind.text, word.text);
                    problem.help(format!("the kind stands first, then its name: write `{turned}`")).mend(
                        format!("write `{turned}`"),
                        word.span.to(kind.span),
                        turned,
                    )
                }
                (None, Some(_)) => problem.nearest(&word.text, word.span, known()),
                (None, None) => problem.help("`wallplate rules` lists the kinds; `kind` declares one of your own"),
            };
            self.problems.push(problem);
        }
        found
    }

    fn check_pattern(&mut self, pattern: &tree::Component, patterns: &Patterns<'_>) {
        let Some(kind) = self.find_kind(pattern) else { return };
        for line in &pattern.lines {
            self.property_of(kind, line, &pattern.lines);
        }
        self.lines_of(kind, pattern, patterns, true);
    }

    /// Patterns may follow one another, in no circle and not without end.
    fn check_rows_of_patterns(&mut self, in_order: &[&str], patterns: &Patterns<'_>) {
        // How many patterns stand behind each one that has been looked at.
        let mut behind: FxHashMap<&str, usize> = FxHashMap::default();
        for start in in_order.iter().copied() {
            let mut row: Vec<(&str, &tree::Word)> = Vec::new();
            let mut open: FxHashMap<&str, usize> = FxHashMap::default();
            let mut at: &str = start;
            while let Some(like) = patterns.blocks.get(at).and_then(|pattern| pattern.like.as_ref()).filter(|_| !behind.contains_key(at)) {
                if let Some(from) = open.get(at) {
                    self.problems.push(circle_of_patterns(row.get(*from..).unwrap_or_default()));
                    break;
                }
                open.insert(at, row.len());
                row.push((at, like));
                at = &like.text;
            }
            let mut count = behind.get(at).copied().unwrap_or(0);
            for (name, like) in row.into_iter().rev() {
                count += 1;
                behind.insert(name, count);
                if count == MOST_PATTERNS + 1 {
                    self.problems.push(
                        Problem::error(format!("more than {MOST_PATTERNS} patterns follow one another"), like.span, "one too many")
                            .help("write the lines of some of them into one pattern"),
                    );
                }
            }
        }
    }

    /// The number of the property that a line is for; a problem if the kind has none of that name, with the
    /// nearest that `others` of its block do not write already.
    pub(super) fn property_of(&mut self, kind: KindId, line: &Line, others: &[Line]) -> Option<usize> {
        let declared = self.kind(kind);
        let found = declared.property(&line.name.text);
        if found.is_none() {
            let word = &line.name;
            let problem = Problem::error(format!("{} has no `{}`", with_article(&declared.name), word.text), word.span, "this property");
            let free = |name: &&str| !others.iter().take(MOST_OTHERS).any(|line| line.name.text == **name);
            let names = declared.properties.iter().map(|property| property.name.as_str()).filter(free);
            let problem = if BUILT_IN_PROPERTIES.contains(&word.text.as_str()) {
                problem.help("a component's name and title stand in its first line")
            } else {
                match self.stands_elsewhere(&word.text, kind) {
                    Some(where_else) => problem.help(where_else),
                    None => {
                        let otherwise = format!("`wallplate rules {}` lists what may be written here", declared.name);
                        problem.nearest_or(&word.text, word.span, names, otherwise)
                    }
                }
            };
            self.problems.push(problem);
        }
        found
    }

    /// The lines that count for a component: its own, then those of its patterns that it does not have itself.
    fn lines_of(&mut self, kind: KindId, component: &tree::Component, patterns: &Patterns<'_>, quiet: bool) -> Vec<(u16, Written)> {
        let mut lines: Vec<(u16, Written)> = Vec::with_capacity(component.lines.len());
        let mut seen: Vec<&str> = Vec::new();
        let mut current = component;
        let mut origin = Origin::Own;
        loop {
            let start = lines.len();
            for line in &current.lines {
                let property = if quiet || origin != Origin::Own {
                    self.kind(kind).property(&line.name.text)
                } else {
                    self.property_of(kind, line, &current.lines)
                };
                let Some(property) = property.and_then(|property| u16::try_from(property).ok()) else { continue };
                let before = lines.iter().position(|(at, _)| *at == property);
                match before {
                    Some(at) if at >= start && origin == Origin::Own => {
                        let first = lines.get(at).map(|(_, written)| written.span).unwrap_or_default();
                        self.problems.push(
                            Problem::error(format!("`{}` is written twice", line.name.text), line.span, "the second")
                                .also(first, "the first")
                                .help("keep one of them"),
                        );
                    }
                    Some(_) => {}
                    None => lines.push((property, Written::of(line, &origin))),
                }
            }
            let Some(like) = &current.like else { break };
            let Some(pattern) = patterns.blocks.get(like.text.as_str()) else {
                if !quiet || std::ptr::eq(current, component) {
                    let problem = self.not_used(&like.text, like.span).unwrap_or_else(|| {
                        let otherwise = format!("write it as `pattern {} {} {{ … }}`", component.kind.text, like.text);
                        let problem = Problem::error(format!("there is no pattern `{}`", like.text), like.span, "this pattern");
                        offered(problem, patterns.nearest(&like.text).as_deref(), like.span, otherwise)
                    });
                    self.problems.push(problem);
                }
                break;
            };
            if seen.contains(&like.text.as_str()) || seen.len() == MOST_PATTERNS {
                break;
            }
            if pattern.kind.text != component.kind.text && !quiet {
                self.problems.push(
                    Problem::error(
                        format!(
                            "`{}` is a pattern for {}, not for {}",
                            like.text,
                            with_article(&pattern.kind.text),
                            with_article(&component.kind.text)
                        ),
                        like.span,
                        "this pattern",
                    )
                    .also(pattern.kind.span, "its kind")
                    .help(format!("follow a pattern of kind `{}`", component.kind.text)),
                );
                break;
            }
            seen.push(&like.text);
            origin = Origin::Pattern(like.text.clone());
            current = pattern;
        }
        lines
    }

    fn add_component(&mut self, component: &tree::Component, patterns: &Patterns<'_>) {
        let Some(kind) = self.find_kind(component) else {
            self.unreadable.extend(component.name.iter().map(|name| name.text.clone()));
            return;
        };
        let one_only = self.kind(kind).one_only;
        let name = match &component.name {
            Some(name) => name.clone(),
            None if one_only => component.kind.clone(),
            None => {
                self.problems.push(
                    Problem::error(format!("this {} has no name", component.kind.text), component.kind.span, "a name should follow")
                        .help(format!("write a name of your own, like `{} north_{}`", component.kind.text, component.kind.text)),
                );
                return;
            }
        };
        if let Some(first) = self.of_kind(kind).first().copied().filter(|_| one_only) {
            let span = self.component(first).header;
            self.problems.push(
                Problem::error(format!("a design has one {}", component.kind.text), component.kind.span, "the second")
                    .also(span, "the first")
                    .help("put the lines of both into one block"),
            );
            return;
        }
        let (first, last) = match component.elements {
            None => (None, None),
            Some((first, last, span)) if last < first => {
                self.problems.push(
                    Problem::error(format!("`[{first}..{last}]` counts backwards"), span, "here")
                        .help(format!("write [{last}..{first}]"))
                        .mend(format!("write [{last}..{first}]"), span, format!("[{last}..{first}]")),
                );
                return;
            }
            Some((first, last, span)) if (last - first) as usize + self.components.len() >= MOST_COMPONENTS => {
                self.problems
                    .push(Problem::error(format!("more than {MOST_COMPONENTS} components"), span, "these").help("check the last number"));
                return;
            }
            Some((first, last, _)) => (Some(first), Some(last)),
        };
        let lines = self.lines_of(kind, component, patterns, false);
        let id = ComponentId(u32::try_from(self.components.len()).unwrap_or(u32::MAX));
        let entry = match (first, last) {
            (Some(first), Some(last)) => Entry::Array(id, first, last - first + 1),
            _ => Entry::Component(id),
        };
        if !self.define(&name.text, name.span, entry) {
            return;
        }
        let title = component.title.as_ref().map(|title| title.text.clone());
        let elements: Vec<Option<u32>> = match (first, last) {
            (Some(first), Some(last)) => (first..=last).map(Some).collect(),
            _ => vec![None],
        };
        for element in elements {
            let id = ComponentId(u32::try_from(self.components.len()).unwrap_or(u32::MAX));
            self.components.push(Component {
                name: element.map_or_else(|| name.text.clone(), |element| format_smolstr!("{}[{element}]", name.text)),
                kind,
                title: title.clone(),
                element,
                name_span: name.span,
                header: component.kind.span.to(name.span),
                span: component.span,
                first_node: 0,
                lines: lines.clone(),
            });
            if let Some(all) = self.by_kind.get_mut(kind.0 as usize) {
                all.push(id);
            }
        }
    }
}

/// All patterns of a circle, each with its `like`.
fn circle_of_patterns(row: &[(&str, &tree::Word)]) -> Problem {
    let label = |(name, like): &(&str, &tree::Word)| format!("`{name}` follows `{}`", like.text);
    let (first, rest) = row.split_first().map_or((None, row), |(first, rest)| (Some(first), rest));
    let span = first.map(|(_, like)| like.span).unwrap_or_default();
    let message = match rest {
        [] => format!("the pattern `{}` follows itself", first.map_or("", |(name, _)| name)),
        _ => "these patterns follow one another in a circle".to_owned(),
    };
    let problem = Problem::error(message, span, first.map(label).unwrap_or_default()).help("take out one `like`");
    rest.iter().take(MOST_PATTERNS).fold(problem, |problem, step| problem.also(step.1.span, label(step)))
}
