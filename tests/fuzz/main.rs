//! Fuzzing: texts that nobody wrote, made from all that stands in the examples and the trade library.
//!
//! Whatever a text says, reading, laying out, checking, putting on paper, an edit and a conversation with an editor
//! have to answer, and have to agree with each other. Each case comes from the seed and its number alone.
//!
//!     cargo test --test fuzz                                          a few seconds, all that was found before first
//!     cargo test --test fuzz -- --seconds 60                          one minute for each part
//!     cargo test --profile fuzz --test fuzz -- --seconds 3600 --seed 7 --only reading
//!     cargo test --test fuzz -- --only checking --seed 7 --from 4711 --cases 1
//!     cargo test --test fuzz -- --only checking --file before.plate --file after.plate
//!
//! What goes wrong is made as short as it can be and printed with how to see it again; a text that was once one too
//! many is kept in `corpus/`.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test that cannot go on should say so and stop")]
#![allow(clippy::print_stdout, reason = "figures for whoever runs it")]

mod answers;
mod checking;
mod conversing;
mod mutate;
mod pool;
mod reading;
mod shrink;

use mutate::Dice;
use pool::Pool;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::time::{Duration, Instant};

/// What one case is made of, and what may be wrong with it.
pub trait Part {
    /// As it is named on the command line.
    const NAME: &'static str;

    /// What is counted.
    const COUNTS: &'static str;

    /// The texts of a case, one after the other.
    fn case(pool: &Pool, dice: &mut Dice) -> Vec<String>;

    /// Goes through the texts; panics where something is wrong.
    ///
    /// Gives how many of what the part counts were done.
    fn run(texts: &[String], dice: &mut Dice) -> u64;
}

/// How often one place of the program is told.
const MOST_TOLD: u64 = 3;

struct Arguments {
    seconds: f64,
    only: Option<String>,
    seed: u64,
    from: u64,
    cases: u64,
    /// One case by hand: these files, one after the other.
    files: Vec<PathBuf>,
}

fn arguments() -> Arguments {
    let mut arguments = Arguments { seconds: 2.0, only: None, seed: 1, from: 0, cases: u64::MAX, files: Vec::new() };
    let mut given = std::env::args().skip(1);
    while let Some(name) = given.next() {
        // What the test harness of other targets understands does not matter here.
        let mut value = || given.next().unwrap_or_default();
        match name.as_str() {
            "--seconds" => arguments.seconds = value().parse().expect("a number of seconds"),
            "--only" => arguments.only = Some(value()),
            "--seed" => arguments.seed = value().parse().expect("a number"),
            "--from" => arguments.from = value().parse().expect("a number"),
            "--cases" => arguments.cases = value().parse().expect("a number"),
            "--file" => arguments.files.push(value().into()),
            _ => {}
        }
    }
    arguments
}

fn main() -> ExitCode {
    let arguments = arguments();
    let pool = Pool::gather(Path::new(env!("CARGO_MANIFEST_DIR")));
    let faults = fuzz::<reading::Reading>(&arguments, &pool)
        + fuzz::<checking::Checking>(&arguments, &pool)
        + fuzz::<conversing::Conversing>(&arguments, &pool);
    if faults == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// Goes through the corpus, then through made-up cases until the time is over; how many went wrong.
fn fuzz<P: Part>(arguments: &Arguments, pool: &Pool) -> u64 {
    if arguments.only.as_ref().is_some_and(|only| only != P::NAME) {
        return 0;
    }
    let begin = Instant::now();
    let (mut cases, mut done) = (0_u64, 0_u64);
    // Where in the program something went wrong, and how often.
    let mut known: BTreeMap<String, u64> = BTreeMap::new();
    let mut told = begin;
    let mut one = |story: &str, texts: &[String], seed: u64| match shrink::outcome::<P>(texts, seed) {
        Ok(count) => count,
        Err(fault) => {
            let times = known.entry(fault.place.clone()).or_default();
            *times += 1;
            // The same place is told a few times: it may be several faults.
            if *times <= MOST_TOLD {
                let by_hand = !arguments.files.is_empty();
                let short = if by_hand { texts.to_vec() } else { shrink::shortest::<P>(texts, seed, &fault.place) };
                println!("{} {story}: {fault}\n{}", P::NAME, shrink::shown(&short));
            }
            0
        }
    };
    if !arguments.files.is_empty() {
        let texts: Vec<String> = arguments.files.iter().map(|file| std::fs::read_to_string(file).expect("a text")).collect();
        done += one("by hand", &texts, arguments.seed);
    } else if arguments.from == 0 {
        for (name, text) in &pool.corpus {
            done += one(name, std::slice::from_ref(text), 0);
        }
    }
    for number in (arguments.from..).take(usize::try_from(arguments.cases).unwrap_or(usize::MAX)) {
        if begin.elapsed().as_secs_f64() > arguments.seconds || !arguments.files.is_empty() {
            break;
        }
        let seed = Dice::seed(arguments.seed, number);
        let texts = P::case(pool, &mut Dice::new(seed));
        done += one(&format!("--seed {} --from {number} --cases 1", arguments.seed), &texts, seed);
        cases += 1;
        if told.elapsed() > Duration::from_secs(60) {
            told = Instant::now();
            println!("{}: {cases} cases, {done} {} after {:.0?}", P::NAME, P::COUNTS, begin.elapsed());
        }
    }
    let faults = known.values().sum();
    println!("{}: {cases} cases, {done} {}, {faults} faults in {:.1?}", P::NAME, P::COUNTS, begin.elapsed());
    faults
}
