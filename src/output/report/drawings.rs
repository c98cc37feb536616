//! The drawings, scaled to the page; to scale they come from `wallplate draw`.

use super::page::{Page, Section};
use crate::output::svg;
use crate::papers::drawing::Sheet;
use maud::{PreEscaped, html};

pub(super) fn section(page: &Page<'_>) -> Option<Section> {
    // A template that is not full size is worse than none.
    let (sheets, templates): (Vec<&Sheet>, Vec<&Sheet>) =
        page.content.sheets.iter().partition(|sheet| sheet.scale.is_none_or(|scale| scale.times > 1.0));
    if sheets.is_empty() && templates.is_empty() {
        return None;
    }
    let body = html! {
        p { "Here they are fitted to the page, so measure nothing off them: read the dimensions. " code { "wallplate draw" } " writes each sheet to its scale." }
        @if !templates.is_empty() {
            p { (templates.len()) " pages of templates are not here, for they are laid on the work at full size: print them from the same command." }
        }
        @for sheet in sheets {
            figure.drawing {
                figcaption { h3 { (sheet.title) } }
                div.scroll tabindex="0" role="group" aria-label=(sheet.title) { (PreEscaped(svg::inline(sheet))) }
                @if !sheet.missing.is_empty() { p.meta { "Not drawn, because the design does not say: " (sheet.missing.join("; ")) "." } }
            }
        }
    };
    Some(Section { id: "drawings", title: "Drawings", body })
}
