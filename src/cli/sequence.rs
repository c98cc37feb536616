//! `wallplate sequence FILE`: the order of work.

use super::args::{SequenceArgs, SequenceFormat};
use super::paper::{self, Opened};
use super::progress::Progress;
use super::status::Status;
use super::terminal::{complain, look_of_complaints};
use super::write::MARK;
use crate::output::{lists, text};
use crate::papers::sequence;

pub(super) fn run(args: &SequenceArgs) -> Status {
    let Opened { session, papers, name } = match paper::open(&args.design) {
        Ok(opened) => opened,
        Err(status) => return status,
    };
    let progress = Progress::of("putting the work in order");
    let sequence = sequence::of(&session, &papers);
    drop(progress);
    if let Some(circle) = &sequence.circle {
        complain(&text::problems(std::slice::from_ref(circle), &session.sources, &look_of_complaints()));
        return Status::Fails;
    }
    let (text, mark) = match (args.format, args.start) {
        (SequenceFormat::Markdown, start) => (lists::sequence_markdown(&sequence, &name, start), Some(MARK)),
        (SequenceFormat::Chart, start) => (lists::sequence_chart(&sequence, &name, start), Some(MARK)),
        (SequenceFormat::Calendar, Some(start)) => (lists::sequence_calendar(&sequence, &name, start), Some(lists::CALENDAR_MARK)),
        // Without a first day there is no calendar; the command line has asked for one.
        (SequenceFormat::Text | SequenceFormat::Calendar, start) => (lists::sequence_text(&sequence, &paper::page(&args.to), start), None),
    };
    paper::give(&session, text, mark, &args.to)
}
