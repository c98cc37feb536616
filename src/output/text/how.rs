//! A value as people read it, and how it was worked out, as an engineer would check it by hand:
//! the formula, the formula with its numbers, the result, and where each of them stands.

use super::look::{Look, Tone};
use crate::design::{NodeId, NodeKind, Origin};
use crate::output::Valued;
use crate::output::digest::position;
use crate::rules::{Finding, working};
use crate::session::Session;
use crate::text::Span;
use crate::values::{Lack, MissingLine, Outcome, Record, Step, Value};
use rustc_hash::FxHashSet;
use smol_str::SmolStr;
use std::sync::Arc;

/// Steps that are printed: more is a listing of the design.
const MOST_STEPS: usize = 400;
/// Steps below steps are moved in up to this depth.
const MOST_INDENT: usize = 10;
/// A name longer than this does not push its formula to the right.
const LONGEST_NAME: usize = 32;

/// The value of an expression; with its steps if it has any.
#[must_use]
pub fn value(valued: &Valued, session: &Session, look: &Look, how: bool) -> String {
    let mut page = Page { session, look, out: String::new(), printed: FxHashSet::default(), count: 0 };
    if how {
        page.expression(valued);
    } else {
        // Not wrapped: a script may read it.
        for line in page.fields(&valued.outcome) {
            page.out.push_str(&look.tame(&line));
            page.out.push('\n');
        }
        page.range(valued, 0);
    }
    page.missing(valued);
    page.out
}

/// Both sides of rules as they were judged; with the steps of each if `how`.
#[must_use]
pub fn judged(findings: &[&Finding], session: &Session, look: &Look, how: bool) -> String {
    let mut page = Page { session, look, out: String::new(), printed: FxHashSet::default(), count: 0 };
    for finding in findings {
        page.finding(finding, how);
    }
    page.out
}

struct Page<'p> {
    session: &'p Session,
    look: &'p Look,
    out: String,
    printed: FxHashSet<NodeId>,
    count: usize,
}

impl Page<'_> {
    fn worth(&self, outcome: &Outcome) -> String {
        match outcome {
            Ok(value) => self.session.evaluator.show_value(value),
            Err(Lack::Missing(_)) => "not known: a line is missing".to_owned(),
            Err(Lack::Faulty) => "not known: a line that it stands on is wrong".to_owned(),
        }
    }

    /// A value in lines: a table has one for each of its fields, anything else has one.
    fn fields(&self, outcome: &Outcome) -> Vec<String> {
        let Ok(Value::Record(record)) = outcome else { return vec![self.worth(outcome)] };
        let one = |field: &(SmolStr, Value)| {
            self.session.evaluator.show_value(&Value::Record(Arc::new(Record { shape: None, fields: vec![field.clone()] })))
        };
        let lines: Vec<String> =
            record.fields.iter().filter(|(_, value)| !is_blank(value)).map(one).filter(|line| !line.is_empty()).collect();
        if lines.is_empty() { vec![self.worth(outcome)] } else { lines }
    }

    fn range(&mut self, valued: &Valued, indent: usize) {
        if let Some([least, most]) = &valued.range {
            let evaluator = &self.session.evaluator;
            let text = format!("{} to {} over the tolerances", evaluator.show_quantity(least), evaluator.show_quantity(most));
            self.out.push_str(&self.look.paragraph(indent, &text));
        }
    }

    fn missing(&mut self, valued: &Valued) {
        for line in &valued.missing {
            self.lacks(line);
        }
    }

    fn lacks(&mut self, line: &MissingLine) {
        let doc = if line.doc.is_empty() { String::new() } else { format!(": {}", line.doc) };
        let text = if line.property.is_empty() {
            format!("write {} block{doc}", crate::problem::quoted_with_article(&line.component))
        } else {
            format!("add a line `{} …` to {}{doc}", line.property, line.component)
        };
        self.out.push_str(&self.look.wrap("  ", "    ", 4, &text));
    }

    fn finding(&mut self, finding: &Finding, how: bool) {
        if !self.out.is_empty() {
            self.out.push('\n');
        }
        let heading = format!("{} ({}): {}", finding.rule, finding.subjects.join(", "), finding.title);
        self.out.push_str(&self.look.paint(Tone::Strong, self.look.paragraph(0, &heading).trim_end()));
        self.out.push('\n');
        self.out.push_str(&self.look.wrap("  ", "    ", 4, &format!("{}: {}", finding.word(), finding.message)));
        for side in working(&self.session.evaluator, finding) {
            let (word, worst) = match side.word {
                "demand" => ("needed", finding.demand.as_deref()),
                "capacity" => ("available", finding.capacity.as_deref()),
                _ => ("condition", None),
            };
            let worth = self.worth(&side.worth);
            let start = format!("  {} = ", self.look.paint(Tone::Strong, word));
            let indent = word.len() + 3;
            let (equals, rest) = (format!("{}= ", " ".repeat(indent)), " ".repeat(indent + 2));
            if how {
                self.out.push_str(&self.look.wrap(&start, &rest, indent + 2, &formula(self.session, side.formula)));
                if side.with_numbers != worth {
                    self.out.push_str(&self.look.wrap(&equals, &rest, indent + 2, &side.with_numbers));
                }
                self.out.push_str(&self.look.wrap(&equals, &rest, indent + 2, &worth));
            } else {
                self.out.push_str(&self.look.wrap(&start, &rest, indent + 2, &worth));
            }
            if let Some(worst) = worst.filter(|worst| worst.text != worth) {
                self.out.push_str(&self.look.wrap(&rest, &rest, indent + 2, &format!("{} at the worst of the tolerances", worst.text)));
            }
            if how {
                let steps: Vec<Step> = side.reads.iter().map(|node| self.session.evaluator.how(*node)).collect();
                self.steps(&steps, 2);
            }
        }
        for line in finding.missing.iter() {
            self.lacks(line);
        }
    }

    fn expression(&mut self, valued: &Valued) {
        let result = self.worth(&valued.outcome);
        let strong = |text: &str| self.look.paint(Tone::Strong, &self.look.tame(text));
        let mut heading = format!("{}\n", strong(&in_one_line(&valued.text)));
        if let Some(numbers) = &valued.with_numbers {
            heading.push_str(&self.look.wrap("  = ", "      ", 6, numbers));
        }
        heading.push_str(&self.look.wrap("  = ", "      ", 6, &result));
        self.out.push_str(&heading);
        self.range(valued, 4);
        if !valued.steps.is_empty() {
            self.out.push('\n');
        }
        self.steps(&valued.steps, 0);
    }

    fn steps(&mut self, steps: &[Step], depth: usize) {
        // Not by recursion: a chain of values may be as long as the design.
        let mut waiting: Vec<(usize, &Step)> = steps.iter().rev().map(|step| (depth, step)).collect();
        while let Some((depth, step)) = waiting.pop() {
            self.count += 1;
            if self.count > MOST_STEPS {
                self.out.push_str("and more steps; ask for one of the values above by its name\n");
                break;
            }
            if self.step(depth, step) {
                waiting.extend(step.from.iter().rev().map(|below| (depth + 1, below)));
            }
        }
    }

    /// Prints a step; says whether what it stands on is still to be shown.
    fn step(&mut self, depth: usize, step: &Step) -> bool {
        let indent = 2 * depth.min(MOST_INDENT);
        let blank = " ".repeat(indent);
        let place = position(&self.session.sources, step.formula.unwrap_or(step.span));
        let mut worth = self.fields(&step.value);
        let name = step.name.as_str();
        if !self.printed.insert(step.node) {
            let worth = if worth.len() == 1 { format!(" = {}", worth.concat()) } else { String::new() };
            let text = format!("{name}{worth} (shown above)");
            self.out.push_str(&self.look.wrap(&blank, &format!("{blank}    "), indent + 4, &text));
            return false;
        }
        let column = if name.chars().count() <= LONGEST_NAME { name.chars().count() + 1 } else { 4 };
        let rest = format!("{blank}{}", " ".repeat(column + 2));
        let equals = format!("{blank}{}= ", " ".repeat(column));
        let first = format!("{blank}{} = ", self.look.paint(Tone::Strong, name));
        let wide = indent + column + 2;
        if let Some(last) = worth.last_mut() {
            *last = format!("{last}  ({place})");
        }
        let heads = |first: &str| -> Vec<String> {
            worth.iter().enumerate().map(|(at, _)| if at == 0 { first.to_owned() } else { rest.clone() }).collect()
        };
        match &step.formula {
            Some(span) => {
                let formula = formula(self.session, *span);
                self.out.push_str(&self.look.wrap(&first, &rest, wide.max(indent + name.len() + 3), &formula));
                let plain = self.worth(&step.value);
                if let Some(numbers) = step.with_numbers.as_ref().filter(|numbers| **numbers != formula && **numbers != plain) {
                    self.out.push_str(&self.look.wrap(&equals, &rest, wide, numbers));
                }
                for (head, line) in heads(&equals).iter().zip(&worth) {
                    self.out.push_str(&self.look.wrap(head, &rest, wide, line));
                }
            }
            None => {
                for (head, line) in heads(&first).iter().zip(&worth) {
                    self.out.push_str(&self.look.wrap(head, &rest, wide.max(indent + name.len() + 3), line));
                }
            }
        }
        let mut notes: Vec<String> = Vec::new();
        let is_link = matches!(step.value, Ok(Value::Component(_)));
        if !step.doc.is_empty() && !is_link {
            notes.push(step.doc.clone());
        }
        if let Some(origin) = &step.origin {
            notes.push(format!("{origin}{}", self.before(step.node)));
        }
        if let Some(because) = &step.assumed {
            notes.push(format!("assumed: {because}"));
        }
        if let Some(source) = &step.source {
            notes.push(format!("source: {source}"));
        }
        for note in notes {
            let start = format!("{blank}    ");
            for line in self.look.wrap(&start, &format!("{start}  "), indent + 6, &note).lines() {
                self.out.push_str(&self.look.paint(Tone::Quiet, line));
                self.out.push('\n');
            }
        }
        true
    }

    /// What stood there before a variant or a measurement replaced it, as written: earlier measurements, and what was planned.
    fn before(&self, node: NodeId) -> String {
        let design = self.session.design();
        let NodeKind::Property(id, property) = design.node_kind(node) else { return String::new() };
        let mut text = String::new();
        let mut before = design.component(id).written(property).and_then(|written| written.instead_of.as_ref());
        while let Some(written) = before {
            let what = match &written.origin {
                Origin::Own | Origin::Pattern(_) => "planned".to_owned(),
                Origin::Variant(name) => format!("in the variant {name}"),
                Origin::Measured(date) => format!("before that, measured {date}:"),
            };
            let place = position(&self.session.sources, written.span);
            text.push_str(&format!("; {what} {} ({place})", formula(self.session, written.value.span)));
            before = written.instead_of.as_ref();
        }
        text
    }
}

fn is_blank(value: &Value) -> bool {
    matches!(value, Value::Text(text) if text.is_empty())
}

/// A formula of the text in one line: comments out, blanks and line ends as one blank, none inside of brackets.
#[must_use]
pub fn in_one_line(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    let (mut quoted, mut comment, mut gap) = (false, false, false);
    for sign in text.chars() {
        match sign {
            '\n' | '\r' => (comment, gap) = (false, true),
            _ if comment => {}
            '#' if !quoted => comment = true,
            _ if sign.is_whitespace() && !quoted => gap = true,
            _ => {
                let inside = plain.ends_with(['(', '[']) || matches!(sign, ')' | ']');
                if gap && !plain.is_empty() && !inside {
                    plain.push(' ');
                }
                gap = false;
                quoted ^= sign == '"';
                plain.push(sign);
            }
        }
    }
    plain
}

/// The text of a formula in one line, the steps of its kind written out.
pub fn formula(session: &Session, span: Span) -> String {
    in_one_line(&session.design().steps.written_out(&session.sources, span))
}
