//! What if: some values replaced, and only what depends on them worked out again.
//!
//! Worst cases, "what would mend it" and what-ifs all ask here. Values that do not depend on a
//! replaced one are shared with the design as it stands.

use super::Outcome;
use super::evaluator::Evaluator;
use super::value::{Quantity, Value};
use crate::design::NodeId;
use rustc_hash::{FxHashMap, FxHashSet};

/// How many scenarios are kept: checks that stand on the same tolerances share them.
const MOST_KEPT: usize = 256;

/// One end of one tolerance: a part of a node's value moved by `delta` (SI base units).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turn {
    /// Whose value.
    pub node: NodeId,
    /// Which part of a size, range or list, as a [`Tolerance`](super::Tolerance) counts them; 0 for a single number.
    pub part: usize,
    /// By how much.
    pub delta: f64,
}

type Key = Vec<(NodeId, usize, u64)>;

/// Replaced and moved values with what they touch.
#[derive(Debug, Default)]
pub(super) struct Scenario {
    replaced: FxHashMap<NodeId, Value>,
    /// Lines with a tolerance that are worked out from others: by how much they are off whatever the others come to.
    off: FxHashMap<NodeId, Vec<Turn>>,
    /// The nodes that are replaced or stand on one that is; perhaps some that did so before and do no longer.
    touched: FxHashSet<NodeId>,
    again: FxHashMap<NodeId, Outcome>,
    working: FxHashSet<NodeId>,
    /// How many of the values that the design has worked out were looked at for `touched`.
    as_of: usize,
}

impl Scenario {
    fn touches(&self, node: NodeId) -> bool {
        self.touched.contains(&node)
    }

    fn changed(&self) -> impl Iterator<Item = NodeId> {
        self.replaced.keys().chain(self.off.keys()).copied()
    }
}

/// Scenarios that were asked for before.
#[derive(Debug, Default)]
pub(super) struct Kept {
    scenarios: FxHashMap<Key, Scenario>,
}

impl Evaluator {
    /// Runs `work` with other values in place of the design's, then forgets them.
    ///
    /// The nodes replaced must have been worked out before. Problems met on the way are not reported.
    pub fn what_if<T>(&self, replaced: impl IntoIterator<Item = (NodeId, Value)>, work: impl FnOnce() -> T) -> T {
        self.what_if_turned(replaced, &[], work)
    }

    /// As [`Evaluator::what_if`], with some written numbers, the replaced ones among them, moved to an end of their tolerance.
    pub fn what_if_turned<T>(&self, replaced: impl IntoIterator<Item = (NodeId, Value)>, turns: &[Turn], work: impl FnOnce() -> T) -> T {
        let mut scenario = Scenario::default();
        // Inside another what-if both count.
        if let Some(outer) = self.scenario.borrow().as_ref() {
            scenario.replaced.clone_from(&outer.replaced);
            scenario.off.clone_from(&outer.off);
        }
        for (node, value) in replaced {
            scenario.off.remove(&node);
            scenario.replaced.insert(node, value);
        }
        self.turn(&mut scenario, turns);
        self.inside(scenario, work).0
    }

    /// Runs `work` with some written numbers moved to an end of their tolerance.
    pub fn turned<T>(&self, turns: &[Turn], work: impl FnOnce() -> T) -> T {
        if turns.is_empty() {
            return work();
        }
        let key: Key = turns.iter().map(|turn| (turn.node, turn.part, turn.delta.to_bits())).collect();
        let kept = self.kept.borrow_mut().scenarios.remove(&key);
        let scenario = kept.unwrap_or_else(|| {
            let mut scenario = Scenario::default();
            self.turn(&mut scenario, turns);
            scenario
        });
        let (outcome, scenario) = self.inside(scenario, work);
        let mut kept = self.kept.borrow_mut();
        if kept.scenarios.len() >= MOST_KEPT {
            kept.scenarios.clear();
        }
        kept.scenarios.insert(key, scenario);
        outcome
    }

    /// Moves the numbers to their ends: a number at once, what is worked out from others when those have come to their values.
    fn turn(&self, scenario: &mut Scenario, turns: &[Turn]) {
        for turn in turns {
            let before = scenario.replaced.get(&turn.node).cloned();
            if before.is_none() && !self.reads(turn.node).is_empty() {
                scenario.off.entry(turn.node).or_default().push(*turn);
            } else if let Some(before) = before.or_else(|| self.known(turn.node).and_then(Result::ok)) {
                scenario.replaced.insert(turn.node, self.moved(&before, turn.part, turn.delta));
            }
        }
    }

    fn inside<T>(&self, mut scenario: Scenario, work: impl FnOnce() -> T) -> (T, Scenario) {
        self.spread(&mut scenario);
        let before = self.scenario.replace(Some(scenario));
        let (outcome, frame) = self.in_frame(None, work);
        let scenario = self.scenario.replace(before).unwrap_or_default();
        // What is read in a worst case is read: a change of it is one of the check.
        if let Some(outer) = self.frames.borrow_mut().last_mut() {
            outer.reads.extend(frame.reads);
        }
        (outcome, scenario)
    }

    /// Finds what stands on the replaced values; what has been worked out since this was last asked may do so too.
    fn spread(&self, scenario: &mut Scenario) {
        let graph = self.graph.borrow();
        if scenario.touched.is_empty() {
            let changed: Vec<NodeId> = scenario.changed().collect();
            graph.spread(changed, &mut scenario.touched);
        } else {
            for node in graph.order.get(scenario.as_of..).unwrap_or_default() {
                if graph.from(*node).iter().any(|read| scenario.touches(*read)) {
                    graph.spread([*node], &mut scenario.touched);
                }
            }
        }
        scenario.as_of = graph.order.len();
    }

    /// The node's value moved by `delta` (SI base units) in one part.
    #[must_use]
    pub fn moved(&self, value: &Value, part: usize, delta: f64) -> Value {
        let shifted = |quantity: &Quantity| Quantity { si: quantity.si + delta, ..quantity.clone() };
        match value {
            Value::Quantity(quantity) => Value::Quantity(shifted(quantity)),
            Value::Size(parts) => Value::Size(
                parts.iter().enumerate().map(|(at, quantity)| if at == part { shifted(quantity) } else { quantity.clone() }).collect(),
            ),
            Value::Range(ends) => {
                let mut ends = ends.as_ref().clone();
                if let Some(end) = ends.get_mut(part) {
                    *end = shifted(end);
                }
                Value::Range(std::sync::Arc::new(ends))
            }
            Value::List(items) => {
                let mut first = 0;
                let moved = items.iter().map(|item| {
                    let own = part.checked_sub(first).filter(|own| *own < item.numbers());
                    first += item.numbers();
                    own.map_or_else(|| item.clone(), |own| self.moved(item, own, delta))
                });
                Value::List(moved.collect())
            }
            other => other.clone(),
        }
    }

    /// Inside a what-if: the replaced value, or the touched one worked out again; `None` if the design's own counts.
    pub(super) fn scenario_value(&self, node: NodeId) -> Option<Outcome> {
        {
            let scenario = self.scenario.borrow();
            let scenario = scenario.as_ref()?;
            if let Some(value) = scenario.replaced.get(&node) {
                return Some(Ok(value.clone()));
            }
            if let Some(outcome) = scenario.again.get(&node) {
                return Some(outcome.clone());
            }
        }
        if self.known(node).is_none() {
            self.learn(node);
        }
        {
            let mut scenario = self.scenario.borrow_mut();
            let scenario = scenario.as_mut()?;
            if !scenario.touches(node) {
                return None;
            }
            // A circle that only these values close.
            if !scenario.working.insert(node) {
                return Some(Err(super::Lack::Faulty));
            }
        }
        let (outcome, frame) = self.in_frame(Some(node), || match self.known(node) {
            Some(before) if self.stands_on_the_same(node) => before,
            _ => self.work_out(node),
        });
        for read in frame.reads {
            self.graph.borrow_mut().note_besides(node, read);
        }
        let off = self.scenario.borrow().as_ref().and_then(|scenario| scenario.off.get(&node).cloned()).unwrap_or_default();
        let outcome = outcome.map(|value| off.iter().fold(value, |value, turn| self.moved(&value, turn.part, turn.delta)));
        if let Some(scenario) = self.scenario.borrow_mut().as_mut() {
            scenario.working.remove(&node);
            scenario.again.insert(node, outcome.clone());
        }
        Some(outcome)
    }

    /// Works out a node that the design as it stands did not need, and whether the replaced values touch it.
    fn learn(&self, node: NodeId) {
        let scenario = self.scenario.borrow_mut().take();
        let (_, _) = self.in_frame(None, || self.value(node).is_ok());
        if let Some(mut scenario) = scenario {
            self.spread(&mut scenario);
            self.scenario.borrow_mut().replace(scenario);
        }
    }

    /// Whether all that a value was worked out from is here as it is in the design: then it is so itself, and need not be worked
    /// out again. The first that differs ends the question, since what would have been read after it is not known.
    fn stands_on_the_same(&self, node: NodeId) -> bool {
        self.reads(node).iter().all(|read| match self.scenario_value(*read) {
            Some(now) => self.known(*read) == Some(now),
            None => true,
        })
    }
}
