//! Lists the changes that can be made to the code of the rooms `units`, `values`, `rules` and `calc`, and weaves a choice of them in.
//!
//!     mutants list TREE              a line for each: number, file, line, what changes
//!     mutants weave TREE NUMBER…     writes these into the files of TREE, a checkout of its own
//!
//! `mutants.py` beside it does the rest.

mod sites;
mod weave;

use std::collections::BTreeMap;
use std::error::Error;
use std::path::{Path, PathBuf};

const ROOMS: [&str; 4] = ["units", "values", "rules", "calc"];

/// What is asked while a mutant lives or while tests are traced: where it stands, and what is put before it.
const QUESTIONS: [(&str, &str, &str); 5] = [
    ("src/lib.rs", "// What is read:", "pub mod mutants;\n\n"),
    (
        "src/rules/engine.rs",
        "        let (applies, reads) = self.evaluator.reading(|| match &self.rule.when {",
        "        crate::mutants::asked(\"\", &self.rule.name);\n",
    ),
    (
        "src/values/evaluator.rs",
        "                scope.writer = Writer::Kind;\n                match &declared.default {",
        "                crate::mutants::asked(&self.design.kind(component.kind).name, &declared.name);\n",
    ),
    (
        "src/trade/mod.rs",
        "            let prepared = postcard::from_bytes(self.prepared);",
        "            if let Some(text) = crate::mutants::instead(self.path) {\n                return Arc::new(crate::syntax::parse(text, FileId::built_in(self.place)).0);\n            }\n",
    ),
    (
        "src/trade/mod.rs",
        "        self.source.get_or_init(|| Arc::new(Source::new(self.path, self.text)))",
        "        if let Some(text) = crate::mutants::instead(self.path) {\n            return self.source.get_or_init(|| Arc::new(Source::new(self.path, text)));\n        }\n",
    ),
];

struct File {
    path: PathBuf,
    name: String,
    text: String,
    changes: Vec<sites::Change>,
}

fn main() {
    if let Err(error) = run() {
        eprintln!("{error}");
        std::process::exit(2);
    }
}

fn run() -> Result<(), Box<dyn Error>> {
    let mut words = std::env::args().skip(1);
    let (what, tree) = (words.next().unwrap_or_default(), PathBuf::from(words.next().unwrap_or_default()));
    match what.as_str() {
        "list" => {
            let mut number = 0;
            for file in files(&tree)? {
                for change in &file.changes {
                    let line = file.text[..change.place.start].matches('\n').count() + 1;
                    let of = file.text.lines().nth(line - 1).unwrap_or_default().trim();
                    println!("{number}\t{}\t{line}\t{}\t{of}", file.name, change.what);
                    number += 1;
                }
            }
            Ok(())
        }
        "weave" => weave(&tree, &words.map(|word| word.parse()).collect::<Result<Vec<usize>, _>>()?),
        _ => Err("mutants list TREE, or mutants weave TREE NUMBER…".into()),
    }
}

fn weave(tree: &Path, wanted: &[usize]) -> Result<(), Box<dyn Error>> {
    let mut number = 0;
    for file in files(tree)? {
        let mut numbered = Vec::new();
        for change in &file.changes {
            if wanted.contains(&number) {
                numbered.push(weave::Numbered { number, change });
            }
            number += 1;
        }
        if !numbered.is_empty() {
            std::fs::write(&file.path, weave::woven(&file.text, &numbered))?;
        }
    }
    std::fs::write(tree.join("src/mutants.rs"), include_str!("woven_in.rs"))?;
    for (file, before, put) in QUESTIONS {
        let path = tree.join(file);
        let text = std::fs::read_to_string(&path)?;
        let at = text.find(before).ok_or_else(|| format!("{file} has no line `{}` any more: mend QUESTIONS", before.trim()))?;
        std::fs::write(&path, format!("{}{put}{}", &text[..at], &text[at..]))?;
    }
    Ok(())
}

/// The files of the rooms with their changes, in one order.
fn files(tree: &Path) -> Result<Vec<File>, Box<dyn Error>> {
    let mut paths = Vec::new();
    for room in ROOMS {
        let one = tree.join(format!("src/{room}.rs"));
        if one.exists() {
            paths.push(one);
        }
        below(&tree.join("src").join(room), &mut paths)?;
    }
    paths.sort();
    let mut constants = BTreeMap::new();
    let mut parsed = Vec::new();
    for path in paths {
        let text = std::fs::read_to_string(&path)?;
        let file = syn::parse_file(&text).map_err(|error| format!("{}: {error}", path.display()))?;
        sites::constants(&file, &mut constants);
        parsed.push((path, text, file));
    }
    let named = |path: &Path| path.strip_prefix(tree).unwrap_or(path).display().to_string();
    Ok(parsed
        .into_iter()
        .map(|(path, text, file)| File { name: named(&path), changes: sites::changes(&text, &file, &constants), path, text })
        .collect())
}

fn below(folder: &Path, into: &mut Vec<PathBuf>) -> std::io::Result<()> {
    for entry in std::fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            below(&path, into)?;
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            into.push(path);
        }
    }
    Ok(())
}
