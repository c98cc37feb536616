//! `takeoff`, `sequence`, `cards`: what the sound designs give on paper, read back by libraries, and how it goes to disk.

use super::desk::{Desk, Done};

const DESIGNS: [(&str, &str); 2] =
    [("heron", include_str!("../../../examples/heron_fold.plate")), ("sorrel", include_str!("../../../examples/sorrel_kettle.plate"))];

/// Small and soon read, where it is all the same of which design a document is.
const SISKIN: &str = include_str!("../../designs/siskin_pushed.plate");

fn desk() -> Desk {
    DESIGNS.iter().fold(Desk::new(), |desk, (name, text)| desk.file(&format!("{name}.plate"), text))
}

fn good(done: &Done) -> &str {
    assert_eq!((done.status, done.err.as_str()), (Some(0), ""));
    &done.out
}

/// One text, wherever something is said of a design; nothing says that it may be built.
#[test]
fn who_has_the_last_word() {
    let desk = desk();
    let words = |text: &str| text.replace("&#39;", "'").split_whitespace().collect::<Vec<_>>().join(" ");
    let last = words(wallplate::session::LAST_WORD);
    for arguments in [
        &["check", "heron.plate"][..],
        &["check", "heron.plate", "--all"],
        &["takeoff", "heron.plate"],
        &["takeoff", "heron.plate", "--format", "markdown"],
        &["sequence", "heron.plate"],
        &["sequence", "heron.plate", "--format", "markdown"],
        &["cards", "heron.plate"],
        &["cards", "heron.plate", "--format", "html"],
        &["--help"],
        &["man"],
    ] {
        let out = words(&desk.run(arguments).out);
        assert!(out.contains(&last), "{arguments:?}: {out}");
    }
    desk.run(&["report", "heron.plate"]);
    let report = words(&desk.read("heron.html"));
    let answer = report.split("class=\"verdict").nth(1).and_then(|rest| rest.split("</div>").next()).unwrap();
    assert!(answer.contains(&last) && answer.contains("Not checked:"), "{answer}");
    for permission in ["all hold", "checks hold", "is safe", "before it hurts"] {
        assert!(!report.contains(permission), "{permission}");
    }
    let readme = words(include_str!("../../../README.md"));
    assert!(readme.contains(&last));
}

#[test]
fn what_people_read() {
    let desk = desk();
    for (name, _) in DESIGNS {
        let file = format!("{name}.plate");
        for (command, format) in [
            ("takeoff", "text"),
            ("takeoff", "markdown"),
            ("takeoff", "csv"),
            ("sequence", "text"),
            ("sequence", "markdown"),
            ("sequence", "chart"),
            ("cards", "text"),
            ("cards", "markdown"),
            ("cards", "html"),
        ] {
            let done = desk.run(&[command, &file, "--format", format]);
            insta::assert_snapshot!(format!("{name}_{command}_{format}"), good(&done));
        }
        let calendar = desk.run(&["sequence", &file, "--format", "calendar", "--start", "2027-05-03"]);
        insta::assert_snapshot!(format!("{name}_sequence_calendar"), good(&calendar).replace('\r', ""));
    }
}

#[test]
fn nothing_is_unknown_in_the_sound_designs() {
    let desk = desk();
    for (name, _) in DESIGNS {
        for command in ["takeoff", "sequence", "cards"] {
            let done = desk.run(&[command, &format!("{name}.plate")]);
            assert!(!good(&done).contains("not known"), "{name} {command}: {}", done.out);
        }
    }
}

#[test]
fn what_is_not_known_is_listed_with_the_line_to_write() {
    let text = DESIGNS[0].1.replace("  depth         700 mm            # below frost\n", "");
    assert_ne!(text, DESIGNS[0].1);
    let desk = Desk::new().file("a.plate", text).file("b.plate", DESIGNS[0].1.replace("merchant { }", "#"));
    let done = desk.run(&["takeoff", "a.plate"]);
    let plain = done.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        plain.contains("Concrete for a footing (gantry_pad[1] to [6]): write `depth …` in gantry_pad[1] (bottom below the ground)"),
        "{plain}"
    );
    let csv = desk.run(&["takeoff", "a.plate", "--format", "csv"]).out;
    assert!(csv.lines().any(|line| line.starts_with("unknown,") && line.contains("depth")), "{csv}");
    // Without a merchant no length can be cut: each such list says so.
    let done = desk.run(&["takeoff", "b.plate"]);
    let plain = done.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(plain.contains("write a `merchant` block (What the merchant sells, and in which sizes)"), "{plain}");
    assert!(plain.contains("Timber of a beam (east_plate, west_plate)"), "{plain}");
}

#[test]
fn a_spreadsheet_reads_the_takeoff() {
    let desk = desk();
    for (name, _) in DESIGNS {
        let done = desk.run(&["takeoff", &format!("{name}.plate"), "--format", "csv"]);
        let mut table = csv::Reader::from_reader(good(&done).as_bytes());
        assert_eq!(
            table.headers().unwrap().iter().collect::<Vec<_>>(),
            "row,group,item,count,each,for,price,cost,note".split(',').collect::<Vec<_>>()
        );
        let rows: Vec<csv::StringRecord> = table.records().map(Result::unwrap).collect();
        assert!(rows.len() >= 50, "{}", rows.len());
        for row in &rows {
            assert!(["buy", "cut"].contains(&&row[0]), "{row:?}");
            assert!(row[3].parse::<u64>().is_ok_and(|count| count > 0), "{row:?}");
        }
        // Every bar that is bought for cutting is cut.
        let bars = |sort: &str, item: &str| -> u64 {
            rows.iter().filter(|row| &row[0] == sort && &row[2] == item).map(|row| row[3].parse::<u64>().unwrap()).sum()
        };
        let cut: std::collections::BTreeSet<&str> = rows.iter().filter(|row| &row[0] == "cut").map(|row| &row[2]).collect();
        assert!(cut.len() >= 5, "{cut:?}");
        for item in cut {
            assert_eq!(bars("buy", item), bars("cut", item), "{item}");
        }
    }
}

/// Plates of 9.15 m from -0.35 m, sold up to 6 m: neither piece is longer if they meet between 8.80 - 6.00 = 2.80 m and -0.35 + 6.00 =
/// 5.65 m; the wall ends at 4.20 m, the first post stands at 5.70 m. Beams of 25 ft, sold up to 20 ft: between 5 ft and 20 ft, over the
/// wall of 12 ft or the post at 12 ft + 4 ft 2 in. Where the yard has 32 ft nothing is said.
#[test]
fn what_is_longer_than_is_sold_says_where_it_may_be_joined() {
    let desk = desk();
    let takeoff = |name: &str| good(&desk.run(&["takeoff", name])).split_whitespace().collect::<Vec<_>>().join(" ");
    let heron = takeoff("heron.plate");
    assert!(heron.contains("joint of east plate, where it is not ordered in one piece: over a stud from 2.8 m to 4.2 m;"), "{heron}");
    let sorrel = takeoff("sorrel.plate");
    assert!(sorrel.contains("over a stud from 5 ft to 12 ft or over the post at 16.167 ft; nowhere else"), "{sorrel}");
    let long = DESIGNS[0].1.replacen("merchant { }", "merchant { timber_lengths 6 m, 9.6 m }", 1);
    let desk = Desk::new().file("a.plate", long);
    assert!(!good(&desk.run(&["takeoff", "a.plate"])).contains("in one piece"));
}

#[test]
fn a_formula_in_a_name_stays_a_text() {
    let desk = Desk::new().file("a.plate", DESIGNS[0].1.replace("\"plywood, 12 mm, for outdoors\"", "\"=1+1\""));
    let done = desk.run(&["takeoff", "a.plate", "--format", "csv"]);
    assert!(good(&done).contains(",'=1+1,"), "{}", done.out);
}

#[test]
fn a_calendar_reads_the_order_of_work() {
    use ical::parser::Component as _;
    use ical::parser::ical::component::IcalEvent;
    let said = |event: &IcalEvent, name: &str| event.get_property(name).and_then(|property| property.value.clone()).unwrap_or_default();
    let day = |event: &IcalEvent, name: &str| {
        let of = event.get_property(name).and_then(|property| property.params.clone());
        assert_eq!(of, Some(vec![("VALUE".to_owned(), vec!["DATE".to_owned()])]), "{name}");
        said(event, name)
    };
    let desk = desk();
    for (name, _) in DESIGNS {
        let done = desk.run(&["sequence", &format!("{name}.plate"), "--format", "calendar", "--start", "2027-05-03"]);
        let text = good(&done);
        assert!(text.split("\r\n").all(|line| line.len() <= 75 && !line.contains(['\r', '\n'])), "{text}");
        let calendars: Vec<_> = ical::IcalParser::new(text.as_bytes()).collect::<Result<_, _>>().unwrap();
        let [calendar] = calendars.as_slice() else { panic!("{} calendars", calendars.len()) };
        assert!(calendar.events.len() >= 8, "{}", calendar.events.len());
        let mut uids = std::collections::BTreeSet::new();
        let mut last = String::new();
        for event in &calendar.events {
            assert!(uids.insert(said(event, "UID")));
            let (start, end) = (day(event, "DTSTART"), day(event, "DTEND"));
            assert!(start.len() == 8 && start < end && start >= last, "{start} {end}");
            last = start;
            assert!(said(event, "DESCRIPTION").contains(". ") && !said(event, "SUMMARY").is_empty());
        }
        assert_eq!(day(&calendar.events[0], "DTSTART"), "20270503");
        assert!(said(&calendar.events[0], "SUMMARY").starts_with("owner\\, visit 1 of"), "{}", said(&calendar.events[0], "SUMMARY"));
    }
}

#[test]
fn a_first_day_is_a_day() {
    let desk = desk();
    for wrong in ["2027-02-29", "2027-02-30", "tomorrow", "2027-05", "2.5.2027", "2027-05-02-1", "", "27-05-02", "2027-5-2", "+027-05-02"] {
        let done = desk.run(&["sequence", "heron.plate", "--start", wrong]);
        assert_eq!(done.status, Some(2));
        assert!(done.err.contains("year-month-day"), "{}", done.err);
    }
    let done = desk.run(&["sequence", "heron.plate", "--format", "calendar"]);
    assert_eq!(done.status, Some(2));
    assert!(done.err.contains("--start"), "{}", done.err);
}

/// Where a step stands in the order, by the beginning of its title.
fn place(text: &str, title: &str) -> usize {
    text.lines().position(|line| line.contains(title)).unwrap_or_else(|| panic!("{title} is not in {text}"))
}

#[test]
fn the_order_makes_sense_on_a_site() {
    let desk = desk();
    for (name, _) in DESIGNS {
        let done = desk.run_with(&["sequence", &format!("{name}.plate")], &[("COLUMNS", "120")]);
        let text = good(&done);
        for (first, then) in [
            ("Dig for a footing", "Pour a footing"),
            ("Pour a footing", "Set a post"),
            ("Pour a footing", "Set a pier"),
            ("Frame and raise a wall", "Set a beam"),
            ("Set a beam", "Lay a track"),
            ("Lay a track", "Set the wheels"),
            ("Block both ends", "Set the wheels"),
            ("Set the wheels", "Frame the roof"),
            ("Fasten a clamp", "Sheath and cover"),
            ("Fasten a stop", "Drive the roof under power"),
            ("Set a travel sensor", "Drive the roof under power"),
            ("Connect, test", "Drive the roof under power"),
            ("Drive the roof under power", "Set up a telescope"),
            ("Set a pier", "Set up a telescope"),
        ] {
            assert!(place(text, first) < place(text, then), "{name}: {first} comes after {then}");
        }
    }
}

#[test]
fn a_circle_is_told_with_its_places() {
    let task = |name: &str, after: &str| {
        format!("task {name} \"Do {name}\" {{ each h in hatch; trade \"joiner\"; takes 1 day; after [done(\"{after}\", h)] }}\n")
    };
    let text = format!(
        "kind hatch \"x\" {{ width length \"its width\"\n}}\nhatch north {{ }}\n{}{}{}",
        task("w.a", "w.b"),
        task("w.b", "w.c"),
        task("w.c", "w.a")
    );
    let desk = Desk::new().file("a.plate", text);
    let done = desk.run(&["sequence", "a.plate"]);
    assert_eq!((done.status, done.out.as_str()), (Some(1), ""));
    assert!(done.err.contains("the order of work goes round in a circle"), "{}", done.err);
    assert!(done.err.contains("`w.a (north)` waits for `w.b (north)`"), "{}", done.err);
    assert!(done.underlined().contains(&"hatch north".to_owned()), "{:?}", done.underlined());
    let wrong = Desk::new()
        .file("a.plate", format!("kind hatch \"x\" {{ width length \"its width\"\n}}\nhatch north {{ }}\n{}", task("w.a", "w.aa")));
    let done = wrong.run(&["sequence", "a.plate"]);
    assert_eq!(done.status, Some(2));
    assert!(done.err.contains("there is no task `w.aa`") && done.err.contains("did you mean `w.a`?"), "{}", done.err);
}

#[test]
fn every_clamp_is_on_the_cards_by_name() {
    let desk = desk();
    let cards = desk.run(&["cards", "heron.plate"]);
    let lines: Vec<&str> = good(&cards).lines().map(str::trim).collect();
    for clamp in ["clamp_se", "clamp_e", "clamp_ne", "clamp_sw", "clamp_w", "clamp_nw"] {
        assert!(lines.contains(&format!("[ ] open {clamp}").as_str()), "{clamp}");
        assert_eq!(
            lines.iter().filter(|line| **line == format!("[ ] shut {clamp}")).count(),
            2,
            "{clamp}: before closing, and without power"
        );
    }
    // What is not there is on no card.
    let plain = desk.run(&["cards", "sorrel.plate"]).out;
    assert!(!plain.contains("battery") && !plain.contains("_rack"), "{plain}");
}

#[test]
fn a_design_that_is_not_understood_or_does_not_hold_is_said_to_be_so() {
    let desk = desk()
        .file("broken.plate", DESIGNS[0].1.replace("working_load  3.5 kN", "working_load  0.2 kN"))
        .file("odd.plate", DESIGNS[0].1.replace("3.5 kN", "3.5 m"));
    let done = desk.run(&["takeoff", "broken.plate"]);
    assert_eq!(done.status, Some(0));
    assert!(done.err.contains("on this design") && done.err.contains("wallplate check"), "{}", done.err);
    let done = desk.run(&["takeoff", "odd.plate", "--out", "list.txt"]);
    assert_eq!((done.status, done.out.as_str()), (Some(2), ""));
    assert!(!desk.path("list.txt").exists());
}

#[test]
fn documents_go_over_our_own_only() {
    let desk = Desk::new().file("siskin.plate", SISKIN).file("mine.md", "my notes\n").file("mine.csv", "a,b\n");
    for (command, file, format) in [
        ("takeoff", "list.csv", "csv"),
        ("takeoff", "list.md", "markdown"),
        ("takeoff", "list.txt", "text"),
        ("sequence", "order.md", "markdown"),
        ("sequence", "order.svg", "chart"),
        ("sequence", "order.txt", "text"),
        ("cards", "cards.html", "html"),
        ("cards", "cards.md", "markdown"),
        ("cards", "cards.txt", "text"),
    ] {
        let run = || desk.run(&[command, "siskin.plate", "--format", format, "--out", file]);
        assert_eq!(good(&run()), format!("wrote {file}\n"));
        let first = desk.read(file);
        assert_eq!(good(&run()), format!("wrote {file}\n"), "our own is replaced");
        assert_eq!(desk.read(file), first, "the same design gives the same document");
    }
    for _ in 0..2 {
        let done = desk.run(&["sequence", "siskin.plate", "--format", "calendar", "--start", "2027-05-03", "--out", "order.ics"]);
        assert_eq!(good(&done), "wrote order.ics\n");
    }
    for (file, format) in [("mine.md", "markdown"), ("mine.csv", "csv")] {
        let before = desk.read(file);
        let done = desk.run(&["takeoff", "siskin.plate", "--format", format, "--out", file]);
        assert_eq!(done.status, Some(2));
        assert!(done.err.contains("wallplate did not write it") && done.err.contains("--replace"), "{}", done.err);
        assert_eq!(desk.read(file), before);
        assert_eq!(desk.run(&["takeoff", "siskin.plate", "--format", format, "--out", file, "--replace"]).status, Some(0));
        assert_ne!(desk.read(file), before);
    }
    let before = desk.read("siskin.plate");
    assert_eq!(desk.run(&["takeoff", "siskin.plate", "--out", "siskin.plate", "--replace"]).status, Some(2));
    assert_eq!(desk.read("siskin.plate"), before);
}

#[test]
fn a_document_gets_a_folder_and_leaves_nothing_beside_it() {
    let desk = desk();
    for _ in 0..2 {
        assert_eq!(good(&desk.run(&["takeoff", "heron.plate", "--format", "markdown", "--out", "lists/list.md"])), "wrote lists/list.md\n");
        assert_eq!(std::fs::read_dir(desk.path("lists")).unwrap().count(), 1, "nothing else is left behind");
    }
    let done = desk.run(&["takeoff", "heron.plate", "--format", "markdown", "--out", "lists", "--replace"]);
    assert_eq!(done.status, Some(2));
    assert!(done.err.contains("`lists` is a folder"), "{}", done.err);
}

/// Signs that mean something in XML 1.0 §2.4, HTML and JSON (RFC 8259 §7), in a name, in what is bought and in a reason.
#[test]
fn signs_in_a_text_stay_signs_in_every_format() {
    const ODD: &str = "Fold <b> & \"north\" </script>";
    let written = format!("\"{}\"", ODD.replace('"', "\\\""));
    let texts = ["\"Heron Fold, roof to the north\"", "\"plywood, 12 mm, for outdoors\"", "\"a new bracket is ordered; until then"];
    let mut text = DESIGNS[0].1.to_owned();
    for known in texts {
        let (before, rest) = text.split_once(known).unwrap_or_else(|| panic!("no {known}"));
        let rest = if known.ends_with('"') { rest } else { rest.split_once('"').unwrap().1 };
        text = format!("{before}{written}{rest}");
    }
    let desk = Desk::new().file("a.plate", &text);
    let escaped = ODD.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;");
    let is_marked_up = |what: &str, out: &str| {
        assert!(out.contains(&escaped), "{what} does not show the name");
        assert!(!out.contains("<b>") && !out.contains("& "), "{what} has a sign as it is");
    };
    is_marked_up("chart", good(&desk.run(&["sequence", "a.plate", "--format", "chart"])));
    is_marked_up("cards", good(&desk.run(&["cards", "a.plate", "--format", "html"])));
    good(&desk.run(&["draw", "a.plate", "--into", "sheets"]));
    let sheets: Vec<_> = std::fs::read_dir(desk.path("sheets")).unwrap().flatten().map(|entry| entry.path()).collect();
    assert!(sheets.len() > 3);
    for sheet in sheets {
        is_marked_up("a sheet", &std::fs::read_to_string(sheet).unwrap());
    }
    desk.run(&["report", "a.plate", "--into", "reports"]);
    for report in std::fs::read_dir(desk.path("reports")).unwrap().flatten() {
        let page = std::fs::read_to_string(report.path()).unwrap();
        assert!(page.contains(&escaped) && !page.contains("Fold <b>"), "the report");
    }
    for format in ["json", "sarif"] {
        let out = desk.run(&["check", "a.plate", "--format", format]).out;
        serde_json::from_str::<serde_json::Value>(&out).unwrap();
        assert!(out.contains(&serde_json::to_string(ODD).unwrap()), "{format}");
    }
    let csv = desk.run(&["takeoff", "a.plate", "--format", "csv"]);
    let rows: Vec<csv::StringRecord> = csv::Reader::from_reader(good(&csv).as_bytes()).into_records().map(Result::unwrap).collect();
    assert!(rows.iter().any(|row| row.iter().any(|cell| cell == ODD)), "{}", csv.out);
    let list = desk.run(&["takeoff", "a.plate", "--format", "markdown"]);
    assert!(good(&list).contains("Fold \\<b\\> & \"north\" \\</script\\>"), "{}", list.out);
}
