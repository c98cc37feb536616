//! The roof that can be rolled: a slider over the places of the travel, with what is read off at each.
//!
//! All that the page's script shows lies in the page as data; it moves the picture and picks texts, and works out nothing.

use super::page::{Page, Section};
use crate::output::svg;
use crate::papers::drawing::Rolled;
use crate::papers::rolling::{Cell, Reading, Roll, RollPosition, Zone};
use crate::trade::says;
use maud::{Markup, PreEscaped, html};
use serde::Serialize;
use smol_str::SmolStr;

/// The strip below the slider: its length and where the way begins and ends on it.
const LENGTH: f64 = 1000.0;
const MARGIN: f64 = 20.0;
/// Between rows of zones, and their height.
const ROW: f64 = 30.0;
const THICK: f64 = 14.0;
/// About how wide one letter of a label is.
const LETTER: f64 = 9.0;
/// Places of the table that is printed.
const MOST_COLUMNS: usize = 10;

/// What the script reads.
#[derive(Serialize)]
struct Data<'r> {
    /// How far it is open, as people read it.
    places: Vec<&'r str>,
    /// In metres, for programs that read the page.
    travels: Vec<f64>,
    /// Where the pointer of the strip stands.
    strip: Vec<f64>,
    /// How far the picture's moving part is shifted, in its own units.
    shift: Vec<f64>,
    /// What the moving parts move with.
    moves: &'r str,
    /// In which zones the roof is, by their numbers.
    zones: Vec<Vec<usize>>,
    readings: Vec<ReadingOut<'r>>,
}

/// A reading: its different texts, and which of them stands at each place (an even number plain, an odd one to be pointed out).
#[derive(Serialize)]
struct ReadingOut<'r> {
    of: Option<&'r str>,
    texts: Vec<&'r str>,
    at: Vec<usize>,
}

pub(super) fn section(page: &Page<'_>) -> Option<Section> {
    let rolls = page.content.rolls;
    if rolls.is_empty() {
        return None;
    }
    let body = html! { @for (at, roll) in rolls.iter().enumerate() { (one(roll, at, page.content.rolled)) } };
    Some(Section { id: "roll", title: says::ROLL_TITLE, body })
}

fn one(roll: &Roll, number: usize, rolled: Option<&Rolled>) -> Markup {
    let id = format!("roll-{number}");
    let last = roll.places.len().saturating_sub(1);
    let first = roll.places.first().map(|place| place.text.as_str()).unwrap_or_default();
    let named = named(roll);
    html! {
        div.roll data-roll=(id) {
            h3 { (roll.name) }
            p { (says::ROLL_HELP) }
            @if let Some(rolled) = rolled {
                figure.drawing.elevation { (PreEscaped(svg::inline_within(&rolled.view, rolled.bounds))) }
            }
            (strip(roll))
            div.slider {
                label for=(id) { (says::ROLLED_OPEN_BY) }
                input id=(id) type="range" min="0" max=(last) step="1" value="0" aria-valuetext=(first);
                output for=(id) { (first) }
            }
            div.jumps role="group" aria-label="Go to" {
                @for (at, label) in &named { button type="button" data-place=(at) { (label) } }
            }
            (readings(roll))
            (table(roll, &named))
            script type="application/json" { (PreEscaped(data(roll, rolled))) }
        }
    }
}

fn along(roll: &Roll, travel: f64) -> f64 {
    let (Some(first), Some(last)) = (roll.places.first(), roll.places.last()) else { return MARGIN };
    MARGIN + (travel - first.travel) / (last.travel - first.travel) * (LENGTH - 2.0 * MARGIN)
}

/// The way of the roof with its zones, each in the first row that has room for it and its name.
fn strip(roll: &Roll) -> Markup {
    let mut rows: Vec<f64> = Vec::new();
    let placed: Vec<(usize, f64, f64, &Zone, f64)> = roll
        .zones
        .iter()
        .map(|zone| {
            let (from, to) = (along(roll, zone.from), along(roll, zone.to));
            #[expect(clippy::cast_precision_loss, reason = "a label is short")]
            let text = zone.label.chars().count() as f64 * LETTER;
            // A name that would run out of the strip stands before its zone.
            let label = if to + 8.0 + text > LENGTH { from - 8.0 - text } else { to + 8.0 };
            let (least, most) = (from.min(label), to.max(label + text));
            let row = rows.iter().position(|used| *used < least).unwrap_or(rows.len());
            match rows.get_mut(row) {
                Some(used) => *used = most + LETTER,
                None => rows.push(most + LETTER),
            }
            (row, from, to, zone, label)
        })
        .collect();
    #[expect(clippy::cast_precision_loss, reason = "a few rows")]
    let y = |row: usize| 34.0 + row as f64 * ROW;
    let height = y(rows.len()) + 6.0;
    let n = |x: f64| format!("{x:.1}");
    html! {
        figure.strip {
            svg viewBox={ "0 0 " (LENGTH) " " (height) } role="img" aria-label={ "The way of " (roll.name) " " (says::ROLL_SHOWS) } {
                path.way d={ "M" (MARGIN) " 16H" (LENGTH - MARGIN) } {}
                @for place in ends(roll) { path.tick d={ "M" (n(along(roll, place.travel))) " 10V22" } {} }
                @for (at, (row, from, to, zone, label)) in placed.iter().enumerate() {
                    g.zone data-zone=(at) data-sort=(zone.sort) {
                        title { (zone.title) ": " (zone.text) }
                        rect x=(n(*from - 1.0)) y=(n(y(*row))) width=(n(to - from + 2.0)) height=(THICK) {}
                        path d={ "M" (n(*from)) " 16V" (n(y(*row))) @if to > from { "M" (n(*to)) " 16V" (n(y(*row))) } } {}
                        text x=(n(*label)) y=(n(y(*row) + THICK - 2.0)) { (zone.label) }
                    }
                }
                g.pointer transform={ "translate(" (n(along(roll, roll.places.first().map_or(0.0, |place| place.travel)))) " 0)" } {
                    path d="M0 16 -9 0H9Z" {}
                    path.plumb d={ "M0 16V" (n(height)) } {}
                }
            }
        }
    }
}

fn ends(roll: &Roll) -> impl Iterator<Item = &RollPosition> {
    roll.places.first().into_iter().chain(roll.places.last())
}

/// Places with a name: where zones begin and end, each once.
fn named(roll: &Roll) -> Vec<(usize, String)> {
    let mut named: Vec<(usize, String)> = Vec::new();
    let mut name = |travel: f64, label: String| {
        if let Some(at) = roll.places.iter().position(|place| (place.travel - travel).abs() < 1e-4) {
            match named.iter_mut().find(|(known, _)| *known == at) {
                Some((_, words)) if words.contains(&label) => {}
                Some((_, words)) => *words = format!("{words}, {label}"),
                None => named.push((at, label)),
            }
        }
    };
    for zone in &roll.zones {
        if zone.from == zone.to {
            name(zone.from, zone.label.clone());
        } else {
            name(zone.from, format!("{} begins", zone.label));
            name(zone.to, format!("{} ends", zone.label));
        }
    }
    named.sort_by_key(|(at, _)| *at);
    named
}

fn groups(roll: &Roll) -> Vec<(&str, Vec<(usize, &Reading)>)> {
    let mut groups: Vec<(&str, Vec<(usize, &Reading)>)> = Vec::new();
    for (at, reading) in roll.readings.iter().enumerate() {
        match groups.iter_mut().find(|(group, _)| *group == reading.group) {
            Some((_, of)) => of.push((at, reading)),
            None => groups.push((&reading.group, vec![(at, reading)])),
        }
    }
    groups
}

fn says(cell: Option<&Cell>) -> (&str, bool) {
    match cell {
        Some(Cell::Says(text, lit)) => (text, *lit),
        Some(Cell::Unknown) => ("not known", false),
        Some(Cell::Blank) | None => ("–", false),
    }
}

fn readings(roll: &Roll) -> Markup {
    html! {
        div.readings {
            @for (group, of) in groups(roll) {
                div {
                    h4 { (group) }
                    dl { @for (at, reading) in of {
                        @let (text, lit) = says(reading.cells.first());
                        div data-reading=(at) class=[lit.then_some("lit")] { dt title=(reading.source) { (reading.label) } dd { (text) } }
                    } }
                }
            }
        }
    }
}

/// The same at the places with a name, for paper and where no script runs.
fn table(roll: &Roll, named: &[(usize, String)]) -> Markup {
    // Where there is no room for all of them, the last still has to be there: it is the far end.
    let columns: Vec<&(usize, String)> =
        named.iter().enumerate().filter(|(at, _)| *at + 1 < MOST_COLUMNS || *at + 1 == named.len()).map(|(_, one)| one).collect();
    html! {
        details.at-places {
            summary { h4 { "The same as a table, at the places that have a name" } }
            div.scroll tabindex="0" role="group" aria-label="Readings at named places" {
                table.plain {
                    thead {
                        tr { th scope="col" { "At" } @for (_, label) in &columns { th scope="col" { (label) } } }
                        tr { th scope="row" { "Rolled open by" } @for (at, _) in &columns { td.n { (roll.places.get(*at).map(|place| place.text.as_str()).unwrap_or_default()) } } }
                    }
                    @for (group, of) in groups(roll) {
                        tbody {
                            tr { th.group colspan=(columns.len() + 1) scope="rowgroup" { (group) } }
                            @for (_, reading) in of {
                                tr { th scope="row" { (reading.label) } @for (at, _) in &columns { td { (says(reading.cells.get(*at)).0) } } }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn data(roll: &Roll, rolled: Option<&Rolled>) -> String {
    let round = |x: f64| (x * 1000.0).round() / 1000.0;
    let inside = |zone: &Zone, place: &RollPosition| place.travel > zone.from - 1e-6 && place.travel < zone.to + 1e-6;
    let data = Data {
        places: roll.places.iter().map(|place| place.text.as_str()).collect(),
        travels: roll.places.iter().map(|place| place.travel).collect(),
        strip: roll.places.iter().map(|place| round(along(roll, place.travel))).collect(),
        shift: rolled.map(|rolled| roll.places.iter().map(|place| round(place.travel * rolled.per_metre)).collect()).unwrap_or_default(),
        moves: &roll.name,
        zones: roll
            .places
            .iter()
            .map(|place| roll.zones.iter().enumerate().filter(|(_, zone)| inside(zone, place)).map(|(at, _)| at).collect())
            .collect(),
        readings: roll.readings.iter().map(reading).collect(),
    };
    // Nothing of it may close the script element that it stands in.
    serde_json::to_string(&data).unwrap_or_default().replace('<', "\\u003c")
}

fn reading(reading: &Reading) -> ReadingOut<'_> {
    let mut texts: Vec<&str> = Vec::new();
    let at = reading
        .cells
        .iter()
        .map(|cell| {
            let (text, lit) = says(Some(cell));
            let number = texts.iter().rposition(|known| *known == text).unwrap_or_else(|| {
                texts.push(text);
                texts.len() - 1
            });
            2 * number + usize::from(lit)
        })
        .collect();
    ReadingOut { of: reading.of.as_ref().map(SmolStr::as_str), texts, at }
}
