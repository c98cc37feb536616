//! The report as a file: that it is written, that it is the same again, that it carries all it needs, what people read in it.
//! What it does in a browser is tested in `tests/browser`.

use super::desk::Desk;

const FAILS: &str = "lid big \"Lid <b>&amp; all\" { uplift 3 kN }\npeg one { holds big; working_load 4 kN }\n";

fn example(name: &str) -> String {
    std::fs::read_to_string(format!("{}/examples/{name}.plate", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

/// The words of a page without its style, script and data, one line for each piece that stands by itself.
fn words(page: &str) -> String {
    let mut page = page.to_owned();
    for (open, close) in [("<style>", "</style>"), ("<script", "</script>"), ("<!--", "-->")] {
        while let Some(from) = page.find(open) {
            let to = page[from..].find(close).unwrap() + from + close.len();
            page.replace_range(from..to, "");
        }
    }
    const ALONE: [&str; 22] = [
        "h1", "h2", "h3", "h4", "h5", "p", "li", "tr", "dt", "div", "title", "section", "header", "footer", "table", "article", "summary",
        "caption", "figure", "button", "text", "output",
    ];
    let mut out = String::new();
    let mut rest = page.as_str();
    while let Some(from) = rest.find('<') {
        out.push_str(&rest[..from]);
        let to = rest[from..].find('>').unwrap() + from;
        let name: String = rest[from + 1..to].trim_start_matches('/').chars().take_while(char::is_ascii_alphanumeric).collect();
        if ALONE.contains(&name.as_str()) {
            out.push('\n');
        } else if ["td", "th", "dd", "svg"].contains(&name.as_str()) {
            out.push_str("  ");
        }
        rest = &rest[to + 1..];
    }
    out.push_str(rest);
    let plain = out.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&");
    let lines = plain.lines().map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "));
    lines.filter(|line| !line.is_empty()).collect::<Vec<_>>().join("\n")
}

/// One section of the page.
fn section<'p>(page: &'p str, id: &str) -> &'p str {
    let from = page.find(&format!("<section id=\"{id}\"")).unwrap_or_else(|| panic!("no section {id}"));
    let to = page[from..].find("</section>").unwrap() + from;
    &page[from..to]
}

#[test]
fn it_is_written_under_the_design_s_name_with_the_status_of_the_check() {
    let desk = Desk::with(FAILS);
    let done = desk.run(&["report", "a.plate"]);
    assert_eq!(done.status, Some(1), "{}", done.err);
    assert_eq!(done.out.trim(), "wrote a.html");
    let page = desk.read("a.html");
    assert!(page.starts_with("<!DOCTYPE html>"));
    assert!(
        words(section(&page, "answer")).contains("1 of 1 checks fails")
            || words(section(&page, "answer")).contains("One of 1 checks fails")
    );
    assert_eq!(
        Desk::with("lid big { uplift 1 kN }\npeg one { holds big; working_load 4 kN }\n").run(&["report", "a.plate"]).status,
        Some(0)
    );
}

#[test]
fn the_same_design_gives_the_same_bytes() {
    let desk = Desk::new().file("heron_fold.plate", example("heron_fold"));
    let page = |day: &str| {
        let done = desk.run_with(&["report", "heron_fold.plate"], &[("SOURCE_DATE_EPOCH", day)]);
        assert_eq!(done.status, Some(0), "{}", done.err);
        desk.read("heron_fold.html")
    };
    // Two days on which the same acceptances count.
    assert_eq!(page("1798761600"), page("1798948800"));
}

#[test]
fn date_and_revision_stand_in_the_title_block() {
    let desk = Desk::with(FAILS);
    desk.run(&["report", "a.plate", "--date", "2027-05-02", "--revision", "C <draft>"]);
    let words = words(&desk.read("a.html"));
    assert!(words.contains("2027-05-02") && words.contains("C <draft>"), "{words}");
    let done = desk.run(&["report", "a.plate", "--date", "2 May"]);
    assert_eq!(done.status, Some(2));
    assert!(
        done.err.contains("2 May") && done.err.contains("not a day of the calendar") && done.err.contains("2027-05-02"),
        "{}",
        done.err
    );
}

#[test]
fn acceptances_are_judged_on_the_date_of_issue() {
    let design = format!("{FAILS}accept lidding.pegs_hold {{ because \"tied down as well\"; until 2027-03-01 }}\n");
    let desk = Desk::with(&design);
    assert_eq!(desk.run(&["report", "a.plate", "--date", "2027-02-01"]).status, Some(0));
    assert_eq!(desk.run(&["report", "a.plate", "--date", "2027-04-01"]).status, Some(1));
}

#[test]
fn a_file_of_somebody_else_is_left_alone() {
    let desk = Desk::with(FAILS).file("a.html", "my own page");
    let done = desk.run(&["report", "a.plate"]);
    assert_eq!(done.status, Some(2));
    assert_eq!(desk.read("a.html"), "my own page");
    assert_eq!(desk.run(&["report", "a.plate", "--replace"]).status, Some(1));
    assert_eq!(desk.run(&["report", "a.plate"]).status, Some(1), "one of ours is written over unasked");
}

#[test]
fn what_the_design_says_cannot_become_part_of_the_page() {
    let desk =
        Desk::with("lid big \"<script>alert(1)</script>\" { uplift 3 kN }\npeg one \"</style><b>\" { holds big; working_load 4 kN }\n");
    desk.run(&["report", "a.plate", "--revision", "</style><script>alert(2)</script>"]);
    let page = desk.read("a.html");
    assert!(!page.contains("<script>alert"), "markup of the design's own");
    assert_eq!(page.matches("</style>").count(), 1);
}

#[test]
fn it_carries_all_it_needs() {
    let desk = Desk::new().file("heron_fold.plate", example("heron_fold"));
    desk.run(&["report", "heron_fold.plate"]);
    let page = desk.read("heron_fold.html");
    for outside in [" src=", "url(http", "@import", "<link", "href=\"http", "fetch(", "XMLHttpRequest"] {
        assert!(!page.contains(outside), "{outside}");
    }
}

#[test]
fn a_design_with_mistakes_says_so_first() {
    let desk = Desk::with(&format!("{FAILS}lid wrong {{ weight 3 }}\n"));
    let done = desk.run(&["report", "a.plate"]);
    assert_eq!(done.status, Some(2));
    let words = words(section(&desk.read("a.html"), "answer"));
    assert!(words.lines().nth(1).unwrap().starts_with("Part of the design could not be understood"), "{words}");
    assert!(words.contains("a.plate:4") && words.contains("weight"), "{words}");
}

/// What people read, but for the calculations: those are the numbers of `check`, held against it in `tests/browser`.
#[test]
fn what_people_read() {
    for name in ["heron_fold", "sorrel_kettle"] {
        let desk = Desk::new().file(&format!("{name}.plate"), example(name));
        let done = desk.run(&["report", &format!("{name}.plate"), "--date", "2027-01-01", "--revision", "A"]);
        assert_eq!(done.status, Some(0), "{}", done.err);
        let page = desk.read(&format!("{name}.html"));
        let parts = ["answer", "roll", "assumed", "cautions", "reviews"].map(|id| words(section(&page, id)));
        insta::assert_snapshot!(name, parts.join("\n\n"));
    }
}
