//! How fast: `cargo bench`. Figures of one machine are worth little; ratios within one run are.
//!
//! 1. Whole processes, the built-in library included: times, instructions, many designs at once.
//! 2. Growth: a design of 100,000 lines over one of 50,000, stage by stage.
//! 3. Parse throughput, and the share that each stage takes.
//! 4. The heavy formulas alone.
//! 5. For each shape of text that once grew faster than its size: 100,000 lines over 10,000, and memory;
//!    `cargo bench --bench speed shapes` measures only these, `… whole` only the first.

#![expect(clippy::print_stdout, reason = "a benchmark prints its figures")]

/// The program's own: memory is measured with it.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

mod formulas;
mod generate;
mod shapes;
mod whole;

use std::hint::black_box;
use std::time::{Duration, Instant};
use wallplate::design::Choice;
use wallplate::rules::Options;
use wallplate::session::{NoShelf, Session};
use wallplate::text::{FileId, Source};

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort_unstable();
    times.get(times.len() / 2).copied().unwrap_or_default()
}

fn timed<T>(runs: usize, mut work: impl FnMut() -> T) -> Duration {
    median(
        (0..runs)
            .map(|_| {
                let start = Instant::now();
                black_box(work());
                start.elapsed()
            })
            .collect(),
    )
}

struct Stages {
    lines: usize,
    bytes: usize,
    parse: Duration,
    read: Duration,
    check: Duration,
    findings: usize,
}

fn stages(lines: usize, runs: usize) -> Stages {
    let text = generate::design(lines);
    let parse = timed(runs, || wallplate::syntax::parse(&text, FileId(0)));
    let read = timed(runs, || Session::read(vec![Source::new("row.plate", text.as_str())], &NoShelf, &Choice::default()));
    let mut findings = 0;
    let check = timed(runs, || {
        let session = Session::read(vec![Source::new("row.plate", text.as_str())], &NoShelf, &Choice::default());
        let start = Instant::now();
        findings = session.check(&Options::default()).len();
        assert!(session.problems().is_empty(), "the generated design has problems: {:?}", session.problems().first());
        start.elapsed()
    });
    Stages { lines: text.lines().count(), bytes: text.len(), parse, read, check, findings }
}

fn main() {
    if shapes::one() {
        return;
    }
    // `cargo test --benches` builds and runs this too; it is for `cargo bench`.
    if !std::env::args().any(|argument| argument == "--bench") {
        return;
    }
    let only = |part: &str| std::env::args().any(|argument| argument == part);
    if !only("shapes")
        && let Err(error) = whole::print()
    {
        println!("whole processes could not be measured: {error}");
    }
    if only("whole") {
        return;
    }
    shapes::print();
    if only("shapes") {
        return;
    }
    if let Err(error) = formulas::print() {
        println!("a formula refuses the benchmark's own numbers: {error}");
    }
    let (half, whole) = (stages(50_000, 5), stages(100_000, 5));
    for run in [&half, &whole] {
        #[expect(clippy::cast_precision_loss, reason = "sizes of texts")]
        let speed = run.bytes as f64 / run.parse.as_secs_f64() / 1e6;
        let total = run.read + run.check;
        let share = |part: Duration| 100.0 * part.as_secs_f64() / total.as_secs_f64();
        println!(
            "{:>7} lines, {:>9} bytes, {} findings: parse {:.0?} ({speed:.1} MB/s, {:.0} %), names and values {:.0?} ({:.0} %), rules {:.0?} ({:.0} %)",
            run.lines,
            run.bytes,
            run.findings,
            run.parse,
            share(run.parse),
            run.read.saturating_sub(run.parse),
            share(run.read.saturating_sub(run.parse)),
            run.check,
            share(run.check),
        );
    }
    let growth = |part: fn(&Stages) -> Duration| part(&whole).as_secs_f64() / part(&half).as_secs_f64();
    println!(
        "twice the lines takes: parse {:.2} times, all of it {:.2} times (at most 2.3 wanted)",
        growth(|run| run.parse),
        growth(|run| run.read + run.check)
    );
}
