//! What a rule's `mend` line offers, in the editor and to programs. That the rule holds after it: `advice.rs`.

use super::client::{Client, at, edited, uri};
use serde_json::{Value, json};
use std::path::Path;
use std::process::Command;
use wallplate::design::Choice;
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;

fn check(text: &str) -> Vec<Finding> {
    Session::read(vec![Source::new("a.plate", text)], &NoShelf, &Choice::default()).check(&Options::default())
}

#[test]
fn the_editor_takes_a_rules_value_in() {
    let text = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/broken/stop_inside_the_coast.plate")).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().canonicalize().unwrap().join("a.plate");
    std::fs::write(&path, &text).unwrap();
    let mut client = Client::ready(&[folder.path()]);
    let uri = uri(&path);
    client.open(&uri, &text);
    let found = client.diagnostics(&uri);
    let failing = found.iter().find(|one| one["code"] == "travel.open_sensor_margin").unwrap().clone();
    assert_eq!(failing["severity"], 1);
    assert!(failing["relatedInformation"].as_array().is_some_and(|places| !places.is_empty()), "{failing}");
    let params = json!({ "textDocument": { "uri": uri }, "range": failing["range"], "context": { "diagnostics": [failing] } });
    let actions = client.ask("textDocument/codeAction", params);
    let is_station = |action: &&Value| action["title"].as_str().unwrap().starts_with("write `station ");
    let action = actions.as_array().unwrap().iter().find(is_station).unwrap_or_else(|| panic!("{actions}")).clone();
    let mended = edited(&text, &action["edit"]["changes"][&uri]);
    client.change(&uri, json!([{ "text": mended }]));
    let after = client.diagnostics(&uri);
    assert!(!after.iter().any(|one| one["code"] == "travel.open_sensor_margin"), "{after:?}");
    let _ = at(&text, "station", 0);
}

#[test]
fn check_carries_mends_for_programs() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/broken/stop_inside_the_coast.plate");
    let run = |format: &str| -> Value {
        let program = Command::new(env!("CARGO_BIN_EXE_wallplate")).args(["check", "--format", format]).arg(&path).output().unwrap();
        serde_json::from_slice(&program.stdout).unwrap()
    };
    let found = run("json");
    let result = found["results"].as_array().unwrap().iter().find(|one| one["rule"] == "travel.open_sensor_margin").unwrap().clone();
    let mend = &result["mends"][0];
    assert!(mend["text"].as_str().unwrap().ends_with(" m"), "{result}");
    let log = run("sarif");
    let results = log["runs"][0]["results"].as_array().unwrap().clone();
    let result = results.iter().find(|one| one["ruleId"] == "travel.open_sensor_margin").unwrap();
    let replacement = &result["fixes"][0]["artifactChanges"][0]["replacements"][0];
    assert_eq!(replacement["insertedContent"]["text"], mend["text"], "{result}");
    assert_eq!(replacement["deletedRegion"]["startLine"], mend["span"]["line"]);
}

#[test]
fn a_value_that_several_stand_on_changes_for_all_and_says_so() {
    let rule = "rule own.low \"Walls are as high as a man reaches\" {\n  each w in wall\n  demand w.height\n  capacity 2 m\n  mend w.height to 1.5 m\n  points_to w.height\n}\n";
    for (design, others) in [
        ("wall a { height 2.50 m }\n", ""),
        (
            "pattern wall high { height 2.50 m }\nwall a like high { }\nwall b like high { }\nwall c { height 1.00 m }\n",
            " for all 2 that this line is for",
        ),
        ("wall row[1..3] { height 2.50 m }\n", " for all 3 that this line is for"),
    ] {
        let text = format!("{rule}{design}");
        let findings = check(&text);
        let failing: Vec<&Finding> =
            findings.iter().filter(|finding| finding.rule == "own.low" && finding.verdict == Verdict::Fail).collect();
        assert!(!failing.is_empty(), "{design}");
        for finding in failing {
            let [mend] = finding.mends.as_slice() else { panic!("{design}: {:?}", finding.mends) };
            assert_eq!(mend.title, format!("write `height 1.50 m`{others}"));
            let mut mended = text.clone();
            mended.replace_range(mend.span.start as usize..mend.span.end as usize, &mend.text);
            assert!(check(&mended).iter().all(|finding| finding.rule != "own.low" || finding.verdict == Verdict::Pass), "{design}");
        }
    }
}
