//! Expressions worked out in a scope.

use super::Outcome;
use super::arithmetic::Operation;
use super::due::{self, units_that_would_do};
use super::evaluator::{Evaluator, Scope};
use super::lack::{Lack, Missing};
use super::reads::Question;
use super::spoken;
use super::value::{PARTS_OF_A_SIZE, Quantity, Value};
use crate::calc::explore::Condition;
use crate::design::{Around, ComponentId, Entry, KindId, Meaning, NodeId, refusals};
use crate::problem::Problem;
use crate::syntax::tree::{Binary, Expr, Node, Part, TemplatePart, Unary, Word};
use crate::text::Span;
use crate::units::{self, Dim, System, Unit};
use smol_str::SmolStr;
use std::sync::Arc;

const STACK_RESERVE: usize = 64 * 1024;
const STACK_STEP: usize = 2 * 1024 * 1024;

/// In a text with more mistakes than this no name is offered for one that stands for nothing.
const MOST_OFFERED: usize = 1_000;

impl Evaluator {
    /// Works out an expression.
    ///
    /// # Errors
    /// All that is missing for it, or that it is wrong (which is then among the problems).
    pub fn evaluate(&self, expr: &Expr, scope: &mut Scope) -> Outcome {
        // Below these there is no expression.
        if let Node::Quantity(_) | Node::Name(_) | Node::Flag(_) | Node::Text(_) = expr.node {
            return self.evaluate_here(expr, scope);
        }
        stacker::maybe_grow(STACK_RESERVE, STACK_STEP, || self.evaluate_here(expr, scope))
    }

    fn evaluate_here(&self, expr: &Expr, scope: &mut Scope) -> Outcome {
        match &expr.node {
            Node::Quantity(parts) => self.quantity(parts).map(|quantity| {
                // The library is written in metric units: a reader of feet and inches is shown his own.
                let foreign = expr.span.file.is_built_in() && self.system == System::Us;
                Value::Quantity(if foreign { Quantity { unit: None, ..quantity } } else { quantity })
            }),
            Node::Date(date) => Ok(Value::Date(*date)),
            Node::Text(text) => Ok(Value::Text(text.clone())),
            Node::Template(pieces) => self.template(pieces, scope),
            Node::Flag(flag) => Ok(Value::Flag(*flag)),
            Node::Name(name) => self.name(name, expr.span, scope),
            Node::Field(of, word) => {
                let value = self.evaluate(of, scope)?;
                self.field(&value, word)
            }
            Node::Index(of, at) => self.element(of, at, scope),
            Node::Call(name, arguments) => self.once(expr, scope, |scope| self.call(name, arguments, expr.span, scope)),
            Node::Aggregate { name, value, binders } => self.once(expr, scope, |scope| self.aggregate(name, value, binders, scope)),
            Node::Unary(Unary::Not, of) => Ok(Value::of_condition(self.so(of, scope)?.negated())),
            Node::Unary(Unary::Negate, of) => {
                let value = self.evaluate(of, scope)?;
                self.negated(expr.span, of, value)
            }
            Node::Binary(operator @ (Binary::And | Binary::Or), _, left, right) => self.logic(*operator, left, right, scope),
            Node::Binary(operator @ (Binary::Equal | Binary::NotEqual), sign, left, right) => {
                let (a, b) = self.both_sides(left, right, scope)?;
                self.operate(&Operation { operator: *operator, sign: *sign, left, right }, a, b)
            }
            Node::Binary(operator, sign, left, right) => {
                let (a, b) = both(self.evaluate(left, scope), self.evaluate(right, scope))?;
                self.operate(&Operation { operator: *operator, sign: *sign, left, right }, a, b)
            }
            Node::If(condition, a, b) => {
                let branch = if self.condition(condition, scope)? { a } else { b };
                self.evaluate(branch, scope)
            }
            Node::Range(from, to) => {
                let (a, b) = both(self.evaluate(from, scope), self.evaluate(to, scope))?;
                Ok(Value::Range(Arc::new([self.as_quantity(a, from)?, self.as_quantity(b, to)?])))
            }
            Node::Size(parts) => {
                let values = self.all(parts, scope)?;
                let parts: Result<Vec<Quantity>, Lack> =
                    values.into_iter().zip(parts).map(|(value, part)| self.as_quantity(value, part)).collect();
                Ok(Value::Size(parts?.into()))
            }
            Node::List(items) => Ok(Value::List(self.all(items, scope)?.into())),
            // How far it may be off is asked of the line, when its number is known: `tolerances_in`.
            Node::Tolerance { value, .. } => {
                let nominal = self.evaluate(value, scope)?;
                self.as_quantity(nominal, value).map(Value::Quantity)
            }
            Node::In(value, unit) => self.shown_in(value, unit, scope),
        }
    }

    /// An expression that a rule may have given a name, worked out by `work` where it is not known in this scenario.
    fn once(&self, expr: &Expr, scope: &mut Scope, work: impl FnOnce(&mut Scope) -> Outcome) -> Outcome {
        let Some(number) = scope.once.number_of(expr) else { return work(scope) };
        let scenario = self.scenario_number.get();
        if let Some((outcome, reads)) = scope.once.known(number, scenario) {
            reads.iter().for_each(|node| self.note_read(*node));
            return outcome.clone();
        }
        let (outcome, reads) = self.asking(|| work(scope));
        scope.once.keep(number, scenario, outcome.clone(), reads);
        outcome
    }

    /// All of them, or everything that is missing for any of them.
    fn all(&self, items: &[Expr], scope: &mut Scope) -> Result<Vec<Value>, Lack> {
        let mut values = Vec::with_capacity(items.len());
        let mut lack: Option<Lack> = None;
        for item in items {
            match self.evaluate(item, scope) {
                Ok(value) => values.push(value),
                Err(more) => lack = Some(lack.map_or(more.clone(), |lack| lack.with(more))),
            }
        }
        lack.map_or(Ok(values), Err)
    }

    /// An expression that has to be yes or no.
    ///
    /// # Errors
    /// As [`Evaluator::evaluate`]; also where it is something else.
    pub fn condition(&self, expr: &Expr, scope: &mut Scope) -> Result<bool, Lack> {
        match self.evaluate(expr, scope)? {
            Value::Flag(flag) => Ok(flag),
            other => Err(self.fault(refusals::no_condition(other.describe(), expr.span))),
        }
    }

    /// An expression that is so or not so, now or at each moment: of a component its signal.
    fn so(&self, expr: &Expr, scope: &mut Scope) -> Result<Condition, Lack> {
        let value = match self.evaluate(expr, scope)? {
            Value::Component(id) => self.signal(id, expr.span)?,
            other => other,
        };
        value.as_condition().ok_or_else(|| self.fault(refusals::no_condition(value.describe(), expr.span)))
    }

    /// What a component says: its line `signal`.
    pub(super) fn signal(&self, id: ComponentId, span: Span) -> Outcome {
        let component = self.design.component(id);
        let kind = self.design.kind(component.kind);
        match kind.signal() {
            Some(signal) => self.property(id, signal),
            None => Err(self.fault(refusals::no_signal(&component.name, &kind.name, span))),
        }
    }

    /// A missing side does not hide an answer that the other side settles.
    fn logic(&self, operator: Binary, left: &Expr, right: &Expr, scope: &mut Scope) -> Outcome {
        let settles = Condition::Always(operator == Binary::Or);
        let a = self.so(left, scope);
        if a.as_ref() == Ok(&settles) {
            return Ok(Value::of_condition(settles));
        }
        let b = self.so(right, scope);
        match (a, b) {
            (_, Ok(b)) if b == settles => Ok(Value::of_condition(settles)),
            (Ok(a), Ok(b)) => Ok(Value::of_condition(if operator == Binary::Or { Condition::any([a, b]) } else { Condition::all([a, b]) })),
            (Err(a), Err(b)) => Err(a.with(b)),
            (Err(lack), _) | (_, Err(lack)) => Err(lack),
        }
    }

    /// Both sides of `==`: beside a choice, a bare word is that word whatever else has the name, so long as the choice
    /// has it: where `end` is `open` or `closed`, in `x.end == end` the second is the line of that name.
    fn both_sides(&self, left: &Expr, right: &Expr, scope: &mut Scope) -> Result<(Value, Value), Lack> {
        let is_word = |expr: &Expr| self.design.may_be_choice(expr, |word| scope.is_bound(word));
        match (is_word(left), is_word(right)) {
            (true, false) => {
                let other = self.evaluate(right, scope)?;
                Ok((self.beside_choice(left, &other, scope)?, other))
            }
            (false, true) => {
                let other = self.evaluate(left, scope)?;
                let value = self.beside_choice(right, &other, scope)?;
                Ok((other, value))
            }
            _ => both(self.evaluate(left, scope), self.evaluate(right, scope)),
        }
    }

    /// A bare word beside a value: the word itself if that is a choice which has it too, or it stands for nothing else.
    fn beside_choice(&self, expr: &Expr, other: &Value, scope: &mut Scope) -> Outcome {
        if let (Node::Name(word), Value::Word(choice)) = (&expr.node, other)
            && (!matches!(self.meaning(word, scope), Some(Meaning::Entry(_) | Meaning::Property(..)))
                || self.design.are_of_one_choice(word, choice))
        {
            return Ok(Value::Word(word.clone()));
        }
        self.evaluate(expr, scope)
    }

    /// What a bare word stands for.
    pub(super) fn meaning(&self, word: &str, scope: &Scope) -> Option<Meaning> {
        let own = scope.own.map(|own| self.design.component(own));
        let around = Around { writer: scope.writer, own: own.map(|own| own.kind), in_array: own.is_some_and(|own| own.element.is_some()) };
        self.design.meaning_of(word, around, |word| scope.number_of(word))
    }

    fn name(&self, name: &SmolStr, span: Span, scope: &Scope) -> Outcome {
        match (self.meaning(name, scope), scope.own) {
            (Some(Meaning::Bound(at)), _) => scope.bound.get(at).map(|(_, value)| value.clone()).ok_or(Lack::Faulty),
            (Some(Meaning::Today), _) => scope.today.map(Value::Date).ok_or_else(|| Lack::missing(Missing::Today)),
            (Some(Meaning::This), Some(own)) => Ok(Value::Component(own)),
            (Some(Meaning::Index), Some(own)) => match self.design.component(own).element {
                Some(element) => Ok(Value::number(f64::from(element))),
                None => Err(self.nothing(name, span)),
            },
            (Some(Meaning::Property(_, at)), Some(own)) => self.property(own, at),
            (Some(Meaning::Entry(entry)), _) => match entry {
                Entry::Component(id) => Ok(Value::Component(id)),
                Entry::Array(id, _, count) => Ok(Value::List((id.0..id.0 + count).map(|id| Value::Component(ComponentId(id))).collect())),
                Entry::Named(at) => self.value(NodeId(u32::try_from(at).unwrap_or(0))),
            },
            (Some(Meaning::Kind(kind)), _) => self.of_its_kind(kind, name, span),
            (Some(Meaning::Choice), _) => Ok(Value::Word(name.clone())),
            (Some(Meaning::Constant(constant)), _) => Ok(Value::number(constant.value)),
            (Some(Meaning::Unreadable), _) => Err(Lack::Faulty),
            (Some(Meaning::This | Meaning::Index | Meaning::Property(..) | Meaning::Function) | None, _) => Err(self.nothing(name, span)),
        }
    }

    /// The only component of a kind; where there are several, a choice that is called like the kind.
    fn of_its_kind(&self, kind: KindId, name: &SmolStr, span: Span) -> Outcome {
        self.ask(Question::Members(kind));
        match (self.design.only_one(kind), self.design.of_kind(kind).is_empty()) {
            (Some(id), _) => Ok(Value::Component(id)),
            (None, true) => Err(Lack::missing(Missing::Component(kind))),
            (None, false) if self.design.is_choice_word(name) => Ok(Value::Word(name.clone())),
            (None, false) => Err(self.fault(
                Problem::error(format!("there are several components of kind `{name}`"), span, "which one?")
                    .help("write the name of the one that is meant"),
            )),
        }
    }

    fn nothing(&self, name: &str, span: Span) -> Lack {
        let problem = refusals::stands_for_nothing(name, span).once();
        // Where that has been told, nobody sees this; among so many mistakes nobody looks for a name.
        let is_seen = !self.design.is_told(span) && self.problems.borrow().len() < MOST_OFFERED;
        let entries = is_seen.then(|| self.design.entries().map(|(name, _)| name.as_str())).into_iter().flatten();
        self.fault(problem.nearest_or(name, span, entries, "name a component, a property or a `let`"))
    }

    /// A property of a component, of each in a list, or a part of a table, size or range.
    pub(super) fn field(&self, of: &Value, word: &Word) -> Outcome {
        match of {
            Value::Component(id) => {
                let component = self.design.component(*id);
                let kind = self.design.kind(component.kind);
                if let Some(property) = kind.property(&word.text) {
                    return self.property(*id, property);
                }
                match word.text.as_str() {
                    "name" => {
                        self.ask(Question::Title(*id));
                        Ok(Value::Text(component.name.clone()))
                    }
                    "in_words" => {
                        self.ask(Question::Title(*id));
                        Ok(Value::Text(spoken::in_words(&self.design, *id)))
                    }
                    "title" => {
                        self.ask(Question::Title(*id));
                        Ok(Value::Text(component.title.clone().unwrap_or_else(|| component.name.clone())))
                    }
                    "kind" => Ok(Value::Word(kind.name.clone())),
                    "index" if component.element.is_some() => Ok(Value::number(f64::from(component.element.unwrap_or(0)))),
                    _ => Err(self.fault(refusals::no_part(
                        &format!("`{}`, a {},", component.name, kind.name),
                        word,
                        kind.properties.iter().map(|property| property.name.as_str()),
                    ))),
                }
            }
            Value::List(items) => {
                let mut values = Vec::with_capacity(items.len());
                let mut lack: Option<Lack> = None;
                for item in items.iter() {
                    match self.field(item, word) {
                        Ok(value) => values.push(value),
                        Err(more) => lack = Some(lack.map_or(more.clone(), |lack| lack.with(more))),
                    }
                }
                lack.map_or(Ok(Value::List(values.into())), Err)
            }
            Value::Record(record) => match record.get(&word.text) {
                Some(value) => Ok(value.clone()),
                None => Err(self.fault(match record.get("why") {
                    // What the table tells about does not exist here: it says why, and its other numbers have no answer.
                    Some(Value::Text(why)) if !why.is_empty() => {
                        let told = if word.span.file.is_built_in() { Problem::warning } else { Problem::error };
                        told(format!("`{}` has no answer here: {why}", word.text), word.span, "this part")
                    }
                    _ => refusals::no_part("this table", word, record.fields.iter().map(|(name, _)| name.as_str())),
                })),
            },
            Value::Range(ends) => match word.text.as_str() {
                "from" => Ok(Value::Quantity(ends[0].clone())),
                "to" => Ok(Value::Quantity(ends[1].clone())),
                _ => Err(self.fault(refusals::no_part("a range", word, ["from", "to"]))),
            },
            Value::Size(parts) => {
                let at = PARTS_OF_A_SIZE.iter().position(|part| *part == word.text);
                match at.and_then(|at| parts.get(at)) {
                    Some(part) => Ok(Value::Quantity(part.clone())),
                    None => Err(self.fault(refusals::no_part("a size", word, PARTS_OF_A_SIZE))),
                }
            }
            other => Err(self.fault(refusals::no_part(&other.describe(), word, []))),
        }
    }

    fn element(&self, of: &Expr, at: &Expr, scope: &mut Scope) -> Outcome {
        let index = self.evaluate(at, scope)?;
        let number = match index.si() {
            Some(number) if (number - number.round()).abs() < 1e-9 && (0.0..4e9).contains(&number) => {
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded just before")]
                let whole = number.round() as u32;
                whole
            }
            _ => {
                let shown = if index.si().is_some() { self.show_value(&index) } else { index.describe() };
                return Err(self.fault(refusals::no_element_number(&shown, at.span)));
            }
        };
        if let Node::Name(name) = &of.node
            && let Some(Meaning::Entry(Entry::Array(first_id, first, count))) = self.meaning(name, scope)
        {
            if number >= first && number - first < count {
                return Ok(Value::Component(ComponentId(first_id.0 + number - first)));
            }
            return Err(self.fault(
                Problem::error(format!("`{name}` has no element {number}"), at.span, "this number")
                    .help(format!("its elements are {first} to {}", first + count - 1)),
            ));
        }
        match self.evaluate(of, scope)? {
            Value::List(items) => match number.checked_sub(1).and_then(|at| items.get(at as usize)) {
                Some(item) => Ok(item.clone()),
                None => Err(self.fault(
                    Problem::error(format!("this list has no element {number}"), at.span, "this number")
                        .help(format!("it has {}, counted from 1", items.len())),
                )),
            },
            other => Err(self.fault(refusals::no_elements(other.describe(), of.span))),
        }
    }

    /// A written number: its parts added, its unit looked up.
    pub(super) fn quantity(&self, parts: &[Part]) -> Result<Quantity, Lack> {
        let mut total: Option<Quantity> = None;
        let mut above: Option<(f64, &Part)> = None;
        for part in parts {
            if let Some(minutes) = part.unit.as_ref().and_then(|unit| minutes_of_an_hour(&unit.text)) {
                return Err(self.hours_run_together(part, minutes));
            }
            let unit = match &part.unit {
                Some(unit) => Some(self.unit(unit)?),
                None => None,
            };
            let (si, dim) = match &unit {
                Some(unit) => (unit.to_si(part.number.worth()), unit.dim),
                None => (part.number.worth(), Dim::NUMBER),
            };
            if !si.is_finite() {
                return Err(self
                    .fault(Problem::error("this number is too large", part.span, "this number").help("check its exponent and its unit")));
            }
            let one = unit.as_ref().map_or(1.0, |unit| unit.factor);
            if let Some((larger, before)) = above.filter(|(larger, _)| *larger > one && si >= *larger && !dim.is_point()) {
                return Err(self.more_than_one_of(before, part, si / larger));
            }
            above = Some((one, part));
            total = Some(match total {
                None => Quantity { si, dim, unit },
                Some(first) if first.dim == dim && dim.is_point() => {
                    return Err(self.fault(
                        Problem::error(
                            "a temperature is one number",
                            parts.first().map_or(part.span, |first| first.span.to(part.span)),
                            "two of them",
                        )
                        .help("put a comma or `to` between two temperatures"),
                    ));
                }
                Some(first) if first.dim == dim => {
                    let smaller = first.unit.as_ref().zip(unit.as_ref()).is_some_and(|(first, unit)| unit.factor < first.factor);
                    if !smaller {
                        return Err(self.fault(
                            Problem::error("the parts of one number go from the larger unit to the smaller", part.span, "not smaller")
                                .help("write `6 ft 2-1/2 in`, or put `+` between two values"),
                        ));
                    }
                    let as_tape = first.unit.as_ref().is_some_and(|unit| unit.text == "ft" || unit.is_feet_inches());
                    let unit = if as_tape { Some(Arc::new(Unit::feet_inches())) } else { first.unit };
                    Quantity { si: first.si + si, dim, unit }
                }
                Some(Quantity { unit: None, .. }) if part.number.worth() > 0.0 && part.number.worth() < 1.0 => {
                    return Err(self.split_fraction(parts));
                }
                Some(first) => {
                    let help = match first.unit {
                        None => "write one number without a blank, like `2500 mm`; between two values stands an operator or a comma",
                        Some(_) => "put an operator or a comma between two values",
                    };
                    return Err(self.fault(
                        Problem::error(format!("{} cannot go on with {}", first.dim.describe(), dim.describe()), part.span, dim.describe())
                            .help(help),
                    ));
                }
            });
        }
        total.ok_or(Lack::Faulty)
    }

    /// `14 ft 25 in`: a slip of a comma, for no tape reads so.
    fn more_than_one_of(&self, before: &Part, part: &Part, times: f64) -> Lack {
        let unit = |part: &Part| part.unit.as_ref().map(|unit| unit.text.clone()).unwrap_or_default();
        let (larger, smaller) = (unit(before), unit(part));
        let message = format!("behind {larger} stands less than one {larger}");
        self.fault(
            Problem::error(message, part.span, format!("{:.3} {larger}", times).replace(".000", ""))
                .help(format!("is a comma missing, as in `2-1/2 {smaller}`? or write all of it in {smaller}")),
        )
    }

    /// `6h30`: read as a unit it would be nonsense.
    fn hours_run_together(&self, part: &Part, minutes: u8) -> Lack {
        let angle = due::degrees_of_hours(part.number.worth() + f64::from(minutes) / 60.0);
        self.fault(
            Problem::error("hours and minutes are written apart", part.span, "hours and minutes")
                .help(format!("as an hour angle (15 deg for each hour) write `{angle}`, as a time `{} h {minutes} min`", part.number)),
        )
    }

    /// `2 1/2 in`: a mixed fraction with a blank in it.
    fn split_fraction(&self, parts: &[Part]) -> Lack {
        let [whole, fraction, ..] = parts else { return Lack::Faulty };
        let blank = Span { end: fraction.span.start, ..whole.span.after() };
        self.fault(
            Problem::error("a mixed fraction has no blank in it", whole.span.to(fraction.span), "one number")
                .help("join the whole number and the fraction with `-`: `2-1/2 in`")
                .mend("write `-`", blank, "-"),
        )
    }

    pub(super) fn unit(&self, word: &Word) -> Result<Arc<Unit>, Lack> {
        if let Some(known) = self.units.borrow().get(&word.text) {
            return known.clone().ok_or(()).or_else(|()| self.no_such_unit(word));
        }
        let unit = Unit::parse(&word.text).ok().map(Arc::new);
        self.units.borrow_mut().insert(word.text.clone(), unit.clone());
        unit.ok_or(()).or_else(|()| self.no_such_unit(word))
    }

    fn no_such_unit(&self, word: &Word) -> Result<Arc<Unit>, Lack> {
        let Err(unknown) = Unit::parse(&word.text) else { return Err(Lack::Faulty) };
        let mut problem = Problem::error(unknown.to_string(), word.span, "this unit");
        if let Some(near) = &unknown.nearest {
            let mended = word.text.replacen(&unknown.atom, near, 1);
            problem = problem.help(format!("did you mean `{mended}`?")).mend(format!("write `{mended}`"), word.span, mended);
        } else if let Some((unit, rest)) = word.text.split_once(['*', '-'])
            && Unit::parse(unit).is_ok()
        {
            let sign = word.text.chars().nth(unit.chars().count()).unwrap_or('*');
            problem = problem.help(format!("a unit has no blanks inside; to go on after it write `{unit} {sign} {rest}`"));
        } else {
            problem = problem.help("`wallplate rules units` lists the units");
        }
        Err(self.fault(problem))
    }

    pub(super) fn as_quantity(&self, value: Value, expr: &Expr) -> Result<Quantity, Lack> {
        match value {
            Value::Quantity(quantity) => Ok(quantity),
            Value::Zero => Ok(Quantity::new(0.0, Dim::NUMBER)),
            other => Err(self.fault(refusals::no_number(other.describe(), expr.span))),
        }
    }

    fn shown_in(&self, value: &Expr, unit: &Word, scope: &mut Scope) -> Outcome {
        let quantity = match self.evaluate(value, scope)? {
            Value::List(items) => {
                let shown: Result<Vec<Value>, Lack> = items
                    .iter()
                    .map(|item| match item {
                        Value::Quantity(quantity) => self.in_unit(quantity.clone(), value, unit).map(Value::Quantity),
                        other => Ok(other.clone()),
                    })
                    .collect();
                return Ok(Value::List(shown?.into()));
            }
            other => self.as_quantity(other, value)?,
        };
        self.in_unit(quantity, value, unit).map(Value::Quantity)
    }

    fn in_unit(&self, quantity: Quantity, value: &Expr, word: &Word) -> Result<Quantity, Lack> {
        let unit = self.unit(word)?;
        if unit.dim == quantity.dim {
            return Ok(Quantity { unit: Some(unit), ..quantity });
        }
        if units::as_mass(unit.dim, quantity.dim) {
            return Ok(Quantity { si: quantity.si / units::STANDARD_GRAVITY, dim: unit.dim, unit: Some(unit) });
        }
        if units::as_weight(unit.dim, quantity.dim) {
            return Ok(Quantity { si: quantity.si * units::STANDARD_GRAVITY, dim: unit.dim, unit: Some(unit) });
        }
        Err(self.fault(
            Problem::error(format!("{} cannot be shown in `{}`", quantity.dim.describe(), word.text), word.span, unit.dim.describe())
                .also(value.span, quantity.dim.describe())
                .help(shown_in_what(&quantity, &unit)),
        ))
    }

    fn template(&self, pieces: &[TemplatePart], scope: &mut Scope) -> Outcome {
        let mut text = String::new();
        for piece in pieces {
            match piece {
                TemplatePart::Text(piece) => text.push_str(piece),
                TemplatePart::Value(Expr { node: Node::Name(name), .. }) if scope.reads_as.iter().any(|(known, _)| known == name) => {
                    scope.reads_as.iter().filter(|(known, _)| known == name).for_each(|(_, words)| text.push_str(words));
                }
                TemplatePart::Value(expr) => match self.evaluate(expr, scope) {
                    // In a sentence `south_east` is two words.
                    Ok(Value::Word(word)) => text.push_str(&word.replace('_', " ")),
                    Ok(value) => text.push_str(&match (&scope.speaks_in, &expr.node) {
                        (Some(unit), node) if !matches!(node, Node::In(..)) => self.show_value(&said_in(unit, value)),
                        _ => self.show_value(&value),
                    }),
                    Err(_) => text.push('?'),
                },
            }
        }
        Ok(Value::Text(text.into()))
    }
}

/// A number, or several, in the unit of what the sentence is about, where it reads well in that.
fn said_in(unit: &Arc<Unit>, value: Value) -> Value {
    match value {
        Value::Quantity(quantity) if quantity.dim == unit.dim && units::is_said_in(unit, quantity.si) => {
            Value::Quantity(Quantity { unit: Some(Arc::clone(unit)), ..quantity })
        }
        Value::List(items) if matches!(items.first(), Some(Value::Quantity(_))) => {
            Value::List(items.iter().map(|item| said_in(unit, item.clone())).collect())
        }
        other => other,
    }
}

/// The minutes of `h30`.
fn minutes_of_an_hour(unit: &str) -> Option<u8> {
    unit.strip_prefix('h')?.parse().ok().filter(|minutes| *minutes < 60)
}

/// In which units a quantity can be shown, in place of one that it cannot.
fn shown_in_what(quantity: &Quantity, unit: &Unit) -> String {
    units_that_would_do(quantity.dim, &Quantity::new(quantity.si, unit.dim))
}

/// Both values, or all that is missing for either.
pub(super) fn both(a: Outcome, b: Outcome) -> Result<(Value, Value), Lack> {
    match (a, b) {
        (Ok(a), Ok(b)) => Ok((a, b)),
        (Err(a), Err(b)) => Err(a.with(b)),
        (Err(lack), _) | (_, Err(lack)) => Err(lack),
    }
}
