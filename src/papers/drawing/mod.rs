//! Sheets as plain data, from what the `picture` blocks say and the values of the design.
//!
//! In: a [`Session`] and its papers. Out: [`Sheet`]s in millimetres of paper, which any output can write. What a wall
//! looks like in plan stands in `trade/papers/*.plate`; here are only planes, scales, lines and lettering. What the
//! design does not say is not drawn, and the sheet says what is missing. It knows no file, no clock, no SVG.

mod bodies;
pub mod chain;
mod desk;
pub mod flat;
mod frame;
mod gather;
mod graph;
mod label;
mod ladder;
pub mod lettering;
mod list;
mod load_path;
pub mod paper;
mod plots;
mod projected;
mod rolled;
pub mod sheet;
pub mod spread;
mod squares;
mod template;

pub use paper::{PaperSize, Scale};
pub use rolled::{Rolled, rolled};
pub use sheet::{Anchor, Group, Item, LineType, Point, Rect, Sheet, Text, View};

use crate::design::{ComponentId, Paper, PaperSort, SheetForm, SheetSort};
use crate::papers::row::{Row, rows};
use crate::session::{Session, forms};
use crate::values::Value;
use desk::Desk;
use smol_str::SmolStr;

/// What is wanted of the drawings.
#[derive(Debug, Clone, Default)]
pub struct Wanted {
    /// Only these sheets; all if there is none.
    pub sheets: Vec<String>,
    /// On this paper; on the usual one if none is named.
    pub paper: Option<PaperSize>,
    /// The date of issue, for the title block.
    pub date: String,
    /// The revision, for the title block.
    pub revision: String,
    /// Templates whole and without a frame, to be drawn on; else over pages, to be printed.
    pub whole_templates: bool,
}

/// A sheet that a design has: its name, how it is declared, and the component that it is of.
struct Entry {
    name: String,
    form: &'static SheetForm,
    of: Option<ComponentId>,
}

/// The names of the sheets of a design, in the order of a set of drawings.
#[must_use]
pub fn names(session: &Session, papers: &[Paper]) -> Vec<String> {
    let (pictures, told) = rows_of(session, papers);
    entries(session, &pictures, &told).into_iter().map(|entry| entry.name).collect()
}

/// The sheets that are wanted, in the order of a set of drawings. A template may come on several.
#[must_use]
pub fn sheets(session: &Session, papers: &[Paper], wanted: &Wanted) -> Vec<Sheet> {
    let (rows, told) = rows_of(session, papers);
    let entries = entries(session, &rows, &told);
    let desk = Desk::new(&session.evaluator, &rows, wanted);
    let is_wanted = |name: &str| wanted.sheets.is_empty() || wanted.sheets.iter().any(|sheet| sheet == name);
    let count = entries.len();
    let mut sheets = Vec::new();
    for (at, entry) in entries.iter().enumerate().filter(|(_, entry)| is_wanted(&entry.name)) {
        let number = format!("{} / {count}", at + 1);
        match entry.form.drawn {
            SheetSort::OnPlanes => sheets.push(desk.plot(entry.form, &number)),
            SheetSort::AsDiagram => sheets.push(desk.graph(entry.form, &entry.name, entry.of, &number)),
            SheetSort::AsPaths => sheets.push(desk.load_path(entry.form, &number)),
            SheetSort::AsList => {
                let told: Vec<&Row> = told.iter().filter(|row| goes_onto(row, entry.form)).collect();
                sheets.extend(desk.list(entry.form, &told, &number));
            }
            SheetSort::AsLadder => sheets.extend(desk.ladder(entry.form, &entry.name, entry.of, &number)),
            SheetSort::FullSize => sheets.extend(desk.template(entry.form, &entry.name, entry.of, &number)),
            SheetSort::InTitleBlock | SheetSort::OnPage => {}
        }
    }
    sheets
}

/// What stands in every title block: the building, then the codes that it is worked out by.
#[must_use]
pub fn title_block(session: &Session, papers: &[Paper]) -> Vec<String> {
    in_title_block(&rows(&session.evaluator, papers, PaperSort::Picture))
}

fn in_title_block(rows: &[Row]) -> Vec<String> {
    let is_title = |row: &&Row| forms().sheets.iter().any(|form| form.drawn == SheetSort::InTitleBlock && goes_onto(row, form));
    rows.iter().filter(is_title).map(|row| row.text("label").ok().flatten().map(|label| label.to_string()).unwrap_or_default()).collect()
}

/// What is drawn, and what is told.
fn rows_of<'p>(session: &'p Session, papers: &'p [Paper]) -> (Vec<Row<'p>>, Vec<Row<'p>>) {
    (rows(&session.evaluator, papers, PaperSort::Picture), rows(&session.evaluator, papers, PaperSort::Account))
}

fn entries(session: &Session, rows: &[Row], told: &[Row]) -> Vec<Entry> {
    let mut entries: Vec<Entry> = Vec::new();
    for form in &forms().sheets {
        let mut drawn = rows.iter().filter(|row| goes_onto(row, form));
        match form.drawn {
            SheetSort::OnPlanes | SheetSort::AsPaths => {
                entries.extend(drawn.next().map(|_| Entry { name: form.name.to_string(), form, of: None }));
            }
            SheetSort::AsList => {
                let is_told = told.iter().any(|row| goes_onto(row, form));
                entries.extend(is_told.then(|| Entry { name: form.name.to_string(), form, of: None }));
            }
            SheetSort::AsDiagram | SheetSort::AsLadder | SheetSort::FullSize => {
                for of in drawn.filter_map(is_of) {
                    let name = format!("{}_{}", form.name, plain(&session.design().component(of).name));
                    if !entries.iter().any(|entry| entry.name == name) {
                        entries.push(Entry { name, form, of: Some(of) });
                    }
                }
            }
            SheetSort::InTitleBlock | SheetSort::OnPage => {}
        }
    }
    entries
}

/// Whether a picture goes onto a sheet or one of its views.
fn goes_onto(row: &Row, form: &SheetForm) -> bool {
    let is_of = |word: &SmolStr| *word == form.name || form.views.iter().any(|view| view.words.contains(word));
    row.paper.words("sheet").into_iter().any(is_of)
}

/// The component whose sheet a picture goes onto, where there is one sheet for each.
fn is_of(row: &Row) -> Option<ComponentId> {
    match row.value("of") {
        None => row.subjects().next(),
        Some(Ok(Value::Component(id))) => Some(id),
        Some(Ok(Value::List(items))) => items.iter().find_map(|item| match item {
            Value::Component(id) => Some(*id),
            _ => None,
        }),
        Some(_) => None,
    }
}

/// A component's name as a file's name takes it: `post[2]` is `post_2`.
fn plain(name: &str) -> String {
    name.replace('[', "_").replace(']', "")
}
