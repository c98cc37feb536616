//! Verdict, share, sentence and what is not followed, for every sign and size of both sides: as the reference tells them, once more.

use wallplate::design::Choice;
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;

fn findings(text: &str) -> Vec<Finding> {
    let text = format!(
        "kind thing \"a thing\" {{\n  size  length  \"its size\"\n  pull  force  \"its pull\"\n  of  link to stone, rope  \"whose load is a mass here and a force there\"\n}}\nkind stone \"a stone\" {{\n  load  mass  \"its load\"\n}}\nkind rope \"a rope\" {{\n  load  force  \"its load\"\n}}\nstone boulder {{ load 100 kg }}\nthing one {{ of boulder }}\n{text}"
    );
    let session = Session::read(vec![Source::new("made_up.plate", &text)], &NoShelf, &Choice::default());
    assert!(session.problems().is_empty(), "{:?}\n{text}", session.problems());
    session.check(&Options::default()).into_iter().filter(|finding| finding.rule.starts_with("own.")).collect()
}

fn one(lines: &str) -> Finding {
    let found = findings(&format!("rule own.holds \"It holds\" {{\n  each  t in thing\n{lines}\n}}\n"));
    assert_eq!(found.len(), 1, "{lines}");
    found.into_iter().next().unwrap()
}

/// `pass`: it holds with the reserve. `tight`: it holds with less. `fail`: it does not. Advice never fails. A reserve of what is
/// below zero lies below it; where nothing can be given nothing is held but what asks for nothing.
#[test]
fn every_pair_of_sides_has_the_verdict_of_the_reference() {
    const DEMANDS: [f64; 13] = [-2.0, -1.2, -1.1, -1.0, -0.9, -0.1, 0.0, 0.5, 0.75, 0.9, 0.95, 1.0, 1.05];
    let mut text = String::new();
    let mut cases = Vec::new();
    for demand in DEMANDS {
        for capacity in [-1.0, 0.0, 1.0] {
            for reserve in [None, Some(0.0), Some(0.1), Some(0.25)] {
                for advice in [false, true] {
                    let line = reserve.map_or_else(String::new, |part| format!("  reserve  {part}\n"));
                    let advises = if advice { "  advice  yes\n" } else { "" };
                    text += &format!(
                        "rule own.r{} \"It holds\" {{\n  each  t in thing\n  demand  {demand} m\n  capacity  {capacity} m\n{line}{advises}}}\n",
                        cases.len()
                    );
                    cases.push((demand, capacity, reserve.unwrap_or(0.1), advice));
                }
            }
        }
    }
    let found = findings(&text);
    assert_eq!(found.len(), cases.len());
    for (found, (demand, capacity, reserve, advice)) in found.iter().zip(cases) {
        // In thousandths of a millimetre, so that what is alike is alike.
        let whole = |metres: f64| (metres * 1e6).round();
        let (d, c) = (whole(demand), whole(capacity));
        let due = if d <= whole(capacity - reserve * capacity.abs()) && (c > 0.0 || d <= 0.0) {
            Verdict::Pass
        } else if d <= c || advice {
            Verdict::Tight
        } else {
            Verdict::Fail
        };
        let case = format!("{demand} m of {capacity} m with {reserve}, advice {advice}: {found:?}");
        assert_eq!(found.verdict, due, "{case}");
        assert_eq!(found.advice_not_met, advice && d > c, "{case}");
        assert_eq!(found.word(), if advice && d > c { "advice" } else { due.word() }, "{case}");
        let share = (capacity > 0.0 && demand >= 0.0).then(|| demand / capacity);
        assert_eq!(found.ratio.is_some(), share.is_some(), "{case}");
        assert!((found.ratio.unwrap_or(0.0) - share.unwrap_or(0.0)).abs() < 1e-12, "{case}");
        assert_eq!(found.message.contains("is more than"), due == Verdict::Fail, "{case}");
        assert_eq!(found.message.contains("against"), due != Verdict::Fail, "{case}");
        assert!(found.nominal.is_none() && found.influences.is_empty() && found.missing.is_empty(), "{case}");
        assert_eq!([&found.demand, &found.capacity].map(|side| side.as_ref().unwrap().quantity.si), [demand, capacity], "{case}");
    }
}

/// What differs by less than the figures that are written is alike: 0.1 + 0.2 of 0.3.
#[test]
fn what_is_written_alike_holds() {
    assert_eq!(one("  demand  0.1 m + 0.2 m\n  capacity  0.3 m\n  reserve  0").verdict, Verdict::Pass);
    assert_eq!(one("  demand  0.3 m\n  capacity  0.3 m").verdict, Verdict::Tight);
    assert_eq!(one("  demand  0.1 m + 0.2 m\n  capacity  0.3 m").verdict, Verdict::Tight);
    assert_eq!(one("  demand  0.3001 m\n  capacity  0.3 m").verdict, Verdict::Fail);
}

/// A mass beside a force is its weight, on either side: 100 kg weigh 980.665 N (ISO 80000-3).
#[test]
fn a_mass_beside_a_force_weighs() {
    let heavy = one("  demand  t.of.load\n  capacity  1 kN\n  reserve  0");
    assert!((heavy.ratio.unwrap() - 0.980_665).abs() < 1e-12, "{heavy:?}");
    assert_eq!(heavy.demand.unwrap().quantity.si, 980.665);
    let held = one("  demand  1 kN\n  capacity  t.of.load");
    assert!((held.ratio.unwrap() - 1.0 / 0.980_665).abs() < 1e-12, "{held:?}");
    assert_eq!((held.verdict, held.capacity.unwrap().quantity.si), (Verdict::Fail, 980.665));
    // Two masses are compared as such.
    let both = one("  demand  90 kg\n  capacity  100 kg");
    assert_eq!((both.verdict, both.demand.unwrap().quantity.si), (Verdict::Pass, 90.0));
}

/// A sum of nothing is nothing of whatever it stands beside.
#[test]
fn a_sum_of_nothing_is_a_side() {
    let nothing = "sum(c.station for c in clamp)";
    let asks = one(&format!("  demand  {nothing}\n  capacity  2 m"));
    assert_eq!((asks.verdict, asks.ratio, asks.capacity.unwrap().quantity.si), (Verdict::Pass, Some(0.0), 2.0));
    let gives = one(&format!("  demand  2 m\n  capacity  {nothing}"));
    assert_eq!((gives.verdict, gives.ratio, gives.demand.unwrap().quantity.si), (Verdict::Fail, None, 2.0));
    let neither = one(&format!("  demand  {nothing}\n  capacity  {nothing}"));
    assert_eq!((neither.verdict, neither.ratio), (Verdict::Pass, None));
}

/// A demand says how much there is and how much may be; a missing line is named, of either side, and both of both.
#[test]
fn what_is_missing_is_named_of_both_sides() {
    for (demand, capacity, names) in
        [("t.size", "2 m", vec!["size"]), ("2 m", "t.size", vec!["size"]), ("t.pull / 1 kN * 1 m", "t.size", vec!["pull", "size"])]
    {
        let found = one(&format!("  demand  {demand}\n  capacity  {capacity}"));
        assert_eq!(found.verdict, Verdict::Undetermined);
        let missing: Vec<&str> = found.missing.iter().map(|line| line.property.as_str()).collect();
        assert_eq!(missing, names, "{found:?}");
        let said = if names.len() == 1 { "needs `size` of one" } else { "needs `pull` of one and 1 more" };
        assert_eq!(found.message, said);
        assert!(found.help.as_ref().unwrap().starts_with(&format!("add a line `{} …` to one: its {}", names[0], names[0])), "{found:?}");
        assert_eq!(found.places.len(), names.len(), "{found:?}");
    }
}

/// A condition: holds, is borne, fails; advice is never more than tight.
#[test]
fn a_condition_has_the_verdict_of_the_reference() {
    for (require, tight_if, advice, due) in [
        ("yes", None, false, Verdict::Pass),
        ("yes", None, true, Verdict::Pass),
        ("no", None, false, Verdict::Fail),
        ("no", None, true, Verdict::Tight),
        ("no", Some("yes"), false, Verdict::Tight),
        ("no", Some("no"), false, Verdict::Fail),
        ("yes", Some("yes"), false, Verdict::Pass),
        ("no", Some("no"), true, Verdict::Tight),
        // What cannot be told is not borne.
        ("no", Some("t.size > 1 m"), false, Verdict::Fail),
    ] {
        let borne = tight_if.map_or_else(String::new, |borne| format!("\n  tight_if  {borne}"));
        let advises = if advice { "\n  advice  yes" } else { "" };
        let found = one(&format!("  require  {require}{borne}{advises}"));
        assert_eq!(found.verdict, due, "{require} {tight_if:?} {advice}");
        assert_eq!(found.advice_not_met, advice && require == "no");
        assert_eq!(found.message, if require == "yes" { "It holds" } else { "does not hold: It holds" });
    }
}

/// What is borne as it is written may be past bearing at an end of a tolerance; what holds may be borne there.
#[test]
fn a_condition_is_asked_at_the_ends() {
    let rule = |limit: &str, borne: &str| {
        let found = findings(&format!(
            "let a 1.0 m ± 0.1 m\nrule own.holds \"It holds\" {{\n  each  t in thing\n  require  a < {limit}\n  tight_if  a < {borne}\n  help  \"less\"\n}}\n"
        ));
        (found[0].verdict, found[0].help.clone())
    };
    let less = Some("less".to_owned());
    assert_eq!(rule("1.2 m", "1.3 m"), (Verdict::Pass, None));
    assert_eq!(rule("1.05 m", "1.3 m"), (Verdict::Tight, less.clone()));
    assert_eq!(rule("1.05 m", "1.08 m"), (Verdict::Fail, less.clone()));
    assert_eq!(rule("0.95 m", "1.2 m"), (Verdict::Tight, less.clone()));
    assert_eq!(rule("0.95 m", "1.05 m"), (Verdict::Fail, less));
}

/// The sentence of a rule speaks of the sides, the share and the reserve at the worst combination, and `otherwise` where it fails.
#[test]
fn a_sentence_speaks_of_the_worst_combination() {
    let rule = |capacity: &str| {
        let found = findings(&format!(
            "let a 1.00 m ± 0.25 m\nrule own.holds \"It holds\" {{\n  each  t in thing\n  demand  a\n  capacity  {capacity}\n  reserve  0.2\n  says  \"{{demand}} of {{capacity}}, {{ratio}}, {{reserve}}\"\n  otherwise  \"{{demand}} over {{capacity}}\"\n}}\n"
        ));
        (found[0].verdict, found[0].message.clone())
    };
    assert_eq!(rule("2.50 m"), (Verdict::Pass, "1.25 m of 2.5 m, 0.5, 0.2".to_owned()));
    assert_eq!(rule("1.30 m"), (Verdict::Tight, "1.25 m of 1.3 m, 0.9615, 0.2".to_owned()));
    assert_eq!(rule("1.20 m"), (Verdict::Fail, "1.25 m over 1.2 m".to_owned()));
}

/// Something that cannot be worked out at an end of a tolerance is open, and says so; where it fails elsewhere it fails.
#[test]
fn what_has_no_answer_at_an_end_is_open() {
    let rule = |demand: &str| {
        let found = findings(&format!(
            "let a 1.0 ± 0.5\nlet b 1.0 ± 0.5\nrule own.holds \"It holds\" {{\n  each  t in thing\n  demand  {demand}\n  capacity  3\n}}\n"
        ));
        (found[0].verdict, found[0].message.clone())
    };
    let open = (Verdict::Undetermined, "has no answer at an end of its tolerances".to_owned());
    assert_eq!(rule("sqrt(a - 0.7)"), open);
    assert_eq!(rule("1 / (a - 0.5)"), open);
    assert_eq!(rule("sqrt(a - 0.5) + b").0, Verdict::Pass);
    assert_eq!(rule("sqrt(a - 0.7) + 4 * b").0, Verdict::Fail);
    // The same of a condition.
    let asks = |require: &str| {
        let found = findings(&format!(
            "let a 1.0 ± 0.5\nlet b 1.0 ± 0.5\nrule own.holds \"It holds\" {{\n  each  t in thing\n  require  {require}\n}}\n"
        ));
        (found[0].verdict, found[0].message.clone())
    };
    assert_eq!(asks("sqrt(a - 0.7) < 3"), open);
    assert_eq!(asks("sqrt(a - 0.5) < 3").0, Verdict::Pass);
    assert_eq!(asks("sqrt(a - 0.7) < 3 and b < 1.2").0, Verdict::Fail);
}

/// Both sides are told in one unit, that of the demand as it is written, and of the capacity where that has none.
#[test]
fn both_sides_are_told_in_one_unit() {
    let texts = |demand: &str, capacity: &str| {
        let found = one(&format!("  demand  {demand}\n  capacity  {capacity}"));
        [found.demand.unwrap().text, found.capacity.unwrap().text]
    };
    assert_eq!(texts("50 in", "2.54 m"), ["50 in", "100 in"]);
    assert_eq!(texts("1.27 m", "100 in"), ["1.27 m", "2.54 m"]);
    assert_eq!(texts("1270 mm", "2.54 m"), ["1270 mm", "2540 mm"]);
}

/// A rule that asks nothing, or has one side only, finds nothing: it is told as a mistake of the text.
#[test]
fn half_a_rule_finds_nothing() {
    for half in ["  demand  1 m", "  capacity  1 m", "  says  \"so\""] {
        let text = format!("kind thing \"a thing\" {{}}\nthing one {{}}\nrule own.holds \"It holds\" {{\n  each  t in thing\n{half}\n}}\n");
        let session = Session::read(vec![Source::new("made_up.plate", &text)], &NoShelf, &Choice::default());
        let findings = session.check(&Options::default());
        assert!(!session.problems().is_empty(), "{half}");
        assert!(findings.iter().all(|finding| finding.rule != "own.holds"), "{half}: {findings:?}");
    }
}
