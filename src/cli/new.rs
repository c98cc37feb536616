//! `wallplate new NAME`: a first file to start from.

use super::args::{NewArgs, Units};
use super::files::{ENDING, write_new};
use super::status::Status;
use super::terminal::{complain_of, look, print};
use std::io::ErrorKind;
use std::path::PathBuf;

const METRIC: &str = include_str!("new_metric.plate");
const US: &str = include_str!("new_us.plate");
/// The name that the design has in these texts.
const PLACEHOLDER: &str = "my_observatory";

pub(super) fn run(args: &NewArgs) -> Status {
    let name = args.name.strip_suffix(&format!(".{ENDING}")).unwrap_or(&args.name);
    if let Err(help) = fits(name) {
        complain_of(&format!("`{}` cannot be the name of a design", args.name), &help);
        return Status::Wrong;
    }
    let text = match args.units {
        Units::Metric => METRIC,
        Units::Us => US,
    };
    let file = format!("{name}.{ENDING}");
    match write_new(&PathBuf::from(&file), &text.replace(PLACEHOLDER, name)) {
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
