//! What the program may write, and where: whole sets or nothing, and never over a design.

use super::desk::{Desk, Done};
use std::os::unix::fs::{FileTypeExt, symlink};
use std::path::Path;
use std::process::Command;

const DESIGN: &str = "lid big { uplift 1 kN }\npeg one { holds big; working_load 4 kN }\n";

fn refused(done: &Done, message: &str) {
    assert_eq!(done.status, Some(2), "{done:?}");
    assert!(done.err.contains(message), "`{message}` in: {}", done.err);
}

fn example(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name)).unwrap()
}

/// Everything in a folder and below, in order.
fn all_in(desk: &Desk) -> Vec<String> {
    let mut open = vec![desk.path("")];
    let mut found = Vec::new();
    while let Some(folder) = open.pop() {
        for entry in std::fs::read_dir(&folder).unwrap().flatten() {
            found.push(entry.path().strip_prefix(desk.path("")).unwrap().display().to_string());
            if entry.file_type().unwrap().is_dir() {
                open.push(entry.path());
            }
        }
    }
    found.sort();
    found
}

#[test]
fn what_only_looks_writes_nothing() {
    let desk = Desk::with("let   b 1 m\nlid big { uplift 1 kN }\n");
    let (files, design) = (all_in(&desk), desk.read("a.plate"));
    for arguments in [
        &["check", "a.plate"][..],
        &["check", "."],
        &["check", "a.plate", "--format", "sarif"],
        &["value", "a.plate", "b"],
        &["rules"],
        &["tidy", "--check", "a.plate"],
        &["tidy", "--diff", "."],
        &["takeoff", "a.plate"],
        &["sequence", "a.plate"],
        &["cards", "a.plate"],
        &["man"],
        &["completions", "bash"],
    ] {
        assert!(matches!(desk.run(arguments).status, Some(0 | 1)), "{arguments:?}");
        assert_eq!((all_in(&desk), desk.read("a.plate")), (files.clone(), design.clone()), "{arguments:?}");
    }
}

/// Each command that writes, with a link to the design where it would write.
#[test]
fn no_link_leads_a_document_over_a_design() {
    for (link, arguments) in [
        ("drawings/plan.svg", &["draw", "a.plate", "--sheet", "plan", "--replace"][..]),
        ("list.md", &["takeoff", "a.plate", "--out", "list.md", "--replace"]),
        ("list.md", &["takeoff", "a.plate", "--out", "list.md"]),
        ("order.md", &["sequence", "a.plate", "--out", "order.md", "--replace"]),
        ("cards.md", &["cards", "a.plate", "--out", "cards.md", "--replace"]),
        ("a.html", &["report", "a.plate", "--replace"]),
        ("wallplate-check.1", &["man", ".", "--replace"]),
        ("wallplate-check.1", &["man", "."]),
    ] {
        let desk = if arguments[0] == "draw" { Desk::new().file("a.plate", example("heron_fold.plate")) } else { Desk::with(DESIGN) };
        std::fs::create_dir(desk.path("drawings")).unwrap();
        symlink(desk.path("a.plate"), desk.path(link)).unwrap();
        let (design, files) = (desk.read("a.plate"), all_in(&desk));
        refused(&desk.run(arguments), "a design is never written over");
        assert_eq!(desk.read("a.plate"), design, "{arguments:?}");
        assert_eq!(all_in(&desk), files, "{arguments:?}: nothing was written");
        // By a chain of links, to somebody else's design.
        let desk = desk.file("else/shed.plate", "# mine\n");
        std::fs::remove_file(desk.path(link)).unwrap();
        symlink(desk.path("else/shed.plate"), desk.path("between")).unwrap();
        symlink(desk.path("between"), desk.path(link)).unwrap();
        refused(&desk.run(arguments), "a design is never written over");
        assert_eq!(desk.read("else/shed.plate"), "# mine\n", "{arguments:?}");
    }
}

/// What counts is that the text was read as a design, not what its file is called.
#[test]
fn a_design_by_another_name_is_not_written_over_either() {
    let desk = Desk::with(DESIGN);
    let design = format!("{}use \"parts.txt\"\n", desk.read("a.plate"));
    let desk = desk.file("design.txt", &design).file("parts.txt", "# parts\n");
    for name in ["design.txt", "parts.txt", "./parts.txt"] {
        refused(&desk.run(&["takeoff", "design.txt", "--out", name, "--replace"]), "a design is never written over");
    }
    assert_eq!(desk.read("design.txt"), design);
    assert_eq!(desk.read("parts.txt"), "# parts\n");
    refused(&desk.run(&["takeoff", "design.txt", "--out", "b.PLATE"]), "has the name of a design");
}

#[test]
fn a_link_to_a_document_stays_a_link() {
    let desk = Desk::with(DESIGN).file("else/notes.md", "mine\n");
    symlink("else/notes.md", desk.path("list.md")).unwrap();
    refused(&desk.run(&["takeoff", "a.plate", "--out", "list.md"]), "wallplate did not write it");
    assert_eq!(desk.read("else/notes.md"), "mine\n");
    assert_eq!(desk.run(&["takeoff", "a.plate", "--out", "list.md", "--replace"]).status, Some(0));
    assert!(desk.path("list.md").is_symlink());
    assert!(desk.read("else/notes.md").contains("made by wallplate"));
}

#[test]
fn what_is_no_file_is_not_written_to() {
    let desk = Desk::with(DESIGN);
    assert!(Command::new("mkfifo").arg(desk.path("pipe.md")).status().unwrap().success());
    symlink("pipe.md", desk.path("to_pipe.md")).unwrap();
    symlink("nowhere", desk.path("dangling.md")).unwrap();
    symlink("round.md", desk.path("round.md")).unwrap();
    std::fs::create_dir(desk.path("folder.md")).unwrap();
    for (name, message) in [
        ("pipe.md", "`pipe.md` is a pipe or a device"),
        ("to_pipe.md", "`to_pipe.md` is a pipe or a device"),
        ("dangling.md", "`dangling.md` is a link that leads nowhere"),
        ("round.md", "`round.md` is a link that leads nowhere"),
        ("folder.md", "`folder.md` is a folder"),
        ("a.plate/list.md", "cannot be looked into"),
        ("no/such/list.md", "cannot be written"),
    ] {
        for replace in [&[][..], &["--replace"]] {
            let files = all_in(&desk);
            let arguments: Vec<&str> = ["takeoff", "a.plate", "--out", name].iter().chain(replace).copied().collect();
            refused(&desk.run_patiently(&arguments), message);
            assert_eq!(all_in(&desk), files, "{name}: nothing was written");
        }
    }
    assert!(std::fs::symlink_metadata(desk.path("pipe.md")).unwrap().file_type().is_fifo());
    // A new design goes nowhere either.
    symlink("nowhere", desk.path("shed.plate")).unwrap();
    refused(&desk.run(&["new", "shed"]), "there is already a file `shed.plate`");
    assert!(!desk.path("nowhere").exists());
}

/// A disk on which only the smaller sheets have room, played by the largest size that a file may have.
#[test]
fn a_set_that_does_not_fit_is_not_begun() {
    let desk = Desk::new().file("a.plate", example("heron_fold.plate"));
    assert_eq!(desk.run(&["draw", "a.plate", "--into", "whole"]).status, Some(0));
    let mut sizes: Vec<u64> =
        std::fs::read_dir(desk.path("whole")).unwrap().flatten().map(|sheet| sheet.metadata().unwrap().len()).collect();
    sizes.sort_unstable();
    // POSIX `ulimit -f` counts in blocks of 512 bytes.
    let blocks = sizes[sizes.len() / 2] / 512;
    assert!(blocks > 0 && blocks * 512 < sizes[sizes.len() - 1]);
    let cramped = |into: &str| {
        let program = env!("CARGO_BIN_EXE_wallplate");
        let script = format!("trap '' XFSZ; ulimit -f {blocks}; exec '{program}' draw a.plate --into {into} --date 2027-01-01");
        let output = Command::new("sh").args(["-c", &script]).current_dir(desk.path("")).output().unwrap();
        let err = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(2), "{err}");
        assert!(err.contains("cannot be written") && err.contains("nothing was written"), "{err}");
    };
    let files = all_in(&desk);
    cramped("new");
    assert_eq!(all_in(&desk), files, "not even the folder");
    let before: Vec<Vec<u8>> =
        files.iter().filter(|name| name.ends_with(".svg")).map(|name| std::fs::read(desk.path(name)).unwrap()).collect();
    cramped("whole");
    assert_eq!(all_in(&desk), files);
    let after: Vec<Vec<u8>> =
        files.iter().filter(|name| name.ends_with(".svg")).map(|name| std::fs::read(desk.path(name)).unwrap()).collect();
    assert!(before == after, "the set of before is whole");
}

#[test]
fn two_first_writes_at_once_both_end_well() {
    let desk = Desk::with(DESIGN);
    for round in 0..20 {
        let name = format!("new{round}/list.md");
        let running: Vec<std::process::Child> = (0..4)
            .map(|_| {
                let mut command = desk.command(&["takeoff", "a.plate", "--out", &name]);
                command.stdout(std::process::Stdio::piped()).stderr(std::process::Stdio::piped()).spawn().unwrap()
            })
            .collect();
        for output in running.into_iter().map(|one| one.wait_with_output().unwrap()) {
            assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
        }
        assert!(desk.read(&name).contains("made by wallplate"));
        assert_eq!(std::fs::read_dir(desk.path(&format!("new{round}"))).unwrap().count(), 1, "nothing else is left behind");
    }
}

#[test]
fn manual_pages_go_over_our_own_only() {
    let desk = Desk::new().file("man/wallplate-check.1", "mine\n");
    refused(&desk.run(&["man", "man"]), "there is already a file `man/wallplate-check.1`");
    assert_eq!(all_in(&desk), ["man", "man/wallplate-check.1"]);
    assert_eq!(desk.read("man/wallplate-check.1"), "mine\n");
    assert_eq!(desk.run(&["man", "man", "--replace"]).status, Some(0));
    assert!(desk.read("man/wallplate-check.1").contains(".TH WALLPLATE-CHECK"));
    assert_eq!(desk.run(&["man", "man"]).status, Some(0), "over our own unasked");
    assert_eq!(desk.run(&["man", "deep/er"]).status, Some(0), "folders are made");
}
