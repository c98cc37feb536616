//! After whatever edits, the server shows what `check` says of the text that they left.

use super::client::{Client, position, uri};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::path::Path;
use std::process::Command;

/// A small generator of numbers that differ and are the same in every run.
pub struct Dice(pub u64);

impl Dice {
    fn below(&mut self, most: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % most.max(1)
    }
}

/// What is shown, as (line, verdict or severity, rule, what is said).
type Shown = BTreeSet<(u64, String, String, String)>;

/// What `check` finds in a file.
fn checked(path: &Path) -> Shown {
    let program = Command::new(env!("CARGO_BIN_EXE_wallplate"))
        .args(["check", "--format", "json"])
        .arg(path)
        .env("SOURCE_DATE_EPOCH", "1811808000")
        .output()
        .unwrap();
    let found: Value = serde_json::from_slice(&program.stdout).unwrap();
    let line = |spans: &Value| spans[0]["line"].as_u64().unwrap_or(1) - 1;
    let mut shown = Shown::new();
    let problems = found["problems"].as_array().unwrap();
    for problem in problems {
        shown.insert((line(&problem["spans"]), "error".into(), String::new(), problem["message"].as_str().unwrap().to_owned()));
    }
    let mut waiting: BTreeSet<(u64, String)> = BTreeSet::new();
    for result in found["results"].as_array().unwrap() {
        let verdict = result["verdict"].as_str().unwrap();
        let rests_on_wrong = verdict == "undetermined" && result["missing"].as_array().unwrap().is_empty() && !problems.is_empty();
        if verdict == "pass" || rests_on_wrong {
            continue;
        }
        let own = result["spans"].as_array().unwrap().iter().find(|span| !span["file"].as_str().unwrap().starts_with("trade/"));
        let at = own.map_or(0, |span| span["line"].as_u64().unwrap() - 1);
        let message = result["message"].as_str().unwrap().to_owned();
        // Checks that wait for one line are shown as one.
        if verdict == "undetermined" && result["accepted"].is_null() && !waiting.insert((at, message.clone())) {
            continue;
        }
        shown.insert((at, verdict.to_owned(), result["rule"].as_str().unwrap().to_owned(), message));
    }
    shown
}

fn published(found: &[Value]) -> Shown {
    found
        .iter()
        .map(|one| {
            let first = one["message"].as_str().unwrap().lines().next().unwrap_or_default();
            let line = one["range"]["start"]["line"].as_u64().unwrap();
            match one["code"].as_str() {
                None => (line, "error".to_owned(), String::new(), first.to_owned()),
                Some(rule) => {
                    let (verdict, message) = first.split_once(": ").unwrap();
                    (line, verdict.to_owned(), rule.to_owned(), message.to_owned())
                }
            }
        })
        .collect()
}

/// One edit as a person makes it, or one as only a slip does.
pub fn edit(text: &str, dice: &mut Dice) -> (std::ops::Range<usize>, String) {
    let starts: Vec<usize> =
        std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).filter(|at| *at < text.len()).collect();
    if starts.is_empty() {
        return (0..0, "site { latitude 52 deg }\n".to_owned());
    }
    let line = starts[dice.below(starts.len())];
    let end = text[line..].find('\n').map_or(text.len(), |at| line + at + 1);
    let other = starts[dice.below(starts.len())];
    let other = &text[other..text[other..].find('\n').map_or(text.len(), |at| other + at + 1)];
    let floor = |mut at: usize| {
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    match dice.below(9) {
        0 => (line..end, String::new()),
        1 => (line..line, other.to_owned()),
        2 => {
            let at = floor(line + dice.below(end - line));
            (at..at, ["{", "}", "\"", "#", "(", "\n", ";", "± 3 mm", "x"][dice.below(9)].to_owned())
        }
        3 => {
            // Another number.
            let digit = text[line..end].find(|c: char| c.is_ascii_digit()).map(|at| line + at);
            digit.map_or((line..line, "\n".to_owned()), |at| (at..at + 1, dice.below(10).to_string()))
        }
        4 => {
            // Another name for the word after the first.
            let word = text[line..end].find(' ').map(|at| line + at + 1).unwrap_or(line);
            (word..word, "z".to_owned())
        }
        5 => {
            let at = floor(line + dice.below(end - line));
            let to = floor((at + dice.below(12)).min(text.len()));
            (at.min(to)..to, String::new())
        }
        6 => (line..line, "# a note\n\n".to_owned()),
        7 => (line..end, other.to_owned()),
        _ => (0..0, "clamp extra_clamp { holds main_roof; station 1.00 m ± 2 mm }\n".to_owned()),
    }
}

fn agree(name: &str, seed: u64, rounds: usize, edits: usize) {
    let text = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name)).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().canonicalize().unwrap().join("a.plate");
    let uri = uri(&path);
    let mut client = Client::ready(&[folder.path()]);
    let mut dice = Dice(seed);
    let mut now = text.clone();
    client.open(&uri, &now);
    for round in 0..rounds {
        let mut story = Vec::new();
        for _ in 0..edits {
            let (range, new) = edit(&now, &mut dice);
            story.push((range.clone(), new.clone()));
            let place = json!({ "start": position(&now, range.start), "end": position(&now, range.end) });
            client.change(&uri, json!([{ "range": place, "text": new }]));
            now.replace_range(range, &new);
        }
        let found = client.diagnostics(&uri);
        std::fs::write(&path, &now).unwrap();
        assert_eq!(published(&found), checked(&path), "{name}, round {round}, after {story:?}");
        if round % 4 == 3 {
            // Back to the sound design, as undoing does.
            now.clone_from(&text);
            client.change(&uri, json!([{ "text": now }]));
        }
    }
    assert_eq!(client.end(), Some(0));
}

#[test]
fn edits_of_the_metric_example_end_as_check_says() {
    agree("heron_fold.plate", 1, 12, 3);
}

#[test]
fn edits_of_the_us_example_end_as_check_says() {
    agree("sorrel_kettle.plate", 2, 8, 3);
}

#[test]
fn single_edits_end_as_check_says() {
    agree("heron_fold.plate", 3, 25, 1);
}
