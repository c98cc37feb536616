//! Advice that names a number is tried before it is said: here once more, in the text and by the whole program.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use wallplate::design::Choice;
use wallplate::problem::Mend;
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::syntax::tree::{Date, Expr, Node, TemplatePart};
use wallplate::text::Source;

const TODAY: Date = Date { year: 2027, month: 6, day: 1 };

fn read(name: &str, text: &str) -> Session {
    Session::read(vec![Source::new(name, text)], &NoShelf, &Choice::default())
}

fn check(session: &Session) -> Vec<Finding> {
    session.check(&Options { today: Some(TODAY), ..Options::default() })
}

fn broken() -> Vec<(String, String)> {
    designs("examples/broken")
}

fn designs(folder: &str) -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|ending| ending == "plate"));
    files.sort();
    files.iter().map(|path| (path.file_name().unwrap().to_string_lossy().into_owned(), std::fs::read_to_string(path).unwrap())).collect()
}

fn example(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name)).unwrap()
}

/// The text with a change that was offered.
fn with(text: &str, mend: &Mend) -> String {
    let range = mend.span.start as usize..mend.span.end as usize;
    let mut changed = text.to_owned();
    changed.replace_range(range, &mend.text);
    changed
}

type Key = (String, Vec<String>);

fn verdicts(findings: &[Finding]) -> BTreeMap<Key, (Verdict, String)> {
    let key = |finding: &Finding| (finding.rule.to_string(), finding.subjects.iter().map(ToString::to_string).collect());
    findings.iter().map(|finding| (key(finding), (finding.verdict, finding.message.clone()))).collect()
}

/// Each number that a help names, written into the text: the rule has to pass, and no rule that held may fail.
#[test]
fn every_number_in_a_help_holds_when_it_is_written() {
    let mut tried = 0;
    let mut wrong = Vec::new();
    let mut mended_by: BTreeSet<String> = BTreeSet::new();
    for (name, text) in broken().into_iter().chain(designs("examples")) {
        let session = read(&name, &text);
        let before = check(&session);
        let held = verdicts(&before);
        for finding in &before {
            let is_right = finding.verdict == Verdict::Pass;
            assert!(!is_right || finding.mends.is_empty(), "{name}: {} holds and offers {:?}", finding.rule, finding.mends);
            if !finding.mends.is_empty() {
                mended_by.insert(finding.rule.to_string());
            }
            for mend in finding.mends.iter().chain(&finding.suffices) {
                tried += 1;
                let help = finding.help.as_deref().unwrap_or_default();
                assert!(help.contains(&mend.text) && help.contains("(now "), "{name}: {}: {help}", finding.rule);
                let mended = read(&name, &with(&text, mend));
                // A rule that speaks only where something is wrong has nothing more to say.
                let rules = &mended.design().rules;
                let may_fall_silent = mended.problems().len() == session.problems().len()
                    && rules.iter().any(|rule| rule.name == finding.rule && (rule.when.is_some() || rule.by_line));
                let after = verdicts(&check(&mended));
                for (key, (was, _)) in &held {
                    let now = after.get(key).map(|(verdict, message)| (*verdict, message.as_str()));
                    let is_its_own =
                        *key.0 == *finding.rule && key.1 == finding.subjects.iter().map(ToString::to_string).collect::<Vec<_>>();
                    let helps = now.map_or(may_fall_silent, |(verdict, _)| verdict == Verdict::Pass);
                    if is_its_own && !helps {
                        wrong.push(format!("{name}: {} does not help {}: {now:?}", mend.title, finding.rule));
                    }
                    let fights = *was == Verdict::Pass && matches!(now, Some((Verdict::Fail, _))) && !help.contains(&key.0);
                    if fights {
                        wrong.push(format!("{name}: {} for {} fights {}: {now:?}", mend.title, finding.rule, key.0));
                    }
                }
            }
        }
    }
    assert!(tried > 40, "{tried}");
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
    for rule in ["travel.open_sensor_margin", "piers.gap_width", "travel.sensor_is_reached"] {
        assert!(mended_by.contains(rule), "{rule} offers a mend somewhere: {mended_by:?}");
    }
}

/// One of several texts that are said one after another: what is in it is looked at by itself.
fn is_text(expr: &Expr) -> bool {
    match &expr.node {
        Node::Text(_) | Node::Template(_) => true,
        Node::If(_, a, b) => is_text(a) && is_text(b),
        _ => false,
    }
}

fn has_number(expr: &Expr) -> bool {
    let mut found = false;
    expr.walk(&mut |inner| {
        if let Node::Template(pieces) = &inner.node {
            found |= pieces.iter().any(|piece| match piece {
                TemplatePart::Value(Expr { node: Node::Field(_, word), .. }) => {
                    !matches!(word.text.as_str(), "name" | "behind" | "longest_span" | "sag_at" | "first_end" | "last_end" | "family")
                }
                TemplatePart::Value(Expr { node: Node::Name(name), .. }) => ["demand", "capacity", "ratio"].contains(&name.as_str()),
                TemplatePart::Value(Expr { node: Node::Aggregate { .. }, .. }) | TemplatePart::Text(_) => false,
                TemplatePart::Value(inner) => !is_text(inner),
            });
        }
    });
    found
}

/// A number that nobody tried cannot be in a help: its words hold names and places, and `mend` or `suffices` the numbers.
#[test]
fn no_help_works_out_a_number_by_itself() {
    let session = read("a.plate", "");
    let loose: Vec<&str> = session
        .design()
        .rules
        .iter()
        .filter(|rule| rule.help.as_ref().is_some_and(|help| has_number(help)))
        .map(|rule| rule.name.as_str())
        .collect();
    assert_eq!(loose, Vec::<&str>::new());
}

fn finding(text: &str, rule: &str) -> Finding {
    let found = check(&read("a.plate", text)).into_iter().find(|finding| finding.rule == rule && finding.verdict != Verdict::Pass);
    found.unwrap_or_else(|| panic!("nothing is wrong with {rule}"))
}

fn swapped(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "the text has no `{from}`");
    text.replacen(from, to, 1)
}

/// The stop on the wrong side of its sensor: no brake mends that, however strong it is.
#[test]
fn a_stop_before_its_sensor_is_told_as_that() {
    for holding in ["500 N", "5 kN"] {
        let text = swapped(&example("heron_fold.plate"), "holding_force  1 kN ", &format!("holding_force  {holding} "));
        let text = text
            .replace("station       8.675 m ± 3 mm", "station       8.475 m ± 3 mm")
            .replace("station 8.675 m ± 3 mm", "station 8.475 m ± 3 mm");
        let help = finding(&text, "drive.stops_in_the_wind").help.unwrap();
        assert!(help.contains("the open stop comes before the open sensor"), "{help}");
        assert!(!help.contains("180 N") && !help.contains("holding_force"), "{help}");
    }
}

#[test]
fn a_short_rack_is_lengthened_at_the_end_that_is_named() {
    let text = swapped(&example("heron_fold.plate"), "-0.140 m to 4.340 m", "0.040 m to 4.340 m");
    let help = finding(&text, "drive.rack_always_in_mesh").help.unwrap();
    assert!(help.starts_with("sill_rack.runs.from of -0.") && help.contains("(now 0.04 m)") && !help.contains("runs.to"), "{help}");
    assert!(help.contains("its closed end"), "{help}");
}

/// The stop's spring is made as stiff as it has to be for its energy: the energy that comes in falls with it.
#[test]
fn a_buffer_is_no_larger_than_it_has_to_be() {
    let text = example("heron_fold.plate").replace("takes_energy  40 J", "takes_energy  15 J");
    let finding = finding(&text, "travel.stop_energy");
    let help = finding.help.clone().unwrap();
    let (_, rest) = help.split_once("takes_energy of ").unwrap_or_else(|| panic!("{help}"));
    let enough: f64 = rest.split(' ').next().unwrap().parse().unwrap();
    let demand = finding.demand.unwrap().quantity.si;
    assert!(enough > 15.0 && enough <= demand / 0.9 + 1.0, "{help}, {demand}");
    assert!(!help.contains("softer") && !help.contains("stiffer"), "{help}");
}

/// A gap that binds and a season that is wider than the whole room for it: the gap alone cannot help, and is not offered.
#[test]
fn a_mesh_that_no_gap_can_mend_is_not_offered_one() {
    let text = swapped(&example("heron_fold.plate"), "size 45 mm; moisture 10 % to 18 %", "size 450 mm; moisture 4 % to 28 %");
    let finding = finding(&text, "drive.mesh_all_year");
    assert!(finding.mends.is_empty() && finding.suffices.is_empty(), "{finding:?}");
    assert!(!finding.help.unwrap().contains("(now "));
    let text = swapped(&example("heron_fold.plate"), "gap             1.5 mm ± 0.1 mm", "gap             0.4 mm ± 0.1 mm");
    let message = self::finding(&text, "drive.mesh_all_year").message;
    assert!(message.contains("too tight already") && !message.contains("by -"), "{message}");
}

#[test]
fn a_comparison_is_told_apart() {
    let text = swapped(&example("sorrel_kettle.plate"), "aperture 3/16 in", "aperture 1/4 in");
    let message = finding(&text, "piers.keeps_mice_out").message;
    assert!(message.contains("1/4 in; a mouse comes through more than 0.2362 in"), "{message}");
}

/// Advice that is not followed is no matter of little room.
#[test]
fn advice_that_is_not_followed_is_called_advice() {
    let text = swapped(&example("heron_fold.plate"), "drag_released  30 N", "drag_released  900 N");
    let finding = finding(&text, "drive.hand_movable");
    assert_eq!((finding.verdict, finding.word(), finding.advice_not_met), (Verdict::Tight, "advice", true));
    assert!(finding.ratio.unwrap() > 1.0);
    // 90 to 100 % of a piece of advice is tight, as of any check.
    let used = |drag: i32| {
        let text = swapped(&example("heron_fold.plate"), "drag_released  30 N", &format!("drag_released  {drag} N"));
        let only = Options { only: Some("drive.hand_movable".into()), today: Some(TODAY) };
        read("a.plate", &text).check(&only).into_iter().next().unwrap()
    };
    let near = (0..25).map(|tens| used(10 * tens)).find(|finding| finding.ratio.is_some_and(|ratio| ratio > 0.91 && ratio < 1.0)).unwrap();
    assert_eq!((near.verdict, near.word(), near.advice_not_met), (Verdict::Tight, "tight", false));
}
