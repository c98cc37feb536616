//! Files that cannot be read, and files that may not be used.

use super::desk::{Desk, Done};

fn refused(done: &Done, message: &str, help: &str) {
    assert_eq!(done.status, Some(2), "{done:?}");
    let all = format!("{}{}", done.out, done.err).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(all.contains(message), "`{message}` in: {all}");
    assert!(all.contains(help), "`{help}` in: {all}");
}

#[test]
fn a_file_that_is_not_there_names_the_nearest() {
    let desk = Desk::new().file("drumlin.plate", "").file("parts/clamps.plate", "");
    refused(&desk.run(&["check", "drumlim.plate"]), "there is no file `drumlim.plate`", "did you mean `drumlin.plate`?");
    refused(&desk.run(&["check", "drumlin"]), "there is no file `drumlin`", "did you mean `drumlin.plate`?");
    refused(&desk.run(&["check", "parts/clmps.plate"]), "there is no file `parts/clmps.plate`", "did you mean `parts/clamps.plate`?");
    refused(&desk.run(&["check", "quarry.plate"]), "there is no file", "in its folder there are: `drumlin.plate`");
    refused(&desk.run(&["check", "prts/x.plate"]), "there is no file", "there is no folder `prts` either");
    refused(&desk.run(&["value", "drumlim.plate", "1"]), "there is no file `drumlim.plate`", "did you mean `drumlin.plate`?");
    refused(&desk.run(&["tidy", "drumlim.plate"]), "there is no file `drumlim.plate`", "did you mean `drumlin.plate`?");
}

#[test]
fn a_folder_is_not_a_file() {
    let desk = Desk::new().file("parts/clamps.plate", "");
    refused(&desk.run(&["value", "parts", "1 m"]), "`parts` is a folder", "name the file: `clamps.plate`");
    refused(&desk.run(&["value", ".", "1 m"]), "`.` is a folder", "name the file");
}

#[test]
fn all_files_that_cannot_be_read_are_named() {
    let done = Desk::new().file("a.plate", "").run(&["check", "x1.plate", "a.plate", "y2.plate"]);
    refused(&done, "`x1.plate`", "`y2.plate`");
    assert_eq!(done.out, "");
}

#[test]
fn bytes_that_are_no_text_are_named_with_their_place() {
    let desk = Desk::new()
        .file("latin.plate", b"# ok\n# caf\xE9\n")
        .file("wide.plate", b"s\0i\0t\0e\0")
        .file("uses.plate", "use \"latin.plate\"\n");
    refused(
        &desk.run(&["check", "latin.plate"]),
        "`latin.plate`: line 2 is not UTF-8 text (byte 0xe9 at column 6)",
        "save the file again as UTF-8",
    );
    refused(&desk.run(&["check", "wide.plate"]), "line 1 holds a NUL byte", "save the file again as UTF-8");
    refused(&desk.run(&["check", "uses.plate"]), "`latin.plate`: line 2 is not UTF-8", "save the file again as UTF-8");
    refused(&desk.run(&["tidy", "latin.plate"]), "line 2 is not UTF-8", "save the file again as UTF-8");
    assert_eq!(std::fs::read(desk.path("latin.plate")).unwrap(), b"# ok\n# caf\xE9\n");
}

#[test]
fn a_byte_order_mark_and_windows_line_ends_do_no_harm() {
    let done = Desk::new().file("a.plate", "\u{FEFF}let a 1 m\r\nlet b a + 1 kN\r\n").run(&["check", "a.plate"]);
    refused(&done, "a length and a force cannot be added", "");
    assert_eq!(done.underlined(), ["a", "+", "1 kN"]);
    assert!(done.out.contains("[a.plate:2:9]"), "{}", done.out);
}

#[test]
fn a_used_file_is_found_from_the_file_that_uses_it() {
    let desk = Desk::new()
        .file("job/main.plate", "use \"parts/a.plate\"\nlet c b + 1 m\n")
        .file("job/parts/a.plate", "use \"more/b.plate\"\nuse \"../top.plate\"\n")
        .file("job/parts/more/b.plate", "let b 1 m\n")
        .file("job/top.plate", "let top 1 kN + 1 N\n");
    let done = desk.run(&["value", "job/main.plate", "c"]);
    assert_eq!((done.status, done.out.as_str()), (Some(0), "2 m\n"), "{}", done.err);
    let desk = desk.file("job/top.plate", "let top 1 kN + 1 m\n");
    refused(&desk.run(&["check", "job/main.plate"]), "[job/top.plate:1:14]", "");
    refused(&desk.run(&["value", "job/main.plate", "c"]), "[job/top.plate:1:14]", "");
}

#[test]
fn files_outside_the_design_s_folder_are_refused() {
    let outside = Desk::new().file("secret.plate", "let secret 1 m\n");
    let absolute = outside.path("secret.plate").display().to_string();
    let desk = Desk::new().file("other.plate", "let other 1 m\n").file("job/parts/x.plate", "use \"../../other.plate\"\n");
    let try_one = |target: &str| {
        std::fs::write(desk.path("job/a.plate"), format!("use \"{target}\"\n")).unwrap();
        desk.run(&["check", "job/a.plate"])
    };
    refused(&try_one("../other.plate"), "`../other.plate` lies outside the design's own folder", "copy the file there");
    refused(&try_one("parts/../../other.plate"), "lies outside the design's own folder", "copy the file there");
    refused(&try_one("parts/x.plate"), "`../../other.plate` lies outside", "[job/parts/x.plate:1:5]");
    refused(&try_one(&absolute), "is a path from the root of this computer", "write the path from this file's folder");
    // Whether something is there is not told either.
    refused(&try_one("../nothing_there.plate"), "lies outside the design's own folder", "copy the file there");
    // From the same place in and out again is not outside.
    assert!(!try_one("../job/b.plate").out.contains("outside"));
    let done = try_one("../other.plate");
    assert_eq!(done.underlined(), ["\"../other.plate\""]);
}

#[cfg(unix)]
#[test]
fn links_that_lead_outside_are_refused_and_links_inside_are_followed() {
    let desk = Desk::new()
        .file("other.plate", "let other 1 m\n")
        .file("job/real/b.plate", "let b 1 m\n")
        .file("job/a.plate", "use \"leak.plate\"\nuse \"alias.plate\"\nlet c b\n");
    std::os::unix::fs::symlink(desk.path("other.plate"), desk.path("job/leak.plate")).unwrap();
    std::os::unix::fs::symlink("real/b.plate", desk.path("job/alias.plate")).unwrap();
    let done = desk.run(&["check", "job/a.plate"]);
    refused(&done, "`leak.plate` is a link that leads outside the design's own folder", "put the file itself there");
    assert_eq!(done.out.matches("error:").count(), 1, "{}", done.out);
    std::os::unix::fs::symlink(desk.path(""), desk.path("job/up")).unwrap();
    std::fs::write(desk.path("job/a.plate"), "use \"up/other.plate\"\n").unwrap();
    refused(&desk.run(&["check", "job/a.plate"]), "is a link that leads outside", "");
}

#[cfg(unix)]
#[test]
fn one_file_by_two_names_is_read_once() {
    let desk = Desk::new().file("b.plate", "let b 1 m\n").file("a.plate", "use \"b.plate\"\nuse \"./b.plate\"\nuse \"c.plate\"\nlet x b\n");
    std::os::unix::fs::symlink("b.plate", desk.path("c.plate")).unwrap();
    for files in [&["a.plate"][..], &["a.plate", "b.plate"], &["./b.plate", "a.plate", "a.plate"], &["c.plate", "a.plate"]] {
        let arguments: Vec<&str> = ["check"].into_iter().chain(files.iter().copied()).collect();
        let done = desk.run(&arguments);
        assert_eq!(done.status, Some(0), "{files:?}: {}", done.out);
    }
}

#[test]
fn a_used_file_that_is_not_there_names_the_nearest() {
    let desk = Desk::new().file("parts/clamps.plate", "").file("a.plate", "use \"parts/clmaps.plate\"\nuse \"\"\nuse \"parts\"\n");
    let done = desk.run(&["check", "a.plate"]);
    refused(&done, "there is no file `parts/clmaps.plate`", "did you mean `parts/clamps.plate`?");
    refused(&done, "`parts` is a folder", "name the file: `clamps.plate`");
    assert_eq!(done.underlined(), ["\"parts/clmaps.plate\"", "\"\"", "\"parts\""]);
}

#[test]
fn files_that_use_each_other_show_the_circle() {
    let desk = Desk::new()
        .file("a.plate", "use \"b.plate\"\n")
        .file("b.plate", "use \"c.plate\"\n")
        .file("c.plate", "use \"a.plate\"\n")
        .file("s.plate", "use \"s.plate\"\n");
    refused(&desk.run(&["check", "a.plate"]), "these files use each other in a circle", "a.plate → b.plate → c.plate → a.plate");
    refused(&desk.run(&["check", "./a.plate"]), "these files use each other in a circle", "a.plate → b.plate → c.plate → a.plate");
    refused(&desk.run(&["check", "s.plate"]), "in a circle", "s.plate → s.plate");
}

#[test]
fn a_file_that_is_too_large_is_not_read_to_its_end() {
    let desk = Desk::new().file("large.plate", "").file("a.plate", "use \"large.plate\"\n");
    // A terabyte that is nowhere on the disk.
    std::fs::OpenOptions::new().write(true).open(desk.path("large.plate")).unwrap().set_len(1 << 40).unwrap();
    for arguments in [&["check", "large.plate"][..], &["check", "a.plate"], &["tidy", "large.plate"], &["check", "."]] {
        refused(&desk.run_patiently(arguments), "the largest that is read has", "split the design");
    }
}

/// To open a pipe is to wait for whoever writes into it.
#[cfg(unix)]
#[test]
fn only_files_are_read() {
    let desk = Desk::new()
        .file("a.plate", "use \"pipe.plate\"\n")
        .file("b.plate", "use \"to_pipe.plate\"\nlet b 1 m\n")
        .file("folder/c.plate", "let c  1 m\n");
    let pipe = |name: &str| assert!(std::process::Command::new("mkfifo").arg(desk.path(name)).status().unwrap().success());
    ["pipe.plate", "folder/pipe.plate", "folder/CACHEDIR.TAG"].into_iter().for_each(pipe);
    std::os::unix::fs::symlink("pipe.plate", desk.path("to_pipe.plate")).unwrap();
    for (arguments, name) in [
        (&["check", "pipe.plate"][..], "pipe.plate"),
        (&["check", "to_pipe.plate"], "to_pipe.plate"),
        (&["value", "pipe.plate", "1 m"], "pipe.plate"),
        (&["tidy", "pipe.plate"], "pipe.plate"),
        (&["tidy", "--check", "to_pipe.plate"], "to_pipe.plate"),
        (&["draw", "pipe.plate"], "pipe.plate"),
        (&["check", "a.plate"], "pipe.plate"),
        (&["check", "b.plate"], "to_pipe.plate"),
        (&["check", "/dev/zero"], "/dev/zero"),
        (&["check", "/dev/stdin"], "/dev/stdin"),
    ] {
        refused(&desk.run_patiently(arguments), &format!("`{name}` is a pipe or a device"), "name a file that its text stands in");
    }
    // In a folder they are passed over.
    for command in [&["check", "folder"][..], &["tidy", "--check", "folder"]] {
        assert_eq!(desk.run_patiently(command).status, Some(0));
    }
    // Files that say what is left out are opened by whoever looks for designs.
    std::fs::create_dir_all(desk.path("folder/below")).unwrap();
    std::fs::write(desk.path("folder/below/d.plate"), "let d  1 m\n").unwrap();
    pipe("folder/below/.gitignore");
    for (command, told) in [(&["check", "folder"][..], "1 design in"), (&["tidy", "--check", "folder"], "")] {
        let done = desk.run_patiently(command);
        refused(&done, "`folder/below` cannot be looked into: `folder/below/.gitignore` is a pipe or a device", "take it away");
        assert!(done.out.contains(told), "{}", done.out);
    }
    pipe("folder/.ignore");
    for folder in ["folder", "folder/below"] {
        refused(&desk.run_patiently(&["check", folder]), "cannot be looked into: ", "take it away");
    }
}

#[cfg(unix)]
#[test]
fn links_that_lead_nowhere_are_called_so() {
    use std::os::unix::fs::symlink;
    let desk = Desk::new().file("job/a.plate", "use \"lost.plate\"\nuse \"round.plate\"\nuse \"../job/lost.plate\"\n");
    symlink("nothing.plate", desk.path("job/lost.plate")).unwrap();
    symlink("around.plate", desk.path("job/round.plate")).unwrap();
    symlink("round.plate", desk.path("job/around.plate")).unwrap();
    let done = desk.run(&["check", "job/a.plate"]);
    refused(&done, "`job/lost.plate` is a link that leads nowhere", "put the file itself there");
    refused(&done, "`job/round.plate` is a link that leads nowhere", "put the file itself there");
    refused(&desk.run(&["check", "job/lost.plate"]), "`job/lost.plate` is a link that leads nowhere", "put the file itself there");
    refused(&desk.run(&["tidy", "job/round.plate"]), "`job/round.plate` is a link that leads nowhere", "put the file itself there");
}

/// What lies outside, and even whether it does, is nobody's business who reads what is said of the design.
#[cfg(unix)]
#[test]
fn nothing_is_told_of_what_lies_outside() {
    use std::os::unix::fs::symlink;
    let desk = Desk::new().file("secret_name.plate", "let secret 1 m\n").file("job/a.plate", "");
    symlink("..", desk.path("job/up")).unwrap();
    symlink("../nothing_there.plate", desk.path("job/lost.plate")).unwrap();
    symlink("../nothing_there/deep", desk.path("job/lost_folder")).unwrap();
    for target in ["up/secret_nam.plate", "up/secret_name.plate", "lost.plate", "lost_folder/x.plate", "up/no/x.plate"] {
        std::fs::write(desk.path("job/a.plate"), format!("use \"{target}\"\n")).unwrap();
        let done = desk.run(&["check", "job/a.plate"]);
        refused(&done, &format!("`{target}` is a link that leads outside the design's own folder"), "put the file itself there");
        assert!(!done.out.contains("secret_name.plate`") || target.contains("secret_name"), "{}", done.out);
    }
}
