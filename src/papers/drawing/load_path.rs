//! How loads come down to the ground: the components as boxes, each above what it passes its load on to.
//!
//! In: pictures whose shape is a list of components (where a load begins) or one component (what is written in its
//! box). Out: a view without a scale. Which link carries what is asked of the values; nothing follows from a name.

use super::gather::{Missed, begun_large};
use super::label::SMALL_ROW;
use super::lettering::{self, SMALL};
use super::sheet::{Anchor, Group, Item, LineType, Point, Text, View};
use super::spread::apart;
use crate::design::{Carries, ComponentId, ViewForm};
use crate::papers::row::Row;
use crate::values::{Evaluator, Links, Value, in_words};
use rustc_hash::FxHashMap;
use smol_str::SmolStr;

/// Between a box and its text, mm.
const PAD: f64 = 1.6;
/// Between boxes side by side, mm.
const BESIDE: f64 = 4.0;
/// From one row of boxes to the next, mm.
const BETWEEN: f64 = 11.0;
/// How often the rows are put in the order of what stands above and below: more changes nothing on a building.
const SWEEPS: usize = 12;
/// Widest line in a box, mm.
const WIDEST: f64 = 44.0;

/// A box, or the bend of a line that passes a row.
struct Node {
    of: Option<ComponentId>,
    row: usize,
    size: [f64; 2],
    lines: Vec<String>,
    x: f64,
}

/// The way of one sort of load as a view; `None` if nothing is on it.
pub(super) fn view(evaluator: &Evaluator, rows: &[&Row], asked: &'static ViewForm, carries: Carries, missed: &mut Missed) -> Option<View> {
    let links = evaluator.links();
    let mut on_the_way: Vec<ComponentId> = Vec::new();
    let mut says: FxHashMap<ComponentId, Vec<String>> = FxHashMap::default();
    for row in rows.iter().filter(|row| row.paper.words("sheet").iter().any(|known| asked.words.contains(known))) {
        let Some(first) = row.subjects().next() else { continue };
        match row.value("shape") {
            Some(Ok(Value::List(items))) => items.iter().filter_map(component).for_each(|id| walk(links, id, carries, &mut on_the_way)),
            Some(Ok(value)) => match (component(&value), row.text("label")) {
                (Some(id), Ok(Some(label))) => says.entry(id).or_default().push(label.to_string()),
                (Some(_), Err(lack)) => missed.note(evaluator, first, &lack),
                _ => {}
            },
            Some(Err(lack)) => missed.note(evaluator, first, &lack),
            None => {}
        }
    }
    let place: FxHashMap<ComponentId, usize> = on_the_way.iter().enumerate().map(|(at, id)| (*id, at)).collect();
    let mut edges: Vec<(usize, usize)> = Vec::new();
    for (from, id) in on_the_way.iter().enumerate() {
        for (to, _) in links.onward(*id, carries) {
            if let Some(to) = place.get(&to).copied().filter(|to| *to != from && !edges.contains(&(from, *to))) {
                edges.push((from, to));
            }
        }
    }
    if edges.is_empty() {
        return None;
    }
    let depth = depths(on_the_way.len(), &edges);
    let mut nodes: Vec<Node> = on_the_way.iter().zip(&depth).map(|(id, row)| boxed(evaluator, *id, *row, &says)).collect();
    let lines = bends(&mut nodes, &edges);
    let levels = arrange(&mut nodes, &lines);
    Some(drawn(evaluator, &nodes, &lines, &levels, &asked.called, &asked.title))
}

/// Everything that a load goes through from a component on, along every branch.
fn walk(links: &Links, from: ComponentId, carries: Carries, on_the_way: &mut Vec<ComponentId>) {
    let mut open = vec![from];
    while let Some(at) = open.pop() {
        if !on_the_way.contains(&at) {
            on_the_way.push(at);
            open.extend(links.onward(at, carries).map(|(to, _)| to));
        }
    }
}

fn component(value: &Value) -> Option<ComponentId> {
    match value {
        Value::Component(id) => Some(*id),
        _ => None,
    }
}

/// The row of each: one below the lowest of those that stand on it. A circle ends at as many rows as there are boxes.
fn depths(count: usize, edges: &[(usize, usize)]) -> Vec<usize> {
    let mut depth = vec![0; count];
    for _ in 0..count {
        let mut changed = false;
        for (from, to) in edges {
            let below = (depth[*from] + 1).min(count - 1);
            if depth[*to] < below {
                depth[*to] = below;
                changed = true;
            }
        }
        if !changed {
            break;
        }
    }
    depth
}

fn boxed(evaluator: &Evaluator, id: ComponentId, row: usize, says: &FxHashMap<ComponentId, Vec<String>>) -> Node {
    let name = begun_large(&in_words(evaluator.design(), id));
    let more = says.get(&id).into_iter().flatten().flat_map(|text| lettering::lines(text, SMALL, WIDEST));
    let lines: Vec<String> = std::iter::once(name).chain(more).collect();
    let widest = lines.iter().map(|line| lettering::length(line, SMALL)).fold(0.0, f64::max);
    #[expect(clippy::cast_precision_loss, reason = "a few lines")]
    let height = lines.len() as f64 * SMALL_ROW + 2.0 * PAD;
    Node { of: Some(id), row, size: [widest + 2.0 * PAD, height], lines, x: 0.0 }
}

/// A line that passes rows bends in each of them, so that it runs through no box. Gives each line as its nodes.
fn bends(nodes: &mut Vec<Node>, edges: &[(usize, usize)]) -> Vec<Vec<usize>> {
    let mut lines = Vec::with_capacity(edges.len());
    for (from, to) in edges {
        let mut line = vec![*from];
        for row in nodes[*from].row + 1..nodes[*to].row {
            line.push(nodes.len());
            nodes.push(Node { of: None, row, size: [2.0, 0.0], lines: Vec::new(), x: 0.0 });
        }
        line.push(*to);
        lines.push(line);
    }
    lines
}

/// Puts each row in the order of its neighbours above and below, and gives the upper side of each row.
fn arrange(nodes: &mut [Node], lines: &[Vec<usize>]) -> Vec<[f64; 2]> {
    let count = nodes.iter().map(|node| node.row + 1).max().unwrap_or(0);
    let mut rows: Vec<Vec<usize>> = vec![Vec::new(); count];
    for (at, node) in nodes.iter().enumerate() {
        rows[node.row].push(at);
    }
    let pairs: Vec<(usize, usize)> =
        lines.iter().flat_map(|line| line.windows(2).filter_map(|pair| Some((*pair.first()?, *pair.get(1)?)))).collect();
    for row in &rows {
        place(nodes, row, &(0..row.len()).map(|_| 0.0).collect::<Vec<_>>());
    }
    let mut best: Option<(usize, Vec<Vec<usize>>)> = None;
    for sweep in 0..2 * SWEEPS {
        // The first half looks for an order; the second keeps the one with the fewest crossings, and puts it straight.
        let looks = sweep < SWEEPS;
        if let (true, Some((_, order))) = (sweep == SWEEPS, &best) {
            rows.clone_from(order);
            swap(nodes, &mut rows, &pairs);
            rows.iter().for_each(|row| place(nodes, row, &vec![0.0; row.len()]));
        }
        let down = sweep % 2 == 0;
        let order: Vec<usize> = if down { (0..count).collect() } else { (0..count).rev().collect() };
        for row in order {
            let wish = |at: usize, nodes: &[Node]| {
                let neighbours = pairs.iter().filter_map(|(from, to)| match (down, *from == at, *to == at) {
                    (true, _, true) => Some(nodes[*from].x),
                    (false, true, _) => Some(nodes[*to].x),
                    _ => None,
                });
                let (sum, many) = neighbours.fold((0.0, 0.0), |(sum, many), x| (sum + x, many + 1.0));
                if many > 0.0 { sum / many } else { nodes[at].x }
            };
            let mut wished: Vec<(f64, usize)> = rows[row].iter().map(|at| (wish(*at, nodes), *at)).collect();
            if looks {
                wished.sort_by(|a, b| a.0.total_cmp(&b.0));
            }
            rows[row] = wished.iter().map(|(_, at)| *at).collect();
            let wishes: Vec<f64> = wished.iter().map(|(wish, _)| *wish).collect();
            place(nodes, &rows[row], &wishes);
        }
        let crossed = crossings(nodes, &pairs);
        if looks && best.as_ref().is_none_or(|(fewest, _)| crossed < *fewest) {
            best = Some((crossed, rows.clone()));
        }
    }
    let mut top = 0.0;
    rows.iter()
        .map(|row| {
            let height = row.iter().map(|at| nodes[*at].size[1]).fold(0.0, f64::max);
            let level = [top, top + height];
            top += height + BETWEEN;
            level
        })
        .collect()
}

/// Swaps neighbours of a row where no more lines cross then: what crosses as often may be a step on the way to fewer.
fn swap(nodes: &mut [Node], rows: &mut Vec<Vec<usize>>, pairs: &[(usize, usize)]) {
    let in_order = |nodes: &mut [Node], row: &[usize]| row.iter().zip(0_u32..).for_each(|(at, x)| nodes[*at].x = f64::from(x));
    rows.iter().for_each(|row| in_order(nodes, row));
    let mut fewest = (crossings(nodes, pairs), rows.clone());
    for _ in 0..SWEEPS {
        for row in 0..rows.len() {
            for at in 1..rows[row].len() {
                let before = crossings(nodes, pairs);
                rows[row].swap(at - 1, at);
                in_order(nodes, &rows[row]);
                let crossed = crossings(nodes, pairs);
                if crossed > before {
                    rows[row].swap(at - 1, at);
                    in_order(nodes, &rows[row]);
                } else if crossed < fewest.0 {
                    fewest = (crossed, rows.clone());
                }
            }
        }
    }
    *rows = fewest.1;
}

/// How many pairs of lines between the same rows cross.
fn crossings(nodes: &[Node], pairs: &[(usize, usize)]) -> usize {
    let cross = |(a, b): &(usize, usize), (c, d): &(usize, usize)| {
        nodes[*a].row == nodes[*c].row && (nodes[*a].x - nodes[*c].x) * (nodes[*b].x - nodes[*d].x) < 0.0
    };
    pairs.iter().enumerate().map(|(at, one)| pairs.iter().skip(at + 1).filter(|other| cross(one, other)).count()).sum()
}

fn place(nodes: &mut [Node], row: &[usize], wishes: &[f64]) {
    let sizes: Vec<f64> = row.iter().map(|at| nodes[*at].size[0] + BESIDE).collect();
    for (at, x) in row.iter().zip(apart(wishes, &sizes)) {
        nodes[*at].x = x;
    }
}

fn drawn(evaluator: &Evaluator, nodes: &[Node], lines: &[Vec<usize>], levels: &[[f64; 2]], word: &'static str, title: &str) -> View {
    let mut ways = Vec::new();
    for line in lines {
        let mut points: Vec<Point> = Vec::new();
        for (at, node) in line.iter().map(|at| &nodes[*at]).enumerate() {
            let [top, bottom] = levels[node.row];
            let foot = if node.of.is_some() { top + node.size[1] } else { bottom };
            match (node.of, at) {
                (Some(_), 0) => points.push([node.x, foot]),
                (Some(_), _) => points.push([node.x, top]),
                (None, _) => points.extend([[node.x, top], [node.x, bottom]]),
            }
        }
        if let &[.., before, tip] = points.as_slice() {
            ways.push(arrow(before, tip));
        }
        ways.push(Item::Path { points, closed: false, line: LineType::Thin });
    }
    let name = |of: &'static str, items| Group { of: SmolStr::new_static(of), layer: SmolStr::new_static(of), moves_with: None, items };
    let mut groups = vec![name("way", ways)];
    for node in nodes {
        let Some(id) = node.of else { continue };
        let component = evaluator.design().component(id);
        let (half, top) = (node.size[0] / 2.0, levels[node.row][0]);
        let corners =
            vec![[node.x - half, top], [node.x + half, top], [node.x + half, top + node.size[1]], [node.x - half, top + node.size[1]]];
        let mut items = vec![Item::Path { points: corners, closed: true, line: LineType::Outline }];
        let mut at = top + PAD + SMALL;
        for words in &node.lines {
            items.push(Item::Text(Text { at: [node.x, at], words: words.clone(), height: SMALL, anchor: Anchor::Middle, turned: false }));
            at += SMALL_ROW;
        }
        let layer = evaluator.design().kind(component.kind).name.clone();
        groups.push(Group { of: component.name.clone(), layer, moves_with: None, items });
    }
    View { name: SmolStr::new_static(word), title: title.to_owned(), origin: [0.0, 0.0], ratio: 0.0, travel: 0.0, groups }
}

/// The head of an arrow at the end of a way.
fn arrow(from: Point, to: Point) -> Item {
    let way = [to[0] - from[0], to[1] - from[1]];
    let length = way[0].hypot(way[1]).max(1e-9);
    let [x, y] = [way[0] / length, way[1] / length];
    let corner = |side: f64| [to[0] - 2.2 * x - side * y, to[1] - 2.2 * y + side * x];
    Item::Fill { points: vec![to, corner(0.6), corner(-0.6)] }
}
