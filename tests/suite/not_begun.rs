//! A whole building has more than what is written: what no rule can look at is not begun, and is said.

use crate::cli::desk::Desk;
use crate::examples::without_tolerances;
use std::collections::BTreeSet;
use std::path::Path;
use wallplate::design::Choice;
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::syntax::tree::Date;
use wallplate::text::Source;

const TODAY: Date = Date { year: 2027, month: 6, day: 1 };

fn example(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name)).unwrap()
}

fn read(text: &str) -> Session {
    Session::read(vec![Source::new("a.plate", text)], &NoShelf, &Choice::default())
}

fn options() -> Options {
    Options { today: Some(TODAY), ..Options::default() }
}

fn lacking(text: &str) -> Vec<String> {
    let found = read(text).not_begun(&options());
    found.into_iter().map(|one| format!("{} {}: {}", one.area, one.component.unwrap_or_default(), one.lacks)).collect()
}

/// The blocks of a text: what stands from a first line that is not indented to the next.
fn blocks(text: &str) -> Vec<String> {
    let mut blocks: Vec<String> = Vec::new();
    for line in text.lines() {
        let begins = line.starts_with(|sign: char| sign.is_ascii_lowercase());
        match blocks.last_mut() {
            Some(last) if !begins => {
                last.push('\n');
                last.push_str(line);
            }
            _ => blocks.push(line.to_owned()),
        }
    }
    blocks
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.lines()
        .flat_map(|line| line.split('#').next().unwrap_or_default().split(|sign: char| !(sign.is_ascii_alphanumeric() || sign == '_')))
}

/// The kind of a component or pattern and its name.
fn header(block: &str) -> Option<(&str, &str)> {
    let mut words = words(block).filter(|word| !word.is_empty());
    match words.next()? {
        "use" | "let" | "variant" | "measured" | "accept" => None,
        "pattern" => Some((words.next()?, words.next()?)),
        kind => Some((kind, words.next().unwrap_or_default())),
    }
}

/// The text without all components of a kind, without the lines that name one of them, and without the blocks on
/// one line that do.
fn without(text: &str, kind: &str) -> String {
    let mut gone: BTreeSet<String> = BTreeSet::new();
    let mut kept = blocks(text);
    kept.retain(|block| match header(block) {
        Some((of, name)) if of == kind => {
            gone.insert(name.to_owned());
            false
        }
        _ => true,
    });
    loop {
        let before = gone.len();
        let names = gone.clone();
        kept.retain(|block| {
            let first = block.lines().next().unwrap_or_default();
            let named = header(block).is_some() && words(first).any(|word| names.contains(word));
            if named && let Some((_, name)) = header(block) {
                gone.insert(name.to_owned());
            }
            !named
        });
        for block in &mut kept {
            let inside: Vec<&str> = block.lines().filter(|line| !words(line).any(|word| gone.contains(word))).collect();
            *block = inside.join("\n");
        }
        if gone.len() == before {
            return kept.join("\n") + "\n";
        }
    }
}

/// Kinds that a whole building may do without, and why nothing is said when the last of them goes.
const MAY_BE_ABSENT: [(&str, &str); 15] = [
    ("battery", "a roof can be fed from the mains alone"),
    ("bracket", "what it holds can be fastened without one"),
    ("conduit", "cables may come another way"),
    ("emergency_stop", "a button that is held stops the roof too; whether a hand can stop it is judged without it"),
    ("floor_deck", "a slab is a floor too"),
    ("keeper", "whether the weight alone holds the moving roof is judged without it"),
    ("merchant", "nothing is checked of it"),
    ("obstacle", "an open field hides no sky"),
    ("price", "nothing is checked of it"),
    ("slab", "posts on footings and a deck do as well"),
    ("spacer", "tracks on steel or concrete do not move with the seasons"),
    ("infill", "a mesh closes the gap too, and the gap is judged"),
    ("stock", "the only size of its own is that of the deck's boards, which are bought and not checked"),
    ("target", "a view is enough to judge the sky by"),
    ("park_sensor", "whether the roof clears the telescope in every pose is judged without it"),
];

#[test]
fn the_last_of_a_kind_does_not_go_unnoticed() {
    let mut tried = 0;
    let mut unnoticed = Vec::new();
    for name in ["heron_fold.plate", "sorrel_kettle.plate"] {
        let text = without_tolerances(&example(name));
        let open = |finding: &Finding| finding.verdict != Verdict::Pass && !finding.is_accepted();
        assert_eq!(lacking(&text), Vec::<String>::new(), "{name} is whole");
        assert!(!read(&text).check(&options()).iter().any(open), "{name} holds");
        let kinds: BTreeSet<String> = blocks(&text).iter().filter_map(|block| Some(header(block)?.0.to_owned())).collect();
        for kind in kinds {
            let shorter = without(&text, &kind);
            let session = read(&shorter);
            // Nothing is checked where it has been said already.
            let noticed =
                !session.problems().is_empty() || !session.not_begun(&options()).is_empty() || session.check(&options()).iter().any(open);
            tried += 1;
            if !noticed && !MAY_BE_ABSENT.iter().any(|(known, _)| *known == kind) {
                unnoticed.push(format!("{name}: without any `{kind}` all checks hold"));
            }
        }
    }
    assert!(tried > 40, "{tried}");
    assert!(unnoticed.is_empty(), "\n{}", unnoticed.join("\n"));
}

#[test]
fn a_roof_without_rafters_is_not_begun() {
    let text = without(&example("heron_fold.plate"), "rafter");
    assert_eq!(lacking(&text), ["structure main_roof: what carries its covering: rafters, purlins or joists"]);
    let text = without(&example("heron_fold.plate"), "seal");
    assert_eq!(lacking(&text), ["weather main_roof: seals between it and the building"]);
}

/// Two roofs, rafters on one of them: a building has a rafter, and a roof has none.
#[test]
fn each_component_is_asked_by_itself() {
    let text = example("heron_fold.plate")
        + "\nroof lean_to { shape flat; length 2 m; width 2 m; start 0 m; right_edge 5 m; eaves_level 2 m; rolls_on west_wheels; enclosure enclosed }\n";
    let found = lacking(&text);
    assert!(found.contains(&"structure lean_to: what carries its covering: rafters, purlins or joists".to_owned()), "{found:?}");
    assert!(!found.iter().any(|one| one.contains("main_roof")), "{found:?}");
}

#[test]
fn an_empty_design_is_begun_nowhere() {
    let found = lacking("observatory small { rolls_open north; design_code eurocode }\n");
    assert_eq!(found, ["piers : a pier for the telescope", "structure : a roof that rolls", "structure : a wall below the roof"]);
}

#[test]
fn it_is_told_everywhere_and_strict_heeds_it() {
    let desk = Desk::new().file("a.plate", without(&example("heron_fold.plate"), "motor"));
    let plain = desk.run(&["check", "a.plate"]);
    assert_eq!(plain.status, Some(0), "no verdict: {}", plain.out);
    assert!(plain.out.contains("not begun: power: roof_drive lacks a motor that turns it"), "{}", plain.out);
    assert_eq!(desk.run(&["check", "--strict", "a.plate"]).status, Some(1));
    assert_eq!(desk.run(&["check", "--strict", "--only", "piers", "a.plate"]).status, Some(0), "another area");
    let json = desk.run(&["check", "--format", "json", "a.plate"]).json();
    let lacking = &json["summary"]["not_begun"];
    assert_eq!(lacking[0]["area"], "power");
    assert_eq!(lacking[0]["component"], "roof_drive");
    assert!(lacking[0]["lacks"].as_str().unwrap().starts_with("a motor that turns it"), "{lacking}");
    let sarif = desk.run(&["check", "--format", "sarif", "a.plate"]).json();
    let told = &sarif["runs"][0]["invocations"][0]["toolExecutionNotifications"][0]["message"]["text"];
    assert!(told.as_str().unwrap().starts_with("not begun: power: roof_drive"), "{told}");
}

#[test]
fn a_kind_of_ones_own_may_say_what_it_needs() {
    let text = "kind heater \"A heater\" {\n  every_building comfort, \"a heater\"\n  needs comfort, \"a thermostat\", length_of(fans) > 0\n  fans links to heater\n}\n";
    let found = lacking(text);
    assert!(found.contains(&"comfort : a heater".to_owned()), "{found:?}");
    let found = lacking(&format!("{text}heater small {{ }}\n"));
    assert_eq!(found, ["comfort small: a thermostat"], "not known to be there; and no observatory");
    let session = read("kind heater \"A heater\" {\n  needs comfort\n}\n");
    let problems = session.problems();
    assert!(problems.iter().any(|problem| problem.message.contains("`needs` is an area and what a whole building has")), "{problems:?}");
}
