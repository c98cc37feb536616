//! `wallplate check FILE…`: run the rules.

use super::Status;
use super::args::{CheckArgs, Format};
use super::terminal::{complain_of, look, print};
use super::{files, today};
use crate::design::{Choice, Rule};
use crate::output::{Checked, json, sarif, text};
use crate::problem::{Problem, nearest};
use crate::rules::Options;
use crate::session::Session;
use crate::text::Source;
use smol_str::SmolStr;
use std::path::PathBuf;

pub(super) fn run(args: &CheckArgs) -> Status {
    let choice = Choice { variant: args.variant.as_deref().map(SmolStr::new), as_built: args.as_built };
    let checked = match check(args, choice) {
        Ok(checked) => checked,
        Err(stopped) => return stopped.tell(args.format),
    };
    if args.every_variant {
        return every_variant(args, checked);
    }
    let status = status(&checked, args.strict);
    let out = match args.format {
        Format::Text => text::check(&checked, &look(), args.all),
        Format::Json => json::check(&checked),
        Format::Sarif => sarif::check(&checked, args.all),
    };
    print(&out, status)
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

fn check(args: &CheckArgs, choice: Choice) -> Result<Checked, Stopped> {
    let session = read(&args.files, &choice)?;
    let only = args.only.as_deref().map(SmolStr::new);
    if let Some(only) = &only {
        known_area(&session, only)?;
    }
    let options = Options { only, today: today::today() };
    let findings = session.check(&options);
    // After the rules: working them out can find mistakes in the text too.
    let problems = session.problems();
    Ok(Checked { session, choice, findings, problems, today: options.today })
}

/// Reads a design with one of its alternatives.
pub(super) fn read(paths: &[PathBuf], choice: &Choice) -> Result<Session, Stopped> {
    let (sources, folder): (Vec<Source>, _) = files::read_named(paths).map_err(Stopped::Unread)?;
    let session = Session::read(sources, &folder, choice);
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

fn known_area(session: &Session, only: &str) -> Result<(), Stopped> {
    let rules = &session.design().rules;
    if rules.iter().any(|rule| rule.area() == only || rule.name == only) {
        return Ok(());
    }
    let mut areas: Vec<&str> = rules.iter().map(Rule::area).collect();
    areas.sort_unstable();
    areas.dedup();
    let names = areas.iter().copied().chain(rules.iter().map(|rule| rule.name.as_str()));
    let help = match nearest(only, names) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("the areas are {}", areas.join(", ")),
    };
    Err(Stopped::Misasked { message: format!("there is no area or rule `{only}`"), help })
}

fn status(checked: &Checked, strict: bool) -> Status {
    let summary = checked.summary();
    let unclear = strict && (summary.tight > 0 || summary.undetermined > 0 || checked.has_lapsed_acceptance());
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
        match check(args, Choice { variant: Some(name.clone()), as_built: args.as_built }) {
            Ok(checked) => designs.push((name.to_string(), checked)),
            Err(stopped) => return stopped.tell(args.format),
        }
    }
    let all: Vec<Status> = designs.iter().map(|(_, checked)| status(checked, args.strict)).collect();
    let worst = [Status::Wrong, Status::Fails].into_iter().find(|status| all.contains(status)).unwrap_or(Status::Fine);
    print(&text::side_by_side(&designs, &look()), worst)
}
