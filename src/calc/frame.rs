//! A plane frame of straight bars: how far it sways and what each bar carries.
//!
//! In: bars between places of one plane (across and up), where it is held, what pushes at it. Out: how far each push moves
//! its place, the force and the bending of each bar, what each hold takes. Bars that meet are joined, also where one ends on
//! another's length; an end that is a hinge turns freely. It must not know what the bars are made of.
//!
//! Source: direct stiffness method, plane bars with three freedoms at each end, shear deflection left out; for example
//! Przemieniecki, *Theory of Matrix Structural Analysis*, 1968, ch. 5.

use super::{FormulaError, check};
use nalgebra::{DMatrix, DVector, Matrix6, Vector6};

/// Places nearer to each other, m, are one: what meets is measured to the middle of bars.
const SAME_PLACE: f64 = 5e-3;
/// A freedom whose stiffness has shrunk to this part of what it was is not held.
const LOOSE: f64 = 1e-10;

/// A place: across and up, m.
pub type Place = (f64, f64);

/// A straight bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bar {
    /// Its one end.
    pub from: Place,
    /// Its other end.
    pub to: Place,
    /// E A, N.
    pub axial_stiffness: f64,
    /// E I in the plane, N·m².
    pub bending_stiffness: f64,
    /// Whether each end is a hinge.
    pub hinged: [bool; 2],
}

/// Where a frame is held: neither across nor up, and maybe from turning.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hold {
    /// The place.
    pub at: Place,
    /// Whether it is kept from turning too.
    pub clamped: bool,
}

/// A force at a place, N: across and up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Push {
    /// The place.
    pub at: Place,
    /// Its part across.
    pub across: f64,
    /// Its part upwards.
    pub up: f64,
}

/// What a frame answers.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// How far the place of each push moves across, m.
    pub sways: Vec<f64>,
    /// Force along each bar, N, positive where it is pulled; the largest where something divides it.
    pub axial: Vec<f64>,
    /// Largest bending moment of each bar, N·m, without sign.
    pub moments: Vec<f64>,
    /// What each hold gives: across, N; up, N; moment, N·m.
    pub reactions: Vec<[f64; 3]>,
}

/// A piece of a bar between two nodes.
struct Piece {
    bar: usize,
    nodes: [usize; 2],
    stiffness: Matrix6<f64>,
    turn: Matrix6<f64>,
}

impl Piece {
    fn freedoms(&self) -> [usize; 6] {
        let [a, b] = self.nodes.map(|node| node * 3);
        [a, a + 1, a + 2, b, b + 1, b + 2]
    }

    /// In the directions of the plane.
    fn turned(&self) -> Matrix6<f64> {
        self.turn.transpose() * self.stiffness * self.turn
    }
}

fn apart(one: Place, other: Place) -> f64 {
    (one.0 - other.0).hypot(one.1 - other.1)
}

/// How far along a bar a place lies, 0 to 1, if it lies on it between its ends.
fn along(bar: &Bar, place: Place) -> Option<f64> {
    let length = apart(bar.from, bar.to);
    let (x, y) = ((bar.to.0 - bar.from.0) / length, (bar.to.1 - bar.from.1) / length);
    let (dx, dy) = (place.0 - bar.from.0, place.1 - bar.from.1);
    let (on, beside) = (dx * x + dy * y, dx * y - dy * x);
    (beside.abs() < SAME_PLACE && on > SAME_PLACE && on < length - SAME_PLACE).then(|| on / length)
}

/// Stiffness of a piece in its own directions, its hinges condensed.
fn stiffness(length: f64, axial: f64, bending: f64, hinged: [bool; 2]) -> Matrix6<f64> {
    let mut k = Matrix6::zeros();
    let pull = axial / length;
    for (row, column, value) in [(0, 0, pull), (3, 3, pull), (0, 3, -pull), (3, 0, -pull)] {
        k[(row, column)] = value;
    }
    let e = bending / length;
    let l = length;
    // Signs of (across, turn, across, turn) in the order of freedoms 1, 2, 4, 5.
    let rows: [[f64; 4]; 4] = match hinged {
        [false, false] => {
            let (shear, force) = (6.0 * e / l, 12.0 * e / (l * l));
            [
                [force, shear, -force, shear],
                [shear, 4.0 * e, -shear, 2.0 * e],
                [-force, -shear, force, -shear],
                [shear, 2.0 * e, -shear, 4.0 * e],
            ]
        }
        [true, false] => {
            let (shear, force) = (3.0 * e / l, 3.0 * e / (l * l));
            [[force, 0.0, -force, shear], [0.0; 4], [-force, 0.0, force, -shear], [shear, 0.0, -shear, 3.0 * e]]
        }
        [false, true] => {
            let (shear, force) = (3.0 * e / l, 3.0 * e / (l * l));
            [[force, shear, -force, 0.0], [shear, 3.0 * e, -shear, 0.0], [-force, -shear, force, 0.0], [0.0; 4]]
        }
        [true, true] => [[0.0; 4]; 4],
    };
    let at = [1, 2, 4, 5];
    for (row, values) in at.iter().zip(rows) {
        for (column, value) in at.iter().zip(values) {
            k[(*row, *column)] = value;
        }
    }
    k
}

/// Nodes and pieces of a frame.
struct Net {
    nodes: Vec<Place>,
    pieces: Vec<Piece>,
}

impl Net {
    fn node(nodes: &[Place], place: Place) -> Option<usize> {
        nodes.iter().position(|known| apart(*known, place) < SAME_PLACE)
    }

    fn new(bars: &[Bar], others: impl Iterator<Item = Place>) -> Self {
        let mut nodes: Vec<Place> = Vec::new();
        for place in bars.iter().flat_map(|bar| [bar.from, bar.to]).chain(others) {
            if Self::node(&nodes, place).is_none() {
                nodes.push(place);
            }
        }
        let mut pieces = Vec::new();
        for (number, bar) in bars.iter().enumerate() {
            let mut stops: Vec<(f64, usize)> =
                nodes.iter().enumerate().filter_map(|(node, place)| along(bar, *place).map(|part| (part, node))).collect();
            stops.extend([(0.0, bar.from), (1.0, bar.to)].into_iter().filter_map(|(part, end)| Some((part, Self::node(&nodes, end)?))));
            stops.sort_by(|one, other| one.0.total_cmp(&other.0));
            let last = stops.len().saturating_sub(2);
            for (at, pair) in stops.windows(2).enumerate() {
                if let [(_, a), (_, b)] = pair
                    && let (Some(from), Some(to)) = (nodes.get(*a), nodes.get(*b))
                {
                    let hinged = [at == 0 && bar.hinged[0], at == last && bar.hinged[1]];
                    let length = apart(*from, *to);
                    let (c, s) = ((to.0 - from.0) / length, (to.1 - from.1) / length);
                    let mut turn = Matrix6::zeros();
                    for end in [0, 3] {
                        turn[(end, end)] = c;
                        turn[(end, end + 1)] = s;
                        turn[(end + 1, end)] = -s;
                        turn[(end + 1, end + 1)] = c;
                        turn[(end + 2, end + 2)] = 1.0;
                    }
                    let stiffness = stiffness(length, bar.axial_stiffness, bar.bending_stiffness, hinged);
                    pieces.push(Piece { bar: number, nodes: [*a, *b], stiffness, turn });
                }
            }
        }
        Self { nodes, pieces }
    }
}

/// The bars with each end that stops short of the middle of another bar, or a little beside it, led onto it: what joins a
/// post is measured to its face. Ends that meet the end of what was not fitted in are left; where several that were fitted
/// in meet beside a bar, all are led to one place on it.
fn joined(bars: &[Bar], reach: f64) -> Vec<Bar> {
    // Only what is hinged at both ends was fitted in between others.
    let fitted = |bar: &Bar| bar.hinged == [true, true];
    let ends_at = |bar: &Bar, place: Place| [bar.from, bar.to].iter().any(|end| apart(*end, place) < SAME_PLACE);
    let led = |end: Place| {
        if bars.iter().any(|bar| !fitted(bar) && ends_at(bar, end)) {
            return end;
        }
        let others = bars.iter().filter(|bar| !ends_at(bar, end));
        let nearest = others.map(|bar| nearest_on(bar, end)).min_by(|one, other| apart(*one, end).total_cmp(&apart(*other, end)));
        nearest.filter(|place| apart(*place, end) < reach).unwrap_or(end)
    };
    let both = bars.iter().map(|bar| if fitted(bar) { Bar { from: led(bar.from), to: led(bar.to), ..*bar } } else { *bar });
    both.collect()
}

/// The place on a bar's middle line that is nearest.
fn nearest_on(bar: &Bar, place: Place) -> Place {
    let (x, y) = (bar.to.0 - bar.from.0, bar.to.1 - bar.from.1);
    let part = (((place.0 - bar.from.0) * x + (place.1 - bar.from.1) * y) / (x * x + y * y)).clamp(0.0, 1.0);
    (bar.from.0 + part * x, bar.from.1 + part * y)
}

/// Works a frame out.
///
/// # Errors
/// Where a bar has no length or stiffness, or nothing keeps the frame from moving ([`FormulaError::Unstable`]).
pub fn solve(bars: &[Bar], holds: &[Hold], pushes: &[Push], reach: f64) -> Result<Answer, FormulaError> {
    let fits = |bar: &Bar| {
        let numbers = [bar.from.0, bar.from.1, bar.to.0, bar.to.1].iter().all(|number| number.is_finite());
        let stiff = [bar.axial_stiffness, bar.bending_stiffness].iter().all(|number| number.is_finite() && *number > 0.0);
        numbers && stiff && apart(bar.from, bar.to) > SAME_PLACE
    };
    if !bars.iter().all(fits) {
        return Err(FormulaError::domain("each bar of the frame", "longer than 5 mm and stiffer than nothing"));
    }
    let bars = &joined(bars, check::not_negative("how far an end reaches", reach)?);
    let net = Net::new(bars, holds.iter().map(|hold| hold.at).chain(pushes.iter().map(|push| push.at)));
    let size = net.nodes.len() * 3;
    let mut whole: DMatrix<f64> = DMatrix::zeros(size, size);
    for piece in &net.pieces {
        let turned = piece.turned();
        for (i, row) in piece.freedoms().into_iter().enumerate() {
            for (j, column) in piece.freedoms().into_iter().enumerate() {
                whole[(row, column)] += turned[(i, j)];
            }
        }
    }
    let mut free: Vec<bool> = vec![true; size];
    for hold in holds {
        if let Some(node) = Net::node(&net.nodes, hold.at) {
            let last = if hold.clamped { 3 } else { 2 };
            free.iter_mut().skip(node * 3).take(last).for_each(|freedom| *freedom = false);
        }
    }
    // Where only hinges meet nothing turns: that the joint itself would is nobody's concern.
    free.iter_mut().enumerate().filter(|(at, _)| at % 3 == 2 && whole[(*at, *at)] == 0.0).for_each(|(_, freedom)| *freedom = false);
    let kept: Vec<usize> = free.iter().enumerate().filter(|(_, free)| **free).map(|(at, _)| at).collect();
    let mut loads = DVector::zeros(size);
    for push in pushes {
        if let Some(node) = Net::node(&net.nodes, push.at) {
            loads[node * 3] += push.across;
            loads[node * 3 + 1] += push.up;
        }
    }
    let reduced = DMatrix::from_fn(kept.len(), kept.len(), |i, j| whole[(kept[i], kept[j])]);
    let moved =
        factored(reduced.clone()).ok_or_else(|| FormulaError::Unstable { what: "nothing keeps it from leaning over".to_owned() })?;
    let answer = moved.solve(&DVector::from_fn(kept.len(), |i, _| loads[kept[i]]));
    let mut moves = DVector::zeros(size);
    kept.iter().zip(answer.iter()).for_each(|(at, value)| moves[*at] = *value);
    let mut axial = vec![0.0_f64; bars.len()];
    let mut moments = vec![0.0_f64; bars.len()];
    for piece in &net.pieces {
        let freedoms = piece.freedoms();
        let ends = piece.stiffness * (piece.turn * Vector6::from_fn(|i, _| moves[freedoms[i]]));
        let (pull, bend) = (ends[3], ends[2].abs().max(ends[5].abs()));
        if let (Some(most), Some(moment)) = (axial.get_mut(piece.bar), moments.get_mut(piece.bar)) {
            if pull.abs() > most.abs() {
                *most = pull;
            }
            *moment = moment.max(bend);
        }
    }
    let forces = &whole * &moves - &loads;
    let of_node = |place: Place, way: usize| Net::node(&net.nodes, place).map_or(0.0, |node| forces[node * 3 + way]);
    Ok(Answer {
        sways: pushes.iter().map(|push| Net::node(&net.nodes, push.at).map_or(0.0, |node| moves[node * 3])).collect(),
        axial,
        moments,
        reactions: holds.iter().map(|hold| [of_node(hold.at, 0), of_node(hold.at, 1), of_node(hold.at, 2)]).collect(),
    })
}

/// The factorised stiffness; none where the frame can move without any bar giving way.
fn factored(stiffness: DMatrix<f64>) -> Option<nalgebra::Cholesky<f64, nalgebra::Dyn>> {
    let diagonal: Vec<f64> = stiffness.diagonal().iter().copied().collect();
    let factor = stiffness.cholesky()?;
    let lower = factor.l_dirty();
    let held = diagonal.iter().enumerate().all(|(at, before)| lower[(at, at)].powi(2) > LOOSE * before);
    held.then_some(factor)
}

/// How much a frame leans more because what stands on it leans too: `1/(1 − 1/α)` with α = stiffness · height / weight, the
/// push over the weight times height over sway; [`FALLS`] where α is 1 or less. `weight` N, `height` m, `stiffness` N/m.
///
/// # Errors
/// Where the height or the stiffness is not more than zero, or the weight less than zero.
///
/// Source: EN 1993-1-1:2005 eq. 5.1, 5.4; AISC 360-16 Appendix 8, eq. A-8-6.
pub fn second_order(weight: f64, height: f64, stiffness: f64) -> Result<f64, FormulaError> {
    let weight = check::not_negative("the weight that stands on the frame", weight)?;
    let resists = check::positive("the frame's stiffness", stiffness)? * check::positive("the frame's height", height)?;
    if weight == 0.0 {
        return Ok(1.0);
    }
    let alpha = resists / weight;
    Ok(if alpha > 1.0 { (1.0 / (1.0 - 1.0 / alpha)).min(FALLS) } else { FALLS })
}

/// What stands for a frame that falls over by itself.
pub const FALLS: f64 = 1000.0;

/// How near a guided body is to jamming: `2 μ e / L`, e beside the guide (m), L between its outermost guiding wheels (m).
/// The push turns the body, and its guide answers with a couple `F e / L`, whose friction on both wheels is `2 μ F e / L`.
///
/// # Errors
/// Where the base is not more than zero, or another number less than zero.
///
/// Source: statics, moments about the guide: the drawer that jams.
pub fn skew_jam(friction: f64, beside: f64, base: f64) -> Result<f64, FormulaError> {
    let friction = check::not_negative("friction on the guide", friction)?;
    Ok(2.0 * friction * beside.abs() / check::positive("the distance of the guiding wheels", base)?)
}
