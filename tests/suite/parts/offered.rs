//! What is offered and how parts are called: limits of a line, letters that are a side.

use wallplate::design::Choice;
use wallplate::rules::Options;
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;
use wallplate::values::Value;

fn read(text: &str) -> Session {
    let session = Session::read(vec![Source::new("test.plate", text)], &NoShelf, &Choice::default());
    assert!(session.problems().is_empty(), "{text}: {:?}", session.problems());
    session
}

/// A number that would mend it is offered only where the kind lets it stand.
#[test]
fn no_number_is_offered_that_may_not_stand() {
    let offers = |limit: &str, now: &str, demand: &str, capacity: &str| {
        let kind = format!("kind crate \"a crate\" {{ wide length required {limit} \"w\" }}\n");
        let rule =
            format!("rule own.holds \"It holds\" {{ each c in crate; demand {demand}; capacity {capacity}; mend c.wide; says \"so\" }}");
        let session = read(&format!("{kind}crate one {{ wide {now} }}\n{rule}\n"));
        let found = session.check(&Options::default());
        !found.into_iter().find(|finding| finding.rule == "own.holds").unwrap().mends.is_empty()
    };
    for (limit, is_offered) in [("", true), ("at_most 5 m", true), ("below 5 m", true), ("at_most 0.9 m", false), ("below 0.9 m", false)] {
        assert_eq!(offers(limit, "0.5 m", "1 m", "c.wide"), is_offered, "{limit}");
    }
    for (limit, is_offered) in [("at_least 0.1 m", true), ("above 0.1 m", true), ("at_least 1.5 m", false), ("above 1.5 m", false)] {
        assert_eq!(offers(limit, "2 m", "c.wide", "1 m"), is_offered, "{limit}");
    }
}

/// `ne_wall` is the north-east wall; one letter at the end is a side of what stands somewhere, and of a cable it is none.
#[test]
fn letters_are_said_as_the_sides_that_they_are() {
    let stands = "kind crate \"a crate\" { offset length \"o\" }\nkind wire_of_mine \"a wire\" { long length \"l\" }\n";
    let in_words = |kind: &str, name: &str| {
        let mut session = read(&format!("{stands}{kind} {name} {{\n}}\n"));
        match session.value(&format!("{name}.in_words")).unwrap().1 {
            Ok(Value::Text(text)) => text.to_string(),
            other => panic!("{other:?}"),
        }
    };
    for (kind, name, due) in [
        ("crate", "ne_crate", "north-east crate"),
        ("crate", "crate_ne", "north-east crate"),
        ("crate", "crate_e", "east crate"),
        ("crate", "crate_e_2", "east crate 2"),
        ("crate", "n_crate", "n crate"),
        ("wire_of_mine", "feed_n", "feed n"),
        ("wire_of_mine", "feed_sw", "south-west feed"),
        ("wire_of_mine", "e", "e"),
    ] {
        assert_eq!(in_words(kind, name), due, "{name}");
    }
}

/// `6 ft-2 in` is a dash of the tape, and told; between other units it takes away.
#[test]
fn only_between_feet_and_inches_a_dash_is_one_of_the_tape() {
    for (text, is_told) in [("6 ft-2 in", true), ("6 ft - 2 in", false), ("6 cm-2 in", false), ("6 ft-2 cm", false), ("6 m-2 ft", false)] {
        let session = Session::read(vec![Source::new("test.plate", format!("let a {text}\n"))], &NoShelf, &Choice::default());
        assert_eq!(!session.problems().is_empty(), is_told, "{text}: {:?}", session.problems());
    }
}
