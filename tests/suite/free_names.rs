//! A name of a design may stand for something else in a rule of the library: of the rules only those are looked at again that use
//! it freely. Held here against looking at all of them.

use std::collections::BTreeSet;
use wallplate::design::Choice;
use wallplate::problem::Problem;
use wallplate::session::{NoShelf, Session};
use wallplate::syntax::tree::{Expr, Node};
use wallplate::text::Source;

/// Every bare word in the rules of the library, bound there or not.
fn words() -> BTreeSet<String> {
    let session = Session::read(vec![Source::new("nothing.plate", "")], &NoShelf, &Choice::default());
    let mut found = BTreeSet::new();
    let mut take = |expr: &Expr| {
        expr.walk(&mut |part| {
            if let Node::Name(name) = &part.node {
                found.insert(name.to_string());
            }
        });
    };
    for rule in &session.design().rules {
        rule.each.iter().for_each(|binder| {
            take(&binder.source);
            binder.condition.iter().for_each(|condition| take(condition));
            take(&Expr { span: binder.span, node: Node::Name(binder.name.text.clone()) });
        });
        rule.lets.iter().for_each(|line| {
            take(&line.value);
            take(&Expr { span: line.written, node: Node::Name(line.name.clone()) });
        });
        for line in [&rule.when, &rule.demand, &rule.capacity, &rule.require, &rule.says, &rule.otherwise, &rule.help, &rule.points_to] {
            line.iter().for_each(|line| take(line));
        }
    }
    found
}

fn in_the_library(problems: Vec<Problem>) -> BTreeSet<String> {
    let built_in = problems.into_iter().filter(|problem| problem.span().file.is_built_in());
    built_in.map(|problem| format!("{:?} {}", problem.span(), problem.message)).collect()
}

#[test]
fn a_name_of_a_design_is_looked_for_in_the_rules_that_use_it_freely() {
    let (mut met, mut told) = (0, 0);
    // Every word as a component of a kind that no rule means by it, and every eighth as a number.
    for (at, word) in words().into_iter().enumerate() {
        let component = format!("note_of_mine {word} {{\n}}\nkind note_of_mine \"mine\" {{\n  weight  mass  \"its\"\n}}\n");
        for text in [component, format!("let {word}  1 m\n")].into_iter().take(if at % 8 == 0 { 2 } else { 1 }) {
            let session = Session::read(vec![Source::new("names.plate", text.as_str())], &NoShelf, &Choice::default());
            if session.design().entry(&word).is_none() {
                continue;
            }
            met += 1;
            let all = in_the_library(session.design().names_in_vocabulary());
            told += usize::from(!all.is_empty());
            assert_eq!(in_the_library(session.problems_of_text()), all, "{text}");
        }
    }
    println!("{met} names of designs, {told} of which mean something else in some rule");
    assert!(met > 400 && told > 0, "{met} names, {told} told");
}
