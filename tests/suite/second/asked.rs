//! Which bindings a rule goes over, whether it is asked there, and what it says at every end: of designs that nobody wrote.

use super::chance::Chance;
use super::reader::{Bound, Gone, Reader, Value};
use super::{designs, how_many, near};
use wallplate::design::Choice;
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::syntax::tree::{Expr, Item, Rule};
use wallplate::text::Source;

/// Every combination of the ends of so many is tried, and that many at the most by the program too.
const MOST_TOLERANCES: usize = 6;

/// One side beside the other, or a condition that holds or does not.
#[derive(Debug, Clone, Copy)]
enum Stands {
    Sides(f64, f64),
    Holds(bool),
}

impl Stands {
    fn over(self) -> f64 {
        match self {
            Stands::Sides(demand, capacity) => demand - capacity,
            Stands::Holds(holds) => f64::from(u8::from(!holds)),
        }
    }

    /// The verdict; none where it is a matter of rounding.
    fn verdict(self) -> Option<Verdict> {
        let (demand, capacity) = match self {
            Stands::Sides(demand, capacity) => (demand, capacity),
            Stands::Holds(holds) => return Some(if holds { Verdict::Pass } else { Verdict::Fail }),
        };
        let (scale, reserve) = (demand.abs().max(capacity.abs()), capacity - 0.1 * capacity.abs());
        if near(demand, capacity, scale) || near(demand, reserve, scale) || near(capacity, 0.0, 1.0) || near(demand, 0.0, 1.0) {
            return None;
        }
        Some(if demand < reserve && (capacity > 0.0 || demand < 0.0) {
            Verdict::Pass
        } else if demand < capacity {
            Verdict::Tight
        } else {
            Verdict::Fail
        })
    }
}

struct Asked<'t> {
    rule: &'t Rule,
    reader: Reader<'t>,
    tolerances: Vec<(String, f64, f64)>,
}

impl Asked<'_> {
    fn line(&self, name: &str) -> Option<&Expr> {
        self.rule.lines.iter().find(|line| line.name.text == name).map(|line| &*line.value)
    }

    fn flag(&self, expr: &Expr, bound: &Bound) -> Result<bool, Gone> {
        match self.reader.work_out(expr, bound)? {
            Value::Flag(flag) => Ok(flag),
            other => panic!("neither yes nor no: {other:?}"),
        }
    }

    fn applies(&self, bound: &Bound) -> Result<bool, Gone> {
        self.line("when").map_or(Ok(true), |when| self.flag(when, bound))
    }

    fn stands(&self, bound: &Bound) -> Result<Stands, Gone> {
        if let Some(require) = self.line("require") {
            return self.flag(require, bound).map(Stands::Holds);
        }
        let number = |name: &str| match self.reader.work_out(self.line(name).unwrap(), bound)? {
            Value::Number(number, _) if number.is_finite() => Ok(number),
            Value::Nothing => Ok(0.0),
            _ => Err(Gone::Senseless("no number")),
        };
        Ok(Stands::Sides(number("demand")?, number("capacity")?))
    }

    /// What it comes to with the tolerances at each combination of these steps, and whether it is asked there.
    fn at_ends(&mut self, steps: &[f64], bound: &Bound) -> Vec<Result<(bool, Stands), Gone>> {
        let count = steps.len().pow(u32::try_from(self.tolerances.len()).unwrap());
        let mut all = Vec::with_capacity(count);
        for combination in 0..count {
            let mut rest = combination;
            for (name, down, up) in &self.tolerances {
                let step = steps[rest % steps.len()];
                self.reader.turned.insert(name.clone(), if step < 0.0 { -down } else { step * up });
                rest /= steps.len();
            }
            all.push(self.applies(bound).and_then(|applies| Ok((applies, self.stands(bound)?))));
        }
        self.reader.turned.clear();
        all
    }

    /// All bindings in their order; what cannot be told is a lack.
    fn bindings(&self) -> Vec<Result<Bound<'_>, Gone>> {
        let mut all = vec![Ok(Bound::default())];
        for binder in &self.rule.each {
            let mut next = Vec::new();
            for before in all {
                let Ok(before) = before else {
                    next.push(before);
                    continue;
                };
                for component in self.reader.of_kind("crate") {
                    let mut bound = before.clone();
                    bound.names.push((binder.name.text.as_str(), Value::Component(component)));
                    match binder.condition.as_ref().map_or(Ok(true), |condition| self.flag(condition, &bound)) {
                        Ok(true) => next.push(Ok(bound)),
                        Ok(false) => {}
                        Err(gone) => next.push(Err(gone)),
                    }
                }
            }
            all = next;
        }
        all
    }
}

fn subjects(bound: &Bound) -> Vec<String> {
    let name = |value: &Value| match value {
        Value::Component(name) => name.clone(),
        other => panic!("{other:?}"),
    };
    bound.names.iter().map(|(_, value)| name(value)).collect()
}

/// What is wrong with the answer on one binding, if something is.
fn wrong(asked: &mut Asked, bound: &Bound, found: Option<&Finding>, seen: &mut [u64; 5]) -> Option<String> {
    let verdict = found.map(|found| found.verdict);
    let said = |due: &str| Some(format!("{due} is due, found {verdict:?}: {}", found.map_or("", |found| &found.message)));
    let (applies, nominal) = (asked.applies(bound), asked.stands(bound));
    if applies.is_err() || (applies == Ok(true) && nominal.is_err()) {
        seen[1] += 1;
        return if verdict == Some(Verdict::Undetermined) { None } else { said("nothing known") };
    }
    if asked.tolerances.len() > MOST_TOLERANCES {
        return None;
    }
    let ends = asked.at_ends(&[-1.0, 1.0], bound);
    let open = ends.iter().any(Result::is_err);
    let known: Vec<(bool, Stands)> = ends.into_iter().filter_map(Result::ok).collect();
    if applies == Ok(false) {
        seen[2] += 1;
        // Asked at some end at the most: then it speaks of what fails there.
        let verdicts: Vec<Option<Verdict>> = known.iter().filter(|(applies, _)| *applies).map(|(_, stands)| stands.verdict()).collect();
        if nominal.is_err() || open || verdicts.contains(&None) {
            return None;
        }
        let fails = verdicts.contains(&Some(Verdict::Fail));
        return match verdict {
            Some(Verdict::Fail) if !fails => said("silence"),
            other if fails && other != Some(Verdict::Fail) => said("a failure at an end"),
            Some(Verdict::Tight) if !verdicts.contains(&Some(Verdict::Tight)) => said("silence"),
            Some(Verdict::Pass | Verdict::Undetermined) => said("silence"),
            _ => None,
        };
    }
    let Ok(nominal) = nominal else { return None };
    let worst = known.iter().map(|(_, stands)| *stands).chain([nominal]).max_by(|a, b| a.over().total_cmp(&b.over()))?;
    if open {
        seen[3] += 1;
        // One combination has no answer: where another fails it fails, else it is not known or was not needed.
        return if worst.verdict() == Some(Verdict::Fail) && verdict != Some(Verdict::Fail) { said("a failure") } else { None };
    }
    seen[0] += 1;
    let Some(found) = found else { return said("an answer") };
    let Stands::Sides(demand, capacity) = worst else {
        seen[4] += u64::from(worst.verdict() == Some(Verdict::Fail));
        return if Some(found.verdict) == worst.verdict() { None } else { said(&format!("{worst:?}")) };
    };
    let (Some(d), Some(c)) = (&found.demand, &found.capacity) else { return said("an answer") };
    let own = Stands::Sides(d.quantity.si, c.quantity.si);
    let scale = demand.abs().max(capacity.abs());
    if !near(own.over(), worst.over(), scale) {
        let between = asked.at_ends(&[-1.0, 0.0, 1.0], bound);
        let deepest = between.iter().flatten().map(|(_, stands)| stands.over()).fold(f64::NEG_INFINITY, f64::max);
        if own.over() < worst.over() || own.over() > deepest + 1e-9 * scale {
            return said(&format!("{demand} of {capacity} ({own:?})"));
        }
    }
    let due = own.verdict();
    if due.is_some_and(|due| due != found.verdict) { said(&format!("{due:?} of {own:?}")) } else { None }
}

#[test]
fn rules_are_asked_where_they_apply_at_every_end() {
    let mut seen = [0; 5];
    let mut said = Vec::new();
    for seed in 0..how_many(150) {
        let text = designs::asked(&mut Chance::new(seed));
        let session = Session::read(vec![Source::new("made_up.plate", &text)], &NoShelf, &Choice::default());
        assert!(session.problems().is_empty(), "seed {seed}: {:?}\n{text}", session.problems());
        let findings: Vec<Finding> = session.check(&Options::default()).into_iter().filter(|finding| finding.rule == "own.holds").collect();
        let tree = session.trees[0].1.clone();
        let rule = tree.items.iter().find_map(|item| if let Item::Rule(rule) = item { Some(rule) } else { None }).unwrap();
        let reader = Reader::new(&tree);
        let tolerances = reader.tolerances();
        let mut asked = Asked { rule, reader, tolerances };
        let bindings: Vec<Result<Vec<String>, Gone>> =
            asked.bindings().iter().map(|bound| bound.as_ref().map(subjects).map_err(Clone::clone)).collect();
        let open = bindings.iter().filter(|bound| bound.is_err()).count();
        for names in bindings.iter().flatten() {
            let binders = rule.each.iter().map(|binder| binder.name.text.as_str());
            let bound = Bound { names: binders.zip(names.iter().map(|name| Value::Component(name.clone()))).collect(), ..Bound::default() };
            let own = findings.iter().find(|finding| finding.subjects.iter().map(ToString::to_string).eq(names.iter().cloned()));
            if let Some(wrong) = wrong(&mut asked, &bound, own, &mut seen) {
                said.push(format!("seed {seed}: {names:?}: {wrong}\n{text}"));
            }
        }
        // Nothing is said of what it does not go over, but where that cannot be told.
        let goes_over = |finding: &&Finding| {
            bindings.iter().flatten().any(|names| finding.subjects.iter().map(ToString::to_string).eq(names.iter().cloned()))
        };
        let besides: Vec<&Finding> = findings.iter().filter(|finding| !goes_over(finding)).collect();
        if besides.len() > open || besides.iter().any(|finding| finding.verdict != Verdict::Undetermined) {
            said.push(format!("seed {seed}: {open} are open, and {besides:?}\n{text}"));
        }
    }
    println!(
        "{} bindings compared, {} of them conditions that fail; {} undetermined, {} asked at an end at the most, {} open at an end",
        seen[0], seen[4], seen[1], seen[2], seen[3]
    );
    assert!(said.is_empty(), "{} answers\n{}", said.len(), said.iter().take(6).cloned().collect::<Vec<_>>().join("\n"));
}
