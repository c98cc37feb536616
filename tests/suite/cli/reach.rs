//! The program at home on a machine: versions, completions, manual pages, a screen reader.
//!
//! Real shells and real readers of manual pages have their turn in `tests/tools`.

use super::desk::Desk;

#[test]
fn the_version_names_the_language_too() {
    // A Semantic Versioning 2.0.0 number, and a count.
    let done = Desk::new().run(&["--version"]);
    let said = format!("wallplate {} (language {})\n", env!("CARGO_PKG_VERSION"), wallplate::syntax::LANGUAGE);
    assert_eq!((done.status, done.out), (Some(0), said));
}

#[test]
fn completions_know_every_command_and_its_options() {
    for (shell, begins) in
        [("bash", "_wallplate()"), ("zsh", "#compdef wallplate"), ("fish", "# Print an optspec"), ("powershell", ""), ("elvish", "")]
    {
        let done = Desk::new().run(&["completions", shell]);
        assert_eq!(done.status, Some(0), "{shell}");
        assert!(done.out.starts_with(begins), "{shell}: {}", done.out.lines().next().unwrap_or_default());
        for word in ["check", "value", "rules", "new", "tidy", "every-variant", "as-built"] {
            assert!(done.out.contains(word), "{shell} does not know `{word}`");
        }
    }
    assert_eq!(Desk::new().run(&["completions", "csh"]).status, Some(2));
}

#[test]
fn manual_pages_are_written_for_the_program_and_each_command() {
    let desk = Desk::new();
    let done = desk.run(&["man", "share/man/man1"]);
    assert_eq!(done.status, Some(0), "{}", done.err);
    for (page, holds) in
        [("wallplate.1", "wallplate\\-check(1)"), ("wallplate-check.1", "SARIF 2.1.0"), ("wallplate-tidy.1", "standard input")]
    {
        let text = desk.read(&format!("share/man/man1/{page}"));
        // The day of SOURCE_DATE_EPOCH, so that a packager's build can be repeated.
        assert!(text.contains("2027-01-01") && text.contains(holds) && text.contains("EXIT STATUS"), "{page}: {text}");
    }
    assert_eq!(desk.run(&["man"]).out, desk.read("share/man/man1/wallplate.1"));
    let desk = desk.file("taken", "");
    let done = desk.run(&["man", "taken"]);
    assert_eq!(done.status, Some(2));
    assert!(done.err.contains("the manual cannot be written to `taken`"), "{}", done.err);
}

#[test]
fn a_screen_reader_is_told_in_words() {
    let desk = Desk::with("lid big {\n  uplift 3 kN\n}\npeg one {\n  holds big\n  working_load 4 kN\n}\n");
    let told = desk.run(&["check", "a.plate", "--narrated"]);
    assert_eq!(told.status, Some(1));
    assert_eq!(told.out, desk.run_with(&["check", "a.plate"], &[("NO_GRAPHICS", "1")]).out);
    assert!(!told.out.contains(['│', '╭', '─', '×', '·']), "{}", told.out);
    assert!(told.out.contains("a.plate line 3, column 3: uplift 3 kN"), "{}", told.out);
    assert!(told.out.contains("  help: a peg rated 6 kN or more would do\n"), "{}", told.out);
    let told = Desk::with("lid big { uplitf 1 kN }\n").run(&["check", "a.plate", "--narrated"]);
    assert!(told.out.contains("a.plate line 2, column 11: uplitf"), "{}", told.out);
}

#[test]
fn every_command_keeps_to_a_narrow_page() {
    let desk = Desk::with("lid big { uplift 3 kN }\npeg one { holds big; working_load 4 kN }\n");
    for arguments in
        [&["check", "a.plate", "--all"][..], &["check", ".", "--all"], &["rules", "clamp"], &["value", "a.plate", "one.share", "--how"]]
    {
        let done = desk.run_with(arguments, &[("COLUMNS", "40")]);
        for line in done.out.lines() {
            // A word may be longer than the page; it is not torn apart.
            let torn = line.split_whitespace().all(|word| word.chars().count() < 24);
            assert!(line.chars().count() <= 46 || !torn, "{arguments:?}: {line}");
        }
    }
}
