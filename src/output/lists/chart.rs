//! The order of work as a bar chart: SVG 1.1, in ink only, so that it is the same on paper, on a copy and in the dark.

use super::order::{title_of, visit_title};
use super::{MADE, count, day, escaped, work};
use crate::papers::sequence::{Sequence, Step};
use crate::syntax::tree::Date;
use std::fmt::Write;

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
const STYLE: &str = "<style>svg{color:#000;background:#fff}text,.solid{fill:currentColor}path,rect{stroke:currentColor}\
.solid{stroke-width:.2}.hatched{fill:url(#hatching);stroke-width:.2}.rule{stroke-width:.3}.day{stroke-width:.15;stroke-opacity:.4}text.inside{fill:#fff}\
@media screen and (prefers-color-scheme:dark){svg{color:#eee;background:#111}text.inside{fill:#111}}</style>\n\
<defs><pattern id=\"hatching\" width=\"1.2\" height=\"1.2\" patternUnits=\"userSpaceOnUse\">\
<path d=\"M0 1.2L1.2 0M-.3 .3L.3 -.3M.9 1.5L1.5 .9\" stroke-width=\"0.25\"/></pattern></defs>\n";

/// A row for each step, its bar solid if it decides the end, hatched if it may wait; what there is to know of it in words on
/// the bar or beside it. A scale of days above.
#[must_use]
pub fn sequence_chart(sequence: &Sequence, name: &str, start: Option<Date>) -> String {
    let rows = sequence.steps.len() + sequence.visits.len();
    let height = HEAD + ROW * rows as f64 + 14.0;
    let days = sequence.days.max(1.0);
    let across = |at: f64| NAMES + at / days * (PAGE - NAMES - 6.0);
    let mut out = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{MADE}\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{PAGE}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {PAGE} {height}\" font-family=\"sans-serif\" font-size=\"3\" role=\"img\">\n<title>Order of work: {0}</title>\n{STYLE}\
         <text x=\"4\" y=\"8\" font-size=\"5\" font-weight=\"bold\">Order of work: {0}</text>\n\
         <text x=\"4\" y=\"14\">solid: decides the end; hatched: may wait as long as it says; “measure”: before anybody goes on</text>\n",
        escaped(name)
    );
    let step_of_marks = [1.0, 2.0, 5.0, 7.0, 14.0, 28.0, 56.0, 112.0, 365.0]
        .into_iter()
        .find(|step| across(*step) - across(0.0) >= LEAST_MARK)
        .unwrap_or(365.0);
    let mut at = 0.0;
    while at <= days {
        let x = across(at);
        let _ = writeln!(out, "<path class=\"day\" d=\"M{x:.2} {HEAD}V{:.2}\"/>", height - 12.0);
        let _ =
            writeln!(out, "<text x=\"{x:.2}\" y=\"{:.2}\" font-size=\"2.6\" text-anchor=\"middle\">{}</text>", HEAD - 2.0, day(at, start));
        at += step_of_marks;
    }
    let mut place = 0;
    let mut number = 0;
    for visit in &sequence.visits {
        let y = HEAD + ROW * place as f64;
        let _ = writeln!(out, "<path class=\"rule\" d=\"M0 {y:.2}H{PAGE}\"/>");
        let _ = writeln!(out, "<text x=\"4\" y=\"{:.2}\" font-weight=\"bold\">{}</text>", y + 4.2, escaped(&visit_title(visit)));
        place += 1;
        for step in sequence.steps.get(visit.steps.clone()).unwrap_or_default() {
            let y = HEAD + ROW * place as f64;
            let (from, to) = (across(step.start), across(step.finish).max(across(step.start) + 0.8));
            number += 1;
            let text = shortened(&format!("{number}  {}", title_of(step)), ((NAMES - 8.0) / SIGN) as usize);
            let _ = writeln!(out, "<text x=\"6\" y=\"{:.2}\">{}</text>", y + 4.2, escaped(&text));
            let _ = writeln!(
                out,
                "<rect class=\"{}\" x=\"{from:.2}\" y=\"{:.2}\" width=\"{:.2}\" height=\"3.8\"><title>{}: {}, {}</title></rect>",
                if step.critical { "solid" } else { "hatched" },
                y + 1.1,
                to - from,
                escaped(&title_of(step)),
                day(step.start, start),
                work(step.takes)
            );
            words(&mut out, &says(step), step.critical, [from, to], y + 4.0);
            place += 1;
        }
    }
    let _ = writeln!(
        out,
        "<text x=\"4\" y=\"{:.2}\">{} days; days on which nobody works come on top.</text>",
        height - 5.0,
        count(sequence.days)
    );
    out.push_str("</svg>\n");
    out
}

/// `7 days after 3; may wait 2 days; measure`.
fn says(step: &Step) -> String {
    let waits = step.after.iter().filter(|wait| wait.days > 0.0).map(|wait| format!("{} after {}", work(wait.days), wait.step + 1));
    let float = (step.float > 0.0).then(|| format!("may wait {}", work(step.float)));
    let measure = (!step.holds.is_empty()).then(|| "measure".to_owned());
    waits.chain(float).chain(measure).collect::<Vec<_>>().join("; ")
}

/// Words on a solid bar that has room for them; else behind it, or before it where the page ends.
fn words(out: &mut String, says: &str, solid: bool, [from, to]: [f64; 2], y: f64) {
    if says.is_empty() {
        return;
    }
    let width = says.chars().count() as f64 * SIGN + 2.0;
    let (class, x, anchor) = if solid && width <= to - from {
        (" class=\"inside\"", from + 1.0, "start")
    } else if to + width <= PAGE - 4.0 {
        ("", to + 1.0, "start")
    } else {
        ("", from - 1.0, "end")
    };
    let _ = writeln!(out, "<text{class} x=\"{x:.2}\" y=\"{y:.2}\" text-anchor=\"{anchor}\">{}</text>", escaped(says));
}

fn shortened(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    text.chars().take(most.saturating_sub(1)).chain(['…']).collect()
}
