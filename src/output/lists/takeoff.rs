//! What to buy.

use super::markdown::{cell, head, row};
use super::{MADE, names, unknown};
use crate::output::text::{Look, Tone};
use crate::output::xml::comment;
use crate::papers::takeoff::{Bars, Cut, Cutting, Number, Purchase, Takeoff};
use crate::session::LAST_WORD;
use crate::trade::says;
use smol_str::SmolStr;
use std::fmt::Write;

/// The first row of the table for a spreadsheet, by which it is known for ours.
pub const CSV_HEAD: &str = "row,group,item,count,each,for,price,cost,note";

/// For people at a terminal.
#[must_use]
pub fn takeoff_text(takeoff: &Takeoff, look: &Look) -> String {
    let mut out = String::new();
    for group in &takeoff.groups {
        let _ = writeln!(out, "{}", look.paint(Tone::Strong, &look.tame(&group.name)));
        for line in &group.lines {
            let number = buy(line);
            out.push_str(&look.wrap("  ", "      ", 6, &format!("{number}  {}", line.item)));
            let mut fact = |key: &str, text: &str| {
                out.push_str(&look.wrap(&format!("      {}  ", look.paint(Tone::Quiet, &format!("{key:<7}"))), &" ".repeat(15), 15, text))
            };
            fact("for", &uses(line));
            if let Some(cutting) = &line.cutting {
                for bars in &cutting.bars {
                    fact("cut", &cuts(bars));
                }
                for cut in &cutting.too_long {
                    fact("order", &to_order(cut));
                }
                fact("saw", &verdict(cutting));
            }
            if let Some(cost) = line.cost {
                fact("cost", &money(cost));
            }
            for note in &line.notes {
                fact("note", note);
            }
            for caution in &line.cautions {
                fact("caution", caution);
            }
        }
        out.push('\n');
    }
    if !takeoff.unknown.is_empty() {
        let _ = writeln!(out, "{}", look.paint(Tone::Open, "not known"));
        for one in &takeoff.unknown {
            out.push_str(&look.wrap("  ", "      ", 6, &unknown(one)));
        }
        out.push('\n');
    }
    out.push_str(&look.paragraph(0, &total(takeoff)));
    out.push_str(&look.paragraph(0, LAST_WORD));
    out
}

/// Tables for a page.
#[must_use]
pub fn takeoff_markdown(takeoff: &Takeoff, name: &str) -> String {
    let mut out = format!("{}\n# What to buy: {}\n", comment(MADE), cell(name));
    for group in &takeoff.groups {
        let _ = write!(out, "\n## {}\n\n{}", cell(&group.name), head(&["buy", "item", "for", "cost", "note"]));
        for line in &group.lines {
            let notes: Vec<&str> = line.notes.iter().chain(&line.cautions).map(SmolStr::as_str).collect();
            let cost = line.cost.map_or_else(String::new, money);
            out.push_str(&row([buy(line).as_str(), &line.item, &uses(line), &cost, &notes.join("; ")]));
        }
        for line in &group.lines {
            let Some(cutting) = &line.cutting else { continue };
            let _ = write!(out, "\nCuts from {}\n\n{}", cell(&line.item), head(&["bars", "length", "cut into", "left"]));
            for bars in &cutting.bars {
                out.push_str(&row([bars.times.to_string().as_str(), &bars.length.text, &pieces(bars), &bars.left.text]));
            }
            for cut in &cutting.too_long {
                out.push_str(&row([cut.times.to_string().as_str(), &cut.length.text, &to_order(cut), ""]));
            }
            let _ = write!(out, "\n{}\n", cell(&verdict(cutting)));
        }
    }
    if !takeoff.unknown.is_empty() {
        out.push_str("\n## Not known\n\n");
        for one in &takeoff.unknown {
            let _ = writeln!(out, "- {}", cell(&unknown(one)));
        }
    }
    let _ = write!(out, "\n{}\n\n{}\n", cell(&total(takeoff)), cell(LAST_WORD));
    out
}

/// For a spreadsheet (RFC 4180): a row for each thing to buy (`buy`), each sort of bar (`cut`), and what is not known (`unknown`).
#[must_use]
pub fn takeoff_csv(takeoff: &Takeoff) -> String {
    let mut table = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let mut write = |cells: [&str; 9]| {
        // Into memory: nothing can stand in the way.
        let _ = table.write_record(cells.map(harmless));
    };
    let columns: Vec<&str> = CSV_HEAD.split(',').collect();
    if let Ok(head) = <[&str; 9]>::try_from(columns) {
        write(head);
    }
    for group in &takeoff.groups {
        for line in &group.lines {
            let price = line.price.as_ref().map_or_else(String::new, |price| format!("{}", price.quantity.si));
            let cost = line.cost.map_or_else(String::new, |cost| format!("{cost:.2}"));
            let notes: Vec<&str> = line.notes.iter().chain(&line.cautions).map(SmolStr::as_str).collect();
            for (at, (count, each)) in amounts(line).iter().enumerate() {
                let first = at == 0;
                write([
                    "buy",
                    &group.name,
                    &line.item,
                    count,
                    each,
                    &uses(line),
                    if first { &price } else { "" },
                    if first { &cost } else { "" },
                    &if first { notes.join("; ") } else { String::new() },
                ]);
            }
            for bars in line.cutting.iter().flat_map(|cutting| &cutting.bars) {
                write([
                    "cut",
                    &group.name,
                    &line.item,
                    &bars.times.to_string(),
                    &bars.length.text,
                    &pieces(bars),
                    "",
                    "",
                    &format!("left {}", bars.left.text),
                ]);
            }
        }
    }
    for one in &takeoff.unknown {
        write(["unknown", "", &one.what, "", "", &names(&one.of), "", "", &one.help()]);
    }
    table.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}

/// A text that a spreadsheet does not take for a formula.
fn harmless(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@']) && text.parse::<f64>().is_err() { format!("'{text}") } else { text.to_owned() }
}

/// How many of what size, a row for each length that is bought.
fn amounts(line: &Purchase) -> Vec<(String, String)> {
    match &line.number {
        Number::Pieces(count) => vec![(count.to_string(), "piece".to_owned())],
        Number::Amount(amount) => vec![("1".to_owned(), amount.text.clone())],
        Number::Packs { count, packed_in, .. } => vec![(count.to_string(), packed_in.to_string())],
        Number::Lengths(lengths) => lengths.iter().map(|(times, length)| (times.to_string(), length.text.clone())).collect(),
    }
}

pub(in crate::output) fn buy(line: &Purchase) -> String {
    match &line.number {
        Number::Pieces(count) => count.to_string(),
        Number::Amount(amount) => amount.text.clone(),
        Number::Packs { count, packed_in, amount, .. } => format!("{} = {count} × {packed_in}", amount.text),
        Number::Lengths(lengths) => {
            lengths.iter().map(|(times, length)| format!("{times} × {}", length.text)).collect::<Vec<_>>().join(", ")
        }
    }
}

/// `2 each east_plate, west_plate: 3 m; 4 x door`: those that need the same, together.
pub(in crate::output) fn uses(line: &Purchase) -> String {
    let mut alike: Vec<(u64, Option<&str>, Vec<SmolStr>)> = Vec::new();
    for one in &line.uses {
        let each = one.each.as_ref().map(|each| each.text.as_str());
        match alike.iter_mut().find(|(count, known, _)| *count == one.count && *known == each) {
            Some((_, _, of)) => of.push(one.of.clone()),
            None => alike.push((one.count, each, vec![one.of.clone()])),
        }
    }
    let shown = alike.into_iter().map(|(count, each, of)| match (count, each) {
        (1, None) => names(&of),
        (count, None) => format!("{}: {count}{}", names(&of), if of.len() > 1 { " each" } else { "" }),
        (1, Some(each)) => format!("{}: {each}{}", names(&of), if of.len() > 1 { " each" } else { "" }),
        (count, Some(each)) => format!("{}: {count} × {each}{}", names(&of), if of.len() > 1 { " each" } else { "" }),
    });
    shown.collect::<Vec<_>>().join("; ")
}

/// `2 × 1.7 m (east_wall) + 0.9 m (door)`
fn pieces(bars: &Bars) -> String {
    let piece = |cut: &Cut| {
        let times = if cut.times == 1 { String::new() } else { format!("{} × ", cut.times) };
        format!("{times}{} ({})", cut.length.text, names(&cut.of))
    };
    bars.cuts.iter().map(piece).collect::<Vec<_>>().join(" + ")
}

pub(in crate::output) fn cuts(bars: &Bars) -> String {
    let times = if bars.times == 1 { String::new() } else { format!("{} × ", bars.times) };
    let left = if bars.left.quantity.si > 0.0 { format!(", {} left", bars.left.text) } else { String::new() };
    format!("{times}{} into {}{left}", bars.length.text, pieces(bars))
}

pub(in crate::output) fn to_order(cut: &Cut) -> String {
    format!("{} × {} for {}: longer than what is sold", cut.times, cut.length.text, names(&cut.of))
}

pub(in crate::output) fn verdict(cutting: &Cutting) -> String {
    let bars: u64 = cutting.bars.iter().map(|bars| bars.times).sum();
    if bars == 0 {
        return format!("nothing that is sold is long enough; {} to be ordered", cutting.bought.text);
    }
    let proof = if cutting.proven {
        "no list of cuts buys less".to_owned()
    } else {
        format!("the best that was found; no list of cuts buys less than {}", cutting.bound.text)
    };
    format!(
        "{} bought, {:.0} % left over or sawn away at {} a cut; {proof}",
        cutting.bought.text,
        cutting.waste * 100.0,
        cutting.saw_cut.text
    )
}

pub(in crate::output) fn money(cost: f64) -> String {
    format!("{cost:.2}")
}

pub(in crate::output) fn total(takeoff: &Takeoff) -> String {
    match takeoff.cost() {
        (_, open) if takeoff.groups.iter().flat_map(|group| &group.lines).count() == open => says::NO_PRICES.to_owned(),
        (cost, 0) => format!("All together {}.", money(cost)),
        (cost, open) => format!("What has a price costs {} together; {open} lines have none.", money(cost)),
    }
}
