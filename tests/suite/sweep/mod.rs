//! The sweep: every single slip of twelve sorts in every sound design, and which of them nothing notices.
//!
//! Each line and each block is left out; each number is ten times as large, a tenth of it, has two figures swapped, another unit,
//! another sign, the value of its like; each link leads to another component of a kind that it may lead to; each block is doubled
//! under another name, moved by half a metre and by two along each axis, mirrored to the other side. What nothing noticed stands in `tests/sweep/unnoticed.txt`, by kind and property, with
//! the shares; what may go unnoticed stands in `tests/sweep/reasons.txt` with its reason. The whole of it takes minutes:
//!
//! ```sh
//! WALLPLATE_SWEEP=write cargo test --test suite sweep -- --ignored --nocapture
//! ```
//!
//! writes the list anew; with `listed` in place of `write` only what is on the list is tried again. A sample of it runs with all other tests.

mod blocks;
mod figures;
mod harmless;
mod notice;
mod slips;

use notice::Watcher;
use slips::{Slip, Sort, slips};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::path::{Path, PathBuf};

const HOW: &str =
    "write the list anew and read what it has more: WALLPLATE_SWEEP=write cargo test --test suite sweep -- --ignored --nocapture";
/// One slip in so many is tried with all other tests.
const SAMPLE: usize = 180;
/// Two at a time: whoever sweeps works on as well.
const THREADS: usize = 2;

pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_owned()
}

fn file(name: &str) -> PathBuf {
    root().join("tests/sweep").join(name)
}

/// Sound designs that are swept by nobody yet: they would lengthen it by a third, and most of their lines are of kinds that others have.
const LEFT_OUT: [&str; 3] = ["tamarack_bench", "lapwing_ledge", "siskin_pushed"];

/// The sound designs, the examples and those of other sizes, shapes and units: name and text.
pub(crate) fn designs() -> Vec<(String, String)> {
    let folders = ["examples", "tests/designs"].into_iter();
    let paths = folders.flat_map(|folder| std::fs::read_dir(root().join(folder)).unwrap()).map(|entry| entry.unwrap().path());
    let mut found: Vec<(String, String)> = paths
        .filter(|path| path.extension().is_some_and(|extension| extension == "plate"))
        .map(|path| (path.file_stem().unwrap().to_string_lossy().into_owned(), std::fs::read_to_string(&path).unwrap()))
        .filter(|(name, _)| !LEFT_OUT.contains(&name.as_str()))
        .collect();
    found.sort();
    found
}

/// A slip as it stands in the list, and whether it is noticed.
struct Tried {
    sort: Sort,
    about: String,
    told: String,
    news: Vec<String>,
}

impl Tried {
    fn line(&self) -> String {
        format!("{}  {}", self.about, self.told)
    }

    fn key(&self) -> (Sort, String) {
        (self.sort, self.line())
    }
}

/// Tries one slip in every `step`, on all designs.
fn sweep(step: usize, wanted: &(dyn Fn(&Slip, &str) -> bool + Sync)) -> Vec<Tried> {
    let designs = designs();
    let all: Vec<(usize, Slip)> = (0..designs.len())
        .flat_map(|at| slips(&designs[at].0, &designs[at].1).into_iter().map(move |slip| (at, slip)))
        .step_by(step)
        .filter(|(at, slip)| wanted(slip, &designs[*at].0))
        .collect();
    let share = |thread: usize| {
        let mut watchers: BTreeMap<usize, Watcher> = BTreeMap::new();
        let mine = all.iter().skip(thread).step_by(THREADS);
        let tried = mine.map(|(at, slip)| {
            let news = watchers.entry(*at).or_insert_with(|| Watcher::new(&designs[*at].1)).news(slip);
            let told = format!("{}  {}", designs[*at].0, slip.told);
            Tried { sort: slip.sort, about: slip.about.clone(), told, news }
        });
        tried.collect::<Vec<_>>()
    };
    std::thread::scope(|scope| {
        let running: Vec<_> = (0..THREADS).map(|thread| scope.spawn(move || share(thread))).collect();
        running.into_iter().flat_map(|thread| thread.join().expect("no slip may end in a panic")).collect()
    })
}

/// What may go unnoticed: the sort of slip (`any` for all), kind and property (up to a `*`), and why.
struct Reason {
    sort: String,
    about: String,
    why: String,
}

impl Reason {
    fn covers(&self, tried: &Tried) -> bool {
        let about = self.about.strip_suffix('*').map_or(self.about == tried.about, |beginning| tried.about.starts_with(beginning));
        about && (self.sort == "any" || self.sort == tried.sort.words())
    }
}

fn reasons() -> Vec<Reason> {
    let text = std::fs::read_to_string(file("reasons.txt")).unwrap();
    let lines = text.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    lines
        .map(|line| {
            let parts: Vec<&str> = line.splitn(3, " | ").map(str::trim).collect();
            let [sort, about, why] = parts[..] else { panic!("`sort | kind.property | reason`, not `{line}`") };
            assert!(sort == "any" || Sort::ALL.iter().any(|one| one.words() == sort), "no sort of slip: {line}");
            Reason { sort: sort.to_owned(), about: about.to_owned(), why: why.to_owned() }
        })
        .collect()
}

/// What is unnoticed and has no reason.
fn unnoticed<'t>(tried: &'t [Tried], reasons: &[Reason]) -> Vec<&'t Tried> {
    tried.iter().filter(|one| one.news.is_empty() && !reasons.iter().any(|reason| reason.covers(one))).collect()
}

#[allow(clippy::cast_precision_loss, reason = "a few thousand slips")]
fn share(part: usize, of: usize) -> f64 {
    100.0 * part as f64 / of.max(1) as f64
}

/// The list as it is committed.
fn list(tried: &[Tried], reasons: &[Reason]) -> String {
    let open = unnoticed(tried, reasons);
    let mut text = String::from("# What nothing notices, a slip each; written by tests/suite/sweep, not by hand.\n#\n");
    let mut row = |name: &str, of: &dyn Fn(&Tried) -> bool| {
        let all = tried.iter().filter(|one| of(one)).count();
        let noticed = tried.iter().filter(|one| of(one) && !one.news.is_empty()).count();
        let left = open.iter().filter(|one| of(one)).count();
        let excused = all - noticed - left;
        let counted = share(noticed, all - excused);
        let noted = share(noticed, all);
        let _ = writeln!(
            text,
            "# {name:<12} {all:>5} slips, {noticed:>5} noticed ({noted:.1} %), {excused:>4} with a reason, {left:>4} below ({counted:.1} % of the rest noticed)"
        );
    };
    for sort in Sort::ALL {
        row(sort.words(), &|one| one.sort == sort);
    }
    row("all", &|_| true);
    for sort in Sort::ALL {
        let lines: BTreeSet<String> = open.iter().filter(|one| one.sort == sort).map(|one| one.line()).collect();
        let _ = writeln!(text, "\n== {}", sort.words());
        lines.iter().for_each(|line| {
            let _ = writeln!(text, "{line}");
        });
    }
    text
}

/// The slips of a list.
fn listed(text: &str) -> BTreeSet<(Sort, String)> {
    let mut sort = None;
    let mut found = BTreeSet::new();
    for line in text.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
        match (line.strip_prefix("== "), sort) {
            (Some(words), _) => sort = Sort::ALL.into_iter().find(|one| one.words() == words),
            (None, Some(sort)) => _ = found.insert((sort, line.to_owned())),
            (None, None) => panic!("a slip before any sort: {line}"),
        }
    }
    found
}

/// A rule that goes and takes its notice with it is seen here.
#[test]
fn a_sample_of_the_slips_is_noticed_or_listed() {
    let tried = sweep(SAMPLE, &|_, _| true);
    assert!(tried.len() > 60, "{}", tried.len());
    let known = listed(&std::fs::read_to_string(file("unnoticed.txt")).unwrap());
    let reasons = reasons();
    let new: Vec<String> = unnoticed(&tried, &reasons)
        .into_iter()
        .filter(|one| !known.contains(&one.key()))
        .map(|one| format!("{}: {}", one.sort.words(), one.line()))
        .collect();
    assert!(new.is_empty(), "nothing notices any more, and the list does not have it; {HOW}\n{}", new.join("\n"));
}

/// What is on the list and noticed by now is told: a quicker look while one mends.
fn try_those_listed(reasons: &[Reason]) {
    let known = listed(&std::fs::read_to_string(file("unnoticed.txt")).unwrap());
    let tried = sweep(1, &|slip, design| known.contains(&(slip.sort, format!("{}  {design}  {}", slip.about, slip.told))));
    let open = unnoticed(&tried, reasons).len();
    tried.iter().filter(|one| !one.news.is_empty()).for_each(|one| println!("{}: {}: {}", one.sort.words(), one.line(), one.news[0]));
    println!("{} on the list, {open} of them still unnoticed", tried.len());
}

#[test]
#[ignore = "takes minutes: every slip of every sound design"]
fn the_list_of_what_nothing_notices_is_true() {
    let reasons = reasons();
    let word = std::env::var("WALLPLATE_SWEEP").unwrap_or_default();
    if word == "listed" {
        return try_those_listed(&reasons);
    }
    let tried = sweep(1, &|_, _| true);
    let text = list(&tried, &reasons);
    println!("{}", text.lines().take_while(|line| !line.is_empty()).collect::<Vec<_>>().join("\n"));
    let idle = reasons.iter().filter(|reason| !tried.iter().any(|one| one.news.is_empty() && reason.covers(one)));
    let idle: Vec<String> = idle.map(|reason| format!("{} | {} | {}", reason.sort, reason.about, reason.why)).collect();
    if word == "write" {
        std::fs::write(file("unnoticed.txt"), &text).unwrap();
    }
    assert!(idle.is_empty(), "reasons that nothing needs any more:\n{}", idle.join("\n"));
    let there = std::fs::read_to_string(file("unnoticed.txt")).unwrap();
    let (there, now) = (listed(&there), listed(&text));
    let more: Vec<_> = now.difference(&there).collect();
    let less: Vec<_> = there.difference(&now).collect();
    assert!(more.is_empty() && less.is_empty(), "{HOW}\nnot on the list: {more:#?}\nno longer true: {less:#?}");
}
