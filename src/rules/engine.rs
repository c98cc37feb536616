//! Binding rules, working out both sides, giving verdicts.

use super::finding::{Accepted, Assumed, Finding, Influence, Measure, MissingLine, Verdict};
use super::worst::{self, Worst};
use crate::design::{NodeId, NodeKind, Rule};
use crate::problem::Place;
use crate::syntax::tree::{Date, Expr, Node};
use crate::units::{self, Dim};
use crate::values::{Evaluator, Lack, Missing, Quantity, Scope, Turn, Value};
use rustc_hash::{FxHashMap, FxHashSet};
use smol_str::SmolStr;
use std::sync::Arc;

/// How much should be left where a rule does not say.
const USUAL_RESERVE: f64 = 0.10;
/// How many places a finding shows: more is not read.
const MOST_PLACES: usize = 6;
/// How far below a check its written lines are looked for.
const MOST_STEPS: usize = 400;

/// What is checked, and on which day.
#[derive(Debug, Clone, Default)]
pub struct Options {
    /// Only rules of this area, or only this rule.
    pub only: Option<SmolStr>,
    /// The day that acceptances and dated rules are judged on; without it no date has passed.
    pub today: Option<Date>,
}

/// Runs the rules of a design.
///
/// One finding for each rule on each of its bindings, in the order of the rules and of the text.
#[must_use]
pub fn check(evaluator: &Evaluator, options: &Options) -> Vec<Finding> {
    let design = evaluator.design();
    let mut findings = Vec::new();
    for rule in &design.rules {
        let wanted = options.only.as_ref().is_none_or(|only| rule.name == *only || rule.area() == only);
        let whole = (rule.demand.is_some() && rule.capacity.is_some()) || rule.require.is_some();
        if wanted && whole {
            Engine { evaluator, rule }.run(&mut findings);
        }
    }
    accept(evaluator, options, &mut findings);
    findings
}

struct Engine<'c> {
    evaluator: &'c Evaluator,
    rule: &'c Rule,
}

/// Both sides of a check.
struct Sides {
    demand: Quantity,
    capacity: Quantity,
}

impl Engine<'_> {
    fn run(&self, findings: &mut Vec<Finding>) {
        let mut scope = Scope::default();
        self.evaluator.for_each(&self.rule.each, &mut scope, &mut |scope, undecided| {
            if let Some(lack) = undecided {
                findings.push(self.undecided(scope, &lack, &[]));
                return;
            }
            let (applies, reads) = self.evaluator.reading(|| match &self.rule.when {
                Some(when) => self.evaluator.condition(when, scope),
                None => Ok(true),
            });
            match applies {
                Ok(true) => findings.push(self.bound(scope)),
                Ok(false) => {}
                Err(lack) => findings.push(self.undecided(scope, &lack, &reads)),
            }
        });
    }

    fn bound(&self, scope: &mut Scope) -> Finding {
        match (&self.rule.demand, &self.rule.capacity, &self.rule.require) {
            (Some(demand), Some(capacity), _) => self.compared(scope, demand, capacity),
            (_, _, Some(require)) => self.required(scope, require),
            _ => self.undecided(scope, &Lack::Faulty, &[]),
        }
    }

    fn sides(&self, scope: &mut Scope, demand: &Expr, capacity: &Expr) -> Result<Sides, Lack> {
        let (d, c) = (self.evaluator.evaluate(demand, scope), self.evaluator.evaluate(capacity, scope));
        let (d, c) = match (d, c) {
            (Ok(d), Ok(c)) => (d, c),
            (Err(a), Err(b)) => return Err(a.with(b)),
            (Err(lack), _) | (_, Err(lack)) => return Err(lack),
        };
        match (d, c) {
            (Value::Quantity(demand), Value::Quantity(capacity)) => {
                alike(demand, capacity).map(|sides| self.in_one_unit(sides)).ok_or(Lack::Faulty)
            }
            (Value::Zero, Value::Quantity(capacity)) => Ok(Sides { demand: Quantity { si: 0.0, ..capacity.clone() }, capacity }),
            (Value::Quantity(demand), Value::Zero) => Ok(Sides { capacity: Quantity { si: 0.0, ..demand.clone() }, demand }),
            (Value::Zero, Value::Zero) => Ok(Sides { demand: Quantity::new(0.0, Dim::NUMBER), capacity: Quantity::new(0.0, Dim::NUMBER) }),
            _ => Err(Lack::Faulty),
        }
    }

    /// A worked-out side beside a written one: both in the written unit, or in one that suits the smaller
    /// where it would read as a nought with many figures, so that they compare at a glance.
    fn in_one_unit(&self, sides: Sides) -> Sides {
        const SMALLEST_READ: f64 = 0.1;
        let Sides { mut demand, mut capacity } = sides;
        if demand.unit.is_some() && capacity.unit.is_some() {
            return Sides { demand, capacity };
        }
        let smaller = if demand.si == 0.0 { capacity.si.abs() } else { demand.si.abs().min(capacity.si.abs().max(f64::MIN_POSITIVE)) };
        let written = demand.unit.clone().or(capacity.unit.clone()).filter(|unit| unit.from_si(smaller).abs() >= SMALLEST_READ);
        let unit = written.or_else(|| units::display_unit(smaller, demand.dim, None, self.evaluator.system()).map(Arc::new));
        demand.unit.clone_from(&unit);
        capacity.unit = unit;
        Sides { demand, capacity }
    }

    fn compared(&self, scope: &mut Scope, demand: &Arc<Expr>, capacity: &Arc<Expr>) -> Finding {
        let (sides, reads) = self.evaluator.reading(|| self.sides(scope, demand, capacity));
        let nominal = match sides {
            Ok(sides) => sides,
            Err(Lack::Faulty) => {
                self.say_sides_differ(scope, demand, capacity);
                return self.undecided(scope, &Lack::Faulty, &reads);
            }
            Err(lack) => return self.undecided(scope, &lack, &reads),
        };
        let ends = worst::toleranced(self.evaluator, &reads);
        let worst = if ends.is_empty() {
            Worst::default()
        } else {
            let cell = std::cell::RefCell::new(scope.clone());
            worst::search(self.evaluator, &ends, &|| {
                self.sides(&mut cell.borrow_mut(), demand, capacity).ok().map(|sides| sides.demand.si - sides.capacity.si)
            })
        };
        let reserve = self.reserve(scope);
        let mut finding = self.empty(scope);
        let before = scope.bound.len();
        self.evaluator.turned(&worst.turns, || {
            let sides =
                self.sides(scope, demand, capacity).unwrap_or(Sides { demand: nominal.demand.clone(), capacity: nominal.capacity.clone() });
            finding.verdict = self.verdict(&sides, reserve);
            finding.ratio = (sides.capacity.si > 0.0 && sides.demand.si >= 0.0).then(|| sides.demand.si / sides.capacity.si).filter(|ratio| ratio.is_finite());
            let (demand_text, capacity_text) = self.apart(&sides);
            scope.bound.push((SmolStr::new_static("demand"), Value::Quantity(sides.demand.clone())));
            scope.bound.push((SmolStr::new_static("capacity"), Value::Quantity(sides.capacity.clone())));
            if let Some(ratio) = finding.ratio {
                scope.bound.push((SmolStr::new_static("ratio"), Value::number(ratio)));
            }
            let plain = || match finding.verdict {
                Verdict::Fail => format!("{demand_text} is more than {capacity_text}"),
                _ => format!("{demand_text} against {capacity_text}"),
            };
            finding.message = self.words(self.rule.says.as_ref(), scope).unwrap_or_else(plain);
            finding.demand = Some(Measure { quantity: sides.demand, text: demand_text });
            finding.capacity = Some(Measure { quantity: sides.capacity, text: capacity_text });
        });
        // What to write instead is a planned value: the worst sides, but every line as it is written.
        if finding.verdict != Verdict::Pass {
            finding.help = self.words(self.rule.help.as_ref(), scope);
        }
        scope.bound.truncate(before);
        if !ends.is_empty() {
            let measure = |quantity: &Quantity| self.measure(quantity.clone());
            finding.nominal = Some((measure(&nominal.demand), measure(&nominal.capacity)));
            finding.influences = self.influences(&worst, &nominal.demand);
        }
        self.say_why(&mut finding, scope, &reads);
        finding
    }

    fn required(&self, scope: &mut Scope, require: &Arc<Expr>) -> Finding {
        let (holds, reads) = self.evaluator.reading(|| self.evaluator.condition(require, scope));
        let holds = match holds {
            Ok(holds) => holds,
            Err(lack) => return self.undecided(scope, &lack, &reads),
        };
        let ends = worst::toleranced(self.evaluator, &reads);
        let worst = if ends.is_empty() || !holds {
            Worst::default()
        } else {
            let cell = std::cell::RefCell::new(scope.clone());
            worst::search(self.evaluator, &ends, &|| {
                self.evaluator.condition(require, &mut cell.borrow_mut()).ok().map(|holds| if holds { 0.0 } else { 1.0 })
            })
        };
        let mut finding = self.empty(scope);
        self.evaluator.turned(&worst.turns, || {
            let holds = self.evaluator.condition(require, scope).unwrap_or(holds);
            finding.verdict = match (holds, self.rule.advice) {
                (true, _) => Verdict::Pass,
                (false, true) => Verdict::Tight,
                (false, false) => Verdict::Fail,
            };
            let plain = || if holds { self.rule.title.to_string() } else { format!("does not hold: {}", self.rule.title) };
            finding.message = self.words(self.rule.says.as_ref(), scope).unwrap_or_else(plain);
            if !holds {
                finding.help = self.words(self.rule.help.as_ref(), scope);
            }
        });
        self.say_why(&mut finding, scope, &reads);
        finding
    }

    fn verdict(&self, sides: &Sides, reserve: f64) -> Verdict {
        let (demand, capacity) = (sides.demand.si, sides.capacity.si);
        let most = capacity - reserve * capacity.abs();
        let within = |limit: f64| demand < limit || units::same(demand, limit);
        if within(most) && (capacity > 0.0 || demand <= 0.0) {
            Verdict::Pass
        } else if within(capacity) || self.rule.advice {
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

    fn measure(&self, quantity: Quantity) -> Measure {
        Measure { text: self.evaluator.show_quantity(&quantity), quantity }
    }

    /// Both sides in one unit, with as many figures as it takes to tell them apart.
    fn apart(&self, sides: &Sides) -> (String, String) {
        let unit = sides.demand.unit.as_deref().or(sides.capacity.unit.as_deref());
        units::show_apart(sides.demand.si, sides.capacity.si, sides.demand.dim, unit, self.evaluator.system())
    }

    /// A demand in one dimension and a capacity in another is a mistake in the rule.
    fn say_sides_differ(&self, scope: &mut Scope, demand: &Expr, capacity: &Expr) {
        if let (Ok(d), Ok(c)) = (self.evaluator.evaluate(demand, scope), self.evaluator.evaluate(capacity, scope)) {
            self.evaluator.report(
                crate::problem::Problem::error(
                    format!("the demand is {} and the capacity is {}", d.describe(), c.describe()),
                    demand.span,
                    d.describe(),
                )
                .also(capacity.span, c.describe())
                .help("both are numbers of one sort"),
            );
        }
    }

    fn empty(&self, scope: &Scope) -> Finding {
        let mut subjects: Vec<SmolStr> = Vec::new();
        for (_, value) in &scope.bound {
            match value {
                Value::Component(id) => subjects.push(self.evaluator.design().component(*id).name.clone()),
                Value::Word(word) => subjects.push(word.clone()),
                _ => {}
            }
        }
        Finding {
            rule: self.rule.name.clone(),
            title: self.rule.title.clone(),
            subjects,
            verdict: Verdict::Undetermined,
            advice: self.rule.advice,
            demand: None,
            capacity: None,
            ratio: None,
            nominal: None,
            message: String::new(),
            help: None,
            source: self.rule.source.clone(),
            caution: self.rule.caution.clone(),
            state: self.rule.state.clone(),
            missing: Vec::new(),
            assumed: Vec::new(),
            places: Vec::new(),
            influences: Vec::new(),
            accepted: None,
        }
    }

    fn undecided(&self, scope: &mut Scope, lack: &Lack, reads: &[NodeId]) -> Finding {
        let design = self.evaluator.design();
        let mut finding = self.empty(scope);
        for missing in lack.lines() {
            let line = match missing {
                Missing::Component(kind) => {
                    let kind = design.kind(*kind);
                    MissingLine { component: kind.name.to_string(), property: String::new(), doc: kind.doc.to_string() }
                }
                Missing::Line(node) => match design.node_kind(*node) {
                    NodeKind::Property(id, property) => {
                        let declared = design.kind_of(id).properties.get(property);
                        MissingLine {
                            component: design.component(id).name.to_string(),
                            property: declared.map(|declared| declared.name.to_string()).unwrap_or_default(),
                            doc: declared.map(|declared| declared.doc.to_string()).unwrap_or_default(),
                        }
                    }
                    NodeKind::Named(_) => MissingLine { component: design.node_name(*node), property: String::new(), doc: String::new() },
                },
            };
            finding.missing.push(line);
            if let Missing::Line(node) = missing
                && finding.places.len() < MOST_PLACES
            {
                let label = finding.missing.last().map_or_else(String::new, |line| format!("no `{}` here", line.property));
                let span = design.node_span(*node);
                finding.places.push(Place { span, label });
            }
        }
        finding.missing.sort();
        finding.missing.dedup();
        finding.message = match finding.missing.as_slice() {
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
        let first_node = lack.lines().iter().find_map(|missing| match missing {
            Missing::Line(node) => Some(*node),
            Missing::Component(_) => None,
        });
        finding.help = finding.missing.first().map(|line| {
            if line.property.is_empty() {
                format!("write a `{}` block: {}", line.component, line.doc)
            } else {
                let doc = if line.doc.is_empty() { String::new() } else { format!(": {}", line.doc) };
                let other = first_node.and_then(|node| self.instead_of(node)).map(|name| format!(", or write `{name}` itself"));
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

    /// The property of the same component that a missing line would have been for, if a person may write it instead.
    fn instead_of(&self, missing: NodeId) -> Option<SmolStr> {
        let design = self.evaluator.design();
        let NodeKind::Property(owner, _) = design.node_kind(missing) else { return None };
        self.evaluator.read_by(missing).into_iter().find_map(|reader| match design.node_kind(reader) {
            NodeKind::Property(id, property) if id == owner && design.component(id).written(property).is_none() => {
                let declared = design.kind_of(id).properties.get(property)?;
                (!matches!(declared.ty, crate::design::Type::Table)).then(|| declared.name.clone())
            }
            _ => None,
        })
    }

    fn subject_places(&self, scope: &Scope) -> Vec<Place> {
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

    fn influences(&self, worst: &Worst, demand: &Quantity) -> Vec<Influence> {
        let design = self.evaluator.design();
        worst
            .alone
            .iter()
            .map(|(Turn { node, .. }, grows)| Influence {
                name: design.node_name(*node),
                place: Place { span: design.node_span(*node), label: "this tolerance".to_owned() },
                takes: self.measure(Quantity { si: *grows, dim: demand.dim, unit: demand.unit.clone() }),
            })
            .collect()
    }

    /// The lines and the assumptions that a finding stands on.
    fn say_why(&self, finding: &mut Finding, scope: &mut Scope, reads: &[NodeId]) {
        finding.assumed = self.assumptions(reads);
        let mut places = match &self.rule.points_to {
            Some(points_to) => self.pointed(points_to, scope),
            None => self.written_places(reads),
        };
        for place in self.subject_places(scope) {
            if places.len() < MOST_PLACES
                && !places.iter().any(|known| known.span.start <= place.span.start && place.span.end <= known.span.end)
            {
                places.push(place);
            }
        }
        finding.places = places;
    }

    /// The places that a rule's `points_to` line names, in its order.
    fn pointed(&self, points_to: &Expr, scope: &mut Scope) -> Vec<Place> {
        let items = match &points_to.node {
            Node::List(items) => items.iter().collect(),
            _ => vec![points_to],
        };
        let mut places: Vec<Place> = Vec::new();
        for item in items {
            let (value, reads) = self.evaluator.reading(|| self.evaluator.evaluate(item, scope));
            // A field is pointed to itself, the last value read; a component by its header; else all lines read.
            let found = match (&item.node, value) {
                (Node::Field(..), _) => self.written_places(reads.last().map_or(&[], std::slice::from_ref)),
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

    fn headers(&self, components: &[Value]) -> Vec<Place> {
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
    fn written_places(&self, nodes: &[NodeId]) -> Vec<Place> {
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
                next.extend(self.evaluator.reads(node));
            }
            level = next;
        }
        places
    }

    /// Whether the value says more than the line itself: an expression, not a plain number.
    fn is_telling(&self, node: NodeId) -> bool {
        let design = self.evaluator.design();
        let expr = match design.node_kind(node) {
            NodeKind::Named(at) => design.named.get(at).map(|named| &named.value),
            NodeKind::Property(id, property) => design.component(id).written(property).map(|written| &written.value),
        };
        expr.is_some_and(|expr| {
            matches!(expr.node, Node::Binary(..) | Node::Call(..) | Node::Aggregate { .. } | Node::If(..) | Node::Field(..))
        })
    }

    fn assumptions(&self, reads: &[NodeId]) -> Vec<Assumed> {
        let design = self.evaluator.design();
        let mut found = Vec::new();
        let mut seen: FxHashSet<NodeId> = FxHashSet::default();
        let mut waiting: Vec<NodeId> = reads.to_vec();
        while let Some(node) = waiting.pop() {
            if !seen.insert(node) {
                continue;
            }
            if let NodeKind::Property(id, property) = design.node_kind(node)
                && design.component(id).written(property).is_none()
                && let Some(declared) = design.kind_of(id).properties.get(property)
                && let Some(because) = &declared.assumed
                && let Some(Ok(value)) = self.evaluator.known(node)
            {
                found.push(Assumed {
                    component: design.component(id).name.to_string(),
                    property: declared.name.to_string(),
                    value: self.evaluator.show_value(&value),
                    because: because.to_string(),
                });
            }
            waiting.extend(self.evaluator.reads(node));
        }
        found.sort();
        found.dedup();
        found
    }
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

/// Marks the findings that someone has taken on.
fn accept(evaluator: &Evaluator, options: &Options, findings: &mut [Finding]) {
    let design = evaluator.design();
    let mut by_rule: FxHashMap<&str, Vec<usize>> = FxHashMap::default();
    for (at, acceptance) in design.acceptances.iter().enumerate() {
        by_rule.entry(&acceptance.rule).or_default().push(at);
    }
    for finding in findings {
        if finding.verdict == Verdict::Pass {
            continue;
        }
        let Some(candidates) = by_rule.get(finding.rule.as_str()) else { continue };
        for acceptance in candidates.iter().filter_map(|at| design.acceptances.get(*at)) {
            let meant = acceptance.on.is_empty()
                || acceptance
                    .on
                    .iter()
                    .any(|name| finding.subjects.iter().any(|subject| subject == name || subject.starts_with(&format!("{name}["))));
            if !meant {
                continue;
            }
            let expired = acceptance.until.zip(options.today).filter(|(until, today)| today > until);
            let worse = acceptance.up_to.zip(finding.ratio).filter(|(up_to, ratio)| ratio > up_to && !units::same(*up_to, *ratio));
            let lapsed = match (expired, worse) {
                (Some((until, _)), _) => Some(format!("the acceptance ran until {until}")),
                (None, Some((up_to, ratio))) => {
                    Some(format!("it was accepted up to {:.0} % and is now {:.0} %", up_to * 100.0, ratio * 100.0))
                }
                (None, None) => None,
            };
            finding.accepted = Some(Accepted { because: acceptance.because.clone(), until: acceptance.until, lapsed });
        }
    }
}
