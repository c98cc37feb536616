//! What all commands that write paper have in common: read a design, say what is wrong with it, give the document.

use super::args::{Design, Format, To};
use super::status::Status;
use super::terminal::{complain, complain_of, look, look_of_complaints, print};
use super::write::{Document, MARK, write};
use super::{check, today};
use crate::design::{Choice, Paper};
use crate::output::text::{self, Look};
use crate::problem::{Problem, Severity};
use crate::rules::{Options, Verdict};
use crate::session::Session;
use smol_str::SmolStr;

/// A design ready to be put on paper.
pub(super) struct Opened {
    pub session: Session,
    pub papers: Vec<Paper>,
    /// What the design is called.
    pub name: String,
}

/// Reads a design that may still have mistakes in it.
pub(super) fn read(args: &Design) -> Result<(Session, Choice), Status> {
    let choice = Choice { variant: args.variant.as_deref().map(SmolStr::new), as_built: args.as_built };
    let session = check::read(&args.files, &choice).map_err(|stopped| stopped.tell(Format::Text))?;
    Ok((session, choice))
}

/// Reads a design. One that is not understood is not put on paper.
pub(super) fn open(args: &Design) -> Result<Opened, Status> {
    let (mut session, _) = read(args)?;
    let papers = session.papers();
    understood(&session)?;
    let titling = session.design().titling();
    let name = match titling.map(|id| session.design().component(id)) {
        Some(component) => component.title.as_ref().unwrap_or(&component.name).to_string(),
        None => args.files.first().map(|file| super::files::shown(file)).unwrap_or_default(),
    };
    Ok(Opened { session, papers, name })
}

fn understood(session: &Session) -> Result<(), Status> {
    let errors: Vec<Problem> = session.problems().into_iter().filter(|problem| problem.severity == Severity::Error).collect();
    if errors.is_empty() {
        return Ok(());
    }
    complain(&text::problems(&errors, &session.sources, &look_of_complaints()));
    complain_of("nothing was written", "mend the mistakes in the text first");
    Err(Status::Wrong)
}

/// What the reader's page looks like: a file is wide and without colour.
pub(super) fn page(to: &To) -> Look {
    if to.out.is_some() { Look { width: 110, colour: false, unicode: true, narrated: false } } else { look() }
}

/// Prints a document or writes it, and says where the design itself does not hold.
///
/// `mark` is what tells the document for ours in a format that is not for reading; a text for people gets a line of its own.
pub(super) fn give(session: &Session, text: String, mark: Option<&'static str>, to: &To) -> Status {
    // Putting it on paper can find mistakes that reading did not.
    if let Err(status) = understood(session) {
        return status;
    }
    let status = match &to.out {
        None => print(&text, Status::Fine),
        Some(path) => {
            let (text, mark) = match mark {
                Some(mark) => (text, mark),
                None => (format!("{MARK}\n\n{text}"), MARK),
            };
            write(&[Document { path: path.clone(), text, mark }], &session.sources, to.replace)
        }
    };
    let findings = session.check(&Options { only: None, today: today::today() });
    let failing = findings.iter().filter(|finding| finding.verdict == Verdict::Fail && finding.accepted.is_none()).count();
    if failing > 0 {
        let rules = if failing == 1 { "one rule fails".to_owned() } else { format!("{failing} rules fail") };
        complain_of(&format!("{rules} on this design"), "see `wallplate check` before anything of this is bought or built");
    }
    status
}
