//! A check that cannot be decided: which lines are missing, where, and what would do.

use super::engine::Engine;
use super::finding::Finding;
use super::why::MOST_PLACES;
use crate::design::{NodeId, NodeKind};
use crate::problem::Place;
use crate::values::{Lack, MOST_MISSING, Missing, MissingLine, Scope};
use rustc_hash::FxHashMap;
use smol_str::SmolStr;
use std::cell::{OnceCell, RefCell};
use std::sync::Arc;

/// Missing lines as they are told, each with the value that it would be of.
type Told = (Arc<[Arc<MissingLine>]>, Arc<[Option<NodeId>]>);

/// What has been missing in this check, as it is told: many bindings, and many rules, wait for the same lines.
#[derive(Debug, Default)]
pub(super) struct Lacking {
    lists: RefCell<FxHashMap<Arc<[Missing]>, Told>>,
    lines: RefCell<FxHashMap<Missing, Arc<MissingLine>>>,
    /// Whether anything in the design is guessed, asked once.
    pub(super) guessed: OnceCell<bool>,
}

impl Engine<'_> {
    pub(super) fn undecided(&self, scope: &mut Scope, lack: &Lack, reads: &[NodeId]) -> Finding {
        let design = self.evaluator.design();
        let mut finding = self.empty(scope);
        let (lines, nodes) = self.told(lack);
        let place = |(line, node): (&Arc<MissingLine>, &Option<NodeId>)| {
            Some(Place { span: design.node_span((*node)?), label: format!("no `{}` here", line.property) })
        };
        finding.places = lines.iter().zip(nodes.iter()).filter_map(place).take(MOST_PLACES).collect();
        let first_node = nodes.first().copied().flatten();
        finding.missing = lines;
        finding.message = match &*finding.missing {
            _ if lack.lines() == [Missing::Today] => "needs to know what day it is".to_owned(),
            [] => "rests on a line that is wrong".to_owned(),
            [one] if let [Missing::Connected(_, id)] = lack.lines() => {
                format!("no `{}` that is written is connected to {}", one.component, design.component(*id).name)
            }
            [one] if one.property.is_empty() => format!("there is no `{}`", one.component),
            [one] => format!("needs `{}` of {}", one.property, one.component),
            [first, rest @ ..] => {
                let name = if first.property.is_empty() {
                    crate::problem::quoted_with_article(&first.component)
                } else {
                    format!("`{}` of {}", first.property, first.component)
                };
                let least = if lack.lines().len() < MOST_MISSING { "" } else { "at least " };
                format!("needs {name} and {least}{} more", rest.len())
            }
        };
        finding.help = finding.missing.first().filter(|_| lack.lines() != [Missing::Today]).map(|line| {
            if let [Missing::Connected(kind, id)] = lack.lines() {
                let there = design.of_kind(*kind).iter().map(|other| design.component(*other).name.as_str()).take(MOST_PLACES);
                let there = there.collect::<Vec<_>>().join(", ");
                format!("{there}: let a line of it lead to {}, or to what leads there", design.component(*id).name)
            } else if line.property.is_empty() {
                format!("write {} block: {}", crate::problem::quoted_with_article(&line.component), line.doc)
            } else {
                let doc = if line.doc.is_empty() { String::new() } else { format!(": {}", line.doc) };
                let other = first_node.and_then(|node| self.instead_of(node, reads)).map(|name| format!(", or write `{name}` itself"));
                format!("add a line `{} …` to {}{doc}{}", line.property, line.component, other.unwrap_or_default())
            }
        });
        if finding.places.is_empty() {
            self.say_why(&mut finding, scope, reads);
        }
        if finding.places.is_empty() {
            finding.places.extend(self.subject_places(scope));
        }
        finding
    }

    /// What is missing, by the names that people know the lines under and in the order of these, whatever order the
    /// components stand in.
    fn told(&self, lack: &Lack) -> Told {
        if let Some(told) = self.lacking.lists.borrow().get(lack.lines()) {
            return told.clone();
        }
        let node = |missing: &Missing| match missing {
            Missing::Line(node) => Some(*node),
            Missing::Component(_) | Missing::Connected(..) | Missing::Today => None,
        };
        let mut known = self.lacking.lines.borrow_mut();
        let mut line = |missing: &Missing| {
            let line = || Arc::new(MissingLine::of(self.evaluator.design(), missing));
            Arc::clone(known.entry(*missing).or_insert_with(line))
        };
        let mut lines: Vec<(Arc<MissingLine>, Option<NodeId>)> =
            lack.lines().iter().map(|missing| (line(missing), node(missing))).collect();
        lines.sort_by(|a, b| a.0.cmp(&b.0));
        lines.dedup_by(|a, b| a.0 == b.0);
        let (lines, nodes): (Vec<Arc<MissingLine>>, Vec<Option<NodeId>>) = lines.into_iter().unzip();
        let told: Told = (lines.into(), nodes.into());
        self.lacking.lists.borrow_mut().insert(lack.shared_lines(), told.clone());
        told
    }

    /// The property of the same component that a missing line would have been for, if a person may write it
    /// instead: one that this check, which read `reads`, stands on.
    fn instead_of(&self, missing: NodeId, reads: &[NodeId]) -> Option<SmolStr> {
        let design = self.evaluator.design();
        let NodeKind::Property(owner, missing_property) = design.node_kind(missing) else { return None };
        // A line that has to be written has no other to stand in for it.
        if design.kind_of(owner).properties.get(missing_property).is_none_or(|declared| declared.required) {
            return None;
        }
        let candidates = self.evaluator.read_by(missing).into_iter().filter_map(|reader| match design.node_kind(reader) {
            NodeKind::Property(id, property) if id == owner && design.component(id).written(property).is_none() => {
                let declared = design.kind_of(id).properties.get(property)?;
                matches!(declared.ty, crate::design::Type::Quantity(_)).then(|| (reader, declared.name.clone()))
            }
            _ => None,
        });
        candidates.into_iter().find(|(reader, _)| self.evaluator.stands_on(reads, *reader)).map(|(_, name)| name)
    }
}
