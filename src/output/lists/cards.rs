//! The cards on the wall.

use super::markdown::cell;
use super::{MADE, unknown};
use crate::output::text::{Look, Tone};
use crate::output::xml::comment;
use crate::papers::cards::{Card, Cards};
use crate::session::LAST_WORD;
use maud::{DOCTYPE, PreEscaped, html};
use smol_str::SmolStr;
use std::fmt::Write;

/// For people at a terminal.
#[must_use]
pub fn cards_text(cards: &Cards, look: &Look) -> String {
    let mut out = String::new();
    for card in &cards.cards {
        let _ = writeln!(out, "{}", look.paint(Tone::Strong, &look.tame(&card.name)));
        for line in &card.lines {
            out.push_str(&look.wrap("  [ ] ", "      ", 6, &line.says));
        }
        for caution in cautions(card) {
            out.push_str(&look.wrap("  !   ", "      ", 6, caution));
        }
        out.push('\n');
    }
    if !cards.unknown.is_empty() {
        let _ = writeln!(out, "{}", look.paint(Tone::Open, "not known"));
        for one in &cards.unknown {
            out.push_str(&look.wrap("  ", "      ", 6, &unknown(one)));
        }
        out.push('\n');
    }
    out.push_str(&look.paragraph(0, LAST_WORD));
    out
}

/// Lists for a page.
#[must_use]
pub fn cards_markdown(cards: &Cards, name: &str) -> String {
    let mut out = format!("{}\n# {}\n", comment(MADE), cell(name));
    for card in &cards.cards {
        let _ = write!(out, "\n## {}\n\n", cell(&card.name));
        for line in &card.lines {
            let _ = writeln!(out, "- [ ] {}", cell(&line.says));
        }
        for caution in cautions(card) {
            let _ = write!(out, "\nCaution: {}\n", cell(caution));
        }
    }
    if !cards.unknown.is_empty() {
        out.push_str("\n## Not known\n\n");
        for one in &cards.unknown {
            let _ = writeln!(out, "- {}", cell(&unknown(one)));
        }
    }
    let _ = write!(out, "\n{}\n", cell(LAST_WORD));
    out
}

const STYLE: &str = "body{font:16pt/1.35 sans-serif;margin:0 auto;max-width:45rem;padding:1rem;color:#000;background:#fff}\
section{break-after:page;padding-bottom:1rem}section:last-of-type{break-after:auto}h1{font-size:13pt;margin:0;font-weight:normal}\
h2{font-size:26pt;margin:0 0 .6rem;border-bottom:3px solid #000}ul{list-style:none;padding:0;margin:0}\
li{padding:.28rem 0 .28rem 2.1rem;border-bottom:1px solid #999;position:relative;break-inside:avoid}\
li::before{content:'';position:absolute;left:0;top:.5rem;width:1rem;height:1rem;border:2px solid #000}\
.caution{border:3px solid #000;padding:.4rem .7rem;margin:.8rem 0 0;font-weight:bold}small{font-size:10pt}\
@page{margin:15mm}@media screen and (prefers-color-scheme:dark){body{color:#eee;background:#111}\
h2,li::before,.caution{border-color:#eee}}";

/// To print, each card on a page of its own; readable across a room.
#[must_use]
pub fn cards_html(cards: &Cards, name: &str) -> String {
    let page = html! {
        (DOCTYPE) "\n" (PreEscaped(comment(MADE)))
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width";
                title { "Cards: " (name) }
                style { (PreEscaped(STYLE)) }
            }
            body { main {
                @for card in &cards.cards {
                    section {
                        h1 { (name) }
                        h2 { (card.name) }
                        ul { @for line in &card.lines { li { (line.says) } } }
                        @for caution in cautions(card) { p.caution { (caution) } }
                    }
                }
                @if !cards.unknown.is_empty() {
                    section {
                        h2 { "Not known" }
                        ul { @for one in &cards.unknown { li { (unknown(one)) } } }
                    }
                }
                p { small { (LAST_WORD) } }
            } }
        }
    };
    let mut text = page.into_string();
    text.push('\n');
    text
}

/// Each caution of a card once.
pub(in crate::output) fn cautions(card: &Card) -> Vec<&SmolStr> {
    let mut all: Vec<&SmolStr> = Vec::new();
    for caution in card.lines.iter().filter_map(|line| line.caution.as_ref()) {
        if !all.contains(&caution) {
            all.push(caution);
        }
    }
    all
}
