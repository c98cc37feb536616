//! Which findings are asked for by a name, which are taken on, and until when: by the reference.

use wallplate::design::Choice;
use wallplate::rules::{Finding, Only, Options, not_begun};
use wallplate::session::{NoShelf, Session};
use wallplate::syntax::tree::Date;
use wallplate::text::Source;

fn read(text: &str) -> Session {
    let session = Session::read(vec![Source::new("made_up.plate", text)], &NoShelf, &Choice::default());
    assert!(session.problems().is_empty(), "{:?}\n{text}", session.problems());
    session
}

const DESIGN: &str = "kind thing \"a thing\" {
  every_building  own, \"a thing\"
  needs  own, \"a size\", given(size)
  needs  other, \"a size\", given(size)
  size  length  \"its size\"
}
kind lamp \"a lamp\" {
  every_building  other, \"a lamp\"
}
thing one { size 1 m }
thing row[1..2] {}
thing rowing { size 1 m }
rule own.a \"A\" { each t in thing; require t.name != \"\" }
rule own.b \"B\" { each t in thing; require t.name != \"\" }
rule other.a \"C\" { each t in thing; require t.name != \"\" }
";

fn asked(names: &[&str]) -> (Vec<String>, Vec<String>) {
    let session = read(DESIGN);
    let options = Options { only: Some(names.iter().copied().collect()), ..Options::default() };
    let said = |finding: &Finding| format!("{} {}", finding.rule, finding.subjects[0]);
    let findings = session.check(&options).iter().map(said).collect();
    let lacking = not_begun(&session.evaluator, &options);
    (findings, lacking.iter().map(|one| format!("{} {}", one.area, one.component.as_deref().unwrap_or("-"))).collect())
}

#[test]
fn a_name_asks_for_an_area_a_rule_or_a_component() {
    const THINGS: [&str; 4] = ["one", "row[1]", "row[2]", "rowing"];
    let of = |rules: &[&str], things: &[&str]| -> Vec<String> {
        rules.iter().flat_map(|rule| things.iter().map(move |thing| format!("{rule} {thing}"))).collect()
    };
    let words = |words: &[&str]| words.iter().map(ToString::to_string).collect::<Vec<_>>();
    assert_eq!(asked(&["own"]), (of(&["own.a", "own.b"], &THINGS), words(&["own row[1]", "own row[2]"])));
    assert_eq!(asked(&["other"]), (of(&["other.a"], &THINGS), words(&["other row[1]", "other row[2]", "other -"])));
    assert_eq!(asked(&["own.b"]), (of(&["own.b"], &THINGS), Vec::new()));
    assert_eq!(asked(&["one"]), (of(&["own.a", "own.b", "other.a"], &["one"]), Vec::new()));
    // All of an array by its name, and not what only begins alike.
    let row = words(&["own row[1]", "own row[2]", "other row[1]", "other row[2]"]);
    assert_eq!(asked(&["row"]), (of(&["own.a", "own.b", "other.a"], &["row[1]", "row[2]"]), row));
    assert_eq!(asked(&["row[2]"]), (of(&["own.a", "own.b", "other.a"], &["row[2]"]), words(&["own row[2]", "other row[2]"])));
    // Each name asks for its own.
    let both = ["own.a one", "own.a row[1]", "own.a row[2]", "own.a rowing", "own.b one", "other.a one"];
    assert_eq!(asked(&["own.a", "one"]), (words(&both), Vec::new()));
    assert_eq!(asked(&[]).0.len(), 12);
    assert_eq!(asked(&[]).1.len(), 5);
    let session = read(DESIGN);
    for (name, known) in [("own", true), ("own.a", true), ("one", true), ("row", true), ("row[1]", true), ("ro", false), ("a", false)] {
        assert_eq!(Only::is_known(session.design(), name), known, "{name}");
    }
}

/// Of what an area and a component are both called the area is meant; a finding about several is one about each of them.
#[test]
fn an_area_goes_before_a_component_and_each_of_several_counts() {
    let session = read(
        "kind thing \"a thing\" { size length \"its size\" }\nkind lamp \"a lamp\" { size length \"its size\" }\nthing own {}\nthing one {}\n\
         lamp old {}\nrule own.a \"A\" { each t in thing, l in lamp; require t.name != \"\" }\nrule other.a \"B\" { each t in thing; require t.name != \"\" }\n",
    );
    let asked = |name: &str| {
        let findings = session.check(&Options { only: Some(name.into()), ..Options::default() });
        findings.iter().map(|finding| format!("{} {}", finding.rule, finding.subjects.join(" "))).collect::<Vec<_>>()
    };
    assert_eq!(asked("own"), ["own.a own old", "own.a one old"]);
    assert_eq!(asked("own.a"), ["own.a own old", "own.a one old"]);
    assert_eq!(asked("old"), ["own.a own old", "own.a one old"]);
    assert_eq!(asked("one"), ["own.a one old", "other.a one"]);
}

fn june(day: u8) -> Date {
    Date { year: 2027, month: 6, day }
}

/// Taken on until a day, that day too, up to a share, on some components; of several acceptances the last is told.
#[test]
fn what_is_taken_on_is_so_until_its_day_and_up_to_its_share() {
    // 1.25 of 1.
    let rule = "rule own.a \"A\" { each t in thing; demand 1.25 m; capacity t.size }\n";
    let things =
        "kind thing \"a thing\" { size length \"its size\" }\nthing one { size 1 m }\nthing two { size 1 m }\nthing three { size 2 m }\n";
    for (accept, today, due) in [
        ("", None, ["-", "-"]),
        ("accept own.a { because \"looked at and held\" }", None, ["looked at and held", "looked at and held"]),
        ("accept own.b { because \"looked at and held\" }", None, ["-", "-"]),
        ("accept own.a { on two; because \"looked at and held\" }", None, ["-", "looked at and held"]),
        ("accept own.a { because \"looked at and held\"; until 2027-06-01 }", None, ["looked at and held", "looked at and held"]),
        ("accept own.a { because \"looked at and held\"; until 2027-06-01 }", Some(june(1)), ["looked at and held", "looked at and held"]),
        (
            "accept own.a { because \"looked at and held\"; until 2027-06-01 }",
            Some(Date { year: 2027, month: 5, day: 31 }),
            ["looked at and held", "looked at and held"],
        ),
        (
            "accept own.a { because \"looked at and held\"; until 2027-06-01 }",
            Some(june(2)),
            ["the acceptance ran until 2027-06-01", "the acceptance ran until 2027-06-01"],
        ),
        ("accept own.a { because \"looked at and held\"; up_to 125 % }", None, ["looked at and held", "looked at and held"]),
        ("accept own.a { because \"looked at and held\"; up_to 130 % }", None, ["looked at and held", "looked at and held"]),
        (
            "accept own.a { because \"looked at and held\"; up_to 120 % }",
            None,
            ["it was accepted up to 120 % and is now 125 %", "it was accepted up to 120 % and is now 125 %"],
        ),
        (
            "accept own.a { because \"looked at and held\" }\naccept own.a { on one; because \"another has looked\" }",
            None,
            ["another has looked", "looked at and held"],
        ),
        (
            "accept own.a { on one; because \"another has looked\" }\naccept own.a { on two; because \"a third has looked\" }",
            None,
            ["another has looked", "a third has looked"],
        ),
    ] {
        let text = format!(
            "{}{things}{rule}{accept}\n",
            if accept.contains("own.b") { "rule own.b \"B\" { each t in thing; require yes }\n" } else { "" }
        );
        let session = read(&text);
        let findings = session.check(&Options { only: Some("own.a".into()), today });
        let said = |finding: &Finding| {
            let accepted = finding.accepted.as_ref();
            let lapsed = accepted.and_then(|accepted| accepted.lapsed.clone());
            assert_eq!(finding.is_accepted(), accepted.is_some() && lapsed.is_none());
            lapsed.or_else(|| accepted.map(|accepted| accepted.because.to_string())).unwrap_or_else(|| "-".to_owned())
        };
        assert_eq!(findings.iter().map(said).collect::<Vec<_>>(), [due[0], due[1], "-"], "{accept} on {today:?}");
    }
}

/// A rule of last resort is silent where another has named all that it misses.
#[test]
fn a_last_resort_speaks_of_new_lines_only() {
    let kind = "kind thing \"a thing\" { size length \"its size\"; pull force \"its pull\" }\nthing one {}\n";
    let rules = |first: &str, last: &str| {
        let text = format!(
            "{kind}rule own.a \"A\" {{ each t in thing; require {first} }}\nrule own.z \"Z\" {{ each t in thing; last_resort yes; require {last} }}\n"
        );
        read(&text)
            .check(&Options::default())
            .iter()
            .filter(|finding| finding.rule.starts_with("own."))
            .map(|finding| finding.rule.to_string())
            .collect::<Vec<_>>()
    };
    assert_eq!(rules("t.size > 1 m", "t.size > 2 m"), ["own.a"]);
    assert_eq!(rules("t.size > 1 m", "t.pull > 2 N"), ["own.a", "own.z"]);
    assert_eq!(rules("t.size > 1 m", "t.size > 1 m and t.pull > 2 N"), ["own.a", "own.z"]);
    assert_eq!(rules("t.size > 1 m and t.pull > 2 N", "t.size > 1 m"), ["own.a"]);
    assert_eq!(rules("yes", "yes"), ["own.a", "own.z"]);
}
