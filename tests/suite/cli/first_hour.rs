//! What somebody asks who has begun with the program today.

use super::desk::Desk;
use std::io::Write;
use std::process::Stdio;

const DESIGN: &str = "lid big { uplift 3 kN }\nlid small { uplift 1 kN }\n\
    peg one { holds big; working_load 4 kN; height 1 m }\npeg row[1..2] { holds small; working_load 4 kN; height 3 m }\n";

/// The rules and what each is about, of a check.
fn found(arguments: &[&str]) -> Vec<String> {
    let json = Desk::with(DESIGN).run(&[&["check", "a.plate", "--format", "json"], arguments].concat()).json();
    let of = |result: &serde_json::Value| format!("{} {}", result["rule"].as_str().unwrap(), result["subjects"][0].as_str().unwrap());
    json["results"].as_array().unwrap().iter().map(of).collect()
}

#[test]
fn several_areas_rules_and_components() {
    let all = found(&[]);
    assert_eq!(all.len(), 6, "{all:?}");
    assert_eq!(found(&["--only", "lidding,reach"]), all);
    assert_eq!(found(&["--only", "lidding.pegs_hold", "--only", "reach"]), all);
    assert_eq!(found(&["--only", "one"]), ["lidding.pegs_hold one", "reach.peg_in_reach one"]);
    // Of an array all of it, or one.
    assert_eq!(found(&["--only", "row"]).len(), 4);
    assert_eq!(found(&["--only", "row[2]"]), ["lidding.pegs_hold row[2]", "reach.peg_in_reach row[2]"]);
    assert_eq!(found(&["--only", "one,lidding"]).len(), 4);
    let done = Desk::with(DESIGN).run(&["check", "a.plate", "--only", "lidding,onne"]);
    assert_eq!(done.status, Some(2));
    assert!(done.err.contains("there is no area, rule or component `onne`") && done.err.contains("did you mean `one`?"), "{}", done.err);
}

/// A rule is asked for by its name, on all that it is about or on some of it: both sides with their steps.
#[test]
fn both_sides_of_a_rule() {
    let desk = Desk::with(DESIGN);
    let done = desk.run(&["value", "a.plate", "--rule", "lidding.pegs_hold", "one", "--how"]);
    assert_eq!(done.status, Some(0), "{}", done.err);
    for line in [
        "lidding.pegs_hold (one): Each peg holds its share",
        "  fail: one is pulled with 3 kN and holds 2 kN",
        "  needed = p.share",
        "  available = p.capacity",
        "    one.capacity = working_load * grip",
    ] {
        assert!(done.out.lines().any(|one| one == line), "{line}\n{}", done.out);
    }
    assert!(!done.out.contains("row"), "{}", done.out);
    let brief = desk.run(&["value", "a.plate", "--rule", "lidding.pegs_hold"]).out;
    assert_eq!(brief.matches("lidding.pegs_hold (").count(), 3, "{brief}");
    assert!(!brief.contains("working_load * grip"), "{brief}");
    for (arguments, says) in [
        (&["--rule", "lidding.pegs_hold", "big"][..], "`lidding.pegs_hold` says nothing of big"),
        (&["--rule", "lidding.pegs_hold", "big"], "it is about one; row[1]; row[2]"),
        (&["--rule", "lidding.peg_hold"], "did you mean `lidding.pegs_hold`?"),
    ] {
        let done = desk.run(&[&["value", "a.plate"], arguments].concat());
        assert_eq!(done.status, Some(2));
        assert!(done.err.contains(says), "{says}: {}", done.err);
    }
}

#[test]
fn a_design_from_standard_input() {
    let desk = Desk::with("");
    let mut command = desk.command(&["check", "-"]);
    let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
    let text = format!("use \"vocabulary.plate\"\n{DESIGN}");
    child.stdin.take().unwrap().write_all(text.as_bytes()).unwrap();
    let out = String::from_utf8(child.wait_with_output().unwrap().stdout).unwrap();
    assert!(out.contains("fail  lidding.pegs_hold (one)") && out.contains("[standard input:4:"), "{out}");
}

/// What is no name is looked for in names, titles and meanings.
#[test]
fn words_are_looked_for_in_what_is_said() {
    let desk = Desk::new();
    let out = desk.run(&["rules", "torque"]).out;
    assert!(out.contains("  pinion_torque ") && out.contains("  stall_force "), "{out}");
    let both = desk.run(&["rules", "stalled", "motor"]).out;
    assert!(both.contains("  stall_force ") && !both.contains("  pinion_torque "), "{both}");
    // A part of a word is none: `ten` does not stand in `often`, nor `ear` in `gear`.
    assert!(!desk.run(&["rules", "ear"]).out.contains("gear"));
    let slip = desk.run(&["rules", "horizn"]);
    assert!(slip.err.contains("nothing speaks of it") && slip.err.contains("did you mean `horizon`?"), "{}", slip.err);
}

/// First what a person writes, by how much stands on it; then what is worked out, a line each.
#[test]
fn the_page_of_a_kind_says_first_what_is_written() {
    let out = Desk::new().run(&["rules", "roof"]).out;
    let at = |text: &str| out.find(text).unwrap_or_else(|| panic!("{text}: {out}"));
    assert!(at("  to be written") < at("\n  may be written") && at("\n  may be written") < at("\n  worked out, unless written"));
    assert!(at("\n  pitch ") < at("\n  live_load ") && at("\n  overhang ") < at("\n  drag "), "{out}");
    assert!(out.lines().count() < 320, "{}", out.lines().count());
    assert!(out.contains("`wallplate rules roof.NAME` has the formula and the source of each"), "{out}");
}

#[test]
fn catalogues_of_patterns_have_their_entries() {
    let desk = Desk::new();
    for (catalogue, entry) in [("racks", "rack: Steel rack, module 4, 22 mm by 22 mm"), ("wheels", "wheels: "), ("sensors", "sensor: ")] {
        let out = desk.run(&["rules", catalogue]).out;
        assert!(out.contains(entry), "{out}");
    }
}

const GUESSED: &str = "lid big { uplift 3 kN ± 500 N guessed }\nlet bolt  4 kN ± 1 kN guessed\n\
    peg one { holds big; working_load bolt }\npeg two { holds big; working_load 9 kN }\n";

/// A guess counts like any other number, with its tolerance; it is told of, and how much hangs on it.
#[test]
fn what_nobody_knows_yet_is_guessed() {
    let desk = Desk::with(GUESSED);
    let out = desk.run(&["check", "a.plate"]).out;
    let in_one_line = out.split_whitespace().collect::<Vec<_>>().join(" ");
    let said = "2 numbers are guessed: big.uplift (2 checks, one of them fails or is tight), bolt (1 check, one of them fails or is tight)";
    assert!(in_one_line.contains(said), "{out}");
    assert!(out.contains("  guessed     big.uplift 3 kN; bolt 4 kN"), "{out}");
    let listed = desk.run(&["check", "a.plate", "--assumed"]).out;
    assert!(listed.contains("guessed, what decides most first:\n  big.uplift = 3 kN: 2 checks stand on it, one of them"), "{listed}");
    let json = desk.run(&["check", "a.plate", "--format", "json"]).json();
    assert_eq!(json["results"][1]["guessed"][0]["name"], "big.uplift");
    assert_eq!(json["results"][0]["guessed"].as_array().unwrap().len(), 2);
    // Nothing else changes by the word.
    let known = Desk::with(&GUESSED.replace(" guessed", "")).run(&["check", "a.plate"]).out;
    assert!(!known.contains("guessed"), "{known}");
    let strip = |text: &str| -> Vec<String> {
        let plain = |line: &&str| !line.contains("guessed") && line.contains(" pass, ");
        text.lines().filter(plain).map(str::to_owned).collect()
    };
    assert_eq!(strip(&out), strip(&known));
}

#[test]
fn a_guess_says_how_far_it_may_be_off() {
    let said = |design: &str| Desk::with(design).run(&["check", "a.plate"]);
    let done = said("lid big { uplift 3 kN guessed }\n");
    assert!(done.out.contains("warning: `uplift` is guessed, and nothing says how far it may be off"), "{}", done.out);
    assert_eq!(done.status, Some(0));
    assert!(!said("lid big { uplift 3 kN ± 1 kN guessed }\n").out.contains("warning"));
    // One that is worked out has the spread of what it stands on.
    assert!(!said("let a  3 kN ± 1 kN guessed\nlid big { uplift 2 * a guessed }\n").out.contains("warning"));
    for (design, message) in [
        ("lid big { uplift 3 kN }\nmeasured 2027-01-01 { big { uplift 2 kN guessed } }\n", "what was measured is no guess"),
        ("rule a.b \"x\" {\n  each  p in peg\n  require  p.grip > 0 guessed\n}\n", "a rule knows no guesses"),
        ("accept lidding.pegs_hold {\n  because \"x\" guessed\n}\n", "an acceptance knows no guesses"),
    ] {
        let done = said(design);
        assert_eq!(done.status, Some(2), "{design}");
        assert!(done.out.contains(message), "{}", done.out);
    }
}

/// What next: the line that most checks wait for first, with their number, whether it has to be written, and how one finds it.
#[test]
fn the_lines_that_most_checks_wait_for_come_first() {
    let kinds = "kind tap \"A tap\" {\n  pressure  pressure  required  \"of the main\"  found \"a gauge on the garden hose\"\n  \
        bore  length  \"inside\"\n  drip  time  \"between drops\"\n}\n\
        rule taps.a \"a\" {\n  each  t in tap\n  require  t.pressure > 1 Pa\n}\n\
        rule taps.b \"b\" {\n  each  t in tap\n  require  t.pressure > t.bore * (1 Pa) / (1 m)\n}\n\
        rule taps.c \"c\" {\n  each  t in tap\n  require  t.drip > 1 s\n}\n";
    let taps = "tap left { }\ntap right { }\n";
    let out = Desk::new().file("a.plate", format!("{kinds}{taps}")).run(&["check", "a.plate"]).out;
    let list: Vec<&str> = out.lines().skip_while(|line| !line.starts_with("undetermined  6 checks wait")).skip(1).take(4).collect();
    let wanted = [
        "    for, with how many do",
        "       2  `pressure` of left, right (required): a gauge on the garden hose",
        "       1  `bore` of left, right (optional): inside",
        "       1  `drip` of left, right (optional): between drops",
    ];
    assert_eq!(list, wanted, "{out}");
    assert!(out.contains("\nfirst to mend: a.plate:18:1: `pressure` of left is not written\n"), "{out}");
    let page = Desk::new().run(&["rules", "roof.mass"]).out;
    assert!(page.contains("found: weigh it"), "{page}");
}

/// Of a begun design the line that `new` asks for is the one that is missing, not what it could be worked out from.
#[test]
fn the_mass_of_a_roof_is_asked_for_and_not_its_build_up() {
    let desk = Desk::new();
    desk.run(&["new", "shed"]);
    let out = desk.run(&["check", "shed.plate"]).out;
    assert!(out.contains("`mass` of main_roof (optional): weigh it") && !out.contains("`build_up` of"), "{out}");
    assert!(out.lines().count() <= 40, "{}", out.lines().count());
}

/// Four identical pegs are one line where there is little room, and each number stands once where no tolerance moves it.
#[test]
fn what_is_alike_is_said_once() {
    let design = "lid big { uplift 4 kN ± 100 N }\npeg row[1..4] { holds big; working_load 2.1 kN }\n";
    let out = Desk::with(design).run(&["check", "a.plate"]).out;
    assert_eq!(out.matches("tight lidding.pegs_hold").count(), 1, "{out}");
    assert!(out.contains("  as well     row[2]; row[3]; row[4]\n"), "{out}");
    let fails = Desk::with(&design.replace("2.1 kN", "1 kN")).run(&["check", "a.plate"]).out;
    assert!(fails.contains("  needed      1.025 kN at worst, 1 kN as written\n"), "{fails}");
    assert!(fails.contains("  available   0.5 kN (205 % used)\n") || fails.contains("  available   500 N (205 % used)\n"), "{fails}");
}

/// Where another rule stands on the same line, what it says is told too.
#[test]
fn another_rule_on_the_same_line_says_what_it_found() {
    let rules = "rule own.a \"A\" {\n  each  p in peg\n  require  p.working_load > 3 kN\n  says \"too weak for the wind\"\n}\n\
        rule own.b \"B\" {\n  each  p in peg\n  require  p.working_load > 2 kN\n  says \"too weak for the cat\"\n}\n";
    let out = Desk::with(&format!("{rules}lid big {{ uplift 1 N }}\npeg one {{ holds big; working_load 1 kN }}\n"))
        .run(&["check", "a.plate"])
        .out;
    assert!(out.contains("too weak for the wind") && out.contains("  as well     own.b (one): too weak for the cat\n"), "{out}");
}

/// A word of place is drawn, in plain letters; read aloud it is only said.
#[test]
fn words_of_place_have_a_small_drawing() {
    let desk = Desk::new();
    for word in ["station", "offset", "level", "meets", "runs"] {
        let out = desk.run(&["rules", word]).out;
        assert!(out.starts_with(&format!("{word}: ")) && out.is_ascii() && out.matches("\n    ").count() >= 3, "{out}");
        let aloud = desk.run(&["rules", word, "--narrated"]).out;
        assert!(!aloud.contains("+--") && !aloud.contains("|") && !aloud.contains("=="), "{aloud}");
    }
    // The drawing says what is true of the first design: a stop at 8.1 m that meets 3.9 m is touched after 4.2 m.
    let design = "track t { runs 0 m to 9 m; level 2 m; offset 0 m }\nwheels w { runs_on t; stations 0.2 m, 3 m }\n\
        roof r { shape flat; length 4 m; width 3 m; start 0 m; right_edge 0 m; eaves_level 2 m; rolls_on w }\n\
        stop s { end open; stops r; fixed_to t; station 8.1 m; meets 3.9 m }\n";
    assert_eq!(Desk::new().file("a.plate", design).run(&["value", "a.plate", "s.touches_at"]).out, "4.2 m\n");
    assert!(desk.run(&["rules", "wall"]).out.contains("of the middle of its thickness"));
}

/// A block on one long line shows the number that is meant, not the block's beginning with a mark past the edge.
#[test]
fn a_long_line_shows_the_number_that_is_meant() {
    let design = "lid big \"A lid with a title that is long as well\" { uplift 3 kN }\n\
        peg one \"The peg beside the door, under the eaves on the windy side of the house\" { height 1 m; holds big; grip 0.6; working_load 4 kN }\n\
        rule own.a \"A\" {\n  each  p in peg\n  demand  p.working_load\n  capacity  1 kN\n  points_to  p.working_load, p\n}\n";
    let out = Desk::with(design).run(&["check", "a.plate", "--only", "own"]).out;
    let line = out.lines().find(|line| line.contains("working_load 4 kN")).unwrap_or_else(|| panic!("{out}"));
    let mark = out.lines().skip_while(|one| *one != line).nth(1).unwrap();
    let at = |text: &str, sign: &str| text.find(sign).map(|byte| text[..byte].chars().count());
    assert_eq!(at(mark, "─"), at(line, "working_load"), "{out}");
}

/// A line that belongs to another block says so.
#[test]
fn a_line_in_the_wrong_block_is_told_where_it_belongs() {
    let out = Desk::new()
        .file("a.plate", "footing f { depth 900 mm }\npier p { stands_on f; mesh \"3 mm\"; aperture 3 mm; station 1 m; hight 2 m }\n")
        .run(&["check", "a.plate"])
        .out;
    let in_one_line = out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        in_one_line.contains("`mesh` is a block of its own: write `mesh NAME { closes … }`, and name this pier in its `closes`"),
        "{out}"
    );
    assert!(in_one_line.contains("`aperture` is a line of a `mesh`, which is a block of its own"), "{out}");
    assert!(in_one_line.contains("`wallplate rules pier` lists what may be written here"), "{out}");
}

/// Said of one post and of the other with another plate on each, it is one thing to mend.
#[test]
fn findings_that_differ_in_names_alone_are_one_block() {
    let rule =
        "rule own.a \"A\" {\n  each  p in peg\n  require  p.working_load > 5 kN\n  says \"{p.name} is too weak for {p.holds.name}\"\n}\n";
    let design = format!(
        "{rule}lid big {{ uplift 1 N }}\nlid small {{ uplift 1 N }}\npeg one {{ holds big; working_load 4 kN }}\npeg two {{ holds small; working_load 4 kN }}\n"
    );
    let out = Desk::with(&design).run(&["check", "a.plate", "--only", "own"]).out;
    assert_eq!(out.matches("fail  own.a").count(), 1, "{out}");
    assert!(out.contains("  as well     own.a (two)\n"), "{out}");
}

/// Many checks that rest on a slip are counted: the slip has been shown.
#[test]
fn what_rests_on_a_slip_is_counted() {
    let pegs: String = (1..=9).map(|at| format!("lid l{at} {{ uplift bolt }}\npeg p{at} {{ holds l{at}; working_load 4 kN }}\n")).collect();
    let out = Desk::with(&format!("let bolt  1 kN + 1 m\n{pegs}")).run(&["check", "a.plate"]).out;
    assert!(out.contains("undetermined  9 checks rest on lines that are wrong; `--all` names them\n"), "{out}");
    assert!(!out.contains("lidding.pegs_hold (p1;"), "{out}");
}

/// A name of a kind that catalogues have says where to look.
#[test]
fn a_name_that_no_catalogue_has_says_which_ones_there_are() {
    let out = Desk::new().file("a.plate", "use timber\npost p { stock squared_wood }\n").run(&["check", "a.plate"]).out;
    let in_one_line = out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(in_one_line.contains("or of a catalogue that it uses: `wallplate rules steel`, `wallplate rules timber`"), "{out}");
}

/// The report lists guesses too, and says of a share that is far over how far in whole per cent.
#[test]
fn guesses_stand_in_the_report() {
    let desk = Desk::with(GUESSED);
    // A rule fails.
    assert_eq!(desk.run(&["report", "a.plate"]).status, Some(1));
    let page = desk.read("a.html");
    assert!(page.contains("Nobody has weighed or measured these yet") && page.contains("<code>big.uplift</code>"), "{}", page.len());
    let plain = Desk::with(&GUESSED.replace(" guessed", ""));
    plain.run(&["report", "a.plate"]);
    assert!(!plain.read("a.html").contains("Nobody has weighed"));
    let far = Desk::with("lid big { uplift 3 kN }\npeg one { holds big; working_load 41 N }\n").run(&["check", "a.plate"]).out;
    assert!(far.contains("(14634 % used)"), "{far}");
}

/// A lock is bought by size: one that is stronger than a light roof needs is nothing out of proportion, a slip of a digit is.
#[test]
fn a_strong_lock_on_a_light_roof_is_in_proportion() {
    let said = |load: &str| {
        let design = format!(
            "track t {{ runs 0 m to 4 m; level 2 m; offset 0 m }}\nroof r {{ shape flat; length 2 m; width 2 m; start 0 m; right_edge 0 m; \
             eaves_level 2 m; mass 86 kg; enclosure enclosed }}\nparking_lock tie {{ holds r; fixed_to t; works open; working_load {load} }}\n"
        );
        let out = Desk::new().file("a.plate", design).run(&["check", "a.plate", "--only", "tie", "--all"]).out;
        out.contains("lines.in_proportion (tie, working_load)")
    };
    assert!(!said("3 kN"));
    assert!(said("30 kN"));
}
