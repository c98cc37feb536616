//! The functions of the language as a text to look them up in: they stand in no file of the library.

use crate::design::GATHERERS;
use crate::formulas;
use crate::values::Function;
use std::fmt::Write;

/// The name of that text.
pub const FUNCTIONS: &str = "functions.txt";

/// The text, and the line (from 0) of one of its functions.
#[must_use]
pub fn functions(name: &str) -> Option<(String, u32)> {
    let mut text = "The functions of the language, to be read: this file is written anew where it is changed.\n".to_owned();
    let mut found = None;
    let mut begin = |text: &mut String, function: &str| {
        text.push('\n');
        if function == name {
            found = u32::try_from(text.matches('\n').count()).ok();
        }
    };
    for (word, doc) in GATHERERS {
        begin(&mut text, word);
        let _ = writeln!(text, "{word}(… for c in KIND where …)\n  {doc}");
    }
    let mut all: Vec<&Function> = formulas::all().subjects().iter().flat_map(|(_, table)| table.iter()).collect();
    all.sort_by_key(|function| function.name);
    for function in all {
        begin(&mut text, function.name);
        let _ = writeln!(text, "{}\n  {}; gives {}", function.signature(), function.doc, function.gives);
        for parameter in function.parameters {
            let _ = writeln!(text, "    {}: {}", parameter.name, parameter.doc);
        }
        let _ = writeln!(text, "  source: {}", function.source);
    }
    Some((text, found?))
}
