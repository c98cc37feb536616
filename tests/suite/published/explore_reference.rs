//! Writes `data/explore.json`: small models made up at random, and what a general model checker says of each.
//!
//! How to run it: `cargo new mc`, `cargo add stateright@0.31 serde_json`, this file as `src/main.rs`, `cargo run > explore.json`.
//! The checker is the crate `stateright`, breadth first in one thread: how many states there are, whether the condition is ever
//! met, and in how many steps at the fewest. What follows of an event is worked out here by the obvious loop.
use serde_json::{Value, json};
use stateright::{Checker, Model, Property};

struct Dice(u64);
impl Dice {
    fn roll(&mut self, below: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % below
    }
}

/// Any of these, each all of (part, state, is it so).
type Rule = Vec<Vec<(usize, u8, bool)>>;

#[derive(Clone)]
struct Random {
    parts: Vec<u8>,
    begins: Vec<u8>,
    events: Vec<(Rule, Vec<(usize, u8)>)>,
    follows: Vec<(usize, Vec<(u8, Rule)>)>,
    never: Rule,
    /// Whether it goes on until all states are met. It keeps the last story of a property while it does, not the first.
    goes_on: bool,
}

fn holds(rule: &Rule, state: &[u8]) -> bool {
    rule.iter().any(|all| all.iter().all(|(part, at, so)| (state[*part] == *at) == *so))
}

impl Random {
    fn settle(&self, mut state: Vec<u8>) -> Option<Vec<u8>> {
        for _ in 0..64 {
            let before = state.clone();
            for (part, cases) in &self.follows {
                if let Some((to, _)) = cases.iter().find(|(_, rule)| holds(rule, &state)) {
                    state[*part] = *to;
                }
            }
            if before == state {
                return Some(state);
            }
        }
        None
    }
}

impl Model for Random {
    type State = Vec<u8>;
    type Action = usize;
    fn init_states(&self) -> Vec<Vec<u8>> {
        self.settle(self.begins.clone()).into_iter().collect()
    }
    fn actions(&self, state: &Vec<u8>, actions: &mut Vec<usize>) {
        actions.extend((0..self.events.len()).filter(|at| holds(&self.events[*at].0, state)));
    }
    fn next_state(&self, state: &Vec<u8>, action: usize) -> Option<Vec<u8>> {
        let mut after = state.clone();
        for (part, to) in &self.events[action].1 {
            after[*part] = *to;
        }
        self.settle(after)
    }
    fn properties(&self) -> Vec<Property<Self>> {
        let mut properties = vec![Property::always("never", |model: &Random, state: &Vec<u8>| !holds(&model.never, state))];
        if self.goes_on {
            properties.push(Property::always("goes on", |_: &Random, _: &Vec<u8>| true));
        }
        properties
    }
}

fn rule(dice: &mut Dice, parts: &[u8], of: u64) -> Rule {
    (0..1 + dice.roll(2))
        .map(|_| {
            (0..1 + dice.roll(of))
                .map(|_| {
                    let part = dice.roll(parts.len() as u64) as usize;
                    (part, dice.roll(u64::from(parts[part])) as u8, dice.roll(4) > 0)
                })
                .collect()
        })
        .collect()
}

fn random(dice: &mut Dice) -> Random {
    let parts: Vec<u8> = (0..3 + dice.roll(5)).map(|_| 2 + dice.roll(4) as u8).collect();
    let turn = |dice: &mut Dice| {
        let part = dice.roll(parts.len() as u64) as usize;
        (part, dice.roll(u64::from(parts[part])) as u8)
    };
    let events = (0..6 + dice.roll(12)).map(|_| (rule(dice, &parts, 2), (0..1 + dice.roll(2)).map(|_| turn(dice)).collect())).collect();
    let follows = (0..dice.roll(3))
        .map(|_| {
            let part = dice.roll(parts.len() as u64) as usize;
            (part, (0..1 + dice.roll(2)).map(|_| (dice.roll(u64::from(parts[part])) as u8, rule(dice, &parts, 3))).collect())
        })
        .collect();
    let never = vec![(0..3).map(|_| turn(dice)).map(|(part, at)| (part, at, true)).collect()];
    let begins = vec![0; parts.len()];
    Random { parts, begins, events, follows, never, goes_on: false }
}

fn main() {
    let mut dice = Dice(20_261_129);
    let mut all: Vec<Value> = Vec::new();
    let mut broken = 0;
    while all.len() < 120 {
        let model = random(&mut dice);
        let states = Random { goes_on: true, ..model.clone() }.checker().threads(1).spawn_bfs().join().unique_state_count();
        let first = model.clone().checker().threads(1).spawn_bfs().join();
        let steps = first.discovery("never").map(|path| path.into_actions().len());
        // Half of them kept, half broken, none trivial.
        if states < 12 || steps == Some(0) || (steps.is_some() && broken >= 70) {
            continue;
        }
        if steps.is_none() && all.len() - broken >= 50 {
            continue;
        }
        broken += usize::from(steps.is_some());
        all.push(json!({ "parts": model.parts, "events": model.events, "follows": model.follows, "never": model.never, "states": states, "steps": steps }));
    }
    println!("[");
    let lines: Vec<String> = all.iter().map(ToString::to_string).collect();
    println!("{}", lines.join(",\n"));
    println!("]");
}
