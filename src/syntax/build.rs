//! From the grammar's pairs to the syntax tree: statements, blocks and lines.
//!
//! In: one top-level statement of the masked text, with its offset in the file. Out: an [`Item`] and
//! what is wrong with the lines that could not be read.

use super::explain;
use super::grammar::{Grammar, Rule};
use super::tree::{
    Accept, Change, Changes, Component, Item, Kind, Let, Line, Measured, Property, PropertyType, Repeated, Text, Use, Usual, Variant, Word,
};
use crate::problem::Problem;
use crate::text::{FileId, Span};
use pest::Parser;
use pest::iterators::{Pair, Pairs};
use smol_str::SmolStr;
use std::sync::Arc;

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
    /// Where a `\` was taken out of what is being read, which stood in a text in quotes: before which of its bytes.
    pub escapes: Vec<usize>,
    /// What went wrong so far.
    pub problems: Vec<Problem>,
    /// Why no tolerance may stand where an expression is being read; nothing where one may.
    pub no_tolerance: Option<NoTolerance>,
}

/// Why no tolerance may stand somewhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoTolerance {
    /// Brackets, an argument, a condition: it would be lost on the way out.
    Inside,
    /// A line that judges or tells, or a limit: what is toleranced are the lines of a design.
    Judged,
}

/// Which form of block over bindings: it decides which of its texts hold values in braces.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Form {
    Rule,
    Paper,
}

pub(super) type Children<'p> = std::iter::Filter<Pairs<'p, Rule>, fn(&Pair<'p, Rule>) -> bool>;

/// What stands in a production, without the keywords that hold it together.
pub(super) fn inside<'p>(pair: &Pair<'p, Rule>) -> Children<'p> {
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
                | Rule::formula_kw
                | Rule::table_kw
                | Rule::as_kw
                | Rule::item_kw
                | Rule::root_kw
                | Rule::when_kw
                | Rule::rule_kw
                | Rule::each_kw
                | Rule::pattern_kw
                | Rule::variant_kw
                | Rule::measured_kw
                | Rule::accept_kw
                | Rule::default_kw
                | Rule::assumed_kw
                | Rule::because_kw
                | Rule::usually_kw
                | Rule::found_kw
                | Rule::guessed_kw
                | Rule::source_kw
                | Rule::carrying_kw
        )
    })
}

impl Builder<'_> {
    pub(super) fn span_of(&self, pair: &Pair<'_, Rule>) -> Span {
        let inner = pair.as_span();
        self.span(inner.start(), inner.end())
    }

    /// The same without the blanks behind it, in whose place a comment may stand.
    fn span_of_line(&self, pair: &Pair<'_, Rule>) -> Span {
        let start = pair.as_span().start();
        self.span(start, start + pair.as_str().trim_end().len())
    }

    pub(super) fn span(&self, start: usize, end: usize) -> Span {
        let at = |offset: usize| self.place(offset).min(self.end);
        Span::within(self.text, self.file, at(start), at(end))
    }

    /// Where a byte of what is being read stands in the text.
    fn place(&self, offset: usize) -> usize {
        self.base + offset + self.escapes.partition_point(|escape| *escape < offset)
    }

    pub(super) fn word(&self, pair: &Pair<'_, Rule>) -> Word {
        Word { text: SmolStr::new(pair.as_str()), span: self.span_of(pair) }
    }

    pub(super) fn quoted(&self, pair: &Pair<'_, Rule>) -> Text {
        let piece = |pair: Pair<'_, Rule>| {
            let inside = pair.as_str().trim_start_matches('"');
            let inside = inside.strip_suffix('"').unwrap_or(inside);
            if inside.contains('\\') { inside.replace("\\\"", "\"").replace("\\\\", "\\") } else { inside.to_owned() }
        };
        let text: String = inside(pair).map(piece).collect();
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
                None => Item::Broken(whole, None),
            },
            Err(_) => {
                self.explain(Rule::only_header, 0, header_of(piece));
                Item::Broken(whole, second_word(piece))
            }
        }
    }

    pub(super) fn explain(&mut self, strict: Rule, offset: usize, slice: &str) {
        let length = self.end.saturating_sub(self.base + offset);
        let trimmed = slice.get(..length).unwrap_or(slice).trim_end();
        let at = u32::try_from(self.base + offset).unwrap_or(0);
        let end = self.base + offset + trimmed.len();
        let written = self.text.get(self.base + offset..end).unwrap_or(trimmed);
        let block = self.masked.get(end..).is_some_and(|rest| rest.trim_start().starts_with('{'));
        self.problems.push(explain::broken(strict, trimmed, written, self.file, at, block));
    }

    /// As [`Builder::explain`], for what stands between the braces of a text in quotes.
    pub(super) fn explain_template(&mut self, inside: &str) {
        let mut problem = explain::broken(Rule::shown, inside.trim_end(), inside.trim_end(), self.file, 0, false);
        let place = |span: &mut Span| *span = self.span(span.start as usize, span.end as usize);
        problem.places.iter_mut().for_each(|one| place(&mut one.span));
        for mend in &mut problem.mends {
            place(&mut mend.span);
            mend.text = escaped(&mend.text);
        }
        self.problems.push(problem);
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
            Rule::kind => self.declared(inner, span).map(Item::Kind),
            Rule::formula => self.declared(inner, span).map(Item::Formula),
            Rule::shape => self.declared(inner, span).map(Item::Table),
            Rule::words_block | Rule::lines_block => self.words(inner, span),
            Rule::rule_block => self.rule(inner, span, Form::Rule).map(Item::Rule),
            Rule::paper_block => self.paper(inner, span),
            Rule::broken_statement => {
                self.broken_statement(inner);
                None
            }
            _ => None,
        };
        item.unwrap_or_else(|| Item::Broken(whole, second_word(self.masked.get(self.base..self.end).unwrap_or_default())))
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
        let guessed = inner.next().map(|word| self.span_of_line(&word));
        let span = Span { start: name.span.start.saturating_sub(4), ..name.span }.to(guessed.unwrap_or(value.span));
        Some(Let { span, name, value: Arc::new(value), guessed })
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
        let mut numbers = inside(pair).map(|digits| digits.as_str().parse::<u32>());
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
        let guessed = inner.next().map(|word| self.span_of_line(&word));
        Some(Line { span: name.span.to(guessed.unwrap_or(value.span)), name, value: Arc::new(value), guessed })
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
                Rule::body => lines = self.untoleranced(NoTolerance::Judged, |this| this.lines(inside(&pair))),
                _ => {}
            }
        }
        Some(Item::Accept(Accept { span, rule: rule?, lines }))
    }

    fn words(&mut self, mut inner: Children<'_>, span: Span) -> Option<Item> {
        let sort = self.word(&inner.next()?);
        Some(Item::Words(super::tree::Words { sort, block: self.declared(inner, span)? }))
    }

    /// The block of a kind, a formula, a table, or of words.
    fn declared(&mut self, inner: Children<'_>, span: Span) -> Option<Kind> {
        let (mut name, mut title, mut facts, mut lets, mut properties) = (None, None, Vec::new(), Vec::new(), Vec::new());
        for pair in inner {
            match pair.as_rule() {
                Rule::name => name = Some(self.word(&pair)),
                Rule::text => title = Some(self.quoted(&pair)),
                Rule::body => facts = self.untoleranced(NoTolerance::Judged, |this| this.lines(inside(&pair))),
                Rule::kind_body | Rule::signature_body => {
                    // The line above is one of the last property.
                    let mut goes_on = false;
                    for entry in inside(&pair) {
                        let rule = entry.as_rule();
                        match rule {
                            Rule::kind_fact | Rule::signature_fact => facts.extend(self.line(entry)),
                            Rule::let_line => {
                                lets.extend(self.untoleranced(NoTolerance::Judged, |this| this.let_line(inside(&entry))));
                            }
                            Rule::property => properties.extend(self.property(entry)),
                            Rule::more => match properties.last_mut().filter(|_| goes_on) {
                                Some(property) => {
                                    property.span = property.span.to(self.span_of_line(&entry));
                                    self.clauses(property, inside(&entry));
                                }
                                None => self.problems.push(goes_on_with_nothing(self.span_of_line(&entry))),
                            },
                            Rule::broken_line => {
                                self.explain(Rule::only_property, entry.as_span().start(), entry.as_str());
                            }
                            _ => {}
                        }
                        goes_on = matches!(rule, Rule::property | Rule::more);
                    }
                }
                _ => {}
            }
        }
        Some(Kind { span, name: name?, title, facts, lets, properties })
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
            usual: Vec::new(),
            doc: None,
            found: None,
            source: None,
            when: None,
        };
        self.clauses(&mut property, inner);
        Some(property)
    }

    /// What stands behind a property's type, on its line or on those that go on with it.
    fn clauses(&mut self, property: &mut Property, clauses: Children<'_>) {
        for clause in clauses.filter_map(|clause| inside(&clause).next()) {
            let rule = clause.as_rule();
            let mut parts = inside(&clause);
            match rule {
                Rule::required => property.required = true,
                Rule::text => {
                    let text = self.quoted(&clause);
                    if let Some(first) = property.doc.replace(text.clone()) {
                        self.problems.push(
                            Problem::error("a property has one text", text.span, "the second")
                                .also(first.span, "the first")
                                .help("write `+` between two pieces of one text"),
                        );
                    }
                }
                Rule::default => property.default = parts.next().map(|item| Arc::new(self.item_value(item))),
                Rule::assumed => {
                    property.default = parts.next().map(|item| Arc::new(self.item_value(item)));
                    property.assumed = parts.next().and_then(|because| inside(&because).next()).map(|text| self.quoted(&text));
                }
                Rule::usual => {
                    let range = parts.next().map(|item| self.untoleranced(NoTolerance::Judged, |this| this.item_value(item)));
                    let because = parts.next().and_then(|because| inside(&because).next()).map(|text| self.quoted(&text));
                    property.usual.extend(range.zip(because).map(|(range, because)| Usual { range: Arc::new(range), because }));
                }
                Rule::found => property.found = parts.next().map(|text| self.quoted(&text)),
                Rule::source => property.source = parts.next().map(|text| self.quoted(&text)),
                Rule::only_when => property.when = parts.next().map(|condition| Arc::new(self.expression(condition))),
                Rule::carrying => property.carrying = parts.map(|word| self.word(&word)).collect(),
                Rule::bound => {
                    if let (Some(word), Some(limit)) = (parts.next(), parts.next()) {
                        let word = self.word(&word);
                        let limit = self.untoleranced(NoTolerance::Judged, |this| this.item_value(limit));
                        property.bounds.push((word, Arc::new(limit)));
                    }
                }
                _ => {}
            }
        }
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
            Rule::as_type => PropertyType::As(self.word(&inner.next()?)),
            Rule::item_of => PropertyType::ItemOf(self.word(&inner.next()?)),
            Rule::root_of => PropertyType::RootOf(self.word(&inner.next()?)),
            _ => PropertyType::Plain(self.word(&inner.next()?)),
        })
    }

    fn paper(&mut self, mut inner: Children<'_>, span: Span) -> Option<Item> {
        let sort = self.word(&inner.next()?);
        Some(Item::Paper(super::tree::Paper { sort, block: self.rule(inner, span, Form::Paper)? }))
    }

    fn rule(&mut self, inner: Children<'_>, span: Span, form: Form) -> Option<super::tree::Rule> {
        let (mut names, mut title, mut in_title) = (Vec::new(), None, Vec::new());
        let (mut each, mut repeated, mut lets, mut lines) = (Vec::new(), None, Vec::new(), Vec::new());
        for pair in inner {
            match pair.as_rule() {
                Rule::path => names.push(self.word(&pair)),
                Rule::text => {
                    in_title = self.holes(&pair);
                    title = Some(self.quoted(&pair));
                }
                Rule::rule_body => {
                    for entry in inside(&pair) {
                        match entry.as_rule() {
                            Rule::each_line => {
                                for binder in inside(&entry) {
                                    each.extend(self.binder(binder));
                                }
                            }
                            Rule::for_line => {
                                let line = self.repeated(entry, &in_title);
                                if let (Some(first), Some(second)) = (&repeated, &line) {
                                    self.problems.push(second_for(first, second));
                                } else {
                                    repeated = line;
                                }
                            }
                            Rule::line => {
                                let line = self.untoleranced(NoTolerance::Judged, |this| this.line(entry));
                                lines.extend(line.map(|line| self.with_template(line, form)));
                            }
                            Rule::let_line => {
                                lets.extend(self.untoleranced(NoTolerance::Judged, |this| this.let_line(inside(&entry))));
                            }
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
        let mut names = names.into_iter();
        Some(super::tree::Rule { span, name: names.next()?, also: names.collect(), title, repeated, each, lets, lines })
    }

    /// `for end in [open, closed]`
    fn repeated(&mut self, pair: Pair<'_, Rule>, in_title: &[Word]) -> Option<Repeated> {
        let span = self.span_of(&pair);
        let mut inner = inside(&pair);
        let name = self.word(&inner.next()?);
        let words = inside(&inner.next()?).map(|word| self.word(&word)).collect();
        let in_title = in_title.iter().filter(|hole| hole.text == name.text).map(|hole| hole.span).collect();
        Some(Repeated { span, name, words, in_title })
    }

    /// What stands in braces in a title, where it is a name and nothing else.
    fn holes(&self, title: &Pair<'_, Rule>) -> Vec<Word> {
        let (text, start) = (title.as_str(), title.as_span().start());
        let mut holes = Vec::new();
        for (open, _) in text.match_indices('{') {
            let inside = text.get(open + 1..).and_then(|rest| rest.split('}').next()).unwrap_or_default();
            if super::is_name(inside) {
                let span = self.span(start + open + 1, start + open + 1 + inside.len());
                holes.push(Word { text: SmolStr::new(inside), span });
            }
        }
        holes
    }
}

fn second_for(first: &Repeated, second: &Repeated) -> Problem {
    Problem::error("a rule has one line `for`", second.span, "the second")
        .also(first.span, "the first")
        .help("make two rules of it; `each end in [open, closed]` goes over both ends within one rule")
}

fn goes_on_with_nothing(span: Span) -> Problem {
    Problem::error("this line goes on with a property, and there is none above it", span, "this line")
        .help("write the property's name and its type first: `height  length  required`")
}

/// What stands for a text between quotes.
fn escaped(text: &str) -> String {
    text.replace('\\', "\\\\").replace('"', "\\\"")
}

/// What the second word of a header would have named: `let eave = 2.1 m`.
fn second_word(piece: &str) -> Option<SmolStr> {
    let word = header_of(piece.trim_start()).split_whitespace().nth(1)?;
    super::is_name(word).then(|| SmolStr::new(word))
}

fn header_of(piece: &str) -> &str {
    let end = piece.find(['{', '\n', '\r']).unwrap_or(piece.len());
    piece.get(..end).unwrap_or(piece)
}
