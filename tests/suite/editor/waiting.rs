//! What is shown while a design is still being worked out, and what files tell that are not open.

use super::client::{Client, at, uri};
use serde_json::{Value, json};
use std::fmt::Write as _;

/// A design that takes long to work out wherever `eave` changes, with a wall that fails.
fn slow_design() -> String {
    let mut text = "let eave 2 m\nwall tall { height 9 m }\nwall low { height 1 m }\n".to_owned();
    let _ = writeln!(text, "clamp row[1..40] {{ station eave * index }}");
    text.push_str("rule own.high \"No wall is higher than a man can reach\" {\n  each w in wall\n  demand w.height\n  capacity 3 m\n  points_to w.height\n}\n");
    text.push_str("rule own.apart \"No three clamps are one\" {\n  each a in clamp, b in clamp, c in clamp\n  require a.station + b.station + c.station > -1 m\n}\n");
    text
}

fn of_rule<'f>(found: &'f [Value], rule: &str) -> Vec<&'f Value> {
    found.iter().filter(|one| one["code"] == rule).collect()
}

#[test]
fn a_mistake_in_the_text_does_not_wait_for_the_findings() {
    let text = slow_design();
    let uri = "untitled:slow";
    let mut client = Client::ready(&[]);
    client.open(uri, &text);
    let before = client.diagnostics(uri);
    let [high] = of_rule(&before, "own.high")[..] else { panic!("the wall is too high") };
    assert_eq!(high["range"]["start"], at(&text, "height 9 m", 0));
    client.all_published.clear();

    // Two lines more at the top, and the line that most stands on is broken.
    let first = json!({ "start": { "line": 0, "character": 0 }, "end": { "line": 0, "character": 0 } });
    let line = json!({ "start": { "line": 2, "character": 0 }, "end": { "line": 2, "character": 12 } });
    client.change(uri, json!([{ "range": first, "text": "# one\n# two\n" }, { "range": line, "text": "let eave 2 m )" }]));
    let broken = format!("# one\n# two\n{}", text.replace("let eave 2 m", "let eave 2 m )"));
    let after = client.diagnostics(uri);
    let shown: Vec<_> = client.all_published.iter().map(|(_, version, found)| (*version, found.clone())).collect();
    let [(None, early), (Some(2), last)] = &shown[..] else { panic!("first the mistake, then all: {}", shown.len()) };
    assert_eq!(last, &after);
    for found in [early, last] {
        let mistake = found.iter().find(|one| one["code"].is_null() && one["range"]["start"]["line"] == 2);
        assert!(mistake.is_some(), "the line that is broken");
        let [high] = of_rule(found, "own.high")[..] else { panic!("what was found is still there") };
        assert_eq!(high["range"]["start"], at(&broken, "height 9 m", 0), "at its line");
    }

    // The wall goes: what was found there is not shown until then, the other way round neither.
    client.all_published.clear();
    let wall = json!({ "start": { "line": 3, "character": 0 }, "end": { "line": 4, "character": 0 } });
    let line = json!({ "start": { "line": 2, "character": 12 }, "end": { "line": 2, "character": 14 } });
    client.change(uri, json!([{ "range": wall, "text": "" }, { "range": line, "text": "" }]));
    client.diagnostics(uri);
    let shown: Vec<_> = client.all_published.iter().map(|(_, version, found)| (*version, found.clone())).collect();
    let [(None, early), (Some(3), last)] = &shown[..] else {
        panic!("{:?}", shown.iter().map(|one| (one.0, one.1.len())).collect::<Vec<_>>())
    };
    for found in [early, last] {
        assert!(of_rule(found, "own.high").is_empty());
        assert!(!found.iter().any(|one| one["code"].is_null() && one["range"]["start"]["line"] == 2), "mended");
    }
}

#[test]
fn an_edit_that_is_on_its_way_takes_back_what_is_late() {
    let text = slow_design();
    let uri = "untitled:slow";
    let mut client = Client::ready(&[]);
    client.open(uri, &text);
    client.diagnostics(uri);
    client.all_published.clear();
    // The line is broken further down with each version; nothing of an older text may be told after something of a newer one.
    let first = json!({ "start": { "line": 0, "character": 0 }, "end": { "line": 0, "character": 0 } });
    client.change(uri, json!([{ "range": first, "text": "let broken 2 m )\n" }]));
    for _ in 0..10 {
        client.change(uri, json!([{ "range": first, "text": "\n" }]));
    }
    client.diagnostics(uri);
    let mut last = 0;
    for (_, version, found) in &client.all_published {
        let mistake = found.iter().find(|one| one["code"].is_null()).unwrap();
        let line = mistake["range"]["start"]["line"].as_i64().unwrap();
        assert!(last <= line, "{version:?}: line {line} after line {last}");
        assert!(version.is_none_or(|version| version == line + 2), "{version:?}: line {line}");
        last = line;
    }
    assert_eq!(last, 10);
}

#[test]
fn a_file_that_changes_outside_of_the_editor_is_read_again() {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path().canonicalize().unwrap();
    let (main, part) = (root.join("main.plate"), root.join("walls.plate"));
    let text = "use \"walls.plate\"\nlet high east_wall.height\nlet low high - 1 m\n";
    std::fs::write(&main, text).unwrap();
    std::fs::write(&part, "wall east_wall { height 1.90 m }\n").unwrap();
    let watches = json!({ "workspace": { "didChangeWatchedFiles": { "dynamicRegistration": true } } });
    let mut client = Client::ready_with(&[&root], watches);
    client.open(&uri(&main), text);
    let unknown = |found: &[Value]| found.iter().any(|one| one["message"].as_str().unwrap().contains("east_wall"));
    assert!(!unknown(&client.diagnostics(&uri(&main))));
    let (method, params) = client.asked_of.first().expect("the server asks to be told").clone();
    assert_eq!(method, "client/registerCapability");
    assert_eq!(params["registrations"][0]["method"], "workspace/didChangeWatchedFiles");
    assert_eq!(params["registrations"][0]["registerOptions"]["watchers"][0]["globPattern"], "**/*.plate");

    let change = |client: &mut Client, kind: u64| {
        client.all_published.clear();
        client.tell("workspace/didChangeWatchedFiles", json!({ "changes": [{ "uri": uri(&part), "type": kind }] }));
        client.ask("workspace/symbol", json!({ "query": "" }));
        client.all_published.iter().rfind(|(of, ..)| *of == uri(&main)).expect("published anew").2.clone()
    };
    std::fs::write(&part, "wall west_wall { height 1.90 m }\n").unwrap();
    assert!(unknown(&change(&mut client, 2)));
    std::fs::write(&part, "wall east_wall { height 2.10 m }\n").unwrap();
    assert!(!unknown(&change(&mut client, 2)));
    std::fs::remove_file(&part).unwrap();
    assert!(unknown(&change(&mut client, 3)));
    assert_eq!(client.end(), Some(0));
}

#[test]
fn an_editor_that_does_not_look_after_files_is_not_asked_to() {
    let mut client = Client::ready(&[]);
    client.ask("workspace/symbol", json!({ "query": "" }));
    assert!(client.asked_of.is_empty(), "{:?}", client.asked_of);
}
