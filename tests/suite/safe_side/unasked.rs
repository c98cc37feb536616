//! Every public formula of `calc` is asked by something: by a function of the language, by the rest of the program, or by a formula
//! that is. What is not stands here with its reason, or is taken out.
//!
//! It goes by names: two formulas of one name count as asked together.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

const STATES: &str =
    "waits for the rules about the states that a building goes through: drifted snow, a pushed post or footing, an open wall";
const SECOND_WAY: &str = "a second way to a number that is asked: a test holds the one against the other";
const CREEP: &str = "no rule asks yet how far a beam sags after years";
const STEPS: &str = "looks into the middle of a formula that is asked, for its tests";

/// File below `src/calc`, name, reason.
const UNASKED: &[(&str, &str, &str)] = &[
    ("space/body.rs", "capsule", STEPS),
    ("space/solid.rs", "gabled", STEPS),
    ("space/solid.rs", "slabs", STEPS),
    ("space/sweep.rs", "closest_pass", SECOND_WAY),
    ("space/sweep.rs", "gaps_along", SECOND_WAY),
    ("space/sweep.rs", "least_gap", SECOND_WAY),
    ("fastener/withdrawal.rs", "lag_thread_length", "the thread lengths of the catalogue come from it"),
    ("footing/bearing.rs", "effective_pressure", STATES),
    ("footing/bearing.rs", "overturning_safety", STATES),
    ("footing/bearing.rs", "pressure_two_ways", STATES),
    ("footing/bearing.rs", "sliding_resistance", STATES),
    ("footing/embedded.rs", "ISOLATED_POST", STATES),
    ("footing/embedded.rs", "constrained", STATES),
    ("footing/embedded.rs", "depth_needed", STATES),
    ("footing/embedded.rs", "unconstrained", STATES),
    ("holddown.rs", "share_uplift", SECOND_WAY),
    ("holddown.rs", "worst_clamp", SECOND_WAY),
    ("loads.rs", "ASCE7_STRENGTH", "strength design; members are checked by allowable stress"),
    ("motion/run.rs", "absorbed", STEPS),
    ("motion/track.rs", "nearest_to_rolling_off", STEPS),
    ("motion/track.rs", "resist_between", STEPS),
    (
        "pier/column.rs",
        "natural_frequency",
        "the upper bound; what is asked is the lower one, and tests hold the true frequency between them",
    ),
    ("pier/pointing.rs", "ARCSECOND", "a unit of its tests"),
    ("sensing.rs", "field_aside", STEPS),
    ("sky/arc.rs", "sidereal_hours", STEPS),
    ("sky/place.rs", "hour_angle_and_declination", SECOND_WAY),
    ("snow/en1991.rs", "drift_behind_parapet", STATES),
    ("snow/en1991.rs", "duopitch_cases", STATES),
    ("snow/en1991.rs", "exceptional_ground", STATES),
    ("snow/en1991.rs", "shape_mu2", STATES),
    ("steel/walls.rs", "aisc_ratio", STATES),
    ("steel/walls.rs", "en_ratio", STATES),
    ("timber/en1995.rs", "kdef", CREEP),
    ("timber/en1995_check.rs", "final_deflection_leading", CREEP),
    ("timber/en1995_check.rs", "final_deflection_other", CREEP),
    ("timber/en1995_check.rs", "final_deflection_permanent", CREEP),
    ("timber/nds_check.rs", "long_term_deflection", CREEP),
    ("wind/asce7.rs", "is_partially_enclosed", STATES),
    ("wind/eurocode/canopy.rs", "trough", "no roof of the language is a trough; a test holds its half of the code's table"),
    ("wind/eurocode/internal.rs", "UNKNOWN", STATES),
    ("wind/eurocode/internal.rs", "by_opening_ratio", STATES),
];

fn rust_files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap().flatten() {
        let path = entry.path();
        if path.is_dir() {
            rust_files(&path, found);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            found.push(path);
        }
    }
}

/// The words of some code without comments and imports, in order.
fn words(text: &str) -> Vec<String> {
    let mut importing = false;
    let mut kept = String::new();
    for line in text.lines().map(str::trim_start).filter(|line| !line.starts_with("//")) {
        importing |= line.starts_with("use ") || line.starts_with("pub use ");
        if !importing {
            kept.push_str(line);
            kept.push('\n');
        }
        importing &= !line.trim_end().ends_with(';');
    }
    kept.split(|c: char| !c.is_alphanumeric() && c != '_').filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

/// Names under which something is taken in that has another name where it is written: that one, and the new one.
fn aliases(text: &str) -> Vec<(String, String)> {
    let words: Vec<&str> = text.split(|c: char| !c.is_alphanumeric() && c != '_').filter(|word| !word.is_empty()).collect();
    let alias = |three: &[&str]| if let [name, "as", alias] = three { Some(((*name).to_owned(), (*alias).to_owned())) } else { None };
    words.windows(3).filter_map(alias).collect()
}

/// A formula or constant: where it stands, its name, whether everybody may ask it, and what it names itself.
struct Formula {
    file: String,
    name: String,
    public: bool,
    names: BTreeSet<String>,
}

fn formulas(file: &str, text: &str) -> Vec<Formula> {
    let words = words(text);
    let mut found: Vec<Formula> = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let declares = matches!(words.get(at.wrapping_sub(1)).map(String::as_str), Some("fn" | "const" | "static")) && word != "fn";
        if declares {
            let before: Vec<&str> = (2..=3).filter_map(|back| words.get(at.wrapping_sub(back))).map(String::as_str).collect();
            let public = before.first() == Some(&"pub") || before == ["const", "pub"];
            found.push(Formula { file: file.to_owned(), name: word.clone(), public, names: BTreeSet::new() });
        } else if let Some(current) = found.last_mut() {
            current.names.insert(word.clone());
        }
    }
    found
}

#[test]
fn every_formula_is_asked_or_has_its_reason() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    rust_files(&root, &mut files);
    let (mut asked, mut all, mut taken_as) = (BTreeSet::new(), Vec::new(), Vec::new());
    for path in files {
        let text = fs::read_to_string(&path).unwrap();
        taken_as.extend(text.lines().filter(|line| line.contains("use ")).flat_map(aliases));
        match path.strip_prefix(root.join("calc")) {
            Ok(file) => all.extend(formulas(&file.display().to_string(), &text)),
            Err(_) => asked.extend(words(&text)),
        }
    }
    assert!(all.len() > 400, "the formulas are found at all: {}", all.len());
    asked.extend(taken_as.into_iter().filter(|(_, alias)| asked.contains(alias)).map(|(name, _)| name).collect::<Vec<_>>());
    let mut by_name: BTreeMap<&str, Vec<&Formula>> = BTreeMap::new();
    all.iter().for_each(|formula| by_name.entry(&formula.name).or_default().push(formula));
    let mut ahead: Vec<String> = by_name.keys().filter(|name| asked.contains(**name)).map(|name| (*name).to_owned()).collect();
    while let Some(name) = ahead.pop() {
        for other in by_name.get(name.as_str()).into_iter().flatten().flat_map(|formula| &formula.names) {
            if by_name.contains_key(other.as_str()) && asked.insert(other.clone()) {
                ahead.push(other.clone());
            }
        }
    }
    let unasked: BTreeSet<(&str, &str)> =
        all.iter().filter(|f| f.public && !asked.contains(&f.name)).map(|f| (f.file.as_str(), f.name.as_str())).collect();
    let excused: BTreeSet<(&str, &str)> = UNASKED.iter().map(|(file, name, _)| (*file, *name)).collect();
    let news: Vec<_> = unasked.difference(&excused).collect();
    assert!(news.is_empty(), "asked by nothing; bind them in src/formulas, or take them out: {news:?}");
    let stale: Vec<_> = excused.difference(&unasked).collect();
    assert!(stale.is_empty(), "asked by now, or gone: take them off the list: {stale:?}");
    assert!(UNASKED.iter().all(|(_, _, reason)| reason.len() > 10));
}
