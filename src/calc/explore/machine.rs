//! What is explored: parts, events, what follows, promises.

use super::condition::Condition;
use smol_str::SmolStr;

/// Something that is always in one of several states.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its name, its alone.
    pub name: SmolStr,
    /// Names of its states.
    pub states: Vec<SmolStr>,
    /// The number of the one that it begins in.
    pub begins: usize,
}

/// A part goes over into a state.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Turn {
    /// The part's name.
    pub part: SmolStr,
    /// The state's name.
    pub to: SmolStr,
}

/// Something that may happen.
#[derive(Debug, Clone, PartialEq)]
pub struct Event {
    /// What tells it from the others.
    pub name: SmolStr,
    /// Who or what brings it about; events are allowed and forbidden by this.
    pub by: SmolStr,
    /// When it may happen.
    pub when: Condition,
    /// What it changes.
    pub sets: Vec<Turn>,
    /// It happens so long after it can, s: at the earliest and at the latest. Whenever it likes without.
    pub takes: Option<[f64; 2]>,
}

/// One case of what follows.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// The state that the part goes over into.
    pub to: SmolStr,
    /// While this is so.
    pub when: Condition,
}

/// A part that follows from others at once: it takes the state of the first case that is so, and keeps its own if none is.
#[derive(Debug, Clone, PartialEq)]
pub struct Follow {
    /// The part's name.
    pub part: SmolStr,
    /// Looked at in order.
    pub cases: Vec<Case>,
}

/// A thing of finitely many states.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Machine {
    /// Its parts.
    pub parts: Vec<Part>,
    /// What may happen.
    pub events: Vec<Event>,
    /// What follows of each event, in this order again and again until nothing changes.
    pub follows: Vec<Follow>,
}

impl Machine {
    /// Whether it is the other but for its times, and for what its events are called.
    #[must_use]
    pub fn goes_like(&self, other: &Machine) -> bool {
        let alike = |(one, other): (&Event, &Event)| {
            one.by == other.by && one.when == other.when && one.sets == other.sets && one.takes.is_some() == other.takes.is_some()
        };
        self.events.len() == other.events.len()
            && self.parts == other.parts
            && self.follows == other.follows
            && self.events.iter().zip(&other.events).all(alike)
    }
}

/// What a promise says.
#[derive(Debug, Clone, PartialEq)]
pub enum Asks {
    /// This is never so.
    Never(Condition),
    /// No event of these makes it so where it was not.
    NeverBy {
        /// Who brings them about.
        by: Vec<SmolStr>,
        /// What they must not bring about.
        becomes: Condition,
        /// But where this is so afterwards, they may.
        unless: Condition,
    },
    /// Wherever it stands, events of these can bring it about.
    Possible {
        /// Who may bring them about; anybody if none is named.
        by: Vec<SmolStr>,
        /// What has to be in reach.
        goal: Condition,
        /// It is asked only where this is so.
        whenever: Condition,
    },
}

/// Something that has to hold, whatever happens.
#[derive(Debug, Clone, PartialEq)]
pub struct Promise {
    /// What tells it from the others.
    pub name: SmolStr,
    /// What it says.
    pub asks: Asks,
}
