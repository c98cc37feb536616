//! A line that is left out takes no check with it: what stood on it stays open, and the line is named.

use std::path::Path;
use wallplate::design::Choice;
use wallplate::rules::{Finding, Options, Verdict};
use wallplate::session::{NoShelf, Session};
use wallplate::syntax::tree::Date;
use wallplate::text::Source;

fn example(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name)).unwrap()
}

fn read(text: &str) -> Session {
    Session::read(vec![Source::new("a.plate", text)], &NoShelf, &Choice::default())
}

fn check(text: &str) -> Vec<Finding> {
    let session = read(text);
    assert_eq!(session.problems(), Vec::new());
    session.check(&Options { today: Some(Date { year: 2027, month: 6, day: 1 }), ..Options::default() })
}

/// An example with one piece of its text replaced, which stands in it.
fn with(name: &str, from: &str, to: &str) -> String {
    let text = example(name);
    assert!(text.contains(from), "{from}");
    text.replacen(from, to, 1)
}

/// The lines that a rule waits for on each of its subjects, where it stays open.
fn open(text: &str, rule: &str) -> Vec<(String, Vec<String>)> {
    let open = check(text).into_iter().filter(|finding| finding.rule == rule && finding.verdict == Verdict::Undetermined);
    let lines = |finding: &Finding| finding.missing.iter().map(|line| format!("{}.{}", line.component, line.property)).collect();
    open.map(|finding| (finding.subjects.join(" "), lines(&finding))).collect()
}

#[test]
fn each_of_these_lines_is_missed() {
    let left_out = [
        ("  passes        floor\n", "piers.passes_the_floor", "south_pier.passes"),
        ("  tied_to        east_wall, east_gantry\n", "structure.beam_is_tied", "east_plate.loose"),
        ("  tied_to       gantry_pad[index]  # galvanised post base, cast in\n", "structure.post_is_tied", "east_gantry[1].loose"),
        ("  tied_to       floor\n", "structure.wall_is_tied", "south_wall.loose"),
        (
            "  looks               left             # out there on the east, looking in at the sill\n",
            "travel.sensor_faces_the_magnet",
            "open_sensor.looks",
        ),
        ("  offset         east_line\n", "space.beams_rest", "east_plate.offset"),
        ("  overhang           150 mm\n", "structure.overhang_as_drawn", "main_roof.overhang"),
        ("  joints         5.70 m       # over the first post\n", "running.joints_lie_on_something", "east_track.joints"),
        (
            "  remembered          yes              # a latching relay holds the trip, when the power fails too\n",
            "travel.sensor_still_sees_the_magnet",
            "open_sensor.remembered",
        ),
    ];
    for (line, rule, missing) in left_out {
        let found = open(&with("heron_fold.plate", line, ""), rule);
        assert!(found.iter().any(|(_, lines)| lines.iter().any(|line| line == missing)), "without `{}`: {found:?}", line.trim());
    }
}

/// What a builder may honestly not have is asked of nobody.
#[test]
fn what_need_not_be_there_is_not_missed() {
    let holds = |text: &str, rule: &str| {
        let found: Vec<Finding> = check(text).into_iter().filter(|finding| finding.rule == rule).collect();
        found.iter().all(|finding| finding.verdict == Verdict::Pass)
    };
    let loose = with("heron_fold.plate", "  tied_to       floor\n", "  loose         yes\n");
    assert!(holds(&loose, "structure.wall_is_tied"), "a wall that says that it stands loose");
    let round = with("heron_fold.plate", "looks               left ", "looks               either ");
    assert!(holds(&round, "travel.sensor_faces_the_magnet"), "a switch that senses all round");
    let whole = with("heron_fold.plate", "  joints         5.70 m       # over the first post\n", "  joints         []\n");
    assert_eq!(open(&whole, "running.joints_lie_on_something"), Vec::new(), "a rail of one piece, said");
    let long = with("heron_fold.plate", "  joints         5.70 m       # over the first post\n", "  longest_bar    9 m\n");
    assert_eq!(open(&long, "running.joints_lie_on_something"), Vec::new(), "a bar as long as the rail");
}

/// A roof that comes to rest where its sensor still sees the magnet needs no controller that remembers.
#[test]
fn a_line_that_changes_nothing_is_not_missed() {
    let text = with("sorrel_kettle.plate", "  remembered    no\n", "");
    assert_eq!(open(&text, "travel.sensor_still_sees_the_magnet"), Vec::new());
}

#[test]
fn a_motor_on_another_cable_is_not_said_to_be_missing() {
    let text = with("heron_fold.plate", "fed_by        motor_cable", "fed_by        house_cable");
    let findings = check(&text);
    let finding = findings.iter().find(|finding| finding.rule == "power.battery_strokes").unwrap();
    assert_eq!(finding.verdict, Verdict::Undetermined);
    assert_eq!(finding.message, "no `motor` that is written is connected to roof_battery");
    assert!(finding.help.as_deref().unwrap().starts_with("roof_motor: "), "{:?}", finding.help);
    let none = check(&text.replace("  roof_motor { turns 2500 rpm }\n", "").replace("motor roof_motor", "# motor roof_motor").replace("  moves         roof_drive\n  fed_by        house_cable\n  sort          direct_current\n  voltage       24 V\n  current       7 A\n  turns         1350 rpm\n  resistance    0.35 ohm  # winding, warm\n}\n", ""));
    let finding = none.iter().find(|finding| finding.rule == "power.battery_strokes").unwrap();
    assert_eq!(finding.message, "there is no `motor`", "the neighbour: none at all");
}

/// What is offered for a name that there is not.
fn offered(text: &str) -> Vec<String> {
    read(text).problems().into_iter().filter_map(|problem| problem.help).filter(|help| help.starts_with("did you mean")).collect()
}

#[test]
fn the_twin_on_the_other_side_is_not_offered() {
    let walls = |named: &str, written: &[&str]| {
        let walls: String = written.iter().map(|name| format!("wall {name} {{ }}\n")).collect();
        format!("slab floor {{ }}\n{walls}beam plate {{ rests_on {named} }}\n")
    };
    let none: Vec<String> = Vec::new();
    assert_eq!(offered(&walls("east_wall", &["west_wall"])), none, "the other wall is no slip of this one");
    assert_eq!(offered(&walls("est_wall", &["west_wall", "east_wall"])), none, "either may be meant");
    assert_eq!(offered(&walls("sw_wall", &["se_wall"])), none);
    assert_eq!(offered(&walls("east_wal", &["west_wall", "east_wall"])), ["did you mean `east_wall`?"]);
    assert_eq!(offered(&walls("eastt_wall", &["west_wall", "east_wall"])), ["did you mean `east_wall`?"]);
    assert_eq!(offered(&walls("wall_east", &["west_wall", "east_wall"])), ["did you mean `east_wall`?"]);
}
