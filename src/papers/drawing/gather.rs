//! The pictures of a view: what the `picture` blocks say of each component, and what they cannot say.

use super::bodies::Bodies;
use super::flat::{Axis, Flat, Plane, flats};
use super::sheet::LineType;
use crate::calc::sight::Eye;
use crate::design::{ComponentId, NodeKind};
use crate::papers::row::Row;
use crate::values::{Evaluator, Lack, Missing, Value};
use smol_str::{SmolStr, ToSmolStr};

/// What is drawn of one component in one view.
#[derive(Debug)]
pub(super) struct Drawn {
    pub of: SmolStr,
    pub layer: SmolStr,
    pub line: LineType,
    pub label: Option<String>,
    pub moves_with: Option<SmolStr>,
    /// How far it rolls with its roof where the view shows the roof open, m.
    pub travel: f64,
    pub flats: Vec<Flat>,
    pub bodies: Bodies,
}

/// A place to be dimensioned.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Tick {
    pub at: f64,
    pub label: String,
    /// Less, more, m.
    pub tolerance: Option<(f64, f64)>,
}

/// Places along one measure that are dimensioned in one row.
#[derive(Debug)]
pub(super) struct Chain {
    pub name: String,
    pub axis: Axis,
    /// From the datum, each for itself; else from one to the next.
    pub running: bool,
    pub ticks: Vec<Tick>,
}

/// All of a view.
#[derive(Debug, Default)]
pub(super) struct Gathered {
    pub drawn: Vec<Drawn>,
    pub chains: Vec<Chain>,
    /// How near to the eye it is cut, m.
    pub cut: Option<f64>,
}

/// What is missing for a sheet, in the order in which it was missed.
#[derive(Debug, Default)]
pub(super) struct Missed {
    /// The property with the components that do not say it.
    lines: Vec<(SmolStr, Vec<ComponentId>)>,
    /// What is missing as a whole, in words.
    wholes: Vec<String>,
    faulty: Vec<SmolStr>,
}

/// The pictures among `rows` that go onto a view by one of these words.
pub(super) fn gather<'r, 'p: 'r>(
    evaluator: &Evaluator,
    rows: impl IntoIterator<Item = &'r Row<'p>>,
    words: &[SmolStr],
    (eye, plane): (&Eye, Option<Plane>),
    missed: &mut Missed,
) -> Gathered {
    let mut gathered = Gathered::default();
    for row in rows.into_iter().filter(|row| row.paper.words("sheet").iter().any(|word| words.contains(word))) {
        let Some(first) = row.subjects().next() else { continue };
        let (shape, reads) = evaluator.reading(|| row.value("shape"));
        let shape = match shape {
            None => continue,
            Some(Ok(shape)) => shape,
            Some(Err(lack)) => {
                missed.note(evaluator, first, &lack);
                continue;
            }
        };
        let label = match row.text("label") {
            Ok(label) => label.map(|label| begun_large(&label)),
            Err(lack) => {
                missed.note(evaluator, first, &lack);
                None
            }
        };
        let flats = plane.map(|plane| flats(&shape, plane)).unwrap_or_default();
        let component = evaluator.design().component(first);
        for (key, running) in [("chain", false), ("running", true)] {
            let Ok(Some(name)) = row.text(key) else { continue };
            for flat in &flats {
                let Flat::Places { axis, values } = flat else { continue };
                let label = label.clone().unwrap_or_default();
                let tolerance = if values.len() == 1 { tolerance(evaluator, &reads) } else { None };
                let ticks = values.iter().map(|at| Tick { at: *at, label: label.clone(), tolerance });
                gathered.chain(&name, *axis, running).ticks.extend(ticks);
            }
        }
        let is = |line: &str| row.flag(line).ok().flatten().unwrap_or(false);
        if is("cuts") {
            gathered.cut = flats.iter().find_map(|flat| match flat {
                Flat::Places { axis, values } => Some(axis.depth(eye, *values.first()?)),
                _ => None,
            });
        }
        let mut bodies = Bodies::of(&shape, is("whole"), is("behind"));
        if bodies.are_none() && flats.iter().all(|flat| matches!(flat, Flat::Places { .. })) {
            continue;
        }
        let word = row.paper.words("line").first().map_or("outline", |word| word.as_str());
        let line = LineType::WORDS.iter().find(|(known, _)| *known == word).map_or(LineType::Outline, |(_, line)| *line);
        let moves_with = row.value("moves_with").and_then(Result::ok).and_then(|value| first_name(evaluator, &value));
        let travel = row.quantity("travel").ok().flatten().map_or(0.0, |travel| travel.si);
        let layer = evaluator.design().kind(component.kind).name.clone();
        let of = component.name.to_smolstr();
        for bodies in if is("seams") { bodies.split_off() } else { Vec::new() } {
            let (of, layer, moves_with) = (of.clone(), layer.clone(), moves_with.clone());
            gathered.drawn.push(Drawn { of, layer, line, label: None, moves_with, travel, flats: Vec::new(), bodies });
        }
        gathered.drawn.push(Drawn { of, layer, line, label, moves_with, travel, flats, bodies });
    }
    for chain in &mut gathered.chains {
        chain.ticks.sort_by(|a, b| a.at.total_cmp(&b.at));
    }
    gathered
}

impl Gathered {
    fn chain(&mut self, name: &str, axis: Axis, running: bool) -> &mut Chain {
        let at = self.chains.iter().position(|chain| chain.name == name && chain.axis == axis && chain.running == running);
        let at = at.unwrap_or_else(|| {
            self.chains.push(Chain { name: name.to_owned(), axis, running, ticks: Vec::new() });
            self.chains.len() - 1
        });
        &mut self.chains[at]
    }
}

fn first_name(evaluator: &Evaluator, value: &Value) -> Option<SmolStr> {
    match value {
        Value::Component(id) => Some(evaluator.design().component(*id).name.to_smolstr()),
        Value::List(items) => items.iter().find_map(|item| first_name(evaluator, item)),
        _ => None,
    }
}

/// The tolerance of a place, if it is one written number that has one.
fn tolerance(evaluator: &Evaluator, reads: &[crate::design::NodeId]) -> Option<(f64, f64)> {
    match evaluator.tolerances_of(reads).as_slice() {
        [(_, only)] => Some((only.down, only.up)),
        _ => None,
    }
}

impl Missed {
    /// Keeps what is missing for a component.
    pub fn note(&mut self, evaluator: &Evaluator, of: ComponentId, lack: &Lack) {
        let design = evaluator.design();
        if *lack == Lack::Faulty {
            let name = design.component(of).name.to_smolstr();
            if !self.faulty.contains(&name) {
                self.faulty.push(name);
            }
        }
        for missing in lack.lines() {
            match missing {
                Missing::Line(node) => {
                    let NodeKind::Property(id, property) = design.node_kind(*node) else { continue };
                    let Some(property) = design.kind_of(id).properties.get(property) else { continue };
                    match self.lines.iter_mut().find(|(name, _)| *name == property.name) {
                        Some((_, ids)) if ids.contains(&id) => {}
                        Some((_, ids)) => ids.push(id),
                        None => self.lines.push((property.name.clone(), vec![id])),
                    }
                }
                Missing::Component(kind) => {
                    self.whole(format!("a {}", design.kind(*kind).name));
                }
                Missing::Connected(kind, id) => {
                    self.whole(format!("a {} connected to {}", design.kind(*kind).name, design.component(*id).name));
                }
                Missing::Today => self.whole("today's date".to_owned()),
            }
        }
    }

    fn whole(&mut self, what: String) {
        if !self.wholes.contains(&what) {
            self.wholes.push(what);
        }
    }

    /// In words, a line of text each.
    pub fn told(&self, evaluator: &Evaluator) -> Vec<String> {
        let design = evaluator.design();
        let name = |id: &ComponentId| design.component(*id).name.to_string();
        let lines = self.lines.iter().map(|(property, ids)| {
            let names: Vec<String> = ids.iter().map(name).collect();
            format!("{property} of {}", joined(&names))
        });
        let faulty = self.faulty.iter().map(|name| format!("{name}, whose lines have a mistake: see wallplate check"));
        lines.chain(self.wholes.iter().cloned()).chain(faulty).collect()
    }
}

/// A text with a capital letter at its beginning.
pub(super) fn begun_large(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// Names in a row, those of one array together: `Post 1, Post 2, Gate` is `Post 1, 2, Gate`; `post[1], post[2]` is `post[1, 2]`; `Top of
/// sill, Top of wall` is `Top of sill, wall`.
pub(super) fn joined(names: &[String]) -> String {
    let is_number = |text: &str| !text.is_empty() && text.chars().all(|letter| letter.is_ascii_digit());
    let split = |name: &str| {
        let bracketed =
            name.strip_suffix(']').and_then(|name| name.split_once('[')).map(|(stem, number)| (stem.to_owned(), "[", number.to_owned()));
        let spoken = || {
            name.rsplit_once(' ').filter(|(_, number)| is_number(number)).map(|(stem, number)| (stem.to_owned(), " ", number.to_owned()))
        };
        bracketed.or_else(spoken)
    };
    let mut rows: Vec<(String, &str, Vec<String>)> = Vec::new();
    for name in names {
        let Some((stem, between, number)) = split(name) else {
            rows.push((name.clone(), "", Vec::new()));
            continue;
        };
        match rows.iter_mut().find(|(known, _, numbers)| *known == stem && !numbers.is_empty()) {
            Some((_, _, numbers)) => numbers.push(number),
            None => rows.push((stem, between, vec![number])),
        }
    }
    let shown = rows.into_iter().map(|(stem, between, numbers)| {
        let numbers = numbers.join(", ");
        if between == "[" { format!("{stem}[{numbers}]") } else { format!("{stem}{between}{numbers}") }
    });
    let shown: Vec<String> = shown.collect();
    // What is said of the one before is not said again.
    let lead = |name: &str| name.split_once(" of ").map(|(lead, _)| lead.to_owned());
    let after = shown.iter().skip(1).zip(&shown).map(|(name, before)| match (lead(name), lead(before)) {
        (Some(own), Some(known)) if own == known => &name[own.len() + " of ".len()..],
        _ => name.as_str(),
    });
    shown.first().map(String::as_str).into_iter().chain(after).collect::<Vec<_>>().join(", ")
}
