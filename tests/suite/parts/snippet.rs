//! Places in a text, drawn with what stands there.

use std::sync::Arc;
use wallplate::output::text::Look;
use wallplate::output::text::snippet::{Weight, draw};
use wallplate::problem::Place;
use wallplate::text::{FileId, Source, Sources, Span};

const LOOK: Look = Look { width: 60, colour: false, unicode: false, narrated: false };

fn sources(text: &str) -> Sources {
    let mut sources = Sources::default();
    sources.add(Arc::new(Source::new("a.plate", text)));
    sources
}

fn place(start: usize, end: usize, label: &str) -> Place {
    let at = |offset| u32::try_from(offset).unwrap();
    Place { span: Span { file: FileId(0), start: at(start), end: at(end) }, label: label.to_owned() }
}

/// The texts that stand above a row of carets.
fn underlined(drawn: &str) -> Vec<String> {
    let lines: Vec<Vec<char>> = drawn.lines().map(|line| line.chars().collect()).collect();
    let mut found = Vec::new();
    for pair in lines.windows(2) {
        let marks = |sign: &char| *sign == '^' || *sign == '|';
        // Past the gutter's own bar.
        let gutter = pair[1].iter().position(|sign| *sign == ':').map_or(usize::MAX, |at| at + 1);
        let is_marks = pair[1].iter().skip(gutter).all(|sign| marks(sign) || *sign == ' ') && pair[1].contains(&'^');
        if gutter == usize::MAX || !is_marks {
            continue;
        }
        let text: String = pair[0].iter().zip(pair[1].iter()).skip(gutter).filter(|(_, mark)| marks(mark)).map(|(sign, _)| sign).collect();
        found.push(text);
    }
    found
}

#[test]
fn the_place_is_what_is_underlined() {
    let text = "site {\n  wind_spede 26 m/s\n}\n";
    let at = text.find("wind_spede").unwrap();
    let drawn = draw(Weight::Error, "x", "no such property", &[place(at, at + 10, "this property")], &sources(text), &LOOK);
    assert_eq!(underlined(&drawn), ["wind_spede"]);
    assert!(drawn.contains("[a.plate:2:3]"), "{drawn}");
    assert!(drawn.contains("this property"), "{drawn}");
}

#[test]
fn distant_places_are_drawn_apart_in_the_order_given() {
    let text = "a 1\n".repeat(50) + "b 2\n" + &"c 3\n".repeat(50);
    let at = text.find('b').unwrap();
    let drawn = draw(Weight::Error, "x", "m", &[place(at, at + 3, "first"), place(0, 3, "second")], &sources(&text), &LOOK);
    assert_eq!(underlined(&drawn), ["b 2", "a 1"]);
    assert!(drawn.find("a.plate:51:1").unwrap() < drawn.find("a.plate:1:1").unwrap(), "{drawn}");
    assert!(drawn.lines().count() < 14, "{drawn}");
}

#[test]
fn the_end_of_the_file_can_be_marked() {
    for text in ["let a 1 m", "let a 1 m\n", "let a 1 m\r\n", "", "\n"] {
        let drawn = draw(Weight::Error, "x", "m", &[place(text.len(), text.len(), "here")], &sources(text), &LOOK);
        assert!(drawn.contains("here"), "{text:?}: {drawn}");
    }
}

#[test]
fn long_lines_are_cut_around_the_place() {
    let text = format!("let a {} the_place {}\n", "1 + ".repeat(40), "+ 2".repeat(40));
    let at = text.find("the_place").unwrap();
    let drawn = draw(Weight::Error, "x", "m", &[place(at, at + 9, "here")], &sources(&text), &Look { width: 40, ..LOOK });
    assert_eq!(underlined(&drawn), ["the_place"]);
    assert!(drawn.lines().all(|line| line.chars().count() <= 42), "{drawn}");
    assert!(drawn.contains(&format!("a.plate:1:{}", at + 1)), "{drawn}");
}

#[test]
fn control_characters_and_tabs_keep_the_columns() {
    let text = "\tlet\u{1b}[31m \u{202E}a\u{85} 1 \u{2212} x m";
    let at = text.find('x').unwrap();
    let drawn = draw(Weight::Error, "x", "m", &[place(at, at + 3, "here")], &sources(text), &LOOK);
    assert!(!drawn.contains(['\u{1b}', '\u{202E}', '\u{85}']), "{drawn:?}");
    assert_eq!(underlined(&drawn), ["x m"]);
}

proptest::proptest! {
    #[test]
    fn any_place_in_any_text_can_be_drawn(text in "[a-c\t\r\né\u{1b} \u{1F52D}]{0,60}", starts in proptest::collection::vec((0_usize..80, 0_usize..80), 1..5), width in 1_usize..60) {
        let places: Vec<Place> = starts.into_iter().map(|(start, len)| place(start, start + len, "x")).collect();
        let drawn = draw(Weight::Note, "?", "m", &places, &sources(&text), &Look { width, ..LOOK });
        proptest::prop_assert!(drawn.contains("a.plate:"), "{}", drawn);
    }
}
