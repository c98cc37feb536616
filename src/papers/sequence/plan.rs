//! Jobs in visits, visits in steps, steps in time.

use super::network::Job;
use super::{Remark, Sequence, Step, Visit, Wait};
use crate::calc::network::{After, NetworkError, Schedule, Task, schedule};
use crate::calc::visits::{self, fewest_visits};
use crate::design::Design;
use crate::problem::Problem;
use smol_str::SmolStr;

pub(super) fn plan(design: &Design, jobs: &[Job]) -> Sequence {
    let plain: Vec<visits::Job> = jobs.iter().map(|job| job.job.clone()).collect();
    let tasks: Vec<Task> = plain.iter().map(|job| job.task.clone()).collect();
    let (free, bundled) = match (schedule(&tasks), fewest_visits(&plain)) {
        (Ok(free), Ok(bundled)) => (free, bundled),
        (Err(NetworkError::Circle(circle)), _) => return Sequence { circle: circle_found(design, jobs, &circle), ..Sequence::default() },
        // Durations are made zero or more, and tasks are named by their places: there is nothing else to be wrong.
        _ => return Sequence::default(),
    };
    let mut steps: Vec<Step> = Vec::new();
    let mut visits: Vec<Visit> = Vec::new();
    // The step of each job.
    let mut step_of = vec![0; jobs.len()];
    for visit in &bundled.visits {
        let Some(first) = visit.first().and_then(|job| jobs.get(*job)) else { continue };
        let begins = steps.len();
        for &place in visit {
            let Some(job) = jobs.get(place) else { continue };
            let goes_on = steps.len() > begins && steps.last().is_some_and(|step| step.task == job.row.paper.name);
            if !goes_on {
                steps.push(begun(job, visits.len()));
            }
            if let Some(step) = steps.last_mut() {
                add(step, job);
            }
            if let Some(step) = step_of.get_mut(place) {
                *step = steps.len() - 1;
            }
        }
        let number = 1 + visits.iter().filter(|earlier| earlier.trade == first.trade).count();
        visits.push(Visit { trade: first.trade.clone(), number, of: 0, start: 0.0, finish: 0.0, steps: begins..steps.len() });
    }
    for (job, step) in jobs.iter().zip(&step_of) {
        for after in &job.job.task.after {
            let Some(before) = step_of.get(after.task).filter(|before| *before != step) else { continue };
            let Some(step) = steps.get_mut(*step) else { continue };
            match step.after.iter_mut().find(|known| known.step == *before) {
                Some(known) => known.days = known.days.max(after.wait),
                None => step.after.push(Wait { step: *before, days: after.wait }),
            }
        }
    }
    let totals: Vec<(SmolStr, usize)> = visits.iter().map(|visit| (visit.trade.clone(), visit.number)).collect();
    for visit in &mut visits {
        visit.of = totals.iter().filter(|(trade, _)| *trade == visit.trade).map(|(_, number)| *number).max().unwrap_or(1);
    }
    let timed = schedule(&in_time(&steps, &visits)).unwrap_or(Schedule {
        times: Vec::new(),
        length: 0.0,
        critical_path: Vec::new(),
        order: Vec::new(),
    });
    for (step, times) in steps.iter_mut().zip(&timed.times) {
        step.start = times.earliest_start;
        step.finish = times.earliest_start + step.takes;
        step.float = times.total_float;
        step.critical = times.critical;
    }
    for visit in &mut visits {
        let own = steps.get(visit.steps.clone()).unwrap_or_default();
        visit.start = own.first().map_or(0.0, |step| step.start);
        visit.finish = own.last().map_or(0.0, |step| step.finish);
    }
    for step in &mut steps {
        for remark in step.does.iter_mut().chain(&mut step.holds) {
            if remark.of == step.of {
                remark.of.clear();
            }
        }
    }
    in_order(Sequence {
        visits,
        steps,
        days: timed.length,
        fewest_days: free.length,
        critical_path: timed.critical_path,
        visits_bound: bundled.bound,
        unknown: Vec::new(),
        circle: None,
    })
}

/// The same with the visits in the order in which they begin.
fn in_order(sequence: Sequence) -> Sequence {
    let mut visits = sequence.visits;
    visits.sort_by(|a, b| a.start.total_cmp(&b.start));
    let mut place_of = vec![0; sequence.steps.len()];
    let mut steps = Vec::with_capacity(sequence.steps.len());
    for (at, visit) in visits.iter_mut().enumerate() {
        let begins = steps.len();
        for old in visit.steps.clone() {
            if let (Some(step), Some(place)) = (sequence.steps.get(old), place_of.get_mut(old)) {
                *place = steps.len();
                steps.push(Step { visit: at, ..step.clone() });
            }
        }
        visit.steps = begins..steps.len();
    }
    let new = |old: usize| place_of.get(old).copied().unwrap_or(old);
    for step in &mut steps {
        for wait in &mut step.after {
            wait.step = new(wait.step);
        }
    }
    let critical_path = sequence.critical_path.iter().map(|old| new(*old)).collect();
    Sequence { visits, steps, critical_path, ..sequence }
}

/// The steps as they are done: one after the other in a visit, a visit only when all of it can be done in one go, and from the
/// beginning of a day; the visits of a trade one after the other.
fn in_time(steps: &[Step], visits: &[Visit]) -> Vec<Task> {
    let mut tasks: Vec<Task> = steps.iter().map(|step| Task { duration: step.takes, after: Vec::new() }).collect();
    // What another visit waits for is over when the trade has gone.
    let last_of = |step: usize| visits.iter().find(|visit| visit.steps.contains(&step)).map_or(step, |visit| visit.steps.end - 1);
    for (at, visit) in visits.iter().enumerate() {
        let own = steps.get(visit.steps.clone()).unwrap_or_default();
        let mut first_waits: Vec<After> = own
            .iter()
            .flat_map(|step| &step.after)
            .filter(|wait| !visit.steps.contains(&wait.step))
            .map(|wait| After { task: last_of(wait.step), wait: wait.days.ceil() })
            .collect();
        let earlier = visits.get(..at).unwrap_or_default().iter().rev().find(|earlier| earlier.trade == visit.trade);
        if let Some(last) = earlier.and_then(|earlier| earlier.steps.end.checked_sub(1)) {
            first_waits.push(After { task: last, wait: 0.0 });
        }
        // Whoever comes after the visit comes on another day.
        let whole: f64 = own.iter().map(|step| step.takes).sum();
        let idle = (whole - 1e-9).ceil().max(0.0) - whole;
        for place in visit.steps.clone() {
            let is_first = place == visit.steps.start;
            if let Some(task) = tasks.get_mut(place) {
                task.after = if is_first { std::mem::take(&mut first_waits) } else { vec![After { task: place - 1, wait: 0.0 }] };
                if place + 1 == visit.steps.end {
                    task.duration += idle.max(0.0);
                }
            }
        }
    }
    tasks
}

fn begun(job: &Job, visit: usize) -> Step {
    Step {
        task: job.row.paper.name.clone(),
        title: job.row.paper.title.clone(),
        of: Vec::new(),
        does: Vec::new(),
        holds: Vec::new(),
        trade: job.trade.clone(),
        visit,
        start: 0.0,
        finish: 0.0,
        takes: 0.0,
        float: 0.0,
        critical: false,
        after: Vec::new(),
        notes: Vec::new(),
        cautions: Vec::new(),
        sources: Vec::new(),
    }
}

fn add(step: &mut Step, job: &Job) {
    step.takes += job.job.task.duration;
    let name = job.row.names().into_iter().next();
    step.of.extend(name.clone());
    // What cannot be said for lack of a line is told to be so: a hold point must not vanish.
    let said = |line| job.row.texts(line).unwrap_or_else(|lack| vec![format!("not known: {}", job.row.unknown(&lack).help()).into()]);
    for (line, remarks) in [("does", &mut step.does), ("hold", &mut step.holds)] {
        for says in said(line) {
            match remarks.iter_mut().find(|known| known.says == says) {
                Some(known) => known.of.extend(name.clone()),
                None => remarks.push(Remark { of: name.iter().cloned().collect(), says }),
            }
        }
    }
    for (line, texts) in [("note", &mut step.notes), ("caution", &mut step.cautions), ("source", &mut step.sources)] {
        for text in said(line) {
            if !texts.contains(&text) {
                texts.push(text);
            }
        }
    }
}

/// The circle, each step of it at the component that it is done on.
fn circle_found(design: &Design, jobs: &[Job], circle: &[usize]) -> Option<Problem> {
    let named = |place: &usize| {
        let job = jobs.get(*place)?;
        let of = job.row.names().into_iter().next().unwrap_or_default();
        let span = job.subject.map_or(job.row.paper.name_span, |subject| design.component(subject).header);
        Some((format!("{} ({of})", job.row.paper.name), span))
    };
    let steps: Vec<_> = circle.iter().filter_map(named).collect();
    let mut names: Vec<String> = steps.iter().map(|(name, _)| format!("`{name}`")).collect();
    names.extend(names.first().cloned());
    let mut problem: Option<Problem> = None;
    for (at, (name, span)) in steps.iter().enumerate() {
        let next = steps.get((at + 1) % steps.len()).map(|(name, _)| name.as_str()).unwrap_or_default();
        let label = format!("`{name}` waits for `{next}`");
        problem = Some(match problem {
            None => Problem::error("the order of work goes round in a circle", *span, label),
            Some(problem) => problem.also(*span, label),
        });
    }
    problem
        .map(|problem| problem.help(format!("the circle is {}; one of them has to come without waiting for the other", names.join(" → "))))
}
