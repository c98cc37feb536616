//! What is offered in rules, in what goes onto paper and in acceptances, each on a real file.

use super::client::{Client, position, uri};
use serde_json::{Value, json};

const HERON: &str = include_str!("../../../examples/heron_fold.plate");

/// What is offered at the `|` of lines that are put behind a whole design.
fn offered(marked: &str) -> Vec<Value> {
    let text = format!("{HERON}\n{marked}\n");
    let offset = text.rfind('|').unwrap();
    let text = format!("{}{}", &text[..offset], &text[offset + 1..]);
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().canonicalize().unwrap().join("heron_fold.plate");
    std::fs::write(&path, &text).unwrap();
    let mut client = Client::ready(&[folder.path()]);
    client.open(&uri(&path), &text);
    let params = json!({ "textDocument": { "uri": uri(&path) }, "position": position(&text, offset) });
    client.ask("textDocument/completion", params)["items"].as_array().unwrap().clone()
}

fn labels(items: &[Value]) -> Vec<&str> {
    items.iter().map(|item| item["label"].as_str().unwrap()).collect()
}

/// What has to be offered at a place, and what must not be.
fn check(marked: &str, wanted: &[&str], unwanted: &[&str]) {
    let items = offered(marked);
    let found = labels(&items);
    for word in wanted {
        assert!(found.contains(word), "`{word}` at {marked}: {:?}", &found[..found.len().min(20)]);
    }
    for word in unwanted {
        assert!(!found.contains(word), "`{word}` at {marked}");
    }
}

#[test]
fn what_a_rule_goes_over() {
    check("rule own.a \"A\" {\n  |\n}", &["each", "when", "demand", "mend", "points_to"], &["kind", "shape"]);
    check("rule own.a \"A\" {\n  each c |\n}", &["in"], &["clamp"]);
    check("rule own.a \"A\" {\n  each c in |\n}", &["clamp", "wall"], &["demand", "c24"]);
    check("rule own.a \"A\" {\n  each c in clamp, r in c.|\n}", &["holds", "station"], &["stands_on"]);
    check("rule own.a \"A\" {\n  each c in clamp where c.|\n}", &["station", "working_load"], &["stands_on"]);
    check("rule own.a \"A\" {\n  each c in clamp, w in wall where w.he|\n}", &["height"], &["working_load"]);
}

#[test]
fn lines_of_a_rule_know_what_it_goes_over() {
    for line in ["demand", "capacity", "require", "when", "points_to", "mend"] {
        let rule = |rest: &str| format!("rule own.a \"A\" {{\n  each c in clamp, r in c.holds\n  {line} {rest}\n}}");
        check(&rule("|"), &["c", "r"], &[]);
        check(&rule("c.|"), &["station", "working_load"], &["pitch"]);
        check(&rule("r.|"), &["pitch", "mass"], &["working_load"]);
    }
    check("rule own.a \"A\" {\n  each c in clamp\n  mend c.station |\n}", &["to"], &[]);
    check("rule own.a \"A\" {\n  each r in roof\n  demand sum(w.|\n}", &[], &["station"]);
    check("rule own.a \"A\" {\n  each r in roof\n  demand sum(w.height for w in |\n}", &["wall", "r"], &["c24"]);
    check(
        "rule own.a \"A\" {\n  each r in roof\n  demand sum(w.height for w in wall where w.|\n}",
        &["height", "stands_on"],
        &["working_load"],
    );
    check("rule own.a \"A\" {\n  each r in roof\n  require yes\n  advice |\n}", &["yes", "no"], &["r"]);
    check("rule own.a \"A\" {\n  each r in roof\n  require yes\n  state |\n}", &["shut", "moving", "open"], &["r"]);
    check("kind hook \"A\" {\n  holds  link to roof carrying |\n}", &["gravity", "uplift"], &["required"]);
}

#[test]
fn what_a_rule_names_is_known_in_its_lines() {
    let rule = |rest: &str| format!("rule own.a, own.b \"A\" {{\n  {rest}\n}}");
    check(&rule("|"), &["for", "let", "otherwise"], &[]);
    check(&rule("for end |"), &["in"], &["clamp"]);
    check(&rule("for end in [open, closed]\n  each s in sensor where s.marks == |"), &["end", "s"], &[]);
    check(&rule("for part in [post, footing]\n  each p in part\n  demand p.|"), &["height", "stands_on"], &["working_load"]);
    check(&rule("each c in clamp\n  let far c.station\n  demand |"), &["far", "c"], &[]);
    check(&rule("each c in clamp\n  let above c.holds\n  demand above.|"), &["pitch", "mass"], &["working_load"]);
}

#[test]
fn lines_of_what_goes_onto_paper() {
    for (sort, own, other) in [
        ("picture", "shape", "takes"),
        ("purchase", "cut_from", "takes"),
        ("task", "takes", "shape"),
        ("reminder", "card", "shape"),
        ("roll", "from", "shape"),
        ("zone", "label", "shape"),
        ("reading", "lit", "shape"),
        ("review", "looks_at", "shape"),
    ] {
        check(&format!("{sort} own.a \"A\" {{\n  |\n}}"), &["each", "when", own], &[other]);
        check(&format!("{sort} own.a \"A\" {{\n  each w in |\n}}"), &["wall", "clamp"], &[own]);
        check(&format!("{sort} own.a \"A\" {{\n  each w in wall\n  when w.|\n}}"), &["height"], &[own]);
    }
    check("|", &["picture", "task", "review"], &[]);
    check("picture own.a \"A\" {\n  each w in wall\n  sheet |\n}", &["plan", "side_open", "load_path"], &["purchase"]);
    check("picture own.a \"A\" {\n  each w in wall\n  line |\n}", &["cut", "outline", "thin"], &[]);
    check("task own.a \"A\" {\n  each w in wall\n  after [done(\"|\")]\n}", &["frame.wall", "ground.pour"], &["review.engineer"]);
    check("task own.a \"A\" {\n  each w in wall\n  trade \"|\"\n}", &["carpenter", "concrete"], &["frame.wall"]);
    check("review own.a \"A\" {\n  each w in wall\n  areas |\n}", &["holddown", "piers"], &["wall"]);
    check("reading own.a \"A\" {\n  each w in wall\n  lit |\n}", &["travel", "w"], &[]);
}

#[test]
fn the_rule_that_is_accepted() {
    for marked in ["accept |", "accept tra|", "accept travel.open|", "accept travel.|"] {
        let items = offered(marked);
        let rule = items.iter().find(|item| item["label"] == "travel.open_sensor_margin").unwrap_or_else(|| panic!("{marked}"));
        // All of the name that stands there is replaced.
        assert_eq!(rule["textEdit"]["range"]["start"]["character"], 7, "{marked}: {}", rule["textEdit"]);
    }
    check("accept travel.open_sensor_margin {\n  |\n}", &["on", "because", "until"], &["wall"]);
    check("accept travel.open_sensor_margin {\n  on |\n}", &["main_roof"], &[]);
}
