//! The terminal: what it can show, and writing to it.

use super::status::Status;
use crate::output::text::Look;
use std::io::{ErrorKind, IsTerminal, Write};
use std::sync::atomic::{AtomicBool, Ordering};

/// Columns where nobody says how many there are: a pipe, a log.
const USUAL_WIDTH: usize = 100;
/// Text wider than this is hard to read, however wide the window.
const MOST_WIDTH: usize = 120;
/// Narrower than this nothing can be laid out; the terminal may break the lines itself.
const LEAST_WIDTH: usize = 24;

/// Whether this process was asked to say in words what it would draw.
static NARRATED: AtomicBool = AtomicBool::new(false);

/// From now on what would be drawn is said in words.
pub(super) fn narrate() {
    NARRATED.store(true, Ordering::Relaxed);
}

/// What standard output can show.
pub(super) fn look() -> Look {
    let columns = terminal_size::terminal_size_of(std::io::stdout()).map(|(width, _)| usize::from(width.0));
    decide(std::io::stdout().is_terminal(), columns, &|name| std::env::var(name).ok())
}

/// What standard error can show.
pub(super) fn look_of_complaints() -> Look {
    let columns = terminal_size::terminal_size_of(std::io::stderr()).map(|(width, _)| usize::from(width.0));
    decide(std::io::stderr().is_terminal(), columns, &|name| std::env::var(name).ok())
}

/// Colour on a terminal only, and never with `NO_COLOR` (<https://no-color.org>: set and not empty); no other
/// variable brings it back. Signs beyond ASCII where the locale is a UTF-8 one (POSIX: the first of `LC_ALL`,
/// `LC_CTYPE`, `LANG` that is set and not empty). In words where `NO_GRAPHICS` is set, the variable by which miette, the
/// library that draws, is told so in other programs; a screen reader breaks lines as it needs them.
pub fn decide(is_terminal: bool, columns: Option<usize>, variable: &dyn Fn(&str) -> Option<String>) -> Look {
    let set = |name: &str| variable(name).filter(|value| !value.is_empty());
    let narrated = NARRATED.load(Ordering::Relaxed) || set("NO_GRAPHICS").is_some();
    let colour = !narrated && is_terminal && set("NO_COLOR").is_none() && set("TERM").as_deref() != Some("dumb");
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(set).unwrap_or_default().to_lowercase();
    let unicode = cfg!(windows) || locale.contains("utf-8") || locale.contains("utf8");
    let written = set("COLUMNS").and_then(|columns| columns.trim().parse().ok());
    let width = if narrated { usize::MAX } else { columns.or(written).unwrap_or(USUAL_WIDTH).clamp(LEAST_WIDTH, MOST_WIDTH) };
    Look { width, colour, unicode, narrated }
}

/// Writes a result to standard output.
///
/// A reader that has seen enough (`wallplate check … | head`) is no error. Anything else that stands in the way
/// is: a result half written must not look like a whole one.
pub(super) fn print(text: &str, status: Status) -> Status {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => status,
        Err(error) if error.kind() == ErrorKind::BrokenPipe => status,
        Err(error) => {
            complain(&format!("the result could not be written: {error}\n"));
            Status::Wrong
        }
    }
}

/// Writes to standard error; if nobody is there to read it, nothing is lost.
pub(super) fn complain(text: &str) {
    let _ = std::io::stderr().lock().write_all(text.as_bytes());
}

/// A message on standard error with what to do about it.
pub(super) fn complain_of(message: &str, help: &str) {
    let look = look_of_complaints();
    let mut text = look.wrap("error: ", "       ", 7, message);
    if !help.is_empty() {
        text.push_str(&look.wrap("       ", "       ", 7, help));
    }
    complain(&text);
}
