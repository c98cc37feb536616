//! What is shown beside the lines of each file, and where that is.

use super::Server;
use super::messages::Published;
use crate::editor::desk::Desk;
use crate::editor::documents::Encoding;
use crate::editor::notices::{Notice, notices};
use crate::editor::protocol::{self, Places};
use crate::text::{Source, Span};
use gen_lsp_types::{Diagnostic, Uri};
use std::collections::BTreeMap;

impl Server<'_> {
    /// Publishes what is news about each file.
    pub(super) fn show(&mut self) {
        let mut now: BTreeMap<String, Vec<Diagnostic>> = BTreeMap::new();
        for (root, design) in &self.designs {
            let Some(desk) = design.desk() else { continue };
            let places = DeskPlaces { server: self, desk };
            for (_, source) in desk.sources().own() {
                now.entry(source.name.clone()).or_default();
            }
            for notice in notices(desk) {
                let span = self.shown_at(desk, root, &notice);
                let Some(source) = desk.sources().get(span.file) else { continue };
                let diagnostic = protocol::diagnostic(&Notice { span: Some(span), ..notice }, &places);
                let all = now.entry(source.name.clone()).or_default();
                // A file of several designs shows once what they have in common.
                if self.designs.len() == 1 || !all.contains(&diagnostic) {
                    all.push(diagnostic);
                }
            }
        }
        let gone: Vec<String> = self.shown.keys().filter(|name| !now.contains_key(*name)).cloned().collect();
        for name in gone {
            now.insert(name, Vec::new());
        }
        for (name, diagnostics) in &now {
            let uri = self.uri(name);
            let version = self.documents.get(&uri.0).map(|document| document.version);
            // An open text is told each time, so that its editor knows that this version has been looked at.
            if version.is_some() || self.shown.get(name) != Some(diagnostics) {
                self.notify("textDocument/publishDiagnostics", Published { uri: &uri, version, diagnostics });
            }
        }
        now.retain(|_, diagnostics| !diagnostics.is_empty());
        self.shown = now;
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
