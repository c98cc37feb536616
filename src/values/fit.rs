//! Whether a value fits where it is written: its type, its dimension, its limits.

use super::Outcome;
use super::due::units_that_would_do;
use super::evaluator::{Evaluator, Scope};
use super::lack::Lack;
use super::value::{Quantity, Value};
use crate::design::{ComponentId, Entry, LimitWord, Property, Type, Writer, Written, is_due, refusals};
use crate::problem::{Problem, with_article};
use crate::syntax::examples::CONDITION;
use crate::syntax::tree::{Binary, Date, Expr, Node, Part};
use crate::text::Span;
use crate::units::{self, Dim, Unit};
use std::sync::Arc;

impl Evaluator {
    /// Works out an expression where a value of a known type is due.
    pub(super) fn evaluate_as(&self, expr: &Expr, ty: &Type, property: &str, scope: &mut Scope) -> Outcome {
        match (ty, &expr.node) {
            (Type::Word(words), Node::Name(word)) if is_due(words, word, scope.is_bound(word)) => Ok(Value::Word(word.clone())),
            (Type::Word(_), Node::If(condition, a, b)) => {
                let branch = if self.condition(condition, scope)? { a } else { b };
                self.evaluate_as(branch, ty, property, scope)
            }
            (Type::List(of), Node::List(items)) => self.items_as(items, of, property, scope),
            (Type::List(of), _)
                if !matches!(expr.node, Node::Call(..) | Node::Aggregate { .. } | Node::Name(_) | Node::Field(..) | Node::If(..)) =>
            {
                self.items_as(std::slice::from_ref(expr), of, property, scope)
            }
            _ => {
                let value = self.evaluate(expr, scope)?;
                self.fit(value, ty, property, expr.nominal())
            }
        }
    }

    fn items_as(&self, items: &[Expr], of: &Type, property: &str, scope: &mut Scope) -> Outcome {
        let mut values = Vec::with_capacity(items.len());
        let mut lack: Option<Lack> = None;
        for item in items {
            match self.evaluate_as(item, of, property, scope) {
                Ok(value) => values.push(value),
                Err(more) => lack = Some(lack.map_or(more.clone(), |lack| lack.with(more))),
            }
        }
        match lack {
            Some(lack) => Err(lack),
            None => Ok(Value::List(values.into())),
        }
    }

    fn fit(&self, value: Value, ty: &Type, property: &str, expr: &Expr) -> Outcome {
        match (ty, value) {
            (Type::Quantity(dim), value) => self.fit_quantity(value, *dim, property, expr),
            (Type::Text, value @ Value::Text(_))
            | (Type::Date, value @ Value::Date(_))
            | (Type::Flag, value @ Value::Flag(_))
            | (Type::Solid, value @ Value::Solid(_))
            | (Type::Condition, value @ (Value::Condition(_) | Value::Flag(_)))
            | (Type::Table, value) => Ok(value),
            (Type::Condition, Value::Component(id)) => self.signal(id, expr.span),
            (Type::Word(words), Value::Word(word)) if words.contains(&word) => Ok(Value::Word(word)),
            (Type::Word(words), Value::Word(word)) => Err(self.wrong_word(words, &word, property, expr)),
            (Type::Link { many: false, kinds }, Value::Component(id)) => self.fit_link(id, kinds, property, expr).map(Value::Component),
            (Type::Link { many: true, kinds }, value) => {
                let mut found = Vec::new();
                self.gather_links(value, kinds, property, expr, &mut found)?;
                Ok(Value::List(found.into()))
            }
            (Type::Solid, value @ Value::List(_)) if value.solid().is_some() => Ok(value.solid().map_or(Value::Zero, Value::Solid)),
            (Type::List(of), Value::List(items)) => {
                let items: Result<Vec<Value>, Lack> = items.iter().map(|item| self.fit(item.clone(), of, property, expr)).collect();
                Ok(Value::List(items?.into()))
            }
            (Type::List(of), value) => Ok(Value::List([self.fit(value, of, property, expr)?].into())),
            (Type::Range(dim), Value::Range(ends)) => {
                let [from, to] = ends.as_ref().clone();
                let (from_unit, to_unit) = (from.unit.clone(), to.unit.clone());
                let from = self.fit_part(from, to_unit.as_deref(), *dim, property, part(expr, 0))?;
                let to = self.fit_part(to, from_unit.as_deref(), *dim, property, part(expr, 1))?;
                if from.si > to.si && !units::same(from.si, to.si) {
                    return Err(self.fault(
                        Problem::error(format!("`{property}` runs backwards"), expr.span, "from the larger to the smaller")
                            .help("write the smaller value first"),
                    ));
                }
                Ok(Value::Range(Arc::new([from, to])))
            }
            (Type::Size(dim), Value::Size(parts)) => {
                let unit = parts.iter().find_map(|quantity| quantity.unit.clone());
                let parts: Result<Vec<Quantity>, Lack> = parts
                    .iter()
                    .enumerate()
                    .map(|(at, quantity)| self.fit_part(quantity.clone(), unit.as_deref(), *dim, property, part(expr, at)))
                    .collect();
                Ok(Value::Size(parts?.into()))
            }
            (ty, value) => Err(self.wrong_type(ty, &value, property, expr)),
        }
    }

    fn fit_quantity(&self, value: Value, dim: Dim, property: &str, expr: &Expr) -> Outcome {
        match value {
            Value::Zero if !dim.is_point() => Ok(Value::quantity(0.0, dim)),
            Value::Quantity(quantity) => self.fit_number(quantity, dim, property, expr).map(Value::Quantity),
            value => Err(self.wrong_type(&Type::Quantity(dim), &value, property, expr)),
        }
    }

    /// A quantity of the dimension due; a mass where its weight is due is taken as that weight.
    pub(super) fn fit_number(&self, quantity: Quantity, dim: Dim, property: &str, expr: &Expr) -> Result<Quantity, Lack> {
        self.fit_part(quantity, None, dim, property, expr)
    }

    /// The same for a part of something: the unit of the other part is the one that was forgotten here.
    pub(super) fn fit_part(
        &self,
        quantity: Quantity,
        other: Option<&Unit>,
        dim: Dim,
        property: &str,
        expr: &Expr,
    ) -> Result<Quantity, Lack> {
        if quantity.dim == dim {
            return Ok(quantity);
        }
        if units::as_weight(dim, quantity.dim) {
            return Ok(Quantity { si: quantity.si * units::STANDARD_GRAVITY, dim, unit: None });
        }
        if units::as_mass(dim, quantity.dim) {
            return Ok(Quantity { si: quantity.si / units::STANDARD_GRAVITY, dim, unit: None });
        }
        let usual = units::units_for(dim);
        if quantity.dim.is_number() && quantity.unit.is_none() && matches!(expr.node, Node::Quantity(_)) {
            return Err(self.fault(self.without_unit(&quantity, other, dim, property, expr)));
        }
        let should = dim.describe();
        let mut problem = Problem::error(
            format!("{} is {should}, and this is {}", called(property), quantity.dim.describe()),
            expr.span,
            quantity.dim.describe(),
        );
        if dim.is_number() {
            problem = problem.help("a plain number has no unit");
        } else if !usual.is_empty() {
            problem = problem.help(units_that_would_do(dim, &quantity));
        }
        if let Node::Binary(Binary::Multiply, sign, ..) = &expr.node
            && quantity.dim == dim.times(dim)
        {
            problem = problem.also(*sign, "a multiplication").help("a size is written with `by`: `3.6 m by 4.8 m`");
        }
        Err(self.fault(problem))
    }

    fn without_unit(&self, quantity: &Quantity, other: Option<&Unit>, dim: Dim, property: &str, expr: &Expr) -> Problem {
        let number = match expr.written() {
            Some(([one], _)) => one.number.to_string(),
            _ => units::show_exact(quantity.si, Dim::NUMBER, None, self.system),
        };
        let units: Vec<&str> = match other.filter(|unit| unit.dim == dim && !unit.is_feet_inches()) {
            Some(unit) => vec![unit.text.as_str()],
            None => units::units_for(dim).iter().take(3).copied().collect(),
        };
        let examples: Vec<String> = units.iter().map(|unit| format!("{number} {unit}")).collect();
        let more = if units.len() > 1 { " …" } else { "" };
        let problem = Problem::error(
            format!("`{number}` needs a unit: {} is {}", called(property), dim.describe()),
            expr.span,
            "a number without its unit",
        );
        // The number stays as it is written: only its unit is put behind it.
        let put = |problem: Problem, unit: &&str| problem.mend(format!("write `{number} {unit}`"), expr.span.after(), format!(" {unit}"));
        units.iter().fold(problem, put).help(format!("write {}{more}", examples.join(", ")))
    }

    fn fit_link(&self, id: ComponentId, kinds: &[crate::design::KindId], property: &str, expr: &Expr) -> Result<ComponentId, Lack> {
        let component = self.design.component(id);
        if kinds.contains(&component.kind) {
            return Ok(id);
        }
        let names: Vec<&str> = kinds.iter().map(|kind| self.design.kind(*kind).name.as_str()).collect();
        Err(self.fault(
            Problem::error(
                format!(
                    "`{property}` cannot lead to `{}`, which is {}",
                    component.name,
                    with_article(&self.design.kind(component.kind).name)
                ),
                expr.span,
                "this component",
            )
            .also(component.header, "it stands here")
            .help(format!("it leads to {}", with_article(&names.join(" or ")))),
        ))
    }

    fn gather_links(
        &self,
        value: Value,
        kinds: &[crate::design::KindId],
        property: &str,
        expr: &Expr,
        found: &mut Vec<Value>,
    ) -> Result<(), Lack> {
        match value {
            Value::Component(id) => found.push(Value::Component(self.fit_link(id, kinds, property, expr)?)),
            Value::List(items) => {
                for item in items.iter() {
                    self.gather_links(item.clone(), kinds, property, expr, found)?;
                }
            }
            other => return Err(self.wrong_type(&Type::Link { many: true, kinds: kinds.to_vec() }, &other, property, expr)),
        }
        Ok(())
    }

    pub(super) fn wrong_word(&self, words: &[impl AsRef<str>], word: &str, property: &str, expr: &Expr) -> Lack {
        self.fault(refusals::no_such_word(property, words, word, expr.span))
    }

    fn wrong_type(&self, ty: &Type, value: &Value, property: &str, expr: &Expr) -> Lack {
        let names = |kinds: &[crate::design::KindId]| {
            let names: Vec<&str> = kinds.iter().map(|kind| self.design.kind(*kind).name.as_str()).collect();
            names.join(" or ")
        };
        let (should, help) = match ty {
            Type::Quantity(dim) => {
                let units: Vec<String> = units::units_for(*dim).iter().take(3).map(|unit| format!("2.4 {unit}")).collect();
                (
                    dim.describe(),
                    if units.is_empty() {
                        "write a number".to_owned()
                    } else {
                        format!("write a number with its unit: {}", units.join(", "))
                    },
                )
            }
            Type::Text => ("a text".to_owned(), "write it in quotes".to_owned()),
            Type::Date => ("a date".to_owned(), "write it as 2027-05-02".to_owned()),
            Type::Flag => ("`yes` or `no`".to_owned(), format!("write `{property} yes` or `{property} no`")),
            Type::Word(words) => {
                let quoted = if matches!(value, Value::Text(_)) { ", without quotes" } else { "" };
                ("one word".to_owned(), format!("it is one of {}{quoted}", words.join(", ")))
            }
            Type::Link { many, kinds } => (
                format!("the name of {}", with_article(&names(kinds))),
                if *many { "write one name, or several with commas" } else { "write one name" }.to_owned(),
            ),
            Type::List(_) => ("a list".to_owned(), "write the values with commas between them".to_owned()),
            Type::Range(_) => ("a range".to_owned(), "write it with `to`: `8 mm to 14 mm`".to_owned()),
            Type::Size(_) => ("a size".to_owned(), "write it with `by`: `3.6 m by 4.8 m`".to_owned()),
            Type::Solid => ("a solid".to_owned(), "it is worked out and not written".to_owned()),
            Type::Condition => {
                ("a condition".to_owned(), format!("write what gives a signal, with `and`, `or` and `not` between: {CONDITION}"))
            }
            Type::Table => ("a table".to_owned(), "it is worked out and not written".to_owned()),
        };
        let problem =
            Problem::error(format!("`{property}` is {should}, and this is {}", value.describe()), expr.span, value.describe()).help(help);
        self.fault(match self.meant(ty, value, expr) {
            Some((text, span)) => problem.mend(format!("write `{text}`"), span, text),
            None => problem,
        })
    }

    /// What was meant by a value of the wrong sort, where that is plain to see.
    fn meant(&self, ty: &Type, value: &Value, expr: &Expr) -> Option<(String, Span)> {
        match (ty, value, &expr.node) {
            // A word, a name or a date in quotes.
            (Type::Word(words), Value::Text(text), Node::Text(_)) if words.contains(text) => Some((text.to_string(), expr.span)),
            (Type::Link { kinds, .. }, Value::Text(text), Node::Text(_)) => match self.design.entry(text)? {
                Entry::Component(id) | Entry::Array(id, ..) => {
                    kinds.contains(&self.design.component(id).kind).then(|| (text.to_string(), expr.span))
                }
                Entry::Named(_) => None,
            },
            (Type::Date, Value::Text(text), Node::Text(_)) => {
                day(&mut text.split('-').map(|part| part.parse().ok())).map(|day| (day, expr.span))
            }
            // `2027-5-2` is a subtraction.
            (Type::Date, Value::Quantity(_), Node::Binary(Binary::Subtract, _, left, last)) => match &left.node {
                Node::Binary(Binary::Subtract, _, first, second) => {
                    day(&mut [first, second, last].into_iter().map(|part| whole(part))).map(|day| (day, expr.span))
                }
                _ => None,
            },
            (Type::Text, Value::Word(word), Node::Name(_)) => Some((format!("\"{word}\""), expr.span)),
            (Type::Size(dim), Value::Quantity(quantity), Node::Binary(Binary::Multiply, sign, ..)) => {
                (quantity.dim == dim.times(*dim)).then(|| ("by".to_owned(), *sign))
            }
            _ => None,
        }
    }

    /// Whether a written value is within what its kind says is sensible.
    pub(super) fn within_limits(&self, value: &Value, property: &Property, own: ComponentId, written: &Written) -> Result<(), Lack> {
        if property.limits.is_empty() && !property.whole {
            return Ok(());
        }
        let numbers: Vec<&Quantity> = match value {
            Value::Quantity(quantity) => vec![quantity],
            Value::Range(ends) => ends.iter().collect(),
            Value::Size(parts) => parts.iter().collect(),
            Value::List(items) => items
                .iter()
                .filter_map(|item| match item {
                    Value::Quantity(quantity) => Some(quantity),
                    _ => None,
                })
                .collect(),
            _ => return Ok(()),
        };
        if let Some(broken) = numbers.iter().find(|number| property.whole && (number.si - number.si.round()).abs() > 1e-9) {
            let shown = self.show_value(&Value::Quantity((*broken).clone()));
            return Err(self.fault(
                Problem::error(format!("`{}` cannot be {shown}", property.name), written.value.span, "this value")
                    .help("it counts things: a whole number"),
            ));
        }
        for limit in &property.limits {
            let mut scope = Scope { own: Some(own), writer: Writer::Kind, ..Scope::default() };
            // A limit that rests on a line not yet written does not limit.
            let Ok(bound) = self.evaluate(&limit.value, &mut scope) else { continue };
            let Some(edge) = bound.si() else { continue };
            if let (Value::Quantity(bound), Some(number)) = (&bound, numbers.first())
                && bound.dim != number.dim
            {
                let (due, given) = (number.dim.describe(), bound.dim.describe());
                let problem = Problem::error(format!("`{}` is {due}, and its limit is {given}", property.name), limit.value.span, given);
                return Err(self.fault(problem.help(units_that_would_do(number.dim, bound))));
            }
            for number in &numbers {
                let at_edge = units::same(number.si, edge);
                let holds = match limit.word {
                    LimitWord::AtLeast => number.si > edge || at_edge,
                    LimitWord::AtMost => number.si < edge || at_edge,
                    LimitWord::Above => number.si > edge && !at_edge,
                    LimitWord::Below => number.si < edge && !at_edge,
                };
                if !holds {
                    let shown = self.show_value(&Value::Quantity((*number).clone()));
                    let needs = format!("{} {}", limit.word.words(), self.show_value(&bound));
                    return Err(self.fault(
                        Problem::error(format!("`{}` cannot be {shown}", property.name), written.value.span, "this value")
                            .help(format!("it is {needs}")),
                    ));
                }
            }
        }
        Ok(())
    }
}

/// The number of one part of a size or range, for the place of a message.
fn part(expr: &Expr, at: usize) -> &Expr {
    expr.numbers().get(at).map_or(expr, |part| part.nominal())
}

/// Property names in backticks; what is no property is called as it is.
fn called(property: &str) -> String {
    if property.starts_with("the ") { property.to_owned() } else { format!("`{property}`") }
}

/// Year, month and day as a date is written, if they are one.
fn day(parts: &mut dyn Iterator<Item = Option<u16>>) -> Option<String> {
    let (year, month, day) = (parts.next()??, parts.next()??, parts.next()??);
    let date = Date::new(i32::from(year), u8::try_from(month).ok()?, u8::try_from(day).ok()?)?;
    (year >= 1000 && parts.next().is_none()).then(|| date.to_string())
}

/// A whole number without a unit.
fn whole(expr: &Expr) -> Option<u16> {
    let Node::Quantity(parts) = &expr.node else { return None };
    match parts.as_slice() {
        [Part { number, unit: None, .. }] if number.worth().fract() == 0.0 && (0.0..10_000.0).contains(&number.worth()) => {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number up to 9999, as just asked")]
            let whole = number.worth() as u16;
            Some(whole)
        }
        _ => None,
    }
}
