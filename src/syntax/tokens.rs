//! The words and signs of a text, each with how it stands to the one before it.
//!
//! In: a text that the grammar lets through. Out: its tokens in order, comments, `;` and blanks left
//! out. What belongs together in one token (a date, a unit, a text in quotes) is decided by the
//! grammar alone, so that no other pass has to cut a text into words a second time.

use super::grammar::{Grammar, Rule};
use super::{LARGE_STACK, LINE_FOR_SMALL_STACK, reading};
use crate::text::{FileId, Span};
use pest::Parser;
use pest::iterators::Pair;

/// A word or sign of a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Token {
    /// Where it stands.
    pub span: Span,
    /// How it stands to the token before it.
    pub joint: Joint,
}

/// How a token stands to the one before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Joint {
    /// It begins a statement or a line, or closes a block.
    Begins,
    /// It begins the value of a line.
    Value,
    /// It begins a clause of a kind's property: `required`, `default …`, a text.
    Clause,
    /// A blank stands between them.
    Apart,
    /// They touch.
    Touching,
}

/// The tokens of a text; none of a statement that the grammar does not let through.
#[must_use]
pub fn tokens(text: &str) -> Vec<Token> {
    let reading = reading::read(text, FileId::default());
    let mut walk = Walk { text: &reading.masked, base: 0, tokens: Vec::new(), joint: Joint::Begins, after_unit: false };
    for stretch in reading.statements.iter().filter(|stretch| stretch.within_bounds && stretch.unclosed == 0) {
        let Some(statement) = reading.masked.get(stretch.range.clone()) else { continue };
        let mut read = || {
            if let Some(whole) = Grammar::parse(Rule::statement, statement).ok().and_then(|mut pairs| pairs.next()) {
                walk.base = stretch.range.start;
                walk.joint = Joint::Begins;
                walk.pair(&whole);
            }
        };
        if stretch.longest_line > LINE_FOR_SMALL_STACK { stacker::grow(LARGE_STACK, read) } else { read() }
    }
    walk.tokens
}

struct Walk<'t> {
    text: &'t str,
    /// Offset of the statement being walked.
    base: usize,
    tokens: Vec<Token>,
    /// How the next token stands to the last.
    joint: Joint,
    /// The last token is a unit: what touches it would be part of it.
    after_unit: bool,
}

impl Walk<'_> {
    fn push(&mut self, start: usize, end: usize) {
        let at = |offset: usize| u32::try_from(offset).unwrap_or(u32::MAX);
        self.tokens.push(Token { span: Span { file: FileId::default(), start: at(start), end: at(end) }, joint: self.joint });
        self.joint = Joint::Apart;
        self.after_unit = false;
    }

    /// What the grammar has no name for: brackets, commas, the signs of a tolerance.
    fn signs(&mut self, start: usize, end: usize, within: Rule) {
        let mut at = start;
        while let Some(sign) = self.text.get(at..end).and_then(|rest| rest.chars().next()) {
            let rest = self.text.get(at..end).unwrap_or_default();
            let length = ["+/-", "+-", ".."].iter().find(|sign| rest.starts_with(**sign)).map_or(sign.len_utf8(), |sign| sign.len());
            match sign {
                ' ' | '\t' | '\n' | '\r' | ';' | '\u{A0}' | '\u{2009}' | '\u{202F}' => {}
                '(' | '[' => {
                    let to_name = matches!(within, Rule::call_open | Rule::index | Rule::elements | Rule::change);
                    self.joint = if to_name { Joint::Touching } else { self.joint };
                    self.push(at, at + length);
                    self.joint = Joint::Touching;
                }
                ')' | ']' | ',' => {
                    self.joint = Joint::Touching;
                    self.push(at, at + length);
                }
                '{' => {
                    self.push(at, at + length);
                    self.joint = Joint::Begins;
                }
                '}' => {
                    self.joint = Joint::Begins;
                    self.push(at, at + length);
                    self.joint = Joint::Begins;
                }
                _ => {
                    let touching = length == 2 && sign == '.';
                    self.joint = if touching { Joint::Touching } else { self.joint };
                    self.push(at, at + length);
                    if touching || within == Rule::signed_pair {
                        self.joint = Joint::Touching;
                    }
                }
            }
            at += length;
        }
    }

    fn pair(&mut self, pair: &Pair<'_, Rule>) {
        let rule = pair.as_rule();
        let (start, end) = (self.base + pair.as_span().start(), self.base + pair.as_span().end());
        match rule {
            Rule::EOI => return,
            Rule::field => {
                self.joint = Joint::Touching;
                return self.push(start, end);
            }
            Rule::quoted | Rule::path => return self.push(start, end),
            Rule::pow if !self.after_unit => {
                self.joint = Joint::Touching;
                self.push(start, end);
                self.joint = Joint::Touching;
                return;
            }
            Rule::unit => {
                self.push(start, end);
                self.after_unit = true;
                return;
            }
            Rule::neg => {
                self.push(start, end);
                self.joint = Joint::Touching;
                return;
            }
            Rule::line
            | Rule::property
            | Rule::kind_fact
            | Rule::signature_fact
            | Rule::each_line
            | Rule::for_line
            | Rule::let_line
            | Rule::change => self.joint = Joint::Begins,
            Rule::clause => self.joint = Joint::Clause,
            _ => {}
        }
        let named = match rule {
            Rule::line | Rule::property | Rule::kind_fact | Rule::signature_fact | Rule::each_line | Rule::for_line => 1,
            Rule::let_line => 2,
            _ => usize::MAX,
        };
        let mut at = start;
        let mut inner = pair.clone().into_inner().enumerate().peekable();
        if inner.peek().is_none()
            && !matches!(rule, Rule::list | Rule::body | Rule::kind_body | Rule::signature_body | Rule::rule_body | Rule::changes)
        {
            return self.push(start, end);
        }
        for (number, child) in inner {
            let (child_start, child_end) = (self.base + child.as_span().start(), self.base + child.as_span().end());
            self.signs(at, child_start, rule);
            if number == named {
                self.joint = Joint::Value;
            }
            self.pair(&child);
            at = child_end;
        }
        self.signs(at, end, rule);
    }
}
