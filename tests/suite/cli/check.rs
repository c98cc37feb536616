//! `check`: statuses, what people read, what is shown first and what is left out.

use super::desk::{Desk, Done, VOCABULARY};
use std::io::Read;
use std::process::Stdio;

const HOLDS: &str = "lid big { uplift 1 kN }\npeg one { holds big; working_load 4 kN }\n";
const FAILS: &str = "lid big { uplift 3 kN }\npeg one { holds big; working_load 4 kN }\n";
const TIGHT: &str = "lid big { uplift 1.9 kN }\npeg one { holds big; working_load 4 kN }\n";
const MISSING: &str = "lid big { }\npeg one { holds big; working_load 4 kN }\n";

fn check(design: &str, options: &[&str]) -> Done {
    let arguments: Vec<&str> = ["check", "a.plate"].into_iter().chain(options.iter().copied()).collect();
    Desk::with(design).run(&arguments)
}

fn status(design: &str, options: &[&str]) -> Option<i32> {
    check(design, options).status
}

#[test]
fn the_status_is_the_contract() {
    // design/language.md, "Exit status".
    assert_eq!(status(HOLDS, &[]), Some(0));
    assert_eq!(status(HOLDS, &["--strict"]), Some(0));
    assert_eq!(status(FAILS, &[]), Some(1));
    assert_eq!(status(TIGHT, &[]), Some(0));
    assert_eq!(status(TIGHT, &["--strict"]), Some(1));
    assert_eq!(status(MISSING, &[]), Some(0));
    assert_eq!(status(MISSING, &["--strict"]), Some(1));
    // A mistake in the text weighs more than a rule that fails.
    assert_eq!(status(&format!("{FAILS}lid other {{ uplitf 1 kN }}\n"), &[]), Some(2));
    for format in ["json", "sarif"] {
        assert_eq!(status(FAILS, &["--format", format]), Some(1));
        assert_eq!(status(HOLDS, &["--format", format]), Some(0));
    }
}

#[test]
fn a_wrong_command_is_status_2_and_help_is_0() {
    let desk = Desk::with(HOLDS);
    for wrong in
        [&["check"][..], &["chek", "a.plate"], &["check", "a.plate", "--formt", "json"], &["check", "a.plate", "--format", "yaml"], &[]]
    {
        let done = desk.run(wrong);
        assert_eq!(done.status, Some(2), "{wrong:?}");
        assert!(done.out.is_empty() && !done.err.is_empty(), "{wrong:?}: {done:?}");
    }
    for right in [&["--help"][..], &["check", "--help"], &["--version"], &["help", "value"]] {
        let done = desk.run(right);
        assert_eq!(done.status, Some(0), "{right:?}");
        assert!(!done.out.is_empty() && done.err.is_empty(), "{right:?}");
    }
}

#[test]
fn what_people_read_of_a_failure() {
    let design = "lid big \"The big lid\" {\n  uplift        3 kN ± 200 N\n}\n\npeg one {\n  holds         big\n  working_load  4 kN\n  height        2.5 m\n}\n";
    let done = check(design, &["--all"]);
    insta::assert_snapshot!(done.out);
    assert_eq!(done.err, "");
    assert_eq!(
        done.underlined(),
        ["peg one", "holds         big", "working_load  4 kN", "uplift        3 kN ± 200 N", "peg one", "height        2.5 m"]
    );
}

#[test]
fn what_people_read_on_a_narrow_terminal_without_unicode() {
    let design = "lid big {\n  uplift 6 kN ± 200 N   # weighed down in winter by a board\n}\npeg one { holds big; height 1 m; working_load 4 kN + 0 kN }\npeg two { holds big }\n";
    let done = Desk::with(design).run_with(&["check", "a.plate"], &[("LC_ALL", "C"), ("COLUMNS", "40")]);
    insta::assert_snapshot!(done.out);
    let own: String = done.out.lines().filter(|line| !line.contains(" | ")).collect();
    assert!(own.is_ascii(), "{own}");
}

#[test]
fn what_people_read_of_mistakes_in_the_text() {
    let design = "lid big { uplitf 3 kN }\npeg one { holds bgi; working_load 4 m }\nlet x y\nlet y x\npeg two { holds big\n";
    let done = check(design, &[]);
    assert_eq!(done.status, Some(2));
    insta::assert_snapshot!(done.out);
    let underlined = done.underlined();
    for piece in ["uplitf", "bgi", "4 m", "let x y", "let y x"] {
        assert!(underlined.iter().any(|one| one == piece), "{piece} of {underlined:?}");
    }
}

#[test]
fn mistakes_come_first_then_what_fails_then_what_is_not_known_then_what_is_tight() {
    let design = "\
peg tight { holds a; working_load 2.1 kN }
lid a { uplift 1 kN }
peg open { holds b; working_load 2 kN }
lid b { }
peg bad { holds c; working_load 2 kN }
lid c { uplift 2 kN }
peg worse { holds d; working_load 2 kN }
lid d { uplift 3 kN }
lid e { wrong 1 }
";
    let done = check(design, &[]);
    let at = |text: &str| done.out.find(text).unwrap_or_else(|| panic!("{text} in {}", done.out));
    let order = [
        at("has no `wrong`"),
        at("(worse)"),
        at("(bad)"),
        at("(open)"),
        at("(tight)"),
        at("0 pass, 1 tight, 2 fail, 2 undetermined, 0 accepted"),
    ];
    assert!(order.is_sorted(), "{order:?}\n{}", done.out);
    assert!(done.out.contains("first to mend: a.plate:10:9: a lid has no `wrong`"), "{}", done.out);
}

#[test]
fn checks_that_wait_for_the_same_line_are_shown_together() {
    let pegs: String = (1..=12).map(|at| format!("peg p{at} {{ holds big; working_load 4 kN }}\n")).collect();
    let done = check(&format!("lid big {{ }}\n{pegs}"), &[]);
    assert_eq!(done.out.matches("undetermined  lidding.pegs_hold").count(), 1, "{}", done.out);
    assert!(done.out.contains("lidding.pegs_hold (p2; p3;") && done.out.contains("; and 3 more)"), "{}", done.out);
    assert!(done.out.contains("12 undetermined"), "{}", done.out);
}

#[test]
fn a_design_that_is_only_begun_gets_one_list_of_what_it_lacks() {
    let lids: String = (1..=5).map(|at| format!("lid l{at} {{ }}\npeg p{at} {{ holds l{at} }}\n")).collect();
    let done = check(&lids, &[]);
    assert!(done.out.contains("\n\nundetermined  5 checks wait for lines that are not written"), "{}", done.out);
    assert!(done.out.contains("       1  `uplift` of l1, l2, l3 and 2 more (required): what lifts it\n"), "{}", done.out);
    assert!(done.out.contains("       1  `working_load` of p1, p2, p3 and 2 more (required): as rated\n"), "{}", done.out);
    assert!(done.out.contains("first to mend: a.plate:2:1: `uplift` of l1 is not written"), "{}", done.out);
    assert_eq!(check(&lids, &["--all"]).out.matches("undetermined  lidding.pegs_hold").count(), 5);
}

#[test]
fn a_required_line_that_no_rule_asks_for_is_missed_all_the_same() {
    let done = check(&format!("{HOLDS}lid lonely {{ }}\n"), &["--strict"]);
    assert_eq!(done.status, Some(1));
    assert!(done.out.contains("undetermined  lines.required_are_written (lonely)"), "{}", done.out);
    assert!(done.out.contains("add a line `uplift …` to lonely: what lifts it"), "{}", done.out);
    // What a rule already names is not said a second time.
    assert!(!check(MISSING, &[]).out.contains("lines.required_are_written"));
    assert_eq!(status(HOLDS, &["--only", "lines", "--strict"]), Some(0));
    assert_eq!(status(MISSING, &["--only", "lines", "--strict"]), Some(1));
}

#[test]
fn checks_that_rest_on_a_mistake_are_only_named() {
    let done = check("lid big { uplift 3 m }\npeg one { holds big; working_load 4 kN }\n", &[]);
    assert!(done.out.contains("rests on lines that are wrong: lidding.pegs_hold (one)"), "{}", done.out);
    assert_eq!(done.underlined(), ["3 m"]);
}

#[test]
fn a_few_dozen_are_shown_and_the_rest_is_counted() {
    let pegs: String = (1..=50).map(|at| format!("peg p{at} {{ holds big; working_load 1 N }}\n")).collect();
    let done = check(&format!("lid big {{ uplift 3 kN }}\n{pegs}"), &[]);
    // One slip, one block: fifty pegs of one rating.
    assert_eq!(done.out.matches("fail  lidding").count(), 1, "{}", done.out);
    assert!(done.out.contains("and 41 more") && done.out.contains("50 fail"), "{}", done.out);
    let each: String = (1..=50).map(|at| format!("peg p{at} {{ holds big; working_load {at} N }}\n")).collect();
    let done = check(&format!("lid big {{ uplift 3 kN }}\n{each}"), &[]);
    assert_eq!(done.out.matches("  fail lidding").count() + 3, wallplate::output::text::MOST_SHOWN, "{}", done.out);
    assert!(done.out.contains("and 20 more fail, not shown"), "{}", done.out);
}

#[test]
fn nothing_that_holds_is_shown_unless_asked() {
    let plain = check(HOLDS, &[]);
    assert!(plain.out.starts_with("Nothing in the one check speaks against it.\n"), "{}", plain.out);
    assert!(plain.out.contains("\n1 pass, 0 tight, 0 fail, 0 undetermined, 0 accepted\n"), "{}", plain.out);
    assert!(plain.out.contains("    50 %  lidding.pegs_hold (one): 1 kN of 2 kN\n") && !plain.out.contains("pass  "), "{}", plain.out);
    let all = check(HOLDS, &["--all"]);
    assert!(all.out.contains("pass  lidding.pegs_hold (one): 1 kN of 2 kN, 50 %"), "{}", all.out);
}

#[test]
fn assumptions_cautions_and_the_last_word_stand_below_the_count_once() {
    let two = "lid big { uplift 1 kN }\npeg one { holds big; working_load 4 kN }\npeg two { holds big; working_load 4 kN }\n";
    let short = check(two, &[]).out;
    assert!(short.contains("1 line is assumed; `--assumed` lists them") && !short.contains("timber on timber"), "{short}");
    // What can hurt stays beside what has least room.
    assert!(short.contains("caution: a lid that flies off can kill"), "{short}");
    assert!(check(two, &["--assumed"]).out.contains("one.grip, two.grip = 0.5: timber on timber"));
    assert!(check(two, &["--cautions"]).out.contains("caution: a lid that flies off can kill"));
    let done = check(two, &["--all"]);
    assert_eq!(done.out.matches("caution: a lid that flies off can kill").count(), 1, "{}", done.out);
    assert_eq!(done.out.matches("one.grip, two.grip = 0.5: timber on timber").count(), 1, "{}", done.out);
    assert_eq!(done.out.matches("Planning numbers").count(), 1, "{}", done.out);
}

#[test]
fn only_an_area_or_a_rule() {
    let design = "lid big { uplift 3 kN }\npeg one { holds big; working_load 4 kN; height 3 m }\n";
    let rules = |only: &str| -> Vec<String> {
        let done = check(design, &["--format", "json", "--only", only]);
        done.json()["results"].as_array().unwrap().iter().map(|result| result["rule"].as_str().unwrap().to_owned()).collect()
    };
    assert_eq!(rules("lidding"), ["lidding.pegs_hold"]);
    assert_eq!(rules("reach.peg_in_reach"), ["reach.peg_in_reach"]);
    let done = check(design, &["--only", "liding"]);
    assert_eq!(done.status, Some(2));
    assert!(done.out.is_empty());
    assert!(
        done.err.contains("there is no area, rule or component `liding`") && done.err.contains("did you mean `lidding`?"),
        "{}",
        done.err
    );
}

#[test]
fn an_accepted_finding_is_short_and_does_not_fail() {
    let design =
        format!("{FAILS}accept lidding.pegs_hold {{\n  on one\n  because \"the lid is tied down as well\"\n  until 2028-01-01\n}}\n");
    let done = check(&design, &[]);
    assert_eq!(done.status, Some(0));
    insta::assert_snapshot!(done.out);
    assert_eq!(status(&design, &["--strict"]), Some(0));
}

#[test]
fn an_acceptance_that_no_longer_counts_says_why() {
    let accepted = |lines: &str| format!("{FAILS}accept lidding.pegs_hold {{\n  because \"tied down as well\"\n  {lines}\n}}\n");
    let done = check(&accepted("until 2026-12-31"), &[]);
    assert_eq!(done.status, Some(1));
    assert!(done.out.contains("no longer: the acceptance ran until 2026-12-31 (\"tied down as well\")"), "{}", done.out);
    let done = check(&accepted("up_to 120 %"), &[]);
    assert_eq!(done.status, Some(1));
    assert!(done.out.contains("it was accepted up to 120 % and is now 150 %"), "{}", done.out);
    // The last day still counts.
    assert_eq!(status(&accepted("until 2027-01-01"), &[]), Some(0));
}

#[test]
fn nobody_takes_on_fifty_times_what_holds() {
    let accepted = |up_to: &str| format!("{FAILS}accept lidding.pegs_hold {{\n  because \"tied down as well\"\n  up_to {up_to}\n}}\n");
    assert_eq!(status(&accepted("160 %"), &[]), Some(0));
    for up_to in ["5000 %", "50"] {
        let done = check(&accepted(up_to), &[]);
        assert_eq!(done.status, Some(2), "{up_to}");
        assert!(done.out.contains("nobody can take that on"), "{}", done.out);
    }
}

#[test]
fn what_was_measured_counts_where_all_has_to_hold() {
    let measured = |load: &str| format!("{HOLDS}measured 2027-05-02 \"on the site\" {{\n  one {{ working_load {load} }}\n}}\n");
    let done = check(&measured("1 kN"), &[]);
    assert_eq!(done.status, Some(0));
    assert!(done.out.contains("measured: on 2027-05-02, not looked at here; `--as-built` does"), "{}", done.out);
    let done = check(&measured("1 kN"), &["--strict"]);
    assert_eq!(done.status, Some(1));
    assert!(done.out.contains("measured: on 2027-05-02; with that 0 pass, 0 tight, 1 fail"), "{}", done.out);
    assert_eq!(check(&measured("1 kN"), &["--strict", "--format", "json"]).json()["as_built_summary"]["fail"], 1);
    assert_eq!(status(&measured("8 kN"), &["--strict"]), Some(0));
}

#[test]
fn an_acceptance_of_what_holds_can_go() {
    let done = check(&format!("{HOLDS}accept lidding.pegs_hold {{ because \"tied down\"; until 2026-01-01 }}\n"), &[]);
    assert_eq!(done.status, Some(0));
    assert!(done.out.contains("a.plate:4:8: nothing is left to accept for lidding.pegs_hold"), "{}", done.out);
    // `--strict` counts an acceptance that has run out, whatever it was for.
    assert_eq!(status(&format!("{HOLDS}accept lidding.pegs_hold {{ because \"tied down\"; until 2026-01-01 }}\n"), &["--strict"]), Some(1));
}

#[test]
fn variants_one_at_a_time_and_side_by_side() {
    let design = format!(
        "{FAILS}variant stout \"Thicker pegs\" {{ one {{ working_load 8 kN }} }}\nvariant slim {{ one {{ working_load 3 kN }} }}\n"
    );
    assert_eq!(status(&design, &[]), Some(1));
    assert_eq!(status(&design, &["--variant", "stout"]), Some(0));
    let done = check(&design, &["--variant", "stot"]);
    assert_eq!(done.status, Some(2));
    assert!(done.err.contains("there is no variant `stot`") && done.err.contains("did you mean `stout`?"), "{}", done.err);
    let done = check(&design, &["--every-variant"]);
    assert_eq!(done.status, Some(1));
    insta::assert_snapshot!(done.out);
}

#[test]
fn as_built_takes_what_was_measured() {
    let design = format!("{HOLDS}measured 2026-11-02 {{ big {{ uplift 5 kN }} }}\n");
    assert_eq!(status(&design, &[]), Some(0));
    assert_eq!(status(&design, &["--as-built"]), Some(1));
}

#[test]
fn several_files_are_one_design() {
    let desk = Desk::new()
        .file("words.plate", VOCABULARY)
        .file("lid.plate", "lid big { uplift 3 kN }\n")
        .file("pegs.plate", "peg one { holds big; working_load 4 kN }\n");
    let done = desk.run(&["check", "words.plate", "pegs.plate", "lid.plate"]);
    assert_eq!(done.status, Some(1));
    assert!(done.out.contains("[pegs.plate:1:11]") && done.out.contains("[lid.plate:1:11]"), "{}", done.out);
}

#[test]
fn no_colour_in_a_pipe_whatever_is_set() {
    let desk = Desk::with(&format!("{FAILS}lid x {{ wrong 1 }}\n"));
    for variables in [&[][..], &[("FORCE_COLOR", "1"), ("CLICOLOR_FORCE", "1")], &[("NO_COLOR", "1"), ("FORCE_COLOR", "3")]] {
        for arguments in [
            &["check", "a.plate"][..],
            &["check", "nowhere.plate"],
            &["--help"],
            &["value", "a.plate", "one.share", "--how"],
            &["rules"],
            &["wrong"],
        ] {
            let done = desk.run_with(arguments, variables);
            assert!(!done.out.contains('\u{1b}') && !done.err.contains('\u{1b}'), "{variables:?} {arguments:?}");
        }
    }
}

#[test]
fn control_characters_of_the_text_do_not_reach_the_terminal() {
    let done =
        check("lid big \"\u{1b}]0;title\u{7}\" { uplift 3 kN }\npeg one \"\u{202E}x\" { holds \u{1b}[31mbig; working_load 4 kN }\n", &[]);
    assert!(!done.out.contains(['\u{1b}', '\u{7}', '\u{202E}']), "{:?}", done.out);
}

#[test]
fn a_reader_that_leaves_early_is_no_error() {
    let pegs: String = (1..=1500).map(|at| format!("peg p{at} {{ height 1 m }}\n")).collect();
    let desk = Desk::with(&format!("lid big {{ uplift 1 kN }}\n{pegs}"));
    for format in ["text", "json"] {
        let mut child = desk
            .command(&["check", "a.plate", "--all", "--only", "reach", "--format", format])
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut first = [0; 16];
        let mut out = child.stdout.take().unwrap();
        out.read_exact(&mut first).unwrap();
        drop(out);
        let output = child.wait_with_output().unwrap();
        assert_eq!(output.status.code(), Some(0), "{format}");
        assert_eq!(String::from_utf8_lossy(&output.stderr), "", "{format}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_result_that_cannot_be_written_is_an_error() {
    let full = std::fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let output = Desk::with(HOLDS).command(&["check", "a.plate"]).stdout(full).stderr(Stdio::piped()).output().unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&output.stderr).contains("could not be written"));
}

#[test]
fn a_block_that_is_never_closed_is_shown_at_its_place() {
    for end in ["", "\n", "\r\n"] {
        let done = check(&format!("lid big {{ uplift 3 kN{end}"), &[]);
        assert_eq!(done.status, Some(2));
        assert!(done.underlined().iter().any(|piece| piece.starts_with("lid big")), "{end:?} {}", done.out);
    }
}

#[test]
fn distant_places_are_shown_apart() {
    let between = "# nothing\n".repeat(200);
    let done = check(&format!("lid big {{ uplift 3 kN }}\n{between}peg one {{ holds big; working_load 4 kN }}\n"), &[]);
    assert!(!done.out.contains("nothing"), "{}", done.out);
    assert!(done.out.contains("[a.plate:203:11]") && done.out.contains("[a.plate:2:11]"), "{}", done.out);
}

#[test]
fn an_empty_design_says_that_nothing_was_checked() {
    let done = Desk::new().file("a.plate", "").run(&["check", "a.plate"]);
    assert_eq!(done.status, Some(0));
    assert!(done.out.contains("no rule has anything to say"), "{}", done.out);
}

/// Each of many components waits for all the others: their lists would together be as long as the square of the design.
#[test]
fn of_very_many_missing_lines_the_first_are_named_and_none_is_lost() {
    let lids: String = (0..150).map(|at| format!("peg p{at} {{ holds big }}\n")).collect();
    let vocabulary = "rule lidding.all_hold \"All pegs together hold\" {\n  each     p in peg\n  demand   p.holds.uplift\n  \
                      capacity sum(other.capacity for other in peg where other.holds == p.holds)\n}\n";
    let desk = Desk::with(&format!("{vocabulary}lid big {{ uplift 3 kN }}\n{lids}"));
    let document = desk.run(&["check", "a.plate", "--format", "json"]).json();
    let results = document["results"].as_array().unwrap();
    let longest = results.iter().map(|result| result["missing"].as_array().unwrap().len()).max();
    assert_eq!(longest, Some(64));
    let together = results.iter().find(|result| result["rule"] == "lidding.all_hold").unwrap();
    assert_eq!(together["message"], "needs `working_load` of p0 and at least 63 more");
    let named: std::collections::BTreeSet<&str> =
        results.iter().flat_map(|result| result["missing"].as_array().unwrap()).filter_map(|line| line["component"].as_str()).collect();
    assert_eq!(named.len(), 150, "each peg is told that it lacks its line");
}

/// The first names of a text in which thousands stand for nothing are still offered what was meant; none stays without help.
#[test]
fn thousands_of_names_that_stand_for_nothing() {
    let lines: String = (0..8_000).map(|at| format!("let post_of_row_{at} 1 m\nlet rise_{at} post_of_raw_{at}\n")).collect();
    let document = Desk::new().file("a.plate", lines).run(&["check", "a.plate", "--format", "json"]).json();
    let problems = document["problems"].as_array().unwrap();
    assert_eq!(problems.len(), 8_000);
    assert_eq!(problems[0]["help"], "did you mean `post_of_row_0`?");
    assert_eq!(problems[7_999]["help"], "name a component, or write `let post_of_raw_7999 …` with its value");
}

/// Nobody reads on where a calm answer does not end: a sound design and one that is only begun take a screen each.
#[test]
fn the_answer_takes_a_screen() {
    const SCREEN: usize = 40;
    for example in ["heron_fold", "sorrel_kettle"] {
        let text = std::fs::read_to_string(format!("{}/examples/{example}.plate", env!("CARGO_MANIFEST_DIR"))).unwrap();
        let desk = Desk::new().file("a.plate", text);
        let done = desk.run(&["check", "a.plate"]);
        assert!(done.out.lines().count() <= SCREEN, "{}", done.out);
        assert!(done.out.contains("Planning numbers") && done.out.contains("`--cautions` lists them"), "{}", done.out);
        // What is left out is counted, and nothing is lost.
        let all = desk.run(&["check", "a.plate", "--all"]).out;
        assert!(all.lines().count() > 200 && all.contains("assumed, because no line says otherwise"), "{all}");
    }
    for units in ["metric", "us"] {
        let desk = Desk::new();
        assert_eq!(desk.run(&["new", "begun", "--units", units]).status, Some(0));
        let done = desk.run(&["check", "begun.plate"]);
        assert!(done.out.lines().count() <= SCREEN, "{}", done.out);
        let told = done.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(told.contains("power not begun") && done.out.contains("not begun: power: motor lacks a motor"), "{}", done.out);
    }
}

/// Of what fails in one line of the text, one block; what can hurt of the others stays.
#[test]
fn one_slip_is_one_block() {
    let pattern = "lid big { uplift 12 kN }\npattern peg row { holds big; working_load 2 kN }\n";
    let pegs: String = (1..=4).map(|at| format!("peg p{at} like row {{ }}\n")).collect();
    let done = check(&format!("{pattern}{pegs}"), &[]);
    assert_eq!(done.out.matches("fail  lidding.pegs_hold").count(), 1, "{}", done.out);
    assert!(done.out.contains("lidding.pegs_hold (p2; p3; p4)") && done.out.contains("4 fail"), "{}", done.out);
    assert!(done.out.contains("caution     a lid that flies off can kill"), "{}", done.out);
    assert!(done.out.starts_with("4 of 4 checks fail. Do not build it like this."), "{}", done.out);
}

/// What is built so cannot stand: that is a rule that fails, and no mistake in the text.
#[test]
fn a_roof_that_its_clamp_does_not_hold_fails_and_is_understood() {
    let heron = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/examples/heron_fold.plate")).unwrap();
    let lonely: String = heron.lines().filter(|line| !line.starts_with("clamp ") || line.starts_with("clamp clamp_se")).fold(
        String::new(),
        |mut text, line| {
            text.push_str(line);
            text.push('\n');
            text
        },
    );
    let done = check(&lonely, &[]);
    assert_eq!(done.status, Some(1), "{}", done.out);
    assert!(done.out.contains("fail  holddown.clamps_span_the_uplift"), "{}", done.out);
    assert!(!done.out.contains("error:"), "{}", done.out);
}
