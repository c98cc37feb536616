//! `value`: numbers, steps, ranges, and what is said where there is none.

use super::desk::Desk;
use serde_json::{Value, json};

const DESIGN: &str = "\
lid big { uplift gust * 4 kN ± 200 N }
let gust 1.1      # from the map
peg one { holds big; working_load 4 kN }
peg two { holds big; working_load 3 kN ± 100 N }
lid small { }
measured 2026-05-02 { two { working_load 2.8 kN ± 10 N } }
";

#[test]
fn a_value_in_the_unit_that_is_asked_for() {
    let desk = Desk::with(DESIGN);
    let done = desk.run(&["value", "a.plate", "one.working_load in lbf"]);
    // 4 kN / 4.4482216152605 N/lbf (SP 811 B.8) = 899.24 lbf
    assert_eq!((done.status, done.out.as_str(), done.err.as_str()), (Some(0), "899.2 lbf\n", ""));
    // The worst of two tolerances: 4.4 kN ± 0.2 kN over two pegs.
    assert_eq!(desk.run(&["value", "a.plate", "one.share"]).out, "2.2 kN\n2.1 kN to 2.3 kN over the tolerances\n");
}

/// `end` is a line of both kinds, and a word that the grain of a joint may be as well.
#[test]
fn beside_a_choice_a_bare_word_is_one_of_its_words_or_stands_for_its_line() {
    let desk = Desk::with(
        "kind catch \"A catch\" {\n  end  one of open, closed\n}\n\
         kind grip \"A grip\" {\n  grain  one of side, end\n}\n\
         kind hasp \"A hasp\" {\n  end     one of open, closed\n  mates   number  default count(c for c in catch where c.end == end)\n  \
           others  number  default count(c for c in catch where not c.end == end)\n  \
           into    number  default count(g for g in grip where g.grain == end)\n  \
           across  number  default count(g for g in grip where not g.grain == end)\n}\n\
         catch a { end open }\ncatch b { end closed }\ncatch c { end closed }\n\
         grip x { grain end }\ngrip y { grain side }\ngrip z { grain end }\n\
         hasp l { end closed }\n",
    );
    let value = |expression: &str| desk.run(&["value", "a.plate", expression]);
    for (expression, expected) in [("l.mates", "2\n"), ("l.others", "1\n"), ("l.into", "2\n"), ("l.across", "1\n")] {
        let done = value(expression);
        assert_eq!(done.out, expected, "{expression}: {}", done.err);
    }
}

#[test]
fn a_calculator_without_a_design() {
    let desk = Desk::new();
    let value = |expression: &str| desk.run(&["value", "-", expression]).out;
    assert_eq!(value("6 ft 2-1/2 in in mm"), "1892 mm\n");
    assert_eq!(value("sqrt(9 m2) + 1 m"), "4 m\n");
    assert_eq!(value("-3 m + 1 m"), "-2 m\n");
    assert_eq!(value("2 m > 1 m"), "yes\n");
}

#[test]
fn a_table_has_a_line_for_each_of_its_fields() {
    let done = Desk::new().run(&["value", "-", "dominant_opening(face_coefficient 0.8, dominance 3)"]);
    // EN 1991-1-4 7.2.9(5), eq. 7.2: 0.90 of the face's coefficient for a dominance of 3.
    assert_eq!(done.out, "0.72\n", "{}", done.err);
    let form = "roof_form(shape gable, pitch 20 deg, ridge along, length 4.5 m, width 3.5 m, eaves_height 2.23 m)";
    let done = Desk::new().run(&["value", "-", form]);
    let lines: Vec<&str> = done.out.lines().collect();
    assert!(lines.contains(&"shape gable") && lines.contains(&"width 3.5 m"), "{}{}", done.out, done.err);
}

#[test]
fn the_steps_as_one_would_check_them_by_hand() {
    let done = Desk::with(DESIGN).run(&["value", "a.plate", "one.share / one.capacity", "--how"]);
    insta::assert_snapshot!(done.out);
    let done = Desk::with(DESIGN).run(&["value", "a.plate", "two.working_load", "--how", "--as-built"]);
    insta::assert_snapshot!(done.out);
}

#[test]
fn a_mistake_is_shown_in_the_expression() {
    let desk = Desk::with(DESIGN);
    for (expression, underlined, help) in [
        ("one.working_laod + 1 N", &["working_laod"][..], "did you mean `working_load`?"),
        ("2 m + one.working_load", &["2 m", "+", "one.working_load"], ""),
        ("sqqrt(2)", &["sqqrt"], "did you mean `sqrt`?"),
        ("one.working_load in m", &[], ""),
        ("(1 + 2", &[], ""),
        ("1 +", &["+"], "a value should follow"),
    ] {
        let done = desk.run(&["value", "a.plate", expression]);
        assert_eq!(done.status, Some(2), "{expression}");
        assert_eq!(done.out, "", "{expression}");
        assert!(done.err.contains("[expression:1:"), "{expression}: {}", done.err);
        assert!(done.err.contains(help), "{expression}: {}", done.err);
        if !underlined.is_empty() {
            assert_eq!(done.underlined(), underlined, "{expression}: {}", done.err);
        }
    }
    for wrong in ["", "   ", "1; 2", "}", "{", "let a 1", "\u{0}"] {
        if wrong != "\u{0}" {
            let done = desk.run(&["value", "a.plate", wrong]);
            assert_eq!(done.status, Some(2), "{wrong:?}: {done:?}");
            assert!(!done.err.is_empty(), "{wrong:?}");
        }
    }
}

#[test]
fn a_missing_line_is_named() {
    let done = Desk::with(DESIGN).run(&["value", "a.plate", "small.uplift * 2"]);
    assert_eq!(done.status, Some(1));
    assert_eq!(done.out, "not known: a line is missing\n  add a line `uplift …` to small: what lifts it\n");
}

#[test]
fn a_wrong_line_below_a_value_is_shown() {
    let done = Desk::with("lid big { uplift 3 m }\nlet fine 2 m\n").run(&["value", "a.plate", "big.uplift"]);
    assert_eq!(done.status, Some(2));
    assert_eq!(done.underlined(), ["3 m"]);
    // A mistake elsewhere too: what was understood may be another design than was meant.
    let desk = Desk::with("lid big { uplift 3 m }\nlet fine 2 m\n");
    let done = desk.run(&["value", "a.plate", "fine"]);
    assert_eq!((done.status, done.out.as_str()), (Some(2), ""));
    assert_eq!(done.underlined(), ["3 m"]);
    let done = desk.run(&["value", "a.plate", "fine", "--format", "json"]);
    let told = done.json();
    assert_eq!((done.status, &told["text"], &told["number"]), (Some(2), &Value::Null, &Value::Null));
    assert_eq!(told["problems"][0]["spans"][0]["line"], 2);
}

/// Numbers of lists, sizes and tables as numbers, with their unit and in SI base units.
#[test]
fn every_number_in_json_is_a_number() {
    let desk = Desk::with("let holes 1.23456789 m, 20 mm\nlet plate 90 mm by 120 mm\nlet year -20 degC to 35 degC\n");
    let data = |expression: &str| desk.run(&["value", "a.plate", expression, "--format", "json"]).json()["data"].clone();
    let metres = |value: f64, unit: &str, si: f64| json!({ "value": value, "unit": unit, "si": si });
    assert_eq!(data("holes"), json!([metres(1.234_567_89, "m", 1.234_567_89), metres(20.0, "mm", 0.02)]));
    assert_eq!(data("plate"), json!([metres(90.0, "mm", 0.09), metres(120.0, "mm", 0.12)]));
    // SP 811 B.8: T/K = t/degC + 273.15
    assert_eq!(data("year"), json!({ "from": metres(-20.0, "degC", 253.15), "to": metres(35.0, "degC", 308.15) }));
    assert_eq!(data("1 m > 2 m"), json!(false));
    let table = data("wheel_loads(12 kN, 1 m, 1 m, [0 m, 2 m, 0 m, 2 m], [0 m, 0 m, 2 m, 2 m])");
    // A load in the middle of four wheels: 12 kN / 4, by statics.
    assert_eq!(table["loads"][0]["unit"], "kN");
    assert!((table["loads"][0]["si"].as_f64().unwrap() - 3000.0).abs() < 1e-9, "{table}");
}

/// The tolerance of the expression itself counts as those of its lines do.
#[test]
fn the_tolerance_of_an_expression_is_not_lost() {
    let desk = Desk::with("let a 10 mm ± 2 mm\nlid big { uplift 100 kg ± 10 kg }\nlid low { uplift 100 kg ± 10 % }\n");
    for (file, expression, out) in [
        ("-", "5 mm ± 3 mm", "5 mm\n2 mm to 8 mm over the tolerances\n"),
        ("-", "5 mm +3 mm -1 mm", "5 mm\n4 mm to 8 mm over the tolerances\n"),
        ("-", "-5 degC ± 2 degC", "-5 degC\n-7 degC to -3 degC over the tolerances\n"),
        ("-", "68 degF ± 9 degF", "68 degF\n59 degF to 77 degF over the tolerances\n"),
        ("a.plate", "a + 1 mm ± 1 mm", "11 mm\n8 mm to 14 mm over the tolerances\n"),
        // The weight of 10 kg is 98.07 N (SP 811 B.8, standard acceleration of free fall).
        ("a.plate", "big.uplift", "980.7 N\n882.6 N to 1.079 kN over the tolerances\n"),
        ("a.plate", "low.uplift", "980.7 N\n882.6 N to 1.079 kN over the tolerances\n"),
        ("-", "100 kg ± 10 kg in N", "980.7 N\n882.6 N to 1079 N over the tolerances\n"),
    ] {
        let done = desk.run(&["value", file, "--", expression]);
        assert_eq!((done.status, done.out.as_str()), (Some(0), out), "{expression}: {}", done.err);
    }
    let done = desk.run(&["value", "a.plate", "a + (1 mm ± 1 mm)"]);
    assert_eq!((done.status, done.underlined()), (Some(2), vec!["1 mm ± 1 mm".to_owned()]));
}

#[test]
fn inches_are_told_from_the_word_in() {
    let desk = Desk::with(DESIGN);
    let done = desk.run(&["value", "a.plate", "big.uplift * 1.5 in kN"]);
    assert_eq!(done.status, Some(2));
    assert!(done.err.contains("`(big.uplift * 1.5) in kN`"), "{}", done.err);
    assert_eq!(desk.run(&["value", "a.plate", "(big.uplift * 1.5) in kN"]).status, Some(0));
}

/// What was measured first is no plan.
#[test]
fn a_line_measured_twice_tells_both_days_and_the_plan() {
    let design = "lid big { uplift 4 kN }\nmeasured 2026-05-02 { big { uplift 4.1 kN } }\nmeasured 2026-06-03 { big { uplift 4.2 kN } }\n";
    let done = Desk::with(design).run(&["value", "a.plate", "big.uplift", "--how", "--as-built"]);
    let said = done.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        said.contains("measured 2026-06-03; before that, measured 2026-05-02: 4.1 kN (a.plate:3:29); planned 4 kN (a.plate:2:11)"),
        "{said}"
    );
}

/// A share of a temperature means nothing, so a rule cannot set one against another.
#[test]
fn a_rule_does_not_divide_temperatures() {
    let rule = |sides: &str| {
        format!(
            "let cold -5 degC\nlet warm 20 degC\nlid big {{ uplift 1 kN }}\nrule own.warm \"It is warm\" {{\n  each l in lid\n  {sides}\n}}\n"
        )
    };
    let done = Desk::with(&rule("demand cold\n  capacity warm")).run(&["check", "a.plate", "--only", "own"]);
    assert_eq!(done.status, Some(2), "{}", done.out);
    assert!(done.out.contains("a temperature is no demand"), "{}", done.out);
    assert_eq!(Desk::with(&rule("require cold < warm")).run(&["check", "a.plate", "--only", "own"]).status, Some(0));
    assert_eq!(Desk::with(&rule("demand warm - cold\n  capacity 30 K")).run(&["check", "a.plate", "--only", "own"]).status, Some(0));
}

#[test]
fn the_value_as_json() {
    let desk = Desk::with(DESIGN);
    let value: Value = desk.run(&["value", "a.plate", "one.share", "--format", "json"]).json();
    assert_eq!(value["number"], json!({ "value": 2.2, "unit": "kN", "si": 2200.0 }));
    assert_eq!(value["least"]["value"], json!(2.1));
    assert_eq!(value["most"]["value"], json!(2.3));
    let value: Value = desk.run(&["value", "a.plate", "small.uplift", "--format", "json"]).json();
    assert_eq!(value["missing"], json!([{ "component": "small", "property": "uplift", "doc": "what lifts it" }]));
    let value: Value = desk.run(&["value", "a.plate", "one.share", "--how", "--format", "json"]).json();
    let names: Vec<&str> = value["steps"].as_array().unwrap().iter().map(|step| step["name"].as_str().unwrap()).collect();
    assert!(names.contains(&"big.uplift") && names.contains(&"gust"), "{names:?}");
    let done = desk.run(&["value", "a.plate", "1 m + 1 kN", "--format", "json"]);
    assert_eq!((done.status, done.json()["problems"][0]["severity"].as_str()), (Some(2), Some("error")));
}

#[test]
fn a_long_chain_of_values_has_its_steps() {
    let mut design = String::from("let v0 1 m\n");
    for at in 1..20_000 {
        design.push_str(&format!("let v{at} v{} + 1 mm\n", at - 1));
    }
    let done = Desk::new().file("a.plate", design).run(&["value", "a.plate", "v19999", "--how"]);
    assert_eq!(done.status, Some(0), "{}", done.err);
    assert!(done.out.contains("and more steps"), "{}", done.out.len());
}
