//! A roof that no motor moves: it is whole without one, and what has to hold then is asked.

use std::collections::BTreeSet;
use std::path::Path;
use wallplate::design::Choice;
use wallplate::rules::{Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::syntax::tree::Date;
use wallplate::text::Source;
use wallplate::values::Value;

fn options() -> Options {
    Options { today: Some(Date { year: 2027, month: 6, day: 1 }), ..Options::default() }
}

fn design() -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/designs/siskin_pushed.plate")).unwrap()
}

/// The design with some of its text replaced.
fn with(changes: &[(&str, &str)]) -> String {
    let mut text = design();
    for (old, new) in changes {
        assert!(text.contains(old), "{old}");
        text = text.replace(old, new);
    }
    text
}

fn read(text: &str) -> Session {
    Session::read(vec![Source::new("a.plate", text)], &NoShelf, &Choice::default())
}

/// The rules that fail.
fn failing(text: &str) -> BTreeSet<String> {
    let found = read(text).check(&options());
    found.into_iter().filter(|one| one.verdict == Verdict::Fail).map(|one| one.rule.to_string()).collect()
}

fn si(text: &str, expression: &str) -> f64 {
    let mut session = read(text);
    let (_, outcome) = session.value(expression).unwrap();
    outcome.as_ref().ok().and_then(Value::si).unwrap_or_else(|| panic!("{expression}: {outcome:?}"))
}

/// Strictly: nothing fails, nothing is open, nothing is tight, and nothing of a whole building is missing.
#[test]
fn a_roof_that_is_pushed_is_whole_without_a_drive() {
    let session = read(&design());
    assert!(session.problems().is_empty(), "{:?}", session.problems());
    let troubles: Vec<String> = session
        .check(&options())
        .into_iter()
        .filter(|one| one.verdict != Verdict::Pass)
        .map(|one| format!("{} {:?}: {}", one.rule, one.subjects, one.message))
        .collect();
    assert_eq!(troubles, Vec::<String>::new());
    let begun: Vec<String> = session.not_begun(&options()).into_iter().map(|one| format!("{}: {}", one.area, one.lacks)).collect();
    assert_eq!(begun, Vec::<String>::new());
}

/// Without its handle nothing moves it, and that is said as before.
#[test]
fn without_its_handle_it_lacks_a_drive() {
    let text = design();
    let from = text.find("push_handle ").unwrap();
    let until = from + text[from..].find("\n}\n").unwrap() + 3;
    let session = read(&format!("{}{}", &text[..from], &text[until..]));
    assert!(session.not_begun(&options()).iter().any(|one| one.area == "drive"));
    let found = session.check(&options());
    assert!(found.iter().any(|one| one.rule == "travel.each_end_has_both" && one.verdict == Verdict::Fail));
}

#[test]
fn what_one_person_cannot_do_fails() {
    for (changes, rule) in [
        // Five times the weight rolls five times as hard.
        (&[("mass               130 kg ± 7.8 kg", "mass               1300 kg ± 78 kg")][..], "drive.one_person_pushes_it"),
        // Over the head an arm pushes with half of what the whole body does.
        (&[("level         1.1 m", "level         1.8 m")], "drive.one_person_pushes_it"),
        (&[("operating_wind      6 m/s", "operating_wind      12 m/s")], "drive.one_person_pushes_it"),
        // A bar that nothing carries.
        (&[("station       1 m\n  offset        -90 mm", "station       3 m\n  offset        -90 mm")], "space.handle_is_at_the_roof"),
        (&[("station       1 m\n  offset        -90 mm", "station       1 m\n  offset        -300 mm")], "space.handle_is_at_the_roof"),
        // A stop for a motor of 60 mm/s meets a roof as fast as one walks.
        (&[("takes_energy  150 J", "takes_energy  30 J")], "travel.stop_energy"),
        (&[("fixing        8 kN", "fixing        1 kN")], "travel.stop_holds_the_blow"),
        (
            &[
                ("stop open_left like", "stop closed_too like"),
                ("stop open_right like", "stop closed_three like"),
                ("  end           open\n", "  end           closed\n"),
            ],
            "travel.each_end_has_both",
        ),
        // Nothing that holds it open once whoever has pushed it lets go.
        (&[("works anywhere", "works closed"), ("works         open", "works         closed")], "running.pushed_roof_is_locked_open"),
        // In the room the handle meets the wall that the roof rolls over.
        (&[("station       1 m\n  offset        -90 mm", "station       400 mm\n  offset        900 mm")], "space.handle_passes_free"),
        (&[("meets         2.12 m", "meets         3.12 m")], "running.pushed_far_enough_open"),
    ] {
        let found = failing(&with(changes));
        assert!(found.contains(rule), "{changes:?}: {found:?}");
    }
}

/// Common practice, no source: a bar on a fascia stands out 60 mm at the most. The roof ends at -120 mm on that side, and at 2.12 m.
#[test]
fn a_handle_hangs_from_the_roof_or_its_fascia() {
    for (station, offset, holds) in [
        ("1 m", "-180 mm", true),
        ("1 m", "-181 mm", false),
        ("2.18 m", "-90 mm", true),
        ("2.181 m", "-90 mm", false),
        ("-180 mm", "-90 mm", true),
    ] {
        let place = format!("station       {station}\n  offset        {offset}");
        let found = failing(&with(&[("station       1 m\n  offset        -90 mm", &place)]));
        assert_eq!(!found.contains("space.handle_is_at_the_roof"), holds, "{station}, {offset}: {found:?}");
    }
}

/// By hand: `m v^2 / 2` at the heaviest and as fast as one walks, 1.46 m/s (Bohannon 1997); on the way of 2.2 m a push of 225 N,
/// less the rolling, with the wind behind it would come to more.
#[test]
fn the_stops_meet_a_walk() {
    let text = design();
    let mass = si(&text, "main_roof.mass");
    assert!((mass - 130.0).abs() < 1e-9);
    let by_hand = mass * 1.46_f64.powi(2) / 2.0;
    assert!((si(&text, "open_right.brought") - by_hand).abs() < 1e-6 * by_hand);
    // On a way of a hand's breadth nobody comes to walking: what the push and the wind do on it, less the rolling.
    let near = with(&[("station       4.31 m ± 3 mm", "station       2.20 m ± 3 mm")]);
    let [person, wind, rolling] = ["pull_bar.person", "main_roof.operating_drag", "main_roof.way.resistance"].map(|of| si(&near, of));
    let way = si(&near, "main_roof.rests_open - main_roof.rests_shut");
    let done = (person + wind - rolling) * way;
    assert!((si(&near, "open_right.brought") - done).abs() < 1e-6 * done, "{done}");
}
