//! The numbers of components and values from one state of a text to the next.

use super::evaluator::Slot;
use super::lack::{Lack, MOST_MISSING, Missing};
use super::reads::Question;
use super::value::{Record, Value};
use crate::design::{Component, ComponentId, Design, NodeId};
use crate::text::Span;
use rustc_hash::{FxHashMap, FxHashSet};
use smol_str::SmolStr;
use std::sync::Arc;

/// The numbers of a design after an edit, by those before it.
#[derive(Debug, Default)]
pub struct Renumbered {
    /// `None` where nothing has moved.
    pub(super) components: Option<Vec<Option<ComponentId>>>,
    /// The number now of each node.
    pub(super) nodes: Vec<Option<NodeId>>,
    /// Some name stands for something else than before.
    pub(super) names: bool,
    /// Where lines and headers stand now whose statement was read again, by where they stood.
    pub(super) places: FxHashMap<Span, Span>,
    /// Components that another statement of the text makes now, though the one that made them is still there.
    pub(super) displaced: FxHashSet<ComponentId>,
    /// Components that have another name now and are otherwise where they were, with the name before: they keep their numbers.
    pub(super) renamed: FxHashMap<ComponentId, SmolStr>,
}

impl Renumbered {
    /// Whether every number is what it was.
    #[must_use]
    pub fn is_same(&self) -> bool {
        self.components.is_none()
    }

    /// Whether some name stands for something else than before.
    #[must_use]
    pub fn has_new_names(&self) -> bool {
        self.names
    }

    /// Whether some component is another now, though its number stays.
    #[must_use]
    pub fn has_others(&self) -> bool {
        !self.displaced.is_empty() || !self.renamed.is_empty()
    }

    /// Whether the component is another now: it has another name, or another statement of the text makes it,
    /// though the old one is still there.
    #[must_use]
    pub fn is_another(&self, id: ComponentId) -> bool {
        self.displaced.contains(&id) || self.renamed.contains_key(&id)
    }

    /// The names before of components that have another one now and are otherwise where they were.
    #[must_use]
    pub fn former_names(&self) -> FxHashSet<&str> {
        self.renamed.values().map(SmolStr::as_str).collect()
    }

    /// Where a line or a header stands now, if it is still there.
    #[must_use]
    pub fn place(&self, before: Span) -> Option<Span> {
        self.places.get(&before).copied()
    }

    /// A component's number now, if it is still there.
    #[must_use]
    pub fn component(&self, id: ComponentId) -> Option<ComponentId> {
        match &self.components {
            None => Some(id),
            Some(components) => components.get(id.0 as usize).copied().flatten(),
        }
    }

    /// A node's number now, if it is still there.
    #[must_use]
    pub fn node(&self, node: NodeId) -> Option<NodeId> {
        if self.is_same() {
            return Some(node);
        }
        if let Some(question) = Question::of(node) {
            let moved = match question {
                Question::Links(id) => Question::Links(self.component(id)?),
                Question::Title(id) => Question::Title(self.component(id)?),
                Question::Written(id) => Question::Written(self.component(id)?),
                other => other,
            };
            return Some(moved.node());
        }
        self.nodes.get(node.0 as usize).copied().flatten()
    }

    /// A value in the new numbers; nothing where it names a component that is gone.
    #[must_use]
    pub fn value(&self, value: &Value) -> Option<Value> {
        Some(match value {
            Value::Component(id) => Value::Component(self.component(*id)?),
            Value::List(items) if items.iter().any(Value::names_component) => {
                let items: Option<Vec<Value>> = items.iter().map(|item| self.value(item)).collect();
                Value::List(items?.into())
            }
            Value::Record(record) if record.fields.iter().any(|(_, field)| field.names_component()) => {
                let fields: Option<Vec<(SmolStr, Value)>> =
                    record.fields.iter().map(|(name, field)| Some((name.clone(), self.value(field)?))).collect();
                Value::Record(Arc::new(Record { shape: record.shape, fields: fields? }))
            }
            other => other.clone(),
        })
    }

    pub(super) fn slot(&self, slot: Slot) -> Slot {
        match slot {
            Slot::Done(Ok(value)) if value.names_component() => self.value(&value).map_or(Slot::Untouched, |value| Slot::Done(Ok(value))),
            // Of a list that was cut the first may be others now.
            Slot::Done(Err(Lack::Missing(lines))) if lines.len() >= MOST_MISSING => Slot::Untouched,
            Slot::Done(Err(Lack::Missing(lines))) => {
                let moved = |line: &Missing| match line {
                    Missing::Line(node) => self.node(*node).map(Missing::Line),
                    Missing::Connected(kind, id) => self.component(*id).map(|id| Missing::Connected(*kind, id)),
                    Missing::Component(_) | Missing::Today => Some(*line),
                };
                let lines: Option<Vec<Missing>> = lines.iter().map(moved).collect();
                lines.map_or(Slot::Untouched, |mut lines| {
                    lines.sort_unstable();
                    Slot::Done(Err(Lack::Missing(lines.into())))
                })
            }
            other => other,
        }
    }

    pub(super) fn between(old: &Design, new: &Design) -> Renumbered {
        let same_kinds = old.components.len() == new.components.len()
            && old.named.len() == new.named.len()
            && old.components.iter().zip(&new.components).all(|(a, b)| a.kind == b.kind)
            && old.named.iter().zip(&new.named).all(|(a, b)| a.name == b.name);
        if let Some(renamed) = same_kinds.then(|| renamed(old, new)).flatten() {
            return Renumbered { renamed, ..Renumbered::default() };
        }
        let now: FxHashMap<&SmolStr, ComponentId> =
            new.components.iter().map(|component| &component.name).zip((0..).map(ComponentId)).collect();
        let component = |component: &Component| {
            let id = *now.get(&component.name)?;
            (new.component(id).kind == component.kind).then_some(id)
        };
        let components: Vec<Option<ComponentId>> = old.components.iter().map(component).collect();
        let names: FxHashMap<&SmolStr, u32> = new.named.iter().map(|named| &named.name).zip(0..).collect();
        let mut nodes: Vec<Option<NodeId>> = old.named.iter().map(|named| names.get(&named.name).copied().map(NodeId)).collect();
        for (component, now) in old.components.iter().zip(&components) {
            let properties = 0..old.kind(component.kind).properties.len();
            nodes.extend(properties.map(|property| now.map(|now| new.node(now, property))));
        }
        Renumbered { components: Some(components), nodes, ..Renumbered::default() }
    }
}

/// The components that differ between two designs of the same kinds by their names alone; nothing if some name has
/// only gone from one component to another.
fn renamed(old: &Design, new: &Design) -> Option<FxHashMap<ComponentId, SmolStr>> {
    let pairs = || old.components.iter().zip(&new.components);
    let differ = |(a, b): &(&Component, &Component)| a.name != b.name;
    if !pairs().any(|pair| differ(&pair)) {
        return Some(FxHashMap::default());
    }
    let mut names: FxHashSet<&SmolStr> = pairs().filter(|pair| !differ(pair)).map(|(_, now)| &now.name).collect();
    names.extend(new.named.iter().map(|named| &named.name));
    let are_new = pairs().filter(differ).all(|(before, now)| names.insert(&before.name) && names.insert(&now.name));
    let former = || (0..).map(ComponentId).zip(pairs()).filter(|(_, pair)| differ(pair)).map(|(id, (before, _))| (id, before.name.clone()));
    are_new.then(|| former().collect())
}
