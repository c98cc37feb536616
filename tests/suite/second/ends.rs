//! The worst combination where tolerances work together: terms that hurt only beside one another, turn one another's sign or come
//! to nothing, each worked out here from its numbers and held against every combination of ends.

use super::chance::Chance;
use super::{how_many, near};
use wallplate::design::Choice;
use wallplate::output::Valued;
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;

/// A written number and how much less and more it may be.
struct Off {
    nominal: f64,
    down: f64,
    up: f64,
}

/// A part of a side of a check; `usize` is the number of a line.
enum Term {
    Times(f64, usize),
    /// Both ends may hurt: `|x - k|`.
    Bend(usize, f64),
    /// Each turns the sign of what the other does.
    Product(usize, usize),
    /// Nothing until all are near their ends together: `max(0, sum - k)`.
    Together(Vec<usize>, f64),
    /// Which of two lines counts hangs on a third.
    Step(usize, f64, usize, usize),
    /// A line between that holds still below a limit.
    Kept(usize, f64),
}

impl Term {
    fn worth(&self, x: &[f64]) -> f64 {
        match self {
            Term::Times(by, at) => by * x[*at],
            Term::Bend(at, k) => (x[*at] - k).abs(),
            Term::Product(a, b) => x[*a] * x[*b],
            Term::Together(all, k) => (all.iter().map(|at| x[*at]).sum::<f64>() - k).max(0.0),
            Term::Step(at, k, over, under) => x[if x[*at] > *k { *over } else { *under }],
            Term::Kept(at, k) => x[*at].max(*k),
        }
    }

    /// As it is written; what stands on lines of its own goes into `lines`.
    fn text(&self, lines: &mut Vec<String>) -> String {
        match self {
            Term::Times(by, at) => format!("{by} * x{at}"),
            Term::Bend(at, k) => format!("abs(x{at} - {k})"),
            Term::Product(a, b) => format!("x{a} * x{b}"),
            Term::Together(all, k) => {
                let sum = all.iter().map(|at| format!("x{at}")).collect::<Vec<_>>().join(" + ");
                format!("max(0, {sum} - {k})")
            }
            Term::Step(at, k, over, under) => format!("(if x{at} > {k} then x{over} else x{under})"),
            Term::Kept(at, k) => {
                let name = format!("kept{}", lines.len());
                lines.push(format!("let {name} max(x{at}, {k})\n"));
                name
            }
        }
    }
}

/// A number of thousandths, so that its text is its worth.
fn thousandths(chance: &mut Chance, from: u32, to: u32) -> f64 {
    f64::from(from + u32::try_from(chance.below((to - from) as usize)).unwrap()) / 1000.0
}

fn offs(chance: &mut Chance, count: usize) -> Vec<Off> {
    (0..count)
        .map(|_| {
            let (down, up) = (thousandths(chance, 10, 800), thousandths(chance, 10, 800));
            let (down, up) = match chance.below(4) {
                0 => (0.0, up),
                1 => (down, up),
                _ => (up, up),
            };
            Off { nominal: thousandths(chance, 500, 3000), down, up }
        })
        .collect()
}

fn term(chance: &mut Chance, offs: &[Off]) -> Term {
    let one = |chance: &mut Chance| chance.below(offs.len());
    match chance.below(7) {
        0 => Term::Bend(one(chance), thousandths(chance, 500, 3000)),
        1 => Term::Product(one(chance), one(chance)),
        2 | 3 => {
            let mut all: Vec<usize> = (0..2 + chance.below(2)).map(|_| one(chance)).collect();
            all.sort_unstable();
            all.dedup();
            let top: f64 = all.iter().map(|at| offs[*at].nominal + offs[*at].up).sum();
            let least = all.iter().map(|at| offs[*at].up).fold(f64::INFINITY, f64::min);
            // Rounded, so that its text is its worth.
            Term::Together(all, ((top - least * chance.between(0.1, 1.5)) * 1e4).round() / 1e4)
        }
        4 => {
            let at = one(chance);
            let k = offs[at].nominal + chance.between(-1.0, 1.0) * offs[at].up;
            Term::Step(at, (k * 1e3).round() / 1e3 + 5e-4, one(chance), one(chance))
        }
        5 => Term::Kept(one(chance), thousandths(chance, 500, 3000)),
        _ => Term::Times(thousandths(chance, 100, 4000), one(chance)),
    }
}

/// Terms with their signs: a sum.
type Side = Vec<(f64, Term)>;

fn worth(side: &Side, x: &[f64]) -> f64 {
    side.iter().map(|(sign, term)| sign * term.worth(x)).sum()
}

fn text(side: &Side, lines: &mut Vec<String>) -> String {
    side.iter().fold("0".to_owned(), |sum, (sign, term)| format!("{sum} {} {}", if *sign > 0.0 { "+" } else { "-" }, term.text(lines)))
}

/// The numbers at each combination of these steps: -1 the lower end, 0 as it is written, 1 the upper.
fn combinations(offs: &[Off], steps: &[i32]) -> Vec<Vec<f64>> {
    let mut all: Vec<Vec<f64>> = vec![Vec::new()];
    for off in offs {
        let at = |step: &i32| match step {
            -1 => off.nominal - off.down,
            0 => off.nominal,
            _ => off.nominal + off.up,
        };
        all = all.iter().flat_map(|before| steps.iter().map(move |step| [before.as_slice(), &[at(step)]].concat())).collect();
    }
    all
}

fn most(of: impl Iterator<Item = f64>) -> f64 {
    of.fold(f64::NEG_INFINITY, f64::max)
}

fn written(offs: &[Off], demand: &Side, capacity: &Side) -> String {
    let mut lines = Vec::new();
    let (demand, capacity) = (text(demand, &mut lines), text(capacity, &mut lines));
    let numbers = offs.iter().enumerate().map(|(at, Off { nominal, down, up })| {
        let off = if down == up { format!("± {up}") } else { format!("+{up} -{down}") };
        format!("let x{at} {nominal} {off}\n")
    });
    let numbers: String = numbers.chain(lines).collect();
    format!(
        "kind thing \"a thing\" {{\n  size  length  \"its size\"\n}}\nthing one {{}}\n{numbers}rule own.holds \"It holds\" {{\n  each  t in thing\n  demand  {demand}\n  capacity  {capacity}\n  says  \"so\"\n}}\n"
    )
}

fn read(text: &str) -> Session {
    let session = Session::read(vec![Source::new("made_up.plate", text)], &NoShelf, &Choice::default());
    assert!(session.problems().is_empty(), "{:?}\n{text}", session.problems());
    session
}

fn finding(session: &Session) -> Finding {
    session.check(&Options::default()).into_iter().find(|finding| finding.rule == "own.holds").unwrap()
}

/// Each tolerance alone: what it takes of the margin, and the one that takes most first.
fn influences(found: &Finding, offs: &[Off], margin: &dyn Fn(&[f64]) -> f64, text: &str) {
    let nominal: Vec<f64> = offs.iter().map(|off| off.nominal).collect();
    let mut due = Vec::new();
    for (at, off) in offs.iter().enumerate() {
        let end = |by: f64| {
            let mut x = nominal.clone();
            x[at] += by;
            margin(&x) - margin(&nominal)
        };
        due.push((format!("x{at}"), end(-off.down).max(end(off.up))));
    }
    let takes: Vec<f64> = found.influences.iter().map(|one| one.takes.quantity.si).collect();
    assert!(takes.windows(2).all(|pair| pair[0] >= pair[1]) && takes.iter().all(|takes| *takes > 0.0), "{takes:?}\n{text}");
    for (name, takes) in due {
        let said = found.influences.iter().find(|one| one.name == name).map_or(0.0, |one| one.takes.quantity.si);
        assert!(near(takes.max(0.0), said, 10.0), "{name} takes {takes}, and {said} is said\n{text}");
    }
}

#[test]
fn tolerances_that_work_together_are_found_together() {
    let (mut together, mut between) = (0_u64, 0_u64);
    for seed in 0..how_many(150) {
        let mut chance = Chance::new(seed);
        let count = 1 + chance.below(6);
        let offs = offs(&mut chance, count);
        let side = |chance: &mut Chance| -> Side {
            (0..1 + chance.below(3)).map(|_| (if chance.once_in(3) { -1.0 } else { 1.0 }, term(chance, &offs))).collect()
        };
        let (demand, capacity) = (side(&mut chance), side(&mut chance));
        let margin = |x: &[f64]| worth(&demand, x) - worth(&capacity, x);
        let text = written(&offs, &demand, &capacity);
        let mut session = read(&text);
        let found = finding(&session);
        let sides = [&found.demand, &found.capacity].map(|side| side.as_ref().unwrap().quantity.si);
        let (due, deep) = (
            most(combinations(&offs, &[-1, 1]).iter().map(|x| margin(x))),
            most(combinations(&offs, &[-1, 0, 1]).iter().map(|x| margin(x))),
        );
        let over = sides[0] - sides[1];
        assert!(over >= due - 1e-9 * 30.0 && over <= deep + 1e-9 * 30.0, "seed {seed}: {due} to {deep} is due, found {over}\n{text}");
        between += u64::from(over > due + 1e-8);
        let nominal: Vec<f64> = offs.iter().map(|off| off.nominal).collect();
        if let Some((d, c)) = found.nominal.as_deref() {
            assert!(near(d.quantity.si, worth(&demand, &nominal), 10.0) && near(c.quantity.si, worth(&capacity, &nominal), 10.0), "{text}");
        } else {
            assert!(near(over, margin(&nominal), 10.0), "{text}");
        }
        influences(&found, &offs, &margin, &text);
        let added: f64 = found.influences.iter().map(|one| one.takes.quantity.si).sum();
        together += u64::from(over > margin(&nominal) + added + 1e-8);
        // The least and the most that a side can be.
        let said = {
            let mut lines = Vec::new();
            let expression = self::text(&demand, &mut lines);
            Valued::work_out(&mut session, &expression, false).unwrap()
        };
        let range = said.range.map_or([worth(&demand, &nominal); 2], |range| range.map(|end| end.si));
        for (sign, found) in [(-1.0, range[0]), (1.0, range[1])] {
            let over = |steps: &[i32]| most(combinations(&offs, steps).iter().map(|x| sign * worth(&demand, x)));
            let (due, deep, found) = (over(&[-1, 1]), over(&[-1, 0, 1]), sign * found);
            assert!(found >= due - 1e-8 && found <= deep + 1e-8, "seed {seed}: {due} to {deep} is due, found {found}\n{text}");
        }
    }
    println!("{together} are worse together than each alone, {between} worst between the ends");
    assert!(together > 10, "{together}");
}

/// More tolerances than are tried in every combination: where each hurts by itself, at whichever end, they are found all the same.
#[test]
fn many_that_hurt_alone_are_found_together() {
    for seed in 0..how_many(20).min(20_000) {
        let mut chance = Chance::new(seed);
        let count = 7 + chance.below(4);
        let offs = offs(&mut chance, count);
        let own = |at: usize, chance: &mut Chance| {
            let bent = chance.once_in(2);
            (1.0, if bent { Term::Bend(at, thousandths(chance, 500, 3000)) } else { Term::Times(thousandths(chance, 100, 4000), at) })
        };
        let demand: Side = (0..count).map(|at| own(at, &mut chance)).collect();
        let capacity: Side = vec![(1.0, Term::Times(1.0, 0))];
        let margin = |x: &[f64]| worth(&demand, x) - worth(&capacity, x);
        let text = written(&offs, &demand, &capacity);
        let found = finding(&read(&text));
        let sides = [&found.demand, &found.capacity].map(|side| side.as_ref().unwrap().quantity.si);
        let due = most(combinations(&offs, &[-1, 1]).iter().map(|x| margin(x)));
        // The first is bent in the demand and straight in the capacity: its worst may lie in the middle.
        let deep = due.max(most(combinations(&offs[..1], &[0]).iter().map(|x| {
            let rest = combinations(&offs[1..], &[-1, 1]);
            most(rest.iter().map(|others| margin(&[x.as_slice(), others].concat())))
        })));
        let over = sides[0] - sides[1];
        assert!(over >= due - 1e-8 && over <= deep + 1e-8, "seed {seed}: {due} is due, found {over}\n{text}");
        influences(&found, &offs, &margin, &text);
    }
}

fn judged(lines: &str, demand: &str) -> Finding {
    let text = format!(
        "kind thing \"a thing\" {{\n  size  length  \"its size\"\n}}\nthing one {{}}\n{lines}rule own.holds \"It holds\" {{\n  each  t in thing\n  demand  {demand}\n  capacity  100\n  says  \"so\"\n}}\n"
    );
    finding(&read(&text))
}

fn demanded(lines: &str, demand: &str) -> f64 {
    judged(lines, demand).demand.unwrap().quantity.si
}

/// Seven lines and more, of which each takes part only beside the one after it, and the last alone: 0.1 at its end, then 1, 2, 3, 4
/// more, for each round brings in one. By hand: nothing counts but `h`, and every `max` opens at its two upper ends. Before, what
/// adds up kept the others from being looked at.
#[test]
fn each_round_brings_in_one_more_of_a_chain() {
    for others in [&["b", "c"][..], &["a", "b", "c"]] {
        let names = others.iter().chain(&["d", "e", "f", "g", "h"]);
        let lines: String = names.map(|name| format!("let {name} 1 ± 0.1\n")).collect();
        let chain = "h + 10 * max(0, g + h - 2.1) + 20 * max(0, f + g - 2.1) + 30 * max(0, e + f - 2.1) + 40 * max(0, d + e - 2.1)";
        let found = demanded(&lines, &format!("{chain} + 0 * {}", others.join(" * ")));
        assert!(near(found, 1.1 + 0.1 * (10.0 + 20.0 + 30.0 + 40.0), 1.0), "{found}");
    }
}

/// A number that is chosen between two: both ends of `b` hurt, the lower one more, and with the lower end of `a` it adds up; but the
/// upper end, where `a` is taken in its place, hurts more there. By hand: 20 - 3.14 x 2.111 - 2.111. Alone with `a`, and beside others.
#[test]
fn what_is_chosen_at_the_other_end_is_found() {
    for others in 0..8 {
        let lines: String = (0..others).map(|at| format!("let x{at} 1 ± 0.1\n")).collect();
        let sum: String = (0..others).map(|at| format!(" + x{at}")).collect();
        let chosen = "20 - 3.14 * a - (if b > 3.0355 then a else b)";
        let found = demanded(&format!("let a 2.571 ± 0.46\nlet b 2.8 ± 0.488\n{lines}"), &format!("{chosen}{sum}"));
        assert!(near(found, 20.0 - 4.14 * 2.111 + 1.1 * f64::from(others), 1.0), "{others}: {found}");
    }
}

/// Each hurts at one end and helps at the other, and they add up there; but the upper ends of `a` and `b` together open both `max`,
/// for more than `a` is better by. By hand: 2.744 + 0.412 + 0.212 - 2.368 / 10; beside others, seven and more, each 0.1 more.
#[test]
fn what_opens_where_one_is_better_is_found() {
    for others in [0, 3, 5, 9, 20] {
        let lines: String = (0..others).map(|at| format!("let x{at} 1 ± 0.1\n")).collect();
        let sum: String = (0..others).map(|at| format!(" + x{at}")).collect();
        let demand = format!("b + max(0, a + b - 4.7) + max(0, a + b - 4.9) - a / 10{sum}");
        let found = demanded(&format!("let a 1.814 ± 0.554\nlet b 2.189 ± 0.555\n{lines}"), &demand);
        assert!(near(found, 2.744 + 0.412 + 0.212 - 0.2368 + 1.1 * f64::from(others), 1.0), "{others}: {found}");
    }
}

/// Three that only hurt all together, beside three that hurt alone: six, of which every combination is tried.
#[test]
fn of_six_every_combination_is_tried() {
    let lines: String = ["a", "b", "c", "d", "e", "f"].map(|name| format!("let {name} 1 ± 0.1\n")).concat();
    let found = demanded(&lines, "a + b + c + 100 * max(0, d + e + f - 3.25)");
    assert!(near(found, 3.3 + 100.0 * 0.05, 1.0), "{found}");
}

/// At an end of `a` the line `b` counts, at an end of `b` the line `c`, and so on: each brings in the tolerance of the next, to the
/// fifth, 1.1 in place of 1 each time.
#[test]
fn what_counts_at_an_end_of_what_counts_at_an_end_is_found() {
    let lines: String = ["a", "b", "c", "d", "e"].map(|name| format!("let {name} 1 ± 0.1\n")).concat();
    let mut demand = "e".to_owned();
    for (deep, name) in ["d", "c", "b", "a"].into_iter().enumerate() {
        demand = format!("(if {name} > 1.05 then {} + {demand} else 0)", deep + 1);
    }
    let found = judged(&lines, &demand);
    assert!(near(found.demand.as_ref().unwrap().quantity.si, 1.0 + 2.0 + 3.0 + 4.0 + 1.1, 1.0), "{found:?}");
    assert_eq!(found.verdict, Verdict::Pass);
}

/// More tolerances on one check than are turned again beside one another: each is still turned alone, and all that hurt together.
/// 500 x 1.1 / 10. Before, a hundred of them were left as they are written.
#[test]
fn five_hundred_tolerances_count_all() {
    let lines: String = (0..500).map(|at| format!("let x{at} 1 ± 0.1\n")).collect();
    let all = (0..500).map(|at| format!("x{at}")).collect::<Vec<_>>().join(" + ");
    let over = demanded(&lines, &format!("({all}) / 10"));
    assert!(near(over, 55.0, 1.0), "{over}");
}

/// Nine of which none shows by itself: a line between holds still below a limit that only all its four reach together. By hand:
/// 4 x 1.1 over 4.35, and what is added at its end.
#[test]
fn what_a_line_between_hides_is_found() {
    for others in 3..8 {
        let lines: String = ["a", "b", "c", "d"].map(|name| format!("let {name} 1 ± 0.1\n")).concat();
        let more: String = (0..others).map(|at| format!("let x{at} 1 ± 0.1\n")).collect();
        let pushed = format!("{lines}{more}let pushed a + b + c + d\nlet hardest max(4.35, pushed)\n");
        let none: String = (0..others).map(|at| format!(" + 0 * x{at}")).collect();
        let found = demanded(&pushed, &format!("hardest{none}"));
        assert!(near(found, 4.4, 1.0), "{others}: {found}");
    }
}

fn required(lines: &str, when: &str, require: &str) -> Option<Verdict> {
    let text = format!(
        "kind thing \"a thing\" {{\n  size  length  \"its size\"\n}}\nthing one {{}}\n{lines}rule own.holds \"It holds\" {{\n  each  t in thing\n{when}  require  {require}\n}}\n"
    );
    read(&text).check(&Options::default()).first().map(|found| found.verdict)
}

/// Yes and no have no slope: a condition that many tolerances turn over together, and none by itself, nor any two, is found to turn
/// over. By hand: n numbers of 1 ± 0.1 come to n (1 ± 0.1).
#[test]
fn a_condition_that_many_turn_over_together_does_not_hold() {
    for count in [7, 8, 12, 30] {
        let names: Vec<String> = (0..count).map(|at| format!("x{at}")).collect();
        let lines: String = names.iter().map(|name| format!("let {name} 1 ± 0.1\n")).collect();
        let sum = names.join(" + ");
        let end = |share: f64| f64::from(count) * share;
        for (limit, due) in [(end(1.1) + 0.01, Verdict::Pass), (end(1.1) - 0.01, Verdict::Fail)] {
            for require in [
                format!("{sum} <= {limit}"),
                format!("not ({sum} > {limit})"),
                format!("{limit} > {sum} and x0 < 2"),
                format!("{sum} < {limit} or x0 > 2"),
                format!("all(y < {limit} for y in [{sum}, 3])"),
            ] {
                assert_eq!(required(&lines, "", &require), Some(due), "{count}: {require}");
            }
        }
        // A rule that applies only there.
        for (limit, due) in [(end(1.1) + 0.01, None), (end(1.1) - 0.01, Some(Verdict::Fail))] {
            assert_eq!(required(&lines, &format!("  when  {sum} > {limit}\n"), "no"), due, "{count}: {limit}");
        }
        for (limit, due) in [(end(0.9) - 0.01, Verdict::Pass), (end(0.9) + 0.01, Verdict::Fail)] {
            assert_eq!(required(&lines, "", &format!("not any(y < {limit} for y in [{sum}, 90])")), Some(due), "{count}: {limit}");
        }
    }
}
