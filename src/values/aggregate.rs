//! Going through components: `sum(c.working_load for c in clamp where c.holds == main_roof)`.
//!
//! A condition like `c.holds == x` is answered from an index of that property, so that pairing all
//! clamps with all roofs does not take every pair.

use super::Outcome;
use super::evaluator::{Evaluator, Scope};
use super::lack::{Lack, Missing};
use super::reads::Question;
use super::value::{Quantity, Value};
use crate::calc::explore::Condition;
use crate::design::{ComponentId, Kind, KindId, Type, is_due, refusals};
use crate::problem::Problem;
use crate::syntax::tree::{Binary, Binder, Expr, Node, Word};
use crate::units::Dim;
use rustc_hash::FxHashMap;
use smol_str::SmolStr;
use std::sync::Arc;

/// Components of a kind by the value of one property.
#[derive(Debug, Default)]
pub(super) struct Join {
    pub(super) by_key: FxHashMap<Key, Vec<ComponentId>>,
    /// Those whose property is not known: they may match anything, and say so when asked.
    pub(super) unknown: Vec<ComponentId>,
}

/// The value of an indexed property.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub(super) enum Key {
    Component(ComponentId),
    Word(SmolStr),
}

impl Key {
    fn renumbered(&self, new: &dyn Fn(ComponentId) -> Option<ComponentId>) -> Option<Key> {
        match self {
            Key::Component(id) => new(*id).map(Key::Component),
            Key::Word(word) => Some(Key::Word(word.clone())),
        }
    }
}

impl Join {
    /// The same index in other numbers; what has no new number falls out.
    pub(super) fn renumbered(&self, new: &dyn Fn(ComponentId) -> Option<ComponentId>) -> Join {
        let all = |ids: &[ComponentId]| ids.iter().filter_map(|id| new(*id)).collect();
        Join {
            by_key: self.by_key.iter().filter_map(|(key, ids)| Some((key.renumbered(new)?, all(ids)))).collect(),
            unknown: all(&self.unknown),
        }
    }

    /// The values at which two indexes differ.
    pub(super) fn differences(&self, other: &Join) -> Vec<Key> {
        let none: &[ComponentId] = &[];
        let at = |join: &Join, key: &Key| join.by_key.get(key).map_or(none, Vec::as_slice).to_vec();
        let keys: rustc_hash::FxHashSet<&Key> = self.by_key.keys().chain(other.by_key.keys()).collect();
        keys.into_iter().filter(|key| at(self, key) != at(other, key)).cloned().collect()
    }
}

/// The number of each question "which components of this kind have this value there".
#[derive(Debug, Default)]
pub(super) struct Buckets {
    numbers: FxHashMap<(KindId, usize, Key), u32>,
    next: u32,
}

impl Buckets {
    fn number(&mut self, kind: KindId, property: usize, key: &Key) -> u32 {
        *self.numbers.entry((kind, property, key.clone())).or_insert_with(|| {
            self.next += 1;
            self.next
        })
    }

    /// The numbers of all questions about one index.
    pub(super) fn all(&self, kind: KindId, property: usize) -> impl Iterator<Item = u32> + '_ {
        self.numbers.iter().filter(move |((of, at, _), _)| (*of, *at) == (kind, property)).map(|(_, number)| *number)
    }

    /// The same questions where components have other numbers; the numbers of what is gone are not given out again.
    pub(super) fn renumbered(self, new: &dyn Fn(ComponentId) -> Option<ComponentId>) -> Buckets {
        let numbers = self.numbers.into_iter();
        Buckets {
            numbers: numbers.filter_map(|((kind, property, key), number)| Some(((kind, property, key.renumbered(new)?), number))).collect(),
            next: self.next,
        }
    }
}

fn key(value: &Value) -> Option<Key> {
    match value {
        Value::Component(id) => Some(Key::Component(*id)),
        Value::Word(word) => Some(Key::Word(word.clone())),
        _ => None,
    }
}

/// Bindings that hold, and lacks of those that cannot be decided.
type Visit<'v> = dyn FnMut(&mut Scope, Option<Lack>) + 'v;

impl Evaluator {
    pub(super) fn aggregate(&self, name: &Word, value: &Expr, binders: &[Binder], scope: &mut Scope) -> Outcome {
        let mut values: Vec<Value> = Vec::new();
        let mut lack: Option<Lack> = None;
        let counts = name.text == "count";
        self.for_each(binders, scope, &mut |scope, undecided| {
            let outcome = match undecided {
                Some(undecided) => Err(undecided),
                // What is counted need not be worked out.
                None if counts => Ok(Value::Zero),
                None => self.evaluate(value, scope),
            };
            match outcome {
                Ok(value) => values.push(value),
                Err(more) => lack = Some(lack.take().map_or(more.clone(), |lack| lack.with(more))),
            }
        });
        self.gather(name, values, lack, value, binders, scope.own)
    }

    fn gather(
        &self,
        name: &Word,
        values: Vec<Value>,
        lack: Option<Lack>,
        value: &Expr,
        binders: &[Binder],
        own: Option<ComponentId>,
    ) -> Outcome {
        let settled = match name.text.as_str() {
            "any" if values.contains(&Value::Flag(true)) => Some(true),
            "all" if values.contains(&Value::Flag(false)) => Some(false),
            _ => None,
        };
        if let Some(flag) = settled {
            return Ok(Value::Flag(flag));
        }
        if let Some(lack) = lack {
            return Err(lack);
        }
        let nothing = || {
            let kind = binders.first().and_then(|binder| self.goes_through(&binder.source, own));
            match kind {
                Some(kind) => Lack::missing(match own {
                    Some(own) if !self.members(kind).is_empty() => Missing::Connected(kind, own),
                    _ => Missing::Component(kind),
                }),
                None => self.fault(Problem::error(format!("there is nothing to take the `{}` of", name.text), name.span, "here")),
            }
        };
        match name.text.as_str() {
            "count" => {
                #[expect(clippy::cast_precision_loss, reason = "far fewer components than 2^52")]
                let count = values.len() as f64;
                Ok(Value::number(count))
            }
            "list" => Ok(Value::List(values.into())),
            "first" => values.into_iter().next().ok_or_else(nothing),
            "all" | "any" => {
                let mut conditions = Vec::with_capacity(values.len());
                for each in values {
                    let each = if let Value::Component(id) = each { self.signal(id, value.span)? } else { each };
                    let refused = || self.fault(refusals::not_gathered(name, "yes and no", each.describe(), value.span));
                    conditions.push(each.as_condition().ok_or_else(refused)?);
                }
                Ok(Value::of_condition(if name.text == "all" { Condition::all(conditions) } else { Condition::any(conditions) }))
            }
            "sum" => Ok(self
                .amounts(&values, name, value)?
                .into_iter()
                .reduce(|a, b| Quantity { si: a.si + b.si, ..a })
                .map_or(Value::Zero, Value::Quantity)),
            "min" => self
                .numbers(&values, name, value)?
                .into_iter()
                .reduce(|a, b| if b.si < a.si { b } else { a })
                .map(Value::Quantity)
                .ok_or_else(nothing),
            "max" => self
                .numbers(&values, name, value)?
                .into_iter()
                .reduce(|a, b| if b.si > a.si { b } else { a })
                .map(Value::Quantity)
                .ok_or_else(nothing),
            "mean" => {
                let numbers = self.numbers(&values, name, value)?;
                #[expect(clippy::cast_precision_loss, reason = "far fewer components than 2^52")]
                let count = numbers.len() as f64;
                numbers
                    .into_iter()
                    .reduce(|a, b| Quantity { si: a.si + b.si, ..a })
                    .map(|total| Value::Quantity(Quantity { si: total.si / count, ..total }))
                    .ok_or_else(nothing)
            }
            _ => Err(self.fault(refusals::no_gatherer(name))),
        }
    }

    /// All of one dimension that adds up.
    fn amounts(&self, values: &[Value], name: &Word, value: &Expr) -> Result<Vec<Quantity>, Lack> {
        let numbers = self.numbers(values, name, value)?;
        if numbers.first().is_some_and(|first| first.dim.is_point()) {
            return Err(self.fault(
                Problem::error("temperatures do not add up", value.span, "a temperature").help("`mean(…)` is the middle of several"),
            ));
        }
        Ok(numbers)
    }

    /// All of one dimension.
    pub(super) fn numbers(&self, values: &[Value], name: &Word, value: &Expr) -> Result<Vec<Quantity>, Lack> {
        let mut numbers: Vec<Quantity> = Vec::with_capacity(values.len());
        for item in values {
            let number = match item {
                Value::Quantity(number) => number.clone(),
                Value::Zero => Quantity::new(0.0, numbers.first().map_or(Dim::NUMBER, |first| first.dim.difference())),
                other => {
                    return Err(self.fault(refusals::not_gathered(name, "numbers", other.describe(), value.span)));
                }
            };
            if let Some(first) = numbers.first().filter(|first| first.dim != number.dim) {
                let (a, b) = (first.dim.describe(), number.dim.describe());
                return Err(self.fault(Problem::error(format!("`{}` cannot gather {a} and {b}", name.text), value.span, "of both sorts")));
            }
            numbers.push(number);
        }
        Ok(numbers)
    }

    /// Calls `visit` for every combination that the binders let through; with a lack where a condition cannot be decided.
    pub fn for_each(&self, binders: &[Binder], scope: &mut Scope, visit: &mut Visit<'_>) {
        let Some((binder, rest)) = binders.split_first() else {
            visit(scope, None);
            return;
        };
        let (candidates, condition) = match self.candidates(binder, scope) {
            Ok(candidates) => candidates,
            Err(lack) => {
                visit(scope, Some(lack));
                return;
            }
        };
        for candidate in candidates {
            self.halt.heed();
            scope.bound.push((binder.name.text.clone(), candidate));
            let holds = match condition {
                Some(condition) => self.condition(condition, scope),
                None => Ok(true),
            };
            match holds {
                Ok(true) => self.for_each(rest, scope, visit),
                Ok(false) => {}
                Err(lack) => visit(scope, Some(lack)),
            }
            scope.bound.pop();
        }
    }

    /// The kind of the components that a source holds, as far as the declarations tell.
    fn goes_through(&self, source: &Expr, own: Option<ComponentId>) -> Option<KindId> {
        let linked = |kind: &Kind, word: &str| match &kind.properties.get(kind.property(word)?)?.ty {
            Type::Link { kinds, .. } => kinds.first().copied(),
            _ => None,
        };
        match &source.node {
            Node::Name(word) => {
                let by_link = own.and_then(|own| linked(self.design.kind_of(own), word));
                by_link.or_else(|| self.design.kind_named(word))
            }
            Node::Field(_, word) => self.design.kinds.iter().find_map(|kind| linked(kind, &word.text)),
            _ => None,
        }
    }

    /// What a binder goes through, and the condition still to be asked of each.
    fn candidates<'b>(&self, binder: &'b Binder, scope: &mut Scope) -> Result<(Vec<Value>, Option<&'b Expr>), Lack> {
        let condition = binder.condition.as_deref();
        if let Some(kind) = self.design.gone_through(&binder.source, |word| scope.is_bound(word)) {
            let all = match condition.and_then(|condition| self.narrowed(kind, binder, condition, scope)) {
                Some(narrowed) => narrowed,
                None => self.members(kind).to_vec(),
            };
            return Ok((all.into_iter().map(Value::Component).collect(), condition));
        }
        match self.evaluate(&binder.source, scope)? {
            Value::List(items) => Ok((items.to_vec(), condition)),
            one @ (Value::Component(_) | Value::Word(_) | Value::Record(_)) => Ok((vec![one], condition)),
            other => Err(self.fault(refusals::not_gone_through(other.describe(), binder.source.span))),
        }
    }

    /// The components of a kind that can meet `x.property == value` or `x == value`, if the condition has such a part.
    fn narrowed(&self, kind: KindId, binder: &Binder, condition: &Expr, scope: &mut Scope) -> Option<Vec<ComponentId>> {
        let (property, other) = equal_part(condition, &binder.name.text)?;
        let Some(property) = property else {
            let Value::Component(id) = self.evaluate(other, scope).ok()? else { return None };
            return Some(if self.design.component(id).kind == kind { vec![id] } else { Vec::new() });
        };
        let declared = self.design.kind(kind);
        let property = declared.property(property)?;
        let words = match &declared.properties.get(property)?.ty {
            Type::Word(words) => words.as_slice(),
            Type::Link { many: false, .. } => &[],
            _ => return None,
        };
        let wanted = match &other.node {
            Node::Name(word) if is_due(words, word, scope.is_bound(word)) => Value::Word(word.clone()),
            _ => self.evaluate(other, scope).ok()?,
        };
        let wanted = key(&wanted)?;
        let join = self.join(kind, property);
        self.ask(self.bucket(kind, property, &wanted));
        let mut found: Vec<ComponentId> = join.by_key.get(&wanted).cloned().unwrap_or_default();
        if !join.unknown.is_empty() {
            found.extend(&join.unknown);
            found.sort_unstable();
        }
        Some(found)
    }

    /// The components of a kind; that they were asked for is noted.
    pub(crate) fn members(&self, kind: KindId) -> &[ComponentId] {
        self.ask(Question::Members(kind));
        self.design.of_kind(kind)
    }

    /// The question which components have a value in an indexed property.
    pub(super) fn bucket(&self, kind: KindId, property: usize, key: &Key) -> Question {
        Question::Bucket(self.buckets.borrow_mut().number(kind, property, key))
    }

    /// The index of one property; links and choices have no tolerance, so no what-if changes it.
    fn join(&self, kind: KindId, property: usize) -> Arc<Join> {
        if let Some(join) = self.joins.borrow().get(&(kind, property)) {
            return Arc::clone(join);
        }
        let join = Arc::new(self.gather_join(kind, property));
        self.joins.borrow_mut().insert((kind, property), Arc::clone(&join));
        join
    }

    /// Gathers an index anew.
    pub(super) fn gather_join(&self, kind: KindId, property: usize) -> Join {
        let mut join = Join::default();
        self.apart(|| {
            for id in self.design.of_kind(kind) {
                match self.property(*id, property).ok().as_ref().and_then(key) {
                    Some(key) => join.by_key.entry(key).or_default().push(*id),
                    None => join.unknown.push(*id),
                }
            }
        });
        join
    }
}

/// `x.property == other`, or `x == other` without a property, among the parts of a condition that all have to hold, where
/// `other` does not speak of `x`.
fn equal_part<'e>(condition: &'e Expr, name: &str) -> Option<(Option<&'e str>, &'e Expr)> {
    let is_name = |expr: &Expr| matches!(&expr.node, Node::Name(bound) if bound == name);
    match &condition.node {
        Node::Binary(Binary::And, _, a, b) => equal_part(a, name).or_else(|| equal_part(b, name)),
        Node::Binary(Binary::Equal, _, a, b) => [(a, b), (b, a)].into_iter().find_map(|(side, other)| match &side.node {
            _ if speaks_of(other, name) => None,
            Node::Field(of, word) if is_name(of) => Some((Some(word.text.as_str()), other.as_ref())),
            Node::Name(_) if is_name(side) => Some((None, other.as_ref())),
            _ => None,
        }),
        _ => None,
    }
}

fn speaks_of(expr: &Expr, name: &str) -> bool {
    let mut found = false;
    expr.walk(&mut |inner| found |= matches!(&inner.node, Node::Name(bound) if bound == name));
    found
}
