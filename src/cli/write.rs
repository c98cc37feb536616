//! Documents go to disk whole or not at all, and never over a file that is not ours.
//!
//! In: what a command made, each with the place where it should go. Out: files. A file that stands there already is
//! replaced only if it carries the mark that we put into our own, or if the person asked for it. A design is never
//! written over.

use super::Status;
use super::files::{ENDING, shown, write_new, write_over};
use super::terminal::{complain_of, look, print};
use crate::session::Refused;
use std::fs::File;
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

/// Stands in a comment at the head of every document in a format that has comments.
pub(super) const MARK: &str = "made by wallplate";
/// A mark stands in this many bytes from the beginning.
const HEAD: u64 = 2048;

/// A document on its way to disk.
#[derive(Debug)]
pub(super) struct Document {
    /// Where it goes.
    pub path: PathBuf,
    /// All of it.
    pub text: String,
    /// What tells an earlier one of ours: [`MARK`], or in a format without comments what always stands at its head.
    pub mark: &'static str,
}

/// Writes documents, all of them or none, and says so.
///
/// Whether each may be written is asked before the first is; `replace` is the person's word that what stands there
/// may go.
pub(super) fn write(documents: &[Document], replace: bool) -> Status {
    debug_assert!(documents.iter().all(|document| head_has(document.text.as_bytes(), document.mark)), "each carries its mark");
    let mut over = Vec::with_capacity(documents.len());
    for document in documents {
        match may_go(document, replace) {
            Ok(there) => over.push(there),
            Err(refused) => {
                let nothing = if documents.len() > 1 { "; nothing was written" } else { "" };
                complain_of(&refused.message, &format!("{}{nothing}", refused.help));
                return Status::Wrong;
            }
        }
    }
    for (document, over) in documents.iter().zip(over) {
        let done = if over { write_over(&document.path, &document.text) } else { new(document) };
        if let Err(error) = done {
            complain_of(&format!("`{}` cannot be written: {error}", shown(&document.path)), "choose another folder for it");
            return Status::Wrong;
        }
    }
    let names: Vec<String> = documents.iter().map(|document| shown(&document.path)).collect();
    print(&look().paragraph(0, &format!("wrote {}", names.join(", "))), Status::Fine)
}

/// Whether a document may go where it should: and if so, whether something stands there.
fn may_go(document: &Document, replace: bool) -> Result<bool, Refused> {
    let name = shown(&document.path);
    let refuse = |message: String, help: &str| Err(Refused { message, help: help.to_owned() });
    if document.path.extension().is_some_and(|ending| ending == ENDING) {
        return refuse(format!("`{name}` has the name of a design"), "a document needs a name with another ending");
    }
    match ours(&document.path, document.mark) {
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(false),
        Err(_) if document.path.is_dir() => refuse(format!("`{name}` is a folder"), "name a file"),
        Err(error) => refuse(format!("`{name}` cannot be looked into: {error}"), "choose another name"),
        Ok(ours) if ours || replace => Ok(true),
        Ok(_) => {
            refuse(format!("there is already a file `{name}`, and wallplate did not write it"), "choose another name, or say --replace")
        }
    }
}

fn ours(path: &Path, mark: &str) -> io::Result<bool> {
    let mut head = Vec::new();
    File::open(path)?.take(HEAD).read_to_end(&mut head)?;
    // An empty file is nobody's loss.
    Ok(head.is_empty() || head_has(&head, mark))
}

fn head_has(bytes: &[u8], mark: &str) -> bool {
    let head = bytes.get(..usize::try_from(HEAD).unwrap_or(usize::MAX)).unwrap_or(bytes);
    String::from_utf8_lossy(head).contains(mark)
}

/// A new file; the folder that it goes into is made if it is not there, those above are not.
fn new(document: &Document) -> io::Result<()> {
    if let Some(folder) = document.path.parent()
        && !folder.as_os_str().is_empty()
        && !folder.exists()
    {
        std::fs::create_dir(folder)?;
    }
    write_new(&document.path, &document.text)
}
