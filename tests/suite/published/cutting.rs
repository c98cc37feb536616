//! Cutting stock against published tasks and against scipy's integer programming (`cutting_reference.py`).

use proptest::prelude::*;
use wallplate::calc::cutting::{CutList, Pieces, cut_list};

fn pieces(list: &[(f64, usize)]) -> Vec<Pieces> {
    list.iter().map(|(length, count)| Pieces { length: *length, count: *count }).collect()
}

/// No piece is lost or added, no bar is over-filled, each cut is counted, the sums are right.
fn is_sound(list: &CutList, asked: &[Pieces], stock: &[f64], kerf: f64) {
    let mut counts = vec![0; asked.len()];
    for bar in &list.bars {
        assert!(stock.iter().any(|length| (length - bar.length).abs() < 1e-9), "{bar:?} is not sold");
        assert!(!bar.cuts.is_empty(), "an empty bar");
        let cut: f64 = bar.cuts.iter().map(|piece| asked[*piece].length).sum();
        let between = kerf * (bar.cuts.len() - 1) as f64;
        assert!(cut + between <= bar.length + 1e-6, "{bar:?} is over-filled");
        let rest = bar.length - cut - between;
        assert!((bar.left - (rest - kerf).max(0.0)).abs() < 1e-4, "{bar:?}: {rest} is left with the last cut");
        bar.cuts.iter().for_each(|piece| counts[*piece] += 1);
    }
    assert_eq!(counts, asked.iter().map(|piece| piece.count).collect::<Vec<_>>());
    let bought: f64 = list.bars.iter().map(|bar| bar.length).sum();
    assert!((bought - list.bought).abs() < 1e-6);
    assert!(list.bound <= list.bought + 1e-9);
}

fn bars(stock: f64, list: &[(f64, usize)], kerf: f64) -> usize {
    let asked = pieces(list);
    let cut = cut_list(&asked, &[stock], kerf).unwrap();
    is_sound(&cut, &asked, &[stock], kerf);
    assert!(cut.is_least(), "{} bought, bound {}", cut.bought, cut.bound);
    cut.bars.len()
}

#[test]
fn thirteen_widths_of_paper() {
    // The usual example of the literature: rolls of 5600 mm, thirteen widths; 73 rolls.
    let widths = [1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200];
    let demand = [22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20];
    let list: Vec<(f64, usize)> = widths.iter().zip(demand).map(|(width, count)| (f64::from(*width) / 1000.0, count)).collect();
    assert_eq!(bars(5.6, &list, 0.0), 73);
}

#[test]
fn four_widths_where_the_area_bound_is_far_off() {
    // A textbook task (from memory): rolls of 100, widths 45, 36, 31, 14, demand 97, 610, 395, 211; 453 by scipy.
    assert_eq!(bars(1.0, &[(0.45, 97), (0.36, 610), (0.31, 395), (0.14, 211)], 0.0), 453);
}

#[test]
fn boards_of_a_lumber_yard() {
    // Boards of 20 ft; 10, 8, 4, 3 ft; 70, 15, 25, 50. 54 by scipy.
    let ft = 0.3048;
    assert_eq!(bars(20.0 * ft, &[(10.0 * ft, 70), (8.0 * ft, 15), (4.0 * ft, 25), (3.0 * ft, 50)], 0.0), 54);
}

#[test]
fn the_saw_can_cost_a_whole_board() {
    // 2438 mm; 1219 x 4, 812 x 6, 609 x 4: 5 boards without a saw cut, 6 with one of 3 mm. By scipy.
    let list = [(1.219, 4), (0.812, 6), (0.609, 4)];
    assert_eq!(bars(2.438, &list, 0.0), 5);
    assert_eq!(bars(2.438, &list, 0.003), 6);
}

#[test]
fn many_pieces_of_few_lengths() {
    // Stock 25; 11, 9, 7; 300, 1200, 5000: 2167. Stock 5950; 1520, 1420, 1250; 30, 30, 20: 20. By scipy.
    assert_eq!(bars(2.5, &[(1.1, 300), (0.9, 1200), (0.7, 5000)], 0.0), 2167);
    assert_eq!(bars(5.95, &[(1.52, 30), (1.42, 30), (1.25, 20)], 0.0), 20);
}

#[derive(serde::Deserialize)]
struct Task {
    stock: Vec<f64>,
    pieces: Vec<(f64, usize)>,
    kerf: f64,
    least: f64,
}

#[test]
fn sixty_random_tasks() {
    let tasks: Vec<Task> = serde_json::from_str(include_str!("data/cutting.json")).unwrap();
    assert_eq!(tasks.len(), 60);
    for task in tasks {
        let asked = pieces(&task.pieces.iter().map(|(length, count)| (length / 1000.0, *count)).collect::<Vec<_>>());
        let stock: Vec<f64> = task.stock.iter().map(|length| length / 1000.0).collect();
        let list = cut_list(&asked, &stock, task.kerf / 1000.0).unwrap();
        is_sound(&list, &asked, &stock, task.kerf / 1000.0);
        assert!(list.bound * 1000.0 <= task.least + 1e-3, "a bound above the optimum: {} {}", list.bound, task.least);
        assert!(list.is_least(), "{} bought, bound {}, least {}", list.bought, list.bound, task.least);
        assert!((list.bought * 1000.0 - task.least).abs() < 1e-3, "{} bought, least {}", list.bought, task.least);
    }
}

#[test]
fn what_cannot_be_cut() {
    assert!(cut_list(&pieces(&[(3.0, 1)]), &[2.4], 0.0).is_err());
    assert!(cut_list(&pieces(&[(0.0, 1)]), &[2.4], 0.0).is_err());
    assert!(cut_list(&pieces(&[(1.0, 1)]), &[], 0.0).is_err());
    assert!(cut_list(&pieces(&[(1.0, 1)]), &[2.4], -0.001).is_err());
    assert!(cut_list(&pieces(&[(1.0, 1_000_000)]), &[2.4], 0.003).is_err());
    assert!(cut_list(&[], &[2.4], 0.003).unwrap().bars.is_empty());
    // A piece as long as the bar needs no cut.
    assert!(cut_list(&pieces(&[(2.4, 1)]), &[2.4], 0.003).unwrap().bars[0].left == 0.0);
}

#[test]
fn too_many_ways_give_a_list_with_its_bound() {
    let list: Vec<(f64, usize)> = (0..60).map(|at| (0.10 + 0.007 * f64::from(at), 9)).collect();
    let asked = pieces(&list);
    let cut = cut_list(&asked, &[3.0, 4.2, 6.0], 0.003).unwrap();
    is_sound(&cut, &asked, &[3.0, 4.2, 6.0], 0.003);
    assert!(cut.bound > 0.9 * cut.bought, "{} of {}", cut.bound, cut.bought);
}

proptest! {
    #[test]
    fn nothing_is_lost_and_nothing_over_filled(
        list in prop::collection::vec((1_u32..2400, 0_usize..7), 0..7),
        kerf in 0_u32..6,
        more in prop::collection::vec(2400_u32..7000, 0..3),
    ) {
        let asked = pieces(&list.iter().map(|(length, count)| (f64::from(*length) / 1000.0, *count)).collect::<Vec<_>>());
        let stock: Vec<f64> = more.into_iter().chain([2400]).map(|length| f64::from(length) / 1000.0).collect();
        let kerf = f64::from(kerf) / 1000.0;
        let cut = cut_list(&asked, &stock, kerf).unwrap();
        is_sound(&cut, &asked, &stock, kerf);
        let needed: f64 = asked.iter().map(|piece| piece.length * piece.count as f64).sum();
        prop_assert!(needed <= cut.bought + 1e-6);
    }
}
