//! `wallplate takeoff FILE`: what to buy.

use super::args::{TakeoffArgs, TakeoffFormat};
use super::paper::{self, Opened};
use super::progress::Progress;
use super::status::Status;
use super::write::MARK;
use crate::output::lists;
use crate::papers::takeoff;

pub(super) fn run(args: &TakeoffArgs) -> Status {
    let Opened { session, papers, name } = match paper::open(&args.design) {
        Ok(opened) => opened,
        Err(status) => return status,
    };
    let progress = Progress::of("working out the cut list");
    let takeoff = takeoff::of(&session, &papers);
    drop(progress);
    let (text, mark) = match args.format {
        TakeoffFormat::Text => (lists::takeoff_text(&takeoff, &paper::page(&args.to)), None),
        TakeoffFormat::Markdown => (lists::takeoff_markdown(&takeoff, &name), Some(MARK)),
        TakeoffFormat::Csv => (lists::takeoff_csv(&takeoff), Some(lists::CSV_HEAD)),
    };
    paper::give(&session, text, mark, &args.to)
}
