//! The equilibrium of a rigid plate on supports that work one way only.
//!
//! In: supports that pull, supports that push, a load. Out: their forces.
//! It must not know which code the load comes from.
//!
//! The plate moves up by w and tilts; each support lifts by δ = w + x θx + y θy. Forces follow from
//! the least of a convex energy: half k δ² over the supports that work (clamps where δ > 0, wheels
//! where δ < 0) less the work of the load. Newton's method on that energy finds it, since each step
//! solves the linear problem of the supports that work just then: dropping a slack clamp and solving
//! again, and taking it back when the plate returns to it. Steps are damped in proportion to the
//! load that is not yet balanced (Li, Fukushima, Qi and Yamashita, Regularized Newton methods for
//! convex minimization problems with singular solutions, Comput. Optim. Appl. 28 (2004) 131), so
//! that they stay finite while too few supports work, and cut back where they would overshoot. A
//! load that cannot be balanced however far the plate goes is one that the supports cannot hold.

use nalgebra::{Matrix3, Vector3};

use super::actions::{Resultant, Support};
use crate::calc::FormulaError;

/// Damping of a step for each unit of load not yet balanced, in units of the stiffest support.
const DAMPING: f64 = 1e-4;

/// Damping that always remains, so that a motion that nothing resists and nothing drives is none.
const LEAST_DAMPING: f64 = 1e-13;

/// Part of the load that counts as nothing.
const BALANCED: f64 = 1e-11;

/// Part of the load that may stay unbalanced and still count as held.
const LEFT_OVER: f64 = 1e-6;

/// How far a step is drawn out at most.
const FARTHEST: f64 = 1e9;

const MOST_STEPS: usize = 300;

/// After so many steps more the load that is not balanced has to be less by a tenth: else nothing will balance it.
const STEPS_TO_GAIN: usize = 50;

/// A load or a motion of the plate: up, about the one axis and the other; in scaled units.
type Plate = [f64; 3];

fn dot(one: &Plate, other: &Plate) -> f64 {
    one[0] * other[0] + one[1] * other[1] + one[2] * other[2]
}

fn size(of: &Plate) -> f64 {
    dot(of, of).sqrt()
}

/// `one + part * other`.
fn moved(one: &Plate, other: &Plate, part: f64) -> Plate {
    [one[0] + other[0] * part, one[1] + other[1] * part, one[2] + other[2] * part]
}

struct Element {
    /// (1, x, y) in scaled lengths.
    arm: Plate,
    stiffness: f64,
    /// +1 for one that pulls the roof down, -1 for one that pushes it up.
    sense: f64,
}

impl Element {
    /// Its lift in the sense in which it works; it is slack where this is below zero.
    fn stretch(&self, motion: &Plate) -> f64 {
        self.sense * dot(&self.arm, motion)
    }

    fn force(&self, motion: &Plate) -> f64 {
        self.stiffness * self.stretch(motion).max(0.0)
    }
}

/// Forces of clamps and wheels, N, all zero or more.
pub(super) fn solve(clamps: &[Support], wheels: &[Support], load: Resultant) -> Result<(Vec<f64>, Vec<f64>), FormulaError> {
    let scale = Scale::of(clamps, wheels, load);
    let elements: Vec<Element> =
        clamps.iter().map(|clamp| scale.element(clamp, 1.0)).chain(wheels.iter().map(|wheel| scale.element(wheel, -1.0))).collect();
    let wanted = scale.load(load);
    if size(&wanted) == 0.0 {
        return Ok((vec![0.0; clamps.len()], vec![0.0; wheels.len()]));
    }
    let motion = settle(&elements, &wanted);
    let left_over = moved(&wanted, &held(&elements, &motion), -1.0);
    let hanging = size(&left_over);
    if hanging.is_nan() || hanging > LEFT_OVER * size(&wanted) {
        return Err(unstable(clamps, wheels, load, &left_over));
    }
    let mut forces: Vec<f64> = elements.iter().map(|element| element.force(&motion) * scale.force).collect();
    let pushes = forces.split_off(clamps.len());
    Ok((forces, pushes))
}

/// Lengths from the middle of the supports in units of their spread, forces in units of the load:
/// the numbers of the solution are near 1 whatever the roof.
struct Scale {
    x: f64,
    y: f64,
    length: f64,
    force: f64,
    stiffness: f64,
}

impl Scale {
    fn of(clamps: &[Support], wheels: &[Support], load: Resultant) -> Self {
        let all = || clamps.iter().chain(wheels);
        let count = all().map(|_| 1.0).sum::<f64>().max(1.0);
        let x = all().map(|support| support.x).sum::<f64>() / count;
        let y = all().map(|support| support.y).sum::<f64>() / count;
        let spread = all().map(|support| (support.x - x).abs().max((support.y - y).abs())).fold(0.0, f64::max);
        let length = if spread > 0.0 { spread } else { 1.0 };
        let moments = [load.moment_along - load.force * x, load.moment_across - load.force * y];
        let force = moments.iter().map(|moment| moment.abs() / length).fold(load.force.abs(), f64::max);
        let stiffness = all().map(|support| support.stiffness).fold(0.0, f64::max);
        Self { x, y, length, force: if force > 0.0 { force } else { 1.0 }, stiffness }
    }

    fn element(&self, support: &Support, sense: f64) -> Element {
        let arm = [1.0, (support.x - self.x) / self.length, (support.y - self.y) / self.length];
        Element { arm, stiffness: support.stiffness / self.stiffness, sense }
    }

    fn load(&self, load: Resultant) -> Plate {
        [
            load.force / self.force,
            (load.moment_along - load.force * self.x) / self.length / self.force,
            (load.moment_across - load.force * self.y) / self.length / self.force,
        ]
    }
}

/// What the elements bring up against the load at this motion.
fn held(elements: &[Element], motion: &Plate) -> Plate {
    elements.iter().fold([0.0; 3], |sum, element| moved(&sum, &element.arm, element.sense * element.force(motion)))
}

fn settle(elements: &[Element], load: &Plate) -> Plate {
    let gradient = |motion: &Plate| moved(&held(elements, motion), load, -1.0);
    let mut motion = [0.0; 3];
    let mut before = f64::INFINITY;
    for step_number in 0..MOST_STEPS {
        let unbalanced = gradient(&motion);
        if size(&unbalanced) <= BALANCED {
            break;
        }
        if step_number % STEPS_TO_GAIN == 0 {
            if size(&unbalanced) > 0.9 * before {
                break;
            }
            before = size(&unbalanced);
        }
        // At rest nothing is stretched yet; the first step takes every support as working.
        let works = |element: &&Element| step_number == 0 || element.stretch(&motion) > 0.0;
        let damping = DAMPING * size(&unbalanced) + LEAST_DAMPING;
        let mut stiffness = [[damping, 0.0, 0.0], [0.0, damping, 0.0], [0.0, 0.0, damping]];
        for element in elements.iter().filter(works) {
            for (row, along) in stiffness.iter_mut().zip(element.arm) {
                *row = moved(row, &element.arm, along * element.stiffness);
            }
        }
        let Some(factors) = Matrix3::from(stiffness).cholesky() else { break };
        let step: Plate = (-factors.solve(&Vector3::from(unbalanced))).into();
        motion = moved(&motion, &step, best_part(&gradient, &motion, &step));
    }
    motion
}

/// How much of a step brings the energy lowest. Its slope along the step only rises, in straight
/// pieces; where it passes zero is bracketed and closed in on by false position.
fn best_part(gradient: &impl Fn(&Plate) -> Plate, motion: &Plate, step: &Plate) -> f64 {
    let slope = |part: f64| dot(&gradient(&moved(motion, step, part)), step);
    let (mut low, mut below) = (0.0, slope(0.0));
    let (mut high, mut above) = (1.0, slope(1.0));
    let flat = 1e-3 * below.abs();
    while above < -flat && high < FARTHEST {
        (low, below) = (high, above);
        high *= 4.0;
        above = slope(high);
    }
    for _ in 0..20 {
        if above <= flat {
            return high;
        }
        if below >= -flat {
            return low;
        }
        let part = (low * above - high * below) / (above - below);
        let here = slope(part);
        if here > 0.0 {
            (high, above) = (part, here);
            below /= 2.0;
        } else {
            (low, below) = (part, here);
            above /= 2.0;
        }
    }
    low
}

/// Names what is loose: nothing to hold it, supports in one place or one line, or a load outside
/// their area.
fn unstable(clamps: &[Support], wheels: &[Support], load: Resultant, free: &Plate) -> FormulaError {
    let moves = motion_words(free[0], free[1], free[2]);
    let all: Vec<&Support> = clamps.iter().chain(wheels).collect();
    let what = match (clamps.len(), wheels.len()) {
        (0, 0) => "nothing holds the roof: there is no clamp and no wheel".to_owned(),
        (0, _) if load.force > 0.0 => "no clamp holds the roof down".to_owned(),
        (_, 0) if load.force < 0.0 => "no wheel carries the roof".to_owned(),
        _ if in_one_line(&all) => {
            format!("the roof is held in one line only and turns about it: {moves}")
        }
        _ => format!("the load acts outside the area that holds it: {moves}"),
    };
    FormulaError::Unstable { what }
}

/// The part of the load that nothing takes, as the motion it makes, in the builder's words: the
/// roof tips if that part has any tilt to speak of.
pub(super) fn motion_words(up: f64, along: f64, across: f64) -> &'static str {
    if along.abs().max(across.abs()) < 0.1 * up.abs() {
        if up > 0.0 { "the whole roof lifts" } else { "the whole roof sinks" }
    } else if along.abs() >= across.abs() {
        if along > 0.0 { "the end towards which it opens lifts" } else { "the closed end lifts" }
    } else if across > 0.0 {
        "its left side lifts, looking the way it opens"
    } else {
        "its right side lifts, looking the way it opens"
    }
}

pub(super) fn in_one_line(supports: &[&Support]) -> bool {
    let Some((first, rest)) = supports.split_first() else {
        return true;
    };
    let offsets = || rest.iter().map(|support| (support.x - first.x, support.y - first.y));
    let length = |(x, y): &(f64, f64)| x.hypot(*y);
    let Some(far) = offsets().max_by(|a, b| length(a).total_cmp(&length(b))) else {
        return true;
    };
    offsets().all(|(x, y)| {
        let area = far.0 * y - far.1 * x;
        area.abs() <= 1e-9 * length(&far) * length(&far)
    })
}
