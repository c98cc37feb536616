//! On whose word: every `source` of the library, the functions and the catalogues is a citation with its edition, a derivation,
//! or says that it has no source.

use std::fs;
use std::path::{Path, PathBuf};

/// What needs no edition, because anybody can work it out: named after what it is worked out from.
const DERIVATIONS: [&str; 24] = [
    "statics",
    "geometry",
    "kinematics",
    "dynamics",
    "mechanics",
    "Newton's second law",
    "Ohm's law",
    "conservation of energy",
    "definition",
    "arithmetic",
    "algebra",
    "direct stiffness method",
    "Rayleigh's method",
    "Dunkerley's rule",
    "elastic bolt group",
    "Winkler's bed",
    "axis of a uniformly magnetised cylinder",
    "field of the magnet",
    // What the design or its checks say is looked up there.
    "the design",
    " check",
    "drawing",
    "the vocabulary",
    "the local code's",
    "data sheet",
];
/// What says openly that nothing published stands behind it.
const MARKS: [&str; 3] = ["no source", "from memory", "nobody has tested"];
/// Bodies whose documents carry their year behind a colon.
const WITH_COLON: [&str; 5] = ["EN", "ISO", "IEC", "UL", "DIN"];
/// Bodies whose documents carry their year behind a dash.
const WITH_DASH: [&str; 7] = ["ASCE", "AISC", "ACI", "ASTM", "ASME", "ANSI", "PS"];
/// Codes and books that need a year beside them.
const WITH_YEAR: [&str; 11] =
    ["NDS", "IBC", "NEC", "UFC", "NEMA", "CDC", "Manual", "Handbook", "Algorithms", "Building Code", "Engineering Design"];

fn is_year(word: &str) -> bool {
    word.len() == 4 && (1850..2040).contains(&word.parse().unwrap_or(0))
}

fn has_year(text: &str) -> bool {
    text.split(|c: char| !c.is_ascii_digit()).any(is_year)
}

/// What is cited in one part of a source without its edition, and whether anything is cited there at all.
fn cited(part: &str) -> (Vec<String>, bool) {
    let words: Vec<&str> = part.split_whitespace().map(|word| word.trim_matches(['(', ')', ',', ';', '.', '`'])).collect();
    let mut bare = Vec::new();
    let mut any = has_year(part);
    for pair in words.windows(2) {
        let [body, number] = [pair[0], pair[1]];
        if !number.contains(|c: char| c.is_ascii_digit()) {
            continue;
        }
        let with_colon = WITH_COLON.contains(&body);
        if with_colon || WITH_DASH.contains(&body) {
            any = true;
            let dated = if with_colon {
                number.split(':').nth(1).is_some_and(|year| is_year(year.get(..4).unwrap_or(year)))
            } else {
                let last = number.trim_end_matches(':').rsplit('-').next().unwrap_or_default();
                number.contains('-') && (is_year(last) || last.len() == 2 && last.parse::<u8>().is_ok()) || has_year(part)
            };
            if !dated {
                bare.push(format!("{body} {number}"));
            }
        }
    }
    for work in WITH_YEAR {
        let named = if work.contains(' ') { part.contains(work) } else { words.contains(&work) };
        if named && !has_year(part) {
            bare.push(work.to_owned());
        }
        any |= named;
    }
    (bare, any)
}

/// What is wrong with a source, if anything.
fn wrong(source: &str) -> Option<String> {
    let mut cites = false;
    for part in source.split(';') {
        let (bare, any) = cited(part);
        if !bare.is_empty() {
            return Some(format!("no edition of {}", bare.join(", ")));
        }
        cites |= any;
    }
    let lower = source.to_lowercase();
    let known = DERIVATIONS.iter().chain(&MARKS).any(|word| lower.contains(&word.to_lowercase()));
    (!cites && !known).then(|| format!("`{source}` is no citation, no derivation, and does not say `no source`"))
}

fn library() -> Vec<(PathBuf, String)> {
    fn gather(folder: &Path, found: &mut Vec<(PathBuf, String)>) {
        for entry in fs::read_dir(folder).unwrap().flatten() {
            let path = entry.path();
            if path.is_dir() {
                gather(&path, found);
            } else if path.extension().is_some_and(|extension| extension == "plate") {
                found.push((path.clone(), fs::read_to_string(path).unwrap()));
            }
        }
    }
    let mut found = Vec::new();
    gather(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src/trade"), &mut found);
    found
}

/// What stands in quotes behind the word `source` on a line.
fn source_of(line: &str) -> Option<&str> {
    let (before, after) = line.split_once("source ")?;
    let quoted = after.trim_start().strip_prefix('"')?;
    (before.is_empty() || before.ends_with(' ')).then(|| quoted.split('"').next()).flatten()
}

#[test]
fn every_source_of_the_library_has_its_edition_or_says_that_there_is_none() {
    let mut found = Vec::new();
    let mut seen = 0;
    for (path, text) in library() {
        for (at, line) in text.lines().enumerate() {
            let Some(first) = source_of(line) else { continue };
            seen += 1;
            // A text in pieces goes on in the lines below.
            let pieces = text.lines().skip(at).take_while(|line| line.ends_with("\" +")).count();
            let rest = text.lines().skip(at + 1).take(pieces).map(|line| line.trim_start().trim_start_matches('"'));
            let source = std::iter::once(first).chain(rest.map(|piece| piece.split('"').next().unwrap_or_default())).collect::<String>();
            if let Some(what) = wrong(&source) {
                found.push(format!("{}:{}: {what}", path.display(), at + 1));
            }
        }
    }
    assert!(seen > 300, "only {seen} sources were found");
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn every_source_of_the_functions_too() {
    // As readers see it; that this page is true, `reference.rs` holds.
    let page = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/reference/functions.md")).unwrap();
    let sources: Vec<&str> = page.lines().filter_map(|line| line.strip_prefix("- *source*: ")).collect();
    assert!(sources.len() > 150, "only {} sources were found", sources.len());
    let found: Vec<String> = sources.iter().filter_map(|source| wrong(source).map(|what| format!("{source}: {what}"))).collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn the_head_of_each_catalogue_names_editions() {
    for (path, text) in library().into_iter().filter(|(path, _)| path.components().any(|part| part.as_os_str() == "catalogue")) {
        let head: String = text.lines().filter_map(|line| line.strip_prefix('#')).collect::<Vec<_>>().join(" ");
        let (bare, cites) = cited(&head);
        assert!(bare.is_empty(), "{}: no edition of {}", path.display(), bare.join(", "));
        assert!(cites || MARKS.iter().any(|mark| head.contains(mark)), "{}: on whose word?", path.display());
    }
}

/// What the tests above are for.
#[test]
fn a_source_without_edition_is_found() {
    for bare in ["EN 1995-1-1 §6.1", "NEC Table 310.16", "statics; ISO 53", "ASCE 7 §2.4.1", "Wood Handbook eq. 4-5", "IEC 60947-5-2: 0.81"]
    {
        assert!(wrong(bare).is_some_and(|what| what.starts_with("no edition")), "{bare}: {:?}", wrong(bare));
    }
    for vague in ["a drive maker's catalogue", "somebody said so", "usual"] {
        assert!(wrong(vague).is_some_and(|what| what.contains("no citation")), "{vague}: {:?}", wrong(vague));
    }
    for good in ["EN 1995-1-1:2004 §6.1; NDS 2018 §3.3", "ASCE 7-16 §2.4.1", "Nadal 1908", "statics", "common practice, no source: 10 Hz"]
    {
        assert_eq!(wrong(good), None, "{good}");
    }
}
