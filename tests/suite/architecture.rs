//! Dependencies run one way: the table in DEVELOPERS.md, read off the `use` lines.

mod uses;

use std::fs;
use std::path::{Path, PathBuf};
use uses::{Files, module_of, uses};

/// Each room with the rooms that it may use.
const ROOMS: &[(&str, &[&str])] = &[
    ("text", &[]),
    ("problem", &["text"]),
    ("units", &[]),
    ("syntax", &["text", "problem"]),
    ("tidy", &["syntax", "text", "problem"]),
    ("design", &["syntax", "units", "text", "problem"]),
    ("calc", &[]),
    ("values", &["design", "calc", "syntax", "units", "text", "problem"]),
    ("trade", &["syntax", "text"]),
    ("formulas", &["values", "design", "calc", "syntax", "units", "problem"]),
    ("rules", &["values", "design", "syntax", "units", "text", "problem"]),
    ("session", &["formulas", "rules", "values", "design", "trade", "syntax", "units", "text", "problem"]),
    ("papers", &["formulas", "session", "trade", "rules", "values", "design", "calc", "syntax", "units", "text", "problem"]),
    ("output", &["formulas", "papers", "session", "rules", "values", "design", "trade", "syntax", "units", "text", "problem", "calc"]),
    ("editor", &["formulas", "session", "rules", "values", "design", "trade", "tidy", "syntax", "units", "text", "problem"]),
];

/// Under the roof of the papers: each room with those of its neighbours that it may use.
const PAPERS: &[(&str, &[&str])] = &[
    ("unknown", &[]),
    ("row", &["unknown"]),
    ("accounts", &["row", "unknown"]),
    ("cards", &["row", "unknown"]),
    ("drawing", &["row"]),
    ("rolling", &["row"]),
    ("sequence", &["row", "unknown"]),
    ("takeoff", &["row", "unknown"]),
];

fn rust_files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("the source folder is there").flatten() {
        let path = entry.path();
        if path.is_dir() {
            rust_files(&path, found);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            found.push(path);
        }
    }
}

fn sources() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    rust_files(&root, &mut files);
    files
        .into_iter()
        .map(|path| {
            let name = path.strip_prefix(&root).expect("below src").display().to_string();
            (name, fs::read_to_string(&path).expect("readable"))
        })
        .collect()
}

fn room(file: &str) -> &str {
    file.split(['/', '.']).next().unwrap_or_default()
}

/// Code without its comments.
fn code(text: &str) -> impl Iterator<Item = &str> {
    text.lines().filter(|line| !line.trim_start().starts_with("//"))
}

/// Every room of a floor, which stands below `above`, uses only those that it may; how often any does.
fn check_floor(above: &[&str], floor: &[(&str, &[&str])]) -> usize {
    let mut seen = 0;
    for (file, text) in sources() {
        let module = module_of(&file);
        let inside = module.strip_prefix(above.iter().map(|room| (*room).to_owned()).collect::<Vec<_>>().as_slice());
        let Some(room) = inside.and_then(|inside| inside.first()) else { continue };
        let Some((_, allowed)) = floor.iter().find(|(name, _)| name == room) else { continue };
        let code = code(&text).collect::<Vec<_>>().join("\n");
        for path in uses(&module, [], &code).into_iter().map(|used| used.path) {
            let Some(used) = path.get(above.len()).filter(|_| path.iter().zip(above).all(|(one, other)| one == other)) else { continue };
            if used != room {
                seen += 1;
                assert!(allowed.contains(&used.as_str()), "{file} uses `{}`", path.join("::"));
            }
        }
    }
    seen
}

#[test]
fn no_import_points_upward() {
    assert!(check_floor(&[], ROOMS) > 50, "the test reads the imports at all");
    assert!(check_floor(&["papers"], PAPERS) > 10, "the test reads the imports under the roof at all");
}

#[test]
fn pest_is_named_in_syntax_only_and_files_and_clock_in_the_program_only() {
    for (file, text) in sources() {
        for line in code(&text) {
            if room(&file) != "syntax" {
                assert!(!line.contains("pest::"), "{file} names pest: {line}");
            }
            if !matches!(room(&file), "cli" | "main") {
                for word in ["std::fs", "SystemTime", "Instant::now"] {
                    assert!(!line.contains(word), "{file} reaches for {word}: {line}");
                }
            }
        }
    }
}

/// Neither the code nor a library that is there for it.
#[test]
fn nothing_speaks_to_the_network() {
    for (file, text) in sources() {
        for line in code(&text) {
            for word in ["std::net", "TcpStream", "TcpListener", "UdpSocket", "ToSocketAddrs", "UnixStream", "Connection::"] {
                assert!(!line.contains(word), "{file} reaches for the network: {line}");
            }
        }
    }
    let lock = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("Cargo.lock")).expect("readable");
    let packages: Vec<&str> = lock.lines().filter_map(|line| line.strip_prefix("name = \"")?.strip_suffix('"')).collect();
    assert!(packages.contains(&"pest"), "the test reads the packages at all");
    for library in ["reqwest", "ureq", "hyper", "curl", "tokio", "mio", "socket2", "rustls", "native-tls", "openssl", "attohttpc", "isahc"]
    {
        assert!(!packages.contains(&library), "{library} speaks to the network");
    }
}

/// Each promise of SECURITY.md names tests that there are.
#[test]
fn promises_have_their_tests() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let text = fs::read_to_string(root.join("SECURITY.md")).expect("readable");
    let mut seen = 0;
    for (file, test) in text.split('`').filter_map(|word| word.split_once(".rs::")) {
        let path = root.join("tests/suite").join(format!("{file}.rs"));
        let tests = fs::read_to_string(&path).unwrap_or_else(|_| panic!("there is no {}", path.display()));
        assert!(tests.contains(&format!("fn {test}(")), "{file}.rs has no test `{test}`");
        seen += 1;
    }
    assert!(seen > 25, "the test reads the promises at all");
}

/// The library is compiled once, without tests of its own: one that is written there would never run.
#[test]
fn tests_stand_in_the_suite() {
    for (file, text) in sources() {
        let found = code(&text).find(|line| line.contains("cfg(test)") || line.contains("#[test]"));
        assert_eq!(found, None, "{file}: a test in the code does not run; it belongs below tests/suite");
    }
}

/// Files that know each other in a circle can only be read and changed together. Each room with the files of its largest.
const CIRCLES: &[(&str, usize)] =
    &[("values", 6), ("design", 3), ("rules", 4), ("editor", 4), ("syntax", 2), ("formulas", 2), ("session", 2), ("papers", 2)];

#[test]
fn files_use_each_other_in_no_larger_circle() {
    let sources = sources();
    let files = Files::new(sources.iter().map(|(file, text)| (file.as_str(), code(text).collect::<Vec<_>>().join("\n"))));
    let mut circles = files.circles();
    circles.sort_by_key(|circle| std::cmp::Reverse(circle.len()));
    for circle in &circles {
        println!("{}: {}", circle.len(), circle.join(" "));
        let room = circle.first().map_or("", |file| room(file));
        let most = CIRCLES.iter().find(|(name, _)| *name == room).map_or(1, |(_, most)| *most);
        assert!(circle.len() <= most, "{} files of `{room}` use each other in a circle: {}", circle.len(), circle.join(" "));
    }
}

/// One purpose, read in one sitting: about 300 lines, 600 at the most.
#[test]
fn files_stay_habitable() {
    const MOST: usize = 600;
    for (file, text) in sources() {
        let lines = text.lines().count();
        assert!(lines <= MOST, "{file} has {lines} lines; split it");
    }
}

/// A body has its arguments and the fields of its tables by their names in Rust: only what the build writes asks for a place
/// in a list or for a name in a text.
#[test]
fn bodies_read_nothing_by_place_or_by_a_name_in_a_text() {
    const READS: [&str; 6] = ["Arguments", "given.value(", "given.kinds(", "given.carrying(", ".get(\"", ".field(\""];
    let sources = sources();
    let bodies = || sources.iter().filter(|(file, _)| file.starts_with("formulas/") && !file.ends_with("bindings.rs"));
    let found: Vec<String> = bodies()
        .flat_map(|(file, text)| {
            code(text).filter(|line| READS.iter().any(|read| line.contains(read))).map(move |line| format!("{file}: {line}"))
        })
        .collect();
    println!("{} files of bodies, {} such reads", bodies().count(), found.len());
    assert!(found.is_empty(), "{}", found.join("\n"));
    assert!(bodies().count() > 30, "the bodies are read at all");
}
