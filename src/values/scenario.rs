//! What if: some values replaced, and only what depends on them worked out again.
//!
//! Worst cases, "what would mend it" and what-ifs all ask here. Values that do not depend on a
//! replaced one are shared with the design as it stands.

mod standing;

use super::Outcome;
use super::evaluator::Evaluator;
use super::value::{Quantity, Value};
use crate::design::NodeId;
use rustc_hash::FxHashMap;
use standing::{Standing, Standings};

/// So many values of scenarios are kept, about 20 bytes each: checks that stand on the same tolerances share them.
const MOST_KEPT: usize = 1_500_000;
/// Scenarios of more turns than these are hardly ever asked for again.
const MOST_TURNS: usize = 6;

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
    /// What is replaced or stands on what is, with what it has come to.
    standings: Standings,
    /// How many of the values that the design has worked out were looked at for that; none before the first.
    as_of: Option<usize>,
}

/// Scenarios that were asked for before.
#[derive(Debug, Default)]
pub(super) struct Kept {
    scenarios: FxHashMap<Key, Scenario>,
    /// How many values they hold.
    values: usize,
}

impl Kept {
    fn take(&mut self, key: &Key) -> Option<Scenario> {
        let scenario = self.scenarios.remove(key)?;
        self.values = self.values.saturating_sub(scenario.standings.kept());
        Some(scenario)
    }

    fn put(&mut self, key: Key, scenario: Scenario) {
        if key.len() > MOST_TURNS {
            return;
        }
        self.values += scenario.standings.kept();
        self.scenarios.insert(key, scenario);
        if self.values > MOST_KEPT {
            // Each turn alone is asked for by every check that stands on its line.
            self.scenarios.retain(|key, _| key.len() == 1);
            self.values = self.scenarios.values().map(|scenario| scenario.standings.kept()).sum();
            if self.values > MOST_KEPT / 2 {
                *self = Kept::default();
            }
        }
    }
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
        let kept = self.kept.borrow_mut().take(&key);
        let scenario = kept.unwrap_or_else(|| {
            let mut scenario = Scenario::default();
            self.turn(&mut scenario, turns);
            scenario
        });
        let (outcome, scenario) = self.inside(scenario, work);
        self.kept.borrow_mut().put(key, scenario);
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
        self.last_scenario.set(self.last_scenario.get() + 1);
        let number_before = self.scenario_number.replace(self.last_scenario.get());
        let (outcome, frame) = self.in_frame(None, work);
        self.scenario_number.set(number_before);
        let scenario = self.scenario.replace(before).unwrap_or_default();
        // What is read in a worst case is read: a change of it is one of the check.
        self.read_around(frame);
        (outcome, scenario)
    }

    /// Finds what stands on the replaced values; what has been worked out since this was last asked may do so too.
    fn spread(&self, scenario: &mut Scenario) {
        let graph = self.graph.borrow();
        let Scenario { replaced, off, standings, as_of } = scenario;
        match *as_of {
            None => {
                graph.spread(replaced.keys().chain(off.keys()).copied(), &mut |node| standings.touch(node));
                for (node, value) in replaced.iter() {
                    standings.settle(*node, Ok(value.clone()), self.is_so_in_the_design(*node, value));
                }
            }
            Some(before) => {
                for node in graph.order.get(before..).unwrap_or_default() {
                    if graph.reads(*node).iter().any(|read| standings.of(*read) != Standing::Apart) {
                        graph.spread([*node], &mut |node| standings.touch(node));
                    }
                }
            }
        }
        *as_of = Some(graph.order.len());
    }

    fn is_so_in_the_design(&self, node: NodeId, value: &Value) -> bool {
        self.with_known(node, |known| known.is_some_and(|known| known.as_ref() == Ok(value)))
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
        match self.standing(node)? {
            Standing::Other { at, .. } => self.scenario.borrow().as_ref()?.standings.outcome(at).cloned(),
            // A circle that only these values close.
            Standing::Working => Some(Err(super::Lack::Faulty)),
            Standing::Apart | Standing::Touched | Standing::Same => None,
        }
    }

    /// How a value stands inside a what-if, worked out again if it has to be; `None` outside of one.
    fn standing(&self, node: NodeId) -> Option<Standing> {
        let noted = || self.scenario.borrow().as_ref().map(|scenario| scenario.standings.of(node));
        match noted()? {
            Standing::Apart | Standing::Touched if !self.is_known(node) => self.learn(node),
            Standing::Touched => {}
            known => return Some(known),
        }
        match noted()? {
            Standing::Touched => Some(self.work_out_again(node)),
            known => Some(known),
        }
    }

    fn work_out_again(&self, node: NodeId) -> Standing {
        if let Some(scenario) = self.scenario.borrow_mut().as_mut() {
            scenario.standings.work_on(node);
        }
        let (changed, frame) =
            self.in_frame(Some(node), || (!self.is_known(node) || !self.stands_on_the_same(node)).then(|| self.work_out(node)));
        self.graph.borrow_mut().note_all_besides(node, &frame.reads);
        self.done_with(frame);
        let mut scenario = self.scenario.borrow_mut();
        let Some(scenario) = scenario.as_mut() else { return Standing::Apart };
        let Some(off) = scenario.off.get(&node) else {
            return match changed {
                None => scenario.standings.is_same(node),
                Some(outcome) => {
                    let same = self.with_known(node, |known| known == Some(&outcome));
                    scenario.standings.settle(node, outcome, same)
                }
            };
        };
        let outcome = changed.or_else(|| self.known(node)).unwrap_or(Err(super::Lack::Faulty));
        let outcome = outcome.map(|value| off.iter().fold(value, |value, turn| self.moved(&value, turn.part, turn.delta)));
        let same = self.with_known(node, |known| known == Some(&outcome));
        scenario.standings.settle(node, outcome, same)
    }

    /// Works out a node that the design as it stands did not need, and whether the replaced values touch it.
    fn learn(&self, node: NodeId) {
        let scenario = self.scenario.borrow_mut().take();
        self.apart(|| self.value(node).is_ok());
        if let Some(mut scenario) = scenario {
            self.spread(&mut scenario);
            self.scenario.borrow_mut().replace(scenario);
        }
    }

    /// Whether all of these values are here as they are in the design.
    #[must_use]
    pub fn are_as_written(&self, nodes: &[NodeId]) -> bool {
        nodes.iter().all(|node| self.is_as_written(*node))
    }

    fn is_as_written(&self, node: NodeId) -> bool {
        match self.standing(node) {
            Some(Standing::Other { same, .. }) => same,
            Some(Standing::Working) => false,
            _ => true,
        }
    }

    /// Whether all that a value was worked out from is here as it is in the design: then it is so itself, and need not be worked
    /// out again. The first that differs ends the question, since what would have been read after it is not known.
    fn stands_on_the_same(&self, node: NodeId) -> bool {
        self.are_as_written(&self.reads(node))
    }
}
