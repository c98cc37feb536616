//! No command works on a design without end: what takes too long is given up, with words.
//!
//! A file of the size that is read at all can ask for more than a computer does in a day, by mistake or by somebody's
//! will. The editor has its own measure of that, and is not asked here.

use super::files::without_place;
use crate::problem::Problem;
use crate::values::Halt;
use std::sync::LazyLock;
use std::time::Duration;

/// How long a command works on its designs if nobody says otherwise, s: many times what a large one takes.
const USUAL: u64 = 300;

/// Says how many seconds it may be.
const VARIABLE: &str = "WALLPLATE_PATIENCE";

/// What is raised when the time has passed.
static HALT: LazyLock<Halt> = LazyLock::new(Halt::default);

/// What whoever works on a design heeds.
pub(super) fn halt() -> &'static Halt {
    &HALT
}

/// What is said where it has.
pub(super) fn problem() -> Problem {
    given_up("the design")
}

/// What is said of one of several designs.
pub(super) fn problem_of(name: &str) -> Problem {
    given_up(&format!("`{name}`"))
}

fn given_up(what: &str) -> Problem {
    without_place(
        format!("{what} is not worked out after {} s, and is given up", seconds()),
        format!("ask for a part of it, like `check --only AREA`, or say with {VARIABLE} how many seconds it may be"),
    )
}

fn seconds() -> u64 {
    std::env::var(VARIABLE).ok().and_then(|seconds| seconds.trim().parse().ok()).unwrap_or(USUAL)
}

/// From now on the time counts.
pub(super) fn begin() {
    let most = Duration::from_secs(seconds());
    if most.is_zero() {
        return HALT.raise();
    }
    // It ends with the process.
    std::thread::spawn(move || {
        std::thread::sleep(most);
        HALT.raise();
    });
}
