//! A sheet as SVG, in millimetres of the paper: printed at its own size it is to scale.
//!
//! In: a [`Sheet`]. Out: text. Each group says what it is of and what it rolls with, each view where its datum lies
//! and its ratio, so that a program finds the design's numbers again. It must not know how a sheet came about.

use crate::papers::drawing::lettering::FONT_SIZE;
use crate::papers::drawing::{Anchor, Group, Item, LineType, Point, Rect, Sheet, Text, View};
use std::fmt::Write;

/// A whole sheet as a document of its own, with a `mark` in a comment at its head.
#[must_use]
pub fn document(sheet: &Sheet, mark: &str) -> String {
    let mut out = format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<!-- {mark} -->\n");
    out.push_str(&inline(sheet));
    out
}

/// A whole sheet to stand in another document.
#[must_use]
pub fn inline(sheet: &Sheet) -> String {
    let (breadth, height) = (number(sheet.paper.breadth), number(sheet.paper.height));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{breadth}mm\" height=\"{height}mm\" viewBox=\"0 0 {breadth} {height}\" \
         class=\"sheet\" role=\"img\" aria-label=\"{}\">\n<title>{}</title>\n{}",
        escaped(&sheet.title),
        escaped(&sheet.title),
        style()
    );
    for group in &sheet.frame {
        self::group(&mut out, group);
    }
    for view in &sheet.views {
        self::view(&mut out, view);
    }
    out.push_str("</svg>\n");
    out
}

/// One view of a sheet to stand in another document, as wide and as high as it is.
#[must_use]
pub fn inline_view(view: &View) -> String {
    inline_within(view, view.bounds())
}

/// As [`inline_view`], with the room that is left for it.
#[must_use]
pub fn inline_within(view: &View, bounds: Rect) -> String {
    let bounds = bounds.grown(2.0);
    let (breadth, height) = (number(bounds.breadth()), number(bounds.height()));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{breadth}mm\" height=\"{height}mm\" viewBox=\"{} {} {breadth} {height}\" \
         class=\"sheet\" role=\"img\" aria-label=\"{}\">\n{}",
        number(bounds.from[0]),
        number(bounds.from[1]),
        escaped(&view.title),
        style()
    );
    self::view(&mut out, view);
    out.push_str("</svg>\n");
    out
}

/// How each sort of line is drawn; ink is `currentColor`, so that a page may choose it. In a page it is about drawings
/// only, whatever else has such a name there.
#[must_use]
pub fn style() -> String {
    let mut out =
        String::from("<style>svg.sheet{color:#000}svg.sheet path,svg.sheet circle{fill:none;stroke:currentColor;stroke-linecap:butt}");
    for (word, line) in LineType::WORDS {
        let _ = write!(out, "svg.sheet .{word}{{stroke-width:{}", number(line.width()));
        if !line.dashes().is_empty() {
            let dashes: Vec<String> = line.dashes().iter().map(|dash| number(*dash)).collect();
            let _ = write!(out, ";stroke-dasharray:{}", dashes.join(" "));
        }
        out.push('}');
    }
    out.push_str("svg.sheet .fill{fill:currentColor;stroke:none}svg.sheet text{fill:currentColor;font-family:sans-serif}</style>\n");
    out
}

fn view(out: &mut String, view: &View) {
    let [x, y] = view.origin;
    let _ = writeln!(
        out,
        "<g class=\"view\" data-view=\"{}\" data-origin=\"{} {}\" data-ratio=\"{}\" data-travel=\"{}\">",
        escaped(&view.name),
        number(x),
        number(y),
        figures(view.ratio),
        figures(view.travel)
    );
    for group in &view.groups {
        self::group(out, group);
    }
    out.push_str("</g>\n");
}

fn group(out: &mut String, group: &Group) {
    let _ = write!(out, "<g data-of=\"{}\" data-kind=\"{}\"", escaped(&group.of), escaped(&group.layer));
    if let Some(roof) = &group.moves_with {
        let _ = write!(out, " data-moves-with=\"{}\"", escaped(roof));
    }
    out.push_str(">\n");
    for item in &group.items {
        self::item(out, item);
    }
    out.push_str("</g>\n");
}

fn item(out: &mut String, item: &Item) {
    match item {
        Item::Path { points, closed, line } => {
            let _ = writeln!(out, "<path class=\"{}\" d=\"{}\"/>", line.word(), path(points, *closed));
        }
        Item::Fill { points } => {
            let _ = writeln!(out, "<path class=\"fill\" d=\"{}\"/>", path(points, true));
        }
        Item::Circle { centre: [x, y], radius, line } => {
            let _ =
                writeln!(out, "<circle class=\"{}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>", line.word(), number(*x), number(*y), number(*radius));
        }
        Item::Text(text) => self::text(out, text),
    }
}

/// The length of a text is held, so that no font makes it run into its neighbour.
fn text(out: &mut String, text: &Text) {
    let (x, y) = (number(text.at[0]), number(text.at[1]));
    let _ = write!(out, "<text x=\"{x}\" y=\"{y}\" font-size=\"{}\"", number(text.height * FONT_SIZE));
    match text.anchor {
        Anchor::Start => {}
        Anchor::Middle => out.push_str(" text-anchor=\"middle\""),
        Anchor::End => out.push_str(" text-anchor=\"end\""),
    }
    if text.turned {
        let _ = write!(out, " transform=\"rotate(-90 {x} {y})\"");
    }
    let _ = writeln!(out, " textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\">{}</text>", number(text.length()), escaped(&text.words));
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

/// A number with all its figures.
fn figures(x: f64) -> String {
    format!("{x}")
}

/// A text that is safe in an element or an attribute; signs that XML 1.0 does not know are left out.
#[must_use]
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\u{FFFE}' | '\u{FFFF}' => {}
            c if c < ' ' && !matches!(c, '\t' | '\n' | '\r') => {}
            c => out.push(c),
        }
    }
    out
}
