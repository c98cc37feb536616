//! What goes onto paper, its lines sorted out: pictures, purchases, tasks, reminders, readings of a rolled roof, reviews.

use super::Design;
use super::lets::Lets;
use crate::problem::Problem;
use crate::syntax::tree::{self, Binder, Expr, Node, Tree};
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
}

impl PaperSort {
    /// All of them, by the word that each begins with.
    pub const ALL: [(&str, PaperSort); 8] = [
        ("picture", Self::Picture),
        ("purchase", Self::Purchase),
        ("task", Self::Task),
        ("reminder", Self::Reminder),
        ("roll", Self::Roll),
        ("zone", Self::Zone),
        ("reading", Self::Reading),
        ("review", Self::Review),
    ];

    /// The word that it begins with.
    #[must_use]
    pub fn word(self) -> &'static str {
        Self::ALL.iter().find(|(_, sort)| *sort == self).map_or("", |(word, _)| word)
    }

    /// The lines that it may have besides `each` and `when`, for messages and completion.
    #[must_use]
    pub fn lines(self) -> &'static [&'static str] {
        match self {
            Self::Picture => &["sheet", "shape", "line", "label", "of", "chain", "running", "moves_with", "travel", "note", "source"],
            Self::Purchase => &[
                "item",
                "group",
                "count",
                "length",
                "cut_from",
                "saw_cut",
                "amount",
                "spare",
                "pack",
                "packed_in",
                "price",
                "note",
                "source",
                "caution",
            ],
            Self::Task => &["does", "after", "takes", "trade", "hold", "note", "source", "caution"],
            Self::Reminder => &["card", "says", "note", "source", "caution"],
            Self::Roll => &["from", "to", "note", "source"],
            Self::Zone => &["label", "from", "to", "note", "source"],
            Self::Reading => &["group", "label", "says", "lit", "note", "source"],
            Self::Review => &["looks_at", "areas", "note", "source"],
        }
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
    lines: Vec<(SmolStr, Arc<Expr>)>,
}

impl Paper {
    /// The papers of a tree, with what is wrong with them.
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
        self.lines.iter().find(|(line, _)| line == name).map(|(_, value)| value)
    }

    /// The bare words of a line, as they are written: `plan, side`.
    #[must_use]
    pub fn words(&self, name: &str) -> Vec<&SmolStr> {
        fn gather<'e>(expr: &'e Expr, words: &mut Vec<&'e SmolStr>) {
            match &expr.node {
                Node::Name(word) | Node::Text(word) => words.push(word),
                Node::List(items) => items.iter().for_each(|item| gather(item, words)),
                _ => {}
            }
        }
        let mut words = Vec::new();
        if let Some(value) = self.line(name) {
            gather(value, &mut words);
        }
        words
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
        let lets = Lets::of(&block.each, &block.lets, problems);
        for line in &block.lines {
            let word = line.name.text.as_str();
            let value = lets.put(&line.value, problems);
            if word == "when" {
                paper.when = Some(value);
            } else if sort.lines().contains(&word) {
                paper.lines.push((line.name.text.clone(), value));
            } else {
                problems.push(
                    Problem::error(format!("a {} has no line `{word}`", sort.word()), line.name.span, "this line")
                        .help(format!("its lines are each, when, {}", sort.lines().join(", ")))
                        .nearest(word, line.name.span, sort.lines().iter().copied().chain(["each", "when"])),
                );
            }
        }
        Some(paper)
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
}
