//! Temperatures: points on a scale, which arithmetic must not take for amounts.
//!
//! In: the operands of an operator or a sign, one of them a temperature. Out: the point or the difference that comes of it,
//! or what is wrong and what to write. The rules are those of NIST SP 811 (2008) section 8.5: a temperature t in degC is
//! counted from its own zero, an interval is counted in kelvins.

use super::Outcome;
use super::arithmetic::Operation;
use super::evaluator::Evaluator;
use super::lack::Lack;
use super::value::{Quantity, Value};
use crate::design::refusals;
use crate::problem::Problem;
use crate::syntax::tree::{Binary, Expr, Node, Part};
use crate::text::Span;
use crate::units::{self, Dim, System, Unit};

/// What may be done with a temperature.
const DIFFERENCES: &str = "a temperature is a point on its scale; a difference is written in K, or is one temperature less another";

impl Evaluator {
    /// `+ - * / ^` where at least one side is a temperature: it may be moved by a difference, and two of them differ by one.
    pub(super) fn with_temperatures(&self, operation: &Operation<'_>, left: Quantity, right: Quantity) -> Outcome {
        const POINT: Dim = Dim::TEMPERATURE;
        const DIFFERENCE: Dim = Dim::TEMPERATURE_DIFFERENCE;
        let span = operation.left.span.to(operation.right.span);
        let moved = |point: Quantity, by: f64| self.above_absolute_zero(Quantity { si: point.si + by, ..point }, span).map(Value::Quantity);
        match (operation.operator, left.dim, right.dim) {
            (Binary::Add, POINT, DIFFERENCE) => moved(left, right.si),
            (Binary::Add, DIFFERENCE, POINT) => moved(right, left.si),
            (Binary::Subtract, POINT, DIFFERENCE) => moved(left, -right.si),
            (Binary::Subtract, POINT, POINT) => Ok(Value::quantity(left.si - right.si, DIFFERENCE)),
            _ => Err(self.no_amount(operation, &left, &right)),
        }
    }

    fn no_amount(&self, operation: &Operation<'_>, left: &Quantity, right: &Quantity) -> Lack {
        let (a, b) = (left.dim.describe(), right.dim.describe());
        let (message, help) = match operation.operator {
            Binary::Add if left.dim == right.dim => (
                "two temperatures cannot be added".to_owned(),
                match above_zero(right).filter(|_| is_written(operation.right)) {
                    Some(kelvins) => format!("a difference is written in K: `{kelvins}`"),
                    None => format!("{DIFFERENCES}; `mean(t for t in …)` is the middle of several"),
                },
            ),
            Binary::Add => (format!("{a} and {b} cannot be added"), DIFFERENCES.to_owned()),
            Binary::Subtract => (
                format!("{b} cannot be taken from {a}"),
                match &operation.right.node {
                    Node::Quantity(_) if left.si == 0.0 => {
                        format!("below zero the sign belongs to the number: `-{}`", self.show_quantity(right))
                    }
                    _ => DIFFERENCES.to_owned(),
                },
            ),
            Binary::Power => ("a temperature has no power".to_owned(), DIFFERENCES.to_owned()),
            Binary::Divide => ("a temperature cannot be divided, nor divide".to_owned(), DIFFERENCES.to_owned()),
            _ => ("a temperature cannot be multiplied".to_owned(), DIFFERENCES.to_owned()),
        };
        let problem = Problem::error(message, operation.sign, "this operator");
        self.fault(problem.also(operation.left.span, a).also(operation.right.span, b).help(help))
    }

    /// `-` before something: before a written number it belongs to the number, also to one of a temperature.
    pub(super) fn negated(&self, sign: Span, of: &Expr, value: Value) -> Outcome {
        match value {
            Value::Zero => Ok(Value::Zero),
            Value::Quantity(quantity) if !quantity.dim.is_point() => Ok(Value::Quantity(Quantity { si: -quantity.si, ..quantity })),
            Value::Quantity(point) => match (&of.node, &point.unit) {
                (Node::Quantity(parts), Some(unit)) if stands_bare(of, parts) => {
                    let si = unit.to_si(-unit.from_si(point.si));
                    self.above_absolute_zero(Quantity { si, ..point }, sign.to(of.span)).map(Value::Quantity)
                }
                (node, _) => {
                    let help = match node {
                        Node::Quantity(_) => {
                            format!("write `-{}` without brackets: the sign belongs to the number", self.show_quantity(&point))
                        }
                        _ => DIFFERENCES.to_owned(),
                    };
                    Err(self.fault(Problem::error("`-` does not turn a temperature around", sign.to(of.span), "a temperature").help(help)))
                }
            },
            other => Err(self.fault(refusals::no_negative(other.describe(), of.span))),
        }
    }

    /// There is nothing colder than absolute zero.
    pub(super) fn above_absolute_zero(&self, quantity: Quantity, span: Span) -> Result<Quantity, Lack> {
        if quantity.dim.is_point() && quantity.si < 0.0 && !units::same(1.0 + quantity.si, 1.0) {
            let zero = units::show_exact(0.0, quantity.dim, quantity.unit.as_deref(), System::Metric);
            return Err(self.fault(
                Problem::error("this is colder than absolute zero", span, "this temperature").help(format!("nothing is below {zero}")),
            ));
        }
        Ok(quantity)
    }

    /// A tolerance written in degC or degF counts differences on that scale.
    pub(super) fn as_difference(&self, given: Quantity, nominal: Dim, expr: &Expr) -> Quantity {
        match (&given.unit, is_written(expr)) {
            (Some(unit), true) if given.dim.is_point() && nominal.difference() == Dim::TEMPERATURE_DIFFERENCE => {
                Quantity { si: given.si - unit.offset, dim: Dim::TEMPERATURE_DIFFERENCE, unit: None }
            }
            _ => given,
        }
    }
}

/// The number of a temperature as if it were a difference, in kelvins.
fn above_zero(point: &Quantity) -> Option<String> {
    let unit: &Unit = point.unit.as_deref()?;
    Some(units::show(point.si - unit.offset, Dim::TEMPERATURE_DIFFERENCE, None, System::Metric))
}

fn is_written(expr: &Expr) -> bool {
    matches!(expr.node, Node::Quantity(_))
}

/// A number without brackets around it.
fn stands_bare(expr: &Expr, parts: &[Part]) -> bool {
    parts.first().is_some_and(|part| part.span.start == expr.span.start)
}
