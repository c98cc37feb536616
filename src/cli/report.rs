//! `wallplate report FILE…`: all that is to be said of a design, in one file to hand on.

use super::args::{Format, ReportArgs, ReportFormat};
use super::progress::Progress;
use super::terminal::complain_of;
use super::write::{Document, MARK, write};
use super::{Status, check, today};
use crate::cards;
use crate::design::Choice;
use crate::drawing::{self, Wanted};
use crate::output::Checked;
use crate::output::report::{self, Content, Issue};
use crate::rolling;
use crate::rules::Options;
use crate::sequence;
use crate::syntax::tree::Date;
use crate::takeoff;
use smol_str::SmolStr;

pub(super) fn run(args: &ReportArgs) -> Status {
    let day = match args.date.as_deref().map(|text| date(text).ok_or(text)) {
        Some(Err(text)) => {
            complain_of(&format!("`{text}` is not a day of the calendar"), "write it like 2027-05-02");
            return Status::Wrong;
        }
        Some(Ok(day)) => Some(day),
        None => None,
    };
    let choice = Choice { variant: args.variant.as_deref().map(SmolStr::new), as_built: args.as_built };
    let mut session = match check::read(&args.files, &choice) {
        Ok(session) => session,
        Err(stopped) => return stopped.tell(Format::Text),
    };
    let progress = Progress::of("checking");
    let options = Options { only: None, today: day.or_else(today::today) };
    let findings = session.check(&options);
    // After the rules: working them out can find mistakes in the text too.
    let problems = session.problems();
    progress.now("writing the report");
    let papers = session.papers();
    let rolls = rolling::rolls(&session.evaluator, &papers);
    let wanted = Wanted {
        date: day.map(|day| day.to_string()).unwrap_or_default(),
        revision: args.revision.clone().unwrap_or_default(),
        ..Wanted::default()
    };
    let sheets = drawing::sheets(&session, &papers, &wanted);
    let travels = || rolls.iter().flat_map(|roll| &roll.places).map(|place| place.travel);
    let rolled = drawing::rolled(&session, &papers, travels().fold(0.0, f64::min), travels().fold(0.0, f64::max));
    let (takeoff, sequence, cards) = (takeoff::of(&session, &papers), sequence::of(&session, &papers), cards::of(&session, &papers));
    let checked = Checked { session, choice, findings, problems, today: options.today };
    let issue = Issue { date: wanted.date, revision: wanted.revision };
    let content = Content {
        checked: &checked,
        papers: &papers,
        rolls: &rolls,
        rolled: rolled.as_ref(),
        sheets: &sheets,
        takeoff: &takeoff,
        sequence: &sequence,
        cards: &cards,
        issue: &issue,
    };
    let ReportFormat::Html = args.format;
    let text = report::html(&content, MARK);
    let name = args.files.first().and_then(|file| file.file_stem()).map_or_else(|| "report".into(), |stem| stem.to_string_lossy());
    let document = Document { path: args.into.join(format!("{name}.html")), text, mark: MARK };
    drop(progress);
    match write(&[document], args.replace) {
        Status::Fine => check::status(&checked, false),
        refused => refused,
    }
}

/// `2027-05-02`
fn date(text: &str) -> Option<Date> {
    let mut parts = text.split('-');
    let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
    let date = Date::new(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?)?;
    (parts.next().is_none() && year.len() == 4).then_some(date)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_is_written_one_way() {
        assert_eq!(date("2027-05-02").map(|day| day.to_string()).as_deref(), Some("2027-05-02"));
        for wrong in ["2027-02-30", "2.5.2027", "2027-05", "2027-05-02-1", "", "27-05-02"] {
            assert_eq!(date(wrong), None, "{wrong}");
        }
    }
}
