//! A small design that is edited line by line, read again each time from what was there before: it says what a fresh reading says.

use super::chance::Chance;
use super::{designs, how_many};
use wallplate::design::Choice;
use wallplate::problem::Problem;
use wallplate::rules::{Finding, Options};
use wallplate::session::{Draft, NoShelf, Session};
use wallplate::syntax::tree::Date;
use wallplate::text::Source;
use wallplate::values::Halt;

fn on(today: Option<u16>) -> Options {
    Options { today: today.map(|year| Date { year: year.into(), month: 6, day: 1 }), ..Options::default() }
}

fn afresh(text: &str, options: &Options) -> (Vec<Finding>, Vec<Problem>) {
    let session = Session::read(vec![Source::new("a.plate", text)], &NoShelf, &Choice::default());
    (session.check(options), session.problems())
}

fn again(draft: &mut Draft, text: &str, options: &Options) -> (Vec<Finding>, Vec<Problem>) {
    draft.read(vec![Source::new("a.plate", text)], &NoShelf, options, &Halt::default());
    let sources = &draft.session().sources;
    let mut findings: Vec<Finding> = draft.findings().iter().map(|finding| finding.as_ref().clone()).collect();
    for finding in &mut findings {
        finding.places.iter_mut().for_each(|place| place.span = sources.settle(place.span));
        finding.influences.iter_mut().for_each(|influence| influence.place.span = sources.settle(influence.place.span));
        finding.mends.iter_mut().chain(&mut finding.suffices).for_each(|mend| mend.span = sources.settle(mend.span));
    }
    (findings, draft.session().problems())
}

/// What has to do with other parts of the engine: mends, words of what is missing, what somebody has taken on, a guess, a habit.
const MORE: &str = "rule own.mended \"It is wide enough\" {
  each  c in crate
  demand  2.5 m
  capacity  c.wide
  mend  c.wide
}
rule own.named \"Each has a spare\" {
  each  c in crate
  require  given(c.spare)
  says  \"{c.name} has a spare\"
}
rule own.spared \"The spare is as long\" {
  each  c in crate
  demand  c.spare
  capacity  c.deep + c.wide
}
rule own.dated \"Its day has not passed\" {
  each  c in crate
  require  today <= 2027-12-31
}
rule own.last \"All is written\" {
  each  c in crate
  last_resort  yes
  demand  c.spare
  capacity  1 m
}
accept own.mended {
  because  \"seen\"
  until    2027-12-31
}
";

/// One edit of a line of the text: a digit, a line left out or doubled, a name, a guess, a block before the others.
fn edited(chance: &mut Chance, text: &str) -> String {
    let mut lines: Vec<String> = text.lines().map(ToOwned::to_owned).collect();
    let at = chance.below(lines.len());
    match chance.below(8) {
        0 => drop(lines.remove(at)),
        1 => lines.insert(at, lines[chance.below(lines.len())].clone()),
        2 => return text.replace("c0", "cx").replace("crate c1", "crate c0"),
        3 => return text.replace("cx", "c0"),
        4 => return format!("crate first{} {{ wide 2 m ± 5 mm; deep 1 m; load 1 kN guessed }}\n{text}", chance.below(3)),
        5 => lines.insert(at, String::new()),
        _ => {
            let digits: Vec<usize> = text.char_indices().filter(|(_, sign)| sign.is_ascii_digit()).map(|(at, _)| at).collect();
            let place = *chance.of(&digits);
            let mut changed = text.to_owned();
            changed.replace_range(place..=place, &chance.below(10).to_string());
            return changed;
        }
    }
    lines.join("\n") + "\n"
}

#[test]
fn an_edited_design_says_what_a_fresh_reading_says() {
    for seed in 0..how_many(25) {
        let mut chance = Chance::new(seed);
        let whole = if chance.once_in(2) { designs::design(&mut chance) } else { designs::asked(&mut chance) } + MORE;
        let mut draft = Draft::default();
        let mut text = whole.clone();
        for edit in 0..14 {
            let options = on(*chance.of(&[Some(2027), Some(2027), Some(2028), None]));
            let ((findings, problems), (fresh, fresh_problems)) = (again(&mut draft, &text, &options), afresh(&text, &options));
            let story = || format!("seed {seed}, edit {edit}, {options:?}:\n{text}");
            assert_eq!(problems, fresh_problems, "{}", story());
            for (one, other) in findings.iter().zip(&fresh) {
                assert_eq!(one, other, "{}", story());
            }
            assert_eq!(findings.len(), fresh.len(), "{}", story());
            // Now and then back: what was known of it before still holds.
            text = if chance.once_in(4) { whole.clone() } else { edited(&mut chance, &text) };
        }
    }
}
