//! What is shown beside the lines of each file, and where that is.
//!
//! Every key is answered with all that is shown of a text, and most of it says what it said before: the words
//! of a finding are found once, and only the places are looked up again.

use super::Server;
use super::messages::{Sent, notice};
use crate::editor::desk::Desk;
use crate::editor::documents::{Encoding, Shift};
use crate::editor::notices::{Notice, findings, of_finding, of_problem, own_places};
use crate::editor::protocol::{self, Places};
use crate::problem::Problem;
use crate::rules::Finding;
use crate::text::{FileId, Source, Span};
use gen_lsp_types::{Code, Diagnostic, DiagnosticSeverity, Message, Range, Uri};
use rustc_hash::{FxHashMap, FxHashSet};
use serde::Serialize;
use std::collections::BTreeMap;
use std::rc::Rc;
use std::sync::Arc;

/// What is said at a place, without the place.
#[derive(Debug, PartialEq)]
struct Said {
    words: Words,
    /// What is said at each of the related places.
    related: Vec<String>,
    /// It is a mistake in the words of the text, known before anything is worked out.
    of_text: bool,
}

/// The members of a "Diagnostic" (LSP 3.17) that tell no place.
#[derive(Debug, PartialEq, Serialize)]
struct Words {
    #[serde(skip_serializing_if = "Option::is_none")]
    severity: Option<DiagnosticSeverity>,
    #[serde(skip_serializing_if = "Option::is_none")]
    code: Option<Code>,
    #[serde(skip_serializing_if = "Option::is_none")]
    source: Option<String>,
    message: Message,
}

/// A related place: which of what is said there, in which file, and where.
#[derive(Debug, Clone, PartialEq)]
struct Related {
    said: usize,
    uri: Arc<str>,
    range: Range,
}

/// Something that is shown in a file.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Shown {
    range: Range,
    said: Arc<Said>,
    related: Vec<Related>,
}

/// What is shown, by the name of the file.
type ByFile = BTreeMap<String, Vec<Shown>>;

/// What was said of a finding beside which others; the finding is kept alive, so that no other can have its address.
pub(super) struct SaidOf {
    _finding: Rc<Finding>,
    also: Vec<String>,
    said: Arc<Said>,
}

/// What was said of each finding, by its address.
pub(super) type AllSaid = FxHashMap<*const Finding, SaidOf>;

impl Said {
    fn of(notice: &Notice, of_text: bool) -> Arc<Said> {
        let related = notice.related.iter().map(|place| protocol::at_related(place).to_owned()).collect();
        let Diagnostic { severity, code, source, message, .. } = protocol::diagnostic(notice, &Nowhere);
        Arc::new(Said { words: Words { severity, code, source, message }, related, of_text })
    }
}

/// "PublishDiagnosticsParams"
#[derive(Serialize)]
struct Published<'s> {
    uri: &'s Uri,
    #[serde(skip_serializing_if = "Option::is_none")]
    version: Option<i32>,
    diagnostics: Vec<Beside<'s>>,
}

/// "Diagnostic"
#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Beside<'s> {
    range: Range,
    #[serde(flatten)]
    words: &'s Words,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    related_information: Vec<Besides<'s>>,
}

/// "DiagnosticRelatedInformation"
#[derive(Serialize)]
struct Besides<'s> {
    location: Where<'s>,
    message: &'s str,
}

/// "Location"
#[derive(Serialize)]
struct Where<'s> {
    uri: &'s str,
    range: Range,
}

impl Shown {
    fn beside(&self) -> Beside<'_> {
        let related = self.related.iter().map(|Related { said, uri, range }| Besides {
            location: Where { uri, range: *range },
            message: self.said.related.get(*said).map_or("", String::as_str),
        });
        Beside { range: self.range, words: &self.said.words, related_information: related.collect() }
    }
}

/// The notice that shows something beside the lines of a file.
fn published(uri: &Uri, version: Option<i32>, shown: &[Shown]) -> Option<Sent> {
    let diagnostics = shown.iter().map(Shown::beside).collect();
    notice("textDocument/publishDiagnostics", Published { uri, version, diagnostics })
}

/// Where the places of one design are in the files of the editor.
struct Sight<'d, 'w> {
    places: DeskPlaces<'d, 'w>,
    /// Where something is shown that has no line of its own.
    top: Option<Span>,
    addresses: FxHashMap<FileId, Arc<str>>,
}

impl<'d, 'w> Sight<'d, 'w> {
    fn new(server: &'d Server<'w>, desk: &'d Desk, root: &str) -> Sight<'d, 'w> {
        let top = desk.file(root).map(|file| Span { file, start: 0, end: 0 });
        Sight { places: DeskPlaces { server, desk }, top, addresses: FxHashMap::default() }
    }

    fn range(&self, span: Span) -> Option<(&'d Source, Span, Range)> {
        if span.file.is_built_in() {
            return None;
        }
        let sources = self.places.desk.sources();
        let span = sources.settle(span);
        let source = sources.get(span.file)?;
        Some((source, span, self.places.server.encoding.range(source, span.start, span.end)))
    }

    /// Something shown at the first of these places, or at the top of the design; the others are related to it.
    fn put(&mut self, shown: &mut ByFile, said: Arc<Said>, mut spans: impl Iterator<Item = Span>) {
        let own = spans.next().and_then(|span| self.range(span));
        let Some((source, _, range)) = own.or_else(|| self.range(self.top?)) else { return };
        let mut related = Vec::new();
        for (at, span) in spans.enumerate() {
            let Some((source, span, range)) = self.range(span) else { continue };
            let server = self.places.server;
            let uri = self.addresses.entry(span.file).or_insert_with(|| server.uri(&source.name).0.into());
            related.push(Related { said: at, uri: Arc::clone(uri), range });
        }
        let one = Shown { range, said, related };
        if !shown.contains_key(&source.name) {
            shown.insert(source.name.clone(), Vec::new());
        }
        let Some(all) = shown.get_mut(&source.name) else { return };
        // A file of several designs shows once what they have in common.
        if self.places.server.designs.len() == 1 || !all.contains(&one) {
            all.push(one);
        }
    }

    fn put_problem(&mut self, shown: &mut ByFile, problem: &Problem, of_text: bool) {
        let notice = of_problem(problem);
        self.put(shown, Said::of(&notice, of_text), notice.span.into_iter().chain(notice.related.iter().map(|place| place.span)));
    }
}

impl Server<'_> {
    /// Publishes what is news about each file.
    pub(super) fn show(&mut self) {
        let mut now = ByFile::new();
        for (root, design) in &self.designs {
            let Some(desk) = design.desk() else { continue };
            for (_, source) in desk.sources().own() {
                now.entry(source.name.clone()).or_default();
            }
            let mut sight = Sight::new(self, desk, root);
            let of_text: FxHashSet<&Problem> = desk.problems_of_text.iter().collect();
            for problem in &desk.problems {
                sight.put_problem(&mut now, problem, of_text.contains(problem));
            }
            let before = design.said.take();
            let mut said_now = AllSaid::with_capacity_and_hasher(before.len(), rustc_hash::FxBuildHasher);
            for (finding, also) in findings(desk) {
                let known = before.get(&Rc::as_ptr(finding)).filter(|known| known.also == also);
                let said = known.map_or_else(|| Said::of(&of_finding(finding, &also), false), |known| Arc::clone(&known.said));
                sight.put(&mut now, Arc::clone(&said), own_places(finding).map(|place| place.span));
                let also = also.into_iter().map(str::to_owned).collect();
                said_now.insert(Rc::as_ptr(finding), SaidOf { _finding: Rc::clone(finding), also, said });
            }
            design.said.replace(said_now);
        }
        let gone: Vec<String> = self.shown.keys().filter(|name| !now.contains_key(*name)).cloned().collect();
        for name in gone {
            now.insert(name, Vec::new());
        }
        for (name, shown) in &now {
            let uri = self.uri(name);
            let version = self.documents.get(&uri.0).map(|document| document.version);
            // An open text is told each time, so that its editor knows that this version has been looked at.
            if version.is_some() || self.shown.get(name) != Some(shown) {
                published(&uri, version, shown).into_iter().for_each(self.world.send);
            }
        }
        now.retain(|_, shown| !shown.is_empty());
        self.shown = now;
        self.struck.clear();
    }

    /// Mistakes in the words of a text do not wait until all is worked out: where that takes long they are shown ahead
    /// of it, beside what was shown before of lines that are still there.
    ///
    /// Such a notice names no version: that is told once all of a version has been looked at.
    pub(super) fn show_if_late(&self) {
        let mut now = ByFile::new();
        for (root, design) in self.designs.iter().filter(|(_, design)| design.read || (design.stale && !design.given_up)) {
            let desk = &design.desk;
            for (_, source) in desk.sources().own() {
                now.entry(source.name.clone()).or_default();
            }
            let mut sight = Sight::new(self, desk, root);
            for problem in &desk.problems_of_text {
                sight.put_problem(&mut now, problem, true);
            }
        }
        let mut late: Vec<(Uri, Vec<Shown>)> = Vec::new();
        for (name, mut mistakes) in now {
            let uri = self.uri(&name);
            let shown = self.shown.get(&name).map_or(&[][..], Vec::as_slice);
            let known = shown.iter().filter(|one| one.said.of_text);
            if self.documents.contains_key(&uri.0) && (self.struck.contains(&name) || !known.eq(mistakes.iter())) {
                mistakes.extend(shown.iter().filter(|one| !one.said.of_text).cloned());
                late.push((uri, mistakes));
            }
        }
        let later = move || late.iter().filter_map(|(uri, shown)| published(uri, None, shown)).collect::<Vec<_>>();
        (self.world.later)(Some(Box::new(later)));
    }

    /// What is shown moves with the lines that it is about; what is about a stretch that has been replaced goes.
    pub(super) fn move_shown(&mut self, uri: &str, shifts: &[Shift]) {
        let moved = |range: Range| shifts.iter().try_fold(range, |range, shift| shift.range(range));
        let own = self.name_of(uri);
        for (name, shown) in &mut self.shown {
            let of_text = |shown: &[Shown]| shown.iter().filter(|one| one.said.of_text).count();
            let before = of_text(shown);
            shown.retain_mut(|one| {
                one.related.retain_mut(|related| {
                    let range = if *related.uri == *uri { moved(related.range) } else { Some(related.range) };
                    range.map(|range| related.range = range).is_some()
                });
                let range = if *name == own { moved(one.range) } else { Some(one.range) };
                range.map(|range| one.range = range).is_some()
            });
            if of_text(shown) < before {
                self.struck.insert(name.clone());
            }
        }
    }
}

/// The places of one design.
pub(super) struct DeskPlaces<'d, 'w> {
    pub(super) server: &'d Server<'w>,
    pub(super) desk: &'d Desk,
}

impl Places for DeskPlaces<'_, '_> {
    fn source(&self, span: Span) -> Option<(&Source, Uri, Span)> {
        if span.file.is_built_in() {
            return None;
        }
        let span = self.desk.sources().settle(span);
        let source = self.desk.sources().get(span.file)?;
        Some((source, self.server.uri(&source.name), span))
    }

    fn encoding(&self) -> Encoding {
        self.server.encoding
    }
}

/// Where nothing can be opened.
struct Nowhere;

impl Places for Nowhere {
    fn source(&self, _: Span) -> Option<(&Source, Uri, Span)> {
        None
    }

    fn encoding(&self) -> Encoding {
        Encoding::default()
    }
}
