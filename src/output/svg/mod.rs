//! A sheet as SVG, in millimetres of the paper: printed at its own size it is to scale.
//!
//! In: a [`Sheet`]. Out: text. Each group says what it is of and what it rolls with, each view where its datum lies
//! and its ratio, so that a program finds the design's numbers again. It must not know how a sheet came about.

use super::xml::{Element, Xml};
use crate::papers::drawing::lettering::FONT_SIZE;
use crate::papers::drawing::{Anchor, Group, Item, LineType, Point, Rect, Sheet, Text, View};
use std::fmt::Write;

/// A whole sheet as a document of its own, with a `mark` in a comment at its head.
#[must_use]
pub fn document(sheet: &Sheet, mark: &str) -> String {
    let mut xml = Xml::document(mark);
    self::sheet(&mut xml, sheet);
    xml.into_text()
}

/// A whole sheet to stand in another document.
#[must_use]
pub fn inline(sheet: &Sheet) -> String {
    let mut xml = Xml::default();
    self::sheet(&mut xml, sheet);
    xml.into_text()
}

fn sheet(xml: &mut Xml, sheet: &Sheet) {
    let paper = Rect { from: [0.0, 0.0], to: [sheet.paper.breadth, sheet.paper.height] };
    picture(xml, paper, &sheet.title).holding(|xml| {
        xml.element("title").text(&sheet.title);
        xml.element("style").text(style());
        for group in &sheet.frame {
            self::group(xml, group);
        }
        for view in &sheet.views {
            self::view(xml, view);
        }
    });
}

/// One view of a sheet to stand in another document, as wide and as high as it is.
#[must_use]
pub fn inline_view(view: &View) -> String {
    inline_within(view, view.bounds())
}

/// As [`inline_view`], with the room that is left for it.
#[must_use]
pub fn inline_within(view: &View, bounds: Rect) -> String {
    let mut xml = Xml::default();
    picture(&mut xml, bounds.grown(2.0), &view.title).holding(|xml| {
        xml.element("style").text(style());
        self::view(xml, view);
    });
    xml.into_text()
}

/// A picture as large as it is on paper.
fn picture<'x>(xml: &'x mut Xml, bounds: Rect, title: &str) -> Element<'x> {
    let ([x, y], breadth, height) = (bounds.from.map(number), number(bounds.breadth()), number(bounds.height()));
    xml.element("svg")
        .with("xmlns", "http://www.w3.org/2000/svg")
        .with("width", format_args!("{breadth}mm"))
        .with("height", format_args!("{height}mm"))
        .with("viewBox", format_args!("{x} {y} {breadth} {height}"))
        .with("class", "sheet")
        .with("role", "img")
        .with("aria-label", title)
}

/// How each sort of line is drawn; ink is `currentColor`, so that a page may choose it. In a page it is about drawings
/// only, whatever else has such a name there.
fn style() -> String {
    let mut css = String::from("svg.sheet{color:#000}svg.sheet path,svg.sheet circle{fill:none;stroke:currentColor;stroke-linecap:butt}");
    for (word, line) in LineType::WORDS {
        let _ = write!(css, "svg.sheet .{word}{{stroke-width:{}", number(line.width()));
        if !line.dashes().is_empty() {
            let dashes: Vec<String> = line.dashes().iter().map(|dash| number(*dash)).collect();
            let _ = write!(css, ";stroke-dasharray:{}", dashes.join(" "));
        }
        css.push('}');
    }
    css.push_str("svg.sheet .fill{fill:currentColor;stroke:none}svg.sheet text{fill:currentColor;font-family:sans-serif}");
    css
}

fn view(xml: &mut Xml, view: &View) {
    let [x, y] = view.origin.map(number);
    xml.element("g")
        .with("class", "view")
        .with("data-view", &view.name)
        .with("data-origin", format_args!("{x} {y}"))
        .with("data-ratio", view.ratio)
        .with("data-travel", view.travel)
        .holding(|xml| {
            for group in &view.groups {
                self::group(xml, group);
            }
        });
}

fn group(xml: &mut Xml, group: &Group) {
    let start = xml.element("g").with("data-of", &group.of).with("data-kind", &group.layer);
    start.with_some("data-moves-with", group.moves_with.as_ref()).holding(|xml| {
        for item in &group.items {
            self::item(xml, item);
        }
    });
}

fn item(xml: &mut Xml, item: &Item) {
    match item {
        Item::Path { points, closed, line } => xml.element("path").with("class", line.word()).with("d", path(points, *closed)).empty(),
        Item::Fill { points } => xml.element("path").with("class", "fill").with("d", path(points, true)).empty(),
        Item::Circle { centre, radius, line } => {
            let [x, y] = centre.map(number);
            xml.element("circle").with("class", line.word()).with("cx", x).with("cy", y).with("r", number(*radius)).empty();
        }
        Item::Text(text) => self::text(xml, text),
    }
}

/// The length of a text is held, so that no font makes it run into its neighbour.
fn text(xml: &mut Xml, text: &Text) {
    let [x, y] = text.at.map(number);
    let anchor = match text.anchor {
        Anchor::Start => None,
        Anchor::Middle => Some("middle"),
        Anchor::End => Some("end"),
    };
    xml.element("text")
        .with("x", &x)
        .with("y", &y)
        .with("font-size", number(text.height * FONT_SIZE))
        .with_some("text-anchor", anchor)
        .with_some("transform", text.turned.then(|| format!("rotate(-90 {x} {y})")))
        .with("textLength", number(text.length()))
        .with("lengthAdjust", "spacingAndGlyphs")
        .text(&text.words);
}

fn path(points: &[Point], closed: bool) -> String {
    let mut out = String::new();
    for (at, [x, y]) in points.iter().enumerate() {
        let _ = write!(out, "{}{} {}", if at == 0 { "M" } else { " L" }, number(*x), number(*y));
    }
    if closed {
        out.push_str(" Z");
    }
    out
}

/// A number to a thousandth, without trailing noughts: finer than any printer.
fn number(x: f64) -> String {
    let text = format!("{x:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}
