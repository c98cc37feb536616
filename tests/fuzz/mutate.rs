//! Changes of a text: slips as people make them, and what nobody would write.

use crate::pool::{Pool, words};
use std::ops::Range;

/// Numbers that differ and are the same in every run (SplitMix64 of Steele, Lea and Flood, 2014).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Dice {
        Dice(seed)
    }

    /// The seed of a case.
    pub fn seed(run: u64, number: u64) -> u64 {
        let mut dice = Dice(run.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ number.wrapping_mul(0xD134_2543_DE82_EF95));
        dice.next()
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number below `most`, or 0.
    pub fn below(&mut self, most: usize) -> usize {
        usize::try_from(self.next() >> 32).unwrap() % most.max(1)
    }

    /// One of several.
    pub fn of<'l, T>(&mut self, list: &'l [T]) -> &'l T {
        &list[self.below(list.len())]
    }

    /// Whether something happens that happens once in `times`.
    pub fn once_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }
}

/// Signs with a meaning, and letters that look like others or are of no width.
const SIGNS: &[&str] = &[
    "{",
    "}",
    "(",
    ")",
    "[",
    "]",
    "\"",
    "\\\"",
    "\\\\",
    "\\",
    "#",
    "\n",
    "\r",
    "\r\n",
    ";",
    ",",
    "=",
    "==",
    ":",
    "+",
    "-",
    "*",
    "/",
    "^",
    "..",
    ".",
    "±",
    "+-",
    "+/-",
    "−",
    "≤",
    "≠",
    "×",
    "½",
    "°",
    "é",
    "ж",
    "\u{A0}",
    "\u{2009}",
    "\u{202F}",
    "\u{3000}",
    "\u{200B}",
    "\u{202E}",
    "\u{FEFF}",
    "“",
    "”",
    "’",
    "′",
    "–",
    "\t",
    "{ {",
    "\"{",
    "}\"",
    "\u{1F52D}",
    "\u{301}",
    "\u{7}",
    "0",
    "9",
    "1/",
    "1/0",
    "1e9",
    "1e999",
    "-0",
    "0.1e-320",
    "99999999999",
    "4294967296",
    "0000-00-00",
    "2027-02-30",
    "index",
    "[1..4]",
    "[1..4000000000]",
    "[0]",
    "%",
    "1 m",
    "3-1/2 in",
    "6 ft 2-1/2 in",
    "-5 degC",
    "yes",
    "no",
];

/// Words that an expression or a header is made of.
const FORMS: &[&str] = &[
    "if ",
    " then ",
    " else ",
    " for ",
    " in ",
    " where ",
    " to ",
    " by ",
    " and ",
    " or ",
    "not ",
    " like ",
    "sum(",
    "count(",
    "max(",
    "given(",
    "sqrt(",
    "as_written(",
    "let ",
    "use ",
    "kind ",
    "rule ",
    "pattern ",
    "variant ",
    "measured ",
    "accept ",
    "picture ",
    "each ",
    "demand ",
    "capacity ",
    "require ",
    "says ",
    "help ",
    "mend ",
    "default ",
    "assumed ",
    "because ",
    "required ",
    "at_least ",
    "link to ",
    "links to ",
    "one of ",
    "list of ",
];

/// One change: what goes, and what comes in its place.
pub fn change(text: &str, pool: &Pool, dice: &mut Dice) -> (Range<usize>, String) {
    let starts: Vec<usize> =
        std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).filter(|at| *at < text.len()).collect();
    if starts.is_empty() {
        return (0..text.len(), dice.of(&pool.statements).clone());
    }
    let line_at = |start: usize| start..text[start..].find('\n').map_or(text.len(), |at| start + at + 1);
    let line = line_at(*dice.of(&starts));
    let floor = |mut at: usize| {
        at = at.min(text.len());
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let place = floor(line.start + dice.below(line.len()));
    let parts = words(&text[line.clone()]);
    let part = if parts.is_empty() { place..place } else { dice.of(&parts).clone() };
    let part = if parts.is_empty() { part } else { line.start + part.start..line.start + part.end };
    match dice.below(18) {
        0 => (line, String::new()),
        1 => (line.start..line.start, text[line_at(*dice.of(&starts))].to_owned()),
        2 => (line, text[line_at(*dice.of(&starts))].to_owned()),
        3 => (line.start..line.start, dice.of(&pool.lines).clone()),
        4 => {
            let first = text[line.clone()].trim_start().find(' ').map_or(line.end, |at| {
                let lead = text[line.clone()].len() - text[line.clone()].trim_start().len();
                line.start + lead + at
            });
            let end = line.start + text[line].trim_end().len();
            (first.min(end)..end, format!(" {}", dice.of(&pool.values)))
        }
        5 => (part, dice.of(&pool.words).clone()),
        6 => {
            let other = words(text);
            (part, if other.is_empty() { String::new() } else { text[dice.of(&other).clone()].to_owned() })
        }
        7 => (part, String::new()),
        8 => (part.start..part.start, format!("{} ", dice.of(&pool.words))),
        9 => (place..place, (*dice.of(SIGNS)).to_owned()),
        10 => (part, (*dice.of(SIGNS)).to_owned()),
        11 => (part.end..part.end, (*dice.of(FORMS)).to_owned()),
        12 => {
            let end = floor(place + dice.below(30));
            (place..end.max(place), String::new())
        }
        13 => {
            // A piece once more, somewhere else.
            let from = floor(dice.below(text.len()));
            let to = floor(from + dice.below(60));
            (place..place, text[from.min(to)..to.max(from)].to_owned())
        }
        14 => (line.start..line.start, dice.of(&pool.statements).clone()),
        15 => {
            let value = &text[part.clone()];
            let around =
                dice.of(&[("(", ")"), ("[", "]"), ("-", ""), ("sqrt(", ")"), ("\"", "\""), ("\"{", "}\""), ("{", "}"), ("not ", "")]);
            let wrapped = format!("{}{value}{}", around.0, around.1);
            (part, wrapped)
        }
        16 => {
            // Another number.
            let digits: Vec<usize> =
                text[line.clone()].match_indices(|c: char| c.is_ascii_digit()).map(|(at, _)| line.start + at).collect();
            if digits.is_empty() {
                return (line.start..line.start, "\n".to_owned());
            }
            let at = *dice.of(&digits);
            (at..at + 1, (*dice.of(&["0", "1", "7", "", "12", ".5", "-3", "1e3"])).to_owned())
        }
        _ => {
            let times = *dice.of(&[2, 3, 8, 70, 400]);
            let piece = text[part.clone()].repeat(times);
            (part, if piece.len() > 3_000 { String::new() } else { piece })
        }
    }
}

/// A text after some changes.
pub fn changed(text: &str, pool: &Pool, dice: &mut Dice, times: usize) -> String {
    let mut text = text.to_owned();
    for _ in 0..times {
        let (range, new) = change(&text, pool, dice);
        text.replace_range(range, &new);
    }
    text
}
