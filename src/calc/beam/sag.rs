//! The deepest deflection and the highest rise over all positions of a train.
//!
//! In: influence lines, the way of the train, the answer to the beam's own weight, a bound of the moment on each element.
//! Out: both extremes with position and place.
//! It must not know how the bounds came about.
//!
//! At a fixed place the deflection is a cubic in the position between two passes, so its extremes are exact.
//! Along the beam the deflections for different positions overlap, but all bend alike: between two places `h` apart
//! none can stand higher above the straight line through the extremes at both places than `M·h²/8EI` (a curve bent by
//! at most M/EI, with `M` the largest moment on the element). Halving the length that could still hold more than the
//! best found so far closes in on the extreme: branch and bound.

use std::collections::BinaryHeap;

use super::influence::{Cubic, Influence};
use super::model::Element;
use super::response::Response;
use super::train::{Governing, Passes};

/// The extreme is closed in to this part of its value, or of the beam's bending at large where it is next to nothing.
const NEAR_ENOUGH: f64 = 1e-8;

/// The search ends after this many looks, whatever is left: loads near the limits of a number could keep it going forever.
/// A beam of twelve supports needs about a hundred.
const MOST_LOOKS: usize = 100_000;

/// A length of beam that may hold more than the best found so far.
struct Length {
    /// What it cannot exceed.
    bound: f64,
    element: usize,
    left: (f64, f64),
    right: (f64, f64),
}

impl PartialEq for Length {
    fn eq(&self, other: &Self) -> bool {
        self.bound == other.bound
    }
}
impl Eq for Length {}
impl PartialOrd for Length {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
impl Ord for Length {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.bound.total_cmp(&other.bound)
    }
}

/// Finds the deepest deflection and the highest rise.
pub(super) fn search(influence: &Influence, passes: &Passes, resting: &Response, bands: &[(f64, f64)]) -> (Governing, Governing) {
    let events = Events::new(influence, passes);
    let down = |x, element| events.extremes(influence, passes, resting, element, x);
    let bends = |index: usize, downwards: bool| {
        let (hogging, sagging) = bands.get(index).copied().unwrap_or((0.0, 0.0));
        let ei = influence.solved.mesh.elements.get(index).map_or(f64::INFINITY, |p| p.bending_stiffness);
        if downwards { sagging / ei } else { -hogging / ei }
    };
    let bulge = |(index, element): (usize, &Element)| bends(index, true).max(bends(index, false)) * element.length * element.length / 8.0;
    let trifle = 0.1 * NEAR_ENOUGH * influence.solved.mesh.elements.iter().enumerate().map(bulge).fold(0.0, f64::max);
    // Both extremes at the ends of each element come of one look.
    let at_ends = |(index, element): (usize, &Element)| [down(element.left, index), down(element.left + element.length, index)];
    let ends: Vec<[(Governing, Governing); 2]> = influence.solved.mesh.elements.iter().enumerate().map(at_ends).collect();
    let deepest = |ends: &[(Governing, Governing); 2]| ends.map(|(deepest, _)| deepest);
    let highest = |ends: &[(Governing, Governing); 2]| ends.map(|(_, highest)| highest);
    let deepest =
        close_in(influence, ends.iter().map(deepest), |element, x| down(x, element).0, |element| bends(element, true), 1.0, trifle);
    let highest =
        close_in(influence, ends.iter().map(highest), |element, x| down(x, element).1, |element| bends(element, false), -1.0, trifle);
    (deepest, highest)
}

/// `ends` are the extremes at both ends of each element, the lower places first.
fn close_in(
    influence: &Influence,
    ends: impl Iterator<Item = [Governing; 2]> + Clone,
    extreme_at: impl Fn(usize, f64) -> Governing,
    curvature: impl Fn(usize) -> f64,
    sign: f64,
    trifle: f64,
) -> Governing {
    let mut best = ends.clone().next().map_or_else(|| extreme_at(0, 0.0), |[left, _]| left);
    best.value = 0.0;
    let mut look = |x: f64, found: Governing| {
        if found.value * sign > best.value * sign {
            best = found;
        }
        ((x, found.value * sign), best.value * sign)
    };
    let length = |element: usize, left: (f64, f64), right: (f64, f64)| Length {
        bound: highest_point(left, right, curvature(element)),
        element,
        left,
        right,
    };
    let mut open = BinaryHeap::with_capacity(64);
    let mut known = 0.0;
    for ((index, element), [left, right]) in influence.solved.mesh.elements.iter().enumerate().zip(ends) {
        let (left, _) = look(element.left, left);
        let (right, reached) = look(element.left + element.length, right);
        known = reached;
        open.push(length(index, left, right));
    }
    let hopeless = |bound: f64, known: f64| bound <= known + (NEAR_ENOUGH * known).max(trifle);
    for _ in 0..MOST_LOOKS {
        let Some(widest) = open.pop().filter(|widest| !hopeless(widest.bound, known)) else {
            break;
        };
        let x = 0.5 * (widest.left.0 + widest.right.0);
        let (middle, reached) = look(x, extreme_at(widest.element, x));
        known = reached;
        for (left, right) in [(widest.left, middle), (middle, widest.right)] {
            let half = length(widest.element, left, right);
            if !hopeless(half.bound, known) {
                open.push(half);
            }
        }
    }
    best
}

/// The highest point of the parabola of the given curvature over the line between two points.
fn highest_point(left: (f64, f64), right: (f64, f64), curvature: f64) -> f64 {
    let h = right.0 - left.0;
    let rise = right.1 - left.1;
    let bulge = curvature * h * h / 8.0;
    if bulge <= 0.0 || rise.abs() >= 4.0 * bulge {
        return left.1.max(right.1);
    }
    0.5 * (left.1 + right.1) + bulge + rise * rise / (16.0 * bulge)
}

/// A wheel passes from one element to the next.
#[derive(Clone, Copy)]
struct Event {
    position: f64,
    wheel: usize,
    from: Option<usize>,
    to: Option<usize>,
}

/// Everything that happens on the way, in order.
struct Events {
    start: f64,
    end: f64,
    /// The element that each wheel stands on at the start.
    first: Vec<Option<usize>>,
    list: Vec<Event>,
}

impl Events {
    fn new(influence: &Influence, passes: &Passes) -> Self {
        let mesh = &influence.solved.mesh;
        let (start, end) = passes.way();
        let (last, near) = (mesh.nodes.len() - 1, passes.near());
        let mut first = vec![None; passes.wheels.len()];
        let mut list = Vec::with_capacity(passes.cuts.len());
        for ((index, wheel), stands) in passes.wheels.iter().enumerate().zip(&mut first) {
            for (node, place) in mesh.nodes.iter().enumerate() {
                let position = place.at - wheel.offset;
                let to = (node < last).then_some(node);
                // A wheel leaves the right end just after it was there, and arrives at the left end just in time.
                let passed = if node == last { position < start - near } else { position <= start };
                let reached = if node == 0 { position <= end + near } else { position < end };
                if passed {
                    *stands = to;
                } else if reached {
                    let position = position.clamp(start, end);
                    list.push(Event { position, wheel: index, from: node.checked_sub(1), to });
                }
            }
        }
        list.sort_by(|one, other| one.position.total_cmp(&other.position));
        Self { start, end, first, list }
    }

    /// The deepest and the highest deflection at `x`, which stands on element `on`, over all positions.
    fn extremes(&self, influence: &Influence, passes: &Passes, resting: &Response, on: usize, x: f64) -> (Governing, Governing) {
        let (line, beyond_x) = influence.deflection_line(on, x);
        let elements = &influence.solved.mesh.elements;
        let (left, right) = elements.get(on).map_or((x, x), |p| (p.left, p.left + p.length));
        // A wheel that comes onto the element from the left stands left of x, unless x is the left end, and so on.
        let (comes_right, leaves_right, inside) = (x <= left, x < right, x > left && x < right);
        let term = |wheel: usize, element: Option<usize>, position: f64, right_of_x: bool| -> Cubic {
            let (Some(wheel), Some(index)) = (passes.wheels.get(wheel), element) else {
                return Cubic::ZERO;
            };
            let (Some(cubic), Some(element)) = (line.get(index), elements.get(index)) else {
                return Cubic::ZERO;
            };
            let cubic = if index == on && right_of_x { &beyond_x } else { cubic };
            cubic.shifted(position + wheel.offset - element.left).scaled(wheel.load)
        };
        let mut sum = Cubic::constant(resting.deflection(x));
        for (index, (wheel, element)) in passes.wheels.iter().zip(&self.first).enumerate() {
            // Asked as below, where the wheels that are yet to pass x are listed: rounded otherwise, one on x would be on neither side.
            let right_of_x = leaves_right && x - wheel.offset <= self.start;
            sum = sum.plus(&term(index, *element, self.start, right_of_x));
        }
        // The wheels pass x from the last to the first.
        let mut over_x = passes
            .wheels
            .iter()
            .enumerate()
            .rev()
            .map(|(index, wheel)| (index, x - wheel.offset))
            .skip_while(|&(_, position)| position <= self.start)
            .take_while(|&(_, position)| inside && position < self.end)
            .peekable();
        let mut next = self.list.iter().peekable();

        let at_start = Governing { value: sum.at(0.0), train: self.start, at: x };
        let mut found = (at_start, at_start);
        let mut here = self.start;
        loop {
            let pass = next.peek().map_or(self.end, |event| event.position);
            let over = over_x.peek().map_or(self.end, |&(_, position)| position);
            let to = pass.min(over);
            extremes_on(&sum, here, to - here, &mut found);
            sum = sum.shifted(to - here);
            here = to;
            if over <= pass
                && let Some((wheel, _)) = over_x.next()
            {
                let before = term(wheel, Some(on), here, false);
                sum = sum.plus(&term(wheel, Some(on), here, true)).minus(&before);
            } else if let Some(event) = next.next() {
                let before = term(event.wheel, event.from, here, leaves_right);
                sum = sum.plus(&term(event.wheel, event.to, here, comes_right)).minus(&before);
            } else {
                return found;
            }
        }
    }
}

/// Meets the extremes of a cubic on `[0, width]`: its ends and the two places where it is level, if one there can be an extreme.
fn extremes_on(sum: &Cubic, position: f64, width: f64, found: &mut (Governing, Governing)) {
    meet(sum, position, 0.0, found);
    meet(sum, position, width, found);
    let (low, high) = sum.bounds(width);
    if high > found.0.value || low < found.1.value {
        sum.level_places(width).iter().for_each(|t| meet(sum, position, t, found));
    }
}

fn meet(sum: &Cubic, position: f64, t: f64, found: &mut (Governing, Governing)) {
    let value = sum.at(t);
    if value > found.0.value {
        found.0 = Governing { value, train: position + t, ..found.0 };
    }
    if value < found.1.value {
        found.1 = Governing { value, train: position + t, ..found.1 };
    }
}
