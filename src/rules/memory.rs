//! The findings of a text that is being written: after an edit only those are worked out again that
//! stand on something the edit has changed.
//!
//! In: the rules, the values, and what was found before. Out: what [`check`](super::check) would find.

use super::acceptance;
use super::engine::{Engine, is_whole, keep_last_resorts};
use super::finding::Finding;
use super::options::Options;
use super::undecided::Lacking;
use crate::design::{NodeId, Writer};
use crate::syntax::tree::Date;
use crate::text::{FileId, Span};
use crate::values::{Evaluator, MOST_MISSING, Renumbered, Scope, Value};
use rustc_hash::{FxHashMap, FxHashSet};
use smol_str::SmolStr;
use std::rc::Rc;

/// What was found before.
#[derive(Debug, Default)]
pub struct Memory {
    /// The day that was judged on: rules may ask for it.
    today: Option<Date>,
    rules: FxHashMap<SmolStr, RuleMemory>,
}

/// What one rule found.
#[derive(Debug, Default)]
struct RuleMemory {
    /// Where the rule stands: one of the person's own that has changed stands elsewhere.
    name_span: Span,
    /// What decides over which bindings it goes.
    reads: Vec<NodeId>,
    /// Something was wrong with the rule itself: that is to be said again each time.
    told: bool,
    bindings: Vec<Binding>,
}

/// One binding of a rule, with what was found on it.
#[derive(Debug, Clone)]
struct Binding {
    bound: Vec<(SmolStr, Value)>,
    reads: Vec<NodeId>,
    told: bool,
    /// It is not known whether the rule goes over it: that is decided with the bindings.
    undecided: bool,
    finding: Option<Rc<Finding>>,
}

impl Memory {
    /// The same findings after an edit that gave components other numbers and lines other places; what stands on
    /// a component that is gone is forgotten. `gone` are the fragments of the text that are there no longer.
    pub fn renumber(&mut self, moved: &Renumbered, gone: &FxHashSet<FileId>) {
        if moved.has_new_names() {
            // A rule of the person's own may use any name.
            self.rules.retain(|_, rule| rule.name_span.file.is_built_in());
        }
        if !gone.is_empty() {
            self.move_places(moved, gone);
        }
        if moved.is_same() && !moved.has_others() {
            return;
        }
        let all = |reads: &mut Vec<NodeId>| {
            let before = reads.len();
            *reads = reads.iter().filter_map(|node| moved.node(*node)).collect();
            reads.len() == before
        };
        let former = moved.former_names();
        for rule in self.rules.values_mut() {
            // What stood on something that is gone is looked at again.
            rule.told |= !all(&mut rule.reads);
            rule.bindings.retain_mut(|binding| {
                binding.told |= !all(&mut binding.reads);
                let bound: Option<Vec<(SmolStr, Value)>> =
                    binding.bound.iter().map(|(name, value)| Some((name.clone(), moved.value(value)?))).collect();
                // A binding to a component that is gone is none.
                let is_another = |(_, value): &(SmolStr, Value)| matches!(value, Value::Component(id) if moved.is_another(*id));
                binding.told |= bound.as_ref().is_some_and(|bound| bound.iter().any(is_another));
                // What shows a name is a question that was asked; these name what a finding stands on without asking.
                // Of a list that was cut the first may be others now.
                binding.told |= binding.finding.as_ref().is_some_and(|finding| finding.missing.len() >= MOST_MISSING);
                binding.told |= !former.is_empty() && binding.finding.as_ref().is_some_and(|finding| speaks_of(finding, &former));
                if let (Some(bound), Some(finding)) = (&bound, &mut binding.finding)
                    && finding.bound != *bound
                {
                    Rc::make_mut(finding).bound.clone_from(bound);
                }
                bound.map(|bound| binding.bound = bound).is_some()
            });
        }
    }

    /// Findings point to where the lines are now; one that points to a line which is gone is made again.
    fn move_places(&mut self, moved: &Renumbered, gone: &FxHashSet<FileId>) {
        for binding in self.rules.values_mut().flat_map(|rule| &mut rule.bindings) {
            let Some(finding) = &mut binding.finding else { continue };
            let influences = finding.influences.iter().map(|influence| influence.place.span);
            let mends = finding.mends.iter().chain(&finding.suffices).map(|mend| mend.span);
            let old = |span: &Span| gone.contains(&span.file);
            if !finding.places.iter().map(|place| place.span).chain(influences).chain(mends).any(|span| old(&span)) {
                continue;
            }
            // A change of the text stands inside of a line: it is found again with its finding.
            binding.told |= finding.mends.iter().chain(&finding.suffices).any(|mend| old(&mend.span));
            let finding = Rc::make_mut(finding);
            let places = finding.places.iter_mut().chain(finding.influences.iter_mut().map(|influence| &mut influence.place));
            for place in places.filter(|place| old(&place.span)) {
                match moved.place(place.span) {
                    Some(span) => place.span = span,
                    None => binding.told = true,
                }
            }
        }
    }
}

/// Whether a finding names one of these components among what it stands on.
fn speaks_of(finding: &Finding, names: &FxHashSet<&str>) -> bool {
    let is_of = |value: &str| names.contains(value.split('.').next().unwrap_or(value));
    finding.assumed.iter().any(|assumed| names.contains(assumed.component.as_str()))
        || finding.guessed.iter().any(|guess| is_of(&guess.name))
        || finding.missing.iter().any(|line| names.contains(line.component.as_str()))
        || finding.influences.iter().any(|influence| is_of(&influence.name))
        || finding.places.iter().any(|place| place.label.split('`').any(is_of))
}

/// Runs the rules again after an edit.
///
/// `evaluator` has been [renewed](Evaluator::renewed) since `memory` was filled, or `memory` is empty.
#[must_use]
pub fn check_again(evaluator: &Evaluator, options: &Options, memory: &mut Memory) -> Vec<Rc<Finding>> {
    let design = evaluator.design();
    if memory.today != options.today {
        *memory = Memory { today: options.today, ..Memory::default() };
    }
    let mut findings: Vec<Rc<Finding>> = Vec::new();
    let mut kept: FxHashSet<&SmolStr> = FxHashSet::default();
    let lacking = Lacking::default();
    for rule in design.rules.iter().filter(|rule| is_whole(rule)) {
        kept.insert(&rule.name);
        // What is not written is no value that could be seen to change.
        let before = memory.rules.remove(&rule.name).filter(|before| before.name_span == rule.name_span && !rule.last_resort);
        let now = run(&Engine { evaluator, rule, today: options.today, lacking: &lacking }, before);
        findings.extend(now.bindings.iter().filter_map(|binding| binding.finding.clone()));
        memory.rules.insert(rule.name.clone(), now);
    }
    memory.rules.retain(|name, _| kept.contains(name));
    let asked = memory.rules.values().flat_map(|rule| rule.reads.iter().chain(rule.bindings.iter().flat_map(|binding| &binding.reads)));
    evaluator.forget_unasked(asked.copied());
    evaluator.all_looked_at();
    keep_last_resorts(evaluator, &mut findings);
    acceptance::accept_shared(evaluator, options, &mut findings);
    findings
}

fn run(engine: &Engine<'_>, before: Option<RuleMemory>) -> RuleMemory {
    let evaluator = engine.evaluator;
    let Some(mut before) = before else { return gather(engine, Vec::new()) };
    if before.told || evaluator.has_changed(&before.reads) {
        return gather(engine, before.bindings);
    }
    for binding in &mut before.bindings {
        if !binding.undecided && holds_no_longer(evaluator, binding) {
            let mut scope = Scope { writer: Writer::Rule, bound: binding.bound.clone(), today: engine.today, ..Scope::default() };
            *binding = look(engine, &mut scope);
        }
    }
    before
}

fn holds_no_longer(evaluator: &Evaluator, binding: &Binding) -> bool {
    binding.told || evaluator.has_changed(&binding.reads)
}

/// Goes through the bindings of a rule; what was found on one before and still holds is kept.
fn gather(engine: &Engine<'_>, before: Vec<Binding>) -> RuleMemory {
    let evaluator = engine.evaluator;
    let told = evaluator.problems_in_rules();
    let key = |bound: &[(SmolStr, Value)]| -> Option<Vec<u32>> {
        bound
            .iter()
            .map(|(_, value)| match value {
                Value::Component(id) => Some(id.0),
                _ => None,
            })
            .collect()
    };
    let mut known: FxHashMap<Vec<u32>, Binding> = before
        .into_iter()
        .filter(|binding| !binding.undecided && !holds_no_longer(evaluator, binding))
        .filter_map(|binding| Some((key(&binding.bound)?, binding)))
        .collect();
    let mut bindings: Vec<Binding> = Vec::new();
    let mut told_by_bindings = 0;
    let ((), reads) = evaluator.asking(|| {
        let mut scope = Scope { writer: Writer::Rule, today: engine.today, ..Scope::default() };
        evaluator.for_each(&engine.rule.each, &mut scope, &mut |scope, undecided| {
            let before = evaluator.problems_in_rules();
            let kept = key(&scope.bound).filter(|_| undecided.is_none()).and_then(|key| known.remove(&key));
            // What a finding reads does not decide over which bindings the rule goes.
            let binding = evaluator.apart(|| match (kept, undecided) {
                (Some(kept), _) => kept,
                (None, None) => look(engine, scope),
                (None, Some(lack)) => Binding {
                    bound: scope.bound.clone(),
                    reads: Vec::new(),
                    told: false,
                    undecided: true,
                    finding: Some(Rc::new(engine.undecided(scope, &lack, &[]))),
                },
            });
            told_by_bindings += evaluator.problems_in_rules() - before;
            bindings.push(binding);
        });
    });
    // A binding that is not decided is looked at again with all: what its finding says may stand on more.
    let told = evaluator.problems_in_rules() - told > told_by_bindings || bindings.iter().any(|binding| binding.undecided);
    RuleMemory { name_span: engine.rule.name_span, reads, told, bindings }
}

fn look(engine: &Engine<'_>, scope: &mut Scope) -> Binding {
    let evaluator = engine.evaluator;
    let before = evaluator.problems_in_rules();
    let bound = scope.bound.clone();
    let (finding, reads) = evaluator.asking(|| engine.on(scope));
    Binding { bound, reads, told: evaluator.problems_in_rules() > before, undecided: false, finding: finding.map(Rc::new) }
}
