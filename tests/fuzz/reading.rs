//! Reading and laying out: a few statements, changed; whole and statement by statement have to read the same.

use crate::answers::sound;
use crate::mutate::{Dice, changed};
use crate::pool::Pool;
use wallplate::problem::Problem;
use wallplate::syntax::{cut, parse, parse_expression, parse_statement, tree::Tree};
use wallplate::text::{FileId, Span};
use wallplate::tidy::{TidyError, outline, tidy};

/// The part.
pub struct Reading;

impl crate::Part for Reading {
    const NAME: &'static str = "reading";
    const COUNTS: &'static str = "texts";

    fn case(pool: &Pool, dice: &mut Dice) -> Vec<String> {
        let text = dice.of(&pool.statements);
        // A dozen lines: so most of the time goes into the changes.
        let lines: Vec<&str> = text.split_inclusive('\n').collect();
        let from = if lines.len() > 12 { dice.below(lines.len() - 12) } else { 0 };
        let head = lines.iter().take(if from == 0 { 0 } else { 1 });
        let text: String = head.chain(lines.iter().skip(from).take(12)).copied().collect();
        let mut texts = vec![text];
        for _ in 0..12 {
            let times = 1 + dice.below(3);
            let next = changed(texts.last().map_or("", String::as_str), pool, dice, times);
            texts.push(next);
        }
        texts
    }

    fn run(texts: &[String], _: &mut Dice) -> u64 {
        texts.iter().for_each(|text| read(text));
        texts.len() as u64
    }
}

fn read(text: &str) {
    let file = FileId::default();
    let (tree, problems) = parse(text, file);
    sound(text, &problems);
    piecewise(text, &tree, &problems);
    match tidy(text) {
        Ok(once) => {
            // A mark of the byte order at the beginning is no mistake in a file: it goes.
            assert!(problems.is_empty() || text.starts_with('\u{FEFF}'), "laid out in spite of {problems:?}");
            assert_eq!(tidy(&once).as_ref(), Ok(&once), "laid out twice is not laid out once");
        }
        Err(TidyError::Unreadable(why)) => {
            assert!(!why.is_empty(), "refused for no reason");
            sound(text, &why);
        }
        Err(error) => panic!("{error}"),
    }
    if let Err(problems) = parse_expression(text.trim(), file) {
        sound(text.trim(), &problems);
    }
}

/// Statement by statement, as a text that is being written is read.
fn piecewise(text: &str, whole: &Tree, problems: &[Problem]) {
    let cut = cut(text, FileId::default());
    let mut told = cut.problems.clone();
    let mut items = Vec::new();
    for (start, statement) in cut.statements(text) {
        let start = u32::try_from(start).unwrap();
        let (item, mut problems) = parse_statement(&statement, FileId::default());
        let settle = |span: &mut Span| (span.start, span.end) = (span.start + start, span.end + start);
        for problem in &mut problems {
            problem.places.iter_mut().for_each(|place| settle(&mut place.span));
            problem.mends.iter_mut().for_each(|mend| settle(&mut mend.span));
        }
        told.extend(problems);
        items.push(item);
    }
    told.sort_by_key(Problem::span);
    let mut problems = problems.to_vec();
    problems.sort_by_key(Problem::span);
    assert_eq!(told, problems, "statement by statement and whole differ");
    assert_eq!(outline(&Tree { items, comments: Vec::new() }), outline(whole), "statement by statement and whole differ");
}
