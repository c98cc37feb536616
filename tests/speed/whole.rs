//! Whole processes, as a person starts them: instructions where valgrind is installed (they are the same on a busy machine),
//! the time of many designs with one worker and with all, and how much is written.

use std::fmt::Write as _;
use std::fs;
use std::io::Result;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const PROGRAM: &str = env!("CARGO_BIN_EXE_wallplate");
const EXAMPLE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/heron_fold.plate");
const METRIC_ROOM: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/sorrel_kettle.plate");

/// So many copies of the example are checked at once.
const COPIES: usize = 60;
/// So many named values are read.
const BINDINGS: usize = 10_000;

/// Prints what a start, an empty design and two examples take.
///
/// # Errors
/// Where a file cannot be written or the program not started.
pub fn print() -> Result<()> {
    let folder = tempfile::tempdir()?;
    let empty = folder.path().join("empty.plate");
    fs::write(&empty, "observatory empty {\n}\n")?;
    let empty = empty.to_string_lossy().into_owned();
    println!("{:38} {:>12} {:>16}", "a whole process", "median of 21", "instructions");
    for (name, arguments) in [
        ("start alone: --version", &["--version"] as &[&str]),
        ("check of an empty design", &["check", &empty]),
        ("check of sorrel_kettle.plate", &["check", METRIC_ROOM]),
        ("check of heron_fold.plate", &["check", EXAMPLE]),
    ] {
        let taken = super::timed(21, || run(arguments));
        let counted = instructions(arguments).map_or("no valgrind".to_owned(), |count| format!("{:.1} M", count / 1e6));
        println!("{name:38} {taken:>12.1?} {counted:>16}");
    }
    bindings(folder.path())?;
    many(folder.path())
}

fn run(arguments: &[&str]) -> Option<usize> {
    let output = Command::new(PROGRAM).args(arguments).stderr(Stdio::null()).output().ok()?;
    Some(output.stdout.len())
}

/// The instructions of one process, as valgrind's callgrind counts them.
fn instructions(arguments: &[&str]) -> Option<f64> {
    let counted = Command::new("valgrind")
        .args(["--tool=callgrind", "--callgrind-out-file=/dev/null", PROGRAM])
        .args(arguments)
        .stdout(Stdio::null())
        .output()
        .ok()?;
    let said = String::from_utf8_lossy(&counted.stderr).into_owned();
    let (_, count) = said.split_once("Collected : ")?;
    count.split_whitespace().next()?.parse().ok()
}

fn bindings(folder: &Path) -> Result<()> {
    let mut text = String::new();
    for at in 0..BINDINGS {
        let _ = writeln!(text, "let width_{at}  {}.25 m + {at} mm", at % 7);
    }
    let design = folder.join("bindings.plate");
    fs::write(&design, text)?;
    let design = design.to_string_lossy().into_owned();
    let taken = super::timed(5, || run(&["check", &design]));
    println!("{BINDINGS} named values, whole process: {taken:.0?} (100 ms wanted)");
    Ok(())
}

/// Many designs at once: with one worker, and with one on each core.
fn many(folder: &Path) -> Result<()> {
    let row = folder.join("row");
    fs::create_dir(&row)?;
    for at in 0..COPIES {
        fs::copy(EXAMPLE, row.join(format!("copy_{at:02}.plate")))?;
    }
    let row = row.to_string_lossy().into_owned();
    let with = |arguments: &[&str]| -> Duration {
        let begun = Instant::now();
        run(&[&["check", row.as_str()], arguments].concat());
        begun.elapsed()
    };
    let (one, all) = (with(&["--jobs", "1"]), with(&[]));
    println!(
        "{COPIES} copies of heron_fold.plate: one worker {one:.1?}, one on each core {all:.1?}: {:.2} times as fast",
        one.as_secs_f64() / all.as_secs_f64()
    );
    let written = run(&["check", &row, "--format", "json"]).unwrap_or(0);
    println!(
        "as JSON: {} kB for each of them, {} kB for one alone",
        written / COPIES / 1000,
        run(&["check", EXAMPLE, "--format", "json"]).unwrap_or(0) / 1000
    );
    Ok(())
}
