//! The number that a help names: the nearest with which the rule passes at every end, as finely written as it takes, worked out
//! here from the straight line that the rule is.

use super::chance::Chance;
use super::how_many;
use wallplate::design::Choice;
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;

const KIND: &str = "kind peg \"a peg\" {\n  station  length  \"where\"\n  grip  length  at_least 0.5 m  at_most 6 m  \"its hold\"\n  reach  range of length  \"how far\"\n}\n";

fn finding(text: &str) -> Finding {
    let text = format!("{KIND}{text}");
    let session = Session::read(vec![Source::new("made_up.plate", &text)], &NoShelf, &Choice::default());
    assert!(session.problems().is_empty(), "{:?}\n{text}", session.problems());
    session.check(&Options::default()).into_iter().find(|finding| finding.rule == "own.holds").unwrap()
}

fn judged(design: &str, rule: &str) -> Finding {
    finding(&format!("{design}\nrule own.holds \"It holds\" {{\n  each  p in peg\n{rule}\n}}\n"))
}

/// What is to be written, worked out by hand: `a` (millimetres for each millimetre of station) grows, so the station may be no more
/// than `bound`, or no less where `a` falls.
fn due(before: f64, bound: f64, rises: bool, digits: i32) -> Option<(f64, usize)> {
    let passes = |mm: f64| if rises { mm <= bound + 1e-7 } else { mm >= bound - 1e-7 };
    for finer in 0..=3 {
        let step = 10_f64.powi(3 - digits - finer);
        let nearest = (bound / step).round() * step;
        let away = if bound < before { (bound / step).floor() } else { (bound / step).ceil() } * step;
        for mm in [nearest, away] {
            let (off, change) = ((mm - bound).abs(), (bound - before).abs());
            // What is nearly a tenth of the change is up to how finely the bound is looked for.
            if finer < 3 && (off - 0.1 * change).abs() < 1e-3 * change {
                return None;
            }
            // So is what lies this near to the bound itself, or on it.
            if off < 1e-3 * change {
                return None;
            }
            if (finer == 3 || off <= 0.1 * change) && passes(mm) {
                return Some((mm, usize::try_from(digits + finer).unwrap()));
            }
        }
    }
    None
}

#[test]
fn the_number_of_a_help_is_the_nearest_that_holds() {
    let mut compared = 0;
    for seed in 0..how_many(160) {
        let mut chance = Chance::new(seed);
        let digits = i32::try_from(chance.below(4)).unwrap();
        let unit = 10_f64.powi(3 - digits);
        // All lengths in millimetres.
        let before = ((1.0 + chance.between(0.0, 8.0)) * 1000.0 / unit).round() * unit;
        let (down, up) = (chance.below(60) as f64, chance.below(60) as f64);
        let rises = chance.once_in(2);
        let steep = f64::from(u32::try_from(1 + chance.below(4)).unwrap());
        let reserve = *chance.of(&[0.0, 0.1, 0.25]);
        let is_mend = chance.once_in(2);
        // The demand as it is written, and a capacity that is short of it.
        let other = 20_000.0;
        let demand = if rises { steep * before } else { other + 40_000.0 - steep * before };
        let capacity = (demand * (1.0 - reserve) * chance.between(0.5, 1.0)).round();
        let most = capacity * (1.0 - reserve);
        let bound = if rises { most / steep - up } else { (other + 40_000.0 - most) / steep + down };
        if bound <= 1.0 || (if rises { bound >= before } else { bound <= before }) {
            continue;
        }
        let Some((mm, decimals)) = due(before, bound, rises, digits) else { continue };
        // Nothing is named that is some thirty times away: of the steps that are looked at one ends at 25 times, the next at 40.
        if mm >= 25.0 * before {
            continue;
        }
        compared += 1;
        let off = if down == 0.0 && up == 0.0 { String::new() } else { format!(" +{up} mm -{down} mm") };
        let station = format!("{:.*} m", usize::try_from(digits).unwrap(), before / 1000.0);
        let side = if rises { format!("{steep} * p.station") } else { format!("60 m - {steep} * p.station") };
        let word = if is_mend { "mend" } else { "suffices" };
        let found = judged(
            &format!("peg one {{ station {station}{off} }}"),
            &format!("  demand  {side}\n  capacity  {capacity} mm\n  reserve  {reserve}\n  {word}  p.station\n  help  \"another peg\""),
        );
        let text = format!("{:.decimals$} m", mm / 1000.0);
        let case = format!("seed {seed}: {station}{off}, {side} of {capacity} mm with {reserve}, bound {bound}: {text} is due, {found:?}");
        assert_ne!(found.verdict, Verdict::Pass, "{case}");
        let (said, silent) = if is_mend { (&found.mends, &found.suffices) } else { (&found.suffices, &found.mends) };
        assert!(said.len() == 1 && silent.is_empty(), "{case}");
        assert_eq!(said[0].text, text, "{case}");
        let help = found.help.as_deref().unwrap();
        let starts = if is_mend { format!("set one.station to {text} (now ") } else { format!("one.station of {text} would do (now ") };
        assert!(help.starts_with(&starts) && help.ends_with("); or another peg"), "{case}");
    }
    assert!(compared > 60, "{compared}");
}

fn said(design: &str, rule: &str) -> (Option<String>, usize, usize) {
    let found = judged(design, rule);
    (found.help, found.mends.len(), found.suffices.len())
}

/// A window of 1 m about 5 m is entered from the nearer side; from its middle nothing is looked for.
#[test]
fn the_nearer_side_is_named() {
    let rule = "  demand  abs(p.station - 5 m)\n  capacity  1 m\n  reserve  0\n  mend  p.station";
    assert_eq!(said("peg one { station 3.0 m }", rule), (Some("set one.station to 4.0 m (now 3 m)".into()), 1, 0));
    assert_eq!(said("peg one { station 7.0 m }", rule), (Some("set one.station to 6.0 m (now 7 m)".into()), 1, 0));
    assert_eq!(said("peg one { station 5.0 m }", rule), (None, 0, 0));
    // A tolerance of half of it leaves half.
    assert_eq!(said("peg one { station 7.0 m ± 0.5 m }", rule), (Some("set one.station to 5.5 m (now 7 m)".into()), 1, 0));
    // Nothing is far enough: none is named. Nor is a number thirty times away and more.
    assert_eq!(said("peg one { station 7.0 m ± 2 m }", rule), (None, 0, 0));
    let far = "  demand  80 m\n  capacity  p.station\n  reserve  0\n  mend  p.station";
    assert_eq!(said("peg one { station 5 m }", far), (Some("set one.station to 80 m (now 5 m)".into()), 1, 0));
    assert_eq!(said("peg one { station 1 m }", far), (None, 0, 0));
    // From nothing the unit is the measure.
    let small = "  demand  p.station\n  capacity  0 mm - 8 mm\n  reserve  0\n  mend  p.station";
    assert_eq!(said("peg one { station 0 mm }", small), (Some("set one.station to -8 mm (now 0 mm)".into()), 1, 0));
}

/// No number is offered that the kind does not let stand: from 0.5 m to 6 m.
#[test]
fn what_is_offered_may_stand_there() {
    let more =
        |least: &str| said("peg one { grip 3.0 m }", &format!("  demand  {least}\n  capacity  p.grip\n  reserve  0\n  mend  p.grip"));
    assert_eq!(more("4 m"), (Some("set one.grip to 4.0 m (now 3 m)".into()), 1, 0));
    assert_eq!(more("6.01 m"), (None, 0, 0));
    let less = |most: &str| said("peg one { grip 3.0 m }", &format!("  demand  p.grip\n  capacity  {most}\n  reserve  0\n  mend  p.grip"));
    assert_eq!(less("1.5 m"), (Some("set one.grip to 1.5 m (now 3 m)".into()), 1, 0));
    assert_eq!(less("0.49 m"), (None, 0, 0));
}

/// A line that several follow is changed for all of them, and said so; an end of a range is named by its end.
#[test]
fn what_a_line_is_for_is_said() {
    let rule = "  demand  2 m\n  capacity  p.station\n  reserve  0\n  mend  p.station";
    let three = judged("peg row[1..3] { station 1.0 m }", rule);
    assert_eq!(three.help.as_deref(), Some("set row[1].station to 2.0 m for all 3 that this line is for (now 1 m)"));
    assert_eq!(three.mends[0].title, "write `station 2.0 m` for all 3 that this line is for");
    let ends = |end: &str, rule: &str| {
        said("peg one { reach 1.0 m to 3.0 m }", &format!("  demand  {rule}\n  reserve  0\n  mend  p.reach.{end}")).0.unwrap()
    };
    assert_eq!(ends("to", "4 m\n  capacity  p.reach.to"), "set one.reach.to to 4.0 m (now 3 m)");
    assert_eq!(ends("from", "p.reach.from\n  capacity  0.5 m"), "set one.reach.from to 0.5 m (now 1 m)");
    // What the rule names is taken where it holds, and the nearest where it does not.
    let named = |to: &str| {
        said("peg one { station 1.0 m }", &format!("  demand  2 m\n  capacity  p.station\n  reserve  0\n  mend  p.station to {to}")).0
    };
    assert_eq!(named("2.5 m").as_deref(), Some("set one.station to 2.5 m (now 1 m)"));
    assert_eq!(named("1.5 m").as_deref(), Some("set one.station to 2.0 m (now 1 m)"));
    // A line that is worked out is not lost: its number would do.
    let worked_out = judged("let a 0.5 m\npeg one { station 2 * a }", rule);
    assert!(worked_out.mends.is_empty() && worked_out.suffices.len() == 1, "{worked_out:?}");
}

/// A name that a rule gives is worked out once, and anew where another number is tried: at the end of a tolerance, and for a help.
#[test]
fn a_name_of_a_rule_follows_what_is_tried() {
    let rule = "  let all  list(q.station for q in peg)\n  let far  max(s for s in all)\n  demand  sum(s for s in all) + far - far\n  capacity  2 m\n  reserve  0\n  mend  p.station";
    let found = judged("peg one { station 3.0 m ± 0.5 m }", rule);
    assert_eq!(found.demand.as_ref().map(|demand| demand.text.as_str()), Some("3.5 m"));
    assert_eq!(found.nominal.as_deref().map(|(demand, _)| demand.text.as_str()), Some("3 m"));
    assert_eq!(found.help.as_deref(), Some("set one.station to 1.5 m (now 3 m)"));
    assert_eq!(found.verdict, Verdict::Fail);
}

/// A condition is mended as well.
#[test]
fn a_condition_is_mended() {
    let rule = "  require  p.station >= 2 m\n  mend  p.station";
    assert_eq!(said("peg one { station 1.000 m }", rule), (Some("set one.station to 2.000 m (now 1 m)".into()), 1, 0));
}
