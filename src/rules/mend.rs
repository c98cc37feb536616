//! What to write instead: the new value that a rule's `mend` line names, as a change of the text.
//!
//! In: a finding that does not hold well, and the rule's `mend line to value`. Out: the change, if the line
//! is one plain number of the component's block or of the pattern or array that it follows, and if the rule does
//! hold with the new value: that is tried, at the worst combination of the tolerances, before it is offered.
//! A line that several components stand on changes for all of them, and the offer says so.

use super::engine::Engine;
use super::finding::Verdict;
use crate::design::{ComponentId, NodeId, NodeKind, Origin};
use crate::problem::Mend;
use crate::syntax::tree::{Expr, Node, Part};
use crate::text::Span;
use crate::units::Unit;
use crate::values::{Quantity, Scope, Turn, Value};
use smol_str::SmolStr;

/// Decimals that are added to those of the writer where his are too few to hold the rule.
const MORE_DECIMALS: usize = 3;
/// With this many tolerances every combination of their ends is tried: 2^6 evaluations.
const MOST_TOLERANCES: u32 = 6;

/// A line with the number that is written in it.
struct Line<'e> {
    /// The values that it is for, the one that the rule looked at first.
    nodes: Vec<NodeId>,
    property: SmolStr,
    part: &'e Part,
    unit: Unit,
}

impl Engine<'_> {
    /// The changes that the rule's `mend` lines name; `holds` judges the rule with a value replaced.
    pub(super) fn mends(&self, scope: &mut Scope, ends: &[[Turn; 2]], holds: &dyn Fn(&mut Scope) -> Option<Verdict>) -> Vec<Mend> {
        let Some(mend) = &self.rule.mend else { return Vec::new() };
        let named = match &mend.node {
            Node::List(items) => items.iter().collect(),
            _ => vec![mend.as_ref()],
        };
        named
            .into_iter()
            .filter_map(|one| match &one.node {
                Node::Range(line, value) => self.mend(line, value, scope, ends, holds),
                _ => None,
            })
            .collect()
    }

    fn mend(
        &self,
        line: &Expr,
        value: &Expr,
        scope: &mut Scope,
        ends: &[[Turn; 2]],
        holds: &dyn Fn(&mut Scope) -> Option<Verdict>,
    ) -> Option<Mend> {
        let evaluator = self.evaluator;
        let (_, reads) = evaluator.reading(|| evaluator.evaluate(line, scope));
        let line = self.written(*reads.last()?)?;
        let Ok(Value::Quantity(wanted)) = evaluator.evaluate(value, scope) else { return None };
        if wanted.dim != line.unit.dim || !wanted.si.is_finite() {
            return None;
        }
        let decimals = decimals(line.part);
        (decimals..=decimals + MORE_DECIMALS).find_map(|decimals| {
            let number = format!("{:.decimals$}", line.unit.from_si(wanted.si));
            let si = line.unit.to_si(number.parse().ok()?);
            let new = Value::Quantity(Quantity { si, ..wanted.clone() });
            if !self.passes(&line, &new, scope, ends, holds) {
                return None;
            }
            let text = format!("{number} {}", line.unit.text);
            let others = match line.nodes.len() {
                1 => String::new(),
                count => format!(" for all {count} that this line is for"),
            };
            Some(Mend { title: format!("write `{} {text}`{others}", line.property), span: line.part.span, text })
        })
    }

    /// Whether the rule passes with a value replaced, wherever within its tolerance each number may be.
    fn passes(
        &self,
        line: &Line<'_>,
        new: &Value,
        scope: &mut Scope,
        ends: &[[Turn; 2]],
        holds: &dyn Fn(&mut Scope) -> Option<Verdict>,
    ) -> bool {
        let at = |turns: &[Turn], scope: &mut Scope| {
            let mut replaced: Vec<(NodeId, Value)> = line.nodes.iter().map(|node| (*node, new.clone())).collect();
            for turn in turns {
                let before = match replaced.iter().position(|(node, _)| *node == turn.node) {
                    Some(at) => replaced.swap_remove(at).1,
                    None => self.evaluator.known(turn.node)?.ok()?,
                };
                replaced.push((turn.node, self.evaluator.moved(&before, turn.part, turn.delta)));
            }
            self.evaluator.what_if(replaced, || holds(scope))
        };
        // More tolerances than these are too many to try: nothing is offered then.
        let Some(combinations) = u32::try_from(ends.len()).ok().filter(|count| *count <= MOST_TOLERANCES).map(|count| 1_usize << count)
        else {
            return false;
        };
        (0..combinations).all(|mask| {
            let turns: Vec<Turn> = ends.iter().enumerate().map(|(at, [down, up])| if mask >> at & 1 == 1 { *up } else { *down }).collect();
            at(&turns, scope) == Some(Verdict::Pass)
        })
    }

    /// The line of a value, if it is one number that stands in a block of the design.
    fn written(&self, node: NodeId) -> Option<Line<'_>> {
        let design = self.evaluator.design();
        let NodeKind::Property(id, property) = design.node_kind(node) else { return None };
        let component = design.component(id);
        let written = component.written(property).filter(|written| matches!(written.origin, Origin::Own | Origin::Pattern(_)))?;
        if written.span.file.is_built_in() {
            return None;
        }
        let follows =
            |other: &&ComponentId| **other != id && design.component(**other).written(property).is_some_and(|one| one.span == written.span);
        // Whoever comes to follow the same line, or does so no longer, changes what is offered.
        let all = self.evaluator.members(component.kind);
        all.iter().for_each(|other| self.evaluator.note_read(design.node(*other, property)));
        let others = all.iter().filter(follows).map(|other| design.node(*other, property));
        let nodes = std::iter::once(node).chain(others).collect();
        let nominal = match &written.value.node {
            Node::Tolerance { value, .. } => value.as_ref(),
            _ => written.value.as_ref(),
        };
        let Node::Quantity(parts) = &nominal.node else { return None };
        let [part] = parts.as_slice() else { return None };
        let unit = Unit::parse(&part.unit.as_ref()?.text).ok()?;
        let property = design.kind_of(id).properties.get(property)?.name.clone();
        Some(Line { nodes, property, part, unit })
    }
}

/// How many decimals the writer gave a number: `3` for `6.300 m`, as far as its length tells.
fn decimals(part: &Part) -> usize {
    let Some(unit) = &part.unit else { return 0 };
    let Span { start, .. } = part.span;
    // One blank stands between a number and its unit.
    let written = (unit.span.start.saturating_sub(start) as usize).saturating_sub(1);
    let whole = format!("{:.0}", part.number.trunc()).len();
    written.saturating_sub(whole + 1)
}
