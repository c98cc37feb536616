//! Operators on quantities: dimensions are checked at the operator.

use super::Outcome;
use super::evaluator::Evaluator;
use super::lack::Lack;
use super::value::{Quantity, Value};
use crate::problem::Problem;
use crate::syntax::tree::{Binary, Expr, Node, Part};
use crate::text::Span;
use crate::units::{self, Dim};

/// An operator with its operands' texts, for messages.
pub(super) struct Operation<'e> {
    pub(super) operator: Binary,
    pub(super) sign: Span,
    pub(super) left: &'e Expr,
    pub(super) right: &'e Expr,
}

impl Evaluator {
    pub(super) fn operate(&self, operation: &Operation<'_>, left: Value, right: Value) -> Outcome {
        use Binary::{Add, Divide, Equal, Greater, GreaterOrEqual, Less, LessOrEqual, Multiply, NotEqual, Power, Subtract};
        let operator = operation.operator;
        if matches!(operator, Equal | NotEqual)
            && !matches!((&left, &right), (Value::Quantity(_) | Value::Zero, Value::Quantity(_) | Value::Zero))
        {
            // What can never be equal was not meant to be compared.
            if std::mem::discriminant(&left) != std::mem::discriminant(&right) {
                return Err(self.unlike(operation, &left, &right));
            }
            return Ok(Value::Flag((left == right) == (operator == Equal)));
        }
        let (left, right) = match (left, right) {
            (Value::Date(a), Value::Date(b)) if matches!(operator, Less | LessOrEqual | Greater | GreaterOrEqual) => {
                return Ok(Value::Flag(match operator {
                    Less => a < b,
                    LessOrEqual => a <= b,
                    Greater => a > b,
                    _ => a >= b,
                }));
            }
            // Nothing and nothing is nothing of the same sort, which the line knows in which it stands.
            (Value::Zero, Value::Zero) if matches!(operator, Add | Subtract) => return Ok(Value::Zero),
            // So is nothing times something, or over it: of what sort, the sum of nothing does not know.
            (Value::Zero, Value::Zero) if operator == Multiply => return Ok(Value::Zero),
            (Value::Zero, Value::Quantity(b)) if !b.dim.is_point() && (operator == Multiply || operator == Divide && b.si != 0.0) => {
                return Ok(Value::Zero);
            }
            (Value::Quantity(a), Value::Zero) if !a.dim.is_point() && operator == Multiply => return Ok(Value::Zero),
            (Value::Zero, Value::Zero) => (Quantity::new(0.0, Dim::NUMBER), Quantity::new(0.0, Dim::NUMBER)),
            (Value::Zero, Value::Quantity(b)) => (zero_like(&b, operator), b),
            (Value::Quantity(a), Value::Zero) => {
                let zero = zero_like(&a, operator);
                (a, zero)
            }
            (Value::Quantity(a), Value::Quantity(b)) => (a, b),
            (left, right) => {
                let (wrong, expr) =
                    if matches!(left, Value::Quantity(_) | Value::Zero) { (&right, operation.right) } else { (&left, operation.left) };
                return Err(self.fault(
                    Problem::error(
                        format!("`{}` works on numbers, and this is {}", operator.sign(), wrong.describe()),
                        expr.span,
                        wrong.describe(),
                    )
                    .also(operation.sign, "this operator"),
                ));
            }
        };
        match operator {
            Add | Subtract | Multiply | Divide | Power if left.dim.is_point() || right.dim.is_point() => {
                self.with_temperatures(operation, left, right)
            }
            Add | Subtract => {
                self.heed_dash_of_the_tape(operation)?;
                let right = self.alike(operation, &left, right)?;
                let si = if operator == Add { left.si + right.si } else { left.si - right.si };
                Ok(Value::Quantity(Quantity { si, unit: left.unit.or(right.unit), dim: left.dim }))
            }
            Multiply | Divide => {
                let dim = if operator == Multiply { left.dim.checked_times(right.dim) } else { left.dim.checked_over(right.dim) };
                let Some(dim) = dim else { return Err(self.no_answer(operation, "its unit is beyond sense")) };
                let si = if operator == Multiply { left.si * right.si } else { left.si / right.si };
                if !si.is_finite() {
                    return Err(self.no_answer(operation, if right.si == 0.0 { "the divisor is zero" } else { "the result is too large" }));
                }
                let unit = if right.dim.is_number() {
                    left.unit
                } else if left.dim.is_number() && operator == Multiply {
                    right.unit
                } else {
                    None
                };
                Ok(Value::Quantity(Quantity { si, dim, unit }))
            }
            Power => self.power(operation, &left, &right),
            Equal | NotEqual | Less | LessOrEqual | Greater | GreaterOrEqual => {
                let right = self.alike(operation, &left, right)?;
                let same = units::same(left.si, right.si);
                Ok(Value::Flag(match operator {
                    Equal => same,
                    NotEqual => !same,
                    Less => left.si < right.si && !same,
                    LessOrEqual => left.si < right.si || same,
                    Greater => left.si > right.si && !same,
                    _ => left.si > right.si || same,
                }))
            }
            Binary::And | Binary::Or => Err(Lack::Faulty),
        }
    }

    /// `6 ft-2 in`: on a drawing a dash between feet and inches holds them together; here it would take away.
    fn heed_dash_of_the_tape(&self, operation: &Operation<'_>) -> Result<(), Lack> {
        let is = |part: &Part, of: f64| {
            let unit = part.unit.as_ref().and_then(|unit| self.unit(unit).ok());
            unit.is_some_and(|unit| unit.dim == Dim::LENGTH && units::same(unit.factor, of))
        };
        let (Some(feet), Node::Quantity(inches)) = (last_written(operation.left), &operation.right.node) else { return Ok(()) };
        let Some(inch) = inches.first() else { return Ok(()) };
        let touches = operation.sign.end == inch.span.start || feet.span.end == operation.sign.start;
        if operation.operator != Binary::Subtract || !touches || !is(feet, 12.0 * units::METRE_PER_INCH) || !is(inch, units::METRE_PER_INCH)
        {
            return Ok(());
        }
        let between = Span { end: inch.span.start, ..feet.span.after() };
        Err(self.fault(
            Problem::error("no dash between feet and inches", operation.sign, "would take the inches away")
                .help("write `6 ft 2 in`; a subtraction has a blank on both sides of its `-`")
                .mend("take out the dash", between, " "),
        ))
    }

    fn power(&self, operation: &Operation<'_>, base: &Quantity, exponent: &Quantity) -> Outcome {
        if !exponent.dim.is_number() {
            return Err(self.fault(
                Problem::error("an exponent is a plain number", operation.right.span, exponent.dim.describe())
                    .also(operation.sign, "this operator"),
            ));
        }
        let whole = exponent.si.round();
        #[expect(clippy::cast_possible_truncation, reason = "bounded just before")]
        let dim = if base.dim.is_number() {
            Some(Dim::NUMBER)
        } else if (exponent.si - whole).abs() < 1e-9 && whole.abs() <= 20.0 {
            base.dim.power(whole as i32)
        } else {
            None
        };
        let Some(dim) = dim else {
            return Err(self.fault(
                Problem::error(format!("{} has no such power", base.dim.describe()), operation.sign, "this operator")
                    .help("only whole powers keep a unit; `sqrt` and `root` take roots"),
            ));
        };
        let si = base.si.powf(exponent.si);
        match si {
            si if si.is_finite() => Ok(Value::quantity(si, dim)),
            si if si.is_nan() => Err(self.no_answer(operation, "the result is not a number")),
            _ => Err(self.no_answer(operation, if base.si == 0.0 { "the divisor is zero" } else { "the result is too large" })),
        }
    }

    fn unlike(&self, operation: &Operation<'_>, left: &Value, right: &Value) -> Lack {
        let (a, b) = (left.describe(), right.describe());
        let problem = Problem::error(format!("{a} and {b} cannot be compared"), operation.sign, "this operator")
            .also(operation.left.span, a)
            .also(operation.right.span, b);
        self.fault(match (left, right) {
            (Value::List(_), _) | (_, Value::List(_)) => problem.help("ask each of a list: `any(x == y for x in list)`"),
            (Value::Text(_), Value::Word(_)) | (Value::Word(_), Value::Text(_)) => problem.help("a choice is written without quotes"),
            _ => problem.help("both sides have to be of one sort"),
        })
    }

    /// The right operand in the dimension of the left; a mass beside a force is taken as its weight.
    fn alike(&self, operation: &Operation<'_>, left: &Quantity, right: Quantity) -> Result<Quantity, Lack> {
        if left.dim == right.dim {
            return Ok(right);
        }
        let (a, b) = (left.dim.describe(), right.dim.describe());
        let verb = match operation.operator {
            Binary::Add => "be added",
            Binary::Subtract => "be subtracted",
            _ => "be compared",
        };
        let mut problem = Problem::error(format!("{a} and {b} cannot {verb}"), operation.sign, "this operator")
            .also(operation.left.span, a)
            .also(operation.right.span, b);
        let (bare, other) = if left.dim.is_number() { (operation.left, right.dim) } else { (operation.right, left.dim) };
        let usual = units::units_for(other);
        if (left.dim.is_number() || right.dim.is_number()) && matches!(bare.node, Node::Quantity(_) | Node::Binary(..)) && !usual.is_empty()
        {
            problem = problem.help(format!("give the number a unit: {}", usual.join(", ")));
        } else if units::as_weight(left.dim, right.dim) || units::as_weight(right.dim, left.dim) {
            problem = problem.help("`weight(…)` makes a force of a mass");
        } else {
            let [a, b] = [left.dim, right.dim].map(Dim::describe);
            problem = problem.help(format!("both sides have to be {a}, or both {b}"));
        }
        Err(self.fault(problem))
    }

    fn no_answer(&self, operation: &Operation<'_>, why: &str) -> Lack {
        let span = operation.left.span.to(operation.right.span);
        self.fault(Problem::error(format!("this has no answer: {why}"), span, "worked out here"))
    }
}

/// The number that an expression ends with, if it is a written one.
fn last_written(expr: &Expr) -> Option<&Part> {
    match &expr.node {
        Node::Quantity(parts) => parts.last().filter(|part| part.span.end == expr.span.end),
        Node::Binary(_, _, _, right) => last_written(right),
        _ => None,
    }
}

/// The sum of nothing beside a quantity; beside a temperature it is no difference.
fn zero_like(other: &Quantity, operator: Binary) -> Quantity {
    let dim = if matches!(operator, Binary::Multiply | Binary::Divide | Binary::Power) { Dim::NUMBER } else { other.dim.difference() };
    Quantity { si: 0.0, dim, unit: other.unit.clone() }
}
