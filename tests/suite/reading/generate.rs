//! Random designs: a text in every form that the language has, and the tree that it should give.
//!
//! The text and the tree are made side by side from one row of dice, the text with all the freedom
//! in blanks, line breaks and comments that a person has. So reading the text can be compared with a
//! tree that the parser had no hand in.

use proptest::prelude::*;
use smol_str::SmolStr;
use std::sync::Arc;
use wallplate::syntax::number::Number;
use wallplate::syntax::tree::{
    Accept, Argument, Binary, Binder, Change, Changes, Component, Date, Expr, Item, Kind, Let, Line, Measured, Node, Part, Property,
    PropertyType, Repeated, Rule, Tree, Unary, Use, Usual, Variant, Word,
};
use wallplate::text::Span;

/// A random design.
#[derive(Debug)]
pub struct Sample {
    /// As a person may have written it.
    pub text: String,
    /// What it says; without places and comments.
    pub tree: Tree,
    /// The comments in it, in order.
    pub comments: Vec<String>,
}

/// A row of dice as it was thrown; it is not worth printing, the text that comes of it is.
#[derive(Clone)]
pub struct Dice(Vec<u8>);

impl std::fmt::Debug for Dice {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} dice", self.0.len())
    }
}

/// Up to so many dice.
pub fn dice(most: usize) -> impl Strategy<Value = Dice> {
    prop::collection::vec(any::<u8>(), 0..most).prop_map(Dice)
}

/// A design from a row of dice; the longer the row, the larger the design.
pub fn design(Dice(dice): &Dice) -> Sample {
    let mut pen = Pen { dice: dice.iter().copied().collect(), text: String::new(), brackets: 0, judged: false, comments: Vec::new() };
    let line_end = pen.one_of(&["\n", "\n", "\n", "\r\n", "\r"]);
    let mut items = Vec::new();
    while !pen.dice.is_empty() && items.len() < 12 {
        pen.between_lines();
        items.push(pen.item());
        pen.line_end(true);
    }
    pen.between_lines();
    Sample { text: pen.text.replace('\n', line_end), tree: Tree { items, comments: Vec::new() }, comments: pen.comments }
}

/// An expression from a row of dice: its text and its tree.
pub fn expression(Dice(dice): &Dice) -> (String, Expr) {
    let mut pen = Pen { dice: dice.iter().copied().collect(), text: String::new(), brackets: 0, judged: false, comments: Vec::new() };
    let value = pen.item_value(4);
    (pen.text, value)
}

struct Pen {
    dice: std::collections::VecDeque<u8>,
    text: String,
    brackets: usize,
    /// A rule or a limit is being written: no tolerance stands there.
    judged: bool,
    comments: Vec<String>,
}

const UNITS: [&str; 16] = ["m", "mm", "ft", "in", "kN/m2", "kN·m", "kg/m3", "%", "deg", "1/m", "m/s", "lbf", "W/m2", "m^2", "°", "s⁻¹"];
const NAMES: [&str; 14] =
    ["a", "b2", "north_wall", "e", "main_roof", "x_", "gantry_post_of_the_far_side", "m", "inner", "tof", "vee", "ft", "mm", "open_sensor"];
const PROPERTIES: [&str; 12] = [
    "station",
    "offset",
    "x",
    "rests_on",
    "working_load",
    "operating_wind_of_the_day",
    "source",
    "to",
    "and",
    "in",
    "default",
    "level_of_the_running_surface",
];
const KINDS: [&str; 5] = ["clamp", "post", "beam", "roof", "sensor"];
const COMMENTS: [&str; 8] =
    ["# plain", "#", "# it's \"quoted", "# a { b } ( [", "#touching", "# as the tape reads 6' 2\"", "# − × – ½ \u{A0}\tx", "# }"];
const TEXTS: [&str; 12] = [
    "",
    "north wall",
    "a # b",
    "{ } ( [",
    "the \"tall\" one",
    "back\\slash",
    "\\",
    "\\\"",
    "ümläut − × ½ 屋根",
    "tab\there",
    "it ends with a comma,",
    "polar alignment is done by plate solving, and so no pole need be seen from this pier at all",
];

fn word(text: &str) -> Word {
    Word { text: SmolStr::new(text), span: Span::default() }
}

fn expr(node: Node) -> Expr {
    Expr { span: Span::default(), node }
}

impl Pen {
    fn roll(&mut self, sides: usize) -> usize {
        usize::from(self.dice.pop_front().unwrap_or(0)) % sides
    }

    /// Once in `n` times; never when the dice have run out.
    fn once_in(&mut self, n: usize) -> bool {
        self.roll(n) == n - 1
    }

    fn one_of<T: Copy>(&mut self, choices: &[T]) -> T {
        choices[self.roll(choices.len())]
    }

    fn put(&mut self, text: &str) {
        self.text.push_str(text);
    }

    fn comment(&mut self) {
        let comment = self.one_of(&COMMENTS);
        self.put(comment);
        self.put("\n");
        self.comments.push(comment.trim_end().to_owned());
    }

    /// What a writer may put between two words: at least a blank.
    fn blank(&mut self) {
        match self.roll(24) {
            20 => self.put("  "),
            21 => self.put("\t"),
            22 => self.put(" \u{A0}"),
            23 if self.brackets > 0 => self.line_break(),
            _ => self.put(" "),
        }
    }

    /// What may stand between a word and a sign, or may not.
    fn loose(&mut self) {
        if self.once_in(4) {
            self.blank();
        }
    }

    /// After a comma or an operator, or inside brackets, a line may end.
    fn after_sign(&mut self) {
        if self.once_in(8) { self.line_break() } else { self.blank() }
    }

    fn line_break(&mut self) {
        match self.roll(6) {
            3 => {
                self.put(" ");
                self.comment();
                self.put("   ");
            }
            4 => {
                self.put("\n  ");
                self.comment();
                self.put("      ");
            }
            5 => self.put("\u{A0}\n\n\t"),
            _ => self.put("\n      "),
        }
    }

    /// The end of a line, perhaps with a comment.
    fn line_end(&mut self, only_newline: bool) {
        match self.roll(8) {
            5 => {
                self.blank();
                self.comment();
            }
            6 if !only_newline => self.put(" ; "),
            7 if !only_newline => self.put(";\n"),
            _ => self.put("\n"),
        }
    }

    /// Empty lines, indent and comments before a line.
    fn between_lines(&mut self) {
        while self.once_in(5) {
            match self.roll(4) {
                0 => self.put("\n"),
                1 => self.put("\n\n\n"),
                2 => self.put("   "),
                _ => self.comment(),
            }
        }
        let indent = self.one_of(&["", "  ", "\t", "      "]);
        self.put(indent);
    }

    fn a_word(&mut self, words: &[&'static str]) -> Word {
        let text = self.one_of(words);
        self.put(text);
        word(text)
    }

    fn a_text(&mut self) -> Word {
        let text = self.one_of(&TEXTS);
        self.put(&format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\"")));
        word(text)
    }

    fn title(&mut self) -> Option<Word> {
        self.once_in(2).then(|| {
            self.blank();
            self.a_text()
        })
    }

    // ── values ──────────────────────────────────────────────────────────────────────────────────

    fn value(&mut self) -> Expr {
        let depth = 3;
        let first = self.item_value(depth);
        let mut items = vec![first];
        while self.once_in(5) {
            self.loose();
            self.put(",");
            self.after_sign();
            items.push(self.item_value(depth));
        }
        if items.len() == 1 { items.remove(0) } else { expr(Node::List(items)) }
    }

    fn item_value(&mut self, depth: usize) -> Expr {
        match self.roll(8) {
            6 => {
                let from = self.toleranced(depth);
                self.blank();
                self.put("to");
                self.blank();
                let to = self.toleranced(depth);
                expr(Node::Range(Box::new(from), Box::new(to)))
            }
            7 => {
                let mut parts = vec![self.toleranced(depth)];
                for _ in 0..=self.roll(2) {
                    self.blank();
                    self.put("by");
                    self.blank();
                    parts.push(self.toleranced(depth));
                }
                expr(Node::Size(parts))
            }
            _ => self.toleranced(depth),
        }
    }

    fn toleranced(&mut self, depth: usize) -> Expr {
        let value = Box::new(self.expression(0, depth));
        if self.brackets > 0 || self.judged {
            return *value;
        }
        match self.roll(8) {
            6 => {
                self.blank();
                let sign = self.one_of(&["±", "+-", "+/-"]);
                self.put(sign);
                self.blank();
                // One number: what is more stands in brackets.
                let up = Box::new(self.expression(9, depth.min(1)));
                expr(Node::Tolerance { value, down: None, up })
            }
            7 => {
                self.blank();
                self.put("+");
                let up = Box::new(self.quantity());
                self.blank();
                let sign = self.one_of(&["-", "−"]);
                self.put(sign);
                let down = Some(Box::new(self.quantity()));
                expr(Node::Tolerance { value, down, up })
            }
            _ => *value,
        }
    }

    /// An expression that may stand beside an operator of that precedence without brackets.
    fn expression(&mut self, precedence: u8, depth: usize) -> Expr {
        if self.once_in(12) {
            return self.bracketed(depth);
        }
        if depth == 0 {
            return self.leaf();
        }
        match self.roll(10) {
            5 | 6 => self.binary(precedence, depth),
            7 => self.unary(precedence, depth),
            8 if precedence == 0 => self.choice(depth),
            9 => self.postfix(depth),
            _ => self.leaf(),
        }
    }

    fn bracketed(&mut self, depth: usize) -> Expr {
        self.open("(");
        let value = if depth == 0 { self.leaf() } else { self.item_value(depth - 1) };
        self.close(")");
        value
    }

    fn open(&mut self, bracket: &str) {
        self.put(bracket);
        self.brackets += 1;
        self.loose();
    }

    fn close(&mut self, bracket: &str) {
        self.loose();
        self.put(bracket);
        self.brackets -= 1;
    }

    fn binary(&mut self, precedence: u8, depth: usize) -> Expr {
        let (signs, operator, own): (&[&str], Binary, u8) = self.one_of(&[
            (&["+"][..], Binary::Add, 5),
            (&["-", "−"][..], Binary::Subtract, 5),
            (&["*", "·", "⋅"][..], Binary::Multiply, 6),
            (&["/"][..], Binary::Divide, 6),
            (&["^"][..], Binary::Power, 8),
            (&["or"][..], Binary::Or, 1),
            (&["and"][..], Binary::And, 2),
            (&["=="][..], Binary::Equal, 4),
            (&["!=", "≠"][..], Binary::NotEqual, 4),
            (&["<"][..], Binary::Less, 4),
            (&["<=", "≤"][..], Binary::LessOrEqual, 4),
            (&[">"][..], Binary::Greater, 4),
            (&[">=", "≥"][..], Binary::GreaterOrEqual, 4),
        ]);
        let needs_brackets = own < precedence;
        if needs_brackets {
            self.open("(");
        }
        // Powers group to the right, all others to the left.
        let (left_side, right_side) = if operator == Binary::Power { (own + 1, own) } else { (own, own + 1) };
        let left = self.expression(left_side, depth - 1);
        // Behind a text `+` would go on with that text, if another follows.
        let (signs, operator): (&[&str], Binary) =
            if operator == Binary::Add && self.text.ends_with('"') { (&["-"], Binary::Subtract) } else { (signs, operator) };
        self.blank();
        let sign = self.one_of(signs);
        self.put(sign);
        self.after_sign();
        let right = self.expression(right_side, depth - 1);
        if needs_brackets {
            self.close(")");
        }
        expr(Node::Binary(operator, Span::default(), Box::new(left), Box::new(right)))
    }

    fn unary(&mut self, precedence: u8, depth: usize) -> Expr {
        let (sign, operator, own) = self.one_of(&[("-", Unary::Negate, 7), ("not", Unary::Not, 3), ("−", Unary::Negate, 7)]);
        let needs_brackets = own < precedence;
        if needs_brackets {
            self.open("(");
        }
        self.put(sign);
        if operator == Unary::Not {
            self.blank()
        } else {
            self.loose()
        }
        let of = self.expression(own, depth - 1);
        if needs_brackets {
            self.close(")");
        }
        expr(Node::Unary(operator, Box::new(of)))
    }

    fn choice(&mut self, depth: usize) -> Expr {
        self.put("if");
        self.blank();
        let condition = self.expression(0, depth - 1);
        self.blank();
        self.put("then");
        self.after_sign();
        let a = self.expression(0, depth - 1);
        self.blank();
        self.put("else");
        self.after_sign();
        let b = self.expression(0, depth - 1);
        expr(Node::If(Box::new(condition), Box::new(a), Box::new(b)))
    }

    fn postfix(&mut self, depth: usize) -> Expr {
        let mut of = match self.roll(4) {
            1 => self.bracketed(depth),
            2 => self.call(depth),
            _ => self.name(),
        };
        for _ in 0..=self.roll(3) {
            of = if self.once_in(3) {
                // Behind a blank the bracket of a list begins an argument with a name.
                self.open("[");
                let at = self.item_value(depth - 1);
                self.close("]");
                expr(Node::Index(Box::new(of), Box::new(at)))
            } else {
                self.loose();
                self.put(".");
                let field = self.a_word(&NAMES);
                expr(Node::Field(Box::new(of), field))
            };
        }
        of
    }

    fn call(&mut self, depth: usize) -> Expr {
        let name = self.a_word(&["sum", "sqrt", "velocity_pressure", "f"]);
        self.open("(");
        let node = match self.roll(4) {
            1 => Node::Call(name, Vec::new()),
            2 => {
                let value = self.item_value(depth - 1);
                self.blank();
                self.put("for");
                self.after_sign();
                let binders = self.binders(depth - 1);
                Node::Aggregate { name, value: Box::new(value), binders }
            }
            _ => {
                let mut arguments = vec![self.argument(depth - 1)];
                while self.once_in(3) {
                    self.loose();
                    self.put(",");
                    self.after_sign();
                    arguments.push(self.argument(depth - 1));
                }
                Node::Call(name, arguments)
            }
        };
        self.close(")");
        expr(node)
    }

    fn argument(&mut self, depth: usize) -> Argument {
        if !self.once_in(3) {
            return Argument { name: None, value: self.item_value(depth) };
        }
        let name = Some(self.a_word(&NAMES));
        self.blank();
        // A name goes in front of what begins with a letter, a digit, a quote or a bracket.
        let value = match self.roll(4) {
            1 => self.bracketed(depth),
            2 => self.list(depth),
            3 => self.name(),
            _ => self.quantity(),
        };
        Argument { name, value }
    }

    fn binders(&mut self, depth: usize) -> Vec<Binder> {
        let mut binders = vec![self.binder(depth)];
        while self.once_in(4) {
            self.loose();
            self.put(",");
            self.after_sign();
            binders.push(self.binder(depth));
        }
        binders
    }

    fn binder(&mut self, depth: usize) -> Binder {
        let name = self.a_word(&["s", "e", "c"]);
        self.blank();
        self.put("in");
        self.blank();
        let source = Arc::new(self.expression(1, depth.min(1)));
        let condition = self.once_in(2).then(|| {
            self.blank();
            self.put("where");
            self.after_sign();
            Arc::new(self.expression(0, depth))
        });
        Binder { span: Span::default(), name, source, condition }
    }

    fn list(&mut self, depth: usize) -> Expr {
        let mut items = Vec::new();
        self.open("[");
        while self.once_in(2) {
            if !items.is_empty() {
                self.put(",");
                self.after_sign();
            }
            items.push(if depth == 0 { self.leaf() } else { self.item_value(depth - 1) });
        }
        self.close("]");
        expr(Node::List(items))
    }

    fn leaf(&mut self) -> Expr {
        match self.roll(8) {
            0 | 1 => self.quantity(),
            2 => self.date(),
            3 => expr(Node::Text(self.a_text().text)),
            4 => {
                let flag = self.once_in(2);
                self.put(if flag { "yes" } else { "no" });
                expr(Node::Flag(flag))
            }
            5 if self.brackets < 6 => self.call(1),
            6 if self.brackets < 6 => self.list(0),
            _ => self.name(),
        }
    }

    fn name(&mut self) -> Expr {
        expr(Node::Name(self.a_word(&NAMES).text))
    }

    fn date(&mut self) -> Expr {
        let (year, month, day) = (2020 + self.roll(20), 1 + self.roll(12), 1 + self.roll(28));
        self.put(&format!("{year:04}-{month:02}-{day:02}"));
        expr(Node::Date(Date { year: i32::try_from(year).unwrap(), month: u8::try_from(month).unwrap(), day: u8::try_from(day).unwrap() }))
    }

    fn quantity(&mut self) -> Expr {
        let count = match self.roll(6) {
            4 => 2,
            5 => 3,
            _ => 1,
        };
        let mut parts = Vec::new();
        for at in 0..count {
            if at > 0 {
                self.blank();
            }
            let number = self.number();
            let unit = (count > 1 || !self.once_in(4)).then(|| {
                // A number that `1/m` touches would be another number.
                self.blank();
                self.a_word(&UNITS)
            });
            parts.push(Part { number, unit, span: Span::default() });
        }
        expr(Node::Quantity(parts))
    }

    fn number(&mut self) -> Number {
        let (a, b, c) = (self.roll(100), self.roll(16), 2 + self.roll(14));
        let figures = |n: usize| f64::from(u32::try_from(n).unwrap());
        let (text, number) = match self.roll(6) {
            1 => (format!("{a}-{b}/{c} "), figures(a) + figures(b) / figures(c)),
            2 => (format!("{b}/{c} "), figures(b) / figures(c)),
            3 => (format!("{a}.{b}"), format!("{a}.{b}").parse().unwrap()),
            4 => (format!(".{c}"), format!("0.{c}").parse().unwrap()),
            5 => (format!("{a}e-{b} "), format!("{a}e-{b}").parse().unwrap()),
            _ => (format!("{a} "), figures(a)),
        };
        self.put(&text);
        let read = Number::read(text.trim_end());
        assert_eq!(read.worth().to_bits(), f64::to_bits(number), "{text}");
        read
    }

    // ── lines and blocks ────────────────────────────────────────────────────────────────────────

    /// The entries of a block, each with its line end.
    fn block<T>(&mut self, mut entry: impl FnMut(&mut Self) -> T) -> Vec<T> {
        match self.roll(8) {
            5 => self.put("{"),
            6 => {
                self.put("\n");
                self.put("{\n");
            }
            7 => {
                self.put("  ");
                self.comment();
                self.put("{");
            }
            _ => self.put(" {"),
        }
        let on_one_line = self.once_in(3);
        let mut entries = Vec::new();
        while entries.len() < 6 && self.once_in(2) {
            if on_one_line {
                self.put(if entries.is_empty() { " " } else { "; " });
                entries.push(entry(self));
                continue;
            }
            if entries.is_empty() {
                self.line_end(true);
            }
            self.between_lines();
            entries.push(entry(self));
            self.line_end(false);
        }
        if !on_one_line {
            self.between_lines();
        }
        self.put(" }");
        entries
    }

    fn line(&mut self) -> Line {
        let name = self.a_word(&PROPERTIES);
        self.blank();
        let value = Arc::new(self.value());
        Line { span: Span::default(), name, value, guessed: self.guessed() }
    }

    fn guessed(&mut self) -> Option<Span> {
        self.once_in(8).then(|| {
            self.blank();
            self.put("guessed");
            Span::default()
        })
    }

    fn let_line(&mut self) -> Let {
        self.put("let");
        self.blank();
        let name = self.a_word(&NAMES);
        self.blank();
        let value = Arc::new(self.value());
        Let { span: Span::default(), name, value, guessed: self.guessed() }
    }

    fn item(&mut self) -> Item {
        match self.roll(12) {
            0 => {
                self.put("use");
                self.blank();
                let is_file = self.once_in(2);
                let target = if is_file { self.a_text() } else { self.a_word(&NAMES) };
                Item::Use(Use { span: Span::default(), target, is_file })
            }
            1 | 2 => Item::Let(self.let_line()),
            3 => {
                self.put("pattern");
                self.blank();
                Item::Pattern(self.component(false))
            }
            4 => {
                self.put("variant");
                self.blank();
                let (name, title) = (self.a_word(&NAMES), self.title());
                Item::Variant(Variant { span: Span::default(), name, title, changes: self.changes() })
            }
            5 => {
                self.put("measured");
                self.blank();
                let Node::Date(date) = self.date().node else { unreachable!() };
                let title = self.title();
                Item::Measured(Measured { span: Span::default(), date, date_span: Span::default(), title, changes: self.changes() })
            }
            6 => {
                self.put("accept");
                self.blank();
                let rule = self.a_word(&["sky.pole_is_visible", "travel.open_sensor_margin"]);
                self.judged = true;
                let lines = self.block(Self::line);
                self.judged = false;
                Item::Accept(Accept { span: Span::default(), rule, lines })
            }
            7 => self.kind(),
            8 => self.rule(),
            _ => Item::Component(self.component(true)),
        }
    }

    fn component(&mut self, free: bool) -> Component {
        let kind = self.a_word(&KINDS);
        let (mut name, mut elements) = (None, None);
        if !free || !self.once_in(6) {
            self.blank();
            name = Some(self.a_word(&NAMES));
            if free && self.once_in(4) {
                let (first, last) = (1, 1 + u32::try_from(self.roll(5)).unwrap());
                self.loose();
                self.put("[");
                self.put(&format!("{first}..{last}"));
                self.put("]");
                elements = Some((first, last, Span::default()));
            }
        }
        let title = self.title();
        let like = self.once_in(3).then(|| {
            self.blank();
            self.put("like");
            self.blank();
            self.a_word(&NAMES)
        });
        Component { span: Span::default(), kind, name, elements, title, like, lines: self.block(Self::line) }
    }

    fn changes(&mut self) -> Changes {
        let mut changes = Changes::default();
        let entries = self.block(|pen| if pen.once_in(4) { Err(pen.let_line()) } else { Ok(pen.change()) });
        for entry in entries {
            match entry {
                Ok(change) => changes.components.push(change),
                Err(line) => changes.lets.push(line),
            }
        }
        changes
    }

    fn change(&mut self) -> Change {
        let name = self.a_word(&NAMES);
        let element = self.once_in(4).then(|| {
            self.put("[2]");
            2
        });
        Change { span: Span::default(), name, element, lines: self.block(Self::line) }
    }

    #[expect(clippy::result_large_err, reason = "a line or a property, neither of them an error")]
    fn kind(&mut self) -> Item {
        self.put("kind");
        self.blank();
        let (name, title) = (self.a_word(&KINDS), self.title());
        let mut kind = Kind { span: Span::default(), name, title, facts: Vec::new(), lets: Vec::new(), properties: Vec::new() };
        let entries = self.block(|pen| {
            if pen.once_in(4) {
                let name = pen.a_word(&["one_only", "ground", "source", "caution"]);
                pen.blank();
                Ok(Line { span: Span::default(), name, value: Arc::new(pen.value()), guessed: None })
            } else if pen.once_in(4) {
                let before = std::mem::replace(&mut pen.judged, true);
                let step = pen.let_line();
                pen.judged = before;
                Err(Ok(step))
            } else {
                Err(Err(pen.property()))
            }
        });
        for entry in entries {
            match entry {
                Ok(fact) => kind.facts.push(fact),
                Err(Ok(step)) => kind.lets.push(step),
                Err(Err(property)) => kind.properties.push(property),
            }
        }
        Item::Kind(kind)
    }

    fn words(&mut self, words: &[&'static str]) -> Vec<Word> {
        let mut found = vec![self.a_word(words)];
        while self.once_in(3) {
            self.loose();
            self.put(",");
            self.after_sign();
            found.push(self.a_word(words));
        }
        found
    }

    fn property(&mut self) -> Property {
        let name = self.a_word(&["station", "x", "working_load", "operating_wind_of_the_day", "to"]);
        self.blank();
        let of = |pen: &mut Self, word: &str| {
            pen.put(word);
            pen.blank();
            pen.put("of");
            pen.blank();
        };
        let ty = match self.roll(9) {
            1 => {
                let many = self.once_in(2);
                self.put(if many { "links" } else { "link" });
                self.blank();
                self.put("to");
                self.blank();
                PropertyType::Link { many, kinds: self.words(&KINDS) }
            }
            2 => {
                of(self, "one");
                PropertyType::OneOf(self.words(&["vee", "flat", "shut", "open"]))
            }
            3 => {
                of(self, "list");
                PropertyType::ListOf(self.a_word(&["length", "text"]))
            }
            4 => {
                of(self, "range");
                PropertyType::RangeOf(self.a_word(&["length", "force"]))
            }
            5 => {
                of(self, "size");
                PropertyType::SizeOf(self.a_word(&["length", "force"]))
            }
            6 => {
                self.put("as");
                self.blank();
                PropertyType::As(self.a_word(&["values", "value"]))
            }
            7 => {
                of(self, "item");
                PropertyType::ItemOf(self.a_word(&["values", "list"]))
            }
            8 => {
                of(self, "root");
                PropertyType::RootOf(self.a_word(&["value"]))
            }
            _ => PropertyType::Plain(self.a_word(&["length", "text", "yes_no"])),
        };
        let mut property = Property {
            span: Span::default(),
            name,
            ty,
            required: false,
            default: None,
            assumed: None,
            carrying: Vec::new(),
            bounds: Vec::new(),
            usual: Vec::new(),
            doc: None,
            found: None,
            source: None,
            when: None,
        };
        while self.once_in(2) {
            self.blank();
            self.clause(&mut property);
        }
        property
    }

    fn clause(&mut self, property: &mut Property) {
        match self.roll(10) {
            9 => {
                self.put("found");
                self.blank();
                property.found = Some(self.a_text());
            }
            7 => {
                self.put("when");
                self.blank();
                property.when = Some(Arc::new(self.expression(0, 1)));
            }
            1 => {
                self.put("default");
                self.blank();
                property.default = Some(Arc::new(self.item_value(2)));
            }
            2 => {
                self.put("assumed");
                self.blank();
                property.default = Some(Arc::new(self.item_value(1)));
                self.blank();
                self.put("because");
                self.blank();
                property.assumed = Some(self.a_text());
            }
            3 => {
                self.put("source");
                self.blank();
                property.source = Some(self.a_text());
            }
            4 => {
                self.put("carrying");
                self.blank();
                property.carrying = self.words(&["uplift", "gravity"]);
            }
            5 => {
                let word = self.a_word(&["at_least", "at_most", "above", "below"]);
                self.blank();
                let before = std::mem::replace(&mut self.judged, true);
                let limit = Arc::new(self.item_value(1));
                self.judged = before;
                property.bounds.push((word, limit));
            }
            6 => {
                self.put("usually");
                self.blank();
                let before = std::mem::replace(&mut self.judged, true);
                let range = Arc::new(self.item_value(1));
                self.judged = before;
                self.blank();
                self.put("because");
                self.blank();
                property.usual.push(Usual { range, because: self.a_text() });
            }
            8 if property.doc.is_none() => property.doc = Some(self.a_text()),
            _ => {
                self.put("required");
                property.required = true;
            }
        }
    }

    fn repeated(&mut self) -> Repeated {
        self.put("for");
        self.blank();
        let name = self.a_word(&NAMES);
        self.blank();
        self.put("in");
        self.loose();
        self.put("[");
        self.loose();
        let words = self.words(&["open", "closed"]);
        self.loose();
        self.put("]");
        Repeated { span: Span::default(), name, words, in_title: Vec::new() }
    }

    fn rule(&mut self) -> Item {
        self.put("rule");
        self.blank();
        let mut names = self.words(&["travel.open_sensor_margin", "a.b"]).into_iter();
        let (name, also) = (names.next().unwrap(), names.collect());
        let title = self.title();
        let mut rule =
            Rule { span: Span::default(), name, also, title, repeated: None, each: Vec::new(), lets: Vec::new(), lines: Vec::new() };
        let mut repeats = self.once_in(3);
        enum Entry {
            For(Repeated),
            Each(Vec<Binder>),
            Let(Let),
            Line(Line),
        }
        let entries = self.block(|pen| {
            if std::mem::take(&mut repeats) {
                Entry::For(pen.repeated())
            } else if pen.once_in(3) {
                pen.put("each");
                pen.blank();
                Entry::Each(pen.binders(2))
            } else if pen.once_in(4) {
                pen.judged = true;
                let line = pen.let_line();
                pen.judged = false;
                Entry::Let(line)
            } else {
                let name = pen.a_word(&["demand", "capacity", "require", "when", "source"]);
                pen.blank();
                pen.judged = true;
                let value = Arc::new(pen.value());
                pen.judged = false;
                Entry::Line(Line { span: Span::default(), name, value, guessed: pen.guessed() })
            }
        });
        for entry in entries {
            match entry {
                Entry::For(line) => rule.repeated = Some(line),
                Entry::Each(binders) => rule.each.extend(binders),
                Entry::Let(line) => rule.lets.push(line),
                Entry::Line(line) => rule.lines.push(line),
            }
        }
        Item::Rule(rule)
    }
}
