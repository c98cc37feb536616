//! SARIF: the structure that OASIS SARIF 2.1.0 asks for, clause by clause.

use super::desk::Desk;
use serde_json::{Value, json};

const DESIGN: &str = "\
lid big { uplift 3 kN }
peg one { holds big; working_load 4 kN }
lid second { uplift 3.7 kN }
peg two { holds second; working_load 8 kN }
peg three { holds third; working_load 20 kN }
lid third { }
lid fourth { uplift 5 kN }
peg four { holds fourth; working_load 4 kN }
accept lidding.pegs_hold { on four; because \"seen\" }
lid wrong { weight 3 }
";

fn log(options: &[&str]) -> Value {
    let arguments: Vec<&str> = ["check", "a.plate", "--format", "sarif"].into_iter().chain(options.iter().copied()).collect();
    Desk::with(DESIGN).run(&arguments).json()
}

fn results(log: &Value) -> &Vec<Value> {
    log["runs"][0]["results"].as_array().unwrap()
}

#[test]
fn the_log_has_what_the_standard_requires() {
    let log = log(&[]);
    // §3.13.2, §3.13.4
    assert_eq!(log["version"], "2.1.0");
    assert_eq!(log["runs"].as_array().unwrap().len(), 1);
    let run = &log["runs"][0];
    // §3.18.2, §3.19.8
    assert_eq!(run["tool"]["driver"]["name"], "wallplate");
    // §3.14.17
    assert_eq!(run["columnKind"], "unicodeCodePoints");
    // §3.20.14: the text could not be understood as a whole.
    assert_eq!(run["invocations"][0]["executionSuccessful"], false);
    let rules = run["tool"]["driver"]["rules"].as_array().unwrap();
    let mut ids: Vec<&str> = rules.iter().map(|rule| rule["id"].as_str().unwrap()).collect();
    assert_eq!(ids, ["text", "lines.required_are_written", "lidding.pegs_hold"]);
    ids.dedup();
    assert_eq!(ids.len(), rules.len());
    for rule in rules {
        // §3.49.9 to §3.49.14: messages with a text; §3.50.3: levels.
        for field in ["shortDescription", "fullDescription", "help"] {
            assert!(rule[field]["text"].as_str().is_some_and(|text| !text.is_empty()), "{field} of {rule}");
        }
        assert!(["none", "note", "warning", "error"].contains(&rule["defaultConfiguration"]["level"].as_str().unwrap()));
    }
    for result in results(&log) {
        // §3.27.5, §3.27.6: the index leads to the rule of that id.
        let index = usize::try_from(result["ruleIndex"].as_u64().unwrap()).unwrap();
        assert_eq!(rules[index]["id"], result["ruleId"]);
        // §3.27.10
        assert_eq!(result["kind"] == "fail", result["level"] != "none", "{result}");
        // §3.27.11
        assert!(result["message"]["text"].is_string());
        for location in result["locations"].as_array().unwrap() {
            let region = &location["physicalLocation"]["region"];
            // §3.30.5 to §3.30.8: all counted from 1.
            for field in ["startLine", "startColumn", "endLine", "endColumn"] {
                assert!(region[field].as_u64().unwrap() >= 1, "{field} of {region}");
            }
        }
    }
}

#[test]
fn each_verdict_has_its_level() {
    let log = log(&["--all"]);
    let level = |subject: &str| {
        let fingerprint = json!(format!("lidding.pegs_hold:{subject}"));
        let result = results(&log).iter().find(|one| one["partialFingerprints"]["ruleAndSubjects/v1"] == fingerprint).unwrap();
        (
            result["kind"].as_str().unwrap().to_owned(),
            result["level"].as_str().unwrap().to_owned(),
            result["properties"]["verdict"].as_str().unwrap().to_owned(),
        )
    };
    let of = |kind: &str, level: &str, verdict: &str| (kind.to_owned(), level.to_owned(), verdict.to_owned());
    assert_eq!(level("one"), of("fail", "error", "fail"));
    assert_eq!(level("two"), of("fail", "warning", "tight"));
    assert_eq!(level("three"), of("fail", "note", "undetermined"));
    assert_eq!(results(&log)[0]["ruleId"], "text");
}

#[test]
fn an_accepted_finding_is_suppressed_with_its_reason() {
    let log = log(&[]);
    let suppressed: Vec<&Value> = results(&log).iter().filter(|result| result.get("suppressions").is_some()).collect();
    assert_eq!(suppressed.len(), 1);
    // §3.35.2, §3.35.3
    assert_eq!(suppressed[0]["suppressions"], json!([{ "kind": "inSource", "status": "accepted", "justification": "seen" }]));
}

#[test]
fn what_holds_is_listed_only_if_asked() {
    let desk = Desk::with("lid big { uplift 1 kN }\npeg one { holds big; working_load 4 kN }\n");
    let log = desk.run(&["check", "a.plate", "--format", "sarif"]).json();
    assert_eq!(results(&log).len(), 0);
    assert_eq!(log["runs"][0]["invocations"][0]["executionSuccessful"], true);
    let log = desk.run(&["check", "a.plate", "--format", "sarif", "--all"]).json();
    assert_eq!((&results(&log)[0]["kind"], &results(&log)[0]["level"]), (&json!("pass"), &json!("none")));
}

#[test]
fn a_file_that_cannot_be_read_is_a_notification() {
    let log = Desk::new().run(&["check", "nowhere.plate", "--format", "sarif"]).json();
    let notification = &log["runs"][0]["invocations"][0]["toolExecutionNotifications"][0];
    assert_eq!(notification["level"], "error");
    assert!(notification["message"]["text"].as_str().unwrap().contains("nowhere.plate"));
}

#[test]
fn names_of_files_become_uris() {
    // RFC 3986 §2.1, §2.3.
    for (name, uri) in [("parts/my clamps.plate", "parts/my%20clamps.plate"), ("é.plate", "%C3%A9.plate")] {
        let log = Desk::new().file(name, "lid one { }\n").run(&["check", name, "--format", "sarif"]).json();
        let place = &results(&log)[0]["locations"][0]["physicalLocation"];
        assert_eq!(place["artifactLocation"]["uri"], uri, "{place}");
    }
}
