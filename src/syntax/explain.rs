//! Why a line could not be read, in a builder's words.
//!
//! The usual slips are looked for first and named (`slips.rs`); for the rest the strict grammar is run
//! again on the broken piece and the furthest place that it reached says what was expected there.

use super::examples;
use super::grammar::{Grammar, Rule};
use super::piece_of_text::PieceOfText;
use super::slips;
use crate::problem::Problem;
use crate::text::FileId;
use pest::Parser;
use pest::error::{ErrorVariant, InputLocation};

/// What to say of a piece that the grammar does not let through.
///
/// `strict` is the production that it should have been, `masked` the piece as the grammar sees it,
/// `written` as it stands in the file, `at` its offset there, `block` whether a `{` follows it.
pub fn broken(strict: Rule, masked: &str, written: &str, file: FileId, at: u32, block: bool) -> Problem {
    let lead = masked.len() - masked.trim_start().len();
    let masked = masked.get(lead..).unwrap_or_default();
    let written = written.get(lead..).unwrap_or(masked);
    let piece = PieceOfText { strict, masked, written, block, file, at: at + u32::try_from(lead).unwrap_or(0) };
    slips::usual(&piece).unwrap_or_else(|| piece.expected())
}

impl PieceOfText<'_> {
    /// What the strict grammar expected at the furthest place that it reached.
    fn expected(&self) -> Problem {
        let error = match Grammar::parse(self.strict, self.masked) {
            Ok(_) => return Problem::error("this cannot stand here", self.span(0, self.masked.len()), "here"),
            Err(error) => error,
        };
        let (InputLocation::Pos(at) | InputLocation::Span((at, _))) = error.location;
        let mut words: Vec<&str> = match &error.variant {
            ErrorVariant::ParsingError { positives, .. } => positives.iter().filter_map(|rule| in_words(*rule)).collect(),
            ErrorVariant::CustomError { .. } => Vec::new(),
        };
        words.sort_unstable();
        words.dedup();
        if words.contains(&"a value") {
            words.retain(|word| !VALUES.contains(word));
        }
        if words.contains(&OPERATOR) {
            words.retain(|word| !AFTER_A_VALUE.contains(word));
            words.extend(["a comma", "the end of the line"]);
        }
        let expected = either(&words);
        let rest = self.masked.get(at..).unwrap_or_default();
        let at = at + rest.len() - rest.trim_start().len();
        let rest = rest.trim_start();
        let found = found_word(rest);
        if found.is_empty() {
            let end = self.masked.trim_end().len();
            let from = self.masked.get(..end).unwrap_or_default().rsplit(char::is_whitespace).next().map_or(0, |last| end - last.len());
            return Problem::error("this line stops too early", self.span(from, end), "the last thing read").help(if expected.is_empty() {
                "finish the line".to_owned()
            } else {
                format!("{expected} should follow")
            });
        }
        let shown = self.written.get(at..at + found.len()).unwrap_or(found);
        let place = self.span(at, at + found.len());
        if (words.contains(&"a name") || words.contains(&"a value"))
            && let Some(problem) = self.not_a_name(found, at)
        {
            return problem;
        }
        let problem = Problem::error(format!("`{shown}` cannot stand here"), place, "read as far as here");
        match expected.as_str() {
            "" => problem,
            _ if words.contains(&OPERATOR) && found.starts_with(char::is_alphabetic) => {
                problem.help(format!("{expected} could stand here; a text stands in quotes"))
            }
            _ => problem.help(format!("{expected} could stand here")),
        }
    }

    /// A word that stands where a name is expected and cannot be one.
    fn not_a_name(&self, found: &str, at: usize) -> Option<Problem> {
        let place = self.span(at, at + found.len());
        if found.chars().count() == 1
            && found.contains(|c: char| c.is_ascii_uppercase())
            && at > 0
            && !matches!(self.strict, Rule::only_header)
        {
            let quoted = format!("\"{found}\"");
            return Some(
                Problem::error(format!("a letter that is no name stands in quotes: `{found}`"), place, "here")
                    .help(format!("write `{quoted}`"))
                    .mend(format!("write `{quoted}`"), place, quoted),
            );
        }
        if found.contains(|c: char| c.is_ascii_uppercase()) {
            let lower = found.to_ascii_lowercase();
            return Some(Problem::error(format!("names are lower case: `{found}`"), place, "here").help(format!("write `{lower}`")).mend(
                format!("write `{lower}`"),
                place,
                lower,
            ));
        }
        if Grammar::parse(Rule::reserved, found).is_ok_and(|pairs| pairs.as_str() == found) {
            return Some(
                Problem::error(format!("`{found}` is a word of the language and cannot be a name"), place, "here")
                    .help(format!("choose another name, like `the_{found}`")),
            );
        }
        let digit_first = found.starts_with(|c: char| c.is_ascii_digit()) && found.contains(|c: char| c.is_ascii_lowercase());
        (self.strict == Rule::only_header && digit_first).then(|| {
            Problem::error(format!("a name begins with a letter: `{found}`"), place, "here")
                .help("names are plain lower-case letters a to z, digits and `_`")
        })
    }
}

fn found_word(rest: &str) -> &str {
    let rest = rest.trim_end();
    let Some(first) = rest.chars().next() else { return "" };
    let end = if first.is_alphanumeric() {
        rest.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(rest.len())
    } else {
        first.len_utf8()
    };
    rest.get(..end).unwrap_or(rest)
}

fn either(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [most @ .., last] => format!("{} or {last}", most.join(", ")),
    }
}

const OPERATOR: &str = "an operator like `+`";

/// What goes without saying behind a value.
const AFTER_A_VALUE: [&str; 5] = ["a comparison", "`.` and a property", "a tolerance like `± 5 mm`", "a number with its unit", "a unit"];

/// What goes without saying where a value is expected.
const VALUES: [&str; 6] =
    ["a name", "a number with its unit", "a text in quotes", "a date like 2027-05-02", "`yes` or `no`", "an argument"];

/// What each production is called to a person; `None` where naming it would not help.
fn in_words(rule: Rule) -> Option<&'static str> {
    Some(match rule {
        Rule::name | Rule::bare_name | Rule::word | Rule::reserved => "a name",
        Rule::path => examples::RULE_NAME,
        Rule::text | Rule::quoted | Rule::text_inside => "a text in quotes",
        Rule::number | Rule::quantity | Rule::digits_token => "a number with its unit",
        Rule::unit => "a unit",
        Rule::date => "a date like 2027-05-02",
        Rule::value | Rule::item | Rule::toleranced | Rule::expression => "a value",
        Rule::tolerance | Rule::signed_pair => "a tolerance like `± 5 mm`",
        Rule::or | Rule::and | Rule::eq | Rule::ne | Rule::lt | Rule::le | Rule::gt | Rule::ge => "a comparison",
        Rule::add | Rule::sub | Rule::mul | Rule::div | Rule::pow => OPERATOR,
        Rule::field | Rule::index => "`.` and a property",
        Rule::neg | Rule::not => "a value",
        Rule::yes | Rule::no => "`yes` or `no`",
        Rule::group | Rule::list | Rule::call | Rule::call_open | Rule::choice_of_two => "a value",
        Rule::argument | Rule::argument_name => "an argument",
        Rule::binder => "`name in kind`",
        Rule::line | Rule::let_line | Rule::each_line | Rule::for_line => "a line: a name and its value",
        Rule::word_list => "words in brackets, like `[open, closed]`",
        Rule::elements => "`[1..4]`",
        Rule::like => "`like` and a pattern's name",
        Rule::body | Rule::kind_body | Rule::signature_body | Rule::rule_body | Rule::changes => "`{` and its lines",
        Rule::component | Rule::change => "a block",
        Rule::property_type | Rule::plain_type | Rule::link_type | Rule::link_kw | Rule::links_kw => examples::TYPE,
        Rule::one_of | Rule::list_of | Rule::range_of | Rule::size_of => examples::TYPE,
        Rule::clause | Rule::more | Rule::required | Rule::default | Rule::assumed | Rule::found | Rule::source | Rule::carrying => {
            "`required`, `default`, `assumed … because`, `usually … to … because`, `found`, `source`, `carrying` or a text"
        }
        Rule::because => "`because` and the reason in quotes",
        Rule::usual => "`usually`, from one number to another, and `because` with the reason in quotes",
        Rule::bound | Rule::bound_word => "`at_least`, `at_most`, `above` or `below`",
        // Blocks, lines and silent productions: to name them would not help.
        _ => return None,
    })
}
