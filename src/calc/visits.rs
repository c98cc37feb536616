//! How seldom each trade has to come: jobs bundled into visits of one trade each, in an order that respects what waits for
//! what, with as few visits as there can be.
//!
//! In: jobs by number, the trade of each, what comes before it. Out: the visits in order, and a number below which there is
//! no plan. It must not know what a trade does.

use super::network::{NetworkError, Task, schedule};
use std::collections::HashSet;

/// Plans that are followed up side by side; with more, the least hopeful are let go and the proof with them.
const MOST_PLANS: usize = 20_000;

/// A job of a trade.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// Number of the trade.
    pub trade: usize,
    /// Jobs with the same number are done one after the other where they can be.
    pub alike: usize,
    /// Duration, and what it waits for.
    pub task: Task,
}

/// Jobs in visits.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Visits {
    /// The jobs of each visit, in order.
    pub visits: Vec<Vec<usize>>,
    /// No plan has fewer.
    pub bound: usize,
}

/// The fewest visits: a job comes no earlier than what it waits for, and in a later visit than another trade's job or one
/// after which time has to pass.
///
/// A trade that is there does all it can: what is done early never makes a later visit necessary, so only the order of
/// the trades is searched, breadth first, each state of the work once. Without the bound on the plans side by side the answer is
/// exact.
///
/// # Errors
/// As [`schedule`].
///
/// Source: none; a search by exhaustion.
pub fn fewest_visits(jobs: &[Job]) -> Result<Visits, NetworkError> {
    let tasks: Vec<Task> = jobs.iter().map(|job| job.task.clone()).collect();
    let order = schedule(&tasks)?.order;
    let chain_bound = chain_bound(jobs, &order);
    let trades = jobs.iter().map(|job| job.trade + 1).max().unwrap_or(0);
    let mut exact = true;
    // Each plan: the visits so far, and what is done.
    let mut plans: Vec<(Vec<usize>, Vec<bool>)> = vec![(Vec::new(), vec![false; jobs.len()])];
    let mut seen: HashSet<Vec<bool>> = HashSet::new();
    let mut level = 0;
    loop {
        if let Some((way, _)) = plans.iter().find(|(_, done)| done.iter().all(|done| *done)) {
            return Ok(Visits { visits: carried_out(jobs, way), bound: if exact { level } else { chain_bound } });
        }
        let mut next = Vec::new();
        for (way, done) in &plans {
            for trade in 0..trades {
                let visit = visit(jobs, done, trade);
                if visit.is_empty() {
                    continue;
                }
                let mut done = done.clone();
                for job in visit {
                    if let Some(done) = done.get_mut(job) {
                        *done = true;
                    }
                }
                if seen.insert(done.clone()) {
                    let mut way = way.clone();
                    way.push(trade);
                    next.push((way, done));
                }
            }
        }
        if next.len() > MOST_PLANS {
            exact = false;
            next.sort_by_key(|(_, done)| std::cmp::Reverse(done.iter().filter(|done| **done).count()));
            next.truncate(MOST_PLANS);
        }
        plans = next;
        level += 1;
        if plans.is_empty() {
            // Cannot be: work without a circle always has a job that can be done.
            return Ok(Visits { visits: carried_out(jobs, &[]), bound: chain_bound });
        }
    }
}

/// Along any chain of jobs the trade changes so often, or time has to pass.
fn chain_bound(jobs: &[Job], order: &[usize]) -> usize {
    let mut least = vec![1_usize; jobs.len()];
    for &at in order {
        let Some(job) = jobs.get(at) else { continue };
        let before = job.task.after.iter().filter_map(|after| {
            let earlier = jobs.get(after.task)?;
            Some(least.get(after.task)? + usize::from(earlier.trade != job.trade || after.wait > 0.0))
        });
        let most = before.max().unwrap_or(1);
        if let Some(least) = least.get_mut(at) {
            *least = most;
        }
    }
    let trades: HashSet<usize> = jobs.iter().map(|job| job.trade).collect();
    least.into_iter().max().unwrap_or(0).max(trades.len())
}

/// All that a trade can do when it comes now, in an order in which it can: like after like.
fn visit(jobs: &[Job], done: &[bool], trade: usize) -> Vec<usize> {
    let mut here: Vec<usize> = Vec::new();
    let mut last = None;
    loop {
        let ready = |at: usize, job: &Job| {
            let after = |task: usize, wait: f64| done.get(task) == Some(&true) || (wait <= 0.0 && here.contains(&task));
            job.trade == trade
                && done.get(at) == Some(&false)
                && !here.contains(&at)
                && job.task.after.iter().all(|a| after(a.task, a.wait))
        };
        let mut can = jobs.iter().enumerate().filter(|(at, job)| ready(*at, job)).peekable();
        let first = can.peek().map(|(at, _)| *at);
        let Some(next) = can.find(|(_, job)| Some(job.alike) == last).map(|(at, _)| at).or(first) else { return here };
        last = jobs.get(next).map(|job| job.alike);
        here.push(next);
    }
}

fn carried_out(jobs: &[Job], way: &[usize]) -> Vec<Vec<usize>> {
    let mut done = vec![false; jobs.len()];
    let mut visits = Vec::with_capacity(way.len());
    for trade in way {
        let visit = visit(jobs, &done, *trade);
        for job in &visit {
            if let Some(done) = done.get_mut(*job) {
                *done = true;
            }
        }
        visits.push(visit);
    }
    visits
}
