//! The trade library is written for builders: it reads like the examples.

use std::path::{Path, PathBuf};
use wallplate::design::{Choice, Design};
use wallplate::session::{NoShelf, Session};
use wallplate::syntax::parse;
use wallplate::syntax::tree::{Expr, Item, Node, Rule};
use wallplate::text::{FileId, Source};
use wallplate::tidy::tidy;

/// A line that is longer is not read by a person.
const LONGEST_LINE: usize = 160;
/// Folders whose lines are still to be broken.
const NOT_YET: [&str; 5] = ["catalogue", "formulas", "kinds", "papers", "says"];
/// An expression that is longer is given a name and not written again.
const LONGEST_REPEATED: usize = 40;

/// The files of the library with their texts.
fn files() -> Vec<(PathBuf, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/trade");
    let folders = std::fs::read_dir(root).unwrap().map(|entry| entry.unwrap().path()).filter(|path| path.is_dir());
    let paths = folders.flat_map(|folder| std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect::<Vec<_>>());
    let mut files: Vec<(PathBuf, String)> = paths
        .filter(|path| path.extension().is_some_and(|ending| ending == "plate"))
        .map(|path| (path.clone(), std::fs::read_to_string(path).unwrap()))
        .collect();
    files.sort();
    assert!(files.len() > 60, "{} files", files.len());
    files
}

fn folder(path: &Path) -> &str {
    path.parent().and_then(Path::file_name).and_then(|name| name.to_str()).unwrap()
}

#[test]
fn no_line_is_longer_than_one_reads() {
    let mut long = Vec::new();
    for (path, text) in files().iter().filter(|(path, _)| !NOT_YET.contains(&folder(path))) {
        for (number, line) in (1..).zip(text.lines()).filter(|(_, line)| line.chars().count() > LONGEST_LINE) {
            long.push(format!("{}:{number}: {} characters", path.display(), line.chars().count()));
        }
    }
    assert!(long.is_empty(), "{}", long.join("\n"));
}

#[test]
fn the_rules_are_laid_out_in_the_standard_way() {
    for (path, text) in files().iter().filter(|(path, _)| folder(path) == "rules") {
        assert!(tidy(text).as_ref() == Ok(text), "`wallplate tidy {}`", path.display());
    }
}

/// What holds an outcome against what the rule asks, in whichever words.
fn asks_again(condition: &Expr, require: Option<&Expr>) -> bool {
    let is_result = |expr: &Expr, name: &str| matches!(&expr.node, Node::Name(word) if word == name);
    let sides = match &condition.node {
        Node::Binary(_, _, a, b) => {
            is_result(a, "demand") && is_result(b, "capacity") || is_result(a, "capacity") && is_result(b, "demand")
        }
        _ => false,
    };
    let inner = match &condition.node {
        Node::Unary(_, of) => of.as_ref(),
        _ => condition,
    };
    sides || require.is_some_and(|require| require.says_the_same(condition) || require.says_the_same(inner))
}

#[test]
fn no_rule_says_its_own_condition_again() {
    let session = Session::read(vec![Source::new("empty.plate", "")], &NoShelf, &Choice::default());
    let design: &Design = session.design();
    let mut asked = 0;
    for rule in &design.rules {
        for words in [&rule.says, &rule.otherwise, &rule.help].into_iter().flatten() {
            words.walk(&mut |inner| {
                let Node::If(condition, ..) = &inner.node else { return };
                asked += 1;
                assert!(!asks_again(condition, rule.require.as_deref()), "{}: `otherwise` says it where it does not hold", rule.name);
            });
        }
    }
    assert!(asked > 30, "{asked} conditions in words");
}

/// Each expression of a rule as it is written.
fn each_expression<'e>(rule: &'e Rule, visit: &mut dyn FnMut(&'e Expr)) {
    let values = rule.lets.iter().map(|line| &line.value).chain(rule.lines.iter().map(|line| &line.value));
    values.for_each(|value| value.walk(visit));
}

#[test]
fn what_a_rule_speaks_of_twice_has_a_name() {
    let mut twice = Vec::new();
    for (path, text) in files().iter().filter(|(path, _)| folder(path) == "rules") {
        let (tree, problems) = parse(text, FileId::default());
        assert_eq!(problems, []);
        for item in &tree.items {
            let Item::Rule(rule) = item else { continue };
            let mut seen: Vec<&Expr> = Vec::new();
            each_expression(rule, &mut |expr| {
                let is_text = matches!(expr.node, Node::Text(_) | Node::Template(_) | Node::List(_));
                let written = text.get(expr.span.start as usize..expr.span.end as usize).unwrap_or_default();
                if is_text || written.chars().count() <= LONGEST_REPEATED {
                    return;
                }
                if seen.iter().any(|other| other.says_the_same(expr)) {
                    twice.push(format!("{}: {}: {written}", path.display(), rule.name.text));
                }
                seen.push(expr);
            });
        }
    }
    assert!(twice.is_empty(), "give these a name with `let`:\n{}", twice.join("\n"));
}
