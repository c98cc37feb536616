//! What is written several times is told once, on the first of them.

use wallplate::design::Choice;
use wallplate::rules::Options;
use wallplate::session::{NoShelf, Session};
use wallplate::text::Source;

/// The subjects of the findings that something is said twice, with what each says.
fn said_twice(text: &str) -> Vec<String> {
    let session = Session::read(vec![Source::new("a.plate", text)], &NoShelf, &Choice::default());
    let findings = session.check(&Options { only: Some("lines.said_once".into()), ..Options::default() });
    findings.into_iter().map(|finding| format!("{}: {}", finding.subjects.join(" "), finding.message)).collect()
}

#[test]
fn several_that_say_the_same_are_told_once() {
    let pin = |name: &str, place: &str| format!("magnet {name} {{ station {place} }}\n");
    let told = said_twice(&[("a", "1 m"), ("b", "2 m"), ("c", "1 m"), ("d", "1 m"), ("e", "2 m")].map(|(name, at)| pin(name, at)).concat());
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(told[0].starts_with("a: c and d say") || told[0].starts_with("a: c, d say"), "{told:?}");
    assert!(told[1].starts_with("b: e says"), "{told:?}");
}

#[test]
fn what_differs_or_is_unknown_is_not_said_twice() {
    for text in [
        "magnet a { station 1 m }\nmagnet b { station 1.001 m }\n",
        "magnet a { station 1 m }\nmagnet b { station 1 m; offset 0 m }\n",
        "magnet a \"one\" { station 1 m }\nmagnet b \"two\" { station 1 m }\n",
        "magnet a { station 1 m }\nsensor b { station 1 m }\n",
        "magnet a { station nowhere }\nmagnet b { station nowhere }\n",
        // The elements of one row are meant to be several.
        "magnet row[1..3] { station 1 m }\n",
    ] {
        assert_eq!(said_twice(text), Vec::<String>::new(), "{text}");
    }
    let rows = said_twice("magnet row[1..3] { station 1 m }\nmagnet other { station 1 m }\n");
    assert_eq!(rows.len(), 1, "{rows:?}");
    assert!(rows[0].contains("other"), "{rows:?}");
}
