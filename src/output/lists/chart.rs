//! The order of work as a bar chart: SVG 1.1.

use super::order::{title_of, visit_title};
use super::{MADE, count, day, escaped, work};
use crate::sequence::Sequence;
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

/// A bar for each step, the deciding ones dark, what each waits for as a line, a scale of days above.
#[must_use]
pub fn sequence_chart(sequence: &Sequence, name: &str, start: Option<Date>) -> String {
    let rows = sequence.steps.len() + sequence.visits.len();
    let height = HEAD + ROW * rows as f64 + 14.0;
    let days = sequence.days.max(1.0);
    let across = |at: f64| NAMES + at / days * (PAGE - NAMES - 6.0);
    let mut out = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{MADE}\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{PAGE}mm\" height=\"{height}mm\" \
         viewBox=\"0 0 {PAGE} {height}\" font-family=\"sans-serif\" font-size=\"3\" role=\"img\">\n<title>Order of work: {0}</title>\n\
         <rect width=\"{PAGE}\" height=\"{height}\" fill=\"#fff\"/>\n<text x=\"4\" y=\"8\" font-size=\"5\" font-weight=\"bold\">Order of work: {0}</text>\n\
         <text x=\"4\" y=\"14\">dark: decides the end; light: may wait as far as the thin line; hollow mark: measure before going on</text>\n",
        escaped(name)
    );
    let step_of_marks = [1.0, 2.0, 5.0, 7.0, 14.0, 28.0, 56.0, 112.0, 365.0]
        .into_iter()
        .find(|step| across(*step) - across(0.0) >= LEAST_MARK)
        .unwrap_or(365.0);
    let mut at = 0.0;
    while at <= days {
        let x = across(at);
        let _ = writeln!(out, "<path d=\"M{x:.2} {HEAD}V{:.2}\" stroke=\"#bbb\" stroke-width=\"0.15\"/>", height - 12.0);
        let _ =
            writeln!(out, "<text x=\"{x:.2}\" y=\"{:.2}\" font-size=\"2.6\" text-anchor=\"middle\">{}</text>", HEAD - 2.0, day(at, start));
        at += step_of_marks;
    }
    let mut place = 0;
    let mut ends = Vec::with_capacity(sequence.steps.len());
    let mut links = String::new();
    for visit in &sequence.visits {
        let y = HEAD + ROW * place as f64;
        let _ = writeln!(out, "<rect x=\"0\" y=\"{y:.2}\" width=\"{PAGE}\" height=\"{ROW}\" fill=\"#000\" fill-opacity=\"0.06\"/>");
        let _ = writeln!(out, "<text x=\"4\" y=\"{:.2}\" font-weight=\"bold\">{}</text>", y + 4.2, escaped(&visit_title(visit)));
        place += 1;
        for step in sequence.steps.get(visit.steps.clone()).unwrap_or_default() {
            let y = HEAD + ROW * place as f64;
            let (from, to) = (across(step.start), across(step.finish).max(across(step.start) + 0.8));
            let number = ends.len() + 1;
            let text = shortened(&format!("{number}  {}", title_of(step)), ((NAMES - 8.0) / SIGN) as usize);
            let _ = writeln!(out, "<text x=\"6\" y=\"{:.2}\">{}</text>", y + 4.2, escaped(&text));
            let fill = if step.critical { "#7a1f1f" } else { "#8fb3d1" };
            let _ = writeln!(
                out,
                "<rect x=\"{from:.2}\" y=\"{:.2}\" width=\"{:.2}\" height=\"3.6\" fill=\"{fill}\" stroke=\"#222\" stroke-width=\"0.2\"><title>{}: {}, {}</title></rect>",
                y + 1.2,
                to - from,
                escaped(&title_of(step)),
                day(step.start, start),
                work(step.takes)
            );
            if step.float > 0.0 {
                let _ = writeln!(
                    out,
                    "<path d=\"M{to:.2} {0:.2}H{1:.2}\" stroke=\"#8fb3d1\" stroke-width=\"0.5\"/>",
                    y + 3.0,
                    across(step.finish + step.float)
                );
            }
            if !step.holds.is_empty() {
                let _ = writeln!(
                    out,
                    "<circle cx=\"{:.2}\" cy=\"{:.2}\" r=\"1.1\" fill=\"#fff\" stroke=\"#222\" stroke-width=\"0.3\"/>",
                    to,
                    y + 3.0
                );
            }
            for wait in step.after.iter().filter(|wait| wait.days > 0.0) {
                let Some((x, before)) = ends.get(wait.step) else { continue };
                let _ = writeln!(
                    links,
                    "<path d=\"M{x:.2} {before:.2}V{0:.2}H{from:.2}\" fill=\"none\" stroke=\"#555\" stroke-width=\"0.2\" stroke-dasharray=\"1 0.8\"/>",
                    y + 3.0
                );
            }
            ends.push((to, y + 3.0));
            place += 1;
        }
    }
    out.push_str(&links);
    let _ = writeln!(
        out,
        "<text x=\"4\" y=\"{:.2}\">dashed: time that has to pass, like curing. {} days; days on which nobody works come on top.</text>",
        height - 5.0,
        count(sequence.days)
    );
    out.push_str("</svg>\n");
    out
}

fn shortened(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    text.chars().take(most.saturating_sub(1)).chain(['…']).collect()
}
