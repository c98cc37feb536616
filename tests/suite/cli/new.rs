//! `new`: a first file that can be read, and nothing written over.

use super::desk::Desk;

#[test]
fn a_first_file_is_read_without_a_mistake() {
    for units in ["metric", "us"] {
        let desk = Desk::new();
        let done = desk.run(&["new", "drumlin_2", "--units", units]);
        assert_eq!((done.status, done.err.as_str()), (Some(0), ""));
        assert!(done.out.contains("wallplate check drumlin_2.plate"), "{}", done.out);
        let text = desk.read("drumlin_2.plate");
        assert!(text.contains("observatory drumlin_2"), "{text}");
        let document = desk.run(&["check", "drumlin_2.plate", "--format", "json"]).json();
        assert_eq!(document["problems"], serde_json::json!([]), "{units}");
        assert_eq!(document["summary"]["fail"], 0, "{units}: {document}");
        // It is laid out as `tidy` lays out.
        assert_eq!(
            desk.run(&["tidy", "--check", "drumlin_2.plate"]).status,
            Some(0),
            "{units}: {}",
            desk.run(&["tidy", "--diff", "drumlin_2.plate"]).out
        );
    }
}

#[test]
fn nothing_is_written_over() {
    let desk = Desk::new().file("drumlin.plate", "# mine\n");
    let done = desk.run(&["new", "drumlin"]);
    assert_eq!(done.status, Some(2));
    assert!(done.err.contains("there is already a file `drumlin.plate`"), "{}", done.err);
    assert_eq!(desk.read("drumlin.plate"), "# mine\n");
    assert_eq!(std::fs::read_dir(desk.path("")).unwrap().count(), 1, "nothing else is left behind");
}

#[test]
fn a_name_that_the_language_does_not_know_is_refused() {
    let desk = Desk::new();
    for (name, near) in
        [("North Hill", "`north_hill`"), ("../escape", "`escape`"), ("2hills", "`hills`"), ("", "lower case"), ("é", "lower case")]
    {
        let done = desk.run(&["new", name]);
        assert_eq!(done.status, Some(2), "{name}");
        assert!(done.err.contains(near), "{name}: {}", done.err);
    }
    assert_eq!(std::fs::read_dir(desk.path("")).unwrap().count(), 0);
    assert_eq!(desk.run(&["new", "hill.plate"]).status, Some(0));
    assert!(desk.path("hill.plate").exists());
}
