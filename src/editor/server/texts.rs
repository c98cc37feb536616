//! What the editor tells: which texts are open, how they change, which folders there are; and which designs that makes.

use super::messages::{self, parsed};
use super::{Design, Server};
use crate::editor::documents::{Document, Shift};
use crate::editor::files::{path_of, uri_of};
use crate::session::NoShelf;
use crate::text::FileId;
use crate::trade;
use gen_lsp_types::{
    DidChangeTextDocumentParams, DidChangeWatchedFilesParams, DidChangeWorkspaceFoldersParams, DidCloseTextDocumentParams,
    DidOpenTextDocumentParams, TextDocumentContentChangeEvent, Uri,
};
use serde_json::{Value, json};
use std::path::Path;

impl Server<'_> {
    pub(super) fn add_folder(&mut self, folder: &Path) {
        let folder = self.world.disk.place(folder);
        for path in self.world.disk.below(&folder) {
            if let Some(text) = self.world.disk.text(&path) {
                self.uses.note(&path, &text);
            }
        }
        self.folders.push(folder);
    }

    pub(super) fn take_note(&mut self, method: &str, params: Value) {
        match method {
            "textDocument/didOpen" => {
                if let Ok(params) = parsed::<DidOpenTextDocumentParams>(params) {
                    self.open(params);
                }
            }
            "textDocument/didChange" => {
                if let Ok(params) = parsed::<DidChangeTextDocumentParams>(params) {
                    self.change(params);
                }
            }
            "textDocument/didClose" => {
                if let Ok(params) = parsed::<DidCloseTextDocumentParams>(params) {
                    self.close(&params.text_document.uri.0);
                }
            }
            "workspace/didChangeWorkspaceFolders" => {
                if let Ok(params) = parsed::<DidChangeWorkspaceFoldersParams>(params) {
                    for folder in params.event.removed.iter().filter_map(|folder| path_of(&folder.uri.0)) {
                        let folder = self.world.disk.place(&folder);
                        self.folders.retain(|known| *known != folder);
                    }
                    for folder in params.event.added.iter().filter_map(|folder| path_of(&folder.uri.0)) {
                        self.add_folder(&folder);
                    }
                    self.arrange();
                }
            }
            "initialized" if self.watches => self.watch(),
            "workspace/didChangeWatchedFiles" => {
                if let Ok(params) = parsed::<DidChangeWatchedFilesParams>(params) {
                    self.files_changed(&params);
                }
            }
            _ => {}
        }
    }

    /// Asks to be told where a file changes that is not open: a design may use it.
    fn watch(&self) {
        let files = json!({ "watchers": [{ "globPattern": "**/*.plate" }] });
        let wish = json!({ "id": "files", "method": "workspace/didChangeWatchedFiles", "registerOptions": files });
        let request = messages::request("watch-files", "client/registerCapability", &json!({ "registrations": [wish] }));
        request.into_iter().for_each(|text| (self.world.send)(text));
    }

    fn open(&mut self, params: DidOpenTextDocumentParams) {
        let item = params.text_document;
        let uri = item.uri.0;
        if let Some(path) = path_of(&uri) {
            let place = self.world.disk.place(&path);
            let part = self.world.disk.kept(&place).and_then(|name| trade::parts().find(|part| part.path == name));
            if let Some(part) = part {
                self.open_library(uri, FileId::built_in(part.place), Document::new(item.version, item.text));
                return;
            }
            self.uses.note(&place, &item.text);
            self.places.insert(uri.clone(), place);
        }
        self.documents.insert(uri, Document::new(item.version, item.text));
        self.arrange();
        self.stale_everything();
    }

    /// A file of the library is there to be read: it belongs to no design, and nothing is found in it.
    fn open_library(&mut self, uri: String, file: FileId, document: Document) {
        self.library.insert(uri.clone(), file);
        self.documents.insert(uri, document);
        self.bare.take(Vec::new(), &NoShelf, &self.world.halt);
    }

    fn change(&mut self, params: DidChangeTextDocumentParams) {
        let uri = params.text_document.text_document_identifier.uri.0;
        let encoding = self.encoding;
        let Some(document) = self.documents.get_mut(&uri) else { return };
        document.version = params.text_document.version;
        let shifts: Vec<Shift> = params
            .content_changes
            .into_iter()
            .map(|change| match change {
                TextDocumentContentChangeEvent::TextDocumentContentChangePartial(part) => {
                    document.change(encoding, Some(part.range), &part.text)
                }
                TextDocumentContentChangeEvent::TextDocumentContentChangeWholeDocument(whole) => {
                    document.change(encoding, None, &whole.text)
                }
            })
            .collect();
        self.move_shown(&uri, &shifts);
        let Some(document) = self.documents.get(&uri) else { return };
        let news = match self.places.get(&uri) {
            Some(place) => self.uses.note(place, document.text()),
            None => false,
        };
        if news {
            self.arrange();
        }
        self.stale(&uri);
    }

    fn close(&mut self, uri: &str) {
        self.documents.remove(uri);
        self.coloured.remove(uri);
        if self.library.remove(uri).is_some() {
            return;
        }
        if let Some(place) = self.places.remove(uri) {
            self.look_on_disk(&place);
        }
        self.arrange();
        self.stale_everything();
    }

    fn files_changed(&mut self, params: &DidChangeWatchedFilesParams) {
        for change in &params.changes {
            let Some(path) = path_of(&change.uri.0) else { continue };
            let place = self.world.disk.place(&path);
            if self.places.values().any(|open| *open == place) {
                continue;
            }
            self.look_on_disk(&place);
        }
        self.arrange();
        self.stale_everything();
    }

    /// What a file that is not open uses, as it lies on the disk now.
    fn look_on_disk(&mut self, place: &Path) {
        match self.world.disk.text(place) {
            Some(text) => {
                self.uses.note(place, &text);
            }
            None => self.uses.forget(place),
        }
    }

    /// Which designs are open: for each open text those that it is part of.
    pub(super) fn arrange(&mut self) {
        let mut roots: Vec<String> = Vec::new();
        for uri in self.documents.keys().filter(|uri| !self.library.contains_key(*uri)) {
            match self.places.get(uri) {
                Some(place) => roots.extend(self.uses.roots(place).iter().map(|root| root.display().to_string())),
                None => roots.push(uri.clone()),
            }
        }
        self.designs.retain(|root, _| roots.contains(root));
        for root in roots {
            self.designs.entry(root).or_insert_with(|| Design { stale: true, ..Design::default() });
        }
    }

    pub(super) fn stale_everything(&mut self) {
        for design in self.designs.values_mut() {
            (design.stale, design.given_up) = (true, false);
        }
    }

    /// The designs that a text is part of have to be read again.
    pub(super) fn stale(&mut self, uri: &str) {
        let name = self.name_of(uri);
        for (root, design) in &mut self.designs {
            let part = design.desk().is_none_or(|desk| desk.file(&name).is_some());
            if part || *root == name {
                (design.stale, design.given_up) = (true, false);
            }
        }
    }

    /// The name under which a text is read: its path, or its address where it has none.
    pub(super) fn name_of(&self, uri: &str) -> String {
        self.places.get(uri).map_or_else(|| uri.to_owned(), |place| place.display().to_string())
    }

    /// The address of a file by its name; for an open text the one that the editor gave it.
    pub(super) fn uri(&self, name: &str) -> Uri {
        let open = self.places.iter().find(|(_, place)| place.display().to_string() == name).map(|(uri, _)| uri.clone());
        Uri(open.unwrap_or_else(|| {
            if name.contains(':') && self.documents.contains_key(name) { name.to_owned() } else { uri_of(Path::new(name)) }
        }))
    }

    /// The names of the files that a `use` of a design could name.
    pub(super) fn files_beside(&self, uri: &str) -> Vec<String> {
        let Some(place) = self.places.get(uri) else { return Vec::new() };
        let Some(folder) = place.parent() else { return Vec::new() };
        let below = self.world.disk.below(folder);
        below
            .iter()
            .filter(|path| *path != place)
            .filter_map(|path| path.strip_prefix(folder).ok())
            .map(|path| path.display().to_string())
            .collect()
    }
}
