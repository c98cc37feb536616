//! What the program says to scripts when it ends.

use std::process::ExitCode;

/// What the exit status says (a contract), the least first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Status {
    /// Nothing fails.
    Fine,
    /// A rule fails, or with `--strict` is not clear; a value cannot be known; a file is not tidy.
    Fails,
    /// The design could not be read, or the command was wrong.
    Wrong,
}

impl From<Status> for ExitCode {
    fn from(status: Status) -> ExitCode {
        ExitCode::from(match status {
            Status::Fine => 0,
            Status::Fails => 1,
            Status::Wrong => 2,
        })
    }
}
