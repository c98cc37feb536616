//! The steps of a kind: what its `let` lines give a name, for its own properties alone.
//!
//! In: the block of a kind. Out: where the name of a step stands, and which expression stands there in truth
//! (`lets.rs` has put it in place): so that a reader who is shown a formula sees what is worked out, and no name that
//! nothing explains.

use crate::problem::Problem;
use crate::syntax::tree::{self, Expr, Let, Node};
use crate::text::{Sources, Span};
use rustc_hash::FxHashSet;
use smol_str::SmolStr;
use std::borrow::Cow;
use std::collections::BTreeMap;

/// Where names of steps stand, each with the place of the step's expression.
#[derive(Debug, Clone, Default)]
pub struct Steps(BTreeMap<Span, Step>);

#[derive(Debug, Clone, Copy)]
struct Step {
    value: Span,
    /// An operator beside it would tear it apart.
    needs_brackets: bool,
}

impl Steps {
    /// Those of one more kind; a step that is called like a property, or that nothing speaks of, is a mistake.
    pub(super) fn add(&mut self, kind: &tree::Kind, problems: &mut Vec<Problem>) {
        if kind.lets.is_empty() {
            return;
        }
        let lets = kind.lets.as_slice();
        let mut spoken_of: FxHashSet<SmolStr> = FxHashSet::default();
        // A step may speak of those above it.
        let own = lets.iter().enumerate().map(|(at, line)| (&line.value, lets.get(..at).unwrap_or_default()));
        let defaults = kind.properties.iter().flat_map(|property| {
            let usual = property.usual.iter().map(|usual| &usual.range);
            property.default.iter().chain(property.bounds.iter().map(|(_, limit)| limit)).chain(usual)
        });
        let others = defaults.chain(kind.facts.iter().map(|fact| &fact.value)).map(|expr| (expr, lets));
        for (expr, known) in others.chain(own) {
            expr.walk(&mut |inner| {
                if let Node::Name(name) = &inner.node
                    && let Some(line) = known.iter().find(|line| line.name.text == *name)
                {
                    spoken_of.insert(name.clone());
                    self.0.insert(inner.span, Step { value: line.value.span, needs_brackets: is_torn(&line.value) });
                }
            });
        }
        for line in lets {
            problems.extend(wrong_with(line, kind, &spoken_of));
        }
    }

    /// The text of a place, with the steps that it names written out.
    #[must_use]
    pub fn written_out<'s>(&self, sources: &'s Sources, span: Span) -> Cow<'s, str> {
        let written = sources.slice(span);
        let (from, to) = (Span { end: 0, ..span }, Span { start: span.end, end: 0, ..span });
        let mut text = String::new();
        let mut done = span.start;
        for (name, step) in self.0.range(from..to) {
            // A default that is nothing but the name of a step stands at the step itself.
            text.push_str(sources.slice(Span { start: done, end: name.start, ..span }));
            let value = self.written_out(sources, step.value);
            let behind = sources.slice(Span { start: name.end, ..span });
            if step.needs_brackets && !is_whole_argument(&text, behind) {
                text.push('(');
                text.push_str(&value);
                text.push(')');
            } else {
                text.push_str(&value);
            }
            done = name.end;
        }
        if text.is_empty() && done == span.start {
            return Cow::Borrowed(written);
        }
        text.push_str(sources.slice(Span { start: done, ..span }));
        Cow::Owned(text)
    }
}

fn wrong_with(line: &Let, kind: &tree::Kind, spoken_of: &FxHashSet<SmolStr>) -> Option<Problem> {
    let name = &line.name;
    if let Some(property) = kind.properties.iter().find(|property| property.name.text == name.text) {
        let problem = Problem::error(format!("`{}` is a property of this kind already", name.text), name.span, "this name");
        return Some(problem.also(property.name.span, "the property").help("give the step another name"));
    }
    let problem = Problem::error(format!("nothing in this kind speaks of `{}`", name.text), name.span, "this name");
    let help = "a step is for the properties of its own kind: use it in one of them, or take it out";
    (!spoken_of.contains(&name.text)).then(|| problem.help(help))
}

/// Whether what stands between these is an argument, or one of a list, by itself.
fn is_whole_argument(before: &str, behind: &str) -> bool {
    let ends_alone = behind.trim_start().chars().next().is_none_or(|sign| matches!(sign, ',' | ')' | ']'));
    ends_alone && before.trim_end().ends_with(|sign: char| matches!(sign, ',' | '(' | '[' | '_') || sign.is_alphanumeric())
}

fn is_torn(value: &Expr) -> bool {
    matches!(value.node, Node::Binary(..) | Node::Unary(..) | Node::If(..) | Node::Range(..) | Node::Size(..) | Node::Tolerance { .. })
}
