//! Diagrams: curves over one measure, one panel above the other, with what is marked on the way.
//!
//! In: pictures whose shape is a `curve`, an `upright` or an `area`. Out: a view without a scale. The axes are numbered
//! in the author's units.

use super::gather::Missed;
use super::label::{self, Obstacles, Wish};
use super::lettering::{NORMAL, SMALL};
use super::sheet::{Anchor, Group, Item, LineType, Point, Rect, Text, View};
use crate::design::ViewForm;
use crate::formulas::{Table, table, word};
use crate::papers::row::Row;
use crate::units::{Dim, System, Unit, display_unit, figures};
use crate::values::{Evaluator, Record, Value};
use smol_str::SmolStr;

/// What is drawn of one picture.
struct Mark {
    of: SmolStr,
    kind: SmolStr,
    line: LineType,
    label: Option<String>,
    shape: Shape,
}

enum Shape {
    Curve(Vec<Point>),
    Upright(f64),
    Area { across: [f64; 2], up: [f64; 2] },
}

/// The numbers along an axis.
struct Axis {
    from: f64,
    to: f64,
    step: f64,
    unit: Option<Unit>,
}

/// Room for the numbers of the upright axis, mm.
const NUMBERS: f64 = 16.0;
/// Room for those of the other, mm.
const FOOT: f64 = 9.0;
/// Between panels, mm.
const GAP: f64 = 6.0;
/// Length of the stroke at a number, mm.
const STROKE: f64 = 1.5;
/// About how many numbers an axis has.
const NUMBERED: f64 = 8.0;

/// The panels as one view that fills `room`; `None` if there is nothing to draw. Gives also the names without a place.
pub(super) fn view(
    evaluator: &Evaluator,
    rows: &[&Row],
    panels: &[ViewForm],
    across_title: &str,
    room: &Rect,
    missed: &mut Missed,
) -> Option<(View, Vec<String>)> {
    let system = evaluator.system();
    let mut across_dim = Dim::NUMBER;
    let mut gathered: Vec<(&ViewForm, Dim, Vec<Mark>)> = Vec::new();
    for panel in panels {
        let mut up_dim = Dim::NUMBER;
        let marks: Vec<Mark> = rows
            .iter()
            .filter(|row| row.paper.words("sheet").iter().any(|word| panel.words.contains(word)))
            .filter_map(|row| mark(evaluator, row, missed, &mut across_dim, &mut up_dim))
            .collect();
        if marks.iter().any(|mark| !matches!(mark.shape, Shape::Upright(_))) {
            gathered.push((panel, up_dim, marks));
        }
    }
    let all = || gathered.iter().flat_map(|(_, _, marks)| marks);
    let across = axis(all().flat_map(|mark| mark.shape.ends(0)), across_dim, system, false)?;
    #[expect(clippy::cast_precision_loss, reason = "a few panels")]
    let count = gathered.len() as f64;
    let height = (room.height() - FOOT - GAP * (count - 1.0)) / count;
    let (left, right) = (room.from[0] + NUMBERS, room.to[0] - 4.0);
    let mut groups = Vec::new();
    let mut unplaced = Vec::new();
    let mut top = room.from[1];
    let last = gathered.len().saturating_sub(1);
    for (at, (panel, up_dim, marks)) in gathered.iter().enumerate() {
        let Some(up) = axis(marks.iter().flat_map(|mark| mark.shape.ends(1)).chain([0.0]), *up_dim, system, true) else { continue };
        let frame = Rect { from: [left, top], to: [right, top + height] };
        let paper = Paper { frame, across: &across, up: &up };
        let foot = (at == last).then_some(across_title);
        unplaced.extend(paper.draw(panel, marks, foot, &mut groups));
        top += height + GAP;
    }
    let view = View { name: SmolStr::new_static("diagram"), title: String::new(), origin: [left, top], ratio: 0.0, travel: 0.0, groups };
    Some((view, unplaced))
}

fn mark(evaluator: &Evaluator, row: &Row, missed: &mut Missed, across: &mut Dim, up: &mut Dim) -> Option<Mark> {
    let first = row.subjects().next()?;
    let value = match row.value("shape")? {
        Ok(value) => value,
        Err(lack) => {
            missed.note(evaluator, first, &lack);
            return None;
        }
    };
    let Value::Record(record) = value else { return None };
    let shape = shape(&record, across, up)?;
    let word = row.paper.words("line").first().map_or("outline", |word| word.as_str());
    let line = LineType::WORDS.iter().find(|(known, _)| *known == word).map_or(LineType::Outline, |(_, line)| *line);
    let component = evaluator.design().component(first);
    let label = match row.text("label") {
        Ok(label) => label.map(|label| label.to_string()),
        Err(lack) => {
            missed.note(evaluator, first, &lack);
            None
        }
    };
    let kind = evaluator.design().kind(component.kind).name.clone();
    Some(Mark { of: component.name.clone(), kind, line, label, shape })
}

fn shape(record: &Record, across: &mut Dim, up: &mut Dim) -> Option<Shape> {
    let numbers = |values: &[Value], dim: &mut Dim| -> Vec<f64> {
        // The sum of nothing is plain zero, whatever runs along the axis.
        if let Some(Value::Quantity(first)) = values.first().filter(|first| **first != Value::number(0.0)) {
            *dim = first.dim;
        }
        values.iter().filter_map(Value::si).collect()
    };
    let curve = |us: Vec<f64>, vs: Vec<f64>| {
        (us.len() == vs.len() && us.len() > 1).then(|| Shape::Curve(us.into_iter().zip(vs).map(|(u, v)| [u, v]).collect()))
    };
    if let Some(track) = table::StarTrack::of_record(record) {
        (*across, *up) = (Dim::ANGLE, Dim::ANGLE);
        return curve(track.across, track.up);
    }
    let plot = table::Plot::of_record(record)?;
    let us = numbers(&plot.across, across);
    let vs = numbers(&plot.up.unwrap_or_default(), up);
    match plot.shape {
        word::PlotShape::Upright => us.first().map(|across| Shape::Upright(*across)),
        word::PlotShape::Curve => curve(us, vs),
        word::PlotShape::Area => match (us.as_slice(), vs.as_slice()) {
            (&[a, b], &[c, d]) => Some(Shape::Area { across: [a, b], up: [c, d] }),
            _ => None,
        },
    }
}

impl Shape {
    fn ends(&self, at: usize) -> Vec<f64> {
        match self {
            Shape::Curve(points) => points.iter().filter_map(|point| point.get(at).copied()).collect(),
            Shape::Upright(across) if at == 0 => vec![*across],
            Shape::Upright(_) => Vec::new(),
            Shape::Area { across, up } => if at == 0 { across } else { up }.to_vec(),
        }
    }
}

/// An axis that holds all values, in a unit that suits the largest.
fn axis(values: impl Iterator<Item = f64>, dim: Dim, system: System, headroom: bool) -> Option<Axis> {
    let (from, to) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(from, to), x| (from.min(x), to.max(x)));
    if !(from.is_finite() && to.is_finite()) {
        return None;
    }
    let to = if to > from { to } else { from + 1.0 };
    let unit = display_unit(from.abs().max(to.abs()), dim, None, system);
    let unit = unit.map(|unit| if unit.is_feet_inches() { Unit::parse("ft").unwrap_or(unit) } else { unit });
    let (low, high) = unit.as_ref().map_or((from, to), |unit| (unit.from_si(from), unit.from_si(to)));
    let of_angle = unit.as_ref().is_some_and(|unit| unit.text == "deg");
    let step = round_step((high - low) / NUMBERED, of_angle);
    // A number above the highest, so that no curve runs along the frame.
    let (low, high) =
        if headroom { ((low / step).floor() * step, ((high + 0.05 * (high - low)) / step).ceil() * step) } else { (low, high) };
    // Nothing stands higher than the zenith.
    let high = if headroom && of_angle { high.min(90.0) } else { high };
    let si = |x: f64| unit.as_ref().map_or(x, |unit| unit.to_si(x));
    Some(Axis { from: si(low), to: si(high), step, unit })
}

/// A step of 1, 2 or 5 times a power of ten; of angles one that divides the compass.
fn round_step(least: f64, of_angle: bool) -> f64 {
    if of_angle {
        return [1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 45.0].into_iter().find(|step| *step >= least).unwrap_or(90.0);
    }
    let power = 10.0_f64.powf(least.log10().floor());
    [1.0, 2.0, 5.0].into_iter().map(|step| step * power).find(|step| *step >= least * (1.0 - 1e-9)).unwrap_or(10.0 * power)
}

impl Axis {
    /// The numbers along it: where, and what is written.
    fn numbers(&self) -> Vec<(f64, String)> {
        let of = |si: f64| self.unit.as_ref().map_or(si, |unit| unit.from_si(si));
        let back = |x: f64| self.unit.as_ref().map_or(x, |unit| unit.to_si(x));
        let first = (of(self.from) / self.step - 1e-9).ceil();
        let last = (of(self.to) / self.step + 1e-9).floor();
        let mut numbers = Vec::new();
        let mut at = first;
        while at <= last {
            numbers.push((back(at * self.step), figures(at * self.step, 4)));
            at += 1.0;
        }
        numbers
    }

    fn titled(&self, title: &str) -> String {
        match &self.unit {
            Some(unit) => format!("{title}, {}", unit.text),
            None => title.to_owned(),
        }
    }
}

/// One panel on the paper.
struct Paper<'a> {
    frame: Rect,
    across: &'a Axis,
    up: &'a Axis,
}

impl Paper<'_> {
    fn point(&self, [u, v]: Point) -> Point {
        let part = |x: f64, axis: &Axis| (x - axis.from) / (axis.to - axis.from);
        [self.frame.from[0] + part(u, self.across) * self.frame.breadth(), self.frame.to[1] - part(v, self.up) * self.frame.height()]
    }

    fn draw(&self, panel: &ViewForm, marks: &[Mark], foot: Option<&str>, groups: &mut Vec<Group>) -> Vec<String> {
        let [left, top] = self.frame.from;
        let [right, bottom] = self.frame.to;
        let text =
            |at: Point, words: String, height: f64, anchor: Anchor, turned: bool| Item::Text(Text { at, words, height, anchor, turned });
        let mut axes = vec![Item::Path {
            points: vec![[left, top], [left, bottom], [right, bottom], [right, top]],
            closed: true,
            line: LineType::Thin,
        }];
        for (value, words) in self.up.numbers() {
            let [_, y] = self.point([self.across.from, value]);
            axes.push(Item::segment([left - STROKE, y], [left, y], LineType::Thin));
            axes.push(text([left - STROKE - 1.0, y + SMALL / 2.0], words, SMALL, Anchor::End, false));
        }
        for (value, words) in self.across.numbers() {
            let [x, _] = self.point([value, self.up.from]);
            axes.push(Item::segment([x, bottom], [x, bottom + STROKE], LineType::Thin));
            if foot.is_some() {
                axes.push(text([x, bottom + STROKE + 1.0 + SMALL], words, SMALL, Anchor::Middle, false));
            }
        }
        axes.push(text(
            [left - NUMBERS + NORMAL + 0.5, f64::midpoint(top, bottom)],
            self.up.titled(&panel.title),
            NORMAL,
            Anchor::Middle,
            true,
        ));
        if let Some(foot) = foot {
            axes.push(text([f64::midpoint(left, right), bottom + FOOT], self.across.titled(foot), NORMAL, Anchor::Middle, false));
        }
        let mut obstacles = Obstacles::default();
        axes.iter().for_each(|item| obstacles.add(item));
        let mut wishes = Vec::new();
        for mark in marks {
            let (items, anchors) = self.mark(mark);
            items.iter().for_each(|item| obstacles.add(item));
            groups.push(Group { of: mark.of.clone(), layer: mark.kind.clone(), moves_with: None, items });
            if let Some(words) = &mark.label {
                wishes.push(Wish { words: words.clone(), anchors, own: None });
            }
        }
        let mut names = Vec::new();
        let unplaced = label::place(&wishes, &mut obstacles, &self.frame, &mut names);
        let group =
            |of: &'static str, items| Group { of: SmolStr::new_static(of), layer: SmolStr::new_static(of), moves_with: None, items };
        groups.push(group("axis", axes));
        groups.push(group("name", names));
        unplaced
    }

    /// What is drawn of a mark, and where a leader may point.
    fn mark(&self, mark: &Mark) -> (Vec<Item>, Vec<Point>) {
        let path = |points: Vec<Point>, closed| Item::Path { points, closed, line: mark.line };
        match &mark.shape {
            Shape::Curve(points) => {
                let points: Vec<Point> = points.iter().map(|point| self.point(*point)).collect();
                let anchors = [0.5, 0.3, 0.7, 0.15, 0.85, 0.4, 0.6].map(|part| {
                    #[expect(
                        clippy::cast_precision_loss,
                        clippy::cast_possible_truncation,
                        clippy::cast_sign_loss,
                        reason = "a place in a list"
                    )]
                    let at = (part * points.len() as f64) as usize;
                    points.get(at).copied()
                });
                let anchors = anchors.into_iter().flatten().collect();
                (vec![path(points, false)], anchors)
            }
            Shape::Upright(across) => {
                let [x, _] = self.point([*across, self.up.from]);
                let between = |part: f64| [x, self.frame.from[1] + part * self.frame.height()];
                (vec![path(vec![between(0.0), between(1.0)], false)], [0.1, 0.2, 0.3, 0.45, 0.6, 0.75].map(between).to_vec())
            }
            Shape::Area { across, up } => {
                let ([a, b], [c, d]) = (*across, *up);
                let corners: Vec<Point> = [[a, c], [b, c], [b, d], [a, d]].into_iter().map(|corner| self.point(corner)).collect();
                let bounds = Rect::around(&corners);
                let middle = [f64::midpoint(bounds.from[0], bounds.to[0]), f64::midpoint(bounds.from[1], bounds.to[1])];
                (vec![path(corners, true)], vec![middle, [middle[0], bounds.from[1]], [middle[0], bounds.to[1]]])
            }
        }
    }
}
