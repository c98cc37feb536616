//! Documents go to disk whole or not at all, and never over a file that is not ours.
//!
//! In: what a command made, each with the place where it should go. Out: files. A file that stands there already is
//! replaced only if it carries the mark that we put into our own, or if the person asked for it; what counts is the file
//! that a link leads to. A design is never written over. Several documents are all written aside before the first is put
//! in its place.

use super::files::{ENDING, aside, is_file, open, shown};
use super::status::Status;
use super::terminal::{complain_of, look, print};
use crate::session::Refused;
use crate::text::Sources;
use std::fs;
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};
use tempfile::NamedTempFile;

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

/// Where a document goes.
#[derive(Debug)]
struct Destination {
    /// Links followed.
    path: PathBuf,
    /// In the place of a file.
    over: bool,
}

/// Writes documents, all of them or none, and says so.
///
/// `design` is what they were made from. Whether each may be written is asked before the first is; `replace` is the
/// person's word that what stands there may go.
pub(super) fn write(documents: &[Document], design: &Sources, replace: bool) -> Status {
    match put(documents, design, replace) {
        Ok(()) => {
            let names: Vec<String> = documents.iter().map(|document| shown(&document.path)).collect();
            print(&look().paragraph(0, &format!("wrote {}", names.join(", "))), Status::Fine)
        }
        Err(status) => status,
    }
}

/// As [`write`], and says only what went wrong.
pub(super) fn put(documents: &[Document], design: &Sources, replace: bool) -> Result<(), Status> {
    debug_assert!(documents.iter().all(|document| head_has(document.text.as_bytes(), document.mark)), "each carries its mark");
    let own: Vec<PathBuf> = design.own().filter_map(|(_, source)| fs::canonicalize(&source.name).ok()).collect();
    let may_go = |document: &Document| may_go(document, &own, replace);
    let all = documents.iter().map(may_go).collect::<Result<Vec<Destination>, Refused>>().and_then(|places| {
        let mut made = None;
        put_all(documents, &places, &may_go, &mut made).inspect_err(|_| {
            // Nothing was put into it, or it stays.
            made.map(fs::remove_dir);
        })
    });
    all.map_err(|refused| {
        let nothing = if documents.len() > 1 { "; nothing was written" } else { "" };
        complain_of(&refused.message, &format!("{}{nothing}", refused.help));
        Status::Wrong
    })
}

/// All documents aside, then each in its place. `made` is a folder that had to be made.
fn put_all<'d>(
    documents: &'d [Document],
    places: &[Destination],
    may_go: &dyn Fn(&Document) -> Result<Destination, Refused>,
    made: &mut Option<&'d Path>,
) -> Result<(), Refused> {
    let stopped = |document: &Document, error: &io::Error| Refused {
        message: format!("`{}` cannot be written: {error}", shown(&document.path)),
        help: "choose another folder for it".to_owned(),
    };
    let mut ready: Vec<NamedTempFile> = Vec::with_capacity(documents.len());
    for (document, place) in documents.iter().zip(places) {
        let file = make_folder(&document.path, made).and_then(|()| aside(&place.path, &document.text, place.over));
        ready.push(file.map_err(|error| stopped(document, &error))?);
    }
    let mut new: Vec<&Path> = Vec::new();
    for ((document, place), file) in documents.iter().zip(places).zip(ready) {
        let there = if place.over { file.persist(&place.path) } else { file.persist_noclobber(&place.path) };
        let there = there.map(|_| ()).or_else(|error| {
            if place.over || error.error.kind() != ErrorKind::AlreadyExists {
                return Err(stopped(document, &error.error));
            }
            // Somebody was quicker; perhaps we ourselves, run twice at once.
            let place = may_go(document)?;
            error.file.persist(&place.path).map(|_| ()).map_err(|error| stopped(document, &error.error))
        });
        match there {
            Ok(()) if !place.over => new.push(&place.path),
            Ok(()) => {}
            Err(refused) => {
                // What took the place of an earlier one of ours stays.
                new.iter().for_each(|path| drop(fs::remove_file(path)));
                return Err(refused);
            }
        }
    }
    Ok(())
}

/// Where a document may go: a new file, or in the place of one.
fn may_go(document: &Document, own: &[PathBuf], replace: bool) -> Result<Destination, Refused> {
    let name = shown(&document.path);
    let refuse = |message: String, help: &str| Err(Refused { message, help: help.to_owned() });
    let unseen = |error: &io::Error| refuse(format!("`{name}` cannot be looked into: {error}"), "choose another name");
    if is_named_as_design(&document.path) {
        return refuse(format!("`{name}` has the name of a design"), "a document needs a name with another ending");
    }
    match fs::symlink_metadata(&document.path) {
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Destination { path: document.path.clone(), over: false }),
        Err(error) => return unseen(&error),
        Ok(_) => {}
    }
    let Ok(path) = fs::canonicalize(&document.path) else {
        return refuse(format!("`{name}` is a link that leads nowhere"), "choose another name, or take the link away");
    };
    if own.contains(&path) || is_named_as_design(&path) {
        return refuse(format!("`{name}` leads to the design `{}`", shown(&path)), "choose another name; a design is never written over");
    }
    match fs::metadata(&path).and_then(|there| is_file(&there)).and_then(|()| ours(&path, document.mark)) {
        Err(error) if error.kind() == ErrorKind::IsADirectory => refuse(format!("`{name}` is a folder"), "name a file"),
        Err(error) if error.kind() == ErrorKind::Unsupported => refuse(format!("`{name}` is a pipe or a device"), "name a file"),
        Err(error) => unseen(&error),
        Ok(ours) if ours || replace => Ok(Destination { path, over: true }),
        Ok(_) => {
            refuse(format!("there is already a file `{name}`, and wallplate did not write it"), "choose another name, or say --replace")
        }
    }
}

fn is_named_as_design(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case(ENDING))
}

fn ours(path: &Path, mark: &str) -> io::Result<bool> {
    let mut head = Vec::new();
    open(path)?.take(HEAD).read_to_end(&mut head)?;
    // An empty file is nobody's loss.
    Ok(head.is_empty() || head_has(&head, mark))
}

fn head_has(bytes: &[u8], mark: &str) -> bool {
    let head = bytes.get(..usize::try_from(HEAD).unwrap_or(usize::MAX)).unwrap_or(bytes);
    String::from_utf8_lossy(head).contains(mark)
}

/// The folder that a new file goes into is made if it is not there, those above are not.
fn make_folder<'d>(path: &'d Path, made: &mut Option<&'d Path>) -> io::Result<()> {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() && !folder.exists() => match fs::create_dir(folder) {
            // Made meanwhile.
            Err(error) if error.kind() == ErrorKind::AlreadyExists && folder.is_dir() => Ok(()),
            done => done.map(|()| *made = Some(folder)),
        },
        _ => Ok(()),
    }
}
