//! What a word means and what it is worth here: the text shown when somebody rests on it.

use super::desk::{Desk, Written};
use super::uses::{Symbol, Use};
use crate::design::{ComponentId, Entry, GATHERERS, Kind, NodeId, Origin, Property, Type};
use crate::formulas;
use crate::rules::{Finding, Verdict};
use crate::text::{FileId, Span};
use crate::trade;
use crate::units::{self, Dim, System, Unit};
use crate::values::{Lack, Missing, MissingLine, Quantity, Scope, Value};
use std::fmt::Write;

/// Elements of an array, or followers of a pattern, whose values are shown.
const MOST_SHOWN: usize = 4;
/// Checks that are listed.
const MOST_CHECKS: usize = 8;
/// A text of a value longer than this is cut.
const LONGEST: usize = 200;

/// What is known of the word at an offset, as Markdown, with the stretch that it is about.
#[must_use]
pub fn hover(desk: &Desk, file: FileId, offset: u32) -> Option<(Span, String)> {
    let one = desk.use_at(file, offset)?;
    let mut page = Page { desk, out: String::new() };
    page.symbol(&one, file, offset);
    (!page.out.is_empty()).then_some((one.span, page.out))
}

struct Page<'d> {
    desk: &'d Desk,
    out: String,
}

impl Page<'_> {
    fn paragraph(&mut self, text: &str) {
        if text.is_empty() {
            return;
        }
        if !self.out.is_empty() {
            self.out.push_str("\n\n");
        }
        self.out.push_str(text);
    }

    fn symbol(&mut self, one: &Use, file: FileId, offset: u32) {
        let design = self.desk.design();
        match &one.symbol {
            Symbol::Property(kind, name) => {
                let Some(kind) = design.kind_named(kind).map(|kind| design.kind(kind)) else { return };
                let Some(property) = kind.property(name).and_then(|at| kind.properties.get(at)) else { return };
                self.property(kind, property);
                let line = self.desk.line(file, offset);
                match line.filter(|line| line_name(line) == one.span) {
                    Some(line) => self.line(line),
                    None => self.expression(one.span, file, offset),
                }
                self.source("source", property.source.as_deref());
            }
            Symbol::Entry(name) => self.entry(name, file, offset),
            Symbol::Kind(name) => {
                if let Some(kind) = design.kind_named(name) {
                    self.kind(design.kind(kind));
                }
            }
            Symbol::Pattern(name) => {
                let followers = self.followers(name);
                let text = match followers.as_slice() {
                    [] => "nothing follows it".to_owned(),
                    names => format!("followed by {}", listed(names)),
                };
                self.paragraph(&format!("**{name}**, a pattern\n\n{text}"));
            }
            Symbol::Variant(name) => {
                let title = design.variants.iter().find(|(known, _)| known == name).and_then(|(_, title)| title.clone());
                self.paragraph(&format!("**{name}**, a variant: `wallplate check --variant {name}`"));
                self.paragraph(title.as_deref().unwrap_or_default());
            }
            Symbol::Choice(word) => self.paragraph(&format!("`{word}`, one of the words that may stand here")),
            Symbol::Local(name) => {
                self.paragraph(&format!("`{name}`, named where it stands"));
                self.expression(one.span, file, offset);
            }
            Symbol::Function(name) => self.function(name),
            Symbol::Rule(name) => self.rule(name),
            Symbol::Catalogue(name) => {
                if trade::catalogue(name).is_some() {
                    self.paragraph(&format!("**{name}**, a catalogue: `wallplate rules {name}` lists its entries"));
                }
            }
            Symbol::File(name) => self.paragraph(&format!("the file `{name}`, read as part of this design")),
            Symbol::Unit(text) => self.unit(text),
        }
    }

    fn property(&mut self, kind: &Kind, property: &Property) {
        let mut line = format!("**{}.{}**: {}", kind.name, property.name, type_name(self.desk, &property.ty));
        if property.required {
            line.push_str(", required");
        }
        if !property.carries.is_none() {
            let carries: Vec<&str> = self.desk.design().carried_words(property.carries).collect();
            let _ = write!(line, ", carries {}", carries.join(", "));
        }
        if property.whole {
            line.push_str(", whole");
        }
        for limit in &property.limits {
            let text = self.desk.sources().slice(limit.value.span);
            let _ = write!(line, ", {} {text}", limit.word.words());
        }
        self.paragraph(&line);
        self.paragraph(&property.doc);
        if let Some(word) = self.desk.design().drawn.iter().find(|word| word.name == property.name) {
            let rows: Vec<&str> = word.looks.iter().map(|row| row.as_str()).collect();
            self.paragraph(&format!("```text\n{}\n```", rows.join("\n")));
        }
        if let Some(found) = &property.found {
            self.paragraph(&format!("found: {found}"));
        }
        for usual in &property.usual {
            let text = self.desk.sources().slice(usual.range.span);
            self.paragraph(&format!("usually {text}: {}", usual.because));
        }
    }

    /// What the value of a line is, for each component that it counts for.
    fn line(&mut self, line: Written<'_>) {
        let nodes = self.desk.nodes(line);
        for (node, owner) in nodes.iter().take(MOST_SHOWN) {
            self.node(*node, owner.filter(|_| nodes.len() > 1));
        }
        if nodes.len() > MOST_SHOWN {
            self.paragraph(&format!("and {} more", nodes.len() - MOST_SHOWN));
        }
        let span = match line {
            Written::Let(line) => line.span,
            Written::Line(_, line) | Written::Change(_, line) => line.span,
        };
        let findings: Vec<&Finding> = self.desk.findings_at(span).collect();
        self.checks(&findings);
    }

    fn node(&mut self, node: NodeId, owner: Option<ComponentId>) {
        let evaluator = &self.desk.session().evaluator;
        let step = evaluator.how(node);
        let mut text = owner.map_or_else(String::new, |id| format!("`{}` ", self.desk.design().component(id).name));
        match &step.value {
            Ok(value) => {
                let _ = write!(text, "= **{}**{}", brief(&evaluator.show_value(value)), self.elsewhere(value));
            }
            Err(Lack::Missing(lines)) => {
                let name = |line: &Missing| match MissingLine::of(self.desk.design(), line) {
                    MissingLine { component, property, .. } if property.is_empty() => component.to_string(),
                    MissingLine { component, property, .. } => format!("{component}.{property}"),
                };
                let names: Vec<String> = lines.iter().map(name).collect();
                let _ = write!(text, "not known: {} missing", listed(&names));
            }
            Err(Lack::Faulty) => text.push_str("not known: a line that it stands on is wrong"),
        }
        if let Some(origin) = &step.origin {
            let _ = write!(text, ", {origin}");
        }
        self.paragraph(&text);
        if let (Some(formula), Some(numbers)) = (step.formula, &step.with_numbers) {
            let formula = in_one_line(&self.desk.design().steps.written_out(self.desk.sources(), formula));
            if formula != *numbers {
                self.paragraph(&format!("`{}`  \n= `{}`", brief(&formula), brief(numbers)));
            }
        }
        if let Some(because) = &step.assumed {
            self.paragraph(&format!("assumed, because {because}"));
        }
    }

    /// The same number in the other system of units.
    fn elsewhere(&self, value: &Value) -> String {
        let ours = self.desk.session().evaluator.system();
        let other = |quantity: &Quantity, system: System| units::show(quantity.si, quantity.dim, None, system);
        let show = |quantity: &Quantity| {
            let here = self.desk.session().evaluator.show_quantity(quantity);
            let us = other(quantity, System::Us);
            let metric = other(quantity, System::Metric);
            let text = if ours == System::Us || quantity.unit.as_ref().is_some_and(|unit| units::system_of(unit) == Some(System::Us)) {
                metric
            } else {
                us
            };
            (text != here).then_some(text)
        };
        let all: Option<Vec<String>> = match value {
            Value::Quantity(quantity) => show(quantity).map(|text| vec![text]),
            Value::Size(parts) => parts.iter().map(show).collect(),
            Value::Range(ends) => ends.iter().map(show).collect(),
            _ => None,
        };
        let joint = if matches!(value, Value::Range(_)) { " to " } else { " by " };
        all.map_or_else(String::new, |all| format!(" ({})", all.join(joint)))
    }

    /// What the expression that is looked at is worth where it stands.
    fn expression(&mut self, span: Span, file: FileId, offset: u32) {
        let Some(line) = self.desk.line(file, offset) else { return };
        let expr = match line {
            Written::Let(line) => &line.value,
            Written::Line(_, line) | Written::Change(_, line) => &line.value,
        };
        // The longest expression that ends with the word: `roof.mass` for `mass`.
        let mut wanted = None;
        expr.walk(&mut |inner| {
            if inner.span.end == span.end && inner.span.start <= span.start && wanted.is_none() {
                let is_path = matches!(inner.node, crate::syntax::tree::Node::Name(_) | crate::syntax::tree::Node::Field(..));
                wanted = is_path.then_some(inner);
            }
        });
        let Some(wanted) = wanted else { return };
        let nodes = self.desk.nodes(line);
        let owner = nodes.first().and_then(|(_, owner)| *owner);
        let mut scope = Scope { own: owner, ..Scope::default() };
        let evaluator = &self.desk.session().evaluator;
        if let Ok(value) = evaluator.evaluate(wanted, &mut scope) {
            let whose =
                owner.filter(|_| nodes.len() > 1).map_or_else(String::new, |id| format!("in `{}` ", self.desk.design().component(id).name));
            self.paragraph(&format!("{whose}= **{}**{}", brief(&evaluator.show_value(&value)), self.elsewhere(&value)));
        }
    }

    fn entry(&mut self, name: &str, file: FileId, offset: u32) {
        let design = self.desk.design();
        match design.entry(name) {
            Some(Entry::Named(at)) => {
                self.paragraph(&format!("**{name}**, a named value"));
                if let Ok(at) = u32::try_from(at) {
                    self.node(NodeId(at), None);
                }
                if let Some(line @ Written::Let(named)) = self.desk.line(file, offset).filter(|_| true)
                    && named.name.text == name
                {
                    let findings: Vec<&Finding> = self.desk.findings_at(line_span(&line)).collect();
                    self.checks(&findings);
                }
            }
            Some(Entry::Component(id) | Entry::Array(id, ..)) => {
                let component = design.component(id);
                let kind = design.kind(component.kind);
                let several = match design.entry(name) {
                    Some(Entry::Array(_, first, count)) => format!(", elements {first} to {}", first + count - 1),
                    _ => String::new(),
                };
                self.paragraph(&format!("**{name}**, {}{several}", crate::problem::with_article(&kind.name)));
                self.paragraph(component.title.as_deref().unwrap_or_default());
                self.paragraph(&format!("*{}*", kind.doc));
                let is_about = |finding: &&Finding| {
                    finding.verdict != Verdict::Pass
                        && finding
                            .subjects
                            .iter()
                            .any(|subject| subject == name || subject.strip_prefix(name).is_some_and(|rest| rest.starts_with('[')))
                };
                let findings: Vec<&Finding> = self.desk.findings().iter().map(std::rc::Rc::as_ref).filter(is_about).collect();
                self.checks(&findings);
            }
            None => {}
        }
    }

    fn kind(&mut self, kind: &Kind) {
        self.paragraph(&format!("**{}**, a kind of component", kind.name));
        self.paragraph(&kind.doc);
        let required: Vec<String> =
            kind.properties.iter().filter(|property| property.required).map(|property| format!("`{}`", property.name)).collect();
        if !required.is_empty() {
            self.paragraph(&format!("has to say {}", required.join(", ")));
        }
        self.source("caution", kind.caution.as_deref());
        self.source("note", kind.note.as_deref());
        self.source("source", kind.source.as_deref());
    }

    fn function(&mut self, name: &str) {
        if let Some((_, doc)) = GATHERERS.iter().find(|(word, _)| *word == name) {
            self.paragraph(&format!("`{name}(… for c in KIND where …)`"));
            self.paragraph(doc);
            return;
        }
        let Some(function) = formulas::all().find(name) else { return };
        self.paragraph(&format!("`{}`", function.signature()));
        self.paragraph(&format!("{}; gives {}", function.doc, function.gives));
        let parameters: Vec<String> =
            function.parameters.iter().map(|parameter| format!("- `{}`: {}", parameter.name, parameter.doc)).collect();
        self.paragraph(&parameters.join("\n"));
        self.source("source", Some(function.source));
    }

    fn rule(&mut self, name: &str) {
        let Some(rule) = self.desk.design().rule(name) else { return };
        self.paragraph(&format!("**{}**, a {}", rule.name, if rule.advice { "piece of advice" } else { "check" }));
        self.paragraph(&rule.title);
        let found: Vec<&Finding> =
            self.desk.findings().iter().map(std::rc::Rc::as_ref).filter(|finding| finding.rule == rule.name).collect();
        self.checks(&found);
        self.source("caution", rule.caution.as_deref());
        self.source("source", rule.source.as_deref());
    }

    fn unit(&mut self, text: &str) {
        let Ok(unit) = Unit::parse(text) else { return };
        let base = unit.dim.base_units();
        let same = if unit.offset == 0.0 && !base.is_empty() {
            format!(": 1 {text} = {} {base}", units::figures(unit.factor, 7))
        } else {
            String::new()
        };
        self.paragraph(&format!("`{text}`, a unit of {}{same}", dimension(unit.dim)));
    }

    /// The checks that something takes part in, the worst first, with what is asked and what is given.
    fn checks(&mut self, findings: &[&Finding]) {
        let mut findings = findings.to_vec();
        findings.sort_by(|a, b| b.verdict.cmp(&a.verdict).then(b.ratio.unwrap_or(0.0).total_cmp(&a.ratio.unwrap_or(0.0))));
        let mut lines: Vec<String> = Vec::new();
        for finding in findings.iter().take(MOST_CHECKS) {
            let mut line = format!("- {} `{}`", finding.verdict.word(), finding.rule);
            match (&finding.demand, &finding.capacity) {
                (Some(demand), Some(capacity)) => {
                    let _ = write!(line, ": demand {}, capacity {}", demand.text, capacity.text);
                    if let Some(ratio) = finding.ratio {
                        let _ = write!(line, " ({})", units::percent(ratio));
                    }
                }
                _ => {
                    let _ = write!(line, ": {}", finding.message);
                }
            }
            lines.push(line);
        }
        if findings.len() > MOST_CHECKS {
            lines.push(format!("- and {} more", findings.len() - MOST_CHECKS));
        }
        self.paragraph(&lines.join("\n"));
    }

    fn source(&mut self, word: &str, text: Option<&str>) {
        if let Some(text) = text {
            self.paragraph(&format!("*{word}: {text}*"));
        }
    }

    fn followers(&self, pattern: &str) -> Vec<String> {
        let design = self.desk.design();
        let follows = |component: &&crate::design::Component| {
            component.lines().any(|(_, written)| matches!(&written.origin, Origin::Pattern(name) if name == pattern))
        };
        design.components.iter().filter(follows).map(|component| component.name.to_string()).collect()
    }
}

/// A type as a builder reads it: `length`, `link to clamp or post`, `one of vee, flat`.
#[must_use]
pub fn type_name(desk: &Desk, ty: &Type) -> String {
    let dim = |dim: &Dim| dimension(*dim);
    match ty {
        Type::Quantity(of) => dim(of),
        Type::Text => "text".to_owned(),
        Type::Date => "date".to_owned(),
        Type::Solid => "solid".to_owned(),
        Type::Condition => "condition".to_owned(),
        Type::Flag => "yes or no".to_owned(),
        Type::Word(words) => format!("one of {}", words.iter().map(smol_str::SmolStr::as_str).collect::<Vec<_>>().join(", ")),
        Type::Link { many, kinds } => {
            let names: Vec<&str> = kinds.iter().map(|kind| desk.design().kind(*kind).name.as_str()).collect();
            format!("{} to {}", if *many { "links" } else { "link" }, names.join(", "))
        }
        Type::List(of) => format!("list of {}", type_name(desk, of)),
        Type::Range(of) => format!("range of {}", dim(of)),
        Type::Size(of) => format!("size of {}", dim(of)),
        Type::Table => "table".to_owned(),
    }
}

/// `length` for "a length".
fn dimension(dim: Dim) -> String {
    let described = dim.describe();
    described.strip_prefix("a ").or_else(|| described.strip_prefix("an ")).map_or_else(|| described.clone(), str::to_owned)
}

fn line_name(line: &Written<'_>) -> Span {
    match line {
        Written::Let(line) => line.name.span,
        Written::Line(_, line) | Written::Change(_, line) => line.name.span,
    }
}

fn line_span(line: &Written<'_>) -> Span {
    match line {
        Written::Let(line) => line.span,
        Written::Line(_, line) | Written::Change(_, line) => line.span,
    }
}

fn in_one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn brief(text: &str) -> String {
    match text.char_indices().nth(LONGEST) {
        Some((at, _)) => format!("{}…", text.get(..at).unwrap_or(text)),
        None => text.to_owned(),
    }
}

fn listed(names: &[String]) -> String {
    let shown: Vec<String> = names.iter().take(MOST_CHECKS).map(|name| format!("`{name}`")).collect();
    let more = if names.len() > MOST_CHECKS { format!(" and {} more", names.len() - MOST_CHECKS) } else { String::new() };
    format!("{}{more}", shown.join(", "))
}
