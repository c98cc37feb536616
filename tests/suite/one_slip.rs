//! One slip is told once: every rule of the trade library, written into a design as a rule of one's own with one slip in it.
//!
//! What the declarations say of a slip and what is said of it when the value is worked out are two ways to find it, and a
//! rule goes over many components.

use crate::sweep::{designs, root};
use wallplate::design::Choice;
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;

/// A slip: what is put in behind or in place of a piece of a line that looks so.
#[derive(Debug, Clone, Copy)]
enum Slip {
    /// A letter too many behind a property.
    Field,
    /// A letter too many behind a function.
    Function,
    /// The unit of another quantity.
    Unit,
    /// A product with a time in a sum.
    Operand,
}

/// The texts of the rules of the library, each from `rule` to its `}`.
fn rules() -> Vec<String> {
    let mut paths: Vec<_> = std::fs::read_dir(root().join("src/trade/rules")).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    let mut rules = Vec::new();
    for path in paths {
        let text = std::fs::read_to_string(path).unwrap();
        let mut lines = text.lines();
        while let Some(head) = lines.by_ref().find(|line| line.starts_with("rule ")) {
            let body = lines.by_ref().take_while(|line| *line != "}").map(|line| format!("\n{line}"));
            rules.push(format!("{head}{}\n}}\n", body.collect::<String>()));
        }
    }
    rules
}

/// The rule under a name of its own, its one head in place of several.
fn named(rule: &str, number: usize) -> String {
    let (head, rest) = rule.split_at(rule.find(['"', '{']).unwrap());
    let names = head.matches(',').count();
    let names: Vec<String> = (0..=names).map(|at| format!("own.rule_{number}_{at}")).collect();
    format!("rule {} {rest}", names.join(", "))
}

/// The rule with one slip outside of its texts, at the `turn`-th of the places where it can be; nothing where there is none.
fn slipped(rule: &str, slip: Slip, turn: usize) -> Option<String> {
    let body = rule.find('{')?;
    let in_a_comment = |at: usize| rule[..at].lines().last().is_some_and(|line| line.trim_start().starts_with('#'));
    let in_a_text = |at: usize| rule[..at].matches('"').count() % 2 == 1;
    let outside = (body..rule.len()).filter(|at| rule.is_char_boundary(*at) && !in_a_comment(*at) && !in_a_text(*at));
    let word_from = |at: usize| rule[at..].find(|c: char| !c.is_ascii_lowercase() && c != '_').map_or(rule.len(), |end| at + end);
    let is_word = |at: usize| rule[at..].starts_with(|c: char| c.is_ascii_lowercase());
    let changes: Vec<(std::ops::Range<usize>, &str)> = outside
        .filter_map(|at| {
            let before = &rule[..at];
            match slip {
                Slip::Field if before.ends_with('.') && is_word(at) => Some((word_from(at)..word_from(at), "x")),
                Slip::Function if before.ends_with([' ', '(']) && is_word(at) && rule[word_from(at)..].starts_with('(') => {
                    Some((word_from(at)..word_from(at), "q"))
                }
                Slip::Unit if before.ends_with(|c: char| c.is_ascii_digit()) => {
                    let unit = [" mm", " m", " N", " deg"]
                        .into_iter()
                        .find(|unit| rule[at..].starts_with(unit) && word_from(at + 1) == at + unit.len());
                    unit.map(|unit| (at..at + unit.len(), " kg"))
                }
                Slip::Operand if (before.ends_with(" + ") || before.ends_with(" - ")) && is_word(at) => Some((at..at, "3 s * ")),
                _ => None,
            }
        })
        .collect();
    let (place, text) = changes.get(turn % changes.len().max(1))?;
    Some(format!("{}{text}{}", &rule[..place.start], &rule[place.end..]))
}

#[test]
fn one_slip_in_a_rule_is_told_once() {
    let (_, design) = designs().into_iter().next().unwrap();
    let rules = rules();
    let mut tried = 0;
    let mut wrong = Vec::new();
    for (turn, slip) in [(0, Slip::Field), (2, Slip::Field), (0, Slip::Function), (0, Slip::Unit), (0, Slip::Operand)] {
        let mut text = design.clone();
        let mut begins = Vec::new();
        for (number, rule) in rules.iter().enumerate() {
            let Some(rule) = slipped(rule, slip, turn) else { continue };
            begins.push((text.len(), rule.clone()));
            text.push_str(&named(&rule, number));
        }
        let session = Session::read(vec![Source::new("slips.plate", text.as_str())], &NoShelf, &Choice::default());
        let _ = session.check(&wallplate::rules::Options::default());
        let problems = session.problems();
        for (at, (begin, rule)) in begins.iter().enumerate() {
            let end = begins.get(at + 1).map_or(text.len(), |(next, _)| *next);
            let here = problems.iter().filter(|problem| (*begin..end).contains(&(problem.span().start as usize)));
            let told: Vec<&str> = here.map(|problem| problem.message.as_str()).collect();
            if told.len() != 1 {
                wrong.push(format!("{slip:?}: {told:#?} of\n{rule}"));
            }
            tried += 1;
        }
        let others: Vec<&str> = problems
            .iter()
            .filter(|problem| (problem.span().start as usize) < design.len())
            .map(|problem| problem.message.as_str())
            .collect();
        assert!(others.is_empty(), "a slip in a rule is not told in the design: {others:?}");
    }
    println!("{tried} slips, {} of them not told once", wrong.len());
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(tried > 400, "the rules are read at all");
}
