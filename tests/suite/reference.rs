//! The reference in `grammar/reference/`: true to what the program knows, and every example in it run.

use std::path::{Path, PathBuf};
use std::process::Command;
use wallplate::design::Choice;
use wallplate::output::markdown;
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;
use wallplate::tidy::tidy;

const HOW: &str = "write it anew: WALLPLATE_REFERENCE=write cargo test --test suite reference";

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/reference")
}

fn written() -> Vec<(&'static str, String)> {
    markdown::reference(&Session::read(Vec::new(), &NoShelf, &Choice::default()))
}

fn read(name: &str) -> String {
    std::fs::read_to_string(folder().join(name)).unwrap_or_default()
}

/// The pieces of the page that stand between fences of this name.
fn fenced(page: &str, name: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut open: Option<String> = None;
    for line in page.lines() {
        match &mut open {
            None if line == format!("```{name}") => open = Some(String::new()),
            Some(_) if line == "```" => found.extend(open.take()),
            Some(piece) => {
                piece.push_str(line);
                piece.push('\n');
            }
            None => {}
        }
    }
    found
}

#[test]
fn the_pages_are_what_the_program_knows() {
    let anew = std::env::var("WALLPLATE_REFERENCE").is_ok_and(|word| word == "write");
    for (name, text) in written() {
        if anew {
            std::fs::write(folder().join(name), &text).unwrap();
        }
        let there = read(name);
        if let Some((at, (there, knows))) = there.lines().zip(text.lines()).enumerate().find(|(_, (a, b))| a != b) {
            panic!("grammar/reference/{name}:{} is no longer true; {HOW}\n  there: {there}\n  knows: {knows}", at + 1);
        }
        assert!(there == text, "grammar/reference/{name} is longer or shorter than what the program knows; {HOW}");
    }
}

#[test]
fn the_examples_are_one_design_without_a_mistake() {
    let blocks = fenced(&read("README.md"), "plate");
    assert!(blocks.len() > 10);
    for block in &blocks {
        assert_eq!(tidy(block).as_ref(), Ok(block), "laid out");
    }
    let session = Session::read(vec![Source::new("page.plate", blocks.join("\n"))], &NoShelf, &Choice::default());
    assert_eq!(session.problems(), []);
    for variant in session.design().variants.iter().map(|(name, _)| name.clone()) {
        let choice = Choice { variant: Some(variant), as_built: true };
        assert_eq!(Session::read(vec![Source::new("page.plate", blocks.join("\n"))], &NoShelf, &choice).problems(), []);
    }
}

#[test]
fn each_command_prints_what_the_page_says() {
    let page = read("README.md");
    let desk = tempfile::tempdir().unwrap();
    std::fs::write(desk.path().join("page.plate"), fenced(&page, "plate").join("\n")).unwrap();
    let mut run = 0;
    for console in fenced(&page, "console") {
        for asked in console.split("$ wallplate ").skip(1) {
            let (line, says) = asked.split_once('\n').unwrap();
            // Words, or what stands in quotes.
            let arguments = line.split('"').enumerate().flat_map(|(at, piece)| match at % 2 {
                0 => piece.split_whitespace().collect::<Vec<_>>(),
                _ => vec![piece],
            });
            let mut command = Command::new(env!("CARGO_BIN_EXE_wallplate"));
            command.current_dir(desk.path()).args(arguments).env_clear().env("LC_ALL", "C.UTF-8");
            let out = String::from_utf8(command.output().unwrap().stdout).unwrap();
            match says.strip_suffix("…\n") {
                Some(first) => assert!(out.starts_with(first), "{line}: {out}"),
                None => assert_eq!(out, says, "{line}"),
            }
            run += 1;
        }
    }
    assert!(run >= 6, "{run} commands");
}

#[test]
fn each_statement_of_the_grammar_is_explained() {
    let grammar = std::fs::read_to_string(folder().join("../wallplate.pest")).unwrap();
    let page = read("README.md");
    let production =
        |name: &str| grammar.lines().find(|line| line.split_whitespace().next() == Some(name)).unwrap_or_else(|| panic!("{name}"));
    let mut explained = 0;
    for statement in production("item_statement").trim_end_matches(" }").split("_{ ").nth(1).unwrap().split(" | ") {
        if statement == "component" {
            continue;
        }
        // `use_line = { use_kw ~ …`, `use_kw = @{ "use" ~ …`
        let keyword = production(statement).split_whitespace().find(|word| word.ends_with("_kw")).unwrap();
        for word in production(keyword).split('"').skip(1).step_by(2) {
            assert!(page.contains(&format!("**`{word}`**")), "`{word}` is explained");
            explained += 1;
        }
    }
    assert!(explained >= 8);
}

#[test]
fn links_lead_somewhere() {
    let mut pages: Vec<(&str, String)> = written();
    pages.push(("README.md", read("README.md")));
    // A heading's address as hosts make it: lower case, blanks to dashes, signs left out.
    let address = |heading: &str| -> String {
        let kept = heading.chars().filter(|sign| sign.is_alphanumeric() || matches!(sign, '_' | '-' | ' '));
        kept.collect::<String>().to_lowercase().replace(' ', "-")
    };
    let mut seen = 0;
    for (name, page) in &pages {
        for link in page.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
            let (file, anchor) = link.split_once('#').unwrap_or((link, ""));
            let file = if file.is_empty() { *name } else { file };
            let Some((_, target)) = pages.iter().find(|(page, _)| *page == file) else {
                assert!(folder().join(file).exists(), "{name}: {link}");
                continue;
            };
            let headings: Vec<String> =
                target.lines().filter(|line| line.starts_with('#')).map(|line| address(line.trim_start_matches('#').trim())).collect();
            assert!(anchor.is_empty() || headings.iter().any(|heading| heading == anchor), "{name}: {link}");
            seen += 1;
        }
    }
    assert!(seen > 100, "{seen} links");
}
