//! Texts of the program's own on the disk, where an editor can open them: for reading only, and whole or not at all.
//!
//! They lie in a folder of this version below the person's folder for such things, or below the one for what is
//! passing where there is none. Each is written when it is first asked for, beside its place and then put there in
//! one step, so that neither a reader nor a second server ever meets half of it.

use std::fs;
use std::io::{self, Write};
use std::path::{Component, Path, PathBuf};

/// The folder of this version.
const OWN: &str = concat!("wallplate-", env!("CARGO_PKG_VERSION"));

/// Where the folder of this version may be, the best place first.
fn folders() -> impl Iterator<Item = PathBuf> {
    use etcetera::BaseStrategy;
    let cache = etcetera::choose_base_strategy().ok().map(|folders| folders.cache_dir());
    cache.into_iter().chain([std::env::temp_dir()]).map(|folder| folder.join(OWN))
}

/// Where the file of a text lies, written if it is not there as it should be; nothing if it can lie nowhere.
pub(super) fn keep(name: &str, text: &str) -> Option<PathBuf> {
    folders().find_map(|folder| keep_in(&folder, name, text).ok())
}

/// As [`keep`], in this folder.
///
/// # Errors
/// That it cannot lie there.
pub fn keep_in(folder: &Path, name: &str, text: &str) -> io::Result<PathBuf> {
    let path = folder.join(name);
    if fs::read(&path).is_ok_and(|there| there == text.as_bytes()) {
        return fs::canonicalize(path);
    }
    let parent = path.parent().unwrap_or(folder);
    fs::create_dir_all(parent)?;
    let mut file = tempfile::Builder::new().prefix(".wallplate-").tempfile_in(parent)?;
    file.write_all(text.as_bytes())?;
    let mut rights = file.as_file().metadata()?.permissions();
    rights.set_readonly(true);
    file.as_file().set_permissions(rights)?;
    file.persist(&path).map_err(|error| error.error)?;
    fs::canonicalize(path)
}

/// The name of a text, by where its file really lies.
pub(super) fn kept(path: &Path) -> Option<String> {
    let below = folders().find_map(|folder| path.strip_prefix(fs::canonicalize(folder).ok()?).ok().map(Path::to_owned))?;
    let part = |part| match part {
        Component::Normal(part) => part.to_str().map(str::to_owned),
        _ => None,
    };
    Some(below.components().map(part).collect::<Option<Vec<String>>>()?.join("/"))
}
