//! The syntax tree: what stands in a file, with the place of every part.
//!
//! It covers the whole file: what could not be read is kept as a broken stretch. Numbers keep their
//! units as text; what a unit, a name or a property means is asked later.

mod date;

pub use date::Date;

use super::number::Number;
use crate::text::Span;
use serde::{Deserialize, Serialize};
use smol_str::SmolStr;
use std::sync::Arc;

/// A word with its place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Word {
    /// The word; a path keeps its dots.
    pub text: SmolStr,
    /// Where it stands.
    pub span: Span,
}

/// A quoted text, the quotes taken off, with the place that includes them.
pub type Text = Word;

/// A file as read.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Tree {
    /// The top-level statements in the order in which they stand.
    pub items: Vec<Item>,
    /// All comments, in order.
    pub comments: Vec<Comment>,
}

/// A comment, from `#` to the end of its line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Comment {
    /// Where it stands, the `#` included and the newline not.
    pub span: Span,
    /// Nothing but blanks stands before it on its line: it belongs to what follows.
    pub own_line: bool,
}

/// One top-level statement.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Item {
    /// `use timber`, `use "part.plate"`
    Use(Use),
    /// `let eave 2.10 m`
    Let(Let),
    /// `clamp ne like corner_clamp { … }`
    Component(Component),
    /// `pattern clamp corner_clamp { … }`
    Pattern(Component),
    /// `variant bolted "…" { … }`
    Variant(Variant),
    /// `measured 2027-05-02 { … }`
    Measured(Measured),
    /// `accept sky.pole_is_visible { … }`
    Accept(Accept),
    /// `kind heater "…" { … }`
    Kind(Kind),
    /// `formula wheel_loads "…" { … }`: its parameters as properties, and what it gives.
    Formula(Kind),
    /// `table wheel_shares "…" { … }`: its fields as properties.
    Table(Kind),
    /// `carried uplift "…" { … }`: what lines may be written with.
    Words(Words),
    /// `rule house.cable_slack "…" { … }`
    Rule(Rule),
    /// `purchase member.timber "…" { … }`
    Paper(Paper),
    /// What could not be read, with the name that its second word would have given.
    Broken(Span, Option<SmolStr>),
}

impl Item {
    /// Where it stands.
    #[must_use]
    pub fn span(&self) -> Span {
        match self {
            Self::Use(item) => item.span,
            Self::Let(item) => item.span,
            Self::Component(item) | Self::Pattern(item) => item.span,
            Self::Variant(item) => item.span,
            Self::Measured(item) => item.span,
            Self::Accept(item) => item.span,
            Self::Kind(item) | Self::Formula(item) | Self::Table(item) => item.span,
            Self::Words(item) => item.block.span,
            Self::Rule(item) => item.span,
            Self::Paper(item) => item.block.span,
            Self::Broken(span, _) => *span,
        }
    }
}

/// Brings in a built-in catalogue or another file of the design.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Use {
    /// The whole statement.
    pub span: Span,
    /// The catalogue's or the file's name.
    pub target: Word,
    /// Whether it is a file (a quoted text).
    pub is_file: bool,
}

/// A named value.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Let {
    /// The whole statement.
    pub span: Span,
    /// Its name.
    pub name: Word,
    /// What it stands for.
    pub value: Arc<Expr>,
    /// Where it says that nobody knows the number yet.
    pub guessed: Option<Span>,
}

/// A component, or a pattern for components.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Component {
    /// The whole block.
    pub span: Span,
    /// The kind's name.
    pub kind: Word,
    /// The component's own name; a kind of which there is only one needs none.
    pub name: Option<Word>,
    /// First and last element's number of an array, with the place.
    pub elements: Option<(u32, u32, Span)>,
    /// What people call it.
    pub title: Option<Text>,
    /// The pattern that it follows.
    pub like: Option<Word>,
    /// Its lines.
    pub lines: Vec<Line>,
}

/// A name and a value.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Line {
    /// The whole line.
    pub span: Span,
    /// The first word.
    pub name: Word,
    /// The rest.
    pub value: Arc<Expr>,
    /// Where it says that nobody knows the number yet.
    pub guessed: Option<Span>,
}

/// An alternative to the design.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Variant {
    /// The whole block.
    pub span: Span,
    /// Its name.
    pub name: Word,
    /// What people call it.
    pub title: Option<Text>,
    /// The lines that replace lines of the design.
    pub changes: Changes,
}

/// What was found on the day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Measured {
    /// The whole block.
    pub span: Span,
    /// The day.
    pub date: Date,
    /// Where the day stands.
    pub date_span: Span,
    /// Who or what measured.
    pub title: Option<Text>,
    /// The lines that replace what was planned.
    pub changes: Changes,
}

/// Lines for components that stand elsewhere.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Changes {
    /// Lines by component.
    pub components: Vec<Change>,
    /// Other named values.
    pub lets: Vec<Let>,
}

/// Lines for one component.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Change {
    /// The whole block.
    pub span: Span,
    /// Which component.
    pub name: Word,
    /// Which element of an array.
    pub element: Option<u32>,
    /// The lines.
    pub lines: Vec<Line>,
}

/// A finding that someone has looked at and taken on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Accept {
    /// The whole block.
    pub span: Span,
    /// The rule's name.
    pub rule: Word,
    /// The lines `on`, `because`, `until`.
    pub lines: Vec<Line>,
}

/// A kind of component.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Kind {
    /// The whole block.
    pub span: Span,
    /// Its name.
    pub name: Word,
    /// What it is.
    pub title: Option<Text>,
    /// Lines about the kind itself: `one_only yes`, `ground yes`, `caution "…"`.
    pub facts: Vec<Line>,
    /// Its steps: what it gives a name for its own properties.
    pub lets: Vec<Let>,
    /// Its properties.
    pub properties: Vec<Property>,
}

/// A word that lines may be written with: what a link carries, a state, a form of paper, a sheet, a view of one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Words {
    /// The word that it begins with: `carried`, `paper`, `state`, `sheet`, `sheet_view`.
    pub sort: Word,
    /// Its name, its lines as facts, and what it declares with a type as properties.
    pub block: Kind,
}

/// One property of a kind.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Property {
    /// The whole line.
    pub span: Span,
    /// Its name.
    pub name: Word,
    /// What may stand there.
    pub ty: PropertyType,
    /// Must be written by hand.
    pub required: bool,
    /// Worked out where it is not written.
    pub default: Option<Arc<Expr>>,
    /// The default is a habit, not a derivation; why it may be assumed.
    pub assumed: Option<Text>,
    /// What a link carries.
    pub carrying: Vec<Word>,
    /// Limits of a sensible number: the word and the limit.
    pub bounds: Vec<(Word, Arc<Expr>)>,
    /// Where its like usually lies: by itself, and beside other lines.
    pub usual: Vec<Usual>,
    /// What it means.
    pub doc: Option<Text>,
    /// How one comes to its number.
    pub found: Option<Text>,
    /// Where its number or its meaning comes from.
    pub source: Option<Text>,
    /// The field of a table that has to be yes for this one to mean anything.
    pub when: Option<Arc<Expr>>,
}

/// Where the numbers of a property usually lie: `usually 10 m/s to 60 m/s because "…"`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Usual {
    /// From the least to the greatest.
    pub range: Arc<Expr>,
    /// On whose word.
    pub because: Text,
}

/// What may stand in a property.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum PropertyType {
    /// A quantity by the name of its dimension, or `number`, `text`, `date`, `yes_no`, `anything`.
    Plain(Word),
    /// Links to components of these kinds; `many` if several may stand there.
    Link {
        /// Several may stand there.
        many: bool,
        /// Kinds that it may lead to.
        kinds: Vec<Word>,
    },
    /// One of these words.
    OneOf(Vec<Word>),
    /// Several of one type.
    ListOf(Word),
    /// From one to another.
    RangeOf(Word),
    /// One by another (by a third).
    SizeOf(Word),
    /// What a formula gives is of the sort of that argument.
    As(Word),
    /// What a formula gives is one item of that argument.
    ItemOf(Word),
    /// What a formula gives is the square root of that argument's sort.
    RootOf(Word),
}

/// A check.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Rule {
    /// The whole block.
    pub span: Span,
    /// Its dotted name: area and rule.
    pub name: Word,
    /// The names of the other rules that it stands for, by the order of the words of `repeated`.
    pub also: Vec<Word>,
    /// What it asks, as a statement that should hold.
    pub title: Option<Text>,
    /// It stands once for each of several words.
    pub repeated: Option<Repeated>,
    /// Over what it goes.
    pub each: Vec<Binder>,
    /// What it gives a name.
    pub lets: Vec<Let>,
    /// All other lines.
    pub lines: Vec<Line>,
}

/// `for end in [open, closed]`: a rule that is written once and stands for as many.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Repeated {
    /// The whole line.
    pub span: Span,
    /// The name in whose place each of the words stands.
    pub name: Word,
    /// The words: choices or kinds.
    pub words: Vec<Word>,
    /// Where the rule's title speaks of the name: `The {end} sensor`.
    pub in_title: Vec<Span>,
}

/// What goes onto paper for each of some components: the form of a rule, other lines.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Paper {
    /// The word that it begins with: `picture`, `purchase`, `task`, …
    pub sort: Word,
    /// Its name, what it goes over and its lines.
    pub block: Rule,
}

/// `s in sensor where s.marks == open`
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Binder {
    /// The whole.
    pub span: Span,
    /// The name that stands for each.
    pub name: Word,
    /// A kind, or a list.
    pub source: Arc<Expr>,
    /// Which of them.
    pub condition: Option<Arc<Expr>>,
}

/// One part of a written quantity: a number and the unit as written.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Part {
    /// The number.
    pub number: Number,
    /// The unit as written.
    pub unit: Option<Word>,
    /// The part's place.
    pub span: Span,
}

/// An expression with its place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Expr {
    /// Where it stands.
    pub span: Span,
    /// What it is.
    pub node: Node,
}

/// What an expression is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Node {
    /// `4.72 m`, `6 ft 2-1/2 in`, `0.4`
    Quantity(Vec<Part>),
    /// `2027-05-02`
    Date(Date),
    /// A quoted text.
    Text(SmolStr),
    /// A text with expressions in braces, in a rule's `says` and `help`.
    Template(Vec<TemplatePart>),
    /// `yes` or `no`
    Flag(bool),
    /// A bare word: a component, a named value, a choice, a kind.
    Name(SmolStr),
    /// `north_wall.height`
    Field(Box<Expr>, Word),
    /// `gantry_post[2]`
    Index(Box<Expr>, Box<Expr>),
    /// `sqrt(x)`
    Call(Word, Vec<Argument>),
    /// `sum(c.working_load for c in clamp where …)`
    Aggregate {
        /// `sum`, `count`, `min`, …
        name: Word,
        /// What is gathered.
        value: Box<Expr>,
        /// Over what.
        binders: Vec<Binder>,
    },
    /// `-x`, `not x`
    Unary(Unary, Box<Expr>),
    /// `a + b`, with the operator's place.
    Binary(Binary, Span, Box<Expr>, Box<Expr>),
    /// `if c then a else b`
    If(Box<Expr>, Box<Expr>, Box<Expr>),
    /// `8 mm to 14 mm`
    Range(Box<Expr>, Box<Expr>),
    /// `3.6 m by 4.8 m`
    Size(Vec<Expr>),
    /// `a, b, c` or `[a, b, c]`
    List(Vec<Expr>),
    /// `4.72 m ± 5 mm`: the value, how far down, how far up.
    Tolerance {
        /// The nominal value.
        value: Box<Expr>,
        /// How much less it may be; `None` if the same as `up`.
        down: Option<Box<Expr>>,
        /// How much more it may be.
        up: Box<Expr>,
    },
    /// `roof.net_uplift in lbf`
    In(Box<Expr>, Word),
}

/// A piece of a text with expressions in braces.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum TemplatePart {
    /// As it stands.
    Text(SmolStr),
    /// Worked out and shown.
    Value(Expr),
}

/// An argument of a call, with its name if one was written.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Argument {
    /// `speed` in `f(speed 26 m/s)`.
    pub name: Option<Word>,
    /// The value.
    pub value: Expr,
}

/// Operators with one operand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Unary {
    /// `-`
    Negate,
    /// `not`
    Not,
}

/// Operators with two operands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Binary {
    /// `or`
    Or,
    /// `and`
    And,
    /// `==`
    Equal,
    /// `!=`
    NotEqual,
    /// `<`
    Less,
    /// `<=`
    LessOrEqual,
    /// `>`
    Greater,
    /// `>=`
    GreaterOrEqual,
    /// `+`
    Add,
    /// `-`
    Subtract,
    /// `*`
    Multiply,
    /// `/`
    Divide,
    /// `^`
    Power,
}

impl Binary {
    /// As a builder writes it.
    #[must_use]
    pub fn sign(self) -> &'static str {
        match self {
            Self::Or => "or",
            Self::And => "and",
            Self::Equal => "==",
            Self::NotEqual => "!=",
            Self::Less => "<",
            Self::LessOrEqual => "<=",
            Self::Greater => ">",
            Self::GreaterOrEqual => ">=",
            Self::Add => "+",
            Self::Subtract => "-",
            Self::Multiply => "*",
            Self::Divide => "/",
            Self::Power => "^",
        }
    }
}

impl Expr {
    /// Calls `visit` with every expression inside this one and itself, outermost first.
    pub fn walk<'e>(&'e self, visit: &mut dyn FnMut(&'e Expr)) {
        let mut waiting = vec![self];
        while let Some(expr) = waiting.pop() {
            visit(expr);
            let from = waiting.len();
            expr.children(&mut |child| waiting.push(child));
            if let Some(added) = waiting.get_mut(from..) {
                added.reverse();
            }
        }
    }

    /// Calls `visit` with each expression directly inside this one, in order.
    pub fn children<'e>(&'e self, visit: &mut dyn FnMut(&'e Expr)) {
        match &self.node {
            Node::Quantity(_) | Node::Date(_) | Node::Text(_) | Node::Flag(_) | Node::Name(_) => {}
            Node::Template(pieces) => {
                for piece in pieces {
                    if let TemplatePart::Value(expr) = piece {
                        visit(expr);
                    }
                }
            }
            Node::Field(of, _) | Node::Unary(_, of) | Node::In(of, _) => visit(of),
            Node::Index(a, b) | Node::Binary(_, _, a, b) | Node::Range(a, b) => {
                visit(a);
                visit(b);
            }
            Node::Call(_, arguments) => arguments.iter().for_each(|argument| visit(&argument.value)),
            Node::Aggregate { value, binders, .. } => {
                for binder in binders {
                    visit(&binder.source);
                    if let Some(condition) = &binder.condition {
                        visit(condition);
                    }
                }
                visit(value);
            }
            Node::If(a, b, c) => {
                visit(a);
                visit(b);
                visit(c);
            }
            Node::Size(parts) | Node::List(parts) => parts.iter().for_each(visit),
            Node::Tolerance { value, down, up } => {
                visit(value);
                if let Some(down) = down {
                    visit(down);
                }
                visit(up);
            }
        }
    }
}
