//! `wallplate tidy FILE…`: lay the text out in the one standard way.

use super::args::TidyArgs;
use super::files::{ENDING, HANDED_OVER, STANDARD_INPUT, bytes, open, shown, write_over};
use super::folders::plates;
use super::status::Status;
use super::terminal::{complain, complain_of, look_of_complaints, print};
use crate::output::text;
use crate::text::{Source, Sources, decode};
use crate::tidy::{TidyError, tidy};
use std::path::Path;
use std::sync::Arc;

/// Unchanged lines around a change that `--diff` shows.
const CONTEXT: usize = 2;

pub(super) fn run(args: &TidyArgs) -> Status {
    // The worst counts, and all files are gone through.
    args.paths.iter().map(|path| if path.is_dir() { folder(args, path) } else { one(args, path) }).max().unwrap_or(Status::Fine)
}

/// Each file in a folder, the parts of designs too.
fn folder(args: &TidyArgs, folder: &Path) -> Status {
    let (files, problems) = plates(&[folder.to_path_buf()]);
    for problem in &problems {
        complain_of(&problem.message, problem.help.as_deref().unwrap_or_default());
    }
    if files.is_empty() && problems.is_empty() {
        complain_of(&format!("there is no `.{ENDING}` file in `{}`", shown(folder)), "name another folder, or a file");
        return Status::Wrong;
    }
    let worst = files.iter().map(|file| one(args, file)).max().unwrap_or(Status::Fine);
    if problems.is_empty() { worst } else { Status::Wrong }
}

fn one(args: &TidyArgs, file: &Path) -> Status {
    let through = file == Path::new(HANDED_OVER);
    let name = if through { STANDARD_INPUT.to_owned() } else { shown(file) };
    let raw = match if through { bytes(std::io::stdin().lock()) } else { open(file).and_then(bytes) } {
        Ok(raw) => raw,
        Err(error) => {
            let refused = super::files::refused(file, &name, &error);
            complain_of(&refused.message, &refused.help);
            return Status::Wrong;
        }
    };
    let before = match decode(raw.clone()) {
        Ok(text) => text,
        Err(error) => {
            complain_of(&format!("`{name}`: {error}"), error.help());
            return Status::Wrong;
        }
    };
    let after = match tidy(&before) {
        Ok(after) => after,
        Err(TidyError::Unreadable(problems)) => {
            let mut sources = Sources::default();
            sources.add(Arc::new(Source::new(name.as_str(), before)));
            complain(&text::problems(&problems, &sources, &look_of_complaints()));
            complain_of(&format!("`{name}` is left as it is"), "mend its mistakes first");
            return Status::Wrong;
        }
        Err(error @ TidyError::WouldChange) => {
            complain_of(&format!("`{name}`: {error}"), "please report it, with the file");
            return Status::Wrong;
        }
    };
    let same = after.as_bytes() == raw;
    let verdict = if args.check && !same { Status::Fails } else { Status::Fine };
    if args.diff && !same {
        return print(&difference(&name, &before, &after), verdict);
    }
    match (args.check || args.diff, same) {
        (true, false) => print(&format!("{name} is not laid out in the standard way\n"), verdict),
        (false, _) if through => print(&after, verdict),
        (_, true) => verdict,
        (false, false) => match write_over(file, &after) {
            Ok(()) => print(&format!("{name} laid out\n"), verdict),
            Err(error) => {
                complain_of(&format!("`{name}` cannot be written: {error}"), "it is left as it was");
                Status::Wrong
            }
        },
    }
}

fn difference(name: &str, before: &str, after: &str) -> String {
    let changes = similar::TextDiff::from_lines(before, after);
    changes.unified_diff().context_radius(CONTEXT).header(name, &format!("{name}, laid out")).to_string()
}
