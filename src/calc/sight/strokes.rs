//! No line twice, and what ends where another begins is one line.

/// How an edge shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Shown {
    /// The edge of a cut face.
    Cut,
    /// Nothing is before it.
    Plain,
    /// Something is.
    Hidden,
}

/// A line in the plane of the view.
#[derive(Debug, Clone, PartialEq)]
pub struct Stroke {
    /// The number of the part.
    pub part: usize,
    /// How it shows.
    pub shown: Shown,
    /// Its points, m.
    pub points: Vec<[f64; 2]>,
    /// Whether the last leads to the first.
    pub closed: bool,
}

/// A straight line of a part, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Line {
    pub part: usize,
    pub shown: Shown,
    pub from: [f64; 2],
    pub to: [f64; 2],
}

/// Lines nearer than this lie on each other, m.
const ON: f64 = 1e-5;

/// The lines without what lies on a line before them (cut before plain before hidden, then part after part), joined. What
/// is cut keeps its whole outline, along what it touches, too.
pub(super) fn joined(mut lines: Vec<Line>) -> Vec<Stroke> {
    lines.retain(|line| length(line.from, line.to) > ON);
    lines.sort_by_key(|line| (line.shown, line.part));
    let mut kept: Vec<Line> = Vec::with_capacity(lines.len());
    for line in lines {
        let mut rest = vec![line];
        for before in &kept {
            if rest.is_empty() {
                break;
            }
            if (line.shown != Shown::Cut || before.part == line.part) && boxes_meet(before, &line) {
                rest = rest.into_iter().flat_map(|line| without(line, before)).collect();
            }
        }
        kept.extend(rest);
    }
    kept.sort_by_key(|line| (line.part, line.shown));
    let mut strokes: Vec<Stroke> = Vec::new();
    let mut at = 0;
    while let Some(first) = kept.get(at) {
        let end = kept.iter().skip(at).position(|line| (line.part, line.shown) != (first.part, first.shown)).map_or(kept.len(), |n| at + n);
        strokes.extend(chains(kept.get(at..end).unwrap_or_default()));
        at = end;
    }
    strokes
}

fn length(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

fn boxes_meet(one: &Line, other: &Line) -> bool {
    (0..2).all(|at| {
        one.from[at].min(one.to[at]) <= other.from[at].max(other.to[at]) + ON
            && other.from[at].min(other.to[at]) <= one.from[at].max(one.to[at]) + ON
    })
}

/// What of a line does not lie on another.
fn without(line: Line, other: &Line) -> Vec<Line> {
    let long = length(line.from, line.to);
    let way = [(line.to[0] - line.from[0]) / long, (line.to[1] - line.from[1]) / long];
    let place = |at: [f64; 2]| {
        let by = [at[0] - line.from[0], at[1] - line.from[1]];
        (by[0] * way[0] + by[1] * way[1], by[0] * way[1] - by[1] * way[0])
    };
    let ((a, a_beside), (b, b_beside)) = (place(other.from), place(other.to));
    if a_beside.abs() > ON || b_beside.abs() > ON {
        return vec![line];
    }
    let (from, to) = (a.min(b), a.max(b));
    if to <= ON || from >= long - ON {
        return vec![line];
    }
    let at = |along: f64| [line.from[0] + along * way[0], line.from[1] + along * way[1]];
    let mut rest = Vec::new();
    if from > ON {
        rest.push(Line { to: at(from), ..line });
    }
    if to < long - ON {
        rest.push(Line { from: at(to), ..line });
    }
    rest
}

/// Lines of one part and one sort, each joined to the one that begins where it ends.
fn chains(lines: &[Line]) -> Vec<Stroke> {
    let mut free: Vec<Line> = lines.to_vec();
    free.reverse();
    let mut strokes = Vec::new();
    while let Some(first) = free.pop() {
        let mut points = vec![first.from, first.to];
        let mut closed = false;
        while let Some(end) = points.last().copied() {
            if points.len() > 2 && points.first().is_some_and(|start| length(*start, end) < ON) {
                points.pop();
                closed = true;
                break;
            }
            // Only one that goes on from there: at a corner of three lines each ends.
            let meets = |line: &Line| length(line.from, end) < ON || length(line.to, end) < ON;
            let Some(next) = free.iter().position(meets) else { break };
            let line = free.remove(next);
            points.push(if length(line.from, end) < ON { line.to } else { line.from });
        }
        strokes.push(Stroke { part: first.part, shown: first.shown, points: straightened(points, closed), closed });
    }
    strokes
}

/// Without points in the middle of a straight line.
fn straightened(points: Vec<[f64; 2]>, closed: bool) -> Vec<[f64; 2]> {
    let count = points.len();
    let is_needed = |at: usize| {
        if !closed && (at == 0 || at + 1 == count) {
            return true;
        }
        let (Some(before), Some(here), Some(after)) = (points.get((at + count - 1) % count), points.get(at), points.get((at + 1) % count))
        else {
            return true;
        };
        let across = (here[0] - before[0]) * (after[1] - before[1]) - (here[1] - before[1]) * (after[0] - before[0]);
        across.abs() > ON * length(*before, *after).max(ON)
    };
    let needed: Vec<bool> = (0..count).map(is_needed).collect();
    points.iter().zip(needed).filter(|(_, needed)| *needed).map(|(point, _)| *point).collect()
}
