//! Which files make up the designs that are open: what uses what, and where it lies.
//!
//! Paths and their `file:` addresses are told apart here; the files themselves are read through
//! [`Disk`], behind which the command line stands.

use crate::session::{Refused, Shelf};
use crate::text::Source;
use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, percent_decode_str, utf8_percent_encode};
use std::collections::{HashMap, HashSet};
use std::path::{Component, Path, PathBuf};

/// Where files come from that are not open in the editor.
pub trait Disk {
    /// A design by its first file: its text, and where what it uses comes from. `open` are the texts in
    /// the editor, by where their files really lie: they count before what is on the disk.
    ///
    /// # Errors
    /// Why it cannot be had.
    fn design(&self, root: &Path, open: &HashMap<PathBuf, String>) -> Result<(Source, Box<dyn Shelf>), Refused>;

    /// The files of designs in a folder and below.
    fn below(&self, folder: &Path) -> Vec<PathBuf>;

    /// The text of a file, if it can be read.
    fn text(&self, path: &Path) -> Option<String>;

    /// Where a file really lies, links followed; the path itself where there is none yet.
    fn place(&self, path: &Path) -> PathBuf;

    /// Where a text of the program's own lies for an editor to open: a file for reading only, written if it is not
    /// there yet. `name` is its path below the folder for such files. Nothing if it can lie nowhere.
    fn keep(&self, name: &str, text: &str) -> Option<PathBuf>;

    /// The name of a text of the program's own, by where its file really lies.
    fn kept(&self, path: &Path) -> Option<String>;
}

/// What RFC 3986 lets stand in a path as it is.
const KEPT: &AsciiSet = &NON_ALPHANUMERIC.remove(b'/').remove(b'-').remove(b'_').remove(b'.').remove(b'~');

/// The path of a `file:` address.
#[must_use]
pub fn path_of(uri: &str) -> Option<PathBuf> {
    let rest = uri.strip_prefix("file://")?;
    // Between the slashes stands the name of a computer, if any: only this one is known.
    let path = rest.find('/').map(|at| &rest[at..])?;
    let path = percent_decode_str(path).decode_utf8().ok()?;
    // `/c:/designs` is `c:/designs`.
    let drive = path.as_bytes().get(2) == Some(&b':') && path.as_bytes().get(1).is_some_and(u8::is_ascii_alphabetic);
    Some(PathBuf::from(if drive { &path[1..] } else { &path }))
}

/// The `file:` address of a path.
#[must_use]
pub fn uri_of(path: &Path) -> String {
    let text = path.to_string_lossy().replace('\\', "/");
    let root = if text.starts_with('/') { "" } else { "/" };
    format!("file://{root}{}", utf8_percent_encode(&text, KEPT))
}

/// The files that a text uses, as paths from its own folder.
#[must_use]
pub fn used_by(path: &Path, text: &str) -> Vec<PathBuf> {
    let folder = path.parent().unwrap_or(Path::new(""));
    text.lines()
        .filter_map(|line| line.trim_start().strip_prefix("use"))
        .filter_map(|rest| rest.trim_start().strip_prefix('"')?.split('"').next())
        .map(|target| tidied(&folder.join(target)))
        .collect()
}

/// A path without `.` and `..`, by its words.
fn tidied(path: &Path) -> PathBuf {
    let mut tidy = PathBuf::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir => {
                tidy.pop();
            }
            other => tidy.push(other),
        }
    }
    tidy
}

/// What uses what, over all files that are known.
#[derive(Debug, Default)]
pub struct Uses {
    uses: HashMap<PathBuf, Vec<PathBuf>>,
}

impl Uses {
    /// Notes what a file uses; says whether that is news.
    pub fn note(&mut self, path: &Path, text: &str) -> bool {
        let uses = used_by(path, text);
        if self.uses.get(path) == Some(&uses) {
            return false;
        }
        self.uses.insert(path.to_owned(), uses);
        true
    }

    /// Forgets a file.
    pub fn forget(&mut self, path: &Path) {
        self.uses.remove(path);
    }

    /// The files that nothing uses and from which a file is reached; itself if nothing uses it.
    #[must_use]
    pub fn roots(&self, of: &Path) -> Vec<PathBuf> {
        let mut seen: HashSet<&Path> = HashSet::from([of]);
        let mut waiting = vec![of];
        let mut roots = Vec::new();
        while let Some(at) = waiting.pop() {
            let mut users: Vec<&PathBuf> =
                self.uses.iter().filter(|(_, uses)| uses.iter().any(|used| used == at)).map(|(user, _)| user).collect();
            users.sort();
            if users.is_empty() {
                roots.push(at.to_owned());
            }
            waiting.extend(users.into_iter().map(PathBuf::as_path).filter(|user| seen.insert(user)));
        }
        if roots.is_empty() {
            // Round and round: the file itself shows the circle.
            roots.push(of.to_owned());
        }
        roots.sort();
        roots
    }
}
