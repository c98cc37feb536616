//! A rigid roof on clamps that only pull and wheels that only push: every set of them that could work is tried.

use super::chance::Chance;
use super::how_many;
use wallplate::calc::holddown::{Resultant, Support, share};

/// The solution of three equations with three unknowns by Cramer's rule; none where they hang on each other.
fn solved(rows: [[f64; 3]; 3], right: [f64; 3]) -> Option<[f64; 3]> {
    let determinant = |m: [[f64; 3]; 3]| {
        m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
            + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0])
    };
    let whole = determinant(rows);
    let size = rows.iter().map(|row| row.iter().map(|number| number.abs()).fold(0.0, f64::max)).product::<f64>();
    if whole.abs() <= 1e-11 * size {
        return None;
    }
    Some([0, 1, 2].map(|column| {
        let mut other = rows;
        for (row, value) in other.iter_mut().zip(right) {
            row[column] = value;
        }
        determinant(other) / whole
    }))
}

/// Forces in clamps and wheels: of the sets of those that work the one in which each moves the way in which it works, and each
/// that is left out moves the other way. Statics alone; none where no set does.
fn tried(clamps: &[Support], wheels: &[Support], load: Resultant) -> Option<Vec<f64>> {
    let all: Vec<(Support, f64)> = clamps.iter().map(|one| (*one, 1.0)).chain(wheels.iter().map(|one| (*one, -1.0))).collect();
    let mut best: Option<(f64, Vec<f64>)> = None;
    for mask in 0..1_usize << all.len() {
        let works = |at: usize| mask >> at & 1 == 1;
        let mut rows = [[0.0; 3]; 3];
        for (_, (support, _)) in all.iter().enumerate().filter(|(at, _)| works(*at)) {
            let arm = [1.0, support.x, support.y];
            for (row, a) in rows.iter_mut().zip(arm) {
                for (cell, b) in row.iter_mut().zip(arm) {
                    *cell += support.stiffness * a * b;
                }
            }
        }
        let Some(motion) = solved(rows, [load.force, load.moment_along, load.moment_across]) else { continue };
        let stretch = |at: usize| all[at].1 * (motion[0] + motion[1] * all[at].0.x + motion[2] * all[at].0.y);
        // By how much the set contradicts itself: nothing, but for rounding.
        let wrong = (0..all.len()).map(|at| all[at].0.stiffness * if works(at) { -stretch(at) } else { stretch(at) }).fold(0.0, f64::max);
        if best.as_ref().is_none_or(|(least, _)| wrong < *least) {
            best = Some((wrong, (0..all.len()).map(|at| if works(at) { all[at].0.stiffness * stretch(at) } else { 0.0 }).collect()));
        }
    }
    let scale = load.force.abs() + load.moment_along.abs() + load.moment_across.abs();
    best.filter(|(wrong, _)| *wrong <= 1e-7 * scale).map(|(_, forces)| forces)
}

fn size(load: Resultant) -> f64 {
    load.force.abs().max(load.moment_along.abs() / 3.0).max(load.moment_across.abs() / 2.0)
}

#[test]
fn clamps_and_wheels_share_as_the_one_set_that_can_work() {
    let (mut held, mut not_held, mut by_a_thread) = (0, 0, 0);
    for seed in 0..how_many(300) {
        let mut chance = Chance::new(seed);
        let places = |count: usize, chance: &mut Chance| -> Vec<Support> {
            let stiff = chance.once_in(2);
            let place = |chance: &mut Chance| Support {
                x: chance.between(-3.0, 3.0),
                y: chance.between(-2.0, 2.0),
                stiffness: if stiff { 1.0 } else { chance.between(0.2, 50.0) },
            };
            (0..count).map(|_| place(chance)).collect()
        };
        let (clamps, wheels) = (2 + chance.below(4), chance.below(5));
        let (clamps, wheels) = (places(clamps, &mut chance), places(wheels, &mut chance));
        let load = Resultant {
            force: chance.between(-3000.0, 6000.0),
            moment_along: chance.between(-6000.0, 6000.0),
            moment_across: chance.between(-4000.0, 4000.0),
        };
        let found = share(&clamps, &wheels, load);
        match (tried(&clamps, &wheels, load), found) {
            (Some(due), Ok(found)) => {
                held += 1;
                for (due, found) in due.iter().zip(found.clamps.iter().chain(&found.wheels)) {
                    assert!(
                        (due - found).abs() <= 1e-5 * due.abs().max(load.force.abs()).max(1000.0),
                        "seed {seed}: {due} is due, found {found}"
                    );
                }
            }
            (None, Err(_)) => not_held += 1,
            // Held by a thread: pulls a hundred times the load, after a motion that no roof survives. It is refused.
            (Some(due), Err(_)) if due.iter().copied().fold(0.0, f64::max) > 100.0 * size(load) => by_a_thread += 1,
            (due, found) => panic!("seed {seed}: {due:?} is due, found {found:?} for {clamps:?} {wheels:?} {load:?}"),
        }
    }
    assert!(held > 50 && not_held > 20, "{held} held, {not_held} not");
    println!("{held} loads are held, {not_held} are not, in both ways alike; {by_a_thread} that hang by a thread are refused");
}
