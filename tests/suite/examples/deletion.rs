//! A missing line is never a pass: every line of the examples is taken out in turn.
//!
//! What a finding stands on is asked of the value graph. Where a line is gone and a finding holds
//! all the same, then its value comes from another line or from a default that the kind declares
//! (and is listed if it is a habit of the trade), or the finding holds whatever the line may say,
//! which is tried out.

use super::{broken, check_on, read, sound};
use std::collections::{BTreeMap, BTreeSet};
use wallplate::design::{NodeId, NodeKind, Rule, Type};
use wallplate::rules::{Finding, Verdict};
use wallplate::session::Session;
use wallplate::syntax::tree::Date;
use wallplate::values::{Evaluator, Scope, Value};

/// A day on which nothing has run out.
const EARLY: Date = Date { year: 2000, month: 1, day: 1 };

/// A rule on its subjects.
type Key = (String, Vec<String>);

/// What a finding stands on, by the names of the values.
#[derive(Default)]
struct Ground {
    /// All values that were read.
    reads: BTreeSet<String>,
    /// Those that decide whether the rule applies at all.
    gate: BTreeSet<String>,
}

fn holds(finding: &Finding) -> bool {
    matches!(finding.verdict, Verdict::Pass | Verdict::Tight)
}

fn key(finding: &Finding) -> Key {
    (finding.rule.to_string(), finding.subjects.iter().map(ToString::to_string).collect())
}

fn findings(session: &Session) -> BTreeMap<Key, Finding> {
    check_on(session, EARLY).into_iter().map(|finding| (key(&finding), finding)).collect()
}

/// These values and all that they were worked out from.
fn closure(evaluator: &Evaluator, from: &[NodeId]) -> BTreeSet<String> {
    let mut seen: BTreeSet<NodeId> = BTreeSet::new();
    let mut waiting = from.to_vec();
    while let Some(node) = waiting.pop() {
        if seen.insert(node) {
            waiting.extend(evaluator.reads(node));
        }
    }
    seen.into_iter().map(|node| evaluator.design().node_name(node)).collect()
}

fn subjects(session: &Session, scope: &Scope) -> Vec<String> {
    let name = |value: &Value| match value {
        Value::Component(id) => Some(session.design().component(*id).name.to_string()),
        Value::Word(word) => Some(word.to_string()),
        _ => None,
    };
    scope.bound.iter().filter_map(|(_, value)| name(value)).collect()
}

/// What every finding of a session stands on.
fn grounds(session: &Session) -> BTreeMap<Key, Ground> {
    let evaluator = &session.evaluator;
    let mut found = BTreeMap::new();
    for rule in &session.design().rules {
        evaluator.for_each(&rule.each, &mut Scope::default(), &mut |scope, _| {
            let (_, gate) = evaluator.reading(|| gate(evaluator, rule, scope));
            let (_, reads) = evaluator.reading(|| {
                for side in [&rule.demand, &rule.capacity, &rule.require].into_iter().flatten() {
                    let _ = evaluator.evaluate(side, scope);
                }
            });
            let gate = closure(evaluator, &gate);
            let mut reads = closure(evaluator, &reads);
            reads.extend(gate.iter().cloned());
            found.insert((rule.name.to_string(), subjects(session, scope)), Ground { reads, gate });
        });
    }
    found
}

/// Asks what decides whether a rule applies here.
fn gate(evaluator: &Evaluator, rule: &Rule, scope: &mut Scope) {
    for condition in rule.each.iter().filter_map(|binder| binder.condition.as_deref()).chain(rule.when.as_deref()) {
        let _ = evaluator.evaluate(condition, scope);
    }
}

/// The values that are written on each line of the file, by the number of the line.
fn written(session: &Session) -> BTreeMap<usize, Vec<String>> {
    let design = session.design();
    let mut lines: BTreeMap<usize, Vec<String>> = BTreeMap::new();
    let mut note = |node: NodeId| {
        let span = design.node_span(node);
        if !span.file.is_built_in() {
            lines.entry(session.sources.position(span).line as usize).or_default().push(design.node_name(node));
        }
    };
    for at in 0..design.node_count() {
        let node = NodeId(u32::try_from(at).unwrap());
        match design.node_kind(node) {
            NodeKind::Named(_) => note(node),
            NodeKind::Property(id, property) if design.component(id).written(property).is_some() => note(node),
            NodeKind::Property(..) => {}
        }
    }
    lines
}

/// What becomes of a value when its line is gone.
enum Without {
    /// Its component is gone too, or another line gives it.
    Settled,
    /// It is derived from other values.
    Derived,
    /// A habit of the trade stands in.
    Assumed { component: String, property: String },
    /// Nothing stands in: the component's kind and the property, to try what might be written.
    Nothing { property: String, ty: Type },
}

fn without(session: &Session, name: &str) -> Without {
    let design = session.design();
    let Some((component, property)) = name.rsplit_once('.') else { return Without::Settled };
    let Some(id) = (0..design.components.len())
        .map(|at| wallplate::design::ComponentId(u32::try_from(at).unwrap()))
        .find(|id| design.component(*id).name == component)
    else {
        return Without::Settled;
    };
    let Some(at) = design.kind_of(id).property(property) else { return Without::Settled };
    if design.component(id).written(at).is_some() {
        return Without::Settled;
    }
    let declared = &design.kind_of(id).properties[at];
    match (&declared.default, &declared.assumed) {
        (_, Some(_)) => Without::Assumed { component: component.to_owned(), property: property.to_owned() },
        (Some(_), None) => Without::Derived,
        (None, None) => Without::Nothing { property: property.to_owned(), ty: declared.ty.clone() },
    }
}

/// Other values that the deleted line might hold.
fn others(session: &Session, line: &str, property: &str, ty: &Type) -> Vec<String> {
    let design = session.design();
    let value = line.split('#').next().unwrap_or_default().trim().trim_start_matches(property).trim();
    match ty {
        Type::Word(words) => words.iter().map(ToString::to_string).collect(),
        Type::Flag => vec!["yes".to_owned(), "no".to_owned()],
        Type::Link { kinds, .. } => {
            kinds.iter().flat_map(|kind| design.of_kind(*kind).iter().take(3)).map(|id| design.component(*id).name.to_string()).collect()
        }
        Type::Quantity(_) => {
            let plain = value.split('±').next().unwrap_or_default().trim();
            ["1000", "0.001", "-1"].map(|factor| format!("({plain}) * {factor}")).to_vec()
        }
        _ => Vec::new(),
    }
}

/// Takes out each line of a design in turn and tells where a pass rests on the line that is gone.
fn unentitled(name: &str, text: &str) -> Vec<String> {
    let lines: Vec<&str> = text.lines().collect();
    let whole = read(name, text);
    let (before, before_grounds, written) = (findings(&whole), grounds(&whole), written(&whole));
    let put_back = |at: usize, line: &str| {
        let changed: Vec<&str> = lines.iter().enumerate().map(|(other, text)| if other == at { line } else { *text }).collect();
        read(name, &(changed.join("\n") + "\n"))
    };
    let mut wrong = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        let statement = line.split('#').next().unwrap_or_default().trim();
        if statement.is_empty() {
            continue;
        }
        let session = put_back(at, "");
        let problems = session.problems();
        if (statement == "}" || (statement.ends_with('{'))) && problems.is_empty() {
            wrong.push(format!("{name}:{}: half a block goes unnoticed: {line}", at + 1));
        }
        let after = findings(&session);
        let after_grounds = grounds(&session);
        let gone = written.get(&(at + 1)).map(Vec::as_slice).unwrap_or_default();
        for value in gone {
            let without = without(&session, value);
            for (key, finding) in after.iter().filter(|(_, finding)| holds(finding)) {
                let say = |what: &str| format!("{name}:{}: without `{}` {key:?} holds {what} ({value})", at + 1, line.trim());
                let rested = before_grounds.get(key).is_some_and(|ground| ground.reads.contains(value));
                let rests = after_grounds.get(key).is_some_and(|ground| ground.reads.contains(value));
                if !rested && !rests {
                    continue;
                }
                match &without {
                    Without::Settled | Without::Derived => {}
                    Without::Assumed { component, property } => {
                        let listed = finding.assumed.iter().any(|one| one.component == *component && one.property == *property);
                        if rests && !listed {
                            wrong.push(say("on an assumption that is not listed"));
                        }
                    }
                    Without::Nothing { property, ty } => {
                        if before.get(key).is_some_and(|finding| finding.verdict == Verdict::Fail) {
                            wrong.push(say("and failed with it"));
                        }
                        for other in others(&session, line, property, ty) {
                            let tried = put_back(at, &format!("{property} {other}"));
                            let fails = tried.problems().is_empty()
                                && findings(&tried).get(key).is_some_and(|finding| !holds(finding));
                            if fails {
                                wrong.push(say(&format!("and does not with `{other}`")));
                            }
                        }
                    }
                }
            }
        }
        // Nothing is dropped: a finding that could be reached before is still there, if only as undetermined.
        let still = |name: &str| session.design().entry(name.split('[').next().unwrap_or_default()).is_some();
        for (key, finding) in &before {
            let ground = before_grounds.get(key);
            let stood_on = gone.iter().any(|value| ground.is_some_and(|ground| ground.reads.contains(value)));
            let gated = gone.iter().any(|value| ground.is_some_and(|ground| ground.gate.contains(value)));
            let named = finding.subjects.iter().filter(|subject| whole.design().entry(subject.split('[').next().unwrap_or_default()).is_some());
            if stood_on && !gated && !after.contains_key(key) && named.clone().all(|subject| still(subject)) && problems.is_empty() {
                wrong.push(format!("{name}:{}: without `{}` {key:?} is dropped", at + 1, line.trim()));
            }
        }
    }
    wrong
}

fn none_unentitled(designs: Vec<(String, String)>) {
    // Each design by itself; the machine's cores share them.
    let found: Vec<String> = std::thread::scope(|scope| {
        let running: Vec<_> = designs.iter().map(|(name, text)| scope.spawn(move || unentitled(name, text))).collect();
        running.into_iter().flat_map(|thread| thread.join().expect("no line may be deleted into a panic")).collect()
    });
    assert!(found.is_empty(), "\n{}", found.join("\n"));
}

#[test]
fn no_line_of_a_sound_design_can_be_deleted_into_a_pass() {
    none_unentitled(sound());
}

#[test]
fn no_line_of_a_broken_design_can_be_deleted_into_a_pass() {
    none_unentitled(broken());
}
