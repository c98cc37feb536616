//! Border, title block and notes of a sheet, after ISO 5457 and ISO 7200.

use super::label::SMALL_ROW;
use super::lettering::{self, LARGE, NORMAL, SMALL};
use super::paper::{PaperSize, Scale};
use super::sheet::{Anchor, Group, Item, LineType, Point, Rect, Text};
use crate::trade::says;
use crate::units::System;
use smol_str::SmolStr;

/// Edge of the paper to the border, mm; on the left it is filed. ISO 5457.
const FILED: f64 = 20.0;
const EDGE: f64 = 10.0;
/// Title block, mm: 180 is the most that ISO 7200 allows, and fits on A4.
const BLOCK: f64 = 170.0;
const BLOCK_HEIGHT: f64 = 36.0;
const PAD: f64 = 1.5;

/// What the title block says.
#[derive(Debug, Clone, Default)]
pub(super) struct Block {
    /// The building.
    pub building: String,
    /// By which editions of which codes it is worked out.
    pub codes: String,
    /// What the sheet shows.
    pub title: String,
    /// `plan`, `section`: what ISO 7200 calls the document type.
    pub sort: &'static str,
    pub number: String,
    pub scale: String,
    pub date: String,
    pub revision: String,
    pub sheet: String,
}

/// The border within the paper.
pub(super) fn border(paper: &PaperSize) -> Rect {
    Rect { from: [FILED, EDGE], to: [paper.breadth - EDGE, paper.height - EDGE] }
}

/// The lines of the notes, and how high the strip at the foot of the sheet has to be for them.
pub(super) fn notes(paper: &PaperSize, paragraphs: &[String]) -> (Vec<String>, f64) {
    let room = border(paper).breadth() - BLOCK - 2.0 * PAD;
    let lines: Vec<String> = paragraphs.iter().flat_map(|text| lettering::lines(text, SMALL, room)).collect();
    #[expect(clippy::cast_precision_loss, reason = "a few lines")]
    let height = lines.len() as f64 * SMALL_ROW + 2.0 * PAD;
    (lines, height.max(BLOCK_HEIGHT))
}

/// What is left for the views above a strip of that height.
pub(super) fn room(paper: &PaperSize, strip: f64) -> Rect {
    let border = border(paper);
    Rect { from: border.from.map(|x| x + 4.0), to: [border.to[0] - 4.0, border.to[1] - strip - 3.0] }
}

/// How the sheet measures, in words.
pub(super) fn measures(system: System, scale: Option<Scale>) -> String {
    let unit = if system == System::Us { "feet and inches" } else { "millimetres" };
    match scale {
        Some(_) => format!(
            "Dimensions in {unit}; ~ before one that lies off its mark. {} Work to the figures, do not measure off the print.",
            says::MEASURES_RUN
        ),
        None => "A diagram, not to scale.".to_owned(),
    }
}

/// Border, notes and title block.
pub(super) fn draw(paper: &PaperSize, notes: &[String], strip: f64, block: &Block) -> Vec<Group> {
    let border = border(paper);
    let rectangle = |rect: &Rect, line| {
        let [left, top] = rect.from;
        let [right, bottom] = rect.to;
        Item::Path { points: vec![[left, top], [right, top], [right, bottom], [left, bottom]], closed: true, line }
    };
    let group = |of: &'static str, items| Group { of: SmolStr::new_static(of), layer: SmolStr::new_static(of), moves_with: None, items };
    let top = border.to[1] - strip;
    let mut frame = vec![rectangle(&border, LineType::Cut)];
    if !notes.is_empty() {
        frame.push(Item::segment([border.from[0], top], [border.to[0], top], LineType::Thin));
    }
    let mut lines = Vec::new();
    let mut at = top + PAD + SMALL;
    for note in notes {
        lines.push(text([border.from[0] + PAD, at], note, SMALL));
        at += SMALL_ROW;
    }
    let corner = [border.to[0] - BLOCK, border.to[1] - BLOCK_HEIGHT];
    let mut cells = vec![rectangle(&Rect { from: corner, to: border.to }, LineType::Outline)];
    let rows: [(f64, f64, &[Cell]); 3] = [
        (
            0.0,
            9.0,
            &[
                Cell(0.0, 42.5, "Owner", "", NORMAL),
                Cell(42.5, 42.5, "Drawn by", "", NORMAL),
                Cell(85.0, 42.5, "Approved by", "", NORMAL),
                Cell(127.5, 42.5, "Document type", block.sort, NORMAL),
            ],
        ),
        (9.0, 18.0, &[Cell(0.0, 115.0, "Title", "", LARGE), Cell(115.0, 55.0, "Drawing number", &block.number, NORMAL)]),
        (
            27.0,
            9.0,
            &[
                Cell(0.0, 40.0, "Scale", &block.scale, NORMAL),
                Cell(40.0, 35.0, "Date of issue", &block.date, NORMAL),
                Cell(75.0, 40.0, "Revision", &block.revision, NORMAL),
                Cell(115.0, 35.0, "Paper", paper.shown, NORMAL),
                Cell(150.0, 20.0, "Sheet", &block.sheet, NORMAL),
            ],
        ),
    ];
    for (down, height, row) in rows {
        for cell in row {
            cell.draw(corner, down, height, &mut cells);
        }
    }
    let title = [corner[0] + PAD, corner[1] + 9.5];
    let most = 115.0 - 2.0 * PAD;
    cells.push(text([title[0], title[1] + 7.5], &lettering::cut(&block.title, LARGE, most), LARGE));
    cells.push(text([title[0], title[1] + 12.0], &lettering::cut(&block.building, NORMAL, most), NORMAL));
    cells.push(text([title[0], title[1] + 16.0], &lettering::cut(&block.codes, SMALL, most), SMALL));
    vec![group("frame", frame), group("notes", lines), group("title_block", cells)]
}

/// A cell: from the left, breadth, its field's name, what it says, how high.
struct Cell<'t>(f64, f64, &'static str, &'t str, f64);

impl Cell<'_> {
    fn draw(&self, [left, top]: Point, down: f64, height: f64, items: &mut Vec<Item>) {
        let &Cell(from, breadth, field, says, size) = self;
        let (left, top) = (left + from, top + down);
        if down > 0.0 {
            items.push(Item::segment([left, top], [left + breadth, top], LineType::Thin));
        }
        if from > 0.0 {
            items.push(Item::segment([left, top], [left, top + height], LineType::Thin));
        }
        items.push(text([left + PAD, top + PAD + FIELD], field, FIELD));
        if !says.is_empty() {
            items.push(text([left + PAD, top + height - 1.6], &lettering::cut(says, size, breadth - 2.0 * PAD), size));
        }
    }
}

/// Height of the name of a field, mm.
const FIELD: f64 = 1.5;

fn text(at: Point, words: &str, height: f64) -> Item {
    Item::Text(Text { at, words: words.to_owned(), height, anchor: Anchor::Start, turned: false })
}
