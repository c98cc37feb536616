//! What all parts of the page ask: what it is made of, names and places, numbers and marks.

use crate::design::Paper;
use crate::output::{Checked, Standing, text::formula};
use crate::papers::accounts::Accounts;
use crate::papers::cards::Cards;
use crate::papers::drawing::{Rolled, Sheet, title_block};
use crate::papers::rolling::Roll;
use crate::papers::sequence::Sequence;
use crate::papers::takeoff::Takeoff;
use crate::rules::Finding;
use crate::text::Span;
use crate::values::Measure;
use maud::{Markup, html};
use std::fmt::Write;

/// Which issue of the design it is, for the title block.
#[derive(Debug, Clone, Default)]
pub struct Issue {
    /// Of which day; empty if it is not said.
    pub date: String,
    /// Which revision; empty if it is not said.
    pub revision: String,
}

/// What the report is made of.
pub struct Content<'c> {
    /// The design with its findings.
    pub checked: &'c Checked,
    /// What goes onto paper.
    pub papers: &'c [Paper],
    /// What rolls.
    pub rolls: &'c [Roll],
    /// The picture of it.
    pub rolled: Option<&'c Rolled>,
    /// The drawings.
    pub sheets: &'c [Sheet],
    /// What to buy.
    pub takeoff: &'c Takeoff,
    /// The order of work.
    pub sequence: &'c Sequence,
    /// How the parts behave.
    pub accounts: &'c Accounts,
    /// The cards on the wall.
    pub cards: &'c Cards,
    /// Which issue it is.
    pub issue: &'c Issue,
}

/// A part of the page with a heading of its own.
pub(super) struct Section {
    pub(super) id: &'static str,
    pub(super) title: &'static str,
    pub(super) body: Markup,
}

/// What all parts of the page ask.
pub(super) struct Page<'c> {
    pub(super) content: &'c Content<'c>,
    pub(super) checked: &'c Checked,
}

impl<'c> Page<'c> {
    /// The title of the design, or its files.
    pub(super) fn title(&self) -> String {
        let design = self.checked.session.design();
        let titled = design.titling().and_then(|id| design.component(id).title.as_ref());
        titled.map_or_else(|| self.files(), ToString::to_string)
    }

    /// The codes that it is worked out by, as they stand in every title block.
    fn codes(&self) -> Option<String> {
        title_block(&self.checked.session, self.content.papers).into_iter().nth(1).filter(|codes| !codes.is_empty())
    }

    /// The person's own files.
    pub(super) fn files(&self) -> String {
        let names: Vec<&str> = self.checked.session.sources.own().map(|(_, source)| source.name.as_str()).collect();
        names.join(", ")
    }

    pub(super) fn title_block(&self) -> Markup {
        let (issue, choice) = (self.content.issue, &self.checked.choice);
        let said = |text: &str| if text.is_empty() { "not said".to_owned() } else { text.to_owned() };
        let variant = choice.variant.as_ref().map(ToString::to_string);
        let read_as = match (variant, choice.as_built) {
            (None, false) => "as planned".to_owned(),
            (None, true) => "as built, by what was measured".to_owned(),
            (Some(variant), false) => format!("variant {variant}"),
            (Some(variant), true) => format!("variant {variant}, as built"),
        };
        html! {
            header.block {
                div.name {
                    h1 { (self.title()) }
                    p { "Design report: what holds, what does not, what is not known, and how it was worked out" }
                    @if let Some(codes) = self.codes() { p { "Worked out by " (codes) } }
                }
                dl {
                    div { dt { "Design" } dd { (breakable(&self.files())) } }
                    div { dt { "Read" } dd { (read_as) } }
                    div { dt { "Revision" } dd { (said(&issue.revision)) } }
                    div { dt { "Date" } dd { (said(&issue.date)) } }
                }
            }
        }
    }

    /// Title, revision and page number at the foot of each printed page.
    pub(super) fn running_foot(&self) -> String {
        let mut words = String::new();
        let revision = &self.content.issue.revision;
        let all = if revision.is_empty() { self.title() } else { format!("{} · revision {revision}", self.title()) };
        for sign in all.chars() {
            match sign {
                '\\' | '"' | '<' | '>' | '&' => {
                    let _ = write!(words, "\\{:06x}", u32::from(sign));
                }
                sign if sign.is_control() => words.push(' '),
                sign => words.push(sign),
            }
        }
        format!("@page{{@bottom-left{{content:\"{words}\"}}}}")
    }

    /// Where a span stands: `a.plate:12`.
    pub(super) fn place(&self, span: Span) -> String {
        let sources = &self.checked.session.sources;
        let name = sources.get(span.file).map_or("", |source| source.name.as_str());
        format!("{name}:{}", sources.position(span).line)
    }

    /// The whole line of text that a span begins in.
    pub(super) fn line(&self, span: Span) -> &'c str {
        let Some(source) = self.checked.session.sources.get(span.file) else { return "" };
        let lines = source.lines();
        lines.text_of(&source.text, lines.line_of(span.start)).trim_end()
    }

    /// A formula of the text in one line.
    pub(super) fn formula(&self, span: Span) -> String {
        formula(&self.checked.session, span)
    }
}

/// A formula with numbers put in, with the signs that engineers write.
pub(super) fn typeset(formula: &str) -> String {
    [(" * ", " × "), (" - ", " − "), (" >= ", " ≥ "), (" <= ", " ≤ "), (" != ", " ≠ "), (" == ", " = ")]
        .iter()
        .fold(formula.to_owned(), |text, (plain, sign)| text.replace(plain, sign))
}

/// A name that may be broken behind its parts, where there is little room.
pub(super) fn breakable(name: &str) -> Markup {
    html! { @for part in name.split_inclusive(['/', '_', ',']) { (part) wbr; } }
}

/// A number as people read it, with its value in SI base units for programs.
pub(super) fn measure(measure: &Measure) -> Markup {
    html! { data.n value=(measure.quantity.si) { (measure.text) } }
}

/// How a finding stands, as a word with a sign: never by colour alone.
pub(super) fn finding_mark(finding: &Finding) -> Markup {
    match Standing::of(finding) {
        Standing::Tight if finding.advice_not_met => mark(Standing::Tight, "advice"),
        standing => standing_mark(standing),
    }
}

pub(super) fn standing_mark(standing: Standing) -> Markup {
    let word = match standing {
        Standing::Fail => "fails",
        Standing::Undetermined => "not known",
        Standing::Tight => "tight",
        Standing::Accepted => "accepted",
        Standing::Pass => "holds",
    };
    mark(standing, word)
}

pub(super) fn mark(standing: Standing, word: &str) -> Markup {
    let sign = match standing {
        Standing::Fail => "✕",
        Standing::Undetermined => "?",
        Standing::Tight => "!",
        Standing::Accepted => "≈",
        Standing::Pass => "✓",
    };
    html! { span class={ "mark " (standing.word()) } { span.sign aria-hidden="true" { (sign) } " " (word) } }
}
