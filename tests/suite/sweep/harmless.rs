//! Edits that change nothing that counts: other names, another order, other units, stronger parts, what moves together,
//! comments. None of them raises a finding.

use super::notice::Watcher;
use super::{THREADS, designs};
use std::collections::BTreeSet;

/// An edit: what it is, and the text that it makes.
type Edit = (String, String);

const METRIC: [(&str, &str); 36] = [
    // Other names.
    ("east_gantry", "posts_e"),
    ("gantry_pad", "hole"),
    ("side_clamp", "usual_clamp"),
    ("main_roof", "the_roof"),
    ("roof_drive", "winch"),
    ("clamp_se", "hook_1"),
    ("east_line", "line_a"),
    ("refractor", "small_scope"),
    ("\"Heron Fold, roof to the north\"", "\"Heron's Fold: the roof opens to the north\""),
    // Units written otherwise.
    ("runs          0 m to 4.20 m", "runs          0 mm to 4200 mm"),
    ("let west_line  3.15 m", "let west_line  315 cm"),
    ("ground_load   0.6 kN/m2", "ground_load   600 N/m2"),
    ("wind_speed          24 m/s ", "wind_speed          86.4 km/h "),
    ("working_load  3.5 kN", "working_load  3500 N"),
    ("pitch              20 deg", "pitch              20 deg 0 arcmin"),
    ("speed          70 mm/s", "speed          0.07 m/s"),
    ("mass               640 kg ± 40 kg", "mass               640 kg +40 kg -40 kg"),
    ("diameter       100 mm", "diameter       10 cm"),
    ("up_to         92 %", "up_to         0.92"),
    ("concrete_age  14 day", "concrete_age  2 week"),
    ("reaction_time  0.20 s ± 0.05 s", "reaction_time  200 ms ± 50 ms"),
    ("rail_height    40 mm", "rail_height    4 cm"),
    // Stronger parts.
    ("rated_load     6 kN", "rated_load     7 kN"),
    ("rated_up        9 kN", "rated_up        10 kN"),
    ("working_load  3.5 kN", "working_load  4 kN"),
    ("takes_energy  40 J", "takes_energy  50 J"),
    ("held_along      6 kN", "held_along      7 kN"),
    ("fixing        5.5 kN", "fixing        6 kN"),
    ("charge        24 Ah", "charge        36 Ah"),
    ("wire flexible_6", "wire flexible_10"),
    ("held_sideways  6 kN", "held_sideways  7 kN"),
    // Moved together.
    ("let plate_top  2.00 m", "let plate_top  2.000 m"),
    (
        "clamp clamp_e like east_clamp { station 2.10 m }\nclamp clamp_ne",
        "clamp clamp_e like east_clamp { station 2.12 m }\nclamp clamp_ne",
    ),
    ("aperture      5 mm", "aperture      4 mm"),
    // Comments.
    ("# the door is shut whenever we are not there", ""),
    ("clamp clamp_w like", "# The one in the middle.\nclamp clamp_w like"),
];

const US: [(&str, &str); 17] = [
    ("sw_gantry", "posts_a"),
    ("cart_wheels", "iron_wheels"),
    ("newtonian", "big_scope"),
    ("corner_clamp", "toggle"),
    ("runs          0 ft to 25 ft", "runs          0 in to 300 in"),
    ("let ne_line    9 ft 9-1/4 in", "let ne_line    117.25 in"),
    ("station       11 ft 4 in\n}", "station       136 in\n}"),
    ("ground_load   30 psf", "ground_load   1436.4 Pa"),
    ("wind_speed          112 mph", "wind_speed          50.068 m/s"),
    ("working_load  2000 lb", "working_load  2 kip"),
    ("frost_depth         36 in", "frost_depth         3 ft"),
    ("rated_up        3000 lbf", "rated_up        3300 lbf"),
    ("takes_energy  40 ft-lbf", "takes_energy  45 ft-lbf"),
    ("working_load  2000 lb", "working_load  2400 lb"),
    ("depth         44 in", "depth         48 in"),
    ("stall_force    200 lbf        # slip clutch in the sprocket", "stall_force    200 lbf"),
    ("\"The neighbors' barn\"", "\"A barn\""),
];

/// The top-level blocks of a text, each with the comment above it.
fn blocks(text: &str) -> Vec<String> {
    let mut blocks = vec![String::new()];
    let mut depth = 0;
    for line in text.lines() {
        let bare = line.split('#').next().unwrap_or_default();
        depth += bare.matches(['{', '[', '(']).count();
        depth -= bare.matches(['}', ']', ')']).count();
        let block = blocks.last_mut().unwrap();
        block.push_str(line);
        block.push('\n');
        if depth == 0 && !bare.trim().is_empty() {
            blocks.push(String::new());
        }
    }
    blocks
}

/// The lines inside each block in the opposite order, where each stands on one line of the text.
fn lines_turned(text: &str) -> String {
    let turned = blocks(text).into_iter().map(|block| {
        let lines: Vec<&str> = block.lines().collect();
        let Some(head) = lines.iter().position(|line| line.ends_with('{') || line.contains("{  #")) else { return block };
        let inside = lines.get(head + 1..lines.len() - 1).unwrap_or_default();
        if inside.iter().any(|line| line.trim_start().starts_with('#') || line.starts_with("   ") || line.contains(['{', '}'])) {
            return block;
        }
        let all = lines[..=head].iter().chain(inside.iter().rev()).chain(lines.last());
        all.fold(String::new(), |text, line| text + line + "\n")
    });
    turned.collect()
}

fn without_comments(text: &str) -> String {
    text.lines().fold(String::new(), |all, line| all + line.split('#').next().unwrap_or_default().trim_end() + "\n")
}

/// Edits of the whole text.
fn whole(text: &str) -> Vec<(&'static str, String)> {
    let turned: String = blocks(text).into_iter().rev().collect();
    let mut sorted = blocks(text);
    sorted.sort();
    vec![
        ("blocks in the opposite order", turned),
        ("blocks in the order of the alphabet", sorted.concat()),
        ("lines in the opposite order", lines_turned(text)),
        ("no comments", without_comments(text)),
        ("a comment at each end of a line", text.replace("}\n", "}  # checked\n")),
        ("no empty lines", text.replace("\n\n", "\n")),
        ("the lines of another system", text.replace('\n', "\r\n")),
    ]
}

fn edits(name: &str, text: &str) -> Vec<Edit> {
    let few: &[(&str, &str)] = if name == "heron_fold" { &METRIC } else { &US };
    let of_pair = |(from, to): &(&str, &str)| {
        assert!(text.contains(from), "{name} has no `{from}`");
        (format!("{name}: `{from}` becomes `{to}`"), text.replace(from, to))
    };
    let of_whole = whole(text).into_iter().map(|(what, text)| (format!("{name}: {what}"), text));
    few.iter().map(of_pair).chain(of_whole).collect()
}

#[test]
fn harmless_edits_raise_nothing() {
    let designs: Vec<(String, String)> =
        designs().into_iter().filter(|(name, _)| ["heron_fold", "sorrel_kettle"].contains(&name.as_str())).collect();
    let all: Vec<(usize, Edit)> =
        designs.iter().enumerate().flat_map(|(at, (name, text))| edits(name, text).into_iter().map(move |edit| (at, edit))).collect();
    assert!(all.len() >= 60, "{}", all.len());
    let told: BTreeSet<&str> = all.iter().map(|(_, (what, _))| what.as_str()).collect();
    assert_eq!(told.len(), all.len(), "each once");
    let share = |thread: usize| {
        let mut watchers: Vec<Watcher> = designs.iter().map(|(_, text)| Watcher::new(text)).collect();
        let raised = all.iter().skip(thread).step_by(THREADS).filter_map(|(at, (what, text))| {
            assert!(*text != designs[*at].1, "{what} changes nothing");
            let news = watchers[*at].news_of(text);
            // Under another name a finding has another subject: only what does not hold counts there.
            (!news.is_empty()).then(|| format!("{what}:\n    {}", news.join("\n    ")))
        });
        raised.collect::<Vec<_>>()
    };
    let raised: Vec<String> = std::thread::scope(|scope| {
        let running: Vec<_> = (0..THREADS).map(|thread| scope.spawn(move || share(thread))).collect();
        running.into_iter().flat_map(|thread| thread.join().expect("no edit may end in a panic")).collect()
    });
    assert!(raised.is_empty(), "\n{}", raised.join("\n"));
}
