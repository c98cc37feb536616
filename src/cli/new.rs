//! `wallplate new NAME`: a first file to start from, of the sizes that are asked for, or a whole design to change.

use super::args::{NewArgs, Shape, Units};
use super::files::{ENDING, write_new};
use super::status::Status;
use super::terminal::{complain_of, look, print};
use crate::design::Choice;
use crate::problem::Severity;
use crate::session::{NoShelf, Session};
use crate::text::Source;
use crate::tidy::tidy;
use std::io::ErrorKind;
use std::path::PathBuf;

const METRIC: &str = include_str!("new_metric.plate");
const US: &str = include_str!("new_us.plate");
/// The name that the design has in these texts.
const PLACEHOLDER: &str = "my_observatory";
/// Whole designs, each with the name it has in its text.
const GABLE: (&str, &str) = ("heron_fold", include_str!("../../examples/heron_fold.plate"));
const SHED_ROOF: (&str, &str) = ("sorrel_kettle", include_str!("../../examples/sorrel_kettle.plate"));
const STEEL_BEAMS: (&str, &str) = ("tamarack_bench", include_str!("../../examples/tamarack_bench.plate"));
/// What a line begins with that says what stands where nobody asks for anything else.
const DEFAULT: &str = "{default}";

pub(super) fn run(args: &NewArgs) -> Status {
    let name = args.name.strip_suffix(&format!(".{ENDING}")).unwrap_or(&args.name);
    if let Err(help) = fits(name) {
        complain_of(&format!("`{}` cannot be the name of a design", args.name), &help);
        return Status::Wrong;
    }
    let text = match args.like {
        Some(shape) => Ok(whole(shape, name)),
        None => begun(args, name),
    };
    let text = match text {
        Ok(text) => text,
        Err((message, help)) => {
            complain_of(&message, &help);
            return Status::Wrong;
        }
    };
    let file = format!("{name}.{ENDING}");
    match write_new(&PathBuf::from(&file), &text) {
        Ok(()) => print(&look().paragraph(0, &format!("wrote {file}; next: wallplate check {file}")), Status::Fine),
        Err(error) if error.kind() == ErrorKind::AlreadyExists => {
            complain_of(&format!("there is already a file `{file}`"), "choose another name; nothing was changed");
            Status::Wrong
        }
        Err(error) => {
            complain_of(&format!("`{file}` cannot be written: {error}"), "run this in a folder of your own");
            Status::Wrong
        }
    }
}

/// A whole design under another name.
fn whole(shape: Shape, name: &str) -> String {
    let (old, text) = match shape {
        Shape::Gable => GABLE,
        Shape::ShedRoof => SHED_ROOF,
        Shape::SteelBeams => STEEL_BEAMS,
    };
    let head = format!(
        "# {name}: begun from a design on which every check holds. Put your own numbers in line by line, and after each run\n\
         # `wallplate check {name}.{ENDING}`. What follows are its own words.\n#\n"
    );
    head + &text.replace(old, name)
}

/// A first file with what was asked for put in; its lines for other codes left out.
///
/// # Errors
/// What cannot stand there, as it would be told of the file, and what to do.
fn begun(args: &NewArgs, name: &str) -> Result<String, (String, String)> {
    let template = match args.units {
        Units::Metric => METRIC,
        Units::Us => US,
    };
    let asked = [("opens", &args.opens), ("code", &args.code), ("length", &args.length), ("width", &args.width)];
    let usual = |option: &str| {
        let lines = template.lines().filter_map(|line| line.strip_prefix(DEFAULT)?.split_once(' '));
        lines.into_iter().find(|(of, _)| *of == option).map_or("", |(_, value)| value)
    };
    let values = asked.map(|(option, value)| (option, value.as_deref().unwrap_or_else(|| usual(option))));
    let code = format!("{{{}}}", values.iter().find(|(option, _)| *option == "code").map_or("", |(_, value)| value));
    let mut text = String::new();
    for line in template.lines().filter(|line| !line.starts_with(DEFAULT)) {
        // A line of another code begins with that code's name in braces.
        let kept = match line.strip_prefix(&code) {
            Some(rest) => rest,
            None if line.starts_with('{') => continue,
            None => line,
        };
        text.push_str(kept);
        text.push('\n');
    }
    for (option, value) in values {
        text = text.replace(&format!("{{{option}}}"), value);
    }
    let text = text.replace(PLACEHOLDER, name);
    let session = Session::read(vec![Source::new(name, text.as_str())], &NoShelf, &Choice::default());
    match session.problems().into_iter().find(|problem| problem.severity == Severity::Error) {
        Some(problem) => Err((problem.message, problem.help.unwrap_or_else(|| "nothing was written".to_owned()))),
        None => Ok(tidy(&text).unwrap_or(text)),
    }
}

/// Whether a name is one that the language takes for a component.
fn fits(name: &str) -> Result<(), String> {
    let plain = |sign: char| sign.is_ascii_lowercase() || sign.is_ascii_digit() || sign == '_';
    if name.starts_with(|sign: char| sign.is_ascii_lowercase()) && name.chars().all(plain) {
        return Ok(());
    }
    let mut near: String = name.to_lowercase().chars().map(|sign| if plain(sign) { sign } else { '_' }).collect();
    near = near.trim_matches(|sign: char| sign == '_' || sign.is_ascii_digit()).to_owned();
    let rule = "names are lower case letters, digits and `_`, a letter first";
    Err(if near.is_empty() { rule.to_owned() } else { format!("{rule}: `{near}` would do") })
}
