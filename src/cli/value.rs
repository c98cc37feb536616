//! `wallplate value FILE EXPR`: work out one expression.

use super::args::{Format, ValueArgs, ValueFormat};
use super::check::{self, Stopped};
use super::status::Status;
use super::terminal::{complain, look, look_of_complaints, print};
use crate::design::Choice;
use crate::output::{Valued, json, text};
use crate::problem::{Problem, Severity, nearest};
use crate::rules::{Finding, Options, Verdict};
use crate::session::{NoShelf, Session};
use crate::text::Sources;
use crate::values::Lack;
use smol_str::SmolStr;
use std::path::Path;

/// A step may stand on as many others as the design has lines, one below the other.
const STACK: usize = 256 * 1024 * 1024;

/// The expression; clap asks for one unless a rule is named.
fn asked(args: &ValueArgs) -> &str {
    args.expression.as_deref().unwrap_or_default()
}

pub(super) fn run(args: &ValueArgs) -> Status {
    stacker::grow(STACK, || work_out(args))
}

fn work_out(args: &ValueArgs) -> Status {
    let choice = Choice { variant: args.variant.as_deref().map(SmolStr::new), as_built: args.as_built };
    let without_design = args.file == Path::new(super::files::HANDED_OVER);
    let read = if without_design {
        Ok(Session::read_heeding(Vec::new(), &NoShelf, &choice, super::patience::halt()))
    } else {
        check::read(std::slice::from_ref(&args.file), &choice)
    };
    let mut session = match read {
        Ok(session) => session,
        Err(Stopped::Unread(problems)) if args.format == ValueFormat::Json => return tell(args, &problems, &Sources::default()),
        Err(stopped) => return stopped.tell(Format::Text),
    };
    // A value of a text that is not understood may be another one than was meant.
    let mistakes = errors(&session);
    if !mistakes.is_empty() {
        return tell(args, &mistakes, &session.sources);
    }
    if let Some(rule) = &args.rule {
        return judge(args, &session, rule);
    }
    let valued = match Valued::work_out(&mut session, asked(args), args.how) {
        Ok(valued) => valued,
        Err(problems) => return tell(args, &problems, &session.sources),
    };
    let status = match &valued.outcome {
        Ok(_) => Status::Fine,
        Err(Lack::Missing(_)) => Status::Fails,
        Err(Lack::Faulty) => Status::Wrong,
    };
    // Defaults that no line needed are worked out now, and may show a mistake.
    let mistakes = errors(&session);
    match args.format {
        ValueFormat::Json => print(&json::value(&valued, &session, &mistakes), status),
        ValueFormat::Text => {
            complain(&text::problems(&mistakes, &session.sources, &look_of_complaints()));
            print(&text::value(&valued, &session, &look(), args.how), status)
        }
    }
}

/// Both sides of a rule on the components that are named, or on all that it is about.
fn judge(args: &ValueArgs, session: &Session, rule: &str) -> Status {
    let refuse = |message: String, help: String| Stopped::Misasked { message, help }.tell(Format::Text);
    let design = session.design();
    let Some(declared) = design.rule(rule) else {
        let near = nearest(rule, design.rules.iter().map(|known| known.name.as_str()));
        let help = near.map_or_else(|| "`wallplate rules rules` lists them".to_owned(), |near| format!("did you mean `{near}`?"));
        return refuse(format!("there is no rule `{rule}`"), help);
    };
    let named: Vec<&str> = asked(args).split([',', ' ']).filter(|name| !name.is_empty()).collect();
    let findings = session.check(&Options { only: Some(declared.name.as_str().into()), today: super::today::today() });
    let about = |finding: &&Finding| {
        let is = |name: &str| finding.subjects.iter().any(|subject| subject == name || subject.split('[').next() == Some(name));
        named.iter().all(|name| is(name))
    };
    let meant: Vec<&Finding> = findings.iter().filter(about).collect();
    if meant.is_empty() {
        let all: Vec<String> = findings.iter().map(|finding| finding.subjects.join(", ")).collect();
        let help = match all.len() {
            0 => "nothing that is written here is what it is about".to_owned(),
            _ => format!("it is about {}", all.join("; ")),
        };
        let of = if named.is_empty() { String::new() } else { format!(" of {}", named.join(", ")) };
        return refuse(format!("`{rule}` says nothing{of}"), help);
    }
    let undecided = meant.iter().any(|finding| finding.verdict == Verdict::Undetermined);
    print(&text::judged(&meant, session, &look(), args.how), if undecided { Status::Fails } else { Status::Fine })
}

fn errors(session: &Session) -> Vec<Problem> {
    session.problems().into_iter().filter(|problem| problem.severity == Severity::Error).collect()
}

fn tell(args: &ValueArgs, problems: &[Problem], sources: &Sources) -> Status {
    match args.format {
        ValueFormat::Json => print(&json::no_value(asked(args), problems, sources), Status::Wrong),
        ValueFormat::Text => {
            complain(&text::problems(problems, sources, &look_of_complaints()));
            Status::Wrong
        }
    }
}
