//! The order of work as a bar chart: SVG 1.1, in ink only, so that it is the same on paper, on a copy and in the dark.

use super::order::{title_of, visit_title};
use super::{MADE, count, day, work};
use crate::output::xml::Xml;
use crate::papers::sequence::{Sequence, Step};
use crate::syntax::tree::Date;

/// All in millimetres, to print on A3.
const PAGE: f64 = 400.0;
const NAMES: f64 = 130.0;
const ROW: f64 = 6.0;
const HEAD: f64 = 24.0;
/// Marks of the days are this far apart at least.
const LEAST_MARK: f64 = 16.0;
/// A sign of a text 3 mm high is about this wide.
const SIGN: f64 = 1.55;
/// Ink and paper change places where the reader wants it dark, never in print. What may wait is hatched.
const STYLE: &str = "svg{color:#000;background:#fff}text,.solid{fill:currentColor}path,rect{stroke:currentColor}\
.solid{stroke-width:.2}.hatched{fill:url(#hatching);stroke-width:.2}.rule{stroke-width:.3}.day{stroke-width:.15;stroke-opacity:.4}text.inside{fill:#fff}\
@media screen and (prefers-color-scheme:dark){svg{color:#eee;background:#111}text.inside{fill:#111}}";

/// A row for each step, its bar solid if it decides the end, hatched if it may wait; what there is to know of it in words on
/// the bar or beside it. A scale of days above.
#[must_use]
pub fn sequence_chart(sequence: &Sequence, name: &str, start: Option<Date>) -> String {
    let rows = sequence.steps.len() + sequence.visits.len();
    let height = HEAD + ROW * rows as f64 + 14.0;
    let mut xml = Xml::document(MADE);
    xml.element("svg")
        .with("xmlns", "http://www.w3.org/2000/svg")
        .with("width", format_args!("{PAGE}mm"))
        .with("height", format_args!("{height}mm"))
        .with("viewBox", format_args!("0 0 {PAGE} {height}"))
        .with("font-family", "sans-serif")
        .with("font-size", 3)
        .with("role", "img")
        .holding(|xml| {
            xml.element("title").text(format_args!("Order of work: {name}"));
            xml.element("style").text(STYLE);
            xml.element("defs").holding(hatching);
            xml.element("text")
                .with("x", 4)
                .with("y", 8)
                .with("font-size", 5)
                .with("font-weight", "bold")
                .text(format_args!("Order of work: {name}"));
            let key = "solid: decides the end; hatched: may wait as long as it says; “measure”: before anybody goes on";
            xml.element("text").with("x", 4).with("y", 14).text(key);
            bars(xml, sequence, start, height);
            let foot = format!("{} days; days on which nobody works come on top.", count(sequence.days));
            xml.element("text").with("x", 4).with("y", hundredths(height - 5.0)).text(foot);
        });
    xml.into_text()
}

fn hatching(xml: &mut Xml) {
    let pattern = xml.element("pattern").with("id", "hatching").with("width", 1.2).with("height", 1.2);
    pattern.with("patternUnits", "userSpaceOnUse").holding(|xml| {
        xml.element("path").with("d", "M0 1.2L1.2 0M-.3 .3L.3 -.3M.9 1.5L1.5 .9").with("stroke-width", 0.25).empty();
    });
}

/// The scale of days, and a row for each visit and each step.
fn bars(xml: &mut Xml, sequence: &Sequence, start: Option<Date>, height: f64) {
    let days = sequence.days.max(1.0);
    let across = |at: f64| NAMES + at / days * (PAGE - NAMES - 6.0);
    let step_of_marks = [1.0, 2.0, 5.0, 7.0, 14.0, 28.0, 56.0, 112.0, 365.0]
        .into_iter()
        .find(|step| across(*step) - across(0.0) >= LEAST_MARK)
        .unwrap_or(365.0);
    let mut at = 0.0;
    while at <= days {
        let x = hundredths(across(at));
        xml.element("path").with("class", "day").with("d", format_args!("M{x} {HEAD}V{}", hundredths(height - 12.0))).empty();
        let mark = xml.element("text").with("x", x).with("y", hundredths(HEAD - 2.0)).with("font-size", 2.6).with("text-anchor", "middle");
        mark.text(day(at, start));
        at += step_of_marks;
    }
    let mut place = 0;
    let mut number = 0;
    for visit in &sequence.visits {
        let y = HEAD + ROW * place as f64;
        xml.element("path").with("class", "rule").with("d", format_args!("M0 {}H{PAGE}", hundredths(y))).empty();
        xml.element("text").with("x", 4).with("y", hundredths(y + 4.2)).with("font-weight", "bold").text(visit_title(visit));
        place += 1;
        for step in sequence.steps.get(visit.steps.clone()).unwrap_or_default() {
            let y = HEAD + ROW * place as f64;
            let (from, to) = (across(step.start), across(step.finish).max(across(step.start) + 0.8));
            number += 1;
            let name = shortened(&format!("{number}  {}", title_of(step)), ((NAMES - 8.0) / SIGN) as usize);
            xml.element("text").with("x", 6).with("y", hundredths(y + 4.2)).text(name);
            xml.element("rect")
                .with("class", if step.critical { "solid" } else { "hatched" })
                .with("x", hundredths(from))
                .with("y", hundredths(y + 1.1))
                .with("width", hundredths(to - from))
                .with("height", 3.8)
                .titled(format_args!("{}: {}, {}", title_of(step), day(step.start, start), work(step.takes)));
            words(xml, &says(step), step.critical, [from, to], y + 4.0);
            place += 1;
        }
    }
}

/// Finer than anybody draws.
fn hundredths(millimetres: f64) -> String {
    format!("{millimetres:.2}")
}

/// `7 days after 3; may wait 2 days; measure`.
fn says(step: &Step) -> String {
    let waits = step.after.iter().filter(|wait| wait.days > 0.0).map(|wait| format!("{} after {}", work(wait.days), wait.step + 1));
    let float = (step.float > 0.0).then(|| format!("may wait {}", work(step.float)));
    let measure = (!step.holds.is_empty()).then(|| "measure".to_owned());
    waits.chain(float).chain(measure).collect::<Vec<_>>().join("; ")
}

/// Words on a solid bar that has room for them; else behind it, or before it where the page ends.
fn words(xml: &mut Xml, says: &str, solid: bool, [from, to]: [f64; 2], y: f64) {
    if says.is_empty() {
        return;
    }
    let width = says.chars().count() as f64 * SIGN + 2.0;
    let (class, x, anchor) = if solid && width <= to - from {
        (Some("inside"), from + 1.0, "start")
    } else if to + width <= PAGE - 4.0 {
        (None, to + 1.0, "start")
    } else {
        (None, from - 1.0, "end")
    };
    let start = xml.element("text").with_some("class", class).with("x", hundredths(x)).with("y", hundredths(y));
    start.with("text-anchor", anchor).text(says);
}

fn shortened(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    text.chars().take(most.saturating_sub(1)).chain(['…']).collect()
}
