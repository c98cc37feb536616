//! From the grammar's pairs to expressions: values, templates, operators by precedence, calls.

use super::build::{Builder, Children, Form, NoTolerance, inside};
use super::grammar::{Grammar, Rule};
use super::number::Number;
use super::reading::DEEPEST_NESTING;
use super::tree::{Argument, Binary, Binder, Date, Expr, Line, Node, Part, TemplatePart, Unary};
use crate::problem::Problem;
use crate::text::Span;
use pest::Parser;
use pest::iterators::{Pair, Pairs};
use pest::pratt_parser::{Assoc, Op, PrattParser};
use smol_str::SmolStr;
use std::sync::{Arc, LazyLock};

static PRECEDENCE: LazyLock<PrattParser<Rule>> = LazyLock::new(|| {
    PrattParser::new()
        .op(Op::infix(Rule::or, Assoc::Left))
        .op(Op::infix(Rule::and, Assoc::Left))
        .op(Op::prefix(Rule::not))
        .op(Op::infix(Rule::eq, Assoc::Left)
            | Op::infix(Rule::ne, Assoc::Left)
            | Op::infix(Rule::lt, Assoc::Left)
            | Op::infix(Rule::le, Assoc::Left)
            | Op::infix(Rule::gt, Assoc::Left)
            | Op::infix(Rule::ge, Assoc::Left))
        .op(Op::infix(Rule::add, Assoc::Left) | Op::infix(Rule::sub, Assoc::Left))
        .op(Op::infix(Rule::mul, Assoc::Left) | Op::infix(Rule::div, Assoc::Left))
        .op(Op::prefix(Rule::neg))
        .op(Op::infix(Rule::pow, Assoc::Right))
        .op(Op::postfix(Rule::field) | Op::postfix(Rule::index))
});

impl Builder<'_> {
    /// The words of a rule that people read may hold expressions in braces.
    pub(super) fn with_template(&mut self, line: Line, form: Form) -> Line {
        let is_told = match (form, line.name.text.as_str()) {
            (_, "source" | "caution" | "note") => false,
            (Form::Paper, _) | (Form::Rule, "says" | "otherwise" | "help") => true,
            (Form::Rule, _) => false,
        };
        if !is_told {
            return line;
        }
        let value = self.untoleranced(NoTolerance::Judged, |this| this.templated(&line.value));
        Line { value: Arc::new(value), ..line }
    }

    /// The texts of an expression, also those between which it chooses and those it lists, with their braces read.
    fn templated(&mut self, expr: &Expr) -> Expr {
        let node = match &expr.node {
            Node::Text(text) => self.template(text, expr.span),
            Node::If(condition, a, b) => Node::If(condition.clone(), Box::new(self.templated(a)), Box::new(self.templated(b))),
            Node::List(items) => Node::List(items.iter().map(|item| self.templated(item)).collect()),
            Node::Aggregate { name, value, binders } => {
                Node::Aggregate { name: name.clone(), value: Box::new(self.templated(value)), binders: binders.clone() }
            }
            other => other.clone(),
        };
        Expr { span: expr.span, node }
    }

    fn template(&mut self, text: &str, span: Span) -> Node {
        let mut pieces = Vec::new();
        let (first, escapes) = self.unescaped(span);
        let mut rest = text;
        while let Some(open) = rest.find('{') {
            let (before, after) = rest.split_at(open);
            if !before.is_empty() {
                pieces.push(TemplatePart::Text(SmolStr::new(before)));
            }
            let Some(close) = after.find('}') else {
                self.problems.push(
                    Problem::error("`{` in this text is never closed by `}`", span, "this text")
                        .help("an expression in a text stands in braces: `{s.station}`"),
                );
                return Node::Template(pieces);
            };
            let inside = after.get(1..close).unwrap_or_default();
            let start = text.len() - after.len() + 1;
            let gone = escapes.partition_point(|escape| *escape < start);
            let base = std::mem::replace(&mut self.base, first + start + gone);
            self.escapes = escapes.iter().skip(gone).map(|escape| escape - start).collect();
            match Grammar::parse(Rule::shown, inside) {
                Ok(pairs) => pieces.extend(self.shown(pairs).map(TemplatePart::Value)),
                Err(_) => self.explain_template(inside),
            }
            self.base = base;
            self.escapes.clear();
            rest = after.get(close + 1..).unwrap_or_default();
        }
        if !rest.is_empty() {
            pieces.push(TemplatePart::Text(SmolStr::new(rest)));
        }
        Node::Template(pieces)
    }

    /// Where what stands in quotes begins, and before which bytes of it a `\` was taken out. Brackets may stand around.
    fn unescaped(&self, span: Span) -> (usize, Vec<usize>) {
        let (start, end) = (span.start as usize, span.end as usize);
        let first = self.masked.get(start..end).and_then(|written| written.find('"')).map_or(start, |quote| start + quote + 1);
        let mut bytes = self.masked.as_bytes().get(first..end).unwrap_or_default().iter().peekable();
        let (mut escapes, mut at) = (Vec::new(), 0);
        while let Some(byte) = bytes.next() {
            if *byte == b'"' {
                // From one piece of the text to the next: the quotes and the `+` between them.
                let gone = 1 + bytes.by_ref().take_while(|byte| **byte != b'"').count() + 1;
                escapes.extend(std::iter::repeat_n(at, gone));
                continue;
            }
            if *byte == b'\\' && bytes.next_if(|next| matches!(next, b'"' | b'\\')).is_some() {
                escapes.push(at);
            }
            at += 1;
        }
        (first, escapes)
    }

    /// An expression alone, perhaps with the unit to show it in.
    pub fn shown(&mut self, mut pairs: Pairs<'_, Rule>) -> Option<Expr> {
        let mut value: Option<Expr> = None;
        for pair in inside(&pairs.next()?) {
            match (pair.as_rule(), value.take()) {
                (Rule::item, _) => value = Some(self.item_value(pair)),
                (Rule::unit, Some(expr)) => {
                    let unit = self.word(&pair);
                    value = Some(Expr { span: expr.span.to(unit.span), node: Node::In(Box::new(expr), unit) });
                }
                (_, kept) => value = kept,
            }
        }
        value
    }

    pub(super) fn binder(&mut self, pair: Pair<'_, Rule>) -> Option<Binder> {
        let mut inner = inside(&pair);
        let name = self.word(&inner.next()?);
        let source = inner.next()?;
        let source = self.untoleranced(NoTolerance::Inside, |this| this.expression(source));
        let condition = inner.next().map(|pair| self.untoleranced(NoTolerance::Inside, |this| this.expression(pair)));
        let span = name.span.to(condition.as_ref().map_or(source.span, |condition| condition.span));
        Some(Binder { span, name, source: Arc::new(source), condition: condition.map(Arc::new) })
    }

    pub(super) fn value(&mut self, pair: Pair<'_, Rule>) -> Expr {
        let mut items = self.items(&pair);
        match (items.len(), items.pop()) {
            (1, Some(only)) => only,
            (_, Some(last)) => {
                items.push(last);
                // The pair goes on over the blanks behind the last item, which may hold a comment.
                list(Span::default(), items)
            }
            (_, None) => Expr { span: self.span_of(&pair), node: Node::List(Vec::new()) },
        }
    }

    /// The items of a list.
    fn items(&mut self, pair: &Pair<'_, Rule>) -> Vec<Expr> {
        let mut items: Vec<Expr> = Vec::new();
        for item in inside(pair) {
            let mut item = self.item_value(item);
            let whole = items.last().and_then(bare_number).filter(|whole| whole.span.end + 1 == item.span.start).cloned();
            if let Some(whole) = whole
                && let start = item.span.start
                && let Some(part) = leading_part(&mut item).filter(|part| part.unit.is_some() && part.span.start == start)
            {
                // `4,72 m` would be a list of 4 and 72 m, and nobody means it: told, and read on as 4.72 m.
                let (comma, all) = (Span { end: part.span.start, ..whole.span.after() }, whole.span.to(part.span));
                let digits = |span: Span| self.text.get(span.start as usize..span.end as usize).unwrap_or_default();
                let behind: String = digits(part.span).chars().take_while(char::is_ascii_digit).collect();
                let sign = if items.last().is_some_and(|whole| matches!(whole.node, Node::Unary(..))) { "-" } else { "" };
                part.number = Number::read(&format!("{sign}{}.{behind}", digits(whole.span)));
                part.span = all;
                item.span = whole.span.to(item.span);
                items.pop();
                let problem = Problem::error("a comma makes a list, and this is one number", all, "two values");
                self.problems.push(if behind.len() == 3 {
                    let (thousands, decimals) = (format!("{}{behind}", digits(whole.span)), format!("{}.{behind}", digits(whole.span)));
                    problem
                        .help(format!("is it `{thousands}`, or `{decimals}`? Thousands have no mark, and decimals a point"))
                        .mend(format!("write `{thousands}`"), comma, "")
                        .mend(format!("write `{decimals}`"), comma, ".")
                } else {
                    problem.help("write the decimal point as `.`: `4.72 m`").mend("write `.`", comma, ".")
                });
            }
            items.push(item);
        }
        items
    }

    pub(super) fn item_value(&mut self, pair: Pair<'_, Rule>) -> Expr {
        let mut value: Option<Expr> = None;
        let mut others: Vec<Expr> = Vec::new();
        let mut is_range = false;
        for child in pair.into_inner() {
            match child.as_rule() {
                Rule::expression => {
                    let part = self.expression(child);
                    if value.is_none() { value = Some(part) } else { others.push(part) }
                }
                Rule::tolerance => {
                    let place = others.last_mut().or(value.as_mut());
                    if let Some(nominal) = place {
                        self.tolerance(nominal, &child);
                    }
                }
                rule => is_range |= rule == Rule::to_kw,
            }
        }
        let Some(first) = value else { return Expr { span: Span::default(), node: Node::List(Vec::new()) } };
        match (others.pop(), is_range) {
            (None, _) => first,
            (Some(last), true) => Expr { span: first.span.to(last.span), node: Node::Range(Box::new(first), Box::new(last)) },
            (Some(last), false) => {
                let span = first.span.to(last.span);
                others.insert(0, first);
                others.push(last);
                Expr { span, node: Node::Size(others) }
            }
        }
    }

    /// Puts its tolerance to a value.
    fn tolerance(&mut self, nominal: &mut Expr, pair: &Pair<'_, Rule>) {
        let Some(tolerance) = inside(pair).next() else { return };
        let (down, up) = if tolerance.as_rule() == Rule::signed_pair {
            let mut pair = inside(&tolerance).map(|quantity| self.primary(quantity));
            let up = pair.next();
            (pair.next(), up)
        } else {
            (None, Some(self.expression(tolerance)))
        };
        let Some(up) = up else { return };
        let span = nominal.span.to(down.as_ref().map_or(up.span, |down| down.span));
        if let Some(problem) = self.no_tolerance.map(|why| misplaced(why, span)).or_else(|| of_several(&up)) {
            self.problems.push(problem);
            return;
        }
        let value = std::mem::replace(nominal, Expr { span, node: Node::Flag(false) });
        nominal.node = Node::Tolerance { value: Box::new(value), down: down.map(Box::new), up: Box::new(up) };
    }

    /// Reads with `read` what may hold no tolerance.
    pub(super) fn untoleranced<T>(&mut self, why: NoTolerance, read: impl FnOnce(&mut Self) -> T) -> T {
        let before = self.no_tolerance;
        self.no_tolerance = before.or(Some(why));
        let done = read(self);
        self.no_tolerance = before;
        done
    }

    pub(super) fn expression(&mut self, pair: Pair<'_, Rule>) -> Expr {
        let mut parts = pair.into_inner();
        // Most values are one name or one number.
        if parts.len() == 1
            && let Some(only) = parts.next()
        {
            return self.primary(only);
        }
        self.untoleranced(NoTolerance::Inside, |this| this.operators(parts))
    }

    fn operators(&mut self, parts: Pairs<'_, Rule>) -> Expr {
        let this = std::cell::RefCell::new(self);
        PRECEDENCE
            .map_primary(|primary| this.borrow_mut().primary(primary))
            .map_prefix(|operator, operand| {
                let span = this.borrow().span_of(&operator).to(operand.span);
                let unary = if operator.as_rule() == Rule::not { Unary::Not } else { Unary::Negate };
                Expr { span, node: Node::Unary(unary, Box::new(operand)) }
            })
            .map_postfix(|operand, operator| this.borrow_mut().postfix(operand, operator))
            .map_infix(|left, operator, right| {
                let sign = this.borrow().span_of(&operator);
                let span = left.span.to(right.span);
                Expr { span, node: Node::Binary(binary(operator.as_rule()), sign, Box::new(left), Box::new(right)) }
            })
            .parse(parts)
    }

    fn postfix(&mut self, operand: Expr, operator: Pair<'_, Rule>) -> Expr {
        let span = operand.span.to(self.span_of(&operator));
        if chain(&operand) == DEEPEST_NESTING {
            let known = |problem: &Problem| problem.span().start == span.start && problem.message.starts_with("more than");
            if !self.problems.last().is_some_and(known) {
                let message = format!("more than {DEEPEST_NESTING} properties of properties in a row");
                self.problems
                    .push(Problem::error(message, span, "too long a row").help("give the first part of the row a name with `let`"));
            }
            return operand;
        }
        let is_field = operator.as_rule() == Rule::field;
        let node = match inside(&operator).next() {
            Some(word) if is_field => Node::Field(Box::new(operand), self.word(&word)),
            Some(item) => Node::Index(Box::new(operand), Box::new(self.untoleranced(NoTolerance::Inside, |this| this.item_value(item)))),
            None => return operand,
        };
        Expr { span, node }
    }

    fn primary(&mut self, pair: Pair<'_, Rule>) -> Expr {
        let mut span = self.span_of(&pair);
        let rule = pair.as_rule();
        let node = match rule {
            Rule::quantity => {
                let parts = self.parts(inside(&pair));
                span = parts.iter().map(|part| part.span).reduce(Span::to).unwrap_or(span);
                Node::Quantity(parts)
            }
            Rule::date => match self.date(&pair) {
                Some(date) => Node::Date(date),
                None => Node::List(Vec::new()),
            },
            Rule::text => Node::Text(self.quoted(&pair).text),
            Rule::yes | Rule::no => Node::Flag(rule == Rule::yes),
            Rule::list => list(span, self.items(&pair)).node,
            Rule::group => match inside(&pair).next() {
                Some(item) => self.untoleranced(NoTolerance::Inside, |this| this.item_value(item)).node,
                None => Node::List(Vec::new()),
            },
            Rule::choice_of_two => {
                let mut branches = inside(&pair).map(|branch| self.untoleranced(NoTolerance::Inside, |this| this.expression(branch)));
                match (branches.next(), branches.next(), branches.next()) {
                    (Some(a), Some(b), Some(c)) => {
                        span = span.to(c.span);
                        span.end = c.span.end;
                        Node::If(Box::new(a), Box::new(b), Box::new(c))
                    }
                    _ => Node::List(Vec::new()),
                }
            }
            Rule::call => self.call(inside(&pair)),
            _ => Node::Name(SmolStr::new(pair.as_str())),
        };
        Expr { span, node }
    }

    fn parts(&mut self, tokens: Children<'_>) -> Vec<Part> {
        let mut parts: Vec<Part> = Vec::new();
        for token in tokens {
            let span = self.span_of(&token);
            match (token.as_rule(), parts.last_mut()) {
                (Rule::unit, Some(part)) => {
                    part.unit = Some(self.word(&token));
                    part.span = part.span.to(span);
                }
                (Rule::number, _) => parts.push(Part { number: Number::read(token.as_str()), unit: None, span }),
                _ => {}
            }
        }
        parts.shrink_to_fit();
        parts
    }

    pub(super) fn date(&mut self, pair: &Pair<'_, Rule>) -> Option<Date> {
        let mut numbers = pair.as_str().split('-').map(str::parse::<i32>);
        let (year, month, day) = (numbers.next()?.ok()?, numbers.next()?.ok()?, numbers.next()?.ok()?);
        let date = Date::new(year, u8::try_from(month).ok()?, u8::try_from(day).ok()?);
        if date.is_none() {
            let span = self.span_of(pair);
            self.problems.push(
                Problem::error(format!("`{}` is not a day of the calendar", pair.as_str()), span, "this date")
                    .help("a date is written year-month-day: 2027-05-02"),
            );
        }
        date
    }

    fn call(&mut self, inner: Children<'_>) -> Node {
        let (mut name, mut arguments, mut binders) = (None, Vec::new(), Vec::new());
        for pair in inner {
            match pair.as_rule() {
                Rule::call_open => name = inside(&pair).next().map(|pair| self.word(&pair)),
                Rule::argument => arguments.extend(self.argument(pair)),
                Rule::binder => binders.extend(self.binder(pair)),
                _ => {}
            }
        }
        let Some(name) = name else { return Node::List(Vec::new()) };
        if binders.is_empty() {
            return Node::Call(name, arguments);
        }
        match arguments.pop() {
            Some(argument) => Node::Aggregate { name, value: Box::new(argument.value), binders },
            None => Node::List(Vec::new()),
        }
    }

    fn argument(&mut self, pair: Pair<'_, Rule>) -> Option<Argument> {
        let (mut name, mut value) = (None, None);
        for pair in inside(&pair) {
            match pair.as_rule() {
                Rule::argument_name => name = inside(&pair).next().map(|pair| self.word(&pair)),
                _ => value = Some(self.untoleranced(NoTolerance::Inside, |this| this.item_value(pair))),
            }
        }
        Some(Argument { name, value: value? })
    }
}

/// A tolerance that nothing would carry on.
fn misplaced(why: NoTolerance, span: Span) -> Problem {
    match why {
        NoTolerance::Inside => Problem::error("a tolerance stands at the end of a value, and not inside one", span, "inside a value")
            .help("give this number a name with its tolerance, like `let gap 12 mm ± 1 mm`, and calculate with the name"),
        NoTolerance::Judged => Problem::error("a tolerance belongs to a line of the design", span, "no such line")
            .help("write it where the number itself is written: whatever is worked out from there carries it on"),
    }
}

/// `4 m ± 1 mm + 2 mm`: the sum is the tolerance, or is it?
fn of_several(amount: &Expr) -> Option<Problem> {
    let Node::Binary(_, sign, first, _) = &amount.node else { return None };
    // In brackets it begins before its first operand.
    (first.span.start == amount.span.start).then(|| {
        Problem::error("behind `±` stands one number", *sign, "goes on here")
            .help("put in brackets what is one tolerance, `± (1 mm + 2 mm)`; what is added to the value stands before the `±`")
    })
}

/// The number of an expression that is a number without a unit and nothing else.
fn bare_number(expr: &Expr) -> Option<&Part> {
    match &expr.node {
        Node::Quantity(parts) if parts.len() == 1 => parts.first().filter(|part| part.unit.is_none()),
        Node::Unary(Unary::Negate, number) => bare_number(number),
        _ => None,
    }
}

/// The number that an expression begins with.
fn leading_part(expr: &mut Expr) -> Option<&mut Part> {
    match &mut expr.node {
        Node::Quantity(parts) => parts.first_mut(),
        Node::Tolerance { value: first, .. } | Node::Range(first, _) | Node::Binary(_, _, first, _) => leading_part(first),
        Node::Size(parts) => parts.first_mut().and_then(leading_part),
        _ => None,
    }
}

/// How many properties and elements of one another stand in a row.
fn chain(expr: &Expr) -> usize {
    let (mut length, mut at) = (0, expr);
    while let Node::Field(of, _) | Node::Index(of, _) = &at.node {
        (length, at) = (length + 1, of);
    }
    length
}

fn list(span: Span, items: Vec<Expr>) -> Expr {
    let span = match (items.first(), items.last()) {
        (Some(first), Some(last)) if span == Span::default() => first.span.to(last.span),
        (Some(_), Some(last)) => Span { end: span.end.max(last.span.end), ..span },
        _ => span,
    };
    Expr { span, node: Node::List(items) }
}

fn binary(rule: Rule) -> Binary {
    match rule {
        Rule::or => Binary::Or,
        Rule::and => Binary::And,
        Rule::eq => Binary::Equal,
        Rule::ne => Binary::NotEqual,
        Rule::lt => Binary::Less,
        Rule::le => Binary::LessOrEqual,
        Rule::gt => Binary::Greater,
        Rule::ge => Binary::GreaterOrEqual,
        Rule::add => Binary::Add,
        Rule::sub => Binary::Subtract,
        Rule::mul => Binary::Multiply,
        Rule::div => Binary::Divide,
        _ => Binary::Power,
    }
}
