//! Whether a value fits where it is written: its type, its dimension, its limits.

use super::Outcome;
use super::evaluator::{Evaluator, Scope};
use super::lack::Lack;
use super::value::{Quantity, Value};
use crate::design::{ComponentId, LimitWord, Property, Type, Written};
use crate::problem::{Problem, nearest};
use crate::syntax::tree::{Binary, Expr, Node};
use crate::units::{self, Dim};
use smol_str::SmolStr;
use std::sync::Arc;

impl Evaluator {
    /// Works out an expression where a value of a known type is due.
    pub(super) fn evaluate_as(&self, expr: &Expr, ty: &Type, property: &str, scope: &mut Scope) -> Outcome {
        match (ty, &expr.node) {
            (Type::Word(words), Node::Name(word)) if words.contains(word) && !scope.bound.iter().any(|(name, _)| name == word) => {
                Ok(Value::Word(word.clone()))
            }
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
                self.fit(value, ty, property, expr)
            }
        }
    }

    fn items_as(&self, items: &[Expr], of: &Type, property: &str, scope: &mut Scope) -> Outcome {
        let mut values = Vec::with_capacity(items.len());
        let mut lack: Option<Lack> = None;
        for (part, item) in items.iter().enumerate() {
            self.reading_part(part);
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
            | (Type::Table, value) => Ok(value),
            (Type::Word(words), Value::Word(word)) if words.contains(&word) => Ok(Value::Word(word)),
            (Type::Word(words), Value::Word(word)) => Err(self.wrong_word(words, &word, property, expr)),
            (Type::Link { many: false, kinds }, Value::Component(id)) => self.fit_link(id, kinds, property, expr).map(Value::Component),
            (Type::Link { many: true, kinds }, value) => {
                let mut found = Vec::new();
                self.gather_links(value, kinds, property, expr, &mut found)?;
                Ok(Value::List(found.into()))
            }
            (Type::List(of), Value::List(items)) => {
                let items: Result<Vec<Value>, Lack> = items.iter().map(|item| self.fit(item.clone(), of, property, expr)).collect();
                Ok(Value::List(items?.into()))
            }
            (Type::List(of), value) => Ok(Value::List([self.fit(value, of, property, expr)?].into())),
            (Type::Range(dim), Value::Range(ends)) => {
                let [from, to] = ends.as_ref().clone();
                let from = self.fit_number(from, *dim, property, part(expr, 0))?;
                let to = self.fit_number(to, *dim, property, part(expr, 1))?;
                if from.si > to.si && !units::same(from.si, to.si) {
                    return Err(self.fault(
                        Problem::error(format!("`{property}` runs backwards"), expr.span, "from the larger to the smaller")
                            .help("write the smaller value first"),
                    ));
                }
                Ok(Value::Range(Arc::new([from, to])))
            }
            (Type::Size(dim), Value::Size(parts)) => {
                let parts: Result<Vec<Quantity>, Lack> = parts
                    .iter()
                    .enumerate()
                    .map(|(at, quantity)| self.fit_number(quantity.clone(), *dim, property, part(expr, at)))
                    .collect();
                Ok(Value::Size(parts?.into()))
            }
            (ty, value) => Err(self.wrong_type(ty, &value, property, expr)),
        }
    }

    fn fit_quantity(&self, value: Value, dim: Dim, property: &str, expr: &Expr) -> Outcome {
        match value {
            Value::Zero => Ok(Value::quantity(0.0, dim)),
            Value::Quantity(quantity) => self.fit_number(quantity, dim, property, expr).map(Value::Quantity),
            Value::List(items) if looks_like_decimal_comma(expr) => {
                let _ = items;
                Err(self.fault(
                    Problem::error(format!("`{property}` is one number, and a comma makes a list"), expr.span, "two values")
                        .help("write the decimal point as `.`: `4.72 m`"),
                ))
            }
            value => Err(self.wrong_type(&Type::Quantity(dim), &value, property, expr)),
        }
    }

    /// A quantity of the dimension due; a mass where its weight is due is taken as that weight.
    pub(super) fn fit_number(&self, quantity: Quantity, dim: Dim, property: &str, expr: &Expr) -> Result<Quantity, Lack> {
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
            let number = units::show(quantity.si, Dim::NUMBER, None, self.system);
            let examples: Vec<String> = usual.iter().take(3).map(|unit| format!("{number} {unit}")).collect();
            let mut problem = Problem::error(
                format!("`{number}` needs a unit: `{property}` is {}", dim.describe()),
                expr.span,
                "a number without its unit",
            )
            .help(format!("write {} …", examples.join(", ")));
            for example in examples {
                problem = problem.mend(format!("write `{example}`"), expr.span, example);
            }
            return Err(self.fault(problem));
        }
        let should = dim.describe();
        let mut problem = Problem::error(
            format!("`{property}` is {should}, and this is {}", quantity.dim.describe()),
            expr.span,
            quantity.dim.describe(),
        );
        if dim.is_number() {
            problem = problem.help("a plain number has no unit");
        } else if !usual.is_empty() {
            problem = problem.help(format!("a value in {} would do", usual.join(", ")));
        }
        if let Node::Binary(Binary::Multiply, sign, ..) = &expr.node
            && quantity.dim == dim.times(dim)
        {
            problem = problem.also(*sign, "a multiplication").help("a size is written with `by`: `3.6 m by 4.8 m`");
        }
        Err(self.fault(problem))
    }

    fn fit_link(&self, id: ComponentId, kinds: &[crate::design::KindId], property: &str, expr: &Expr) -> Result<ComponentId, Lack> {
        let component = self.design.component(id);
        if kinds.contains(&component.kind) {
            return Ok(id);
        }
        let names: Vec<&str> = kinds.iter().map(|kind| self.design.kind(*kind).name.as_str()).collect();
        Err(self.fault(
            Problem::error(
                format!("`{property}` cannot lead to `{}`, which is a {}", component.name, self.design.kind(component.kind).name),
                expr.span,
                "this component",
            )
            .also(component.header, "it stands here")
            .help(format!("it leads to a {}", names.join(" or "))),
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

    fn wrong_word(&self, words: &[SmolStr], word: &str, property: &str, expr: &Expr) -> Lack {
        let all: Vec<&str> = words.iter().map(SmolStr::as_str).collect();
        let problem = Problem::error(format!("`{property}` cannot be `{word}`"), expr.span, "this word")
            .help(format!("it is one of {}", all.join(", ")));
        self.fault(match nearest(word, all.iter().copied()) {
            Some(near) => problem.mend(format!("write `{near}`"), expr.span, near),
            None => problem,
        })
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
            Type::Word(words) => ("one word".to_owned(), format!("it is one of {}", words.join(", "))),
            Type::Link { many, kinds } => (
                format!("the name of a {}", names(kinds)),
                if *many { "write one name, or several with commas" } else { "write one name" }.to_owned(),
            ),
            Type::List(_) => ("a list".to_owned(), "write the values with commas between them".to_owned()),
            Type::Range(_) => ("a range".to_owned(), "write it with `to`: `8 mm to 14 mm`".to_owned()),
            Type::Size(_) => ("a size".to_owned(), "write it with `by`: `3.6 m by 4.8 m`".to_owned()),
            Type::Table => ("a table".to_owned(), "it is worked out and not written".to_owned()),
        };
        self.fault(
            Problem::error(format!("`{property}` is {should}, and this is {}", value.describe()), expr.span, value.describe()).help(help),
        )
    }

    /// Whether a written value is within what its kind says is sensible.
    pub(super) fn within_limits(&self, value: &Value, property: &Property, own: ComponentId, written: &Written) -> Result<(), Lack> {
        if property.limits.is_empty() {
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
        for limit in &property.limits {
            let mut scope = Scope { own: Some(own), of_kind: true, ..Scope::default() };
            // A limit that rests on a line not yet written does not limit.
            let Ok(bound) = self.evaluate(&limit.value, &mut scope) else { continue };
            let Some(edge) = bound.si() else { continue };
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

/// The expression of one part of a size or range, for the place of a message.
fn part(expr: &Expr, at: usize) -> &Expr {
    match &expr.node {
        Node::Size(parts) => parts.get(at).unwrap_or(expr),
        Node::Range(from, to) => {
            if at == 0 {
                from
            } else {
                to
            }
        }
        _ => expr,
    }
}

/// `4,72 m`: a number without unit, a comma, a number of digits with a unit.
fn looks_like_decimal_comma(expr: &Expr) -> bool {
    let Node::List(items) = &expr.node else { return false };
    match items.as_slice() {
        [a, b] => match (&a.node, &b.node) {
            (Node::Quantity(whole), Node::Quantity(rest)) => {
                whole.iter().all(|part| part.unit.is_none()) && rest.iter().any(|part| part.unit.is_some())
            }
            _ => false,
        },
        _ => false,
    }
}
