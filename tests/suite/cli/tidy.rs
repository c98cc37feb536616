//! `tidy`: files laid out in place, checked, or only compared.

use super::desk::Desk;
use std::io::Write;
use std::process::Stdio;

const WILD: &str = "# a lid\nlet   a    1 m # the first\nlet b 2 m\n";

fn laid_out() -> String {
    wallplate::tidy::tidy(WILD).unwrap()
}

#[test]
fn a_file_is_laid_out_once() {
    assert_ne!(laid_out(), WILD);
    let desk = Desk::new().file("a.plate", WILD).file("b.plate", laid_out());
    let done = desk.run(&["tidy", "a.plate", "b.plate"]);
    assert_eq!((done.status, done.out.as_str()), (Some(0), "a.plate laid out\n"));
    assert_eq!(desk.read("a.plate"), laid_out());
    assert_eq!(desk.run(&["tidy", "a.plate", "b.plate"]).out, "");
    assert_eq!(std::fs::read_dir(desk.path("")).unwrap().count(), 2, "nothing else is left behind");
}

#[test]
fn check_and_diff_change_nothing() {
    let desk = Desk::new().file("a.plate", WILD).file("b.plate", laid_out());
    let done = desk.run(&["tidy", "--check", "a.plate", "b.plate"]);
    assert_eq!((done.status, done.out.as_str()), (Some(1), "a.plate is not laid out in the standard way\n"));
    assert_eq!(desk.run(&["tidy", "--check", "b.plate"]).status, Some(0));
    let done = desk.run(&["tidy", "--diff", "a.plate"]);
    assert_eq!(done.status, Some(0));
    assert!(done.out.contains("-let   a    1 m # the first\n"), "{}", done.out);
    assert_eq!(desk.run(&["tidy", "--diff", "--check", "a.plate"]).status, Some(1));
    assert_eq!(desk.read("a.plate"), WILD);
}

#[test]
fn a_file_with_a_mistake_is_left_as_it_is() {
    let desk = Desk::new().file("bad.plate", "lid {\n a = 3\n}\n").file("a.plate", WILD);
    let done = desk.run(&["tidy", "bad.plate", "a.plate"]);
    assert_eq!(done.status, Some(2));
    assert!(done.err.contains("[bad.plate:2:") && done.err.contains("`bad.plate` is left as it is"), "{}", done.err);
    assert_eq!(desk.read("bad.plate"), "lid {\n a = 3\n}\n");
    assert_eq!(desk.read("a.plate"), laid_out(), "the others are still gone through");
}

#[test]
fn standard_input_goes_to_standard_output() {
    let desk = Desk::new();
    let mut child = desk.command(&["tidy", "-"]).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
    child.stdin.take().unwrap().write_all(WILD.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert_eq!(String::from_utf8(output.stdout).unwrap(), laid_out());
}

#[cfg(unix)]
#[test]
fn rights_and_links_are_kept() {
    use std::os::unix::fs::PermissionsExt;
    let desk = Desk::new().file("real/a.plate", WILD);
    std::fs::set_permissions(desk.path("real/a.plate"), std::fs::Permissions::from_mode(0o640)).unwrap();
    std::os::unix::fs::symlink("real/a.plate", desk.path("link.plate")).unwrap();
    assert_eq!(desk.run(&["tidy", "link.plate"]).status, Some(0));
    assert!(std::fs::symlink_metadata(desk.path("link.plate")).unwrap().is_symlink());
    assert_eq!(desk.read("real/a.plate"), laid_out());
    assert_eq!(std::fs::metadata(desk.path("real/a.plate")).unwrap().permissions().mode() & 0o777, 0o640);
}
