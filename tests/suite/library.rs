//! The trade library is written for builders: it reads like the examples; a kind may name its steps.

use super::cli::desk::Desk;
use std::path::{Path, PathBuf};
use wallplate::design::{Choice, Design};
use wallplate::session::{NoShelf, Session};
use wallplate::syntax::parse;
use wallplate::syntax::tree::{Expr, Item, Node, Rule};
use wallplate::text::{FileId, Source};
use wallplate::tidy::tidy;

/// A line that is longer is not read by a person.
const LONGEST_LINE: usize = 160;
/// Nor is a file that is longer read in one sitting.
const LONGEST_FILE: usize = 600;
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
    for (path, text) in files() {
        for (number, line) in (1..).zip(text.lines()).filter(|(_, line)| line.chars().count() > LONGEST_LINE) {
            long.push(format!("{}:{number}: {} characters", path.display(), line.chars().count()));
        }
    }
    assert!(long.is_empty(), "{}", long.join("\n"));
}

#[test]
fn no_file_is_longer_than_one_reads() {
    let lengths = files().into_iter().map(|(path, text)| (text.lines().count(), path));
    let long: Vec<_> = lengths.filter(|(lines, _)| *lines > LONGEST_FILE).collect();
    assert!(long.is_empty(), "split by subject: {long:?}");
}

#[test]
fn rules_and_kinds_are_laid_out_in_the_standard_way() {
    for (path, text) in files().iter().filter(|(path, _)| ["rules", "kinds"].contains(&folder(path))) {
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

const HEATER: &str = "\
kind heater \"Keeps the dew off\" {
  power     power   required
  hours     time    default 6 h
  let night  power * hours  # of one
  let both   night + night
  energy    energy  default both / 0.9
            \"what a night takes, \" +
            \"with the loss on the way\"  source \"a habit\"
  spare     energy  default max(both, 1 kWh)
}
heater one { power 5 W }
";

#[test]
fn a_step_is_worked_out_and_shown_as_if_it_stood_there() {
    let desk = Desk::with(HEATER);
    // 5 W for 6 h is 108 kJ; twice that over 0.9 is 240 kJ.
    assert_eq!(desk.run(&["value", "a.plate", "one.energy in kJ"]).out, "240 kJ\n");
    let how = desk.run(&["value", "a.plate", "one.energy in kJ", "--how"]).out;
    assert!(how.contains("((power * hours) + (power * hours)) / 0.9"), "{how}");
    assert!(how.contains("what a night takes, with the loss on the way"), "{how}");
    // By itself an argument needs no brackets.
    let how = desk.run(&["value", "a.plate", "one.spare", "--how"]).out;
    assert!(how.contains("max((power * hours) + (power * hours), 1 kWh)"), "{how}");
}

#[test]
fn nobody_writes_a_step_or_asks_for_one() {
    let desk = Desk::with(HEATER);
    let done = desk.run(&["value", "a.plate", "one.night"]);
    assert_eq!((done.status, done.out.as_str()), (Some(2), ""), "{}", done.err);
    let written = Desk::with(&HEATER.replace("power 5 W", "power 5 W; night 3 kJ"));
    let said = written.run(&["check", "a.plate"]).out;
    assert!(said.contains("night"), "{said}");
    // The library's own: `clamp_offsets` is no property of a roof, and its formulas name what it stands for.
    let page = desk.run(&["rules", "roof.held"]).out;
    assert!(!page.lines().any(|line| line.trim_start().starts_with("clamp_offsets  ")), "{page}");
    let in_one_line = page.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(in_one_line.contains("clamp_offsets list(c.offset for c in clamps)"), "{page}");
}

#[test]
fn a_sum_of_nothing_is_none_of_what_is_due() {
    let desk = Desk::with(
        "kind weight \"W\" {\n  at    link to beam_of_mine\n  pull  force\n}\n\
         kind beam_of_mine \"B\" {\n  from_above  force  default sum(w.pull for w in weight where w.at == this)\n  \
           most     force  default max(sum(w.pull for w in weight where w.at == this), sum(w.pull for w in weight where w.at == this))\n  \
           both     force  default sum(w.pull for w in weight where w.at == this) + sum(w.pull for w in weight where w.at == this)\n  \
           hardest  force  default max(w.pull for w in weight where w.at == this)\n}\n\
         beam_of_mine b { }\n",
    );
    for line in ["from_above", "most", "both"] {
        assert_eq!(desk.run(&["value", "a.plate", &format!("b.{line}")]).out, "0 N\n", "{line}");
    }
    // The largest of nothing is not 0: something is missing.
    let done = desk.run(&["value", "a.plate", "b.hardest"]);
    assert_eq!(done.status, Some(1), "{}{}", done.out, done.err);
}

#[test]
fn pi_is_exact_and_gives_way_to_a_name_of_the_design() {
    let desk = Desk::with("let turns  pi / 4\n");
    // Digits of pi: DLMF 3.12.1 (NIST), 3.14159 26535 89793 …
    assert_eq!(desk.run(&["value", "a.plate", "(turns * 4 - 3.14159265) * 1e9"]).out, "3.59\n");
    assert_eq!(desk.run(&["value", "-", "2 * pi * 1 m in mm"]).out, "6283 mm\n");
    assert_eq!(Desk::with("let pi  3 m\n").run(&["value", "a.plate", "pi"]).out, "3 m\n");
}

#[test]
fn the_condition_of_a_property_is_no_unit_of_the_number_before_it() {
    let (tree, problems) = parse("table boat {\n  oars  number  at_least 0 when given(rower)\n}\n", FileId::default());
    assert_eq!(problems, []);
    let Some(Item::Table(table)) = tree.items.first() else { panic!("a table") };
    assert!(table.properties[0].when.is_some());
}
