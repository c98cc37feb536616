//! Rules and acceptances with their lines sorted out.

use super::lets::{Lets, RuleLet};
use super::repeated;
use super::{Design, Entry, Kind, State};
use crate::problem::Problem;
use crate::syntax::following;
use crate::syntax::tree::{self, Binder, Date, Expr, Node, TemplatePart};
use crate::text::Span;
use smol_str::SmolStr;
use std::sync::Arc;

/// A share of what holds up to which a finding may be taken on: beyond it nothing is looked at any more.
const MOST_TAKEN_ON: f64 = 2.0;

/// A check, its lines by what they are for.
#[derive(Debug, Clone, Default)]
pub struct Rule {
    /// Its dotted name.
    pub name: SmolStr,
    /// Where the name stands.
    pub name_span: Span,
    /// What should hold.
    pub title: SmolStr,
    /// Which word it is for, where it is written once for several: `end`, `open`.
    pub stands_for: Option<(SmolStr, SmolStr)>,
    /// What it gives a name.
    pub lets: Vec<RuleLet>,
    /// Where those of them are written that are worth working out once.
    pub once: Arc<[Span]>,
    /// Over what it goes.
    pub each: Vec<Binder>,
    /// Only where this holds.
    pub when: Option<Arc<Expr>>,
    /// What is asked of the part.
    pub demand: Option<Arc<Expr>>,
    /// What the part can give.
    pub capacity: Option<Arc<Expr>>,
    /// A condition that should hold.
    pub require: Option<Arc<Expr>>,
    /// Where that does not hold and this does, it is tight and no more.
    pub tight_if: Option<Arc<Expr>>,
    /// What is said of the result.
    pub says: Option<Arc<Expr>>,
    /// What is said where it does not hold.
    pub otherwise: Option<Arc<Expr>>,
    /// What to change.
    pub help: Option<Arc<Expr>>,
    /// Lines with the values that would mend it: `s.station to 6.15 m`.
    pub mend: Option<Arc<Expr>>,
    /// Lines of parts that are bought: with what numbers it would hold.
    pub suffices: Option<Arc<Expr>>,
    /// The lines to point to first.
    pub points_to: Option<Arc<Expr>>,
    /// How much should be left: `tight` below it.
    pub reserve: Option<Arc<Expr>>,
    /// It can be tight and never fails.
    pub advice: bool,
    /// What it lacks is told only where no other rule names it.
    pub last_resort: bool,
    /// What it finds is taken on line by line: `on motor.current`, not `on motor`.
    pub by_line: bool,
    /// On whose word.
    pub source: Option<SmolStr>,
    /// What can hurt.
    pub caution: Option<SmolStr>,
    /// The state that it is about.
    pub state: Option<State>,
    /// Anything more that a reader should know.
    pub note: Option<SmolStr>,
}

impl Rule {
    /// The part of the name before the dot.
    #[must_use]
    pub fn area(&self) -> &str {
        self.name.split('.').next().unwrap_or_default()
    }

    /// The lines that ask something, where what it comes to is not known yet.
    pub(super) fn asked(&self) -> impl Iterator<Item = &Arc<Expr>> {
        let lines = [&self.when, &self.demand, &self.capacity, &self.require, &self.tight_if, &self.reserve, &self.points_to];
        lines.into_iter().flatten()
    }

    /// The lines that speak of what it comes to.
    pub(super) fn said(&self) -> impl Iterator<Item = &Arc<Expr>> {
        [&self.says, &self.otherwise, &self.help, &self.mend, &self.suffices].into_iter().flatten()
    }
}

/// What a rule may say, for messages and completion.
pub const RULE_LINES: [&str; 23] = [
    "for",
    "each",
    "let",
    "when",
    "demand",
    "capacity",
    "require",
    "tight_if",
    "says",
    "otherwise",
    "help",
    "mend",
    "suffices",
    "points_to",
    "reserve",
    "advice",
    "last_resort",
    "by_line",
    "source",
    "caution",
    "state",
    "note",
    "kind",
];

/// A finding that someone has looked at and taken on.
#[derive(Debug, Clone)]
pub struct Acceptance {
    /// The rule's name.
    pub rule: SmolStr,
    /// Where it stands.
    pub span: Span,
    /// What it is about; all if empty.
    pub on: Vec<TakenOn>,
    /// Why.
    pub because: SmolStr,
    /// Until when; for good if absent.
    pub until: Option<Date>,
    /// The ratio up to which it was accepted.
    pub up_to: Option<f64>,
}

/// A component, or one line of it, of which a finding is taken on.
#[derive(Debug, Clone)]
pub struct TakenOn {
    /// The component's name.
    pub component: SmolStr,
    /// The line's name, if only that is meant.
    pub line: Option<SmolStr>,
    /// Where it stands.
    pub span: Span,
}

impl TakenOn {
    /// Whether a finding about these, components with their lines behind them, is meant.
    #[must_use]
    pub fn means(&self, subjects: &[SmolStr]) -> bool {
        let is_meant = |subject: &SmolStr| {
            *subject == self.component || subject.strip_prefix(self.component.as_str()).is_some_and(|element| element.starts_with('['))
        };
        let mut at = (0..).zip(subjects).filter(|(_, subject)| is_meant(subject)).map(|(at, _)| at);
        at.any(|at: usize| self.line.as_ref().is_none_or(|line| subjects.get(at + 1) == Some(line)))
    }
}

impl Design {
    /// The rule of that name.
    #[must_use]
    pub fn rule(&self, name: &str) -> Option<&Rule> {
        self.rules.get(*self.rule_numbers.get(name)?).map(AsRef::as_ref)
    }

    pub(super) fn add_rule(&mut self, block: &tree::Rule) {
        self.find_covered_in_rule(block);
        if block.repeated.is_none() && block.also.is_empty() {
            self.add_one(block, None);
            return;
        }
        let from = self.problems.len();
        for (at, one) in repeated::each_of(block, &mut self.problems).iter().enumerate() {
            let before = self.problems.len();
            let word = block.repeated.as_ref().and_then(|line| Some((line.name.text.clone(), line.words.get(at)?.text.clone())));
            self.add_one(one, word);
            // What is wrong with a line is told once, and not for each of the rules.
            let told: Vec<Problem> = self.problems.split_off(before);
            for problem in told {
                if !self.problems.iter().skip(from).any(|known| *known == problem) {
                    self.problems.push(problem);
                }
            }
        }
    }

    /// A rule that stands for itself, or the one of several that is for this word.
    fn add_one(&mut self, block: &tree::Rule, stands_for: Option<(SmolStr, SmolStr)>) {
        if let Some(first) = self.rule(&block.name.text) {
            let span = first.name_span;
            self.problems.push(
                Problem::error(format!("there is already a rule `{}`", block.name.text), block.name.span, "the second")
                    .also(span, "the first")
                    .help("give it another name"),
            );
            return;
        }
        let area = |name: &str| name.split('.').next().map(SmolStr::from);
        if self.rules.iter().take(self.library.1).any(|known| area(&known.name) == area(&block.name.text)) {
            let whose = area(&block.name.text).unwrap_or_default();
            let problem = Problem::error(
                format!("the rules of `{whose}` are the program's own: nobody could tell yours from them"),
                block.name.span,
                "a rule of this design",
            );
            self.problems.push(problem.help("give it an area of your own: `rule yard.…`"));
            return;
        }
        let mut rule = Rule {
            name: block.name.text.clone(),
            name_span: block.name.span,
            title: block.title.as_ref().map(|title| title.text.clone()).unwrap_or_default(),
            stands_for,
            each: block.each.clone(),
            ..Rule::default()
        };
        let lets = Lets::of(&block.each, &block.lets, &mut self.problems);
        rule.lets = lets.all(&block.lets);
        rule.once = rule.lets.iter().filter(|line| line.is_worth_keeping()).map(|line| line.value.span).collect();
        for (at, line) in block.lines.iter().enumerate() {
            if let Some(first) = block.lines.iter().take(at).find(|first| first.name.text == line.name.text) {
                let problem = Problem::error(format!("`{}` stands here twice", line.name.text), line.name.span, "the second");
                self.problems.push(problem.also(first.name.span, "the first").help("write it once; several values stand with commas"));
            }
            let value = lets.put(&line.value, &mut self.problems);
            let value = Some(if TOLD.contains(&line.name.text.as_str()) { self.in_one_text(&line.name.text, value) } else { value });
            let text = whole_text(&line.value);
            match line.name.text.as_str() {
                "when" => rule.when = value,
                "demand" => rule.demand = value,
                "capacity" => rule.capacity = value,
                "require" => rule.require = value,
                "tight_if" => rule.tight_if = value,
                "says" => rule.says = value,
                "otherwise" => rule.otherwise = value,
                "help" => rule.help = value,
                word @ ("mend" | "suffices") => {
                    if !is_mend(&line.value) {
                        let problem =
                            Problem::error(format!("`{word}` names a line, perhaps with its new value"), line.value.span, "this value");
                        self.problems.push(
                            problem.help(format!("write `{word} s.station` or `{word} s.station to 6.15 m`; several stand with commas")),
                        );
                    }
                    if word == "mend" {
                        rule.mend = value;
                    } else {
                        rule.suffices = value;
                    }
                }
                "points_to" => rule.points_to = value,
                "reserve" => rule.reserve = value,
                word @ ("advice" | "last_resort" | "by_line") => match (&line.value.node, word) {
                    (Node::Flag(flag), "advice") => rule.advice = *flag,
                    (Node::Flag(flag), "by_line") => rule.by_line = *flag,
                    (Node::Flag(flag), _) => rule.last_resort = *flag,
                    _ => self.problems.push(
                        Problem::error(format!("`{word}` is `yes` or `no`"), line.value.span, "this value")
                            .help(format!("write `{word} yes`")),
                    ),
                },
                "state" => match &line.value.node {
                    Node::Name(word) => match self.state(word, line.value.span) {
                        Ok(state) => rule.state = Some(state),
                        Err(problem) => self.problems.push(problem),
                    },
                    _ => self.problems.push(
                        Problem::error("`state` is one word", line.value.span, "this value")
                            .help(format!("write {}", self.states.iter().map(|state| state.name.as_str()).collect::<Vec<_>>().join(", "))),
                    ),
                },
                word @ ("source" | "caution" | "note") if text.is_none() => self.problems.push(
                    Problem::error(format!("`{word}` is a text in quotes"), line.value.span, "this value")
                        .help(format!("write `{word} \"…\"`")),
                ),
                "source" => rule.source = text,
                "caution" => rule.caution = text,
                "note" => rule.note = text,
                "for" => self.problems.push(
                    Problem::error("`for` names the words that the rule is for", line.value.span, "this value")
                        .help("write `for end in [open, closed]`, and a name for each word behind `rule`"),
                ),
                word => self.problems.push(
                    Problem::error(format!("a rule has no line `{word}`"), line.name.span, "this line")
                        .help(format!("its lines are {}", RULE_LINES.split_last().map(|(_, lines)| lines.join(", ")).unwrap_or_default()))
                        .nearest(word, line.name.span, RULE_LINES),
                ),
            }
        }
        self.check_shape(&rule);
        self.rule_numbers.insert(rule.name.clone(), self.rules.len());
        self.rules.push(Arc::new(rule));
    }

    /// What a line says, where it stands in several texts with commas: they are said one after another.
    fn in_one_text(&mut self, line: &str, value: Arc<Expr>) -> Arc<Expr> {
        // It is followed down and copied, and a long line may hold a deep expression.
        let joined = following(&value, || says_several(&value).then(|| self.joined(line, &value)));
        joined.map_or(value, Arc::new)
    }

    fn joined(&mut self, line: &str, expr: &Expr) -> Expr {
        let node = match &expr.node {
            Node::If(condition, a, b) => Node::If(condition.clone(), Box::new(self.joined(line, a)), Box::new(self.joined(line, b))),
            Node::List(texts) => {
                let mut pieces = Vec::with_capacity(2 * texts.len());
                for text in texts {
                    let text = self.joined(line, text);
                    if !matches!(text.node, Node::Text(_) | Node::Template(_) | Node::If(..)) {
                        let problem = Problem::error(format!("`{line}` is a text, or several with commas"), text.span, "this is none");
                        self.problems.push(problem.help("an expression stands in the braces of a text: `\"{s.station}\"`"));
                    }
                    if !pieces.is_empty() {
                        pieces.push(TemplatePart::Text(SmolStr::new_static(" ")));
                    }
                    pieces.push(TemplatePart::Value(text));
                }
                Node::Template(pieces)
            }
            other => other.clone(),
        };
        Expr { span: expr.span, node }
    }

    fn check_shape(&mut self, rule: &Rule) {
        let (message, help) = match (&rule.demand, &rule.capacity, &rule.require) {
            (Some(_), Some(_), None) if rule.tight_if.is_some() => {
                ("`tight_if` goes with `require`", "a demand and its capacity are tight where the `reserve` is used up")
            }
            (Some(_), Some(_), None) | (None, None, Some(_)) => return,
            (Some(_), None, _) => ("this rule has a demand and no capacity", "add a line `capacity …`"),
            (None, Some(_), _) => ("this rule has a capacity and no demand", "add a line `demand …`"),
            (Some(_), Some(_), Some(_)) => ("this rule has both a demand and a condition", "make two rules of it"),
            (None, None, None) => ("this rule asks nothing", "add `demand …` and `capacity …`, or `require …`"),
        };
        self.problems.push(Problem::error(message, rule.name_span, "this rule").help(help));
    }

    pub(super) fn add_acceptance(&mut self, block: &tree::Accept) {
        let mut acceptance = Acceptance {
            rule: block.rule.text.clone(),
            span: block.rule.span,
            on: Vec::new(),
            because: SmolStr::default(),
            until: None,
            up_to: None,
        };
        for line in &block.lines {
            match (line.name.text.as_str(), &line.value.node) {
                ("on", _) => acceptance.on = self.accepted_names(&line.value),
                ("because", Node::Text(text)) => acceptance.because = text.clone(),
                ("until", Node::Date(date)) => acceptance.until = Some(*date),
                ("up_to", Node::Quantity(parts)) => {
                    acceptance.up_to = parts.first().map(|part| match &part.unit {
                        Some(unit) if unit.text == "%" => part.number.worth() / 100.0,
                        _ => part.number.worth(),
                    });
                    if acceptance.up_to.is_some_and(|up_to| up_to > MOST_TAKEN_ON) {
                        self.problems.push(
                            Problem::error("nobody can take that on", line.value.span, "more than twice what holds")
                                .help("write a little more than what the finding says today, like `up_to 115 %`"),
                        );
                    }
                }
                ("because", _) => self
                    .problems
                    .push(Problem::error("the reason is a text in quotes", line.value.span, "this value").help("write `because \"…\"`")),
                ("until", _) => {
                    self.problems.push(Problem::error("the day is a date", line.value.span, "this value").help("write `until 2028-01-01`"))
                }
                ("up_to", _) => self.problems.push(
                    Problem::error("the limit is a number or a percentage", line.value.span, "this value").help("write `up_to 115 %`"),
                ),
                (word, _) => self.problems.push(
                    Problem::error(format!("an acceptance has no line `{word}`"), line.name.span, "this line")
                        .help("its lines are `on`, `because`, `until` and `up_to`")
                        .nearest(word, line.name.span, ["on", "because", "until", "up_to"]),
                ),
            }
        }
        if acceptance.because.chars().filter(|letter| letter.is_alphabetic()).count() < 3 {
            self.problems.push(
                Problem::error("an acceptance needs its reason", block.rule.span, "this acceptance").help("add a line `because \"…\"`"),
            );
        }
        self.acceptances.push(acceptance);
    }

    fn accepted_names(&mut self, value: &Expr) -> Vec<TakenOn> {
        let items = match &value.node {
            Node::List(items) => items.iter().collect(),
            _ => vec![value],
        };
        let mut names = Vec::new();
        for item in items {
            let (of, line) = match &item.node {
                Node::Field(of, line) => (of.as_ref(), Some(line)),
                _ => (item, None),
            };
            let name = match &of.node {
                Node::Name(name) => Some(name.clone()),
                Node::Index(of, element) => match (&of.node, &element.node) {
                    (Node::Name(name), Node::Quantity(parts)) => {
                        parts.first().map(|part| SmolStr::new(format!("{name}[{}]", part.number.worth())))
                    }
                    _ => None,
                },
                _ => None,
            };
            let plain = name.as_ref().map(|name| name.split('[').next().unwrap_or(name));
            let kind = plain.and_then(|name| self.entry(name)).and_then(|entry| match entry {
                Entry::Component(id) | Entry::Array(id, ..) => Some(self.kind_of(id)),
                _ => None,
            });
            match (name, kind) {
                (Some(component), Some(kind)) => {
                    let unknown = line.filter(|line| kind.property(&line.text).is_none()).map(|line| no_line(kind, line));
                    self.problems.extend(unknown);
                    names.push(TakenOn { component, line: line.map(|line| line.text.clone()), span: item.span });
                }
                _ => self.problems.push(
                    Problem::error("this is not a component of the design", item.span, "here")
                        .help("write the component's name, or several with commas"),
                ),
            }
        }
        names
    }

    /// Acceptances are for rules that exist.
    pub(super) fn check_acceptances(&mut self) {
        for at in 0..self.acceptances.len() {
            let Some(acceptance) = self.acceptances.get(at) else { continue };
            if self.rule(&acceptance.rule).is_none() {
                let (rule, span) = (acceptance.rule.clone(), acceptance.span);
                let known: Vec<SmolStr> = self.rules.iter().map(|rule| rule.name.clone()).collect();
                self.problems.push(
                    Problem::error(format!("there is no rule `{rule}`"), span, "this rule").help("`wallplate rules` lists them").nearest(
                        &rule,
                        span,
                        known.iter().map(SmolStr::as_str),
                    ),
                );
            }
            self.check_taken_by_line(at);
        }
    }

    /// Where a rule speaks of one line after the other, one line is taken on: of the others nobody has thought.
    fn check_taken_by_line(&mut self, at: usize) {
        let Some(acceptance) = self.acceptances.get(at) else { return };
        if !self.rule(&acceptance.rule).is_some_and(|rule| rule.by_line) {
            return;
        }
        let message = format!("`{}` is taken on line by line", acceptance.rule);
        let problem = |span| Problem::error(message.clone(), span, "this takes on all lines, also those that are written later");
        let whole: Vec<Problem> = match acceptance.on.as_slice() {
            [] => vec![problem(acceptance.span).help("add a line `on`, the component, a dot and the line that is meant")],
            on => on
                .iter()
                .filter(|taken| taken.line.is_none())
                .map(|taken| problem(taken.span).help(format!("write `{}`, a dot and the line that is meant", taken.component)))
                .collect(),
        };
        self.problems.extend(whole);
    }
}

/// An acceptance of a line that no component of the kind has.
fn no_line(kind: &Kind, line: &tree::Word) -> Problem {
    let known = kind.properties.iter().map(|property| property.name.as_str());
    Problem::error(format!("a {} has no line `{}`", kind.name, line.text), line.span, "here").nearest(&line.text, line.span, known)
}

/// The lines of a rule that are said to people.
const TOLD: [&str; 3] = ["says", "otherwise", "help"];

/// Whether a line stands in several texts with commas, in one of its branches at least.
fn says_several(value: &Expr) -> bool {
    match &value.node {
        Node::If(_, a, b) => says_several(a) || says_several(b),
        node => matches!(node, Node::List(_)),
    }
}

/// A text in quotes, or several with commas, as one.
fn whole_text(value: &Expr) -> Option<SmolStr> {
    match &value.node {
        Node::Text(text) => Some(text.clone()),
        Node::List(texts) => {
            let texts: Option<Vec<SmolStr>> = texts.iter().map(whole_text).collect();
            texts.map(|texts| texts.join(" ").into())
        }
        _ => None,
    }
}

/// `s.station`, `s.station to 6.15 m`, or several of them.
fn is_mend(value: &Expr) -> bool {
    match &value.node {
        Node::List(items) => items.iter().all(is_mend),
        Node::Field(..) => true,
        Node::Range(line, _) => matches!(line.node, Node::Field(..) | Node::Call(..)),
        _ => false,
    }
}
