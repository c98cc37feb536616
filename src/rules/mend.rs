//! What to write instead: numbers with which a rule holds, each tried before it is said.
//!
//! In: a finding that does not hold well, and the rule's lines `mend` and `suffices`. Out: for each line that they
//! name the number nearest to what is written with which the rule passes, wherever within its tolerance each
//! number may be. A `mend` is a number that a builder sets, and is offered as a change of the text; what
//! `suffices` stands on a data sheet: another part has to be bought, so it is only said. A line that several
//! components stand on changes for all of them, and the words say so.

use super::engine::Engine;
use super::finding::Verdict;
use super::worst;
use crate::design::{ComponentId, LimitWord, NodeId, NodeKind, Origin, Writer};
use crate::problem::Mend;
use crate::syntax::tree::{Expr, Node};
use crate::text::Span;
use crate::units::{self, Unit};
use crate::values::{Figure, Lack, Quantity, Scope, Turn, Value};
use std::cell::RefCell;

/// So much finer than its writer wrote it a number may be where that is not fine enough to hold the rule.
const FINER: usize = 3;
/// A number is rounded by no more than this part of the change.
const ROUNDED: f64 = 0.1;
/// The first step away from a written number, as a part of it; each further step is `STEP` times as far.
const FIRST_STEP: f64 = 0.002;
const STEP: f64 = 1.6;
/// Steps in either direction: the last is some thirty times the written number away.
const STEPS: i32 = 21;
/// Halvings between the last number that fails and the first that holds.
const HALVINGS: usize = 12;

/// How the rule stands with some values replaced, and by how much it fails.
pub(super) type Judge<'j> = dyn Fn(&mut Scope) -> Result<(Verdict, f64), Lack> + 'j;

/// Numbers that were tried, in words and as changes of the text.
#[derive(Debug, Default)]
pub(super) struct Remedies {
    /// A clause for each, to stand before other help.
    pub(super) words: Vec<String>,
    /// What a builder may simply write.
    pub(super) mends: Vec<Mend>,
    /// What a part that is bought would have to have.
    pub(super) suffices: Vec<Mend>,
}

/// A line with the number that is written in it.
struct Line {
    /// The values that it is for, the one that the rule looked at first.
    nodes: Vec<NodeId>,
    component: ComponentId,
    property: usize,
    /// `open_sensor.station`
    name: String,
    /// Which part of a range; 0 for a single number.
    part: usize,
    /// Its number, without its tolerance.
    before: Quantity,
    /// Where that stands.
    span: Span,
    /// How it is written.
    figure: Figure,
    /// The rule names its new value, in the unit that was meant; no other number is looked for.
    is_named: bool,
    /// A plain number, and no expression that would be lost.
    plain: bool,
}

impl Engine<'_> {
    /// What the rule's `mend` and `suffices` lines come to; `worst` are the ends that hurt most as it is written.
    pub(super) fn remedies(&self, scope: &mut Scope, ends: &[[Turn; 2]], worst: &[Turn], judge: &Judge<'_>) -> Remedies {
        let mut found = Remedies::default();
        for (lines, is_mend) in [(&self.rule.mend, true), (&self.rule.suffices, false)] {
            let Some(lines) = lines else { continue };
            let named = match &lines.node {
                Node::List(items) => items.iter().collect(),
                _ => vec![lines.as_ref()],
            };
            for one in named {
                let (line, value) = match &one.node {
                    Node::Range(line, value) => (line.as_ref(), Some(value.as_ref())),
                    _ => (one, None),
                };
                let trial = Trial { engine: self, ends, worst, judge };
                if let Some((line, text)) = self.line(line, scope).and_then(|line| trial.number(line, value, scope)) {
                    self.say(&mut found, &line, text, is_mend);
                }
            }
        }
        found
    }

    fn say(&self, found: &mut Remedies, line: &Line, text: String, is_mend: bool) {
        let others = match line.nodes.len() {
            1 => String::new(),
            count => format!(" for all {count} that this line is for"),
        };
        let before = self.evaluator.show_quantity(&line.before);
        found.words.push(if is_mend {
            format!("set {} to {text}{others} (now {before})", line.name)
        } else {
            format!("{} of {text}{others} would do (now {before})", line.name)
        });
        let property = self.evaluator.design().kind_of(line.component).properties.get(line.property);
        let property = property.map_or("", |declared| declared.name.as_str());
        let title = format!("write `{property} {text}`{others}");
        let mend = Mend { title, span: line.span, text };
        match is_mend {
            true if line.plain => found.mends.push(mend),
            _ => found.suffices.push(mend),
        }
    }

    /// The line of a value, if a number stands in a block of the design: `s.station`, the end of a range, `k.runs.to`, or
    /// what a formula took out of a line that holds several.
    fn line(&self, line: &Expr, scope: &mut Scope) -> Option<Line> {
        let (evaluator, design) = (self.evaluator, self.evaluator.design());
        // What is known already reads its values in another order.
        let once = std::mem::take(&mut scope.once);
        let (taken, last) = evaluator.last_read(|| evaluator.evaluate(line, scope));
        scope.once = once;
        let is_named = matches!(line.node, Node::Call(..));
        let node = last?;
        let NodeKind::Property(id, property) = design.node_kind(node) else { return None };
        let component = design.component(id);
        let written = component.written(property).filter(|written| matches!(written.origin, Origin::Own | Origin::Pattern(_)))?;
        if written.span.file.is_built_in() {
            return None;
        }
        let follows =
            |other: &&ComponentId| **other != id && design.component(**other).written(property).is_some_and(|one| one.span == written.span);
        // Whoever comes to follow the same line, or does so no longer, changes what is offered.
        let all = evaluator.members(component.kind);
        all.iter().for_each(|other| evaluator.note_read(design.node(*other, property)));
        let others = all.iter().filter(follows).map(|other| design.node(*other, property));
        let nodes = std::iter::once(node).chain(others).collect();
        let (part, before) = match (evaluator.known(node)?.ok()?, &line.node, &written.value.node) {
            (value, ..) if is_named => {
                let Ok(Value::Quantity(taken)) = taken else { return None };
                (value.quantities().iter().position(|one| *one == taken)?, taken)
            }
            (Value::Quantity(before), ..) => (0, before),
            (Value::Range(ends), Node::Field(_, end), Node::Range(..)) => {
                let part = usize::from(end.text == "to");
                (part, ends.get(part)?.clone())
            }
            _ => return None,
        };
        let nominal = written.value.numbers().get(part)?.nominal();
        let plain = nominal.written().and_then(|(parts, span)| Some((Figure::of(parts)?, span)));
        let is_plain = plain.is_some();
        let (figure, span) = match plain {
            Some(plain) => plain,
            // Feet with inches read best in inches where decimals come in.
            None => {
                let unit = units::display_unit(before.si, before.dim, before.unit.as_deref(), evaluator.system())?;
                let unit = if unit.is_feet_inches() { Unit::parse("in").ok()? } else { unit };
                (Figure::whole(unit), nominal.span)
            }
        };
        let end = match (&written.value.node, part) {
            (Node::Range(..), 0) => ".from",
            (Node::Range(..), 1) => ".to",
            _ => "",
        };
        let name = format!("{}{end}", design.node_name(node));
        Some(Line { nodes, component: id, property, name, part, before, span, figure, is_named, plain: is_plain })
    }
}

/// One rule, tried with other numbers.
struct Trial<'t> {
    engine: &'t Engine<'t>,
    ends: &'t [[Turn; 2]],
    worst: &'t [Turn],
    judge: &'t Judge<'t>,
}

impl Trial<'_> {
    /// The number that does, as it is written: what the rule names, if that holds, else the nearest that does.
    fn number(&self, mut line: Line, named: Option<&Expr>, scope: &mut Scope) -> Option<(Line, String)> {
        let named = named.and_then(|value| match self.engine.evaluator.evaluate(value, scope) {
            Ok(Value::Quantity(wanted)) if wanted.dim == line.figure.dim() && wanted.si.is_finite() => Some(wanted),
            _ => None,
        });
        if line.is_named {
            let wanted = named?;
            line.figure = line.figure.in_unit(wanted.unit.as_deref());
            let text = self.written(&line, wanted.si, scope)?;
            return Some((line, text));
        }
        let text = named.and_then(|wanted| self.written(&line, wanted.si, scope)).or_else(|| {
            let nearest = self.nearest(&line, scope)?;
            self.written(&line, nearest, scope)
        })?;
        Some((line, text))
    }

    /// A number as finely written as it takes to hold the rule at the worst combination, rounded to the nearest or away
    /// from what is written now.
    fn written(&self, line: &Line, wanted: f64, scope: &mut Scope) -> Option<String> {
        let away: fn(f64) -> f64 = if wanted < line.before.si { f64::floor } else { f64::ceil };
        (0..=FINER).find_map(|finer| {
            [None, Some(away)].into_iter().find_map(|round| {
                let (text, si) = line.figure.write(wanted, finer, round)?;
                let is_near = finer == FINER || (si - wanted).abs() <= ROUNDED * (wanted - line.before.si).abs();
                (is_near && self.is_allowed(line, si) && self.passes(line, si, scope)).then_some(text)
            })
        })
    }

    /// The number nearest to the written one with which the rule holds at the ends that hurt most as it is written.
    fn nearest(&self, line: &Line, scope: &mut Scope) -> Option<f64> {
        let before = line.before.si;
        let scale = if before == 0.0 { line.figure.unit().map_or(1.0, |unit| unit.to_si(1.0).abs()) } else { before.abs() };
        let mut holds =
            |si: f64| self.is_allowed(line, si) && self.at(line, si, self.worst, scope).is_ok_and(|(verdict, _)| verdict == Verdict::Pass);
        let (mut near, far) = (0..STEPS).find_map(|step| {
            let far = scale * FIRST_STEP * STEP.powi(step);
            let way = [1.0, -1.0].into_iter().find(|way| holds(before + way * far))?;
            Some((if step == 0 { 0.0 } else { way * far / STEP }, way * far))
        })?;
        let mut far = far;
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(near, far);
            if holds(before + middle) {
                far = middle;
            } else {
                near = middle;
            }
        }
        Some(before + far)
    }

    /// Whether the rule passes with a number replaced, wherever within its tolerance each number may be.
    fn passes(&self, line: &Line, si: f64, scope: &mut Scope) -> bool {
        let cell = RefCell::new(scope.clone());
        let at = |turns: &[Turn]| self.at(line, si, turns, &mut cell.borrow_mut());
        let worst = worst::among(self.ends, &|_| vec![self.worst.to_vec()], &|turns| at(turns).map(|(_, badness)| badness));
        worst.lack.is_none() && at(&worst.turns).is_ok_and(|(verdict, _)| verdict == Verdict::Pass)
    }

    /// How the rule stands with a number replaced and some numbers at an end of their tolerance.
    fn at(&self, line: &Line, si: f64, turns: &[Turn], scope: &mut Scope) -> Result<(Verdict, f64), Lack> {
        let evaluator = self.engine.evaluator;
        let mut replaced: Vec<(NodeId, Value)> = Vec::with_capacity(line.nodes.len());
        for node in &line.nodes {
            let before = evaluator.known(*node).unwrap_or(Err(Lack::Faulty))?;
            replaced.push((*node, evaluator.moved(&before, line.part, si - line.before.si)));
        }
        evaluator.what_if_turned(replaced, turns, || (self.judge)(scope))
    }

    /// Whether the vocabulary lets such a number stand there.
    fn is_allowed(&self, line: &Line, si: f64) -> bool {
        let evaluator = self.engine.evaluator;
        let declared = evaluator.design().kind_of(line.component).properties.get(line.property);
        let mut scope = Scope { own: Some(line.component), writer: Writer::Kind, ..Scope::default() };
        declared.is_some_and(|declared| {
            declared.limits.iter().all(|limit| {
                let Some(bound) = evaluator.evaluate(&limit.value, &mut scope).ok().and_then(|bound| bound.si()) else { return true };
                match limit.word {
                    LimitWord::AtLeast => si >= bound,
                    LimitWord::AtMost => si <= bound,
                    LimitWord::Above => si > bound,
                    LimitWord::Below => si < bound,
                }
            })
        })
    }
}
