//! The order of work: when each task can start, when it must, and which tasks decide the end.
//!
//! In: tasks by number, each with its duration and what it waits for (all times in s). Out: a [`Schedule`], or the
//! circle of tasks that wait for each other. It must not know what a task is.

/// What a task waits for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct After {
    /// Number of the task that comes first.
    pub task: usize,
    /// Time that must pass after it is finished, s: concrete that cures while nobody works on it.
    pub wait: f64,
}

/// A task: how long it takes and what comes before it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Task {
    /// Duration, s.
    pub duration: f64,
    /// What must be finished first.
    pub after: Vec<After>,
}

/// When a task can be done and when it must be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Times {
    /// Earliest start, s from the beginning of the work.
    pub earliest_start: f64,
    /// Earliest finish, s.
    pub earliest_finish: f64,
    /// Latest start that does not delay the end, s.
    pub latest_start: f64,
    /// Latest finish that does not delay the end, s.
    pub latest_finish: f64,
    /// How long the task can be put off without delaying the end, s.
    pub total_float: f64,
    /// How long it can be put off without delaying any other task, s.
    pub free_float: f64,
    /// Whether it decides the end.
    pub critical: bool,
}

/// The whole work in time.
#[derive(Debug, Clone, PartialEq)]
pub struct Schedule {
    /// Times of each task, in the order in which the tasks were given.
    pub times: Vec<Times>,
    /// Length of the whole work, s.
    pub length: f64,
    /// One chain of critical tasks from the beginning to the end; others may tie with it.
    pub critical_path: Vec<usize>,
    /// An order in which all of it can be done.
    pub order: Vec<usize>,
}

/// Why there is no schedule.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NetworkError {
    /// Tasks that wait for each other: each for the one after it in the list, and the last for the first.
    #[error("tasks wait for each other in a circle")]
    Circle(Vec<usize>),
    /// A task that waits for a number that is no task.
    #[error("task {task} waits for a task that does not exist")]
    NoSuchTask {
        /// The waiting task.
        task: usize,
    },
    /// A duration or a wait that is negative or no number.
    #[error("the duration of task {task} needs to be zero or more")]
    Duration {
        /// The task.
        task: usize,
    },
}

/// Floats below this share of the whole are rounding, not time.
const ROUNDING: f64 = 1e-9;

/// The critical path method: forward for the earliest times, backward for the latest.
///
/// Earliest start is the latest of what comes before (finish plus wait); latest finish the earliest of what comes
/// after; total float their difference; free float up to the earliest start of what follows, and up to the end
/// of the work for a task that nothing follows.
///
/// # Errors
/// [`NetworkError::Circle`] with one whole circle, [`NetworkError::NoSuchTask`], [`NetworkError::Duration`].
///
/// Source: Kelley and Walker 1959; any textbook of operations management.
pub fn schedule(tasks: &[Task]) -> Result<Schedule, NetworkError> {
    check(tasks)?;
    let order = order(tasks)?;

    let mut starts = vec![0.0_f64; tasks.len()];
    for &i in &order {
        starts[i] = tasks[i].after.iter().map(|a| starts[a.task] + tasks[a.task].duration + a.wait).fold(0.0, f64::max);
    }
    let finish = |i: usize| starts[i] + tasks[i].duration;
    let length = (0..tasks.len()).map(finish).fold(0.0, f64::max);

    let mut latest_finish = vec![length; tasks.len()];
    let mut next_start = vec![length; tasks.len()];
    for &i in order.iter().rev() {
        for a in &tasks[i].after {
            let must_finish = latest_finish[i] - tasks[i].duration - a.wait;
            latest_finish[a.task] = latest_finish[a.task].min(must_finish);
            next_start[a.task] = next_start[a.task].min(starts[i] - a.wait);
        }
    }

    let slack = |float: f64| if float <= ROUNDING * length { 0.0 } else { float };
    let times: Vec<Times> = (0..tasks.len())
        .map(|i| {
            let total_float = slack(latest_finish[i] - finish(i));
            Times {
                earliest_start: starts[i],
                earliest_finish: finish(i),
                latest_start: latest_finish[i] - tasks[i].duration,
                latest_finish: latest_finish[i],
                total_float,
                free_float: slack(next_start[i] - finish(i)),
                critical: total_float == 0.0,
            }
        })
        .collect();
    let critical_path = critical_path(tasks, &times, &order, length);
    Ok(Schedule { times, length, critical_path, order })
}

fn check(tasks: &[Task]) -> Result<(), NetworkError> {
    let sound = |time: f64| time.is_finite() && time >= 0.0;
    for (task, it) in tasks.iter().enumerate() {
        if it.after.iter().any(|a| a.task >= tasks.len()) {
            return Err(NetworkError::NoSuchTask { task });
        }
        if !sound(it.duration) || it.after.iter().any(|a| !sound(a.wait)) {
            return Err(NetworkError::Duration { task });
        }
    }
    Ok(())
}

/// Tasks in an order that respects what each waits for; among those that are free, the lowest number first.
fn order(tasks: &[Task]) -> Result<Vec<usize>, NetworkError> {
    let mut waits_for: Vec<usize> = tasks.iter().map(|t| t.after.len()).collect();
    let mut followers = vec![Vec::new(); tasks.len()];
    for (i, task) in tasks.iter().enumerate() {
        for a in &task.after {
            followers[a.task].push(i);
        }
    }
    let mut free: std::collections::BTreeSet<usize> = (0..tasks.len()).filter(|&i| waits_for[i] == 0).collect();
    let mut order = Vec::with_capacity(tasks.len());
    while let Some(i) = free.pop_first() {
        order.push(i);
        for &follower in &followers[i] {
            waits_for[follower] -= 1;
            if waits_for[follower] == 0 {
                free.insert(follower);
            }
        }
    }
    match (0..tasks.len()).find(|&i| waits_for[i] > 0) {
        None => Ok(order),
        Some(stuck) => Err(NetworkError::Circle(circle(tasks, &waits_for, stuck))),
    }
}

/// One whole circle. Every task that is still waiting waits for another such task, so walking from any of them to
/// what it waits for must come back to a task already seen: from there on it is a circle.
fn circle(tasks: &[Task], waits_for: &[usize], stuck: usize) -> Vec<usize> {
    let mut walk = vec![stuck];
    let mut seen_at = vec![None; tasks.len()];
    seen_at[stuck] = Some(0);
    let mut at = stuck;
    while let Some(next) = tasks[at].after.iter().map(|a| a.task).filter(|&t| waits_for[t] > 0).min() {
        if let Some(start) = seen_at[next] {
            return walk.split_off(start);
        }
        seen_at[next] = Some(walk.len());
        walk.push(next);
        at = next;
    }
    walk
}

/// From a critical task that ends the work, back through critical tasks that leave no gap.
fn critical_path(tasks: &[Task], times: &[Times], order: &[usize], length: f64) -> Vec<usize> {
    let close = |a: f64, b: f64| (a - b).abs() <= ROUNDING * length;
    let mut path = Vec::new();
    let ends = |i: usize| times[i].critical && close(times[i].earliest_finish, length);
    let mut at = order.iter().copied().rev().find(|&i| ends(i));
    while let Some(i) = at {
        path.push(i);
        at = tasks[i]
            .after
            .iter()
            .filter(|a| times[a.task].critical && close(times[a.task].earliest_finish + a.wait, times[i].earliest_start))
            .map(|a| a.task)
            .min();
    }
    path.reverse();
    path
}
