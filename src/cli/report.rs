//! `wallplate report FILE…`: all that is to be said of a design, in one file to hand on.

use super::args::{ReportArgs, ReportFormat};
use super::progress::Progress;
use super::status::Status;
use super::write::{Document, MARK, write};
use super::{check, paper, today};
use crate::output::Checked;
use crate::output::report::{self, Content, Issue};
use crate::papers::drawing::{self, Wanted};
use crate::papers::{accounts, cards, rolling, sequence, takeoff};
use crate::rules::Options;

pub(super) fn run(args: &ReportArgs) -> Status {
    let (mut session, choice) = match paper::read(&args.design) {
        Ok(read) => read,
        Err(status) => return status,
    };
    let progress = Progress::of("checking");
    let options = Options { only: None, today: args.date.or_else(today::today) };
    let findings = session.check(&options);
    // After the rules: working them out can find mistakes in the text too.
    let not_begun = session.not_begun(&options);
    let problems = session.problems();
    progress.now("writing the report");
    let papers = session.papers();
    let rolls = rolling::rolls(&session.evaluator, &papers);
    let wanted = Wanted {
        date: args.date.map(|day| day.to_string()).unwrap_or_default(),
        revision: args.revision.clone().unwrap_or_default(),
        ..Wanted::default()
    };
    let sheets = drawing::sheets(&session, &papers, &wanted);
    let travels = || rolls.iter().flat_map(|roll| &roll.places).map(|place| place.travel);
    let rolled = drawing::rolled(&session, &papers, travels().fold(0.0, f64::min), travels().fold(0.0, f64::max));
    let (takeoff, sequence, cards) = (takeoff::of(&session, &papers), sequence::of(&session, &papers), cards::of(&session, &papers));
    let accounts = accounts::in_report(&session, &papers);
    let checked = Checked { session, choice, findings, not_begun, problems, only: None, today: options.today, built: None };
    let issue = Issue { date: wanted.date, revision: wanted.revision };
    let content = Content {
        checked: &checked,
        papers: &papers,
        rolls: &rolls,
        rolled: rolled.as_ref(),
        sheets: &sheets,
        takeoff: &takeoff,
        sequence: &sequence,
        accounts: &accounts,
        cards: &cards,
        issue: &issue,
    };
    let ReportFormat::Html = args.format;
    let text = report::html(&content, MARK);
    let name = args.design.files.first().and_then(|file| file.file_stem()).map_or_else(|| "report".into(), |stem| stem.to_string_lossy());
    let document = Document { path: args.into.join(format!("{name}.html")), text, mark: MARK };
    drop(progress);
    match write(&[document], &checked.session.sources, args.replace) {
        Status::Fine => check::status(&checked, false),
        refused => refused,
    }
}
