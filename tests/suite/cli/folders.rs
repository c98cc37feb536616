//! Folders: which files are designs, what is passed over, and what is said of what was found.

use super::desk::{Desk, VOCABULARY};

const HOLDS: &str = "use \"../vocabulary.plate\"\nlid big { uplift 1 kN }\npeg one { holds big; working_load 4 kN }\n";

/// Two designs, `jobs/good/lid.plate` with a part of its own and `jobs/bad.plate`, which share no file.
fn desk() -> Desk {
    Desk::new()
        .file("jobs/good/lid.plate", "use \"vocabulary.plate\"\nuse \"parts/pegs.plate\"\nlid big { uplift 1 kN }\n")
        .file("jobs/good/vocabulary.plate", VOCABULARY)
        .file("jobs/good/parts/pegs.plate", "peg one { holds big; working_load 4 kN }\n")
        .file("jobs/bad.plate", format!("{VOCABULARY}\nlid big {{ uplift 3 kN }}\npeg one {{ holds big; working_load 4 kN }}\n"))
        .file("jobs/notes.txt", "no design")
}

fn designs(desk: &Desk, folder: &str) -> Vec<String> {
    let json = desk.run(&["check", folder, "--format", "json"]).json();
    json["designs"].as_array().unwrap().iter().map(|design| design["design"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn files_that_others_use_are_no_designs_of_their_own() {
    let desk = desk();
    assert_eq!(designs(&desk, "jobs"), ["jobs/bad.plate", "jobs/good/lid.plate"]);
    assert_eq!(designs(&desk, "."), ["jobs/bad.plate", "jobs/good/lid.plate"]);
    let done = desk.run(&["check", "jobs"]);
    assert_eq!(done.status, Some(1));
    assert!(done.out.starts_with("2 designs in `jobs`, and 2 files that they use\n"), "{}", done.out);
    assert!(done.out.contains("fail  lidding.pegs_hold (one)"), "{}", done.out);
    assert_eq!(done.out.matches("  caution     a lid that flies off can kill").count(), 1, "{}", done.out);
    assert!(done.out.contains("\n1 caution in all; `--cautions` lists them\n"), "{}", done.out);
    let told = desk.run(&["check", "jobs", "--cautions"]).out;
    assert_eq!(told.matches("\ncaution: a lid that flies off can kill").count(), 1, "{told}");
    assert_eq!(done.out.matches("Planning numbers").count(), 1, "{}", done.out);
    assert_eq!(desk.run(&["check", "jobs/good"]).status, Some(0));
}

#[test]
fn each_result_says_of_which_design_it_is() {
    let json = desk().run(&["check", "jobs", "--format", "json"]).json();
    let of = |at: usize| (json["results"][at]["design"].as_str().unwrap(), json["results"][at]["verdict"].as_str().unwrap());
    assert_eq!([of(0), of(1)], [("jobs/bad.plate", "fail"), ("jobs/good/lid.plate", "pass")]);
    assert_eq!(json["summary"]["pass"], 1);
    assert_eq!(json["summary"]["fail"], 1);
    assert_eq!(json["files"].as_array().unwrap().len(), 4);
    assert_eq!(json["designs"][1]["files"].as_array().unwrap().len(), 3);
}

#[test]
fn one_log_with_one_run_for_code_review() {
    let desk = desk().file("jobs/worse.plate", "lid { wrong }\n").file("jobs/latin.plate", b"# caf\xE9\n");
    let log = desk.run(&["check", "jobs", "--format", "sarif"]).json();
    assert_eq!(log["runs"].as_array().unwrap().len(), 1);
    let run = &log["runs"][0];
    assert_eq!(run["invocations"][0]["executionSuccessful"], false);
    assert!(run["invocations"][0]["toolExecutionNotifications"][0]["message"]["text"].as_str().unwrap().contains("latin.plate"));
    let places: Vec<&str> = run["results"]
        .as_array()
        .unwrap()
        .iter()
        .map(|result| result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"].as_str().unwrap())
        .collect();
    assert!(places.contains(&"jobs/bad.plate") && places.contains(&"jobs/worse.plate"), "{places:?}");
}

#[test]
fn what_is_hidden_left_out_by_git_or_can_be_built_again_is_passed_over() {
    let desk = Desk::new()
        .file("a.plate", "let a 1 m\n")
        .file(".hidden/b.plate", "let b 1 m\n")
        .file("out/CACHEDIR.TAG", "Signature: 8a477f597d28d172789f06886806bc55\n")
        .file("out/c.plate", "let c 1 m\n")
        .file("node_modules/d.plate", "let d 1 m\n")
        .file("scratch/e.plate", "let e 1 m\n")
        .file(".gitignore", "/scratch/\n")
        // What a builder would call it.
        .file("build/f.plate", "let f 1 m\n");
    assert_eq!(designs(&desk, "."), ["a.plate", "build/f.plate"]);
    // A file that is named is read wherever it lies.
    assert_eq!(desk.run(&["check", "out/c.plate"]).status, Some(0));
}

#[test]
fn files_that_use_each_other_in_a_circle_are_still_checked() {
    let desk = Desk::new().file("job/a.plate", "use \"b.plate\"\n").file("job/b.plate", "use \"a.plate\"\n");
    assert_eq!(designs(&desk, "job"), ["job/a.plate"]);
    let done = desk.run(&["check", "job"]);
    assert_eq!(done.status, Some(2));
    assert!(done.out.contains("in a circle"), "{}", done.out);
    let desk = Desk::new().file("job/self.plate", "use \"self.plate\"\n");
    assert_eq!(designs(&desk, "job"), ["job/self.plate"]);
}

#[test]
fn a_file_that_cannot_be_read_does_not_hide_the_others() {
    let desk = desk().file("jobs/latin.plate", b"# caf\xE9\n");
    let done = desk.run(&["check", "jobs"]);
    assert_eq!(done.status, Some(2));
    assert!(done.err.contains("`jobs/latin.plate`: line 1 is not UTF-8"), "{}", done.err);
    assert!(done.out.contains("2 designs in `jobs`") && done.out.contains("fail  lidding.pegs_hold (one)"), "{}", done.out);
}

#[test]
fn what_cannot_be_asked_of_folders_is_said() {
    let desk = desk().file("empty/notes.txt", "");
    for (arguments, message) in [
        (&["check", "empty"][..], "there is no design in `empty`"),
        (&["tidy", "empty"], "there is no `.plate` file in `empty`"),
        (&["check", "jobs", "jobs/bad.plate"], "files and folders are named together"),
        (&["check", "jobs", "--variant", "x"], "a variant belongs to one design"),
        (&["check", "jobs", "--every-variant"], "a variant belongs to one design"),
        (&["check", "jobs", "--only", "liding"], "there is no area, rule or component `liding`"),
        (&["value", "jobs", "1 m"], "`jobs` is a folder"),
    ] {
        let done = desk.run(arguments);
        assert_eq!((done.status, done.out.as_str()), (Some(2), ""), "{arguments:?}");
        assert!(done.err.contains(message), "{arguments:?}: {}", done.err);
    }
    // A rule that one of the designs has is a rule that can be asked for.
    assert_eq!(desk.run(&["check", "jobs", "--only", "lidding"]).status, Some(1));
}

#[test]
fn a_design_does_not_reach_out_of_its_folder_because_a_folder_was_named() {
    let desk = Desk::new().file("vocabulary.plate", VOCABULARY).file("job/a.plate", HOLDS);
    let done = desk.run(&["check", "."]);
    assert!(done.out.contains("lies outside the design's own folder"), "{}", done.out);
}

#[test]
fn each_file_of_a_folder_is_laid_out() {
    let desk = Desk::new()
        .file("jobs/a.plate", "use \"b/c.plate\"\nlet   a  1 m\n")
        .file("jobs/b/c.plate", "let  c 1 m\n")
        .file("jobs/.d/e.plate", "let  e 1 m\n");
    let done = desk.run(&["tidy", "--check", "jobs"]);
    assert_eq!(done.status, Some(1));
    let told = "jobs/a.plate is not laid out in the standard way\njobs/b/c.plate is not laid out in the standard way\n";
    assert_eq!(done.out, told);
    let done = desk.run(&["tidy", "--diff", "jobs"]);
    assert!(done.status == Some(0) && done.out.contains("-let  c 1 m\n+let c  1 m\n"), "{}", done.out);
    assert_eq!(desk.run(&["tidy", "jobs"]).out, "jobs/a.plate laid out\njobs/b/c.plate laid out\n");
    assert_eq!(desk.run(&["tidy", "--check", "jobs"]).status, Some(0));
    assert_eq!(desk.read("jobs/.d/e.plate"), "let  e 1 m\n");
}

/// One line a design, the worst first: what cannot be understood, what fails most, what is undecided.
#[test]
fn a_folder_ends_in_a_table() {
    let desk = desk()
        .file("jobs/worst.plate", format!("{VOCABULARY}\nlid big {{ uplift 9 kN }}\npeg one {{ holds big; working_load 4 kN }}\npeg two {{ holds big; working_lod 4 kN }}\n"))
        .file("jobs/open.plate", format!("{VOCABULARY}\nlid big {{ uplift 1 kN }}\npeg one {{ holds big }}\n"));
    let out = desk.run(&["check", "jobs"]).out;
    let rows: Vec<Vec<&str>> = out.lines().rev().take(5).map(|line| line.split_whitespace().collect()).collect();
    let [pass, open, fails, worst, heading] = rows.as_slice() else { panic!("{out}") };
    assert_eq!(heading, &["fail", "undetermined", "tight", "accepted", "pass"], "{out}");
    assert_eq!(worst[..3], ["jobs/worst.plate", "1", "1"], "{out}");
    assert_eq!(worst[6..], ["mistakes", "in", "the", "text"], "{out}");
    assert_eq!(fails, &["jobs/bad.plate", "1", "0", "0", "0", "0"], "{out}");
    assert_eq!(open, &["jobs/open.plate", "0", "1", "0", "0", "0"], "{out}");
    assert_eq!(pass, &["jobs/good/lid.plate", "0", "0", "0", "0", "1"], "{out}");
    let narrated = desk.run(&["check", "jobs", "--narrated"]).out;
    let last: Vec<&str> = narrated.lines().rev().take(4).collect();
    assert_eq!(last[3], "jobs/worst.plate: 0 pass, 0 tight, 1 fail, 1 undetermined, 0 accepted; mistakes in the text", "{narrated}");
}

/// What is said does not hang on how many designs are worked out at a time, and one that is given up stops none of the others.
#[test]
fn designs_are_worked_out_side_by_side_in_the_same_order() {
    let mut desk = desk();
    for number in 0..20 {
        let uplift = 1 + number % 4;
        desk = desk.file(
            &format!("jobs/more/d{number:02}.plate"),
            format!("{VOCABULARY}\nlid big {{ uplift {uplift} kN }}\npeg one {{ holds big; working_load 4 kN }}\n"),
        );
    }
    for format in ["text", "json", "sarif"] {
        let with = |jobs: &str| {
            let done = desk.run(&["check", "jobs", "--format", format, "--jobs", jobs]);
            (done.status, done.out)
        };
        let alone = with("1");
        assert_eq!(alone, with("3"), "{format}");
        assert_eq!(alone, with("40"), "{format}");
        assert_eq!(alone.0, Some(1));
    }
    assert_eq!(desk.run(&["check", "jobs", "--jobs", "0"]).status, Some(2));
    let done = desk.run_with(&["check", "jobs"], &[("WALLPLATE_PATIENCE", "0")]);
    assert_eq!(done.status, Some(2));
    for name in ["jobs/bad.plate", "jobs/good/lid.plate", "jobs/more/d19.plate"] {
        assert!(done.err.contains(&format!("`{name}` is not worked out after 0 s, and is given up")), "{}", done.err);
    }
}

#[cfg(unix)]
#[test]
fn links_are_not_followed_round_in_a_circle() {
    let desk = desk();
    std::os::unix::fs::symlink("..", desk.path("jobs/good/up")).unwrap();
    assert_eq!(designs(&desk, "jobs"), ["jobs/bad.plate", "jobs/good/lid.plate"]);
}
