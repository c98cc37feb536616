//! Circuits, contact by contact: a rung for each coil between two rails, as ladder diagrams of IEC 61131-3 are drawn.
//!
//! In: pictures whose shape is a `rung`. Out: views without a scale, one for each sheet that they need.

use super::gather::Missed;
use super::lettering::{self, NORMAL, SMALL};
use super::sheet::{Anchor, Group, Item, LineType, Point, Rect, Text, View};
use crate::formulas::{Table, table};
use crate::papers::row::Row;
use crate::values::{Evaluator, Value};
use smol_str::SmolStr;

/// From one row of a circuit to the next, mm: name above, terminals below.
const ROW: f64 = 15.0;
/// Above the first row and below the last, mm.
const ABOVE: f64 = 8.0;
/// The widest column, mm.
const WIDEST: f64 = 34.0;
/// What the coil and the wires at both ends take, mm.
const COIL: f64 = 46.0;
/// Between the strokes of a contact, and their length, mm.
const OPENING: f64 = 3.0;
const STROKE: f64 = 5.0;
/// Half the breadth of a coil, mm.
const ROUND: f64 = 3.2;
/// Between a line and a text beside it, mm.
const AIR: f64 = 1.0;

/// The circuits of the pictures, in their order.
pub(super) fn rungs(evaluator: &Evaluator, rows: &[&Row], sheet: &SmolStr, missed: &mut Missed) -> Vec<table::Rung> {
    let mut rungs = Vec::new();
    for row in rows.iter().filter(|row| row.paper.words("sheet").into_iter().any(|word| word == sheet)) {
        let Some(first) = row.subjects().next() else { continue };
        match row.value("shape") {
            Some(Ok(Value::Record(record))) => rungs.extend(table::Rung::of_record(&record)),
            Some(Err(lack)) => missed.note(evaluator, first, &lack),
            Some(Ok(_)) | None => {}
        }
    }
    rungs
}

/// As many views as the circuits need in that room.
pub(super) fn views(rungs: &[table::Rung], room: &Rect) -> Vec<View> {
    let columns = rungs.iter().map(|rung| rung.columns).fold(1.0, f64::max);
    let width = ((room.breadth() - COIL) / columns).min(WIDEST);
    let mut pages: Vec<Vec<Group>> = Vec::new();
    let mut top = f64::INFINITY;
    let right = room.from[0] + COIL / 2.0 + columns * width + COIL / 2.0;
    let mut ends: Vec<f64> = Vec::new();
    for rung in rungs {
        let height = ABOVE + rung.rows * ROW;
        if top + height > room.to[1] {
            pages.push(Vec::new());
            ends.push(room.from[1]);
            top = room.from[1];
        }
        let drawn = Drawn { left: room.from[0], right, top: top + ABOVE, width };
        let group = Group { of: rung.coil.name.clone(), layer: SmolStr::new_static("circuit"), moves_with: None, items: drawn.rung(rung) };
        if let (Some(page), Some(end)) = (pages.last_mut(), ends.last_mut()) {
            page.push(group);
            *end = top + height;
        }
        top += height;
    }
    let view = |(mut groups, end): (Vec<Group>, f64)| {
        let rail = |x: f64, name: &str| {
            [Item::segment([x, room.from[1]], [x, end], LineType::Outline), text([x, room.from[1] - AIR], name, SMALL, Anchor::Middle)]
        };
        let items = rail(room.from[0], "1").into_iter().chain(rail(right, "2")).collect();
        groups.insert(0, Group { of: SmolStr::new_static("rails"), layer: SmolStr::new_static("circuit"), moves_with: None, items });
        View { name: SmolStr::new_static("circuit"), title: String::new(), origin: room.from, ratio: 0.0, travel: 0.0, groups }
    };
    pages.into_iter().zip(ends).map(view).collect()
}

/// Where a circuit is drawn, mm.
struct Drawn {
    left: f64,
    right: f64,
    top: f64,
    width: f64,
}

impl Drawn {
    fn x(&self, column: f64) -> f64 {
        self.left + COIL / 2.0 + column * self.width
    }

    fn y(&self, row: f64) -> f64 {
        self.top + row * ROW
    }

    fn rung(&self, rung: &table::Rung) -> Vec<Item> {
        let mut items = Vec::new();
        let wire = |from: Point, to: Point| Item::segment(from, to, LineType::Outline);
        items.push(wire([self.left, self.y(0.0)], [self.x(0.0), self.y(0.0)]));
        for upright in &rung.uprights {
            items.push(wire([self.x(upright.column), self.y(upright.from)], [self.x(upright.column), self.y(upright.to)]));
        }
        for contact in &rung.contacts {
            self.contact(contact, rung, &mut items);
        }
        let coil = [self.right - COIL / 4.0, self.y(0.0)];
        items.push(wire([self.x(rung.columns), coil[1]], [coil[0] - ROUND, coil[1]]));
        items.push(wire([coil[0] + ROUND, coil[1]], [self.right, coil[1]]));
        for side in [-1.0, 1.0] {
            let points = (-4..=4).map(|step| {
                let turn = f64::from(step) / 4.0 * 0.9;
                [coil[0] + side * ROUND * turn.cos(), coil[1] + ROUND * 1.2 * turn.sin()]
            });
            items.push(Item::Path { points: points.collect(), closed: false, line: LineType::Outline });
        }
        items.push(text([coil[0], coil[1] + SMALL / 2.0], &rung.coil.letter, SMALL, Anchor::Middle));
        items.push(text([coil[0], coil[1] - STROKE / 2.0 - AIR], &rung.coil.name.replace('_', " "), NORMAL, Anchor::Middle));
        let mut below = coil[1] + STROKE / 2.0 + AIR + SMALL;
        let says = rung.coil.says.replace('_', " ");
        for words in std::iter::once("A1, A2".to_owned()).chain(lettering::lines(&says, SMALL, COIL / 2.0)) {
            items.push(text([coil[0], below], &words, SMALL, Anchor::Middle));
            below += SMALL * 1.4;
        }
        items
    }

    fn contact(&self, contact: &table::PlacedContact, rung: &table::Rung, items: &mut Vec<Item>) {
        let (from, to, y) = (self.x(contact.column), self.x(contact.column + contact.columns), self.y(contact.row));
        let middle = from + self.width / 2.0;
        let wire = |from: Point, to: Point| Item::segment(from, to, LineType::Outline);
        items.push(wire([from, y], [middle - OPENING / 2.0, y]));
        items.push(wire([middle + OPENING / 2.0, y], [to, y]));
        for x in [middle - OPENING / 2.0, middle + OPENING / 2.0] {
            items.push(wire([x, y - STROKE / 2.0], [x, y + STROKE / 2.0]));
        }
        if contact.inverted {
            items.push(wire([middle - OPENING, y + STROKE / 2.0], [middle + OPENING, y - STROKE / 2.0]));
        }
        let name = lettering::lines(&contact.name.replace('_', " "), SMALL, self.width - 2.0 * AIR);
        let mut above = y - STROKE / 2.0 - AIR;
        for words in name.iter().rev() {
            items.push(text([middle, above], words, SMALL, Anchor::Middle));
            above -= SMALL * 1.4;
        }
        let mut below = y + STROKE / 2.0 + AIR + SMALL;
        for words in lettering::lines(&contact.below.replace('_', " "), SMALL, self.width - 2.0 * AIR) {
            items.push(text([middle, below], &words, SMALL, Anchor::Middle));
            below += SMALL * 1.4;
        }
        // Each wire has its number once in a row: at the right of a contact.
        let ends_here = (contact.right - rung.wire).abs() > 0.5 || contact.row < 0.5;
        if ends_here {
            items.push(text([to - AIR, y - AIR], &format!("{:.0}", contact.right), SMALL, Anchor::End));
        }
    }
}

fn text(at: Point, words: &str, height: f64, anchor: Anchor) -> Item {
    Item::Text(Text { at, words: words.to_owned(), height, anchor, turned: false })
}
