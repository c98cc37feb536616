//! Texts of one sort from beginning to end: what one line of each costs must not grow with their number.
//!
//! Each is checked in a process of its own, this one called again: what it takes at most is told by Linux alone.

use std::fmt::Write as _;
use std::process::Command;
use std::time::{Duration, Instant};
use wallplate::design::Choice;
use wallplate::rules::Options;
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;

/// A shape: its name, and a text of so many lines.
type Shape = (&'static str, fn(usize) -> String);

/// Each shape that once took longer than it should.
const ALL: [Shape; 9] = [
    ("sound bays", super::generate::design),
    ("roofs that are only begun", begun),
    ("clamps that are only begun, on one roof", on_one_roof),
    ("clamps that are written out, on one roof", written_out),
    ("named values", named),
    ("names that stand for nothing", nameless),
    ("links to nothing", unlinked),
    ("blocks that all say the same", alike),
    ("brackets that are never closed", unclosed),
];

/// The argument after which a shape and its lines are named.
const ONE: &str = "--one-shape";

/// Checks one shape and prints seconds and bytes, if that is what the arguments ask for.
pub fn one() -> bool {
    let mut arguments = std::env::args().skip_while(|argument| argument != ONE).skip(1);
    let (Some(name), Some(lines)) = (arguments.next(), arguments.next().and_then(|lines| lines.parse().ok())) else { return false };
    let Some((_, shape)) = ALL.iter().find(|(known, _)| *known == name) else { return false };
    let text = shape(lines);
    let start = Instant::now();
    let session = Session::read(vec![Source::new("shape.plate", text)], &NoShelf, &Choice::default());
    let found = (session.check(&Options::default()), session.problems());
    println!("{} {}", start.elapsed().as_micros(), most_memory());
    drop(found);
    true
}

/// The most bytes that this process has had in memory; 0 where the system does not tell.
fn most_memory() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.and_then(|line| line.trim().trim_end_matches(" kB").parse::<u64>().ok()).unwrap_or(0) * 1024
}

/// Prints for each shape how it grows.
pub fn print() {
    println!("{:40} {:>9} {:>16} {:>15}", "100,000 lines of", "takes", "over 10,000", "memory a line");
    for (name, _) in ALL {
        let (Some((tenth, least)), Some((all, most))) = (measured(name, 10_000), measured(name, 100_000)) else {
            println!("{name:40} could not be measured");
            continue;
        };
        let growth = all.as_secs_f64() / tenth.as_secs_f64();
        // What every process has, the library among it, falls out of the difference.
        println!("{name:40} {all:>9.2?} {growth:>10.1} times {:>9} bytes", most.saturating_sub(least) / 90_000);
    }
    println!("at most 11 times and 2,000 bytes are wanted");
}

fn measured(name: &str, lines: usize) -> Option<(Duration, u64)> {
    let output = Command::new(std::env::current_exe().ok()?).args([ONE, name, &lines.to_string()]).output().ok()?;
    let said = String::from_utf8(output.stdout).ok()?;
    let (micros, bytes) = said.trim().split_once(' ')?;
    Some((Duration::from_micros(micros.parse().ok()?), bytes.parse().ok()?))
}

fn text(lines: usize, each: usize, one: impl Fn(&mut String, usize)) -> String {
    let mut text = String::new();
    (0..lines / each).for_each(|at| one(&mut text, at));
    text
}

fn begun(lines: usize) -> String {
    text(lines, 13, |text, at| {
        let _ = writeln!(text, "roof roof_{at} {{\n}}");
        for clamp in 0..3 {
            let _ = writeln!(text, "clamp clamp_{at}_{clamp} {{\n  holds roof_{at}\n}}");
        }
        let _ = writeln!(text, "wall wall_{at} {{\n}}");
    })
}

fn on_one_roof(lines: usize) -> String {
    "roof roof {\n}\n".to_owned()
        + &text(lines, 3, |text, at| {
            let _ = writeln!(text, "clamp clamp_{at} {{\n  holds roof\n}}");
        })
}

/// A clamp every 50 mm of the roof's length and once around again, far more than any roof has.
fn written_out(lines: usize) -> String {
    super::generate::design(30)
        + &text(lines, 7, |text, at| {
            let (station, side, offset) = (200 + at * 50 % 4000, ["east", "west"][at % 2], ["0.05 m", "3.15 m"][at % 2]);
            let _ = writeln!(text, "clamp clamp_{at} {{\n  holds roof_0\n  working_load 3.5 kN\n  station {station} mm\n  offset {offset}");
            let _ = writeln!(text, "  anchored_to {side}_wall_0\n}}");
        })
}

fn named(lines: usize) -> String {
    text(lines, 1, |text, at| {
        let _ = writeln!(text, "let width_{at} 3 m + {at} mm");
    })
}

fn nameless(lines: usize) -> String {
    text(lines, 2, |text, at| {
        let _ = writeln!(text, "let width_{at} 3 m\nlet value_{at} other_name_{}", at * 7);
    })
}

fn unlinked(lines: usize) -> String {
    text(lines, 3, |text, at| {
        let _ = writeln!(text, "clamp clamp_{at} {{\n  holds roof_number_{at}\n}}");
    })
}

fn alike(lines: usize) -> String {
    text(lines, 3, |text, at| {
        let _ = writeln!(text, "magnet magnet_{at} {{\n  station 1 m\n}}");
    })
}

fn unclosed(lines: usize) -> String {
    "clamp clamp_0 {\n".to_owned() + &text(lines, 1, |text, _| text.push_str("x sqrt(\n"))
}
