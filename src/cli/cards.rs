//! `wallplate cards FILE`: the short lists that hang on the wall.

use super::args::{CardsArgs, CardsFormat};
use super::paper::{self, Opened};
use super::status::Status;
use super::write::MARK;
use crate::output::lists;
use crate::papers::cards;

pub(super) fn run(args: &CardsArgs) -> Status {
    let Opened { session, papers, name } = match paper::open(&args.design) {
        Ok(opened) => opened,
        Err(status) => return status,
    };
    let cards = cards::of(&session, &papers);
    let (text, mark) = match args.format {
        CardsFormat::Text => (lists::cards_text(&cards, &paper::page(&args.to)), None),
        CardsFormat::Markdown => (lists::cards_markdown(&cards, &name), Some(MARK)),
        CardsFormat::Html => (lists::cards_html(&cards, &name), Some(MARK)),
    };
    paper::give(&session, text, mark, &args.to)
}
