//! Values, verdicts and worst combinations of designs that nobody wrote, worked out twice.

use super::chance::Chance;
use super::reader::{Bound, Gone, Reader, Value};
use super::{designs, how_many, near};
use wallplate::design::Choice;
use wallplate::rules::{Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::syntax::tree::{Expr, Item, Tree};
use wallplate::text::Source;

/// More ends than 2^8 are not tried.
const MOST_TOLERANCES: usize = 8;
/// Nor more than 3^5 with the middles.
const MOST_STEPPED: usize = 5;

/// Demand and capacity of one crate, at the ends to which the reader is turned.
fn sides(reader: &Reader, rule: &[&Expr; 2], subject: &str) -> Result<(f64, f64), Gone> {
    let bound = Bound { names: vec![("c", Value::Component(subject.to_owned()))], ..Bound::default() };
    let both = rule.map(|side| reader.work_out(side, &bound));
    if both.iter().any(|side| matches!(side, Err(Gone::Senseless(_)))) {
        return Err(Gone::Senseless("one side"));
    }
    let [demand, capacity] = both;
    let number = |side| match side {
        Value::Number(number, _) => number,
        _ => 0.0,
    };
    Ok((number(demand?), number(capacity?)))
}

/// The worst of every combination of these steps of each tolerance (-1 its lower end, 1 its upper, 0 as it is written), or `None`
/// where at one of them there is no answer.
fn worst(reader: &mut Reader, steps: &[i32], tolerances: &[(String, f64, f64)], rule: &[&Expr; 2], subject: &str) -> Option<(f64, f64)> {
    let mut worst: Option<(f64, f64)> = None;
    for combination in 0..steps.len().pow(u32::try_from(tolerances.len()).unwrap()) {
        let mut rest = combination;
        reader.turned.clear();
        for (name, down, up) in tolerances {
            let by = match steps[rest % steps.len()] {
                1 => *up,
                -1 => -down,
                _ => 0.0,
            };
            reader.turned.insert(name.clone(), by);
            rest /= steps.len();
        }
        let found = sides(reader, rule, subject).ok().filter(|(demand, capacity)| demand.is_finite() && capacity.is_finite());
        let Some((demand, capacity)) = found else {
            reader.turned.clear();
            return None;
        };
        if worst.is_none_or(|(d, c)| demand - capacity > d - c) {
            worst = Some((demand, capacity));
        }
    }
    reader.turned.clear();
    worst
}

fn rule_of(tree: &Tree) -> [&Expr; 2] {
    let rule = tree.items.iter().find_map(|item| match item {
        Item::Rule(rule) => Some(rule),
        _ => None,
    });
    let line = |name: &str| &*rule.unwrap().lines.iter().find(|line| line.name.text == name).unwrap().value;
    [line("demand"), line("capacity")]
}

/// What the two say differently of a design; `None` where it has no answer to compare.
fn differences(text: &str, seen: &mut [u64; 4]) -> Option<Vec<String>> {
    let session = Session::read(vec![Source::new("made_up.plate", text)], &NoShelf, &Choice::default());
    let tree = session.trees.first()?.1.clone();
    let mut reader = Reader::new(&tree);
    let tolerances = reader.tolerances();
    let mut said = Vec::new();
    let findings = session.check(&Options::default());
    let problems = session.problems();
    let rule = rule_of(&tree);
    for subject in reader.of_kind("crate") {
        let Some(finding) =
            findings.iter().find(|finding| finding.rule == "own.holds" && finding.subjects.first().is_some_and(|own| *own == subject))
        else {
            said.push(format!("{subject}: no finding, {:?}", problems.iter().map(|problem| &problem.message).collect::<Vec<_>>()));
            continue;
        };
        match sides(&reader, &rule, &subject) {
            Err(Gone::Senseless(_)) => {
                if finding.verdict != Verdict::Undetermined {
                    said.push(format!("{subject}: a number without sense, and {:?}", finding.verdict));
                }
                continue;
            }
            Err(Gone::Missing) => {
                seen[1] += 1;
                if finding.verdict != Verdict::Undetermined || finding.missing.is_empty() {
                    said.push(format!("{subject}: a line is missing, and {:?} {:?}", finding.verdict, finding.missing));
                }
                continue;
            }
            Ok(_) => {}
        }
        let nominal = sides(&reader, &rule, &subject).ok()?;
        if tolerances.len() > MOST_TOLERANCES {
            continue;
        }
        let Some((demand, capacity)) = worst(&mut reader, &[-1, 1], &tolerances, &rule, &subject) else {
            seen[2] += 1;
            continue;
        };
        seen[0] += 1;
        let (Some(found_demand), Some(found_capacity)) = (&finding.demand, &finding.capacity) else {
            said.push(format!("{subject}: {demand} of {capacity}, and {:?}", finding.verdict));
            continue;
        };
        let (d, c) = (found_demand.quantity.si, found_capacity.quantity.si);
        let scale = nominal.0.abs().max(nominal.1.abs()).max(demand.abs()).max(capacity.abs());
        let (due, found) = (demand - capacity, d - c);
        if !near(due, found, scale) {
            // In the middle it may be worse than at any end: then so it has to be there.
            if found > due && tolerances.len() <= MOST_STEPPED {
                let between = worst(&mut reader, &[-1, 0, 1], &tolerances, &rule, &subject);
                if between.is_some_and(|(demand, capacity)| demand - capacity >= found - 1e-9 * scale) {
                    continue;
                }
            }
            if found < due || tolerances.len() <= MOST_STEPPED {
                seen[3] += 1;
                let takes = due - (nominal.0 - nominal.1);
                said.push(format!(
                    "{subject}: {} tolerances, nominal {nominal:?}, at the worst {demand} of {capacity}, found {d} of {c}, short by {:.2} % of what they take",
                    tolerances.len(),
                    100.0 * (due - found) / takes
                ));
            }
            continue;
        }
        let reserve = capacity - 0.1 * capacity.abs();
        let close = |one: f64, other: f64| near(one, other, scale);
        let due = if demand <= reserve && (capacity > 0.0 || demand <= 0.0) {
            Verdict::Pass
        } else if demand <= capacity {
            Verdict::Tight
        } else {
            Verdict::Fail
        };
        // Two combinations may be as bad as one another, with other numbers on both sides.
        let borderline = close(demand, reserve) || close(demand, capacity) || close(capacity, 0.0) || !close(d, demand);
        if finding.verdict != due && !borderline {
            said.push(format!("{subject}: {due:?} is due ({demand} of {capacity}), found {:?}", finding.verdict));
        }
    }
    for item in &tree.items {
        let Item::Let(line) = item else { continue };
        let name = line.name.text.as_str();
        let own = session.evaluator.design().named.iter().position(|named| named.name == name).unwrap();
        let node = wallplate::design::NodeId(u32::try_from(own).unwrap());
        match (reader.named(name).unwrap(), session.evaluator.value(node)) {
            (Ok(Value::Number(due, _)), Ok(found)) => {
                let found = found.si().unwrap_or(0.0);
                if !near(due, found, due.abs()) {
                    said.push(format!("{name}: {due} is due, found {found}"));
                }
            }
            (Err(_), Err(_)) => {}
            (due, found) => said.push(format!("{name}: {due:?} is due, found {found:?}")),
        }
    }
    Some(said)
}

#[test]
fn values_and_worst_combinations_are_those_of_every_end() {
    let mut seen = [0; 4];
    let mut said = Vec::new();
    for seed in 0..how_many(60) {
        let text = designs::design(&mut Chance::new(seed));
        if let Some(found) = differences(&text, &mut seen)
            && !found.is_empty()
        {
            said.push(format!("seed {seed}: {}\n{text}", found.join("\n")));
        }
    }
    println!(
        "{} checks compared, {} undetermined, {} without sense at an end, {} not as bad as they can be",
        seen[0], seen[1], seen[2], seen[3]
    );
    assert!(said.is_empty(), "{} designs\n{}", said.len(), said.iter().take(8).cloned().collect::<Vec<_>>().join("\n"));
}
