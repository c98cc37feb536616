//! The report: one HTML file that carries all it needs, to be opened from a memory stick, read on a phone, printed.
//!
//! In: a checked design with its papers, and which issue of it this is. Out: text. Every number is the one that the
//! check found or a value of the design; nothing is worked out here, and the page's own script only shows what was
//! worked out beforehand. The same design gives the same bytes.

mod answer;
mod closing;
mod drawings;
mod page;
mod roll;
mod sheets;
mod site;
mod used;
mod values;

use crate::output::xml::comment;
use crate::session::LAST_WORD;
use maud::{DOCTYPE, PreEscaped, html};
use page::{Page, Section};

pub use page::{Content, Issue};

const STYLE: &str = include_str!("page.css");
const SCRIPT: &str = include_str!("roll.js");
/// What a page may do: show itself, and nothing from anywhere else.
const POLICY: &str =
    "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";

/// The report as a page, with a `mark` in a comment at its head.
#[must_use]
pub fn html(content: &Content<'_>, mark: &str) -> String {
    let page = Page { content, checked: content.checked };
    let sections: Vec<Section> = [
        Some(answer::section(&page)),
        used::section(&page),
        roll::section(&page),
        drawings::section(&page),
        sheets::section(&page),
        site::accounts(&page),
        site::takeoff(&page),
        site::order(&page),
        site::cards(&page),
        closing::states(&page),
        closing::assumed(&page),
        closing::cautions(&page),
        closing::reviews(&page),
        values::section(&page),
    ]
    .into_iter()
    .flatten()
    .collect();
    let title = page.title();
    let body = html! {
        a.skip href="#answer" { "To the answer" }
        (page.title_block())
        nav.contents aria-label="Contents" {
            ol {
                @for section in &sections { li { a href={ "#" (section.id) } { (section.title) } } }
            }
        }
        main {
            @for section in &sections {
                section id=(section.id) aria-labelledby={ (section.id) "-title" } {
                    h2 id={ (section.id) "-title" } { (section.title) }
                    (section.body)
                }
            }
        }
        footer {
            p { (LAST_WORD) }
            p { "Made by wallplate " (env!("CARGO_PKG_VERSION")) " from " (page.files()) ". Where a source is named, the person who signs can check the number against it; “common practice” has no source and is habit." }
        }
        script { (PreEscaped(SCRIPT)) }
    };
    let page = html! {
        (DOCTYPE)
        (PreEscaped(comment(mark)))
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                meta http-equiv="Content-Security-Policy" content=(POLICY);
                title { (title) ": report" }
                style { (PreEscaped(STYLE)) (PreEscaped(page.running_foot())) }
            }
            body { (body) }
        }
    };
    let mut text = page.into_string();
    text.push('\n');
    text
}
