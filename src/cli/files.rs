//! Reading and writing files: the design's own, what it uses, and nothing outside its folder.

use crate::problem::{Problem, Severity, nearest};
use crate::session::{Refused, Shelf};
use crate::syntax::examples;
use crate::text::{LARGEST_FILE, Source, Unreadable, decode};
use std::cell::RefCell;
use std::collections::HashMap;
use std::fs;
use std::io::{self, ErrorKind, Read, Write};
use std::path::{Component, Path, PathBuf};
use tempfile::NamedTempFile;

/// The ending of a design's files.
pub(super) const ENDING: &str = "plate";
/// What is written in place of a file for the text that another program hands over.
pub(super) const HANDED_OVER: &str = "-";
/// The name that such a text is shown under.
pub(super) const STANDARD_INPUT: &str = "standard input";
/// Files of a folder that are named where the one that was asked for is not there.
const MOST_NAMED: usize = 6;

/// The files of a design: those that were named, and the folder from which they may use others.
#[derive(Debug)]
pub(super) struct Folder {
    /// The folder of the first file, all links followed.
    root: PathBuf,
    /// The name that each file is shown under, by where it really is.
    known: RefCell<HashMap<PathBuf, String>>,
    /// Texts that count before what is on the disk, by where their files really are.
    open: HashMap<PathBuf, String>,
}

/// Reads the first file of a design, with texts that count before what is on the disk.
///
/// # Errors
/// Why it cannot be read.
pub(super) fn read_open(path: &Path, open: &HashMap<PathBuf, String>) -> Result<(Source, Folder), Refused> {
    let name = shown(path);
    let (place, source) = match open.get(path) {
        // A text may be written before there is a file.
        Some(text) => (path.to_owned(), Source::new(name.as_str(), text.as_str())),
        None => read(path, &name)?,
    };
    let root = fs::canonicalize(folder_of(path)).unwrap_or_else(|_| folder_of(path).to_owned());
    Ok((source, Folder { root, known: RefCell::new(HashMap::from([(place, name)])), open: open.clone() }))
}

/// Reads the files that were named on the command line.
///
/// # Errors
/// One problem, without a place, for each file that cannot be read.
pub(super) fn read_named(paths: &[PathBuf]) -> Result<(Vec<Source>, Folder), Vec<Problem>> {
    let mut problems = Vec::new();
    let mut sources = Vec::new();
    let mut known = HashMap::new();
    for (at, path) in paths.iter().enumerate() {
        // What is named twice is read once.
        if paths.iter().take(at).any(|before| before == path) {
            continue;
        }
        let name = shown(path);
        if path.as_os_str() == HANDED_OVER {
            match handed_over() {
                Ok(source) => sources.push(source),
                Err(refused) => problems.push(without_place(refused.message, refused.help)),
            }
            continue;
        }
        match read(path, &name) {
            // A file that is named twice is read once.
            Ok((place, _)) if known.contains_key(&place) => {}
            Ok((place, source)) => {
                known.insert(place, name);
                sources.push(source);
            }
            Err(refused) => problems.push(without_place(refused.message, refused.help)),
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let root = paths.first().and_then(|first| fs::canonicalize(folder_of(first)).ok()).unwrap_or_default();
    Ok((sources, Folder { root, known: RefCell::new(known), open: HashMap::new() }))
}

/// The text on standard input.
fn handed_over() -> Result<Source, Refused> {
    let name = STANDARD_INPUT;
    let bytes = bytes(io::stdin().lock()).map_err(|error| refused(Path::new(name), name, &error))?;
    let text = decode(bytes).map_err(|error| Refused { message: format!("`{name}`: {error}"), help: error.help().to_owned() })?;
    Ok(Source::new(name, text))
}

/// A mistake that is not in a text.
pub(super) fn without_place(message: String, help: String) -> Problem {
    Problem { severity: Severity::Error, message, help: Some(help), places: Vec::new(), mends: Vec::new(), once: false }
}

/// The name of a path as a person would write it: without a leading `./`.
pub fn shown(path: &Path) -> String {
    let plain: PathBuf = path.components().filter(|part| *part != Component::CurDir).collect();
    if plain.as_os_str().is_empty() { ".".to_owned() } else { plain.display().to_string() }
}

fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// Where a file really is, and its text.
fn read(path: &Path, name: &str) -> Result<(PathBuf, Source), Refused> {
    let not_there = |error: &io::Error| refused(path, name, error);
    let place = fs::canonicalize(path).map_err(|error| not_there(&error))?;
    let text = text_of(&place).map_err(|unread| match unread {
        Unread::NotThere(error) => not_there(&error),
        Unread::NoText(error) => Refused { message: format!("`{name}`: {error}"), help: error.help().to_owned() },
    })?;
    Ok((place, Source::new(name, text)))
}

/// Why there is no text of a file.
pub(super) enum Unread {
    NotThere(io::Error),
    NoText(Unreadable),
}

/// The text of a file.
pub(super) fn text_of(path: &Path) -> Result<String, Unread> {
    let bytes = open(path).and_then(bytes).map_err(Unread::NotThere)?;
    decode(bytes).map_err(Unread::NoText)
}

/// A pipe, a device, a socket: what may never come to an end, or do something when it is read or written.
#[derive(Debug, thiserror::Error)]
#[error("it is a pipe or a device")]
struct NoFile;

/// Whether something is a file with an end, and not a folder, a pipe or a device.
///
/// # Errors
/// Why it cannot be looked at, or what it is.
pub(super) fn is_file(metadata: &fs::Metadata) -> io::Result<()> {
    if metadata.is_dir() {
        Err(io::Error::from(ErrorKind::IsADirectory))
    } else if metadata.is_file() {
        Ok(())
    } else {
        Err(io::Error::new(ErrorKind::Unsupported, NoFile))
    }
}

/// Opens a file to read it. It is looked at before: to open a pipe is to wait for whoever writes into it.
pub(super) fn open(path: &Path) -> io::Result<fs::File> {
    is_file(&fs::metadata(path)?)?;
    let file = fs::File::open(path)?;
    // It may have become another one meanwhile.
    is_file(&file.metadata()?)?;
    Ok(file)
}

/// All bytes of a file, or one more than are read of any: that is enough to say that it is too much.
pub(super) fn bytes(file: impl Read) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    let most = u64::try_from(LARGEST_FILE).unwrap_or(u64::MAX).saturating_add(1);
    file.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// Why a file cannot be had, with the nearest there is.
pub(super) fn refused(path: &Path, name: &str, error: &io::Error) -> Refused {
    let is_link = || fs::symlink_metadata(path).is_ok_and(|there| there.is_symlink());
    match error.kind() {
        ErrorKind::IsADirectory => Refused {
            message: format!("`{name}` is a folder"),
            help: named_files(path).map_or_else(|| "name the file".to_owned(), |files| format!("name the file: {files}")),
        },
        ErrorKind::Unsupported => {
            Refused { message: format!("`{name}` is a pipe or a device"), help: "name a file that its text stands in".to_owned() }
        }
        // Nothing is there, or round and round.
        _ if is_link() && fs::metadata(path).is_err_and(|error| error.kind() != ErrorKind::PermissionDenied) => Refused {
            message: format!("`{name}` is a link that leads nowhere"),
            help: "put the file itself there in place of the link".to_owned(),
        },
        ErrorKind::NotFound => {
            let folder = folder_of(path);
            let asked = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
            let there = names_in(folder);
            let near = nearest(&asked, there.iter().map(String::as_str))
                .or_else(|| there.iter().map(String::as_str).find(|there| *there == format!("{asked}.{ENDING}")));
            let help = match (near, named_files(folder)) {
                (Some(near), _) => format!("did you mean `{}`?", shown(&folder.join(near))),
                (None, Some(files)) => format!("in its folder there are: {files}"),
                (None, None) if folder.is_dir() => format!("its folder holds no `.{ENDING}` file"),
                (None, None) => format!("there is no folder `{}` either", shown(folder)),
            };
            Refused { message: format!("there is no file `{name}`"), help }
        }
        ErrorKind::PermissionDenied => {
            Refused { message: format!("`{name}` may not be read"), help: "give yourself the right to read it, or copy it".to_owned() }
        }
        _ => Refused { message: format!("`{name}` cannot be read: {error}"), help: "try another copy of it".to_owned() },
    }
}

/// The names of the files of a folder that end as a design's files do, in order.
fn names_in(folder: &Path) -> Vec<String> {
    let is_plate = |path: &Path| path.extension().is_some_and(|ending| ending == ENDING);
    let mut names: Vec<String> = fs::read_dir(folder)
        .into_iter()
        .flatten()
        .flatten()
        .filter(|entry| is_plate(&entry.path()))
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

fn named_files(folder: &Path) -> Option<String> {
    let names = names_in(folder);
    let more = if names.len() > MOST_NAMED { ", …" } else { "" };
    let some: Vec<String> = names.iter().take(MOST_NAMED).map(|name| format!("`{name}`")).collect();
    (!some.is_empty()).then(|| format!("{}{more}", some.join(", ")))
}

impl Shelf for Folder {
    fn fetch(&self, from: &str, target: &str) -> Result<Source, Refused> {
        let outside = || Refused {
            message: format!("`{target}` lies outside the design's own folder"),
            help: "a design uses only files from the folder of its first file and below it: copy the file there".to_owned(),
        };
        let written = Path::new(target);
        let leads_off = |part: Component<'_>| matches!(part, Component::Prefix(_) | Component::RootDir);
        if written.components().any(leads_off) {
            return Err(Refused {
                message: format!("`{target}` is a path from the root of this computer"),
                help: format!("write the path from this file's folder, like `{}`", examples::FILE),
            });
        }
        let path = folder_of(Path::new(from)).join(written);
        let name = shown(&tidied(&path));
        // Where it would lie is asked before whether it is there: nothing outside the folder is told.
        let folder = fs::canonicalize(folder_of(Path::new(from))).map_err(|_| outside())?;
        if !tidied(&folder.join(written)).starts_with(&self.root) {
            return Err(outside());
        }
        let place = leads_to(&path, MOST_LINKS).unwrap_or_else(|| tidied(&folder.join(written)));
        if !place.starts_with(&self.root) {
            return Err(Refused {
                message: format!("`{target}` is a link that leads outside the design's own folder"),
                help: "put the file itself there in place of the link".to_owned(),
            });
        }
        let (place, source) = match self.open.get(&place) {
            Some(text) => (place, Source::new(name.as_str(), text.as_str())),
            None => read(&path, &name)?,
        };
        let mut known = self.known.borrow_mut();
        match known.get(&place) {
            // One file by another name is the same file.
            Some(first) if *first != source.name => Ok(Source::new(first.clone(), source.text)),
            Some(_) => Ok(source),
            None => {
                known.insert(place, name);
                Ok(source)
            }
        }
    }
}

/// Links in a row that are followed: as many as Linux does.
const MOST_LINKS: usize = 40;

/// Where a path leads, links followed, whether or not something is there; nothing if it goes round and round.
pub(super) fn leads_to(path: &Path, links: usize) -> Option<PathBuf> {
    if let Ok(place) = fs::canonicalize(path) {
        return Some(place);
    }
    match fs::read_link(path) {
        Ok(target) => leads_to(&fs::canonicalize(folder_of(path)).ok()?.join(target), links.checked_sub(1)?),
        Err(_) => Some(leads_to(folder_of(path), links.checked_sub(1)?)?.join(path.file_name()?)),
    }
}

/// A path with `.` taken out and `..` carried out by its words alone.
pub fn tidied(path: &Path) -> PathBuf {
    let mut plain = PathBuf::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir if plain.file_name().is_some() => {
                plain.pop();
            }
            _ => plain.push(part),
        }
    }
    plain
}

/// Writes a new file, or nothing at all: never over one that is there, never half.
pub(super) fn write_new(path: &Path, text: &str) -> io::Result<()> {
    aside(path, text, false)?.persist_noclobber(path).map(|_| ()).map_err(|error| error.error)
}

/// Puts a new text in the place of a file, whole or not at all, with the rights it had. A link stays a link:
/// the file that it leads to is changed.
pub(super) fn write_over(path: &Path, text: &str) -> io::Result<()> {
    let place = fs::canonicalize(path)?;
    aside(&place, text, true)?.persist(&place).map(|_| ()).map_err(|error| error.error)
}

/// A text on the disk beside the place where it is to go, ready to be put there in one step. `over` says that it goes in
/// the place of a file, whose rights it gets.
pub(super) fn aside(place: &Path, text: &str, over: bool) -> io::Result<NamedTempFile> {
    let rights = if over { Some(fs::metadata(place)?.permissions()) } else { None };
    if rights.as_ref().is_some_and(fs::Permissions::readonly) {
        return Err(io::Error::new(ErrorKind::PermissionDenied, "it is protected against writing"));
    }
    let mut file = beside(place)?;
    file.write_all(text.as_bytes())?;
    if let Some(rights) = rights {
        file.as_file().set_permissions(rights)?;
    }
    file.as_file().sync_all()?;
    Ok(file)
}

fn beside(path: &Path) -> io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(".wallplate-");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // What any new file of this person gets: the umask takes away from it.
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    builder.tempfile_in(folder_of(path))
}
