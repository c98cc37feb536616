//! No text and no order of messages takes the server down.

use super::client::{Client, uri};
use serde_json::{Value, json};
use std::time::Duration;

fn place(uri: &str, line: u64, character: u64) -> Value {
    json!({ "textDocument": { "uri": uri }, "position": { "line": line, "character": character } })
}

#[test]
fn requests_out_of_turn() {
    let mut client = Client::start();
    assert_eq!(client.refused("textDocument/hover", place("file:///a.plate", 0, 0)).0, -32002);
    client
        .tell("textDocument/didOpen", json!({ "textDocument": { "uri": "file:///a.plate", "languageId": "x", "version": 1, "text": "" } }));
    client.ask("initialize", json!({ "processId": null, "rootUri": null, "capabilities": {} }));
    assert_eq!(client.refused("initialize", json!({ "processId": null, "rootUri": null, "capabilities": {} })).0, -32600);
    assert_eq!(client.refused("textDocument/hover", place("file:///a.plate", 0, 0)).0, -32602, "never opened");
    assert_eq!(client.refused("textDocument/noSuchThing", json!({})).0, -32601);
    assert_eq!(client.refused("textDocument/hover", json!({ "nothing": 1 })).0, -32602);
    client.tell("textDocument/noSuchThing", json!([1, 2]));
    client.tell(
        "textDocument/didChange",
        json!({ "textDocument": { "uri": "file:///b.plate", "version": 2 }, "contentChanges": [{ "text": "a" }] }),
    );
    client.tell("textDocument/didClose", json!({ "textDocument": { "uri": "file:///b.plate" } }));
    client.tell("$/cancelRequest", json!({ "id": 4711 }));
    client.ask("shutdown", Value::Null);
    assert_eq!(client.refused("workspace/symbol", json!({ "query": "" })).0, -32600);
    client.tell("exit", Value::Null);
    assert_eq!(client.hang_up(), Some(0));
}

#[test]
fn an_end_without_shutdown_is_told_by_the_status() {
    let mut client = Client::ready(&[]);
    client.tell("exit", Value::Null);
    assert_eq!(client.hang_up(), Some(1));
    assert_eq!(Client::ready(&[]).hang_up(), Some(1));
}

#[test]
fn edits_out_of_range_and_backwards() {
    let mut client = Client::ready(&[]);
    client.open("untitled:Untitled-1", "let a 1 m\n");
    let range = |a: u64, b: u64, c: u64, d: u64| json!({ "start": { "line": a, "character": b }, "end": { "line": c, "character": d } });
    let largest = u64::from(u32::MAX);
    client.change(
        "untitled:Untitled-1",
        json!([{ "range": range(9, 9, 99, 99), "text": "let b 2 m\n" }, { "range": range(1, 3, 0, 3), "text": "" }]),
    );
    client.change("untitled:Untitled-1", json!([{ "range": range(0, largest, largest, largest), "text": "\u{1F52D}" }]));
    client.change("untitled:Untitled-1", json!([{ "range": range(0, 0, 0, 0), "rangeLength": 77, "text": "{{{{((" }]));
    client.diagnostics("untitled:Untitled-1");
    // Past the end of a text every request is answered.
    for method in ["hover", "completion", "definition", "documentHighlight"] {
        let id = client.request(&format!("textDocument/{method}"), place("untitled:Untitled-1", 5000, 5000));
        client.answer(id);
    }
    client.change("untitled:Untitled-1", json!([{ "text": "let eave 2 m\n" }]));
    assert_eq!(client.ask("textDocument/documentSymbol", json!({ "textDocument": { "uri": "untitled:Untitled-1" } }))[0]["name"], "eave");
    assert_eq!(client.end(), Some(0));
}

#[test]
fn broken_messages_are_passed_over() {
    let mut client = Client::ready(&[]);
    for body in ["{", "[]", "null", "{\"jsonrpc\":\"2.0\"}", "{\"id\":1.5,\"method\":\"shutdown\"}"] {
        client.raw(format!("Content-Length: {}\r\n\r\n{body}", body.len()).as_bytes());
    }
    assert!(client.ask("workspace/symbol", json!({ "query": "" })).as_array().unwrap().is_empty());
    assert_eq!(client.end(), Some(0));
}

#[test]
fn a_request_that_is_taken_back_is_answered_so() {
    let mut client = Client::ready(&[]);
    client.open("untitled:a", &"wall a { height 1 m }\n".repeat(2_000));
    let id = client.request("textDocument/documentSymbol", json!({ "textDocument": { "uri": "untitled:a" } }));
    let second = client.request("textDocument/hover", place("untitled:a", 1, 1));
    client.tell("$/cancelRequest", json!({ "id": second }));
    assert!(client.answer(id).get("result").is_some());
    let answer = client.answer(second);
    assert!(answer["error"]["code"] == -32800 || answer.get("result").is_some(), "{answer}");
    assert_eq!(client.end(), Some(0));
}

#[test]
fn hostile_texts() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().canonicalize().unwrap().join("a.plate");
    let uri = uri(&path);
    let mut client = Client::ready(&[folder.path()]);
    let circle: String = (0..2_000).map(|at| format!("let a{at} a{}\n", (at + 1) % 2_000)).collect();
    let texts = [
        "(".repeat(100_000),
        "a {\n".repeat(10_000),
        "{[(\"".repeat(10_000),
        circle,
        "\u{0}\u{FEFF}\r\r\n\u{202E}".repeat(100),
        format!("use \"a.plate\"\nuse \"../x.plate\"\nuse \"{}\"\n", "a/".repeat(5_000)),
        "let a 1 +".to_owned(),
        "pattern wall p like p { }\nwall a like p { height index }\n".to_owned(),
    ];
    client.open(&uri, "");
    for text in texts {
        client.change(&uri, json!([{ "text": text }]));
        for (line, character) in [(0, 0), (0, 5), (1, 3), (9_999, 1)] {
            for method in ["hover", "completion", "definition"] {
                let id = client.request(&format!("textDocument/{method}"), place(&uri, line, character));
                let answer = client.answer(id);
                assert_ne!(answer["error"]["code"], -32603, "{method}: {answer}");
            }
        }
        for method in ["documentSymbol", "foldingRange", "semanticTokens/full", "formatting"] {
            let id = client.request(
                &format!("textDocument/{method}"),
                json!({ "textDocument": { "uri": uri }, "options": { "tabSize": 2, "insertSpaces": true } }),
            );
            let answer = client.answer(id);
            assert_ne!(answer["error"]["code"], -32603, "{method}: {answer}");
        }
    }
    assert!(client.is_alive());
    assert_eq!(client.end(), Some(0));
}

#[test]
fn the_newest_edit_wins_over_a_long_check() {
    // Every pair of some thousand clamps: more than anybody waits for.
    let rule = "rule own.pairs \"No two clamps are one\" {\n  each a in clamp, b in clamp, c in clamp\n  require a.station + b.station + c.station > -1 m\n}\n";
    let clamps = "clamp row[1..2000] { station 1 m * index }\n";
    let mut client = Client::ready(&[]);
    client.open("untitled:long", &format!("{rule}{clamps}"));
    std::thread::sleep(Duration::from_millis(500));
    client.change("untitled:long", json!([{ "text": "let eave 2 metters\n" }]));
    let found = client.diagnostics("untitled:long");
    assert!(found.iter().any(|one| one["message"].as_str().unwrap().contains("metters")), "{found:?}");
    assert_eq!(client.end(), Some(0));
}

#[test]
fn a_check_that_takes_too_long_is_given_up_and_said_so() {
    let rule = "rule own.pairs \"No two clamps are one\" {\n  each a in clamp, b in clamp, c in clamp\n  require a.station + b.station + c.station > -1 m\n}\n";
    let mut client = Client::ready(&[]);
    client.open("untitled:long", &format!("{rule}clamp row[1..2000] {{ station 1 m * index }}\n"));
    while client.said.is_empty() {
        // Any answer will do: what was said comes before it.
        let id = client.request("workspace/symbol", json!({ "query": "" }));
        client.answer(id);
    }
    assert!(client.said[0].contains("takes too long"), "{:?}", client.said);
    client.change("untitled:long", json!([{ "text": "let eave 2 m\n" }]));
    client.diagnostics("untitled:long");
    assert_eq!(client.end(), Some(0));
}
