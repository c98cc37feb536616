//! `wallplate completions SHELL`: what a shell needs to complete the arguments, made from their definitions.

use super::args::{CompletionsArgs, program};
use super::status::Status;
use super::terminal::print;

pub(super) fn run(args: &CompletionsArgs) -> Status {
    let mut script = Vec::new();
    let mut program = program();
    let name = program.get_name().to_owned();
    clap_complete::generate(args.shell, &mut program, name, &mut script);
    print(&String::from_utf8_lossy(&script), Status::Fine)
}
