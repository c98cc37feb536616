//! A check that cannot be decided: which lines are missing, where, and what would do.

use super::engine::Engine;
use super::finding::{Finding, MissingLine};
use super::why::MOST_PLACES;
use crate::design::{NodeId, NodeKind};
use crate::problem::Place;
use crate::values::{Lack, Missing, Scope};
use smol_str::SmolStr;

impl Engine<'_> {
    pub(super) fn undecided(&self, scope: &mut Scope, lack: &Lack, reads: &[NodeId]) -> Finding {
        let design = self.evaluator.design();
        let mut finding = self.empty(scope);
        // By the names that people know the lines under: an edit that puts components into another order changes nothing here.
        let node = |missing: &Missing| match missing {
            Missing::Line(node) => Some(*node),
            Missing::Component(_) | Missing::Today => None,
        };
        let mut lines: Vec<(MissingLine, Option<NodeId>)> =
            lack.lines().iter().map(|missing| (MissingLine::of(design, missing), node(missing))).collect();
        lines.sort_by(|a, b| a.0.cmp(&b.0));
        lines.dedup_by(|a, b| a.0 == b.0);
        let places = lines
            .iter()
            .filter_map(|(line, node)| Some(Place { span: design.node_span((*node)?), label: format!("no `{}` here", line.property) }));
        finding.places = places.take(MOST_PLACES).collect();
        let first_node = lines.first().and_then(|(_, node)| *node);
        finding.missing = lines.into_iter().map(|(line, _)| line).collect();
        finding.message = match finding.missing.as_slice() {
            _ if lack.lines() == [Missing::Today] => "needs to know what day it is".to_owned(),
            [] => "rests on a line that is wrong".to_owned(),
            [one] if one.property.is_empty() => format!("there is no `{}`", one.component),
            [one] => format!("needs `{}` of {}", one.property, one.component),
            [first, rest @ ..] => {
                let name = if first.property.is_empty() {
                    format!("a `{}`", first.component)
                } else {
                    format!("`{}` of {}", first.property, first.component)
                };
                format!("needs {name} and {} more", rest.len())
            }
        };
        finding.help = finding.missing.first().filter(|_| lack.lines() != [Missing::Today]).map(|line| {
            if line.property.is_empty() {
                format!("write a `{}` block: {}", line.component, line.doc)
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
