//! Circuits of contacts against what they are drawn of: current comes to the coil where, and only where, the condition is so
//! (Shannon, A symbolic analysis of relay and switching circuits, Trans. AIEE 57 (1938): and is series, or is parallel).

use proptest::prelude::*;
use smol_str::SmolStr;
use wallplate::calc::explore::Condition;
use wallplate::calc::ladder::{Contact, Named, Rung, rung};

const PARTS: usize = 5;

fn part(at: usize) -> SmolStr {
    format!("part {at}").into()
}

fn is(at: usize) -> Condition {
    Condition::is(&part(at), "on")
}

fn so(condition: &Condition, on: usize) -> bool {
    match condition {
        Condition::Always(so) => *so,
        Condition::Is { part: name, .. } => (0..PARTS).any(|at| part(at) == *name && on >> at & 1 == 1),
        Condition::Not(inner) => !so(inner, on),
        Condition::All(of) => of.iter().all(|one| so(one, on)),
        Condition::Any(of) => of.iter().any(|one| so(one, on)),
    }
}

/// Whether current comes from the rail to the coil, wire by wire, when these contacts are closed.
fn flows(rung: &Rung, closed: &dyn Fn(&Contact) -> bool) -> bool {
    let mut live = vec![1];
    let mut at = 0;
    while let Some(wire) = live.get(at).copied() {
        at += 1;
        for contact in rung.contacts.iter().filter(|contact| closed(contact)) {
            for [from, to] in [contact.wires, [contact.wires[1], contact.wires[0]]] {
                if from == wire && !live.contains(&to) {
                    live.push(to);
                }
            }
        }
    }
    live.contains(&rung.last_wire)
}

fn conditions() -> impl Strategy<Value = Condition> {
    let leaf = (0..PARTS, any::<bool>()).prop_map(|(at, so)| if so { is(at) } else { is(at).negated() });
    leaf.prop_recursive(4, 24, 4, |inner| {
        prop_oneof![
            proptest::collection::vec(inner.clone(), 1..4).prop_map(Condition::all),
            proptest::collection::vec(inner.clone(), 1..4).prop_map(Condition::any),
            inner.prop_map(Condition::negated),
        ]
    })
}

proptest! {
    #[test]
    fn current_flows_where_the_condition_is_so(condition in conditions()) {
        // Some names stand for more than one part: they have to be found again in what `and` and `or` have made of them.
        let named = [
            Named { name: "one".into(), so: is(0) },
            Named { name: "two and three".into(), so: Condition::all([is(1), is(2)]) },
            Named { name: "three or four".into(), so: Condition::any([is(2), is(3)]) },
        ];
        let rung = rung(&condition, &named, 1, 101).unwrap();
        for on in 0..1 << PARTS {
            let closed = |contact: &Contact| {
                let asked = match contact.asks {
                    Some(at) => so(&named[at].so, on),
                    None => (0..PARTS).any(|at| contact.name == format!("part {at} on") && on >> at & 1 == 1),
                };
                asked != contact.inverted
            };
            prop_assert_eq!(flows(&rung, &closed), so(&condition, on), "{:?}", rung);
        }
        // No two contacts share a place.
        for (at, one) in rung.contacts.iter().enumerate() {
            prop_assert!(one.column + one.columns <= rung.columns && one.row < rung.rows);
            for other in rung.contacts.iter().skip(at + 1).filter(|other| other.row == one.row) {
                prop_assert!(one.column + one.columns <= other.column || other.column + other.columns <= one.column);
            }
        }
    }
}

#[test]
fn what_holds_itself_is_drawn_as_every_book_draws_it() {
    // Stop in series with start, start bridged by the relay's own contact.
    let names = ["stop", "start", "relay"];
    let named: Vec<Named> = names.iter().enumerate().map(|(at, name)| Named { name: (*name).into(), so: is(at) }).collect();
    let condition = Condition::all([is(0).negated(), Condition::any([is(1), is(2)])]);
    let rung = rung(&condition, &named, 1, 101).unwrap();
    let told: Vec<_> = rung.contacts.iter().map(|contact| (contact.name.as_str(), contact.inverted, contact.wires)).collect();
    assert_eq!(told, [("stop", true, [1, 101]), ("start", false, [101, 102]), ("relay", false, [101, 102])]);
    assert_eq!((rung.columns, rung.rows, rung.last_wire), (2, 2, 102));
    // What never changes has no contact.
    assert!(wallplate::calc::ladder::rung(&Condition::Always(true), &named, 1, 101).is_err());
}
