//! The order of work.

use super::markdown::{cell, head, row};
use super::{MADE, count, day, names, unknown, work};
use crate::output::text::{Look, Tone};
use crate::output::xml::comment;
use crate::papers::sequence::{Remark, Sequence, Step, Visit};
use crate::session::LAST_WORD;
use crate::syntax::tree::Date;
use std::fmt::Write;

/// For people at a terminal.
#[must_use]
pub fn sequence_text(sequence: &Sequence, look: &Look, start: Option<Date>) -> String {
    let mut out = String::new();
    for visit in &sequence.visits {
        let title = format!("{}, {}", day(visit.start, start), visit_title(visit));
        let _ = writeln!(out, "{}", look.paint(Tone::Strong, &look.tame(&title)));
        for (at, step) in sequence.steps.iter().enumerate().skip(visit.steps.start).take(visit.steps.len()) {
            let sign = if step.critical { "*" } else { " " };
            out.push_str(&look.wrap(&format!("{sign} {:>3}  ", at + 1), "       ", 7, &title_of(step)));
            let mut fact = |key: &str, text: &str| {
                out.push_str(&look.wrap(&format!("       {}  ", look.paint(Tone::Quiet, &format!("{key:<7}"))), &" ".repeat(16), 16, text));
            };
            fact("takes", &takes(step));
            for does in &step.does {
                fact("do", &remark(does));
            }
            if let Some(waits) = waits(sequence, step) {
                fact("after", &waits);
            }
            for hold in &step.holds {
                fact("measure", &remark(hold));
            }
            for note in &step.notes {
                fact("note", note);
            }
            for caution in &step.cautions {
                fact("caution", caution);
            }
        }
        out.push('\n');
    }
    if !sequence.unknown.is_empty() {
        let _ = writeln!(out, "{}", look.paint(Tone::Open, "not known"));
        for one in &sequence.unknown {
            out.push_str(&look.wrap("  ", "      ", 6, &unknown(one)));
        }
        out.push('\n');
    }
    for line in summary(sequence) {
        out.push_str(&look.paragraph(0, &line));
    }
    out.push_str(&look.paragraph(0, LAST_WORD));
    out
}

/// Tables for a page.
#[must_use]
pub fn sequence_markdown(sequence: &Sequence, name: &str, start: Option<Date>) -> String {
    let mut out = format!("{}\n# Order of work: {}\n", comment(MADE), cell(name));
    for line in summary(sequence) {
        let _ = write!(out, "\n{}\n", cell(&line));
    }
    for visit in &sequence.visits {
        let _ = write!(
            out,
            "\n## {}, {}\n\n{}",
            day(visit.start, start),
            cell(&visit_title(visit)),
            head(&["", "step", "takes", "after", "measure before going on", "note"])
        );
        for (at, step) in sequence.steps.iter().enumerate().skip(visit.steps.start).take(visit.steps.len()) {
            let number = format!("{}{}", at + 1, if step.critical { " (critical)" } else { "" });
            let does = if step.does.is_empty() {
                title_of(step)
            } else {
                format!("{}. {}", title_of(step), step.does.iter().map(remark).collect::<Vec<_>>().join("; "))
            };
            let notes: Vec<&str> = step.notes.iter().chain(&step.cautions).map(smol_str::SmolStr::as_str).collect();
            let waits = waits(sequence, step).unwrap_or_default();
            out.push_str(&row([
                number.as_str(),
                &does,
                &takes(step),
                &waits,
                &step.holds.iter().map(remark).collect::<Vec<_>>().join("; "),
                &notes.join("; "),
            ]));
        }
    }
    if !sequence.unknown.is_empty() {
        out.push_str("\n## Not known\n\n");
        for one in &sequence.unknown {
            let _ = writeln!(out, "- {}", cell(&unknown(one)));
        }
    }
    let _ = write!(out, "\n{}\n", cell(LAST_WORD));
    out
}

pub(in crate::output) fn title_of(step: &Step) -> String {
    if step.of.is_empty() { step.title.to_string() } else { format!("{}: {}", step.title, names(&step.of)) }
}

pub(in crate::output) fn remark(remark: &Remark) -> String {
    if remark.of.is_empty() { remark.says.to_string() } else { format!("{}: {}", names(&remark.of), remark.says) }
}

/// `carpenter, visit 2 of 3`.
pub(in crate::output) fn visit_title(visit: &Visit) -> String {
    let which = if visit.of == 1 { "one visit".to_owned() } else { format!("visit {} of {}", visit.number, visit.of) };
    format!("{}, {which}", visit.trade)
}

pub(in crate::output) fn takes(step: &Step) -> String {
    if step.critical {
        format!("{}; decides the end", work(step.takes))
    } else {
        format!("{}; may wait {}", work(step.takes), work(step.float.floor()))
    }
}

/// What it waits for outside its own visit: what is done just before needs no word.
pub(in crate::output) fn waits(sequence: &Sequence, step: &Step) -> Option<String> {
    let mut waits: Vec<_> =
        step.after.iter().filter(|wait| sequence.steps.get(wait.step).is_some_and(|before| before.visit != step.visit)).collect();
    waits.sort_by_key(|wait| wait.step);
    let shown: Vec<String> =
        waits
            .iter()
            .map(|wait| {
                if wait.days > 0.0 { format!("step {} and {}", wait.step + 1, work(wait.days)) } else { format!("step {}", wait.step + 1) }
            })
            .collect();
    (!shown.is_empty()).then(|| shown.join(", "))
}

pub(in crate::output) fn summary(sequence: &Sequence) -> Vec<String> {
    let mut lines = Vec::new();
    let visits = sequence.visits.len();
    let fewest = if visits <= sequence.visits_bound {
        "no order of work has fewer".to_owned()
    } else {
        format!("no order of work has fewer than {}", sequence.visits_bound)
    };
    lines.push(format!(
        "{visits} visits; {fewest}. {} days from the first to the last, each day counted as one of work; {} if every trade came whenever it is wanted. Days on which nobody works come on top.",
        count(sequence.days),
        count(sequence.fewest_days)
    ));
    let path: Vec<String> = sequence.critical_path.iter().map(|step| (step + 1).to_string()).collect();
    lines.push(format!("What decides the end: steps {}.", path.join(", ")));
    lines
}
