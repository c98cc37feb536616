//! Literate cases: Markdown files under `tests/cases/`, each with prose and pieces of design.
//!
//! A ```` ```plate ```` block is a design. On its lines stand marks of what must be said there:
//!
//! ```text
//! station 4.40        # error: needs a unit
//! title "north        (a text that is never closed takes its mark with it, so the mark goes below:)
//! # ^ error: never closed
//! ```
//!
//! A mark holds a part of the message; the problem's first place must begin on that line. As many
//! problems as marks must be found, no more. A ```` ```plate shared ```` block stands for all cases of its
//! file. The ```` ```problems ```` block below a design holds the whole answer: the text underlined, the
//! labels, the help, the mends. A ```` ```plate checked ```` block is checked as well: its marks `fail`, `tight` and
//! `undetermined` name the rules of the findings that begin on that line, and all that does not pass is marked. `WALLPLATE_REFRESH=1` writes these blocks anew; read what it wrote.
//! Each mend offered is also tried out: the design must have fewer problems with it.

use std::fmt::Write;
use std::path::{Path, PathBuf};
use wallplate::design::Choice;
use wallplate::problem::{Problem, Severity};
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::text::{FileId, Source, Span};

/// The number of the case's own file; what all cases of a file share comes first.
const CASE: FileId = FileId(1);

/// A piece of a case file.
enum Block {
    /// Prose, as it stands.
    Prose(String),
    /// A design for all cases of the file.
    Shared(String),
    /// A design, the line of the file on which it begins, and the answer written below it.
    Case { design: String, checked: bool, line: usize, answer: Option<String> },
}

fn blocks(text: &str) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut lines = text.lines().enumerate();
    let mut prose = String::new();
    while let Some((number, line)) = lines.next() {
        let is_block = line.starts_with("```");
        let body: String = if is_block {
            lines.by_ref().map(|(_, line)| line).take_while(|line| *line != "```").map(|line| format!("{line}\n")).collect()
        } else {
            String::new()
        };
        let block = match line {
            "```plate shared" => Block::Shared(body),
            "```plate" | "```plate checked" => {
                Block::Case { design: body, checked: line.ends_with("checked"), line: number + 2, answer: None }
            }
            "```problems" => {
                if let Some(Block::Case { answer, .. }) = blocks.last_mut() {
                    *answer = Some(body);
                }
                prose.clear();
                continue;
            }
            _ => {
                let _ = writeln!(prose, "{line}");
                assert!(!is_block, "unknown block {line}");
                continue;
            }
        };
        if !prose.is_empty() {
            blocks.push(Block::Prose(std::mem::take(&mut prose)));
        }
        blocks.push(block);
    }
    blocks.push(Block::Prose(prose));
    blocks
}

fn read(design: &str, shared: &str) -> Session {
    let files = vec![Source::new("shared.plate", shared), Source::new("case.plate", design)];
    Session::read(files, &NoShelf, &Choice::default())
}

fn severity(problem: &Problem) -> &'static str {
    match problem.severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
    }
}

/// The marks of a design: line from 1, severity, part of the message.
fn marks(design: &str) -> Vec<(u32, &str, &str)> {
    let mut marks = Vec::new();
    for (number, line) in (1_u32..).zip(design.lines()) {
        for part in line.split('#').skip(1) {
            let (above, part) = match part.trim().strip_prefix('^') {
                Some(rest) => (1, rest.trim()),
                None => (0, part.trim()),
            };
            for severity in ["error", "warning", "fail", "tight", "undetermined"] {
                if let Some(said) = part.strip_prefix(severity).and_then(|rest| rest.strip_prefix(':')) {
                    marks.push((number - above, severity, said.trim()));
                }
            }
        }
    }
    marks
}

/// All that is said of a design, as it stands in a `problems` block.
fn answer(session: &Session, problems: &[Problem]) -> String {
    let mut text = String::new();
    for problem in problems {
        let _ = writeln!(text, "{}: {}", severity(problem), problem.message);
        for place in &problem.places {
            let Some(source) = session.sources.get(place.span.file) else { continue };
            let line = session.sources.position(place.span).line;
            let file = if place.span.file == CASE { "line".to_owned() } else { source.name.clone() };
            let slice = session.sources.slice(place.span).replace('\n', "⏎");
            let _ = writeln!(text, "  {file} {line}: `{slice}`{}{}", if place.label.is_empty() { "" } else { " — " }, place.label);
        }
        if let Some(help) = &problem.help {
            let _ = writeln!(text, "  help: {help}");
        }
        for mend in &problem.mends {
            let _ = writeln!(text, "  mend: {}: `{}` → `{}`", mend.title, session.sources.slice(mend.span), mend.text);
        }
    }
    text
}

/// What does not pass and is not taken on, as it stands in a `problems` block.
fn findings(session: &Session) -> Vec<Finding> {
    let is_told = |finding: &Finding| finding.verdict != Verdict::Pass && !finding.is_accepted();
    session.check(&Options::default()).into_iter().filter(is_told).collect()
}

fn told(session: &Session, findings: &[Finding]) -> String {
    let mut text = String::new();
    for finding in findings {
        let _ = writeln!(text, "{} {}: {}", finding.verdict.word(), finding.rule, finding.message);
        if let Some(place) = finding.places.first() {
            let _ = writeln!(text, "  line {}: `{}`", session.sources.position(place.span).line, session.sources.slice(place.span));
        }
        if let Some(help) = &finding.help {
            let _ = writeln!(text, "  help: {help}");
        }
        for mend in &finding.mends {
            let _ = writeln!(text, "  mend: `{}` → `{}`", session.sources.slice(mend.span), mend.text);
        }
    }
    text
}

/// Each mend, put into the text, leaves fewer problems.
fn try_mends(design: &str, shared: &str, problems: &[Problem], faults: &mut String) {
    for problem in problems {
        for mend in problem.mends.iter().filter(|mend| mend.span.file == CASE) {
            let mut mended = design.to_owned();
            mended.replace_range(mend.span.start as usize..mend.span.end as usize, &mend.text);
            let left = read(&mended, shared).problems();
            if left.len() >= problems.len() {
                let _ = writeln!(faults, "the mend `{}` of `{}` leaves {} problems: {mended}", mend.title, problem.message, left.len());
            }
        }
    }
}

/// What is said on one line.
struct Said<'s> {
    line: Option<u32>,
    severity: &'static str,
    said: &'s str,
}

fn check(design: &str, shared: &str, checked: bool, (line, answer_written): (usize, Option<&str>), refresh: bool) -> (String, String) {
    let mut faults = String::new();
    let session = read(design, shared);
    let findings = if checked { findings(&session) } else { Vec::new() };
    let problems = session.problems();
    let found = answer(&session, &problems) + &told(&session, &findings);
    let at = |span: Span| (span.file == CASE).then(|| session.sources.position(span).line);
    let of_problem = |problem: &'_ Problem| (at(problem.span()), severity(problem));
    let mut left: Vec<Said<'_>> = problems
        .iter()
        .map(|problem| (of_problem(problem), problem.message.as_str()))
        .chain(findings.iter().map(|one| ((one.places.first().and_then(|place| at(place.span)), one.verdict.word()), one.rule.as_str())))
        .map(|((line, severity), said)| Said { line, severity, said })
        .collect();
    for (at, severity, said) in marks(design) {
        let fits = |one: &Said<'_>| one.line == Some(at) && one.severity == severity && one.said.contains(said);
        match left.iter().position(fits) {
            Some(place) => _ = left.remove(place),
            None => {
                let _ = writeln!(faults, "line {}: no {severity} that says `{said}`", line + at as usize - 1);
            }
        }
    }
    for one in left {
        let at = one.line.unwrap_or_default() as usize;
        let _ = writeln!(faults, "line {}: not marked: {} {}", line + at - 1, one.severity, one.said);
    }
    try_mends(design, shared, &problems, &mut faults);
    if !refresh && answer_written.unwrap_or_default() != found {
        let _ = writeln!(faults, "line {line}: the answer has changed; it is now\n{found}");
    }
    (found, faults)
}

fn case_files() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases");
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|extension| extension == "md"));
    files.sort();
    files
}

#[test]
fn cases() {
    let refresh = std::env::var_os("WALLPLATE_REFRESH").is_some();
    let mut faults = String::new();
    for path in case_files() {
        let text = std::fs::read_to_string(&path).unwrap();
        let blocks = blocks(&text);
        let shared: String =
            blocks.iter().filter_map(|block| if let Block::Shared(text) = block { Some(text.as_str()) } else { None }).collect();
        let mut fresh = String::new();
        for block in &blocks {
            match block {
                Block::Prose(prose) => fresh.push_str(prose),
                Block::Shared(text) => {
                    let _ = write!(fresh, "```plate shared\n{text}```\n");
                }
                Block::Case { design, checked, line, answer } => {
                    let (found, here) = check(design, &shared, *checked, (*line, answer.as_deref()), refresh);
                    if !here.is_empty() {
                        let _ = writeln!(faults, "{}:\n{here}", path.file_name().unwrap().to_string_lossy());
                    }
                    let _ = write!(fresh, "```plate{}\n{design}```\n", if *checked { " checked" } else { "" });
                    if !found.is_empty() {
                        let _ = write!(fresh, "\n```problems\n{found}```\n");
                    }
                }
            }
        }
        if refresh && fresh != text {
            std::fs::write(&path, fresh).unwrap();
        }
    }
    assert!(faults.is_empty(), "\n{faults}");
}
