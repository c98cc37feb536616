//! A rule that is written once and stands for several: `for end in [open, closed]`.
//!
//! In: its block. Out: a block for each word of its `for` line, with that word in place of the name, so that nothing
//! behind needs to know of it. Where the name is held against a word (`if end == open then … else …`) it is settled
//! here which branch is meant: each rule holds only what is said of it.

use crate::problem::Problem;
use crate::syntax::tree::{self, Binary, Expr, Let, Line, Node, Repeated, TemplatePart, Text, Word};
use rustc_hash::FxHashSet;
use smol_str::SmolStr;
use std::sync::Arc;

/// The blocks of the rules that a block stands for, by the order of its words.
pub(super) fn each_of(block: &tree::Rule, problems: &mut Vec<Problem>) -> Vec<tree::Rule> {
    let Some(repeated) = &block.repeated else {
        if let Some(second) = block.also.first() {
            let problem = Problem::error("a rule with several names needs a line `for`", second.span, "the second name");
            problems.push(problem.also(block.name.span, "the first").help("write `for end in [open, closed]`, a word for each name"));
        }
        return vec![tree::Rule { also: Vec::new(), ..block.clone() }];
    };
    check(block, repeated, problems);
    let names = std::iter::once(&block.name).chain(&block.also);
    if binders(block).iter().any(|name| name.text == repeated.name.text) {
        // It has been told; what the name stands for nobody can say.
        return names.map(|name| tree::Rule { name: name.clone(), also: Vec::new(), repeated: None, ..block.clone() }).collect();
    }
    let bound: FxHashSet<&SmolStr> = binders(block).into_iter().map(|name| &name.text).collect();
    let mut told = Vec::new();
    let all = names.zip(&repeated.words).map(|(name, word)| One { repeated, word, bound: &bound, problems: &mut told }.block(block, name));
    let all = all.collect();
    // What is wrong for one of the words is mostly so for each.
    for problem in told {
        if !problems.contains(&problem) {
            problems.push(problem);
        }
    }
    all
}

/// As many names as words, each word once, and a name that stands for nothing else and is spoken of.
fn check(block: &tree::Rule, repeated: &Repeated, problems: &mut Vec<Problem>) {
    let (names, words) = (block.also.len() + 1, repeated.words.len());
    if names != words {
        let several = |count: usize, what: &str| if count == 1 { format!("one {what}") } else { format!("{count} {what}s") };
        let (names, words) = (several(names, "name"), several(words, "word"));
        let span = block.also.last().map_or(block.name.span, |last| block.name.span.to(last.span));
        let problem = Problem::error(format!("this rule has {names}, and its line `for` has {words}"), repeated.span, words);
        problems.push(
            problem.also(span, names).help(
                "each word is for one of the names, in their order: `rule house.opens, house.shuts` with `for end in [open, closed]`",
            ),
        );
    }
    for (at, word) in repeated.words.iter().enumerate() {
        if let Some(first) = repeated.words.iter().take(at).find(|first| first.text == word.text) {
            let problem = Problem::error(format!("`{}` stands here twice", word.text), word.span, "the second");
            problems.push(problem.also(first.span, "the first").help("write each word once"));
        }
    }
    if let Some(taken) = binders(block).into_iter().find(|name| name.text == repeated.name.text) {
        let problem = Problem::error(format!("`{}` is already taken", taken.text), taken.span, "the second");
        problems.push(problem.also(repeated.name.span, "the first").help("give one of them another name"));
    }
    let mut spoken_of = false;
    expressions(block, &mut |expr| {
        expr.walk(&mut |inner| spoken_of |= matches!(&inner.node, Node::Name(name) if *name == repeated.name.text));
    });
    if !spoken_of {
        let problem = Problem::error(format!("nothing in this rule speaks of `{}`", repeated.name.text), repeated.name.span, "this name");
        problems.push(problem.help("the rules would all be the same: take out the line `for`, and all names but one"));
    }
}

/// Each expression of a rule.
fn expressions<'e>(block: &'e tree::Rule, take: &mut dyn FnMut(&'e Expr)) {
    for binder in &block.each {
        take(&binder.source);
        binder.condition.iter().for_each(|condition| take(condition));
    }
    block.lets.iter().for_each(|line| take(&line.value));
    block.lines.iter().for_each(|line| take(&line.value));
}

/// The names that a rule binds, wherever it does.
fn binders(block: &tree::Rule) -> Vec<&Word> {
    let mut names: Vec<&Word> = block.each.iter().map(|binder| &binder.name).chain(block.lets.iter().map(|line| &line.name)).collect();
    expressions(block, &mut |expr| {
        expr.walk(&mut |inner| {
            if let Node::Aggregate { binders, .. } = &inner.node {
                names.extend(binders.iter().map(|binder| &binder.name));
            }
        });
    });
    names
}

/// One of the rules: the word that stands in place of the name.
struct One<'r> {
    repeated: &'r Repeated,
    word: &'r Word,
    /// Other names that the rule binds.
    bound: &'r FxHashSet<&'r SmolStr>,
    problems: &'r mut Vec<Problem>,
}

impl One<'_> {
    fn block(&mut self, block: &tree::Rule, name: &Word) -> tree::Rule {
        tree::Rule {
            span: block.span,
            name: name.clone(),
            also: Vec::new(),
            title: block.title.as_ref().map(|title| self.title(title)),
            repeated: None,
            each: block.each.iter().map(|binder| binder.with_parts(&mut |part| self.put(part))).collect(),
            lets: block.lets.iter().map(|line| Let { value: Arc::new(self.put(&line.value)), ..line.clone() }).collect(),
            lines: block.lines.iter().map(|line| Line { value: Arc::new(self.put(&line.value)), ..line.clone() }).collect(),
        }
    }

    fn title(&self, title: &Text) -> Text {
        let text = title.text.replace(&format!("{{{}}}", self.repeated.name.text), &self.word.text);
        Text { text: text.into(), span: title.span }
    }

    fn is_name(&self, expr: &Expr) -> bool {
        matches!(&expr.node, Node::Name(name) if *name == self.repeated.name.text)
    }

    fn put(&mut self, expr: &Expr) -> Expr {
        stacker::maybe_grow(64 * 1024, 2 * 1024 * 1024, || self.put_here(expr))
    }

    fn put_here(&mut self, expr: &Expr) -> Expr {
        let node = match &expr.node {
            Node::Name(_) if self.is_name(expr) => Node::Name(self.word.text.clone()),
            Node::Template(pieces) => Node::Template(
                pieces
                    .iter()
                    .map(|piece| match piece {
                        TemplatePart::Text(text) => TemplatePart::Text(text.clone()),
                        TemplatePart::Value(inner) if self.is_name(inner) => TemplatePart::Text(self.word.text.clone()),
                        TemplatePart::Value(inner) => TemplatePart::Value(self.put(inner)),
                    })
                    .collect(),
            ),
            Node::Binary(operator @ (Binary::Equal | Binary::NotEqual), _, a, b) => match self.asked(a, b) {
                Some(is_it) => Node::Flag(is_it == (*operator == Binary::Equal)),
                None => return expr.with_parts(&mut |part| self.put(part)),
            },
            Node::If(condition, a, b) => {
                let condition = self.put(condition);
                match condition.node {
                    Node::Flag(true) => return self.put(a),
                    Node::Flag(false) => return self.put(b),
                    _ => Node::If(Box::new(condition), Box::new(self.put(a)), Box::new(self.put(b))),
                }
            }
            _ => return expr.with_parts(&mut |part| self.put(part)),
        };
        Expr { span: expr.span, node }
    }

    /// Whether the name is the word that it is held against; nothing where no word of the line is spoken of.
    fn asked(&mut self, a: &Expr, b: &Expr) -> Option<bool> {
        let (name, other) = if self.is_name(a) { (a, b) } else { (b, a) };
        let Node::Name(word) = &other.node else { return None };
        if !self.is_name(name) || self.is_name(other) || self.bound.contains(word) {
            return None;
        }
        let words = &self.repeated.words;
        if !words.iter().any(|known| known.text == *word) {
            let all: Vec<&str> = words.iter().map(|word| word.text.as_str()).collect();
            self.problems.push(
                Problem::error(format!("`{}` is never `{word}`", self.repeated.name.text), other.span, "this word")
                    .also(self.repeated.span, "its words")
                    .nearest_or(word, other.span, all.iter().copied(), format!("it is {}", all.join(" or "))),
            );
        }
        Some(*word == self.word.text)
    }
}
