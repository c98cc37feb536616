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

/// What is asked for stands in the file, and all else follows from it: no check fails for it, in whichever size.
#[test]
fn a_first_file_of_ones_own_sizes() {
    for (options, lines) in [
        (
            &["--length", "2.6 m", "--width", "2.2 m", "--opens", "south_west"][..],
            &["let wall_length   2.6 m", "rolls_open    south_west"][..],
        ),
        (&["--length", "7.5 m", "--width", "5 m", "--code", "asce7"], &["design_code   asce7", "exposure      exposure_c"]),
        (
            &["--units", "us", "--length", "16 ft 6 in", "--code", "eurocode"],
            &["let wall_length   16 ft 6 in", "terrain       open_country"],
        ),
        (&["--units", "us"], &["exposure      exposure_c", "design_code   asce7", "let wall_to_wall  10 ft"]),
    ] {
        let desk = Desk::new();
        let done = desk.run(&[&["new", "hill"], options].concat());
        assert_eq!(done.status, Some(0), "{options:?}: {}", done.err);
        let text = desk.read("hill.plate");
        for line in lines {
            assert!(text.contains(line), "{options:?}: {line}\n{text}");
        }
        assert!(!text.contains('{') || !text.contains("{default}") && !text.contains("{asce7}") && !text.contains("{length}"), "{text}");
        let document = desk.run(&["check", "hill.plate", "--format", "json"]).json();
        assert_eq!((&document["problems"], &document["summary"]["fail"]), (&serde_json::json!([]), &serde_json::json!(0)), "{options:?}");
    }
    for (options, message) in [
        (&["--opens", "nroth"][..], "`rolls_open` cannot be `nroth`"),
        (&["--code", "euro"], "`design_code` cannot be `euro`"),
        (&["--length", "4"], "`runs` is a length, and this is a plain number"),
        (&["--length", "4 kg"], "`runs` is a length, and this is a mass"),
        (&["--width", "3 m } beam x {"], ""),
    ] {
        let desk = Desk::new();
        let done = desk.run(&[&["new", "hill"], options].concat());
        assert_eq!(done.status, Some(2), "{options:?}");
        assert!(done.err.contains(message), "{options:?}: {}", done.err);
        assert!(!desk.path("hill.plate").exists());
    }
}

/// A whole design to start from: on it every check holds, under whatever name.
#[test]
fn a_whole_design_to_start_from() {
    for shape in ["gable", "shed-roof", "steel-beams"] {
        let desk = Desk::new();
        assert_eq!(desk.run(&["new", "hill", "--like", shape]).status, Some(0));
        let done = desk.run(&["check", "hill.plate", "--strict", "--format", "json"]);
        assert_eq!(done.status, Some(0), "{shape}");
        assert_eq!(desk.run(&["tidy", "--check", "hill.plate"]).status, Some(0), "{shape}");
        let text = desk.read("hill.plate");
        assert!(text.starts_with("# hill: begun from") && text.contains("\nobservatory hill "), "{text}");
    }
    assert_eq!(Desk::new().run(&["new", "hill", "--like", "gable", "--length", "3 m"]).status, Some(2));
}
