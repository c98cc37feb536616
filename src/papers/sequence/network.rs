//! Tasks bound to components, and which waits for which.

use crate::calc::network::{After, Task};
use crate::calc::visits;
use crate::design::{ComponentId, Paper, PaperSort};
use crate::formulas::{Table, table};
use crate::papers::row::Row;
use crate::papers::unknown::Unknown;
use crate::problem::{Problem, nearest};
use crate::values::{Evaluator, Lack, Value};
use smol_str::SmolStr;

/// Tasks count time in these: what is done in a day of work, and days that pass while nobody works.
pub(super) const SECONDS_A_DAY: f64 = 86_400.0;

/// A task on one component.
#[derive(Debug)]
pub(super) struct Job<'r> {
    pub row: &'r Row<'r>,
    pub subject: Option<ComponentId>,
    pub trade: SmolStr,
    /// Number of the trade, duration in days, what it waits for.
    pub job: visits::Job,
}

/// The jobs of all rows, and the rows that cannot be one.
pub(super) fn jobs<'r>(evaluator: &Evaluator, papers: &[Paper], rows: &'r [Row<'r>]) -> (Vec<Job<'r>>, Vec<Unknown>) {
    let mut unknown = Vec::new();
    let mut jobs: Vec<Job> = Vec::new();
    let mut trades: Vec<SmolStr> = Vec::new();
    for row in rows {
        match job(evaluator, row, papers, &mut trades) {
            Ok(Some(job)) => jobs.push(job),
            Ok(None) => {}
            Err(lack) => unknown.push(row.unknown(&lack)),
        }
    }
    let afters: Vec<Vec<After>> = jobs
        .iter()
        .map(|job| match after(evaluator, papers, job, &jobs) {
            Ok(after) => after,
            Err(lack) => {
                unknown.push(job.row.unknown(&lack));
                Vec::new()
            }
        })
        .collect();
    for (job, after) in jobs.iter_mut().zip(afters) {
        job.job.task.after = after;
    }
    (jobs, unknown)
}

fn job<'r>(evaluator: &Evaluator, row: &'r Row<'r>, papers: &[Paper], trades: &mut Vec<SmolStr>) -> Result<Option<Job<'r>>, Lack> {
    if let Some(lack) = &row.lack {
        return Err(lack.clone());
    }
    let Some(trade) = row.text("trade")? else { return Ok(None) };
    let takes = row.quantity("takes")?.map_or(0.0, |takes| takes.si / SECONDS_A_DAY);
    if takes < 0.0 {
        return Err(below_nothing(evaluator, row, "takes", "no work takes less than no time"));
    }
    let number = trades.iter().position(|known| *known == trade).unwrap_or_else(|| {
        trades.push(trade.clone());
        trades.len() - 1
    });
    let alike = papers.iter().position(|paper| std::ptr::eq(paper, row.paper)).unwrap_or(0);
    let task = Task { duration: takes, after: Vec::new() };
    Ok(Some(Job { row, subject: row.subjects().next(), trade, job: visits::Job { trade: number, alike, task } }))
}

/// Reports a time below nothing at the line of a task.
fn below_nothing(evaluator: &Evaluator, row: &Row, line: &str, why: &str) -> Lack {
    let span = row.paper.line(line).map_or(row.paper.name_span, |line| line.span);
    evaluator.report(Problem::error(format!("a time in `{line}` is below nothing: {why}"), span, "here").help("write days of 0 or more"));
    Lack::Faulty
}

fn after(evaluator: &Evaluator, papers: &[Paper], job: &Job, jobs: &[Job]) -> Result<Vec<After>, Lack> {
    let Some(value) = job.row.value("after") else { return Ok(Vec::new()) };
    let mut waits: Vec<After> = Vec::new();
    let mut all = Vec::new();
    waited_for(&value?, &mut all);
    for table::Done { task, of, wait } in all {
        if !papers.iter().any(|paper| paper.sort == PaperSort::Task && paper.name == task) {
            let names = papers.iter().filter(|paper| paper.sort == PaperSort::Task).map(|paper| paper.name.as_str());
            let help = nearest(&task, names).map_or_else(|| "name a task".to_owned(), |near| format!("did you mean `{near}`?"));
            let span = job.row.paper.line("after").map_or(job.row.paper.name_span, |line| line.span);
            evaluator.report(Problem::error(format!("there is no task `{task}`"), span, "waits for it").help(help));
            continue;
        }
        let wait = wait / SECONDS_A_DAY;
        if wait < 0.0 {
            return Err(below_nothing(evaluator, job.row, "after", "nothing waits for less than no time"));
        }
        for (place, before) in jobs.iter().enumerate() {
            let on = of.as_ref().is_none_or(|of| before.subject.is_some_and(|subject| of.contains(&subject)));
            if before.row.paper.name != task || !on || std::ptr::eq(before, job) {
                continue;
            }
            match waits.iter_mut().find(|known| known.task == place) {
                Some(known) => known.wait = known.wait.max(wait),
                None => waits.push(After { task: place, wait }),
            }
        }
    }
    Ok(waits)
}

/// What a line `after` waits for, in lists or not.
fn waited_for(value: &Value, all: &mut Vec<table::Done>) {
    match value {
        Value::Record(record) => all.extend(table::Done::of_record(record)),
        Value::List(items) => items.iter().for_each(|item| waited_for(item, all)),
        _ => {}
    }
}
