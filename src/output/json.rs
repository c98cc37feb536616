//! JSON for programs. The field names are a contract: fields may be added, none renamed. One has moved: why something is
//! assumed (`because`) stood in each result, and now stands once, in `assumed` of the document, or of its design in a folder.
//!
//! An accepted finding keeps its verdict, and `accepted` says by whom it was taken on; in `summary` it
//! counts as accepted and not under its verdict.

use super::lines::Lines;
use super::{Checked, Folders, Summary, Valued};
use crate::problem::{Mend, Place, Problem};
use crate::rules::{Assumed, Finding, matrix};
use crate::session::Session;
use crate::text::{Sources, Span};
use crate::units::{System, Unit, display_unit};
use crate::values::{Evaluator, Measure, MissingLine, Quantity, Step, Value};
use serde::Serialize;
use smol_str::SmolStr;

/// Figures that a value in the author's unit is written with: conversion noise is cut off, `si` keeps every bit.
const FIGURES: usize = 12;

#[derive(Serialize)]
struct CheckOut<'c> {
    wallplate: &'static str,
    files: Vec<&'c str>,
    variant: Option<&'c str>,
    as_built: bool,
    summary: Summary,
    /// The counts with what was measured, where the plan was asked for and has to hold as built too.
    #[serde(skip_serializing_if = "Option::is_none")]
    as_built_summary: Option<Summary>,
    states: Vec<StateOut<'c>>,
    results: Vec<ResultOut<'c>>,
    /// What results stand on that no line says, each with its reason, which they do not repeat.
    assumed: Vec<HabitOut<'c>>,
    problems: Vec<ProblemOut<'c>>,
    /// The designs that were found in folders; results and problems then name theirs.
    #[serde(skip_serializing_if = "Option::is_none")]
    designs: Option<Vec<DesignOut<'c>>>,
}

/// One of several designs.
#[derive(Serialize)]
struct DesignOut<'c> {
    design: &'c str,
    files: Vec<&'c str>,
    summary: Summary,
    states: Vec<StateOut<'c>>,
    assumed: Vec<HabitOut<'c>>,
}

#[derive(Serialize)]
struct ResultOut<'c> {
    #[serde(skip_serializing_if = "Option::is_none")]
    design: Option<&'c str>,
    rule: &'c str,
    title: &'c str,
    subjects: &'c [SmolStr],
    verdict: &'static str,
    advice: bool,
    /// The advice is not followed; its verdict is `tight`, for advice never fails.
    advice_not_met: bool,
    state: Option<&'c str>,
    demand: Option<Number>,
    capacity: Option<Number>,
    ratio: Option<f64>,
    nominal: Option<Sides>,
    influences: Vec<InfluenceOut<'c>>,
    message: &'c str,
    help: Option<&'c str>,
    mends: Vec<MendOut<'c>>,
    suffices: Vec<MendOut<'c>>,
    source: Option<&'c str>,
    caution: Option<&'c str>,
    missing: Vec<MissingOut<'c>>,
    assumed: Vec<AssumedOut<'c>>,
    guessed: Vec<GuessOut<'c>>,
    accepted: Option<AcceptedOut<'c>>,
    spans: Vec<SpanOut<'c>>,
}

/// A number in the author's unit and in SI base units.
#[derive(Debug, Serialize)]
struct Number {
    value: Option<f64>,
    unit: String,
    si: f64,
}

/// A value with every number in it as a number.
#[derive(Debug, Serialize)]
#[serde(untagged)]
enum Data {
    Number(Number),
    Range { from: Number, to: Number },
    Several(Vec<Data>),
    Table(Table),
    Flag(bool),
    Text(String),
}

/// The fields of a table, in their order.
#[derive(Debug)]
struct Table(Vec<(SmolStr, Data)>);

impl Serialize for Table {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.0.iter().map(|(name, data)| (name.as_str(), data)))
    }
}

fn data(value: &Value, evaluator: &Evaluator) -> Data {
    let of = |quantity: &Quantity| number(quantity, quantity.unit.as_deref(), evaluator.system());
    match value {
        Value::Zero => Data::Number(Number { value: Some(0.0), unit: String::new(), si: 0.0 }),
        Value::Quantity(quantity) => Data::Number(of(quantity)),
        Value::Range(ends) => Data::Range { from: of(&ends[0]), to: of(&ends[1]) },
        Value::Size(parts) => Data::Several(parts.iter().map(|part| Data::Number(of(part))).collect()),
        Value::List(items) => Data::Several(items.iter().map(|item| data(item, evaluator)).collect()),
        Value::Record(record) => {
            Data::Table(Table(record.fields.iter().map(|(name, value)| (name.clone(), data(value, evaluator))).collect()))
        }
        Value::Flag(flag) => Data::Flag(*flag),
        Value::Text(_) | Value::Word(_) | Value::Date(_) | Value::Component(_) | Value::Solid(_) | Value::Condition(_) => {
            Data::Text(evaluator.show_value(value))
        }
    }
}

#[derive(Serialize)]
struct Sides {
    demand: Number,
    capacity: Number,
}

#[derive(Serialize)]
struct InfluenceOut<'c> {
    name: &'c str,
    takes: Number,
    spans: Vec<SpanOut<'c>>,
}

#[derive(Serialize)]
struct MissingOut<'c> {
    component: &'c str,
    property: &'c str,
    doc: &'c str,
}

/// A line of which its writer says that nobody knows the number yet.
#[derive(Serialize)]
struct GuessOut<'c> {
    name: &'c str,
    value: &'c str,
}

#[derive(Serialize)]
struct AssumedOut<'c> {
    component: &'c str,
    property: &'c str,
    value: &'c str,
}

/// What is assumed, with the reason that is the same in all results.
#[derive(Serialize)]
struct HabitOut<'c> {
    component: &'c str,
    property: &'c str,
    value: &'c str,
    because: &'c str,
}

#[derive(Serialize)]
struct AcceptedOut<'c> {
    because: &'c str,
    until: Option<String>,
    lapsed: Option<&'c str>,
}

#[derive(Serialize)]
struct SpanOut<'c> {
    file: &'c str,
    line: u32,
    column: u32,
    end_line: u32,
    end_column: u32,
    label: &'c str,
}

#[derive(Serialize)]
struct ProblemOut<'c> {
    #[serde(skip_serializing_if = "Option::is_none")]
    design: Option<&'c str>,
    severity: &'static str,
    message: &'c str,
    help: Option<&'c str>,
    spans: Vec<SpanOut<'c>>,
    mends: Vec<MendOut<'c>>,
}

/// A state with what is looked at in it.
#[derive(Serialize)]
struct StateOut<'c> {
    state: &'c str,
    actions: Vec<CellOut<'c>>,
}

/// An action in a state: `checked` by rules, `open` where they wait for lines or found nothing to look at, `not_checked`.
#[derive(Serialize)]
struct CellOut<'c> {
    action: &'c str,
    standing: &'static str,
    rules: &'c [SmolStr],
    #[serde(skip_serializing_if = "str::is_empty")]
    why: &'c str,
}

#[derive(Serialize)]
struct MendOut<'c> {
    title: &'c str,
    span: SpanOut<'c>,
    text: &'c str,
}

/// The result of `check`.
#[must_use]
pub fn check(checked: &Checked) -> String {
    written_in_lines(&CheckOut {
        wallplate: env!("CARGO_PKG_VERSION"),
        files: files(checked),
        variant: checked.choice.variant.as_deref(),
        as_built: checked.choice.as_built,
        summary: checked.summary(),
        as_built_summary: checked.built.clone(),
        states: states(checked),
        results: results(checked, None).collect(),
        assumed: habits(checked),
        problems: problems(checked, None).collect(),
        designs: None,
    })
}

/// The result of `check` on folders: as for one design, and each result says of which.
#[must_use]
pub fn folders(found: &Folders) -> String {
    let none = Sources::default();
    let designs = || found.designs.iter().map(|(name, checked)| (name.as_str(), checked));
    let unread = found.unread.iter().map(|one| problem(one, &none));
    written_in_lines(&CheckOut {
        wallplate: env!("CARGO_PKG_VERSION"),
        files: designs().flat_map(|(_, checked)| files(checked)).collect(),
        variant: None,
        as_built: designs().any(|(_, checked)| checked.choice.as_built),
        summary: found.summary(),
        as_built_summary: None,
        states: Vec::new(),
        results: designs().flat_map(|(name, checked)| results(checked, Some(name))).collect(),
        assumed: Vec::new(),
        problems: unread.chain(designs().flat_map(|(name, checked)| problems(checked, Some(name)))).collect(),
        designs: Some(
            designs()
                .map(|(name, checked)| DesignOut {
                    design: name,
                    files: files(checked),
                    summary: checked.summary(),
                    states: states(checked),
                    assumed: habits(checked),
                })
                .collect(),
        ),
    })
}

fn states(checked: &Checked) -> Vec<StateOut<'_>> {
    let cells = matrix::cells(&checked.session.design().states, &checked.findings, &checked.not_begun);
    let mut out: Vec<StateOut> = Vec::new();
    for cell in cells {
        let one = CellOut { action: cell.action, standing: cell.standing.word(), rules: cell.rules, why: cell.why };
        match out.last_mut().filter(|state| state.state == cell.state) {
            Some(state) => state.actions.push(one),
            None => out.push(StateOut { state: cell.state, actions: vec![one] }),
        }
    }
    out
}

fn files(checked: &Checked) -> Vec<&str> {
    checked.session.sources.own().map(|(_, source)| source.name.as_str()).collect()
}

fn results<'c>(checked: &'c Checked, design: Option<&'c str>) -> impl Iterator<Item = ResultOut<'c>> {
    let system = checked.session.evaluator.system();
    checked.findings.iter().map(move |finding| ResultOut { design, ..result(finding, &checked.session.sources, system) })
}

/// Each habit once, by the names of the components.
fn habits(checked: &Checked) -> Vec<HabitOut<'_>> {
    let all: std::collections::BTreeSet<_> = checked.findings.iter().flat_map(|finding| &finding.assumed).collect();
    fn out(line: &Assumed) -> HabitOut<'_> {
        HabitOut { component: &line.component, property: &line.property, value: &line.value, because: &line.because }
    }
    all.into_iter().map(out).collect()
}

fn problems<'c>(checked: &'c Checked, design: Option<&'c str>) -> impl Iterator<Item = ProblemOut<'c>> {
    checked.problems.iter().map(move |one| ProblemOut { design, ..problem(one, &checked.session.sources) })
}

/// As [`check`], for files that could not be read: nothing but the reasons why.
#[must_use]
pub fn unread(problems: &[Problem]) -> String {
    let sources = Sources::default();
    written_in_lines(&CheckOut {
        wallplate: env!("CARGO_PKG_VERSION"),
        files: Vec::new(),
        variant: None,
        as_built: false,
        summary: Summary::default(),
        as_built_summary: None,
        states: Vec::new(),
        results: Vec::new(),
        assumed: Vec::new(),
        problems: problems.iter().map(|one| problem(one, &sources)).collect(),
        designs: None,
    })
}

fn written(out: &impl Serialize) -> String {
    // Only a map with keys that are no texts can fail, and there is none.
    let mut text = serde_json::to_string_pretty(out).unwrap_or_default();
    text.push('\n');
    text
}

/// As [`written`], each result and problem in a line of its own: of hundreds half would be indents.
fn written_in_lines(out: &impl Serialize) -> String {
    let mut text = Vec::new();
    // Bytes in memory take what is written, and so it is as above.
    out.serialize(&mut serde_json::Serializer::with_formatter(&mut text, Lines::default())).ok();
    text.push(b'\n');
    String::from_utf8(text).unwrap_or_default()
}

fn result<'c>(finding: &'c Finding, sources: &'c Sources, system: System) -> ResultOut<'c> {
    // Both sides in one unit, as the message shows them.
    let unit = |a: &Measure, b: &Measure| a.quantity.unit.clone().or_else(|| b.quantity.unit.clone());
    let sides = |demand: &Measure, capacity: &Measure| {
        let unit = unit(demand, capacity);
        Sides { demand: number(&demand.quantity, unit.as_deref(), system), capacity: number(&capacity.quantity, unit.as_deref(), system) }
    };
    let (demand, capacity) = match (&finding.demand, &finding.capacity) {
        (Some(demand), Some(capacity)) => {
            let sides = sides(demand, capacity);
            (Some(sides.demand), Some(sides.capacity))
        }
        (demand, capacity) => {
            let alone =
                |side: &Option<Box<Measure>>| side.as_ref().map(|side| number(&side.quantity, side.quantity.unit.as_deref(), system));
            (alone(demand), alone(capacity))
        }
    };
    let own = || finding.places.iter().filter(|place| !place.span.file.is_built_in());
    let spans = if own().next().is_some() { own().map(|place| span(place, sources)).collect() } else { spans(&finding.places, sources) };
    ResultOut {
        design: None,
        rule: &finding.rule,
        title: &finding.title,
        subjects: &finding.subjects,
        verdict: finding.verdict.word(),
        advice: finding.advice,
        advice_not_met: finding.advice_not_met,
        state: finding.state.as_ref().map(|state| state.name.as_str()),
        demand,
        capacity,
        ratio: finding.ratio.and_then(rounded),
        nominal: finding.nominal.as_deref().map(|(demand, capacity)| sides(demand, capacity)),
        influences: finding
            .influences
            .iter()
            .map(|influence| InfluenceOut {
                name: &influence.name,
                takes: number(&influence.takes.quantity, influence.takes.quantity.unit.as_deref(), system),
                spans: vec![span(&influence.place, sources)],
            })
            .collect(),
        message: &finding.message,
        help: finding.help.as_deref(),
        mends: mends(&finding.mends, sources),
        suffices: mends(&finding.suffices, sources),
        source: finding.source.as_deref(),
        caution: finding.caution.as_deref(),
        missing: finding.missing.iter().map(|line| missing(line)).collect(),
        assumed: finding
            .assumed
            .iter()
            .map(|line| AssumedOut { component: &line.component, property: &line.property, value: &line.value })
            .collect(),
        guessed: finding.guessed.iter().map(|guess| GuessOut { name: &guess.name, value: &guess.value }).collect(),
        accepted: finding.accepted.as_ref().map(|accepted| AcceptedOut {
            because: &accepted.because,
            until: accepted.until.map(|until| until.to_string()),
            lapsed: accepted.lapsed.as_deref(),
        }),
        spans,
    }
}

fn problem<'c>(problem: &'c Problem, sources: &'c Sources) -> ProblemOut<'c> {
    ProblemOut {
        design: None,
        severity: match problem.severity {
            crate::problem::Severity::Error => "error",
            crate::problem::Severity::Warning => "warning",
        },
        message: &problem.message,
        help: problem.help.as_deref(),
        spans: spans(&problem.places, sources),
        mends: mends(&problem.mends, sources),
    }
}

fn mends<'c>(mends: &'c [Mend], sources: &'c Sources) -> Vec<MendOut<'c>> {
    mends.iter().map(|mend| MendOut { title: &mend.title, span: stretch(mend.span, "", sources), text: &mend.text }).collect()
}

fn spans<'c>(places: &'c [Place], sources: &'c Sources) -> Vec<SpanOut<'c>> {
    places.iter().map(|place| span(place, sources)).collect()
}

fn span<'c>(place: &'c Place, sources: &'c Sources) -> SpanOut<'c> {
    stretch(place.span, &place.label, sources)
}

fn stretch<'c>(span: Span, label: &'c str, sources: &'c Sources) -> SpanOut<'c> {
    let (from, to) = (sources.position(span), sources.end_position(span));
    SpanOut {
        file: sources.get(span.file).map_or("", |source| source.name.as_str()),
        line: from.line,
        column: from.column,
        end_line: to.line,
        end_column: to.column,
        label,
    }
}

/// A quantity in the author's unit; a length written in feet and inches in inches.
fn number(quantity: &Quantity, unit: Option<&Unit>, system: System) -> Number {
    let inches = |unit: Unit| if unit.is_feet_inches() { Unit::parse("in").unwrap_or(unit) } else { unit };
    let unit = display_unit(quantity.si, quantity.dim, unit, system).map(inches);
    Number {
        value: rounded(unit.as_ref().map_or(quantity.si, |unit| unit.from_si(quantity.si))),
        unit: unit.map(|unit| unit.text.to_string()).unwrap_or_default(),
        si: quantity.si,
    }
}

fn rounded(value: f64) -> Option<f64> {
    format!("{value:.*e}", FIGURES - 1).parse().ok().filter(|value: &f64| value.is_finite())
}

#[derive(Serialize)]
struct ValueOut<'v> {
    wallplate: &'static str,
    expression: &'v str,
    /// As people read it; nothing where it is not known.
    text: Option<String>,
    /// The number, if it is one.
    number: Option<Number>,
    /// The value in its parts: a list, a size, the fields of a table, each number with its unit and in SI.
    data: Option<Data>,
    least: Option<Number>,
    most: Option<Number>,
    missing: Vec<MissingOut<'v>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    steps: Vec<StepOut<'v>>,
    problems: Vec<ProblemOut<'v>>,
}

/// A step of a calculation. Steps that it stands on are named in `from` and stand further on in the same list.
#[derive(Serialize)]
struct StepOut<'v> {
    name: &'v str,
    text: Option<String>,
    data: Option<Data>,
    formula: Option<String>,
    with_numbers: Option<&'v str>,
    from: Vec<&'v str>,
    doc: &'v str,
    source: Option<&'v str>,
    assumed: Option<&'v str>,
    origin: Option<&'v str>,
    span: SpanOut<'v>,
}

/// The result of `value`.
#[must_use]
pub fn value(valued: &Valued, session: &Session, problems: &[Problem]) -> String {
    let (sources, evaluator) = (&session.sources, &session.evaluator);
    let of = |quantity: &Quantity| number(quantity, quantity.unit.as_deref(), evaluator.system());
    let end = |at: usize| valued.range.as_ref().and_then(|range| range.get(at)).map(of);
    let mut steps = Vec::new();
    let mut waiting: Vec<&Step> = valued.steps.iter().rev().collect();
    let mut seen = rustc_hash::FxHashSet::default();
    while let Some(step) = waiting.pop() {
        waiting.extend(step.from.iter().rev());
        if seen.insert(step.node) {
            steps.push(StepOut {
                name: &step.name,
                text: step.worth().map(|value| evaluator.show_value(value)),
                data: step.worth().map(|value| data(value, evaluator)),
                formula: step.formula.map(|span| super::text::formula(session, span)),
                with_numbers: step.with_numbers.as_deref(),
                from: evaluator_reads(step),
                doc: &step.doc,
                source: step.source.as_deref(),
                assumed: step.assumed.as_deref(),
                origin: step.origin.as_deref(),
                span: stretch(step.formula.unwrap_or(step.span), "", sources),
            });
        }
    }
    written(&ValueOut {
        wallplate: env!("CARGO_PKG_VERSION"),
        expression: &valued.text,
        text: valued.outcome.as_ref().ok().map(|value| evaluator.show_value(value)),
        number: match &valued.outcome {
            Ok(Value::Quantity(quantity)) => Some(of(quantity)),
            Ok(Value::Zero) => Some(Number { value: Some(0.0), unit: String::new(), si: 0.0 }),
            _ => None,
        },
        data: valued.outcome.as_ref().ok().map(|value| data(value, evaluator)),
        least: end(0),
        most: end(1),
        missing: valued.missing.iter().map(missing).collect(),
        steps,
        problems: problems.iter().map(|one| problem(one, sources)).collect(),
    })
}

/// As [`value`], for an expression that is wrong.
#[must_use]
pub fn no_value(expression: &str, problems: &[Problem], sources: &Sources) -> String {
    written(&ValueOut {
        wallplate: env!("CARGO_PKG_VERSION"),
        expression,
        text: None,
        number: None,
        data: None,
        least: None,
        most: None,
        missing: Vec::new(),
        steps: Vec::new(),
        problems: problems.iter().map(|one| problem(one, sources)).collect(),
    })
}

fn evaluator_reads(step: &Step) -> Vec<&str> {
    step.from.iter().map(|below| below.name.as_str()).collect()
}

fn missing(line: &MissingLine) -> MissingOut<'_> {
    MissingOut { component: &line.component, property: &line.property, doc: &line.doc }
}
