//! Full-size templates over several pages: with overlap, marks at the corners, and a check rule on each page.
//!
//! In: pictures of one template on a plane. Out: pages at 1:1, or the whole in one for who draws on. It must not know
//! what the template is of.

use super::flat::Flat;
use super::gather::Drawn;
use super::lettering::{NORMAL, SMALL};
use super::sheet::{Anchor, Group, Item, LineType, Point, Rect, Text, View};
use crate::trade::says;
use crate::units::System;
use smol_str::SmolStr;

/// By how much neighbouring pages show the same, mm.
pub(super) const OVERLAP: f64 = 10.0;
/// Around what is drawn, mm.
const MARGIN: f64 = 6.0;
/// Room for the check rule at the foot of a page, mm.
const FOOT: f64 = 14.0;
/// Length of the marks at the corners, mm.
const CORNER: f64 = 5.0;
/// Half the length of the mark of a middle, mm.
const MARK: f64 = 6.0;
/// Steps in which a circle is followed where a page cuts it, rad: at 1 m across off by less than 0.01 mm.
const STEP: f64 = 0.008;
/// More pages than this are a slip in a size.
pub(super) const MOST_PAGES: usize = 60;

/// One page.
pub(super) struct Page {
    pub view: View,
    /// Its number, how many there are, row and column.
    pub number: usize,
    pub of: usize,
    pub place: [usize; 2],
}

/// All items at full size, the datum of the template at the origin of the paper, station to the right.
fn full_size(drawn: &[Drawn]) -> Vec<(SmolStr, SmolStr, Vec<Item>)> {
    let place = |[station, offset]: [f64; 2]| [station * 1000.0, -offset * 1000.0];
    let items = |flat: &Flat, line: LineType| match flat {
        Flat::Path { points, closed } => {
            vec![Item::Path { points: points.iter().map(|point| place(*point)).collect(), closed: *closed, line }]
        }
        Flat::Circle { centre, radius } => {
            let centre = place(*centre);
            let mut items = vec![Item::Circle { centre, radius: radius * 1000.0, line }];
            items.extend(cross(centre));
            items
        }
        Flat::Mark(at) => cross(place(*at)).to_vec(),
        Flat::North(_) | Flat::Places { .. } => Vec::new(),
    };
    drawn
        .iter()
        .map(|drawn| (drawn.of.clone(), drawn.layer.clone(), drawn.flats.iter().flat_map(|flat| items(flat, drawn.line)).collect()))
        .collect()
}

fn cross([x, y]: Point) -> [Item; 2] {
    [Item::segment([x - MARK, y], [x + MARK, y], LineType::Thin), Item::segment([x, y - MARK], [x, y + MARK], LineType::Thin)]
}

fn bounds(items: &[(SmolStr, SmolStr, Vec<Item>)]) -> Option<Rect> {
    items.iter().flat_map(|(_, _, items)| items).map(Item::bounds).reduce(Rect::with).map(|rect| rect.grown(MARGIN))
}

/// The whole template as one view, and the rectangle that holds it.
pub(super) fn whole(drawn: &[Drawn]) -> Option<(View, Rect)> {
    let items = full_size(drawn);
    let bounds = bounds(&items)?;
    let groups = items.into_iter().map(|(of, layer, items)| Group { of, layer, moves_with: None, items }).collect();
    Some((View { name: "template".into(), title: String::new(), origin: [0.0, 0.0], ratio: 1.0, travel: 0.0, groups }, bounds))
}

/// The template cut into pages that fit `room`.
pub(super) fn pages(drawn: &[Drawn], room: &Rect, system: System) -> Vec<Page> {
    let items = full_size(drawn);
    let Some(bounds) = bounds(&items) else { return Vec::new() };
    let window = [room.breadth(), room.height() - FOOT];
    let steps = window.map(|size| size - OVERLAP);
    let count = |at: usize, size: f64| {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded by the most pages")]
        let more = (((size - window[at]) / steps[at]).ceil().clamp(0.0, 1e3)) as usize;
        more + 1
    };
    let (columns, rows) = (count(0, bounds.breadth()), count(1, bounds.height()));
    if columns * rows > MOST_PAGES {
        return Vec::new();
    }
    #[expect(clippy::cast_precision_loss, reason = "a few pages")]
    let covered = [steps[0] * columns as f64 + OVERLAP, steps[1] * rows as f64 + OVERLAP];
    // What is drawn lies in the middle of the pages.
    let start = [bounds.from[0] - (covered[0] - bounds.breadth()) / 2.0, bounds.from[1] - (covered[1] - bounds.height()) / 2.0];
    let mut pages = Vec::new();
    for row in 0..rows {
        for column in 0..columns {
            #[expect(clippy::cast_precision_loss, reason = "a few pages")]
            let from = [start[0] + steps[0] * column as f64, start[1] + steps[1] * row as f64];
            let shown = Rect { from, to: [from[0] + window[0], from[1] + window[1]] };
            let shift = [room.from[0] - from[0], room.from[1] - from[1]];
            let mut groups: Vec<Group> = items
                .iter()
                .map(|(of, layer, items)| {
                    let items = items.iter().flat_map(|item| clipped(item, &shown)).map(|item| moved(item, shift)).collect();
                    Group { of: of.clone(), layer: layer.clone(), moves_with: None, items }
                })
                .filter(|group| !group.items.is_empty())
                .collect();
            let window = Rect { from: room.from, to: [room.from[0] + window[0], room.from[1] + window[1]] };
            groups.push(marks(&window, [row, column], [rows, columns], &groups));
            groups.push(rule([room.from[0], room.to[1] - 4.0], system));
            let view = View { name: "template".into(), title: String::new(), origin: shift, ratio: 1.0, travel: 0.0, groups };
            pages.push(Page { view, number: row * columns + column + 1, of: rows * columns, place: [row + 1, column + 1] });
        }
    }
    pages
}

/// The parts of an item that lie in a window.
fn clipped(item: &Item, window: &Rect) -> Vec<Item> {
    match item {
        Item::Path { points, closed, line } => {
            let ring = closed.then(|| points.first()).flatten();
            let all: Vec<Point> = points.iter().chain(ring).copied().collect();
            if all.iter().all(|point| window.holds(&Rect { from: *point, to: *point })) {
                return vec![item.clone()];
            }
            let pairs = all.windows(2).filter_map(|pair| within(*pair.first()?, *pair.get(1)?, window));
            pairs.map(|(from, to)| Item::segment(from, to, *line)).collect()
        }
        Item::Circle { centre, radius, line } => {
            if window.holds(&item.bounds()) {
                return vec![item.clone()];
            }
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few hundred steps")]
            let steps = (std::f64::consts::TAU / STEP).ceil() as u32;
            let at = |step: u32| {
                let turn = f64::from(step) / f64::from(steps) * std::f64::consts::TAU;
                [centre[0] + radius * turn.cos(), centre[1] + radius * turn.sin()]
            };
            let mut arcs: Vec<Vec<Point>> = Vec::new();
            for (from, to) in (0..steps).filter_map(|step| within(at(step), at(step + 1), window)) {
                match arcs.last_mut() {
                    Some(arc) if arc.last() == Some(&from) => arc.push(to),
                    _ => arcs.push(vec![from, to]),
                }
            }
            arcs.into_iter().map(|points| Item::Path { points, closed: false, line: *line }).collect()
        }
        other => vec![other.clone()],
    }
}

/// The part of a line that lies in a window.
fn within(from: Point, to: Point, window: &Rect) -> Option<(Point, Point)> {
    let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
    for at in 0..2 {
        let way = to[at] - from[at];
        if way.abs() < 1e-12 {
            if from[at] < window.from[at] || from[at] > window.to[at] {
                return None;
            }
            continue;
        }
        let (a, b) = ((window.from[at] - from[at]) / way, (window.to[at] - from[at]) / way);
        enters = enters.max(a.min(b));
        leaves = leaves.min(a.max(b));
    }
    let at = |part: f64| [from[0] + part * (to[0] - from[0]), from[1] + part * (to[1] - from[1])];
    let (first, last) = (if enters > 0.0 { at(enters) } else { from }, if leaves < 1.0 { at(leaves) } else { to });
    (enters < leaves).then_some((first, last))
}

fn moved(item: Item, [dx, dy]: Point) -> Item {
    let shift = |[x, y]: Point| [x + dx, y + dy];
    match item {
        Item::Path { points, closed, line } => Item::Path { points: points.into_iter().map(shift).collect(), closed, line },
        Item::Fill { points } => Item::Fill { points: points.into_iter().map(shift).collect() },
        Item::Circle { centre, radius, line } => Item::Circle { centre: shift(centre), radius, line },
        Item::Text(text) => Item::Text(Text { at: shift(text.at), ..text }),
    }
}

/// Places along an edge at which its text is tried, mm from the beginning.
const ALONG_THE_EDGE: [f64; 4] = [30.0, 60.0, 90.0, 45.0];

/// Where the page is cut, and where its neighbours begin; what is drawn there is not written over.
fn marks(window: &Rect, [row, column]: [usize; 2], [rows, columns]: [usize; 2], drawn: &[Group]) -> Group {
    let mut items = Vec::new();
    for (x, inward) in [(window.from[0], 1.0), (window.to[0], -1.0)] {
        for (y, downward) in [(window.from[1], 1.0), (window.to[1], -1.0)] {
            items.push(Item::segment([x, y], [x + inward * CORNER, y], LineType::Outline));
            items.push(Item::segment([x, y], [x, y + downward * CORNER], LineType::Outline));
        }
    }
    let page = |row: usize, column: usize| row * columns + column + 1;
    let is_free = |text: &Text| {
        let bounds = text.bounds();
        let lines = drawn.iter().flat_map(|group| &group.items).filter_map(|item| match item {
            Item::Path { points, .. } => Some(points),
            _ => None,
        });
        !lines.flat_map(|points| points.windows(2)).any(|pair| matches!(pair, [from, to] if bounds.is_crossed_by(*from, *to)))
    };
    let text = |at: &dyn Fn(f64) -> Point, words: &str, turned: bool| {
        let text = |along: f64| Text { at: at(along), words: words.to_owned(), height: SMALL, anchor: Anchor::Middle, turned };
        Item::Text(ALONG_THE_EDGE.iter().map(|along| text(*along)).find(is_free).unwrap_or_else(|| text(ALONG_THE_EDGE[0])))
    };
    if column + 1 < columns {
        let x = window.to[0] - OVERLAP;
        items.push(Item::segment([x, window.from[1]], [x, window.to[1]], LineType::Hidden));
        let at = |along: f64| [x + OVERLAP / 2.0, window.from[1] + along];
        items.push(text(&at, &format!("page {} lies over this edge", page(row, column + 1)), true));
    }
    if row + 1 < rows {
        let y = window.to[1] - OVERLAP;
        items.push(Item::segment([window.from[0], y], [window.to[0], y], LineType::Hidden));
        let at = |along: f64| [window.from[0] + along, y + OVERLAP / 2.0];
        items.push(text(&at, &format!("page {} lies over this edge", page(row + 1, column)), false));
    }
    Group { of: "joins".into(), layer: "joins".into(), moves_with: None, items }
}

/// A rule to hold a real one against.
fn rule([x, y]: Point, system: System) -> Group {
    let (length, parts, shown) = if system == System::Us { (101.6, 8_u32, "4 in") } else { (100.0, 10_u32, "100 mm") };
    let mut items = vec![Item::segment([x, y], [x + length, y], LineType::Outline)];
    for part in 0..=parts {
        let at = x + length * f64::from(part) / f64::from(parts);
        let whole = part == 0 || part == parts || (system == System::Us && part % 2 == 0);
        items.push(Item::segment([at, y], [at, y - if whole { 4.0 } else { 2.5 }], LineType::Outline));
    }
    let words = format!("This rule is {shown} long on a true print. If yours is not, print again at 100 %, not fitted to the page.");
    items.push(Item::Text(Text { at: [x + length + 3.0, y - 0.5], words, height: SMALL, anchor: Anchor::Start, turned: false }));
    let arrow = [x + length + 3.0, y - 4.5];
    items.push(Item::Text(Text { at: arrow, words: says::TO_THE_RIGHT.to_owned(), height: NORMAL, anchor: Anchor::Start, turned: false }));
    Group { of: "check_rule".into(), layer: "check_rule".into(), moves_with: None, items }
}
