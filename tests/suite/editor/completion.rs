//! What is offered in rules, in what goes onto paper and in acceptances, each on a real file.

use super::client::{Client, position, uri};
use serde_json::{Value, json};

const HERON: &str = include_str!("../../../examples/heron_fold.plate");

/// A whole design that is open, with lines put behind it.
struct Page {
    client: Client,
    uri: String,
    /// It has to be there for as long as its file is open.
    _folder: tempfile::TempDir,
}

impl Page {
    fn open() -> Page {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().canonicalize().unwrap().join("heron_fold.plate");
        std::fs::write(&path, HERON).unwrap();
        let mut client = Client::ready(&[folder.path()]);
        client.open(&uri(&path), HERON);
        Page { client, uri: uri(&path), _folder: folder }
    }

    /// What is offered at the `|` of these lines.
    fn offered(&mut self, marked: &str) -> Vec<Value> {
        let text = format!("{HERON}\n{marked}\n");
        let offset = text.rfind('|').unwrap();
        let text = format!("{}{}", &text[..offset], &text[offset + 1..]);
        self.client.change(&self.uri, json!([{ "text": text }]));
        let params = json!({ "textDocument": { "uri": self.uri }, "position": position(&text, offset) });
        self.client.ask("textDocument/completion", params)["items"].as_array().unwrap().clone()
    }

    /// What has to be offered at a place, and what must not be.
    fn check(&mut self, marked: &str, wanted: &[&str], unwanted: &[&str]) {
        let items = self.offered(marked);
        let found = labels(&items);
        for word in wanted {
            assert!(found.contains(word), "`{word}` at {marked}: {:?}", &found[..found.len().min(20)]);
        }
        for word in unwanted {
            assert!(!found.contains(word), "`{word}` at {marked}");
        }
    }
}

fn labels(items: &[Value]) -> Vec<&str> {
    items.iter().map(|item| item["label"].as_str().unwrap()).collect()
}

#[test]
fn what_a_rule_goes_over() {
    let mut page = Page::open();
    page.check("rule own.a \"A\" {\n  |\n}", &["each", "when", "demand", "mend", "points_to"], &["kind", "shape"]);
    page.check("rule own.a \"A\" {\n  each c |\n}", &["in"], &["clamp"]);
    page.check("rule own.a \"A\" {\n  each c in |\n}", &["clamp", "wall"], &["demand", "c24"]);
    page.check("rule own.a \"A\" {\n  each c in clamp, r in c.|\n}", &["holds", "station"], &["stands_on"]);
    page.check("rule own.a \"A\" {\n  each c in clamp where c.|\n}", &["station", "working_load"], &["stands_on"]);
    page.check("rule own.a \"A\" {\n  each c in clamp, w in wall where w.he|\n}", &["height"], &["working_load"]);
}

#[test]
fn lines_of_a_rule_know_what_it_goes_over() {
    let mut page = Page::open();
    for line in ["demand", "capacity", "require", "when", "points_to", "mend"] {
        let rule = |rest: &str| format!("rule own.a \"A\" {{\n  each c in clamp, r in c.holds\n  {line} {rest}\n}}");
        page.check(&rule("|"), &["c", "r"], &[]);
        page.check(&rule("c.|"), &["station", "working_load"], &["pitch"]);
        page.check(&rule("r.|"), &["pitch", "mass"], &["working_load"]);
    }
    page.check("rule own.a \"A\" {\n  each c in clamp\n  mend c.station |\n}", &["to"], &[]);
    page.check("rule own.a \"A\" {\n  each r in roof\n  demand sum(w.|\n}", &[], &["station"]);
    page.check("rule own.a \"A\" {\n  each r in roof\n  demand sum(w.height for w in |\n}", &["wall", "r"], &["c24"]);
    page.check(
        "rule own.a \"A\" {\n  each r in roof\n  demand sum(w.height for w in wall where w.|\n}",
        &["height", "stands_on"],
        &["working_load"],
    );
    page.check("rule own.a \"A\" {\n  each r in roof\n  require yes\n  advice |\n}", &["yes", "no"], &["r"]);
    page.check("rule own.a \"A\" {\n  each r in roof\n  require yes\n  state |\n}", &["shut", "moving", "open"], &["r"]);
    page.check("kind hook \"A\" {\n  holds  link to roof carrying |\n}", &["gravity", "uplift"], &["required"]);
}

#[test]
fn what_a_rule_names_is_known_in_its_lines() {
    let mut page = Page::open();
    let rule = |rest: &str| format!("rule own.a, own.b \"A\" {{\n  {rest}\n}}");
    page.check(&rule("|"), &["for", "let", "otherwise"], &[]);
    page.check(&rule("for end |"), &["in"], &["clamp"]);
    page.check(&rule("for end in [open, closed]\n  each s in sensor where s.marks == |"), &["end", "s"], &[]);
    page.check(&rule("for part in [post, footing]\n  each p in part\n  demand p.|"), &["height", "stands_on"], &["working_load"]);
    page.check(&rule("each c in clamp\n  let far c.station\n  demand |"), &["far", "c"], &[]);
    page.check(&rule("each c in clamp\n  let above c.holds\n  demand above.|"), &["pitch", "mass"], &["working_load"]);
}

#[test]
fn lines_of_what_goes_onto_paper() {
    let mut page = Page::open();
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
        page.check(&format!("{sort} own.a \"A\" {{\n  |\n}}"), &["each", "when", own], &[other]);
        page.check(&format!("{sort} own.a \"A\" {{\n  each w in |\n}}"), &["wall", "clamp"], &[own]);
        page.check(&format!("{sort} own.a \"A\" {{\n  each w in wall\n  when w.|\n}}"), &["height"], &[own]);
    }
    page.check("|", &["picture", "task", "review"], &[]);
    page.check("picture own.a \"A\" {\n  each w in wall\n  sheet |\n}", &["plan", "side_open", "load_path"], &["purchase"]);
    page.check("picture own.a \"A\" {\n  each w in wall\n  line |\n}", &["cut", "outline", "thin"], &[]);
    page.check("task own.a \"A\" {\n  each w in wall\n  after [done(\"|\")]\n}", &["frame.wall", "ground.pour"], &["review.engineer"]);
    page.check("task own.a \"A\" {\n  each w in wall\n  trade \"|\"\n}", &["carpenter", "concrete"], &["frame.wall"]);
    page.check("review own.a \"A\" {\n  each w in wall\n  areas |\n}", &["holddown", "piers"], &["wall"]);
    page.check("reading own.a \"A\" {\n  each w in wall\n  lit |\n}", &["travel", "w"], &[]);
}

#[test]
fn the_rule_that_is_accepted() {
    let mut page = Page::open();
    for marked in ["accept |", "accept tra|", "accept travel.open|", "accept travel.|"] {
        let items = page.offered(marked);
        let rule = items.iter().find(|item| item["label"] == "travel.open_sensor_margin").unwrap_or_else(|| panic!("{marked}"));
        // All of the name that stands there is replaced.
        assert_eq!(rule["textEdit"]["range"]["start"]["character"], 7, "{marked}: {}", rule["textEdit"]);
    }
    page.check("accept travel.open_sensor_margin {\n  |\n}", &["on", "because", "until"], &["wall"]);
    page.check("accept travel.open_sensor_margin {\n  on |\n}", &["main_roof"], &[]);
}
