//! The roof at every place of its travel: what a slider shows, worked out beforehand.
//!
//! In: `roll`, `zone` and `reading` papers with the values of a design. Out: [`Roll`]s, plain data: the places, the
//! stretches of the travel, and what is read off at each place. It knows no roof and no page; whoever shows it
//! works out nothing again.

pub mod places;

use crate::design::{ComponentId, Paper, PaperSort};
use crate::papers::row::{Row, rows, rows_with};
use crate::units::Dim;
use crate::values::{Evaluator, Lack, Quantity, Value};
use smol_str::SmolStr;

/// The name that stands for how far it is rolled, in readings.
const TRAVEL: &str = "travel";

/// Something that rolls, with all that is read off on its way.
#[derive(Debug)]
pub struct Roll {
    /// Its name.
    pub name: SmolStr,
    /// What the picture is of.
    pub title: SmolStr,
    /// The places at which it was looked at, from one end to the other.
    pub places: Vec<RollPosition>,
    /// Places and stretches of the travel with a name.
    pub zones: Vec<Zone>,
    /// What is read off, in the order of the papers.
    pub readings: Vec<Reading>,
}

/// A place of the travel.
#[derive(Debug, Clone, PartialEq)]
pub struct RollPosition {
    /// How far it is rolled, m.
    pub travel: f64,
    /// As people read it.
    pub text: String,
}

/// A place or a stretch of the travel.
#[derive(Debug, Clone, PartialEq)]
pub struct Zone {
    /// The paper's name: what sort of stretch it is.
    pub sort: SmolStr,
    /// What it means.
    pub title: SmolStr,
    /// What it is called.
    pub label: String,
    /// Where it begins, m.
    pub from: f64,
    /// Where it ends, m; where it begins if it is one place.
    pub to: f64,
    /// Its ends as people read them.
    pub text: String,
}

/// One number or state, read off at every place.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Under which heading.
    pub group: String,
    /// What is read off.
    pub label: String,
    /// The component that it is about besides what rolls, if there is one.
    pub of: Option<SmolStr>,
    /// On whose word.
    pub source: String,
    /// What it says at each place.
    pub cells: Vec<Cell>,
}

/// What is read off at one place.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// It does not apply there.
    Blank,
    /// A line is missing for it.
    Unknown,
    /// What it says, and whether it is to be pointed out.
    Says(SmolStr, bool),
}

/// Everything that rolls, in the order of the design.
#[must_use]
pub fn rolls(evaluator: &Evaluator, papers: &[Paper]) -> Vec<Roll> {
    let rolling = rows(evaluator, papers, PaperSort::Roll);
    rolling.iter().filter_map(|row| roll(evaluator, papers, row)).collect()
}

/// `None` where the ends of the travel are not known: there is nothing to roll between.
fn roll(evaluator: &Evaluator, papers: &[Paper], row: &Row<'_>) -> Option<Roll> {
    let subject = row.subjects().next()?;
    let end = |line: &str| row.quantity(line).ok().flatten().filter(|quantity| quantity.dim == Dim::LENGTH);
    let (from, to) = (end("from")?, end("to")?);
    if !(to.si > from.si && from.si.is_finite() && to.si.is_finite()) {
        return None;
    }
    let zones: Vec<Zone> = rows(evaluator, papers, PaperSort::Zone)
        .iter()
        .filter(|zone| zone.subjects().next() == Some(subject))
        .filter_map(|row| zone(evaluator, row))
        .collect();
    let marks = zones.iter().flat_map(|zone| [zone.from, zone.to]);
    let travels = places::places(from.si, to.si, marks, evaluator.system());
    let show = |si: f64| evaluator.show_quantity(&Quantity::new(si, Dim::LENGTH));
    let places: Vec<RollPosition> = travels.iter().map(|travel| RollPosition { travel: *travel, text: show(*travel) }).collect();
    Some(Roll {
        name: evaluator.design().component(subject).name.clone(),
        title: row.paper.title.clone(),
        readings: readings(evaluator, papers, subject, &places),
        places,
        zones,
    })
}

fn zone(evaluator: &Evaluator, row: &Row<'_>) -> Option<Zone> {
    let from = row.quantity("from").ok().flatten()?;
    let to = row.quantity("to").ok()?.unwrap_or_else(|| from.clone());
    let label = row.text("label").ok().flatten().unwrap_or_else(|| row.paper.title.clone());
    let (from, to) = if to.si < from.si { (to, from) } else { (from, to) };
    let show = |quantity: &Quantity| evaluator.show_quantity(quantity);
    let text = if from.si == to.si { show(&from) } else { format!("{} to {}", show(&from), show(&to)) };
    Some(Zone { sort: row.paper.name.clone(), title: row.paper.title.clone(), label: label.to_string(), from: from.si, to: to.si, text })
}

/// Goes through the places one by one: what applies at one need not apply at the next.
fn readings(evaluator: &Evaluator, papers: &[Paper], subject: ComponentId, places: &[RollPosition]) -> Vec<Reading> {
    let mut readings: Vec<(Vec<ComponentId>, usize, Reading)> = Vec::new();
    let order = |paper: &Paper| papers.iter().position(|known| std::ptr::eq(known, paper)).unwrap_or(usize::MAX);
    for (at, place) in places.iter().enumerate() {
        let given = [(SmolStr::new_static(TRAVEL), Value::quantity(place.travel, Dim::LENGTH))];
        for row in rows_with(evaluator, papers, PaperSort::Reading, &given) {
            let subjects: Vec<ComponentId> = row.subjects().collect();
            if subjects.first() != Some(&subject) {
                continue;
            }
            let order = order(row.paper);
            let known = readings.iter().position(|(of, paper, _)| *of == subjects && *paper == order);
            let slot = known.unwrap_or_else(|| {
                let text = |line: &str| row.text(line).ok().flatten().unwrap_or_default().to_string();
                let reading = Reading {
                    group: text("group"),
                    label: text("label"),
                    of: subjects.get(1).map(|of| evaluator.design().component(*of).name.clone()),
                    source: text("source"),
                    cells: vec![Cell::Blank; places.len()],
                };
                readings.push((subjects, order, reading));
                readings.len() - 1
            });
            if let Some(cell) = readings.get_mut(slot).and_then(|(_, _, reading)| reading.cells.get_mut(at)) {
                *cell = self::cell(&row);
            }
        }
    }
    readings.sort_by_key(|(_, order, _)| *order);
    readings.into_iter().map(|(_, _, reading)| reading).collect()
}

fn cell(row: &Row<'_>) -> Cell {
    match row.text("says") {
        Ok(Some(text)) => Cell::Says(text, matches!(row.flag("lit"), Ok(Some(true)))),
        Ok(None) => Cell::Blank,
        Err(Lack::Missing(_) | Lack::Faulty) => Cell::Unknown,
    }
}
