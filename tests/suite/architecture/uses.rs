//! Which modules a source file names: the paths in its `use` lines and in its code, counted from the top of the crate.

/// A path from the top of the crate: `["papers", "row", "Row"]`.
pub type Path = Vec<String>;

/// The module that a file below `src/` is.
pub fn module_of(file: &str) -> Path {
    let name = file.trim_end_matches(".rs").trim_end_matches("/mod");
    if name == "lib" { Path::new() } else { name.split('/').map(str::to_owned).collect() }
}

/// Every path that begins with `crate`, `self` or `super` in the code of a module, trees of a `use` taken apart.
pub fn paths(module: &[String], code: &str) -> Vec<Path> {
    let mut found = Vec::new();
    for word in ["crate", "self", "super"] {
        for (at, _) in code.match_indices(&format!("{word}::")) {
            let before = code.get(..at).unwrap_or_default();
            let goes_on = before.ends_with("::") || before.ends_with(|c: char| c.is_alphanumeric() || c == '_' || c == '$');
            if !goes_on {
                let mut path = match word {
                    "crate" => Path::new(),
                    _ => module.to_vec(),
                };
                if word == "super" {
                    path.pop();
                }
                tree(code.get(at + word.len() + 2..).unwrap_or_default(), path, &mut found);
            }
        }
    }
    found
}

/// Reads a path or a tree of paths at the beginning of `code`, below `path`; gives what stands after it.
fn tree<'c>(code: &'c str, mut path: Path, found: &mut Vec<Path>) -> &'c str {
    let mut rest = code.trim_start();
    if let Some(inside) = rest.strip_prefix('{') {
        rest = inside;
        loop {
            rest = tree(rest, path.clone(), found).trim_start();
            match rest.strip_prefix(',') {
                Some(next) if !next.trim_start().starts_with('}') => rest = next,
                Some(next) => return next.trim_start().strip_prefix('}').unwrap_or_default(),
                None => return rest.strip_prefix('}').unwrap_or(rest),
            }
        }
    }
    let end = rest.find(|c: char| !(c.is_alphanumeric() || c == '_' || c == '*')).unwrap_or(rest.len());
    let (word, after) = rest.split_at(end);
    match word {
        "self" => {}
        "super" => {
            path.pop();
        }
        _ => path.push(word.to_owned()),
    }
    match after.strip_prefix("::") {
        Some(below) if below.starts_with(|c: char| c.is_alphabetic() || c == '_' || c == '{' || c == '*') => tree(below, path, found),
        _ => {
            found.push(path);
            // What it is called here says nothing about where it is from.
            match after.strip_prefix(" as ") {
                Some(name) => name.trim_start_matches(|c: char| c.is_alphanumeric() || c == '_'),
                None => after,
            }
        }
    }
}

#[test]
fn trees_are_taken_apart() {
    let module = module_of("papers/drawing/desk.rs");
    let read = |code: &str| paths(&module, code).into_iter().map(|path| path.join("::")).collect::<Vec<_>>();
    assert_eq!(
        read("use crate::values::{self, Scope as S, how::{How, Line},};"),
        ["values", "values::Scope", "values::how::How", "values::how::Line"]
    );
    assert_eq!(
        read("use super::{Wanted, desk};\nfn f(of: crate::units::Dim) {}"),
        ["units::Dim", "papers::drawing::Wanted", "papers::drawing::desk"]
    );
    assert_eq!(read("super::super::row::rows::<u8>(); self::Desk::new()"), ["papers::drawing::desk::Desk::new", "papers::row::rows"]);
}
