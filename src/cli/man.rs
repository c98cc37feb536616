//! `wallplate man [FOLDER]`: the manual pages, made from the definitions of the arguments.

use super::args::{ManArgs, program};
use super::files::shown;
use super::status::Status;
use super::terminal::{complain_of, print};
use super::today;
use super::write::{Document, put};
use crate::session::LAST_WORD;
use crate::text::Sources;
use clap_mangen::Man;
use std::io;

/// What each page of ours has in its title, and what tells an earlier one.
const TITLE: &str = ".TH WALLPLATE";

/// What the definitions of the arguments do not say, in the order of man-pages(7).
const MORE: &str = r#".SH "EXIT STATUS"
.TP
.B 0
Nothing fails.
.TP
.B 1
A rule fails (with \fB\-\-strict\fR also what is tight, undetermined or no longer accepted), a value cannot be known, or a file is not laid out.
.TP
.B 2
The design could not be read, or the command was wrong.
.SH ENVIRONMENT
.TP
.B NO_COLOR
No colours on a terminal.
.TP
.B NO_GRAPHICS
Say in words what is otherwise drawn.
.TP
.B COLUMNS
The width to write to where it is not a terminal.
.TP
.B SOURCE_DATE_EPOCH
The day on which acceptances are judged, in seconds of Unix time; today without it.
.SH CAUTIONS
"#;

pub(super) fn run(args: &ManArgs) -> Status {
    let mut program = program().disable_help_subcommand(true);
    program.build();
    let pages = match pages(&program) {
        Ok(pages) => pages,
        Err(error) => {
            complain_of(&format!("the manual cannot be written: {error}"), "");
            return Status::Wrong;
        }
    };
    let Some(folder) = &args.folder else {
        return print(pages.first().map_or("", |(_, page)| page.as_str()), Status::Fine);
    };
    if let Err(error) = std::fs::create_dir_all(folder) {
        complain_of(&format!("the manual cannot be written to `{}`: {error}", shown(folder)), "name a folder that is yours to write in");
        return Status::Wrong;
    }
    let document = |(name, text)| Document { path: folder.join(name), text, mark: TITLE };
    let documents: Vec<Document> = pages.into_iter().map(document).collect();
    match put(&documents, &Sources::default(), args.replace) {
        Ok(()) => print(&format!("{} manual pages written to {}\n", documents.len(), shown(folder)), Status::Fine),
        Err(status) => status,
    }
}

/// Each page with its file name, the whole program's first.
fn pages(program: &clap::Command) -> io::Result<Vec<(String, String)>> {
    let mut pages = vec![page(program, "wallplate")?];
    for command in program.get_subcommands() {
        pages.push(page(command, &format!("wallplate-{}", command.get_name()))?);
    }
    Ok(pages)
}

fn page(command: &clap::Command, name: &str) -> io::Result<(String, String)> {
    let man = Man::new(command.clone().name(name.to_owned()))
        .title(name.to_uppercase())
        .date(today::today().map_or_else(String::new, |today| today.to_string()))
        .source(format!("wallplate {}", env!("CARGO_PKG_VERSION")))
        .manual("Wallplate");
    let mut page = Vec::new();
    man.render_title(&mut page)?;
    man.render_name_section(&mut page)?;
    man.render_synopsis_section(&mut page)?;
    man.render_description_section(&mut page)?;
    man.render_options_section(&mut page)?;
    if command.has_subcommands() {
        man.render_subcommands_section(&mut page)?;
    }
    // A break, an empty line and a break again: mandoc(1) warns of it, and one space is what is meant.
    let mut page = String::from_utf8_lossy(&page).replace(".br\n\n.br\n", ".sp\n");
    page.push_str(MORE);
    page.push_str(LAST_WORD);
    page.push('\n');
    Ok((format!("{name}.1"), page))
}
