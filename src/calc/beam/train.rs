//! Wheels at fixed distances that roll along a beam, and their way, cut where one passes a node.
//!
//! In: the wheels with their distances and loads, where the first starts and ends. Out: the positions between which every
//! quantity is one polynomial. It must not know which way the roof opens, or how the loads came about.

use super::influence::Influence;

/// One wheel of a train.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wheel {
    /// Distance to the right of the train's position, m.
    pub offset: f64,
    /// Load on the beam, N, down.
    pub load: f64,
}

/// Wheels at fixed distances, rolling from one position to another. A wheel beyond the beam's ends does not load it.
#[derive(Debug, Clone, PartialEq)]
pub struct Train {
    /// The wheels in any order.
    pub wheels: Vec<Wheel>,
    /// Position at one end of the way, m (a wheel stands at position + offset).
    pub from: f64,
    /// Position at the other end, m, left or right of `from`.
    pub to: f64,
}

/// An extreme value with what causes it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Governing {
    /// The value, in the unit of its quantity.
    pub value: f64,
    /// Position of the train that causes it, m.
    pub train: f64,
    /// Place along the beam, m.
    pub at: f64,
}

/// What one support carries at most and at least.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SupportRange {
    /// The largest reaction, N, up.
    pub largest: Governing,
    /// The smallest reaction, N; negative where the beam pulls the support up.
    pub smallest: Governing,
}

/// The way of the train, cut where a wheel passes a node.
pub(super) struct Passes {
    /// The wheels from left to right.
    pub wheels: Vec<Wheel>,
    /// Positions of the train in rising order, from one end of the way to the other.
    pub cuts: Vec<f64>,
    /// Where the beam begins and ends.
    beam: (f64, f64),
}

impl Passes {
    pub(super) fn new(influence: &Influence, train: &Train) -> Self {
        let nodes = &influence.solved.mesh.nodes;
        let (first, last) = (train.from.min(train.to), train.from.max(train.to));
        let mut cuts: Vec<f64> = train
            .wheels
            .iter()
            .flat_map(|wheel| nodes.iter().map(move |node| node.at - wheel.offset))
            .filter(|&position| position > first && position < last)
            .collect();
        cuts.push(first);
        cuts.push(last);
        cuts.sort_by(f64::total_cmp);
        let ends = |at: Option<&super::model::Node>| at.map_or(0.0, |n| n.at);
        let mut wheels = train.wheels.clone();
        wheels.sort_by(|one, other| one.offset.total_cmp(&other.offset));
        Self { wheels, cuts, beam: (ends(nodes.first()), ends(nodes.last())) }
    }

    /// The stretches of the way in which no wheel passes a node: where each starts, and how long it is.
    /// The two ends of the way come as stretches without length, for a wheel that just reaches a free end there.
    pub(super) fn stretches(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        let (first, last) = self.way();
        let between = self.cuts.windows(2).filter_map(|pair| match pair {
            [start, end] => Some((*start, end - start)),
            _ => None,
        });
        [(first, 0.0), (last, 0.0)].into_iter().chain(between.filter(|&(_, width)| width > 1e-12))
    }

    /// The first and the last position.
    pub(super) fn way(&self) -> (f64, f64) {
        (self.cuts.first().copied().unwrap_or(0.0), self.cuts.last().copied().unwrap_or(0.0))
    }

    /// Positions closer than this are one position, m.
    pub(super) fn near(&self) -> f64 {
        1e-9 * (self.beam.1 - self.beam.0)
    }

    /// The place of a wheel in the middle of a stretch, if it is on the beam then.
    pub(super) fn on_beam(&self, wheel: &Wheel, start: f64, width: f64) -> Option<f64> {
        let middle = start + 0.5 * width + wheel.offset;
        (middle >= self.beam.0 - self.near() && middle <= self.beam.1 + self.near()).then_some(middle)
    }
}
