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

fn keep_in(folder: &Path, name: &str, text: &str) -> io::Result<PathBuf> {
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_is_there_whole_and_for_reading_only() {
        let folder = tempfile::tempdir().unwrap();
        let text = "site { }\n".repeat(2_000);
        // Two servers at once, and readers between them.
        std::thread::scope(|scope| {
            for _ in 0..4 {
                scope.spawn(|| {
                    for _ in 0..50 {
                        let path = keep_in(folder.path(), "trade/kinds/site.plate", &text).unwrap();
                        assert_eq!(fs::read_to_string(path).unwrap(), text);
                    }
                });
            }
        });
        let path = folder.path().join("trade/kinds/site.plate");
        assert!(fs::metadata(&path).unwrap().permissions().readonly());
        assert_eq!(fs::read_dir(path.parent().unwrap()).unwrap().count(), 1, "nothing else is left behind");
        // Of another build, or changed by somebody.
        keep_in(folder.path(), "trade/kinds/site.plate", "site { }\n").unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), "site { }\n");
    }
}
