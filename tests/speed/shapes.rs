//! Texts of one sort from beginning to end: what one line of each costs must not grow with their number.

use std::fmt::Write as _;

/// A shape: its name, and a text of so many lines.
pub type Shape = (&'static str, fn(usize) -> String);

/// Each shape that once took longer than it should.
pub const ALL: [Shape; 4] = [
    ("sound bays", super::generate::design),
    ("roofs that are only begun", begun),
    ("names that stand for nothing", nameless),
    ("links to nothing", unlinked),
];

fn text(lines: usize, each: usize, one: impl Fn(&mut String, usize)) -> String {
    let mut text = String::new();
    (0..lines / each).for_each(|at| one(&mut text, at));
    text
}

fn begun(lines: usize) -> String {
    text(lines, 13, |text, at| {
        let _ = writeln!(text, "roof roof_{at} {{\n}}");
        for clamp in 0..3 {
            let _ = writeln!(text, "clamp clamp_{at}_{clamp} {{\n  holds roof_{at}\n}}");
        }
        let _ = writeln!(text, "wall wall_{at} {{\n}}");
    })
}

fn nameless(lines: usize) -> String {
    text(lines, 2, |text, at| {
        let _ = writeln!(text, "let width_{at} 3 m\nlet value_{at} other_name_{}", at * 7);
    })
}

fn unlinked(lines: usize) -> String {
    text(lines, 3, |text, at| {
        let _ = writeln!(text, "clamp clamp_{at} {{\n  holds roof_number_{at}\n}}");
    })
}
