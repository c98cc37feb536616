//! Reading: every form of the language, in every layout that a person may give it, is read as it is
//! meant; and no text whatever, however damaged, is too much.

pub mod generate;

use generate::{design, dice, expression};
use proptest::prelude::*;
use wallplate::design::Choice;
use wallplate::problem::Problem;
use wallplate::rules::Options;
use wallplate::session::{NoShelf, Session};
use wallplate::syntax::{parse, parse_expression, tree};
use wallplate::text::{FileId, Source};
use wallplate::tidy::{outline, tidy};

fn line_of(value: tree::Expr) -> tree::Tree {
    let name = tree::Word { text: "x".into(), span: wallplate::text::Span::default() };
    let line = tree::Let { span: wallplate::text::Span::default(), name, value: std::sync::Arc::new(value), guessed: None };
    tree::Tree { items: vec![tree::Item::Let(line)], comments: Vec::new() }
}

/// Each place of a problem lies in its file and does not cut a character in two.
fn assert_places(text: &str, problems: &[Problem]) -> Result<(), TestCaseError> {
    for problem in problems {
        let mends = problem.mends.iter().map(|mend| mend.span);
        for span in problem.places.iter().map(|place| place.span).chain(mends) {
            if span.file == FileId::default() {
                prop_assert!(text.get(span.start as usize..span.end as usize).is_some(), "{span:?} of {problem:?} is out of place");
            }
        }
        prop_assert!(!problem.message.is_empty() && !problem.places.is_empty());
        prop_assert!(!problem.message.ends_with('.'), "{}", problem.message);
    }
    Ok(())
}

/// Everything that is done with a text, for texts that may be damaged.
fn try_out(text: &str) -> Result<(), TestCaseError> {
    let (_, problems) = parse(text, FileId::default());
    assert_places(text, &problems)?;
    let session = Session::read(vec![Source::new("a.plate", text)], &NoShelf, &Choice::default());
    assert_places(text, &session.problems())?;
    let _ = session.check(&Options::default());
    if let Ok(once) = tidy(text) {
        prop_assert_eq!(tidy(&once), Ok(once));
    } else {
        prop_assert!(!problems.is_empty(), "tidy refuses a text without problems: {text:?}");
    }
    Ok(())
}

/// A change of a text: what is taken out, and what is put in its place.
#[derive(Debug, Clone)]
struct Damage {
    at: prop::sample::Index,
    length: usize,
    insert: String,
}

fn damage() -> impl Strategy<Value = Damage> {
    let piece = prop_oneof![
        Just(String::new()),
        prop::sample::select(vec![
            "{", "}", "(", ")", "[", "]", "\"", "#", "\n", "\r", ";", ",", "=", ":", "+", "-", "±", "−", "×", "\u{A0}", "\u{FEFF}", "..",
            ".", "/", "^", "\\", "'", "0", "9", "1e999", " if ", " to ", " by ", " in ", " like ", "let ", "kind ", "rule ", "а", "A", "½",
            "\u{202E}", "\t", "{ {", "index", "[1..9]",
        ])
        .prop_map(str::to_owned),
        any::<char>().prop_map(String::from),
    ];
    (any::<prop::sample::Index>(), prop_oneof![Just(0), Just(1), 0_usize..40], piece).prop_map(|(at, length, insert)| Damage {
        at,
        length,
        insert,
    })
}

fn damaged(text: &str, all: &[Damage]) -> String {
    let mut characters: Vec<char> = text.chars().collect();
    for damage in all {
        let at = damage.at.index(characters.len() + 1);
        let end = (at + damage.length).min(characters.len());
        characters.splice(at..end, damage.insert.chars());
    }
    characters.into_iter().collect()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_form_is_read_as_it_is_meant(dice in dice(1500)) {
        let sample = design(&dice);
        let (tree, problems) = parse(&sample.text, FileId::default());
        prop_assert!(problems.is_empty(), "{problems:?}\n{}", sample.text);
        prop_assert_eq!(outline(&tree), outline(&sample.tree), "{}", sample.text);
        let comments: Vec<&str> =
            tree.comments.iter().map(|comment| sample.text[comment.span.start as usize..comment.span.end as usize].trim_end()).collect();
        prop_assert_eq!(comments, sample.comments);
    }

    #[test]
    fn an_expression_alone_is_read_as_it_is_meant(dice in dice(120)) {
        let (text, meant) = expression(&dice);
        let read = parse_expression(&text, FileId::default());
        prop_assert!(read.is_ok(), "{text}: {read:?}");
        prop_assert_eq!(outline(&line_of(read.unwrap())), outline(&line_of(meant)), "{}", text);
    }

    #[test]
    fn a_damaged_text_is_answered(dice in dice(1500), all in prop::collection::vec(damage(), 1..6)) {
        try_out(&damaged(&design(&dice).text, &all))?;
    }

    #[test]
    fn any_text_is_answered(text in "\\PC{0,200}") {
        try_out(&text)?;
    }

    #[test]
    fn a_text_cut_off_anywhere_is_answered(dice in dice(1500), at in any::<prop::sample::Index>()) {
        let text = design(&dice).text;
        let mut at = at.index(text.len() + 1);
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        try_out(&text[..at])?;
    }
}
