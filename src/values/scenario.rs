//! What if: some values replaced, and only what depends on them worked out again.
//!
//! Worst cases, "what would mend it" and what-ifs all ask here. Values that do not depend on a
//! replaced one are shared with the design as it stands, and those that depend on some turns only with
//! every other scenario that has these.

mod below;
mod moved_by;
mod reach;
mod shared;
mod standing;

use super::Outcome;
use super::evaluator::Evaluator;
use super::reads::Reads;
use super::value::{Quantity, Value};
use crate::design::NodeId;
pub use moved_by::MovedBy;
use reach::Reach;
use rustc_hash::FxHashMap;
pub(super) use shared::Kept;
use shared::{Come, Mark, Touched};
use standing::{Standing, Standings};

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

impl Turn {
    fn mark(&self) -> Mark {
        (self.node, self.part, self.delta.to_bits())
    }
}

/// Scenarios of more turns than these have hardly anything in common with others.
const MOST_SHARED: usize = 64;

/// Replaced and moved values with what they touch.
#[derive(Debug, Default)]
pub(super) struct Scenario {
    replaced: FxHashMap<NodeId, Value>,
    /// Lines with a tolerance that are worked out from others: by how much they are off whatever the others come to.
    off: FxHashMap<NodeId, Vec<Turn>>,
    /// The turns, in order, where nothing else is another one.
    turns: Vec<Mark>,
    /// Its number: no other has the same.
    number: u64,
    /// What is touched where something else is another one.
    reach: Option<Reach>,
    /// What has been asked so far.
    standings: Standings,
    /// A circle was met that only these values close: what it comes to depends on who asks first.
    is_circular: bool,
}

impl Scenario {
    fn touched(&mut self, node: NodeId, kept: &mut Kept, graph: &Reads, is_off: &dyn Fn(NodeId) -> bool) -> Touched {
        if let Some(reach) = &mut self.reach {
            return if reach.has(node, graph) { Touched::Here } else { Touched::No };
        }
        let below = kept.below.of(node, graph, is_off);
        let touched = kept.touched.of(below, self.number).unwrap_or_else(|| {
            let numbers = kept.below.set(below);
            let touching = self.turns.iter().filter(|(node, ..)| numbers.binary_search(node).is_ok());
            let touching: Box<[Mark]> = touching.copied().collect();
            let touched = match touching.len() {
                0 => Touched::No,
                _ if self.turns.len() > MOST_SHARED => Touched::Here,
                _ => Touched::By(kept.set(touching)),
            };
            kept.touched.note(below, self.number, touched);
            touched
        });
        match touched {
            Touched::By(_) if self.is_circular => Touched::Here,
            touched => touched,
        }
    }

    fn settle(&mut self, node: NodeId, come: Come) -> Standing {
        match come {
            Come::Same => self.standings.is_same(node),
            Come::To(outcome, same) => self.standings.settle(node, outcome, same),
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
        self.inside(scenario, work)
    }

    /// Runs `work` with some written numbers moved to an end of their tolerance.
    pub fn turned<T>(&self, turns: &[Turn], work: impl FnOnce() -> T) -> T {
        if turns.is_empty() {
            return work();
        }
        let mut scenario = Scenario { turns: turns.iter().map(Turn::mark).collect(), ..Scenario::default() };
        scenario.turns.sort_unstable();
        self.turn(&mut scenario, turns);
        self.inside(scenario, work)
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

    fn inside<T>(&self, mut scenario: Scenario, work: impl FnOnce() -> T) -> T {
        self.settle_replaced(&mut scenario);
        self.last_scenario.set(self.last_scenario.get() + 1);
        scenario.number = self.last_scenario.get();
        let before = self.scenario.replace(Some(scenario));
        let number_before = self.scenario_number.replace(self.last_scenario.get());
        let (outcome, frame) = self.in_frame(None, work);
        self.scenario_number.set(number_before);
        self.scenario.replace(before);
        // What is read in a worst case is read: a change of it is one of the check.
        self.read_around(frame);
        outcome
    }

    /// Finds what the replaced values reach, and notes what they are.
    fn settle_replaced(&self, scenario: &mut Scenario) {
        if self.scenario.borrow().is_none() {
            self.kept.borrow_mut().make_room();
        }
        let Scenario { replaced, off, turns, reach, standings, .. } = scenario;
        if turns.is_empty() || !turns.iter().all(|(node, ..)| self.may_be_off(*node)) {
            *reach = Some(Reach::of(replaced.keys().chain(off.keys()).copied(), &self.graph.borrow()));
        }
        for (node, value) in replaced.iter() {
            standings.settle(*node, Ok(value.clone()), self.is_so_in_the_design(*node, value));
        }
    }

    /// Whether a line has a tolerance.
    fn may_be_off(&self, node: NodeId) -> bool {
        self.tolerances.borrow().contains_key(&node)
    }

    /// Whether a value stands on what is another one in this scenario.
    fn touched(&self, node: NodeId, scenario: &mut Scenario) -> Touched {
        // What a circle keeps from being worked out is told of the design.
        if !self.is_known(node) {
            return Touched::No;
        }
        scenario.touched(node, &mut self.kept.borrow_mut(), &self.graph.borrow(), &|node| self.may_be_off(node))
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
            Standing::Unasked | Standing::Apart | Standing::Same => None,
        }
    }

    /// How a value stands inside a what-if, worked out again if it has to be; `None` outside of one.
    fn standing(&self, node: NodeId) -> Option<Standing> {
        {
            let mut scenario = self.scenario.borrow_mut();
            let scenario = scenario.as_mut()?;
            match scenario.standings.of(node) {
                Standing::Unasked => {}
                known => {
                    scenario.is_circular |= known == Standing::Working;
                    return Some(known);
                }
            }
        }
        if !self.is_known(node) {
            self.learn(node);
        }
        if let Some(standing) = self.found(node) {
            return Some(standing);
        }
        let come = self.work_out_again(node);
        let mut scenario = self.scenario.borrow_mut();
        let scenario = scenario.as_mut()?;
        // In this scenario it may have read what it does not in the design: so it may stand on more of the turns.
        if let Touched::By(set) = self.touched(node, scenario) {
            self.kept.borrow_mut().keep(node, set, come.clone());
        }
        Some(scenario.settle(node, come))
    }

    /// How a value stands that is apart, or has been worked out in a scenario that is no other for it.
    fn found(&self, node: NodeId) -> Option<Standing> {
        let mut scenario = self.scenario.borrow_mut();
        let scenario = scenario.as_mut()?;
        match self.touched(node, scenario) {
            Touched::No => Some(scenario.standings.is_apart(node)),
            Touched::Here => None,
            Touched::By(set) => {
                let come = self.kept.borrow().known(node, set)?;
                Some(scenario.settle(node, come))
            }
        }
    }

    fn work_out_again(&self, node: NodeId) -> Come {
        if let Some(scenario) = self.scenario.borrow_mut().as_mut() {
            scenario.standings.work_on(node);
        }
        let (changed, frame) =
            self.in_frame(Some(node), || (!self.is_known(node) || !self.stands_on_the_same(node)).then(|| self.work_out(node)));
        self.graph.borrow_mut().note_all_besides(node, &frame.reads);
        self.done_with(frame);
        let off = self.scenario.borrow().as_ref().and_then(|scenario| scenario.off.get(&node).cloned());
        let outcome = match (changed, off) {
            (None, None) => return Come::Same,
            (Some(outcome), None) => outcome,
            (changed, Some(off)) => {
                let outcome = changed.or_else(|| self.known(node)).unwrap_or(Err(super::Lack::Faulty));
                outcome.map(|value| off.iter().fold(value, |value, turn| self.moved(&value, turn.part, turn.delta)))
            }
        };
        let same = self.with_known(node, |known| known == Some(&outcome));
        Come::To(outcome, same)
    }

    /// Works out a node that the design as it stands did not need.
    fn learn(&self, node: NodeId) {
        let scenario = self.scenario.borrow_mut().take();
        self.apart(|| self.value(node).is_ok());
        self.scenario.replace(scenario);
    }

    /// The numbers of a value, those in a table among them; none where it has none, or cannot be worked out.
    #[must_use]
    pub fn numbers_of(&self, node: NodeId) -> Vec<f64> {
        match self.value(node) {
            Ok(Value::Quantity(quantity)) => vec![quantity.si],
            Ok(Value::Record(record)) => record.fields.iter().filter_map(|(_, field)| field.si()).collect(),
            _ => Vec::new(),
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
