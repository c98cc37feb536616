//! A word of the language is known to every editor: the productions of the grammar that are words, held against the
//! grammars of `editor-support/` and what the language server offers and colours. What they do with it, `editor_support.rs` asks.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::path::Path;
use wallplate::design::{COMMON_LINES, PaperSort, RULE_LINES};
use wallplate::session;
use wallplate::syntax::{STATEMENTS, is_name};

const PEST: &str = "grammar/wallplate.pest";
const TREE: &str = "editor-support/tree-sitter/grammar.js";
const QUERIES: &str = "editor-support/tree-sitter/queries/highlights.scm";
const VIM: &str = "editor-support/vim/syntax/wallplate.vim";
const CODE: &str = "editor-support/vscode/syntaxes/wallplate.tmLanguage.json";
const OFFERS: &str = "src/editor/complete.rs";
const COLOURS: &str = "src/editor/colours.rs";

/// Where the words of a production stand. A statement with a dotted name is known to Vim and to TextMate by its dot.
const PLACES: &[(&str, &[&str])] = &[
    ("use_kw let_kw pattern_kw variant_kw measured_kw kind_kw", &[TREE, QUERIES, VIM, CODE, OFFERS, COLOURS]),
    ("accept_kw rule_kw", &[TREE, QUERIES, OFFERS, COLOURS]),
    ("paper_kw", &[TREE, QUERIES]),
    // Only the library declares these: nobody writes them.
    ("formula_kw table_kw words_kw lines_kw", &[TREE, QUERIES, VIM, CODE]),
    ("as_kw item_kw root_kw", &[TREE, QUERIES]),
    ("when_kw", &[TREE, QUERIES, VIM, CODE]),
    ("signature_fact_name", &[TREE]),
    ("kind_fact_name", &[TREE, OFFERS]),
    ("link_kw links_kw one_kw list_kw range_kw size_kw of_kw", &[TREE, QUERIES, CODE, COLOURS]),
    (
        "required default_kw assumed_kw usually_kw found_kw because_kw source_kw carrying_kw bound_word",
        &[TREE, QUERIES, VIM, CODE, OFFERS, COLOURS],
    ),
    ("guessed_kw", &[TREE, QUERIES, VIM, CODE, OFFERS, COLOURS]),
    ("each_kw", &[TREE, QUERIES, VIM, CODE, COLOURS]),
    ("like_kw", &[TREE, QUERIES, VIM, CODE, OFFERS, COLOURS]),
    ("for_kw in_kw where_kw to_kw by_kw if_kw then_kw else_kw and or not yes no", &[TREE, VIM, CODE, OFFERS, COLOURS]),
];

fn read(file: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(file)).unwrap()
}

/// The productions of the grammar that are words, each with its words: `kind_kw = @{ "kind" ~ !word_char }`.
fn productions() -> Vec<(String, Vec<String>)> {
    let text = read(PEST);
    let words = text.lines().filter_map(|line| {
        let (name, of) = line.split_once('=')?;
        let of = of.trim().strip_prefix("@{")?.strip_suffix("~ !word_char }")?;
        let words: Vec<String> = of.split('"').skip(1).step_by(2).map(ToOwned::to_owned).collect();
        let plain = !words.is_empty() && words.iter().all(|word| word.chars().all(|sign| sign.is_ascii_lowercase() || sign == '_'));
        plain.then(|| (name.trim().to_owned(), words))
    });
    words.collect()
}

/// The words of a file, whatever its escapes for the edge of a word.
fn words_of(text: &str) -> BTreeSet<String> {
    let text = text.replace("\\\\b", " ").replace("\\b", " ").replace("\\v", " ");
    text.split(|sign: char| !(sign.is_ascii_alphanumeric() || sign == '_')).map(ToOwned::to_owned).collect()
}

#[test]
fn every_word_of_the_grammar_is_known_to_every_editor() {
    let productions = productions();
    assert!(productions.len() > 40, "the grammar's words are found: {}", productions.len());
    let mut faults = String::new();
    for (production, words) in &productions {
        let Some((_, files)) = PLACES.iter().find(|(names, _)| names.split(' ').any(|name| name == production)) else {
            let _ = writeln!(faults, "tests/suite/editor_words.rs: say where the words of `{production}` stand: {}", words.join(", "));
            continue;
        };
        for file in *files {
            let there = words_of(&read(file));
            let mut missing: Vec<&str> = words.iter().filter(|word| !there.contains(*word)).map(String::as_str).collect();
            // The rule of the grammar that reads the lines of paper names them at their beginning.
            missing.dedup();
            if !missing.is_empty() {
                let _ = writeln!(faults, "{file}: `{}` is missing there ({production} of {PEST})", missing.join("`, `"));
            }
        }
    }
    assert!(faults.is_empty(), "\n{faults}");
}

/// The words that begin a statement, in the one list that the program has of them.
#[test]
fn the_statements_are_those_of_the_grammar() {
    let text = read(PEST);
    let item = text.lines().find_map(|line| line.strip_prefix("item_statement = _{")).expect("the statements");
    let blocks: Vec<&str> = item.trim_end_matches([' ', '}']).split('|').map(str::trim).filter(|block| *block != "component").collect();
    let productions = productions();
    let first_of = |block: &str| {
        let rule = text.lines().find(|line| line.split('=').next().is_some_and(|name| name.trim() == block)).expect(block);
        let first = rule.split('{').nth(1).unwrap().split_whitespace().next().unwrap();
        productions.iter().find(|(name, _)| name == first).unwrap_or_else(|| panic!("{block} begins with {first}")).1.clone()
    };
    let due: BTreeSet<String> = blocks.into_iter().flat_map(first_of).collect();
    assert_eq!(STATEMENTS.iter().map(ToString::to_string).collect::<BTreeSet<_>>(), due, "src/syntax/mod.rs: STATEMENTS");
    for (word, _) in PaperSort::ALL {
        assert!(due.contains(word), "{PEST}: `{word}` begins no statement");
    }
}

/// A unit ends before a word that an expression keeps for itself: two editors list these words.
#[test]
fn the_words_that_no_unit_can_be_are_the_same_everywhere() {
    let productions = productions();
    let reserved: BTreeSet<&String> =
        productions.iter().flat_map(|(_, words)| words).filter(|word| !is_name(word) && *word != "in").collect();
    for (file, begins) in [(VIM, "syntax match wallplateUnit"), (CODE, "keyword.other.unit")] {
        let text = read(file);
        let unit = match file {
            VIM => text.lines().find(|line| line.starts_with(begins)).unwrap().to_owned(),
            _ => text.lines().filter(|line| line.contains("carrying") && line.contains("µ")).collect::<Vec<_>>().join("\n"),
        };
        let there = words_of(&unit);
        let missing: Vec<&&String> = reserved.iter().filter(|word| !there.contains(**word)).collect();
        assert!(missing.is_empty(), "{file}: a unit may not be {missing:?}");
    }
}

/// The lines that a form of paper or a rule takes are written as a word of the language nowhere else than in its declaration.
#[test]
fn the_lines_of_paper_are_those_of_its_form() {
    for form in &session::forms().papers {
        for line in &form.lines {
            assert!(!COMMON_LINES.contains(&line.name.as_str()), "{}: every form has `{}`", form.word, line.name);
        }
        assert!(form.lines.iter().any(|line| line.required), "{}: something is required of it", form.word);
    }
    for common in COMMON_LINES {
        assert!(RULE_LINES.contains(&common), "`{common}` stands in a rule too");
    }
}
