//! Which written numbers lie far from where their like usually do, and the one slip that would explain it.

use super::body::Survey;
use super::tables::table;
use crate::calc::FormulaError;
use crate::design::{ComponentId, Property, Usual, Writer};
use crate::problem::Problem;
use crate::syntax::tree::{Node, Part};
use crate::units::{self, Unit};
use crate::values::{Evaluator, Lack, Quantity, Question, Refusal, Scope, Value};
use smol_str::SmolStr;
use std::sync::Arc;

include!(concat!(env!("OUT_DIR"), "/formulas_proportion.rs"));

/// A wrong sign is no matter of how far off: it counts as far off as nothing else.
const WRONG_SIGN: f64 = 1000.0;
/// Nought where something would be assumed: it takes a load or a way off, and has to be taken on.
const NOUGHT: f64 = 2.0;
/// Noughts that a slip of the comma adds or takes.
const TENS: [i32; 6] = [1, -1, 2, -2, 3, -3];
/// Units that are taken for one another have a factor of so many tens between them, if they are not the usual ones.
const PREFIXES: [f64; 5] = [1e1, 1e2, 1e3, 1e6, 1e9];

/// The properties of a component of which the vocabulary says what is usual, each with its number.
fn measured_by_its_like(evaluator: &Evaluator, id: ComponentId) -> impl Iterator<Item = (usize, &Property)> {
    evaluator.design().kind_of(id).properties.iter().enumerate().filter(|(_, property)| !property.usual.is_empty())
}

/// Of the numbers of a line the one that lies farthest outside of what is usual, or nearest to an end; none where it cannot
/// be told what is usual.
fn farthest(evaluator: &Evaluator, id: ComponentId, at: usize) -> Result<Option<Odd<'_>>, Lack> {
    let Some(property) = evaluator.design().kind_of(id).properties.get(at) else { return Ok(None) };
    let value = evaluator.property(id, at)?;
    let mut worst: Option<Odd<'_>> = None;
    for usual in &property.usual {
        let Some([from, to]) = ends(evaluator, id, usual) else { continue };
        for (place, number) in value.quantities().into_iter().enumerate() {
            let off =
                if number.si == 0.0 && from > 0.0 && is_something(evaluator, id, property) { NOUGHT } else { off(number.si, from, to) };
            if worst.as_ref().is_none_or(|worst| off > worst.off) {
                worst = Some(Odd { at, property, usual, ends: [from, to], place, number, off });
            }
        }
    }
    Ok(worst)
}

/// Whether a person wrote the line; that it was asked is noted.
fn is_written(evaluator: &Evaluator, id: ComponentId, property: usize) -> bool {
    evaluator.ask(Question::Written(id));
    evaluator.design().component(id).written(property).is_some_and(|written| !written.span.file.is_built_in())
}

impl Survey for WithUsualNumbers {
    fn answer(self, evaluator: &Evaluator) -> Result<Vec<ComponentId>, Refusal> {
        let design = evaluator.design();
        let kinds = design.kinds.iter().filter(|kind| kind.properties.iter().any(|property| !property.usual.is_empty()));
        let ids = kinds.filter_map(|kind| design.kind_named(&kind.name)).flat_map(|kind| evaluator.members(kind));
        let own = ids.copied().filter(|id| !design.component(*id).span.file.is_built_in());
        // By kinds: how components of several kinds stand to each other in the text is not asked.
        Ok(own.filter(|id| measured_by_its_like(evaluator, *id).any(|(at, _)| is_written(evaluator, *id, at))).collect())
    }
}

impl Survey for LinesOutOfProportion {
    fn answer(self, evaluator: &Evaluator) -> Result<Vec<SmolStr>, Refusal> {
        let mut odd = Vec::new();
        let mut lack = None;
        for (at, property) in measured_by_its_like(evaluator, self.component) {
            if !is_written(evaluator, self.component, at) {
                continue;
            }
            match farthest(evaluator, self.component, at) {
                Ok(found) if found.as_ref().is_some_and(|found| found.off > 1.0) => odd.push(property.name.clone()),
                Ok(_) => {}
                Err(more) => lack = Some(more),
            }
        }
        match lack {
            // What cannot be told may be an odd one too.
            Some(lack) if odd.is_empty() => Err(Refusal::Lack(lack)),
            _ => Ok(odd),
        }
    }
}

impl Survey for OutOfProportion {
    fn answer(self, evaluator: &Evaluator) -> Result<table::Proportion, Refusal> {
        let no_line = || FormulaError::domain(format!("`{}`", self.line), "a line of which it is known what is usual");
        let at = evaluator.design().kind_of(self.component).property(&self.line).ok_or_else(no_line)?;
        let odd = farthest(evaluator, self.component, at).map_err(Refusal::Lack)?.ok_or_else(no_line)?;
        Ok(odd.told(evaluator, self.component))
    }
}

impl Survey for NumberIn {
    fn answer(self, evaluator: &Evaluator) -> Result<Quantity, Refusal> {
        let design = evaluator.design();
        let no_line = || FormulaError::domain(format!("`{}`", self.line), "a line of the component");
        let property = design.kind_of(self.component).property(&self.line).ok_or_else(no_line)?;
        let value = evaluator.property(self.component, property).map_err(Refusal::Lack)?;
        let numbers = value.quantities();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a fraction or a number out of the line finds nothing")]
        let at = (self.place.max(0.0) as usize).checked_sub(1);
        let found = at.and_then(|at| numbers.into_iter().nth(at));
        found.ok_or_else(|| FormulaError::domain("the place", "that of a number in the line").into())
    }
}

/// What is usual of a component, from and to, in SI base units; nothing while a line is missing that it is measured by.
fn ends(evaluator: &Evaluator, id: ComponentId, usual: &Usual) -> Option<[f64; 2]> {
    let mut scope = Scope { own: Some(id), writer: Writer::Kind, ..Scope::default() };
    match evaluator.evaluate(&usual.range, &mut scope) {
        Ok(Value::Range(ends)) if ends[0].si > ends[1].si && is_plain(usual) => {
            let problem = Problem::error("what is usual runs from the greater number to the less", usual.range.span, "here");
            evaluator.report(problem.help("write the less one first"));
            None
        }
        // Nothing is there to be measured by, or nothing sensible.
        Ok(Value::Range(ends)) if ends[0].si > ends[1].si || ends.iter().all(|end| end.si == 0.0) => None,
        Ok(Value::Range(ends)) => Some([ends[0].si, ends[1].si]),
        _ => None,
    }
}

/// Whether a line that is left out would stand for more than nought: something is assumed for it.
fn is_something(evaluator: &Evaluator, id: ComponentId, property: &Property) -> bool {
    let mut scope = Scope { own: Some(id), writer: Writer::Kind, ..Scope::default() };
    let assumed = property.assumed.as_ref().and(property.default.as_ref());
    let value = assumed.map(|default| evaluator.evaluate(default, &mut scope));
    value.is_some_and(|value| value.is_ok_and(|value| value.si().is_some_and(|assumed| assumed > 0.0)))
}

/// Whether it is told in numbers alone, and not by what other lines say.
fn is_plain(usual: &Usual) -> bool {
    let mut plain = true;
    usual.range.walk(&mut |expr| plain &= !matches!(expr.node, Node::Name(_)));
    plain
}

/// How many times a number would have to be larger or smaller to lie between two others; 1 where it does, and of nought:
/// whether that may stand is a matter of limits.
fn off(number: f64, from: f64, to: f64) -> f64 {
    if number == 0.0 || (from..=to).contains(&number) {
        return 1.0;
    }
    let times = match (number > to, number > 0.0) {
        (true, true) if to > 0.0 => number / to,
        (true, false) => to / number,
        (false, false) if from < 0.0 => number / from,
        (false, true) => from / number,
        _ => WRONG_SIGN,
    };
    times.clamp(1.0, WRONG_SIGN)
}

/// A rough number with no more figures than it is meant with; a length in feet and inches is one in inches where it is short.
fn roughly(si: f64, unit: Option<&Unit>) -> String {
    const FIGURES: usize = 2;
    const IN_INCHES: f64 = 0.6;
    let of_a_tape = |unit: &Unit| if si.abs() < IN_INCHES { Unit::parse("in") } else { Unit::parse("ft") }.unwrap_or_else(|_| unit.clone());
    let unit = unit.map(|unit| if unit.is_feet_inches() { of_a_tape(unit) } else { unit.clone() });
    match unit {
        Some(unit) => format!("{} {}", units::figures(unit.from_si(si), FIGURES), unit.text),
        None => units::figures(si, FIGURES),
    }
}

/// The number that lies farthest outside, or nearest to an end.
struct Odd<'d> {
    at: usize,
    property: &'d Property,
    usual: &'d Usual,
    ends: [f64; 2],
    place: usize,
    number: Quantity,
    off: f64,
}

impl Odd<'_> {
    fn told(self, evaluator: &Evaluator, component: ComponentId) -> table::Proportion {
        let [from, to] = self.ends;
        let (slip, instead) = match (self.off > 1.0).then(|| self.slip(evaluator, component)).flatten() {
            Some((slip, instead)) => (slip.into(), instead),
            None => (SmolStr::default(), self.number.clone()),
        };
        let unit = units::common_unit(&[from, to], self.number.dim, self.number.unit.as_deref(), evaluator.system());
        let show = |si: f64| roughly(si, unit.as_ref());
        #[expect(clippy::cast_precision_loss, reason = "far fewer numbers in a line than 2^52")]
        let place = self.place as f64 + 1.0;
        table::Proportion {
            line: self.property.name.clone(),
            place,
            value: self.number,
            usual: format!("{} to {}", show(from), show(to)).into(),
            because: self.usual.because.clone(),
            off: self.off,
            slip,
            instead,
        }
    }

    /// The likeliest slip: the sign, the unit, the comma.
    fn slip(&self, evaluator: &Evaluator, component: ComponentId) -> Option<(String, Quantity)> {
        // Of two lines that do not go together nobody knows which is wrong.
        if !is_plain(self.usual) {
            let text = "it, or a line that it goes with, may have a digit, a comma or a unit out of place";
            return Some((text.to_owned(), self.number.clone()));
        }
        let is_usual = |si: f64| si != 0.0 && off(si, self.ends[0], self.ends[1]) <= 1.0;
        let with = |si: f64| Quantity { si, ..self.number.clone() };
        let said = |quantity: &Quantity| evaluator.show_quantity(quantity);
        if is_usual(-self.number.si) {
            let meant = with(-self.number.si);
            return Some((format!("its sign may be wrong: {} would be usual", said(&meant)), meant));
        }
        let written = evaluator.design().component(component).written(self.at);
        let literal = written.and_then(|line| line.value.numbers().get(self.place).copied()).and_then(|number| number.written());
        if let Some(([part], _)) = literal
            && let Some(meant) = self.in_another_unit(part, &is_usual)
        {
            let (unit, other) = (part.unit.as_ref().map_or("", |unit| &unit.text), meant.unit.as_ref().map_or("", |unit| &unit.text));
            return Some((format!("{unit} may stand there for {other}: {} would be usual", said(&meant)), meant));
        }
        let by_tens = TENS.iter().map(|tens| self.number.si * 10_f64.powi(*tens)).find(|si| is_usual(*si));
        by_tens.map(|si| {
            let meant = with(si);
            (format!("a digit or the decimal point may be out of place: {} would be usual", said(&meant)), meant)
        })
    }

    /// The same figures in the unit that was meant, of the same system first.
    fn in_another_unit(&self, part: &Part, is_usual: &dyn Fn(f64) -> bool) -> Option<Quantity> {
        let own = Unit::parse(&part.unit.as_ref()?.text).ok().filter(|unit| unit.dim == self.number.dim && unit.offset == 0.0)?;
        let usual = units::units_for(own.dim).into_iter();
        let is_prefixed =
            |unit: &Unit| PREFIXES.iter().any(|by| [own.factor * by, own.factor / by].into_iter().any(|f| units::same(f, unit.factor)));
        let prefixed = units::all_units()
            .iter()
            .filter(|unit| unit.dim == own.dim)
            .map(|unit| unit.symbol)
            .filter(|text| Unit::parse(text).is_ok_and(|unit| is_prefixed(&unit)));
        let others: Vec<Unit> =
            usual.chain(prefixed).filter_map(|text| Unit::parse(text).ok()).filter(|unit| unit.factor != own.factor).collect();
        let fits = |unit: &&Unit| is_usual(unit.to_si(part.number.worth()));
        let of_system = units::system_of(&own);
        let same_system = others.iter().filter(|unit| units::system_of(unit) == of_system || units::system_of(unit).is_none()).find(fits);
        let unit = same_system.or_else(|| others.iter().find(fits))?;
        Some(Quantity { si: unit.to_si(part.number.worth()), dim: own.dim, unit: Some(Arc::new(unit.clone())) })
    }
}
