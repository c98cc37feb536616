//! Which modules a source file names: the paths in its `use` lines and in its code, counted from the top of the crate.

use petgraph::algo::tarjan_scc;
use petgraph::graphmap::DiGraphMap;
use std::collections::HashMap;

/// A path from the top of the crate: `["papers", "row", "Row"]`.
pub type Path = Vec<String>;

/// The module that a file below `src/` is.
pub fn module_of(file: &str) -> Path {
    let name = file.trim_end_matches(".rs").trim_end_matches("/mod");
    if name == "lib" { Path::new() } else { name.split('/').map(str::to_owned).collect() }
}

/// A path in the code of a module.
pub struct Used {
    /// From the top of the crate.
    pub path: Path,
    /// What it is called here.
    pub name: String,
    /// It only shows the way to what stands below (`pub use`).
    pub signpost: bool,
}

/// Every path of the crate in the code of a module, trees of a `use` taken apart: those that begin with `crate`, `self`,
/// `super` or the name of a module below it.
pub fn uses<'m>(module: &[String], below: impl IntoIterator<Item = &'m str>, code: &str) -> Vec<Used> {
    let mut found = Vec::new();
    for word in ["crate", "self", "super"].into_iter().chain(below) {
        for (at, _) in code.match_indices(&format!("{word}::")) {
            let before = code.get(..at).unwrap_or_default();
            let goes_on = before.ends_with("::") || before.ends_with(|c: char| c.is_alphanumeric() || c == '_' || c == '$');
            // `pub(in crate::output)` says who may look.
            if goes_on || before.ends_with("(in ") {
                continue;
            }
            let signpost = before.trim_end().strip_suffix("use").is_some_and(|before| {
                let before = before.trim_end();
                before.ends_with("pub") || before.ends_with("pub(super)") || before.ends_with("pub(crate)")
            });
            let mut path = if word == "crate" { Path::new() } else { module.to_vec() };
            match word {
                "crate" | "self" => {}
                "super" => drop(path.pop()),
                below => path.push(below.to_owned()),
            }
            let mut paths = Vec::new();
            tree(code.get(at + word.len() + 2..).unwrap_or_default(), path, &mut paths);
            found.extend(paths.into_iter().map(|(path, name)| Used { path, name, signpost }));
        }
    }
    found
}

/// Reads a path or a tree of paths at the beginning of `code`, below `path`; gives what stands after it.
fn tree<'c>(code: &'c str, mut path: Path, found: &mut Vec<(Path, String)>) -> &'c str {
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
            let renamed = after.strip_prefix(" as ").map(|after| {
                let end = after.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(after.len());
                after.split_at(end)
            });
            let (name, after) = renamed.unwrap_or((path.last().map_or("", String::as_str), after));
            let name = name.to_owned();
            found.push((path, name));
            after
        }
    }
}

/// The files of a crate as its `use` lines join them.
pub struct Files<'f> {
    modules: HashMap<Path, File<'f>>,
}

struct File<'f> {
    name: &'f str,
    code: String,
    uses: Vec<Used>,
}

impl<'f> Files<'f> {
    /// `files`: the name of each below `src/` with its code.
    pub fn new(files: impl IntoIterator<Item = (&'f str, String)>) -> Files<'f> {
        let all: Vec<(Path, &str, String)> = files.into_iter().map(|(name, code)| (module_of(name), name, code)).collect();
        let modules = all.iter().map(|(module, name, code)| {
            let is_below = |other: &Path| other.split_last().is_some_and(|(_, above)| above == module.as_slice());
            let below = all.iter().filter(|(other, _, _)| is_below(other)).filter_map(|(other, _, _)| other.last());
            let uses = uses(module, below.map(String::as_str), code);
            (module.clone(), File { name, code: code.clone(), uses })
        });
        Files { modules: modules.collect() }
    }

    /// The module in which a path ends: where what it names is written down, however many signposts lead there.
    fn end(&self, path: &[String], seen: &mut Vec<Path>) -> Option<Path> {
        let at = (0..=path.len()).rev().find(|at| self.modules.contains_key(&path[..*at]))?;
        let (module, file) = self.modules.get_key_value(&path[..at])?;
        let Some((name, rest)) = path[at..].split_first() else { return Some(module.clone()) };
        seen.push(path.to_vec());
        if name == "*" || file.defines(name) {
            return Some(module.clone());
        }
        let named = file.uses.iter().filter(|used| used.name == *name).map(|used| [&used.path, rest].concat());
        let all = file.uses.iter().filter(|used| used.name == "*").filter_map(|used| {
            let (_, from) = used.path.split_last()?;
            Some([from, std::slice::from_ref(name), rest].concat())
        });
        let next = named.chain(all).find(|next| !seen.contains(next));
        next.and_then(|next| self.end(&next, seen)).or_else(|| Some(module.clone()))
    }

    /// The files that use each other in a circle, all such circles; a signpost in a `mod.rs` joins nothing.
    pub fn circles(&self) -> Vec<Vec<&'f str>> {
        let mut graph: DiGraphMap<&str, ()> = DiGraphMap::new();
        for (module, file) in &self.modules {
            for used in file.uses.iter().filter(|used| !used.signpost) {
                let end = self.end(&used.path, &mut Vec::new());
                if let Some(other) = end.filter(|end| end != module && !end.is_empty()).and_then(|end| self.modules.get(&end)) {
                    graph.add_edge(file.name, other.name, ());
                }
            }
        }
        let mut circles = tarjan_scc(&graph);
        circles.retain(|circle| circle.len() > 1);
        circles.iter_mut().for_each(|circle| circle.sort_unstable());
        circles
    }
}

impl File<'_> {
    /// Whether something of this name is written down here.
    fn defines(&self, name: &str) -> bool {
        ["fn", "struct", "enum", "trait", "type", "const", "static", "macro_rules!"].iter().any(|word| {
            let head = format!("{word} {name}");
            let ends = |at: usize| !self.code[at + head.len()..].starts_with(|c: char| c.is_alphanumeric() || c == '_');
            self.code.match_indices(&head).any(|(at, _)| ends(at))
        })
    }
}

#[test]
fn trees_are_taken_apart() {
    let module = module_of("papers/drawing/desk.rs");
    let read = |code: &str| uses(&module, [], code).into_iter().map(|used| used.path.join("::")).collect::<Vec<_>>();
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

#[test]
fn circles_are_found_behind_signposts() {
    let circles = |files: &[(&'static str, &str)]| Files::new(files.iter().map(|(name, code)| (*name, (*code).to_owned()))).circles();
    let signpost = ("a/mod.rs", "mod one;\nmod two;\npub use one::One;\npub(super) use two::Two;");
    assert_eq!(
        circles(&[signpost, ("a/one.rs", "use super::Two;\npub struct One;"), ("a/two.rs", "pub struct Two;")]),
        Vec::<Vec<&str>>::new()
    );
    assert_eq!(
        circles(&[
            signpost,
            ("a/one.rs", "use super::Two as Other;\npub struct One;"),
            ("a/two.rs", "use crate::a::{One};\npub struct Two;")
        ]),
        [["a/one.rs", "a/two.rs"]]
    );
    assert_eq!(
        circles(&[
            ("b/mod.rs", "mod part;\nuse part::Part;\npub const MOST: u8 = 1;"),
            ("b/part.rs", "use super::MOST;\npub struct Part;")
        ]),
        [["b/mod.rs", "b/part.rs"]]
    );
}
