//! What goes onto paper, its lines sorted out: pictures, purchases, tasks, reminders, readings of a rolled roof, reviews.

use super::Design;
use super::forms::{COMMON_LINES, Form, Forms, LineTakes};
use super::lets::Lets;
use crate::problem::Problem;
use crate::syntax::tree::{self, Binder, Expr, Node, Tree, Word};
use crate::text::Span;
use smol_str::SmolStr;
use std::sync::Arc;

/// Onto which paper it goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PaperSort {
    /// A shape on a drawing.
    Picture,
    /// Something to buy.
    Purchase,
    /// A step of the work.
    Task,
    /// A line of a card on the wall.
    Reminder,
    /// Something that is rolled from one end of its travel to the other.
    Roll,
    /// A place or a stretch of that travel.
    Zone,
    /// What is read off at each place of that travel; `travel` stands for it.
    Reading,
    /// Somebody who has to look at the design.
    Review,
    /// What is told of how a part behaves.
    Account,
}

impl PaperSort {
    /// All of them, by the word that each begins with.
    pub const ALL: [(&str, PaperSort); 9] = [
        ("picture", Self::Picture),
        ("purchase", Self::Purchase),
        ("task", Self::Task),
        ("reminder", Self::Reminder),
        ("roll", Self::Roll),
        ("zone", Self::Zone),
        ("reading", Self::Reading),
        ("review", Self::Review),
        ("account", Self::Account),
    ];

    /// The word that it begins with.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::ALL.iter().find(|(_, sort)| *sort == self).map_or("", |(word, _)| word)
    }
}

/// Something for paper, for each of what it goes over.
#[derive(Debug, Clone)]
pub struct Paper {
    /// Onto which paper.
    pub sort: PaperSort,
    /// Its dotted name.
    pub name: SmolStr,
    /// Where the name stands.
    pub name_span: Span,
    /// What it is.
    pub title: SmolStr,
    /// Over what it goes.
    pub each: Vec<Binder>,
    /// Only where this holds.
    pub when: Option<Arc<Expr>>,
    pub(super) lines: Vec<(Word, Arc<Expr>)>,
}

impl Paper {
    /// The papers of a tree, with what is wrong with them. Whether their lines fit their form is for the design to say.
    #[must_use]
    pub fn all_in(tree: &Tree) -> (Vec<Paper>, Vec<Problem>) {
        let mut problems = Vec::new();
        let papers = tree.items.iter().filter_map(|item| match item {
            tree::Item::Paper(paper) => Paper::read(paper, &mut problems),
            _ => None,
        });
        (papers.collect(), problems)
    }

    /// The value of a line, as it is written.
    #[must_use]
    pub fn line(&self, name: &str) -> Option<&Arc<Expr>> {
        self.lines.iter().find(|(line, _)| line.text == name).map(|(_, value)| value)
    }

    /// The bare words of a line, as they are written: `plan, side`.
    #[must_use]
    pub fn words(&self, name: &str) -> Vec<&SmolStr> {
        let value = self.line(name);
        value.map(|value| bare_words(value)).unwrap_or_default().into_iter().map(|(word, _)| word).collect()
    }

    fn read(written: &tree::Paper, problems: &mut Vec<Problem>) -> Option<Paper> {
        let (_, sort) = PaperSort::ALL.into_iter().find(|(word, _)| written.sort.text == *word)?;
        let block = &written.block;
        let mut paper = Paper {
            sort,
            name: block.name.text.clone(),
            name_span: block.name.span,
            title: block.title.as_ref().map(|title| title.text.clone()).unwrap_or_default(),
            each: block.each.clone(),
            when: None,
            lines: Vec::with_capacity(block.lines.len()),
        };
        if let Some(repeated) = &block.repeated {
            problems.push(
                Problem::error(format!("a {} has no line `for`", sort.word()), repeated.span, "this line")
                    .help("a rule may stand for several words so; here `each end in [open, closed]` goes over both"),
            );
        }
        let lets = Lets::of(&block.each, &block.lets, problems);
        for line in &block.lines {
            let value = lets.put(&line.value, problems);
            if line.name.text == "when" {
                paper.when = Some(value);
            } else {
                paper.lines.push((line.name.clone(), value));
            }
        }
        Some(paper)
    }

    /// Its expressions: those that are no bare words, with the name of their line.
    pub(super) fn expressions<'p>(&'p self, form: &'p Form) -> impl Iterator<Item = (&'p Word, &'p Arc<Expr>)> {
        let words = |line: &Word| form.line(&line.text).is_some_and(|line| line.takes.is_words());
        self.lines.iter().filter(move |(line, _)| !words(line)).map(|(line, value)| (line, value))
    }
}

/// The words that stand in a line bare or in quotes, with their places.
fn bare_words(value: &Expr) -> Vec<(&SmolStr, Span)> {
    match &value.node {
        Node::Name(word) | Node::Text(word) => vec![(word, value.span)],
        Node::List(items) => items.iter().flat_map(bare_words).collect(),
        _ => Vec::new(),
    }
}

impl Design {
    pub(super) fn add_paper(&mut self, written: &tree::Paper) {
        if let Some(paper) = Paper::read(written, &mut self.problems) {
            if let Some(first) = self.papers.iter().find(|known| known.name == paper.name && known.sort == paper.sort) {
                let problem =
                    Problem::error(format!("there is already a {} `{}`", paper.sort.word(), paper.name), paper.name_span, "the second");
                self.problems.push(problem.also(first.name_span, "the first").help("give it another name"));
                return;
            }
            self.papers.push(paper);
        }
    }

    /// Holds the design's own papers against their forms, once all rules are known.
    pub(super) fn check_papers(&mut self) {
        // The forms are read only where there is something to hold against them.
        let Some(forms) = self.forms.filter(|_| !self.papers.is_empty()) else { return };
        let problems: Vec<Problem> = self.papers.iter().flat_map(|paper| self.unlike_its_form(paper, forms())).collect();
        self.problems.extend(problems);
    }

    /// What of a paper's lines does not fit its form, as far as words go.
    pub(super) fn unlike_its_form(&self, paper: &Paper, forms: &Forms) -> Vec<Problem> {
        let Some(form) = forms.form(paper.sort.word()) else { return Vec::new() };
        let mut problems = Vec::new();
        let mut seen: Vec<&Word> = Vec::new();
        for (line, value) in &paper.lines {
            if let Some(first) = seen.iter().find(|known| known.text == line.text) {
                let problem = Problem::error(format!("`{}` is written twice", line.text), line.span, "the second");
                problems.push(problem.also(first.span, "the first").help("keep one of them"));
            }
            seen.push(line);
            let Some(declared) = form.line(&line.text) else {
                problems.extend(form.no_such_line(line));
                continue;
            };
            match &declared.takes {
                LineTakes::Sheets => problems.extend(unknown_words(value, &line.text, "sheet or view", || forms.sheet_words())),
                LineTakes::Areas => {
                    problems.extend(unknown_words(value, &line.text, "area of rules", || self.rules.iter().map(|rule| rule.area())));
                }
                LineTakes::Words(words) => {
                    problems.extend(unknown_words(value, &line.text, "such word", || words.iter().map(SmolStr::as_str)));
                }
                _ => {}
            }
        }
        for missing in form.lines.iter().filter(|line| line.required && paper.line(&line.name).is_none()) {
            let problem =
                Problem::error(format!("this {} has no line `{}`", form.word, missing.name), paper.name_span, "it is missing here");
            problems.push(problem.help(format!("write `{} …`: {}", missing.name, missing.doc)));
        }
        problems
    }
}

impl Form {
    fn no_such_line(&self, line: &Word) -> Option<Problem> {
        let all = || COMMON_LINES.into_iter().chain(self.lines.iter().map(|line| line.name.as_str()));
        if COMMON_LINES.contains(&line.text.as_str()) {
            return None;
        }
        let problem = Problem::error(format!("a {} has no line `{}`", self.word, line.text), line.span, "this line");
        let problem = problem.help(format!("its lines are {}", all().collect::<Vec<_>>().join(", ")));
        Some(problem.nearest(&line.text, line.span, all()))
    }
}

/// The words of a line that are none of those known; a value that is no word at all.
fn unknown_words<'k, K: Iterator<Item = &'k str>>(value: &Expr, line: &str, what: &str, known: impl Fn() -> K) -> Vec<Problem> {
    let listed = || {
        let mut all: Vec<&str> = known().collect();
        all.dedup();
        all.join(", ")
    };
    let words = bare_words(value);
    if words.is_empty() {
        let problem = Problem::error(format!("`{line}` is a word, or several with commas"), value.span, "this value");
        return vec![problem.help(format!("write {}", listed()))];
    }
    let unknown = words.into_iter().filter(|(word, _)| !known().any(|one| one == word.as_str()));
    let told = |(word, span): (&SmolStr, Span)| {
        let problem = Problem::error(format!("there is no {what} `{word}`"), span, "this word");
        problem.help(format!("write {}", listed())).nearest(word, span, known())
    };
    unknown.map(told).collect()
}
