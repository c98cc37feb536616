//! Working out values on demand, each once, and noting from which others.

use super::Outcome;
use super::function::Functions;
use super::halt::Halt;
use super::lack::{Lack, Missing};
use super::links::Links;
use super::once::Once;
use super::reads::{Question, Reads, is_value};
use super::scenario::Scenario;
use super::value::{Tolerance, Value};
use crate::design::{ComponentId, Design, NodeId, NodeKind, Writer};
use crate::problem::Problem;
use crate::syntax::tree::Date;
use crate::text::Span;
use crate::units::{System, Unit};
use rustc_hash::{FxHashMap, FxHashSet};
use smol_str::SmolStr;
use std::cell::{OnceCell, RefCell};
use std::sync::Arc;

/// Stack to keep free, and to add when it runs short: a chain of values may be as long as the design.
const STACK_RESERVE: usize = 128 * 1024;
const STACK_STEP: usize = 4 * 1024 * 1024;

/// The most steps of a circle that are shown: a longer one is a slip in a generated file.
const MOST_STEPS: usize = 40;

/// What names mean where an expression stands.
#[derive(Debug, Clone, Default)]
pub struct Scope {
    /// The component whose line or default it is.
    pub own: Option<ComponentId>,
    /// Who wrote it.
    pub writer: Writer,
    /// The day on which a rule judges; nobody else may ask for it.
    pub today: Option<Date>,
    /// Names that stand for something while a list is gone through.
    pub bound: Vec<(SmolStr, Value)>,
    /// How such a name reads in a sentence, where two of them are compared and have to be told apart.
    pub reads_as: Vec<(SmolStr, SmolStr)>,
    /// The unit of what a sentence is about: other numbers of its dimension are said in it as well.
    pub speaks_in: Option<Arc<Unit>>,
    /// What a rule gives names, as far as it is worked out.
    pub once: Once,
}

impl Scope {
    /// Whether a name is bound where an expression stands.
    pub(super) fn is_bound(&self, word: &str) -> bool {
        self.number_of(word).is_some()
    }

    /// The number of the name that is bound: of two the inner one.
    pub(super) fn number_of(&self, word: &str) -> Option<usize> {
        self.bound.iter().rposition(|(name, _)| name == word)
    }
}

#[derive(Debug, Clone, Default)]
pub(super) enum Slot {
    #[default]
    Untouched,
    Working,
    Done(Outcome),
}

/// A value being worked out.
#[derive(Debug, Default)]
pub(super) struct Frame {
    pub(super) node: Option<NodeId>,
    pub(super) reads: Vec<NodeId>,
}

/// A list with the places of its components. The list is held: another one in its stead would stand at the same address.
pub(super) type KnownPlaces = (Arc<[Value]>, Arc<FxHashMap<ComponentId, usize>>);

pub(super) type JoinKey = (crate::design::KindId, usize);

/// Works out the values of one design.
#[derive(Debug)]
pub struct Evaluator {
    pub(super) design: Arc<Design>,
    pub(super) system: System,
    /// What expressions can call.
    pub(super) functions: &'static Functions,
    pub(super) slots: RefCell<Vec<Slot>>,
    pub(super) graph: RefCell<Reads>,
    pub(super) frames: RefCell<Vec<Frame>>,
    /// Lists of reads that are done with, for the next frames.
    pub(super) spare: RefCell<Vec<Vec<NodeId>>>,
    /// What is wrong, each with the value that was being worked out; none where a rule was.
    pub(super) problems: RefCell<Vec<(Option<NodeId>, Problem)>>,
    pub(super) tolerances: RefCell<FxHashMap<NodeId, Arc<[Tolerance]>>>,
    pub(super) units: RefCell<FxHashMap<SmolStr, Option<Arc<Unit>>>>,
    pub(super) joins: RefCell<FxHashMap<JoinKey, Arc<super::aggregate::Join>>>,
    /// Indexes that an edit may have changed: still as they were, to be gathered again.
    pub(super) stale_joins: RefCell<FxHashMap<JoinKey, Arc<super::aggregate::Join>>>,
    pub(super) buckets: RefCell<super::aggregate::Buckets>,
    pub(super) places: RefCell<Vec<KnownPlaces>>,
    pub(super) scenario: RefCell<Option<Scenario>>,
    /// Of the scenario, another each time that one is gone through; 0 for the design as it is written.
    pub(super) scenario_number: std::cell::Cell<u64>,
    pub(super) last_scenario: std::cell::Cell<u64>,
    pub(super) kept: RefCell<super::scenario::Kept>,
    pub(super) remembered: RefCell<super::calls::Remembered>,
    pub(super) links: OnceCell<Links>,
    /// An edit may have changed the component graph; it is gathered again.
    pub(super) links_are_old: std::cell::Cell<bool>,
    /// Nothing of what was worked out before counts any more.
    pub(super) everything: std::cell::Cell<bool>,
    /// The component graph before such an edit.
    pub(super) stale_links: RefCell<Option<Links>>,
    /// What has changed since the rules ran last: values, and answers to questions.
    pub(super) dirty: RefCell<FxHashSet<NodeId>>,
    /// Values that define one another in a circle were met: where it is told depends on who asks first.
    pub(super) in_circle: std::cell::Cell<bool>,
    pub(super) halt: Halt,
}

impl Evaluator {
    /// An evaluator with nothing worked out yet; `system` decides units that nobody wrote, `functions` can be called.
    #[must_use]
    pub fn new(design: Arc<Design>, system: System, functions: &'static Functions) -> Self {
        let count = design.node_count();
        let evaluator = Self::bare(design, system, functions);
        *evaluator.slots.borrow_mut() = vec![Slot::Untouched; count];
        *evaluator.graph.borrow_mut() = Reads::new(count);
        evaluator
    }

    /// An evaluator without a place for any value.
    pub(super) fn bare(design: Arc<Design>, system: System, functions: &'static Functions) -> Self {
        Self {
            design,
            system,
            functions,
            slots: RefCell::default(),
            graph: RefCell::default(),
            frames: RefCell::default(),
            spare: RefCell::default(),
            problems: RefCell::default(),
            tolerances: RefCell::default(),
            units: RefCell::default(),
            joins: RefCell::default(),
            stale_joins: RefCell::default(),
            buckets: RefCell::default(),
            places: RefCell::default(),
            scenario: RefCell::new(None),
            scenario_number: std::cell::Cell::new(0),
            last_scenario: std::cell::Cell::new(0),
            kept: RefCell::default(),
            remembered: RefCell::default(),
            links: OnceCell::new(),
            links_are_old: std::cell::Cell::new(false),
            everything: std::cell::Cell::new(false),
            stale_links: RefCell::default(),
            dirty: RefCell::default(),
            in_circle: std::cell::Cell::new(false),
            halt: Halt::default(),
        }
    }

    /// With somebody who may ask it to give up.
    #[must_use]
    pub fn heeding(self, halt: Halt) -> Self {
        Self { halt, ..self }
    }

    /// For the same design, with nothing worked out yet.
    pub(crate) fn anew(&self) -> Self {
        Self::new(Arc::clone(&self.design), self.system, self.functions).heeding(self.halt.clone())
    }

    /// Whether values that define one another in a circle were met.
    pub(crate) fn has_met_a_circle(&self) -> bool {
        self.in_circle.get()
    }

    /// The design whose values these are.
    #[must_use]
    pub fn design(&self) -> &Design {
        &self.design
    }

    /// The system of units for values that nobody gave one.
    #[must_use]
    pub fn system(&self) -> System {
        self.system
    }

    /// What went wrong so far, each once.
    pub fn problems(&self) -> Vec<Problem> {
        let mut problems: Vec<Problem> = self.problems.borrow().iter().map(|(_, problem)| problem.clone()).collect();
        problems.sort_by_key(Problem::span);
        problems.dedup();
        problems
    }

    /// The value of a node, worked out at the first call.
    ///
    /// # Errors
    /// What is missing, or that a line it stands on is wrong (which is then among the problems).
    pub fn value(&self, node: NodeId) -> Outcome {
        self.note_read(node);
        if let Some(known) = self.scenario_value(node) {
            return known;
        }
        let slot = self.slots.borrow().get(node.0 as usize).cloned().unwrap_or_default();
        match slot {
            Slot::Done(outcome) => outcome,
            Slot::Working => {
                self.report_circle(node);
                Err(Lack::Faulty)
            }
            Slot::Untouched => {
                self.put(node, Slot::Working);
                let (outcome, frame) = self.in_frame(Some(node), || self.work_out(node));
                self.record(node, &frame.reads);
                self.done_with(frame);
                self.put(node, Slot::Done(outcome.clone()));
                outcome
            }
        }
    }

    /// A property of a component by its number in the kind.
    ///
    /// # Errors
    /// As [`Evaluator::value`].
    pub fn property(&self, component: ComponentId, property: usize) -> Outcome {
        self.value(self.design.node(component, property))
    }

    /// The value if it has been worked out already.
    #[must_use]
    pub fn known(&self, node: NodeId) -> Option<Outcome> {
        match self.slots.borrow().get(node.0 as usize) {
            Some(Slot::Done(outcome)) => Some(outcome.clone()),
            _ => None,
        }
    }

    /// Looks at the value if it has been worked out already.
    pub(super) fn with_known<T>(&self, node: NodeId, look: impl FnOnce(Option<&Outcome>) -> T) -> T {
        match self.slots.borrow().get(node.0 as usize) {
            Some(Slot::Done(outcome)) => look(Some(outcome)),
            _ => look(None),
        }
    }

    /// Whether the value has been worked out already.
    #[must_use]
    pub fn is_known(&self, node: NodeId) -> bool {
        matches!(self.slots.borrow().get(node.0 as usize), Some(Slot::Done(_)))
    }

    /// The nodes that a node was worked out from.
    #[must_use]
    pub fn reads(&self, node: NodeId) -> Arc<[NodeId]> {
        self.graph.borrow().from(node)
    }

    /// These nodes and all that they stand on, each once, nearest first.
    #[must_use]
    pub fn below(&self, nodes: &[NodeId]) -> Vec<NodeId> {
        self.graph.borrow().below(nodes)
    }

    /// These nodes and all that they stand on as the design is written or at some end of a tolerance that was tried.
    #[must_use]
    pub fn below_at_worst(&self, nodes: &[NodeId]) -> Vec<NodeId> {
        self.graph.borrow().below_at_worst(nodes)
    }

    /// Whether one of these nodes is that one or stands on it.
    #[must_use]
    pub fn stands_on(&self, nodes: &[NodeId], wanted: NodeId) -> bool {
        self.graph.borrow().stands_on(nodes, wanted)
    }

    /// The nodes that were worked out from a node, directly, in the order of their numbers.
    #[must_use]
    pub fn read_by(&self, node: NodeId) -> Vec<NodeId> {
        let graph = self.graph.borrow();
        let reads_it = |reader: &NodeId| graph.from(*reader).contains(&node);
        let mut readers: Vec<NodeId> = graph.by(node).filter(reads_it).collect();
        readers.sort_unstable();
        readers.dedup();
        readers
    }

    /// Runs `work` and tells which nodes it read.
    pub fn reading<T>(&self, work: impl FnOnce() -> T) -> (T, Vec<NodeId>) {
        let (outcome, mut reads) = self.asking(work);
        reads.retain(|node| is_value(*node));
        (outcome, reads)
    }

    /// Runs `work` and tells which node it read last, also where it had read that before.
    pub fn last_read<T>(&self, work: impl FnOnce() -> T) -> (T, Option<NodeId>) {
        let (outcome, frame) = self.in_frame(None, work);
        let last = frame.reads.iter().rfind(|node| is_value(**node)).copied();
        self.read_around(frame);
        (outcome, last)
    }

    /// As [`Evaluator::reading`], with the questions about the design as a whole that were asked.
    pub(crate) fn asking<T>(&self, work: impl FnOnce() -> T) -> (T, Vec<NodeId>) {
        let (outcome, frame) = self.in_frame(None, work);
        let mut reads = frame.reads;
        self.graph.borrow().keep_first(&mut reads);
        // Whoever asks what is read reads it too.
        if let Some(outer) = self.frames.borrow_mut().last_mut() {
            outer.reads.extend(&reads);
        }
        (outcome, reads)
    }

    /// Runs `work` without whoever is asked around it reading what it reads.
    pub(crate) fn apart<T>(&self, work: impl FnOnce() -> T) -> T {
        let (outcome, frame) = self.in_frame(None, work);
        self.done_with(frame);
        outcome
    }

    /// Notes that the answer to a question about the design as a whole is being used.
    pub(crate) fn ask(&self, question: Question) {
        self.note_read(question.node());
    }

    pub(super) fn in_frame<T>(&self, node: Option<NodeId>, work: impl FnOnce() -> T) -> (T, Frame) {
        let reads = self.spare.borrow_mut().pop().unwrap_or_default();
        self.frames.borrow_mut().push(Frame { node, reads });
        let outcome = stacker::maybe_grow(STACK_RESERVE, STACK_STEP, work);
        let frame = self.frames.borrow_mut().pop().unwrap_or_default();
        (outcome, frame)
    }

    /// Whoever is asked around it reads what was read in this frame.
    pub(super) fn read_around(&self, frame: Frame) {
        if let Some(outer) = self.frames.borrow_mut().last_mut() {
            outer.reads.extend(&frame.reads);
        }
        self.done_with(frame);
    }

    /// Nobody asks any more what was read in this frame.
    pub(super) fn done_with(&self, frame: Frame) {
        let mut reads = frame.reads;
        reads.clear();
        self.spare.borrow_mut().push(reads);
    }

    /// Notes that a value was looked at, or what stands in its line.
    pub(crate) fn note_read(&self, node: NodeId) {
        if let Some(frame) = self.frames.borrow_mut().last_mut() {
            frame.reads.push(node);
        }
    }

    pub(super) fn put(&self, node: NodeId, slot: Slot) {
        if let Some(place) = self.slots.borrow_mut().get_mut(node.0 as usize) {
            *place = slot;
        }
    }

    fn record(&self, node: NodeId, reads: &[NodeId]) {
        self.graph.borrow_mut().note(node, reads);
    }

    pub(super) fn work_out(&self, node: NodeId) -> Outcome {
        self.halt.heed();
        match self.design.node_kind(node) {
            NodeKind::Named(at) => match self.design.named.get(at) {
                Some(named) => {
                    let value = self.evaluate(&named.value, &mut Scope::default())?;
                    self.note_tolerances(node, &named.value, &value, &mut Scope::default())?;
                    Ok(value)
                }
                None => Err(Lack::Faulty),
            },
            NodeKind::Property(id, property) => {
                let component = self.design.component(id);
                let Some(declared) = self.design.kind(component.kind).properties.get(property) else {
                    return Err(Lack::Faulty);
                };
                let mut scope = Scope { own: Some(id), ..Scope::default() };
                if let Some(written) = component.written(property) {
                    let value = self.evaluate_as(&written.value, &declared.ty, &declared.name, &mut scope)?;
                    self.note_tolerances(node, &written.value, &value, &mut scope)?;
                    self.within_limits(&value, declared, id, written)?;
                    return Ok(value);
                }
                scope.writer = Writer::Kind;
                match &declared.default {
                    Some(default) => {
                        let value = self.evaluate_as(default, &declared.ty, &declared.name, &mut scope)?;
                        self.note_tolerances(node, default, &value, &mut scope)?;
                        Ok(value)
                    }
                    None => Err(Lack::missing(Missing::Line(node))),
                }
            }
        }
    }

    /// Works out the lines of all variants and measurements, so that their mistakes are told whichever is chosen.
    pub(crate) fn look_at_alternatives(&self) {
        let design = Arc::clone(&self.design);
        for (id, property, written) in &design.alternatives {
            let Some(declared) = design.kind_of(*id).properties.get(*property) else { continue };
            self.apart(|| {
                let mut scope = Scope { own: Some(*id), ..Scope::default() };
                let value = self.evaluate_as(&written.value, &declared.ty, &declared.name, &mut scope)?;
                self.tolerances_in(&written.value, &value, &mut scope)?;
                self.within_limits(&value, declared, *id, written)
            })
            .ok();
        }
        for (at, line) in &design.named_alternatives {
            let planned = u32::try_from(*at).map(|at| self.value(NodeId(at)));
            let value = self.apart(|| {
                let value = self.evaluate(&line.value, &mut Scope::default())?;
                self.tolerances_in(&line.value, &value, &mut Scope::default())?;
                Ok::<Value, Lack>(value)
            });
            if let (Ok(Ok(Value::Quantity(planned))), Ok(Value::Quantity(value))) = (&planned, &value)
                && planned.dim != value.dim
            {
                let (due, given) = (planned.dim.describe(), value.dim.describe());
                let named = design.named.get(*at).map(|named| named.name_span).unwrap_or_default();
                let problem = Problem::error(format!("`{}` is {due}, and this is {given}", line.name.text), line.value.span, given);
                self.report(problem.also(named, "in the design"));
            }
        }
    }

    /// Reports a problem, once, and gives the lack to return.
    pub(super) fn fault(&self, problem: Problem) -> Lack {
        self.report(problem);
        Lack::Faulty
    }

    /// Keeps a problem to be told, unless this is a what-if.
    pub fn report(&self, mut problem: Problem) {
        if self.scenario.borrow().is_some() {
            return;
        }
        // What goes wrong inside a default is shown at the component, not in the library.
        if problem.span().file.is_built_in()
            && let Some(span) = self.blamed()
        {
            problem.places.insert(0, crate::problem::Place { span, label: "while this was worked out".to_owned() });
            problem.mends.clear();
        }
        let owner = self.frames.borrow().iter().rev().find_map(|frame| frame.node);
        self.problems.borrow_mut().push((owner, problem));
    }

    /// How many problems were met outside of any value: in a rule.
    pub(crate) fn problems_in_rules(&self) -> usize {
        self.problems.borrow().iter().filter(|(owner, _)| owner.is_none()).count()
    }

    /// The innermost place of the person's own text that is being worked out.
    fn blamed(&self) -> Option<Span> {
        let frames = self.frames.borrow();
        frames.iter().rev().filter_map(|frame| frame.node).map(|node| self.design.node_span(node)).find(|span| !span.file.is_built_in())
    }

    /// A circular definition: the whole circle, each step at its place.
    fn report_circle(&self, node: NodeId) {
        self.in_circle.set(true);
        let circle: Vec<NodeId> = {
            let frames = self.frames.borrow();
            let nodes: Vec<NodeId> = frames.iter().filter_map(|frame| frame.node).collect();
            let from = nodes.iter().rposition(|open| *open == node).unwrap_or(0);
            nodes.get(from..).unwrap_or_default().to_vec()
        };
        let name = |step: &NodeId| format!("`{}`", self.design.node_name(*step));
        let mut names: Vec<String> = circle.iter().take(MOST_STEPS).map(name).collect();
        if circle.len() > MOST_STEPS {
            names.push(format!("… ({} more)", circle.len() - MOST_STEPS));
        }
        names.extend(circle.first().map(name));
        let Some(first) = circle.iter().position(|step| !self.design.node_span(*step).file.is_built_in()) else { return };
        let turned = circle.iter().cycle().skip(first).take(circle.len().min(MOST_STEPS));
        let mut problem: Option<Problem> = None;
        for (at, step) in turned.enumerate() {
            let span = self.design.node_span(*step);
            let next = circle.get((first + at + 1) % circle.len()).copied().unwrap_or(node);
            let label = format!("`{}` needs `{}`", self.design.node_name(*step), self.design.node_name(next));
            problem = Some(match problem {
                None => Problem::error("a value is defined by itself", span, label),
                Some(problem) => problem.also(span, label),
            });
        }
        if let Some(problem) = problem {
            self.fault(problem.help(format!("the circle is {}; give one of them a value of its own", names.join(" → "))));
        }
    }
}
