//! A few hostile files through the program itself: a status and some words, never a crash.

use std::io::Write;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// The program's commands on a file, each with what may come of it: nothing but the statuses it has.
fn run(name: &str, content: &[u8]) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.plate");
    std::fs::write(&path, content).unwrap();
    for arguments in [
        &["check", "a.plate"][..],
        &["check", "a.plate", "--format", "json"],
        &["check", "a.plate", "--format", "sarif"],
        &["tidy", "--check", "a.plate"],
        &["value", "a.plate", "a"],
    ] {
        let start = Instant::now();
        let program = Command::new(env!("CARGO_BIN_EXE_wallplate")).args(arguments).current_dir(folder.path()).output().unwrap();
        let errors = String::from_utf8_lossy(&program.stderr);
        println!(
            "{name}: {arguments:?}: {:?}, {} and {} bytes in {:?}",
            program.status.code(),
            program.stdout.len(),
            errors.len(),
            start.elapsed()
        );
        assert!(matches!(program.status.code(), Some(0..=2)), "{name}: {arguments:?}: {:?} {errors}", program.status);
        assert!(!errors.contains("panicked"), "{name}: {arguments:?}: {errors}");
        assert!(start.elapsed() < Duration::from_secs(30), "{name}: {arguments:?} took {:?}", start.elapsed());
        let shown = String::from_utf8_lossy(&program.stdout);
        let odd = |c: char| (c.is_control() && c != '\n') || ('\u{202A}'..='\u{202E}').contains(&c);
        let odd = shown.chars().chain(errors.chars()).find(|c| odd(*c));
        assert_eq!(odd, None, "{name}: {arguments:?}: what a terminal would obey: {shown}{errors}");
        if arguments.contains(&"json") && !program.stdout.is_empty() {
            let read = serde_json::from_slice::<serde_json::Value>(&program.stdout);
            assert!(read.is_ok(), "{name}: {arguments:?}: {read:?}");
        }
    }
}

#[test]
fn deep_and_long() {
    run("100,000 brackets", format!("let a {}1{}\n", "(".repeat(100_000), ")".repeat(100_000)).as_bytes());
    run("9,000 brackets", format!("let a {}1{}\n", "(".repeat(9_000), ")".repeat(9_000)).as_bytes());
    run("6,000 conditions", format!("let a {}yes\n", "if ".repeat(6_000)).as_bytes());
    run("a line of 5 MB", format!("let a {}", "1 + ".repeat(1_250_000)).as_bytes());
    run("100,000 open braces", "a {\n".repeat(100_000).as_bytes());
    let circle: String = (0..20_000).map(|at| format!("let a{at} a{}\n", (at + 1) % 20_000)).collect();
    run("a circle of 20,000", format!("{circle}let a a0\n").as_bytes());
    let mistakes: String = (0..10_000).map(|at| format!("let b{at} = {at} metters\n")).collect();
    run("10,000 mistakes", mistakes.as_bytes());
}

/// Each clamp of one roof is tried as the one that was forgotten: that grows with the square of their number.
#[test]
fn what_takes_too_long_is_given_up_with_words() {
    let folder = tempfile::tempdir().unwrap();
    let design = include_str!("../../../examples/heron_fold.plate");
    let clamps: String = (0..1_000).map(|at| format!("clamp c{at} like east_clamp {{ station {at} mm }}\n")).collect();
    std::fs::write(folder.path().join("a.plate"), format!("{design}{clamps}")).unwrap();
    let said = "the design is not worked out after 1 s, and is given up";
    for format in ["text", "json"] {
        let start = Instant::now();
        let program = Command::new(env!("CARGO_BIN_EXE_wallplate"))
            .args(["check", "a.plate", "--format", format])
            .current_dir(folder.path())
            .env("WALLPLATE_PATIENCE", "1")
            .output()
            .unwrap();
        let (out, err) = (String::from_utf8_lossy(&program.stdout), String::from_utf8_lossy(&program.stderr));
        assert_eq!(program.status.code(), Some(2), "{out}{err}");
        assert!(start.elapsed() < Duration::from_secs(20), "{format} took {:?}", start.elapsed());
        if format == "json" {
            let document: serde_json::Value = serde_json::from_str(&out).unwrap();
            assert_eq!(document["problems"][0]["message"], said, "{document}");
        } else {
            assert_eq!(out, "");
            assert!(err.contains(said) && err.contains("WALLPLATE_PATIENCE"), "{err}");
        }
    }
}

#[test]
fn odd_bytes() {
    run("nothing", b"");
    run("a byte order mark", b"\xEF\xBB\xBFlet a 1 m\r\n");
    run("no UTF-8", b"let a 1 m\nlet b \xC3\x28\n");
    run("NUL", b"let a 1 m\n\0\0\0");
    run("UTF-16", b"\xFF\xFEl\0e\0t\0 \0a\0");
    run("lone returns", b"let a 1 m\rlet b 2 m\r");
    run("what turns the text around", "let a\u{202E} 1 m # \u{202E}\u{7}\u{1B}[31m\nlet b \"\u{1B}]0;x\u{7}\" + 1\n".as_bytes());
    run("no newline at the end", b"let a 1 +");
    run("every byte", &(0..=255).collect::<Vec<u8>>());
    run("ASCII but the line ends", &(1..128).filter(|byte| *byte != b'\n').collect::<Vec<u8>>());
}

#[test]
fn standard_input_that_is_no_design() {
    let mut program = Command::new(env!("CARGO_BIN_EXE_wallplate"))
        .args(["tidy", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    program.stdin.take().unwrap().write_all(&b"{[(\"".repeat(10_000)).unwrap();
    assert_eq!(program.wait_with_output().unwrap().status.code(), Some(2));
}
