//! What a paper cannot say, and which line would let it.

use crate::design::{Design, Paper};
use crate::values::{Lack, MissingLine};
use smol_str::SmolStr;

/// Something that belongs on the paper and is not known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unknown {
    /// What it is.
    pub what: SmolStr,
    /// Of which components.
    pub of: Vec<SmolStr>,
    /// The lines that are missing for it; none where a line that it stands on is wrong.
    pub missing: Vec<MissingLine>,
}

impl Unknown {
    pub(super) fn of(design: &Design, paper: &Paper, of: Vec<SmolStr>, lack: &Lack) -> Unknown {
        let mut missing: Vec<MissingLine> = lack.lines().iter().map(|missing| MissingLine::of(design, missing)).collect();
        missing.sort();
        missing.dedup();
        Unknown { what: paper.title.clone(), of, missing }
    }

    /// What to write, in a sentence.
    #[must_use]
    pub fn help(&self) -> String {
        let Some(first) = self.missing.first() else { return "it rests on a line that is wrong".to_owned() };
        let doc = if first.doc.is_empty() { String::new() } else { format!(" ({})", first.doc) };
        let more = match self.missing.len() {
            1 => String::new(),
            2 => ", and one more line".to_owned(),
            n => format!(", and {} more lines", n - 1),
        };
        if first.property.is_empty() {
            format!("write {} block{doc}{more}", crate::problem::quoted_with_article(&first.component))
        } else {
            format!("write `{} …` in {}{doc}{more}", first.property, first.component)
        }
    }

    /// Unknowns that differ only in whom they are about, together.
    pub fn gather(all: Vec<Unknown>) -> Vec<Unknown> {
        let mut gathered: Vec<Unknown> = Vec::new();
        for unknown in all {
            let alike = |known: &&mut Unknown| {
                let lines = |unknown: &Unknown| unknown.missing.iter().map(|line| line.property.clone()).collect::<Vec<_>>();
                known.what == unknown.what
                    && (known.missing == unknown.missing
                        || (unknown.missing.len() == 1
                            && lines(known) == lines(&unknown)
                            && known.missing.len() == 1
                            && !unknown.missing.iter().any(|line| line.property.is_empty())))
            };
            match gathered.iter_mut().find(alike) {
                Some(known) => known.of.extend(unknown.of.into_iter().take(1)),
                None => gathered.push(unknown),
            }
        }
        gathered
    }
}
