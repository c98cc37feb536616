//! Paths by their words, and texts of the program's own on the disk.

use std::fs;
use std::path::Path;
use wallplate::cli::files::{shown, tidied};
use wallplate::cli::library::keep_in;

#[test]
fn paths_are_tidied_by_their_words() {
    assert_eq!(tidied(Path::new("a/./b/../c.plate")), Path::new("a/c.plate"));
    assert_eq!(tidied(Path::new("../c.plate")), Path::new("../c.plate"));
    assert_eq!(tidied(Path::new("a/../../c.plate")), Path::new("../c.plate"));
    assert_eq!(shown(Path::new("./a/./b.plate")), "a/b.plate");
}

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
