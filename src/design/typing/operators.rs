//! Operators: both sides of one sort, dimensions multiplied and divided.

use super::*;

impl Typing<'_> {
    pub(super) fn operate(&mut self, operator: Binary, sign: Span, left: &Expr, right: &Expr, around: &mut Surroundings) -> Sort {
        let equal = matches!(operator, Binary::Equal | Binary::NotEqual);
        let ordered = matches!(operator, Binary::Less | Binary::LessOrEqual | Binary::Greater | Binary::GreaterOrEqual);
        let (a, b) = if equal { self.both_sides(left, right, around) } else { (self.sort(left, around), self.sort(right, around)) };
        let (left_dim, right_dim) = match (&a, &b) {
            _ if a.is_open() || b.is_open() => return if equal || ordered { Sort::Flag } else { Sort::Unknown },
            (Sort::Date, Sort::Date) if ordered => return Sort::Flag,
            (Sort::Quantity(left), Sort::Quantity(right)) => (*left, *right),
            _ if equal => {
                if a.common(&b).is_none() {
                    self.unlike("be compared", sign, (left, &a), (right, &b));
                }
                return Sort::Flag;
            }
            _ => {
                let (wrong, expr) = if matches!(a, Sort::Quantity(_)) { (&b, right) } else { (&a, left) };
                let what = self.describe(wrong);
                let problem = Problem::error(format!("`{}` works on numbers, and this is {what}", operator.sign()), expr.span, what);
                return self.refuse(problem.also(sign, "this operator"));
            }
        };
        let is_point = |dim: Option<Dim>| dim.is_some_and(Dim::is_point);
        if !equal && !ordered && (is_point(left_dim) || is_point(right_dim)) {
            return self.with_temperatures(operator, sign, (left, left_dim), (right, right_dim));
        }
        match operator {
            Binary::Multiply => Sort::Quantity(left_dim.zip(right_dim).and_then(|(a, b)| a.checked_times(b))),
            Binary::Divide => Sort::Quantity(left_dim.zip(right_dim).and_then(|(a, b)| a.checked_over(b))),
            Binary::Power => self.power(left_dim, right_dim, right, sign),
            _ => {
                if left_dim.zip(right_dim).is_some_and(|(a, b)| a != b) {
                    let verb = match operator {
                        Binary::Add => "be added",
                        Binary::Subtract => "be subtracted",
                        _ => "be compared",
                    };
                    self.unlike(verb, sign, (left, &a), (right, &b));
                    // Which of both was meant is not known: what it meets says no more.
                    return if equal || ordered { Sort::Flag } else { Sort::Unknown };
                }
                if equal || ordered { Sort::Flag } else { Sort::Quantity(left_dim.or(right_dim)) }
            }
        }
    }

    fn unlike(&mut self, verb: &str, sign: Span, (left, a): (&Expr, &Sort), (right, b): (&Expr, &Sort)) {
        let (a, b) = (self.describe(a), self.describe(b));
        let problem = Problem::error(format!("{a} and {b} cannot {verb}"), sign, "this operator").also(left.span, a).also(right.span, b);
        self.refuse(problem.help("both sides have to be of one sort"));
    }

    /// A temperature is moved by a difference, and two of them differ by one; nothing else can be done with it.
    fn with_temperatures(&mut self, operator: Binary, sign: Span, left: (&Expr, Option<Dim>), right: (&Expr, Option<Dim>)) -> Sort {
        const POINT: Dim = Dim::TEMPERATURE;
        const DIFFERENCE: Dim = Dim::TEMPERATURE_DIFFERENCE;
        let ((left, Some(a)), (right, Some(b))) = (left, right) else { return Sort::Quantity(None) };
        match (operator, a, b) {
            (Binary::Add, POINT, DIFFERENCE) | (Binary::Add, DIFFERENCE, POINT) | (Binary::Subtract, POINT, DIFFERENCE) => {
                Sort::Quantity(Some(POINT))
            }
            (Binary::Subtract, POINT, POINT) => Sort::Quantity(Some(DIFFERENCE)),
            _ => {
                let (a, b) = (a.describe(), b.describe());
                let problem = Problem::error(format!("`{}` does not work on {a} and {b}", operator.sign()), sign, "this operator");
                let problem = problem.also(left.span, a).also(right.span, b);
                self.refuse(
                    problem.help("a temperature is a point on its scale; a difference is written in K, or is one temperature less another"),
                )
            }
        }
    }

    fn power(&mut self, base: Option<Dim>, exponent: Option<Dim>, right: &Expr, sign: Span) -> Sort {
        if let Some(dim) = exponent.filter(|dim| !dim.is_number()) {
            return self.refuse(Problem::error("an exponent is a plain number", right.span, dim.describe()).also(sign, "this operator"));
        }
        Sort::Quantity(match (base, whole(right)) {
            (Some(base), _) if base.is_number() => Some(Dim::NUMBER),
            (Some(base), Some(whole)) => base.power(whole),
            _ => None,
        })
    }

    /// Beside a choice a bare word is one of its words; that it has that word is settled with the names.
    fn both_sides(&mut self, left: &Expr, right: &Expr, around: &mut Surroundings) -> (Sort, Sort) {
        let design = self.design;
        let is_word = |expr: &Expr, around: &Surroundings| design.may_be_choice(expr, |word| around.is_bound(word));
        let (word, other) = match (is_word(left, around), is_word(right, around)) {
            (true, false) => (left, right),
            (false, true) => (right, left),
            _ => return (self.sort(left, around), self.sort(right, around)),
        };
        let other_sort = self.sort(other, around);
        let word_sort = if other_sort == Sort::Word { Sort::Word } else { self.sort(word, around) };
        (word_sort, other_sort)
    }
}

/// A whole number that is written as one.
fn whole(expr: &Expr) -> Option<i32> {
    let Node::Quantity(parts) = &expr.node else { return None };
    match parts.as_slice() {
        [Part { number, unit: None, .. }] if number.worth().fract() == 0.0 && number.worth().abs() <= 20.0 => {
            #[expect(clippy::cast_possible_truncation, reason = "a whole number up to 20, as just asked")]
            let whole = number.worth() as i32;
            Some(whole)
        }
        _ => None,
    }
}
