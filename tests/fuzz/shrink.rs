//! From a case that goes wrong to the shortest that still does, at the same place of the program.

use crate::Part;
use crate::mutate::Dice;
use std::any::Any;
use std::fmt;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Mutex;
use std::time::{Duration, Instant};

/// What is spent on one case.
const PATIENCE: Duration = Duration::from_secs(120);

/// What went wrong.
pub struct Fault {
    /// Where in the program, or in the test.
    pub place: String,
    message: String,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let short: String = self.message.chars().take(1500).collect();
        write!(f, "{}\n  {short}", self.place)
    }
}

/// What the last panic said; the server takes panics itself, and those count as well.
static LAST: Mutex<Option<Fault>> = Mutex::new(None);

fn words(payload: &dyn Any) -> String {
    let plain = payload.downcast_ref::<&str>().map(|words| (*words).to_owned());
    plain.or_else(|| payload.downcast_ref::<String>().cloned()).unwrap_or_default()
}

/// Goes through a case.
pub fn outcome<P: Part>(texts: &[String], seed: u64) -> Result<u64, Fault> {
    let before = std::panic::take_hook();
    std::panic::set_hook(Box::new(|panic| {
        let place = panic.location().map_or_else(String::new, ToString::to_string);
        let mut last = LAST.lock().unwrap();
        // The first is the one that matters.
        if last.is_none() {
            *last = Some(Fault { place, message: words(panic.payload()) });
        }
    }));
    *LAST.lock().unwrap() = None;
    // The dice of the answers are others than those that made the case.
    let done = catch_unwind(AssertUnwindSafe(|| P::run(texts, &mut Dice::new(!seed))));
    std::panic::set_hook(before);
    match (LAST.lock().unwrap().take(), done) {
        (Some(fault), _) => Err(fault),
        (None, Ok(count)) => Ok(count),
        (None, Err(_)) => Err(Fault { place: "somewhere".to_owned(), message: String::new() }),
    }
}

/// The shortest case that goes wrong at the same place: texts fall out, then lines, then characters.
pub fn shortest<P: Part>(texts: &[String], seed: u64, place: &str) -> Vec<String> {
    let begin = Instant::now();
    let fails = |texts: &[String]| begin.elapsed() < PATIENCE && outcome::<P>(texts, seed).is_err_and(|fault| fault.place == place);
    let mut short = texts.to_vec();
    let mut at = 0;
    while at < short.len() && short.len() > 1 {
        let mut fewer = short.clone();
        fewer.remove(at);
        if fails(&fewer) { short = fewer } else { at += 1 }
    }
    // The same line goes from all texts at once first: edits leave most of them alike.
    let mut lines: Vec<String> = short.iter().flat_map(|text| text.split_inclusive('\n')).map(str::to_owned).collect();
    lines.sort_unstable();
    lines.dedup();
    let mut size = lines.len().div_ceil(2);
    while size > 0 && short.len() > 1 {
        let mut from = 0;
        while from < lines.len() {
            let gone: Vec<&String> = lines.iter().skip(from).take(size).collect();
            let without: Vec<String> = short
                .iter()
                .map(|text| text.split_inclusive('\n').filter(|line| !gone.iter().any(|gone| gone.as_str() == *line)).collect())
                .collect();
            if without != short && fails(&without) {
                short = without;
                lines.drain(from..(from + size).min(lines.len()));
            } else {
                from += size;
            }
        }
        size /= 2;
    }
    for at in 0..short.len() {
        for by_line in [true, false] {
            let pieces = |text: &str| -> Vec<String> {
                if by_line { text.split_inclusive('\n').map(str::to_owned).collect() } else { text.chars().map(String::from).collect() }
            };
            let mut size = pieces(&short[at]).len().div_ceil(2);
            while size > 0 {
                let mut from = 0;
                loop {
                    let all = pieces(&short[at]);
                    if from >= all.len() {
                        break;
                    }
                    let mut fewer = short.clone();
                    fewer[at] = all.iter().take(from).chain(all.iter().skip(from + size)).map(String::as_str).collect();
                    if fails(&fewer) { short = fewer } else { from += size }
                }
                size /= 2;
            }
        }
    }
    short
}

/// Texts as a person can take them over into a test.
pub fn shown(texts: &[String]) -> String {
    texts.iter().map(|text| format!("  {text:?}\n")).collect()
}
