//! Lists on a sheet: what is told under each heading, line by line, in columns.
//!
//! In: accounts that name the sheet. Out: views without a scale, one for each sheet that they need.

use super::gather::Missed;
use super::lettering::{self, NORMAL, SMALL};
use super::sheet::{Anchor, Group, Item, Rect, Text, View};
use crate::papers::row::Row;
use crate::values::Evaluator;
use smol_str::SmolStr;

/// From one line to the next, mm.
const LINE: f64 = 3.6;
/// Above a heading, mm.
const ABOVE: f64 = 5.0;
/// The widest column, mm: longer lines are hard to read across.
const WIDEST: f64 = 180.0;
/// Between columns, mm.
const BETWEEN: f64 = 8.0;
/// How far a line that goes on stands in, mm.
const INDENT: f64 = 3.0;

/// What stands under one heading.
pub(super) struct Told {
    heading: String,
    lines: Vec<String>,
}

/// What is told on a sheet, in the order of the papers; lines of one heading come together.
pub(super) fn told(evaluator: &Evaluator, rows: &[&Row], missed: &mut Missed) -> Vec<Told> {
    let mut told: Vec<Told> = Vec::new();
    for row in rows {
        let (heading, lines) = match (row.text("heading"), row.texts("says")) {
            (Ok(Some(heading)), Ok(lines)) => (heading.to_string(), lines.iter().map(ToString::to_string).collect::<Vec<_>>()),
            (Err(lack), _) | (_, Err(lack)) => {
                if let Some(first) = row.subjects().next() {
                    missed.note(evaluator, first, &lack);
                }
                continue;
            }
            (Ok(None), Ok(_)) => continue,
        };
        match told.iter_mut().find(|known| known.heading == heading) {
            Some(known) => known.lines.extend(lines),
            None => told.push(Told { heading, lines }),
        }
    }
    told
}

/// As many views as the lists need in that room.
pub(super) fn views(told: &[Told], room: &Rect) -> Vec<View> {
    let count = (room.breadth() / (WIDEST + BETWEEN)).ceil().max(1.0);
    let width = (room.breadth() - (count - 1.0) * BETWEEN) / count;
    let mut pages: Vec<Vec<Item>> = vec![Vec::new()];
    let [mut x, mut y] = room.from;
    let text = |at, words: &str, height| Item::Text(Text { at, words: words.to_owned(), height, anchor: Anchor::Start, turned: false });
    for list in told {
        let mut written: Vec<(f64, f64, String)> = vec![(0.0, NORMAL, list.heading.clone())];
        for line in &list.lines {
            let pieces = lettering::lines(&line.replace('_', " "), SMALL, width - INDENT);
            written.extend(pieces.into_iter().enumerate().map(|(at, piece)| (if at == 0 { 0.0 } else { INDENT }, SMALL, piece)));
        }
        y += if y > room.from[1] { ABOVE } else { 0.0 };
        for (number, (indent, height, words)) in written.iter().enumerate() {
            // A heading does not stand alone at the foot.
            let wants = if number == 0 { 2.0 * LINE } else { LINE };
            if y + wants > room.to[1] {
                y = room.from[1];
                x += width + BETWEEN;
                if x + width > room.to[0] + 1e-6 {
                    x = room.from[0];
                    pages.push(Vec::new());
                }
            }
            y += LINE;
            if let Some(page) = pages.last_mut() {
                page.push(text([x + indent, y], words, *height));
            }
        }
    }
    let view = |items| {
        let group = Group { of: SmolStr::new_static("list"), layer: SmolStr::new_static("list"), moves_with: None, items };
        View { name: SmolStr::new_static("list"), title: String::new(), origin: room.from, ratio: 0.0, travel: 0.0, groups: vec![group] }
    };
    pages.into_iter().filter(|page| !page.is_empty()).map(view).collect()
}
