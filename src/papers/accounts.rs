//! What is told of how the parts of a design behave: its lines, under their headings.
//!
//! In: a session and its papers. Out: [`Accounts`]. It must not know what is told.

use crate::design::{Paper, PaperSort};
use crate::papers::row::{Row, rows};
use crate::papers::unknown::Unknown;
use crate::session::Session;
use crate::values::Value;
use smol_str::SmolStr;

/// All that is told.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Accounts {
    /// In the order of the papers.
    pub parts: Vec<Account>,
    /// What would be told and is not known.
    pub unknown: Vec<Unknown>,
}

/// What stands under one heading.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Account {
    /// The heading.
    pub heading: SmolStr,
    /// Whether its lines are steps.
    pub numbered: bool,
    /// In order.
    pub lines: Vec<SmolStr>,
}

/// What is told of a design, and what is told only where it is asked for, by those words.
#[must_use]
pub fn of(session: &Session, papers: &[Paper], asked_for: &[&str]) -> Accounts {
    told(session, papers, &|row| !matches!(row.text("only_for"), Ok(Some(word)) if !asked_for.contains(&word.as_str())))
}

/// What stands in the report.
#[must_use]
pub fn in_report(session: &Session, papers: &[Paper]) -> Accounts {
    told(session, papers, &|row| matches!(row.flag("in_report"), Ok(Some(true))))
}

fn told(session: &Session, papers: &[Paper], wanted: &dyn Fn(&Row) -> bool) -> Accounts {
    let mut accounts = Accounts::default();
    for row in rows(&session.evaluator, papers, PaperSort::Account).iter().filter(|row| wanted(row)) {
        let heading = match row.text("heading") {
            Ok(Some(heading)) => heading,
            Err(lack) => {
                accounts.unknown.push(row.unknown(&lack));
                continue;
            }
            // An account without a heading has been told as a mistake.
            Ok(None) => continue,
        };
        let lines = match row.texts("says") {
            Ok(lines) => lines,
            Err(lack) => {
                accounts.unknown.push(row.unknown(&lack));
                continue;
            }
        };
        let numbered = matches!(row.value("numbered"), Some(Ok(Value::Flag(true))));
        match accounts.parts.iter_mut().find(|part| part.heading == heading) {
            Some(part) => part.lines.extend(lines),
            None => accounts.parts.push(Account { heading, numbered, lines }),
        }
    }
    accounts.parts.retain(|part| !part.lines.is_empty());
    accounts.unknown = Unknown::gather(accounts.unknown);
    accounts
}
