//! Sheets as plain data, from what the `picture` blocks say and the values of the design.
//!
//! In: a [`Session`] and its papers. Out: [`Sheet`]s in millimetres of paper, which any output can write. What a wall
//! looks like in plan stands in `trade/papers/*.plate`; here are only planes, scales, lines and lettering. What the
//! design does not say is not drawn, and the sheet says what is missing. It knows no file, no clock, no SVG.

mod chain;
mod flat;
mod frame;
mod gather;
mod label;
pub mod lettering;
pub mod paper;
mod projected;
pub mod sheet;

pub use paper::{PaperSize, Scale};
pub use sheet::{Anchor, Group, Item, Line, Point, Rect, Sheet, Text, View};

use crate::design::{Paper, PaperSort};
use crate::papers::{Row, rows};
use crate::session::Session;
use crate::units::System;
use crate::values::Evaluator;
use chain::Side;
use flat::Plane;
use gather::{Gathered, Missed, gather};
use projected::Projection;

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
}

/// A sheet that shows the building on planes.
struct Plot {
    name: &'static str,
    title: &'static str,
    sort: &'static str,
    views: &'static [(Projection, &'static str)],
    /// The views stand side by side; else one below the other.
    beside: bool,
}

const PLOTS: &[Plot] = &[
    Plot {
        name: "plan",
        title: "Plan",
        sort: "plan",
        beside: false,
        views: &[(Projection { name: "plan", words: &["plan"], plane: Plane::PLAN, open: false, level_side: Side::Left }, "Plan")],
    },
    Plot {
        name: "side",
        title: "Side elevation, roof shut and open",
        sort: "elevation",
        beside: false,
        views: &[
            (
                Projection { name: "shut", words: &["side", "side_shut"], plane: Plane::SIDE, open: false, level_side: Side::Left },
                "Roof shut, from the right when looking the way it opens",
            ),
            (
                Projection { name: "open", words: &["side", "side_open"], plane: Plane::SIDE, open: true, level_side: Side::Left },
                "Roof open",
            ),
        ],
    },
    Plot {
        name: "section",
        title: "Cross section, looking the way the roof opens",
        sort: "section",
        beside: false,
        views: &[(
            Projection { name: "section", words: &["section"], plane: Plane::SECTION, open: false, level_side: Side::Left },
            "Looking the way the roof opens, roof shut",
        )],
    },
    Plot {
        name: "setting_out",
        title: "Setting out from one datum",
        sort: "setting-out",
        beside: true,
        views: &[
            (
                Projection { name: "stations", words: &["setting_out"], plane: Plane::PLAN, open: false, level_side: Side::Left },
                "Stations and offsets",
            ),
            (Projection { name: "levels", words: &["levels"], plane: Plane::SECTION, open: false, level_side: Side::Right }, "Levels"),
        ],
    },
];

/// The names of the sheets of a design, in the order of a set of drawings.
#[must_use]
pub fn names(_session: &Session, papers: &[Paper]) -> Vec<String> {
    plots(papers).map(|plot| plot.name.to_owned()).collect()
}

/// The sheets onto which some picture goes.
fn plots(papers: &[Paper]) -> impl Iterator<Item = &'static Plot> {
    let words: Vec<&str> = papers.iter().flat_map(|paper| paper.words("sheet")).map(|word| word.as_str()).collect();
    PLOTS.iter().filter(move |plot| plot.views.iter().any(|(view, _)| view.words.iter().any(|word| words.contains(word))))
}

/// The sheets that are wanted, in the order of a set of drawings.
#[must_use]
pub fn sheets(session: &Session, papers: &[Paper], wanted: &Wanted) -> Vec<Sheet> {
    let evaluator = &session.evaluator;
    let rows = rows(evaluator, papers, PaperSort::Picture);
    let desk = Desk { evaluator, rows: &rows, wanted, system: evaluator.system(), building: building(&rows) };
    let of = names(session, papers).len();
    let is_wanted = |name: &str| wanted.sheets.is_empty() || wanted.sheets.iter().any(|sheet| sheet == name);
    let plots = plots(papers).enumerate().filter(|(_, plot)| is_wanted(plot.name));
    plots.map(|(at, plot)| desk.plot(plot, &format!("{} / {of}", at + 1))).collect()
}

/// The name of the building, from the picture that goes onto every title block.
fn building(rows: &[Row]) -> String {
    let title = rows.iter().find(|row| row.paper.words("sheet").iter().any(|word| *word == "title_block"));
    title.and_then(|row| row.text("label").ok().flatten()).map(|label| label.to_string()).unwrap_or_default()
}

/// What every sheet is made from.
struct Desk<'d> {
    evaluator: &'d Evaluator,
    rows: &'d [Row<'d>],
    wanted: &'d Wanted,
    system: System,
    building: String,
}

/// Between views, mm.
const GAP: f64 = 6.0;

impl Desk<'_> {
    fn plot(&self, plot: &Plot, number: &str) -> Sheet {
        let paper = self.wanted.paper.unwrap_or_else(|| PaperSize::usual(self.system));
        let mut missed = Missed::default();
        let views: Vec<(&Projection, &str, Gathered)> = plot
            .views
            .iter()
            .map(|(view, title)| (view, *title, gather(self.evaluator, self.rows, view.words, view.plane, &mut missed)))
            .collect();
        let missing = missed.told(self.evaluator);
        let mut unplaced: Vec<String> = Vec::new();
        let scales = Scale::usual(self.system);
        // Twice: names that find no room are told in the notes, which may take room in turn.
        loop {
            let (lines, strip) = frame::notes(&paper, &self.notes(&missing, &unplaced, scales.first().copied()));
            let room = frame::room(&paper, strip);
            let smallest = scales.len().saturating_sub(1);
            for (at, scale) in scales.iter().enumerate() {
                let Some((placed, left_out)) = self.place(&views, *scale, &room, plot.beside, at == smallest) else { continue };
                if left_out != unplaced && unplaced.is_empty() {
                    unplaced = left_out;
                    break;
                }
                let block = frame::Block {
                    building: self.building.clone(),
                    title: plot.title.to_owned(),
                    sort: plot.sort,
                    number: plot.name.to_owned(),
                    scale: if placed.is_empty() { String::new() } else { scale.shown.to_owned() },
                    date: self.wanted.date.clone(),
                    revision: self.wanted.revision.clone(),
                    sheet: number.to_owned(),
                };
                return Sheet {
                    name: plot.name.into(),
                    title: plot.title.to_owned(),
                    paper,
                    scale: Some(*scale),
                    views: placed,
                    frame: frame::draw(&paper, &lines, strip, &block),
                    missing,
                };
            }
        }
    }

    fn notes(&self, missing: &[String], unplaced: &[String], scale: Option<Scale>) -> Vec<String> {
        let mut notes = vec![frame::measures(self.system, scale), frame::CAUTION.to_owned()];
        if !missing.is_empty() {
            notes.push(format!("Not drawn, because the design does not say: {}.", missing.join("; ")));
        }
        if !unplaced.is_empty() {
            notes.push(format!("Drawn without a name, for want of room: {}.", unplaced.join(", ")));
        }
        notes
    }

    /// The views at a scale, in the middle of the room; `None` if they do not fit and need not be `forced`.
    fn place(
        &self,
        views: &[(&Projection, &str, Gathered)],
        scale: Scale,
        room: &Rect,
        beside: bool,
        forced: bool,
    ) -> Option<(Vec<View>, Vec<String>)> {
        let mut unplaced = Vec::new();
        let mut placed: Vec<View> = Vec::new();
        for (asked, title, gathered) in views {
            let Some((view, left_out)) = projected::view(asked, (*title).to_owned(), gathered, scale, self.system) else { continue };
            for name in left_out {
                if !unplaced.contains(&name) {
                    unplaced.push(name);
                }
            }
            placed.push(view);
        }
        let bounds: Vec<Rect> = placed.iter().map(View::bounds).collect();
        let all = bounds.iter().copied().reduce(Rect::with).unwrap_or_default();
        #[expect(clippy::cast_precision_loss, reason = "a few views")]
        let gaps = GAP * bounds.len().saturating_sub(1) as f64;
        let (breadth, height) = if beside {
            (bounds.iter().map(Rect::breadth).sum::<f64>() + gaps, bounds.iter().map(Rect::height).fold(0.0, f64::max))
        } else {
            // One below the other they share their stations: the datum lies on one line.
            (all.breadth(), bounds.iter().map(Rect::height).sum::<f64>() + gaps)
        };
        if (breadth > room.breadth() || height > room.height()) && !forced {
            return None;
        }
        let [mut x, mut y] =
            [room.from[0] + (room.breadth() - breadth).max(0.0) / 2.0, room.from[1] + (room.height() - height).max(0.0) / 2.0];
        for (view, bounds) in placed.iter_mut().zip(&bounds) {
            if beside {
                projected::shift(view, [x - bounds.from[0], y - bounds.from[1]]);
                x += bounds.breadth() + GAP;
            } else {
                projected::shift(view, [x - all.from[0], y - bounds.from[1]]);
                y += bounds.height() + GAP;
            }
        }
        Some((placed, unplaced))
    }
}
