//! The fewest visits of the trades, against trying every order.

use proptest::prelude::*;
use wallplate::calc::network::{After, NetworkError, Task};
use wallplate::calc::visits::{Job, fewest_visits};

fn jobs(list: &[(usize, &[(usize, f64)])]) -> Vec<Job> {
    let job = |(trade, after): &(usize, &[(usize, f64)])| Job {
        trade: *trade,
        alike: 0,
        task: Task { duration: 1.0, after: after.iter().map(|(task, wait)| After { task: *task, wait: *wait }).collect() },
    };
    list.iter().map(job).collect()
}

/// Whether every job comes once, after what it waits for, and in a later visit than that where it has to.
fn is_sound(jobs: &[Job], visits: &[Vec<usize>]) {
    let place = |job: usize| {
        let found: Vec<(usize, usize)> = visits
            .iter()
            .enumerate()
            .flat_map(|(v, all)| all.iter().enumerate().map(move |(k, at)| (v, k, *at)))
            .filter(|(_, _, at)| *at == job)
            .map(|(v, k, _)| (v, k))
            .collect();
        assert_eq!(found.len(), 1, "job {job} in {visits:?}");
        found[0]
    };
    for visit in visits {
        assert!(!visit.is_empty() && visit.iter().all(|job| jobs[*job].trade == jobs[visit[0]].trade), "{visits:?}");
    }
    for (at, job) in jobs.iter().enumerate() {
        for after in &job.task.after {
            let (first, then) = (place(after.task), place(at));
            assert!(first < then && (after.wait == 0.0 || first.0 < then.0), "{} before {at} in {visits:?}", after.task);
        }
    }
}

#[test]
fn a_trade_that_can_do_all_at_once_comes_once() {
    // Two walls by a carpenter (0), each painted (1) by itself: two visits, not four.
    let list = jobs(&[(0, &[]), (1, &[(0, 0.0)]), (0, &[]), (1, &[(2, 0.0)])]);
    let plan = fewest_visits(&list).unwrap();
    is_sound(&list, &plan.visits);
    assert_eq!((plan.visits.len(), plan.bound), (2, 2));
}

#[test]
fn concrete_that_cures_brings_a_trade_back() {
    let list = jobs(&[(0, &[]), (0, &[(0, 7.0)])]);
    let plan = fewest_visits(&list).unwrap();
    assert_eq!(plan.visits, [vec![0], vec![1]]);
    assert_eq!(plan.bound, 2);
}

#[test]
fn who_comes_first_matters() {
    // 0 a, 1 b after a, 0 c after b, 1 d alone: b and d together, so three visits and not four.
    let list = jobs(&[(0, &[]), (1, &[(0, 0.0)]), (0, &[(1, 0.0)]), (1, &[])]);
    let plan = fewest_visits(&list).unwrap();
    is_sound(&list, &plan.visits);
    assert_eq!(plan.visits.len(), 3);
}

#[test]
fn a_circle_is_refused() {
    let list = jobs(&[(0, &[(1, 0.0)]), (1, &[(0, 0.0)])]);
    assert!(matches!(fewest_visits(&list), Err(NetworkError::Circle(circle)) if circle.len() == 2));
    assert_eq!(fewest_visits(&[]).unwrap().visits, Vec::<Vec<usize>>::new());
}

/// Every order of the jobs, one by one, a visit begun only where it must: slow and obvious.
fn by_trying(jobs: &[Job], visits: &mut Vec<Vec<usize>>, best: &mut usize) {
    if visits.len() >= *best {
        return;
    }
    let visit_of = |job: usize, visits: &[Vec<usize>]| visits.iter().position(|visit| visit.contains(&job));
    let mut left = false;
    for (at, job) in jobs.iter().enumerate() {
        if visit_of(at, visits).is_some() {
            continue;
        }
        left = true;
        let before: Option<Vec<(usize, f64)>> = job.task.after.iter().map(|a| Some((visit_of(a.task, visits)?, a.wait))).collect();
        let Some(before) = before else { continue };
        let joins = visits.last().is_some_and(|visit| jobs[visit[0]].trade == job.trade)
            && before.iter().all(|(visit, wait)| *wait == 0.0 || visit + 1 < visits.len());
        if joins {
            visits.last_mut().unwrap().push(at);
            by_trying(jobs, visits, best);
            visits.last_mut().unwrap().pop();
        } else {
            visits.push(vec![at]);
            by_trying(jobs, visits, best);
            visits.pop();
        }
    }
    if !left {
        *best = visits.len();
    }
}

proptest! {
    #[test]
    fn no_order_has_fewer(
        trades in prop::collection::vec(0_usize..3, 1..8),
        links in prop::collection::vec((0_usize..8, 0_usize..8, 0_u32..3), 0..9),
    ) {
        let mut list: Vec<Job> = trades.iter().map(|trade| Job { trade: *trade, alike: 0, task: Task { duration: 1.0, after: vec![] } }).collect();
        for (a, b, wait) in links {
            let (first, then) = (a.min(b), a.max(b));
            if first < then && then < list.len() {
                list[then].task.after.push(After { task: first, wait: f64::from(wait.saturating_sub(1)) });
            }
        }
        let plan = fewest_visits(&list).unwrap();
        is_sound(&list, &plan.visits);
        let mut best = list.len() + 1;
        by_trying(&list, &mut Vec::new(), &mut best);
        prop_assert_eq!(plan.visits.len(), best);
        prop_assert_eq!(plan.bound, best);
    }
}
