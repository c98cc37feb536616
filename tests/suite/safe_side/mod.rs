//! Formulas, catalogues and limits that must err on the safe side: asked through real text, as a builder asks them.
//!
//! The formulas alone are held against their sources in `published`; here it is that the right one is asked, and that a slip of
//! the pen is told at its line.

mod applies_at_an_end;
mod by_hand;
mod joints;
mod just;
mod just_assumed;
mod just_built;
mod just_moving;
mod just_powered;
mod just_pushed_along;
mod just_rated;
mod limits;
mod machine;
mod power;
mod states;
mod unasked;

use wallplate::design::Choice;
use wallplate::rules::{Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;
use wallplate::values::Value;

const POUND: f64 = 4.448_221_615_260_5;
const PSI: f64 = 6_894.757_293_168;
/// Two codes' worth of an observatory.
const US: &str = "use timber\nuse fasteners\nobservatory o { rolls_open east; design_code asce7 }\n";
const EU: &str = "use timber\nuse fasteners\nobservatory o { rolls_open east; design_code eurocode }\n";

fn read(text: &str) -> Session {
    Session::read(vec![Source::new("test.plate", text)], &NoShelf, &Choice::default())
}

/// The worked out value, or what is said instead.
fn asked(text: &str, expression: &str) -> Result<Value, String> {
    let mut session = read(text);
    assert!(session.problems().is_empty(), "{:?}", session.problems());
    let told = |problems: Vec<wallplate::problem::Problem>| problems.iter().map(|p| p.message.clone()).collect::<Vec<_>>().join("; ");
    match session.value(expression) {
        Ok((_, Ok(value))) => Ok(value),
        Ok((_, Err(lack))) => {
            let said = told(session.problems());
            Err(if said.is_empty() { format!("{lack:?}") } else { said })
        }
        Err(problems) => Err(told(problems)),
    }
}

fn number(text: &str, expression: &str) -> f64 {
    let value = asked(text, expression).unwrap_or_else(|said| panic!("{expression}: {said}"));
    value.si().unwrap_or_else(|| panic!("{expression}: {value:?}"))
}

/// What is said of an expression that has no answer.
fn refused(text: &str, expression: &str) -> String {
    match asked(text, expression) {
        Ok(value) => panic!("{expression} gives {value:?}"),
        Err(said) => said,
    }
}

/// Each problem of a design: the text under it, what is said, and what would do.
fn problems(text: &str) -> Vec<(String, String)> {
    let session = read(text);
    let _ = session.check(&Options::default());
    let said = session.problems();
    said.iter()
        .map(|problem| {
            let under = session.sources.slice(problem.span()).to_owned();
            (under, format!("{}: {}", problem.message, problem.help.clone().unwrap_or_default()))
        })
        .collect()
}

/// Verdicts and messages of one rule.
fn verdicts(text: &str, rule: &str) -> Vec<(Verdict, String)> {
    let session = read(text);
    assert!(session.problems().is_empty(), "{:?}", session.problems());
    let found = session.check(&Options::default());
    found.into_iter().filter(|finding| finding.rule == rule).map(|finding| (finding.verdict, finding.message)).collect()
}
