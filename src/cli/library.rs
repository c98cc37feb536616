//! Texts of the program's own on the disk, where an editor can open them: for reading only, and whole or not at all.
//!
//! They lie in a folder of this version below the person's folder for such things; where there is none to write in, in a
//! new one that goes when the server ends: whatever else lies in the folder for what is passing may be anybody's. Each is
//! written when it is first asked for, beside its place and then put there in one step, so that neither a reader nor a
//! second server ever meets half of it.

use std::cell::OnceCell;
use std::fs;
use std::io::{self, Write};
use std::path::{Component, Path, PathBuf};
use tempfile::TempDir;

/// The folder of this version.
const OWN: &str = concat!("wallplate-", env!("CARGO_PKG_VERSION"));

/// Where such texts lie.
#[derive(Debug, Default)]
pub struct Library {
    /// For when the person has no folder for them.
    passing: OnceCell<Option<TempDir>>,
}

/// The folder of this version below the person's own for such things.
fn own() -> Option<PathBuf> {
    use etcetera::BaseStrategy;
    Some(etcetera::choose_base_strategy().ok()?.cache_dir().join(OWN))
}

impl Library {
    /// Where the file of a text lies, written if it is not there as it should be; nothing if it can lie nowhere.
    pub fn keep(&self, name: &str, text: &str) -> Option<PathBuf> {
        own().and_then(|folder| keep_in(&folder, name, text).ok()).or_else(|| {
            let passing = self.passing.get_or_init(|| tempfile::Builder::new().prefix("wallplate-").tempdir().ok());
            keep_in(passing.as_ref()?.path(), name, text).ok()
        })
    }

    /// The name of a text, by where its file really lies.
    pub fn kept(&self, path: &Path) -> Option<String> {
        let passing = self.passing.get().and_then(Option::as_ref).map(|folder| folder.path().to_owned());
        let folders = own().into_iter().chain(passing);
        let below = folders.filter_map(|folder| path.strip_prefix(fs::canonicalize(folder).ok()?).ok().map(Path::to_owned)).next()?;
        let part = |part| match part {
            Component::Normal(part) => part.to_str().map(str::to_owned),
            _ => None,
        };
        Some(below.components().map(part).collect::<Option<Vec<String>>>()?.join("/"))
    }
}

/// As [`Library::keep`], in this folder.
///
/// # Errors
/// That it cannot lie there.
pub fn keep_in(folder: &Path, name: &str, text: &str) -> io::Result<PathBuf> {
    let path = folder.join(name);
    // Neither a link nor a pipe is followed.
    let is_file = fs::symlink_metadata(&path).is_ok_and(|there| there.is_file());
    if is_file && fs::read(&path).is_ok_and(|there| there == text.as_bytes()) {
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
