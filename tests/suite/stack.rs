//! A stack that works itself out: from the footing's top up to the rail each level, height and length that is not written is what fits
//! between its neighbours. The numbers that are expected are sums of those that the design writes (geometry).

use crate::examples::{self, changed};
use approx::assert_relative_eq;
use wallplate::rules::{Options, Verdict};
use wallplate::session::Session;
use wallplate::values::Value;

/// Pads 150 mm below the floor, a plate of 150 mm on a wall and a post, a rail of 40 mm on it.
const STACK: &str = "use timber\n\
    observatory o { rolls_open north; design_code eurocode }\n\
    site { ground_level -150 mm }\n\
    slab floor { thickness 150 mm }\n\
    footing pad { size 0.6 m by 0.6 m; depth 0.7 m; station 6 m; offset 0 m }\n\
    wall side { stands_on floor; runs 0 m to 4 m; offset 0 m; thickness 100 mm; HEIGHT }\n\
    post gantry { stands_on pad; station 6 m; offset 0 m; grade c24; stock timber_100_100; POST }\n\
    beam plate { rests_on side, gantry; runs 0 m to 6.2 m; offset 0 m; grade c24; stock timber_100_150; LEVEL }\n\
    track rail { profile flat; runs 0 m to 6 m; offset 0 m; rests_on plate; RAIL }\n";

fn stack(height: &str, post: &str, level: &str, rail: &str) -> String {
    STACK.replace("HEIGHT", height).replace("POST", post).replace("LEVEL", level).replace("RAIL", rail)
}

fn read(text: &str) -> Session {
    examples::read("stack.plate", text)
}

fn number(session: &mut Session, expression: &str) -> f64 {
    let (_, outcome) = session.value(expression).unwrap_or_else(|problems| panic!("{expression}: {problems:?}"));
    outcome.as_ref().ok().and_then(Value::si).unwrap_or_else(|| panic!("{expression}: {outcome:?}"))
}

/// The lines that a value waits for.
fn waits_for(text: &str, expression: &str) -> Vec<String> {
    let mut session = read(text);
    assert!(session.problems().is_empty(), "{text}\n{:?}", session.problems());
    let (_, outcome) = session.value(expression).unwrap();
    let lack = outcome.expect_err(expression);
    let named = lack.lines().iter().map(|line| wallplate::values::MissingLine::of(session.design(), line));
    named.map(|line| format!("{}.{}", line.component, line.property)).collect()
}

fn failing(text: &str) -> Vec<String> {
    let session = read(text);
    let findings = session.check(&Options { only: Some("space".into()), ..Options::default() });
    findings.iter().filter(|finding| finding.verdict == Verdict::Fail).map(|finding| finding.rule.to_string()).collect()
}

/// Whichever one of the levels is written, the others are what fits: 2 m of plate, 150 mm of it, 150 mm from pad to floor, 40 mm of rail.
#[test]
fn one_written_level_settles_all_others() {
    for (height, post, level, rail) in [
        ("", "", "level 2 m", "rail_height 40 mm"),
        ("height 1.85 m", "", "", "rail_height 40 mm"),
        ("top_level 1.85 m", "", "", "rail_height 40 mm"),
        ("", "height 2 m", "", "rail_height 40 mm"),
        ("", "", "", "rail_height 40 mm; level 2.04 m"),
        ("height 1.85 m", "height 2 m", "level 2 m", "level 2.04 m"),
    ] {
        let text = stack(height, post, level, rail);
        let mut session = read(&text);
        for (expression, fits) in [
            ("side.height", 1.85),
            ("side.top_level", 1.85),
            ("gantry.height", 2.0),
            ("gantry.top_level", 1.85),
            ("plate.level", 2.0),
            ("rail.level", 2.04),
        ] {
            assert_relative_eq!(number(&mut session, expression), fits, max_relative = 1e-9);
        }
        assert!(failing(&text).is_empty(), "{text}\n{:?}", failing(&text));
    }
}

/// A pier stands on its block, wherever that ends.
#[test]
fn a_pier_begins_on_its_footing() {
    let pier = "pier p { stands_on block; top_level 1.2 m; station 2 m; offset 1.5 m }\nfooting block { size 0.9 m by 0.9 m; depth 0.9 m; top -180 mm }\n";
    let mut session = read(&(stack("height 1.85 m", "", "", "rail_height 40 mm") + pier));
    assert_relative_eq!(number(&mut session, "p.foot_level"), -0.18, max_relative = 1e-9);
    assert_relative_eq!(number(&mut session, "sum(x for x in p.lengths)"), 1.38, max_relative = 1e-9);
}

/// Nothing is guessed: where no level of the stack is written one line is asked for, and it is the same one from wherever one asks.
#[test]
fn without_any_level_one_line_is_asked_for() {
    let bare = stack("", "", "", "rail_height 40 mm");
    for asked in ["side.height", "gantry.height", "plate.level", "rail.level", "side.top_level"] {
        assert_eq!(waits_for(&bare, asked), ["plate.level"], "{asked}");
    }
    // A rail whose height nobody knows settles nothing below it.
    let floating = stack("", "", "", "level 2.04 m");
    assert_eq!(waits_for(&floating, "gantry.height"), ["plate.level"]);
    assert_eq!(waits_for(&stack("height 1.85 m", "", "", ""), "rail.level"), ["rail.rail_height"]);
    // A plate below the floor leaves no height at all: none is made up.
    assert_eq!(waits_for(&stack("", "", "level -2 m", "rail_height 40 mm"), "side.height"), ["side.height"]);
    // A wall and a post that carry nothing are as high as somebody writes.
    let alone = "slab floor { thickness 150 mm }\nwall w { stands_on floor; runs 0 m to 4 m; offset 0 m; thickness 100 mm }\n\
        footing pad { depth 0.7 m }\npost p { stands_on pad; station 0 m; offset 0 m }\n";
    assert_eq!(waits_for(alone, "w.height"), ["w.height"]);
    assert_eq!(waits_for(alone, "p.height"), ["p.height"]);
}

/// What is written is held against what fits, once: a post cut short or too long is one finding, on the post's own beam.
#[test]
fn a_written_height_is_held_against_what_fits() {
    let with = |post: &str| stack("height 1.85 m", post, "level 2 m", "rail_height 40 mm");
    assert!(failing(&with("height 2.004 m")).is_empty() && failing(&with("height 1.995 m")).is_empty());
    assert_eq!(failing(&with("height 1.95 m")), ["space.beams_rest"]);
    assert_eq!(failing(&with("height 2.05 m")), ["space.post_has_its_room"]);
    // Of two written heights below one beam the other one is off.
    assert_eq!(failing(&stack("height 1.85 m", "height 1.95 m", "", "rail_height 40 mm")), ["space.beams_rest"]);
    assert_eq!(failing(&stack("", "", "level 2 m", "rail_height 40 mm; level 2.1 m")), ["space.tracks_rest"]);
}

/// A post on a stump of 0.6 m, on a pad at -0.15 m, is as long as is left below the plate at 1.85 m: 1.4 m. Timber of 100 by 100 mm
/// weighs 50 N/m (EN 1991-1-1:2002 Table A.3, 5 kN/m3): 70 N come down from the post, 100 N from both.
#[test]
fn a_post_stands_on_a_post() {
    let stump = |lines: &str| {
        stack("height 1.85 m", "", "", "rail_height 40 mm").replace("stands_on pad;", "stands_on stump;")
            + &format!("post stump {{ stands_on pad; station 6 m; grade c24; stock timber_100_100; {lines} }}\n")
    };
    let text = stump("offset 0 m; height 0.6 m");
    let mut session = read(&text);
    for (expression, fits) in [("gantry.foot_level", 0.45), ("gantry.height", 1.4), ("gantry.presses", 70.0), ("stump.presses", 100.0)] {
        assert_relative_eq!(number(&mut session, expression), fits, max_relative = 1e-9);
    }
    assert!(failing(&text).is_empty(), "{:?}", failing(&text));
    assert_eq!(waits_for(&stump("offset 0 m"), "gantry.height"), ["stump.height"]);
    // 80 mm of 100 beside it: a fifth of its foot is left.
    assert_eq!(failing(&stump("offset 80 mm; height 0.6 m")), ["space.posts_seated"]);
}

/// Lines that wait for each other are a circle, told in words with every step; nothing runs on and on.
#[test]
fn lines_that_wait_for_each_other_are_told() {
    for text in [
        stack("", "", "level gantry.top_level + 150 mm", "rail_height 40 mm"),
        stack("", "", "level side.height + 150 mm", "rail_height 40 mm"),
        // A post on the beam that it carries.
        stack("", "height 2 m", "", "rail_height 40 mm").replace("stands_on pad", "stands_on plate"),
    ] {
        let mut session = read(&text);
        let said = format!("{:?}", session.value("plate.level").map(|_| session.problems()));
        assert!(said.contains("defined by itself") && said.contains("`plate.level` →"), "{said}");
    }
}

/// Shorter by these lines the first example says what it said: they follow.
#[test]
fn the_first_example_says_the_same_with_all_of_it_written() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/heron_fold.plate");
    let text = std::fs::read_to_string(path).unwrap();
    let longer =
        changed(&text, "  station       4.30 m + index * 1.40 m\n", "  station       4.30 m + index * 1.40 m\n  height        2.00 m\n");
    let longer = changed(&longer, "  stud_braced   300 mm", "  height        1.85 m\n  stud_braced   300 mm");
    let longer = changed(&longer, "  rail_height    40 mm", "  level          2.04 m");
    let verdicts = |text: &str| {
        let findings = read(text).check(&Options::default());
        findings
            .into_iter()
            .map(|finding| (finding.rule.to_string(), format!("{:?}", finding.subjects), finding.verdict))
            .collect::<Vec<_>>()
    };
    assert_eq!(verdicts(&text), verdicts(&longer));
}
