//! Values by plain recursion over the syntax tree: nothing is kept, nothing is shared.

use std::collections::BTreeMap;
use wallplate::syntax::tree::{Binary, Binder, Expr, Item, Node, Tree, Unary};

/// Metres, kilograms, seconds.
pub type Dims = [i32; 3];
pub const NUMBER: Dims = [0, 0, 0];
pub const LENGTH: Dims = [1, 0, 0];
pub const AREA: Dims = [2, 0, 0];
pub const MASS: Dims = [0, 1, 0];
pub const FORCE: Dims = [1, 1, -2];

/// Metres per second squared: the weight of a mass (ISO 80000-3).
pub const GRAVITY: f64 = 9.806_65;

/// Factors and dimensions (NIST SP 811:2008, App. B).
const UNITS: [(&str, f64, Dims); 18] = [
    ("m", 1.0, LENGTH),
    ("cm", 0.01, LENGTH),
    ("mm", 0.001, LENGTH),
    ("in", 0.0254, LENGTH),
    ("ft", 0.3048, LENGTH),
    ("N", 1.0, FORCE),
    ("kN", 1000.0, FORCE),
    ("lbf", 4.448_221_615_260_5, FORCE),
    ("kg", 1.0, MASS),
    ("lb", 0.453_592_37, MASS),
    ("m2", 1.0, AREA),
    ("ft2", 0.3048 * 0.3048, AREA),
    ("%", 0.01, NUMBER),
    ("N/m", 1.0, [0, 1, -2]),
    ("kN/m", 1000.0, [0, 1, -2]),
    ("lbf/ft", 4.448_221_615_260_5 / 0.3048, [0, 1, -2]),
    ("kN/m2", 1000.0, [-1, 1, -2]),
    ("psf", 4.448_221_615_260_5 / (0.3048 * 0.3048), [-1, 1, -2]),
];

#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    Number(f64, Dims),
    Flag(bool),
    Component(String),
    /// A `sum` of nothing: zero of whatever is due.
    Nothing,
}

/// Why there is no value.
#[derive(Debug, Clone, PartialEq)]
pub enum Gone {
    /// A line is not written.
    Missing,
    /// Divided by zero, a root of what is negative.
    Senseless(&'static str),
}

type Found = Result<Value, Gone>;

/// A design as it is read here: trees, and how far each toleranced line is turned.
pub struct Reader<'t> {
    lets: BTreeMap<&'t str, &'t Expr>,
    components: Vec<(String, &'t str, BTreeMap<&'t str, &'t Expr>)>,
    /// Kind and property: what it is worth if it is not written.
    defaults: BTreeMap<(&'t str, &'t str), &'t Expr>,
    /// Which properties of which kind are forces.
    forces: Vec<(&'t str, &'t str)>,
    pub turned: BTreeMap<String, f64>,
}

/// The names that stand for something just now: those of `for`, and whose lines are looked at.
#[derive(Default, Clone)]
pub struct Bound<'b> {
    pub names: Vec<(&'b str, Value)>,
    pub own: Option<String>,
}

impl<'t> Reader<'t> {
    pub fn new(tree: &'t Tree) -> Reader<'t> {
        let mut reader = Reader {
            lets: BTreeMap::new(),
            components: Vec::new(),
            defaults: BTreeMap::new(),
            forces: Vec::new(),
            turned: BTreeMap::new(),
        };
        for item in &tree.items {
            match item {
                Item::Let(line) => drop(reader.lets.insert(line.name.text.as_str(), &line.value)),
                Item::Component(block) => {
                    let lines: BTreeMap<_, _> = block.lines.iter().map(|line| (line.name.text.as_str(), &*line.value)).collect();
                    let name = block.name.as_ref().map_or("", |name| name.text.as_str());
                    // Of several in one block each is a component with these lines.
                    let names = match block.elements {
                        Some((from, to, _)) => (from..=to).map(|at| format!("{name}[{at}]")).collect(),
                        None => vec![name.to_owned()],
                    };
                    for name in names {
                        reader.components.push((name, block.kind.text.as_str(), BTreeMap::clone(&lines)));
                    }
                }
                Item::Kind(kind) => {
                    for property in &kind.properties {
                        let of = (kind.name.text.as_str(), property.name.text.as_str());
                        if let Some(default) = &property.default {
                            reader.defaults.insert(of, default);
                        }
                        if format!("{:?}", property.ty).contains("\"force\"") {
                            reader.forces.push(of);
                        }
                    }
                }
                _ => {}
            }
        }
        reader
    }

    pub fn of_kind(&self, kind: &str) -> Vec<String> {
        self.components.iter().filter(|(_, of, _)| *of == kind).map(|(name, ..)| name.clone()).collect()
    }

    /// The lines that have a tolerance, with how much less and more they may be.
    pub fn tolerances(&self) -> Vec<(String, f64, f64)> {
        let mut found = Vec::new();
        let named = self.lets.iter().map(|(name, line)| ((*name).to_owned(), *line, false));
        let properties = self.components.iter().flat_map(|(name, kind, lines)| {
            lines.iter().map(move |(property, line)| (format!("{name}.{property}"), *line, self.forces.contains(&(*kind, *property))))
        });
        for (name, line, force) in named.chain(properties) {
            let Node::Tolerance { value, down, up } = &line.node else { continue };
            let Ok(Value::Number(nominal, dims)) = self.work_out(value, &Bound::default()) else { continue };
            let amount = |by: &Expr| match self.work_out(by, &Bound::default()) {
                Ok(Value::Number(part, NUMBER)) if dims != NUMBER => part * nominal.abs(),
                Ok(Value::Number(amount, MASS)) if force => amount * GRAVITY,
                Ok(Value::Number(amount, _)) => amount,
                other => panic!("{other:?}"),
            };
            // `± 5 %` of a mass where a force is due is a part of its weight.
            let heavy = if force && dims == MASS && matches!(self.work_out(up, &Bound::default()), Ok(Value::Number(_, NUMBER))) {
                GRAVITY
            } else {
                1.0
            };
            let up_by = amount(up) * heavy;
            let down_by = down.as_ref().map_or(up_by, |down| amount(down) * heavy);
            found.push((name, down_by, up_by));
        }
        found
    }

    /// A named value.
    pub fn named(&self, name: &str) -> Option<Found> {
        let line = self.lets.get(name)?;
        Some(self.turn(name, self.work_out(line, &Bound::default())))
    }

    fn turn(&self, name: &str, found: Found) -> Found {
        match (found?, self.turned.get(name)) {
            (Value::Number(number, dims), Some(by)) => Ok(Value::Number(number + by, dims)),
            (value, _) => Ok(value),
        }
    }

    fn property(&self, component: &str, property: &str) -> Found {
        let (name, kind, lines) = self.components.iter().find(|(name, ..)| *name == component).unwrap();
        let own = Bound { own: Some(name.clone()), ..Bound::default() };
        let found = match lines.get(property).or_else(|| self.defaults.get(&(*kind, property))) {
            Some(line) => self.work_out(line, &own)?,
            None => return Err(Gone::Missing),
        };
        let heavy = match found {
            Value::Number(mass, MASS) if self.forces.contains(&(*kind, property)) => Value::Number(mass * GRAVITY, FORCE),
            other => other,
        };
        self.turn(&format!("{component}.{property}"), Ok(heavy))
    }

    fn numbers(&self, one: &Expr, other: &Expr, bound: &Bound) -> Result<(f64, f64, Dims, Dims), Gone> {
        match (self.work_out(one, bound), self.work_out(other, bound)) {
            (Err(Gone::Senseless(why)), _) | (_, Err(Gone::Senseless(why))) => Err(Gone::Senseless(why)),
            (Err(gone), _) | (_, Err(gone)) => Err(gone),
            (Ok(Value::Number(a, of_a)), Ok(Value::Number(b, of_b))) => Ok((a, b, of_a, of_b)),
            (Ok(Value::Nothing), Ok(Value::Number(b, of_b))) => Ok((0.0, b, of_b, of_b)),
            (Ok(Value::Number(a, of_a)), Ok(Value::Nothing)) => Ok((a, 0.0, of_a, of_a)),
            other => panic!("not two numbers: {other:?}"),
        }
    }

    pub fn work_out(&self, expr: &Expr, bound: &Bound) -> Found {
        match &expr.node {
            Node::Quantity(parts) => {
                let mut sum = (0.0, NUMBER);
                for part in parts {
                    let unit = part.unit.as_ref().map_or("", |unit| unit.text.as_str());
                    let (factor, dims) =
                        UNITS.iter().find(|(name, ..)| *name == unit).map_or((1.0, NUMBER), |(_, factor, dims)| (*factor, *dims));
                    assert!(unit.is_empty() || UNITS.iter().any(|(name, ..)| *name == unit), "no unit {unit}");
                    sum = (sum.0 + written(part.number.text()) * factor, dims);
                }
                Ok(Value::Number(sum.0, sum.1))
            }
            Node::Flag(flag) => Ok(Value::Flag(*flag)),
            Node::Name(name) => {
                if let Some((_, value)) = bound.names.iter().rev().find(|(bound, _)| bound == name) {
                    return Ok(value.clone());
                }
                if let Some(own) = &bound.own
                    && let Some((_, kind, lines)) = self.components.iter().find(|(component, ..)| component == own)
                    && (lines.contains_key(name.as_str()) || self.defaults.contains_key(&(*kind, name.as_str())))
                {
                    return self.property(own, name);
                }
                match self.named(name) {
                    Some(found) => found,
                    None => Ok(Value::Component(name.to_string())),
                }
            }
            Node::Field(of, property) => match self.work_out(of, bound)? {
                Value::Component(component) => self.property(&component, &property.text),
                other => panic!("no component: {other:?}"),
            },
            // How far it may be off is taken in by who turns it.
            Node::Tolerance { value, .. } => self.work_out(value, bound),
            Node::Unary(Unary::Negate, of) => match self.work_out(of, bound)? {
                Value::Number(number, dims) => Ok(Value::Number(-number, dims)),
                Value::Nothing => Ok(Value::Nothing),
                other => panic!("{other:?}"),
            },
            Node::Unary(Unary::Not, of) => Ok(Value::Flag(!self.flag(of, bound)?)),
            Node::If(condition, yes, no) => {
                if self.flag(condition, bound)? {
                    self.work_out(yes, bound)
                } else {
                    self.work_out(no, bound)
                }
            }
            Node::Binary(sign, _, a, b) => self.binary(*sign, a, b, bound),
            Node::Call(name, arguments) => {
                if name.text == "given" {
                    return match self.work_out(&arguments[0].value, bound) {
                        Ok(_) => Ok(Value::Flag(true)),
                        Err(Gone::Missing) => Ok(Value::Flag(false)),
                        Err(other) => Err(other),
                    };
                }
                let values = arguments.iter().map(|argument| self.work_out(&argument.value, bound)).collect::<Vec<_>>();
                called(&name.text, gathered(values)?)
            }
            Node::Aggregate { name, value, binders } => {
                let mut values = Vec::new();
                self.over(binders, value, bound.clone(), &mut values);
                if matches!(name.text.as_str(), "any" | "all") {
                    return decided(name.text == "any", values);
                }
                if name.text == "count" {
                    return counted(values);
                }
                let values = gathered(values)?;
                match (name.text.as_str(), values.is_empty()) {
                    ("sum", true) => Ok(Value::Nothing),
                    (_, true) => Err(Gone::Missing),
                    (other, _) => called(other, values),
                }
            }
            other => panic!("not read here: {other:?}"),
        }
    }

    fn over<'b>(&self, binders: &'b [Binder], value: &Expr, bound: Bound<'b>, into: &mut Vec<Found>) {
        let Some((first, rest)) = binders.split_first() else {
            into.push(self.work_out(value, &bound));
            return;
        };
        let Node::Name(kind) = &first.source.node else { panic!("a kind is gone over") };
        for component in self.of_kind(kind) {
            let mut bound = bound.clone();
            bound.names.push((first.name.text.as_str(), Value::Component(component)));
            match first.condition.as_ref().map_or(Ok(true), |condition| self.flag(condition, &bound)) {
                Ok(true) => self.over(rest, value, bound, into),
                Ok(false) => {}
                Err(gone) => into.push(Err(gone)),
            }
        }
    }

    fn flag(&self, expr: &Expr, bound: &Bound) -> Result<bool, Gone> {
        match self.work_out(expr, bound)? {
            Value::Flag(flag) => Ok(flag),
            other => panic!("neither yes nor no: {other:?}"),
        }
    }

    fn binary(&self, sign: Binary, a: &Expr, b: &Expr, bound: &Bound) -> Found {
        if matches!(sign, Binary::And | Binary::Or) {
            // One that decides by itself does not need the other.
            let decides = sign == Binary::Or;
            return match (self.flag(a, bound), self.flag(b, bound)) {
                (Ok(a), _) if a == decides => Ok(Value::Flag(decides)),
                (Err(Gone::Missing), Ok(b)) if b == decides => Ok(Value::Flag(decides)),
                (Err(gone), _) => Err(gone),
                (Ok(_), other) => other.map(Value::Flag),
            };
        }
        if matches!(sign, Binary::Equal | Binary::NotEqual) {
            let (x, y) = (self.work_out(a, bound), self.work_out(b, bound));
            if let (Ok(Value::Component(x)), Ok(Value::Component(y))) = (&x, &y) {
                return Ok(Value::Flag((x == y) == (sign == Binary::Equal)));
            }
            return Err(x.and(y).expect_err("components are compared"));
        }
        if matches!(sign, Binary::Multiply | Binary::Divide) {
            // Nothing times or over something is nothing, of whatever dimension is due.
            let (x, y) = (self.work_out(a, bound), self.work_out(b, bound));
            match (x, y, sign) {
                (Ok(_), Ok(Value::Nothing), Binary::Divide) => return Err(Gone::Senseless("divided by zero")),
                (Ok(Value::Nothing), Ok(Value::Number(0.0, _)), Binary::Divide) => return Err(Gone::Senseless("divided by zero")),
                (Ok(Value::Nothing), Ok(_), _) | (Ok(_), Ok(Value::Nothing), _) => return Ok(Value::Nothing),
                _ => {}
            }
        }
        if let (Ok(Value::Nothing), Ok(Value::Nothing)) = (self.work_out(a, bound), self.work_out(b, bound)) {
            return Ok(match sign {
                Binary::Add | Binary::Subtract => Value::Nothing,
                Binary::LessOrEqual | Binary::GreaterOrEqual => Value::Flag(true),
                _ => Value::Flag(false),
            });
        }
        let (x, y, of_x, of_y) = self.numbers(a, b, bound)?;
        let alike = || assert_eq!(of_x, of_y);
        // What differs by less than the twelfth figure is written alike.
        let same = x == y || (x - y).abs() <= 1e-12 * x.abs().max(y.abs());
        Ok(match sign {
            Binary::Add => (alike(), Value::Number(x + y, of_x)).1,
            Binary::Subtract => (alike(), Value::Number(x - y, of_x)).1,
            Binary::Multiply => Value::Number(x * y, [0, 1, 2].map(|at| of_x[at] + of_y[at])),
            Binary::Divide if y == 0.0 => return Err(Gone::Senseless("divided by zero")),
            Binary::Divide => Value::Number(x / y, [0, 1, 2].map(|at| of_x[at] - of_y[at])),
            Binary::Less => (alike(), Value::Flag(x < y && !same)).1,
            Binary::LessOrEqual => (alike(), Value::Flag(x < y || same)).1,
            Binary::Greater => (alike(), Value::Flag(x > y && !same)).1,
            Binary::GreaterOrEqual => (alike(), Value::Flag(x > y || same)).1,
            other => panic!("not read here: {other:?}"),
        })
    }
}

/// `any` and `all`: one that decides by itself does not need the others.
fn decided(decides: bool, values: Vec<Found>) -> Found {
    if values.contains(&Ok(Value::Flag(decides))) {
        return Ok(Value::Flag(decides));
    }
    values.into_iter().find(Result::is_err).unwrap_or(Ok(Value::Flag(!decides)))
}

/// How many there are: what they are worth is not asked, but whether each is one.
fn counted(values: Vec<Found>) -> Found {
    if let Some(gone) = values.iter().find(|value| matches!(value, Err(Gone::Senseless(_)))) {
        return gone.clone();
    }
    let count = values.into_iter().collect::<Result<Vec<_>, _>>()?.len();
    Ok(Value::Number(f64::from(u32::try_from(count).unwrap()), NUMBER))
}

/// All of them as numbers; where one is missing all are.
fn gathered(values: Vec<Found>) -> Result<Vec<(f64, Option<Dims>)>, Gone> {
    if let Some(senseless) = values.iter().find(|value| matches!(value, Err(Gone::Senseless(_)))) {
        return Err(senseless.clone().unwrap_err());
    }
    let number = |value: Found| match value? {
        Value::Number(number, dims) => Ok((number, Some(dims))),
        Value::Nothing => Ok((0.0, None)),
        other => panic!("no number: {other:?}"),
    };
    values.into_iter().map(number).collect()
}

fn called(name: &str, values: Vec<(f64, Option<Dims>)>) -> Found {
    let numbers = values.iter().map(|(number, _)| *number);
    let Some(dims) = values.iter().find_map(|(_, dims)| *dims) else { return Ok(Value::Nothing) };
    Ok(match name {
        "sum" => Value::Number(numbers.sum(), dims),
        "min" => Value::Number(numbers.fold(f64::INFINITY, f64::min), dims),
        "max" => Value::Number(numbers.fold(f64::NEG_INFINITY, f64::max), dims),
        "abs" => Value::Number(values[0].0.abs(), dims),
        "sqrt" if values[0].0 < 0.0 => return Err(Gone::Senseless("a root")),
        "sqrt" => Value::Number(values[0].0.sqrt(), dims.map(|part| part / 2)),
        other => panic!("not read here: {other}"),
    })
}

/// `4.72`, `3-1/2`, `5/8`.
fn written(text: &str) -> f64 {
    let plain = |text: &str| text.parse::<f64>().unwrap();
    let parts = |text: &str| text.split_once('/').map_or_else(|| plain(text), |(above, below)| plain(above) / plain(below));
    text.split_once('-').map_or_else(|| parts(text), |(whole, rest)| plain(whole) + parts(rest))
}
