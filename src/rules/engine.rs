//! Binding rules, working out both sides, giving verdicts.

use super::acceptance;
use super::finding::{Finding, Verdict};
use super::mend::{Judge, Remedies};
use super::options::{Only, Options};
use super::undecided::Lacking;
use super::worst::{self, Worst};
use crate::design::{NodeId, Rule, Writer, refusals};
use crate::syntax::tree::{Date, Expr};
use crate::units::{self, Dim, Unit};
use crate::values::{Evaluator, Lack, Measure, MissingLine, Once, Quantity, Scope, Turn, Value};
use rustc_hash::FxHashSet;
use smol_str::SmolStr;
use std::borrow::Borrow;
use std::sync::Arc;

/// How much should be left where a rule does not say.
const USUAL_RESERVE: f64 = 0.10;

/// Where a rule does not apply, what would be over counts for so little: enough to see the way to where it does.
const SLIGHTLY: f64 = 1e-3;

/// A margin from here on leaves no doubt: nearer than that two sides may count as the same.
const CLEARLY: f64 = 1e-6;

/// Runs the rules of a design.
///
/// One finding for each rule on each of its bindings, in the order of the rules and of the text.
#[must_use]
pub fn check(evaluator: &Evaluator, options: &Options) -> Vec<Finding> {
    let design = evaluator.design();
    let lacking = Lacking::default();
    let mut findings = Vec::new();
    let meant = Only::meant(options.only.as_ref(), design);
    for rule in &design.rules {
        if meant.may_ask(rule) && is_whole(rule) {
            Engine { evaluator, rule, today: options.today, lacking: &lacking }.run(&mut findings);
        }
    }
    findings.retain(|finding| meant.asks(finding));
    keep_last_resorts(evaluator, &mut findings);
    acceptance::accept(evaluator, options, &mut findings);
    findings
}

/// Whether a rule asks something.
pub(super) fn is_whole(rule: &Rule) -> bool {
    (rule.demand.is_some() && rule.capacity.is_some()) || rule.require.is_some()
}

/// Drops what a rule of last resort says of lines that another rule has already named.
pub(super) fn keep_last_resorts<F: Borrow<Finding>>(evaluator: &Evaluator, findings: &mut Vec<F>) {
    let rules: FxHashSet<&str> = evaluator.design().rules.iter().filter(|rule| rule.last_resort).map(|rule| rule.name.as_str()).collect();
    let is_last = |finding: &Finding| rules.contains(finding.rule.as_str());
    if !findings.iter().any(|finding| is_last(finding.borrow())) {
        return;
    }
    let others = findings.iter().map(Borrow::borrow).filter(|finding| !is_last(finding));
    let named: FxHashSet<&MissingLine> = others.flat_map(|finding| finding.missing.iter()).map(AsRef::as_ref).collect();
    let is_new = |finding: &Finding| finding.missing.is_empty() || !finding.missing.iter().all(|line| named.contains(line.as_ref()));
    let kept: Vec<bool> = findings.iter().map(Borrow::borrow).map(|finding| !is_last(finding) || is_new(finding)).collect();
    let mut kept = kept.into_iter();
    findings.retain(|_| kept.next().unwrap_or(true));
}

pub(super) struct Engine<'c> {
    pub(super) evaluator: &'c Evaluator,
    pub(super) rule: &'c Rule,
    pub(super) today: Option<Date>,
    pub(super) lacking: &'c Lacking,
}

/// Both sides of a check.
#[derive(Clone)]
struct Sides {
    demand: Quantity,
    capacity: Quantity,
}

impl Sides {
    /// Both in one unit.
    fn within(self, unit: Option<&Arc<Unit>>) -> Sides {
        let within = |side: Quantity| Quantity { unit: unit.cloned(), ..side };
        Sides { demand: within(self.demand), capacity: within(self.capacity) }
    }
}

impl Engine<'_> {
    fn run(&self, findings: &mut Vec<Finding>) {
        let mut scope = Scope { writer: Writer::Rule, today: self.today, ..Scope::default() };
        self.evaluator.for_each(&self.rule.each, &mut scope, &mut |scope, undecided| {
            let found = match undecided {
                Some(lack) => Some(self.undecided(scope, &lack, &[])),
                None => self.on(scope),
            };
            findings.extend(found.map(Finding::settled));
        });
    }

    /// The finding on one binding; none where the rule does not apply to it.
    pub(super) fn on(&self, scope: &mut Scope) -> Option<Finding> {
        scope.once = Once::of(&self.rule.once);
        let finding = self.applied(scope);
        scope.once = Once::default();
        finding
    }

    fn applied(&self, scope: &mut Scope) -> Option<Finding> {
        let (applies, reads) = self.evaluator.reading(|| match &self.rule.when {
            Some(when) => self.evaluator.condition(when, scope),
            None => Ok(true),
        });
        match applies {
            Ok(true) => self.bound(scope, None),
            // What does not apply as it is written may apply, and fail, at an end of a tolerance.
            Ok(false) if worst::all_ends(self.evaluator, &reads).is_empty() => None,
            Ok(false) => self.bound(scope, Some(&reads)),
            Err(lack) => Some(self.undecided(scope, &lack, &reads)),
        }
    }

    /// The finding on one binding. `asked` is what `when` read where it holds at an end of some tolerance at the most: then
    /// there is a finding only if something fails there.
    fn bound(&self, scope: &mut Scope, asked: Option<&[NodeId]>) -> Option<Finding> {
        match (&self.rule.demand, &self.rule.capacity, &self.rule.require) {
            (Some(demand), Some(capacity), _) => self.compared(scope, demand, capacity, asked),
            (_, _, Some(require)) => self.required(scope, require, asked),
            _ => Some(self.undecided(scope, &Lack::Faulty, &[])),
        }
    }

    /// Whether the rule applies, with the numbers as they are turned.
    fn applies(&self, scope: &mut Scope) -> Result<bool, Lack> {
        self.rule.when.as_ref().map_or(Ok(true), |when| self.evaluator.condition(when, scope))
    }

    /// How far a rule that does not apply is from applying, at most 1.
    fn short_of_applying(&self, scope: &mut Scope) -> f64 {
        self.rule.when.as_ref().map_or(0.0, |when| -self.margin(when, scope)).clamp(0.0, 1.0)
    }

    fn sides(&self, scope: &mut Scope, demand: &Expr, capacity: &Expr) -> Result<Sides, Lack> {
        let (d, c) = (self.evaluator.evaluate(demand, scope), self.evaluator.evaluate(capacity, scope));
        let (d, c) = match (d, c) {
            (Ok(d), Ok(c)) => (d, c),
            (Err(a), Err(b)) => return Err(a.with(b)),
            (Err(lack), _) | (_, Err(lack)) => return Err(lack),
        };
        match (d, c) {
            // A share of a temperature means nothing: its zero is where its maker put it.
            (Value::Quantity(demand), Value::Quantity(capacity)) if !demand.dim.is_point() => alike(demand, capacity).ok_or(Lack::Faulty),
            (Value::Zero, Value::Quantity(capacity)) => Ok(Sides { demand: Quantity { si: 0.0, ..capacity.clone() }, capacity }),
            (Value::Quantity(demand), Value::Zero) => Ok(Sides { capacity: Quantity { si: 0.0, ..demand.clone() }, demand }),
            (Value::Zero, Value::Zero) => Ok(Sides { demand: Quantity::new(0.0, Dim::NUMBER), capacity: Quantity::new(0.0, Dim::NUMBER) }),
            _ => Err(Lack::Faulty),
        }
    }

    /// The one unit that a finding speaks in, whether at the worst combination or as it is written.
    fn speaks_in(&self, worst: &Sides, nominal: &Sides) -> Option<Arc<Unit>> {
        let numbers = [worst, nominal].map(|sides| [sides.demand.si, sides.capacity.si]).concat();
        let written = worst.demand.unit.as_deref().or(worst.capacity.unit.as_deref());
        units::common_unit(&numbers, worst.demand.dim, written, self.evaluator.system()).map(Arc::new)
    }

    fn compared(&self, scope: &mut Scope, demand: &Arc<Expr>, capacity: &Arc<Expr>, asked: Option<&[NodeId]>) -> Option<Finding> {
        let (sides, mut reads) = self.evaluator.reading(|| self.sides(scope, demand, capacity));
        let nominal = match sides {
            Ok(sides) => sides,
            Err(_) if asked.is_some() => return None,
            Err(Lack::Faulty) => {
                self.say_sides_differ(scope, demand, capacity);
                return Some(self.undecided(scope, &Lack::Faulty, &reads));
            }
            Err(lack) => return Some(self.undecided(scope, &lack, &reads)),
        };
        reads.extend(asked.unwrap_or_default());
        let (ends, worst) = {
            let cell = std::cell::RefCell::new(scope.clone());
            worst::search(self.evaluator, &reads, &|many| {
                let scope = &mut cell.borrow_mut();
                let over = self.sides(scope, demand, capacity).map(|sides| sides.demand.si - sides.capacity.si)?;
                if over > 0.0 && asked.is_some() && !self.applies(scope)? {
                    return Ok(if many { -over * SLIGHTLY * self.short_of_applying(scope) } else { 0.0 });
                }
                Ok(over)
            })
        };
        if asked.is_some() && !self.evaluator.turned(&worst.turns, || self.applies(scope) == Ok(true)) {
            return None;
        }
        let reserve = self.reserve(scope);
        let mut finding = self.empty(scope);
        let subject = scope.clone();
        let before = scope.bound.len();
        self.evaluator.turned(&worst.turns, || {
            let sides = self.sides(scope, demand, capacity).unwrap_or_else(|_| nominal.clone());
            let unit = self.speaks_in(&sides, &nominal);
            let sides = sides.within(unit.as_ref());
            scope.speaks_in = unit;
            finding.verdict = self.verdict(&sides, reserve);
            finding.advice_not_met = self.rule.advice && !holds(&sides);
            finding.ratio = (sides.capacity.si > 0.0 && sides.demand.si >= 0.0)
                .then(|| sides.demand.si / sides.capacity.si)
                .filter(|ratio| ratio.is_finite());
            let (demand_text, capacity_text) = self.apart(&sides);
            scope.bound.push((SmolStr::new_static("demand"), Value::Quantity(sides.demand.clone())));
            scope.bound.push((SmolStr::new_static("capacity"), Value::Quantity(sides.capacity.clone())));
            scope.bound.push((SmolStr::new_static("reserve"), Value::number(reserve)));
            if let Some(ratio) = finding.ratio {
                scope.bound.push((SmolStr::new_static("ratio"), Value::number(ratio)));
            }
            scope.reads_as = vec![("demand".into(), demand_text.as_str().into()), ("capacity".into(), capacity_text.as_str().into())];
            let plain = || match finding.verdict {
                Verdict::Fail => format!("{demand_text} is more than {capacity_text}"),
                _ => format!("{demand_text} against {capacity_text}"),
            };
            finding.message = self.words(self.says(holds(&sides)), scope).unwrap_or_else(plain);
            scope.reads_as.clear();
            finding.demand = Some(Box::new(Measure { quantity: sides.demand, text: demand_text }));
            finding.capacity = Some(Box::new(Measure { quantity: sides.capacity, text: capacity_text }));
        });
        if let Some(lack) = worst.lack.as_ref().filter(|_| finding.verdict != Verdict::Fail) {
            // What is bound for one binding of the rule is not for the next.
            scope.clone_from(&subject);
            return asked.is_none().then(|| self.open_at_an_end(subject, lack, &reads));
        }
        if asked.is_some() && finding.verdict == Verdict::Pass {
            scope.clone_from(&subject);
            return None;
        }
        // What to write instead is a planned value: the worst sides, but every line as it is written.
        if finding.verdict != Verdict::Pass {
            let judge = |scope: &mut Scope| {
                let sides = self.sides(scope, demand, capacity)?;
                Ok((self.verdict(&sides, reserve), sides.demand.si - sides.capacity.si))
            };
            self.say_help(&mut finding, scope, &ends, &worst.turns, &judge);
        }
        scope.bound.truncate(before);
        let unit = scope.speaks_in.take();
        if !ends.is_empty() {
            let nominal = nominal.within(unit.as_ref());
            finding.influences = self.influences(&worst, &nominal.demand);
            finding.nominal = Some(Box::new((self.measure(nominal.demand), self.measure(nominal.capacity))));
        }
        self.say_why(&mut finding, scope, &reads);
        Some(finding)
    }

    fn required(&self, scope: &mut Scope, require: &Arc<Expr>, asked: Option<&[NodeId]>) -> Option<Finding> {
        let (holds, mut reads) = self.evaluator.reading(|| self.evaluator.condition(require, scope));
        let holds = match holds {
            Ok(holds) => holds,
            Err(_) if asked.is_some() => return None,
            Err(lack) => return Some(self.undecided(scope, &lack, &reads)),
        };
        reads.extend(asked.unwrap_or_default());
        // What only is borne may be past bearing at an end.
        let (ends, worst) = if !holds && self.rule.tight_if.is_none() && asked.is_none() {
            (worst::all_ends(self.evaluator, &reads), Worst::default())
        } else {
            let cell = std::cell::RefCell::new(scope.clone());
            worst::search(self.evaluator, &reads, &|many| {
                let scope = &mut cell.borrow_mut();
                let short = if many && asked.is_some() { self.short_of_applying(scope) } else { 0.0 };
                if short > CLEARLY || asked.is_some() && !self.applies(scope)? {
                    return Ok(if many { -1.0 - short } else { 0.0 });
                }
                let margin = if many { self.margin(require, scope).min(1.0) } else { 0.0 };
                if margin > CLEARLY {
                    return Ok(-margin);
                }
                Ok(match self.evaluator.condition(require, scope)? {
                    true => 0.0,
                    false if self.is_borne(scope) => 1.0,
                    false => 2.0,
                })
            })
        };
        if asked.is_some() && !self.evaluator.turned(&worst.turns, || self.applies(scope) == Ok(true)) {
            return None;
        }
        let mut finding = self.empty(scope);
        // What holds at its worst is told as it is written.
        let is_borne_out = self.evaluator.turned(&worst.turns, || self.evaluator.condition(require, scope) == Ok(true));
        let turns: &[Turn] = if is_borne_out { &[] } else { &worst.turns };
        self.evaluator.turned(turns, || {
            let holds = self.evaluator.condition(require, scope).unwrap_or(holds);
            finding.verdict = match (holds, self.rule.advice) {
                (true, _) => Verdict::Pass,
                (false, true) => Verdict::Tight,
                (false, false) if self.is_borne(scope) => Verdict::Tight,
                (false, false) => Verdict::Fail,
            };
            finding.advice_not_met = self.rule.advice && !holds;
            let plain = || if holds { self.rule.title.to_string() } else { format!("does not hold: {}", self.rule.title) };
            finding.message = self.words(self.says(holds), scope).unwrap_or_else(plain);
        });
        if let Some(lack) = worst.lack.as_ref().filter(|_| finding.verdict == Verdict::Pass) {
            return asked.is_none().then(|| self.open_at_an_end(scope.clone(), lack, &reads));
        }
        if asked.is_some() && finding.verdict == Verdict::Pass {
            return None;
        }
        if finding.verdict != Verdict::Pass {
            let judge =
                |scope: &mut Scope| Ok(if self.evaluator.condition(require, scope)? { (Verdict::Pass, 0.0) } else { (Verdict::Fail, 1.0) });
            self.say_help(&mut finding, scope, &ends, &worst.turns, &judge);
        }
        self.say_why(&mut finding, scope, &reads);
        Some(finding)
    }

    /// Whether what does not hold is tight and no failure.
    fn is_borne(&self, scope: &mut Scope) -> bool {
        self.rule.tight_if.as_ref().is_some_and(|borne| self.evaluator.condition(borne, scope) == Ok(true))
    }

    /// What to change: first the numbers that were tried, then what the rule says besides.
    fn say_help(&self, finding: &mut Finding, scope: &mut Scope, ends: &[[Turn; 2]], worst: &[Turn], judge: &Judge<'_>) {
        let Remedies { mut words, mends, suffices } = self.remedies(scope, ends, worst, judge);
        words.extend(self.words(self.rule.help.as_ref(), scope));
        finding.help = (!words.is_empty()).then(|| words.join("; or "));
        finding.mends = mends;
        finding.suffices = suffices;
    }

    /// What holds as written may fail where a tolerance leads to something that cannot be worked out.
    fn open_at_an_end(&self, mut scope: Scope, lack: &Lack, reads: &[NodeId]) -> Finding {
        let mut finding = self.undecided(&mut scope, lack, reads);
        if *lack == Lack::Faulty {
            "has no answer at an end of its tolerances".clone_into(&mut finding.message);
        }
        finding
    }

    /// The sentence for an outcome: where it does not hold, the other one if there is one.
    fn says(&self, holds: bool) -> Option<&Arc<Expr>> {
        let otherwise = self.rule.otherwise.as_ref().filter(|_| !holds);
        otherwise.or(self.rule.says.as_ref())
    }

    fn verdict(&self, sides: &Sides, reserve: f64) -> Verdict {
        let (demand, capacity) = (sides.demand.si, sides.capacity.si);
        let most = capacity - reserve * capacity.abs();
        let within = |limit: f64| demand < limit || units::same(demand, limit);
        if within(most) && (capacity > 0.0 || demand <= 0.0) {
            Verdict::Pass
        } else if holds(sides) || self.rule.advice {
            Verdict::Tight
        } else {
            Verdict::Fail
        }
    }

    fn reserve(&self, scope: &mut Scope) -> f64 {
        let written = self.rule.reserve.as_ref().and_then(|reserve| self.evaluator.evaluate(reserve, scope).ok());
        written.and_then(|value| value.si()).unwrap_or(USUAL_RESERVE)
    }

    fn words(&self, words: Option<&Arc<Expr>>, scope: &mut Scope) -> Option<String> {
        match self.evaluator.evaluate(words?, scope) {
            Ok(Value::Text(text)) => Some(text.to_string()),
            _ => None,
        }
    }

    pub(super) fn measure(&self, quantity: Quantity) -> Measure {
        self.evaluator.measure(quantity)
    }

    /// Both sides in one unit, with as many figures as it takes to tell them apart.
    fn apart(&self, sides: &Sides) -> (String, String) {
        let unit = sides.demand.unit.as_deref().or(sides.capacity.unit.as_deref());
        units::show_apart(sides.demand.si, sides.capacity.si, sides.demand.dim, unit, self.evaluator.system())
    }

    /// A demand in one dimension and a capacity in another is a mistake in the rule.
    fn say_sides_differ(&self, scope: &mut Scope, demand: &Expr, capacity: &Expr) {
        if let (Ok(d), Ok(c)) = (self.evaluator.evaluate(demand, scope), self.evaluator.evaluate(capacity, scope)) {
            if let (Value::Quantity(one), Value::Quantity(other)) = (&d, &c)
                && one.dim.is_point()
                && other.dim.is_point()
            {
                let problem = crate::problem::Problem::error("a temperature is no demand", demand.span, d.describe());
                self.evaluator.report(problem.help("compare temperatures with `require x < y`, or set a difference against a difference"));
                return;
            }
            self.evaluator.report(refusals::unlike_demand((d.describe(), demand.span), (c.describe(), capacity.span)));
        }
    }

    pub(super) fn empty(&self, scope: &Scope) -> Finding {
        let mut subjects: Vec<SmolStr> = Vec::new();
        for (_, value) in &scope.bound {
            match value {
                Value::Component(id) => subjects.push(self.evaluator.design().component(*id).name.clone()),
                Value::Word(word) | Value::Text(word) => subjects.push(word.clone()),
                _ => {}
            }
        }
        Finding {
            rule: self.rule.name.clone(),
            title: self.rule.title.clone(),
            subjects,
            bound: scope.bound.clone(),
            verdict: Verdict::Undetermined,
            advice: self.rule.advice,
            advice_not_met: false,
            demand: None,
            capacity: None,
            ratio: None,
            nominal: None,
            message: String::new(),
            help: None,
            source: self.rule.source.clone(),
            caution: self.rule.caution.clone(),
            state: self.rule.state.clone(),
            mends: Vec::new(),
            suffices: Vec::new(),
            missing: Arc::new([]),
            assumed: Vec::new(),
            guessed: Vec::new(),
            places: Vec::new(),
            influences: Vec::new(),
            accepted: None,
        }
    }
}

/// Whether the capacity meets the demand, with whatever left.
fn holds(sides: &Sides) -> bool {
    sides.demand.si < sides.capacity.si || units::same(sides.demand.si, sides.capacity.si)
}

/// Both sides in the dimension of the demand; a mass beside a force is taken as its weight.
fn alike(demand: Quantity, capacity: Quantity) -> Option<Sides> {
    let heavy = |quantity: Quantity, dim: Dim| Quantity { si: quantity.si * units::STANDARD_GRAVITY, dim, unit: None };
    if demand.dim == capacity.dim {
        Some(Sides { demand, capacity })
    } else if units::as_weight(demand.dim, capacity.dim) {
        let dim = demand.dim;
        Some(Sides { demand, capacity: heavy(capacity, dim) })
    } else if units::as_weight(capacity.dim, demand.dim) {
        let dim = capacity.dim;
        Some(Sides { demand: heavy(demand, dim), capacity })
    } else {
        None
    }
}
