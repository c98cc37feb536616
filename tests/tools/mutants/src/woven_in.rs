//! Which mutant lives, and which were reached: woven in by `tests/tools/mutants`, in no program that is handed out.
#![allow(missing_docs, clippy::all)]

use std::collections::BTreeSet;
use std::io::Write as _;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{LazyLock, Mutex};

static LIVES: LazyLock<Option<usize>> = LazyLock::new(|| std::env::var("WALLPLATE_MUTANT").ok().and_then(|number| number.parse().ok()));
static TRACE: LazyLock<Option<std::path::PathBuf>> = LazyLock::new(|| std::env::var_os("WALLPLATE_MUTANTS_REACHED").map(Into::into));
static REACHED: [AtomicBool; 1 << 16] = [const { AtomicBool::new(false) }; 1 << 16];
static NAMES: Mutex<BTreeSet<String>> = Mutex::new(BTreeSet::new());

/// Whether this mutant is the one that lives.
pub fn on(number: usize) -> bool {
    if TRACE.is_some() && !REACHED[number].swap(true, Ordering::Relaxed) {
        note(&number.to_string());
    }
    *LIVES == Some(number)
}

/// A rule is asked, or a line of a kind worked out.
pub fn asked(kind: &str, name: &str) {
    if TRACE.is_some() {
        let name = if kind.is_empty() { name.to_owned() } else { format!("{kind}:{name}") };
        if NAMES.lock().is_ok_and(|mut names| names.insert(name.clone())) {
            note(&name);
        }
    }
}

fn note(what: &str) {
    if let Some(path) = &*TRACE {
        let file = std::fs::OpenOptions::new().append(true).create(true).open(path);
        let _ = file.and_then(|mut file| file.write_all(format!("{what}\n").as_bytes()));
    }
}

/// The text of a file of the library that stands in for its own.
pub fn instead(path: &str) -> Option<&'static str> {
    static TEXT: LazyLock<Option<(String, String)>> = LazyLock::new(|| {
        let (path, file) = std::env::var("WALLPLATE_MUTANT_PLATE").ok()?.split_once('=').map(|(a, b)| (a.to_owned(), b.to_owned()))?;
        Some((path, std::fs::read_to_string(file).ok()?))
    });
    TEXT.as_ref().filter(|(whose, _)| whose == path).map(|(_, text)| text.as_str())
}
