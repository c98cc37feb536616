//! SARIF 2.1.0 for code review: a log that version-control hosts show beside the lines of a change.
//!
//! Source: OASIS Standard "Static Analysis Results Interchange Format (SARIF) Version 2.1.0" (27 March 2020);
//! the clause of each part stands beside it. Only the parts that are used have a struct here.

use super::{Checked, Folders, Standing, digest};
use crate::problem::{Mend, Place, Problem, Severity};
use crate::rules::{Finding, Verdict};
use crate::text::Sources;
use serde::Serialize;
use std::fmt::Write;

/// The rule under which mistakes in the text are listed.
const TEXT: &str = "text";
const SCHEMA: &str = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

#[derive(Serialize)]
struct Log<'c> {
    #[serde(rename = "$schema")]
    schema: &'static str,
    version: &'static str,
    runs: [Run<'c>; 1],
}

/// §3.14
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Run<'c> {
    tool: Tool<'c>,
    invocations: [Invocation<'c>; 1],
    /// §3.14.17: columns count characters.
    column_kind: &'static str,
    results: Vec<ResultOut<'c>>,
}

#[derive(Serialize)]
struct Tool<'c> {
    driver: Driver<'c>,
}

/// §3.19
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Driver<'c> {
    name: &'static str,
    version: &'static str,
    semantic_version: &'static str,
    rules: Vec<RuleOut<'c>>,
}

/// §3.49
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct RuleOut<'c> {
    id: &'c str,
    short_description: Message<'c>,
    full_description: Message<'c>,
    help: Message<'c>,
    default_configuration: Configuration,
}

#[derive(Serialize)]
struct Configuration {
    level: &'static str,
}

#[derive(Serialize)]
struct Message<'c> {
    text: std::borrow::Cow<'c, str>,
}

/// §3.20
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Invocation<'c> {
    execution_successful: bool,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    tool_execution_notifications: Vec<Notification<'c>>,
}

/// §3.58
#[derive(Serialize)]
struct Notification<'c> {
    level: &'static str,
    message: Message<'c>,
}

/// §3.27
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct ResultOut<'c> {
    rule_id: &'c str,
    rule_index: usize,
    kind: &'static str,
    level: &'static str,
    message: Message<'c>,
    locations: Vec<Location<'c>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    related_locations: Vec<Location<'c>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    fixes: Vec<Fix<'c>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    suppressions: Vec<Suppression<'c>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    partial_fingerprints: Option<Fingerprints>,
    #[serde(skip_serializing_if = "Option::is_none")]
    properties: Option<Properties>,
}

/// §3.27.17: the same finding in another version of the design keeps this, wherever its lines have moved.
#[derive(Serialize)]
struct Fingerprints {
    #[serde(rename = "ruleAndSubjects/v1")]
    rule_and_subjects: String,
}

#[derive(Serialize)]
struct Properties {
    verdict: &'static str,
}

/// §3.35
#[derive(Serialize)]
struct Suppression<'c> {
    kind: &'static str,
    status: &'static str,
    justification: &'c str,
}

/// §3.28
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Location<'c> {
    physical_location: PhysicalLocation,
    #[serde(skip_serializing_if = "Option::is_none")]
    message: Option<Message<'c>>,
}

/// §3.55
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Fix<'c> {
    description: Message<'c>,
    artifact_changes: [ArtifactChange<'c>; 1],
}

/// §3.56
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct ArtifactChange<'c> {
    artifact_location: ArtifactLocation,
    replacements: [Replacement<'c>; 1],
}

/// §3.57
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Replacement<'c> {
    deleted_region: Region,
    inserted_content: Message<'c>,
}

/// §3.29
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct PhysicalLocation {
    artifact_location: ArtifactLocation,
    region: Region,
}

/// §3.4
#[derive(Serialize)]
struct ArtifactLocation {
    uri: String,
}

/// §3.30: the end column is the one after the last character.
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Region {
    start_line: u32,
    start_column: u32,
    end_line: u32,
    end_column: u32,
}

/// The log of a check; `all` also lists what holds.
#[must_use]
pub fn check(checked: &Checked, all: bool) -> String {
    of_all(&[checked], all, &[])
}

/// The log of a check of folders, in one run: hosts refuse several runs of one program in a log.
#[must_use]
pub fn folders(found: &Folders, all: bool) -> String {
    let designs: Vec<&Checked> = found.designs.iter().map(|(_, checked)| checked).collect();
    of_all(&designs, all, &found.unread)
}

/// The log of a run that could not read its files.
#[must_use]
pub fn unread(problems: &[Problem]) -> String {
    of_all(&[], false, problems)
}

fn of_all(designs: &[&Checked], all: bool, unread: &[Problem]) -> String {
    let mut rules: Vec<RuleOut<'_>> = Vec::new();
    let mut results: Vec<ResultOut<'_>> = Vec::new();
    for checked in designs {
        let sources = &checked.session.sources;
        for problem in &checked.problems {
            let index = rule_index(&mut rules, TEXT, text_rule);
            results.push(of_problem(problem, index, sources));
        }
        for finding in &checked.findings {
            if finding.verdict == Verdict::Pass && !all {
                continue;
            }
            let index = rule_index(&mut rules, &finding.rule, || of_rule(finding, checked));
            results.push(of_finding(finding, index, sources));
        }
    }
    let mut notifications: Vec<Notification<'_>> =
        unread.iter().map(|problem| Notification { level: "error", message: message(with_help(problem)) }).collect();
    // What is not there has no line that a result could point to.
    let lacking = designs.iter().flat_map(|checked| &checked.not_begun);
    notifications
        .extend(lacking.map(|one| Notification { level: "warning", message: message(format!("not begun: {}", digest::lacking(one))) }));
    let successful = unread.is_empty() && !designs.iter().any(|checked| checked.has_errors());
    written(rules, results, successful, notifications)
}

fn written<'c>(rules: Vec<RuleOut<'c>>, results: Vec<ResultOut<'c>>, successful: bool, notifications: Vec<Notification<'c>>) -> String {
    let version = env!("CARGO_PKG_VERSION");
    let log = Log {
        schema: SCHEMA,
        version: "2.1.0",
        runs: [Run {
            tool: Tool { driver: Driver { name: "wallplate", version, semantic_version: version, rules } },
            invocations: [Invocation { execution_successful: successful, tool_execution_notifications: notifications }],
            column_kind: "unicodeCodePoints",
            results,
        }],
    };
    // Only a map with keys that are no texts can fail, and there is none.
    let mut text = serde_json::to_string_pretty(&log).unwrap_or_default();
    text.push('\n');
    text
}

fn message<'c>(text: impl Into<std::borrow::Cow<'c, str>>) -> Message<'c> {
    Message { text: text.into() }
}

fn rule_index<'c>(rules: &mut Vec<RuleOut<'c>>, id: &str, rule: impl FnOnce() -> RuleOut<'c>) -> usize {
    // Results come rule by rule: the one that is looked for is nearly always the last.
    rules.iter().rposition(|known| known.id == id).unwrap_or_else(|| {
        rules.push(rule());
        rules.len() - 1
    })
}

fn text_rule<'c>() -> RuleOut<'c> {
    let description = "The text of the design can be understood";
    RuleOut {
        id: TEXT,
        short_description: message(description),
        full_description: message(format!("{description}: names, kinds, units and values are what their places need.")),
        help: message("Mend the line as the message says; what stands on it is not checked until then."),
        default_configuration: Configuration { level: "error" },
    }
}

fn of_rule<'c>(finding: &'c Finding, checked: &'c Checked) -> RuleOut<'c> {
    let mut full = finding.title.to_string();
    let rule = checked.session.design().rule(&finding.rule);
    for part in [finding.source.as_ref(), rule.and_then(|rule| rule.note.as_ref()), finding.caution.as_ref()].into_iter().flatten() {
        let _ = write!(full, "; {part}");
    }
    let caution = finding.caution.as_ref().map_or_else(String::new, |caution| format!(" Caution: {caution}."));
    RuleOut {
        id: &finding.rule,
        short_description: message(finding.title.as_str()),
        full_description: message(full),
        help: message(format!("`wallplate rules {}` shows what is compared with what, and on whose word.{caution}", finding.rule)),
        default_configuration: Configuration { level: if finding.advice { "warning" } else { "error" } },
    }
}

fn of_problem<'c>(problem: &'c Problem, rule_index: usize, sources: &'c Sources) -> ResultOut<'c> {
    let (locations, related_locations) = locations(&problem.places, sources);
    ResultOut {
        rule_id: TEXT,
        rule_index,
        kind: "fail",
        level: match problem.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        },
        message: message(with_help(problem)),
        locations,
        related_locations,
        fixes: fixes(&problem.mends, sources),
        suppressions: Vec::new(),
        partial_fingerprints: None,
        properties: None,
    }
}

fn of_finding<'c>(finding: &'c Finding, rule_index: usize, sources: &'c Sources) -> ResultOut<'c> {
    let own: Vec<Place> = finding.places.iter().filter(|place| !place.span.file.is_built_in()).cloned().collect();
    let (locations, related_locations) = locations(if own.is_empty() { &finding.places } else { &own }, sources);
    // §3.27.10: a level other than `none` goes with the kind `fail` only; what misses a line should be seen.
    let (kind, level) = match finding.verdict {
        Verdict::Fail => ("fail", "error"),
        Verdict::Tight => ("fail", "warning"),
        Verdict::Undetermined => ("fail", "note"),
        Verdict::Pass => ("pass", "none"),
    };
    let mut text = format!("{}: {}", finding.word(), finding.message);
    if let Some(help) = &finding.help {
        let _ = write!(text, "; {help}");
    }
    let accepted = finding.accepted.as_ref().filter(|_| Standing::of(finding) == Standing::Accepted);
    ResultOut {
        rule_id: &finding.rule,
        rule_index,
        kind,
        level,
        message: message(text),
        locations,
        related_locations,
        fixes: fixes(&finding.mends, sources),
        suppressions: accepted
            .map(|accepted| Suppression { kind: "inSource", status: "accepted", justification: &accepted.because })
            .into_iter()
            .collect(),
        partial_fingerprints: Some(Fingerprints { rule_and_subjects: format!("{}:{}", finding.rule, finding.subjects.join(",")) }),
        properties: Some(Properties { verdict: finding.verdict.word() }),
    }
}

fn with_help(problem: &Problem) -> String {
    match &problem.help {
        Some(help) => format!("{}; {help}", problem.message),
        None => problem.message.clone(),
    }
}

/// The place to mend, and the others.
/// Each mend as a change of one file.
fn fixes<'c>(mends: &'c [Mend], sources: &Sources) -> Vec<Fix<'c>> {
    let fix = |mend: &'c Mend| {
        let source = sources.get(mend.span.file)?;
        let (from, to) = (sources.position(mend.span), sources.end_position(mend.span));
        Some(Fix {
            description: message(mend.title.as_str()),
            artifact_changes: [ArtifactChange {
                artifact_location: ArtifactLocation { uri: uri(&source.name) },
                replacements: [Replacement {
                    deleted_region: Region { start_line: from.line, start_column: from.column, end_line: to.line, end_column: to.column },
                    inserted_content: message(mend.text.as_str()),
                }],
            }],
        })
    };
    mends.iter().filter_map(fix).collect()
}

fn locations<'c>(places: &[Place], sources: &'c Sources) -> (Vec<Location<'c>>, Vec<Location<'c>>) {
    // The schema wants each once.
    let once = places.iter().enumerate().filter(|(at, place)| !places.iter().take(*at).any(|before| before == *place));
    let mut all = once.filter_map(|(_, place)| {
        let source = sources.get(place.span.file)?;
        let (from, to) = (sources.position(place.span), sources.end_position(place.span));
        Some(Location {
            physical_location: PhysicalLocation {
                artifact_location: ArtifactLocation { uri: uri(&source.name) },
                region: Region { start_line: from.line, start_column: from.column, end_line: to.line, end_column: to.column },
            },
            message: Some(place.label.clone()).filter(|label| !label.is_empty()).map(message),
        })
    });
    let first: Vec<Location<'_>> = all.by_ref().take(1).collect();
    (first, all.collect())
}

/// A file name as a relative URI reference (RFC 3986 §2.1: what is not unreserved is written by its bytes).
fn uri(name: &str) -> String {
    let mut uri = String::with_capacity(name.len());
    for byte in name.bytes() {
        match byte {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' | b'/' => uri.push(char::from(byte)),
            b'\\' if cfg!(windows) => uri.push('/'),
            _ => {
                let _ = write!(uri, "%{byte:02X}");
            }
        }
    }
    uri
}
