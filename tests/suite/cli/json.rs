//! The JSON of `check` (contract: design/language.md) field by field.

use super::desk::{Desk, VOCABULARY};
use serde_json::{Value, json};

const DESIGN: &str = "\
lid big { uplift 3 kN ± 200 N }
peg one { holds big; working_load 4 kN; height 6 ft 8-1/2 in }
peg two { holds big; working_load 20 kN }
peg three { holds small; working_load 20 kN }
lid small { }
accept lidding.pegs_hold { on two; because \"seen\"; until 2028-01-01 }
lid wrong { weight 3 }
";

fn document() -> Value {
    Desk::with(DESIGN).run(&["check", "a.plate", "--format", "json"]).json()
}

fn result(document: &Value, rule: &str, subject: &str) -> Value {
    let results = document["results"].as_array().unwrap();
    results.iter().find(|one| one["rule"] == rule && one["subjects"] == json!([subject])).unwrap().clone()
}

#[test]
fn the_document_has_the_fields_of_the_contract() {
    let document = document();
    assert_eq!(document["wallplate"], env!("CARGO_PKG_VERSION"));
    assert_eq!(document["files"], json!(["a.plate", "vocabulary.plate"]));
    assert_eq!(document["summary"], json!({ "pass": 2, "tight": 0, "fail": 1, "undetermined": 2, "accepted": 0, "not_begun": [] }));
    for (field, is_right) in [
        ("rule", Value::is_string as fn(&Value) -> bool),
        ("title", Value::is_string),
        ("subjects", Value::is_array),
        ("verdict", Value::is_string),
        ("message", Value::is_string),
        ("missing", Value::is_array),
        ("assumed", Value::is_array),
        ("spans", Value::is_array),
    ] {
        for result in document["results"].as_array().unwrap() {
            assert!(is_right(&result[field]), "{field} of {result}");
        }
    }
    for result in document["results"].as_array().unwrap() {
        for field in ["demand", "capacity", "ratio", "help", "source", "caution", "state", "advice", "nominal", "influences", "accepted"] {
            assert!(result.get(field).is_some(), "{field} of {result}");
        }
    }
}

#[test]
fn numbers_are_in_the_author_s_unit_and_in_si() {
    let result = result(&document(), "lidding.pegs_hold", "one");
    // By hand: 3.2 kN over two pegs; half of 4 kN.
    assert_eq!(result["verdict"], "pass");
    assert_eq!(result["demand"], json!({ "value": 1.6, "unit": "kN", "si": 1600.0 }));
    assert_eq!(result["capacity"], json!({ "value": 2.0, "unit": "kN", "si": 2000.0 }));
    assert_eq!(result["ratio"], json!(0.8));
    assert_eq!(result["nominal"]["demand"], json!({ "value": 1.5, "unit": "kN", "si": 1500.0 }));
    assert_eq!(result["influences"][0]["name"], "big.uplift");
    assert_eq!(result["influences"][0]["takes"]["si"].as_f64().unwrap().round(), 100.0);
    assert_eq!(result["assumed"][0]["component"], "one");
    assert_eq!(result["assumed"][0]["property"], "grip");
    assert_eq!(result["assumed"][0]["value"], "0.5");
    assert_eq!(result["state"], "shut");
    assert_eq!(result["caution"], "a lid that flies off can kill");
}

/// What is assumed, of each in the order of its fields.
fn lines(assumed: &Value, fields: &[&str]) -> Vec<Vec<String>> {
    let text = |line: &Value, field: &&str| line[*field].as_str().unwrap_or_else(|| panic!("{field} of {line}")).to_owned();
    assumed.as_array().unwrap().iter().map(|line| fields.iter().map(|field| text(line, field)).collect()).collect()
}

/// Every line that a result stands on is found once in `assumed`, with its reason, and nothing else stands there.
fn reasons_are_found(assumed: &Value, results: &[&Value]) {
    let habits = lines(assumed, &["component", "property", "value"]);
    let of_results: Vec<_> = results.iter().flat_map(|result| lines(&result["assumed"], &["component", "property", "value"])).collect();
    for line in &of_results {
        assert_eq!(habits.iter().filter(|habit| *habit == line).count(), 1, "{line:?}");
    }
    assert!(habits.iter().all(|habit| of_results.contains(habit)), "{habits:?}");
    assert!(results.iter().flat_map(|result| result["assumed"].as_array().unwrap()).all(|line| line.get("because").is_none()));
}

#[test]
fn what_is_assumed_stands_in_each_result_and_its_reason_once() {
    let document = document();
    let because = "timber on timber, common practice, no source";
    // What waits for a line, as that of peg three does, stands on nothing yet.
    assert_eq!(
        lines(&document["assumed"], &["component", "property", "value", "because"]),
        [["one", "grip", "0.5", because], ["two", "grip", "0.5", because]]
    );
    reasons_are_found(&document["assumed"], &document["results"].as_array().unwrap().iter().collect::<Vec<_>>());
    // Several results stand on one line: its reason is said once all the same.
    let shared = format!("{VOCABULARY}rule lidding.pegs_grip \"Grips\" {{ each p in peg; demand 0.1; capacity p.grip }}\n");
    let desk = Desk::new().file("a.plate", format!("{shared}lid big {{ uplift 3 kN }}\npeg one {{ holds big; working_load 9 kN }}\n"));
    let done = desk.run(&["check", "a.plate", "--format", "json"]);
    assert_eq!(done.json()["results"].as_array().unwrap().iter().filter(|result| result["assumed"][0]["property"] == "grip").count(), 2);
    assert_eq!(done.out.matches(because).count(), 1, "{}", done.out);
}

#[test]
fn in_a_folder_each_design_has_its_own_reasons() {
    let peg = |more: &str| format!("{VOCABULARY}lid big {{ uplift 1 kN }}\npeg one {{ holds big; working_load 4 kN{more} }}\n");
    let other = peg("").replace("assumed 0.5 because \"timber", "assumed 0.4 because \"wet timber");
    let desk = Desk::new().file("jobs/dry.plate", peg("")).file("jobs/wet.plate", other).file("jobs/written.plate", peg("; grip 0.6"));
    let document = desk.run(&["check", "jobs", "--format", "json"]).json();
    assert_eq!(document["assumed"], json!([]));
    let designs = document["designs"].as_array().unwrap();
    let expected = [("dry", json!("0.5")), ("wet", json!("0.4")), ("written", Value::Null)];
    assert_eq!(designs.len(), expected.len());
    for (design, (name, value)) in designs.iter().zip(expected) {
        assert_eq!(design["design"], format!("jobs/{name}.plate"));
        assert_eq!(design["assumed"][0]["value"], value, "{design}");
        let own = |result: &&Value| result["design"] == design["design"];
        reasons_are_found(&design["assumed"], &document["results"].as_array().unwrap().iter().filter(own).collect::<Vec<_>>());
    }
}

/// The lines of the document are laid out by hand (`output/lines.rs`): nothing in it is valid as well, and a result is one line.
#[test]
fn empty_lists_are_valid_and_each_result_is_one_line() {
    let desk =
        Desk::with("").file("one.plate", "use \"vocabulary.plate\"\nlid big { uplift 1 kN }\npeg one { holds big; working_load 4 kN }\n");
    let empty = desk.run(&["check", "a.plate", "--format", "json"]);
    for field in ["results", "assumed", "problems"] {
        assert_eq!(empty.json()[field], json!([]), "{field}");
        assert!(empty.out.lines().any(|line| line.trim_end_matches(',') == format!("  \"{field}\": []")), "{}", empty.out);
    }
    let one = desk.run(&["check", "one.plate", "--format", "json"]);
    assert_eq!(one.json()["results"].as_array().unwrap().len(), 1);
    let lines: Vec<&str> = one.out.lines().filter(|line| line.contains("\"verdict\"")).collect();
    assert_eq!(lines.len(), 1, "{}", one.out);
    let alone: Value = serde_json::from_str(lines[0]).unwrap();
    assert_eq!(alone, one.json()["results"][0]);
    let nothing = Desk::new().file("jobs/notes.txt", "no design").file("jobs/empty.plate", "").run(&["check", "jobs", "--format", "json"]);
    assert_eq!(nothing.json()["results"], json!([]), "{}", nothing.out);
    assert_eq!(nothing.json()["designs"][0]["assumed"], json!([]), "{}", nothing.out);
}

#[test]
fn feet_and_inches_are_inches() {
    let vocabulary =
        "kind plank \"A plank\" { span length required }\nrule plank.short \"Short\" { each p in plank; demand p.span; capacity 2 m }\n";
    let desk = Desk::new().file("a.plate", format!("{vocabulary}plank p {{ span 6 ft 8-1/2 in }}\n"));
    let document = desk.run(&["check", "a.plate", "--format", "json"]).json();
    // 6 ft 8-1/2 in = 80.5 in = 2.0447 m exactly (1 in = 25.4 mm, SP 811); 2 m = 78.7401574803 in.
    assert_eq!(document["results"][0]["demand"], json!({ "value": 80.5, "unit": "in", "si": 2.0447 }));
    assert_eq!(document["results"][0]["capacity"]["unit"], "in");
    assert_eq!(document["results"][0]["capacity"]["value"], json!(78.7401574803));
}

#[test]
fn what_is_missing_is_named_and_nothing_is_made_up() {
    let result = result(&document(), "lidding.pegs_hold", "three");
    assert_eq!(result["verdict"], "undetermined");
    assert_eq!(result["missing"], json!([{ "component": "small", "property": "uplift", "doc": "what lifts it" }]));
    for field in ["demand", "capacity", "ratio", "nominal"] {
        assert_eq!(result[field], Value::Null, "{field}");
    }
}

#[test]
fn spans_are_lines_and_columns_of_the_text() {
    let desk = Desk::with(DESIGN);
    let document = desk.run(&["check", "a.plate", "--format", "json"]).json();
    let text = desk.read("a.plate");
    let slice = |span: &Value| {
        let at = |field: &str| usize::try_from(span[field].as_u64().unwrap()).unwrap();
        assert_eq!(span["file"], "a.plate");
        assert_eq!(span["line"], span["end_line"]);
        let line: Vec<char> = text.lines().nth(at("line") - 1).unwrap().chars().collect();
        line[at("column") - 1..at("end_column") - 1].iter().collect::<String>()
    };
    let spans = |result: &Value| -> Vec<String> { result["spans"].as_array().unwrap().iter().map(slice).collect() };
    // The end is one past the last character, and `±` is one character.
    assert!(spans(&result(&document, "lidding.pegs_hold", "one")).contains(&"uplift 3 kN ± 200 N".to_owned()));
    assert_eq!(spans(&result(&document, "reach.peg_in_reach", "one")), ["height 6 ft 8-1/2 in", "peg one"]);
    let problem = &document["problems"][0];
    assert_eq!(problem["severity"], "error");
    assert_eq!(spans(problem), ["weight"]);
    assert!(problem["message"].as_str().unwrap().contains("`weight`"), "{problem}");
}

#[test]
fn an_accepted_finding_keeps_its_verdict_and_is_counted_as_accepted() {
    let design = "lid big { uplift 3 kN }\npeg one { holds big; working_load 4 kN }\naccept lidding.pegs_hold { on one; because \"seen\"; until 2028-01-01 }\n";
    let document = Desk::with(design).run(&["check", "a.plate", "--format", "json"]).json();
    assert_eq!(document["summary"], json!({ "pass": 0, "tight": 0, "fail": 0, "undetermined": 0, "accepted": 1, "not_begun": [] }));
    assert_eq!(document["results"][0]["verdict"], "fail");
    assert_eq!(document["results"][0]["accepted"], json!({ "because": "seen", "until": "2028-01-01", "lapsed": null }));
}

#[test]
fn a_file_that_cannot_be_read_is_a_problem_in_the_same_document() {
    let done = Desk::new().run(&["check", "nowhere.plate", "--format", "json"]);
    assert_eq!(done.status, Some(2));
    let document = done.json();
    assert_eq!(document["results"], json!([]));
    assert_eq!(document["problems"][0]["severity"], "error");
    assert_eq!(document["problems"][0]["spans"], json!([]));
}

#[test]
fn control_characters_are_escaped() {
    let document = Desk::with("peg \u{1}one \"a\u{1b}b\" { }\n").run(&["check", "a.plate", "--format", "json"]).json();
    assert!(!document["problems"].as_array().unwrap().is_empty());
}

#[test]
fn a_mend_says_what_to_write_where() {
    let document = Desk::with("lid big { uplitf 3 kN }\n").run(&["check", "a.plate", "--format", "json"]).json();
    let mend = &document["problems"][0]["mends"][0];
    assert_eq!(mend["text"], "uplift");
    assert_eq!(
        (mend["span"]["line"].as_u64(), mend["span"]["column"].as_u64(), mend["span"]["end_column"].as_u64()),
        (Some(2), Some(11), Some(17))
    );
}
