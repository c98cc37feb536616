//! A condition as a test of the bits of a packed state.
//!
//! Most come to a few patterns, of which one has to fit. What would take many is asked part by part instead: the answer to
//! each question leads to another or ends it.

use super::condition::Condition;
use super::layout::{Field, Layout, State};
use crate::calc::FormulaError;

/// So many patterns are tried one after the other; more take longer than questions do.
const MOST_PATTERNS: usize = 8;
/// Patterns are looked for in so many states of a part.
const MOST_STATES: usize = 64;
/// The answers of a question that end a condition.
const SO: u16 = u16::MAX;
const NOT_SO: u16 = u16::MAX - 1;
/// So many bits of a part are asked about in one question: 64 states.
const LOW: u32 = 6;
/// So many questions at most, a condition.
const MOST_QUESTIONS: usize = 60_000;

/// Some bits, and how they have to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Pattern {
    mask: State,
    bits: State,
}

impl Pattern {
    /// What fits both; none if nothing does.
    fn and(self, other: Pattern) -> Option<Pattern> {
        let fits = (self.bits ^ other.bits) & self.mask & other.mask == 0;
        fits.then_some(Pattern { mask: self.mask | other.mask, bits: self.bits | other.bits })
    }

    /// The one pattern in place of two that differ in one bit at most.
    fn with(self, other: Pattern) -> Option<Pattern> {
        let apart = self.bits ^ other.bits;
        (self.mask == other.mask && apart.count_ones() <= 1).then_some(Pattern { mask: self.mask & !apart, bits: self.bits & !apart })
    }
}

/// Whether a part is in one of these states, and where to go on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Question {
    /// Bits of the part above the lowest six, and how they have to be.
    above: Pattern,
    /// Where the lowest bits of the part stand, at most six of them.
    shift: u32,
    low: State,
    /// The states that are asked for, a bit for each number that those bits can make.
    among: u64,
    yes: u16,
    no: u16,
}

impl Question {
    fn is_so(&self, state: State) -> bool {
        state & self.above.mask == self.above.bits && self.among >> (state >> self.shift & self.low) & 1 == 1
    }
}

/// A condition as patterns or as questions.
#[derive(Debug, Clone)]
pub(super) enum Test {
    /// One of them fits.
    Patterns(Vec<Pattern>),
    /// Asked from `first` on.
    Questions { questions: Vec<Question>, first: u16 },
}

impl Test {
    /// The condition as a test of the states of that machine.
    pub(super) fn of(condition: &Condition, layout: &Layout) -> Result<Test, FormulaError> {
        if let Some(patterns) = patterns(condition, true, layout)? {
            return Ok(Test::Patterns(patterns));
        }
        let mut questions = Vec::new();
        let first = ask(condition, SO, NOT_SO, layout, &mut questions)?;
        Ok(Test::Questions { questions, first })
    }

    /// The bits on which it depends.
    pub(super) fn reads(&self) -> State {
        match self {
            Test::Patterns(patterns) => patterns.iter().fold(0, |reads, pattern| reads | pattern.mask),
            Test::Questions { questions, .. } => {
                questions.iter().fold(0, |reads, one| reads | one.above.mask | one.low.checked_shl(one.shift).unwrap_or(0))
            }
        }
    }

    /// Whether it is so just where each part, for itself, is in a state in which it may be so.
    pub(super) fn is_one_pattern(&self) -> bool {
        matches!(self, Test::Patterns(patterns) if patterns.len() == 1)
    }

    /// Whether it may be so while a part is in a state.
    pub(super) fn may_be(&self, field: Field, at: State) -> bool {
        let Test::Patterns(patterns) = self else { return true };
        let known = Pattern { mask: field.mask(), bits: field.of(at) };
        patterns.iter().any(|pattern| pattern.and(known).is_some())
    }

    /// Whether it is so.
    pub(super) fn holds(&self, state: State) -> bool {
        match self {
            Test::Patterns(patterns) => patterns.iter().any(|pattern| state & pattern.mask == pattern.bits),
            Test::Questions { questions, first } => {
                let mut at = *first;
                while at < NOT_SO {
                    let Some(question) = questions.get(at as usize) else { return false };
                    at = if question.is_so(state) { question.yes } else { question.no };
                }
                at == SO
            }
        }
    }
}

/// The patterns of which one fits where the condition is so, or where it is not; none if it takes too many.
fn patterns(condition: &Condition, so: bool, layout: &Layout) -> Result<Option<Vec<Pattern>>, FormulaError> {
    let found = match condition {
        Condition::Always(always) if *always == so => vec![Pattern { mask: 0, bits: 0 }],
        Condition::Always(_) => Vec::new(),
        Condition::Not(inner) => return patterns(inner, !so, layout),
        Condition::Is { part, states } => {
            let part = layout.part(part)?;
            let asked = states.iter().map(|state| layout.state(part, state)).collect::<Result<Vec<State>, FormulaError>>()?;
            let field = layout.field(part);
            let wanted: Vec<State> = match so {
                true => asked,
                false if layout.count(part) <= MOST_STATES => (0..layout.count(part) as State).filter(|at| !asked.contains(at)).collect(),
                false => return Ok(None),
            };
            if wanted.len() > MOST_STATES {
                return Ok(None);
            }
            together(wanted.into_iter().map(|state| Pattern { mask: field.mask(), bits: field.of(state) }).collect())
        }
        Condition::All(inner) if so => return all(inner, so, layout),
        Condition::Any(inner) if !so => return all(inner, so, layout),
        Condition::All(inner) | Condition::Any(inner) => {
            let mut any = Vec::new();
            for one in inner.iter() {
                let Some(one) = patterns(one, so, layout)? else { return Ok(None) };
                any.extend(one);
            }
            any
        }
    };
    Ok((found.len() <= MOST_PATTERNS).then_some(found))
}

/// The patterns that fit where all of these are so, or none is.
fn all(of: &[Condition], so: bool, layout: &Layout) -> Result<Option<Vec<Pattern>>, FormulaError> {
    let mut found = vec![Pattern { mask: 0, bits: 0 }];
    for one in of {
        let Some(one) = patterns(one, so, layout)? else { return Ok(None) };
        found = found.iter().flat_map(|known| one.iter().filter_map(|more| known.and(*more))).collect();
        if found.len() > MOST_PATTERNS {
            return Ok(None);
        }
    }
    Ok(Some(found))
}

/// Fewer patterns for the same states.
fn together(mut patterns: Vec<Pattern>) -> Vec<Pattern> {
    let mut at = 0;
    while let Some(one) = patterns.get(at).copied() {
        let other = (at + 1..patterns.len()).find_map(|other| Some((other, one.with(*patterns.get(other)?)?)));
        match other {
            Some((other, both)) => {
                patterns.swap_remove(other);
                patterns.swap_remove(at);
                patterns.push(both);
                at = 0;
            }
            None => at += 1,
        }
    }
    patterns
}

/// Puts down the questions of a condition from the last to the first; gives the one to begin with.
fn ask(condition: &Condition, yes: u16, no: u16, layout: &Layout, questions: &mut Vec<Question>) -> Result<u16, FormulaError> {
    Ok(match condition {
        Condition::Always(true) => yes,
        Condition::Always(false) => no,
        Condition::Not(inner) => ask(inner, no, yes, layout, questions)?,
        Condition::All(inner) => {
            let mut next = yes;
            for one in inner.iter().rev() {
                next = ask(one, next, no, layout, questions)?;
            }
            next
        }
        Condition::Any(inner) => {
            let mut next = no;
            for one in inner.iter().rev() {
                next = ask(one, yes, next, layout, questions)?;
            }
            next
        }
        Condition::Is { part, states } => {
            let part = layout.part(part)?;
            let field = layout.field(part);
            let low = field.bits.min(LOW);
            let (above, shift) = (field.above(low), if low == 0 { 0 } else { field.shift });
            let mut blocks: Vec<(State, u64)> = Vec::new();
            for state in states.iter() {
                let at = layout.state(part, state)?;
                let (block, bit) = (at >> LOW, 1 << (at & ((1 << LOW) - 1)));
                match blocks.iter_mut().find(|(known, _)| *known == block) {
                    Some((_, among)) => *among |= bit,
                    None => blocks.push((block, bit)),
                }
            }
            let mut next = no;
            for (block, among) in blocks.into_iter().rev() {
                if questions.len() >= MOST_QUESTIONS {
                    return Err(FormulaError::domain("a condition", format!("of {MOST_QUESTIONS} questions at most")));
                }
                let (above, low) = (Pattern { mask: above.mask(), bits: above.of(block) }, (1 << low) - 1);
                questions.push(Question { above, shift, low, among, yes, no: next });
                next = u16::try_from(questions.len() - 1).unwrap_or(NOT_SO);
            }
            next
        }
    })
}
