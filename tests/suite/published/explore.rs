//! The exploration against puzzles and protocols whose states and shortest stories are published, and against a general
//! model checker on models made up at random.

use proptest::prelude::*;
use smol_str::SmolStr;
use wallplate::calc::explore::{
    Asks, Case, Condition, Course, Event, Explored, Follow, Limits, Machine, Part, Promise, Turn, Verdict, after_one, at_most_one, explore,
};

fn part(name: &str, states: &[&str]) -> Part {
    Part { name: name.into(), states: states.iter().map(|state| SmolStr::new(*state)).collect(), begins: 0 }
}

fn numbered(name: &str, states: usize) -> Part {
    Part { name: name.into(), states: (0..states).map(|at| at.to_string().into()).collect(), begins: 0 }
}

fn turn(part: &str, to: &str) -> Turn {
    Turn { part: part.into(), to: to.into() }
}

fn event(name: &str, when: Condition, sets: Vec<Turn>) -> Event {
    Event { name: name.into(), by: "anybody".into(), when, sets, takes: None }
}

fn at(part: &str, state: usize) -> Condition {
    Condition::is(part, &state.to_string())
}

fn never(condition: Condition) -> Promise {
    Promise { name: "never".into(), asks: Asks::Never(condition) }
}

fn possible(goal: Condition) -> Promise {
    Promise { name: "possible".into(), asks: Asks::Possible { by: Vec::new(), goal, whenever: Condition::Always(true) } }
}

/// Never so, but it reads every part, so that none is left out.
fn reads_all(machine: &Machine) -> Promise {
    never(Condition::any(machine.parts.iter().map(|part| {
        let first = Condition::is(&part.name, &part.states[0]);
        Condition::All([first.clone(), first.negated()].into())
    })))
}

fn run(machine: &Machine, promises: &[Promise]) -> Explored {
    explore(machine, promises, &|_| true, &Limits::default()).unwrap()
}

fn states(machine: &Machine) -> usize {
    run(machine, &[reads_all(machine)]).states
}

/// Steps of the shortest story; none if it is kept.
fn steps(machine: &Machine, broken: Condition) -> Option<usize> {
    match &run(machine, &[never(broken)]).verdicts[0] {
        Verdict::Broken(story) => Some(story.steps.len()),
        Verdict::Kept => None,
        other => panic!("{other:?}"),
    }
}

// ── puzzles ──────────────────────────────────────────────────────────────────────────────────────

#[test]
fn wolf_goat_and_cabbage() {
    // Alcuin, Propositiones ad acuendos juvenes, XVIII: 7 crossings. 10 of the 16 states are safe, and all 10 are reached.
    let names = ["man", "wolf", "goat", "cabbage"];
    let mut machine = Machine { parts: names.map(|name| part(name, &["here", "there"])).to_vec(), ..Machine::default() };
    let together = |a: &str, b: &str| {
        let both = |bank| Condition::all([Condition::is(a, bank), Condition::is(b, bank)]);
        Condition::any([both("here"), both("there")])
    };
    let eaten = |moved: &[&str]| {
        // After the crossing: whoever is moved stands on the other side than before.
        let apart = |a: &str, b: &str| if moved.contains(&a) == moved.contains(&b) { together(a, b) } else { together(a, b).negated() };
        let alone = |a: &str, b: &str| Condition::all([apart(a, b), apart("man", a).negated()]);
        Condition::any([alone("wolf", "goat"), alone("goat", "cabbage")])
    };
    for passenger in ["", "wolf", "goat", "cabbage"] {
        for (from, to) in [("here", "there"), ("there", "here")] {
            let moved: Vec<&str> = ["man", passenger].into_iter().filter(|name| !name.is_empty()).collect();
            let when = moved.iter().map(|name| Condition::is(name, from)).chain([eaten(&moved).negated()]);
            let sets = moved.iter().map(|name| turn(name, to)).collect();
            machine.events.push(event(&format!("{passenger} {to}"), Condition::all(when), sets));
        }
    }
    assert_eq!(states(&machine), 10);
    assert_eq!(steps(&machine, Condition::all(names.map(|name| Condition::is(name, "there")))), Some(7));
}

#[test]
fn missionaries_and_cannibals() {
    // Amarel, On representations of problems of reasoning about actions, Machine Intelligence 3 (1968): 32 states, 16 of them
    // reached, 11 crossings.
    let mut machine = Machine {
        parts: vec![numbered("missionaries", 4), numbered("cannibals", 4), part("boat", &["left", "right"])],
        ..Machine::default()
    };
    // As many as have crossed.
    let safe = |m: usize, c: usize| (m == 0 || m >= c) && (3 - m == 0 || 3 - m >= 3 - c);
    for m in 0..4_usize {
        for c in 0..4_usize {
            for (by_m, by_c) in [(1, 0), (2, 0), (0, 1), (0, 2), (1, 1)] {
                for (bank, other, to) in [
                    ("left", "right", (m.checked_add(by_m), c.checked_add(by_c))),
                    ("right", "left", (m.checked_sub(by_m), c.checked_sub(by_c))),
                ] {
                    let (Some(to_m), Some(to_c)) = to else { continue };
                    if to_m > 3 || to_c > 3 || !safe(to_m, to_c) {
                        continue;
                    }
                    let when = Condition::all([at("missionaries", m), at("cannibals", c), Condition::is("boat", bank)]);
                    let sets = vec![turn("missionaries", &to_m.to_string()), turn("cannibals", &to_c.to_string()), turn("boat", other)];
                    machine.events.push(event("row", when, sets));
                }
            }
        }
    }
    assert_eq!(states(&machine), 16);
    assert_eq!(steps(&machine, Condition::all([at("missionaries", 3), at("cannibals", 3)])), Some(11));
}

#[test]
fn two_jugs() {
    // The jugs of 5 and 3 measures, of which one shall hold 4: 6 pourings; on the rim of the 6 by 4 grid lie 16 states.
    let mut machine = Machine { parts: vec![numbered("five", 6), numbered("three", 4)], ..Machine::default() };
    for a in 0..6_usize {
        for b in 0..4_usize {
            let over = a.min(3 - b);
            let back = b.min(5 - a);
            for (to_a, to_b) in [(5, b), (a, 3), (0, b), (a, 0), (a - over, b + over), (a + back, b - back)] {
                let sets = vec![turn("five", &to_a.to_string()), turn("three", &to_b.to_string())];
                machine.events.push(event("pour", Condition::all([at("five", a), at("three", b)]), sets));
            }
        }
    }
    assert_eq!(states(&machine), 16);
    assert_eq!(steps(&machine, at("five", 4)), Some(6));
}

#[test]
fn tower_of_hanoi() {
    // Lucas 1883: n discs have 3^n positions, all of which are reached, and take 2^n - 1 moves.
    for discs in 1..=6_usize {
        let name = |disc: usize| format!("disc {disc}");
        let mut machine = Machine { parts: (0..discs).map(|disc| numbered(&name(disc), 3)).collect(), ..Machine::default() };
        for disc in 0..discs {
            for (from, to) in [(0, 1), (0, 2), (1, 0), (1, 2), (2, 0), (2, 1)] {
                let smaller = (0..disc).flat_map(|other| [at(&name(other), from), at(&name(other), to)]).map(Condition::negated);
                let when = Condition::all([at(&name(disc), from)].into_iter().chain(smaller));
                machine.events.push(event("move", when, vec![turn(&name(disc), &to.to_string())]));
            }
        }
        assert_eq!(states(&machine), 3_usize.pow(u32::try_from(discs).unwrap()));
        let done = Condition::all((0..discs).map(|disc| at(&name(disc), 2)));
        assert_eq!(steps(&machine, done), Some((1 << discs) - 1));
    }
}

// ── protocols ────────────────────────────────────────────────────────────────────────────────────

/// Peterson, Myths about the mutual exclusion problem, Inf. Proc. Letters 12 (1981); with flag and turn set the wrong way
/// round, if that is asked for.
fn peterson(turn_first: bool) -> Machine {
    let mut machine = Machine {
        parts: vec![part("turn", &["0", "1"]), part("flag0", &["down", "up"]), part("flag1", &["down", "up"])],
        ..Machine::default()
    };
    for (own, other) in [("0", "1"), ("1", "0")] {
        let at = format!("at{own}");
        let (flag, others) = (format!("flag{own}"), format!("flag{other}"));
        machine.parts.push(part(&at, &["away", "second", "waits", "in"]));
        let (raise, give) = (turn(&flag, "up"), turn("turn", other));
        let (first, second) = if turn_first { (give, raise) } else { (raise, give) };
        machine.events.push(event("first", Condition::is(&at, "away"), vec![first, turn(&at, "second")]));
        machine.events.push(event("second", Condition::is(&at, "second"), vec![second, turn(&at, "waits")]));
        let free = Condition::any([Condition::is(&others, "down"), Condition::is("turn", own)]);
        machine.events.push(event("enter", Condition::all([Condition::is(&at, "waits"), free]), vec![turn(&at, "in")]));
        machine.events.push(event("leave", Condition::is(&at, "in"), vec![turn(&flag, "down"), turn(&at, "away")]));
    }
    machine
}

fn both_in() -> Condition {
    Condition::all([Condition::is("at0", "in"), Condition::is("at1", "in")])
}

#[test]
fn petersons_mutual_exclusion() {
    let machine = peterson(false);
    let promises = [never(both_in()), possible(Condition::is("at0", "in")), possible(Condition::is("at1", "in"))];
    assert_eq!(run(&machine, &promises).verdicts, [Verdict::Kept, Verdict::Kept, Verdict::Kept]);
    // The known slip: who gives way before raising the flag meets the other in there; both have to take their three steps.
    assert_eq!(steps(&peterson(true), both_in()), Some(6));
}

/// Dijkstra's dining philosophers (EWD 310, 1971): each takes the fork on one side, then the other.
fn philosophers(count: usize, last_the_other_way: bool) -> (Machine, Condition) {
    let mut machine = Machine::default();
    for own in 0..count {
        let (sits, left, right) = (format!("sits{own}"), format!("fork{own}"), format!("fork{}", (own + 1) % count));
        machine.parts.push(part(&format!("fork{own}"), &["lies", "held"]));
        machine.parts.push(part(&sits, &["thinks", "one", "eats"]));
        let (first, second) = if last_the_other_way && own + 1 == count { (&right, &left) } else { (&left, &right) };
        let takes = |from: &str, fork: &str| Condition::all([Condition::is(&sits, from), Condition::is(fork, "lies")]);
        machine.events.push(event("first", takes("thinks", first), vec![turn(first, "held"), turn(&sits, "one")]));
        machine.events.push(event("second", takes("one", second), vec![turn(second, "held"), turn(&sits, "eats")]));
        let down = vec![turn(&left, "lies"), turn(&right, "lies"), turn(&sits, "thinks")];
        machine.events.push(event("puts down", Condition::is(&sits, "eats"), down));
    }
    let eats = Condition::any((0..count).map(|own| Condition::is(&format!("sits{own}"), "eats")));
    (machine, eats)
}

#[test]
fn dining_philosophers() {
    for count in 2..=6 {
        // Each has taken one fork: nobody will ever eat.
        let (machine, eats) = philosophers(count, false);
        let Verdict::Broken(story) = &run(&machine, &[possible(eats)]).verdicts[0] else { panic!("they never wait for each other") };
        assert_eq!(story.steps.len(), count);
        // One who is left-handed saves them.
        let (machine, eats) = philosophers(count, true);
        assert_eq!(run(&machine, &[possible(eats)]).verdicts, [Verdict::Kept]);
    }
}

/// Fischer's timed mutual exclusion (Lamport, A fast mutual exclusion algorithm, ACM TOCS 5 (1987)): safe if the wait
/// before looking again is longer than a write may take.
fn fischer(write: f64, wait: f64) -> Machine {
    let mut machine = Machine { parts: vec![part("door", &["free", "0", "1"])], ..Machine::default() };
    for own in ["0", "1"] {
        let at = format!("at{own}");
        machine.parts.push(part(&at, &["away", "writes", "waits", "in"]));
        let is = |state: &str| Condition::is(&at, state);
        let free = Condition::is("door", "free");
        machine.events.push(event("looks", Condition::all([is("away"), free]), vec![turn(&at, "writes")]));
        let mut writes = event("writes", is("writes"), vec![turn("door", own), turn(&at, "waits")]);
        writes.takes = Some([0.0, write]);
        let mut enters = event("enters", Condition::all([is("waits"), Condition::is("door", own)]), vec![turn(&at, "in")]);
        enters.takes = Some([wait, f64::INFINITY]);
        machine.events.extend([writes, enters]);
    }
    machine
}

#[test]
fn fischers_clocks() {
    // Without its clocks it is broken: both look, one writes and enters, the other writes and enters.
    let [quick, slow] = [fischer(2.0, 1.0), fischer(1.0, 2.0)];
    assert_eq!(steps(&quick, both_in()), Some(6));
    assert_eq!(run(&slow, &[never(both_in())]).verdicts, [Verdict::OutOfTime]);
    // The story has times that its clocks allow: the slow write comes when the quick one has waited.
    let Verdict::Broken(story) = &run(&quick, &[never(both_in())]).verdicts[0] else { panic!("it is broken") };
    assert!(story.steps.windows(2).all(|pair| pair[0].at <= pair[1].at));
    assert!((story.steps[5].at - 2.0).abs() < 1e-9, "{story:?}");
    // What is known of one is said of another in the other's times, where its clocks answer the same.
    let both = [never(both_in())];
    let course = |machine: &Machine| Course::of(machine, &both, &|_| true, &Limits::default()).unwrap();
    let slower = fischer(3.0, 1.5);
    let told = course(&quick).told(&slower, &both, &|_| true).unwrap().unwrap();
    assert!(matches!(&told.verdicts[0], Verdict::Broken(story) if (story.steps[5].at - 3.0).abs() < 1e-9), "{told:?}");
    assert_eq!(told, run(&slower, &both));
    assert_eq!(course(&slow).told(&quick, &both, &|_| true), Ok(None));
}

// ── a general model checker ──────────────────────────────────────────────────────────────────────

fn rule(value: &serde_json::Value) -> Condition {
    let list = |value: &serde_json::Value| value.as_array().unwrap().clone();
    let number = |value: &serde_json::Value| usize::try_from(value.as_u64().unwrap()).unwrap();
    Condition::any(list(value).iter().map(|all| {
        Condition::all(list(all).iter().map(|one| {
            let is = at(&format!("part {}", one[0]), number(&one[1]));
            if one[2].as_bool().unwrap() { is } else { is.negated() }
        }))
    }))
}

#[test]
fn random_models_as_a_general_model_checker_has_them() {
    // `explore_reference.rs`: the crate stateright 0.31.
    let all: Vec<serde_json::Value> = serde_json::from_str(include_str!("data/explore.json")).unwrap();
    assert!(all.len() >= 100);
    for (number, model) in all.iter().enumerate() {
        let list = |name: &str| model[name].as_array().unwrap().clone();
        let turned = |one: &serde_json::Value| turn(&format!("part {}", one[0]), &one[1].to_string());
        let (counts, moves, chains) = (list("parts"), list("events"), list("follows"));
        let parts = counts.iter().enumerate().map(|(at, count)| {
            let count = usize::try_from(count.as_u64().unwrap()).unwrap();
            numbered(&format!("part {at}"), count)
        });
        let events =
            moves.iter().map(|one| event("event", rule(&one[0]), one[1].as_array().unwrap().iter().map(turned).collect())).collect();
        let follows = chains.iter().map(|one| {
            let case = |case: &serde_json::Value| Case { to: case[0].to_string().into(), when: rule(&case[1]) };
            Follow { part: format!("part {}", one[0]).into(), cases: one[1].as_array().unwrap().iter().map(case).collect() }
        });
        let machine = Machine { parts: parts.collect(), events, follows: follows.collect() };
        assert_eq!(states(&machine) as u64, model["states"].as_u64().unwrap(), "model {number}");
        // The condition alone: parts that it does not depend on are left out, and it has to come out the same.
        assert_eq!(steps(&machine, rule(&model["never"])).map(|steps| steps as u64), model["steps"].as_u64(), "model {number}");
    }
}

// ── properties ───────────────────────────────────────────────────────────────────────────────────

#[derive(Debug, Clone)]
struct Small {
    events: Vec<(usize, usize, usize, usize, usize)>,
    broken: (usize, usize),
}

fn small() -> impl Strategy<Value = Small> {
    let event = (0..4_usize, 0..3_usize, 0..4_usize, 0..3_usize, 0..2_usize);
    (proptest::collection::vec(event, 1..14), (0..4_usize, 0..3_usize)).prop_map(|(events, broken)| Small { events, broken })
}

impl Small {
    fn machine(&self) -> Machine {
        let name = |at: usize| format!("part {at}");
        let events = self.events.iter().map(|(read, is, set, to, by)| Event {
            by: by.to_string().into(),
            ..event("event", at(&name(*read), *is), vec![turn(&name(*set), &to.to_string())])
        });
        Machine { parts: (0..4).map(|at| numbered(&name(at), 3)).collect(), events: events.collect(), follows: Vec::new() }
    }
}

proptest! {
    /// What somebody can bring about he can still bring about when others act as well; a story of some is one of all.
    #[test]
    fn more_events_break_no_less(small in small()) {
        let machine = small.machine();
        let promise = never(at(&format!("part {}", small.broken.0), small.broken.1));
        let length = |allowed: &dyn Fn(&Event) -> bool| {
            match &explore(&machine, std::slice::from_ref(&promise), allowed, &Limits::default()).unwrap().verdicts[0] {
                Verdict::Broken(story) => story.steps.len(),
                _ => usize::MAX,
            }
        };
        let of_all = length(&|_| true);
        prop_assert!(of_all <= length(&|event| event.by == "0"));
        prop_assert!(of_all <= length(&|event| event.by == "1"));
    }

    /// A promise by itself, with all that it does not depend on left out, is kept or broken as it is beside all others.
    #[test]
    fn what_is_left_out_changes_nothing(small in small()) {
        let machine = small.machine();
        let promise = never(at(&format!("part {}", small.broken.0), small.broken.1));
        let alone = run(&machine, std::slice::from_ref(&promise));
        let beside = run(&machine, &[reads_all(&machine), promise]);
        let length = |verdict: &Verdict| if let Verdict::Broken(story) = verdict { Some(story.steps.len()) } else { None };
        prop_assert_eq!(length(&alone.verdicts[0]), length(&beside.verdicts[1]));
        prop_assert!(alone.states <= beside.states);
    }

    /// What is known of a machine is said of one with other times only if going through that one says the same.
    #[test]
    fn other_times_are_not_gone_through_where_nothing_hangs_on_them(
        small in small(),
        times in proptest::collection::vec([(0..4_u8, 0..4_u8), (0..4_u8, 0..4_u8)], 14),
    ) {
        let timed = |which: usize| {
            let mut machine = small.machine();
            for (event, times) in machine.events.iter_mut().zip(&times) {
                let (least, more) = times[which];
                event.takes = Some([f64::from(least), f64::from(least + more)]);
            }
            machine
        };
        let promise = [never(at(&format!("part {}", small.broken.0), small.broken.1))];
        let (one, other) = (timed(0), timed(1));
        prop_assert!(one.goes_like(&other));
        let course = Course::of(&one, &promise, &|_| true, &Limits::default()).unwrap();
        prop_assert_eq!(course.told(&one, &promise, &|_| true).unwrap(), Some(run(&one, &promise)));
        let told = course.told(&other, &promise, &|_| true).unwrap();
        prop_assert!(told.is_none() || told == Some(run(&other, &promise)));
    }

    /// What is kept without any of some events is kept with all of them gone through in one go just where it is with each alone.
    #[test]
    fn one_event_of_several_in_one_go_and_one_by_one(small in small()) {
        let machine = small.machine();
        let condition = at(&format!("part {}", small.broken.0), small.broken.1);
        let by = vec![SmolStr::new("0")];
        let whenever = at(&format!("part {}", (small.broken.0 + 1) % 4), small.broken.1);
        let promises = [
            never(condition.clone()),
            Promise {
                name: "never by".into(),
                asks: Asks::NeverBy { by: by.clone(), becomes: condition.clone(), unless: whenever.clone() },
            },
            Promise { name: "possible".into(), asks: Asks::Possible { by, goal: condition, whenever } },
        ];
        let some: Vec<usize> = (0..machine.events.len()).filter(|at| machine.events[*at].by == "1").collect();
        let kept = |machine: &Machine, promise: &Promise, also: &[usize]| {
            let is_in = |event: &Event| also.iter().any(|at| std::ptr::eq(&machine.events[*at], event));
            let explored = explore(machine, std::slice::from_ref(promise), &|event| event.by == "0" || is_in(event), &Limits::default());
            explored.unwrap().verdicts[0] == Verdict::Kept
        };
        for promise in promises.iter().filter(|promise| !some.is_empty() && kept(&machine, promise, &[])) {
            let one_by_one = some.iter().all(|event| kept(&machine, promise, &[*event]));
            let in_one_go = kept(&at_most_one(&machine, &some), &after_one(promise, &some), &some);
            prop_assert_eq!(in_one_go, one_by_one, "{}", promise.name);
        }
    }
}

#[test]
fn the_bound_is_said_and_what_flutters_is_told() {
    let mut machine = Machine { parts: (0..20).map(|at| part(&format!("lamp {at}"), &["off", "on"])).collect(), ..Machine::default() };
    for at in 0..20 {
        let name = format!("lamp {at}");
        machine.events.push(event("switch", Condition::is(&name, "off"), vec![turn(&name, "on")]));
    }
    let all_on = Condition::all((0..20).map(|at| Condition::is(&format!("lamp {at}"), "on")));
    let limits = Limits { most_states: 1000 };
    assert_eq!(explore(&machine, &[never(all_on)], &|_| true, &limits).unwrap().verdicts, [Verdict::TooMany]);
    // A relay that breaks its own circuit.
    let buzzer =
        |state, to: &str| Case { to: to.into(), when: Condition::all([Condition::is("button", "pressed"), Condition::is("relay", state)]) };
    let machine = Machine {
        parts: vec![part("button", &["free", "pressed"]), part("relay", &["dropped", "pulled"])],
        events: vec![event("press", Condition::Always(true), vec![turn("button", "pressed")])],
        follows: vec![Follow { part: "relay".into(), cases: vec![buzzer("dropped", "pulled"), buzzer("pulled", "dropped")] }],
    };
    assert_eq!(run(&machine, &[never(Condition::is("relay", "pulled"))]).flutters, Some(vec![0]));
    // A part that is not there is said by its name.
    let error = explore(&machine, &[never(Condition::is("lamp", "on"))], &|_| true, &Limits::default()).unwrap_err();
    assert_eq!(error.to_string(), "`lamp` needs to be a part of what is explored");
}
