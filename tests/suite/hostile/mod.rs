//! Hostile input: deep, long, huge, garbled. Each text gets an answer in bounded time, in a thread
//! with the small stack that a test has, and never a panic, an abort or a hang.

mod program;

use std::fmt::Write;
use std::time::{Duration, Instant};
use wallplate::design::Choice;
use wallplate::problem::Problem;
use wallplate::rules::Options;
use wallplate::session::{NoShelf, Refused, Session, Shelf};
use wallplate::syntax::parse;
use wallplate::text::{FileId, LARGEST_FILE, Source, Unreadable, decode};
use wallplate::tidy::{TidyError, tidy};

/// What a person would still wait for, with the slow code that tests are built from.
const PATIENCE: Duration = Duration::from_secs(60);

/// Larger texts are not laid out here: what tidy does is in proportion to their size, and slow in a test.
const LARGE: usize = 1_000_000;

/// Everything that is done with a text; what is wrong with it.
fn answer(name: &str, text: &str) -> Vec<Problem> {
    let start = Instant::now();
    let session = Session::read(vec![Source::new("a.plate", text)], &NoShelf, &Choice::default());
    let problems = session.problems();
    let read = start.elapsed();
    let findings = session.check(&Options::default());
    if text.len() < LARGE {
        match tidy(text) {
            Ok(laid_out) => assert_eq!(tidy(&laid_out).as_ref(), Ok(&laid_out), "{name}: laid out twice is not laid out once"),
            Err(TidyError::Unreadable(why)) => assert!(!why.is_empty(), "{name}: not laid out for no reason"),
            Err(TidyError::WouldChange) => panic!("{name}: the layout would change what the text says"),
        }
    }
    println!(
        "{name}: {} bytes, {} problems, {} findings, read in {read:?}, all in {:?}",
        text.len(),
        problems.len(),
        findings.len(),
        start.elapsed()
    );
    assert!(start.elapsed() < PATIENCE, "{name} took {:?}", start.elapsed());
    for problem in &problems {
        for span in problem.places.iter().map(|place| place.span).chain(problem.mends.iter().map(|mend| mend.span)) {
            let inside = span.file.is_built_in() || text.get(span.start as usize..span.end as usize).is_some();
            assert!(inside, "{name}: {span:?} of {problem:?} is out of place");
        }
    }
    problems
}

fn messages(problems: &[Problem]) -> Vec<&str> {
    problems.iter().map(|problem| problem.message.as_str()).collect()
}

#[test]
fn deep_nesting() {
    const DEEP: usize = 100_000;
    let wrapped = [
        ("brackets", "(", "1 m", ")"),
        ("lists", "[", "1 m", "]"),
        ("calls", "sqrt(", "1", ")"),
        ("elements", "a[", "1", "]"),
        ("braces", "{", "", "}"),
        ("choices", "if yes then 1 m else ", "2 m", ""),
        ("conditions", "if if ", "yes", ""),
        ("not", "not ", "yes", ""),
        ("minus", "-", "1 m", ""),
        ("minus apart", "- ", "1 m", ""),
        ("powers", "1^", "1", ""),
        ("sums", "1 m + ", "1 m", ""),
        ("alternatives", "yes or ", "no", ""),
        ("comparisons", "1 == ", "1", ""),
        ("fields", "", "a", ".a"),
        ("lists of lists", "[1,", "1", "]"),
        ("gathered", "sum(x for x in ", "a", ")"),
        ("tolerances", "1 m ± (", "1 m", ")"),
        ("quotes", "\"", "", ""),
        ("blocks in blocks", "a { ", "", " }"),
        ("backslashes", "\\", "", ""),
    ];
    for (name, open, inner, close) in wrapped {
        // Far past the bounds, and as far as they allow.
        for deep in [DEEP, 19_000 / (open.len() + close.len()), 58] {
            let value = format!("{}{inner}{}", open.repeat(deep), close.repeat(deep));
            let problems = answer(&format!("{name} × {deep}"), &format!("let a {value}\nlet z 3 m\n"));
            assert!(deep < DEEP || !problems.is_empty(), "{name}");
            answer(&format!("{name} × {deep} in a component"), &format!("clamp a {{\n  station {value}\n}}\n"));
            answer(&format!("{name} × {deep} in a kind"), &format!("kind thing \"x\" {{\n  a length default {value}\n}}\nthing t {{ }}\n"));
            answer(&format!("{name} × {deep} in a rule"), &format!("rule a.b {{\n  require {value}\n  says \"{{{value}}}\"\n}}\n"));
            answer(&format!("{name} × {deep} alone"), &value);
        }
        // Each on a line of its own.
        answer(&format!("{name} in a column"), &format!("{}\n{inner}\n", format!("{open}\n").repeat(DEEP / 5)));
        answer(&format!("{name} in a column of values"), &format!("clamp a {{\n{}\n}}", format!("x {open}{inner}\n").repeat(DEEP / 50)));
    }
}

#[test]
fn unclosed_brackets() {
    for bracket in ["(", "[", "{", "\"", "sqrt(", "a {"] {
        let problems = answer(&format!("100,000 × `{bracket}`"), &bracket.repeat(100_000));
        assert!(!problems.is_empty());
        // In proportion to their number, as `cargo bench` holds: a quarter of that.
        let problems =
            answer(&format!("25,000 × `x {bracket}` in a block"), &format!("clamp a {{\n{}", format!("x {bracket}\n").repeat(25_000)));
        assert!(!problems.is_empty());
    }
    for bracket in [")", "]", "}"] {
        let problems = answer(&format!("100,000 × `{bracket}`"), &bracket.repeat(100_000));
        assert!(!problems.is_empty());
    }
}

#[test]
fn one_line_of_five_megabytes() {
    for (name, text) in [
        ("a word", "a".repeat(5_000_000)),
        ("a text", format!("let a \"{}\"", "x".repeat(5_000_000))),
        ("a comment", format!("let a 1 m # {}", "x".repeat(5_000_000))),
        ("a list", format!("let a 1 m{}", ", 2 m".repeat(1_000_000))),
        ("a number", format!("let a {} m", "1".repeat(5_000_000))),
        ("blocks", "clamp a { x 1 m } ".repeat(270_000)),
        ("blanks", format!("let a{}1 m", " ".repeat(5_000_000))),
        ("half a text", format!("let a \"{}", "x".repeat(5_000_000))),
        ("letters from elsewhere", "ж".repeat(2_500_000)),
        ("wide blanks", format!("\u{A0}let a [1{}]", ", 1".repeat(100_000))),
    ] {
        let problems = answer(&format!("one line: {name}"), &text);
        assert!(name == "a comment" || !problems.is_empty(), "{name}");
    }
}

#[test]
fn the_largest_file() {
    let block = "clamp ne { # north east\n  station 4.40 m ± 3 mm; offset 3.33 m\n  anchored_to ne_post\n}\n";
    // Comments cost nothing to speak of; blocks are what a large design has. The largest file in full
    // takes the slow code of a test too long, so a tenth of it stands for it here.
    answer("30 MB of comments", &"# nothing at all but words, one line after the other\n".repeat(570_000));
    answer("30 MB of empty lines", &"\r\n".repeat(15_000_000));
    answer("3 MB of blocks of one name", &block.repeat(3_000_000 / block.len()));
    let mut many = String::new();
    for at in 0..30_000 {
        let _ = writeln!(many, "let a{at} {at} m + 2 ft 3-1/2 in  # the {at}th");
    }
    assert!(answer("1.3 MB of values", &many).is_empty());
    assert_eq!(decode(vec![b'#'; LARGEST_FILE + 1]), Err(Unreadable::TooLarge { size: LARGEST_FILE + 1 }));
    assert!(decode(vec![b'#'; LARGEST_FILE]).is_ok());
}

#[test]
fn odd_bytes() {
    assert_eq!(decode(b"let a 1 m\nlet b \xFF".to_vec()), Err(Unreadable::NotUtf8 { line: 2, column: 7, byte: 0xFF }));
    assert_eq!(decode(b"let a 1 m\n\0".to_vec()), Err(Unreadable::Nul { line: 2 }));
    assert_eq!(decode(b"\xFF\xFEl\0e\0t\0".to_vec()), Err(Unreadable::Nul { line: 1 }));
    // A character cut off at the end of the file, an overlong slash, a lone surrogate.
    for bytes in [&b"a \xE2\x88"[..], b"\xC0\xAF", b"\xED\xA0\x80"] {
        assert!(matches!(decode(bytes.to_vec()), Err(Unreadable::NotUtf8 { line: 1, .. })), "{bytes:?}");
    }
    assert_eq!(decode(b"\xEF\xBB\xBFlet a 1 m".to_vec()).as_deref(), Ok("let a 1 m"));
}

#[test]
fn line_ends_and_blanks_of_all_sorts() {
    let text = "let a 4.72 m\nclamp c {\n  station a ± 5 mm\n  offset 1 m, # x\n    2 m\n}\n";
    let problems = messages(&answer("plain", text)).join("\n");
    let count = problems.lines().count();
    for (name, written) in [
        ("CRLF", text.replace('\n', "\r\n")),
        ("CR", text.replace('\n', "\r")),
        ("tabs", text.replace(' ', "\t")),
        ("no-break blanks", text.replace(' ', "\u{A0}")),
        ("thin blanks", text.replace(' ', "\u{2009}")),
        ("narrow no-break blanks", text.replace(' ', "\u{202F}")),
        ("no newline at the end", text.trim_end().to_owned()),
        ("minus signs", text.replace("4.72", "−−4.72")),
    ] {
        assert_eq!(answer(name, &written).len(), count, "{name}: {written:?}");
    }
}

#[test]
fn look_alikes() {
    // What is written, what must be said of it, and the text underlined.
    for (text, said, underlined) in [
        ("let a 3 m × 4 m", "could be a size or a multiplication", "×"),
        ("let a 5 – 3", "this dash is not a minus sign", "–"),
        ("let a “north”", "straight quotes", "“"),
        ("let a 6′ 2″", "feet and inches are written out", "′"),
        ("let a ３ m", "the character `３`", "３"),
        ("let \u{430} 3 m", "the letter `\u{430}`", "\u{430}"),
        ("let c\u{430}t 3 m", "the letter `\u{430}`", "\u{430}"),
        ("let a 3 m\u{200B}", "an invisible character", "\u{200B}"),
        ("let a \u{202E}3 m", "the character U+202E", "\u{202E}"),
        ("let a 3½ in", "a fraction is written with plain figures", "½"),
        ("\u{FEFF}\u{FEFF}let a 3 m", "an invisible character", "\u{FEFF}"),
        ("let a 3\u{3000}m", "the character U+3000", "\u{3000}"),
        ("let a 3 m\u{7}", "the character U+0007", "\u{7}"),
        ("let a 3 m；", "the character `；`", "；"),
    ] {
        let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
        let problems = answer(text, text);
        let [problem] = problems.as_slice() else { panic!("{text}: {problems:?}") };
        assert!(problem.message.contains(said), "{text}: {}", problem.message);
        assert_eq!(&text[problem.span().start as usize..problem.span().end as usize], underlined, "{text}");
        assert!(problem.help.is_some(), "{text}");
    }
    // In a text or a comment anything may stand.
    assert!(answer("quoted", "let a \"×–“′３а\u{200B}\u{202E}½\" # ×–“′３а\u{200B}\u{202E}½").is_empty());
}

/// What is underlined, where it stands in a text in quotes and in the braces of that.
#[test]
fn places_in_texts() {
    for (written, said, underlined) in [
        (r#"x "a {ж}""#, "the letter `ж`", "ж"),
        (r#"says "a {ж}""#, "the letter `ж`", "ж"),
        (r#"says "a \"b\" {ж}""#, "the letter `ж`", "ж"),
        (r#"says "\\ \"é\" é {1 m} {x ж}""#, "the letter `ж`", "ж"),
        (r#"says "é\"é\" {c d}""#, "`d` cannot stand here", "d"),
        (r#"says ("{c d}")"#, "`d` cannot stand here", "d"),
        (r#"says (   ("é {1 + c d}"))"#, "`d` cannot stand here", "d"),
        (r#"says "{\"é}""#, "this text is never closed", r#"\"é"#),
        (r#"says "é {x \"ж\" + \"é}""#, "this text is never closed", r#"\"é"#),
        (r#"says "{if c == \"a\\b\" then 1 else d e}""#, "`e` cannot stand here", "e"),
        (r#"says "{[1,2 m]}""#, "a comma makes a list", "1,2 m"),
        (r#"says "é\"{[1,2 m]}""#, "a comma makes a list", "1,2 m"),
        ("says \"a {\"", "is never closed", "\"a {\""),
        ("x 1+\"\u{3000}é\"+", "this line stops too early", "é\"+"),
    ] {
        let text = format!("rule a.b {{\n  require yes\n  {written}\n}}\n");
        let problems = answer(written, &text);
        let told = |problem: &&Problem| problem.message.contains(said);
        let Some(problem) = problems.iter().find(told) else {
            // In a line that is not told nobody looks into the braces.
            assert!(written.starts_with("x \""), "{written}: {problems:?}");
            continue;
        };
        assert_eq!(&text[problem.span().start as usize..problem.span().end as usize], underlined, "{written}");
    }
}

/// A change that is offered inside a text in quotes leaves it a text.
#[test]
fn mends_in_texts() {
    let text = "rule a.b {\n  require yes\n  says \"\\\"é\\\" {if c == “a” then 1 m else 2 m}\"\n}\n";
    let problems = answer("curly quotes in a text", text);
    let mend = problems.iter().flat_map(|problem| &problem.mends).next().unwrap();
    let mut mended = text.to_owned();
    mended.replace_range(mend.span.start as usize..mend.span.end as usize, &mend.text);
    assert!(mended.contains(r#"{if c == \"a\" then 1 m else 2 m}"#), "{mended}");
    assert!(parse(&mended, FileId::default()).1.is_empty(), "{mended}");
    // Nothing is offered that would leave half a bracket.
    assert!(answer("a number and a group", "let a 4,(72 m)\n").iter().all(|problem| problem.mends.is_empty()));
}

#[test]
fn long_chains_of_values() {
    const LONG: usize = 100_000;
    let line = |at: usize| if at == 0 { "let a0 1 m\n".to_owned() } else { format!("let a{at} a{} + 1 m\n", at - 1) };
    let forward: String = (0..LONG).map(line).collect();
    assert!(answer("a chain of 100,000", &forward).is_empty());
    let backward: String = (0..LONG).rev().map(line).collect();
    assert!(answer("a chain of 100,000 from its end", &backward).is_empty());

    let round = forward.replacen("let a0 1 m", &format!("let a0 a{}", LONG - 1), 1);
    let problems = answer("a circle of 100,000", &round);
    assert_eq!(problems.len(), 1, "{:?}", messages(&problems).first());

    let patterns: String = (1..20_000).map(|at| format!("pattern clamp p{at} like p{} {{ }}\n", at - 1)).collect();
    answer("a chain of 20,000 patterns", &format!("pattern clamp p0 {{ }}\n{patterns}"));
}

#[test]
fn circles() {
    let problems = answer("a circle of three", "let a b + 1 m\nlet b c * 2\nlet c a - 1 m\n");
    let [problem] = problems.as_slice() else { panic!("{problems:?}") };
    assert_eq!(problem.places.len(), 3);
    assert!(!answer("a value of itself", "let a a\n").is_empty());
    assert!(!answer("a pattern of itself", "pattern clamp p like p { }\nclamp c like p { }\n").is_empty());
}

#[test]
fn too_many_components() {
    for text in ["post p[1..4000000000] { }", "post p[0..4294967295] { }", "post p[1..99999999999999999999] { }", "post p[4..1] { }"] {
        let problems = answer(text, text);
        assert_eq!(problems.len(), 1, "{text}: {:?}", messages(&problems));
    }
    let posts = |each: usize| (0..20).map(|at| format!("post p{at}[1..{each}] {{ }}\n")).collect::<String>();
    let start = Instant::now();
    let session = Session::read(vec![Source::new("a.plate", posts(100_000))], &NoShelf, &Choice::default());
    assert!(!session.problems().is_empty() && start.elapsed() < PATIENCE, "two million posts: {:?}", start.elapsed());
    // To check as many as are written out takes the slow code of a test a minute: a tenth stands for them.
    assert!(answer("ten thousand posts", &posts(500)).is_empty());
}

struct Mirror;

impl Shelf for Mirror {
    fn fetch(&self, _: &str, target: &str) -> Result<Source, Refused> {
        let other = if target == "a.plate" { "b.plate" } else { "a.plate" };
        Ok(Source::new(target, format!("use \"{other}\"\nuse \"{target}\"\n")))
    }
}

struct Endless;

impl Shelf for Endless {
    fn fetch(&self, from: &str, _: &str) -> Result<Source, Refused> {
        Ok(Source::new(format!("{from}x"), "use \"more\"\n"))
    }
}

#[test]
fn files_that_use_themselves() {
    let read = |text: &str, shelf: &dyn Shelf| {
        let start = Instant::now();
        let session = Session::read(vec![Source::new("a.plate", text)], shelf, &Choice::default());
        assert!(start.elapsed() < PATIENCE);
        session.problems()
    };
    let problems = read("use \"a.plate\"\n", &Mirror);
    assert!(messages(&problems).iter().any(|message| message.contains("circle")), "{problems:?}");
    let problems = read("use \"b.plate\"\n", &Mirror);
    assert!(messages(&problems).iter().any(|message| message.contains("circle")), "{problems:?}");
    // A shelf that makes up a new file each time it is asked.
    let problems = read("use \"more\"\n", &Endless);
    assert!(!problems.is_empty());
}

#[test]
fn ten_thousand_mistakes() {
    for (name, line) in [
        ("bare words", "station\n"),
        ("no unit", "station 3\n"),
        ("equal signs", "station = 3 m\n"),
        ("unknown property", "statoin 3 m\n"),
        ("unknown unit", "station 3 metters\n"),
        // One name that stands for nothing is told once, wherever it is met: these are as many names.
        ("unknown name", "station ab# + 3 m\n"),
    ] {
        let blocks: String = (0..10_000).map(|at| format!("clamp c{at} {{\n  {}}}\n", line.replace('#', &at.to_string()))).collect();
        let kind = "kind clamp \"x\" {\n  station length\n}\n";
        let problems = answer(&format!("10,000 × {name}"), &format!("{kind}{blocks}"));
        assert!(problems.len() >= 10_000, "{name}: {}", problems.len());
    }
    let lines: String = (0..10_000).map(|at| format!("station {at}\n")).collect();
    let problems = answer("10,000 lines of one property", &format!("clamp c {{\n{lines}}}\n"));
    assert!(!problems.is_empty());
}
