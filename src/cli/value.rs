//! `wallplate value FILE EXPR`: work out one expression.

use super::args::{Format, ValueArgs, ValueFormat};
use super::check::{self, Stopped};
use super::status::Status;
use super::terminal::{complain, look, look_of_complaints, print};
use crate::design::Choice;
use crate::output::{Valued, json, text};
use crate::problem::{Problem, Severity};
use crate::session::{NoShelf, Session};
use crate::text::Sources;
use crate::values::Lack;
use smol_str::SmolStr;
use std::path::Path;

/// A step may stand on as many others as the design has lines, one below the other.
const STACK: usize = 256 * 1024 * 1024;

pub(super) fn run(args: &ValueArgs) -> Status {
    stacker::grow(STACK, || work_out(args))
}

fn work_out(args: &ValueArgs) -> Status {
    let choice = Choice { variant: args.variant.as_deref().map(SmolStr::new), as_built: args.as_built };
    let without_design = args.file == Path::new("-");
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
    let valued = match Valued::work_out(&mut session, &args.expression, args.how) {
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

fn errors(session: &Session) -> Vec<Problem> {
    session.problems().into_iter().filter(|problem| problem.severity == Severity::Error).collect()
}

fn tell(args: &ValueArgs, problems: &[Problem], sources: &Sources) -> Status {
    match args.format {
        ValueFormat::Json => print(&json::no_value(&args.expression, problems, sources), Status::Wrong),
        ValueFormat::Text => {
            complain(&text::problems(problems, sources, &look_of_complaints()));
            Status::Wrong
        }
    }
}
