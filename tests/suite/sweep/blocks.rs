//! Slips with whole blocks: one left out, one doubled under another name, one moved or mirrored, a number copied from the
//! block before.

use super::slips::{Maker, Place, Slip, Sort, range};
use wallplate::design::Choice;
use wallplate::syntax::tree::{Component, Expr, Item, Line, Node};

/// How far a part is set wrong along each axis.
const STEPS: [&str; 2] = ["0.5 m", "-2 m"];
/// The lines that say where a part is.
const ALONG: [&str; 2] = ["station", "runs"];
const ACROSS: [&str; 2] = ["offset", "spans"];
const UP: [&str; 4] = ["level", "top_level", "foot_level", "eaves_level"];

impl<'t> Maker<'t> {
    pub(super) fn blocks(&mut self, items: &[&'t Item]) {
        let blocks = items.iter().filter_map(|item| match item {
            Item::Component(one) => Some((one, true)),
            Item::Pattern(one) => Some((one, false)),
            _ => None,
        });
        let mut before: Vec<&Component> = Vec::new();
        let roof = items.iter().find_map(|item| match item {
            Item::Component(one) if one.kind.text == "roof" => one.name.as_ref(),
            _ => None,
        });
        for (one, is_component) in blocks {
            let kind = one.kind.text.as_str();
            let name = one.name.as_ref().map_or(kind, |name| name.text.as_str());
            if is_component && self.text[range(one.span)].contains('\n') {
                self.block(Sort::BlockOut, kind, name, range(one.span), String::new());
            }
            if let Some(own) = one.name.as_ref().filter(|_| is_component) {
                let at = own.span.end as usize;
                let (head, tail) = (&self.text[one.span.start as usize..at], &self.text[at..one.span.end as usize]);
                let end = one.span.end as usize;
                self.block(Sort::Doubled, kind, name, end..end, format!("\n{head}_2{tail}"));
            }
            for line in &one.lines {
                self.moved(kind, name, line);
                if let Some(roof) = roof.filter(|_| line.name.text == "offset") {
                    let place = place(kind, name, line);
                    let span = range(line.value.span);
                    let written = self.text[span.clone()].to_owned();
                    self.push(Sort::Mirrored, &place, span, format!("2 * {}.centre_offset - ({written})", roof.text));
                }
                let like = before.iter().rev().filter(|other| other.kind.text == one.kind.text);
                let other = like.flat_map(|other| &other.lines).find(|other| other.name.text == line.name.text);
                if let Some(new) = other.map(|other| &self.text[range(other.value.span)]).filter(|_| has_numbers(&line.value)) {
                    let span = range(line.value.span);
                    if self.text[span.clone()] != *new {
                        self.push(Sort::Copied, &place(kind, name, line), span, new.to_owned());
                    }
                }
            }
            before.push(one);
        }
    }

    fn block(&mut self, sort: Sort, kind: &str, name: &str, range: std::ops::Range<usize>, new: String) {
        self.found.push(Slip { sort, about: kind.to_owned(), told: name.to_owned(), range, new, choice: Choice::default() });
    }

    /// Set wrong by some way along the axis that the line is about.
    fn moved(&mut self, kind: &str, name: &str, line: &'t Line) {
        if !ALONG.iter().chain(&ACROSS).chain(&UP).any(|word| *word == line.name.text) {
            return;
        }
        let place = place(kind, name, line);
        for step in STEPS {
            let by = |expr: &Expr| format!("({step} + ({}))", &self.text[range(expr.span)]);
            let new = match &line.value.node {
                Node::Range(from, to) => format!("{} to {}", by(from), by(to)),
                Node::Tolerance { value, .. } => {
                    format!("{}{}", by(value), &self.text[value.span.end as usize..line.value.span.end as usize])
                }
                Node::List(_) => return,
                _ => by(&line.value),
            };
            self.push(Sort::Moved, &place, range(line.value.span), new);
        }
    }
}

fn place<'t>(kind: &str, name: &str, line: &'t Line) -> Place<'t> {
    Place { about: format!("{kind}.{}", line.name.text), told: name.to_owned(), value: &line.value, choice: Choice::default() }
}

fn has_numbers(value: &Expr) -> bool {
    let mut found = false;
    value.walk(&mut |expr| found |= matches!(expr.node, Node::Quantity(_)));
    found
}
