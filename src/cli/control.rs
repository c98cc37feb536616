//! `wallplate control FILE`: what the parts do together, whatever happens.

use super::args::ControlArgs;
use super::paper::{self, Opened};
use super::status::Status;
use crate::output::lists;
use crate::papers::accounts;

pub(super) fn run(args: &ControlArgs) -> Status {
    let Opened { session, papers, .. } = match paper::open(&args.design) {
        Ok(opened) => opened,
        Err(status) => return status,
    };
    let accounts = accounts::of(&session, &papers, if args.pairs { &["pairs"] } else { &[] });
    let text = lists::accounts_text(&accounts, &paper::page(&args.to));
    paper::give(&session, text, None, &args.to)
}
