//! What is shown beside the lines of each file, and where that is.

use super::Server;
use super::messages::{self, Published};
use crate::editor::desk::Desk;
use crate::editor::documents::{Encoding, Shift};
use crate::editor::notices::{Notice, notices, of_problem};
use crate::editor::protocol::{self, Places};
use crate::problem::Problem;
use crate::text::{Source, Span};
use gen_lsp_types::{Diagnostic, DiagnosticRelatedInformation, Range, Uri};
use rustc_hash::FxHashSet;
use std::collections::BTreeMap;
use std::sync::Arc;

/// The notice that shows something beside the lines of a file.
const PUBLISH: &str = "textDocument/publishDiagnostics";

/// Something that is shown in a file.
#[derive(Clone, PartialEq)]
pub(super) struct Shown {
    diagnostic: Arc<Diagnostic>,
    /// It is a mistake in the words of the text, known before anything is worked out.
    of_text: bool,
}

/// What is shown, by the name of the file.
type ByFile = BTreeMap<String, Vec<Shown>>;

impl Server<'_> {
    /// Publishes what is news about each file.
    pub(super) fn show(&mut self) {
        let mut now = ByFile::new();
        for (root, design) in &self.designs {
            let Some(desk) = design.desk() else { continue };
            for (_, source) in desk.sources().own() {
                now.entry(source.name.clone()).or_default();
            }
            let of_text: FxHashSet<&Problem> = desk.problems_of_text.iter().collect();
            for (at, notice) in notices(desk).into_iter().enumerate() {
                // The mistakes come first.
                let of_text = desk.problems.get(at).is_some_and(|problem| of_text.contains(problem));
                self.put(&mut now, root, desk, notice, of_text);
            }
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
                let diagnostics = shown.iter().map(|one| one.diagnostic.as_ref()).collect();
                self.notify(PUBLISH, Published { uri: &uri, version, diagnostics });
            }
        }
        now.retain(|_, shown| !shown.is_empty());
        self.shown = now;
    }

    fn put(&self, shown: &mut ByFile, root: &str, desk: &Desk, notice: Notice, of_text: bool) {
        let span = self.shown_at(desk, root, &notice);
        let Some(source) = desk.sources().get(span.file) else { return };
        let diagnostic = protocol::diagnostic(&Notice { span: Some(span), ..notice }, &DeskPlaces { server: self, desk });
        let one = Shown { diagnostic: Arc::new(diagnostic), of_text };
        let all = shown.entry(source.name.clone()).or_default();
        // A file of several designs shows once what they have in common.
        if self.designs.len() == 1 || !all.contains(&one) {
            all.push(one);
        }
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
            for problem in &desk.problems_of_text {
                self.put(&mut now, root, desk, of_problem(problem), true);
            }
        }
        let mut late: Vec<(Uri, Vec<Shown>)> = Vec::new();
        for (name, mut mistakes) in now {
            let uri = self.uri(&name);
            let shown = self.shown.get(&name).map_or(&[][..], Vec::as_slice);
            let known = shown.iter().filter(|one| one.of_text);
            if self.documents.contains_key(&uri.0) && !known.eq(mistakes.iter()) {
                mistakes.extend(shown.iter().filter(|one| !one.of_text).cloned());
                late.push((uri, mistakes));
            }
        }
        let message = |(uri, shown): (Uri, Vec<Shown>)| {
            let diagnostics = shown.iter().map(|one| one.diagnostic.as_ref()).collect();
            messages::notice(PUBLISH, Published { uri: &uri, version: None, diagnostics })
        };
        let later = move || late.into_iter().filter_map(message).collect::<Vec<_>>();
        (self.world.later)(Some(Box::new(later)));
    }

    /// What is shown moves with the lines that it is about; what is about a stretch that has been replaced goes.
    pub(super) fn move_shown(&mut self, uri: &str, shifts: &[Shift]) {
        let moved = |range: Range| shifts.iter().try_fold(range, |range, shift| shift.range(range));
        let own = self.name_of(uri);
        for (name, shown) in &mut self.shown {
            shown.retain_mut(|one| {
                let elsewhere = |related: &DiagnosticRelatedInformation| related.location.uri.0 == uri;
                let related = one.diagnostic.related_information.as_deref().unwrap_or_default();
                if *name != own && !related.iter().any(elsewhere) {
                    return true;
                }
                let diagnostic = Arc::make_mut(&mut one.diagnostic);
                if let Some(related) = &mut diagnostic.related_information {
                    related.retain_mut(|related| {
                        let range = if elsewhere(related) { moved(related.location.range) } else { Some(related.location.range) };
                        range.map(|range| related.location.range = range).is_some()
                    });
                }
                let range = if *name == own { moved(diagnostic.range) } else { Some(diagnostic.range) };
                range.map(|range| diagnostic.range = range).is_some()
            });
        }
    }

    /// Where a notice is shown: at its own place, else at the top of the design.
    fn shown_at(&self, desk: &Desk, root: &str, notice: &Notice) -> Span {
        let top = || Span { file: desk.file(root).unwrap_or_default(), start: 0, end: 0 };
        notice.span.filter(|span| !span.file.is_built_in() && desk.sources().get(span.file).is_some()).unwrap_or_else(top)
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
