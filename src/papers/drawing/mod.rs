//! Sheets as plain data, from what the `picture` blocks say and the values of the design.
//!
//! In: a [`Session`] and its papers. Out: [`Sheet`]s in millimetres of paper, which any output can write. What a wall
//! looks like in plan stands in `trade/papers/*.plate`; here are only planes, scales, lines and lettering. What the
//! design does not say is not drawn, and the sheet says what is missing. It knows no file, no clock, no SVG.

pub mod chain;
mod desk;
pub mod flat;
mod frame;
mod gather;
mod graph;
mod label;
pub mod lettering;
mod load_path;
pub mod paper;
mod plots;
mod projected;
mod rolled;
pub mod sheet;
pub mod spread;
mod template;

pub use paper::{PaperSize, Scale};
pub use rolled::{Rolled, rolled};
pub use sheet::{Anchor, Group, Item, LineType, Point, Rect, Sheet, Text, View};

use crate::design::{Paper, PaperSort};
use crate::papers::row::{Row, rows};
use crate::session::Session;
use crate::values::Value;
use desk::Desk;
use graph::Panel;
use plots::{PLOTS, Plot};

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

/// A sort of sheets: one that there is once, or one for each of some components.
enum Sort {
    Plot(&'static Plot),
    Graph(&'static Graph),
    LoadPath,
    Template,
}

/// Diagrams of one sort.
struct Graph {
    name: &'static str,
    title: &'static str,
    across: &'static str,
    panels: &'static [Panel],
}

const GRAPHS: &[Graph] = &[
    Graph {
        name: "travel",
        title: "Travel",
        across: "travel of the roof from shut",
        panels: &[
            Panel { word: "travel_pull", title: "pull of the drive" },
            Panel { word: "travel_speed", title: "speed" },
            Panel { word: "travel_time", title: "time since the start" },
        ],
    },
    Graph {
        name: "horizon",
        title: "Horizon",
        across: "azimuth from north over east",
        panels: &[Panel { word: "horizon", title: "altitude" }],
    },
];

/// Words of the load-path sheet: word, what its links carry, title.
const PATHS: [(&str, &str, &str); 2] =
    [("gravity_path", "gravity", "Weight, down to the ground"), ("uplift_path", "uplift", "Pull of the wind, down to what holds it")];
/// The word of the pictures of templates.
const TEMPLATE: &str = "template";

/// A sheet that a design has: its name, its sort, and the component that it is of.
struct Entry {
    name: String,
    sort: Sort,
    of: Option<crate::design::ComponentId>,
}

/// The names of the sheets of a design, in the order of a set of drawings.
#[must_use]
pub fn names(session: &Session, papers: &[Paper]) -> Vec<String> {
    let rows = rows(&session.evaluator, papers, PaperSort::Picture);
    entries(session, &rows).into_iter().map(|entry| entry.name).collect()
}

/// The sheets that are wanted, in the order of a set of drawings. A template may come on several.
#[must_use]
pub fn sheets(session: &Session, papers: &[Paper], wanted: &Wanted) -> Vec<Sheet> {
    let rows = rows(&session.evaluator, papers, PaperSort::Picture);
    let entries = entries(session, &rows);
    let desk = Desk::new(&session.evaluator, &rows, wanted);
    let is_wanted = |name: &str| wanted.sheets.is_empty() || wanted.sheets.iter().any(|sheet| sheet == name);
    let count = entries.len();
    let mut sheets = Vec::new();
    for (at, entry) in entries.iter().enumerate().filter(|(_, entry)| is_wanted(&entry.name)) {
        let number = format!("{} / {count}", at + 1);
        match &entry.sort {
            Sort::Plot(plot) => sheets.push(desk.plot(plot, &number)),
            Sort::Graph(graph) => sheets.push(desk.graph(graph, &entry.name, entry.of, &number)),
            Sort::LoadPath => sheets.push(desk.load_path(&number)),
            Sort::Template => sheets.extend(desk.template(&entry.name, entry.of, &number)),
        }
    }
    sheets
}

fn entries(session: &Session, rows: &[Row]) -> Vec<Entry> {
    let goes_onto = |row: &Row, word: &str| row.paper.words("sheet").iter().any(|known| *known == word);
    let any = |words: &[&str]| rows.iter().any(|row| words.iter().any(|word| goes_onto(row, word)));
    let mut entries = Vec::new();
    for plot in PLOTS.iter().filter(|plot| plot.views.iter().any(|(view, _)| any(view.words))) {
        entries.push(Entry { name: plot.name.to_owned(), sort: Sort::Plot(plot), of: None });
    }
    if any(&PATHS.map(|(word, _, _)| word)) {
        entries.push(Entry { name: "load_path".to_owned(), sort: Sort::LoadPath, of: None });
    }
    let named = |stem: &str, of: crate::design::ComponentId| format!("{stem}_{}", plain(&session.design().component(of).name));
    let mut each = |stem: &'static str, words: &[&str], sort: &dyn Fn() -> Sort| {
        for row in rows.iter().filter(|row| words.iter().any(|word| goes_onto(row, word))) {
            let Some(of) = is_of(row) else { continue };
            let name = named(stem, of);
            if !entries.iter().any(|entry: &Entry| entry.name == name) {
                entries.push(Entry { name, sort: sort(), of: Some(of) });
            }
        }
    };
    for graph in GRAPHS {
        let words: Vec<&str> = graph.panels.iter().map(|panel| panel.word).collect();
        each(graph.name, &words, &|| Sort::Graph(graph));
    }
    each(TEMPLATE, &[TEMPLATE], &|| Sort::Template);
    entries
}

/// The component whose sheet a picture goes onto, where there is one sheet for each.
fn is_of(row: &Row) -> Option<crate::design::ComponentId> {
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
