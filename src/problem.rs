//! What is wrong with a text, in a builder's words: a message, its places, what to write instead.
//!
//! Every stage reports in this one form; the terminal, JSON and an editor are views of it.

use crate::text::Span;

/// How bad it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Something could not be understood: part of the design is not checked.
    Error,
    /// It is understood, and probably not what was meant.
    Warning,
}

/// A place with what stands there.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Place {
    /// Where.
    pub span: Span,
    /// What is there, in a few words; may be empty.
    pub label: String,
}

/// A change of the text that would mend a problem.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Mend {
    /// What it does, as an order: "write `station`".
    pub title: String,
    /// What is replaced.
    pub span: Span,
    /// With what.
    pub text: String,
}

/// Something wrong with the text.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Problem {
    /// How bad it is.
    pub severity: Severity,
    /// What is wrong: lower case, no full stop, the user's own words in backticks.
    pub message: String,
    /// What to write instead.
    pub help: Option<String>,
    /// Where; the first place is the one to mend.
    pub places: Vec<Place>,
    /// Changes that would mend it.
    pub mends: Vec<Mend>,
    /// One slip that shows at each of its places: of several with one message the first is told, with the places of the others.
    pub once: bool,
}

impl Problem {
    /// An error at one place.
    #[must_use]
    pub fn error(message: impl Into<String>, span: Span, label: impl Into<String>) -> Self {
        Self {
            severity: Severity::Error,
            message: message.into(),
            help: None,
            places: vec![Place { span, label: label.into() }],
            mends: Vec::new(),
            once: false,
        }
    }

    /// A slip that shows wherever the same words stand.
    #[must_use]
    pub fn once(mut self) -> Self {
        self.once = true;
        self
    }

    /// A warning at one place.
    #[must_use]
    pub fn warning(message: impl Into<String>, span: Span, label: impl Into<String>) -> Self {
        Self { severity: Severity::Warning, ..Self::error(message, span, label) }
    }

    /// With what to write instead.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// With one more place.
    #[must_use]
    pub fn also(mut self, span: Span, label: impl Into<String>) -> Self {
        self.places.push(Place { span, label: label.into() });
        self
    }

    /// With a change that would mend it.
    #[must_use]
    pub fn mend(mut self, title: impl Into<String>, span: Span, text: impl Into<String>) -> Self {
        self.mends.push(Mend { title: title.into(), span, text: text.into() });
        self
    }

    /// The place to mend.
    #[must_use]
    pub fn span(&self) -> Span {
        self.places.first().map(|place| place.span).unwrap_or_default()
    }

    /// With the nearest of `known` offered in place of `written`, if one is near enough.
    #[must_use]
    pub fn nearest<'k>(self, written: &str, span: Span, known: impl IntoIterator<Item = &'k str>) -> Self {
        match nearest(written, known) {
            Some(word) => self.offering(span, word),
            None => self,
        }
    }

    /// With a word offered in place of what was written.
    #[must_use]
    pub fn offering(self, span: Span, word: &str) -> Self {
        self.help(format!("did you mean `{word}`?")).mend(format!("write `{word}`"), span, word)
    }

    /// As [`Problem::nearest`], with another help where nothing is near enough.
    #[must_use]
    pub fn nearest_or<'k>(self, written: &str, span: Span, known: impl IntoIterator<Item = &'k str>, otherwise: impl Into<String>) -> Self {
        let problem = self.nearest(written, span, known);
        if problem.help.is_some() { problem } else { problem.help(otherwise) }
    }
}

/// The known word nearest to what was written, if it is near enough to be meant.
///
/// Distance is Damerau-Levenshtein (a swap of neighbours counts once); a third of the letters may differ,
/// one of three, and none of two: every short word is near every other.
///
/// What stands on the other side is never meant: not `west_wall` for an `east_wall` that there is not, and neither of the
/// two for `est_wall`.
#[must_use]
pub fn nearest<'k>(written: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
    let wanted = Wanted::new(written);
    let mut near = Nearest::default();
    for word in known {
        if wanted.lengths().contains(&word.len()) && wanted.may_be(letters_of(word)) {
            near.look_at(&wanted, word);
        }
    }
    near.word()
}

/// The nearest of the words that were looked at.
#[derive(Debug, Default)]
pub struct Nearest<'k> {
    distance: usize,
    /// All at that distance.
    words: Vec<&'k str>,
}

impl<'k> Nearest<'k> {
    /// Looks at one more word.
    pub fn look_at(&mut self, wanted: &Wanted<'_>, word: &'k str) {
        let Some(distance) = wanted.distance(word).filter(|_| !are_twins(wanted.written, word)) else { return };
        if self.words.is_empty() || distance < self.distance {
            self.distance = distance;
            self.words.clear();
        }
        if distance == self.distance {
            self.words.push(word);
        }
    }

    /// The first of the nearest by the alphabet, if none of the others is its twin on the other side.
    #[must_use]
    pub fn word(self) -> Option<&'k str> {
        let first = self.words.iter().min()?;
        self.words.iter().all(|word| !are_twins(first, word)).then_some(*first)
    }
}

/// A word for which a known one is looked for. A design may have many thousand names: those that cannot be meant are
/// passed over at a glance.
#[derive(Debug, Clone)]
pub struct Wanted<'w> {
    written: &'w str,
    most: usize,
    letters: u64,
}

impl<'w> Wanted<'w> {
    /// What was written.
    #[must_use]
    pub fn new(written: &'w str) -> Wanted<'w> {
        Wanted { written, most: written.chars().count() / 3, letters: letters_of(written) }
    }

    /// How long, in bytes, a word is that may be meant.
    #[must_use]
    pub fn lengths(&self) -> std::ops::RangeInclusive<usize> {
        self.written.len().saturating_sub(self.most)..=self.written.len() + self.most
    }

    /// Whether a word with these [letters](letters_of) may be meant.
    #[must_use]
    pub fn may_be(&self, letters: u64) -> bool {
        (self.letters & !letters).count_ones().max((letters & !self.letters).count_ones()) as usize <= self.most
    }

    /// How far a word is from what was written; nothing if too far to be meant.
    #[must_use]
    pub fn distance(&self, word: &str) -> Option<usize> {
        let distance = strsim::damerau_levenshtein(self.written, word);
        (distance <= self.most || is_part(self.written, word)).then_some(distance)
    }
}

/// The word with its article: `a clamp`, `an observatory`.
#[must_use]
pub fn with_article(word: &str) -> String {
    let vowel = word.starts_with(['a', 'e', 'i', 'o', 'u']) && !word.starts_with("uni") && !word.starts_with("us");
    format!("{} {word}", if vowel { "an" } else { "a" })
}

/// A word of the language with its article: ``a `clamp` ``, ``an `observatory` ``.
#[must_use]
pub fn quoted_with_article(word: &str) -> String {
    let spoken = with_article(word);
    spoken.split_once(' ').map_or_else(String::new, |(article, word)| format!("{article} `{word}`"))
}

/// Which characters a word has, each as a bit; two that differ may share one.
#[must_use]
pub fn letters_of(word: &str) -> u64 {
    word.bytes().fold(0, |letters, byte| letters | 1 << (byte % 64))
}

/// `south_wall` for `wall_south`: the same parts in another order.
fn is_part(written: &str, word: &str) -> bool {
    let mut a: Vec<_> = written.split('_').collect();
    let mut b: Vec<_> = word.split('_').collect();
    a.sort_unstable();
    b.sort_unstable();
    a == b
}

/// Words that tell sides apart; those of one row are as different from one another as any.
const SIDES: [&[&str]; 9] = [
    &["north", "east", "south", "west"],
    &["n", "e", "s", "w", "ne", "se", "sw", "nw"],
    &["northern", "eastern", "southern", "western"],
    &["left", "right"],
    &["l", "r"],
    &["front", "back", "rear"],
    &["inner", "outer", "inside", "outside"],
    &["upper", "lower", "top", "bottom"],
    &["near", "far"],
];

/// Whether two names are the same but for the side that they name: `east_wall` and `west_wall`.
fn are_twins(a: &str, b: &str) -> bool {
    let (one, other) = (a.split('_'), b.split('_'));
    let differ = || one.clone().zip(other.clone()).filter(|(one, other)| one != other);
    let opposite = |(one, other): (&str, &str)| SIDES.iter().any(|row| row.contains(&one) && row.contains(&other));
    one.clone().count() == other.clone().count() && differ().count() > 0 && differ().all(opposite)
}
