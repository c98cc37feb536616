//! A sheet as DXF, at full size in the author's units, for those who draw on.
//!
//! In: a [`Sheet`]. Out: text in the oldest dialect that every drawing program reads (AC1009, ASCII). The datum of
//! the first view is the origin; a layer holds what is of one kind and drawn with one sort of line, `WALL-CUT`. Where several views are
//! on a sheet, a point on a layer of its own, `DATUM_OPEN-THIN`, is the datum of each.
//! All is one ink: the sorts of lines are told apart by their names and by the line types of ISO 128.
//! Source: the published DXF reference, group codes of AC1009.

use crate::papers::drawing::{Anchor, Group, Item, LineType, Point, Sheet, Text};
use crate::units::System;
use std::collections::BTreeMap;
use std::fmt::Write;

/// The colour by number (the DXF reference's index) that is black on white and white on black.
const INK: u8 = 7;
/// Sides of a filled shape that a SOLID can have.
const SOLID: usize = 4;

/// A whole sheet as a document, with a `mark` in a comment at its head.
#[must_use]
pub fn document(sheet: &Sheet, system: System, mark: &str) -> String {
    let times = sheet.scale.map_or(1.0, |scale| scale.times);
    let unit = if system == System::Us { 25.4 } else { 1.0 };
    let origin = sheet.views.first().map_or([0.0, 0.0], |view| view.origin);
    let mut writer = Writer { entities: String::new(), layers: BTreeMap::new(), factor: times / unit, origin };
    for group in sheet.frame.iter().chain(sheet.views.iter().flat_map(|view| &view.groups)) {
        group.items.iter().for_each(|item| writer.item(group, item));
    }
    for view in sheet.views.iter().filter(|_| sheet.views.len() > 1) {
        writer.datum(&view.name, view.origin);
    }
    let mut out = String::new();
    put(&mut out, 999, mark);
    section(&mut out, "HEADER", |out| {
        put(out, 9, "$ACADVER");
        put(out, 1, "AC1009");
        put(out, 9, "$INSUNITS");
        put(out, 70, if system == System::Us { "1" } else { "4" });
        put(out, 9, "$LTSCALE");
        put(out, 40, "1.0");
    });
    section(&mut out, "TABLES", |out| writer.tables(out));
    section(&mut out, "ENTITIES", |out| out.push_str(&writer.entities));
    put(&mut out, 0, "EOF");
    out
}

fn put(out: &mut String, code: u16, value: &str) {
    let _ = write!(out, "{code:3}\n{value}\n");
}

fn section(out: &mut String, name: &str, fill: impl FnOnce(&mut String)) {
    put(out, 0, "SECTION");
    put(out, 2, name);
    fill(out);
    put(out, 0, "ENDSEC");
}

struct Writer {
    entities: String,
    /// Line type of each layer.
    layers: BTreeMap<String, &'static str>,
    /// Units of the drawing for a millimetre of the paper.
    factor: f64,
    origin: Point,
}

impl Writer {
    fn tables(&self, out: &mut String) {
        let table = |out: &mut String, name: &str, count: usize| {
            put(out, 0, "TABLE");
            put(out, 2, name);
            put(out, 70, &count.to_string());
        };
        table(out, "LTYPE", LineType::WORDS.len() + 1);
        self.line_type(out, "CONTINUOUS", "continuous", &[]);
        for (_, line) in LineType::WORDS {
            let (name, says) = line_type(line);
            self.line_type(out, name, says, line.dashes());
        }
        put(out, 0, "ENDTAB");
        table(out, "LAYER", self.layers.len() + 1);
        let nought = [("0".to_owned(), "CONTINUOUS")];
        for (name, line) in nought.iter().map(|(name, line)| (name, line)).chain(&self.layers) {
            put(out, 0, "LAYER");
            put(out, 2, name);
            put(out, 70, "0");
            put(out, 62, &INK.to_string());
            put(out, 6, line);
        }
        put(out, 0, "ENDTAB");
        table(out, "STYLE", 1);
        for (code, value) in [(0, "STYLE"), (2, "STANDARD"), (70, "0"), (40, "0.0"), (41, "1.0"), (50, "0.0"), (71, "0"), (42, "2.5")] {
            put(out, code, value);
        }
        // The format's own word for the plain lettering of whatever reads it.
        put(out, 3, "txt");
        put(out, 4, "");
        put(out, 0, "ENDTAB");
    }

    fn line_type(&self, out: &mut String, name: &str, says: &str, dashes: &[f64]) {
        put(out, 0, "LTYPE");
        put(out, 2, name);
        put(out, 70, "0");
        put(out, 3, says);
        put(out, 72, "65");
        put(out, 73, &dashes.len().to_string());
        put(out, 40, &number(dashes.iter().sum::<f64>() * self.factor));
        for (at, dash) in dashes.iter().enumerate() {
            put(out, 49, &number(if at % 2 == 0 { *dash } else { -*dash } * self.factor));
        }
    }

    fn layer(&mut self, group: &Group, line: LineType) -> String {
        let name = layer_name(&group.layer, line.word());
        self.layers.insert(name.clone(), line_type(line).0);
        name
    }

    fn begin(&mut self, sort: &str, layer: &str) {
        put(&mut self.entities, 0, sort);
        put(&mut self.entities, 8, layer);
    }

    /// A point by its group codes: 10 and 20, 11 and 21, …
    fn point(&mut self, code: u16, [x, y]: Point) {
        let (x, y) = ((x - self.origin[0]) * self.factor, (self.origin[1] - y) * self.factor);
        put(&mut self.entities, code, &number(x));
        put(&mut self.entities, code + 10, &number(y));
    }

    /// The place from which a view is measured.
    fn datum(&mut self, view: &str, at: Point) {
        let line = LineType::Thin;
        let layer = layer_name(&format!("datum_{view}"), line.word());
        self.layers.insert(layer.clone(), line_type(line).0);
        self.begin("POINT", &layer);
        self.point(10, at);
    }

    fn item(&mut self, group: &Group, item: &Item) {
        match item {
            Item::Path { points, closed: false, line } if points.len() == 2 => {
                let layer = self.layer(group, *line);
                self.begin("LINE", &layer);
                for (code, point) in [10, 11].into_iter().zip(points) {
                    self.point(code, *point);
                }
            }
            Item::Path { points, closed, line } => {
                let layer = self.layer(group, *line);
                self.begin("POLYLINE", &layer);
                put(&mut self.entities, 66, "1");
                put(&mut self.entities, 70, if *closed { "1" } else { "0" });
                put(&mut self.entities, 10, "0.0");
                put(&mut self.entities, 20, "0.0");
                for point in points {
                    self.begin("VERTEX", &layer);
                    self.point(10, *point);
                }
                self.begin("SEQEND", &layer);
            }
            Item::Circle { centre, radius, line } => {
                let layer = self.layer(group, *line);
                self.begin("CIRCLE", &layer);
                self.point(10, *centre);
                put(&mut self.entities, 40, &number(radius * self.factor));
            }
            Item::Fill { points } => {
                let layer = self.layer(group, LineType::Thin);
                // A fan of triangles; the third corner stands twice.
                let Some(first) = points.first() else { return };
                for pair in points.windows(2).skip(1) {
                    self.begin("SOLID", &layer);
                    let corners = [Some(first), pair.first(), pair.get(1), pair.get(1)];
                    for (code, corner) in (10..).zip(corners.into_iter().flatten()).take(SOLID) {
                        self.point(code, *corner);
                    }
                }
            }
            Item::Text(text) => self.text(group, text),
        }
    }

    fn text(&mut self, group: &Group, text: &Text) {
        let layer = layer_name(&group.layer, "text");
        self.layers.insert(layer.clone(), "CONTINUOUS");
        self.begin("TEXT", &layer);
        self.point(10, text.at);
        put(&mut self.entities, 40, &number(text.height * self.factor));
        put(&mut self.entities, 1, &coded(&text.words));
        if text.turned {
            put(&mut self.entities, 50, "90.0");
        }
        let place = match text.anchor {
            Anchor::Start => return,
            Anchor::Middle => "1",
            Anchor::End => "2",
        };
        put(&mut self.entities, 72, place);
        self.point(11, text.at);
    }
}

/// Name of a line type and what it is. The numbers are those of ISO 128-2:2020: the sort of dashes, then 1 narrow, 2 wide,
/// 3 extra wide (from memory).
fn line_type(line: LineType) -> (&'static str, &'static str) {
    match line {
        LineType::Cut => ("CUT", "ISO 128 01.3 continuous, extra wide"),
        LineType::Outline => ("OUTLINE", "ISO 128 01.2 continuous, wide"),
        LineType::Thin => ("THIN", "ISO 128 01.1 continuous, narrow"),
        LineType::Hidden => ("HIDDEN", "ISO 128 02.1 dashed, narrow"),
        LineType::Centre => ("CENTRE", "ISO 128 04.1 long-dashed dotted, narrow"),
        LineType::Moved => ("MOVED", "ISO 128 05.1 long-dashed double-dotted, narrow"),
    }
}

/// What the dialect allows in a name: capitals, digits, `$`, `_`, `-`, at most 31.
fn layer_name(kind: &str, how: &str) -> String {
    let plain = |c: char| if c.is_ascii_alphanumeric() { c.to_ascii_uppercase() } else { '_' };
    let how: String = how.chars().map(plain).collect();
    let kind: String = kind.chars().map(plain).take(30 - how.len()).collect();
    format!("{kind}-{how}")
}

/// Signs beyond ASCII as the reference codes them.
fn coded(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '±' => out.push_str("%%p"),
            '°' => out.push_str("%%d"),
            c if c.is_ascii_control() => {}
            c if c.is_ascii() => out.push(c),
            c => {
                let _ = write!(out, "\\U+{:04X}", u32::from(c));
            }
        }
    }
    out
}

fn number(x: f64) -> String {
    let text = format!("{x:.6}");
    let text = text.trim_end_matches('0');
    match text.strip_suffix('.') {
        Some("-0") => "0.0".to_owned(),
        Some(whole) => format!("{whole}.0"),
        None => text.to_owned(),
    }
}
