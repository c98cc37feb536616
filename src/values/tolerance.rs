//! How far the numbers of a line may be off.
//!
//! In: a line, and what it came to. Out: a [`Tolerance`] for each number in it that has one behind it, in the dimension
//! that is due there: `100 kg ± 10 kg` where a force is due is a force that may be off by the weight of 10 kg.

use super::evaluator::{Evaluator, Scope};
use super::lack::Lack;
use super::value::{PARTS_OF_A_SIZE, Quantity, Tolerance, Value};
use crate::design::NodeId;
use crate::problem::Problem;
use crate::syntax::tree::{Expr, Node};
use crate::units::Unit;

impl Evaluator {
    /// The tolerances written in the lines of these nodes, in their order.
    #[must_use]
    pub fn tolerances_of(&self, nodes: &[NodeId]) -> Vec<(NodeId, Tolerance)> {
        let known = self.tolerances.borrow();
        let mut found = Vec::new();
        for node in nodes {
            found.extend(known.get(node).into_iter().flat_map(|written| written.iter()).map(|tolerance| (*node, *tolerance)));
        }
        found
    }

    /// The tolerance of the number that an expression leads to, which read `reads` for it: a line, or one part of a range
    /// or a size in it. What is worked out from several has none of its own.
    #[must_use]
    pub fn tolerance_of(&self, expr: &Expr, reads: &[NodeId]) -> Option<Tolerance> {
        let node = *reads.last()?;
        let part = match (&expr.node, self.known(node)?.ok()?) {
            (Node::Field(_, end), Value::Range(_)) => usize::from(end.text == "to"),
            (Node::Field(_, part), Value::Size(_)) => PARTS_OF_A_SIZE.iter().position(|name| part.text == *name)?,
            (Node::Field(..) | Node::Name(_), _) => 0,
            _ => return None,
        };
        self.tolerances.borrow().get(&node)?.iter().find(|tolerance| tolerance.part == part).copied()
    }

    /// Keeps the tolerances of the line of a node that has come to this value; a what-if only moves within them.
    pub(super) fn note_tolerances(&self, node: NodeId, line: &Expr, value: &Value, scope: &mut Scope) -> Result<(), Lack> {
        if self.scenario.borrow().is_some() {
            return Ok(());
        }
        let found = self.tolerances_in(line, value, scope)?;
        if !found.is_empty() {
            self.tolerances.borrow_mut().insert(node, found.into());
        }
        Ok(())
    }

    /// The tolerances that stand in an expression which has come to this value.
    ///
    /// # Errors
    /// What is missing for one of them, or that it is wrong (which is then among the problems).
    pub fn tolerances_in(&self, expr: &Expr, value: &Value, scope: &mut Scope) -> Result<Vec<Tolerance>, Lack> {
        let mut found = Vec::new();
        self.find_tolerances(expr, value, 0, scope, &mut found)?;
        Ok(found)
    }

    /// Those of an expression whose first number is the part `first` of the line.
    fn find_tolerances(&self, expr: &Expr, value: &Value, first: usize, scope: &mut Scope, found: &mut Vec<Tolerance>) -> Result<(), Lack> {
        match (&expr.node, value) {
            (Node::Tolerance { .. }, Value::Quantity(nominal)) => self.tolerance(expr, nominal, first, scope, found),
            (Node::Range(from, to), Value::Range(ends)) => {
                self.tolerance(from, &ends[0], first, scope, found)?;
                self.tolerance(to, &ends[1], first + 1, scope, found)
            }
            (Node::Size(parts), Value::Size(sizes)) => {
                let mut parts = parts.iter().zip(sizes.iter()).zip(first..);
                parts.try_for_each(|((part, nominal), at)| self.tolerance(part, nominal, at, scope, found))
            }
            (Node::List(items), Value::List(values)) => {
                let mut first = first;
                for (item, value) in items.iter().zip(values.iter()) {
                    self.find_tolerances(item, value, first, scope, found)?;
                    first += value.numbers();
                }
                Ok(())
            }
            // One value where several may stand is a list of one.
            (Node::Tolerance { .. } | Node::Range(..) | Node::Size(_), Value::List(values)) => match values.first() {
                Some(only) => self.find_tolerances(expr, only, first, scope, found),
                None => Ok(()),
            },
            (Node::In(shown, _), value) => self.find_tolerances(shown, value, first, scope, found),
            _ => Ok(()),
        }
    }

    /// The tolerance behind a number, if it has one.
    fn tolerance(&self, expr: &Expr, nominal: &Quantity, part: usize, scope: &mut Scope, found: &mut Vec<Tolerance>) -> Result<(), Lack> {
        let Node::Tolerance { down, up, .. } = &expr.node else { return Ok(()) };
        let up = self.amount(up, nominal, scope)?;
        let down = match down {
            Some(down) => self.amount(down, nominal, scope)?,
            None => up,
        };
        found.push(Tolerance { part, down, up });
        Ok(())
    }

    fn amount(&self, expr: &Expr, nominal: &Quantity, scope: &mut Scope) -> Result<f64, Lack> {
        let given = self.evaluate(expr, scope)?;
        let given = self.as_quantity(given, expr)?;
        // `± 5 %` of a value that is not itself a percentage; a temperature's tolerance is a difference.
        let relative = given.dim.is_number() && !nominal.dim.is_number() && !nominal.dim.is_point();
        let si = if relative && given.unit.is_some() {
            given.si * nominal.si.abs()
        } else {
            let given = self.as_difference(given, nominal.dim, expr);
            self.fit_part(given, smaller_unit(nominal).as_ref(), nominal.dim.difference(), "the tolerance", expr)?.si
        };
        if si < 0.0 {
            return Err(self.fault(
                Problem::error("a tolerance is not negative", expr.span, "this tolerance")
                    .help("write how much more and how much less: `+3 mm -1 mm`"),
            ));
        }
        Ok(si)
    }
}

/// The unit in which a tolerance is given beside a value: millimetres beside metres, inches beside feet.
fn smaller_unit(nominal: &Quantity) -> Option<Unit> {
    let unit = nominal.unit.as_deref()?;
    match unit.text.as_str() {
        "m" => Unit::parse("mm").ok(),
        "ft" => Unit::parse("in").ok(),
        _ if unit.is_feet_inches() => Unit::parse("in").ok(),
        _ => Some(unit.difference()),
    }
}
