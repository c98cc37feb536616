//! The critical path method against worked textbook networks.

use proptest::prelude::*;
use wallplate::calc::network::{After, NetworkError, Schedule, Task, schedule};

fn tasks(list: &[(f64, &[usize])]) -> Vec<Task> {
    list.iter()
        .map(|(duration, after)| Task { duration: *duration, after: after.iter().map(|&task| After { task, wait: 0.0 }).collect() })
        .collect()
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

fn floats(schedule: &Schedule) -> Vec<(f64, f64)> {
    schedule.times.iter().map(|t| (t.total_float, t.free_float)).collect()
}

#[test]
fn seven_tasks() {
    // Textbook: A6, B2 A, C2 A, D3 B, F2 C, E4 D F, G1 E; 16, critical A-B-D-E-G.
    // In the order A, B, C, D, F, E, G.
    let plan = schedule(&tasks(&[(6.0, &[]), (2.0, &[0]), (2.0, &[0]), (3.0, &[1]), (2.0, &[2]), (4.0, &[3, 4]), (1.0, &[5])])).unwrap();
    assert!(close(plan.length, 16.0));
    assert_eq!(plan.critical_path, [0, 1, 3, 5, 6]);
    let c_times = plan.times[2];
    assert!(close(c_times.earliest_start, 6.0) && close(c_times.earliest_finish, 8.0));
    assert!(close(c_times.latest_start, 7.0) && close(c_times.latest_finish, 9.0));
    let f_times = plan.times[4];
    assert!(close(f_times.earliest_start, 8.0) && close(f_times.earliest_finish, 10.0));
    assert!(close(f_times.latest_start, 9.0) && close(f_times.latest_finish, 11.0));
    assert_eq!(floats(&plan), [(0.0, 0.0), (0.0, 0.0), (1.0, 0.0), (0.0, 0.0), (1.0, 1.0), (0.0, 0.0), (0.0, 0.0)]);
}

#[test]
fn seven_arcs() {
    // Taylor, Introduction to Management Science, ch. 8: arcs 1-2:7, 1-3:10, 2-4:6, 3-4:5, 3-5:4, 4-5:3, 5-6:2.
    let plan = schedule(&tasks(&[(7.0, &[]), (10.0, &[]), (6.0, &[0]), (5.0, &[1]), (4.0, &[1]), (3.0, &[2, 3]), (2.0, &[4, 5])])).unwrap();
    assert!(close(plan.length, 20.0));
    assert_eq!(plan.critical_path, [1, 3, 5, 6]);
    let printed = [
        [0.0, 7.0, 2.0, 9.0],
        [0.0, 10.0, 0.0, 10.0],
        [7.0, 13.0, 9.0, 15.0],
        [10.0, 15.0, 10.0, 15.0],
        [10.0, 14.0, 14.0, 18.0],
        [15.0, 18.0, 15.0, 18.0],
        [18.0, 20.0, 18.0, 20.0],
    ];
    for (t, row) in plan.times.iter().zip(printed) {
        let ours = [t.earliest_start, t.earliest_finish, t.latest_start, t.latest_finish];
        assert!(ours.iter().zip(row).all(|(a, b)| close(*a, b)), "{ours:?} {row:?}");
    }
}

#[test]
fn eight_tasks() {
    // Heizer and Render, project table: A2, B3, C2 A, D4 A B, E4 C, F3 C, G5 D E, H2 F G (predecessors from memory).
    let plan =
        schedule(&tasks(&[(2.0, &[]), (3.0, &[]), (2.0, &[0]), (4.0, &[0, 1]), (4.0, &[2]), (3.0, &[2]), (5.0, &[3, 4]), (2.0, &[5, 6])]))
            .unwrap();
    assert!(close(plan.length, 15.0));
    assert_eq!(plan.critical_path, [0, 2, 4, 6, 7]);
    let total: Vec<f64> = floats(&plan).into_iter().map(|f| f.0).collect();
    assert_eq!(total, [0.0, 1.0, 0.0, 1.0, 0.0, 6.0, 0.0, 0.0]);
}

#[test]
fn waiting_counts_and_belongs_to_no_task() {
    // Pour 1, cure 7, load 2; meanwhile frame 4: 10 in all, framing floats by 4 up to the loading.
    let mut list = tasks(&[(1.0, &[]), (4.0, &[]), (2.0, &[1])]);
    list[2].after.push(After { task: 0, wait: 7.0 });
    let plan = schedule(&list).unwrap();
    assert!(close(plan.length, 10.0));
    assert_eq!(plan.critical_path, [0, 2]);
    assert!(close(plan.times[1].total_float, 4.0) && close(plan.times[1].free_float, 4.0));
}

#[test]
fn a_circle_is_named_whole() {
    // 1 waits for 3, 3 for 2, 2 for 1; 0 and 4 are not part of it.
    let list = tasks(&[(1.0, &[]), (1.0, &[0, 3]), (1.0, &[1]), (1.0, &[2]), (1.0, &[3])]);
    match schedule(&list) {
        Err(NetworkError::Circle(mut circle)) => {
            for (i, &task) in circle.iter().enumerate() {
                let next = circle[(i + 1) % circle.len()];
                assert!(list[task].after.iter().any(|a| a.task == next));
            }
            circle.sort_unstable();
            assert_eq!(circle, [1, 2, 3]);
        }
        other => panic!("{other:?}"),
    }
    assert_eq!(schedule(&tasks(&[(1.0, &[0])])), Err(NetworkError::Circle(vec![0])));
    assert_eq!(schedule(&tasks(&[(1.0, &[7])])), Err(NetworkError::NoSuchTask { task: 0 }));
    assert_eq!(schedule(&tasks(&[(-1.0, &[])])), Err(NetworkError::Duration { task: 0 }));
    assert!(schedule(&[]).unwrap().critical_path.is_empty());
}

/// Longest chain through each task, by trying every chain: slow and obvious.
fn longest_to(list: &[Task], task: usize) -> f64 {
    let before = list[task].after.iter().map(|a| longest_to(list, a.task) + a.wait);
    list[task].duration + before.fold(0.0, f64::max)
}

proptest! {
    #[test]
    fn length_is_the_longest_chain(
        durations in prop::collection::vec(0_u32..9, 1..9),
        links in prop::collection::vec((0_usize..9, 0_usize..9, 0_u32..4), 0..14),
    ) {
        let mut list: Vec<Task> = durations
            .iter()
            .map(|d| Task { duration: f64::from(*d), after: vec![] })
            .collect();
        for (a, b, wait) in links {
            let (first, second) = (a.min(b), a.max(b));
            if first < second && second < list.len() {
                list[second].after.push(After { task: first, wait: f64::from(wait) });
            }
        }
        let plan = schedule(&list).unwrap();
        let longest = (0..list.len()).map(|i| longest_to(&list, i)).fold(0.0, f64::max);
        prop_assert!(close(plan.length, longest));
        for (i, t) in plan.times.iter().enumerate() {
            prop_assert!(close(t.earliest_finish, longest_to(&list, i)));
            prop_assert!(t.free_float <= t.total_float + 1e-9 && t.free_float >= 0.0);
            // Put off by all its float, a task leaves the end where it was; by more, it does not.
            let mut late = list.clone();
            late[i].duration += t.total_float;
            prop_assert!(close(schedule(&late).unwrap().length, plan.length));
            late[i].duration += 0.5;
            prop_assert!(schedule(&late).unwrap().length > plan.length + 0.4);
        }
        // The critical path is a chain without gaps from the beginning to the end.
        let mut clock = 0.0;
        for (k, &task) in plan.critical_path.iter().enumerate() {
            prop_assert!(close(plan.times[task].earliest_start, clock) || k > 0);
            clock = plan.times[task].earliest_finish;
        }
        prop_assert!(close(clock, plan.length));
    }
}
