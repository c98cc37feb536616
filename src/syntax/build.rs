//! From the grammar's pairs to the syntax tree.
//!
//! In: one top-level statement of the masked text, with its offset in the file. Out: an [`Item`] and
//! what is wrong with the lines that could not be read.

use super::DEEPEST_NESTING;
use super::explain;
use super::grammar::{Grammar, Rule};
use super::tree::{
    Accept, Argument, Binary, Binder, Change, Changes, Component, Date, Expr, Item, Kind, Let, Line, Measured, Node, Part, Piece, Property,
    PropertyType, Text, Unary, Use, Variant, Word,
};
use crate::problem::Problem;
use crate::text::{FileId, Span};
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

/// Builds the tree of one file, statement by statement.
pub struct Builder<'t> {
    /// The file.
    pub file: FileId,
    /// The text as written, for messages.
    pub text: &'t str,
    /// The text that the grammar sees.
    pub masked: &'t str,
    /// Offset of the statement being built.
    pub base: usize,
    /// Offset of its end; braces that it lacks are put in past it, where no place may lie.
    pub end: usize,
    /// What went wrong so far.
    pub problems: Vec<Problem>,
}

type Children<'p> = std::iter::Filter<Pairs<'p, Rule>, fn(&Pair<'p, Rule>) -> bool>;

/// What stands in a production, without the keywords that hold it together.
fn inside<'p>(pair: &Pair<'p, Rule>) -> Children<'p> {
    pair.clone().into_inner().filter(|pair| {
        !matches!(
            pair.as_rule(),
            Rule::use_kw
                | Rule::let_kw
                | Rule::like_kw
                | Rule::in_kw
                | Rule::for_kw
                | Rule::where_kw
                | Rule::to_kw
                | Rule::by_kw
                | Rule::of_kw
                | Rule::one_kw
                | Rule::list_kw
                | Rule::range_kw
                | Rule::size_kw
                | Rule::if_kw
                | Rule::then_kw
                | Rule::else_kw
                | Rule::kind_kw
                | Rule::rule_kw
                | Rule::each_kw
                | Rule::pattern_kw
                | Rule::variant_kw
                | Rule::measured_kw
                | Rule::accept_kw
                | Rule::default_kw
                | Rule::assumed_kw
                | Rule::because_kw
                | Rule::source_kw
                | Rule::carrying_kw
        )
    })
}

impl Builder<'_> {
    fn span_of(&self, pair: &Pair<'_, Rule>) -> Span {
        let inner = pair.as_span();
        self.span(inner.start(), inner.end())
    }

    fn span(&self, start: usize, end: usize) -> Span {
        let at = |offset: usize| u32::try_from((self.base + offset).min(self.end)).unwrap_or(u32::MAX);
        Span { file: self.file, start: at(start), end: at(end) }
    }

    fn word(&self, pair: &Pair<'_, Rule>) -> Word {
        Word { text: SmolStr::new(pair.as_str()), span: self.span_of(pair) }
    }

    fn quoted(&self, pair: &Pair<'_, Rule>) -> Text {
        let inside = pair.as_str().trim_start_matches('"');
        let inside = inside.strip_suffix('"').unwrap_or(inside);
        let text = if inside.contains('\\') { inside.replace("\\\"", "\"").replace("\\\\", "\\") } else { inside.to_owned() };
        Word { text: SmolStr::new(text), span: self.span_of(pair) }
    }

    /// Reads one statement of the masked text; `unclosed` braces are closed for it at its end.
    pub fn statement(&mut self, range: std::ops::Range<usize>, unclosed: usize) -> Item {
        (self.base, self.end) = (range.start, range.end);
        let piece = self.masked.get(range.clone()).unwrap_or_default();
        let closed;
        let piece = if unclosed == 0 {
            piece
        } else {
            closed = format!("{piece}{}", "}".repeat(unclosed));
            &closed
        };
        let whole = self.span(0, piece.trim_end().len() - unclosed);
        match Grammar::parse(Rule::statement, piece) {
            Ok(mut pairs) => match pairs.next().and_then(|pair| inside(&pair).next()) {
                Some(pair) => self.item(pair, whole),
                None => Item::Broken(whole),
            },
            Err(_) => {
                self.explain(Rule::only_header, 0, header_of(piece));
                Item::Broken(whole)
            }
        }
    }

    fn explain(&mut self, strict: Rule, offset: usize, slice: &str) {
        let length = self.end.saturating_sub(self.base + offset);
        let trimmed = slice.get(..length).unwrap_or(slice).trim_end();
        let at = u32::try_from(self.base + offset).unwrap_or(0);
        let written = self.text.get(self.base + offset..self.base + offset + trimmed.len()).unwrap_or(trimmed);
        self.problems.push(explain::broken(strict, trimmed, written, self.file, at));
    }

    fn item(&mut self, pair: Pair<'_, Rule>, whole: Span) -> Item {
        let rule = pair.as_rule();
        let span = Span { end: whole.end, ..self.span_of(&pair) };
        let mut inner = inside(&pair);
        let item = match rule {
            Rule::use_line => inner.next().map(|target| {
                let is_file = target.as_rule() == Rule::text;
                let target = if is_file { self.quoted(&target) } else { self.word(&target) };
                Item::Use(Use { span, target, is_file })
            }),
            Rule::let_line => self.let_line(inner).map(Item::Let),
            Rule::component => self.component(inner, span).map(Item::Component),
            Rule::pattern => self.component(inner, span).map(Item::Pattern),
            Rule::variant => self.variant(inner, span),
            Rule::measured => self.measured(inner, span),
            Rule::accept => self.accept(inner, span),
            Rule::kind => self.kind(inner, span),
            Rule::rule_block => self.rule(inner, span),
            Rule::broken_statement => {
                self.broken_statement(inner);
                None
            }
            _ => None,
        };
        item.unwrap_or(Item::Broken(whole))
    }

    fn broken_statement(&mut self, inner: Children<'_>) {
        for pair in inner {
            match pair.as_rule() {
                Rule::broken_header => {
                    let start = pair.as_span().start();
                    self.explain(Rule::only_header, start, pair.as_str());
                }
                Rule::body => {
                    self.lines(inside(&pair));
                }
                _ => {}
            }
        }
    }

    fn let_line(&mut self, mut inner: Children<'_>) -> Option<Let> {
        let name = self.word(&inner.next()?);
        let value = self.value(inner.next()?);
        let span = Span { start: name.span.start.saturating_sub(4), ..name.span }.to(value.span);
        Some(Let { span, name, value: Arc::new(value) })
    }

    fn component(&mut self, inner: Children<'_>, span: Span) -> Option<Component> {
        let (mut kind, mut name, mut like) = (None, None, None);
        let (mut elements, mut title, mut lines) = (None, None, Vec::new());
        for pair in inner {
            match pair.as_rule() {
                Rule::word => kind = Some(self.word(&pair)),
                Rule::name => name = Some(self.word(&pair)),
                Rule::elements => elements = self.elements(&pair),
                Rule::text => title = Some(self.quoted(&pair)),
                Rule::like => like = inside(&pair).next().map(|pattern| self.word(&pattern)),
                Rule::body => lines = self.lines(inside(&pair)),
                _ => {}
            }
        }
        Some(Component { span, kind: kind?, name, elements, title, like, lines })
    }

    fn elements(&mut self, pair: &Pair<'_, Rule>) -> Option<(u32, u32, Span)> {
        let span = self.span_of(pair);
        let mut numbers = inside(&pair).map(|digits| digits.as_str().parse::<u32>());
        match (numbers.next(), numbers.next()) {
            (Some(Ok(first)), Some(Ok(last))) => Some((first, last, span)),
            _ => {
                self.problems.push(
                    Problem::error("an element's number is too large", span, "here")
                        .help("write the first and the last element's number, like [1..4]"),
                );
                None
            }
        }
    }

    fn lines(&mut self, entries: Children<'_>) -> Vec<Line> {
        let mut lines = Vec::new();
        for pair in entries {
            match pair.as_rule() {
                Rule::line => lines.extend(self.line(pair)),
                Rule::broken_line => self.explain(Rule::only_line, pair.as_span().start(), pair.as_str()),
                _ => {}
            }
        }
        lines
    }

    fn line(&mut self, pair: Pair<'_, Rule>) -> Option<Line> {
        let mut inner = inside(&pair);
        let name = self.word(&inner.next()?);
        let value = self.value(inner.next()?);
        Some(Line { span: name.span.to(value.span), name, value: Arc::new(value) })
    }

    fn changes(&mut self, entries: Children<'_>) -> Changes {
        let mut changes = Changes::default();
        for pair in entries {
            match pair.as_rule() {
                Rule::change => changes.components.extend(self.change(pair)),
                Rule::let_line => changes.lets.extend(self.let_line(inside(&pair))),
                Rule::broken_line => self.explain(Rule::only_change, pair.as_span().start(), pair.as_str()),
                _ => {}
            }
        }
        changes
    }

    fn change(&mut self, pair: Pair<'_, Rule>) -> Option<Change> {
        let span = self.span_of(&pair);
        let (mut name, mut element, mut lines) = (None, None, Vec::new());
        for pair in inside(&pair) {
            match pair.as_rule() {
                Rule::name => name = Some(self.word(&pair)),
                Rule::digits_token => element = pair.as_str().parse().ok(),
                Rule::body => lines = self.lines(inside(&pair)),
                _ => {}
            }
        }
        Some(Change { span, name: name?, element, lines })
    }

    fn variant(&mut self, inner: Children<'_>, span: Span) -> Option<Item> {
        let (mut name, mut title, mut changes) = (None, None, Changes::default());
        for pair in inner {
            match pair.as_rule() {
                Rule::name => name = Some(self.word(&pair)),
                Rule::text => title = Some(self.quoted(&pair)),
                Rule::changes => changes = self.changes(inside(&pair)),
                _ => {}
            }
        }
        Some(Item::Variant(Variant { span, name: name?, title, changes }))
    }

    fn measured(&mut self, inner: Children<'_>, span: Span) -> Option<Item> {
        let (mut date, mut title, mut changes) = (None, None, Changes::default());
        for pair in inner {
            match pair.as_rule() {
                Rule::date => date = self.date(&pair).map(|date| (date, self.span_of(&pair))),
                Rule::text => title = Some(self.quoted(&pair)),
                Rule::changes => changes = self.changes(inside(&pair)),
                _ => {}
            }
        }
        let (date, date_span) = date?;
        Some(Item::Measured(Measured { span, date, date_span, title, changes }))
    }

    fn accept(&mut self, inner: Children<'_>, span: Span) -> Option<Item> {
        let (mut rule, mut lines) = (None, Vec::new());
        for pair in inner {
            match pair.as_rule() {
                Rule::path => rule = Some(self.word(&pair)),
                Rule::body => lines = self.lines(inside(&pair)),
                _ => {}
            }
        }
        Some(Item::Accept(Accept { span, rule: rule?, lines }))
    }

    fn kind(&mut self, inner: Children<'_>, span: Span) -> Option<Item> {
        let (mut name, mut title, mut facts, mut properties) = (None, None, Vec::new(), Vec::new());
        for pair in inner {
            match pair.as_rule() {
                Rule::name => name = Some(self.word(&pair)),
                Rule::text => title = Some(self.quoted(&pair)),
                Rule::kind_body => {
                    for entry in inside(&pair) {
                        match entry.as_rule() {
                            Rule::kind_fact => facts.extend(self.line(entry)),
                            Rule::property => properties.extend(self.property(entry)),
                            Rule::broken_line => {
                                self.explain(Rule::only_property, entry.as_span().start(), entry.as_str());
                            }
                            _ => {}
                        }
                    }
                }
                _ => {}
            }
        }
        Some(Item::Kind(Kind { span, name: name?, title, facts, properties }))
    }

    fn property(&mut self, pair: Pair<'_, Rule>) -> Option<Property> {
        let span = self.span_of(&pair);
        let mut inner = inside(&pair);
        let name = self.word(&inner.next()?);
        let ty = self.property_type(inside(&inner.next()?).next()?)?;
        let mut property = Property {
            span,
            name,
            ty,
            required: false,
            default: None,
            assumed: None,
            carrying: Vec::new(),
            bounds: Vec::new(),
            doc: None,
            source: None,
        };
        for clause in inner.filter_map(|clause| inside(&clause).next()) {
            let rule = clause.as_rule();
            let mut parts = inside(&clause);
            match rule {
                Rule::required => property.required = true,
                Rule::text => property.doc = Some(self.quoted(&clause)),
                Rule::default => property.default = parts.next().map(|item| Arc::new(self.item_value(item))),
                Rule::assumed => {
                    property.default = parts.next().map(|item| Arc::new(self.item_value(item)));
                    property.assumed = parts.next().and_then(|because| inside(&because).next()).map(|text| self.quoted(&text));
                }
                Rule::source => property.source = parts.next().map(|text| self.quoted(&text)),
                Rule::carrying => property.carrying = parts.map(|word| self.word(&word)).collect(),
                Rule::bound => {
                    if let (Some(word), Some(limit)) = (parts.next(), parts.next()) {
                        let word = self.word(&word);
                        property.bounds.push((word, Arc::new(self.item_value(limit))));
                    }
                }
                _ => {}
            }
        }
        Some(property)
    }

    fn property_type(&self, pair: Pair<'_, Rule>) -> Option<PropertyType> {
        let rule = pair.as_rule();
        let mut inner = inside(&pair);
        Some(match rule {
            Rule::link_type => {
                let many = inner.next()?.as_rule() == Rule::links_kw;
                PropertyType::Link { many, kinds: inner.map(|name| self.word(&name)).collect() }
            }
            Rule::one_of => PropertyType::OneOf(inner.map(|word| self.word(&word)).collect()),
            Rule::list_of => PropertyType::ListOf(self.word(&inner.next()?)),
            Rule::range_of => PropertyType::RangeOf(self.word(&inner.next()?)),
            Rule::size_of => PropertyType::SizeOf(self.word(&inner.next()?)),
            _ => PropertyType::Plain(self.word(&inner.next()?)),
        })
    }

    fn rule(&mut self, inner: Children<'_>, span: Span) -> Option<Item> {
        let (mut name, mut title, mut each, mut lines) = (None, None, Vec::new(), Vec::new());
        for pair in inner {
            match pair.as_rule() {
                Rule::path => name = Some(self.word(&pair)),
                Rule::text => title = Some(self.quoted(&pair)),
                Rule::rule_body => {
                    for entry in inside(&pair) {
                        match entry.as_rule() {
                            Rule::each_line => {
                                for binder in inside(&entry) {
                                    each.extend(self.binder(binder));
                                }
                            }
                            Rule::line => lines.extend(self.line(entry).map(|line| self.with_template(line))),
                            Rule::broken_line => {
                                self.explain(Rule::only_rule_line, entry.as_span().start(), entry.as_str());
                            }
                            _ => {}
                        }
                    }
                }
                _ => {}
            }
        }
        Some(Item::Rule(super::tree::Rule { span, name: name?, title, each, lines }))
    }

    /// The words of a rule that people read may hold expressions in braces.
    fn with_template(&mut self, line: Line) -> Line {
        if !matches!(line.name.text.as_str(), "says" | "help") {
            return line;
        }
        let value = self.templated(&line.value);
        Line { value: Arc::new(value), ..line }
    }

    /// The texts of an expression, also those between which it chooses, with their braces read.
    fn templated(&mut self, expr: &Expr) -> Expr {
        let node = match &expr.node {
            Node::Text(text) => self.template(text, expr.span),
            Node::If(condition, a, b) => Node::If(condition.clone(), Box::new(self.templated(a)), Box::new(self.templated(b))),
            other => other.clone(),
        };
        Expr { span: expr.span, node }
    }

    fn template(&mut self, text: &str, span: Span) -> Node {
        let mut pieces = Vec::new();
        let mut rest = text;
        // Offsets count from the opening quote; a text with escapes before a brace points a little early.
        let mut at = 1_usize;
        while let Some(open) = rest.find('{') {
            let (before, after) = rest.split_at(open);
            if !before.is_empty() {
                pieces.push(Piece::Text(SmolStr::new(before)));
            }
            let Some(close) = after.find('}') else {
                self.problems.push(
                    Problem::error("`{` in this text is never closed by `}`", span, "this text")
                        .help("an expression in a text stands in braces: `{s.station}`"),
                );
                return Node::Template(pieces);
            };
            let inside = after.get(1..close).unwrap_or_default();
            let base = span.start as usize + at + open + 1;
            let outer = std::mem::replace(&mut self.base, base);
            match Grammar::parse(Rule::shown, inside) {
                Ok(pairs) => pieces.extend(self.shown(pairs).map(Piece::Value)),
                Err(_) => self.explain(Rule::shown, 0, inside),
            }
            self.base = outer;
            at += open + close + 1;
            rest = after.get(close + 1..).unwrap_or_default();
        }
        if !rest.is_empty() {
            pieces.push(Piece::Text(SmolStr::new(rest)));
        }
        Node::Template(pieces)
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

    fn binder(&mut self, pair: Pair<'_, Rule>) -> Option<Binder> {
        let mut inner = inside(&pair);
        let name = self.word(&inner.next()?);
        let source = self.expression(inner.next()?);
        let condition = inner.next().map(|pair| self.expression(pair));
        let span = name.span.to(condition.as_ref().map_or(source.span, |condition| condition.span));
        Some(Binder { span, name, source: Arc::new(source), condition: condition.map(Arc::new) })
    }

    fn value(&mut self, pair: Pair<'_, Rule>) -> Expr {
        let mut items: Vec<Expr> = inside(&pair).map(|item| self.item_value(item)).collect();
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

    fn item_value(&mut self, pair: Pair<'_, Rule>) -> Expr {
        let text = pair.as_str().to_owned();
        let mut parts: Vec<Expr> = inside(&pair).map(|part| self.toleranced(part)).collect();
        if parts.len() < 2 {
            return parts.pop().unwrap_or(Expr { span: Span::default(), node: Node::List(Vec::new()) });
        }
        let span = parts.iter().map(|part| part.span).reduce(Span::to).unwrap_or_default();
        let first_end = (parts.first().map_or(0, |first| first.span.end - span.start)) as usize;
        let joined_by_to = text.get(first_end..).is_some_and(|rest| rest.trim_start().starts_with("to"));
        let node = match (joined_by_to, parts.as_slice()) {
            (true, [from, to]) => Node::Range(Box::new(from.clone()), Box::new(to.clone())),
            _ => Node::Size(parts),
        };
        Expr { span, node }
    }

    fn toleranced(&mut self, pair: Pair<'_, Rule>) -> Expr {
        let mut inner = inside(&pair);
        let Some(value) = inner.next().map(|pair| self.expression(pair)) else {
            return Expr { span: Span::default(), node: Node::List(Vec::new()) };
        };
        let Some(tolerance) = inner.next().and_then(|tolerance| inside(&tolerance).next()) else {
            return value;
        };
        let (down, up) = if tolerance.as_rule() == Rule::signed_pair {
            let mut pair = inside(&tolerance).map(|quantity| self.primary(quantity));
            let up = pair.next();
            (pair.next(), up)
        } else {
            (None, Some(self.expression(tolerance)))
        };
        let Some(up) = up else { return value };
        let span = value.span.to(down.as_ref().map_or(up.span, |down| down.span));
        Expr { span, node: Node::Tolerance { value: Box::new(value), down: down.map(Box::new), up: Box::new(up) } }
    }

    fn expression(&mut self, pair: Pair<'_, Rule>) -> Expr {
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
            .parse(inside(&pair))
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
            Some(item) => Node::Index(Box::new(operand), Box::new(self.item_value(item))),
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
            Rule::list => list(span, inside(&pair).map(|item| self.item_value(item)).collect()).node,
            Rule::group => match inside(&pair).next() {
                Some(item) => self.item_value(item).node,
                None => Node::List(Vec::new()),
            },
            Rule::choice_of_two => {
                let mut branches = inside(&pair).map(|branch| self.expression(branch));
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
                (Rule::number, _) => parts.push(Part { number: number(token.as_str()), unit: None, span }),
                _ => {}
            }
        }
        parts
    }

    fn date(&mut self, pair: &Pair<'_, Rule>) -> Option<Date> {
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
                _ => value = Some(self.item_value(pair)),
            }
        }
        Some(Argument { name, value: value? })
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

/// `3-1/2`, `5/8`, `4.72`, `1e-6`: what the grammar lets through is always a number.
fn number(text: &str) -> f64 {
    let quotient = |text: &str| {
        let (above, below) = text.split_once('/')?;
        Some(above.parse::<f64>().ok()? / below.parse::<f64>().ok()?)
    };
    let mixed = |text: &str| {
        let (whole, part) = text.split_once('-')?;
        Some(whole.parse::<f64>().ok()? + quotient(part)?)
    };
    text.parse().ok().or_else(|| quotient(text)).or_else(|| mixed(text)).unwrap_or(f64::NAN)
}

fn header_of(piece: &str) -> &str {
    let end = piece.find(['{', '\n', '\r']).unwrap_or(piece.len());
    piece.get(..end).unwrap_or(piece)
}
