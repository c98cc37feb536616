//! A rule that speaks only where something is wrong is asked at the ends of the tolerances as well.

use wallplate::design::Choice;
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;

fn found(kinds_and_parts: &str, rule: &str) -> Vec<Finding> {
    let text = format!("kind shelf {{ reach length; rise length default 0 mm }}\n{kinds_and_parts}\n{rule}\n");
    let session = Session::read(vec![Source::new("a.plate", &text)], &NoShelf, &Choice::default());
    assert_eq!(session.problems(), Vec::new(), "{text}");
    session.check(&Options::default()).into_iter().filter(|finding| finding.rule.starts_with("my_shelf.")).collect()
}

fn verdicts(findings: &[Finding]) -> Vec<Verdict> {
    findings.iter().map(|finding| finding.verdict).collect()
}

const LIMIT: &str = "rule my_shelf.reaches \"A shelf is short\" {
  each x in shelf
  when x.reach > 300 mm
  demand x.reach
  capacity 300 mm
  reserve 0
  says \"{x.name} reaches {demand}\"
}";

#[test]
fn a_limit_in_when_is_passed_at_an_end() {
    assert_eq!(verdicts(&found("shelf a { reach 290 mm }", LIMIT)), []);
    assert_eq!(verdicts(&found("shelf a { reach 290 mm ± 9 mm }", LIMIT)), []);
    let at_an_end = found("shelf a { reach 290 mm ± 15 mm }", LIMIT);
    assert_eq!(verdicts(&at_an_end), [Verdict::Fail]);
    assert_eq!(at_an_end[0].message, "a reaches 305 mm");
    assert_eq!(verdicts(&found("shelf a { reach 310 mm }", LIMIT)), [Verdict::Fail]);
}

#[test]
fn two_tolerances_that_only_together_make_it_apply_are_found() {
    let both = "rule my_shelf.together \"A shelf and what it rises\" {
  each x in shelf
  when x.reach + x.rise > 300 mm
  require no
}";
    assert_eq!(verdicts(&found("shelf a { reach 200 mm ± 30 mm; rise 50 mm ± 10 mm }", both)), []);
    assert_eq!(verdicts(&found("shelf a { reach 200 mm ± 30 mm; rise 50 mm ± 30 mm }", both)), [Verdict::Fail]);
}

#[test]
fn where_it_applies_only_at_an_end_and_holds_there_nothing_is_said() {
    let holds = "rule my_shelf.holds \"A long shelf rises\" {
  each x in shelf
  when x.reach > 300 mm
  require x.rise > 10 mm
}";
    assert_eq!(verdicts(&found("shelf a { reach 290 mm ± 15 mm; rise 20 mm }", holds)), []);
    assert_eq!(verdicts(&found("shelf a { reach 290 mm ± 15 mm; rise 5 mm }", holds)), [Verdict::Fail]);
    assert_eq!(verdicts(&found("shelf a { reach 290 mm; rise 5 mm }", holds)), []);
}

#[test]
fn what_does_not_apply_at_the_worst_end_is_not_judged_there() {
    let steep = "rule my_shelf.steep \"A shelf that rises much is short\" {
  each x in shelf
  when x.rise > 40 mm
  demand x.reach
  capacity 300 mm
  reserve 0
}";
    assert_eq!(verdicts(&found("shelf a { reach 400 mm; rise 20 mm ± 5 mm }", steep)), []);
    assert_eq!(verdicts(&found("shelf a { reach 400 mm; rise 20 mm ± 25 mm }", steep)), [Verdict::Fail]);
    assert_eq!(verdicts(&found("shelf a { reach 200 mm ± 10 mm; rise 20 mm ± 25 mm }", steep)), []);
}
