//! A message against the lines of text that it is about. The only file that names miette.
//!
//! In: a message, its places, the sources. Out: text. miette draws; what it is given to draw is cut
//! out here by the line index, because with miette's own sources each label reads its file from the
//! start, everything between two distant labels is printed, a label at the end of a file is lost and
//! control characters reach the terminal.

use super::look::{Look, is_wild};
use crate::problem::Place;
use crate::text::{Source, Sources, Span};
use miette::{
    Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, MietteError, MietteSpanContents, Severity, SourceCode, SourceSpan,
    SpanContents,
};

/// Lines between two places that are still shown; what lies further apart gets an excerpt of its own.
const NEAR: usize = 3;
/// A place that goes on for more lines is marked on its first line only.
const MOST_LINES: usize = 6;
/// Columns that a tab takes.
const TAB: usize = 4;
/// Text of a line is never cut shorter than this.
const LEAST_LINE: usize = 16;

/// How loud a message is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weight {
    /// To be mended.
    Error,
    /// To be looked at.
    Warning,
    /// To be known.
    Note,
}

/// A message against its places, drawn.
pub fn draw(weight: Weight, sign: &str, message: &str, places: &[Place], sources: &Sources, look: &Look) -> String {
    if look.narrated {
        return narrated(message, places, sources, look);
    }
    let cuttings = Cuttings::of(places, sources, look);
    let message = Message { weight, text: look.tame(message).into_owned(), cuttings };
    let mut theme = match (look.unicode, look.colour) {
        (true, true) => GraphicalTheme::unicode(),
        (true, false) => GraphicalTheme::unicode_nocolor(),
        (false, true) => GraphicalTheme::ascii(),
        (false, false) => GraphicalTheme::none(),
    };
    for of_weight in [&mut theme.characters.error, &mut theme.characters.warning, &mut theme.characters.advice] {
        sign.clone_into(of_weight);
    }
    let mut out = String::new();
    // Context of one line makes miette ask for a whole excerpt; see `read_span`.
    let drawn = GraphicalReportHandler::new_themed(theme)
        .with_width(look.width)
        .with_links(false)
        .with_context_lines(1)
        .tab_width(TAB)
        .without_syntax_highlighting()
        .with_break_words(false)
        .render_report(&mut out, &message);
    match drawn {
        Ok(()) => out,
        // Writing to a text does not fail; the message counts more than the picture.
        Err(_) => format!("  {sign} {}\n", message.text),
    }
}

/// The same in words: the message, then each place with the text that stands there.
///
/// miette's own narration is not used: it counts columns in the excerpts that it is given and not in the file.
fn narrated(message: &str, places: &[Place], sources: &Sources, look: &Look) -> String {
    let mut out = look.paragraph(0, message);
    for place in places {
        let Some(source) = sources.get(place.span.file) else { continue };
        let at = sources.position(place.span);
        let written = harmless(sources.slice(place.span).lines().next().unwrap_or_default());
        let quoted = if written.trim().is_empty() { String::new() } else { format!(": {}", written.trim()) };
        let label = if place.label.is_empty() { String::new() } else { format!(" ({})", place.label) };
        out.push_str(&look.paragraph(2, &format!("{} line {}, column {}{quoted}{label}", source.name, at.line, at.column)));
    }
    out
}

#[derive(Debug)]
struct Message {
    weight: Weight,
    text: String,
    cuttings: Cuttings,
}

impl std::fmt::Display for Message {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.text)
    }
}

impl std::error::Error for Message {}

impl Diagnostic for Message {
    fn severity(&self) -> Option<Severity> {
        Some(match self.weight {
            Weight::Error => Severity::Error,
            Weight::Warning => Severity::Warning,
            Weight::Note => Severity::Advice,
        })
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        (!self.cuttings.marks.is_empty()).then_some(&self.cuttings as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.cuttings.marks.iter().map(|mark| {
            let span = SourceSpan::new(mark.start.into(), mark.len);
            if mark.first {
                LabeledSpan::new_primary_with_span(mark.label.clone(), span)
            } else {
                LabeledSpan::new_with_span(mark.label.clone(), span)
            }
        })))
    }
}

/// Excerpts of sources, laid end to end: an offset in this row of excerpts names a file as well.
#[derive(Debug, Default)]
struct Cuttings {
    excerpts: Vec<Excerpt>,
    marks: Vec<Mark>,
}

/// Neighbouring lines of one file.
#[derive(Debug)]
struct Excerpt {
    name: String,
    /// Where it begins in the row.
    start: usize,
    text: String,
    /// The number of its first line, from 0.
    line: usize,
    count: usize,
}

/// A place in an excerpt.
#[derive(Debug)]
struct Mark {
    /// In the row of excerpts.
    start: usize,
    len: usize,
    label: Option<String>,
    /// Line and column in the file, from 0.
    line: usize,
    column: usize,
    /// The place that gives an excerpt its heading.
    first: bool,
}

/// A place by lines: from a byte of one line to a byte of another.
struct Reach<'p> {
    place: &'p Place,
    from: (usize, usize),
    to: (usize, usize),
}

impl<'p> Reach<'p> {
    fn of(place: &'p Place, source: &Source) -> Reach<'p> {
        let (lines, length) = (source.lines(), source.text.len());
        let at = |offset: u32| {
            let line = lines.line_of(offset);
            let column = (offset - lines.start_of(line)) as usize;
            (line, column.min(lines.text_of(&source.text, line).len()))
        };
        let end = u32::try_from(length).unwrap_or(u32::MAX);
        let from = at(place.span.start.min(end));
        let mut to = at(place.span.end.min(end)).max(from);
        // A place that takes in the end of its line does not take in the next line.
        if to.0 > from.0 && (to.1 == 0 || to.0 - from.0 >= MOST_LINES) {
            let line = if to.1 == 0 && to.0 - from.0 <= MOST_LINES { to.0 - 1 } else { from.0 };
            to = (line, lines.text_of(&source.text, line).len());
        }
        Reach { place, from, to }
    }
}

impl Cuttings {
    fn of(places: &[Place], sources: &Sources, look: &Look) -> Cuttings {
        let mut groups: Vec<(Span, &Source, Vec<Reach<'_>>)> = Vec::new();
        for place in places {
            let Some(source) = sources.get(place.span.file) else { continue };
            let reach = Reach::of(place, source);
            let near = groups.iter_mut().find(|(span, _, known)| {
                let first = known.iter().map(|one| one.from.0).min().unwrap_or(0);
                let last = known.iter().map(|one| one.to.0).max().unwrap_or(0);
                span.file == place.span.file && reach.from.0 <= last + NEAR && first <= reach.to.0 + NEAR
            });
            match near {
                Some((_, _, known)) if known.iter().any(|one| one.place.span == place.span) => {}
                Some((_, _, known)) => known.push(reach),
                None => groups.push((place.span, source, vec![reach])),
            }
        }
        let mut cuttings = Cuttings::default();
        for (_, source, reaches) in groups {
            cuttings.add(source, &reaches, look);
        }
        cuttings
    }

    fn add(&mut self, source: &Source, reaches: &[Reach<'_>], look: &Look) {
        // One byte between two excerpts, so that no offset belongs to both.
        let start = self.excerpts.last().map_or(0, |last| last.start + last.text.len() + 1);
        let first = reaches.iter().map(|one| one.from.0).min().unwrap_or(0);
        let last = reaches.iter().map(|one| one.to.0).max().unwrap_or(0);
        let room = look.width.saturating_sub((last + 1).to_string().len() + 4).max(LEAST_LINE);
        let mut text = String::new();
        let mut windows = Vec::with_capacity(last + 1 - first);
        for line in first..=last {
            let shown = harmless(source.lines().text_of(&source.text, line));
            // Of several the one to mend: that stands first.
            let mark = reaches.iter().find(|one| one.from.0 == line).map(|one| one.from.1);
            let window = Window::new(&shown, mark, room, look);
            windows.push((text.len(), window.clone()));
            window.write(&shown, &mut text);
        }
        let at = |(line, byte): (usize, usize)| {
            windows.get(line.saturating_sub(first)).map_or(start, |(before, window)| start + before + window.place(byte))
        };
        for (number, reach) in reaches.iter().enumerate() {
            let label = look.tame(&reach.place.label).into_owned();
            let line = source.lines().text_of(&source.text, reach.from.0);
            let len = at(reach.to).saturating_sub(at(reach.from));
            // What is cut off with the rest of its line is not marked at the edge.
            if len == 0 && reach.from != reach.to && number > 0 && label.is_empty() {
                continue;
            }
            self.marks.push(Mark {
                start: at(reach.from),
                len,
                label: Some(label).filter(|label| !label.is_empty()),
                line: reach.from.0,
                column: line.get(..reach.from.1).map_or(0, |before| before.chars().count()),
                first: number == 0,
            });
        }
        let name = look.tame(&source.name).into_owned();
        self.excerpts.push(Excerpt { name, start, text, line: first, count: last + 1 - first });
    }
}

impl SourceCode for Cuttings {
    /// With context: the whole excerpt, or nothing where the span goes over two of them, which tells
    /// miette to draw them apart. Without context: where the place stands in its file.
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        context_lines_before: usize,
        _: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let end = span.offset() + span.len();
        let inside = |one: &&Excerpt| one.start <= span.offset() && end <= one.start + one.text.len();
        let excerpt = self.excerpts.iter().find(inside).ok_or(MietteError::OutOfBounds)?;
        let whole = SourceSpan::new(excerpt.start.into(), excerpt.text.len());
        let mark = self.marks.iter().find(|mark| mark.start == span.offset() && mark.len == span.len());
        let (line, column) = match mark {
            Some(mark) if context_lines_before == 0 => (mark.line, mark.column),
            _ => (excerpt.line, 0),
        };
        Ok(Box::new(MietteSpanContents::new_named(excerpt.name.clone(), excerpt.text.as_bytes(), whole, line, column, excerpt.count)))
    }
}

/// Which part of a line is shown.
#[derive(Debug, Clone)]
struct Window {
    from: usize,
    to: usize,
    /// What stands for the part cut off in front, and behind.
    cut: [&'static str; 2],
}

impl Window {
    /// A line that is wider than the page is cut so that `mark`, the byte to look at, is in sight.
    fn new(line: &str, mark: Option<usize>, room: usize, look: &Look) -> Window {
        let width = |text: &str| textwrap::core::display_width(text) + text.matches('\t').count() * (TAB - 1);
        if width(line) <= room {
            return Window { from: 0, to: line.len(), cut: ["", ""] };
        }
        let dots = if look.unicode { "…" } else { "..." };
        let room = room.saturating_sub(2 * width(dots)).max(1);
        let mark = mark.unwrap_or(0).min(line.len());
        let before = line.get(..mark).map_or(0, width);
        // Two thirds of the room for what comes after the mark.
        let skip = if before <= room * 2 / 3 { 0 } else { before - room / 3 };
        let (mut from, mut to, mut column) = (0, line.len(), 0);
        for (at, sign) in line.char_indices() {
            let next = column + width(sign.encode_utf8(&mut [0; 4]));
            if column < skip {
                from = at + sign.len_utf8();
            } else if next > skip + room {
                to = at;
                break;
            }
            column = next;
        }
        Window { from, to: to.max(from), cut: [if from > 0 { dots } else { "" }, if to < line.len() { dots } else { "" }] }
    }

    fn write(&self, line: &str, text: &mut String) {
        let [before, after] = self.cut;
        text.push_str(before);
        text.push_str(line.get(self.from..self.to).unwrap_or_default());
        text.push_str(after);
        text.push('\n');
    }

    /// Where a byte of the line stands in what is shown of it.
    fn place(&self, byte: usize) -> usize {
        self.cut.first().map_or(0, |cut| cut.len()) + byte.clamp(self.from, self.to) - self.from
    }
}

/// The line with everything a terminal would obey replaced by as many bytes that it shows.
fn harmless(line: &str) -> String {
    line.chars()
        .flat_map(|sign| match (is_wild(sign) && sign != '\t', sign.len_utf8()) {
            (false, _) => [Some(sign), None],
            (true, 3) => [Some('\u{FFFD}'), None],
            (true, n) => [Some('?'), (n == 2).then_some('?')],
        })
        .flatten()
        .collect()
}
