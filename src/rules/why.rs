//! What a finding stands on: the lines to look at, the tolerances, the habits that were assumed.

use super::engine::Engine;
use super::finding::{Assumed, Finding, Guess, Influence};
use super::worst::Worst;
use crate::design::{NodeId, NodeKind};
use crate::problem::Place;
use crate::syntax::tree::{Expr, Node};
use crate::units;
use crate::values::{Quantity, Scope, Turn, Value};
use rustc_hash::FxHashSet;
use smol_str::SmolStr;

/// How many places a finding shows: more is not read.
pub(super) const MOST_PLACES: usize = 6;
/// How far below a check its written lines are looked for.
const MOST_STEPS: usize = 400;

impl Engine<'_> {
    pub(super) fn subject_places(&self, scope: &Scope) -> Vec<Place> {
        let design = self.evaluator.design();
        scope
            .bound
            .iter()
            .filter_map(|(_, value)| match value {
                Value::Component(id) => Some(Place { span: design.component(*id).header, label: String::new() }),
                _ => None,
            })
            .take(MOST_PLACES)
            .collect()
    }

    pub(super) fn influences(&self, worst: &Worst, demand: &Quantity) -> Vec<Influence> {
        let design = self.evaluator.design();
        worst
            .alone
            .iter()
            .map(|(Turn { node, .. }, grows)| Influence {
                name: design.node_name(*node),
                place: Place { span: design.node_span(*node), label: "this tolerance".to_owned() },
                takes: self.measure(Quantity {
                    si: *grows,
                    dim: demand.dim,
                    unit: demand.unit.clone().filter(|unit| units::is_said_in(unit, *grows)),
                }),
            })
            .collect()
    }

    /// The lines and the assumptions that a finding stands on.
    pub(super) fn say_why(&self, finding: &mut Finding, scope: &mut Scope, reads: &[NodeId]) {
        finding.assumed = self.assumptions(reads);
        finding.guessed = self.guesses(reads);
        let mut places = match &self.rule.points_to {
            Some(points_to) => self.pointed(points_to, scope),
            None => self.written_places(reads),
        };
        let within = |place: &Place, known: &Place| {
            let (inner, outer) = (place.span, known.span);
            inner.file == outer.file && outer.start <= inner.start && inner.end <= outer.end
        };
        for place in self.subject_places(scope) {
            if places.len() < MOST_PLACES && !places.iter().any(|known| within(&place, known)) {
                places.push(place);
            }
        }
        finding.places = places;
    }

    /// The places that a rule's `points_to` line names, in its order.
    pub(super) fn pointed(&self, points_to: &Expr, scope: &mut Scope) -> Vec<Place> {
        let items = match &points_to.node {
            Node::List(items) => items.iter().collect(),
            _ => vec![points_to],
        };
        let mut places: Vec<Place> = Vec::new();
        // Where what a rule goes over cannot be told, its inner names stand for nothing.
        for item in items {
            if !self.is_bound(item, scope) {
                continue;
            }
            let (value, reads) = self.evaluator.reading(|| self.evaluator.evaluate(item, scope));
            // A field and a number that was taken out of a line are pointed to themselves, the last value read; a component by its
            // header; else all lines read.
            let found = match (&item.node, value) {
                (Node::Field(..), _) => self.written_places(reads.last().map_or(&[], std::slice::from_ref)),
                (Node::Call(..), Ok(Value::Quantity(_))) => {
                    let (_, last) = self.evaluator.last_read(|| self.evaluator.evaluate(item, scope));
                    self.written_places(last.as_slice())
                }
                (_, Ok(Value::Component(id))) => self.headers(&[Value::Component(id)]),
                (_, Ok(Value::List(items))) if items.iter().all(|item| matches!(item, Value::Component(_))) => self.headers(&items),
                _ => self.written_places(&reads),
            };
            places.extend(found);
        }
        let mut seen = FxHashSet::default();
        places.retain(|place| seen.insert(place.span));
        places.truncate(MOST_PLACES);
        places
    }

    /// Whether each name of the rule's `each` that stands there stands for something.
    fn is_bound(&self, expr: &Expr, scope: &Scope) -> bool {
        let bound = |name: &SmolStr| scope.bound.iter().any(|(bound, _)| bound == name);
        let is_open = |name: &SmolStr| self.rule.each.iter().any(|binder| binder.name.text == *name) && !bound(name);
        let mut holds = true;
        expr.walk(&mut |inner| holds = holds && !matches!(&inner.node, Node::Name(name) if is_open(name)));
        holds
    }

    pub(super) fn headers(&self, components: &[Value]) -> Vec<Place> {
        let design = self.evaluator.design();
        components
            .iter()
            .filter_map(|value| match value {
                Value::Component(id) => Some(Place { span: design.component(*id).header, label: String::new() }),
                _ => None,
            })
            .filter(|place| !place.span.file.is_built_in())
            .take(MOST_PLACES)
            .collect()
    }

    /// The lines of the person's own text below these nodes, nearest first.
    pub(super) fn written_places(&self, nodes: &[NodeId]) -> Vec<Place> {
        let design = self.evaluator.design();
        let mut places: Vec<Place> = Vec::new();
        let mut seen: FxHashSet<NodeId> = FxHashSet::default();
        let mut level: Vec<NodeId> = nodes.to_vec();
        let mut steps = 0;
        while !level.is_empty() && places.len() < MOST_PLACES && steps < MOST_STEPS {
            let mut next = Vec::new();
            for node in level {
                steps += 1;
                if steps > MOST_STEPS || !seen.insert(node) {
                    continue;
                }
                let written = match design.node_kind(node) {
                    NodeKind::Named(_) => true,
                    NodeKind::Property(id, property) => design.component(id).written(property).is_some(),
                };
                let span = design.node_span(node);
                if written && !span.file.is_built_in() && places.len() < MOST_PLACES && !places.iter().any(|place| place.span == span) {
                    let label = match self.evaluator.known(node) {
                        Some(Ok(value)) if self.is_telling(node) => {
                            format!("`{}` is {}", design.node_name(node), self.evaluator.show_value(&value))
                        }
                        _ => String::new(),
                    };
                    places.push(Place { span, label });
                }
                next.extend(self.evaluator.reads(node).iter());
            }
            level = next;
        }
        places
    }

    /// Whether the value says more than the line itself: an expression, not a plain number.
    pub(super) fn is_telling(&self, node: NodeId) -> bool {
        let design = self.evaluator.design();
        let expr = match design.node_kind(node) {
            NodeKind::Named(at) => design.named.get(at).map(|named| &named.value),
            NodeKind::Property(id, property) => design.component(id).written(property).map(|written| &written.value),
        };
        expr.is_some_and(|expr| {
            matches!(expr.node, Node::Binary(..) | Node::Call(..) | Node::Aggregate { .. } | Node::If(..) | Node::Field(..))
        })
    }

    fn guesses(&self, reads: &[NodeId]) -> Vec<Guess> {
        let design = self.evaluator.design();
        if !self.lacking.guessed.get_or_init(|| design.has_guesses()) {
            return Vec::new();
        }
        let is_guessed = |node: &NodeId| match design.node_kind(*node) {
            NodeKind::Named(at) => design.named.get(at).is_some_and(|named| named.guessed),
            NodeKind::Property(id, property) => design.component(id).written(property).is_some_and(|written| written.guessed),
        };
        let guess = |node: NodeId| {
            let value = self.evaluator.known(node)?.ok()?;
            Some(Guess { name: design.node_name(node).into(), value: self.evaluator.show_value(&value) })
        };
        let mut found: Vec<Guess> = self.evaluator.below(reads).into_iter().filter(is_guessed).filter_map(guess).collect();
        found.sort();
        found.dedup();
        found
    }

    pub(super) fn assumptions(&self, reads: &[NodeId]) -> Vec<Assumed> {
        let design = self.evaluator.design();
        let mut found = Vec::new();
        for node in self.evaluator.below(reads) {
            if let NodeKind::Property(id, property) = design.node_kind(node)
                && design.component(id).written(property).is_none()
                && let Some(declared) = design.kind_of(id).properties.get(property)
                && let Some(because) = &declared.assumed
                && let Some(Ok(value)) = self.evaluator.known(node)
            {
                found.push(Assumed {
                    component: design.component(id).name.clone(),
                    property: declared.name.clone(),
                    value: self.evaluator.show_value(&value),
                    because: because.clone(),
                });
            }
        }
        found.sort();
        found.dedup();
        found
    }
}
