//! Designs in folders: which files there are, and which of them are designs and not parts of one.
//!
//! In: folders. Out: their `.plate` files in the order of their names. A file that another one takes in
//! with `use` is a part of that one's design and none of its own.

use super::files::{self, ENDING, refused, shown};
use crate::problem::Problem;
use crate::session::Refused;
use crate::syntax::{self, tree::Item};
use crate::text::FileId;
use ignore::{DirEntry, WalkBuilder};
use std::collections::{BTreeSet, HashMap};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

/// Marks a folder that a program can fill again (Cache Directory Tagging Specification 0.6): a build folder.
const CACHE_TAG: &str = "CACHEDIR.TAG";
/// Where other people's programs are unpacked. No folder is passed over for being called `build`: that is what is built here.
const UNPACKED: &str = "node_modules";

/// What says which files of a folder git, and whoever searches it, leaves out.
const LEFT_OUT_BY: [&str; 3] = [".gitignore", ".ignore", ".git/info/exclude"];

/// What lies in folders.
#[derive(Debug, Default)]
pub(super) struct Found {
    /// Files that no other file uses, in order.
    pub designs: Vec<PathBuf>,
    /// How many more files there are, which they use.
    pub parts: usize,
    /// Folders that could not be looked into.
    pub problems: Vec<Problem>,
}

/// All `.plate` files in folders and below them, in order, each once; links are not followed. What is hidden, what git is
/// told to leave out and what can be built again is passed over.
pub(super) fn plates(folders: &[PathBuf]) -> (Vec<PathBuf>, Vec<Problem>) {
    let (mut files, mut problems) = (Vec::new(), Vec::new());
    let mut known = BTreeSet::new();
    for folder in folders {
        let above = fs::canonicalize(folder).unwrap_or_else(|_| folder.clone());
        if let Some(pipe) = std::iter::once(folder.as_path()).chain(above.ancestors()).find_map(pipe_in) {
            problems.push(not_looked_into_for(folder, &pipe));
            continue;
        }
        let passed_over: Arc<Mutex<Vec<Problem>>> = Arc::default();
        let told = Arc::clone(&passed_over);
        let goes_in = move |entry: &DirEntry| {
            let pipe = entry.file_type().filter(|sort| sort.is_dir()).and_then(|_| pipe_in(entry.path()));
            if let (Some(pipe), Ok(mut told)) = (&pipe, told.lock()) {
                told.push(not_looked_into_for(entry.path(), pipe));
            }
            pipe.is_none() && !can_be_built_again(entry)
        };
        let walk = WalkBuilder::new(folder).require_git(false).filter_entry(goes_in).sort_by_file_path(Path::cmp).build();
        for entry in walk {
            match entry {
                Ok(entry) if is_plate(&entry) => {
                    if fs::canonicalize(entry.path()).is_ok_and(|place| known.insert(place)) {
                        files.push(entry.into_path());
                    }
                }
                Ok(_) => {}
                Err(error) => problems.push(not_looked_into(folder, error)),
            }
        }
        problems.extend(passed_over.lock().map(|mut told| std::mem::take(&mut *told)).unwrap_or_default());
    }
    (files, problems)
}

/// A pipe or a device in the place of a file that says what git leaves out: who opens a pipe waits for whoever writes into it.
fn pipe_in(folder: &Path) -> Option<PathBuf> {
    let is_pipe = |path: &PathBuf| fs::metadata(path).is_ok_and(|there| !there.is_dir() && files::is_file(&there).is_err());
    LEFT_OUT_BY.iter().map(|name| folder.join(name)).find(is_pipe)
}

fn not_looked_into_for(folder: &Path, pipe: &Path) -> Problem {
    let message = format!("`{}` cannot be looked into: `{}` is a pipe or a device", shown(folder), shown(pipe));
    files::without_place(message, "take it away, or name the files themselves".to_owned())
}

/// What was not there to be read, as a problem without a place.
fn not_looked_into(folder: &Path, error: ignore::Error) -> Problem {
    let place = path_of(&error).unwrap_or(folder).to_path_buf();
    let name = shown(&place);
    let Refused { message, help } = match error.into_io_error() {
        Some(error) => refused(&place, &name, &error),
        None => Refused { message: format!("`{name}` cannot be looked into"), help: "name its files".to_owned() },
    };
    files::without_place(message, help)
}

fn path_of(error: &ignore::Error) -> Option<&Path> {
    match error {
        ignore::Error::WithPath { path, .. } => Some(path),
        ignore::Error::WithDepth { err, .. } | ignore::Error::WithLineNumber { err, .. } => path_of(err),
        _ => None,
    }
}

fn is_plate(entry: &DirEntry) -> bool {
    entry.path().extension().is_some_and(|ending| ending == ENDING) && entry.file_type().is_some_and(|sort| sort.is_file())
}

fn can_be_built_again(entry: &DirEntry) -> bool {
    let below = entry.depth() > 0 && entry.file_type().is_some_and(|sort| sort.is_dir());
    below && (entry.file_name() == UNPACKED || entry.path().join(CACHE_TAG).is_file())
}

/// The designs in folders.
pub(super) fn designs(folders: &[PathBuf]) -> Found {
    let (files, problems) = plates(folders);
    let at: HashMap<PathBuf, usize> = files.iter().enumerate().filter_map(|(at, file)| Some((fs::canonicalize(file).ok()?, at))).collect();
    let uses: Vec<BTreeSet<usize>> =
        files.iter().map(|file| used_by(file).iter().filter_map(|used| at.get(used).copied()).collect()).collect();
    let used: BTreeSet<usize> =
        uses.iter().enumerate().flat_map(|(user, used)| used.iter().copied().filter(move |at| *at != user)).collect();
    let mut read = BTreeSet::new();
    let mut designs = Vec::new();
    let unused = (0..files.len()).filter(|at| !used.contains(at));
    // Files that use each other in a circle have no user outside: the first of them stands for them, so that they are checked.
    for design in unused.chain(0..files.len()) {
        if !read.contains(&design) {
            designs.push(design);
            let mut open = vec![design];
            while let Some(at) = open.pop() {
                if read.insert(at) {
                    open.extend(uses.get(at).into_iter().flatten());
                }
            }
        }
    }
    designs.sort_unstable();
    let parts = files.len() - designs.len();
    Found { designs: designs.into_iter().filter_map(|at| files.get(at).cloned()).collect(), parts, problems }
}

/// Where the files really are that a file takes in. What cannot be read takes in nothing; that is told when it is checked.
fn used_by(file: &Path) -> Vec<PathBuf> {
    let Ok(source) = files::text_of(file) else { return Vec::new() };
    let (tree, _) = syntax::parse(&source, FileId::default());
    let targets = tree.items.iter().filter_map(|item| match item {
        Item::Use(line) if line.is_file => Some(&line.target.text),
        _ => None,
    });
    targets.filter_map(|target| fs::canonicalize(file.parent()?.join(target.as_str())).ok()).collect()
}
