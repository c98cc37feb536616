//! `wallplate check FILE…`: run the rules, on one design or on each that lies in a folder.

use super::args::{CheckArgs, Format};
use super::folders::{self, Found};
use super::side_by_side::{self, split};
use super::status::Status;
use super::terminal::{complain_of, look, print};
use super::{files, patience, today};
use crate::design::Choice;
use crate::output::text::{self, Wanted};
use crate::output::{Checked, Folders, Summary, json, sarif};
use crate::problem::{Problem, nearest};
use crate::rules::{Only, Options};
use crate::session::Session;
use crate::text::Source;
use smol_str::SmolStr;
use std::path::PathBuf;

pub(super) fn run(args: &CheckArgs) -> Status {
    if args.paths.iter().any(|path| path.is_dir()) {
        return in_folders(args);
    }
    let choice = Choice { variant: args.variant.as_deref().map(SmolStr::new), as_built: args.as_built };
    let checked = match check(args, &args.paths, choice) {
        Ok(checked) => checked,
        Err(stopped) => return stopped.tell(args.format),
    };
    if args.every_variant {
        return every_variant(args, checked);
    }
    let status = status(&checked, args.strict);
    let out = match args.format {
        Format::Text => text::check(&checked, &look(), wanted(args)),
        Format::Json => json::check(&checked),
        Format::Sarif => sarif::check(&checked, args.all),
    };
    print(&out, status)
}

fn wanted(args: &CheckArgs) -> Wanted {
    Wanted { all: args.all, assumed: args.assumed, cautions: args.cautions }
}

/// Why there is nothing to report.
#[derive(Debug)]
pub(super) enum Stopped {
    /// Files that could not be read.
    Unread(Vec<Problem>),
    /// A command that asks for what there is not.
    Misasked { message: String, help: String },
}

impl Stopped {
    /// As problems without a place.
    pub(super) fn problems(self) -> Vec<Problem> {
        match self {
            Stopped::Unread(problems) => problems,
            Stopped::Misasked { message, help } => vec![files::without_place(message, help)],
        }
    }

    /// Says so, on standard output where a program is to read it.
    pub(super) fn tell(self, format: Format) -> Status {
        match (self, format) {
            (Stopped::Unread(problems), Format::Json) => print(&json::unread(&problems), Status::Wrong),
            (Stopped::Unread(problems), Format::Sarif) => print(&sarif::unread(&problems), Status::Wrong),
            (Stopped::Unread(problems), Format::Text) => {
                for problem in problems {
                    complain_of(&problem.message, problem.help.as_deref().unwrap_or_default());
                }
                Status::Wrong
            }
            (Stopped::Misasked { message, help }, _) => {
                complain_of(&message, &help);
                Status::Wrong
            }
        }
    }
}

fn check(args: &CheckArgs, paths: &[PathBuf], choice: Choice) -> Result<Checked, Stopped> {
    let session = read(paths, &choice)?;
    unknown(&[&session], &args.only)?;
    let built = built(args, &session, paths, &choice)?;
    Ok(Checked { built, ..judged(args, session, choice) })
}

/// The counts with what was measured: to pass strictly, the building has to hold as it stands, not only as it was planned.
fn built(args: &CheckArgs, session: &Session, paths: &[PathBuf], choice: &Choice) -> Result<Option<Summary>, Stopped> {
    if !args.strict || choice.as_built || session.design().measured.is_empty() {
        return Ok(None);
    }
    let as_built = Choice { as_built: true, ..choice.clone() };
    Ok(Some(judged(args, read(paths, &as_built)?, as_built).summary()))
}

fn judged(args: &CheckArgs, session: Session, choice: Choice) -> Checked {
    let only = (!args.only.is_empty()).then(|| args.only.iter().collect::<Only>());
    let options = Options { only, today: today::today() };
    let findings = session.check(&options);
    // After the rules: working them out can find mistakes in the text too.
    let not_begun = session.not_begun(&options);
    let problems = session.problems();
    Checked { session, choice, findings, not_begun, problems, only: options.only, today: options.today, built: None }
}

/// Each design in the folders by itself; the worst of them decides the status.
fn in_folders(args: &CheckArgs) -> Status {
    let refuse = |message: &str, help: &str| {
        complain_of(message, help);
        Status::Wrong
    };
    if !args.paths.iter().all(|path| path.is_dir()) {
        return refuse(
            "files and folders are named together",
            "name files, which are read as one design, or folders to look for designs in",
        );
    }
    if args.variant.is_some() || args.every_variant {
        return refuse("a variant belongs to one design", "name the file of that design in place of a folder");
    }
    let Found { designs, parts, mut problems } = folders::designs(&args.paths);
    let named = args.paths.iter().map(|path| format!("`{}`", files::shown(path))).collect::<Vec<_>>().join(", ");
    if designs.is_empty() && problems.is_empty() {
        let help = "a design is a file whose name ends in `.plate`; what is hidden, and what git leaves out, is not looked into";
        return Stopped::Unread(vec![files::without_place(format!("there is no design in {named}"), help.to_owned())]).tell(args.format);
    }
    let choice = Choice { variant: None, as_built: args.as_built };
    let designs = designs.into_iter().map(|design| (files::shown(&design), design)).collect();
    let begin = |design: PathBuf| {
        let session = read(std::slice::from_ref(&design), &choice)?;
        let built = built(args, &session, &[design], &choice)?;
        Ok((session, built))
    };
    let (sessions, unread) = split(side_by_side::each(args.jobs, designs, |design| begin(design).map_err(Stopped::problems)));
    problems.extend(unread);
    if let Err(stopped) = unknown(&sessions.iter().map(|(_, (session, _))| session).collect::<Vec<_>>(), &args.only) {
        return stopped.tell(args.format);
    }
    let (designs, unread) =
        split(side_by_side::each(args.jobs, sessions, |(session, built)| Ok(Checked { built, ..judged(args, session, choice.clone()) })));
    problems.extend(unread);
    let worst = designs.iter().map(|(_, checked)| status(checked, args.strict)).max().unwrap_or(Status::Fine);
    let status = if problems.is_empty() { worst } else { Status::Wrong };
    let found = Folders { named, designs, parts, unread: problems };
    let out = match args.format {
        Format::Text => {
            for problem in &found.unread {
                complain_of(&problem.message, problem.help.as_deref().unwrap_or_default());
            }
            text::folders(&found, &look(), wanted(args))
        }
        Format::Json => json::folders(&found),
        Format::Sarif => sarif::folders(&found, args.all),
    };
    print(&out, status)
}

/// Reads a design with one of its alternatives.
pub(super) fn read(paths: &[PathBuf], choice: &Choice) -> Result<Session, Stopped> {
    let (sources, folder): (Vec<Source>, _) = files::read_named(paths).map_err(Stopped::Unread)?;
    let session = Session::read_heeding(sources, &folder, choice, patience::halt());
    if let Some(variant) = &choice.variant {
        let variants = &session.design().variants;
        if !variants.iter().any(|(name, _)| name == variant) {
            let names: Vec<&str> = variants.iter().map(|(name, _)| name.as_str()).collect();
            let help = match nearest(variant, names.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None if names.is_empty() => "the design has no variants".to_owned(),
                None => format!("its variants are {}", names.join(", ")),
            };
            return Err(Stopped::Misasked { message: format!("there is no variant `{variant}`"), help });
        }
    }
    Ok(session)
}

/// The first of these names that is none of an area, a rule or a component of any of the designs, as a complaint.
fn unknown(sessions: &[&Session], only: &[String]) -> Result<(), Stopped> {
    let designs = || sessions.iter().map(|session| session.design());
    let Some(name) = only.iter().find(|name| !sessions.is_empty() && !designs().any(|design| Only::is_known(design, name))) else {
        return Ok(());
    };
    let rules = || designs().flat_map(|design| &design.rules);
    let mut areas: Vec<&str> = rules().map(|rule| rule.area()).collect();
    areas.sort_unstable();
    areas.dedup();
    let components = designs().flat_map(|design| design.entries().map(|(name, _)| name.as_str()));
    let names = areas.iter().copied().chain(rules().map(|rule| rule.name.as_str())).chain(components);
    let help = match nearest(name, names) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("the areas are {}", areas.join(", ")),
    };
    Err(Stopped::Misasked { message: format!("there is no area, rule or component `{name}`"), help })
}

pub(super) fn status(checked: &Checked, strict: bool) -> Status {
    let summary = checked.summary();
    let open = summary.tight > 0 || summary.undetermined > 0 || !summary.not_begun.is_empty();
    let unclear = strict && (open || checked.has_lapsed_acceptance() || checked.is_built_otherwise());
    if checked.has_errors() {
        Status::Wrong
    } else if summary.fail > 0 || unclear {
        Status::Fails
    } else {
        Status::Fine
    }
}

/// The design and each of its variants; the worst of them decides the status.
fn every_variant(args: &CheckArgs, plain: Checked) -> Status {
    if args.format != Format::Text {
        complain_of("the variants side by side are a table for people", "name one with `--variant` for another format");
        return Status::Wrong;
    }
    let names: Vec<SmolStr> = plain.session.design().variants.iter().map(|(name, _)| name.clone()).collect();
    if names.is_empty() {
        complain_of("the design has no variants", "write one: `variant NAME \"…\" { … }`");
        return Status::Wrong;
    }
    let mut designs = vec![("planned".to_owned(), plain)];
    for name in names {
        match check(args, &args.paths, Choice { variant: Some(name.clone()), as_built: args.as_built }) {
            Ok(checked) => designs.push((name.to_string(), checked)),
            Err(stopped) => return stopped.tell(args.format),
        }
    }
    let worst = designs.iter().map(|(_, checked)| status(checked, args.strict)).max().unwrap_or(Status::Fine);
    print(&text::side_by_side(&designs, &look()), worst)
}
