//! What is there twice, and what nobody speaks of.

use super::body::Survey;
use super::supposing::line;
use crate::calc::FormulaError;
use crate::design::{ComponentId, Design, Entry, Type};
use crate::syntax::tree::{Expr, Node};
use crate::values::{Evaluator, Lack, Question, Refusal, Value};
use rustc_hash::{FxHashMap, FxHashSet, FxHasher};
use std::hash::{Hash, Hasher};

include!(concat!(env!("OUT_DIR"), "/formulas_likeness.rs"));

impl Survey for SameLines {
    fn answer(self, evaluator: &Evaluator) -> Result<Vec<ComponentId>, Refusal> {
        let design = evaluator.design();
        let own = design.component(self.component);
        let behind = evaluator.members(own.kind).iter().copied().skip_while(|id| *id != self.component).skip(1);
        let alike = behind.filter(|id| {
            let other = design.component(*id);
            [self.component, *id].iter().for_each(|id| evaluator.ask(Question::Title(*id)));
            other.title == own.title && says_the_same(evaluator, self.component, *id)
        });
        Ok(alike.collect())
    }
}

impl Survey for SaidTwice {
    fn answer(self, evaluator: &Evaluator) -> Result<Vec<ComponentId>, Refusal> {
        let design = evaluator.design();
        let ids = self.components.ids();
        // Only those with the same mark are held against each other: a design may have many thousand.
        let mut alike: FxHashMap<u64, Vec<ComponentId>> = FxHashMap::default();
        for (id, mark) in ids.iter().filter_map(|id| Some((*id, mark(evaluator, *id)?))) {
            alike.entry(mark).or_default().push(id);
        }
        let mut first: FxHashSet<ComponentId> = FxHashSet::default();
        for mut left in alike.into_values() {
            while let [one, others @ ..] = left.as_slice() {
                let one = *one;
                let (same, apart): (Vec<ComponentId>, Vec<ComponentId>) =
                    others.iter().partition(|other| says_the_same(evaluator, one, **other));
                if !same.is_empty() {
                    first.insert(one);
                }
                left = apart;
                left.retain(|other| row(design, *other).is_none_or(|name| row(design, one) != Some(name)));
            }
        }
        Ok(ids.into_iter().filter(|id| first.contains(id)).collect())
    }
}

/// The name of the array that a component is an element of.
fn row(design: &Design, id: ComponentId) -> Option<&str> {
    let component = design.component(id);
    component.element.and_then(|_| component.name.split('[').next())
}

/// A number that is the same for components that say the same; none where a line of it has no value, which is like no other.
fn mark(evaluator: &Evaluator, id: ComponentId) -> Option<u64> {
    let component = evaluator.design().component(id);
    [Question::Title(id), Question::Written(id)].into_iter().for_each(|question| evaluator.ask(question));
    let mut hasher = FxHasher::default();
    (component.kind, &component.title).hash(&mut hasher);
    for (at, _) in component.lines() {
        at.hash(&mut hasher);
        evaluator.property(id, at).ok()?.mark(&mut hasher);
    }
    Some(hasher.finish())
}

/// Whether two components of a kind have the same lines with the same values. Elements of one array are meant to be several.
fn says_the_same(evaluator: &Evaluator, one: ComponentId, other: ComponentId) -> bool {
    let design = evaluator.design();
    let (first, second) = (design.component(one), design.component(other));
    if first.element.is_some() && first.name.split('[').next() == second.name.split('[').next() {
        return false;
    }
    [one, other].iter().for_each(|id| evaluator.ask(Question::Written(*id)));
    (0..design.kind(first.kind).properties.len()).all(|at| match (first.written(at), second.written(at)) {
        (None, None) => true,
        (Some(_), Some(_)) => evaluator.property(one, at).is_ok_and(|value| evaluator.property(other, at) == Ok(value)),
        _ => false,
    })
}

impl Survey for InOnePlace {
    fn answer(self, evaluator: &Evaluator) -> Result<Vec<ComponentId>, Refusal> {
        if self.apart <= 0.0 {
            return Err(FormulaError::domain("`apart`", "above zero").into());
        }
        // Each in a square as wide as that: only who stands in the same or in one beside it is near.
        let mut cells: FxHashMap<(i64, i64), Vec<[f64; 2]>> = FxHashMap::default();
        let mut found = Vec::new();
        for id in self.components.ids() {
            let (along, across) = (line(evaluator, id, &self.along)?, line(evaluator, id, &self.across)?);
            let number = |node| evaluator.value(node).map(|value| value.si());
            match (number(along), number(across)) {
                (Ok(Some(along)), Ok(Some(across))) => {
                    #[expect(clippy::cast_possible_truncation, reason = "what lies farther out than that is in one cell")]
                    let cell = ((along / self.apart).floor() as i64, (across / self.apart).floor() as i64);
                    let beside = (-1..=1).flat_map(|one| (-1..=1).map(move |other| (one, other)));
                    let near = beside.filter_map(|(one, other)| cells.get(&(cell.0.saturating_add(one), cell.1.saturating_add(other))));
                    let is_near = |place: &[f64; 2]| (place[0] - along).abs().max((place[1] - across).abs()) < self.apart;
                    if near.flatten().any(is_near) {
                        found.push(id);
                    }
                    cells.entry(cell).or_default().push([along, across]);
                }
                (Err(Lack::Faulty), _) | (_, Err(Lack::Faulty)) => found.push(id),
                _ => {}
            }
        }
        Ok(found)
    }
}

impl Survey for Unnamed {
    fn answer(self, evaluator: &Evaluator) -> Result<Vec<ComponentId>, Refusal> {
        let design = evaluator.design();
        let mut named: FxHashSet<ComponentId> = FxHashSet::default();
        for kind in &design.kinds {
            let links: Vec<usize> =
                (0..).zip(&kind.properties).filter(|(_, one)| matches!(one.ty, Type::Link { .. })).map(|(at, _)| at).collect();
            let Some(kind) = design.kind_named(&kind.name) else { continue };
            for id in evaluator.members(kind).iter().copied() {
                evaluator.ask(Question::Written(id));
                let written = links.iter().filter_map(|property| Some((property, design.component(id).written(*property)?)));
                for (property, line) in written {
                    evaluator.property(id, *property).iter().for_each(|value| leads_to(value, &mut named));
                    // What a variant that was chosen puts another one in place of is still the design's.
                    let before = std::iter::successors(line.instead_of.as_deref(), |line| line.instead_of.as_deref());
                    before.for_each(|line| names_in(design, &line.value, &mut named));
                }
            }
        }
        for (id, property, line) in &design.alternatives {
            if design.kind_of(*id).properties.get(*property).is_some_and(|one| matches!(one.ty, Type::Link { .. })) {
                names_in(design, &line.value, &mut named);
            }
        }
        Ok(self.components.ids().into_iter().filter(|id| !named.contains(id)).collect())
    }
}

/// The components that a line of another variant names.
fn names_in(design: &Design, line: &Expr, named: &mut FxHashSet<ComponentId>) {
    line.walk(&mut |inner| {
        let Node::Name(name) = &inner.node else { return };
        match design.entry(name) {
            Some(Entry::Component(id)) => _ = named.insert(id),
            Some(Entry::Array(first, _, count)) => named.extend((first.0..first.0 + count).map(ComponentId)),
            _ => {}
        }
    });
}

fn leads_to(value: &Value, named: &mut FxHashSet<ComponentId>) {
    match value {
        Value::Component(id) => _ = named.insert(*id),
        Value::List(items) => items.iter().for_each(|item| leads_to(item, named)),
        _ => {}
    }
}
