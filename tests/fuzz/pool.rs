//! What made-up texts are made from: the statements, lines, values and words of every design and of the trade library.

use std::path::{Path, PathBuf};

/// The pieces.
pub struct Pool {
    /// Whole designs.
    pub designs: Vec<String>,
    /// Top-level statements, also of the vocabulary.
    pub statements: Vec<String>,
    /// Lines.
    pub lines: Vec<String>,
    /// What stands behind the first word of a line.
    pub values: Vec<String>,
    /// Words, numbers and signs.
    pub words: Vec<String>,
    /// Texts that were once one too many, with their names.
    pub corpus: Vec<(String, String)>,
}

impl Pool {
    /// Everything below the folder of the project.
    pub fn gather(root: &Path) -> Pool {
        let designs = texts(&root.join("examples"));
        let library = texts(&root.join("src/trade"));
        let corpus = texts(&root.join("tests/fuzz/corpus"));
        let mut pool = Pool {
            designs: designs.iter().map(|(_, text)| text.clone()).collect(),
            statements: Vec::new(),
            lines: Vec::new(),
            values: Vec::new(),
            words: Vec::new(),
            corpus,
        };
        for (_, text) in designs.iter().chain(&library).chain(&pool.corpus) {
            let (_, statements, _) = wallplate::syntax::statements(text);
            pool.statements.extend(statements.into_iter().map(|range| format!("{}\n", &text[range])));
            for line in text.lines().filter(|line| !line.trim().is_empty()) {
                pool.lines.push(format!("{line}\n"));
                if let Some((_, value)) = line.trim().split_once(' ') {
                    pool.values.push(value.trim().to_owned());
                }
                pool.words.extend(words(line).into_iter().map(|range| line[range].to_owned()));
            }
        }
        for list in [&mut pool.lines, &mut pool.values, &mut pool.words] {
            list.sort_unstable();
            list.dedup();
        }
        pool
    }
}

/// The words, numbers and signs of a line: where each stands.
pub fn words(line: &str) -> Vec<std::ops::Range<usize>> {
    let mut found: Vec<std::ops::Range<usize>> = Vec::new();
    let mut before = ' ';
    for (at, letter) in line.char_indices() {
        let together = |letter: char| letter.is_alphanumeric() || letter == '_' || letter == '.';
        match found.last_mut() {
            Some(last) if together(letter) && together(before) => last.end = at + letter.len_utf8(),
            _ if letter.is_whitespace() => {}
            _ => found.push(at..at + letter.len_utf8()),
        }
        before = letter;
    }
    found
}

/// The `.plate` files in a folder and below, in order.
fn texts(folder: &Path) -> Vec<(String, String)> {
    let mut open = vec![folder.to_owned()];
    let mut files: Vec<PathBuf> = Vec::new();
    while let Some(folder) = open.pop() {
        for entry in std::fs::read_dir(folder).into_iter().flatten().flatten() {
            let path = entry.path();
            if path.is_dir() { open.push(path) } else { files.push(path) }
        }
    }
    files.retain(|file| file.extension().is_some_and(|ending| ending == "plate"));
    files.sort();
    files.iter().map(|file| (file.file_stem().unwrap().to_string_lossy().into_owned(), std::fs::read_to_string(file).unwrap())).collect()
}
