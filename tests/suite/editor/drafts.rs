//! A draft, read again after each edit, says exactly what a fresh reading of the same text says.
//!
//! The fresh reading is the slow and obvious way; it knows nothing of what was there before.

use super::agreement::{Dice, edit};
use crate::examples::without_tolerances;
use std::path::Path;
use wallplate::design::Choice;
use wallplate::problem::Problem;
use wallplate::rules::{Finding, Options};
use wallplate::session::{Draft, NoShelf, Session};
use wallplate::syntax::tree::Date;
use wallplate::text::Source;
use wallplate::values::Halt;

fn options() -> Options {
    Options { today: Some(Date { year: 2027, month: 6, day: 1 }), ..Options::default() }
}

fn afresh(text: &str) -> (Vec<Problem>, Vec<Finding>) {
    let session = Session::read(vec![Source::new("a.plate", text)], &NoShelf, &Choice::default());
    let findings = session.check(&options());
    (session.problems(), findings)
}

fn again(draft: &mut Draft, text: &str) -> (Vec<Problem>, Vec<Finding>) {
    draft.read(vec![Source::new("a.plate", text)], &NoShelf, &options(), &Halt::default());
    let sources = &draft.session().sources;
    let mut findings: Vec<Finding> = draft.findings().iter().map(|finding| finding.as_ref().clone()).collect();
    for finding in &mut findings {
        finding.places.iter_mut().for_each(|place| place.span = sources.settle(place.span));
        finding.influences.iter_mut().for_each(|influence| influence.place.span = sources.settle(influence.place.span));
        finding.mends.iter_mut().chain(&mut finding.suffices).for_each(|mend| mend.span = sources.settle(mend.span));
    }
    (draft.session().problems(), findings)
}

/// What a fresh reading says of a text that is come back to, read once.
struct Fresh {
    text: String,
    says: (Vec<Problem>, Vec<Finding>),
}

impl Fresh {
    fn of(text: &str) -> Fresh {
        Fresh { text: text.to_owned(), says: afresh(text) }
    }

    /// The draft says the same of it again.
    fn is_said_by(&self, draft: &mut Draft, story: &str) {
        compared(&again(draft, &self.text), &self.says, story);
    }
}

/// Compares both, and says where they part.
fn same(draft: &mut Draft, text: &str, story: &str) {
    compared(&again(draft, text), &afresh(text), story);
}

fn compared((problems, findings): &(Vec<Problem>, Vec<Finding>), (fresh_problems, fresh): &(Vec<Problem>, Vec<Finding>), story: &str) {
    assert_eq!(problems, fresh_problems, "{story}");
    for (one, other) in findings.iter().zip(fresh) {
        assert_eq!(one, other, "{story}");
    }
    assert_eq!(findings.len(), fresh.len(), "{story}");
}

/// With `WALLPLATE_DRAFTS` set more is tried, which takes many minutes.
fn more_is_tried() -> bool {
    std::env::var_os("WALLPLATE_DRAFTS").is_some()
}

/// Every so many of what a design has, or all of them.
fn every(some: usize) -> usize {
    if more_is_tried() { 1 } else { some }
}

/// So many edits by chance, or ten times as many.
fn edits(some: usize) -> usize {
    if more_is_tried() { 10 * some } else { some }
}

fn example(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name)).unwrap()
}

fn wander(name: &str, seed: u64, edits: usize) {
    let text = example(name);
    let whole = Fresh::of(&text);
    let mut dice = Dice(seed);
    let mut draft = Draft::default();
    let mut now = text.clone();
    whole.is_said_by(&mut draft, name);
    for at in 0..edits {
        let (range, new) = edit(&now, &mut dice);
        let story = format!("{name}, edit {at}: {range:?} ({:?}) becomes {new:?}", now.get(range.clone()).unwrap_or_default());
        now.replace_range(range, &new);
        same(&mut draft, &now, &story);
        // Now and then back to a sound design: much is left open by then.
        if at % 6 == 5 {
            now.clone_from(&text);
            whole.is_said_by(&mut draft, &format!("{name}, edit {at}: back to the beginning"));
        }
    }
}

#[test]
fn random_edits_of_the_metric_example() {
    wander("heron_fold.plate", 11, edits(36));
}

#[test]
fn random_edits_of_the_us_example() {
    wander("sorrel_kettle.plate", 12, edits(24));
}

#[test]
fn random_edits_of_broken_examples() {
    for (seed, name) in
        ["stop_inside_the_coast", "post_without_a_tie", "roof_not_weighed", "misspelt", "set_out_from_each_other"].into_iter().enumerate()
    {
        wander(&format!("broken/{name}.plate"), 100 + seed as u64, edits(15));
    }
}

/// Each line of a design taken out and put back: every line is once the one that is missing.
#[test]
fn every_line_gone_and_back() {
    let text = example("heron_fold.plate");
    let whole = Fresh::of(&text);
    let mut draft = Draft::default();
    whole.is_said_by(&mut draft, "whole");
    let starts: Vec<usize> =
        std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).filter(|at| *at < text.len()).collect();
    for line in starts.iter().step_by(every(20)) {
        let end = text[*line..].find('\n').map_or(text.len(), |at| line + at + 1);
        let without = format!("{}{}", &text[..*line], &text[end..]);
        same(&mut draft, &without, &format!("without `{}`", text[*line..end].trim_end()));
        whole.is_said_by(&mut draft, &format!("with `{}` again", text[*line..end].trim_end()));
    }
}

/// The hard cases by name: a pattern of many, every place moved, another name, an aggregate, another kind.
#[test]
fn edits_that_touch_much() {
    let text = example("heron_fold.plate");
    let whole = Fresh::of(&text);
    let mut draft = Draft::default();
    whole.is_said_by(&mut draft, "whole");
    for (from, to) in [
        ("working_load  3.5 kN", "working_load  2.0 kN"),
        ("# Heron Fold:", "\n\n# Another line above everything.\n# Heron Fold:"),
        ("clamp_se", "clamp_south_east"),
        ("clamp clamp_w like west_clamp { station 2.10 m }\n", ""),
        ("gantry_pad[1..6]", "gantry_pad[1..8]"),
        ("post east_gantry[1..3]", "post east_gantry[2..4]"),
        ("wall east_wall", "wall long_wall"),
        ("let east_line  0.05 m", "let east_line  0.06 m"),
        ("wind_speed          24 m/s", "wind_speed          31 m/s"),
        ("± 40 kg", "± 90 kg"),
        ("\"Floor slab, thickened all round\"", "\"The floor\""),
        ("use pipe\n", ""),
        ("use wire\n", "use wires\n"),
        ("design_code   eurocode", "design_code   us"),
        ("rolls_on           east_wheels, west_wheels", "rolls_on           east_wheels"),
        ("holds         main_roof\n", "holds         main_roof\n  holds         main_roof\n"),
        ("tied_by       wall_anchor\n", "\n"),
        ("clamp clamp_se like east_clamp { station 0.20 m }", "clamp clamp_se like east_clamp { station 0.20 m; offset clamp_se.station }"),
        ("let plate_top  2.00 m", "let plate_top  east_track.level"),
        ("let plate_top  2.00 m", "let clamp  2.00 m\nlet plate_top  2.00 m"),
        ("let plate_top  2.00 m", "let c  2.00 m\nlet plate_top  2.00 m"),
        (
            "# ── the ground",
            "kind hook \"A hook\" { load force default 2 kN }\nhook one { }\nrule own.hooks \"Hooks hold\" { each h in hook; demand h.load; capacity east_line * 10 kN/m }\n# ── the ground",
        ),
        ("stands_on     south_block", "stands_on     floor"),
        ("touches       floor  # the last", "touches       south_pier  # the last"),
        ("because       \"a new bracket", "because       \"an old bracket"),
    ] {
        assert!(text.contains(from), "{from}");
        let changed = text.replace(from, to);
        same(&mut draft, &changed, &format!("`{from}` becomes `{to}`"));
        whole.is_said_by(&mut draft, &format!("`{to}` becomes `{from}` again"));
    }
}

/// Of two ways into the ground that are equally long the one over the component that stands first is told.
#[test]
fn ways_over_components_in_another_order() {
    let blocks = [
        "wall left_wall { stands_on floor }\n",
        "post left_post { stands_on pad; tied_to pad }\n",
        "slab floor { }\nfooting pad { }\nbeam left_beam { rests_on left_wall, left_post }\ntrack left_rail { rests_on left_beam }\n",
    ];
    let mut draft = Draft::default();
    let mut told = Vec::new();
    for order in [[0, 1, 2], [1, 0, 2], [2, 0, 1], [2, 1, 0]] {
        let text: String = order.iter().map(|at| blocks[*at]).collect();
        same(&mut draft, &text, &format!("{order:?}"));
        told.extend(draft.findings().iter().find(|finding| finding.rule == "structure.load_path_is_whole").map(|one| one.message.clone()));
    }
    assert!(told.len() == 4 && told[0].contains("left_wall") && told[1].contains("left_post"), "{told:?}");
}

/// A link that leads to nothing known makes a check undecided and no failure, also after its component has changed places.
/// Found by made-up texts.
#[test]
fn wrong_links_in_another_order() {
    let clamp = "clamp park_right like park_clamp { station 4.60 m; offset 0 m; anchored_to right_beam }magnet roof_magnet{\n";
    let before = format!("observatory dunlin_croft\"\"{{\nroof main_roof{{\n{clamp}stop open_stop like p{{\nstop closed_stop like p{{");
    let after = format!(
        "observatory dunlin_croft\"\"{{\nstop open_stop{{\nroof main_roof{{\npattern clamp park_clamp{{holds f\n{clamp}stop closed_stop like o{{"
    );
    let mut draft = Draft::default();
    for text in [&before, &after, &before] {
        same(&mut draft, text, text);
    }
}

/// What goes wrong in a derived value is told while something asks for that value, and no longer.
#[test]
fn a_mistake_in_what_nobody_asks_for_any_more() {
    let text = "kind box \"A box\" { n number; half number default sqrt(n); third number default half / 3 }\n\
                rule own.boxes \"Boxes are small\" { each b in box where b.n < 5; demand b.third; capacity 3 }\n\
                box one { n -4 }\nbox two { n 2 }\n";
    let mut draft = Draft::default();
    for n in ["-4", "2", "-4", "7", "-4", "-9", "-4 + 0", "2"] {
        same(&mut draft, &text.replace("n -4", &format!("n {n}")), &format!("n {n}"));
    }
    let asked = "each b in box where b.n < 5";
    let mut told = Vec::new();
    for binder in [asked, "each b in box where b.n > 0", asked, "each b in box where b.n > 1", asked] {
        same(&mut draft, &text.replace(asked, binder), binder);
        told.push(draft.session().problems().len());
    }
    assert_eq!(told, [1, 0, 1, 0, 1]);
}

/// What is missing is told by its names, in whatever order the components stand.
#[test]
fn components_in_another_order() {
    let blocks = ["roof main_roof { }\n", "drive roof_drive { moves main_roof }\n", "stop closed_stop { stops main_roof }\n"];
    let mut draft = Draft::default();
    for order in [[0, 1, 2], [2, 0, 1], [1, 2, 0], [0, 2, 1]] {
        let text: String = order.iter().map(|at| blocks[*at]).collect();
        same(&mut draft, &text, &format!("{order:?}"));
        let waits = |finding: &&std::rc::Rc<Finding>| finding.missing.len() > 1;
        let finding = draft.findings().iter().find(waits).expect("a check that waits for two lines");
        let line = &finding.missing[0];
        assert!(finding.message.contains(line.component.as_str()) && finding.message.contains(line.property.as_str()), "{finding:?}");
        assert!(finding.places[0].label.contains(line.property.as_str()), "the first place is that of the first line: {finding:?}");
    }
}

/// The names of the components that a text's headers give, with where each name stands.
fn named_headers(text: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        let mut words = line.split_whitespace();
        if let (Some(kind), Some(name)) = (words.next(), words.next())
            && line.contains('{')
            && line.starts_with(kind)
            && name.chars().all(|letter| letter.is_ascii_alphanumeric() || letter == '_')
            && !["kind", "rule", "pattern", "let", "use"].contains(&kind)
            && let Some(place) = line.find(&format!(" {name}"))
        {
            found.push((at + place + 1, name.to_owned()));
        }
        at += line.len();
    }
    found
}

/// Another name in a header alone, at both ends of a name, a name that is taken, and everywhere.
#[test]
fn other_names() {
    // What a name stands for does not hang on tolerances: one of the two is asked without.
    let (heron, sorrel) = ("heron_fold.plate", "sorrel_kettle.plate");
    for (name, text, step) in [(heron, example(heron), every(21)), (sorrel, without_tolerances(&example(sorrel)), every(28))] {
        let whole = Fresh::of(&text);
        let mut draft = Draft::default();
        whole.is_said_by(&mut draft, "whole");
        let headers = named_headers(&text);
        assert!(headers.len() > 40, "{} headers in {name}", headers.len());
        for (at, (place, old)) in headers.iter().enumerate().step_by(step) {
            let other = &headers[(at + 1) % headers.len()].1;
            for new in [format!("{old}x"), format!("{old}xy"), "x".to_owned(), other.clone()] {
                let mut changed = text.clone();
                changed.replace_range(*place..place + old.len(), &new);
                same(&mut draft, &changed, &format!("{name}: `{old}` becomes `{new}` in its header"));
            }
            same(&mut draft, &text.replace(old.as_str(), "another_one"), &format!("{name}: `{old}` becomes `another_one`"));
            whole.is_said_by(&mut draft, &format!("{name}: `{old}` again"));
        }
        // Two of them change names, at once and one after the other.
        for pair in headers.windows(2).step_by(step * 2) {
            let [(_, one), (_, two)] = pair else { continue };
            let swapped = text.replace(one.as_str(), "ONE").replace(two.as_str(), one).replace("ONE", two);
            same(&mut draft, &swapped, &format!("{name}: `{one}` and `{two}` swapped"));
            whole.is_said_by(&mut draft, &format!("{name}: `{one}` and `{two}` back"));
        }
    }
}

/// What is offered for the line of a pattern says for how many it is: that changes with who follows the pattern.
#[test]
fn a_mend_for_all_that_follow_a_pattern() {
    let text = "pattern wall high { height 9 m }\nwall a like high { }\nwall b like high { }\nwall c { height 1 m }\n\
                rule own.low \"No wall is too high\" { each w in wall; demand w.height; capacity 3 m; mend w.height to 2 m }\n";
    let mut draft = Draft::default();
    same(&mut draft, text, "two follow");
    let titles =
        |draft: &Draft| draft.findings().iter().flat_map(|finding| &finding.mends).map(|mend| mend.title.clone()).collect::<Vec<_>>();
    assert!(titles(&draft).iter().any(|title| title.contains("for all 2")), "{:?}", titles(&draft));
    for (from, to) in [
        ("wall c { height 1 m }", "wall c like high { }"),
        ("wall c { height 1 m }", "wall c { height 1 m }\nwall d like high { }"),
        ("wall b like high { }", "wall b { height 9 m }"),
        ("wall b like high { }\n", ""),
    ] {
        same(&mut draft, &text.replace(from, to), &format!("`{from}` becomes `{to}`"));
        same(&mut draft, text, &format!("`{to}` becomes `{from}` again"));
    }
}

#[test]
fn a_circle_is_told_where_a_fresh_reading_tells_it() {
    let mut draft = Draft::default();
    same(&mut draft, "roof n \"\" {\n}\n", "before");
    same(&mut draft, "pattern sensor usual {\n  watches roof\n}\nsensor one like usual {\n}\n", "with a circle");
    same(&mut draft, "roof n \"\" {\n}\n", "without it again");
}

/// A line of a pattern stands for all that follow it; after an edit it is another line for each of them.
#[test]
fn a_line_of_a_pattern_moves_with_each_that_follows_it() {
    let design = |side: &str, end: &str| {
        format!(
            "use timber\npattern wall side_wall {{\n  stud_grade c24\n  {side}\n}}\nwall left_wall like side_wall {{\n}}\n\
             pattern wall end_wall{end}\nwall near like end_wall {{\n}}\n"
        )
    };
    let mut draft = Draft::default();
    same(&mut draft, &design("stud timber_47_100", " like side_wall {\n}"), "both walls by one line");
    same(&mut draft, &design("stud  timber_47_100", " {\n  stud timber_47_125\n}"), "each by one of its own");
    same(&mut draft, &design("stud timber_47_100", " like side_wall {\n}"), "and back");
}

/// What a rule comes to is bound while it speaks, and to nothing after that: also where an end of a tolerance leaves it open.
#[test]
fn nothing_of_a_finding_goes_over_to_the_next() {
    let roof = "observatory own {\n  design_code eurocode\n}\nsite {\n  ground_level -1 mm\n  wind_speed 25 m/s\n  terrain open_country\n}\n\
        track right_track {\n  level 1.87 m\n  offset 0.05 m\n}\ntrack left_track {\n  level 1.87 m\n  offset 75 m\n}\n\
        wheels right_wheels {\n  runs_on right_track\n  stations 12.3 m, 3.3 m\n}\n\
        wheels left_wheels {\n  runs_on left_track\n  stations 12.3 m, 3.3 m\n}\n\
        roof main_roof {\n  shape gable\n  pitch 5 deg\n  ridge along\n  length 3.8 m\n  width 3.0 m\n  start -0.1 m\n  right_edge 0.1 m\n  \
        eaves_level 1.9 m\n  mass 60 g ± 1 g\n  rolls_on right_wheels, left_wheels\n  enclosure enclosed\n}\n";
    let clamp = |name: &str, place: &str| format!("clamp {name} {{\n  holds main_roof\n  working_load 8 kN\n  {place}\n}}\n");
    let places =
        ["station 0.5 m; offset 0 m", "station 0.4 m; offset 0.5 m", "station 0.1 m; offset 2.7 m", "station 3.4 m; offset 2.75 m"];
    let clamps: String = (1..).zip(places).map(|(number, place)| clamp(&format!("clamp_{number}"), place)).collect();
    let text = format!("{roof}{clamps}");
    let (_, findings) = afresh(&text);
    let results = ["demand", "capacity", "reserve", "ratio"];
    let left_over = findings.iter().find(|finding| finding.bound.iter().any(|(name, _)| results.contains(&name.as_str())));
    assert_eq!(left_over.map(|finding| (&finding.rule, &finding.subjects)), None);
    let mut draft = Draft::default();
    same(&mut draft, &text, "written out");
    same(&mut draft, "site {\n}\nclamp clamp_1 {\n}\nclamp clamp_2 {\n}\n", "begun anew");
}

/// A line that becomes a guess, or is one no longer, says the same number: what stands on it is told anew all the same. So is a
/// use of a catalogue that comes and goes.
#[test]
fn a_guess_comes_and_goes() {
    let text = "site { wind_speed 24 m/s }\nlet heavy  320 kg ± 60 kg\ntrack t { runs 0 m to 9 m; level 2 m; offset 0 m }\n\
        wheels w { runs_on t; stations 0.2 m, 3 m; rating 1 kN }\n\
        roof r { shape flat; length 4 m; width 3 m; start 0 m; right_edge 0 m; eaves_level 2 m; rolls_on w; mass heavy; enclosure enclosed }\n\
        soil { class clay }\n";
    let mut draft = Draft::default();
    same(&mut draft, text, "as it is");
    for (from, to) in [
        ("± 60 kg\n", "± 60 kg guessed\n"),
        ("mass heavy;", "mass heavy guessed;"),
        ("± 60 kg guessed\n", "± 60 kg\n"),
        ("mass heavy guessed;", "mass 300 kg guessed;"),
        ("site {", "use soil\nsite {"),
    ] {
        let edited = text.replace(from, to);
        same(&mut draft, &edited, &format!("{from:?} becomes {to:?}"));
        same(&mut draft, text, "and back");
    }
    let guessed = text.replace("mass heavy;", "mass 300 kg ± 9 kg guessed;");
    assert!(afresh(&guessed).1.iter().any(|finding| finding.guessed.iter().any(|guess| guess.name == "r.mass")));
}
