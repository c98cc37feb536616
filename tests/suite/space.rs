//! One building in space: what is said of it does not hang on where its zero lies, nor on which way it is looked at.

use super::examples::{broken, read};
use wallplate::rules::Options;

/// Lines whose numbers are places, by the measure that they are counted in.
const STATIONS: [&str; 8] = ["station", "stations", "runs", "start", "meets", "joints", "mass_station", "hung_at"];
const OFFSETS: [&str; 4] = ["offset", "offsets", "spans", "right_edge"];

/// The findings on bodies, without the numbers in their words.
fn said(name: &str, text: &str) -> Vec<(String, Vec<String>, &'static str)> {
    let session = read(name, text);
    assert!(session.problems().is_empty(), "{name}: {:?}", session.problems());
    let findings = session.check(&Options { only: Some("space".into()), ..Options::default() });
    assert!(!findings.is_empty(), "{name}");
    let told = findings
        .into_iter()
        .map(|finding| (finding.rule.to_string(), finding.subjects.iter().map(ToString::to_string).collect(), finding.verdict.word()));
    told.collect()
}

/// A design with what stands in brackets added to each place that it writes, in metres; `None` where a line is no plain place.
fn moved(text: &str, along: f64, across: f64) -> String {
    let by = |word: &str| {
        if STATIONS.contains(&word) {
            Some(along)
        } else if OFFSETS.contains(&word) {
            Some(across)
        } else {
            None
        }
    };
    let mut moved = String::new();
    for line in text.lines() {
        let (code, comment) = line.split_once('#').map_or((line, ""), |(code, comment)| (code, comment));
        // The end of a brace: station, offset, level.
        let place: Vec<&str> = code.trim().split(", ").collect();
        if let ([first, offset, level], Some(word)) = (&*place, ["from ", "to "].iter().find(|word| code.trim().starts_with(**word))) {
            let more = |number: &str, by: f64| number.trim().trim_end_matches(" m").parse::<f64>().unwrap() + by;
            let (station, offset) = (more(&first[word.len()..], along), more(offset, across));
            moved.push_str(&format!("{word}{station} m, {offset} m, {level} #{comment}\n"));
            continue;
        }
        let mut adding: Option<f64> = None;
        let mut is_first = true;
        for word in code.split_inclusive(' ') {
            let bare = word.trim_end_matches([' ', ';']);
            if let Some(by) = by(bare) {
                adding = Some(by);
                is_first = true;
            } else if let (Some(by), Ok(number)) = (adding, bare.parse::<f64>()) {
                // `3.0 m + index * 1.4 m`: only the first is a place; after a comma and `to` comes another.
                if is_first {
                    moved.push_str(&word.replacen(bare, &format!("{:.4}", number + by), 1));
                    is_first = false;
                    continue;
                }
            } else if word.trim_end() == "to" || word.trim_end().ends_with(',') {
                is_first = true;
            } else if word.contains([';', '}', '{']) {
                adding = None;
            }
            moved.push_str(word);
        }
        if !comment.is_empty() {
            moved.push('#');
            moved.push_str(comment);
        }
        moved.push('\n');
    }
    moved
}

/// Broken examples with a finding of space, without those with places along a wall: which way these go no word says.
fn in_space() -> Vec<(String, String)> {
    let along_a_wall = |text: &str| text.contains("door_opens") || text.contains("ties_at");
    broken().into_iter().filter(|(_, text)| text.contains("fail: space.") && !along_a_wall(text)).collect()
}

#[test]
fn a_building_that_is_moved_is_judged_alike() {
    // One in two: each is judged three times over.
    let designs: Vec<(String, String)> = in_space().into_iter().step_by(2).collect();
    assert!(designs.len() > 10);
    for (name, text) in designs {
        let before = said(&name, &text);
        for (along, across) in [(7.35, 0.0), (0.0, -4.2), (-2.5, 11.0)] {
            let after = moved(&text, along, across);
            assert_ne!(after, text);
            assert_eq!(said(&name, &after), before, "{name}, moved by {along} m and {across} m:\n{after}");
        }
    }
}

/// A length in metres that ends before `;`, `}`, a tolerance or the end of the line, negated.
fn negated(number: &str) -> String {
    let number: f64 = number.trim().trim_end_matches(" m").parse().unwrap_or_else(|_| panic!("`{number}` is no plain length in metres"));
    format!("{} m", -number)
}

/// A line of a block, its word and what is written after it, as it is written in the building's image in a mirror along the travel.
fn in_the_mirror(word: &str, written: &str, width: f64) -> Option<String> {
    let mirrored = match word {
        "offset" => negated(written),
        "spans" | "offsets" => {
            let (from, to) = written.split_once(" to ").unwrap();
            format!("{} to {}", negated(to), negated(from))
        }
        "right_edge" => format!("{} m", -(written.trim_end_matches(" m").parse::<f64>().unwrap() + width)),
        "rises" | "looks" | "side" => match written {
            "left" => "right".to_owned(),
            "right" => "left".to_owned(),
            _ => return None,
        },
        "from" | "to" if written.split(", ").count() == 3 => {
            let place: Vec<&str> = written.split(", ").collect();
            format!("{}, {}, {}", place[0], negated(place[1]), place[2])
        }
        _ => return None,
    };
    Some(mirrored)
}

/// A design in a mirror that stands along the travel: left is right.
fn mirrored(text: &str) -> String {
    let width =
        text.lines().find_map(|line| line.trim().strip_prefix("width ")?.split('#').next()?.trim().strip_suffix(" m")?.parse().ok());
    let mut image = String::new();
    for line in text.lines() {
        let (code, comment) = line.split_at(line.find('#').unwrap_or(line.len()));
        // Statements of a block end at these; what stands between is copied as it is.
        let mut rest = code;
        while !rest.is_empty() {
            let end = rest.find([';', '{', '}']).unwrap_or(rest.len());
            let (statement, after) = rest.split_at(end);
            let bare = statement.trim();
            let changed = bare.split_once(' ').and_then(|(word, written)| {
                let image = in_the_mirror(word, written.trim(), width.unwrap_or_default())?;
                Some(statement.replacen(bare, &format!("{word} {image}"), 1))
            });
            image.push_str(&changed.unwrap_or_else(|| statement.to_owned()));
            let sign = after.chars().next().map_or(0, char::len_utf8);
            image.push_str(&after[..sign]);
            rest = &after[sign..];
        }
        image.push_str(comment);
        image.push('\n');
    }
    image
}

#[test]
fn a_building_in_a_mirror_is_judged_alike() {
    let designs = in_space();
    for (name, text) in designs {
        let image = mirrored(&text);
        assert_ne!(image, text);
        assert_eq!(said(&name, &image), said(&name, &text), "{name}, left for right:\n{image}");
    }
}

#[test]
fn a_building_that_opens_another_way_is_judged_alike() {
    // One in three: each is judged four times over.
    let designs: Vec<(String, String)> = in_space().into_iter().skip(1).step_by(3).collect();
    for (name, text) in designs {
        let opens = text.lines().find_map(|line| line.trim().strip_prefix("rolls_open ")).unwrap().trim();
        for other in ["north", "east", "south", "west"] {
            let turned = text.replacen(&format!("rolls_open    {opens}"), &format!("rolls_open    {other}"), 1);
            assert_eq!(said(&name, &turned), said(&name, &text), "{name}, opens to the {other}");
        }
    }
}

#[test]
fn what_cannot_be_told_points_to_no_name_of_the_rule() {
    // Which footing a post stands on cannot be told: nothing is said of the rule's own names, which are none of the builder's.
    let (_, text) = broken().into_iter().find(|(name, _)| name == "posts_measured_from_the_slab.plate").unwrap();
    let text = text.replacen("footing pad[1..4] ", "footing (", 1);
    let session = read("a.plate", &text);
    let found = session.check(&Options::default());
    assert!(found.iter().any(|finding| finding.rule == "space.posts_stand"));
    let late: Vec<String> = session.problems().iter().map(|problem| problem.message.to_string()).collect();
    assert!(!late.iter().any(|message| message.contains("`y`") || message.contains("`x`")), "{late:?}");
}
