//! Source files and places in them.
//!
//! In: the bytes of a file and its name. Out: text that is known to be readable, spans that are two
//! integers and a file number, and line and column numbers for people (characters), protocols
//! (UTF-16) and tools (bytes). It knows nothing of the language.

mod decode;
mod lines;

pub use decode::{LARGEST_FILE, Unreadable, decode};
pub use lines::{LineIndex, Position};

use rustc_hash::FxHashMap;
use serde::{Deserialize, Serialize};

/// The number of a source file within one session, or of a fragment of one: in a text that is being written
/// each top-level statement counts its places from its own beginning, so that they stay as they are
/// while the text before it grows. [`Sources::settle`] says where that is in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct FileId(pub u32);

impl FileId {
    const BUILT_IN: u32 = 0x8000_0000;
    const FRAGMENT: u32 = 0x4000_0000;
    /// The most fragments that are told apart.
    pub const MOST_FRAGMENTS: u32 = Self::FRAGMENT;

    /// The number of a file of the built-in trade library, by its place there.
    #[must_use]
    pub const fn built_in(place: u16) -> FileId {
        FileId(place as u32 | Self::BUILT_IN)
    }

    /// The number of a fragment of a file, by its own number.
    #[must_use]
    pub const fn fragment(number: u32) -> FileId {
        FileId((number % Self::FRAGMENT) | Self::FRAGMENT)
    }

    /// Whether it is a fragment of a file.
    #[must_use]
    pub fn is_fragment(self) -> bool {
        self.0 & Self::FRAGMENT != 0
    }

    /// Part of the built-in trade library: shown by name, never asked to be changed.
    #[must_use]
    pub fn is_built_in(self) -> bool {
        self.0 & Self::BUILT_IN != 0
    }
}

/// A stretch of one file, in bytes: from `start` up to but not including `end`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default, Serialize, Deserialize)]
#[serde(from = "Short", into = "Short")]
pub struct Span {
    /// Which file.
    pub file: FileId,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

/// A span as the library's trees hold it: of a number that takes as many bytes as it is large, each is small.
#[derive(Serialize, Deserialize)]
struct Short {
    /// The mark of a built-in file lowest.
    file: u32,
    start: u32,
    length: u32,
}

impl From<Span> for Short {
    fn from(Span { file: FileId(file), start, end }: Span) -> Self {
        Short { file: file.rotate_left(1), start, length: end.wrapping_sub(start) }
    }
}

impl From<Short> for Span {
    fn from(Short { file, start, length }: Short) -> Self {
        Span { file: FileId(file.rotate_right(1)), start, end: start.wrapping_add(length) }
    }
}

impl Span {
    /// A stretch of a text: it ends where it begins or behind that, and cuts no character in two.
    ///
    /// Places that are not so are a fault of ours. A debug build stops at one; otherwise the nearest that is so is taken,
    /// since what is said at a place is worth more than the place.
    #[must_use]
    pub fn within(text: &str, file: FileId, start: usize, end: usize) -> Span {
        let sound = start <= end && text.is_char_boundary(start) && text.is_char_boundary(end);
        debug_assert!(sound, "{start}..{end} is no stretch of {text:?}");
        let at = |offset: usize| u32::try_from(offset).unwrap_or(u32::MAX);
        let span = Span { file, start: at(start), end: at(end.max(start)) };
        if sound { span } else { span.widened(text) }
    }

    /// With the whole of the characters that it begins and ends in.
    #[must_use]
    pub fn widened(self, text: &str) -> Span {
        let (mut start, mut end) = ((self.start as usize).min(text.len()), (self.end as usize).min(text.len()));
        while !text.is_char_boundary(start) {
            start -= 1;
        }
        while !text.is_char_boundary(end) {
            end += 1;
        }
        let at = |offset: usize| u32::try_from(offset).unwrap_or(u32::MAX);
        Span { start: at(start), end: at(end), ..self }
    }

    /// The smallest stretch that covers both; `self` decides the file.
    #[must_use]
    pub fn to(self, other: Span) -> Span {
        Span { file: self.file, start: self.start.min(other.start), end: self.end.max(other.end) }
    }

    /// An empty stretch at the end of this one: where something is missing.
    #[must_use]
    pub fn after(self) -> Span {
        Span { start: self.end, ..self }
    }
}

/// One file as it was read.
#[derive(Debug)]
pub struct Source {
    /// The name to show: as the person gave it, or the built-in library's own.
    pub name: String,
    /// The whole text, without a byte order mark.
    pub text: String,
    lines: std::sync::OnceLock<LineIndex>,
}

impl Source {
    /// A source from its shown name and text.
    #[must_use]
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        Self { name: name.into(), text: text.into(), lines: std::sync::OnceLock::new() }
    }

    /// Where lines begin; worked out once, on first use.
    pub fn lines(&self) -> &LineIndex {
        self.lines.get_or_init(|| LineIndex::new(&self.text))
    }
}

/// All files of one session, by number: the person's own and, apart from them, the built-in ones.
#[derive(Debug, Default, Clone)]
pub struct Sources {
    own: Vec<std::sync::Arc<Source>>,
    built_in: Vec<Option<std::sync::Arc<Source>>>,
    /// Where each fragment stands, by its number, and all of them in the order of the files.
    fragments: FxHashMap<FileId, Fragment>,
    in_order: Vec<Fragment>,
}

/// A fragment of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fragment {
    /// The file.
    pub file: FileId,
    /// Its first byte there.
    pub start: u32,
    /// One past its last byte.
    pub end: u32,
    /// Its own number.
    pub id: FileId,
}

impl Sources {
    /// The most files of either sort.
    pub const MOST: usize = 0x8000;

    /// Takes a file of the person's in and gives it its number; `None` past [`Sources::MOST`].
    pub fn add(&mut self, source: std::sync::Arc<Source>) -> Option<FileId> {
        let id = u32::try_from(self.own.len()).ok().filter(|_| self.own.len() < Self::MOST)?;
        self.own.push(source);
        Some(FileId(id))
    }

    /// Says where a fragment stands; fragments come in the order of their file.
    pub fn add_fragment(&mut self, fragment: Fragment) {
        self.fragments.insert(fragment.id, fragment);
        self.in_order.push(fragment);
    }

    /// Where a fragment stands.
    #[must_use]
    pub fn fragment(&self, id: FileId) -> Option<&Fragment> {
        self.fragments.get(&id)
    }

    /// A stretch of a fragment as the stretch of its file.
    #[must_use]
    pub fn settle(&self, span: Span) -> Span {
        match self.fragments.get(&span.file) {
            Some(fragment) if span.file.is_fragment() => {
                Span { file: fragment.file, start: fragment.start + span.start, end: fragment.start + span.end }
            }
            _ => span,
        }
    }

    /// The fragment of a file that an offset stands in or touches the end of, and the offset in it.
    #[must_use]
    pub fn fragment_at(&self, file: FileId, offset: u32) -> Option<(FileId, u32)> {
        let behind = self.in_order.partition_point(|fragment| (fragment.file, fragment.start) <= (file, offset));
        let fragment = self.in_order.get(behind.checked_sub(1)?).filter(|fragment| fragment.file == file && offset <= fragment.end)?;
        Some((fragment.id, offset - fragment.start))
    }

    /// Takes a file of the built-in library in, at its place there.
    pub fn add_built_in(&mut self, place: u16, source: std::sync::Arc<Source>) -> FileId {
        let at = usize::from(place);
        if self.built_in.len() <= at {
            self.built_in.resize(at + 1, None);
        }
        if let Some(slot) = self.built_in.get_mut(at) {
            *slot = Some(source);
        }
        FileId::built_in(place)
    }

    /// The file of that number, if it is one of these.
    #[must_use]
    pub fn get(&self, id: FileId) -> Option<&Source> {
        let id = self.fragments.get(&id).filter(|_| id.is_fragment()).map_or(id, |fragment| fragment.file);
        let at = (id.0 & !FileId::BUILT_IN) as usize;
        if id.is_built_in() { self.built_in.get(at).and_then(Option::as_deref) } else { self.own.get(at).map(AsRef::as_ref) }
    }

    /// The person's own files in order.
    pub fn own(&self) -> impl Iterator<Item = (FileId, &Source)> {
        (0_u32..).map(FileId).zip(self.own.iter().map(AsRef::as_ref))
    }

    /// The text that a span covers; empty where the span is out of its file.
    #[must_use]
    pub fn slice(&self, span: Span) -> &str {
        let span = self.settle(span);
        self.get(span.file).and_then(|source| source.text.get(span.start as usize..span.end as usize)).unwrap_or_default()
    }

    /// Whether a span is a stretch of its file: inside it, its end not before its beginning, no character cut in two.
    #[must_use]
    pub fn holds(&self, span: Span) -> bool {
        let span = self.settle(span);
        self.get(span.file).is_some_and(|source| source.text.get(span.start as usize..span.end as usize).is_some())
    }

    /// Line and column of the first byte of a span, both counted from 1, in characters.
    #[must_use]
    pub fn position(&self, span: Span) -> Position {
        let span = self.settle(span);
        self.get(span.file).map_or(Position { line: 1, column: 1 }, |source| source.lines().position(&source.text, span.start))
    }

    /// Line and column just past a span.
    #[must_use]
    pub fn end_position(&self, span: Span) -> Position {
        self.position(span.after())
    }
}
