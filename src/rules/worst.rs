//! The worst combination of the tolerances that a check stands on.
//!
//! Each toleranced number is moved alone to both of its ends; the ends that hurt most are then taken
//! together. If there are few, every combination of ends is tried as well, so that those that only hurt
//! together are found too. If there are many, each is turned again with the others as they hurt most, unless every
//! one hurts by itself and any two at any of their ends do together what each does alone. Before that, every value
//! on the way is brought to its own most and least: what a `max` hides is seen there.

use crate::design::NodeId;
use crate::values::{Evaluator, Lack, MovedBy, Tolerance, Turn};
use std::cell::RefCell;

/// Up to this many tolerances every combination of their ends is tried: 2^6 evaluations.
const ALL_COMBINATIONS: usize = 6;
/// Effects add up if together they come this near to their sum: nearer than a bend or a product would.
const ADDS_UP: f64 = 1e-6;
/// How often all tolerances are turned once more where there are too many to try every combination.
const MOST_ROUNDS: usize = 4;
/// More tolerances than this on one check are moved together by their single effects only: the others are not turned again.
const MOST_TURNED_AGAIN: usize = 400;

/// So many combinations that bring a value on the way to its most or least are tried.
const MOST_CORNERS: usize = 24;
/// So many values on the way are looked at, the nearest first.
const MOST_ON_THE_WAY: usize = 300;

/// How often numbers that only count at an end of others may bring in more of them.
const MOST_WIDENED: usize = 4;

/// The numbers that a check depends on as it is written and that may be off, with their two ends.
pub(super) fn all_ends(evaluator: &Evaluator, reads: &[NodeId]) -> Vec<[Turn; 2]> {
    toleranced(evaluator, &evaluator.below(reads))
}

/// Those among these.
fn toleranced(evaluator: &Evaluator, below: &[NodeId]) -> Vec<[Turn; 2]> {
    let ends = |(node, tolerance): (NodeId, Tolerance)| {
        let turn = |delta| Turn { node, part: tolerance.part, delta };
        [turn(-tolerance.down), turn(tolerance.up)]
    };
    let mut found: Vec<[Turn; 2]> = evaluator.tolerances_of(below).into_iter().map(ends).collect();
    found.sort_by_key(|ends| (ends[0].node, ends[0].part));
    found
}

/// The least and the most that a number can be over the tolerances that it stands on.
///
/// `reads` are the nodes that `number` was worked out from; it gives SI base units. `None` where no
/// tolerance touches it or it cannot be worked out.
#[must_use]
pub fn range(evaluator: &Evaluator, reads: &[NodeId], number: &dyn Fn() -> Option<f64>) -> Option<(f64, f64)> {
    let (ends, most) = search(evaluator, reads, &|_| number().ok_or(Lack::Faulty));
    if ends.is_empty() {
        return None;
    }
    let (_, least) = search(evaluator, reads, &|_| number().map(|value| -value).ok_or(Lack::Faulty));
    Some((evaluator.turned(&least.turns, number)?, evaluator.turned(&most.turns, number)?))
}

/// The worst combination found, and what each tolerance takes by itself.
#[derive(Debug, Default)]
pub(super) struct Worst {
    /// The turns that together hurt most; empty if the nominal values do.
    pub(super) turns: Vec<Turn>,
    /// For each tolerance its worse end and by how much the badness grows, the largest first.
    pub(super) alone: Vec<(Turn, f64)>,
    /// Why one of the combinations could not be worked out: it may be worse than the worst that was found.
    pub(super) lack: Option<Lack>,
}

/// Finds the worst combination of the tolerances below `reads`, and the two ends of each.
///
/// `badness` grows as the check gets worse. It is told whether there are too many combinations to try them all: then it has to
/// tell two of them apart that both are good, for the way to a bad one to be found. What it reads only at an end of some
/// tolerance, in the other branch of an `if`, may have tolerances as well: then they are looked for together.
pub(super) fn search(evaluator: &Evaluator, reads: &[NodeId], badness: &dyn Fn(bool) -> Result<f64, Lack>) -> (Vec<[Turn; 2]>, Worst) {
    let mut ends = all_ends(evaluator, reads);
    let mut reads = reads.to_vec();
    if ends.is_empty() {
        return (ends, Worst::default());
    }
    for widened in 0..=MOST_WIDENED {
        let many = ends.len() > ALL_COMBINATIONS;
        let (nominal, stands_on) = evaluator.reading(|| badness(many));
        // What stands on values that come to the same at these ends comes to the same.
        let at_ends =
            |turns: &[Turn]| evaluator.turned(turns, || if evaluator.are_as_written(&stands_on) { nominal.clone() } else { badness(many) });
        let (worst, more) = evaluator.reading(|| among(&ends, &|hidden| on_the_way(evaluator, &reads, hidden), &at_ends));
        reads.extend(more);
        let wider = toleranced(evaluator, &evaluator.below_at_worst(&reads));
        if wider.len() <= ends.len() || widened == MOST_WIDENED {
            return (ends, worst);
        }
        ends = wider;
    }
    (ends, Worst::default())
}

/// Both ends of a tolerance, and the numbers that a value comes to there.
type Moved<'e> = (&'e [Turn; 2], (Vec<f64>, Vec<f64>));

/// Combinations of `ends` that each bring a value below `reads` to its most or its least, as far as each tolerance does so by itself.
fn on_the_way(evaluator: &Evaluator, reads: &[NodeId], ends: &[[Turn; 2]]) -> Vec<Vec<Turn>> {
    let mut nodes = evaluator.below_at_worst(reads);
    nodes.truncate(MOST_ON_THE_WAY);
    let nominal: Vec<Vec<f64>> = nodes.iter().map(|node| evaluator.numbers_of(*node)).collect();
    // For each value the ends that may move it, and what it comes to at both.
    let mut moved_by = MovedBy::of(&nodes);
    let mut moved: Vec<Vec<Moved<'_>>> = vec![Vec::new(); nodes.len()];
    for pair in ends {
        let may_move = moved_by.turn(&pair[0], evaluator);
        let numbers = |turn: &Turn| {
            evaluator.turned(std::slice::from_ref(turn), || -> Vec<Vec<f64>> {
                may_move.iter().filter_map(|at| nodes.get(*at)).map(|node| evaluator.numbers_of(*node)).collect()
            })
        };
        let (down, up) = (numbers(&pair[0]), numbers(&pair[1]));
        for (at, sides) in may_move.iter().zip(down.into_iter().zip(up)) {
            if let Some(moved) = moved.get_mut(*at) {
                moved.push((pair, sides));
            }
        }
    }
    let mut corners: Vec<Vec<Turn>> = Vec::new();
    for (values, moved) in nominal.iter().zip(&moved).filter(|(_, moved)| moved.len() > 1) {
        for (number, value) in values.iter().enumerate() {
            for sign in [1.0, -1.0] {
                let grows = |numbers: &Vec<f64>| numbers.get(number).map_or(0.0, |at| sign * (at - value));
                let turns = moved.iter().filter_map(|(pair, (down, up))| {
                    let (down, up) = (grows(down), grows(up));
                    (down > 0.0 || up > 0.0).then(|| if down > up { pair[0] } else { pair[1] })
                });
                let corner: Vec<Turn> = turns.collect();
                if corner.len() > 1 && !corners.contains(&corner) {
                    corners.push(corner);
                }
                if corners.len() == MOST_CORNERS {
                    return corners;
                }
            }
        }
    }
    corners
}

/// Combinations in which any two of so many numbers meet at each pair of their ends, but for the one with all at their first end:
/// for each number whether it is at its second.
///
/// Each number has another row of equally many seconds, more than half: any two share one, and each has one that the other has not.
///
/// Source: Kleitman and Spencer, Families of k-independent sets, Discrete Mathematics 6 (1973), from memory.
fn pairwise(count: usize) -> Vec<Vec<bool>> {
    let rows_of = |rows: usize| (0_usize..1 << rows).filter(move |word| word.count_ones() as usize == rows / 2 + 1);
    let Some(rows) = (2..usize::BITS as usize).find(|rows| rows_of(*rows).nth(count.saturating_sub(1)).is_some()) else {
        return Vec::new();
    };
    let words: Vec<usize> = rows_of(rows).take(count).collect();
    (0..rows).map(|row| words.iter().map(|word| word >> row & 1 == 1).collect()).collect()
}

/// Which combinations of these ends may hurt.
type Corners<'c> = &'c dyn Fn(&[[Turn; 2]]) -> Vec<Vec<Turn>>;

/// As [`search`]; `badness` is told which ends to take. Where there are too many to try them all, `corners` is told those of which
/// none shows by itself, and says which of their combinations may.
pub(super) fn among(ends: &[[Turn; 2]], corners: Corners<'_>, badness: &dyn Fn(&[Turn]) -> Result<f64, Lack>) -> Worst {
    let lack: RefCell<Option<Lack>> = RefCell::new(None);
    let at = |turns: &[Turn]| match badness(turns) {
        Ok(value) => Some(value),
        Err(why) => {
            lack.borrow_mut().get_or_insert(why);
            None
        }
    };
    let Some(nominal) = at(&[]) else { return Worst::default() };
    // The worse end of each, and what it comes to; and the other one.
    let mut alone: Vec<(Turn, f64)> = Vec::with_capacity(ends.len());
    let mut opposite: Vec<(Turn, f64)> = Vec::with_capacity(ends.len());
    for [down, up] in ends {
        let alone_at = |turn: &Turn| (*turn, at(std::slice::from_ref(turn)).unwrap_or(f64::NEG_INFINITY));
        let (down, up) = (alone_at(down), alone_at(up));
        let (worse, other) = if down.1 > up.1 { (down, up) } else { (up, down) };
        alone.push(worse);
        opposite.push(other);
    }
    let hurts = |value: f64| value > nominal;
    let mut best: (f64, Vec<Turn>) = (nominal, Vec::new());
    // Whether they hurt more than all before.
    let consider = |best: &mut (f64, Vec<Turn>), turns: Vec<Turn>| {
        let worse = at(&turns).filter(|value| *value > best.0);
        if let Some(value) = worse {
            *best = (value, turns);
        }
        worse.is_some()
    };
    consider(&mut best, alone.iter().filter(|(_, value)| hurts(*value)).map(|(turn, _)| *turn).collect());
    for (turn, value) in &alone {
        if hurts(*value) && *value > best.0 {
            best = (*value, vec![*turn]);
        }
    }
    if ends.len() <= ALL_COMBINATIONS && ends.len() > 1 {
        for mask in 0..1_usize << ends.len() {
            consider(&mut best, ends.iter().enumerate().map(|(at, [down, up])| if mask >> at & 1 == 1 { *up } else { *down }).collect());
        }
    }
    // Single effects that add up leave nothing to be found: but one that is none may be one beside another.
    let hurting: Vec<[(Turn, f64); 2]> =
        alone.iter().zip(&opposite).filter(|(worse, _)| hurts(worse.1)).map(|(worse, other)| [*worse, *other]).collect();
    let added: f64 = hurting.iter().map(|[worse, _]| worse.1 - nominal).sum();
    let each_hurts = hurting.len() == ends.len();
    let is_sum = |value: f64, due: f64| (value - due).abs() <= ADDS_UP * added;
    let many = ends.len() > ALL_COMBINATIONS;
    let mut adds_up = many && added > 0.0 && is_sum(best.0, nominal + added);
    for corner in pairwise(hurting.len()) {
        if !adds_up {
            break;
        }
        let at_corner = || hurting.iter().zip(&corner).map(|([worse, other], is_other)| if *is_other { other } else { worse });
        let due = nominal + at_corner().map(|(_, value)| value - nominal).sum::<f64>();
        let turns: Vec<Turn> = at_corner().map(|(turn, _)| *turn).collect();
        adds_up = at(&turns).is_some_and(|value| is_sum(value, due));
        consider(&mut best, turns);
    }
    // Where there are too many for that, each is turned once more with the others as they hurt most, until none hurts more. Of effects
    // that add up those of none by themselves come first: nothing but such a one can be left.
    if many && !(adds_up && each_hurts) {
        let shows = |(worse, other): (&(Turn, f64), &(Turn, f64))| [worse.1, other.1].iter().any(|value| value.total_cmp(&nominal).is_ne());
        let shown: Vec<bool> = alone.iter().zip(&opposite).map(shows).collect();
        let hidden: Vec<[Turn; 2]> = ends.iter().zip(&shown).filter(|(_, shows)| !**shows).map(|(pair, _)| *pair).collect();
        let shown = best.1.clone();
        for corner in if hidden.len() > 1 { corners(&hidden) } else { Vec::new() } {
            let is_in = |turn: &&Turn| !corner.iter().any(|other| (other.node, other.part) == (turn.node, turn.part));
            let turns = shown.iter().filter(is_in).chain(&corner).copied().collect();
            consider(&mut best, turns);
        }
        let turned_again = ends.len().min(MOST_TURNED_AGAIN);
        // So many ends were tried since one hurt more: after all of them nothing is left.
        let mut in_vain = 0;
        // Where nothing hurts, to turn one with the others as they hurt most is to turn it alone.
        let rounds = if best.1.is_empty() { 0 } else { MOST_ROUNDS };
        'rounds: for round in 0..rounds {
            let before = best.0;
            let some_only = round == 0 && adds_up;
            for (pair, (_, value)) in ends.iter().zip(&alone).take(turned_again) {
                if some_only && hurts(*value) {
                    continue;
                }
                for turn in pair {
                    // One that stands so already was tried.
                    let stands = best.1.contains(turn);
                    let others = best.1.iter().filter(|other| (other.node, other.part) != (turn.node, turn.part));
                    let turns = others.chain([turn]).copied().collect();
                    let worse = !stands && consider(&mut best, turns);
                    in_vain = if worse { 0 } else { in_vain + usize::from(!some_only) };
                    if in_vain == 2 * turned_again {
                        break 'rounds;
                    }
                }
            }
            if best.0 <= before {
                break;
            }
        }
    }
    let mut alone: Vec<(Turn, f64)> = alone.into_iter().map(|(turn, value)| (turn, value - nominal)).collect();
    alone.retain(|(_, grows)| *grows > 0.0);
    alone.sort_by(|a, b| b.1.total_cmp(&a.1));
    Worst { turns: best.1, alone, lack: lack.into_inner() }
}
