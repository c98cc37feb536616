//! Many designs at a time, on all cores: each by itself, so that one that cannot be worked out stops none of the others.
//!
//! In: designs by name, and what is to be done with one. Out: what came of each, in the same order.

use super::files::without_place;
use super::patience;
use crate::problem::Problem;
use crate::values::unless_halted;
use rayon::ThreadPoolBuilder;
use rayon::prelude::{IntoParallelIterator, ParallelIterator};
use std::num::NonZeroUsize;

/// The stack of a core that works on a design: as large as that of a program, for values stand on one another.
const STACK: usize = 8 * 1024 * 1024;

/// What came of a design, with its name, or why nothing did.
pub(super) type Come<R> = Result<(String, R), Vec<Problem>>;

/// Does the same with each of several designs, as many at a time as `jobs` says or there are cores.
pub(super) fn each<T: Send, R: Send>(
    jobs: Option<NonZeroUsize>,
    designs: Vec<(String, T)>,
    work: impl Fn(T) -> Result<R, Vec<Problem>> + Sync,
) -> Vec<Come<R>> {
    let one = |(name, design): (String, T)| match unless_halted(|| work(design)) {
        Ok(Some(Ok(done))) => Ok((name, done)),
        Ok(Some(Err(problems))) => Err(problems),
        Ok(None) => Err(vec![patience::problem_of(&name)]),
        Err(_) => Err(vec![without_place(
            format!("`{name}` is not worked out: Wallplate itself has made a mistake on it"),
            "check this file alone; what is written above says where it happened, and is worth a report".to_owned(),
        )]),
    };
    match ThreadPoolBuilder::new().num_threads(jobs.map_or(0, NonZeroUsize::get)).stack_size(STACK).build() {
        Ok(pool) => pool.install(|| designs.into_par_iter().map(one).collect()),
        // No room for threads: one after the other does as well.
        Err(_) => designs.into_iter().map(one).collect(),
    }
}

/// What came of designs, and apart from it what is told of those of which nothing did.
pub(super) fn split<R>(all: Vec<Come<R>>) -> (Vec<(String, R)>, Vec<Problem>) {
    let (mut done, mut problems) = (Vec::with_capacity(all.len()), Vec::new());
    for one in all {
        match one {
            Ok(design) => done.push(design),
            Err(told) => problems.extend(told),
        }
    }
    (done, problems)
}
