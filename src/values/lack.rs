//! What stands in the way of a value.

use crate::design::{ComponentId, Design, KindId, NodeId, NodeKind};
use smol_str::SmolStr;
use std::sync::Arc;

/// As many missing lines are named of one value: nobody goes through more of them, and where each of many components
/// waits for all the others the lists would together be as long as the square of the design.
pub const MOST_MISSING: usize = 64;

/// Why there is no value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Lack {
    /// Lines that nobody has written yet, each once, in order: of more than [`MOST_MISSING`] the first.
    Missing(Arc<[Missing]>),
    /// A line that it stands on is wrong; that has been said where it stands.
    Faulty,
}

/// Something that the design does not say.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Missing {
    /// This property has no line.
    Line(NodeId),
    /// There is no component of this kind.
    Component(KindId),
    /// There are components of this kind, and none of them is among those that this component looks for.
    Connected(KindId, ComponentId),
    /// Nobody said which day it is.
    Today,
}

/// A line that is not written.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct MissingLine {
    /// Whose line; where a whole component is missing, its kind.
    pub component: SmolStr,
    /// Which property; empty where a whole component is missing.
    pub property: SmolStr,
    /// What it means.
    pub doc: SmolStr,
}

impl MissingLine {
    /// What is missing, by the names that a person knows it under.
    #[must_use]
    pub fn of(design: &Design, missing: &Missing) -> MissingLine {
        match missing {
            Missing::Component(kind) => {
                let kind = design.kind(*kind);
                MissingLine { component: kind.name.clone(), property: SmolStr::default(), doc: kind.doc.clone() }
            }
            Missing::Connected(kind, id) => {
                let kind = design.kind(*kind);
                let doc = format!("one that is connected to {}", design.component(*id).name);
                MissingLine { component: kind.name.clone(), property: SmolStr::default(), doc: doc.into() }
            }
            Missing::Today => MissingLine {
                component: SmolStr::new_static("today"),
                property: SmolStr::default(),
                doc: SmolStr::new_static("the day of the check"),
            },
            Missing::Line(node) => match design.node_kind(*node) {
                NodeKind::Property(id, property) => {
                    let declared = design.kind_of(id).properties.get(property);
                    MissingLine {
                        component: design.component(id).name.clone(),
                        property: declared.map(|declared| declared.name.clone()).unwrap_or_default(),
                        doc: declared.map(|declared| declared.doc.clone()).unwrap_or_default(),
                    }
                }
                NodeKind::Named(_) => {
                    MissingLine { component: design.node_name(*node).into(), property: SmolStr::default(), doc: SmolStr::default() }
                }
            },
        }
    }
}

impl Lack {
    /// One thing is missing.
    #[must_use]
    pub fn missing(what: Missing) -> Lack {
        Lack::Missing(Arc::new([what]))
    }

    /// Both lacks together: all missing lines of both; a fault is only told where nothing is missing.
    #[must_use]
    pub fn with(self, other: Lack) -> Lack {
        match (self, other) {
            (Lack::Missing(a), Lack::Missing(b)) => Lack::Missing(together(a, b)),
            (Lack::Missing(a), Lack::Faulty) | (Lack::Faulty, Lack::Missing(a)) => Lack::Missing(a),
            (Lack::Faulty, Lack::Faulty) => Lack::Faulty,
        }
    }

    /// As [`Lack::lines`], to be kept.
    #[must_use]
    pub fn shared_lines(&self) -> Arc<[Missing]> {
        match self {
            Lack::Missing(lines) => Arc::clone(lines),
            Lack::Faulty => Arc::new([]),
        }
    }

    /// What is missing.
    #[must_use]
    pub fn lines(&self) -> &[Missing] {
        match self {
            Lack::Missing(lines) => lines,
            Lack::Faulty => &[],
        }
    }
}

/// Whether all of these lines come after those of a list that is full.
fn is_beyond(lines: &[Missing], full: &[Missing]) -> bool {
    full.len() >= MOST_MISSING && lines.first() >= full.last()
}

/// The lines of both lists in order; the list itself where the other adds nothing to it.
fn together(a: Arc<[Missing]>, b: Arc<[Missing]>) -> Arc<[Missing]> {
    if Arc::ptr_eq(&a, &b) || is_beyond(&b, &a) {
        return a;
    }
    if is_beyond(&a, &b) {
        return b;
    }
    let (mut left, mut right) = (a.iter().peekable(), b.iter().peekable());
    let mut all: Vec<Missing> = Vec::with_capacity(MOST_MISSING.min(a.len() + b.len()));
    while all.len() < MOST_MISSING {
        let next = match (left.peek(), right.peek()) {
            (Some(one), Some(other)) if one == other => {
                right.next();
                left.next()
            }
            (Some(one), Some(other)) if one > other => right.next(),
            (Some(_), _) => left.next(),
            (None, _) => right.next(),
        };
        let Some(next) = next else { break };
        all.push(*next);
    }
    [a, b].into_iter().find(|list| **list == *all).unwrap_or_else(|| all.into())
}
