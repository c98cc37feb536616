//! Nothing of the trade stands in Rust: what the program says of roofs, wheels and snow stands in `src/trade/`.
//!
//! Each text in the code is held against the names of the library's kinds, properties, choices and rules, and against
//! words of the trade. `calc` is left out, which speaks of nothing else, and so is what a reader of the code is told.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::fs;
use std::path::Path;
use wallplate::design::{Design, Type};
use wallplate::trade;

/// Left out as a whole, each with its reason.
const FOLDERS: [(&str, &str); 4] = [
    ("calc/", "the engineering itself: its errors name what a formula is about"),
    ("formulas/", "the bodies of the formulas, whose parameters and results are named as they are declared"),
    ("syntax/examples.rs", "what messages give as an example: it has to be of something that a builder knows"),
    ("units/table.rs", "units by their names, and the standards that define them by their titles"),
];

/// Words of the trade besides the names of the library.
const TRADE: &str = "astronomer astronomers brake brakes builder builders carpenter concrete eave eaves electrician elevation flange \
                     foundation gable gantry gust holddown horizon lifting lumber mortar nail nails observatory plumb rafters ridge \
                     roofing sill snow soil star steel stud telescopes thrust timber truss wind";

/// Names of the library that are words of the language too, or of whoever writes or draws: in a text they say nothing of
/// the trade.
const PLAIN: [(&str, &str); 12] = [
    ("braces", "as a text has them"),
    ("bracket", "as a text has it"),
    ("brackets", "as a text has them"),
    ("button", "of a page"),
    ("computer", "the one that it runs on"),
    ("control", "of signs, of an editor"),
    ("power", "of a number; a dimension"),
    ("price", "a line of the paper form `purchase`"),
    ("stops", "where reading ends"),
    ("target", "what a path or a link leads to"),
    ("up_to", "a line of `accept`"),
    ("view", "of a sheet"),
];

/// A text in the code with the number of its line.
fn texts(code: &str) -> Vec<(usize, String)> {
    let mut texts = Vec::new();
    let (mut line, mut signs) = (1, code.chars().peekable());
    let mut before = String::new();
    while let Some(sign) = signs.next() {
        match sign {
            '\n' => {
                line += 1;
                before.clear();
            }
            '/' if signs.peek() == Some(&'/') => {
                while signs.peek().is_some_and(|sign| *sign != '\n') {
                    signs.next();
                }
            }
            // A quote in quotes is a sign, not the beginning of a text.
            '\'' => {
                let rest: String = signs.clone().take(3).collect();
                if rest.starts_with('\\') || rest.chars().nth(1) == Some('\'') {
                    signs.next();
                    signs.next();
                }
                before.push('\'');
            }
            '"' => {
                let (begins, mut text) = (line, String::new());
                while let Some(sign) = signs.next() {
                    match sign {
                        '"' => break,
                        '\\' => {
                            // What stands behind it: a quote, a newline that goes on, a sign.
                            if signs.next() == Some('\n') {
                                line += 1;
                            }
                            text.push(' ');
                        }
                        '\n' => {
                            line += 1;
                            text.push(' ');
                        }
                        sign => text.push(sign),
                    }
                }
                // Why a lint is silent is told to a reader of the code.
                if !before.trim_end().ends_with("reason =") {
                    texts.push((begins, text));
                }
                before.clear();
            }
            sign => before.push(sign),
        }
    }
    texts
}

/// The names that the library gives: all kinds; of the others those that are no plain word by themselves.
fn names() -> BTreeSet<String> {
    let library: Vec<_> = trade::library().iter().map(trade::Part::tree).collect();
    let design = Design::vocabulary(&library, None);
    let mut names: BTreeSet<String> = BTreeSet::new();
    for kind in &design.kinds {
        names.insert(kind.name.to_string());
        names.insert(format!("{}s", kind.name));
        for property in &kind.properties {
            let choices = if let Type::Word(words) = &property.ty { words.as_slice() } else { &[] };
            let joined = std::iter::once(&property.name).chain(choices).filter(|name| name.contains('_'));
            names.extend(joined.map(ToString::to_string));
        }
    }
    names.extend(design.carried.iter().map(|carried| carried.name.to_string()));
    for rule in &design.rules {
        names.extend(rule.name.split_once('.').map(|(_, name)| name.to_owned()).filter(|name| name.contains('_')));
    }
    names.extend(TRADE.split_whitespace().map(ToOwned::to_owned));
    for (plain, _) in PLAIN {
        assert!(names.remove(plain), "`{plain}` is no name of the library any more: take it out");
    }
    names
}

/// A text without the names in braces that the code puts values in for.
fn without_places(text: &str) -> String {
    let is_name = |name: &str| name.chars().all(|sign| sign.is_ascii_alphanumeric() || "_:.$?<>#".contains(sign));
    let mut pieces = text.split('{');
    let first = pieces.next().unwrap_or_default().to_owned();
    pieces.fold(first, |left, piece| match piece.split_once('}') {
        Some((name, rest)) if is_name(name) => format!("{left} {rest}"),
        _ => format!("{left} {piece}"),
    })
}

/// What stands in a file's texts: the line, the word, the text.
fn found<'n>(code: &str, names: &'n BTreeSet<String>) -> Vec<(usize, &'n str, String)> {
    let mut found = Vec::new();
    for (line, text) in texts(code) {
        let lower = without_places(&text.to_lowercase());
        for word in lower.split(|sign: char| !(sign.is_ascii_lowercase() || sign.is_ascii_digit() || sign == '_')) {
            if let Some(name) = names.get(word) {
                found.push((line, name.as_str(), text.clone()));
            }
        }
    }
    found
}

fn rust_files(folder: &Path, files: &mut Vec<std::path::PathBuf>) {
    let mut entries: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            rust_files(&path, files);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            files.push(path);
        }
    }
}

#[test]
fn nothing_of_the_trade_stands_in_rust() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    rust_files(&root, &mut files);
    let names = names();
    let mut faults = String::new();
    for path in files {
        let file = path.strip_prefix(&root).unwrap().display().to_string();
        if FOLDERS.iter().any(|(folder, _)| file.starts_with(folder)) {
            continue;
        }
        for (line, word, text) in found(&fs::read_to_string(&path).unwrap(), &names) {
            let _ = writeln!(faults, "src/{file}:{line}: `{word}` in \"{text}\"");
        }
    }
    assert!(faults.is_empty(), "words of the trade stand in `src/trade/`, sentences in `src/trade/says/`:\n{faults}");
}

/// The search itself: it finds what is put in, and takes nothing for a text that is none.
#[test]
fn a_word_of_the_trade_is_found() {
    let names = names();
    let words = |code: &str| found(code, &names).into_iter().map(|(line, word, _)| (line, word.to_owned())).collect::<Vec<_>>();
    let one = |line: usize, word: &str| vec![(line, word.to_owned())];
    assert_eq!(words("fn x() {\n    say(\"the Roof is shut\");\n}"), one(2, "roof"));
    assert_eq!(words("let a = design.kind_named(\"telescope\");"), one(1, "telescope"));
    assert_eq!(words("let a = record.get(\"working_load\");"), one(1, "working_load"));
    assert_eq!(words("let a = \"a long text \\\n   with snow\";"), one(1, "snow"));
    assert_eq!(words("let a = ['\"', 'x']; // \"the roof\"\nlet b = \"a wall\";"), one(2, "wall"));
    assert_eq!(words("#[expect(lint, reason = \"days of a roof\")]\n/// \"roof\"\nlet roof = \"\\\" open\";"), []);
    assert_eq!(words("format!(\"`{target}` {roof:?} on a {}\")"), []);
    assert_eq!(words("if rule == \"travel.open_sensor_margin\" {}"), one(1, "open_sensor_margin"));
}
