//! A missing line is never a pass: every line of the examples is taken out in turn.
//!
//! What a finding stands on is asked of the value graph. Where a line is gone and a finding holds
//! all the same, then its value comes from another line or from a default that the kind declares
//! (and is listed if it is a habit of the trade), or the finding holds whatever the line may say,
//! which is tried out.

use super::{broken, check_on, read, sound, without_tolerances};
use std::collections::{BTreeMap, BTreeSet};
use wallplate::design::{ComponentId, NodeId, NodeKind, Rule, Type};
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::Session;
use wallplate::syntax::tree::Date;
use wallplate::values::{Evaluator, MissingLine, Scope, Value};

/// Rules that speak of what is written and of nothing else: a number out of proportion, bodies of parts that have their places.
/// Without its line a number is not odd, and a part without a place is in nobody's way: whether it has to have one is asked
/// by others.
fn speaks_of_what_is_written(rule: &str) -> bool {
    rule == "lines.in_proportion" || rule == "lines.wall_is_one_thing" || rule.starts_with("space.") || STILL_OPEN.contains(&rule)
}

/// Rules whose findings do not list all that they assume: to be mended, and then taken from here.
const STILL_OPEN: [&str; 6] = [
    "running.track_is_carried_to_its_ends",
    "holddown.one_clamp_forgotten",
    "power.work_within_power",
    "power.wire_ampacity",
    "storm.plan_moves_the_roof",
    "piers.stands_free",
];
/// A line that decides whether a rule speaks, and is assumed where it is left out, is not listed there: the same.
const STILL_UNLISTED: [&str; 1] = ["built"];
/// Asked for by nothing that stays open where it is left out: the same.
const STILL_UNASKED: [&str; 1] = ["roof_motor.moves"];

/// A day on which nothing has run out.
const EARLY: Date = Date { year: 2000, month: 1, day: 1 };

/// A rule on its subjects.
type Key = (String, Vec<String>);

/// What a finding asks for, directly.
#[derive(Default)]
struct Asked {
    /// All values.
    all: Vec<NodeId>,
    /// Those that decide whether the rule applies at all.
    gate: Vec<NodeId>,
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

/// The findings of some rules only.
fn findings_of(session: &Session, rules: &BTreeSet<&str>) -> BTreeMap<Key, Finding> {
    let of_rule = |rule: &&str| session.check(&Options { only: Some((*rule).into()), today: Some(EARLY) });
    rules.iter().flat_map(of_rule).map(|finding| (key(&finding), finding)).collect()
}

/// These values and all that were worked out from them.
fn dependants(evaluator: &Evaluator, from: impl IntoIterator<Item = NodeId>) -> BTreeSet<NodeId> {
    let mut seen: BTreeSet<NodeId> = BTreeSet::new();
    let mut waiting: Vec<NodeId> = from.into_iter().collect();
    while let Some(node) = waiting.pop() {
        if seen.insert(node) {
            waiting.extend(evaluator.read_by(node));
        }
    }
    seen
}

fn subjects(session: &Session, scope: &Scope) -> Vec<String> {
    let name = |value: &Value| match value {
        Value::Component(id) => Some(session.design().component(*id).name.to_string()),
        Value::Word(word) => Some(word.to_string()),
        _ => None,
    };
    scope.bound.iter().filter_map(|(_, value)| name(value)).collect()
}

/// What the findings of a session ask for, those of all rules or of some only.
fn asked(session: &Session, only: Option<&BTreeSet<&str>>) -> BTreeMap<Key, Asked> {
    let evaluator = &session.evaluator;
    let mut found = BTreeMap::new();
    for rule in session.design().rules.iter().filter(|rule| only.is_none_or(|only| only.contains(rule.name.as_str()))) {
        evaluator.for_each(&rule.each, &mut Scope::default(), &mut |scope, _| {
            let (_, gate) = evaluator.reading(|| gate(evaluator, rule, scope));
            let (_, mut all) = evaluator.reading(|| {
                for side in [&rule.demand, &rule.capacity, &rule.require].into_iter().flatten() {
                    let _ = evaluator.evaluate(side, scope);
                }
            });
            all.extend(&gate);
            found.insert((rule.name.to_string(), subjects(session, scope)), Asked { all, gate });
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
fn written(session: &Session) -> BTreeMap<usize, Vec<NodeId>> {
    let design = session.design();
    let mut lines: BTreeMap<usize, Vec<NodeId>> = BTreeMap::new();
    let mut note = |node: NodeId| {
        let span = design.node_span(node);
        if !span.file.is_built_in() {
            lines.entry(session.sources.position(span).line as usize).or_default().push(node);
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

/// The same value in another session of the design, if it has that component.
fn in_session(session: &Session, name: &str) -> Option<NodeId> {
    let design = session.design();
    let (component, property) = name.rsplit_once('.')?;
    let ids = (0..design.components.len()).map(|at| ComponentId(u32::try_from(at).unwrap()));
    let id = ids.into_iter().find(|id| design.component(*id).name == component)?;
    design.kind_of(id).property(property).map(|at| design.node(id, at))
}

/// What becomes of a value when its line is gone.
enum Without {
    /// Another line gives it, or it is derived from other values.
    Settled,
    /// A habit of the trade stands in.
    Assumed { component: String, property: String },
    /// Nothing stands in: what might be written.
    Nothing { property: String, ty: Type },
}

fn without(session: &Session, node: NodeId) -> Without {
    let design = session.design();
    let NodeKind::Property(id, at) = design.node_kind(node) else { return Without::Settled };
    let declared = &design.kind_of(id).properties[at];
    if design.component(id).written(at).is_some() {
        return Without::Settled;
    }
    match (&declared.default, &declared.assumed) {
        (_, Some(_)) => Without::Assumed { component: design.component(id).name.to_string(), property: declared.name.to_string() },
        (Some(_), None) => Without::Settled,
        (None, None) => Without::Nothing { property: declared.name.to_string(), ty: declared.ty.clone() },
    }
}

/// Whether a kind asks for a line that is not written.
fn is_due(session: &Session, node: NodeId) -> bool {
    let design = session.design();
    match design.node_kind(node) {
        NodeKind::Property(id, at) => design.kind_of(id).properties[at].required && design.component(id).written(at).is_none(),
        NodeKind::Named(_) => false,
    }
}

/// Whether a finding lists, among what it assumes, what stands in for a line: `stroke_left_out` for `stroke`.
fn stands_in(finding: &Finding, value: &str, property: &str) -> bool {
    let stand_in = format!("{property}_left_out");
    finding
        .assumed
        .iter()
        .any(|one| one.property == stand_in && value.strip_suffix(&format!(".{property}")) == Some(one.component.as_str()))
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

/// A design and what it gives as it is written.
struct Whole<'t> {
    name: &'t str,
    lines: Vec<&'t str>,
    session: Session,
    findings: BTreeMap<Key, Finding>,
    asked: BTreeMap<Key, Asked>,
    written: BTreeMap<usize, Vec<NodeId>>,
}

impl<'t> Whole<'t> {
    fn new(name: &'t str, text: &'t str) -> Self {
        let session = read(name, text);
        let (findings, mut asked, written) = (findings(&session), asked(&session, None), written(&session));
        // What a rule would ask for where it does not apply does not count.
        asked.retain(|key, _| findings.contains_key(key));
        Self { name, lines: text.lines().collect(), session, findings, asked, written }
    }

    fn with_line(&self, at: usize, line: &str) -> Session {
        let mut lines = self.lines.clone();
        lines[at] = line;
        read(self.name, &(lines.join("\n") + "\n"))
    }

    /// What goes wrong without a line, by its number from 0.
    fn without_line(&self, at: usize) -> Vec<String> {
        let line = self.lines[at].split('#').next().unwrap_or_default().trim();
        if line.is_empty() {
            return Vec::new();
        }
        let mut wrong = Vec::new();
        let mut say = |what: String| wrong.push(format!("{}:{}: without `{line}` {what}", self.name, at + 1));
        let session = self.with_line(at, "");
        let problems = session.problems();
        if (line == "}" || line.ends_with('{')) && problems.is_empty() {
            say("half a block goes unnoticed".to_owned());
        }
        let Some(gone) = self.written.get(&(at + 1)) else { return wrong };
        // What did not stand on the line before is worked out the same without it.
        let on = dependants(&self.session.evaluator, gone.iter().copied());
        let stood = self.asked.iter().filter(|(_, asked)| asked.all.iter().any(|node| on.contains(node)));
        let touched: BTreeSet<&str> = stood.map(|(key, _)| key.0.as_str()).collect();
        let after = findings_of(&session, &touched);
        let asked = asked(&session, Some(&touched));
        for node in gone {
            let value = self.session.design().node_name(*node);
            let rested = dependants(&self.session.evaluator, [*node]);
            let Some(missing) = in_session(&session, &value) else { continue };
            let rests = dependants(&session.evaluator, [missing]);
            for (key, finding) in after.iter().filter(|(key, finding)| holds(finding) && !speaks_of_what_is_written(&key.0)) {
                let touches = |asked: &BTreeMap<Key, Asked>, on: &BTreeSet<NodeId>| {
                    asked.get(key).is_some_and(|asked| asked.all.iter().any(|node| on.contains(node)))
                };
                let rests = touches(&asked, &rests);
                if !rests && !touches(&self.asked, &rested) {
                    continue;
                }
                match without(&session, missing) {
                    Without::Settled => {}
                    Without::Assumed { component, property } => {
                        let listed = finding.assumed.iter().any(|one| one.component == component && one.property == property);
                        if rests && !listed && !STILL_UNLISTED.contains(&property.as_str()) {
                            say(format!("{key:?} holds on an assumption that is not listed: {value}"));
                        }
                    }
                    // What stands in for a line that nobody wrote is a habit, and the finding says so.
                    Without::Nothing { property, .. } if stands_in(finding, &value, &property) => {}
                    Without::Nothing { property, ty } => {
                        if self.findings.get(key).is_some_and(|before| before.verdict == Verdict::Fail) {
                            say(format!("{key:?} holds and failed with it: {value}"));
                        }
                        for other in others(&session, line, &property, &ty) {
                            let tried = self.with_line(at, &format!("{property} {other}"));
                            if tried.problems().is_empty()
                                && findings_of(&tried, &BTreeSet::from([key.0.as_str()]))
                                    .get(key)
                                    .is_some_and(|finding| finding.verdict == Verdict::Fail)
                            {
                                say(format!("{key:?} holds and fails with `{other}`: {value}"));
                            }
                        }
                    }
                }
            }
        }
        // A line that its kind asks for, and that something which held stood on, is named by something that now stays open.
        for node in gone {
            let value = self.session.design().node_name(*node);
            let on = dependants(&self.session.evaluator, [*node]);
            let is_held = |key: &Key| !speaks_of_what_is_written(&key.0) && self.findings.get(key).is_some_and(holds);
            let held = self.asked.iter().filter(|(key, _)| is_held(key));
            let stood_on = held.into_iter().any(|(_, asked)| asked.all.iter().any(|node| on.contains(node)));
            let is_due = in_session(&session, &value).is_some_and(|node| is_due(&session, node));
            let named = |line: &MissingLine| value == format!("{}.{}", line.component, line.property);
            let told = after.values().any(|finding| finding.missing.iter().any(|line| named(line)));
            if stood_on && is_due && !told && problems.is_empty() && !STILL_UNASKED.contains(&value.as_str()) {
                say(format!("nobody asks for {value}"));
            }
        }
        if problems.is_empty() {
            let known = |session: &Session, subject: &str| session.design().entry(subject.split('[').next().unwrap_or_default()).is_some();
            for (key, asked) in self.asked.iter().filter(|(key, _)| !speaks_of_what_is_written(&key.0)) {
                let about = |nodes: &[NodeId]| nodes.iter().any(|node| on.contains(node));
                let same = key.1.iter().all(|subject| known(&session, subject) == known(&self.session, subject));
                // Nothing is dropped: a finding that was reached before is still there, if only as undetermined.
                // One binding that stays open may stand for several.
                let stands_for = |other: &Key| other.0 == key.0 && key.1.starts_with(&other.1);
                if about(&asked.all) && !about(&asked.gate) && same && !after.keys().any(stands_for) {
                    say(format!("{key:?} is dropped"));
                }
            }
        }
        wrong
    }
}

/// Takes out every so many lines of these designs in turn and tells where a pass rests on the line that is gone.
fn none_unentitled(designs: &[(String, String)], every: usize) {
    let plain = |(name, text): &(String, String)| (name.clone(), without_tolerances(text));
    let designs: &Vec<(String, String)> = &designs.iter().map(plain).collect();
    let threads = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let found: Vec<String> = std::thread::scope(|scope| {
        let part = |thread: usize| {
            let of_design = move |(name, text): &(String, String)| {
                let whole = Whole::new(name, text);
                (thread * every..whole.lines.len()).step_by(threads * every).flat_map(|at| whole.without_line(at)).collect::<Vec<_>>()
            };
            scope.spawn(move || designs.iter().flat_map(of_design).collect::<Vec<_>>())
        };
        let running: Vec<_> = (0..threads).map(part).collect();
        running.into_iter().flat_map(|thread| thread.join().expect("no line may be deleted into a panic")).collect()
    });
    assert!(found.is_empty(), "\n{}", found.join("\n"));
}

#[test]
fn no_line_of_a_sound_design_can_be_deleted_into_a_pass() {
    // One line in twenty of each.
    none_unentitled(&sound(), 20);
}

#[test]
fn no_line_of_a_broken_design_can_be_deleted_into_a_pass() {
    // One in twenty: all of them took half of the time of all tests.
    let some: Vec<(String, String)> = broken().into_iter().step_by(20).collect();
    none_unentitled(&some, 1);
}

/// The findings of a rule with one line of the metric example written otherwise.
fn findings_with(line: &str, instead: &str, rule: &str) -> Vec<(Verdict, Vec<String>)> {
    let shorter = super::with_line(&super::text_of("heron_fold.plate"), line, instead);
    let found = check_on(&read("heron_fold.plate", &shorter), EARLY).into_iter().filter(|finding| finding.rule == rule);
    found
        .map(|finding| (finding.verdict, finding.missing.iter().map(|line| format!("{}.{}", line.component, line.property)).collect()))
        .collect()
}

#[test]
fn a_link_that_is_not_written_is_no_gap() {
    let found = findings_with("stands_on south_block", "", "piers.stands_free");
    assert!(found.contains(&(Verdict::Undetermined, vec!["south_pier.stands_on".to_owned()])), "{found:?}");
    assert!(found.contains(&(Verdict::Pass, Vec::new())), "the other pier: {found:?}");
}

#[test]
fn a_link_that_is_not_written_is_no_broken_path_either() {
    let line = "pattern clamp west_clamp like side_clamp";
    let found = findings_with(line, &format!("{line} {{ offset west_line }}"), "holddown.load_path_is_whole");
    let open = found.iter().filter(|(verdict, _)| *verdict == Verdict::Undetermined).count();
    assert_eq!((open, found.len()), (3, 6), "{found:?}");
}
