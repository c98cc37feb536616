//! Reads the trade library once, when the program is built, so that no start has to parse it.
//!
//! Every `.plate` file under `src/trade/` is found by its folder, parsed with the program's own
//! syntax modules and written down as a tree; a mistake in one of them stops the build with its
//! place and message. To add a kind, a rule or a catalogue is to add a file.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

#[path = "src/formulas/bindings.rs"]
mod bindings;
#[allow(dead_code, unused_imports, reason = "the program's modules, of which the build needs a part")]
#[path = "src/problem.rs"]
mod problem;
#[allow(dead_code, unused_imports, reason = "the program's modules, of which the build needs a part")]
#[path = "src/syntax/mod.rs"]
mod syntax;
#[allow(dead_code, unused_imports, reason = "the program's modules, of which the build needs a part")]
#[path = "src/text/mod.rs"]
mod text;

fn main() {
    if let Err(error) = prepare() {
        eprintln!("{error}");
        std::process::exit(1);
    }
}

fn prepare() -> Result<(), Box<dyn std::error::Error>> {
    for watched in ["src/trade", "src/formulas/bindings.rs", "src/syntax", "src/text", "src/problem.rs", "grammar/wallplate.pest"] {
        println!("cargo:rerun-if-changed={watched}");
    }
    let out = PathBuf::from(std::env::var("OUT_DIR")?);
    let mut number = 0;
    let mut code = String::new();
    let mut declarations = Vec::new();
    // The order decides the order of findings: the vocabulary, the checks, then what a design takes in by name; last what goes onto paper.
    for (table, folders) in [
        ("LIBRARY", &["words", "kinds", "rules"][..]),
        ("CATALOGUES", &["catalogue"][..]),
        ("PAPERS", &["papers"][..]),
        ("FORMULAS", &["formulas"][..]),
        ("FORMS", &["forms"][..]),
    ] {
        let mut parts = String::new();
        let mut count = 0;
        for folder in folders {
            for path in plates(&Path::new("src/trade").join(folder))? {
                let (name, tree) = read(&path, number)?;
                parts.push_str(&part(&path, folder, number, &name, &tree, &out)?);
                if *folder == "formulas" {
                    declarations.push((name, tree));
                }
                number += 1;
                count += 1;
            }
        }
        writeln!(code, "static {table}: [Part; {count}] = [\n{parts}];")?;
    }
    std::fs::write(out.join("library.rs"), code)?;
    for (name, code) in bindings::Declarations::new(declarations).write()? {
        std::fs::write(out.join(format!("formulas_{name}.rs")), code)?;
    }
    std::fs::write(out.join("says.rs"), said()?)?;
    Ok(())
}

/// The sentences of `says/` as constants: a `let` each, its name in capitals.
fn said() -> Result<String, Box<dyn std::error::Error>> {
    let mut code = String::new();
    for path in plates(Path::new("src/trade/says"))? {
        for item in read(&path, 0)?.1.items {
            let syntax::tree::Item::Let(line) = item else { return Err(format!("{}: only `let` lines stand here", path.display()).into()) };
            let syntax::tree::Node::Text(said) = &line.value.node else {
                return Err(format!("{}: `{}` is a text in quotes", path.display(), line.name.text).into());
            };
            writeln!(code, "/// {said}\npub const {}: &str = {:?};", line.name.text.to_uppercase(), said.as_str())?;
        }
    }
    Ok(code)
}

/// The `.plate` files of a folder, by name.
fn plates(folder: &Path) -> std::io::Result<Vec<PathBuf>> {
    let mut found: Vec<PathBuf> = std::fs::read_dir(folder)?.filter_map(|entry| entry.ok().map(|entry| entry.path())).collect();
    found.retain(|path| path.extension().is_some_and(|extension| extension == "plate"));
    found.sort();
    Ok(found)
}

/// Parses one file: its name and its tree.
fn read(path: &Path, number: u16) -> Result<(String, syntax::tree::Tree), Box<dyn std::error::Error>> {
    let text = std::fs::read_to_string(path)?;
    let (tree, problems) = syntax::parse(&text, text::FileId::built_in(number));
    if let Some(problem) = problems.first() {
        let source = text::Source::new(path.display().to_string(), text.as_str());
        let at = source.lines().position(&text, problem.span().start);
        let help = problem.help.as_deref().unwrap_or("");
        return Err(format!("{}:{}:{}: {}\n{help}", path.display(), at.line, at.column, problem.message).into());
    }
    let name = path.file_stem().and_then(|stem| stem.to_str()).ok_or("a file of the library has an odd name")?;
    Ok((name.to_owned(), tree))
}

/// Writes the tree of a file, and gives the line of the table that holds it.
fn part(
    path: &Path,
    folder: &str,
    number: u16,
    name: &str,
    tree: &syntax::tree::Tree,
    out: &Path,
) -> Result<String, Box<dyn std::error::Error>> {
    let tree_file = out.join(format!("{folder}_{name}.tree"));
    std::fs::write(&tree_file, postcard::to_allocvec(tree)?)?;
    let absolute = std::env::current_dir()?.join(path);
    Ok(format!(
        "    Part::new({number}, {name:?}, \"trade/{folder}/{name}.plate\", include_str!({absolute:?}), include_bytes!({tree_file:?})),\n"
    ))
}
