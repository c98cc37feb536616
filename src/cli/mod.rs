//! The command line: reads files and the clock, asks a session, prints what the outputs make of it.
//!
//! In: the arguments. Out: text on standard output, complaints on standard error, an exit status that
//! scripts can rely on. What is found is decided further down; nothing is worked out here.

mod args;
mod cards;
mod check;
mod completions;
mod control;
mod draw;
pub mod files;
mod folders;
mod language_server;
pub mod library;
mod man;
mod new;
mod paper;
mod patience;
pub mod progress;
mod report;
mod rules;
mod sequence;
mod side_by_side;
mod status;
mod takeoff;
pub mod terminal;
mod tidy;
mod today;
mod value;
mod write;

use crate::values::unless_halted;
use args::Command;
use status::Status;
use std::process::ExitCode;

/// Runs the program with the arguments of this process.
#[must_use]
pub fn run() -> ExitCode {
    let command = match args::read() {
        Ok(command) => command,
        Err(error) => {
            // Help that was asked for is no mistake: clap knows which it is, and where it belongs.
            let status = if error.exit_code() == 0 { Status::Fine } else { Status::Wrong };
            let _ = error.print();
            return status.into();
        }
    };
    if let Command::LanguageServer(args) = &command {
        return language_server::run(args).into();
    }
    patience::begin();
    match unless_halted(|| carry_out(&command)) {
        Ok(Some(status)) => status.into(),
        Ok(None) => {
            let given_up = check::Stopped::Unread(vec![patience::problem()]);
            let format = if let Command::Check(args) = &command { args.format } else { args::Format::Text };
            given_up.tell(format).into()
        }
        Err(fault) => std::panic::resume_unwind(fault),
    }
}

fn carry_out(command: &Command) -> Status {
    match command {
        Command::Check(args) => check::run(args),
        Command::Value(args) => value::run(args),
        Command::Rules(args) => rules::run(args),
        Command::Draw(args) => draw::run(args),
        Command::Takeoff(args) => takeoff::run(args),
        Command::Sequence(args) => sequence::run(args),
        Command::Cards(args) => cards::run(args),
        Command::Control(args) => control::run(args),
        Command::Report(args) => report::run(args),
        Command::New(args) => new::run(args),
        Command::Tidy(args) => tidy::run(args),
        Command::Completions(args) => completions::run(args),
        Command::Man(args) => man::run(args),
        Command::LanguageServer(args) => language_server::run(args),
    }
}
