//! A machine packed: each state one number, each condition a short list of questions about its bits.

use super::condition::Condition;
use super::machine::{Event, Follow, Machine};
use crate::calc::FormulaError;
use rustc_hash::FxHashMap;
use smol_str::SmolStr;

/// A state of all parts.
pub(super) type State = u64;

/// The answers of a question that end a condition.
const SO: u16 = u16::MAX;
const NOT_SO: u16 = u16::MAX - 1;
/// So many questions at most, a condition.
const MOST_QUESTIONS: usize = 60_000;
/// So often what follows is looked at after one event: a chain of relays is shorter, what goes on changing flutters.
const MOST_ROUNDS: usize = 64;

/// Whether these bits are so, and where to go on.
#[derive(Debug, Clone, Copy)]
struct Question {
    mask: State,
    bits: State,
    yes: u16,
    no: u16,
}

/// A condition as questions: the answer to each leads to another or ends it.
#[derive(Debug, Clone)]
pub(super) struct Test {
    questions: Vec<Question>,
    first: u16,
}

impl Test {
    /// Whether it is so.
    pub(super) fn holds(&self, state: State) -> bool {
        let mut at = self.first;
        while at < NOT_SO {
            let Some(question) = self.questions.get(at as usize) else { return false };
            at = if state & question.mask == question.bits { question.yes } else { question.no };
        }
        at == SO
    }
}

/// Some bits of a state put in place of others.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Put {
    mask: State,
    bits: State,
}

impl Put {
    pub(super) fn on(self, state: State) -> State {
        state & !self.mask | self.bits
    }
}

#[derive(Debug, Clone)]
pub(super) struct PackedEvent {
    pub(super) when: Test,
    pub(super) put: Put,
}

/// Where a part stands in a state.
#[derive(Debug, Clone, Copy)]
struct Field {
    shift: u32,
    bits: u32,
}

/// A machine that can be run.
#[derive(Debug, Clone)]
pub(super) struct Packed {
    names: FxHashMap<SmolStr, usize>,
    fields: Vec<Field>,
    states: Vec<Vec<SmolStr>>,
    pub(super) begins: State,
    pub(super) events: Vec<PackedEvent>,
    follows: Vec<Vec<(Test, Put)>>,
}

/// What an event leads to.
pub(super) enum Settled {
    /// Nothing more follows.
    At(State),
    /// It goes on changing for ever.
    Flutters,
}

impl Packed {
    pub(super) fn of(machine: &Machine) -> Result<Packed, FormulaError> {
        let mut packed = Packed {
            names: FxHashMap::default(),
            fields: Vec::new(),
            states: Vec::new(),
            begins: 0,
            events: Vec::new(),
            follows: Vec::new(),
        };
        let mut shift = 0;
        for (at, part) in machine.parts.iter().enumerate() {
            let count = part.states.len();
            let bits = usize::BITS - count.saturating_sub(1).leading_zeros();
            if part.begins >= count {
                return Err(FormulaError::domain(format!("the state in which `{}` begins", part.name), "one of its states"));
            }
            if packed.names.insert(part.name.clone(), at).is_some() {
                return Err(FormulaError::domain(format!("the name `{}`", part.name), "that of one part only"));
            }
            if shift + bits > State::BITS {
                return Err(FormulaError::domain("what changes and is asked about", format!("told in {} bits", State::BITS)));
            }
            packed.fields.push(Field { shift, bits });
            packed.states.push(part.states.clone());
            packed.begins |= (part.begins as State).checked_shl(shift).unwrap_or(0);
            shift += bits;
        }
        for Event { when, sets, .. } in &machine.events {
            let put = sets.iter().try_fold(Put::default(), |put, turn| packed.put(&turn.part, &turn.to).map(|more| put.and(more)))?;
            let when = packed.test(when)?;
            packed.events.push(PackedEvent { when, put });
        }
        for Follow { part, cases } in &machine.follows {
            let cases = cases.iter().map(|case| Ok((packed.test(&case.when)?, packed.put(part, &case.to)?)));
            let cases: Result<Vec<_>, FormulaError> = cases.collect();
            packed.follows.push(cases?);
        }
        Ok(packed)
    }

    fn part(&self, name: &str) -> Result<usize, FormulaError> {
        self.names.get(name).copied().ok_or_else(|| FormulaError::domain(format!("`{name}`"), "a part of what is explored"))
    }

    fn state(&self, part: usize, state: &str) -> Result<State, FormulaError> {
        let states = self.states.get(part);
        let found = states.and_then(|states| states.iter().position(|one| one == state));
        found.map(|at| at as State).ok_or_else(|| {
            let known = states.map(|states| states.join(", ")).unwrap_or_default();
            FormulaError::domain(format!("the state `{state}`"), format!("one of {known}"))
        })
    }

    fn field(&self, part: usize) -> Field {
        self.fields.get(part).copied().unwrap_or(Field { shift: 0, bits: 0 })
    }

    fn put(&self, part: &str, state: &str) -> Result<Put, FormulaError> {
        let part = self.part(part)?;
        let at = self.state(part, state)?;
        let field = self.field(part);
        Ok(Put { mask: field.mask(), bits: field.of(at) })
    }

    /// A condition as questions.
    pub(super) fn test(&self, condition: &Condition) -> Result<Test, FormulaError> {
        let mut questions = Vec::new();
        let first = self.ask(condition, SO, NOT_SO, &mut questions)?;
        Ok(Test { questions, first })
    }

    /// Puts down the questions of a condition from the last to the first; gives the one to begin with.
    fn ask(&self, condition: &Condition, yes: u16, no: u16, questions: &mut Vec<Question>) -> Result<u16, FormulaError> {
        Ok(match condition {
            Condition::Always(true) => yes,
            Condition::Always(false) => no,
            Condition::Not(inner) => self.ask(inner, no, yes, questions)?,
            Condition::All(inner) => {
                let mut next = yes;
                for one in inner.iter().rev() {
                    next = self.ask(one, next, no, questions)?;
                }
                next
            }
            Condition::Any(inner) => {
                let mut next = no;
                for one in inner.iter().rev() {
                    next = self.ask(one, yes, next, questions)?;
                }
                next
            }
            Condition::Is { part, states } => {
                let part = self.part(part)?;
                let field = self.field(part);
                let mut next = no;
                for state in states.iter().rev() {
                    let at = self.state(part, state)?;
                    if questions.len() >= MOST_QUESTIONS {
                        return Err(FormulaError::domain("a condition", format!("of {MOST_QUESTIONS} questions at most")));
                    }
                    questions.push(Question { mask: field.mask(), bits: field.of(at), yes, no: next });
                    next = u16::try_from(questions.len() - 1).unwrap_or(NOT_SO);
                }
                next
            }
        })
    }

    /// What follows of a state, until nothing changes.
    pub(super) fn settle(&self, state: State) -> Settled {
        let mut state = state;
        for _ in 0..MOST_ROUNDS {
            let before = state;
            for cases in &self.follows {
                for (when, put) in cases {
                    if when.holds(state) {
                        state = put.on(state);
                        break;
                    }
                }
            }
            if state == before {
                return Settled::At(state);
            }
        }
        Settled::Flutters
    }
}

impl Put {
    fn and(self, more: Put) -> Put {
        Put { mask: self.mask | more.mask, bits: self.bits & !more.mask | more.bits }
    }
}

impl Field {
    fn mask(self) -> State {
        self.of((1 << self.bits) - 1)
    }

    fn of(self, at: State) -> State {
        at.checked_shl(self.shift).unwrap_or(0)
    }
}
